"""Sets of parts that make the lowest gear easier: the cheapest first, and none that does not go on the bike."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.model.bike import Bike
from builder.model.facts import Role, SprocketMount
from builder.model.parts import Cassette, Crankset, Hub
from builder.planning.lowering import lowerings
from tests.demo import library


def hub_gear() -> Bike:
    return Bike(
        id="hub",
        name="Hub",
        parts={
            Role.CRANKSET: Crankset(name="", rings=(50,)),
            Role.CASSETTE: Cassette(name="", sprockets=(13,), mount=SprocketMount.THREE_LUG),
            Role.REAR_HUB: Hub(name="", gears=5, least_primary_ratio=2.0, sprocket_mount=SprocketMount.THREE_LUG),
        },
        without=frozenset({Role.REAR_DERAILLEUR, Role.FRONT_DERAILLEUR}),
    )


def test_each_set_is_easy_enough_and_the_cheapest_stands_first() -> None:
    sets = lowerings(library().bikes["heron"], 15.0, library())
    assert sets
    assert all(one.easier_percent >= 15.0 for one in sets)
    prices = [one.price_eur for one in sets if one.price_eur is not None]
    assert prices == sorted(prices)
    for one in sets:
        pieces = [part.price_eur for part in one.plan.pieces]
        assert one.price_eur == (None if None in pieces else pytest.approx(sum(price or 0 for price in pieces)))
        assert not one.plan.trouble


def test_no_set_has_several_rings_where_nothing_moves_the_chain() -> None:
    sets = lowerings(hub_gear(), 15.0, library())
    # 32 / 13 = 2.46 is the least of the known single rings, above the hub's least ratio of 2.
    assert "ck-32" in [part.id for one in sets for part in one.plan.wanted.values()]
    for one in sets:
        cranks = one.plan.after.part(Role.CRANKSET)
        assert isinstance(cranks, Crankset)
        assert len(cranks.rings) == 1


def test_teeth_that_are_not_known_are_asked_for() -> None:
    bare = replace(hub_gear(), parts={Role.CRANKSET: Crankset(name="", rings=(50,))})
    with pytest.raises(LookupError, match="sprockets"):
        lowerings(bare, 15.0, library())
