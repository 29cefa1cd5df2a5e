"""No verb with a particle where one verb says it: "remove", not "take off".

Passes:
    Remove the wheel.
    Put the chain on the largest chainring.
    Turn the barrel adjuster out until the chain is quiet.
Fails:
    Take off the wheel.
    Take the wheel out.
    Screw the bolt in.
    Put on gloves.
"""

from __future__ import annotations

from collections.abc import Iterator

from builder.diagnostics.diagnostic import Gravity
from builder.proof.writing.context import Context
from builder.proof.writing.passages import CAUTIONS, Passage, TextKind
from builder.proof.writing.rule import Finding, quoted, ste
from builder.proof.writing.tagging import Tag, Tagged

ID = "W18"
GRAVITY = Gravity.WARNING
SOURCE = ste("rule 9.3")
LIMIT = "one verb where one verb exists"
KINDS = (TextKind.INSTRUCTION, *CAUTIONS)
# Verb and particle, and the verb that says it. Workshop usage; the list is our own.
_SINGLE: dict[tuple[str, str], str] = {
    ("take", "out"): "remove",
    ("take", "off"): "remove",
    ("take", "apart"): "remove each part",
    ("take", "away"): "remove",
    ("take", "up"): "tighten or pull",
    ("put", "on"): "install or wear",
    ("put", "back"): "install",
    ("put", "in"): "insert or install",
    ("put", "together"): "join",
    ("put", "away"): "put ... in its place",
    ("screw", "in"): "tighten or turn",
    ("screw", "on"): "tighten or turn",
    ("screw", "down"): "tighten",
    ("screw", "out"): "loosen or remove",
    ("screw", "off"): "remove",
    ("back", "off"): "loosen or turn",
    ("back", "out"): "loosen or turn",
    ("do", "up"): "tighten",
    ("let", "out"): "release or deflate",
    ("let", "down"): "deflate",
    ("let", "go"): "release",
    ("pump", "up"): "inflate",
    ("blow", "up"): "inflate",
    ("fill", "up"): "fill",
    ("top", "up"): "fill",
    ("clean", "off"): "clean",
    ("clean", "up"): "clean",
    ("wipe", "off"): "remove ... with a cloth",
    ("wipe", "down"): "wipe",
    ("line", "up"): "align",
    ("set", "up"): "set or adjust",
    ("turn", "on"): "switch",
    ("turn", "off"): "switch",
    ("pick", "up"): "lift",
    ("hook", "up"): "connect",
    ("plug", "in"): "connect",
    ("tighten", "up"): "tighten",
    ("tighten", "down"): "tighten",
    ("loosen", "off"): "loosen",
    ("loosen", "up"): "loosen",
    ("work", "out"): "find",
    ("find", "out"): "find",
    ("look", "for"): "find or inspect",
    ("look", "at"): "inspect or read",
    ("carry", "out"): "do",
    ("write", "down"): "write",
    ("note", "down"): "write",
    ("open", "up"): "open",
    ("bolt", "on"): "install",
    ("fit", "on"): "install",
    ("cut", "away"): "cut",
    ("slack", "off"): "loosen",
}
_APART = frozenset({Tag.PREPOSITION, Tag.ADVERB, Tag.OTHER})


def check(text: Passage, context: Context) -> Iterator[Finding]:
    """Every command with a particle that one verb replaces."""
    del context
    for sentence in text.sentences:
        for place in sentence.commands:
            particle = _particle(sentence, place)
            if particle is None or _turned_on_a_thread(sentence, place, particle):
                continue
            verb, word = sentence.lower[place], sentence.lower[particle]
            yield Finding(
                found=f"“{verb} ... {word}” is a verb with a particle: {quoted(sentence.sentence.text)}",
                repair=f"write “{_SINGLE[verb, word]}”",
            )


def _turned_on_a_thread(sentence: Tagged, place: int, particle: int) -> bool:
    """Whether “turn ... on” means a thread and not a switch: what is done by hand, or by turns, is screwed."""
    return sentence.lower[place] == "turn" and bool({"hand", "turns"} & set(sentence.lower[particle:]))


def _particle(sentence: Tagged, place: int) -> int | None:
    """The place of the particle of the command at `place`: right behind it, or behind its object."""
    for further in range(place + 1, min(place + 8, len(sentence.tokens))):
        word = sentence.lower[further]
        if sentence.tokens[further].is_mark(",", ".", ";", ":") or sentence.tags[further] is Tag.CONJUNCTION:
            return None
        if (sentence.lower[place], word) not in _SINGLE or not (word == "back" or sentence.tags[further] in _APART):
            continue
        if further == place + 1:
            return further
        if _ends_phrase(sentence, further + 1):
            return further
    return None


def _ends_phrase(sentence: Tagged, place: int) -> bool:
    """Whether no object follows at `place`, so that the word before it is a particle and no preposition."""
    if place >= len(sentence.tokens):
        return True
    if sentence.tags[place] in (Tag.MARK, Tag.CONJUNCTION, Tag.SUBORDINATOR, Tag.ADVERB):
        return True
    return sentence.tags[place] is Tag.PREPOSITION
