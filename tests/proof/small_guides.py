"""Small random guides with their library, for holding the proof against a walk over every configuration."""

from __future__ import annotations

from hypothesis import strategies as st

from builder.model.catalogue import Attribute, Exclusion, Fastener, Preparation, State, Verb
from builder.model.condition import ALWAYS, All, AnyOf, Is, Not
from builder.model.facts import Role
from builder.model.guide import Guide, Level, Section, Step
from builder.model.library import Library
from builder.model.rules import Deed, Rule

ATTRIBUTES = {
    name: Attribute(id=name, words=name, source="computed", cases={case: case for case in cases})
    for name, cases in {"a": "xyz", "b": "xy", "c": "xyz", "d": "xy"}.items()
}
FASTENERS = {
    name: Fastener(id=name, name=name, thread="M5", head="h", preparation=Preparation.DRY, feel="by hand", source="s")
    for name in ("bolt", "nut")
}

VERBS = {name: Verb(id=name, meaning=name) for name in ("turn", "push")}


# The strategies are made once: making them anew for each guide takes ten times as long as drawing from them.


@st.composite
def _questions(draw):
    name = draw(_NAMES)
    return Is(name, tuple(draw(_CASES[name])))


def _few(names, *, least=0):
    return st.lists(st.sampled_from(names), min_size=least, max_size=2, unique=True).map(tuple)


_NAMES = st.sampled_from(sorted(ATTRIBUTES))
_CASES = {name: _few(list(attribute.cases), least=1) for name, attribute in ATTRIBUTES.items()}
_QUESTIONS = _questions()
_SEVERAL = st.lists(_QUESTIONS, min_size=1, max_size=2).map(tuple)
# Conditions of up to two levels; often none at all.
_CONDITIONS = st.one_of(
    st.just(ALWAYS),
    _QUESTIONS,
    _QUESTIONS.map(Not),
    _SEVERAL.map(All),
    _SEVERAL.map(AnyOf),
)
_VALUES = st.sampled_from(["in", "out"])
_STATE_NAMES = st.sampled_from(["wheel", "chain"])
_STATES = st.fixed_dictionaries(
    {
        name: _CONDITIONS.map(
            lambda when, name=name: State(
                id=name, name=name, values={"in": "in", "out": "out"}, ready=("in",), when=when
            )
        )
        for name in ("wheel", "chain")
    }
)
_FEW_STATES = st.dictionaries(_STATE_NAMES, _VALUES, max_size=2)
_ONE_STATE = st.dictionaries(_STATE_NAMES, _VALUES, max_size=1)
_LOOSENS = st.sampled_from([None, None, None, "bolt", "nut"])
_TIGHTENS = st.sampled_from([None, None, "bolt", "nut"])
_VERBS = st.sampled_from(sorted(VERBS))
_HANDLES = st.sets(st.sampled_from(["lever", "screw"]), max_size=2).map(sorted).map(tuple)
_FEW_VERBS = _few(sorted(VERBS))
_TURNING = _few(["loosen", "tighten"], least=1)
_THINGS = _few(["lever", "screw"], least=1)
_FEW_FASTENERS = _few(sorted(FASTENERS), least=1)
_DEEDS = st.one_of(st.none(), st.builds(Deed, verbs=_FEW_VERBS, things=_THINGS))
_RULE_NAMES = _few(["r1", "r2"])
_EXCLUDED = st.lists(_QUESTIONS, min_size=1, max_size=2).map(tuple)


def _step(draw, number):
    loosens = draw(_LOOSENS)
    return Step(
        id=f"s{number}",
        do=f"{draw(_VERBS).capitalize()} it.",
        handles=draw(_HANDLES),
        when=draw(_CONDITIONS),
        needs=draw(_FEW_STATES),
        leaves=draw(_FEW_STATES),
        loosens=loosens,
        tightens=None if loosens else draw(_TIGHTENS),
    )


def _rule(draw, name):
    """A rule of any kind about acts, or about the turning of a fastener."""
    of_fastener = draw(st.booleans())
    return Rule(
        id=name,
        verbs=draw(_TURNING if of_fastener else _FEW_VERBS),
        things=() if of_fastener else draw(_THINGS),
        fasteners=draw(_FEW_FASTENERS) if of_fastener else (),
        when=draw(_CONDITIONS),
        needs=draw(_ONE_STATE),
        leaves=draw(_ONE_STATE),
        only=draw(_CONDITIONS),
        first=draw(_DEEDS),
        then=draw(_DEEDS),
        because="so",
    )


@st.composite
def libraries(draw):
    """A library with one guide of up to seven steps in two sections."""
    first = tuple(_step(draw, number) for number in range(draw(st.integers(1, 4))))
    second = tuple(_step(draw, number + 10) for number in range(draw(st.integers(0, 3))))
    sections = [Section(title="one", steps=first)]
    if second:
        sections.append(Section(title="two", steps=second, when=draw(_CONDITIONS)))
    guide = Guide(
        id="guide",
        title="Guide",
        family="f",
        purpose="p",
        done_when="d",
        level=Level.PRACTISED,
        prepare_time_min=1.0,
        work_time_min=1.0,
        suits=draw(_CONDITIONS),
        wants=(Role.CASSETTE,),
        work=tuple(sections),
    )
    exclusions = tuple(Exclusion(never=All(draw(_EXCLUDED)), because="so") for _ in range(draw(st.integers(0, 2))))
    return Library(
        guides={"guide": guide},
        attributes=ATTRIBUTES,
        states=draw(_STATES),
        fasteners=FASTENERS,
        exclusions=exclusions,
        verbs=VERBS,
        rules={name: _rule(draw, name) for name in draw(_RULE_NAMES)},
    )
