"""Cards in the dress of a theme: their HTML, the fingerprint of what it prints to, and the PDF."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from types import MappingProxyType

from markupsafe import Markup

from builder.build import fingerprint
from builder.build.collector import collect_all_now_and_then
from builder.build.letters import lacking
from builder.build.order import CanNotPrint
from builder.build.template_code import kept_template_code
from builder.composing import TooHigh
from builder.model.catalogue import Workshop
from builder.pages import paths
from builder.pages.form import Form
from builder.pages.form_card import form_card_html
from builder.pages.leaf import UPRIGHT, Shape
from builder.pages.paper import Paper
from builder.pages.theme import Sources, Theme, load_theme
from builder.printing.legibility import CardTexts
from builder.printing.pdf import Batch, PdfWriter, Printed
from builder.printing.qr import qr_svg
from builder.printing.shelf import Keeper, Shelf
from builder.sources.workspace import shipped_library, shipped_themes
from builder.tailoring import Tailored

THEME = "bench"
_SCREEN_STYLES = ("site.css", "rider.css")
_URL = re.compile(r"url\(\"?([\w./-]+)\"?\)")
_PHOTO = re.compile(rf'<image href="{paths.PHOTOS}/([\w.]+)"')
_KINDS = {".woff2": "font/woff2", ".woff": "font/woff", ".svg": "image/svg+xml", ".png": "image/png"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Content:
    """What a document prints to as far as itself decides; `lacking` are its letters that no face of the theme has."""

    digest: str
    lacking: str


class Printer:
    """Makes cards. The PDF library is imported when the first PDF is due, and kept ready from then on."""

    def __init__(
        self,
        folders: Iterable[Path] = (),
        theme: Theme | None = None,
        photos: Mapping[str, bytes] = MappingProxyType({}),
        keeper: Keeper | None = None,
    ) -> None:
        self.theme: Theme = theme or load_theme(shipped_themes() / THEME)
        self.theme.templates.bytecode_cache = kept_template_code()
        self.photos = photos
        self._folders = (shipped_library(), *folders)
        self._keeper = keeper
        self._kept_writer: PdfWriter | None = None
        self._setting = ""

    def html(
        self,
        tailored: Tailored,
        paper: Paper,
        workshop: Workshop | None = None,
        *,
        form: Form = Form.STEPS,
        code: str = "",
        standalone: bool = False,
        shape: Shape = UPRIGHT,
    ) -> str:
        """The card set in one of its forms as one HTML document; `standalone` is for a browser, with all within it.

        `code` is that of the card, where it is known already.
        """
        site = workshop.site if workshop is not None else ""
        html = form_card_html(
            tailored,
            self.theme,
            form,
            paper,
            workshop=workshop,
            code=code,
            qr_of=lambda code: _qr(paths.address(site, code)),
            standalone=standalone,
            shape=shape,
        )
        return _PHOTO.sub(self._photo_within, _URL.sub(self._within, html)) if standalone else html

    def _within(self, found: re.Match[str]) -> str:
        """An address of a file of the theme as the file itself, since a file by itself has no folder beside it."""
        data = self.theme.file(found[1])
        if data is None:
            return found[0]
        kind = _KINDS.get(PurePosixPath(found[1]).suffix, "application/octet-stream")
        return f'url("data:{kind};base64,{base64.b64encode(data).decode("ascii")}")'

    def _photo_within(self, found: re.Match[str]) -> str:
        return f'<image href="data:image/jpeg;base64,{base64.b64encode(self.photos[found[1]]).decode("ascii")}"'

    def pdf(self, html: str, texts: CardTexts | None = None) -> Printed:
        """The PDF of a card's HTML; with `texts` the card is held against the rules of print.

        Raises:
            CanNotPrint: the system lacks Pango, or something on the card is higher than a side.
        """
        _need_pango()
        try:
            return self._writer().printed(html, texts)
        except TooHigh as error:
            raise CanNotPrint(f"{_title(html)}: {error}; take a larger paper, or --form teaching") from None

    def due(self, cards: Iterable[str]) -> tuple[Batch, ...]:
        """The blocks of cards that are yet to be laid out, in batches; none where nothing would keep them.

        Raises:
            CanNotPrint: the system lacks Pango.
        """
        _need_pango()
        return () if self._keeper is None else self._writer().due(cards)

    def lay_out(self, batch: Batch) -> None:
        """Lay out blocks and keep them, for whatever process prints a card that shows them."""
        self._writer().lay_out(batch)

    def warm(self) -> None:
        """Import the PDF library and read the theme's faces now, before processes are forked.

        Raises:
            CanNotPrint: the system lacks Pango.
        """
        _need_pango()
        self._writer().warm()

    @property
    def folders(self) -> tuple[Path, ...]:
        """The workspace's folders, besides the library that is shipped."""
        return self._folders[1:]

    def key(self, html: str, texts: CardTexts | None = None) -> str:
        """The fingerprint of everything that the PDF of `html` comes from, and what is said of it."""
        return self.key_of(self.content(html, texts))

    def content(self, html: str, texts: CardTexts | None = None) -> Content:
        """What of the key is the document's own, which whoever keeps the document may keep as well."""
        return Content(digest=fingerprint.digest(html, repr(texts)), lacking=lacking(html, self.theme))

    def key_of(self, content: Content) -> str:
        """The key of a document of this content."""
        # The system's faces count where one of them stands in.
        others = fingerprint.of_system_fonts() if content.lacking else ""
        return fingerprint.digest(self._of_setting(), content.digest, others)

    def _of_setting(self) -> str:
        """The fingerprint of what all cards are printed with."""
        if not self._setting:
            dress = of_dress(self.theme, self._folders[1:], on_paper=True)
            self._setting = fingerprint.digest(dress, of_photos(self.photos), fingerprint.of_printing())
        return self._setting

    def _writer(self) -> PdfWriter:
        if self._kept_writer is None:
            shelf = Shelf(self._keeper, fingerprint.digest(self._of_setting(), fingerprint.of_system_fonts()))
            pictures = {f"{paths.PHOTOS}/{name}": data for name, data in self.photos.items()}
            self._kept_writer = PdfWriter(self.theme, self._folders, pictures, shelf, collect_all_now_and_then)
        return self._kept_writer


