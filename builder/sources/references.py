"""Follow every name from record to record: what is named must exist, and must be of the right kind."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from builder.diagnostics.diagnostic import Diagnostic, nearest
from builder.model.catalogue import Attribute, State
from builder.model.condition import Condition, asked
from builder.model.facts import Role
from builder.model.guide import Guide, Step, Use
from builder.model.library import Library
from builder.model.position import NOWHERE, Places, Position
from builder.sources.shapes import Keyed, Many, Record, Shape, When, Words, fields_of, has_places, kind_for
from builder.tailoring.inlining import inlined, loops

Broken = Mapping[str, set[str]]
_NAMED = re.compile(r"\{\{\s*([^}]*?)\s*\}\}")
# What a collection's records are called in a message.
_ONE = {
    "named_texts": "value",
    "glossary": "thing",
    "sources": "source",
    "parts": "part",
    "heads": "head",
}


def one_of(collection: str) -> str:
    """What a record of the collection is called."""
    return _ONE.get(collection, collection.removesuffix("s"))


def check_references(library: Library, broken: Broken) -> tuple[Diagnostic, ...]:
    """Everything in the library that names what does not exist; a record that could not be read counts as existing."""
    found: list[Diagnostic] = []
    for record in _records(library):
        found.extend(_names(record, library, broken))
    for state in library.states.values():
        found.extend(_ready(state))
    for attribute in library.attributes.values():
        found.extend(_source(attribute))
    for guide in library.guides.values():
        found.extend(_guide(guide, library))
    return tuple(found)


def _records(library: Library) -> Iterator[Any]:
    for field in dataclasses.fields(library):
        value = getattr(library, field.name)
        if isinstance(value, Mapping):
            yield from value.values()
        elif isinstance(value, tuple):
            yield from value
        else:
            yield value


def _names(record: Any, library: Library, broken: Broken) -> Iterator[Diagnostic]:
    """Every mistake among the names in a record and the records inside it."""
    places: Places = record.places if has_places(type(record)) else Places()
    for field in fields_of(type(record)):
        value = getattr(record, field.name)
        if value is not None:
            yield from _value(field.shape, value, places, field.key, record, library, broken)
    if isinstance(record, Step):
        yield from _states(record.needs, "needs", places, library)
        yield from _states(record.leaves, "leaves", places, library)


def _value(
    shape: Shape, value: Any, places: Places, key: str, record: Any, library: Library, broken: Broken
) -> Iterator[Diagnostic]:
    match shape:
        case Words(prose, collection):
            if collection and value not in getattr(library, collection) and value not in broken.get(collection, ()):
                yield _unknown(collection, value, places.of(key), library)
            if prose:
                yield from _shown_values(value, places.of(key), record, library, broken)
        case When():
            yield from condition_names(value, places.of(key), library, broken)
        case Many(item):
            for number, one in enumerate(value):
                yield from _value(item, one, places, f"{key}.{number}", record, library, broken)
        case Keyed(collection, inner):
            for name, one in value.items():
                at = places.of(f"{key}.{name}")
                if collection and name not in getattr(library, collection) and name not in broken.get(collection, ()):
                    yield _unknown(collection, name, at, library)
                yield from _value(inner, one, places, f"{key}.{name}", record, library, broken)
        case Record():
            if has_places(type(value)):
                yield from _names(value, library, broken)
            else:
                for field in fields_of(type(value)):
                    inside = getattr(value, field.name)
                    if inside is not None:
                        yield from _value(field.shape, inside, places, key, record, library, broken)
        case _:
            return


def _unknown(collection: str, name: str, at: Position, library: Library) -> Diagnostic:
    known: Mapping[str, Any] = getattr(library, collection)
    near = nearest(name, known)
    hints: tuple[str, ...] = ()
    if near is not None:
        place: Position = known[near].places.at
        stands = f"  ({place.file}:{place.line})" if place != NOWHERE else ""
        hints = (f"did you mean '{near}'?{stands}",)
    elif len(known) <= 12:
        hints = (f"known are: {', '.join(known)}",)
    return Diagnostic(
        rule="unknown-name",
        message=f"unknown {one_of(collection)} '{name}'",
        at=at,
        label=f"there is no such {one_of(collection)}",
        hints=hints,
    )


def condition_names(condition: Condition, at: Position, library: Library, broken: Broken) -> Iterator[Diagnostic]:
    """Attributes and cases that a condition asks for and that are not declared."""
    for question in asked(condition):
        attribute = library.attributes.get(question.attribute)
        if attribute is None:
            if question.attribute not in broken.get("attributes", ()):
                yield _unknown("attributes", question.attribute, at, library)
            continue
        for case in question.cases:
            if case not in attribute.cases:
                near = nearest(case, attribute.cases)
                hint = f"did you mean '{near}'?" if near else f"its cases are: {', '.join(attribute.cases)}"
                yield Diagnostic(
                    rule="unknown-case",
                    message=f"'{question.attribute}' has no case '{case}'",
                    at=at,
                    hints=(hint,),
                )


def _shown_values(text: str, at: Position, record: Any, library: Library, broken: Broken) -> Iterator[Diagnostic]:
    for name in _NAMED.findall(text):
        if name not in library.named_texts and name not in broken.get("named_texts", ()):
            yield _unknown("named_texts", name, at, library)
        elif name == "torque" and isinstance(record, Step) and record.tightens is None:
            yield Diagnostic(
                rule="no-torque",
                message="the text shows a torque, but the step tightens nothing",
                at=at,
                hints=("write 'tightens:' with the fastener whose torque is meant",),
            )


def _states(states: Mapping[str, str], key: str, places: Places, library: Library) -> Iterator[Diagnostic]:
    for name, value in states.items():
        state = library.states.get(name)
        if state is not None and value not in state.values:
            near = nearest(value, state.values)
            hint = f"did you mean '{near}'?" if near else f"its values are: {', '.join(state.values)}"
            yield Diagnostic(
                rule="unknown-value",
                message=f"the state '{name}' has no value '{value}'",
                at=places.of(f"{key}.{name}"),
                hints=(hint,),
            )


def _ready(state: State) -> Iterator[Diagnostic]:
    for number, value in enumerate(state.ready):
        if value not in state.values:
            yield Diagnostic(
                rule="unknown-value",
                message=f"the state '{state.id}' is ready at '{value}', which is none of its values",
                at=state.places.of(f"ready.{number}"),
                hints=(f"its values are: {', '.join(state.values)}",),
            )


def _source(attribute: Attribute) -> Iterator[Diagnostic]:
    if attribute.source == "computed":
        return
    role, _, key = attribute.source.partition(".")
    at = attribute.places.of("source")
    if role not in {known.value for known in Role}:
        near = nearest(role, (known.value for known in Role))
        hint = f"did you mean '{near}'?" if near else "write role.key of a part, or 'computed'"
        yield Diagnostic(rule="unknown-name", message=f"unknown role '{role}'", at=at, hints=(hint,))
        return
    keys = [field.key for field in fields_of(kind_for(Role(role)))]
    if key not in keys:
        near = nearest(key, keys)
        hint = f"did you mean '{role}.{near}'?" if near else f"its keys are: {', '.join(keys)}"
        yield Diagnostic(rule="unknown-name", message=f"a {role} has no '{key}'", at=at, hints=(hint,))


def _guide(guide: Guide, library: Library) -> Iterator[Diagnostic]:
    placed = inlined(guide, library)
    for use in loops(guide, library):
        yield Diagnostic(
            rule="procedure-loop",
            message=f"the procedure '{use.use}' would be placed inside itself",
            at=use.places.of("use"),
            hints=("take this use away, or split the procedure in two",),
        )
    yield from _twice(placed_own(guide))
    anchors = {item.anchor for item in placed}
    for fault in guide.faults:
        if fault.step and fault.step not in anchors:
            near = nearest(fault.step, anchors)
            hint = f"did you mean '{near}'?" if near else "write the step's id, or procedure.step"
            yield Diagnostic(
                rule="unknown-name",
                message=f"unknown step '{fault.step}'",
                at=fault.places.of("step"),
                hints=(hint,),
            )


def placed_own(guide: Guide) -> tuple[Step, ...]:
    """The steps that are written in the guide itself."""
    groups: Iterable[tuple[Step | Use, ...]] = (
        *(section.steps for section in guide.work),
        guide.finish,
        guide.test,
    )
    return tuple(item for group in groups for item in group if isinstance(item, Step))


def _twice(steps: tuple[Step, ...]) -> Iterator[Diagnostic]:
    first: dict[str, Step] = {}
    for step in steps:
        if step.id in first:
            yield Diagnostic(
                rule="duplicate-id",
                message=f"two steps are called '{step.id}'",
                at=step.places.of("id"),
                hints=("give this one a name of its own",),
                related=((first[step.id].places.at, "the first one"),),
            )
        first.setdefault(step.id, step)
