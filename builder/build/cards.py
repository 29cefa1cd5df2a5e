"""The cards of a build: what each is made from, and its PDF from the store or fresh from the printer."""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Protocol

from builder.build.cluster import ToPrint
from builder.build.legible import card_texts
from builder.build.letters import finding
from builder.build.order import Order, Progress
from builder.build.printer import Content, Printer
from builder.build.store import Store
from builder.build.workers import print_all
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.catalogue import Workshop
from builder.model.position import Position
from builder.pages.form import Form
from builder.pages.leaf import UPRIGHT, Shape
from builder.pages.paper import Paper
from builder.printing.legibility import CardTexts
from builder.proof.jobs import Ready

GENERIC = "generic"
CARDS = "cards"


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A card set before it is printed. `path` is below the folder of the cards; `bike` is empty for a generic guide.

    `packed_html` is its document, packed, since a build holds those of a whole fleet. `texts` is what the rules of
    print look for on it; without them they are not asked. `content` is the printer's own word of both.
    """

    guide: str
    bike: str
    form: Form
    paper: Paper
    path: str
    packed_html: bytes
    texts: CardTexts | None = None
    content: Content | None = None

    @property
    def html(self) -> str:
        """The card as one HTML document."""
        return zlib.decompress(self.packed_html).decode() if self.packed_html else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardPdf:
    """A printed card set, what did not fit on it, what breaks a rule of print, and whether it was printed just now."""

    data: bytes
    overflows: tuple[str, ...]
    findings: tuple[Diagnostic, ...]
    new: bool


def card_of(
    ready: Ready,
    form: Form,
    paper: Paper,
    printer: Printer,
    workshop: Workshop,
    *,
    code: str = "",
    shape: Shape = UPRIGHT,
    printing: bool = True,
) -> Card:
    """The card set of a job in one form on one paper; where it is not printed, its path alone.

    `code` is that of the card, where it is known already.
    """
    guide, bike = ready.job.guide, ready.job.bike
    html = printer.html(ready.tailored, paper, workshop, form=form, code=code, shape=shape) if printing else ""
    texts = card_texts(ready.tailored, form, shape) if printing else None
    return Card(
        guide=guide.id,
        bike="" if bike is None else bike.id,
        form=form,
        paper=paper,
        path=f"{GENERIC if bike is None else bike.id}/{form.name_of(guide.id, paper)}.pdf",
        packed_html=packed_html(html) if printing else b"",
        texts=texts,
        content=printer.content(html, texts) if printing else None,
    )


def packed_html(html: str) -> bytes:
    """A document as a card holds it."""
    return zlib.compress(html.encode(), 1)


class Placed(ToPrint, Protocol):
    """What is printed, and where its PDF goes: a card set, a service sheet or a chart."""

    @property
    def path(self) -> str:
        """Its path below the folder of the cards."""

    @property
    def content(self) -> Content | None:
        """What the printer said of it before, if it did."""


def printed_cards(
    cards: Iterable[Placed], store: Store, printer: Printer, order: Order, progress: Progress
) -> Iterator[tuple[Placed, CardPdf]]:
    """Each card with its PDF: what the store holds first, then the others as they are printed."""
    due: dict[str, list[tuple[Placed, str]]] = {}
    for card in cards:
        content = card.content or printer.content(card.html, card.texts)
        key = printer.key_of(content)
        kept = store.get(key)
        if kept is None:
            due.setdefault(key, []).append((card, content.lacking))
        else:
            yield card, _at(card, _unpacked(kept), content.lacking)
    if not due:
        return
    first = {key: alike[0][0] for key, alike in due.items()}
    for key, printed in print_all(first, order, printer, progress):
        overflows = tuple(map(str, printed.overflows))
        pdf = CardPdf(data=printed.data, overflows=overflows, findings=printed.findings, new=True)
        store.put(key, _packed(pdf))
        yield from ((card, _at(card, pdf, letters)) for card, letters in due[key])


def _at(card: Placed, pdf: CardPdf, letters: str) -> CardPdf:
    """The findings at the card's own file, with the side as the line; letters without a face are one of them."""
    file = f"{CARDS}/{card.path}"
    found = (*pdf.findings, *((finding(letters),) if letters else ()))
    return replace(pdf, findings=tuple(replace(one, at=Position(file, one.at.line, 0)) for one in found))


def _packed(pdf: CardPdf) -> bytes:
    """What there is to say is kept beside the PDF, so that it is said again by a build that prints nothing."""
    findings = [[one.rule, one.message, one.at.line, one.gravity, one.label, one.hints] for one in pdf.findings]
    return json.dumps([pdf.overflows, findings], ensure_ascii=False).encode() + b"\n" + pdf.data


def _unpacked(kept: bytes) -> CardPdf:
    line, _, data = kept.partition(b"\n")
    overflows, findings = json.loads(line)
    found = (
        Diagnostic(
            rule=rule,
            message=message,
            at=Position("", side, 0),
            gravity=Gravity(gravity),
            label=label,
            hints=tuple(hints),
        )
        for rule, message, side, gravity, label, hints in findings
    )
    return CardPdf(data=data, overflows=tuple(overflows), findings=tuple(found), new=False)
