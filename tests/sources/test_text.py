"""From bytes to text: encodings, tabs and signs that no source may hold."""

from __future__ import annotations

import textwrap

import pytest

from builder.diagnostics.rendering import as_text
from builder.sources.text import decode, lines_of, place_in
from builder.sources.yaml_tree import read_tree

BYTES = [
    (
        "latin-1",
        "name: Vélo\ntag: S-2\n".encode("latin-1"),
        """\
        bike.yaml:1:8: error: the file is not UTF-8: the byte 0xE9 stands for no character
            1 | name: V\ufffdlo
              |        ^ 'é' in the older Western European encoding
           = save it again as UTF-8; many editors offer this beside the file's name as 'encoding'
        """,
    ),
    (
        "utf-8 with a byte order mark",
        "\ufeffname: Coot\n".encode(),
        """\
        bike.yaml:1:1: warning: the file begins with a byte order mark, which UTF-8 does not need
            1 | name: Coot
              | ^
           = save it as 'UTF-8' and not as 'UTF-8 with BOM'
        """,
    ),
    (
        "utf-16",
        "name: Coot\n".encode("utf-16"),
        """\
        bike.yaml:1:1: error: the file is not UTF-8; it begins like UTF-16
           = save it again as UTF-8; many editors offer this beside the file's name as 'encoding'
        """,
    ),
    (
        "a control character",
        b"name: Coot\ntag: S\x002\n",
        """\
        bike.yaml:2:7: error: the character U+0000 can not be seen and is not allowed
            2 | tag: S\ufffd2
              |       ^
           = take it out, or type the line again; is this a text file at all?
        """,
    ),
    (
        "tabs in many lines",
        b"a: 1\n" + b"b:\t1\n" * 12,
        """\
        bike.yaml:2:3: error: a tab stands in this line
            2 | b:    1
              |   ^^^^
           = write spaces instead, two for each level; most editors can be set to do so
           = tabs stand in lines 3, 4, 5, 6, 7, 8, 9, 10 and 3 more too
        bike.yaml:3:1: error: the key 'b' stands here twice
            3 | b:    1
              | ^
           = it stands first here  (bike.yaml:2)
           = keep one of the two; a YAML reader would silently take the second
        """,
    ),
]


@pytest.mark.parametrize(("raw", "said"), [case[1:] for case in BYTES], ids=[case[0] for case in BYTES])
def test_bytes_that_are_no_clean_text_are_told(raw: bytes, said: str) -> None:
    tree = read_tree(decode("bike.yaml", raw))
    texts = {tree.file: tree.text}
    text = "".join(f"{as_text(diagnostic, texts)}\n" for diagnostic in tree.diagnostics[:2])
    assert text == textwrap.dedent(said)


def test_the_rest_of_a_file_with_a_wrong_byte_is_read_all_the_same() -> None:
    tree = read_tree(decode("bike.yaml", "name: Vélo\ntag: no\n".encode("latin-1")))
    assert [diagnostic.rule for diagnostic in tree.diagnostics] == ["encoding", "yaml-trap"]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r", "\x85", "\u2028"])
def test_lines_are_counted_as_a_yaml_reader_counts_them(end: str) -> None:
    text = f"a: 1{end}b: no{end}"
    trap = read_tree(decode("x.yaml", text.encode())).diagnostics[-1]
    assert (trap.at.line, trap.at.column) == (2, 4)
    assert lines_of(text)[1] == "b: no"
    assert place_in("x.yaml", text, text.index("no")).line == 2
