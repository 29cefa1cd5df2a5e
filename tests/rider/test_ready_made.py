"""Methods of dataclasses compiled beforehand are those that would be compiled now."""

from __future__ import annotations

import dataclasses
import inspect
import sys
from collections.abc import Iterator

import pytest

from builder.rider import ready_made


@pytest.fixture(autouse=True)
def _left_as_it_was() -> Iterator[None]:
    yield
    vars(dataclasses).pop("exec", None)
    vars(sys.modules[inspect.get_annotations.__module__]).pop("eval", None)


def record() -> type:
    @dataclasses.dataclass(frozen=True, slots=True, kw_only=True)
    class Wheel:
        spokes: int
        rim: str = "double-walled"

    return Wheel


def test_what_was_kept_is_used_and_makes_the_same() -> None:
    kept = ready_made.keep()
    before = record()
    assert kept
    ready_made.use(ready_made.as_bytes(kept))
    after = record()
    assert repr(after(spokes=32)) == repr(before(spokes=32))
    assert after(spokes=32) == after(spokes=32) != after(spokes=36)
    with pytest.raises(dataclasses.FrozenInstanceError):
        after(spokes=32).spokes = 36


def test_a_record_that_is_not_known_is_compiled_as_ever() -> None:
    ready_made.use(ready_made.as_bytes({}))
    assert record()(spokes=32).rim == "double-walled"
