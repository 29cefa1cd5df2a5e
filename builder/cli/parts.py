"""`spannerleaf parts`: which parts are known, by what one looks for."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import click

from builder.cli.common import Status, counted, finish, json_option, misused, workspace_option
from builder.cli.lookup import loaded_soundly
from builder.cli.part_filters import FilterError, fact_filter, has_mount, has_speeds, has_teeth, mentions
from builder.model.library import Library
from builder.model.parts import KINDS, Part, folder_of
from builder.pages.part_facts import facts_of
from builder.sources.hints import choices

_WIDTH = 100
_NO_BREAK = "\u00a0"


@click.command("parts")
@click.argument("kind", required=False)
@click.option("--text", metavar="WORDS", default="", help="Words in its id, name, note or facts.")
@click.option("--teeth", metavar="N", type=int, help="A sprocket or ring of N teeth, or made for such a sprocket.")
@click.option("--speeds", metavar="N", type=int, help="For N sprockets.")
@click.option("--mount", metavar="NAME", help="Sits on this mount, such as nine-spline, six-bolt or post-mount.")
@click.option("--under", metavar="EUROS", type=float, help="Its price is known and at most this.")
@click.option("--stock", is_flag=True, help="On the workshop's shelf.")
@click.option(
    "--where",
    metavar="FACT=VALUE",
    multiple=True,
    help="A fact by its key, such as stack=36.5mm or 'links>=116'; repeatable. What is not known does not pass.",
)
@workspace_option
@json_option
def command(
    kind: str | None,
    text: str,
    teeth: int | None,
    speeds: int | None,
    mount: str | None,
    under: float | None,
    stock: bool,
    where: tuple[str, ...],
    workspace: Path | None,
    as_json: bool,
) -> None:
    """List the parts that are known: those that come with Spannerleaf, and your own. KIND is such as cassette or chain.

    All filters must hold. The exit status is 1 where no part is left.

    \b
    Examples:
      spannerleaf parts cassette --teeth 42 --stock
      spannerleaf parts rear-derailleur --speeds 11 --under 60
      spannerleaf parts --text carbon
      spannerleaf parts chain --where 'links>=116' --json
    """
    if kind is not None and kind not in KINDS:
        misused(f"unknown kind of part '{kind}'; {choices(kind, KINDS, 'the kinds are')}")
    library = loaded_soundly(workspace).library
    shelf = {item.part: item.count for item in library.workshop.stock}
    try:
        wanted: list[Callable[[Part], bool]] = [fact_filter(one, kind) for one in where]
    except FilterError as error:
        misused(str(error))
    if kind is not None:
        wanted.insert(0, lambda part: folder_of(part) == kind)
    if text:
        wanted.append(lambda part: mentions(part, text))
    if teeth is not None:
        wanted.append(lambda part: has_teeth(part, teeth))
    if speeds is not None:
        wanted.append(lambda part: has_speeds(part, speeds))
    if mount is not None:
        wanted.append(lambda part: has_mount(part, mount))
    if under is not None:
        wanted.append(lambda part: part.price_eur is not None and part.price_eur <= under)
    if stock:
        wanted.append(lambda part: shelf.get(part.id, 0) > 0)
    found = [part for part in library.parts.values() if all(one(part) for one in wanted)]
    if as_json:
        click.echo(json.dumps([_as_data(part, shelf) for part in found], ensure_ascii=False, indent=2))
    else:
        click.echo("\n".join(_lines(found, shelf, library)))
    finish(Status.DONE if found else Status.FINDINGS)


def _as_data(part: Part, shelf: dict[str, int]) -> dict[str, Any]:
    return {
        "id": part.id,
        "kind": folder_of(part),
        "name": part.name,
        "price-eur": part.price_eur,
        "stock": shelf.get(part.id, 0),
        "facts": {label: value.replace(_NO_BREAK, " ") for label, value in facts_of(part)},
    }


def _lines(found: list[Part], shelf: dict[str, int], library: Library) -> Iterator[str]:
    """Kind by kind: id, name, price and count on the shelf in columns, the facts below."""
    if not found:
        yield "No known part is like that. 'spannerleaf new part' starts one of your own."
        return
    ids = max(len(part.id) for part in found)
    names = max(len(part.name) for part in found)
    kinds = list(dict.fromkeys(folder_of(part) for part in found))
    for kind in sorted(kinds, key=list(KINDS).index):
        yield f"{kind}:"
        for part in (one for one in found if folder_of(one) == kind):
            price = "-" if part.price_eur is None else f"{part.price_eur:.2f} EUR"
            held = f"{shelf[part.id]} in stock" if shelf.get(part.id) else ""
            yield f"  {part.id:<{ids}}  {part.name:<{names}}  {price:>11}  {held}".rstrip()
            facts = "; ".join(f"{label} {value}" for label, value in facts_of(part)).replace(_NO_BREAK, " ")
            yield from textwrap.wrap(facts, _WIDTH, initial_indent="      ", subsequent_indent="      ")
    yield counted(len(found), "part") + ("" if library.workshop.stock else "; nothing is written as stock")
