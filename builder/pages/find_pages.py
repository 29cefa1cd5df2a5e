"""Pages to find things by: the lists and codes for a reader without the script, and faults by what is seen or heard."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from markupsafe import Markup

from builder.pages import paths
from builder.pages.contents import Page, Site
from builder.pages.markup import inline
from builder.pages.parts import CODES, in_parts
from builder.pages.printed_page import key_of
from builder.pages.rendering import render
from builder.pages.theme import Theme


@dataclass(frozen=True, slots=True, kw_only=True)
class CauseView:
    """What may be behind a fault, what to do, and the guides that say so."""

    cause: Markup
    remedy: Markup
    guides: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SymptomView:
    """What is seen, heard or felt, with everything that may be behind it."""

    symptom: Markup
    causes: tuple[CauseView, ...]


def find_pages(site: Site, theme: Theme) -> Iterator[Page]:
    """The page that the field for finding leads to: what it found, and without the script the lists.

    The codes of a large fleet's cards go on on further pages.
    """
    codes = sorted(
        (
            f"{item.code} {site.revisions.get(key_of(item), '')}".strip(),
            item.guide.title if item.bike is None else f"{item.guide.title}: {item.bike.name}",
            paths.of_tailored(item),
        )
        for item in (*site.generic, *site.tailored)
    )
    for part, some in in_parts(paths.FIND, codes, CODES):
        yield render(site, theme, part.path, "find.html", site.words.find, codes=some, part=part)


def wrong_page(site: Site, theme: Theme) -> Page:
    """Every row of every fault table, by family and by what is seen; what several guides say alike is said once."""
    families: dict[str, dict[str, dict[tuple[str, str], list[tuple[str, str]]]]] = {}
    for tailored in site.generic:
        symptoms = families.setdefault(tailored.guide.family, {})
        for number, fault in enumerate(tailored.faults, 1):
            place = (tailored.guide.title, f"{paths.of_tailored(tailored)}#fault-{number}")
            symptoms.setdefault(fault.symptom, {}).setdefault((fault.cause, fault.remedy), []).append(place)
    shown = tuple(
        (
            family,
            tuple(
                SymptomView(
                    symptom=inline(symptom),
                    causes=tuple(
                        CauseView(cause=inline(cause), remedy=inline(remedy), guides=tuple(guides))
                        for (cause, remedy), guides in causes.items()
                    ),
                )
                for symptom, causes in sorted(symptoms.items())
            ),
        )
        for family, symptoms in sorted(families.items())
        if symptoms
    )
    return render(site, theme, paths.WRONG, "wrong.html", site.words.wrong, families=shown)
