"""Stops: seeded luck (rule `stops.luck`) against closed forms, and how runs are told."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import comb, expm1
from statistics import mean, stdev

import pytest
from answer_studies import plan_of, sound
from json_told import json_of
from lengths import first_of
from stop_studies import NIGHTS, day, study

from whatif.answers.answer import Answer
from whatif.answers.compare import compare
from whatif.cell.calendar import AFTER_HOURS, ATTENDED
from whatif.cell.model import HOUR, WEEK, Cell, MachineGroup, Making, Part, Shift, StopKind
from whatif.cell.run import Run
from whatif.cell.states import State
from whatif.cell.tally import Tally
from whatif.session.calculate.memory import Memory


class Watching(Memory):
    """Simulates, and keeps what every run counted."""

    def __init__(self) -> None:
        super().__init__()
        self._seen: list[tuple[Cell, Tally]] = []

    def __call__(self, cell: Cell, warm_up: int, weeks: int) -> Tally:
        found = super().__call__(cell, warm_up, weeks)
        self._seen.append((cell, found))
        return found

    @property
    def seen(self) -> list[tuple[Cell, Tally]]:
        """Those over all weeks measured; halves of them are looked at too."""
        whole = max(tally.seconds for _, tally in self._seen)
        return [(cell, tally) for cell, tally in self._seen if tally.seconds == whole]


def answered(text: str) -> tuple[Answer, list[Tally]]:
    """The first scenario's answer and what its runs counted, one after the other."""
    watching = Watching()
    answer = compare(sound(text), watching).answers["today"]
    return answer, [tally for _, tally in watching.seen]


def holds(runs: list[float], expected: float) -> None:
    """The mean of the runs lies within three of its standard errors of what is expected."""
    error = stdev(runs) / math.sqrt(len(runs))
    assert abs(mean(runs) - expected) <= 3 * error
    # Runs so uneven that anything would do prove nothing.
    assert error < 0.02 * expected


def in_cycle(tally: Tally) -> float:
    """Hours in cycle, all machines together."""
    return sum(mode[State.IN_CYCLE] for one in tally.spent for mode in one) / HOUR


# --- one person for several machines -------------------------------------------------------


def ashcroft(machines: int, load: float) -> float:
    """Machines running on average, one person serving each stop in a constant time.

    H. Ashcroft, "The productivity of several machines under the care of one operator", Journal of
    the Royal Statistical Society B 12 (1950) 145-151: the formula; its table was not seen.
    """
    total, product = 0.0, 1.0
    for r in range(machines):
        product *= expm1(r * load) if r else 1.0
        total += comb(machines - 1, r) * product
    return (1 - 1 / (1 + machines * load * total)) / load


INTERFERENCE = [
    (2, 10, 1, 1.810),
    (4, 10, 1, 3.579),
    (6, 10, 1, 5.278),
    (6, 5, 1, 4.264),
    (4, 10, 3, 2.666),
]
"""Machines, hours between stops, hours of repair, machines running on average. The values were
computed from the formula anew."""


@pytest.mark.long
@pytest.mark.outside("Ashcroft 1950: machines running, constant service", values=5)
@pytest.mark.parametrize(("machines", "every", "repair", "running"), first_of(INTERFERENCE, 3))
def test_machines_running_with_one_person(
    machines: int, every: int, repair: int, running: float
) -> None:
    assert f"{ashcroft(machines, repair / every):.3f}" == f"{running:.3f}"
    answer, tallies = answered(
        study(
            f"machine.mill.count = {machines}",
            f'stop.jam.every = "{every} h"',
            f'stop.jam.repair = "{repair} h"',
        )
    )
    assert len(tallies) == 20
    holds([in_cycle(tally) / (tally.seconds / HOUR) for tally in tallies], running)
    assert answer.figures is not None
    told = answer.figures.spindle.total / 168
    assert told == pytest.approx(mean(in_cycle(one) * HOUR / one.seconds for one in tallies))
    # A machine that is stopped waits for the person or is being put right; it does nothing else.
    by_state = answer.figures.by_state
    assert by_state["in_cycle"] + by_state["stopped"] == pytest.approx(168 * machines)


