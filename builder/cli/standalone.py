"""A card for a browser: one file that carries its faces, has a margin on the screen, and whose boxes can be ticked."""

from __future__ import annotations

import base64
import re
from pathlib import Path

_FACE = re.compile(r"""url\((["']?)(fonts/[\w.-]+\.woff2)\1\)""")
_BOX = '<span class="box"></span>'
# A real control, so that a keyboard and a screen reader can tick it too; the theme's own class gives it its look.
_TICK = '<input class="box" type="checkbox" aria-label="done">'
_HEAD_END = "</head>"
# On paper the card stays as it is; a screen gives it the width of a sheet and room around it.
_SCREEN = """\
<meta name="viewport" content="width=device-width, initial-scale=1">
<style>
input.box { appearance: none; margin: 0; padding: 0; background: none }
input.box:checked { background: currentColor }
@media screen {
  body { max-width: 46rem; margin: 0 auto; padding: 1.5rem }
  input.box { cursor: pointer }
}
</style>
"""


def for_browser(html: str, theme: Path) -> str:
    """The card's HTML with the theme's faces within it and boxes that can be ticked.

    Args:
        html: the card with its stylesheet within.
        theme: the folder of the theme, in which the stylesheet's faces lie. A face that is not there stays named.
    """

    def within(found: re.Match[str]) -> str:
        path = theme / found[2]
        if not path.is_file():
            return found[0]
        return f"url(data:font/woff2;base64,{base64.b64encode(path.read_bytes()).decode('ascii')})"

    return _FACE.sub(within, html).replace(_BOX, _TICK).replace(_HEAD_END, f"{_SCREEN}{_HEAD_END}", 1)
