"""A tailored guide as data for machines that read pages: a HowTo in the vocabulary of schema.org, as JSON-LD."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator
from functools import partial
from typing import Any

from markupsafe import Markup

from builder.model.once import Once
from builder.pages import amounts, paths
from builder.pages.labels import section_letters, stretch_letters
from builder.pages.strings import Words
from builder.tailoring.tailored import LaidOut, ShownStep, Tailored

Data = dict[str, Any]
# How the address of a step begins where that of its page is not known.
_ADDRESS = '"url":"#'

_EMPHASIS = re.compile(r"[*_`]+")


def how_to(tailored: Tailored, words: Words, address: str = "") -> Data:
    """The guide as a HowTo: its times, tools and supplies, and each section with its steps.

    A caution stands as a tip ahead of the direction that it is about. Addresses are those under which the site is
    published, or else relative to the page.
    """
    page = _page(tailored, address)
    sections = [_section(*one, page) for one in _stretches(tailored, words)]
    return {**_about(tailored, words, page), "step": sections}


def script_of(tailored: Tailored, words: Words, address: str, views: Once) -> Markup:
    """The guide as a HowTo within a script element; `views` are those of what guides have alike."""
    page = _page(tailored, address)
    about = str(as_script(_about(tailored, words, page)))
    written = [
        views.of(("how to", *one[:3], *map(id, one[3])), partial(_written, *one), one)
        for one in _stretches(tailored, words)
    ]
    # A quotation mark within a text has a stroke before it, so that this is found in no text.
    sections = ",".join(written).replace(_ADDRESS, _ADDRESS[:-1] + str(as_script(page))[1:-1] + "#")
    return Markup(f'{about[:-1]},"step":[{sections}]}}')


def _written(letter: str, title: str, number: int, steps: tuple[ShownStep, ...]) -> Markup:
    return as_script(_section(letter, title, number, steps, ""))


def _page(tailored: Tailored, address: str) -> str:
    return f"{address}/{paths.of_tailored(tailored)}" if address else ""


def _stretches(tailored: Tailored, words: Words) -> Iterator[tuple[str, str, int, tuple[ShownStep, ...]]]:
    """The letter, the title and the place of each stretch that has steps, with them."""
    finish, test = stretch_letters(tailored)
    sections = [
        (letter, section.title, section.steps)
        for letter, section in zip(section_letters(tailored), tailored.sections, strict=True)
    ]
    sections += [(finish, words.finish, tailored.finish), (test, words.test, tailored.test)]
    for number, (letter, title, steps) in enumerate((one for one in sections if one[2]), 1):
        yield letter, title, number, steps


def _section(letter: str, title: str, number: int, steps: tuple[ShownStep, ...], page: str) -> Data:
    return {
        "@type": "HowToSection",
        "name": f"{letter} {title}",
        "position": number,
        "itemListElement": [_step(step, f"{letter}{at}", page) for at, step in enumerate(steps, 1)],
    }


def _about(tailored: Tailored, words: Words, page: str) -> Data:
    guide = tailored.guide
    dates = [revision.date for revision in guide.revisions]
    return {
        "@context": "https://schema.org",
        "@type": "HowTo",
        "name": guide.title if tailored.bike is None else f"{guide.title}: {tailored.bike.name}",
        "description": _plain(tailored.purpose),
        "inLanguage": words.language,
        **({"url": page} if page else {}),
        **({"datePublished": min(dates), "dateModified": max(dates)} if dates else {}),
        "prepTime": amounts.duration(guide.prepare_time_min),
        "performTime": amounts.duration(guide.work_time_min),
        "totalTime": amounts.duration(guide.prepare_time_min + guide.work_time_min),
        "tool": _items("HowToTool", tailored.tools),
        "supply": _items("HowToSupply", (*tailored.parts, *tailored.consumables)),
    }


def as_script(data: Data | str) -> Markup:
    """The data as the inside of a script element: no text in it can end the element."""
    written = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    for sign in "<>&":
        written = written.replace(sign, f"\\u{ord(sign):04x}")
    return Markup(written)


def _step(step: ShownStep, label: str, page: str) -> Data:
    tips = [{"@type": "HowToTip", "text": f"{shown.word.value}: {_plain(shown.text)}"} for shown in step.cautions]
    told = " ".join(
        _plain(text) for text in (step.condition, step.do, *(do for do, _ in step.choose), step.turning) if text
    )
    directions: list[Data] = [*tips, {"@type": "HowToDirection", "text": told}]
    if step.prove:
        directions.append({"@type": "HowToTip", "text": _plain(step.prove)})
    return {
        "@type": "HowToStep",
        "name": label,
        "position": step.number,
        "url": f"{page}#step-{step.number}",
        "itemListElement": [{**one, "position": number} for number, one in enumerate(directions, 1)],
    }


def _items(kind: str, items: Iterable[LaidOut]) -> list[Data]:
    return [
        {"@type": kind, "name": item.name, **({"requiredQuantity": item.quantity} if item.quantity > 1 else {})}
        for item in items
    ]


def _plain(text: str) -> str:
    return _EMPHASIS.sub("", text)
