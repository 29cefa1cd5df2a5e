"""What a YAML reader's complaint means and how to mend it, in words that a mechanic can act on."""

from __future__ import annotations

import yaml

from builder.diagnostics.diagnostic import Diagnostic
from builder.model.position import Position
from builder.sources.text import lines_of

_QUOTE = "a text that holds ': ' or begins with one of  * & ! | > % @ ` { [ # ' \"  must stand in quotes"
# A part of the reader's complaint -> what is wrong, what is said under the line, how to mend it, and whether the place
# to show is where the reader began (an opening bracket or quote) and not where it gave up.
_COMPLAINTS: tuple[tuple[str, str, str, tuple[str, ...], bool], ...] = (
    (
        "mapping values are not allowed",
        "a second ': ' stands in this value, or the line is indented too far",
        "read as a key of its own",
        ("put the whole value in quotes, or write it on the next line under '>-'",),
        False,
    ),
    (
        "could not find expected ':'",
        "this line is neither 'key: value' nor '- item'",
        "no ':' follows",
        ("write 'key: value'; a text that goes on over several lines is indented under its key",),
        True,
    ),
    (
        "did not find expected ',' or '}'",
        "the bracket '{' is not closed, or a comma is missing",
        "opened here",
        ("close it with '}', put commas between the entries, and quotes round a text that holds , : { or }",),
        True,
    ),
    (
        "did not find expected ',' or ']'",
        "the bracket '[' is not closed, or a comma is missing",
        "opened here",
        ("close it with ']', put commas between the items, and quotes round a text that holds , : [ or ]",),
        True,
    ),
    (
        "found unexpected end of stream",
        "the quotes are not closed",
        "opened here",
        ("put the same quote at the end; an apostrophe inside '...' is written twice: ''",),
        True,
    ),
    (
        "found unexpected document indicator",
        "the quotes are not closed",
        "opened here",
        ("put the same quote at the end",),
        True,
    ),
    (
        "found unknown escape character",
        "a backslash inside double quotes has a meaning of its own",
        "",
        ("use single quotes, in which a backslash is plain text",),
        False,
    ),
    (
        "did not find expected alphabetic or numeric character",
        "a value can not begin with '*' or '&' without quotes",
        "",
        (_QUOTE,),
        True,
    ),
    (
        "did not find expected '-' indicator",
        "an item of this list does not begin with '- '",
        "",
        ("begin every item with '- ', all in the same column",),
        False,
    ),
    (
        "block sequence entries are not allowed",
        "a list can not begin on the line of its key",
        "",
        ("put each '- item' on a line of its own below the key, or write [item, item]",),
        False,
    ),
    (
        "did not find expected key",
        "this does not go on with what stands above it",
        "",
        (
            "indent it like the keys above it",
            "a value that begins with a quote ends with that quote: nothing may follow it",
        ),
        False,
    ),
    (
        "did not find expected node content",
        "a value is missing here",
        "",
        (_QUOTE,),
        False,
    ),
    (
        "did not find expected <document start>",
        "nothing can follow here: the file's one value has ended",
        "",
        ("indent the line like the keys above it, and write each as 'key: value'",),
        False,
    ),
    (
        "exceeded maximum nesting depth",
        "brackets stand in brackets too many times",
        "",
        ("a source file needs no more than a few levels",),
        False,
    ),
)
# How the reader that is written in Python alone, as in a browser, says the same: a part of its complaint, a part of
# what it was reading, and the complaint as above.
_SAID_OTHERWISE: tuple[tuple[str, str, str], ...] = (
    ("expected ',' or '}', but got", "", "did not find expected ',' or '}'"),
    ("expected ',' or ']', but got", "", "did not find expected ',' or ']'"),
    (
        "expected alphabetic or numeric character, but found",
        "",
        "did not find expected alphabetic or numeric character",
    ),
    ("expected <block end>, but found", "block collection", "did not find expected '-' indicator"),
    ("expected <block end>, but found", "", "did not find expected key"),
    ("expected the node content, but found", "", "did not find expected node content"),
    ("expected '<document start>', but found", "", "did not find expected <document start>"),
    ("found incompatible YAML document", "", "found incompatible YAML document"),
)


def explain(file: str, text: str, error: yaml.YAMLError) -> Diagnostic:
    """The diagnostic for what stopped the YAML reader."""
    problem = str(getattr(error, "problem", None) or getattr(error, "reason", None) or "it can not be read")
    context = str(getattr(error, "context", None) or "")
    problem = next((same for part, of, same in _SAID_OTHERWISE if part in problem and of in context), problem)
    mark = getattr(error, "problem_mark", None)
    began = getattr(error, "context_mark", None)
    if "cannot start any token" in problem and mark is not None:
        return _odd_start(file, text, mark)
    if mark is not None and _follows_quote(text, mark):
        return Diagnostic(
            rule="syntax",
            message="a quoted text ends before this",
            at=_place(file, text, mark),
            hints=("an apostrophe inside '...' is written twice: ''", "or put the whole text in double quotes"),
        )
    for part, message, label, hints, at_beginning in _COMPLAINTS:
        if part in problem:
            at = _place(file, text, began if at_beginning and began is not None else mark)
            return Diagnostic(rule="syntax", message=message, at=at, label=label, hints=hints)
    return Diagnostic(
        rule="syntax",
        message=f"this is not YAML: {problem}",
        at=_place(file, text, mark or began),
        hints=(_QUOTE,),
    )


def _follows_quote(text: str, mark: yaml.Mark) -> bool:
    """Whether the place is on one line with the quote that ended a text just before it."""
    lines = lines_of(text)
    line = lines[mark.line] if mark.line < len(lines) else ""
    before = line[: mark.column].rstrip(" ")
    return before.endswith(("'", '"')) and line[mark.column : mark.column + 1] not in ("", ",", "]", "}", "#")


def _odd_start(file: str, text: str, mark: yaml.Mark) -> Diagnostic:
    at = _place(file, text, mark)
    lines = lines_of(text)
    line = lines[at.line - 1] if at.line <= len(lines) else ""
    sign = line[at.column - 1 : at.column] or "?"
    return Diagnostic(
        rule="syntax",
        message=f"a value can not begin with '{sign}' without quotes",
        at=at,
        hints=(_QUOTE,),
    )


def _place(file: str, text: str, mark: yaml.Mark | None) -> Position:
    """The place of a reader's mark, moved back onto the last line that holds anything where it lies behind the end."""
    if mark is None:
        return Position(file, 1, 1)
    lines = lines_of(text)
    number, column = mark.line, mark.column
    if number >= len(lines) or (number == len(lines) - 1 and not lines[number].strip()):
        number = min(number, len(lines) - 1)
        while number > 0 and not lines[number].strip():
            number -= 1
        column = len(lines[number])
    return Position(file, number + 1, column + 1)
