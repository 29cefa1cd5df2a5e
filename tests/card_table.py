"""What cards come to: `python -m tests.card_table [--form brief] [--paper a4] [--guide ID] [--letters]`.

For each demo bike that plans a guide, and then for every guide for any bike: sides, how full they are, and with
`--letters` the sizes in the PDF read back: of the steps, of all that is set as text, and of letters in drawings. The
last lines sum up each form, and tell every house number that does not hold; then the command ends with status 1.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from builder.build.legible import card_texts
from builder.build.printer import Printer
from builder.build.store import kept_blocks
from builder.pages.form import Form
from builder.pages.paper import Paper
from builder.printing.legibility import FLOOR_PT, HAIR_PT
from builder.printing.sheet import places_of, read_sheets
from builder.proof.jobs import Job, Ready, planned_jobs, work_out
from builder.tailoring import Tailored
from tests.demo import LEAD, library

# House numbers: the most sides by form and paper, for the lead job and for any other of a bike of the fleet. A card for
# any bike has every branch, so that no number of sides holds it.
MOST_LEAD = {
    (Form.BRIEF, Paper.A4): 2,
    (Form.BRIEF, Paper.A5): 4,
    (Form.STEPS, Paper.A4): 6,
    (Form.STEPS, Paper.A5): 12,
}
MOST = {(Form.BRIEF, Paper.A4): 1, (Form.BRIEF, Paper.A5): 2, (Form.STEPS, Paper.A4): 8}
# How full the sides of all cards together are, those of one card but its last, and each of these at least. The last
# side holds what is left: a card of one side or two can't be as full as it wants to be.
MEAN_FILL, MEAN_OF_A_CARD, HALF = 0.85, 0.8, 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One card."""

    guide: str
    bike: str
    form: Form
    paper: Paper
    sides: int
    fill: tuple[float, ...]
    alone: int
    findings: int
    overflows: int
    sizes_pt: tuple[float, ...] = ()

    @property
    def mean(self) -> float:
        return sum(self.fill) / len(self.fill) if self.fill else 0.0

    @property
    def under_half(self) -> int:
        """How many sides but the last are under half full."""
        return sum(share < HALF for share in self.fill[:-1])


def breaches(row: Row) -> Iterator[str]:
    """Every house number that one card does not keep."""
    most = (MOST_LEAD if row.guide == LEAD else MOST).get((row.form, row.paper))
    if row.bike and most is not None and row.sides > most:
        yield f"{row.sides} sides, at most {most}"
    if row.under_half:
        yield f"{row.under_half} sides under half full"
    full = row.fill[:-1]
    if full and sum(full) / len(full) < MEAN_OF_A_CARD:
        yield f"sides but the last are {sum(full) / len(full):.2f} full, at least {MEAN_OF_A_CARD}"
    if row.alone:
        yield f"{row.alone} headings parted from their first step"
    if row.findings or row.overflows:
        yield f"{row.findings} breaches of rules of print, {row.overflows} of the text area"


def tailored(guides: tuple[str, ...]) -> Iterator[Tailored]:
    jobs = [job for bike in library().bikes.values() for job in planned_jobs(bike, library())]
    jobs += [Job(guide=guide) for guide in library().guides.values()]
    for job in jobs:
        outcome = work_out(job, library()) if not guides or job.guide.id in guides else None
        if isinstance(outcome, Ready) and not outcome.trouble:
            yield outcome.tailored


def rows(
    forms: tuple[Form, ...], papers: tuple[Paper, ...], guides: tuple[str, ...] = (), *, letters: bool = False
) -> Iterator[Row]:
    printer = Printer(keeper=kept_blocks())
    for one in tailored(guides):
        for form in forms:
            for paper in papers:
                if not form.refusal(paper):
                    yield row_of(one, form, paper, printer, letters=letters)


