"""Runs remembered by content: no week of an equal cell is run twice."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from itertools import islice
from typing import Any, Protocol, TypeVar

from whatif.answers.simulate import Task
from whatif.cell.model import Cell
from whatif.cell.tally import Tally
from whatif.cell.weeks import Weeks

T = TypeVar("T")
R = TypeVar("R")


@dataclass(slots=True)
class Known:
    """What a cell has counted: up to borders between weeks, and in windows of weeks."""

    borders: dict[int, Tally] = field(default_factory=dict)
    windows: dict[tuple[int, int], Tally] = field(default_factory=dict)


class Kept(Protocol):
    """Where what cells have counted and tasks have come to outlives the program."""

    def counted(self, cell: Cell) -> dict[int, Tally]:
        """What a cell has counted from its first second up to the ends of some weeks."""

    def keep(self, counted: Mapping[Cell, Mapping[int, Tally]]) -> None:
        """Keep what cells have counted, all that is known of each."""

    def result(self, task: Task[R]) -> R | None:
        """What a task has come to; None where that is not known."""

    def keep_results(self, found: Iterable[tuple[Task[Any], Any]]) -> None:
        """Keep what tasks have come to."""


class Memory:
    """Simulates, week by week, and remembers the latest ``most`` cells.

    A run of one of the latest ``going`` cells goes on where more weeks of it are asked for;
    ``ran`` counts those that were begun.

    Args:
        between_weeks: called before every simulated week; it may raise to give the run up.
        kept: where runs may be known from; :meth:`keep` adds to it.
    """

    def __init__(
        self,
        most: int = 2000,
        between_weeks: Callable[[], None] = lambda: None,
        going: int = 512,
        kept: Kept | None = None,
    ) -> None:
        self._known: OrderedDict[Cell, Known] = OrderedDict()
        self._going: OrderedDict[Cell, Weeks] = OrderedDict()
        self._most, self._most_going = most, going
        self._between_weeks = between_weeks
        self._kept = kept
        self._unkept: OrderedDict[Cell, Known] = OrderedDict()
        self.ran = 0

    def __call__(self, cell: Cell, warm_up: int, weeks: int) -> Tally:
        """What the cell's window counts; see :data:`whatif.answers.simulate.Simulate`."""
        known = self._of(cell)
        found = known.windows.get((warm_up, weeks))
        if found is None:
            self._run(cell, known, sorted({warm_up, warm_up + weeks} - set(known.borders)))
            found = known.borders[warm_up + weeks].since(known.borders[warm_up])
            known.windows[warm_up, weeks] = found
        _keep(self._known, cell, known, self._most)
        return found

    def counted(self, cell: Cell, borders: Iterable[int]) -> dict[int, Tally]:
        """What a cell has counted from its first second up to the ends of some weeks."""
        known = self._of(cell)
        wanted = sorted(borders)
        self._run(cell, known, [border for border in wanted if border not in known.borders])
        _keep(self._known, cell, known, self._most)
        return {border: known.borders[border] for border in wanted}

    def learn(self, cell: Cell, counted: Mapping[int, Tally]) -> None:
        """Remember what a cell has counted that was run elsewhere, and is kept there."""
        known = self._of(cell)
        known.borders.update(counted)
        _keep(self._known, cell, known, self._most)

    def lacking(self, cell: Cell, borders: Iterable[int]) -> list[int]:
        """The ends of weeks up to which it is not known what a cell has counted, in order."""
        known = self._of(cell)
        return sorted(set(borders) - known.borders.keys())

    def pause(self) -> None:
        """Let whoever waits be heard; it may raise to give the work up."""
        self._between_weeks()

    def keep(self, most: int | None = None) -> bool:
        """Have what is new outlive the program, so many cells at most; whether that was all."""
        part = dict(islice(self._unkept.items(), most))
        if self._kept is not None and part:
            self._kept.keep({cell: known.borders for cell, known in part.items()})
        for cell in part:
            del self._unkept[cell]
        return not self._unkept

    def _of(self, cell: Cell) -> Known:
        """What is known of a cell, from an earlier program maybe."""
        known = self._known.get(cell)
        if known is None:
            known = Known()
            if self._kept is not None:
                known.borders = self._kept.counted(cell)
                _keep(self._known, cell, known, self._most)
        return known

    def _is_new(self, cell: Cell, known: Known) -> None:
        if self._kept is not None:
            _keep(self._unkept, cell, known, self._most)

    def _run(self, cell: Cell, known: Known, borders: list[int]) -> None:
        """Count up to some borders, in order: the week at which each begins."""
        if not borders:
            return
        # A run that is given up is not put back.
        weeks = self._going.pop(cell, None)
        begins = weeks is None or weeks.has_passed(borders[0])
        if weeks is None or begins:
            weeks = Weeks(cell)
        for border in borders:
            while not weeks.knows(border):
                self._between_weeks()
                weeks.advance()
            known.borders[border] = weeks.tally(border)
        self._is_new(cell, known)
        self.ran += begins
        _keep(self._going, cell, weeks, self._most_going)


def _keep(kept: OrderedDict[Cell, T], cell: Cell, what: T, most: int) -> None:
    kept[cell] = what
    kept.move_to_end(cell)
    if len(kept) > most:
        kept.popitem(last=False)
