"""What is told of a workspace is its own: notes about the library below it are not."""

from __future__ import annotations

import pytest

from builder.build import examining
from builder.build.order import Quiet
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.library import Library
from builder.model.position import Position
from builder.sources.loaded import Loaded


def found_in(file: str, gravity: Gravity) -> Diagnostic:
    return Diagnostic(rule="unreached", message=f"{gravity} in {file}", at=Position(file, 1, 1), gravity=gravity)


@pytest.mark.parametrize("below", [True, False])
def test_notes_about_the_library_below_are_left_out_and_nothing_else_is(
    below: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    every = tuple(found_in(file, gravity) for file in ("shipped.yaml", "ours.yaml") for gravity in Gravity)
    monkeypatch.setattr(examining, "gate", lambda *_, **__: every)
    loaded = Loaded(library=Library(), laid_under=frozenset({"shipped.yaml"} if below else ()))
    told = examining.examined(loaded, 1, Quiet())
    assert set(every) - set(told) == ({found_in("shipped.yaml", Gravity.NOTE)} if below else set())
