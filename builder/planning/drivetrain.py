"""The questions about sprockets, derailleur, chain and shifting."""

from __future__ import annotations

from dataclasses import replace

from builder.checks.chain_geometry import chain_links
from builder.checks.chain_wear import wear_limit_percent
from builder.checks.reckoning import reckon
from builder.checks.registry import CHECKS
from builder.checks.result import CheckResult
from builder.model.bike import Bike
from builder.model.facts import Actuation, Joiner, Role, SprocketMount, Suspension
from builder.model.parts import Cassette, Chain, Crankset, Frame, Hub, RearDerailleur, Shifter, SprocketSpacer
from builder.model.units import Measure, Unit
from builder.planning.outfit import Outfit
from builder.planning.plan import Requirement
from builder.planning.question import Answer, Lack, Question, as_kind, lacking

_NO_GROWTH = Measure(0.0)
# What a new chain is measured over, where the reading does not say: 24 links are 12 inches.
_USUAL_WEAR_LINKS = 24


def _cassette(outfit: Outfit) -> Cassette | None:
    cassette = as_kind(outfit, Role.CASSETTE, Cassette)
    return cassette if cassette is not None and cassette.sprockets else None


def _rings(outfit: Outfit) -> tuple[int, ...]:
    crankset = as_kind(outfit, Role.CRANKSET, Crankset)
    return () if crankset is None else crankset.rings


def _rear(outfit: Outfit) -> RearDerailleur | None:
    return as_kind(outfit, Role.REAR_DERAILLEUR, RearDerailleur)


_LACK_RINGS = Lack(key="parts.crankset.rings", words="teeth of the chainrings", how="Read the teeth off the rings.")
_LACK_SPROCKETS = Lack(
    key="parts.cassette.sprockets",
    words="teeth of the sprockets",
    how="Count the teeth, or read them off the sprockets.",
)
_LACK_CHAINSTAY = Lack(key="parts.frame.chainstay", words="chainstay length", how="Measure it on the bike.")
_LACK_GROWTH = Lack(
    key="parts.frame.axle-growth", words="growth of the axle distance over the travel", how="Measure it on the bike."
)


def _distance(outfit: Outfit) -> tuple[Measure, Measure] | tuple[Lack, ...]:
    """Chainstay and growth, or what is lacking; a frame without rear suspension has no growth."""
    frame = as_kind(outfit, Role.FRAME, Frame) or Frame(name="")
    lacks: list[Lack] = []
    if frame.chainstay_mm is None:
        lacks.append(_LACK_CHAINSTAY)
    growth = frame.axle_growth_mm
    if growth is None and frame.suspension is Suspension.FULL:
        lacks.append(_LACK_GROWTH)
    if frame.chainstay_mm is None or lacks:
        return tuple(lacks)
    return frame.chainstay_mm, growth or _NO_GROWTH


# --- the derailleur's rating ---------------------------------------------------------------------


def _ask_largest(outfit: Outfit) -> Answer:
    cassette, rear = _cassette(outfit), _rear(outfit)
    if rear is None:
        return None
    if cassette is None:
        return (_LACK_SPROCKETS,)
    if rear.largest_sprocket is None:
        return (lacking(outfit, Role.REAR_DERAILLEUR, "largest-sprocket", "largest sprocket that the maker allows"),)
    return {"sprocket": max(cassette.sprockets), "rated": rear.largest_sprocket}


def _require_largest(outfit: Outfit, role: Role) -> tuple[Requirement, ...]:
    cassette = _cassette(outfit)
    if cassette is None:
        return ()
    return (Requirement(role=role, limit="largest-sprocket", at_least=float(max(cassette.sprockets)), unit=Unit.TEETH),)


def _ask_smallest(outfit: Outfit) -> Answer:
    cassette, rear = _cassette(outfit), _rear(outfit)
    if rear is None:
        return None
    if cassette is None:
        return (_LACK_SPROCKETS,)
    if rear.smallest_sprocket is None:
        return (lacking(outfit, Role.REAR_DERAILLEUR, "smallest-sprocket", "smallest sprocket that the maker allows"),)
    return {"sprocket": min(cassette.sprockets), "rated": rear.smallest_sprocket}


