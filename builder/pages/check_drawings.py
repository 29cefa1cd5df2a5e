"""Which drawing shows a check, and which of the check's inputs it is drawn from, where the two are called otherwise."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from builder.checks.check import AnyCheck


@dataclass(frozen=True, slots=True)
class Shown:
    """A drawing by its name, the inputs that it takes by its own names, and what is fixed for the worked example."""

    drawing: str
    inputs: Mapping[str, str] = field(default_factory=dict)
    fixed: Mapping[str, str] = field(default_factory=dict)


_OTHERWISE: Mapping[str, Shown] = {
    "sprocket-stack": Shown(
        "sprocket-stack", {"body": "body", "stack": "stack"}, {"sprockets": "11,13,15,17,19,21,24,28,32,36,42"}
    ),
    "chain-reach": Shown("chain-path", {"chainstay": "chainstay", "ring": "ring", "sprocket": "sprocket"}),
    "gear": Shown("gear-chart", {"rings": "ring", "sprockets": "sprocket", "circumference": "circumference"}),
    "chain-growth": Shown("measure-axle-distance", {"unladen": "chainstay", "longest": "compressed"}),
    "pivot-growth": Shown("measure-axle-distance", {"unladen": "chainstay"}, {"longest": "448 mm"}),
    "hill-power": Shown("hill", {"gradient": "gradient"}),
    "hill-cadence": Shown("hill", {"gradient": "gradient"}),
    "steepest-gradient": Shown("hill", {"gradient": "gradient", "cadence-least": "cadence"}),
    "thread-hand": Shown("thread-hand", {}, {"hand": "left"}),
    "wheel-runout": Shown("wheel-true", {"runout": "lateral"}),
    "bead-seat": Shown("rim-tyre-section", {"bead-seat": "rim"}, {"inner-width": "19 mm", "tyre-width": "37 mm"}),
    "tyre-rim-width": Shown("rim-tyre-section", {"inner-width": "rim-inner", "tyre-width": "tyre"}),
    "pad-wear": Shown("measure-pad"),
    "rotor-wear": Shown("measure-rotor", {"thickness": "thickness", "least": "least"}),
    "post-insertion": Shown("measure-post-insertion", {"inserted": "inserted", "least": "mark"}),
    "stem-insertion": Shown("measure-post-insertion", {"inserted": "inserted", "least": "mark"}),
    "spacer-gap": Shown("headset-stack", {"gap": "gap"}),
    "pedal-thread": Shown("pedal-threads"),
    "quick-release-force": Shown("quick-release"),
    "suspension-sag": Shown("measure-sag", {"travel": "travel", "sag": "sag"}),
    "letter-height": Shown("letter-height", {"distance": "distance", "angle": "angle"}),
    "contrast": Shown("contrast-chips", {"foreground": "foreground", "background": "background"}),
}


def drawing_of(check: AnyCheck) -> tuple[str, dict[str, str]]:
    """The drawing that shows the example of `check` and the numbers to draw it from; '' where none does."""
    shown = _OTHERWISE.get(check.name)
    if shown is None:
        return check.drawing, dict(check.example)
    numbers = {name: check.example[key] for name, key in shown.inputs.items() if key in check.example}
    return shown.drawing, {**shown.fixed, **numbers}
