"""What a piece of work can read at all: the library without the records that have no say in it.

The key of the work names what is left, and the work is given what is left, so that no result can hang on anything that
its key leaves out.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from builder.model.dress import Dress
from builder.model.guide import Guide
from builder.model.inlining import inlined, used_procedures
from builder.model.library import Library, records_of
from builder.model.memory import Memory
from builder.proof.jobs import Job, Outcome, work_out
from builder.tailoring import Alike

# What is worked out is dressed later.
_PLAIN = Dress()


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """The procedures that a guide uses and the fasteners that its steps turn, by name."""

    procedures: frozenset[str]
    fasteners: frozenset[str]


def named_by(guide: Guide, library: Library) -> Named:
    """What the steps of a guide name."""
    turned = (
        name
        for one in inlined(guide, library)
        for name in (one.step.tightens, one.step.loosens, *one.step.tries)
        if name
    )
    return Named(procedures=used_procedures(guide, library), fasteners=frozenset(turned))


def reach(guide: Guide, library: Library, named: Named | None = None) -> Library:
    """The library as far as the proof of one guide reaches; `named` is what its steps name, where that is known."""
    known = named or named_by(guide, library)
    return replace(
        library,
        guides={guide.id: guide},
        procedures={name: one for name, one in library.procedures.items() if name in known.procedures},
        fasteners={name: one for name, one in library.fasteners.items() if name in known.fasteners},
        bikes={},
        parts={},
        tried={name: one for name, one in library.tried.items() if name == guide.id},
        printed={},
        dress=_PLAIN,
    )


def remembered_names(guide: Guide, library: Library, memory: Memory) -> Named:
    """What the steps of a guide name, or what they named before."""
    records = (guide, *library.procedures.values(), *library.states.values())
    return memory.of("named", (), records, lambda: named_by(guide, library))


class Workings:
    """Works out jobs of one library, each from no more than it can reach, and from what `memory` holds."""

    def __init__(self, library: Library, memory: Memory) -> None:
        self._library, self._memory = library, memory
        self._reach: dict[str, Library] = {}
        rest = replace(library, guides={}, procedures={}, bikes={}, parts={}, tried={}, printed={}, dress=_PLAIN)
        # Thousands of records are the same for every job: one object stands for all of them.
        others = records_of(replace(rest, fasteners={}))
        self._catalogue = memory.standing_for(tuple(one for one in others if one is not _PLAIN))
        self._shop = memory.standing_for((*library.parts.values(), *library.fasteners.values()))

    def of(self, job: Job, *, leave_open: bool = True) -> Outcome:
        """The job worked out, or what it came to before from the same records."""
        part, shop = self._reached(job.guide), None
        seen = part
        if job.bike is not None:  # a plan looks through all parts and fasteners
            shop, library = self._shop, self._library
            seen = replace(part, bikes={job.bike.id: job.bike}, parts=library.parts, fasteners=library.fasteners)
        memory = self._memory
        held = part if memory.is_lasting else Library()  # who holds nothing needs no names for it
        own = (*held.procedures.values(), *held.fasteners.values(), *held.tried.values())
        return memory.of(
            "job",
            (job.parts, job.planned, job.named, job.at, leave_open),
            (job.guide, job.bike, self._catalogue, shop, *own),
            lambda: work_out(job, seen, leave_open=leave_open, alike=memory.once.of(Alike, Alike)),
        )

    def _reached(self, guide: Guide) -> Library:
        if guide.id not in self._reach:
            named = remembered_names(guide, self._library, self._memory)
            self._reach[guide.id] = reach(guide, self._library, named)
        return self._reach[guide.id]
