"""Answer the catalogue's attributes for one bike and its plan: what its conditions are held against."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import Enum

from builder.model.bike import Bike
from builder.model.catalogue import Attribute, Stage, Standard
from builder.model.facts import Actuation, Fitted, Material, Role, Spring, Suspension
from builder.model.library import Library
from builder.model.parts import Cassette, Chain, Crankset, Frame, SeatPost, Shifter, Shock
from builder.planning.plan import ChainWork, Plan
from builder.planning.worked_out import axle_growth_mm, transmission

_COUNT_WORDS = {1: "one", 2: "two", 3: "three"}


def _chainrings(bike: Bike) -> str | None:
    crankset = bike.part(Role.CRANKSET)
    return _COUNT_WORDS.get(len(crankset.rings)) if isinstance(crankset, Crankset) else None


def _gear_line(bike: Bike) -> str | None:
    kind = transmission(bike)
    return None if kind is None else "cable" if kind == "hub-gear" else "none"


# More than this, and two persons or a lift raise the bike [kg]; common practice, no source.
HEAVY_KG = 25.0


def _bike_weight(bike: Bike) -> str:
    mass_kg = bike.measured.bike_mass_kg
    return "not-weighed" if mass_kg is None else "two-persons" if mass_kg > HEAVY_KG else "one-person"


def _clamp_place(bike: Bike) -> str:
    """Where a stand may hold the bike: carbon is crushed, and the moving tube of a dropper post is scratched."""
    post = bike.part(Role.SEAT_POST)
    if not isinstance(post, SeatPost):
        return "not-known"
    if post.material is Material.CARBON or post.dropper is Fitted.FITTED:
        return "no-post"
    return "not-known" if post.material is None or post.dropper is None else "metal-post"


def _axle_growth(bike: Bike) -> str:
    """Whether the chain of a sprung rear end can be counted from numbers alone, without the rear end being moved."""
    frame = bike.part(Role.FRAME)
    sprung = isinstance(frame, Frame) and frame.suspension not in (Suspension.RIGID, Suspension.FRONT)
    return "known" if sprung and axle_growth_mm(bike) is not None else "unknown"


# From this many bolts on a ring's bolts have nuts: common practice, no source.
_SURELY_WITH_NUTS = 4


def _ring_mount(bike: Bike) -> str | None:
    """A ring on four bolts or more needs no further word; how another one is held must be written.

    Three may be bolts with nuts, or the small screws of a ring held direct, which bear a third of their torque.
    """
    crankset = bike.part(Role.CRANKSET)
    if not isinstance(crankset, Crankset):
        return None
    if crankset.ring_mount is not None:
        return crankset.ring_mount.value
    return "bolts" if crankset.ring_bolts and crankset.ring_bolts >= _SURELY_WITH_NUTS else None


def _drive_line(bike: Bike) -> str | None:
    """What is written of a chain's width, length or joiner says that it is one."""
    chain = bike.part(Role.CHAIN)
    if not isinstance(chain, Chain):
        return None
    if chain.drive_line is not None:
        return chain.drive_line.value
    return "chain" if chain.speeds or chain.links is not None or chain.joiner is not None else None


def _indexing(bike: Bike) -> str | None:
    """A friction lever has neither a cable pull for a click nor a shifting standard: either says that it clicks."""
    shifter = bike.part(Role.REAR_SHIFTER)
    if not isinstance(shifter, Shifter):
        return None
    if shifter.indexing is not None:
        return shifter.indexing.value
    stepped = shifter.cable_pull_mm is not None or shifter.shift_standard or shifter.actuation is Actuation.ELECTRONIC
    return "clicks" if stepped else None


_OF_BIKE: Mapping[str, Callable[[Bike], str | None]] = {
    "transmission": transmission,
    "chainrings": _chainrings,
    "gear-line": _gear_line,
    "bike-weight": _bike_weight,
    "clamp-place": _clamp_place,
    "axle-growth": _axle_growth,
    "ring-mount": _ring_mount,
    "drive-line": _drive_line,
}

# From this many teeth on derailleurs are made with a wider gap below the largest sprocket: common practice, no source.
_WIDE_FROM_TEETH = 40


def _pulley_gap(bike: Bike) -> str | None:
    """Which gap is typical from the guide pulley to the largest sprocket."""
    cassette = bike.part(Role.CASSETTE)
    if not isinstance(cassette, Cassette) or not cassette.sprockets:
        return None
    return "wide" if max(cassette.sprockets) >= _WIDE_FROM_TEETH else "narrow"


# What is asked of the bike as the plan will leave it, worked out from its parts.
_OF_BIKE_AFTER: Mapping[str, Callable[[Bike], str | None]] = {
    "pulley-gap": _pulley_gap,
    "indexing": _indexing,
    "new-chainrings": _chainrings,
}


def _replaced(role: Role) -> Callable[[Plan], str]:
    return lambda plan: "replaced" if plan.replaces(role) else "kept"


def _chain_cut(plan: Plan) -> str:
    return "needed" if links_to_remove(plan) else "none"


def links_to_remove(plan: Plan) -> int:
    """Links that come off the chain that the bike will have; 0 where none do or where it is not known."""
    name, count = {
        ChainWork.REPLACED: ("chain-supply", "cut-off"),
        ChainWork.SHORTENED: ("chain-reach", "surplus"),
    }.get(plan.chain_work, ("", ""))
    result = plan.result(name)
    return 0 if result is None or result.value is None else int(result.named(count))


