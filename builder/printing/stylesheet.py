"""Rules of legibility that a stylesheet decides: alignment, case, faces, weights, fields to write in, frames.

House rules after published ones, as in `legibility`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.position import Position
from builder.printing.repairs import REPAIRS

MOST_FACES = 2  # L13: one or two faces (Degani 1992, NASA CR-177605, recommendation 1, restated)
LIGHTEST = 400  # L21: strokes of about 1/6 of the height, so no light weights (DOD-HDBK-791(AM), 6-5.3.2)
TICK_MM, LINE_MM = 5.0, 8.0  # L24: house numbers, for a marker on laminate
_GENERIC = frozenset({"sans-serif", "serif", "monospace", "system-ui", "inherit", "initial", "unset"})
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)


def check_stylesheet(css: str, name: str = "card.css") -> tuple[Diagnostic, ...]:
    """Every declaration in `css` that breaks a rule, at its line."""
    text = _COMMENT.sub(lambda found: "\n" * found[0].count("\n"), css)
    return (*_declared(text, name), *_faces(text, name), *_fields(text, name), *_frames(text, name))


def _declared(css: str, name: str) -> Iterator[Diagnostic]:
    wrong = (
        ("L11", r"text-align(?:-last)?\s*:\s*justify", "text is left aligned", Gravity.ERROR),
        ("L11", r"hyphens\s*:\s*auto", "words are not hyphenated", Gravity.ERROR),
        ("L12", r"text-transform\s*:\s*uppercase", "text is in mixed case", Gravity.ERROR),
        ("L13", r"font-style\s*:\s*(?:italic|oblique)", "text is upright", Gravity.ERROR),
        ("L21", r"font-weight\s*:\s*(?:lighter|[1-3]00)\b", f"weights of {LIGHTEST} and more", Gravity.NOTE),
        ("L21", r"font-stretch\s*:\s*(?:\w+-)?condensed", "faces of normal width", Gravity.NOTE),
    )
    for rule, pattern, allowed, gravity in wrong:
        for found in re.finditer(pattern, css):
            yield _finding(rule, css, found.start(), name, f"“{found[0]}”", allowed, gravity)


def _faces(css: str, name: str) -> Iterator[Diagnostic]:
    """L13: more families than two, named in font declarations and in tokens of faces."""
    seen: dict[str, int] = {}
    for found in re.finditer(r"(?:font-family|--[\w-]*face)\s*:\s*([^;}]+)", css):
        for family in found[1].split(","):
            plain = family.strip().strip("\"'")
            if plain and not plain.startswith("var(") and plain.lower() not in _GENERIC:
                seen.setdefault(plain, found.start())
    if len(seen) > MOST_FACES:
        third = list(seen)[MOST_FACES]
        message = f"{len(seen)} faces: {', '.join(seen)}"
        yield _finding("L13", css, seen[third], name, message, f"at most {MOST_FACES} faces", Gravity.ERROR)


def _fields(css: str, name: str) -> Iterator[Diagnostic]:
    """L24: tick boxes under 5 mm and lines to write on under 8 mm, by their tokens."""
    for token, least in (("tick-box", TICK_MM), ("write-line", LINE_MM)):
        for found in re.finditer(rf"--{token}\s*:\s*([\d.]+)mm", css):
            if float(found[1]) < least:
                message = f"“{found[0]}”"
                yield _finding("L24", css, found.start(), name, message, f"{least:g} mm or more", Gravity.WARNING)


def _frames(css: str, name: str) -> Iterator[Diagnostic]:
    """L18: two levels of safety message whose frames are drawn alike, so that only their colour and word differ."""
    seen: dict[str, str] = {}
    for found in re.finditer(r"--frame-(\w+)\s*:\s*([^;}]+)", css):
        level, drawn = found[1], " ".join(found[2].split())
        if drawn in seen:
            message = f"“{found[0]}”, as for {seen[drawn]}"
            yield _finding("L18", css, found.start(), name, message, "a frame of its own for each level", Gravity.ERROR)
        seen.setdefault(drawn, level)


def _finding(rule: str, css: str, start: int, name: str, message: str, allowed: str, gravity: Gravity) -> Diagnostic:
    line = css.count("\n", 0, start) + 1
    column = start - (css.rfind("\n", 0, start) + 1) + 1
    at = Position(name, line, column)
    return Diagnostic(
        rule=rule,
        message=message,
        at=at,
        gravity=gravity,
        label=f"allowed: {allowed}",
        hints=REPAIRS[rule].hints(rule),
    )
