"""Every sentence of a guide as it may stand on a card: its own texts and those of its steps, shared ones included."""

from __future__ import annotations

from collections.abc import Iterator

from builder.model.guide import Guide
from builder.model.inlining import inlined
from builder.proof.writing.context import Context
from builder.proof.writing.passages import ON_CARD, Element, step_element
from builder.proof.writing.tagging import Tagged


def card_sentences(element: Element[Guide], context: Context) -> Iterator[Tagged]:
    """The sentences of the guide's own texts, then of its steps in the order in which they are done."""
    texts = list(element.passages)
    for placed in inlined(element.record, context.library):
        texts += step_element(placed.step, context).passages
    for text in texts:
        if text.kind in ON_CARD:
            yield from text.sentences
