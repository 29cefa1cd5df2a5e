"""What is known of a bike, as one whole number, so that a walk over all configurations can compare and keep it cheaply.

Each attribute has a flag, which says that it is known, and each of its cases a bit of its own. What two bikes share is
then one `&`, and whether they are told apart by what a condition asks is one comparison.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from builder.model.condition import Condition, asked
from builder.model.deciding import decided, deciding

# What is known: for each attribute its flag and the bit of its case.
Known = int
# Attributes alone: the flags of them.
Flags = int
NOTHING: Known = 0


@dataclass(slots=True, eq=False)
class Asked:
    """A condition with the attributes that it asks for, and what was found out about it so far."""

    condition: Condition
    names: tuple[str, ...]
    flags: Flags
    mask: Known
    answers: dict[Known, bool | None] = field(default_factory=dict)
    deciding: dict[Known, Flags] = field(default_factory=dict)


@dataclass(slots=True)
class Knowing:
    """Turns the cases of bikes into numbers and back, and answers conditions for such numbers."""

    domains: Mapping[str, tuple[str, ...]]
    flag: dict[str, Flags] = field(default_factory=dict)
    codes: dict[str, dict[str, Known]] = field(default_factory=dict)
    every: Flags = 0
    _mask: dict[Flags, Known] = field(default_factory=dict)
    _named: dict[int, tuple[str, str]] = field(default_factory=dict)
    # By identity, which is cheaper to compare than a condition; what is kept beside it keeps the condition alive.
    _asked: dict[int, tuple[Condition, Asked]] = field(default_factory=dict)
    _alike: dict[Condition, Asked] = field(default_factory=dict)

    def __post_init__(self) -> None:
        place = len(self.domains)
        for number, (name, cases) in enumerate(self.domains.items()):
            flag = self.flag[name] = 1 << number
            self.codes[name] = {}
            mask = flag
            for case in cases:
                bit = 1 << place
                self.codes[name][case] = flag | bit
                self._named[bit] = (name, case)
                mask |= bit
                place += 1
            self._mask[flag] = mask
        self.every = (1 << len(self.domains)) - 1

    def coded(self, cases: Mapping[str, str]) -> Known:
        """The number for some cases; an attribute that no configuration has is left out."""
        known = NOTHING
        for name, case in cases.items():
            known |= self.codes.get(name, {}).get(case, NOTHING)
        return known

    def named(self, known: Known) -> dict[str, str]:
        """The cases that a number stands for, in the order of the attributes."""
        return dict(self._named[1 << place] for place in _places(known & ~self.every))

    def mask(self, flags: Flags) -> Known:
        """Everything that may be known about some attributes."""
        if flags not in self._mask:
            mask = NOTHING
            for place in _places(flags):
                mask |= self._mask[1 << place]
            self._mask[flags] = mask
        return self._mask[flags]

    def flags(self, names: Iterable[str]) -> Flags:
        """The flags of some attributes; those that no configuration has are left out."""
        found = 0
        for name in names:
            found |= self.flag.get(name, 0)
        return found

    def asked(self, condition: Condition) -> Asked:
        """A condition made ready to be answered."""
        kept = self._asked.get(id(condition))
        if kept is not None:
            return kept[1]
        found = self._alike.get(condition)
        if found is None:
            questions = dict.fromkeys(question.attribute for question in asked(condition))
            names = tuple(name for name in questions if name in self.flag)
            flags = self.flags(names)
            found = self._alike[condition] = Asked(condition, names, flags, self.mask(flags))
        self._asked[id(condition)] = condition, found
        return found

    def answer(self, one: Asked, known: Known) -> bool | None:
        """As `decided`, for what is known."""
        key = known & one.mask
        try:
            return one.answers[key]
        except KeyError:
            return one.answers.setdefault(key, decided(one.condition, self.named(key)))

    def having_a_say(self, conditions: Iterable[Asked], known: Known) -> Flags:
        """As `deciding`, for several conditions at once."""
        found = 0
        for one in conditions:
            key = known & one.mask
            if key not in one.deciding:
                one.deciding[key] = self.flags(deciding(one.condition, self.named(key)))
            found |= one.deciding[key]
        return found


def _places(number: int) -> Iterator[int]:
    """The places of the bits that are set, the lowest first."""
    while number:
        low = number & -number
        yield low.bit_length() - 1
        number ^= low
