"""Write diagnostics: as text with the source line quoted, as one line each, or as JSON.

guides/rear-wheel-out.yaml:41:13: error: unknown tool 'cassete-tool'
   41 |     tools: [cassete-tool, chain-whip]
      |             ^^^^^^^^^^^^ there is no such tool
   = did you mean 'cassette-tool'?  (guides/catalogue/tools.yaml:88)
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from enum import StrEnum

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.position import Position


class Tone(StrEnum):
    """What a piece of the text is, for whoever paints it."""

    PLACE = "place"
    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"
    MESSAGE = "message"
    MARGIN = "margin"
    CARETS = "carets"
    HINT = "hint"


Paint = Callable[[Tone, str], str]
_TONES = {Gravity.ERROR: Tone.ERROR, Gravity.WARNING: Tone.WARNING, Gravity.NOTE: Tone.NOTE}
_LINE_END = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
_NUMBER_WIDTH = 5
_TAB_WIDTH = 4
# A longer line is cut, so that its carets still stand below it on a terminal of usual width.
_LINE_WIDTH = 100
_BEFORE_CARETS = 40
_CUT = "…"
_STAND_IN = "\ufffd"


def unpainted(tone: Tone, text: str) -> str:
    """The text as it is."""
    del tone
    return text


def as_text(diagnostic: Diagnostic, texts: Mapping[str, str], paint: Paint = unpainted) -> str:
    """A diagnostic over several lines, with its source line where `texts` holds the file."""
    at = diagnostic.at
    lines = [_headline(diagnostic, paint)]
    quoted = _source_line(at, texts)
    if quoted is None:
        if diagnostic.label:
            lines.append(_hint(diagnostic.label, paint))
    else:
        shown, before, width = _window(quoted, at.column - 1, at.length)
        carets = paint(Tone.CARETS, " ".join(["^" * width, visible(diagnostic.label)]).rstrip())
        lines.append(f"{paint(Tone.MARGIN, f'{at.line:>{_NUMBER_WIDTH}} |')} {shown}".rstrip())
        lines.append(f"{paint(Tone.MARGIN, ' ' * _NUMBER_WIDTH + ' |')} {' ' * before}{carets}")
    lines.extend(_hint(f"{words}  ({_file_and_line(place)})", paint) for place, words in diagnostic.related)
    lines.extend(_hint(hint, paint) for hint in diagnostic.hints)
    return "\n".join(lines)


def as_line(diagnostic: Diagnostic) -> str:
    """A diagnostic in one line, with how to mend it."""
    mend = (*(words for _, words in diagnostic.related), *diagnostic.hints)
    told = "; ".join(visible(words) for words in (diagnostic.label, *mend) if words)
    return _headline(diagnostic, unpainted) + (f" ({told})" if told else "")


def as_json(diagnostics: Iterable[Diagnostic]) -> str:
    """Diagnostics as a JSON list, an object each. A line or column of 0 says that the whole file is meant."""
    return json.dumps([as_object(diagnostic) for diagnostic in diagnostics], ensure_ascii=False, indent=2)


def as_object(diagnostic: Diagnostic) -> dict[str, object]:
    """A diagnostic as plain values for JSON."""
    return {
        "rule": diagnostic.rule,
        "gravity": diagnostic.gravity.value,
        "message": diagnostic.message,
        **_place(diagnostic.at),
        "label": diagnostic.label,
        "hints": list(diagnostic.hints),
        "related": [{"message": words, **_place(place)} for place, words in diagnostic.related],
    }


def visible(text: str) -> str:
    """The text on one line, with a stand-in for every character that a terminal does not show as it is."""
    spaced = re.sub(r"[\n\r\t\x85\u2028\u2029]+", " ", text)
    return "".join(_STAND_IN if _is_hidden(sign) else sign for sign in spaced)


def _place(at: Position) -> dict[str, object]:
    return {"file": at.file, "line": at.line, "column": at.column, "length": at.length}


def _headline(diagnostic: Diagnostic, paint: Paint) -> str:
    at, gravity = diagnostic.at, diagnostic.gravity
    where = visible(str(at) if at.line else at.file)
    start = f"{paint(Tone.PLACE, f'{where}:')} " if where else ""
    return f"{start}{paint(_TONES[gravity], f'{gravity.value}:')} {paint(Tone.MESSAGE, visible(diagnostic.message))}"


def _hint(words: str, paint: Paint) -> str:
    return f"   {paint(Tone.HINT, '=')} {visible(words)}"


def _file_and_line(at: Position) -> str:
    return f"{at.file}:{at.line}" if at.line else at.file


def _source_line(at: Position, texts: Mapping[str, str]) -> str | None:
    """The quoted line, or None where there is none or it is empty."""
    if at.line < 1 or at.file not in texts:
        return None
    lines = _LINE_END.split(texts[at.file])
    if at.line > len(lines) or not lines[at.line - 1].strip():
        return None
    return lines[at.line - 1]


def _window(line: str, start: int, length: int) -> tuple[str, int, int]:
    """The part of a line that is shown, and how many columns of the terminal stand before and under the carets."""
    end = min(start + max(length, 1), max(len(line), start + 1))
    first = 0
    if _columns(line) > _LINE_WIDTH and start > _BEFORE_CARETS:
        first = start - _BEFORE_CARETS
    shown = _spread(line[first:])
    lead = _CUT if first else ""
    before = len(lead) + _columns(line[first:start])
    width = max(_columns(line[start:end]), 1)
    room = _LINE_WIDTH - len(lead)
    if _columns(shown) > room:
        shown = _fit(shown, room - 1) + _CUT
        width = max(1, min(width, len(lead) + room - before))
    return lead + shown, before, width


def _spread(text: str) -> str:
    """The text as the terminal gets it: tabs as spaces, a stand-in for what does not show."""
    return "".join(" " * _TAB_WIDTH if sign == "\t" else _STAND_IN if _is_hidden(sign) else sign for sign in text)


def _fit(text: str, columns: int) -> str:
    used = 0
    for place, sign in enumerate(text):
        used += _columns(sign)
        if used > columns:
            return text[:place]
    return text


def _columns(text: str) -> int:
    """How many columns of a terminal the text takes (Unicode Standard Annex 11: wide signs take two)."""
    return sum(_width(sign) for sign in text)


def _width(sign: str) -> int:
    if sign == "\t":
        return _TAB_WIDTH
    if sign.isascii() or _is_hidden(sign):
        return 1
    if unicodedata.combining(sign) or unicodedata.category(sign) in ("Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in ("W", "F") else 1


def _is_hidden(sign: str) -> bool:
    """Control characters, and the invisible ones that turn the direction of the text."""
    return (not sign.isascii() and unicodedata.category(sign) in ("Cc", "Cf", "Cs")) or sign < " " or sign == "\x7f"