def _require_smallest(outfit: Outfit, role: Role) -> tuple[Requirement, ...]:
    cassette = _cassette(outfit)
    if cassette is None:
        return ()
    return (Requirement(role=role, limit="smallest-sprocket", at_most=float(min(cassette.sprockets)), unit=Unit.TEETH),)


def _ask_capacity(outfit: Outfit) -> Answer:
    cassette, rear, rings = _cassette(outfit), _rear(outfit), _rings(outfit)
    if rear is None:
        return None
    lacks = (() if rings else (_LACK_RINGS,)) + (() if cassette else (_LACK_SPROCKETS,))
    if rear.capacity_teeth is None:
        lacks += (lacking(outfit, Role.REAR_DERAILLEUR, "capacity-teeth", "capacity in teeth"),)
    if cassette is None or rear.capacity_teeth is None or lacks:
        return lacks
    return {"rings": rings, "sprockets": cassette.sprockets, "rated": rear.capacity_teeth}


def _require_capacity(outfit: Outfit, role: Role) -> tuple[Requirement, ...]:
    cassette, rings = _cassette(outfit), _rings(outfit)
    if cassette is None or not rings:
        return ()
    needed = max(rings) - min(rings) + max(cassette.sprockets) - min(cassette.sprockets)
    return (Requirement(role=role, limit="capacity", at_least=float(needed), unit=Unit.TEETH),)


# --- the chain -----------------------------------------------------------------------------------


def _joiner_word(outfit: Outfit) -> str:
    chain = as_kind(outfit, Role.CHAIN, Chain)
    return "joining-pin" if chain is not None and chain.joiner is Joiner.JOINING_PIN else "quick-link"


def _ask_length(outfit: Outfit) -> Answer:
    cassette, rings = _cassette(outfit), _rings(outfit)
    if _rear(outfit) is None:
        return None
    if cassette is None or not rings:
        return (() if rings else (_LACK_RINGS,)) + (() if cassette else (_LACK_SPROCKETS,))
    distance = _distance(outfit)
    if not isinstance(distance[0], Measure):
        return tuple(lack for lack in distance if isinstance(lack, Lack))
    chainstay, growth = distance
    assert isinstance(growth, Measure)
    return {
        "chainstay": chainstay,
        "ring": max(rings),
        "sprocket": max(cassette.sprockets),
        "growth": growth,
        "joiner": _joiner_word(outfit),
    }


def _ask_reach(outfit: Outfit) -> Answer:
    """Whether the chain that is on the bike is long enough; a new chain is the matter of its supply."""
    length, links = _ask_length(outfit), outfit.bike.measured.chain_links
    if length is None or Role.CHAIN in outfit.replaced:
        return None
    lacks: tuple[Lack, ...] = length if isinstance(length, tuple) else ()
    if links is None:
        how = "Count the links on the bike."
        lacks += (Lack(key="measured.chain-links", words="links of the chain on the bike", how=how),)
    if isinstance(length, tuple) or links is None:
        return lacks
    inputs = {name: value for name, value in length.items() if name != "joiner"}
    cassette, rear, rings = _cassette(outfit), _rear(outfit), _rings(outfit)
    inputs["links"] = links
    if cassette is not None and rear is not None and rear.capacity_teeth is not None:
        inputs |= {"small-ring": min(rings), "small-sprocket": min(cassette.sprockets), "rated": rear.capacity_teeth}
    return inputs


def _ask_supply(outfit: Outfit) -> Answer:
    """Whether a new chain is sold long enough; with a tolerance on the distance, long enough at its far end."""
    if Role.CHAIN not in outfit.replaced:
        return None
    length = _ask_length(outfit)
    if length is None:
        return None
    chain = as_kind(outfit, Role.CHAIN, Chain)
    lacks: tuple[Lack, ...] = length if isinstance(length, tuple) else ()
    if chain is None or chain.links is None:
        lacks += (lacking(outfit, Role.CHAIN, "links", "links of the new chain"),)
    needed = _most_links(outfit)
    if lacks or chain is None or chain.links is None or needed is None:
        return lacks
    return {"sold": chain.links, "needed": needed}


