"""The door of the rider's page: what is asked in JSON, what is refused in words."""

from __future__ import annotations

import json
from functools import cache

import pytest

from builder.planning.lowering import lowerings
from builder.rider.described import bike_of
from builder.rider.messages import Desk
from builder.rider.requests import BikeTold
from builder.rider.talking import Talk
from tests.demo import LEAD, library
from tests.rider.node import shelf

WHEEL = "front-wheel-out-and-in"


@cache
def desk() -> Desk:
    return Desk(shelf())


def ask(**request: object) -> dict[str, object]:
    return dict(json.loads(desk().answer(json.dumps(request))))


def bike(**answers: str) -> dict[str, object]:
    return {"name": "Coot", "answers": {name.replace("_", "-"): said for name, said in answers.items()}}


@pytest.mark.parametrize(
    ("request_", "said"),
    [
        ("no json", "can not be read"),
        ("[" * 5000, "can not be read"),
        ("[]", "no request"),
        ('{"do": "harm"}', "nothing is known of doing 'harm'"),
        ('{"do": "talk", "guide": "no-such"}', "no such guide"),
        (json.dumps({"do": "talk", "guide": WHEEL}), "a bike is wanted"),
        (json.dumps({"do": "talk", "guide": WHEEL, "bike": {"name": "x" * 500, "answers": {}}}), "too long"),
        (json.dumps({"do": "talk", "guide": WHEEL, "bike": {"name": "x", "answers": {"a": 1}}}), "is no text"),
        (json.dumps({"do": "fit", "guide": WHEEL, "bike": bike(), "parts": "x"}), "no list of names"),
        (json.dumps({"do": "reckon", "check": "chain-length", "inputs": {"chainstay": "17"}}), "chainstay"),
        (json.dumps({"do": "card", "guide": WHEEL, "bike": bike(), "form": "steps", "paper": "a6"}), "does not fit A6"),
        ("x" * 100_000, "more than anybody tells"),
    ],
)
def test_what_can_not_be_meant_is_refused_in_words(request_: str, said: str) -> None:
    answer = json.loads(desk().answer(request_))
    assert set(answer) == {"wrong"}
    assert said in answer["wrong"]


def test_an_answer_that_can_not_be_taken_is_told_with_its_question() -> None:
    told = bike(front_axle="quick-release", **{"frame.chainstay": "43 mm"})
    wrong = ask(do="talk", guide=WHEEL, bike=told)["wrong-answers"]
    assert isinstance(wrong, dict)
    assert list(wrong) == ["frame.chainstay"]
    assert "out of range" in wrong["frame.chainstay"]


def test_more_sprockets_than_a_shifter_has_gears_are_not_taken() -> None:
    ends = {"transmission": "derailleur", "cassette.sprockets": "11-42", "sprocket-count": "32"}
    talk = ask(do="talk", guide=LEAD, bike=bike(**ends))
    assert "write a number from 1 to 14" in str(talk["wrong-answers"])
    at_once = bike(transmission="derailleur", **{"cassette.sprockets": "11-42 40-speed"})
    assert list(ask(do="talk", guide=LEAD, bike=at_once)["wrong-answers"]) == ["cassette.sprockets"]  # type: ignore[call-overload]
    single = bike(transmission="single", **{"cassette.sprockets": "11-36 10-speed"})
    assert ask(do="talk", guide=LEAD, bike=single)["question"]


def test_what_can_not_all_be_so_makes_no_guide() -> None:
    """The gate is asked of this bike as of any: eleven sprockets do not go with seven clicks."""
    told = bike(
        transmission="derailleur",
        **{"cassette.sprockets": "11, 13, 15, 17, 19, 21, 24, 28, 32, 36, 42", "rear-shifter.speeds": "7"},
    )
    found = ask(do="fit", guide=LEAD, bike=told, parts=["cs-11-50-11s"])
    assert found["state"] == "contradicts"
    assert "html" not in found


def test_a_guide_that_is_not_for_the_bike_says_why() -> None:
    told = bike(transmission="hub-gear", **{"rear-hub.gears": "8"})
    found = ask(do="fit", guide=LEAD, bike=told, parts=["cs-11-50-11s"])
    assert found["state"] == "refused"
    assert found["reasons"]


def test_an_unknown_part_is_told() -> None:
    found = ask(do="fit", guide=LEAD, bike=bike(transmission="derailleur"), parts=["cs-no-such"])
    assert "unknown part 'cs-no-such'" in str(found["reasons"])


def test_a_job_that_puts_a_part_on_waits_for_the_part() -> None:
    assert ask(do="fit", guide=LEAD, bike=bike(transmission="derailleur"), parts=[])["state"] == "needs-part"


