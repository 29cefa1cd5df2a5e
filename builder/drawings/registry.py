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
from builder.drawings.subject import DrawingError, Need, Numbers, Subject

_SUBJECTS: tuple[Subject, ...] = (
    chain_path.SUBJECT,
    chain_ends.SUBJECT,
    quick_link.LOCK,
    quick_link.OPEN,
    chain_gauge.SUBJECT,
    sprocket_stack.SUBJECT,
    chain_whip.SUBJECT,
    takeup_grid.SUBJECT,
    gear_chart.SUBJECT,
    hill.SUBJECT,
    limit_screws.SUBJECT,
    cage_and_pulleys.SUBJECT,
    cage_back.SUBJECT,
    body_gap.SUBJECT,
    hanger_shoulder.SUBJECT,
    front_derailleur_cage.SUBJECT,
    barrel_adjuster.SUBJECT,
    cable_clamp.SUBJECT,
    hub_gear_marks.SUBJECT,
    thread_hand.SUBJECT,
    bolt_circle.SUBJECT,
    rotor_bolts.SUBJECT,
    lever.SUBJECT,
    adaptor.SUBJECT,
    quick_release.SUBJECT,
    skewer_springs.SUBJECT,
    wheel_in_dropout.SUBJECT,
    hub_cone.SUBJECT,
    wheel_true.SUBJECT,
    spoke_triangle.SUBJECT,
    rim_tyre_section.SUBJECT,
    tyre_bead.SUBJECT,
    pad_alignment.SUBJECT,
    bleed_path.SUBJECT,
    headset_stack.SUBJECT,
    quill_stem.SUBJECT,
    pedal_threads.SUBJECT,
    bottom_bracket_cups.SUBJECT,
    suspension.SUBJECT,
    measure_chainstay.SUBJECT,
    measure_axle_distance.SUBJECT,
    measure_rotor.SUBJECT,
    measure_pad.SUBJECT,
    measure_sag.SUBJECT,
    measure_post_insertion.SUBJECT,
    wear_trend.SUBJECT,
    letter_height.SUBJECT,
    contrast_chips.SUBJECT,
)

SUBJECTS: Mapping[str, Subject] = MappingProxyType({subject.name: subject for subject in _SUBJECTS})
DRAWINGS: Mapping[str, Callable[[Numbers], Drawing]] = MappingProxyType(
    {name: subject.draw for name, subject in SUBJECTS.items()}
)


def _find(name: str) -> Subject:
    if name in SUBJECTS:
        return SUBJECTS[name]
    near = get_close_matches(name, SUBJECTS, n=1, cutoff=0.5)
    hint = f"did you mean '{near[0]}'?" if near else f"known: {', '.join(SUBJECTS)}"
    raise DrawingError(f"unknown drawing '{name}'; {hint}")


def draw(name: str, numbers: Numbers = MappingProxyType({})) -> Drawing:
    """Make the drawing called `name` from numbers by name; a number may be text such as `425 mm` or `11,13,15`.

    Raises:
        DrawingError: there is no such drawing, or a number is missing or out of range; one line that lists the needs.
    """
    return _find(name).draw(numbers)


def needs(name: str) -> tuple[Need, ...]:
    """What the drawing called `name` is made from; empty for a fixed subject.

    Raises:
        DrawingError: there is no such drawing.
    """
    return _find(name).needs
