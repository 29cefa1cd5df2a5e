"""Which question about a bike comes next, and what an answer to it says: the same on a terminal and on a page.

Only what still matters is asked: what a condition of the guide hangs on, or what its checks reckon with. Any question
may be left open.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from builder.model.catalogue import Attribute
from builder.model.facts import Role
from builder.model.guide import Guide
from builder.model.library import Library
from builder.rider.answers import Sprockets, chosen, in_figures, known_cassettes, sprockets_in, teeth_in
from builder.rider.facts import FactError, Facts, read_fact
from builder.rider.mattering import Mattering, cases_to_ask
from builder.sources.shapes import NO_PART, kind_for

TRANSMISSION, RINGS, SPROCKETS, TAG = "transmission", "crankset.rings", "cassette.sprockets", "tag"
# Before a place where a part is named, since a question of the catalogue may have the place's name.
PART = "parts."
_GEARS, _BEHIND = "rear-hub.gears", "sprocket-of-the-hub"
_COUNT, _KNOWN, _EVERY = "sprocket-count", "known-cassette", "every-sprocket"
# What is asked of the transmission before anything else, in this order.
FIRST = (TRANSMISSION, _GEARS, _BEHIND, RINGS, SPROCKETS, _COUNT, _KNOWN, _EVERY)
# What numbers the checks of a transmission need, beside the questions of the catalogue: where they go, what to ask.
_NUMBERS: Mapping[str, str] = {
    "rear-shifter.speeds": "How many clicks has the rear shifter, as a number of gears?",
    "rear-derailleur.largest-sprocket": "What is the largest sprocket that the rear derailleur is made for? "
    "(its maker says so)",
    "rear-derailleur.capacity-teeth": "What is the capacity of the rear derailleur, in teeth? (its maker says so)",
    "frame.chainstay": "How far is it from the bottom bracket's axle to the rear axle? (such as 432 ± 1 mm)",
    "measured.chain-links": "How many links has the chain, the joining link counted?",
}
_WORDS: Mapping[str, str] = {
    _GEARS: "How many gears are inside the hub?",
    _BEHIND: "How many teeth has the sprocket at the rear hub?",
    RINGS: "How many teeth has each chainring? (such as 46, 30)",
    SPROCKETS: "Which sprockets are at the rear wheel? (such as 11, 13, 15, 18, or 11-36 10-speed)",
    _COUNT: "How many sprockets are there?",
    _EVERY: "How many teeth has each sprocket, smallest first?",
    TAG: "Which number or tag hangs on the bike?",
    **_NUMBERS,
}
_TRANSMISSIONS = {
    "derailleur": "a rear derailleur",
    "hub-gear": "gears inside the hub",
    "single": "neither: there is one gear",
}
_ANOTHER = "another one"


class Kind(StrEnum):
    """How a question is answered."""

    CHOICE = "choice"  # one of its cases
    TEXT = "text"  # in words and figures


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A question. Its id is the fact, the attribute of the catalogue or the stage of a talk that it asks for."""

    id: str
    words: str
    kind: Kind = Kind.TEXT
    cases: Mapping[str, str] = field(default_factory=dict)


