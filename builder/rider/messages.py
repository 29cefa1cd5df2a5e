"""The one door for a page in a browser: a request as JSON → its answer as JSON.

| `do` | asks for | answers with |
|---|---|---|
| `talk` | a guide and a bike | what was told, the next question that matters, the places that a part is named for |
| `fit` | a guide, a bike, parts | the guide's page for this bike, what its checks lack, or why there is none |
| `card` | the same, a form and a paper | the card as one HTML document |
| `file` | a bike | its file, as a workshop keeps it in `bikes/` |
| `reckon` | a check and its inputs | the check's answer |

A bike is its name and the answers that were given, each by the id of its question; an empty one leaves it open.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from builder.checks.reckoning import reckon_texts, result_as_json
from builder.checks.registry import CHECKS
from builder.checks.result import InputError
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.bike import Bike, Measurements, Rider
from builder.model.facts import Role
from builder.model.guide import Guide
from builder.model.parts import folder_of, kind_of
from builder.model.paths import MEASURED, RIDER, role_of
from builder.model.units import Unit, write_number, write_quantity
from builder.pages import amounts
from builder.pages.brief_card import brief_card_html
from builder.pages.card import MARKS, card_html, card_revision
from builder.pages.contents import Site
from builder.pages.form import Form
from builder.pages.guide_page import guide_page
from builder.pages.guide_view import view_check
from builder.pages.markup import sentence
from builder.pages.paper import Paper
from builder.pages.revision import UNKNOWN
from builder.pages.step_card import step_card_html
from builder.pages.strings_en import EN
from builder.planning import Missing, Plan, PlanError
from builder.proof.bike_gate import gate_for_bike
from builder.proof.jobs import Job, Mistaken, Ready, Refused, lacks_parts, work_out
from builder.rider.described import bike_of
from builder.rider.facts import FactError, Facts
from builder.rider.interview import FIRST, Interview, Kind, Question
from builder.rider.mattering import Mattering, cases_to_ask
from builder.rider.shelf import Shelf
from builder.sources.hints import words_of_set
from builder.sources.shapes import Number, OneOf, Quantity, Shape, StandardOf, fields_of, kind_for
from builder.sources.starters import bike_start
from builder.tailoring import Tailored

# More than anybody tells of a bike by hand.
_LONGEST_REQUEST, _LONGEST_TEXT, _MOST_ANSWERS = 60_000, 400, 400
_OTHERS: Mapping[str, type] = {MEASURED: Measurements, RIDER: Rider}
_NO_NAME = "My bike"

Answer = dict[str, Any]


class BadRequest(ValueError):
    """A request that can't be meant; one clear line."""


@dataclass(frozen=True, slots=True)
class BikeTold:
    """A bike as it comes in a request."""

    name: str
    answers: Mapping[str, str]

    @property
    def id(self) -> str:
        """What its file would be called."""
        plain = unicodedata.normalize("NFKD", self.name).encode("ascii", "ignore").decode()
        return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-") or "my-bike"


