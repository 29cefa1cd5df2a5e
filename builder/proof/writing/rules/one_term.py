"""One name for one thing: the glossary's name, and none of the words that it sets aside.

Passes:
    Remove the sprockets from the freehub body.
Fails:
    Remove the cogs from the freehub body.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.lexicon import covered
from builder.proof.writing.passages import EVERY_KIND, Passage
from builder.proof.writing.rule import Finding, ste

ID = "W16"
GRAVITY = Gravity.ERROR
SOURCE = ste("rules 1.11 and 9.4")
LIMIT = "the one name that the glossary gives"
KINDS = EVERY_KIND


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every word that the glossary sets aside, unless it is part of another approved name."""
    for sentence in text.sentences:
        words = sentence.lower
        taken = set(covered(words, context.lexicon, least_words=2))
        for synonym in context.lexicon.synonyms:
            if synonym.words[0] not in words:
                continue
            length = len(synonym.words)
            for start in range(len(words) - length + 1):
                places = range(start, start + length)
                if words[start : start + length] == synonym.words and not taken.issuperset(places):
                    taken.update(places)
                    yield Finding(
                        found=f"“{' '.join(synonym.words)}” is not the name that guides use",
                        repair=f"write “{synonym.use}”",
                    )
