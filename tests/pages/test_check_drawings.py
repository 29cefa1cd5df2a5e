"""Each check that names a drawing by other names gets it, with numbers that the drawing takes."""

from __future__ import annotations

import pytest

from builder.checks.registry import CHECKS
from builder.drawings.registry import draw, parameters
from builder.pages.check_drawings import _OTHERWISE, drawing_of


@pytest.mark.parametrize("name", sorted(_OTHERWISE))
def test_the_drawing_can_be_made_from_the_checks_example(name: str) -> None:
    drawing, numbers = drawing_of(CHECKS[name])
    assert set(numbers) <= {parameter.name for parameter in parameters(drawing)}
    assert draw(drawing, numbers).svg.startswith("<svg")


def test_the_chain_path_of_the_length_check_shows_its_own_teeth() -> None:
    drawing, numbers = drawing_of(CHECKS["chain-length"])
    assert drawing == "chain-path"
    assert numbers["sprocket"] == CHECKS["chain-length"].example["sprocket"]
