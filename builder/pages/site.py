"""Every page of the site."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import partial

from builder.checks.registry import CHECKS
from builder.pages import paths
from builder.pages.bike_page import JobsOfBike, bike_page, jobs_by_bike
from builder.pages.check_page import check_page, checks_index
from builder.pages.contents import CardLink, Page, Printouts, Site, upkeeps_of
from builder.pages.find_pages import find_pages, wrong_page
from builder.pages.finding import index_scripts
from builder.pages.front_page import front_page
from builder.pages.guide_page import guide_page
from builder.pages.lists import list_pages, made_for
from builder.pages.offline import manifest
from builder.pages.printed_page import printed_pages, with_codes
from builder.pages.prints_page import prints_pages
from builder.pages.published import changes_page, feed, lost_page, robots, sitemaps
from builder.pages.rendering import remembered
from builder.pages.rules_page import rules_page
from builder.pages.theme import Theme
from builder.pages.upkeep_page import upkeep_page

__all__ = ["CardLink", "Page", "Printouts", "Site", "site_files", "site_pages", "with_codes"]


def site_pages(site: Site, theme: Theme) -> Iterator[Page]:
    """All pages, in the order of the menu, each made when it is asked for. The theme's `assets` go beside them."""
    checks = tuple(CHECKS.values())
    shelf = replace(site.library, guides={}, procedures={}, bikes={}, tried={}, printed={})
    made = frozenset(tailored.guide.id for tailored in site.generic)
    upkeeps = upkeeps_of(site)
    site = replace(site, upkeeps=upkeeps)
    yield front_page(site, theme)
    yield from list_pages(site, theme)
    yield from prints_pages(site, theme)
    yield wrong_page(site, theme)
    yield from find_pages(site, theme)
    together = made_for(site)
    for tailored in (*site.generic, *site.tailored):
        yield guide_page(tailored, site, theme, bikes=together.get(tailored.guide.id, ()))
    jobs = jobs_by_bike(site)
    for bike in site.library.bikes.values():
        one, own = upkeeps.of(bike), jobs.get(bike.id, JobsOfBike())
        yield remembered(
            site, theme, ("bike", made, own.reasons), (one, *own.records), partial(bike_page, one, own, site, theme)
        )
        make = partial(upkeep_page, one, replace(site, library=shelf), theme)
        shown = ("upkeep", made, site.printouts.bikes.get(bike.id))
        yield remembered(site, theme, shown, (one, upkeeps.catalogue), make)
    yield rules_page(site, theme)
    yield checks_index(checks, site, theme)
    for check in checks:
        yield remembered(site, theme, "check", (check, site.typeset), partial(check_page, check, site, theme))
    yield changes_page(site, theme)
    yield from printed_pages(site, theme)
    yield lost_page(site, theme)


def site_files(site: Site, pages: Iterable[str]) -> dict[str, str]:
    """What the site has beside its pages, which are given by their paths, and the theme's assets."""
    files = {
        **index_scripts(site),
        paths.ROBOTS: robots(site),
        **sitemaps(site, pages),
        paths.FEED: feed(site),
        paths.MANIFEST: manifest(site.library.workshop),
    }
    return {path: text for path, text in files.items() if text}
