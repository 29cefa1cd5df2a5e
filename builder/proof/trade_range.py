"""Hold every torque against the span that the trade prints for its fastener, where no formula tells what it bears."""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.catalogue import Fastener
from builder.model.library import Library
from builder.model.position import Position
from builder.model.torque import own_figures
from builder.model.units import Range, Unit, write_range


def torques_in_trade_range(library: Library) -> tuple[Diagnostic, ...]:
    """Every typical torque outside its fastener's trade range, and every part's own figure far outside it.

    A maker may well print a figure of its own, so that one is an error only where it is less than half of the range's
    lower end or more than twice its upper end, as a slipped decimal point is; else it is told as a warning.
    """
    found: list[Diagnostic] = []
    for fastener in library.fasteners.values():
        if fastener.torque_nm is not None:
            found.extend(_typical(fastener, fastener.torque_nm))
    for part, fastener, torque in own_figures(library):
        found.extend(_maker(fastener, torque, part.places.of(f"torques.{fastener.id}")))
    return tuple(found)


def _typical(fastener: Fastener, torque: Range) -> Iterator[Diagnostic]:
    span = fastener.trade_range_nm
    if span is None:
        return
    if torque.low < span.low or torque.high > span.high:
        yield Diagnostic(
            rule="trade-range",
            message=f"{_written(torque)} for '{fastener.id}' is outside what makers print, {_written(span)}",
            at=fastener.places.of("torque"),
            hints=("correct the torque, or the trade range where you know a source",),
        )


def _maker(fastener: Fastener, torque: Range, at: Position) -> Iterator[Diagnostic]:
    span = fastener.trade_range_nm
    if span is None or (span.low <= torque.low and torque.high <= span.high):
        return
    slipped = torque.low < span.low / 2 or torque.high > span.high * 2
    yield Diagnostic(
        rule="trade-range",
        message=f"{_written(torque)} for '{fastener.id}' is outside what makers print, {_written(span)}",
        at=at,
        gravity=Gravity.ERROR if slipped else Gravity.WARNING,
        hints=("has a decimal point slipped?" if slipped else "read the maker's figure once more",),
    )


def _written(span: Range) -> str:
    return write_range(span, Unit.NEWTON_METRE, 2)
