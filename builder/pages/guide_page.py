"""The page of a guide, for any bike or for one, with its steps to tick."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from builder.model.catalogue import Workshop
from builder.model.guide import Guide
from builder.pages import amounts, paths
from builder.pages.at_the_stand import labelled, safety_of
from builder.pages.card import card_revision
from builder.pages.contents import CardLink, Page, Site
from builder.pages.guide_view import view_guide
from builder.pages.howto import script_of
from builder.pages.parts import BIKES
from builder.pages.pieces import pieces_for
from builder.pages.printed_page import key_of
from builder.pages.rendering import address_of, remembered, render
from builder.pages.theme import Theme
from builder.pages.tool_list import home_lacks
from builder.tailoring.tailored import Tailored

# What was built for a guide and a bike, and the other bikes that the guide was built for.
Prints = tuple[tuple[str, tuple[CardLink, ...]], ...]
Links = tuple[tuple[str, str, str], ...]


def guide_page(
    tailored: Tailored, site: Site, theme: Theme, *, coded: bool = True, bikes: Sequence[tuple[str, str, str]] = ()
) -> Page:
    """The page of `tailored`; `coded`, with the code of its card, for which the card is made as well.

    `bikes` are those that the guide was made for: page, name and tag.
    """
    guide = tailored.guide
    # Where very many bikes have the guide, they stand in a list of their own.
    listed = len(bikes) > BIKES
    others = () if listed else tuple(row for row in bikes if row[0] != paths.of_tailored(tailored))
    all_bikes = paths.bikes_of(guide.id) if listed else ""
    prints = _prints(tailored, site)
    known = site.revisions.get(key_of(tailored), "") if coded else ""

    def made() -> Page:
        code = known or (_code(tailored, site, theme) if coded else "")
        return _made(tailored, others, all_bikes, prints, site, theme, code)

    return remembered(site, theme, (guide.id, others, all_bikes, prints, coded, known), (tailored,), made)


def _code(tailored: Tailored, site: Site, theme: Theme) -> str:
    """The code of the card, for which the card is made."""
    pieces = pieces_for(tailored, site.memory, theme, site.words)
    return card_revision(tailored, theme, words=site.words, workshop=site.library.workshop, pieces=pieces)


def _made(
    tailored: Tailored, others: Links, all_bikes: str, prints: Prints, site: Site, theme: Theme, code: str
) -> Page:
    """The page from these; of the site it shows the words, the workshop and whether there is a rider's page."""
    guide, bike = tailored.guide, tailored.bike
    title = guide.title if bike is None else f"{guide.title}: {bike.name}"
    pieces = pieces_for(tailored, site.memory, theme, site.words)
    view = view_guide(tailored, site.words, views=pieces.views)
    workshop = site.library.workshop
    return render(
        site,
        theme,
        paths.of_tailored(tailored),
        "guide.html",
        title,
        g=labelled(replace(view, revision=code), tailored, pieces.views),
        safety=safety_of(tailored, pieces.views),
        once=pieces.once,
        prints=prints,
        edit=_edit(tailored.guide, workshop),
        data=script_of(tailored, site.words, address_of(site), pieces.views),
        fit_path=paths.fitted(guide.id) if site.rider else "",
        home_lacks=home_lacks(tailored),
        others=others,
        all_bikes=all_bikes,
        bike_path=paths.bike(bike.id) if bike is not None else "",
        generic_path=paths.guide(guide.id) if bike is not None else "",
        duration=amounts.duration(guide.prepare_time_min + guide.work_time_min),
    )


def _prints(tailored: Tailored, site: Site) -> Prints:
    """Every card and paper that was built for this guide and bike, under what it is."""
    guide, words = tailored.guide, site.words
    bike = tailored.bike.id if tailored.bike is not None else ""
    found = (
        (words.print_cards, site.cards.get((guide.id, bike), ())),
        (words.print_sheets, site.printouts.sheets.get(guide.id, ())),
        (words.print_upkeep, site.printouts.bikes.get(bike, ())),
        (words.print_chart, site.printouts.torques),
    )
    return tuple((what, links) for what, links in found if links)


def _edit(guide: Guide, workshop: Workshop) -> str:
    """Where the guide's file is changed; '' where the workshop gives no address, or where the file is not its own."""
    folder = workshop.places.at.file.rpartition("/")[0]
    inside = guide.places.at.file.removeprefix(f"{folder}/") if folder else guide.places.at.file
    own = not folder or inside != guide.places.at.file
    return f"{workshop.repository.rstrip('/')}/{inside}" if workshop.repository and inside and own else ""
