"""Gather every text of the library for the reader, each with its kind, its place and the record that it stands in.

Library ─► elements (a guide, a step, a caution, ...) ─► passages ─► tagged sentences
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Generic, TypeVar

from builder.model.catalogue import Caution, Consumable, Fastener
from builder.model.guide import Fault, Guide, Procedure, Section, Step, Use, Waiver
from builder.model.library import Library
from builder.model.position import NOWHERE, Places, Position
from builder.proof.writing.context import Context
from builder.proof.writing.prose import plain, sentences, spelled_out
from builder.proof.writing.tagging import Tagged

Record = TypeVar("Record", covariant=True)


class TextKind(StrEnum):
    """What a text is for. Instructions, cautions and results follow stricter rules than explanations."""

    INSTRUCTION = "instruction"
    REASON = "reason"
    RESULT = "result"
    STATE = "end state"
    UNTIL = "end of a step"
    CONDITION = "condition"
    CAUTION = "caution"
    SHORT_CAUTION = "short caution"
    TITLE = "title"
    DESCRIPTION = "explanation"
    REFERENCE = "catalogue text"
    FRAGMENT = "words in a sentence"


# Texts that stand on a card in whole sentences.
ON_CARD = (
    TextKind.INSTRUCTION,
    TextKind.REASON,
    TextKind.RESULT,
    TextKind.STATE,
    TextKind.CONDITION,
    TextKind.CAUTION,
    TextKind.SHORT_CAUTION,
    TextKind.DESCRIPTION,
)
EVERY_KIND = tuple(TextKind)
CAUTIONS = (TextKind.CAUTION, TextKind.SHORT_CAUTION)


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """One text for the reader. `step` is the step that it stands in, where it stands in one."""

    kind: TextKind
    text: str
    at: Position
    sentences: tuple[Tagged, ...]
    step: Step | None = None

    @property
    def plain(self) -> str:
        """The text without its Markdown marks."""
        return plain(self.text)


@dataclass(frozen=True, slots=True, kw_only=True)
class Element(Generic[Record]):
    """A record with its texts and the waivers written at it."""

    name: str
    record: Record
    at: Position
    passages: tuple[Passage, ...] = ()
    waivers: tuple[Waiver, ...] = ()


_Texts = Iterable[tuple[TextKind, str, Position]]


def passage(kind: TextKind, text: str, at: Position, context: Context, step: Step | None = None) -> Passage:
    """A text made ready for the rules."""
    instruction = kind in (TextKind.INSTRUCTION, *CAUTIONS)
    found = context.tagged(text, instruction=instruction)
    return Passage(kind=kind, text=text, at=at, sentences=found, step=step)


def with_unknown_words(text: Passage, context: Context) -> tuple[str, ...]:
    """The sentences of a passage with each value in words, as on a card for a bike where it is not known."""
    return tuple(part.text for part in sentences(spelled_out(text.text, context.unknown)))


def _passages(texts: _Texts, context: Context, step: Step | None = None) -> tuple[Passage, ...]:
    return tuple(passage(kind, text, at, context, step) for kind, text, at in texts if text.strip())


def _listed(
    kind: TextKind, texts: tuple[str, ...], key: str, places: Places
) -> Iterator[tuple[TextKind, str, Position]]:
    for number, text in enumerate(texts):
        yield kind, text, _place(places, f"{key}.{number}", key)


def _place(places: Places, *keys: str) -> Position:
    """The place of the first of `keys` that is written."""
    for key in keys:
        if (at := places.of(key)) != places.at:
            return at
    return places.at


def step_element(step: Step, context: Context) -> Element[Step]:
    """A step with its texts."""
    at = step.places
    texts: list[tuple[TextKind, str, Position]] = [
        (TextKind.INSTRUCTION, step.do, at.of("do")),
        (TextKind.REASON, step.why, at.of("why")),
        (TextKind.RESULT, step.prove, at.of("prove")),
        (TextKind.UNTIL, step.until, at.of("until")),
        (TextKind.DESCRIPTION, step.limit, at.of("limit")),
    ]
    for number, choice in enumerate(step.choose):
        place = _place(at, f"choose.{number}", "choose")
        texts += [(TextKind.INSTRUCTION, choice.do, place), (TextKind.REASON, choice.why, place)]
    return Element(name=step.id, record=step, at=at.at, passages=_passages(texts, context, step), waivers=step.waivers)


def procedure_elements(procedure: Procedure, context: Context) -> tuple[Element[Step], ...]:
    """The steps that are written in a procedure."""
    return tuple(step_element(step, context) for step in _own_steps(procedure.steps))


def guide_steps(guide: Guide, context: Context) -> tuple[Element[Step], ...]:
    """The steps that are written in the guide itself."""
    items = [item for section in guide.work for item in section.steps]
    return tuple(step_element(step, context) for step in _own_steps((*items, *guide.finish, *guide.test)))


def _own_steps(items: Iterable[Step | Use]) -> Iterator[Step]:
    return (item for item in items if isinstance(item, Step))


def guide_element(guide: Guide, context: Context) -> Element[Guide]:
    """A guide with the texts that stand in no step."""
    at = guide.places
    texts: list[tuple[TextKind, str, Position]] = [
        (TextKind.TITLE, guide.title, at.of("title")),
        (TextKind.DESCRIPTION, guide.purpose, at.of("purpose")),
        (TextKind.STATE, guide.done_when, at.of("done-when")),
        (TextKind.DESCRIPTION, guide.refuse, at.of("refuse")),
        *_listed(TextKind.DESCRIPTION, guide.not_when, "not-when", at),
        *_listed(TextKind.CONDITION, guide.before, "before", at),
        *_listed(TextKind.DESCRIPTION, guide.mechanic_when, "mechanic-when", at),
    ]
    for section in guide.work:
        texts += _section_texts(section)
    for fault in guide.faults:
        texts += _fault_texts(fault)
    return Element(name=guide.id, record=guide, at=at.at, passages=_passages(texts, context), waivers=guide.waivers)


def _section_texts(section: Section) -> _Texts:
    yield TextKind.TITLE, section.title, section.places.of("title")
    yield TextKind.STATE, section.end, section.places.of("end")


def _fault_texts(fault: Fault) -> _Texts:
    yield TextKind.DESCRIPTION, fault.symptom, fault.places.of("symptom")
    yield TextKind.DESCRIPTION, fault.cause, fault.places.of("cause")
    yield TextKind.INSTRUCTION, fault.remedy, fault.places.of("remedy")


def caution_element(caution: Caution, context: Context) -> Element[Caution]:
    """A caution with its text and its short repeat."""
    at = caution.places
    texts = [
        (TextKind.CAUTION, caution.text, at.of("text")),
        (TextKind.SHORT_CAUTION, caution.short, at.of("short")),
    ]
    return Element(name=caution.id, record=caution, at=at.at, passages=_passages(texts, context))


def fastener_element(fastener: Fastener, context: Context) -> Element[Fastener]:
    """A fastener with what is said about its tightness."""
    at = fastener.places
    texts = [
        (TextKind.DESCRIPTION, fastener.feel, at.of("feel")),
        (TextKind.REFERENCE, fastener.spread, at.of("spread")),
    ]
    return Element(name=fastener.id, record=fastener, at=at.at, passages=_passages(texts, context))


def consumable_element(consumable: Consumable, context: Context) -> Element[Consumable]:
    """A consumable with its amount."""
    at = consumable.places
    texts = [(TextKind.FRAGMENT, consumable.amount, at.of("amount"))]
    return Element(name=consumable.id, record=consumable, at=at.at, passages=_passages(texts, context))


def catalogue_elements(library: Library, context: Context) -> tuple[Element[object], ...]:
    """The other records of the catalogue that have texts for the reader."""
    return tuple(
        Element(name=name, record=record, at=places.at, passages=_passages(texts, context))
        for name, record, places, texts in _catalogue(library)
    )


def _catalogue(library: Library) -> Iterator[tuple[str, object, Places, _Texts]]:
    for name, measurement in library.measurements.items():
        at = measurement.places
        yield name, measurement, at, tuple(_listed(TextKind.INSTRUCTION, measurement.how, "how", at))
    for name, procedure in library.procedures.items():
        yield name, procedure, procedure.places, [(TextKind.TITLE, procedure.title, procedure.places.of("title"))]
    for name, term in library.glossary.items():
        yield name, term, term.places, [(TextKind.REFERENCE, term.meaning, term.places.of("meaning"))]
    for name, verb in library.verbs.items():
        yield name, verb, verb.places, [(TextKind.REFERENCE, verb.meaning, verb.places.of("meaning"))]
    for name, state in library.states.items():
        at = state.places
        yield name, state, at, [(TextKind.FRAGMENT, words, _place(at, "values")) for words in state.values.values()]
    for name, attribute in library.attributes.items():
        at = attribute.places
        cases = [(TextKind.FRAGMENT, words, _place(at, "cases")) for words in attribute.cases.values()]
        yield name, attribute, at, [(TextKind.REFERENCE, attribute.ask, at.of("ask")), *cases]
    for number, exclusion in enumerate(library.exclusions):
        at = exclusion.places
        yield f"exclusion {number + 1}", exclusion, at, [(TextKind.REFERENCE, exclusion.because, at.of("because"))]
    for name, named in library.named_texts.items():
        yield name, named, named.places, [(TextKind.FRAGMENT, named.unknown, named.places.of("unknown"))]
    for name, tool in library.tools.items():
        yield name, tool, tool.places, [(TextKind.REFERENCE, tool.use, tool.places.of("use"))]
    for name, citation in library.sources.items():
        yield name, citation, citation.places, [(TextKind.REFERENCE, citation.note, citation.places.of("note"))]
    for name, part in library.parts.items():
        yield name, part, part.places, [(TextKind.REFERENCE, part.note, part.places.of("note"))]
    for name, bike in library.bikes.items():
        yield name, bike, bike.places, [(TextKind.REFERENCE, bike.description, bike.places.of("description"))]
    shop = library.workshop
    yield (
        "workshop",
        shop,
        shop.places,
        [
            (TextKind.REFERENCE, shop.feedback, shop.places.of("feedback")),
            (TextKind.REFERENCE, shop.note, shop.places.of("note")),
        ],
    )


def example(kind: TextKind, text: str, context: Context) -> Passage:
    """A passage that stands in no file, to try a rule on."""
    return passage(kind, text, NOWHERE, context)
