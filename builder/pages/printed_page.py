"""The page that the code of a printed card leads to: whether the card is current, and if not what changed.

There is one for each card, sheet and chart of today, and one for each of the workshop's register. It is plain text and
links, so that it works on any host and without a script.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial

from markupsafe import Markup

from builder.model.catalogue import Workshop
from builder.model.memory import Memory
from builder.model.printed import Printed, PrintedCard, PrintedSort, printed_id
from builder.pages import paths
from builder.pages.card import card_revision
from builder.pages.contents import CardLink, Page, Site
from builder.pages.labels import step_labels
from builder.pages.markup import inline
from builder.pages.pieces import pieces_for
from builder.pages.printed_today import today_in
from builder.pages.rendering import remembered, render
from builder.pages.strings import Words
from builder.pages.theme import Theme, known_by
from builder.proof.since_print import Change, FindToday, PrintedStanding, PrintKind, Standing, What, standings
from builder.tailoring.tailored import Tailored

_CURRENT = Standing(kind=PrintKind.CURRENT)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeView:
    """A step that changed: its label and words of today, what changed, and the torque then and now."""

    label: str
    text: Markup
    what: str
    torque: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedView:
    """One card under a code: whose it is, how it stands, why it was withdrawn, what changed, where today's is."""

    title: str
    date: str
    verdict: str
    may_be_used: bool
    reason: str = ""
    changes: tuple[ChangeView, ...] = ()
    href: str = ""
    links: tuple[CardLink, ...] = ()


def key_of(tailored: Tailored) -> tuple[str, str]:
    """Guide id and bike id, the latter empty for a guide for any bike."""
    return tailored.guide.id, tailored.bike.id if tailored.bike is not None else ""


def code_of(tailored: Tailored, theme: Theme, words: Words, workshop: Workshop, memory: Memory) -> str:
    """The code of a card of today, for which the card is made, or was made since `memory` began."""
    digest, dressed = known_by(theme)
    pieces = pieces_for(tailored, memory, theme, words)
    make = partial(card_revision, tailored, theme, words=words, workshop=workshop, pieces=pieces)
    return memory.of("code", digest, (tailored, words, workshop, *dressed), make)


def with_codes(site: Site, theme: Theme, codes: Mapping[tuple[str, str], str] | None = None) -> Site:
    """The site with the code of every card of today, and how every printed card stands.

    `codes` are those of the cards, where they are known.
    """
    if codes is None:
        cards = (*site.generic, *site.tailored)
        codes = {key_of(one): code_of(one, theme, site.words, site.library.workshop, site.memory) for one in cards}
    today = _today_in(site, theme)
    return replace(site, revisions=codes, printed=tuple(standings(site.library, today)))


def printed_pages(site: Site, theme: Theme) -> Iterator[Page]:
    """A page for each code, of today and of the register."""
    found: dict[str, list[PrintedView]] = {}
    told = set()
    for one in site.printed:
        found.setdefault(one.card.revision, []).append(_of_register(one, site))
        told.add((one.card.revision, one.printed.id))
    for tailored in (*site.generic, *site.tailored):
        revision = site.revisions.get(key_of(tailored), "")
        if revision and (revision, printed_id(*key_of(tailored))) not in told:
            found.setdefault(revision, []).append(_view(tailored, _CURRENT, site))
    for revision, view in _others_of_today(site, theme):
        if not any(card.title == view.title for card in found.setdefault(revision, [])):
            found[revision].append(view)
    for revision, cards in found.items():
        title = site.words.printed_card.format(code=revision)
        shown = tuple(cards)
        make = partial(render, site, theme, paths.printed(revision), "printed.html", title, cards=shown)
        yield remembered(site, theme, ("printed", revision, shown), (), make)


def _today_in(site: Site, theme: Theme) -> FindToday:
    # Lists of tools are made with every guide for any bike, or not at all; then none needs to be worked out again.
    generic = site.generic if site.printouts.tools else None
    return today_in(site.library, theme, site.words, generic, site.memory, work=site.work, upkeeps=site.upkeeps)


