"""What was kept of builds before leaves no trace in what is built: not in a preview, and not in a new process."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from builder.build import snapshot
from builder.build.driver import build
from builder.build.order import Order, Quiet
from builder.build.store import Store, kept_in
from builder.model.memory import Memory
from builder.pages.paper import Paper
from tests.build.ordering import FITS, SHORT
from tests.edits.sweep import edits

FEW = {"guides": (SHORT,), "bikes": (FITS,)}


def test_edits_by_chance_come_out_as_if_nothing_were_known(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(snapshot, "_WORTH_KEEPING", 0.0)
    # A word in the catalogue has every guide proven again: such edits are for the command.
    found = list(edits(tmp_path, 2, 4, (f"{SHORT}.yaml", f"bikes/{FITS}.yaml"), **FEW))
    assert [(one.in_preview, one.in_process) for one in found] == [((), ())] * 2, found
    assert found[0].changed > 100


def test_a_new_process_makes_no_job_again_and_a_damaged_record_harms_nothing(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    # No other test asks for this paper, so that nothing is kept of it.
    order = Order(out=tmp_path / "output", printing=False, papers=(Paper.LETTER,), **FEW)  # type: ignore[arg-type]
    made: list[Memory] = []

    def kept(order: Order, memory: Memory) -> None:
        made.append(memory)
        keep(order, memory)

    keep = snapshot.keep
    monkeypatch.setattr(snapshot, "keep", kept)
    for folder in ("output", "other"):
        assert build(replace(order, out=tmp_path / folder), Quiet()).told
    first, again = made
    assert first.made.count("job") == 2
    assert {"job", "page", "code", "record"} & {*again.made} == set()
    store, name = kept_in("made"), snapshot._name(order)
    assert isinstance(store, Store)
    store.put(name, b"no such thing")
    assert list(snapshot.recalled(order).entries()) == []
    store.put(name, b"cos\nsystem\n(S'false'\ntR.")
    assert list(snapshot.recalled(order).entries()) == []


def test_a_fleet_that_is_too_large_is_not_held(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(snapshot, "_MOST_MADE", 10)
    assert not snapshot.recalled(Order(out=tmp_path)).is_lasting
