"""HTML to PDF with WeasyPrint: one font configuration and one parsed stylesheet a process, no request to anywhere.

A card is held against the rules of print between its layout and the writing of the PDF. A document of blocks is
composed: its blocks are laid out as galleys, and the sides are made of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

from builder.diagnostics.diagnostic import Diagnostic
from builder.pages.bands import bands_html
from builder.pages.theme import Theme
from builder.printing.faces import letter_heights
from builder.printing.galleys import composed, of_blocks
from builder.printing.imposed import imposed
from builder.printing.laid_out import sheets_of
from builder.printing.legibility import CardTexts, check_card
from builder.printing.overflow import Overflow, overflows
from builder.printing.resources import allowed_file
from builder.printing.stood import sheets_of_card


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A PDF, how many sides it has, what did not fit on them, and what on them breaks a rule of print.

    `fill` says of a composed card how full each side is, as a share; it is empty for any other.
    """

    data: bytes
    sides: int
    overflows: tuple[Overflow, ...]
    findings: tuple[Diagnostic, ...] = ()
    fill: tuple[float, ...] = ()


class PdfWriter:
    """Writes cards as PDF in the dress of one theme. Make one a process and keep it: faces are read once."""

    def __init__(
        self, theme: Theme, workspace_folders: Iterable[Path] = (), pictures: Mapping[str, bytes] = MappingProxyType({})
    ) -> None:
        """`pictures` are those that steps show, by the address that their pages use."""
        self._theme, self._pictures = theme, pictures
        self._folder = theme.folder.resolve()
        self._folders = (self._folder, *workspace_folders)
        self._ready: tuple[Any, Any, Any, Any] | None = None
        self._heights: tuple[float, float] | None = None

    def warm(self) -> None:
        """Import the printing library and read the theme's faces, so that the first card does not wait for it."""
        self._prepared()

    def pdf_bytes(self, html: str) -> bytes:
        """The PDF of `html`: the same bytes for the same text, theme and version of the printing library."""
        return self.printed(html).data

    def printed(self, html: str, texts: CardTexts | None = None) -> Printed:
        """The PDF of `html` with what there is to say about it; with `texts` it is held against the rules of print.

        Raises:
            TooHigh: blocks of a document of blocks that keep together are higher than a column.
        """
        document = self._laid_out(html)
        if of_blocks(html):
            return self._composed(document, texts)
        found = overflows(document.pages)
        broken = () if texts is None else check_card(sheets_of(document.pages), self._of_this_face(texts))
        data = document.write_pdf(pdf_tags=True)
        return Printed(data=data, sides=len(document.pages), overflows=found, findings=broken)

    def _laid_out(self, html: str) -> Any:
        html_class, fetcher, fonts, styles = self._prepared()
        return html_class(string=html, base_url=self._folder.as_uri() + "/", url_fetcher=fetcher).render(
            stylesheets=[styles], font_config=fonts
        )

    def _composed(self, document: Any, texts: CardTexts | None) -> Printed:
        card = composed(document.pages, self._theme.blocks_css)
        bands = self._laid_out(bands_html(card.name, card.sides, card.leaf))
        pages = [galley.page for galley in card.galleys]
        sides = [place.side for place in card.places]
        found = tuple(replace(one, side=sides[one.side - 1] + 1) for one in overflows(pages))
        broken: tuple[Diagnostic, ...] = ()
        if texts is not None:
            whole, parts = sheets_of_card(card, bands.pages)
            broken = check_card(whole, self._of_this_face(texts), parts=parts)
        # One document of both, so that a face is embedded once.
        data = document.copy([*pages, *bands.pages]).write_pdf(pdf_tags=True)
        return Printed(
            data=imposed(data, card), sides=len(card.sides), overflows=found, findings=broken, fill=card.fill
        )

    def _of_this_face(self, texts: CardTexts) -> CardTexts:
        if self._heights is None:
            return texts
        x_height, cap_height = self._heights
        return replace(texts, x_height=x_height, cap_height=cap_height)

    def _held(self, address: str) -> bytes | None:
        """A picture of a step or a file of any layer of the theme, by its address on a page."""
        return self._pictures.get(address) or self._theme.file(address)

    def _prepared(self) -> tuple[Any, Any, Any, Any]:
        if self._ready is None:
            # A third of a second, so only when a PDF is really due.
            from weasyprint import CSS, HTML
            from weasyprint.text.fonts import FontConfiguration

            fonts = FontConfiguration()
            base = self._folder.as_uri() + "/"
            fetcher = _fetcher(self._folders, lambda url: self._held(url.removeprefix(base)))
            styles = CSS(string=self._theme.card_css, base_url=base, font_config=fonts, url_fetcher=fetcher)
            self._heights = letter_heights(self._theme)
            self._ready = (HTML, fetcher, fonts, styles)
        return self._ready


def _fetcher(folders: tuple[Path, ...], held: Callable[[str], bytes | None]) -> Any:
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    class LocalFetcher(URLFetcher):  # type: ignore[misc]
        """Gives `data:` addresses and files of the theme and the workspace."""

        def fetch(self, url: str, headers: Any = None) -> Any:
            if url.lower().startswith("data:"):
                return super().fetch(url, headers)
            data = held(url)
            if data is not None:
                return URLFetcherResponse(url, data)
            path = allowed_file(url, folders)
            return URLFetcherResponse(path.as_uri(), path.read_bytes())

    return LocalFetcher(allowed_protocols=("data", "file"), allow_redirects=False)
