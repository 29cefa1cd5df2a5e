"""What a single field can't tell: whether the parts of a record agree with each other and with the model."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping

from builder.diagnostics.diagnostic import Diagnostic, nearest
from builder.model.bike import Bike
from builder.model.catalogue import Attribute, Fastener, Measurement, Standard, State
from builder.model.facts import Role
from builder.model.guide import Guide, Procedure, Step, Use
from builder.model.library import Library
from builder.model.parts import Cassette
from builder.model.position import Position
from builder.model.printed import Printed, PrintedSort
from builder.sources.hints import choices, words_of_set
from builder.sources.references import Known
from builder.sources.shapes import MOST_BETWEEN_TWO, Field, OneOf, PartsByRole, Record, StandardOf, fields_of, kind_for
from builder.sources.wear_book import check_wear_book

COMPUTED = "computed"
# More than any guide has by far.
_MOST_STEPS, _DEEPEST_USE = 1000, 20


def check_sense(library: Library, known: Known) -> Iterator[Diagnostic]:
    """Every record whose parts do not agree."""
    for state in library.states.values():
        yield from _state(state)
    for attribute in library.attributes.values():
        yield from _attribute(attribute, library)
    for fastener in library.fasteners.values():
        yield from _fastener(fastener)
    for standard in library.standards.values():
        yield from _standard(standard)
    for measurement in library.measurements.values():
        yield from _measurement(measurement)
    for procedure in library.procedures.values():
        yield from _twice(procedure.steps, f"the procedure '{procedure.id}'")
    yield from _loops(library.procedures)
    yield from _too_long(library)
    for bike in library.bikes.values():
        yield from check_wear_book(bike)
    for printed in library.printed.values():
        yield from _printed(printed)
    parts = (*library.parts.values(), *(part for bike in library.bikes.values() for part in bike.parts.values()))
    yield from (one for part in parts if isinstance(part, Cassette) for one in _ends_for_all(part))
    for guide in library.guides.values():
        yield from _twice(_own_items(guide), f"the guide '{guide.id}'")
        yield from _faults(guide, library, known)


def _printed(printed: Printed) -> Iterator[Diagnostic]:
    """A print of the register that does not say of what it is."""
    match printed.sort:
        case PrintedSort.CARD:
            needed = {"guide": printed.guide}
        case PrintedSort.SHEET:
            needed = {"guide": printed.guide, "bike": printed.bike}
        case PrintedSort.BIKE:
            needed = {"bike": printed.bike}
        case PrintedSort.TORQUES | PrintedSort.TOOLS:
            needed = {}
    for key, told in needed.items():
        if not told:
            yield Diagnostic(
                rule="missing-key",
                message=f"'{printed.id}' does not say of which {key} it is",
                at=printed.places.at,
                hints=(f"write '{key}:', or take the record out",),
            )


def _ends_for_all(cassette: Cassette) -> Iterator[Diagnostic]:
    """The ends of a cassette, such as 11-36, taken for the whole of it: no chain shifts over such a step."""
    if len(cassette.sprockets) == 2 and abs(cassette.sprockets[1] - cassette.sprockets[0]) > MOST_BETWEEN_TWO:
        first, last = cassette.sprockets
        yield Diagnostic(
            rule="only-ends",
            message=f"{first} and {last} are the ends of a cassette, and not all of its sprockets",
            at=cassette.places.of("sprockets"),
            hints=("write the teeth of every sprocket, smallest first, or leave them out",),
        )


def _state(state: State) -> Iterator[Diagnostic]:
    for number, value in enumerate(state.ready):
        if value not in state.values:
            yield Diagnostic(
                rule="unknown-value",
                message=f"'{value}' is none of the values of '{state.id}'",
                at=state.places.of(f"ready.{number}"),
                hints=(choices(value, state.values, "its values are"),),
            )
    named = [("new", state.new)] if state.new else []
    for key, value in (*named, *((f"released.{number}", value) for number, value in enumerate(state.released))):
        if value not in state.values:
            yield Diagnostic(
                rule="unknown-value",
                message=f"'{value}' is none of the values of '{state.id}'",
                at=state.places.of(key),
                hints=(choices(value, state.values, "its values are"),),
            )
    if bool(state.of) != bool(state.new):
        yield Diagnostic(
            rule="missing-key",
            message=f"the state '{state.id}' says {'whose part it is' if state.of else 'how a new part is'} alone",
            at=state.places.of("of" if state.of else "new"),
            hints=("write both 'of', the places whose part it is a state of, and 'new', its value on a new part",),
        )


def _attribute(attribute: Attribute, library: Library) -> Iterator[Diagnostic]:
    for key, case in (("without", attribute.without), ("idle", attribute.idle)):
        if case and case not in attribute.cases:
            yield Diagnostic(
                rule="unknown-case",
                message=f"'{case}' is none of the cases of '{attribute.id}'",
                at=attribute.places.of(key),
                hints=(choices(case, attribute.cases, "its cases are"),),
            )
    if attribute.source == COMPUTED:
        return
    says = "write 'role.key' of a part, or 'computed'; the roles are"
    field, wrong = _fact(attribute.source, attribute.places.of("source"), (*Role, COMPUTED), says)
    yield from wrong
    match None if field is None else field.shape:
        case OneOf(closed):
            words = tuple(str(choice.value) for choice in closed)
            yield from _cases_of(attribute, words, words)
        case StandardOf(of):
            yield from _cases_of(attribute, of.words, words_of_set(of, library.standards))
        case _:
            pass


def _fastener(fastener: Fastener) -> Iterator[Diagnostic]:
    """What counts the fastener on a bike must be a fact of a part."""
    if fastener.counted:
        says = "write 'role.key' of a part; the roles are"
        yield from _fact(fastener.counted, fastener.places.of("counted"), tuple(Role), says)[1]


def _fact(path: str, at: Position, first: Iterable[str], says: str) -> tuple[Field | None, tuple[Diagnostic, ...]]:
    """The field of a part that `path` names; `says` is told with the words that it may begin with."""
    role, _, key = path.partition(".")
    if role in list(Role):
        return _field(kind_for(Role(role)), key, f"a {role}", at)
    hint = choices(role, first, says)
    return None, (Diagnostic(rule="unknown-name", message=f"unknown role '{role}'", at=at, hints=(hint,)),)


def _standard(standard: Standard) -> Iterator[Diagnostic]:
    """A standard of a workshop's own is none that comes with the program, and is like one of those or like none."""
    if standard.id in standard.of.words:
        yield Diagnostic(
            rule="duplicate-id",
            message=f"'{standard.id}' is a word of {standard.of} already",
            at=standard.places.at,
            hints=("name the word where it is meant, or give your own standard another name",),
        )
    if standard.like and standard.like not in standard.of.words:
        yield Diagnostic(
            rule="value",
            message=f"'{standard.like}' is none of the words that can stand here",
            at=standard.places.of("like"),
            hints=(choices(standard.like, standard.of.words, "the words are"), "take 'like' away where none is alike"),
        )


