"""What a piece of work can read at all: the library without the records that have no say in it.

The key of the work names what is left, and the work is given what is left, so that no result can hang on anything that
its key leaves out.
"""

from __future__ import annotations

from dataclasses import replace

from builder.model.dress import Dress
from builder.model.guide import Guide
from builder.model.inlining import inlined, loops
from builder.model.library import Library, records_of
from builder.model.memory import Memory
from builder.model.once import Once
from builder.proof.jobs import Job, Outcome, work_out
from builder.tailoring import Alike

# What is worked out is dressed later.
_PLAIN = Dress()


def reach(guide: Guide, library: Library) -> Library:
    """The library as far as the proof of one guide reaches: its procedures and the fasteners that its steps turn."""
    steps = inlined(guide, library)
    used = {use.use for placed in steps for use in placed.uses} | {use.use for use in loops(guide, library)}
    turned = {
        name
        for placed in steps
        for name in (placed.step.tightens, placed.step.loosens, *placed.step.tries)
        if name is not None
    }
    return replace(
        library,
        guides={guide.id: guide},
        procedures={name: one for name, one in library.procedures.items() if name in used},
        fasteners={name: one for name, one in library.fasteners.items() if name in turned},
        bikes={},
        parts={},
        tried={name: one for name, one in library.tried.items() if name == guide.id},
        printed={},
        dress=_PLAIN,
    )


def seen_by(job: Job, library: Library, once: Once) -> Library:
    """The library as far as a job reaches: a plan looks through all parts and fasteners.

    `once` holds how far each guide reaches.
    """
    guide = job.guide
    part = once.of(("reach", id(guide), id(library)), lambda: reach(guide, library), (guide, library))
    if job.bike is None:
        return part
    return replace(part, bikes={job.bike.id: job.bike}, parts=library.parts, fasteners=library.fasteners)


def worked_out(job: Job, library: Library, memory: Memory, *, leave_open: bool = True) -> Outcome:
    """The job worked out, or what it came to before from the same records."""
    seen = seen_by(job, library, memory.once)
    values = (job.parts, job.planned, job.named, job.at, leave_open)
    return memory.of(
        "job",
        values,
        (job.guide, job.bike, *(records_of(seen) if memory.is_lasting else ())),
        lambda: work_out(job, seen, leave_open=leave_open, alike=memory.once.of(Alike, Alike)),
    )
