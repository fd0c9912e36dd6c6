"""What runs while nobody is there, and what strands."""

from __future__ import annotations

import pytest
from answer_studies import sound

from whatif.answers.night.of_study import study_nights
from whatif.session.calculate.memory import Memory
from whatif.telling.night import by_clock

from .pencil import BEFORE, MONDAY, ONE_WEEK, WEEK, sheet, sheets

POOL = """\
machine.mill.pallets = 3
machine.mill.pallet_change = "1 min"
part.body.cycle = "30 min"
part.body.per_pallet = 2
part.body.weekly = 1000
"""
"""Loads of two pieces, an hour of cutting; visits of 1 + 4 = 5 and 1 + 2 + 4 = 7 min."""

UNTIL_DONE = 'unattended.after_shift = "until done"\n'

NIGHT = (
    MONDAY % "08:00"
    + POOL
    + UNTIL_DONE
    + '[scenario.six]\nparent = "today"\nmachine.mill.pallets = 6\n'
)


def test_a_night_that_ends_when_the_pallets_run_out() -> None:
    """A visited 0-5, in 5-6, cut 6-66; B 5-10, C 10-15. B in 66-67, cut -127; A visited 66-73. The
    shift ends at 120. C in 127-128, cut -188; A in 188-189, cut -249; then all three are cut.

    On the first morning the person is free 15-66 and 73-120.
    """
    today = sheets(NIGHT)["today"]
    assert today.pieces == {"body": 8}
    assert today.cycle == [60 + 53, 0, 7 + 60 + 60]
    assert today.states == {
        "load": 5,
        "pallet_change": 4,
        "in_cycle": 240,
        "nobody_on_duty": WEEK - 249,
    }
    assert today.people["busy"] == 3 * 5 + 7
    assert today.people["free_stretches"] == 51 + 47


def test_more_pallets_for_the_night() -> None:
    """Six, all loaded by 30, and A again 66-73: seven loads of 60 + 1 min from 5 on, until 432."""
    found = sheets(NIGHT)
    six = found["six"]
    assert six.pieces == {"body": 14}
    assert six.states["in_cycle"] == 420
    assert six.states["nobody_on_duty"] == WEEK - 5 - 7 * 61
    assert six.told["gain_percent"]["saleable"] == pytest.approx(75)  # 14 pieces against 8


def test_what_waits_in_the_morning() -> None:
    """All three pallets, two pieces each, ask for 7 min: 21 min after Tuesday's begin at 06:00."""
    text = ONE_WEEK + NIGHT.replace('["mon"]', '["mon", "tue"]')
    nights = study_nights(sound(text), Memory(), lambda done, of: None).scenarios["today"].nights
    assert nights is not None
    monday = nights.after[0]
    assert (by_clock(monday, 0), by_clock(monday, monday.length)) == ("Mon 08:00", "Tue 06:00")
    assert monday.hours.mean == (7 + 60 + 60) / 60
    assert by_clock(monday, monday.turning.mean) == "Mon 10:09"  # 249 min after 06:00
    morning = monday.morning
    assert (morning.pieces.mean, morning.visits.mean, morning.minutes.mean) == (6, 3, 21)
    assert morning.clearing is not None
    assert morning.clearing.mean == 21 / 60


LIMIT = (
    MONDAY % "08:00"
    + POOL
    + """\
unattended.after_shift = "1 h"
[scenario.hold]
parent = "today"
unattended.at_limit = "hold"
[scenario.half_hour]
parent = "today"
unattended.after_shift = "30 min"
[scenario.next_day]
parent = "hold"
shift.early.days = ["mon", "tue"]
"""
)


