"""Pages that are laid out, written as PDF once and taken apart into pieces, one a page.

A piece must come out the same whatever was laid out beside it. So the names of its resources are its own, the widths
of letters are those of the face at any size, and which glyphs it shows is seen while it is painted.
"""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from builder.printing.block_facts import facts_of
from builder.printing.laid_out import PT_PER_PX
from builder.printing.lost import lost_letters
from builder.printing.open_places import Slot
from builder.printing.opened_pages import OpenSheet, hide, read_slots
from builder.printing.overflow import Overflow, overflows
from builder.printing.pdf_text import PT_PER_MM, packed_stream
from builder.printing.piece import Open, Part, Piece, packed_sheet
from builder.printing.sheet import Ground, Sheet
from builder.printing.tagging import MARK, VARIANT, true_tags
from builder.printing.typeface import Faces, Typeface

_NAMED = re.compile(rb"/([A-Za-z][\w.+-]*)")
_RESOURCES = ("/ExtGState", "/XObject", "/Pattern", "/Shading", "/ColorSpace")


@dataclass(frozen=True, slots=True)
class _Shown:
    """What a page showed as it was painted: the glyphs of each face, and the letters that no face has.

    `marks` are the numbers of what is marked in its open places, where anything is.
    """

    letters: Mapping[str, Mapping[int, str]]
    lost: tuple[str, ...]
    marks: tuple[int, ...]


def pieces_of(
    document: Any,
    pages: Sequence[Any],
    heights_mm: Sequence[float],
    *,
    tagged: bool,
    known: Callable[[str], Typeface | None] = lambda _: None,
) -> tuple[list[Piece], dict[str, Typeface]]:
    """A piece for each of some pages of a document that is laid out, and the faces that they use, by name.

    Args:
        document: WeasyPrint's.
        pages: those of its pages that become pieces.
        heights_mm: how high the block on each page is [mm]; the piece is cut there.
        tagged: whether the pieces carry structure; bands do not.
        known: gives a face that was read before, by its name.
    """
    import pikepdf

    faces = Faces(known)
    shown: list[_Shown] = []
    seen = [read_slots(page) for page in pages]
    beyond = [overflows([page]) for page in pages]
    writable = document.copy(list(pages))
    writable.fonts = faces
    for page, here in zip(pages, seen, strict=True):
        page.paint = partial(_watched, page.paint, faces, here.stand_ins, shown)
        hide(here.stand_ins)
    data = writable.write_pdf(pdf_variant=VARIANT if tagged else None, uncompressed_pdf=True)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        true_tags(pdf)
        elements, marks = _elements_by_page(pdf), _marks_by_page(pdf)
        written = [
            _taken_out(page, high, elements.get(page.obj.objgen, []), marks.get(number, []), (here.slots, ink.marks))
            for number, (page, high, here, ink) in enumerate(zip(pdf.pages, heights_mm, seen, shown, strict=True))
        ]
    return [
        _piece(here, height, over, painted, taken, is_side=not tagged)
        for here, height, over, painted, taken in zip(seen, heights_mm, beyond, shown, written, strict=True)
    ], faces.named


def _piece(
    here: OpenSheet, height_mm: float, beyond: tuple[Overflow, ...], painted: _Shown, taken: _Taken, *, is_side: bool
) -> Piece:
    sheet, judged = (_cut(one, height_mm * PT_PER_MM) for one in (here.sheet, here.judged))
    kept = packed_sheet(sheet)
    return Piece(
        width_pt=sheet.width_pt,
        height_pt=sheet.height_pt,
        block_mm=height_mm,
        kept_sheet=kept,
        facts=facts_of(sheet, hashlib.sha256(kept).digest(), is_side=is_side, judged=judged),
        overflows=beyond,
        letters=painted.letters,
        lost=painted.lost,
        objects=taken.objects,
        elements=taken.tops,
        marked=taken.marked,
        slots=tuple(replace(slot, element=taken.alternatives.get(number, 0)) for number, slot in enumerate(here.slots)),
    )


def _cut(sheet: Sheet, height_pt: float) -> Sheet:
    """What stands on a page that is cut below its block: the ground of the page itself ends there."""

    def whole(one: Ground) -> bool:
        return one.top <= 0 and one.x0 <= 0 and one.x1 >= sheet.width_pt - 0.01 and one.bottom >= height_pt - 0.01

    grounds = tuple(replace(one, bottom=height_pt) if whole(one) else one for one in sheet.grounds)
    return replace(sheet, number=1, grounds=grounds)


