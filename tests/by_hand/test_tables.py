"""Machines with nothing but their own tables."""

from __future__ import annotations

import pytest

from .pencil import BEFORE, MONDAY, WEEK, minutes, sheet, sheets

ONE_TABLE = """\
machine.mill.count = 1
part.body.cycle = "10 min"
part.body.weekly = 1000
"""


def test_one_table_and_one_part() -> None:
    """Visit 0-3, cut 3-13, visit 13-17, cut 17-27, ...: a piece every 14 min from 3 on.

    Eight hours are 480 min: the last cut begins at 3 + 34 x 14 = 479, is the 35th, and ends at
    489. Visits: 3 + 34 x 4 = 139 min. In cycle attended: 480 - 139 = 341; 9 min after hours.
    """
    found = sheet(MONDAY % "14:00" + ONE_TABLE)
    assert found.states == {"in_cycle": 350, "load": 139, "nobody_on_duty": WEEK - 489}
    assert found.cycle == [341, 0, 9]
    assert (found.pieces, found.met) == ({"body": 35}, {"body": 3.5})
    # Free ten minutes at a time, never half an hour.
    assert found.people == {"paid": 480, "on_duty": 480, "busy": 139, "free_stretches": 0}
    assert found.told["simulated"]["utilization_percent"] == {
        "of_shift": pytest.approx(100 * 350 / 480, abs=1e-6),
        "of_powered": pytest.approx(100 * 350 / 489, abs=1e-6),
        "of_week": pytest.approx(100 * 350 / WEEK, abs=1e-6),
    }


def test_two_tables_and_one_person() -> None:
    """The first table is visited 0-3 and cut from 3, 17, 31, 45 and 59; the last cut ends at 69.

    The second is visited 3-6, cut 6-16, and waits for the first one's visit 13-17: visited 17-21,
    cut from 21, 35, 49, each visit right after the first table's. Cut at 59, visited for 1 min.
    """
    one = sheet(MONDAY % "07:00" + ONE_TABLE)
    two = sheet(MONDAY % "07:00" + ONE_TABLE.replace("count = 1", "count = 2"))
    assert one.pieces == {"body": 5}
    assert two.pieces == {"body": 5 + 4}
    assert two.states == {
        "in_cycle": 90,
        "load": (3 + 4 * 4) + (3 + 3 * 4 + 1),
        "waiting_for_person": 3 + 1,
        "nobody_on_duty": 2 * WEEK - 90 - 35 - 4,
    }
    assert two.cycle == [81, 0, 9]
    assert two.people["busy"] == 35


TWO_PARTS = """\
machine.mill.count = 1
part.body = { cycle = "10 min", setup = "20 min", batch = 2, weekly = 8 }
part.cover = { cycle = "5 min", setup = "15 min", batch = 2, weekly = 4 }
"""


def test_the_setup_is_kept_while_no_order_before_the_next_is_due_later() -> None:
    """Orders of bodies are due at 1/4, 2/4, 3/4, 4/4 .. weeks, those of covers at 2/4, 4/4, 6/4 ..

    A body's setup is kept for order 2 (order 1 is due at 1/4, before 2/4), order 3 (2/4, not after
    2/4), not for order 4 (3/4, after the covers' 2/4). Covers are kept for order 2 (2/4) and order
    3 (4/4, not after the bodies' 4/4), not for order 4 (6/4).

    Six bodies: visit 1 + 20 + 2 = 23, cuts from 23 to 93 every 14 min, the last ends at 103.
    Six covers: visit 1 + 1 + 15 + 2 = 19, cuts from 122 to 167 every 9 min, the last ends at 172.
    Bodies: visit 1 + 1 + 20 + 2 = 24, cuts from 196, 210, 224 and 238, which ends at 248.
    """
    found = sheet(MONDAY % "10:00" + TWO_PARTS)
    assert found.pieces == {"body": 10, "cover": 6}
    assert found.met == {"body": 125, "cover": 150}
    assert found.states == {
        "in_cycle": 10 * 10 + 6 * 5,
        "setup": 20 + 15 + 20,
        "load": 3 + 5 * 4 + 4 + 5 * 4 + 4 + 3 * 4,
        "nobody_on_duty": WEEK - 248,
    }


