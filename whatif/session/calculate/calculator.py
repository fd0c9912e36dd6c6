"""The calculation in a process of its own, so that it never blocks the keys.

The session asks with a draft and a revision; a newer request gives the one before it up. Every
reply carries the revision it belongs to, and whoever receives it drops what is not of the
revision on the screen.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import sys
import threading
from collections.abc import Callable
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Protocol

from whatif.session.calculate.requests import Reply, Request
from whatif.session.calculate.serving import serve


class Calculates(Protocol):
    """Whoever answers requests: a process of its own, or in tests something nearer."""

    def start(self) -> None:
        """Be ready to be asked."""

    def ask(self, request: Request) -> None:
        """Answer a request, unless a newer one comes."""

    def close(self) -> None:
        """Answer nothing any more."""


class Calculator:
    """The asking side. ``deliver`` is called from a thread of its own with every reply."""

    def __init__(self, deliver: Callable[[Reply], None]) -> None:
        self._deliver = deliver
        self._process: BaseProcess | None = None
        self._line: Connection | None = None
        self._newest: Request | None = None
        self._change = threading.Condition()
        self._closed = False

    def start(self) -> None:
        """Start the process and the threads that talk with it."""
        self._open()
        threading.Thread(target=self._send_all, daemon=True).start()

    def ask(self, request: Request) -> None:
        """Ask for an answer; a request that has not been sent yet is replaced."""
        with self._change:
            self._newest = request
            self._change.notify()

    def close(self) -> None:
        """End the process; nothing is delivered any more."""
        with self._change:
            self._closed = True
            self._change.notify()
        if self._line is not None:
            self._line.close()
        if self._process is not None:
            self._process.terminate()
            self._process.join(timeout=2)

    def _open(self) -> None:
        context = multiprocessing.get_context("spawn")
        self._line, theirs = context.Pipe()
        process = context.Process(target=serve, args=(theirs,), daemon=True)
        # A screen puts something without a file number in the place of standard error, and
        # starting a process hands that number on.
        with contextlib.redirect_stderr(sys.__stderr__):
            process.start()
        self._process = process
        theirs.close()
        threading.Thread(target=self._receive_all, args=(self._line,), daemon=True).start()

    def _send_all(self) -> None:
        # Sending may wait for the other side to read, so it is never done by who asks.
        while True:
            with self._change:
                self._change.wait_for(lambda: self._closed or self._newest is not None)
                if self._closed:
                    return
                request, self._newest = self._newest, None
            try:
                assert self._line is not None
                assert self._process is not None
                if not self._process.is_alive():
                    self._open()
                self._line.send(request)
            except (OSError, ValueError) as fault:
                if not self._closed and request is not None:
                    self._deliver(Reply(request.revision, final=True, fault=str(fault)))

    def _receive_all(self, line: Connection) -> None:
        while True:
            try:
                reply = line.recv()
            except (EOFError, OSError, TypeError):
                # TypeError: closed by us while we were waiting on it.
                if not self._closed:
                    text = "the calculation has stopped; the next edit starts it again"
                    self._deliver(Reply(-1, final=True, fault=text))
                return
            if not self._closed:
                self._deliver(reply)
