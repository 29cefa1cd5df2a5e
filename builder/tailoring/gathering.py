"""Gather what a guide's steps use: tools, consumables, parts, torques, cautions."""

from __future__ import annotations

from collections.abc import Iterable

from builder.model.catalogue import Tool
from builder.model.facts import Role
from builder.model.library import Library
from builder.planning.plan import Plan
from builder.tailoring.hazards import gravest_first, signal_word
from builder.tailoring.tailored import LaidOut, ShownCaution, ShownStep, Torque, TorqueLine
from builder.tailoring.wording import fill


def _tools_of(step: ShownStep, library: Library) -> tuple[Tool, ...]:
    named = [library.tools[name] for name in step.step.tools if name in library.tools]
    measured = step.measurement.tools if step.measurement is not None else ()
    named += [library.tools[name] for name in measured if name in library.tools]
    for torque in (step.torque, step.loosens, *step.tried):
        if torque is None:
            continue
        if torque.driver is not None and not any(torque.fastener.head in tool.fits for tool in named):
            named.append(torque.driver)
        if torque is not step.loosens and torque.wrench is not None:
            named.append(torque.wrench)
    return tuple(dict.fromkeys(named))


def tools_of(steps: Iterable[ShownStep], library: Library) -> tuple[LaidOut, ...]:
    """Every tool that the steps use, once, in the order of first use. Bare hands are not laid out."""
    used: dict[str, list[int]] = {}
    for step in steps:
        for tool in _tools_of(step, library):
            used.setdefault(tool.id, []).append(step.number)
    return tuple(
        LaidOut(
            name=library.tools[name].name,
            detail=_detail(library.tools[name], library),
            steps=tuple(dict.fromkeys(numbers)),
            tool=library.tools[name],
            owned=not library.workshop.tools or name in library.workshop.tools,
        )
        for name, numbers in used.items()
        if "hand-lever" not in library.tools[name].fits
    )


def _detail(tool: Tool, library: Library) -> str:
    """What a tool is for; of a torque wrench besides when it was last checked."""
    checked = library.workshop.checked.get(tool.id)
    return f"{tool.use} Checked {checked}.".lstrip() if checked else tool.use


def consumables_of(steps: Iterable[ShownStep], library: Library) -> tuple[LaidOut, ...]:
    """Every consumable that the steps use, once, in the order of first use; what a thread is dressed with is one."""
    used: dict[str, list[int]] = {}
    for step in steps:
        dressing = (step.torque.fastener.preparation.consumable,) if step.torque is not None else ()
        for name in dict.fromkeys((*step.step.consumables, *dressing)):
            if name in library.consumables:
                used.setdefault(name, []).append(step.number)
    return tuple(
        LaidOut(
            name=library.consumables[name].name,
            detail=library.consumables[name].amount,
            steps=tuple(numbers),
            consumable=library.consumables[name],
        )
        for name, numbers in used.items()
    )


def parts_of(steps: Iterable[ShownStep], plan: Plan | None) -> tuple[LaidOut, ...]:
    """The parts to lay out: those of the plan, or where there is none the kinds that the steps put on."""
    used: dict[Role, list[int]] = {}
    for step in steps:
        for role in step.step.parts:
            used.setdefault(role, []).append(step.number)
    if plan is None:
        return tuple(
            LaidOut(name=f"new {role.value.replace('-', ' ')}", steps=tuple(numbers)) for role, numbers in used.items()
        )
    roles = dict.fromkeys((*plan.wanted, *(change.role for change in plan.changes if change.choice is not None)))
    return tuple(
        LaidOut(name=part.name, detail=role.value.replace("-", " "), steps=tuple(used.get(role, ())), part=part)
        for role in roles
        if (part := plan.after.part(role)) is not None
    )


def torques_of(steps: Iterable[ShownStep]) -> tuple[TorqueLine, ...]:
    """A row for each fastener that the steps tighten or try, with the numbers of those steps."""
    used: dict[str, tuple[Torque, int, list[int]]] = {}
    for step in steps:
        if step.torque is not None:
            used.setdefault(step.torque.fastener.id, (step.torque, step.source, []))[2].append(step.number)
        for torque in step.tried:
            used.setdefault(torque.fastener.id, (torque, 0, []))[2].append(step.number)
    return tuple(
        TorqueLine(torque=torque, source=source, steps=tuple(numbers)) for torque, source, numbers in used.values()
    )


def summary_of(steps: Iterable[ShownStep], extra: Iterable[str], library: Library) -> tuple[ShownCaution, ...]:
    """Every caution of the job in full, once, gravest first."""
    named = dict.fromkeys(name for name in extra if name in library.cautions)
    shown = dict.fromkeys(caution.caution.id for step in steps for caution in step.cautions)
    every = tuple(library.cautions[name] for name in (*named, *shown))
    return tuple(
        ShownCaution(caution=caution, word=signal_word(caution), text=fill(caution.text, {}, library))
        for caution in gravest_first(tuple(dict.fromkeys(every)))
    )
