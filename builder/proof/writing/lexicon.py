"""The words that the rules know: plain English with the catalogue's verbs, terms, tools and fasteners laid over it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from builder.model.library import Library
from builder.proof.writing import english
from builder.proof.writing.inflection import participle, with_s

Name = tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Synonym:
    """Words that guides do not use, and the name or verb to use for them."""

    words: Name
    use: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Lexicon:
    """What kind of word each word can be.

    `approved` are the catalogue's verbs by their first word; `replaced` are verbs that an approved one stands for.
    `names` are all technical names and their plurals, the longest first. `countable` are singular nouns that take an
    article.
    """

    approved: frozenset[str]
    replaced: Mapping[str, str]
    verbs: frozenset[str]
    verbs_s: Mapping[str, str]
    participles: Mapping[str, str]
    nouns: frozenset[str]
    plurals: frozenset[str]
    countable: frozenset[str]
    adjectives: frozenset[str]
    names: tuple[Name, ...]
    names_by_first: Mapping[str, tuple[Name, ...]]
    synonyms: tuple[Synonym, ...]


def name_of(text: str) -> Name:
    """A catalogue name as words: what stands before its first comma, without an article or a size in front."""
    words = re.findall(r"[\w·°.'’/-]+", text.split(",")[0].lower())
    while words and (words[0] in english.ARTICLES or re.match(r"\d", words[0]) or words[0] in ("mm", "n·m")):
        words = words[1:]
    for place, word in enumerate(words):
        if place and (word in english.PREPOSITIONS or word in english.SUBORDINATORS):
            words = words[:place]
            break
    return tuple(words)


def lexicon(library: Library) -> Lexicon:
    """The words that the rules know for `library`."""
    own_verbs = frozenset(key.split("-")[0] if key == "make-sure" else key for key in library.verbs)
    replaced = {
        word.replace("-", " "): key.replace("-", " ")
        for key, verb in library.verbs.items()
        for word in verb.instead_of
        if word not in own_verbs
    }
    verbs = frozenset((*own_verbs, *english.COMMON_VERBS, *(word for word in replaced if " " not in word)))
    participles = {participle(verb): verb for verb in verbs}
    participles |= {verb.past: key for key, verb in library.verbs.items() if verb.past}
    names = _names(library)
    name_nouns = {word for name in names for word in name} - english.ADJECTIVES - english.PREPOSITIONS
    singular = frozenset(
        (*english.NOUNS, *(word for word in name_nouns if not word.endswith(("ed", "ing", "ic", "al"))))
    )
    singular |= english.ING_NOUNS
    plurals = frozenset(with_s(word) for word in singular) - singular
    heads = {name_of(term.name)[-1] for term in library.glossary.values() if term.plural and name_of(term.name)}
    return Lexicon(
        approved=own_verbs,
        replaced=replaced,
        verbs=verbs,
        verbs_s={with_s(verb): verb for verb in verbs},
        participles={form: verb for form, verb in participles.items() if form not in english.NOT_PARTICIPLES},
        nouns=singular | plurals,
        plurals=plurals,
        countable=frozenset(heads) - english.MASS_NOUNS,
        adjectives=english.ADJECTIVES,
        names=names,
        names_by_first={word: tuple(name for name in names if name[0] == word) for word in {n[0] for n in names}},
        synonyms=_synonyms(library),
    )


def _names(library: Library) -> tuple[Name, ...]:
    texts: list[str] = []
    for term in library.glossary.values():
        texts += [term.name, term.plural]
    texts += [tool.name for tool in library.tools.values()]
    texts += [consumable.name for consumable in library.consumables.values()]
    texts += [fastener.name for fastener in library.fasteners.values()]
    texts += [head.name for head in library.heads.values()]
    texts += [state.name for state in library.states.values()]
    names = {name_of(text) for text in texts} - {()}
    return longest_first((*names, *((*name[:-1], with_s(name[-1])) for name in names)))


def _synonyms(library: Library) -> tuple[Synonym, ...]:
    found = [
        Synonym(words=tuple(words.lower().split()), use=term.name)
        for term in library.glossary.values()
        for avoided in term.avoid
        for words in dict.fromkeys((avoided, _plural_name(avoided)))
    ]
    return tuple(sorted(found, key=lambda synonym: -len(synonym.words)))


def _plural_name(name: str) -> str:
    *before, last = name.lower().split()
    return " ".join((*before, with_s(last)))


def longest_first(names: Iterable[Name]) -> tuple[Name, ...]:
    """Names without repeats, those of most words first."""
    return tuple(sorted({name for name in names if name}, key=lambda name: (-len(name), name)))


def covered(words: tuple[str, ...], lexicon: Lexicon, *, least_words: int = 1) -> frozenset[int]:
    """The places in `words` that stand inside a technical name of at least `least_words` words, or its plural."""
    found: set[int] = set()
    for start, word in enumerate(words):
        for name in lexicon.names_by_first.get(word, ()):
            if len(name) >= least_words and words[start : start + len(name)] == name:
                found.update(range(start, start + len(name)))
                break
    return frozenset(found)
