"""A card in any of its forms: the one way to it for the printer and for the page in a browser."""

from __future__ import annotations

from collections.abc import Callable

from markupsafe import Markup

from builder.model.catalogue import Workshop
from builder.pages.card import card_html, card_revision
from builder.pages.composed_card import composed_card_html
from builder.pages.form import Form
from builder.pages.leaf import UPRIGHT, Shape
from builder.pages.paper import Paper
from builder.pages.revision import UNKNOWN
from builder.pages.strings import Words
from builder.pages.strings_en import EN
from builder.pages.theme import Theme
from builder.tailoring.tailored import Tailored


def _no_qr(_code: str) -> Markup:
    return Markup("")


def form_card_html(
    tailored: Tailored,
    theme: Theme,
    form: Form,
    paper: Paper = Paper.A4,
    *,
    words: Words = EN,
    workshop: Workshop | None = None,
    code: str = "",
    qr_of: Callable[[str], Markup] = _no_qr,
    standalone: bool = False,
    shape: Shape = UPRIGHT,
) -> str:
    """The card of `tailored` in a form, as one HTML document that names its revision.

    `code` is the revision where it is known already; `qr_of` draws what leads to the page of a revision; `standalone`
    carries the whole stylesheet.
    """
    if form is Form.TEACHING:
        return card_html(tailored, theme, paper, words=words, workshop=workshop, standalone=standalone)
    # One code names the card in every form: that of the form which shows everything.
    code = code or card_revision(tailored, theme, words=words, workshop=workshop)
    html = composed_card_html(
        tailored,
        theme,
        form,
        paper,
        words=words,
        workshop=workshop,
        qr=qr_of(code),
        standalone=standalone,
        shape=shape,
    )
    return html.replace(UNKNOWN, code)