class Desk:
    """Answers requests from one shelf."""

    def __init__(self, shelf: Shelf) -> None:
        self._library = shelf.library
        self._theme = shelf.theme
        self._site = Site(library=shelf.library, generic=(), typeset=str, version=shelf.version)
        self._mattering: dict[str, Mattering] = {}

    def answer(self, request: str) -> str:
        """The answer to a request. What can't be done is told under `wrong`, and nothing is raised for it."""
        try:
            found = self._done(request)
        except (BadRequest, InputError, PlanError) as error:
            found = {"wrong": str(error)}
        return json.dumps(found, ensure_ascii=False, allow_nan=False)

    def _done(self, request: str) -> Answer:
        if len(request) > _LONGEST_REQUEST:
            raise BadRequest("this is more than anybody tells of a bike")
        try:
            asked = json.loads(request)
        except (ValueError, RecursionError):
            raise BadRequest("this can not be read") from None
        if not isinstance(asked, dict):
            raise BadRequest("this is no request")
        match asked.get("do"):
            case "talk":
                return self._talk(self._guide(asked), _bike_in(asked))
            case "fit":
                return self._fit(self._guide(asked), _bike_in(asked), _texts_in(asked, "parts"))
            case "card":
                return self._card(asked)
            case "file":
                return self._file(asked)
            case "reckon":
                return self._reckon(asked)
            case other:
                raise BadRequest(f"nothing is known of doing '{str(other)[:40]}'")

    # --- the talk --------------------------------------------------------------------------------

    def _talk(self, guide: Guide, told: BikeTold) -> Answer:
        interview, wrong = self._interview(told, guide)
        question = interview.next()
        return {
            "question": None if question is None else self._question(question),
            "told": [
                {"id": name, "words": sentence(words), "answer": said}
                for name, words, said in self._said(told, interview)
            ],
            "wrong-answers": wrong,
            "places": [self._place(role, required=role in guide.wants) for role in (*guide.wants, *guide.takes)],
        }

    def _interview(self, told: BikeTold, guide: Guide | None) -> tuple[Interview, dict[str, str]]:
        """The talk as far as it was held; each answer that could not be taken, with the reason."""
        interview = Interview(Facts(self._library), self._library, guide)
        name = "" if guide is None else guide.id
        interview.use(self._mattering.setdefault(name, Mattering.of(self._library, guide)))
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
        key = _key_of(question.id)
        named = next((one.name for one in self._library.measurements.values() if one.key == key), "")
        return named or question.id.replace(".", ": ").replace("-", " ")

    def _question(self, question: Question, lack: Missing | None = None) -> Answer:
        """A question as a page shows it: how to find the answer, how it may be written, and what it must be."""
        measurement = next(
            (one for one in self._library.measurements.values() if one.key == _key_of(question.id)), None
        )
        how = measurement.how if measurement is not None else (() if lack is None else (lack.how,))
        return {
            "id": question.id,
            "words": sentence(question.words if lack is None or question.words != question.id else _named(lack)),
            "kind": question.kind.value,
            "cases": [[name, sentence(words)] for name, words in question.cases.items()],
            "how": list(how),
            "span": "" if question.kind is Kind.CHOICE else _span(question.id),
            "limit": "" if lack is None else lack.bounds,
            "checks": [] if lack is None else [CHECKS[name].title for name in lack.checks if name in CHECKS],
        }

    def _place(self, role: Role, *, required: bool) -> Answer:
        kind = kind_of(role)
        known = [part for part in self._library.parts.values() if folder_of(part) == kind]
        stock = {item.part for item in self._library.workshop.stock if item.count > 0}
        return {
            "role": role.value,
            "words": sentence(role.value.replace("-", " ")),
            "required": required,
            "parts": [[part.id, part.name, part.id in stock] for part in known],
        }

    # --- what it comes to ------------------------------------------------------------------------

    def _fit(self, guide: Guide, told: BikeTold, parts: tuple[str, ...]) -> Answer:
        interview, wrong = self._interview(told, guide)
        interview.next()  # takes what the answers settle
        bike = bike_of(interview.facts, told.name, told.id)
        command = " ".join(("spannerleaf card", guide.id, bike.id, *(f"--with {part}" for part in parts)))
        shown: Answer = {"wrong-answers": wrong, "command": f"{command} -o {bike.id}.html"}
        if contradictions := self._contradictions(bike):
            return {**shown, "state": "contradicts", "reasons": contradictions}
        job = Job(guide=guide, bike=bike, parts=parts)
        if lacks_parts(job):
            return {**shown, "state": "needs-part", "reasons": []}
        match work_out(job, self._library):
            case Refused(reason=reason):
                return {**shown, "state": "refused", "reasons": [reason]}
            case Mistaken(diagnostics=diagnostics):
                return {**shown, "state": "refused", "reasons": [one.message for one in diagnostics]}
            case Ready(tailored=tailored, trouble=trouble):
                page = guide_page(tailored, self._site, self._theme)
                plan = tailored.plan
                return {
                    **shown,
                    "state": "trouble" if trouble else "ready",
                    "reasons": list(trouble),
                    "path": page.path,
                    "html": page.html,
                    "not-judged": [] if plan is None else list(plan.not_judged),
                    "lacks": [] if plan is None else list(self._lacks(plan, interview, told)),
                    "steps": len(tailored.steps),
                }

    def _contradictions(self, bike: Bike) -> list[str]:
        """What the gate finds in the bike; the guides went through it when the site was built."""
        found = gate_for_bike(bike, self._library)
        return [_in_words(one, bike) for one in found if one.gravity is Gravity.ERROR]

    def _lacks(self, plan: Plan, interview: Interview, told: BikeTold) -> Iterator[Answer]:
        """What checks lack and the rider can tell of the bike as it stands, as questions that were not put yet."""
        for lack in plan.missing:
            path = lack.key.removeprefix("parts.")
            role = role_of(path)
            known = role is not None and (plan.replaces(role) or isinstance(interview.facts.parts.get(role), str))
            if path and path not in told.answers and not known and interview.facts.is_open(path):
                question = self._fact_question(path)
                if question is not None and question.id not in told.answers:
                    yield self._question(question, lack)

    def _fact_question(self, path: str) -> Question | None:
        attribute = next((one for one in self._library.attributes.values() if one.source == path), None)
        if attribute is not None:
            return Question(
                id=attribute.id, words=attribute.ask, kind=Kind.CHOICE, cases=cases_to_ask(attribute, self._library)
            )
        shape = _shape(path)
        if shape is None:
            return None
        if isinstance(shape, OneOf | StandardOf):
            words = (
                tuple(str(one.value) for one in shape.choices)
                if isinstance(shape, OneOf)
                else words_of_set(shape.of, self._library.standards)
            )
            cases = {word: word.replace("-", " ") for word in words}
            return Question(id=path, words=path, kind=Kind.CHOICE, cases=cases)
        return Question(id=path, words=path)

    # --- the rest --------------------------------------------------------------------------------

    def _card(self, asked: Mapping[str, Any]) -> Answer:
        guide, told, parts = self._guide(asked), _bike_in(asked), _texts_in(asked, "parts")
        try:
            form, paper = Form(str(asked.get("form"))), Paper(str(asked.get("paper")))
        except ValueError:
            raise BadRequest("there is no such form or paper") from None
        if refusal := form.refusal(paper):
            raise BadRequest(refusal)
        interview, _ = self._interview(told, guide)
        interview.next()
        outcome = work_out(
            Job(guide=guide, bike=bike_of(interview.facts, told.name, told.id), parts=parts), self._library
        )
        if not isinstance(outcome, Ready) or outcome.trouble:
            raise BadRequest("no card can be made for this bike")
        return {"html": self.card(outcome.tailored, form, paper)}

    def card(self, tailored: Tailored, form: Form, paper: Paper) -> str:
        """The card as one HTML document. It has no QR code: nobody but the rider has a page of this bike."""
        workshop = self._library.workshop
        if form is Form.TEACHING:
            return card_html(tailored, self._theme, paper, workshop=workshop, standalone=True)
        code = card_revision(tailored, self._theme, workshop=workshop)
        make = brief_card_html if form is Form.BRIEF else step_card_html
        return make(tailored, self._theme, paper, workshop=workshop, standalone=True).replace(UNKNOWN, code)

    def _file(self, asked: Mapping[str, Any]) -> Answer:
        told = _bike_in(asked)
        guide = self._guide(asked) if asked.get("guide") else None
        interview, wrong = self._interview(told, guide)
        if guide is not None:
            interview.next()
        text = bike_start(interview.facts.of_bike(told.name))
        return {"name": f"{told.id}.yaml", "text": text, "wrong-answers": wrong}

    def _reckon(self, asked: Mapping[str, Any]) -> Answer:
        check = CHECKS.get(str(asked.get("check")))
        if check is None:
            raise BadRequest("there is no such check")
        inputs = {name: text for name, text in _strings(asked.get("inputs"), "inputs").items() if text}
        result = reckon_texts(check, inputs)
        template = self._theme.templates.get_template("reckoned.html")
        values = tuple((item.name.replace("-", " "), amounts.amount(item.value, item.unit)) for item in result.values)
        html = template.render(answer=view_check(result, EN), values=values, w=EN, m=MARKS)
        return {"result": result_as_json(result), "html": html}

    def _guide(self, asked: Mapping[str, Any]) -> Guide:
        guide = self._library.guides.get(str(asked.get("guide")))
        if guide is None:
            raise BadRequest("there is no such guide")
        return guide


