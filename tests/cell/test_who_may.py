"""Who of several free persons takes what (rule `people.pick`)."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cells import counted

from whatif.cell.codes import Job
from whatif.cell.model import (
    DAY,
    HOUR,
    Cell,
    MachineGroup,
    Making,
    Part,
    Shift,
    StopKind,
    Work,
)
from whatif.cell.run import Run
from whatif.cell.states import State

MAKING = Making(cycle=3600, load=600, unload=300, setup=900)


def cell(*shifts: Shift, **changes: object) -> Cell:
    plain = Cell(
        shifts=shifts,
        groups=(MachineGroup("mill"),),
        parts=(Part("body", (MAKING,), Fraction(1000), batch=1000),),
        walk=0,
    )
    return replace(plain, **changes)  # type: ignore[arg-type]  # names of fields are typed by hand


def shift(id_: str, *does: Work, people: int = 1, hours: int = 24) -> Shift:
    return Shift(id_, (0,), 0, hours * HOUR, people=people, does=does)


def busy(cell: Cell, until: int = DAY) -> list[list[int]]:
    """[person][visit, prove-out, tool change, repair] seconds."""
    jobs = (Job.VISIT, Job.PROVE_OUT, Job.TOOL_CHANGE, Job.REPAIR)
    return [[by[job] for job in jobs] for by in counted(cell, until).busy_by_job]


def test_the_one_listed_first_takes_it_where_both_may() -> None:
    """Cuts from 1,500 + 4,500 n s; visits of 900 s from 5,100 + 4,500 n: 18 end by 86,100 s,
    the next is 300 s old at 24 h."""
    found = busy(cell(shift("a", "load", "setup"), shift("b", "load", "setup")))
    assert found == [[1500 + 18 * 900 + 300, 0, 0, 0], [0, 0, 0, 0]]


def test_a_visit_that_sets_up_goes_to_the_first_who_does_all_of_it() -> None:
    """The first visit sets up, which the person listed second does; those after it do not."""
    found = busy(cell(shift("a", "load"), shift("b", "load", "setup")))
    assert found == [[18 * 900 + 300, 0, 0, 0], [1500, 0, 0, 0]]


def test_each_kind_of_work_is_done_by_those_who_do_it() -> None:
    """Visit and setup 0-1,500 s, prove-out -2,100, cut -5,700, visit -6,600, change -6,900, and so
    on; a stop after the first piece would be b's."""
    part = replace(
        cell().parts[0],
        making=(replace(MAKING, prove_out=600),),
        tool_life=1,
        tool_change=300,
    )
    people = (
        shift("a", "repair"),
        shift("b", "tools"),
        shift("c", "prove_out"),
        shift("d", "load", "setup"),
    )
    found = busy(cell(*people, parts=(part,)), until=6900)
    assert found == [[0, 0, 0, 0], [0, 0, 300, 0], [0, 600, 0, 0], [1500 + 900, 0, 0, 0]]


def test_a_stop_waits_for_who_repairs_and_nobody_else() -> None:
    """Those who load leave it standing; who repairs is there for the first hour only."""
    stops = (StopKind("jam", HOUR, 600),)
    alone = busy(cell(shift("a", "load", "setup"), stops=stops, luck=1))
    assert alone[0][3] == 0
    run = Run(cell(shift("a", "load", "setup"), stops=stops, luck=1))
    run.advance(DAY)
    assert run.floor.spindles[0].state == State.STOPPED
    both = busy(cell(shift("a", "load", "setup"), shift("b", "repair"), stops=stops, luck=1))
    assert both[0][3] == 0
    assert both[1][3] > 600


def test_what_nobody_free_may_do_lets_the_next_go_ahead() -> None:
    """Two machines whose first pieces of work ask at once: the first visit sets up and waits, the
    second is begun by who only loads. A resting pallet is found out by who loads as well."""
    body = cell().parts[0]
    parts = (
        replace(body, making=(MAKING, None)),
        Part("cover", (None, replace(MAKING, setup=0)), Fraction(1000), batch=1000),
    )
    groups = (MachineGroup("mill"), MachineGroup("lathe"))
    run = Run(cell(shift("a", "load"), parts=parts, groups=groups))
    work = run.floor.persons[0].work
    assert work is not None
    assert work.machine == 1
    assert State(run.floor.spindles[0].state) is State.WAITING_FOR_PERSON


def test_time_alone_may_let_who_only_loads_go_on() -> None:
    """A body is on 0-1,500 s and cut until 3,300 (30 min); who sets up has gone at 1,800. A visit
    would put a cover on, due after 10 h, for which nobody may set up. At 7,200 the second body may
    be opened, due after 4 h: one may load it, until 8,100."""
    making = replace(MAKING, cycle=1800)
    parts = (
        Part("body", (making,), Fraction(84), batch=1),
        Part("cover", (making,), Fraction(84, 5), batch=1),
    )
    setter = replace(shift("a", "load", "setup"), length=1800)
    changes = {"parts": parts, "keep_setup": False, "run_ahead": 0}
    found = busy(cell(setter, shift("b", "load"), **changes), until=8100)
    assert found == [[1500, 0, 0, 0], [900, 0, 0, 0]]
