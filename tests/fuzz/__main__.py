"""Random inputs for the reader, quantities and tailoring: `python -m tests.fuzz [--runs N] [--seed S]`.

The reader is given bytes, and shipped files with lines cut, doubled and exchanged; quantities are given texts;
tailoring is given bikes of the demo with parts taken away. Whatever comes back must be an answer or a told mistake; an
exception that nobody promised is a find, and the command prints it with the smallest input and ends with 1.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st

from builder.model.facts import Role
from builder.model.memory import Memory
from builder.model.units import QuantityError, Unit, read_measure, read_range, read_value
from builder.proof.jobs import Job, work_out
from builder.sources.loaded import shipped_library
from builder.sources.text import decode
from builder.sources.workspace import load
from builder.sources.yaml_tree import read_tree
from tests.demo import library

_PIECES = st.sampled_from((*"-:{}[]'\"#\n\t|>?", "- ", ": ", "&a ", "*a", "!!x ", "  "))
_TEXTS = st.lists(st.one_of(_PIECES, st.text(max_size=6)), max_size=60).map("".join)
_FIGURES = st.sampled_from(("1", "40", ".", ",", " ", "–", "-", "±", "N·m", "mm", "in", "to", "½", "1e9", "−"))
_QUANTITIES = st.one_of(st.text(max_size=30), st.lists(_FIGURES, max_size=9).map("".join))
_BIKES, _GUIDES = sorted(library().bikes), sorted(library().guides)


def reads_bytes(raw: bytes) -> None:
    """Any bytes give a tree or diagnostics."""
    tree = read_tree(decode("x.yaml", raw))
    if tree.root is None and not tree.diagnostics:
        # YAML's own lines, remarks and nothing at all hold no value.
        lines = (line.strip() for line in tree.text.splitlines())
        assert all(not line or line.startswith(("#", "---", "...", "%")) for line in lines)


def reads_workspace(memory: Memory, name: str, cuts: list[tuple[int, int, str]]) -> None:
    """A shipped file with lines cut, doubled or exchanged is read with whatever mistakes are told."""
    lines = (shipped_library() / name).read_text(encoding="utf-8").splitlines(keepends=True)
    for at, to, how in cuts:
        one, other = at % max(len(lines), 1), to % max(len(lines), 1)
        match how:
            case "cut" if lines:
                del lines[one]
            case "double" if lines:
                lines.insert(other, lines[one])
            case "exchange" if lines:
                lines[one], lines[other] = lines[other], lines[one]
            case _:
                lines.insert(one, f"{how}\n")
    with tempfile.TemporaryDirectory(prefix="spannerleaf-fuzz-") as folder:
        path = Path(folder) / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("".join(lines), encoding="utf-8", errors="surrogatepass")
        load(Path(folder), memory=memory)


def reads_quantity(text: str, unit: Unit) -> None:
    """A text is a quantity or is told to be none."""
    for read in (read_value, read_measure, read_range):
        try:
            read(text, unit)
        except QuantityError:
            continue


def tailors(bike: str, guide: str, gone: frozenset[Role]) -> None:
    """A bike that lacks parts gets its guide, or the reason why not."""
    whole = library().bikes[bike]
    parts = {role: part for role, part in whole.parts.items() if role not in gone}
    lacking = replace(whole, parts=parts, without=whole.without | frozenset(list(gone)[:1]))
    work_out(Job(guide=library().guides[guide], bike=lacking), library())


def targets(memory: Memory) -> dict[str, tuple[Callable[..., None], dict[str, Any], float]]:
    """What is fuzzed: the function, its inputs, and its share of the runs."""
    files = [path.relative_to(shipped_library()).as_posix() for path in sorted(shipped_library().rglob("*.yaml"))]
    numbers = st.integers(0, 400)
    hows = st.one_of(st.sampled_from(("cut", "double", "exchange")), st.text(max_size=12))
    cuts = st.lists(st.tuples(numbers, numbers, hows), min_size=1, max_size=6)

    def workspace(name: str, cuts: list[tuple[int, int, str]]) -> None:
        reads_workspace(memory, name, cuts)

    return {
        "bytes as YAML": (reads_bytes, {"raw": st.one_of(st.binary(max_size=200), _TEXTS.map(_encoded))}, 1),
        "quantities": (reads_quantity, {"text": _QUANTITIES, "unit": st.sampled_from(list(Unit))}, 1),
        "files with lines changed": (workspace, {"name": st.sampled_from(files), "cuts": cuts}, 0.05),
        "bikes that lack parts": (
            tailors,
            {
                "bike": st.sampled_from(_BIKES),
                "guide": st.sampled_from(_GUIDES),
                "gone": st.frozensets(st.sampled_from(list(Role)), max_size=8),
            },
            0.05,
        ),
    }


def _encoded(text: str) -> bytes:
    return text.encode("utf-8", "surrogatepass")


def fuzzed(runs: int, number: int) -> dict[str, tuple[int, str]]:
    """For each target how many inputs were tried, and what was found; '' where nothing was."""
    return {
        name: _tried(function, st.fixed_dictionaries(inputs), max(1, int(runs * share)), number)
        for name, (function, inputs, share) in targets(Memory()).items()
    }


def _tried(function: Callable[..., None], inputs: st.SearchStrategy[Any], runs: int, number: int) -> tuple[int, str]:
    tried = 0

    @settings(max_examples=runs, deadline=None, database=None, suppress_health_check=list(HealthCheck))
    @seed(number)
    @given(inputs)
    def once(drawn: dict[str, Any]) -> None:
        nonlocal tried
        tried += 1
        function(**drawn)

    try:
        once()
    except Exception as error:
        notes = " ".join(getattr(error, "__notes__", ()))
        return tried, f"{type(error).__name__}: {error} {notes}"
    return tried, ""


def main() -> int:
    """Fuzz, and print a line for each target."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument(
        "--runs", type=int, default=20_000, help="how many texts; files and bikes are a twentieth of it"
    )
    parser.add_argument("--seed", type=int, default=20261126)
    options = parser.parse_args()
    found = fuzzed(options.runs, options.seed)
    for name, (tried, wrong) in found.items():
        print(f"{name:<28} {tried:>8} runs: {wrong or 'nothing found'}")
    return 1 if any(wrong for _, wrong in found.values()) else 0


if __name__ == "__main__":
    raise SystemExit(main())
