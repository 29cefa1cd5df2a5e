"""Words and drawings that fit only some of the bikes that come to their step: text is tailored like steps.

Each entry says which bikes a word is for, by attributes of the catalogue. A sentence that opens with a condition ("If
there is a front derailleur, ...") asks for itself. The entries are plain facts of the trade: no source is needed for
that a bike with one chainring has no largest one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from builder.diagnostics.diagnostic import Diagnostic, Gravity
from builder.model.condition import AnyOf, Condition, Is, Not, asked
from builder.model.guide import Guide
from builder.model.inlining import PlacedStep, inlined
from builder.model.library import Library
from builder.model.verbs import CONDITION_WORDS, sentences
from builder.proof.configurations import configurations


@dataclass(frozen=True, slots=True)
class Word:
    """A word, as a pattern, with the bikes that it fits."""

    pattern: re.Pattern[str]
    bikes: Condition


def _word(pattern: str, *bikes: Is) -> Word:
    return Word(re.compile(rf"\b(?:{pattern})\b", re.IGNORECASE), bikes[0] if len(bikes) == 1 else AnyOf(bikes))


_SEVERAL_RINGS = Is("chainrings", ("two", "three"))
_DERAILLEUR = Is("transmission", ("derailleur",))
_DISC = (Is("rear-brake", ("disc",)), Is("front-brake", ("disc",)))
_RIM = (Is("rear-brake", ("rim",)), Is("front-brake", ("rim",)))
_PADDED = (Is("rear-brake", ("disc", "rim", "rod")), Is("front-brake", ("disc", "rim", "rod")))
_ANY_BRAKE = ("disc", "rim", "coaster", "drum", "rod")
_SHIFTED = Is("transmission", ("derailleur", "hub-gear"))
_HYDRAULIC = (Is("rear-brake-actuation", ("hydraulic",)), Is("front-brake-actuation", ("hydraulic",)))
_QUICK = (Is("rear-axle", ("quick-release",)), Is("front-axle", ("quick-release",)))
_NUTS = (Is("rear-axle", ("nutted",)), Is("front-axle", ("nutted",)))
_CHAIN = Is("drive-line", ("chain",))
_BELT = Is("drive-line", ("belt",))
_BODY = Is("sprocket-mount", ("nine-spline", "fine-spline", "threaded-nose", "three-lug"))

WORDS: tuple[Word, ...] = (
    _word(r"(?:largest|smallest|middle) chainrings?|all chainrings|front derailleur|front shifter", _SEVERAL_RINGS),
    _word(r"rear derailleur|guide pulley|tension pulley", _DERAILLEUR),
    _word(r"chains?(?! (?:whip|tool|hook|side|board|wear gauge)\b)|quick links?", _CHAIN),
    _word(r"belts?", _BELT),
    _word(r"rotors?", *_DISC),
    _word(r"rim pads?|brake track", *_RIM),
    _word(r"(?:brake )?pads?(?! block\b)", *_PADDED),
    _word(r"(?:rear )?shifters?", _SHIFTED),
    _word(r"square (?:hole|taper)|square of an axle", Is("crank-fixing", ("square-taper",))),
    _word(r"front brake", Is("front-brake", _ANY_BRAKE)),
    _word(r"rear brake", Is("rear-brake", _ANY_BRAKE)),
    _word(r"brake hoses?|brake fluid|bleed port", *_HYDRAULIC),
    _word(r"quick-release(?: lever)?s?", *_QUICK),
    _word(r"axle nuts?", *_NUTS),
    _word(r"freehub body", _BODY),
    _word(r"(?<!to the )rear shock", Is("suspension", ("full",))),
)
# What a drawing shows, where that is not on every bike.
FIGURES: Mapping[str, Condition] = {
    "cage-and-pulleys": _DERAILLEUR,
    "limit-screws": Is("transmission", ("derailleur",)),
    "hanger-shoulder": Is("hanger", ("shouldered",)),
    "front-derailleur-cage": _SEVERAL_RINGS,
    "hub-gear-marks": Is("transmission", ("hub-gear",)),
    "quick-release": AnyOf(_QUICK),
    "rotor-bolts": AnyOf(_DISC),
    "measure-rotor": AnyOf(_DISC),
    "bleed-path": AnyOf(_HYDRAULIC),
    "suspension": Is("suspension", ("full",)),
}


def words_fit(library: Library) -> tuple[Diagnostic, ...]:
    """Every word and drawing of a step that does not fit some bike which comes to the step, once for each step."""
    return tuple(dict.fromkeys(found for guide in library.guides.values() for found in _of(guide, library)))


def _of(guide: Guide, library: Library) -> Iterator[Diagnostic]:
    space = configurations(guide, library)

    @cache
    def misfits(conditions: tuple[Condition, ...], bikes: Condition) -> bool:
        if any(question.attribute not in library.attributes for question in asked(bikes)):
            return False
        return space.meets(tuple(space.knowing.asked(one) for one in (*conditions, Not(bikes))))

    for item in inlined(guide, library):
        for word in WORDS:
            for key, text in (("do", item.step.do), ("prove", item.step.prove), ("limit", item.step.limit)):
                said = _said(text, word.pattern)
                if said and misfits(item.conditions, word.bikes):
                    yield _told(item, key, f"names the {said}")
        shown = FIGURES.get(item.step.figure)
        if shown is not None and misfits(item.conditions, shown):
            yield _told(item, "figure", f"shows the drawing '{item.step.figure}'")


def _said(text: str, pattern: re.Pattern[str]) -> str:
    """The word as a step says it of every bike; '' where it does not, or asks first."""
    if not pattern.search(text):
        return ""
    for sentence in sentences(text):
        found = pattern.search(sentence)
        if found is not None and sentence.split()[0].lower() not in CONDITION_WORDS - {"while", "with", "for"}:
            return found[0].lower()
    return ""


def _told(item: PlacedStep, key: str, what: str) -> Diagnostic:
    return Diagnostic(
        rule="fitting-words",
        message=f"step '{item.anchor}' {what}, and comes to bikes that have none",
        at=item.step.places.of(key),
        gravity=Gravity.WARNING,
        hints=("write a step for each kind with its 'when', or open the sentence with the condition",),
    )
