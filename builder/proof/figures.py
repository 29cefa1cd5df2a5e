"""Hold the drawing of a step against its step: there is such a drawing, and it shows what the step does."""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Diagnostic, nearest
from builder.drawings.drawing_kind import ShownAct
from builder.drawings.registry import DRAWING_KINDS
from builder.model.guide import Step
from builder.model.library import Library
from builder.model.steps import written_steps

# Seen only with the drawing's own number: which way it turns is then taken from the step.
_ACT_OF_THE_STEP = "act"


def figures_are_right(library: Library) -> tuple[Diagnostic, ...]:
    """Every drawing that does not exist, and every one that shows another act than its step's."""
    return tuple(found for home, step in written_steps(library) if step.figure for found in _of(home, step))


def _of(home: str, step: Step) -> Iterator[Diagnostic]:
    at = step.places.of("figure")
    kind = DRAWING_KINDS.get(step.figure)
    if kind is None:
        near = nearest(step.figure, DRAWING_KINDS)
        yield Diagnostic(
            rule="unknown-name",
            message=f"there is no drawing '{step.figure}'",
            at=at,
            hints=(
                f"did you mean '{near}'?" if near else f"known: {', '.join(sorted(DRAWING_KINDS))}",
                "a drawing is named, and made from the bike's numbers; a photograph of your own goes under 'photo'",
            ),
        )
    elif all(parameter.name != _ACT_OF_THE_STEP for parameter in kind.parameters) and _shows_another(kind.act, step):
        yield Diagnostic(
            rule="figure-act",
            message=f"the drawing '{step.figure}' shows {kind.act.value}, and step '{home}.{step.id}' does not",
            at=at,
            hints=("take the drawing away, or name one that shows the act of this step",),
        )


def _shows_another(act: ShownAct, step: Step) -> bool:
    match act:
        case ShownAct.ANY:
            return False
        case ShownAct.TIGHTENING:
            return step.loosens is not None and step.tightens is None
        case ShownAct.LOOSENING:
            return step.tightens is not None and step.loosens is None
        case ShownAct.LOOKING:
            return step.tightens is not None or step.loosens is not None
