"""What the front derailleur and its shifter can do: the chainrings' difference, the largest ring, the positions."""

from __future__ import annotations

from typing import Annotated, Literal

from builder.checks.check import Asked, Family, check
from builder.checks.derailleur import LOOK_UP
from builder.checks.inputs import Rings, Teeth, TeethList
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.facts import Fitted
from builder.model.fields import Bounds, Fact, Meaning
from builder.model.units import Unit, write_quantity

# A cage is bent for its largest ring; with so many teeth fewer it still shifts well. Common practice, no source.
_SMALLER_TEETH = 4
# Shifters for three rings are used on two; one of more positions is a rear shifter. Common practice, no source.
_SPARE_POSITIONS = 1
_HAS_FRONT = {"worked-out.transmission": ("derailleur",)}


@check(
    family=Family.SPROCKETS,
    title="Front derailleur and chainrings",
    purpose=(
        "The cage of a front derailleur is as deep as the difference of the chainrings that it is made for, and bent "
        "for a largest ring. Beyond that the chain rubs on it, or falls between."
    ),
    formula=r"R_{max} - R_{min} \le K_f \qquad R_{max} \le R_{rated}",
    source=Source(title="Capacity and largest ring of the derailleur's rating", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Set its height and its angle on the largest ring.",
        Verdict.WITH_CARE: "Set it as low as the teeth allow, and shift under load before it is ridden.",
        Verdict.DOES_NOT_FIT: "Choose a front derailleur for these rings, or rings for the derailleur.",
        Verdict.MEASURE_FIRST: "Look up both figures of the maker before a part is bought.",
    },
    example={"rings": "48,36,26", "capacity": "22", "largest": "48"},
    notes=(
        "K is the capacity in teeth, R the chainrings. How the derailleur is held, and from where its cable comes, is "
        "not among it: compare both with the old one. On a largest ring of up to four teeth fewer than the rating it "
        "shifts well. Common practice, no source."
    ),
    asked=Asked(only=_HAS_FRONT, cures=("front-derailleur",)),
)
def front_derailleur(
    rings: Rings,
    capacity: Annotated[
        Annotated[int, Bounds(0, 40)] | None,
        Meaning("difference of the rings that its maker states"),
        Fact("front-derailleur.capacity-teeth"),
    ],
    largest: Annotated[
        Teeth | None, Meaning("largest ring that its maker states"), Fact("front-derailleur.largest-ring")
    ],
) -> CheckResult:
    """Chainrings against a front derailleur's rating [teeth]. Source: common practice."""
    span, ring = max(rings) - min(rings), max(rings)
    working = [f"Chainrings: {ring} − {min(rings)} = {_teeth(span)}"]
    if capacity is not None:
        working.append(f"Left of the rated capacity: {capacity} − {span} = {_teeth(capacity - span)}")
    if largest is not None:
        working.append(f"Left of the rated largest ring: {largest} − {ring} = {_teeth(largest - ring)}")
    if len(rings) < 2 and capacity is None and largest is None:
        verdict, advice = Verdict.FITS, "One chainring needs no front derailleur."
    elif len(rings) < 2:
        verdict, advice = Verdict.DOES_NOT_FIT, "With one chainring there is nothing to shift between."
    elif capacity is not None and span > capacity:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"Take a front derailleur for a difference of {_teeth(span)}."
    elif largest is not None and ring > largest:
        verdict, advice = Verdict.DOES_NOT_FIT, f"Take a front derailleur for a largest ring of {_teeth(ring)}."
    elif capacity is None or largest is None:
        verdict, advice = Verdict.MEASURE_FIRST, f"The front derailleur's rating is not known. {LOOK_UP}"
    elif largest - ring > _SMALLER_TEETH:
        verdict = Verdict.WITH_CARE
        advice = f"Its cage is bent for a ring of {_teeth(largest)}: it stands off at its end and shifts slowly."
    else:
        verdict, advice = Verdict.FITS, "The cage reaches over all rings."
    # One ring, or a largest ring beyond the rating, is no matter of the difference.
    of_capacity = capacity is not None and (verdict is not Verdict.DOES_NOT_FIT or span > capacity)
    return CheckResult(
        verdict=verdict,
        value=float(span),
        unit=Unit.TEETH,
        limit=None if capacity is None else float(capacity),
        margin=float(capacity - span) if of_capacity and capacity is not None else None,
        working=tuple(working),
        advice=advice,
    )


