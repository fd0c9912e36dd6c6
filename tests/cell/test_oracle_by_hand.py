"""The plain second model against tiny cells reckoned with pencil and paper.

All times in the comments are seconds from Monday 06:00, when the first shift starts, 21,600 s
into the week; the week has 604,800 s. Unless a test says otherwise a visit to an empty table
takes 60 (walk) + 120 (load) = 180 s, one to a cut piece 60 + 60 (unload) + 120 = 240 s.
"""

from __future__ import annotations

import itertools
import tomllib
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from hypothesis import Phase, given, settings
from lengths import examples
from oracle.hours import WEEK
from oracle.model import simulate
from oracle.results import MachineResult, Result
from oracle.specs import cells, luck, study_text

BEFORE = 6 * 3600  # Monday's first six hours: everything asks, nobody is on duty


def shift(start: str = "06:00", end: str = "07:00", **keys: Any) -> dict[str, Any]:
    return {"days": ["mon"], "start": start, "end": end, **keys}


def part(**keys: Any) -> dict[str, Any]:
    return {"cycle": 600, "load": 120, "unload": 60, "weekly": 1000, **keys}


def week(**tables: Any) -> dict[str, Any]:
    """One week from a cold start: one table, one part, Monday's first hour with one person."""
    return {
        "weeks": 1,
        "warm_up": 0,
        "shift": {"early": shift()},
        "machine": {"mill": {}},
        "part": {"body": part()},
        **tables,
    }


def only(result: Result) -> MachineResult:
    assert len(result.machines) == 1
    return result.machines[0]


def spent(machine: MachineResult) -> dict[str, Fraction]:
    """The states that occurred."""
    return {state: seconds for state, seconds in machine.states.items() if seconds}


def test_one_table_and_no_breaks() -> None:
    # Eight hours. Cut n begins at 180 + 840 (n - 1) and not after 28,800: n = 35 at 28,740, which
    # ends at 29,340, 540 s after the shift. Visits: 180 + 34 x 240 = 8,340.
    # Attended in cycle: 28,800 - 8,340 = 20,460 = 34 x 600 + 60.
    result = simulate(week(shift={"early": shift(end="14:00")}, part={"body": part(scrap=7)}))
    mill = only(result)
    assert spent(mill) == {
        "in_cycle": 35 * 600,
        "load": 8340,
        "nobody_on_duty": WEEK - 28800 - 540,
    }
    assert mill.in_cycle_by_mode == {"attended": 20460, "breaks": 0, "after_hours": 540}
    assert (mill.cut, mill.good) == ({"body": 35}, {"body": Fraction(35 * 93, 100)})
    people = result.people
    assert (people.paid, people.on_duty, people.busy) == (28800, 28800, 8340)


TWO_PALLETS: dict[str, Any] = {"mill": {"pallets": 2, "pallet_change": 30}}


def test_two_pallets_and_one_person() -> None:
    # Pallet 1 is ready at 180, pallet 2 at 360. Cuts begin at 210 + 630 (n - 1): 210, 840, 1470,
    # 2100, 2730, 3360; the sixth ends at 3960, 360 s after the shift. The other pallet, cut at
    # 3330, is ready at 3570 and may not go in. Visits: 2 x 180 + 5 x 240 = 1560.
    result = simulate(week(machine=TWO_PALLETS))
    assert spent(only(result)) == {
        "load": 180,
        "pallet_change": 6 * 30,
        "in_cycle": 6 * 600,
        "outside_running_hours": WEEK - BEFORE - 3960,
        "nobody_on_duty": BEFORE,
    }
    assert result.cut == {"body": 6}
    assert result.people.busy == 1560


def test_hold_stops_the_piece_where_finish_piece_lets_it_end() -> None:
    # As above, but the sixth cut is held at 3600 after 240 s.
    held = only(simulate(week(machine=TWO_PALLETS, unattended={"at_limit": "hold"})))
    assert held.states["in_cycle"] == 5 * 600 + 240
    assert held.states["outside_running_hours"] == WEEK - BEFORE - 3600
    assert held.cut == {"body": 5}


