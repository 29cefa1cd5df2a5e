"""A safety message has one text, in the catalogue; steps repeat none of it and type no signal word.

Passes:
    Spin the rear wheel.
Fails:
    CAUTION: keep your fingers away.
    Keep oil, grease and spray away from rotors, pads and rims.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import SequenceMatcher

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import CautionSentence, Context, words_in
from builder.proof.writing.passages import Passage, TextKind
from builder.proof.writing.prose import word_count
from builder.proof.writing.rule import Finding, Known, RuleSource, quoted

ID = "H13"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="S1000D, collections of warnings and cautions; OASIS DITA, content by reference", known=Known.RESTATED
)
LIKENESS = 0.95
LEAST_WORDS = 5
LIMIT = "a caution by its id, from the catalogue"
KINDS = (TextKind.INSTRUCTION, TextKind.REASON, TextKind.RESULT)
_SIGNAL = re.compile(r"^\s*\W*(danger|warning|caution|notice|attention|note)\W*[:!–-]", re.IGNORECASE)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """A typed signal word, and a sentence that is a caution's own."""
    if found := _SIGNAL.match(text.plain):
        yield Finding(
            found=f"a typed signal word: “{found[1]}”",
            repair="put the message in catalogue/cautions.yaml and name its id in 'cautions'",
        )
    for sentence in text.sentences:
        own = sentence.sentence.text
        if word_count(own) < LEAST_WORDS:
            continue
        words = words_in(own)
        repeated = next((one.caution for one in context.caution_sentences if _alike(own, words, one)), None)
        if repeated is not None:
            yield Finding(
                found=f"the text of the caution '{repeated}' is repeated: {quoted(own)}",
                repair=f"name it: 'cautions: [{repeated}]'",
            )


def _alike(own: str, words: frozenset[str], caution: CautionSentence) -> bool:
    other = caution.text
    if abs(len(own) - len(other)) > 0.1 * max(len(own), len(other)):
        return False
    # A letter in twenty may differ, so that most words are the same.
    if 2 * len(words & caution.words) < min(len(words), len(caution.words)):
        return False
    matcher = SequenceMatcher(None, own.lower(), other.lower())
    return matcher.quick_ratio() >= LIKENESS and matcher.ratio() >= LIKENESS
