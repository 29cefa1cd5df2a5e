"""Open tainted pages in a real browser and tell whatever a page does that it must not do."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from urllib.parse import unquote, urlsplit

from tests.vectors.tainting import pages_of

HOST = "http://site.test/"
_KINDS = {"html": "text/html; charset=utf-8", "css": "text/css", "js": "text/javascript", "woff2": "font/woff2"}
_KINDS |= {"svg": "image/svg+xml", "webmanifest": "application/manifest+json", "xml": "application/xml"}


def wrongs(browser: Any, files: Mapping[str, bytes]) -> list[str]:
    """Every dialog, request to elsewhere, error in the console, and strange element, with the page that it was on."""
    context = browser.new_context()
    page = context.new_page()
    found: list[str] = []
    at = [""]

    def answer(route: Any) -> None:
        asked = urlsplit(route.request.url)
        path = unquote(asked.path.lstrip("/"))
        if asked.netloc != urlsplit(HOST).netloc:
            found.append(f"{at[0]}: a request to {route.request.url[:120]}")
            route.abort()
        elif path == "favicon.ico":
            route.fulfill(status=204)
        elif path in files:
            route.fulfill(body=files[path], content_type=_KINDS.get(path.rpartition(".")[2], "text/plain"))
        else:
            found.append(f"{at[0]}: a request to {path[:120]}, which is not there")
            route.abort()

    def dismiss(dialog: Any) -> None:
        found.append(f"{at[0]}: a dialog: {dialog.message[:80]}")
        dialog.dismiss()

    def hear(said: Any) -> None:
        if said.type == "error":
            found.append(f"{at[0]}: in the console: {said.text[:120]}")

    page.route("**/*", answer)
    page.on("dialog", dismiss)
    page.on("console", hear)
    page.on("pageerror", lambda error: found.append(f"{at[0]}: an error: {str(error)[:120]}"))
    for path in pages_of(files):
        at[0] = path
        page.goto(HOST + path)
        found.extend(f"{path}: {one}" for one in page.evaluate(_LOOK))
    context.close()
    return found


# No element that a text could bring in, no handler, no address that runs. The site's own form leads to its finding.
_LOOK = r"""() => [
  ...[...document.querySelectorAll('iframe, object, embed, base, frame, applet, marquee, form[action]')]
    .filter(e => e.tagName !== 'FORM' || !/^(\.\.\/)*find\.html$/.test(e.getAttribute('action')))
    .map(e => 'an element ' + e.tagName),
  ...[...document.querySelectorAll('*')].flatMap(e => [...e.attributes]
    .filter(a => /^on/i.test(a.name) || /^\s*(javascript|vbscript|data:text)/i.test(
      ['href', 'src', 'action', 'xlink:href', 'formaction'].includes(a.name) ? a.value : ''))
    .map(a => 'an attribute ' + a.name + ' of ' + e.tagName + ': ' + a.value.slice(0, 60))),
]"""
