"""One page through its template, with what every page shares."""

from __future__ import annotations

from builder.pages import paths
from builder.pages.card import MARKS
from builder.pages.contents import Page, Site
from builder.pages.rider_words import RIDER_EN
from builder.pages.theme import Theme


def render(site: Site, theme: Theme, path: str, template: str, title: str, **shown: object) -> Page:
    """The page at `path`; `shown` is what its template needs beside the frame."""
    words = site.words
    menu = (
        (paths.GUIDES, words.guides),
        (paths.BIKES, words.bikes),
        (paths.CHECKS, words.checks),
        (paths.TORQUES, words.torque_chart),
        (paths.TOOLS, words.tool_list),
        (paths.GLOSSARY, words.glossary),
        (paths.CAUTIONS, words.cautions),
        (paths.ABOUT, words.about),
    )
    html = theme.templates.get_template(template).render(
        w=words,
        m=MARKS,
        title=title,
        path=path,
        root=paths.root_from(path),
        menu=menu,
        workshop=site.library.workshop,
        version=site.version,
        r=RIDER_EN,
        has_rider=site.rider,
        **shown,
    )
    return Page(path=path, html=html)
