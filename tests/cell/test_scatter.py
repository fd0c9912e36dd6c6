"""Visits scatter by seeded factors (rule `people.scatter`)."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from fractions import Fraction
from statistics import mean, stdev

import pytest

from whatif.cell.luck import Scatter
from whatif.cell.model import DAY, HOUR, WEEK, Cell, MachineGroup, Making, Part, Shift
from whatif.cell.run import Run
from whatif.cell.states import State

ALL_DAY = Shift("all", (0, 1, 2, 3, 4, 5, 6), 0, DAY, people=4)
MAKING = Making(cycle=3600, load=600, unload=300, setup=900)
VARIATION = 0.5


def cell(**changes: object) -> Cell:
    """Two machines with two pallets each, somebody for each pallet at any time."""
    plain = Cell(
        shifts=(ALL_DAY,),
        groups=(MachineGroup("mill", count=2, pallets=2, load_stations=2, pallet_change=0),),
        parts=(Part("body", (MAKING,), Fraction(1000), batch=1000, at_once=4, bench=120),),
        luck=7,
        scatter=VARIATION,
    )
    return replace(plain, **changes)  # type: ignore[arg-type]  # names of fields are typed by hand


def factors(machine: int, pallet: int, luck: int = 7) -> random.Random:
    return random.Random(f"{luck} {machine} {pallet}")


def factor(dealt: random.Random) -> float:
    spread = math.log(1 + VARIATION**2)
    return dealt.lognormvariate(-spread / 2, math.sqrt(spread))


def test_each_pallet_has_factors_of_its_own_by_machine_and_number() -> None:
    """Of 1,560 s (walk 60, setup 900, load 600) of the first visit, whole seconds, halves up."""
    run = Run(cell())
    for place, (machine, pallet) in enumerate(((1, 1), (1, 2), (2, 1), (2, 2))):
        work = run.floor.persons[place].work
        assert work is not None
        assert work.total == math.floor(1560 * factor(factors(machine, pallet)) + 0.5)


def test_a_visit_and_its_bench_work_have_one_factor_and_other_duties_come_after() -> None:
    """The second visit: 60 + 300 + 600 s, 120 s at the bench; both take 1 / 0.8 as long."""
    one = cell(
        groups=(MachineGroup("mill"),),
        shifts=(replace(ALL_DAY, people=1),),
        other_duties=Fraction(1, 5),
    )
    dealt = factors(1, 1)
    first = math.floor(1560 * factor(dealt) / 0.8 + 0.5)
    again = factor(dealt)
    run = Run(one)
    run.advance(first + 3600 + 1)
    work = run.floor.persons[0].work
    assert work is not None
    assert work.total == math.floor(960 * again / 0.8 + 0.5)
    assert work.bench == math.floor(120 * again / 0.8 + 0.5)


def test_an_interrupted_visit_keeps_its_factor() -> None:
    """A shift of ten minutes in the hour: the visit goes on in the next with what is left."""
    hours = tuple(
        Shift(f"at_{hour}", (0,), hour * HOUR, 600, people=1, breaks=()) for hour in range(24)
    )
    run = Run(cell(groups=(MachineGroup("mill"),), shifts=hours))
    run.advance(DAY)
    booked = [sum(mode[state] for mode in run.tally().spent[0]) for state in State]
    whole = math.floor(1560 * factor(factors(1, 1)) + 0.5)
    again = factors(1, 1)
    factor(again)
    assert booked[State.SETUP] == whole * 900 // 1560
    assert booked[State.SETUP] + booked[State.LOAD] >= whole


def test_a_copy_goes_on_with_the_same_factors() -> None:
    run = Run(cell())
    run.advance(DAY)
    copy = run.copy()
    run.advance(WEEK)
    copy.advance(WEEK)
    assert run.tally() == copy.tally()


def test_equal_luck_is_met_whatever_else_is_there() -> None:
    """A machine more, or times of its own, changes nothing for those before it."""
    few, many = Run(cell()), Run(cell(groups=(replace(cell().groups[0], count=4),)))
    for one, other in zip(few.floor.persons, many.floor.persons, strict=True):
        assert one.work is not None
        assert other.work is not None
        assert one.work.total == other.work.total


def test_nothing_scatters_where_it_is_0() -> None:
    run = Run(cell(scatter=0.0))
    assert [person.work and person.work.total for person in run.floor.persons] == [1560] * 4


@pytest.mark.outside("Lognormal distribution: mean and coefficient of variation", values=2)
@pytest.mark.parametrize("variation", [0.1, 0.3, 1.0])
def test_factors_have_mean_one_and_the_variation_given(variation: float) -> None:
    """A lognormal of m and s has the mean exp(m + s^2 / 2) and the variation sqrt(exp(s^2) - 1), as
    in any text on statistics, from memory: 1 and the one given, where m = -s^2 / 2 and s^2 = log(1
    + variation^2)."""
    scatter = Scatter("seed", variation)
    found = [scatter.deal() for _ in range(20_000)]
    assert mean(found) == pytest.approx(1, abs=4 * variation / math.sqrt(20_000))
    assert stdev(found) == pytest.approx(variation, rel=0.1)
    assert min(found) > 0
