"""What a published site tells machines: how-to data, descriptions, addresses, a sitemap, a feed of what changed."""

from __future__ import annotations

import hashlib
import json
import re
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from builder.model.catalogue import Workshop
from builder.model.guide import Revision
from builder.model.position import Places, Position
from builder.pages.contents import Page, Site
from builder.pages.guide_page import guide_page
from builder.pages.howto import as_script, how_to
from builder.pages.labels import step_labels
from builder.pages.published import changes_of, changes_page, feed, lost_page, robots, sitemaps
from builder.pages.strings_en import EN
from tests.demo import lead_card, library
from tests.pages.fleet import generic
from tests.pages.shop import pages, site, theme
from tests.pages.vocabulary import FILE, wrong

ADDRESS = "https://workshop.example/guides"
ATOM = "{http://www.w3.org/2005/Atom}"
DURATION = re.compile(r"PT(?:\d+H)?(?:\d+M)?")


@cache
def published() -> Site:
    """The demo's site with an address."""
    workshop = replace(library().workshop, site=f"{ADDRESS}/", repository="https://code.example/ours/edit")
    return replace(site(), library=replace(library(), workshop=workshop))


def things(data: Any) -> Iterator[dict[str, Any]]:
    """Every typed thing in the data."""
    if isinstance(data, dict):
        yield data
        data = list(data.values())
    if isinstance(data, list):
        for inner in data:
            yield from things(inner)


def data_of(html: str) -> dict[str, Any]:
    found = re.findall(r'<script type="application/ld\+json">(.*?)</script>', html, re.DOTALL)
    assert len(found) == 1
    loaded: dict[str, Any] = json.loads(found[0])
    return loaded


def test_the_vocabulary_is_the_extract_that_was_made() -> None:
    note = (FILE.parent / "vendored.txt").read_text(encoding="utf-8")
    assert hashlib.sha256(FILE.read_bytes()).hexdigest() in note


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"preptime": "PT5M"}, "HowTo has no such property"),
        ({"requiredQuantity": 2}, "HowTo has no such property"),
        ({"steps": "Do it."}, "superseded"),
        ({"prepTime": "5 min"}, "may not be '5 min'"),
        ({"datePublished": "yesterday"}, "may not be 'yesterday'"),
        ({"tool": {"@type": "HowToSupply", "name": "grease"}}, "may not be"),
        ({"step": {"@type": "HowToStap"}}, "no type HowToStap"),
    ],
)
def test_what_the_vocabulary_does_not_know_is_found(change: dict[str, Any], told: str) -> None:
    found = list(wrong({**how_to(lead_card("heron"), EN), **change}))
    assert any(told in one for one in found), found


@pytest.mark.parametrize("guide_id", [*library().guides, ""])
def test_the_data_of_a_guide_keep_to_the_vocabulary_and_tell_all_of_it(guide_id: str) -> None:
    tailored = next((one for one in generic() if one.guide.id == guide_id), lead_card("heron"))
    data = how_to(tailored, EN)
    assert data["@context"] == "https://schema.org"
    assert list(wrong(data)) == []
    assert all(DURATION.fullmatch(data[name]) for name in ("prepTime", "performTime", "totalTime"))
    steps = [step for section in data["step"] for step in section["itemListElement"]]
    assert [step["position"] for step in steps] == [step.number for step in tailored.steps]
    assert [step["name"] for step in steps] == [step_labels(tailored)[step.number] for step in tailored.steps]
    assert [tool["name"] for tool in data["tool"]] == [tool.name for tool in tailored.tools]
    assert len(data["supply"]) == len(tailored.parts) + len(tailored.consumables)


def test_a_caution_comes_before_the_direction_it_is_about() -> None:
    tailored = lead_card("heron")
    steps = [step for section in how_to(tailored, EN)["step"] for step in section["itemListElement"]]
    checked = 0
    for shown, step in zip(tailored.steps, steps, strict=True):
        kinds = [one["@type"] for one in step["itemListElement"]]
        assert kinds[: len(shown.cautions)] == ["HowToTip"] * len(shown.cautions)
        assert kinds[len(shown.cautions)] == "HowToDirection"
        for caution, tip in zip(shown.cautions, step["itemListElement"], strict=False):
            assert tip["text"].startswith(f"{caution.word.value}: ")
            checked += 1
    assert checked


def test_the_data_on_the_page_are_those_of_the_guide() -> None:
    tailored = lead_card("heron")
    assert data_of(pages()["bikes/heron/wider-range-cassette.html"].html) == how_to(tailored, EN)
    assert data_of(guide_page(tailored, published(), theme()).html) == how_to(tailored, EN, ADDRESS)
    assert how_to(tailored, EN, ADDRESS)["url"] == f"{ADDRESS}/bikes/heron/wider-range-cassette.html"


def test_no_text_ends_the_script_element() -> None:
    written = as_script({"name": "</script><script>alert(1)</script> & <!--"})
    assert not set(written) & set("<>&")
    assert json.loads(written) == {"name": "</script><script>alert(1)</script> & <!--"}


