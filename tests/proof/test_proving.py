"""Proofs of the library as it is, and of the library with a fault put in."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.model.condition import Is
from builder.model.guide import Step, Waiver
from builder.proof.proving import prove
from builder.proof.track import track_of
from builder.proof.writing import check_guide
from tests.demo import LEAD, library


def name_of(item):
    return item.id if isinstance(item, Step) else item.use


def with_procedure(name, **changes):
    lib = library()
    return replace(lib, procedures={**lib.procedures, name: replace(lib.procedures[name], **changes)})


def without_step(name, step_id):
    steps = tuple(step for step in library().procedures[name].steps if name_of(step) != step_id)
    assert len(steps) < len(library().procedures[name].steps)
    return with_procedure(name, steps=steps)


def changed_step(name, step_id, **changes):
    steps = library().procedures[name].steps
    return with_procedure(name, steps=tuple(replace(s, **changes) if name_of(s) == step_id else s for s in steps))


def findings(lib):
    return prove(lib.guides[LEAD], lib, counting=False).diagnostics


def test_the_lead_job_is_proven_over_all_its_configurations():
    track = track_of(library().guides[LEAD], library())
    names = dict.fromkeys(name for item in track.steps for name in track.attributes(item.index))
    assert track.space.count(names) > 1_000_000
    assert findings(library()) == ()


def test_it_is_told_over_how_much_a_guide_is_proven():
    proof = prove(library().guides["yearly-service"], library())
    assert proof.diagnostics == ()
    assert proof.configurations > 1_000_000
    assert proof.paths > 100_000


def test_a_chain_that_is_not_taken_off_is_found_where_it_must_be_off():
    found = findings(without_step("chain-off", "chain-off"))
    finding = next(d for d in found if "chain-thread.thread-chain" in d.message)
    assert finding.message == (
        f"{LEAD}: step 'chain-thread.thread-chain' needs that the chain is off the bike, but it is open"
    )
    assert finding.label == "for a bike with a new rear derailleur"
    assert finding.at.file.endswith("chain-thread.yaml")
    assert finding.hints[0].startswith("the way there: ")
    assert "but not on this path" in finding.hints[1]


@pytest.mark.parametrize(
    ("procedure", "step", "rule", "words"),
    [
        ("rear-wheel-in", "close-rim-brake", "proof-need", "needs that the rear rim brake is closed, but it is open"),
        ("rear-wheel-in", "pad-block-out", "proof-not-ready", "the block between the rear brake pads"),
        ("rear-wheel-in", "lock-lever", "proof-left-open", "rear quick-release lever"),
        ("rear-derailleur-on", "tighten-mounting-bolt", "proof-left-open", "mounting bolt of the rear derailleur"),
        ("rear-limits", "low-limit", "proof-need", "the limit screws of the rear derailleur"),
        ("brake-test", "walking-pace", "proof-not-ready", "the brake test is still to do"),
        ("bike-out-of-stand", "battery-in", "proof-need", "the battery is in its holder"),
    ],
)
def test_a_step_that_is_left_out_is_missed(procedure, step, rule, words):
    found = findings(without_step(procedure, step))
    assert any(d.rule == rule and words in d.message for d in found), [d.message for d in found]


def test_the_clutch_that_stays_off_is_found_at_the_end():
    finding = next(d for d in findings(without_step("clutch-on", "clutch-on")) if d.rule == "proof-not-ready")
    assert "the cage clutch is switched off" in finding.message
    assert finding.label == "for a bike with a cage clutch on the rear derailleur after the job"
    assert "leaves 'clutch: working'" in finding.hints[1]


def test_a_wrong_tool_is_found():
    found = findings(changed_step("rear-wheel-out", "loosen-through-axle", tools=("spanner-15",)))
    assert any(d.rule == "proof-tool" and "names no tool that fits" in d.message for d in found)


def test_a_torque_that_no_wrench_holds_is_found():
    lib = library()
    lockring = replace(
        lib.fasteners["cassette-lockring"],
        torque_nm=replace(lib.fasteners["cassette-lockring"].torque_nm, low=90, high=95),
    )
    found = findings(replace(lib, fasteners={**lib.fasteners, "cassette-lockring": lockring}))
    assert any(d.rule == "proof-wrench" for d in found)


def test_a_text_without_its_torque_is_found():
    lib = changed_step("rear-wheel-in", "tighten-through-axle", do="Tighten the bolt-through axle.")
    found = check_guide(lib.guides[LEAD], lib)
    assert [d.message for d in found if d.rule == "N02"] == [
        "the torque of 'rear-through-axle' is not shown in the step"
    ]
    assert [d for d in findings(lib) if "shows no torque" in d.message] == []


def test_a_condition_that_no_bike_meets_is_found():
    lib = library()
    guide = lib.guides[LEAD]
    hub_gear = Is("transmission", ("hub-gear",))
    work = tuple(
        replace(
            section,
            steps=tuple(
                replace(step, when=hub_gear) if getattr(step, "id", "") == "open-to-shorten" else step
                for step in section.steps
            ),
        )
        for section in guide.work
    )
    assert work != guide.work
    assert any(d.rule == "proof-unreachable" for d in prove(replace(guide, work=work), lib, counting=False).diagnostics)


def test_a_waiver_for_a_caution_that_does_not_attach_is_told():
    waiver = Waiver(rule="caution:tyre-max", reason="There is no tyre here.")
    found = findings(changed_step("chain-off", "chain-off", waivers=(waiver,)))
    assert any(d.rule == "proof-waiver" for d in found)
