"""The rider's page: the frame that the scripts fill, and the lines for who has none."""

from __future__ import annotations

from builder.model.guide import Guide
from builder.pages import paths
from builder.pages.contents import Page, Site
from builder.pages.rendering import render
from builder.pages.rider_words import PRINTED, RIDER_EN
from builder.pages.theme import Theme

# The page compiles WebAssembly, and a card that it prints has its style within; nothing runs on it but the site's own
# scripts, and it asks nobody else.
_POLICY = (
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; connect-src 'self'; "
    "style-src 'self' 'unsafe-inline'; font-src 'self' data:; img-src 'self' data:; "
    "manifest-src 'self'; base-uri 'self'; form-action 'none'"
)


def rider_page(site: Site, theme: Theme) -> Page:
    """The page."""
    families: dict[str, list[Guide]] = {}
    for tailored in site.generic:
        families.setdefault(tailored.guide.family, []).append(tailored.guide)
    return render(
        site,
        theme,
        paths.RIDER,
        "rider.html",
        RIDER_EN.title,
        policy=_POLICY,
        families=families,
        papers=[(paper.value, paper.label) for paper in PRINTED],
    )
