"""What the upkeep of one bike calls for, over every guide that suits it: its fasteners with their torque, and tools."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cache, partial

from builder.model.bike import Bike
from builder.model.catalogue import Fastener, Tool
from builder.model.deciding import decided
from builder.model.facts import Role
from builder.model.guide import Guide, Step
from builder.model.inlining import PlacedStep, inlined
from builder.model.library import Library, records_of
from builder.model.memory import Memory
from builder.model.once import Once
from builder.tailoring.alike import Alike, attributes_of
from builder.tailoring.gathering import tools_of
from builder.tailoring.tailored import ShownStep, Torque


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolUse:
    """A tool and the guides that ask for it; `owned` says whether the workshop has it."""

    tool: Tool
    owned: bool
    guides: tuple[Guide, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Upkeep:
    """The bike as it stands: the guides that suit it, what they tighten and what they are done with.

    `torques` are those of fasteners that the bike surely has, in the order of the catalogue. `unsure` are fasteners of
    which its file does not say whether the bike has them. `families` are as `families_of` tells.
    """

    bike: Bike
    guides: tuple[Guide, ...]
    torques: tuple[Torque, ...]
    tools: tuple[ToolUse, ...]
    unsure: tuple[Fastener, ...]
    families: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidSteps:
    """What is the same for all bikes: the steps of every guide of a library with the attributes that decide them.

    `families` are those of its fasteners. `once` holds what guides call for on bikes that are alike, `alike` their
    torques.
    """

    of: Mapping[str, tuple[PlacedStep, ...]]
    attributes: Mapping[str, tuple[str, ...]]
    families: Mapping[str, str]
    once: Once = field(default_factory=Once, compare=False, repr=False)
    alike: Alike = field(default_factory=Alike, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Called:
    """What one guide calls for on a bike: its steps, and the fasteners of those that the bike surely, or may have."""

    suits: bool | None
    steps: tuple[Step, ...] = ()
    surely: tuple[str, ...] = ()
    perhaps: tuple[str, ...] = ()


def laid_steps(library: Library, alike: Alike | None = None) -> LaidSteps:
    """What is worked out once for all bikes whose upkeep is asked for; `alike` is what was made for their jobs."""
    of = {name: inlined(guide, library) for name, guide in library.guides.items()}
    conditions = {name: (guide.suits, *(one.condition for one in of[name])) for name, guide in library.guides.items()}
    return LaidSteps(
        of=of,
        attributes={name: attributes_of(asked) for name, asked in conditions.items()},
        families=families_of(library),
        alike=alike or Alike(),
    )


def upkeep_of(bike: Bike, library: Library, laid: LaidSteps | None = None) -> Upkeep:
    """Everything that the guides which suit `bike` tighten and use on it, and the figures that its parts carry.

    Who asks for many bikes gives what `laid_steps` says of the library.
    """
    laid = laid or laid_steps(library)
    at_hand = laid.alike.at_hand(bike, None, library)
    cases, torque = at_hand.cases, partial(at_hand.torque, after=False)
    own = frozenset(name for part in bike.parts.values() for name in part.torques_nm)
    surely, perhaps = set(own), set[str]()
    suiting: list[Guide] = []
    used: dict[str, list[Guide]] = {}
    for guide in library.guides.values():
        called = _called(guide, laid, cases)
        surely.update(called.surely)
        perhaps.update(called.perhaps)
        if called.suits:
            suiting.append(guide)
            for name in _tools(guide, called, laid, library, torque):
                used.setdefault(name, []).append(guide)
    fasteners = [fastener for fastener in library.fasteners.values() if fastener.role not in bike.without]
    return Upkeep(
        bike=bike,
        guides=tuple(suiting),
        torques=tuple(torque(fastener.id) for fastener in fasteners if fastener.id in surely),
        tools=tool_uses(used, library),
        unsure=tuple(fastener for fastener in fasteners if fastener.id in perhaps - surely),
        families=laid.families,
    )


def upkeeps_in(library: Library, memory: Memory | None = None) -> Callable[[Bike], Upkeep]:
    """What tells the upkeep of a bike of `library`; what all bikes share, and what `memory` holds, is made once."""
    remember = memory or Memory(lasting=False)
    shelf = replace(library, bikes={}, tried={}, printed={})
    records = tuple(records_of(shelf))

    @cache
    def laid() -> LaidSteps:
        return laid_steps(shelf, remember.once.of(Alike, Alike))

    return lambda bike: remember.of("upkeep", "", (bike, *records), lambda: upkeep_of(bike, shelf, laid()))


def tool_uses(used: Mapping[str, list[Guide]], library: Library) -> tuple[ToolUse, ...]:
    """The tools of the catalogue that are named in `used`, by name, each with its guides."""
    owned = frozenset(library.workshop.tools)
    tools = sorted((library.tools[name] for name in used), key=lambda tool: _by_size(tool.name))
    return tuple(ToolUse(tool=tool, owned=not owned or tool.id in owned, guides=tuple(used[tool.id])) for tool in tools)


def families_of(library: Library) -> dict[str, str]:
    """The family of guides that a fastener belongs to, by fastener.

    It is the family of the most guides that tighten it, the first by name where several are level; for one that no
    guide tightens, that of the most fasteners in the same place on the bike. One with neither is left out.
    """
    votes: dict[str, Counter[str]] = {}
    for guide in library.guides.values():
        for name in dict.fromkeys(placed.step.tightens for placed in inlined(guide, library)):
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


def _called(guide: Guide, laid: LaidSteps, cases: Mapping[str, str]) -> _Called:
    """What the guide calls for on a bike of these cases."""

    def made() -> _Called:
        suits = decided(guide.suits, cases)
        if suits is False:
            return _Called(suits=suits)
        steps = [(one.step, decided(one.condition, cases)) for one in laid.of[guide.id]]
        kept = [(step, bool(holds and suits)) for step, holds in steps if holds is not False]
        return _Called(
            suits=suits,
            steps=tuple(step for step, _ in kept),
            surely=tuple(dict.fromkeys(name for step, sure in kept if sure for name in _fasteners(step))),
            perhaps=tuple(dict.fromkeys(name for step, sure in kept if not sure for name in _fasteners(step))),
        )

    return laid.once.of((guide.id, *map(cases.get, laid.attributes[guide.id])), made)


def _tools(
    guide: Guide, called: _Called, laid: LaidSteps, library: Library, torque: Callable[[str], Torque]
) -> tuple[str, ...]:
    """The tools that the guide asks for, in the order of first use."""
    torques = tuple(map(torque, (*called.surely, *called.perhaps)))

    def made() -> tuple[str, ...]:
        shown = (_shown(number, step, library, torque) for number, step in enumerate(called.steps, 1))
        return tuple(item.tool.id for item in tools_of(shown, library) if item.tool is not None)

    return laid.once.of(("tools", guide.id, id(called), *map(id, torques)), made, (called, torques))


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
