"""What stands at the head and the foot of every side of a composed card, so that dropped cards are sorted by sight."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from builder.pages.leaf import Leaf

# Letters of 10 pt that stand side by side in a millimetre, about; a band that is too long loses names, not figures.
_LETTERS_PER_MM = 0.5
# How wide a letter of the foot is, about [mm].
_FOOT_MM = 1.7


@dataclass(frozen=True, slots=True, kw_only=True)
class CardName:
    """What names a card on each of its sides."""

    bike: str
    stamp: str
    title: str
    code: str
    language: str
    family: str = ""


def family_class(family: str) -> str:
    """A family of guides as a class of the theme's `edge.css`."""
    return "-".join(re.findall(r"[a-z0-9]+", family.lower()))


@dataclass(frozen=True, slots=True, kw_only=True)
class SideName:
    """What a side holds: the labels of its first and last step, and the titles of its sections."""

    first: str = ""
    last: str = ""
    titles: tuple[str, ...] = ()

    @property
    def span(self) -> str:
        """The steps from first to last."""
        return self.first if self.first == self.last else f"{self.first}–{self.last}"

    def words(self, letters: int) -> str:
        """The steps and as many titles as `letters` leave room for."""
        found = self.span
        for number, title in enumerate(self.titles):
            more = found + (" " if not number else ", ") + title
            if len(more) > letters:
                return found + " …" if number else found
            found = more
        return found


def bands_html(name: CardName, sides: Sequence[SideName], leaf: Leaf, style: str = "") -> str:
    """A document with one page a side that holds its bands and nothing else; `style` is for who lays out without it."""
    return Markup('<html lang="{}"><head><title>{}</title><style>{}</style></head><body>{}</body></html>').format(
        name.language, name.title, Markup(style + bands_style(leaf)), Markup("").join(bands_of(name, sides, leaf))
    )


def bands_of(name: CardName, sides: Sequence[SideName], leaf: Leaf) -> list[Markup]:
    """The bands of each side. Their words stand in open places, since all else is the same on every card."""
    letters = int((leaf.text_mm - (len(name.bike) + len(name.stamp)) * 2.4 - 16) * _LETTERS_PER_MM)
    # The title and the code stand on one line; where they can't, the issue is left to the guide's page.
    fits = (len(name.title) + len(name.code) + 3) * _FOOT_MM < leaf.text_mm
    code = name.code if fits else name.code.rpartition(" · ")[0] or name.code
    side = Markup(
        '<div class="side {face}">{edge}<p class="band top"><b class="whose" data-open>{bike}</b> '
        '<span class="what" data-open>{what}</span><span class="which"><span data-open>{stamp}</span> '
        "<b data-open>{number}/{count}</b></span></p>"
        '<p class="band foot"><span class="title" data-open>{title}</span>'
        '<span class="code" data-open>{code}</span></p></div>'
    )
    # Five bars, of which the theme shows as many as tell the family apart where colours are grey.
    family = family_class(name.family)
    edge = Markup('<div class="edge of-{}">{}</div>').format(family, Markup("<i></i>" * 5)) if family else Markup("")
    return [
        side.format(
            bike=name.bike,
            face="back" if leaf.is_back(number - 1) else "front",
            edge=edge,
            what=one.words(letters),
            number=number,
            count=len(sides),
            stamp=name.stamp,
            title=name.title,
            code=code,
        )
        for number, one in enumerate(sides, 1)
    ]


def bands_style(leaf: Leaf) -> str:
    """How large a side is, and where its bands stand."""
    held = ".band.top, .band .whose, .band .which b { font-size: 10.5pt }" if leaf.act_pt < 12 else ""
    return (
        f"{held} @page {{ size: {leaf.width_mm}mm {leaf.height_mm}mm; margin: 0 }}"
        f".side {{ height: {leaf.height_mm}mm }} .band.top {{ margin-top: {leaf.above_mm:g}mm }}"
        f".band {{ left: {leaf.edge_mm(0):g}mm; width: {leaf.text_mm:g}mm }} "
        f".back .band {{ left: {leaf.edge_mm(1):g}mm }}"
        f".edge {{ --scale: {leaf.scale:g} }}"
    )
