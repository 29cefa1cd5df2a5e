"""From YAML text to a tree of nodes: every value stays the text that was written and knows its line and column.

What YAML offers beyond plain keys, lists and texts is refused: anchors, aliases, tags, merge keys, several documents.
A guide is read by people who do not know them, and none of them is needed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Protocol

import yaml

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.position import Position
from builder.sources.nodes import Entry, Listing, Node, Scalar, Table
from builder.sources.syntax import explain
from builder.sources.text import SourceText, hidden_in, lines_of, without_hidden
from builder.sources.traps import trap_of

_LOADER = yaml.CSafeLoader if yaml.__with_libyaml__ else yaml.SafeLoader
# Deeper than any source needs; it keeps everything that walks the tree from running out of stack.
_DEEPEST = 40
# More than any source needs; what is larger was not written by a person.
_MOST_NODES = 40_000
_LONGEST_TEXT = 10_000
# Who has made so many mistakes mends these first.
_MOST_SAID = 99
_SHOWN = 60
_BRACES = "a text that begins with '{{' must stand in quotes"
_QUOTE_BRACES = "put the whole text in quotes: '{{ torque }} or more'"


@dataclass(frozen=True, slots=True)
class Tree:
    """A file's tree. `root` is None where the file could not be read or is empty."""

    file: str
    text: str
    root: Node | None
    diagnostics: tuple[Diagnostic, ...] = field(default=())


def read_tree(source: SourceText) -> Tree:
    """Read YAML text; everything wrong with it is in the tree's diagnostics, nothing is raised."""
    if not source.readable:
        return Tree(source.file, source.text, None, source.diagnostics)
    reader = _Reader(source.file, source.text)
    try:
        root = reader.read()
    except yaml.YAMLError as error:
        root = None
        wrong = explain(source.file, source.text, error)
        # What follows a value's braces on their line can't be read either, and needs the same quotes.
        if not any(said.message == _BRACES and said.at.line == wrong.at.line for said in reader.found):
            reader.found.append(wrong)
    except _Enough as error:
        root = None
        reader.found.append(error.diagnostic)
    return Tree(source.file, source.text, root, (*source.diagnostics, *reader.found))


class _Mark(Protocol):
    line: int
    column: int
    index: int


class _Enough(Exception):
    """Nothing more is read of a file."""

    def __init__(self, diagnostic: Diagnostic) -> None:
        super().__init__(diagnostic.message)
        self.diagnostic = diagnostic


