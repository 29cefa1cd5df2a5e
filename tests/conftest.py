"""What holds for every test: nothing is kept at the home of who runs them, and no time goes by without a question."""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from builder.model.memory import Memory
from builder.sources import workspace

# The library, thousands of tests and what is printed stay: to look through them for cycles every few hundred objects
# takes four tenths of all the time. Builds hold the collector too; see `builder/build/collector.py`.
gc.set_threshold(400_000, 5, 5)


# Rooms by how long their files take, so that nobody is left alone with a long one at the end. The first file of all
# proves the whole library, which others then need not.
_LONG_FIRST = (
    "sources",
    "printing",
    "build",
    "proof",
    "rider",
    "kills",
    "test_wheel.py",
    "cli",
    "writing",
    "vectors",
    "pages",
    "tailoring",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put the files in the order in which they are handed out."""
    items.sort(key=_rank)


def _rank(item: pytest.Item) -> int:
    room = item.path.relative_to(Path(__file__).parent).parts[0]
    return _LONG_FIRST.index(room) if room in _LONG_FIRST else len(_LONG_FIRST)


@pytest.fixture(scope="session", autouse=True)
def _nothing_kept_at_home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Marks of what was proven go to a folder of this run, which the processes that run tests share."""
    base = tmp_path_factory.getbasetemp()
    shared: Path = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(shared / "cache"))
        yield


@pytest.fixture(scope="session", autouse=True)
def _read_once() -> Iterator[None]:
    """The library's files are read once a process; a file is known again by its name and all that stands in it."""
    shared = Memory()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(workspace, "Memory", lambda: shared)
        yield
