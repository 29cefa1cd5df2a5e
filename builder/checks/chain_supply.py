"""Whether a new chain, as it is sold, is long enough, and how much of it is cut off."""

from __future__ import annotations

from typing import Annotated

from builder.checks.check import Asked, Family, check
from builder.checks.judging import named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Bounds, Fact, In, Meaning
from builder.model.units import Unit

# The longest chain for derailleurs that shops usually hold. Common practice, no source.
LONGEST_SOLD = 126


@check(
    family=Family.SPROCKETS,
    title="Is the new chain long enough?",
    purpose=(
        "Chains are sold in a few lengths. One that is too short for the largest sprocket is found out only when the "
        "packet is open."
    ),
    formula=r"c = n_\text{sold} - N",
    source=Source(title="Links are cut off and never added", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Lay the chain round the largest ring and the largest sprocket, then cut it.",
        Verdict.WITH_CARE: "Buy two new chains of one kind and a second joiner, and join them with it.",
        Verdict.DOES_NOT_FIT: "Take a longer chain.",
    },
    example={"sold": "116", "needed": "112"},
    drawing="chain-path",
    notes="c are the links to cut off, n the links sold, N the links needed.",
    asked=Asked(only={"worked-out.transmission": ("derailleur",)}, new=("chain",), cures=("chain",)),
)
def chain_supply(
    sold: Annotated[
        int,
        In(Unit.LINKS),
        Bounds(40, 220),
        Meaning("links of the chain as it is sold, its joiner counted"),
        Fact("chain.links"),
    ],
    needed: Annotated[
        int,
        In(Unit.LINKS),
        Bounds(40, 220),
        Meaning("links that the bike needs, from the chain-length check"),
        Fact("worked-out.links-needed"),
    ],
) -> CheckResult:
    """Whether a new chain is long enough, and how much of it is cut off [links]. Source: common practice."""
    over = sold - needed
    chains = 1
    if over < 0 and needed > LONGEST_SOLD and 2 * sold >= needed:
        chains, over = 2, 2 * sold - needed
        verdict = Verdict.WITH_CARE
        advice = (
            f"No single chain is sold so long. Join two new chains of this kind with a second joiner, and cut {over} "
            "links off."
        )
    elif over < 0:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"Take a chain of at least {needed} links. Links of another chain are never added."
    elif over == 0:
        verdict, advice = Verdict.FITS, "The chain needs no cut."
    else:
        verdict, advice = Verdict.FITS, f"Cut {over} links off, after a look at the real path."
    return CheckResult(
        verdict=verdict,
        value=float(sold),
        unit=Unit.LINKS,
        limit=float(needed),
        margin=float(over) if chains == 1 else None,
        working=(
            f"Sold with {sold} links, needed {needed}",
            f"To cut off: {'' if chains == 1 else '2 × '}{sold} − {needed} = {over} links",
        ),
        advice=advice,
        values=(named("cut-off", float(max(0, over)), Unit.LINKS), named("chains", float(chains))),
    )
