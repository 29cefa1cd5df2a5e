"""What the program makes, as digests by name: run here and in the interpreter for browsers, the two must be the same.

Nothing is imported but what is in the program for the browser, since this file's text is run there.
"""

from __future__ import annotations

import hashlib
import json
import random
from collections.abc import Callable, Iterable

from builder.checks.reckoning import result_as_json
from builder.model.bike import Bike
from builder.pages.contents import Site
from builder.pages.form import Form
from builder.pages.guide_page import guide_page
from builder.pages.paper import Paper
from builder.planning import PlanError
from builder.proof.jobs import Ready, Refused, planned_jobs, work_out
from builder.rider.described import bike_of
from builder.rider.fitting import fit_as_data, fit_on
from builder.rider.messages import Desk
from builder.rider.requests import BikeTold
from builder.rider.shelf import Shelf
from builder.rider.talking import Talk

_PAPERS = {Form.BRIEF: Paper.A5, Form.STEPS: Paper.A5, Form.TEACHING: Paper.A4}
_SAYINGS = (
    "11-36 10-speed",
    "46, 30",
    "32",
    "11, 13, 15, 17, 19, 21, 24, 28",
    "10",
    "432 ± 1 mm",
    "17 in",
    "114",
    "38",
)


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def planned(shelf: Shelf, wanted: Iterable[str] = (), bikes: Iterable[str] = ()) -> dict[str, str]:
    """The page, the cards and the verdicts of the jobs that the fleet plans.

    Of all of them, of those of some bikes, or of those named `bike/guide`.
    """
    only, found = frozenset(wanted), {}
    desk = Desk(shelf)
    for bike in (shelf.library.bikes[one] for one in (tuple(bikes) or shelf.library.bikes)):
        for job in planned_jobs(bike, shelf.library):
            name = f"{bike.id}/{job.guide.id}"
            if only and name not in only:
                continue
            outcome = work_out(job, shelf.library)
            if not isinstance(outcome, Ready):
                found[name] = (
                    outcome.reason
                    if isinstance(outcome, Refused)
                    else "; ".join(one.message for one in outcome.diagnostics)
                )
                continue
            tailored = outcome.tailored
            site = Site(library=shelf.library, generic=(), typeset=str)
            found[f"{name} page"] = _digest(guide_page(tailored, site, shelf.theme).html)
            for form, paper in _PAPERS.items():
                found[f"{name} {form.value}"] = _digest(desk.card(tailored, form, paper))
            plan = tailored.plan
            if plan is not None:
                told = [[one.where, result_as_json(one)] for one in (*plan.before, *plan.checks)]
                changes = [str(one) for one in plan.changes]
                found[f"{name} verdicts"] = _digest(json.dumps([told, changes, plan.trouble, plan.not_judged]))
            if job.parts:
                found[f"{name} fit"] = _fit(job.bike, job.parts, shelf)
    return found


def at_random(shelf: Shelf, guide: str, seeds: Iterable[int]) -> dict[str, str]:
    """What comes of bikes told of by chance, for each seed: the whole answer of the page's door, and that of `fit`."""
    desk, talk, found = Desk(shelf), Talk(shelf.library), {}

    def ask(**request: object) -> tuple[dict[str, object], str]:
        text = desk.answer(json.dumps(request))
        return json.loads(text), text

    for seed in seeds:
        chance = random.Random(seed)
        told, parts = _told(ask, guide, chance)
        _, text = ask(do="fit", guide=guide, bike=told, parts=parts)
        found[f"{guide} {seed}"] = _digest(text)
        if parts:
            interview, _ = talk.interview(BikeTold(name="Coot", answers=told["answers"]), shelf.library.guides[guide])
            interview.next()  # takes what the answers settle
            found[f"{guide} {seed} fit"] = _fit(bike_of(interview.facts, "Coot", "coot"), tuple(parts), shelf)
    return found


def _fit(bike: Bike, parts: tuple[str, ...], shelf: Shelf) -> str:
    """What `fit` says of the parts on this bike."""
    try:
        return _digest(json.dumps(fit_as_data(fit_on(bike, parts, shelf.library))))
    except PlanError as error:
        return str(error)


def _told(
    ask: Callable[..., tuple[dict[str, object], str]], guide: str, chance: random.Random
) -> tuple[dict[str, object], list[str]]:
    answers: dict[str, str] = {}
    places: object = []
    for _ in range(80):
        talk, _text = ask(do="talk", guide=guide, bike={"name": "Coot", "answers": answers})
        places, question = talk["places"], talk["question"]
        for name in dict(talk["wrong-answers"]):  # type: ignore[call-overload]
            answers[name] = ""
        if question is None:
            break
        if question["id"] in answers:  # type: ignore[index]
            continue
        cases = question["cases"] or [[one] for one in _SAYINGS]  # type: ignore[index]
        answers[question["id"]] = "" if chance.random() < 0.2 else chance.choice(cases)[0]  # type: ignore[index]
    parts = [
        f"{place['role']}={chance.choice(place['parts'])[0]}"
        for place in list(places)  # type: ignore[call-overload]
        if place["required"] and place["parts"]
    ]
    return {"name": "Coot", "answers": answers}, parts
