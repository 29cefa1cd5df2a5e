"""A step that inspects, compares or measures says what is wanted: in `prove`, `limit` or `until`, or by a measurement.

Passes:
    {do: Inspect the chain for damage., prove: No plate is bent and no roller is cracked.}
    {do: Measure the rotor., limit: At least 1.5 mm.}
    {do: Compare the two readings., choose: [{do: "If they differ, stop."}, {do: "If they agree, go on."}]}
Fails:
    {do: Inspect the chain for damage.}
    {do: Measure the rotor.}
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Step
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element, TextKind
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "W25"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(
    title="Degani and Wiener 1990, NASA CR-177549", locator="appendix A, guideline 4", known=Known.RESTATED
)
LIMIT = "'prove', 'limit', 'until', 'measure' or 'choose' in a step that looks at something"
_LOOKS = frozenset({"inspect", "compare", "measure"})


def check(element: Element[Step], context: Context) -> Iterator[Finding]:
    """A step that looks and does not say what is wanted."""
    del context
    step = element.record
    if step.prove or step.limit or step.until or step.measure or step.choose:
        return
    for text in element.passages:
        if text.kind is not TextKind.INSTRUCTION:
            continue
        for sentence in text.sentences:
            if verbs := [sentence.lower[place] for place in sentence.commands if sentence.lower[place] in _LOOKS]:
                yield Finding(
                    found=f"“{verbs[0]}” without what is wanted",
                    repair="add 'prove' with the state to see, or 'limit' with the value",
                    at=text.at,
                )
                return
