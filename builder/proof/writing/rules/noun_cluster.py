"""At most three nouns stand side by side.

A hyphenated word counts as one, an adjective as none. A name of the catalogue counts by its words too.

Passes:
    Loosen the cable clamp bolt.
    Remove the bolt of the rear brake cable clamp.
Fails:
    Loosen the brake cable clamp bolt.
    Put the bottom bracket shell thread tool on the bench.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import ON_CARD, Passage, TextKind
from builder.proof.writing.rule import Finding, ste
from builder.proof.writing.tagging import Tag, Tagged

ID = "W14"
GRAVITY = Gravity.WARNING
SOURCE = ste("rules 2.1 and 2.2")
MOST_NOUNS = 3
LIMIT = f"at most {MOST_NOUNS} nouns side by side"
KINDS = (*ON_CARD, TextKind.TITLE)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every run of too many nouns."""
    del context
    for sentence in text.sentences:
        for cluster in _clusters(sentence):
            if len(cluster) > MOST_NOUNS:
                yield Finding(
                    found=f"{len(cluster)} nouns side by side: “{' '.join(cluster)}”",
                    repair="part them with “of” or “for”, or join two of them with a hyphen",
                )


def _clusters(sentence: Tagged) -> Iterator[tuple[str, ...]]:
    run: list[str] = []
    for token, tag in zip(sentence.tokens, sentence.tags, strict=True):
        if tag is Tag.NOUN:
            run.append(token.text)
        elif not (tag is Tag.ADJECTIVE and run):
            yield tuple(run)
            run = []
    yield tuple(run)
