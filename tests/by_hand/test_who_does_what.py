"""Which shifts count for what, and which nights pieces are begun in. Minutes from Monday 06:00."""

from __future__ import annotations

import pytest

from .pencil import BEFORE, MONDAY, WEEK, sheet

ONE_TABLE = """\
machine.mill.count = 1
part.body.cycle = "10 min"
part.body.weekly = 1000
sequence.make = "flat_out"
"""

LATE = 'shift.late = { days = ["mon"], start = "%s", end = "%s", does = %s }\n'


def test_a_shift_that_does_not_load_makes_no_hour_attended() -> None:
    """Visits 0-3, then every 14 min: 60 min of the first shift hold cuts from 3, 17, 31, 45 and 59.

    The last cut ends at 69, nobody there who loads. The other shift begins at 60 and ends at 180:
    it makes no hour attended, and no pieces are begun after its end.
    """
    late = LATE % ("07:00", "09:00", '["repair", "tools", "release"]')
    found = sheet(MONDAY % "07:00" + late + ONE_TABLE)
    assert found.cycle == [40 + 1, 0, 9]
    assert found.states == {"load": 3 + 4 * 4, "in_cycle": 50, "nobody_on_duty": WEEK - 69}
    # Paid and on duty all the same; utilization is of the one hour in which a shift loads.
    assert (found.people["paid"], found.people["on_duty"]) == (60 + 120, 60 + 120)
    assert found.people["free_stretches"] == 120
    assert found.told["simulated"]["utilization_percent"]["of_shift"] == pytest.approx(
        100 * 50 / 60
    )


def test_a_break_of_those_who_load_is_a_break() -> None:
    """A break 10-40, a repairer on duty in it: visit 0-3, cut 3-13, then nobody takes the pieces
    off until 40; visit 40-44, cut 44-54, visit 54-58, cut 58-68."""
    shift = MONDAY.replace(" }", ', breaks = ["06:10-06:40"] }') % "07:00"
    found = sheet(shift + LATE % ("06:00", "07:00", '["repair"]') + ONE_TABLE)
    assert found.cycle == [7 + 10 + 2, 3, 8]
    assert found.states == {
        "load": 3 + 4 + 4,
        "in_cycle": 30,
        "nobody_on_duty": WEEK - 60 + 27 - 8,
    }


SIX_PALLETS = (
    ONE_TABLE
    + """\
machine.mill.pallets = 6
machine.mill.pallet_change = "0 min"
part.body.per_pallet = 10
part.body.fixtures = 6
part.body.batch = 1000
part.body.at_once = 6
part.body.load = "1 min"
part.body.unload = "0 min"
handling.walk = "0 min"
"""
)


def two_days(nights: str) -> str:
    days = MONDAY.replace('"mon"', '"mon", "tue"') % "07:00"
    return days + SIX_PALLETS + f'unattended.after_shift = "2 h"\nunattended.nights = {nights}\n'


def test_nights_after_some_days_only() -> None:
    """Six pallets of ten pieces of 10 min, loaded 0-10, 10-20 and so on to 60. Cut from 10 on: 50
    min of Monday's shift, and on through 120 min of the night where it is one, to 180, the 17
    pieces of one load and 7 of the next. On Tuesday loads are ready at 0: 60 min, and the night.
    """
    assert sheet(two_days('["mon"]')).cycle == [50 + 60, 0, 120]
    assert sheet(two_days('["tue"]')).cycle == [50 + 60, 0, 120]
    assert sheet(two_days('["mon", "tue"]')).cycle == [50 + 60, 0, 240]
    assert sheet(two_days('["wed"]')).cycle == [50 + 60, 0, 0]


def test_until_done_counts_from_these_days_too() -> None:
    """After Monday's shift all six loads are cut to the last piece, 600 min from 10 on; after
    Tuesday's nothing. With Wednesday alone, after which there is no shift, nothing after either."""
    text = two_days('["mon"]').replace('"2 h"', '"until done"')
    assert sheet(text).cycle[2] == 600 - 50
    assert sheet(text.replace('["mon"]', '["wed"]')).cycle[2] == 0


