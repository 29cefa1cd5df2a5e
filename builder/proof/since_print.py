"""Whether a printed card still says what the guide says now, and if not what changed and whether that matters.

    a printed card + the tailored guide of today ─► what became of each step

A changed torque or caution, a step that came, went or moved matters: the card must not be worked from. Other words at a
step matter to who reads them: read the step again. That is a rule of the house.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.library import Library
from builder.model.printed import Printed, PrintedCard, PrintedSort, PrintedStep
from builder.model.units import Unit, write_range
from builder.proof.jobs import Job, Ready, planned_jobs, work_out
from builder.proof.revisions import code_of, moved
from builder.tailoring.alike import Alike
from builder.tailoring.tailored import ShownStep, Tailored, Torque

_LETTERS = 8
_MOST_TOLD = 8


class What(StrEnum):
    """What changed at a step."""

    TORQUE = "torque"
    CAUTION = "caution"
    ADDED = "new step"
    REMOVED = "step gone"
    ORDER = "order"
    TEXT = "words"


class PrintKind(StrEnum):
    """How a printed card stands."""

    CURRENT = "current"
    STALE = "stale"
    WITHDRAWN = "withdrawn"
    NO_LONGER_MADE = "no longer made"


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What changed at one step. `number` is that of today's guide, 0 for a step that is gone."""

    step: str
    number: int
    what: tuple[What, ...]
    torque_then: str = ""
    torque_now: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """How a printed card stands; `changes` is empty where no step changed."""

    kind: PrintKind
    changes: tuple[Change, ...] = ()

    @property
    def matters(self) -> bool:
        """Whether the card must not be worked from."""
        if self.kind in (PrintKind.WITHDRAWN, PrintKind.NO_LONGER_MADE):
            return True
        return any(what is not What.TEXT for change in self.changes for what in change.what)

    @property
    def whats(self) -> tuple[What, ...]:
        """What changed on the whole card, the gravest first."""
        seen = {what for change in self.changes for what in change.what}
        return tuple(what for what in What if what in seen)


@dataclass(frozen=True, slots=True, kw_only=True)
class Today:
    """What would be printed today in the place of something printed: its code, and its steps with their numbers.

    A fastener of a chart has the number 0. `tailored` is None for a chart.
    """

    revision: str
    steps: tuple[tuple[PrintedStep, int], ...] = ()
    tailored: Tailored | None = None


def as_today(tailored: Tailored | None, revision: str) -> Today | None:
    """A guide as it is today, under its code; None where there is none."""
    if tailored is None:
        return None
    return Today(revision=revision, steps=tuple(_named(tailored)), tailored=tailored)


def printed_steps(tailored: Tailored) -> tuple[PrintedStep, ...]:
    """What a card of `tailored` shows of its steps."""
    return tuple(step for step, _ in _named(tailored))


def standing(card: PrintedCard, today: Today | None) -> Standing:
    """How a card stands beside what would be printed today; None where none is made any more."""
    if card.withdrawn:
        return Standing(kind=PrintKind.WITHDRAWN)
    if today is None:
        return Standing(kind=PrintKind.NO_LONGER_MADE)
    if card.revision == today.revision:
        return Standing(kind=PrintKind.CURRENT)
    return Standing(kind=PrintKind.STALE, changes=_changes(card.steps, today))


def _changes(then: tuple[PrintedStep, ...], today: Today) -> tuple[Change, ...]:
    before = {step.step: step for step in then}
    now = {step.step: (step, number) for step, number in today.steps}
    in_both = [name for name in now if name in before]
    elsewhere = moved([name for name in before if name in now], in_both)
    found = []
    for name, (step, number) in now.items():
        was = before.get(name)
        if was is None:
            found.append(Change(step=name, number=number, what=(What.ADDED,)))
            continue
        differs = {
            What.TORQUE: was.torque != step.torque,
            What.CAUTION: set(was.cautions) != set(step.cautions),
            What.ORDER: name in elsewhere,
            What.TEXT: was.says != step.says,
        }
        if any(differs.values()):
            what = tuple(kind for kind, holds in differs.items() if holds)
            found.append(Change(step=name, number=number, what=what, torque_then=was.torque, torque_now=step.torque))
    gone = (name for name in before if name not in now)
    return (*found, *(Change(step=name, number=0, what=(What.REMOVED,)) for name in gone))


def _named(tailored: Tailored) -> list[tuple[PrintedStep, int]]:
    """Each step under a name of its own, with its number."""
    seen: dict[str, int] = {}
    found = []
    for shown in tailored.steps:
        count = seen[shown.anchor] = seen.get(shown.anchor, 0) + 1
        name = shown.anchor if count == 1 else f"{shown.anchor}.{count}"
        cautions = tuple(dict.fromkeys(one.caution.id for one in shown.cautions))
        step = PrintedStep(step=name, says=_says(shown), torque=_torque(shown.torque), cautions=cautions)
        found.append((step, shown.number))
    return found


def _torque(torque: Torque | None) -> str:
    if torque is None:
        return ""
    if torque.torque_nm is None:
        return "by feel"
    # A plain space, since the register is a file that people read and compare.
    figure = write_range(torque.torque_nm, Unit.NEWTON_METRE).replace("\u00a0", " ")
    return f"{figure}, {'maker' if torque.maker else 'typical'}"


