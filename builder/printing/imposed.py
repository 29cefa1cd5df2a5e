"""Put the pieces of a card on its sides, in one tagged PDF.

    pieces, with the place of each ─► their objects with the numbers filled in ─► one file, its faces embedded once

Each piece is a form XObject on its side. What the tags say of a piece came with it; content that is marked within a
form is named by side and form (ISO 32000-1, 14.7.4.3). The bands are artifacts.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

from builder.printing.pdf_text import packed_stream, text_string
from builder.printing.piece import Box, Open, Part, Piece
from builder.printing.tagging import PAGINATION
from builder.printing.typeface import Typeface

# The objects that every card has, before those of its sides and pieces.
_CATALOG, _PAGES, _ROOT, _DOCUMENT, _PARENTS, _METADATA, _INFO, _OUTLINES, _FACES = range(1, 10)
_OBJECTS_OF_A_FACE = 5
_OBJECTS_IN_A_STREAM = 200
# ISO 16684-1, with the claim of ISO 14289-1, clause 5.
_XMP = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" xmlns:dc="http://purl.org/dc/elements/1.1/">
<pdfuaid:part>1</pdfuaid:part>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="w"?>"""


@dataclass(frozen=True, slots=True)
class Put:
    """A piece on a side, from 0, with its upper left corner so far from that of the side [pt]."""

    piece: Piece
    side: int
    left_pt: float
    top_pt: float


@dataclass(frozen=True, slots=True)
class _Move:
    """How a piece comes to its side: shifted [pt], then enlarged."""

    x_pt: float
    y_pt: float
    scale: float

    def box(self, box: Box) -> bytes:
        """A box of the piece as it stands on the side."""
        left, bottom, right, top = box
        edges = (left + self.x_pt, bottom + self.y_pt, right + self.x_pt, top + self.y_pt)
        return b"[%.2f %.2f %.2f %.2f]" % tuple(self.scale * edge for edge in edges)


@dataclass(frozen=True, slots=True, kw_only=True)
class PdfName:
    """What a PDF says of itself. `bookmarks` are titles with the side that each stands on, from 0."""

    title: str
    author: str
    creator: str
    language: str
    bookmarks: tuple[tuple[str, int], ...] = ()


def imposed(
    bands: Sequence[Piece],
    placed: Sequence[Put],
    faces: Mapping[str, Typeface],
    name: PdfName,
    *,
    scale: float = 1.0,
) -> bytes:
    """The PDF of the sides: `bands` has a piece a side, as large as the side, on which the others are put.

    A side that was laid out whole stands in it with nothing put on it; then it bears its own bands.

    Everything is printed `scale` times larger than it was laid out.
    """
    whole = (*(Put(piece, side, 0.0, 0.0) for side, piece in enumerate(bands)), *placed)
    objects: dict[int, bytes] = {}
    sides = [_FACES + 1 + 2 * side for side in range(len(bands))]
    first = _FACES + 1 + 2 * len(bands)
    forms: list[int] = []
    tops: list[int] = []
    parents: list[bytes] = []
    for key, put in enumerate(whole):
        forms.append(first)
        move = _Move(put.left_pt, bands[put.side].height_pt - put.top_pt - put.piece.height_pt, scale)
        for number, parts in enumerate(put.piece.objects, first):
            objects[number] = b"".join(_filled(parts, first, sides[put.side], key, move))
        tops += [first + number for number in put.piece.elements]
        if put.piece.marked:
            row = b" ".join(b"null" if one is None else b"%d 0 R" % (first + one) for one in put.piece.marked)
            parents.append(b"%d[%s]" % (key, row))
        first += len(put.piece.objects)
    for side, number in enumerate(sides):
        here = [(key, put) for key, put in enumerate(whole) if put.side == side]
        objects.update(_side(number, bands[side], [(forms[key], put) for key, put in here], scale))
    used = _used(whole)
    named = []
    for face, glyphs in used.items():
        named.append(b"/%s %d 0 R" % (face.encode(), first))
        objects.update(enumerate(faces[face].objects(first, glyphs), first))
        first += _OBJECTS_OF_A_FACE
    objects[_CATALOG] = (
        b"<</Type/Catalog/Pages %d 0 R/StructTreeRoot %d 0 R/MarkInfo<</Marked true>>/ViewerPreferences"
        b"<</DisplayDocTitle true>>/Metadata %d 0 R/Outlines %d 0 R/Lang(%s)>>"
        % (_PAGES, _ROOT, _METADATA, _OUTLINES, name.language.encode("ascii", "replace"))
    )
    objects.update(_bookmarks(name.bookmarks, sides, first))
    said_of = tuple(map(text_string, (name.title, name.author, name.creator)))
    objects[_INFO] = b"<</Title%s/Author%s/Creator%s>>" % said_of
    said = _XMP.format(title=escape(name.title), author=escape(name.author)).encode()
    objects[_METADATA] = b"<</Type/Metadata/Subtype/XML/Length %d>>stream\n%s\nendstream" % (len(said), said)
    objects[_PAGES] = b"<</Type/Pages/Count %d/Kids[%s]>>" % (len(sides), _references(sides))
    objects[_ROOT] = b"<</Type/StructTreeRoot/K[%d 0 R]/ParentTree %d 0 R/ParentTreeNextKey %d>>" % (
        _DOCUMENT,
        _PARENTS,
        len(whole),
    )
    objects[_DOCUMENT] = b"<</Type/StructElem/S/Document/P %d 0 R/K[%s]>>" % (_ROOT, _references(tops))
    objects[_PARENTS] = b"<</Nums[%s]>>" % b" ".join(parents)
    objects[_FACES] = b"<<%s>>" % b" ".join(named)
    return _file(objects)


