"""Real and rush orders with a pencil (rule `promises.all`, rule `rush.result`)."""

from __future__ import annotations

from dataclasses import replace
from statistics import mean
from typing import Any

import pytest
from answer_studies import sound
from json_told import json_of

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare, compare_wholly
from whatif.answers.gains import is_difference
from whatif.answers.orders.orders import Promises, middle, promises, worst
from whatif.answers.ranged import with_likely
from whatif.cell.model import WEEK
from whatif.cell.run import Run
from whatif.plan.build import plans_of
from whatif.session.calculate.memory import Memory
from whatif.telling.amounts import rounded
from whatif.telling.orders import order_rows, together_rows
from whatif.telling.warnings import warnings_of

HEAD = """\
format = 1
weeks = 1
warm_up = 0
[scenario.today]
"""
ALWAYS = """\
[scenario.today.shift.always]
days = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
start = "00:00"
end = "00:00"
"""
"""One person after the other, round the clock: what one leaves the next takes up at once."""

FORTNIGHT = 2 * WEEK // 60
"""Minutes over which the losses to a rush order are counted."""


def study(*lines: str, shift: str = ALWAYS, head: str = HEAD) -> str:
    return head + "\n".join([*lines, shift])


def part(id_: str, cycle: str, weekly: int | str = 0, **keys: str) -> str:
    """Lines of a part: 2 min to load, 1 min to unload, as assumed; more keys as written."""
    said = {"cycle": f'"{cycle}"', "weekly": str(weekly), **keys}
    return "\n".join(f"part.{id_}.{key} = {value}" for key, value in said.items())


def order(id_: str, of: str, pieces: int, due: str, arrives: str = "") -> str:
    text = f'order.{id_} = {{ part = "{of}", pieces = {pieces}, due = "{due}"'
    return text + (f', arrives = "{arrives}" }}' if arrives else " }")


def answered(text: str) -> Comparison:
    return compare(sound(text), Memory())


Told = dict[str, tuple[float | None, float | None, float | None]]


def told(text: str) -> Told:
    """By order, minutes to the first and the last piece off, and minutes late."""

    def minutes(hours: float | None) -> float | None:
        return None if hours is None else round(60 * hours, 6)

    found = answered(text).answers["today"].orders
    return {
        id_: (minutes(one.first_off), minutes(one.last_off), minutes(one.late_hours))
        for id_, one in found.items()
    }


def promised(text: str) -> Promises:
    answer = answered(text).answers["today"]
    return promises(answer.plan, list(answer.orders.values()))


# --- real orders ---------------------------------------------------------------------------

TABLE = "machine.mill.count = 1"
BODY = part("body", "60 min", setup='"20 min"')
COVER = part("cover", "30 min", setup='"10 min"')


def test_two_orders_on_one_table() -> None:
    """The cover is due earlier, and so is first, whatever the file's order.

    min 0-13 walk 1, setup 10, load 2; -43 cut; -67 walk 1, unload 1, setup 20, load 2: cover off;
    -127 cut; -131 walk 1, unload 1, load 2: first body off; -191 cut; -193 walk 1, unload 1.
    """
    text = study(
        TABLE, BODY, COVER, order("b", "body", 2, "mon 03:00"), order("c", "cover", 1, "mon 02:00")
    )
    assert told(text) == {"b": (131, 193, 13), "c": (67, 67, 0)}
    found = promised(text)
    assert (found.on_time, found.mean_late, found.most_late) == (50, 13 / 120, 13 / 60)
    # One body is off in time, at 131.
    assert found.pieces_late == pytest.approx(1 / 7)


@pytest.mark.parametrize(("due", "late", "pieces"), [("01:07", 0, 0), ("01:06", 1, 1)])
def test_off_in_the_second_in_which_it_is_due_is_in_time(due: str, late: int, pieces: int) -> None:
    """The cover above is off at 67 min."""
    text = study(
        TABLE,
        BODY,
        COVER,
        order("b", "body", 2, "fri 03:00"),
        order("c", "cover", 1, f"mon {due}"),
    )
    assert told(text)["c"] == (67, 67, late)
    found = promised(text)
    assert found.on_time == 100 - 50 * late
    assert (found.pieces_late, found.most_late) == (pieces / 7, late / 60)


