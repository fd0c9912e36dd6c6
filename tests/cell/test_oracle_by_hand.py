"""The plain second model against tiny cells reckoned with pencil and paper.

All times in the comments are seconds from Monday 06:00, when the first shift starts, 21,600 s
into the week; the week has 604,800 s. Unless a test says otherwise a visit to an empty table
takes 60 (walk) + 120 (load) = 180 s, one to a cut piece 60 + 60 (unload) + 120 = 240 s.
"""

from __future__ import annotations

import itertools
import math
import random
import statistics
import tomllib
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from hypothesis import Phase, given, settings
from lengths import examples
from oracle.hours import WEEK
from oracle.luck import luck, scatter
from oracle.model import simulate
from oracle.specs import cells, study_text
from plain_cells import BEFORE, TWO_PALLETS, only, part, shift, spent, week


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


# --- who does what, and when nobody is there --------------------------------------------


def test_a_visit_with_a_setup_waits_for_somebody_who_sets_up() -> None:
    # The first hour's person may not. The second hour's does: 60 + 300 + 120, cut from 4080.
    shifts = {"early": shift(does=["load"]), "late": shift("07:00", "08:00")}
    result = simulate(week(shift=shifts, part={"body": part(setup=300)}))
    assert only(result).states["waiting_for_person"] == 3600
    assert only(result).states["setup"] == 300
    assert result.cut == {"body": 4}
    # Once it is set up the first person loads it: the person of the next hour has nothing to do.
    shifts = {"early": shift(), "late": shift("07:00", "08:00", does=["load"])}
    assert simulate(week(shift=shifts, part={"body": part(setup=300)})).cut == {"body": 8}


def test_the_person_listed_first_of_those_who_may_comes() -> None:
    # Two people at once: the first listed may not set up, and loads the second table's part.
    shifts = {"loaders": shift(does=["load"]), "setters": shift()}
    parts = {
        "body": part(setup=300, machines=["mill"], cycle=10**6),
        "cover": part(machines=["lathe"], cycle=10**6),
    }
    trace = simulate(
        week(shift=shifts, machine={"mill": {}, "lathe": {}}, part=parts), trace=True
    ).trace
    taken = [text.split(":")[0] for _, text in trace if "takes" in text]
    assert sorted(taken) == [
        "loaders 1 takes lathe 1 pallet 1",
        "setters 1 takes mill 1 pallet 1",
    ]


def test_a_shift_that_does_not_load_leaves_the_cell_alone() -> None:
    # From 6 to 7 there is somebody for repairs alone: after hours for the machine.
    shifts = {"early": shift(does=["repair"]), "late": shift("07:00", "08:00")}
    result = simulate(week(shift=shifts))
    assert spent(only(result)) == {
        "nobody_on_duty": WEEK - 3600 - 540,
        "load": 180 + 4 * 240,
        "in_cycle": 5 * 600,
    }
    assert only(result).in_cycle_by_mode == {"attended": 2460, "breaks": 0, "after_hours": 540}
    assert (result.people.paid, result.people.on_duty) == (7200, 7200)


def test_only_who_does_tools_leaves_them_new() -> None:
    # As where the tool change is dropped at 3600; but who leaves does no tools, and the second
    # pallet stays out. On Sunday's last hour somebody renews them: till the week's end.
    shifts = {
        "early": shift(does=["load", "setup"]),
        "late": shift("23:00", "00:00") | {"days": ["sun"]},
    }
    cell = week(
        shift=shifts,
        machine=TWO_PALLETS,
        part={"body": WORN | {"tool_change": 3600}},
        unattended={"after_shift": "until done"},
    )
    assert simulate(cell).cut == {"body": 2}
    assert only(simulate(cell)).states["person_at_machine"] == 3600
    cell["shift"]["early"]["does"].append("tools")
    assert simulate(cell).cut == {"body": 4}


