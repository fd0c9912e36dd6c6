"""Orders: one at one pallet, part numbers, scrap made good, fixtures shared out, operations."""

from __future__ import annotations

import pytest

from .pencil import BEFORE, MONDAY, WEEK, sheet

# --- one order, one table -----------------------------------------------------------------

TWO_TABLES = """\
sequence.run_ahead = "0 h"
machine.mill.count = 2
part.body = { cycle = "10 min", batch = 4, weekly = 4, at_once = %d }
"""


def test_an_order_is_at_one_table() -> None:
    """One order of four may be opened this week. First: visit 0-3, cut -13, visits of 4 and cuts of
    10 to 55, visit -57. The second has its turn at 3 and nothing to take: it is not visited."""
    found = sheet(MONDAY % "08:00" + TWO_TABLES % 1)
    assert (found.pieces, found.met) == ({"body": 4}, {"body": 100})
    assert found.states == {
        "nobody_on_duty": 2 * BEFORE,
        "load": 3 + 3 * 4 + 2,
        "waiting_for_person": 3,
        "in_cycle": 40,
        "nothing_due": 2 * (WEEK - BEFORE) - 57 - 3,
    }


def test_an_order_at_two_tables_at_once() -> None:
    """First: visit 0-3, cut -13, visit -17, cut -27, visit -29. Second: visit 3-6, cut -16; its
    person is free at 17, visit -21, cut -31, visit -33."""
    found = sheet(MONDAY % "08:00" + TWO_TABLES % 2)
    assert found.states == {
        "nobody_on_duty": 2 * BEFORE,
        "load": 2 * (3 + 4 + 2),
        "waiting_for_person": 3 + 1,
        "in_cycle": 40,
        "nothing_due": 2 * (WEEK - BEFORE) - 29 - 33,
    }


# --- part numbers -------------------------------------------------------------------------


@pytest.mark.parametrize(("numbers", "made", "in_setup"), [(1, 8, 5), (2, 6, 6 * 5)])
def test_each_part_number_is_set_up_anew(numbers: int, made: int, in_setup: int) -> None:
    """Orders of one piece. One number: visit 0-8 (1 + 5 + 2), cut -18, then every 14 min (visit 4):
    cuts end at 18 + 14 k, eight by 116; the visit after it is done at 120.

    Two by turns: the visit between is 9 (1 + 1 + 5 + 2), so that cuts end at 18 + 19 k, six by 113;
    of the visit after it 7 min of 9 are done at 120, and with them 7/9 of its setup.
    """
    found = sheet(
        MONDAY % "08:00"
        + "machine.mill.count = 1\n"
        + 'part.body = { cycle = "10 min", batch = 1, weekly = 100, setup = "5 min", '
        + f"numbers = {numbers} }}\n"
    )
    assert found.pieces == {"body": made}
    begun = 7 * 5 / 9 if numbers == 2 else 0
    assert found.states["setup"] == pytest.approx(in_setup + begun, abs=0.02)


LIKE = 'cycle = "10 min", batch = 1, setup = "5 min"'
IN_ONE = f"part.body = {{ {LIKE}, weekly = 300, numbers = 3 }}\n"
LINE_BY_LINE = "".join(f"part.{id_} = {{ {LIKE}, weekly = 100 }}\n" for id_ in "abc")


@pytest.mark.parametrize(
    ("lines", "made", "in_setup"),
    [(IN_ONE, {"body": 6}, 6 * 5), (LINE_BY_LINE, {"a": 2, "b": 2, "c": 3}, 3 * 5)],
    ids=["in one line", "line by line"],
)
def test_three_numbers_in_one_line_keep_no_setup_and_three_parts_do(
    lines: str, made: dict[str, int], in_setup: int
) -> None:
    """The same three parts, orders of one piece, one table until 07:45, setups kept where they may.

    In one line order 2 is of another number than order 1, and so on: visit 0-8, then cut and a
    visit of 9: cuts end at 18 + 19 k, five by 94; that begun at 103 is finished.

    Line by line order k of each is due at the same time. Of a 1 and 2 (1 is due no later than b's
    first), visits 0-8 and 18-22; of b 1 and 2, 32-41 and 51-55; of c 1 and 2, 65-74 and 84-88, and
    3 at 98-102, since 2 is due before any other's third; what is cut then is finished.
    """
    found = sheet(MONDAY % "07:45" + "machine.mill.count = 1\n" + lines)
    assert found.pieces == made
    assert found.states["setup"] == in_setup


