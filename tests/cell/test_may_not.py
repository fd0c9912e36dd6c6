"""What machines wait for that free people, or all on duty, may not do (rule `people.may-not`)."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

import pytest
from cells import cell_of, counted, few, trying
from hypothesis import given
from oracle.specs import Spec, cells
from oracle.specs_orders import with_orders
from test_who_may import MAKING, cell, shift

from whatif.cell.calendar import ATTENDED
from whatif.cell.floor import Floor
from whatif.cell.may_not import ASKED
from whatif.cell.model import DAY, HOUR, WEEK, Cell, MachineGroup, Part, StopKind
from whatif.cell.people import WORK_OF, may_be_served, sets_up
from whatif.cell.run import Run
from whatif.cell.states import State, is_paused

SETTER = shift("setter", "load", "setup")
LOADER = shift("loader", "load")
TWO = (MachineGroup("mill", count=2),)
COVER = Part("cover", (None, replace(MAKING, setup=0)), Fraction(1000), batch=1000)


def may_not(cell: Cell, until: int) -> tuple[dict[str, list[int]], dict[str, list[int]]]:
    """Seconds by work, [machine] each, those works that occur; and with nobody on duty who may."""
    tally = counted(cell, until)
    every, nobody = (
        {work: [one[place] for one in of] for place, work in enumerate(ASKED)}
        for of in (tally.may_not, tally.nobody_may)
    )
    told = [work for work in ASKED if any(every[work])]
    return {work: every[work] for work in told}, {work: nobody[work] for work in told}


# -- by pencil: a first visit takes 900 + 600 s, each cut 3,600, each visit after it 300 + 600 --


def test_one_setter_beside_free_loaders() -> None:
    """The setter is at the first mill until 1,500 s. The second waits for him, loaders free."""
    found = cell(SETTER, replace(LOADER, people=3), groups=TWO)
    assert may_not(found, 1500) == ({"setup": [0, 1500]}, {"setup": [0, 0]})
    # Then no visit sets up, and loaders are there for all of them.
    assert may_not(found, DAY) == ({"setup": [0, 1500]}, {"setup": [0, 0]})


def test_while_all_are_busy_of_whom_one_may_nobody_stands_free() -> None:
    """Covers are loaded by the loader 0-600, bodies by the setter 0-1,500: the second mill waits
    for the setter, and only from 600 on beside somebody free."""
    parts = (replace(cell().parts[0], making=(MAKING, None)), COVER)
    found = cell(SETTER, LOADER, groups=(*TWO, MachineGroup("lathe")), parts=parts)
    waited = [mode[State.WAITING_FOR_PERSON] for mode in counted(found, 1500).spent[1]]
    assert waited[ATTENDED] == 1500
    assert may_not(found, 1500) == ({"setup": [0, 900, 0]}, {"setup": [0, 0, 0]})


def test_a_late_shift_that_only_loads_leaves_a_setup_standing_though_it_is_busy_itself() -> None:
    """The loader is at the lathe 0-600, 4,200-5,100 and so on. The mill waits all day for somebody
    who sets up, and nobody on duty may."""
    parts = (replace(cell().parts[0], making=(MAKING, None)), COVER)
    groups = (MachineGroup("mill"), MachineGroup("lathe"))
    found = cell(LOADER, parts=parts, groups=groups)
    assert may_not(found, 5100) == ({"setup": [5100, 0]}, {"setup": [5100, 0]})


def test_where_all_may_do_all_nobody_stands_free_who_may_not() -> None:
    """Two who do all, three mills: the third waits 1,500 s for people at work."""
    found = cell(replace(SETTER, people=2), groups=(MachineGroup("mill", count=3),))
    found = replace(found, shifts=(replace(found.shifts[0], does=("load", *ASKED[1:])),))
    assert counted(found, 1500).spent[2][ATTENDED][State.WAITING_FOR_PERSON] == 1500
    assert may_not(found, DAY) == ({}, {})


def test_who_stands_by_to_repair_might_load() -> None:
    """The first mill is loaded 0-1,500 by the only one who loads, the second waits as long."""
    found = cell(SETTER, shift("mechanic", "repair"), groups=TWO)
    assert may_not(found, 1500) == ({"load": [0, 1500]}, {"load": [0, 0]})
    # Who does nothing in the cell does not stand free.
    assert may_not(cell(SETTER, shift("inspector", "release"), groups=TWO), 1500) == ({}, {})


@pytest.mark.parametrize("work", ["prove_out", "tools"])
def test_a_prove_out_and_worn_tools_wait_for_those_who_do_them(work: str) -> None:
    """Visit 0-1,500; then a prove-out is asked for, or after the piece cut until 5,100 s and the
    visit until 6,000 tools. The one who may comes at 2 h, 7,200 s."""
    part = replace(cell().parts[0], making=(replace(MAKING, prove_out=600 * (work != "tools")),))
    part = replace(part, tool_life=1 if work == "tools" else None)
    helper = replace(shift("helper", "prove_out", "tools"), start=2 * HOUR, length=HOUR)
    found = cell(SETTER, helper, parts=(part,))
    asked = 6000 if work == "tools" else 1500
    assert may_not(found, 3 * HOUR) == ({work: [7200 - asked]}, {work: [7200 - asked]})


def test_work_that_waits_over_a_break_is_not_lacking_somebody() -> None:
    """The setter's break, 300-600 s: his visit waits, since he is away and not since he may not.
    The second mill waits until 1,800 s, for 300 of them with nobody on duty who may set up."""
    found = cell(replace(SETTER, breaks=((300, 600),)), LOADER, groups=TWO)
    assert may_not(found, 1800) == ({"setup": [0, 1800]}, {"setup": [0, 300]})


def test_a_stop_that_waits_is_a_stop() -> None:
    found = cell(SETTER, stops=(StopKind("jam", HOUR, 600),), luck=1)
    assert may_not(found, DAY) == ({}, {})


def test_a_copy_counts_by_itself() -> None:
    run = Run(cell(SETTER, LOADER, groups=TWO))
    run.advance(700)
    other = run.copy()
    run.advance(1500)
    assert other.tally().may_not[1][ASKED.index("setup")] == 700
    other.advance(1500)
    assert other.tally() == run.tally()


# -- what must hold in any cell -------------------------------------------------------------


@dataclass(frozen=True)
class Looker:
    """Looks into whatever a machine is found to lack, at every instant of a run."""

    floor: Floor

    def look(self) -> None:
        if self.floor.some_may_not:
            for place in range(len(self.floor.spindles)):
                self._look_into(place)

    def _look_into(self, place: int) -> None:
        """Those free may do none of what is asked there; without any, nobody on duty may."""
        floor = self.floor
        spindle = floor.spindles[place]
        waits = spindle.state == State.WAITING_FOR_PERSON and floor.segment.mode == ATTENDED
        there = [
            person for person in floor.persons if person.on_duty and {*person.does} - {"release"}
        ]
        free = [person for person in there if person.work is None]
        asked = [
            call for call in floor.line if call.machine == place and may_be_served(floor, call)
        ]

        def might(persons: list[Any]) -> bool:
            return any(
                WORK_OF[call.job] in person.does
                and (
                    WORK_OF[call.job] != "load"
                    or "setup" in person.does
                    or not sets_up(floor, call)
                )
                for call in asked
                for person in persons
            )

        if any(machine == place for machine, *_ in floor.lacking):
            assert waits
            assert asked
            assert not might(free)
            assert free or not might(there)
        elif waits and asked and not is_paused(spindle):
            assert not free
            assert might(there)


@few
@given(with_orders(cells()))
def test_it_is_told_where_it_is_so_and_nowhere_else(spec: Spec) -> None:
    run = Run(cell_of(spec))
    looker = Looker(run.floor)
    looker.look()
    run.floor.seen = looker.look
    run.advance(2 * WEEK)


@trying(100)
@given(with_orders(cells()))
def test_it_is_never_more_than_the_machine_waits_for_a_person(spec: Spec) -> None:
    found = cell_of(spec)
    tally = counted(found, 2 * WEEK, since=WEEK)
    may_all = all(work in shift.does for shift in found.shifts for work in ASKED)
    for spent, waits, nobody in zip(tally.spent, tally.may_not, tally.nobody_may, strict=True):
        assert 0 <= sum(waits) <= spent[ATTENDED][State.WAITING_FOR_PERSON]
        assert not (may_all and any(waits))
        assert all(0 <= one <= every for one, every in zip(nobody, waits, strict=True))
