"""Machines with pallets: A, B, C .. in their order; "in 3-4" is a pallet's way into the spindle."""

from __future__ import annotations

import pytest

from .pencil import BEFORE, MONDAY, WEEK, Sheet, minutes, sheet, sheets

PALLETS = """\
machine.mill.pallets = 2
machine.mill.pallet_change = "1 min"
part.body.cycle = "10 min"
part.body.weekly = 1000
"""

BREAK = """\
[scenario.today.shift.early]
days = ["mon"]
start = "06:00"
end = "07:00"
unpaid_breaks = ["06:30-06:40"]
[scenario.through]
parent = "today"
unattended.through_breaks = true
[scenario.hold]
parent = "today"
unattended.at_limit = "hold"
"""


def test_a_break_in_which_nothing_is_begun() -> None:
    """A visited 0-3, in 3-4, cut 4-14; B visited 3-6, in 14-15, cut -25; A visited 14-18, in 25-26,
    cut 26-36; B visited 25-29. In the break, 30-40, A is finished; B may not go in 36-40.

    B in 40-41, cut -51; A visited 40-44, in 51-52, cut 52-62, begun before the shift ends at 60;
    B visited 51-55, and stays outside from 62 on.
    """
    found = sheets(PALLETS + "unattended.through_breaks = false\n" + BREAK)
    today = found["today"]
    assert today.pieces == {"body": 5}
    assert today.states == {
        "load": 3,
        "pallet_change": 5,
        "in_cycle": 50,
        "outside_running_hours": 4 + (WEEK - BEFORE - 62),
        "nobody_on_duty": BEFORE,
    }
    assert today.cycle == [50 - 6 - 2, 6, 2]
    assert today.people == {
        "paid": 50,
        "on_duty": 50,
        "busy": 3 + 3 + 4 * 4,
        "free_stretches": 0,
    }


def test_a_break_in_which_pieces_are_begun() -> None:
    """As above to 36; B in 36-37, cut -47; A visited 40-44, in 47-48, cut -58; B visited 47-51, in
    58-59, cut 59-69; A visited from 58 on, half of it done at 60. In cycle on the break: 30-36 and
    37-40. A piece more than the five: a fifth more of all.
    """
    through = sheets(PALLETS + "unattended.through_breaks = false\n" + BREAK)["through"]
    assert through.pieces == {"body": 6}
    assert through.cycle == [42, 9, 9]
    assert through.states == {
        "load": 3,
        "pallet_change": 6,
        "in_cycle": 60,
        "nobody_on_duty": WEEK - 69,
    }
    gains = through.told["gain_percent"]
    for key in ("saleable", "output", "spindle_hours", "per_paid_hour"):
        assert gains[key] == pytest.approx(20), key


def test_a_break_in_which_the_cut_is_held() -> None:
    """A, cut from 26, is held at 30 and goes on 40-46; B in 46-47, cut -57; A visited 46-50, in
    57-58, cut 58-60 and held with 8 min left."""
    hold = sheets(PALLETS + "unattended.through_breaks = false\n" + BREAK)["hold"]
    assert hold.pieces == {"body": 4}
    assert hold.cycle == [42, 0, 0]
    assert hold.states == {
        "load": 3,
        "pallet_change": 5,
        "in_cycle": 42,
        "outside_running_hours": 10 + (WEEK - BEFORE - 60),
        "nobody_on_duty": BEFORE,
    }


STATIONS = """\
shift.early = { days = ["mon"], start = "06:00", end = "07:00", people = 2 }
machine.mill.pallets = 3
machine.mill.pallet_change = "1 min"
part.body.cycle = "5 min"
part.body.load = "10 min"
part.body.weekly = 1000
[scenario.two]
parent = "today"
machine.mill.load_stations = 2
"""