def test_what_nobody_knows_leads_to_a_measurement_with_its_limit() -> None:
    found = ask(do="fit", guide=LEAD, bike=bike(transmission="derailleur"), parts=["cs-11-50-11s"])
    lacks = {one["id"]: one for one in found["lacks"]}  # type: ignore[attr-defined]
    assert lacks["rear-hub.body-length"]["limit"] == "35.75 to 36.25\u00a0mm"
    assert lacks["frame.chainstay"]["span"] == "250 to 900\u00a0mm"
    assert lacks["frame.chainstay"]["how"][0].startswith("Put the tape measure")
    assert found["not-judged"]
    told = bike(transmission="derailleur", **{"frame.chainstay": "17 in"})
    again = ask(do="fit", guide=LEAD, bike=told, parts=["cs-11-50-11s"])
    assert "frame.chainstay" not in {one["id"] for one in again["lacks"]}  # type: ignore[attr-defined]
    left = bike(transmission="derailleur", **{"frame.chainstay": ""})
    open_ = ask(do="fit", guide=LEAD, bike=left, parts=["cs-11-50-11s"])
    assert "frame.chainstay" not in {one["id"] for one in open_["lacks"]}  # type: ignore[attr-defined]
    assert "Chainstay length" in str(open_["html"]) or "chainstay length" in str(open_["html"])


def test_a_figure_without_a_unit_is_listed_as_it_was_taken() -> None:
    listed = ask(do="talk", guide=LEAD, bike=bike(**{"frame.chainstay": "432"}))["told"]
    assert [one["answer"] for one in listed] == ["432 mm"]  # type: ignore[attr-defined]


def test_what_is_told_is_listed_once_and_the_transmission_first() -> None:
    told = bike(front_axle="nutted", transmission="derailleur")
    listed = ask(do="talk", guide=WHEEL, bike=told)["told"]
    assert [one["id"] for one in listed] == ["transmission", "front-axle"]  # type: ignore[attr-defined]


def test_a_script_in_every_field_shows_as_text() -> None:
    harm = "<script>alert(1)</script>"
    answers = dict.fromkeys(("front-axle", "frame.chainstay", "crankset.rings", harm), harm)
    found = ask(do="fit", guide=WHEEL, bike={"name": harm, "answers": answers}, parts=[])
    assert harm not in str(found["html"])
    assert "&lt;script&gt;" in str(found["html"])


HUB = {"crankset.rings": "42", "cassette.sprockets": "11, 13, 15, 18, 21, 24, 28", "frame.chainstay": "432 mm"}


def test_a_part_that_is_told_by_its_figures_is_judged_as_one_of_the_list() -> None:
    told = bike(transmission="derailleur", **HUB, **{"rear-hub.sprocket-mount": "nine-spline"})
    described = {"cassette": {"sprockets": "11, 13, 15, 18, 21, 24, 28, 32", "mount": "fine-spline"}}
    found = ask(do="fit", guide=LEAD, bike=told, parts=[], described=described)
    assert found["state"] == "trouble"
    assert "Cassette as described" in str(found["html"]).replace("cassette as", "Cassette as")
    wrong = ask(do="fit", guide=LEAD, bike=told, parts=[], described={"cassette": {"mount": "<b>"}})
    assert "none of the words" in str(wrong["wrong"])
    assert "no such place" in str(ask(do="fit", guide=LEAD, bike=told, described={"harm": {"a": "b"}})["wrong"])


def test_the_page_of_a_bike_has_its_gears_its_hills_and_its_wear() -> None:
    answers = {
        **HUB,
        "measured.wheel-circumference": "2150 mm",
        "rider.mass": "75 kg",
        "rider.power": "150 W",
        "rider.least-cadence": "60 rev/min",
        "climb.Mill Lane": "9 %",
        "wear.2026-01-10.chain-wear": "0.1 %",
        "wear.2026-05-10.chain-wear": "0.25 %",
        "wear.2026-09-10.chain-wear": "0.4 %",
    }
    found = ask(do="bike", bike={"name": "Coot", "answers": answers}, guide=LEAD, parts=["cs-11-50-11s"])
    assert found["wrong-answers"] == {}
    for shown in ("Gears now", "Gears after the job", "Mill Lane", "2026-09-10", "Chain, longer than new", "<svg"):
        assert shown in str(found["html"]), shown
    file = str(ask(do="file", bike={"name": "Coot", "answers": answers})["text"])
    assert "  - date: 2026-05-10\n    chain-wear: 0.25 %\n" in file
    assert "  - name: Mill Lane\n    gradient: 9 %\n" in file


def test_lower_gears_are_found_as_the_command_finds_them() -> None:
    told = bike(**HUB)
    found = ask(do="lower", bike=told, by="50 %")
    interview, _ = Talk(library()).held(BikeTold("Coot", told["answers"]))  # type: ignore[arg-type]
    sets = lowerings(bike_of(interview.facts, "Coot", "coot"), 50, library())
    assert [one["parts"] for one in found["sets"]] == [  # type: ignore[attr-defined]
        {role.value: part.id for role, part in one.plan.wanted.items()} for one in sets
    ]
    assert "teeth" in str(ask(do="lower", bike=bike(), by="10")["wrong"])
    assert "wrong" in ask(do="lower", bike=told, by="<b>")


def test_a_question_has_the_drawing_of_its_measurement_where_there_is_one() -> None:
    assert "<svg" in str(ask(do="figure", question="frame.chainstay")["svg"])
    assert ask(do="figure", question="front-axle")["svg"] == ""


@pytest.mark.parametrize("height", ["NaN", "-1", "1e9", '"4"', "null"])
def test_blocks_of_no_height_make_no_card(height: str) -> None:
    blocks = f'[{{"says": {{"data-gap": "1"}}, "height": {height}}}]'
    request = f'{{"do": "sides", "card": {{"data-paper": "a5"}}, "blocks": {blocks}}}'
    assert "do not make a card" in json.loads(desk().answer(request))["wrong"]
