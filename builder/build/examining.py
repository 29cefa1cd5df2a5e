"""Ask the gate on all cores, and remember what was found sound."""

from __future__ import annotations

from collections.abc import Iterable

from builder.build.order import Progress
from builder.build.proving import Prover, kept_marks
from builder.build.remembering import remembered_findings
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.memory import Memory
from builder.proof.gate import gate, reached
from builder.sources.loaded import Loaded


def examined(
    loaded: Loaded,
    processes: int,
    progress: Progress,
    *,
    building: bool = False,
    memory: Memory | None = None,
) -> tuple[Diagnostic, ...]:
    """What the gate finds in all that was read; what was found sound before is not proven again.

    Notes about the library below a workspace are left out: it is not the workspace's to change.
    """

    def find() -> tuple[Diagnostic, ...]:
        prover = Prover(texts=loaded.texts, store=kept_marks(), processes=processes, progress=progress, memory=memory)
        return gate(loaded.library, sound=is_sound(loaded), building=building, prove=prover.findings)

    found = remembered_findings(loaded, "gate, building" if building else "gate", find)
    return tuple(one for one in found if one.gravity is not Gravity.NOTE or one.at.file not in loaded.laid_under)


def examined_for(
    loaded: Loaded, guides: Iterable[str], bikes: Iterable[str], progress: Progress
) -> tuple[Diagnostic, ...]:
    """What the gate finds in what these guides and bikes reach, for a card that is made by itself."""
    prover = Prover(texts=loaded.texts, store=kept_marks(), progress=progress, whole=loaded.library)
    part = reached(loaded.library, guides, bikes)
    # The job itself is worked out by whoever makes the card, with the parts that are named there.
    return gate(part, sound=is_sound(loaded), whole=False, building=True, prove=prover.findings)


def is_sound(loaded: Loaded) -> bool:
    """Whether every source could be read; passes over the whole wait until it is."""
    return not any(diagnostic.gravity is Gravity.ERROR for diagnostic in loaded.diagnostics)
