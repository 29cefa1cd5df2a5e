"""Which way a fastener is turned, and at which end of the bike: words that contradict the step that they stand in."""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.catalogue import Hand
from builder.model.condition import asked
from builder.model.guide import Guide, Step, Use
from builder.model.inlining import PlacedStep, inlined
from builder.model.library import Library
from builder.model.steps import written_steps
from builder.model.verbs import acts_of, sentences

# What is turned on a thread; a handlebar may well be turned to the left.
_THREADED = re.compile(
    r"\b(?:bolt|nut|screw|cup|locknut|lockring|pedal|axle nut|adjuster|barrel|knob|cone|cap|spoke|nipple)s?\b"
)
_SIDE = re.compile(r"\b(?:to|towards?) the (?:left|right)\b|\b(?:leftwards?|rightwards?)\b", re.IGNORECASE)
_CLOCK = re.compile(r"\b(anti|counter-?)?clockwise\b", re.IGNORECASE)
_SEEN_FROM = re.compile(r"\bseen from\b|\bas you look\b", re.IGNORECASE)
_ENDS = ("front", "rear")
# Things that a bike has one of at each end.
_AT_AN_END = r"(?:wheel|brake|rotor|pads?|caliper|tyre|hub|rim|axle|derailleur|shifter|brake lever)"


def directions_agree(library: Library) -> tuple[Diagnostic, ...]:
    """Words of turning that leave the way open or contradict the thread; and words of the wrong end of the bike."""
    found = [one for home, step in written_steps(library) for one in _turning(home, step, library)]
    found += [
        one for guide in library.guides.values() for one in (*_wrong_end(guide), *_asks_wrong_end(guide, library))
    ]
    return tuple(found)


def _turning(home: str, step: Step, library: Library) -> Iterator[Diagnostic]:
    for key, text in (("do", step.do), ("why", step.why), ("prove", step.prove), ("limit", step.limit)):
        for sentence in sentences(text):
            verbs = {act.verb for act in acts_of(sentence, library.verbs)}
            turned = bool(verbs & {"turn", "loosen", "tighten"}) or bool(_CLOCK.search(sentence))
            if turned and _SIDE.search(sentence) and _THREADED.search(sentence):
                yield Diagnostic(
                    rule="direction",
                    message=f"step '{home}.{step.id}' turns something on a thread to the left or to the right",
                    at=step.places.of(key),
                    gravity=Gravity.WARNING,
                    hints=("write 'clockwise' or 'anticlockwise' and 'seen from ...': left above is right below",),
                )
        if _CLOCK.search(text) and not _SEEN_FROM.search(text):
            yield Diagnostic(
                rule="direction",
                message=f"step '{home}.{step.id}' does not say from where the direction is seen",
                at=step.places.of(key),
                gravity=Gravity.WARNING,
                hints=("write 'seen from ...': clockwise from one side is anticlockwise from the other",),
            )
    yield from _against_the_thread(home, step, library)


def _against_the_thread(home: str, step: Step, library: Library) -> Iterator[Diagnostic]:
    """A direction that would do the contrary of the step's act on this thread."""
    name = step.tightens or step.loosens
    fastener = library.fasteners.get(name or "")
    said = _CLOCK.search(step.do)
    if fastener is None or said is None or (step.tightens and step.loosens):
        return
    clockwise = said[1] is None
    tightens_clockwise = fastener.hand is Hand.RIGHT
    if clockwise is not (tightens_clockwise is (step.tightens is not None)):
        yield Diagnostic(
            rule="direction",
            message=f"step '{home}.{step.id}' turns the {fastener.name} the other way round: its thread is "
            f"{fastener.hand.value}-hand",
            at=step.places.of("do"),
            hints=("correct the direction, or the fastener's 'hand'",),
        )


def _wrong_end(guide: Guide) -> Iterator[Diagnostic]:
    """A guide for one end of the bike whose own acts name a thing at the other end."""
    end = guide.id.partition("-")[0]
    if end not in _ENDS:
        return
    other = _ENDS[1 - _ENDS.index(end)]
    word = re.compile(rf"\b{other} {_AT_AN_END}\b", re.IGNORECASE)
    items: tuple[Step | Use, ...] = (*(i for section in guide.work for i in section.steps), *guide.finish, *guide.test)
    for step in items:
        if isinstance(step, Step) and (said := word.search(step.do)) is not None:
            yield Diagnostic(
                rule="wrong-end",
                message=f"step '{guide.id}.{step.id}' names the {said[0].lower()} in a job at the {end}",
                at=step.places.of("do"),
                gravity=Gravity.WARNING,
                hints=(f"write '{end}', or give the guide another name",),
            )


def _asks_wrong_end(guide: Guide, library: Library) -> Iterator[Diagnostic]:
    """A step in a guide for one end of the bike that depends on a fact of the other end, and speaks of it nowhere."""
    end = guide.id.partition("-")[0]
    if end not in _ENDS:
        return
    other = _ENDS[1 - _ENDS.index(end)]
    right = dict(_of_both_ends(end, library))
    for placed in inlined(guide, library):
        if re.search(rf"\b{other}\b", f"{placed.step.do} {placed.step.prove}", re.IGNORECASE):
            continue
        for condition in placed.conditions:
            names = {question.attribute for question in asked(condition)}
            for name in names & right.keys():
                if right[name] not in names:
                    yield _asks(guide, placed, name, right[name], end)


def _of_both_ends(end: str, library: Library) -> Iterator[tuple[str, str]]:
    """What is asked of the other end with what asks the same of this one; some of the rear go without its name."""
    for front in library.attributes:
        if not front.startswith("front-"):
            continue
        bare = front.removeprefix("front-")
        for rear in (f"rear-{bare}", bare):
            if rear in library.attributes:
                yield (rear, front) if end == "front" else (front, rear)


def _asks(guide: Guide, placed: PlacedStep, name: str, right: str, end: str) -> Diagnostic:
    return Diagnostic(
        rule="wrong-end",
        message=f"step '{guide.id}.{placed.step.id}' asks '{name}' in a job at the {end}",
        at=placed.step.places.of("when"),
        gravity=Gravity.WARNING,
        hints=(f"ask '{right}'", "or say in the step which end it looks at, where it means the other one"),
    )