@dataclass(slots=True)
class Interview:
    """A talk about one bike: what is known, which questions were left open, and what still matters for the guide.

    Without a guide, everything that any guide asks matters.
    """

    facts: Facts
    library: Library
    guide: Guide | None = None
    left: set[str] = field(default_factory=set)
    # Answers that were taken otherwise than they were said: `432` as `432 mm`.
    taken_as: dict[str, str] = field(default_factory=dict)
    _ends: Sprockets | None = None
    _mattering: Mattering | None = None

    def next(self) -> Question | None:
        """The question that comes next; None where nothing that matters is open.

        What earlier answers settle is taken on the way, and not asked.
        """
        return next((question for question in self._open() if question.id not in self.left), None)

    def use(self, mattering: Mattering) -> None:
        """Use what is known of the guide's conditions from another talk, since it takes a while to find."""
        self._mattering = mattering

    def leave(self, question: Question) -> None:
        """Leave the question open."""
        self.left.add(question.id)

    def question(self, name: str) -> Question | None:
        """The question of that id, whether it is due or not; None where there is none."""
        attribute = self.library.attributes.get(name)
        if name == TRANSMISSION:
            return _choice(TRANSMISSION, "What changes the gears at the rear wheel?", _TRANSMISSIONS)
        if name == _KNOWN:
            return self._known_question()
        if attribute is not None:
            return _choice(attribute.id, attribute.ask, cases_to_ask(attribute, self.library))
        return Question(id=name, words=_WORDS.get(name, name))

    def take(self, question: Question, answer: str) -> str:
        """Take an answer; what it was taken as, where that is not what was said.

        Raises:
            FactError: it can't be taken; the message says why and what would do.
        """
        match question.kind:
            case Kind.CHOICE:
                case = chosen(answer, question.cases)
                if not case:
                    raise FactError(f"write a number from 1 to {len(question.cases)}, or press Enter")
                self._take_choice(question.id, case)
                return ""
            case Kind.TEXT:
                return self._take_text(question.id, answer)

    # --- what is open ----------------------------------------------------------------------------

    def _open(self) -> Iterator[Question]:
        if self._mattering is None:
            self._mattering = Mattering.of(self.library, self.guide)
        mattering, facts = self._mattering, self.facts
        wants_numbers = self.guide is None or bool(self.guide.wants)
        if wants_numbers or mattering.asks(TRANSMISSION):
            yield from self._open_transmission()
        if (wants_numbers or mattering.asks("chainrings")) and facts.is_open(RINGS):
            yield self._text(RINGS)
        if wants_numbers and facts.is_open(SPROCKETS):
            yield from self._open_sprockets()
        for attribute in mattering.questions():
            settled = mattering.left(attribute, facts)
            if not settled:
                continue
            cases = cases_to_ask(attribute, self.library)
            if len(settled) == 1 and len(cases) == len(attribute.cases):
                self._take_case(attribute, settled[0])
            else:
                may_be = (name for name in cases if name in settled or name not in attribute.cases)
                yield _choice(attribute.id, attribute.ask, {name: cases[name] for name in may_be})
        for key in _NUMBERS if wants_numbers else ():
            if facts.is_open(key):
                yield self._text(key)
        if not facts.tag and self.guide is None:
            yield self._text(TAG)

    def _open_transmission(self) -> Iterator[Question]:
        facts = self.facts
        if facts.is_open(f"{Role.REAR_DERAILLEUR}.capacity-teeth") and facts.parts.get(Role.REAR_DERAILLEUR) is None:
            yield _choice(TRANSMISSION, "What changes the gears at the rear wheel?", _TRANSMISSIONS)
        if facts.is_hub_gear and facts.is_open(_GEARS):
            yield self._text(_GEARS)
        if facts.is_hub_gear and not facts.is_open(_GEARS):
            yield self._text(_BEHIND)

    def _open_sprockets(self) -> Iterator[Question]:
        if self._ends is None:
            yield self._text(SPROCKETS)
            return
        if not self._ends.count and _COUNT not in self.left:
            yield self._text(_COUNT)
            return
        known = self._known_question()
        if known is not None and _KNOWN not in self.left:
            yield known
            return
        self._note_ends(self._ends)
        yield self._text(_EVERY)

    def _known_question(self) -> Question | None:
        known = {} if self._ends is None else known_cassettes(self._ends, self.library)
        return _choice(_KNOWN, "Is it one of these?", {**known, _ANOTHER: _ANOTHER}) if known else None

    def _text(self, name: str) -> Question:
        return Question(id=name, words=_WORDS[name])

    # --- what an answer says ---------------------------------------------------------------------

    def _take_choice(self, name: str, case: str) -> None:
        if name == TRANSMISSION:
            self._take_transmission(case)
        elif name == _KNOWN:
            if case == _ANOTHER:
                self.left.add(_KNOWN)
            else:
                self._take_cassette(case)
        elif name in self.library.attributes:
            self._take_case(self.library.attributes[name], case)
        else:
            self.facts.set(name, case)

    def _take_transmission(self, case: str) -> None:
        facts = self.facts
        match case:
            case "derailleur":
                facts.add_part(Role.REAR_DERAILLEUR)
            case "hub-gear":
                for role in (Role.REAR_DERAILLEUR, Role.FRONT_DERAILLEUR, Role.CASSETTE):
                    facts.set(role.value, NO_PART)
            case _:
                for role in (Role.REAR_DERAILLEUR, Role.FRONT_DERAILLEUR, Role.REAR_SHIFTER):
                    facts.set(role.value, NO_PART)
                facts.set(_GEARS, "1")

    def _take_case(self, attribute: Attribute, case: str) -> None:
        try:
            self.facts.set(attribute.source, case)
        except FactError:
            role = attribute.source.partition(".")[0]
            # The case in which there is no such part at all, unless it is a known part that says otherwise.
            if not self.facts.parts.get(Role(role)):
                self.facts.set(role, NO_PART)

    def _take_text(self, name: str, answer: str) -> str:
        match name:
            case "cassette.sprockets":
                self._take_sprockets(answer)
            case "sprocket-of-the-hub":
                self._take_sprocket_of_hub(answer)
            case "sprocket-count":
                numbers = teeth_in(answer.casefold().removesuffix("speed").rstrip(" -"))
                if len(numbers) != 1 or self._ends is None:
                    raise FactError("write a number, such as 10, or press Enter")
                self._ends = _possible(replace(self._ends, count=numbers[0]), self.library)
            case "crankset.rings":
                self._take_teeth(RINGS, answer)
            case "every-sprocket":
                if self._ends is not None:
                    self._note_ends(self._ends)
                self._take_teeth(SPROCKETS, answer)
            case "tag":
                self.facts.tag = answer
            case _:
                taken = self.facts.set_loosely(name.removeprefix(PART), answer)
                return taken if taken != answer else ""
        return ""

    def _take_sprocket_of_hub(self, answer: str) -> None:
        teeth = teeth_in(in_figures(answer))
        if len(teeth) != 1:
            raise FactError("write one number, such as 18, or press Enter")
        # Only now, so that an answer that can't be taken leaves the bike with a hub gear.
        trial = Facts(self.library)
        trial.set(SPROCKETS, str(teeth[0]))
        self.facts.replace_none(Role.CASSETTE)
        self.facts.set(SPROCKETS, str(teeth[0]))

    def _take_sprockets(self, answer: str) -> None:
        told = sprockets_in(answer)
        if told is None:
            self._take_cassette(answer)
        elif told.every:
            self.facts.set(SPROCKETS, ", ".join(map(str, told.every)))
        else:
            self._ends = _possible(told, self.library)

    def _take_cassette(self, name: str) -> None:
        """Take a known cassette by its id; what it sits on is then known too, since it is on the bike."""
        self.facts.set(Role.CASSETTE.value, name)
        mount = self.facts.text_of("cassette.mount")
        if mount and self.facts.is_open("rear-hub.sprocket-mount"):
            self.facts.set("rear-hub.sprocket-mount", mount)

    def _take_teeth(self, name: str, answer: str) -> None:
        numbers = teeth_in(answer)
        self.facts.set(name, ", ".join(map(str, numbers)) if numbers else answer)

    def _note_ends(self, told: Sprockets) -> None:
        """Only the ends are told: the bike's file says so, and how many gears the shifter has where that is known."""
        if self.facts.is_open("cassette.note"):
            self.facts.set("cassette.note", f"{told.words}. Every sprocket is to be counted.")
            if told.count and self.facts.is_open("rear-shifter.speeds"):
                self.facts.set("rear-shifter.speeds", str(told.count))


def _possible(told: Sprockets, library: Library) -> Sprockets:
    """The sprockets, where a shifter can have so many gears.

    Raises:
        FactError: it can't.
    """
    if told.count:
        read_fact(kind_for(Role.REAR_SHIFTER), Role.REAR_SHIFTER.value, "speeds", str(told.count), library)
    return told


def _choice(name: str, words: str, cases: Mapping[str, str]) -> Question:
    return Question(id=name, words=words, kind=Kind.CHOICE, cases=cases)
