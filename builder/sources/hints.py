"""How a name that is not known is answered: the one that was meant, those that there are, and how to come to one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from builder.diagnostics.nearness import nearest
from builder.model.catalogue import Standard
from builder.model.facts import StandardSet

# How a workshop comes to a record of its own.
HOW_TO_ADD: Mapping[str, str] = {
    "parts": "'spannerleaf parts' lists the known parts, and 'spannerleaf new part' starts one of your own",
    "fasteners": "'spannerleaf new fastener' starts one of your own",
    "tools": "'spannerleaf new tool' starts one of your own",
    "guides": "'spannerleaf new guide' starts one of your own",
    "standards": "'spannerleaf new standard' adds one of your own",
    "bikes": "'spannerleaf new bike' describes one",
}


def choices(word: str, known: Iterable[str], what: str) -> str:
    """A hint: the known word that is like `word`, or all of them."""
    names = list(known)
    near = nearest(word, names)
    return f"did you mean '{near}'?" if near else f"{what}: {', '.join(names)}"


def words_of_set(of: StandardSet, standards: Mapping[str, Standard]) -> tuple[str, ...]:
    """The words of a set: those that come with the program, and those that the catalogue adds to it."""
    own = (name for name, standard in standards.items() if standard.of is of)
    return tuple(dict.fromkeys((*of.words, *own)))


def unknown_standard(word: str, of: StandardSet, standards: Mapping[str, Standard]) -> str:
    """A hint for a word that is none of a set: the one that was meant, or all of them and how to add one."""
    hint = choices(word, words_of_set(of, standards), "the words are")
    return hint if hint.startswith("did") else f"{hint}; {HOW_TO_ADD['standards']}"
