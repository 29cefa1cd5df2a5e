"""The code of a card: six letters and digits that change with everything that its reader sees, and with nothing else.

It is the digest of the rendered card without the code itself, always of the same paper, so that one code names the card
on every paper and on its page.
"""

from __future__ import annotations

import hashlib
import re
from html import unescape

# Stands for the code while it is not known: a sign that no author types and no template holds.
UNKNOWN = "\ue000"
_LETTERS = 6
_UNSEEN = re.compile(r"<(style|script|head)\b.*?</\1>|<!--.*?-->", re.DOTALL | re.IGNORECASE)
# A drawing shows by its strokes, a caption of the side by what the stylesheet takes from an attribute.
_MARKUP = re.compile(r"<svg\b.*?</svg>|<[^>]*>", re.DOTALL)
_BAND = re.compile(r"data-[a-z]+=\"([^\"]*)\"")


def revision_of(text: str) -> str:
    """Six letters and digits that change whenever anything in `text` changes."""
    return hashlib.sha256(text.encode()).hexdigest()[:_LETTERS].upper()


def revision_of_html(html: str) -> str:
    """The code of a rendered document, in which `UNKNOWN` stands for the code itself."""
    return revision_of(seen_in(html))


def seen_in(html: str) -> str:
    """What a reader sees of a rendered document: its texts, its drawings, and what stands in bands at the edge."""
    shown = _MARKUP.sub(lambda found: _kept(found[0]), _UNSEEN.sub(" ", html))
    return " ".join(unescape(shown).replace(UNKNOWN, "").split())


def _kept(markup: str) -> str:
    if markup.startswith("<svg"):
        return markup
    return f" {' '.join(_BAND.findall(markup))} "
