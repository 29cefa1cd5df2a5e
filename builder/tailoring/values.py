"""The named values that texts may show, for one bike and its plan."""

from __future__ import annotations

from dataclasses import replace

from builder.checks.chain_wear import wear_limit_percent
from builder.model.bike import Bike
from builder.model.facts import Role
from builder.model.parts import (
    Cassette,
    Crankset,
    Frame,
    SprocketSpacer,
)
from builder.model.units import Measure, Unit, write_number, write_quantity
from builder.planning.attributes import links_to_remove
from builder.planning.plan import Plan
from builder.planning.worked_out import axle_growth_mm, links_needed
from builder.tailoring.limits import limits_of


def named_values(bike: Bike | None, plan: Plan | None) -> dict[str, str]:
    """What is known of the bike as the plan will leave it, by the names of the catalogue's values."""
    if bike is None:
        return {}
    after = plan.after if plan is not None else bike
    found: dict[str, str] = {"bike.name": bike.name}
    found |= _of_sprockets(after) | _of_frame(after) | limits_of(after)
    if plan is not None:
        found |= _of_chain(plan)
        for role, part in ((role, part) for role, part in after.parts.items() if plan.replaces(role)):
            found[f"part.{role.value}"] = part.name
    return found


def _of_sprockets(bike: Bike) -> dict[str, str]:
    found: dict[str, str] = {}
    cassette, crankset = bike.part(Role.CASSETTE), bike.part(Role.CRANKSET)
    if isinstance(cassette, Cassette) and cassette.sprockets:
        least, most, count = min(cassette.sprockets), max(cassette.sprockets), len(cassette.sprockets)
        found["cassette.smallest"], found["cassette.largest"] = str(least), str(most)
        found["cassette.range"], found["cassette.count"] = f"{least} to {most} teeth", str(count)
        found["chain.speeds"] = str(count)
        found["chain.stretch-limit"] = write_quantity(wear_limit_percent(count), Unit.PERCENT, 2)
    if isinstance(crankset, Crankset) and crankset.rings:
        found["ring.largest"] = str(max(crankset.rings))
    spacer = bike.part(Role.SPROCKET_SPACER)
    if isinstance(spacer, SprocketSpacer) and spacer.width_mm is not None:
        found["spacer.width"] = write_quantity(spacer.width_mm, Unit.MILLIMETRE, 2)
    return found


def _of_frame(bike: Bike) -> dict[str, str]:
    frame = bike.part(Role.FRAME)
    if not isinstance(frame, Frame) or frame.chainstay_mm is None:
        return {}
    found = {"chainstay": write_quantity(frame.chainstay_mm.value, Unit.MILLIMETRE)}
    growth = axle_growth_mm(bike)
    if growth is not None:
        found["axle.longest"] = write_quantity(frame.chainstay_mm.value + growth.value, Unit.MILLIMETRE)
    return found


def _of_chain(plan: Plan) -> dict[str, str]:
    found: dict[str, str] = {}
    length = plan.result("chain-length")
    reach = plan.result("chain-reach") or plan.result("chain-supply")
    if length is not None and length.value is not None:
        found["chain.links"] = f"{length.value:.0f}"
    if reach is not None and reach.value is not None:
        found["chain.has"] = f"{reach.value:.0f}"
    remove = links_to_remove(plan)
    if remove:
        found["chain.remove"] = f"{remove} links"
    return found


def chain_table(plan: Plan) -> str:
    """Links for each axle distance, as a line of text, where the chainstay is still to be measured; '' else.

    The distances are those of common frames; the answer is that of the chain-length check at each millimetre.
    """
    cassette, crankset = plan.after.part(Role.CASSETTE), plan.after.part(Role.CRANKSET)
    if not isinstance(cassette, Cassette) or not isinstance(crankset, Crankset):
        return ""
    if not cassette.sprockets or not crankset.rings:
        return ""
    spans: list[tuple[int, int, int]] = []
    for distance_mm in range(400, 471):
        links = links_needed(_with_chainstay(plan.after, float(distance_mm)))
        if links is None:
            return ""
        if spans and spans[-1][2] == links:
            spans[-1] = (spans[-1][0], distance_mm, links)
        else:
            spans.append((distance_mm, distance_mm, links))
    lines = [f"{low} to {high} mm: {links} links" for low, high, links in spans]
    return "Links that the chain needs: " + "; ".join(lines) + "."


def _with_chainstay(bike: Bike, chainstay_mm: float) -> Bike:
    frame = bike.part(Role.FRAME)
    known = frame if isinstance(frame, Frame) else Frame(name="")
    return replace(bike, parts={**bike.parts, Role.FRAME: replace(known, chainstay_mm=Measure(chainstay_mm))})


def wear_line(plan: Plan) -> str:
    """How long 24 links may be, as a line of text."""
    cassette = plan.after.part(Role.CASSETTE)
    if not isinstance(cassette, Cassette) or not cassette.sprockets:
        return ""
    limit = wear_limit_percent(len(cassette.sprockets))
    length = write_number(24 * 12.7 * (1 + limit / 100))
    return f"If 24 links are longer than {length} mm, install a new chain ({write_number(limit, 2)} % of wear)."
