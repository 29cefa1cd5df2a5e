"""A torque wrench says when it was last checked: in the workshop's file, and on the cards that ask for it.

The interval is that of ISO 6789's guidance of 2003, from memory; the workshop is invented.
"""

from __future__ import annotations

from dataclasses import replace

from builder.diagnostics.diagnostic import Gravity
from builder.model.library import Library
from builder.proof.wrenches import wrenches_are_checked
from builder.tailoring import tailor
from tests.demo import LEAD, library


def with_checked(**days: str) -> Library:
    lib = library()
    checked = {name.replace("_", "-"): day for name, day in days.items()}
    return replace(lib, workshop=replace(lib.workshop, checked=checked))


def test_the_wrenches_of_the_library_were_checked() -> None:
    owned = [name for name in library().workshop.tools if library().tools[name].torque_nm is not None]
    assert len(owned) >= 2
    assert wrenches_are_checked(library()) == ()


def test_a_wrench_whose_check_is_not_told_is_noted() -> None:
    (found,) = wrenches_are_checked(with_checked(torque_wrench_small="2026-03-02"))
    assert (found.rule, found.gravity) == ("N06", Gravity.NOTE)
    assert found.message == "the day of the last check is not told: torque wrench, 10 to 60 N·m"
    assert found.label == "allowed: a check every 12 months or 5000 cycles"
    assert found.at.file.endswith("workshop.yaml")


def test_a_day_that_is_none_is_a_mistake() -> None:
    found = wrenches_are_checked(with_checked(torque_wrench_small="2026-02-30", torque_wrench_large="2026-03-02"))
    assert [(one.rule, one.gravity) for one in found] == [("N06", Gravity.ERROR)]


def test_a_card_shows_when_its_wrench_was_checked() -> None:
    shown = {item.tool.id: item.detail for item in tailor(library().guides[LEAD], library()).tools if item.tool}
    assert shown["torque-wrench-large"] == "Checked 2026-03-02."
