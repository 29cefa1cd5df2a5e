"""How tight each fastener goes on this bike, and which tools reach that."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache

from builder.checks.result import Verdict
from builder.checks.wrenches import wrench_range
from builder.model.bike import Bike
from builder.model.catalogue import Fastener, Hand, Tool
from builder.model.condition import NEVER
from builder.model.deciding import decided
from builder.model.library import Library
from builder.model.paths import fact_value
from builder.model.torque import torque_of
from builder.model.units import Range, Unit, write_range
from builder.planning.attributes import cases_of
from builder.tailoring.tailored import Torque


def _owned_first(library: Library) -> tuple[Tool, ...]:
    owned = [library.tools[name] for name in library.workshop.tools if name in library.tools]
    return (*owned, *(tool for tool in library.tools.values() if tool.id not in library.workshop.tools))


def driver_for(fastener: Fastener, library: Library, *, with_torque: bool) -> Tool | None:
    """The tool that fits the fastener's head; one that a torque wrench drives where a torque is wanted."""
    fitting = [tool for tool in _owned_first(library) if fastener.head in tool.fits]
    driven = [tool for tool in fitting if tool.driven]
    plain = [tool for tool in fitting if not tool.driven]
    chosen = (driven or plain) if with_torque else (plain or driven)
    return chosen[0] if chosen else None


@cache
def reaches(wrench_nm: Range, torque_nm: Range) -> Verdict:
    """How well a torque wrench of the range `wrench_nm` reaches a fastener's torque, by the check of wrenches."""
    return wrench_range(torque_nm.low, torque_nm.high, wrench_nm.low, wrench_nm.high).verdict


def wrench_for(torque_nm: Range, library: Library) -> Tool | None:
    """A torque wrench that reaches `torque_nm` within its rated range, or else with care; the workshop's own first."""
    wrenches = [(tool, tool.torque_nm) for tool in _owned_first(library) if tool.torque_nm is not None]
    for wanted in (Verdict.FITS, Verdict.WITH_CARE):
        for tool, span in wrenches:
            if reaches(span, torque_nm) is wanted:
                return tool
    return None


@dataclass(frozen=True, slots=True)
class Figure:
    """What a bike has a say in of a torque: the figure, whose it is ('' for the typical one), how many, on carbon."""

    torque_nm: Range | None
    maker: str
    count: int
    on_carbon: bool


def figure_for(fastener: Fastener, bike: Bike | None, cases: Callable[[], Mapping[str, str]]) -> Figure:
    """What `bike` says of the torque of `fastener`; `cases` are asked for where it can clamp carbon."""
    torque_nm, maker = (fastener.torque_nm, "") if bike is None else torque_of(fastener, bike)
    may_be_carbon = bike is not None and fastener.on_carbon != NEVER
    on_carbon = may_be_carbon and decided(fastener.on_carbon, cases()) is True
    return Figure(torque_nm=torque_nm, maker=maker, count=_count(fastener, bike), on_carbon=on_carbon)


def torque_from(fastener: Fastener, figure: Figure, library: Library) -> Torque:
    """The torque of `fastener` where a bike says `figure` of it, with the tools that reach it."""
    torque_nm = figure.torque_nm
    citation = library.sources.get(fastener.source)
    return Torque(
        fastener=fastener,
        count=figure.count,
        torque_nm=torque_nm,
        maker=bool(figure.maker),
        source=figure.maker or (citation.title if citation is not None else fastener.source),
        driver=driver_for(fastener, library, with_torque=torque_nm is not None),
        wrench=None if torque_nm is None else wrench_for(torque_nm, library),
        on_carbon=figure.on_carbon,
    )


def torque_for(fastener: Fastener, bike: Bike | None, library: Library) -> Torque:
    """The torque of `fastener` on `bike`: the part's own figure where it has one, else the typical range."""
    figure = figure_for(fastener, bike, lambda: {} if bike is None else cases_of(library, bike, None))
    return torque_from(fastener, figure, library)


def _count(fastener: Fastener, bike: Bike | None) -> int:
    """How many of the fastener the bike has; the usual number where its file does not say."""
    said = fact_value(fastener.counted, bike) if fastener.counted and bike is not None else None
    return said if isinstance(said, int) and said > 0 else fastener.count


def torque_words(torque: Torque) -> str | None:
    """The torque as a text shows it, or None where the fastener is tightened by feel."""
    return None if torque.torque_nm is None else write_range(torque.torque_nm, Unit.NEWTON_METRE)


def turning(fastener: Fastener, *, tighten: bool) -> str:
    """Which way to turn, where it is not the usual way; '' where it is."""
    if fastener.hand is Hand.RIGHT:
        return ""
    return (
        f"Left-hand thread: turn anticlockwise to tighten, seen from {fastener.seen_from}."
        if tighten
        else f"Left-hand thread: turn clockwise to loosen, seen from {fastener.seen_from}."
    )
