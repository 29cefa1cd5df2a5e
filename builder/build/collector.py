"""The collector of cycles, held while much is made that stays: it would look through all of it again and again."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager

# A collection every few cards or some hundred pages keeps memory flat.
_OBJECTS_BETWEEN_COLLECTIONS = 50_000
# What lived on for a while and went then is found by a look through everything alone.
_COLLECTIONS_BETWEEN_WHOLE_ONES = 30
# A forked process looks only through what is its own, so that it may do so after each bike's sheets or a few blocks.
_OF_A_WORKER = 130_000


@contextmanager
def collector_at_rest() -> Iterator[None]:
    """Hold the collector within the block; who makes much that goes again calls `collect_now_and_then`."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.unfreeze()  # what was set apart for a build goes with it
            gc.enable()


def collect_now_and_then() -> None:
    """Collect where much has been made since the last time, among what has been made since then.

    What was there before mostly stays, and to look through all of it costs half a second: that is done now and then.
    """
    young, collections, _ = gc.get_count()
    if young > _OBJECTS_BETWEEN_COLLECTIONS:
        gc.collect(0 if collections < _COLLECTIONS_BETWEEN_WHOLE_ONES else 2)


def collect_all_now_and_then() -> None:
    """Collect where a process that prints has made much: of a layout more lives on for a while and goes later."""
    if gc.get_count()[0] > _OF_A_WORKER:
        gc.collect()
