"""What a part's own figures say of each other: a rotor is not worn out when it is new."""

from __future__ import annotations

from collections.abc import Iterator

from builder.checks.tyre_pressure import HOOKLESS_BAR
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.facts import Fitted
from builder.model.library import Library
from builder.model.parts import Cassette, Chain, Crankset, Pads, Part, RearDerailleur, Rim, Rotor, SeatPost, Tyre


def parts_make_sense(library: Library) -> tuple[Diagnostic, ...]:
    """Every part whose figures contradict each other: of known parts, then those in bikes' files."""
    parts = [*library.parts.values()]
    for bike in library.bikes.values():
        parts += [part for part in bike.parts.values() if part.id not in library.parts]
    return tuple(found for part in parts for found in _of(part))


def _of(part: Part) -> Iterator[Diagnostic]:
    match part:
        case Rotor() | Pads():
            yield from _below(part, "least-thickness", part.least_thickness_mm, "new-thickness", part.new_thickness_mm)
        case Tyre():
            least, most = part.least_pressure_bar, part.greatest_pressure_bar
            yield from _below(part, "least-pressure", least, "greatest-pressure", most)
        case Rim():
            yield from _even(part, "spokes", part.spokes)
            pressure = part.greatest_pressure_bar
            if part.hooks is Fitted.NONE and pressure is not None and pressure > HOOKLESS_BAR:
                words = f"a rim without hooks bears {HOOKLESS_BAR:g} bar at most, and this one says {pressure:g} bar"
                yield _wrong(part, "greatest-pressure", words)
        case Chain():
            yield from _even(part, "links", part.links)
        case SeatPost():
            yield from _below(part, "least-insertion", part.least_insertion_mm, "length", part.length_mm)
        case Cassette():
            yield from _in_order(part, "sprockets", part.sprockets)
        case Crankset():
            yield from _in_order(part, "rings", tuple(sorted(part.rings)))
        case RearDerailleur():
            least, most = part.largest_sprocket_least, part.largest_sprocket
            yield from _below(part, "largest-sprocket-least", least, "largest-sprocket", most, may_meet=True)
            yield from _below(part, "smallest-sprocket", part.smallest_sprocket, "largest-sprocket", most)
        case _:
            return


def _below(
    part: Part, low_key: str, low: float | None, high_key: str, high: float | None, *, may_meet: bool = False
) -> Iterator[Diagnostic]:
    if low is None or high is None or low < high or (may_meet and low == high):
        return
    yield _wrong(part, low_key, f"'{low_key}' is {low:g} and '{high_key}' is {high:g}: the first must be the smaller")


def _even(part: Part, key: str, count: int | None) -> Iterator[Diagnostic]:
    if count is not None and count % 2:
        yield _wrong(part, key, f"'{key}' is {count}, and their number is even", gravity=Gravity.WARNING)


def _in_order(part: Part, key: str, teeth: tuple[int, ...]) -> Iterator[Diagnostic]:
    if list(teeth) != sorted(set(teeth)):
        yield _wrong(part, key, f"the {key} are not in order, smallest first and each once")


def _wrong(part: Part, key: str, words: str, *, gravity: Gravity = Gravity.ERROR) -> Diagnostic:
    return Diagnostic(
        rule="part-figures",
        message=f"{part.name}: {words}",
        at=part.places.of(key),
        gravity=gravity,
        hints=("read the figures on the part once more",),
    )
