"""The code of a card changes with everything that its reader sees, and with nothing else."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from builder.model.catalogue import Fastener, Hand, Harm, Likelihood
from builder.model.guide import Step, Trial, TrialKind
from builder.model.library import Library
from builder.model.units import Range
from builder.pages.card import card_html, card_revision
from builder.pages.paper import Paper
from builder.pages.revision import seen_in
from builder.pages.strings_en import EN
from builder.tailoring import Tailored, tailor
from tests.demo import LEAD, library
from tests.pages.shop import theme


def made(lib: Library) -> Tailored:
    return tailor(lib.guides[LEAD], lib)


@cache
def before() -> str:
    return code(made(library()))


def code(tailored: Tailored) -> str:
    return card_revision(tailored, theme(), workshop=library().workshop)


@cache
def typical() -> Fastener:
    """A fastener that the card shows with its typical torque."""
    torques = (line.torque for line in made(library()).torques)
    return next(torque.fastener for torque in torques if torque.torque_nm is not None and not torque.maker)


def fastener(**changes: object) -> Library:
    one = replace(typical(), **changes)  # type: ignore[arg-type]
    return replace(library(), fasteners={**library().fasteners, one.id: one})


def caution(**changes: object) -> Library:
    one = replace(made(library()).summary_cautions[-1].caution, **changes)  # type: ignore[arg-type]
    return replace(library(), cautions={**library().cautions, one.id: one})


def step(**changes: object) -> Library:
    procedure = library().procedures["cassette-on"]
    steps = tuple(
        replace(one, **changes) if isinstance(one, Step) and one.id == "tighten-lockring" else one  # type: ignore[arg-type]
        for one in procedure.steps
    )
    return replace(library(), procedures={**library().procedures, "cassette-on": replace(procedure, steps=steps)})


def guide(**changes: object) -> Library:
    one = replace(library().guides[LEAD], **changes)  # type: ignore[arg-type]
    return replace(library(), guides={**library().guides, LEAD: one})


OLD = library().guides[LEAD]
SEEN: dict[str, Callable[[], Library]] = {
    "title": lambda: guide(title="Another title"),
    "times": lambda: guide(work_time_min=OLD.work_time_min + 5),
    "persons": lambda: guide(persons=2),
    "not when": lambda: guide(not_when=(*OLD.not_when, "The frame is cracked.")),
    "mechanic when": lambda: guide(mechanic_when=(*OLD.mechanic_when, "The hanger is cracked.")),
    "a fault": lambda: guide(faults=(replace(OLD.faults[0], remedy="Ask somebody else."), *OLD.faults[1:])),
    "title of a section": lambda: guide(work=(replace(OLD.work[0], title="Begin"), *OLD.work[1:])),
    "sentence": lambda: step(do="Tighten the lockring firmly to {{ torque }}."),
    "drawing": lambda: step(figure="pedal-threads"),
    "pause": lambda: step(pause=True),
    "waiting time": lambda: step(wait_min=7.0),
    "torque": lambda: fastener(torque_nm=Range(7.0, 7.5)),
    "thread": lambda: fastener(thread="M30.6x1"),
    "count": lambda: fastener(count=3),
    "hand of a thread": lambda: fastener(hand=Hand.LEFT),
    "words of a caution": lambda: caution(short="Leave the lever alone.", text="Leave the lever alone."),
    "signs of a caution": lambda: caution(signs=("M002",)),
}


@pytest.mark.parametrize("what", list(SEEN))
def test_what_the_reader_sees_changes_the_code(what: str) -> None:
    assert code(made(SEEN[what]())) != before()


def test_the_workshop_and_the_trial_are_seen() -> None:
    elsewhere = replace(library().workshop, name="Another workshop")
    assert card_revision(made(library()), theme(), workshop=elsewhere) != before()
    trial = Trial(by="A. Mechanic", date="2026-03-02", how=TrialKind.TABLE_TOP, proof_of="")
    assert code(tailor(OLD, library(), status="table-top", trial=trial)) != before()


UNSEEN: dict[str, Callable[[], Library]] = {
    # It stands on the charts alone.
    "spread of a torque": lambda: fastener(spread="Makers print 30 to 60 N·m."),
    "the likelihood behind the same signal word": lambda: caution(harm=Harm.THINGS, likelihood=Likelihood.WILL),
    "another guide": lambda: replace(library(), guides={LEAD: OLD}),
    "a need of a step": lambda: step(needs={}),
    "where a step stands in its file": lambda: guide(places=replace(OLD.places)),
    "another bike": lambda: replace(library(), bikes={}),
}


@pytest.mark.parametrize("what", UNSEEN)
def test_what_the_reader_does_not_see_leaves_the_code_alone(what: str) -> None:
    assert code(made(UNSEEN[what]())) == before()


@pytest.mark.parametrize("paper", list(Paper))
def test_a_card_bears_one_code_on_every_paper(paper: Paper) -> None:
    html = card_html(made(library()), theme(), paper, workshop=library().workshop)
    assert re.findall(rf"{EN.revision} ([0-9A-F]{{6}})\b", html) == [before()]


def test_the_dress_of_a_card_is_not_what_it_says() -> None:
    assert seen_in('<p class="a">Loosen  it.</p>') == seen_in("<div><b>Loosen</b> it.</div>")
    assert seen_in("<style>p { top: 0 }</style>x") == "x"
    assert seen_in('<svg><path d="M 0 0"/></svg>') != seen_in('<svg><path d="M 1 0"/></svg>')
    assert seen_in('<header data-bike="Heron"></header>') != seen_in('<header data-bike="Wren"></header>')
