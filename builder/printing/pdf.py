"""HTML to PDF with WeasyPrint: one font configuration and one parsed stylesheet a process, no request to anywhere.

A card is held against the rules of print between its layout and the writing of the PDF. A document of blocks is
composed: each of its blocks is laid out and written once as a piece, which is kept on a shelf, and the sides are made
of pieces. Of a document of articles each side is a piece; one article is laid out at a time, so that the memory that it
takes does not grow with the fleet.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

from builder.diagnostics.diagnostic import Diagnostic
from builder.pages.bands import bands_of, bands_style
from builder.pages.sides import Composed, Laid, bookmarks, composed, headings_alone
from builder.pages.theme import Theme
from builder.printing.article_document import ArticleDocument, article_document, html_of_article
from builder.printing.block_document import BlockDocument, BlockStyle, BlockText, Head, block_document
from builder.printing.faces import letter_heights
from builder.printing.galleys import MM_PER_PX, block_heights
from builder.printing.imposed import PdfName, Put, any_faces, imposed
from builder.printing.laid_out import sheets_of
from builder.printing.legibility import CardTexts, check_card
from builder.printing.lost import lost_finding, lost_letters
from builder.printing.open_places import opened
from builder.printing.overflow import Overflow, overflows
from builder.printing.painted import pieces_of
from builder.printing.pdf_text import PT_PER_MM
from builder.printing.piece import Piece
from builder.printing.resources import allowed_file
from builder.printing.shelf import Shelf
from builder.printing.stacked import stack_findings, stacked
from builder.printing.stood import sheets_of_card
from builder.printing.tagging import VARIANT, trued_bytes
from builder.printing.typesetting import Typesetter
from builder.printing.verdicts import Verdicts

_BLOCKS_IN_A_BATCH = 32
# Where words end with a space that does not fit the line while they do, and an element within the line comes next, the
# library breaks the line after its first word. A space in an element of its own is no part of the words.
_SPACE_BEFORE = re.compile(r"(?<=[^\s>]) (?=<(?:b|em|span|strong)\b)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A PDF, how many sides it has, what did not fit on them, and what on them breaks a rule of print.

    `fill` says of a composed card how full each side is, as a share, `alone` which headings are parted from their first
    step; both are empty for any other.
    """

    data: bytes
    sides: int
    overflows: tuple[Overflow, ...]
    findings: tuple[Diagnostic, ...] = ()
    fill: tuple[float, ...] = ()
    alone: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Batch:
    """Blocks in one dress that are laid out together, by their markup; or one article, which is laid out by itself."""

    style: BlockStyle
    blocks: tuple[str, ...]
    is_article: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ready:
    """The printing library with a theme's faces and stylesheets read."""

    html: Any
    fetcher: Any
    fonts: Any
    cards: Any
    bands: Any
    setter: Typesetter


