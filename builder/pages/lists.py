"""Pages that list what the library holds: guides, bikes, torques, tools, words, the safety key, about."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from markupsafe import Markup

from builder.model.bike import Bike
from builder.model.catalogue import SignalWord
from builder.pages import amounts, paths
from builder.pages.by_thing import by_thing
from builder.pages.contents import CardLink, Page, Site, upkeeps_of
from builder.pages.guide_view import StripView
from builder.pages.markup import inline, prose
from builder.pages.parts import BIKES, NAMES, in_parts
from builder.pages.rendering import remembered, render
from builder.pages.signs import sign
from builder.pages.theme import Theme
from builder.pages.tool_list import tools_of_library
from builder.pages.torque_chart import chart_of_library
from builder.pages.word_pictures import word_pictures
from builder.tailoring.hazards import signal_word


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideRow:
    """A guide in a list, with the bikes that it was made for and those that can't have it.

    `refused` holds the names of the bikes that share a reason, and the reason; `more_bikes` are not named, and stand
    at `bikes_path`.
    """

    href: str
    title: str
    family: str
    purpose: Markup
    level: str
    time: str
    bikes: tuple[tuple[str, str, str], ...]
    more_bikes: int
    bikes_path: str
    refused: tuple[tuple[str, str], ...]
    refused_count: int
    cards: tuple[CardLink, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DeedRow:
    """What is done to a thing: its guide, or those for the front and the rear, each with its end."""

    name: str
    guides: tuple[tuple[str, GuideRow], ...]

    @property
    def purposes(self) -> tuple[Markup, ...]:
        """What the guides are for; one sentence where both ends have the same."""
        return tuple(dict.fromkeys(row.purpose for _, row in self.guides))


@dataclass(frozen=True, slots=True, kw_only=True)
class ThingRow:
    """What guides are about, and what is done to it."""

    name: str
    deeds: tuple[DeedRow, ...]


def list_pages(site: Site, theme: Theme) -> Iterator[Page]:
    """Every list, one page each, or a page for each part of it."""
    families = by_family(_guide_rows(site))
    words = site.words
    yield render(site, theme, paths.GUIDES, "guides.html", words.guides, families=families)
    jobs = _jobs(site)
    for part, some in in_parts(paths.BIKES, tuple(site.library.bikes.values())):
        bikes = _bike_rows(some, jobs)
        yield render(site, theme, part.path, "bikes.html", words.bikes, part=part, bikes=bikes, sheets=_sheets(site))
    yield from _bikes_by_guide(site, theme)
    known = upkeeps_of(site)
    shelf = (known.catalogue,)
    prints = site.printouts.torques
    torques = partial(_torques, site, theme, known.families)
    yield remembered(site, theme, ("torques", prints), (*shelf, known.families), torques)
    yield _tools(site, theme)
    yield remembered(site, theme, "glossary", shelf, partial(_glossary, site, theme))
    yield remembered(site, theme, "cautions", shelf, partial(_cautions, site, theme))
    note = prose(site.library.workshop.note)
    yield render(site, theme, paths.ABOUT, "about.html", words.about, note=note, licences=_licences(theme))


def _licences(theme: Theme) -> tuple[tuple[str, str], ...]:
    """What the theme has from others, by name, with its licence: `bitter-OFL.txt` is that of Bitter."""
    found = (re.fullmatch(r"assets/(?:fonts|vendor)/(.+)-(?:OFL|LICENSE)\.txt", path) for path in theme.assets)
    return tuple(sorted((one[1].replace("-", " ").title(), one[0]) for one in found if one))


def made_for(site: Site) -> dict[str, list[tuple[str, str, str]]]:
    """The bikes that each guide was made for, by its id: page, name and tag."""
    found: dict[str, list[tuple[str, str, str]]] = {}
    for item in site.tailored:
        if item.bike is not None:
            row = (paths.of_tailored(item), item.bike.name, item.bike.tag)
            found.setdefault(item.guide.id, []).append(row)
    return found


def _bikes_by_guide(site: Site, theme: Theme) -> Iterator[Page]:
    """For each guide that more bikes have than its page names, the list of them."""
    together = made_for(site)
    for generic in site.generic:
        rows = together.get(generic.guide.id, ())
        if len(rows) <= BIKES:
            continue
        title = f"{generic.guide.title}: {site.words.for_bikes}"
        for part, some in in_parts(paths.bikes_of(generic.guide.id), rows):
            yield render(site, theme, part.path, "made_for.html", title, part=part, bikes=some)


def _guide_rows(site: Site) -> tuple[GuideRow, ...]:
    rows = []
    together = made_for(site)
    for generic in site.generic:
        guide = generic.guide
        bikes = together.get(guide.id, [])
        refused = [(bike.name, reason) for bike, other, reason in site.refusals if other.id == guide.id]
        rows.append(
            GuideRow(
                href=paths.guide(guide.id),
                title=guide.title,
                family=guide.family,
                purpose=inline(generic.purpose),
                level=site.words.levels[guide.level],
                time=amounts.minutes(guide.prepare_time_min + guide.work_time_min),
                bikes=tuple(bikes[:NAMES] if len(bikes) > BIKES else bikes),
                more_bikes=len(bikes) - NAMES if len(bikes) > BIKES else 0,
                bikes_path=paths.bikes_of(guide.id),
                refused=_by_reason(refused, site.words.and_more),
                refused_count=len(refused),
                cards=site.cards.get((guide.id, ""), ()),
            )
        )
    return tuple(rows)


def _by_reason(refused: Iterable[tuple[str, str]], and_more: str) -> tuple[tuple[str, str], ...]:
    """Refusals with the bikes that share a reason put together, the first of very many by name."""
    names: dict[str, list[str]] = {}
    for name, reason in refused:
        names.setdefault(reason, []).append(name)
    return tuple((_named(together, and_more), reason) for reason, together in names.items())


def _named(names: list[str], and_more: str) -> str:
    if len(names) <= BIKES:
        return ", ".join(names)
    return f"{', '.join(names[:NAMES])} {and_more.format(count=len(names) - NAMES)}"


def by_family(rows: Iterable[GuideRow]) -> tuple[tuple[str, tuple[ThingRow, ...]], ...]:
    """What the guides of each family are about, families and things by name."""
    found: dict[str, list[GuideRow]] = {}
    for row in sorted(rows, key=lambda row: (row.family.casefold(), row.title.casefold())):
        found.setdefault(row.family, []).append(row)
    return tuple((family, _things(together)) for family, together in found.items())


def _things(rows: Iterable[GuideRow]) -> tuple[ThingRow, ...]:
    known = {row.href: row for row in rows}
    return tuple(
        ThingRow(
            name=thing.name,
            deeds=tuple(
                DeedRow(name=deed.name, guides=tuple((end, known[href]) for _, end, href in deed.guides))
                for deed in thing.deeds
            ),
        )
        for thing in by_thing((row.title, row.href) for row in known.values())
    )


def _jobs(site: Site) -> dict[str, list[tuple[str, str]]]:
    """The guides that were made for each bike, by its id: page and title."""
    found: dict[str, list[tuple[str, str]]] = {}
    for item in site.tailored:
        if item.bike is not None:
            found.setdefault(item.bike.id, []).append((paths.of_tailored(item), item.guide.title))
    return found


def _bike_rows(bikes: Iterable[Bike], jobs: Mapping[str, list[tuple[str, str]]]) -> tuple[dict[str, object], ...]:
    return tuple(
        {
            "href": paths.bike(bike.id),
            "name": bike.name,
            "tag": bike.tag,
            "description": inline(bike.description),
            "upkeep": paths.upkeep(bike.id),
            "jobs": tuple(jobs.get(bike.id, ())),
        }
        for bike in bikes
    )


def _sheets(site: Site) -> tuple[tuple[str, tuple[CardLink, ...]], ...]:
    """The service sheets of the fleet, by the title of their guide."""
    guides = site.library.guides
    return tuple((guides[name].title, links) for name, links in site.printouts.sheets.items())


def _torques(site: Site, theme: Theme, families: Mapping[str, str]) -> Page:
    words = site.words
    chart = chart_of_library(site.library, words, families)
    return render(
        site, theme, paths.TORQUES, "torques.html", words.torque_chart, chart=chart, prints=site.printouts.torques
    )


def _tools(site: Site, theme: Theme) -> Page:
    library = site.library
    tools = tools_of_library(library, site.generic)
    guide_paths = {generic.guide.id: paths.guide(generic.guide.id) for generic in site.generic}
    consumables = tuple(
        (item.name, item.amount) for item in sorted(library.consumables.values(), key=lambda item: item.name)
    )
    return render(
        site,
        theme,
        paths.TOOLS,
        "tools.html",
        site.words.tool_list,
        tools=tools,
        guide_paths=guide_paths,
        consumables=consumables,
        prints=site.printouts.tools,
    )


def _glossary(site: Site, theme: Theme) -> Page:
    pictures = word_pictures(site.library.glossary)
    terms = tuple(
        (term.id, term.name, inline(term.meaning), ", ".join(term.others), pictures.get(term.id))
        for term in sorted(site.library.glossary.values(), key=lambda term: term.name.casefold())
    )
    verbs = tuple(
        (verb.id, inline(verb.meaning)) for verb in sorted(site.library.verbs.values(), key=lambda verb: verb.id)
    )
    return render(site, theme, paths.GLOSSARY, "glossary.html", site.words.glossary, terms=terms, verbs=verbs)


def _cautions(site: Site, theme: Theme) -> Page:
    found = []
    numbers: dict[str, None] = {}
    for caution in site.library.cautions.values():
        word = signal_word(caution)
        numbers.update(dict.fromkeys(caution.signs))
        signs = tuple(sign(number) for number in caution.signs if number != "W001")
        found.append((word, StripView(word=word.value, texts=(inline(caution.text),), signs=signs)))
    order = tuple(SignalWord)
    found.sort(key=lambda pair: order.index(pair[0]))
    return render(
        site,
        theme,
        paths.CAUTIONS,
        "cautions.html",
        site.words.cautions,
        strips=tuple(strip for _, strip in found),
        signs=tuple(sign(number) for number in sorted(numbers)),
        key=tuple((word.value, site.words.signal_words[word]) for word in SignalWord),
    )
