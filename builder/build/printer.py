"""Cards in the dress of a theme: their HTML, the fingerprint of what it prints to, and the PDF."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterable
from pathlib import Path, PurePosixPath

from markupsafe import Markup

from builder.build import fingerprint
from builder.build.letters import lacking
from builder.build.order import CanNotPrint
from builder.composing import TooHigh
from builder.model.catalogue import Workshop
from builder.pages import paths
from builder.pages.brief_card import brief_card_html
from builder.pages.card import card_html, card_revision
from builder.pages.form import Form
from builder.pages.paper import Paper
from builder.pages.revision import UNKNOWN
from builder.pages.step_card import step_card_html
from builder.pages.theme import Theme, load_theme
from builder.printing.legibility import CardTexts
from builder.printing.pdf import PdfWriter, Printed
from builder.printing.qr import qr_svg
from builder.sources.workspace import shipped_library, shipped_themes
from builder.tailoring import Tailored

THEME = "bench"
_SCREEN_STYLES = ("site.css", "dark.css", "rider.css")
_URL = re.compile(r"url\(\"?([\w./-]+)\"?\)")
_KINDS = {".woff2": "font/woff2", ".woff": "font/woff", ".svg": "image/svg+xml", ".png": "image/png"}


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
        """The card set in one of its forms as one HTML document; `standalone` for a browser, with all within it."""
        html = self._html(tailored, paper, workshop, form, standalone=standalone)
        return _URL.sub(self._within, html) if standalone else html

    def _html(
        self, tailored: Tailored, paper: Paper, workshop: Workshop | None, form: Form, *, standalone: bool
    ) -> str:
        if form is Form.TEACHING:
            return card_html(tailored, self.theme, paper, workshop=workshop, standalone=standalone)
        # One code names the card in every form: that of the form which shows everything.
        code = card_revision(tailored, self.theme, workshop=workshop)
        address = paths.address(workshop.site, tailored, code) if workshop is not None else ""
        qr = qr_svg(address, address) if address else Markup("")
        make = brief_card_html if form is Form.BRIEF else step_card_html
        html = make(tailored, self.theme, paper, workshop=workshop, qr=qr, standalone=standalone)
        return html.replace(UNKNOWN, code)

    def _within(self, found: re.Match[str]) -> str:
        """An address of a file of the theme as the file itself, since a file by itself has no folder beside it."""
        data = self.theme.assets.get(f"assets/{found[1]}")
        if data is None:
            return found[0]
        kind = _KINDS.get(PurePosixPath(found[1]).suffix, "application/octet-stream")
        return f'url("data:{kind};base64,{base64.b64encode(data).decode("ascii")}")'

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
            dress = of_dress(self._folders[1:], self.theme.folder, on_paper=True)
            self._setting = fingerprint.digest(dress, fingerprint.of_printing())
        # The system's faces count where one of them stands in.
        others = fingerprint.of_system_fonts() if self.lacking(html) else ""
        return fingerprint.digest(self._setting, html, repr(texts), others)

    def lacking(self, html: str) -> str:
        """The letters of `html` that no face of the theme has."""
        return lacking(html, self.theme)


def of_dress(folders: Iterable[Path] = (), theme: Path | None = None, *, on_paper: bool = False) -> str:
    """The fingerprint of what pages and cards are dressed in: the theme, and the images beside the sources.

    `on_paper` leaves out what only a screen shows, as long as nothing for paper leads there. Templates are left out
    too: what they make is the HTML of a card, which is in its key.
    """
    folder = theme or shipped_themes() / THEME
    images = (fingerprint.of_folders([folder / "images"], folder) for folder in (shipped_library(), *folders))
    left_out = _for_screens(folder) if on_paper else frozenset()
    return fingerprint.digest(fingerprint.of_folders([folder], left_out=left_out), *images)


def _for_screens(theme: Path) -> frozenset[str]:
    """What of a theme no card can show: styles and scripts of the site that no stylesheet for paper leads to."""
    paper = "\n".join(
        path.read_text(encoding="utf-8", errors="replace")
        for path in theme.rglob("*.css")
        if path.name not in _SCREEN_STYLES and "vendor" not in path.parts
    )
    names = frozenset((*_SCREEN_STYLES, *(path.name for path in theme.glob("*.js")), "templates", "vendor"))
    return frozenset() if "@import" in paper or any(name in paper for name in names) else names


def _title(html: str) -> str:
    return html.partition("<title>")[2].partition("</title>")[0]


def _need_pango() -> None:
    if not fingerprint.has_pango():
        raise CanNotPrint(
            "no PDF can be made without Pango; on Debian and Ubuntu: "
            "sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
        )
