"""No vague word without a number, a feel or a state that shows what is meant.

"Etc.", "and/or", "as required" and their like are never clear. A word of degree ("tight", "slightly") is clear only
beside a figure in the same sentence, or where the step goes on with `until`, `limit`, `prove` or a torque.

Passes:
    Tighten the bolt to {{ torque }}.
    Press the lever until the pad is 0.3 mm from the rotor.
    Make sure that the chain is long enough to reach the largest sprocket.
Fails:
    Tighten the bolt until it is tight.
    Apply grease as required.
    Remove the bolts and/or nuts.
    Turn the screw slightly.
    Push the housing until there is enough space.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Step
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Passage, TextKind
from builder.proof.writing.prose import Kind
from builder.proof.writing.rule import Finding, Known, RuleSource, quoted
from builder.proof.writing.tagging import Tagged

ID = "W21"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="DOE-STD-1029-92, and MIL-STD-2106A(SH) 4.4.1 (“free of vague and ambiguous terms”)",
    known=Known.RESTATED,
)
LIMIT = "no vague word without a number, a feel or a state to see"
KINDS = (TextKind.INSTRUCTION, TextKind.RESULT, TextKind.UNTIL)
_NEVER = re.compile(
    r"\betc\b\.?|\band/or\b|\b(?:as|if|when|where) (?:required|needed|necessary|appropriate|applicable|desired)\b"
    r"|\band so (?:on|forth)\b|\bin good condition\b|\bto taste\b",
    re.IGNORECASE,
)
_DEGREE = re.compile(
    r"\b(?:tight|tightly|snug|snugly|sufficient|sufficiently|adequate|adequately|approximately|roughly|slightly"
    r"|a little|a bit|somewhat|excessive|excessively|appropriate|appropriately|suitable|suitably|proper"
    r"|properly|correctly"
    r"|enough(?! (?:to|for|that)\b)"
    r"|securely|reasonable|reasonably|moderate|moderately|generous|generously|as far as possible)\b",
    re.IGNORECASE,
)
# Words of tightness, which only a figure or a feel makes clear.
_TIGHTNESS = frozenset({"tight", "tightly", "snug", "snugly", "securely"})


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every vague word that nothing makes clear."""
    del context
    for sentence in text.sentences:
        plain = sentence.sentence.text
        vague = [found[0] for found in _NEVER.finditer(plain)]
        if not _has_figure(sentence):
            vague += [found[0] for found in _DEGREE.finditer(plain) if not _made_clear(found[0].lower(), text)]
        for word in vague:
            yield Finding(
                found=f"“{word}” is vague: {quoted(plain)}",
                repair="give a number, a feel (“until the lever leaves a mark in the palm”) or a state to see",
            )


def _has_figure(sentence: Tagged) -> bool:
    return any(token.kind in (Kind.NUMBER, Kind.VALUE, Kind.UNIT) for token in sentence.tokens)


def _made_clear(word: str, text: Passage) -> bool:
    """Whether the step says with something else what the word in its instruction means."""
    step = text.step
    if step is None or text.kind is not TextKind.INSTRUCTION:
        return False
    if word in _TIGHTNESS:
        return step.tightens is not None or _shown_by_text(step)
    return step.figure != "" or step.measure is not None or _shown_by_text(step)


def _shown_by_text(step: Step) -> bool:
    return bool(step.until or step.limit or step.prove)
