"""Finding: what is in the index, what a reader types and meets, and what is left without the script."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page

from builder.pages import finding, paths
from builder.pages.everyday_en import EVERYDAY_EN
from builder.pages.find_pages import wrong_page
from builder.pages.finding import Record, index_scripts, records_of
from builder.pages.kind import Kind
from builder.pages.paths import printed
from builder.pages.strings_en import EN
from tests.demo import library
from tests.pages.fleet import generic
from tests.pages.in_a_browser import browser, needs_chromium, root
from tests.pages.shop import THEME, files, pages, site, theme

__all__ = ["browser", "root"]  # fixtures, found here by their names
GUIDE = "bikes/heron/wider-range-cassette.html"


@cache
def records() -> tuple[Record, ...]:
    """Everything of the whole library."""
    return records_of(replace(site(), generic=generic()))


def of(kind: Kind) -> list[Record]:
    return [record for record in records() if record.kind is kind]


def test_every_kind_of_thing_can_be_found() -> None:
    assert {record.kind for record in records()} == set(Kind) == set(EN.kinds)
    assert len(of(Kind.GUIDE)) == len(library().guides)
    assert len(of(Kind.FAULT)) == sum(len(tailored.faults) for tailored in generic())
    assert len(of(Kind.TERM)) == len(library().glossary)
    assert len(of(Kind.BIKE)) == len(library().bikes)
    steps = {record.title for record in of(Kind.STEP)}
    assert len(steps) == len(of(Kind.STEP))  # a text that guides share is found once


def test_every_record_leads_to_a_place_on_a_page() -> None:
    for record in records_of(site()):
        parts = urlsplit(record.path)
        assert parts.path in pages(), record
        if parts.fragment:
            assert f'id="{parts.fragment}"' in pages()[parts.path].html, record


def test_a_thing_is_found_by_what_it_is_elsewhere_called() -> None:
    cassette = next(record for record in of(Kind.TERM) if record.title == "cassette")
    assert "cogset" in cassette.also
    guide = next(record for record in of(Kind.GUIDE) if record.title == "Fit a wider-range cassette")
    assert "cogset" in guide.also


def test_every_everyday_word_stands_for_something_in_the_guides() -> None:
    texts = " ".join(f"{record.title} {record.text}" for record in (*of(Kind.GUIDE), *of(Kind.FAULT)))
    unused = [word for word in EVERYDAY_EN if not re.search(rf"\b{word}(s|es|ed|ing)?\b", texts, re.IGNORECASE)]
    assert unused == []


def test_the_index_is_data_and_nothing_else() -> None:
    script = index_scripts(site())[paths.FIND_INDEX]
    assert script.startswith("self.spannerleafIndex=[")
    rows = json.loads(script.removeprefix("self.spannerleafIndex=").removesuffix(";\n"))
    assert len(rows) == len(records_of(site()))
    assert all(len(row) == 6 and all(isinstance(cell, str) for cell in row[:5]) for row in rows)
    assert all(0 <= row[5] <= 1 for row in rows)


@pytest.fixture
def parted(monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """The index as a large fleet has it."""
    monkeypatch.setattr(finding, "_MOST_SINGLE", 10)
    monkeypatch.setattr(finding, "_FEW", 40)
    return index_scripts(site())


def test_what_is_about_single_bikes_of_a_large_fleet_is_parted_by_their_own_words(parted: dict[str, str]) -> None:
    shared, keys = parted[paths.FIND_INDEX].removesuffix(";\n").split(";\nself.spannerleafParts=")
    rows = json.loads(shared.removeprefix("self.spannerleafIndex="))
    assert len(rows) == sum(1 for record in records_of(site()) if not record.own)
    assert {paths.find_part(key) for key in json.loads(keys)} == parted.keys() - {paths.FIND_INDEX}
    inside = {
        path: {row[3] for row in json.loads(script.split("=", 2)[2].removesuffix(";\n"))}
        for path, script in parted.items()
        if path != paths.FIND_INDEX
    }
    assert set().union(*inside.values()) == {record.path for record in records_of(site()) if record.own}
    revision = site().revisions["wider-range-cassette", "heron"]
    key = "-".join(f"{ord(letter):x}" for letter in revision[:2].lower())
    assert printed(revision) in inside[paths.find_part(key)]
    assert paths.bike("heron") in inside[paths.find_part("68-65")]  # he


@needs_chromium
def test_a_bike_of_a_large_fleet_is_found_by_its_name_and_its_code(
    browser: Browser, parted: dict[str, str], tmp_path: Path
) -> None:
    for path, data in (files() | {path: text.encode() for path, text in parted.items()}).items():
        if path.startswith("assets/") or path == "index.html":
            (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / path).write_bytes(data)
    page = browser.new_page()
    page.goto(f"{tmp_path.as_uri()}/index.html")
    assert found(page, "heron")[0].startswith("Heron")
    revision = site().revisions["wider-range-cassette", "heron"]
    assert found(page, revision)[0].startswith(EN.printed_card.format(code=revision))
    assert found(page, "chain")
    page.close()


def test_every_fault_stands_on_the_page_of_what_is_wrong() -> None:
    html = wrong_page(replace(site(), generic=generic()), theme()).html
    for tailored in generic():
        for number in range(1, len(tailored.faults) + 1):
            assert html.count(f'href="guides/{tailored.guide.id}.html#fault-{number}"') == 1


def test_what_comes_from_elsewhere_is_what_its_note_says() -> None:
    note = (THEME / "vendor" / "vendored.txt").read_text(encoding="utf-8")
    digest = hashlib.sha256((THEME / "vendor" / "minisearch.js").read_bytes()).hexdigest()
    assert f"sha256: {digest}" in note
    assert "Permission is hereby granted" in (THEME / "vendor" / "minisearch-LICENSE.txt").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A front page that finds in the whole library."""
    folder: Path = tmp_path_factory.mktemp("whole")
    index = index_scripts(replace(site(), generic=generic()))[paths.FIND_INDEX].encode()
    for path, data in (files() | {"assets/find-index.js": index}).items():
        if path.startswith("assets/") or path in ("index.html", "what-is-wrong.html"):
            (folder / path).parent.mkdir(parents=True, exist_ok=True)
            (folder / path).write_bytes(data)
    return folder.as_uri()


