"""What the rear derailleur can hold: capacity, largest and smallest sprocket, and the take-up of every gear."""

from __future__ import annotations

from collections.abc import Sequence

from builder.checks.inputs import CAPACITY, RINGS, SPROCKETS, teeth
from builder.checks.judging import named, whole, wholes
from builder.checks.result import Check, CheckResult, Input, Inputs, Provenance, Source, Verdict
from builder.model.units import Unit, write_quantity

_FAMILY = "Sprockets and chain"
CAPACITY_SOURCE = Source(
    title="Capacity counts the chainring difference and the sprocket difference", provenance=Provenance.COMMON_PRACTICE
)
# What to do where the rating is missing; part of the advice.
LOOK_UP = (
    "Look it up in the derailleur maker's data, by the number on the back of the derailleur. Do not go by the length "
    "of the cage alone."
)


def capacity_teeth(rings: Sequence[int], sprockets: Sequence[int]) -> int:
    """Teeth of capacity that a derailleur needs, `(largest - smallest ring) + (largest - smallest sprocket)`.

    Source: common practice, no source.
    """
    return max(rings) - min(rings) + max(sprockets) - min(sprockets)


def _teeth(count: int) -> str:
    return write_quantity(count, Unit.TEETH, 0)


def _derailleur_capacity(inputs: Inputs) -> CheckResult:
    rings, sprockets = wholes(inputs, "rings"), wholes(inputs, "sprockets")
    rated = whole(inputs, "rated") if "rated" in inputs else None
    needed = capacity_teeth(rings, sprockets)
    ring_span, sprocket_span = max(rings) - min(rings), max(sprockets) - min(sprockets)
    working = [
        f"Chainrings: {max(rings)} − {min(rings)} = {_teeth(ring_span)}",
        f"Sprockets: {max(sprockets)} − {min(sprockets)} = {_teeth(sprocket_span)}",
        f"Needed: {ring_span} + {sprocket_span} = {_teeth(needed)}",
    ]
    if rated is None:
        verdict, advice = Verdict.MEASURE_FIRST, f"The derailleur's capacity is not known. {LOOK_UP}"
    else:
        working.append(f"Left of the rated {rated}: {rated} − {needed} = {_teeth(rated - needed)}")
        if rated >= needed:
            verdict, advice = Verdict.FITS, "The cage takes up the slack in every gear."
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = (
                f"Fit a derailleur rated for at least {needed} teeth, or sprockets with at most "
                f"{_teeth(sprocket_span - (needed - rated))} of difference."
                if sprocket_span >= needed - rated
                else f"Fit a derailleur rated for at least {needed} teeth."
            )
    return CheckResult(
        check="derailleur-capacity",
        verdict=verdict,
        value=float(needed),
        unit=Unit.TEETH,
        limit=None if rated is None else float(rated),
        margin=None if rated is None else float(rated - needed),
        working=tuple(working),
        source=str(CAPACITY_SOURCE),
        advice=advice,
        values=(
            named("ring-difference", float(ring_span), Unit.TEETH),
            named("sprocket-difference", float(sprocket_span), Unit.TEETH),
        ),
    )


DERAILLEUR_CAPACITY = Check(
    name="derailleur-capacity",
    family=_FAMILY,
    title="Capacity of the rear derailleur",
    purpose=(
        "The cage of the derailleur takes up the chain that the small gears leave slack. Its capacity must cover the "
        "difference between the chainrings and the difference between the sprockets together."
    ),
    formula=r"K = (R_{max} - R_{min}) + (S_{max} - S_{min})",
    inputs=(RINGS, SPROCKETS, CAPACITY),
    source=CAPACITY_SOURCE,
    run=_derailleur_capacity,
    at_verdict={
        Verdict.FITS: "Use the derailleur, if it takes the largest and the smallest sprocket too.",
        Verdict.DOES_NOT_FIT: "Choose a derailleur with a longer cage, or a smaller span of sprockets or rings.",
        Verdict.MEASURE_FIRST: "Look up the maker's capacity before a part is bought.",
    },
    example={"rings": "48,31", "sprockets": "11,34", "rated": "41"},
    drawing="takeup-grid",
    notes=(
        "K is the capacity in teeth, R the chainrings, S the sprockets. All tooth counts may be written, or the "
        "largest and the smallest. With one chainring only the sprockets count."
    ),
)


def _rated(name: str, words: str) -> Input:
    return teeth(name, words, optional=True)


