"""The bytes of a document, from a file or over the web: bounded in size and in time."""

from __future__ import annotations

import os
from http.client import HTTPException
from time import monotonic
from typing import IO, Final
from urllib.error import HTTPError, URLError
from urllib.parse import urlsplit
from urllib.request import (
    HTTPDefaultErrorHandler,
    HTTPErrorProcessor,
    HTTPHandler,
    HTTPRedirectHandler,
    HTTPSHandler,
    OpenerDirector,
    Request,
)

from whatif.readings.fault import Unreadable, UnreadKind

LARGEST: Final = 32_000_000
"""Bytes that a document may have; a year's readings of ten machines have some two million."""

SECONDS: Final = 20.0
"""After which a web address that has not answered whole is given up."""

_PIECE: Final = 1 << 16
_SCHEMES: Final = ("http", "https")


def is_web(source: str) -> bool:
    """Whether a source is a web address, or of another scheme that looks like one."""
    return "://" in source


def content_of(source: str, seconds: float = SECONDS) -> bytes:
    """All bytes of a file or of a web address; raises `Unreadable`."""
    return _fetched(source, seconds) if is_web(source) else _file(source)


def _file(source: str) -> bytes:
    try:
        with open(source, "rb") as file:
            return _bounded(file, source)
    except FileNotFoundError:
        raise Unreadable(UnreadKind.NO_SUCH_FILE, source) from None
    except (OSError, ValueError) as fault:
        said = getattr(fault, "strerror", None) or str(fault)
        raise Unreadable(UnreadKind.NOT_READ, source, (said,)) from None


def _fetched(source: str, seconds: float) -> bytes:
    try:
        scheme = urlsplit(source).scheme.lower()
    except ValueError as fault:
        raise Unreadable(UnreadKind.NOT_FETCHED, source, (str(fault),)) from None
    if scheme not in _SCHEMES:
        raise Unreadable(UnreadKind.NO_WEB_ADDRESS, source, (scheme,))
    until = monotonic() + seconds
    try:
        asked = Request(source, headers={"Accept": "application/xml, text/xml, text/csv"})
        with _opener().open(asked, timeout=seconds) as answer:
            if answer.headers.get_content_maintype() == "multipart":
                raise Unreadable(UnreadKind.ENDLESS, source)
            return _bounded(answer, source, until)
    except TimeoutError:
        raise Unreadable(UnreadKind.TOO_SLOW, source, (f"{seconds:.0f}",)) from None
    except URLError as fault:
        if isinstance(fault, HTTPError):
            fault.close()  # it holds the answer, whose line would stay open
        if isinstance(fault.reason, TimeoutError):
            raise Unreadable(UnreadKind.TOO_SLOW, source, (f"{seconds:.0f}",)) from None
        raise Unreadable(UnreadKind.NOT_FETCHED, source, (str(fault.reason),)) from None
    except (OSError, ValueError, HTTPException) as fault:
        raise Unreadable(UnreadKind.NOT_FETCHED, source, (str(fault),)) from None


def _opener() -> OpenerDirector:
    """What opens http and https alone, also where one sends it on, and never by way of a proxy:
    what tells of machines stands in the same house."""
    opener = OpenerDirector()
    for handler in (
        HTTPHandler(),
        HTTPSHandler(),
        HTTPRedirectHandler(),
        HTTPDefaultErrorHandler(),
        HTTPErrorProcessor(),
    ):
        opener.add_handler(handler)
    return opener


def _bounded(file: IO[bytes], source: str, until: float | None = None) -> bytes:
    read = getattr(file, "read1", file.read)  # what has come, without waiting for a whole piece
    pieces, size = [], 0
    while piece := read(_PIECE):
        pieces.append(piece)
        size += len(piece)
        if size > LARGEST:
            raise Unreadable(UnreadKind.TOO_LARGE, source, (f"{LARGEST // 1_000_000}",))
        if until is not None and monotonic() > until:
            raise TimeoutError
    return b"".join(pieces)


def name_of(source: str) -> str:
    """What a source is called where there is little room."""
    return source if is_web(source) else os.path.basename(source)
