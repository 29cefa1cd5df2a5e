"""A tool that a step names is in its list of tools, so that it is laid out.

A tool that drives the step's fastener comes with the fastener. A consumable named behind "with" is looked for too.

Passes:
    {do: Hold the sprockets with the chain whip., tools: [chain-whip]}
    {do: Wipe the rotor with a cloth., consumables: [cloth]}
Fails:
    {do: Hold the sprockets with the chain whip.}
    {do: Wipe the rotor with a cloth.}
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from builder.diagnostics.diagnostic import Gravity
from builder.model.guide import Step
from builder.model.library import Library
from builder.proof.writing.context import Context
from builder.proof.writing.lexicon import Name, longest_first, name_of
from builder.proof.writing.passages import Element, TextKind
from builder.proof.writing.rule import Finding, Known, RuleSource
from builder.proof.writing.tagging import Tag, Tagged

ID = "S04"
GRAVITY = Gravity.ERROR
SOURCE = RuleSource(title="S1000D and OASIS DITA, lists of tools and supplies", known=Known.DERIVED)
LIMIT = "every tool and consumable that is named is in the step's lists"


def check(element: Element[Step], context: Context) -> Iterator[Finding]:
    """Every tool or consumable that is named behind "with" and not listed."""
    step, library = element.record, context.library
    tools = _by_name({key: tool.name for key, tool in library.tools.items()})
    consumables = _by_name({key: item.name for key, item in library.consumables.items()})
    listed = {*step.tools, *_brought(step, library), *step.consumables}
    for text in element.passages:
        if text.kind is not TextKind.INSTRUCTION:
            continue
        for sentence in text.sentences:
            for words in _phrases(sentence):
                for known, key in ((tools, "tools"), (consumables, "consumables")):
                    name = _named(words, known)
                    if name and listed.isdisjoint(known[name]):
                        yield Finding(
                            found=f"“{' '.join(name)}” is named and is not in the step's '{key}'",
                            repair=f"add '{key}: [{known[name][0]}]'",
                            at=text.at,
                        )
                        break
                    if name:
                        break


def _brought(step: Step, library: Library) -> frozenset[str]:
    """The tools that the step's fastener brings: those that fit its head, and torque wrenches."""
    named = (library.fasteners.get(name or "") for name in (step.loosens, step.tightens))
    heads = {fastener.head for fastener in named if fastener is not None}
    return frozenset(
        key for key, tool in library.tools.items() if heads and (heads & set(tool.fits) or tool.torque_nm is not None)
    )


def _by_name(names: Mapping[str, str]) -> dict[Name, list[str]]:
    """Ids by the words of the name, and by its last word alone."""
    found: dict[Name, list[str]] = {}
    for key, text in names.items():
        words = name_of(text)
        for name in dict.fromkeys((words, words[-1:])):
            found.setdefault(name, []).append(key)
    return found


def _phrases(sentence: Tagged) -> Iterator[tuple[str, ...]]:
    """The words of each phrase behind "with" that says what a tool is: with an article, or bare."""
    for place, word in enumerate(sentence.lower):
        if word != "with":
            continue
        words: list[str] = []
        for further in range(place + 1, len(sentence.tags)):
            tag = sentence.tags[further]
            if tag is Tag.DETERMINER and not words and sentence.lower[further] in ("a", "an", "the"):
                continue
            if tag not in (Tag.NOUN, Tag.ADJECTIVE, Tag.NUMBER, Tag.UNIT, Tag.ING):
                break
            words.append(sentence.lower[further])
        yield tuple(words)


def _named(words: tuple[str, ...], known: Mapping[Name, list[str]]) -> Name:
    """The longest known name that the phrase ends with."""
    for name in longest_first(known):
        if words[-len(name) :] == name:
            return name
    return ()