@pytest.fixture(scope="module")
def front(browser: Browser, whole: str) -> Iterator[Page]:
    page = browser.new_page(viewport={"width": 360, "height": 740})
    page.goto(f"{whole}/index.html")
    yield page
    page.close()


def found(page: Page, words: str, field: str = "#find") -> list[str]:
    page.fill(field, "")
    page.fill(field, words)
    box = page.locator(f".finder:has({field}) .found")
    box.wait_for(state="visible")
    return box.locator("li").all_inner_texts()


@needs_chromium
@pytest.mark.parametrize(
    ("typed", "met"),
    [
        ("squeal", "The brake squeals."),
        ("creak", "The bottom bracket creaks."),
        ("skipping", "A new chain jumps under load."),
        ("gears skip", "Adjust the rear derailleur"),
        ("spongy brake", "Fill and bleed the front hydraulic disc brake"),
        ("puncture", "The new inner tube goes flat at once."),
        ("derailer", "Replace the rear derailleur"),
        ("casette", "Fit a wider-range cassette"),
        ("bottum braket", "Replace the threaded bottom bracket"),
        ("WRC-M-01", "Fit a wider-range cassette: Heron"),
        ("wrc m 01", "Fit a wider-range cassette: Heron"),
        ("heron", "Heron M-01"),
        ("cogset", "Cassette"),
    ],
)
def test_a_reader_meets_it_among_the_first(front: Page, typed: str, met: str) -> None:
    assert any(line.startswith(met) for line in found(front, typed)), found(front, typed)


@needs_chromium
def test_what_most_bikes_here_have_is_sooner_meant(front: Page) -> None:
    """Two of the demo's bikes have a gear hub, and nearly all have a rear derailleur."""
    titles = [line.splitlines()[0] for line in found(front, "gears skip")]
    assert titles.index("Adjust the rear derailleur") < titles.index("Adjust the cable of the gear hub")
    assert titles.index("Adjust the rear derailleur") < 3, titles


@needs_chromium
def test_what_is_nowhere_is_said(front: Page) -> None:
    assert found(front, "zzyzx") == []
    assert front.locator(".top .found [role=status]").inner_text() == EN.find_none


@needs_chromium
def test_the_finder_of_faults_finds_faults_alone(browser: Browser, whole: str) -> None:
    page = browser.new_page()
    page.goto(f"{whole}/what-is-wrong.html")
    lines = found(page, "brake", "#find-fault")
    assert lines
    assert all("\nfault · " in line for line in lines)
    page.close()


@needs_chromium
def test_the_code_of_a_card_and_enter_open_its_page(browser: Browser, root: str) -> None:
    page = browser.new_page()
    page.goto(f"{root}/checks/chain-length.html")
    assert found(page, "WRC-M-01")
    page.locator("#find").press("Enter")
    page.wait_for_url(f"{root}/{GUIDE}")
    revision = site().revisions["wider-range-cassette", "heron"]
    assert found(page, revision)[0].startswith(EN.printed_card.format(code=revision))
    page.locator("#find").press("Enter")
    page.wait_for_url(f"{root}/{printed(revision)}")
    page.close()


@needs_chromium
def test_the_keyboard_goes_down_the_list_and_out_of_it(browser: Browser, root: str) -> None:
    page = browser.new_page()
    page.goto(f"{root}/index.html")
    assert len(found(page, "chain")) > 2
    page.locator("#find").press("ArrowDown")
    page.keyboard.press("ArrowDown")
    first, second = page.locator(".top .found a").all()[:2]
    assert second.evaluate("link => link === document.activeElement")
    page.keyboard.press("ArrowUp")
    assert first.evaluate("link => link === document.activeElement")
    page.keyboard.press("Escape")
    assert not page.locator(".top .found").is_visible()
    assert page.evaluate("document.activeElement.id") == "find"
    page.close()


@needs_chromium
def test_nothing_is_fetched_before_somebody_looks_for_it(browser: Browser, root: str) -> None:
    page = browser.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{root}/{GUIDE}")
    assert not [url for url in asked if "find-index" in url or "vendor" in url]
    page.close()


@needs_chromium
def test_without_the_script_the_field_leads_to_the_lists(browser: Browser, root: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{root}/{GUIDE}")
    page.fill("#find", "WRC-M-01")
    page.locator("#find").press("Enter")
    page.wait_for_url(f"{root}/find.html?q=WRC-M-01")
    page.locator("#codes ~ ul a", has_text="WRC-M-01").first.click()
    page.wait_for_url(f"{root}/{GUIDE}")
    context.close()
