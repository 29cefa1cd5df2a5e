"""A check of the trade: one annotated function, from which everything else that is known of the check follows.

    @check(family=Family.TYRES, title="Room for the tyre", ...)
    def tyre_clearance(
        tyre_mm: Annotated[float, In(Unit.MILLIMETRE), Meaning("width of the tyre"), Fact("{end}-tyre.width")],
        space_mm: Annotated[float | None, Meaning("narrowest space"), Fact("frame.rear-tyre-room", front=...)],
    ) -> CheckResult: ...

The name is that of the function, an input's that of its parameter without the unit. Unit and bounds stand in the
annotation; where they don't, they are those of the fact. An input that may be None and has no default is one that the
check answers without, by 'measure first'; one whose default is None is left out in silence.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from enum import Enum, StrEnum
from functools import cached_property
from typing import Any, Generic, ParamSpec

from builder.checks.result import CheckResult, Input, Inputs, Kind, Source, Verdict
from builder.model.declared import Declared, annotations_of, declared
from builder.model.fields import UNIT_SUFFIX, WHERE
from builder.model.paths import fact_field, is_worked_out
from builder.model.units import Measure, Unit

P = ParamSpec("P")


class Family(StrEnum):
    """The families of checks, in the order of the list for the reader; the value is the heading."""

    SPROCKETS = "Sprockets and chain"
    GEARS = "Gears and hills"
    BOLTS = "Bolts"
    TORQUE_TOOLS = "Torque tools"
    WHEELS = "Wheels"
    TYRES = "Tyres"
    BRAKES = "Brakes"
    COCKPIT = "Cockpit"
    SUSPENSION = "Suspension"
    PRINT = "Print"


class Force(StrEnum):
    """What a 'does not fit' comes to where the check is asked of a bike."""

    # The parts can't be together on one bike.
    MISFIT = "misfit"
    # Something is worn or set wrong, as every bike may come to be.
    CONDITION = "condition"
    # The answer tells what the rider gains or loses and forces nothing.
    TELLS = "tells"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """When a check is put to a bike; what is not known never keeps a check from being asked.

    `only` and `unless` hold the check against facts, by path: asked only where the fact is one of the words, or
    unless it is; `surely` is `only` for what is rare on a bike, where the fact must be known to be so; the word ''
    is a bike without such a part. `when_known` asks only where everything that it needs is known, and `instead_of`
    names a check that answers the same question better: where that one has an answer, this one is not held against
    a bike as it is, only against a part that would be bought. `new` and `kept` are places: asked only where the
    part of one of them is a new one, or where all of them stay. `cures` are the places where another part can turn
    a bad answer, the likeliest first. `{end}` stands as in a `Fact`. `cuts` are the places whose part the answer says
    how to cut: a plan that leaves that part as it is does not tell it.
    """

    force: Force = Force.MISFIT
    only: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    unless: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    surely: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    new: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()
    when_known: bool = False
    instead_of: str = ""
    cures: tuple[str, ...] = ()
    cuts: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Check(Generic[P]):
    """A check with its page. `formula` is LaTeX mathematics; `example` gives inputs as a reader would write them.

    Called, it is the function itself: inputs by parameter, in the units of their names, never with a tolerance. See
    `builder.checks.reckoning`, which works out both ends of every tolerance.
    """

    function: Callable[P, CheckResult]
    family: Family
    title: str
    purpose: str
    formula: str
    source: Source
    at_verdict: Mapping[Verdict, str]
    example: Mapping[str, str]
    drawing: str = ""
    notes: str = ""
    asked: Asked = field(default_factory=Asked)

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> CheckResult:
        """The answer, with the check's name and source where the function did not give its own."""
        result = self.function(*args, **kwargs)
        return replace(result, check=self.name, source=result.source or str(self.source))

    @cached_property
    def name(self) -> str:
        """The name by which `reckon` knows the check."""
        return getattr(self.function, "__name__", "").strip("_").replace("_", "-")

    @cached_property
    def inputs(self) -> tuple[Input, ...]:
        """The inputs, in the order of the parameters."""
        hints = annotations_of(self.function)
        parameters = inspect.signature(self.function).parameters.values()
        return tuple(_input(one, declared(hints[one.name])) for one in parameters)

    def know(self, inputs: tuple[Input, ...]) -> None:
        """Take the inputs as they were read before, of the same function."""
        vars(self)["inputs"] = inputs

    def run(self, inputs: Inputs) -> CheckResult:
        """The answer for inputs by name, already read and within their ranges."""
        named: dict[str, Any] = {}
        for item in self.inputs:
            value = inputs.get(item.name)
            if value is None:
                named[item.parameter] = None if item.optional else item.default
            else:
                named[item.parameter] = item.member(value) if item.member is not None else value
        return self(**named)  # type: ignore[call-arg]

    @cached_property
    def wheres(self) -> tuple[str, ...]:
        """The ends or joints of a bike at which the check is asked; one empty name where it is asked once."""
        found = (item.fact.wheres for item in self.inputs if item.fact is not None)
        return tuple(dict.fromkeys(where for wheres in found for where in wheres)) or ("",)

    @cached_property
    def of_bikes(self) -> bool:
        """Whether the check is asked of bikes."""
        return any(item.fact is not None for item in self.inputs)


