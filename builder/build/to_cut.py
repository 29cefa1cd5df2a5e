"""All cards of a bike on sheets to cut: one file for the printer, beside the cards and not on the site."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from builder.build.cards import GENERIC, Card
from builder.build.order import Order
from builder.pages.paper import Paper
from builder.printing.sheets_to_cut import sheets_to_cut


def name_of(card: Paper, sheet: Paper) -> str:
    """The file with cards of one paper on sheets of another."""
    return f"to-cut-{card.value}-on-{sheet.value}.pdf"


def files_to_cut(
    cards: Iterable[Card], order: Order, read: Callable[[str], bytes | None]
) -> Iterator[tuple[str, bytes]]:
    """The path of each file below the folder of the cards, and the file; none where no sheets are ordered.

    `read` gives the PDF of a card by its path, or None where it was left out.
    """
    if order.sheet is None:
        return
    found: dict[tuple[str, Paper], list[str]] = {}
    for card in cards:
        found.setdefault((card.bike or GENERIC, card.paper), []).append(card.path)
    for (bike, paper), paths in found.items():
        printed = [data for path in paths if (data := read(path)) is not None]
        if printed:
            data = sheets_to_cut(printed, paper, order.sheet, double=not order.one_sided, rounded=order.rounded)
            yield f"{bike}/{name_of(paper, order.sheet)}", data
