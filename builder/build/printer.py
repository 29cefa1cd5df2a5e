"""Cards in the dress of a theme: their HTML, the fingerprint of what it prints to, and the PDF."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from markupsafe import Markup

from builder.build import fingerprint
from builder.build.order import CanNotPrint
from builder.composing import TooHigh
from builder.model.catalogue import Workshop
from builder.pages import paths
from builder.pages.brief_card import brief_card_html
from builder.pages.card import card_html
from builder.pages.form import Form
from builder.pages.paper import Paper
from builder.pages.step_card import step_card_html
from builder.pages.theme import Theme, load_theme
from builder.printing.legibility import CardTexts
from builder.printing.pdf import PdfWriter, Printed
from builder.printing.qr import qr_svg
from builder.sources.workspace import shipped_library, shipped_themes
from builder.tailoring import Tailored

THEME = "bench"


class Printer:
    """Makes cards. The PDF library is imported when the first PDF is due, and kept ready from then on."""

    def __init__(self, folders: Iterable[Path] = (), theme: Path | None = None) -> None:
        self.theme: Theme = load_theme(theme or shipped_themes() / THEME)
        self._folders = (shipped_library(), *folders)
        self._writer = PdfWriter(self.theme.folder, self._folders)
        self._setting = ""

    def html(
        self,
        tailored: Tailored,
        paper: Paper,
        workshop: Workshop | None = None,
        *,
        form: Form = Form.STEPS,
        standalone: bool = False,
    ) -> str:
        """The card set in one of its forms as one HTML document; `standalone` for a browser."""
        address = paths.address(workshop.site, tailored) if workshop is not None else ""
        qr = qr_svg(address, address) if address else Markup("")
        match form:
            case Form.BRIEF:
                return brief_card_html(tailored, self.theme, paper, workshop=workshop, qr=qr, standalone=standalone)
            case Form.STEPS:
                return step_card_html(tailored, self.theme, paper, workshop=workshop, qr=qr, standalone=standalone)
            case Form.TEACHING:
                return card_html(tailored, self.theme, paper, workshop=workshop, standalone=standalone)

    def pdf(self, html: str, texts: CardTexts | None = None) -> Printed:
        """The PDF of a card's HTML; with `texts` the card is held against the rules of print.

        Raises:
            CanNotPrint: the system lacks Pango, or something on the card is higher than a side.
        """
        _need_pango()
        try:
            return self._writer.printed(html, texts)
        except TooHigh as error:
            raise CanNotPrint(f"{_title(html)}: {error}; take a larger paper, or --form teaching") from None

    def warm(self) -> None:
        """Import the PDF library and read the theme's faces now, before processes are forked.

        Raises:
            CanNotPrint: the system lacks Pango.
        """
        _need_pango()
        self._writer.warm()

    def key(self, html: str, texts: CardTexts | None = None) -> str:
        """The fingerprint of everything that the PDF of `html` comes from, and what is said of it."""
        if not self._setting:
            images = [folder / "images" for folder in self._folders if (folder / "images").is_dir()]
            theme = fingerprint.of_folders([self.theme.folder, *images])
            self._setting = fingerprint.digest(theme, fingerprint.of_printing())
        return fingerprint.digest(self._setting, html, repr(texts))


def _title(html: str) -> str:
    return html.partition("<title>")[2].partition("</title>")[0]


def _need_pango() -> None:
    if not fingerprint.has_pango():
        raise CanNotPrint(
            "no PDF can be made without Pango; on Debian and Ubuntu: "
            "sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
        )
