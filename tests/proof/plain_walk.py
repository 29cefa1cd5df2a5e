"""A second, plain walk of one bike through a guide, written from the definitions and sharing no code with the proof.

It knows `holds` alone, and answers with the kind, the step, the state or fastener and the rule of each thing that goes
wrong. It is slow and short, so that it can be read against DEVELOPERS.md.
"""

from __future__ import annotations

from builder.model.condition import ALWAYS, holds
from builder.model.guide import Step


def flat(guide):
    """Each step with the conditions that it stands under, and the section that it stands in."""
    for number, section in enumerate(guide.work):
        for step in section.steps:
            assert isinstance(step, Step), "the plain walk knows no procedures"
            yield step, (section.when, step.when), number


def verb_of(step):
    return step.do.split()[0].lower()


def is_kind(step, verbs, things):
    return (not verbs or verb_of(step) in verbs) and bool(set(things) & set(step.handles))


def speaks_of(rule, step):
    if rule.fasteners:
        return ("loosen" in rule.verbs and step.loosens in rule.fasteners) or (
            "tighten" in rule.verbs and step.tightens in rule.fasteners
        )
    return is_kind(step, rule.verbs, rule.things)


def plain_walk(guide, lib, cases):
    """The steps that the bike does, by number, and the set of what goes wrong."""
    exists = {name: holds(state.when, cases) for name, state in lib.states.items()}
    value = {name: guide.begins.get(name, state.ready[0]) for name, state in lib.states.items()}
    ruling = [rule for rule in lib.rules.values() if holds(rule.when, cases)]
    wrong, taken, loose = set(), [], set()
    for number, (step, conditions, section) in enumerate(flat(guide)):
        if not all(holds(condition, cases) for condition in conditions):
            continue
        mine = [rule for rule in ruling if speaks_of(rule, step)]
        own = {name: wanted for name, wanted in step.leaves.items() if exists[name]}
        after = {**value, **own}
        for name, wanted in step.needs.items():
            if exists[name] and value[name] != wanted:
                wrong.add(("need", number, name, ""))
        for rule in mine:
            if not holds(rule.only, cases):
                wrong.add(("rule-only", number, "", rule.id))
            for name, wanted in rule.needs.items():
                if exists[name] and value[name] != wanted and step.needs.get(name) != wanted:
                    wrong.add(("rule-need", number, name, rule.id))
            for name, wanted in rule.leaves.items():
                if exists[name] and after[name] != wanted:
                    wrong.add(("rule-leaves", number, name, rule.id))
            if rule.first and not any(is_kind(one, rule.first.verbs, rule.first.things) for one, *_ in taken):
                wrong.add(("rule-first", number, "", rule.id))
        if does_again(step, section, own, value, taken, lib):
            wrong.add(("repeated", number, next(iter(own)), ""))
        if step.loosens:
            if step.loosens in loose:
                wrong.add(("loosened-twice", number, step.loosens, ""))
            loose.add(step.loosens)
        loose.discard(step.tightens)
        value = after
        taken.append((step, number, section))
    wrong |= {("left-open", -1, name, "") for name in loose}
    for name, state in lib.states.items():
        wanted = (guide.ends[name],) if name in guide.ends else state.ready
        if exists[name] and value[name] not in wanted:
            wrong.add(("not-ready", -1, name, ""))
    for rule in ruling:
        places = [place for place, (step, *_) in enumerate(taken) if speaks_of(rule, step)]
        if rule.then and places:
            later = [step for step, *_ in taken[places[-1] + 1 :]]
            if not any(is_kind(step, rule.then.verbs, rule.then.things) for step in later):
                wrong.add(("rule-then", taken[places[-1]][1], "", rule.id))
    return tuple(number for _, number, _ in taken), wrong


def does_again(step, section, own, value, taken, lib):
    """Whether a step under a condition does over again what the last step that touches its states has done."""
    if step.when == ALWAYS or not own or any(value[name] != wanted for name, wanted in own.items()):
        return False
    mine = set(step.leaves)
    touching = [(one, place) for one, _, place in taken if mine & states_of(one, lib)]
    if not touching:
        return False
    last, place = touching[-1]
    return place == section and dict(last.leaves) == dict(step.leaves) and last.loosens == step.loosens


def states_of(step, lib):
    """The states that a step or a rule about it speaks of."""
    found = {*step.needs, *step.leaves}
    for rule in lib.rules.values():
        if speaks_of(rule, step):
            found |= {*rule.needs, *rule.leaves}
    return found
