"""Show that no group of steps is empty for a bike that comes to it: its heading would promise what nobody does."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from builder.diagnostics.diagnostic import Diagnostic
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


def told(track: Track) -> Iterator[Diagnostic]:
    """The empty groups as mistakes."""
    attributes = track.library.attributes
    for section, cases in empty_sections(track):
        bike = ", ".join(attributes[name].cases.get(case, case) for name, case in cases.items())
        yield Diagnostic(
            rule="proof-empty",
            message=f"{track.guide.id}: a bike finds no step under '{section.title}'",
            at=section.places.at,
            label=f"for a bike with {bike}" if bike else "for every bike",
            hints=("correct the conditions of its steps, or say under 'when:' which bikes the group is for",),
        )
