"""A sentence tells the reader to do one thing, unless two things must be done at once.

A second command after "and", "or", "then", a comma or a semicolon is found. Where both acts belong together, such as
one hand that holds and the other that turns, the step says so with `at-once: true`.

Passes:
    Loosen the bolt. Remove the washer.
    Make sure that the chain and the cable move freely.
    Clean the hub and the thread.
    If the chain is worn, replace it.
Fails:
    Loosen the bolt and remove the washer.
    Open the lever, then pull the wheel out.
    Clean and grease the thread.
    Turn the crank; select the smallest sprocket.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import CAUTIONS, Passage, TextKind
from builder.proof.writing.rule import Finding, quoted, ste

ID = "W06"
GRAVITY = Gravity.ERROR
SOURCE = ste("rule 5.2")
LIMIT = "one instruction in a sentence, unless two acts must be done at once"
KINDS = (TextKind.INSTRUCTION, *CAUTIONS)


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every sentence with a second command, unless its step says `at-once: true`."""
    del context
    if text.step is not None and text.step.at_once:
        return
    for sentence in text.sentences:
        commands = [sentence.tokens[place].text for place in sentence.commands]
        if len(commands) > 1:
            listed = ", ".join(f"“{command}”" for command in commands)
            yield Finding(
                found=f"{len(commands)} instructions in one sentence ({listed}): {quoted(sentence.sentence.text)}",
                repair="write a step or a sentence for each, or 'at-once: true' where they must be done together",
            )
