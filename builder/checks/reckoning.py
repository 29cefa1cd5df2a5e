"""Reckon a check: from inputs, written or already read, to its result, with both ends of every tolerance."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from difflib import get_close_matches
from itertools import product
from typing import Any

from builder.checks.check import AnyCheck
from builder.checks.result import CheckResult, Given, Input, InputError, Inputs, Kind, Value, Verdict
from builder.model.units import (
    Measure,
    QuantityError,
    Unit,
    read_measure,
    read_value,
    write_number,
    write_quantity,
)

# What a message quotes at most, and what an input may be long; beyond it nobody wrote it by hand.
_LONGEST_QUOTE = 80
_LONGEST_TEXT = 1_000
_LONGEST_LIST = 60
_JSON_DIGITS = 12
# A word that a workshop adds to a set of standards.
_OWN_WORD = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_NO_BREAK = "\u00a0"
# Results that are counted, not measured: another count is another answer, even under the same verdict.
_COUNTED = frozenset({Unit.LINKS, Unit.TEETH})


def read_inputs(check: AnyCheck, texts: Mapping[str, str]) -> dict[str, Given]:
    """Read what a person wrote, `{"chainstay": "425 ± 2 mm", "ring": "32"}`, as the check's inputs.

    Inputs with a default are filled in; an optional one that is not given stays out.

    Raises:
        InputError: one line that names the input and says what is expected.
    """
    _refuse_unknown(check, texts)
    return _complete(check, {item.name: _read(item, texts[item.name]) for item in check.inputs if item.name in texts})


def reckon(check: AnyCheck, given: Mapping[str, Given]) -> CheckResult:
    """Run the check, at the middle and at both ends of every tolerance.

    A 'does not fit' stands whatever the tolerances say. Any other verdict that they could turn to 'does not fit' is
    'measure first'; where they only decide how much care it takes, or a count such as a number of links, it is 'fits
    with care'. The working shows both ends. Otherwise the answer stands and the working shows the span.

    Raises:
        InputError: an input is missing, unknown, of the wrong kind or out of its range, be it at one end of its
            tolerance only.
    """
    _refuse_unknown(check, given)
    complete = _complete(
        check, {item.name: _checked(item, given[item.name]) for item in check.inputs if item.name in given}
    )
    middle = check.run({name: _middle(value) for name, value in complete.items()})
    if not any(isinstance(value, Measure) and value.tolerance for value in complete.values()):
        return middle
    return _with_tolerance(check, middle, complete)


def reckon_texts(check: AnyCheck, texts: Mapping[str, str]) -> CheckResult:
    """`reckon` straight from written inputs.

    Raises:
        InputError: as `read_inputs` and `reckon`.
    """
    return reckon(check, read_inputs(check, texts))


def result_as_json(result: CheckResult) -> dict[str, Any]:
    """The result as plain data for JSON; numbers to 12 significant digits, so that every platform writes the same."""
    return {
        "check": result.check,
        "verdict": result.verdict.value,
        "value": _json_number(result.value),
        "unit": result.unit.value,
        "limit": _json_number(result.limit),
        "margin": _json_number(result.margin),
        "working": list(result.working),
        "advice": result.advice,
        "source": result.source,
        "values": {item.name: _json_number(item.value) for item in result.values},
    }


def range_words(item: Input) -> str:
    """The range of an input for the reader: `250 to 900 mm`, `quick-link or joining-pin`, or nothing."""
    if item.kind is Kind.CHOICE:
        return " or ".join(item.choices)
    if item.low is None or item.high is None:
        return ""
    return f"{write_number(item.low, 4)} to {write_quantity(item.high, item.unit, 4)}".replace(_NO_BREAK, " ")


def _json_number(value: float | None) -> float | None:
    if value is None:
        return None
    rounded = float(f"{value:.{_JSON_DIGITS}g}")
    return rounded + 0.0  # no negative zero


# --- names ---------------------------------------------------------------------------------------


def _refuse_unknown(check: AnyCheck, given: Mapping[str, object]) -> None:
    names = [item.name for item in check.inputs]
    for name in given:
        if name not in names:
            near = get_close_matches(name, names, n=1, cutoff=0.5)
            hint = f"did you mean '{near[0]}'?" if near else f"it takes: {', '.join(names)}"
            raise InputError(f"{check.name} has no input '{_clean(name)}'; {hint}")


def _complete(check: AnyCheck, given: dict[str, Given]) -> dict[str, Given]:
    """Fill in the defaults and refuse what is missing; the order is that of the check's inputs."""
    complete: dict[str, Given] = {}
    for item in check.inputs:
        if item.name in given:
            complete[item.name] = given[item.name]
        elif item.default is not None:
            complete[item.name] = item.default
        elif not item.optional:
            example = f", for instance {item.name}={check.example[item.name]}" if item.name in check.example else ""
            span = f" ({range_words(item)})" if range_words(item) else ""
            raise InputError(f"{item.name} is missing: {item.words}{span}{example}")
    return complete


