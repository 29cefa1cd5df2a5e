"""Rules of the trade that a step shows by itself: when a repeat ends, what meets on a thread, who holds a limit."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from builder.checks.registry import CHECKS
from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.catalogue import Preparation
from builder.model.condition import ALWAYS
from builder.model.guide import Guide, Step
from builder.model.inlining import PlacedStep, inlined
from builder.model.library import Library
from builder.model.named_values import names_in
from builder.model.steps import written_steps
from builder.model.verbs import acts
from builder.proof.configurations import configurations
from builder.tailoring.hazards import fastener_things

_LUBRICANTS = frozenset({"grease", "oil", "anti-seize", "assembly-paste"})
_LOCKER = "threadlock"
# A strap of a child seat is no tool, and bare hands are always there.
_NO_TOOL = frozenset({"strap", "bare hands"})
# What burns as vapour, and the thing to which the caution of it attaches.
_VAPOURS = frozenset({"rotor-cleaner", "cleaner", "rubber-cement"})
_SOLVENT = "solvent"
_OPEN_HEAD, _SQUARE = "open-end head", "square to the wrench"
_ON_CARD = re.compile(r"\b(?:goes? on|(?:is |are )?written on|write\b[^.]*\bon) (?:this|the) card\b", re.IGNORECASE)
_SIDES = frozenset({"left", "right"})
_POWER_OFF = re.compile(r"\belectric system is off\b", re.IGNORECASE)
_FIGURE = re.compile(r"\d(?:[\d.,]*\d)?\s*(?:mm|bar|%|N·m|N\b|°)")
_SIZE = re.compile(r"(\d+(?:\.\d+)?) mm\b")


def steps_keep_the_trade(library: Library) -> tuple[Diagnostic, ...]:
    """Everything in single steps, guides and tools that breaks one of these rules."""
    found = [one for home, step in written_steps(library) for one in _step(home, step, library)]
    named = _tools_by_name(library)
    for guide in library.guides.values():
        found += [*_threads(guide, library), *_suiting(guide), *_named_tools(guide, library, named)]
        found += _powered(guide, library)
    return (*dict.fromkeys(found), *_tool_sizes(library))


def _step(home: str, step: Step, library: Library) -> Iterator[Diagnostic]:
    if step.until and not step.limit:
        yield Diagnostic(
            rule="endless",
            message=f"step '{home}.{step.id}' goes on until something is so, and does not say when to stop",
            at=step.places.of("until"),
            gravity=Gravity.WARNING,
            hints=("write under 'limit:' how often or how far at most, and what to do then",),
        )
    measurement = library.measurements.get(step.measure or "")
    is_typed = bool(_FIGURE.search(step.limit)) and not names_in(step.limit)
    if measurement is not None and measurement.check in CHECKS and is_typed:
        yield Diagnostic(
            rule="typed-limit",
            message=f"step '{home}.{step.id}' types a limit that the check '{measurement.check}' holds",
            at=step.places.of("limit"),
            gravity=Gravity.WARNING,
            hints=("show a value of the catalogue, which takes it from the check, so that a limit stands once",),
        )
    yield from _written_down(home, step)
    yield from _vapours(home, step)
    yield from _longer_wrench(home, step, library)
    if _LOCKER in step.consumables and _LUBRICANTS & {*step.consumables}:
        yield _on_one_thread(f"step '{home}.{step.id}'", step)


def _powered(guide: Guide, library: Library) -> Iterator[Diagnostic]:
    """A job on an electric bike in which nobody switches it off: a foot on a pedal starts the motor.

    A sheet looks at a bike that is ready to be ridden.
    """
    if guide.service_sheet or any(_POWER_OFF.search(text) for text in guide.before):
        return
    if any(item.step.leaves.get("battery") == "idle" for item in inlined(guide, library)):
        return
    if configurations(guide, library).feasible({"battery": "removable"}):
        yield Diagnostic(
            rule="power-on",
            message=f"guide '{guide.id}' is for electric bikes too, and nobody switches one off",
            at=guide.places.of("before"),
            gravity=Gravity.WARNING,
            hints=("say under 'before:' that an electric system is off, or put the bike in the stand",),
        )


def _written_down(home: str, step: Step) -> Iterator[Diagnostic]:
    """A value that the card shall hold, and that it has no line for."""
    if step.measure or step.boxes:
        return
    for key, text in (("do", step.do), ("limit", step.limit)):
        if (said := _ON_CARD.search(text)) is not None:
            yield Diagnostic(
                rule="card-box",
                message=f"step '{home}.{step.id}' says “{said[0]}”, and the card has no line to write it on",
                at=step.places.of(key),
                hints=("add 'boxes: {name: unit}', or 'measure:' where the bike's file keeps the value",),
            )


def _vapours(home: str, step: Step) -> Iterator[Diagnostic]:
    """Something that burns, used in a step to which its caution does not attach."""
    used = sorted(_VAPOURS & {*step.consumables})
    if used and _SOLVENT not in step.handles:
        yield Diagnostic(
            rule="vapour",
            message=f"step '{home}.{step.id}' uses '{used[0]}' and warns of no vapour",
            at=step.places.of("consumables"),
            hints=(f"add '{_SOLVENT}' to its 'handles', so that the caution attaches",),
        )


def _longer_wrench(home: str, step: Step, library: Library) -> Iterator[Diagnostic]:
    """An open-end head makes the wrench longer, and the figure larger, where it does not stand square to it."""
    fastener = library.fasteners.get(step.tightens or "")
    if fastener is None or fastener.torque_nm is None or _SQUARE in f"{step.do} {step.limit} {step.prove}":
        return
    drivers = [tool.name for tool in library.tools.values() if tool.driven and fastener.head in tool.fits]
    if drivers and all(_OPEN_HEAD in name for name in drivers):
        yield Diagnostic(
            rule="head-square",
            message=f"step '{home}.{step.id}' tightens with the {drivers[0]}, and does not say how it stands",
            at=step.places.of("do"),
            gravity=Gravity.WARNING,
            hints=(f"write 'The head stands {_SQUARE}': in line with it the bolt gets more than the figure",),
        )


def _named_tools(guide: Guide, library: Library, named: Mapping[str, set[str]]) -> Iterator[Diagnostic]:
    """Tools that a text speaks of and that no step of the guide lays out."""
    placed = inlined(guide, library)
    laid = {name for item in placed for name in (*item.step.tools, *_fitting(item.step, library))}
    away = {name: tools for name, tools in named.items() if not tools & laid}
    for item in placed:
        for key in ("do", "limit", "prove"):
            text = getattr(item.step, key).lower()
            for name, tools in away.items():
                if name in text and re.search(rf"\b{re.escape(name)}\b", text):
                    yield Diagnostic(
                        rule="tool-not-laid-out",
                        message=f"step '{item.anchor}' speaks of the {name}, which no step of this guide lays out",
                        at=item.step.places.of(key),
                        gravity=Gravity.WARNING,
                        hints=(f"add 'tools: [{min(tools)}]', so that it is laid out before the work",),
                    )


def _tools_by_name(library: Library) -> dict[str, set[str]]:
    """The tools that have each name by which texts speak of them, the longest name first."""
    found: dict[str, set[str]] = {}
    for key, tool in library.tools.items():
        found.setdefault(_bare(tool.name), set()).add(key)
    names = sorted(found.keys() - _NO_TOOL, key=lambda name: (-len(name), name))
    return {name: found[name] for name in names}


def _bare(name: str) -> str:
    """A tool's name without its size."""
    return name.split(",")[0].lower()


