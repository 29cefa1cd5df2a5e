"""The cards of a build: what each is made from, and its PDF from the store or fresh from the printer."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from builder.build.jobs import Ready
from builder.build.order import Order, Progress
from builder.build.printer import Printer
from builder.build.store import Store
from builder.build.workers import print_all
from builder.model.catalogue import Workshop
from builder.pages.paper import Paper

GENERIC = "generic"


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A card set before it is printed. `path` is below the folder of the cards; `bike` is empty for a generic guide."""

    guide: str
    bike: str
    paper: Paper
    path: str
    html: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CardPdf:
    """A printed card set, what did not fit on it, and whether it was printed just now."""

    data: bytes
    overflows: tuple[str, ...]
    new: bool


def card_of(ready: Ready, paper: Paper, printer: Printer, workshop: Workshop) -> Card:
    """The card set of a job on one paper."""
    guide, bike = ready.job.guide, ready.job.bike
    return Card(
        guide=guide.id,
        bike="" if bike is None else bike.id,
        paper=paper,
        path=f"{GENERIC if bike is None else bike.id}/{guide.id}-{paper.value}.pdf",
        html=printer.html(ready.tailored, paper, workshop),
    )


def printed_cards(
    cards: Iterable[Card], store: Store, printer: Printer, order: Order, progress: Progress
) -> Iterator[tuple[Card, CardPdf]]:
    """Each card with its PDF: what the store holds first, then the others as they are printed."""
    due: dict[str, list[Card]] = {}
    for card in cards:
        key = printer.key(card.html)
        kept = store.get(key)
        if kept is None:
            due.setdefault(key, []).append(card)
        else:
            yield card, _unpacked(kept)
    if not due:
        return
    html = {key: alike[0].html for key, alike in due.items()}
    for key, printed in print_all(html, order, printer, lambda: progress.begin("Printing the cards", len(html))):
        pdf = CardPdf(data=printed.data, overflows=tuple(map(str, printed.overflows)), new=True)
        store.put(key, _packed(pdf))
        progress.advance()
        yield from ((card, pdf) for card in due[key])


def _packed(pdf: CardPdf) -> bytes:
    """What did not fit is kept beside the PDF, so that it is said again by a build that prints nothing."""
    return json.dumps(pdf.overflows, ensure_ascii=False).encode() + b"\n" + pdf.data


def _unpacked(kept: bytes) -> CardPdf:
    line, _, data = kept.partition(b"\n")
    return CardPdf(data=data, overflows=tuple(json.loads(line)), new=False)
