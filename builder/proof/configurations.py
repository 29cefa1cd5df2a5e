"""Every combination of cases that a bike and a plan can have for a guide: asked for one attribute at a time.

A configuration gives each attribute one of its cases. The catalogue's exclusions and the guide's `suits` rule
combinations out. Nothing here lists them all: a case is tried only when a condition asks, and it is feasible where
some full configuration has it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from builder.model.condition import All, AnyOf, Condition, Is, Not, asked
from builder.model.deciding import decided
from builder.model.guide import Guide
from builder.model.library import Library

Cases = tuple[tuple[str, str], ...]


def frozen(cases: Mapping[str, str]) -> Cases:
    """The cases in one fixed order, fit to be a key."""
    return tuple(sorted(cases.items()))


@dataclass(slots=True)
class Configurations:
    """The configurations of one guide. `domains` are the cases of each attribute, `rules` what every one must meet."""

    domains: Mapping[str, tuple[str, ...]]
    rules: tuple[Condition, ...]
    _touching: dict[str, tuple[int, ...]] = field(default_factory=dict)
    _asked: tuple[tuple[str, ...], ...] = ()
    _answers: dict[tuple[int, tuple[str | None, ...]], bool | None] = field(default_factory=dict)
    _choices: dict[tuple[str, Cases], tuple[str, ...]] = field(default_factory=dict)
    _held: dict[tuple[tuple[int, ...], tuple[str | None, ...]], bool] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._asked = tuple(tuple(dict.fromkeys(q.attribute for q in asked(rule))) for rule in self.rules)
        touching: dict[str, list[int]] = {}
        for number, names in enumerate(self._asked):
            for name in names:
                touching.setdefault(name, []).append(number)
        self._touching = {name: tuple(numbers) for name, numbers in touching.items()}

    def choices(self, attribute: str, cases: Mapping[str, str]) -> tuple[str, ...]:
        """The cases of `attribute` that can be had together with `cases`, which must themselves be possible.

        Only what rules tie to the attribute, straight or through attributes that are not known, has a say.
        """
        kept, rules = self._tied((attribute,), cases)
        key = (attribute, kept)
        if key not in self._choices:
            known = dict(kept)
            self._choices[key] = tuple(
                case for case in self.domains[attribute] if self._extends({**known, attribute: case}, rules)
            )
        return self._choices[key]

    def feasible(self, cases: Mapping[str, str]) -> bool:
        """Whether some configuration has these cases."""
        return self._extends(dict(cases), tuple(range(len(self.rules))))

    def _extends(self, cases: Mapping[str, str], rules: Iterable[int]) -> bool:
        """Whether what is not known can be answered so that all `rules` hold.

        Rules that share no open attribute have nothing to say to each other, so that each group is answered by itself,
        and once for all cases that its rules ask for.
        """
        unsettled: list[int] = []
        for number in rules:
            answer = self._answer(number, cases)
            if answer is False:
                return False
            if answer is None:
                unsettled.append(number)
        return all(self._group_holds(group, cases) for group in self._groups(unsettled, cases))

    def _group_holds(self, group: tuple[int, ...], cases: Mapping[str, str]) -> bool:
        names = dict.fromkeys(name for number in group for name in self._asked[number])
        key = (group, tuple(cases.get(name) for name in names))
        if key not in self._held:
            known = {name: cases[name] for name in names if name in cases}
            open_names = [name for name in names if name not in cases]
            # The attribute that most rules hang on settles most of them.
            first = max(open_names, key=lambda name: sum(name in self._asked[number] for number in group))
            self._held[key] = any(self._extends({**known, first: case}, group) for case in self.domains[first])
        return self._held[key]

    def _groups(self, rules: list[int], cases: Mapping[str, str]) -> list[tuple[int, ...]]:
        """The rules parted into groups that share no attribute that is still open."""
        group_of: dict[str, list[int]] = {}
        for number in rules:
            merged = [number]
            for name in self._asked[number]:
                other = group_of.get(name)
                if name not in cases and other is not None and other is not merged:
                    merged.extend(one for one in other if one not in merged)
            for one in merged:
                group_of.update((name, merged) for name in self._asked[one] if name not in cases)
        return list({id(group): tuple(sorted(group)) for group in group_of.values()}.values())

    def _answer(self, number: int, cases: Mapping[str, str]) -> bool | None:
        key = (number, tuple(cases.get(name) for name in self._asked[number]))
        if key not in self._answers:
            self._answers[key] = decided(self.rules[number], cases)
        return self._answers[key]

    def matters(self, cases: Mapping[str, str], later: Iterable[str]) -> Cases:
        """The part of `cases` that can still decide something about the attributes `later`.

        Besides those attributes themselves it is every known one that a rule ties to them, straight or through
        attributes that are not known.
        """
        return self._tied(later, cases)[0]

    def _tied(self, later: Iterable[str], cases: Mapping[str, str]) -> tuple[Cases, tuple[int, ...]]:
        kept: dict[str, str] = {}
        rules: set[int] = set()
        seen: set[str] = set()
        waiting = list(later)
        while waiting:
            name = waiting.pop()
            if name in seen:
                continue
            seen.add(name)
            if name in cases:
                kept[name] = cases[name]
                continue
            for number in self._touching.get(name, ()):
                if number not in rules and self._answer(number, cases) is None:
                    rules.add(number)
                    waiting.extend(self._asked[number])
        return frozen(kept), tuple(sorted(rules))

    def count(self, attributes: Iterable[str]) -> int:
        """How many combinations of the cases of `attributes` some configuration has."""
        order = tuple(dict.fromkeys(attributes))
        counted: dict[tuple[int, Cases], int] = {}

        def below(place: int, cases: Mapping[str, str]) -> int:
            if place == len(order):
                return 1
            key = (place, self.matters(cases, order[place:]))
            if key not in counted:
                name = order[place]
                counted[key] = (
                    below(place + 1, cases)
                    if name in cases
                    else sum(below(place + 1, {**cases, name: case}) for case in self.choices(name, cases))
                )
            return counted[key]

        return below(0, {})

    def every(self, attributes: Iterable[str]) -> Iterator[dict[str, str]]:
        """Each combination of the cases of `attributes` that some configuration has, one by one."""
        order = tuple(dict.fromkeys(attributes))

        def below(place: int, cases: dict[str, str]) -> Iterator[dict[str, str]]:
            if place == len(order):
                yield cases
                return
            for case in self.choices(order[place], cases):
                yield from below(place + 1, {**cases, order[place]: case})

        yield from below(0, {})


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
