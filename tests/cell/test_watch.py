"""A week written down: it agrees with what the run counts, and with a pencil."""

from __future__ import annotations

import pickle
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from cells import stops_of, trying
from hypothesis import given
from hypothesis import strategies as st
from oracle.specs import Spec, cells, some_stops, study_text

from whatif.answers.week import Spanning, span_at
from whatif.cell.calendar import Calendar
from whatif.cell.codes import Job
from whatif.cell.model import DAY, HOUR, WEEK, Cell, MachineGroup, Making, Part, Shift, StopKind
from whatif.cell.run import Run
from whatif.cell.states import STATES
from whatif.cell.tally import Tally
from whatif.cell.watch import MachineWeek, PersonWeek, WatchedRun, WeekRecord, watch
from whatif.plan.build import plans_of
from whatif.study.check.check import check
from whatif.study.file.reading import read_text


@st.composite
def stopping(draw: st.DrawFn) -> Spec:
    """Cells with everything, half of them with stops."""
    spec: Spec = draw(cells(stops=False))
    if draw(st.booleans()):
        spec["stop"] = draw(some_stops())
    return spec


def cell_of(spec: Spec) -> tuple[Cell, int]:
    """The cell of a random study, and the weeks before the one that is watched."""
    (plan,) = plans_of(check(read_text(study_text(spec)))).values()
    assert plan.cell is not None
    # Now and then machines are tied up after a load, as the hour meters' gap may be read.
    extra = 100 if len(spec["part"]) > 1 else 0
    return replace(plan.cell, stops=stops_of(spec), luck=1, load_extra=extra), plan.warm_up


def counted(cell: Cell, weeks_before: int) -> Tally:
    """The same week as a run counts it that nobody watches."""
    run = Run(cell)
    run.advance(weeks_before * WEEK)
    before = run.tally()
    run.advance((weeks_before + 1) * WEEK)
    return run.tally().since(before)


def within(span: Spanning, since: int, until: int) -> int:
    return max(0, min(span.until, until) - max(span.since, since))


def assert_fills_the_week(spans: Sequence[Spanning]) -> None:
    assert [span.since for span in spans] == [0, *(span.until for span in spans[:-1])]
    assert spans[-1].until == WEEK
    assert all(span.since < span.until for span in spans)


@pytest.mark.long
@trying(80)
@given(stopping())
def test_a_watched_week_agrees_with_what_the_run_counts(spec: dict[str, Any]) -> None:
    cell, before = cell_of(spec)
    tally, record = counted(cell, before), watch(cell, before)
    calendar = Calendar(cell)
    assert len(record.machines) == len(tally.spent)
    for place, machine in enumerate(record.machines):
        assert_fills_the_week(machine.states)
        spent = [[0] * len(STATES) for _ in range(3)]
        for segment in calendar.segments:
            for span in machine.states:
                spent[segment.mode][STATES.index(span.state)] += within(
                    span, segment.start, segment.end
                )
        assert tuple(map(tuple, spent)) == tally.spent[place]
        for part, seconds in zip(cell.parts, tally.cycle[place], strict=True):
            cut = [span for span in machine.states if span.part == part.id]
            assert {span.state for span in cut} <= {"in_cycle"}
            assert sum(span.until - span.since for span in cut) == seconds
    assert len(record.persons) == len(tally.busy)
    for person, jobs in zip(record.persons, tally.busy_by_job, strict=True):
        assert_fills_the_week(person.does)
        assert jobs == tuple(busy(person, job.name.lower()) for job in Job)


def busy(person: PersonWeek, does: str) -> int:
    return sum(span.until - span.since for span in person.does if span.does == does)


IN_SPINDLE = {"goes_in", "cut", "stands_in"}


@pytest.mark.long
@trying(80)
@given(stopping())
def test_machines_pallets_and_people_tell_one_story(spec: dict[str, Any]) -> None:
    cell, before = cell_of(spec)
    record = watch(cell, before)
    for place, machine in enumerate(record.machines):
        assert_fills_the_week(machine.loaded)
        for spans in machine.pallets:
            assert_fills_the_week(spans)
        seconds = {span.since for span in machine.states}
        seconds |= {span.since for spans in machine.pallets for span in spans}
        for second in seconds:
            the_machine_and_its_pallets_agree(cell, machine, second)
            the_visits_are_those_of_people(record, place, second)


