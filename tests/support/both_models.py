"""One cell run by the engine and by the plain second model, and what must then be equal.

One thing is rounded: the engine splits a visit in setup and load by whole seconds. The two
together are equal to the second; the split differs by less than one second for every booking
of a visit, since each books the difference of two numbers that are rounded down. Bookings
are counted, so the tolerance is as tight as that.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

from cells import stops_of
from hypothesis import strategies as st
from oracle.hours import DAYS
from oracle.model import simulate
from oracle.results import Result
from oracle.specs import Spec, cells, luck, study_text

from whatif.cell.calendar import MODES
from whatif.cell.machines import Spindle
from whatif.cell.model import WEEK, Cell
from whatif.cell.run import Run
from whatif.cell.states import STATES, State
from whatif.cell.tally import Tally
from whatif.plan.build import plans_of
from whatif.plan.model import Plan
from whatif.study.check.check import check
from whatif.study.file.reading import read_text

SPLIT = ("setup", "load")


NOTHING = dict.fromkeys(
    (
        *("second_shift", "breaks", "duties", "nights", "handling", "sequence", "pallets"),
        *("warming", "choice", "overrides", "bench", "setups", "prove_outs", "first_pieces"),
        *("attended_only", "fixtures", "at_once", "numbers", "chains", "tools", "stops"),
        "taken_out",
    ),
    False,
)


def only(*families: str) -> st.SearchStrategy[Spec]:
    """Cells of one measured week in which only these families are drawn, so that they meet."""
    drawn = cells(**{**NOTHING, **dict.fromkeys(families, True)})
    return drawn.map(lambda spec: {**spec, "weeks": 1})


class Bookings(Counter[int]):
    """How often time of a visit is booked in a run, per machine."""

    def note(self, spindle: Spindle, state: int, since: int, until: int, setup: int) -> None:
        self[spindle.index] += state == State.LOAD


@dataclass(frozen=True)
class Both:
    """One cell as the engine ran it, and as the plain model did.

    Attributes:
        by_week: [week][part] pieces cut.
        stock: good pieces that lie there at the end, by part that another comes after.
    """

    plan: Plan
    cell: Cell
    tally: Tally
    by_week: list[tuple[int, ...]]
    stock: dict[str, Fraction]
    bookings: Counter[int]
    plain: Result

    def spent(self, machine: int, state: State) -> int:
        """Seconds that the engine's machine was in a state, whatever the mode."""
        return sum(mode[state] for mode in self.tally.spent[machine])


def both(spec: Spec, draw: int | None = None) -> Both:
    """Run a random study's cell by both models, with the same luck.

    Args:
        draw: number of a draw of the likely range, in which visits scatter; times stay as typed.
    """
    plan = plan_of(study_text(spec))
    assert plan.cell is not None
    # Stops are given to the cell itself, with the luck that the plain model is dealt.
    cell = replace(plan.cell, stops=stops_of(spec), luck=draw or 1)
    if draw is not None:
        cell = replace(cell, scatter=plan.scatter)
    return both_run(plan, cell, as_wanted(spec, cell), draw)


def plan_of(text: str) -> Plan:
    """The plan of a study with one scenario."""
    checked = check(read_text(text))
    assert not checked.problems
    (plan,) = plans_of(checked).values()
    return plan


def both_run(plan: Plan, cell: Cell, spec: Spec, draw: int | None = None) -> Both:
    """Run a cell over a plan's weeks, and by the plain model the spec of it."""
    run, bookings = Run(cell), Bookings()
    run.floor.booked = bookings.note
    borders = []
    for week in range(plan.weeks + 1):
        run.advance((plan.warm_up + week) * WEEK)
        borders.append(run.tally())
    tally = borders[-1].since(borders[0])
    by_week = [later.since(before).cut for before, later in pairwise(borders)]
    stock = {
        part.id: Fraction(run.floor.book.stock[place], run.floor.book.whole[place])
        for place, part in enumerate(cell.parts)
        if any(other.after == place for other in cell.parts)
    }
    plain = simulate(spec, draw or 1, luck(spec), draw_number=draw)
    return Both(plan, cell, tally, by_week, stock, bookings, plain)


def as_wanted(spec: Spec, cell: Cell) -> Spec:
    """The cell drawn, with what is wanted a week of operations before others as the study has it.

    It is reckoned before anything runs, and held to cases by hand elsewhere.
    """
    wanted = {part.id: part.weekly for part in cell.parts}
    parts = {
        name: entry if "weekly" in entry else {**entry, "weekly": wanted.get(name, 0)}
        for name, entry in spec["part"].items()
    }
    return {**spec, "part": parts}


def the_models_agree(found: Both) -> None:
    machines_agree(found)
    pieces_agree(found)
    stock_agrees(found)
    fixtures_agree(found)
    orders_agree(found)
    people_agree(found)


