"""The whole site: plain pages with relative links, that read the same from a folder as from a web host."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from builder.model.bike import Bike
from builder.model.guide import Guide
from builder.model.library import Library
from builder.model.memory import Memory
from builder.pages.strings import Words
from builder.pages.strings_en import EN
from builder.planning.plan import Plan
from builder.proof.jobs import Work
from builder.proof.since_print import PrintedStanding
from builder.tailoring.tailored import Tailored
from builder.tailoring.upkeep import Upkeeps


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A finished page and its path below the site's root."""

    path: str
    html: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLink:
    """A card set as PDF: `paper` as a reader writes it, `href` from the site's root; `steps` for one to work along."""

    paper: str
    href: str
    steps: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Printouts:
    """The PDFs beside the card sets: service sheets by guide id, torques and tools by bike id, charts for the wall."""

    sheets: Mapping[str, tuple[CardLink, ...]] = field(default_factory=dict)
    bikes: Mapping[str, tuple[CardLink, ...]] = field(default_factory=dict)
    torques: tuple[CardLink, ...] = ()
    tools: tuple[CardLink, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """Everything that the site is made from.

    `refusals` says which bike can't have which guide and why. `plans` holds, by bike and guide id, plans that led to
    no tailored guide. `cards` holds the card sets by guide id and bike id, the latter empty for the generic guide.
    `revisions` are the codes of the cards of today, by guide id and bike id, and `printed` those that were printed.
    `typeset` turns LaTeX mathematics into MathML. `rider` says that the site has a page on which a rider
    fits a guide to a bike. `memory` holds the pages that were made before,
    `work` works out a job that is none of these, and `upkeeps` tells those of bikes.
    """

    library: Library
    generic: tuple[Tailored, ...]
    tailored: tuple[Tailored, ...] = ()
    refusals: tuple[tuple[Bike, Guide, str], ...] = ()
    plans: Mapping[tuple[str, str], Plan] = field(default_factory=dict)
    cards: Mapping[tuple[str, str], tuple[CardLink, ...]] = field(default_factory=dict)
    printouts: Printouts = Printouts()
    revisions: Mapping[tuple[str, str], str] = field(default_factory=dict)
    printed: tuple[PrintedStanding, ...] = ()
    typeset: Callable[[str], str]
    rider: bool = False
    version: str = ""
    words: Words = EN
    memory: Memory = field(default_factory=Memory, compare=False, repr=False)
    upkeeps: Upkeeps | None = field(default=None, compare=False, repr=False)
    work: Work | None = field(default=None, compare=False, repr=False)


def upkeeps_of(site: Site) -> Upkeeps:
    """What tells the upkeep of the site's bikes."""
    return site.upkeeps or Upkeeps(site.library, site.memory)
