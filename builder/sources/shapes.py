"""What a field of a record may hold, worked out from its type: the one place that knows how records are written.

A YAML key is the field's name without its unit and with hyphens: `chainstay_mm` → `chainstay`. Everything that reads,
explains or describes sources goes by these shapes, so that a new field in the model needs no change elsewhere.
"""

from __future__ import annotations

import dataclasses
import functools
import re
import types
import typing
from collections import Counter
from collections.abc import Container, Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Annotated, Any

from builder.model.condition import Condition
from builder.model.declared import annotations_of
from builder.model.facts import Role, StandardSet
from builder.model.fields import UNIT_SUFFIX, Bounds, In, OpenTo, Prose, Ref
from builder.model.guide import Step, Use
from builder.model.parts import KINDS, Part, kind_of
from builder.model.units import Measure, Range, Unit

# Names are lower-case words joined by hyphens; a value's name may have several such parts joined by dots.
KEBAB = r"[a-z0-9]+(?:-[a-z0-9]+)*"
DOTTED = rf"{KEBAB}(?:\.{KEBAB})*"

# What stands in a role where the bike has no such part.
NO_PART = "none"

# Two neighbours on a cassette differ by no more teeth (our own guard rail; common practice, no source).
MOST_BETWEEN_TWO = 10

# The greatest value of each kind that a source can mean; what is beyond it is a slip of the unit or of the point.
# Our own guard rails, wider than anything on a bicycle.
GREATEST: Mapping[Unit, float] = {
    Unit.MILLIMETRE: 5_000,
    Unit.NEWTON_METRE: 300,
    Unit.BAR: 30,
    Unit.KILOGRAM: 300,
    Unit.WATT: 2_000,
    Unit.MINUTE: 10_000,
    Unit.PERCENT: 100,
    Unit.DEGREE: 360,
    Unit.PER_MINUTE: 300,
    Unit.KILOMETRE: 1_000_000,
    Unit.MONEY: 100_000,
}


@dataclass(frozen=True, slots=True)
class Text:
    """Text. `collection` is where the name that it holds is looked up; `prose` may show `{{ values }}`."""

    prose: bool = False
    collection: str = ""
    date: bool = False


@dataclass(frozen=True, slots=True)
class Truth:
    """`true` or `false`."""


@dataclass(frozen=True, slots=True)
class Number:
    """A bare number, `whole` or not, within its ends."""

    whole: bool
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit: a plain value, one with a tolerance (`Measure`) or a span (`Range`)."""

    kind: type[float] | type[Measure] | type[Range]
    unit: Unit
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class OneOf:
    """One word of a closed set."""

    choices: type[Enum]


@dataclass(frozen=True, slots=True)
class StandardOf:
    """One word of a set of standards, or a workshop's own that the catalogue adds to it."""

    of: StandardSet


@dataclass(frozen=True, slots=True)
class Many:
    """A list."""

    item: Shape


@dataclass(frozen=True, slots=True)
class Keyed:
    """A mapping from names to values. `collection` is where the names are looked up, empty where they are free."""

    collection: str
    value: Shape


@dataclass(frozen=True, slots=True)
class Record:
    """A record, or one of several kinds of record."""

    kinds: tuple[type, ...]


@dataclass(frozen=True, slots=True)
class When:
    """A condition."""


@dataclass(frozen=True, slots=True)
class PartsByRole:
    """A bike's parts: for each role the id of a part, the part itself, or `none`."""