AnyCheck = Check[Any]


def check(
    *,
    family: Family,
    title: str,
    purpose: str,
    formula: str,
    source: Source,
    at_verdict: Mapping[Verdict, str],
    example: Mapping[str, str],
    drawing: str = "",
    notes: str = "",
    asked: Asked | None = None,
) -> Callable[[Callable[P, CheckResult]], Check[P]]:
    """Make a function a check; see `Check`."""

    def made(function: Callable[P, CheckResult]) -> Check[P]:
        return Check(
            function=function,
            family=family,
            title=title,
            purpose=purpose,
            formula=formula,
            source=source,
            at_verdict=at_verdict,
            example=example,
            drawing=drawing,
            notes=notes,
            asked=asked or Asked(),
        )

    return made


def _input(parameter: inspect.Parameter, said: Declared) -> Input:
    """The input that a parameter declares; what its annotation leaves open is taken from its fact."""
    fact = said.fact
    if fact is not None and fact.by is None and fact.path != WHERE and not is_worked_out(fact.at("")):
        of_fact = fact_field(fact.at(""))
        said = replace(said, unit=said.unit or of_fact.unit, bounds=said.bounds or of_fact.bounds)
    unit = said.unit or Unit.ONE
    has_default = parameter.default is not inspect.Parameter.empty and parameter.default is not None
    default = parameter.default.value if isinstance(parameter.default, Enum) else parameter.default
    return Input(
        name=_written(parameter.name, unit),
        parameter=parameter.name,
        words=said.meaning,
        kind=_kind(said),
        unit=unit,
        low=None if said.bounds is None else said.bounds.low,
        high=None if said.bounds is None else said.bounds.high,
        choices=said.choices,
        open_to=said.open_to,
        member=said.base if issubclass(said.base, Enum) else None,
        default=default if has_default else None,
        optional=said.optional,
        needless=parameter.default is None,
        fact=fact,
    )


def _written(parameter: str, unit: Unit) -> str:
    name = parameter.removesuffix("_")
    suffix = UNIT_SUFFIX.get(unit, "")
    return (name.removesuffix(suffix) if suffix else name).replace("_", "-")


def _kind(said: Declared) -> Kind:
    if said.choices:
        return Kind.CHOICE
    if said.base is int:
        return Kind.WHOLE_LIST if said.many else Kind.WHOLE
    if said.base in (float, Measure):
        return Kind.QUANTITY_LIST if said.many else Kind.QUANTITY
    return Kind.TEXT
