"""Read an instruction: its leading condition, its verb, what it is done to, and whether it says not to do it.

Hazards, rules of the trade and the rules of writing all ask the same question of a sentence; this is the one answer.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from builder.model.catalogue import Term, Verb

# Words that open a condition: "If the chain is worn, replace it."
CONDITION_WORDS = frozenset({"if", "when", "where", "while", "before", "after", "until", "as", "unless", "with", "for"})
# Words that may stand before the verb and change nothing in what is done.
_FILLERS = frozenset({"then", "now", "again", "first", "next", "also", "please"})
# Words that end the phrase which says what the act is done to. "of", "and" and "or" do not: the bolts of the stem.
_PHRASE_ENDS = frozenset(
    {
        "about",
        "above",
        "across",
        "after",
        "against",
        "along",
        "around",
        "as",
        "at",
        "away",
        "back",
        "before",
        "behind",
        "below",
        "between",
        "by",
        "down",
        "for",
        "from",
        "if",
        "in",
        "inside",
        "into",
        "near",
        "off",
        "on",
        "onto",
        "out",
        "outside",
        "over",
        "past",
        "round",
        "so",
        "than",
        "that",
        "through",
        "to",
        "toward",
        "towards",
        "under",
        "until",
        "up",
        "when",
        "where",
        "while",
        "with",
        "within",
        "without",
    }
)
_SENTENCE_END = re.compile(r"(?<=[.!?])\s+(?=[A-Z{*_])")
_WORD = re.compile(r"[A-Za-z][A-Za-z'’-]*|\d+(?:[.,]\d+)?|[,;:.!?()]|\{\{.*?\}\}")
_MARKUP = re.compile(r"[*_`]")


@dataclass(frozen=True, slots=True)
class Act:
    """What one sentence tells the mechanic to do.

    `verb` is the id of a catalogue verb, '' where the sentence begins with none; `word` is the word that stands where
    the verb should; `negated` says "do not"; `condition` is the leading condition as written, without its comma;
    `phrase` are the words, in small letters, that say what the act is done to.
    """

    verb: str
    word: str
    negated: bool = False
    condition: str = ""
    phrase: tuple[str, ...] = ()


def sentences(text: str) -> tuple[str, ...]:
    """The sentences of a text, in order; a full stop inside a number or a name does not end one."""
    return tuple(part.strip() for part in _SENTENCE_END.split(text.strip()) if part.strip())


def act(sentence: str, verbs: Mapping[str, Verb]) -> Act:
    """What `sentence` tells the mechanic to do.

    A leading condition ends at the first comma that a verb follows. An adverb before the verb is passed over.
    """
    words = _WORD.findall(_MARKUP.sub("", sentence))
    start = 0
    if words and words[0].lower() in CONDITION_WORDS:
        commas = [place for place, word in enumerate(words) if word == ","]
        ends = [place for place in commas if _verb_at(words, place + 1, verbs)[0]] or commas[:1]
        start = ends[0] + 1 if ends else 0
    condition = " ".join(words[: start - 1]) if start else ""
    verb, after, negated = _verb_at(words, start, verbs)
    word = words[start].lower() if start < len(words) else ""
    return Act(verb=verb, word=word, negated=negated, condition=condition, phrase=_phrase(words[after:]))


def acts(text: str, verbs: Mapping[str, Verb]) -> tuple[Act, ...]:
    """What each sentence of `text` tells the mechanic to do."""
    return tuple(act(sentence, verbs) for sentence in sentences(text))


def _verb_at(words: list[str], start: int, verbs: Mapping[str, Verb]) -> tuple[str, int, bool]:
    """The verb that begins at `start`, the place after it, and whether it is denied."""
    place, negated = start, False
    lower = [word.lower() for word in words]
    while place < len(lower):
        if lower[place : place + 2] == ["do", "not"]:
            negated, place = True, place + 2
        elif lower[place] in ("never", "don't", "don’t"):
            negated, place = True, place + 1
        elif lower[place : place + 2] == ["make", "sure"] and "make-sure" in verbs:
            return "make-sure", place + 2, negated
        elif lower[place] in verbs:
            return lower[place], place + 1, negated
        elif lower[place] in _FILLERS or lower[place].endswith("ly"):
            place += 1
        else:
            break
    return "", min(place + 1, len(words)), negated


def _phrase(words: Iterable[str]) -> tuple[str, ...]:
    found: list[str] = []
    for word in words:
        if word.lower() in _PHRASE_ENDS or word in ",;:.!?()":
            break
        found.append(word.lower())
    return tuple(found)


def things_named(words: tuple[str, ...], glossary: Mapping[str, Term]) -> tuple[str, ...]:
    """The ids of the glossary's things that `words` name, the longest name first at each place.

    "the bolts of the rear derailleur" names the rear derailleur, and not a derailleur besides.
    """
    names: dict[tuple[str, ...], str] = {}
    for key, term in glossary.items():
        for name in (term.name, term.plural):
            if name:
                names.setdefault(tuple(name.lower().split()), key)
    longest = max((len(name) for name in names), default=0)
    found: list[str] = []
    place = 0
    while place < len(words):
        for length in range(min(longest, len(words) - place), 0, -1):
            key = names.get(tuple(words[place : place + length]), "")
            if key:
                found.append(key)
                place += length
                break
        else:
            place += 1
    return tuple(dict.fromkeys(found))
