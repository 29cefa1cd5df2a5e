"""The page of one bike's torques and tools, over all guides that suit it."""

from __future__ import annotations

from builder.pages import paths
from builder.pages.contents import Page, Site
from builder.pages.rendering import render
from builder.pages.theme import Theme
from builder.pages.tool_list import tools_of_bike
from builder.pages.torque_chart import chart_of_bike
from builder.tailoring.upkeep import Upkeep


def upkeep_page(upkeep: Upkeep, site: Site, theme: Theme) -> Page:
    """What is tightened on a bike and what it is done with."""
    words, bike = site.words, upkeep.bike
    guides = frozenset(generic.guide.id for generic in site.generic)
    return render(
        site,
        theme,
        paths.upkeep(bike.id),
        "upkeep.html",
        f"{words.upkeep}: {bike.name}",
        bike=bike,
        bike_path=paths.bike(bike.id),
        chart=chart_of_bike(upkeep, site.library, words),
        tools=tools_of_bike(upkeep),
        guide_paths={guide.id: paths.guide(guide.id) for guide in upkeep.guides if guide.id in guides},
        unsure=tuple(fastener.name for fastener in upkeep.unsure),
        prints=site.printouts.bikes.get(bike.id, ()),
    )
