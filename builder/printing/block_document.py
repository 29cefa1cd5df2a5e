"""A document of blocks as text: what it says of the card and of each block before anything is laid out.

What may be said stands in `builder.pages.sides`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from html import escape, unescape

from builder.printing.open_places import Opened, opened

_BODY = re.compile(r'<body class="galleys"([^>]*)>')
_BLOCK = re.compile(r'<section class="(galley [^"]*)"([^>]*)>(.*?)</section>', re.DOTALL)
_SAID = re.compile(r'(data-[\w-]+)(?:="([^"]*)")?')
_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)
_META = re.compile(r'<meta name="(\w+)" content="([^"]*)">')
_TITLE = re.compile(r"<title>(.*?)</title>", re.DOTALL)
# How a drawing is named for a reader of pages; on paper its title is with it.
_NAMED = re.compile(r' (?:id|aria-labelledby)="figure-[\w -]*"')


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What a document says of itself ahead of its body; `css` is its own style."""

    title: str
    author: str
    generator: str
    css: str


def read_head(html: str) -> Head:
    """The head of a document."""
    style, title = _STYLE.search(html), _TITLE.search(html)
    named = {name: unescape(content) for name, content in _META.findall(html.partition("<body")[0])}
    return Head(
        title=unescape(title[1]) if title else "",
        author=named.get("author", ""),
        generator=named.get("generator", ""),
        css=style[1] if style else "",
    )


@dataclass(frozen=True, slots=True)
class BlockText:
    """A block before it is laid out: what its element says, by name, and the markup that decides how it looks.

    `open_places` are those that it has for words of the card.
    """

    said: Mapping[str, str]
    markup: str
    open_places: Opened | None = None

    @property
    def laid_out(self) -> str:
        """The markup that is laid out first: with stand-ins in its open places."""
        return self.markup if self.open_places is None else self.open_places.markup


@dataclass(frozen=True, slots=True)
class BlockStyle:
    """What the blocks of a document have in common: their style and their language.

    `side_mm` is how high a side is where they are the bands of whole sides.
    """

    css: str
    language: str
    side_mm: float = 0.0

    def html_of(self, blocks: Iterable[str]) -> str:
        """A document in this dress that has the markup of `blocks` alone, to be laid out, and then an empty one.

        So the ground of the page never ends with a block, whichever is the last. Bands are as high as their page.
        """
        last = "" if self.side_mm else '<section class="galley"></section>'
        return (
            f'<html lang="{escape(self.language)}"><head><title>Blocks</title><style>{self.css}</style>'
            f'</head><body class="galleys">{"".join(blocks)}{last}</body></html>'
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockDocument:
    """What there is to compose, in the order of reading, and what names the card."""

    head: Head
    said: Mapping[str, str]
    style: BlockStyle
    blocks: tuple[BlockText, ...]

    @property
    def language(self) -> str:
        """The language of the card's words."""
        return self.style.language


def block_document(html: str) -> BlockDocument | None:
    """Read a card's document; None where it is not one of blocks."""
    body = _BODY.search(html)
    if body is None:
        return None
    head, said = read_head(html), _said(body[1])
    return BlockDocument(
        head=head,
        said=said,
        style=BlockStyle(head.css, said.get("data-language", "en")),
        blocks=tuple(_block(found) for found in _BLOCK.finditer(html, body.end())),
    )


def _block(found: re.Match[str]) -> BlockText:
    # Figures are numbered through the card; what a block shows must not depend on how many stand before it.
    inside = _NAMED.sub("", found[3])
    markup = f'<section class="{found[1]}">{inside}</section>'
    return BlockText(_said(found[2]), markup, opened(markup))


def _said(attributes: str) -> dict[str, str]:
    return {name: unescape(value) for name, value in _SAID.findall(attributes)}
