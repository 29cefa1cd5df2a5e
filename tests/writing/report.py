"""How right the rules of writing are: precision and recall by rule, on made-up sentences and on the library.

python -m tests.writing.report           the corpus, every miss and every false alarm
python -m tests.writing.report --library  the findings on the shipped library besides
python -m tests.writing.report --judged   findings in real prose that were judged by hand, and how many are false
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from builder.proof.writing import check_writing
from builder.proof.writing.passages import TextKind
from builder.sources.workspace import load
from tests.writing.trying import found_in_text

CORPUS = Path(__file__).parent / "corpus.yaml"
JUDGED = Path(__file__).parent / "judged.yaml"


@dataclass(frozen=True, slots=True)
class Case:
    """A sentence, what it is for, and the rules that it breaks; `unseen` was written after the rules were done."""

    kind: TextKind
    text: str
    breaks: frozenset[str]
    unseen: bool = False


@dataclass(frozen=True, slots=True)
class Finding:
    """A finding in real prose that was judged by hand; `group` is where the text comes from."""

    group: str
    kind: TextKind
    rule: str
    text: str
    right: bool
    why: str


def judged() -> tuple[Finding, ...]:
    """Every finding of the table, in its order."""
    table = yaml.safe_load(JUDGED.read_text(encoding="utf-8"))
    return tuple(
        Finding(group, _kind(one["kind"]), one["rule"], one["text"], one["verdict"] == "right", one["why"])
        for group in ("library", "drafts", "refined")
        for one in table[group]
    )


def silent() -> tuple[tuple[TextKind, str], ...]:
    """The drafts in which nothing was found."""
    table = yaml.safe_load(JUDGED.read_text(encoding="utf-8"))
    return tuple((_kind(one["kind"]), one["text"]) for one in table["silent"])


@dataclass(frozen=True, slots=True)
class Tried:
    """A sentence with the rules that were found broken."""

    case: Case
    found: frozenset[str]

    @property
    def missed(self) -> frozenset[str]:
        """What it breaks and no rule found."""
        return self.case.breaks - self.found

    @property
    def false(self) -> frozenset[str]:
        """What rules found and it does not break."""
        return self.found - self.case.breaks


def cases() -> tuple[Case, ...]:
    """The made-up sentences."""
    corpus = yaml.safe_load(CORPUS.read_text(encoding="utf-8"))
    return (
        *_good(corpus["good"], False),
        *_bad(corpus["bad"]),
        *_good(corpus["unseen-good"], True),
        *_bad(corpus["unseen-bad"], unseen=True),
    )


def _good(kinds: Mapping[str, list[str]], unseen: bool) -> Iterator[Case]:
    for kind, texts in kinds.items():
        yield from (Case(_kind(kind), text, frozenset(), unseen) for text in texts)


def _bad(entries: list[dict[str, Any]], *, unseen: bool = False) -> Iterator[Case]:
    for entry in entries:
        yield Case(_kind(entry.get("kind", "instruction")), entry["text"], frozenset(entry["breaks"]), unseen)


def _kind(name: str) -> TextKind:
    return TextKind[name.replace("-", "_").upper()]


def tried(all_cases: tuple[Case, ...]) -> tuple[Tried, ...]:
    """Every sentence held against every rule."""
    return tuple(Tried(case, frozenset(found_in_text(case.kind, case.text))) for case in all_cases)


def counts(results: tuple[Tried, ...]) -> tuple[Counter[str], Counter[str], Counter[str]]:
    """By rule: rightly found, falsely found, missed."""
    right: Counter[str] = Counter()
    false: Counter[str] = Counter()
    missed: Counter[str] = Counter()
    for result in results:
        right.update(result.found & result.case.breaks)
        false.update(result.false)
        missed.update(result.missed)
    return right, false, missed


def share(part: int, whole: int) -> str:
    """A share in per cent."""
    return f"{100 * part / whole:5.1f} %" if whole else "      -"


def write(results: tuple[Tried, ...], title: str) -> None:
    """Print the table and the sentences that went wrong."""
    right, false, missed = counts(results)
    good = sum(not result.case.breaks for result in results)
    print(f"{title}: {good} good and {len(results) - good} bad sentences")
    print(f"{'rule':8}{'right':>6}{'false':>6}{'missed':>7}  precision  recall")
    for rule in sorted(right | false | missed):
        found = right[rule] + false[rule]
        real = right[rule] + missed[rule]
        print(
            f"{rule:8}{right[rule]:6}{false[rule]:6}{missed[rule]:7}"
            f"    {share(right[rule], found)} {share(right[rule], real)}"
        )
    total, wrong, lost = right.total(), false.total(), missed.total()
    print(
        f"{'all':8}{total:6}{wrong:6}{lost:7}    {share(total, total + wrong)} {share(total, total + lost)}"
        f"   false alarms: {share(wrong, total + wrong)} of findings"
    )
    for result in results:
        for what, rules in (("missed", result.missed), ("false", result.false)):
            if rules:
                print(f"  {what:7}{', '.join(sorted(rules)):10} {result.case.text}")


def write_judged() -> None:
    """Print how many findings in real prose are false, by where the prose comes from, and each false one."""
    found = judged()
    for words, groups in (
        ("the library before it was mended, with the rules as they are", ("library",)),
        ("drafts, with the rules as they are", ("drafts",)),
        ("both, with the rules as they are", ("library", "drafts")),
        ("both, as the rules were when they first met the texts", ("library", "drafts", "refined")),
    ):
        mine = [one for one in found if one.group in groups]
        false = sum(not one.right for one in mine)
        print(f"{words}: {len(mine)} findings, {false} false ({share(false, len(mine)).strip()})")
    for one in found:
        if not one.right:
            print(f"  {one.rule} {one.text}  {one.why}")


def main() -> None:
    """Write the report."""
    if "--judged" in sys.argv:
        write_judged()
        return
    results = tried(cases())
    write(tuple(result for result in results if not result.case.unseen), "Sentences that the rules were made with")
    unseen = tuple(result for result in results if result.case.unseen)
    if unseen:
        write(unseen, "Sentences written after the rules")
    if "--library" in sys.argv:
        found = check_writing(load(None).library)
        print(f"The library: {len(found)} findings")
        for one in found:
            print(f"  {one.at}: {one.rule} {one.message}")


if __name__ == "__main__":
    main()
