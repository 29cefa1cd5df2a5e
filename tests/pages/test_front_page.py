"""The ways into the site: jobs by the thing that they are about, what is due on a bike, everything that was printed."""

from __future__ import annotations

from latex2mathml.converter import convert

from builder.model.bike import Bike, Wearing, WearReading
from builder.model.facts import Role
from builder.model.parts import Rotor
from builder.model.units import Measure
from builder.pages.by_thing import by_thing
from builder.pages.contents import CardLink, Printouts, Site
from builder.pages.front_page import families_of
from builder.pages.lists import list_pages
from builder.pages.prints_page import prints_pages
from builder.pages.strings_en import EN
from builder.pages.wear_book import due_of
from tests.demo import lead_card, library
from tests.pages.fleet import generic
from tests.pages.shop import pages, theme


def told(*titles: str) -> list[tuple[str, str, list[str]]]:
    return [
        (thing.name, deed.name, [end for _, end, _ in deed.guides])
        for thing in by_thing((title, f"{title}.html") for title in titles)
        for deed in thing.deeds
    ]


def test_front_and_rear_stand_together_under_the_thing() -> None:
    assert told("Replace the inner tube of the rear wheel", "Replace the inner tube of the front wheel") == [
        ("Inner tube", "replace", ["front", "rear"])
    ]
    assert told(
        "Align the front disc caliper and true its rotor", "Align the rear disc caliper and true its rotor"
    ) == [("Disc caliper", "align and true its rotor", ["front", "rear"])]


def test_an_end_that_is_part_of_a_name_stays() -> None:
    assert told("Replace the rear derailleur") == [("Rear derailleur", "replace", [""])]
    assert told("Top up the sealant") == [("Sealant", "top up", [""])]
    assert told("Do the weekly check") == [("Weekly check", "", [""])]


def test_what_no_rule_takes_apart_is_listed_by_its_title() -> None:
    assert told("Spokes") == [("Spokes", "", [""])]
    assert told("Look the bike over after a crash") == [("Look the bike over after a crash", "", [""])]


def test_every_guide_of_the_library_is_listed_once() -> None:
    found = [
        href
        for family in sorted({item.guide.family for item in generic()})
        for thing in by_thing((item.guide.title, item.guide.id) for item in generic() if item.guide.family == family)
        for deed in thing.deeds
        for _, _, href in deed.guides
    ]
    assert sorted(found) == sorted(item.guide.id for item in generic())


def test_each_family_has_a_picture_of_its_own() -> None:
    site = Site(library=library(), generic=generic(), typeset=convert)
    pictures = [str(family.picture) for family in families_of(site)]
    assert all(picture.startswith("<svg") for picture in pictures)
    assert len(set(pictures)) == len(pictures) >= 5


def test_the_front_page_leads_to_bikes_jobs_and_paper() -> None:
    html = pages()["index.html"].html
    for aim in ('href="#bikes"', 'href="#jobs"', 'href="print.html"', 'id="bikes"', 'id="jobs"'):
        assert aim in html
    for bike in library().bikes.values():
        assert f'href="bikes/{bike.id}.html"' in html


def test_what_is_due_stands_first_and_the_soonest_first() -> None:
    entries = (
        WearReading(date="2026-01-01", front_rotor_mm=Measure(1.8, 0), rear_rotor_mm=Measure(1.6, 0)),
        WearReading(date="2026-06-01", front_rotor_mm=Measure(1.7, 0), rear_rotor_mm=Measure(1.5, 0)),
    )
    rotor = Rotor(id="r", name="R", least_thickness_mm=1.5)
    bike = Bike(id="t", name="T", parts={Role.FRONT_ROTOR: rotor, Role.REAR_ROTOR: rotor}, wear=entries)
    due = due_of(bike, EN)
    assert [item.name for item in due] == ["Rear rotor", "Front rotor"]
    assert [item.is_over for item in due] == [True, False]
    assert due[0].when == "at its limit, replace it now"
    assert due[1].when.startswith("about 2027-")


def test_every_part_of_the_wear_book_has_a_short_name() -> None:
    assert set(EN.wearing_short) == set(Wearing)


def test_a_bikes_page_leads_with_what_is_due_then_its_jobs() -> None:
    html = pages()["bikes/heron.html"].html
    order = [html.index(f">{words}</h2>") for words in (EN.due_next, EN.jobs, EN.gears, EN.parts, EN.wear)]
    assert order == sorted(order)
    assert due_of(library().bikes["heron"], EN)[0].name == "Rear pads"
    assert "Fit a wider-range cassette" in html[order[1] : order[2]]


def test_the_page_of_prints_leads_to_every_file() -> None:
    tailored = lead_card("heron")
    a, b, c = (CardLink(paper=paper, href=f"cards/{paper}.pdf") for paper in ("A5", "A4", "Letter"))
    site = Site(
        library=library(),
        generic=(),
        tailored=(tailored,),
        cards={(tailored.guide.id, "heron"): (a, b)},
        printouts=Printouts(bikes={"heron": (c,)}),
        typeset=convert,
    )
    html = next(prints_pages(site, theme())).html
    for link in (a, b, c):
        assert f'href="{link.href}"' in html
    assert EN.prints_none not in html
    assert EN.prints_none in pages()["print.html"].html


def test_the_list_of_guides_has_both_ends_of_a_job_under_its_thing() -> None:
    tubes = tuple(item for item in generic() if "inner-tube" in item.guide.id)
    site = Site(library=library(), generic=tubes, tailored=(), typeset=convert)
    html = next(page.html for page in list_pages(site, theme()) if page.path == "guides.html")
    assert len(tubes) == 4
    assert html.count("<h3>") == 1
    assert "<h3>Inner tube</h3>" in html
    for item in tubes:
        assert html.count(f'href="guides/{item.guide.id}.html"') == 1
        # A screen reader hears the whole title, since 'front' alone tells it nothing.
        assert f'<span class="unseen">{item.guide.title}: </span>' in html
    # What both are for is said once.
    assert html.count("A flat tyre gets a new inner tube") == 1