def test_pieces_begun_before_the_limit_are_finished() -> None:
    """As above until C, cut 128-188: its second piece begins at 158, before 120 + 60, and is
    finished. A, loaded, stays outside from 188 on. With half an hour the limit is at 150: C's first
    piece is finished at 158, its second not begun, and the load does not count."""
    found = sheets(LIMIT)
    today, half_hour = found["today"], found["half_hour"]
    assert today.pieces == {"body": 6}
    assert today.cycle == [113, 0, 7 + 60]
    assert today.states == {
        "load": 5,
        "pallet_change": 3,
        "in_cycle": 180,
        "outside_running_hours": WEEK - BEFORE - 188,
        "nobody_on_duty": BEFORE,
    }
    assert half_hour.pieces == {"body": 4}
    assert half_hour.cycle == [113, 0, 7 + 30]
    assert half_hour.states["outside_running_hours"] == WEEK - BEFORE - 158


def test_hold_stops_the_cut_at_the_limit() -> None:
    """C is held at 180 with 8 min left."""
    hold = sheets(LIMIT)["hold"]
    assert hold.pieces == {"body": 4}
    assert hold.cycle == [113, 0, 7 + 52]
    assert hold.states["outside_running_hours"] == WEEK - BEFORE - 180


def test_what_was_held_is_taken_up_next_day() -> None:
    """Tuesday, minutes from its 06:00: C cut 0-8; B, cut since Monday, visited 0-7; A in 8-9, cut
    9-69; C visited 8-15; B in 69-70, cut 70-130; A visited 69-76; C in 130-131, cut 131-180, held.

    In cycle on Monday 172, on Tuesday 8 + 60 + 60 + 49; counted: C's, A's and B's pieces.
    """
    found = sheets(LIMIT)["next_day"]
    assert found.pieces == {"body": 4 + 6}
    assert found.states == {
        "load": 5,
        "pallet_change": 3 + 3,
        "in_cycle": 172 + 177,
        "outside_running_hours": (1440 - 180) + (WEEK - BEFORE - 1440 - 180),
        "nobody_on_duty": BEFORE,
    }
    assert found.people["busy"] == 15 + 7 + 7 + 7 + 7


def test_a_part_that_is_not_begun_unattended() -> None:
    """Pieces of 40 min: A cut 6-86; B in 86-87, its first piece cut 87-127, begun before 120. The
    second is not begun: B stays in the spindle, and nothing else is cut.

    Where it may run, B is cut -167, C in at 167, cut 168-248, A in at 248, cut 249-329.
    """
    found = sheets(
        MONDAY % "08:00"
        + POOL.replace("30 min", "40 min")
        + UNTIL_DONE
        + 'part.body.unattended = false\n[scenario.may]\nparent = "today"\n'
        + "part.body.unattended = true\n"
    )
    today, may = found["today"], found["may"]
    assert today.pieces == {"body": 2}
    assert today.cycle == [113, 0, 7]
    assert today.states == {
        "load": 5,
        "pallet_change": 2,
        "in_cycle": 120,
        "outside_running_hours": WEEK - BEFORE - 127,
        "nobody_on_duty": BEFORE,
    }
    assert may.pieces == {"body": 8}
    assert may.states["nobody_on_duty"] == WEEK - 329


TWO_MORNINGS = 'shift.early = { days = ["mon", "tue"], start = "06:00", end = "07:00" }\n'
SETUP = 'part.body.setup = "10 min"\n'
RELEASED = """\
part.body.cycle = "10 min"
part.body.first_piece = "40 min"
part.body.per_pallet = 2
part.body.weekly = 1000
"""


def test_a_first_piece_stranded_over_night() -> None:
    """Visit 0-13 (1 + 10 + 2, one piece), cut 13-23; of the 40 min until its release 37 pass until
    the shift ends, 3 on Tuesday. Tuesday: visit 3-9 (1 + 1 + 4), cut 9-29, visit 29-36 (1 + 2 + 4),
    cut 36-56, visit 56-60, 4 of 7 min."""
    found = sheet(TWO_MORNINGS + "machine.mill.count = 1\n" + RELEASED + SETUP)
    assert found.pieces == {"body": 1 + 2 + 2}
    assert found.states == {
        "setup": 10,
        "load": 3 + 6 + 7 + 4,
        "in_cycle": 10 + 40,
        "first_piece": 37 + 3,
        "nobody_on_duty": WEEK - 120,
    }


