"""Setters who stay for their prove-outs, by the plain second model, with pencil and paper.

How times are told is said in `plain_cells`. Every part here has a setup of 600 s and a prove-out of
900 s: its first visit takes 60 (walk) + 600 + 120 (load) = 780 s, and what is cut, once proved,
takes the rest of the shift of four hours.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

from oracle.model import simulate
from plain_cells import BEFORE, part, shift, week

STAYS: dict[str, Any] = {"setter_stays": True}


def proved(**keys: Any) -> dict[str, Any]:
    return part(setup=600, prove_out=900, cycle=36000, **keys)


def cell(**tables: Any) -> dict[str, Any]:
    """Two tables and a part for each; the lathe and its cover come second."""
    return week(
        **{
            "shift": {"early": shift(end="10:00")},
            "machine": {"mill": {}, "lathe": {}},
            "part": {"body": proved(machines=["mill"]), "cover": proved(machines=["lathe"])},
            "handling": STAYS,
            **tables,
        }
    )


def with_two_pallets(change: int, **tables: Any) -> dict[str, Any]:
    """The mill has two pallets and takes orders of one body of two numbers, each set up anew."""
    mill = {"pallets": 2, "pallet_change": change}
    body = proved(machines=["mill"], numbers=2, batch=1)
    return cell(
        **{
            "machine": {"mill": mill, "lathe": {}},
            "part": {"body": body, "cover": proved(machines=["lathe"])},
            **tables,
        }
    )


def taken(spec: dict[str, Any], **luck: Any) -> list[tuple[int, str, str]]:
    """Who took what in the shift's first hours: when, who, and where or what it was."""
    trace = simulate(spec, trace=True, **luck).trace
    found = [(second - BEFORE, *text.split(" takes ")) for second, text in trace if "takes" in text]
    return [(second, who, what.split(", ")[0]) for second, who, what in found]


def test_a_prove_out_goes_ahead_of_a_visit_that_was_asked_for_earlier() -> None:
    # Both tables ask at 0. The mill's load is in when its visit ends at 780, and proved till 1680;
    # the lathe is visited till 2460 and proved.
    assert taken(cell()) == [
        (0, "early 1", "mill 1 pallet 1: visit"),
        (780, "early 1", "mill 1: prove_out"),
        (1680, "early 1", "lathe 1 pallet 1: visit"),
        (2460, "early 1", "lathe 1: prove_out"),
    ]
    # Else the lathe, which asked earlier, is visited till 1560, and then both are proved.
    assert taken(cell(handling={}))[1:] == [
        (780, "early 1", "lathe 1 pallet 1: visit"),
        (1560, "early 1", "mill 1: prove_out"),
        (2460, "early 1", "lathe 1: prove_out"),
    ]


def test_the_setter_waits_while_the_pallet_goes_in() -> None:
    # Pallet 1 is set up till 780 and goes in till 1380. He stays and proves it till 2280, though
    # the lathe and pallet 2 have asked since 0. The lathe has no loaded pallet and comes first,
    # till 3060, its prove-out till 3960, and pallet 2 till 4740. The spindle is cutting then, so
    # nobody waits for that one.
    spec = with_two_pallets(600)
    assert taken(spec) == [
        (0, "early 1", "mill 1 pallet 1: visit"),
        (1380, "early 1", "mill 1: prove_out"),
        (2280, "early 1", "lathe 1 pallet 1: visit"),
        (3060, "early 1", "lathe 1: prove_out"),
        (3960, "early 1", "mill 1 pallet 2: visit"),
    ]
    # He is busy for three visits and two prove-outs; the wait is free time on duty.
    people = simulate(spec).people
    assert (people.busy, people.on_duty) == (3 * 780 + 2 * 900, 4 * 3600)
    # The 600 s are too short a stretch of free time to count; the rest of the shift is long.
    assert people.free_stretches == 4 * 3600 - 4740


def test_nobody_stays_for_a_load_that_waits_for_the_spindle() -> None:
    # Cuts of 3000 s, changes of 30 s. Pallet 1 is set up till 780, in at 810, proved till 1710 and
    # cut till 4710. The lathe has no loaded pallet and comes first, till 2490, its prove-out till
    # 3390; pallet 2 is set up till 4170 and waits. At 4710 it goes in, and pallet 1 asks: nobody
    # stayed, so that is visited, 60 + 60 + 120 = 240 s, till 4950, and pallet 2's load, in since
    # 4740, is proved.
    spec = with_two_pallets(30)
    spec["part"]["body"]["cycle"] = 3000
    assert taken(spec)[2:6] == [
        (1710, "early 1", "lathe 1 pallet 1: visit"),
        (2490, "early 1", "lathe 1: prove_out"),
        (3390, "early 1", "mill 1 pallet 2: visit"),
        (4710, "early 1", "mill 1 pallet 1: visit"),
    ]
    assert taken(spec)[6] == (4950, "early 1", "mill 1: prove_out")


