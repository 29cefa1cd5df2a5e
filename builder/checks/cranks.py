"""Pedals and bottom bracket: threads, sides and widths."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType

from builder.checks.judging import at_least, at_most, choice, named, number, number_or_none, quantity, word
from builder.checks.result import Check, CheckResult, Inputs, NamedValue, Provenance, Source, Verdict
from builder.model.facts import ShellKind
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


class PedalThread(StrEnum):
    """Thread of a pedal axle and of the crank's eye."""

    NINE_SIXTEENTHS = "9/16x20"
    HALF = "1/2x20"
    METRIC_14 = "M14x1.25"


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


def pedal_thread(*, pedal: PedalThread, crank: PedalThread, pedal_side: Side, crank_side: Side) -> CheckResult:
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
        check=PEDAL_THREAD.name,
        verdict=verdict,
        value=diameter,
        unit=Unit.MILLIMETRE,
        limit=eye,
        margin=0.0 - abs(diameter - eye),
        working=(
            f"Pedal, {pedal}: {n(diameter, 4)} mm, pitch {n(pitch, 4)} mm, {pedal_side}",
            f"Crank, {crank}: {n(eye, 4)} mm, pitch {n(eye_pitch, 4)} mm, {crank_side}",
        ),
        source=str(PEDAL_SOURCE),
        advice=advice,
        values=(named("pitch", pitch, Unit.MILLIMETRE),),
    )


def _bore_mm(kind: ShellKind, given_mm: float | None) -> float | None:
    """Bore or thread diameter of a shell: as given, or that of the standard thread."""
    if given_mm is not None or kind not in SHELL_THREADS:
        return given_mm
    return SHELL_THREADS[kind][0]


def bottom_bracket_fit(
    *,
    shell: ShellKind,
    bracket: ShellKind,
    bracket_width_mm: float,
    shell_width_mm: float | None,
    shell_bore_mm: float | None = None,
    bracket_bore_mm: float | None = None,
) -> CheckResult:
    """Kind, bore and width of a bottom bracket against the shell.

    Args:
        shell, bracket: threaded with a left-hand right cup, threaded with two right-hand cups, or pressed.
        bracket_width_mm: widest shell that the bracket is made for [mm].
        shell_width_mm: of the frame [mm], None where it has still to be measured.
        shell_bore_mm, bracket_bore_mm: bore or thread diameter [mm]; the standard thread's where nothing is given.

    Source: ISO 6696 for the standard thread, from memory; the rest is common practice.
    """
    n = write_number
    bores = _bore_mm(shell, shell_bore_mm), _bore_mm(bracket, bracket_bore_mm)
    spare = margin = None
    working = [f"Shell: {shell}", f"Bracket: {bracket}"]
    if shell_width_mm is not None:
        spare = bracket_width_mm - shell_width_mm
        working.append(f"Spare width: {n(bracket_width_mm)} − {n(shell_width_mm)} = {n(spare)} mm")
    if bores[0] is not None and bores[1] is not None:
        working.append(f"Bores: {n(bores[1], 2)} mm in {n(bores[0], 2)} mm")
    if shell is not bracket:
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a bottom bracket for a shell of the kind '{shell}'."
    elif bores[0] is not None and bores[1] is not None and not at_most(abs(bores[0] - bores[1]), _BORE_MM):
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a bottom bracket for a bore of {n(bores[0], 2)} mm."
    elif spare is None:
        verdict, advice = Verdict.MEASURE_FIRST, "Measure the shell from face to face, without the cups."
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
            advice = f"Take a bottom bracket for a shell of {n(bracket_width_mm - spare)} mm."
        if verdict is not Verdict.DOES_NOT_FIT and shell is ShellKind.THREADED_LEFT_RIGHT:
            advice += " The right cup has a left-hand thread."
    return CheckResult(
        check=BOTTOM_BRACKET_FIT.name,
        verdict=verdict,
        value=bracket_width_mm,
        unit=Unit.MILLIMETRE,
        limit=shell_width_mm,
        margin=margin,
        working=tuple(working),
        source=str(BRACKET_SOURCE),
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


def _run_pedal(inputs: Inputs) -> CheckResult:
    return pedal_thread(
        pedal=PedalThread(word(inputs, "pedal")),
        crank=PedalThread(word(inputs, "crank")),
        pedal_side=Side(word(inputs, "pedal-side")),
        crank_side=Side(word(inputs, "crank-side")),
    )


def _run_bracket(inputs: Inputs) -> CheckResult:
    return bottom_bracket_fit(
        shell=ShellKind(word(inputs, "shell")),
        bracket=ShellKind(word(inputs, "bracket")),
        bracket_width_mm=number(inputs, "bracket-width"),
        shell_width_mm=number_or_none(inputs, "shell-width"),
        shell_bore_mm=number_or_none(inputs, "shell-bore"),
        bracket_bore_mm=number_or_none(inputs, "bracket-bore"),
    )


PEDAL_THREAD = Check(
    name="pedal-thread",
    family="cockpit",
    title="Pedal and crank thread",
    purpose="The wrong thread or the wrong side ruins a crank in one turn.",
    formula=r"d_{pedal} = d_{crank} \qquad p_{pedal} = p_{crank}",
    inputs=(
        choice("pedal", "thread of the pedal's axle", tuple(PedalThread)),
        choice("crank", "thread of the crank's eye", tuple(PedalThread)),
        choice("pedal-side", "side stamped on the pedal", tuple(Side)),
        choice("crank-side", "side of the crank", tuple(Side)),
    ),
    source=PEDAL_SOURCE,
    run=_run_pedal,
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
)

BOTTOM_BRACKET_FIT = Check(
    name="bottom-bracket-fit",
    family="cockpit",
    title="Bottom bracket and shell",
    purpose="Bore, thread and width of the shell decide which bottom bracket goes in.",
    formula=r"0 \le w_{bracket} - w_{shell} \le 5\;\mathrm{mm}",
    inputs=(
        choice("shell", "kind of the frame's shell", tuple(ShellKind)),
        choice("bracket", "kind of shell that the bracket is made for", tuple(ShellKind)),
        quantity("bracket-width", "widest shell that the bottom bracket takes", Unit.MILLIMETRE, 55, 130),
        quantity("shell-width", "of the shell, face to face", Unit.MILLIMETRE, 55, 130, optional=True),
        quantity("shell-bore", "bore or thread diameter of the shell", Unit.MILLIMETRE, 30, 60, optional=True),
        quantity("bracket-bore", "bore that the bracket is made for", Unit.MILLIMETRE, 30, 60, optional=True),
    ),
    source=BRACKET_SOURCE,
    run=_run_bracket,
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
)

CHECKS = (PEDAL_THREAD, BOTTOM_BRACKET_FIT)
