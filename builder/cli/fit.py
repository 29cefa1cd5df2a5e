"""`spannerleaf fit`: what fits on a bike, and what it forces."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterable, Iterator
from pathlib import Path

import click

from builder.checks.check import Force
from builder.checks.registry import CHECKS
from builder.checks.result import CheckResult
from builder.cli.common import Status, finish, json_option, misused, workspace_option
from builder.cli.lookup import found, loaded_soundly
from builder.model.bike import Bike
from builder.model.facts import Role
from builder.model.units import write_quantity
from builder.planning import Change, Missing, Plan, PlanError
from builder.proof.jobs import Outcome, Ready, Refused
from builder.rider.fitting import fit_as_data, fit_on

_WIDTH = 100
_NO_BREAK = "\u00a0"


@click.command("fit")
@click.argument("bike")
@click.option("--with", "parts", metavar="PART", multiple=True, required=True, help="A part wanted on it; repeatable.")
@workspace_option
@json_option
def command(bike: str, parts: tuple[str, ...], workspace: Path | None, as_json: bool) -> None:
    """Work out what fits on BIKE and what else that forces.

    PART is the id of any known part, of any kind, or PLACE=ID where its kind has two places; repeat it for several.
    The exit status is 1 where a part does not fit and nothing that is known cures it, where a part could not be
    judged, or where the job makes no sense on this bike.

    \b
    Examples:
      spannerleaf fit heron --with cs-11-50-11s
      spannerleaf fit heron --with front-tyre=ty-47-622 --with rear-tyre=ty-47-622
      spannerleaf fit heron --with cs-11-50-11s --json
    """
    library = loaded_soundly(workspace).library
    on = found("bike", bike, library.bikes)
    for name in parts:
        found("part", name.rpartition("=")[2], library.parts)
    try:
        fit = fit_on(on, parts, library)
    except PlanError as error:
        misused(str(error))
    if as_json:
        click.echo(json.dumps(fit_as_data(fit), ensure_ascii=False, indent=2, allow_nan=False))
    else:
        click.echo("\n".join(_lines(fit.plan, fit.outcome)).replace(_NO_BREAK, " "))
    finish(Status.DONE if fit.is_sound else Status.FINDINGS)


# --- for a reader --------------------------------------------------------------------------------


def _lines(plan: Plan, outcome: Outcome | None) -> Iterator[str]:
    parts = ", ".join(f"{part.name} ({_place(role)})" for role, part in plan.wanted.items())
    yield f"{_called(plan.bike)} with {parts}"
    if isinstance(outcome, Refused):
        yield ""
        yield from _wrapped(f"Not for this bike: {outcome.reason}")
        yield from ("", "Checks, with the wanted parts:")
        yield from _result_lines(plan.before)
        return
    yield from ("", "Checks, with every change made:")
    # Nobody should be told what a part gains that does not go on the bike.
    told = plan.checks if not plan.trouble else tuple(r for r in plan.checks if _bears(r))
    yield from _result_lines(told)
    yield from _group("What else must change:", (line for change in plan.changes for line in _change_lines(change)))
    yield from _group("Does not fit, and nothing that is known cures it:", _listed(plan.trouble))
    yield from _group("Not judged:", _listed(plan.not_judged))
    if not plan.trouble and not plan.not_judged:
        yield from _group("Lay out or buy:", _bought_lines(plan))
        if isinstance(outcome, Ready) and outcome.tailored.tools:
            tools = ", ".join(item.name for item in outcome.tailored.tools)
            yield from _group("Tools:", _wrapped(tools, "  "))
    yield from _group("Measure first:", (line for missing in plan.missing for line in _missing_lines(missing)))


def _group(heading: str, lines: Iterable[str]) -> Iterator[str]:
    """A heading with its lines; nothing where there are none."""
    for number, line in enumerate(lines):
        if number == 0:
            yield from ("", heading)
        yield line


def _listed(lines: Iterable[str]) -> Iterator[str]:
    for line in lines:
        yield from _wrapped(line, "  ")


def _place(role: Role) -> str:
    return role.value.replace("-", " ")


def _bought_lines(plan: Plan) -> Iterator[str]:
    stock = {change.choice.id: change for change in plan.changes if change.choice is not None}
    for part in plan.bought:
        change = stock.get(part.id)
        count = f"{change.count} × " if change is not None and change.count > 1 else ""
        price = "" if part.price_eur is None else f", {part.price_eur:.2f} EUR"
        order = ", to order" if change is not None and change.to_order else ""
        yield f"  {part.id}  {count}{part.name}{price}{order}"


def _missing_lines(missing: Missing) -> Iterator[str]:
    limit = f" It must be {missing.bounds}." if missing.bounds else ""
    yield from _wrapped(f"{missing.words}: {missing.how}{limit} Write it at {missing.write_at}.", "  ")


def _called(bike: Bike) -> str:
    return f"{bike.name} ({bike.tag})" if bike.tag else bike.name


def _result_lines(results: tuple[CheckResult, ...]) -> Iterator[str]:
    for result in results:
        yield from _check_lines(result)


def _bears(result: CheckResult) -> bool:
    return CHECKS[result.check].asked.force is not Force.TELLS


def _check_lines(result: CheckResult) -> Iterator[str]:
    figures = ""
    if result.value is not None:
        figures = write_quantity(result.value, result.unit, 2)
        if result.limit is not None:
            figures += f", limit {write_quantity(result.limit, result.unit, 2)}"
    where = f" ({result.where.replace('-', ' ')})" if result.where else ""
    yield f"  {result.verdict.value:<14}  {CHECKS[result.check].title}{where}: {figures}".rstrip(": ")
    if result.advice:
        yield from _wrapped(result.advice, " " * 18)


def _change_lines(change: Change) -> Iterator[str]:
    choice = "nothing that is known will do" if change.choice is None else f"{change.choice.id}  {change.choice.name}"
    order = " (to order)" if change.to_order else ""
    yield f"  {_place(change.role)}: {choice}{order}"
    yield from _wrapped(f"because of {', '.join(change.because)}", "    ")
    yield from (f"    {requirement}" for requirement in change.requires)


def _wrapped(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False)
