"""A card of blocks as one HTML document, which the printing room composes into sides."""

from __future__ import annotations

from dataclasses import replace

from markupsafe import Markup

from builder.model.catalogue import Workshop
from builder.pages import step_room
from builder.pages.brief_card import brief_card_blocks
from builder.pages.brief_room import DENSE, USUAL, BriefDraft, fitted, roomiest
from builder.pages.card_block import CardBlock
from builder.pages.draft import Draft
from builder.pages.form import Form
from builder.pages.guide_view import view_guide
from builder.pages.leaf import UPRIGHT, Leaf, Shape, leaf_of
from builder.pages.paper import Paper
from builder.pages.revision import UNKNOWN
from builder.pages.step_card import step_card_blocks
from builder.pages.strings import Words
from builder.pages.strings_en import EN
from builder.pages.theme import Theme
from builder.tailoring.tailored import Tailored

# Higher than any block: what is not used of it is cut off.
_GALLEY_MM = 1500
_NO_QR = Markup("")


def composed_card_html(
    tailored: Tailored,
    theme: Theme,
    form: Form,
    paper: Paper = Paper.A4,
    *,
    words: Words = EN,
    workshop: Workshop | None = None,
    qr: Markup = _NO_QR,
    standalone: bool = False,
    shape: Shape = UPRIGHT,
) -> str:
    """The brief card or the step card of `tailored` for `paper`, as a document of blocks.

    `qr` is a drawing that leads to its page; `standalone` carries the whole stylesheet.
    """
    brief = form is Form.BRIEF
    view = view_guide(tailored, words, figures=not brief)
    leaf = leaf_of(paper, theme.distances, shape, in_hand=brief)
    template = theme.templates.get_template("blocks.html")

    def document(kind: str, blocks: tuple[CardBlock, ...], leaf: Leaf = leaf) -> str:
        style = (theme.card_css if standalone else "", theme.blocks_css, _pages(leaf))
        return template.render(
            g=view,
            w=words,
            m=theme.marks,
            leaf=leaf.written,
            code=_code(tailored, words),
            family=tailored.guide.family,
            kind=kind,
            single=leaf.columns == 1,
            column_mm=leaf.column_mm,
            blocks=blocks,
            workshop=workshop.name if workshop is not None else "",
            style=Markup("\n").join(map(Markup, style)),
            qr=qr,
        )

    if not brief:

        def along(leaf: Leaf) -> Draft:
            blocks = tuple(step_card_blocks(tailored, view, words, workshop, leaf))
            return Draft(
                blocks=blocks, html=document("along", blocks, leaf), leaf=leaf, letter_width=theme.letter_width
            )

        return along(leaf).html if shape.large else step_room.roomiest(along, leaf)

    def draft(run: int) -> BriefDraft:
        setting = USUAL if run == 1 else DENSE
        blocks = tuple(brief_card_blocks(tailored, view, words, workshop, run=run))
        # What is set smaller is read from as much nearer.
        nearer = replace(leaf, distance_mm=leaf.distance_mm * setting.size_pt / USUAL.size_pt)
        html = document("brief" if setting is USUAL else "brief dense", blocks, nearer)
        return BriefDraft(blocks=blocks, html=html, leaf=nearer, setting=setting, letter_width=theme.letter_width)

    if shape.large:  # as far as the theme says, and no nearer
        return draft(1).html
    chosen = fitted(draft)
    old, new = chosen.leaf, roomiest(chosen)
    return chosen.html.replace(old.written, new.written, 1).replace(_pages(old), _pages(new), 1)


def _pages(leaf: Leaf) -> str:
    """The pages that blocks are laid out on: as wide as a column, or as all of them."""
    return (
        f".galley.along {{ --act: {leaf.act_pt:g}pt }} @page {{ size: {leaf.column_mm:.2f}mm {_GALLEY_MM}mm }} "
        f"@page wide {{ size: {leaf.text_mm:.2f}mm {_GALLEY_MM}mm }}"
    )


def _code(tailored: Tailored, words: Words) -> str:
    """What tells one printing of a card from another: its code, its revision, its issue and the issue's date."""
    revisions = tailored.guide.revisions
    issue = f" · {words.issue} {len(revisions)}, {revisions[-1].date}" if revisions else ""
    return f"{tailored.code} · {words.revision} {UNKNOWN}{issue}"
