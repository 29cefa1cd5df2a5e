"""Work a job out: put the wanted parts on, ask every check, change what must change until nothing new follows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import cache, partial
from typing import Protocol

from builder.checks.check import Force
from builder.checks.result import CheckResult, Verdict
from builder.diagnostics.diagnostic import nearest
from builder.model.bike import Bike
from builder.model.catalogue import Fastener
from builder.model.deciding import decided
from builder.model.facts import Role
from builder.model.fields import ENDS
from builder.model.guide import Guide
from builder.model.library import Library
from builder.model.parts import Part, folder_of, roles_of
from builder.model.torque import torque_of
from builder.planning.asking import Answered, answers, checks_of_bikes, fastener_answers
from builder.planning.attributes import cases_of
from builder.planning.fitting import Fitting, as_found, with_parts, without_parts
from builder.planning.known_answers import KnownAnswers
from builder.planning.limits import meets, requirements
from builder.planning.looking_up import roles_of_fact
from builder.planning.missing import missing_facts
from builder.planning.plan import ChainWork, Change, Plan
from builder.planning.search import Found, Parts, cheapest_cure
from builder.planning.worked_out import axle_growth_mm

# The chain comes last: its length follows from every other change.
_ORDER = (*(role for role in Role if role is not Role.CHAIN), Role.CHAIN)
Shelf = Callable[[Role], tuple[Part, ...]]


class Failing(Protocol):
    """What fails on the bike with some changes made."""

    def __call__(self, changes: Parts, *, strictly: bool) -> tuple[Answered, ...]:
        """The answers that fail; `strictly`, also those of what would be bought that fit with care alone."""


class PlanError(ValueError):
    """The job can't be planned as asked; one clear line."""


def wanted_parts(guide: Guide | None, part_ids: Iterable[str], library: Library) -> dict[Role, Part]:
    """The parts asked for, each at its place on a bike.

    A part is written by its id, or as `place=id` where its kind has two places. Without a place it goes where the
    guide wants one, else to the rear.

    Raises:
        PlanError: an unknown part or place, two parts for one place, or a place that the guide does not plan for.
    """
    found: dict[Role, Part] = {}
    for written in part_ids:
        place, _, part_id = written.rpartition("=")
        part = library.parts.get(part_id)
        if part is None:
            near = nearest(part_id, library.parts)
            raise PlanError(f"unknown part '{part_id}'" + (f"; did you mean '{near}'?" if near else ""))
        role = _place(part, place, guide)
        if role in found:
            raise PlanError(f"'{found[role].id}' and '{part_id}' both go in one place, the {role.value}; name one")
        found[role] = part
    return found


def _place(part: Part, place: str, guide: Guide | None) -> Role:
    roles = roles_of(folder_of(part))
    names = ", ".join(role.value for role in roles)
    if place and place not in {role.value for role in roles}:
        raise PlanError(f"'{part.id}' is a {folder_of(part)} and goes in: {names}; not in '{place}'")
    wants = roles if guide is None else (*guide.wants, *guide.takes)
    fitting = [role for role in roles if role in wants and place in ("", role.value)]
    if not fitting:
        planned = ", ".join(wanted.value for wanted in wants) or "no part"
        raise PlanError(f"'{part.id}' is a {folder_of(part)}; this guide plans for: {planned}")
    # Rear and front of one kind may be told apart by a habit, the cable of a brake and of a derailleur may not.
    if len(fitting) > len(ENDS):
        raise PlanError(f"'{part.id}' goes in several places; name one: {fitting[0].value}={part.id} (of {names})")
    return fitting[0]


def plan_job(
    bike: Bike,
    wanted: Mapping[Role, Part],
    library: Library,
    dropped: Iterable[Role] = (),
    known: KnownAnswers | None = None,
) -> Plan:
    """What putting `wanted` on `bike`, and taking off for good what is `dropped`, comes to.

    The fewest and then the cheapest changes are searched for after which no check fails; see
    `builder.planning.search`: among what the workshop has in stock, and where nothing there will do, among all parts
    that are known, to be ordered. Where there are none, `trouble` tells which limit nothing meets. `known` is what was
    answered for other jobs of the same workshop.
    """
    if not wanted:
        return Plan(bike=bike, after=bike)
    touched = frozenset(wanted)
    start = as_found(without_parts(bike, dropped), library)
    known = known or KnownAnswers()

    def failing(changes: Parts, *, strictly: bool) -> tuple[Answered, ...]:
        tried = with_parts(start, {**wanted, **changes})
        answered = answers(tried, touched | changes.keys(), binding=True, known=known)
        return tuple(one for one in answered if one.fails or one.fails_to_buy(changes, strictly=strictly))

    def judged(role: Role, part: Part) -> bool:
        # Else what no check is asked about would pass them all: a coaster brake cures every fault of a rim brake.
        tried = with_parts(start, {**wanted, role: part})
        about = answers(tried, (role,), binding=True, known=known)
        return any(one.check.asked.force is Force.MISFIT and one.roles > {role} for one in about)

    found, shelf, to_order = _search(failing, judged, library, touched)
    # A change that leaves its own check failing cures nothing: its place is told as one for which nothing will do.
    in_vain = {role for answered in found.failing for role in answered.cures}
    chosen = {role: part for role, part in found.changes.items() if role not in in_vain}
    first, last = with_parts(start, wanted), with_parts(start, {**wanted, **chosen})
    before, after = answers(first, touched, known=known), answers(last, last.replaced, known=known)
    chain_work = _chain_work(last, after)
    told = _told(after, chain_work)
    stock = frozenset(item.part for item in library.workshop.stock if item.count > 0)
    hopeless = any(not set(one.cures) - touched for one in found.failing)
    reasons = {role: failing(_without(chosen, role), strictly=False) for role in chosen}
    changes = _changes(
        before, after, chosen, last, touched, reasons, known, stock=stock if to_order else None, hopeless=hopeless
    )
    return Plan(
        bike=bike,
        after=last.bike,
        wanted=dict(wanted),
        before=_results(before, first, library, known),
        checks=_results(told, last, library, known),
        changes=changes,
        missing=missing_facts(told, last, library),
        trouble=_trouble(found.failing, changes, shelf),
        not_judged=_not_judged(last, after),
        chain_work=chain_work,
    )


