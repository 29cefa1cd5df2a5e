"""Pages that are laid out, written as PDF once and taken apart into pieces, one a page.

A piece must come out the same whatever was laid out beside it. So the names of its resources are its own, the widths
of letters are those of the face at any size, and which glyphs it shows is seen while it is painted.
"""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from builder.printing.block_facts import facts_of
from builder.printing.laid_out import sheets_of
from builder.printing.lost import lost_letters
from builder.printing.overflow import overflows
from builder.printing.pdf_text import PT_PER_MM, packed_stream
from builder.printing.piece import Open, Part, Piece, packed_sheet
from builder.printing.sheet import Ground, Sheet
from builder.printing.tagging import VARIANT, true_tags
from builder.printing.typeface import Typeface, typeface_of

_NAMED = re.compile(rb"/([A-Za-z][\w.+-]*)")
_RESOURCES = ("/ExtGState", "/XObject", "/Pattern", "/Shading", "/ColorSpace")


@dataclass(frozen=True, slots=True)
class _Shown:
    """What a page showed as it was painted: the glyphs of each face, and the letters that no face has."""

    letters: Mapping[str, Mapping[int, str]]
    lost: tuple[str, ...]


def pieces_of(
    document: Any, pages: Sequence[Any], heights_mm: Sequence[float], *, tagged: bool
) -> tuple[list[Piece], dict[str, Typeface]]:
    """A piece for each of some pages of a document that is laid out, and the faces that they use, by name.

    Args:
        document: WeasyPrint's.
        pages: those of its pages that become pieces.
        heights_mm: how high the block on each page is [mm]; the piece is cut there.
        tagged: whether the pieces carry structure; bands do not.
    """
    import pikepdf

    faces = _Faces()
    shown: list[_Shown] = []
    writable = document.copy(list(pages))
    writable.fonts = faces
    for page in pages:
        page.paint = partial(_watched, page.paint, faces, shown)
    data = writable.write_pdf(pdf_variant=VARIANT if tagged else None, uncompressed_pdf=True)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        true_tags(pdf)
        elements, marks = _elements_by_page(pdf), _marks_by_page(pdf)
        written = [
            _taken_out(page, height, elements.get(page.obj.objgen, []), marks.get(number, []))
            for number, (page, height) in enumerate(zip(pdf.pages, heights_mm, strict=True))
        ]
    sheets = [_cut(sheet, height * PT_PER_MM) for sheet, height in zip(sheets_of(pages), heights_mm, strict=True)]
    pieces = [
        Piece(
            width_pt=sheet.width_pt,
            height_pt=sheet.height_pt,
            block_mm=height,
            kept_sheet=kept,
            facts=facts_of(sheet, hashlib.sha256(kept).digest(), is_side=not tagged),
            overflows=overflows([page]),
            letters=seen.letters,
            lost=seen.lost,
            objects=objects,
            elements=tops,
            marked=marked,
        )
        for page, sheet, kept, height, seen, (objects, tops, marked) in zip(
            pages, sheets, map(packed_sheet, sheets), heights_mm, shown, written, strict=True
        )
    ]
    return pieces, faces.named


def _cut(sheet: Sheet, height_pt: float) -> Sheet:
    """What stands on a page that is cut below its block: the ground of the page itself ends there."""

    def whole(one: Ground) -> bool:
        return one.top <= 0 and one.x0 <= 0 and one.x1 >= sheet.width_pt - 0.01 and one.bottom >= height_pt - 0.01

    grounds = tuple(replace(one, bottom=height_pt) if whole(one) else one for one in sheet.grounds)
    return replace(sheet, number=1, grounds=grounds)


class _Faces(dict[Any, Any]):
    """The fonts of a document as it is painted; each is given the widths of its face when it comes."""

    def __init__(self) -> None:
        super().__init__()
        self.named: dict[str, Typeface] = {}

    def __setitem__(self, key: Any, font: Any) -> None:
        face = self.named.get(font.hash)
        if face is None:
            face = self.named[font.hash] = typeface_of(font)
        font.widths = dict(enumerate(face.widths))
        super().__setitem__(key, font)


def _watched(paint: Any, faces: _Faces, shown: list[_Shown], stream: Any, scale: float = 1) -> None:
    """Paint a page and note the glyphs that it shows; every page begins as if it were the first."""
    for font in faces.values():
        font.to_unicode.clear()
    with lost_letters() as lost:
        paint(stream, scale)
    seen: dict[str, dict[int, str]] = {}
    for font in faces.values():
        if font.to_unicode:
            seen.setdefault(font.hash, {}).update(font.to_unicode)
        # Without glyphs in use no face is cut for a file that is taken apart anyway.
        font.to_unicode.clear()
    shown.append(_Shown(seen, tuple(lost)))


def _elements_by_page(pdf: Any) -> dict[tuple[int, int], list[Any]]:
    root = pdf.Root.get("/StructTreeRoot")
    found: dict[tuple[int, int], list[Any]] = {}
    for element in root.K[0].K if root is not None else ():
        found.setdefault(element.Pg.objgen, []).append(element)
    return found


def _marks_by_page(pdf: Any) -> dict[int, list[Any]]:
    root = pdf.Root.get("/StructTreeRoot")
    if root is None:
        return {}
    nums = root.ParentTree.Nums
    return {int(nums[at]): list(nums[at + 1]) for at in range(0, len(nums), 2)}


