"""The regular forms of English words: plurals, and the -s, -ing and -ed forms of verbs; irregular ones from a list."""

from __future__ import annotations

import re

from builder.proof.writing.english import IRREGULAR_PARTICIPLES

_DOUBLED = re.compile(r"^[^aeiou]*[aeiou][bdgklmnprt]$")
# Verbs of more syllables that double their last letter in British spelling.
_ALSO_DOUBLED = ("pedal", "level", "label", "refit", "unplug", "unclip", "unwrap", "channel", "travel", "transfer")
_IRREGULAR_PLURALS = {"tooth": "teeth", "foot": "feet", "half": "halves", "shelf": "shelves", "knife": "knives"}


def with_s(word: str) -> str:
    """The plural of a noun, or the third person of a verb: bolt, bolts; body, bodies; push, pushes."""
    if word in _IRREGULAR_PLURALS:
        return _IRREGULAR_PLURALS[word]
    if re.search(r"[^aeiou]y$", word):
        return word[:-1] + "ies"
    if re.search(r"(?:s|x|z|ch|sh)$", word) or word in ("do", "go", "undo"):
        return word + "es"
    return word + "s"


def participle(verb: str) -> str:
    """The past participle of a verb: hold, held; tighten, tightened; fit, fitted."""
    if verb in IRREGULAR_PARTICIPLES:
        return IRREGULAR_PARTICIPLES[verb]
    for prefix in ("re", "un"):
        if verb.startswith(prefix) and verb[2:] in IRREGULAR_PARTICIPLES and len(verb) > 4:
            return prefix + IRREGULAR_PARTICIPLES[verb[2:]]
    if verb.endswith("e"):
        return verb + "d"
    if re.search(r"[^aeiou]y$", verb):
        return verb[:-1] + "ied"
    return _stem(verb) + "ed"


def ing(verb: str) -> str:
    """The -ing form of a verb: hold, holding; remove, removing; cut, cutting."""
    if verb.endswith("ie"):
        return verb[:-2] + "ying"
    if verb.endswith("e") and not verb.endswith(("ee", "ye", "oe")):
        return verb[:-1] + "ing"
    return _stem(verb) + "ing"


def _stem(verb: str) -> str:
    doubles = _DOUBLED.match(verb) is not None or verb in _ALSO_DOUBLED
    return verb + verb[-1] if doubles else verb
