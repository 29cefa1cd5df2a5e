"""What would be printed today in the place of what the register has: a card, a service sheet or tag, a chart."""

from __future__ import annotations

from functools import partial

from builder.model.library import Library
from builder.model.memory import Memory
from builder.model.printed import Printed, PrintedSort, PrintedStep
from builder.pages.card import card_revision
from builder.pages.pieces import pieces_for
from builder.pages.revision import revision_of
from builder.pages.service_sheet import view_sheet
from builder.pages.strings import Words
from builder.pages.strings_en import EN
from builder.pages.theme import Theme, known_by
from builder.pages.torque_chart import TorqueChart, chart_of_bike, chart_of_library
from builder.pages.wall import tools_revision, torques_revision, upkeep_revision
from builder.proof.jobs import Job, Ready, Work, work_out
from builder.proof.since_print import FindToday, Today, as_today, sheet_today, tailored_today
from builder.tailoring.alike import Alike
from builder.tailoring.tailored import Tailored
from builder.tailoring.upkeep import Upkeep, Upkeeps


def today_in(
    library: Library,
    theme: Theme,
    words: Words = EN,
    generic: tuple[Tailored, ...] | None = None,
    memory: Memory | None = None,
    *,
    work: Work | None = None,
    upkeeps: Upkeeps | None = None,
) -> FindToday:
    """How to find what would be printed today from `library`.

    `generic` is every guide for any bike, and `upkeeps` those of all bikes, where known; `work` works out jobs. What
    `memory` holds is not made again.
    """
    remember = memory or Memory(lasting=False)
    known = upkeeps or Upkeeps(library, remember)
    worked_out = work or partial(work_out, library=library, alike=remember.once.of(Alike, Alike))
    digest, dressed = known_by(theme)

    def found(printed: Printed, parts: tuple[str, ...]) -> Today | None:
        match printed.sort:
            case PrintedSort.CARD:
                tailored = tailored_today(printed, parts, library, worked_out)
                return None if tailored is None else _card(tailored)
            case PrintedSort.SHEET:
                sheet = sheet_today(printed, library, worked_out)
                return None if sheet is None else _sheet(sheet)
            case PrintedSort.TORQUES:
                return remember.of(
                    "torques today", digest, (known.catalogue, known.families, words, *dressed), _torques
                )
            case PrintedSort.TOOLS:
                every = _for_any_bike(library, worked_out) if generic is None else generic
                return Today(revision=tools_revision(library, every, theme, words))
            case PrintedSort.BIKE:
                bike = library.bikes.get(printed.bike)
                return None if bike is None else _bike(known.of(bike))

    def _card(tailored: Tailored) -> Today | None:
        pieces = pieces_for(tailored, remember, theme, words)
        make = partial(card_revision, tailored, theme, words=words, workshop=library.workshop, pieces=pieces)
        code = remember.of("code", digest, (tailored, words, library.workshop, *dressed), make)
        return as_today(tailored, code)

    def _sheet(sheet: Tailored) -> Today | None:
        records = (sheet, known.catalogue, words)
        return remember.of(
            "sheet today", (), records, lambda: as_today(sheet, view_sheet(sheet, library, words).revision)
        )

    def _torques() -> Today:
        steps = _fasteners(chart_of_library(library, words, known.families))
        return Today(revision=torques_revision(library, theme, words, known.families), steps=steps)

    def _bike(upkeep: Upkeep) -> Today:
        def make() -> Today:
            chart = chart_of_bike(upkeep, library, words)
            return Today(revision=upkeep_revision(upkeep, library, theme, words), steps=_fasteners(chart))

        return remember.of("upkeep today", digest, (upkeep, known.catalogue, words, *dressed), make)

    return found


def _for_any_bike(library: Library, work: Work) -> tuple[Tailored, ...]:
    outcomes = (work(Job(guide=guide)) for guide in library.guides.values())
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