class PdfWriter:
    """Writes cards as PDF in the dress of one theme. Make one a process and keep it: faces are read once."""

    def __init__(
        self,
        theme: Theme,
        workspace_folders: Iterable[Path] = (),
        pictures: Mapping[str, bytes] = MappingProxyType({}),
        shelf: Shelf | None = None,
        between: Callable[[], None] = lambda: None,
    ) -> None:
        """`pictures` are those that steps show, by the address that their pages use.

        `between` is called before each layout, since what one leaves goes only when somebody collects it.
        """
        self._theme, self._pictures = theme, pictures
        self._folder = theme.folder.resolve()
        self._shelf = shelf or Shelf()
        self._folders = (self._folder, *workspace_folders)
        self._ready: _Ready | None = None
        self._heights: tuple[float, float] | None = None
        self._verdicts = Verdicts(self._shelf)
        self._between = between

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
        blocks = block_document(html)
        if blocks is not None:
            return self._composed(blocks, texts)
        articles = article_document(html)
        if articles is not None:
            return self._stacked(articles, texts)
        document = self._laid_out(html)
        found = overflows(document.pages)
        broken = () if texts is None else check_card(sheets_of(document.pages), self._of_this_face(texts))
        with lost_letters() as lost:
            data = trued_bytes(document.write_pdf(pdf_variant=VARIANT))
        broken = (*broken, *lost_finding(lost))
        return Printed(data=data, sides=len(document.pages), overflows=found, findings=broken)

    def due(self, cards: Iterable[str]) -> tuple[Batch, ...]:
        """The blocks and articles of cards, given as HTML, that are not on the shelf: once each, in batches."""
        blocks: dict[BlockStyle, dict[str, str]] = {}
        articles: dict[str, Batch] = {}
        for html in cards:
            if (document := block_document(html)) is not None:
                here = blocks.setdefault(document.style, {})
                for block in document.blocks:
                    key = self._shelf.key(document.style, block.laid_out)
                    if key not in here and not self._shelf.holds(key):
                        here[key] = block.laid_out
            elif (apart := article_document(html)) is not None:
                for article in apart.articles:
                    key = self._shelf.key(apart.style, article.markup)
                    if key not in articles and not self._shelf.holds(key):
                        articles[key] = Batch(apart.style, (article.markup,), is_article=True)
        together = (
            Batch(dress, tuple(found.values())[start : start + _BLOCKS_IN_A_BATCH])
            for dress, found in blocks.items()
            for start in range(0, len(found), _BLOCKS_IN_A_BATCH)
        )
        return (*articles.values(), *together)

    def lay_out(self, batch: Batch) -> list[Piece]:
        """Lay out blocks, or the sides of an article, write each as a piece and put it on the shelf."""
        if batch.is_article:
            laid_out = self._laid_out(html_of_article(batch.style, *batch.blocks))
            made = self._taken_apart(laid_out, laid_out.pages, [page.height * MM_PER_PX for page in laid_out.pages])
            self._shelf.put_sides(self._shelf.key(batch.style, *batch.blocks), made)
            return made
        side_mm = batch.style.side_mm
        laid_out = self._laid_out(batch.style.html_of(batch.blocks), bands=bool(side_mm))
        pages = laid_out.pages if side_mm else laid_out.pages[:-1]
        heights_mm = [side_mm] * len(pages) if side_mm else block_heights(pages)
        made = self._taken_apart(laid_out, pages, heights_mm, tagged=not side_mm)
        for markup, piece in zip(batch.blocks, made, strict=True):
            self._shelf.put_piece(self._shelf.key(batch.style, markup), piece)
        return made

    def _taken_apart(
        self, document: Any, pages: Sequence[Any], heights_mm: Sequence[float], *, tagged: bool = True
    ) -> list[Piece]:
        made, faces = pieces_of(document, pages, heights_mm, tagged=tagged, known=self._shelf.known_face)
        for name, face in faces.items():
            self._shelf.put_face(name, face)
        return made

    def _laid_out(self, html: str, *, bands: bool = False) -> Any:
        ready = self._prepared()
        styles = ready.bands if bands else ready.cards
        html = _SPACE_BEFORE.sub("<span> </span>", html)
        return ready.html(string=html, base_url=self._folder.as_uri() + "/", url_fetcher=ready.fetcher).render(
            stylesheets=[styles], font_config=ready.fonts
        )

    def _stacked(self, document: ArticleDocument, texts: CardTexts | None) -> Printed:
        stack = stacked(document, (self._sides(document.style, article.markup) for article in document.articles))
        broken = () if texts is None else tuple(stack_findings(stack, self._of_this_face(texts)))
        titles = (article.title for article in document.articles)
        firsts = (numbers.start for numbers in stack.where)
        return Printed(
            data=self._file(document.head, document.style, stack.sides, (), zip(titles, firsts, strict=True)),
            sides=len(stack.sides),
            overflows=tuple(stack.overflows),
            findings=(*broken, *_lost_on(stack.sides)),
        )

    def _sides(self, style: BlockStyle, article: str) -> list[Piece]:
        """The sides of an article: from the shelf, or laid out now and put there."""
        kept = self._shelf.sides(self._shelf.key(style, article))
        if kept is not None:
            return kept
        self._between()
        return self.lay_out(Batch(style, (article,), is_article=True))

    def _file(
        self,
        head: Head,
        style: BlockStyle,
        sides: Sequence[Piece],
        placed: Sequence[Put],
        bookmarks: Iterable[tuple[str, int]],
        *,
        scale: float = 1.0,
    ) -> bytes:
        """The PDF of sides, with what is put on them."""
        name = PdfName(
            title=head.title,
            author=head.author,
            creator=head.generator,
            language=style.language,
            bookmarks=tuple(bookmarks),
        )
        used = (*(put.piece for put in placed), *sides)
        faces = {name: self._shelf.face(name) for name in any_faces(used)}
        return imposed(sides, placed, faces, name, scale=scale)

    def _composed(self, document: BlockDocument, texts: CardTexts | None) -> Printed:
        pieces = self._pieces(document.style, document.blocks)
        card = composed(
            document.said,
            (
                Laid(says=block.said, height_mm=piece.block_mm, page=piece)
                for block, piece in zip(document.blocks, pieces, strict=True)
            ),
        )
        bands = self._bands(card)
        broken: tuple[Diagnostic, ...] = ()
        if texts is not None:
            broken = self._findings(card, bands, self._of_this_face(texts.read_from(card.leaf.distance_mm)))
        broken = (*broken, *_lost_on((*pieces, *bands)))
        placed = zip(card.galleys, card.places, strict=True)
        found = tuple(replace(one, side=place.side + 1) for galley, place in placed for one in galley.page.overflows)
        data = self._file(document.head, document.style, bands, _put(card), bookmarks(card), scale=card.leaf.scale)
        return Printed(
            data=data,
            sides=len(card.sides),
            overflows=found,
            findings=broken,
            fill=card.fill,
            alone=tuple(headings_alone(card)),
        )

    def _findings(self, card: Composed, bands: list[Piece], texts: CardTexts) -> tuple[Diagnostic, ...]:
        sound = self._verdicts.is_sound(card, bands, texts)
        self._verdicts.keep()
        if sound:
            return ()
        whole, parts = sheets_of_card(card, [band.sheet for band in bands])
        return check_card(whole, texts, parts=parts)

    def _pieces(self, style: BlockStyle, blocks: Sequence[BlockText]) -> list[Piece]:
        """A piece for each block, with the card's words in its open places.

        Where they don't fit there, the block is laid out with the words themselves.
        """
        setter = self._prepared().setter
        kept = self._laid(style, (block.laid_out for block in blocks))
        pieces: list[Piece | None] = []
        for block in blocks:
            piece = kept[block.laid_out]
            pieces.append(piece if block.open_places is None else setter.filled(piece, block.open_places.words))
        shut = [block.markup for block, piece in zip(blocks, pieces, strict=True) if piece is None]
        more = self._laid(style, shut) if shut else {}
        return [piece or more[block.markup] for block, piece in zip(blocks, pieces, strict=True)]

    def _laid(self, style: BlockStyle, markups: Iterable[str]) -> dict[str, Piece]:
        """The piece of each markup: from the shelf, or laid out now and put there."""
        found = {markup: self._shelf.piece(self._shelf.key(style, markup)) for markup in dict.fromkeys(markups)}
        due = tuple(markup for markup, piece in found.items() if piece is None)
        # Not all at once: the longest card has some 250 blocks, and laid out together they take 130 MB.
        for start in range(0, len(due), _BLOCKS_IN_A_BATCH):
            self._between()
            some = due[start : start + _BLOCKS_IN_A_BATCH]
            found |= zip(some, self.lay_out(Batch(style, some)), strict=True)
        return {markup: piece for markup, piece in found.items() if piece is not None}

    def _bands(self, card: Composed) -> list[Piece]:
        style = BlockStyle(bands_style(card.leaf), card.name.language, card.leaf.height_mm)
        sides = map(str, bands_of(card.name, card.sides, card.leaf))
        return self._pieces(style, [BlockText({}, side, opened(side)) for side in sides])

    def _of_this_face(self, texts: CardTexts) -> CardTexts:
        if self._heights is None:
            return texts
        x_height, cap_height = self._heights
        return replace(texts, x_height=x_height, cap_height=cap_height)

    def _held(self, address: str) -> bytes | None:
        """A picture of a step or a file of any layer of the theme, by its address on a page."""
        return self._pictures.get(address) or self._theme.file(address)

    def _prepared(self) -> _Ready:
        if self._ready is None:
            # A third of a second, so only when a PDF is really due.
            from weasyprint import CSS, HTML
            from weasyprint.text.fonts import FontConfiguration

            fonts = FontConfiguration()
            base = self._folder.as_uri() + "/"
            fetcher = _fetcher(self._folders, lambda url: self._held(url.removeprefix(base)))
            self._heights = letter_heights(self._theme)
            self._ready = _Ready(
                html=HTML,
                fetcher=fetcher,
                fonts=fonts,
                cards=CSS(string=self._theme.card_css, base_url=base, font_config=fonts, url_fetcher=fetcher),
                bands=CSS(string=self._theme.bands_css, base_url=base, font_config=fonts, url_fetcher=fetcher),
                setter=Typesetter(fonts, self._shelf.known_face, self._shelf.put_face),
            )
        return self._ready


def _lost_on(pieces: Iterable[Piece]) -> tuple[Diagnostic, ...]:
    """What is told of letters that no face has, each once."""
    return lost_finding(list(dict.fromkeys(letter for piece in pieces for letter in piece.lost)))


def _put(card: Composed) -> list[Put]:
    """The blocks of a card where they stand."""
    return [
        Put(
            galley.page,
            place.side,
            card.leaf.left_mm(place) * PT_PER_MM,
            (card.leaf.top_mm + place.top_mm) * PT_PER_MM,
        )
        for galley, place in zip(card.galleys, card.places, strict=True)
    ]


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