@pytest.mark.parametrize(
    ("due", "on_time", "pieces"), [("sun 23:59", 0, 2), ("week 2 mon 00:00", 100, 0)]
)
def test_orders_not_off_by_the_end(due: str, on_time: int, pieces: int) -> None:
    """A piece takes 60 h and 3 min the first time, then 4: two of four are off in the week, at
    60 h 05 and 120 h 09. What is due when the week is over may still come off in that second."""
    text = study(TABLE, part("body", "60 h"), order("b", "body", 4, due))
    answer = answered(text).answers["today"]
    (one,) = answer.orders.values()
    assert (one.last_off, one.late_hours, one.worst_last_off) == (None, None, None)
    assert one.late == (100 - on_time) / 100
    found = promised(text)
    assert (found.on_time, found.mean_late, found.most_late) == (on_time, None, None)
    assert found.pieces_late == pieces / 7


def test_with_stops_an_order_has_odds_a_middle_and_a_worst_run() -> None:
    """Each run by itself, without the code that takes them together."""
    head = HEAD.replace("weeks = 1", "weeks = 1\nruns = 5")
    stop = 'stop.jam = { every = "150 min", repair = "67 min", needs_person = false }'
    text = study(
        TABLE,
        part("body", "60 min"),
        stop,
        order("b", "body", 5, "mon 07:00"),
        order("c", "body", 1, "mon 09:00"),
        head=head,
    )
    cell = plans_of(sound(text))["today"].cell
    assert cell is not None
    off: list[list[int]] = [[], []]
    for luck in range(1, 6):
        run = Run(replace(cell, luck=luck))
        run.advance(WEEK)
        for mine, (_, last) in zip(off, run.tally().orders, strict=True):
            assert last is not None
            mine.append(last)
    late = [
        [max(0, at - 3600 * due) / 3600 for at in each]
        for each, due in zip(off, (7, 9), strict=True)
    ]
    assert len(set(late[0])) > 2
    assert 0 < sum(each > 0 for each in late[0]) < 5
    found = answered(text).answers["today"].orders
    for one, at, hours in zip(found.values(), off, late, strict=True):
        assert one.last_off == sorted(at)[2] / 3600
        assert (one.late_hours, one.worst_late_hours) == (sorted(hours)[2], max(hours))
        assert one.on_time_percent == pytest.approx(20 * hours.count(0))
    both = promised(text)
    most = [max(hours) for hours in zip(*late, strict=True)]
    means = [sum(hours) / 2 for hours in zip(*late, strict=True)]
    assert (both.most_late, both.worst_most_late) == (sorted(most)[2], max(most))
    assert (both.mean_late, both.worst_mean_late) == (sorted(means)[2], max(means))
    assert both.on_time == pytest.approx(10 * (late[0] + late[1]).count(0))
    # Of b a piece or two are late, of c the only one; most in the worst run.
    pieces = [
        sum(one.runs[run].pieces_late for one in found.values()) / 7 for run in range(len(most))
    ]
    assert len(set(pieces)) > 1
    assert (both.pieces_late, both.worst_pieces_late) == (sorted(pieces)[2], max(pieces))
    assert both.all_on_time == 20 * most.count(0)
    rows = {row.label: row.cells[0].text for row in order_rows([answered(text).answers["today"]])}
    assert rows["  in the worst run"].endswith(" late")
    both_rows = together_rows([answered(text).answers["today"]])
    rows = {row.label: row.cells[0].text for row in both_rows}
    assert rows["  late, at most"].endswith(f"worst {rounded(max(most))} h")


def test_of_two_middle_runs_the_worse_and_not_off_is_worst() -> None:
    assert middle([4.0, 1.0]) == 4.0
    assert middle([None, 1.0, 2.0]) == 2.0
    assert middle([None, 1.0]) is worst([None, 1.0]) is None
    assert (middle([3.0]), worst([3.0, 5.0])) == (3.0, 5.0)


