"""The page of everything that was made for paper: cards by bike, service sheets, charts for the wall."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from builder.pages import paths
from builder.pages.contents import CardLink, Page, Site
from builder.pages.parts import in_parts
from builder.pages.rendering import render
from builder.pages.theme import Theme
from builder.tailoring.tailored import Tailored


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintRow:
    """One thing to print: what it is, its page, and a file for each paper and form."""

    title: str
    href: str
    links: tuple[CardLink, ...]


def prints_pages(site: Site, theme: Theme) -> Iterator[Page]:
    """Every PDF that was built, the bikes in parts; the page says so where none was."""
    words, guides = site.words, site.library.guides
    made: dict[str, list[Tailored]] = {}
    for item in (*site.generic, *site.tailored):
        made.setdefault("" if item.bike is None else item.bike.id, []).append(item)
    bikes = [
        (bike.name, rows)
        for bike in site.library.bikes.values()
        if (rows := (*_cards(site, made.get(bike.id, ()), bike.id), *_charts(site, bike.id)))
    ]
    wall = (
        *(
            PrintRow(title=f"{words.service_sheet}: {guides[name].title}", href=paths.guide(name), links=links)
            for name, links in site.printouts.sheets.items()
            if name in guides
        ),
        PrintRow(title=words.torque_chart, href=paths.TORQUES, links=site.printouts.torques),
        PrintRow(title=words.tool_list, href=paths.TOOLS, links=site.printouts.tools),
    )
    for part, some in in_parts(paths.PRINTS, bikes):
        first = part.number == 1
        yield render(
            site,
            theme,
            part.path,
            "prints.html",
            words.print,
            part=part,
            bikes=tuple(some),
            generic=tuple(_cards(site, made.get("", ()), "")) if first else (),
            wall=tuple(row for row in wall if row.links) if first else (),
        )


def _cards(site: Site, made: Iterable[Tailored], bike: str) -> tuple[PrintRow, ...]:
    found = (
        PrintRow(
            title=item.guide.title,
            href=paths.of_tailored(item),
            links=site.cards.get((item.guide.id, bike), ()),
        )
        for item in made
    )
    return tuple(sorted((row for row in found if row.links), key=lambda row: row.title.casefold()))


def _charts(site: Site, bike: str) -> tuple[PrintRow, ...]:
    links = site.printouts.bikes.get(bike, ())
    return (PrintRow(title=site.words.upkeep, href=paths.upkeep(bike), links=links),) if links else ()
