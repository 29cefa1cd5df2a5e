"""What cards come to: `python -m tests.card_table [--form brief] [--paper a4] [--guide ID] [--letters]`.

For every guide, for any bike and for each demo bike that plans it: sides, how full they are, and with `--letters` the
sizes in the PDF read back: of the steps, of all that is set as text, and of the letters in drawings. The last lines
hold the whole set against the house numbers.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import dataclass

from builder.build.legible import card_texts
from builder.build.printer import Printer
from builder.pages.form import Form
from builder.pages.paper import Paper
from builder.printing.legibility import FLOOR_PT, HAIR_PT
from builder.printing.sheet import places_of, read_sheets
from builder.proof.jobs import Job, Ready, planned_jobs, work_out
from builder.tailoring import Tailored
from tests.demo import LEAD, library

# House numbers: the most A4 sides by form, for the lead job and for any bike of the fleet; two are one leaf.
MOST_LEAD = {Form.BRIEF: 2, Form.STEPS: 6}
MOST_LEAD_A5 = 12
MOST = {Form.BRIEF: 2, Form.STEPS: 8}
MEAN_FILL, HALF = 0.85, 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One card."""

    guide: str
    bike: str
    form: Form
    paper: Paper
    sides: int
    fill: tuple[float, ...]
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


def tailored(guides: tuple[str, ...]) -> Iterator[Tailored]:
    jobs = [Job(guide=guide) for guide in library().guides.values()]
    jobs += [job for bike in library().bikes.values() for job in planned_jobs(bike, library())]
    for job in jobs:
        outcome = work_out(job, library()) if not guides or job.guide.id in guides else None
        if isinstance(outcome, Ready) and not outcome.trouble:
            yield outcome.tailored


def rows(
    forms: tuple[Form, ...], papers: tuple[Paper, ...], guides: tuple[str, ...] = (), *, letters: bool = False
) -> Iterator[Row]:
    printer = Printer()
    for one in tailored(guides):
        for form in forms:
            for paper in papers:
                if form.refusal(paper):
                    continue
                html = printer.html(one, paper, library().workshop, form=form)
                made = printer.pdf(html, card_texts(one, form))
                yield Row(
                    guide=one.guide.id,
                    bike=one.bike.id if one.bike is not None else "",
                    form=form,
                    paper=paper,
                    sides=made.sides,
                    fill=made.fill,
                    findings=len(made.findings),
                    overflows=len(made.overflows),
                    sizes_pt=sizes_pt(made.data, one) if letters else (),
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
        f"| {row.under_half} | {row.findings} | {row.overflows}{smallest} |"
    )


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
    print(f"| guide | bike | form | paper | sides | fill | under half | findings | overflows |{sizes}")
    print("|---|---|---|---|--:|--:|--:|--:|--:|" + "--:|" * sizes.count("pt"))
    found = []
    for row in rows(forms, papers, tuple(asked.guide), letters=asked.letters):
        found.append(row)
        print(written(row), flush=True)
    for form in forms:
        for paper in papers:
            alike = [row for row in found if (row.form, row.paper) == (form, paper)]
            sides = [share for row in alike for share in row.fill]
            ours = [row for row in alike if row.bike]
            lead = [row.sides for row in ours if row.guide == LEAD]
            if sides:
                print(
                    f"{form.value} on {paper.label}: {len(alike)} cards, {sum(row.sides for row in alike)} sides, "
                    f"mean fill {sum(sides) / len(sides):.2f}, most sides for a bike "
                    f"{max((row.sides for row in ours), default=0)}, of the lead job {max(lead, default=0)}, "
                    f"sides under half full {sum(row.under_half for row in alike)}"
                )


if __name__ == "__main__":
    main()
