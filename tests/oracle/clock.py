"""Time: a simpy environment in whole seconds, alarms in it, and work that may be paused."""

from __future__ import annotations

from collections.abc import Generator

import simpy
from simpy.events import Event, Process


class Clock:
    """The one clock of a run. `rung` says that some work ended since it was last lowered."""

    def __init__(self) -> None:
        self.env = simpy.Environment()
        self.now = 0  # the present second
        self.rung = False
        self._alarms: set[int] = set()

    def alarm(self, second: int) -> None:
        """Make sure that the cell is looked at in this second."""
        if second >= self.now and second not in self._alarms:
            self._alarms.add(second)
            self.env.timeout(second - self.now)

    def next_second(self) -> float:
        """The second of the next event; infinity where there is none."""
        return self.env.peek()

    def let_happen(self, second: int) -> None:
        """It is this second: let all its events happen."""
        self.now = second
        while self.env.peek() == second:
            self.env.step()


class Task:
    """So many seconds of work, which run down only while the task runs."""

    def __init__(self, clock: Clock, seconds: int) -> None:
        self.clock = clock
        self.left = seconds
        self.running = False
        self.done = False
        self._since = 0
        self._process: Process | None = None

    def run(self, wanted: bool = True) -> None:
        """Let it run, or pause it where it is not wanted."""
        if wanted and not self.running and not self.done:
            self.running = True
            self._since = self.clock.now
            self._process = self.clock.env.process(self._run_down())
        elif not wanted:
            self.pause()

    def pause(self) -> None:
        """Keep what is left for later."""
        if self.running and self._process is not None:
            self.running = False
            self.left -= self.clock.now - self._since
            self._process.interrupt()

    def _run_down(self) -> Generator[Event, None, None]:
        try:
            yield self.clock.env.timeout(self.left)
        except simpy.Interrupt:
            return
        self.left = 0
        self.running = False
        self.done = True
        self.clock.rung = True
