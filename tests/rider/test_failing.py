"""What goes wrong is told in words, in a real browser: files that do not come, an interpreter that breaks down."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from builder.rider import page as room
from tests.pages.in_a_browser import browser, needs_chromium
from tests.rider.in_a_browser import WAIT_MS, Harm, Host, host, opened, until
from tests.rider.node import needs_runtime

__all__ = ["browser", "host"]  # fixtures, found here by their names
pytestmark = [needs_chromium, needs_runtime]
WHEEL = "rider/index.html#for=front-wheel-out-and-in"
WASM = "pyodide.wasm.bin"
SHORT = b"\x1f\x8b short"
AS_TEXT = {"Content-Type": "text/html"}
WORKER = Path(room.__file__).parent / "web" / "worker.js"
# Where the interpreter has its memory, so that a test can take it away.
_GRASP = b"""
const made = WebAssembly.instantiate;
WebAssembly.instantiate = async (module, imports) => {
  const found = await made(module, imports);
  const all = [found.exports ?? found.instance.exports, ...Object.values(imports ?? {})];
  self.heap ??= all.flatMap((one) => Object.values(one ?? {})).find((one) => one instanceof WebAssembly.Memory);
  return found;
};
"""
_NO_ROOM = b"WebAssembly.instantiate = async () => { throw new RangeError('no memory for it') };"
_HELD = "localStorage.getItem('spannerleaf bikes')"


@pytest.fixture
def page(browser: Browser, host: Host) -> Iterator[Page]:
    """A page that no service worker helps; the host does no harm any more afterwards."""
    context = browser.new_context(service_workers="block")
    made = context.new_page()
    made.set_default_timeout(WAIT_MS)
    yield made
    host.harm.clear()
    context.close()


@pytest.mark.parametrize(
    ("ending", "harm", "said"),
    [
        pytest.param(WASM, Harm(data=b"", status=404), "could not be fetched", id="missing"),
        pytest.param(WASM, Harm(data=b"no", status=403), "could not be fetched", id="forbidden"),
        pytest.param(WASM, Harm(data=b"\x1f\x8b short"), "did not come whole", id="truncated"),
        pytest.param(
            WASM,
            Harm(data=b"\x1f\x8b short", headers={"Content-Length": "3000000"}),
            "could not be fetched",
            id="cut-off",
        ),
        pytest.param("stdlib.bin", Harm(data=b"<html>" * 999_999), "did not come whole", id="another-file"),
        pytest.param("files.json", Harm(data=b"<html>no such page</html>"), "did not come whole", id="no-list"),
        pytest.param("pyodide.asm.js", Harm(data=b"", status=404), "could not be fetched", id="no-script"),
        pytest.param(
            "pyodide.js", Harm(headers={"Content-Type": "text/html"}), "could not be fetched", id="mistyped-script"
        ),
        pytest.param("worker.js", Harm(data=b"", status=404), "could not be fetched", id="no-worker"),
        pytest.param(
            "worker.js",
            Harm(headers={"Content-Security-Policy": "default-src 'self'"}),
            "refuses WebAssembly",
            id="refused-by-policy",
        ),
        pytest.param("worker.js", Harm(data=_NO_ROOM + WORKER.read_bytes()), "Something went wrong", id="no-memory"),
    ],
)
def test_a_file_that_does_not_come_is_told_and_tried_again(
    page: Page, host: Host, ending: str, harm: Harm, said: str
) -> None:
    host.harm[ending] = harm
    opened(page, host.address + WHEEL)
    assert said in page.locator("#failed-words").inner_text()
    assert page.locator("#again").is_visible()
    if ending == "files.json":
        host.harm.clear()
        page.locator("#again").click()
        page.wait_for_selector("#question fieldset")
        assert page.locator("#failed").is_hidden()


def test_an_interpreter_that_breaks_down_is_told_and_the_answers_are_kept(page: Page, host: Host) -> None:
    """Once its memory is overwritten, once its worker ends without a word; each time it is started again.

    The host gives WebAssembly a wrong type, as some do: it is of no account.
    """
    host.harm = {
        "worker.js": Harm(data=_GRASP + WORKER.read_bytes()),
        WASM: Harm(headers=AS_TEXT),
    }
    opened(page, host.address + WHEEL)
    for crash in ("new Uint8Array(self.heap.buffer).fill(0xff)", "self.close()"):
        assert page.locator("#question fieldset").is_visible()
        page.workers[-1].evaluate(f"() => {{ {crash} }}")
        before = page.locator("#question-words").inner_text()
        page.locator(".choice").first.click()
        page.wait_for_selector("#failed:not([hidden])")
        assert "What you told of your bike is kept" in page.locator("#failed-words").inner_text()
        kept = page.evaluate(_HELD)
        page.locator("#again").click()
        until(page, "before => document.getElementById('question-words').textContent !== before", before)
        assert page.locator("#failed").is_hidden()
        assert page.locator("#told-list li").count() > 0
        assert page.evaluate(_HELD) == kept
