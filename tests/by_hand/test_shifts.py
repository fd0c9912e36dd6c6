"""Shifts: handing over, over midnight and the week's end, days without anybody."""

from __future__ import annotations

import pytest

from .pencil import BEFORE, MONDAY, WEEK, sheet, sheets

ONE_TABLE = """\
machine.mill.count = 1
part.body.cycle = "10 min"
part.body.weekly = 1000
"""


def test_a_second_shift() -> None:
    """Eight hours more, right after the first: 960 min. Cuts begin at 3 + 14 n, the last at 955 (n
    = 68), the 69th; it ends at 965. A shift alone makes 35."""
    late = 'shift.late = { days = ["mon"], start = "14:00", end = "22:00" }\n'
    text = MONDAY % "14:00" + ONE_TABLE + f'[scenario.two]\nparent = "today"\n{late}'
    two = sheets(text)["two"]
    assert two.pieces == {"body": 69}
    assert two.states == {"in_cycle": 690, "load": 3 + 68 * 4, "nobody_on_duty": WEEK - 965}
    assert two.cycle == [685, 0, 5]
    assert two.people["paid"] == 960
    assert two.told["gain_percent"]["saleable"] == pytest.approx(100 * (69 / 35 - 1), abs=1e-6)
    # 69 pieces in 16 paid hours, 35 in 8.
    assert two.told["gain_percent"]["per_paid_hour"] == pytest.approx(100 * (69 / 70 - 1), abs=1e-6)


LONG_LOAD = ONE_TABLE + 'part.body.load = "20 min"\n'


def handed_over(late_from: str, late_to: str) -> str:
    late = f'shift.late = {{ days = ["mon"], start = "{late_from}", end = "{late_to}" }}\n'
    return MONDAY % "06:40" + late + LONG_LOAD


def test_a_visit_is_handed_over_to_the_next_person() -> None:
    """Visit 0-21 (1 + 20), cut 21-31, visit 31-53 (1 + 1 + 20): 9 min by the first person, 13 by
    the second from 40 on, with no second walk. Cut 53-63, visit 63-80, 17 of 22 min.

    One person for all 80 min does the same.
    """
    found = sheet(handed_over("06:40", "07:20"))
    assert found.states == {
        "load": 21 + 9 + 13 + 17,
        "in_cycle": 20,
        "nobody_on_duty": WEEK - 80,
    }
    assert found.people["busy"] == 60
    alone = sheet(MONDAY % "07:20" + LONG_LOAD)
    assert (alone.states, alone.pieces, alone.people) == (found.states, found.pieces, found.people)


def test_a_visit_that_waits_for_the_next_person() -> None:
    """The second person comes at 60: the other 13 min are done 60-73; cut -83; visit 83-100."""
    found = sheet(handed_over("07:00", "07:40"))
    assert found.pieces == {"body": 2}
    assert found.states == {
        "load": 21 + 9 + 13 + 17,
        "in_cycle": 20,
        "nobody_on_duty": BEFORE + (60 - 40) + (WEEK - BEFORE - 100),
    }


def test_two_people_at_two_tables() -> None:
    """From 0 to 30 there is one person: the tables are visited 0-3 and 3-6, cut -13 and -16,
    visited 13-17 and 17-21, cut -27 and -31. The first is visited 27-31; the second at 31, and from
    30 on there are two people.

    So from then on neither waits: first table cut from 31, 45 (visits 41-45, 55-59), 59, which ends
    at 69; second cut from 35, 49 (visits 31-35, 45-49), 59-60 of a visit of 4 min.
    """
    late = 'shift.late = { days = ["mon"], start = "06:30", end = "07:00" }\n'
    found = sheet(MONDAY % "07:00" + late + ONE_TABLE.replace("count = 1", "count = 2"))
    assert found.pieces == {"body": 5 + 4}
    assert found.states["waiting_for_person"] == 3 + 1
    assert found.states["load"] == (3 + 4 * 4) + (3 + 3 * 4 + 1)
    assert found.people["on_duty"] == 90


