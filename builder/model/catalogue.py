"""What all guides draw on: tools, consumables, fasteners, cautions, states, attributes, measurements, words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from builder.model.condition import ALWAYS, NEVER, Condition
from builder.model.facts import Role, StandardSet, ThreadedMaterial
from builder.model.fields import MillimetreRange, Ref, Text, TorqueRange
from builder.model.position import Places


class Preparation(StrEnum):
    """What is on a thread when it is tightened."""

    DRY = "dry"
    GREASED = "greased"
    THREADLOCKED = "threadlocked"
    ASSEMBLY_PASTE = "assembly-paste"
    ANTI_SEIZE = "anti-seize"
    OILED = "oiled"

    @property
    def consumable(self) -> str:
        """What is put on the thread, by its id in the catalogue; '' for a dry one."""
        return _DRESSINGS.get(self, "")


_DRESSINGS = {
    Preparation.GREASED: "grease",
    Preparation.THREADLOCKED: "threadlock",
    Preparation.ASSEMBLY_PASTE: "assembly-paste",
    Preparation.ANTI_SEIZE: "anti-seize",
    Preparation.OILED: "oil",
}


class Hand(StrEnum):
    """Which way a thread tightens: a right-hand thread clockwise, seen from the head."""

    RIGHT = "right"
    LEFT = "left"

    @property
    def tighten(self) -> str:
        """Turning direction that tightens, seen from the side of the tool."""
        return "clockwise" if self is Hand.RIGHT else "anticlockwise"

    @property
    def loosen(self) -> str:
        """Turning direction that loosens, seen from the side of the tool."""
        return "anticlockwise" if self is Hand.RIGHT else "clockwise"


class Drive(StrEnum):
    """The square by which a socket or a bit is driven."""

    QUARTER_INCH = "1/4 in"
    THREE_EIGHTHS_INCH = "3/8 in"
    HALF_INCH = "1/2 in"


class SourceKind(StrEnum):
    """How far a figure's source is known."""

    STANDARD = "standard"
    HANDBOOK = "handbook"
    FROM_MEMORY = "from-memory"
    COMMON_PRACTICE = "common-practice"
    INVENTED = "invented"


# The source of what stands on the part itself or in its maker's instructions.
MAKERS_INSTRUCTIONS = "maker"


@dataclass(frozen=True, slots=True, kw_only=True)
class Citation:
    """Where figures come from, to be named beside them."""

    id: str = ""
    title: str
    edition: str = ""
    kind: SourceKind
    note: Text = ""
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """A tool. A torque wrench has `torque_nm`, its marked range; `fits` names the heads that it drives or holds.

    `driven` says that a torque wrench or a spanner turns it. `home` says that a rider's own kit usually holds it.
    """

    id: str = ""
    name: str
    use: Text = ""
    fits: tuple[Annotated[str, Ref("heads")], ...] = ()
    torque_nm: TorqueRange | None = None
    drive: Drive | None = None
    driven: bool = False
    size_mm: MillimetreRange | None = None
    home: bool = False
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """The shape that a tool engages, such as a 5 mm hexagon socket."""

    id: str = ""
    name: str
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Consumable:
    """What a job uses up: grease, cleaner, a cable end cap."""

    id: str = ""
    name: str
    amount: str = ""
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """Something that is tightened. `torque_nm` is a typical range; a part's own figure goes first.

    `trade_range_nm` is the span that makers print for such fasteners: where a thread is no plain metric bolt, no
    formula tells what it bears, and every figure is held against this span.

    `thread` is a metric size such as `M5` or `M8x1`, or words for any other thread. Where `torque_nm` is None, `feel`
    says how the right tightness is known. `bare` says that it comes off whole, so that its thread is prepared anew.
    `into` is what its inner thread is cut in, where that is always the same. `on_carbon` says on which bikes it clamps
    carbon, so that the lower figure of the range counts. `count` is how many there usually are, `counted` the fact of a
    bike that says how many it has, such as `crankset.ring-bolts`. `seen_from` is from where the way to turn is told: a
    socket at the end of a thread is turned from its other side. `things` are what is handled with it besides what its
    name says, such as a spring that it holds: cautions attach to them wherever it is turned.
    """

    id: str = ""
    name: str
    role: Role | None = None
    thread: str
    hand: Hand = Hand.RIGHT
    seen_from: Text = "its head"
    property_class: str = ""
    into: ThreadedMaterial | None = None
    head: Annotated[str, Ref("heads")]
    preparation: Preparation
    torque_nm: TorqueRange | None = None
    trade_range_nm: TorqueRange | None = None
    feel: Text = ""
    bare: bool = False
    on_carbon: Condition = NEVER
    count: int = 1
    counted: str = ""
    source: Annotated[str, Ref("sources")]
    spread: Text = ""
    critical: bool = False
    things: tuple[Annotated[str, Ref("glossary")], ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)

    @property
    def is_makers_alone(self) -> bool:
        """Whether no figure and no feel is typical, so that nothing but the maker's own figure counts."""
        return self.torque_nm is None and self.source == MAKERS_INSTRUCTIONS


class Harm(StrEnum):
    """Who or what is harmed if a caution is not heeded."""

    RIDER = "rider"
    MECHANIC = "mechanic"
    BYSTANDER = "bystander"
    ALL = "all"
    THINGS = "things"


class Severity(StrEnum):
    """The worst that is credible."""

    DEATH_OR_SERIOUS = "death-or-serious-injury"
    MINOR_OR_MODERATE = "minor-or-moderate-injury"
    DAMAGE = "damage"


