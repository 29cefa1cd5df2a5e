"""Ask on the terminal what is known of a bike: plain questions, only those that still matter, each of which may be
left open.
"""

from __future__ import annotations

import click

from builder.model.guide import Guide
from builder.model.library import Library
from builder.rider.answers import STOP, leaves_open
from builder.rider.facts import FactError, Facts
from builder.rider.interview import Interview, Kind, Question


class _Enough(Exception):
    """The one who answers has had enough."""


def ask_name(words: str, default: str) -> str:
    """Ask for a name."""
    answer: str = click.prompt(words, default=default)
    return answer


def ask_bike(facts: Facts, library: Library, guide: Guide | None = None) -> None:
    """Ask what is not known yet and still matters, and put the answers into `facts`.

    Args:
        facts: what is known, and where the answers go.
        library: where the questions and what hangs on them stand.
        guide: the job that the bike is described for; without one, everything that any guide asks.
    """
    click.echo("Press Enter to leave a question open: a card asks for what it needs. Write . to leave the rest open.\n")
    interview = Interview(facts, library, guide)
    try:
        while (question := interview.next()) is not None:
            _ask(interview, question)
    except _Enough:
        click.echo("The rest stays open.")


def _ask(interview: Interview, question: Question) -> None:
    """Ask until an answer can be taken, or the question is left open."""
    words = question.words
    if question.kind is Kind.CHOICE:
        click.echo(words)
        for number, case in enumerate(question.cases.values(), 1):
            click.echo(f"  {number}  {case}")
        words = f"  1 to {len(question.cases)}"
    while answer := _answer(words):
        try:
            taken = interview.take(question, answer)
        except FactError as error:
            click.echo(f"  {error}")
        else:
            if taken:
                click.echo(f"  taken as {taken}")
            return
    interview.leave(question)


def _answer(words: str) -> str:
    """An answer; '' where it says that nothing is known.

    Raises:
        _Enough: no more is to be asked.
    """
    answer: str = click.prompt(words, default="", show_default=False)
    if answer.strip().casefold() in STOP:
        raise _Enough
    return "" if leaves_open(answer) else answer.strip()
