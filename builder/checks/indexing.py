"""Whether shifter, derailleur and sprockets work together: the indexing sum, and standards that must be shared."""

from __future__ import annotations

from typing import Annotated

from builder.checks.check import Asked, Family, check
from builder.checks.inputs import CableRatio, SideBySide, SprocketPitch
from builder.checks.judging import at_most, named
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit, write_number

# A pulley set right on the middle sprocket is off by half the whole error at either end: at these shares by an eighth
# and by a quarter of the spacing there. Parts that are sold to work together stay within the first.
_FITS_SHARE, _LIMIT_SHARE = 0.25, 0.5


def _n(value: float, decimals: int = 3) -> str:
    return write_number(value, decimals)


def shift_error_mm(pull_mm: float, ratio: float, pitch_mm: float) -> float:
    """How much too far the derailleur moves at one click [mm]; not far enough is negative."""
    return pull_mm * ratio - pitch_mm


@check(
    family=Family.SPROCKETS,
    title="Indexing across the sprockets",
    purpose=(
        "A shifter pulls so much cable at a click, the derailleur turns it into a movement sideways, and the sprockets "
        "stand at a spacing of their own. Only if the three agree does every click land on a sprocket."
    ),
    formula=r"e = (n - 1)(a\,r - t)",
    source=Source(
        title="Cable pull times the derailleur's ratio against the sprocket spacing",
        locator="a quarter and a half of the spacing are this workshop guide's own choice",
        provenance=Provenance.COMMON_PRACTICE,
    ),
    at_verdict={
        Verdict.FITS: "Use the parts together.",
        Verdict.WITH_CARE: "Try every gear in the stand and under load before the bike goes out.",
        Verdict.DOES_NOT_FIT: "Change the shifter, the derailleur or the sprockets; no adjustment will mend it.",
    },
    example={"pull": "2.5 mm", "ratio": "1.7", "pitch": "4.34 mm", "sprockets": "9"},
    drawing="indexing",
    notes=(
        "e is the error over the whole cassette, n the number of sprockets, a the cable pulled at a click, r the "
        "derailleur's movement for each unit of cable, t the sprocket spacing. Positive: the derailleur moves too far. "
        "Pulls are averages: many shifters pull more at the last clicks. Measure cable over all clicks and divide."
    ),
    asked=Asked(
        only={"rear-derailleur.actuation": ("cable",)},
        unless={"rear-shifter.indexing": ("friction",)},
        cures=("rear-derailleur", "rear-shifter"),
        when_known=True,
    ),
)
def indexing(
    pull_mm: Annotated[float, Meaning("cable that one click of the shifter pulls"), Fact("rear-shifter.cable-pull")],
    ratio: CableRatio,
    pitch_mm: SprocketPitch,
    sprockets: SideBySide,
) -> CheckResult:
    """Error of the clicks, summed over the cassette [mm]. Source: common practice."""
    moved = pull_mm * ratio
    error = shift_error_mm(pull_mm, ratio, pitch_mm)
    total = error * (sprockets - 1)
    limit = pitch_mm * _LIMIT_SHARE
    if at_most(abs(total), pitch_mm * _FITS_SHARE):
        verdict, advice = Verdict.FITS, "The clicks follow the sprockets. Set the cable on the middle sprocket."
    elif at_most(abs(total), limit):
        verdict = Verdict.WITH_CARE
        advice = "It may be made to work: set the cable on the middle sprocket, then try every gear under load."
    else:
        verdict = Verdict.DOES_NOT_FIT
        good = pitch_mm / ratio
        advice = f"A shifter that pulls about {_n(good, 2)} mm a click would suit this derailleur and these sprockets."
    return CheckResult(
        verdict=verdict,
        value=total,
        unit=Unit.MILLIMETRE,
        limit=limit,
        margin=limit - abs(total),
        working=(
            f"The derailleur moves at a click: {_n(pull_mm)} mm × {_n(ratio)} = {_n(moved)} mm",
            f"Wanted: {_n(pitch_mm)} mm; error a shift: {_n(moved)} − {_n(pitch_mm)} = {_n(error)} mm",
            f"Over {sprockets} sprockets: {sprockets - 1} × {_n(error)} = {_n(total)} mm",
            f"Good up to a quarter of the spacing, {_n(pitch_mm * _FITS_SHARE)} mm; at most half of it, {_n(limit)} mm",
        ),
        advice=advice,
        values=(
            named("per-shift", error, Unit.MILLIMETRE),
            named("moved", moved, Unit.MILLIMETRE),
            named("at-either-end", total / 2, Unit.MILLIMETRE),
        ),
    )


