"""Processes that do tasks for the one that answers, as many as there are cores.

They are forked at the first task, so that they have all its modules and cost hardly any time or
memory, and live until it closes the pool or ends: each waits on a line of its own, whose other end
is gone then. Between weeks they look at that line, so that nothing is worked at for longer than a
week's simulation that nobody wants any more. Where processes cannot be forked, or there is one
core, nobody is there to work, and who asks does everything.

A worker is a little less urgent than the screen, so that keys never wait for it.
"""

from __future__ import annotations

import contextlib
import gc
import os
import pickle
import signal
import time
from collections import deque
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import field
from multiprocessing import Pipe
from multiprocessing.connection import Connection, wait
from typing import Any, NoReturn

from whatif.answers.simulate import Task
from whatif.records import dataclass
from whatif.session.calculate.hearing import hearing
from whatif.session.calculate.memory import Kept
from whatif.session.calculate.parent import end_with
from whatif.session.calculate.remembering import Remembering
from whatif.session.calculate.urgency import HELPING, give_way

_MOST = 32
"""Workers beyond which more would but fill the memory."""

_SHORT = 0.01
"""Seconds below which tasks are so short that the next ones are handed over before they end."""

_BESIDE = 3
"""So many short tasks more than the one at work."""

_FEW = 16
"""Cells that are kept at once by a worker whom nobody has given anything to do."""

_DEATHS = 2
"""A task at which so many workers have died is not given to another."""


