"""New parts have the states of new parts, and what is let out is put back."""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.guide import Guide, Step
from builder.model.inlining import PlacedStep, inlined
from builder.model.library import Library
from builder.model.steps import written_steps
from builder.model.verbs import acts


def new_parts_are_new(library: Library) -> tuple[Diagnostic, ...]:
    """Every guide that never lays out a part that it wants, or never says from which step on a part is the new one."""
    kept = {role for state in library.states.values() for role in state.of}
    found: list[Diagnostic] = []
    for guide in library.guides.values():
        placed = inlined(guide, library)
        renewed = {role for item in placed for role in item.step.renews}
        told: set[str] = set()
        laid_out = {role for item in placed for role in item.step.parts}
        found += [_not_laid_out(guide, role) for role in guide.wants if role not in laid_out]
        for item in placed:
            for role in item.step.parts:
                if role in kept and role not in renewed and role not in told:
                    told.add(role)
                    found.append(_not_renewed(guide, item, role, library))
    return tuple(found)


def _not_laid_out(guide: Guide, role: str) -> Diagnostic:
    return Diagnostic(
        rule="proof-new-part",
        message=f"{guide.id}: a new {role.replace('-', ' ')} is planned, and no step looks at it before it goes on",
        at=guide.places.of("wants"),
        gravity=Gravity.WARNING,
        hints=(f"write 'parts: [{role}]' at the step that compares it with the old one",),
    )


def _not_renewed(guide: Guide, item: PlacedStep, role: str, library: Library) -> Diagnostic:
    states = ", ".join(name for name, state in library.states.items() if role in state.of)
    return Diagnostic(
        rule="proof-new-part",
        message=f"{guide.id}: a new {role.replace('-', ' ')} is laid out, and no step says from where on it is there",
        at=item.step.places.of("parts"),
        gravity=Gravity.WARNING,
        hints=(
            f"write 'renews: [{role}]' at the step that puts it on: what was so of the old part is not so of it",
            f"its states: {states}",
        ),
    )


def what_is_let_out(library: Library) -> tuple[Diagnostic, ...]:
    """Every act that lets air, fluid or tension out and leaves no state that says so."""
    return tuple(found for home, step in written_steps(library) for found in _let_out(home, step, library))


def measured_and_put_back(library: Library) -> tuple[Diagnostic, ...]:
    """Every measurement that lets something out and does not put it back."""
    found = []
    for measurement in library.measurements.values():
        done = [act.verb for text in measurement.how for act in acts(text, library.verbs) if not act.negated]
        last = max((place for place, verb in enumerate(done) if _lets_out(verb, library)), default=None)
        if last is not None and not {"inflate", "fill"} & {*done[last:]}:
            found.append(
                Diagnostic(
                    rule="proof-let-out",
                    message=f"the measurement '{measurement.id}' lets something out and does not put it back",
                    at=measurement.places.of("how"),
                    hints=("add how it is put back and what shows that it is as before, after a reading before",),
                )
            )
    return tuple(found)


def _lets_out(verb: str, library: Library) -> bool:
    return verb in library.verbs and library.verbs[verb].lets_out


def _let_out(home: str, step: Step, library: Library) -> Iterator[Diagnostic]:
    if not any(_lets_out(act.verb, library) and not act.negated for act in acts(step.do, library.verbs)):
        return
    # What is out already may be let out again: the state that says so must be put right all the same.
    states = (*step.leaves.items(), *step.needs.items())
    if not any(value in library.states[name].released for name, value in states if name in library.states):
        yield Diagnostic(
            rule="proof-let-out",
            message=f"step '{home}.{step.id}' lets something out, and no state says that it must be put back",
            at=step.places.of("do"),
            hints=("leave a state in one of its 'released' values; then the proof asks who puts it back",),
        )
