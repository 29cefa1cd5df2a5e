"""What fits on a bike and what that forces: the job that puts the parts on, its plan, and both as plain data."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import Any

from builder.checks.reckoning import result_as_json
from builder.checks.result import CheckResult
from builder.checks.take_up import take_up_as_json
from builder.model.bike import Bike
from builder.model.condition import All
from builder.model.deciding import decided
from builder.model.guide import Guide
from builder.model.library import Library
from builder.planning import Change, Plan, PlanError, Requirement, plan_job, wanted_parts
from builder.planning.attributes import cases_of
from builder.planning.gears import gears_of
from builder.planning.hills import hills_of
from builder.proof.jobs import Job, Outcome, Ready, Refused, work_out


@dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """The plan of putting parts on a bike, and the guide that does it with what it comes to, where one does."""

    plan: Plan
    guide: Guide | None
    outcome: Outcome | None

    @property
    def refused(self) -> str:
        """Why the job makes no sense on this bike; '' where it does."""
        return self.outcome.reason if isinstance(self.outcome, Refused) else ""

    @property
    def is_sound(self) -> bool:
        """Whether every part was judged and fits, or something that is known makes it fit."""
        return not (self.plan.trouble or self.plan.not_judged or self.refused)


def fit_on(bike: Bike, parts: tuple[str, ...], library: Library) -> Fit:
    """Work out what putting the parts on comes to.

    Raises:
        PlanError: they can't be planned as asked.
    """
    guide, outcome = _guided(parts, bike, library)
    plan = outcome.tailored.plan if isinstance(outcome, Ready) else None
    if plan is None:
        plan = plan_job(bike, wanted_parts(guide, parts, library), library, () if guide is None else guide.drops)
    return Fit(
        plan=plan,
        guide=guide,
        outcome=outcome,
    )


def fit_as_data(fit: Fit) -> dict[str, Any]:
    """All of it as plain data for JSON."""
    plan, guide, outcome = fit.plan, fit.guide, fit.outcome
    refused = isinstance(outcome, Refused)
    return {
        "bike": plan.bike.id,
        "wanted": [part.id for part in plan.wanted.values()],
        "guide": None if guide is None else guide.id,
        "refused": fit.refused or None,
        # With the wanted parts alone, so that each "because" of a change is among them; then with all changes.
        "checks": [_check_as_data(result) for result in plan.before],
        "after": [_check_as_data(result) for result in plan.checks],
        "changes": [] if refused else [_change_as_data(change) for change in plan.changes],
        "chain": plan.chain_work.value,
        "buy": [] if refused else [part.id for part in plan.bought],
        "tools": _tools(outcome),
        "measure": [
            {
                "key": missing.key,
                "what": missing.words,
                "how": missing.how,
                "measurement": missing.measurement or None,
                "write-at": missing.write_at,
                "limit": missing.bounds or None,
                "checks": list(missing.checks),
            }
            for missing in plan.missing
        ],
        "trouble": list(plan.trouble),
        "not-judged": list(plan.not_judged),
        "gears": {
            "before": take_up_as_json(gears_of(plan.bike)),
            "after": take_up_as_json(gears_of(plan.after)),
        },
        "hills": None if (hills := hills_of(plan)) is None else dataclasses.asdict(hills),
    }


def _check_as_data(result: CheckResult) -> dict[str, Any]:
    return {**result_as_json(result), "where": result.where or None}


def _change_as_data(change: Change) -> dict[str, Any]:
    return {
        "role": change.role.value,
        "because": list(change.because),
        "requires": {requirement.limit: _bound(requirement) for requirement in change.requires},
        "limits": [
            {
                "limit": requirement.limit,
                "at-least": requirement.at_least,
                "at-most": requirement.at_most,
                "one-of": list(requirement.one_of) or None,
                "unit": requirement.unit.value,
            }
            for requirement in change.requires
        ],
        "choice": None if change.choice is None else change.choice.id,
        "to-order": change.to_order,
        "count": change.count,
    }


def _bound(requirement: Requirement) -> float | str | None:
    """The figure of a limit; `limits` tells whether it is the least or the most."""
    if requirement.one_of:
        return requirement.one_of[0]
    return requirement.at_least if requirement.at_least is not None else requirement.at_most


def _tools(outcome: Outcome | None) -> list[str]:
    if not isinstance(outcome, Ready):
        return []
    return [item.tool.id for item in outcome.tailored.tools if item.tool is not None]


def _guided(parts: tuple[str, ...], bike: Bike, library: Library) -> tuple[Guide | None, Outcome | None]:
    """The first guide that puts the parts on this bike, and what it comes to; where none suits, the nearest refusal.

    A refusal counts only of a guide whose very job the parts are, and where no other guide puts them on too: what does
    so besides is one way of several, and the checks alone say whether it fits.
    """
    refused: list[tuple[Guide, Outcome]] = []
    guides = tuple(_guides_for(parts, bike, library))
    one_way = all(guide.wants for guide in guides)
    for guide in guides:
        # Who names the part has planned the job: what the bike's file leaves open is asked for and refuses nothing.
        outcome = work_out(Job(guide=guide, bike=bike, parts=parts, planned=True), library)
        if isinstance(outcome, Ready):
            return guide, outcome
        if one_way:
            refused.append((guide, outcome))
    return _nearest(refused, parts, bike, library) if refused else (None, None)


def _nearest(
    refused: list[tuple[Guide, Outcome]], parts: tuple[str, ...], bike: Bike, library: Library
) -> tuple[Guide, Outcome]:
    """The refusal of the guide that the bike comes nearest to: who lacks one thing is not told of three."""
    plan = plan_job(bike, wanted_parts(refused[0][0], parts, library), library)
    cases = cases_of(library, bike, plan)

    def unmet(guide: Guide) -> int:
        asked = guide.suits.parts if isinstance(guide.suits, All) else (guide.suits,)
        return sum(decided(one, cases) is False for one in asked)

    return min(refused, key=lambda pair: unmet(pair[0]))


def _guides_for(named: tuple[str, ...], bike: Bike, library: Library) -> Iterator[Guide]:
    """The guides that put these parts on: those that the bike's file plans first."""
    ids = [job.guide for job in sorted(bike.jobs, key=lambda job: not set(named) <= set(job.parts))]
    for guide in (library.guides[name] for name in dict.fromkeys((*ids, *library.guides)) if name in library.guides):
        try:
            if (guide.wants or guide.takes) and wanted_parts(guide, named, library):
                yield guide
        except PlanError:
            continue
