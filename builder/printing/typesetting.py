"""Words set in the open places of a piece, by the printing library's own shaping and without a layout.

a piece with slots, the words of a card ─► the same piece with the words in it, or None where they don't fit
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from builder.printing.block_facts import Fill, filled_facts
from builder.printing.laid_out import PT_PER_PX, letters_of
from builder.printing.lost import lost_letters
from builder.printing.open_places import Slot, Words, in_lines
from builder.printing.pdf_text import packed_stream, text_string
from builder.printing.piece import Open, Part, Piece
from builder.printing.qr import rectangles
from builder.printing.typeface import Faces, Typeface

# As far as words of two lines must stay apart [px]: 1 mm.
_APART_PX = 3.8
_SLACK_PX = 0.05
_MOST_REMEMBERED = 4096
_Style = tuple[tuple[str, object], ...]


@dataclass(frozen=True, slots=True)
class _Run:
    """Words as they are set: how wide, the operators that show them, and the glyphs of each face."""

    width_px: float
    shown: bytes
    letters: dict[str, dict[int, str]]


class Typesetter:
    """Sets words in the faces of one font configuration; remembers what it has set.

    `known` gives a face that was read before, by its name; `put` is told each that is in use.
    """

    def __init__(self, fonts: Any, known: Callable[[str], Typeface | None], put: Callable[[str, Typeface], None]):
        self._fonts, self._put = fonts, put
        self._faces = Faces(known)
        self._runs: dict[tuple[_Style, str], _Run | None] = {}

    def filled(self, piece: Piece, words: Sequence[Words]) -> Piece | None:
        """The piece with words in its open places; None where they don't fit, or no face has a letter of them."""
        texts = [word.text for word in words]
        runs = [
            None if slot.is_code else self._run(slot.style, text) for slot, text in zip(piece.slots, texts, strict=True)
        ]
        if any(run is None and not slot.is_code for run, slot in zip(runs, piece.slots, strict=True)):
            return None
        lefts = _lefts(piece.slots, [0.0 if run is None else run.width_px for run in runs])
        if lefts is None:
            return None
        objects = list(piece.objects)
        fills: list[Fill] = []
        shown: list[bytes] = []
        letters = {face: dict(glyphs) for face, glyphs in piece.letters.items()}
        for number, (slot, text, run, left) in enumerate(zip(piece.slots, texts, runs, lefts, strict=True), 1):
            if run is None:
                objects[number] = _code_form(slot, text)
                objects[slot.element] = tuple(
                    text_string(text) if part == Open.ALTERNATIVE else part for part in objects[slot.element]
                )
                continue
            shown.append(_content(slot, left, run))
            if piece.elements:
                objects[number] = _form(piece, shown[-1])
            fills.append(_fill(slot, text, left, run))
            for face, glyphs in run.letters.items():
                here = letters.setdefault(face, {})
                for glyph, meant in glyphs.items():
                    here.setdefault(glyph, meant)
        if not piece.elements:
            objects[1] = _form(piece, b"\n".join(b"q %s Q" % one for one in shown))
        return replace(
            piece,
            objects=tuple(objects),
            fills=tuple(sorted(fills, key=lambda one: one.at)),
            facts=filled_facts(piece.facts, sorted(fills, key=lambda one: one.at)),
            letters=letters,
            slots=(),
        )

    def _run(self, style: _Style, text: str) -> _Run | None:
        key = (style, text)
        if key not in self._runs:
            if len(self._runs) >= _MOST_REMEMBERED:
                self._runs.clear()
            self._runs[key] = self._set(style, text)
        return self._runs[key]

    def _set(self, style: _Style, text: str) -> _Run | None:
        """Shape words; None where a letter has no glyph in any face."""
        if not text.strip():
            return _Run(0.0, b"", {})
        from weasyprint.draw.text import draw_first_line
        from weasyprint.matrix import Matrix
        from weasyprint.pdf.stream import Stream
        from weasyprint.text.line_break import Layout, line_size

        shaped = _Shaped(style, self._fonts)
        layout = Layout(shaped)
        layout.set_text(text)
        line, more = layout.get_first_line()
        width, _ = line_size(line, shaped)
        stream = Stream(self._faces, None, None, None, None, None, None)
        self._faces.forget_shown()
        stream.begin_text()
        with lost_letters() as lost:
            coloured = draw_first_line(stream, _Text(text, shaped, layout), "clip", "none", Matrix(d=-1))
        stream.end_text()
        if lost or coloured or more is not None:
            return None
        seen = self._faces.shown()
        for name in seen:
            self._put(name, self._faces.named[name])
        shown = b"\n".join(one if isinstance(one, bytes) else one.data for one in stream.stream)
        return _Run(width, shown, seen)


