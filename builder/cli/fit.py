"""`spannerleaf fit`: what fits on a bike, and what it forces."""

from __future__ import annotations

import dataclasses
import json
import textwrap
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from builder.checks.reckoning import result_as_json
from builder.checks.registry import CHECKS
from builder.checks.result import CheckResult
from builder.checks.take_up import take_up_as_json
from builder.cli.asked import found, guides_for, loaded_soundly
from builder.cli.common import Status, finish, json_option, misused, workspace_option
from builder.model.bike import Bike
from builder.model.guide import Guide
from builder.model.library import Library
from builder.model.units import write_quantity
from builder.planning import Change, Plan, PlanError, Requirement, plan_job, wanted_parts
from builder.planning.gears import gears_of
from builder.planning.hills import hills_of
from builder.proof.jobs import Job, Outcome, Ready, Refused, work_out

_WIDTH = 100
_NO_BREAK = "\u00a0"


@click.command("fit")
@click.argument("bike")
@click.option("--with", "parts", metavar="PART", multiple=True, required=True, help="A part wanted on it; repeatable.")
@workspace_option
@json_option
def command(bike: str, parts: tuple[str, ...], workspace: Path | None, as_json: bool) -> None:
    """Work out what fits on BIKE and what else that forces.

    The exit status is 1 where nothing in stock will do, or where the job makes no sense on this bike.

    \b
    Examples:
      spannerleaf fit heron --with cs-11-50-11s
      spannerleaf fit heron --with cs-11-50-11s --json
    """
    library = loaded_soundly(workspace).library
    on = found("bike", bike, library.bikes)
    for name in parts:
        found("part", name, library.parts)
    guide, outcome = _guided(parts, on, library)
    try:
        plan = plan_job(on, wanted_parts(guide, parts, library), library)
    except PlanError as error:
        misused(str(error))
    if as_json:
        click.echo(json.dumps(_as_data(plan, guide, outcome), ensure_ascii=False, indent=2, allow_nan=False))
    else:
        click.echo("\n".join(_lines(plan, outcome)).replace(_NO_BREAK, " "))
    refused = isinstance(outcome, Refused)
    finish(Status.FINDINGS if plan.trouble or refused else Status.DONE)


def _guided(parts: tuple[str, ...], bike: Bike, library: Library) -> tuple[Guide | None, Outcome | None]:
    """The first guide that puts the parts on this bike, and what it comes to; where none suits, the first refusal."""
    refused: tuple[Guide | None, Outcome | None] = (None, None)
    for guide in guides_for(parts, bike, library):
        outcome = work_out(Job(guide=guide, bike=bike, parts=parts, planned=False), library)
        if isinstance(outcome, Ready):
            return guide, outcome
        if refused[0] is None:
            refused = guide, outcome
    return refused


# --- for a program -------------------------------------------------------------------------------


def _as_data(plan: Plan, guide: Guide | None, outcome: Outcome | None) -> dict[str, Any]:
    refused = isinstance(outcome, Refused)
    return {
        "bike": plan.bike.id,
        "wanted": [part.id for part in plan.wanted.values()],
        "guide": None if guide is None else guide.id,
        "refused": outcome.reason if isinstance(outcome, Refused) else None,
        # With the wanted parts alone, so that each "because" of a change is among them; then with all changes.
        "checks": [_check_as_data(result) for result in plan.before],
        "after": [_check_as_data(result) for result in plan.checks],
        "changes": [] if refused else [_change_as_data(change) for change in plan.changes],
        "chain": plan.chain_work.value,
        "buy": [] if refused else [part.id for part in plan.bought],
        "tools": _tools(outcome),
        "measure": [
            {
                "key": missing.key,
                "what": missing.words,
                "how": missing.how,
                "measurement": missing.measurement or None,
                "checks": list(missing.checks),
            }
            for missing in plan.missing
        ],
        "trouble": list(plan.trouble),
        "gears": {
            "before": take_up_as_json(gears_of(plan.bike)),
            "after": take_up_as_json(gears_of(plan.after)),
        },
        "hills": None if (hills := hills_of(plan)) is None else dataclasses.asdict(hills),
    }


