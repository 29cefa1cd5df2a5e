"""Put faults into the work and ask whether a line of the brief card shows them: `python -m tests.mutation.brief`.

    a guide for a bike ─► each fault that a hand can make in it ─► the printed lines: does one name what is missing?

A fault is an act of the full card that was left undone: a fastener left loose, a part left on the bench, a state left
as it was, a test left out, a reading not taken, what a limit decides not held to, grease or threadlocker forgotten, or
any other act that has a proof. What a limit tells besides is how the step is done, which is no fault to leave out. A
fault is shown where a printed line names what is missing; that is judged by the words on the card and not by what put
them there.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from html import unescape

from markupsafe import Markup

from builder.model.catalogue import Preparation
from builder.model.library import Library
from builder.pages.composed_card import composed_card_html
from builder.pages.form import Form
from builder.pages.markup import inline
from builder.pages.paper import Paper
from builder.pages.strings_en import EN
from builder.pages.theme import Theme
from builder.proof.jobs import Job, Ready, planned_jobs, work_out
from builder.tailoring import Tailored
from builder.tailoring.tailored import ShownStep

_LINE = re.compile(r'data-step="\w+"[^>]*>(.*?)</section>', re.DOTALL)
_END = re.compile(r"<[^>]*>")
# So much of a text that stands in a line is the text: the line may put it differently at its end.
_ENOUGH = 40
# An act that leaves nothing where the bike is ridden: it is done to get at something.
_SURE = "Make sure that "
_SENTENCE = re.compile(r"(?<=\.) +(?=[A-Z0-9])")
_DIGIT = re.compile(r"\d")
_DECIDES = re.compile(r"\d|\bends the\b|\breplaced\b|\bfails\b|\bnot (?:ridden|used)\b|\bnobody\b", re.IGNORECASE)


class Kind(StrEnum):
    """What was left undone."""

    LOOSE = "fastener left loose"
    UNTRIED = "fastener not tried"
    FORGOTTEN = "part left on the bench"
    STATE = "state left as it was"
    UNTESTED = "test left out"
    UNREAD = "reading not taken"
    UNHELD = "what a limit decides not held to"
    DRY = "thread left without its preparation"
    UNDONE = "act with a proof left undone"


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkFault:
    """An act that was left undone: which card, which step, and the texts of which one shows it."""

    kind: Kind
    card: str
    step: str
    do: str
    shown_by: tuple[tuple[str, ...], ...]

    def __str__(self) -> str:
        return f"{self.kind}: {self.card}: {self.step}: {self.do}"


def cards(library: Library) -> Iterator[Tailored]:
    """Every guide for any bike, and every job that the file of a bike plans."""
    jobs = [Job(guide=guide) for guide in library.guides.values()]
    jobs += [job for bike in library.bikes.values() for job in planned_jobs(bike, library)]
    for job in jobs:
        outcome = work_out(job, library)
        if isinstance(outcome, Ready) and not outcome.trouble:
            yield outcome.tailored


def work_faults(tailored: Tailored) -> Iterator[WorkFault]:
    """Every fault that a hand can make in the work of a card."""
    card = f"{tailored.guide.id} for {tailored.bike.id if tailored.bike is not None else 'any bike'}"
    last = {(state, step.condition): step for step in tailored.steps for state in step.step.leaves}
    final = {step.number for step in last.values()}
    tests = {step.number for step in tailored.test}
    for step in tailored.steps:

        def fault(kind: Kind, *shown_by: tuple[str, ...], step: ShownStep = step) -> WorkFault:
            return WorkFault(kind=kind, card=card, step=step.anchor, do=step.do, shown_by=shown_by)

        told = tuple((text,) for text in (step.do, step.prove) if text)
        if (torque := step.torque) is not None:
            figure = f"{torque.torque_nm.low:g}" if torque.torque_nm is not None else torque.fastener.name
            yield fault(Kind.LOOSE, (torque.fastener.name, figure))
            if (prepared := torque.fastener.preparation) is not Preparation.DRY:
                yield fault(Kind.DRY, (torque.fastener.name, EN.preparations[prepared]))
        for tried in step.tried:
            yield fault(Kind.UNTRIED, (tried.fastener.name,))
        if step.step.parts:
            yield fault(Kind.FORGOTTEN, *told)
        if step.number in final:
            named = ((torque.fastener.name,),) if torque is not None else ()
            named += ((step.measurement.name,),) if step.measurement is not None else ()
            yield fault(Kind.STATE, *told, *named)
        if step.number in tests:
            yield fault(Kind.UNTESTED, *told)
        if step.measurement is not None:
            yield fault(Kind.UNREAD, (step.measurement.name,))
        for sentence in decided_by(step.limit):
            yield fault(Kind.UNHELD, (sentence,), *((text,) for text in proofs_of(step, sentence)))
        if step.prove and torque is None and step.number not in final | tests and not step.step.leaves:
            yield fault(Kind.UNDONE, *told)


def decided_by(limit: str) -> tuple[str, ...]:
    """The sentences of a limit that give a figure, or say what ends the job, is replaced or is not ridden."""
    return tuple(sentence for sentence in _SENTENCE.split(limit) if _DECIDES.search(sentence))


def proofs_of(step: ShownStep, sentence: str) -> tuple[str, ...]:
    """What must be so for the sentence of a limit to be held to; none where it has a figure, which must be told."""
    said = (step.prove, step.do if step.do.startswith(_SURE) else "")
    return () if _DIGIT.search(sentence) else tuple(filter(None, said))


def lines_of(tailored: Tailored, theme: Theme, library: Library) -> tuple[str, ...]:
    """What has a tick on the brief card, as it is printed: a line, or a few in a run; letters and figures only."""
    html = composed_card_html(tailored, theme, Form.BRIEF, Paper.A4, workshop=library.workshop)
    return tuple(_squeezed(_END.sub(" ", text)) for text in _LINE.findall(html))


def is_shown(fault: WorkFault, lines: Iterable[str]) -> bool:
    """Whether one line names what is missing."""
    printed = tuple(lines)
    wanted = (tuple(_squeezed(_plain(text))[:_ENOUGH] for text in texts) for texts in fault.shown_by)
    return any(all(text in line for text in texts) for texts in wanted for line in printed)


def _plain(text: str) -> str:
    return Markup(inline(text.removeprefix(_SURE))).striptags()


def _squeezed(text: str) -> str:
    return re.sub(r"\W", "", unescape(text)).casefold()


def judged(tailored: Iterable[Tailored], theme: Theme, library: Library) -> Iterator[tuple[WorkFault, bool]]:
    """Every fault of these cards, and whether it meets a line."""
    for card in tailored:
        lines = lines_of(card, theme, library)
        for fault in work_faults(card):
            yield fault, is_shown(fault, lines)


def main() -> int:
    """Judge every fault, or a sample of cards, and name what no line shows."""
    from tests.demo import library
    from tests.pages.shop import theme

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sample", type=int, default=0, help="so many cards")
    options = parser.parse_args()
    chosen = list(cards(library()))
    if options.sample:
        chosen = random.Random(20261126).sample(chosen, min(options.sample, len(chosen)))
    seeded: Counter[Kind] = Counter()
    shown: Counter[Kind] = Counter()
    survivors: dict[str, int] = {}
    for fault, is_met in judged(chosen, theme(), library()):
        seeded[fault.kind] += 1
        shown[fault.kind] += is_met
        if not is_met:
            named = f"{fault.kind}: {fault.step}: {fault.do}"
            survivors[named] = survivors.get(named, 0) + 1
    print(f"{len(chosen)} brief cards\n| fault in the work | seeded | met by a line | share |\n|---|--:|--:|--:|")
    for kind in Kind:
        if seeded[kind]:
            print(f"| {kind} | {seeded[kind]} | {shown[kind]} | {100 * shown[kind] / seeded[kind]:.1f} % |")
    print(f"| all | {seeded.total()} | {shown.total()} | {100 * shown.total() / max(1, seeded.total()):.1f} % |")
    print(f"\nMet by no line ({len(survivors)} acts):" if survivors else "\nEvery fault met a line.")
    for named, count in sorted(survivors.items()):
        print(f"  {count:3}× {named}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
