"""The collector of cycles, held while much is made that stays: it would look through all of it again and again."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager

# A collection every few cards or some hundred pages keeps memory flat.
_OBJECTS_BETWEEN_COLLECTIONS = 400_000
# A forked process looks only through what is its own, so that it may do so after each bike's sheets or a few blocks.
OF_A_WORKER = 130_000


@contextmanager
def collector_at_rest() -> Iterator[None]:
    """Hold the collector within the block; who makes much that goes again calls `collect_now_and_then`."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def collect_now_and_then(objects: int = _OBJECTS_BETWEEN_COLLECTIONS) -> None:
    """Collect where more than so many objects have been made since the last time."""
    if gc.get_count()[0] > objects:
        gc.collect()
