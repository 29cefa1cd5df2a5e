"""Prove the guides and judge the texts on all cores, and remember what was found, so that it is not asked again.

    library ─► tasks, less those whose findings are known ─► findings

The findings of a task are kept in a store, under the fingerprint of all that it was given. A task gets a library with
nothing in it that its fingerprint leaves out, so that no finding can outlive what it was made from.
"""

from __future__ import annotations

import json
import multiprocessing
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import asdict, dataclass, field, replace
from typing import TypeVar

from builder.build import fingerprint
from builder.build.content import Contents
from builder.build.order import Progress, Quiet
from builder.build.processes import can_fork, settle_in, undisturbed
from builder.build.reaching import reach, remembered_names
from builder.build.store import Store, kept_in
from builder.diagnostics.diagnostic import Diagnostic, Gravity, ordered
from builder.model.catalogue import Workshop
from builder.model.dress import Dress
from builder.model.guide import Guide
from builder.model.library import Library
from builder.model.memory import Memory
from builder.model.position import Position
from builder.proof.exclusions import exclusions_leave_bikes
from builder.proof.gate import of_bike, of_guide, of_rest
from builder.proof.unreached import KINDS, Reached, reached_by, unreached
from builder.proof.writing import check_guide, check_texts
from builder.proof.writing.context import Context, context_of, words_of

Answer = TypeVar("Answer")

_WORDS = "Proving the guides"
# The proof of the guide whose name stands behind it.
_GUIDE = "guide:"
# The rules of writing over the texts of one guide alone; without a name, over those of everything else.
_TEXTS = "texts:"
# The rules of writing over the texts of bikes.
_BIKES = "bikes:"
# The rules of writing over all that a guide shows, its procedures included.
_SHOWN = "shown:"
# A bike by itself.
_BIKE = "bike:"
# What no guide leads to, and the exclusions.
_REST = "rest:"
_CASES = "cases:"
# What a guide comes to: no findings, but names.
_REACHED = "reached:"

# What a forked process finds ready; it is set before the work begins and not changed.
_ready: list[_Given] = []


@dataclass(frozen=True, slots=True, kw_only=True)
class Prover:
    """Proves a library that was read from `texts`.

    Args:
        texts: every source by file.
        store: where marks are kept; None proves everything.
        processes: how many processes may prove at one time.
        progress: is told how far it is.
        whole: everything that was read, where only a part of it is proven.
        memory: holds what this process knows of the contents of records.
    """

    texts: Mapping[str, str]
    store: Store | None = None
    processes: int = 1
    progress: Progress = field(default_factory=Quiet)
    whole: Library | None = None
    memory: Memory | None = None

    def findings(self, library: Library) -> tuple[Diagnostic, ...]:
        """Everything that can go wrong in any guide, and every text that breaks a rule of writing."""
        marks = _Marks(self.whole or library, self.memory or Memory(lasting=False))
        # The longest first, so that no process is left alone with it at the end.
        guides = sorted(library.guides, key=lambda name: (-self._length(library.guides[name]), name))
        tasks = (*self._over_all(library, marks), *(f"{_GUIDE}{name}" for name in guides))
        kept = {task: self._kept(task, marks) for task in tasks}
        due = [task for task, findings in kept.items() if findings is None]
        found = [one for findings in kept.values() if findings is not None for one in findings]
        for task, findings in _spread(due, _findings, marks.given, min(self.processes, len(due)), self.progress):
            self.progress.advance()
            found.extend(findings)
            if self.store is not None:
                self.store.put(marks.placed(task) if findings else marks.sound(task), _packed(findings))
        if self.whole is None:
            found.extend(unreached(library, self._reached(library, marks)))
        if self.store is not None:
            self.store.prune()
        return ordered(found)

    def _over_all(self, library: Library, marks: _Marks) -> tuple[str, ...]:
        """What is asked besides proofs: of all, or what the guides of a part show where not all was found sound."""
        bikes = tuple(f"{_BIKE}{name}" for name in library.bikes)
        texts = (*(f"{_TEXTS}{name}" for name in marks.given.library.guides), _TEXTS, _BIKES)
        if self.whole is None:
            return (*bikes, _REST, _CASES, *texts)
        if all(self._kept(task, marks) == () for task in texts):
            return bikes
        return (*bikes, *(f"{_SHOWN}{name}" for name in library.guides))

    def _reached(self, library: Library, marks: _Marks) -> dict[str, Reached]:
        """What each guide comes to; what is known of one is not asked again."""
        found, due = {}, []
        for name in library.guides:
            kept = None if self.store is None else self.store.get(marks.sound(f"{_REACHED}{name}"))
            if (reached := _names(kept)) is None:
                due.append(name)
            else:
                found[name] = reached
        for name, reached in _spread(due, _reached_by, marks.given, min(self.processes, len(due)), Quiet()):
            found[name] = reached
            if self.store is not None:
                self.store.put(marks.sound(f"{_REACHED}{name}"), json.dumps(reached).encode())
        return found

    def _kept(self, task: str, marks: _Marks) -> tuple[Diagnostic, ...] | None:
        """What a task found before; None where it is not known."""
        if self.store is None:
            return None
        if (kept := self.store.get(marks.sound(task))) is not None and _unpacked(kept) == ():
            return ()
        kept = self.store.get(marks.placed(task))
        return None if kept is None else _unpacked(kept)

    def _length(self, guide: Guide) -> int:
        return len(self.texts.get(guide.places.at.file, ""))


