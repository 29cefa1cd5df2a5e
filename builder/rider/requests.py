"""A request as JSON → what it asks for, held against what can be meant; its answer as JSON."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from builder.model.facts import Role
from builder.model.guide import Guide
from builder.model.library import Library

# More than anybody tells of a bike by hand.
_LONGEST_REQUEST, _LONGEST_TEXT, _MOST_ANSWERS = 60_000, 400, 400
_NO_NAME = "My bike"

Asked = Mapping[str, Any]
Answer = dict[str, Any]
Acts = Mapping[str, Callable[[Asked], Answer]]


class BadRequest(ValueError):
    """A request that can't be meant; one clear line."""


@dataclass(frozen=True, slots=True)
class BikeTold:
    """A bike as it comes in a request."""

    name: str
    answers: Mapping[str, str]

    @property
    def id(self) -> str:
        """What its file would be called."""
        plain = unicodedata.normalize("NFKD", self.name).encode("ascii", "ignore").decode()
        return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-") or "my-bike"


def answered(request: str, acts: Acts, refusals: tuple[type[Exception], ...] = ()) -> str:
    """The answer to a request by the act that it names under `do`.

    What can't be done is told under `wrong`: a request that can't be meant, and what an act refuses in one line.
    """
    refused: tuple[type[Exception], ...] = (BadRequest, *refusals)
    try:
        asked = _read(request)
        act = acts.get(str(asked.get("do")))
        if act is None:
            raise BadRequest(f"nothing is known of doing '{str(asked.get('do'))[:40]}'")
        found = act(asked)
    except refused as error:
        found = {"wrong": str(error)}
    return json.dumps(found, ensure_ascii=False, allow_nan=False)


def _read(request: str) -> Asked:
    if len(request) > _LONGEST_REQUEST:
        raise BadRequest("this is more than anybody tells of a bike")
    try:
        asked = json.loads(request)
    except (ValueError, RecursionError):
        raise BadRequest("this can not be read") from None
    if not isinstance(asked, dict):
        raise BadRequest("this is no request")
    return asked


def guide_in(asked: Asked, library: Library) -> Guide:
    """The guide that is asked for."""
    guide = library.guides.get(str(asked.get("guide")))
    if guide is None:
        raise BadRequest("there is no such guide")
    return guide


def bike_in(asked: Asked) -> BikeTold:
    """The bike that is told of."""
    bike = asked.get("bike")
    if not isinstance(bike, dict):
        raise BadRequest("a bike is wanted")
    name = bike.get("name")
    if not isinstance(name, str) or len(name) > _LONGEST_TEXT:
        raise BadRequest("the bike's name is no text, or too long")
    return BikeTold(name=" ".join(name.split()) or _NO_NAME, answers=strings(bike.get("answers"), "answers"))


def strings(held: object, what: str) -> dict[str, str]:
    """Texts by name, in one line each; `what` they are is told where they are none."""
    if not isinstance(held, dict) or len(held) > _MOST_ANSWERS:
        raise BadRequest(f"the {what} are no answers, or too many")
    if not all(isinstance(one, str) and len(one) <= _LONGEST_TEXT for one in (*held, *held.values())):
        raise BadRequest(f"one of the {what} is no text, or too long")
    return {name: " ".join(text.split()) for name, text in held.items()}


def texts_in(asked: Asked, name: str) -> tuple[str, ...]:
    """A list of names, no longer than there are places for parts."""
    held = asked.get(name, [])
    if not isinstance(held, list) or len(held) > len(Role) or not all(isinstance(one, str) for one in held):
        raise BadRequest(f"the {name} are no list of names")
    return tuple(held)
