"""The fewest pallets with which a machine group lasts the night (rule `nights.pallets`).

Looked for upwards, one machine group at a time and the others left as they are, and without stops,
which no number of pallets helps against, as if there were always work. A number lasts where every
machine of the group does in every such night of the weeks measured. What arithmetic alone excludes
is not tried.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import field, replace
from math import ceil

from whatif.answers.night.night import (
    GroupNight,
    nights_after,
    steps_of_a_run,
    together,
)
from whatif.answers.night.watch import Following, Gap, NightSeen, gaps
from whatif.answers.progress import Told
from whatif.answers.simulate import Simulate, done, enough, run_anew, tasks_ahead
from whatif.cell.calendar import Calendar
from whatif.cell.look import Why
from whatif.cell.model import HOUR, Cell, Making, Part
from whatif.plan.model import Plan
from whatif.records import dataclass

MOST = 60
"""Pallets of a machine beyond which none are tried."""

USUALLY = 90
"""Percent of the nights in which a machine lasts where it does "nine nights of ten"."""

STEPS = 5
"""So many pallets more that bring less than one more loaded show that more stay empty."""


@dataclass(frozen=True, slots=True)
class Fewest:
    """The answer for one machine group and like nights.

    Attributes:
        shifts, days: ids of those that the nights follow, and weekdays, 0 for Monday.
        count, now: machines of the group, and pallets of each in the scenario.
        fewest: pallets of each machine that last, None where no number tried does.
        why_not: "" where some number lasts; else "hours" (pieces may not be begun for so long),
            "fixtures" or "people" (more pallets would stay empty), "many" (more than are tried),
            "ends" (something else, see there) or "not_made".
        usual: the fewest of which each machine lasts nine nights of ten, ``fewest`` at most; None
            where none of the numbers tried does.
        at_least: pallets of a machine that even its longest loads would take.
        fixtures: of all part numbers together; None where a part has no limit.
        is_counted: whether nobody entered some of these, and one a machine is counted.
        tried: the most that were tried, None where arithmetic gives the answer.
        loaded: pallets of a machine that are loaded when the people go, with ``tried``.
        ends: what ends most of those nights with ``tried``; a :class:`Why` by its name.
        begun_for, length: hours after the shift in which pieces are begun (None: until the next),
            and hours until the next shift.
        begins: whether pieces may be begun after these shifts at all (`unattended.nights`).
        filling: where pieces may not be begun for so long, the same for the hours in which they
            may be: the fewest with which none of the nights ends before; None where that was not
            looked for, and where none may be begun.
    """

    group: str
    shifts: tuple[str, ...]
    days: tuple[int, ...]
    count: int
    now: int
    begun_for: float | None
    length: float
    at_least: int
    fixtures: int | None
    fewest: int | None = None
    why_not: str = ""
    usual: int | None = None
    tried: int | None = None
    loaded: float | None = None
    ends: str = Why.RUNS.value
    begins: bool = True
    filling: Fewest | None = None
    is_counted: bool = False


def fewest(
    plan: Plan, told: Told, simulate: Simulate = run_anew, *, filling: bool = False
) -> tuple[Fewest, ...]:
    """Look for the fewest pallets of every machine group, for all nights that are alike.

    With ``filling`` also for the hours that are allowed, where these end before the night.
    """
    if plan.cell is None:
        return ()
    cell = replace(plan.cell, stops=(), to_order=False, parts=_with_fixtures(plan, plan.cell))
    week = gaps(Calendar(cell), cell.nights)
    kinds = together(week)
    found: list[Fewest] = []
    work = _Work(told, steps_of_a_run(plan, week), simulate)
    for place in range(len(plan.groups)):
        work.groups_left = len(plan.groups) - 1 - place
        tries = _Tries(plan, cell, place, week, work)
        for like in kinds:
            found.append(_search(tries, like, filling=filling))
            enough(simulate, work.said)
            work.said.clear()
    return tuple(found)


def _with_fixtures(plan: Plan, cell: Cell) -> tuple[Part, ...]:
    """The parts, no fixture lacking where nobody has said how many there are.

    Pallets that come have fixtures then too; one for each machine stays where a part stands for
    several numbers (rule `fixtures.free`).
    """
    open_ = {part.id for part in plan.parts if part.fixtures is None}
    return tuple(
        replace(part, fixtures=None) if part.id in open_ and part.numbers == 1 else part
        for part in cell.parts
    )


@dataclass(slots=True)
class _Work:
    """How much of the search is done, and of how much as far as can be foreseen.

    Nobody knows how many blocks it takes until they have been tried: this one is foreseen, and one
    block for each machine group to come.
    """

    told: Told
    of_a_run: int
    simulate: Simulate
    said: list[Following] = field(default_factory=list)
    """Runs that were said ahead for the block."""
    groups_left: int = 0
    done: int = 0
    of: int = 0

    def foresee(self, runs: int) -> None:
        """So many runs are still to be made for this block."""
        self.of = self.done + (runs + self.groups_left * (STEPS + 1)) * self.of_a_run

    def follow(self, run: Following) -> list[NightSeen]:
        """The nights of a run, here or elsewhere."""
        done_then = self.done + self.of_a_run
        seen = done(self.simulate, run, self.pause)
        if self.done < done_then:
            self.done = done_then
            self.told(self.done, self.of)
        return seen

    def pause(self) -> None:
        """Tell it; called before every week of warm-up and every night."""
        self.told(self.done, self.of)
        self.done += 1


@dataclass(slots=True)
class _Tries:
    """Runs of a cell with other numbers of pallets in one group, each made once."""

    plan: Plan
    cell: Cell
    place: int
    week: tuple[Gap, ...]
    work: _Work
    _kept: dict[int, list[GroupNight]] = field(default_factory=dict)

    def with_pallets(self, pallets: int, like: list[Gap]) -> GroupNight:
        """The group in like nights."""
        kinds = together(self.week)
        if pallets not in self._kept:
            plan, cell = self._changed(pallets)
            seen = self.work.follow(Following(cell, plan.warm_up, plan.weeks))
            self._kept[pallets] = [
                nights_after(plan, cell, kind, self.week, seen).groups[self.place] for kind in kinds
            ]
        return self._kept[pallets][kinds.index(like)]

    def foresee(self, first: int, last: int) -> None:
        """These numbers are to be tried, those that have not been tried already."""
        # In the order in which they are: the last shows first whether more help at all.
        block = [first, last, *range(first + 1, last)]
        lacking = [n for n in dict.fromkeys(block) if n not in self._kept]
        self.work.foresee(len(lacking))
        plan = self.plan
        said = [Following(self._changed(n)[1], plan.warm_up, plan.weeks) for n in lacking]
        self.work.said += said
        tasks_ahead(self.work.simulate, said)

    def a_block_apart(self, like: list[Gap]) -> list[tuple[GroupNight, GroupNight]]:
        """The group in like nights with numbers of pallets tried already, a block apart."""
        tried = sorted(self._kept)
        return [
            (self.with_pallets(few, like), self.with_pallets(few + STEPS, like))
            for few in tried
            if few + STEPS in tried
        ]

    def _changed(self, pallets: int) -> tuple[Plan, Cell]:
        now = self.plan.groups[self.place]
        change = now.pallet_change if pallets > 1 else 0
        kinds, groups = list(self.cell.groups), list(self.plan.groups)
        kinds[self.place] = replace(kinds[self.place], pallets=pallets, pallet_change=change)
        groups[self.place] = replace(now, pallets=pallets)
        plan = replace(self.plan, groups=tuple(groups))
        return plan, replace(self.cell, groups=tuple(kinds))


def _search(tries: _Tries, like: list[Gap], *, filling: bool) -> Fewest:
    """Exclude by arithmetic, then try upwards."""
    cell, group = tries.cell, tries.plan.groups[tries.place]
    makings = [making for part in cell.parts if (making := part.making[tries.place]) is not None]
    shifts = tuple(cell.shifts[place].id for place in like[0].shifts)
    days = tuple(gap.day for gap in like)
    length = like[0].length
    after_shift = cell.after_shift if like[0].begins else 0
    found = Fewest(
        group=group.id,
        shifts=shifts,
        days=days,
        count=group.count,
        now=group.pallets,
        begun_for=None if after_shift is None else after_shift / HOUR,
        length=length / HOUR,
        at_least=_at_least(cell, tries.place, makings, length, group.pallet_change),
        fixtures=_fixtures(cell, tries.place),
        begins=like[0].begins,
        is_counted=any(part.fixtures is None for part in tries.plan.parts),
    )
    if not makings:
        return replace(found, why_not="not_made")
    if after_shift is not None and after_shift + _longest(cell, makings) < length:
        none = replace(found, why_not="hours", ends=Why.LIMIT.value)
        if not filling or not after_shift:
            return none
        allowed = _at_least(cell, tries.place, makings, after_shift, group.pallet_change)
        return replace(
            none,
            filling=_within(
                replace(found, at_least=allowed), tries, like, _fills(after_shift / HOUR)
            ),
        )
    return _within(found, tries, like, _lasts)


def _within(found: Fewest, tries: _Tries, like: list[Gap], share: _Share) -> Fewest:
    """Exclude what there are too few fixtures for, or too many pallets, then try upwards."""
    group = tries.plan.groups[tries.place]
    if found.fixtures is not None and found.at_least * group.count > found.fixtures:
        return replace(found, why_not="fixtures", ends=Why.CUT.value)
    if found.at_least > MOST:
        return replace(found, why_not="many", ends=Why.CUT.value)
    # A machine with its own table may do without a second; one with pallets keeps two.
    first = max(found.at_least, 1 if group.pallets == 1 else 2)
    return _tried(found, tries, like, first, share)


_Share = Callable[[GroupNight], float]
"""Percent of the machines' nights in which one is what is looked for; every night is 100."""