def test_one_load_station_for_two_people() -> None:
    """A visited 0-11 (1 + 10); B 11-22; A in 11-12, cut 12-17. C has asked since 0: 22-33; B in
    22-23, cut -28; A 33-45 (1 + 1 + 10); C in 33-34, cut -39; B 45-57; A in 45-46, cut -51; C 57-60
    of 12; B in 57-58, cut 58-63. The spindle waits for a visit 0-11, 17-22, 28-33, 39-45, 51-57.

    The first person does it all, the second is free the whole hour.
    """
    today = sheets(STATIONS)["today"]
    assert today.pieces == {"body": 5}
    assert today.states == {
        "load": 11 + 5 + 5 + 6 + 6,
        "pallet_change": 5,
        "in_cycle": 25,
        "nobody_on_duty": WEEK - 63,
    }
    assert today.people == {"paid": 120, "on_duty": 120, "busy": 60, "free_stretches": 60}


def test_two_load_stations_for_two_people() -> None:
    """A and B visited 0-11, C 11-22. A in 11-12, cut -17; B in 17-18, cut -23; A visited 17-29; C
    in 23-24, cut -29; B visited 23-35; A in 29-30, cut -35; C visited 29-41; and so on, a piece
    every 6 min, each pallet back after 12: cuts from 12, 18, .. 54. In at 59-60; the cut would
    begin after the shift. Pallet visits after the first three begin at 17, 23, 29, 35, 41, 47 (12
    each), 53 (7 done) and 59 (1 done).
    """
    two = sheets(STATIONS)["two"]
    assert two.pieces == {"body": 8}
    assert two.states == {
        "load": 11,
        "pallet_change": 9,
        "in_cycle": 40,
        "outside_running_hours": WEEK - BEFORE - 60,
        "nobody_on_duty": BEFORE,
    }
    assert two.people["busy"] == 3 * 11 + 6 * 12 + 7 + 1
    assert two.told["gain_percent"]["saleable"] == pytest.approx(60)


def test_prove_out_on_pallets_holds_the_spindle() -> None:
    """A change takes no time. A visited 0-13 (1 + 10 + 2); B 13-26, though A in the spindle awaits
    its prove-out: B asked first. A proved 26-41, cut -51; A visited 51-55; B in at 51, proved from
    55 on, 5 of 15 min done at 60. A, ready since 55, stays outside: B holds the spindle.
    """
    found = sheet(
        MONDAY % "07:00"
        + PALLETS.replace("1 min", "0 min")
        + 'part.body.setup = "10 min"\npart.body.prove_out = "15 min"\n'
    )
    assert found.pieces == {"body": 1}
    assert found.states == {
        "setup": 10 + 10,
        "load": 3 + 3 + 4,
        "person_at_machine": 15 + 5,
        "in_cycle": 10,
        "nobody_on_duty": WEEK - 60,
    }
    assert found.people["busy"] == 13 + 13 + 15 + 4 + 5


WORN = (
    MONDAY % "08:00"
    + PALLETS
    + """\
part.body.per_pallet = 2
part.body.tool_life = 3
part.body.tool_change = "5 min"
[scenario.sisters]
parent = "today"
part.body.sister_tools = 1
"""
)


def test_worn_tools() -> None:
    """Tools for three pieces, loads of two: new tools before every load but the first.

    A visited 0-5 (1 + 4), in 5-6, cut 6-26; B visited 5-10. At 26 the tools come before A's visit:
    26-31; B in 31-32, cut 32-52; A visited 31-38 (1 + 2 + 4). Tools 52-57, A in 57-58, cut 58-78;
    so every 26 min: cuts from 6, 32, 58, 84 and 110. The last one's second piece would begin at
    120, when the shift has ended: a stretch of time does not include its end.
    """
    today = sheets(WORN)["today"]
    assert today.pieces == {"body": 8}
    assert today.cycle == [90, 0, 0]
    assert today.states == {
        "load": 5,
        "pallet_change": 5,
        "in_cycle": 90,
        "person_at_machine": 4 * 5,
        "outside_running_hours": WEEK - BEFORE - 120,
        "nobody_on_duty": BEFORE,
    }
    assert today.people["busy"] == 5 + 5 + 4 * 5 + 4 * 7