def _fitting(step: Step, library: Library) -> Iterator[str]:
    """The tools that the step's fastener brings."""
    fasteners = (library.fasteners.get(name or "") for name in (step.loosens, step.tightens))
    heads = {fastener.head for fastener in fasteners if fastener is not None}
    return (key for key, tool in library.tools.items() if heads & {*tool.fits} or (heads and tool.torque_nm))


def _threads(guide: Guide, library: Library) -> Iterator[Diagnostic]:
    """Grease on a thread that is locked, and locker on one that is greased."""
    placed = inlined(guide, library)
    for item in placed:
        fastener = library.fasteners.get(item.step.tightens or "")
        if fastener is None:
            continue
        locked = fastener.preparation is Preparation.THREADLOCKED
        contrary = _LUBRICANTS if locked else {_LOCKER}
        things = {*fastener_things(fastener, library)}
        for other in placed[: item.index]:
            if not contrary & {*other.step.consumables} or not _on_the_thread(other, item, things, library):
                continue
            space = configurations(guide, library)
            if space.meets(tuple(map(space.knowing.asked, (*other.conditions, *item.conditions)))):
                yield _on_one_thread(f"step '{other.anchor}', before '{item.anchor}',", other.step)


def _on_the_thread(other: PlacedStep, item: PlacedStep, things: set[str], library: Library) -> bool:
    """Whether a step puts something on the thread that another one tightens."""
    spoken = any("thread" in " ".join(act.phrase) for act in acts(other.step.do, library.verbs)) or (
        "thread" in other.step.do
    )
    same_way = other.section == item.section and other.uses == item.uses
    return (
        spoken
        and same_way
        and bool(things & {*other.step.handles})
        and _on_one_side(other.step.do, library.fasteners[item.step.tightens or ""].name)
    )


def _on_one_side(text: str, fastener: str) -> bool:
    """Whether a text that names a side may speak of this fastener: the left cup's thread is not the right one's."""
    named, own = _SIDES & {*text.lower().split()}, _SIDES & {*fastener.lower().split()}
    return not named or not own or bool(named & own)


def _on_one_thread(who: str, step: Step) -> Diagnostic:
    return Diagnostic(
        rule="one-thread",
        message=f"{who} brings threadlocker and a lubricant together on one thread",
        at=step.places.of("consumables"),
        hints=("a locked thread is clean and dry: take one of them away",),
    )


def _suiting(guide: Guide) -> Iterator[Diagnostic]:
    if bool(guide.refuse) != (guide.suits != ALWAYS):
        key, other = ("refuse", "suits") if guide.refuse else ("suits", "refuse")
        yield Diagnostic(
            rule="suits",
            message=f"'{guide.id}' has '{key}' and no '{other}'",
            at=guide.places.of(key),
            hints=("say both: which bikes it is for, and what the others are told",),
        )


def _tool_sizes(library: Library) -> tuple[Diagnostic, ...]:
    """Every tool of one size whose heads are all of another."""
    found = []
    for tool in library.tools.values():
        sizes = {*_SIZE.findall(tool.name)}
        fitted = [library.heads[head].name for head in tool.fits if head in library.heads]
        heads = {size for name in fitted for size in _SIZE.findall(name)}
        if len(sizes) == 1 and heads and not sizes & heads:
            found.append(
                Diagnostic(
                    rule="tool-size",
                    message=f"the tool '{tool.name}' fits heads of {', '.join(sorted(heads))} mm",
                    at=tool.places.of("fits"),
                    hints=("correct the name of the tool, or the heads that it fits",),
                )
            )
    return tuple(found)
