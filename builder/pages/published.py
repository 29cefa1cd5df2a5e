"""What a published site has beside its pages: what changed, as a page and as a feed; a sitemap, robots, a lost page.

A feed and a sitemap need the address at which the site is published; without it they are left out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup, escape

from builder.pages import paths
from builder.pages.contents import Page, Site
from builder.pages.markup import inline
from builder.pages.rendering import address_of, render
from builder.pages.theme import Theme

_ENTRIES = 100
# So many addresses stand in a part; the format allows 50,000.
_ADDRESSES = 10_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A revision of a guide: its date, why, and which of the guide's revisions it is, counted from 1."""

    date: str
    guide: str
    title: str
    reason: str
    number: int

    @property
    def href(self) -> str:
        """The guide's page."""
        return paths.guide(self.guide)


def changes_of(site: Site) -> tuple[Change, ...]:
    """Every revision of every guide, the newest first."""
    found = [
        Change(
            date=revision.date,
            guide=tailored.guide.id,
            title=tailored.guide.title,
            reason=revision.reason,
            number=number,
        )
        for tailored in site.generic
        for number, revision in enumerate(tailored.guide.revisions, 1)
    ]
    found.sort(key=lambda change: (change.title.casefold(), -change.number))
    found.sort(key=lambda change: change.date, reverse=True)
    return tuple(found)


def changes_page(site: Site, theme: Theme) -> Page:
    """What changed, by date."""
    days: dict[str, list[tuple[str, str, Markup]]] = {}
    for change in changes_of(site):
        days.setdefault(change.date, []).append((change.title, change.href, inline(change.reason)))
    shown = tuple((date, tuple(rows)) for date, rows in days.items())
    return render(site, theme, paths.CHANGES, "changes.html", site.words.changes, days=shown)


def lost_page(site: Site, theme: Theme) -> Page:
    """What a host shows for a page that isn't there, at whatever depth: its links begin at the site's address."""
    return render(site, theme, paths.LOST, "lost.html", site.words.lost)


def feed(site: Site) -> str:
    """The newest changes as an Atom feed (RFC 4287); '' where the site has no address or nothing was revised."""
    address, changes = address_of(site), changes_of(site)[:_ENTRIES]
    if not address or not changes:
        return ""
    name = site.library.workshop.name or "Spannerleaf"
    entries = Markup("").join(
        Markup(
            "<entry><id>{address}/{href}#revision-{number}</id><title>{title}</title>"
            '<link href="{address}/{href}"/><updated>{date}T00:00:00Z</updated><summary>{reason}</summary></entry>\n'
        ).format(
            address=address,
            href=change.href,
            number=change.number,
            title=change.title,
            date=change.date,
            reason=change.reason,
        )
        for change in changes
    )
    return str(
        Markup(
            '<?xml version="1.0" encoding="utf-8"?>\n<feed xmlns="http://www.w3.org/2005/Atom" xml:lang="{language}">\n'
            '<id>{address}/</id><title>{name}: {changes}</title><link rel="self" href="{address}/{path}"/>'
            '<link href="{address}/"/><author><name>{name}</name></author><updated>{date}T00:00:00Z</updated>\n'
            "{entries}</feed>\n"
        ).format(
            language=site.words.language,
            address=address,
            name=name,
            changes=site.words.changes,
            path=paths.FEED,
            date=changes[0].date,
            entries=entries,
        )
    )


def sitemaps(site: Site, pages: Iterable[str]) -> dict[str, str]:
    """Every page by its address, in the format of sitemaps.org; nothing where the site has none.

    What is too much for one file is parted, and the first then leads to the parts.
    """
    address = address_of(site)
    if not address:
        return {}
    shown = [page for page in pages if page != paths.LOST]
    if len(shown) <= _ADDRESSES:
        return {paths.SITEMAP: _of_addresses("url", address, shown)}
    parts = {
        paths.sitemap(number): _of_addresses("url", address, shown[start : start + _ADDRESSES])
        for number, start in enumerate(range(0, len(shown), _ADDRESSES), 1)
    }
    return {paths.SITEMAP: _of_addresses("sitemap", address, parts), **parts}


def _of_addresses(kind: str, address: str, pages: Iterable[str]) -> str:
    """A `urlset`, or for `sitemap` a `sitemapindex`."""
    rows = "".join(
        f"<{kind}><loc>{escape(f'{address}/{page}'.removesuffix(paths.INDEX))}</loc></{kind}>\n" for page in pages
    )
    whole, space = ("urlset" if kind == "url" else "sitemapindex"), "http://www.sitemaps.org/schemas/sitemap/0.9"
    return f'<?xml version="1.0" encoding="utf-8"?>\n<{whole} xmlns="{space}">\n{rows}</{whole}>\n'


def robots(site: Site) -> str:
    """Everybody may read everything (RFC 9309)."""
    address = address_of(site)
    return "User-agent: *\nAllow: /\n" + (f"Sitemap: {address}/{paths.SITEMAP}\n" if address else "")
