"""What would be printed today in the place of what the register has: a card, a service sheet or tag, a chart."""

from __future__ import annotations

from builder.model.library import Library
from builder.model.memory import Memory
from builder.model.printed import Printed, PrintedSort, PrintedStep
from builder.pages.card import card_revision
from builder.pages.pieces import pieces_for
from builder.pages.revision import revision_of
from builder.pages.service_sheet import view_sheet
from builder.pages.strings import Words
from builder.pages.strings_en import EN
from builder.pages.theme import Theme
from builder.pages.torque_chart import TorqueChart, chart_of_bike, chart_of_library
from builder.pages.wall import tools_revision, torques_revision, upkeep_revision
from builder.proof.jobs import Job, Ready, work_out
from builder.proof.since_print import FindToday, Today, as_today, sheet_today, tailored_today
from builder.tailoring.alike import Alike
from builder.tailoring.tailored import Tailored
from builder.tailoring.upkeep import upkeeps_in


def today_in(
    library: Library,
    theme: Theme,
    words: Words = EN,
    generic: tuple[Tailored, ...] | None = None,
    memory: Memory | None = None,
) -> FindToday:
    """How to find what would be printed today from `library`.

    `generic` is every guide for any bike, where known; what `memory` holds is not made again.
    """
    memory = memory or Memory(lasting=False)
    upkeep_of = upkeeps_in(library, memory)
    alike = memory.once.of(Alike, Alike)

    def found(printed: Printed, parts: tuple[str, ...]) -> Today | None:
        match printed.sort:
            case PrintedSort.CARD:
                tailored = tailored_today(printed, parts, library, alike)
                if tailored is None:
                    return None
                pieces = pieces_for(tailored, memory, theme, words)
                code = card_revision(tailored, theme, words=words, workshop=library.workshop, pieces=pieces)
                return as_today(tailored, code)
            case PrintedSort.SHEET:
                sheet = sheet_today(printed, library, alike)
                return None if sheet is None else as_today(sheet, view_sheet(sheet, library, words).revision)
            case PrintedSort.TORQUES:
                chart = chart_of_library(library, words)
                return Today(revision=torques_revision(library, theme, words), steps=_fasteners(chart))
            case PrintedSort.TOOLS:
                every = _for_any_bike(library) if generic is None else generic
                return Today(revision=tools_revision(library, every, theme, words))
            case PrintedSort.BIKE:
                bike = library.bikes.get(printed.bike)
                if bike is None:
                    return None
                upkeep = upkeep_of(bike)
                of_bike = chart_of_bike(upkeep, library, words)
                return Today(revision=upkeep_revision(upkeep, library, theme, words), steps=_fasteners(of_bike))

    return found


def _for_any_bike(library: Library) -> tuple[Tailored, ...]:
    outcomes = (work_out(Job(guide=guide), library) for guide in library.guides.values())
    return tuple(one.tailored for one in outcomes if isinstance(one, Ready))


def _fasteners(chart: TorqueChart) -> tuple[tuple[PrintedStep, int], ...]:
    """The fasteners of a chart as the register keeps them; the number of a source is none of what a row says."""
    return tuple(
        (
            PrintedStep(
                step=row.id,
                says=revision_of(repr((row.name, row.count, row.thread, row.is_left, row.head, row.preparation))),
                # A plain space, since the register is a file that people read and compare.
                torque=", ".join((row.value or "by feel", *(f"{part}: {value}" for part, value in row.makers))).replace(
                    "\u00a0", " "
                ),
            ),
            0,
        )
        for row in chart.rows
    )
