"""Small marks that repeat what words say: verdicts by shape, the alert triangle, turning arrows, ticks, a house mark.

Every mark stands beside its word, so it is hidden from screen readers and left out of a PDF's tags. Shapes differ so
that they are told apart without colour: a disc, a half disc, a square and a diamond.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from markupsafe import Markup

from builder.checks.result import Verdict
from builder.model.catalogue import SignalWord

_VERDICTS = {
    Verdict.FITS: '<circle cx="10" cy="10" r="9" fill="#000"/><path d="M5 10.4 L8.6 14 L15 6.4" stroke="#fff"/>',
    Verdict.WITH_CARE: (
        '<circle cx="10" cy="10" r="8" fill="#fff" stroke="#000"/><path d="M10 2 a8 8 0 0 0 0 16 Z" fill="#000"/>'
    ),
    Verdict.DOES_NOT_FIT: (
        '<rect x="1.2" y="1.2" width="17.6" height="17.6" fill="#000"/><path d="M5.4 5.4 L14.6 14.6 M14.6 5.4 '
        'L5.4 14.6" stroke="#fff"/>'
    ),
    Verdict.MEASURE_FIRST: (
        '<path d="M10 1.4 L18.6 10 L10 18.6 L1.4 10 Z" fill="#fff" stroke="#000"/>'
        '<path d="M6 10 H14 M6 7.6 V12.4 M14 7.6 V12.4" stroke="#000" stroke-width="1.6"/>'
    ),
}


def _mark(name: str, body: str, box: str = "0 0 20 20") -> Markup:
    return Markup(
        f'<svg class="mark mark-{name}" viewBox="{box}" aria-hidden="true" focusable="false" fill="none" '
        f'stroke-width="2.4">{body}</svg>'
    )


def verdict_mark(verdict: Verdict) -> Markup:
    """The shape of a verdict."""
    return _mark(verdict.value, _VERDICTS[verdict])


# Ink and ground of each signal word's panel, as in the theme's tokens: a printed SVG does not follow a stylesheet.
_PANELS = {
    SignalWord.DANGER: ("#ffffff", "#9b2423"),
    SignalWord.WARNING: ("#000000", "#d05d29"),
    SignalWord.CAUTION: ("#000000", "#f9a900"),
}


def _alert(ink: str, ground: str) -> Markup:
    return _mark(
        "alert",
        f'<path d="M10 1 L19.6 18.4 H0.4 Z" fill="{ink}"/>'
        f'<path d="M9 7 h2 l-0.4 6 h-1.2 Z" fill="{ground}"/><circle cx="10" cy="15.4" r="1.2" fill="{ground}"/>',
    )


# The safety alert symbol of ISO 3864-2 by signal word; NOTICE has none (ANSI Z535.6).
ALERTS: Mapping[str, Markup] = MappingProxyType({word.value: _alert(*panel) for word, panel in _PANELS.items()})
PAUSE = _mark("pause", '<path d="M4 2 h4.4 v16 H4 Z M11.6 2 H16 v16 h-4.4 Z" fill="#000"/>')
PROVE = _mark("prove", '<path d="M2 10.6 L7.6 16.4 L18 4" stroke="currentColor" stroke-width="3"/>')
LEFT_TURN = _mark(
    "turn",
    '<path d="M17 12.6 A7.4 7.4 0 1 0 4 14.4" stroke="#000" stroke-width="2.4"/>'
    '<path d="M0.4 10.4 L8.4 12.6 L3.6 18.6 Z" fill="#000"/>',
)
HOUSE = _mark(
    "house",
    # a leaf whose stalk ends as the open jaw of a spanner
    '<path d="M8 13 C1 9 3 2 17 1 C18 14 12 18.4 8.6 13.6 Z" fill="currentColor"/>'
    '<path d="M14.6 4.4 L6.4 13.2" stroke="var(--paper, #fff)" stroke-width="1.2"/>'
    '<path d="M6.6 13 L4.6 15" stroke="currentColor" stroke-width="2.2"/>'
    '<path d="M5.9 15.8 a3 3 0 1 1 -3 -2.4 l0 2.6 l1.2 1 l1.4 -0.4 Z" fill="currentColor"/>',
)
# The marks that templates use, by name; the alert symbols lie by signal word below theirs.
MARKS: Mapping[str, Any] = MappingProxyType(
    {"alert": ALERTS, "pause": PAUSE, "prove": PROVE, "left_turn": LEFT_TURN, "house": HOUSE}
)
