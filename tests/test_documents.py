"""What the documents say of the program is so."""

from __future__ import annotations

import re
from pathlib import Path

from builder.cli import main

_HERE = Path(__file__).parent.parent


def test_the_readme_begins_with_the_job_and_its_pictures_are_there() -> None:
    text = (_HERE / "README.md").read_text(encoding="utf-8")
    first = text.split("\n\n")[1]
    assert "works" not in first.split()[:3]
    assert "static site generator" in " ".join(first.split())
    for picture in re.findall(r"!\[[^]]+\]\(([^)]+)\)", text):
        assert (_HERE / picture).is_file()


def test_the_contributors_guide_is_short_enough_to_read_in_ten_minutes() -> None:
    """At 240 words a minute, about the pace of silent reading; from memory."""
    assert len((_HERE / "DEVELOPERS.md").read_text(encoding="utf-8").split()) < 2_400


def test_the_readme_has_no_count_that_a_new_guide_would_break() -> None:
    text = " ".join((_HERE / "README.md").read_text(encoding="utf-8").split())
    things = "guides|checks|computed checks|fasteners|tools|bikes|parts|procedures|cautions"
    assert re.findall(rf"(?:\b\d+|two|three|dozen|twelve) (?:{things})\b", text) == []


def test_the_readme_names_every_command() -> None:
    text = (_HERE / "README.md").read_text(encoding="utf-8")
    for name in main.list_commands(None):  # type: ignore[arg-type]
        assert f"`{name}" in text, name
