"""A card for a browser: it has a margin on the screen, and its boxes can be ticked."""

from __future__ import annotations

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


def for_browser(html: str) -> str:
    """The card's HTML, with its stylesheet and faces within, for a screen: with boxes that can be ticked."""
    return html.replace(_BOX, _TICK).replace(_HEAD_END, f"{_SCREEN}{_HEAD_END}", 1)
