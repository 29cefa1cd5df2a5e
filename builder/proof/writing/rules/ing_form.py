"""No verb in its -ing form; names of things may end in -ing.

"Bearing", "housing", "spring" and every name in the catalogue are things. "Turning" is a verb that could mean that you
turn, or that something turns by itself.

Passes:
    Turn the crank while you select the largest sprocket.
    Press the bearing into the housing.
    Write the reading on the card.
    Swing the gauge to the rim.
    Pull the retaining pin out of the caliper.
    If a spacer is missing, stop.
Fails:
    While turning the crank, select the largest sprocket.
    Remove the chain by opening the quick link.
    Stop the wheel from spinning.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing import english
from builder.proof.writing.context import Context
from builder.proof.writing.lexicon import covered
from builder.proof.writing.passages import ON_CARD, Passage
from builder.proof.writing.rule import Finding, quoted, ste
from builder.proof.writing.tagging import Tagged

ID = "W09"
GRAVITY = Gravity.ERROR
SOURCE = ste("rule 3.5")
LIMIT = "no -ing form of a verb"
KINDS = ON_CARD
_BEFORE_A_VERB = frozenset(["by", "when", "while", "before", "after", "without", "for", "of", "from"])


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every -ing form that is not the name of a thing."""
    for sentence in text.sentences:
        named = covered(sentence.lower, context.lexicon)
        for place, word in enumerate(sentence.lower):
            last = word.rsplit("-", 1)[-1]
            if not last.endswith("ing") or len(last) < 5 or place in named or word in english.ENDS_IN_ING:
                continue
            after = sentence.lower[place + 1] if place + 1 < len(sentence.lower) else ""
            if after in english.ING_IN_NAMES.get(word, ()):
                continue
            named_so = word in english.ING_NOUNS or last in english.ING_NOUNS or word in english.ADJECTIVES
            if named_so and not _used_as_verb(sentence, place):
                continue
            yield Finding(
                found=f"“{sentence.tokens[place].text}” is an -ing form: {quoted(sentence.sentence.text)}",
                repair="write who does what: “while you turn”, “the wheel spins”, “to open”",
            )


def _used_as_verb(sentence: Tagged, place: int) -> bool:
    before = sentence.lower[place - 1] if place else ""
    after = sentence.lower[place + 1] if place + 1 < len(sentence.lower) else ""
    object_follows = after in english.ARTICLES or after in english.PRONOUNS
    return object_follows and (before in _BEFORE_A_VERB or before in english.BE or place == 0)