Shape = Text | Truth | Number | Quantity | OneOf | StandardOf | Many | Keyed | Record | When | PartsByRole


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a record as it is written."""

    name: str
    key: str
    shape: Shape
    required: bool


@functools.cache
def fields_of(record: type) -> tuple[Field, ...]:
    """The fields of a record that are written, in their order.

    An id is the key above the record or the name of its file, except for a step; places are where it was written; the
    roles that a bike does without are written among its parts. Where two fields would share a key, both keep their
    units in it.
    """
    hints = annotations_of(record)
    unwritten = {"places"} if record is Step else {"places", "id"}
    if Mapping[Role, Part] in hints.values():
        unwritten.add("without")
    written = [field for field in dataclasses.fields(record) if field.name not in unwritten]
    keys = Counter(key_of(field.name, hints[field.name]) for field in written)
    found = []
    for field in written:
        hint = hints[field.name]
        key = key_of(field.name, hint)
        if keys[key] > 1:
            key = field.name.replace("_", "-")
        shape = shape_of(hint)
        if field.name == "date" and isinstance(shape, Text):
            shape = Text(date=True)
        found.append(Field(field.name, key, shape, _required(field)))
    return tuple(found)


def has_places(record: type) -> bool:
    """Whether the record keeps the places of its values."""
    return any(field.name == "places" for field in dataclasses.fields(record))


def key_of(name: str, hint: Any) -> str:
    """The YAML key of a field: `chainstay_mm` → `chainstay`."""
    for marker in _markers(hint):
        if isinstance(marker, In):
            name = name.removesuffix(UNIT_SUFFIX.get(marker.unit, ""))
    return name.rstrip("_").replace("_", "-")


def words_of(record: type) -> str:
    """The name of a kind of record in words: `RearDerailleur` → `rear derailleur`."""
    return re.sub(r"(?<!^)(?=[A-Z])", " ", record.__name__).lower()


def shape_of(hint: Any) -> Shape:
    """The shape of a type.

    Raises:
        TypeError: a type that no source can hold; the model and this module must agree.
    """
    if hint == Condition:
        return When()
    if hint == Mapping[Role, Part]:
        return PartsByRole()
    origin, arguments = typing.get_origin(hint), typing.get_args(hint)
    if origin is Annotated:
        return _marked(arguments[0], arguments[1:])
    if origin in (typing.Union, types.UnionType):
        options = tuple(option for option in arguments if option is not type(None))
        return shape_of(options[0]) if len(options) == 1 else Record(options)
    if origin is tuple:
        return Many(shape_of(arguments[0]))
    if origin is Mapping or getattr(origin, "__name__", "") == "Mapping":
        key = shape_of(arguments[0])
        return Keyed(key.collection if isinstance(key, Text) else "", shape_of(arguments[1]))
    if isinstance(hint, type):
        if issubclass(hint, Enum):
            return OneOf(hint)
        if dataclasses.is_dataclass(hint):
            return Record((hint,))
    return _marked(hint, ())


def kind_among(kinds: tuple[type, ...], written: object) -> type:
    """Which of the kinds of record is written: keys with `use` among them place a procedure, any others are a step."""
    if len(kinds) == 1:
        return kinds[0]
    uses = isinstance(written, Container) and "use" in written
    return next(kind for kind in kinds if (kind is Use) == uses)


def kind_for(role: Role) -> type:
    """The kind of part that fills `role`."""
    return KINDS[kind_of(role)]


def _marked(base: Any, markers: tuple[Any, ...]) -> Shape:
    bounds = next((marker for marker in markers if isinstance(marker, Bounds)), None)
    unit = next((marker.unit for marker in markers if isinstance(marker, In)), None)
    if unit is not None:
        low, high = (bounds.low, bounds.high) if bounds else (0.0, GREATEST.get(unit, 1e9))
        return Quantity(base, unit, low, high)
    if base is bool:
        return Truth()
    if base in (int, float):
        low, high = (bounds.low, bounds.high) if bounds else (0.0, 1e6)
        return Number(base is int, low, high)
    if base is str:
        for marker in markers:
            if isinstance(marker, OpenTo):
                return StandardOf(marker.of)
        reference = next((marker.collection for marker in markers if isinstance(marker, Ref)), "")
        return Text(any(isinstance(marker, Prose) for marker in markers), reference)
    if markers:
        return shape_of(base)
    raise TypeError(f"no source can hold {base!r}")


def _required(field: dataclasses.Field[Any]) -> bool:
    return field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING


def _markers(hint: Any) -> list[Any]:
    """Every marker anywhere in a type."""
    found: list[Any] = []
    if typing.get_origin(hint) is Annotated:
        found.extend(typing.get_args(hint)[1:])
    for argument in typing.get_args(hint):
        if typing.get_origin(argument) is not None:
            found.extend(_markers(argument))
    return found