def _shock_work(plan: Plan) -> str:
    """Whether the shock gives up its air: only where the longest axle distance has to be found on the bike itself."""
    frame, shock = plan.after.part(Role.FRAME), plan.after.part(Role.SHOCK)
    sized = plan.chain_work in (ChainWork.REPLACED, ChainWork.DECIDED_AT_STAND)
    sprung = isinstance(shock, Shock) and shock.spring is Spring.AIR
    full = isinstance(frame, Frame) and frame.suspension is Suspension.FULL
    return "needed" if sized and sprung and full and _axle_growth(plan.after) == "unknown" else "none"


_OF_PLAN: Mapping[str, Callable[[Plan], str]] = {
    "rear-derailleur-plan": _replaced(Role.REAR_DERAILLEUR),
    "shifter-plan": _replaced(Role.REAR_SHIFTER),
    "bottom-bracket-plan": _replaced(Role.BOTTOM_BRACKET),
    "chain-plan": lambda plan: plan.chain_work.value,
    "spacer-plan": lambda plan: "fitted" if plan.replaces(Role.SPROCKET_SPACER) else "none",
    "chain-cut": _chain_cut,
    "shock-work": _shock_work,
}
COMPUTED = frozenset(_OF_BIKE) | frozenset(_OF_BIKE_AFTER) | frozenset(_OF_PLAN)


def case_of(attribute: Attribute, bike: Bike, plan: Plan | None, standards: Mapping[str, Standard]) -> str | None:
    """The case of `attribute` for `bike`, or None where its file does not say.

    A standard of a workshop's own has the case of its own name where the attribute has one, else that of what it is
    like, else none.

    Without a plan the bike stays as it is: a planned attribute is asked of the bike as found, and an attribute of the
    plan answers with its idle case.
    """
    if attribute.source == "computed":
        if attribute.id in _OF_PLAN:
            return (attribute.idle or None) if plan is None else _OF_PLAN[attribute.id](plan)
        if attribute.id in _OF_BIKE_AFTER:
            return _OF_BIKE_AFTER[attribute.id](bike if plan is None else plan.after)
        compute = _OF_BIKE.get(attribute.id)
        return None if compute is None else compute(bike)
    role = Role(attribute.source.partition(".")[0])
    asked = plan.after if plan is not None and attribute.stage is Stage.PLANNED else bike
    if asked.part(role) is None:
        return attribute.without if role in asked.without and attribute.without else None
    value = _value_of(attribute, asked)
    if isinstance(value, Enum):
        return str(value.value)
    own = standards.get(value) if isinstance(value, str) else None
    if own is None:
        return None
    return own.id if own.id in attribute.cases else own.like or None


def foreign(attribute: Attribute, bike: Bike, plan: Plan | None, standards: Mapping[str, Standard]) -> Standard | None:
    """The standard of a workshop's own that is none of the attribute's cases and like none, where the bike has it."""
    if attribute.source == "computed" or case_of(attribute, bike, plan, standards) is not None:
        return None
    value = _value_of(attribute, plan.after if plan is not None and attribute.stage is Stage.PLANNED else bike)
    return standards.get(value) if isinstance(value, str) else None


def _value_of(attribute: Attribute, bike: Bike) -> object:
    name, _, key = attribute.source.partition(".")
    return getattr(bike.part(Role(name)), key.replace("-", "_"), None)


def cases_of(library: Library, bike: Bike, plan: Plan | None) -> dict[str, str]:
    """The case of every attribute that is known for `bike` and its plan."""
    standards = library.standards
    found = ((name, case_of(attribute, bike, plan, standards)) for name, attribute in library.attributes.items())
    return {name: case for name, case in found if case is not None}


def what_to_write(attribute: Attribute) -> str:
    """What to write in a bike's file so that `attribute` is known."""
    cases = ", ".join(attribute.cases)
    match attribute.id:
        case "transmission":
            return "write the rear derailleur under 'parts:', or 'rear-derailleur: none' where there is none"
        case "chainrings":
            return "write 'rings: [..]' with the teeth of each chainring, under 'parts: crankset:'"
        case "gear-line":
            return "write 'gears:' of the rear hub under 'parts: rear-hub:'"
        case "bike-weight":
            return "write 'bike-mass:' under 'measured:'"
        case "clamp-place":
            return "write 'material:' and 'dropper:' under 'parts: seat-post:'"
        case "axle-growth":
            return "write 'axle-growth:' under 'parts: frame:'"
        case "ring-mount":
            return f"write 'ring-mount:' under 'parts: crankset:' with one of: {cases}"
        case "drive-line":
            return f"write 'drive-line:' under 'parts: chain:' with one of: {cases}"
        case "indexing":
            return f"write 'indexing:' of the shifter under 'parts: rear-shifter:' with one of: {cases}"
        case "pulley-gap":
            return "write 'sprockets: [..]' under 'parts: cassette:'"
        case _:
            name, _, field = attribute.source.partition(".")
            place = f"parts: {name}:"
            none = f", or '{name}: none' where the bike has none" if attribute.without else ""
            return f"write '{field.replace('_', '-')}:' under '{place}' with one of: {cases}{none}"
