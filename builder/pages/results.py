"""Results of checks as a card shows them: those alone that ask for care or an act, and how many more fit."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup

from builder.checks.result import CheckResult, Verdict
from builder.pages import amounts
from builder.pages.guide_view import CheckView, view_checks
from builder.pages.strings import Words

_HILLS = ("steepest-gradient", "hill-cadence")
# A margin is a difference of two values that were rounded apart from it.
_SLACK = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class ResultRow:
    """A result that asks for care or an act. `limit` says whether it is a least or a most."""

    check: CheckView
    limit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Results:
    """What a card says of the checks."""

    rows: tuple[ResultRow, ...]
    hills: tuple[Markup, ...]
    fitting: int


def results_of(checks: Iterable[CheckResult], words: Words) -> Results:
    """The results that ask for something; a hill that is hard is no part that does not fit, and is told apart."""
    every = tuple(checks)
    asking = [one for one in every if one.verdict is not Verdict.FITS]
    parts = [one for one in asking if one.check not in _HILLS]
    limits = {one.check: limit_words(one, words) for one in parts}
    return Results(
        rows=tuple(ResultRow(check=view, limit=limits[view.name]) for view in view_checks(parts, words)),
        hills=tuple(_hill(view, words) for view in view_checks(asking, words) if view.name in _HILLS),
        fitting=len(every) - len(asking),
    )


def limit_words(result: CheckResult, words: Words) -> str:
    """The limit with `at least` or `at most`, told by the side on which the margin is counted; '' for no limit."""
    value, limit, margin = result.value, result.limit, result.margin
    if value is None or limit is None:
        return ""
    written = amounts.amount(limit, result.unit)
    if margin is None or abs(value - limit) < _SLACK:
        return written
    if abs((value - limit) - margin) < _SLACK:
        return f"{words.at_least} {written}"
    if abs((limit - value) - margin) < _SLACK:
        return f"{words.at_most} {written}"
    return written


def _hill(view: CheckView, words: Words) -> Markup:
    said = words.hill_reaches if view.name == "steepest-gradient" else words.hill_cadence
    return Markup("{}").format(said.format(value=view.value, limit=view.limit))