def test_earliest_due_date_changes_the_setup_more_often() -> None:
    """Bodies 1 (1/4) and 2 (2/4, first in the file), covers 1 (2/4), bodies 3 (3/4) and 4 (4/4),
    covers 2 (4/4).

    Cuts of bodies from 23, 37, 51 and 65, the last ends at 75; covers from 75 + 19 = 94 and 103,
    the last ends at 108; bodies from 108 + 24 = 132, 146, 160 and 174, the last ends at 184; covers
    from 203 and 212, the last ends at 217. Of the next visit's 24 min, 20 of them setup, 23 are
    done at 240: 23 x 20/24 of setup, 23 x 4/24 of loading.
    """
    found = sheet(MONDAY % "10:00" + TWO_PARTS + 'sequence.rule = "earliest_due_date"\n')
    assert found.pieces == {"body": 8, "cover": 4}
    assert found.states == {
        "in_cycle": 100,
        "setup": round(20 + 15 + 20 + 15 + 23 * 20 / 24, 3),
        "load": round(3 + 3 * 4 + 4 + 4 + 4 + 3 * 4 + 4 + 4 + 23 * 4 / 24, 3),
        "nobody_on_duty": WEEK - 240,
    }


def test_bench_work_keeps_the_person_from_the_next_visit() -> None:
    """12 min at the bench after each visit that takes a piece off.

    Monday: visit 0-3, cut -13, visit -17, cut -27 while the person is at the bench until 29;
    visit 29-33, cut -43, bench -45, visit -49, cut -59, bench until the shift ends: 11 of 12 min.
    The table waits 27-29, 43-45, 59-60. Tuesday: 1 min at the bench first, while the table waits;
    visits 1-5, 17-21, 33-37, 49-53; cuts from 5, 21, 37 and 53, which ends at 63; the table waits
    15-17, 31-33, 47-49; at the bench for 12, 12, 12 and 7 min.
    """
    days = 'shift.early = { days = ["mon", "tue"], start = "06:00", end = "07:00" }\n'
    found = sheet(days + ONE_TABLE + 'part.body.bench = "12 min"\n')
    assert found.pieces == {"body": 8}
    assert found.states == {
        "in_cycle": 80,
        "load": (3 + 3 * 4) + 4 * 4,
        "waiting_for_person": (2 + 2 + 1) + (1 + 2 + 2 + 2),
        "nobody_on_duty": WEEK - 80 - 31 - 12,
    }
    assert found.cycle == [77, 0, 3]
    assert found.people["busy"] == (15 + 12 + 12 + 11) + (16 + 1 + 12 + 12 + 12 + 7)


def test_prove_out_on_a_table() -> None:
    """Visit 1 + 10 + 2 = 13, prove-out 13-28, cut -38, visit -42, cut -52, visit -56, cut -66."""
    found = sheet(
        MONDAY % "07:00"
        + ONE_TABLE
        + 'part.body.setup = "10 min"\npart.body.prove_out = "15 min"\n'
    )
    assert found.pieces == {"body": 3}
    assert found.states == {
        "setup": 10,
        "load": 3 + 2 * 4,
        "person_at_machine": 15,
        "in_cycle": 30,
        "nobody_on_duty": WEEK - 66,
    }
    assert found.people["busy"] == 13 + 15 + 2 * 4


def test_other_duties_lengthen_every_visit() -> None:
    """A fifth of the time goes to other things: 3 min take 3 / 0.8 = 3.75, 4 min take 5.

    Cuts from 3.75, 18.75, 33.75 and 48.75, the last ends at 58.75; 1.25 min of the next visit.
    """
    found = sheet(MONDAY % "07:00" + ONE_TABLE + 'handling.other_duties = "20 %"\n')
    assert found.states == {"in_cycle": 40, "load": 3.75 + 3 * 5 + 1.25, "nobody_on_duty": 10_020}
    assert found.people["busy"] == 20


def test_warm_up_after_more_than_four_hours() -> None:
    """Visit 0-3, warm-up 3-8, cuts from 8, 22, 36 and 50, which ends at 60 with the shift.

    The second shift starts at 300: visit until 304, 244 min after the last cut, more than four
    hours: warm-up until 309, cut until 319, 1 min of a visit. Where it starts at 296 the visit ends
    at 300, exactly four hours after: no warm-up; cut -310, visit -314, cut -324, begun before 320.
    """
    text = (
        MONDAY % "07:00"
        + 'shift.late = { days = ["mon"], start = "11:00", end = "11:20" }\n'
        + ONE_TABLE
        + 'machine.mill.warm_up = "5 min"\n'
        + '[scenario.sooner]\nparent = "today"\nshift.late.start = "10:56"\n'
    )
    found = sheets(text)
    today, sooner = found["today"], found["sooner"]
    assert today.states == {
        "warm_up": 10,
        "in_cycle": 50,
        "load": 3 + 3 * 4 + 4 + 1,
        "nobody_on_duty": WEEK - 80,
    }
    assert sooner.states == {
        "warm_up": 5,
        "in_cycle": 60,
        "load": 3 + 3 * 4 + 4 + 4,
        "nobody_on_duty": WEEK - 88,
    }
    assert (today.people["paid"], sooner.people["paid"]) == (80, 84)


