"""Cells are simulated once for all tests: what a run counts is known by its cell and its second.

Only where the program remembers runs too (:class:`whatif.session.calculate.memory.Memory`); the
tests of the cell run it themselves. A memory still asks for a run, and between its weeks gives it
up, as often as it would.
"""

from __future__ import annotations

from remembered import remembered

from whatif.cell.model import Cell
from whatif.cell.run import Run
from whatif.cell.tally import Tally

_counted: dict[tuple[Cell, int], Tally] = {}


class SharedRun:
    """Stands in for a run; it lets its cell work only where nobody has counted that yet."""

    def __init__(self, cell: Cell) -> None:
        self._cell = cell
        self._second = 0
        self._run: Run | None = None

    def advance(self, until: int) -> None:
        self._second = until

    def tally(self) -> Tally:
        key = (self._cell, self._second)
        if key not in _counted:
            _counted[key] = remembered(f"{self._second} s of {self._cell!r}", self._count)
        return _counted[key]

    def _count(self) -> Tally:
        if self._run is None:
            self._run = Run(self._cell)
        self._run.advance(self._second)
        return self._run.tally()
