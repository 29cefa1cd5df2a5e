"""A typeface as cards embed it: whole, so that pieces that were written apart share it.

The faces of a theme have been cut down to the letters that guides use, so that a whole one weighs some 15 kB. One that
the system lends for a letter that they lack may weigh a thousand times as much: it is cut to what a card shows.
"""

from __future__ import annotations

import copy
import io
import marshal
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from builder.printing.pdf_text import packed_stream

# What is larger is cut to the glyphs in use, which takes time at every card.
_SMALL_BYTES = 80_000
_MOST_IN_A_BATCH = 100  # of a CMap: PDF 32000-1, 9.10.3 with Adobe Technical Note 5014


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Typeface:
    """A face: its name in a PDF, what a PDF says of it, its file, and the width of each glyph [1/1000 em]."""

    name: str
    family: str
    flags: int
    ascent: int
    descent: int
    is_cff: bool
    file: bytes
    widths: tuple[int, ...]

    def objects(self, first: int, used: Mapping[int, str]) -> list[bytes]:
        """The face as five objects of a PDF from the number `first` on; the first of them is what text names.

        `used` are the glyphs that are shown and what each stands for.
        """
        data = self.file if len(self.file) <= _SMALL_BYTES else _cut(self.file, used)
        kind = b"/Subtype /OpenType" if self.is_cff else b"/Length1 %d" % len(data)
        name, highest = self.name.encode(), max((self.widths[glyph] for glyph in used if self._has(glyph)), default=0)
        return [
            b"<</Type/Font/Subtype/Type0/BaseFont/%s/Encoding/Identity-H/DescendantFonts[%d 0 R]/ToUnicode %d 0 R>>"
            % (name, first + 1, first + 4),
            b"<</Type/Font/Subtype/CIDFontType%d/BaseFont/%s/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)"
            b"/Supplement 0>>/CIDToGIDMap/Identity/W[%s]/FontDescriptor %d 0 R>>"
            % (0 if self.is_cff else 2, name, self._written_widths(used), first + 2),
            b"<</Type/FontDescriptor/FontName/%s/FontFamily%s/Flags %d/FontBBox[0 %d %d %d]/ItalicAngle 0/Ascent %d"
            b"/Descent %d/CapHeight %d/StemV 80/StemH 80/FontFile%d %d 0 R>>"
            % (
                name,
                b"(" + self.family.encode("ascii", "replace").translate(None, b"()\\") + b")",
                self.flags,
                self.descent,
                highest,
                self.ascent,
                self.ascent,
                self.descent,
                self.ascent,
                3 if self.is_cff else 2,
                first + 3,
            ),
            b"<<%s%s" % (kind, packed_stream(data)),
            b"<<%s" % packed_stream(_to_unicode(used)),
        ]

    def _has(self, glyph: int) -> bool:
        return glyph < len(self.widths)

    def _written_widths(self, used: Iterable[int]) -> bytes:
        return b" ".join(b"%d[%d]" % (glyph, self.widths[glyph]) for glyph in sorted(used) if self._has(glyph))


class Faces(dict[Any, Any]):
    """The fonts of a document as it is painted; each is given the widths of its face when it comes.

    `known` gives a face that was read before, by its name.
    """

    def __init__(self, known: Callable[[str], Typeface | None] = lambda _: None) -> None:
        super().__init__()
        self.named: dict[str, Typeface] = {}
        self._known = known

    def __setitem__(self, key: Any, font: Any) -> None:
        face = self.named.get(font.hash)
        if face is None:
            face = self.named[font.hash] = self._known(font.hash) or typeface_of(font)
        font.widths = dict(enumerate(face.widths))
        super().__setitem__(key, font)

    def forget_shown(self) -> None:
        """Begin as if no glyph had been shown."""
        for font in self.values():
            font.to_unicode.clear()

    def shown(self) -> dict[str, dict[int, str]]:
        """The glyphs of each face that were shown since, with the text that each stands for."""
        seen: dict[str, dict[int, str]] = {}
        for font in self.values():
            if font.to_unicode:
                seen.setdefault(font.hash, {}).update(font.to_unicode)
        return seen


def typeface_of(font: Any) -> Typeface:
    """The face of a font of the layout, before anything is cut from it; instances of variable faces become static."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    whole = copy.copy(font)
    whole.variations = dict(font.variations)
    # Everything that is needed to lay text out is done with, and goes.
    whole.clean(dict.fromkeys(range(font.glyph_count), ""), False)
    read = TTFont(io.BytesIO(whole.file_content), recalcTimestamp=False)
    if "fvar" in font.tables:  # what was made static bears the time at which it was
        read["head"].modified = read["head"].created
    scale = 1000 / read["head"].unitsPerEm
    advances, order = read["hmtx"].metrics, read.getGlyphOrder()
    return Typeface(
        name=font.name.decode("ascii", "replace").lstrip("/"),
        family=font.family,
        flags=font.flags,
        ascent=round(read["hhea"].ascent * scale),
        descent=round(read["hhea"].descent * scale),
        is_cff=whole.type == "otf",
        file=_saved(read) if "fvar" in font.tables else whole.file_content,
        widths=tuple(round(advances[name][0] * scale) for name in order),
    )


def packed(face: Typeface) -> bytes:
    """The face as bytes."""
    return marshal.dumps(tuple(getattr(face, name) for name in Typeface.__slots__))


def unpacked(data: bytes) -> Typeface:
    """The face that `packed` gave these bytes for; they are to come from a store that is sealed."""
    return Typeface(**dict(zip(Typeface.__slots__, marshal.loads(data), strict=True)))


def _cut(file: bytes, used: Iterable[int]) -> bytes:
    """The file of a face with the glyphs in use alone, under the numbers that they had."""
    from fontTools import subset  # type: ignore[import-untyped]
    from fontTools.ttLib import TTFont

    options = subset.Options(retain_gids=True, ignore_missing_glyphs=True, notdef_outline=True, hinting=False)
    font = TTFont(io.BytesIO(file), recalcTimestamp=False)
    count = font["maxp"].numGlyphs
    worker = subset.Subsetter(options)
    worker.populate(gids=[glyph for glyph in used if glyph < count])
    worker.subset(font)
    return _saved(font)


def _saved(font: Any) -> bytes:
    out = io.BytesIO()
    font.save(out, reorderTables=False)
    return out.getvalue()


def _to_unicode(used: Mapping[int, str]) -> bytes:
    """What each glyph stands for, as a CMap: ISO 32000-1, 9.10.3."""
    rows = [b"<%04x> <%s>" % (glyph, text.encode("utf-16-be").hex().encode()) for glyph, text in sorted(used.items())]
    batches = (rows[at : at + _MOST_IN_A_BATCH] for at in range(0, len(rows), _MOST_IN_A_BATCH))
    return b"\n".join(
        (
            b"/CIDInit /ProcSet findresource begin 12 dict begin begincmap",
            b"/CIDSystemInfo <</Registry(Adobe)/Ordering(UCS)/Supplement 0>> def",
            b"/CMapName /Adobe-Identity-UCS def /CMapType 2 def",
            b"1 begincodespacerange <0000> <ffff> endcodespacerange",
            *(b"%d beginbfchar\n%s\nendbfchar" % (len(batch), b"\n".join(batch)) for batch in batches),
            b"endcmap CMapName currentdict /CMap defineresource pop end end",
        )
    )
