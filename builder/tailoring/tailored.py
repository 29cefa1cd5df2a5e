"""A guide for one bike, or for none: the steps in order, every number in place, everything gathered.

This is what pages are made from; nothing in it needs to be worked out again.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from builder.checks.result import CheckResult
from builder.drawings.drawing_kind import Number
from builder.model.bike import Bike
from builder.model.catalogue import Caution, Consumable, Fastener, Measurement, SignalWord, Tool
from builder.model.guide import Guide, Step, Trial
from builder.model.library import TakenPhoto
from builder.model.parts import Part
from builder.model.units import Range
from builder.planning.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownCaution:
    """A caution as it is shown: its word, its text, and whether it is the short repeat at a step."""

    caution: Caution
    word: SignalWord
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Torque:
    """How tight a fastener goes on this bike.

    `maker` says that the part's own figure is shown; otherwise the range is typical and the card leaves a line for
    the maker's. `wrench` is the torque wrench whose range holds it, None where the workshop has none; `driver` the
    tool that fits the head. `on_carbon` says that carbon is clamped, so that the lower figure counts. `count` is how
    many of the fastener this bike has, as far as that is known.
    """

    fastener: Fastener
    count: int
    torque_nm: Range | None
    maker: bool
    source: str
    driver: Tool | None
    wrench: Tool | None
    on_carbon: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownStep:
    """A step as it is shown. Texts are final Markdown.

    `condition` is the branch in words on a generic guide. `figure` names a drawing and `figure_numbers` what it is
    drawn from; `photo` is a photograph in its place. `origin` is the procedure that the step is written in. `tried`
    are the torques that a wrench holds tight fasteners to. `source` counts the sources of the guide from 1 and
    names that of its torque, 0 for none.
    """

    number: int
    step: Step
    do: str
    why: str = ""
    prove: str = ""
    until: str = ""
    limit: str = ""
    choose: tuple[tuple[str, str], ...] = ()
    condition: str = ""
    cautions: tuple[ShownCaution, ...] = ()
    torque: Torque | None = None
    loosens: Torque | None = None
    tried: tuple[Torque, ...] = ()
    turning: str = ""
    measurement: Measurement | None = None
    figure: str = ""
    figure_numbers: tuple[tuple[str, Number], ...] = ()
    photo: TakenPhoto | None = None
    pause: bool = False
    origin: str = ""
    source: int = 0

    @property
    def anchor(self) -> str:
        """A stable name for the step on its page."""
        return f"{self.origin}.{self.step.id}" if self.origin else self.step.id


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownSection:
    """A group of steps with its heading; `condition` in words on a generic guide."""

    title: str
    end: str = ""
    condition: str = ""
    steps: tuple[ShownStep, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A step that is not on the card and why not."""

    step: str
    do: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidOut:
    """A tool, consumable or part to lay out, with the numbers of the steps that use it."""

    name: str
    detail: str = ""
    quantity: int = 1
    steps: tuple[int, ...] = ()
    tool: Tool | None = None
    consumable: Consumable | None = None
    part: Part | None = None
    owned: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class TorqueLine:
    """A row of the torque table; `source` counts the sources of the guide from 1."""

    torque: Torque
    steps: tuple[int, ...]
    source: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownFault:
    """A row of the fault table; `number` is the step to go back to, 0 for none."""

    symptom: str
    cause: str
    remedy: str
    number: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tailored:
    """The guide for one bike (`bike` and `plan` are None for the generic guide).

    `status` says how far its present text was tried, and `trial` which trial that was.
    """

    guide: Guide
    bike: Bike | None
    plan: Plan | None
    code: str
    status: str
    trial: Trial | None = None
    sections: tuple[ShownSection, ...]
    finish: tuple[ShownStep, ...]
    test: tuple[ShownStep, ...]
    summary_cautions: tuple[ShownCaution, ...]
    tools: tuple[LaidOut, ...]
    consumables: tuple[LaidOut, ...]
    parts: tuple[LaidOut, ...]
    torques: tuple[TorqueLine, ...]
    faults: tuple[ShownFault, ...]
    left_out: tuple[LeftOut, ...]
    checks: tuple[CheckResult, ...] = ()
    values: tuple[tuple[str, str], ...] = ()
    sources: tuple[str, ...] = ()
    sign_off: bool = False
    before: tuple[str, ...] = field(default=())
    purpose: str = ""
    done_when: str = ""
    not_when: tuple[str, ...] = ()
    mechanic_when: tuple[str, ...] = ()

    @property
    def steps(self) -> tuple[ShownStep, ...]:
        """Every step in the order it is done: work, finish, test."""
        work = tuple(step for section in self.sections for step in section.steps)
        return work + self.finish + self.test