def _watched(
    paint: Any, faces: Faces, stand_ins: Sequence[Any], shown: list[_Shown], stream: Any, scale: float = 1
) -> None:
    """Paint a page and note the glyphs that it shows; every page begins as if it were the first."""
    faces.forget_shown()
    with lost_letters() as lost:
        paint(stream, scale)
    seen = faces.shown()
    # Without glyphs in use no face is cut for a file that is taken apart anyway.
    faces.forget_shown()
    marks = () if stream._tags is None else tuple(stream._tags[box]["mcid"] for box in stand_ins)
    shown.append(_Shown(seen, tuple(lost), marks))


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


@dataclass(frozen=True, slots=True)
class _Taken:
    """A page as the objects of a piece, the elements among them that stand below the document, and what is marked.

    `alternatives` are the objects that say what a code stands for, by the number of its slot.
    """

    objects: tuple[tuple[Part, ...], ...]
    tops: tuple[int, ...]
    marked: tuple[int | None, ...]
    alternatives: Mapping[int, int]


def _taken_out(
    page: Any,
    height_mm: float,
    elements: Sequence[Any],
    marks: Sequence[Any],
    places: tuple[Sequence[Slot], Sequence[int]],
) -> _Taken:
    """Take a page out of its document; `places` are its open ones, and the numbers that they are marked by."""
    slots, marked = places
    width, height = float(page.mediabox[2]), float(page.mediabox[3])
    content, resources = _own_names(page.Contents.read_bytes(), page.obj.Resources)
    content = _with_words(content, bool(slots), marked, height)
    codes = {mark: number for number, (slot, mark) in enumerate(zip(slots, marked, strict=False)) if slot.is_code}
    forms = len(marked) or min(len(slots), 1)
    writer = _Writer(page.obj.Resources.get("/Font"), forms, codes)
    head: list[Part] = [
        b"<</Type/XObject/Subtype/Form/BBox[0 %.3f %.3f %.3f]" % (height - height_mm * PT_PER_MM - 1, width, height)
    ]
    if elements:
        head += [b"/StructParents ", Open.KEY]
    head.append(b"/Resources<<")
    if slots:
        resources.setdefault("/XObject", {})
    for kind, named in resources.items():
        head.append(kind.encode() + b"<<")
        for name, thing in named.items():
            head += [name + b" ", *writer.value(thing)]
        if kind == "/XObject":
            for number in range(forms):
                head += [b"/W%d " % number, number + 1]
        head.append(b">>")
    writer.objects[0] = (*head, b"/Font ", Open.FACES, b">>", packed_stream(content))
    tops = tuple(writer.element(element, Open.DOCUMENT) for element in elements)
    found = tuple(None if one is None else writer.numbers.get(one.objgen) for one in marks)
    return _Taken(tuple(writer.objects), tops, found, writer.alternatives)


def _with_words(content: bytes, is_open: bool, marked: Sequence[int], height_pt: float) -> bytes:
    """The content of a page that shows what will be set in its open places: each where it is marked, or all at last."""
    if not is_open:
        return content
    if not marked:
        return b"q\n%s\nQ\nq %g 0 0 %g 0 %.3f cm /W0 Do Q" % (content, PT_PER_PX, -PT_PER_PX, height_pt)
    numbers = {mark: number for number, mark in enumerate(marked)}

    def shown_too(found: re.Match[bytes]) -> bytes:
        number = numbers.get(int(found[2]))
        return found[0] if number is None else b"%s\n/W%d Do" % (found[0], number)

    return MARK.sub(shown_too, content)


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

    def __init__(self, fonts: Any, forms: int, codes: Mapping[int, int]) -> None:
        # After the form come those of what is set in its open places.
        self.objects: list[tuple[Part, ...]] = [()] * (1 + forms)
        self.numbers: dict[tuple[int, int], int] = {}
        self.alternatives: dict[int, int] = {}
        self._codes = codes
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
        code = next((self._codes.get(int(kid)) for kid in element.get("/K", ()) if isinstance(kid, int)), None)
        if code is not None:
            self.alternatives[code] = number
            parts += [b"/Alt", Open.ALTERNATIVE]
        elif "/Alt" in element:
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
