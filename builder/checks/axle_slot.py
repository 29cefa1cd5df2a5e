"""Chain without a derailleur: whether its links let the axle sit inside the slots of the dropouts."""

from __future__ import annotations

from typing import Annotated

from builder.checks.chain_geometry import centre_for_pitches_mm
from builder.checks.check import Asked, Family, Force, check
from builder.checks.inputs import LargestRing, LargestSprocket
from builder.checks.judging import at_least, at_most, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit, write_number

# Room that is left at the back of the slot for the chain to wear; a chain at 1 % asks for about 4 mm. Common practice.
_WEAR_ROOM_MM = 5.0


@check(
    family=Family.SPROCKETS,
    title="Axle in the slots of the dropouts",
    purpose=(
        "Without a derailleur the chain is tightened by the axle alone, which slides in the slots of the dropouts. A "
        "chain with a pair of links too many or too few puts the axle beyond the slot."
    ),
    formula=(
        r"C = \frac{p}{4}\left(s + \sqrt{s^2 - 8 \left(\frac{z_2 - z_1}{2\pi}\right)^2}\right)"
        r", \quad s = n - \frac{z_1 + z_2}{2}"
    ),
    source=Source(
        title="Series of Mott, Machine Elements in Mechanical Design, solved for the centre distance",
        locator="4th edition, section 7-6; 5 mm of room for wear are common practice",
        provenance=Provenance.LOOKED_UP,
    ),
    at_verdict={
        Verdict.FITS: "Fit the chain, and leave it 10 mm of play half way between ring and sprocket.",
        Verdict.WITH_CARE: "Fit it, and look at its tension often: there is little slot left for wear.",
        Verdict.DOES_NOT_FIT: "Take a pair of links out or put in a longer chain; a half link moves the axle by half.",
    },
    example={"links": "100", "ring": "44", "sprocket": "18", "chainstay": "420 mm", "slot": "30 mm"},
    notes=(
        "C is the distance at which the chain is just tight, n its links, z1 and z2 the teeth, p the pitch of 12.7 mm. "
        "The chainstay is measured with the axle at the front end of the slot."
    ),
    asked=Asked(
        force=Force.CONDITION,
        only={"worked-out.transmission": ("hub-gear", "single-speed")},
        kept=("chain",),
        when_known=True,
    ),
)
def axle_slot(
    links: Annotated[
        int,
        In(Unit.LINKS),
        Bounds(40, 220),
        Meaning("links of the closed chain, inner and outer both"),
        Fact("measured.chain-links"),
    ],
    ring: LargestRing,
    sprocket: LargestSprocket,
    chainstay_mm: Annotated[
        float,
        Meaning("centre of the bottom bracket to the axle at the front end of its slot"),
        Fact("frame.chainstay"),
    ],
    slot_mm: Annotated[float, Meaning("how far the axle can slide back in its slot"), Fact("frame.dropout-slot")],
) -> CheckResult:
    """Distance at which the chain is just tight, against the reach of the slots [mm].

    Source: the handbook series turned round; the room for wear is common practice.
    """
    centre = centre_for_pitches_mm(links, ring, sprocket)
    back = centre - chainstay_mm
    left = slot_mm - back
    if not at_least(back, 0.0):
        verdict = Verdict.DOES_NOT_FIT
        advice = "The chain is too short: the axle would have to sit in front of its slot. Take a chain with two more."
    elif not at_most(back, slot_mm):
        verdict = Verdict.DOES_NOT_FIT
        advice = "The chain is too long: the axle would slide out of its slot. Take two links out."
    elif not at_least(left, _WEAR_ROOM_MM):
        verdict, advice = Verdict.WITH_CARE, "The axle sits near the end of its slot: two links less, if they will do."
    else:
        verdict, advice = Verdict.FITS, "The axle sits in its slot, with room for the chain to wear."
    n = write_number
    return CheckResult(
        verdict=verdict,
        value=centre,
        unit=Unit.MILLIMETRE,
        limit=chainstay_mm + slot_mm,
        margin=None if verdict is Verdict.WITH_CARE else min(back, left),
        working=(
            f"Pitches beyond the halves of the teeth: {links} − ({ring} + {sprocket}) / 2"
            f" = {n(links - (ring + sprocket) / 2)}",
            f"Just tight at: {n(centre)} mm",
            f"Behind the front end of the slot: {n(centre)} − {n(chainstay_mm)} = {n(back)} mm",
            f"Left of the slot: {n(slot_mm)} − {n(back)} = {n(left)} mm",
        ),
        advice=advice,
        values=(named("left", left, Unit.MILLIMETRE),),
    )
