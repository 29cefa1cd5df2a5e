"""Numbers to draw every subject from: ordinary ones, and ones near the ends of their ranges."""

from __future__ import annotations

from collections.abc import Mapping

from builder.drawings.drawing_kind import Numbers

_WIDE = "11,12,13,14,15,17,19,21,24,28,32,36,42,51"

EXAMPLES: Mapping[str, tuple[Numbers, ...]] = {
    "chain-path": (
        {"chainstay": "425 mm", "ring": 32, "sprocket": 40},
        {"chainstay": 435, "ring": 50, "sprocket": 34, "growth": 12},
        {"chainstay": 250, "ring": 22, "sprocket": 9},
        {"chainstay": 900, "ring": 70, "sprocket": 11},
        {"chainstay": 425, "ring": 32, "sprocket": 40, "links": 108},
    ),
    "chain-ends": ({}, {"joiner": "single-use-link"}, {"joiner": "reusable-link"}, {"joiner": "joining-pin"}),
    "chain-gauge": (
        {"length": 613.2, "links": 48, "speeds": 10},
        {"length": 612.6, "links": 48, "speeds": 12},
        {"length": 609.6, "links": 48},
        {"length": 131.8, "links": 10},
        {"length": 126.2, "links": 10},
    ),
    "sprocket-stack": (
        {"body": 35, "stack": 33.5, "sprockets": "11,13,15,18,21,24,28,32", "spacer": 1.85},
        {"body": 36.8, "stack": 37.5, "sprockets": "11,12,13,14,16,18,20,22,25,28,32"},
        {"body": 35, "stack": 30, "sprockets": "13,16,19,23,28"},
        {"body": 12, "stack": 6, "sprockets": (18,)},
    ),
    "takeup-grid": (
        {"rings": "48,36,26", "sprockets": "11,13,15,17,19,21,24,28,32,36", "rated": 43, "links-short": 2},
        {"rings": (32,), "sprockets": (11, 51), "rated": 40},
        {"rings": (34, 50), "sprockets": _WIDE, "rated": 35},
    ),
    "gear-chart": (
        {
            "rings": "32",
            "sprockets": "11,13,15,17,19,21,23,25,28,32",
            "new-sprockets": "11,12,14,16,18,21,24,28,32,40",
            "circumference": 2180,
        },
        {"rings": "50,34", "sprockets": "11,12,13,14,15,17,19,21,23,25,28", "circumference": "2.1 m"},
        {
            "rings": "48,36,26",
            "sprockets": "11,13,15,17,20,23,26,30,34",
            "new-rings": "44,32,22",
            "circumference": 2150,
        },
    ),
    "hill": (
        {
            "gradient": "9 %",
            "cadence-before": 48,
            "cadence-after": 62,
            "gravity": 171,
            "rolling": 14,
            "air": 6,
            "losses": 8,
        },
        {"gradient": 45},
        {"gradient": 0.5, "cadence-after": 88},
    ),
    "limit-screws": ({}, {"sprockets": _WIDE}, {"sprockets": (14, 28)}),
    "cage-and-pulleys": ({},),
    "cage-back": ({},),
    "body-gap": ({},),
    "chain-whip": ({},),
    "quick-link-lock": ({},),
    "quick-link-open": ({},),
    "hanger-shoulder": ({},),
    "front-derailleur-cage": ({}, {"gap": 3, "ring": 34}, {"gap": 6, "ring": 60}),
    "barrel-adjuster": ({}, {"turn": "out"}, {"turn": "in"}),
    "cable-clamp": ({},),
    "hub-gear-marks": ({},),
    "thread-hand": (
        {"hand": "right"},
        {"hand": "left"},
        {"hand": "left", "act": "tighten"},
        {"hand": "right", "act": "loosen"},
    ),
    "bolt-circle": (
        {"bolts": 3},
        {"bolts": 4},
        {"bolts": 5, "passes": 1},
        {"bolts": 6},
        {"bolts": 4, "kind": "faceplate"},
        {"bolts": 2, "kind": "faceplate"},
    ),
    "rotor-bolts": ({"mount": "six-bolt"}, {"mount": "splined"}),
    "lever": ({"torque": "40 N·m", "lever": "250 mm"}, {"torque": 5, "lever": 1000}, {"torque": 200, "lever": 20}),
    "adaptor": (
        {"torque": 40, "wrench": 350, "adaptor": 50},
        {"torque": 12, "wrench": 200, "adaptor": 80, "angle": 45},
        {"torque": 12, "wrench": 200, "adaptor": 120, "angle": -60},
        {"torque": 12, "wrench": 300, "adaptor": 60, "angle": 180},
        {"torque": 12, "wrench": 300, "adaptor": 200, "angle": 90},
    ),
    "quick-release": ({},),
    "skewer-springs": ({},),
    "wheel-in-dropout": ({}, {"wheel": "front"}),
    "hub-cone": ({},),
    "wheel-true": ({}, {"runout": "0.5 mm"}),
    "quill-stem": ({},),
    "spoke-triangle": (
        {"rim-diameter": 602, "flange-diameter": 58, "flange-offset": 35, "spokes": 32, "crossings": 3},
        {"rim-diameter": 400, "flange-diameter": 90, "flange-offset": 20, "spokes": 24, "crossings": 0},
        {"rim-diameter": 250, "flange-diameter": 120, "flange-offset": 60, "spokes": 16, "crossings": 2},
    ),
    "rim-tyre-section": (
        {"inner-width": 25, "tyre-width": 47, "bead-seat": 622},
        {"inner-width": 15, "tyre-width": 25},
        {"inner-width": 76, "tyre-width": 100},
        {"inner-width": 40, "tyre-width": 40},
        {"inner-width": 10, "tyre-width": 130},
    ),
    "tyre-bead": ({},),
    "pad-alignment": ({}, {"toe-in": 0}, {"toe-in": 3}),
    "bleed-path": ({},),
    "headset-stack": ({}, {"gap": 0}, {"gap": 15}),
    "pedal-threads": ({}, {"act": "loosen"}),
    "bottom-bracket-cups": (
        {"shell": "threaded-left-right"},
        {"shell": "threaded-both-right", "act": "loosen"},
        {"shell": "pressed"},
    ),
    "suspension": ({},),
    "measure-chainstay": ({}, {"chainstay": "425 mm"}),
    "measure-axle-distance": ({}, {"unladen": 437, "longest": 449}),
    "measure-rotor": ({}, {"thickness": "1.62 mm", "least": 1.5}, {"thickness": 4, "least": 0.5}),
    "measure-pad": ({}, {"lining": 1.4, "least": 0.5}, {"lining": 5, "least": 3}),
    "measure-sag": (
        {"travel": 120, "sag": 30},
        {"travel": 160},
        {"travel": 100, "sag": 100},
        {"travel": 100, "sag": 2},
        {"part": "shock"},
        {"part": "shock", "stroke": 50, "sag": 15},
        {"part": "shock", "stroke": 50, "sag": 50},
    ),
    "measure-post-insertion": (
        {"inserted": 95, "least": 80},
        {"inserted": 60, "least": 80},
        {"inserted": 400, "least": 0},
        {"inserted": 5, "least": 250},
    ),
    "wear-trend": (
        {"days": "0,60,130,200", "values": "0.1,0.22,0.38,0.5", "limit": 0.75, "first": "2025-01-10"},
        {"days": "0,90", "values": "2.9,2.1", "limit": 1.0, "unit": "mm"},
        {"days": "0,90,180", "values": "0.1,0.3,0.8", "limit": 0.75},
        {"days": "0,90,180", "values": "0.1,0.05,0.1", "limit": 0.75},
        {"days": "0,10,4000", "values": "1.8,1.79,1.6", "limit": 1.5, "unit": "mm", "first": "2012-02-29"},
    ),
    "letter-height": ({"distance": "600 mm"}, {"distance": 2000, "angle": 20}, {"distance": 3000, "angle": 40}),
    "contrast-chips": ({}, {"foreground": "#ffffff", "background": "#005FA8"}, {"foreground": "#d0d0d0"}),
}

CASES: tuple[tuple[str, Numbers], ...] = tuple(
    (name, numbers) for name, examples in EXAMPLES.items() for numbers in examples
)


def case_id(case: tuple[str, Numbers]) -> str:
    """A short name for one example, for pytest to show."""
    name, numbers = case
    return " ".join((name, *(f"{key}={value}" for key, value in numbers.items())))
