"""The card to work along: a tailored guide as blocks, which the printing room composes into sides.

What to get, the tools, the torques and what to stop for stand first; then the steps with their cautions, drawings and
proofs; then the faults and the sign-off. Reasons, sources, workings and history stay on the guide's page.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from markupsafe import Markup

from builder.model.catalogue import Workshop
from builder.pages.card_block import CardBlock, ended, in_rows
from builder.pages.composed_card import composed_html
from builder.pages.figures import named_again, smaller
from builder.pages.get_list import SwapRow, get_rows, swap_rows
from builder.pages.guide_view import GuideView, SectionView, StepView, StripView, strips_of, view_guide
from builder.pages.labels import label_list, section_letters, step_labels, stretch_letters
from builder.pages.markup import inline
from builder.pages.paper import Paper
from builder.pages.results import results_of
from builder.pages.revision import UNKNOWN
from builder.pages.strings import Words
from builder.pages.strings_en import EN
from builder.pages.theme import Theme
from builder.tailoring.tailored import Tailored

_NO_CODE = Markup("")
# What stands in one block, so that a column can end within a list.
_ROWS, _TOOLS, _LINES, _TEXTS = 2, 6, 3, 5
# White before a step, before a section and before a list [mm].
_STEP_MM, _SECTION_MM, _LIST_MM = 1.2, 2.6, 2.2
# Drawings at 0.65 of their size, at most 59 mm wide, with letters of 8.2 pt: 15 minutes of arc at 0.47 m.
_DRAWN, _LETTERED = 0.65, 1.26


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadView:
    """The head of the first side."""

    swaps: tuple[SwapRow, ...]
    issue: str


def step_card_html(
    tailored: Tailored,
    theme: Theme,
    paper: Paper = Paper.A4,
    *,
    words: Words = EN,
    workshop: Workshop | None = None,
    qr: Markup = _NO_CODE,
    standalone: bool = False,
) -> str:
    """The step card of `tailored` for `paper`, as a document of blocks.

    `qr` is a drawing that leads to its page; `standalone` carries the whole stylesheet.
    """
    view = view_guide(tailored, words)
    blocks = tuple(_blocks(tailored, view, words, workshop))
    return composed_html(
        view, blocks, theme, paper, kind="along", words=words, workshop=workshop, qr=qr, standalone=standalone
    )


def head_block(tailored: Tailored, words: Words) -> CardBlock:
    """What the card is of, for which bike, and what comes off and goes on."""
    shown = HeadView(swaps=swap_rows(tailored.plan), issue=card_code(tailored, words))
    return CardBlock(kind="head", shown=shown, spans=True)


def card_code(tailored: Tailored, words: Words) -> str:
    """What tells one printing of a card from another: its code, its revision, its issue and the issue's date."""
    revisions = tailored.guide.revisions
    issue = f" · {words.issue} {len(revisions)}, {revisions[-1].date}" if revisions else ""
    return f"{tailored.code} · {words.revision} {UNKNOWN}{issue}"


def _blocks(tailored: Tailored, g: GuideView, words: Words, workshop: Workshop | None) -> Iterator[CardBlock]:
    labels = step_labels(tailored)
    torques = tuple(
        (view, label_list(line.steps, labels)) for line, (view, _) in zip(tailored.torques, g.torques, strict=True)
    )
    yield head_block(tailored, words)
    if torques:
        yield CardBlock(kind="torques", shown=torques, heading=words.torques, spans=True, gap_mm=3.0)
    yield from ended(_before(tailored, g, words, workshop))
    yield from _work(tailored, g)
    faults = tuple(
        (fault, labels.get(shown.number, "")) for fault, shown in zip(g.faults, tailored.faults, strict=True)
    )
    yield from ended(in_rows("faults", words.faults, faults, 1, gap_mm=_SECTION_MM))
    signed = tuple((view, steps) for view, steps in torques if view.value)
    yield CardBlock(kind="signed", shown=signed, gap_mm=_SECTION_MM)


