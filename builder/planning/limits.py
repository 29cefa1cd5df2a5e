"""Turn a check round: what must a part satisfy, so that the check answers well?

Everything else that the check takes is given; the one input is looked for between its bounds. A check that turns from
bad to good once, or from good to bad, gives a least or a greatest value; one that is good about a point gives both.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from functools import partial

from builder.checks.check import AnyCheck, Force
from builder.checks.reckoning import reckon
from builder.checks.result import Given, Input, InputError, Kind, Verdict
from builder.model.facts import Role
from builder.model.parts import KINDS, Part, kind_of
from builder.model.paths import field_of, role_of
from builder.model.units import Measure
from builder.planning.asking import Answered, answers
from builder.planning.fitting import Fitting, with_parts
from builder.planning.known_answers import KnownAnswers
from builder.planning.plan import Requirement

# A limit is told to this share of its unit; nobody measures a part closer.
_RESOLUTION = 0.01
_SAMPLES = 24


def requirements(role: Role, fitting: Fitting, known: KnownAnswers | None = None) -> tuple[Requirement, ...]:
    """What another part in `role` must satisfy on this bike, by every check that it could cure.

    The checks are put to the bike with a part there of which nothing is known, so that each limit follows from the
    rest of the bike alone; `known` are answers for the same workshop.
    """
    known = known or KnownAnswers()
    blank = KINDS[kind_of(role)](name="")
    others = {place: part for place in fitting.replaced if (part := fitting.part(place)) is not None}
    bare = with_parts(fitting, {**others, role: blank})
    found: dict[tuple[str, str], Requirement] = {}
    for answered in answers(bare, (role,), known=known):
        if answered.check.asked.force is Force.TELLS or role not in (*answered.cures, *_only_place(answered, role)):
            continue
        limits = known.once.of(("limits", id(answered), role), partial(_of, answered, role), answered)
        for requirement in limits:
            key = (requirement.limit, requirement.fact.path)
            found[key] = _tighter(found[key], requirement) if key in found else requirement
    return tuple(found.values())


def _only_place(answered: Answered, role: Role) -> tuple[Role, ...]:
    """`role` where the check, which no part cures, is about it: then a new part there must suit all the same."""
    return (role,) if not answered.cures and role in answered.roles else ()


def limit_on(answered: Answered, path: str) -> Requirement | None:
    """The limit on the fact at `path`, where everything else that the check takes is known."""
    for item in answered.check.inputs:
        if item.fact is not None and item.fact.at(answered.where) == path:
            return _turned_round(answered, item)
    return None


def meets(part: Part, requirement: Requirement) -> bool | None:
    """Whether `part` meets `requirement`; None where its file does not say."""
    name = field_of(type(part), requirement.fact.at("").partition(".")[2])
    held = None if name is None else getattr(part, name)
    if held is None or held == "" or held == ():
        return None
    if requirement.fact.by is not None:
        held = requirement.fact.by(held)
    values = held if isinstance(held, tuple) else (held,)
    return any(_within(value, requirement) for value in values)


def _within(value: object, requirement: Requirement) -> bool:
    if requirement.one_of:
        return str(getattr(value, "value", value)) in requirement.one_of
    if isinstance(value, Measure):
        value = value.value
    assert isinstance(value, int | float)
    least = requirement.at_least if requirement.at_least is not None else float("-inf")
    most = requirement.at_most if requirement.at_most is not None else float("inf")
    return least <= value <= most


def _of(answered: Answered, role: Role) -> tuple[Requirement, ...]:
    return tuple(_each_of(answered, role))


def _each_of(answered: Answered, role: Role) -> Iterator[Requirement]:
    for item in answered.check.inputs:
        fact = item.fact
        if fact is not None and role_of(fact.at(answered.where)) is role:
            requirement = _turned_round(answered, item)
            if requirement is not None:
                yield requirement


def _turned_round(answered: Answered, item: Input) -> Requirement | None:
    """The limit on one input; None where there is none, or where another input is not known either."""
    check = answered.check
    others = {name: value for name, value in answered.given.items() if name != item.name}
    if any(not _may_lack(other) and other.name not in others for other in check.inputs if other is not item):
        return None
    assert item.fact is not None

    def verdict(value: Given) -> Verdict:
        try:
            return reckon(check, {**others, item.name: value}).verdict
        except InputError:
            return Verdict.DOES_NOT_FIT

    blank = Requirement(fact=replace(item.fact, path=item.fact.at(answered.where), front="", joints=()), unit=item.unit)
    match item.kind:
        case Kind.CHOICE:
            return _choices(item, others, verdict, blank)
        case Kind.TEXT:
            return _texts(check, others, verdict, blank)
        case Kind.QUANTITY | Kind.WHOLE:
            return _numbers(item, others, verdict, blank)
        case _:
            return None


def _may_lack(item: Input) -> bool:
    return item.optional or item.default is not None


def _choices(
    item: Input, others: Mapping[str, Given], verdict: Callable[[Given], Verdict], blank: Requirement
) -> Requirement | None:
    """The words that are good; where a set is open, a workshop's own word can only suit where another part has it."""
    own = () if item.open_to is None else tuple(one for one in others.values() if isinstance(one, str))
    words = tuple(dict.fromkeys((*item.choices, *own)))
    good = _good(words, verdict)
    return replace(blank, one_of=good) if good and len(good) < len(words) else None


