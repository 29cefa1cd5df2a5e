"""Does the bit fit the head: shapes and sizes of bolt heads and of the tools that turn them."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Annotated

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_most
from builder.checks.result import CheckResult, InputError, Provenance, Source, Verdict
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit, write_number

SOURCE = Source(
    title="ISO 4762 hexagon sockets, ISO 4014 hexagon heads, ISO 10664 hexalobular sockets, ISO 4757 cross recesses",
    locator="shapes and sizes; the play that is still good is common practice",
    provenance=Provenance.FROM_MEMORY,
)

HEXAGON_SOCKET = "hexagon-socket"
BALL_HEXAGON = "ball-hexagon"
HEXALOBULAR = "hexalobular-socket"
HEXAGON = "hexagon"
SLOT = "slot"
CROSS_H = "cross-recess-h"
CROSS_Z = "cross-recess-z"
# Shapes whose size is a length across flats, or a width, in millimetres. The others have a number.
_IN_MILLIMETRES = frozenset({HEXAGON_SOCKET, BALL_HEXAGON, HEXAGON, SLOT})
# Short words that the catalogue uses for them.
_SHORT = {"hex": HEXAGON_SOCKET, "lobe": HEXALOBULAR, "nut": HEXAGON}
_DECIMAL = re.compile(r"(hex|nut)-(\d+)-(\d+)")
# Play across the flats [mm] up to which a bit of a neighbouring size still turns a bolt. Common practice.
_PLAY_MM = 0.15
_INCH_MM = 25.4
_WRITTEN = re.compile(
    r"(?P<shape>[a-z][a-z0-9-]*?[a-z0-9])(?:[\s-]+(?P<size>\d+(?:[.,]\d+)?|\d+/\d+)\s*(?P<unit>mm|in)?)?", re.IGNORECASE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drive:
    """The shape and the size by which a tool turns a part; the size is 0 for a shape that has only one."""

    shape: str
    size: float = 0.0

    def __str__(self) -> str:
        if not self.size:
            return self.shape
        return f"{self.shape} {write_number(self.size, 2)}{' mm' if self.shape in _IN_MILLIMETRES else ''}"


def read_drive(written: str) -> Drive:
    """Read `hexagon-socket 5 mm`, `hexalobular-socket 25`, `hexagon 9/16 in`, or another shape such as `cup-spline-16`.

    Raises:
        InputError: no shape, or a hexagon without its size.
    """
    line = _DECIMAL.sub(r"\1-\2.\3", written.strip().lower())
    found = _WRITTEN.fullmatch(line)
    if found is None:
        raise InputError(f"'{written}' is not a head or a bit; write for instance 'hexagon-socket 5 mm'")
    shape, size = _SHORT.get(found["shape"], found["shape"]), 0.0
    if found["size"]:
        above, _, below = found["size"].replace(",", ".").partition("/")
        size = float(above) / float(below or 1) if float(below or 1) else 0.0
        if found["unit"] == "in":
            size *= _INCH_MM
        if not 0.5 <= size <= 120:
            raise InputError(f"'{written}': a size of {found['size']} is outside 0.5 to 120")
    elif shape in _IN_MILLIMETRES:
        raise InputError(f"'{written}' has no size; write for instance '{shape} 5 mm'")
    return Drive(shape=shape, size=size)


def _judge(head: Drive, bit: Drive) -> tuple[Verdict, str]:
    # The right bit for a hexagon socket is by nature a hexagon, and many call it so.
    if head.shape == HEXAGON_SOCKET and bit.shape == HEXAGON:
        bit = replace(bit, shape=HEXAGON_SOCKET)
    ball = bit.shape == BALL_HEXAGON and head.shape == HEXAGON_SOCKET
    if bit.shape != head.shape and not ball:
        if {bit.shape, head.shape} == {CROSS_H, CROSS_Z}:
            return (
                Verdict.DOES_NOT_FIT,
                "The two kinds of cross recess look alike; the wrong one rides out and ruins it.",
            )
        return Verdict.DOES_NOT_FIT, f"Take a bit of the shape '{head}'."
    # A bit goes into a socket, a spanner goes over a head: either way the play is what the outer one is larger by.
    outer, inner = (bit, head) if head.shape == HEXAGON else (head, bit)
    play = outer.size - inner.size
    if head.shape not in _IN_MILLIMETRES:
        if play == 0:
            return Verdict.FITS, "Push the bit fully home before you turn."
        return Verdict.DOES_NOT_FIT, f"Take a bit of the size '{head}'."
    if not at_most(0.0, play):
        return Verdict.DOES_NOT_FIT, f"It won't go on: take '{head}'."
    if not at_most(play, _PLAY_MM):
        return (
            Verdict.DOES_NOT_FIT,
            f"It has {write_number(play, 2)} mm of play and would round the head: take '{head}'.",
        )
    if ball:
        return Verdict.WITH_CARE, "A ball end is for running in: tighten and loosen with a plain hexagon bit."
    if not at_most(play, 0.005):
        return (
            Verdict.WITH_CARE,
            f"{write_number(play, 2)} mm of play: only for light torque; take '{head}' to tighten.",
        )
    return Verdict.FITS, "Push the bit fully home before you turn."


@check(
    family=Family.TORQUE_TOOLS,
    title="Does the bit fit the head?",
    purpose="A bit of nearly the right size rounds the head. This compares shape and size before the tool is laid out.",
    formula=r"0 \le s_{outer} - s_{inner} \le 0.15\;\mathrm{mm}",
    source=SOURCE,
    at_verdict={
        Verdict.FITS: "Push the bit fully home, keep it straight, then turn.",
        Verdict.WITH_CARE: "Good for running in or for light torque. Take the exact bit to tighten and to loosen.",
        Verdict.DOES_NOT_FIT: "It won't go on, or it would round the head. Take the bit that the card names.",
    },
    example={"head": "hexagon-socket 5 mm", "bit": "hexagon-socket 5 mm"},
    drawing="head-shapes",
    notes=(
        "Shapes, with hex, nut and lobe for short: hexagon-socket, ball-hexagon, hexagon, hexalobular-socket, slot, "
        "cross-recess-h, cross-recess-z, or any other word, such as a spline of a lockring: then shape and size must "
        "be the same. Sizes of hexagons and slots are in millimetres or inches, the others are numbers. A worn bit or "
        "a filled socket fits nothing."
    ),
    asked=Asked(force=Force.TELLS),
)
def head_fit(
    head: Annotated[str, Meaning("shape and size of the head, such as hexagon-socket 5 mm"), Fact("fastener.head")],
    bit: Annotated[str, Meaning("shape and size of the bit, such as ball-hexagon 5 mm"), Fact("worked-out.bit")],
) -> CheckResult:
    """Whether a bit, key or spanner fits a head, by shape and size.

    Source: shapes and sizes of the ISO standards; the play that is still good is common practice.
    """
    head_drive, bit_drive = read_drive(head), read_drive(bit)
    verdict, advice = _judge(head_drive, bit_drive)
    measured = head_drive.shape in _IN_MILLIMETRES
    unit = Unit.MILLIMETRE if measured else Unit.ONE
    play = abs(head_drive.size - bit_drive.size) if measured else None
    working = [f"Head: {head_drive}", f"Bit: {bit_drive}"]
    if play is not None:
        working.append(f"Difference of size: {write_number(play, 2)} mm")
    return CheckResult(
        verdict=verdict,
        value=bit_drive.size or None,
        unit=unit,
        limit=head_drive.size or None,
        margin=None,
        working=tuple(working),
        advice=advice,
    )