def _most_links(outfit: Outfit) -> int | None:
    """Links needed at the far end of every tolerance."""
    asked = _ask_length(outfit)
    if asked is None or isinstance(asked, tuple):
        return None
    chainstay, growth = asked["chainstay"], asked["growth"]
    ring, sprocket = asked["ring"], asked["sprocket"]
    assert isinstance(chainstay, Measure)
    assert isinstance(growth, Measure)
    assert isinstance(ring, int)
    assert isinstance(sprocket, int)
    return chain_links(chainstay.high, ring, sprocket, growth.high)


def links_needed(outfit: Outfit) -> CheckResult | None:
    """The chain length check for this outfit, or None where something is lacking."""
    asked = _ask_length(outfit)
    if asked is None or isinstance(asked, tuple):
        return None
    return reckon(CHECKS["chain-length"], asked)


def _require_reach(outfit: Outfit, role: Role) -> tuple[Requirement, ...]:
    links = _most_links(outfit)
    return () if links is None else (Requirement(role=role, limit="links", at_least=float(links), unit=Unit.LINKS),)


def _ask_width(outfit: Outfit) -> Answer:
    cassette, chain = _cassette(outfit), as_kind(outfit, Role.CHAIN, Chain)
    if cassette is None:
        return (_LACK_SPROCKETS,)
    if chain is None or (not chain.speeds and chain.outer_width_mm is None):
        return (lacking(outfit, Role.CHAIN, "speeds", "speeds that the chain is made for"),)
    speeds = len(cassette.sprockets)
    inputs: dict[str, int | float] = {"speeds": speeds}
    if chain.speeds:
        inputs["chain-speeds"] = speeds if speeds in chain.speeds else chain.speeds[-1]
    elif chain.outer_width_mm is not None:
        inputs["width"] = chain.outer_width_mm
    return inputs


def _require_width(outfit: Outfit, role: Role) -> tuple[Requirement, ...]:
    cassette = _cassette(outfit)
    if cassette is None:
        return ()
    speeds = float(len(cassette.sprockets))
    return (Requirement(role=role, limit="speeds", at_least=speeds, at_most=speeds),)


def _ask_wear(outfit: Outfit) -> Answer:
    cassette = _cassette(outfit)
    if Role.CHAIN in outfit.replaced:
        return None
    if cassette is None:
        return (_LACK_SPROCKETS,)
    measured = outfit.bike.measured
    if measured.chain_length_mm is None:
        return (Lack(key="measured.chain-length", words="wear of the chain", how="Measure it on the bike."),)
    return {
        "length": measured.chain_length_mm,
        "links": measured.chain_length_links or _USUAL_WEAR_LINKS,
        "speeds": len(cassette.sprockets),
    }


def _require_wear(outfit: Outfit, role: Role) -> tuple[Requirement, ...]:
    cassette = _cassette(outfit)
    if cassette is None:
        return ()
    limit = wear_limit_percent(len(cassette.sprockets))
    return (Requirement(role=role, limit="wear", at_most=limit, unit=Unit.PERCENT),)


def _ask_ends(outfit: Outfit) -> Answer:
    needed = links_needed(outfit)
    if needed is None or needed.value is None or as_kind(outfit, Role.CHAIN, Chain) is None:
        return None
    return {"links": int(needed.value), "joiner": _joiner_word(outfit)}


# --- sprockets on the hub ------------------------------------------------------------------------


def _ask_mount(outfit: Outfit) -> Answer:
    cassette, hub = as_kind(outfit, Role.CASSETTE, Cassette), as_kind(outfit, Role.REAR_HUB, Hub)
    lacks: tuple[Lack, ...] = ()
    if cassette is None or cassette.mount is None:
        lacks += (lacking(outfit, Role.CASSETTE, "mount", "what the sprockets are made for"),)
    if hub is None or hub.sprocket_mount is None:
        how = "Look at the hub: its splines or its thread show beside the smallest sprocket."
        lacks += (lacking(outfit, Role.REAR_HUB, "sprocket-mount", "the kind of freehub body", how),)
    if lacks or cassette is None or hub is None or cassette.mount is None or hub.sprocket_mount is None:
        return lacks
    return {"cassette": cassette.mount.value, "hub": hub.sprocket_mount.value}