def test_worn_tools_with_sister_tools() -> None:
    """A spare each: six pieces. A cut 6-26, B in 26-27, cut -47, A visited 26-33, in 47-48, cut
    48-68: six. B visited 47-54. Tools 68-73; B in 73-74, cut -94; A visited 73-80, in 94-95, cut
    -115; B visited 94-101, in 115-116, cut from 116. Its second piece would begin at 126, after the
    shift. A visited from 115 on, 5 of 7 min done.
    """
    sisters = sheets(WORN)["sisters"]
    assert sisters.pieces == {"body": 10}
    assert sisters.cycle == [104, 0, 6]
    assert sisters.states == {
        "load": 5,
        "pallet_change": 6,
        "in_cycle": 110,
        "person_at_machine": 5,
        "outside_running_hours": WEEK - BEFORE - 126,
        "nobody_on_duty": BEFORE,
    }
    assert sisters.people["busy"] == 5 + 5 + 7 + 7 + 5 + 7 + 7 + 5


def test_a_fixture_that_another_machine_holds() -> None:
    """One fixture for two tables. The first is cut from 3, 17, 31, 45 and 59; the second waits for
    the person until 3, finds no fixture, and rests for the week."""
    found = sheet(
        MONDAY % "07:00"
        + "machine.mill.count = 2\n"
        + 'part.body = { cycle = "10 min", weekly = 1000, fixtures = 1 }\n'
    )
    assert found.pieces == {"body": 5}
    assert found.states == {
        "load": 3 + 4 * 4,
        "in_cycle": 50,
        "waiting_for_person": 3,
        "no_fixture": WEEK - BEFORE - 3,
        "nobody_on_duty": (WEEK - 69) + BEFORE,
    }


def resting(first: str, second: str) -> str:
    """Two tables in this order of the file, one fixture for plates, and shafts for the borer."""
    return f"""\
{MONDAY % "14:00"}machine.{first}.count = 1
machine.{second}.count = 1
part.shaft = {{ cycle = "60 min", weekly = 0, machines = ["borer"] }}
part.plate = {{ cycle = "10 min", weekly = 0, setup = "5 min", fixtures = 1 }}
order.shaft = {{ part = "shaft", pieces = 1, arrives = "mon 06:00", due = "mon 07:00" }}
order.plate = {{ part = "plate", pieces = 1, arrives = "mon 06:00", due = "mon 08:00" }}
order.again = {{ part = "plate", pieces = 1, arrives = "mon 08:00", due = "mon 12:00" }}
"""


def off(found: Sheet) -> dict[str, float]:
    """Minutes from Monday 06:00 to the last piece off, by order."""
    orders = found.told["orders"].items()
    return {id_: minutes(one["last_off"]) - BEFORE for id_, one in orders}


def test_a_resting_fixture_is_taken_from_its_table() -> None:
    """The borer takes the shaft: visited 0-3, cut 3-63, off 65. The lathe takes the plate: visited
    3-11 (1 + 5 + 2), cut -21, off 23; it rests with the only fixture on it.

    At 120 the second plate is there, and both tables ask. The borer stands first in the file: it
    takes the fixture off the lathe, visited 120-128 with the setup, cut -138, off 140. The lathe's
    turn comes at 128; nothing is left for it.
    """
    found = sheet(resting("borer", "lathe"))
    assert off(found) == {"shaft": 65, "plate": 23, "again": 140}
    assert found.states == {
        "setup": 5 + 5,
        "load": (3 + 2 + 3 + 2) + (3 + 2),
        "in_cycle": 60 + 10 + 10,
        "waiting_for_person": 3 + 8,
        "nothing_due": (120 - 65) + (WEEK - BEFORE - 140) + (120 - 23) + (WEEK - BEFORE - 128),
        "nobody_on_duty": 2 * BEFORE,
    }