def _others_of_today(site: Site, theme: Theme) -> Iterator[tuple[str, PrintedView]]:
    """The code and the view of every sheet and chart that was made with this site."""
    made, bikes = site.printouts, site.library.bikes
    others = [Printed(sort=PrintedSort.SHEET, guide=guide, bike=bike) for guide in made.sheets for bike in bikes]
    others += [Printed(sort=PrintedSort.BIKE, bike=bike) for bike in made.bikes]
    others += [Printed(sort=PrintedSort.TORQUES)] if made.torques else []
    others += [Printed(sort=PrintedSort.TOOLS)] if made.tools else []
    today = _today_in(site, theme)
    for printed in others:
        now = today(printed, ())
        if now is not None:
            card = PrintedCard(revision=now.revision, date="")
            one = PrintedStanding(printed=printed, card=card, tailored=now.tailored, standing=_CURRENT)
            yield now.revision, _of_register(one, site)


def _of_register(one: PrintedStanding, site: Site) -> PrintedView:
    printed, card = one.printed, one.card
    if one.tailored is not None:
        view = _view(one.tailored, one.standing, site)
    else:
        title, href, links = _whose(printed, site)
        view = PrintedView(
            title=title,
            date="",
            verdict=_verdict(one.standing, site.words),
            may_be_used=not one.standing.matters,
            changes=tuple(_change(change, {}, {}, site.words) for change in one.standing.changes),
            href=href,
            links=links,
        )
    if printed.sort is PrintedSort.SHEET:
        links = site.printouts.sheets.get(printed.guide, ())
        view = replace(view, title=f"{site.words.service_sheet}: {view.title}", links=links)
    return replace(view, date=card.date, reason=card.withdrawn)


def _whose(printed: Printed, site: Site) -> tuple[str, str, tuple[CardLink, ...]]:
    """What a chart is called, its page and its files of today; of a card that is not made any more only the first."""
    words, made = site.words, site.printouts
    guide, bike = site.library.guides.get(printed.guide), site.library.bikes.get(printed.bike)
    name = bike.name if bike is not None else printed.bike
    match printed.sort:
        case PrintedSort.TORQUES:
            return words.torque_chart, paths.TORQUES, made.torques
        case PrintedSort.TOOLS:
            return words.tools_workshop, paths.TOOLS, made.tools
        case PrintedSort.BIKE:
            href = paths.upkeep(printed.bike) if bike is not None else ""
            return _title(words.upkeep, name), href, made.bikes.get(printed.bike, ())
        case PrintedSort.CARD | PrintedSort.SHEET:
            return _title(guide.title if guide is not None else printed.guide, name), "", ()


def _view(tailored: Tailored, how: Standing, site: Site) -> PrintedView:
    key = key_of(tailored)
    labels = step_labels(tailored)
    texts = {step.number: step.do for step in tailored.steps}
    return PrintedView(
        title=_title(tailored.guide.title, tailored.bike.name if tailored.bike is not None else ""),
        date="",
        verdict=_verdict(how, site.words),
        may_be_used=not how.matters,
        changes=tuple(_change(change, labels, texts, site.words) for change in how.changes),
        href=paths.guide(*key) if key in site.revisions else "",
        links=site.cards.get(key, ()),
    )


def _title(guide: str, bike: str) -> str:
    return f"{guide}: {bike}" if bike else guide


def _verdict(how: Standing, words: Words) -> str:
    match how.kind:
        case PrintKind.CURRENT:
            return words.card_current
        case PrintKind.WITHDRAWN:
            return words.card_withdrawn
        case PrintKind.NO_LONGER_MADE:
            return words.card_no_longer
        case PrintKind.STALE if how.matters:
            return words.card_stale
        case PrintKind.STALE if how.changes:
            return words.card_read_again
        case PrintKind.STALE:
            return words.card_same_steps


def _change(change: Change, labels: Mapping[int, str], texts: Mapping[int, str], words: Words) -> ChangeView:
    return ChangeView(
        label=labels.get(change.number, ""),
        text=inline(texts[change.number]) if change.number else Markup("{}").format(change.step),
        what=_joined(words.card_changes[what] for what in change.what),
        torque=(change.torque_then, change.torque_now) if What.TORQUE in change.what else None,
    )


def _joined(names: Iterable[str]) -> str:
    return ", ".join(names)