def _largest_sprocket(inputs: Inputs) -> CheckResult:
    sprocket = whole(inputs, "sprocket")
    rated = whole(inputs, "rated") if "rated" in inputs else None
    working = [f"Largest sprocket: {sprocket} teeth"]
    if rated is None:
        verdict, advice = Verdict.MEASURE_FIRST, f"The derailleur's largest sprocket is not known. {LOOK_UP}"
    else:
        working.append(f"Left of the rated {rated}: {rated} − {sprocket} = {_teeth(rated - sprocket)}")
        if sprocket <= rated:
            verdict, advice = Verdict.FITS, "The guide pulley clears the largest sprocket."
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"Fit a derailleur rated for a largest sprocket of at least {sprocket} teeth."
    return CheckResult(
        check="largest-sprocket",
        verdict=verdict,
        value=float(sprocket),
        unit=Unit.TEETH,
        limit=None if rated is None else float(rated),
        margin=None if rated is None else float(rated - sprocket),
        working=tuple(working),
        source=str(LARGEST_SPROCKET.source),
        advice=advice,
    )


LARGEST_SPROCKET = Check(
    name="largest-sprocket",
    family=_FAMILY,
    title="Largest sprocket for the derailleur",
    purpose="Capacity is not enough: the guide pulley must also pass below the largest sprocket without rubbing on it.",
    formula=r"S_{max} \le S_{rated}",
    inputs=(
        teeth("sprocket", "teeth of the largest sprocket"),
        _rated("rated", "largest sprocket that the derailleur's maker states"),
    ),
    source=Source(title="Largest sprocket of the derailleur's rating", provenance=Provenance.COMMON_PRACTICE),
    run=_largest_sprocket,
    at_verdict={
        Verdict.FITS: "Set the distance of the guide pulley as the derailleur's maker says.",
        Verdict.DOES_NOT_FIT: "Choose another derailleur, or a cassette with a smaller largest sprocket.",
        Verdict.MEASURE_FIRST: "Look up the maker's figure before a part is bought.",
    },
    example={"sprocket": "40", "rated": "42"},
    notes=(
        "S is the tooth count. A tooth or two more sometimes runs when the adjusting screw is turned far in, but no "
        "maker answers for it, and so this check says that it does not fit."
    ),
)


def _smallest_sprocket(inputs: Inputs) -> CheckResult:
    sprocket = whole(inputs, "sprocket")
    rated = whole(inputs, "rated") if "rated" in inputs else None
    working = [f"Smallest sprocket: {sprocket} teeth"]
    if rated is None:
        verdict, advice = Verdict.MEASURE_FIRST, f"The derailleur's smallest sprocket is not known. {LOOK_UP}"
    else:
        working.append(f"Above the rated {rated}: {sprocket} − {rated} = {_teeth(sprocket - rated)}")
        if sprocket >= rated:
            verdict, advice = Verdict.FITS, "The derailleur follows the sprockets down to the smallest."
        else:
            verdict = Verdict.DOES_NOT_FIT
            advice = f"Fit a derailleur rated for a smallest sprocket of {sprocket} teeth, or start at {rated} teeth."
    return CheckResult(
        check="smallest-sprocket",
        verdict=verdict,
        value=float(sprocket),
        unit=Unit.TEETH,
        limit=None if rated is None else float(rated),
        margin=None if rated is None else float(sprocket - rated),
        working=tuple(working),
        source=str(SMALLEST_SPROCKET.source),
        advice=advice,
    )


SMALLEST_SPROCKET = Check(
    name="smallest-sprocket",
    family=_FAMILY,
    title="Smallest sprocket for the derailleur",
    purpose="A derailleur made for small sprockets follows them closely; on others it hangs too far off to shift well.",
    formula=r"S_{min} \ge S_{rated}",
    inputs=(
        teeth("sprocket", "teeth of the smallest sprocket"),
        _rated("rated", "smallest sprocket that the derailleur's maker states"),
    ),
    source=Source(title="Smallest sprocket of the derailleur's rating", provenance=Provenance.COMMON_PRACTICE),
    run=_smallest_sprocket,
    at_verdict={
        Verdict.FITS: "Use the derailleur.",
        Verdict.DOES_NOT_FIT: "Choose another derailleur, or a cassette that starts with a larger sprocket.",
        Verdict.MEASURE_FIRST: "Look up the maker's figure before a part is bought.",
    },
    example={"sprocket": "11", "rated": "11"},
    notes="S is the tooth count.",
)


CHECKS = (DERAILLEUR_CAPACITY, LARGEST_SPROCKET, SMALLEST_SPROCKET)
