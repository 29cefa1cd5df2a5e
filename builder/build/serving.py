"""Serve a site to this machine while its sources change: files, a reload when a build is done, and what is broken."""

from __future__ import annotations

import mimetypes
import threading
from collections.abc import Callable, Mapping
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

from markupsafe import escape

HOST = "127.0.0.1"
_OWN = "/-/"
_HEARTBEAT_SECONDS = 15.0
# Who says nothing for so long is let go, and more than so many are not heard at once: each keeps a thread.
_SILENT_SECONDS = 30.0
_AT_ONCE = 64
_LONGEST_NUMBER = 9
_SCRIPT = """const since = new URL(document.currentScript.src).searchParams.get("since");
new EventSource("/-/changes?since=" + since).addEventListener("changed", () => location.reload());
"""
_BROKEN = """<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><title>The site is not built</title></head>
<body>
<h1>The site is not built</h1>
<p>It is built again as soon as the sources change.</p>
<pre>%s</pre>
</body>
</html>
"""

_NOTHING = """<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><title>Nothing here</title></head>
<body>
<p>There is no such page. <a href="/">To the start</a></p>
</body>
</html>
"""


class Shown:
    """What is shown at the moment: the site in a folder, or what is broken. Every change has a number."""

    def __init__(self, folder: Path, card: Callable[[str], bytes | str | None]) -> None:
        self.folder = folder.resolve()
        self.card = card
        self.number = 0
        self.broken = ""
        self.spoiled: Mapping[str, str] = {}
        self._turn = threading.Condition()
        self._ended = False

    def changed(self, broken: str = "", spoiled: Mapping[str, str] | None = None) -> None:
        """A build is done: show the site, or `broken`, what stands in its way; `spoiled` is that for single pages."""
        with self._turn:
            self.number += 1
            self.broken, self.spoiled = broken, spoiled or {}
            self._turn.notify_all()

    def end(self) -> None:
        """Let everybody go who waits for a change."""
        with self._turn:
            self._ended = True
            self._turn.notify_all()

    def wait(self, since: int) -> int | None:
        """The number of a change after `since`, or `since` itself when it takes long; None at the end."""
        with self._turn:
            self._turn.wait_for(lambda: self._ended or self.number != since, _HEARTBEAT_SECONDS)
            return None if self._ended else self.number

    def file(self, path: str) -> Path | None:
        """The file at a path of the site, where there is one inside its folder."""
        if "\0" in path or "\\" in path:
            return None
        try:
            found = (self.folder / path.lstrip("/")).resolve()
            if found.is_dir():
                found = found / "index.html"
            return found if found.is_relative_to(self.folder) and found.is_file() else None
        except OSError:  # such as a name that is too long
            return None


def server(shown: Shown, port: int) -> ThreadingHTTPServer:
    """A server for this machine alone, not yet running; port 0 takes any free one.

    Raises:
        OSError: the port is taken.
    """

    class Handler(_Handler):
        """Answers for `shown`."""

        what = shown

    return _Server((HOST, port), Handler)