class Likelihood(StrEnum):
    """Whether the harm will or could follow."""

    WILL = "will"
    COULD = "could"


class SignalWord(StrEnum):
    """The four signal words of ISO 3864-2 and ANSI Z535.6, gravest first."""

    DANGER = "DANGER"
    WARNING = "WARNING"
    CAUTION = "CAUTION"
    NOTICE = "NOTICE"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """A safety message: what to do or not, then what may follow. Its signal word is computed, never written.

    `before` names the acts that bring it in by rule: any of `verbs` done to any of `things`, where `when` holds.
    `signs` are ISO 7010 numbers. `short` is the one-line repeat at the step.
    """

    id: str = ""
    text: Text
    short: Text = ""
    harm: Harm
    severity: Severity
    likelihood: Likelihood
    signs: tuple[str, ...] = ()
    verbs: tuple[Annotated[str, Ref("verbs")], ...] = ()
    things: tuple[Annotated[str, Ref("glossary")], ...] = ()
    when: Condition = ALWAYS
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """Something about the bike that steps change: the rear wheel is in or out.

    `values` gives each value its words, which complete "the rear wheel is ..."; `ready` are those in which the bike
    may be ridden, the first being how a job finds it; `when` says which bikes have it at all. A test that is due is a
    state too: what disturbs the brake leaves its test due, and the test leaves it passed.

    `of` are the places on the bike whose part the state is a property of, and `new` is its value on a part that is new:
    what was so of the old part is not so of the one that takes its place. `released` are the values in which something
    under pressure or tension was let out, so that it must be put back.
    """

    id: str = ""
    name: str
    values: Mapping[str, Text]
    ready: tuple[str, ...]
    when: Condition = ALWAYS
    of: tuple[Role, ...] = ()
    new: str = ""
    released: tuple[str, ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)


class Stage(StrEnum):
    """Whether an attribute tells of the bike as it stands, or as the plan will leave it."""

    FOUND = "found"
    PLANNED = "planned"


@dataclass(frozen=True, slots=True, kw_only=True)
class Attribute:
    """A question about a bike or a plan with a closed set of answers.

    `source` is `role.field` of a part, such as `rear-hub.axle`, or `computed` where
    `builder.planning.attributes` works it out. `cases` gives each answer its words, which complete the sentence
    "for a bike with ...". `without` is the answer where the bike has no such part. A guide that plans no parts (no
    `wants`) leaves the bike as it is: there a planned attribute answers as the found one named in `same_as`, and an
    attribute of the plan answers with `idle`.
    """

    id: str = ""
    words: str
    ask: Text = ""
    source: str
    stage: Stage = Stage.FOUND
    cases: Mapping[str, Text]
    without: str = ""
    same_as: Annotated[str, Ref("attributes")] | None = None
    idle: str = ""
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standard:
    """A workshop's own way in which parts hold on one another, such as a freehub body that no known one is like.

    `of` is the set of words that it is added to: parts that name it go together, and go with no other. `like` is the
    word of that set whose steps do for it too; without it, a guide whose steps hang on the set is refused.
    """

    id: str = ""
    name: str
    of: StandardSet
    like: str = ""
    note: Text = ""
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Exclusion:
    """A combination of cases that no bike and no plan can have, and why."""

    never: Condition
    because: Text
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurement:
    """Something that only the bike can tell.

    `key` is where the result goes in the bike's file, such as `parts.frame.chainstay`. `needs` are the states in which
    it can be taken. `check` names the check that judges the reading, where there is one.
    """

    id: str = ""
    name: str
    unit: str
    key: str
    check: str = ""
    how: tuple[Text, ...]
    needs: Mapping[Annotated[str, Ref("states")], str] = field(default_factory=dict)
    tools: tuple[Annotated[str, Ref("tools")], ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedText:
    """A value that a text may show as `{{ name }}`: what it is, and the words where it is not known."""

    id: str = ""
    words: str
    unknown: str = ""
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One name for one thing. `others` are what people call it elsewhere; `avoid` are words that guides do not use."""

    id: str = ""
    name: str
    plural: str = ""
    meaning: Text
    others: tuple[str, ...] = ()
    avoid: tuple[str, ...] = ()
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Verb:
    """A workshop verb with its one meaning; `instead_of` are words that it replaces. `past` for the passive check.

    `lets_out` says that it lets out what is under pressure or tension, which must be put back before a ride.
    """

    id: str = ""
    meaning: Text
    past: str = ""
    instead_of: tuple[str, ...] = ()
    lets_out: bool = False
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockItem:
    """A part on the workshop's shelf."""

    part: Annotated[str, Ref("parts")]
    count: int = 1
    places: Places = field(default=Places(), compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop:
    """The workshop that prints the cards: its name, tools and stock; `checked` is the day of a wrench's last check.

    `demo_fleet` says whether the invented bikes that come with the program are shown beside the workshop's own. `site`
    is the address at which it publishes its site; a card then carries the address of its page as a QR code.
    `repository` is the address at which a file of its folder is changed, up to the name of the file.
    `rider_page` says whether the site has the page on which a rider fits a guide to a bike of their own.
    """

    name: str
    tools: tuple[Annotated[str, Ref("tools")], ...] = ()
    checked: Mapping[Annotated[str, Ref("tools")], str] = field(default_factory=dict)
    stock: tuple[StockItem, ...] = ()
    feedback: Text = ""
    note: Text = ""
    demo_fleet: bool = True
    site: str = ""
    repository: str = ""
    rider_page: bool = True
    places: Places = field(default=Places(), compare=False, repr=False)
