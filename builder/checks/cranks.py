"""Pedals and bottom bracket: threads, sides and widths."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Annotated

from builder.checks.check import Asked, Family, check
from builder.checks.judging import at_least, at_most, named
from builder.checks.result import CheckResult, NamedValue, Provenance, Source, Verdict
from builder.model.facts import CrankFixing, PedalThread, ShellKind
from builder.model.fields import WHERE, Fact, Meaning
from builder.model.units import Unit, write_number, write_quantity

PEDAL_SOURCE = Source(
    title="Pedal threads of the trade, 9/16 in x 20 and 1/2 in x 20 threads per inch",
    locator="dimensions from memory",
    provenance=Provenance.COMMON_PRACTICE,
)
BRACKET_SOURCE = Source(
    title="ISO 6696, bottom bracket threads; the other shells and the spacers are common practice",
    locator="1.375 in x 24 threads per inch",
    provenance=Provenance.FROM_MEMORY,
)
_INCH_MM = 25.4
# Width that spacers behind the cups may make up, the play of a width as cut, and of a bore [mm]. Common practice.
_SPACERS_MM, _WIDTH_MM, _BORE_MM = 5.0, 0.5, 0.2


# A self-extracting crank says how it comes off; it may sit on splines all the same.
_BY_AXLE = {CrankFixing.SELF_EXTRACTING, CrankFixing.SPLINED_BOLT}


class Side(StrEnum):
    """Side of the bike, seen by the rider."""

    LEFT = "left"
    RIGHT = "right"


# Diameter and pitch [mm].
PEDAL_THREADS: Mapping[PedalThread, tuple[float, float]] = MappingProxyType(
    {
        PedalThread.NINE_SIXTEENTHS: (9 / 16 * _INCH_MM, _INCH_MM / 20),
        PedalThread.HALF: (_INCH_MM / 2, _INCH_MM / 20),
        PedalThread.METRIC_14: (14.0, 1.25),
    }
)
# Diameter and pitch [mm] of the threads that a shell has unless its bore says otherwise.
SHELL_THREADS: Mapping[ShellKind, tuple[float, float]] = MappingProxyType(
    {
        ShellKind.THREADED_LEFT_RIGHT: (1.375 * _INCH_MM, _INCH_MM / 24),
        ShellKind.THREADED_BOTH_RIGHT: (36.0, _INCH_MM / 24),
    }
)


@check(
    family=Family.COCKPIT,
    title="Pedal and crank thread",
    purpose="The wrong thread or the wrong side ruins a crank in one turn.",
    formula=r"d_{pedal} = d_{crank} \qquad p_{pedal} = p_{crank}",
    source=PEDAL_SOURCE,
    at_verdict={
        Verdict.FITS: "Grease the thread, start it by hand, tighten clockwise.",
        Verdict.WITH_CARE: "Grease the thread, start it by hand, tighten anticlockwise.",
        Verdict.DOES_NOT_FIT: "Take the other pedal, or pedals of the crank's thread.",
    },
    example={"pedal": "9/16x20", "crank": "9/16x20", "pedal-side": "right", "crank-side": "right"},
    drawing="thread-hand",
    notes=(
        "9/16 inch with 20 threads per inch is usual; 1/2 inch goes with one-piece cranks; 14 mm with 1.25 mm pitch is "
        "found on old bikes. From memory, common practice. The left pedal has a left-hand thread."
    ),
    asked=Asked(cures=("pedals",)),
)
def pedal_thread(
    pedal: Annotated[
        PedalThread,
        Meaning("thread of the pedal's axle"),
        Fact(joints=(("left", "pedals.thread"), ("right", "pedals.thread"))),
    ],
    crank: Annotated[
        PedalThread,
        Meaning("thread of the crank's eye"),
        Fact(joints=(("left", "crankset.pedal-thread"), ("right", "crankset.pedal-thread"))),
    ],
    pedal_side: Annotated[Side, Meaning("side stamped on the pedal"), Fact(WHERE)],
    crank_side: Annotated[Side, Meaning("side of the crank"), Fact(WHERE)],
) -> CheckResult:
    """Thread and side of a pedal against the crank's eye.

    The value is the diameter of the pedal's thread [mm].

    Source: threads of the trade, common practice; left pedals have a left-hand thread.
    """
    (diameter, pitch), (eye, eye_pitch) = PEDAL_THREADS[pedal], PEDAL_THREADS[crank]
    n = write_number
    if pedal is not crank:
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take pedals with a thread of {crank}. Never force or recut a crank."
    elif pedal_side is not crank_side:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"That is the {pedal_side} pedal: L and R are stamped on the axle's end or on its flats."
    elif crank_side is Side.LEFT:
        verdict, advice = Verdict.WITH_CARE, "Left-hand thread: turn anticlockwise to tighten."
    else:
        verdict, advice = Verdict.FITS, "Grease the thread and start it by hand."
    return CheckResult(
        verdict=verdict,
        value=diameter,
        unit=Unit.MILLIMETRE,
        limit=eye,
        margin=0.0 - abs(diameter - eye),
        working=(
            f"Pedal, {pedal}: {n(diameter, 4)} mm, pitch {n(pitch, 4)} mm, {pedal_side}",
            f"Crank, {crank}: {n(eye, 4)} mm, pitch {n(eye_pitch, 4)} mm, {crank_side}",
        ),
        advice=advice,
        values=(named("pitch", pitch, Unit.MILLIMETRE),),
    )


def _bore_mm(kind: ShellKind, given_mm: float | None) -> float | None:
    """Bore or thread diameter of a shell: as given, or that of the standard thread."""
    if given_mm is not None or kind not in SHELL_THREADS:
        return given_mm
    return SHELL_THREADS[kind][0]


@check(
    family=Family.COCKPIT,
    title="Bottom bracket and shell",
    purpose="Bore, thread and width of the shell decide which bottom bracket goes in.",
    formula=r"0 \le w_{bracket} - w_{shell} \le 5\;\mathrm{mm}",
    source=BRACKET_SOURCE,
    at_verdict={
        Verdict.FITS: "Clean and grease the shell, and start threaded cups by hand.",
        Verdict.WITH_CARE: "Make up the width with the maker's spacers, most of them on the side that the maker says.",
        Verdict.DOES_NOT_FIT: "Take a bottom bracket for this shell. Never recut a shell to another thread at home.",
        Verdict.MEASURE_FIRST: "Measure the shell from face to face with a calliper, without the cups.",
    },
    example={
        "shell": "threaded-left-right",
        "bracket": "threaded-left-right",
        "bracket-width": "73 mm",
        "shell-width": "68 mm",
    },
    notes=(
        "threaded-left-right is the standard thread of 1.375 inch with 24 threads per inch, whose right cup is "
        "left-hand; threaded-both-right the one of 36 mm; a larger thread is told by its bore. Pressed shells have "
        "bores of 37, 41, 42 and 46 mm. Usual widths are 68, 70, 73, 83 and 100 mm for threads. Up to 5 mm of spacers "
        "in all are common practice."
    ),
    asked=Asked(cures=("bottom-bracket",)),
)
def bottom_bracket_fit(
    shell: Annotated[ShellKind, Meaning("kind of the frame's shell"), Fact("frame.shell")],
    bracket: Annotated[ShellKind, Meaning("kind of shell that the bracket is made for"), Fact("bottom-bracket.shell")],
    bracket_width_mm: Annotated[
        float | None, Meaning("widest shell that the bottom bracket takes"), Fact("bottom-bracket.width")
    ],
    shell_width_mm: Annotated[float | None, Meaning("of the shell, face to face"), Fact("frame.shell-width")],
    shell_bore_mm: Annotated[float | None, Meaning("bore or thread diameter of the shell"), Fact("frame.shell-bore")],
    bracket_bore_mm: Annotated[float | None, Meaning("bore that the bracket is made for"), Fact("bottom-bracket.bore")],
) -> CheckResult:
    """Kind, bore and width of a bottom bracket against the shell.

    Source: ISO 6696 for the standard thread, from memory; the rest is common practice.
    """
    n = write_number
    bores = _bore_mm(shell, shell_bore_mm), _bore_mm(bracket, bracket_bore_mm)
    spare = margin = None
    working = [f"Shell: {shell}", f"Bracket: {bracket}"]
    if shell_width_mm is not None and bracket_width_mm is not None:
        spare = bracket_width_mm - shell_width_mm
        working.append(f"Spare width: {n(bracket_width_mm)} − {n(shell_width_mm)} = {n(spare)} mm")
    if bores[0] is not None and bores[1] is not None:
        working.append(f"Bores: {n(bores[1], 2)} mm in {n(bores[0], 2)} mm")
    if shell is not bracket:
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a bottom bracket for a shell of the kind '{shell}'."
    elif bores[0] is not None and bores[1] is not None and not at_most(abs(bores[0] - bores[1]), _BORE_MM):
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a bottom bracket for a bore of {n(bores[0], 2)} mm."
    elif spare is None:
        verdict = Verdict.MEASURE_FIRST
        advice = "Measure the shell from face to face, without the cups, and look up the widest that the bracket takes."
    elif bores[0] is None or bores[1] is None:
        verdict, advice = Verdict.MEASURE_FIRST, "Measure the bore of the shell, and look up the bracket's."
    else:
        margin = _width_margin_mm(shell, spare)
        if at_most(abs(spare), _WIDTH_MM):
            verdict, advice = Verdict.FITS, "Kind, bore and width are the same."
        elif at_least(margin, 0.0):
            verdict = Verdict.WITH_CARE
            spacers = write_quantity(spare, Unit.MILLIMETRE)
            advice = f"Put {spacers} of spacers behind the cups, as the maker lays out."
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"Take a bottom bracket for a shell of {n(shell_width_mm or 0.0)} mm."
        if verdict is not Verdict.DOES_NOT_FIT and shell is ShellKind.THREADED_LEFT_RIGHT:
            advice += " The right cup has a left-hand thread."
    return CheckResult(
        verdict=verdict,
        value=bracket_width_mm,
        unit=Unit.MILLIMETRE,
        limit=shell_width_mm,
        margin=margin,
        working=tuple(working),
        advice=advice,
        values=_standard_thread(shell) if shell_bore_mm is None else (),
    )


def _width_margin_mm(shell: ShellKind, spare_mm: float) -> float:
    # Spacers make up a threaded shell that is narrower; nothing makes up a wider one.
    if shell is ShellKind.PRESSED:
        return _WIDTH_MM - abs(spare_mm)
    return min(_SPACERS_MM - spare_mm, spare_mm + _WIDTH_MM)


def _standard_thread(shell: ShellKind) -> tuple[NamedValue, ...]:
    if shell not in SHELL_THREADS:
        return ()
    diameter, pitch = SHELL_THREADS[shell]
    return (named("thread-diameter", diameter, Unit.MILLIMETRE), named("pitch", pitch, Unit.MILLIMETRE))


@check(
    family=Family.COCKPIT,
    title="Cranks and bottom bracket",
    purpose="A crank holds only on the axle that it is made for: a square, splines, or an axle of its own.",
    formula=r"f_\text{crank} = f_\text{bracket} \qquad d_\text{crank} = d_\text{bracket}",
    source=Source(title="Crank and axle have one profile", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Grease what the maker says, and tighten to the torque.",
        Verdict.DOES_NOT_FIT: "Take a bottom bracket for these cranks, or cranks for this bottom bracket.",
        Verdict.MEASURE_FIRST: "Look at the end of the axle, and measure its diameter.",
    },
    example={"crank": "pinch-bolt", "bracket": "pinch-bolt", "crank-axle": "24 mm", "bracket-axle": "24 mm"},
    notes=(
        "Squares come in two tapers that look alike, and splines in several counts: name and number of the axle are "
        "those that the cranks' maker states. Common practice, no source."
    ),
    asked=Asked(cures=("bottom-bracket", "crankset")),
)
def crank_fixing(
    crank: Annotated[CrankFixing, Meaning("how the cranks hold"), Fact("crankset.fixing")],
    bracket: Annotated[CrankFixing, Meaning("cranks that the bracket is made for"), Fact("bottom-bracket.fixing")],
    crank_axle_mm: Annotated[float | None, Meaning("diameter of the cranks' axle"), Fact("crankset.axle")],
    bracket_axle_mm: Annotated[float | None, Meaning("axle that the bracket is made for"), Fact("bottom-bracket.axle")],
) -> CheckResult:
    """Whether cranks go onto a bottom bracket: fixing, and diameter [mm] of the axle. Source: common practice."""
    n = write_number
    working = [f"Cranks: {crank}", f"Bracket: {bracket}"]
    apart = None if crank_axle_mm is None or bracket_axle_mm is None else abs(crank_axle_mm - bracket_axle_mm)
    if apart is not None:
        working.append(f"Axles: {n(crank_axle_mm or 0.0)} mm and {n(bracket_axle_mm or 0.0)} mm, apart {n(apart)} mm")
    if crank is not bracket and {crank, bracket} != _BY_AXLE:
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a bottom bracket for cranks of the kind '{crank}'."
    elif apart is not None and not at_most(apart, _BORE_MM):
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a bottom bracket for an axle of {n(crank_axle_mm or 0.0)} mm."
    elif apart is None or crank is not bracket:
        verdict = Verdict.MEASURE_FIRST
        advice = "Measure the diameter of the axle, and look up profile and size at the makers of both."
    else:
        verdict, advice = Verdict.FITS, "Cranks and bottom bracket are of one kind."
    return CheckResult(
        verdict=verdict,
        value=crank_axle_mm,
        unit=Unit.MILLIMETRE,
        limit=bracket_axle_mm,
        working=tuple(working),
        advice=advice,
    )