def _cases_of(attribute: Attribute, needed: tuple[str, ...], words: tuple[str, ...]) -> Iterator[Diagnostic]:
    """An attribute must have a case for each word that its fact needs one for, and none that the fact never is."""
    for case in attribute.cases:
        if case not in words and case != attribute.without:
            yield Diagnostic(
                rule="unknown-case",
                message=f"'{attribute.source}' is never '{case}'",
                at=attribute.places.of(f"cases.{case}"),
                hints=(choices(case, words, "it is one of"),),
            )
    missing = [word for word in needed if word not in attribute.cases]
    if missing:
        yield Diagnostic(
            rule="missing-case",
            message=f"'{attribute.id}' has no case for {', '.join(missing)}",
            at=attribute.places.of("cases"),
            hints=(f"'{attribute.source}' can be that; add the case with its words",),
        )


def _measurement(measurement: Measurement) -> Iterator[Diagnostic]:
    """The place that a reading goes to must be a key of a bike's file: `measured.fork-sag`, `parts.frame.chainstay`."""
    at = measurement.places.of("key")
    first, *rest = measurement.key.split(".")
    field, wrong = _field(Bike, first, "a bike", at)
    yield from wrong
    if field is None:
        return
    match field.shape, rest:
        case PartsByRole(), [role, key] if role in list(Role):
            yield from _field(kind_for(Role(role)), key, f"a {role}", at)[1]
        case PartsByRole(), [role, *_]:
            hint = choices(role, Role, "write 'parts.role.key'; the roles are")
            yield Diagnostic(rule="unknown-name", message=f"unknown role '{role}'", at=at, hints=(hint,))
        case Record((kind,)), [key]:
            yield from _field(kind, key, f"'{first}'", at)[1]
        case _:
            hint = "write where the reading goes in a bike's file, such as parts.frame.chainstay or measured.fork-sag"
            yield Diagnostic(rule="value", message=f"'{measurement.key}' holds no reading", at=at, hints=(hint,))


