"""Length of the chain: how many links to fit, and whether the chain that is on the bike is long enough."""

from __future__ import annotations

from typing import Annotated

from builder.checks.chain_ends import QUICK_LINK, JoinerOf, ends_words
from builder.checks.chain_geometry import (
    DERAILLEUR_LINKS,
    Loop,
    even_links,
    growth_teeth,
    handbook_pitches,
    loop_round,
    workshop_rule_links,
)
from builder.checks.check import Asked, Family, Force, check
from builder.checks.inputs import Capacity, Chainstay, ExtraLinks, Growth, LargestRing, LargestSprocket, Teeth
from builder.checks.judging import named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit, write_number, write_quantity

_SOURCE = Source(
    title="Open loop over two pitch circles of ISO 606; series of Mott, Machine Elements in Mechanical Design",
    locator="4th edition, section 7-6; two links for the derailleur and the even number are common practice",
    provenance=Provenance.LOOKED_UP,
)


def _n(value: float, decimals: int = 2) -> str:
    return write_number(value, decimals)


def loop_working(loop: Loop) -> tuple[str, ...]:
    """The lines that lead from the distance and the tooth counts to the pitches of the loop."""
    step = loop.large_radius_mm - loop.small_radius_mm
    large, small = _n(loop.large_radius_mm), _n(loop.small_radius_mm)
    lean = _n(loop.lean_deg, 3)
    return (
        f"Pitch radius, {loop.large_teeth} teeth: 12.7 / (2 × sin(180° / {loop.large_teeth})) = {large} mm",
        f"Pitch radius, {loop.small_teeth} teeth: 12.7 / (2 × sin(180° / {loop.small_teeth})) = {small} mm",
        f"Lean of the straight runs: arcsin(({large} − {small}) / {_n(loop.centre_mm)}) = {lean}°",
        f"One straight run: √({_n(loop.centre_mm)}² − {_n(step)}²) = {_n(loop.straight_mm)} mm",
        f"Both runs in pitches: 2 × {_n(loop.straight_mm)} / 12.7 = {_n(2 * loop.straight_mm / 12.7, 3)}",
        f"Round the larger: {loop.large_teeth} × (180° + 2 × {lean}°) / 360° = {_n(loop.large_wrap, 3)}",
        f"Round the smaller: {loop.small_teeth} × (180° − 2 × {lean}°) / 360° = {_n(loop.small_wrap, 3)}",
        f"Round both: {_n(2 * loop.straight_mm / 12.7, 3)} + {_n(loop.large_wrap, 3)} + {_n(loop.small_wrap, 3)}"
        f" = {_n(loop.pitches, 3)} pitches",
    )


def _centre_line(chainstay_mm: float, growth_mm: float) -> tuple[str, ...]:
    if not growth_mm:
        return ()
    total = chainstay_mm + growth_mm
    return (f"Longest axle distance: {_n(chainstay_mm)} + {_n(growth_mm)} = {_n(total)} mm",)