def the_machine_and_its_pallets_agree(cell: Cell, machine: MachineWeek, second: int) -> None:
    pallets = [span_at(spans, second) for spans in machine.pallets]
    does = [one.does for one in pallets]
    state = span_at(machine.states, second)
    assert (state.state == "in_cycle") == ("cut" in does)
    if state.state == "in_cycle":
        assert [one.part for one in pallets if one.does == "cut"] == [state.part]
    if state.state == "pallet_change":
        assert "goes_in" in does
    inside = sum(one in IN_SPINDLE for one in does)
    assert inside <= 1
    loaded = inside + does.count("ready")
    told = span_at(machine.loaded, second).pallets
    # Only a load that is cut and still tied up stands in the spindle and is not to be cut.
    assert told == loaded or (told == loaded - 1 and cell.load_extra and "stands_in" in does)
    for one in pallets:
        assert (one.part is None) == (not one.pieces)
        assert (one.next_part is None) == (not one.next_pieces)
        assert one.pieces or one.does not in {"ready", "release", *IN_SPINDLE}
        if one.next_pieces:
            assert one.does in {"served", "paused", "put_down"}


def the_visits_are_those_of_people(record: WeekRecord, place: int, second: int) -> None:
    """Each pallet that is served has one person at it, and nobody visits any other."""
    served = {
        number
        for number, spans in enumerate(record.machines[place].pallets, 1)
        if span_at(spans, second).does == "served"
    }
    now = [span_at(person.does, second) for person in record.persons]
    visits = [one.pallet for one in now if (one.does, one.machine) == ("visit", place)]
    assert sorted(visits, key=str) == sorted(served, key=str)
    assert len(visits) <= len(served)


@pytest.mark.parametrize("weeks_before", [0, 1, 3])
def test_each_week_is_the_one_that_the_run_counts(weeks_before: int) -> None:
    cell = small(batch=3, stops=(StopKind("jam", HOUR, 300),), luck=1)
    (machine,) = watch(cell, weeks_before).machines
    spent = counted(cell, weeks_before).spent[0]
    for state, name in enumerate(STATES):
        told = sum(span.until - span.since for span in machine.states if span.state == name)
        assert told == sum(mode[state] for mode in spent)


def test_watching_tells_after_each_week_and_may_be_given_up() -> None:
    told: list[tuple[int, int]] = []
    watch(small(), 2, lambda done, of: told.append((done, of)))
    assert told == [(1, 3), (2, 3), (3, 3)]

    def give_up(done: int, of: int) -> None:
        raise InterruptedError

    with pytest.raises(InterruptedError):
        watch(small(), 2, give_up)


def test_a_record_can_be_sent_to_another_process() -> None:
    record = watch(small(), 0)
    assert pickle.loads(pickle.dumps(record)) == record


def test_a_watched_run_may_be_advanced_in_any_steps() -> None:
    runs = WatchedRun(small()), WatchedRun(small())
    for run in runs:
        run.begin()
    for second in range(0, WEEK + 1, 4_321):
        runs[0].advance(second)
    for run in runs:
        run.advance(WEEK)
    assert runs[0].record() == runs[1].record()


# --- with a pencil ----------------------------------------------------------------------

CLOCK = 6 * HOUR
"""The shift's begin on Monday."""


def small(batch: int = 20, pallets: int = 1, **changes: Any) -> Cell:
    """A mill and a person, Monday 06:00 to 08:00 with a break from 07:00 to 07:15.

    A first visit takes 3 min (walk 1, load 2), the others 4 (and unload 1), a piece 10.
    """
    making = Making(cycle=600, load=120, unload=60, **changes.pop("making", {}))
    part = Part("body", (making,), Fraction(300), batch=batch, **changes.pop("part", {}))
    cell = Cell(
        shifts=(Shift("early", (0,), CLOCK, 2 * HOUR, breaks=((3600, 4500),)),),
        groups=(MachineGroup("mill", pallets=pallets),),
        parts=(part,),
    )
    return replace(cell, **changes)


