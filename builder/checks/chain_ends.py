"""The ends of the chain: what a joiner asks for, and that a closed chain has an even number of links."""

from __future__ import annotations

from builder.checks.judging import choice, named, whole, word
from builder.checks.result import Check, CheckResult, Input, Inputs, Kind, Provenance, Source, Verdict
from builder.model.units import Unit, write_number

_FAMILY = "Sprockets and chain"
QUICK_LINK, JOINING_PIN = "quick-link", "joining-pin"
JOINERS = (QUICK_LINK, JOINING_PIN)


def ends_words(links: int, joiner: str) -> str:
    """How the cut chain must end for its joiner, and how many ordinary links it keeps."""
    if joiner == QUICK_LINK:
        return f"Leave {links - 1} links with an inner link at both ends; the quick link is link {links}."
    return f"Leave {links} links with an inner link at one end and outer plates at the other."


def _chain_ends(inputs: Inputs) -> CheckResult:
    links, joiner = whole(inputs, "links"), word(inputs, "joiner")
    even = links % 2 == 0
    closes = links if even else links + 1
    kept = links - 1 if joiner == QUICK_LINK else links
    pairs = "an inner link at both ends" if kept % 2 else "one inner end and one outer end"
    counted = f"{kept} ordinary links and the quick link as one" if joiner == QUICK_LINK else f"{links} ordinary links"
    return CheckResult(
        check="chain-ends",
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
        source=str(CHAIN_ENDS.source),
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


CHAIN_ENDS = Check(
    name="chain-ends",
    family=_FAMILY,
    title="Ends of the chain and its joiner",
    purpose=(
        "A chain is cut once. Its ends must suit the joiner: a quick link goes between two inner links, a joining pin "
        "between an inner link and outer plates."
    ),
    formula=r"N = 2k, \quad k = 1, 2, 3, \ldots",
    inputs=(
        Input(
            name="links",
            words="links of the closed chain, inner and outer both, the joiner as one",
            kind=Kind.WHOLE,
            unit=Unit.LINKS,
            low=40,
            high=220,
        ),
        choice("joiner", "what closes the chain", JOINERS, default=QUICK_LINK),
    ),
    source=Source(
        title="Inner and outer links take turns in a roller chain (ISO 606)",
        locator="joining is common practice",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    run=_chain_ends,
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
)

CHECKS = (CHAIN_ENDS,)
