"""The named values that texts may show, and the numbers that drawings are made from, for one bike and its plan."""

from __future__ import annotations

from collections.abc import Mapping

from builder.checks.chain_geometry import chain_links
from builder.checks.chain_wear import wear_limit_percent
from builder.checks.result import CheckResult
from builder.model.bike import Bike
from builder.model.facts import Joiner, Role
from builder.model.guide import Step
from builder.model.parts import (
    Cassette,
    Chain,
    Crankset,
    Fork,
    Frame,
    Hub,
    RearDerailleur,
    SeatPost,
    SprocketSpacer,
    Stem,
)
from builder.model.units import Measure, Unit, write_number, write_quantity
from builder.planning.attributes import links_to_remove
from builder.planning.plan import Plan
from builder.tailoring.limits import limits_of
from builder.tailoring.tailored import Number


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
    growth = frame.axle_growth_mm or Measure(0.0)
    longest = frame.chainstay_mm.value + growth.value
    return {
        "chainstay": write_quantity(frame.chainstay_mm.value, Unit.MILLIMETRE),
        "axle.longest": write_quantity(longest, Unit.MILLIMETRE),
    }


def _of_chain(plan: Plan) -> dict[str, str]:
    found: dict[str, str] = {}
    length = _result(plan, "chain-length")
    reach = _result(plan, "chain-reach") or _result(plan, "chain-supply")
    if length is not None and length.value is not None:
        found["chain.links"] = f"{length.value:.0f}"
    if reach is not None and reach.value is not None:
        found["chain.has"] = f"{reach.value:.0f}"
    remove = links_to_remove(plan)
    if remove:
        found["chain.remove"] = f"{remove} links"
    return found


def _result(plan: Plan, check: str) -> CheckResult | None:
    return next((result for result in plan.checks if result.check == check), None)


def chain_table(plan: Plan) -> str:
    """Links for each axle distance, as a line of text, where the chainstay is still to be measured; '' else.

    The distances are those of common frames; the answer is that of the chain-length check at each millimetre.
    """
    cassette, crankset = plan.after.part(Role.CASSETTE), plan.after.part(Role.CRANKSET)
    if not isinstance(cassette, Cassette) or not isinstance(crankset, Crankset):
        return ""
    if not cassette.sprockets or not crankset.rings:
        return ""
    ring, sprocket = max(crankset.rings), max(cassette.sprockets)
    spans: list[tuple[int, int, int]] = []
    for distance_mm in range(400, 471):
        links = chain_links(float(distance_mm), ring, sprocket)
        if spans and spans[-1][2] == links:
            spans[-1] = (spans[-1][0], distance_mm, links)
        else:
            spans.append((distance_mm, distance_mm, links))
    lines = [f"{low} to {high} mm: {links} links" for low, high, links in spans]
    return "Links that the chain needs: " + "; ".join(lines) + "."


def wear_line(plan: Plan) -> str:
    """How long 24 links may be, as a line of text."""
    cassette = plan.after.part(Role.CASSETTE)
    if not isinstance(cassette, Cassette) or not cassette.sprockets:
        return ""
    limit = wear_limit_percent(len(cassette.sprockets))
    length = write_number(24 * 12.7 * (1 + limit / 100))
    return f"If 24 links are longer than {length} mm, install a new chain ({write_number(limit, 2)} % of wear)."


