"""Names of steps on a card: a letter for the section and a number in it, such as `C3`.

The letter is that of the section in the guide, so that a step keeps its name where another bike lacks a section.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from builder.tailoring.tailored import ShownStep, Tailored

# I and O are read as figures.
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def section_letters(tailored: Tailored) -> tuple[str, ...]:
    """The letter of each section that is shown; a guide of more sections than letters goes on with two."""
    titles = [section.title for section in tailored.guide.work]
    found, at = [], 0
    for section in tailored.sections:
        at = titles.index(section.title, at)
        found.append(_letter(at))
        at += 1
    return tuple(found)


def stretch_letters(tailored: Tailored) -> tuple[str, str]:
    """The letters of the finish and of the test, which come after those of all sections of the guide."""
    count = len(tailored.guide.work)
    return _letter(count), _letter(count + 1)


def step_labels(tailored: Tailored) -> Mapping[int, str]:
    """What each step is called, by its number in the whole."""
    finish, test = stretch_letters(tailored)
    groups: list[tuple[str, Iterable[ShownStep]]] = [
        (letter, section.steps) for letter, section in zip(section_letters(tailored), tailored.sections, strict=True)
    ]
    groups += [(finish, tailored.finish), (test, tailored.test)]
    return {step.number: f"{letter}{number}" for letter, steps in groups for number, step in enumerate(steps, 1)}


def label_list(numbers: Iterable[int], labels: Mapping[int, str]) -> str:
    """The names of steps, parted by commas."""
    return ", ".join(labels[number] for number in numbers if number in labels)


def _letter(number: int) -> str:
    turn, rest = divmod(number, len(LETTERS))
    return (LETTERS[turn - 1] if turn else "") + LETTERS[rest]