def _qr(address: str) -> Markup:
    """The code of an address; nothing where the workshop has given none."""
    return qr_svg(address, address) if address else Markup("")


def of_dress(theme: Theme, folders: Iterable[Path] = (), *, on_paper: bool = False) -> str:
    """The fingerprint of what pages and cards are dressed in: the theme, and the images beside the sources.

    `on_paper` leaves out what only a screen shows, as long as nothing for paper leads there. Templates are left out
    then too: what they make is the HTML of a card, which is in its key.
    """
    styles = (theme.card_css, theme.blocks_css, theme.bands_css, theme.large_css)
    left_out = _for_screens(theme, "\n".join(styles)) if on_paper else frozenset()
    files = (part for pair in sorted(theme.assets.items()) if pair[0] not in left_out for part in pair)
    loader = theme.templates.loader
    templates = sorted(loader.texts.items()) if isinstance(loader, Sources) and not on_paper else ()
    images = (fingerprint.of_folders([folder / "images"], folder) for folder in (shipped_library(), *folders))
    return fingerprint.digest(*styles, *files, *(text for pair in templates for text in pair), *images)


def _for_screens(theme: Theme, paper: str) -> frozenset[str]:
    """What of a theme no card can show: styles and scripts of the site that no stylesheet for paper leads to."""
    paths_of = {path: PurePosixPath(path) for path in theme.assets}
    found = {
        path
        for path, parts in paths_of.items()
        if parts.name in _SCREEN_STYLES or parts.suffix == ".js" or "vendor" in parts.parts
    }
    leads_there = "@import" in paper or any(paths_of[path].name in paper for path in found)
    return frozenset() if leads_there else frozenset(found)


def of_photos(photos: Mapping[str, bytes]) -> str:
    """The fingerprint of the photographs that steps show."""
    return fingerprint.digest(*(part for pair in sorted(photos.items()) for part in pair))


def _title(html: str) -> str:
    return html.partition("<title>")[2].partition("</title>")[0]


def _need_pango() -> None:
    if not fingerprint.has_pango():
        raise CanNotPrint(
            "no PDF can be made without Pango; on Debian and Ubuntu: "
            "sudo apt-get install libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"
        )
