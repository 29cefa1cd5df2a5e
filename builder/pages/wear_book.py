"""The wear book on a bike's page: each part's trend drawn against its limit, and what that comes to in words."""

from __future__ import annotations

from dataclasses import dataclass

from builder.drawings.drawing_kind import Number
from builder.drawings.registry import draw
from builder.model.bike import Bike, Wearing
from builder.model.facts import Role
from builder.model.units import Unit, write_number, write_quantity
from builder.pages.figures import FigureView, view_of
from builder.pages.strings import Words
from builder.planning.wear import Span, Wear, wear_of

_NEAREST_KM = 50
# Where a span reaches so many times as far as the likeliest day, its far end says nothing that one could plan by.
_TELLING = 6
_PLACES = {
    Wearing.CHAIN: Role.CHAIN,
    Wearing.FRONT_ROTOR: Role.FRONT_ROTOR,
    Wearing.REAR_ROTOR: Role.REAR_ROTOR,
    Wearing.FRONT_PADS: Role.FRONT_PADS,
    Wearing.REAR_PADS: Role.REAR_PADS,
    Wearing.FRONT_TREAD: Role.FRONT_TYRE,
    Wearing.REAR_TREAD: Role.REAR_TYRE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class WearView:
    """One part of the wear book: its name, sentences in their order, and the trend where there are two readings."""

    name: str
    sentences: tuple[str, ...]
    figure: FigureView | None
    is_over: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """A part that the wear book says is worn or will be: where it is on the bike, and how soon in a few words."""

    place: Role
    name: str
    when: str
    is_over: bool

    @property
    def short(self) -> str:
        """Part and time in one breath."""
        return f"{self.name}: {self.when}"


def due_of(bike: Bike, words: Words) -> tuple[Due, ...]:
    """What is due on `bike`, the soonest first; a part that has no limit or no pace yet is left out."""
    found = []
    for record in wear_of(bike):
        name = words.wearing_short[record.wearing]
        if record.is_over:
            found.append(
                (record.first.min, Due(place=_PLACES[record.wearing], name=name, when=words.due_now, is_over=True))
            )
        elif record.reached is not None:
            day = record.on(record.reached.likeliest)
            when = words.due_about.format(date=day.isoformat())
            found.append((day, Due(place=_PLACES[record.wearing], name=name, when=when, is_over=False)))
    return tuple(due for _, due in sorted(found, key=lambda pair: pair[0]))


def wear_views(bike: Bike, words: Words) -> tuple[WearView, ...]:
    """Every part that the wear book of `bike` follows."""
    return tuple(_view(record, words) for record in wear_of(bike))


def _view(record: Wear, words: Words) -> WearView:
    return WearView(
        name=words.wearing[record.wearing],
        sentences=tuple(_sentences(record, words)),
        figure=_figure(record),
        is_over=record.is_over,
    )


def _sentences(record: Wear, words: Words) -> list[str]:
    last = _written(record.values[-1], record.unit)
    found = [words.wear_last.format(value=last, date=record.on(record.days[-1]).isoformat())]
    if record.limit is None:
        return [*found, words.wear_no_limit]
    limit = words.wear_limit_marked if record.limit.marked else words.wear_limit_typical
    found.append(limit.format(value=_written(record.limit.value, record.unit)))
    if record.is_over:
        return [*found, words.wear_over]
    if len(record.values) == 1:
        return [*found, words.wear_once]
    if record.reached is None:
        return [*found, words.wear_far]
    found.append(_when(record, record.reached, words))
    if record.left_km is not None:
        found.append(_how_far(record.left_km, words))
    return found


def _when(record: Wear, reached: Span, words: Words) -> str:
    about = record.on(reached.likeliest).isoformat()
    if len(record.values) == 2:
        return words.wear_reached_twice.format(date=about)
    # A limit that the readings may have met already is near, whatever the far end of its span says.
    early = reached.least if reached.least is not None and reached.least > record.days[-1] else None
    start = words.wear_now if early is None else record.on(early).isoformat()
    last = record.days[-1]
    if reached.most is None or reached.most - last > _TELLING * (reached.likeliest - last):
        return words.wear_reached_open.format(date=about, start=start)
    return words.wear_reached.format(date=about, start=start, end=record.on(reached.most).isoformat())


def _how_far(left: Span, words: Words) -> str:
    about = _km(left.likeliest)
    if left.least is None or left.most is None:
        return words.wear_left.format(distance=about)
    return words.wear_left_between.format(distance=about, least=_km(left.least), most=_km(left.most))


def _km(distance_km: float) -> str:
    """A distance rounded to what such a forecast can bear."""
    return write_quantity(_NEAREST_KM * round(distance_km / _NEAREST_KM), Unit.KILOMETRE, 0)


def _written(value: float, unit: Unit) -> str:
    return write_quantity(value, unit, 2)


def _figure(record: Wear) -> FigureView | None:
    if record.limit is None or len(record.days) < 2:
        return None
    numbers: dict[str, Number] = {
        "days": ",".join(str(day) for day in record.days),
        "values": ",".join(write_number(value, 3) for value in record.values),
        "limit": record.limit.value,
        "unit": record.unit.value,
        "error": record.error,
        "first": record.first.isoformat(),
    }
    return view_of(draw("wear-trend", numbers), f"wear-{record.wearing.value}")
