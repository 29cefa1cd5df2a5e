"""What the rear derailleur can hold: capacity, largest and smallest sprocket, and the take-up of every gear."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

from builder.checks.chain_geometry import growth_teeth
from builder.checks.check import Asked, Family, check
from builder.checks.inputs import Capacity, Growth, Rings, Sprockets, Teeth
from builder.checks.judging import named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit, write_number, write_quantity

CAPACITY_SOURCE = Source(
    title="Capacity counts the chainring difference and the sprocket difference", provenance=Provenance.COMMON_PRACTICE
)
# What to do where the rating is missing; part of the advice.
LOOK_UP = (
    "Look it up in the derailleur maker's data, by the number on the back of the derailleur. Do not go by the length "
    "of the cage alone."
)
# Beyond the rating by so many teeth the owner decides, after a trial. Common practice, no source.
TRIAL_TEETH, _SPROCKET_TRIAL_TEETH = 2, 1
BEYOND = "Beyond the maker's figure: the owner's decision."
_CURED = Asked(only={"worked-out.transmission": ("derailleur",)}, cures=("rear-derailleur",))


def capacity_teeth(rings: Sequence[int], sprockets: Sequence[int]) -> int:
    """Teeth of capacity that a derailleur needs, `(largest - smallest ring) + (largest - smallest sprocket)`.

    Source: common practice, no source.
    """
    return max(rings) - min(rings) + max(sprockets) - min(sprockets)


def _teeth(count: int) -> str:
    return write_quantity(count, Unit.TEETH, 0)


@check(
    family=Family.SPROCKETS,
    title="Capacity of the rear derailleur",
    purpose=(
        "The cage of the derailleur takes up the chain that the small gears leave slack. Its capacity must cover the "
        "difference between the chainrings and the difference between the sprockets together."
    ),
    formula=r"K = (R_{max} - R_{min}) + (S_{max} - S_{min}) + \left\lceil\frac{4 g}{p}\right\rceil",
    source=CAPACITY_SOURCE,
    at_verdict={
        Verdict.FITS: "Use the derailleur, if it takes the largest and the smallest sprocket too.",
        Verdict.WITH_CARE: "Beyond the maker's figure: the owner decides after a trial. Never sell it as fitting.",
        Verdict.DOES_NOT_FIT: "Choose a derailleur with a longer cage, or a smaller span of sprockets or rings.",
        Verdict.MEASURE_FIRST: "Look up the maker's capacity before a part is bought.",
    },
    example={"rings": "48,31", "sprockets": "11,34", "rated": "41"},
    drawing="takeup-grid",
    notes=(
        "K is the capacity in teeth, R the chainrings, S the sprockets, g the growth of the axle distance and p the "
        "pitch of 12.7 mm: both runs of the chain grow, and a link of slack takes two teeth of capacity. All tooth "
        "counts may be written, or the largest and the smallest. With one chainring only the sprockets count. Up to "
        "two teeth beyond the rating often run, and no maker answers for it (common practice, no source)."
    ),
    asked=_CURED,
)
def derailleur_capacity(
    rings: Rings,
    sprockets: Sprockets,
    rated: Capacity,
    growth_mm: Growth = 0.0,
) -> CheckResult:
    """Capacity that rings and sprockets need, against the rating [teeth].

    A suspended axle that moves away wants chain that the cage takes up again at rest.

    Source: common practice, no source; the teeth of the growth by plane geometry.
    """
    grown = growth_teeth(growth_mm)
    needed = capacity_teeth(rings, sprockets) + grown
    ring_span, sprocket_span = max(rings) - min(rings), max(sprockets) - min(sprockets)
    working = [
        f"Chainrings: {max(rings)} − {min(rings)} = {_teeth(ring_span)}",
        f"Sprockets: {max(sprockets)} − {min(sprockets)} = {_teeth(sprocket_span)}",
        f"Needed: {ring_span} + {sprocket_span}{f' + {grown}' if grown else ''} = {_teeth(needed)}",
    ]
    if grown:
        working.insert(2, f"Growth of the axle distance: 4 × {write_number(growth_mm)} / 12.7 = {_teeth(grown)}")
    if rated is None:
        verdict, advice = Verdict.MEASURE_FIRST, f"The derailleur's capacity is not known. {LOOK_UP}"
    else:
        working.append(f"Left of the rated {rated}: {rated} − {needed} = {_teeth(rated - needed)}")
        if rated >= needed:
            verdict, advice = Verdict.FITS, "The cage takes up the slack in every gear."
        elif grown and rated >= needed - grown:
            verdict = Verdict.WITH_CARE
            advice = (
                f"Without the suspension's {_teeth(grown)} the rating would do. Look at the unladen bike on the "
                "smallest ring and sprocket: if the chain sags, nobody uses that gear, or the cage must be longer."
            )
        elif needed - grown - rated <= TRIAL_TEETH:
            verdict = Verdict.WITH_CARE
            advice = (
                f"{BEYOND} Before it is ridden, shift to the smallest ring and sprocket: the chain must not sag, and "
                "nobody uses that gear."
            )
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = (
                f"Fit a derailleur rated for at least {needed} teeth, or sprockets with at most "
                f"{_teeth(sprocket_span - (needed - rated))} of difference."
                if sprocket_span >= needed - rated
                else f"Fit a derailleur rated for at least {needed} teeth."
            )
    return CheckResult(
        verdict=verdict,
        value=float(needed),
        unit=Unit.TEETH,
        limit=None if rated is None else float(rated),
        margin=None if rated is None else float(rated - needed),
        working=tuple(working),
        advice=advice,
        values=(
            named("ring-difference", float(ring_span), Unit.TEETH),
            named("sprocket-difference", float(sprocket_span), Unit.TEETH),
        ),
    )


@check(
    family=Family.SPROCKETS,
    title="Largest sprocket for the derailleur",
    purpose="Capacity is not enough: the guide pulley must also pass below the largest sprocket without rubbing on it.",
    formula=r"S_{max} \le S_{rated}",
    source=Source(title="Largest sprocket of the derailleur's rating", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Set the distance of the guide pulley as the derailleur's maker says.",
        Verdict.WITH_CARE: "Outside the maker's figure: the owner decides after a trial. Never sell it as fitting.",
        Verdict.DOES_NOT_FIT: "Choose another derailleur, or a cassette with a smaller largest sprocket.",
        Verdict.MEASURE_FIRST: "Look up the maker's figure before a part is bought.",
    },
    example={"sprocket": "40", "rated": "42"},
    notes=(
        "S is the tooth count. A tooth more than the rating sometimes runs when the adjusting screw is turned far in, "
        "but no maker answers for it (common practice, no source)."
    ),
    asked=_CURED,
)
def largest_sprocket(
    sprocket: Annotated[
        Teeth, Meaning("teeth of the largest sprocket"), Fact("cassette.sprockets", max, called="largest sprocket")
    ],
    rated: Annotated[
        Teeth | None,
        Meaning("largest sprocket that the derailleur's maker states"),
        Fact("rear-derailleur.largest-sprocket"),
    ],
    least: Annotated[
        Teeth | None,
        Meaning("smallest of the largest sprockets that its maker states"),
        Fact("rear-derailleur.largest-sprocket-least"),
    ] = None,
) -> CheckResult:
    """Whether the guide pulley passes below the largest sprocket [teeth]. Source: common practice."""
    working = [f"Largest sprocket: {sprocket} teeth"]
    if rated is None:
        verdict, advice = Verdict.MEASURE_FIRST, f"The derailleur's largest sprocket is not known. {LOOK_UP}"
    else:
        working.append(f"Left of the rated {rated}: {rated} − {sprocket} = {_teeth(rated - sprocket)}")
        if sprocket <= rated:
            verdict, advice = Verdict.FITS, "The guide pulley clears the largest sprocket."
        elif sprocket - rated <= _SPROCKET_TRIAL_TEETH:
            verdict = Verdict.WITH_CARE
            advice = (
                f"{BEYOND} Before it is ridden, turn the body screw in and back-pedal by hand on the largest sprocket: "
                "the guide pulley must not touch it."
            )
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"Fit a derailleur rated for a largest sprocket of at least {sprocket} teeth."
    if least is not None:
        working.append(f"Smallest of the largest sprockets that the maker states: {least} teeth")
        if sprocket < least and verdict is Verdict.FITS:
            verdict = Verdict.WITH_CARE
            advice = f"The derailleur is made for a largest sprocket of {least} teeth or more: it shifts slowly here."
    return CheckResult(
        verdict=verdict,
        value=float(sprocket),
        unit=Unit.TEETH,
        limit=None if rated is None else float(rated),
        margin=None if rated is None else float(rated - sprocket),
        working=tuple(working),
        advice=advice,
    )


@check(
    family=Family.SPROCKETS,
    title="Smallest sprocket for the derailleur",
    purpose="A derailleur made for small sprockets follows them closely; on others it hangs too far off to shift well.",
    formula=r"S_{min} \ge S_{rated}",
    source=Source(title="Smallest sprocket of the derailleur's rating", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Use the derailleur.",
        Verdict.WITH_CARE: "Outside the maker's figure by a tooth: the owner decides after a trial.",
        Verdict.DOES_NOT_FIT: "Choose another derailleur, or a cassette that starts with a larger sprocket.",
        Verdict.MEASURE_FIRST: "Look up the maker's figure before a part is bought.",
    },
    example={"sprocket": "11", "rated": "11"},
    notes="S is the tooth count.",
    asked=_CURED,
)
def smallest_sprocket(
    sprocket: Annotated[
        Teeth, Meaning("teeth of the smallest sprocket"), Fact("cassette.sprockets", min, called="smallest sprocket")
    ],
    rated: Annotated[
        Teeth | None,
        Meaning("smallest sprocket that the derailleur's maker states"),
        Fact("rear-derailleur.smallest-sprocket"),
    ],
) -> CheckResult:
    """Whether the derailleur follows the sprockets down to the smallest [teeth]. Source: common practice."""
    working = [f"Smallest sprocket: {sprocket} teeth"]
    if rated is None:
        verdict, advice = Verdict.MEASURE_FIRST, f"The derailleur's smallest sprocket is not known. {LOOK_UP}"
    else:
        working.append(f"Above the rated {rated}: {sprocket} − {rated} = {_teeth(sprocket - rated)}")
        if sprocket >= rated:
            verdict, advice = Verdict.FITS, "The derailleur follows the sprockets down to the smallest."
        elif rated - sprocket <= _SPROCKET_TRIAL_TEETH:
            verdict = Verdict.WITH_CARE
            advice = f"{BEYOND} Try the shift to and from the smallest sprocket under load."
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"Fit a derailleur rated for a smallest sprocket of {sprocket} teeth, or start at {rated} teeth."
    return CheckResult(
        verdict=verdict,
        value=float(sprocket),
        unit=Unit.TEETH,
        limit=None if rated is None else float(rated),
        margin=None if rated is None else float(sprocket - rated),
        working=tuple(working),
        advice=advice,
    )
