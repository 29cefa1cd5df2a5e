"""From the bytes of a file to its text: UTF-8 and nothing else, no tabs, no control characters."""

from __future__ import annotations

import re
from dataclasses import dataclass

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.position import Position

# What ends a line for a YAML reader; columns and lines are counted by it.
LINE_END = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
# Characters that YAML 1.2 (5.1, c-printable) leaves out; the tab is looked for by itself.
_FORBIDDEN = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|\ufeff")
# What turns the direction of a text about (UAX #9) or has no width: what is read is not what stands there.
_HIDDEN = re.compile("[\u200b\u202a-\u202e\u2060-\u2064\u2066-\u2069\ufeff]")
# A value may hold these by an escape, such as "\\x1b"; the tab and the end of a line are plain text.
_NOT_IN_A_VALUE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff\u2028\u2029]|" + _HIDDEN.pattern)
_UTF8_MARK = b"\xef\xbb\xbf"
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")


@dataclass(frozen=True, slots=True)
class SourceText:
    """The text of a file as shown to the user, what is wrong with it, and whether a YAML reader can go on with it."""

    file: str
    text: str
    diagnostics: tuple[Diagnostic, ...] = ()
    readable: bool = True


def lines_of(text: str) -> list[str]:
    """The lines of `text`, counted as a YAML reader counts them."""
    return LINE_END.split(text)


def place_in(file: str, text: str, index: int, length: int = 1) -> Position:
    """The place of the character at `index` of `text`."""
    before = LINE_END.split(text[:index])
    return Position(file, len(before), len(before[-1]) + 1, length)


def decode(file: str, raw: bytes) -> SourceText:
    """The text of a file. Bytes that are not UTF-8 are reported and replaced, so that the rest is read all the same."""
    if raw.startswith(_UTF16_MARKS):
        wrong = Diagnostic(
            rule="encoding",
            message="the file is not UTF-8; it begins like UTF-16",
            at=Position(file, 1, 1),
            hints=("save it again as UTF-8; many editors offer this beside the file's name as 'encoding'",),
        )
        return SourceText(file, "", (wrong,), readable=False)
    found: list[Diagnostic] = []
    if raw.startswith(_UTF8_MARK):
        raw = raw[len(_UTF8_MARK) :]
        found.append(
            Diagnostic(
                rule="encoding",
                message="the file begins with a byte order mark, which UTF-8 does not need",
                at=Position(file, 1, 1),
                gravity=Gravity.WARNING,
                hints=("save it as 'UTF-8' and not as 'UTF-8 with BOM'",),
            )
        )
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        text = raw.decode("utf-8", "replace")
        found.append(_not_utf8(file, raw, error))
    control = _FORBIDDEN.search(text) or _HIDDEN.search(text)
    if control is not None:
        found.append(_control(file, text, control.start()))
        return SourceText(file, text, tuple(found), readable=False)
    tabs, readable = _tabs(file, text)
    return SourceText(file, text, (*found, *tabs), readable)


def hidden_in(value: str) -> str:
    """The first character of a value that no reader can see, or ''."""
    found = _NOT_IN_A_VALUE.search(value)
    return found[0] if found else ""


def without_hidden(value: str) -> str:
    """The value without characters that no reader can see."""
    return _NOT_IN_A_VALUE.sub("", value)


def _not_utf8(file: str, raw: bytes, error: UnicodeDecodeError) -> Diagnostic:
    before = raw[: error.start].decode("utf-8", "replace")
    byte = raw[error.start]
    meant = bytes([byte]).decode("cp1252", "replace")
    label = f"'{meant}' in the older Western European encoding" if meant.isalnum() else ""
    return Diagnostic(
        rule="encoding",
        message=f"the file is not UTF-8: the byte 0x{byte:02X} stands for no character",
        at=place_in(file, before, len(before)),
        label=label,
        hints=("save it again as UTF-8; many editors offer this beside the file's name as 'encoding'",),
    )


def _control(file: str, text: str, index: int) -> Diagnostic:
    return Diagnostic(
        rule="control-character",
        message=f"the character U+{ord(text[index]):04X} can not be seen and is not allowed",
        at=place_in(file, text, index),
        hints=("take it out, or type the line again; is this a text file at all?",),
    )


def _tabs(file: str, text: str) -> tuple[tuple[Diagnostic, ...], bool]:
    """One diagnostic for all tabs of a file; where one of them indents a line, the file can't be read on."""
    if "\t" not in text:
        return (), True
    lines = lines_of(text)
    with_tab = [number for number, line in enumerate(lines, 1) if "\t" in line]
    indenting = [number for number in with_tab if "\t" in lines[number - 1][: _indent(lines[number - 1])]]
    first = (indenting or with_tab)[0]
    line = lines[first - 1]
    column = line.index("\t") + 1
    run = len(line[column - 1 :]) - len(line[column - 1 :].lstrip("\t"))
    others = [str(number) for number in with_tab if number != first]
    hints = ["write spaces instead, two for each level; most editors can be set to do so"]
    if others:
        more = f" and {len(others) - 8} more" if len(others) > 8 else ""
        hints.append(f"tabs stand in {'line' if len(others) == 1 else 'lines'} {', '.join(others[:8])}{more} too")
    wrong = Diagnostic(
        rule="tab",
        message="a tab indents this line, which YAML does not allow" if indenting else "a tab stands in this line",
        at=Position(file, first, column, run),
        hints=tuple(hints),
    )
    return (wrong,), not indenting


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip(" \t"))
