"""What the catalogue holds and no step comes to is told."""

from __future__ import annotations

from dataclasses import replace

from builder.diagnostics.diagnostic import Gravity
from builder.model.catalogue import Harm, Likelihood, Severity
from builder.model.condition import Is
from builder.model.library import Library
from builder.proof.unreached import unreached
from tests.demo import library


def told(lib: Library) -> set[str]:
    return {one.message for one in unreached(lib)} - {one.message for one in unreached(library())}


def test_a_caution_that_attaches_to_no_act_is_told() -> None:
    wheel = library().cautions["pad-gap"]
    never = replace(wheel, id="never", verbs=("charge",), things=("rear-wheel",))
    found = told(replace(library(), cautions={**library().cautions, "never": never}))
    assert found == {"no step of any guide brings in the caution 'never'"}


def test_a_caution_that_attaches_on_bikes_alone_that_never_do_the_act_is_told() -> None:
    # A derailleur comes off a bike with a hub gear in no guide.
    act = {"verbs": ("loosen",), "things": ("rear-derailleur",), "when": Is("transmission", ("hub-gear",))}
    words = {"text": "Stop. It can break.", "short": "Stop.", "likelihood": Likelihood.COULD}
    never = replace(
        library().cautions["pad-gap"], id="never", harm=Harm.THINGS, severity=Severity.DAMAGE, **words, **act
    )
    found = told(replace(library(), cautions={**library().cautions, "never": never}))
    assert "no step of any guide brings in the caution 'never'" in found
    somewhere = replace(never, when=Is("transmission", ("derailleur",)))
    assert told(replace(library(), cautions={**library().cautions, "never": somewhere})) == set()


def test_records_that_no_step_names_are_told() -> None:
    lib = library()
    odd = replace(
        lib,
        rules={**lib.rules, "odd": replace(next(iter(lib.rules.values())), id="odd", verbs=("charge",))},
        states={**lib.states, "odd": replace(lib.states["chain"], id="odd")},
        attributes={**lib.attributes, "odd": replace(lib.attributes["rear-axle"], id="odd")},
        measurements={**lib.measurements, "odd": replace(lib.measurements["chainstay"], id="odd", check="")},
        procedures={**lib.procedures, "odd": replace(lib.procedures["clutch-on"], id="odd")},
    )
    assert told(odd) == {
        "no step of any guide is spoken of by the rule 'odd'",
        "no step needs or leaves the state 'odd'",
        "no condition asks the attribute 'odd'",
        "no step takes the measurement 'odd'",
        "no guide uses the procedure 'odd'",
    }


def test_fasteners_and_tools_beyond_the_guides_are_one_note_each() -> None:
    lib = library()
    more = replace(lib, fasteners={**lib.fasteners, "odd": replace(lib.fasteners["rotor-bolts"], id="odd")})
    (note,) = (one for one in unreached(more) if "of the fasteners" in one.message)
    assert note.gravity is Gravity.NOTE
    assert note.message.endswith(", odd") or ", odd" in note.message
