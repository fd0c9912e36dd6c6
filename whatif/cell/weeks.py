"""A run week by week that runs no week twice: where weeks repeat they are counted and not run.

The counts at a border of weeks are those of the run in full, to the last second and piece.
"""

from __future__ import annotations

from typing import Final

from whatif.cell.model import WEEK, Cell
from whatif.cell.repeat import Drift, comes_again, drift_of, glance_at, may_repeat, print_of
from whatif.cell.run import Run
from whatif.cell.tally import Tally

LOOKED_AT: Final = 104
"""Borders of weeks that are held against each other; a cell that has not repeated by then is run
in full from there on."""


class Weeks:
    """The weeks of a cell, as many as are asked for.

    Most cells never repeat. So borders are glanced at, until two of them look alike, and only from
    then on looked at closely.

    Attributes:
        week: weeks run so far.
        rules_part: whether what is counted may hang on the rule by which orders are taken: a cell
            with the other one, and alike in all else, has counted the same as long as it does not.
        repeats: (first, length): from the border after ``first`` weeks on, each ``length`` weeks
            are as those before; None as long as that is not known.
    """

    def __init__(self, cell: Cell) -> None:
        self.week = 0
        self.rules_part = False
        self.repeats: tuple[int, int] | None = None
        self._run: Run | None = Run(cell)
        self._looks = may_repeat(cell)
        self._glances: set[int] = set()
        self._looks_closely = False
        self._seen: dict[bytes, list[int]] = {}
        # Of all borders from the first one that was looked at closely.
        self._first = 1
        self._drifts: list[Drift] = []
        self._tallies: list[Tally] = []

    @property
    def held(self) -> int:
        """Borders of which the counts are held."""
        return len(self._tallies)

    def knows(self, week: int) -> bool:
        """Whether the counts up to a border can be told without another week run."""
        if self.repeats is None:
            return week == self.week or self._first <= week < self._first + len(self._tallies)
        return week >= self._first

    def has_passed(self, week: int) -> bool:
        """Whether the counts up to a border are those of an earlier week and no longer known."""
        return week < self.week and not self.knows(week)

    def advance(self) -> None:
        """Run one more week; none where weeks are known to repeat."""
        self.run_on(WEEK)

    def run_on(self, seconds: int) -> bool:
        """Run so much more of the next week, or what is left of it; whether it is over then.

        Nothing is counted for whoever asks before it is over.
        """
        run = self._run
        if run is None:
            return True
        border = (self.week + 1) * WEEK
        until = min(border, run.now + seconds)
        run.advance(until)
        if until < border:
            return False
        self.week += 1
        self.rules_part = run.floor.book.rules_part
        if self._looks:
            self._look(run)
        return True

    def tally(self, week: int) -> Tally:
        """What is counted up to the border after so many weeks, which is known."""
        if self._first <= week < self._first + len(self._tallies):
            return self._tallies[week - self._first]
        if self.repeats is None or self._run is not None:
            assert self._run is not None
            assert week == self.week
            return self._run.tally()
        first, length = self.repeats
        times, more = divmod(week - first, length)
        begin = first - self._first
        again = self._tallies[-1].since(self._tallies[begin])
        return self._tallies[begin + more].and_again(again, times)

    def _look(self, run: Run) -> None:
        """Whether the floor has stood like this at a border before."""
        if self.week > LOOKED_AT:
            self._looks = False
            self._glances, self._seen, self._drifts, self._tallies = set(), {}, [], []
            return
        if not self._looks_closely:
            glance = glance_at(run.floor)
            self._looks_closely = glance in self._glances
            self._glances.add(glance)
        stands = print_of(run.floor) if self._looks_closely else None
        if stands is None:
            self._first = self.week + 1
            return
        place = len(self._drifts)
        self._drifts.append(drift_of(run.floor))
        self._tallies.append(run.tally())
        alike = self._seen.setdefault(stands, [])
        for earlier in reversed(alike):
            if comes_again(run.floor, self._drifts[earlier:]):
                # Nothing more need be run.
                self.repeats = (self._first + earlier, place - earlier)
                self._looks, self._run = False, None
                self._glances, self._seen, self._drifts = set(), {}, []
                return
        alike.append(place)
