"""Put the questions to an outfit: every check that applies, and what is still missing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from builder.checks.reckoning import reckon
from builder.checks.registry import CHECKS
from builder.checks.result import CheckResult, InputError, Verdict
from builder.model.facts import Role
from builder.model.library import Library
from builder.model.units import Unit
from builder.planning import climbing, drivetrain
from builder.planning.outfit import Outfit
from builder.planning.plan import Missing
from builder.planning.question import Lack, Question

QUESTIONS: tuple[Question, ...] = (*drivetrain.QUESTIONS, *climbing.QUESTIONS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """A question with its answer; `lacks` is empty where every input was known."""

    question: Question
    result: CheckResult
    lacks: tuple[Lack, ...] = ()

    @property
    def fails(self) -> bool:
        """Whether the answer forces a change or ends the job."""
        return self.question.binding and self.result.verdict is Verdict.DOES_NOT_FIT


def _unanswered(question: Question, lacks: tuple[Lack, ...]) -> CheckResult:
    check = CHECKS[question.check]
    return CheckResult(
        check=question.check,
        verdict=Verdict.MEASURE_FIRST,
        value=None,
        unit=Unit.ONE,
        working=tuple(f"Not known: {lack.words}" for lack in lacks),
        source=str(check.source),
        advice=" ".join(f"Find the {lack.words}: {lack.how}" for lack in lacks),
    )


def _answer(question: Question, outfit: Outfit) -> Answered | None:
    asked = question.ask(outfit)
    if asked is None or asked == ():
        return None
    if isinstance(asked, tuple):
        return Answered(question=question, result=_unanswered(question, asked), lacks=asked)
    try:
        return Answered(question=question, result=reckon(CHECKS[question.check], asked))
    except InputError as error:
        lack = Lack(key="", words=f"usable figures ({error})", how="Correct the figure in the bike's file.")
        return Answered(question=question, result=_unanswered(question, (lack,)), lacks=(lack,))


def answers(
    outfit: Outfit, touched: Iterable[Role], questions: tuple[Question, ...] = QUESTIONS
) -> tuple[Answered, ...]:
    """The answers to all questions about any of the roles `touched`, in the order of the questions."""
    roles = frozenset(touched)
    found = (_answer(question, outfit) for question in questions if question.roles & roles)
    return tuple(answered for answered in found if answered is not None)


def missing_facts(answered: Iterable[Answered], library: Library) -> tuple[Missing, ...]:
    """What the answers lack, each fact once, with the measurement of the catalogue that finds it."""
    checks: dict[str, list[str]] = {}
    lacks: dict[str, Lack] = {}
    for one in answered:
        for lack in one.lacks:
            lacks.setdefault(lack.key, lack)
            checks.setdefault(lack.key, []).append(one.question.check)
    measurements: Mapping[str, str] = {item.key: item.id for item in library.measurements.values()}
    return tuple(
        Missing(
            key=key,
            words=lack.words,
            how=lack.how,
            checks=tuple(checks[key]),
            measurement=measurements.get(key, ""),
        )
        for key, lack in lacks.items()
    )