NOT_RELEASING = (
    'shift.late = { days = ["mon"], start = "07:00", end = "08:00", '
    'does = ["load", "setup", "prove_out", "tools", "repair"] }\n'
)


def test_a_shift_that_does_not_inspect_does_not_count() -> None:
    """The same with a late shift on Monday, 60-120, which cannot release: nothing changes but that
    somebody is there while the first piece waits."""
    early = sheet(TWO_MORNINGS + "machine.mill.count = 1\n" + RELEASED + SETUP)
    found = sheet(TWO_MORNINGS + NOT_RELEASING + "machine.mill.count = 1\n" + RELEASED + SETUP)
    there = {
        "first_piece": early.states["first_piece"] + 60,
        "nobody_on_duty": early.states["nobody_on_duty"] - 60,
    }
    assert (found.states, found.pieces) == ({**early.states, **there}, early.pieces)
    assert found.people["on_duty"] == early.people["on_duty"] + 60


def test_while_a_first_piece_waits_other_pallets_are_cut() -> None:
    """Two pallets, no setup time; yet the first load after putting the fixture on is one piece.

    A visited 0-3, in 3-4, cut 4-14; B visited 3-6, in 14-15, cut 15-25. A is released at 14 + 40 =
    54, visited 54-60 (1 + 1 + 4), and may not go in at 60. B has 5 min to wait on Tuesday.
    Tuesday: A in 0-1, cut 1-21; B visited 5-11, in 21-22, cut 22-42; A visited 21-28, in 42-43, cut
    43-63; B visited 42-49, and stays outside from 63 on.
    """
    pallets = 'machine.mill.pallets = 2\nmachine.mill.pallet_change = "1 min"\n'
    found = sheet(TWO_MORNINGS + pallets + RELEASED)
    assert found.pieces == {"body": 1 + 1 + 2 + 2 + 2}
    assert found.cycle == [10 + 10 + 20 + 20 + 17, 0, 3]
    assert found.states == {
        "load": 3 + 6,
        "pallet_change": 2 + 3,
        "in_cycle": 80,
        "first_piece": 54 - 25,
        "outside_running_hours": (1440 - 60) + (WEEK - BEFORE - 1440 - 63),
        "nobody_on_duty": BEFORE,
    }


def test_a_first_piece_of_every_order() -> None:
    """Orders of three pieces on a table, loads of two, released after 5 min.

    Visit 0-3, cut 3-13, released 18; visit -24 (1 + 1 + 4), cut the order's other two -44; visit
    44-49 (1 + 2 + 2) for the next order's first piece, cut -59; its release would come at 64; 1 min
    of it passes on Monday, 4 on Tuesday: visit 4-10, cut -30, visit -35, cut -45, released 50;
    visit 50-56, cut 56-76, of which the second piece, begun at 66, is not: only one is cut, -66.
    """
    each = (
        'part.body.first_piece_every = "order"\npart.body.batch = 3\n'
        'part.body.first_piece = "5 min"\n'
    )
    known = RELEASED.replace('part.body.first_piece = "40 min"\n', "")
    found = sheet(TWO_MORNINGS + "machine.mill.count = 1\n" + known + each)
    assert found.pieces == {"body": 1 + 2 + 1 + 2 + 1}
    assert found.states == {
        "load": (3 + 6 + 5) + (6 + 5 + 6),
        "in_cycle": (10 + 20 + 10) + (20 + 10 + 10),
        "first_piece": 5 + 1 + 4 + 5,
        "outside_running_hours": WEEK - BEFORE - 1440 - 66,
        "nobody_on_duty": BEFORE + (1440 - 60),
    }