def test_a_break_without_beginning_and_with_hold() -> None:
    # Break from 1800 to 2400. Cut 3 began at 1470; with finish_piece it ends at 2070, and the
    # ready pallet waits till 2400: 330 s. With hold it stands from 1800 to 2400.
    # The person is needed at 2070 (finish) and at 2670 (hold), both not before 2400.
    early = {"early": shift(unpaid_breaks=["06:30-06:40"])}
    rules = {"through_breaks": False, "at_limit": "finish_piece"}
    finish = simulate(week(shift=early, machine=TWO_PALLETS, unattended=rules))
    # finish: cuts from 2430 and 3060, the latter ends at 3660; a pallet is ready.
    assert only(finish).states["outside_running_hours"] == 330 + WEEK - BEFORE - 3660
    assert only(finish).in_cycle_by_mode == {
        "attended": 3 * 600 - 270 + 600 + 540,
        "breaks": 270,
        "after_hours": 60,
    }
    assert (finish.people.paid, finish.people.on_duty) == (3000, 3000)
    rules = {"through_breaks": False, "at_limit": "hold"}
    hold = only(simulate(week(shift=early, machine=TWO_PALLETS, unattended=rules)))
    # hold: cut 3 ends at 2670, cut 4 runs from 2700 to 3300, cut 5 from 3330 and is held at 3600.
    assert hold.states["in_cycle"] == 4 * 600 + 270
    assert hold.states["outside_running_hours"] == 600 + WEEK - BEFORE - 3600


def test_the_night_ends_when_the_pallets_run_out() -> None:
    # Loads of 3600 s: from 210, 3840 and 7470, the last ends at 11,070. Then all three pallets
    # ask and nobody is there.
    cell = week(
        machine={"mill": {"pallets": 3, "pallet_change": 30}},
        part={"body": part(cycle=3600)},
        unattended={"after_shift": "until done"},
    )
    mill = only(simulate(cell))
    assert spent(mill) == {
        "load": 180,
        "pallet_change": 90,
        "in_cycle": 3 * 3600,
        "nobody_on_duty": WEEK - 11070,
    }
    assert mill.in_cycle_by_mode == {"attended": 3390, "breaks": 0, "after_hours": 7410}
    # With one hour after the shift the third pallet, due in at 7440, stays outside.
    cell["unattended"] = {"after_shift": 3600}
    mill = only(simulate(cell))
    assert mill.cut == {"body": 2}
    assert mill.states["outside_running_hours"] == WEEK - BEFORE - 7440


def test_a_first_piece_is_released_in_releasing_hours_or_strands() -> None:
    # The first load is one piece: cut from 180 to 780, released at 2580. The visit takes
    # 60 + 60 + 2 x 120 = 360, the two pieces run from 2940 to 4140.
    released = only(simulate(week(part={"body": part(first_piece=1800, per_pallet=2)})))
    assert spent(released) == {
        "load": 180 + 360,
        "in_cycle": 3 * 600,
        "first_piece": 1800,
        "nobody_on_duty": WEEK - 4140,
    }
    # An hour's wait has run for 2820 s when the shift ends, and strands. The second shift of the
    # day has a person who loads but releases nothing: the cell is attended till 7200.
    shifts = {"early": shift(), "late": shift("07:00", "08:00", does=["load"])}
    cell = week(shift=shifts, part={"body": part(first_piece=3600, per_pallet=2)})
    stranded = only(simulate(cell))
    assert stranded.cut == {"body": 1}
    assert stranded.states["first_piece"] == 7200 - 780
    assert stranded.states["nobody_on_duty"] == WEEK - 7200


def test_a_resting_pallet_loses_its_fixture_to_the_machine_with_less_to_do() -> None:
    # "long" (an order an hour, one fixture) goes on mill pallet 1 and keeps the mill busy; its
    # overdue second order holds back "body" (an order every 12 h): order 2 is opened at 12:00,
    # that is in the week's second 43,200. Seconds of the week here:
    # 21,600 both persons load the mill: pallet 1 till 22,260 (60 + 600), pallet 2 till 22,080
    #   (60 + 300 + 120). At 22,080 the lathe's turn comes, it rests.
    # 22,080 body goes in: change 30, cut 600, off at 22,710; visit 120, pallet 2 rests, 22,830.
    # 22,710 long goes in: change 30, cut 100,000 till 122,740; pallet 1 asks.
    # 43,200 lathe and pallet 2 ask. The mill has a loaded pallet, the lathe none: the lathe is
    #   first and takes the fixture off pallet 2: 300 setup + 180, cut 600, off 120: 44,400.
    # 86,400 order 3 is opened; both ask; nobody is there.
    cell = week(
        shift={"early": shift(end="14:00", people=2)},
        machine={"mill": {"pallets": 2, "load_stations": 2, "pallet_change": 30}, "lathe": {}},
        part={
            "long": part(cycle=100000, batch=1, weekly=168, load=600, fixtures=1)
            | {"machines": ["mill"]},
            "body": part(batch=1, weekly=14, setup=300, fixtures=1),
        },
        sequence={"run_ahead": 0},
    )
    result = simulate(cell, trace=True)
    mill, lathe = result.machines
    assert spent(mill) == {
        "load": 480,
        "pallet_change": 60,
        "in_cycle": 100600,
        "nobody_on_duty": BEFORE + WEEK - 122740,
    }
    assert spent(lathe) == {
        "waiting_for_person": 480,
        "setup": 300,
        "load": 180 + 120,
        "in_cycle": 600,
        "nothing_due": (43200 - 22080) + (86400 - 44400),
        "nobody_on_duty": BEFORE + WEEK - 86400,
    }
    assert (43200, "mill 1 pallet 2: its fixture for body is taken by lathe 1 pallet 1") in (
        result.trace
    )


