"""Look a fact up on a bike: its value, or why there is none and what to ask for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from builder.checks.result import Given
from builder.model.bike import MEASURED_ON, Bike
from builder.model.facts import Role
from builder.model.fields import WHERE, Fact
from builder.model.paths import FASTENER, MEASURED, WORKED_OUT, Unknown, fact_value, role_of
from builder.model.torque import torque_of
from builder.model.units import Measure
from builder.planning.fitting import Fitting
from builder.planning.worked_out import WORKED_OUT as WORKED_OUT_FACTS


@dataclass(frozen=True, slots=True)
class Known:
    """The value of a fact, as a check takes it; several where the fact is a row and one of it will do."""

    values: tuple[Given, ...]


@dataclass(frozen=True, slots=True)
class NotKnown:
    """Nobody has said it: the paths to ask for."""

    paths: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NoPart:
    """The bike has no such part."""


Found = Known | NotKnown | NoPart


def look_up(fact: Fact, where: str, fitting: Fitting, *, many: bool = False) -> Found:
    """What is known of `fact` at an end or a joint.

    Args:
        fact: the fact.
        where: the end or the joint; empty where there is one of it.
        fitting: the bike with the parts that are tried on.
        many: whether a row is wanted whole; else each value of it is an answer of its own.
    """
    path = fact.at(where)
    if path == WHERE:
        return Known((where,))
    bike = fitting.found if fact.before else fitting.bike
    place, _, name = path.partition(".")
    if place == WORKED_OUT:
        value: object = WORKED_OUT_FACTS[name].work(fitting)
        if value is None:
            return NotKnown(tuple(_to_ask(name, bike)))
    elif place == FASTENER:
        value = _of_fastener(name, fitting)
        if value is None or value == "":
            return NotKnown((path,))
    else:
        value = fact_value(path, bike)
        if value is Unknown.NO_PART:
            return NoPart()
        if value is Unknown.NOT_KNOWN:
            return NotKnown((path,))
    if fact.by is not None:
        value = fact.by(value)
        if value is None:
            return NotKnown((path,))
    if isinstance(value, tuple):
        row = tuple(_plain(one) for one in value)
        return Known((row,)) if many else Known(row)  # type: ignore[arg-type]
    return Known((_plain(value),))


def word_of(path: str, where: str, fitting: Fitting) -> str | None:
    """The word of a set that `path` has on the bike; '' where there is no such part, None where not known.

    A standard of a workshop's own counts as what it is like.
    """
    match look_up(Fact(path), where, fitting):
        case Known(values):
            word = str(values[0])
            own = fitting.standards.get(word)
            return own.like if own is not None and own.like else word
        case NoPart():
            return ""
        case NotKnown():
            return None


def roles_of_fact(fact: Fact, where: str) -> Iterator[Role]:
    """The places whose parts the fact hangs on."""
    path = fact.at(where)
    place, _, name = path.partition(".")
    if place == WORKED_OUT:
        for made_from in WORKED_OUT_FACTS[name].made_from:
            yield from roles_of_fact(Fact(made_from), where)
    elif place == MEASURED:
        yield from MEASURED_ON.get(name, ())
    elif place != FASTENER and (role := role_of(path)) is not None:
        yield role


def never_assumed(fact: Fact) -> bool:
    """Whether the default of a check must not stand for the fact in silence."""
    place, _, name = fact.path.partition(".")
    return place == WORKED_OUT and WORKED_OUT_FACTS[name].never_assumed


def _of_fastener(name: str, fitting: Fitting) -> object:
    """A fact of the fastener that is asked about; its torque is the one that applies on this bike."""
    if fitting.fastener is None:
        return None
    torque_nm, _ = torque_of(fitting.fastener, fitting.bike)
    match name:
        case "torque-low":
            return None if torque_nm is None else torque_nm.low
        case "torque-high":
            return None if torque_nm is None else torque_nm.high
        case "torque":
            return None if torque_nm is None else torque_nm.middle
        case _:
            return getattr(fitting.fastener, name.replace("-", "_"), None)


def _to_ask(name: str, bike: Bike) -> Iterator[str]:
    for group in WORKED_OUT_FACTS[name].asks:
        unknown = (path for path in group if fact_value(path, bike) is Unknown.NOT_KNOWN)
        first = next(unknown, None)
        if first is not None:
            yield first


def _plain(value: object) -> Given:
    """A fact's value as a check takes it: the word of a closed set, a number, a measure, a text."""
    if isinstance(value, Enum):
        return str(value.value)
    assert isinstance(value, Measure | int | float | str)
    return value
