"""One page through its template, with what every page shares."""

from __future__ import annotations

from collections.abc import Callable, Hashable

from builder.pages import paths
from builder.pages.contents import Page, Site
from builder.pages.rider_words import RIDER_EN
from builder.pages.theme import Theme, known_by


def address_of(site: Site) -> str:
    """Where the site is published, without a stroke at the end; '' where nobody said."""
    return site.library.workshop.site.rstrip("/")


def remembered(
    site: Site, theme: Theme, values: Hashable, records: tuple[object, ...], make: Callable[[], Page]
) -> Page:
    """The page that `make` makes, or that it made before: from `values`, `records` and the frame that pages share."""
    digest, dressed = known_by(theme)
    frame = (values, site.version, site.rider, _has_feed(site), digest)
    return site.memory.of("page", frame, (*records, site.words, site.library.workshop, *dressed), make)


def _has_feed(site: Site) -> bool:
    return any(tailored.guide.revisions for tailored in site.generic)


def render(site: Site, theme: Theme, path: str, template: str, title: str, **shown: object) -> Page:
    """The page at `path`; `shown` is what its template needs beside the frame."""
    words = site.words
    menu = (
        (paths.GUIDES, words.guides),
        (paths.BIKES, words.bikes),
        (paths.WRONG, words.wrong),
        (paths.PRINTS, words.print),
        (paths.CHECKS, words.checks),
        (paths.TORQUES, words.torque_chart),
        (paths.TOOLS, words.tool_list),
        (paths.GLOSSARY, words.glossary),
        (paths.CAUTIONS, words.cautions),
        (paths.ABOUT, words.about),
    )
    html = theme.templates.get_template(template).render(
        w=words,
        m=theme.marks,
        title=title,
        path=path,
        root=_root(site, path),
        address=address_of(site),
        has_feed=_has_feed(site),
        menu=menu,
        workshop=site.library.workshop,
        version=site.version,
        icon=theme.icon,
        r=RIDER_EN,
        has_rider=site.rider,
        **shown,
    )
    # A photograph lies beside the pages, wherever its page is.
    html = html.replace(f'<image href="{paths.PHOTOS}/', f'<image href="{_root(site, path)}{paths.PHOTOS}/')
    return Page(path=path, html=html)


def _root(site: Site, path: str) -> str:
    """What leads from a page to the root. The lost page is shown at any depth: its links begin where the site does."""
    if path != paths.LOST or not address_of(site):
        return paths.root_from(path)
    _, _, below = address_of(site).partition("://")
    return f"/{below.partition('/')[2]}/".replace("//", "/")
