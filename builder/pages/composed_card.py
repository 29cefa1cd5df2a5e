"""A card of blocks as one HTML document, which the printing room composes into sides."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from builder.model.catalogue import Workshop
from builder.pages.card_block import CardBlock
from builder.pages.guide_view import GuideView
from builder.pages.leaf import Leaf
from builder.pages.strings import Words
from builder.pages.theme import Theme

# Higher than any block: what is not used of it is cut off.
_GALLEY_MM = 1500


def composed_html(
    view: GuideView,
    blocks: Sequence[CardBlock],
    theme: Theme,
    leaf: Leaf,
    *,
    kind: str,
    code: str,
    words: Words,
    workshop: Workshop | None,
    qr: Markup,
    standalone: bool,
) -> str:
    """The document of `blocks` for `leaf`.

    `kind` names their dress, `code` tells one printing from another, `qr` leads to the guide's page.
    """
    page = (
        f".galley.along {{ --act: {leaf.act_pt:g}pt }} @page {{ size: {leaf.column_mm:.2f}mm {_GALLEY_MM}mm }} "
        f"@page wide {{ size: {leaf.text_mm:.2f}mm {_GALLEY_MM}mm }}"
    )
    style = Markup("\n").join(map(Markup, (theme.card_css if standalone else "", theme.blocks_css, page)))
    return theme.templates.get_template("blocks.html").render(
        g=view,
        w=words,
        m=theme.marks,
        leaf=leaf.written,
        code=code,
        kind=kind,
        single=leaf.columns == 1,
        blocks=blocks,
        workshop=workshop.name if workshop is not None else "",
        style=style,
        qr=qr,
    )
