"""A tailored guide as data for machines that read pages: a HowTo in the vocabulary of schema.org, as JSON-LD."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from typing import Any

from markupsafe import Markup

from builder.pages import amounts, paths
from builder.pages.labels import section_letters, step_labels, stretch_letters
from builder.pages.strings import Words
from builder.tailoring.tailored import LaidOut, ShownStep, Tailored

Data = dict[str, Any]

_EMPHASIS = re.compile(r"[*_`]+")


def how_to(tailored: Tailored, words: Words, address: str = "") -> Data:
    """The guide as a HowTo: its times, tools and supplies, and each section with its steps.

    A caution stands as a tip ahead of the direction that it is about. Addresses are those under which the site is
    published, or else relative to the page.
    """
    guide = tailored.guide
    page = f"{address}/{paths.of_tailored(tailored)}" if address else ""
    labels = step_labels(tailored)
    finish, test = stretch_letters(tailored)
    sections = [
        (letter, section.title, section.steps)
        for letter, section in zip(section_letters(tailored), tailored.sections, strict=True)
    ]
    sections += [(finish, words.finish, tailored.finish), (test, words.test, tailored.test)]
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
        "step": [
            {
                "@type": "HowToSection",
                "name": f"{letter} {title}",
                "position": number,
                "itemListElement": [_step(step, labels[step.number], page) for step in steps],
            }
            for number, (letter, title, steps) in enumerate((one for one in sections if one[2]), 1)
        ],
    }


def as_script(data: Data) -> Markup:
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
