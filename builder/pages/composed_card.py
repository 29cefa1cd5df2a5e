"""A card of blocks as one HTML document, which the printing room composes into sides."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from builder.model.catalogue import Workshop
from builder.pages.card_block import CardBlock
from builder.pages.guide_view import GuideView
from builder.pages.leaf import leaf_of
from builder.pages.paper import Paper
from builder.pages.strings import Words
from builder.pages.theme import Theme

# Higher than any block: what is not used of it is cut off.
_GALLEY_MM = 1500


def composed_html(
    view: GuideView,
    blocks: Sequence[CardBlock],
    theme: Theme,
    paper: Paper,
    *,
    kind: str,
    words: Words,
    workshop: Workshop | None,
    qr: Markup,
    standalone: bool,
) -> str:
    """The document of `blocks`; `kind` names their dress, `qr` leads to the guide's page."""
    leaf = leaf_of(paper)
    page = (
        f"@page {{ size: {leaf.column_mm:.2f}mm {_GALLEY_MM}mm }} "
        f"@page wide {{ size: {leaf.text_mm:.2f}mm {_GALLEY_MM}mm }}"
    )
    style = Markup("\n").join(map(Markup, (theme.card_css if standalone else "", theme.blocks_css, page)))
    return theme.templates.get_template("blocks.html").render(
        g=view,
        w=words,
        m=theme.marks,
        paper=paper.value,
        kind=kind,
        single=leaf.columns == 1,
        blocks=blocks,
        workshop=workshop.name if workshop is not None else "",
        style=style,
        qr=qr,
    )
