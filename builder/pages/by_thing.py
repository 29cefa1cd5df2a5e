"""A list of jobs as somebody looks for one: by the thing that it is about, front and rear beside each other.

    Replace the pads of the front disc brake  ─►  Pads of the disc brake: replace (front, rear)
    Replace the pads of the rear disc brake

The title is the only source, so that a guide of one's own finds its place without a word more.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from builder.model.sentences import sentence

_ENDS = ("front", "rear")
_OTHER = {"front": "rear", "rear": "front"}
# What is done: a word, several joined by commas and 'and' or 'or', and a short word that belongs to the verb.
_DEED = r"[A-Z][\w-]*(?:, [\w-]+)*(?: (?:and|or) [\w-]+)?(?: (?:up|off|on))?"
_TITLE = re.compile(rf"^(?P<deed>{_DEED}) (?:(?:the|an?|its) )?(?P<thing>.+)$")
# A verb that says nothing by itself, and those whose object is parted from them.
_EMPTY, _WHOLE = frozenset({"Do"}), frozenset({"Look"})
_AND_ITS = re.compile(r"^(?P<thing>.+?) (?P<more>and \w+ its .+)$")
_WHEEL = re.compile(r" (?:of|on) the (?:front|rear) wheel$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Deed:
    """One job, or the same job in front and in the rear: what is done, and each guide's title, label and page."""

    name: str
    guides: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """What jobs are about, and the jobs."""

    name: str
    deeds: tuple[Deed, ...]


def by_thing(guides: Iterable[tuple[str, str]]) -> tuple[Thing, ...]:
    """Guides, each as title and page, under the thing that they are about, things by name."""
    known = tuple(guides)
    titles = frozenset(title for title, _ in known)
    found: dict[str, dict[str, dict[str, tuple[str, str, str]]]] = {}
    for title, href in known:
        end = _end(title, titles)
        thing, deed = _named(title, end)
        found.setdefault(thing, {}).setdefault(deed, {})[end or title] = (title, end, href)
    return tuple(
        Thing(
            name=thing,
            deeds=tuple(
                Deed(name=deed, guides=tuple(together[key] for key in sorted(together)))
                for deed, together in sorted(deeds.items())
            ),
        )
        for thing, deeds in sorted(found.items(), key=lambda pair: pair[0].casefold())
    )


def _end(title: str, titles: frozenset[str]) -> str:
    """`front` or `rear` where the same job has a guide for the other end; '' otherwise, as of a rear derailleur."""
    for end in _ENDS:
        if re.sub(rf"\b{end}\b", _OTHER[end], title) in titles - {title}:
            return end
    return ""


def _named(title: str, end: str) -> tuple[str, str]:
    """What a job is about and what is done, such as `Inner tube` and `replace`."""
    plain = title
    if end:
        plain = re.sub(rf"\b{end} ", "", _WHEEL.sub("", title) if _TITLE.match(_WHEEL.sub("", title)) else title)
    found = _TITLE.match(plain)
    if found is None or found["deed"] in _WHOLE:
        return plain, ""
    thing, deed = found["thing"], "" if found["deed"] in _EMPTY else found["deed"]
    if more := _AND_ITS.match(thing):  # a second verb comes after the thing
        thing, deed = more["thing"], f"{deed} {more['more']}"
    return sentence(thing), deed[:1].lower() + deed[1:]
