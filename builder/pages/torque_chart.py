"""The torque chart: every fastener of the catalogue for the wall, or those that one bike has; figures first."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from markupsafe import Markup

from builder.model.catalogue import Hand, Preparation
from builder.model.library import Library
from builder.model.units import Unit
from builder.pages import amounts
from builder.pages.markup import inline
from builder.pages.strings import Words
from builder.tailoring.tailored import Torque
from builder.tailoring.torques import torque_for
from builder.tailoring.upkeep import Upkeep, families_of

# What tells one end of the bike from the other in a name.
_ENDS = re.compile(r"\b(?:front|rear) ")


@dataclass(frozen=True, slots=True, kw_only=True)
class FastenerRow:
    """A fastener. `value` is empty where `feel` says how the right tightness is known; `source` is a number.

    `lead` stands in the place of a value that is empty: by feel, or by the maker's figure alone.
    `maker` says that the figure is of the part's own maker; `makers` are parts of the catalogue with such a figure.
    """

    id: str
    name: str
    count: int
    value: str
    lead: str
    feel: Markup
    maker: bool
    thread: str
    is_left: bool
    head: str
    preparation: str
    is_greased: bool
    spread: Markup
    source: int
    makers: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueChart:
    """Rows by family, and the sources of their figures in the order of their numbers."""

    families: tuple[tuple[str, tuple[FastenerRow, ...]], ...]
    sources: tuple[str, ...]

    @property
    def rows(self) -> tuple[FastenerRow, ...]:
        """Every row in its order."""
        return tuple(row for _, rows in self.families for row in rows)


def chart_of_library(library: Library, words: Words, families: Mapping[str, str] | None = None) -> TorqueChart:
    """Every fastener of the catalogue, with what its parts say of it; `families` as `families_of`, where known."""
    torques = (torque_for(fastener, None, library) for fastener in library.fasteners.values())
    return _chart(torques, library, words, _makers(library), families or families_of(library))


def _makers(library: Library) -> dict[str, list[tuple[str, str]]]:
    """The parts of the catalogue that have a figure of their own for a fastener."""
    makers: dict[str, list[tuple[str, str]]] = {}
    for part in library.parts.values():
        for name, span in part.torques_nm.items():
            makers.setdefault(name, []).append((part.name, amounts.torque(span)))
    return makers


def chart_of_bike(upkeep: Upkeep, library: Library, words: Words) -> TorqueChart:
    """The fasteners that the bike has, each with its part's own figure where there is one."""
    return _chart(upkeep.torques, library, words, {}, upkeep.families)


def chart_by_thing(library: Library, words: Words, families: Mapping[str, str] | None = None) -> TorqueChart:
    """Every fastener of the catalogue, by the thing that it is on."""
    torques = (torque_for(fastener, None, library) for fastener in library.fasteners.values())
    chart = _chart(torques, library, words, _makers(library), _things(library, families or families_of(library)))
    things = tuple((thing, tuple(_alike(rows))) for thing, rows in chart.families)
    return replace(chart, families=things)


def _alike(rows: Iterable[FastenerRow]) -> Iterator[FastenerRow]:
    """The rows, those of front and rear as one where all that is said of both is the same."""
    both: dict[FastenerRow, list[FastenerRow]] = {}
    for row in rows:
        plain = _ENDS.sub("", row.name)
        both.setdefault(replace(row, id="", name=plain), []).append(row)
    for plain_row, found in both.items():
        yield found[0] if len(found) == 1 else replace(found[0], name=plain_row.name)


def _things(library: Library, of_guides: Mapping[str, str]) -> dict[str, str]:
    """The place on the bike that each fastener is of, front and rear alike; its family where that says the same."""
    found = dict(of_guides)
    families = sorted(set(found.values()))
    for fastener in library.fasteners.values():
        if fastener.role is not None:
            thing = fastener.role.value.removeprefix("front-").removeprefix("rear-").replace("-", " ")
            found[fastener.id] = next((family for family in families if thing in family), thing)
    return found


def _chart(
    torques: Iterable[Torque],
    library: Library,
    words: Words,
    makers: Mapping[str, list[tuple[str, str]]],
    families: Mapping[str, str],
) -> TorqueChart:
    last = chr(0x10FFFF)  # what no guide tightens stands at the end
    ordered = sorted(
        torques, key=lambda one: (families.get(one.fastener.id, last), one.fastener.name.casefold(), one.fastener.id)
    )
    sources = {text: number for number, text in enumerate(dict.fromkeys(torque.source for torque in ordered), 1)}
    found = []
    for family, group in groupby(ordered, key=lambda one: families.get(one.fastener.id, words.no_guide)):
        rows = tuple(_row(one, library, words, sources, makers.get(one.fastener.id, ())) for one in group)
        found.append((family, rows))
    return TorqueChart(families=tuple(found), sources=tuple(sources))


def _row(
    torque: Torque,
    library: Library,
    words: Words,
    sources: Mapping[str, int],
    makers: Iterable[tuple[str, str]],
) -> FastenerRow:
    fastener = torque.fastener
    return FastenerRow(
        id=fastener.id,
        name=fastener.name,
        count=torque.count,
        value="" if torque.torque_nm is None else amounts.torque(torque.torque_nm),
        lead=words.maker_figure if fastener.is_makers_alone else words.by_feel,
        feel=_unbroken(fastener.feel),
        maker=torque.maker,
        thread=fastener.thread,
        is_left=fastener.hand is Hand.LEFT,
        head=library.heads[fastener.head].name,
        preparation=words.preparations[fastener.preparation],
        is_greased=fastener.preparation is Preparation.GREASED,
        spread=_unbroken(fastener.spread),
        source=sources[torque.source],
        makers=tuple(makers),
    )


def _unbroken(text: str) -> Markup:
    """A text whose figures keep their unit on their line."""
    return inline(text.replace(f" {Unit.NEWTON_METRE.value}", f"\u00a0{Unit.NEWTON_METRE.value}"))
