"""Kill a build at a moment of its life, and look at what it leaves: site, processes, and the work of the next build.

A small workshop has two states, that differ in a bike's tag. A build goes from the first to the second; wherever it is
killed, readers have one of the two whole, nobody who was forked stays, and the next build makes the second at once.
"""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

from builder.sources.workspace import shipped_library
from tests.build.ordering import FITS, SHORT, state

ROOT = Path(__file__).parent.parent.parent
_LEFT_SECONDS = 5.0
_LONGEST_SECONDS = 0.8
# What a build says on its way, each with whether the store holds its cards: with them it comes to the exchange at once.
_STRETCHES = (
    ("Reading the sources", False),
    ("Working out", True),
    ("Writing the pages", True),
    ("Printing the cards", False),
)


@dataclass(frozen=True, slots=True)
class Outcome:
    """A kill: when, whether the build had ended before, and what was wrong afterwards."""

    word: str
    after_seconds: float
    too_late: bool
    wrong: tuple[str, ...]


class Shop:
    """A workshop in a folder of its own, and its output in each of the two states.

    With `cache`, a folder where others have kept what they proved, it need not be proven once more.
    """

    def __init__(self, folder: Path, cache: Path | None = None) -> None:
        self.folder = folder
        (folder / "shop" / "bikes").mkdir(parents=True)
        self._home = {**os.environ, "PYTHONPATH": str(ROOT), "XDG_CACHE_HOME": str(cache or folder / "cache")}
        self._tag("S-1")
        self._build(folder / "first")
        self._tag("S-2")
        shutil.copytree(folder / "first", folder / "second")
        self._build(folder / "second")
        self.states = (state(folder / "first"), state(folder / "second"))
        assert self.states[0] != self.states[1]

    def killed(self, word: str, after_seconds: float, *, with_store: bool) -> Outcome:
        """Kill a build so long after a word that it says on its way."""
        out = self._before(with_store)
        building = self._started(out)
        assert building.stderr is not None
        while word not in (line := building.stderr.readline()):
            assert line, f"the build ended without saying '{word}'"
        time.sleep(after_seconds)
        too_late = building.poll() is not None
        if not too_late:
            os.kill(building.pid, signal.SIGKILL)
        building.wait()
        wrong = list(self._wrong_site(out))
        again = subprocess.run(self._command(out), env=self._home, capture_output=True, text=True, check=False)
        if again.returncode != 0:
            wrong.append(f"the next build ends with {again.returncode}: {again.stderr.splitlines()[-1:]}")
        if state(out) != self.states[1]:
            wrong.append("the next build does not make the same bytes")
        if not self._alone(building.pid):
            wrong.append("processes are left")
        building.communicate()
        return Outcome(word=word, after_seconds=after_seconds, too_late=too_late, wrong=tuple(wrong))

    def _wrong_site(self, out: Path) -> list[str]:
        """The site must be one of the two; the folder of cards beside it may be a moment behind."""
        here = state(out)
        wrong = []
        for name in ("site/", "cards/"):
            part = {path: data for path, data in here.items() if path.startswith(name)}
            wholes = [{path: data for path, data in one.items() if path.startswith(name)} for one in self.states]
            if part not in wholes:
                wrong.append(f"{name} is not whole")
        return wrong

    def _before(self, with_store: bool) -> Path:
        out = self.folder / "out"
        shutil.rmtree(out, ignore_errors=True)
        shutil.copytree(self.folder / "first", out)
        shutil.rmtree(out / ".spannerleaf" / "store")
        if with_store:
            shutil.copytree(self.folder / "second" / ".spannerleaf" / "store", out / ".spannerleaf" / "store")
        return out

    def _alone(self, group: int) -> bool:
        """Whether nobody of the process group is left, after a moment."""
        until = time.monotonic() + _LEFT_SECONDS
        while time.monotonic() < until:
            try:
                os.killpg(group, 0)
            except ProcessLookupError:
                return True
            time.sleep(0.1)
        os.killpg(group, signal.SIGKILL)
        return False

    def _tag(self, tag: str) -> None:
        text = (shipped_library() / "bikes" / f"{FITS}.yaml").read_text(encoding="utf-8")
        lines = (f"tag: {tag}" if line.startswith("tag:") else line for line in text.splitlines())
        (self.folder / "shop" / "bikes" / "ours.yaml").write_text("\n".join(lines) + "\n", encoding="utf-8")

    def _command(self, out: Path) -> list[str]:
        named = ["--workspace", str(self.folder / "shop"), "--guide", SHORT, "--bike", "ours", "--processes", "2"]
        return [sys.executable, "-m", "builder", "build", *named, "--out", str(out)]

    def _build(self, out: Path) -> None:
        subprocess.run(self._command(out), env=self._home, capture_output=True, check=True)

    def _started(self, out: Path) -> subprocess.Popen[str]:
        return subprocess.Popen(
            self._command(out),
            env=self._home,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )


def moments(number: int, seed: int) -> list[tuple[str, float, bool]]:
    """After which word and how long after it to kill, and whether the store holds the cards already.

    Words and not the clock alone, since a busy machine takes several times as long as an idle one.
    """
    chance = random.Random(seed)
    found = []
    for _ in range(number):
        word, with_store = chance.choice(_STRETCHES)
        found.append((word, chance.uniform(0, _LONGEST_SECONDS), with_store))
    return found