def _search(
    failing: Failing, judged: Callable[[Role, Part], bool], library: Library, touched: frozenset[Role]
) -> tuple[Found, Shelf, bool]:
    """The changes, the shelf that they are from, and whether some have to be ordered; only of parts that are judged.

    What fits without reserve goes first, from stock and then to order; where nothing does, what fits with care.
    """

    @cache
    def in_stock(role: Role) -> tuple[Part, ...]:
        return tuple(part for part in stocked(role, library) if judged(role, part))

    @cache
    def known(role: Role) -> tuple[Part, ...]:
        others = (part for part in library.parts.values() if role in roles_of(folder_of(part)) and judged(role, part))
        return tuple({part.id: part for part in (*in_stock(role), *others)}.values())

    best: tuple[Found, Shelf, bool] | None = None
    for strictly in (True, False):
        for shelf, to_order in ((in_stock, False), (known, True)):
            found = cheapest_cure(partial(failing, strictly=strictly), shelf, touched)
            if not found.failing:
                return found, shelf, to_order
            if best is None or len(found.failing) < len(best[0].failing):
                best = found, known, to_order
    assert best is not None
    return best


def stocked(role: Role, library: Library) -> tuple[Part, ...]:
    """The parts on the workshop's shelf that go in `role`, in the order of the shelf."""
    items = (library.parts.get(item.part) for item in library.workshop.stock if item.count > 0)
    return tuple(part for part in items if part is not None and role in roles_of(folder_of(part)))


def _results(
    answered: tuple[Answered, ...], fitting: Fitting, library: Library, known: KnownAnswers
) -> tuple[CheckResult, ...]:
    """What is told of the answers, and then of the fasteners of the parts that are put on.

    Of a fastener it is told whether a wrench reaches its torque, and else only what is wrong. One that this bike can
    not have, such as the lever of a dropper post without such a post, is not asked about.
    """
    cases = cases_of(library, fitting.bike, None)
    fasteners = tuple(
        one
        for one in library.fasteners.values()
        if one.role in fitting.replaced
        and torque_of(one, fitting.bike)[0] is not None
        and _may_have(one, cases, library)
    )
    tight = (
        one
        for one in fastener_answers(fitting, fasteners, known)
        if one.check.name == "wrench-range" or one.result.verdict is Verdict.DOES_NOT_FIT
    )
    return tuple(one.result for one in (*answered, *tight) if not one.set_aside)


def _may_have(fastener: Fastener, cases: Mapping[str, str], library: Library) -> bool:
    """Whether no rule of the catalogue keeps `fastener` from a bike of these cases."""
    return all(
        decided(rule.only, cases) is not False for rule in library.rules.values() if fastener.id in rule.fasteners
    )


def _without(parts: Parts, role: Role) -> Parts:
    return {place: part for place, part in parts.items() if place is not role}


def _changes(
    before: tuple[Answered, ...],
    after: tuple[Answered, ...],
    chosen: Parts,
    last: Fitting,
    wanted: frozenset[Role],
    reasons: Mapping[Role, tuple[Answered, ...]],
    known: KnownAnswers,
    *,
    stock: frozenset[str] | None,
    hopeless: bool,
) -> tuple[Change, ...]:
    """Every forced change: those chosen, and those for which nothing would do.

    `reasons` are what fails where one change alone is left out. Where the job is `hopeless`, since something fails
    that no other part cures, nothing was searched for, and no place is told as one for which nothing will do.
    """
    because: dict[Role, list[str]] = {role: [] for role in chosen}
    for answered in (*before, *after):
        if not answered.fails:
            continue
        cures = [role for role in answered.cures if role not in wanted]
        found = [role for role in cures if role in chosen] or ([] if hopeless else cures[:1])
        for role in found:
            because.setdefault(role, []).append(answered.check.name)
    for role, failing in reasons.items():
        if not because[role]:
            because[role] = [one.check.name for one in failing if role in one.cures]
    return tuple(
        Change(
            role=role,
            because=tuple(dict.fromkeys(checks or _cured_by(role, after))),
            requires=requirements(role, last, known),
            choice=chosen.get(role),
            to_order=stock is not None and role in chosen and chosen[role].id not in stock,
            count=_count(role, after),
        )
        for role, checks in sorted(because.items(), key=lambda item: _ORDER.index(item[0]))
    )


