"""Judge every text of the library by every rule that looks at its kind; knows no rule by name.

Library ─► elements with their passages ─► findings of the rules ─► less waivers ─► diagnostics
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, TypeVar

from builder.diagnostics.diagnostic import Diagnostic, Gravity, nearest, ordered
from builder.model.guide import Guide, Step, Use, Waiver
from builder.model.library import Library
from builder.model.position import NOWHERE, Position
from builder.proof.writing.context import Context, context_of
from builder.proof.writing.passages import (
    Element,
    catalogue_elements,
    caution_element,
    consumable_element,
    fastener_element,
    guide_element,
    guide_steps,
    procedure_elements,
)
from builder.proof.writing.registry import (
    ON_CAUTION,
    ON_CONSUMABLE,
    ON_FASTENER,
    ON_GUIDE,
    ON_PASSAGE,
    ON_STEP,
    RULES,
)
from builder.proof.writing.rule import Finding, RuleModule

Record = TypeVar("Record")
_OUR_IDS = re.compile(r"^[A-Z]\d\d$")


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedWaiver:
    """A waiver of a rule of writing: where it stands, what it silences, and why."""

    rule: str
    reason: str
    by: str
    element: str
    at: Position
    silenced: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What came of one element: what stands against it, and what its waivers set aside."""

    diagnostics: tuple[Diagnostic, ...] = ()
    waivers: tuple[ListedWaiver, ...] = ()


def check_writing(library: Library) -> tuple[Diagnostic, ...]:
    """Everything in the texts of the library that breaks a rule of writing, by file, line and column."""
    return check_texts(library, context_of(library))


def check_texts(records: Library, context: Context) -> tuple[Diagnostic, ...]:
    """Everything in the texts of `records` that breaks a rule of writing; `context` is that of the whole library."""
    return ordered(diagnostic for judged in _judge_library(records, context) for diagnostic in judged.diagnostics)


def check_guide(guide: Guide, library: Library, context: Context | None = None) -> tuple[Diagnostic, ...]:
    """Everything in the texts of one guide, the procedures that it uses included, that breaks a rule of writing."""
    context = context or context_of(library)
    judged = (
        *_judge_guide(guide, context),
        *(_judge(element, ON_STEP, context) for element in _used_steps(guide, library, context)),
    )
    return ordered(diagnostic for one in judged for diagnostic in one.diagnostics)


def waivers(library: Library) -> tuple[ListedWaiver, ...]:
    """Every waiver of a rule of writing, with what it silences."""
    found = _judge_library(library, context_of(library))
    return tuple(waiver for judged in found for waiver in judged.waivers)


def _judge_library(library: Library, context: Context) -> Iterator[Judged]:
    for guide in library.guides.values():
        yield from _judge_guide(guide, context)
    for procedure in library.procedures.values():
        yield from (_judge(step, ON_STEP, context) for step in procedure_elements(procedure, context))
    yield from (_judge(caution_element(one, context), ON_CAUTION, context) for one in library.cautions.values())
    yield from (_judge(fastener_element(one, context), ON_FASTENER, context) for one in library.fasteners.values())
    yield from (
        _judge(consumable_element(one, context), ON_CONSUMABLE, context) for one in library.consumables.values()
    )
    yield from (_judge(element, (), context) for element in catalogue_elements(library, context))


def _judge_guide(guide: Guide, context: Context) -> Iterator[Judged]:
    yield _judge(guide_element(guide, context), ON_GUIDE, context)
    yield from (_judge(step, ON_STEP, context) for step in guide_steps(guide, context))


def _used_steps(guide: Guide, library: Library, context: Context) -> Iterator[Element[Step]]:
    """The steps of every procedure that the guide uses, directly or by way of another one."""
    items: list[Step | Use] = [item for section in guide.work for item in section.steps]
    waiting = [item.use for item in (*items, *guide.finish, *guide.test) if isinstance(item, Use)]
    seen: set[str] = set()
    while waiting:
        name = waiting.pop(0)
        procedure = library.procedures.get(name)
        if name in seen or procedure is None:
            continue
        seen.add(name)
        waiting += [item.use for item in procedure.steps if isinstance(item, Use)]
        yield from procedure_elements(procedure, context)


def _judge(element: Element[Record], rules: Iterable[RuleModule[Element[Record]]], context: Context) -> Judged:
    """The findings on one element and on its passages, less those that its waivers silence."""
    found = [
        _diagnostic(rule, finding, passage.at)
        for passage in element.passages
        for rule in ON_PASSAGE
        if passage.kind in rule.KINDS
        for finding in rule.check(passage, context)
    ]
    found += [_diagnostic(rule, finding, element.at) for rule in rules for finding in rule.check(element, context)]
    standing = list(found)
    listed: list[ListedWaiver] = []
    for waiver in element.waivers:
        if not _OUR_IDS.match(waiver.rule):
            continue
        silenced = [one for one in found if one.rule == waiver.rule] if waiver.reason.strip() else []
        standing = [one for one in standing if one not in silenced]
        standing += _against(waiver, bool(silenced))
        listed.append(_listed(waiver, element, silenced))
    return Judged(diagnostics=tuple(standing), waivers=tuple(listed))


def _diagnostic(rule: RuleModule[Any], finding: Finding, at: Position) -> Diagnostic:
    place = at if finding.at is None or finding.at == NOWHERE else finding.at
    return Diagnostic(
        rule=rule.ID,
        message=finding.found,
        at=place,
        gravity=rule.GRAVITY,
        label=f"allowed: {rule.LIMIT}",
        hints=(finding.repair, f"{rule.ID}, {rule.SOURCE}"),
    )


def _against(waiver: Waiver, silences: bool) -> Iterator[Diagnostic]:
    """What is wrong with a waiver itself."""
    at = waiver.places.at
    known = tuple(rule.id for rule in RULES)
    if waiver.rule not in known:
        near = nearest(waiver.rule, known)
        yield Diagnostic(
            rule="waiver",
            message=f"a waiver of the unknown rule '{waiver.rule}'",
            at=at,
            hints=(f"did you mean '{near}'?",) if near else (),
        )
    elif not waiver.reason.strip():
        yield Diagnostic(
            rule="waiver", message=f"the waiver of {waiver.rule} has no reason", at=at, hints=("add 'reason'",)
        )
    elif not silences:
        yield Diagnostic(
            rule="waiver",
            message=f"the waiver of {waiver.rule} silences nothing",
            at=at,
            gravity=Gravity.WARNING,
            hints=("the text keeps the rule: leave the waiver out",),
        )
    if waiver.rule in known and not waiver.by.strip():
        yield Diagnostic(
            rule="waiver",
            message=f"the waiver of {waiver.rule} does not say who answers for it",
            at=at,
            gravity=Gravity.WARNING,
            hints=("add 'by' with a name",),
        )


def _listed(waiver: Waiver, element: Element[Any], silenced: Iterable[Diagnostic]) -> ListedWaiver:
    return ListedWaiver(
        rule=waiver.rule,
        reason=waiver.reason.strip(),
        by=waiver.by.strip(),
        element=element.name,
        at=waiver.places.at,
        silenced=tuple(one.message for one in silenced),
    )