def test_orders_due_at_once_are_taken_in_the_files_order() -> None:
    """0-23 walk, setup 20, load; -83 cut; -87; -147 cut; -161 walk, unload, setup 10, load: the
    bodies are off; -191 cut; -193."""
    text = study(
        TABLE, BODY, COVER, order("b", "body", 2, "mon 03:00"), order("c", "cover", 1, "mon 03:00")
    )
    assert told(text) == {"b": (87, 161, 0), "c": (193, 193, 13)}


def test_an_order_is_nothing_before_it_arrives() -> None:
    """The cover arrives in the first body's cut (-83) and is due first; yet the table goes on with
    the order it has been working on: -87; -147 cut; -161; -191 cut; -193."""
    bodies = order("b", "body", 2, "mon 03:00")
    text = study(TABLE, BODY, COVER, bodies, order("c", "cover", 1, "mon 02:00", "mon 00:30"))
    assert told(text) == {"b": (87, 161, 0), "c": (193, 193, 73)}
    # Nothing is due until 05:00: 300-313 visit, -343 cut, -345.
    text = study(TABLE, BODY, COVER, bodies, order("c", "cover", 1, "mon 06:00", "mon 05:00"))
    assert told(text) == {"b": (87, 149, 0), "c": (345, 345, 0)}


def test_an_order_that_is_not_off_in_the_weeks_measured() -> None:
    """Sunday 23:00: 13 min of visit, then 2 h of cut, of which 47 min are left at the end."""
    late = part("cover", "2 h", setup='"10 min"')
    arrives = "sun 23:00"
    text = study(TABLE, late, order("c", "cover", 1, "sun 23:30", arrives))
    assert told(text) == {"c": (None, None, None)}
    found = promised(text)
    assert (found.on_time, found.mean_late, found.most_late) == (0, None, None)
    assert found.pieces_late == pytest.approx(1 / 7)
    # It is not late as long as it is not due.
    not_due = study(TABLE, late, order("c", "cover", 1, "week 2 mon 06:00", arrives))
    assert promised(not_due).on_time == 100
    one = json_of(answered(text))["scenarios"]["today"]["orders"]
    hours = ("first_off", "last_off", "late_hours", "worst_last_off", "worst_late_hours")
    assert one == {"c": {**dict.fromkeys(hours), "on_time_percent": 0}}


def test_the_first_piece_may_be_off_and_the_last_not() -> None:
    """Sunday 22:00: -13 visit; -43 cut; -47; -77; -81; -111; -115: three off; the last is cut at
    145 min, after the end."""
    text = study(TABLE, COVER, order("c", "cover", 4, "sun 23:00", "sun 22:00"))
    at = 6 * 1440 + 22 * 60
    assert told(text) == {"c": (at + 47, None, None)}


def test_orders_count_from_the_first_week_measured() -> None:
    text = study(TABLE, BODY, order("b", "body", 1, "mon 01:00"))
    later = text.replace("warm_up = 0", "warm_up = 2")
    # 23 min of visit, an hour's cut, 2 min to take it off.
    assert told(text) == told(later) == {"b": (85, 85, 25)}


def test_an_order_of_a_part_that_is_not_made() -> None:
    """As far as it is known, it is never off; the other order's place is not confused by it."""
    big = part("big", "1 h", size='["900 mm", "90 mm", "60 mm"]')
    text = study(
        TABLE,
        'machine.mill.table = ["500 mm", "500 mm"]',
        big,
        part("body", "60 min", setup='"20 min"', size='["90 mm", "90 mm", "60 mm"]'),
        order("x", "big", 1, "mon 01:00"),
        order("b", "body", 1, "mon 01:00").replace("pieces = 1", "pieces = 0"),
        order("c", "body", 1, "mon 01:00"),
    )
    assert "big is not made" in " ".join(warnings_of(answered(text).answers["today"]))
    # As many as fit are loaded, or what is left of the order: one.
    assert told(text) == {"x": (None, None, None), "c": (85, 85, 25)}


def test_an_order_goes_ahead_of_the_endless_mix() -> None:
    """0-23 visit; -83 cut of the endless body; the cover is there by now: walk 1, unload 1, setup
    10, load 2 -97; -127 cut; walk 1, unload 1, setup 20, load 2 -151."""
    bodies = part("body", "60 min", 100, setup='"20 min"')
    text = study(TABLE, bodies, COVER, order("c", "cover", 1, "week 2 fri 12:00", "mon 01:00"))
    assert told(text) == {"c": (151, 151, 0)}


