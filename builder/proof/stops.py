"""What stops a job: said once, and only of what a bike of this guide can have.

A card prints both lists of a guide, the one before the work and the one that sends to a mechanic, in one block.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.condition import Condition, Is
from builder.model.guide import Guide
from builder.model.library import Library
from builder.proof.configurations import configurations

# Words that carry nothing of what a line is about.
_SMALL = frozenset(
    {"a", "an", "the", "is", "are", "was", "or", "and", "of", "it", "its", "in", "to", "on", "at", "by", "from"}
    | {"with", "that", "this", "has", "have", "not", "no", "then", "only", "fully", "first"}
)
# Above this share of the shorter line in common two lines say the same; a line of two words says too little for that.
_SAME_SHARE, _LEAST_WORDS = 0.8, 2
# What is asked of a bike before it comes to a guide, so that a guide may leave it out. `{end}` is the guide's end.
_ASKED_OF_A_BIKE: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    (r"brake is hydraulic", "{end}-brake-actuation", ("hydraulic",)),
    (r"tyre is tubeless", "{end}-tyre-seal", ("tubeless",)),
    (r"gear hub", "transmission", ("hub-gear",)),
    (r"one gear only", "transmission", ("single-speed",)),
    (r"shell is pressed", "shell-kind", ("pressed",)),
    (r"motor at its cranks", "motor-place", ("cranks",)),
)


def stops_help(library: Library) -> tuple[Diagnostic, ...]:
    """Every line that stands twice among the stops of a guide, and every one that no bike of the guide can come to."""
    return tuple(one for guide in library.guides.values() for one in (*_said_twice(guide), *_never_so(guide, library)))


def _said_twice(guide: Guide) -> Iterator[Diagnostic]:
    for later in guide.mechanic_when:
        for before in guide.not_when:
            first, second = _words(before), _words(later)
            shorter = min(len(first), len(second))
            if shorter > _LEAST_WORDS and len(first & second) > _SAME_SHARE * shorter:
                yield Diagnostic(
                    rule="stops",
                    message=f"{guide.id}: “{later}” under 'mechanic-when' says again what stands under 'not-when'",
                    at=guide.places.of("mechanic-when"),
                    gravity=Gravity.WARNING,
                    hints=(f"it stands there as “{before}”", "keep one of them: a card prints both in one block"),
                )


def _words(text: str) -> frozenset[str]:
    return frozenset(word.removesuffix("s") for word in re.findall(r"[a-z]+", text.lower()) if word not in _SMALL)


def _never_so(guide: Guide, library: Library) -> Iterator[Diagnostic]:
    end = "front" if guide.id.startswith("front-") else "rear"
    space = configurations(guide, library)
    for pattern, name, cases in _ASKED_OF_A_BIKE:
        attribute = name.format(end=end)
        said = next((line for line in guide.not_when if re.search(rf"\b{pattern}\b", line, re.IGNORECASE)), None)
        if said is None or attribute not in library.attributes:
            continue
        bikes: Condition = Is(attribute, cases)
        if not space.meets((space.knowing.asked(guide.suits), space.knowing.asked(bikes))):
            yield Diagnostic(
                rule="stops",
                message=f"{guide.id}: “{said}” stops a job that 'suits' keeps from such a bike already",
                at=guide.places.of("not-when"),
                gravity=Gravity.WARNING,
                hints=(f"take it away: the bike is asked for {library.attributes[attribute].words}",),
            )
