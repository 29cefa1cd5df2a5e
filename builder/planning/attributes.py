"""Answer the catalogue's attributes for one bike and its plan: what its conditions are held against."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from enum import Enum

from builder.model.bike import Bike
from builder.model.catalogue import Attribute, Stage
from builder.model.facts import Fitted, Material, Role
from builder.model.library import Library
from builder.model.parts import Crankset, SeatPost
from builder.planning.plan import ChainWork, Plan
from builder.planning.worked_out import transmission

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


_OF_BIKE: Mapping[str, Callable[[Bike], str | None]] = {
    "transmission": transmission,
    "chainrings": _chainrings,
    "gear-line": _gear_line,
    "bike-weight": _bike_weight,
    "clamp-place": _clamp_place,
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
    result = next((result for result in plan.checks if result.check == name), None)
    return 0 if result is None or result.value is None else int(result.named(count))


_OF_PLAN: Mapping[str, Callable[[Plan], str]] = {
    "rear-derailleur-plan": _replaced(Role.REAR_DERAILLEUR),
    "shifter-plan": _replaced(Role.REAR_SHIFTER),
    "chain-plan": lambda plan: plan.chain_work.value,
    "spacer-plan": lambda plan: "fitted" if plan.replaces(Role.SPROCKET_SPACER) else "none",
    "chain-cut": _chain_cut,
}
COMPUTED = frozenset(_OF_BIKE) | frozenset(_OF_PLAN)


def case_of(attribute: Attribute, bike: Bike, plan: Plan | None) -> str | None:
    """The case of `attribute` for `bike`, or None where its file does not say.

    Without a plan the bike stays as it is: a planned attribute is asked of the bike as found, and an attribute of the
    plan answers with its idle case.
    """
    if attribute.source == "computed":
        if attribute.id in _OF_PLAN:
            return (attribute.idle or None) if plan is None else _OF_PLAN[attribute.id](plan)
        compute = _OF_BIKE.get(attribute.id)
        return None if compute is None else compute(bike)
    asked = plan.after if plan is not None and attribute.stage is Stage.PLANNED else bike
    name, _, field = attribute.source.partition(".")
    role = Role(name)
    part = asked.part(role)
    if part is None:
        return attribute.without if role in asked.without and attribute.without else None
    value = getattr(part, field.replace("-", "_"), None)
    return value.value if isinstance(value, Enum) else None


def cases_of(library: Library, bike: Bike, plan: Plan | None) -> dict[str, str]:
    """The case of every attribute that is known for `bike` and its plan."""
    found = ((name, case_of(attribute, bike, plan)) for name, attribute in library.attributes.items())
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
        case _:
            name, _, field = attribute.source.partition(".")
            place = f"parts: {name}:"
            none = f", or '{name}: none' where the bike has none" if attribute.without else ""
            return f"write '{field.replace('_', '-')}:' under '{place}' with one of: {cases}{none}"
