"""The card to work along: a tailored guide as blocks, which the printing room composes into sides.

What to get, the tools, the torques and what to stop for stand first; then the steps with their cautions, drawings and
proofs; then the faults and the sign-off. Reasons, sources, workings and history stay on the guide's page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from markupsafe import Markup

from builder.model.catalogue import Workshop
from builder.pages.card_block import CardBlock, ended, in_rows
from builder.pages.get_list import SwapRow, get_rows, swap_rows
from builder.pages.guide_view import GuideView, SectionView, StripView, strips_of
from builder.pages.labels import label_list, section_letters, step_labels, stretch_letters
from builder.pages.leaf import Leaf
from builder.pages.markup import inline
from builder.pages.results import results_of
from builder.pages.signs import Sign
from builder.pages.step_blocks import step_blocks
from builder.pages.strings import Words
from builder.pages.told_once import told_ahead, told_at_steps
from builder.tailoring.tailored import Tailored

# What stands in one block, so that a column can end within a list.
_ROWS, _TOOLS, _LINES, _SIGNED_ROWS = 1, 6, 4, 14
# So many torques are whole rows of three and of four; all those of a yearly service are higher than a small side.
_TORQUES = 12
# So many reasons to stop for are not parted.
_STOPS = 8
# White before a section and before a list [mm].
_SECTION_MM, _LIST_MM = 2.2, 1.8


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadView:
    """The head of the first side."""

    swaps: tuple[SwapRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SafetyView:
    """The hazards of the whole job by their signal words, and the signs of what to wear and do."""

    strips: tuple[StripView, ...]
    signs: tuple[Sign, ...]


def head_block(tailored: Tailored) -> CardBlock:
    """What the card is of, for which bike, and what comes off and goes on."""
    shown = HeadView(swaps=swap_rows(tailored.plan))
    return CardBlock(kind="head", shown=shown, spans=True)


def step_card_blocks(
    tailored: Tailored, g: GuideView, words: Words, workshop: Workshop | None, leaf: Leaf
) -> Iterator[CardBlock]:
    """The step card of `tailored` on a leaf as blocks, in the order of reading."""
    labels = step_labels(tailored)
    torques = tuple(
        (view, label_list(line.steps, labels)) for line, (view, _) in zip(tailored.torques, g.torques, strict=True)
    )
    yield head_block(tailored)
    for block in in_rows("torques", words.torques, torques, _TORQUES, gap_mm=3.0):
        yield replace(block, spans=leaf.columns > 1)
    yield from ended(_before(tailored, g, words, workshop))
    yield from _work(tailored, g, leaf)
    faults = tuple(
        (fault, labels.get(shown.number, "")) for fault, shown in zip(g.faults, tailored.faults, strict=True)
    )
    yield from ended(in_rows("faults", words.faults, faults, 1, gap_mm=_SECTION_MM))
    # A figure that only the component's maker knows gets a row too, in which it is written down beside what was set.
    signed = tuple((view, steps) for view, steps in torques if view.value or view.makers_alone)
    # A column holds a score of rows and the names below them; what is before stands in blocks of its own.
    before, last = signed[:-_SIGNED_ROWS], signed[-_SIGNED_ROWS:]
    yield from in_rows("applied", words.sign_off, before, _SIGNED_ROWS, gap_mm=_SECTION_MM)
    gap_mm, heading = (0.0, "") if before else (_SECTION_MM, words.sign_off)
    yield CardBlock(kind="signed", shown=last, heading=heading, gap_mm=gap_mm)


def _before(tailored: Tailored, g: GuideView, words: Words, workshop: Workshop | None) -> Iterator[CardBlock]:
    rows = get_rows(tailored, workshop, words)
    yield from in_rows("get", words.get, rows, _ROWS, gap_mm=_LIST_MM)
    things = (*g.tools, *g.consumables)
    yield from in_rows("tools", words.tools_and, things, _TOOLS, gap_mm=_LIST_MM)
    results = results_of(tailored.checks, words)
    told = list(in_rows("results", words.worked_out, results.rows, _LINES, gap_mm=_LIST_MM))
    yield from told[:-1]
    yield from (replace(last, keeps=bool(results.fitting)) for last in told[-1:])
    if results.fitting:
        said = words.more_fit if results.rows or results.hills else words.all_fit
        more = Markup("{}").format(said.format(count=results.fitting))
        if not results.rows:
            more = Markup("<b>{}:</b> {}").format(words.worked_out, more)
        yield CardBlock(kind="remark", shown=more, gap_mm=1.0 if results.rows else _LIST_MM)
    if results.hills:
        hills = Markup("<b>{}:</b> {}").format(words.hill_title, Markup(" ").join(results.hills))
        yield CardBlock(kind="remark", shown=hills, gap_mm=1.0)
    yield from in_rows("lines", words.measure_first, tuple(map(inline, g.measure_first)), _LINES, gap_mm=_LIST_MM)
    yield from in_rows("ticks", words.before, g.before, _LINES, gap_mm=_LIST_MM)
    reasons = tuple(said_once((*g.not_when, *g.mechanic_when)))
    most = len(reasons) if len(reasons) <= _STOPS else 2
    yield from _last_named(in_rows("stop", words.stop_if, reasons, most, gap_mm=_LIST_MM))
    yield from _safety(tailored, words)


def said_once(reasons: Sequence[Markup]) -> Iterator[Markup]:
    """The reasons, without those that another one says too, with more words or other marks."""
    letters = ["".join(filter(str.isalnum, reason.striptags().casefold())) for reason in reasons]
    for number, reason in enumerate(reasons):
        others = (one for at, one in enumerate(letters) if at != number and (one != letters[number] or at < number))
        if not any(one.startswith(letters[number]) for one in others):
            yield reason


def _last_named(blocks: Iterator[CardBlock]) -> Iterator[CardBlock]:
    """The same blocks; the last is of the kind that closes the frame of all, and never stands alone."""
    found = list(blocks)
    yield from (replace(block, keeps=block is found[-2]) for block in found[:-1])
    if found:
        yield replace(found[-1], kind=f"{found[-1].kind}-end")


def _safety(tailored: Tailored, words: Words) -> Iterator[CardBlock]:
    """One frame for all hazards, a line or two for each signal word, with the signs of what to wear and do."""
    strips = strips_of(told_ahead(tailored))
    if strips:
        signs = dict.fromkeys(sign for strip in strips for sign in strip.signs if sign.is_protection)
        shown = SafetyView(strips=strips, signs=tuple(signs))
        yield CardBlock(kind="safety", shown=shown, heading=words.safety, gap_mm=_LIST_MM)
    yield CardBlock(
        kind="remark", shown=Markup("<b>{}</b>").format(words.maker_first), gap_mm=1.2 if strips else _LIST_MM
    )


def _work(tailored: Tailored, g: GuideView, leaf: Leaf) -> Iterator[CardBlock]:
    finish, test = stretch_letters(tailored)
    labels = step_labels(tailored)
    stretches: list[tuple[str, SectionView]] = list(zip(section_letters(tailored), g.sections, strict=True))
    stretches += [(letter, one) for letter, one in ((finish, g.finish), (test, g.test)) if one is not None]
    told = told_at_steps(tailored.steps)
    for letter, stretch in stretches:
        title = f"{letter} {stretch.title}"
        yield CardBlock(
            kind="section",
            shown=(letter, stretch),
            title=title,
            keeps=True,
            gap_mm=_SECTION_MM if leaf.columns > 1 else _LIST_MM,
        )
        yield from ended(step_blocks(stretch.steps, labels, told, leaf))
