"""Documents over the web, from a server on this computer: bounded in time and size, http alone."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import ClassVar
from urllib.error import HTTPError

import pytest
from reading_documents import DAY
from typing_extensions import override

from whatif.readings.fault import Unreadable, UnreadKind
from whatif.readings.sources import content_of


class Agent(BaseHTTPRequestHandler):
    asked: ClassVar[list[str]] = []

    def do_GET(self) -> None:
        self.asked.append(self.path)
        if self.path == "/slow":
            time.sleep(0.4)
        if self.path == "/file":
            self.send_response(302)
            self.send_header("Location", "file:///etc/hostname")
            self.end_headers()
            return
        if self.path == "/moved":
            self.send_response(302)
            self.send_header("Location", "/current")
            self.end_headers()
            return
        self.send_response(404 if self.path == "/nothing" else 200)
        sort = "multipart/x-mixed-replace;boundary=a" if self.path == "/endless" else "text/xml"
        self.send_header("Content-Type", sort)
        self.end_headers()
        if self.path == "/drips":
            for _ in range(20):
                self.wfile.write(b" ")
                time.sleep(0.05)
        self.wfile.write(DAY.encode())

    @override
    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    server = ThreadingHTTPServer(("127.0.0.1", 0), Agent)
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01})
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()
    thread.join()


@pytest.mark.parametrize("path", ["/current", "/moved"])
def test_an_agent_is_asked(address: str, path: str) -> None:
    assert content_of(address + path) == DAY.encode()


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/slow", UnreadKind.TOO_SLOW),
        ("/drips", UnreadKind.TOO_SLOW),
        ("/endless", UnreadKind.ENDLESS),
        ("/nothing", UnreadKind.NOT_FETCHED),
        ("/file", UnreadKind.NOT_FETCHED),
    ],
)
def test_what_is_not_fetched(address: str, path: str, kind: UnreadKind) -> None:
    with pytest.raises(Unreadable) as found:
        content_of(address + path, seconds=0.2)
    assert found.value.kind is kind


@pytest.mark.parametrize(("path", "status"), [("/nothing", 404), ("/file", 302)])
def test_an_answer_that_is_a_fault_is_closed(
    address: str, path: str, status: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Left to the collector its line would stay open until then."""
    closed: list[int] = []
    close = HTTPError.close

    def noted(self: HTTPError) -> None:
        closed.append(self.code)
        close(self)

    monkeypatch.setattr(HTTPError, "close", noted)
    with pytest.raises(Unreadable):
        content_of(address + path)
    assert closed == [status]


def test_a_large_answer_is_given_up(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("whatif.readings.sources.LARGEST", 100)
    with pytest.raises(Unreadable) as found:
        content_of(f"{address}/current")
    assert found.value.kind is UnreadKind.TOO_LARGE


@pytest.mark.parametrize("source", ["file:///etc/hostname", "ftp://127.0.0.1/a", "data://a"])
def test_http_and_https_alone(source: str) -> None:
    with pytest.raises(Unreadable) as found:
        content_of(source)
    assert found.value.kind is UnreadKind.NO_WEB_ADDRESS


def test_nobody_listens() -> None:
    for source in ("http://127.0.0.1:9/current", "http://[bad", "no-such-file.xml", "."):
        with pytest.raises(Unreadable):
            content_of(source)