def figure_numbers(step: Step, bike: Bike | None, plan: Plan | None) -> Mapping[str, Number]:
    """The numbers for the drawing of `step` on this bike; what is not known is left to the drawing's defaults."""
    if step.figure == "wheel-in-dropout":
        return {"wheel": "front" if "front-wheel" in step.handles else "rear"}
    if told := _told_by_fastener(step):
        return told
    if bike is None:
        return _usual(step)
    after = plan.after if plan is not None else bike
    cassette, crankset = after.part(Role.CASSETTE), after.part(Role.CRANKSET)
    frame, hub, chain = after.part(Role.FRAME), after.part(Role.REAR_HUB), after.part(Role.CHAIN)
    found: dict[str, Number] = {}
    match step.figure:
        case "chain-path":
            if isinstance(cassette, Cassette) and cassette.sprockets:
                found["sprocket"] = max(cassette.sprockets)
            if isinstance(crankset, Crankset) and crankset.rings:
                found["ring"] = max(crankset.rings)
            if isinstance(frame, Frame) and frame.chainstay_mm is not None:
                growth = frame.axle_growth_mm or Measure(0.0)
                found["chainstay"] = frame.chainstay_mm.value + growth.value
        case "sprocket-stack":
            if isinstance(hub, Hub) and hub.body_length_mm is not None:
                found["body"] = hub.body_length_mm
            if isinstance(cassette, Cassette) and cassette.sprockets:
                found["sprockets"] = cassette.sprockets
                if cassette.stack_mm is not None:
                    found["stack"] = cassette.stack_mm
            spacer = after.part(Role.SPROCKET_SPACER)
            if isinstance(spacer, SprocketSpacer) and spacer.width_mm is not None:
                found["spacer"] = spacer.width_mm
        case "limit-screws":
            if isinstance(cassette, Cassette) and len(cassette.sprockets) > 1:
                found["sprockets"] = cassette.sprockets
        case "chain-ends":
            if isinstance(chain, Chain) and chain.joiner is not None:
                found["joiner"] = "joining-pin" if chain.joiner is Joiner.JOINING_PIN else "quick-link"
        case "takeup-grid":
            rear = after.part(Role.REAR_DERAILLEUR)
            if isinstance(cassette, Cassette) and isinstance(crankset, Crankset) and isinstance(rear, RearDerailleur):
                found["rings"], found["sprockets"] = crankset.rings, cassette.sprockets
                if rear.capacity_teeth is not None:
                    found["rated"] = rear.capacity_teeth
        case "chain-gauge":
            if after.measured.chain_length_mm is not None and after.measured.chain_length_links is not None:
                found["length"] = after.measured.chain_length_mm.value
                found["links"] = after.measured.chain_length_links
            else:
                return _usual(step)
        case "bolt-circle":
            stem = after.part(Role.STEM)
            if "chainring-bolt" in step.handles:
                if isinstance(crankset, Crankset) and crankset.ring_bolts:
                    found["bolts"], found["kind"] = crankset.ring_bolts, "circle"
            elif isinstance(stem, Stem) and stem.faceplate_bolts is not None:
                found["bolts"], found["kind"] = stem.faceplate_bolts, "faceplate"
        case "bottom-bracket-cups":
            if isinstance(frame, Frame) and frame.shell is not None:
                found["shell"] = frame.shell.value
        case "measure-sag":
            fork = after.part(Role.FORK)
            if isinstance(fork, Fork) and fork.travel_mm is not None:
                found["travel"] = fork.travel_mm
        case "measure-post-insertion":
            # Where nobody has measured how deep the post is, the drawing shows the least depth itself.
            post, inserted = after.part(Role.SEAT_POST), after.measured.post_inserted_mm
            if isinstance(post, SeatPost) and post.least_insertion_mm is not None:
                found["least"] = post.least_insertion_mm
                found["inserted"] = inserted.value if inserted is not None else post.least_insertion_mm
            else:
                return _usual(step)
        case _:
            pass
    return found


# What a drawing shows that a step's fastener tells by itself, on whichever bike.
_TOLD: Mapping[tuple[str, str], Mapping[str, Number]] = {
    ("rotor-bolts", "rotor-bolts"): {"mount": "six-bolt"},
    ("rotor-bolts", "rotor-lockring"): {"mount": "splined"},
    ("bottom-bracket-cups", "right-cup-left-hand"): {"shell": "threaded-left-right"},
    ("bottom-bracket-cups", "right-cup-right-hand"): {"shell": "threaded-both-right"},
    ("thread-hand", "crank-bolts"): {"hand": "right"},
    ("thread-hand", "extracting-bolt"): {"hand": "right"},
}

# What a drawing shows where no bike says it: a chain without wear, and the examples that the guides' texts name.
_USUAL: Mapping[str, Mapping[str, Number]] = {
    "chain-gauge": {"length": 304.8, "links": 24},
    "measure-sag": {"travel": 100.0},
    "measure-post-insertion": {"inserted": 100.0},
}


def _told_by_fastener(step: Step) -> Mapping[str, Number]:
    return _TOLD.get((step.figure, step.tightens or step.loosens or ""), {})


def _usual(step: Step) -> Mapping[str, Number]:
    if step.figure == "bolt-circle":
        return {"bolts": 4, "kind": "circle" if "chainring-bolt" in step.handles else "faceplate"}
    return _USUAL.get(step.figure, {})