@pytest.mark.outside("IEC 60050-192: availability = MTBF / (MTBF + MTTR), .952")
@pytest.mark.long
def test_a_machine_that_puts_itself_right_needs_no_other_to_wait() -> None:
    """Availability MTBF / (MTBF + MTTR), IEC 60050-192, from memory: 100 / (100 + 5) = .952."""
    text = study(
        "machine.mill.count = 20",
        "weeks = 52",
        'stop.jam.every = "100 h"',
        'stop.jam.repair = "5 h"',
        "stop.jam.needs_person = false",
    )
    answer, tallies = answered(text)
    holds([in_cycle(one) * HOUR / one.seconds / 20 for one in tallies], 100 / 105)
    assert answer.figures is not None
    assert answer.figures.people.busy == 0


# --- until something stops it at night -------------------------------------------------------


@pytest.mark.outside("Exponential distribution: E[min(T, X)] = M (1 - exp(-T / M))", values=3)
@pytest.mark.parametrize(("end", "every", "night", "expected"), NIGHTS)
def test_a_night_runs_until_a_stop_needs_a_person(
    end: str, every: int, night: int, expected: float
) -> None:
    """M (1 - exp(-T / M)), an identity of the exponential distribution, worked out anew.

    One table, a cut that never ends, stops that are put right in no time once somebody comes.

    So every night begins with the spindle in cycle and with enough work, and what is left until
    the next stop is exponential whatever the day has brought; the first stop of a night ends it.
    """
    assert f"{every * (1 - math.exp(-night / every)):.6f}" == f"{expected:.6f}"
    assert int(end[:2]) + night == 24 + 6
    text = study(
        f'stop.jam.every = "{every} h"',
        'stop.jam.repair = "0 s"',
        'unattended.after_shift = "until done"',
        shift=day(end),
    )
    answer, tallies = answered(text)
    by_night = [tally.spent[0][AFTER_HOURS][State.IN_CYCLE] / HOUR / (7 * 13) for tally in tallies]
    holds(by_night, expected)
    assert answer.figures is not None
    assert answer.figures.spindle.after_hours / 7 == pytest.approx(mean(by_night))
    # The rest of the nights, and nothing of the days, is lost to stops.
    stopped = answer.figures.by_state["stopped"]
    assert stopped == pytest.approx(7 * night - answer.figures.spindle.after_hours)


@pytest.mark.long
def test_a_stop_that_needs_nobody_ends_no_night() -> None:
    lines = (
        'stop.jam.every = "8 h"',
        'stop.jam.repair = "2 h"',
        'unattended.after_shift = "until done"',
    )
    alone, _ = answered(study(*lines, "stop.jam.needs_person = false", shift=day("14:00")))
    waits, _ = answered(study(*lines, shift=day("14:00")))
    assert alone.figures is not None
    assert waits.figures is not None
    # 8 h of 10 at any hour, as by day; with a person a night ends at its first stop.
    assert alone.figures.spindle.after_hours / (7 * 16) == pytest.approx(0.8, abs=0.01)
    assert waits.figures.spindle.after_hours / 7 < 7


# --- luck ------------------------------------------------------------------------------------


def cell(count: int = 1, luck: int = 1, repair: int = 60, *stops: str, walk: int = 0) -> Cell:
    """Machines with endless cuts and a person round the clock."""
    return Cell(
        shifts=(Shift("always", tuple(range(7)), 0, 24 * HOUR),),
        groups=(MachineGroup("mill", count=count),),
        parts=(Part("body", (Making(100 * WEEK, 0, 0),), Fraction(1)),),
        stops=tuple(StopKind(id_, 10 * HOUR, repair) for id_ in stops or ("jam",)),
        walk=walk,
        to_order=False,
        luck=luck,
    )


def draws(of: Cell, machine: int = 0, kind: int = 0) -> list[int]:
    """In-cycle seconds between the first stops of a machine."""
    run = Run(of)
    spindle = run.floor.spindles[machine]
    return [spindle.to_stop[kind], *(spindle.luck[kind].deal() for _ in range(50))]