def _ask_stack(outfit: Outfit) -> Answer:
    cassette, hub = as_kind(outfit, Role.CASSETTE, Cassette), as_kind(outfit, Role.REAR_HUB, Hub)
    if cassette is None or hub is None or hub.sprocket_mount in (SprocketMount.SCREW_ON, SprocketMount.SINGLE_SPLINE):
        return None
    lacks: tuple[Lack, ...] = ()
    if cassette.stack_mm is None:
        lacks += (lacking(outfit, Role.CASSETTE, "stack", "width of the sprocket stack"),)
    if hub.body_length_mm is None:
        lacks += (
            lacking(outfit, Role.REAR_HUB, "body-length", "length of the freehub body", "Measure it on the bike."),
        )
    if lacks or cassette.stack_mm is None or hub.body_length_mm is None:
        return lacks
    spacer = as_kind(outfit, Role.SPROCKET_SPACER, SprocketSpacer)
    width = 0.0 if spacer is None or spacer.width_mm is None else spacer.width_mm
    return {"body": hub.body_length_mm, "stack": cassette.stack_mm, "spacers": width}


def _require_stack(outfit: Outfit, role: Role) -> tuple[Requirement, ...]:
    bare = Outfit(
        found=outfit.found,
        bike=_without(outfit, Role.SPROCKET_SPACER),
        replaced=outfit.replaced,
    )
    asked = _ask_stack(bare)
    if asked is None or isinstance(asked, tuple):
        return ()
    wanted = reckon(CHECKS["sprocket-stack"], asked).named("spacer-wanted")
    return (Requirement(role=role, limit="width", at_least=wanted, unit=Unit.MILLIMETRE),) if wanted > 0 else ()


def _without(outfit: Outfit, role: Role) -> Bike:
    return replace(outfit.bike, parts={key: part for key, part in outfit.bike.parts.items() if key is not role})


# --- shifting ------------------------------------------------------------------------------------


def _shifter(outfit: Outfit) -> Shifter | None:
    return as_kind(outfit, Role.REAR_SHIFTER, Shifter)


def _ask_clicks(outfit: Outfit) -> Answer:
    cassette, shifter = _cassette(outfit), _shifter(outfit)
    if _rear(outfit) is None:
        return None
    lacks: tuple[Lack, ...] = () if cassette else (_LACK_SPROCKETS,)
    if shifter is None or shifter.speeds is None:
        lacks += (lacking(outfit, Role.REAR_SHIFTER, "speeds", "positions of the shifter", "Count the clicks."),)
    if cassette is None or shifter is None or shifter.speeds is None:
        return lacks
    return {"shifter": shifter.speeds, "sprockets": len(cassette.sprockets)}


def _require_clicks(outfit: Outfit, role: Role) -> tuple[Requirement, ...]:
    cassette = _cassette(outfit)
    if cassette is None:
        return ()
    return (Requirement(role=role, limit="speeds", at_least=float(len(cassette.sprockets))),)


def _ask_line(outfit: Outfit) -> Answer:
    rear, shifter = _rear(outfit), _shifter(outfit)
    if rear is None:
        return None
    lacks: tuple[Lack, ...] = ()
    if rear.actuation is None:
        lacks += (lacking(outfit, Role.REAR_DERAILLEUR, "actuation", "what moves it", "Look for a cable clamp."),)
    if shifter is None or shifter.actuation is None:
        lacks += (lacking(outfit, Role.REAR_SHIFTER, "actuation", "what it pulls", "Look for a cable."),)
    if lacks or shifter is None or rear.actuation is None or shifter.actuation is None:
        return lacks
    return {"shifter": shifter.actuation.value, "derailleur": rear.actuation.value}


def _require_line(outfit: Outfit, role: Role) -> tuple[Requirement, ...]:
    other = _shifter(outfit) if role is Role.REAR_DERAILLEUR else _rear(outfit)
    if other is None or other.actuation is None:
        return ()
    return (Requirement(role=role, limit="actuation", equals=other.actuation.value),)


def _ask_indexing(outfit: Outfit) -> Answer:
    """The indexing sum where its three numbers are known; the question of shared standards serves otherwise."""
    cassette, rear, shifter = _cassette(outfit), _rear(outfit), _shifter(outfit)
    if cassette is None or rear is None or shifter is None or rear.actuation is not Actuation.CABLE:
        return None
    if shifter.cable_pull_mm is None or rear.cable_ratio is None or cassette.sprocket_pitch_mm is None:
        return None
    return {
        "pull": shifter.cable_pull_mm,
        "ratio": rear.cable_ratio,
        "pitch": cassette.sprocket_pitch_mm,
        "sprockets": len(cassette.sprockets),
    }


