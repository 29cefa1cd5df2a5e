"""The pages of the site as text: complete, well formed, linked to each other and to nothing else."""

from __future__ import annotations

import posixpath
from collections import Counter
from functools import cache
from html.parser import HTMLParser
from itertools import pairwise
from urllib.parse import urlsplit

import pytest

from builder.checks.registry import CHECKS
from builder.pages.markup import inline, instruction
from builder.pages.site import Page
from builder.pages.word_pictures import word_pictures
from tests.demo import library
from tests.pages.shop import card_of, pages, theme

LINKS = {"href", "src", "action", "srcset", "data", "poster"}
# Names of vocabularies, which nobody fetches.
NAMESPACES = ("http://www.w3.org/2000/svg", "http://www.w3.org/1998/Math/MathML", "https://schema.org")
VOID = {"meta", "link", "input", "br", "img", "hr"}


class Read(HTMLParser):
    """What a page holds, as far as these tests ask."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.links: list[str] = []
        self.refers: list[str] = []
        self.headings: list[int] = []
        self.unlabelled: list[str] = []
        self.open: list[str] = []
        self.wrong: list[str] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        had = dict(attrs)
        if tag not in VOID:
            self.open.append(tag)
        if had.get("id"):
            self.ids.append(str(had["id"]))
        self.links += [str(value) for name, value in attrs if name in LINKS]
        for name in ("aria-labelledby", "aria-describedby", "for"):
            self.refers += str(had.get(name) or "").split()
        if tag in {"h1", "h2", "h3", "h4", "h5", "h6"}:
            self.headings.append(int(tag[1]))
        if tag == "input" and "label" not in self.open and "aria-label" not in had:
            self.unlabelled.append(str(attrs))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.wrong.append(f"</{tag}> at {self.getpos()}")


@cache
def read(path: str) -> Read:
    return Read(pages()[path].html)


@pytest.fixture(scope="module", params=sorted(pages()), ids=str)
def page(request: pytest.FixtureRequest) -> Page:
    return pages()[request.param]


def test_a_page_is_well_formed(page: Page) -> None:
    found = read(page.path)
    assert found.wrong == []
    assert found.open == []


def test_ids_are_used_once(page: Page) -> None:
    counted = Counter(read(page.path).ids)
    assert [name for name, times in counted.items() if times > 1] == []


def test_labels_refer_to_what_is_there(page: Page) -> None:
    found = read(page.path)
    assert [name for name in found.refers if name not in found.ids] == []
    assert found.unlabelled == []


def test_headings_step_down_one_level_at_a_time(page: Page) -> None:
    levels = read(page.path).headings
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels)), levels


def test_links_are_relative_and_lead_somewhere(page: Page) -> None:
    known = set(pages()) | set(theme().assets)
    for link in read(page.path).links:
        parts = urlsplit(link)
        assert not parts.scheme, link
        assert not parts.netloc, link
        assert not link.startswith("/"), link
        target = (
            posixpath.normpath(posixpath.join(posixpath.dirname(page.path), parts.path)) if parts.path else page.path
        )
        assert target in known, f"{link} leads to {target}"
        if parts.fragment and target in pages():
            assert parts.fragment in read(target).ids, link


def test_nothing_points_to_another_host(page: Page) -> None:
    text = page.html
    for name in NAMESPACES:
        text = text.replace(name, "")
    assert "http://" not in text
    assert "https://" not in text


def test_every_check_has_a_worked_page() -> None:
    for name, check in CHECKS.items():
        html = pages()[f"checks/{name}.html"].html
        assert "<math" in html or not check.formula
        assert "A worked example" in html
        for item in check.inputs:
            assert f"<code>{item.name}</code>" in html


def test_every_step_stands_on_its_guide_page() -> None:
    for bike in ("generic", "heron"):
        path = "guides/wider-range-cassette.html" if bike == "generic" else f"bikes/{bike}/wider-range-cassette.html"
        html = pages()[path].html
        for step in card_of(bike).steps:
            assert f'id="step-{step.number}"' in html
            assert str(instruction(step.do)) in html


def test_a_bike_that_the_job_is_not_for_says_why() -> None:
    assert "This job is for bikes with a rear derailleur" in pages()["bikes/coot.html"].html


def test_the_gear_grid_has_a_verdict_in_every_cell() -> None:
    html = pages()["bikes/heron.html"].html
    cassette, rings = 11, 1
    assert html.count('class="word"><svg') >= 2 * cassette * rings


def test_the_lists_hold_everything_of_the_library() -> None:
    for path, names in (
        ("torques.html", [item.id for item in library().fasteners.values()]),
        ("tools.html", [item.id for item in library().tools.values() if item.id != "by-hand"]),
        ("words.html", [item.id for item in library().glossary.values()]),
    ):
        ids = set(read(path).ids)
        assert [name for name in names if name not in ids] == []


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("<script>alert(1)</script>", "&lt;script&gt;alert(1)&lt;/script&gt;"),
        ("a [link](https://example.org)", "a [link](https://example.org)"),
        ("![picture](x.png)", "![picture](x.png)"),
        ("**bold**", "<strong>bold</strong>"),
    ],
)
def test_what_an_author_writes_can_not_carry_html_or_links(written: str, shown: str) -> None:
    assert inline(written) == shown


@pytest.mark.parametrize(
    ("written", "lead"),
    [
        ("Tighten the bolt.", "Tighten"),
        ("Make sure that the wheel is in.", "Make sure"),
        ("If the pin is loose, replace the chain.", "If the pin is loose,"),
    ],
)
def test_the_command_or_the_condition_stands_out(written: str, lead: str) -> None:
    assert str(instruction(written)).startswith(f'<b class="lead">{lead}</b> ')


def test_a_word_has_its_drawing_or_the_word_beside_which_it_is_drawn() -> None:
    """Each drawing stands once; a drawing that only a bike's own numbers can make is left out."""
    glossary = library().glossary
    pictures = word_pictures(glossary)
    drawn = {key: one.figure for key, one in pictures.items() if one.figure is not None}
    assert {"headset", "pedal", "brake-pad"} <= drawn.keys()
    assert len({figure.svg for figure in drawn.values()}) == len(drawn)
    for key, one in pictures.items():
        assert key in glossary
        assert (one.figure is None) != (one.at is None)
        assert one.at is None or one.at.id in drawn
    html = pages()["words.html"].html
    assert html.count("<figure") == len(drawn)
    assert f'<a href="#{pictures["axle"].at.id}">' in html
