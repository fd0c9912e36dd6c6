"""The calculation in a process of its own, so that it never blocks the keys.

The session asks with a draft and a revision; a newer request gives the one before it up. Every
reply carries the revision it belongs to, and whoever receives it drops what is not of the
revision on the screen.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import signal
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Protocol

from whatif.answers.compare import Comparison, compare, with_gain_ranges, with_grain, with_rush
from whatif.session.memory import Memory
from whatif.study.check import check
from whatif.study.draft import Draft


@dataclass(frozen=True, slots=True)
class Request:
    """A draft to be answered."""

    revision: int
    draft: Draft


@dataclass(frozen=True, slots=True)
class Reply:
    """An answer, or news on the way to it.

    Attributes:
        found: None while there is only progress to tell, or where the draft has problems.
        final: whether nothing more comes for this revision.
        done, of: weeks simulated so far, and about how many there are.
        fault: what went wrong with the calculation itself, in words; empty if nothing.
    """

    revision: int
    found: Comparison | None = None
    final: bool = False
    done: int = 0
    of: int = 0
    fault: str = ""


class Overtaken(Exception):
    """A newer request has come."""


class _Bench:
    """The calculating side: one request at a time, the newest."""

    def __init__(self, line: Connection) -> None:
        self._line = line
        self._memory = Memory(between_weeks=self._between_weeks)
        self._request = Request(0, Draft())
        self._weeks = self._expected = 0

    def serve(self) -> None:
        """Answer until the other end is closed."""
        while True:
            try:
                self._request = self._line.recv()
                while self._line.poll():
                    self._request = self._line.recv()
                self._answer(self._request)
            except Overtaken:
                continue
            except (EOFError, OSError):
                return

    def _answer(self, request: Request) -> None:
        try:
            checked = check(request.draft)
            study = checked.study
            if study is None:
                self._line.send(Reply(request.revision, final=True))
                return
            self._weeks = 0
            runs = study.runs if any(one.stop for one in study.scenarios.values()) else 1
            weeks = (study.weeks + study.warm_up) * len(study.scenarios)
            self._expected = 3 * runs * weeks
            found = compare(checked, self._memory, most_runs=1)
            self._line.send(Reply(request.revision, found))
            if any(plan.runs > 1 for plan in (one.plan for one in found.answers.values())):
                found = compare(checked, self._memory)
                self._line.send(Reply(request.revision, found))
            found = with_grain(found, self._memory)
            self._line.send(Reply(request.revision, found))
            found = with_rush(with_gain_ranges(found, self._memory), self._memory.pause)
            self._line.send(Reply(request.revision, found, final=True))
        except (Overtaken, EOFError, OSError):
            raise
        except Exception as fault:  # told on the screen; the process lives on
            text = f"{type(fault).__name__}: {fault}"
            self._line.send(Reply(request.revision, final=True, fault=text))

    def _between_weeks(self) -> None:
        if self._line.poll():
            raise Overtaken
        self._weeks += 1
        if self._weeks % 25 == 0:
            self._line.send(Reply(self._request.revision, done=self._weeks, of=self._expected))


def serve(line: Connection) -> None:
    """What the calculating process runs."""
    # An interrupt from the keyboard is the screen's to handle, not ours.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _Bench(line).serve()


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