def _taken_out(
    page: Any, height_mm: float, elements: Sequence[Any], marks: Sequence[Any]
) -> tuple[tuple[tuple[Part, ...], ...], tuple[int, ...], tuple[int | None, ...]]:
    """A page as the objects of a piece, the elements among them that stand below the document, and what is marked."""
    width, height = float(page.mediabox[2]), float(page.mediabox[3])
    content, resources = _own_names(page.Contents.read_bytes(), page.obj.Resources)
    writer = _Writer(page.obj.Resources.get("/Font"))
    head: list[Part] = [
        b"<</Type/XObject/Subtype/Form/BBox[0 %.3f %.3f %.3f]" % (height - height_mm * PT_PER_MM - 1, width, height)
    ]
    if elements:
        head += [b"/StructParents ", Open.KEY]
    head.append(b"/Resources<<")
    for kind, named in resources.items():
        head.append(kind.encode() + b"<<")
        for name, thing in named.items():
            head += [name + b" ", *writer.value(thing)]
        head.append(b">>")
    writer.objects[0] = (*head, b"/Font ", Open.FACES, b">>", packed_stream(content))
    tops = tuple(writer.element(element, Open.DOCUMENT) for element in elements)
    marked = tuple(None if one is None else writer.numbers.get(one.objgen) for one in marks)
    return tuple(writer.objects), tops, marked


def _own_names(content: bytes, resources: Any) -> tuple[bytes, dict[str, dict[bytes, Any]]]:
    """A page's content, and the resources that it names, under names in the order of their coming."""
    said = dict.fromkeys(_NAMED.findall(content))
    new: dict[bytes, bytes] = {}
    named: dict[str, dict[bytes, Any]] = {}
    for kind in _RESOURCES:
        here = resources.get(kind, {})
        for name in said:
            thing = here.get("/" + name.decode("ascii"))
            if thing is not None:
                new[name] = b"R%d" % len(new)
                named.setdefault(kind, {})[b"/" + new[name]] = thing
    return _NAMED.sub(lambda found: b"/" + new.get(found[1], found[1]), content), named


class _Writer:
    """Writes what a page reaches as objects of a piece; the first is kept for its form."""

    def __init__(self, fonts: Any) -> None:
        self.objects: list[tuple[Part, ...]] = [()]
        self.numbers: dict[tuple[int, int], int] = {}
        self._fonts = None if fonts is None else fonts.objgen

    def value(self, thing: Any) -> Iterator[Part]:
        """A value within an object: itself, or the number of the object that it is."""
        import pikepdf

        if isinstance(thing, pikepdf.Object) and thing.is_indirect:
            if thing.objgen == self._fonts:
                yield Open.FACES
            else:
                yield self._number(thing)
        else:
            yield from self._direct(thing)

    def element(self, element: Any, parent: Part) -> int:
        """Write an element of structure with all below it: its number."""
        number = self.numbers[element.objgen] = len(self.objects)
        self.objects.append(())
        parts: list[Part] = [b"<</Type/StructElem/S%s/P " % str(element.S).encode(), parent, b"/Pg ", Open.SIDE]
        if "/Alt" in element:
            parts += [b"/Alt", *self._direct(element.Alt)]
        if "/A" in element:
            parts += [b"/A", *self._attributes(element.A)]
        parts.append(b"/K[")
        for kid in element.get("/K", ()):
            if not isinstance(kid, int):
                parts += [self.element(kid, number), b" "]
            else:
                parts += [b"<</Type/MCR/Pg ", Open.SIDE, b"/Stm ", 0, b"/MCID %d>>" % int(kid)]
        self.objects[number] = (*parts, b"]>>")
        return number

    def _attributes(self, attributes: Any) -> Iterator[Part]:
        """What an element says of itself; where it stands is told by the side."""
        yield b"<<"
        yield from self._entries({key: value for key, value in attributes.items() if key != "/BBox"})
        if "/BBox" in attributes:
            left, bottom, right, top = (float(edge) for edge in attributes.BBox)
            yield b"/BBox"
            yield (left, bottom, right, top)
        yield b">>"

    def _number(self, thing: Any) -> int:
        """The number of an object of its own; it is written when it is first met."""
        import pikepdf

        known = self.numbers.get(thing.objgen)
        if known is not None:
            return known
        number = self.numbers[thing.objgen] = len(self.objects)
        self.objects.append(())
        if isinstance(thing, pikepdf.Stream):
            entries = {key: value for key, value in thing.items() if key not in ("/Length", "/Filter", "/DecodeParms")}
            image = thing.get("/Subtype") == "/Image"
            body = self._raw(thing) if image else (packed_stream(thing.read_bytes()),)
            self.objects[number] = (b"<<", *self._entries(entries), *body)
        else:
            self.objects[number] = tuple(self._direct(thing))
        return number

    def _raw(self, image: Any) -> Iterator[Part]:
        """An image stays packed as it is."""
        data = image.read_raw_bytes()
        for key in ("/Filter", "/DecodeParms"):
            if key in image:
                yield key.encode() + b" "
                yield from self.value(image[key])
        yield b"/Length %d>>stream\n%s\nendstream" % (len(data), data)

    def _direct(self, thing: Any) -> Iterator[Part]:
        import pikepdf

        if isinstance(thing, pikepdf.Dictionary):
            yield b"<<"
            yield from self._entries(dict(thing.items()))
            yield b">>"
        elif isinstance(thing, pikepdf.Array):
            yield b"["
            for one in thing:
                yield from self.value(one)
                yield b" "
            yield b"]"
        elif isinstance(thing, pikepdf.Object):
            yield thing.unparse()
        elif isinstance(thing, bool):
            yield b"true" if thing else b"false"
        else:
            yield str(thing).encode("ascii")

    def _entries(self, entries: Mapping[str, Any]) -> Iterator[Part]:
        for key, value in entries.items():
            yield key.encode() + b" "
            yield from self.value(value)
