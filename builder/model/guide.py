"""A guide as it is written: what the job is for, what it needs, and its steps with every branch."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from builder.model.condition import ALWAYS, Condition
from builder.model.facts import Role
from builder.model.fields import Bounds, In, Minutes, Ref, Text
from builder.model.position import Places
from builder.model.units import Unit


class Level(StrEnum):
    """Who can do the job alone."""

    FIRST_TIME = "first-time"
    PRACTISED = "practised"
    SKILLED = "skilled"


class TrialKind(StrEnum):
    """How a guide was tried."""

    TABLE_TOP = "table-top"
    ON_BICYCLE = "on-bicycle"


class Area(StrEnum):
    """What a job touches that a ride depends on; any of them calls for a sign-off."""

    BRAKES = "brakes"
    STEERING = "steering"
    WHEEL_RETENTION = "wheel-retention"
    CLAMP = "clamp"
    DRIVE = "drive"
    BATTERY = "battery"


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiver:
    """A rule set aside at one element, with the reason and who answers for it."""

    rule: str
    reason: Text
    by: str = ""
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class CallOut:
    """A number on a photograph: how far across and down its point lies, and what is there."""

    across_percent: Annotated[float, In(Unit.PERCENT), Bounds(0, 100)]
    down_percent: Annotated[float, In(Unit.PERCENT), Bounds(0, 100)]
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A photograph of one's own: its file below `images`, what it shows in words, and its numbered call-outs."""

    file: str
    alt: str
    call_outs: tuple[CallOut, ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One of several ways to do a step; exactly one is done."""

    do: Text
    why: Text = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One act. `do` begins with a verb or a condition; everything else says what goes with it.

    `needs` and `leaves` speak of states. `loosens` and `tightens` name a fastener, which brings torque, thread and
    tool; the text may show its torque as `{{ torque }}`. `handles` names the things that are worked on, by which
    cautions attach. `measure` asks for a reading, written down. `prove` says what shows that it is done right.
    `tries` are fasteners that are tight and stay so: a torque wrench shows that each holds its figure. `boxes` are
    values to write besides, each by its name with its unit, such as one for each tyre. `renews` names the places whose
    part is a new one from this step on: its states are those of a new part.
    `photo` is a photograph of one's own, in place of a drawing (`figure`).
    `wait` is how long to wait. `pause` ends a group: stop and look.
    """

    id: str
    do: Text
    why: Text = ""
    when: Condition = ALWAYS
    needs: Mapping[Annotated[str, Ref("states")], str] = field(default_factory=dict)
    leaves: Mapping[Annotated[str, Ref("states")], str] = field(default_factory=dict)
    loosens: Annotated[str, Ref("fasteners")] | None = None
    tightens: Annotated[str, Ref("fasteners")] | None = None
    tools: tuple[Annotated[str, Ref("tools")], ...] = ()
    consumables: tuple[Annotated[str, Ref("consumables")], ...] = ()
    parts: tuple[Role, ...] = ()
    renews: tuple[Role, ...] = ()
    handles: tuple[Annotated[str, Ref("glossary")], ...] = ()
    cautions: tuple[Annotated[str, Ref("cautions")], ...] = ()
    measure: Annotated[str, Ref("measurements")] | None = None
    tries: tuple[Annotated[str, Ref("fasteners")], ...] = ()
    boxes: Mapping[str, str] = field(default_factory=dict)
    limit: Text = ""
    prove: Text = ""
    until: Text = ""
    wait_min: Minutes | None = None
    choose: tuple[Choice, ...] = ()
    figure: str = ""
    photo: Photo | None = None
    at_once: bool = False
    pause: bool = False
    waivers: tuple[Waiver, ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """A procedure placed inline, its steps between the steps before and after."""

    use: Annotated[str, Ref("procedures")]
    when: Condition = ALWAYS
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Procedure:
    """A stretch of steps that several guides share."""

    id: str = ""
    title: str
    steps: tuple[Step | Use, ...]
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A group of steps about one assembly, with its own heading and a stated end."""

    title: str
    end: Text = ""
    when: Condition = ALWAYS
    steps: tuple[Step | Use, ...]
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """What may go wrong: what is seen, what is likely behind it, and what to do. `step` names where to go back to."""

    symptom: Text
    cause: Text
    remedy: Text
    step: str = ""
    when: Condition = ALWAYS
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """Who tried the guide, how, and on which text.

    `proof_of` is the code of the text that was tried; `steps` are its steps in their order, each as `name code`: see
    `builder.proof.revisions`. A trial counts only for the text that was tried.
    """

    by: str
    date: str
    how: TrialKind
    bike: str = ""
    proof_of: str
    steps: tuple[str, ...] = ()
    found: Text = ""
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """The trials of a guide that were written by `spannerleaf tried`; `id` is the guide's."""

    id: str = ""
    trials: tuple[Trial, ...]
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """Why the guide was changed, and when."""

    date: str
    reason: Text
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Guide:
    """A job, as the reader meets it.

    `suits` says which bikes it is for and `refuse` what to tell the others. `wants` are the roles for which a plan
    chooses parts: the part that the reader wants comes with the plan. `takes` are those for which a part may be
    named that the same steps put on; without one the guide is about the part as it is. `drops` are those whose part
    its steps take off for good. `before` are the conditions to meet first; `done_when` the end state. `ends` are
    states that are left other than ride-ready, on purpose. `service_sheet` says that the guide is also printed
    densely, a row a step, one sheet for each bike of the fleet; `tag` that this sheet is a small one, with one name
    and nothing else to fill in.
    """

    id: str = ""
    title: str
    family: str
    purpose: Text
    done_when: Text
    not_when: tuple[Text, ...] = ()
    level: Level
    persons: int = 1
    prepare_time_min: Minutes
    work_time_min: Minutes
    service_sheet: bool = False
    tag: bool = False
    suits: Condition = ALWAYS
    refuse: Text = ""
    wants: tuple[Role, ...] = ()
    takes: tuple[Role, ...] = ()
    drops: tuple[Role, ...] = ()
    touches: tuple[Area, ...] = ()
    before: tuple[Text, ...] = ()
    begins: Mapping[Annotated[str, Ref("states")], str] = field(default_factory=dict)
    ends: Mapping[Annotated[str, Ref("states")], str] = field(default_factory=dict)
    cautions: tuple[Annotated[str, Ref("cautions")], ...] = ()
    work: tuple[Section, ...]
    finish: tuple[Step | Use, ...] = ()
    test: tuple[Step | Use, ...] = ()
    faults: tuple[Fault, ...] = ()
    mechanic_when: tuple[Text, ...] = ()
    waivers: tuple[Waiver, ...] = ()
    trials: tuple[Trial, ...] = ()
    revisions: tuple[Revision, ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)
