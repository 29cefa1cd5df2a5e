"""The one gate: the same findings before every output, for all or for what one card draws on."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from builder.build.order import Order
from builder.build.single import NotPrinted, card_at
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.library import Library
from builder.model.units import Range
from builder.proof.gate import gate, reached
from builder.sources.workspace import shipped_library
from tests.demo import LEAD, library

SHORT = "rear-derailleur-adjusted"


def nothing(_: Library) -> tuple[Diagnostic, ...]:
    return ()


def errors(found: tuple[Diagnostic, ...]) -> list[Diagnostic]:
    return [one for one in found if one.gravity is Gravity.ERROR]


def test_the_library_goes_through_the_gate() -> None:
    assert errors(gate(library(), prove=nothing)) == []


def test_a_guide_that_ends_too_early_stands_in_the_way_of_its_own_cards_alone() -> None:
    cut = replace(library().guides[SHORT], finish=(), test=())
    faulty = replace(library(), guides={**library().guides, SHORT: cut})
    assert errors(gate(reached(faulty, [SHORT], []), whole=False))
    assert errors(gate(reached(faulty, [LEAD], ["heron"]), whole=False)) == []


def test_a_torque_that_no_bolt_bears_stands_in_the_way_of_every_card() -> None:
    bolt = replace(library().fasteners["rotor-bolts"], torque_nm=Range(500, 600))
    faulty = replace(library(), fasteners={**library().fasteners, bolt.id: bolt})
    found = gate(reached(faulty, [LEAD], ["heron"]), whole=False, prove=nothing)
    assert "trade-range" in {one.rule for one in found}


def test_a_workshop_without_a_tool_for_a_head_is_told_which_fasteners_wait_for_it() -> None:
    assert [one for one in gate(library(), prove=nothing) if one.rule == "workshop-tools"] == []
    tools = tuple(name for name in library().workshop.tools if "lockring" not in name)
    found = gate(replace(library(), workshop=replace(library().workshop, tools=tools)), prove=nothing)
    (told,) = (one for one in found if "fits the head" in one.message)
    assert (told.rule, told.gravity) == ("workshop-tools", Gravity.WARNING)
    assert "cassette-lockring" in told.message


def test_a_workshop_without_a_large_wrench_is_told_which_torques_it_does_not_reach() -> None:
    tools = tuple(name for name in library().workshop.tools if name != "torque-wrench-large")
    assert len(tools) < len(library().workshop.tools)
    found = gate(replace(library(), workshop=replace(library().workshop, tools=tools)), prove=nothing)
    (told,) = (one for one in found if "reaches the torque" in one.message)
    assert "cassette-lockring" in told.message


def test_a_preview_shows_what_stands_in_the_way_of_a_card(tmp_path: Path) -> None:
    (tmp_path / "procedures").mkdir()
    text = (shipped_library() / "procedures" / "clutch-on.yaml").read_text(encoding="utf-8")
    without = "\n".join(line for line in text.splitlines() if "clutch: working" not in line)
    (tmp_path / "procedures" / "clutch-on.yaml").write_text(without + "\n", encoding="utf-8")
    order = Order(workspace=tmp_path, out=tmp_path / "out", printing=False)
    with pytest.raises(NotPrinted, match="the cage clutch is switched off"):
        card_at(f"heron/{LEAD}-a5.pdf", order)
    assert card_at("heron/no-such-guide-a5.pdf", order) is None
