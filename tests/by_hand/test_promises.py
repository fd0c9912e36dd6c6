"""Rush orders and real orders."""

from __future__ import annotations

from answer_studies import sound

from whatif.answers.compare import compare
from whatif.answers.orders.orders import promises
from whatif.session.calculate.memory import Memory

from .pencil import BEFORE, ONE_WEEK, Sheet, minutes, sheet

WEEKDAYS = (
    'shift.early = { days = ["mon", "tue", "wed", "thu", "fri"], start = "06:00", end = "14:00" }\n'
)

BODY_AND_PLATE = """\
machine.mill.count = 1
part.body.cycle = "30 min"
part.body.setup = "10 min"
part.body.weekly = 1000
part.body.contribution = 12
part.plate.cycle = "10 min"
part.plate.setup = "5 min"
part.plate.weekly = 0
"""

RUSH = 'rush.hot = { part = "plate", pieces = 1, arrives = "mon 07:00" }\n'
"""It arrives at minute 60."""


def test_a_rush_order_on_a_table() -> None:
    """Visit 0-13 (1 + 10 + 2), body cut 13-43, visit -47, cut 47-77: finished with its load. Visit
    77-86 (1 + 1 + 5 + 2), plate cut 86-96, visit 96-110 (1 + 1 + 10 + 2): off, 50 min after 60.

    Without it: bodies from 13 + 34 n < 480, fourteen on Monday, the last until 485. With it: two,
    and from 110 + 34 n < 480 eleven more, the last until 480. Both Tuesdays begin with a visit to
    a cut table, so one body is lost in the two weeks: half an hour, 12 of contribution.
    """
    found = sheet(WEEKDAYS + BODY_AND_PLATE + RUSH)
    hot = found.told["rush"]["hot"]
    assert minutes(hot["hours"]) == 50
    assert (hot["lost_spindle_hours"], hot["lost_contribution"]) == (0.5, 12)


def test_a_rush_order_among_pallets() -> None:
    """A visited 0-13, in 13-14, body cut 14-44; B visited 13-26, in 44-45, cut 45-75; A visited
    44-48. The rush order comes at 60. B is the next to be free: visited 75-84 (1 + 1 + 5 + 2) while
    A is cut 76-106. B in 106-107, plate cut -117; A visited 106-110; B visited 117-131 (1 + 1 + 10
    + 2): off, 71 min after 60.

    Without it: bodies from 14 + 31 n, changes begun before 480: sixteen on Monday, the last from
    479. With it: three, and from 118 + 31 n twelve, the last until 489. Both Tuesdays begin with
    one pallet loaded and one to be visited: one body is lost.
    """
    pallets = 'machine.mill.pallets = 2\nmachine.mill.pallet_change = "1 min"\n'
    found = sheet(WEEKDAYS + BODY_AND_PLATE + pallets + RUSH)
    hot = found.told["rush"]["hot"]
    assert minutes(hot["hours"]) == 71
    assert (hot["lost_spindle_hours"], hot["lost_contribution"]) == (0.5, 12)


def test_a_rush_order_at_any_hour() -> None:
    """A table, cuts of 7 min, no handling but walks of 1 min: every 8 min from 0 on a walk, then a
    cut; 60 of them a day, the last cut ends with the shift.

    The order may come at 0, 60, .. 420 of five days: by turns just when the table asks, as 8
    divides 0, 120, 240, 360, and 4 min after. It is there before the person begins the visit: walk
    1, cut 7, walk 1: 9 min. Or 4 min later. Median (9 + 13) / 2. In each case it takes 8 min in
    which a body would have been cut.
    """
    found = sheet(
        WEEKDAYS
        + """\
machine.mill.count = 1
part.body.cycle = "7 min"
part.body.load = "0 min"
part.body.unload = "0 min"
part.body.weekly = 1000
part.plate = { cycle = "7 min", load = "0 min", unload = "0 min", weekly = 0 }
rush.hot = { part = "plate", pieces = 1 }
"""
    )
    hot = found.told["rush"]["hot"]
    assert {key: minutes(one) for key, one in hot["hours"].items()} == {"median": 11, "worst": 13}
    lost = hot["lost_spindle_hours"]
    assert {key: minutes(one) for key, one in lost.items()} == {"median": 7, "worst": 7}


THREE_ORDERS = BODY_AND_PLATE.replace("1000", "0") + (
    'order.first = { part = "body", pieces = 2, due = "mon 07:00" }\n'
    'order.second = { part = "plate", pieces = 3, due = "mon 08:00" }\n'
    'order.third = { part = "body", pieces = 1, due = "mon 10:00" }\n'
)


def off(found: Sheet, key: str) -> dict[str, float]:
    """Minutes from Monday 06:00, by order."""
    return {id_: minutes(one[key]) - BEFORE for id_, one in found.told["orders"].items()}


def test_two_of_three_orders_late() -> None:
    """First: visit 0-13 (1 + 10 + 2), cut -43, visit -47: the first piece is off; cut -77, visit
    77-86 (1 + 1 + 5 + 2): off, due at 60: 26 late. Second: cuts 86-96, 100-110 and 114-124, visits
    of 4 between, the first of which ends at 100; visit 124-138 (1 + 1 + 10 + 2): off, due at 120:
    18 late. Third: cut 138-168, off 170, due at 240.
    """
    found = sheet(WEEKDAYS + THREE_ORDERS)
    assert off(found, "first_off") == {"first": 47, "second": 100, "third": 170}
    assert off(found, "last_off") == {"first": 86, "second": 138, "third": 170}
    late = {id_: minutes(one["late_hours"]) for id_, one in found.told["orders"].items()}
    assert late == {"first": 26, "second": 18, "third": 0}


def test_what_two_late_orders_come_to() -> None:
    """One of three on time; (26 + 18 + 0) / 3 min late on average, 26 at most. Of the first order a
    piece is off at 47, in time, and one at 86; of the second at 100 and 114, and one at 138: two
    pieces are late, in five days."""
    answer = compare(sound(ONE_WEEK + WEEKDAYS + THREE_ORDERS), Memory()).answers["today"]
    found = promises(answer.plan, list(answer.orders.values()))
    assert round(found.on_time or 0, 6) == round(100 / 3, 6)
    assert minutes(found.mean_late or 0) == round(44 / 3, 3)
    assert minutes(found.most_late or 0) == 26
    assert found.pieces_late == 2 / 5


def test_a_second_table_for_the_same_orders() -> None:
    """Both tables ask at 06:00. The first takes a body, visit 0-13 (1 + 10 + 2), and is at its
    order, as only one table may be; the second takes a plate, 13-21 (1 + 5 + 2), cut -31, visit -35
    (1 + 1 + 2), cut -45. First: cut 13-43, visit -47, cut -77. Second: visit 47-51, the third
    plate, cut -61; visit 61-75 (1 + 1 + 10 + 2) for the third order, cut -105, off -107. First:
    visit 77-79: the first order is off at 79, 19 late.
    """
    found = sheet(WEEKDAYS + THREE_ORDERS.replace("count = 1", "count = 2"))
    assert off(found, "first_off") == {"first": 47, "second": 35, "third": 107}
    assert off(found, "last_off") == {"first": 79, "second": 75, "third": 107}
    late = {id_: minutes(one["late_hours"]) for id_, one in found.told["orders"].items()}
    assert late == {"first": 19, "second": 0, "third": 0}
