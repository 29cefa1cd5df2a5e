"""The ends of the chain: what a joiner asks for, and that a closed chain has an even number of links."""

from __future__ import annotations

from typing import Annotated, Literal

from builder.checks.check import Asked, Family, Force, check
from builder.checks.judging import named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit, write_number

Joiner = Literal["quick-link", "joining-pin"]
QUICK_LINK: Joiner = "quick-link"
JoinerOf = Annotated[Joiner, Meaning("what closes the chain"), Fact("worked-out.joiner")]


def ends_words(links: int, joiner: str) -> str:
    """How the cut chain must end for its joiner, and how many ordinary links it keeps."""
    if joiner == QUICK_LINK:
        return f"Leave {links - 1} links with an inner link at both ends; the quick link is link {links}."
    return f"Leave {links} links with an inner link at one end and outer plates at the other."


@check(
    family=Family.SPROCKETS,
    title="Ends of the chain and its joiner",
    purpose=(
        "A chain is cut once. Its ends must suit the joiner: a quick link goes between two inner links, a joining pin "
        "between an inner link and outer plates."
    ),
    formula=r"N = 2k, \quad k = 1, 2, 3, \ldots",
    source=Source(
        title="Inner and outer links take turns in a roller chain (ISO 606)",
        locator="joining is common practice",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    at_verdict={
        Verdict.FITS: "Cut so that the ends are as the working says.",
        Verdict.DOES_NOT_FIT: "Choose the next even number; count from the joiner, link by link.",
    },
    example={"links": "106", "joiner": "quick-link"},
    drawing="chain-ends",
    notes=(
        "N is the number of links of the closed chain. Never break a chain at the pin that joined it before, and never "
        "press a pin into a hole of outer plates that has held one already: it can pull out under load. A single-use "
        "quick link is thrown away when it is opened. A cranked half link closes an odd chain on a single-speed bike "
        "only."
    ),
    asked=Asked(force=Force.TELLS, only={"worked-out.transmission": ("derailleur",)}, when_known=True, cuts=("chain",)),
)
def chain_ends(
    links: Annotated[
        int,
        In(Unit.LINKS),
        Bounds(40, 220),
        Meaning("links of the closed chain, inner and outer both, the joiner as one"),
        Fact("worked-out.links-needed"),
    ],
    joiner: JoinerOf = QUICK_LINK,
) -> CheckResult:
    """How a chain of so many links must end for its joiner. Source: common practice."""
    even = links % 2 == 0
    closes = links if even else links + 1
    kept = links - 1 if joiner == QUICK_LINK else links
    pairs = "an inner link at both ends" if kept % 2 else "one inner end and one outer end"
    counted = f"{kept} ordinary links and the quick link as one" if joiner == QUICK_LINK else f"{links} ordinary links"
    return CheckResult(
        verdict=Verdict.FITS if even else Verdict.DOES_NOT_FIT,
        value=float(links),
        unit=Unit.LINKS,
        limit=float(closes),
        margin=float(links - closes),
        working=(
            f"In the closed chain: {counted}, {links} in all",
            f"Inner and outer links take turns: {links} / 2 = {write_number(links / 2, 1)} pairs",
            ends_words(links, joiner) if even else f"A chain of {kept} links would not suit: {links} does not pair up",
        ),
        advice=(
            ends_words(links, joiner)
            if even
            else f"An odd number never closes: two inner or two outer ends would meet. Make it {closes}, not "
            f"{links - 1}, unless the shorter chain still passes round largest and largest."
        ),
        values=(
            named("links-to-leave", float(kept), Unit.LINKS),
            named("inner-ends", 2.0 if "both" in pairs else 1.0, Unit.ONE),
        ),
    )
