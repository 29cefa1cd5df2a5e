"""Whether a guide whose steps put on a part of the same kind does for the very part that is named."""

from __future__ import annotations

from collections.abc import Iterator

from builder.checks.check import Force
from builder.checks.registry import CHECKS
from builder.checks.result import Verdict
from builder.model.catalogue import Stage
from builder.model.facts import Role
from builder.model.guide import Guide
from builder.model.library import Library
from builder.planning.asking import answers
from builder.planning.attributes import case_of
from builder.planning.fitting import as_found
from builder.planning.known_answers import KnownAnswers
from builder.planning.plan import Plan


def beyond(guide: Guide, plan: Plan, library: Library, known: KnownAnswers | None = None) -> str:
    """Why the steps of `guide` don't do for the plan's parts, for the reader; empty where they do.

    A guide that only `takes` parts is proven for a bike that stays as it is: it does for a part that is alike in all
    that its steps ask, and that forces nothing else. `known` is what was answered for other jobs of the same workshop.
    """
    if guide.wants or not plan.wanted:
        return ""
    reasons = (
        *_other_changes(plan),
        *_other_work(plan, library),
        *_other_parts(plan, library),
        *_new_reserves(plan, library, known),
    )
    return f"Its steps put on a part like the old one and nothing else: {'; '.join(reasons)}." if reasons else ""


def _other_changes(plan: Plan) -> Iterator[str]:
    for change in plan.changes:
        choice = "" if change.choice is None else f" ({change.choice.name})"
        yield f"here the {_words(change.role)} must change too{choice}"


def _other_work(plan: Plan, library: Library) -> Iterator[str]:
    """What the plan does besides, and no change tells, such as a chain that is shortened."""
    changed = (*(change.role.value for change in plan.changes), *(role.value for role in plan.wanted))
    for attribute in library.attributes.values():
        case = case_of(attribute, plan.bike, plan, library.standards)
        if attribute.idle and case not in (None, attribute.idle) and not attribute.id.startswith(changed):
            yield f"here there is {attribute.cases.get(case or '', case)}"


def _other_parts(plan: Plan, library: Library) -> Iterator[str]:
    for attribute in library.attributes.values():
        place = attribute.source.partition(".")[0]
        if attribute.stage is not Stage.FOUND or place not in {role.value for role in plan.wanted}:
            continue
        old, new = (case_of(attribute, bike, None, library.standards) for bike in (plan.bike, plan.after))
        if old is not None and new is not None and old != new:
            words = attribute.cases
            yield f"the bike has {words.get(old, old)}, and the new part is {words.get(new, new)}"


def _new_reserves(plan: Plan, library: Library, known: KnownAnswers | None) -> Iterator[str]:
    """What fitted without reserve and fits with care now: care that the steps know nothing of, such as a shim."""
    old = {
        (answered.check.name, answered.where): answered.result.verdict
        for answered in answers(as_found(plan.bike, library), plan.wanted, known=known)
    }
    for result in plan.checks:
        was = old.get((result.check, result.where))
        check = CHECKS[result.check]
        if check.asked.force is Force.MISFIT and result.verdict is Verdict.WITH_CARE and was is Verdict.FITS:
            yield f"here it fits with care alone ({check.title}): {result.advice.rstrip('.')}"


def _words(role: Role) -> str:
    return role.value.replace("-", " ")