def test_a_resting_fixture_stays_on_the_table_that_comes_first() -> None:
    """The lathe stands first in the file: visited 0-8 for the first plate, cut -18, off 20; the
    borer 8-11, cut -71, off 73. At 120 the lathe is first: visited -123 without a setup, cut -133,
    off 135. The borer waits 0-8 and 120-123."""
    found = sheet(resting("lathe", "borer"))
    assert off(found) == {"shaft": 73, "plate": 20, "again": 135}
    assert (found.states["setup"], found.states["waiting_for_person"]) == (5, 8 + 3)


def slow_mover(run_ahead: str, make: str) -> str:
    return f"""\
{MONDAY % "14:00"}sequence.make = "{make}"
sequence.run_ahead = "{run_ahead}"
machine.mill.count = 1
machine.lathe.count = 1
part.body = {{ cycle = "20 h", batch = 100, weekly = 1000, machines = ["mill"] }}
part.ring = {{ cycle = "10 min", batch = 1, weekly = 7 }}
"""


@pytest.mark.parametrize(
    ("make", "made_ahead", "until"),
    [("to_order", (1, 2, 8), 1440), ("flat_out", (2, 3, 9), 2880)],
)
def test_a_slow_mover_is_not_made_far_ahead(
    make: str, made_ahead: tuple[int, ...], until: int
) -> None:
    """The mill takes the body, due first (1,008 min of the week), and cuts it for 20 h; the next
    order of bodies is its next visit's matter. Rings are due every 1,440 min; the lathe makes them,
    visited 3-6, then a ring every 14 min, cuts from 6, 20, 34, ..

    Ring k is opened while 1,440 (k - 1) <= run_ahead + now, which is 363 at first and 840 when the
    shift ends: no run_ahead: k = 1; a day (1,440): k = 2; a week (10,080): k = 8. Then the lathe is
    emptied (2 min) and nothing is due for it until 1,440 of the week; nobody is there then.

    Flat out, while 1,440 (k - 1) <= run_ahead + 2,016, when the bodies' unopened order is due: k =
    2, 3 and 9, and until 2,880 of the week.
    """
    for run_ahead, made in zip(("0 h", "1 day", "1 week"), made_ahead, strict=True):
        found = sheet(slow_mover(run_ahead, make))
        emptied = 6 + 14 * (made - 1) + 10 + 2
        assert found.pieces == {"body": 1, "ring": made}, run_ahead
        assert found.met["ring"] == pytest.approx(100 * made / 7, abs=1e-6)
        assert found.states == {
            "waiting_for_person": 3,
            "load": 3 + 3 + 4 * (made - 1) + 2,
            "in_cycle": 1200 + 10 * made,
            "nothing_due": until - BEFORE - emptied,
            "nobody_on_duty": BEFORE + (WEEK - BEFORE - 1203) + BEFORE + (WEEK - until),
        }, run_ahead


def test_as_many_pieces_as_the_pallet_may_carry() -> None:
    """Face: 630 - 2 x 25 = 580 and 500 - 2 x 25 = 450; with 50 between them pieces of 140 x 90 take
    190 and 140: three by three at least. Load: (100 - 20) / 15 = 5.3, so five. Height: 60 + 70 of
    200. Loads of five: visit 1 + 10 = 11, cut 11-61; begun at 11, 21, 31, 41 and 51."""
    found = sheet(
        MONDAY % "07:00"
        + """\
machine.mill = { table = ["630 mm", "500 mm"], work_height = "200 mm", table_load = "100 kg" }
part.body.size = ["140 mm", "90 mm", "60 mm"]
part.body.mass = "15 kg"
part.body.fixture_mass = "20 kg"
part.body.fixture_height = "70 mm"
part.body.cycle = "10 min"
part.body.weekly = 1000
"""
    )
    fit = found.told["fit"]["body"]["mill"]
    assert (fit["fits"], fit["per_pallet"]) == (True, 5)
    assert found.pieces == {"body": 5}
    assert found.states == {"load": 11, "in_cycle": 50, "nobody_on_duty": WEEK - 61}
