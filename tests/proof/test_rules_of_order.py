"""What the trade does before or after an act is missed where it is left out, also where no state hangs on it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.model.guide import Section, Step, Use
from builder.model.library import Library
from builder.model.steps import written_steps
from builder.proof.proving import prove
from builder.proof.put_back import new_parts_are_new
from builder.proof.static import static_findings
from builder.tailoring.hazards import attached
from tests.demo import library

Items = tuple[Step | Use, ...]


def without(home: str, name: str) -> Library:
    """The library whose guide or procedure `home` lacks the step or the procedure `name`."""

    def kept(items: Items) -> Items:
        return tuple(one for one in items if name not in ((one.id,) if isinstance(one, Step) else (one.use,)))

    old = library()
    if home in old.procedures:
        steps = kept(old.procedures[home].steps)
        assert steps != old.procedures[home].steps
        return replace(old, procedures={**old.procedures, home: replace(old.procedures[home], steps=steps)})
    guide = old.guides[home]
    work: tuple[Section, ...] = tuple(replace(section, steps=kept(section.steps)) for section in guide.work)
    changed = replace(guide, work=work, finish=kept(guide.finish), test=kept(guide.test))
    assert changed != guide
    return replace(old, guides={**old.guides, home: changed})


@pytest.mark.parametrize(
    ("guide", "home", "name", "words"),
    [
        ("front-hub-regreased", "front-hub-regreased", "front-rotor-clean", "to clean the rotor"),
        ("rear-inner-tube-replaced", "rear-inner-tube-replaced", "rear-rotor-clean", "to clean the rotor"),
        ("front-disc-cable-replaced", "front-disc-cable-replaced", "front-rotor-clean", "to clean the rotor"),
        ("front-rim-brake-pads-replaced", "front-rim-brake-pads-replaced", "spin-before", "to spin the"),
        ("rear-rim-brake-pads-replaced", "rear-rim-brake-pads-replaced", "spin-after", "to spin the"),
        ("rear-rotor-fitted", "rear-rotor-fitted", "compare-rotors", "to compare the rotor"),
        ("rear-rotor-fitted", "rear-rotor-fitted", "watch-rotor", "to spin the rotor"),
        ("gear-cable-replaced", "gear-cable-replaced", "try-derailleur", "to push the rear derailleur"),
        ("front-gear-cable-replaced", "front-gear-cable-replaced", "try-derailleur", "to push the front derailleur"),
        ("rear-derailleur-adjusted", "rear-derailleur-adjusted", "drive-under-load", "to ride the chain"),
        ("rear-derailleur-adjusted", "rear-derailleur-adjusted", "brake-test", "to squeeze the brake lever"),
        ("hub-gear-cable-adjusted", "hub-gear-cable-adjusted", "brake-test", "to squeeze the brake lever"),
        ("dropper-post-fitted", "dropper-post-fitted", "cut-cable", "to cut the dropper cable"),
        ("front-hub-regreased", "front-hub-regreased", "hub-regrease", "the grease of the hub"),
        (
            "front-brake-lever-replaced",
            "front-brake-lever-replaced",
            "release-brake",
            "only when the front rim brake is open",
        ),
        ("pedals-fitted", "bike-into-stand", "battery-idle", "to keep the motor"),
        ("front-disc-pads-replaced", "front-disc-pads-replaced", "pad-block-off", "front brake pads is put away"),
        ("front-disc-pads-replaced", "front-disc-pads-replaced", "compare-pads", "the bedding of the pads"),
        ("front-disc-cable-replaced", "front-disc-cable-replaced", "spin-after", "to spin or turn the front wheel"),
        ("front-rim-brake-cable-replaced", "brake-cable-lay", "grease-head", "to apply the brake cable"),
        ("hub-gear-cable-replaced", "hub-gear-cable-replaced", "settle-housing", "laid and settled"),
        ("hub-gear-cable-replaced", "hub-gear-cable-replaced", "gear-housing-cut", "cut to its length"),
        ("saddle-and-seat-post-fitted", "saddle-and-seat-post-fitted", "seat-tube-cleaned", "to clean the frame"),
        ("saddle-and-seat-post-fitted", "seat-tube-cleaned", "inspect-carbon", "to inspect the seat post"),
        ("saddle-and-seat-post-fitted", "saddle-on", "inspect-rails", "to inspect the carbon part"),
        ("threadless-headset-adjusted", "threadless-headset-adjusted", "inspect-carbon-steerer", "the carbon part"),
        ("pressed-bracket-replaced", "pressed-bracket-replaced", "inspect-carbon-shell", "to inspect the carbon part"),
        ("front-inner-tube-patched", "tube-patch", "cement-on", "to apply the inner tube"),
        ("hanger-aligned", "hanger-aligned", "drive-under-load", "to ride the chain"),
        ("front-wheel-trued", "front-wheel-trued", "clean-rim", "to clean the rim"),
        ("rear-wheel-trued", "rear-wheel-trued", "rear-rotor-clean", "to clean the rotor"),
        ("rear-caliper-aligned", "rear-caliper-aligned", "rear-rotor-clean", "to clean the rotor"),
        ("hub-gear-cable-replaced", "hub-gear-cable-replaced", "cut-cable", "cut to its length"),
        ("pressed-bracket-replaced", "pressed-bracket-replaced", "grease-bore", "to apply the frame"),
        ("headset-bearings-replaced", "headset-bearings-replaced", "tighten-plug", "to tighten the expander plug"),
        ("electronic-shifting-set", "electronic-shifting-set", "inspect-shift-battery", "to inspect the shift"),
        ("suspension-sag-set", "suspension-sag-set", "read-fork", "to measure the fork"),
        ("pulleys-serviced", "pulleys-serviced", "grease-lower", "grease on its sleeve"),
        ("pedals-fitted", "bike-into-stand", "feel-weight", "to lift the heavy bike"),
        ("drivetrain-cleaned", "drivetrain-cleaned", "measure-clean-chain", "to measure the chain"),
        ("crankset-off-and-on", "cranks-off", "chain-aside", "to lay or push the chain"),
        ("rear-hydraulic-disc-bled", "fluid-ready", "gloves-on", "to wear the brake fluid"),
        ("rear-hydraulic-disc-bled", "brake-bleed", "gloves-off", "the pair of gloves"),
        ("front-hydraulic-disc-bled", "brake-bleed", "hood-down", "the hood of the brake lever"),
        ("front-rim-brake-cable-replaced", "bar-tape-on", "hood-down", "the hood of the brake lever"),
        ("rear-wheel-out-and-in", "rear-wheel-in", "reaction-arm-in", "the reaction arm"),
        ("front-wheel-out-and-in", "front-wheel-in", "reaction-arm-in", "the reaction arm"),
    ],
)
def test_an_act_that_only_the_trade_asks_for_is_missed(guide: str, home: str, name: str, words: str) -> None:
    faulty = without(home, name)
    told = [one.message for one in prove(faulty.guides[guide], faulty, counting=False).diagnostics]
    assert any(words in message for message in told), told


def test_a_wanted_part_that_no_step_looks_at_is_told() -> None:
    faulty = without("rear-derailleur-replaced", "compare-derailleur")
    (found,) = new_parts_are_new(faulty)
    assert "a new rear derailleur is planned, and no step looks at it" in found.message


@pytest.mark.parametrize("guard", ["safety-glasses", "work-gloves"])
def test_eyes_and_hands_are_guarded_at_the_puller(guard: str) -> None:
    old = library()
    home = old.procedures["cartridge-bearings-new"]
    bare = tuple(
        replace(one, tools=tuple(tool for tool in one.tools if tool != guard)) if isinstance(one, Step) else one
        for one in home.steps
    )
    faulty = replace(old, procedures={**old.procedures, home.id: replace(home, steps=bare)})
    told = [one.message for one in static_findings(faulty.guides["front-cartridge-bearings-replaced"], faulty)]
    assert f"step 'left-out' is done with {old.tools[guard].name}" in told, told


def test_a_spring_that_a_bolt_holds_is_warned_of_wherever_the_bolt_is_loosened() -> None:
    (step,) = (one for home, one in written_steps(library()) if (home, one.id) == ("disc-cable-free", "loosen-cable"))
    assert "return-spring" not in step.handles
    assert "spring" in {caution.id for caution in attached(step, library())}