def test_scrap_demand_and_gains() -> None:
    """35 cuts in eight hours, a fifth of them scrap: 28 good, of which 20 are wanted.

    In four hours (240 min) cuts begin at 3 + 14 n up to 227, that is 17: 13.6 good. The last ends
    at 237; 3 min of the next visit. Metal is cut in 60 % of the cycle.
    """
    text = (
        MONDAY % "14:00"
        + ONE_TABLE.replace("1000", "20")
        + 'part.body.scrap = "20 %"\npart.body.in_cut = "60 %"\n'
        + '[scenario.short]\nparent = "today"\nshift.early.end = "10:00"\n'
    )
    found = sheets(text)
    today, short = found["today"], found["short"]
    assert (today.pieces, today.met) == ({"body": 28}, {"body": 140})
    assert (short.pieces, short.met) == ({"body": 13.6}, {"body": 68})
    assert short.states == {
        "in_cycle": 170,
        "load": 3 + 16 * 4 + 3,
        "nobody_on_duty": WEEK - 240,
    }
    assert today.told["simulated"]["utilization_percent"]["of_shift"] == 100 * 0.6 * 350 / 480
    gains = short.told["gain_percent"]
    assert gains["saleable"] == pytest.approx(-32)  # 13.6 against 20
    assert gains["output"] == pytest.approx(100 * (13.6 / 28 - 1), abs=1e-6)
    assert gains["spindle_hours"] == pytest.approx(100 * (170 / 350 - 1), abs=1e-6)
    # 13.6 good pieces in 4 paid hours, 28 in 8.
    assert gains["per_paid_hour"] == pytest.approx(100 * (3.4 / 3.5 - 1), abs=1e-6)


def test_a_part_that_is_quicker_on_one_machine() -> None:
    """The lathe needs 5 min where the mill needs 10, and 6 min to load instead of 2.

    Mill: visited 0-3, cut 3-13. Lathe: visited 3-10 (1 + 6), cut 10-15. Mill visited 13-17, cut
    -27; lathe cut at 15, visited 17-25 (1 + 1 + 6), cut -30; mill cut at 27, visited -31, cut -41;
    lathe cut at 30, visited 31-39, cut -44; the shift ends at 40.
    """
    found = sheet(
        MONDAY % "06:40"
        + "machine.mill.count = 1\nmachine.lathe.count = 1\n"
        + 'part.body = { cycle = "10 min", weekly = 1000, on.lathe.cycle = "5 min", '
        + 'on.lathe.load = "6 min" }\n'
    )
    assert found.pieces == {"body": 3 + 3}
    assert found.states == {
        "in_cycle": 3 * 10 + 3 * 5,
        "load": (3 + 4 + 4) + (7 + 8 + 8),
        "waiting_for_person": 3 + 2 + 1,
        "nobody_on_duty": 2 * BEFORE + (WEEK - BEFORE - 41) + (WEEK - BEFORE - 44),
    }
    assert found.people["busy"] == minutes(34 / 60)


def test_hour_meters_read_as_people() -> None:
    """Somebody is always there; a piece of 252 s of cut every 8.2 min would be 51 %, the meters
    say 50 %.

    With c minutes more a visit the first cut begins at 3 + c of the week, the n-th (n - 1) x
    (8.2 + c) later. 1,200 pieces are just half of the week's 10,080 min; the 1,201st must not begin
    in it: 3 + c + 1,200 x (8.2 + c) >= 10,080, so 1,201 c >= 237 min, c >= 11.84 s: 12 s in whole
    seconds. The last cut ends at 3 + c + 1,199 x (8.2 + c) + 4.2 = 10,079.
    """
    always = (
        'shift.always = { days = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"], '
        'start = "00:00", end = "00:00" }\n'
    )
    text = always + ONE_TABLE.replace("10 min", "252 s").replace("1000", "2000")
    measured = (
        '[scenario.read]\nparent = "today"\n'
        'hour_meters = { switched_on = "100 h", in_cut = "50 h", gap = "people" }\n'
    )
    found = sheets(text + measured)
    # 3 + 8.2 n < 10,080: 1,229 cuts begun, the last at 10,072.6 and ended at 10,076.8.
    assert found["today"].pieces == {"body": 1229}
    read = found["read"]
    assert read.pieces == {"body": 1200}
    assert read.told["simulated"]["utilization_percent"]["of_powered"] == 50
    c = 12 / 60
    last_cut = 3 + c + 1199 * (8.2 + c) + 4.2
    assert read.states == {
        "in_cycle": 5040,
        "load": round(3 + c + 1199 * (4 + c) + (WEEK - last_cut), 3),
    }
