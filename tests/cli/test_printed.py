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
    assert call("printed", *JOB, *where).stdout.startswith("1 print written down")
    assert call("printed", *JOB, *where).stdout.startswith("0 prints written down")
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

    assert call("printed", GUIDE, "--withdraw", "A wrong torque.", *where).stdout.startswith("1 print withdrawn")
    assert '      withdrawn: "A wrong torque."' in register.read_text(encoding="utf-8")


def test_a_tag_and_a_chart_are_written_down_and_found_out_too(tmp_path: Path) -> None:
    where = ("--workspace", str(tmp_path))
    register = tmp_path / "catalogue" / "printed.yaml"
    made = (("tag-before-a-ride", "heron", "--sheet"), ("--chart", "torques"), ("--chart", "heron"))
    for asked in made:
        assert call("printed", *asked, *where).stdout.startswith("1 print written down"), asked
    loaded = load(tmp_path)
    assert [one for one in loaded.diagnostics if one.gravity is not Gravity.NOTE] == []
    assert stale(loaded, tmp_path) == ()
    assert len(loaded.library.printed) == len(made)

    text = register.read_text(encoding="utf-8")
    for one in loaded.library.printed.values():
        text = text.replace(one.cards[0].revision, f"0LD{one.cards[0].revision[3:]}")
    register.write_text(text.replace("35 to 40 N·m", "60 N·m"), encoding="utf-8")
    told = stale(load(tmp_path), tmp_path)
    assert sorted(one.message.split(" ")[0] for one in told) == ["chart", "chart", "sheet"]
    assert any("of torques" in one.message and "changed: torque: do not work from it" in one.message for one in told)
    assert call("printed", "--chart", "torques", "--withdraw", "Wet.", *where).stdout.startswith("1 print withdrawn")


def test_a_print_that_does_not_say_of_what_it_is_is_told(tmp_path: Path) -> None:
    (tmp_path / "catalogue").mkdir()
    register = "card: {cards: []}\nsheet: {sort: sheet, guide: pedals-fitted}\nchart: {sort: torques}\n"
    (tmp_path / "catalogue" / "printed.yaml").write_text(register, encoding="utf-8")
    told = [one.message for one in load(tmp_path).diagnostics if one.gravity is Gravity.ERROR]
    assert told == ["'card' does not say of which guide it is", "'sheet' does not say of which bike it is"]


def test_what_can_not_be_written_down_is_refused_in_one_line(tmp_path: Path) -> None:
    where = ("--workspace", str(tmp_path))
    assert "name a guide, or say --all or --chart" in refusal(call("printed", *where))
    assert "unknown guide 'pedals-fited'; did you mean" in refusal(call("printed", "pedals-fited", *where))
    assert "has no service sheet" in refusal(call("printed", GUIDE, "heron", "--sheet", *where))
    assert "name both" in refusal(call("printed", "tag-before-a-ride", "--sheet", *where))
    assert "unknown bike 'torque'" in refusal(call("printed", "--chart", "torque", *where))
    assert "nothing is written down as" in refusal(call("printed", GUIDE, "--withdraw", "why", *where))
    assert not (tmp_path / "catalogue").exists()