def minutes(*spans: tuple[int, int, str]) -> list[tuple[int, int, str]]:
    """Spans in seconds of the week from minutes after the shift's begin."""
    return [(CLOCK + 60 * since, CLOCK + 60 * until, name) for since, until, name in spans]


def states(record: WeekRecord) -> list[tuple[int, int, str]]:
    return [(span.since, span.until, span.state) for span in record.machines[0].states]


def test_a_table_and_a_person_with_a_pencil() -> None:
    record = watch(small(), 0)
    on_shift = minutes(
        (0, 3, "load"),
        (3, 13, "in_cycle"),
        (13, 17, "load"),
        (17, 27, "in_cycle"),
        (27, 31, "load"),
        (31, 41, "in_cycle"),
        (41, 45, "load"),
        (45, 55, "in_cycle"),
        (55, 59, "load"),
        # Begun before the break at minute 60, and cut in it; the table then waits for its end.
        (59, 69, "in_cycle"),
        (69, 75, "nobody_on_duty"),
        (75, 79, "load"),
        (79, 89, "in_cycle"),
        (89, 93, "load"),
        (93, 103, "in_cycle"),
        (103, 107, "load"),
        (107, 117, "in_cycle"),
        (117, 120, "load"),
    )
    night = [(0, CLOCK, "nobody_on_duty"), (CLOCK + 7200, WEEK, "nobody_on_duty")]
    assert states(record) == [night[0], *on_shift, night[1]]

    (person,) = record.persons
    assert [(one.since, one.until, one.does) for one in person.does][:4] == [
        (0, CLOCK, "off_duty"),
        *minutes((0, 3, "visit"), (3, 13, "free"), (13, 17, "visit")),
    ]
    assert (CLOCK + 3600, CLOCK + 4500, "on_break") in [
        (one.since, one.until, one.does) for one in person.does
    ]
    assert (person.does[-1].since, person.does[-1].does) == (CLOCK + 7200, "off_duty")

    (table,) = record.machines[0].pallets
    told = [(one.since, one.until, one.does, one.pieces, one.next_pieces) for one in table]
    assert told[:4] == [
        (0, CLOCK, "waits", 0, 0),
        (CLOCK, CLOCK + 180, "served", 0, 1),
        (CLOCK + 180, CLOCK + 780, "cut", 1, 0),
        (CLOCK + 780, CLOCK + 1020, "served", 1, 1),
    ]
    # One minute of the last visit is left for a shift that does not come this week.
    assert told[-1] == (CLOCK + 7200, WEEK, "put_down", 1, 1)
    assert [(one.since, one.pallets) for one in record.machines[0].loaded][:4] == [
        (0, 0),
        (CLOCK + 180, 1),
        (CLOCK + 780, 0),
        (CLOCK + 1020, 1),
    ]


def test_a_visit_over_a_break_pauses() -> None:
    """Work holding of 52 min begins at 06:00, so that loading meets the break at 07:00."""
    record = watch(small(making={"setup": 3480}), 0)
    # Walk 1, setup 58, load 2 minutes: one of them is left at 07:00 and done at 07:16.
    (table,) = record.machines[0].pallets
    assert [(one.since, one.until, one.does) for one in table][1:4] == minutes(
        (0, 60, "served"), (60, 75, "paused"), (75, 76, "served")
    )
    # Until the break 60 of 61 min are done: 58 x 60 / 61 of them setup, rounded down.
    share = 60 * 60 * 3480 // 3660
    assert states(record)[1:6] == [
        (CLOCK, CLOCK + share, "setup"),
        (CLOCK + share, CLOCK + 3600, "load"),
        (CLOCK + 3600, CLOCK + 4500, "nobody_on_duty"),
        (CLOCK + 4500, CLOCK + 4500 + 3480 - share, "setup"),
        (CLOCK + 4500 + 3480 - share, CLOCK + 4560, "load"),
    ]


