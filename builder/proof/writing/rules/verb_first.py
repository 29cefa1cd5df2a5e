"""A step begins with a verb that says what to do, or with a condition, a comma and then the verb.

Passes:
    Loosen the bolt.
    If the chain is worn, replace it.
    While you turn the cranks, select the smallest sprocket.
    Do not squeeze the brake lever.
Fails:
    The bolt must be loosened.
    Carefully loosen the bolt.
    On the largest sprocket, turn the screw.
    You loosen the bolt.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind
from builder.proof.writing.rule import Finding, quoted, ste

ID = "W07"
GRAVITY = Gravity.ERROR
SOURCE = ste("rules 5.3 and 5.4")
LIMIT = "a verb first, or a condition (if, when, before, after, while ...) with a comma and then the verb"
KINDS = (TextKind.INSTRUCTION,)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """The first sentence, where no command stands at its head or right after its condition."""
    del context
    if not text.sentences:
        return
    first = text.sentences[0]
    if first.opener and first.condition_end is None:
        if any(token.is_mark(",") for token in first.tokens):
            yield Finding(
                found=f"no verb follows the condition: {quoted(first.sentence.text)}",
                repair="write the condition, a comma, then the verb: “If ..., replace ...”",
            )
        return
    start = 0 if first.condition_end is None else first.condition_end + 1
    head = first.lower[start : start + 2]
    place = start + 2 if head == ("do", "not") else start
    if place in first.commands:
        return
    word = first.tokens[start].text if start < len(first.tokens) else ""
    yield Finding(
        found=f"the step begins with “{word}”, not with a verb: {quoted(first.sentence.text)}",
        repair="begin with the verb that says what to do, or with If, When, Before, After or While",
    )
