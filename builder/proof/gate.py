"""The one gate: everything that can be wrong with a library, asked before anything is made from it.

    library ─► records by themselves ─► bikes and their jobs ─► guides: proof and writing ─► diagnostics

Build, check, card, preview and the page in the browser ask here and nowhere else. Who runs the proofs, on
how many cores and what is remembered of them is not decided here: see `builder.build.examining`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import partial

from builder.diagnostics.diagnostic import Diagnostic, ordered
from builder.model.bike import Bike
from builder.model.guide import Guide
from builder.model.inlining import used_procedures
from builder.model.library import Library
from builder.proof.bolts_bear import plausible_torques
from builder.proof.directions import directions_agree
from builder.proof.exclusions import exclusions_leave_bikes
from builder.proof.families import families_agree
from builder.proof.figures import figures_are_right
from builder.proof.fitting_words import words_fit
from builder.proof.fleet import attributes_are_computed, bikes_make_sense, planned_jobs_work
from builder.proof.part_records import parts_make_sense
from builder.proof.proving import prove
from builder.proof.put_back import measured_and_put_back, new_parts_are_new, what_is_let_out
from builder.proof.revisions import check_trials
from builder.proof.standing import standing_diagnostics
from builder.proof.stops import stops_help
from builder.proof.trade import steps_keep_the_trade
from builder.proof.trade_range import torques_in_trade_range
from builder.proof.unreached import unreached
from builder.proof.wrenches import torques_are_held, workshop_reaches, wrenches_are_checked
from builder.proof.writing import check_writing

Pass = Callable[[Library], tuple[Diagnostic, ...]]

# Asked of every record by itself, whatever is wrong with others.
RECORD_PASSES: tuple[Pass, ...] = (
    plausible_torques,
    torques_in_trade_range,
    wrenches_are_checked,
    torques_are_held,
    figures_are_right,
    measured_and_put_back,
    parts_make_sense,
)
# Asked only when every source could be read, since a record that is left out would look like a mistake elsewhere.
SOUND_PASSES: tuple[Pass, ...] = (
    attributes_are_computed,
    bikes_make_sense,
    planned_jobs_work,
)
# Asked of each guide with the procedures that it uses, and of those that none uses.
STEP_PASSES: tuple[Pass, ...] = (what_is_let_out, steps_keep_the_trade, directions_agree)
# Asked of the whole library alone: who makes one card has not asked for them.
LIBRARY_PASSES: tuple[Pass, ...] = (check_trials, workshop_reaches, families_agree)
# What a build finds by itself while it works out its jobs.
_FOUND_BY_BUILDING = frozenset({planned_jobs_work})


def of_guide(guide: Guide, library: Library) -> tuple[Diagnostic, ...]:
    """What is asked of one guide and all that it leads to: its proof, and the words that bikes come to."""
    used = used_procedures(guide, library)
    alone = replace(
        library,
        guides={guide.id: guide},
        procedures={name: one for name, one in library.procedures.items() if name in used},
    )
    passes = (words_fit, stops_help, new_parts_are_new, *STEP_PASSES)
    return (*prove(guide, library, counting=False).diagnostics, *(one for ask in passes for one in ask(alone)))


def of_bike(bike: Bike, library: Library) -> tuple[Diagnostic, ...]:
    """What takes long of what is asked of a bike by itself: whether its parts can be together."""
    return standing_diagnostics(replace(library, guides={}, procedures={}, bikes={bike.id: bike}))


def of_rest(library: Library) -> tuple[Diagnostic, ...]:
    """What is asked of what no guide leads to: procedures that none uses, and tools by themselves."""
    used = {name for guide in library.guides.values() for name in used_procedures(guide, library)}
    left = {name: one for name, one in library.procedures.items() if name not in used}
    rest = replace(library, guides={}, procedures=left)
    return tuple(one for ask in STEP_PASSES for one in ask(rest))


def proven(library: Library, *, whole: bool = True) -> tuple[Diagnostic, ...]:
    """The proof of every guide, the rules of writing over every text, each bike, and what is asked of all together."""
    of_guides = (one for guide in library.guides.values() for one in of_guide(guide, library))
    of_bikes = (one for bike in library.bikes.values() for one in of_bike(bike, library))
    together = (*of_rest(library), *exclusions_leave_bikes(library), *unreached(library)) if whole else ()
    return (*of_guides, *check_writing(library), *of_bikes, *together)


def gate(
    library: Library, *, sound: bool = True, whole: bool = True, building: bool = False, prove: Pass | None = None
) -> tuple[Diagnostic, ...]:
    """Everything that is wrong with `library`.

    Args:
        library: what was read, or what `reached` leaves of it.
        sound: whether every source could be read; where not, only records by themselves are asked.
        whole: whether it is the whole library; passes over the whole are left out for a part of it.
        building: leaves out what a build finds by itself.
        prove: stands for `proven`, or for what finds the same in another way.
    """
    passes = [*RECORD_PASSES]
    if sound:
        passes += [*SOUND_PASSES, *(LIBRARY_PASSES if whole else ()), prove or partial(proven, whole=whole)]
    left = (one for one in passes if not (building and one in _FOUND_BY_BUILDING))
    return ordered(diagnostic for one in left for diagnostic in one(library))


def reached(library: Library, guides: Iterable[str], bikes: Iterable[str]) -> Library:
    """The library as far as these guides and bikes reach: other guides and bikes can't spoil a card of these."""
    wanted, ridden = frozenset(guides), frozenset(bikes)
    return replace(
        library,
        guides={name: guide for name, guide in library.guides.items() if name in wanted},
        bikes={name: bike for name, bike in library.bikes.items() if name in ridden},
    )
