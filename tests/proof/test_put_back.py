"""A new part has a new part's states, and what is let out is put back."""

from __future__ import annotations

from dataclasses import replace

from builder.model.condition import All, Is
from builder.model.facts import Role
from builder.model.guide import Step
from builder.model.library import Library
from builder.proof.proving import prove
from builder.proof.put_back import measured_and_put_back, new_parts_are_new, what_is_let_out
from tests.demo import LEAD, library


def with_step(procedure: str, step_id: str, **changes: object) -> Library:
    old = library().procedures[procedure]
    steps = tuple(
        replace(one, **changes) if isinstance(one, Step) and one.id == step_id else one  # type: ignore[arg-type]
        for one in old.steps
    )
    assert steps != old.steps
    return replace(library(), procedures={**library().procedures, procedure: replace(old, steps=steps)})


def test_the_clutch_of_a_new_derailleur_is_on_whatever_was_done_to_the_old_one() -> None:
    """Switched off on bikes alone that had no clutch before, as if the old one's were still off."""
    lib = with_step(
        "chain-join", "clutch-stays-off", when=All((Is("new-clutch", ("fitted",)), Is("clutch", ("none",))))
    )
    found = next(
        one
        for one in prove(lib.guides[LEAD], lib, counting=False).diagnostics
        if "chain-thread.thread-chain" in one.message
    )
    assert "the cage clutch is switched off, but it is switched on" in found.message
    assert "a new rear derailleur" in found.label


def test_the_gear_cable_is_not_in_a_new_derailleur_until_a_step_threads_it() -> None:
    """What stayed in its housing hangs beside the new derailleur, and a bolt that is tightened there holds nothing."""
    lib = with_step("gear-cable-in", "cable-in", leaves={})
    guide = lib.guides["rear-derailleur-replaced"]
    told = [one.message for one in prove(guide, lib, counting=False).diagnostics]
    assert any("'gear-cable-clamp.pull-cable'" in message and "it is drawn out of it" in message for message in told)


def test_a_motor_moves_a_new_derailleur_to_the_largest_sprocket_only_when_its_trim_is_tried() -> None:
    lib = with_step("body-angle", "trim-first", leaves={})
    guide = lib.guides["rear-derailleur-replaced"]
    (found, *_) = prove(guide, lib, counting=False).diagnostics
    assert "'body-angle.select-largest' needs that the trim of the rear derailleur is tried" in found.message
    assert "electronic shifting" in found.label


def test_a_new_rotor_owes_its_bedding() -> None:
    state = library().states["pad-bedding"]
    assert (state.of, state.new) == ((Role.FRONT_PADS, Role.REAR_PADS, Role.FRONT_ROTOR, Role.REAR_ROTOR), "due")
    guide = library().guides["rear-rotor-fitted"]
    no_ride = replace(
        library(),
        procedures={**library().procedures, "bed-pads": replace(library().procedures["bed-pads"], steps=())},
    )
    assert any(
        "the bedding of the pads is still to do" in one.message
        for one in prove(guide, no_ride, counting=False).diagnostics
    )


def test_a_new_part_that_is_laid_out_and_never_put_on_is_told() -> None:
    assert new_parts_are_new(library()) == ()
    guide = library().guides["rear-rotor-fitted"]

    def old(step: object) -> object:
        return replace(step, renews=()) if isinstance(step, Step) else step

    work = tuple(replace(section, steps=tuple(map(old, section.steps))) for section in guide.work)  # type: ignore[arg-type]
    faulty = replace(library(), guides={**library().guides, guide.id: replace(guide, work=work)})
    (found,) = new_parts_are_new(faulty)
    assert found.hints[0].startswith("write 'renews: [rear-rotor]'")


def test_air_that_is_let_out_without_a_state_is_told() -> None:
    assert what_is_let_out(library()) == ()
    (found,) = what_is_let_out(with_step("tube-off", "deflate", leaves={}, needs={}))
    assert "lets something out, and no state says that it must be put back" in found.message


def test_a_measurement_that_empties_a_shock_and_does_not_fill_it_is_told() -> None:
    growth = library().measurements["axle-growth"]
    emptied = replace(growth, how=("Deflate the shock.", *growth.how))
    (found,) = measured_and_put_back(replace(library(), measurements={**library().measurements, growth.id: emptied}))
    assert found.message == "the measurement 'axle-growth' lets something out and does not put it back"
