"""`printed` keeps a register of what was printed; `check` holds it against the guides as they are."""

from __future__ import annotations

from pathlib import Path

from builder.build.stale import stale
from builder.diagnostics.diagnostic import Gravity
from builder.sources.workspace import load
from tests.cli.calling import call, refusal

GUIDE = "pedals-fitted"
JOB = (GUIDE, "--date", "2026-01-31")


def test_a_printed_card_is_written_down_once_and_found_out_when_it_is_stale(tmp_path: Path) -> None:
    where = ("--workspace", str(tmp_path))
    register = tmp_path / "catalogue" / "printed.yaml"
    assert call("printed", *JOB, *where).stdout.startswith("1 card written down")
    assert call("printed", *JOB, *where).stdout.startswith("0 cards written down")
    loaded = load(tmp_path)
    assert [one for one in loaded.diagnostics if one.gravity is not Gravity.NOTE] == []
    assert stale(loaded, tmp_path) == ()

    (card,) = loaded.library.printed[f"{GUIDE}-for-any-bike"].cards
    text = register.read_text(encoding="utf-8")
    assert "35 to 40 N·m" in text
    text = text.replace("35 to 40 N·m", "60 N·m").replace(card.revision, "0LD0LD")
    register.write_text(text, encoding="utf-8")
    (told,) = stale(load(tmp_path), tmp_path)
    assert told.gravity is Gravity.WARNING
    assert "changed: torque" in told.message
    assert told.at.file.endswith("printed.yaml")

    assert call("printed", GUIDE, "--withdraw", "A wrong torque.", *where).stdout.startswith("1 card withdrawn")
    assert '      withdrawn: "A wrong torque."' in register.read_text(encoding="utf-8")


def test_what_can_not_be_written_down_is_refused_in_one_line(tmp_path: Path) -> None:
    where = ("--workspace", str(tmp_path))
    assert "name a guide, or say --all" in refusal(call("printed", *where))
    assert "unknown guide 'pedals-fited'; did you mean" in refusal(call("printed", "pedals-fited", *where))
    assert "is written down in" in refusal(call("printed", GUIDE, "--withdraw", "why", *where))
    assert not (tmp_path / "catalogue").exists()
