"""The one door for a page in a browser: a request as JSON → its answer as JSON.

| `do` | asks for | answers with |
|---|---|---|
| `talk` | a guide and a bike | what was told, the next question that matters, the places that a part is named for |
| `fit` | a guide, a bike, parts | the guide's page for this bike, what its checks lack, or why there is none |
| `card` | the same, a form and a paper | the card as one HTML document |
| `sides` | the blocks of a card with their heights | its sides: bands, and where each block stands |
| `bike` | a bike; a guide and parts | the bike's page: gears now and after, hills, wear, and what the job comes to |
| `figure` | a question's id | the drawing that shows how it is measured, where there is one |
| `lower` | a bike, per cent | the cheapest sets of parts that make the lowest gear so much easier |
| `file` | a bike | its file, as a workshop keeps it in `bikes/` |
| `reckon` | a check and its inputs | the check's answer |

A bike is its name and the answers that were given, each by the id of its question; an empty one leaves it open.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from builder.checks.reckoning import reckon_texts, result_as_json
from builder.checks.registry import CHECKS
from builder.checks.result import InputError
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.drawings.drawing_kind import DrawingError
from builder.drawings.registry import draw
from builder.model.bike import Bike
from builder.model.guide import Guide
from builder.model.inlining import inlined
from builder.model.library import Library
from builder.model.memory import Memory
from builder.model.paths import role_of
from builder.model.sentences import sentence
from builder.model.units import QuantityError, Unit, read_value
from builder.pages import amounts
from builder.pages.bands import bands_html
from builder.pages.bike_page import JobsOfBike, bike_page, jobs_by_bike
from builder.pages.contents import Site
from builder.pages.figures import view_of
from builder.pages.form import Form
from builder.pages.form_card import form_card_html
from builder.pages.guide_page import guide_page
from builder.pages.guide_view import view_check
from builder.pages.paper import Paper
from builder.pages.sides import Laid, composed, leaf_in
from builder.pages.strings_en import EN
from builder.planning import Missing, Plan, PlanError
from builder.planning.lowering import Lowering, lowerings
from builder.proof.bike_gate import gate_for_bike
from builder.proof.jobs import Job, Mistaken, Ready, Refused, lacks_parts, work_out
from builder.rider.described import bike_of, described_parts
from builder.rider.facts import FactError
from builder.rider.fitting import fit_on
from builder.rider.interview import Interview, Kind, Question
from builder.rider.lowered import lowering_lines
from builder.rider.mattering import cases_to_ask
from builder.rider.requests import (
    Acts,
    Answer,
    Asked,
    BadRequest,
    BikeTold,
    answered,
    bike_in,
    guide_in,
    strings,
    texts_in,
)
from builder.rider.shelf import Shelf
from builder.rider.talking import Talk, key_of, shape_of
from builder.sources.hints import words_of_set
from builder.sources.shapes import OneOf, StandardOf
from builder.sources.starters import bike_start
from builder.tailoring import Tailored
from builder.tailoring.upkeep import Upkeep

# Higher than a block of any card.
_HIGHEST_MM = 5000.0
# The templates of the first page that is asked for.
READ_FIRST = ("parts.html", "frame.html", "guide.html")


class Desk:
    """Answers requests from one shelf."""

    def __init__(self, shelf: Shelf) -> None:
        self._library = shelf.library
        self._theme = shelf.theme
        self._site = Site(library=shelf.library, generic=(), typeset=str, version=shelf.version)
        self._talk = Talk(shelf.library)
        self._acts: Acts = {
            "talk": self._talk.talk,
            "fit": self._fit,
            "card": self._card,
            "sides": self._sides,
            "bike": self._bike,
            "figure": self._figure,
            "lower": self._lower,
            "file": self._file,
            "reckon": self._reckon,
        }

    def answer(self, request: str) -> str:
        """The answer to a request. What can't be done is told under `wrong`, and nothing is raised for it."""
        return answered(request, self._acts, (InputError, PlanError, FactError))

    def made_ready(self) -> Iterator[str]:
        """Read the templates one by one, so that the first page needs none of the time; each name when it is read."""
        for name in READ_FIRST:
            self._theme.templates.get_template(name)
            yield name

    # --- what it comes to ------------------------------------------------------------------------

    def _fit(self, asked: Asked) -> Answer:
        guide, told, parts = guide_in(asked, self._library), bike_in(asked), texts_in(asked, "parts")
        interview, wrong = self._talk.interview(told, guide)
        interview.next()  # takes what the answers settle
        bike = bike_of(interview.facts, told.name, told.id)
        command = " ".join(("spannerleaf card", guide.id, bike.id, *(f"--with {part}" for part in parts)))
        shown: Answer = {"wrong-answers": wrong, "command": f"{command} -o {bike.id}.html"}
        if contradictions := self._contradictions(bike):
            return {**shown, "state": "contradicts", "reasons": contradictions}
        job, library = self._job(guide, bike, asked)
        if lacks_parts(job):
            return {**shown, "state": "needs-part", "reasons": []}
        match work_out(job, library):
            case Refused(reason=reason):
                return {**shown, "state": "refused", "reasons": [reason]}
            case Mistaken(diagnostics=diagnostics):
                return {**shown, "state": "refused", "reasons": [one.message for one in diagnostics]}
            case Ready(tailored=tailored, trouble=trouble):
                # The card, which its code is taken from, is made when it is printed.
                page = guide_page(tailored, self._fresh_site(), self._theme, coded=False)
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
                    yield self._lack(question, lack)

    def _lack(self, question: Question, lack: Missing) -> Answer:
        """A question about what checks lack, with what it must be so that they pass."""
        shown = self._talk.question(question)
        return {
            **shown,
            "words": sentence(_named(lack)) if question.words == question.id else shown["words"],
            "how": shown["how"] or [lack.how],
            "limit": lack.bounds,
            "checks": [CHECKS[name].title for name in lack.checks if name in CHECKS],
        }

    def _fact_question(self, path: str) -> Question | None:
        attribute = next((one for one in self._library.attributes.values() if one.source == path), None)
        if attribute is not None:
            return Question(
                id=attribute.id, words=attribute.ask, kind=Kind.CHOICE, cases=cases_to_ask(attribute, self._library)
            )
        shape = shape_of(path)
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

    def _card(self, asked: Asked) -> Answer:
        guide, told = guide_in(asked, self._library), bike_in(asked)
        try:
            form, paper = Form(str(asked.get("form"))), Paper(str(asked.get("paper")))
        except ValueError:
            raise BadRequest("there is no such form or paper") from None
        if refusal := form.refusal(paper):
            raise BadRequest(refusal)
        interview, _ = self._talk.interview(told, guide)
        interview.next()
        job, library = self._job(guide, bike_of(interview.facts, told.name, told.id), asked)
        outcome = work_out(job, library)
        if not isinstance(outcome, Ready) or outcome.trouble:
            raise BadRequest("no card can be made for this bike")
        html = self.card(outcome.tailored, form, paper)
        leaf = leaf_in(html)
        return {"html": html} if leaf is None else {"html": html, "column": leaf.column_mm, "text": leaf.text_mm}

    def card(self, tailored: Tailored, form: Form, paper: Paper) -> str:
        """The card as one HTML document. It has no QR code: nobody but the rider has a page of this bike."""
        workshop = self._library.workshop
        return form_card_html(tailored, self._theme, form, paper, workshop=workshop, standalone=True)

    def _sides(self, asked: Asked) -> Answer:
        try:
            blocks = [
                Laid(says=strings(one["says"], "words of a block"), height_mm=_height_mm(one["height"]), page=number)
                for number, one in enumerate(asked["blocks"])
            ]
            card = composed(strings(asked["card"], "words of the card"), blocks)
        except (KeyError, TypeError, ValueError) as error:
            raise BadRequest(f"these blocks do not make a card: {error}") from None
        leaf = card.leaf
        return {
            "width": leaf.width_mm,
            "height": leaf.height_mm,
            "html": str(bands_html(card.name, card.sides, leaf, self._theme.bands_css)),
            "places": [
                {
                    "block": galley.page,
                    "side": place.side,
                    "left": leaf.left_mm(place),
                    "top": leaf.top_mm + place.top_mm,
                    "width": leaf.text_mm if place.spans else leaf.column_mm,
                }
                for galley, place in zip(card.galleys, card.places, strict=True)
            ],
        }

    def _fresh_site(self) -> Site:
        """The site for one answer: nothing is held of the pages of bikes that were asked for before."""
        return replace(self._site, memory=Memory(lasting=False))

    def _bike(self, asked: Asked) -> Answer:
        told = bike_in(asked)
        interview, wrong = self._talk.held(told)
        bike = bike_of(interview.facts, told.name, told.id)
        site = self._fresh_site()
        if asked.get("guide"):
            guide = guide_in(asked, self._library)
            job, library = self._job(guide, bike, asked)
            match None if lacks_parts(job) else work_out(job, library):
                case Ready(tailored=tailored):
                    site = replace(site, tailored=(tailored,))
                case Refused(reason=reason):
                    site = replace(site, refusals=((bike, guide, reason),))
        upkeep = Upkeep(bike=bike, guides=(), torques=(), tools=(), unsure=(), families={})
        page = bike_page(upkeep, jobs_by_bike(site).get(bike.id, JobsOfBike()), site, self._theme)
        return {"path": page.path, "html": page.html, "wrong-answers": wrong}

    def _figure(self, asked: Asked) -> Answer:
        """The drawing of a step that takes the measurement which a question asks for."""
        key = key_of(str(asked.get("question")))
        measurement = next((one.id for one in self._library.measurements.values() if one.key == key), "")
        for name in self._figures_for(measurement) if measurement else ():
            try:
                figure = view_of(draw(name), "q-")
            except DrawingError:
                continue  # it is made from numbers that nobody told
            return {"svg": str(figure.svg), "title": figure.title, "legend": list(figure.legend)}
        return {"svg": "", "title": "", "legend": []}

    def _figures_for(self, measurement: str) -> Iterator[str]:
        yield f"measure-{measurement}"
        for guide in self._library.guides.values():
            for placed in inlined(guide, self._library):
                if placed.step.measure == measurement and placed.step.figure:
                    yield placed.step.figure

    def _lower(self, asked: Asked) -> Answer:
        told = bike_in(asked)
        try:
            by_percent = read_value(f"{str(asked.get('by')).strip().rstrip('%')} %", Unit.PERCENT)
        except QuantityError as error:
            raise BadRequest(str(error)) from None
        interview, _ = self._talk.held(told)
        bike = bike_of(interview.facts, told.name, told.id)
        try:
            sets = lowerings(bike, by_percent, self._library)
        except LookupError as error:
            raise BadRequest(f"this can't be worked out: {error.args[0]}") from None
        return {"sets": [self._lowered(one, bike) for one in sets]}

    def _lowered(self, one: Lowering, bike: Bike) -> Answer:
        """A set of parts, and the guide that puts it on, as `fit` finds it."""
        parts = {role.value: part.id for role, part in one.plan.wanted.items()}
        guide = fit_on(bike, tuple(f"{role}={part}" for role, part in parts.items()), self._library).guide
        return {"parts": parts, "guide": "" if guide is None else guide.id, "lines": [*lowering_lines(one)]}

    def _job(self, guide: Guide, bike: Bike, asked: Asked) -> tuple[Job, Library]:
        """The job with the parts that are named, and the library with those that are told of by their figures."""
        parts = texts_in(asked, "parts")
        told = described_parts(asked.get("described", {}), self._library)
        library = self._library
        if told:
            library = replace(library, parts={**library.parts, **{part.id: part for part in told.values()}})
            parts = (*parts, *(f"{role.value}={part.id}" for role, part in told.items()))
        return Job(guide=guide, bike=bike, parts=parts), library

    def _file(self, asked: Asked) -> Answer:
        told = bike_in(asked)
        if asked.get("guide"):
            interview, wrong = self._talk.interview(told, guide_in(asked, self._library))
            interview.next()  # takes what the answers settle
        else:
            interview, wrong = self._talk.held(told)
        text = bike_start(interview.facts.of_bike(told.name))
        return {"name": f"{told.id}.yaml", "text": text, "wrong-answers": wrong}

    def _reckon(self, asked: Asked) -> Answer:
        check = CHECKS.get(str(asked.get("check")))
        if check is None:
            raise BadRequest("there is no such check")
        inputs = {name: text for name, text in strings(asked.get("inputs"), "inputs").items() if text}
        result = reckon_texts(check, inputs)
        template = self._theme.templates.get_template("reckoned.html")
        values = tuple((item.name.replace("-", " "), amounts.amount(item.value, item.unit)) for item in result.values)
        html = template.render(answer=view_check(result, EN), values=values, w=EN, m=self._theme.marks)
        return {"result": result_as_json(result), "html": html}


def _height_mm(told: object) -> float:
    height = float(told) if isinstance(told, int | float) else math.nan
    if not 0 <= height <= _HIGHEST_MM:
        raise ValueError("a block has no such height")
    return height


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
