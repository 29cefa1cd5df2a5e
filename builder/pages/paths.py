"""Where each page stands below the site's root, and how one page links to another."""

from __future__ import annotations

from builder.tailoring.tailored import Tailored

INDEX = "index.html"
PHOTOS = "photos"
GUIDES = "guides.html"
BIKES = "bikes.html"
CHECKS = "checks.html"
TORQUES = "torques.html"
TOOLS = "tools.html"
GLOSSARY = "words.html"
CAUTIONS = "safety-key.html"
ABOUT = "about.html"
RULES = "house-rules.html"
FIND = "find.html"
WRONG = "what-is-wrong.html"
FIND_INDEX = "assets/find-index.js"
FIND_PARTS = "assets/find/"
CHANGES = "changes.html"
LOST = "404.html"
FEED = "feed.xml"
SITEMAP = "sitemap.xml"
ROBOTS = "robots.txt"
WORKER = "sw.js"
MANIFEST = "site.webmanifest"
PRINTS = "print.html"
RIDER = "rider/index.html"
PRINTED = "printed/"


def sitemap(number: int) -> str:
    """A part of the sitemap of a large site, from 1."""
    return f"sitemap-{number}.xml"


def find_part(key: str) -> str:
    """What can be found by words that begin alike, where not all of it stands in one file."""
    return f"{FIND_PARTS}{key}.js"


def guide(guide_id: str, bike_id: str = "") -> str:
    """The page of a guide, generic or for one bike."""
    return f"bikes/{bike_id}/{guide_id}.html" if bike_id else f"guides/{guide_id}.html"


def bikes_of(guide_id: str) -> str:
    """The list of the bikes that a guide was made for; no guide's own page is called so."""
    return f"guides/bikes-with/{guide_id}.html"


def of_tailored(tailored: Tailored) -> str:
    """The page of a tailored guide."""
    return guide(tailored.guide.id, tailored.bike.id if tailored.bike is not None else "")


def printed(revision: str) -> str:
    """The page of one printed card, by its code."""
    return f"{PRINTED}{revision}.html"


def address(site: str, revision: str) -> str:
    """Where the page of a printed card is published, by its code; '' where nothing is published."""
    return f"{site.rstrip('/')}/{printed(revision)}" if site else ""


def bike(bike_id: str) -> str:
    """The page of a bike."""
    return f"bikes/{bike_id}.html"


def upkeep(bike_id: str) -> str:
    """The page of a bike's torques and tools."""
    return f"bikes/{bike_id}/torques-and-tools.html"


def fitted(guide_id: str) -> str:
    """The rider's page with a guide chosen."""
    return f"{RIDER}#for={guide_id}"


def check(name: str) -> str:
    """The worked page of a check."""
    return f"checks/{name}.html"


def root_from(path: str) -> str:
    """What leads from the page at `path` back to the root: `../` for each folder."""
    return "../" * path.count("/")