def test_the_second_table_has_no_fixture() -> None:
    # Mill 1 takes the only fixture. Mill 2 waits till the person is free at 180, then rests.
    cell = week(machine={"mill": {"count": 2}}, part={"body": part(fixtures=1)})
    second = simulate(cell).machines[1]
    assert spent(second) == {
        "nobody_on_duty": BEFORE,
        "waiting_for_person": 180,
        "no_fixture": WEEK - BEFORE - 180,
    }


def test_an_interrupted_visit_is_taken_up_by_the_next_shift() -> None:
    # Load 1800: visit till 1860, cut till 2460; the next visit needs 1920 and gets 1140 before
    # the shift ends at 3600. The late shift (7200 to 10,800) does the other 780, without a second
    # walk; cut from 7980 to 8580, visit till 10,500, cut till 11,100.
    shifts = {"early": shift(), "late": shift("08:00", "09:00")}
    result = simulate(week(shift=shifts, part={"body": part(load=1800)}))
    assert spent(only(result)) == {
        "load": 1860 + 1140 + 780 + 1920,
        "in_cycle": 3 * 600,
        "nobody_on_duty": BEFORE + 3600 + WEEK - BEFORE - 11100,
    }
    assert result.people.busy == 1860 + 1140 + 780 + 1920


def test_bench_work_is_carried_over_to_the_person_s_next_shift() -> None:
    # Monday: cuts from 180, 1020, 1860, 2700 and 3540; the bench for the fourth piece begins at
    # 3540, 240 of its 300 s are left at 3600. Tuesday: 240 at the bench first, while the table
    # waits; cuts from 480, 1320, 2160 and 3000. Busy on Monday 180 + 4 x 240 + 3 x 300 + 60, on
    # Tuesday 240 + 4 x (240 + 300).
    cell = week(shift={"early": shift() | {"days": ["mon", "tue"]}}, part={"body": part(bench=300)})
    result = simulate(cell)
    assert result.cut == {"body": 9}
    assert only(result).states["waiting_for_person"] == 240
    assert only(result).in_cycle_by_mode == {"attended": 8 * 600 + 60, "breaks": 0} | {
        "after_hours": 540
    }
    assert result.people.busy == 2100 + 2400


WORN: dict[str, Any] = part(per_pallet=2, tool_life=3, tool_change=300)


def test_a_tool_change_comes_before_the_visit_asked_for_at_the_same_instant() -> None:
    # Loads of two pieces, tools for three: each load needs new tools. Cuts begin at
    # 330 + 1530 n = 330, 1860, 3390, 4920, 6450 (30 change, 1200 cut, 300 tools). The last load's
    # second piece begins at 7050, before the shift ends at 7200, and ends at 7650; by then its
    # tools are used again, and nobody is there to renew them.
    cell = week(shift={"early": shift(end="08:00")}, machine=TWO_PALLETS, part={"body": WORN})
    assert spent(only(simulate(cell))) == {
        "load": 300,
        "pallet_change": 5 * 30,
        "in_cycle": 10 * 600,
        "person_at_machine": 4 * 300,
        "nobody_on_duty": WEEK - 7650,
    }