def test_a_shift_of_sunday_counts_as_sundays_though_it_ends_on_monday() -> None:
    """From Sunday 22:00 to Monday 06:00, here minutes of the week. Six loads stand ready at 60, the
    pallets are served as they are cut, and 120 min of a night after Sunday follow at 360."""
    night = 'shift.night = { days = ["sun"], start = "22:00", end = "06:00" }\n'
    text = night + SIX_PALLETS + 'unattended.after_shift = "2 h"\nunattended.nights = ["%s"]\n'
    assert sheet(text % "sun").cycle[2] == 120
    assert sheet(text % "mon").cycle[2] == 0


def test_nothing_of_a_machine_is_begun_with_nobody_there() -> None:
    """As above, after every shift, but the machine may not: as a part that may not."""
    text = two_days('["mon", "tue"]')
    assert sheet(text + "machine.mill.unattended = false\n").cycle == [50 + 60, 0, 0]
    assert sheet(text + "part.body.unattended = false\n").cycle == [50 + 60, 0, 0]


@pytest.mark.parametrize("whose", ["machine.mill", "part.body"])
def test_what_is_under_way_is_held_at_its_own_limit(whose: str) -> None:
    """Cuts of 7 min from 10 on: the piece that is begun at 59 is held at 60, its own limit, though
    the night runs on to 180 for others; it is taken up on Tuesday at 0. Finished, it runs to 66."""
    text = (
        two_days('["mon", "tue"]').replace('"10 min"', '"7 min"') + f"{whose}.unattended = false\n"
    )
    held = sheet(text + 'unattended.at_limit = "hold"\n')
    assert held.cycle == [50 + 60, 0, 0]
    assert held.states["outside_running_hours"] == WEEK - BEFORE - 60 - 60
    assert sheet(text).cycle[2] == 6 + 3


def test_tools_are_left_new_by_those_who_do_tools() -> None:
    """Tools last for two pieces. Visits 0-3, cut 3-13, visit 13-17, cut 17-27, visit 27-31; then
    they are worn, a change 31-36, cut 36-46, visit 46-50, cut 50-60, visit 60-64 and a change that
    is begun at 64 and dropped at 65, when the shift ends whose people do tools.

    The other shift goes on to 90 min: with new tools cut 65-75, 79-89 after the visit 75-79, and
    the visit 89-90. Where its people alone do tools, the change goes on to 69 and the cut 69-79,
    visit -83, cut 83-93.
    """
    tools = ONE_TABLE + 'part.body.tool_life = 2\npart.body.tool_change = "5 min"\n'
    first = MONDAY.replace(" }", ', does = ["%s"] }') % ("07:05", "tools")
    second = 'shift.late = { days = ["mon"], start = "06:00", end = "07:30", does = %s }\n'
    one = sheet(first + second % '["load", "setup"]' + tools)
    assert one.pieces == {"body": 2 + 2 + 2}
    assert one.states["person_at_machine"] == 5 + 1
    other = sheet(
        first.replace('"tools"', '"repair"') + second % '["load", "setup", "tools"]' + tools
    )
    assert other.states["person_at_machine"] == 5 + 5
    assert other.cycle == [40 + 10 + 7, 0, 3]


RELEASED = (
    ONE_TABLE
    + """\
part.body.first_piece = "20 min"
part.body.setup = "4 min"
"""
)


def test_a_release_that_waits_for_its_shift_is_a_first_piece_while_attended() -> None:
    """Visit 0-7, cut 7-17, then 20 min of a shift that releases, which runs from 30 to 50: until 50
    the machine waits for its first piece, somebody being on duty. Visit 50-54, cut 54-64."""
    early = MONDAY.replace(" }", ', does = ["load", "setup"] }') % "07:00"
    text = early + LATE % ("06:30", "07:30", '["release"]') + RELEASED
    found = sheet(text)
    assert found.states == {
        "load": 3 + 4,
        "setup": 4,
        "in_cycle": 20,
        "first_piece": 50 - 17,
        "nobody_on_duty": WEEK - 64,
    }


def test_a_release_that_nobody_who_loads_is_there_for() -> None:
    """The first shift ends at 20; released is from 30 to 50, with nobody there who loads."""
    early = MONDAY.replace(" }", ', does = ["load", "setup"] }') % "06:20"
    found = sheet(early + LATE % ("06:30", "07:30", '["release"]') + RELEASED)
    assert found.states == {
        "load": 3,
        "setup": 4,
        "in_cycle": 10,
        "first_piece": 3,
        "nobody_on_duty": WEEK - 20,
    }


