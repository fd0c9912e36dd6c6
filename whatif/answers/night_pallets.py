"""The fewest pallets with which a machine group lasts from one shift to the next.

Looked for upwards, one machine group at a time and the others left as they are, and without stops,
which no number of pallets helps against. A number lasts where every machine of the group does in
every such night of the weeks measured.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import ceil

from whatif.answers.night import GroupNight, NightsAfter, Told, after, together
from whatif.answers.night_watch import Gap, gaps, watch
from whatif.cell.calendar import Calendar
from whatif.cell.look import Why
from whatif.cell.model import HOUR, Cell
from whatif.plan.model import Plan

MOST = 60
"""Pallets of a machine beyond which none are tried."""

STEPS = 5
"""So many pallets more that bring less than one more loaded show that more stay empty."""


@dataclass(frozen=True, slots=True)
class Fewest:
    """The answer for one machine group and like nights.

    Attributes:
        label: what the nights follow.
        days: of 0 for Monday, on which the shifts they follow start.
        now: pallets of each machine in the scenario.
        fewest: pallets of each machine that last, None where no number tried does.
        tried: the most that were tried; ``now`` where arithmetic alone gives the answer.
        ends: where none lasts, what ends most of those nights then, otherwise ``runs``.
        loaded: pallets of a machine loaded when the people go, with ``tried``, on average.
        lack: why more stay empty, "people" or "fixtures"; "" where they do not.
        lower_bound: pallets that the longest loads would take to last, by arithmetic.
    """

    group: str
    label: str
    days: tuple[int, ...]
    now: int
    fewest: int | None
    tried: int
    ends: str
    loaded: float
    lack: str
    lower_bound: int


def fewest(plan: Plan, told: Told) -> tuple[Fewest, ...]:
    """Look for the fewest pallets of every machine group, for all nights that are alike."""
    if plan.cell is None or not plan.cell.parts:
        return ()
    cell = replace(plan.cell, stops=())
    week = gaps(Calendar(cell))
    kinds = together(week)
    found = []
    of = len(plan.groups) * len(kinds)
    for place in range(len(plan.groups)):
        tries = _Tries(plan, cell, place, week, lambda: told(len(found), of))
        for like in kinds:
            found.append(_search(tries, like))
    return tuple(found)


class _Tries:
    """Runs of the cell with other numbers of pallets in one group, each made once."""

    def __init__(
        self, plan: Plan, cell: Cell, place: int, week: tuple[Gap, ...], pause: Callable[[], None]
    ) -> None:
        self.plan, self.cell, self.place, self.week = plan, cell, place, week
        self.group = plan.groups[place]
        self._pause = pause
        self._kept: dict[int, list[NightsAfter]] = {}

    def with_pallets(self, pallets: int, like: list[Gap]) -> tuple[str, GroupNight]:
        """What the nights follow, and the group in them."""
        if pallets not in self._kept:
            plan, cell = self._changed(pallets)
            seen = watch(cell, plan.warm_up, plan.weeks, self._pause)
            self._kept[pallets] = [
                after(plan, cell, kind, self.week, seen) for kind in together(self.week)
            ]
        one = self._kept[pallets][together(self.week).index(like)]
        return one.label, one.groups[self.place]

    def _changed(self, pallets: int) -> tuple[Plan, Cell]:
        change = self.group.pallet_change if pallets > 1 else 0
        groups = list(self.cell.groups)
        groups[self.place] = replace(groups[self.place], pallets=pallets, pallet_change=change)
        plans = list(self.plan.groups)
        plans[self.place] = replace(plans[self.place], pallets=pallets)
        plan = replace(self.plan, groups=tuple(plans))
        return plan, replace(self.cell, groups=tuple(groups))

    def at_least(self, like: list[Gap]) -> int:
        """Pallets below which even the longest loads are cut before the next shift starts."""
        cell = self.cell
        longest = max(
            making.cycle * making.per_pallet
            for part in cell.parts
            if (making := part.making[self.place]) is not None
        )
        a_pallet = longest + self.group.pallet_change + cell.load_extra
        # Where pieces may be begun for less than the night, the search ends there.
        time = like[0].length if cell.after_shift is None else min(like[0].length, cell.after_shift)
        return ceil((time - cell.groups[self.place].warm_up) / a_pallet)

    @property
    def makes_something(self) -> bool:
        """Whether any part is made on the group."""
        return any(part.making[self.place] is not None for part in self.cell.parts)


def _search(tries: _Tries, like: list[Gap]) -> Fewest:
    now = tries.group.pallets
    text, group = tries.with_pallets(now, like)
    bound = tries.at_least(like) if tries.makes_something else 1
    # A machine with one table may do without a second; one with pallets keeps two at least.
    first = max(1 if now == 1 else 2, bound)
    lack, loaded, tried = "", [], now

    def result(fewest: int | None) -> Fewest:
        ends = next((end for end in group.ends if end != Why.RUNS), Why.RUNS.value)
        ends = Why.RUNS.value if fewest is not None else ends
        days = tuple(gap.day for gap in like)
        return Fewest(
            tries.group.id, text, days, now, fewest, tried, ends, group.loaded, lack, bound
        )

    if not tries.makes_something:
        return result(None)
    for tried in range(first, MOST + 1):
        text, group = tries.with_pallets(tried, like)
        if group.lasting == 100:
            return result(tried)
        if set(group.ends) <= {Why.RUNS, Why.LIMIT}:
            # More pallets do not move the hours allowed.
            return result(None)
        loaded.append(group.loaded)
        if len(loaded) > STEPS and loaded[-1] - loaded[-1 - STEPS] < 1:
            lack = "fixtures" if group.resting > tried - group.loaded - group.resting else "people"
            return result(None)
    return result(None)
