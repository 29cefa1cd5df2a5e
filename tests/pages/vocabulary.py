"""The vocabulary of schema.org, from its own file: which type has which property, and what a property may hold."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

FILE = Path(__file__).parents[1] / "vendor" / "schemaorg-howto.jsonld"
# How the values of the vocabulary's own types are written in JSON (ISO 8601 for times).
_WRITTEN: Mapping[str, re.Pattern[str]] = {
    "Text": re.compile(r"(?s).+"),
    "URL": re.compile(r"(?:https?://\S+|#\S+)"),
    "Date": re.compile(r"\d{4}-\d\d-\d\d"),
    "Duration": re.compile(r"P(?=T?\d)(?:T(?:\d+H)?(?:\d+M)?)"),
}


@cache
def _nodes() -> Mapping[str, Mapping[str, Any]]:
    graph = json.loads(FILE.read_text(encoding="utf-8"))["@graph"]
    return {node["@id"].removeprefix("schema:"): node for node in graph}


def _names(node: Mapping[str, Any], key: str) -> tuple[str, ...]:
    found = node.get(key, [])
    return tuple(one["@id"].removeprefix("schema:") for one in (found if isinstance(found, list) else [found]))


@cache
def kinds(kind: str) -> frozenset[str]:
    """A type and every type above it."""
    above = (name for name in _names(_nodes()[kind], "rdfs:subClassOf") if name in _nodes())
    return frozenset({kind}).union(*(kinds(one) for one in above))


def wrong(data: Any, where: str = "") -> Iterator[str]:
    """Everything in the data that the vocabulary does not know, or that stands where it may not."""
    kind = data["@type"]
    if kind not in _nodes():
        yield f"{where}: no type {kind}"
        return
    for name, value in data.items():
        if name.startswith("@"):
            continue
        at, node = f"{where}/{kind}.{name}", _nodes().get(name)
        if node is None or not kinds(kind) & set(_names(node, "schema:domainIncludes")):
            yield f"{at}: {kind} has no such property"
        elif "schema:supersededBy" in node:
            yield f"{at}: superseded"
        else:
            for one in value if isinstance(value, list) else [value]:
                if isinstance(one, dict):
                    yield from wrong(one, at)
                if not _may_be(one, _names(node, "schema:rangeIncludes")):
                    yield f"{at}: may not be {one!r}"


def _may_be(value: Any, allowed: tuple[str, ...]) -> bool:
    match value:
        case dict():
            return value["@type"] in _nodes() and bool(kinds(value["@type"]) & set(allowed))
        case bool():
            return False
        case int() | float():
            return bool({"Integer", "Number"} & set(allowed))
        case str():
            # Text is what is left: a URL, a date or a duration must be one where nothing else is allowed.
            return any(name in _WRITTEN and _WRITTEN[name].fullmatch(value) for name in allowed)
        case _:
            return False
