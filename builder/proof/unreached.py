"""What the catalogue holds and nothing ever comes to: a caution that can never print protects nobody.

guides ─► placed steps with their conditions ─► what they name, and what attaches to them ─► what is left over
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import cache

from builder.checks.registry import CHECKS
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.condition import ALWAYS, asked
from builder.model.guide import Guide, Step
from builder.model.inlining import PlacedStep, inlined
from builder.model.library import Library
from builder.model.position import Places
from builder.proof.acts import rules_for
from builder.proof.configurations import configurations
from builder.tailoring.hazards import attached, waived

KINDS = (
    "cautions",
    "rules",
    "states",
    "attributes",
    "measurements",
    "procedures",
    "consumables",
    "fasteners",
    "tools",
)
# The names of what is come to, by kind.
Reached = dict[str, list[str]]


def unreached(library: Library, reached: Mapping[str, Reached] | None = None) -> tuple[Diagnostic, ...]:
    """Every record of the catalogue that no step, and nothing that a step brings in, comes to.

    `reached` is what each guide comes to, where that is known.
    """
    if not library.guides:
        return ()
    known = reached or {name: reached_by(guide, library) for name, guide in library.guides.items()}
    come_to = {kind: {name for one in known.values() for name in one[kind]} for kind in KINDS}
    rest = of_steps(_steps_of_no_guide(library, come_to["procedures"]), library)
    for kind, names in (*rest.items(), *_of_catalogue(library).items()):
        come_to[kind].update(names)
    return (
        *_told("caution", "no step of any guide brings in", library.cautions, come_to["cautions"]),
        *_told("rule", "no step of any guide is spoken of by", library.rules, come_to["rules"]),
        *_told("state", "no step needs or leaves", library.states, come_to["states"]),
        *_told("attribute", "no condition asks", library.attributes, come_to["attributes"]),
        *_told("measurement", "no step takes", library.measurements, come_to["measurements"]),
        *_told("procedure", "no guide uses", library.procedures, come_to["procedures"]),
        *_told("consumable", "no step uses", library.consumables, come_to["consumables"]),
        *_together("fastener", "no guide turns", library.fasteners, come_to["fasteners"]),
        *_together("tool", "no guide lays out", library.tools, come_to["tools"]),
    )


# --- what is come to -----------------------------------------------------------------------------


def reached_by(guide: Guide, library: Library) -> Reached:
    """The records that one guide comes to, by kind, through its own steps and those of its procedures."""
    placed = inlined(guide, library)
    steps = {id(item.step): item.step for item in placed}
    found = of_steps(steps.values(), library)
    found["cautions"] += sorted({*guide.cautions, *_cautions(guide, placed, library)})
    found["states"] += sorted({*guide.begins, *guide.ends})
    conditions = (
        guide.suits,
        *(fault.when for fault in guide.faults),
        *(part for i in placed for part in i.conditions),
    )
    found["attributes"] += sorted({question.attribute for one in conditions for question in asked(one)})
    found["procedures"] += sorted({use.use for item in placed for use in item.uses})
    return found


def of_steps(steps: Iterable[Step], library: Library) -> Reached:
    """What steps come to by themselves, whatever guide they stand in."""
    found: dict[str, set[str]] = {kind: set() for kind in KINDS}
    for step in steps:
        fastener = library.fasteners.get(step.tightens or "")
        found["rules"].update(rule.id for rule in rules_for(step, library))
        found["states"].update((*step.needs, *step.leaves))
        found["measurements"].update(name for name in (step.measure,) if name)
        found["consumables"].update(step.consumables, () if fastener is None else (fastener.preparation.consumable,))
        found["fasteners"].update(name for name in (step.loosens, step.tightens) if name)
        found["tools"].update(step.tools)
    return {kind: sorted(names) for kind, names in found.items()}


def _cautions(guide: Guide, placed: Iterable[PlacedStep], library: Library) -> Iterator[str]:
    """The cautions that show on the card of some bike that has this job."""

    @cache
    def brought(key: int) -> frozenset[str]:
        step = steps[key]
        aside = {waiver.rule.partition(":")[2] for waiver in waived(step)}
        names = (*step.cautions, *(caution.id for caution in attached(step, library)))
        return frozenset(name for name in names if name not in aside and name in library.cautions)

    steps: dict[int, Step] = {}
    left = {*library.cautions}
    space = configurations(guide, library)
    for item in placed:
        steps[id(item.step)] = item.step
        for name in left & brought(id(item.step)):
            when = library.cautions[name].when
            if when == ALWAYS or space.meets(tuple(map(space.knowing.asked, (*item.conditions, when)))):
                left.discard(name)
                yield name


def _steps_of_no_guide(library: Library, used: Collection[str]) -> Iterator[Step]:
    for name, procedure in library.procedures.items():
        if name not in used:
            yield from (item for item in procedure.steps if isinstance(item, Step))


def _of_catalogue(library: Library) -> Reached:
    """What the records of the catalogue come to among themselves."""
    conditions = (
        *(caution.when for caution in library.cautions.values()),
        *(state.when for state in library.states.values()),
        *(part for rule in library.rules.values() for part in (rule.when, rule.only)),
    )
    attributes = [question.attribute for condition in conditions for question in asked(condition)]
    attributes += [one.same_as for one in library.attributes.values() if one.same_as is not None]
    heads = {fastener.head for fastener in library.fasteners.values()}
    tools = [name for measurement in library.measurements.values() for name in measurement.tools]
    tools += [tool.id for tool in library.tools.values() if tool.torque_nm is not None or heads & {*tool.fits}]
    return {
        "states": [name for rule in library.rules.values() for name in rule.leaves],
        "attributes": attributes,
        # Those that a plan asks for where a check lacks the fact.
        "measurements": [one.id for one in library.measurements.values() if one.check in CHECKS],
        "tools": tools,
    }


# --- what is told --------------------------------------------------------------------------------


def _left(records: Mapping[str, object], reached: Collection[str]) -> list[str]:
    return [name for name in records if name not in reached]


def _told(kind: str, words: str, records: Mapping[str, object], reached: Collection[str]) -> Iterator[Diagnostic]:
    """A warning for each record that is left over."""
    for name in _left(records, reached):
        yield Diagnostic(
            rule="unreached",
            message=f"{words} the {kind} '{name}'",
            at=_places(records[name]).at,
            gravity=Gravity.WARNING,
            hints=("mend the names and conditions by which it is found, or take it away",),
        )


def _together(kind: str, words: str, records: Mapping[str, object], reached: Collection[str]) -> Iterator[Diagnostic]:
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
