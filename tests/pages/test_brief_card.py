"""Whatever a guide sets, tightens, measures or tests is confirmed by a line of its brief card, for every demo bike."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

import pytest
from markupsafe import Markup, escape

from builder.pages.composed_card import composed_card_html
from builder.pages.form import Form
from builder.pages.labels import step_labels
from builder.pages.paper import Paper
from builder.proof.jobs import Job, Ready, planned_jobs, work_out
from builder.tailoring import Tailored
from builder.tailoring.brief import Why, brief_of
from builder.tailoring.tailored import ShownStep
from tests.demo import LEAD, lead_card, library
from tests.mutation.brief import decided_by, proofs_of
from tests.pages.shop import theme


@cache
def jobs() -> dict[str, list[Job]]:
    """By guide: the guide for any bike, and every job that the file of a demo bike plans with it."""
    found = {guide.id: [Job(guide=guide)] for guide in library().guides.values()}
    for bike in library().bikes.values():
        for job in planned_jobs(bike, library()):
            found[job.guide.id].append(job)
    return found


def cards_of(guide_id: str) -> Iterator[Tailored]:
    outcomes = (work_out(job, library()) for job in jobs()[guide_id])
    return (one.tailored for one in outcomes if isinstance(one, Ready) and not one.trouble)


def squeezed(text: str) -> str:
    return re.sub(r"\W", "", Markup(text).striptags())


def lines_of(tailored: Tailored) -> dict[str, str]:
    """The text of each line as it is printed, by the name of its step; lines with one tick have the same text."""
    html = composed_card_html(tailored, theme(), Form.BRIEF, Paper.A4, workshop=library().workshop)
    blocks = re.findall(r'data-step="\w+"[^>]*>(.*?)</section>', html, re.DOTALL)
    return {label: squeezed(text) for text in blocks for label in re.findall(r'<b class="see">(\w+)</b>', text)}


def steps_to_confirm(tailored: Tailored) -> Iterator[tuple[ShownStep, str]]:
    """Each step with what the full guide does in it, worked out here and not by the card."""
    last: dict[str, ShownStep] = {}
    for step in tailored.steps:
        last |= dict.fromkeys(step.step.leaves, step)
    for step in last.values():
        yield step, "sets"
    for step in tailored.steps:
        if step.torque is not None:
            yield step, "tightens"
        if step.measurement is not None or decided_by(step.limit):
            yield step, "measures"
    for step in tailored.test:
        yield step, "tests"


@pytest.mark.parametrize("guide_id", library().guides)
def test_what_the_guide_does_is_confirmed_by_a_line(guide_id: str) -> None:
    for tailored in cards_of(guide_id):
        confirmed(tailored)


def confirmed(tailored: Tailored) -> None:
    labels, lines = step_labels(tailored), lines_of(tailored)
    for step, what in steps_to_confirm(tailored):
        line = lines.get(labels[step.number])
        assert line is not None, f"{labels[step.number]} {what}: {step.do}"
        wanted = step.do.removeprefix("Make sure that ")
        told = [wanted, step.prove] if step.torque is None else [step.torque.fastener.name, step.prove]
        told += [step.measurement.name] if step.measurement is not None else []
        assert any(squeezed(str(escape(text)))[:40].casefold() in line.casefold() for text in told if text), line
        if step.torque is not None and step.torque.torque_nm is not None:
            assert f"{step.torque.torque_nm.low:g}".replace(".", "") in line
        if step.measurement is not None:
            assert squeezed(step.measurement.name).casefold() in line.casefold()
        for sentence in decided_by(step.limit):
            held = (sentence, *proofs_of(step, sentence))
            assert any(
                squeezed(str(escape(text.removeprefix("Make sure that ")))).casefold() in line.casefold()
                for text in held
            )


def test_a_fastener_left_loose_a_spacer_forgotten_and_a_clutch_left_off_each_meet_a_line() -> None:
    text = " ".join(lines_of(lead_card("heron")).values())
    for words in (
        "40 N·m cassette lockring",
        "No spacer is left on the bench",
        "The cage moves to the front with firm",
    ):
        assert squeezed(words) in text, words


def test_steps_that_only_lead_somewhere_are_left_out() -> None:
    card = lead_card("heron")
    sections, finish, test = brief_of(card)
    kept = [line for part in (*sections, finish, test) if part is not None for line in part.lines]
    assert 0.3 * len(card.steps) < len(kept) < 0.75 * len(card.steps)
    assert all(line.why for line in kept)
    assert any(Why.FIGURE in line.why for line in kept)
    assert card.guide.id == LEAD
