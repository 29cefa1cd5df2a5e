"""Faults that can be put into a library, one at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from builder.model.condition import ALWAYS, Not
from builder.model.guide import Guide, Step, Use
from builder.model.library import Library
from builder.model.units import Range

Items = tuple[Step | Use, ...]
# What turns nothing, to put in the place of the right tool, and of itself.
_WRONG_TOOL, _OTHER_WRONG_TOOL = "calliper", "shell-cutters"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """A fault: its kind, where it is, what it is about (the steps), and the library that has it.

    `home` is the guide or the procedure that it stands in, '' for the catalogue.
    """

    kind: str
    where: str
    home: str
    steps: tuple[Step, ...]
    library: Library


def faults(library: Library) -> Iterator[Fault]:
    """Every fault of every kind."""
    for name, procedure in library.procedures.items():

        def put(items: Items, name: str = name) -> Library:
            changed = replace(library.procedures[name], steps=items)
            return replace(library, procedures={**library.procedures, name: changed})

        yield from _in_list(f"{name}", name, procedure.steps, put)
    for name, guide in library.guides.items():
        for number, section in enumerate(guide.work):

            def put_work(items: Items, guide: Guide = guide, number: int = number) -> Library:
                section = replace(guide.work[number], steps=items)
                work = (*guide.work[:number], section, *guide.work[number + 1 :])
                return _with_guide(library, replace(guide, work=work))

            yield from _in_list(name, name, section.steps, put_work)
            if section.when != ALWAYS:
                flipped = replace(section, when=Not(section.when))
                work = (*guide.work[:number], flipped, *guide.work[number + 1 :])
                faulty = _with_guide(library, replace(guide, work=work))
                yield Fault(
                    kind="flip condition", where=f"{name}: {section.title}", home=name, steps=(), library=faulty
                )
        yield from _in_list(
            name, name, guide.finish, lambda items, g=guide: _with_guide(library, replace(g, finish=items))
        )
        yield from _in_list(name, name, guide.test, lambda items, g=guide: _with_guide(library, replace(g, test=items)))
    yield from _torques(library)


def _with_guide(library: Library, guide: Guide) -> Library:
    return replace(library, guides={**library.guides, guide.id: guide})


def _fault(
    where: str,
    home: str,
    put: Callable[[Items], Library],
    before: Items,
    after: Items,
    kind: str,
    *middle: Step | Use,
    what: str = "",
    steps: tuple[Step, ...] = (),
) -> Fault:
    tail = f" ({what})" if what else ""
    return Fault(kind=kind, where=where + tail, home=home, steps=steps, library=put((*before, *middle, *after)))


def _in_list(label: str, home: str, items: Items, put: Callable[[Items], Library]) -> Iterator[Fault]:
    for place, item in enumerate(items):
        where = f"{label}.{item.id if isinstance(item, Step) else item.use}"
        before, after = items[:place], items[place + 1 :]

        fault = partial(_fault, where, home, put, before, after)
        if item.when != ALWAYS:
            yield fault("flip condition", replace(item, when=Not(item.when)))
        if isinstance(item, Use):
            yield fault("drop procedure")
            continue
        own = (item,)
        closes = any(name == "clutch" and value == "working" for name, value in item.leaves.items())
        yield fault("forget the clutch" if closes else "drop step", steps=own)
        if place + 1 < len(items) and isinstance(after[0], Step):
            swapped = (*before, after[0], item, *after[1:])
            yield Fault(kind="swap neighbours", where=where, home=home, steps=(item, after[0]), library=put(swapped))
        if item.tightens is not None:
            yield fault("drop torque", replace(item, tightens=None), steps=own)
        for name in item.needs:
            kept = {key: value for key, value in item.needs.items() if key != name}
            yield fault("remove need", replace(item, needs=kept), what=name, steps=own)
        for name in item.leaves:
            kept = {key: value for key, value in item.leaves.items() if key != name}
            yield fault("remove leaves", replace(item, leaves=kept), what=name, steps=own)
        for thing in item.handles:
            rest = tuple(name for name in item.handles if name != thing)
            yield fault("remove caution", replace(item, handles=rest), what=thing, steps=own)
        for tool in item.tools:
            wrong = _OTHER_WRONG_TOOL if tool == _WRONG_TOOL else _WRONG_TOOL
            other = tuple(wrong if name == tool else name for name in item.tools)
            yield fault("swap tool", replace(item, tools=other), what=tool, steps=own)


def _torques(library: Library) -> Iterator[Fault]:
    for name, fastener in library.fasteners.items():
        if fastener.torque_nm is None:
            continue
        for factor, words in ((10.0, "ten times"), (0.1, "a tenth")):
            wrong = Range(fastener.torque_nm.low * factor, fastener.torque_nm.high * factor)
            faulty = {**library.fasteners, name: replace(fastener, torque_nm=wrong)}
            yield Fault(
                kind="change torque",
                where=f"{name} ({words})",
                home="",
                steps=(),
                library=replace(library, fasteners=faulty),
            )
