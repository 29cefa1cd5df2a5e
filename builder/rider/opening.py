"""A bike's file → the answers that would have told of the same bike, or all that is wrong with the file.

The file is read as in a workspace and goes through the same gate. It alone needs a reader of YAML, so that a browser
fetches this only when a file is opened.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import PurePosixPath

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.diagnostics.rendering import as_text
from builder.model.bike import Bike
from builder.model.library import Library
from builder.planning import wanted_parts
from builder.proof.bike_gate import gate_for_bike
from builder.rider.described import bike_of
from builder.rider.facts import CLIMB, WEAR
from builder.rider.interview import PART
from builder.rider.requests import Answer, Asked, BadRequest, BikeTold, answered
from builder.rider.talking import Talk
from builder.sources.nodes import Listing, Node, Scalar, Table
from builder.sources.text import decode
from builder.sources.workspace import read_bike
from builder.sources.yaml_tree import read_tree

# What a bike has beside its parts.
_OF_A_BIKE = ("description", "tag", "without", "measured", "rider", "climbs", "wear")


class Opening:
    """Opens files beside one library."""

    def __init__(self, library: Library) -> None:
        self._library = library

    def answer(self, request: str) -> str:
        """The answer to a request to open a file."""
        return answered(request, {"open": self.open})

    def open(self, asked: Asked) -> Answer:
        """The bike of a file by its answers and the parts of its jobs; what is wrong with it, as `check` tells it."""
        text, name = asked.get("text"), asked.get("name")
        if not isinstance(text, str) or not isinstance(name, str):
            raise BadRequest("a file and its name are wanted")
        told = BikeTold(PurePosixPath(name).stem, {})
        loaded = read_bike(text.encode("utf-8", "replace"), told.id, self._library)
        bike = next(iter(loaded.library.bikes.values()), None)
        found = loaded.diagnostics
        if bike is not None and not _errors(found):
            found = (*found, *gate_for_bike(bike, self._library))
        shown = "\n\n".join(as_text(one, loaded.texts) for one in found)
        if bike is None or _errors(found):
            return {"bike": None, "diagnostics": shown}
        root = read_tree(decode(bike.places.at.file, text.encode("utf-8", "replace"))).root
        answers = {key: said for key, said in _answers(root) if said}
        return {
            "bike": {"name": bike.name, "answers": answers, "parts": self._parts(bike)},
            "diagnostics": shown,
            "left-out": list(self._left_out(bike, answers)),
        }

    def _parts(self, bike: Bike) -> Mapping[str, Mapping[str, str]]:
        """For each job of the file, its parts by their places."""
        from_jobs: dict[str, dict[str, str]] = {}
        for job in bike.jobs:
            guide = self._library.guides.get(job.guide)
            if guide is not None:
                wanted = wanted_parts(guide, job.parts, self._library)
                from_jobs[job.guide] = {role.value: part.id for role, part in wanted.items()}
        return from_jobs

    def _left_out(self, bike: Bike, answers: Mapping[str, str]) -> Iterator[str]:
        """What of the file the answers do not tell."""
        interview, wrong = Talk(self._library).held(BikeTold(bike.name, answers))
        yield from (f"{key}: {why}" for key, why in wrong.items())
        again = bike_of(interview.facts, bike.name, bike.id)
        yield from (role.value for role in bike.parts if again.parts.get(role) != bike.parts[role])
        yield from (one for one in _OF_A_BIKE if getattr(again, one) != getattr(bike, one))


def _errors(found: tuple[Diagnostic, ...]) -> bool:
    return any(one.gravity is Gravity.ERROR for one in found)


def _answers(root: Node | None) -> Iterator[tuple[str, str]]:
    if not isinstance(root, Table):
        return
    for key, entry in root.entries.items():
        match key, entry.value:
            case "tag", Scalar(text):
                yield key, text
            case "parts", Table(parts):
                for role, part in parts.items():
                    yield from _of_part(role, part.value)
            case (("measured" | "rider"), Table(facts)):
                yield from ((f"{key}.{name}", _said(fact.value)) for name, fact in facts.items())
            case "climbs", Listing(items):
                for item in items:
                    told = _told(item)
                    yield f"{CLIMB}.{told['name']}", told["gradient"]
            case "wear", Listing(items):
                for item in items:
                    told = _told(item)
                    yield from (
                        (f"{WEAR}.{told['date']}.{name}", said) for name, said in told.items() if name != "date"
                    )
            case _:
                pass


def _of_part(role: str, part: Node) -> Iterator[tuple[str, str]]:
    if isinstance(part, Table):
        yield from ((f"{role}.{name}", _said(fact.value)) for name, fact in part.entries.items())
    else:
        yield f"{PART}{role}", _said(part)


def _told(item: Node) -> dict[str, str]:
    return {name: _said(entry.value) for name, entry in item.entries.items()} if isinstance(item, Table) else {}


def _said(value: Node) -> str:
    """A value as it is said; a part's mapping of names to values can't be told so, and is missed afterwards."""
    match value:
        case Scalar(text):
            return " ".join(text.split())
        case Listing(items):
            return ", ".join(_said(item) for item in items)
        case Table():
            return ""
