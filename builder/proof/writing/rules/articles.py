"""A thing that can be counted has an article in front of it: "the wheel", not "wheel".

Articles are kept, since a reader for whom English is a second language reads "Remove the wheel" with less doubt. Only
things that the glossary names are looked at.

Passes:
    Remove the rear wheel from the frame.
    Turn the wheels by hand.
    Shift from sprocket to sprocket.
Fails:
    Remove rear wheel from the frame.
    Put the chain on largest sprocket.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import ON_CARD, Passage
from builder.proof.writing.rule import Finding, quoted, ste
from builder.proof.writing.tagging import Tag, Tagged

ID = "W15"
GRAVITY = Gravity.NOTE
SOURCE = ste("rule 2.3")
LIMIT = "an article or another determiner before a thing that can be counted"
KINDS = ON_CARD
_PLACES = frozenset({"in", "on", "into", "onto", "through", "against", "behind", "under", "over", "at", "from"})


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every bare thing right behind a command or a preposition of place."""
    for sentence in text.sentences:
        for start, tag in enumerate(sentence.tags):
            if tag is Tag.COMMAND or (tag is Tag.PREPOSITION and sentence.lower[start] in _PLACES):
                phrase = _bare(sentence, start + 1)
                if phrase and sentence.lower[phrase[-1]] in context.lexicon.countable and not _pair(sentence, phrase):
                    words = " ".join(sentence.tokens[place].text for place in phrase)
                    yield Finding(
                        found=f"“{words}” has no article: {quoted(sentence.sentence.text)}",
                        repair=f"write “the {words}” or “a {words}”",
                    )


def _bare(sentence: Tagged, start: int) -> tuple[int, ...]:
    """The places of adjectives and nouns from `start` on, as far as they go."""
    places: list[int] = []
    for place in range(start, len(sentence.tags)):
        if sentence.tags[place] not in (Tag.ADJECTIVE, Tag.NOUN):
            break
        places.append(place)
    while places and sentence.tags[places[-1]] is not Tag.NOUN:
        places.pop()
    return tuple(places)


def _pair(sentence: Tagged, phrase: tuple[int, ...]) -> bool:
    """Whether the thing is the first of a pair: "from sprocket to sprocket", "between pad and rotor"."""
    after = sentence.lower[phrase[-1] + 1] if phrase[-1] + 1 < len(sentence.lower) else ""
    return sentence.lower[phrase[0] - 1] == "from" and after == "to"
