"""A document of articles as text: each of them is laid out by itself, and their sides stand in one file.

Its body says `data-language`, and by `data-begins` whether each begins on a `leaf` or on a `side` of its own. An
article says `data-title`, which is its bookmark in the file. How it looks depends on no other article.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from html import escape, unescape

from builder.printing.block_document import BlockStyle, Head, read_head

_BODY = re.compile(r'<body class="([^"]*)" data-language="([^"]*)" data-begins="(leaf|side)">')
_ARTICLE = re.compile(r'<article [^>]*?data-title="([^"]*)"[^>]*>.*?</article>', re.DOTALL)


@dataclass(frozen=True, slots=True)
class Article:
    """An article before it is laid out: its title, and the body that it is laid out as."""

    title: str
    markup: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ArticleDocument:
    """The articles in the order of the file, and what names it; `on_leaves` says that each begins on a leaf."""

    head: Head
    style: BlockStyle
    on_leaves: bool
    articles: tuple[Article, ...]


def article_document(html: str) -> ArticleDocument | None:
    """Read a document; None where it is not one of articles."""
    body = _BODY.search(html)
    if body is None:
        return None
    head = read_head(html)
    return ArticleDocument(
        head=head,
        style=BlockStyle(head.css, unescape(body[2])),
        on_leaves=body[3] == "leaf",
        articles=tuple(
            Article(unescape(found[1]), f'<body class="{body[1]}">{found[0]}</body>')
            for found in _ARTICLE.finditer(html, body.end())
        ),
    )


def html_of_article(style: BlockStyle, markup: str) -> str:
    """The document that an article is laid out as."""
    return (
        f'<html lang="{escape(style.language)}"><head><title>An article</title><style>{style.css}</style></head>'
        f"{markup}</html>"
    )