def kept_marks() -> Store | None:
    """The store of marks of whoever runs this, in the folder where their programs keep what can be made again."""
    return kept_in("sound")


class _Given:
    """What each task is given: a library with nothing in it that the task's key leaves out."""

    def __init__(self, library: Library, memory: Memory) -> None:
        self.library = library
        self._named = {name: remembered_names(guide, library, memory) for name, guide in library.guides.items()}
        self._plain = replace(library, tried={}, printed={}, dress=Dress())
        # Which tools a workshop owns and what it calls itself has no say in whether a guide is sound.
        self._any_shop = replace(self._plain, workshop=Workshop(name=""))
        # What a text is judged by besides the records that its own step names.
        self._context = context_of(library)
        self.words = words_of(self._context)
        self._reach: dict[str, Library] = {}
        used = {name for named in self._named.values() for name in named.procedures}
        left = {name: one for name, one in library.procedures.items() if name not in used}
        self._rest = replace(self._any_shop, guides={}, procedures=left, bikes={}, parts={})

    def library_for(self, task: str) -> Library:
        """The records that the task is about, and those that they lead to."""
        if task == _REST:
            return self._rest
        if task == _CASES:
            return Library(attributes=self.library.attributes, exclusions=self.library.exclusions)
        if task.startswith(_BIKE):
            name = task.removeprefix(_BIKE)
            return replace(self._any_shop, guides={}, procedures={}, bikes={name: self.library.bikes[name]})
        if task == _TEXTS:
            return replace(self._plain, guides={}, bikes={})
        if task == _BIKES:
            return Library(bikes=self.library.bikes)
        if task.startswith(_TEXTS):
            return Library(guides={(name := task.removeprefix(_TEXTS)): self.library.guides[name]})
        return self.reached(task.removeprefix(_SHOWN).removeprefix(_GUIDE).removeprefix(_REACHED))

    def context_for(self, task: str) -> Context:
        """What the texts of the task are judged by."""
        name = task.removeprefix(_SHOWN).removeprefix(_TEXTS)
        seen = self.library_for(task) if task in (_TEXTS, _BIKES) else self.reached(name)
        return replace(self._context, library=seen)

    def reached(self, name: str) -> Library:
        """The library as far as a guide reaches."""
        if name not in self._reach:
            self._reach[name] = reach(self.library.guides[name], self._any_shop, self._named[name])
        return self._reach[name]

    def findings(self, task: str) -> tuple[Diagnostic, ...]:
        """What the task finds."""
        library = self.library_for(task)
        if task == _REST:
            return of_rest(library)
        if task == _CASES:
            return exclusions_leave_bikes(library)
        if task.startswith(_BIKE):
            return of_bike(library.bikes[task.removeprefix(_BIKE)], library)
        if task.startswith((_TEXTS, _BIKES)):
            return check_texts(library, self.context_for(task))
        if task.startswith(_SHOWN):
            return check_guide(library.guides[task.removeprefix(_SHOWN)], library, self.context_for(task))
        return of_guide(library.guides[task.removeprefix(_GUIDE)], library)


