"""The wear book of a bike: what was measured of each part that wears, its limit, and when the limit will be reached."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta

from builder.checks.brake_wear import TYPICAL_ROTOR_MM, typical_pad_mm
from builder.checks.chain_wear import NARROW_SPEEDS, wear_limit_percent
from builder.checks.trend import fit
from builder.model.bike import Bike, Wearing, WearReading
from builder.model.facts import BrakeKind, Role
from builder.model.parts import Brake, Cassette, Pads, Rotor
from builder.model.units import Measure, Unit

_USUAL_CHAIN_PERCENT, _USUAL_THICKNESS_MM = 0.05, 0.03


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """Where a part is replaced, in the unit of its readings; `marked` where its maker says so, else it is typical."""

    value: float
    marked: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A straight line's answer with its 95 % span: the likeliest, the least and the most; None where that is open."""

    likeliest: float
    least: float | None
    most: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wear:
    """What the book says of one part, since that part was new.

    `days` count from the first reading, whose date is `first`; `values` are in `unit`. `reached` is on which of these
    days the limit is met, `left_km` how far from the last reading; both are None where too little is known, or where
    the line does not lead there. `error` is the standard error of one reading.
    """

    wearing: Wearing
    unit: Unit
    first: date
    days: tuple[int, ...]
    values: tuple[float, ...]
    limit: Limit | None
    error: float
    reached: Span | None
    left_km: Span | None

    @property
    def is_over(self) -> bool:
        """Whether the last reading is at the limit or beyond it."""
        if self.limit is None:
            return False
        last = self.values[-1]
        return last >= self.limit.value if self.unit is Unit.PERCENT else last <= self.limit.value

    def on(self, day: float) -> date:
        """The date of a day of this book."""
        return self.first + timedelta(days=round(day))


def wear_of(bike: Bike) -> tuple[Wear, ...]:
    """The wear book of `bike`, one record for each part that was measured, in the order of the workshop's round."""
    found = (_wear(bike, wearing) for wearing in Wearing)
    return tuple(record for record in found if record is not None)


def _wear(bike: Bike, wearing: Wearing) -> Wear | None:
    entries = _since_new(bike.wear, wearing)
    readings = [(entry, measure) for entry in entries if (measure := entry.of(wearing)) is not None]
    if not readings:
        return None
    first = date.fromisoformat(readings[0][0].date)
    days = tuple((date.fromisoformat(entry.date) - first).days for entry, _ in readings)
    values = tuple(measure.value for _, measure in readings)
    driven = [(entry.distance_km, measure.value) for entry, measure in readings if entry.distance_km is not None]
    limit = _limit(bike, wearing)
    unit = Unit.PERCENT if wearing is Wearing.CHAIN else Unit.MILLIMETRE
    error = _error(tuple(measure for _, measure in readings), unit)
    return Wear(
        wearing=wearing,
        unit=unit,
        first=first,
        days=days,
        values=values,
        limit=limit,
        error=error,
        reached=_ahead(days, values, limit, unit, error),
        left_km=_left(driven, limit, unit, error),
    )


def _since_new(entries: tuple[WearReading, ...], wearing: Wearing) -> tuple[WearReading, ...]:
    """The entries from the last day on which the part was new."""
    start = max((number for number, entry in enumerate(entries) if wearing in entry.renewed), default=0)
    return entries[start:]


def _limit(bike: Bike, wearing: Wearing) -> Limit | None:
    """Where the part is replaced; None for a tread, whose indicator only its maker knows.

    Source: the part's own mark; where there is none, the typical values of the checks `chain-wear`, `rotor-wear` and
    `pad-wear`, common practice.
    """
    match wearing:
        case Wearing.CHAIN:
            cassette = bike.part(Role.CASSETTE)
            speeds = len(cassette.sprockets) if isinstance(cassette, Cassette) and cassette.sprockets else NARROW_SPEEDS
            return Limit(value=wear_limit_percent(speeds), marked=False)
        case Wearing.FRONT_ROTOR | Wearing.REAR_ROTOR:
            rotor = bike.part(Role(wearing.value))
            marked = rotor.least_thickness_mm if isinstance(rotor, Rotor) else None
            return Limit(value=TYPICAL_ROTOR_MM if marked is None else marked, marked=marked is not None)
        case Wearing.FRONT_PADS | Wearing.REAR_PADS:
            pads = bike.part(Role(wearing.value))
            marked = pads.least_thickness_mm if isinstance(pads, Pads) else None
            if marked is not None:
                return Limit(value=marked, marked=True)
            brake = bike.part(Role.FRONT_BRAKE if wearing is Wearing.FRONT_PADS else Role.REAR_BRAKE)
            kind = brake.brake_kind if isinstance(brake, Brake) else None
            match kind:
                case BrakeKind.DISC | BrakeKind.RIM:
                    return Limit(value=typical_pad_mm(kind), marked=False)
                case _:
                    return None
        case Wearing.FRONT_TREAD | Wearing.REAR_TREAD:
            return None


def _error(measures: tuple[Measure, ...], unit: Unit) -> float:
    """The standard error of one reading.

    A reading lies anywhere within its tolerance, so that its standard error is that over √3 (JCGM 100:2008, 4.3.7;
    from memory). Where the book gives no tolerance: a rule reads 24 links to about 0.15 mm, which is 0.05 %, and
    calipers a pad or a rotor to 0.03 mm; common practice, no source.
    """
    usual = _USUAL_CHAIN_PERCENT if unit is Unit.PERCENT else _USUAL_THICKNESS_MM
    return max(measure.tolerance or usual for measure in measures) / math.sqrt(3)


def _left(driven: list[tuple[float, float]], limit: Limit | None, unit: Unit, error: float) -> Span | None:
    """How far the part still goes [km] after the last reading that has a distance."""
    if len({distance for distance, _ in driven}) < len(driven):
        return None
    distances, values = tuple(distance for distance, _ in driven), tuple(value for _, value in driven)
    span = _ahead(distances, values, limit, unit, error)
    if span is None:
        return None
    last = distances[-1]
    return Span(
        likeliest=span.likeliest - last,
        least=None if span.least is None else max(0.0, span.least - last),
        most=None if span.most is None else span.most - last,
    )


def _ahead(
    x: tuple[float, ...], values: tuple[float, ...], limit: Limit | None, unit: Unit, error: float
) -> Span | None:
    """Where along `x` the straight line through the readings meets the limit.

    None where there is no line, where it runs the wrong way, or where it would have to be trusted too far ahead.
    """
    if limit is None or len(x) < 2:
        return None
    trend = fit(x, values, error)
    meets = trend.foreseen(limit.value, x[0], x[-1], grows=unit is Unit.PERCENT)
    if meets is None:
        return None
    least, most = trend.window(limit.value)
    return Span(likeliest=meets, least=least, most=most)