def _texts(
    check: AnyCheck, others: Mapping[str, Given], verdict: Callable[[Given], Verdict], blank: Requirement
) -> Requirement | None:
    """Texts are compared with each other, so that only one that another input has can suit."""
    texts = tuple(
        dict.fromkeys(str(others[item.name]) for item in check.inputs if item.kind is Kind.TEXT and item.name in others)
    )
    good = _good(texts, verdict)
    return replace(blank, one_of=good) if good else None


def _good(values: Iterable[str], verdict: Callable[[Given], Verdict]) -> tuple[str, ...]:
    """The values that fit; where none does without reserve, those that fit with care."""
    verdicts = {value: verdict(value) for value in values}
    for wanted in (Verdict.FITS, Verdict.WITH_CARE):
        if found := tuple(value for value, one in verdicts.items() if one is wanted):
            return found
    return ()


def _numbers(
    item: Input, others: Mapping[str, Given], verdict: Callable[[Given], Verdict], blank: Requirement
) -> Requirement | None:
    if item.low is None or item.high is None:
        return None
    low, high = item.low, item.high
    same = tuple(
        float(value.value if isinstance(value, Measure) else value)
        for value in others.values()
        if isinstance(value, Measure | int | float)
    )
    points = (low, high, *(value for value in same if low < value < high), *_between(low, high, item))
    for wanted in ((Verdict.FITS,), (Verdict.FITS, Verdict.WITH_CARE)):

        def good(value: float, wanted: tuple[Verdict, ...] = wanted) -> bool:
            return verdict(int(value) if item.kind is Kind.WHOLE else value) in wanted

        start = next((point for point in points if good(point)), None)
        if start is not None:
            least = None if good(low) else _edge(low, start, good, item)
            most = None if good(high) else _edge(high, start, good, item)
            return None if least is None and most is None else replace(blank, at_least=least, at_most=most)
    return None


def _between(low: float, high: float, item: Input) -> Iterator[float]:
    step = (high - low) / _SAMPLES
    for number in range(1, _SAMPLES):
        value = low + number * step
        yield float(round(value)) if item.kind is Kind.WHOLE else value


def _edge(bad: float, good_one: float, good: Callable[[float], bool], item: Input) -> float:
    """The value nearest to `bad` that is good, found by halving, a whole one where the input is whole."""
    if item.kind is Kind.WHOLE:
        while abs(good_one - bad) > 1:
            middle = float(int((bad + good_one) // 2))
            bad, good_one = (bad, middle) if good(middle) else (middle, good_one)
        return good_one
    for _ in range(40):
        if abs(good_one - bad) <= _RESOLUTION / 10:
            break
        middle = (bad + good_one) / 2
        bad, good_one = (bad, middle) if good(middle) else (middle, good_one)
    return round(good_one, 2)


def _tighter(one: Requirement, other: Requirement) -> Requirement:
    """Both limits at once."""
    least = [value for value in (one.at_least, other.at_least) if value is not None]
    most = [value for value in (one.at_most, other.at_most) if value is not None]
    words = tuple(word for word in one.one_of if word in other.one_of) if one.one_of and other.one_of else ()
    return replace(
        one,
        at_least=max(least, default=None),
        at_most=min(most, default=None),
        one_of=words or one.one_of or other.one_of,
    )