def test_a_setup_is_kept_while_the_order_before_is_due_no_later_than_any_other() -> None:
    """Orders k of both parts are due at k x 6,048 s. After a1 the table keeps its setup for a2,
    since a1 is due no later than b1: visit 0-8, cut -18, visit -22, cut -32. a2 is due later than
    b1: visit -41 (1 + 1 + 5 + 2), cut -51. Then b2 and b3, as b2 is due before a3, and b4, as b3 is
    due no later than a3: visits of 4, cuts to 65, 79 and 93, the last one begun before 90."""
    part = '{ cycle = "10 min", batch = 1, weekly = 100, setup = "5 min" }'
    found = sheet(MONDAY % "07:30" + f"machine.mill.count = 1\npart.a = {part}\npart.b = {part}\n")
    assert found.pieces == {"a": 2, "b": 4}
    assert found.states["setup"] == 2 * 5
    assert found.states["in_cycle"] == 6 * 10


# --- scrap --------------------------------------------------------------------------------


def test_scrap_is_made_good_and_then_the_table_stands() -> None:
    """Eight good ones of 80 %: ten are cut: visit 0-3, nine times cut and visit of
    14, cut -139, visit -141. Nothing is due from then on."""
    found = sheet(
        MONDAY % "14:00"
        + 'sequence.run_ahead = "0 h"\nmachine.mill.count = 1\n'
        + 'part.body = { cycle = "10 min", batch = 8, weekly = 8, scrap = "20 %" }\n'
    )
    assert found.pieces == {"body": 8}
    assert found.met == {"body": 100}
    assert found.states == {
        "nobody_on_duty": BEFORE,
        "load": 3 + 9 * 4 + 2,
        "in_cycle": 100,
        "nothing_due": WEEK - BEFORE - 141,
    }


def test_scrap_in_awkward_shares() -> None:
    """Eight at 16 %: 8 / 0.84 = 9.52, so ten, of which 8.4 are good."""
    found = sheet(
        MONDAY % "14:00"
        + 'sequence.run_ahead = "0 h"\nmachine.mill.count = 1\n'
        + 'part.body = { cycle = "10 min", batch = 8, weekly = 8, scrap = "16 %" }\n'
    )
    assert found.pieces == {"body": pytest.approx(8.4)}
    assert found.states["in_cycle"] == 100


# --- fixtures -----------------------------------------------------------------------------


def test_a_machine_without_a_fixture_gets_one_of_two() -> None:
    """Two persons, mills A and B with two pallets and stations each, two fixtures in all.

    A1 and A2 are visited 0-3 and hold both; B has its turn at 3 and rests. A1 cut 3-13; A holds
    another one and B starves, so A1 is only taken off, 13-15, and rests. B1 takes its fixture,
    15-18 (A1 asks too, but A has a loaded pallet), and each mill goes on with one. A2 cut 13-23,
    visits of 4 and cuts of 10: 27-37, 41-51, 55-65. B1: 18-28, 32-42, 46-56, visit -60.
    """
    found = sheet(
        'shift.early = { days = ["mon"], start = "06:00", end = "07:00", people = 2 }\n'
        "machine.mill = "
        '{ count = 2, pallets = 2, load_stations = 2, pallet_change = "0 min" }\n'
        'part.body = { cycle = "10 min", batch = 20, weekly = 2000, fixtures = 2 }\n'
    )
    assert found.pieces == {"body": 5 + 3}
    assert found.states == {
        "nobody_on_duty": 2 * BEFORE + (WEEK - BEFORE - 65),
        "waiting_for_person": 3,
        "load": (3 + 3 * 4) + (3 + 3 * 4),
        "in_cycle": 80,
        "no_fixture": 15 - 3,
        "outside_running_hours": WEEK - BEFORE - 60,
    }


# --- operations ---------------------------------------------------------------------------


def test_no_second_side_without_a_first() -> None:
    """The mill's table: visits 0-3, 13-17, 27-31, 41-45, cuts of 10 after each, the last to 55.

    The lathe takes two of them at a time: there are two at 31, visit -36 (1 + 4), cuts of 5 to 46;
    one lies there then: taken off 46-49. So four firsts are cut, two seconds, though the
    lathe might cut one more each 5 min.
    """
    found = sheet(
        MONDAY % "06:50"
        + """\
machine.mill.count = 1
machine.lathe.count = 1
part.first = { cycle = "10 min", batch = 4, machines = ["mill"] }
part.second = { cycle = "5 min", batch = 4, per_pallet = 2, weekly = 100, after = "first", \
machines = ["lathe"] }
"""
    )
    assert found.pieces == {"first": 4, "second": 2}
    assert found.states["in_cycle"] == 40 + 10
    assert found.states["load"] == (3 + 3 * 4) + 5 + 3
