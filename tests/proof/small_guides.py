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


@st.composite
def questions(draw):
    name = draw(st.sampled_from(sorted(ATTRIBUTES)))
    cases = draw(st.lists(st.sampled_from(list(ATTRIBUTES[name].cases)), min_size=1, max_size=2, unique=True))
    return Is(name, tuple(cases))


def conditions():
    """Conditions of up to two levels; often none at all."""
    several = st.lists(questions(), min_size=1, max_size=2).map(tuple)
    return st.one_of(
        st.just(ALWAYS),
        questions(),
        questions().map(Not),
        several.map(All),
        several.map(AnyOf),
    )


def states():
    return st.fixed_dictionaries(
        {
            name: conditions().map(
                lambda when, name=name: State(
                    id=name, name=name, values={"in": "in", "out": "out"}, ready=("in",), when=when
                )
            )
            for name in ("wheel", "chain")
        }
    )


@st.composite
def steps(draw, number):
    values = st.sampled_from(["in", "out"])
    few = st.dictionaries(st.sampled_from(["wheel", "chain"]), values, max_size=2)
    loosens = draw(st.sampled_from([None, None, None, "bolt", "nut"]))
    return Step(
        id=f"s{number}",
        do=f"{draw(st.sampled_from(sorted(VERBS))).capitalize()} it.",
        handles=tuple(draw(st.sets(st.sampled_from(["lever", "screw"]), max_size=2))),
        when=draw(conditions()),
        needs=draw(few),
        leaves=draw(few),
        loosens=loosens,
        tightens=None if loosens else draw(st.sampled_from([None, None, "bolt", "nut"])),
    )


def few(names, *, least=0):
    return st.lists(st.sampled_from(names), min_size=least, max_size=2, unique=True).map(tuple)


def deeds():
    kinds = st.builds(Deed, verbs=few(sorted(VERBS)), things=few(["lever", "screw"], least=1))
    return st.one_of(st.none(), kinds)


@st.composite
def rules(draw, name):
    """A rule of any kind about acts, or about the turning of a fastener."""
    values = st.dictionaries(st.sampled_from(["wheel", "chain"]), st.sampled_from(["in", "out"]), max_size=1)
    of_fastener = draw(st.booleans())
    return Rule(
        id=name,
        verbs=draw(few(["loosen", "tighten"], least=1) if of_fastener else few(sorted(VERBS))),
        things=() if of_fastener else draw(few(["lever", "screw"], least=1)),
        fasteners=draw(few(sorted(FASTENERS), least=1)) if of_fastener else (),
        when=draw(conditions()),
        needs=draw(values),
        leaves=draw(values),
        only=draw(conditions()),
        first=draw(deeds()),
        then=draw(deeds()),
        because="so",
    )


@st.composite
def libraries(draw):
    """A library with one guide of up to seven steps in two sections."""
    first = tuple(draw(steps(number)) for number in range(draw(st.integers(1, 4))))
    second = tuple(draw(steps(number + 10)) for number in range(draw(st.integers(0, 3))))
    sections = [Section(title="one", steps=first)]
    if second:
        sections.append(Section(title="two", steps=second, when=draw(conditions())))
    guide = Guide(
        id="guide",
        title="Guide",
        family="f",
        purpose="p",
        done_when="d",
        level=Level.PRACTISED,
        prepare_time_min=1.0,
        work_time_min=1.0,
        suits=draw(conditions()),
        wants=(Role.CASSETTE,),
        work=tuple(sections),
    )
    exclusions = tuple(
        Exclusion(never=All(tuple(draw(st.lists(questions(), min_size=1, max_size=2)))), because="so")
        for _ in range(draw(st.integers(0, 2)))
    )
    return Library(
        guides={"guide": guide},
        attributes=ATTRIBUTES,
        states=draw(states()),
        fasteners=FASTENERS,
        exclusions=exclusions,
        verbs=VERBS,
        rules={name: draw(rules(name)) for name in draw(few(["r1", "r2"]))},
    )
