"""Safety signs by their ISO 7010 number: the shape and colours of ISO 3864-1, the symbols drawn here.

Titles and numbers were read in an open list of ISO 7010 signs (secondary), not in the standard itself. The symbols
are our own line art after what each title describes; a sign that is not drawn is shown by its number and title.
Colours are those of ISO 3864-4 as a public encyclopedia lists them. One user unit is a hundredth of the sign's height.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from markupsafe import Markup, escape

YELLOW, BLUE, RED, BLACK, WHITE = "#f9a900", "#005387", "#9b2423", "#000000", "#ffffff"


class SignShape(StrEnum):
    """What a sign's first letter says: warning, mandatory action or prohibition."""

    WARNING = "W"
    MANDATORY = "M"
    PROHIBITION = "P"


TITLES: dict[str, str] = {
    "M002": "Refer to instruction manual",
    "M003": "Wear ear protection",
    "M004": "Wear eye protection",
    "M008": "Wear safety footwear",
    "M009": "Wear protective gloves",
    "M016": "Wear a mask",
    "M021": "Disconnect before carrying out maintenance or repair",
    "M057": "Ensure continuous ventilation",
    "P003": "No open flame",
    "P010": "Do not touch",
    "P028": "Do not wear gloves",
    "W001": "General warning sign",
    "W010": "Low temperature",
    "W017": "Hot surface",
    "W018": "Automatic start-up",
    "W021": "Flammable material",
    "W022": "Sharp element",
    "W024": "Crushing of hands",
    "W025": "Counterrotating rollers",
    "W026": "Battery charging",
    "W029": "Pressurized cylinder",
    "W035": "Falling objects",
}


def _round(x: float, y: float, width: float, height: float, corner: float) -> str:
    return f'<rect x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}" rx="{corner:g}"/>'


def _line(path: str, width: float) -> str:
    return f'<path d="{path}" fill="none" stroke="currentColor" stroke-width="{width:g}"/>'


# An open hand, fingers up, on a field of 60 wide round (50, 50).
_HAND = (
    _round(33, 46, 32, 34, 9)
    + _round(33, 26, 7.4, 30, 3.7)
    + _round(41.2, 20, 7.4, 36, 3.7)
    + _round(49.4, 22, 7.4, 34, 3.7)
    + _round(57.6, 29, 7.4, 28, 3.7)
    + '<path d="M64 62 L77 47 a4.2 4.2 0 0 0 -6.4 -5.4 L62 51 Z"/>'
)
_HEAD = '<path d="M50 16 c-17 0 -27 11 -27 28 c0 19 10 40 27 40 s27 -21 27 -40 c0 -17 -10 -28 -27 -28 Z"/>'
# A hand seen from its side, reaching from the right, for signs of harm to hands.
_REACH = '<path d="M76 60 V70 H50 C46 70 42 68 39 66 L30 66 a3 3 0 0 1 0 -6 H44 L36 58 a3 3 0 0 1 1 -6 L58 56 Z"/>'

