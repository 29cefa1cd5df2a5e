"""A guide's view for its page: steps named as on the cards, and what of its safety messages may be folded away.

A message may be folded where it stands again at the step that it is about. What stands nowhere else is open, and so is
every DANGER.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from builder.model.catalogue import SignalWord
from builder.model.once import Once
from builder.pages.guide_view import GuideView, ItemView, SectionView, StripView, TorqueView, summary_of
from builder.pages.labels import section_letters, step_labels, stretch_letters
from builder.tailoring.tailored import LaidOut, ShownCaution, Tailored, TorqueLine


@dataclass(frozen=True, slots=True, kw_only=True)
class Safety:
    """The safety messages of a job: `shown` at once, `folded` behind a summary that counts them by their word."""

    shown: tuple[StripView, ...]
    folded: tuple[StripView, ...]
    counts: tuple[tuple[str, int], ...]


def safety_of(tailored: Tailored, views: Once | None = None) -> Safety:
    """What is shown at once and what behind a summary; `views` are those of what guides have alike."""
    held = (tailored.summary_cautions, *tailored.steps)
    return (views or Once()).of(("safety", *map(id, held)), lambda: _safety(tailored), held)


def _safety(tailored: Tailored) -> Safety:
    at_steps = {shown.caution.id for step in tailored.steps for shown in step.cautions}

    def may_fold(shown: ShownCaution) -> bool:
        return shown.caution.id in at_steps and shown.word is not SignalWord.DANGER

    cautions = tailored.summary_cautions
    folded = tuple(filter(may_fold, cautions))
    counted = Counter(shown.word for shown in folded)
    return Safety(
        shown=summary_of(shown for shown in cautions if not may_fold(shown)),
        folded=summary_of(folded),
        counts=tuple((word.value, counted[word]) for word in SignalWord if counted[word]),
    )


def labelled(view: GuideView, tailored: Tailored, views: Once | None = None) -> GuideView:
    """`view` with every step named by the letter of its section and its number there."""
    labels = step_labels(tailored)
    # The labels of the steps in their order say which number has which.
    names = tuple(labels.values())
    views = views or Once()

    def section(view: SectionView, letter: str) -> SectionView:
        return views.of(("labelled", id(view), letter), lambda: _section(view, letter, labels), view)

    def items(shown: tuple[ItemView, ...], laid: tuple[LaidOut, ...]) -> tuple[ItemView, ...]:
        key = ("labelled items", id(shown), id(laid), names)
        return views.of(key, lambda: _items(shown, laid, labels), (shown, laid))

    finish, test = stretch_letters(tailored)
    letters = section_letters(tailored)
    return replace(
        view,
        sections=tuple(map(section, view.sections, letters)),
        finish=view.finish and section(view.finish, finish),
        test=view.test and section(view.test, test),
        tools=items(view.tools, tailored.tools),
        consumables=items(view.consumables, tailored.consumables),
        parts=items(view.parts, tailored.parts),
        torques=views.of(
            ("labelled torques", id(view.torques), id(tailored.torques), names),
            lambda: _torques(view.torques, tailored.torques, labels),
            (view.torques, tailored.torques),
        ),
        faults=views.of(
            ("labelled faults", id(view.faults), names),
            lambda: tuple(replace(fault, label=labels.get(fault.number, "")) for fault in view.faults),
            view.faults,
        ),
    )


def _torques(
    views: tuple[tuple[TorqueView, str], ...], lines: tuple[TorqueLine, ...], labels: Mapping[int, str]
) -> tuple[tuple[TorqueView, str], ...]:
    return tuple((torque, label_runs(line.steps, labels)) for (torque, _), line in zip(views, lines, strict=True))


def label_runs(numbers: Iterable[int], labels: Mapping[int, str]) -> str:
    """The names of steps with runs inside a section joined: `A3, B1 to B4`."""
    runs: list[list[int]] = []
    for number in numbers:
        if number not in labels:
            continue
        if runs and number == runs[-1][-1] + 1 and _letter(labels[number]) == _letter(labels[runs[-1][-1]]):
            runs[-1].append(number)
        else:
            runs.append([number])
    found: list[str] = []
    for run in runs:
        if len(run) > 2:
            found.append(f"{labels[run[0]]} to {labels[run[-1]]}")
        else:
            found.extend(labels[number] for number in run)
    return ", ".join(found)


def _letter(label: str) -> str:
    return label.rstrip("0123456789")


def _section(section: SectionView, letter: str, labels: Mapping[int, str]) -> SectionView:
    return replace(
        section, letter=letter, steps=tuple(replace(step, label=labels[step.number]) for step in section.steps)
    )


def _items(views: tuple[ItemView, ...], items: tuple[LaidOut, ...], labels: Mapping[int, str]) -> tuple[ItemView, ...]:
    return tuple(replace(view, steps=label_runs(item.steps, labels)) for view, item in zip(views, items, strict=True))