def test_luck_hangs_on_run_machine_and_stop_alone() -> None:
    same = draws(cell())
    assert draws(cell(count=3)) == same
    assert draws(cell(repair=7000, walk=90)) == same
    assert draws(cell(1, 1, 60, "chips", "jam"), kind=1) == same
    two = replace(cell(), groups=(MachineGroup("lathe"), MachineGroup("mill")))
    two = replace(two, parts=(replace(two.parts[0], making=two.parts[0].making * 2),))
    assert draws(two, machine=1) == draws(cell(count=3), machine=1)  # all machines are counted
    others = (draws(cell(luck=2)), draws(cell(count=2), machine=1), draws(cell(1, 1, 60, "chips")))
    for other in others:
        assert len(set(same) & set(other)) < 3  # no more than by chance
    assert mean(same) == pytest.approx(10 * HOUR, rel=0.5)


def test_a_mean_twice_as_long_has_the_same_luck_twice_as_long() -> None:
    twice = replace(cell(), stops=(StopKind("jam", 20 * HOUR, 60),))
    assert draws(twice) == [pytest.approx(2 * one, abs=1) for one in draws(cell())]


def test_stops_come_at_the_in_cycle_time_that_was_drawn() -> None:
    """Repaired in a minute, by somebody who is always free."""
    one = cell()
    run = Run(one)
    at = [sum(draws(one)[: i + 1]) + 60 * i for i in range(8)]
    for before, stop in pairwise([0, *at]):
        run.advance(stop)
        assert not run.floor.spindles[0].stops, (before, stop)
        run.advance(stop + 1)
        assert len(run.floor.spindles[0].stops) == 1
        assert run.tally().spent[0][ATTENDED][State.STOPPED] == 60 * (at.index(stop)) + 1


def test_scenarios_meet_the_same_luck() -> None:
    """The first of two machines, each putting itself right, lives as it does alone."""
    text = study(
        "runs = 3",
        'stop.jam.every = "10 h"',
        'stop.jam.repair = "1 h"',
        "stop.jam.needs_person = false",
    )
    text += '[scenario.more]\nparent = "today"\nmachine.mill.count = 2\n'
    watching = Watching()
    compare(sound(text), watching)
    alone, of_two = ([t for c, t in watching.seen if c.groups[0].count == n] for n in (1, 2))
    assert [one.spent[0] for one in alone] == [one.spent[0] for one in of_two]
    assert all(one.spent[0] != one.spent[1] for one in of_two)
    assert len({one.spent[0] for one in alone}) == 3


# --- how runs are told ---------------------------------------------------------------------

JAM = ('stop.jam.every = "10 h"', 'stop.jam.repair = "1 h"')


def told(*lines: str) -> tuple[object, float, list[float]]:
    """The band and the spindle hours in the JSON, and those of each run, lowest first."""
    watching = Watching()
    found = compare(sound(study(*lines)), watching)
    one = json_of(found)["scenarios"]["today"]
    runs = sorted(in_cycle(tally) / 13 for _, tally in watching.seen)
    return one["band"], one["simulated"]["spindle_hours"]["total"], runs


def test_the_band_lies_between_the_tenth_and_ninetieth_of_a_hundred() -> None:
    band, hours, runs = told("runs = 19", *JAM)
    assert runs[0] < runs[1] < runs[17] < runs[18]
    assert hours == pytest.approx(mean(runs), abs=1e-6)
    # Of 19 runs in order these ranks are 0.1 x 20 and 0.9 x 20.
    assert band == pytest.approx([runs[1], runs[17]], abs=1e-6)


def test_one_run_is_its_own_band() -> None:
    band, hours, runs = told("runs = 1", *JAM)
    assert len(runs) == 1
    assert band == [hours, hours]


def test_no_band_and_one_run_without_stops() -> None:
    band, hours, runs = told("runs = 11")
    assert band is None
    assert runs == [hours] == [168]
    assert told("runs = 11", 'stop.jam.every = "0 h"', JAM[1]) == (None, 168, [168])


def test_the_study_asks_for_the_runs() -> None:
    assert plan_of(study("runs = 7", *JAM)).runs == 7
    assert plan_of(study("runs = 7")).runs == 1
