"""The calculation in a process of its own, so that it never blocks the keys.

The session asks with a draft and a revision; a newer request gives the one before it up. Every
reply carries the revision it belongs to, and whoever receives it drops what is not of the
revision on the screen.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import sys
import threading
from collections.abc import Callable, Iterator
from functools import partial
from multiprocessing.reduction import ForkingPickler
from typing import Protocol

from whatif.session.calculate.news import Receiver
from whatif.session.calculate.process import serve_line
from whatif.session.calculate.requests import ANY_REVISION, Reply, Request


class Calculates(Protocol):
    """Whoever answers requests: a process of its own, or in tests something nearer."""

    def start(self) -> None:
        """Be ready to be asked; may be called again."""

    def ask(self, request: Request) -> None:
        """Answer a request, unless a newer one comes."""

    def close(self) -> None:
        """Answer nothing any more."""


def _at_once(do: Callable[[], None]) -> None:
    do()


class Calculator:
    """The asking side.

    Args:
        deliver: called with every reply.
        hand_over: has something done where ``deliver`` is to be called, one thing after the other:
            a reply is read there. Without it, in the thread that takes replies from the line.
    """

    def __init__(
        self,
        deliver: Callable[[Reply], None],
        hand_over: Callable[[Callable[[], None]], None] = _at_once,
    ) -> None:
        self._deliver = deliver
        self._hand_over = hand_over
        self._worker: _Worker | None = None
        self._newest: Request | None = None
        self._change = threading.Condition()
        self._closed = False

    def start(self) -> None:
        """Start the process and the threads that talk with it, if they are not there yet."""
        if self._closed or self._worker is not None:
            return
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
        if self._worker is not None:
            self._worker.end()

    def _open(self) -> _Worker:
        worker = self._worker = _Worker()
        threading.Thread(target=self._receive_all, args=(worker,), daemon=True).start()
        return worker

    def _send_all(self) -> None:
        # Sending may wait for the other side to read, so it is never done by who asks.
        while True:
            with self._change:
                self._change.wait_for(lambda: self._closed or self._newest is not None)
                if self._closed:
                    return
                request, self._newest = self._newest, None
            assert request is not None
            try:
                worker = self._worker
                if worker is None or not worker.is_alive:
                    worker = self._open()
                worker.send(request)
            except Exception as fault:  # told on the screen; the next request is sent all the same
                told = Reply(request.revision, final=True, fault=str(fault))
                self._hand_over(partial(self._tell, told))

    def _receive_all(self, worker: _Worker) -> None:
        """Take what a process replies until it ends, or until a reply cannot be read."""
        while True:
            try:
                message = worker.receive()
            except Exception as fault:  # whatever it is: nobody else would notice
                worker.end()
                worker.hang_up()
                # Behind what it has said before.
                self._hand_over(partial(self._give_up, worker, fault))
                return
            self._hand_over(partial(self._read, worker, message))

    def _read(self, worker: _Worker, message: bytes) -> None:
        if worker.is_given_up:
            return
        try:
            reply = worker.read(message)
        except Exception as fault:  # whatever it is: nobody else would notice
            self._give_up(worker, fault)
        else:
            if reply is not None:
                self._tell(reply)

    def _give_up(self, worker: _Worker, fault: Exception) -> None:
        """Say why a process is asked nothing more, once, and stop it."""
        if worker.is_given_up:
            return
        from whatif.telling.in_words import no_reply_words

        # What comes after a reply that cannot be read belongs to nothing.
        worker.is_given_up = True
        worker.stop()
        self._tell(Reply(ANY_REVISION, final=True, fault=no_reply_words(fault)))

    def _tell(self, reply: Reply) -> None:
        if not self._closed:
            self._deliver(reply)


@contextlib.contextmanager
def _nothing_from_here() -> Iterator[None]:
    """What is started meanwhile imports nothing from the folder that the program works in.

    A study may lie beside files of any name, some of them a module's: a mail's attachments, a
    shared drive. Python would put that folder first of all; ``PYTHONSAFEPATH`` keeps it from that.
    """
    before = os.environ.get(_SAFE_PATH)
    os.environ[_SAFE_PATH] = "1"
    try:
        yield
    finally:
        if before is None:
            del os.environ[_SAFE_PATH]
        else:
            os.environ[_SAFE_PATH] = before


_SAFE_PATH = "PYTHONSAFEPATH"


class _Worker:
    """The process that calculates, and the line to it.

    Attributes:
        is_given_up: whether nothing that it has said counts any more.

    Only the thread that receives hangs up: a line closed under a thread that still reads from it
    leaves the line's number to the next process, whose replies that thread would take.
    """

    def __init__(self) -> None:
        context = multiprocessing.get_context("spawn")
        self._line, theirs = context.Pipe()
        self._process = context.Process(target=serve_line, args=(theirs,), daemon=True)
        self._receiver = Receiver()
        self._ended = False
        self.is_given_up = False
        self._sending = threading.Lock()
        # A screen puts something without a file number in the place of standard error, and
        # starting a process hands that number on.
        with contextlib.redirect_stderr(sys.__stderr__), _nothing_from_here():
            self._process.start()
        theirs.close()

    @property
    def is_alive(self) -> bool:
        """Whether it can still be asked."""
        return not self._ended and self._process.is_alive()

    def send(self, request: Request) -> None:
        """Hand a request over; raises ``OSError`` where the process has ended."""
        with self._sending:
            self._line.send(request)

    def receive(self) -> bytes:
        """Wait for a message; raises ``EOFError`` or ``OSError`` once the process ended."""
        return self._line.recv_bytes()

    def read(self, message: bytes) -> Reply | None:
        """The reply that a message completes, if it does; raises what its content does."""
        return self._receiver.take(ForkingPickler.loads(message))

    def stop(self) -> None:
        """Stop the process, which ends whoever waits for the line; may be called again."""
        self._ended = True
        self._process.terminate()

    def end(self) -> None:
        """Stop the process and wait until it has ended; may be called again."""
        self.stop()
        self._process.join(timeout=2)

    def hang_up(self) -> None:
        """Close the line of a process that has ended."""
        with self._sending:
            self._line.close()
