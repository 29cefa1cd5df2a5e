"""Service sheets and charts of a build: which are made, where they go, and that none is printed twice."""

from __future__ import annotations

import shutil
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from builder.build import printouts as printouts_of
from builder.build import single
from builder.build.order import Built, Order
from builder.build.printer import Printer
from builder.build.printouts import Printout, PrintoutKind, links_to, printouts
from builder.build.single import card_at
from builder.model.facts import Role
from builder.model.parts import Part
from builder.pages.paper import Paper
from builder.proof.jobs import Job, Outcome, work_out
from builder.sources.loaded import Loaded
from builder.sources.workspace import load, shipped_library
from tests.build.ordering import LEAD, built, stamps
from tests.demo import library

CHECK = "check-before-a-ride"


@cache
def outcomes() -> tuple[Outcome, ...]:
    return tuple(work_out(Job(guide=guide), library()) for guide in library().guides.values())


def made(**wishes: object) -> tuple[Printout, ...]:
    found, lacking = printouts(Order(**wishes), library(), outcomes(), Printer())  # type: ignore[arg-type]
    assert lacking == ()
    return found


def test_there_are_sheets_for_each_sheet_guide_and_charts_for_the_workshop_and_each_bike() -> None:
    paths = [one.path for one in made()]
    assert paths == [
        "sheets/check-before-a-ride-a4.pdf",
        "sheets/tag-before-a-ride-a6.pdf",
        "sheets/yearly-service-a4.pdf",
        "charts/torques-a4.pdf",
        "charts/torques-a2.pdf",
        "charts/tools-a4.pdf",
        *(f"charts/of-{bike}-a4.pdf" for bike in library().bikes),
    ]


def test_the_paper_of_the_cards_decides_that_of_the_sheets() -> None:
    papers = {one.paper for one in made(papers=(Paper.A6, Paper.A5, Paper.LETTER), bikes=("heron",))}
    assert papers == {Paper.A4, Paper.A2, Paper.LETTER, Paper.A6}  # the tag is small enough for a pocket
    paths = [one.path for one in made(papers=(Paper.LETTER,), bikes=("heron",))]
    assert paths[0] == "sheets/check-before-a-ride-letter.pdf"


def test_where_some_guides_are_ordered_only_their_sheets_are_made() -> None:
    assert [one.path for one in made(guides=(CHECK,))] == [f"sheets/{CHECK}-a4.pdf"]
    assert made(guides=(LEAD,)) == ()


def test_where_some_bikes_are_ordered_only_these_have_sheets_and_charts() -> None:
    found = made(bikes=("heron", "coot"))
    assert {one.of for one in found if one.kind is PrintoutKind.BIKE} == {"heron", "coot"}
    sheet = next(one for one in found if one.of == CHECK)
    assert "Heron, M-01" in sheet.html
    assert "Kestrel" not in sheet.html


def test_a_bike_whose_file_does_not_answer_what_a_sheet_asks_is_told_with_the_reason() -> None:
    guide = library().guides[CHECK]
    bike = library().bikes["heron"]
    parts: dict[Role, Part] = {role: part for role, part in bike.parts.items() if role is not Role.FRONT_BRAKE}
    unknown = replace(bike, parts=parts)
    shelf = replace(library(), bikes={"heron": unknown, "coot": library().bikes["coot"]}, guides={CHECK: guide})
    found, lacking = printouts(Order(), shelf, (), Printer())
    (told,) = lacking
    assert told.bike.id == "heron"
    assert "front brake" in told.reason.casefold()
    sheet = next(one for one in found if one.kind is PrintoutKind.SHEETS)
    assert "Coot, M-08" in sheet.html
    assert "Heron" not in sheet.html


def test_the_sheets_of_a_large_fleet_are_parted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(printouts_of, "_BIKES_IN_A_FILE", 1)
    found = list(made(guides=(CHECK,), bikes=("heron", "coot")))
    assert [one.path for one in found] == [f"sheets/{CHECK}-a4.pdf", f"sheets/{CHECK}-a4-2.pdf"]
    assert ["Heron" in one.html for one in found] == ["Coot" not in one.html for one in found]
    assert [link.paper for link in links_to(found).sheets[CHECK]] == ["A4 (1)", "A4 (2)"]


def test_links_lead_to_what_was_made() -> None:
    links = links_to(made(papers=(Paper.A5, Paper.LETTER)))
    assert [link.href for link in links.sheets[CHECK]] == [
        "cards/sheets/check-before-a-ride-a4.pdf",
        "cards/sheets/check-before-a-ride-letter.pdf",
    ]
    assert [link.paper for link in links.torques] == ["A4", "A2", "Letter"]
    assert links.bikes.keys() == library().bikes.keys()
    assert len(links.tools) == 2


@pytest.fixture(scope="module")
def workspace(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("shop")
    (folder / "bikes").mkdir()
    shutil.copy(shipped_library() / "bikes" / "coot.yaml", folder / "bikes" / "ours.yaml")
    return folder


@pytest.fixture(scope="module")
def first(workspace: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Built]:
    out = tmp_path_factory.mktemp("first") / "output"
    return out, built(out, workspace=workspace, guides=(CHECK,), bikes=("ours",))


def test_a_build_writes_the_sheet_links_it_and_counts_it(first: tuple[Path, Built]) -> None:
    out, how = first
    assert (out / "cards" / "sheets" / f"{CHECK}-a4.pdf").read_bytes().startswith(b"%PDF")
    assert (out / "site" / "cards" / "sheets" / f"{CHECK}-a4.pdf").is_file()
    for page in ("bikes.html", f"guides/{CHECK}.html"):
        assert f"cards/sheets/{CHECK}-a4.pdf" in (out / "site" / page).read_text(encoding="utf-8")
    assert how.told is not None
    assert (how.told.sheets, how.told.charts) == (1, 0)


def test_a_sheet_that_is_as_it_was_is_not_printed_again(first: tuple[Path, Built], workspace: Path) -> None:
    out, _ = first
    before = stamps(out)
    (out / "site" / "index.html").unlink()
    again = built(out, workspace=workspace, guides=(CHECK,), bikes=("ours",))
    assert again.printed == 0
    sheet = f"cards/sheets/{CHECK}-a4.pdf"
    assert stamps(out)[sheet] == before[sheet]


def few(workspace: Path | None) -> Loaded:
    """What was read, with two guides of it: a chart is made from all that there are."""
    read = load(workspace)
    guides = {name: read.library.guides[name] for name in (CHECK, LEAD)}
    return replace(read, library=replace(read.library, guides=guides))


def test_a_preview_prints_a_sheet_or_a_chart_that_somebody_asks_for(
    workspace: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(single, "load", few)
    order = Order(workspace=workspace, bikes=("ours",), printing=False)
    for path in (f"sheets/{CHECK}-a4.pdf", "charts/of-ours-a4.pdf"):
        data = card_at(path, order)
        assert data is not None, path
        assert data.startswith(b"%PDF")
    assert card_at("charts/nothing-a4.pdf", order) is None
    assert card_at(f"sheets/{LEAD}-a4.pdf", order) is None
