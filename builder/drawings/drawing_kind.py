"""What a drawing shows and which numbers decide it: how numbers are read, checked and handed to the drawing."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from builder.drawings.canvas import Drawing
from builder.model.fields import Fact
from builder.model.units import Unit, read_value

Number = str | float | int | tuple[float, ...]
Numbers = Mapping[str, Number]


class DrawingError(ValueError):
    """A drawing that is not known, or numbers that it can't be made from. One clear line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameter:
    """One number or word that a drawing is made from.

    `low` and `high` bound each number, `choices` the words. `many` asks for a row of at least `many` numbers, at most
    `most`; `whole` for whole numbers; `colour` for words such as `#005fa8`; `date` for words such as `2025-03-01`.
    Without a default the number must be given.

    For the card of one bike the number is taken from that bike: `told` gives it by a thing that the step handles or a
    fastener that it turns, `fact` names the fact of the bike, at the joint that the step handles where it has several.
    `usual` is what is shown where no bike says it. `acts` gives it by what the step does with a fastener: `tightens`
    or `loosens`.
    """

    name: str
    words: str
    unit: Unit = Unit.ONE
    default: Number | None = None
    low: float = -math.inf
    high: float = math.inf
    whole: bool = False
    many: int = 0
    most: int = 20
    choices: tuple[str, ...] = ()
    colour: bool = False
    date: bool = False
    told: tuple[tuple[str, Number], ...] = ()
    fact: Fact | None = None
    usual: Number | None = None
    acts: tuple[tuple[str, Number], ...] = ()

    def __str__(self) -> str:
        """`chainstay in mm, 250 to 900`, as an error message lists it."""
        unit = f" in {self.unit.value}" if self.unit.value else ""
        if self.choices:
            span = f", one of {', '.join(filter(None, self.choices))}"
        elif self.colour:
            span = ", a colour such as #005fa8"
        elif self.date:
            span = ", a date such as 2025-03-01"
        elif math.isfinite(self.low) and math.isfinite(self.high):
            span = f", {self.low:g} to {self.high:g}"
        else:
            span = ""
        count = f", {self.many} to {self.most} of them" if self.many else ""
        free = "" if self.default is None else " (may be left out)"
        return f"{self.name}{unit}{span}{count}{free}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Arguments:
    """The numbers of one drawing, read and within their ranges."""

    values: Mapping[str, Number]

    def number(self, name: str) -> float:
        """A single number."""
        value = self.values[name]
        assert isinstance(value, float | int)
        return float(value)

    def whole(self, name: str) -> int:
        """A single whole number."""
        return round(self.number(name))

    def word(self, name: str) -> str:
        """A word."""
        value = self.values[name]
        assert isinstance(value, str)
        return value

    def row(self, name: str) -> tuple[float, ...]:
        """A row of numbers, in the order given."""
        value = self.values[name]
        assert isinstance(value, tuple)
        return value

    def teeth(self, name: str) -> tuple[int, ...]:
        """A row of tooth counts, smallest first, each once."""
        return tuple(sorted({round(value) for value in self.row(name)}))


class ShownAct(StrEnum):
    """What a drawing shows being done, so that it stands at no step that does the contrary."""

    ANY = "no certain act"
    TIGHTENING = "tightening"
    LOOSENING = "loosening"
    LOOKING = "looking or measuring"


WIDTHS_MM = (30.0, 45.0, 60.0, 90.0)  # the columns that the layout of a card has for a drawing


def act_of_the_step(default: Number) -> Parameter:
    """The parameter of a drawing that turns the way of its step; `default` is drawn at a step that turns nothing."""
    return Parameter(
        name="act",
        words="what is to be done",
        default=default,
        choices=("both", "tighten", "loosen") if default == "both" else ("tighten", "loosen"),
        acts=(("tightens", "tighten"), ("loosens", "loosen")),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawingKind:
    """A kind of drawing: its name, what it is for, what it is made from, and the function that makes it.

    `act` is what it shows being done; one that takes a number `act` shows the act of its step. `things` are what it
    shows, by their names in the catalogue. `width_mm` is the column that it needs, whatever its numbers are, for its
    letters to keep their size: one of `WIDTHS_MM`.
    """

    name: str
    words: str
    make: Callable[[Arguments], Drawing]
    parameters: tuple[Parameter, ...] = ()
    act: ShownAct = ShownAct.ANY
    things: tuple[str, ...] = ()
    width_mm: float = 90.0

    def draw(self, numbers: Numbers) -> Drawing:
        """Make the drawing. Numbers without a use are left aside, so that a check's inputs can be passed whole.

        Raises:
            DrawingError: a number is missing, unreadable or out of range; one line that lists what is needed.
        """
        values: dict[str, Number] = {}
        for parameter in self.parameters:
            raw = numbers.get(parameter.name)
            if raw is None or raw == "":
                if parameter.default is None:
                    raise self._refusal(f"'{parameter.name}' is missing")
                values[parameter.name] = parameter.default
                continue
            try:
                values[parameter.name] = _read(parameter, raw)
            except (ValueError, OverflowError) as error:
                raise self._refusal(f"'{parameter.name}': {error}") from None
        return self.make(Arguments(values=values))

    def _refusal(self, reason: str) -> DrawingError:
        listed = "; ".join(map(str, self.parameters))
        return DrawingError(f"drawing '{self.name}': {' '.join(reason.split())}; it needs {listed}")


def _read(parameter: Parameter, raw: Number) -> Number:
    if parameter.colour:
        return _colour(raw)
    if parameter.date:
        return date.fromisoformat(str(raw)).isoformat()
    if parameter.choices:
        if raw not in parameter.choices:
            raise ValueError(f"'{raw}' is not one of {', '.join(filter(None, parameter.choices))}")
        return str(raw)
    if parameter.many:
        items: tuple[Number, ...]
        items = tuple(raw.split(",")) if isinstance(raw, str) else raw if isinstance(raw, tuple) else (raw,)
        if not parameter.many <= len(items) <= parameter.most:
            raise ValueError(f"{len(items)} values given, {parameter.many} to {parameter.most} wanted")
        return tuple(_one(parameter, item) for item in items)
    return _one(parameter, raw)


def _one(parameter: Parameter, raw: Number) -> float:
    if isinstance(raw, tuple):
        raise ValueError("a single value is wanted")
    if isinstance(raw, str):
        words = raw.strip()
        value = read_value(
            words if not words[-1:].isdigit() else f"{words} {parameter.unit.value}".strip(), parameter.unit
        )
    else:
        value = float(raw)
    if not math.isfinite(value):
        raise ValueError("a finite number is wanted")
    if parameter.whole and value != round(value):
        raise ValueError(f"{value:g} is not a whole number")
    if not parameter.low <= value <= parameter.high:
        raise ValueError(f"{value:g} is outside {parameter.low:g} to {parameter.high:g}")
    return value


def _colour(raw: Number) -> str:
    text = str(raw).strip().lower()
    digits = text.removeprefix("#")
    if len(digits) != 6 or any(char not in "0123456789abcdef" for char in digits):
        raise ValueError(f"'{raw}' is not a colour such as #005fa8")
    return f"#{digits}"