def _field(kind: type, key: str, owner: str, at: Position) -> tuple[Field | None, tuple[Diagnostic, ...]]:
    fields = {field.key: field for field in fields_of(kind)}
    if key in fields:
        return fields[key], ()
    hint = choices(key, fields, "its keys are")
    return None, (Diagnostic(rule="unknown-name", message=f"{owner} has no key '{key}'", at=at, hints=(hint,)),)


def _own_items(guide: Guide) -> tuple[Step | Use, ...]:
    """The steps and uses that are written in the guide itself."""
    return (*(item for section in guide.work for item in section.steps), *guide.finish, *guide.test)


def _twice(items: tuple[Step | Use, ...], owner: str) -> Iterator[Diagnostic]:
    first: dict[str, Step] = {}
    for step in items:
        if not isinstance(step, Step):
            continue
        if step.id in first:
            yield Diagnostic(
                rule="duplicate-id",
                message=f"two steps of {owner} are called '{step.id}'",
                at=step.places.of("id"),
                hints=("give each a name of its own",),
                related=((first[step.id].places.of("id"), "the first one stands here"),),
            )
        first.setdefault(step.id, step)


def _loops(procedures: Mapping[str, Procedure]) -> Iterator[Diagnostic]:
    """Every use that would place a procedure inside itself, told once for each round."""
    done: set[str] = set()

    def visit(name: str, inside: tuple[str, ...]) -> Iterator[Diagnostic]:
        for use in procedures[name].steps:
            if not isinstance(use, Use) or use.use not in procedures or len(inside) > _DEEPEST_USE:
                continue
            if use.use in inside:
                round_trip = " → ".join((*inside[inside.index(use.use) :], use.use))
                yield Diagnostic(
                    rule="procedure-loop",
                    message=f"the procedure '{use.use}' would be placed inside itself",
                    at=use.places.of("use"),
                    label=round_trip,
                    hints=("take this use away, or split the procedure in two",),
                )
            elif use.use not in done:
                yield from visit(use.use, (*inside, use.use))
        done.add(name)

    for name in procedures:
        if name not in done:
            yield from visit(name, (name,))


def _too_long(library: Library) -> Iterator[Diagnostic]:
    """Every guide that comes to more steps than a person can do, since procedures within procedures multiply."""
    lengths: dict[str, float] = {}

    def length(items: tuple[Step | Use, ...], inside: tuple[str, ...]) -> float:
        total = 0.0
        for item in items:
            if isinstance(item, Step):
                total += 1
            elif item.use in library.procedures and item.use not in inside:
                if item.use not in lengths:
                    found = math.inf if len(inside) > _DEEPEST_USE else length_of(item.use, inside)
                    if math.isfinite(found):
                        lengths[item.use] = found
                total += lengths.get(item.use, math.inf)
            if total > _MOST_STEPS:
                return math.inf
        return total

    def length_of(name: str, inside: tuple[str, ...]) -> float:
        return length(library.procedures[name].steps, (*inside, name))

    for guide in library.guides.values():
        if length(_own_items(guide), ()) > _MOST_STEPS:
            yield Diagnostic(
                rule="too-large",
                message=f"the guide '{guide.id}' comes to more than {_MOST_STEPS} steps, its procedures placed inline",
                at=guide.places.at,
                hints=(f"procedures may stand within each other, {_DEEPEST_USE} deep at the most; use fewer",),
            )


def _faults(guide: Guide, library: Library, known: Known) -> Iterator[Diagnostic]:
    steps, whole = _step_names(guide, library, known)
    for fault in guide.faults:
        if fault.step and whole and fault.step not in steps:
            near = nearest(fault.step, steps)
            yield Diagnostic(
                rule="unknown-name",
                message=f"unknown step '{fault.step}'",
                at=fault.places.of("step"),
                label="the guide has no such step",
                hints=() if near else ("write the step's id; that of a procedure's step is 'procedure.step'",),
                related=((steps[near], f"did you mean '{near}'?"),) if near else (),
            )


def _step_names(guide: Guide, library: Library, known: Known) -> tuple[dict[str, Position], bool]:
    """The names of a guide's steps with their places, `procedure.step` in a procedure; and whether these are all."""
    names: dict[str, Position] = {}
    whole = True
    waiting: list[tuple[str, tuple[Step | Use, ...]]] = [("", _own_items(guide))]
    seen: set[str] = set()
    while waiting:
        origin, items = waiting.pop()
        for item in items:
            if isinstance(item, Step):
                names[f"{origin}.{item.id}" if origin else item.id] = item.places.of("id")
            elif item.use in library.procedures:
                if item.use not in seen:
                    seen.add(item.use)
                    waiting.append((item.use, library.procedures[item.use].steps))
            elif not known.lacks("procedures", item.use):
                whole = False
    return names, whole
