"""`preview`: the site served to this machine alone, built again at a change, with mistakes shown in place of pages."""

from __future__ import annotations

import http.client
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from builder.build.order import CanNotPrint, Order
from builder.build.output import OutputRefused
from builder.build.serving import Shown
from builder.cli import preview
from builder.sources.workspace import shipped_library
from tests.build.ordering import SHORT
from tests.cli.calling import ROOT


@dataclass
class Served:
    """A running preview."""

    workspace: Path
    port: int
    process: int

    def get(self, path: str, host: str | None = None) -> tuple[int, str, bytes]:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=120)
        connection.putrequest("GET", path, skip_host=True)
        connection.putheader("Host", host or f"127.0.0.1:{self.port}")
        connection.endheaders()
        answer = connection.getresponse()
        data = answer.read()
        connection.close()
        return answer.status, answer.getheader("Content-Type") or "", data

    def page(self, path: str) -> str:
        return self.get(path)[2].decode()

    def since(self) -> int:
        found = re.search(r"/-/reload\.js\?since=(\d+)", self.page("/"))
        assert found is not None
        return int(found[1])

    def next_change(self, since: int) -> int:
        """Wait as a page does until it is told to reload."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        connection.request("GET", f"/-/changes?since={since}")
        answer = connection.getresponse()
        assert answer.getheader("Content-Type") == "text/event-stream"
        while (line := answer.readline()) != b"event: changed\n":
            assert line, "the stream ended without a change"
        number = int(answer.readline().removeprefix(b"data: "))
        connection.close()
        return number


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    workspace = tmp_path_factory.mktemp("shop")
    (workspace / "bikes").mkdir()
    shutil.copy(shipped_library() / "bikes" / "coot.yaml", workspace / "bikes" / "ours.yaml")
    few = ("--guide", SHORT, "--bike", "ours")
    command = [sys.executable, "-m", "builder", "preview", "--workspace", str(workspace), *few, "--port", "0"]
    setting = {**os.environ, "PYTHONPATH": str(ROOT)}
    process = subprocess.Popen(command, env=setting, stderr=subprocess.PIPE, text=True)
    assert process.stderr is not None
    address = None
    while address is None:
        line = process.stderr.readline()
        assert line, "the preview ended"
        address = re.match(r"http://127\.0\.0\.1:(\d+)/", line)
    yield Served(workspace, int(address[1]), process.pid)
    process.send_signal(signal.SIGINT)
    assert process.wait(timeout=20) == 0


def test_pages_are_served_with_the_script_that_reloads_them(served: Served) -> None:
    status, kind, data = served.get("/")
    assert (status, kind) == (200, "text/html; charset=utf-8")
    assert b'<script src="/-/reload.js?since=' in data
    status, kind, data = served.get("/-/reload.js")
    assert (status, kind) == (200, "text/javascript; charset=utf-8")
    assert b"EventSource" in data


def test_a_preview_is_not_kept_by_a_browser(served: Served) -> None:
    assert served.get("/site.webmanifest")[0] == 200
    assert served.get("/sw.js")[0] == 404


@pytest.mark.parametrize(
    "path",
    [
        "/nothing.html",
        "/../state.json",
        "/../../../../etc/passwd",
        "/%2e%2e/%2e%2e/%2e%2e/etc/passwd",
        "//etc/passwd",
        "/..%2f..%2fetc/passwd",
        "/..%5c..%5cetc",
        "/%00",
        "/cards/../../x.pdf",
        "/cards/heron/none-a5.pdf",
        "/" + "a" * 999,
    ],
)
def test_nothing_outside_the_site_is_served(served: Served, path: str) -> None:
    assert served.get(path)[0] == 404


@pytest.mark.parametrize(
    "host", ["guides.example", "[", "[::1", "127.0.0.1.example", "0.0.0.0", "@", "localhost.example:80"]
)
def test_another_host_name_gets_nothing(served: Served, host: str) -> None:
    assert served.get("/", host=host)[0] == 403


@pytest.mark.parametrize("path", ["/-/changes?since=" + "9" * 5000, "//[", "/-/changes?since=²"])
def test_odd_requests_are_answered_and_end_nothing(served: Served, path: str) -> None:
    connection = http.client.HTTPConnection("127.0.0.1", served.port, timeout=10)
    connection.putrequest("GET", path.replace("²", "%C2%B2"))
    connection.endheaders()
    assert connection.getresponse().status in (200, 404)
    connection.close()
    assert served.get("/")[0] == 200


def test_silent_connections_take_no_more_threads_than_a_few(served: Served) -> None:
    silent = [socket.create_connection(("127.0.0.1", served.port), timeout=10) for _ in range(200)]
    threads = len(list(Path(f"/proc/{served.process}/task").iterdir()))
    for one in silent:
        one.close()
    assert threads < 100
    for _ in range(100):
        try:
            assert served.get("/")[0] == 200
            break
        except OSError:
            time.sleep(0.1)
    else:
        pytest.fail("the preview answers nobody any more")


def test_a_card_is_printed_when_it_is_asked_for(served: Served) -> None:
    status, kind, data = served.get(f"/cards/generic/{SHORT}-a5.pdf")
    assert (status, kind) == (200, "application/pdf")
    assert data.startswith(b"%PDF-")


def test_a_change_is_built_and_told_and_a_mistake_is_shown_until_it_is_mended(served: Served) -> None:
    bike = served.workspace / "bikes" / "ours.yaml"
    sound = bike.read_text(encoding="utf-8")
    at_first = served.since()
    bike.write_text(sound.replace("name: Coot", "name: Crested"), encoding="utf-8")
    changed = served.next_change(at_first)
    assert "Crested" in served.page("/bikes/ours.html")

    bike.write_text(sound.replace("name: Coot", "nmae: <Coot>"), encoding="utf-8")
    broken = served.next_change(changed)
    status, _, data = served.get("/bikes/ours.html")
    assert status == 500
    assert "unknown key &#39;nmae&#39;" in data.decode()
    assert "did you mean &#39;name&#39;?" in data.decode()
    assert "&lt;Coot&gt;" in data.decode()
    assert served.get("/assets/site.css")[0] == 200

    bike.write_text(sound, encoding="utf-8")
    served.next_change(broken)
    status, _, data = served.get("/bikes/ours.html")
    assert status == 200
    assert "Coot" in data.decode()


def test_whatever_breaks_a_build_the_serving_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shown = Shown(tmp_path, lambda path: None)
    order = Order(out=tmp_path, printing=False)
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    for error, said in (
        (KeyError("wheel"), "this is a fault of the program"),
        (OSError(28, "No space left on device"), "No space left on device"),
        (OutputRefused("another build is writing"), "another build is writing"),
        (CanNotPrint("no Pango"), "no Pango"),
    ):

        def broken(*_: object, error: Exception = error) -> None:
            raise error

        monkeypatch.setattr(preview, "build", broken)
        before = shown.number
        preview._build(order, shown)
        assert said in shown.broken
        assert shown.number == before + 1
        assert said in capsys.readouterr().err
