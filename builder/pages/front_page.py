"""The front page: choose a bike, choose a job, or print; each family of jobs with a drawing of ours."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from markupsafe import Markup

from builder.model.bike import Bike
from builder.pages import paths
from builder.pages.by_thing import Thing, by_thing
from builder.pages.contents import Page, Site
from builder.pages.figures import figure_of, view_of
from builder.pages.parts import BIKES
from builder.pages.rendering import render
from builder.pages.theme import Theme
from builder.pages.wear_book import due_of
from builder.tailoring.tailored import ShownStep, Tailored


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyView:
    """The jobs of a family by the thing that they are about, and a drawing from their steps where one can be made."""

    name: str
    things: tuple[Thing, ...]
    picture: Markup


@dataclass(frozen=True, slots=True, kw_only=True)
class BikeTile:
    """A bike of the fleet with what is due next on it, '' where the wear book does not say."""

    href: str
    name: str
    tag: str
    due: str


def front_page(site: Site, theme: Theme) -> Page:
    """The page that the site begins with."""
    bikes = tuple(site.library.bikes.values())
    return render(
        site,
        theme,
        paths.INDEX,
        "index.html",
        site.words.home,
        families=families_of(site),
        bikes=tuple(_bike(bike, site) for bike in bikes[:BIKES]),
        more_bikes=max(0, len(bikes) - BIKES),
    )


def families_of(site: Site) -> tuple[FamilyView, ...]:
    """Every family by name."""
    together: dict[str, list[Tailored]] = {}
    for tailored in sorted(site.generic, key=lambda item: item.guide.family.casefold()):
        together.setdefault(tailored.guide.family, []).append(tailored)
    pictures = _pictures(together)
    return tuple(
        FamilyView(
            name=family,
            things=by_thing((item.guide.title, paths.of_tailored(item)) for item in guides),
            picture=pictures.get(family, Markup("")),
        )
        for family, guides in together.items()
    )


def _bike(bike: Bike, site: Site) -> BikeTile:
    due = due_of(bike, site.words)
    return BikeTile(href=paths.bike(bike.id), name=bike.name, tag=bike.tag, due=due[0].short if due else "")


def _pictures(families: dict[str, list[Tailored]]) -> dict[str, Markup]:
    """One drawing a family: the one that is most its own, and of those the one that most of its guides show."""
    steps: dict[str, dict[str, ShownStep]] = {}
    counts: dict[str, Counter[str]] = {}
    everywhere: Counter[str] = Counter()
    for family, guides in families.items():
        counts[family] = Counter()
        for guide in guides:
            shown = {step.figure: step for step in reversed(guide.steps) if step.figure}
            counts[family].update(shown.keys())
            everywhere.update(shown.keys())
            steps.setdefault(family, {}).update(shown)
    found: dict[str, Markup] = {}
    for family, counted in counts.items():
        ranked = sorted(counted, key=lambda name: (-counted[name] / everywhere[name], -counted[name], name))
        for name in ranked:
            drawing = figure_of(steps[family][name])
            if drawing is not None:
                found[family] = view_of(drawing, f"picture-{len(found) + 1}").svg
                break
    return found
