"""Wear of the chain, whether it may go on new sprockets, and whether its width suits the number of speeds."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from builder.checks.chain_geometry import PITCH_MM
from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import at_least, at_most, named
from builder.checks.result import CheckResult, InputError, Provenance, Source, Verdict
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit, write_number

NARROW_SPEEDS = 11
NARROW_LIMIT, WIDE_LIMIT, SINGLE_LIMIT, SPROCKETS_TOO = 0.5, 0.75, 1.0, 1.0
# Half of the tighter limit: below it a chain counts as good for new sprockets.
_NEARLY_NEW = 0.25
_SHORTEST, _LONGEST = -0.5, 3.0
_WEAR_DECIMALS = 6

Speeds = Annotated[
    int, Bounds(1, 14), Meaning("number of sprockets that the chain is made for"), Fact("cassette.sprockets", len)
]


def _n(value: float, decimals: int = 2) -> str:
    return write_number(value, decimals)


def chain_wear_percent(length_mm: float, links: int) -> float:
    """How much longer than new the chain is [%], from a measured length over so many links.

    Source: definition, on the pitch of 12.7 mm (ISO 606).
    """
    return 100 * (length_mm / (links * PITCH_MM) - 1)


def wear_limit_percent(speeds: int) -> float:
    """Wear at which the chain is replaced [%]: 0.5 from 11 speeds on, 0.75 below, 1.0 on a single sprocket.

    Common practice, no source.
    """
    if speeds == 1:
        return SINGLE_LIMIT
    return NARROW_LIMIT if speeds >= NARROW_SPEEDS else WIDE_LIMIT


def _speeds_words(speeds: int) -> str:
    return "a single sprocket" if speeds == 1 else f"{speeds} speeds"


@check(
    family=Family.SPROCKETS,
    title="Wear of the chain",
    purpose=(
        "A chain grows longer as its pins wear. Past the limit it wears the sprockets into its own shape, and a new "
        "chain will not run on them. A rule or calipers are all that it takes."
    ),
    formula=r"w = 100\,\% \cdot \left(\frac{l}{n\,p} - 1\right)",
    source=Source(
        title="Elongation on the pitch of 12.7 mm (ISO 606)",
        locator="limits of 0.5, 0.75 and 1.0 %",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    at_verdict={
        Verdict.FITS: "Keep the chain, and measure again in a few hundred kilometres.",
        Verdict.WITH_CARE: "At or near the limit. Measure at three places; if one is past it, replace the chain.",
        Verdict.DOES_NOT_FIT: "Replace the chain. From 1.0 % on, replace the sprockets with it.",
    },
    example={"length": "306.4 mm", "links": "24", "speeds": "11"},
    drawing="chain-gauge",
    notes=(
        "w is the wear, l the measured length, n the number of links, p the pitch of 12.7 mm. Over 24 links (12 inches "
        "new) 0.5 % is 1.5 mm and 1.0 % is 3 mm. Measure from one edge of a pin to the same edge of the other. The "
        "maker's own gauge and limit go first. Without a number of speeds the tighter limit holds; a chain on a single "
        "sprocket, which never has to climb from one to the next, runs to 1.0 %."
    ),
    asked=Asked(force=Force.CONDITION, kept=("chain",), cures=("chain",)),
)
def chain_wear(
    length_mm: Annotated[
        float, Meaning("from pin to pin over the links, the chain pulled tight"), Fact("measured.chain-length")
    ],
    links: Annotated[
        int,
        In(Unit.LINKS),
        Bounds(4, 220),
        Meaning("links between the two pins, inner and outer both"),
        Fact("worked-out.links-measured"),
    ],
    speeds: Speeds = NARROW_SPEEDS,
) -> CheckResult:
    """How much longer than new the chain is [%], against its limit. Source: definition; limits are common practice."""
    new = links * PITCH_MM
    wear = chain_wear_percent(length_mm, links)
    if not _SHORTEST <= wear <= _LONGEST:
        raise InputError(
            f"length: {length_mm:g} mm can't be {links} links, which measure {new:.1f} mm when new; count the links "
            "again"
        )
    limit = wear_limit_percent(speeds)
    margin = round(limit - wear, _WEAR_DECIMALS)
    if margin < 0:
        verdict = Verdict.DOES_NOT_FIT
        advice = "Replace the chain."
        if round(wear - SPROCKETS_TOO, _WEAR_DECIMALS) >= 0:
            advice = "Replace the chain and the sprockets: a new chain would jump on them. Look at the rings too."
    elif margin == 0:
        verdict, advice = Verdict.WITH_CARE, "At the limit: replace the chain now, while the sprockets are good."
    else:
        verdict, advice = Verdict.FITS, f"Good until {_n(limit)} %, which is {_n(new * (1 + limit / 100))} mm."
    return CheckResult(
        verdict=verdict,
        value=wear,
        unit=Unit.PERCENT,
        limit=limit,
        margin=limit - wear,
        working=(
            f"New: {links} × 12.7 mm = {_n(new)} mm",
            f"Longer by: {_n(length_mm)} − {_n(new)} = {_n(length_mm - new, 3)} mm",
            f"In per cent: 100 × {_n(length_mm - new, 3)} / {_n(new)} = {_n(wear, 3)} %",
            f"Limit for {_speeds_words(speeds)}: {_n(limit)} %, which is {_n(new * (1 + limit / 100))} mm",
        ),
        advice=advice,
        values=(
            named("new-length", new, Unit.MILLIMETRE),
            named("longer-by", length_mm - new, Unit.MILLIMETRE),
            named("length-at-limit", new * (1 + limit / 100), Unit.MILLIMETRE),
            named("sprockets-too", SPROCKETS_TOO, Unit.PERCENT),
        ),
    )


@check(
    family=Family.SPROCKETS,
    title="An old chain on new sprockets",
    purpose="A worn chain on a new cassette wears it out in a short time. This says whether the old chain may stay.",
    formula=r"w < w_{max}",
    source=Source(
        title="A worn chain does not go on new sprockets",
        locator="'nearly new' up to 0.25 % is this workshop guide's own choice",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    at_verdict={
        Verdict.FITS: "Keep the chain.",
        Verdict.WITH_CARE: "Better fit a new chain; tell the rider what keeping the old one costs.",
        Verdict.DOES_NOT_FIT: "Fit a new chain.",
    },
    example={"wear": "0.35 %", "speeds": "10"},
    notes="w is the wear in per cent; on new sprockets the tighter limit of chain wear, 0.5 %, holds for all.",
    asked=Asked(force=Force.CONDITION, new=("cassette",), kept=("chain",), cures=("chain",)),
)
def chain_on_new_sprockets(
    wear_percent: Annotated[
        float,
        In(Unit.PERCENT),
        Bounds(_SHORTEST, _LONGEST),
        Meaning("wear of the chain, from the chain-wear check"),
        Fact("worked-out.chain-wear"),
    ],
    speeds: Speeds = NARROW_SPEEDS,
) -> CheckResult:
    """Whether a chain of so much wear [%] may go on new sprockets. Source: common practice."""
    limit = min(NARROW_LIMIT, wear_limit_percent(speeds))
    if round(limit - wear_percent, _WEAR_DECIMALS) <= 0:
        verdict = Verdict.DOES_NOT_FIT
        advice = "Fit a new chain with the new sprockets: this one is worn and would wear them from the first ride."
    elif round(_NEARLY_NEW - wear_percent, _WEAR_DECIMALS) >= 0:
        verdict, advice = Verdict.FITS, "The chain is nearly new; it may go on the new sprockets."
    else:
        verdict = Verdict.WITH_CARE
        advice = (
            "The chain is part-worn: it runs, but it costs the new sprockets some of their life. A new one is better."
        )
    return CheckResult(
        verdict=verdict,
        value=wear_percent,
        unit=Unit.PERCENT,
        limit=limit,
        margin=limit - wear_percent,
        working=(
            f"Wear of the chain: {_n(wear_percent, 3)} %",
            f"Nearly new up to {_n(_NEARLY_NEW)} %; too worn for new sprockets at {_n(limit)} %",
            f"Left: {_n(limit)} − {_n(wear_percent, 3)} = {_n(limit - wear_percent, 3)} %",
        ),
        advice=advice,
    )


# Width over the pin ends [mm], by the number of sprockets that a chain is made for: the span seen in the trade.
PIN_WIDTHS_MM: Mapping[int, tuple[float, float]] = {
    1: (7.0, 10.5),
    5: (7.1, 8.0),
    6: (7.1, 8.0),
    7: (7.0, 7.4),
    8: (7.0, 7.4),
    9: (6.5, 6.8),
    10: (5.8, 6.2),
    11: (5.4, 5.7),
    12: (5.1, 5.4),
    13: (4.8, 5.1),
}


def _pin_width_mm(speeds: int) -> tuple[float, float]:
    """The row of the nearest number of speeds, the larger one of two that are as near."""
    return PIN_WIDTHS_MM[min(PIN_WIDTHS_MM, key=lambda known: (abs(known - speeds), -known))]


def _single_width(inner_mm: float | None, tooth_mm: float | None) -> CheckResult:
    """A single sprocket asks for room between the inner plates; outside nothing is in the way."""
    if inner_mm is None or tooth_mm is None:
        return CheckResult(
            verdict=Verdict.MEASURE_FIRST,
            value=inner_mm,
            unit=Unit.MILLIMETRE,
            limit=tooth_mm,
            working=("With a single sprocket the width between the inner plates decides: 3/32 in or 1/8 in",),
            advice="Read 3/32 or 1/8 on chain and sprocket, or measure between the inner plates and across a tooth.",
        )
    room = inner_mm - tooth_mm
    fits = not at_most(room, 0.0)
    return CheckResult(
        verdict=Verdict.FITS if fits else Verdict.DOES_NOT_FIT,
        value=inner_mm,
        unit=Unit.MILLIMETRE,
        limit=tooth_mm,
        margin=room,
        working=(f"Room on the teeth: {_n(inner_mm)} − {_n(tooth_mm)} = {_n(room)} mm",),
        advice=(
            "The chain goes on the sprocket."
            if fits
            else "The chain would ride on the tips of the teeth: take one that is wider inside."
        ),
    )


@check(
    family=Family.SPROCKETS,
    title="Width of the chain",
    purpose=(
        "The more sprockets stand side by side, the narrower the chain must be. A chain that is too wide rubs on the "
        "next sprocket; one that is too narrow can drop between two chainrings."
    ),
    formula=r"b_{min} \le b \le b_{max}",
    source=Source(
        title="Usual widths over the pins", locator="by number of speeds", provenance=Provenance.COMMON_PRACTICE
    ),
    at_verdict={
        Verdict.FITS: "Use the chain.",
        Verdict.WITH_CARE: "It will run; try the shifting under load before the bike goes out.",
        Verdict.DOES_NOT_FIT: "Fit a chain made for the number of speeds.",
        Verdict.MEASURE_FIRST: "Measure over the ends of a pin, or read the marking on the outer plates.",
    },
    example={"speeds": "10", "width": "5.9 mm"},
    drawing="chain-gauge",
    notes=(
        "b is the width over the ends of a pin. Usual widths in mm: 5 and 6 speeds 7.1 to 8.0; 7 and 8: 7.0 to 7.4; 9: "
        "6.5 to 6.8; 10: 5.8 to 6.2; 11: 5.4 to 5.7; 12: 5.1 to 5.4; 13: 4.8 to 5.1. The maker's list goes first. "
        "With a single sprocket the width inside decides: a chain of 3/32 in (2.4 mm) does not go on teeth of 1/8 in "
        "(3.2 mm)."
    ),
    asked=Asked(cures=("chain",)),
)
def chain_width(
    speeds: Annotated[
        int, Bounds(1, 14), Meaning("sprockets side by side on the rear hub"), Fact("cassette.sprockets", len)
    ],
    chain_speeds: Annotated[
        int | None, Bounds(1, 14), Meaning("number of speeds that the chain's maker states"), Fact("chain.speeds")
    ],
    width_mm: Annotated[float | None, Meaning("measured over the ends of a pin"), Fact("chain.outer-width")] = None,
    inner_mm: Annotated[
        float | None, Meaning("between the inner plates; decides with a single sprocket"), Fact("chain.inner-width")
    ] = None,
    tooth_mm: Annotated[
        float | None, Meaning("width of the single sprocket's teeth"), Fact("cassette.tooth-width")
    ] = None,
) -> CheckResult:
    """Width of the chain over its pins [mm] against what is usual for so many sprockets; inside, for one alone.

    Source: common practice.
    """
    if speeds == 1:
        return _single_width(inner_mm, tooth_mm)
    low, high = _pin_width_mm(speeds)
    working = [f"Usual width over the pins for {speeds} speeds: {_n(low, 1)} to {_n(high, 1)} mm"]
    if width_mm is None and chain_speeds is not None:
        width_mm = sum(_pin_width_mm(chain_speeds)) / 2
        working.append(f"A chain made for {chain_speeds} speeds is about {_n(width_mm, 1)} mm wide")
    if width_mm is None:
        return CheckResult(
            verdict=Verdict.MEASURE_FIRST,
            value=None,
            unit=Unit.MILLIMETRE,
            limit=high,
            working=tuple(working),
            advice="Read the number of speeds on the chain or its box, or measure over a pin's ends with calipers.",
        )
    working.append(f"Room left: {_n(high)} − {_n(width_mm)} = {_n(high - width_mm)} mm")
    if at_least(width_mm, low) and at_most(width_mm, high):
        verdict, advice = Verdict.FITS, "The chain suits the sprockets."
    elif not at_most(width_mm, high):
        verdict = Verdict.DOES_NOT_FIT
        advice = f"Too wide: it would rub on the next sprocket. Fit a chain made for {speeds} speeds."
    else:
        verdict = Verdict.WITH_CARE
        advice = (
            f"Narrower than usual: it runs, but it shifts slower and may drop between two chainrings. A chain made for "
            f"{speeds} speeds is right."
        )
    return CheckResult(
        verdict=verdict,
        value=width_mm,
        unit=Unit.MILLIMETRE,
        limit=high,
        margin=high - width_mm,
        working=tuple(working),
        advice=advice,
        values=(named("narrowest", low, Unit.MILLIMETRE), named("widest", high, Unit.MILLIMETRE)),
    )
