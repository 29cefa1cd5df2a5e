"""What a check answers: a verdict, the value held against its limit, and the working that a pencil can follow."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum, StrEnum

from builder.model.facts import StandardSet
from builder.model.fields import Fact
from builder.model.units import Measure, Unit


class Verdict(StrEnum):
    """The four answers of a check, from best to least certain."""

    FITS = "fits"
    WITH_CARE = "fits-with-care"
    DOES_NOT_FIT = "does-not-fit"
    MEASURE_FIRST = "measure-first"


class Provenance(StrEnum):
    """How far a figure is known."""

    LOOKED_UP = "looked-up"
    LOOKED_UP_SECONDARY = "looked-up-secondary"
    FROM_MEMORY = "from-memory"
    DERIVABLE = "derivable"
    COMMON_PRACTICE = "common-practice"


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where a formula or a figure comes from."""

    title: str
    locator: str = ""
    provenance: Provenance = Provenance.FROM_MEMORY

    def __str__(self) -> str:
        place = f", {self.locator}" if self.locator else ""
        match self.provenance:
            case Provenance.FROM_MEMORY:
                return f"{self.title}{place} (from memory)"
            case Provenance.COMMON_PRACTICE:
                return f"{self.title}{place} (common practice, no source)"
            case _:
                return f"{self.title}{place}"


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedValue:
    """A further result of a check, such as the development beside the ratio."""

    name: str
    value: float
    unit: Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckResult:
    """The answer of one check.

    `value`, `limit` and `margin` are in `unit`; `margin` is how far the value stays on the right side of the limit,
    so that a negative margin does not fit. `advice` says what care, what would fit or what to measure. `check` is
    filled in by the check itself, and so is `source` where the check has one source for every answer. `where` names the
    end, the joint or the fastener of a bike that it is about.
    """

    verdict: Verdict
    value: float | None
    unit: Unit
    check: str = ""
    where: str = ""
    limit: float | None = None
    margin: float | None = None
    working: tuple[str, ...] = ()
    source: str = ""
    advice: str = ""
    values: tuple[NamedValue, ...] = ()

    def named(self, name: str) -> float:
        """The further result called `name`.

        Raises:
            KeyError: there is none of that name.
        """
        for item in self.values:
            if item.name == name:
                return item.value
        raise KeyError(name)


class InputError(ValueError):
    """An input that a check can't use: missing, of the wrong kind or out of its range. One clear line."""


class Kind(StrEnum):
    """How the text of an input is read."""

    QUANTITY = "quantity"
    WHOLE = "whole number"
    WHOLE_LIST = "list of whole numbers"
    QUANTITY_LIST = "list of quantities"
    CHOICE = "choice"
    TEXT = "text"


# What a check function is called with, by input name; a measured value enters as its plain float.
Value = float | int | str | tuple[int, ...] | tuple[float, ...]
# What may be given from outside: a measure carries its tolerance.
Given = Measure | Value


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """One input of a check: what it is, how it is written and the range in which the formula is good.

    `optional` says that the check answers without it; where it is `needless` too, nothing is asked for in its stead.
    `fact` is the fact of a bike that it stands for; `member` makes a word the value that the function takes. One
    that is `open_to` a set may also be a workshop's own word, where a bike's file says so.
    """

    name: str
    words: str
    parameter: str = ""
    kind: Kind = Kind.QUANTITY
    unit: Unit = Unit.ONE
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    open_to: StandardSet | None = None
    default: Value | None = None
    optional: bool = False
    needless: bool = False
    member: type[Enum] | None = None
    fact: Fact | None = None


Inputs = Mapping[str, Value]
