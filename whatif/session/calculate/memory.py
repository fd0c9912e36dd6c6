"""Runs remembered by content: an equal cell over equal weeks is not run twice."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable

from whatif.cell.model import WEEK, Cell
from whatif.cell.run import Run
from whatif.cell.tally import Tally

Key = tuple[Cell, int, int]


class Memory:
    """Simulates, week by week, and remembers the latest ``most`` results.

    Args:
        most: how many results are kept.
        between_weeks: called before every simulated week; it may raise to give the run up.
    """

    def __init__(self, most: int = 2000, between_weeks: Callable[[], None] = lambda: None) -> None:
        self._kept: OrderedDict[Key, Tally] = OrderedDict()
        self._most = most
        self._between_weeks = between_weeks
        self.ran = 0

    def __call__(self, cell: Cell, warm_up: int, weeks: int) -> Tally:
        """What the cell's window counts; see :data:`whatif.answers.compare.Simulate`."""
        key = (cell, warm_up, weeks)
        found = self._kept.get(key)
        if found is None:
            found = self._run(cell, warm_up, weeks)
            self._kept[key] = found
            if len(self._kept) > self._most:
                self._kept.popitem(last=False)
        self._kept.move_to_end(key)
        return found

    def pause(self) -> None:
        """Let whoever waits be heard; it may raise to give the work up."""
        self._between_weeks()

    def _run(self, cell: Cell, warm_up: int, weeks: int) -> Tally:
        run = Run(cell)
        before = run.tally()
        for week in range(1, warm_up + weeks + 1):
            self._between_weeks()
            run.advance(week * WEEK)
            if week == warm_up:
                before = run.tally()
        self.ran += 1
        return run.tally().since(before)