def test_who_is_interrupted_keeps_the_place_at_the_head() -> None:
    """Two tables, one person until 06:40, one from 07:00 on; loading takes 20 min.

    Visited 0-21 and 21-40, 2 min short. The first, cut at 31, has asked since then. At 60 the
    interrupted visit comes first, -62; then the first table, 62-84; the second is cut 62-72 and
    visited 84-100, 16 of 22; the first is cut 84-94.
    """
    found = sheet(handed_over("07:00", "07:40").replace("count = 1", "count = 2"))
    assert found.pieces == {"body": 1 + 1 + 1}
    assert found.states == {
        "load": 21 + 19 + 2 + 22 + 16,
        "in_cycle": 10 + 10 + 10,
        # The second 0-21, the first 31-40, 60-62 and 94-100, the second 72-84.
        "waiting_for_person": 21 + 9 + 2 + 6 + 12,
        "nobody_on_duty": 2 * (BEFORE + 20 + WEEK - BEFORE - 100),
    }


def test_a_shift_over_sunday_midnight() -> None:
    """Sunday 22:00 to Monday 06:00; minutes here are those of the week.

    It is already running at 0: visit 0-3, cuts from 3 + 14 n, the last at 353 (n = 25), which ends
    at 363. On Sunday from 9,960: visit -9,964, cuts from 9,964 + 14 n: the ninth begins at 10,076
    and is 4 min old when the week ends.
    """
    night = 'shift.night = { days = ["sun"], start = "22:00", end = "06:00" }\n'
    found = sheet(night + ONE_TABLE)
    assert found.pieces == {"body": 26 + 8}
    assert found.cycle == [26 * 10 - 3 + 8 * 10 + 4, 0, 3]
    assert found.states == {
        "load": (3 + 25 * 4) + 9 * 4,
        "in_cycle": 344,
        "nobody_on_duty": 9960 - 363,
    }
    assert found.people["paid"] == 480


def test_a_weekend_shift_and_days_without_anybody() -> None:
    """Saturday 06:00-08:00 alone. Until then 5 x 1,440 + 360 min nobody is there; visit 0-3, then
    cuts from 3 + 14 n < 120: the ninth at 115, which ends at 125. To Sunday's end 42 h = 2,520."""
    weekend = 'shift.extra = { days = ["sat"], start = "06:00", end = "08:00" }\n'
    found = sheet(weekend + ONE_TABLE)
    assert found.pieces == {"body": 9}
    assert found.states == {
        "load": 3 + 8 * 4,
        "in_cycle": 90,
        "nobody_on_duty": (5 * 1440 + 360) + (2520 - 125),
    }


def test_a_shift_over_midnight_with_an_unpaid_break() -> None:
    """Monday 22:00 to Tuesday 02:00, break 00:10-00:30: minutes from 22:00. Visit 0-3, cuts from
    3 + 14 n: the tenth begins at 129, ends at 139. The break is 130-150: visit 150-154; cuts from
    154 + 14 n < 240: the seventh at 238, which ends at 248."""
    night = (
        'shift.night = { days = ["mon"], start = "22:00", end = "02:00", '
        'unpaid_breaks = ["00:10-00:30"] }\n'
    )
    found = sheet(night + ONE_TABLE)
    assert found.pieces == {"body": 10 + 7}
    assert found.cycle == [100 - 9 + 70 - 8, 9, 8]
    assert found.states == {
        "load": 3 + 9 * 4 + 7 * 4,
        "in_cycle": 170,
        # From 139 to 150 nobody is on duty; then Monday until 22:00 and what is left.
        "nobody_on_duty": (150 - 139) + 22 * 60 + (WEEK - 22 * 60 - 248),
    }
    assert (found.people["paid"], found.people["on_duty"]) == (220, 220)
