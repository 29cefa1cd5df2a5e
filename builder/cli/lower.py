"""`spannerleaf lower`: the cheapest sets of parts that make the lowest gear of a bike so much easier."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import click

from builder.cli.asked import found, loaded_soundly
from builder.cli.common import Status, finish, json_option, misused, workspace_option
from builder.model.units import QuantityError, Unit, read_value, write_number
from builder.planning.lowering import Lowering, lowerings

_MOST_PERCENT = 90.0


@click.command("lower")
@click.argument("bike")
@click.option("--by", "by", metavar="PERCENT", required=True, help="How much easier the lowest gear must become.")
@workspace_option
@json_option
def command(bike: str, by: str, workspace: Path | None, as_json: bool) -> None:
    """Find parts that make the lowest gear of BIKE at least so much easier, the cheapest sets first.

    Every set is told with all that it forces, what is to be ordered, its price and what it costs in range. The exit
    status is 1 where no set of known parts will do.

    \b
    Examples:
      spannerleaf lower heron --by 15%
      spannerleaf lower heron --by 15% --json
    """
    library = loaded_soundly(workspace).library
    on = found("bike", bike, library.bikes)
    percent = _percent(by)
    try:
        sets = lowerings(on, percent, library)
    except LookupError as error:
        misused(f"the gears of '{bike}' can't be worked out: {error.args[0]}")
    if as_json:
        click.echo(json.dumps([_as_data(one) for one in sets], ensure_ascii=False, indent=2, allow_nan=False))
    else:
        click.echo("\n".join(_lines(on.name, percent, sets)))
    finish(Status.DONE if sets else Status.FINDINGS)


def _percent(text: str) -> float:
    try:
        percent = read_value(text if text.strip().endswith("%") else f"{text} %", Unit.PERCENT)
    except QuantityError as error:
        misused(f"--by: {error}")
    if not 0 < percent <= _MOST_PERCENT:
        misused(f"--by: {percent:g} % makes no sense; write more than 0 and at most {_MOST_PERCENT:g} %")
    return percent


def _as_data(one: Lowering) -> dict[str, object]:
    return {
        "wanted": [part.id for part in one.plan.wanted.values()],
        "forced": [
            {
                "part": change.choice.id,
                "count": change.count,
                "because": list(change.because),
                "to-order": change.to_order,
            }
            for change in one.plan.changes
            if change.choice is not None
        ],
        "price": one.price_eur,
        "easier": round(one.easier_percent, 6),
        "highest-gear": round(one.top_percent, 6),
        "range-before": round(one.range_before_percent, 6),
        "range-after": round(one.range_after_percent, 6),
        "measure": [missing.key for missing in one.plan.missing],
    }


def _lines(name: str, percent: float, sets: tuple[Lowering, ...]) -> Iterator[str]:
    wanted = f"{write_number(percent)} %"
    if not sets:
        yield f"{name}: no set of known parts makes the lowest gear {wanted} easier and fits."
        return
    yield f"{name}: parts that make the lowest gear at least {wanted} easier, the cheapest first"
    for number, one in enumerate(sets, 1):
        price = "price not known" if one.price_eur is None else f"{one.price_eur:.2f} EUR"
        yield ""
        yield f"{number}. {write_number(one.easier_percent, 0)} % easier, {price}"
        for part in one.plan.wanted.values():
            yield f"   {part.id}  {part.name}"
        for change in one.plan.changes:
            if change.choice is not None:
                order = ", to order" if change.to_order else ""
                count = f"{change.count} × " if change.count > 1 else ""
                because = ", ".join(change.because)
                yield f"   {change.choice.id}  {count}{change.choice.name}{order} (because of {because})"
        before, after = write_number(one.range_before_percent, 0), write_number(one.range_after_percent, 0)
        kept = "the range stays" if before == after else f"the range goes from {before} to {after} %"
        yield f"   The highest gear changes by {write_number(one.top_percent, 0)} %; {kept}."
        if one.plan.missing:
            yield f"   Measure first: {', '.join(missing.words for missing in one.plan.missing)}"