# --- reading -------------------------------------------------------------------------------------


def _line(text: str) -> str:
    """`text` as one printable line."""
    return "".join(sign if sign.isprintable() else " " for sign in " ".join(text.split()))


def _clean(text: str) -> str:
    """One printable line of `text`, cut short, fit to stand in a message."""
    line = _line(text)
    return line if len(line) <= _LONGEST_QUOTE else f"{line[: _LONGEST_QUOTE - 1]}…"


def _read(item: Input, text: str) -> Given:
    line = _line(text).replace("−", "-")
    if not line:
        raise InputError(f"{item.name} is empty: {item.words}")
    if len(line) > _LONGEST_TEXT:
        raise InputError(f"{item.name}: {len(line)} letters are too many; at most {_LONGEST_TEXT} make sense")
    match item.kind:
        case Kind.QUANTITY | Kind.WHOLE:
            try:
                measure = read_measure(line, item.unit)
            except QuantityError as error:
                raise InputError(f"{item.name}: {_clean(str(error))}") from None
            return _checked(item, measure)
        case Kind.WHOLE_LIST:
            return _checked(item, tuple(_read_list(item, line)))
        case Kind.QUANTITY_LIST:
            return _checked(item, tuple(_read_quantities(item, line)))
        case Kind.CHOICE:
            return _checked_choice(item, line)
        case Kind.TEXT:
            return _checked(item, line)


def _read_list(item: Input, line: str) -> Iterator[int]:
    written = line.removesuffix(item.unit.value).strip()
    for part in written.replace(";", ",").replace("/", ",").replace(" ", ",").split(","):
        if not part:
            continue
        if not (part.isascii() and part.lstrip("+-").isdigit() and len(part) <= 9):
            raise InputError(
                f"{item.name}: '{part}' is not a whole number; write each one, with commas between, "
                f"such as {item.name}=48,31"
            )
        yield int(part)


def _read_quantities(item: Input, line: str) -> Iterator[float]:
    """Numbers with commas or spaces between, with the unit behind each or behind the last alone."""
    words = line.replace(";", ",").replace(",", " ").split()
    unit = "" if item.unit is Unit.ONE else item.unit.value
    if words and not any(sign.isdigit() for sign in words[-1]):
        unit = words.pop()
    for word in words:
        if word == unit:
            continue
        try:
            yield read_value(word if word[-1:].isalpha() else f"{word} {unit}".strip(), item.unit)
        except QuantityError as error:
            raise InputError(f"{item.name}: {_clean(str(error))}") from None


# --- ranges --------------------------------------------------------------------------------------


def _checked(item: Input, given: Given) -> Given:
    """`given` in the type that the check's function expects.

    Raises:
        InputError: of the wrong kind, not finite, or out of range.
    """
    match item.kind:
        case Kind.QUANTITY:
            return _checked_quantity(item, given)
        case Kind.WHOLE:
            return _checked_whole(item, given)
        case Kind.WHOLE_LIST:
            if not isinstance(given, tuple) or not given:
                raise InputError(f"{item.name}: a list is wanted: {item.words}")
            if len(given) > _LONGEST_LIST:
                raise InputError(f"{item.name}: {len(given)} numbers are too many; at most {_LONGEST_LIST} make sense")
            return tuple(_checked_whole(item, one) for one in given)
        case Kind.QUANTITY_LIST:
            if not isinstance(given, tuple) or not given:
                raise InputError(f"{item.name}: a list is wanted: {item.words}")
            if len(given) > _LONGEST_LIST:
                raise InputError(f"{item.name}: {len(given)} numbers are too many; at most {_LONGEST_LIST} make sense")
            return tuple(_checked_quantity(item, one).value for one in given)
        case Kind.CHOICE:
            if item.open_to is not None and isinstance(given, str) and _OWN_WORD.fullmatch(given):
                return given
            return _checked_choice(item, given)
        case Kind.TEXT:
            if not isinstance(given, str) or not given.strip():
                raise InputError(f"{item.name}: a text is wanted: {item.words}")
            return given.strip()


def _checked_quantity(item: Input, given: Given) -> Measure:
    measure = given if isinstance(given, Measure) else None
    if isinstance(given, int | float) and not isinstance(given, bool):
        measure = Measure(float(given))
    if measure is None:
        raise InputError(f"{item.name}: '{_clean(str(given))}' is not a number; {item.words}")
    if not math.isfinite(measure.value) or not math.isfinite(measure.tolerance) or measure.tolerance < 0:
        raise InputError(f"{item.name}: not a finite number; expected {range_words(item) or item.words}")
    _refuse_outside(item, measure.value)
    for end in (measure.low, measure.high):
        _refuse_outside(item, end, f"{_plain(item, measure.value)} with its tolerance reaches ")
    return measure