def test_the_shift_s_end_leaves_all_tools_new() -> None:
    # The tool change begun at 1530 is dropped at 3600; pallet 2 goes in at once and is cut by
    # 4830, in the night. Then everything is cut.
    cell = week(
        machine=TWO_PALLETS,
        part={"body": WORN | {"tool_change": 3600}},
        unattended={"after_shift": "until done"},
    )
    assert spent(only(simulate(cell))) == {
        "load": 300,
        "pallet_change": 60,
        "in_cycle": 4 * 600,
        "person_at_machine": 3600 - 1530,
        "nobody_on_duty": WEEK - 4830,
    }


def test_setup_prove_out_and_warm_up_come_in_this_order() -> None:
    # Visit 60 + 600 + 120 = 780; prove-out till 1680; warm-up till 1980; cut till 2580; visit till
    # 2820; cut till 3420; the visit begun then is interrupted at 3600.
    cell = week(machine={"mill": {"warm_up": 300}}, part={"body": part(setup=600, prove_out=900)})
    result = simulate(cell)
    assert spent(only(result)) == {
        "setup": 600,
        "load": 180 + 240 + 180,
        "person_at_machine": 900,
        "warm_up": 300,
        "in_cycle": 1200,
        "nobody_on_duty": WEEK - 3600,
    }
    assert result.people.busy == 780 + 900 + 240 + 180


def test_a_shift_over_the_week_s_end_runs_at_time_zero() -> None:
    # Sunday 22:00 to Monday 06:00: 21,600 s at the week's beginning, 7200 s at its end. Cuts begin
    # at 180 + 840 n up to 21,180 (26 of them); on Sunday at 240 + 840 n up to 6960: the ninth has
    # run 240 s when the week ends.
    cell = week(shift={"night": shift("22:00", "06:00") | {"days": ["sun"]}})
    result = simulate(cell)
    assert result.cut == {"body": 26 + 8}
    assert result.states["in_cycle"] == 34 * 600 + 240
    assert result.people.paid == 28800


def test_a_stop_takes_the_person_and_the_piece_goes_on_after_it() -> None:
    # The stop comes after 1000 s in cycle, 400 s into the second piece, at 1420; repaired by 1720;
    # the piece ends at 1920. Then cuts from 2160 and from 3000, which ends with the shift.
    def after_1000_seconds(run: int, machine_number: int, stop: str) -> Iterator[int]:
        assert (run, machine_number, stop) == (1, 1, "jam")
        return itertools.chain([1000], itertools.repeat(10**9))

    cell = week(stop={"jam": {"every": 1000, "repair": 300}})
    result = simulate(cell, draw=after_1000_seconds)
    assert spent(only(result)) == {
        "load": 180 + 3 * 240,
        "in_cycle": 4 * 600,
        "stopped": 300,
        "nobody_on_duty": WEEK - 3600,
    }
    assert result.people.busy == 180 + 3 * 240 + 300


def test_other_duties_lengthen_a_visit_and_halves_go_up() -> None:
    # 2 s of walking take 2 / 0.8 = 2.5, that is 3 s.
    result = simulate(
        week(
            handling={"walk": 2, "other_duties": 20},
            part={"body": part(cycle=10**6, load=0)},
        )
    )
    assert result.people.busy == 3


@examples(60, shrinks=False)
@given(cells())
def test_the_accounts_close(spec: dict[str, Any]) -> None:
    result = simulate(spec, draw=luck(spec))
    for machine in result.machines:
        in_cycle = machine.states["in_cycle"]
        assert sum(machine.states.values()) == spec["weeks"] * WEEK
        assert sum(machine.in_cycle_by_mode.values()) == in_cycle
        assert sum(machine.in_cycle_by_part.values()) == in_cycle
    assert 0 <= result.people.busy <= result.people.on_duty <= result.people.paid


@settings(max_examples=15, deadline=None, derandomize=True, phases=[Phase.generate])
@given(cells())
def test_a_spec_is_written_as_a_study_file(spec: dict[str, Any]) -> None:
    study = tomllib.loads(study_text(spec))
    assert (study["format"], study["weeks"], study["warm_up"]) == (
        1,
        spec["weeks"],
        spec["warm_up"],
    )
    base = study["scenario"]["base"]
    assert {name: set(base[name]) for name in ("shift", "machine", "part")} == {
        name: set(spec[name]) for name in ("shift", "machine", "part")
    }
    for name, entry in spec["part"].items():
        value, unit = base["part"][name]["cycle"].split()
        assert int(value) * {"s": 1, "min": 60}[unit] == entry["cycle"]