def test_a_part_that_only_an_order_asks_for() -> None:
    """It is made, and is output, yet it has no demand of which it could be a share."""
    text = study(TABLE, BODY, COVER, order("c", "cover", 3, "fri 12:00"))
    one = json_of(answered(text))["scenarios"]["today"]
    assert one["simulated"]["pieces"] == one["simulated"]["demand_met_percent"] == {}
    assert one["simulated"]["spindle_hours"]["total"] == 1.5
    figures = answered(text).answers["today"].figures
    assert figures is not None
    assert (figures.output, figures.saleable) == (3 * 30, 3 * 30)


def test_what_orders_make_is_saleable_in_full_beside_what_is_wanted() -> None:
    """An hour a piece and no handling: 167 are cut before the week ends, 5 of them of the order.

    Of the 162 others 10 are wanted.
    """
    free = {"load": '"0 s"', "unload": '"0 s"'}
    text = study(
        TABLE,
        'handling.walk = "0 s"',
        'sequence.make = "flat_out"',
        part("body", "60 min", 10, **free),
        order("b", "body", 5, "fri 12:00"),
    )
    figures = answered(text).answers["today"].figures
    assert figures is not None
    assert figures.pieces == {"body": 167}
    assert figures.demand_met == {"body": 1620}
    assert figures.output == 167 * 60
    assert figures.saleable == (10 + 5) * 60
    assert figures.unsold_hours == pytest.approx(168 * 152 / 167)


# --- the textbook queue ----------------------------------------------------------------------

JOBS = [(6, 8), (2, 6), (8, 18), (3, 15), (9, 23)]
"""Hours of work and due hour: J. Heizer & B. Render, Operations Management, chapter on short-term
scheduling, jobs A to E; data as reprinted, results from memory."""


def queue(due: list[int]) -> list[float]:
    """Hours at which the jobs come off one table, ranked by other due hours than the book's."""
    free = {"load": '"0 s"', "unload": '"0 s"'}
    text = study(
        TABLE,
        'handling.walk = "0 s"',
        *(part(f"p{i}", f"{hours} h", **free) for i, (hours, _) in enumerate(JOBS)),
        *(
            order(f"o{i}", f"p{i}", 1, f"{'mon' if at < 24 else 'tue'} {at % 24:02}:00")
            for i, at in enumerate(due)
        ),
    )
    found = answered(text).answers["today"].orders
    return [one.last_off or 0.0 for one in found.values()]


def lateness(off: list[float]) -> float:
    return mean(max(0, at - due) for at, (_, due) in zip(off, JOBS, strict=True))


@pytest.mark.outside("Heizer & Render: flow and lateness, earliest due date", values=2)
def test_earliest_due_date_first() -> None:
    """Mean flow 13.6, mean lateness 1.2, never below 0: Heizer & Render, see JOBS."""
    off = queue([due for _, due in JOBS])
    assert off == [8, 2, 19, 11, 28]
    assert (mean(off), lateness(off)) == (13.6, 1.2)
    free = {"load": '"0 s"', "unload": '"0 s"'}
    found = promised(
        study(
            TABLE,
            'handling.walk = "0 s"',
            *(part(f"p{i}", f"{hours} h", **free) for i, (hours, _) in enumerate(JOBS)),
            *(order(f"o{i}", f"p{i}", 1, f"mon {due:02}:00") for i, (_, due) in enumerate(JOBS)),
        )
    )
    assert (found.on_time, found.mean_late, found.most_late) == (60, 1.2, 5)


@pytest.mark.outside("Heizer & Render: flow and lateness, first come and shortest", values=4)
def test_first_come_first_served_and_shortest_first() -> None:
    """The cell has neither rule; due dates that rank the jobs so give the book's other rows.

    Mean flow 15.4 and 13.0, mean lateness 2.2 and 1.8.
    """
    as_filed = queue([20] * 5)
    assert (mean(as_filed), lateness(as_filed)) == (15.4, 2.2)
    shortest = queue([hours for hours, _ in JOBS])
    assert (mean(shortest), lateness(shortest)) == (13.0, 1.8)