def machines_agree(found: Both) -> None:
    tally, plain = found.tally, found.plain
    assert [kind.id for kind in found.cell.groups for _ in range(kind.count)] == [
        machine.group for machine in plain.machines
    ]
    for place, machine in enumerate(plain.machines):
        mine = {name: found.spent(place, State(i)) for i, name in enumerate(STATES)}
        theirs = machine.states
        whole = [name for name in STATES if name not in SPLIT]
        assert {name: mine[name] for name in whole} == {name: theirs[name] for name in whole}
        assert sum(mine[name] for name in SPLIT) == sum(theirs[name] for name in SPLIT)
        assert abs(mine["setup"] - theirs["setup"]) <= found.bookings[place]
        modes = [mode[State.IN_CYCLE] for mode in tally.spent[place]]
        assert dict(zip(MODES, modes, strict=True)) == machine.in_cycle_by_mode
        for part, seconds in zip(found.cell.parts, tally.cycle[place], strict=True):
            assert seconds == machine.in_cycle_by_part[part.id]


def pieces_agree(found: Both) -> None:
    # Counters, since a part that is not made is told with 0 by the one and left out by the other.
    ids = [part.id for part in found.cell.parts]
    cut = Counter(dict(zip(ids, found.tally.cut, strict=True)))
    assert cut == Counter(found.plain.cut)
    for place, id_ in enumerate(ids):
        weeks = [week[place] for week in found.by_week]
        assert weeks == found.plain.cut_by_week.get(id_, [0] * len(weeks))


def stock_agrees(found: Both) -> None:
    # The plain model keeps the stock of parts too that nobody wants.
    plain = found.plain.stock
    assert found.stock == {id_: plain[id_] for id_ in found.stock}


def fixtures_agree(found: Both) -> None:
    for part, held in zip(found.cell.parts, found.tally.most_held, strict=True):
        assert held == found.plain.fixtures_held.get(part.id, 0)


def orders_agree(found: Both) -> None:
    start = found.plan.warm_up * WEEK
    for order, offs in zip(found.cell.orders, found.tally.orders, strict=True):
        if not order.rush:
            plain = found.plain.orders[order.id]
            since = [None if off is None else off - start for off in offs]
            assert since == [plain.first_off, plain.last_off]


def people_agree(found: Both) -> None:
    weeks, people = found.plan.weeks, found.plain.people
    assert sum(found.tally.busy) == people.busy
    assert found.plan.paid_seconds * weeks == people.paid
    assert found.plan.duty_seconds * weeks == people.on_duty
    assert sum(found.tally.free_stretches) == people.free_stretches


def the_accounts_close(found: Both) -> None:
    """What is counted adds up, whatever another model says."""
    tally, window = found.tally, found.plan.weeks * WEEK
    assert tally.seconds == window
    for place, modes in enumerate(tally.spent):
        assert sum(map(sum, modes)) == window
        assert min(map(min, modes)) >= 0
        assert sum(tally.cycle[place]) == found.spent(place, State.IN_CYCLE)
    for busy, jobs, free in zip(tally.busy, tally.busy_by_job, tally.free_stretches, strict=True):
        assert sum(jobs) == busy
        assert min(jobs) >= 0
        assert free >= 0
    assert sum(tally.busy) <= found.plan.duty_seconds * found.plan.weeks
    for place in range(len(found.cell.parts)):
        cut_pieces_took_their_cycles(found, place)


def cut_pieces_took_their_cycles(found: Both, place: int) -> None:
    """Pieces x cycle = in-cycle seconds, but for a load under way at each border.

    A machine has one load in the spindle. What is cut of it before the window counts in the
    window as pieces only, what is cut of it at the end as seconds only.
    """
    part, groups = found.cell.parts[place], found.cell.groups
    made = [
        (making.cycle, making.cycle * making.per_pallet, kind.count)
        for making, kind in zip(part.making, groups, strict=True)
        if making is not None
    ]
    border = sum(load * count for _, load, count in made)
    cycles = [cycle for cycle, _, _ in made]
    seconds = sum(one[place] for one in found.tally.cycle)
    pieces = found.tally.cut[place]
    # Where the cycle differs between machines the pieces lie between the two extremes.
    assert pieces * min(cycles) - border <= seconds <= pieces * max(cycles) + border


def one_shift(start: str, end: str, days: tuple[str, ...] = DAYS, **keys: Any) -> Spec:
    """A cell with a mill, a body and one shift, run from a cold start."""
    return {
        "weeks": 1,
        "warm_up": 0,
        "shift": {"early": {"days": list(days), "start": start, "end": end, **keys}},
        "machine": {"mill": {}},
        "part": {"body": {"cycle": 20011, "batch": 2, "weekly": 40}},
    }