@check(
    family=Family.SPROCKETS,
    title="Length of the chain",
    purpose=(
        "A chain that is too short tears the derailleur off when somebody shifts to the largest ring and the largest "
        "sprocket. This counts the links that this path needs, before anything is cut."
    ),
    formula=(
        r"L = \frac{2 C \cos\alpha}{p} + z_1\left(\frac{1}{2} + \frac{\alpha}{180^\circ}\right)"
        r" + z_2\left(\frac{1}{2} - \frac{\alpha}{180^\circ}\right)"
        r", \quad \sin\alpha = \frac{d_1 - d_2}{2 C}"
        r", \quad N = 2\left\lceil\frac{L + 2}{2}\right\rceil"
    ),
    source=_SOURCE,
    at_verdict={
        Verdict.FITS: "Cut to this number of links, after a look at the real path round largest and largest.",
        Verdict.WITH_CARE: "The measurement leaves two answers open: keep the longer chain, and look before you cut.",
    },
    example={"chainstay": "425 mm", "ring": "32", "sprocket": "40", "growth": "0 mm", "joiner": "quick-link"},
    drawing="chain-path",
    notes=(
        "L is the loop in pitches round the larger (z1, d1) and the smaller (z2, d2) of the two, C the centre "
        "distance, p the pitch of 12.7 mm, N the links to fit. A link is one pitch: an inner and an outer link are "
        "two. A quick link counts as one. The workshop rule adds its inch for the derailleur by itself; it agrees with "
        "the exact way within a pair of links. Two links more are usual; where the derailleur's maker asks for others, "
        "that rule goes first, and 'extra' says how many beyond the two. 'without-derailleur' is for a bike whose axle "
        "slides in the dropout. With rear suspension give the growth: the chain must reach where the axle is farthest "
        "away."
    ),
    asked=Asked(force=Force.TELLS, only={"worked-out.transmission": ("derailleur",)}, cuts=("chain",)),
)
def chain_length(
    chainstay_mm: Chainstay,
    ring: LargestRing,
    sprocket: LargestSprocket,
    growth_mm: Growth = 0.0,
    joiner: JoinerOf = QUICK_LINK,
    extra: ExtraLinks = 0,
) -> CheckResult:
    """Links needed to pass round the largest ring and the largest sprocket.

    Exact length of an open loop round two pitch circles, with the links for the path through the derailleur, rounded
    up to whole pairs. Distances in mm.

    Source: see the check.
    """
    loop = loop_round(chainstay_mm + growth_mm, ring, sprocket)
    exact = loop.pitches
    added = DERAILLEUR_LINKS + extra
    needed = exact + added
    links = even_links(needed)
    approximation = handbook_pitches(chainstay_mm + growth_mm, ring, sprocket)
    rule = workshop_rule_links(chainstay_mm + growth_mm, ring, sprocket)
    return CheckResult(
        verdict=Verdict.FITS,
        value=float(links),
        unit=Unit.LINKS,
        limit=needed,
        margin=links - needed,
        working=(
            *_centre_line(chainstay_mm, growth_mm),
            *loop_working(loop),
            f"More for the path through the derailleur: {_n(exact, 3)} + {added} = {_n(needed, 3)}",
            f"Up to an even number, so that the ends meet: {links} links",
            ends_words(links, joiner),
            f"Cross-check, handbook series: {_n(approximation, 3)} pitches before the two are added",
            f"Cross-check, workshop rule in inches: 2 × ({_n((chainstay_mm + growth_mm) / 25.4, 3)} × 2 + {ring} / 4"
            f" + {sprocket} / 4 + 1) = {_n(rule)} links",
        ),
        advice=(
            f"Fit {links} links. {ends_words(links, joiner)} Before you cut, lay the chain round the largest ring and "
            "the largest sprocket and look: the derailleur must not be pulled straight."
        ),
        values=(
            named("exact", exact, Unit.LINKS),
            named("approximation", approximation, Unit.LINKS),
            named("trade-rule", rule, Unit.LINKS),
            named("trade-rule-links", float(even_links(rule)), Unit.LINKS),
            named("needed", needed, Unit.LINKS),
            named("links-to-leave", float(links - 1 if joiner == QUICK_LINK else links), Unit.LINKS),
            named("without-derailleur", float(even_links(exact)), Unit.LINKS),
        ),
    )


def _pull_working(exact: float, added: int, wanted: int, links: int) -> tuple[str, ...]:
    return (
        f"More for the path through the derailleur: {_n(exact, 3)} + {added} = {_n(exact + added, 3)}",
        f"Up to an even number: {wanted} links wanted",
        f"On the bike: {links}; {links} − {wanted} = {write_quantity(links - wanted, Unit.LINKS, 0)}",
    )