# --- rush orders ---------------------------------------------------------------------------


def rushed(text: str) -> Any:
    """The rush order r as the JSON has it."""
    found = compare_wholly(sound(text), Memory(), lambda: None)
    return json_of(found)["scenarios"]["today"]["rush"]["r"]


def rush(of: str, pieces: int = 1, arrives: str = "", price: int = 0) -> str:
    text = f'rush.r = {{ part = "{of}", pieces = {pieces}, price = {price}'
    return text + (f', arrives = "{arrives}" }}' if arrives else " }")


def cut_by(until: float, first: float, length: float, every: float) -> tuple[float, int]:
    """Minutes in cycle and cuts ended, of cuts that begin at ``first`` and then regularly."""
    minutes, ended, begin = 0.0, 0, first
    while begin < until:
        minutes += min(length, until - begin)
        ended += begin + length < until
        begin += every
    return minutes, ended


PAIRS = part(
    "body",
    "60 min",
    1000,
    batch="18",
    setup='"10 min"',
    per_pallet="2",
    contribution="10",
    scrap='"10 %"',
)
PLATE = part("plate", "30 min", setup='"5 min"')


@pytest.mark.long
def test_a_rush_order_on_a_table() -> None:
    """Two bodies a load: 0-15 walk 1, setup 10, load 4; -135 cut; -142 walk 1, unload 2, load 4.

    The rush order comes at 60, in the first body's cut; the load is finished at 135; walk 1, unload
    2, setup 5, load 2 -145; -175 cut; walk 1, unload 1, setup 10 again, load 4 -191: off. Without
    it the second load would have begun at 142, and each further one 127 min later.
    """
    found = rushed(study(TABLE, PAIRS, PLATE, rush("plate", 1, "mon 01:00")))
    assert found["hours"] == pytest.approx((191 - 60) / 60, abs=1e-6)
    end = 60 + FORTNIGHT
    without, loads = cut_by(end, 142, 120, 127)
    with_it, left = cut_by(end, 191, 120, 127)
    assert found["lost_spindle_hours"] == pytest.approx((without - with_it) / 60, abs=1e-6)
    assert found["lost_contribution"] == pytest.approx((loads - left) * 2 * 10 * 0.9)


@pytest.mark.long
def test_the_setup_of_a_rush_order_is_not_kept() -> None:
    """Plates are in the endless mix too, their order due in 20 weeks, that of the bodies in a fifth
    of a week; "keep_setup" alone would take plates on from the rush order, off after 179 min."""
    plates = part("plate", "30 min", 1, setup='"5 min"')
    found = rushed(study(TABLE, PAIRS, plates, rush("plate", 1, "mon 01:00")))
    assert found["hours"] == pytest.approx((191 - 60) / 60, abs=1e-6)


def test_what_is_due_later_is_not_lost() -> None:
    """Bodies of 20 h, their first order due in 20 weeks: a rush order of 19 h of other work takes
    a body out of the two weeks after it, and nothing that had to be sold in them."""
    body = part("body", "20 h", 1, contribution="10")
    found = rushed(study(TABLE, body, part("plate", "19 h"), rush("plate", 1, "mon 01:00")))
    assert found["lost_spindle_hours"] > 18
    assert found["lost_contribution"] == 0


@pytest.mark.long
def test_visits_for_a_rush_order_are_served_next() -> None:
    """One person; loading a body takes an hour, and as long does the cut of it, or of a plate.

    The first mill is loaded 0-61 and cut -121; the second has asked since 0. The rush order comes
    at 60 to the lathe, which goes ahead: 61-64, cut -124. The second mill is loaded 64-125. By
    then the first asks since 121 and the lathe since 124, which is ahead again: off 125-127.
    """
    text = study(
        "machine.mill.count = 2",
        "machine.lathe.count = 1",
        part("body", "60 min", 100, load='"60 min"', machines='["mill"]'),
        part("plate", "60 min", machines='["lathe"]'),
        rush("plate", 1, "mon 01:00"),
    )
    assert rushed(text)["hours"] == pytest.approx((127 - 60) / 60, abs=1e-6)


