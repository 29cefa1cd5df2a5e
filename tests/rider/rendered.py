"""What the program makes, as digests by name: run here and in the interpreter for browsers, the two must be the same.

Nothing is imported but what is in the program for the browser, since this file's text is run there.
"""

from __future__ import annotations

import hashlib
import json
import random
from collections.abc import Callable, Iterable

from builder.checks.reckoning import result_as_json
from builder.pages.contents import Site
from builder.pages.form import Form
from builder.pages.guide_page import guide_page
from builder.pages.paper import Paper
from builder.proof.jobs import Ready, Refused, planned_jobs, work_out
from builder.rider.messages import Desk
from builder.rider.shelf import Shelf

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


def planned(shelf: Shelf, wanted: Iterable[str] = ()) -> dict[str, str]:
    """The page, the cards and the verdicts of the jobs that the fleet plans; of all, or of those named `bike/guide`."""
    only, found = frozenset(wanted), {}
    desk = Desk(shelf)
    for bike in shelf.library.bikes.values():
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
    return found


def at_random(shelf: Shelf, guide: str, seeds: Iterable[int]) -> dict[str, str]:
    """What comes of bikes that are told of by chance: the whole answer of the page's door, for each seed."""
    desk, found = Desk(shelf), {}

    def ask(**request: object) -> tuple[dict[str, object], str]:
        text = desk.answer(json.dumps(request))
        return json.loads(text), text

    for seed in seeds:
        chance = random.Random(seed)
        told, parts = _told(ask, guide, chance)
        _, text = ask(do="fit", guide=guide, bike=told, parts=parts)
        found[f"{guide} {seed}"] = _digest(text)
    return found


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
