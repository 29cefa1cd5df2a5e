"""Open places of a block: what differs from card to card in a block that is otherwise the same.

    a block's markup ─► the same with stand-ins, and the words that belong in their places

Words stand alone in an element with `data-open`, with nothing else on their line but other open places and what has its
place there anyway. The code of a page is one as well. The block is laid out with its stand-ins, and every card has its
own words set there.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from html import unescape

from builder.printing.sheet import Colour

# What is laid out in an open place: a figure, as high as any letter of its face.
STAND_IN = "0"
ATTRIBUTE = "data-slot"
_OPEN = re.compile(
    r'<(?P<tag>b|span)(?P<more>(?: class="[^"]*")?) data-open>(?P<words>[^<]*)</(?P=tag)>'
    r'|<svg class="qr"[^>]*><title>(?P<code>[^<]*)</title>.*?</svg>',
    re.DOTALL,
)


_BOX = 'viewBox="0 0 1 1" role="img"'
# The properties that decide how words are shaped and how wide they are, as the printing library names them.
SHAPING = (
    "direction",
    "font_family",
    "font_feature_settings",
    "font_kerning",
    "font_language_override",
    "font_size",
    "font_stretch",
    "font_style",
    "font_variant_alternates",
    "font_variant_caps",
    "font_variant_east_asian",
    "font_variant_ligatures",
    "font_variant_numeric",
    "font_variant_position",
    "font_variation_settings",
    "font_weight",
    "lang",
    "letter_spacing",
    "overflow_wrap",
    "white_space",
    "word_spacing",
)


@dataclass(frozen=True, slots=True)
class Words:
    """What belongs in an open place: words, or the address that a code says."""

    text: str
    is_code: bool = False


@dataclass(frozen=True, slots=True)
class Opened:
    """Markup with stand-ins in its open places, and the words that belong there, in the order of the places."""

    markup: str
    words: tuple[Words, ...]


def opened(markup: str) -> Opened | None:
    """Markup with its words taken out; None where it has no open place."""
    words: list[Words] = []

    def taken_out(found: re.Match[str]) -> str:
        number, code = len(words), found["code"]
        words.append(Words(unescape(found["words"] if code is None else code), code is not None))
        if code is not None:
            return f'<svg class="qr" {ATTRIBUTE}="{number}" {_BOX}><title>{STAND_IN}</title></svg>'
        return f'<{found["tag"]}{found["more"]} {ATTRIBUTE}="{number}">{STAND_IN}</{found["tag"]}>'

    with_stand_ins = _OPEN.sub(taken_out, markup)
    return Opened(with_stand_ins, tuple(words)) if words else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """An open place as it was laid out, in pixels from the upper left corner of its page.

    Args:
        left_px, baseline_px: where the stand-in begins; of a code its upper left corner.
        width_px: how wide it stands.
        limit_px: how far its line reaches at most; what comes from the right begins no further left than this.
        from_right: its line ends at a fixed place and grows to the left.
        style: what decides how words look, by the names of the printing library.
        colour: of its words, each part from 0 to 1.
        at: how many letters of the sheet stand before it.
        written_at: how many of them can be read, as `written_on` does.
        element: the object that says what a code stands for, among those of its piece.
    """

    left_px: float
    baseline_px: float
    width_px: float
    limit_px: float
    from_right: bool
    style: tuple[tuple[str, object], ...]
    colour: Colour
    at: int
    written_at: int
    element: int = 0

    @property
    def is_code(self) -> bool:
        """Whether the code of a page belongs here."""
        return not self.style

    @property
    def size_px(self) -> float:
        """The size of its letters."""
        size = dict(self.style)["font_size"]
        assert isinstance(size, (int, float))
        return size


def in_lines(slots: Sequence[Slot]) -> list[list[int]]:
    """The numbers of the slots that stand on one line, by line, in the order in which they stand there."""
    found: dict[tuple[bool, int], list[int]] = {}
    for number, slot in enumerate(slots):
        if not slot.is_code:
            found.setdefault((slot.from_right, round(slot.baseline_px)), []).append(number)
    return [sorted(line, key=lambda number: slots[number].left_px) for line in found.values()]