def test_he_takes_his_own_prove_out_though_another_is_free_and_listed_first() -> None:
    # First 1 may prove out but not load, and has nothing to do. The setter proves it all the same.
    shifts = {
        "first": shift(end="10:00", does=["prove_out"]),
        "setters": shift(end="10:00"),
    }
    spec = cell(shift=shifts)
    assert taken(spec)[1] == (780, "setters 1", "mill 1: prove_out")
    spec["handling"] = {}
    assert taken(spec)[1:3] == [
        (780, "setters 1", "lathe 1 pallet 1: visit"),
        (780, "first 1", "mill 1: prove_out"),
    ]


def test_who_may_not_prove_out_does_not_stay() -> None:
    shifts = {
        "setters": shift(end="10:00", does=["load", "setup"]),
        "late": shift("06:20", "10:00", does=["prove_out"]),
    }
    # Pallet 1 is in at 1380. The setter is free at 780 and goes to the lathe, till 1560; then he
    # sets pallet 2 up. Whoever proves out, from 1200 on, is there at 1380.
    assert taken(with_two_pallets(600, shift=shifts))[:4] == [
        (0, "setters 1", "mill 1 pallet 1: visit"),
        (780, "setters 1", "lathe 1 pallet 1: visit"),
        (1380, "late 1", "mill 1: prove_out"),
        (1560, "setters 1", "mill 1 pallet 2: visit"),
    ]


def test_a_stop_calls_him_away_and_then_anybody_may_prove_it() -> None:
    # The saw is loaded first, till 180, and cut; its stop comes after 1000 s, at 1180. The mill's
    # pallet is set up from 180 to 960 and goes in till 1560; he stays, but repairs the saw from
    # 1180 to 1680. Helper 1, free from 06:25 (1500) on and no loader, proves the load at 1560.
    def after_1000_seconds(run: int, machine_number: int, stop: str) -> Iterator[int]:
        first = 1000 if machine_number == 1 else 10**9
        return itertools.chain([first], itertools.repeat(10**9))

    spec = cell(
        shift={
            "early": shift(end="10:00"),
            "helpers": shift("06:25", "10:00", does=["prove_out"]),
        },
        machine={"saw": {}, "mill": {"pallets": 2, "pallet_change": 600}, "lathe": {}},
        stop={"jam": {"every": 1000, "repair": 500}},
    )
    spec["part"]["blank"] = part(machines=["saw"], cycle=36000)
    assert taken(spec, draw=after_1000_seconds)[:5] == [
        (0, "early 1", "saw 1 pallet 1: visit"),
        (180, "early 1", "mill 1 pallet 1: visit"),
        (1180, "early 1", "saw 1: repair"),
        (1560, "helpers 1", "mill 1: prove_out"),
        (1680, "early 1", "lathe 1 pallet 1: visit"),
    ]


def test_a_break_ends_it() -> None:
    # He stays from 780 on for the load that is in at 1380. At 900 his break begins, until 1500; the
    # other comes at 1200 and goes to the lathe. The first is back and finds the prove-out ahead of
    # pallet 2's visit.
    shifts = {
        "early": shift(end="10:00", breaks=["06:15-06:25"]),
        "late": shift("06:20", "10:00"),
    }
    assert taken(with_two_pallets(600, shift=shifts))[:3] == [
        (0, "early 1", "mill 1 pallet 1: visit"),
        (1200, "late 1", "lathe 1 pallet 1: visit"),
        (1500, "early 1", "mill 1: prove_out"),
    ]
    # Where the break begins as the visit ends, at 780, he does not stay either: back at 1080, he
    # takes the lathe's visit, stays there, and comes to the mill at 2760.
    shifts = {"early": shift(end="10:00", breaks=["06:13-06:18"])}
    assert taken(with_two_pallets(600, shift=shifts))[1:4] == [
        (1080, "early 1", "lathe 1 pallet 1: visit"),
        (1860, "early 1", "lathe 1: prove_out"),
        (2760, "early 1", "mill 1: prove_out"),
    ]


def test_his_bench_work_comes_first() -> None:
    # Bodies of two numbers, cut in 600 s. Set up till 780, proved till 1680, cut till 2280. The
    # lathe is visited till 2460 and proved till 3360. Then the mill, 60 + 60 + 600 + 120 = 840 s,
    # till 4200; he deburrs till 4500, comes back and proves it.
    spec = cell()
    spec["part"]["body"] |= {"cycle": 600, "numbers": 2, "batch": 1, "bench": 300}
    assert taken(spec)[3:6] == [
        (2460, "early 1", "lathe 1: prove_out"),
        (3360, "early 1", "mill 1 pallet 1: visit"),
        (4500, "early 1", "mill 1: prove_out"),
    ]
    # Somebody else who is free takes it at once.
    spec["shift"]["late"] = shift("07:00", "10:00", does=["prove_out"])
    assert taken(spec)[5] == (4200, "late 1", "mill 1: prove_out")
