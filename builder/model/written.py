"""A quantity as a person writes it, taken apart: numbers, the units beside them, and what joins two numbers.

Nothing is known here of what a unit means. A text is cut and its spaces are joined before anything is looked for in it,
so that no text, however long, takes more than a moment.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

# Longer than any quantity: `17 5/16 in ± 1/16 in` has 20 characters.
_LONGEST = 120
_SHOWN = 60
_VULGAR = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3"}
_PLAIN = str.maketrans(
    {
        "−": "-",
        "⋅": "·",
        "∙": "·",
        "•": "·",
        "×": "*",
        "″": '"',
        "”": '"',
        "⁄": "/",
        **{sign: f" {written}" for sign, written in _VULGAR.items()},
    }
)
_PLUS_MINUS = re.compile(r"\+ ?/ ?[-–]|\+-")
_NUMBER = re.compile(
    r"(?P<sign>[-+–]?) ?(?:"
    r"(?:(?P<whole>\d+) )?(?P<top>\d+) ?/ ?(?P<bottom>\d+)"
    r"|(?P<decimal>(?:\d[\d.,]*|[.,]\d+)(?:[eE][-+]?\d+)?)"
    r")",
    re.ASCII,
)
# A minus sign, an en dash or `to` parts two numbers where a number follows; `in-lbf` is one unit.
_JOINT = re.compile(r" ?(?P<sign>±|[-–]|\bto\b) ?(?=[-+–]? ?[.,]?\d)", re.ASCII)
_PLAIN_DECIMAL = re.compile(r"(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][-+]?\d+)?", re.ASCII)
_TWO_WAYS = re.compile(r"[1-9]\d{0,2},\d{3}", re.ASCII)


class QuantityError(ValueError):
    """A text that is not the quantity that was asked for; the message says what is wrong and what is expected."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """Numbers and units as written; units are '' where none is.

    `second` is the end of a range or, if `tolerant`, a tolerance.
    """

    first: float
    first_unit: str = ""
    second: float | None = None
    second_unit: str = ""
    tolerant: bool = False


def one_line(text: str) -> str:
    """The text on one line, cut where it is too long to be shown in a message."""
    line = " ".join(text[: 50 * _LONGEST].split())
    return line if len(line) <= _SHOWN else f"{line[: _SHOWN - 1]}…"


def number_of(text: str) -> float:
    """A bare number: `1.5`, `1,5`, `1/2`, `17 5/16`, `−3`, `1e3`.

    Raises:
        QuantityError: it is no number, or one that two readers take for different ones.
    """
    line = _plain(text)
    found = _NUMBER.fullmatch(line)
    if found is None:
        raise QuantityError(f"'{one_line(text)}' is not a number")
    return _value(found)


def taken_apart(text: str) -> Written | None:
    """The parts of `text`, or None where it does not begin with a number or holds more than a quantity.

    Raises:
        QuantityError: it is too long, or a number in it can be read in two ways, or is too large.
    """
    line = _plain(text)
    first = _NUMBER.match(line)
    if first is None:
        return None
    unit, joint, rest = _until_joint(line[first.end() :])
    if joint is None:
        return None if _has_number(unit) else Written(first=_value(first), first_unit=unit)
    second = _NUMBER.match(rest)
    assert second is not None
    second_unit, another, _ = _until_joint(rest[second.end() :])
    if another is not None and "±" in (joint, another):
        raise QuantityError(f"'{one_line(text)}' is a range and has a tolerance; write one or the other")
    if another is not None or _has_number(unit) or _has_number(second_unit):
        return None
    return Written(
        first=_value(first),
        first_unit=unit or second_unit,
        second=_value(second),
        second_unit=second_unit or unit,
        tolerant=joint == "±",
    )


def _plain(text: str) -> str:
    """One line with the signs that are only dressed otherwise made one."""
    line = " ".join(text[: 50 * _LONGEST].split())
    if len(line) > _LONGEST or len(text) > 50 * _LONGEST:
        raise QuantityError(f"'{one_line(text)}' is too long to be a quantity")
    return _PLUS_MINUS.sub("±", " ".join(line.translate(_PLAIN).replace("''", '"').split()))


def _until_joint(text: str) -> tuple[str, str | None, str]:
    """What stands before a joint, the joint, and what follows it."""
    joint = _JOINT.search(text)
    if joint is None:
        return text.strip(), None, ""
    return text[: joint.start()].strip(), joint["sign"], text[joint.end() :]


def _has_number(unit: str) -> bool:
    """Whether a unit is none, since it begins with a further number or a sign of one."""
    return unit[:1].isdigit() or unit[:1] in ("+", "-", "–", "±", ".", ",", "/")


def _value(found: re.Match[str]) -> float:
    sign = -1.0 if found["sign"] in ("-", "–") else 1.0
    if found["top"] is not None:
        if int(found["bottom"]) == 0:
            raise QuantityError(f"'{found[0]}' divides by nothing")
        return sign * (float(found["whole"] or 0) + int(found["top"]) / int(found["bottom"]))
    written = found["decimal"]
    if _TWO_WAYS.fullmatch(written):
        one, other = written.replace(",", ""), written.replace(",", ".").rstrip("0").rstrip(".")
        raise QuantityError(f"'{written}' can be read in two ways; write {one} or {other}")
    if not _PLAIN_DECIMAL.fullmatch(written):
        raise QuantityError(f"'{written}' is not a number; write no sign between thousands, and one decimal point")
    value = sign * float(written.replace(",", "."))
    if not math.isfinite(value):
        raise QuantityError(f"'{found[0]}' is too large to be a quantity")
    return value
