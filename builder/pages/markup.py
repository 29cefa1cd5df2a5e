"""Turn the prose of sources into safe markup: emphasis, lists and code; no links, no pictures, no raw HTML.

What an author writes never reaches a page unescaped: `<b>` in a source shows as the five signs `<b>`.
"""

from __future__ import annotations

import re
from functools import cache

from markdown import Markdown
from markupsafe import Markup, escape

from builder.model.verbs import lead_of

# Anything else is plain text, and needs no parser (nearly every step).
_SPECIAL = re.compile(r"[*_`\\\n&<#>\[\]]|^\s*(?:[-+]|\d+[.)])\s")
# A number and its unit stay on one line (SI Brochure, 9th edition, 5.4.3).
_UNIT_SPACE = re.compile(r"(?<=\d) (?=(?:%|mm|cm|m|km|N·m|bar|psi|kg|W|min|h|teeth|links|V|°C)(?!\w))")
# What could fetch something or carry HTML through.
_BLOCKS = ("html_block",)
_PATTERNS = (
    "html",
    "link",
    "reference",
    "image_link",
    "image_reference",
    "short_reference",
    "short_image_ref",
    "autolink",
    "automail",
)


@cache
def _converter() -> Markdown:
    converter = Markdown(output_format="html")
    for name in _BLOCKS:
        converter.preprocessors.deregister(name)
    for name in _PATTERNS:
        converter.inlinePatterns.deregister(name, strict=False)
    converter.parser.blockprocessors.deregister("reference", strict=False)
    return converter


def prose(text: str) -> Markup:
    """Markdown as blocks: paragraphs and lists."""
    if not text:
        return Markup("")
    text = _UNIT_SPACE.sub("\u00a0", text)
    if not _SPECIAL.search(text):
        return Markup("<p>{}</p>").format(text)
    converter = _converter()
    converter.reset()
    return Markup(converter.convert(text))


def inline(text: str) -> Markup:
    """Markdown within a line; the one paragraph loses its tags, several blocks keep theirs."""
    text = _UNIT_SPACE.sub("\u00a0", text)
    if not _SPECIAL.search(text):
        return escape(text)
    html = prose(text)
    if html.count("<p>") == 1 and html.startswith("<p>") and html.endswith("</p>"):
        return Markup(html[3:-4])
    return html


def instruction(text: str) -> Markup:
    """An instruction with its lead in bold: the condition up to its comma, or else the verb."""
    lead, rest = lead_of(text)
    if not lead:
        return inline(text)
    return Markup('<b class="lead">{}</b> {}').format(inline(lead), inline(rest))
