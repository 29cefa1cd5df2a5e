"""`spannerleaf reckon`: any check from the stand, from plain numbers, without a bike's file."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator
from difflib import get_close_matches
from itertools import groupby

import click

from builder.checks.check import AnyCheck
from builder.checks.reckoning import range_words, reckon_texts, result_as_json
from builder.checks.registry import CHECKS, UnknownCheck, find_check
from builder.checks.result import CheckResult, Input, InputError, Kind, Verdict
from builder.cli.common import Status, finish
from builder.model.units import Unit, write_quantity, written_units

_VERDICT_WORDS = {
    Verdict.FITS: "Fits.",
    Verdict.WITH_CARE: "Fits with care.",
    Verdict.DOES_NOT_FIT: "Does not fit.",
    Verdict.MEASURE_FIRST: "Measure first.",
}
_WIDTH = 100


@click.command(add_help_option=False)
@click.argument("check", required=False, metavar="CHECK")
@click.argument("given", nargs=-1, metavar="NAME=QUANTITY...")
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--list", "listing", is_flag=True, help="Name every check with its inputs and their units.")
@click.option("-h", "--help", "explain", is_flag=True, help="Show this; after CHECK, explain that check.")
@click.pass_context
def command(
    ctx: click.Context, check: str | None, given: tuple[str, ...], as_json: bool, listing: bool, explain: bool
) -> None:
    """Answer CHECK from plain numbers, with the working that a pencil can follow.

    Quantities take any sensible unit (mm, cm, in; N·m, in·lbf, ft·lbf; bar, psi; kg, lb; km/h, mph; deg), and a
    tolerance: 'chainstay=425 ± 2 mm' or 'chainstay=425±2mm'. An answer that the tolerance could turn says so. Lists
    have commas: rings=48,31. The exit status is 1 where the answer is "does not fit".

    \b
    Examples:
      spannerleaf reckon chain-length chainstay=425mm ring=32 sprocket=40
      spannerleaf reckon adaptor-setting torque=40N·m wrench=350mm adaptor=50mm angle=0deg --json
      spannerleaf reckon chain-length --help
      spannerleaf reckon --list
    """
    if check is not None and "=" in check:
        raise click.UsageError(f"name the check before its inputs: reckon CHECK {check}; 'reckon --list' names them")
    if listing:
        listed = [_found(check)] if check is not None else list(CHECKS.values())
        click.echo(_as_json([_check_as_json(one) for one in listed]) if as_json else "\n".join(_list_lines(listed)))
    elif explain:
        click.echo(ctx.get_help() if check is None else "\n".join(_page_lines(_found(check))))
    elif check is None:
        raise click.UsageError("name a check, such as 'reckon chain-length --help'; 'reckon --list' names them all")
    else:
        _answer(_found(check), given, as_json)


def _found(name: str) -> AnyCheck:
    try:
        return find_check(name)
    except UnknownCheck as error:
        raise click.UsageError(str(error)) from None


def _answer(check: AnyCheck, given: tuple[str, ...], as_json: bool) -> None:
    try:
        result = reckon_texts(check, _inputs(check, given))
    except InputError as error:
        raise click.UsageError(str(error)) from None
    click.echo(_as_json(result_as_json(result)) if as_json else "\n".join(_answer_lines(check, result)))
    finish(Status.FINDINGS if result.verdict is Verdict.DOES_NOT_FIT else Status.DONE)


def _inputs(check: AnyCheck, given: tuple[str, ...]) -> dict[str, str]:
    texts: dict[str, str] = {}
    for one in given:
        name, sign, text = one.partition("=")
        name = name.strip()
        if not sign:
            near = get_close_matches(name, [item.name for item in check.inputs], n=1)
            raise InputError(f"'{one}' gives nothing; write {near[0] if near else check.inputs[0].name}=QUANTITY")
        if name in texts:
            raise InputError(f"{name} is given twice: {texts[name]} and {text.strip()}")
        texts[name] = text.strip()
    return texts


def _as_json(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False)


# --- the answer ----------------------------------------------------------------------------------


def _answer_lines(check: AnyCheck, result: CheckResult) -> Iterator[str]:
    yield f"{check.title}: {_VERDICT_WORDS[result.verdict]}"
    if result.value is not None:
        yield f"  value   {_quantity(result.value, result.unit)}"
    if result.limit is not None:
        yield f"  limit   {_quantity(result.limit, result.unit)}"
    if result.margin is not None:
        yield f"  margin  {_quantity(result.margin, result.unit)}"
    if result.values:
        width = max(len(item.name) for item in result.values)
        yield from ("", "Further results:")
        yield from (f"  {item.name:<{width}}  {_quantity(item.value, item.unit)}" for item in result.values)
    if result.working:
        yield from ("", "Working:")
        for line in result.working:
            yield from _wrapped(line, "  ")
    if result.advice:
        yield ""
        yield from _wrapped(result.advice)
    if result.source:
        yield ""
        yield from _wrapped(f"Source: {result.source}")


def _quantity(value: float, unit: Unit) -> str:
    return write_quantity(value, unit, 4)


def _wrapped(text: str, indent: str = "") -> list[str]:
    """`text` in lines; a formula is broken only where it must be."""
    return textwrap.wrap(
        text, _WIDTH, initial_indent=indent, subsequent_indent=indent + "  " * bool(indent), break_on_hyphens=False
    )


# --- the list and the page of a check ------------------------------------------------------------


def _list_lines(checks: list[AnyCheck]) -> Iterator[str]:
    for family, members in groupby(checks, key=lambda check: check.family):
        yield f"{family}"
        for check in members:
            yield f"  {check.name}  {check.title}"
            yield from (f"      {_input_line(item)}" for item in check.inputs)
        yield ""
    yield "Inputs in [brackets] can be left out. 'spannerleaf reckon CHECK --help' explains one check."


def _input_line(item: Input) -> str:
    name = f"[{item.name}]" if _optional(item) else item.name
    facts = [_kind_words(item), range_words(item)]
    if item.default is not None:
        facts.append(f"without it {_default_words(item)}")
    return f"{name}: {item.words} ({'; '.join(fact for fact in facts if fact)})"


def _optional(item: Input) -> bool:
    return item.optional or item.default is not None


def _kind_words(item: Input) -> str:
    match item.kind:
        case Kind.QUANTITY:
            return item.unit.value or "a number"
        case Kind.WHOLE | Kind.WHOLE_LIST | Kind.QUANTITY_LIST | Kind.TEXT:
            return f"{item.kind.value}{f', {item.unit.value}' if item.unit is not Unit.ONE else ''}"
        case Kind.CHOICE:
            return ""


def _default_words(item: Input) -> str:
    default = item.default
    if isinstance(default, tuple):
        return ",".join(map(str, default))
    if default is None or isinstance(default, str):
        return default or ""
    return write_quantity(default, item.unit, 6)


def _page_lines(check: AnyCheck) -> Iterator[str]:
    yield f"{check.name}: {check.title}"
    yield ""
    yield from _wrapped(check.purpose)
    yield from ("", "Inputs:")
    for item in check.inputs:
        yield from _wrapped(_input_line(item), "  ")
    units = sorted(
        {item.unit for item in check.inputs if item.kind is Kind.QUANTITY and item.unit is not Unit.ONE}, key=str
    )
    yield from (f"  {unit.value} may be written as: {', '.join(written_units(unit))}" for unit in units)
    yield from ("", "Formula:")
    yield from _wrapped(check.formula, "  ")
    if check.notes:
        yield ""
        yield from _wrapped(check.notes)
    if check.at_verdict:
        yield from ("", "What to do:")
        for verdict, words in check.at_verdict.items():
            yield from _wrapped(f"{_VERDICT_WORDS[verdict]} {words}", "  ")
    if check.example:
        written = (f"{name}={text}" for name, text in check.example.items())
        line = " ".join(f"'{one}'" if " " in one or "#" in one else one for one in written)
        yield from ("", "Example:", f"  spannerleaf reckon {check.name} {line}")
    yield ""
    yield from _wrapped(f"Source: {check.source}")


def _check_as_json(check: AnyCheck) -> dict[str, object]:
    return {
        "check": check.name,
        "family": check.family,
        "title": check.title,
        "purpose": check.purpose,
        "inputs": [_input_as_json(item) for item in check.inputs],
        "source": str(check.source),
    }


def _input_as_json(item: Input) -> dict[str, object]:
    return {
        "name": item.name,
        "words": item.words,
        "kind": item.kind.value,
        "unit": item.unit.value,
        "low": item.low,
        "high": item.high,
        "choices": list(item.choices),
        "default": list(item.default) if isinstance(item.default, tuple) else item.default,
        "optional": _optional(item),
    }
