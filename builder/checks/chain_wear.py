"""Wear of the chain, whether it may go on new sprockets, and whether its width suits the number of speeds."""

from __future__ import annotations

from collections.abc import Mapping

from builder.checks.chain_geometry import PITCH_MM
from builder.checks.judging import at_least, at_most, named, number, number_or_none, quantity, whole
from builder.checks.result import Check, CheckResult, Input, InputError, Inputs, Kind, Provenance, Source, Verdict
from builder.model.units import Unit, write_number

_FAMILY = "Sprockets and chain"
NARROW_SPEEDS = 11
NARROW_LIMIT, WIDE_LIMIT, SPROCKETS_TOO = 0.5, 0.75, 1.0
# Half of the tighter limit: below it a chain counts as good for new sprockets.
_NEARLY_NEW = 0.25
_SHORTEST, _LONGEST = -0.5, 3.0
_WEAR_DECIMALS = 6

_SPEEDS = Input(
    name="speeds",
    words="number of sprockets that the chain is made for",
    kind=Kind.WHOLE,
    low=1,
    high=14,
    default=NARROW_SPEEDS,
)


def _n(value: float, decimals: int = 2) -> str:
    return write_number(value, decimals)


def chain_wear_percent(length_mm: float, links: int) -> float:
    """How much longer than new the chain is [%], from a measured length over so many links.

    Source: definition, on the pitch of 12.7 mm (ISO 606).
    """
    return 100 * (length_mm / (links * PITCH_MM) - 1)


def wear_limit_percent(speeds: int) -> float:
    """Wear at which the chain is replaced [%]: 0.5 from 11 speeds on, 0.75 below. Common practice, no source."""
    return NARROW_LIMIT if speeds >= NARROW_SPEEDS else WIDE_LIMIT


def _chain_wear(inputs: Inputs) -> CheckResult:
    length, links, speeds = number(inputs, "length"), whole(inputs, "links"), whole(inputs, "speeds")
    new = links * PITCH_MM
    wear = chain_wear_percent(length, links)
    if not _SHORTEST <= wear <= _LONGEST:
        raise InputError(
            f"length: {length:g} mm can't be {links} links, which measure {new:.1f} mm when new; count the links again"
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
        check="chain-wear",
        verdict=verdict,
        value=wear,
        unit=Unit.PERCENT,
        limit=limit,
        margin=limit - wear,
        working=(
            f"New: {links} × 12.7 mm = {_n(new)} mm",
            f"Longer by: {_n(length)} − {_n(new)} = {_n(length - new, 3)} mm",
            f"In per cent: 100 × {_n(length - new, 3)} / {_n(new)} = {_n(wear, 3)} %",
            f"Limit for {speeds} speeds: {_n(limit)} %, which is {_n(new * (1 + limit / 100))} mm",
        ),
        source=str(CHAIN_WEAR.source),
        advice=advice,
        values=(
            named("new-length", new, Unit.MILLIMETRE),
            named("longer-by", length - new, Unit.MILLIMETRE),
            named("length-at-limit", new * (1 + limit / 100), Unit.MILLIMETRE),
            named("sprockets-too", SPROCKETS_TOO, Unit.PERCENT),
        ),
    )


CHAIN_WEAR = Check(
    name="chain-wear",
    family=_FAMILY,
    title="Wear of the chain",
    purpose=(
        "A chain grows longer as its pins wear. Past the limit it wears the sprockets into its own shape, and a new "
        "chain will not run on them. A rule or calipers are all that it takes."
    ),
    formula=r"w = 100\,\% \cdot \left(\frac{l}{n\,p} - 1\right)",
    inputs=(
        quantity("length", "from pin to pin over the links, the chain pulled tight", Unit.MILLIMETRE, 50, 3000),
        Input(
            name="links",
            words="links between the two pins, inner and outer both",
            kind=Kind.WHOLE,
            unit=Unit.LINKS,
            low=4,
            high=220,
        ),
        _SPEEDS,
    ),
    source=Source(
        title="Elongation on the pitch of 12.7 mm (ISO 606)",
        locator="limits of 0.5, 0.75 and 1.0 %",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    run=_chain_wear,
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
        "maker's own gauge and limit go first. Without a number of speeds the tighter limit holds."
    ),
)


def _new_sprockets(inputs: Inputs) -> CheckResult:
    wear, speeds = number(inputs, "wear"), whole(inputs, "speeds")
    limit = wear_limit_percent(speeds)
    if round(limit - wear, _WEAR_DECIMALS) <= 0:
        verdict = Verdict.DOES_NOT_FIT
        advice = "Fit a new chain with the new sprockets: this one is worn out and would wear them from the first ride."
    elif round(_NEARLY_NEW - wear, _WEAR_DECIMALS) >= 0:
        verdict, advice = Verdict.FITS, "The chain is nearly new; it may go on the new sprockets."
    else:
        verdict = Verdict.WITH_CARE
        advice = (
            "The chain is part-worn: it runs, but it costs the new sprockets some of their life. A new one is better."
        )
    return CheckResult(
        check="chain-on-new-sprockets",
        verdict=verdict,
        value=wear,
        unit=Unit.PERCENT,
        limit=limit,
        margin=limit - wear,
        working=(
            f"Wear of the chain: {_n(wear, 3)} %",
            f"Nearly new up to {_n(_NEARLY_NEW)} %; worn out at {_n(limit)} % with {speeds} speeds",
            f"Left: {_n(limit)} − {_n(wear, 3)} = {_n(limit - wear, 3)} %",
        ),
        source=str(NEW_SPROCKETS.source),
        advice=advice,
    )


