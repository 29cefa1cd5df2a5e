"""Texts of a published list of script vectors, in every text of the library: a browser shows them and runs nothing."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from tests.pages.in_a_browser import browser, needs_chromium
from tests.vectors.opening import wrongs
from tests.vectors.tainting import VECTORS, tainted_files

__all__ = ["browser"]


@needs_chromium
@pytest.mark.parametrize("turn", [0, 101])
def test_no_text_runs_asks_or_breaks_anything(browser: Browser, turn: int) -> None:
    files, tainting = tainted_files(turn)
    assert tainting.texts > len(VECTORS)
    assert {"Guide.title", "Step.do", "Caution.text", "Bike.name", "Workshop.name", "Fastener.name"} <= tainting.kinds
    assert wrongs(browser, files) == []


@needs_chromium
def test_what_would_run_is_seen(browser: Browser) -> None:
    bad = b"<html><body onload='x()'><iframe></iframe><script>alert(1)</script><img src='http://other.test/'></body></html>"
    found = " ".join(wrongs(browser, {"bad.html": bad}))
    for words in ("a dialog: 1", "other.test", "IFRAME", "onload", "x is not defined"):
        assert words in found
