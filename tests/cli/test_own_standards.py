"""A workshop's own freehub and rotor mount, from the first command to a card."""

from __future__ import annotations

from pathlib import Path

import pytest

from builder.sources.workspace import shipped_library
from tests.cli.calling import LEAD, call, refusal

PARTS = {
    "hub": "hu-ours: {name: Rear hub of ours, axle: quick-release, axle-diameter: 10 mm, spacing: 135 mm, gears: 1,"
    " sprocket-mount: ten-spline, rotor-mount: four-bolt, bearings: cartridge}\n",
    "cassette": "cs-ours: {name: Cassette on ten splines, sprockets: [11, 13, 15, 17, 19, 21, 23, 25, 28, 32, 36],"
    " mount: ten-spline, build: loose}\n",
    "rotor": "ro-ours: {name: Rotor on four bolts, diameter: 160 mm, rotor-mount: four-bolt}\n",
}


@pytest.fixture
def ours(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A workspace with both standards, a part of each, and the lead bike of the fleet on that hub."""
    monkeypatch.chdir(tmp_path)
    for standard in (
        ("ten-spline", "--of", "sprocket-mount", "--like", "nine-spline", "--name", "ten-spline freehub body"),
        ("four-bolt", "--of", "rotor-mount", "--name", "four-bolt rotor"),
    ):
        assert call("new", "standard", *standard, "--workspace", "ours").exit_code == 0
    folder = tmp_path / "ours"
    for kind, text in PARTS.items():
        (folder / "parts" / kind).mkdir(parents=True)
        (folder / "parts" / kind / "ours.yaml").write_text(text, encoding="utf-8")
    heron = (shipped_library() / "bikes" / "heron.yaml").read_text(encoding="utf-8")
    (folder / "bikes").mkdir()
    (folder / "bikes" / "odd.yaml").write_text(
        heron.replace("hub-r-qr-135-disc", "hu-ours")
        .replace("ro-160-six", "ro-ours")
        .replace("cs-11-42-11s", "cs-ours"),
        encoding="utf-8",
    )
    return folder


@pytest.mark.usefixtures("ours")
def test_it_is_fitted_listed_and_carded_or_the_reason_is_told() -> None:
    ours = ("--workspace", "ours")
    assert call("fit", "odd", "--with", "cs-ours", *ours).exit_code == 0
    wrong = call("fit", "odd", "--with", "cs-11-42-11s", *ours)
    assert wrong.exit_code == 1
    assert "Take sprockets made for ten-spline" in wrong.stdout
    listed = call("parts", "--mount", "four-bolt", *ours).stdout
    assert "ro-ours" in listed
    assert "hu-ours" in listed
    made = call("card", LEAD, "odd", "--with", "cs-ours", *ours, "-o", "card.html")
    assert made.exit_code == 0, made.stderr
    refused = call("card", "rear-rotor-fitted", "odd", *ours, "-o", "rotor.html")
    assert refused.exit_code == 1
    assert "this bike has one of its own there: four-bolt rotor" in refused.stderr
    assert not Path("rotor.html").exists()
    assert call("new", "part", "hub", "hu-next", *ours).exit_code == 0
    assert "three-lug, fixed-thread, ten-spline" in Path("ours/parts/hub/hu-next.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("new-one", "--of", "rotor-mount", "--like", "splines"), "did you mean 'splined'?"),
        (("splined", "--of", "rotor-mount"), "'splined' is a rotor-mount already"),
    ],
)
def test_a_standard_that_can_not_be_meant_is_refused(arguments: tuple[str, ...], words: str, tmp_path: Path) -> None:
    assert words in refusal(call("new", "standard", *arguments, "--workspace", str(tmp_path / "ours")))
    assert not (tmp_path / "ours").exists()
