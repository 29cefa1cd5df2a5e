"""Every fact of a part, every measurement and every word about the rider is read by something, and leads to something.

A fact is read by a check, by what is worked out for a check, by an attribute that conditions ask, by a drawing, or by
the part's own sense. What nothing reads is not asked for: it goes from the model.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from builder.checks.check import Force
from builder.checks.registry import CHECKS
from builder.drawings.registry import DRAWING_KINDS, parameters
from builder.model.bike import MEASURED_ON, Measurements, Rider
from builder.model.fields import ENDS, Fact
from builder.model.parts import KINDS, Part, roles_of
from builder.model.paths import facts_of
from builder.planning.judged_kinds import judging
from builder.planning.worked_out import WORKED_OUT
from tests.demo import library
from tests.parts_table import rows

# Read by no check, each with what does read it.
EXCEPTIONS = {
    ("seat-post", "length"): "the least insertion is held against it",
    ("rotor", "new-thickness"): "the least thickness is held against it",
    ("pads", "new-thickness"): "the least thickness is held against it",
    ("hub", "highest-gear"): "the lowest gear is held against it",
    ("crankset", "ring-mount"): "the attribute of this name is computed from it, or from bolts that are written",
    ("chain", "drive-line"): "the attribute of this name is computed from it, or from the kind of chain",
    ("rear-derailleur", "speeds"): "told to who chooses one; the shift standard and not a count says whether it shifts",
}


def _facts() -> Iterator[Fact]:
    for check in CHECKS.values():
        yield from (item.fact for item in check.inputs if item.fact is not None)
        for path in (*check.asked.only, *check.asked.unless, *check.asked.surely):
            yield Fact(path)
    for name in DRAWING_KINDS:
        yield from (parameter.fact for parameter in parameters(name) if parameter.fact is not None)
    for worked in WORKED_OUT.values():
        yield from (Fact(path) for path in worked.made_from)
    for attribute in library().attributes.values():
        yield Fact(attribute.source)


def read() -> set[str]:
    return {fact.at(where) for fact in _facts() for where in (*fact.wheres, *ENDS)}


READ = read()
OF_PARTS = [(kind, key) for kind, record in KINDS.items() for key in facts_of(record) if key not in facts_of(Part)]


@pytest.mark.parametrize(("kind", "key"), OF_PARTS, ids=lambda one: one)
def test_every_fact_of_a_part_is_read(kind: str, key: str) -> None:
    is_read = bool({f"{role.value}.{key}" for role in roles_of(kind)} & READ)
    assert is_read != ((kind, key) in EXCEPTIONS)


@pytest.mark.parametrize("key", facts_of(Measurements))
def test_every_measurement_of_a_bike_is_read_and_said_to_be_of_some_part(key: str) -> None:
    assert f"measured.{key}" in READ
    assert key in MEASURED_ON


@pytest.mark.parametrize("key", facts_of(Rider))
def test_all_that_is_known_of_the_rider_is_read(key: str) -> None:
    assert f"rider.{key}" in READ


@pytest.mark.parametrize("name", library().measurements)
def test_every_measurement_of_the_catalogue_finds_a_fact_that_is_read(name: str) -> None:
    assert library().measurements[name].key.removeprefix("parts.") in READ


def test_most_checks_reach_bikes() -> None:
    reach = [check.name for check in CHECKS.values() if check.of_bikes]
    assert len(reach) >= 55


def test_what_is_worked_out_is_read_by_a_check_or_a_drawing() -> None:
    asked = {path.partition(".")[2] for path in READ if path.startswith("worked-out.")}
    assert set(WORKED_OUT) == asked


# The bike itself, and what a motor adds on a hill, are held against nothing.
@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind != "drive-unit"])
def test_every_kind_of_part_is_judged_by_some_check(kind: str) -> None:
    assert judging()[kind][Force.MISFIT]


def test_the_table_has_a_row_for_every_kind() -> None:
    assert [row.split("|")[1].strip() for row in rows()] == list(KINDS)
