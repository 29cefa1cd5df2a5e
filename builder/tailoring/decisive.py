"""What a limit decides, for somebody who knows how the step is done: what is held against it, and what then follows.

A limit stands at a step for whoever does it for the first time, and half of its sentences tell how. A sentence decides
that gives a figure, keeps a person from harm, or says what is worn out or ends the work. The last needs no words where
the line says what must be so: a card to confirm by stops at what is not.
"""

from __future__ import annotations

import re

# Where a sentence ends: its stop, a space, and the next one's beginning.
_ENDS = re.compile(r"(?<=\.) +(?=[A-Z0-9])")
_FIGURE = re.compile(
    r"\d|\b(?:at most|at least|half(?! turn)|twice|least|smaller|torque|used once|figure counts)\b"
    r"|^the gap is the one that .* prints",
    re.IGNORECASE,
)
_HARM = re.compile(r"\b(?:nobody|fingers?|hands|throws|stay in the saddle|do not ride)\b", re.IGNORECASE)
_VERDICT = re.compile(
    r"\bends? (?:the|this)|\bfails?\b|\breplaced?\b|\bcalls? for\b|\bmeans?\b|\b[Ss]top(?:s here)?[.]|^Stop\b"
    r"|\bthat .* worn\b|\b(?:mechanic|qualified|carbon)\b|\bnot (?:used|turned|folded|ridden)\b|\bbefore this job\b"
    r"|\bthe (?:next )?ride\b|\bis opened again\b|\bnot fully\b|\bis tried before\b|\bdoes not go back\b|^Only an? "
    r"|\b[Nn]ever (?:mixed|above|used|touch(?:es)?)\b"
)
# What only counts with the sentence before it.
_LEANS = re.compile(
    r"^(?:It|They|Its|Their|Then|Both|One|Else|That|With less|A mechanic|A trained person|Nobody bends)\b"
    r"|\b(?:then|too|anyway|them)\b|^The \w+ is replaced"
)
# It says of the sentence before what kind of figure it gives.
_OF_WHAT_KIND = re.compile(r"^That is (?:common practice|from memory)[.]$")
# The card says it of every figure, or the line to write on says it by itself.
_SAID = re.compile(r"^(?:The|Their|Makers) [^,;]*\bgo(?:es)? first\.$|\bgo(?:es)? on this card\b")


def decisive(limit: str, *, proved: bool = False) -> str:
    """The sentences of a limit that decide, in their order; one that leans on the sentence before comes with it.

    `proved` says that the line has the words for what must be so.
    """
    kept: list[str] = []
    before = ""
    for sentence in _ENDS.split(limit):
        if _decides(sentence, proved=proved) or (kept and not before and _OF_WHAT_KIND.match(sentence)):
            if before and _LEANS.search(sentence):
                kept.append(before)
            kept.append(sentence)
            before = ""
        else:
            before = sentence
    return " ".join(kept)


def _decides(sentence: str, *, proved: bool) -> bool:
    """Whether a sentence of a limit decides by itself."""
    if _SAID.search(sentence):
        return False
    return any(found.search(sentence) for found in (_FIGURE, _HARM, *(() if proved else (_VERDICT,))))