def test_people_pause_in_both_kinds_of_break_and_are_paid_in_one() -> None:
    breaks = {"breaks": ["06:10-06:20"], "unpaid_breaks": ["06:30-06:45"]}
    people = simulate(week(shift={"early": shift(**breaks)})).people
    assert (people.paid, people.on_duty) == (3600 - 900, 3600 - 900 - 600)


def test_nights_are_those_of_the_days_on_which_their_shifts_began() -> None:
    # Loads of an hour. Monday: cuts from 210 and, after the shift, from 3840. Tuesday: both are
    # visited till 480, cut from 270 till 3870; the other is not sent in that night.
    early = {"early": shift() | {"days": ["mon", "tue"]}}
    cell = week(
        shift=early,
        machine=TWO_PALLETS,
        part={"body": part(cycle=3600)},
        unattended={"after_shift": 7200, "nights": ["mon"]},
    )
    result = simulate(cell)
    assert result.cut == {"body": 3}
    assert only(result).states["outside_running_hours"] == WEEK - BEFORE - 24 * 3600 - 3870
    del cell["unattended"]["nights"]
    assert simulate(cell).cut == {"body": 4}


def test_a_night_shift_s_end_counts_for_the_day_on_which_it_began() -> None:
    # From Monday 22:00, from which times count here, to Tuesday 06:00 at 28,800. Cuts from 210 and
    # 20,240. Pallet 1 is loaded anew till 20,450 and goes in at 40,240, 11,440 s after the end.
    late = {"late": shift("22:00", "06:00")}
    cell = week(shift=late, machine=TWO_PALLETS, part={"body": part(cycle=20000)})
    cell["unattended"] = {"after_shift": 18000, "nights": ["mon"]}
    assert simulate(cell).cut == {"body": 3}
    cell["unattended"]["nights"] = ["tue"]
    assert simulate(cell).cut == {"body": 2}


def test_a_machine_that_is_not_left_alone() -> None:
    # As two pallets and one person; the night would be long enough.
    cell = week(
        machine={"mill": {"pallets": 2, "pallet_change": 30, "unattended": False}},
        unattended={"after_shift": "until done"},
    )
    assert spent(only(simulate(cell))) == {
        "load": 180,
        "pallet_change": 6 * 30,
        "in_cycle": 6 * 600,
        "outside_running_hours": WEEK - BEFORE - 3960,
        "nobody_on_duty": BEFORE,
    }


# --- luck -------------------------------------------------------------------------------


def test_visits_scatter_as_a_whole_with_their_bench_work() -> None:
    # One piece: a visit of 180 s, one of 120 s with 300 s at the bench. With a fifth of the time
    # for other things each takes 1.25 times as long, after it was scattered.
    cell = week(
        shift={"early": shift(end="14:00")},
        part={"body": part(batch=1, weekly=1, bench=300)},
        sequence={"run_ahead": 0},
        handling={"other_duties": 20, "scatter": 40},
    )
    deck = random.Random("7 1 1")
    variance = math.log(1 + 0.4 * 0.4)
    first, second = (deck.lognormvariate(-variance / 2, variance**0.5) for _ in range(2))
    stated = [180 * first, 120 * second, 300 * second]
    busy = sum(math.floor(1.25 * seconds + 0.5) for seconds in stated)
    assert simulate(cell, draw_number=7).people.busy == busy
    assert simulate(cell).people.busy == 225 + 150 + 375


def test_factors_have_mean_one_and_the_variation_given() -> None:
    factors = list(itertools.islice(scatter(30, 1, 1, 1), 20000))
    assert abs(statistics.mean(factors) - 1) < 0.01
    assert abs(statistics.stdev(factors) - 0.3) < 0.01


def test_stops_are_dealt_by_run_machine_and_stop() -> None:
    first = random.Random("3 2 jam").expovariate(1 / 1000)
    assert next(luck({"stop": {"jam": {"every": 1000}}})(3, 2, "jam")) == math.floor(first + 0.5)


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