def _checked_whole(item: Input, given: object) -> int:
    if isinstance(given, Measure):
        if given.tolerance:
            raise InputError(f"{item.name}: a count has no tolerance; write a whole number")
        given = given.value
    if isinstance(given, bool) or not isinstance(given, int | float) or not math.isfinite(given):
        raise InputError(f"{item.name}: '{_clean(str(given))}' is not a whole number; {item.words}")
    if given != int(given):
        raise InputError(f"{item.name}: {given:g} is not a whole number; {item.words}")
    _refuse_outside(item, float(given))
    return int(given)


def _checked_choice(item: Input, given: Given) -> str:
    known = {choice.casefold(): choice for choice in item.choices}
    written = given.strip() if isinstance(given, str) else str(given)
    if written.casefold() in known:
        return known[written.casefold()]
    near = get_close_matches(written.casefold(), known, n=1, cutoff=0.5)
    hint = f"did you mean '{known[near[0]]}'?" if near else f"write one of: {', '.join(item.choices)}"
    raise InputError(f"{item.name}: '{_clean(written)}' is not known; {hint}")


def _refuse_outside(item: Input, value: float, before: str = "") -> None:
    below = item.low is not None and value < item.low
    above = item.high is not None and value > item.high
    if below or above:
        joint = ", which is" if before else " is"
        raise InputError(f"{item.name}: {before}{_plain(item, value)}{joint} outside {range_words(item)}; {item.words}")


def _plain(item: Input, value: float) -> str:
    number = f"{value:.6g}".replace("-", "−")
    return number if item.unit is Unit.ONE else f"{number} {item.unit.value}"


# --- tolerance -----------------------------------------------------------------------------------


def _middle(given: Given) -> Value:
    return given.value if isinstance(given, Measure) else given


def _ends(given: Given) -> tuple[Value, ...]:
    if isinstance(given, Measure):
        return (given.low, given.high) if given.tolerance else (given.value,)
    return (given,)


def _corners(check: AnyCheck, complete: Mapping[str, Given]) -> list[tuple[Inputs, CheckResult]]:
    names = list(complete)
    corners = [dict(zip(names, values, strict=True)) for values in product(*map(_ends, complete.values()))]
    return [(corner, check.run(corner)) for corner in corners]


def _with_tolerance(check: AnyCheck, middle: CheckResult, complete: Mapping[str, Given]) -> CheckResult:
    corners = _corners(check, complete)
    low, high = corners[0], corners[-1]
    values = [result.value for _, result in corners if result.value is not None]
    if len(values) == len(corners) and min(values) < max(values):
        low = next(corner for corner in corners if corner[1].value == min(values))
        high = next(corner for corner in corners if corner[1].value == max(values))
    verdicts = {middle.verdict, *(result.verdict for _, result in corners)}
    counts = {result.value for _, result in corners} if middle.unit in _COUNTED else set()
    lines = tuple(_end_line(check, complete, *end) for end in (low, high))
    if len(verdicts) == 1 and len(counts) <= 1:
        return replace(middle, working=(*middle.working, *lines, "The tolerance does not change the answer."))
    if verdicts == {Verdict.DOES_NOT_FIT}:
        return replace(middle, working=(*middle.working, *lines, "The tolerance changes the count, not the answer."))
    said = f"At the middle values the verdict is '{_words(middle.verdict)}', but the tolerance could turn the answer."
    return replace(
        middle,
        verdict=_honest(middle.verdict, verdicts),
        working=(*middle.working, *lines, said),
        advice=f"{said} Measure again more closely before you rely on it. {middle.advice}".strip(),
    )


def _honest(middle: Verdict, verdicts: set[Verdict]) -> Verdict:
    """The verdict where a tolerance leaves several open: 'does not fit' is never lifted, a limit is never guessed.

    A tolerance that straddles a limit asks for a closer measurement; one that leaves two answers open on the same side
    of it asks for care.
    """
    if middle is Verdict.DOES_NOT_FIT:
        return Verdict.DOES_NOT_FIT
    if verdicts & {Verdict.DOES_NOT_FIT, Verdict.MEASURE_FIRST}:
        return Verdict.MEASURE_FIRST
    return Verdict.WITH_CARE


def _end_line(check: AnyCheck, complete: Mapping[str, Given], corner: Inputs, result: CheckResult) -> str:
    at = []
    for item in check.inputs:
        given, value = complete.get(item.name), corner.get(item.name)
        if isinstance(given, Measure) and given.tolerance and isinstance(value, int | float):
            at.append(f"{item.name} {_plain(item, float(value))}")
    answer = (
        "no value" if result.value is None else write_quantity(result.value, result.unit, 3).replace(_NO_BREAK, " ")
    )
    return f"With {', '.join(at)}: {answer}, {_words(result.verdict)}."


def _words(verdict: Verdict) -> str:
    return verdict.value.replace("-", " ")
