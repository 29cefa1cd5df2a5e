"""Proving on all cores, and not proving again what was found sound."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from builder.build import proving
from builder.build.proving import Prover, kept_marks
from builder.build.store import Store
from builder.diagnostics.diagnostic import Diagnostic, Gravity, ordered
from builder.model.facts import Role
from builder.model.inlining import inlined
from builder.model.library import Library
from builder.model.units import Range
from builder.proof.gate import gate, proven
from tests.build.ordering import LEAD
from tests.demo import loaded

LOADED = loaded()
GUIDES = [f"guide:{name}" for name in LOADED.library.guides]
TEXTS = ["texts:", "bikes:", *(f"texts:{name}" for name in LOADED.library.guides)]
STANDING = [f"bike:{name}" for name in LOADED.library.bikes]
EVERY = sorted(["cases:", "rest:", *STANDING, *TEXTS, *GUIDES])
SHORT = "rear-derailleur-adjusted"
LEAD_FILE = LOADED.library.guides[LEAD].places.at.file


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Which tasks are done in this process; each finds nothing."""
    tasks: list[str] = []

    def nothing(task: str, given: object) -> tuple[Diagnostic, ...]:
        tasks.append(task)
        return ()

    monkeypatch.setattr(proving, "_findings", nothing)
    monkeypatch.setattr(proving, "unreached", lambda *_: ())
    return tasks


def faulty() -> Library:
    """The library with one short guide that ends too early, so that the bike is not ready to be ridden."""
    guide = LOADED.library.guides[SHORT]
    return replace(LOADED.library, guides={SHORT: replace(guide, finish=(), test=())})


@cache
def faults() -> tuple[Diagnostic, ...]:
    """What the proof and the rules of writing find in it."""
    return ordered(proven(faulty()))


def ask(library: Library, store: Store | None, texts: Mapping[str, str] = LOADED.texts) -> tuple[Diagnostic, ...]:
    return Prover(texts=texts, store=store).findings(library)


@pytest.mark.parametrize("processes", [1, 2])
def test_it_finds_what_the_proof_and_the_writing_rules_find(processes: int) -> None:
    found = Prover(texts=LOADED.texts, processes=processes).findings(faulty())
    assert found == faults()
    assert any(one.rule.startswith("proof-") for one in found)


def test_what_was_found_sound_is_not_asked_again(asked: list[str], tmp_path: Path) -> None:
    store = Store(tmp_path)
    assert ask(LOADED.library, store) == ()
    assert sorted(asked) == EVERY
    ask(LOADED.library, store)
    assert len(asked) == len(EVERY)


def test_what_was_found_faulty_is_told_again_each_time_and_asked_once(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    store = Store(tmp_path)
    assert ask(faulty(), store) == faults()
    monkeypatch.setattr(proving, "_findings", None)
    assert ask(faulty(), store) == faults()


def test_findings_that_were_damaged_are_asked_for_again(asked: list[str], tmp_path: Path) -> None:
    class Odd(Store):
        """Gives back what another program may have written."""

        def get(self, key: str) -> bytes | None:
            return None if super().get(key) is None else b'[{"rule": 1}]'

    ask(LOADED.library, Odd(tmp_path))
    ask(LOADED.library, Odd(tmp_path))
    assert len(asked) == 2 * len(EVERY)


TORQUE = "rear-derailleur-bolt"
TIGHTENED_BY = [
    name
    for name, guide in LOADED.library.guides.items()
    if any(TORQUE in (one.step.tightens, one.step.loosens, *one.step.tries) for one in inlined(guide, LOADED.library))
]


def changed(collection: str, record: str, /, **fields: object) -> Library:
    """The library with one record that says something else."""
    records = getattr(LOADED.library, collection)
    return replace(LOADED.library, **{collection: {**records, record: replace(records[record], **fields)}})


def with_torque() -> Library:
    return changed("fasteners", TORQUE, torque_nm=Range(5.0, 5.5))


@pytest.mark.parametrize(
    ("library", "again"),
    [
        (changed("guides", LEAD, title="Fit it"), [f"guide:{LEAD}", f"texts:{LEAD}"]),
        (changed("bikes", "heron", name="Egret"), ["bike:heron", "bikes:"]),
        (changed("parts", "cs-11-42-11s", note="Light."), ["texts:", *STANDING]),
        (
            with_torque(),
            ["rest:", "texts:", *STANDING, *(f"{kind}:{name}" for name in TIGHTENED_BY for kind in ("guide", "texts"))],
        ),
        (changed("states", "chain", name="the bicycle chain"), [one for one in EVERY if one != "cases:"]),
        (replace(LOADED.library, workshop=replace(LOADED.library.workshop, tools=(), name="Ours")), ["texts:"]),
    ],
    ids=["a guide", "a bike", "a part", "a torque", "a state", "the workshop"],
)
def test_only_what_a_changed_record_bears_on_is_asked_again(
    asked: list[str], tmp_path: Path, library: Library, again: list[str]
) -> None:
    store = Store(tmp_path)
    ask(LOADED.library, store)
    asked.clear()
    ask(library, store)
    assert sorted(asked) == sorted(again)
    assert 0 < len(TIGHTENED_BY) < len(GUIDES) / 2


def test_where_records_stand_has_no_say_in_whether_they_are_sound(asked: list[str], tmp_path: Path) -> None:
    store = Store(tmp_path)
    ask(LOADED.library, store)
    asked.clear()
    ask(LOADED.library, store, {f"elsewhere/{file}": f"# a line\n{text}" for file, text in LOADED.texts.items()})
    assert asked == []


def test_a_task_is_given_enough_to_find_what_the_whole_library_shows() -> None:
    short = replace(LOADED.library, fasteners=with_torque().fasteners, cautions={}, rules={})
    few = replace(short, guides={name: short.guides[name] for name in (SHORT,)})
    assert ask(few, None) == ordered(proven(few))


def test_a_torque_on_a_bike_that_no_wrench_holds_is_found_though_the_guides_are_known_to_be_sound(
    asked: list[str], tmp_path: Path
) -> None:
    store = Store(tmp_path)
    assert ask(LOADED.library, store) == ()
    bike = LOADED.library.bikes["heron"]
    cassette = replace(bike.parts[Role.CASSETTE], id="its-own", torques_nm={"cassette-lockring": Range(400.0, 400.0)})
    strong = replace(bike, parts={**bike.parts, Role.CASSETTE: cassette})
    prover = Prover(texts=LOADED.texts, store=store)
    found = gate(replace(LOADED.library, bikes={**LOADED.library.bikes, "heron": strong}), prove=prover.findings)
    found = tuple(one for one in found if one.gravity is Gravity.ERROR)
    assert {one.rule for one in found} == {"proof-wrench", "trade-range"}
    assert all("400" in one.message for one in found)
    assert asked[len(EVERY) :] == ["bike:heron", "bikes:"]


def test_a_mark_that_can_not_be_kept_does_no_harm(asked: list[str], tmp_path: Path) -> None:
    in_the_way = tmp_path / "file"
    in_the_way.write_text("", encoding="utf-8")
    assert ask(LOADED.library, Store(in_the_way)) == ()
    assert asked


def test_marks_are_kept_where_the_person_keeps_what_can_be_made_again(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    store = kept_marks()
    assert store is not None
    store.put("key", b"sound")
    assert (tmp_path / "spannerleaf" / "sound" / "key").is_file()
    # The specification of base directories lets a relative path count as none.
    monkeypatch.setenv("XDG_CACHE_HOME", "here")
    assert kept_marks() is None
