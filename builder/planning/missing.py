"""What is still to be found out: each fact once, how to find it, where to write it, and what it must be."""

from __future__ import annotations

from collections.abc import Iterable

from builder.checks.check import Force
from builder.model.bike import Bike
from builder.model.library import Library
from builder.model.parts import Part, folder_of
from builder.model.paths import MEASURED, RIDER, role_of
from builder.planning.asking import Answered
from builder.planning.fitting import Fitting
from builder.planning.limits import limit_on
from builder.planning.plan import Missing, Requirement

_READ_IT = "Read the marking on the part, or look in its maker's data."
_MEASURE_IT = "Measure it on the bike."
_ASK_THE_RIDER = "Ask the rider."


def missing_facts(answered: Iterable[Answered], fitting: Fitting, library: Library) -> tuple[Missing, ...]:
    """What the answers lack, each fact once, with the measurement of the catalogue that finds it."""
    checks: dict[str, list[Answered]] = {}
    words: dict[str, str] = {}
    for one in answered:
        for lack in one.lacks:
            checks.setdefault(lack.path, []).append(one)
            words.setdefault(lack.path, lack.words)
    return tuple(_missing(path, words[path], checks[path], fitting, library) for path in checks)


def _missing(path: str, words: str, asked: list[Answered], fitting: Fitting, library: Library) -> Missing:
    key = key_of(path)
    measurement = next((one for one in library.measurements.values() if one.key == key), None)
    part = None if (role := role_of(path)) is None else fitting.part(role)
    if measurement is not None:
        named, how = measurement.name, _MEASURE_IT
    else:
        place = path.partition(".")[0]
        named, how = words, {MEASURED: _MEASURE_IT, RIDER: _ASK_THE_RIDER}.get(place, _READ_IT)
    # A part that is written out at its place without a name is called by the place.
    plain = "" if role is None else role.value.replace("-", " ")
    told = part is None or not part.name or part.name in named or (part.name == plain and plain.split()[-1] in named)
    return Missing(
        key=key,
        words=named.removeprefix("the ") + ("" if told or part is None else f" ({part.name})"),
        how=how,
        checks=tuple(dict.fromkeys(one.check.name for one in asked)),
        measurement="" if measurement is None else measurement.id,
        write_at=write_at(path, part, fitting.found),
        bounds=_bounds(path, asked),
    )


def key_of(path: str) -> str:
    """Where the fact at `path` goes in a bike's file: `parts.frame.chainstay`, `measured.chain-links`."""
    place = path.partition(".")[0]
    return path if place in (MEASURED, RIDER) or not path else f"parts.{path}"


def write_at(path: str, part: Part | None, bike: Bike) -> str:
    """Where to write the fact: the file and the key in it."""
    if not path:
        return ""
    if part is not None and part.id:
        file, own = part.places.of("").file, bike.places.of("").file
        key = f"'{path.partition('.')[2]}' of {part.id}, in "
        root = own.removesuffix(f"bikes/{bike.id}.yaml")
        if file and own and file.removeprefix(root).partition("/")[0] != "parts":
            # What comes with the program is not changed: a record of the workspace is laid over it.
            return f"{key}{root}parts/{folder_of(part)}/, copied from {file}"
        return key + (file or f"parts/{folder_of(part)}/")
    file = bike.places.of("").file  # a rider's bike has none
    return f"'{key_of(path)}'{f', in {file}' if file else ''}"


def _bounds(path: str, asked: list[Answered]) -> str:
    """What the fact must be, by every check that lacks it and nothing else."""
    limits: list[Requirement] = []
    for one in asked:
        if one.check.asked.force is not Force.TELLS and len(one.lacks) == 1:
            limit = limit_on(one, path)
            if limit is not None:
                limits.append(limit)
    return " and ".join(dict.fromkeys(limit.bounds for limit in limits))
