"""Every page of the site."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from builder.checks.registry import CHECKS
from builder.model.library import records_of
from builder.pages import paths
from builder.pages.bike_page import bike_page
from builder.pages.check_page import check_page, checks_index
from builder.pages.contents import CardLink, Page, Printouts, Site
from builder.pages.find_pages import find_page, wrong_page
from builder.pages.finding import index_script
from builder.pages.front_page import front_page
from builder.pages.guide_page import guide_page
from builder.pages.lists import list_pages
from builder.pages.offline import manifest
from builder.pages.printed_page import printed_pages, with_codes
from builder.pages.prints_page import prints_page
from builder.pages.published import changes_page, feed, lost_page, robots, sitemap
from builder.pages.rendering import remembered
from builder.pages.rules_page import rules_page
from builder.pages.theme import Theme
from builder.pages.upkeep_page import upkeep_page
from builder.tailoring.upkeep import upkeep_of

__all__ = ["CardLink", "Page", "Printouts", "Site", "site_files", "site_pages", "with_codes"]


def site_pages(site: Site, theme: Theme) -> tuple[Page, ...]:
    """All pages, in the order of the menu. The theme's `assets` go beside them, at their own paths."""
    checks = tuple(CHECKS.values())
    shelf = replace(site.library, bikes={}, tried={})
    records = tuple(records_of(shelf))
    made = frozenset(tailored.guide.id for tailored in site.generic)
    upkeep = tuple(
        site.memory.of("upkeep", "", (bike, *records), partial(upkeep_of, bike, shelf))
        for bike in site.library.bikes.values()
    )
    return (
        front_page(site, theme),
        *list_pages(site, theme),
        prints_page(site, theme),
        wrong_page(site, theme),
        find_page(site, theme),
        *(guide_page(tailored, site, theme) for tailored in (*site.generic, *site.tailored)),
        *(bike_page(one, site, theme) for one in upkeep),
        *(
            remembered(site, theme, ("upkeep", made, site.printouts.bikes.get(one.bike.id)), (one, *records), make)
            for one in upkeep
            for make in (partial(upkeep_page, one, replace(site, library=shelf), theme),)
        ),
        rules_page(site, theme),
        checks_index(checks, site, theme),
        *(
            remembered(site, theme, "check", (check, site.typeset), partial(check_page, check, site, theme))
            for check in checks
        ),
        changes_page(site, theme),
        *printed_pages(site, theme),
        lost_page(site, theme),
    )


def site_files(site: Site, pages: tuple[Page, ...]) -> dict[str, str]:
    """What the site has beside its pages and the theme's assets, by path."""
    files = {
        paths.FIND_INDEX: index_script(site),
        paths.ROBOTS: robots(site),
        paths.SITEMAP: sitemap(site, pages),
        paths.FEED: feed(site),
        paths.MANIFEST: manifest(site.library.workshop),
    }
    return {path: text for path, text in files.items() if text}
