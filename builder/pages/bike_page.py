"""The page of a bike: its parts, what was measured, what its jobs come to, its gears, what is still to measure."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from markupsafe import Markup

from builder.checks.take_up import TakeUpCell
from builder.model.bike import Bike
from builder.model.guide import Guide
from builder.model.units import Unit, write_quantity
from builder.pages import amounts, paths
from builder.pages.by_thing import Thing, by_thing
from builder.pages.contents import Page, Site
from builder.pages.guide_view import ChangeView, CheckView, view_changes, view_checks
from builder.pages.marks import verdict_mark
from builder.pages.markup import inline
from builder.pages.part_facts import facts_of
from builder.pages.rendering import render
from builder.pages.strings import Words
from builder.pages.theme import Theme
from builder.pages.wear_book import Due, due_of, wear_views
from builder.planning.gears import gears_of
from builder.planning.hills import hills_of
from builder.planning.plan import Plan
from builder.tailoring.tailored import Tailored
from builder.tailoring.upkeep import Upkeep


@dataclass(frozen=True, slots=True, kw_only=True)
class PartView:
    """What fills a role."""

    role: str
    name: str
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CellView:
    """One gear of the grid."""

    ratio: str
    development: str
    used: str
    verdict: str
    word: str
    mark: Markup


@dataclass(frozen=True, slots=True, kw_only=True)
class GridView:
    """Ratio, development and take-up for every ring and sprocket; rows are rings, columns sprockets."""

    sprockets: tuple[int, ...]
    rows: tuple[tuple[int, tuple[CellView, ...]], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MissingView:
    """What is still to measure: what, how, and where it goes in the bike's file."""

    words: str
    how: Markup
    key: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HillView:
    """A climb, or the steepest gradient, before and after a job."""

    name: str
    gradient: str
    before: str
    after: str
    least: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JobView:
    """A job on the bike: its page where there is one, else why not."""

    title: str
    href: str
    reason: str
    trouble: tuple[str, ...]
    bought: tuple[str, ...]
    changes: tuple[ChangeView, ...]
    checks: tuple[CheckView, ...]
    missing: tuple[MissingView, ...]
    before: GridView | None
    after: GridView | None
    hills: tuple[HillView, ...]


def bike_page(upkeep: Upkeep, site: Site, theme: Theme) -> Page:
    """The page of a bike: what is due next first, then its jobs."""
    bike = upkeep.bike
    tailored, refusals = _by_bike(site)
    made = frozenset(item.guide.id for item in site.generic)
    own = frozenset(item.guide.id for item in tailored.get(bike.id, ()))
    return render(
        site,
        theme,
        paths.bike(bike.id),
        "bike.html",
        bike.name,
        bike=bike,
        description=inline(bike.description),
        parts=tuple(
            PartView(role=role.value.replace("-", " "), name=part.name, facts=facts_of(part))
            for role, part in bike.parts.items()
        ),
        without=tuple(sorted(role.value.replace("-", " ") for role in bike.without)),
        measured=facts_of(bike.measured),
        rider=facts_of(bike.rider),
        climbs=tuple((climb.name, amounts.amount(climb.gradient_percent, Unit.PERCENT)) for climb in bike.climbs),
        wear=wear_views(bike, site.words),
        readings=tuple((entry.date, facts_of(entry)[1:]) for entry in bike.wear),
        jobs=_jobs(bike, tailored.get(bike.id, ()), refusals.get(bike.id, ()), site),
        due=tuple((item, _cures(item, upkeep, made, own)) for item in due_of(bike, site.words)),
        others=_others(upkeep, made, own),
        grid=_grid(bike),
    )


Refusal = tuple[Bike, Guide, str]


def _by_bike(site: Site) -> tuple[Mapping[str, Sequence[Tailored]], Mapping[str, Sequence[Refusal]]]:
    """The guides of each bike and what was refused it, by its id: looked through once for all bikes."""

    def found() -> tuple[dict[str, list[Tailored]], dict[str, list[Refusal]]]:
        tailored: dict[str, list[Tailored]] = {}
        refusals: dict[str, list[Refusal]] = {}
        for item in site.tailored:
            if item.bike is not None:
                tailored.setdefault(item.bike.id, []).append(item)
        for refusal in site.refusals:
            refusals.setdefault(refusal[0].id, []).append(refusal)
        return tailored, refusals

    held = (site.tailored, site.refusals)
    return site.memory.once.of(("by bike", *map(id, held)), found, held)


