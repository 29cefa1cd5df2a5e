"""No page grows with the fleet: lists of very many bikes stand in parts, which links join without a script."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest
from latex2mathml.converter import convert

from builder.pages.contents import CardLink, Page, Site
from builder.pages.front_page import front_page
from builder.pages.guide_page import guide_page
from builder.pages.lists import list_pages, made_for
from builder.pages.parts import BIKES, NAMES, in_parts
from builder.pages.prints_page import prints_pages
from tests.demo import library
from tests.pages.shop import generic_card, lead_card, theme

MANY = 3 * BIKES + 5


def fleet(number: int) -> Site:
    """A site of one guide for so many bikes, which are one bike under many names."""
    tailored = lead_card("heron")
    assert tailored.bike is not None
    bikes = {f"bike-{at}": replace(tailored.bike, id=f"bike-{at}", name=f"Bike {at}") for at in range(1, number + 1)}
    guide = tailored.guide
    return Site(
        library=replace(library(), bikes=bikes),
        generic=(generic_card(),),
        tailored=tuple(replace(tailored, bike=bike) for bike in bikes.values()),
        refusals=tuple((bike, guide, "the frame is too narrow") for bike in bikes.values()),
        cards={(guide.id, name): (CardLink(paper="A5", href=f"cards/{name}.pdf"),) for name in bikes},
        typeset=convert,
    )


@cache
def pages(number: int) -> dict[str, Page]:
    """Lists, prints, the front page, and the guide's own page for one bike and for any."""
    site = fleet(number)
    together = made_for(site)
    guides = [guide_page(one, site, theme(), bikes=together[one.guide.id]) for one in (*site.generic, site.tailored[0])]
    found = (front_page(site, theme()), *list_pages(site, theme()), *prints_pages(site, theme()), *guides)
    return {page.path: page for page in found}


def links(page: Page) -> set[str]:
    return set(re.findall(r'href="(?:\.\./)*([^"#]*)"', page.html))


def beside(page: Page) -> dict[str, str]:
    """The links to the part before and the part after."""
    return dict(re.findall(r'rel="(prev|next)" href="(?:\.\./)*([^"]*)"', page.html))


@pytest.mark.parametrize("first", ["bikes.html", "print.html", "guides/bikes-with/wider-range-cassette.html"])
def test_parts_lead_to_one_another_and_hold_every_bike_once(first: str) -> None:
    site = pages(MANY)
    assert generic_card().guide.id == "wider-range-cassette"
    path, seen, before = first, [], ""
    while path:
        part = site[path]
        assert beside(part).get("prev", "") == before
        seen += sorted(set(re.findall(r">Bike (\d+)<", part.html)))
        before, path = path, beside(part).get("next", "")
    assert sorted(seen, key=int) == [str(number) for number in range(1, MANY + 1)]


def test_no_page_is_larger_for_a_fleet_three_times_as_large() -> None:
    few, many = pages(BIKES + 1), pages(MANY)
    assert few.keys() < many.keys()
    for path, page in few.items():
        if 'rel="next"' in page.html or not beside(page):
            assert len(many[path].html) < 1.02 * len(page.html), path


def test_pages_that_name_a_few_bikes_lead_to_the_list_of_all() -> None:
    site = pages(MANY)
    listed = "guides/bikes-with/wider-range-cassette.html"
    assert "bikes.html" in links(site["index.html"])
    assert f"and {MANY - BIKES} more" in site["index.html"].html
    assert listed in links(site["guides.html"])
    assert f"and {MANY - NAMES} more" in site["guides.html"].html
    for page in ("guides/wider-range-cassette.html", "bikes/bike-1/wider-range-cassette.html"):
        assert listed in links(site[page]), page


def test_a_small_fleet_stands_on_one_page() -> None:
    site = pages(3)
    assert not any(beside(page) for page in site.values())
    assert not any("/bikes-with/" in path for path in site)
    other = site["bikes/bike-1/wider-range-cassette.html"]
    assert {"bikes/bike-2/wider-range-cassette.html", "bikes/bike-3/wider-range-cassette.html"} <= links(other)
    assert "bikes/bike-1/wider-range-cassette.html" not in links(other)


def test_a_list_without_items_has_one_part() -> None:
    ((part, some),) = in_parts("bikes.html", ())
    assert (part.path, part.count, part.before, part.after, list(some)) == ("bikes.html", 1, "", "", [])
