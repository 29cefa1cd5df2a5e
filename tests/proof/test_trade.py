"""Rules of the trade that single steps, parts, bolts and exclusions are held to; each with the fault that it finds."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.catalogue import Exclusion, Preparation
from builder.model.condition import ALWAYS, All, Condition, Is
from builder.model.facts import Fitted
from builder.model.guide import Section, Step
from builder.model.library import Library
from builder.model.parts import Cassette, Pads, Part, RearDerailleur, Rim, Rotor, Tyre
from builder.model.units import Range
from builder.proof.bolts_bear import plausible_torques
from builder.proof.exclusions import exclusions_leave_bikes
from builder.proof.part_records import parts_make_sense
from builder.proof.static import static_findings
from builder.proof.trade import steps_keep_the_trade
from tests.demo import LEAD, library


def job(*steps: Step, **changes: object) -> Library:
    """The library with one guide of these steps."""
    old = library().guides[LEAD]
    work = (Section(title="Odd", steps=steps),)
    rest = {"finish": (), "test": (), "faults": (), "touches": (), "before": ("An electric system is off.",)}
    guide = replace(old, work=work, **{**rest, **changes})  # type: ignore[arg-type]
    return replace(library(), guides={LEAD: guide}, procedures={})


def rules(found: tuple[Diagnostic, ...]) -> list[str]:
    return [one.rule for one in found]


def test_a_job_on_an_electric_bike_that_stays_switched_on_is_told() -> None:
    """A foot on a pedal starts the motor, where the rider stands on the pedals to set the sag."""
    step = Step(id="odd", do="Measure the sag.")
    assert rules(steps_keep_the_trade(job(step, before=("The floor is clear.",)))) == ["power-on"]
    off = Step(id="off", do="Switch the electric system off.", leaves={"battery": "idle"})
    assert rules(steps_keep_the_trade(job(off, step, before=()))) == []
    assert rules(steps_keep_the_trade(job(step, before=(), suits=Is("battery", ("none",))))) == []
    assert rules(steps_keep_the_trade(job(step, before=(), service_sheet=True))) == []


def test_a_repeat_without_a_way_out_is_told() -> None:
    step = Step(id="odd", do="Squeeze the brake lever.", until="no bubble rises.")
    assert rules(steps_keep_the_trade(job(step))) == ["endless"]
    assert rules(steps_keep_the_trade(job(replace(step, limit="After ten times, bleed the brake again.")))) == []


@pytest.mark.parametrize(
    ("limit", "found"),
    [
        ("Below 1.5 mm the pad is replaced.", ["typed-limit"]),
        ("Below {{ rear-pads.least }} the pad is replaced.", []),
        ("The value goes on this card.", []),
    ],
)
def test_a_limit_that_a_check_holds_is_not_typed(limit: str, found: list[str]) -> None:
    step = Step(id="odd", do="Measure the pad.", measure="rear-pads", limit=limit)
    assert rules(steps_keep_the_trade(job(step))) == found


@pytest.mark.parametrize(
    ("do", "limit", "found"),
    [
        ("Read the pressure of the fork.", "The value goes on this card.", ["card-box"]),
        (
            "Read the pressure of the fork.",
            "The pressure is written on this card before any air is let out.",
            ["card-box"],
        ),
        ("Write the angle of the brake levers on this card.", "", ["card-box"]),
        ("Compare the new parts with the list on this card.", "", []),
    ],
)
def test_a_value_for_the_card_has_a_line_on_it(do: str, limit: str, found: list[str]) -> None:
    step = Step(id="odd", do=do, limit=limit)
    assert rules(steps_keep_the_trade(job(step))) == found
    assert rules(steps_keep_the_trade(job(replace(step, boxes={"before": "bar"})))) == []


def test_what_burns_as_vapour_brings_its_caution() -> None:
    step = Step(id="odd", do="Clean the rotor.", handles=("rotor",), consumables=("rotor-cleaner",))
    assert rules(steps_keep_the_trade(job(step))) == ["vapour"]
    assert rules(steps_keep_the_trade(job(replace(step, handles=("rotor", "solvent"))))) == []


def test_a_head_that_makes_the_wrench_longer_stands_square_to_it() -> None:
    step = Step(id="odd", do="Tighten the left pedal to {{ torque }}.", tightens="left-pedal")
    assert rules(steps_keep_the_trade(job(step))) == ["head-square"]
    assert rules(steps_keep_the_trade(job(replace(step, limit="The head stands square to the wrench.")))) == []
    assert rules(steps_keep_the_trade(job(replace(step, tightens="left-pedal-socket")))) == []


@pytest.mark.parametrize("key", ["do", "limit", "prove"])
def test_a_tool_that_a_text_speaks_of_is_laid_out_somewhere_in_the_job(key: str) -> None:
    step = replace(Step(id="odd", do="Inspect the tyre."), **{key: "The pliers are used."})  # type: ignore[arg-type]
    assert rules(steps_keep_the_trade(job(step))) == ["tool-not-laid-out"]
    laid = Step(id="other", do="Inspect the rim.", tools=("cable-puller",))
    assert rules(steps_keep_the_trade(job(step, laid))) == []


def test_grease_and_threadlocker_never_meet_on_one_thread() -> None:
    bolts = replace(library().fasteners["rotor-bolts"], preparation=Preparation.THREADLOCKED)
    grease = Step(id="g", do="Apply grease to the threads of the bolts.", handles=("rotor",), consumables=("grease",))
    tight = Step(id="t", do="Tighten the bolts to {{ torque }}.", handles=("rotor",), tightens="rotor-bolts")
    lib = job(grease, tight)
    lib = replace(lib, fasteners={**lib.fasteners, bolts.id: bolts})
    assert rules(steps_keep_the_trade(lib)) == ["one-thread"]
    lock = replace(grease, do="Apply threadlocker to the threads of the bolts.", consumables=("threadlock",))
    assert rules(steps_keep_the_trade(replace(job(lock, tight), fasteners=lib.fasteners))) == []
    both = Step(id="b", do="Apply both.", consumables=("threadlock", "grease"))
    assert rules(steps_keep_the_trade(job(both))) == ["one-thread"]


def test_who_refuses_says_whom_it_suits() -> None:
    step = Step(id="odd", do="Clean the frame.")
    assert rules(steps_keep_the_trade(job(step, suits=ALWAYS, refuse="Not for this bike."))) == ["suits"]
    assert rules(steps_keep_the_trade(job(step, suits=Is("battery", ("none",)), refuse=""))) == ["suits"]


def test_a_tool_of_one_size_fits_heads_of_that_size() -> None:
    assert [one for one in steps_keep_the_trade(library()) if one.rule == "tool-size"] == []
    tool = next(one for one in library().tools.values() if one.id == "spanner-15")
    wrong = replace(tool, name="spanner, 14 mm")
    found = steps_keep_the_trade(replace(library(), tools={**library().tools, tool.id: wrong}))
    assert [one.message for one in found if one.rule == "tool-size"] == [
        "the tool 'spanner, 14 mm' fits heads of 15 mm"
    ]


# --- preparation on every path -------------------------------------------------------------------


def greased(when: Condition) -> list[str]:
    """What is found where grease goes on the thread of the derailleur's bolt for these bikes."""
    grease = Step(id="g", do="Apply grease.", when=when, handles=("rear-derailleur",), consumables=("grease",))
    tight = Step(
        id="t", do="Tighten it to {{ torque }}.", handles=("rear-derailleur",), tightens="rear-derailleur-bolt"
    )
    lib = job(grease, tight)
    return [one.message for one in static_findings(lib.guides[LEAD], lib) if one.rule == "proof-preparation"]


