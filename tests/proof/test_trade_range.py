"""Torques against the span that the trade prints, where a thread is no plain metric bolt."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.checks.bolts import fastener_plausibility
from builder.diagnostics.diagnostic import Gravity
from builder.model.units import Range
from builder.proof.trade_range import torques_in_trade_range
from tests.demo import library


def with_torque(name, low, high):
    lib = library()
    fastener = replace(lib.fasteners[name], torque_nm=Range(low, high))
    return replace(lib, fasteners={**lib.fasteners, name: fastener})


def test_the_library_keeps_to_its_trade_ranges():
    assert torques_in_trade_range(library()) == ()


@pytest.mark.parametrize(("low", "high"), [(3.5, 4.5), (350, 400), (35, 55)])
def test_a_lockring_torque_with_a_slipped_point_is_told(low, high):
    [found] = torques_in_trade_range(with_torque("cassette-lockring", low, high))
    assert found.gravity is Gravity.ERROR
    assert "30 to 50 N·m" in found.message.replace("\u00a0", " ")


@pytest.mark.parametrize(("torque", "gravity"), [(52.0, Gravity.WARNING), (4.0, Gravity.ERROR)])
def test_a_makers_own_figure_may_stand_beside_the_range_but_not_far_from_it(torque, gravity):
    lib = library()
    part = replace(lib.parts["cs-11-50-11s"], torques_nm={"cassette-lockring": Range(torque, torque)})
    [found] = torques_in_trade_range(replace(lib, parts={**lib.parts, part.id: part}))
    assert found.gravity is gravity


def test_every_torque_is_held_by_a_formula_or_by_a_trade_range():
    loose = [
        name
        for name, fastener in library().fasteners.items()
        if fastener.torque_nm is not None
        and fastener.trade_range_nm is None
        and fastener_plausibility(fastener.thread, fastener.property_class or None, fastener.torque_nm) is None
    ]
    assert loose == []
