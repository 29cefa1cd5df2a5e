"""Prove the guides and judge the texts on all cores, and remember what was found, so that it is not asked again.

    library ─► tasks, less those whose findings are known ─► findings

The findings of a task are kept in a store, under the fingerprint of all that it was given. A task gets a library with
nothing in it that its fingerprint leaves out, so that no finding can outlive what it was made from.
"""

from __future__ import annotations

import json
import multiprocessing
from collections.abc import Iterable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from dataclasses import asdict, dataclass, field, replace

from builder.build import fingerprint
from builder.build.order import Progress, Quiet
from builder.build.processes import can_fork, settle_in, undisturbed
from builder.build.store import Store, cache_folder
from builder.diagnostics.diagnostic import Diagnostic, Gravity, ordered
from builder.model.guide import Guide
from builder.model.library import Library
from builder.model.position import Position
from builder.proof.gate import over_all
from builder.proof.proving import prove
from builder.proof.writing import check_guide, check_writing

_WORDS = "Proving the guides"
# The rules of writing over every text; with a guide's name behind it, over what that guide shows.
_WRITING = "writing:"
# What is asked of all guides and the catalogue together.
_TOGETHER = "together:"

# What a forked process finds ready; it is set before the work begins and not changed.
_ready: list[Library] = []


@dataclass(frozen=True, slots=True, kw_only=True)
class Prover:
    """Proves a library that was read from `texts`.

    Args:
        texts: every source by file.
        store: where marks are kept; None proves everything.
        processes: how many processes may prove at one time.
        progress: is told how far it is.
        whole: everything that was read, where only a part of it is proven.
    """

    texts: Mapping[str, str]
    store: Store | None = None
    processes: int = 1
    progress: Progress = field(default_factory=Quiet)
    whole: Library | None = None

    def findings(self, library: Library) -> tuple[Diagnostic, ...]:
        """Everything that can go wrong in any guide, and every text that breaks a rule of writing."""
        whole = self.whole or library
        # The longest first, so that no process is left alone with it at the end.
        guides = sorted(library.guides, key=lambda name: (-self._length(library.guides[name]), name))
        keys = {task: _key(task, whole, self.texts) for task in (*self._writing(library), *guides)}
        kept = {task: self._kept(key) for task, key in keys.items()}
        due = [task for task, findings in kept.items() if findings is None]
        found = [one for findings in kept.values() if findings is not None for one in findings]
        for task, findings in _spread(due, library, min(self.processes, len(due)), self.progress):
            self.progress.advance()
            found.extend(findings)
            if self.store is not None:
                self.store.put(keys[task], _packed(findings))
        if self.store is not None:
            self.store.prune()
        return ordered(found)

    def _writing(self, library: Library) -> tuple[str, ...]:
        """What is asked of the writing: every text, or what the guides of a part show where not all was found sound."""
        if self.whole is None:
            return (_WRITING, _TOGETHER)
        if self._kept(_key(_WRITING, self.whole, self.texts)) == ():
            return ()
        return tuple(f"{_WRITING}{name}" for name in library.guides)

    def _kept(self, key: str) -> tuple[Diagnostic, ...] | None:
        """What was found before; None where it is not known."""
        kept = None if self.store is None else self.store.get(key)
        return None if kept is None else _unpacked(kept)

    def _length(self, guide: Guide) -> int:
        return len(self.texts.get(guide.places.at.file, ""))


def kept_marks() -> Store | None:
    """The store of marks of whoever runs this, in the folder where their programs keep what can be made again."""
    folder = cache_folder()
    return None if folder is None else Store(folder / "sound")


def _spread(
    due: list[str], library: Library, processes: int, progress: Progress
) -> Iterator[tuple[str, tuple[Diagnostic, ...]]]:
    """Each task with its findings, as each is done."""
    if not due:
        return
    if processes < 2 or not can_fork():
        progress.begin(_WORDS, len(due))
        yield from ((task, _findings(task, library)) for task in due)
        return
    left = dict.fromkeys(due)
    _ready.append(library)
    pool = ProcessPoolExecutor(processes, mp_context=multiprocessing.get_context("fork"), initializer=settle_in)
    try:
        with undisturbed():
            waiting = {pool.submit(_findings_here, task): task for task in due}
        progress.begin(_WORDS, len(due))
        for future in as_completed(waiting):
            task = waiting[future]
            yield task, future.result()
            del left[task]
    except BrokenProcessPool:  # the system ended one, likely for want of memory: the rest is proven here
        yield from ((task, _findings(task, library)) for task in left)
    finally:
        pool.shutdown(cancel_futures=True)
        _ready.clear()


def _findings_here(task: str) -> tuple[Diagnostic, ...]:
    return _findings(task, _ready[0])


def _findings(task: str, library: Library) -> tuple[Diagnostic, ...]:
    """What a task finds: the proof of the guide that it names, or the rules of writing."""
    if task == _WRITING:
        return check_writing(library)
    if task == _TOGETHER:
        return over_all(library)
    if task.startswith(_WRITING):
        return check_guide(library.guides[task.removeprefix(_WRITING)], library)
    guide = library.guides[task]
    return prove(
        guide, replace(library, guides={task: guide}, bikes={}, tried={}, printed={}), counting=False
    ).diagnostics


def _key(task: str, library: Library, texts: Mapping[str, str]) -> str:
    """The fingerprint of what `_findings` is given for the task."""
    guide = library.guides.get(task.removeprefix(_WRITING))
    left_out = frozenset() if guide is None else frozenset(_files_left_out(guide, library))
    parts: list[str] = [task, fingerprint.of_program()]
    for file in sorted(texts):
        if file not in left_out:
            parts += [file, texts[file]]
    return fingerprint.digest(*parts)


def _files_left_out(guide: Guide, library: Library) -> Iterable[str]:
    """The files of bikes, of other guides, of trials and of printed cards."""
    files = (
        *(other.places.at.file for other in library.guides.values() if other is not guide),
        *(bike.places.at.file for bike in library.bikes.values()),
        *(tried.places.at.file for tried in library.tried.values()),
        *(printed.places.at.file for printed in library.printed.values()),
    )
    return (file for file in files if file != guide.places.at.file)


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