def test_each_page_has_a_description_of_its_own() -> None:
    found = Counter(
        re.findall(r'<meta name="description" content="([^"]*)">', page.html)[0] for page in pages().values()
    )
    assert [text for text, times in found.items() if times > 1 or len(text) < 20] == []


def test_every_page_forbids_what_does_not_lie_on_the_site() -> None:
    for page in pages().values():
        policy = re.findall(r'Content-Security-Policy" content="([^"]*)"', page.html)[0]
        assert policy.startswith("default-src 'none'")
        assert "unsafe" not in policy
        assert "http" not in policy
        assert not re.search(r"<script(?![^>]*\bsrc=)(?![^>]*application/ld\+json)", page.html)
        assert not re.search(r"\son[a-z]+=|\sstyle=", page.html)


def test_a_site_with_an_address_says_where_each_page_is() -> None:
    page = changes_page(published(), theme()).html
    assert f'<link rel="canonical" href="{ADDRESS}/changes.html">' in page
    assert f'<meta property="og:url" content="{ADDRESS}/changes.html">' in page
    assert 'property="og:title"' in page
    assert "canonical" not in pages()["changes.html"].html


def test_the_sitemap_holds_every_page_but_the_lost_one() -> None:
    made = tuple(pages().values())
    tree = ET.fromstring(sitemaps(published(), [page.path for page in made])["sitemap.xml"])
    found = {(place.text or "").removeprefix(f"{ADDRESS}/") for place in tree.iter() if place.tag.endswith("}loc")}
    assert found == {page.path for page in made} - {"index.html", "404.html"} | {""}
    assert sitemaps(site(), [page.path for page in made]) == {}
    assert robots(published()).endswith(f"Sitemap: {ADDRESS}/sitemap.xml\n")
    assert "Sitemap" not in robots(site())


def test_a_sitemap_that_would_be_too_large_leads_to_its_parts() -> None:
    many = [f"bikes/bike-{number}.html" for number in range(10_001)]
    maps = sitemaps(published(), many)
    leads_to = [place.text for place in ET.fromstring(maps["sitemap.xml"]).iter() if place.tag.endswith("}loc")]
    assert leads_to == [f"{ADDRESS}/sitemap-1.xml", f"{ADDRESS}/sitemap-2.xml"]
    found = [
        place.text
        for name in ("sitemap-1.xml", "sitemap-2.xml")
        for place in ET.fromstring(maps[name]).iter()
        if place.tag.endswith("}loc")
    ]
    assert found == [f"{ADDRESS}/{page}" for page in many]


@cache
def revised() -> Site:
    """The demo's lead guide, revised twice."""
    (lead,) = published().generic
    revisions = (
        Revision(date="2026-01-02", reason="First issue."),
        Revision(date="2026-03-04", reason="A pad & its pin <new>."),
    )
    return replace(published(), generic=(replace(lead, guide=replace(lead.guide, revisions=revisions)),))


def test_what_changed_is_told_newest_first_on_its_page_and_in_the_feed() -> None:
    assert [change.date for change in changes_of(revised())] == ["2026-03-04", "2026-01-02"]
    html = changes_page(revised(), theme()).html
    assert html.index("2026-03-04") < html.index("2026-01-02")
    tree = ET.fromstring(feed(revised()))
    entries = tree.findall(f"{ATOM}entry")
    assert [entry.findtext(f"{ATOM}summary") for entry in entries] == ["A pad & its pin <new>.", "First issue."]
    assert len({entry.findtext(f"{ATOM}id") for entry in entries}) == 2
    assert tree.findtext(f"{ATOM}updated") == "2026-03-04T00:00:00Z"
    for one in (tree, *entries):  # RFC 4287, 4.1.1 and 4.1.2
        assert all(one.findtext(f"{ATOM}{name}") for name in ("id", "title", "updated"))
    assert tree.find(f"{ATOM}author") is not None
    assert feed(replace(revised(), library=library())) == ""


def test_the_lost_page_leads_home_from_any_depth() -> None:
    links = re.findall(r'(?:href|src)="([^"#]+)', lost_page(published(), theme()).html)
    assert links
    assert all(link.startswith("/guides/") for link in links)


def edit_link(page: Page) -> list[str]:
    return re.findall(rf'<a href="([^"]*)">{EN.edit_this}</a>', page.html)


def test_a_guide_leads_to_its_file_only_where_the_workshop_owns_it() -> None:
    (lead,) = published().generic
    assert edit_link(guide_page(lead, published(), theme())) == [
        "https://code.example/ours/edit/wider-range-cassette.yaml"
    ]
    assert edit_link(guide_page(lead, site(), theme())) == []
    elsewhere = replace(published().library.workshop, places=Places(Position("ours/workshop.yaml", 1, 1)))
    other = replace(published(), library=replace(library(), workshop=elsewhere))
    assert edit_link(guide_page(lead, other, theme())) == []
    assert Workshop(name="").repository == ""
