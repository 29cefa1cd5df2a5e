"""Put the checks to a bike: every one that concerns it, with what is known, and what is lacking told."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache, partial
from itertools import product

from builder.checks.check import AnyCheck, Force
from builder.checks.reckoning import reckon
from builder.checks.registry import CHECKS
from builder.checks.result import CheckResult, Given, Input, InputError, Kind, Verdict
from builder.model.catalogue import Fastener
from builder.model.facts import Role
from builder.model.fields import Fact
from builder.model.paths import FASTENER, MEASURED, RIDER, WORKED_OUT, role_of
from builder.model.torque import torque_of
from builder.model.units import Unit
from builder.planning.fitting import Fitting
from builder.planning.known_answers import Fitted, KnownAnswers
from builder.planning.looking_up import Known, NoPart, NotKnown, look_up, never_assumed, roles_of_fact, word_of

_OF_WHOLE = frozenset({MEASURED, RIDER, WORKED_OUT})
_BEST_FIRST = (Verdict.FITS, Verdict.WITH_CARE, Verdict.MEASURE_FIRST, Verdict.DOES_NOT_FIT)


@dataclass(frozen=True, slots=True, kw_only=True)
class MissingFact:
    """A fact that a check needs and nobody has said: its path, and what it is in words."""

    path: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """A check as it was put to a bike, at an end or a joint where it stands at several.

    `given` are the inputs that were known. `lacks` is empty where all that it asks for was. `set_aside` says that
    another check answers the same question better, so that this one only bears on what would be bought.
    """

    check: AnyCheck
    where: str
    given: Mapping[str, Given]
    result: CheckResult
    roles: frozenset[Role]
    lacks: tuple[MissingFact, ...] = ()
    set_aside: bool = False

    @property
    def fails(self) -> bool:
        """Whether the answer forces a change or ends the job."""
        if self.set_aside or self.check.asked.force is Force.TELLS:
            return False
        return self.result.verdict is Verdict.DOES_NOT_FIT

    @property
    def cures(self) -> tuple[Role, ...]:
        """The places where another part can turn a bad answer, the likeliest first."""
        places = (Role(place.replace("{end}", self.where)) for place in self.check.asked.cures)
        return tuple(role for role in places if role in self.roles)

    def fails_to_buy(self, bought: Iterable[Role], *, strictly: bool) -> bool:
        """Whether a part that would be bought for one of these places does not fit, `strictly` without any reserve.

        One whose own figures are lacking is not bought either: nobody knows whether it would cure anything.
        """
        places = frozenset(bought) & self.roles & frozenset(self.cures)
        if self.check.asked.force is not Force.MISFIT or not places:
            return False
        verdict = self.result.verdict
        if verdict is Verdict.MEASURE_FIRST and any(role_of(lack.path) in places for lack in self.lacks):
            return True
        return verdict is Verdict.DOES_NOT_FIT or (strictly and verdict is Verdict.WITH_CARE)


@dataclass(frozen=True, slots=True)
class Placed:
    """A check at one end or joint of a bike, with the places that it is `about`, and all that it `hangs_on`.

    `whole` says that it hangs on more of the bike than on its parts. One that only tells is about the parts that it
    can't do without: nobody who fits a brake asks for a spoke's length, though a rotor forbids spokes that cross none.
    """

    check: AnyCheck
    where: str
    about: frozenset[Role]
    hangs_on: tuple[Role, ...]
    whole: bool


@cache
def checks_of_bikes() -> tuple[Placed, ...]:
    """Every check that is asked of bikes, at each end or joint."""
    return tuple(
        Placed(
            check=check,
            where=where,
            about=frozenset(roles_of(check, where, needed=check.asked.force is Force.TELLS)),
            hangs_on=_hangs_on(check, where),
            whole=_is_of_whole(check, where),
        )
        for check in CHECKS.values()
        if check.of_bikes and not _is_of_fasteners(check)
        for where in check.wheres
    )


@cache
def _checks_about(places: frozenset[Role]) -> tuple[Placed, ...]:
    return tuple(placed for placed in checks_of_bikes() if placed.about & places)


def _hangs_on(check: AnyCheck, where: str) -> tuple[Role, ...]:
    return tuple(sorted({*roles_of(check, where), *_roles_of_conditions(check, where)}))


def _is_of_whole(check: AnyCheck, where: str) -> bool:
    """Whether a check reads what is no plain fact of a part."""
    facts = (item.fact.at(where) for item in check.inputs if item.fact is not None)
    asked = (path.replace("{end}", where) for path in _conditions(check))
    return any(path.partition(".")[0] in _OF_WHOLE for path in (*facts, *asked))


def _conditions(check: AnyCheck) -> tuple[str, ...]:
    return (*check.asked.only, *check.asked.unless, *check.asked.surely)


def roles_of(check: AnyCheck, where: str, *, needed: bool = False) -> Iterator[Role]:
    """The places whose parts the check is about; with `needed`, without those that it can be silent about."""
    for item in check.inputs:
        if item.fact is not None and not (needed and item.needless):
            yield from roles_of_fact(item.fact, where)
    for place in check.asked.new + check.asked.kept:
        yield Role(place.replace("{end}", where))


def _roles_of_conditions(check: AnyCheck, where: str) -> Iterator[Role]:
    for path in _conditions(check):
        yield from roles_of_fact(Fact(path), where)


def answers(
    fitting: Fitting, touched: Iterable[Role], *, binding: bool = False, known: KnownAnswers | None = None
) -> tuple[Answered, ...]:
    """The answers of all checks about any of the places `touched`, in the order of the checks.

    Args:
        fitting: the bike with the parts that are tried on.
        touched: the places that changed.
        binding: whether only what can force a change is asked for.
        known: answers for the same workshop, to look into and to add to.
    """
    known = known or KnownAnswers()
    fitted = Fitted(fitting, known)
    found: list[Answered] = []
    for placed in _checks_about(frozenset(touched)):
        if binding and placed.check.asked.force is Force.TELLS:
            continue
        key = (id(placed), fitted.hangs_on(placed.hangs_on, whole=placed.whole))
        answered = known.once.of(key, partial(_shared, placed, fitting, known), placed)
        if answered is not None:
            found.append(answered)
    return tuple(_set_aside(found))


def fastener_answers(
    fitting: Fitting, fasteners: Iterable[Fastener], known: KnownAnswers | None = None
) -> tuple[Answered, ...]:
    """The answers of all checks about fasteners, for each of `fasteners`; `known` as for `answers`.

    Where a check can tell nothing of one, such as the strength of a thread that no standard lists, or whether a wrench
    reaches where the workshop has written none, it is left out.
    """
    known = known or KnownAnswers()
    fitted = Fitted(fitting, known)
    found: list[Answered] = []
    for fastener in fasteners:
        torque = torque_of(fastener, fitting.bike)
        for placed in _checks_of_fasteners():
            key = (id(placed), id(fastener), torque, fitted.hangs_on(placed.hangs_on, whole=placed.whole))
            answered = known.once.of(key, partial(_tightened, placed, fastener, fitting, known), (placed, fastener))
            if answered is not None:
                found.append(answered)
    return tuple(found)


def _shared(placed: Placed, fitting: Fitting, known: KnownAnswers) -> Answered | None:
    answered = answer(placed.check, placed.where, fitting)
    return answered and replace(answered, result=known.sharing.of(answered.result))


def _tightened(placed: Placed, fastener: Fastener, fitting: Fitting, known: KnownAnswers) -> Answered | None:
    answered = answer(placed.check, placed.where, replace(fitting, fastener=fastener))
    if answered is None or answered.result.verdict is Verdict.MEASURE_FIRST:
        return None
    result = known.sharing.of(replace(answered.result, where=fastener.name))
    return replace(answered, where=fastener.id, result=result)


@cache
def _checks_of_fasteners() -> tuple[Placed, ...]:
    return tuple(
        Placed(check=check, where="", about=frozenset(), hangs_on=_hangs_on(check, ""), whole=_is_of_whole(check, ""))
        for check in CHECKS.values()
        if _is_of_fasteners(check)
    )


def _is_of_fasteners(check: AnyCheck) -> bool:
    """Whether the check is asked for each fastener of a job."""
    return any(item.fact is not None and item.fact.path.startswith(f"{FASTENER}.") for item in check.inputs)


def _set_aside(found: list[Answered]) -> Iterator[Answered]:
    """The answers; one that another check has answered better is marked, and left out where it lacks a fact."""
    settled = {one.check.name for one in found if one.result.verdict is not Verdict.MEASURE_FIRST}
    for one in found:
        if one.check.asked.instead_of not in settled:
            yield one
        elif not one.lacks:
            yield replace(one, set_aside=True)


def answer(check: AnyCheck, where: str, fitting: Fitting) -> Answered | None:
    """The check as it is put to the bike; None where it does not concern it."""
    if not _concerns(check, where, fitting):
        return None
    given: dict[str, tuple[Given, ...]] = {}
    lacks: dict[str, MissingFact] = {}
    assumed: set[str] = set()
    runs = True
    for item in check.inputs:
        if item.fact is None:
            if item.default is None and not item.optional:
                return None
            continue
        may_stay_out = item.needless or (item.default is not None)
        match look_up(item.fact, where, fitting, many=item.kind in (Kind.WHOLE_LIST, Kind.QUANTITY_LIST)):
            case Known(values):
                given[item.name] = values
            case NoPart():
                if not may_stay_out:
                    return None
            case NotKnown(paths):
                runs = runs and (may_stay_out or item.optional)
                in_silence = item.default is not None and never_assumed(item.fact)
                if in_silence:
                    assumed.update(paths)
                if not may_stay_out or in_silence:
                    lacks.update((path, _lack(path, item, where)) for path in paths)
    if check.asked.when_known and lacks:
        return None
    one_each = {name: values[0] for name, values in given.items()}
    roles = frozenset(roles_of(check, where))
    told = tuple(lacks.values())
    result = _unanswered(check, told)
    if runs:
        try:
            result, one_each = _best(check, given)
            if assumed and check.asked.force is Force.TELLS:
                # A number to work to is worse than none where it rests on what is never assumed.
                result = _unanswered(check, told)
            if result.verdict is not Verdict.MEASURE_FIRST:
                # What the check has answered without is not asked for, but for what a default stood in for in silence.
                told = tuple(lack for path, lack in lacks.items() if path in assumed)
        except InputError as error:
            if check.asked.when_known:
                return None
            told = (*told, MissingFact(path="", words=f"usable figures ({error})"))
            result = _unanswered(check, told)
    return Answered(
        check=check, where=where, given=one_each, result=replace(result, where=where), roles=roles, lacks=told
    )


def _best(check: AnyCheck, given: Mapping[str, tuple[Given, ...]]) -> tuple[CheckResult, dict[str, Given]]:
    """The best answer where a fact holds several values, such as the speeds that a chain is made for."""
    tried = [dict(zip(given, values, strict=True)) for values in product(*given.values())]
    answered = [(reckon(check, one), one) for one in tried]
    return min(answered, key=lambda pair: _BEST_FIRST.index(pair[0].verdict))


def _concerns(check: AnyCheck, where: str, fitting: Fitting) -> bool:
    """Whether the check is for such a bike; what is not known keeps no check away."""
    asked = check.asked
    new = frozenset(Role(place.replace("{end}", where)) for place in asked.new)
    kept = frozenset(Role(place.replace("{end}", where)) for place in asked.kept)
    if (new and not new & fitting.replaced) or kept & fitting.replaced:
        return False
    for path, words in asked.only.items():
        word = word_of(path, where, fitting)
        if word is not None and word not in words:
            return False
    if any(word_of(path, where, fitting) not in words for path, words in asked.surely.items()):
        return False
    return not any(word_of(path, where, fitting) in words for path, words in asked.unless.items())


def _lack(path: str, item: Input, where: str) -> MissingFact:
    """A fact that is lacking; one that only helps to work the input out is called by its own name."""
    assert item.fact is not None
    itself = item.fact.at(where) == path and item.fact.by is None
    return MissingFact(path=path, words=item.words if itself else fact_words(path))


def fact_words(path: str) -> str:
    """What the fact at `path` is: what the first check that reads it as it stands says, else its own name."""
    place, _, key = path.partition(".")
    return _meanings().get(path) or f"{key.replace('-', ' ')} ({place.replace('-', ' ')})"


@cache
def _meanings() -> Mapping[str, str]:
    found: dict[str, str] = {}
    for check in CHECKS.values():
        for where in check.wheres:
            for item in check.inputs:
                if item.fact is not None and item.fact.by is None:
                    found.setdefault(item.fact.at(where), item.words)
    return found


def _unanswered(check: AnyCheck, lacks: tuple[MissingFact, ...]) -> CheckResult:
    return CheckResult(
        check=check.name,
        verdict=Verdict.MEASURE_FIRST,
        value=None,
        unit=Unit.ONE,
        working=tuple(f"Not known: {lack.words}" for lack in lacks),
        source=str(check.source),
        advice=check.at_verdict.get(Verdict.MEASURE_FIRST, "") or _to_find(lacks),
    )


def _to_find(lacks: tuple[MissingFact, ...]) -> str:
    if not lacks:
        return "Not everything that this check needs is known."
    return f"Find: {', '.join(lack.words for lack in lacks)}."
