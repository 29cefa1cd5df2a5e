"""What the upkeep of one bike calls for, over every guide that suits it: its fasteners with their torque, and tools."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial

from builder.model.bike import Bike
from builder.model.catalogue import Fastener, Tool
from builder.model.condition import Condition
from builder.model.deciding import decided
from builder.model.facts import Role
from builder.model.guide import Guide, Step
from builder.model.inlining import inlined
from builder.model.library import Library, records_of
from builder.model.memory import Memory
from builder.tailoring.alike import Alike, attributes_of
from builder.tailoring.gathering import tools_of
from builder.tailoring.tailored import ShownStep, Torque


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidStep:
    """What upkeep asks of a step: when it is done, and by what. `bare` is the step without its texts."""

    condition: Condition
    bare: Step


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidGuide:
    """What upkeep asks of a guide, which most changes of its words leave as it is.

    `changes` are the places whose part it may change. `family` and `title` are what lists show of it. `attributes` are
    those that its conditions ask.
    """

    id: str
    title: str
    family: str
    suits: Condition
    changes: frozenset[Role]
    attributes: tuple[str, ...]
    steps: tuple[LaidStep, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolUse:
    """A tool and the guides that ask for it; `owned` says whether the workshop has it."""

    tool: Tool
    owned: bool
    guides: tuple[Guide | LaidGuide, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Upkeep:
    """The bike as it stands: the guides that suit it, what they tighten and what they are done with.

    `torques` are those of fasteners that the bike surely has, in the order of the catalogue. `unsure` are fasteners of
    which its file does not say whether the bike has them. `families` are as `families_of` tells.
    """

    bike: Bike
    guides: tuple[LaidGuide, ...]
    torques: tuple[Torque, ...]
    tools: tuple[ToolUse, ...]
    unsure: tuple[Fastener, ...]
    families: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Called:
    """What one guide calls for on a bike: its steps, and the fasteners of those that the bike surely, or may have."""

    suits: bool | None
    steps: tuple[Step, ...] = ()
    surely: tuple[str, ...] = ()
    perhaps: tuple[str, ...] = ()


class Upkeeps:
    """Tells the upkeep of bikes of one library; what all have in common, and what `memory` holds, is made once.

    `families` are as `families_of` tells, and `catalogue` stands for all that is neither guide nor bike.
    """

    def __init__(self, library: Library, memory: Memory | None = None) -> None:
        self._library = replace(library, guides={}, procedures={}, bikes={}, tried={}, printed={})
        self._memory = memory or Memory(lasting=False)
        self.catalogue = self._memory.standing_for(tuple(records_of(self._library)))
        self._laid = tuple(self._laid_out(guide, library) for guide in library.guides.values())
        self.families = self._memory.same("families", _families(self._laid, library))

    def _laid_out(self, guide: Guide, library: Library) -> LaidGuide:
        records = (guide, *library.procedures.values(), *library.states.values())
        made = self._memory.of("laid", (), records, lambda: laid_out(guide, library))
        # Another word in a step makes a guide that is laid out alike: then it is the one that was there before.
        return self._memory.same(("laid", guide.id), made)

    def of(self, bike: Bike) -> Upkeep:
        """The upkeep of a bike."""
        records = (bike, self.catalogue, self.families, *self._laid)
        return self._memory.of("upkeep", (), records, lambda: self._worked_out(bike))

    def _worked_out(self, bike: Bike) -> Upkeep:
        library = self._library
        at_hand = self._memory.once.of(Alike, Alike).at_hand(bike, None, library)
        torque = partial(at_hand.torque, after=False)
        own = frozenset(name for part in bike.parts.values() for name in part.torques_nm)
        surely, perhaps = set(own), set[str]()
        suiting: list[LaidGuide] = []
        used: dict[str, list[Guide | LaidGuide]] = {}
        for guide in self._laid:
            called = self._called(guide, at_hand.cases)
            surely.update(called.surely)
            perhaps.update(called.perhaps)
            if called.suits:
                suiting.append(guide)
                for name in self._tools(guide, called, torque):
                    used.setdefault(name, []).append(guide)
        fasteners = [fastener for fastener in library.fasteners.values() if fastener.role not in bike.without]
        return Upkeep(
            bike=bike,
            guides=tuple(suiting),
            torques=tuple(torque(fastener.id) for fastener in fasteners if fastener.id in surely),
            tools=tool_uses(used, library),
            unsure=tuple(fastener for fastener in fasteners if fastener.id in perhaps - surely),
            families=self.families,
        )

    def _called(self, guide: LaidGuide, cases: Mapping[str, str]) -> _Called:
        """What the guide calls for on a bike of these cases."""

        def made() -> _Called:
            suits = decided(guide.suits, cases)
            if suits is False:
                return _Called(suits=suits)
            steps = [(one.bare, decided(one.condition, cases)) for one in guide.steps]
            kept = [(step, bool(holds and suits)) for step, holds in steps if holds is not False]
            return _Called(
                suits=suits,
                steps=tuple(step for step, _ in kept),
                surely=tuple(dict.fromkeys(name for step, sure in kept if sure for name in _fasteners(step))),
                perhaps=tuple(dict.fromkeys(name for step, sure in kept if not sure for name in _fasteners(step))),
            )

        key = ("called for", id(guide), *map(cases.get, guide.attributes))
        return self._memory.once.of(key, made, guide)

    def _tools(self, guide: LaidGuide, called: _Called, torque: Callable[[str], Torque]) -> tuple[str, ...]:
        """The tools that the guide asks for, in the order of first use."""
        torques = tuple(map(torque, (*called.surely, *called.perhaps)))

        def made() -> tuple[str, ...]:
            shown = (_shown(number, step, self._library, torque) for number, step in enumerate(called.steps, 1))
            return tuple(item.tool.id for item in tools_of(shown, self._library) if item.tool is not None)

        key = ("tools", id(guide), id(called), *map(id, torques))
        return self._memory.once.of(key, made, (guide, called, torques))


def laid_out(guide: Guide, library: Library) -> LaidGuide:
    """A guide with all its steps, as far as upkeep asks for them."""
    placed = inlined(guide, library)
    return LaidGuide(
        id=guide.id,
        title=guide.title,
        family=guide.family,
        suits=guide.suits,
        changes=frozenset((*guide.wants, *guide.takes)),
        steps=tuple(LaidStep(condition=one.condition, bare=_bare(one.step)) for one in placed),
        attributes=attributes_of((guide.suits, *(one.condition for one in placed))),
    )


def _bare(step: Step) -> Step:
    return Step(
        id=step.id,
        do="",
        tools=step.tools,
        loosens=step.loosens,
        tightens=step.tightens,
        tries=step.tries,
        measure=step.measure,
    )


def upkeep_of(bike: Bike, library: Library) -> Upkeep:
    """Everything that the guides which suit `bike` tighten and use on it, and the figures that its parts carry."""
    return Upkeeps(library).of(bike)


def tool_uses(used: Mapping[str, list[Guide | LaidGuide]], library: Library) -> tuple[ToolUse, ...]:
    """The tools of the catalogue that are named in `used`, by name, each with its guides."""
    owned = frozenset(library.workshop.tools)
    tools = sorted((library.tools[name] for name in used), key=lambda tool: _by_size(tool.name))
    return tuple(ToolUse(tool=tool, owned=not owned or tool.id in owned, guides=tuple(used[tool.id])) for tool in tools)


def families_of(library: Library) -> dict[str, str]:
    """The family of guides that a fastener belongs to, by fastener.

    It is the family of the most guides that tighten it, the first by name where several are level; for one that no
    guide tightens, that of the most fasteners in the same place on the bike. One with neither is left out.
    """
    return _families((laid_out(guide, library) for guide in library.guides.values()), library)


def _families(guides: Iterable[LaidGuide], library: Library) -> dict[str, str]:
    votes: dict[str, Counter[str]] = {}
    for guide in guides:
        for name in dict.fromkeys(laid.bare.tightens for laid in guide.steps):
            if name is not None:
                votes.setdefault(name, Counter())[guide.family] += 1
    found = {name: _most(family) for name, family in votes.items()}
    places: dict[Role, Counter[str]] = {}
    for name, family in found.items():
        role = library.fasteners[name].role
        if role is not None:
            places.setdefault(role, Counter())[family] += 1
    for fastener in library.fasteners.values():
        if fastener.id not in found and fastener.role in places:
            found[fastener.id] = _most(places[fastener.role])
    return found


def _most(votes: Counter[str]) -> str:
    return min(votes, key=lambda name: (-votes[name], name))


def _by_size(name: str) -> tuple[tuple[float, str], ...]:
    """A name to sort by, in which a size counts as a number: 9 mm before 10 mm."""
    pieces = re.findall(r"\d+(?:\.\d+)?|\D+", name.casefold())
    return tuple((float(piece), "") if piece[0].isdecimal() else (math.inf, piece) for piece in pieces)


def _fasteners(step: Step) -> tuple[str, ...]:
    return tuple(name for name in (step.tightens, step.loosens, *step.tries) if name is not None)


def _shown(number: int, step: Step, library: Library, torque: Callable[[str], Torque]) -> ShownStep:
    """The step with what decides its tools; its texts are not asked for."""
    return ShownStep(
        number=number,
        step=step,
        do="",
        torque=torque(step.tightens) if step.tightens else None,
        loosens=torque(step.loosens) if step.loosens else None,
        tried=tuple(map(torque, step.tries)),
        measurement=library.measurements.get(step.measure) if step.measure else None,
    )
