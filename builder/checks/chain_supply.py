"""Whether a new chain, as it is sold, is long enough, and how much of it is cut off."""

from __future__ import annotations

from builder.checks.judging import named, whole
from builder.checks.result import Check, CheckResult, Input, Inputs, Kind, Provenance, Source, Verdict
from builder.model.units import Unit


def _chain_supply(inputs: Inputs) -> CheckResult:
    sold, needed = whole(inputs, "sold"), whole(inputs, "needed")
    over = sold - needed
    if over < 0:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"Take a chain of at least {needed} links. Links of another chain are never added."
    elif over == 0:
        verdict, advice = Verdict.FITS, "The chain needs no cut."
    else:
        verdict, advice = Verdict.FITS, f"Cut {over} links off, after a look at the real path."
    return CheckResult(
        check=CHAIN_SUPPLY.name,
        verdict=verdict,
        value=float(sold),
        unit=Unit.LINKS,
        limit=float(needed),
        margin=float(over),
        working=(f"Sold with {sold} links, needed {needed}", f"To cut off: {sold} − {needed} = {over} links"),
        source=str(CHAIN_SUPPLY.source),
        advice=advice,
        values=(named("cut-off", float(max(0, over)), Unit.LINKS),),
    )


def _links(name: str, words: str) -> Input:
    return Input(name=name, words=words, kind=Kind.WHOLE, unit=Unit.LINKS, low=40, high=220)


CHAIN_SUPPLY = Check(
    name="chain-supply",
    family="Sprockets and chain",
    title="Is the new chain long enough?",
    purpose=(
        "Chains are sold in a few lengths. One that is too short for the largest sprocket is found out only when the "
        "packet is open."
    ),
    formula=r"c = n_\text{sold} - N",
    inputs=(
        _links("sold", "links of the chain as it is sold, its joiner counted"),
        _links("needed", "links that the bike needs, from the chain-length check"),
    ),
    source=Source(title="Links are cut off and never added", provenance=Provenance.COMMON_PRACTICE),
    run=_chain_supply,
    at_verdict={
        Verdict.FITS: "Lay the chain round the largest ring and the largest sprocket, then cut it.",
        Verdict.DOES_NOT_FIT: "Take a longer chain.",
    },
    example={"sold": "116", "needed": "112"},
    drawing="chain-path",
    notes="c are the links to cut off, n the links sold, N the links needed.",
)

CHECKS = (CHAIN_SUPPLY,)