def _filled(parts: Iterable[Part], first: int, side: int, key: int, move: _Move) -> Iterator[bytes]:
    """The text of an object with its open places filled in."""
    for part in parts:
        if isinstance(part, bytes):
            yield part
        elif isinstance(part, tuple):
            yield move.box(part)
        elif part >= 0:
            yield b"%d 0 R" % (first + part)
        elif part == Open.KEY:
            yield b"%d" % key
        else:
            yield b"%d 0 R" % {Open.SIDE: side, Open.DOCUMENT: _DOCUMENT, Open.FACES: _FACES}[Open(part)]


def _side(number: int, bands: Piece, here: Sequence[tuple[int, Put]], scale: float) -> dict[int, bytes]:
    """A page and its content: the bands first, as artifacts, then what is put on it."""
    drawn, named = [], []
    for at, (form, put) in enumerate(here):
        named.append(b"/G%d %d 0 R" % (at, form))
        y = bands.height_pt - put.top_pt - put.piece.height_pt
        shown = b"q 1 0 0 1 %.3f %.3f cm /G%d Do Q" % (put.left_pt, y, at)
        drawn.append(shown if put.piece.elements else b"%s %s EMC" % (PAGINATION, shown))
    larger = b"" if scale == 1.0 else b"%.5f 0 0 %.5f 0 0 cm\n" % (scale, scale)
    content = larger + b"\n".join(drawn)
    box = b"[0 0 %.3f %.3f]" % (bands.width_pt * scale, bands.height_pt * scale)
    return {
        number: b"<</Type/Page/Parent %d 0 R/MediaBox%s/TrimBox%s/Contents %d 0 R/Tabs/S/Resources<</XObject<<%s>>>>>>"
        % (_PAGES, box, box, number + 1, b" ".join(named)),
        number + 1: b"<</Length %d>>stream\n%s\nendstream" % (len(content), content),
    }


def _bookmarks(bookmarks: Sequence[tuple[str, int]], sides: Sequence[int], first: int) -> dict[int, bytes]:
    """Titles that lead to sides, as objects from the number `first` on: ISO 32000-1, 12.3.3."""
    numbers = range(first, first + len(bookmarks))
    ends = b"/First %d 0 R/Last %d 0 R" % (numbers[0], numbers[-1]) if numbers else b""
    found = {_OUTLINES: b"<</Type/Outlines/Count %d%s>>" % (len(bookmarks), ends)}
    for number, (title, side) in zip(numbers, bookmarks, strict=True):
        before = b"/Prev %d 0 R" % (number - 1) if number != numbers[0] else b""
        after = b"/Next %d 0 R" % (number + 1) if number != numbers[-1] else b""
        found[number] = b"<</Title%s/Parent %d 0 R%s%s/Dest[%d 0 R/Fit]>>" % (
            text_string(title),
            _OUTLINES,
            before,
            after,
            sides[side],
        )
    return found


def _used(whole: Iterable[Put]) -> dict[str, dict[int, str]]:
    """The glyphs in use of each face, in the order of the card; the first block to show one says what it stands for."""
    used: dict[str, dict[int, str]] = {}
    for put in whole:
        for face, glyphs in put.piece.letters.items():
            here = used.setdefault(face, {})
            for glyph, text in glyphs.items():
                here.setdefault(glyph, text)
    return used


def _references(numbers: Iterable[int]) -> bytes:
    return b" ".join(b"%d 0 R" % number for number in numbers)


def _file(objects: Mapping[int, bytes]) -> bytes:
    """Objects as a file: those without a stream packed together, and a table of where each is.

    ISO 32000-1, 7.5.7 (object streams) and 7.5.8 (cross-reference streams).
    """
    out = [b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"]
    length = len(out[0])
    where: dict[int, tuple[int, int, int]] = {0: (0, 0, 65535)}

    def put(number: int, text: bytes) -> None:
        nonlocal length
        where[number] = (1, length, 0)
        out.append(b"%d 0 obj\n%s\nendobj\n" % (number, text))
        length += len(out[-1])

    plain = [number for number in sorted(objects) if not objects[number].endswith(b"endstream")]
    for number in sorted(objects.keys() - set(plain)):
        put(number, objects[number])
    last = len(objects)
    for start in range(0, len(plain), _OBJECTS_IN_A_STREAM):
        last += 1
        packed = plain[start : start + _OBJECTS_IN_A_STREAM]
        put(last, _object_stream([(number, objects[number]) for number in packed]))
        where |= {number: (2, last, place) for place, number in enumerate(packed)}
    where[last + 1] = (1, length, 0)
    rows = b"".join(struct.pack(">BIH", *where[number]) for number in range(last + 2))
    table = b"<</Type/XRef/Size %d/W[1 4 2]/Root %d 0 R/Info %d 0 R%s" % (
        last + 2,
        _CATALOG,
        _INFO,
        packed_stream(rows),
    )
    return b"".join((*out, b"%d 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF\n" % (last + 1, table, length)))


def _object_stream(objects: Sequence[tuple[int, bytes]]) -> bytes:
    starts, length = [], 0
    for number, text in objects:
        starts.append(b"%d %d" % (number, length))
        length += len(text) + 1
    head = b" ".join(starts) + b"\n"
    body = head + b"\n".join(text for _, text in objects)
    return b"<</Type/ObjStm/N %d/First %d%s" % (len(objects), len(head), packed_stream(body))


def any_faces(pieces: Iterable[Piece]) -> Iterator[str]:
    """The name of every face that the pieces use, once each."""
    yield from dict.fromkeys(face for piece in pieces for face in piece.letters)
