"""A guide ends with a test, and its last step says what shows that it is passed.

Passes:
    (test: [{do: Squeeze each brake lever., prove: Each lever becomes hard before it touches the handlebar.}])
Fails:
    (test: [])
    (test: [{do: Squeeze each brake lever.}])
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Guide, Step
from builder.model.inlining import Phase, inlined
from builder.proof.writing.context import Context
from builder.proof.writing.passages import Element
from builder.proof.writing.rule import Finding, Known, RuleSource

ID = "S17"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="S1000D, closing requirements and function tests; OASIS DITA, result", known=Known.RESTATED)
LIMIT = "a test at the end, whose last step has 'prove', 'limit' or 'measure'"


def check(element: Element[Guide], context: Context) -> Iterator[Finding]:
    """No test, and a last step of the test that shows nothing."""
    guide = element.record
    tests = [placed.step for placed in inlined(guide, context.library) if placed.phase is Phase.TEST]
    at = guide.places.of("test")
    if not tests:
        yield Finding(found="the guide has no test", repair="add 'test', with what proves the work", at=at)
    elif not _shows(tests[-1]):
        yield Finding(
            found=f"the last step of the test, '{tests[-1].id}', does not say what is seen when it is passed",
            repair="add 'prove' to it",
            at=at,
        )


def _shows(step: Step) -> bool:
    return bool(step.prove or step.limit or step.measure)