def _cured_by(role: Role, after: tuple[Answered, ...]) -> list[str]:
    """The checks that the change answers, where it makes good what would only have fitted with care."""
    return [one.check.name for one in after if role in one.cures and not one.set_aside]


def _count(role: Role, after: tuple[Answered, ...]) -> int:
    """How many of the part are needed: a very long chain is joined of two."""
    supply = _answer(after, "chain-supply")
    return 2 if role is Role.CHAIN and supply is not None and _named(supply.result, "chains") > 1 else 1


def _trouble(failing: tuple[Answered, ...], changes: tuple[Change, ...], shelf: Shelf) -> tuple[str, ...]:
    """Which limits are the trouble, in words that somebody can act on."""
    lines: list[str] = []
    for answered in failing:
        lines.append(f"{answered.check.title}: {answered.result.advice}")
        for change in changes:
            if change.role in answered.cures and change.choice is None:
                lines.extend(_shelf_lines(change, shelf(change.role)))
    return tuple(dict.fromkeys(lines))


def _shelf_lines(change: Change, parts: tuple[Part, ...]) -> list[str]:
    name = change.role.value.replace("-", " ")
    if not parts:
        return [f"No {name} is known, in stock or to order."]
    lines = [
        f"No {name} that is known meets {requirement}."
        for requirement in change.requires
        if not any(meets(part, requirement) for part in parts)
    ]
    return lines or [f"No single {name} that is known meets all its limits together."]


def _not_judged(last: Fitting, after: tuple[Answered, ...]) -> tuple[str, ...]:
    """A line for each part that is put on and that no check could judge."""
    lines: list[str] = []
    for role in sorted(last.replaced):
        part = last.part(role)
        about = [one for one in after if role in one.roles and one.check.asked.force is Force.MISFIT]
        if part is None or any(_judges(one, role) for one in about):
            continue
        lacks = dict.fromkeys(lack.words for one in about for lack in one.lacks)
        reason = (
            f"not known: {'; '.join(lacks)}"
            if lacks
            else "none of the checks about it is for such a bike; ask its maker whether it fits"
            if any(role in placed.about and placed.check.asked.force is Force.MISFIT for placed in checks_of_bikes())
            else "no check is about it; ask its maker whether it fits"
        )
        lines.append(f"{part.name} ({role.value.replace('-', ' ')}): {reason}")
    return tuple(lines)


def _judges(answered: Answered, role: Role) -> bool:
    """Whether the answer holds the part in `role` against another: a brake that suits its own lever fits no bike."""
    match answered.result.verdict:
        case Verdict.MEASURE_FIRST:
            return False
        case Verdict.DOES_NOT_FIT:
            return True
        case _:
            read = (item.fact for item in answered.check.inputs if item.name in answered.given and item.fact)
            return any(other is not role for fact in read for other in roles_of_fact(fact, answered.where))


def _told(after: tuple[Answered, ...], chain_work: ChainWork) -> tuple[Answered, ...]:
    """The answers without those that say how to cut a chain that stays as it is."""
    if chain_work is not ChainWork.KEPT:
        return after
    return tuple(one for one in after if Role.CHAIN.value not in one.check.asked.cuts)


def _chain_work(last: Fitting, after: tuple[Answered, ...]) -> ChainWork:
    reach, length = _answer(after, "chain-reach"), _answer(after, "chain-length")
    replaced = Role.CHAIN in last.replaced
    if not replaced and reach is None:
        return ChainWork.KEPT
    # The growth is found on the bike with the shock let down, and the links are then marked there, not counted.
    if length is not None and axle_growth_mm(last.bike) is None:
        return ChainWork.DECIDED_AT_STAND
    if replaced or reach is None:
        return ChainWork.REPLACED
    if reach.result.verdict is Verdict.MEASURE_FIRST:
        return ChainWork.DECIDED_AT_STAND
    return ChainWork.SHORTENED if _named(reach.result, "surplus") > _named(reach.result, "spare") else ChainWork.KEPT


def _answer(answered: tuple[Answered, ...], check: str) -> Answered | None:
    return next((one for one in answered if one.check.name == check), None)


def _named(result: CheckResult, name: str) -> float:
    return next((item.value for item in result.values if item.name == name), 0.0)
