"""A drawing exists, and shows what its step does."""

from __future__ import annotations

from dataclasses import replace

import pytest

from builder.drawings.drawing_kind import ShownAct
from builder.drawings.registry import DRAWING_KINDS
from builder.model.guide import Step
from builder.model.library import Library
from builder.proof import figures
from builder.proof.families import families_agree
from builder.proof.figures import figures_are_right
from builder.sources.starters import guide_start
from tests.demo import LEAD, library


def with_figure(name: str, step_id: str = "tighten-lockring", procedure: str = "cassette-on") -> Library:
    changed = library().procedures[procedure]
    steps = tuple(
        replace(one, figure=name) if isinstance(one, Step) and one.id == step_id else one for one in changed.steps
    )
    assert steps != changed.steps
    return replace(library(), procedures={**library().procedures, procedure: replace(changed, steps=steps)})


def test_the_drawings_of_the_library_are_right() -> None:
    assert figures_are_right(library()) == ()


def test_a_typo_in_the_name_of_a_drawing_is_told_with_the_nearest_name() -> None:
    (found,) = figures_are_right(with_figure("cable-clmp"))
    assert found.message == "there is no drawing 'cable-clmp'"
    assert found.hints[0] == "did you mean 'cable-clamp'?"
    assert found.at.file.endswith("cassette-on.yaml")


def test_a_file_with_a_picture_is_no_drawing() -> None:
    (found,) = figures_are_right(with_figure("images/stay.jpg"))
    assert "a photograph of your own goes under 'photo'" in found.hints[1]


@pytest.mark.parametrize(
    ("act", "procedure", "step", "count"),
    [
        (ShownAct.LOOSENING, "cassette-on", "tighten-lockring", 1),
        (ShownAct.LOOKING, "cassette-on", "tighten-lockring", 1),
        (ShownAct.TIGHTENING, "cassette-on", "tighten-lockring", 0),
        (ShownAct.TIGHTENING, "cassette-off", "loosen-lockring", 1),
        (ShownAct.LOOSENING, "cassette-off", "loosen-lockring", 0),
        (ShownAct.ANY, "cassette-off", "loosen-lockring", 0),
    ],
)
def test_a_drawing_of_the_contrary_act_is_told(
    monkeypatch: pytest.MonkeyPatch, act: ShownAct, procedure: str, step: str, count: int
) -> None:
    drawn = replace(DRAWING_KINDS["tyre-bead"], name="made-up", act=act)
    monkeypatch.setattr(figures, "DRAWING_KINDS", {**DRAWING_KINDS, "made-up": drawn})
    found = figures_are_right(with_figure("made-up", step, procedure))
    assert [one.rule for one in found] == ["figure-act"] * count


def test_a_family_that_is_almost_another_is_told() -> None:
    assert families_agree(library()) == ()
    odd = replace(library().guides[LEAD], family="drive-train")
    (found,) = families_agree(replace(library(), guides={**library().guides, LEAD: odd}))
    assert found.hints == ("did you mean 'drivetrain'?",)


def test_the_guide_to_begin_from_is_of_a_family_that_there_is() -> None:
    (family,) = (
        line.removeprefix("family: ") for line in guide_start("A job").splitlines() if line.startswith("family: ")
    )
    assert family in {guide.family for guide in library().guides.values()}