def row_of(card: Tailored, form: Form, paper: Paper, printer: Printer, *, letters: bool = False) -> Row:
    """What one card comes to; with `letters` its PDF is read back."""
    html = printer.html(card, paper, library().workshop, form=form)
    made = printer.pdf(html, card_texts(card, form))
    return Row(
        guide=card.guide.id,
        bike=card.bike.id if card.bike is not None else "",
        form=form,
        paper=paper,
        sides=made.sides,
        fill=made.fill,
        alone=len(made.alone),
        findings=len(made.findings),
        overflows=len(made.overflows),
        sizes_pt=sizes_pt(made.data, card) if letters else (),
    )


def sizes_pt(data: bytes, card: Tailored) -> tuple[float, ...]:
    """The smallest letters of steps, of text and of drawings, whose letters alone are under the floor."""
    sheets = read_sheets(data)
    found = {round(letter.size_pt, 1) for sheet in sheets for letter in sheet.ink}
    text = {size for size in found if size >= FLOOR_PT - HAIR_PT}
    acts = [letter.size_pt for step in card.steps for _, run in places_of(step.do, sheets) for letter in run]
    return (min(acts, default=0.0), min(text), min(found))


def written(row: Row) -> str:
    smallest = "".join(f" | {size:.1f}" for size in row.sizes_pt)
    return (
        f"| {row.guide} | {row.bike or 'any'} | {row.form.value} | {row.paper.label} | {row.sides} | {row.mean:.2f} "
        f"| {row.under_half} | {row.alone} | {row.findings} | {row.overflows}{smallest} |"
    )


def mean_fill(alike: Sequence[Row]) -> float:
    """How full the sides of cards are, all together."""
    sides = [share for row in alike for share in row.fill]
    return sum(sides) / len(sides)


def summed(alike: Sequence[Row]) -> str:
    """What cards of one form and paper come to, all together."""
    counts = Counter(row.sides for row in alike)
    lead = max((row.sides for row in alike if row.bike and row.guide == LEAD), default=0)
    return (
        f"{len(alike)} cards, of "
        + ", ".join(f"{number} sides {count}" for number, count in sorted(counts.items()))
        + f"; mean fill {mean_fill(alike):.2f}, {sum(map(is_less_full, alike))} cards under {MEAN_FILL}, "
        f"{sum(row.under_half for row in alike)} sides under half full; the lead job {lead} sides at most"
    )


def is_less_full(row: Row) -> bool:
    """Whether a card is less full than all together have to be."""
    return row.mean < MEAN_FILL


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--form", action="append", choices=[form.value for form in Form])
    parser.add_argument("--paper", action="append", choices=[paper.value for paper in Paper])
    parser.add_argument("--guide", action="append", default=[])
    parser.add_argument("--letters", action="store_true")
    asked = parser.parse_args()
    forms = tuple(map(Form, asked.form or [Form.BRIEF, Form.STEPS]))
    papers = tuple(map(Paper, asked.paper or [Paper.A4]))
    sizes = " steps pt | text pt | drawings pt |" if asked.letters else ""
    print(f"| guide | bike | form | paper | sides | fill | under half | headings alone | findings | overflows |{sizes}")
    print("|---|---|---|---|--:|--:|--:|--:|--:|--:|" + "--:|" * sizes.count("pt"))
    found, broken = [], []
    for row in rows(forms, papers, tuple(asked.guide), letters=asked.letters):
        found.append(row)
        name = f"{row.guide} {row.bike or 'any'} {row.form.value} {row.paper.label}"
        broken += [f"{name}: {breach}" for breach in breaches(row)]
        print(written(row), flush=True)
    for form, paper, of_a_bike in product(forms, papers, (True, False)):
        alike = [row for row in found if (row.form, row.paper, bool(row.bike)) == (form, paper, of_a_bike)]
        if alike:
            name = f"{form.value} on {paper.label} for {'a bike' if of_a_bike else 'any bike'}"
            print(f"{name}: {summed(alike)}")
            if form is Form.STEPS and mean_fill(alike) < MEAN_FILL:
                broken.append(f"{name}: mean fill {mean_fill(alike):.2f}, at least {MEAN_FILL}")
    print(f"{len(broken)} house numbers do not hold", *broken, sep="\n")
    sys.exit(1 if broken else 0)


if __name__ == "__main__":
    main()
