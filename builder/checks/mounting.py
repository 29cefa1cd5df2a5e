"""Whether parts that must engage are of one kind: sprockets on their hub, shifter clicks on their sprockets."""

from __future__ import annotations

from builder.checks.judging import whole, word
from builder.checks.result import Check, CheckResult, Input, Inputs, Kind, Provenance, Source, Verdict
from builder.model.facts import SprocketMount
from builder.model.units import Unit

_FAMILY = "Sprockets and chain"
_MOUNTS = tuple(mount.value for mount in SprocketMount)
_PULLS = ("cable", "electronic")


def _sprocket_mount(inputs: Inputs) -> CheckResult:
    cassette, hub = word(inputs, "cassette"), word(inputs, "hub")
    same = cassette == hub
    return CheckResult(
        check=SPROCKET_MOUNT.name,
        verdict=Verdict.FITS if same else Verdict.DOES_NOT_FIT,
        value=None,
        unit=Unit.ONE,
        working=(f"The sprockets are made for: {cassette}", f"The hub has: {hub}"),
        source=str(SPROCKET_MOUNT.source),
        advice=(
            "The sprockets go on this hub."
            if same
            else f"Take sprockets made for {hub}, or a {cassette} freehub body that this hub's maker offers."
        ),
    )


SPROCKET_MOUNT = Check(
    name="sprocket-mount",
    family=_FAMILY,
    title="Sprockets and their mount",
    purpose=(
        "Sprockets slide onto one kind of freehub body only, or screw onto a hub. The eye often can't tell until the "
        "old ones are off, and then the shop is closed."
    ),
    formula=r"m_\text{cassette} = m_\text{hub}",
    inputs=(
        Input(name="cassette", words="what the sprockets are made for", kind=Kind.CHOICE, choices=_MOUNTS),
        Input(name="hub", words="what the hub has", kind=Kind.CHOICE, choices=_MOUNTS),
    ),
    source=Source(title="Parts that slide together have one profile", provenance=Provenance.COMMON_PRACTICE),
    run=_sprocket_mount,
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


def _shifter_clicks(inputs: Inputs) -> CheckResult:
    clicks, sprockets = whole(inputs, "shifter"), whole(inputs, "sprockets")
    if clicks == sprockets:
        verdict, advice = Verdict.FITS, "One position of the shifter for each sprocket."
    elif clicks > sprockets:
        verdict = Verdict.WITH_CARE
        advice = f"{clicks - sprockets} positions stay unused; the limit screws must stop the derailleur there."
    else:
        verdict = Verdict.DOES_NOT_FIT
        advice = f"The shifter reaches {clicks} of {sprockets} sprockets. Fit a shifter for {sprockets} speeds."
    return CheckResult(
        check=SHIFTER_CLICKS.name,
        verdict=verdict,
        value=float(clicks),
        unit=Unit.ONE,
        limit=float(sprockets),
        margin=float(clicks - sprockets),
        working=(f"Positions of the shifter: {clicks}", f"Sprockets: {sprockets}"),
        source=str(SHIFTER_CLICKS.source),
        advice=advice,
    )


SHIFTER_CLICKS = Check(
    name="shifter-clicks",
    family=_FAMILY,
    title="Positions of the shifter",
    purpose="A shifter with fewer positions than there are sprockets never reaches the last of them.",
    formula=r"c \ge n",
    inputs=(
        Input(name="shifter", words="positions of the rear shifter", kind=Kind.WHOLE, low=1, high=14),
        Input(name="sprockets", words="number of sprockets", kind=Kind.WHOLE, low=1, high=14),
    ),
    source=Source(title="One position for each sprocket", provenance=Provenance.COMMON_PRACTICE),
    run=_shifter_clicks,
    at_verdict={
        Verdict.FITS: "Go on to the indexing.",
        Verdict.WITH_CARE: "Set the limit screws with care, and mark the positions that are not used.",
        Verdict.DOES_NOT_FIT: "Fit a shifter for the number of sprockets.",
    },
    example={"shifter": "11", "sprockets": "11"},
    notes="c are the positions of the shifter, n the sprockets. The pull of a click is the indexing check's matter.",
)


def _shift_line(inputs: Inputs) -> CheckResult:
    shifter, derailleur = word(inputs, "shifter"), word(inputs, "derailleur")
    same = shifter == derailleur
    return CheckResult(
        check=SHIFT_LINE.name,
        verdict=Verdict.FITS if same else Verdict.DOES_NOT_FIT,
        value=None,
        unit=Unit.ONE,
        working=(f"The shifter works by: {shifter}", f"The rear derailleur works by: {derailleur}"),
        source=str(SHIFT_LINE.source),
        advice=(
            "Shifter and rear derailleur work by the same line."
            if same
            else f"A shifter that works by {shifter} can't move a derailleur that works by {derailleur}."
        ),
    )


SHIFT_LINE = Check(
    name="shift-line",
    family=_FAMILY,
    title="Cable or electronic shifting",
    purpose="A derailleur with a motor has no cable clamp, and one with a cable clamp hears no signal.",
    formula=r"l_\text{shifter} = l_\text{derailleur}",
    inputs=(
        Input(name="shifter", words="what carries the shift from the shifter", kind=Kind.CHOICE, choices=_PULLS),
        Input(name="derailleur", words="what moves the rear derailleur", kind=Kind.CHOICE, choices=_PULLS),
    ),
    source=Source(title="What is pulled needs a pull", provenance=Provenance.COMMON_PRACTICE),
    run=_shift_line,
    at_verdict={
        Verdict.FITS: "Go on to the indexing.",
        Verdict.DOES_NOT_FIT: "Change shifter and derailleur together.",
    },
    example={"shifter": "cable", "derailleur": "cable"},
    notes="Two parts that both work by electricity must also share their maker's signal: see mixed drivetrains.",
)

CHECKS = (SPROCKET_MOUNT, SHIFTER_CLICKS, SHIFT_LINE)