@pytest.mark.long
def test_what_a_rush_order_brings_does_not_change_what_it_costs() -> None:
    priced = rushed(study(TABLE, PAIRS, PLATE, rush("plate", 1, "mon 01:00", 999)))
    assert priced == rushed(study(TABLE, PAIRS, PLATE, rush("plate", 1, "mon 01:00")))


@pytest.mark.long
def test_a_rush_order_goes_ahead_of_a_real_one() -> None:
    """Both wait for the table; the cover, due long since, has to wait: 0-15 visit, -135 cut; -145
    rush on; -175 cut; the cover is put on after it."""
    text = study(
        TABLE,
        PAIRS,
        PLATE,
        COVER,
        rush("plate", 1, "mon 01:00"),
        order("c", "cover", 1, "mon 00:31", "mon 00:30"),
    )
    # 175: walk 1, unload 1, setup of the cover 10, load 2.
    assert rushed(text)["hours"] == pytest.approx((189 - 60) / 60, abs=1e-6)


ROUND = (
    TABLE,
    "machine.mill.pallets = 3",
    'machine.mill.pallet_change = "30 s"',
    part("body", "60 min", 1000, batch="5000", at_once="60"),
    PLATE,
)


@pytest.mark.long
def test_a_rush_order_among_pallets() -> None:
    """Three pallets: A loaded 0-3, in 3-3.5, cut -63.5; B loaded 3-6, C 6-9.

    The rush order comes at 30. A is the next to be free, at 63.5: walk 1, unload 1, setup 5, load
    2 -72.5. B is in by 64 and cut -124. Then A goes in before C, which has been ready far longer:
    -124.5, cut -154.5; B has been visited 124-128, and A is served at once: walk 1, unload 1, load
    2 (no setup time for the body) -158.5. Every later body is begun 30.5 min later than without.
    """
    found = rushed(study(*ROUND, rush("plate", 1, "mon 00:30")))
    assert found["hours"] == pytest.approx((158.5 - 30) / 60, abs=1e-6)
    end = 30 + FORTNIGHT
    without, _ = cut_by(end, 124.5, 60, 60.5)
    with_it, _ = cut_by(end, 155, 60, 60.5)
    assert found["lost_spindle_hours"] == pytest.approx((without - with_it) / 60, abs=1e-6)
    assert found["lost_contribution"] is None


@pytest.mark.long
def test_a_rush_order_takes_as_many_pallets_as_it_needs() -> None:
    """Two pieces on A and B: A as above, in the spindle at 124.5 until 154.5; B, free at 124, is
    visited -133 (walk 1, unload 1, setup 5, load 2), goes in at 154.5 and is cut 155-185; A's visit
    is over by then, and B's, walk 1, unload 1, load 2, ends at 189."""
    found = rushed(study(*ROUND, rush("plate", 2, "mon 00:30")))
    assert found["hours"] == pytest.approx((189 - 30) / 60, abs=1e-6)


@pytest.mark.long
def test_a_rush_order_whose_fixture_is_on_a_loaded_pallet() -> None:
    """That pallet is cut and served first.

    Four pallets: A loaded 0-3, in 3-3.5, cut -63.5; B 3-6; an order of a plate has come and takes
    the one fixture on C 6-14 (setup 5); D 14-17. The rush order of another plate comes at 30. At
    63.5 C goes in before B, cut 64-94; C is visited 94-98 (walk 1, unload 1, load 2), B is in the
    spindle -154.5, then C before D, 155-185, and it is visited -189.
    """
    plates = part("plate", "30 min", setup='"5 min"', fixtures="1")
    ordered = order("c", "plate", 1, "mon 06:00", "mon 00:04")
    four = [line.replace("pallets = 3", "pallets = 4") for line in ROUND if line != PLATE]
    found = rushed(study(*four, plates, ordered, rush("plate", 1, "mon 00:30")))
    assert found["hours"] == pytest.approx((189 - 30) / 60, abs=1e-6)


SPARE = (
    TABLE,
    "machine.lathe.count = 1",
    part("body", "10 h", 10, machines='["mill"]'),
    part("plate", "30 min", machines='["lathe"]'),
)


