"""The engine puts findings at their place and lets a waiver silence exactly one rule at exactly one element."""

from __future__ import annotations

from dataclasses import replace

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Guide, Procedure, Section, Step, Use, Waiver
from builder.model.library import Library
from builder.model.position import Places, Position
from builder.proof.writing import check_guide, check_writing, waivers
from tests.demo import library
from tests.writing.trying import guide, shipped

AT = Position("guides/guide.yaml", 12, 9)
DO = Position("guides/guide.yaml", 13, 13)
BAD = Step(id="bad", do="Loosen the bolt and remove the washer; stop.", places=Places(AT, (("do", DO),)))


def with_steps(*steps: Step | Use) -> Guide:
    return guide(work=(Section(title="Remove the washer", end="The washer is off.", steps=steps),))


def library_of(*guides: Guide, procedures: dict[str, Procedure] | None = None) -> Library:
    return replace(
        shipped().library, guides={one.id: one for one in guides}, procedures=procedures or {}, bikes={}, parts={}
    )


def ids(library: Library) -> list[str]:
    return [one.rule for one in check_writing(library)]


def waiver(rule: str, reason: str = "The two go together.", by: str = "M. Muster") -> Waiver:
    return Waiver(rule=rule, reason=reason, by=by, places=Places(AT))


def test_a_finding_names_its_rule_its_place_what_is_allowed_a_repair_and_the_source() -> None:
    found = next(one for one in check_writing(library_of(with_steps(BAD))) if one.rule == "W06")
    assert found.at == DO
    assert found.gravity is Gravity.ERROR
    assert "2 instructions" in found.message
    assert found.label.startswith("allowed: one instruction in a sentence")
    assert len(found.hints) == 2
    assert found.hints[1].startswith("W06, house rule after ASD-STE100")


def test_a_waiver_silences_its_rule_at_its_element_and_nothing_else() -> None:
    assert ids(library_of(with_steps(BAD))) == ["W06", "W13"]
    assert ids(library_of(with_steps(replace(BAD, waivers=(waiver("W06"),))))) == ["W13"]
    other = replace(BAD, id="other", places=Places(replace(AT, line=20)))
    found = check_writing(library_of(with_steps(replace(BAD, waivers=(waiver("W06"),)), other)))
    assert [(one.at.line, one.rule) for one in found] == [(13, "W13"), (20, "W06"), (20, "W13")]


def test_a_waiver_is_listed_with_what_it_silences() -> None:
    listed = waivers(library_of(with_steps(replace(BAD, waivers=(waiver("W06"),)))))
    assert [(one.rule, one.by, one.element, len(one.silenced)) for one in listed] == [("W06", "M. Muster", "bad", 1)]


def test_a_waiver_without_a_reason_silences_nothing_and_is_a_finding() -> None:
    found = ids(library_of(with_steps(replace(BAD, waivers=(waiver("W06", reason=" "),)))))
    assert sorted(found) == ["W06", "W13", "waiver"]


def test_a_waiver_that_silences_nothing_is_a_finding() -> None:
    fine = Step(id="fine", do="Loosen the bolt.", waivers=(waiver("W06"),))
    assert ids(library_of(with_steps(fine))) == ["waiver"]


def test_a_waiver_of_an_unknown_rule_is_a_finding() -> None:
    fine = Step(id="fine", do="Loosen the bolt.", waivers=(waiver("W99"),))
    assert ids(library_of(with_steps(fine))) == ["waiver"]


def test_a_waiver_that_nobody_answers_for_is_a_finding() -> None:
    nameless = replace(BAD, waivers=(waiver("W06", by=""),))
    assert sorted(ids(library_of(with_steps(nameless)))) == ["W13", "waiver"]


def test_a_waiver_of_a_caution_is_left_to_the_proof() -> None:
    fine = Step(id="fine", do="Loosen the bolt.", waivers=(waiver("caution:spring"),))
    assert ids(library_of(with_steps(fine))) == []


def test_one_guide_is_judged_with_the_procedures_that_it_uses() -> None:
    procedure = Procedure(id="shared", title="Remove the washer", steps=(BAD,))
    of = with_steps(Use(use="shared"))
    library = library_of(of, procedures={"shared": procedure})
    assert [one.rule for one in check_guide(of, library)] == ["W06", "W13"]
    assert check_guide(guide(), library) == ()


def test_an_unknown_value_is_judged_with_the_words_that_stand_for_it() -> None:
    long = "Cut the chain behind the mark on the plate so that {{ chain.links }} links of the new chain are left in it."
    assert ids(library_of(with_steps(Step(id="long", do=long)))) == ["W01"]


def test_no_error_is_left_in_the_shipped_library() -> None:
    found = check_writing(library())
    assert [f"{one.at} {one.rule} {one.message}" for one in found if one.gravity is Gravity.ERROR] == []