def _lasts(night: GroupNight) -> float:
    """In which it lasts until the next shift."""
    return night.lasting


def _fills(hours: float) -> _Share:
    """In which it cuts for so many hours."""

    def fills(night: GroupNight) -> float:
        filled = sum(at_work >= hours for at_work in night.at_work)
        return 100 * filled / len(night.at_work) if night.at_work else 0.0

    return fills


def _longest(cell: Cell, makings: list[Making]) -> int:
    """Seconds that a piece begun at the last moment may go on after it."""
    return 0 if cell.hold else max(making.cycle for making in makings)


def _at_least(cell: Cell, place: int, makings: list[Making], length: int, change: int) -> int:
    """Pallets below which even the longest loads are cut before the next shift starts."""
    if not makings:
        return 1
    longest = max(making.cycle * making.per_pallet for making in makings)
    return ceil((length - cell.groups[place].warm_up) / (longest + change + cell.load_extra))


def _fixtures(cell: Cell, place: int) -> int | None:
    """Fixtures of all part numbers made on a group; None where one of them has no limit."""
    total = 0
    for part in cell.parts:
        if part.making[place] is not None:
            if part.fixtures is None:
                return None
            total += part.fixtures * part.numbers
    return total


def _tried(found: Fewest, tries: _Tries, like: list[Gap], first: int, share: _Share) -> Fewest:
    """Try block by block; the last of a block shows first whether more are loaded at all."""

    def none(most: GroupNight, why_not: str) -> Fewest:
        usual = None
        if share(most) >= USUALLY:
            tried = range(first, most.pallets + 1)
            usual = next(n for n in tried if share(tries.with_pallets(n, like)) >= USUALLY)
        return replace(_none(found, most, why_not), usual=usual)

    for fewer, more in tries.a_block_apart(like):
        # Tried for other nights, which these follow or lead to.
        if not _helps(fewer, more, share):
            return none(more, _lack(more, share))
    block, usual = first, None
    while True:
        last = min(block + STEPS, MOST)
        tries.foresee(block, last)
        night = tries.with_pallets(block, like)
        if share(night) < 100 and last > block:
            most = tries.with_pallets(last, like)
            if not _helps(night, most, share):
                return none(most, _lack(most, share))
        for pallets in range(block, last + 1):
            night = tries.with_pallets(pallets, like)
            if usual is None and share(night) >= USUALLY:
                usual = pallets
            if share(night) == 100:
                return replace(
                    found, fewest=pallets, usual=usual, tried=pallets, loaded=night.loaded
                )
        if last == MOST:
            return none(night, "ends")
        block = last


def _helps(fewer: GroupNight, more: GroupNight, share: _Share) -> bool:
    """Whether more pallets are loaded where there are more, and may be cut."""
    if share(more) == 100:
        return True
    at_limit = share is _lasts and _ends(more) == Why.LIMIT
    return not at_limit and more.loaded - fewer.loaded >= 1


def _lack(most: GroupNight, share: _Share) -> str:
    """Why more pallets do not help."""
    if share is _lasts and _ends(most) == Why.LIMIT:
        return "hours"
    empty = most.pallets - most.loaded - most.resting
    return "fixtures" if most.resting > empty else "people"


def _none(found: Fewest, most: GroupNight, why_not: str) -> Fewest:
    return replace(found, why_not=why_not, tried=most.pallets, loaded=most.loaded, ends=_ends(most))


def _ends(night: GroupNight) -> str:
    """What ends most of the nights that do not last."""
    return next((end for end in night.ends if end != Why.RUNS), Why.RUNS.value)