def test_nothing_is_lost_where_the_cell_has_room() -> None:
    """The lathe has nothing to do, and the person nothing while the mill cuts for ten hours.

    Walk 1, load 2, cut 30, walk 1, unload 1 are 35 min.
    """
    found = rushed(study(*SPARE, rush("plate", 1, "mon 01:00")))
    assert found == {
        "hours": pytest.approx(35 / 60, abs=1e-6),
        "lost_spindle_hours": 0,
        "lost_contribution": None,
    }


@pytest.mark.long
def test_what_is_not_due_by_then_is_not_lost() -> None:
    """Two bodies a load as above, at most 158 a week, of which 100 are wanted.

    By 60 min in the third week 201 are wanted: eleven orders of 18 are due. A rush order of half an
    hour costs other work its place, yet all 198 are made all the same: nothing is lost. Were 1000
    wanted it would be a load; and with no contribution nobody could say.
    """
    plenty = rush("plate", 1, "mon 01:00")
    few = PAIRS.replace("weekly = 1000", "weekly = 100")
    assert rushed(study(TABLE, few, PLATE, plenty))["lost_contribution"] == 0
    assert rushed(study(TABLE, PAIRS, PLATE, plenty))["lost_contribution"] == 2 * 10 * 0.9
    without = PAIRS.replace("part.body.contribution = 10\n", "")
    assert rushed(study(TABLE, without, PLATE, plenty))["lost_contribution"] is None
    other = PLATE + "\npart.plate.contribution = 5"
    assert rushed(study(TABLE, without, other, plenty))["lost_contribution"] is None
    assert (
        rushed(study(TABLE, few.replace("part.body.contribution = 10\n", ""), other, plenty))[
            "lost_contribution"
        ]
        == 0
    )


MORNING = """\
[scenario.today.shift.morning]
days = ["mon"]
start = "08:00"
end = "11:00"
"""


def test_any_hour_is_every_attended_hour() -> None:
    """8, 9 and 10 o'clock. Walk 1, load 2, cut 90, walk 1, unload 1 are 95 min.

    From 10:03 the piece is finished at 11:33, and taken off next Monday at 08:02.
    """
    text = study(TABLE, part("plate", "90 min"), rush("plate"), shift=MORNING)
    found = rushed(text)
    assert found["hours"] == {
        "median": pytest.approx(95 / 60, abs=1e-6),
        "worst": pytest.approx(7 * 24 - 2 + 2 / 60, abs=1e-6),
    }
    assert found["lost_spindle_hours"] == {"median": 0, "worst": 0}
    assert found["lost_contribution"] == {"median": None, "worst": None}
    each = [
        rushed(study(TABLE, part("plate", "90 min"), rush("plate", 1, at), shift=MORNING))["hours"]
        for at in ("mon 08:00", "mon 09:00", "mon 10:00")
    ]
    assert each == [found["hours"]["median"]] * 2 + [found["hours"]["worst"]]


def test_any_hour_where_nobody_is_ever_there() -> None:
    text = study(TABLE, part("plate", "90 min"), rush("plate"), shift=MORNING + "people = 0\n")
    assert rushed(text) is None


def test_a_rush_order_that_arrives_with_nobody_there_waits() -> None:
    """Tuesday 10:00 until Monday 08:00 are 142 h; then 95 min."""
    text = study(TABLE, part("plate", "90 min"), rush("plate", 1, "tue 10:00"), shift=MORNING)
    assert rushed(text)["hours"] == pytest.approx(6 * 24 - 2 + 95 / 60, abs=1e-6)


def test_a_rush_order_that_is_never_off_has_no_hours() -> None:
    """Its only machine holds it for two years."""
    found = rushed(study(TABLE, part("plate", "20000 h"), rush("plate", 1, "mon 10:00")))
    assert found["hours"] is None


def test_a_rush_order_of_a_part_that_is_not_made() -> None:
    big = part("big", "1 h", size='["900 mm", "90 mm", "60 mm"]')
    table = 'machine.mill.table = ["500 mm", "500 mm"]'
    for arrives in ("", "mon 10:00"):
        assert rushed(study(TABLE, table, big, rush("big", 1, arrives))) is None


