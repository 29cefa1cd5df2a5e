"""How long the proof takes on guides with many configurations: `python -m tests.benchmarks.bench_proof`.

The guides are made up of conditions that have nothing to do with one another, each with two cases, so that `n` of them
make 2^n configurations. In the first every condition opens and closes a state of its own, as most do in a real guide.
In the worst no two configurations can walk on together, so that the proof has to branch over all of them; it has no
budget.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Iterator
from functools import partial
from itertools import product

from builder.model.catalogue import Attribute, State
from builder.model.condition import AnyOf, Condition, Is
from builder.model.facts import Role
from builder.model.guide import Guide, Level, Section, Step
from builder.model.library import Library
from builder.proof.proving import Proof, prove
from tests.proof.plain_walk import plain_walk

BUDGET_S = 1.0
CONDITIONS = 15
# A plain walk over all of them takes minutes.
PLAIN_CONDITIONS = 10


def attributes(count: int) -> dict[str, Attribute]:
    """Attributes with two cases each."""
    names = [f"fact-{number}" for number in range(count)]
    return {name: Attribute(id=name, words=name, source="computed", cases={"yes": "yes", "no": "no"}) for name in names}


def library_of(count: int, states: dict[str, State], steps: tuple[Step, ...]) -> Library:
    """A library with one guide."""
    guide = Guide(
        id="guide",
        title="Remove the wheel",
        family="wheels",
        purpose="The wheel is off.",
        done_when="The wheel is off.",
        level=Level.PRACTISED,
        prepare_time_min=1.0,
        work_time_min=1.0,
        wants=(Role.CASSETTE,),
        work=(Section(title="Remove the wheel", steps=steps),),
    )
    return Library(guides={"guide": guide}, attributes=attributes(count), states=states)


def step(name: str, when: Condition, leaves: dict[str, str], needs: dict[str, str] | None = None) -> Step:
    """A step that changes a state."""
    return Step(id=name, do="Turn it.", handles=("wheel",), when=when, needs=needs or {}, leaves=leaves)


def apart(count: int) -> Library:
    """Each condition has a state of its own, which one step opens and another one closes."""
    states, steps = {}, []
    for number in range(count):
        when, name = Is(f"fact-{number}", ("yes",)), f"part-{number}"
        states[name] = State(id=name, name=name, values={"in": "in", "out": "out"}, ready=("in",))
        steps.append(step(f"open-{number}", when, {name: "out"}, {name: "in"}))
        steps.append(step(f"close-{number}", when, {name: "in"}, {name: "out"}))
    return library_of(count, states, tuple(steps))


def together(count: int) -> Library:
    """All conditions change one state, each in its own way, and a last step puts it back for whoever changed it."""
    values = {str(number): str(number) for number in range(count + 1)}
    state = State(id="part", name="part", values=values, ready=("0",))
    facts = tuple(Is(f"fact-{number}", ("yes",)) for number in range(count))
    steps = [step(f"turn-{number}", fact, {"part": str(number + 1)}) for number, fact in enumerate(facts)]
    return library_of(count, {"part": state}, (*steps, step("back", AnyOf(facts), {"part": "0"})))


def branching(count: int) -> Library:
    """Every condition is asked twice, in the first half of the guide and in the second, and all change one state.

    At the end of the first half all that was asked must still be known, so that no two configurations are alike.
    """
    values = {f"{half} {number}": "so" for half in ("first", "second") for number in range(count)} | {"in": "in"}
    state = State(id="part", name="part", values=values, ready=tuple(reversed(values)))
    steps = [
        step(f"{half}-{number}", Is(f"fact-{number}", ("yes",)), {"part": f"{half} {number}"})
        for half in ("first", "second")
        for number in range(count)
    ]
    return library_of(count, {"part": state}, tuple(steps))


# Each with whether it has to keep the budget.
SHAPES: tuple[tuple[str, Callable[[int], Library], bool], ...] = (
    ("each condition with a state of its own", apart, True),
    ("all conditions with one state", together, True),
    ("worst case: all conditions with one state, each asked twice", branching, False),
)


def seconds(act: Callable[[], object], *, times: int) -> float:
    """The best of some runs."""
    best = float("inf")
    for _ in range(times):
        start = time.perf_counter()
        act()
        best = min(best, time.perf_counter() - start)
    return best


def configurations(library: Library) -> Iterator[dict[str, str]]:
    """Every configuration, one by one."""
    names = list(library.attributes)
    for cases in product(*(library.attributes[name].cases for name in names)):
        yield dict(zip(names, cases, strict=True))


def walk_plainly(library: Library) -> int:
    """How many things go wrong in any configuration, each walked by itself."""
    guide = library.guides["guide"]
    return len({wrong for cases in configurations(library) for wrong in plain_walk(guide, library, cases)[1]})


def proven(library: Library) -> Proof:
    """The proof of the guide."""
    return prove(library.guides["guide"], library)


def main() -> int:
    """Print each guide; 1 if one takes longer than its budget, or is not proven over all its configurations."""
    argparse.ArgumentParser(description=__doc__).parse_args()
    missed = False
    for words, make, budgeted in SHAPES:
        library, small = make(CONDITIONS), make(PLAIN_CONDITIONS)
        proof = proven(library)
        took = seconds(partial(proven, library), times=3)
        verdict = "proven" if not proof.diagnostics else f"{len(proof.diagnostics)} findings"
        print(f"{words}: {proof.configurations:,} configurations, {proof.paths:,} paths, {took:.3f} s, {verdict}")
        fast = seconds(partial(proven, small), times=3)
        slow = seconds(partial(walk_plainly, small), times=1)
        print(
            f"  with {2**PLAIN_CONDITIONS:,} configurations: {fast:.4f} s, a plain walk of each {slow:.3f} s, "
            f"{slow / fast:.0f} times as long"
        )
        whole = proof.configurations == proof.paths == 2**CONDITIONS and not proof.diagnostics
        missed |= not whole or (budgeted and took > BUDGET_S) or walk_plainly(small) > 0
    print(f"budget: {BUDGET_S:g} s for 2^{CONDITIONS} configurations, but for the worst case")
    return int(missed)


if __name__ == "__main__":
    sys.exit(main())