class _Server(ThreadingHTTPServer):
    """Hears so many at once and no more, and says nothing of those who break off."""

    daemon_threads = True
    # Who knocks while others are heard waits for a moment and is not sent away to knock again after seconds.
    request_queue_size = 128

    def __init__(self, address: tuple[str, int], handler: type[BaseHTTPRequestHandler]) -> None:
        self._room = threading.BoundedSemaphore(_AT_ONCE)
        super().__init__(address, handler)

    def process_request(self, request: Any, client_address: Any) -> None:
        """Hear one more, or let it go."""
        if self._room.acquire(blocking=False):
            super().process_request(request, client_address)
        else:
            self.shutdown_request(request)

    def process_request_thread(self, request: Any, client_address: Any) -> None:
        """Hear one out."""
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._room.release()

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Say nothing: a browser that goes away is no matter, and the others are heard all the same."""


class _Handler(BaseHTTPRequestHandler):
    what: Shown
    protocol_version = "HTTP/1.1"
    timeout = _SILENT_SECONDS

    def do_GET(self) -> None:
        """Answer a request."""
        # Another site's page that reaches this address under a name of its own gets nothing.
        if not _is_this_machine(self.headers.get("Host", "")):
            self._answer(HTTPStatus.FORBIDDEN, "text/plain", b"this address serves its own machine alone")
            return
        try:
            parts = urlsplit(self.path)
        except ValueError:
            self._missing()
            return
        path = unquote(parts.path)
        if path == f"{_OWN}reload.js":
            self._answer(HTTPStatus.OK, "text/javascript", _SCRIPT.encode())
        elif path == f"{_OWN}changes":
            since = parts.query.removeprefix("since=")
            known = since.isdecimal() and since.isascii() and len(since) <= _LONGEST_NUMBER
            self._stream(int(since) if known else self.what.number)
        elif path == "/sw.js":  # a preview changes from one minute to the next, and is not kept by a browser
            self._missing()
        elif path.startswith("/cards/"):
            self._card(self.what.card(path.removeprefix("/cards/")))
        else:
            self._page(path)

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""

    def _card(self, made: bytes | str | None) -> None:
        """A card, or what stands in its way, or that there is none."""
        match made:
            case None:
                self._missing()
            case str():
                html = _with_script(_BROKEN % escape(made), self.what.number)
                self._answer(HTTPStatus.INTERNAL_SERVER_ERROR, "text/html", html)
            case bytes():
                self._answer(HTTPStatus.OK, "application/pdf", made)

    def _page(self, path: str) -> None:
        number = self.what.number
        broken = self.what.broken or self.what.spoiled.get(path.lstrip("/"), "")
        file = self.what.file(path)
        try:
            data = b"" if file is None else file.read_bytes()
        except OSError:  # the site is being exchanged at this moment; the page asks again when that is done
            file, data = None, b""
        if broken and (file is None or file.suffix == ".html"):
            html = _BROKEN % escape(broken)
            self._answer(HTTPStatus.INTERNAL_SERVER_ERROR, "text/html", _with_script(html, number))
        elif file is None:
            self._missing()
        elif file.suffix == ".html":
            self._answer(HTTPStatus.OK, "text/html", _with_script(data.decode(), number))
        else:
            kind = mimetypes.guess_type(file.name)[0] or "application/octet-stream"
            self._answer(HTTPStatus.OK, kind, data)

    def _missing(self) -> None:
        self._answer(HTTPStatus.NOT_FOUND, "text/html", _with_script(_NOTHING, self.what.number))

    def _answer(self, status: HTTPStatus, kind: str, data: bytes) -> None:
        self.send_response(status)
        self.send_header("Content-Type", f"{kind}; charset=utf-8" if kind.startswith("text/") else kind)
        self.send_header("Content-Length", str(len(data)))
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        self.wfile.write(data)

    def _stream(self, since: int) -> None:
        """Server-sent events: one for each change, and a comment now and then that shows whether anybody listens."""
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/event-stream")
        self.send_header("Cache-Control", "no-store")
        self.send_header("Connection", "close")
        self.end_headers()
        self.close_connection = True
        try:
            self.wfile.write(b": listening\n\n")
            while (number := self.what.wait(since)) is not None:
                self.wfile.write(
                    b": still here\n\n" if number == since else f"event: changed\ndata: {number}\n\n".encode()
                )
                since = number
        except OSError:
            return


def _is_this_machine(host: str) -> bool:
    try:
        return urlsplit(f"//{host}").hostname in (HOST, "localhost")
    except ValueError:
        return False


def _with_script(html: str, number: int) -> bytes:
    """The page with the script that reloads it; only what is served has it."""
    script = f'<script src="{_OWN}reload.js?since={number}"></script>'
    before, mark, after = html.rpartition("</body>")
    return (f"{before}{script}{mark}{after}" if mark else html + script).encode()