def _check_as_data(result: CheckResult) -> dict[str, Any]:
    return {**result_as_json(result), "advice": result.advice}


def _change_as_data(change: Change) -> dict[str, Any]:
    return {
        "role": change.role.value,
        "because": list(change.because),
        "requires": {requirement.limit: _bound(requirement) for requirement in change.requires},
        "limits": [
            {
                "limit": requirement.limit,
                "at-least": requirement.at_least,
                "at-most": requirement.at_most,
                "equals": requirement.equals or None,
                "unit": requirement.unit.value,
            }
            for requirement in change.requires
        ],
        "choice": None if change.choice is None else change.choice.id,
    }


def _bound(requirement: Requirement) -> float | str | None:
    """The figure of a limit; `limits` tells whether it is the least or the most."""
    if requirement.equals:
        return requirement.equals
    return requirement.at_least if requirement.at_least is not None else requirement.at_most


def _tools(outcome: Outcome | None) -> list[str]:
    if not isinstance(outcome, Ready):
        return []
    return [item.tool.id for item in outcome.tailored.tools if item.tool is not None]


# --- for a reader --------------------------------------------------------------------------------


def _lines(plan: Plan, outcome: Outcome | None) -> Iterator[str]:
    parts = ", ".join(part.name for part in plan.wanted.values())
    yield f"{_called(plan.bike)} with {parts}"
    if isinstance(outcome, Refused):
        yield ""
        yield from _wrapped(f"Not for this bike: {outcome.reason}")
        yield from ("", "Checks, with the wanted parts:")
        for result in plan.before:
            yield from _check_lines(result)
        return
    yield from ("", "Checks, with every change made:")
    for result in plan.checks:
        yield from _check_lines(result)
    if plan.changes:
        yield from ("", "What else must change:")
        for change in plan.changes:
            yield from _change_lines(change)
    if plan.trouble:
        yield from ("", "Nothing in stock will do:")
        for line in plan.trouble:
            yield from _wrapped(line, "  ")
    if plan.trouble:
        return
    yield from ("", "Lay out or buy:")
    for part in plan.bought:
        price = "" if part.price_eur is None else f", {part.price_eur:.2f} EUR"
        yield f"  {part.id}  {part.name}{price}"
    if isinstance(outcome, Ready) and outcome.tailored.tools:
        yield from ("", "Tools:")
        yield from _wrapped(", ".join(item.name for item in outcome.tailored.tools), "  ")
    if plan.missing:
        yield from ("", "Measure first:")
        for missing in plan.missing:
            yield from _wrapped(f"{missing.words}: {missing.how} Write it at {missing.key} in the bike's file.", "  ")


def _called(bike: Bike) -> str:
    return f"{bike.name} ({bike.tag})" if bike.tag else bike.name


def _check_lines(result: CheckResult) -> Iterator[str]:
    figures = ""
    if result.value is not None:
        figures = write_quantity(result.value, result.unit, 2)
        if result.limit is not None:
            figures += f", limit {write_quantity(result.limit, result.unit, 2)}"
    yield f"  {result.verdict.value:<14}  {CHECKS[result.check].title}: {figures}".rstrip(": ")
    if result.advice:
        yield from _wrapped(result.advice, " " * 18)


def _change_lines(change: Change) -> Iterator[str]:
    choice = "nothing in stock will do" if change.choice is None else f"{change.choice.id}  {change.choice.name}"
    yield f"  {change.role.value}: {choice}"
    yield from _wrapped(f"because of {', '.join(change.because)}", "    ")
    yield from (f"    {requirement}" for requirement in change.requires)


def _wrapped(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False)
