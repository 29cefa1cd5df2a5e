"""Work a job out: put the wanted parts on, answer every question, change what must change until nothing new follows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache

from builder.checks.chain import spare_links
from builder.checks.reckoning import reckon
from builder.checks.registry import CHECKS
from builder.checks.result import CheckResult, Verdict
from builder.diagnostics.diagnostic import nearest
from builder.model.bike import Bike
from builder.model.facts import Role, SprocketMount
from builder.model.guide import Guide
from builder.model.library import Library
from builder.model.parts import Cassette, Crankset, Hub, Part, RearDerailleur, folder_of, roles_of
from builder.model.torque import torque_of
from builder.planning.answering import Answered, answers, missing_facts
from builder.planning.outfit import Outfit, outfit
from builder.planning.plan import ChainWork, Change, Plan, Requirement
from builder.planning.search import Parts, cheapest_cure


class PlanError(ValueError):
    """The job can't be planned as asked; one clear line."""


def wanted_parts(guide: Guide | None, part_ids: Iterable[str], library: Library) -> dict[Role, Part]:
    """The parts asked for, each at its place on a bike.

    A kind that has two places (a tyre) goes where the guide wants one, else to the rear.

    Raises:
        PlanError: an unknown part, two parts for one place, or a place that the guide does not plan for.
    """
    found: dict[Role, Part] = {}
    for part_id in part_ids:
        part = library.parts.get(part_id)
        if part is None:
            near = nearest(part_id, library.parts)
            raise PlanError(f"unknown part '{part_id}'" + (f"; did you mean '{near}'?" if near else ""))
        roles = roles_of(folder_of(part))
        wants = guide.wants if guide is not None else ()
        fitting = [role for role in roles if role in wants] or list(roles)
        role = fitting[0]
        if wants and role not in wants:
            names = ", ".join(wanted.value for wanted in wants)
            raise PlanError(f"'{part_id}' is a {folder_of(part)}; this guide plans for: {names}")
        if role in found:
            raise PlanError(f"'{found[role].id}' and '{part_id}' both go in one place, the {role.value}; name one")
        found[role] = part
    return found


def plan_job(bike: Bike, wanted: Mapping[Role, Part], library: Library) -> Plan:
    """What putting `wanted` on `bike` comes to.

    The workshop's stock is searched for the fewest and then the cheapest changes after which no binding check fails;
    see `builder.planning.search`. Where there are none, `trouble` tells which limit nothing in stock meets.
    """
    if not wanted:
        return Plan(bike=bike, after=bike)
    touched = frozenset(wanted)

    def failing(changes: Parts) -> tuple[Answered, ...]:
        tried = outfit(bike, {**wanted, **changes})
        answered = answers(tried, touched | changes.keys())
        return tuple(one for one in answered if one.fails or _is_unmet(one, changes, tried))

    @cache
    def shelf(role: Role) -> tuple[Part, ...]:
        return stocked(role, library)

    found = cheapest_cure(failing, shelf, touched)
    # A change that leaves its own question failing cures nothing: its place is told as one for which nothing will do.
    in_vain = {role for answered in found.failing for role in answered.question.cures}
    chosen = {role: part for role, part in found.changes.items() if role not in in_vain}
    first = outfit(bike, wanted)
    last = outfit(bike, {**wanted, **chosen})
    before = answers(first, touched)
    after = answers(last, last.replaced)
    changes = _changes(before, after, chosen, last, touched)
    plan = Plan(
        bike=bike,
        after=last.bike,
        wanted=dict(wanted),
        before=(*(one.result for one in before), *_wrench_checks(first, wanted, library)),
        checks=(*(one.result for one in after), *_wrench_checks(last, wanted, library)),
        changes=changes,
        missing=missing_facts(after, library),
        trouble=_trouble(found.failing, changes, library),
    )
    return replace(plan, chain_work=_chain_work(last, after))


def _is_unmet(answered: Answered, changes: Parts, tried: Outfit) -> bool:
    """Whether a part that would be bought lacks what the question asks of one in its place.

    A derailleur may happen to pull right for sprockets that it is not made for; nobody should buy it for them.
    """
    question = answered.question
    return question.requires is not None and any(
        meets(changes[role], requirement) is False
        for role in question.cures
        if role in changes
        for requirement in question.requires(tried, role)
    )


def stocked(role: Role, library: Library) -> tuple[Part, ...]:
    """The parts on the workshop's shelf that go in `role`, in the order of the shelf."""
    items = (library.parts.get(item.part) for item in library.workshop.stock if item.count > 0)
    return tuple(part for part in items if part is not None and role in roles_of(folder_of(part)))


