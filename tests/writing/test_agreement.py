"""What the rule of writing takes for a verb first is read as an act by the rules that attach cautions, and the reverse.

A caution can attach only to an act that is read; so an instruction that keeps the rule must never be read as none.
"""

from __future__ import annotations

from builder.model.guide import Step
from builder.model.verbs import acts
from builder.proof.writing.passages import TextKind
from tests.demo import library
from tests.writing.report import cases
from tests.writing.trying import found_in_text, shipped

GOOD = [case.text for case in cases() if case.kind is TextKind.INSTRUCTION and not case.breaks]
STEPS = [
    (step.id, text)
    for items in (
        *(section.steps for guide in library().guides.values() for section in guide.work),
        *(procedure.steps for procedure in library().procedures.values()),
    )
    for step in items
    if isinstance(step, Step)
    for text in (step.do, *(choice.do for choice in step.choose))
]


def test_an_instruction_that_keeps_the_rule_is_read_as_an_act() -> None:
    for text in (*GOOD, *(text for _, text in STEPS)):
        broken = set(found_in_text(TextKind.INSTRUCTION, text))
        assert not broken & {"W07", "W17"}, text
        assert acts(text, shipped().library.verbs)[0].verb, text
