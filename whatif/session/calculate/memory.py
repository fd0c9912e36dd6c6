"""Runs remembered by content: no week of an equal cell is run twice."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from itertools import islice
from time import monotonic
from typing import Any, Protocol, TypeVar

from whatif.answers.simulate import Task
from whatif.cell.calendar import MODES
from whatif.cell.look import Why
from whatif.cell.may_not import ASKED
from whatif.cell.model import Cell
from whatif.cell.states import STATES
from whatif.cell.tally import Tally
from whatif.cell.weeks import Weeks
from whatif.session.calculate.latest import Latest

ROOM = 64_000_000
"""Bytes that what is known of cells may take, and again the runs that may go on, about."""

_AT_FIRST = 3600
"""Seconds of a week that are run before it is known how long they take."""

_A_MOMENT = 0.05
"""Seconds after which whoever waits is heard."""

_MORE = 16
"""So many times more of a week is run where a part of it takes no time."""

_COUNT, _RUN = 36, 5
"""Bytes of one count; and how many times as much as its counts a run holds."""
R = TypeVar("R")


@dataclass(slots=True)
class Known:
    """What a cell has counted: up to borders between weeks, and in windows of weeks.

    Attributes:
        under_both_rules: borders up to which a cell that is alike but for the rule by which orders
            are taken has counted the same.
    """

    borders: dict[int, Tally] = field(default_factory=dict)
    windows: dict[tuple[int, int], Tally] = field(default_factory=dict)
    under_both_rules: set[int] = field(default_factory=set)


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
    """Simulates, week by week, and remembers the latest ``most`` cells, fewer of large ones.

    A run of one of the latest ``going`` cells goes on where more weeks of it are asked for;
    ``ran`` counts those that were begun. Both take no more than :data:`ROOM`, about.

    Args:
        between_weeks: called before every simulated week; it may raise to give the run up.
        within_week: called for every run that is asked for, and some times a second where a week
            takes long; it may raise likewise.
        kept: where runs may be known from; :meth:`keep` adds to it.
    """

    def __init__(
        self,
        most: int = 2000,
        between_weeks: Callable[[], None] = lambda: None,
        going: int = 512,
        kept: Kept | None = None,
        within_week: Callable[[], None] = lambda: None,
    ) -> None:
        self._known: Latest[Cell, Known] = Latest(most, ROOM)
        self._going: Latest[Cell, Weeks] = Latest(going, ROOM)
        self._between_weeks = between_weeks
        self._within_week = within_week
        self._kept = kept
        self._unkept: OrderedDict[Cell, Known] = OrderedDict()
        self._most = most
        self.ran = 0

    def __call__(self, cell: Cell, warm_up: int, weeks: int) -> Tally:
        """What the cell's window counts; see :data:`whatif.answers.simulate.Simulate`."""
        self._within_week()
        known = self._of(cell)
        found = known.windows.get((warm_up, weeks))
        if found is None:
            self._run(cell, known, sorted({warm_up, warm_up + weeks} - set(known.borders)))
            found = known.borders[warm_up + weeks].since(known.borders[warm_up])
            known.windows[warm_up, weeks] = found
        self._remember(cell, known)
        return found

    def counted(self, cell: Cell, borders: Iterable[int]) -> dict[int, Tally]:
        """What a cell has counted from its first second up to the ends of some weeks."""
        known = self._of(cell)
        wanted = sorted(borders)
        self._run(cell, known, [border for border in wanted if border not in known.borders])
        self._remember(cell, known)
        return {border: known.borders[border] for border in wanted}

    def learn(self, cell: Cell, counted: Mapping[int, Tally]) -> None:
        """Remember what a cell has counted that was run elsewhere, and is kept there."""
        known = self._of(cell)
        known.borders.update(counted)
        self._remember(cell, known)

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
                self._remember(cell, known)
        return known

    def _remember(self, cell: Cell, known: Known) -> None:
        held = len(known.borders) + len(known.windows)
        self._known.keep(cell, known, tally_bytes(cell) * (1 + held))

    def _is_new(self, cell: Cell, known: Known) -> None:
        if self._kept is not None:
            self._unkept[cell] = known
            self._unkept.move_to_end(cell)
            if len(self._unkept) > self._most:
                self._unkept.popitem(last=False)

    def _run(self, cell: Cell, known: Known, borders: list[int]) -> None:
        """Count up to some borders, in order: the week at which each begins."""
        borders = self._by_the_other_rule(cell, known, borders)
        if not borders:
            return
        # A run that is given up is not put back.
        weeks = self._going.pop(cell)
        begins = weeks is None or weeks.has_passed(borders[0])
        if weeks is None or begins:
            weeks = Weeks(cell)
        seconds = _AT_FIRST
        for border in borders:
            while not weeks.knows(border):
                self._between_weeks()
                seconds = self._run_week(weeks, seconds)
            known.borders[border] = weeks.tally(border)
        self._is_new(cell, known)
        if not weeks.rules_part:
            known.under_both_rules.update(borders)
        self.ran += begins
        self._going.keep(cell, weeks, tally_bytes(cell) * (_RUN + weeks.held))

    def _run_week(self, weeks: Weeks, seconds: int) -> int:
        """Run a week, in parts of so many seconds at first; in how many they take a moment.

        A cell may be small and its week hold millions of stops: whoever asks for something else, or
        ends the program, is heard in it.
        """
        began = monotonic()
        while not weeks.run_on(seconds):
            took = monotonic() - began
            if took < _A_MOMENT / 2:
                seconds *= _MORE
            elif took > _A_MOMENT * 2:
                seconds = max(1, int(seconds * _A_MOMENT / took))
            self._within_week()
            began = monotonic()
        return seconds

    def _by_the_other_rule(self, cell: Cell, known: Known, borders: list[int]) -> list[int]:
        """Take what the cell with the other rule counted, where that is the same; what is left."""
        if borders:
            other = self._known.get(replace(cell, keep_setup=not cell.keep_setup))
            if other is not None:
                alike = other.under_both_rules.intersection(borders)
                known.borders |= {border: other.borders[border] for border in alike}
                known.under_both_rules |= alike
                borders = [border for border in borders if border not in alike]
                if alike:
                    self._is_new(cell, known)
        return borders


def tally_bytes(cell: Cell) -> int:
    """What the counts of a cell take in memory, about."""
    machines = sum(group.count for group in cell.groups)
    people = sum(shift.people for shift in cell.shifts)
    by_machine = len(MODES) * len(STATES) + len(cell.parts) + 2 * (len(Why) + len(ASKED))
    counts = machines * by_machine + 8 * people + 3 * len(cell.parts) + 5 * len(cell.orders)
    return _COUNT * counts + 1000
