"""What `check` looks for beyond the reading of the sources: a list of passes, each from a library to diagnostics."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from builder.build.examining import attributes_are_computed, bikes_make_sense, planned_jobs_work
from builder.build.order import Progress
from builder.build.proving import Prover, kept_marks
from builder.build.remembering import remembered_findings
from builder.checks.bolts import fastener_plausibility
from builder.checks.result import CheckResult, InputError, Verdict
from builder.cli.common import has_errors
from builder.diagnostics.diagnostic import Diagnostic
from builder.model.catalogue import Fastener
from builder.model.library import Library
from builder.model.parts import Part
from builder.model.position import Position
from builder.model.units import Range, Unit, write_range
from builder.proof.proving import prove_all
from builder.proof.revisions import check_trials
from builder.proof.trade_range import torques_in_trade_range
from builder.proof.wrenches import wrenches_are_checked
from builder.proof.writing import check_writing
from builder.sources.workspace import Loaded

Pass = Callable[[Library], tuple[Diagnostic, ...]]
_DECIMAL = 10.0
# The lines of the working that show why: preload against proof load.
_SHOWN_WORKING = ("Preload at the upper end", "Proof load", "Share of the proof load")


def plausible_torques(library: Library) -> tuple[Diagnostic, ...]:
    """Every torque that its bolt could not bear: of each fastener, and each part's own figure for one."""
    found: list[Diagnostic] = []
    for fastener in library.fasteners.values():
        if fastener.torque_nm is not None:
            found.extend(_torque(fastener, fastener.torque_nm, fastener.places.of("torque")))
    for part in _all_parts(library):
        for name, torque in part.torques_nm.items():
            if name in library.fasteners:
                found.extend(_torque(library.fasteners[name], torque, part.places.of(f"torques.{name}")))
    return tuple(found)


def _all_parts(library: Library) -> Iterator[Part]:
    """The parts of the library, and those that are written in a bike's file."""
    yield from library.parts.values()
    for bike in library.bikes.values():
        yield from (part for part in bike.parts.values() if part.id not in library.parts)


def _torque(fastener: Fastener, torque: Range, at: Position) -> Iterator[Diagnostic]:
    try:
        result = _plausible(fastener, torque)
    except InputError as error:
        message, _, hint = str(error).partition("; ")
        at = fastener.places.of("property-class")
        yield Diagnostic(rule="property-class", message=message, at=at, hints=(hint,) if hint else ())
        return
    if result is None or result.verdict is not Verdict.DOES_NOT_FIT:
        return
    slipped = Range(torque.low / _DECIMAL, torque.high / _DECIMAL)
    tenth = _plausible(fastener, slipped)
    meant = f": {write_range(slipped, Unit.NEWTON_METRE, 2)} would suit it" if tenth and _suits(tenth) else ""
    written = write_range(torque, Unit.NEWTON_METRE, 2)
    yield Diagnostic(
        rule="torque-plausibility",
        message=f"{written} is more than the {fastener.thread} bolt of '{fastener.id}' can bear",
        at=at,
        label=f"{result.value:.0f} % of its proof load" if result.value is not None else "",
        hints=(
            f"has a decimal point slipped{meant}?",
            f"is the thread {fastener.thread}, and the property class {fastener.property_class}?",
            *(line for line in result.working if line.startswith(_SHOWN_WORKING)),
        ),
    )


def _plausible(fastener: Fastener, torque: Range) -> CheckResult | None:
    return fastener_plausibility(fastener.thread, fastener.property_class or None, torque)


def _suits(result: CheckResult) -> bool:
    return result.verdict is Verdict.FITS


def proven(library: Library) -> tuple[Diagnostic, ...]:
    """The proof of every guide, and the rules of writing over every text."""
    return (*prove_all(library), *check_writing(library))


# Asked of every record by itself, whatever is wrong with others.
RECORD_PASSES: tuple[Pass, ...] = (plausible_torques, torques_in_trade_range, wrenches_are_checked)
# Asked only when every source could be read, since a record that is left out would look like a mistake elsewhere.
WHOLE_PASSES: tuple[Pass, ...] = (attributes_are_computed, bikes_make_sense, planned_jobs_work, check_trials)
# What a build finds by itself while it works.
_FOUND_BY_BUILDING = frozenset({planned_jobs_work})


def run_passes(
    library: Library, *, sound: bool, building: bool = False, prove: Pass = proven
) -> tuple[Diagnostic, ...]:
    """The diagnostics of every pass; those over the whole only where the sources are `sound`.

    A pass that asks what a build asks anyway is left out when `building`. `prove` stands for `proven`, or for what
    finds the same in another way.
    """
    passes = (*RECORD_PASSES, *((*WHOLE_PASSES, prove) if sound else ()))
    left = (one for one in passes if not (building and one in _FOUND_BY_BUILDING))
    return tuple(diagnostic for one in left for diagnostic in one(library))


def examined(loaded: Loaded, processes: int, progress: Progress, *, building: bool = False) -> tuple[Diagnostic, ...]:
    """The diagnostics of every pass over all that was read; what was found sound before is not proven again."""
    sound = not has_errors(loaded.diagnostics)

    def find() -> tuple[Diagnostic, ...]:
        prover = Prover(texts=loaded.texts, store=kept_marks(), processes=processes, progress=progress)
        return run_passes(loaded.library, sound=sound, building=building, prove=prover.findings)

    return remembered_findings(loaded, "passes, building" if building else "passes", find)


def left_out(*, sound: bool) -> bool:
    """Whether passes over the whole wait until the sources are sound."""
    return not sound and bool(WHOLE_PASSES)
