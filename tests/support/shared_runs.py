"""Cells are simulated once for all tests: what a run counts is known by its cell and its week.

Only where the program remembers runs too (:class:`whatif.session.calculate.memory.Memory`); the
tests of the cell run it themselves. A memory still asks for a run, and between its weeks gives it
up, as often as it would where no weeks repeat.
"""

from __future__ import annotations

from remembered import remembered

from whatif.cell.model import WEEK, Cell
from whatif.cell.tally import Tally
from whatif.cell.weeks import Weeks

_counted: dict[tuple[Cell, int], Tally] = {}


class SharedWeeks:
    """Stands in for weeks; it lets its cell work only where nobody has counted that yet."""

    held = 0
    rules_part = True

    def __init__(self, cell: Cell) -> None:
        self._cell = cell
        self._week = 0
        self._weeks: Weeks | None = None

    def knows(self, week: int) -> bool:
        return week == self._week

    def has_passed(self, week: int) -> bool:
        return week < self._week

    def run_on(self, seconds: int) -> bool:
        self.advance()
        return True

    def advance(self) -> None:
        self._week += 1

    def tally(self, week: int) -> Tally:
        key = (self._cell, week)
        if key not in _counted:
            _counted[key] = remembered(f"{week * WEEK} s of {self._cell!r}", self._count)
        return _counted[key]

    def _count(self) -> Tally:
        if self._weeks is None:
            self._weeks = Weeks(self._cell)
        while not self._weeks.knows(self._week):
            self._weeks.advance()
        return self._weeks.tally(self._week)
