"""How right the rules of writing are: precision and recall by rule, on made-up sentences and on the library.

python -m tests.writing.report           the corpus, every miss and every false alarm
python -m tests.writing.report --library  the findings on the shipped library besides
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


@dataclass(frozen=True, slots=True)
class Case:
    """A sentence, what it is for, and the rules that it breaks; `unseen` was written after the rules were done."""

    kind: TextKind
    text: str
    breaks: frozenset[str]
    unseen: bool = False


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


def main() -> None:
    """Write the report."""
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