_PARTS = ("shifter", "derailleur", "cassette", "chain", "chainring")
_MUST_SHARE = frozenset({"shifter", "derailleur", "cassette"})


def _common(standards: dict[str, str]) -> str:
    """The standard that most parts share, the derailleur's where two are as frequent."""
    known = list(standards.values())
    return max(known, key=lambda one: (known.count(one), one == standards.get("derailleur")))


@check(
    family=Family.SPROCKETS,
    title="Mixed drivetrains",
    purpose=(
        "Parts of several drivetrains often end up on one bike. Shifter, derailleur and cassette must be made for the "
        "same shifting standard; chain and chainring forgive more."
    ),
    formula=r"m = |\{\, i : s_i \ne s \,\}|",
    source=Source(title="Parts that index together share a standard", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Use the parts together.",
        Verdict.WITH_CARE: "Try the shifting, and check the width of the chain.",
        Verdict.DOES_NOT_FIT: "Change the part that differs, or do the indexing sum.",
        Verdict.MEASURE_FIRST: "Read the marking on the part, or look it up in the maker's data.",
    },
    example={
        "shifter": "9-speed, 2.5 mm pull",
        "derailleur": "9-speed, 2.5 mm pull",
        "cassette": "9-speed, 2.5 mm pull",
        "chain": "9-speed, 2.5 mm pull",
        "chainring": "10-speed",
    },
    notes=(
        "m counts the parts whose standard differs from the one that most of them share. Write each standard in the "
        "same words; capitals and spaces do not matter."
    ),
    asked=Asked(
        only={"worked-out.transmission": ("derailleur",)},
        unless={"rear-shifter.indexing": ("friction",)},
        cures=("rear-derailleur", "rear-shifter"),
        instead_of="indexing",
    ),
)
def shared_standard(
    shifter: Annotated[
        str | None, Meaning("the shifting standard that the shifter is made for"), Fact("rear-shifter.shift-standard")
    ],
    derailleur: Annotated[
        str | None,
        Meaning("the shifting standard that the derailleur is made for"),
        Fact("rear-derailleur.shift-standard"),
    ],
    cassette: Annotated[
        str | None, Meaning("the shifting standard that the cassette is made for"), Fact("cassette.shift-standard")
    ],
    chain: Annotated[str | None, Meaning("the shifting standard that the chain is made for")] = None,
    chainring: Annotated[str | None, Meaning("the shifting standard that the chainring is made for")] = None,
) -> CheckResult:
    """Which parts share a shifting standard. Source: common practice."""
    said = {"shifter": shifter, "derailleur": derailleur, "cassette": cassette, "chain": chain, "chainring": chainring}
    written = {part: text for part, text in said.items() if text is not None}
    standards = {part: " ".join(text.split()).casefold() for part, text in written.items()}
    missing = [part for part in _PARTS if part in _MUST_SHARE and part not in standards]
    common = _common(standards) if standards else ""
    others = [part for part, standard in standards.items() if standard != common]
    working = tuple(f"{part}: {written[part]}" for part in written) or ("No part's standard is known",)
    if len(standards) > 1:
        sharing = [part for part in standards if part not in others]
        working = (*working, f"Share one standard: {', '.join(sharing)}; differ: {', '.join(others) or 'none'}")
    clash = [part for part in others if part in _MUST_SHARE]
    clash = clash if len(_MUST_SHARE & set(standards)) > 1 else []
    if len({standards[part] for part in _MUST_SHARE & set(standards)}) > 1:
        verdict = Verdict.DOES_NOT_FIT
        advice = (
            f"Shifter, derailleur and cassette must share a standard; {', '.join(clash)} does not. If you know pull, "
            "ratio and spacing, the indexing check may still show that they agree."
        )
    elif missing:
        verdict = Verdict.MEASURE_FIRST
        advice = f"Find out the standard of: {', '.join(missing)}. It is printed on the part or in its maker's data."
    elif others:
        verdict = Verdict.WITH_CARE
        advice = f"Check by hand: {', '.join(others)} of another standard often works; check the chain's width."
    else:
        verdict, advice = Verdict.FITS, "All the parts share one standard."
    return CheckResult(
        verdict=verdict,
        value=float(len(others)),
        unit=Unit.ONE,
        working=working,
        advice=advice,
        values=(named("known", float(len(standards))), named("missing", float(len(missing)))),
    )
