"""Acts that must come before others, or must follow them, on every path that has the one.

A rule of the trade with `first` or `then` looks at three kinds of step: those that it speaks of, those of the kind that
must come before, and those of the kind that must follow. Past these alone the guide is walked once for each such rule.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from builder.model.deciding import decided
from builder.proof.acts import Order, ruled
from builder.proof.failures import Failure, Flaw, Trace
from builder.proof.track import Track

# What a trace notes on the way: that the act which comes first is done, and which step is still owed what follows.
_DONE = "done"
_OWED = "owed "


def keep(order: Order, index: int, has: frozenset[str], trace: Trace) -> tuple[Trace, tuple[Failure, ...]]:
    """Do step `index`, and note in `open` what it is to the rule; `has` tells whether these bikes fall under it."""
    noted, failures = trace.open, []
    if index in order.then:
        noted = _paid(noted)
    if ruled(order.rule) in has:
        if order.rule.first is not None and _DONE not in noted:
            failures.append(Failure(Flaw.RULE_FIRST, index, "", rule=order.rule.id))
        if order.rule.then is not None:
            noted = _paid(noted) | {f"{_OWED}{index}"}
    if index in order.first:
        noted |= {_DONE}
    return replace(trace, open=noted, taken=(*trace.taken, index)), tuple(failures)


def _paid(noted: frozenset[str]) -> frozenset[str]:
    return frozenset(note for note in noted if not note.startswith(_OWED))


def still_owed(order: Order, track: Track, cases: Mapping[str, str], trace: Trace) -> tuple[Failure, ...]:
    """The step that no act of the kind that must follow has followed, at the end of a walk."""
    del track, cases
    left = (note.removeprefix(_OWED) for note in trace.open if note.startswith(_OWED))
    return tuple(Failure(Flaw.RULE_THEN, int(index), "", rule=order.rule.id) for index in left)


def out_of_order(track: Track, taken: tuple[int, ...], cases: Mapping[str, str]) -> tuple[Failure, ...]:
    """The failures of order on the path of one configuration: what the walks must agree with."""
    failures = []
    for order in track.orders:
        if decided(order.rule.when, cases) is not True:
            continue
        acts = [place for place, index in enumerate(taken) if index in order.acts]
        for place in acts:
            if order.rule.first is not None and not order.first & set(taken[:place]):
                failures.append(Failure(Flaw.RULE_FIRST, taken[place], "", rule=order.rule.id))
        if acts and order.rule.then is not None and not order.then & set(taken[acts[-1] + 1 :]):
            failures.append(Failure(Flaw.RULE_THEN, taken[acts[-1]], "", rule=order.rule.id))
    return tuple(failures)