class _Reader:
    """Follows the events of a YAML parser and builds nodes from them."""

    def __init__(self, file: str, text: str) -> None:
        self.file = file
        self.text = text
        self.lines = lines_of(text)
        self.found: list[Diagnostic] = []
        self._nodes = 0
        self._events: Iterator[yaml.Event] = yaml.parse(text, Loader=_LOADER)

    def read(self) -> Node | None:
        root: Node | None = None
        documents = 0
        for event in self._events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents == 2:
                    self._say(
                        "documents",
                        "a second document begins here; a source file holds one",
                        self._at(event),
                        hints=("take the line '---' away, or put what follows into a file of its own",),
                    )
            elif isinstance(event, yaml.NodeEvent):
                node = self._node(event, 1)
                root = node if documents == 1 else root
        if root is None or (isinstance(root, Scalar) and root.start == root.end):
            only_comments = "#" in self.text
            self._say(
                "empty-file",
                "the file holds only comments" if only_comments else "the file is empty",
                Position(self.file, 1, 1),
                hints=("write what belongs in it, or delete the file; 'spannerleaf new' writes a file to start from",),
            )
            return None
        return root

    def _node(self, event: yaml.NodeEvent, depth: int) -> Node:
        at = self._at(event)
        self._nodes += 1
        if self._nodes > _MOST_NODES:
            message = f"the file holds more than {_MOST_NODES:,} values"
            hint = "split it into several files"
            raise _Enough(Diagnostic(rule="too-large", message=message, at=at, hints=(hint,)))
        if depth > _DEEPEST:
            message = f"values are nested more than {_DEEPEST} levels deep"
            raise _Enough(Diagnostic(rule="syntax", message=message, at=at))
        if isinstance(event, yaml.AliasEvent):
            self._say(
                "alias",
                f"'*{event.anchor}' is a YAML alias, which source files do not use",
                at,
                hints=(
                    "write the value out again; steps that guides share belong in a procedure",
                    "a text that begins with '*' must stand in quotes",
                ),
            )
            return Scalar(f"*{event.anchor}", at, *_span(event))
        if event.anchor is not None:
            self._say(
                "anchor",
                f"'&{event.anchor}' is a YAML anchor, which source files do not use",
                at,
                hints=("take it away; a text that begins with '&' must stand in quotes",),
            )
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event, at)
        assert isinstance(event, yaml.CollectionStartEvent)
        self._refuse_tag(event, at)
        if isinstance(event, yaml.SequenceStartEvent):
            return self._listing(at, depth)
        if self.text.startswith("{{", _span(event)[0]):
            return self._unquoted_value(event, at)
        return self._table(at, depth)

    def _scalar(self, event: yaml.ScalarEvent, at: Position) -> Scalar:
        text: str = event.value
        self._refuse_tag(event, at)
        start, end = _span(event)
        if event.implicit[0] and text:
            trap = trap_of(text)
            if trap is not None:
                self._say(
                    "yaml-trap",
                    f"'{text}' without quotes is taken for {trap.taken_for}",
                    at,
                    hints=(f"write {trap.instead}",),
                )
            self._look_for_cut_text(event)
        if len(text) > _LONGEST_TEXT:
            self._say(
                "too-large",
                f"this text is longer than {_LONGEST_TEXT:,} characters",
                at,
                hints=("split it; a step holds a sentence or two",),
            )
            return Scalar(text[:_SHOWN], at, start, min(end, start + _SHOWN))
        hidden = hidden_in(text)
        if hidden:
            self._say(
                "control-character",
                f"the character U+{ord(hidden):04X} can not be seen and is not allowed",
                at,
                hints=("take the escape out of the quotes",),
            )
            text = without_hidden(text)
        return Scalar(text, at, start, end)

    def _look_for_cut_text(self, event: yaml.ScalarEvent) -> None:
        """A plain text ends at ' #', which cuts 'bike #3' short without a word."""
        _, mark = _marks(event)
        line = self.lines[mark.line] if mark.line < len(self.lines) else ""
        rest = line[mark.column :]
        if rest[:1] == " " and rest.lstrip(" ")[:1] == "#" and rest.lstrip(" ")[1:2].isalnum():
            column = mark.column + len(rest) - len(rest.lstrip(" "))
            self._say(
                "comment-cuts-text",
                "' #' begins a comment, so that the text ends before it",
                Position(self.file, mark.line + 1, column + 1, len(line) - column),
                hints=("put the whole text in quotes; a comment is written with a space behind the '#'",),
                gravity=Gravity.WARNING,
            )

    def _unquoted_value(self, event: yaml.CollectionStartEvent, at: Position) -> Scalar:
        """A text that begins with `{{ name }}`: YAML takes its braces for brackets in brackets."""
        open_brackets = 1
        last: yaml.Event = event
        while open_brackets:
            last = next(self._events)
            if isinstance(last, yaml.CollectionStartEvent):
                open_brackets += 1
            elif isinstance(last, yaml.CollectionEndEvent):
                open_brackets -= 1
        self._say("syntax", _BRACES, at, hints=(_QUOTE_BRACES,))
        return Scalar("{{", at, _span(event)[0], _span(last)[1])

    def _listing(self, at: Position, depth: int) -> Listing:
        items: list[Node] = []
        for event in self._events:
            if isinstance(event, yaml.SequenceEndEvent):
                break
            assert isinstance(event, yaml.NodeEvent)
            item = self._node(event, depth + 1)
            if isinstance(item, Scalar) and item.start == item.end:
                self._say(
                    "empty-value",
                    "an item of this list is empty",
                    item.at,
                    hints=("write the item behind the '- ', or take the line away",),
                )
            items.append(item)
        return Listing(tuple(items), at)

    def _table(self, at: Position, depth: int) -> Table:
        entries: dict[str, Entry] = {}
        for event in self._events:
            if isinstance(event, yaml.MappingEndEvent):
                break
            assert isinstance(event, yaml.NodeEvent)
            key = self._node(event, depth + 1)
            value_event = next(self._events)
            assert isinstance(value_event, yaml.NodeEvent)
            value = self._node(value_event, depth + 1)
            if not isinstance(key, Scalar):
                self._say(
                    "syntax",
                    "a key must be plain text, but brackets stand here",
                    key.at,
                    hints=("a text that begins with '{' or '[' must stand in quotes",),
                )
            elif key.text == "<<":
                self._say(
                    "merge-key",
                    "'<<' is a YAML merge key, which source files do not use",
                    key.at,
                    hints=("write the keys out; steps that guides share belong in a procedure",),
                )
            elif key.text in entries:
                self._say(
                    "duplicate-key",
                    f"the key '{key.text}' stands here twice",
                    key.at,
                    hints=("keep one of the two; a YAML reader would silently take the second",),
                    related=((entries[key.text].key.at, "it stands first here"),),
                )
            else:
                entries[key.text] = Entry(key, self._filled(key, value))
        return Table(entries, at)

    def _filled(self, key: Scalar, value: Node) -> Node:
        """The value, or an empty text at the key's place where nothing is written behind the key."""
        if not isinstance(value, Scalar) or value.start != value.end:
            return value
        if not key.text:
            self._say("empty-value", "a key is missing before the ':'", key.at)
        elif self.text[key.end : value.start + 1].lstrip(" ").startswith(":"):
            self._say(
                "empty-value",
                f"the key '{key.text}' has no value",
                key.at,
                hints=("write the value behind the ':', or take the key away",),
            )
        else:
            self._say(
                "empty-value",
                f"'{key.text}' stands without a value",
                key.at,
                hints=("a text that holds a comma must stand in quotes inside { }",),
            )
        return Scalar("", key.at, value.start, value.end)

    def _refuse_tag(self, event: yaml.ScalarEvent | yaml.CollectionStartEvent, at: Position) -> None:
        if event.tag is not None:
            self._say(
                "tag",
                f"'{self._written_tag(event)}' is a YAML tag, which source files do not use",
                at,
                hints=("take it away; a text that begins with '!' must stand in quotes",),
            )

    def _written_tag(self, event: yaml.Event) -> str:
        start, _ = _span(event)
        return next((word for word in self.text[start:].split(maxsplit=4)[:4] if word.startswith("!")), "!")

    def _at(self, event: yaml.Event) -> Position:
        """The place of a node: as long as the node where it ends on its first line, else to the end of that line."""
        start, end = _marks(event)
        if start.line == end.line:
            length = end.column - start.column
        else:
            length = len(self.lines[start.line].rstrip()) - start.column
        return Position(self.file, start.line + 1, start.column + 1, max(length, 1))

    def _say(
        self,
        rule: str,
        message: str,
        at: Position,
        *,
        hints: tuple[str, ...] = (),
        related: tuple[tuple[Position, str], ...] = (),
        gravity: Gravity = Gravity.ERROR,
    ) -> None:
        if len(self.found) >= _MOST_SAID:
            message = f"the file has more than {_MOST_SAID} mistakes; what follows is not read"
            raise _Enough(Diagnostic(rule="too-many", message=message, at=at, hints=("mend those above first",)))
        self.found.append(Diagnostic(rule=rule, message=message, at=at, hints=hints, related=related, gravity=gravity))


def _marks(event: yaml.Event) -> tuple[_Mark, _Mark]:
    start, end = event.start_mark, event.end_mark
    assert start is not None
    assert end is not None
    return start, end


def _span(event: yaml.Event) -> tuple[int, int]:
    start, end = _marks(event)
    return start.index, end.index