def cores() -> int:
    """Cores that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def workers_wanted() -> int:
    """One a core; none where there is one core, or processes cannot be forked."""
    many = cores()
    return min(_MOST, many) if many > 1 and hasattr(os, "fork") else 0


@dataclass(frozen=True, slots=True)
class Finished:
    """A task that is done.

    Attributes:
        number: that :meth:`Pool.put` gave it.
        worker: the place of the one that did it.
        weeks: simulated for it.
        result: what it came to; the exception that it raised where ``failed``.
        lost: whether nobody could do it, so that who asks must.
    """

    number: int
    worker: int
    weeks: int
    result: Any
    failed: bool = False
    lost: bool = False


@dataclass(slots=True)
class _Queued:
    number: int
    packed: bytes
    home: int | None
    deaths: int = 0


@dataclass(slots=True, eq=False)
class _Hand:
    """A worker as it is seen from here: its process, the line to it, and what it has to do."""

    place: int
    process: int
    line: Connection
    given: dict[int, _Queued] = field(default_factory=dict)


class Pool:
    """Hands tasks to workers in the order in which they were put.

    Args:
        workers: how many; as many as there are cores where not given.
        kept: makes what a worker's memory knows runs from and keeps its own in, if anything.
    """

    def __init__(
        self, workers: int | None = None, kept: Callable[[], Kept | None] = lambda: None
    ) -> None:
        self.workers = workers_wanted() if workers is None else workers
        self._kept = kept
        self._hands: list[_Hand] = []
        self._queue: deque[_Queued] = deque()
        self._lost: list[Finished] = []
        self._number = 0
        self._seconds_each = 1.0
        self.begun = 0
        """Workers that have ever been started, those that took a dead one's place among them."""

    # -- tasks -------------------------------------------------------------------------

    def put(self, task: Task[Any], home: int | None = None) -> int:
        """Queue a task, and tell its number; ``home`` is the place of the worker that it is for."""
        self._number += 1
        packed = pickle.dumps((self._number, task), pickle.HIGHEST_PROTOCOL)
        self._queue.append(_Queued(self._number, packed, home))
        self._hand_out()
        return self._number

    def take_back(self, numbers: Collection[int]) -> frozenset[int]:
        """Take back those of some tasks that have been handed to nobody; which these are."""
        taken = frozenset(each.number for each in self._queue if each.number in numbers)
        self._queue = deque(each for each in self._queue if each.number not in taken)
        return taken

    def clear(self, *, stop: bool) -> frozenset[int]:
        """Take back what nobody has begun, and with ``stop`` all the rest; what was taken back."""
        taken = {queued.number for queued in self._queue}
        self._queue.clear()
        for hand in self._hands:
            unwanted = list(hand.given)[0 if stop else 1 :]
            if unwanted and self._send(hand, pickle.dumps(frozenset(unwanted))):
                for number in unwanted:
                    del hand.given[number]
            taken.update(unwanted)
        return frozenset(taken)

    def finished(
        self, heard: Sequence[Connection] = (), timeout: float | None = None
    ) -> list[Finished]:
        """Wait until something is done, or something can be heard on one of some lines."""
        self._hand_out()
        found, self._lost = self._lost, []
        by_line: dict[Any, _Hand] = {hand.line: hand for hand in self._hands}
        for ready in wait([*by_line, *heard], 0 if found else timeout):
            hand = by_line.get(ready)
            if hand is not None:
                found += self._received(hand)
        self._hand_out()
        return found

    def _received(self, hand: _Hand) -> list[Finished]:
        found = []
        try:
            while True:
                number, seconds, weeks, failed, result = pickle.loads(hand.line.recv_bytes())
                self._seconds_each = (self._seconds_each + seconds) / 2
                # What is not wanted any more may still arrive.
                if hand.given.pop(number, None) is not None:
                    found.append(Finished(number, hand.place, weeks, result, failed))
                if not hand.line.poll():
                    break
        except (EOFError, OSError):
            self._bury(hand)
        return found

    def _hand_out(self) -> None:
        """Give every worker that has nothing to do the first task that it may do."""
        if not self._queue:
            return
        while len(self._hands) < self.workers and self._start():
            pass
        if not self._hands:
            self._give_up()
        most = 1 + (_BESIDE if self._seconds_each < _SHORT else 0)
        for round_ in range(most):
            for hand in list(self._hands):
                if hand not in self._hands or len(hand.given) != round_:
                    continue
                if (queued := self._first_for(hand)) is not None:
                    hand.given[queued.number] = queued
                    self._send(hand, queued.packed)

    def _first_for(self, hand: _Hand) -> _Queued | None:
        places = {each.place for each in self._hands}
        for queued in self._queue:
            if queued.home == hand.place or queued.home not in places:
                self._queue.remove(queued)
                return queued
        return None

    def _give_up(self) -> None:
        """Nobody is there to do anything."""
        self._lost += [_lost(each) for each in self._queue]
        self._queue.clear()

    # -- workers -----------------------------------------------------------------------

    def _start(self) -> bool:
        """Start a worker; False where the system has no room for one."""
        ours, theirs = Pipe()
        taken = {hand.place for hand in self._hands}
        place = next(place for place in range(self.workers) if place not in taken)
        here = os.getpid()
        try:
            process = os.fork()
        except OSError:
            ours.close()
            theirs.close()
            self.workers = len(self._hands)
            return False
        if not process:
            _work(theirs, self._kept, here)
        theirs.close()
        self.begun += 1
        self._hands.append(_Hand(place, process, ours))
        return True

    def _send(self, hand: _Hand, message: bytes) -> bool:
        try:
            hand.line.send_bytes(message)
        except OSError:
            self._bury(hand)
            return False
        return True

    def _bury(self, hand: _Hand) -> None:
        """A worker is dead: another one does what it had to do."""
        if hand not in self._hands:
            return
        self._hands.remove(hand)
        hand.line.close()
        _reap(hand.process)
        for queued in reversed(hand.given.values()):
            queued.deaths += 1
            if queued.deaths < _DEATHS:
                self._queue.appendleft(queued)
            else:
                self._lost.append(_lost(queued))

    @property
    def processes(self) -> tuple[int, ...]:
        """The workers' process numbers."""
        return tuple(hand.process for hand in self._hands)

    def close(self) -> None:
        """End the workers, each after the week that it simulates; may be called again."""
        hands, self._hands = self._hands, []
        self._queue.clear()
        self.workers = 0
        for hand in hands:
            hand.line.close()
        for hand in hands:
            _reap(hand.process)

    def __enter__(self) -> Pool:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def _lost(queued: _Queued) -> Finished:
    return Finished(queued.number, -1, 0, None, lost=True)


