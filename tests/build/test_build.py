"""From sources to a whole output folder: what is made, what is made again, and what never is."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from builder.build import making
from builder.build.order import Built, Unknown
from builder.printing.legibility import MM_PER_PT
from builder.printing.sheet import read_sheets
from builder.sources.workspace import shipped_library
from tests.build.ordering import FITS, LEAD, REFUSED, SHORT, TROUBLED, built, order, stamps, state

ROOT = Path(__file__).parent.parent.parent
# A build of the same as `ordering.order`, on the command line.
BUILD = (
    sys.executable,
    "-m",
    "builder",
    "build",
    "--guide",
    LEAD,
    "--bike",
    FITS,
    "--bike",
    REFUSED,
    "--bike",
    TROUBLED,
)


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Built]:
    out = tmp_path_factory.mktemp("first") / "output"
    return out, built(out)


@pytest.fixture
def workspace(tmp_path: Path) -> Path:
    """A workspace with one bike, whose tag a test may change."""
    (tmp_path / "shop" / "bikes").mkdir(parents=True)
    shutil.copy(shipped_library() / "bikes" / f"{FITS}.yaml", tmp_path / "shop" / "bikes" / "ours.yaml")
    return tmp_path / "shop"


def retag(workspace: Path, tag: str) -> None:
    bike = workspace / "bikes" / "ours.yaml"
    lines = bike.read_text(encoding="utf-8").splitlines()
    bike.write_text(
        "\n".join(f"tag: {tag}" if line.startswith("tag:") else line for line in lines) + "\n", encoding="utf-8"
    )


def test_a_build_makes_the_site_and_the_cards(first: tuple[Path, Built]) -> None:
    out, made = first
    assert (out / "site" / "index.html").is_file()
    assert sorted(path.relative_to(out).as_posix() for path in (out / "cards").rglob("*.pdf")) == [
        f"cards/generic/{LEAD}-a5.pdf",
        f"cards/{FITS}/{LEAD}-a5.pdf",
    ]
    assert made.told is not None
    assert made.told.cards == made.printed == 2
    assert made.told.pages == len(list((out / "site").rglob("*.html")))


def test_the_site_carries_its_cards_along(first: tuple[Path, Built]) -> None:
    out, _ = first
    cards = {path: data for path, data in state(out).items() if path.startswith("cards/")}
    assert cards == {
        path.removeprefix("site/"): data for path, data in state(out).items() if path.startswith("site/cards/")
    }
    page = (out / "site" / "bikes" / FITS / f"{LEAD}.html").read_text(encoding="utf-8")
    assert f"cards/{FITS}/{LEAD}-a5.pdf" in page


def test_a_bike_that_the_guide_refuses_is_listed_with_its_reason(first: tuple[Path, Built]) -> None:
    _, made = first
    assert made.told is not None
    (refusal,) = made.told.refused
    assert refusal.startswith("Coot: Fit a wider-range cassette: This job is for bikes with a rear derailleur")


def test_where_nothing_in_stock_will_do_a_page_says_so_and_there_is_no_card(first: tuple[Path, Built]) -> None:
    out, made = first
    assert made.told is not None
    (trouble,) = made.told.troubled
    assert "No rear derailleur that is known meets capacity: at least 49" in trouble
    page = (out / "site" / "bikes" / TROUBLED / f"{LEAD}.html").read_text(encoding="utf-8")
    assert "at least 49" in page
    assert not (out / "cards" / TROUBLED).exists()


def test_the_same_sources_give_the_same_bytes(first: tuple[Path, Built], tmp_path: Path) -> None:
    out, _ = first
    setting = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Pacific/Chatham", "LC_ALL": "C", "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [*BUILD, "--processes", "1", "--out", "again"], cwd=tmp_path, env=setting, capture_output=True
    )
    assert done.returncode == 0, done.stderr.decode()
    again = state(tmp_path / "again")
    assert {path for path, data in state(out).items() if again.get(path) != data} == set()
    assert again.keys() == state(out).keys()


def test_a_build_with_nothing_to_do_touches_nothing(first: tuple[Path, Built]) -> None:
    out, made = first
    before = stamps(out)
    again = built(out)
    assert again.unchanged
    assert again.told == made.told
    assert stamps(out) == before


def test_a_build_with_nothing_to_do_imports_neither_the_printing_nor_the_reading_library(tmp_path: Path) -> None:
    built(tmp_path / "output", printing=False)
    program = (
        "import sys; from pathlib import Path; from tests.build.ordering import built\n"
        "assert built(Path('output'), printing=False).unchanged\n"
        "print(sorted({'weasyprint', 'pydantic', 'yaml', 'rich'} & sys.modules.keys()))"
    )
    setting = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run([sys.executable, "-c", program], cwd=tmp_path, env=setting, capture_output=True, text=True)
    assert done.stdout == "[]\n", done.stderr


def test_a_file_that_went_missing_is_made_again_without_printing(first: tuple[Path, Built]) -> None:
    out, _ = first
    before = state(out)
    (out / "site" / "index.html").unlink()
    (out / "cards" / FITS / f"{LEAD}-a5.pdf").unlink()
    again = built(out)
    assert not again.unchanged
    assert again.printed == 0
    assert state(out) == before


def test_only_the_card_of_the_bike_that_changed_is_printed_again(workspace: Path, tmp_path: Path) -> None:
    wishes = {"workspace": workspace, "guides": (SHORT,), "bikes": ("ours",)}
    out = tmp_path / "output"
    assert built(out, **wishes).printed == 2
    before = stamps(out)
    retag(workspace, "X-77")
    assert built(out, **wishes).printed == 1
    after = stamps(out)
    changed = {path for path in after if after[path] != before.get(path)}
    assert f"cards/ours/{SHORT}-a5.pdf" in changed
    assert f"cards/generic/{SHORT}-a5.pdf" not in changed
    assert "site/checks.html" not in changed


def test_a_mistake_in_a_source_leaves_the_output_as_it_was(workspace: Path, tmp_path: Path) -> None:
    out = tmp_path / "output"
    built(out, workspace=workspace, bikes=("ours",), printing=False)
    before = stamps(out)
    with (workspace / "bikes" / "ours.yaml").open("a", encoding="utf-8") as file:
        file.write("colour: green\n")
    broken = built(out, workspace=workspace, bikes=("ours",), printing=False)
    assert broken.told is None
    assert [diagnostic.rule for diagnostic in broken.diagnostics] == ["unknown-key"]
    assert stamps(out) == before


def test_a_planned_job_that_can_not_be_worked_out_stops_the_build(workspace: Path, tmp_path: Path) -> None:
    bike = workspace / "bikes" / "ours.yaml"
    bike.write_text(
        bike.read_text(encoding="utf-8").partition("jobs:")[0] + f"jobs:\n  - {{guide: {LEAD}, parts: [ch-11s-116]}}\n"
    )
    broken = built(tmp_path / "output", workspace=workspace, bikes=("ours",))
    assert broken.told is None
    assert broken.diagnostics[0].message == "'ch-11s-116' is a chain; this guide plans for: cassette"
    assert not (tmp_path / "output").exists()


def test_a_build_that_is_interrupted_leaves_the_old_state(
    workspace: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "output"
    wishes = {"workspace": workspace, "guides": (SHORT,), "bikes": ("ours",), "printing": False}
    built(out, **wishes)
    before = state(out)
    retag(workspace, "X-78")

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr(making, "printed_cards", stopped)
        with pytest.raises(KeyboardInterrupt):
            built(out, **wishes)
    assert state(out) == before
    assert built(out, **wishes).told is not None
    assert state(out) != before


def test_a_name_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(Unknown, match="unknown bike 'kestrl'"):
        built(tmp_path, bikes=("kestrl",))
    with pytest.raises(Unknown, match="unknown guide 'lead'"):
        built(tmp_path, guides=("lead",))
    assert not state(tmp_path)


def test_forms_are_built_side_by_side_where_the_paper_holds_them(tmp_path: Path) -> None:
    from builder.pages.form import Form
    from builder.pages.paper import Paper

    forms, papers = (Form.STEPS, Form.TEACHING), (Paper.A6, Paper.A5)
    assert built(tmp_path, forms=forms, papers=papers, printing=False).told is not None
    page = (tmp_path / "site" / "bikes" / FITS / f"{LEAD}.html").read_text(encoding="utf-8")
    for name in (f"{LEAD}-a5.pdf", f"{LEAD}-teaching-a5.pdf"):
        assert name in page
    assert f"{LEAD}-a6.pdf" not in page
    assert f"{LEAD}-teaching-a6.pdf" not in page


def test_papers_are_built_side_by_side(tmp_path: Path) -> None:
    from builder.pages.paper import Paper

    wishes = order(tmp_path, papers=(Paper.A4, Paper.LETTER), printing=False)
    assert built(tmp_path, papers=wishes.papers, printing=False).told is not None
    page = (tmp_path / "site" / "bikes" / FITS / f"{LEAD}.html").read_text(encoding="utf-8")
    assert f"{LEAD}-a4.pdf" in page
    assert f"{LEAD}-letter.pdf" in page


def test_a_build_keeps_edges_for_holes_and_puts_the_cards_of_a_bike_on_sheets_to_cut(tmp_path: Path) -> None:
    import pikepdf

    from builder.pages.form import Form
    from builder.pages.leaf import Holes
    from builder.pages.paper import Paper

    wishes = {
        "bikes": ("kestrel",),
        "guides": (SHORT,),
        "forms": (Form.BRIEF,),
        "holes": Holes.SIDE,
        "one_sided": True,
        "sheet": Paper.A4,
        "rounded": True,
    }
    assert built(tmp_path, **wishes).told is not None
    card, sheets = (tmp_path / "cards" / "kestrel" / f"{name}.pdf" for name in (f"{SHORT}-brief-a5", "to-cut-a5-on-a4"))
    with pikepdf.open(card) as one, pikepdf.open(sheets) as cut:
        assert len(cut.pages) == (len(one.pages) + 1) // 2, "printed on one face, two cards of A5 stand on A4"
    assert min(letter.x0 for sheet in read_sheets(card.read_bytes()) for letter in sheet.ink) >= 20 / MM_PER_PT - 1
    assert not list((tmp_path / "site").rglob("to-cut*"))
    # The same with the backs of leaves is another build.
    assert not built(tmp_path, **{**wishes, "one_sided": False}).unchanged
