"""Three things or more are written as a vertical list.

A list below the sentence can be ticked off with the eye. In YAML: `do: |`, then a line a thing with "- " in front.

Passes:
    Remove the lockring and the spacer.
    If the bolt turns, remove the nut and the washer.
Fails:
    Remove the lockring, the sprockets and the spacer.
    Clean the hub, axle, and skewer with a cloth.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind
from builder.proof.writing.rule import Finding, quoted, ste
from builder.proof.writing.tagging import Tag, Tagged

ID = "W20"
GRAVITY = Gravity.WARNING
SOURCE = ste("rule 4.3; the number of three is our own")
MOST_IN_LINE = 2
LIMIT = f"at most {MOST_IN_LINE} things in one line of a step"
KINDS = (TextKind.INSTRUCTION,)
_IN_PHRASE = frozenset({Tag.DETERMINER, Tag.ADJECTIVE, Tag.NOUN, Tag.NUMBER, Tag.UNIT, Tag.VALUE, Tag.POSSESSIVE})


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every row of three things or more with commas and a last "and" or "or"."""
    del context
    for sentence in text.sentences:
        count = _longest_row(sentence)
        if count > MOST_IN_LINE:
            yield Finding(
                found=f"{count} things in a row: {quoted(sentence.sentence.text)}",
                repair="write them below one another, each with “- ” in front",
            )


def _longest_row(sentence: Tagged) -> int:
    """The number of things in the longest row "a, b and c"."""
    longest = 0
    places = range(len(sentence.tokens))
    for start in places:
        if start and sentence.tags[start - 1] in _IN_PHRASE:
            continue
        count, place = 0, start
        while (end := _phrase_end(sentence, place)) > place:
            count += 1
            joint = sentence.lower[end : end + 2]
            if joint[:1] and joint[0] in ("and", "or"):
                last = _phrase_end(sentence, end + 1)
                if last > end + 1 and count > 1:
                    longest = max(longest, count + 1)
                break
            if not joint or joint[0] != "," or end == sentence.condition_end:
                break
            place = end + 1
            if len(joint) > 1 and joint[1] in ("and", "or"):
                last = _phrase_end(sentence, end + 2)
                if last > end + 2 and count > 1:
                    longest = max(longest, count + 1)
                break
    return longest


def _phrase_end(sentence: Tagged, start: int) -> int:
    """The place right after the noun phrase that begins at `start`; `start` itself where none does."""
    place = start
    while place < len(sentence.tags) and sentence.tags[place] in _IN_PHRASE:
        place += 1
    return place if place > start and any(tag is Tag.NOUN for tag in sentence.tags[start:place]) else start
