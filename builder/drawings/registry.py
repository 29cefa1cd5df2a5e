"""Every drawing by its name; a new one is one import and one line in `_SUBJECTS`."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from difflib import get_close_matches
from types import MappingProxyType

from builder.drawings import (
    adaptor,
    barrel_adjuster,
    bleed_path,
    body_gap,
    bolt_circle,
    bottom_bracket_cups,
    cable_clamp,
    cage_and_pulleys,
    cage_back,
    chain_ends,
    chain_gauge,
    chain_path,
    chain_whip,
    contrast_chips,
    front_derailleur_cage,
    gear_chart,
    hanger_shoulder,
    headset_stack,
    hill,
    hub_cone,
    hub_gear_marks,
    letter_height,
    lever,
    limit_screws,
    measure_axle_distance,
    measure_chainstay,
    measure_pad,
    measure_post_insertion,
    measure_rotor,
    measure_sag,
    pad_alignment,
    pedal_threads,
    quick_link,
    quick_release,
    quill_stem,
    rim_tyre_section,
    rotor_bolts,
    skewer_springs,
    spoke_triangle,
    sprocket_stack,
    suspension,
    takeup_grid,
    thread_hand,
    tyre_bead,
    wear_trend,
    wheel_in_dropout,
    wheel_true,
)
from builder.drawings.canvas import Drawing
from builder.drawings.drawing_kind import DrawingError, DrawingKind, Numbers, Parameter

_KINDS: tuple[DrawingKind, ...] = (
    chain_path.DRAWING,
    chain_ends.DRAWING,
    quick_link.LOCK,
    quick_link.OPEN,
    chain_gauge.DRAWING,
    sprocket_stack.DRAWING,
    chain_whip.DRAWING,
    takeup_grid.DRAWING,
    gear_chart.DRAWING,
    hill.DRAWING,
    limit_screws.DRAWING,
    cage_and_pulleys.DRAWING,
    cage_back.DRAWING,
    body_gap.DRAWING,
    hanger_shoulder.DRAWING,
    front_derailleur_cage.DRAWING,
    barrel_adjuster.DRAWING,
    cable_clamp.DRAWING,
    hub_gear_marks.DRAWING,
    thread_hand.DRAWING,
    bolt_circle.DRAWING,
    rotor_bolts.DRAWING,
    lever.DRAWING,
    adaptor.DRAWING,
    quick_release.DRAWING,
    skewer_springs.DRAWING,
    wheel_in_dropout.DRAWING,
    hub_cone.DRAWING,
    wheel_true.DRAWING,
    spoke_triangle.DRAWING,
    rim_tyre_section.DRAWING,
    tyre_bead.DRAWING,
    pad_alignment.DRAWING,
    bleed_path.DRAWING,
    headset_stack.DRAWING,
    quill_stem.DRAWING,
    pedal_threads.DRAWING,
    bottom_bracket_cups.DRAWING,
    suspension.DRAWING,
    measure_chainstay.DRAWING,
    measure_axle_distance.DRAWING,
    measure_rotor.DRAWING,
    measure_pad.DRAWING,
    measure_sag.DRAWING,
    measure_post_insertion.DRAWING,
    wear_trend.DRAWING,
    letter_height.DRAWING,
    contrast_chips.DRAWING,
)

DRAWING_KINDS: Mapping[str, DrawingKind] = MappingProxyType({kind.name: kind for kind in _KINDS})
DRAWINGS: Mapping[str, Callable[[Numbers], Drawing]] = MappingProxyType(
    {name: kind.draw for name, kind in DRAWING_KINDS.items()}
)


def _find(name: str) -> DrawingKind:
    if name in DRAWING_KINDS:
        return DRAWING_KINDS[name]
    near = get_close_matches(name, DRAWING_KINDS, n=1, cutoff=0.5)
    hint = f"did you mean '{near[0]}'?" if near else f"known: {', '.join(DRAWING_KINDS)}"
    raise DrawingError(f"unknown drawing '{name}'; {hint}")


def draw(name: str, numbers: Numbers = MappingProxyType({})) -> Drawing:
    """Make the drawing called `name` from numbers by name; a number may be text such as `425 mm` or `11,13,15`.

    Raises:
        DrawingError: there is no such drawing, or a number is missing or out of range; one line that lists them all.
    """
    return _find(name).draw(numbers)


def parameters(name: str) -> tuple[Parameter, ...]:
    """What the drawing called `name` is made from; empty for one that is always the same.

    Raises:
        DrawingError: there is no such drawing.
    """
    return _find(name).parameters
