"""The talk about a bike for a page: the next question that matters, and what was told so far, as plain data.

It reaches for the model and its words alone, neither for checks nor for pages, so that a browser asks its first
question before the rest is there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from builder.model.bike import Measurements, Rider
from builder.model.facts import Role
from builder.model.guide import Guide
from builder.model.library import Library
from builder.model.parts import Part, folder_of, kind_of
from builder.model.paths import MEASURED, RIDER, role_of
from builder.model.sentences import sentence
from builder.model.units import Unit, write_number, write_quantity
from builder.rider.facts import CLIMB, WEAR, FactError, Facts
from builder.rider.interview import FIRST, PART, Interview, Kind, Question
from builder.rider.mattering import Mattering
from builder.rider.requests import Answer, Asked, BikeTold, answered, bike_in, guide_in
from builder.sources.shapes import Keyed, Many, Number, OneOf, Quantity, Shape, Text, fields_of, kind_for

_NOT_ASKED = frozenset({"price"})
_OTHERS: Mapping[str, type] = {MEASURED: Measurements, RIDER: Rider}


class Talk:
    """Holds talks about bikes, each from its beginning: a request tells all that was answered."""

    def __init__(self, library: Library) -> None:
        self._library = library
        self._mattering: dict[str, Mattering] = {}
        self._places: dict[Role, list[list[object]]] = {}
        self._figures: dict[Role, list[Answer]] = {}

    def answer(self, request: str) -> str:
        """The answer to a request to talk."""
        return answered(request, {"talk": self.talk})

    def talk(self, asked: Asked) -> Answer:
        """What was told, the next question that matters, and the places that a part is named for."""
        guide, told = guide_in(asked, self._library), bike_in(asked)
        interview, wrong = self.interview(told, guide)
        question = interview.next()
        return {
            "question": None if question is None else self.question(question),
            "told": [
                {"id": name, "words": sentence(words), "answer": said}
                for name, words, said in self._said(told, interview)
            ],
            "wrong-answers": wrong,
            "places": [self._place(role, required=role in guide.wants) for role in (*guide.wants, *guide.takes)],
        }

    def interview(self, told: BikeTold, guide: Guide | None) -> tuple[Interview, dict[str, str]]:
        """The talk as far as it was held, ready to go on; each answer that could not be taken, with the reason."""
        name = "" if guide is None else guide.id
        if name not in self._mattering:
            self._mattering[name] = Mattering.of(self._library, guide)
        interview, wrong = self.held(told, guide)
        interview.use(self._mattering[name])
        return interview, wrong

    def held(self, told: BikeTold, guide: Guide | None = None) -> tuple[Interview, dict[str, str]]:
        """The talk as far as it was held; what comes next is not known yet."""
        interview = Interview(Facts(self._library), self._library, guide)
        wrong: dict[str, str] = {}
        for one in self._in_order(told.answers):
            answer = told.answers[one]
            question = interview.question(one)
            if question is None:
                continue
            if not answer:
                interview.leave(question)
                continue
            try:
                taken = interview.take(question, answer)
                if taken:
                    interview.taken_as[one] = taken
            except FactError as error:
                wrong[one] = str(error)
        return interview, wrong

    def question(self, question: Question) -> Answer:
        """A question as a page shows it: how to find the answer, how it may be written, and what it must be."""
        key = key_of(question.id)
        measurement = next((one for one in self._library.measurements.values() if one.key == key), None)
        return {
            "id": question.id,
            "words": sentence(question.words),
            "kind": question.kind.value,
            "cases": [[name, sentence(words)] for name, words in question.cases.items()],
            "how": [] if measurement is None else list(measurement.how),
            "span": "" if question.kind is Kind.CHOICE else _span(question.id),
            "has-unit": "." in question.id and isinstance(shape_of(question.id), Quantity),
            "limit": "",
            "checks": [],
        }

    def _in_order(self, answers: Mapping[str, str]) -> Iterator[str]:
        """The transmission first, since others hang on it, then as the catalogue asks, then what was measured."""
        first = dict.fromkeys((*FIRST, *self._library.attributes))
        yield from (name for name in first if name in answers)
        yield from (name for name in answers if name not in first)

    def _said(self, told: BikeTold, interview: Interview) -> Iterator[tuple[str, str, str]]:
        """What was told: the question's id, its words, and the answer in words ('' where it was left open)."""
        for name in self._in_order(told.answers):
            question = interview.question(name)
            if question is not None:
                answer = told.answers[name]
                said = interview.taken_as.get(name, answer)
                yield name, self._words(question), str(question.cases.get(answer, said))

    def _words(self, question: Question) -> str:
        """The words of a question; of a fact that a check lacks, those of its measurement or its key."""
        if question.words != question.id:
            return question.words
        place, _, rest = question.id.partition(".")
        if place in (CLIMB, WEAR):
            date, _, fact = rest.partition(".")
            return f"{fact.replace('-', ' ')}, {date}" if fact else rest
        key = key_of(question.id)
        named = next((one.name for one in self._library.measurements.values() if one.key == key), "")
        return named or question.id.removeprefix(PART).replace(".", ": ").replace("-", " ")

    def _place(self, role: Role, *, required: bool) -> Answer:
        if role not in self._places:
            kind = kind_of(role)
            known = [part for part in self._library.parts.values() if folder_of(part) == kind]
            stock = {item.part for item in self._library.workshop.stock if item.count > 0}
            self._places[role] = [[part.id, part.name, part.id in stock] for part in known]
            self._figures[role] = list(_figures_of(role, known))
        return {
            "role": role.value,
            "words": sentence(role.value.replace("-", " ")),
            "required": required,
            "parts": self._places[role],
            "figures": self._figures[role],
        }


def key_of(name: str) -> str:
    """The key of a fact as a measurement of the catalogue names it."""
    return name if name.partition(".")[0] in (MEASURED, RIDER) else f"parts.{name}"


def shape_of(path: str) -> Shape | None:
    """How the value of a fact is written; None where there is no such fact."""
    role, place = role_of(path), path.partition(".")[0]
    record = _OTHERS.get(place) if role is None else kind_for(role)
    key = path.partition(".")[2]
    return None if record is None else next((one.shape for one in fields_of(record) if one.key == key), None)


def _figures_of(role: Role, known: Sequence[Part]) -> Iterator[Answer]:
    """The facts by which a part may be told of: those that the known parts of its kind are told by."""
    for one in fields_of(kind_for(role)):
        if isinstance(one.shape, Text | Keyed) or one.key in _NOT_ASKED:
            continue
        if any(getattr(part, one.name) not in (None, ()) for part in known):
            cases = [str(case.value) for case in one.shape.choices] if isinstance(one.shape, OneOf) else []
            words = sentence(one.key.replace("-", " "))
            yield {"key": one.key, "words": words, "cases": cases, "span": _span(f"{role.value}.{one.key}")}


def _span(path: str) -> str:
    """Between what a figure lies; '' for any other fact and for a question of the talk."""
    shape = shape_of(path) if "." in path and path not in FIRST else None
    shape = shape.item if isinstance(shape, Many) else shape
    if not isinstance(shape, Quantity | Number):
        return ""
    unit = shape.unit if isinstance(shape, Quantity) else Unit.ONE
    return f"{write_number(shape.low)} to {write_quantity(shape.high, unit)}"