@check(
    family=Family.SPROCKETS,
    title="Chainrings without a front derailleur",
    purpose=(
        "Of several chainrings a bike without a front derailleur uses one: nothing moves the chain to the others, and "
        "behind a gear hub or a single sprocket nothing takes up the slack that a smaller ring leaves."
    ),
    formula=r"n \le 1",
    source=Source(title="What is shifted needs a derailleur", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Nothing more is needed.",
        Verdict.DOES_NOT_FIT: "Take cranks with one chainring, or fit a front derailleur and its shifter first.",
    },
    example={"rings": "48,36,26", "derailleur": "fitted"},
    notes="n are the chainrings. A chain that a hand lifts from ring to ring is no shifting. Common practice.",
    asked=Asked(surely={"front-derailleur.actuation": ("",)}, cures=("crankset",)),
)
def several_rings(
    rings: Rings,
    derailleur: Annotated[Fitted, Meaning("whether there is a front derailleur")] = Fitted.NONE,
    before: Annotated[
        TeethList | None, Meaning("teeth of the chainrings as they were"), Fact("crankset.rings", before=True)
    ] = None,
) -> CheckResult:
    """Whether something moves the chain between several chainrings. Source: common practice."""
    # Rings that are there and unused are no fault of a bike; more of them are not bought for that.
    moved = len(rings) <= max(1, len(before or ())) or derailleur is Fitted.FITTED
    return CheckResult(
        verdict=Verdict.FITS if moved else Verdict.DOES_NOT_FIT,
        value=float(len(rings)),
        unit=Unit.ONE,
        working=(f"Chainrings: {len(rings)}", f"Front derailleur: {derailleur}"),
        advice=(
            "There are no more chainrings than can be used."
            if moved
            else "No front derailleur moves the chain: take one chainring, or fit a front derailleur first."
        ),
    )


@check(
    family=Family.SPROCKETS,
    title="Front shifter",
    purpose="The front shifter needs a position for each chainring, and moves a derailleur of its own line only.",
    formula=r"c \ge n \qquad l_\text{shifter} = l_\text{derailleur}",
    source=Source(title="One position for each chainring", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Set the cable and the limit screws.",
        Verdict.WITH_CARE: "Set the limit screws so that the lever stops at the last ring.",
        Verdict.DOES_NOT_FIT: "Fit a shifter for the number of chainrings and of the derailleur's line.",
    },
    example={"shifter": "3", "rings": "48,36,26", "shifter-line": "cable", "derailleur-line": "cable"},
    notes="c are the positions of the shifter, n the chainrings, l what carries the shift. Common practice.",
    asked=Asked(only=_HAS_FRONT, unless={"front-shifter.indexing": ("friction",)}, cures=("front-shifter",)),
)
def front_shifter(
    shifter: Annotated[int, Meaning("positions of the front shifter"), Fact("front-shifter.speeds")],
    rings: Rings,
    shifter_line: Annotated[
        Literal["cable", "electronic"],
        Meaning("what carries the shift from the front shifter"),
        Fact("front-shifter.actuation"),
    ],
    derailleur_line: Annotated[
        Literal["cable", "electronic"], Meaning("what moves the front derailleur"), Fact("front-derailleur.actuation")
    ],
) -> CheckResult:
    """Positions and line of a front shifter against rings and derailleur. Source: common practice."""
    spare = shifter - len(rings)
    if shifter_line != derailleur_line:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"A shifter that works by {shifter_line} can't move a derailleur that works by {derailleur_line}."
    elif spare < 0:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"The shifter reaches {shifter} of {len(rings)} chainrings. Fit a shifter for {len(rings)}."
    elif spare > _SPARE_POSITIONS:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"A shifter of {shifter} positions is made for another derailleur: take one for {len(rings)} rings."
    elif spare > 0:
        verdict, advice = Verdict.WITH_CARE, "Positions stay unused; the limit screws must stop the derailleur there."
    else:
        verdict, advice = Verdict.FITS, "One position of the shifter for each chainring."
    return CheckResult(
        verdict=verdict,
        value=float(shifter),
        unit=Unit.ONE,
        limit=float(len(rings)),
        margin=float(min(spare, _SPARE_POSITIONS - spare)) if shifter_line == derailleur_line else None,
        working=(
            f"Positions of the shifter: {shifter}",
            f"Chainrings: {len(rings)}",
            f"Lines: shifter {shifter_line}, derailleur {derailleur_line}",
        ),
        advice=advice,
    )


def _teeth(count: int) -> str:
    return write_quantity(count, Unit.TEETH, 0)
