"""Read an instruction: its leading condition, its verb, what it is done to, and whether it says not to do it.

Hazards, rules of the trade and the rules of writing all ask the same question of a sentence; this is the one answer.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from builder.model.catalogue import Term, Verb
from builder.model.named_values import VALUE_PATTERN

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
_WORD = re.compile(r"[A-Za-z][A-Za-z'’-]*|\d+(?:[.,]\d+)?|[,;:.!?()]|" + VALUE_PATTERN)
# The one command of two words.
_MAKE_SURE = "make sure "
_MARKUP = re.compile(r"[*_`]")


# What joins a second act to the first: "pull the cage forward and remove the wheel".
_JOINTS = frozenset({"and", "or", "then", "but", ",", ";"})
# What shows that a word which may be a noun is a verb here: its object follows.
_DETERMINERS = ("the", "a", "an", "this", "that", "these", "those", "its", "their", "your", "both", "each", "every")
_OBJECT_STARTS = frozenset((*_DETERMINERS, "it", "them", "all", "any", "no", "one", "two", "three", "four"))


@dataclass(frozen=True, slots=True)
class Act:
    """One thing that a sentence tells the mechanic to do.

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


def acts_of(sentence: str, verbs: Mapping[str, Verb]) -> tuple[Act, ...]:
    """Everything that `sentence` tells the mechanic to do, at least one act.

    A leading condition ends at the first comma that a verb follows. An adverb before the verb is passed over. A second
    verb after "and", "or", "then", a comma or a semicolon is an act of its own, and so is one after "while you"; one
    that has no object of its own is done to what the sentence named last.
    """
    words = _WORD.findall(_MARKUP.sub("", sentence))
    start = _start(words, verbs)
    condition = " ".join(words[: start - 1]) if start else ""
    verb, after, negated = _verb_at(words, start, verbs)
    word = words[start].lower() if start < len(words) else ""
    first = Act(verb=verb, word=word, negated=negated, condition=condition)
    # Each act with where its object begins, and where the act itself does: there the object before it ends.
    found = [(first, after, start)]
    for place in range(after, len(words)) if verb else ():
        if words[place].lower() in _JOINTS:
            found.extend(_joined(words, place + 1, verbs, found[-1][0]))
    ends = [begin for _, _, begin in found[1:]] + [len(words)]
    done = [replace(one, phrase=_phrase(words[behind:end])) for (one, behind, _), end in zip(found, ends, strict=True)]
    return (*_with_objects(done), *_meanwhile(words, verbs))


def _meanwhile(words: list[str], verbs: Mapping[str, Verb]) -> Iterable[Act]:
    """What is done at the same time: "while you turn the cranks, ..."."""
    for place in range(len(words) - 2):
        if [part.lower() for part in words[place : place + 2]] == ["while", "you"]:
            verb, behind, _ = _verb_at(words, place + 2, verbs)
            if verb:
                yield Act(verb=verb, word=words[place + 2].lower(), phrase=_phrase(words[behind:]))


def _start(words: list[str], verbs: Mapping[str, Verb]) -> int:
    """Where the first act begins: behind the comma of a leading condition, or at the head of the sentence."""
    if not words or words[0].lower() not in CONDITION_WORDS:
        return 0
    commas = [place for place, word in enumerate(words) if word == ","]
    ends = [place for place in commas if _verb_at(words, place + 1, verbs)[0]] or commas[:1]
    return ends[0] + 1 if ends else 0


def _joined(words: list[str], place: int, verbs: Mapping[str, Verb], before: Act) -> Iterable[tuple[Act, int, int]]:
    """The act that begins behind a joint, where one does, as `acts_of` keeps it."""
    verb, after, negated = _verb_at(words, place, verbs)
    if not verb:
        return
    following = words[after].lower() if after < len(words) else "."
    if negated or following in _OBJECT_STARTS or following in ",;.!?" or following in _PHRASE_ENDS:
        # "Do not squeeze or pull the lever" denies both.
        denied = negated or (words[place - 1].lower() == "or" and before.negated)
        yield Act(verb=verb, word=words[place].lower(), negated=denied), after, place - 1


def _with_objects(found: list[Act]) -> Iterable[Act]:
    """Each act with what it is done to: "clean and lubricate the chain", "pull the pin out and remove it"."""
    named: tuple[str, ...] = ()
    for place, one in enumerate(found):
        phrase = one.phrase
        if not phrase and not named and place + 1 < len(found):
            phrase = found[place + 1].phrase
        if place and (not phrase or phrase[0] in ("it", "them")):
            phrase = named
        named = phrase
        yield replace(one, phrase=phrase)


def acts(text: str, verbs: Mapping[str, Verb]) -> tuple[Act, ...]:
    """What the sentences of `text` tell the mechanic to do, one act after the other."""
    return tuple(one for sentence in sentences(text) for one in acts_of(sentence, verbs))


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
    names, longest = _names_of(_Same(glossary))
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


class _Same:
    """A glossary that counts as equal to itself alone, so that its names are listed once and not for every phrase."""

    def __init__(self, glossary: Mapping[str, Term]) -> None:
        self.glossary = glossary

    def __hash__(self) -> int:
        return id(self.glossary)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.glossary is self.glossary


@lru_cache(maxsize=4)
def _names_of(same: _Same) -> tuple[Mapping[tuple[str, ...], str], int]:
    """The thing that each name names, and how many words the longest name has."""
    names: dict[tuple[str, ...], str] = {}
    for key, term in same.glossary.items():
        for name in (term.name, term.plural):
            if name:
                names.setdefault(tuple(name.lower().split()), key)
    return names, max((len(name) for name in names), default=0)


def lead_of(text: str) -> tuple[str, str]:
    """An instruction in its lead and the rest: the leading condition with its comma, or else the verb.

    The lead is '' where the text begins with neither.
    """
    first, _, rest = text.partition(" ")
    if first.lower() in CONDITION_WORDS | {"on"} and ", " in text:
        lead, rest = text.split(", ", 1)
        return f"{lead},", rest
    if text.lower().startswith(_MAKE_SURE):
        return text[: len(_MAKE_SURE) - 1], text[len(_MAKE_SURE) :]
    return (first, rest) if first.isalpha() and rest else ("", text)