_PATIENCE = 1.0
"""Seconds that a worker whose line is closed has to end by itself."""


def _reap(process: int) -> None:
    """Wait for a process to end, which is ended where it does not; none is left as a zombie."""
    until = time.monotonic() + _PATIENCE
    with contextlib.suppress(ChildProcessError):  # whoever else waits for children has it
        while os.waitpid(process, os.WNOHANG) == (0, 0):
            if time.monotonic() > until:
                os.kill(process, signal.SIGKILL)
                os.waitpid(process, 0)
                return
            time.sleep(0.002)


# -- the working side ----------------------------------------------------------------------


class _Unwanted(Exception):
    """What is being done is not wanted any more."""


class _Worker:
    """Does one task after the other, in a process of its own."""

    def __init__(self, line: Connection, kept: Kept | None) -> None:
        self._line = line
        self._waiting: deque[tuple[int, Task[Any]]] = deque()
        self._memory = Remembering(
            between_weeks=self._between_weeks, going=128, kept=kept, within_week=self._hear
        )
        self._at = self._weeks = 0
        self._is_heard = hearing(line)

    def serve(self) -> None:
        """Until the other end is closed, which raises."""
        while True:
            while not self._waiting:
                while not self._is_heard() and not self._memory.keep(_FEW):
                    pass
                self._listen()
            self._at, task = self._waiting.popleft()
            self._weeks = 0
            begun = time.monotonic()
            try:
                failed, result = False, task.work_out(self._memory, self._memory.pause)
            except _Unwanted:
                self._at = 0
                continue
            except _LineGone:
                raise
            except Exception as fault:  # raised again where it was asked for
                failed, result = True, fault
            number, self._at = self._at, 0
            self._reply(number, time.monotonic() - begun, failed, result)

    def keep(self) -> None:
        """Have what was run outlive the program."""
        self._memory.keep()

    def _reply(self, number: int, seconds: float, failed: bool, result: object) -> None:
        try:
            packed = pickle.dumps((number, seconds, self._weeks, failed, result), -1)
        except Exception as fault:  # whatever it is, somebody waits
            packed = pickle.dumps((number, seconds, self._weeks, True, TypeError(str(fault))), -1)
        self._line.send_bytes(packed)

    def _between_weeks(self) -> None:
        self._weeks += 1
        self._hear()

    def _hear(self) -> None:
        while self._is_heard():
            self._listen()

    def _listen(self) -> None:
        try:
            message = pickle.loads(self._line.recv_bytes())
        except (EOFError, OSError) as gone:
            raise _LineGone from gone
        if not isinstance(message, frozenset):
            self._waiting.append(message)
            return
        self._waiting = deque(each for each in self._waiting if each[0] not in message)
        if self._at in message:
            raise _Unwanted


class _LineGone(Exception):
    """Nobody is there any more to work for."""


def _work(line: Connection, kept: Callable[[], Kept | None], parent: int) -> NoReturn:
    """What a worker does from its birth to its end; it never goes back into its parent's work."""
    try:
        # An interrupt from the keyboard is the screen's to handle, not ours.
        signal.signal(signal.SIGINT, signal.SIG_IGN)
        signal.signal(signal.SIGTERM, signal.SIG_DFL)
        end_with(parent)
        # Lines of the others: who holds them would keep these from hearing that nobody is there.
        _close_all_but(line.fileno())
        gc.freeze()
        give_way(HELPING)
        with contextlib.suppress(_LineGone, OSError):
            worker = _Worker(line, kept())
            try:
                worker.serve()
            finally:
                worker.keep()
    finally:
        os._exit(0)


def _close_all_but(kept: int) -> None:
    try:
        opened: Iterable[int] = [int(name) for name in os.listdir("/dev/fd")]
    except OSError:
        opened = range(3, 256)
    for number in opened:
        if number > 2 and number != kept:
            with contextlib.suppress(OSError):
                os.close(number)