def _says(shown: ShownStep) -> str:
    """A code of the words of a step and of its cautions, and of what its drawing is drawn from."""
    measured = shown.measurement
    seen: Mapping[str, object] = {
        "texts": [shown.do, shown.why, shown.prove, shown.until, shown.limit, shown.condition, shown.turning],
        "choose": [list(pair) for pair in shown.choose],
        "cautions": [[one.word.value, one.text] for one in shown.cautions],
        "fasteners": [
            None if one is None else [one.fastener.name, one.fastener.count, _torque(one)]
            for one in (shown.torque, shown.loosens, *shown.tried)
        ],
        "measure": None if measured is None else [measured.name, measured.unit, list(measured.how)],
        "figure": [shown.figure, [[name, str(number)] for name, number in shown.figure_numbers]],
        "pause": shown.pause,
    }
    return code_of(seen, _LETTERS)


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedStanding:
    """A card of the register with how it stands; `tailored` is the guide of today, None where there is none."""

    printed: Printed
    card: PrintedCard
    tailored: Tailored | None
    standing: Standing


# What would be printed today in the place of a card of the register, planned with these parts.
FindToday = Callable[[Printed, tuple[str, ...]], Today | None]


def standings(library: Library, today: FindToday) -> Iterator[PrintedStanding]:
    """How everything in the register stands."""
    for printed in library.printed.values():
        worked: dict[tuple[str, ...], Today | None] = {}
        for card in printed.cards:
            if card.parts not in worked:
                worked[card.parts] = today(printed, card.parts)
            now = worked[card.parts]
            tailored = None if now is None else now.tailored
            yield PrintedStanding(printed=printed, card=card, tailored=tailored, standing=standing(card, now))


def tailored_today(
    printed: Printed, parts: tuple[str, ...], library: Library, alike: Alike | None = None
) -> Tailored | None:
    """The guide that a card of the register was made from, as it is today; None where none is made.

    `alike` is what was made for other jobs of the same run.
    """
    guide = library.guides.get(printed.guide)
    bike = library.bikes.get(printed.bike)
    if guide is None or (printed.bike and bike is None):
        return None
    outcome = work_out(Job(guide=guide, bike=bike, parts=parts), library, alike=alike)
    return outcome.tailored if isinstance(outcome, Ready) and not outcome.trouble else None


def sheet_today(printed: Printed, library: Library, alike: Alike | None = None) -> Tailored | None:
    """The guide of a service sheet or tag for its bike, as a build makes it today; None where none is made.

    `alike` is what was made for other jobs of the same run.
    """
    guide, bike = library.guides.get(printed.guide), library.bikes.get(printed.bike)
    if guide is None or bike is None or not guide.service_sheet:
        return None
    for job in planned_jobs(bike, library):
        planned = work_out(job, library, alike=alike) if job.guide.id == guide.id else None
        if isinstance(planned, Ready) and not any(step.condition for step in planned.tailored.steps):
            return planned.tailored
    outcome = work_out(Job(guide=guide, bike=bike, planned=False), library, leave_open=False, alike=alike)
    return outcome.tailored if isinstance(outcome, Ready) else None


_GRAVE = "do not work from it"
_AGAIN = "print it again, write the new one down with 'spannerleaf printed', and set 'withdrawn:' to the old one"


def stale_cards(library: Library, today: FindToday) -> Iterator[Diagnostic]:
    """A warning for each card of the register that must not be worked from as it is; a withdrawn one is done with."""
    for one in standings(library, today):
        how = one.standing
        if how.kind in (PrintKind.CURRENT, PrintKind.WITHDRAWN):
            continue
        what = ", ".join(how.whats) or "nothing at a step"
        told = "no such card is made any more" if how.kind is PrintKind.NO_LONGER_MADE else f"changed: {what}"
        yield Diagnostic(
            rule="printed-card",
            message=f"{_called(one.printed, one.card.revision)}, printed on {one.card.date}, is stale; {told}"
            + (f": {_GRAVE}" if how.matters else ""),
            at=one.card.places.at,
            gravity=Gravity.WARNING,
            hints=(*_told(how), _AGAIN),
        )


def _called(printed: Printed, revision: str) -> str:
    whose = f"'{printed.bike}'" if printed.bike else "any bike"
    match printed.sort:
        case PrintedSort.CARD:
            return f"card {revision} of '{printed.guide}' for {whose}"
        case PrintedSort.SHEET:
            return f"sheet {revision} of '{printed.guide}' for {whose}"
        case PrintedSort.TORQUES | PrintedSort.TOOLS:
            return f"chart {revision} of {printed.sort.value}"
        case PrintedSort.BIKE:
            return f"chart {revision} of {whose}"


def _told(how: Standing) -> tuple[str, ...]:
    found = []
    for change in how.changes:
        words = ", ".join(change.what)
        if What.TORQUE in change.what:
            words += f" ({change.torque_then or 'none'} → {change.torque_now or 'none'})"
        found.append(f"{change.step}: {words}")
    more = len(found) - _MOST_TOLD
    return (*found[:_MOST_TOLD], *((f"and {more} more steps",) if more > 0 else ()))
