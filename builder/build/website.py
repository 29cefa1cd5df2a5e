"""The files of the site, from what the jobs came to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType

from latex2mathml.converter import convert

from builder.build.cards import Card
from builder.build.fingerprint import version
from builder.build.rider_files import rider_files
from builder.model.library import Library
from builder.model.memory import Memory
from builder.pages import paths
from builder.pages.form import Form
from builder.pages.offline import digest_of, worker
from builder.pages.site import CardLink, Printouts, Site, site_files, site_pages, with_codes
from builder.pages.strings_en import EN
from builder.pages.theme import Theme
from builder.proof.jobs import Outcome, Ready, Refused, Work
from builder.tailoring.upkeep import Upkeeps


def website(
    library: Library,
    outcomes: Iterable[Outcome],
    cards: Iterable[Card],
    printouts: Printouts,
    theme: Theme,
    memory: Memory | None = None,
    *,
    codes: Mapping[tuple[str, str], str] | None = None,
    work: Work | None = None,
    upkeeps: Upkeeps | None = None,
    rider: bool = False,
    photos: Mapping[str, bytes] = MappingProxyType({}),
) -> Iterator[tuple[str, bytes]]:
    """Every file of the site with its path below the root: pages first, then the theme's assets.

    Each is made when it is asked for, so that who writes them holds one at a time. A page of which nothing changed
    since `memory` began is not made again. With `rider` it has the page on which a rider fits a guide to a bike.
    `codes` are those of the cards, by guide and bike, where they are known; `work`
    works out jobs, and `upkeeps` tells those of bikes; `photos` are those that steps show.
    """
    done = tuple(outcomes)
    ready = [outcome.tailored for outcome in done if isinstance(outcome, Ready)]
    links: dict[tuple[str, str], tuple[CardLink, ...]] = {}
    for card in cards:
        at = (card.guide, card.bike)
        links[at] = (*links.get(at, ()), _link(card))
    site = Site(
        library=library,
        generic=tuple(tailored for tailored in ready if tailored.bike is None),
        tailored=tuple(tailored for tailored in ready if tailored.bike is not None),
        refusals=tuple(
            (outcome.job.bike, outcome.job.guide, outcome.reason)
            for outcome in done
            if isinstance(outcome, Refused) and outcome.job.bike is not None
        ),
        cards=links,
        printouts=printouts,
        typeset=convert,
        version=version(),
        rider=rider,
        memory=memory or Memory(),
        work=work,
        upkeeps=upkeeps,
    )
    site = with_codes(site, theme, codes)
    digests: dict[str, str] = {}
    for path, data in _files(site, theme, photos):
        if path in digests:  # the names that would collide are refused where sources are read
            raise ValueError(f"'{path}' is written twice")
        digests[path] = digest_of(data)
        yield path, data
    if script := worker(digests):
        yield paths.WORKER, script.encode()


def _files(site: Site, theme: Theme, photos: Mapping[str, bytes]) -> Iterator[tuple[str, bytes]]:
    made = []
    for page in site_pages(site, theme):
        made.append(page.path)
        yield page.path, page.html.encode()
    for path, text in site_files(site, made).items():
        yield path, text.encode()
    yield from theme.assets.items()
    for name, data in photos.items():
        yield f"{paths.PHOTOS}/{name}", data
    if site.rider:
        yield from rider_files(site, theme).items()


def _link(card: Card) -> CardLink:
    """The link to a card: it says the paper, and the form where it is not the usual one."""
    form = EN.forms[card.form]
    label = f"{card.paper.label}, {form}" if form else card.paper.label
    return CardLink(paper=label, href=f"cards/{card.path}", steps=card.form is Form.STEPS)
