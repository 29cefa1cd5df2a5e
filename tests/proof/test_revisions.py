"""A trial counts for the text that was tried and for no other; what changed since is told step by step.

The three kinds of status are those of S1000D, chapter 3.7, as restated by others; that a change takes the status back
is a rule of the house. The trials are invented.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.cli.tried import command
from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Guide, Procedure, Section, Step, Trial, TrialKind, Tried, Use, Waiver
from builder.model.library import Library
from builder.model.position import Places, Position
from builder.model.units import Range
from builder.proof.revisions import (
    GUIDE,
    ChangeKind,
    StatusKind,
    StepChange,
    changed_since,
    check_trials,
    status,
    step_codes,
    text_code,
    written_steps,
)
from builder.sources.workspace import load
from tests.demo import library
from tests.writing.trying import guide

FIRST = Step(id="first", do="Remove the wheel.")
SECOND = Step(id="second", do="Tighten the lockring to {{ torque }}.", tightens="cassette-lockring")
THIRD = Step(id="third", do="Lift the bike.", handles=("bike",))


def of(*steps: Step | Use) -> Guide:
    return guide(id="job", work=(Section(title="Work", end="The bike is off the ground.", steps=steps),))


def trial_of(tried: Guide, library: Library, how: TrialKind = TrialKind.TABLE_TOP, date: str = "2026-01-31") -> Trial:
    return Trial(
        by="M. Muster", date=date, how=how, proof_of=text_code(tried, library), steps=written_steps(tried, library)
    )


def test_a_guide_that_nobody_tried_is_unverified() -> None:
    now = status(of(FIRST), library())
    assert (now.kind, now.trial, now.stale) == (StatusKind.UNVERIFIED, None, False)


@pytest.mark.parametrize("how", list(TrialKind))
def test_a_trial_of_the_present_text_counts(how: TrialKind) -> None:
    trial = trial_of(of(FIRST), library(), how)
    now = status(replace(of(FIRST), trials=(trial,)), library())
    assert (now.kind.value, now.trial, now.stale) == (how.value, trial, False)


def test_on_a_bicycle_counts_for_more_than_a_later_trial_at_the_table() -> None:
    whole = library()
    bike = trial_of(of(FIRST), whole, TrialKind.ON_BICYCLE, "2026-01-01")
    table = trial_of(of(FIRST), whole, TrialKind.TABLE_TOP, "2026-02-01")
    assert status(replace(of(FIRST), trials=(bike, table)), whole).kind is StatusKind.ON_BICYCLE


@pytest.mark.parametrize(
    "changed",
    [
        replace(SECOND, do="Tighten the lockring by hand to {{ torque }}."),
        replace(SECOND, why="It holds the cassette."),
        replace(SECOND, prove="It does not move."),
        replace(SECOND, tools=("chain-whip",)),
        replace(SECOND, consumables=("grease",)),
        replace(SECOND, cautions=("spring",)),
        replace(SECOND, waivers=(Waiver(rule="caution:sprocket-slip", reason="No."),)),
        replace(SECOND, tightens="rear-derailleur-bolt"),
        replace(SECOND, wait_min=5.0),
        replace(SECOND, figure="chain-path"),
    ],
    ids=["do", "why", "prove", "tools", "consumables", "caution", "caution waived", "fastener", "wait", "figure"],
)
def test_any_change_that_a_reader_sees_takes_the_status_back_and_names_the_step(changed: Step) -> None:
    whole = library()
    trial = trial_of(of(FIRST, SECOND), whole)
    now = status(replace(of(FIRST, changed), trials=(trial,)), whole)
    assert (now.kind, now.stale) == (StatusKind.UNVERIFIED, True)
    assert now.since == (StepChange("second", ChangeKind.CHANGED),)


def test_a_change_in_the_catalogue_takes_the_status_back_too() -> None:
    whole = library()
    trial = trial_of(of(FIRST, SECOND, THIRD), whole)
    tried = replace(of(FIRST, SECOND, THIRD), trials=(trial,))
    lockring = replace(whole.fasteners["cassette-lockring"], torque_nm=Range(30.0, 45.0))
    other = replace(whole, fasteners={**whole.fasteners, "cassette-lockring": lockring})
    assert status(tried, other).since == (StepChange("second", ChangeKind.CHANGED),)
    caution = replace(whole.cautions["stand-drop"], text="Hold the bike. It can fall.")
    other = replace(whole, cautions={**whole.cautions, "stand-drop": caution})
    assert status(tried, other).since == (StepChange("third", ChangeKind.CHANGED),)


def test_a_change_in_a_shared_procedure_takes_the_status_back() -> None:
    before = replace(library(), procedures={"shared": Procedure(id="shared", title="Shared", steps=(FIRST,))})
    after = replace(
        before, procedures={"shared": Procedure(id="shared", title="Shared", steps=(replace(FIRST, why="So."),))}
    )
    tried = replace(of(Use(use="shared")), trials=(trial_of(of(Use(use="shared")), before),))
    assert status(tried, before).kind is StatusKind.TABLE_TOP
    assert status(tried, after).since == (StepChange("shared.first", ChangeKind.CHANGED),)


def test_added_removed_and_moved_steps_are_told_apart() -> None:
    whole = library()
    trial = trial_of(of(FIRST, SECOND, THIRD), whole)
    new = Step(id="new", do="Stop.")
    assert changed_since(of(FIRST, SECOND, new, THIRD), whole, trial) == (StepChange("new", ChangeKind.ADDED),)
    assert changed_since(of(FIRST, THIRD), whole, trial) == (StepChange("second", ChangeKind.REMOVED),)
    assert changed_since(of(SECOND, THIRD, FIRST), whole, trial) == (StepChange("first", ChangeKind.MOVED),)
    assert changed_since(replace(of(FIRST, SECOND, THIRD), purpose="x"), whole, trial) == (
        StepChange(GUIDE, ChangeKind.CHANGED),
    )


def test_what_no_reader_sees_leaves_the_status_as_it_is() -> None:
    whole = library()
    trial = trial_of(of(FIRST), whole)
    quiet = replace(
        FIRST,
        places=Places(Position("elsewhere.yaml", 9, 9)),
        waivers=(Waiver(rule="W06", reason="A reason.", by="M."),),
        do="Remove  the\nwheel.",
    )
    assert status(replace(of(quiet), trials=(trial,)), whole).kind is StatusKind.TABLE_TOP


@settings(max_examples=40, deadline=None)
@given(st.permutations([FIRST, SECOND, THIRD]), st.permutations([FIRST, SECOND, THIRD]))
def test_two_guides_have_one_code_only_if_their_steps_stand_in_one_order(one: list[Step], two: list[Step]) -> None:
    whole = library()
    assert (text_code(of(*one), whole) == text_code(of(*two), whole)) is (one == two)


def test_the_codes_of_a_guide_differ_from_step_to_step_and_stay_the_same() -> None:
    whole = library()
    for one in whole.guides.values():
        codes = step_codes(one, whole)
        assert codes == step_codes(one, whole)
        assert next(iter(codes)) == GUIDE


def test_check_says_what_changed_since_a_trial_and_where() -> None:
    whole = library()
    place = Position("guides/job.yaml", 7, 5)
    changed = replace(SECOND, do="Tighten it to {{ torque }}.", places=Places(place))
    stale = replace(of(FIRST, changed), trials=(trial_of(of(FIRST, SECOND), whole),))
    (found,) = check_trials(replace(whole, guides={"job": stale}))
    assert found.gravity is Gravity.NOTE
    assert "'job' is unverified again" in found.message
    assert found.hints[0] == "changed since: second"
    assert found.related == ((place, "changed"),)


def test_trials_of_a_guide_that_does_not_exist_are_told() -> None:
    (found,) = check_trials(replace(library(), guides={}, tried={"gone": Tried(id="gone", trials=())}))
    assert "'gone'" in found.message


def run(workspace: Path, *arguments: str) -> str:
    result = CliRunner().invoke(command, [*arguments, "--workspace", str(workspace)])
    return result.output if result.exit_code == 0 else f"exit {result.exit_code}: {result.output}"


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    (tmp_path / "workshop.yaml").write_text('name: "Test"\n', encoding="utf-8")
    return tmp_path


JOB = "wider-range-cassette"


def test_the_command_writes_a_trial_that_the_sources_read_back(workspace: Path) -> None:
    run(workspace, JOB, "--by", "M. Muster", "--how", "table-top", "--date", "2026-02-03", "--found", 'A "slip".')
    loaded = load(workspace)
    assert loaded.diagnostics == ()
    now = status(loaded.library.guides[JOB], loaded.library)
    assert now.kind is StatusKind.TABLE_TOP
    assert now.trial is not None
    assert (now.trial.by, now.trial.date, now.trial.found) == ("M. Muster", "2026-02-03", 'A "slip".')


def test_a_second_trial_is_added_to_the_first(workspace: Path) -> None:
    run(workspace, JOB, "--by", "A.", "--how", "table-top", "--date", "2026-02-03")
    run(workspace, JOB, "--by", "B.", "--how", "on-bicycle", "--bike", "the blue one", "--date", "2026-02-04")
    loaded = load(workspace)
    assert [trial.by for trial in loaded.library.tried[JOB].trials] == ["A.", "B."]
    assert status(loaded.library.guides[JOB], loaded.library).kind is StatusKind.ON_BICYCLE


def test_a_step_stands_in_a_line_of_its_own_in_the_file(workspace: Path) -> None:
    run(workspace, JOB, "--by", "A.", "--how", "table-top")
    lines = (workspace / "catalogue" / "tried.yaml").read_text(encoding="utf-8").splitlines()
    steps = [line for line in lines if line.startswith("        - ")]
    assert len(steps) == len(step_codes(library().guides[JOB], library()))


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("wider-range-casette", "--by", "A.", "--how", "table-top"), "did you mean 'wider-range-cassette'"),
        ((JOB, "--by", " ", "--how", "table-top"), "--by NAME"),
        ((JOB, "--by", "A.", "--how", "on-bicycle"), "--bike TEXT"),
        ((JOB, "--by", "A.", "--how", "table-top", "--date", "3.2.2026"), "is no day"),
    ],
)
def test_a_misuse_is_told_and_writes_nothing(workspace: Path, arguments: tuple[str, ...], words: str) -> None:
    output = run(workspace, *arguments)
    assert output.startswith("exit 2")
    assert words in output
    assert not (workspace / "catalogue").exists()


@pytest.mark.parametrize(
    "text",
    [
        "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n",
        "wider-range-cassette: [",
        "wider-range-cassette: {trials: none}\n",
        "wider-range-cassette: {trials: [{by: [A.]}]}\n",
        "- a list\n",
        "wider-range-cassette:\n",
    ],
)
def test_a_file_of_trials_that_can_not_be_read_is_left_as_it_is(workspace: Path, text: str) -> None:
    path = workspace / "catalogue" / "tried.yaml"
    path.parent.mkdir()
    path.write_text(text, encoding="utf-8")
    output = run(workspace, JOB, "--by", "A.", "--how", "table-top")
    assert output.startswith("exit 2")
    assert path.read_text(encoding="utf-8") == text
    assert [one.name for one in path.parent.iterdir()] == ["tried.yaml"]


def test_a_text_with_a_hidden_character_is_not_written_down(workspace: Path) -> None:
    assert "can not be seen" in run(workspace, JOB, "--by", "A.\u202e", "--how", "table-top")
    assert not (workspace / "catalogue").exists()
