"""Try the rules of writing on single texts and records, judged with the words of the shipped library."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

import yaml

from builder.model.catalogue import Caution, Consumable, Fastener, Harm, Likelihood, Preparation, Severity
from builder.model.guide import Choice, Guide, Level, Section, Step
from builder.model.units import Unit, read_range, read_value
from builder.proof.writing.context import Context, context_of
from builder.proof.writing.passages import (
    TextKind,
    caution_element,
    consumable_element,
    example,
    fastener_element,
    guide_element,
    step_element,
)
from builder.proof.writing.registry import ON_CAUTION, ON_CONSUMABLE, ON_FASTENER, ON_GUIDE, ON_PASSAGE, ON_STEP
from builder.proof.writing.rule import RuleModule
from tests.demo import library

EVERY_RULE: tuple[RuleModule[Any], ...] = (
    *ON_PASSAGE,
    *ON_STEP,
    *ON_GUIDE,
    *ON_CAUTION,
    *ON_FASTENER,
    *ON_CONSUMABLE,
)


@cache
def shipped() -> Context:
    """The words of the shipped library."""
    return context_of(library())


def step(record: Mapping[str, Any]) -> Step:
    """A step as a source file writes it, as far as the rules look."""
    fields = {key.replace("-", "_"): value for key, value in record.items() if key not in ("wait", "choose")}
    for key in ("tools", "consumables", "cautions"):
        fields[key] = tuple(fields.get(key, ()))
    wait = record.get("wait")
    return Step(
        id=fields.pop("id", "step"),
        wait_min=None if wait is None else read_value(wait, Unit.MINUTE),
        choose=tuple(Choice(**choice) for choice in record.get("choose", ())),
        **fields,
    )


def caution(record: Mapping[str, Any]) -> Caution:
    """A caution as a source file writes it."""
    return Caution(
        id="caution",
        text=record["text"],
        short=record.get("short", ""),
        harm=Harm(record["harm"]),
        severity=Severity(record["severity"]),
        likelihood=Likelihood(record["likelihood"]),
        signs=tuple(record.get("signs", ())),
    )


def fastener(record: Mapping[str, Any]) -> Fastener:
    """A fastener with its torque or its feel."""
    torque = record.get("torque")
    return Fastener(
        id="bolt",
        name="bolt",
        thread="M5",
        head="hex-4",
        preparation=Preparation.DRY,
        source="common-practice",
        torque_nm=None if torque is None else read_range(torque, Unit.NEWTON_METRE),
        feel=record.get("feel", ""),
    )


def guide(**changes: Any) -> Guide:
    """A small guide that keeps every rule, with `changes`."""
    usual: dict[str, Any] = {
        "id": "guide",
        "title": "Replace the chain",
        "family": "drivetrain",
        "purpose": "A new chain runs quietly.",
        "done_when": "The chain runs without a noise.",
        "level": Level.FIRST_TIME,
        "prepare_time_min": 5.0,
        "work_time_min": 10.0,
        "work": (section("Remove the chain", 1), section("Join the chain", 1)),
        "test": (Step(id="test", do="Turn the cranks.", prove="The chain runs without a noise."),),
    }
    return Guide(**{**usual, **changes})


def section(title: str, steps: int, *, end: str = "The chain is off.", text: str = "Turn the cranks.") -> Section:
    """A section of some steps with the same text."""
    return Section(title=title, end=end, steps=tuple(Step(id=f"{title}-{n}", do=text) for n in range(steps)))


def found_in_text(kind: TextKind, text: str) -> tuple[str, ...]:
    """The ids of the rules that one text breaks."""
    passage = example(kind, text, shipped())
    rules = (rule for rule in ON_PASSAGE if kind in rule.KINDS)
    return tuple(rule.ID for rule in rules if any(rule.check(passage, shipped())))


def found_in_step(record: Mapping[str, Any]) -> tuple[str, ...]:
    """The ids of the rules that a step breaks, in its texts and as a whole."""
    element = step_element(step(record), shipped())
    ids = [
        rule.ID
        for passage in element.passages
        for rule in ON_PASSAGE
        if passage.kind in rule.KINDS and any(rule.check(passage, shipped()))
    ]
    ids += [rule.ID for rule in ON_STEP if any(rule.check(element, shipped()))]
    return tuple(dict.fromkeys(ids))


def breaks(rule: RuleModule[Any], written: str) -> bool:
    """Whether an example of a rule's documentation breaks the rule. Guides are tried by hand, in test_guide_rules."""
    context = shipped()
    if rule in ON_PASSAGE:
        return any(rule.check(example(rule.KINDS[0], written, context), context))  # type: ignore[attr-defined]
    record = yaml.safe_load(written)
    if rule in ON_STEP:
        return any(rule.check(step_element(step(record), context), context))
    if rule in ON_CAUTION:
        return any(rule.check(caution_element(caution(record), context), context))
    if rule in ON_FASTENER:
        return any(rule.check(fastener_element(fastener(record), context), context))
    return any(rule.check(consumable_element(Consumable(id="it", **record), context), context))


def on_guide(rule: RuleModule[Any], of: Guide) -> tuple[str, ...]:
    """What a rule about guides finds."""
    return tuple(finding.found for finding in rule.check(guide_element(of, shipped()), shipped()))


def examples(rule: RuleModule[Any], heading: str) -> tuple[str, ...]:
    """The examples under `Passes:` or `Fails:` in a rule's documentation; a filled line goes on in the next one."""
    block = re.search(rf"^{heading}:\n((?:    .*\n)+)", f"{rule.__doc__}\n", re.MULTILINE)
    return tuple(_joined(block[1].splitlines())) if block else ()


def _joined(lines: Iterable[str]) -> list[str]:
    texts: list[str] = []
    for line in lines:
        text = line[4:]
        if texts and (text.startswith(" ") or _goes_on(texts[-1])):
            texts[-1] += " " + text.strip()
        else:
            texts.append(text)
    return texts


def _goes_on(text: str) -> bool:
    """Whether the next line belongs to the same example, since this one is filled to the margin."""
    return not re.search(r"[.!?})*”)]$", text)