def _ask_standard(outfit: Outfit) -> Answer:
    cassette, rear, shifter = _cassette(outfit), _rear(outfit), _shifter(outfit)
    if rear is None or _ask_indexing(outfit) is not None:
        return None
    written = {
        "shifter": (Role.REAR_SHIFTER, "" if shifter is None else shifter.shift_standard),
        "derailleur": (Role.REAR_DERAILLEUR, rear.shift_standard),
        "cassette": (Role.CASSETTE, "" if cassette is None else cassette.shift_standard),
    }
    lacks = tuple(
        lacking(outfit, role, "shift-standard", "the shifting standard") for role, text in written.values() if not text
    )
    return lacks or {name: text for name, (_, text) in written.items()}


def _require_standard(outfit: Outfit, role: Role) -> tuple[Requirement, ...]:
    cassette = _cassette(outfit)
    if cassette is None or not cassette.shift_standard:
        return ()
    return (Requirement(role=role, limit="shift-standard", equals=cassette.shift_standard),)


_SHIFTING = frozenset({Role.CASSETTE, Role.REAR_DERAILLEUR, Role.REAR_SHIFTER})
_GEARING = frozenset({Role.CASSETTE, Role.REAR_DERAILLEUR, Role.CRANKSET})
_CHAIN_PATH = frozenset({Role.CASSETTE, Role.CRANKSET, Role.CHAIN, Role.REAR_DERAILLEUR})

QUESTIONS: tuple[Question, ...] = (
    Question(check="sprocket-mount", roles=frozenset({Role.CASSETTE, Role.REAR_HUB}), ask=_ask_mount),
    Question(
        check="sprocket-stack",
        roles=frozenset({Role.CASSETTE, Role.REAR_HUB, Role.SPROCKET_SPACER}),
        ask=_ask_stack,
        cures=(Role.SPROCKET_SPACER,),
        requires=_require_stack,
    ),
    Question(
        check="largest-sprocket",
        roles=_GEARING,
        ask=_ask_largest,
        cures=(Role.REAR_DERAILLEUR,),
        requires=_require_largest,
    ),
    Question(
        check="smallest-sprocket",
        roles=_GEARING,
        ask=_ask_smallest,
        cures=(Role.REAR_DERAILLEUR,),
        requires=_require_smallest,
    ),
    Question(
        check="derailleur-capacity",
        roles=_GEARING,
        ask=_ask_capacity,
        cures=(Role.REAR_DERAILLEUR,),
        requires=_require_capacity,
    ),
    Question(
        check="shifter-clicks",
        roles=_SHIFTING,
        ask=_ask_clicks,
        cures=(Role.REAR_SHIFTER,),
        requires=_require_clicks,
    ),
    Question(
        check="shift-line",
        roles=_SHIFTING,
        ask=_ask_line,
        cures=(Role.REAR_DERAILLEUR, Role.REAR_SHIFTER),
        requires=_require_line,
    ),
    Question(
        check="indexing",
        roles=_SHIFTING,
        ask=_ask_indexing,
        cures=(Role.REAR_DERAILLEUR, Role.REAR_SHIFTER),
        requires=_require_standard,
    ),
    Question(
        check="shared-standard",
        roles=_SHIFTING,
        ask=_ask_standard,
        cures=(Role.REAR_DERAILLEUR, Role.REAR_SHIFTER),
        requires=_require_standard,
    ),
    Question(check="chain-width", roles=_CHAIN_PATH, ask=_ask_width, cures=(Role.CHAIN,), requires=_require_width),
    Question(check="chain-wear", roles=_CHAIN_PATH, ask=_ask_wear, cures=(Role.CHAIN,), requires=_require_wear),
    Question(check="chain-length", roles=_CHAIN_PATH, ask=_ask_length, binding=False),
    Question(check="chain-reach", roles=_CHAIN_PATH, ask=_ask_reach, cures=(Role.CHAIN,), requires=_require_reach),
    Question(check="chain-supply", roles=_CHAIN_PATH, ask=_ask_supply, cures=(Role.CHAIN,), requires=_require_reach),
    Question(check="chain-ends", roles=_CHAIN_PATH, ask=_ask_ends, binding=False),
)