def _bike_in(asked: Mapping[str, Any]) -> BikeTold:
    bike = asked.get("bike")
    if not isinstance(bike, dict):
        raise BadRequest("a bike is wanted")
    name = bike.get("name")
    if not isinstance(name, str) or len(name) > _LONGEST_TEXT:
        raise BadRequest("the bike's name is no text, or too long")
    return BikeTold(name=" ".join(name.split()) or _NO_NAME, answers=_strings(bike.get("answers"), "answers"))


def _strings(held: object, what: str) -> dict[str, str]:
    if not isinstance(held, dict) or len(held) > _MOST_ANSWERS:
        raise BadRequest(f"the {what} are no answers, or too many")
    if not all(isinstance(one, str) and len(one) <= _LONGEST_TEXT for one in (*held, *held.values())):
        raise BadRequest(f"one of the {what} is no text, or too long")
    return {name: " ".join(text.split()) for name, text in held.items()}


def _texts_in(asked: Mapping[str, Any], name: str) -> tuple[str, ...]:
    held = asked.get(name, [])
    if not isinstance(held, list) or len(held) > len(Role) or not all(isinstance(one, str) for one in held):
        raise BadRequest(f"the {name} are no list of names")
    return tuple(held)


def _key_of(name: str) -> str:
    return name if name.partition(".")[0] in (MEASURED, RIDER) else f"parts.{name}"


def _shape(path: str) -> Shape | None:
    """How the value of a fact is written; None where there is no such fact."""
    role, place = role_of(path), path.partition(".")[0]
    record = _OTHERS.get(place) if role is None else kind_for(role)
    key = path.partition(".")[2]
    return None if record is None else next((one.shape for one in fields_of(record) if one.key == key), None)


def _span(path: str) -> str:
    """Between what a figure lies; '' for any other fact and for a question of the talk."""
    shape = _shape(path) if "." in path and path not in FIRST else None
    if not isinstance(shape, Quantity | Number):
        return ""
    unit = shape.unit if isinstance(shape, Quantity) else Unit.ONE
    return f"{write_number(shape.low)} to {write_quantity(shape.high, unit)}"


def _named(lack: Missing) -> str:
    """What is lacking, with the place of its part behind it: `length of the splines (rear hub)`."""
    role = role_of(lack.key.removeprefix("parts."))
    place = "" if role is None else role.value.replace("-", " ")
    ending = f" of {place}"
    return f"{lack.words.removesuffix(ending)} ({place})" if place and lack.words.endswith(ending) else lack.words


def _in_words(found: Diagnostic, bike: Bike) -> str:
    """A contradiction for somebody who has no file before them."""
    message = found.message.replace(f"'{bike.id}' can't be as its file says: ", "")
    return ": ".join(part for part in (message, found.label) if part)
