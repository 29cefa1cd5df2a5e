"""Whether a rim bears the pads of a rim brake."""

from __future__ import annotations

from typing import Annotated

from builder.checks.check import Asked, Family, check
from builder.checks.result import CheckResult, Provenance, Source, Verdict
from builder.model.facts import BrakeKind, Fitted, Material
from builder.model.fields import Fact, Meaning
from builder.model.units import Unit


@check(
    family=Family.BRAKES,
    title="Brake track of the rim",
    purpose="A rim brake presses on a flat track. A rim made for other brakes has none, and pads wear through it.",
    formula=r"t_\text{rim} = 1",
    source=Source(title="A rim brake needs a rim that is made for it", provenance=Provenance.COMMON_PRACTICE),
    at_verdict={
        Verdict.FITS: "Look at the wear mark of the track, and set the pads wholly on it.",
        Verdict.WITH_CARE: "Take the pads that the rim's maker names, and no others.",
        Verdict.DOES_NOT_FIT: "Take a rim with a brake track.",
        Verdict.MEASURE_FIRST: "Look at the side of the rim: a track is flat, bare of paint, and as high as a pad.",
    },
    example={"brake": "rim", "track": "fitted", "material": "aluminium"},
    notes="A track of carbon takes pads of its own kind, and fades when it is hot. Common practice, no source.",
    # Every other brake leaves the rim alone.
    asked=Asked(surely={"{end}-brake.brake-kind": ("rim",)}, cures=("{end}-rim", "{end}-brake")),
)
def brake_track(
    brake: Annotated[BrakeKind, Meaning("what the brake works on"), Fact("{end}-brake.brake-kind")],
    track: Annotated[Fitted | None, Meaning("whether the rim has a brake track"), Fact("{end}-rim.brake-track")],
    material: Annotated[Material | None, Meaning("what the rim is made of"), Fact("{end}-rim.material")] = None,
) -> CheckResult:
    """Whether a rim brake finds its track on the rim. Source: common practice."""
    if brake is not BrakeKind.RIM:
        verdict, advice = Verdict.FITS, "This brake does not press on the rim."
    elif track is None:
        verdict, advice = (
            Verdict.MEASURE_FIRST,
            "Turn the wheel and look at the side of the rim: a track is flat, bare of paint, and as high as a pad.",
        )
    elif track is Fitted.NONE:
        verdict, advice = Verdict.DOES_NOT_FIT, "Take a rim with a brake track: pads wear through any other."
    elif material is Material.CARBON:
        verdict, advice = Verdict.WITH_CARE, "A track of carbon takes pads that are made for it."
    else:
        verdict, advice = Verdict.FITS, "The rim bears the pads."
    return CheckResult(
        verdict=verdict,
        value=None,
        unit=Unit.ONE,
        working=(
            f"The brake works on: {brake}",
            f"Brake track: {track or 'not known'}, rim of {material or 'a material that is not known'}",
        ),
        advice=advice,
    )
