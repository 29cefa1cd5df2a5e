"""Every combination of cases that a bike and a plan can have for a guide: asked for one attribute at a time.

A configuration gives each attribute one of its cases. The catalogue's exclusions and the guide's `suits` rule
combinations out. Nothing here lists them all: a case is tried only when a condition asks, and it is feasible where
some full configuration has it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from builder.model.condition import All, AnyOf, Condition, Is, Not, asked
from builder.model.guide import Guide
from builder.model.library import Library
from builder.proof.known import NOTHING, Asked, Flags, Knowing, Known

Cases = tuple[tuple[str, str], ...]


def frozen(cases: Mapping[str, str]) -> Cases:
    """The cases in one fixed order, fit to be a key."""
    return tuple(sorted(cases.items()))


@dataclass(slots=True)
class Configurations:
    """The configurations of one guide. `domains` are the cases of each attribute, `rules` what every one must meet."""

    domains: Mapping[str, tuple[str, ...]]
    rules: tuple[Condition, ...]
    knowing: Knowing = field(init=False)
    _rules: tuple[Asked, ...] = ()
    _touching: dict[Flags, tuple[tuple[int, Asked], ...]] = field(default_factory=dict)
    _choices: dict[tuple[str, Known], tuple[Known, ...]] = field(default_factory=dict)
    _held: dict[tuple[tuple[int, ...], Known], bool] = field(default_factory=dict)
    _ties: dict[tuple[Flags, Known], tuple[Known, tuple[int, ...]]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.knowing = Knowing(self.domains)
        self._rules = tuple(self.knowing.asked(rule) for rule in self.rules)
        touching: dict[Flags, list[tuple[int, Asked]]] = {}
        for number, rule in enumerate(self._rules):
            for name in rule.names:
                touching.setdefault(self.knowing.flag[name], []).append((number, rule))
        self._touching = {flag: tuple(rules) for flag, rules in touching.items()}

    def choices(self, attribute: str, cases: Mapping[str, str]) -> tuple[str, ...]:
        """The cases of `attribute` that can be had together with `cases`, which must themselves be possible.

        Only what rules tie to the attribute, straight or through attributes that are not known, has a say.
        """
        had = set(self.coded_choices(attribute, self.knowing.coded(cases)))
        return tuple(case for case, code in self.knowing.codes[attribute].items() if code in had)

    def coded_choices(self, attribute: str, known: Known) -> tuple[Known, ...]:
        """As `choices`, for what is known; each case as what is known of the attribute with it."""
        kept, rules = self._tied(self.knowing.flag[attribute], known)
        key = (attribute, kept)
        if key not in self._choices:
            codes = self.knowing.codes[attribute]
            self._choices[key] = tuple(
                codes[case] for case in self.domains[attribute] if self._extends(kept | codes[case], rules)
            )
        return self._choices[key]

    def feasible(self, cases: Mapping[str, str]) -> bool:
        """Whether some configuration has these cases."""
        return self._extends(self.knowing.coded(cases), range(len(self._rules)))

    def _extends(self, known: Known, rules: Iterable[int]) -> bool:
        """Whether what is not known can be answered so that all `rules` hold.

        Rules that share no open attribute have nothing to say to each other, so that each group is answered by itself,
        and once for all cases that its rules ask for.
        """
        unsettled: list[int] = []
        for number in rules:
            answer = self.knowing.answer(self._rules[number], known)
            if answer is False:
                return False
            if answer is None:
                unsettled.append(number)
        return all(self._group_holds(group, known) for group in self._groups(unsettled, known))

    def _group_holds(self, group: tuple[int, ...], known: Known) -> bool:
        mask = NOTHING
        for number in group:
            mask |= self._rules[number].mask
        key = (group, known & mask)
        if key not in self._held:
            names = dict.fromkeys(name for number in group for name in self._rules[number].names)
            open_names = [name for name in names if not self.knowing.flag[name] & known]
            # The attribute that most rules hang on settles most of them.
            first = max(open_names, key=lambda name: sum(name in self._rules[number].names for number in group))
            codes = self.knowing.codes[first].values()
            self._held[key] = any(self._extends(key[1] | code, group) for code in codes)
        return self._held[key]

    def _groups(self, rules: list[int], known: Known) -> list[tuple[int, ...]]:
        """The rules parted into groups that share no attribute that is still open."""
        groups: list[tuple[Flags, tuple[int, ...]]] = []
        for number in rules:
            flags: Flags = self._rules[number].flags & ~known
            merged: tuple[int, ...] = (number,)
            apart = []
            for other_flags, other in groups:
                if other_flags & flags:
                    flags, merged = flags | other_flags, merged + other
                else:
                    apart.append((other_flags, other))
            groups = [*apart, (flags, merged)]
        return [tuple(sorted(group)) for _, group in groups]

    def settled(self, known: Known, conditions: tuple[Asked, ...], *, all_of: bool = True) -> Iterator[Known]:
        """What is known with whatever more the conditions ask, once for each way to answer.

        Without `all_of` the asking ends at the first condition that does not hold, as it does for a step.
        """
        knowing = self.knowing
        for one in conditions:
            answer = knowing.answer(one, known)
            if answer is None:
                name = next(name for name in one.names if not knowing.flag[name] & known)
                for code in self.coded_choices(name, known):
                    yield from self.settled(known | code, conditions, all_of=all_of)
                return
            if answer is False and not all_of:
                break
        yield known

    def meets(self, conditions: tuple[Asked, ...]) -> bool:
        """Whether some configuration meets all of the conditions."""
        return any(
            all(self.knowing.answer(one, known) is True for one in conditions)
            for known in self.settled(NOTHING, conditions, all_of=False)
        )

    def matters(self, known: Known, later: Flags) -> Known:
        """The part of what is known that can still decide something about the attributes `later`.

        Besides those attributes themselves it is every known one that a rule ties to them, straight or through
        attributes that are not known.
        """
        return self._tied(later, known)[0]

    def _tied(self, later: Flags, known: Known) -> tuple[Known, tuple[int, ...]]:
        """What is known that rules tie to the attributes `later`, and those rules: walks ask it over and over."""
        found = self._ties.get((later, known))
        if found is None:
            found = self._ties[later, known] = self._newly_tied(later, known)
        return found

    def _newly_tied(self, later: Flags, known: Known) -> tuple[Known, tuple[int, ...]]:
        seen, waiting = later, later & ~known
        rules: dict[int, None] = {}
        answer = self.knowing.answer
        while waiting:
            flag = waiting & -waiting
            waiting ^= flag
            for number, rule in self._touching.get(flag, ()):
                if number not in rules and answer(rule, known) is None:
                    rules[number] = None
                    waiting |= rule.flags & ~seen & ~known
                    seen |= rule.flags
        return known & self.knowing.mask(seen), tuple(sorted(rules))

    def count(self, attributes: Iterable[str]) -> int:
        """How many combinations of the cases of `attributes` some configuration has."""
        order = tuple(dict.fromkeys(attributes))
        later = [self.knowing.flags(order[place:]) for place in range(len(order) + 1)]
        counted: dict[tuple[int, Known], int] = {}

        def below(place: int, known: Known) -> int:
            if place == len(order):
                return 1
            key = (place, self.matters(known, later[place]))
            if key not in counted:
                name = order[place]
                codes = (NOTHING,) if self.knowing.flag[name] & known else self.coded_choices(name, known)
                counted[key] = sum(below(place + 1, known | code) for code in codes)
            return counted[key]

        return below(0, NOTHING)

    def every(self, attributes: Iterable[str]) -> Iterator[dict[str, str]]:
        """Each combination of the cases of `attributes` that some configuration has, one by one."""
        order = tuple(dict.fromkeys(attributes))

        def below(place: int, known: Known) -> Iterator[dict[str, str]]:
            if place == len(order):
                yield self.knowing.named(known)
                return
            for code in self.coded_choices(order[place], known):
                yield from below(place + 1, known | code)

        yield from below(0, NOTHING)


def configurations(guide: Guide, library: Library) -> Configurations:
    """The configurations that a bike and a plan can have for `guide`.

    A guide that plans no parts leaves the bike as it is: there an attribute of the plan has its idle case alone, and a
    planned attribute has the case of the found one that it is the same as.
    """
    plans = bool(guide.wants)
    domains: dict[str, tuple[str, ...]] = {}
    rules: list[Condition] = [Not(exclusion.never) for exclusion in library.exclusions]
    for name, attribute in library.attributes.items():
        idle = attribute.idle if not plans and attribute.idle else ""
        domains[name] = (idle,) if idle else tuple(attribute.cases)
        if not plans and attribute.same_as is not None:
            rules.extend(_same(name, attribute.same_as, tuple(attribute.cases)))
    # Part by part: a single rule would tie all that the guide asks of a bike together for as long as one is open.
    rules.extend(guide.suits.parts if isinstance(guide.suits, All) else (guide.suits,))
    known = set(domains)
    sound = tuple(rule for rule in rules if {question.attribute for question in asked(rule)} <= known)
    return Configurations(domains=domains, rules=sound)


def _same(planned: str, found: str, cases: tuple[str, ...]) -> Iterator[Condition]:
    """Rules that give two attributes the same case."""
    for case in cases:
        yield AnyOf((Not(Is(found, (case,))), Is(planned, (case,))))
