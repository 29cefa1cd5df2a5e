"""The page of a guide, for any bike or for one, with its steps to tick."""

from __future__ import annotations

from dataclasses import replace

from builder.pages import amounts, paths
from builder.pages.card import card_revision
from builder.pages.contents import Page, Site
from builder.pages.guide_view import view_guide
from builder.pages.rendering import render
from builder.pages.theme import Theme
from builder.pages.tool_list import home_lacks
from builder.tailoring.tailored import Tailored


def guide_page(tailored: Tailored, site: Site, theme: Theme) -> Page:
    """The page of `tailored`."""
    guide, bike = tailored.guide, tailored.bike
    title = guide.title if bike is None else f"{guide.title}: {bike.name}"
    cards = site.cards.get((guide.id, bike.id if bike is not None else ""), ())
    others = tuple(
        (paths.of_tailored(other), other.bike.name, other.bike.tag)
        for other in site.tailored
        if other.guide.id == guide.id and other.bike is not None and other.bike is not bike
    )
    view = view_guide(tailored, site.words)
    code = card_revision(tailored, theme, words=site.words, workshop=site.library.workshop, view=view)
    return render(
        site,
        theme,
        paths.of_tailored(tailored),
        "guide.html",
        title,
        g=replace(view, revision=code),
        cards=cards,
        fit_path=paths.fitted(guide.id) if site.rider else "",
        sheets=site.printouts.sheets.get(guide.id, ()),
        home_lacks=home_lacks(tailored),
        others=others,
        bike_path=paths.bike(bike.id) if bike is not None else "",
        generic_path=paths.guide(guide.id) if bike is not None else "",
        duration=amounts.duration(guide.prepare_time_min + guide.work_time_min),
    )
