"""What people say who do not know the trade's word, by the word that guides use. Only for finding: no page shows it.

Another name for a thing belongs to its term in the glossary; here stand words for what is seen, heard and felt.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

# The word of the guides in its plain form, then what it may be looked for by.
EVERYDAY_EN: Mapping[str, str] = MappingProxyType(
    {
        "jump": "skip slip",
        "gears that jump": "gears skip gears slip shifts badly by itself",
        "squeal": "squeak screech noise noisy",
        "howl": "noise noisy loud",
        "creak": "noise noisy groan crack click",
        "click": "noise noisy tick",
        "rattle": "noise noisy chatter",
        "squeak": "noise noisy squeal dry",
        "knock": "noise clunk play loose wobble",
        "rub": "scrape grind drag noise",
        "flat": "puncture leak",
        "patch": "puncture flat leak hole",
        "plug": "puncture flat leak",
        "loses its pressure": "flat leak puncture",
        "loses air": "flat leak puncture",
        "inner tube": "puncture flat",
        "soft": "spongy mushy weak",
        "comes to the handlebar": "spongy soft weak",
        "has no force": "weak fading does not stop",
        "play": "loose wobble slack",
        "rock": "loose wobble",
        "hop": "bump wobble buckled",
        "rim": "buckled bent wobble out of true",
        "true": "buckled bent wobble",
        "hesitate": "slow late shifting",
        "indexing": "shifting out of adjustment",
        "falls off": "drops comes off dropped",
        "falls to the frame": "drops comes off dropped",
        "falls between": "drops comes off dropped",
        "climb": "shift up",
        "stands at an angle": "crooked not straight",
        "turn hard": "stiff tight",
        "hard to squeeze": "stiff heavy",
        "rough": "gritty grinding",
        "slip": "slide loose moves",
        "sink": "drop lower",
        "hanger": "bent after a fall",
    }
)
