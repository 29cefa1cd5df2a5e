"""What a part's own figures say of each other: a rotor is not worn out when it is new."""

from __future__ import annotations

from collections.abc import Iterator

from builder.checks.tyre_pressure import HOOKLESS_BAR
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.facts import Fitted
from builder.model.library import Library
from builder.model.parts import (
    Brake,
    Cassette,
    Chain,
    Crankset,
    Hub,
    Pads,
    Part,
    RearDerailleur,
    Rim,
    Rotor,
    SeatPost,
    Tyre,
)
from builder.model.position import Position

# An odd count is more likely a slip of the pen than not; a wheel with 21 holes is no impossibility.
_LIKELY_WRONG = frozenset({"spokes", "spoke-holes", "links"})


def parts_make_sense(library: Library) -> tuple[Diagnostic, ...]:
    """Every part whose figures contradict each other: of known parts, then those in bikes' files."""
    found: list[Diagnostic] = []
    for part in library.parts.values():
        found.extend(_of_part(part, part.places.of("")))
    for bike in library.bikes.values():
        for role, part in bike.parts.items():
            if part.id not in library.parts:
                found.extend(_of_part(part, bike.places.of(f"parts.{role.value}")))
    return tuple(found)


def _of_part(part: Part, at: Position) -> Iterator[Diagnostic]:
    for key, message, hint in _contradictions(part):
        place = part.places.of(key)
        yield Diagnostic(
            rule="part-figures",
            message=f"{part.name}: {message}",
            at=place if place.file else at,
            gravity=Gravity.WARNING if key in _LIKELY_WRONG else Gravity.ERROR,
            hints=(hint,),
        )


def _contradictions(part: Part) -> Iterator[tuple[str, str, str]]:
    """What can't be true of a part by itself: the key, what is wrong, how to mend it."""
    match part:
        case Rotor() | Pads():
            if _above(part.least_thickness_mm, part.new_thickness_mm, equal=True):
                yield "least-thickness", "it is worn out when it is new", "the least thickness is under the new one"
        case Tyre():
            if _above(part.least_pressure_bar, part.greatest_pressure_bar):
                yield "least-pressure", "the least pressure is above the greatest", "exchange the two figures"
        case Chain():
            if part.links is not None and part.links % 2:
                yield "links", f"{part.links} links are not even", "inner and outer links take turns: count again"
        case Cassette():
            if any(one >= other for one, other in zip(part.sprockets, part.sprockets[1:], strict=False)):
                yield "sprockets", "its sprockets are not in order", "write them from the smallest up, each once"
            if _above(part.maker_spacer_mm, part.made_for_body_mm):
                yield "maker-spacer", "the spacer is wider than the body", "look both figures up at the maker"
        case Crankset():
            # Both directions are written in the trade.
            if part.rings not in (tuple(sorted(set(part.rings))), tuple(sorted(set(part.rings), reverse=True))):
                yield "rings", "its chainrings are not in order", "write them from the largest down, each once"
        case RearDerailleur():
            if _above(part.smallest_sprocket, part.largest_sprocket, equal=True):
                yield "smallest-sprocket", "the smallest sprocket is no less than the largest", "exchange the two"
            if _above(part.largest_sprocket_least, part.largest_sprocket):
                yield "largest-sprocket-least", "no largest sprocket would do", "exchange the two figures"
        case SeatPost():
            if _above(part.least_insertion_mm, part.length_mm, equal=True):
                yield "least-insertion", "it would have to go in whole", "measure from the lower end to the mark"
        case Rim():
            if part.spokes is not None and part.spokes % 2:
                yield "spokes", f"{part.spokes} spokes are not even", "count the holes again: each side has half"
            bar = part.greatest_pressure_bar
            if part.hooks is Fitted.NONE and bar is not None and bar > HOOKLESS_BAR:
                words = f"a rim without hooks bears {HOOKLESS_BAR:g} bar at most, and this one says {bar:g} bar"
                yield "greatest-pressure", words, "read the figure on the rim once more"
            if _above(part.spoke_bed_mm, part.bead_seat_mm, equal=True):
                yield "spoke-bed", "the spokes would end outside the bead seat", "measure between the spoke beds"
        case Hub():
            if part.spoke_holes is not None and part.spoke_holes % 2:
                yield "spoke-holes", f"{part.spoke_holes} holes are not even", "count both flanges"
            if _above(part.lowest_gear, part.highest_gear):
                yield "lowest-gear", "the lowest gear is above the highest", "exchange the two ratios"
        case Brake():
            fluid = None if part.fluid is None or part.actuation is None else (part.actuation.value, part.fluid.value)
            if fluid is not None and fluid[0] == "hydraulic" and fluid[1] == "none":
                yield "fluid", "a hydraulic brake has a fluid", "write the fluid that its lever or its maker names"
            if fluid is not None and fluid[0] == "none" and fluid[1] != "none":
                yield "fluid", "what nothing pulls holds no fluid", "write 'fluid: none', or how the brake is pulled"


def _above(least: float | None, most: float | None, *, equal: bool = False) -> bool:
    if least is None or most is None:
        return False
    return least > most or (equal and least == most)
