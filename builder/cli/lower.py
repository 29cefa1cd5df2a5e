"""`spannerleaf lower`: the cheapest sets of parts that make the lowest gear of a bike so much easier."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import click

from builder.cli.common import Status, finish, json_option, misused, workspace_option
from builder.cli.lookup import found, loaded_soundly
from builder.model.units import QuantityError, Unit, read_value, write_number
from builder.planning.lowering import Lowering, lowerings
from builder.rider.lowered import lowering_as_data, lowering_lines

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
        click.echo(json.dumps([lowering_as_data(one) for one in sets], ensure_ascii=False, indent=2, allow_nan=False))
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


def _lines(name: str, percent: float, sets: tuple[Lowering, ...]) -> Iterator[str]:
    wanted = f"{write_number(percent)} %"
    if not sets:
        yield f"{name}: no set of known parts makes the lowest gear {wanted} easier and fits."
        return
    yield f"{name}: parts that make the lowest gear at least {wanted} easier, the cheapest first"
    for number, one in enumerate(sets, 1):
        title, *rest = lowering_lines(one)
        yield ""
        yield f"{number}. {title}"
        yield from (f"   {line}" for line in rest)
