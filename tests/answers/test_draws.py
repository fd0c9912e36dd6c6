"""Draws of stated times and demands: factors and seeds, and a range found in an independent way."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from math import floor, sqrt
from random import Random
from statistics import mean, stdev

import pytest
from answer_studies import plan_of, sound

from whatif.answers.compare import compare
from whatif.answers.ranged import with_likely
from whatif.cell.model import Cell, Making
from whatif.cell.run import Run
from whatif.cell.tally import Tally
from whatif.plan.draws import drawn_plan
from whatif.plan.model import Plan
from whatif.session.calculate.memory import Memory

STUDY = """\
format = 1
weeks = 2
warm_up = 1
runs = 3
accuracy = "10 %"
guess_accuracy = "40 %"
[scenario.now]
notes = "Assumed until measured: part.body.setup = 20 min."
machine.mill.count = 2
machine.mill.pallets = 3
machine.mill.warm_up = "6 min"
machine.saw.count = 1
part.body.cycle = "7 min"
part.body.weekly = 100
part.body.after = "sawn"
part.body.setup = "20 min"
part.body.bench = "30 s"
part.body.first_piece = "15 min"
part.body.machines = ["mill"]
part.body.on.mill.load = "90 s"
part.sawn.cycle = "100 s"
part.sawn.machines = ["saw"]
part.sawn.load = "1 s"
[scenario.now.shift.early]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
people = 2
[scenario.now.stop.jam]
every = "9 h"
repair = "12 min"
[scenario.more]
parent = "now"
machine.mill.count = 3
part.body.cycle = "6 min"
"""


def factor(draw: int, scenario: str, key: str, wide: float) -> float:
    """As the book has it."""
    return Random(f"{draw} {scenario} {key}").uniform(1 - wide, 1 + wide)


def seconds(stated: float, draw: int, scenario: str, key: str, wide: float) -> int:
    return floor(stated * factor(draw, scenario, key, wide) + 0.5)


def cell_of(plan: Plan, draw: int) -> Cell:
    cell = drawn_plan(plan, draw).cell
    assert cell is not None
    return cell


def making_of(cell: Cell, part: str, group: str) -> Making:
    made = next(each for each in cell.parts if each.id == part)
    place = [each.id for each in cell.groups].index(group)
    making = made.making[place]
    assert making is not None
    return making


@pytest.mark.parametrize("draw", [1, 2, 19])
def test_every_stated_time_has_a_factor_of_its_own(draw: int) -> None:
    now, more = (cell_of(plan_of(STUDY, id_), draw) for id_ in ("now", "more"))
    for cell, cycle in ((now, (420, "now")), (more, (360, "more"))):
        mill, saw = making_of(cell, "body", "mill"), making_of(cell, "sawn", "saw")
        # Entered, and as well known as that; what is inherited moves as where it stands.
        assert mill.cycle == seconds(cycle[0], draw, cycle[1], "part.body.cycle", 0.1)
        assert mill.load == seconds(90, draw, "now", "part.body.on.mill.load", 0.1)
        assert saw.cycle == seconds(100, draw, "now", "part.sawn.cycle", 0.1)
        # Defaults stand nowhere.
        assert mill.unload == seconds(60, draw, "", "part.body.unload", 0.4)
        assert saw.unload == seconds(60, draw, "", "part.sawn.unload", 0.4)
        assert cell.walk == seconds(60, draw, "", "handling.walk", 0.4)
        mills, saws = cell.groups
        assert mills.pallet_change == seconds(30, draw, "", "machine.mill.pallet_change", 0.4)
        assert mills.warm_up == seconds(360, draw, "now", "machine.mill.warm_up", 0.1)
        assert (saws.pallet_change, saws.warm_up) == (0, 0)
        # A guess is entered, and known no better than what is assumed.
        assert mill.setup == seconds(1200, draw, "now", "part.body.setup", 0.4)
        assert (mill.prove_out, saw.setup) == (0, 0)
        body = next(part for part in cell.parts if part.id == "body")
        assert body.bench == seconds(30, draw, "now", "part.body.bench", 0.1)
        assert body.first_piece == seconds(900, draw, "now", "part.body.first_piece", 0.1)
        assert body.tool_change == seconds(300, draw, "", "part.body.tool_change", 0.4)
        (jam,) = cell.stops
        assert jam.every == seconds(9 * 3600, draw, "now", "stop.jam.every", 0.1)
        assert jam.repair == seconds(720, draw, "now", "stop.jam.repair", 0.1)
        assert (cell.luck, cell.scatter) == (draw, 0.3)


@pytest.mark.outside("Uniform distribution: mean, deviation and ends of drawn times", values=3)
def test_drawn_times_are_spread_as_a_uniform_distribution_is() -> None:
    """Mean 1, deviation a / sqrt(3), nothing beyond 1 - a and 1 + a: as in any text on statistics,
    from memory. A time entered, with a = 0.1, and one guessed, with 0.4, over 400 draws."""
    plan, draws = plan_of(STUDY, "now"), range(1, 401)
    cells = [cell_of(plan, draw) for draw in draws]
    entered = [cell.stops[0].every / (9 * 3600) for cell in cells]
    guessed = [making_of(cell, "body", "mill").setup / 1200 for cell in cells]
    for found, wide in ((entered, 0.1), (guessed, 0.4)):
        deviation = wide / sqrt(3)
        assert mean(found) == pytest.approx(1, abs=3 * deviation / sqrt(len(found)))
        assert stdev(found) == pytest.approx(deviation, rel=0.1)
        assert 1 - wide - 0.001 <= min(found) <= 1 - 0.95 * wide
        assert 1 + 0.95 * wide <= max(found) <= 1 + wide + 0.001


def test_the_demand_of_an_operation_before_another_follows_that_ones() -> None:
    plan = plan_of(STUDY, "more")
    found = drawn_plan(plan, 4)
    times = Fraction(factor(4, "now", "part.body.weekly", 0.1))
    weekly = {part.id: part.weekly for part in found.parts}
    assert weekly == {"body": 100 * times, "sawn": 100 * times}
    assert found.cell is not None
    assert {part.id: part.weekly for part in found.cell.parts} == weekly
    own = STUDY.replace("part.sawn.cycle", "part.sawn.weekly = 130\npart.sawn.cycle")
    entered = {part.id: part.weekly for part in drawn_plan(plan_of(own, "now"), 4).parts}
    assert entered == {"body": 100 * times, "sawn": 130 * times}


def test_worth_is_the_draws() -> None:
    found = drawn_plan(plan_of(STUDY, "now"), 2)
    cycles = {
        "body": seconds(420, 2, "now", "part.body.cycle", 0.1),
        "sawn": seconds(100, 2, "now", "part.sawn.cycle", 0.1),
    }
    assert found.cycles == cycles
    assert {part.id: part.cycle for part in found.parts} == cycles


def test_no_time_above_0_that_must_be_so_is_drawn_away() -> None:
    text = STUDY.replace('"40 %"', '"90 %"').replace('"20 min"', '"1 s"')
    text = text.replace("part.body.setup = 20 min", "part.body.setup = 1 s; part.sawn.cycle = 1 s")
    text = text.replace('part.sawn.cycle = "100 s"', 'part.sawn.cycle = "1 s"')
    plan = plan_of(text, "now")
    found = [making_of(cell_of(plan, draw), "sawn", "saw").cycle for draw in range(1, 40)]
    setups = {making_of(cell_of(plan, draw), "body", "mill").setup for draw in range(1, 40)}
    assert set(found) == {1, 2}
    assert setups == {0, 1, 2}


def test_nothing_else_is_drawn() -> None:
    """Not how many make a load, nor what lies in the plan beside times and demands."""
    plan = plan_of(STUDY, "now")
    found = drawn_plan(replace(plan, weeks=30, runs=3, settled=True), 1)
    assert (found.weeks, found.runs, found.settled) == (24, 1, False)
    kept = replace(
        found, cell=plan.cell, parts=plan.parts, cycles=plan.cycles, weeks=2, runs=plan.runs
    )
    assert kept == plan
    for cell in (found.cell, plan.cell):
        assert cell is not None
        assert [group.count for group in cell.groups] == [2, 1]
        assert making_of(cell, "body", "mill").per_pallet == 1


def test_a_gap_that_is_laid_stays_what_it_is() -> None:
    plan = plan_of(STUDY, "now")
    assert plan.cell is not None
    laid = replace(plan, cell=replace(plan.cell, visit_extra=17, load_extra=9))
    cell = cell_of(laid, 1)
    assert (cell.visit_extra, cell.load_extra) == (17, 9)


# --- in an independent way ---------------------------------------------------------------

PLAIN = """\
format = 1
weeks = 3
warm_up = 1
runs = 3
accuracy = "10 %"
guess_accuracy = "10 %"
[scenario.now]
handling.walk = "60 s"
handling.scatter = "0 %"
machine.mill.count = 1
part.body.cycle = "700 s"
part.body.weekly = 1000
part.body.load = "120 s"
part.body.unload = "60 s"
part.body.tool_change = "300 s"
machine.mill.pallet_change = "30 s"
[scenario.now.shift.early]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
[scenario.two]
parent = "now"
machine.mill.pallets = 2
part.body.cycle = "650 s"
"""
"""Every time is entered, so that each can be edited where it stands."""


def run_alone(cell: Cell, warm_up: int, weeks: int) -> Tally:
    run = Run(cell)
    run.advance(warm_up * 7 * 86400)
    before = run.tally()
    run.advance((warm_up + weeks) * 7 * 86400)
    return run.tally().since(before)


def edited(draw: int) -> str:
    """The file of a draw: each time as its scenario has it, and nothing left to be drawn."""
    lines, scenario = [], ""
    for line in PLAIN.splitlines():
        scenario = line[10:-1] if re.fullmatch(r"\[scenario\.\w+\]", line) else scenario
        time = re.fullmatch(r'([\w.]+) = "(\d+) s"', line)
        demand = re.fullmatch(r"(part\.body\.weekly) = (\d+)", line)
        if time:
            key = time[1]
            line = f'{key} = "{seconds(int(time[2]), draw, scenario, key, 0.1)} s"'
        elif demand:
            times = factor(draw, scenario, demand[1], 0.1)
            line = f"{demand[1]} = {int(demand[2]) * times:.9f}"
        lines.append(line)
    return "\n".join(lines).replace('"10 %"', '"0 %"')


@pytest.mark.long
def test_a_range_found_by_editing_the_file_draw_by_draw() -> None:
    """What a user could do by hand: three edited files, each compared as typed."""
    gains = []
    for draw in (1, 2, 3):
        by_hand = compare(sound(edited(draw)), run_alone).answers["two"].gains
        gains.append((by_hand.saleable, by_hand.output, by_hand.spindle_hours))
    memory = Memory()
    answer = with_likely(compare(sound(PLAIN), memory), memory).answers["two"]
    assert answer.likely is not None
    found = (answer.likely.saleable, answer.likely.output, answer.likely.spindle_hours)
    for likely, drawn in zip(found, zip(*gains, strict=True), strict=True):
        # Of three draws the ends are the first and the last, and the middle one the middle.
        assert likely == pytest.approx(sorted(drawn), abs=1e-6)
    assert len(set(gains)) == 3


def test_stops_have_the_luck_of_the_draw() -> None:
    plan = plan_of(STUDY, "now")
    assert [cell_of(plan, draw).luck for draw in (1, 7)] == [1, 7]
