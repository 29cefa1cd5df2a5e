"""Safety messages of a card to work along: in full before the first act that they are about, in short before others."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from builder.tailoring.tailored import ShownCaution, ShownStep, Tailored


def told_at_steps(steps: Iterable[ShownStep]) -> Mapping[int, tuple[ShownCaution, ...]]:
    """The messages of each step by its number: with what may follow at the first step, what to do at the others."""
    told: set[str] = set()
    found: dict[int, tuple[ShownCaution, ...]] = {}
    for step in steps:
        found[step.number] = tuple(
            shown if shown.caution.id in told else replace(shown, text=shown.caution.text) for shown in step.cautions
        )
        told |= {shown.caution.id for shown in step.cautions}
    return found


def told_ahead(tailored: Tailored) -> tuple[ShownCaution, ...]:
    """The messages of the whole job in the few words that stand at the step."""
    return tuple(replace(shown, text=shown.caution.short or shown.text) for shown in tailored.summary_cautions)