def _before(tailored: Tailored, g: GuideView, words: Words, workshop: Workshop | None) -> Iterator[CardBlock]:
    rows = get_rows(tailored, workshop, words)
    yield from in_rows("get", words.get, rows, _ROWS, gap_mm=_LIST_MM)
    things = (*g.tools, *g.consumables)
    yield from in_rows("tools", words.tools_and, things, _TOOLS, gap_mm=_LIST_MM)
    results = results_of(tailored.checks, words)
    yield from in_rows("results", words.worked_out, results.rows, _LINES, gap_mm=_LIST_MM)
    if results.fitting:
        said = words.more_fit if results.rows or results.hills else words.all_fit
        more = Markup("{}").format(said.format(count=results.fitting))
        yield CardBlock(
            kind="remark",
            shown=more,
            heading="" if results.rows else words.worked_out,
            gap_mm=1.0 if results.rows else _LIST_MM,
        )
    yield from in_rows("lines", words.hill_title, results.hills, _LINES, gap_mm=_LIST_MM)
    yield from in_rows("lines", words.measure_first, tuple(map(inline, g.measure_first)), _LINES, gap_mm=_LIST_MM)
    yield from in_rows("ticks", words.before, g.before, _LINES, gap_mm=_LIST_MM)
    yield from _last_named(in_rows("stop", words.stop_if, (*g.not_when, *g.mechanic_when), 2, gap_mm=_LIST_MM))
    yield from _safety(tailored, words)


def _last_named(blocks: Iterator[CardBlock]) -> Iterator[CardBlock]:
    """The same blocks; the last is of the kind that closes the frame of all, and never stands alone."""
    found = list(blocks)
    yield from (replace(block, keeps=block is found[-2]) for block in found[:-1])
    if found:
        yield replace(found[-1], kind=f"{found[-1].kind}-end")


def _safety(tailored: Tailored, words: Words) -> Iterator[CardBlock]:
    strips = [part for strip in strips_of(tailored.summary_cautions) for part in _in_parts(strip)]
    for number, strip in enumerate(strips):
        heading = words.safety if not number else ""
        yield CardBlock(kind="panel", shown=strip, heading=heading, gap_mm=_LIST_MM if not number else 1.5)
    yield CardBlock(
        kind="remark", shown=Markup("<b>{}</b>").format(words.maker_first), gap_mm=1.5 if strips else _LIST_MM
    )


def _in_parts(strip: StripView) -> Iterator[StripView]:
    """A frame with many texts as several, so that a column can end between them."""
    parts = -(-len(strip.texts) // _TEXTS)
    each = -(-len(strip.texts) // parts)
    for number in range(parts):
        texts = strip.texts[number * each : (number + 1) * each]
        yield replace(strip, texts=texts, signs=strip.signs if not number else ())


def _work(tailored: Tailored, g: GuideView) -> Iterator[CardBlock]:
    finish, test = stretch_letters(tailored)
    labels = step_labels(tailored)
    stretches: list[tuple[str, SectionView]] = list(zip(section_letters(tailored), g.sections, strict=True))
    stretches += [(letter, one) for letter, one in ((finish, g.finish), (test, g.test)) if one is not None]
    cautions = {step.number: " ".join(shown.caution.id for shown in step.cautions) for step in tailored.steps}
    for letter, stretch in stretches:
        title = f"{letter} {stretch.title}"
        yield CardBlock(kind="section", shown=(letter, stretch), title=title, keeps=True, gap_mm=_SECTION_MM)
        yield from ended(_steps(stretch, labels, cautions))


def _steps(stretch: SectionView, labels: Mapping[int, str], cautions: Mapping[int, str]) -> Iterator[CardBlock]:
    for number, step in enumerate(stretch.steps):
        block = CardBlock(
            kind="step",
            shown=for_stand(step),
            gap_mm=1.5 if not number else _STEP_MM,
            ends="pause" if step.pause else "",
            tells=cautions[step.number],
            step=labels[step.number],
        )
        yield block
        if step.strips:
            figure = step.figure and named_again(step.figure)
            again = for_stand(replace(step, figure=figure))
            yield replace(block, kind="step-again", shown=again, short=True)


def for_stand(step: StepView) -> StepView:
    """The step without its reason, its drawing small; a bar to stop at stays where it names what to look for."""
    figure = None if step.figure is None else smaller(step.figure, _DRAWN, _LETTERED)
    return replace(step, why=Markup(""), figure=figure, pause=step.pause and bool(step.pause_end))
