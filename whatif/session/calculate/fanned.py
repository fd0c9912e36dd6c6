"""A memory of runs that has a pool of processes work ahead of it.

with Pool() as pool:
    memory = Fanned(pool, between_weeks=progress.week)
    found = compare_wholly(checked, memory, memory.pause)
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterable, Iterator
from contextlib import contextmanager
from multiprocessing.connection import Connection
from typing import TypeVar

from typing_extensions import override

from whatif.answers.simulate import Pause, Simulate, Task, WindowAsked
from whatif.cell.model import Cell
from whatif.cell.tally import Tally
from whatif.records import dataclass
from whatif.session.calculate.memory import Kept, Known, Memory
from whatif.session.calculate.pool import Finished, Pool
from whatif.session.calculate.remembering import Remembering, key_of, latest

R = TypeVar("R")


@dataclass(frozen=True, slots=True)
class CountedUpTo(Task[dict[int, Tally]]):
    """What a cell has counted from its first second up to the ends of some weeks."""

    cell: Cell
    borders: tuple[int, ...]

    @override
    def work_out(self, simulate: Simulate, pause: Pause) -> dict[int, Tally]:
        """Counted in one run, by a worker's memory."""
        assert isinstance(simulate, Memory)
        return simulate.counted(self.cell, self.borders)


class Fanned(Remembering):
    """Remembers runs and tasks, and has those that are said ahead done by a pool's processes.

    What nobody said ahead is done here, and so is everything where the pool has no workers.

    Args:
        between_weeks: called for every simulated week, and where something can be heard on one
            of the lines ``hears`` while the pool is waited for; it may raise to give up.
        kept, within_week: as of :class:`Memory`.
    """

    def __init__(
        self,
        pool: Pool,
        *,
        between_weeks: Callable[[], None] = lambda: None,
        hears: tuple[Connection, ...] = (),
        kept: Kept | None = None,
        within_week: Callable[[], None] = lambda: None,
    ) -> None:
        super().__init__(between_weeks=between_weeks, kept=kept, within_week=within_week)
        self._pool, self._hears = pool, hears
        self._runs: dict[int, CountedUpTo] = {}
        """Runs that the pool has to do, by their numbers."""
        self._by_cell: dict[Cell, set[int]] = {}
        """The same numbers by cell."""
        self._tasks: dict[int, Hashable] = {}
        """Keys of the other tasks that the pool has to do."""
        self._by_key: dict[Hashable, int] = {}
        self._homes: OrderedDict[Cell, int] = OrderedDict()
        """Which worker ran a cell last, and may go on with its run."""
        self._alone = False
        """Whether nothing is to be done by others."""

    # -- what is said ahead ------------------------------------------------------------

    @property
    @override
    def workers(self) -> int:
        return 0 if self._alone else self._pool.workers

    @override
    @contextmanager
    def here(self) -> Iterator[None]:
        """What is asked for meanwhile is done here: nothing travels, and no other is waited for.

        Others give way to whatever else runs on the machine. What was begun here goes on here.
        """
        self._alone = True
        try:
            yield
        finally:
            self._alone = False

    @override
    def ahead(self, windows: Iterable[WindowAsked]) -> None:
        if not self.workers:
            return
        wanted: dict[Cell, set[int]] = {}
        for cell, warm_up, weeks in windows:
            # Drawing and looking up hundreds of them takes longer than a key may wait.
            self._within_week()
            wanted.setdefault(cell, set()).update((warm_up, warm_up + weeks))
        for cell, borders in wanted.items():
            self._within_week()
            if self._going.get(cell) is not None:
                continue  # its run goes on here
            for number in self._by_cell.get(cell, ()):
                borders -= set(self._runs[number].borders)
            lacking = self.lacking(cell, borders)
            if lacking:
                run = CountedUpTo(cell, tuple(lacking))
                number = self._pool.put(run, self._homes.get(cell))
                self._runs[number] = run
                self._by_cell.setdefault(cell, set()).add(number)

    @override
    def tasks_ahead(self, tasks: Iterable[Task[R]]) -> None:
        if not self.workers:
            return
        for task in tasks:
            key = key_of(task)
            if key not in self._by_key and not self._knows(key, task):
                number = self._pool.put(task)
                self._tasks[number], self._by_key[key] = key, number

    @override
    def enough(self, tasks: Iterable[Task[R]]) -> None:
        numbers = {self._by_key[key] for key in map(key_of, tasks) if key in self._by_key}
        for number in self._pool.take_back(numbers):
            self._forget(number)

    def take_back(self, *, stop: bool) -> None:
        """What was said ahead will not be asked for; with ``stop`` what was begun is given up."""
        for number in self._pool.clear(stop=stop):
            self._forget(number)

    # -- what is asked for -------------------------------------------------------------

    @override
    def done(self, task: Task[R], pause: Pause) -> R:
        key = key_of(task)
        while key in self._by_key:
            self._wait()
        if isinstance(raised := self._results.get(key), _Raised):
            del self._results[key]
            raise raised.fault
        return super().done(task, pause)

    @override
    def _run(self, cell: Cell, known: Known, borders: list[int]) -> None:
        # What arrives is remembered there.
        self._remember(cell, known)
        while self._by_cell.get(cell) and self.lacking(cell, borders):
            self._wait()
        super()._run(cell, known, self.lacking(cell, borders))

    def _wait(self) -> None:
        """Wait until the pool has done something, or something can be heard."""
        weeks = 0
        for each in self._pool.finished(self._hears):
            self._take(each)
            weeks += each.weeks
        for _ in range(max(1, weeks)):
            self.pause()

    def _take(self, finished: Finished) -> None:
        """Remember what has arrived; what was lost is done here once it is asked for."""
        run, key = self._forget(finished.number)
        if run is not None and not (finished.lost or finished.failed):
            self.ran += run.cell not in self._homes
            self.learn(run.cell, finished.result)
            self._homes[run.cell] = finished.worker
            latest(self._homes, run.cell)
        elif key is not None and not finished.lost:
            self._results[key] = _Raised(finished.result) if finished.failed else finished.result

    def _forget(self, number: int) -> tuple[CountedUpTo | None, Hashable]:
        """What a number stood for, which is not to come any more."""
        run, key = self._runs.pop(number, None), self._tasks.pop(number, None)
        if run is not None:
            numbers = self._by_cell[run.cell]
            numbers.discard(number)
            if not numbers:
                del self._by_cell[run.cell]
        if key is not None:
            del self._by_key[key]
        return run, key


@dataclass(frozen=True, slots=True)
class _Raised:
    """That a task raised something, which is raised again where it is asked for."""

    fault: BaseException