def test_a_prove_out_and_a_tool_change_with_a_pencil() -> None:
    record = watch(small(making={"prove_out": 300}, part={"tool_life": 1, "tool_change": 240}), 0)
    assert states(record)[1:7] == minutes(
        (0, 3, "load"),
        (3, 8, "person_at_machine"),
        (8, 18, "in_cycle"),
        (18, 22, "load"),
        (22, 26, "person_at_machine"),
        (26, 36, "in_cycle"),
    )
    (person,) = record.persons
    done = [(one.does, one.machine, one.pallet) for one in person.does if one.does != "free"]
    assert done[1:5] == [
        ("visit", 0, 1),
        ("prove_out", 0, 1),
        ("visit", 0, 1),
        ("tool_change", 0, 1),
    ]
    (table,) = record.machines[0].pallets
    assert [(one.since, one.does) for one in table][2:4] == [
        (CLOCK + 180, "stands_in"),
        (CLOCK + 480, "cut"),
    ]


def test_pallets_fill_and_run_dry_with_a_pencil() -> None:
    """Two pallets with one station: the second is loaded while the first is cut."""
    record = watch(small(pallets=2, after_shift=DAY), 0)
    first, second = record.machines[0].pallets
    assert [(one.since, one.until, one.does) for one in first][1:6] == [
        *minutes((0, 3, "served")),
        (CLOCK + 180, CLOCK + 210, "goes_in"),
        (CLOCK + 210, CLOCK + 810, "cut"),
        (CLOCK + 810, CLOCK + 1050, "served"),
        (CLOCK + 1050, CLOCK + 1440, "ready"),
    ][:5]
    assert [(one.since, one.until, one.does) for one in second][1:5] == [
        (CLOCK + 180, CLOCK + 360, "served"),
        (CLOCK + 360, CLOCK + 810, "ready"),
        (CLOCK + 810, CLOCK + 840, "goes_in"),
        (CLOCK + 840, CLOCK + 1440, "cut"),
    ]
    # The night runs dry: what stands ready at 08:00 is cut, and nothing is loaded after.
    (machine,) = record.machines
    assert span_at(machine.loaded, CLOCK + 7199).pallets == 2
    assert machine.loaded[-1].pallets == 0
    assert machine.loaded[-1].since < CLOCK + 7200 + 2 * 630
    assert {one.does for one in (first[-1], second[-1])} == {"waits"}


def test_a_first_piece_waits_on_its_pallet() -> None:
    record = watch(small(pallets=2, batch=4, part={"first_piece": 1200}), 0)
    first, _ = record.machines[0].pallets
    # In at 06:03:30, cut at 06:13:30, released 20 min later.
    told = next(one for one in first if one.does == "release")
    assert (told.since, told.until, told.pieces) == (CLOCK + 810, CLOCK + 2010, 1)


def test_bench_work_is_told_of_its_pallet_and_after_a_night_of_none() -> None:
    cell = small(part={"bench": 1800}, shifts=(Shift("early", (0, 1), CLOCK, 2 * HOUR),))
    (person,) = watch(cell, 0).persons
    bench = [one for one in person.does if one.does == "bench"]
    assert (bench[0].machine, bench[0].pallet) == (0, 1)
    tuesday = next(one for one in bench if one.since == DAY + CLOCK)
    assert (tuesday.machine, tuesday.pallet) == (None, None)


def test_machines_and_people_are_numbered_within_their_own() -> None:
    cell = small()
    group = MachineGroup("saw", count=2)
    both = tuple(replace(part, making=(*part.making, part.making[0])) for part in cell.parts)
    early = replace(cell.shifts[0], people=2)
    late = Shift("late", (0,), 10 * HOUR, HOUR)
    record = watch(replace(cell, groups=(*cell.groups, group), parts=both, shifts=(early, late)), 0)
    assert [(one.group, one.number, one.count) for one in record.machines] == [
        ("mill", 1, 1),
        ("saw", 1, 2),
        ("saw", 2, 2),
    ]
    assert [(one.shift, one.number, one.count) for one in record.persons] == [
        ("early", 1, 2),
        ("early", 2, 2),
        ("late", 1, 1),
    ]


def test_a_cell_without_machines_or_people_has_a_week_too() -> None:
    empty = replace(small(), groups=(), parts=())
    assert watch(empty, 0).machines == ()
    alone = watch(replace(small(), shifts=()), 0)
    assert alone.persons == ()
    assert states(alone) == [(0, WEEK, "nobody_on_duty")]