def test_a_rush_order_leaves_the_scenarios_own_run_alone() -> None:
    """It is tried out in copies; what the scenario makes does not know of it."""
    bare = study(TABLE, PAIRS, PLATE)
    tried = study(TABLE, PAIRS, PLATE, rush("plate", 1, "mon 01:00"))
    assert plans_of(sound(tried))["today"].rush
    figures = [answered(text).answers["today"].figures for text in (bare, tried)]
    assert figures[0] is not None
    assert figures[0] == figures[1]


def test_a_rush_order_meets_the_luck_of_the_first_run() -> None:
    """The lathe is stopped for an hour now and then, and puts itself right."""
    stop = 'stop.jam = { every = "2 h", repair = "1 h", needs_person = false }'
    hours = []
    for runs in (1, 3):
        head = HEAD.replace("weeks = 1", f"weeks = 1\nruns = {runs}")
        text = study(*SPARE, stop, rush("plate", 20, "mon 01:00"), head=head)
        hours.append(rushed(text)["hours"])
    assert hours[0] == hours[1]
    # It has cut nothing before, so its first stops are those of the ten hours of this order.
    luck = Run(replace(plans_of(sound(text))["today"].cell or pytest.fail("no cell"), luck=1))
    cut, stops = luck.floor.spindles[1].to_stop[0], 0
    while cut < 20 * 30 * 60:
        stops += 1
        cut += luck.floor.spindles[1].luck[0].deal()
    assert stops > 0
    # A visit may have to wait for one to the mill, of 4 min, and no more.
    stopped = hours[0] - (3 + 20 * 30 + 19 * 4 + 2) / 60
    assert stops <= stopped <= stops + 0.1


# --- luck ------------------------------------------------------------------------------------


def test_the_same_stop_meets_the_same_luck_beside_others() -> None:
    """In the child a stop of another name comes first in the file of its own; the jam of every
    machine and run falls after the same hours in cycle, and another name is another luck."""
    jam = 'stop.jam = { every = "9 h", repair = "1 h", needs_person = false }'
    plans = plans_of(
        sound(
            study("machine.mill.count = 2", part("body", "60 min", 100), jam)
            + '[scenario.child]\nparent = "today"\n'
            + jam.replace("jam", "axle")
        )
    )
    dealt = []
    for plan in plans.values():
        assert plan.cell is not None
        names = [stop.id for stop in plan.cell.stops]
        machines = Run(replace(plan.cell, luck=2)).floor.spindles
        dealt.append([dict(zip(names, one.to_stop, strict=True)) for one in machines])
    today, child = dealt
    assert [one["jam"] for one in today] == [one["jam"] for one in child]
    assert all(one["jam"] != one["axle"] for one in child)
    assert today[0] != today[1]


def test_a_scenario_that_changes_nothing_brings_nothing_with_stops() -> None:
    jam = 'stop.jam = { every = "9 h", repair = "1 h", needs_person = false }'
    head = HEAD.replace("weeks = 1", "weeks = 1\nruns = 3")
    text = study("machine.mill.count = 2", part("body", "60 min", 1000), jam, head=head)
    found = answered(text + '[scenario.same]\nparent = "today"\n').answers["same"]
    assert found.gains.saleable == 0


@pytest.mark.long
def test_the_same_stop_under_another_name_is_no_clear_difference() -> None:
    """Another name is another luck, and moves its times by factors of its own: once such scenarios
    differed."""
    jam = 'stop.jam = { every = "9 h", repair = "1 h", needs_person = false }'
    head = HEAD.replace("weeks = 1", "weeks = 2\nruns = 9")
    text = study("machine.mill.count = 2", part("body", "60 min", 1000), jam, head=head)
    child = f'[scenario.child]\nparent = "today"\nstop.jam.every = "0 h"\n{jam}'
    memory = Memory()
    text += child.replace("stop.jam = ", "stop.axle = ")
    found = with_likely(answered(text), memory).answers["child"]
    assert found.likely is not None
    assert found.likely.saleable is not None
    assert not is_difference(found.gains.saleable, found.likely.saleable)
    assert found.likely.saleable[0] < 0 < found.likely.saleable[2]