def test_grease_for_other_bikes_is_no_preparation() -> None:
    assert greased(ALWAYS) == []
    (found,) = greased(Is("rear-brake", ("rim",)))
    assert found.endswith("and no step before puts it on on some bikes")


# --- parts ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "part",
    [
        Rotor(id="x", name="x", least_thickness_mm=1.8, new_thickness_mm=1.5),
        Pads(id="x", name="x", least_thickness_mm=4.0, new_thickness_mm=3.0),
        Tyre(id="x", name="x", least_pressure_bar=6.0, greatest_pressure_bar=4.0),
        Rim(id="x", name="x", spokes=31),
        Rim(id="x", name="x", hooks=Fitted.NONE, greatest_pressure_bar=6.0),
        Cassette(id="x", name="x", sprockets=(11, 13, 12)),
        Cassette(id="x", name="x", sprockets=(11, 13, 13)),
        RearDerailleur(id="x", name="x", largest_sprocket=34, largest_sprocket_least=36),
        RearDerailleur(id="x", name="x", smallest_sprocket=36, largest_sprocket=34),
    ],
)
def test_a_part_whose_figures_contradict_each_other_is_told(part: Part) -> None:
    assert parts_make_sense(library()) == ()
    assert rules(parts_make_sense(replace(library(), parts={"x": part}, bikes={}))) == ["part-figures"]


# --- bolts ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("torque", "gravity"),
    [(Range(50, 60), Gravity.ERROR), (Range(8, 9), Gravity.WARNING), (Range(4, 5), None)],
)
def test_a_metric_bolt_of_unknown_class_bears_no_more_than_the_strongest(
    torque: Range, gravity: Gravity | None
) -> None:
    bolt = replace(library().fasteners["gear-cable-clamp"], thread="M5", property_class="", torque_nm=torque)
    found = plausible_torques(replace(library(), fasteners={bolt.id: bolt}, parts={}, bikes={}))
    assert [one.gravity for one in found] == ([] if gravity is None else [gravity])


# --- exclusions ----------------------------------------------------------------------------------


def test_exclusions_that_together_leave_no_bike_with_a_case_are_told() -> None:
    assert exclusions_leave_bikes(library()) == ()
    cases = tuple(library().attributes["rear-axle"].cases)
    hidden = tuple(
        Exclusion(never=All((Is("battery", ("built-in",)), Is("rear-axle", (case,)))), because="Wrong.")
        for case in cases
    )
    found = exclusions_leave_bikes(replace(library(), exclusions=(*library().exclusions, *hidden)))
    assert "no bike can be 'battery: built-in', since the exclusions rule it out" in {one.message for one in found}
