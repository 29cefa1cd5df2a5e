"""A card set: the whole of a tailored guide as one HTML document for paper."""

from __future__ import annotations

from markupsafe import Markup

from builder.model.catalogue import Workshop
from builder.pages.bands import family_class
from builder.pages.guide_view import GuideView, view_guide
from builder.pages.paper import Paper
from builder.pages.pieces import Making, Pieces
from builder.pages.revision import UNKNOWN, revision_of
from builder.pages.strings import Words
from builder.pages.strings_en import EN
from builder.pages.theme import Theme
from builder.tailoring.tailored import Tailored

# The paper whose card the code is taken from.
_CODED = Paper.A5


def card_html(
    tailored: Tailored,
    theme: Theme,
    paper: Paper = Paper.A5,
    *,
    words: Words = EN,
    workshop: Workshop | None = None,
    standalone: bool = False,
) -> str:
    """The card set of `tailored` laid out for `paper`.

    The document has no stylesheet of its own: `builder.printing.pdf.PdfWriter` brings the theme's. With `standalone`
    it carries the stylesheet within, for a browser or another program; its faces are then those of the reader's
    machine, unless the file lies in the theme's folder.
    """
    pieces = Pieces()
    view = view_guide(tailored, words, views=pieces.views)
    family = family_class(tailored.guide.family)
    html = _rendered(view, theme, paper, words, workshop, pieces.once, family=family, standalone=standalone)
    return html.replace(UNKNOWN, card_revision(tailored, theme, words=words, workshop=workshop, pieces=pieces))


def card_revision(
    tailored: Tailored,
    theme: Theme,
    *,
    words: Words = EN,
    workshop: Workshop | None = None,
    pieces: Pieces | None = None,
) -> str:
    """The code of the card of `tailored`, the same on every paper; `pieces` are those of other cards."""
    pieces = pieces or Pieces()
    view = view_guide(tailored, words, views=pieces.views)
    return revision_of(pieces.read(lambda once: _rendered(view, theme, _CODED, words, workshop, once)))


def _rendered(
    view: GuideView,
    theme: Theme,
    paper: Paper,
    words: Words,
    workshop: Workshop | None,
    once: Making,
    *,
    family: str = "",
    standalone: bool = False,
) -> str:
    return theme.templates.get_template("card.html").render(
        g=view,
        w=words,
        once=once,
        m=theme.marks,
        paper=paper.value,
        family=family,
        workshop=workshop.name if workshop is not None else "",
        feedback=workshop.feedback if workshop is not None else "",
        style=Markup(theme.card_css) if standalone else "",
    )
