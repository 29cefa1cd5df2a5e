"""Words without quotes that a YAML reader does not take as they look: `no`, `1:30`, `012`, `~`.

Spannerleaf keeps every value as the text that was written, but the editor, the next program and the next reader may
not. So each of them is an error, and says what it is taken for (YAML 1.1, tag repository: bool, int, float, null).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

_FALSE = frozenset({"n", "no", "off", "false"})
_TRUE = frozenset({"y", "yes", "on", "true"})
_NOTHING = frozenset({"~", "null"})
_BASE_SIXTY = re.compile(r"[-+]?\d[\d_]*(:[0-5]?\d)+(\.\d*)?")
_LEADING_ZERO = re.compile(r"[-+]?0[\d_]+")
_OTHER_BASE = re.compile(r"[-+]?0(x[0-9a-fA-F_]+|b[01_]+|o[0-7_]+)")
_UNDERSCORES = re.compile(r"[-+]?\d[\d_]*_[\d_]*(\.[\d_]*)?")
_NO_NUMBER = re.compile(r"[-+]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)")


@dataclass(frozen=True, slots=True)
class Trap:
    """What a YAML reader makes of the text, and what to write instead."""

    taken_for: str
    instead: str


def trap_of(text: str) -> Trap | None:
    """The trap that `text`, written without quotes, is; None where it is read as it looks."""
    if len(text) > 40:
        return None
    first = text[:1]
    if first.isdigit() or first in "+-.":
        return _number_trap(text)
    word = text.lower()
    quoted = f"'{text}' in quotes"
    if text in ("true", "false"):
        return None
    if word in _FALSE:
        return Trap("the truth value false", f"{quoted} for the word, or false for the truth value")
    if word in _TRUE:
        return Trap("the truth value true", f"{quoted} for the word, or true for the truth value")
    if word in _NOTHING:
        return Trap("no value at all", f"{quoted} for the text, or take the key away")
    return None


def _number_trap(text: str) -> Trap | None:
    quoted = f"'{text}' in quotes for the text"
    if _BASE_SIXTY.fullmatch(text):
        return Trap(f"the number {_base_sixty(text)}, counted in sixties", f"{quoted}, or a quantity such as '90 min'")
    if _LEADING_ZERO.fullmatch(text):
        digits = text.replace("_", "")
        plain = digits.lstrip("+-0") or "0"
        if set(digits) <= set("+-01234567"):
            return Trap(f"the number {int(digits, 8)}, counted in eights", f"{quoted}, or {plain} for the number")
        return Trap("a number by some readers and text by others", f"{quoted}, or {plain} for the number")
    if _OTHER_BASE.fullmatch(text):
        return Trap(f"the number {int(text.replace('_', ''), 0)}" if _has_digits(text) else "a number", quoted)
    if _UNDERSCORES.fullmatch(text):
        return Trap(f"the number {text.replace('_', '')}", f"{quoted}, or the number without '_'")
    if _NO_NUMBER.fullmatch(text):
        return Trap("a number that is none", quoted)
    return None


def _base_sixty(text: str) -> str:
    whole = 0.0
    for part in text.lstrip("+-").replace("_", "").split(":"):
        whole = whole * 60 + float(part)
    return f"{'-' if text.startswith('-') else ''}{whole:g}"


def _has_digits(text: str) -> bool:
    return any(digit in "0123456789abcdefABCDEF" for digit in text.lstrip("+-")[2:])