_DRAWN: dict[str, str] = {
    "W001": '<path d="M46 38 h8 l-1.6 27 h-4.8 Z"/><circle cx="50" cy="74" r="4.6"/>',
    "W010": _line("M50 40 V80 M32.7 50 L67.3 70 M32.7 70 L67.3 50", 4.4)
    + _line("M45 44 L50 49 L55 44 M45 76 L50 71 L55 76 M35 57 L41 55 L39.6 48.6 M65 57 L59 55 L60.4 48.6", 3)
    + _line("M35 63 L41 65 L39.6 71.4 M65 63 L59 65 L60.4 71.4", 3),
    "W017": _round(28, 73, 44, 6, 1)
    + _line("M38 68 c-6 -7 6 -11 0 -19 M50 68 c-6 -7 6 -11 0 -23 M62 68 c-6 -7 6 -11 0 -19", 4.2),
    "W018": _line("M50 43 a16 16 0 1 0 15 11", 5) + '<path d="M72 52 L57 54 L66 42 Z"/>',
    "W021": (
        '<path d="M51 36 c3 9 16 15 13 28 c-1 8 -7 12 -14 12 s-13 -4 -14 -12 c-1 -8 4 -12 6 -17 c2 4 3 5 5 7 '
        'c2 -6 4 -11 4 -18 Z"/>'
    ),
    "W022": '<path d="M40 36 L72 44 L71 47 L50 51 Z"/>' + _REACH + '<circle cx="35" cy="76" r="2.6"/>',
    "W024": _round(28, 70, 50, 7, 1)
    + _round(28, 44, 40, 6, 1)
    + '<path d="M34 60 h14 l-3 -4 h20 l11 3 v9 H34 a3.6 3.6 0 0 1 0 -8 Z"/>',
    "W026": _round(30, 53, 40, 24, 3)
    + _round(35, 48, 7, 6, 1)
    + _round(58, 48, 7, 6, 1)
    + f'<path d="M52 55 L42 66 H49 L46 75 L58 63 H51 Z" fill="{YELLOW}"/>',
    "W029": '<path d="M41 79 V52 c0 -5 4 -7 5 -9 v-5 h8 v5 c1 2 5 4 5 9 v27 Z"/>' + _round(42, 33, 16, 4, 1),
    "W035": _round(38, 38, 9, 9, 1)
    + _round(53, 44, 8, 8, 1)
    + _round(41, 52, 6, 6, 1)
    + '<circle cx="62" cy="61" r="4.4"/><path d="M53 80 L57 67 L68 69 L72 80 Z"/>'
    + _line("M42 67 L49 62", 3.4),
    "M002": '<path d="M22 34 C32 28 42 29 48 34 V76 C41 71 32 71 22 76 Z M78 34 C68 28 58 29 52 34 V76 '
    'C59 71 68 71 78 76 Z"/>'
    + f'<path d="M28 43 h14 v4 H28 Z M28 52 h14 v4 H28 Z M58 43 h14 v4 H58 Z M58 52 h14 v4 H58 Z" fill="{BLUE}"/>',
    "M003": _HEAD + _round(12, 40, 14, 24, 6) + _round(74, 40, 14, 24, 6) + _line("M19 42 C19 4 81 4 81 42", 5),
    "M004": _HEAD
    + f'<g fill="{BLUE}">{_round(24, 38, 24, 17, 7)}{_round(52, 38, 24, 17, 7)}{_round(45, 43, 10, 4, 0)}</g>',
    "M008": '<path d="M34 18 H56 V52 C58 60 74 60 78 66 C80 69 80 73 80 76 H34 Z"/>' + _round(32, 78, 50, 6, 1),
    "M009": _HAND + f'<path d="M33 70 H65 V74 H33 Z" fill="{BLUE}"/>' + _round(34, 75, 30, 11, 2),
    "M016": _HEAD
    + f'<path d="M30 54 C40 48 60 48 70 54 V66 C64 78 36 78 30 66 Z" fill="{BLUE}"/>'
    + '<path d="M37 58 h26 v3 H37 Z M37 65 h26 v3 H37 Z"/>',
    "M021": _round(14, 40, 26, 20, 4)
    + _line("M14 50 H4", 5)
    + _line("M40 45 H50 M40 55 H50", 4)
    + '<path d="M60 38 H74 a12 12 0 0 1 0 24 H60 Z"/>'
    + _line("M84 50 H96", 5),
    # A fan, and air that it moves.
    "M057": '<path d="M36 50 C22 44 22 26 34 20 C44 24 44 40 36 50 C51 47 60 58 57 69 C46 73 36 64 36 50 '
    'C29 64 13 64 8 54 C14 44 28 42 36 50 Z"/>'
    + f'<circle cx="36" cy="50" r="5" fill="{BLUE}"/>'
    + _line("M60 34 c6 -5 10 5 16 0 c4 -3 6 2 10 0 M64 50 c6 -5 10 5 16 0 c4 -3 6 2 10 0", 4.5)
    + _line("M60 66 c6 -5 10 5 16 0 c4 -3 6 2 10 0", 4.5),
    "P003": '<path d="M47 46 h6 v36 h-6 Z"/><path d="M50 16 c4 8 9 12 9 19 a9 9 0 0 1 -18 0 c0 -7 5 -11 9 -19 Z"/>',
    "P010": _HAND,
    "P028": _HAND + f'<path d="M33 70 H65 V73 H33 Z" fill="{WHITE}"/>' + _round(34, 74, 30, 11, 2),
}

_GROUND = {
    SignShape.WARNING: (
        f'<path d="M50 8 L94 86 H6 Z" fill="{BLACK}" stroke="{BLACK}" stroke-width="10" stroke-linejoin="round"/>'
        f'<path d="M50 18 L86.5 82 H13.5 Z" fill="{YELLOW}" stroke="{YELLOW}" stroke-width="3" '
        'stroke-linejoin="round"/>'
    ),
    SignShape.MANDATORY: f'<circle cx="50" cy="50" r="48" fill="{BLUE}"/>',
    SignShape.PROHIBITION: f'<circle cx="50" cy="50" r="48" fill="{WHITE}"/>',
}
_OVER = {
    SignShape.PROHIBITION: (
        f'<path d="M19 19 L81 81" stroke="{RED}" stroke-width="9"/>'
        f'<circle cx="50" cy="50" r="43.5" fill="none" stroke="{RED}" stroke-width="9"/>'
    ),
}


class UnknownSign(LookupError):
    """A sign number that the table of ISO 7010 numbers does not hold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sign:
    """A sign to show: its number, its title, and its drawing, empty where there is none."""

    number: str
    title: str
    svg: Markup

    @property
    def is_protection(self) -> bool:
        """Whether it tells what to wear or do, rather than what to beware of."""
        return self.number.startswith(SignShape.MANDATORY)


def sign(number: str) -> Sign:
    """The sign with that ISO 7010 number.

    Raises:
        UnknownSign: there is none in the table.
    """
    if number not in TITLES:
        raise UnknownSign(f"'{number}' is not in the table of ISO 7010 signs")
    return Sign(number=number, title=TITLES[number], svg=_svg(number))


def _svg(number: str) -> Markup:
    if number not in _DRAWN:
        return Markup("")
    shape = SignShape(number[0])
    ink = WHITE if shape is SignShape.MANDATORY else BLACK
    symbol = _DRAWN[number].replace("currentColor", ink)
    if shape is SignShape.MANDATORY:
        symbol = f'<g transform="translate(50 50) scale(0.74) translate(-50 -50)">{symbol}</g>'
    elif shape is SignShape.PROHIBITION:
        symbol = f'<g transform="translate(50 50) scale(0.86) translate(-50 -50)">{symbol}</g>'
    title = f"{number} {escape(TITLES[number])}"
    return Markup(
        f'<svg class="sign" viewBox="0 0 100 100" role="img" aria-label="{title}"><title>{title}</title>'
        f'{_GROUND[shape]}<g fill="{ink}">{symbol}</g>{_OVER.get(shape, "")}</svg>'
    )
