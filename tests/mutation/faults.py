"""Faults that can be put into a library, one at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from builder.model.condition import ALWAYS, Not
from builder.model.guide import Guide, Step, Use
from builder.model.library import Library
from builder.model.parts import Cassette, Pads, Part, Rim, Rotor, Tyre
from builder.model.steps import written_steps
from builder.model.units import Range
from builder.proof.unreached import unreached

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
    yield from _of_the_catalogue(library)
    yield from _of_parts(library)


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
        yield from _in_step(item, fault, own)
        for tool in item.tools:
            wrong = _OTHER_WRONG_TOOL if tool == _WRONG_TOOL else _WRONG_TOOL
            other = tuple(wrong if name == tool else name for name in item.tools)
            yield fault("swap tool", replace(item, tools=other), what=tool, steps=own)


def _in_step(item: Step, fault: Callable[..., Fault], own: tuple[Step, ...]) -> Iterator[Fault]:
    """Faults of kinds that change no state, yet would stand on a card."""
    if item.renews:
        yield fault("keep the old part's states", replace(item, renews=()), steps=own)
    if item.until and item.limit:
        yield fault("repeat without a way out", replace(item, limit=""), steps=own)
    if item.figure:
        yield fault("name a drawing that is none", replace(item, figure=f"{item.figure}s"), steps=own)
    if (item.loosens or item.tightens) and " to the " not in item.do:
        turned = f"Turn the bolt to the left. {item.do}"
        yield fault("turn a thread to the left", replace(item, do=turned), steps=own)
    if item.leaves and item.do.startswith(("Deflate", "Drain")):
        yield fault("let out without a state", replace(item, leaves={}), steps=own)
    if "grease" in item.consumables:
        locked = (*item.consumables, "threadlock")
        yield fault("grease and lock one thread", replace(item, consumables=locked), steps=own)
    if item.measure and "{{" in item.limit:
        yield fault("type a limit", replace(item, limit="It is replaced below 1.5 mm."), steps=own)


def _of_the_catalogue(library: Library) -> Iterator[Fault]:
    """A caution that attaches nowhere, and a measurement that empties what it measures."""
    told = " ".join(one.message for one in unreached(library))
    named = {name for _, step in written_steps(library) for name in step.cautions}
    named |= {name for guide in library.guides.values() for name in guide.cautions}
    for name, caution in library.cautions.items():
        # One that no step comes to even now, or that a step names by itself, is not lost by this.
        if caution.verbs and f"'{name}'" not in told and name not in named:
            lost = {**library.cautions, name: replace(caution, verbs=("charge",), things=("valve",))}
            yield _everywhere("detach a caution", name, replace(library, cautions=lost))
    for name, measurement in library.measurements.items():
        texts = tuple(text for text in measurement.how if "Inflate" not in text)
        if texts != measurement.how:
            emptied = {**library.measurements, name: replace(measurement, how=texts)}
            yield _everywhere("measure and leave the air out", name, replace(library, measurements=emptied))


def _of_parts(library: Library) -> Iterator[Fault]:
    """Figures of one part that contradict each other."""
    for name, part in library.parts.items():
        wrong: Part | None = None
        match part:
            case Rotor() | Pads() if part.least_thickness_mm and part.new_thickness_mm:
                wrong = replace(part, least_thickness_mm=part.new_thickness_mm + 0.5)
            case Tyre() if part.least_pressure_bar and part.greatest_pressure_bar:
                wrong = replace(part, least_pressure_bar=part.greatest_pressure_bar + 1)
            case Cassette() if part.sprockets:
                wrong = replace(part, sprockets=tuple(reversed(part.sprockets)))
            case Rim() if part.spokes:
                wrong = replace(part, spokes=part.spokes - 1)
            case _:
                pass
        if wrong is not None:
            yield _everywhere(
                "contradict a part's figures", name, replace(library, parts={**library.parts, name: wrong})
            )


def _everywhere(kind: str, where: str, library: Library) -> Fault:
    return Fault(kind=kind, where=where, home="", steps=(), library=library)


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
