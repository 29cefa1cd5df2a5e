"""How a name that is not known is answered: the one that was meant, those that there are, and how to come to one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from builder.diagnostics.nearness import nearest

# How a workshop comes to a record of its own.
HOW_TO_ADD: Mapping[str, str] = {
    "parts": "'spannerleaf parts' lists the known parts, and 'spannerleaf new part' starts one of your own",
    "fasteners": "'spannerleaf new fastener' starts one of your own",
    "tools": "'spannerleaf new tool' starts one of your own",
    "guides": "'spannerleaf new guide' starts one of your own",
    "bikes": "'spannerleaf new bike' describes one",
}


def choices(word: str, known: Iterable[str], what: str) -> str:
    """A hint: the known word that is like `word`, or all of them."""
    names = list(known)
    near = nearest(word, names)
    return f"did you mean '{near}'?" if near else f"{what}: {', '.join(names)}"
