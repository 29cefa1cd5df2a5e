"""`fit`: what a program reads, what a person reads, and the status."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any

import pytest

from builder.model.facts import Hanger, Role
from builder.model.parts import Frame
from builder.model.position import Places, Position
from builder.planning.missing import write_at
from builder.rider.fitting import fit_on
from tests.cli.calling import LEAD, call
from tests.demo import library


def fitted(bike: str, *parts: str) -> tuple[int, dict[str, Any]]:
    flags = [flag for part in parts for flag in ("--with", part)]
    result = call("fit", bike, *flags, "--json")
    return result.exit_code, json.loads(result.stdout)


@pytest.mark.parametrize(
    "bike", sorted(bike.id for bike in library().bikes.values() if any(job.guide == LEAD for job in bike.jobs))
)
def test_every_answer_has_the_shape_that_programs_count_on(bike: str) -> None:
    parts = next(job.parts for job in library().bikes[bike].jobs if job.guide == LEAD)
    _, answer = fitted(bike, *parts)
    assert answer["bike"] == bike
    assert answer["wanted"] == list(parts)
    assert answer["checks"]
    for check in answer["checks"]:
        assert {"check", "verdict", "value", "limit", "margin", "unit", "working", "source"} <= check.keys()
        assert check["verdict"] in ("fits", "fits-with-care", "does-not-fit", "measure-first")
        assert all(isinstance(line, str) for line in check["working"])
    for change in answer["changes"]:
        assert change["role"] in list(Role)
        assert change["because"]
        assert isinstance(change["requires"], dict)
        assert change["choice"] is None or change["choice"] in library().parts
    assert set(answer["buy"]) <= library().parts.keys()
    assert set(answer["tools"]) <= library().tools.keys()
    assert all(missing["what"] and missing["how"] for missing in answer["measure"])


def test_a_wider_cassette_forces_a_derailleur_and_a_chain() -> None:
    status, answer = fitted("heron", "cs-11-50-11s")
    assert status == 0
    derailleur, chain = answer["changes"]
    assert derailleur["role"] == "rear-derailleur"
    assert derailleur["because"] == ["derailleur-capacity", "largest-sprocket"]
    assert derailleur["requires"]["largest-sprocket"] == 50
    # 50 − 11 on one chainring.
    assert derailleur["requires"]["capacity"] == 39
    assert (chain["role"], chain["requires"]["links"]) == ("chain", 112)
    assert answer["buy"] == ["cs-11-50-11s", derailleur["choice"], chain["choice"]]
    assert "lockring-tool" in answer["tools"]
    assert answer["trouble"] == []
    before = {check["check"]: check["verdict"] for check in answer["checks"]}
    assert before["derailleur-capacity"] == "does-not-fit"
    after = {check["check"]: check["verdict"] for check in answer["after"]}
    assert after["derailleur-capacity"] == "fits"


def test_the_gears_before_and_after_are_given_each_with_its_verdict() -> None:
    _, answer = fitted("heron", "cs-11-50-11s")
    before, after = answer["gears"]["before"], answer["gears"]["after"]
    assert len(before) == len(after) == 11
    assert (after[0]["ring"], after[0]["sprocket"]) == (32, 50)
    assert after[0]["ratio"] == pytest.approx(32 / 50)
    # The smallest sprocket leaves 50 − 11 teeth of slack, which the new derailleur takes up.
    assert (after[-1]["take-up"], after[-1]["verdict"]) == (39, "fits")


def test_a_limit_says_whether_it_is_the_least_or_the_most() -> None:
    _, answer = fitted("heron", "cs-11-50-11s")
    limits = {limit["limit"]: limit for limit in answer["changes"][0]["limits"]}
    assert (limits["capacity"]["at-least"], limits["capacity"]["at-most"]) == (39, None)
    assert (limits["smallest-sprocket"]["at-least"], limits["smallest-sprocket"]["at-most"]) == (None, 11)


def test_a_missing_measurement_is_asked_for() -> None:
    status, answer = fitted("dunlin", "cs-11-42-11s")
    assert status == 0
    assert "parts.frame.chainstay" in [missing["key"] for missing in answer["measure"]]


def test_nothing_in_stock_is_a_finding() -> None:
    status, answer = fitted("siskin", "cs-11-44-12s-wireless")
    assert status == 1
    assert None in [change["choice"] for change in answer["changes"]]
    assert "No rear derailleur that is known meets capacity: at least 49\u00a0teeth." in answer["trouble"]


def test_a_job_that_makes_no_sense_is_a_finding_with_its_reason() -> None:
    status, answer = fitted("coot", "cs-11-36-9s")
    assert status == 1
    assert answer["refused"].startswith("This job is for bikes with a rear derailleur")
    assert answer["tools"] == []


def test_of_several_guides_that_refuse_the_nearest_one_tells_why() -> None:
    heron = library().bikes["heron"]
    frame = heron.part(Role.FRAME)
    assert isinstance(frame, Frame)
    straight = replace(heron, parts={**heron.parts, Role.FRAME: replace(frame, hanger=Hanger.THROUGH_FRAME)})
    fit = fit_on(straight, ("cs-11-50-11s",), library())
    # The guide that keeps all else as it is would refuse a new derailleur and a new chain too.
    assert fit.guide is not None
    assert fit.guide.id == LEAD
    assert "through the frame" in fit.refused


def test_a_fact_of_a_part_of_the_library_is_written_into_the_workspace() -> None:
    hub = library().parts["hub-r-gear-5-drum"]
    bike = replace(library().bikes["heron"], id="odd", places=Places(Position("ours/bikes/odd.yaml", 1, 1)))
    below = hub.places.at.file
    path = "rear-hub.least-primary-ratio"
    assert write_at(path, hub, bike) == f"'least-primary-ratio' of {hub.id}, in ours/parts/hub/, copied from {below}"
    own = replace(hub, places=Places(Position("ours/parts/hub/ours.yaml", 1, 1)))
    assert write_at(path, own, bike) == f"'least-primary-ratio' of {hub.id}, in ours/parts/hub/ours.yaml"


def test_a_person_reads_verdicts_changes_and_what_to_lay_out() -> None:
    result = call("fit", "heron", "--with", "cs-11-50-11s")
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert lines[0] == "Heron (M-01) with Cassette 11-50, 11 sprockets (cassette)"
    assert "  fits            Capacity of the rear derailleur: 39 teeth, limit 40 teeth" in lines
    assert "  rear derailleur: rd-11s-51  Rear derailleur, 11 speeds, to 51 teeth" in lines
    assert "    because of derailleur-capacity, largest-sprocket" in lines
    assert lines.index("Lay out or buy:") < lines.index("Tools:")


def test_nobody_is_told_to_buy_parts_for_a_job_that_can_not_be_done() -> None:
    for bike, part in (("siskin", "cs-11-44-12s-wireless"), ("coot", "cs-11-36-9s")):
        assert "Lay out or buy:" not in call("fit", bike, "--with", part).stdout