class _Marks:
    """The keys of the tasks over one library."""

    def __init__(self, library: Library, memory: Memory) -> None:
        self.given = _Given(library, memory)
        self._contents = memory.of("contents", (), (), Contents).turn()
        self._placed = memory.of("contents", ("placed",), (), lambda: Contents(placed=True)).turn()
        self._program = fingerprint.of_program()

    def sound(self, task: str) -> str:
        """The name under which it is kept that a task finds nothing, which hangs on what the records say alone."""
        return fingerprint.digest("sound", *self._parts(task, self._contents))

    def placed(self, task: str) -> str:
        """The name under which findings of a task are kept, which also tell where the records stand."""
        return fingerprint.digest("placed", *self._parts(task, self._placed))

    def _parts(self, task: str, contents: Contents) -> Iterator[str]:
        yield task
        yield self._program
        yield contents.of_library(self.given.library_for(task))
        if task.startswith((_TEXTS, _BIKES, _SHOWN)):
            yield contents.of_library(self.given.context_for(task).library)
            yield contents.of(*self.given.words)


def _spread(
    due: list[str], ask: Callable[[str, _Given], Answer], given: _Given, processes: int, progress: Progress
) -> Iterator[tuple[str, Answer]]:
    """Each task with what `ask` answers, as each is done."""
    if not due:
        return
    if processes < 2 or not can_fork():
        progress.begin(_WORDS, len(due))
        yield from ((task, ask(task, given)) for task in due)
        return
    left = dict.fromkeys(due)
    _ready.append(given)
    pool = ProcessPoolExecutor(processes, mp_context=multiprocessing.get_context("fork"), initializer=settle_in)
    try:
        with undisturbed():
            waiting = {pool.submit(_asked_here, ask, task): task for task in due}
        progress.begin(_WORDS, len(due))
        for future in as_completed(waiting):
            task = waiting[future]
            yield task, future.result()
            del left[task]
    except BrokenProcessPool:  # the system ended one, likely for want of memory: the rest is proven here
        yield from ((task, ask(task, given)) for task in left)
    finally:
        pool.shutdown(cancel_futures=True)
        _ready.clear()


def _asked_here(ask: Callable[[str, _Given], Answer], task: str) -> Answer:
    return ask(task, _ready[0])


def _findings(task: str, given: _Given) -> tuple[Diagnostic, ...]:
    return given.findings(task)


def _reached_by(name: str, given: _Given) -> Reached:
    library = given.reached(name)
    return reached_by(library.guides[name], library)


def _names(kept: bytes | None) -> Reached | None:
    """What a guide comes to, as it was kept; None where it was not, or by somebody else."""
    try:
        found = json.loads(kept or b"")
        return {kind: list(map(str, found[kind])) for kind in KINDS}
    except (ValueError, KeyError, TypeError):
        return None


def _packed(findings: tuple[Diagnostic, ...]) -> bytes:
    return json.dumps([asdict(one) for one in findings], ensure_ascii=False).encode()


def _unpacked(kept: bytes) -> tuple[Diagnostic, ...] | None:
    try:
        return tuple(
            Diagnostic(
                rule=one["rule"],
                message=one["message"],
                at=Position(**one["at"]),
                gravity=Gravity(one["gravity"]),
                label=one["label"],
                hints=tuple(one["hints"]),
                related=tuple((Position(**at), words) for at, words in one["related"]),
            )
            for one in json.loads(kept)
        )
    except (ValueError, KeyError, TypeError):  # written by somebody else, or cut off: it is asked again
        return None
