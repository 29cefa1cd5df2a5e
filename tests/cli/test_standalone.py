"""A card for a browser needs nothing beside it, keeps a margin, and can be ticked."""

from __future__ import annotations

import re

from builder.build.printer import Printer
from builder.cli.standalone import for_browser
from builder.pages.paper import Paper
from tests.demo import lead_card


def card() -> str:
    printer = Printer()
    return for_browser(printer.html(lead_card("heron"), Paper.A5, standalone=True))


def test_every_face_is_within_the_file() -> None:
    html = card()
    assert len(re.findall(r"url\(\"?data:font/woff2;base64,", html)) >= 3
    assert not re.search(r"url\([\"']?fonts/", html)


def test_every_box_is_a_control() -> None:
    plain = Printer().html(lead_card("heron"), Paper.A5, standalone=True)
    assert card().count('type="checkbox"') == plain.count('<span class="box"></span>') > 0
