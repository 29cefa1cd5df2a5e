"""What can be shown of a guide's steps one by one: tools that fit, wrenches that reach, values that exist."""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.catalogue import Fastener
from builder.model.condition import Not, fixed_cases
from builder.model.deciding import decided
from builder.model.guide import Area, Guide, Step
from builder.model.inlining import Phase, PlacedStep, inlined
from builder.model.library import Library
from builder.model.named_values import names_in
from builder.model.units import Range, Unit, write_range
from builder.model.verbs import acts
from builder.proof.acts import rules_for
from builder.proof.configurations import Configurations, configurations
from builder.tailoring.hazards import CAUTION_WAIVER, attached
from builder.tailoring.torques import wrench_for

# What touches an area owes its test: a state that some step of the test stretch leaves passed.
_TEST_OF = {
    Area.BRAKES: ("brake-test",),
    Area.WHEEL_RETENTION: ("rear-wheel-test", "front-wheel-test"),
    Area.DRIVE: ("gear-test",),
    Area.STEERING: ("steering-test",),
    Area.CLAMP: ("clamp-test", "crank-test", "pedal-test"),
}
_PASSED = "passed"


def static_findings(guide: Guide, library: Library) -> Iterator[Diagnostic]:
    """Every finding about the single steps of `guide`, its procedures' included, and about its tests."""
    placed = inlined(guide, library)
    for item in placed:
        yield from _fastener_findings(item.step, library)
        yield from _value_findings(item.step, library)
        yield from _caution_findings(item, library)
        yield from _test_findings(item)
        yield from _verb_findings(item.step, library)
        yield from _rule_tools(item.step, library)
        yield from _handled(item.step)
    yield from _preparation_findings(guide, placed, library)
    yield from _area_findings(guide, placed)


def _fastener_findings(step: Step, library: Library) -> Iterator[Diagnostic]:
    for key, name in (("loosens", step.loosens), ("tightens", step.tightens)):
        fastener = library.fasteners.get(name or "")
        if fastener is None:
            continue
        yield from _head_findings(step, key, fastener, library)
        if key == "tightens":
            if fastener.torque_nm is not None and wrench_for(fastener.torque_nm, library) is None:
                yield from _wrench_findings(step, fastener, fastener.torque_nm)
            if fastener.torque_nm is None and not fastener.feel:
                yield Diagnostic(
                    rule="proof-torque",
                    message=f"step '{step.id}' tightens the {fastener.name}, which has no torque and no feel",
                    at=step.places.of(key),
                    hints=("give the fastener 'torque:' or say under 'feel:' how its tightness is known",),
                )


def _head_findings(step: Step, key: str, fastener: Fastener, library: Library) -> Iterator[Diagnostic]:
    fitting = [tool for tool in library.tools.values() if fastener.head in tool.fits]
    named = [library.tools[name] for name in step.tools if name in library.tools]
    if not fitting:
        yield Diagnostic(
            rule="proof-tool",
            message=f"no tool of the catalogue fits the head of the {fastener.name}",
            at=step.places.of(key),
            hints=(f"give a tool 'fits: [{fastener.head}]'",),
        )
    elif named and not any(tool in fitting for tool in named):
        yield Diagnostic(
            rule="proof-tool",
            message=f"step '{step.id}' names no tool that fits the {fastener.name}",
            at=step.places.of("tools"),
            label=f"its head is a {library.heads[fastener.head].name}",
            hints=(f"name one of: {', '.join(tool.id for tool in fitting)}",),
        )


def _wrench_findings(step: Step, fastener: Fastener, torque: Range) -> Iterator[Diagnostic]:
    span = write_range(torque, Unit.NEWTON_METRE)
    yield Diagnostic(
        rule="proof-wrench",
        message=f"no torque wrench of the catalogue holds {span} for the {fastener.name}",
        at=step.places.of("tightens"),
        hints=("add a wrench whose range holds it, or correct the torque",),
    )


def _value_findings(step: Step, library: Library) -> Iterator[Diagnostic]:
    texts = {"do": step.do, "why": step.why, "prove": step.prove, "limit": step.limit, "until": step.until}
    for number, choice in enumerate(step.choose):
        texts[f"choose.{number}"] = f"{choice.do} {choice.why}"
    for key, text in texts.items():
        for name in names_in(text):
            value = library.named_texts.get(name)
            if value is not None and not value.unknown:
                yield Diagnostic(
                    rule="proof-value",
                    message=f"step '{step.id}' shows '{name}', which has no words for a bike that lacks it",
                    at=step.places.of(key),
                    hints=("write 'unknown:' for the value in the catalogue",),
                )