def _changes(
    before: tuple[Answered, ...],
    after: tuple[Answered, ...],
    chosen: Parts,
    last: Outfit,
    wanted: frozenset[Role],
) -> tuple[Change, ...]:
    """Every forced change: those chosen, and those for which nothing in stock would do."""
    because: dict[Role, list[str]] = {role: [] for role in chosen}
    for answered in (*before, *after):
        if not answered.fails:
            continue
        cures = [role for role in answered.question.cures if role not in wanted]
        for role in [role for role in cures if role in chosen] or cures[:1]:
            because.setdefault(role, []).append(answered.question.check)
    return tuple(
        Change(
            role=role,
            because=tuple(dict.fromkeys(checks or _cured_by(role, chosen, after))),
            requires=_requirements(role, after, last),
            choice=chosen.get(role),
        )
        for role, checks in because.items()
    )


def _cured_by(role: Role, chosen: Parts, after: tuple[Answered, ...]) -> list[str]:
    """The questions that a change made in turn, once another change was made: a longer chain for a longer cage."""
    return [one.question.check for one in after if role in one.question.cures and chosen]


def _requirements(role: Role, after: tuple[Answered, ...], last: Outfit) -> tuple[Requirement, ...]:
    found: dict[Requirement, None] = {}
    for answered in after:
        question = answered.question
        if role in question.cures and question.requires is not None:
            for requirement in question.requires(last, role):
                found.setdefault(requirement)
    return tuple(found)


def meets(part: Part, requirement: Requirement) -> bool | None:
    """Whether `part` meets `requirement`; None where its file does not say."""
    held = getattr(part, _FIELDS.get(requirement.limit, requirement.limit.replace("-", "_")), None)
    if held is None or held == "" or held == ():
        return None
    if requirement.equals:
        return str(getattr(held, "value", held)) == requirement.equals
    values = held if isinstance(held, tuple) else (held,)
    least = requirement.at_least if requirement.at_least is not None else float("-inf")
    most = requirement.at_most if requirement.at_most is not None else float("inf")
    return any(least <= value <= most for value in values)


_FIELDS = {"capacity": "capacity_teeth", "width": "width_mm"}


def _trouble(failing: tuple[Answered, ...], changes: tuple[Change, ...], library: Library) -> tuple[str, ...]:
    """Which limits are the trouble, in words that somebody can act on."""
    lines: list[str] = []
    for answered in failing:
        check, cures = answered.question.check, answered.question.cures
        title = CHECKS[check].title
        lines.append(f"{title}: {answered.result.advice}")
        for change in changes:
            if change.role in cures and change.choice is None:
                lines.extend(_shelf_lines(change, library))
    return tuple(dict.fromkeys(lines))


def _shelf_lines(change: Change, library: Library) -> list[str]:
    shelf = stocked(change.role, library)
    name = change.role.value.replace("-", " ")
    if not shelf:
        return [f"There is no {name} in stock."]
    lines = [
        f"No {name} in stock meets {requirement}."
        for requirement in change.requires
        if not any(meets(part, requirement) for part in shelf)
    ]
    return lines or [f"No single {name} in stock meets all its limits together."]


def _chain_work(last: Outfit, after: tuple[Answered, ...]) -> ChainWork:
    if Role.CHAIN in last.replaced:
        return ChainWork.REPLACED
    reach = next((one.result for one in after if one.question.check == "chain-reach"), None)
    if reach is None:
        return ChainWork.KEPT
    if reach.verdict is Verdict.MEASURE_FIRST:
        return ChainWork.DECIDED_AT_STAND
    return ChainWork.SHORTENED if reach.named("surplus") > _spare(last) else ChainWork.KEPT


def _spare(last: Outfit) -> int:
    rear, cassette, crankset = (
        last.part(Role.REAR_DERAILLEUR),
        last.part(Role.CASSETTE),
        last.part(Role.CRANKSET),
    )
    if not (isinstance(rear, RearDerailleur) and isinstance(cassette, Cassette) and isinstance(crankset, Crankset)):
        return 0
    if rear.capacity_teeth is None or not cassette.sprockets or not crankset.rings:
        return 0
    return spare_links(
        rear.capacity_teeth,
        max(crankset.rings) - min(crankset.rings),
        max(cassette.sprockets) - min(cassette.sprockets),
    )


def _wrench_checks(last: Outfit, wanted: Mapping[Role, Part], library: Library) -> tuple[CheckResult, ...]:
    """Whether a torque wrench of the workshop holds the lockring's torque, where a cassette goes on."""
    hub = last.part(Role.REAR_HUB)
    screwed = isinstance(hub, Hub) and hub.sprocket_mount is SprocketMount.SCREW_ON
    fastener = library.fasteners.get("cassette-lockring")
    if Role.CASSETTE not in wanted or screwed or fastener is None:
        return ()
    torque_nm, _ = torque_of(fastener, last.bike)
    ranges = [
        tool.torque_nm
        for name in library.workshop.tools
        if (tool := library.tools.get(name)) is not None and tool.torque_nm is not None
    ]
    if torque_nm is None or not ranges:
        return ()
    best = next((r for r in ranges if r.low <= torque_nm.low and torque_nm.high <= r.high), ranges[-1])
    given = {
        "torque-low": torque_nm.low,
        "torque-high": torque_nm.high,
        "wrench-low": best.low,
        "wrench-high": best.high,
    }
    return (reckon(CHECKS["wrench-range"], given),)