NEW_SPROCKETS = Check(
    name="chain-on-new-sprockets",
    family=_FAMILY,
    title="An old chain on new sprockets",
    purpose="A worn chain on a new cassette wears it out in a short time. This says whether the old chain may stay.",
    formula=r"w < w_{max}",
    inputs=(
        quantity("wear", "wear of the chain, from the chain-wear check", Unit.PERCENT, _SHORTEST, _LONGEST),
        _SPEEDS,
    ),
    source=Source(
        title="A worn chain does not go on new sprockets",
        locator="'nearly new' up to 0.25 % is this workshop guide's own choice",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    run=_new_sprockets,
    at_verdict={
        Verdict.FITS: "Keep the chain.",
        Verdict.WITH_CARE: "Better fit a new chain; tell the rider what keeping the old one costs.",
        Verdict.DOES_NOT_FIT: "Fit a new chain.",
    },
    example={"wear": "0.35 %", "speeds": "10"},
    notes="w is the wear in per cent; the limit is that of the chain-wear check: 0.5 % from 11 speeds on, else 0.75 %.",
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


def chain_speeds_for(width_mm: float) -> tuple[int, ...]:
    """The numbers of speeds for which a chain of this width over its pins is usual. Common practice, no source."""
    return tuple(speeds for speeds, (low, high) in PIN_WIDTHS_MM.items() if low <= round(width_mm, 6) <= high)


def _pin_width_mm(speeds: int) -> tuple[float, float]:
    """The row of the nearest number of speeds, the larger one of two that are as near."""
    return PIN_WIDTHS_MM[min(PIN_WIDTHS_MM, key=lambda known: (abs(known - speeds), -known))]


def _chain_width(inputs: Inputs) -> CheckResult:
    speeds, width = whole(inputs, "speeds"), number_or_none(inputs, "width")
    made_for = whole(inputs, "chain-speeds") if "chain-speeds" in inputs else None
    low, high = _pin_width_mm(speeds)
    working = [f"Usual width over the pins for {speeds} speeds: {_n(low, 1)} to {_n(high, 1)} mm"]
    if width is None and made_for is not None:
        width = sum(_pin_width_mm(made_for)) / 2
        working.append(f"A chain made for {made_for} speeds is about {_n(width, 1)} mm wide")
    if width is None:
        return CheckResult(
            check="chain-width",
            verdict=Verdict.MEASURE_FIRST,
            value=None,
            unit=Unit.MILLIMETRE,
            limit=high,
            working=tuple(working),
            source=str(CHAIN_WIDTH.source),
            advice="Read the number of speeds on the chain or its box, or measure over a pin's ends with calipers.",
        )
    working.append(f"Room left: {_n(high)} − {_n(width)} = {_n(high - width)} mm")
    if at_least(width, low) and at_most(width, high):
        verdict, advice = Verdict.FITS, "The chain suits the sprockets."
    elif not at_most(width, high):
        verdict = Verdict.DOES_NOT_FIT
        advice = f"Too wide: it would rub on the next sprocket. Fit a chain made for {speeds} speeds."
    else:
        verdict = Verdict.WITH_CARE
        advice = (
            f"Narrower than usual: it runs, but it shifts slower and may drop between two chainrings. A chain made for "
            f"{speeds} speeds is right."
        )
    return CheckResult(
        check="chain-width",
        verdict=verdict,
        value=width,
        unit=Unit.MILLIMETRE,
        limit=high,
        margin=high - width,
        working=tuple(working),
        source=str(CHAIN_WIDTH.source),
        advice=advice,
        values=(named("narrowest", low, Unit.MILLIMETRE), named("widest", high, Unit.MILLIMETRE)),
    )


CHAIN_WIDTH = Check(
    name="chain-width",
    family=_FAMILY,
    title="Width of the chain",
    purpose=(
        "The more sprockets stand side by side, the narrower the chain must be. A chain that is too wide rubs on the "
        "next sprocket; one that is too narrow can drop between two chainrings."
    ),
    formula=r"b_{min} \le b \le b_{max}",
    inputs=(
        Input(name="speeds", words="sprockets side by side on the rear hub", kind=Kind.WHOLE, low=1, high=13),
        Input(
            name="chain-speeds",
            words="number of speeds that the chain's maker states",
            kind=Kind.WHOLE,
            low=1,
            high=13,
            optional=True,
        ),
        quantity("width", "measured over the ends of a pin", Unit.MILLIMETRE, 4, 12, optional=True),
    ),
    source=Source(
        title="Usual widths over the pins", locator="by number of speeds", provenance=Provenance.COMMON_PRACTICE
    ),
    run=_chain_width,
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
        "6.5 to 6.8; 10: 5.8 to 6.2; 11: 5.4 to 5.7; 12: 5.1 to 5.4; 13: 4.8 to 5.1. The chain maker's list goes first."
    ),
)

CHECKS = (CHAIN_WEAR, NEW_SPROCKETS, CHAIN_WIDTH)
