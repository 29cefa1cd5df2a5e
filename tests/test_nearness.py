"""What is offered as "did you mean" is what the writer probably meant, and nothing else."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.diagnostics.nearness import alike, nearest
from tests.demo import library

KNOWN = ("nine-spline", "crank-bolts", "hex-key-10", "hex-key-5", "cassette-tool", "rear-wheel", "heron", "out", "in")


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("cassete-tool", "cassette-tool"),
        ("casette-tol", "cassette-tool"),
        ("hern", "heron"),
        ("ehron", "heron"),
        ("wheel-rear", "rear-wheel"),
        ("rear wheel", "rear-wheel"),
        ("rearwheel", "rear-wheel"),
        ("Heron", "heron"),
    ],
)
def test_a_slip_of_the_fingers_is_understood(written: str, meant: str) -> None:
    assert nearest(written, KNOWN) == meant


@pytest.mark.parametrize(
    "written", ["own-wide-spline", "crown-bolt", "hex-key-4", "hex-key-6", "outside", "tool", "swan", "front-wheel"]
)
def test_another_thing_is_not_taken_for_a_slip(written: str) -> None:
    assert nearest(written, KNOWN) is None


def test_what_begins_alike_can_be_listed_where_nothing_is_close() -> None:
    assert alike("hex-key-4", KNOWN) == ("hex-key-10", "hex-key-5")
    assert alike("swan", KNOWN) == ()


@given(st.data())
@settings(deadline=None)  # the library is read once, in the first example
def test_a_known_name_with_one_letter_less_is_found_again(data: st.DataObject) -> None:
    names = [name for name in library().fasteners if len(name) >= 4]
    name = data.draw(st.sampled_from(names))
    places = [place for place, sign in enumerate(name) if sign.isalpha()]
    place = data.draw(st.sampled_from(places))
    shorter = name[:place] + name[place + 1 :]
    found = nearest(shorter, names)
    # Only a name that is as near may stand before the one that was meant.
    assert found == name or (found is not None and len(found) == len(shorter))