def _caution_findings(item: PlacedStep, library: Library) -> Iterator[Diagnostic]:
    step = item.step
    by_rule = {caution.id for caution in attached(step, library)}
    for waiver in step.waivers:
        if not waiver.rule.startswith(CAUTION_WAIVER):
            continue
        name = waiver.rule.removeprefix(CAUTION_WAIVER)
        if name not in by_rule and name not in step.cautions:
            yield Diagnostic(
                rule="proof-waiver",
                message=f"step '{step.id}' waives the caution '{name}', which does not attach to it",
                at=waiver.places.of("rule"),
                gravity=Gravity.WARNING,
                hints=("take the waiver away",),
            )
    fixed = fixed_cases(item.conditions)
    for name in step.cautions:
        caution = library.cautions.get(name)
        if caution is not None and decided(caution.when, fixed) is False:
            yield Diagnostic(
                rule="proof-caution",
                message=f"step '{step.id}' names the caution '{name}', which is for other bikes",
                at=step.places.of("cautions"),
                gravity=Gravity.WARNING,
                hints=("take it away, or correct the caution's 'when'",),
            )


def _test_findings(item: PlacedStep) -> Iterator[Diagnostic]:
    """A test is passed in the test stretch, after the work and before the sign-off."""
    passed = [name for name, value in item.step.leaves.items() if value == _PASSED and name.endswith("-test")]
    if passed and item.phase is not Phase.TEST:
        yield Diagnostic(
            rule="proof-test-early",
            message=f"step '{item.step.id}' passes the {passed[0]} before the test",
            at=item.step.places.of("leaves"),
            hints=("move the step under 'test:'",),
        )
    if passed and not item.step.prove:
        yield Diagnostic(
            rule="proof-test-state",
            message=f"step '{item.step.id}' passes the {passed[0]} and does not say what shows it",
            at=item.step.places.at,
            hints=("write under 'prove:' what is seen or felt when the test is passed",),
        )


def _verb_findings(step: Step, library: Library) -> Iterator[Diagnostic]:
    """A step that says to loosen or to tighten names the fastener, so that nothing is forgotten or hand-tight."""
    for act in acts(step.do, library.verbs):
        if act.negated:
            continue
        if act.verb == "tighten" and step.tightens is None:
            yield Diagnostic(
                rule="proof-fastener",
                message=f"step '{step.id}' says to tighten and names no fastener",
                at=step.places.of("do"),
                hints=("write 'tightens:' with the fastener, which brings its torque",),
            )
        if act.verb == "loosen" and step.loosens is None:
            yield Diagnostic(
                rule="proof-fastener",
                message=f"step '{step.id}' says to loosen and names no fastener",
                at=step.places.of("do"),
                hints=("write 'loosens:' with the fastener",),
            )


def _handled(step: Step) -> Iterator[Diagnostic]:
    """A step names what it handles, since cautions and rules attach by it."""
    if not step.handles:
        yield Diagnostic(
            rule="proof-handles",
            message=f"step '{step.id}' does not name what it handles",
            at=step.places.at,
            hints=("write 'handles:' with the things of the glossary that are worked on",),
        )


def _rule_tools(step: Step, library: Library) -> Iterator[Diagnostic]:
    for rule in rules_for(step, library):
        if rule.tools and not set(rule.tools) & set(step.tools):
            yield Diagnostic(
                rule="proof-tool",
                message=f"step '{step.id}' is done with {' or '.join(library.tools[t].name for t in rule.tools)}",
                at=step.places.of("tools"),
                hints=(f"write one of: {', '.join(rule.tools)}", f"the rule '{rule.id}': {rule.because}"),
            )


def _preparation_findings(guide: Guide, placed: tuple[PlacedStep, ...], library: Library) -> Iterator[Diagnostic]:
    """What the thread wants is put on it before it is tightened, on every bike, wherever the fastener came off."""
    space = configurations(guide, library)
    for item in placed:
        fastener = library.fasteners.get(item.step.tightens or "")
        if fastener is None or not fastener.bare:
            continue
        wanted = fastener.preparation.consumable
        if not wanted:
            continue
        puts_it_on = [
            other.condition
            for other in placed[: item.index]
            if wanted in other.step.consumables and set(other.step.handles) & set(item.step.handles)
        ]
        # A bike that does this step and none of those; where what they ask covers what it asks, there is none.
        rules = (item.condition, *(Not(one) for one in puts_it_on), *space.rules)
        if Configurations(domains=space.domains, rules=rules).feasible({}):
            some = " on some bikes" if puts_it_on else ""
            yield Diagnostic(
                rule="proof-preparation",
                message=f"the {fastener.name} is tightened {fastener.preparation.value}, and no step before puts it on"
                f"{some}",
                at=item.step.places.of("tightens"),
                hints=(f"add a step with 'consumables: [{wanted}]' that handles the same thing, for the same bikes",),
            )


def _area_findings(guide: Guide, placed: tuple[PlacedStep, ...]) -> Iterator[Diagnostic]:
    passing = {name for item in placed for name, value in item.step.leaves.items() if value == _PASSED}
    for area in guide.touches:
        tests = _TEST_OF.get(area, ())
        if tests and not passing & set(tests):
            yield Diagnostic(
                rule="proof-no-test",
                message=f"{guide.id} touches {area.value} and has no test of it",
                at=guide.places.of("touches"),
                hints=(f"add a step under 'test:' that leaves '{tests[0]}: {_PASSED}'",),
            )