def _cures(due: Due, upkeep: Upkeep, made: Container[str], own: Container[str]) -> tuple[tuple[str, str], ...]:
    """The guides by which the part is renewed, each for this bike where it was made for it."""
    return tuple(
        (guide.title, _page_of(guide, upkeep.bike, own))
        for guide in upkeep.guides
        if due.place in (*guide.wants, *guide.takes) and guide.id in made
    )


def _others(upkeep: Upkeep, made: Container[str], own: Container[str]) -> tuple[tuple[str, tuple[Thing, ...]], ...]:
    """Every guide that suits the bike, by family and thing."""
    guides = [guide for guide in upkeep.guides if guide.id in made]
    families = sorted({guide.family for guide in guides}, key=str.casefold)
    return tuple(
        (
            family,
            by_thing((guide.title, _page_of(guide, upkeep.bike, own)) for guide in guides if guide.family == family),
        )
        for family in families
    )


def _page_of(guide: Guide, bike: Bike, own: Container[str]) -> str:
    return paths.guide(guide.id, bike.id if guide.id in own else "")


def _jobs(bike: Bike, tailored: Iterable[Tailored], refusals: Iterable[Refusal], site: Site) -> tuple[JobView, ...]:
    words = site.words
    found = [_job(one.guide.title, paths.of_tailored(one), "", one.plan, words) for one in tailored]
    for _, guide, reason in refusals:
        found.append(_job(guide.title, "", reason, site.plans.get((bike.id, guide.id)), words))
    return tuple(found)


def _job(title: str, href: str, reason: str, plan: Plan | None, words: Words) -> JobView:
    changed = plan is not None and plan.after != plan.bike
    return JobView(
        title=title,
        href=href,
        reason=reason,
        trouble=plan.trouble if plan is not None else (),
        bought=tuple(part.name for part in plan.bought) if plan is not None else (),
        changes=view_changes(plan, words),
        checks=view_checks(plan.checks, words) if plan is not None else (),
        missing=tuple(
            MissingView(words=missing.words, how=inline(missing.how), key=missing.write_at) for missing in plan.missing
        )
        if plan is not None
        else (),
        before=_grid(plan.bike) if plan is not None and changed else None,
        after=_grid(plan.after) if plan is not None and changed else None,
        hills=_hills(plan, words) if plan is not None and changed else (),
    )


def _hills(plan: Plan, words: Words) -> tuple[HillView, ...]:
    """Every climb before and after, and the steepest gradient last; nothing where the rider is not known."""
    hills = hills_of(plan)
    if hills is None:
        return ()
    found = [
        HillView(
            name=hill.name,
            gradient=amounts.amount(hill.gradient_percent, Unit.PERCENT),
            before=_or_dash(hill.before_rpm, Unit.PER_MINUTE),
            after=_or_dash(hill.after_rpm, Unit.PER_MINUTE),
            least=amounts.amount(hill.least_rpm, Unit.PER_MINUTE),
        )
        for hill in hills.climbs
    ]
    found.append(
        HillView(
            name=words.steepest,
            gradient="",
            before=_or_dash(hills.steepest_before_percent, Unit.PERCENT),
            after=_or_dash(hills.steepest_after_percent, Unit.PERCENT),
            least="",
        )
    )
    return tuple(found)


def _or_dash(value: float | None, unit: Unit) -> str:
    return "–" if value is None else write_quantity(value, unit, 0 if unit is Unit.PER_MINUTE else 1)


def _grid(bike: Bike) -> GridView | None:
    """The gear grid, where rings, sprockets and wheel are known."""
    cells = gears_of(bike)
    if not cells:
        return None
    rows = tuple((ring, tuple(_cell(cell) for cell in row)) for ring, row in groupby(cells, key=lambda cell: cell.ring))
    return GridView(sprockets=tuple(dict.fromkeys(cell.sprocket for cell in cells)), rows=rows)


def _cell(cell: TakeUpCell) -> CellView:
    return CellView(
        # The same number of places in every cell, so that a column can be compared.
        ratio=f"{cell.ratio:.2f}",
        development=f"{cell.development_m:.2f}\u00a0{Unit.METRE.value}",
        used=amounts.amount(cell.used_teeth, Unit.TEETH),
        verdict=cell.verdict.value,
        word=cell.take_up.value,
        mark=verdict_mark(cell.verdict),
    )
