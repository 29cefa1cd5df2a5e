"""What the jobs of many bikes have alike, made once: a step by what it hangs on, a torque, what is gathered.

    steps of a guide ─► the names, attributes and fasteners that each hangs on ─► one shown step for all bikes alike

In a fleet nearly every step of a job is on another bike the same to the letter. Whoever tailors many jobs hands one
`Alike` to all of them; what comes of it equals what each job would have come to by itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, fields
from functools import cached_property

from builder.model.bike import Bike
from builder.model.catalogue import Caution, Fastener
from builder.model.condition import Condition, asked
from builder.model.guide import Guide, Step
from builder.model.inlining import inlined
from builder.model.library import Library
from builder.model.named_values import names_in
from builder.model.once import Once
from builder.model.sharing import Sharing
from builder.planning.attributes import cases_of
from builder.planning.known_answers import KnownAnswers
from builder.planning.plan import Plan
from builder.tailoring.hazards import caution_text, cautions_for
from builder.tailoring.tailored import Torque
from builder.tailoring.torques import Figure, figure_for, torque_from
from builder.tailoring.values import named_values

# What a guide for one bike does not hang on but by the bike and its plan.
_BESIDE = frozenset({"guides", "bikes", "parts", "tried", "printed", "dress"})
# What a job is given only in part: then the records themselves say whether it is the same.
_IN_PART = frozenset({"procedures", "fasteners"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """What a step hangs on besides its fasteners and its drawing.

    `cautions` are those of some bike, gravest first. `values` are those that its texts and theirs show, `attributes`
    those that the cautions ask; the step's own conditions only have a say while they are open.
    """

    cautions: tuple[Caution, ...]
    values: tuple[str, ...]
    attributes: tuple[str, ...]


class OfGuide:
    """One guide on the shelves of one library: its steps, what each hangs on, and what was made of them."""

    def __init__(self, guide: Guide, library: Library, hanging: Callable[[Step], Hanging]) -> None:
        self.steps = inlined(guide, library)
        self.once = Once()
        self._find = hanging
        self._hanging: dict[int, tuple[Step, Hanging]] = {}

    @cached_property
    def attributes(self) -> tuple[str, ...]:
        """Every attribute that the conditions of its steps ask."""
        return attributes_of(condition for placed in self.steps for condition in placed.conditions)

    def hanging(self, step: Step) -> Hanging:
        """What a step of the guide hangs on."""
        known = self._hanging.get(id(step))
        if known is None:
            known = self._hanging[id(step)] = (step, self._find(step))
        return known[1]


class AtHand:
    """One bike with a plan, or none: what its jobs ask of it, worked out when it is first asked for."""

    def __init__(self, bike: Bike | None, plan: Plan | None, library: Library, torques: Once) -> None:
        self.bike, self.plan = bike, plan
        self._library, self._torques = library, torques
        self._turned: dict[tuple[str, bool], Torque] = {}

    @cached_property
    def cases(self) -> Mapping[str, str]:
        """The cases of the bike with its plan."""
        return {} if self.bike is None else cases_of(self._library, self.bike, self.plan)

    @cached_property
    def values(self) -> Mapping[str, str]:
        """The values that texts may show."""
        return named_values(self.bike, self.plan)

    @cached_property
    def values_told(self) -> tuple[tuple[str, str], ...]:
        """The same in the order of their names."""
        return tuple(sorted(self.values.items()))

    @cached_property
    def after(self) -> Bike | None:
        """The bike as the plan will leave it."""
        return self.plan.after if self.plan is not None else self.bike

    @cached_property
    def _cases_found(self) -> Mapping[str, str]:
        return {} if self.bike is None else cases_of(self._library, self.bike, None)

    @cached_property
    def _cases_after(self) -> Mapping[str, str]:
        if self.after is self.bike or self.after is None:
            return self._cases_found
        return cases_of(self._library, self.after, None)

    def torque(self, name: str, *, after: bool) -> Torque:
        """The torque of a fastener on the bike as found, or as the plan will leave it; equal ones are one."""
        found = self._turned.get((name, after))
        if found is None:
            fastener = self._library.fasteners[name]
            found = self._turned[name, after] = self._torque(fastener, after=after)
        return found

    def _torque(self, fastener: Fastener, *, after: bool) -> Torque:
        bike = self.after if after else self.bike
        figure: Figure = figure_for(fastener, bike, lambda: self._cases_after if after else self._cases_found)
        return self._torques.of(
            (id(fastener), figure), lambda: torque_from(fastener, figure, self._library), held=fastener
        )


class Alike:
    """What was made for the jobs of one run."""

    def __init__(self) -> None:
        self.sharing = Sharing()
        self._made = Once()
        self._at_hand: tuple[tuple[object, ...], AtHand] | None = None

    def of_guide(self, guide: Guide, library: Library) -> OfGuide:
        """The steps of a guide and what was made of them from the very same records."""
        shelves = tuple(_shelves(library))
        return self._made.of(
            (id(guide), *map(id, shelves)),
            lambda: OfGuide(guide, library, lambda step: self._hanging(step, library)),
            (guide, shelves),
        )

    def _hanging(self, step: Step, library: Library) -> Hanging:
        """What a step hangs on; one of a procedure is the same in every guide that uses it."""
        turned = tuple(library.fasteners.get(name) for name in (step.loosens, step.tightens) if name is not None)
        records = (step, library.cautions, library.verbs, library.glossary, *turned)
        return self._made.of(("hanging", *map(id, records)), lambda: _hanging_of(step, library), records)

    def answers(self, library: Library) -> KnownAnswers:
        """What checks answered for the workshop of a library."""
        asked = (library.workshop, library.tools, library.standards)
        return self._made.of(("answers", *map(id, asked)), lambda: KnownAnswers(self.sharing), asked)

    def at_hand(self, bike: Bike | None, plan: Plan | None, library: Library) -> AtHand:
        """The bike with its plan; jobs of one bike that change nothing share it, where they come in a row."""
        looked_at = (library.attributes, library.standards, library.fasteners, library.tools, library.sources)
        stays = plan is not None and _changes_nothing(plan)
        key = (bike, None if stays else plan, stays, library.workshop, *looked_at)
        if self._at_hand is None or not all(one is other for one, other in zip(key, self._at_hand[0], strict=True)):
            tools = (library.tools, library.sources, library.workshop)
            torques = self._made.of(("torques", *map(id, tools)), Once, tools)
            self._at_hand = (key, AtHand(bike, plan, library, torques))
        return self._at_hand[1]


def _hanging_of(step: Step, library: Library) -> Hanging:
    # Without any case every caution is found that some bike may have.
    cautions = cautions_for(step, library, {})
    texts = (*_texts_of(step), *map(caution_text, cautions))
    return Hanging(
        cautions=cautions,
        values=tuple(dict.fromkeys(name for text in texts for name in names_in(text))),
        attributes=attributes_of(caution.when for caution in cautions),
    )


def _shelves(library: Library) -> Iterator[object]:
    for one in fields(library):
        if one.name in _IN_PART:
            yield from getattr(library, one.name).values()
        elif one.name not in _BESIDE:
            yield getattr(library, one.name)


def _changes_nothing(plan: Plan) -> bool:
    """Whether the plan says no more than that the bike stays as it is."""
    return plan.after is plan.bike and not plan.wanted and plan == Plan(bike=plan.bike, after=plan.bike)


def attributes_of(conditions: Iterable[Condition]) -> tuple[str, ...]:
    """Every attribute that the conditions ask, once."""
    return tuple(dict.fromkeys(question.attribute for condition in conditions for question in asked(condition)))


def _texts_of(step: Step) -> Iterator[str]:
    yield from (step.do, step.why, step.prove, step.until, step.limit)
    for choice in step.choose:
        yield from (choice.do, choice.why)