LOADING = MONDAY.replace(" }", ', does = ["load"] }')
"""One person who loads, and does nothing else."""


def test_a_setup_waits_for_somebody_who_sets_up() -> None:
    """Somebody who loads is there from 0, somebody who sets up too from 30: visit 30-43 (1 + 10 +
    2), cut -53, visit -57, cut 57-67, the last one by either of them."""
    late = LATE % ("06:30", "07:00", '["load", "setup"]')
    found = sheet(LOADING % "07:00" + late + ONE_TABLE + 'part.body.setup = "10 min"\n')
    assert found.states == {
        "waiting_for_person": 30,
        "setup": 10,
        "load": 3 + 4,
        "in_cycle": 20,
        "nobody_on_duty": WEEK - 67,
    }
    # A fixture that is put on in no time needs nobody but who loads.
    assert sheet(LOADING % "07:00" + late + ONE_TABLE).states["load"] == 3 + 4 * 4


def test_a_visit_that_sets_up_is_passed_over() -> None:
    """Two machines, the first for a part with a setup, the second for one without. The only person
    before 30 does not set up, leaves the first machine alone and serves the second: visits 0-3,
    13-17, 27-31, 41-45, 55-59."""
    text = ONE_TABLE.replace("count = 1", "count = 1\nmachine.lathe.count = 1") + (
        'part.body.setup = "10 min"\npart.body.machines = ["mill"]\n'
        'part.cover.cycle = "10 min"\npart.cover.weekly = 1000\npart.cover.machines = ["lathe"]\n'
    )
    late = LATE % ("06:30", "07:00", '["load", "setup"]')
    found = sheet(LOADING % "07:00" + late + text)
    assert found.states["waiting_for_person"] == 30
    assert found.pieces == {"body": 2, "cover": 5}
    assert found.people["busy"] == (13 + 4) + (3 + 4 * 4)


def test_a_prove_out_and_a_tool_change_wait_for_those_who_do_them() -> None:
    """The one who loads proves nothing out and changes no tools. Visit 0-3; the other comes at 30:
    prove-out 30-36, cut -46, visit -50, tools for one piece worn, change 50-55, cut 55-65."""
    text = ONE_TABLE + (
        'part.body.prove_out = "6 min"\npart.body.tool_life = 1\npart.body.tool_change = "5 min"\n'
    )
    late = LATE % ("06:30", "07:30", '["prove_out", "tools"]')
    found = sheet(LOADING % "07:00" + late + text)
    assert found.states["person_at_machine"] == 6 + 5
    assert found.states["waiting_for_person"] == 30 - 3
    assert found.pieces == {"body": 2}


STOCK = """\
shift.early = { days = ["mon"], start = "06:00", end = "07:00", people = 2 }
machine.saw.count = 1
machine.mill.count = 1
part.blank = { cycle = "20 min", machines = ["saw"], batch = 1 }
part.body = { cycle = "10 min", machines = ["mill"], weekly = 3, batch = 1, after = "blank" }
"""


def test_a_machine_without_pieces_to_work_on_has_no_stock() -> None:
    """The saw: visit 0-3, cut -23, visit 23-27 (1 + 1 + 2), and at 27 there is a blank; so at 51
    (cut 27-47, visit -51), and the third, cut 51-71, comes after the people have gone.

    The mill asks before anybody is there, finds its turn at 0, and has nothing to be made of
    until 27: visit 27-30, cut -40, asked and visited 40-42 (1 + 1), as nothing
    may be put on; no stock until 51; visit 51-54, cut -64.
    """
    found = sheet(STOCK)
    assert found.pieces == {"blank": 3, "body": 2}
    assert found.states["no_stock"] == 27 + (51 - 42)
    assert found.states["load"] == (3 + 4 + 4) + (3 + 2 + 3)
    # With two that lie there the mill begins at once and waits for none before 17.
    stocked = sheet(STOCK.replace("batch = 1 }\n", "batch = 1, stock = 3 }\n", 1))
    assert "no_stock" not in stocked.states
