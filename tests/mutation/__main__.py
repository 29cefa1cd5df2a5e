"""Put faults into the library and report how many are caught: `python -m tests.mutation [--home ID] [--json]`.

All of them take hours. `--sample` takes a few of each kind, other ones with another `--seed`, `--share 3/20` every
twentieth from the third on, and with `--keep FILE` each answer is written down as it comes and not sought again, so
that a run goes on where one was stopped.
"""

from __future__ import annotations

import argparse
import json
import random
import sys
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from multiprocessing import Pool
from pathlib import Path

from builder.sources.workspace import load
from tests.mutation.faults import Fault, faults
from tests.mutation.judging import Judged, judge
from tests.mutation.named import reason_for

_SOUND = load(None).library
_SEED = 20261125
_FAULTS: tuple[Fault, ...] = tuple(faults(_SOUND))


# The number of a fault, whether it changes a path, what caught it, and why it is harmless.
_Answer = tuple[int, bool, str, str]


def _one(number: int) -> _Answer:
    judged: Judged = judge(_FAULTS[number], _SOUND)
    return number, judged.changes, judged.by, judged.why


def main() -> int:
    """Judge the faults, print a table by kind, then every survivor."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--home", help="only faults in this guide or procedure")
    parser.add_argument("--sample", type=int, default=0, help="at most so many faults of each kind")
    parser.add_argument("--seed", type=int, default=_SEED, help="another number draws another sample")
    parser.add_argument("--share", type=_share, default=(1, 1), metavar="N/OF", help="only one part of all faults")
    parser.add_argument("--keep", type=Path, metavar="FILE", help="what was found is written here, and taken from here")
    parser.add_argument("--processes", type=int, help="how many at one time; as many as there are cores without it")
    parser.add_argument("--json", action="store_true")
    options = parser.parse_args()
    chosen = [n for n, fault in enumerate(_FAULTS) if options.home in (None, fault.home)]
    if options.sample:
        by_kind = defaultdict(list)
        for number in chosen:
            by_kind[_FAULTS[number].kind].append(number)
        some = random.Random(options.seed)
        chosen = [n for group in by_kind.values() for n in some.sample(group, min(options.sample, len(group)))]
    number, of = options.share
    chosen = sorted(chosen)[number - 1 :: of]
    results = list(_kept(options.keep, chosen))
    due = sorted({*chosen} - {result[0] for result in results})
    with Pool(options.processes) as pool:
        for result in pool.imap_unordered(_one, due, chunksize=4):
            results.append(result)
            _keep(options.keep, result)
            print(f"\r{len(results)}/{len(chosen)}", end="", file=sys.stderr)
    print(file=sys.stderr)
    return _report(sorted(results), as_json=options.json)


def _share(text: str) -> tuple[int, int]:
    number, _, of = text.partition("/")
    if not 1 <= int(number) <= int(of):
        raise ValueError(text)
    return int(number), int(of)


def _called(number: int) -> list[str]:
    """What names a fault in every run; where two have one name, they are told apart by their order."""
    fault = _FAULTS[number]
    return [fault.kind, fault.where]


def _kept(file: Path | None, chosen: Iterable[int]) -> Iterator[_Answer]:
    """The answers that an earlier run wrote down."""
    if file is None or not file.exists():
        return
    by_name = defaultdict(list)
    for line in file.read_text(encoding="utf-8").splitlines():
        name, answer = json.loads(line)
        by_name[tuple(name)].append(answer)
    for number in chosen:
        answers = by_name[tuple(_called(number))]
        if answers:
            yield (number, *answers.pop(0))


def _keep(file: Path | None, result: _Answer) -> None:
    if file is not None:
        number, *answer = result
        with file.open("a", encoding="utf-8") as kept:
            kept.write(json.dumps([_called(number), answer]) + "\n")


def _report(results: list[tuple[int, bool, str, str]], *, as_json: bool) -> int:
    seeded, changing, caught = Counter(), Counter(), Counter()
    for number, changes, by, _ in results:
        kind = _FAULTS[number].kind
        seeded[kind] += 1
        changing[kind] += changes
        caught[kind] += bool(changes and by)
    survivors = [
        {"kind": _FAULTS[n].kind, "where": _FAULTS[n].where} for n, changes, by, _ in results if changes and not by
    ]
    harmless = Counter((_FAULTS[n].kind, why) for n, changes, _, why in results if not changes)
    share = 100 * sum(caught.values()) / max(1, sum(changing.values()))
    if as_json:
        print(json.dumps({"seeded": seeded, "changing": changing, "caught": caught, "survivors": survivors}, indent=2))
        return 0
    print("| kind | seeded | change a path | caught |\n|---|--:|--:|--:|")
    for kind in seeded:
        print(f"| {kind} | {seeded[kind]} | {changing[kind]} | {caught[kind]} |")
    print(f"| all | {sum(seeded.values())} | {sum(changing.values())} | {sum(caught.values())} ({share:.1f} %) |")
    print("\nNot caught:" if survivors else "\nEvery fault that changes a path was caught.")
    for one in survivors:
        why = reason_for(one["kind"], one["where"])
        print(f"  {one['kind']}: {one['where']}{f' ({why})' if why else ''}")
    print("\nChange no path, by reason:")
    for (kind, why), count in sorted(harmless.items()):
        print(f"  {count:4} {kind}: {why}")
    return 0 if share >= 95 else 1


if __name__ == "__main__":
    sys.exit(main())