def spare_links(rated_teeth: int, ring_span: int, sprocket_span: int) -> int:
    """Links beyond the sized chain that the cage still takes up on the smallest ring and sprocket, in whole pairs.

    One tooth of capacity takes up half a link of slack, since a sprocket holds the chain on half its turn.
    """
    spare_teeth = rated_teeth - ring_span - sprocket_span
    return max(0, 2 * (spare_teeth // 4))


@check(
    family=Family.SPROCKETS,
    title="Is this chain long enough?",
    purpose=(
        "The chain that is on the bike may be too short for a larger sprocket, or so long that it sags in the small "
        "gears. This says by how many links."
    ),
    formula=r"m = n - 2\left\lceil\frac{L + 2}{2}\right\rceil",
    source=_SOURCE,
    at_verdict={
        Verdict.FITS: "Keep the chain if its wear allows.",
        Verdict.WITH_CARE: "Look at smallest and smallest: shorten the chain if it sags.",
        Verdict.DOES_NOT_FIT: "Fit a longer chain before the largest sprocket is used. Never add used links.",
        Verdict.MEASURE_FIRST: "Count the links again, with a mark on the chain where you begin.",
    },
    example={"links": "108", "chainstay": "425 mm", "ring": "32", "sprocket": "51", "growth": "0 mm"},
    drawing="chain-path",
    notes=(
        "m is what the chain has beyond the links wanted, n the links on the bike, L the loop of the chain-length "
        "check. With the smallest ring, the smallest sprocket and the capacity given, the check also knows how much "
        "surplus the cage takes up."
    ),
    asked=Asked(
        force=Force.CONDITION, only={"worked-out.transmission": ("derailleur",)}, kept=("chain",), cures=("chain",)
    ),
)
def chain_reach(
    links: Annotated[
        int,
        In(Unit.LINKS),
        Bounds(40, 220),
        Meaning("links of the chain on the bike, inner and outer both, the joiner as one"),
        Fact("measured.chain-links"),
    ],
    chainstay_mm: Chainstay,
    ring: LargestRing,
    sprocket: LargestSprocket,
    growth_mm: Growth = 0.0,
    small_ring: Annotated[Teeth | None, Meaning("teeth of the smallest chainring"), Fact("crankset.rings", min)] = None,
    small_sprocket: Annotated[
        Teeth | None, Meaning("teeth of the smallest sprocket"), Fact("cassette.sprockets", min)
    ] = None,
    rated: Capacity = None,
    extra: ExtraLinks = 0,
) -> CheckResult:
    """Whether the chain on the bike reaches round largest and largest, and what it has to spare. Distances in mm.

    Source: see the check.
    """
    loop = loop_round(chainstay_mm + growth_mm, ring, sprocket)
    added = DERAILLEUR_LINKS + extra
    needed = loop.pitches + added
    wanted = even_links(needed)
    working = [*_centre_line(chainstay_mm, growth_mm), *loop_working(loop)]
    working += _pull_working(loop.pitches, added, wanted, links)
    surplus = links - wanted
    spare = _spare(ring, sprocket, small_ring, small_sprocket, rated, growth_mm)
    if links % 2:
        verdict = Verdict.MEASURE_FIRST
        advice = (
            f"{links} is odd, and a chain closes only on an even number. Count again: inner and outer links both, the "
            "joiner as one."
        )
    elif surplus < 0:
        verdict = Verdict.DOES_NOT_FIT
        round_both = " It would not even close round the two." if links < loop.pitches else ""
        advice = (
            f"Too short by {-surplus} links: fit a chain of at least {wanted} links.{round_both} Do not shift to the "
            "largest ring and the largest sprocket with this chain."
        )
    elif surplus == 0:
        verdict, advice = Verdict.FITS, "The chain has the right length."
    elif spare is not None and surplus <= spare:
        verdict = Verdict.FITS
        working.append(f"The cage takes up {spare} links beyond the sized chain on the smallest ring and sprocket")
        advice = f"{surplus} links longer than it need be; the cage still takes that up."
    else:
        verdict = Verdict.WITH_CARE
        advice = (
            f"Longer than it need be by {surplus} links. Shift to the smallest ring and the smallest sprocket: if the "
            f"chain sags or rubs on itself, take {surplus} links out."
        )
    return CheckResult(
        verdict=verdict,
        value=float(links),
        unit=Unit.LINKS,
        limit=float(wanted),
        margin=float(surplus),
        working=tuple(working),
        advice=advice,
        values=(
            named("wanted", float(wanted), Unit.LINKS),
            named("missing", float(max(0, -surplus)), Unit.LINKS),
            named("surplus", float(max(0, surplus)), Unit.LINKS),
            named("spare", float(spare or 0), Unit.LINKS),
            named("exact", loop.pitches, Unit.LINKS),
        ),
    )


def _spare(
    ring: int, sprocket: int, small_ring: int | None, small_sprocket: int | None, rated: int | None, growth_mm: float
) -> int | None:
    if small_ring is None or small_sprocket is None or rated is None:
        return None
    ring_span, sprocket_span = ring - min(ring, small_ring), sprocket - min(sprocket, small_sprocket)
    return spare_links(rated - growth_teeth(growth_mm), ring_span, sprocket_span)
