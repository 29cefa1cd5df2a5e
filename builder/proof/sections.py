"""Show that no group of steps is empty for a bike that comes to it, and that none keeps out a bike that a step is for.

The heading of an empty group would promise what nobody does. A group for disc and rim brakes with a step for drum
brakes in it leaves that step out on a bike with two drum brakes, and nobody sees that it is left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from builder.diagnostics.diagnostic import Diagnostic
from builder.model.condition import ALWAYS, asked
from builder.model.guide import Section
from builder.model.inlining import Phase, PlacedStep
from builder.proof.known import NOTHING, Asked
from builder.proof.track import Track, transitions


def empty_sections(track: Track) -> Iterator[tuple[Section, Mapping[str, str]]]:
    """Each group of the work that some bike comes to and does nothing in, with the cases of such a bike."""
    if not track.space.feasible({}):
        return
    for number, section in enumerate(track.guide.work):
        steps = [item for item in track.steps if item.phase is Phase.WORK and item.section == number]
        idle = next(_idle(track, section, steps), None)
        if idle is not None:
            yield section, idle


def _idle(track: Track, section: Section, steps: list[PlacedStep]) -> Iterator[Mapping[str, str]]:
    """Bikes that come to the group and do none of its steps."""
    knowing = track.space.knowing
    later: list[tuple[Asked, ...]] = [()]
    for item in reversed(steps):
        later.insert(0, tuple(dict.fromkeys((*track.ready(item.conditions), *later[0]))))
    comes = track.ready((section.when,))
    # What is still worth knowing of a bike, and all that was asked of it.
    frontier = {
        track.space.matters(known, knowing.having_a_say(later[0], known)): known
        for known in track.space.settled(NOTHING, comes)
        if knowing.answer(comes[0], known) is True
    }
    for place, item in enumerate(steps):
        conditions = track.ready(item.conditions)
        frontier = {
            move.known: asked | move.added
            for known, asked in frontier.items()
            for move in transitions(track, conditions, {}, known, later[place + 1])
            if not move.done
        }
    yield from map(knowing.named, frontier.values())


def kept_out(track: Track) -> Iterator[tuple[PlacedStep, Section, Mapping[str, str]]]:
    """Each step that its group keeps from a bike that it is for, with the group and the cases of such a bike.

    Only where both ask for the same attribute: there the step says more exactly which bikes it is for. A group that
    asks for something else, such as what is replaced, is not held against what its steps ask.
    """
    if not track.space.feasible({}):
        return
    for item in track.steps:
        if item.section is None or (section := track.guide.work[item.section]).when == ALWAYS:
            continue
        group, *own = track.ready((section.when, *item.conditions[1:]))
        if not {one.attribute for one in asked(section.when)} & {name for one in own for name in one.names}:
            continue
        answer = track.space.knowing.answer
        for known in track.space.settled(NOTHING, (*own, group)):
            if all(answer(one, known) is True for one in own) and answer(group, known) is False:
                yield item, section, track.space.knowing.named(known)
                break


def told(track: Track) -> Iterator[Diagnostic]:
    """The empty groups, and the steps that a group keeps out, as mistakes."""
    for section, cases in empty_sections(track):
        yield Diagnostic(
            rule="proof-empty",
            message=f"{track.guide.id}: a bike finds no step under '{section.title}'",
            at=section.places.at,
            label=_bike(track, cases),
            hints=("correct the conditions of its steps, or say under 'when:' which bikes the group is for",),
        )
    for item, section, cases in kept_out(track):
        yield Diagnostic(
            rule="proof-kept-out",
            message=f"{track.guide.id}: '{section.title}' keeps step '{item.anchor}' from a bike that it is for",
            at=section.places.of("when"),
            label=_bike(track, cases),
            hints=("name these bikes under 'when:' of the group too, or narrow the condition of the step",),
            related=((item.step.places.of("when"), "the step asks here"),),
        )


def _bike(track: Track, cases: Mapping[str, str]) -> str:
    attributes = track.library.attributes
    bike = ", ".join(attributes[name].cases.get(case, case) for name, case in cases.items())
    return f"for a bike with {bike}" if bike else "for every bike"
