"""What the catalogue holds and nothing ever comes to: a caution that can never print protects nobody.

guides ─► placed steps with their conditions ─► what they name, and what attaches to them ─► what is left over
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache

from builder.checks.registry import CHECKS
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.condition import ALWAYS, Condition, asked
from builder.model.guide import Step
from builder.model.inlining import inlined
from builder.model.library import Library
from builder.model.position import Places
from builder.model.steps import written_steps
from builder.proof.acts import rules_for
from builder.proof.configurations import configurations
from builder.tailoring.hazards import attached, waived


def unreached(library: Library) -> tuple[Diagnostic, ...]:
    """Every record of the catalogue that no step, and nothing that a step brings in, comes to."""
    steps = [step for _, step in written_steps(library)]
    if not library.guides:
        return ()
    return (
        *_told("caution", "no step of any guide brings in", library.cautions, _cautions(library)),
        *_told("rule", "no step of any guide is spoken of by", library.rules, _rules(steps, library)),
        *_told("state", "no step needs or leaves", library.states, _states(steps, library)),
        *_told("attribute", "no condition asks", library.attributes, _attributes(library)),
        *_told("measurement", "no step takes", library.measurements, _measurements(steps, library)),
        *_told("procedure", "no guide uses", library.procedures, _procedures(library)),
        *_told("consumable", "no step uses", library.consumables, _consumables(steps, library)),
        *_together("fastener", "no guide turns", library.fasteners, _fasteners(steps)),
        *_together("tool", "no guide lays out", library.tools, _tools(steps, library)),
    )


# --- what is come to -----------------------------------------------------------------------------


def _cautions(library: Library) -> Iterator[str]:
    """The cautions that show on the card of some bike."""

    @cache
    def brought(key: int) -> tuple[str, ...]:
        step = steps[key]
        aside = {waiver.rule.partition(":")[2] for waiver in waived(step)}
        names = (*step.cautions, *(caution.id for caution in attached(step, library)))
        return tuple(name for name in names if name not in aside and name in library.cautions)

    steps: dict[int, Step] = {}
    left = {*library.cautions}
    for guide in library.guides.values():
        yield from guide.cautions
        space = configurations(guide, library)
        for placed in inlined(guide, library):
            steps[id(placed.step)] = placed.step
            for name in left & {*brought(id(placed.step))}:
                when = library.cautions[name].when
                if when == ALWAYS or space.meets(tuple(map(space.knowing.asked, (*placed.conditions, when)))):
                    left.discard(name)
                    yield name


def _rules(steps: Iterable[Step], library: Library) -> Iterator[str]:
    for step in steps:
        yield from (rule.id for rule in rules_for(step, library))


def _states(steps: Iterable[Step], library: Library) -> Iterator[str]:
    for step in steps:
        yield from (*step.needs, *step.leaves)
    for rule in library.rules.values():
        yield from rule.leaves
    for guide in library.guides.values():
        yield from (*guide.begins, *guide.ends)


def _consumables(steps: Iterable[Step], library: Library) -> Iterator[str]:
    """What the steps use, and what is put on the threads that they tighten."""
    for step in steps:
        yield from step.consumables
        if (fastener := library.fasteners.get(step.tightens or "")) is not None:
            yield fastener.preparation.consumable


def _attributes(library: Library) -> Iterator[str]:
    for condition in _conditions(library):
        yield from (question.attribute for question in asked(condition))
    yield from (attribute.same_as for attribute in library.attributes.values() if attribute.same_as is not None)


def _conditions(library: Library) -> Iterator[Condition]:
    for guide in library.guides.values():
        yield guide.suits
        yield from (fault.when for fault in guide.faults)
        for placed in inlined(guide, library):
            yield from placed.conditions
    yield from (caution.when for caution in library.cautions.values())
    yield from (state.when for state in library.states.values())
    yield from (rule.when for rule in library.rules.values())
    yield from (rule.only for rule in library.rules.values())


def _measurements(steps: Iterable[Step], library: Library) -> Iterator[str | None]:
    """Those that a step takes, and those that a plan asks for where a check lacks the fact."""
    yield from (step.measure for step in steps)
    yield from (one.id for one in library.measurements.values() if one.check in CHECKS)


def _procedures(library: Library) -> Iterator[str]:
    for guide in library.guides.values():
        for placed in inlined(guide, library):
            yield from (use.use for use in placed.uses)


def _fasteners(steps: Iterable[Step]) -> Iterator[str | None]:
    for step in steps:
        yield from (step.loosens, step.tightens)


def _tools(steps: Iterable[Step], library: Library) -> Iterator[str]:
    for step in steps:
        yield from step.tools
    for measurement in library.measurements.values():
        yield from measurement.tools
    heads = {fastener.head for fastener in library.fasteners.values()}
    yield from (tool.id for tool in library.tools.values() if tool.torque_nm is not None or heads & {*tool.fits})


# --- what is told --------------------------------------------------------------------------------


def _left(records: Mapping[str, object], reached: Iterable[str | None]) -> list[str]:
    come_to = {*reached}
    return [name for name in records if name not in come_to]


def _told(kind: str, words: str, records: Mapping[str, object], reached: Iterable[str | None]) -> Iterator[Diagnostic]:
    """A warning for each record that is left over."""
    for name in _left(records, reached):
        yield Diagnostic(
            rule="unreached",
            message=f"{words} the {kind} '{name}'",
            at=_places(records[name]).at,
            gravity=Gravity.WARNING,
            hints=("mend the names and conditions by which it is found, or take it away",),
        )


def _together(
    kind: str, words: str, records: Mapping[str, object], reached: Iterable[str | None]
) -> Iterator[Diagnostic]:
    """One note a file for all that is left over of a kind that a workshop may list beyond what its guides use."""
    by_file: dict[str, list[str]] = {}
    for name in _left(records, reached):
        by_file.setdefault(_places(records[name]).at.file, []).append(name)
    for left in by_file.values():
        yield Diagnostic(
            rule="unreached",
            message=(
                f"{words} {len(left)} of the {kind}s: {', '.join(left)}"
                if len(left) > 1
                else f"{words} the {kind} '{left[0]}'"
            ),
            at=_places(records[left[0]]).at,
            gravity=Gravity.NOTE,
            hints=("a wall chart shows them all the same; write the guide that needs them, or take them away",),
        )


def _places(record: object) -> Places:
    places = getattr(record, "places", None)
    return places if isinstance(places, Places) else Places()