class _Shaped(dict[str, Any]):
    """A style as the printing library asks for it."""

    def __init__(self, style: _Style, fonts: Any) -> None:
        super().__init__(style, tab_size=8, text_decoration_line="none")
        self.font_config = fonts


@dataclass(frozen=True, slots=True)
class _Text:
    """Words as the printing library draws them."""

    text: str
    style: _Shaped
    pango_layout: Any


class _Box:
    """Words as they stand on the page, for whoever reads its letters."""

    def __init__(self, slot: Slot, text: str, left_px: float, width_px: float) -> None:
        self.text, self.position_x, self.width = text, left_px, width_px
        self.position_y, self.baseline = slot.baseline_px, 0.0
        self.style = dict(slot.style)


def _fill(slot: Slot, text: str, left_px: float, run: _Run) -> Fill:
    box = _Box(slot, text, left_px, run.width_px)
    return Fill(slot.at, slot.written_at, tuple(letters_of(box, slot.colour)))


def _lefts(slots: Sequence[Slot], widths: Sequence[float]) -> list[float] | None:
    """Where the words of each slot begin [px]; None where they run over the end of their line, or into each other."""
    found = [slot.left_px for slot in slots]
    for line in in_lines(slots):
        grown = 0.0
        numbers = reversed(line) if slots[line[0]].from_right else iter(line)
        for number in numbers:
            slot, more = slots[number], widths[number] - slots[number].width_px
            if slot.from_right:
                grown += more
                found[number] -= grown
                over = slot.limit_px - found[number]
            else:
                found[number] += grown
                grown += more
                over = found[number] + widths[number] - slot.limit_px
            if widths[number] and over > _SLACK_PX:
                return None
    return None if _overlap(slots, found, widths) else found


def _overlap(slots: Sequence[Slot], lefts: Sequence[float], widths: Sequence[float]) -> bool:
    """Whether what grows from the left meets what grows from the right on its line."""
    fixed = [number for number, slot in enumerate(slots) if slot.from_right and widths[number]]
    free = [number for number, slot in enumerate(slots) if not slot.from_right and not slot.is_code and widths[number]]
    return any(
        abs(slots[one].baseline_px - slots[other].baseline_px) < slots[one].size_px
        and lefts[other] + widths[other] > lefts[one] - _APART_PX
        for one in fixed
        for other in free
    )


def _content(slot: Slot, left_px: float, run: _Run) -> bytes:
    """Words as they are shown, in the pixels of the page of their piece."""
    place = (left_px, slot.baseline_px, *slot.colour)
    return b"1 0 0 1 %.3f %.3f cm %.4g %.4g %.4g rg\n%s" % (*place, run.shown)


def _form(piece: Piece, content: bytes) -> tuple[Part, ...]:
    """Words as a form."""
    wide, high = piece.width_pt / PT_PER_PX, piece.height_pt / PT_PER_PX
    return (
        b"<</Type/XObject/Subtype/Form/BBox[0 0 %.0f %.0f]/Resources<</Font " % (wide, high),
        Open.FACES,
        b">>/Length %d>>stream\n%s\nendstream" % (len(content), content),
    )


def _code_form(slot: Slot, address: str) -> tuple[Part, ...]:
    """The code of an address, dark on white, in the pixels of the page of its piece."""
    size, dark = rectangles(address)
    scale = slot.width_px / size
    content = b"%.5f 0 0 %.5f %.3f %.3f cm\n1 g 0 0 %d %d re f\n0 g\n%s\nf" % (
        scale,
        scale,
        slot.left_px,
        slot.baseline_px,
        size,
        size,
        b"\n".join(b"%d %d %d 1 re" % one for one in dark),
    )
    left, top, side = slot.left_px, slot.baseline_px, slot.width_px
    return (
        b"<</Type/XObject/Subtype/Form/BBox[%.3f %.3f %.3f %.3f]/Resources<<>>" % (left, top, left + side, top + side),
        packed_stream(content),
    )
