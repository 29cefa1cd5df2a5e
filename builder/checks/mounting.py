"""Whether parts that must engage are of one kind: sprockets on their hub, shifter clicks on their sprockets."""

from __future__ import annotations

from typing import Annotated, Literal

from builder.checks.check import Asked, Family, check
from builder.checks.inputs import SpeedCount
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.fields import Fact, Meaning, SprocketStandard
from builder.model.units import Unit

_HAS_DERAILLEUR = {"worked-out.transmission": ("derailleur",)}


@check(
    family=Family.SPROCKETS,
    title="Sprockets and their mount",
    purpose=(
        "Sprockets slide onto one kind of freehub body only, or screw onto a hub. The eye often can't tell until the "
        "old ones are off, and then the shop is closed."
    ),
    formula=r"m_\text{cassette} = m_\text{hub}",
    source=Source(title="Parts that slide together have one profile", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Go on to the width of the stack.",
        Verdict.DOES_NOT_FIT: "Choose other sprockets, or another freehub body for this hub.",
    },
    example={"cassette": "nine-spline", "hub": "nine-spline"},
    notes=(
        "Count the splines: nine wide ones with one wider than the rest; many fine ones; a body whose end carries a "
        "thread; or a bare thread on the hub for a screw-on freewheel."
    ),
)
def sprocket_mount(
    cassette: Annotated[SprocketStandard, Meaning("what the sprockets are made for"), Fact("cassette.mount")],
    hub: Annotated[SprocketStandard, Meaning("what the hub has"), Fact("rear-hub.sprocket-mount")],
) -> CheckResult:
    """Whether the sprockets go onto the hub. Source: common practice."""
    same = cassette == hub
    return CheckResult(
        verdict=Verdict.FITS if same else Verdict.DOES_NOT_FIT,
        value=None,
        unit=Unit.ONE,
        working=(f"The sprockets are made for: {cassette}", f"The hub has: {hub}"),
        advice=(
            "The sprockets go on this hub."
            if same
            else f"Take sprockets made for {hub}, or a {cassette} freehub body that this hub's maker offers."
        ),
    )


@check(
    family=Family.SPROCKETS,
    title="Positions of the shifter",
    purpose="A shifter with fewer positions than there are sprockets never reaches the last of them.",
    formula=r"c \ge n",
    source=Source(title="One position for each sprocket", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Go on to the indexing.",
        Verdict.WITH_CARE: "Set the limit screws with care, and mark the positions that are not used.",
        Verdict.DOES_NOT_FIT: "Fit a shifter for the number of sprockets.",
    },
    example={"shifter": "11", "sprockets": "11"},
    notes="c are the positions of the shifter, n the sprockets. The pull of a click is the indexing check's matter.",
    asked=Asked(only=_HAS_DERAILLEUR, unless={"rear-shifter.indexing": ("friction",)}, cures=("rear-shifter",)),
)
def shifter_clicks(
    shifter: Annotated[int, Meaning("positions of the rear shifter"), Fact("rear-shifter.speeds")],
    sprockets: SpeedCount,
) -> CheckResult:
    """Whether the shifter has a position for each sprocket. Source: common practice."""
    if shifter == sprockets:
        verdict, advice = Verdict.FITS, "One position of the shifter for each sprocket."
    elif shifter > sprockets:
        verdict = Verdict.WITH_CARE
        advice = f"{shifter - sprockets} positions stay unused; the limit screws must stop the derailleur there."
    else:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"The shifter reaches {shifter} of {sprockets} sprockets. Fit a shifter for {sprockets} speeds."
    return CheckResult(
        verdict=verdict,
        value=float(shifter),
        unit=Unit.ONE,
        limit=float(sprockets),
        margin=float(shifter - sprockets),
        working=(f"Positions of the shifter: {shifter}", f"Sprockets: {sprockets}"),
        advice=advice,
    )


@check(
    family=Family.SPROCKETS,
    title="Cable or electronic shifting",
    purpose="A derailleur with a motor has no cable clamp, and one with a cable clamp hears no signal.",
    formula=r"l_\text{shifter} = l_\text{derailleur}",
    source=Source(title="What is pulled needs a pull", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Go on to the indexing.",
        Verdict.DOES_NOT_FIT: "Change shifter and derailleur together.",
    },
    example={"shifter": "cable", "derailleur": "cable"},
    notes="Two parts that both work by electricity must also share their maker's signal: see mixed drivetrains.",
    asked=Asked(only=_HAS_DERAILLEUR, cures=("rear-derailleur", "rear-shifter")),
)
def shift_line(
    shifter: Annotated[
        Literal["cable", "electronic"],
        Meaning("what carries the shift from the shifter"),
        Fact("rear-shifter.actuation"),
    ],
    derailleur: Annotated[
        Literal["cable", "electronic"], Meaning("what moves the rear derailleur"), Fact("rear-derailleur.actuation")
    ],
) -> CheckResult:
    """Whether shifter and rear derailleur work by the same line. Source: common practice."""
    same = shifter == derailleur
    return CheckResult(
        verdict=Verdict.FITS if same else Verdict.DOES_NOT_FIT,
        value=None,
        unit=Unit.ONE,
        working=(f"The shifter works by: {shifter}", f"The rear derailleur works by: {derailleur}"),
        advice=(
            "Shifter and rear derailleur work by the same line."
            if same
            else f"A shifter that works by {shifter} can't move a derailleur that works by {derailleur}."
        ),
    )


@check(
    family=Family.SPROCKETS,
    title="Spacer and freehub body",
    purpose="A spacer behind the sprockets slides over splines of one kind; over others it sits askew or not at all.",
    formula=r"m_\text{spacer} = m_\text{hub}",
    source=Source(title="Parts that slide together have one profile", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Lay it flat against the shoulder of the body, behind all sprockets.",
        Verdict.DOES_NOT_FIT: "Take a spacer that is made for the body.",
    },
    example={"spacer": "nine-spline", "hub": "nine-spline"},
    notes="Whether a spacer belongs there at all is told by the width of the stack. Common practice, no source.",
    asked=Asked(new=("sprocket-spacer",), cures=("sprocket-spacer",)),
)
def spacer_mount(
    spacer: Annotated[
        SprocketStandard, Meaning("body that the spacer is made for"), Fact("sprocket-spacer.fits-mount")
    ],
    hub: Annotated[SprocketStandard, Meaning("what the hub has"), Fact("rear-hub.sprocket-mount")],
) -> CheckResult:
    """Whether a spacer slides onto the freehub body. Source: common practice."""
    same = spacer == hub
    return CheckResult(
        verdict=Verdict.FITS if same else Verdict.DOES_NOT_FIT,
        value=None,
        unit=Unit.ONE,
        working=(f"The spacer is made for: {spacer}", f"The hub has: {hub}"),
        advice="The spacer goes on this body." if same else f"Take a spacer for a {hub} body.",
    )
