"""A bike's file opened in a browser: the same bike, the same words for what is wrong, and nothing hostile gets in."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import yaml

from builder.rider.described import bike_of
from builder.rider.opening import Opening
from builder.rider.requests import BikeTold
from builder.rider.talking import Talk
from builder.sources import yaml_tree
from builder.sources.loaded import shipped_library
from builder.sources.workspace import load
from tests.demo import library

OPENING = Opening(library())
BIKES = sorted((shipped_library() / "bikes").glob("*.yaml"))
# What readers of YAML stop at, each in its own way.
UNREADABLE = (
    "a: [1, 2",
    "a: {b: c",
    'name: "x',
    "a: b: c",
    "- a\nb: c",
    "a:\n\tb: c",
    "a: *x",
    "a: [",
    "name: @x",
    "a\nb: c",
)


def opened(text: str, name: str = "my-bike.yaml") -> dict[str, object]:
    return dict(json.loads(OPENING.answer(json.dumps({"do": "open", "name": name, "text": text}))))


@pytest.mark.parametrize("path", BIKES, ids=lambda path: path.stem)
def test_a_bike_of_the_fleet_comes_back_from_its_answers(path: Path) -> None:
    found = opened(path.read_text(encoding="utf-8"), path.name)
    assert found["left-out"] == ["description"]
    told = found["bike"]
    assert isinstance(told, dict)
    interview, wrong = Talk(library()).held(BikeTold(told["name"], told["answers"]))
    assert wrong == {}
    again, bike = bike_of(interview.facts, told["name"], path.stem), library().bikes[path.stem]
    assert (again.parts, again.without, again.measured) == (bike.parts, bike.without, bike.measured)
    assert (again.rider, again.climbs, again.wear) == (bike.rider, bike.climbs, bike.wear)
    planned = {job.guide: set(job.parts) for job in bike.jobs}
    assert {guide: {*parts.values()} for guide, parts in told["parts"].items()} == planned


def test_mistakes_are_told_as_check_tells_them(tmp_path: Path) -> None:
    text = "name: Coot\nparts:\n  rear-hub: {axel: quick-release}\n  frame: {chainstay: 43 mm}\n  cassette: cs-nine\n"
    (tmp_path / "bikes").mkdir()
    (tmp_path / "bikes" / "coot.yaml").write_text(text, encoding="utf-8")
    small = Path(__file__).parent.parent / "sources" / "small"
    request = {"do": "open", "name": "coot.yaml", "text": text}
    found = json.loads(Opening(load(library=small).library).answer(json.dumps(request)))
    assert found["bike"] is None
    by_check = [one for one in load(tmp_path, small).diagnostics if one.at.file.endswith("coot.yaml")]
    assert len(by_check) == 3
    for diagnostic in by_check:
        assert f"coot.yaml:{diagnostic.at.line}:{diagnostic.at.column}" in str(found["diagnostics"])
        assert diagnostic.message in str(found["diagnostics"])
    assert str(found["diagnostics"]).count("error:") == 3


def test_what_can_not_all_be_so_is_refused_by_the_gate() -> None:
    text = "name: Coot\nparts:\n  cassette: {sprockets: [11, 13, 15, 17, 19, 21, 24, 28, 32, 36, 42]}\n"
    assert opened(text)["bike"] is not None
    found = opened(f"{text}  rear-shifter: {{speeds: 7}}\n")
    assert found["bike"] is None
    assert "can't be as its file says" in str(found["diagnostics"])


@pytest.mark.parametrize("text", UNREADABLE)
def test_the_reader_without_c_says_the_same(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    here = opened(text)
    monkeypatch.setattr(yaml_tree, "_LOADER", yaml.SafeLoader)
    assert opened(text) == here
    assert "error:" in str(here["diagnostics"])


def test_hostile_files_are_refused_in_words() -> None:
    harm = "<script>alert(1)</script>"
    assert "more than anybody tells" in str(opened("x" * 10_000_000)["wrong"])
    for text in ("[" * 5000, "a: &x [*x, *x]", "{" * 5000, f"name: '{harm}'\nparts: {{'{harm}': '{harm}'}}\n"):
        found = opened(text, f"{harm}.yaml")
        assert found["bike"] is None
        assert "error:" in str(found["diagnostics"])
    named = opened(f"name: '{harm}'\ntag: '{harm}'\n", f"../{harm}.yaml")["bike"]
    assert isinstance(named, dict)
    assert named["name"] == harm  # the page shows every text as text
