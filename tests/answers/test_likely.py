"""Ranks, likely ranges, settled weeks and what could be made, worked by hand."""

from __future__ import annotations

from dataclasses import replace
from statistics import quantiles

import numpy
import pytest
from answer_studies import CHILD, FLOOR, TODAY, counted, figured, plan_of, sound, today
from json_told import json_of

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare, compare_wholly
from whatif.answers.could_make import could_make, is_demand_met
from whatif.answers.gains import (
    Gains,
    Likely,
    gains,
    is_clear,
    is_difference,
    lies_outside,
    likely_of,
)
from whatif.answers.ranged import likely_one_by_one, with_likely
from whatif.answers.ranks import Rank, range_of, rank_of
from whatif.answers.settling import is_apart
from whatif.answers.simulate import Simulate
from whatif.cell.model import Cell
from whatif.cell.tally import Tally
from whatif.plan.build import plans_of
from whatif.plan.model import worth
from whatif.session.calculate.memory import Memory
from whatif.telling.gain_texts import gain_text, likely_gain_text, short_gain_texts
from whatif.telling.said import gain_said
from whatif.telling.warnings import warnings_of

# --- ranks ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("tenths", "count", "rank"),
    [
        # p (n + 1): of 19 draws the 2nd, 10th and 18th.
        (1, 19, Rank(2, 0)),
        (5, 19, Rank(10, 0)),
        (9, 19, Rank(18, 0)),
        # Of 20 they are 2.1, 10.5 and 18.9.
        (1, 20, Rank(2, 0.1)),
        (5, 20, Rank(10, 0.5)),
        (9, 20, Rank(18, 0.9)),
        # Of 3 they would be 0.4, 2 and 3.6: the ends are the first and the last.
        (1, 3, Rank(1, 0)),
        (5, 3, Rank(2, 0)),
        (9, 3, Rank(3, 0)),
        (5, 2, Rank(1, 0.5)),
        (9, 1, Rank(1, 0)),
    ],
)
def test_ranks(tenths: int, count: int, rank: Rank) -> None:
    assert rank_of(tenths, count) == pytest.approx(rank)


@pytest.mark.outside("Python's statistics: quantiles, 'exclusive'")
@pytest.mark.parametrize("count", [9, 10, 19, 20, 33])
def test_ranges_lie_where_the_textbook_has_them(count: int) -> None:
    """Weibull's plotting position: "exclusive" of Python, "weibull" of numpy."""
    values = [float((7 * i) % 37) ** 1.5 for i in range(count)]
    tenths = quantiles(values, n=10, method="exclusive")
    assert range_of(values) == pytest.approx((tenths[0], tenths[4], tenths[8]))


@pytest.mark.outside("numpy: percentile, 'weibull', of any number of draws")
@pytest.mark.parametrize("count", [1, 2, 3, 8, 9, 10, 19, 20, 33])
def test_ranges_are_those_of_the_library(count: int) -> None:
    values = [float((7 * i) % 37) ** 1.5 for i in range(count)]
    theirs = numpy.percentile(values, [10, 50, 90], method="weibull")
    assert range_of(values) == pytest.approx(tuple(map(float, theirs)))


@pytest.mark.outside("numpy 2.1: percentile, 'weibull', of ten squares", values=3)
def test_a_range_between_draws_by_hand() -> None:
    """Of 1, 4, 9 .. 100 the 1.1st is 1 + 0.1 x 3, the 5.5th 25 + 0.5 x 11, the 9.9th 81 + 0.9 x 19.

    numpy 2.1, percentile(..., method="weibull"): 1.3, 30.5, 98.1.
    """
    squares = [float(i * i) for i in (3, 1, 2, 10, 4, 9, 5, 8, 6, 7)]
    assert range_of(squares) == pytest.approx((1.3, 30.5, 98.1))


def test_a_range_of_few_draws_ends_at_them() -> None:
    assert range_of([5.0]) == (5, 5, 5)
    assert range_of([7.0, 5.0, 6.0]) == (5, 6, 7)


# --- gains and their ranges -------------------------------------------------------------


def of(*saleable: float | None) -> list[Gains]:
    return [Gains(saleable=gain) for gain in saleable]


def test_a_range_is_of_each_kind_by_itself() -> None:
    drawn = [Gains(3, 0, -2, None, 1), Gains(1, 0, -5, 3, 2), Gains(2, 0, -1, 3, 3)]
    found = likely_of(drawn)
    # A kind that one draw lacks has no range.
    assert found == Likely((1, 2, 3), (0, 0, 0), (-5, -2, -1), None, (1, 2, 3))
    assert likely_of([]) == Likely()


def test_a_range_is_widened_to_hold_either_half() -> None:
    assert likely_of(of(1, 2, 3), of(-4, 2.5)).saleable == (-4, 2, 3)
    assert likely_of(of(1, 2, 3), of(2.5, 8)).saleable == (1, 2, 8)
    assert likely_of(of(1, 2, 3), of(None, 8)).saleable == (1, 2, 8)


@pytest.mark.parametrize(
    ("likely", "clear"),
    [
        ((1, 2, 3), True),
        ((-3, -2, -1), True),
        ((-1, 2, 3), False),
        ((0, 2, 3), False),
        ((-3, -2, 0), False),
        ((1e-13, 1e-13, 1e-13), False),  # what floats make of nothing
        (None, False),
    ],
)
def test_a_gain_is_clear_where_0_does_not_lie_within(
    likely: tuple[float, float, float] | None, clear: bool
) -> None:
    assert is_clear(likely) is clear


def test_what_is_a_difference_before_and_after_its_range_is_known() -> None:
    assert is_difference(2, None)
    assert not is_difference(1e-9, None)
    assert not is_difference(None, (1, 2, 3))
    assert is_difference(2, (1, 2, 3))
    assert not is_difference(2, (-1, 1, 3))
    assert is_difference(0, (1, 2, 3))  # as typed it is none, and the range leads


def test_a_gain_outside_of_its_range() -> None:
    assert lies_outside(30, (12, 18, 24))
    assert lies_outside(11, (12, 18, 24))
    assert not lies_outside(12, (12, 18, 24))
    assert not lies_outside(5.46, (5.51, 7.3, 9.1))
    assert lies_outside(5.44, (5.51, 7.3, 9.1))
    assert not lies_outside(30, None)
    assert not lies_outside(None, (12, 18, 24))


@pytest.mark.parametrize(
    ("gain", "likely", "text"),
    [
        (18.26, (12.4, 18, 24.2), "+18 % (likely 12 to 24)"),
        (18.26, (17.4, 18, 19.2), "+18 % (likely 17 to 19)"),
        (8.26, (7.4, 8, 9.2), "+8.3 % (likely 7.4 to 9.2)"),
        (2, (-3.4, 1, 5), "no clear difference (likely -3 to +5)"),
        (30, (12, 18, 24), "likely +12 to +24 % (as typed +30 %)"),
        (-9, (-3.4, 1, 5), "no clear difference (likely -3 to +5; as typed -9 %)"),
        # What is not 0 never reads as 0, beside a wide range either.
        (2.14, (0.3, 2, 4.2), "+2.1 % (likely 0.3 to 4.2)"),
        (2.14, (0.04, 2, 4.2), "+2.14 % (likely 0.04 to 4.20)"),
        (2, (-0.4, 1, 5), "no clear difference (likely -0.4 to +5.0)"),
        (2, (0, 1, 5), "no clear difference (likely 0 to +5)"),
        (0.3, (-5, -3, -1), "likely -5.0 to -1.0 % (as typed +0.3 %)"),
        (-1.14, (-4.2, -1, -0.04), "-1.14 % (likely -4.20 to -0.04)"),
        (0, (0, 0, 0), "no difference"),
        (18.26, None, "+18 %"),
        (9.96, None, "+10 %"),
        (8.26, None, "+8.3 %"),
        (None, None, "–"),
    ],
)
def test_a_gain_is_told_with_its_range(
    gain: float | None, likely: tuple[float, float, float] | None, text: str
) -> None:
    assert likely_gain_text(gain, likely) == text


def test_a_gain_fits_into_few_cells() -> None:
    """A column of the strip has 15 cells for figures at least."""
    for likely in ((12.4, 18.0, 24.2), (-3.4, 1.0, 5.0), (19.0, 22.0, 24.0), (0.0, 0.0, 0.0)):
        texts = short_gain_texts(18.26, likely)
        assert len(texts[-1]) <= 15
        assert list(map(len, texts)) == sorted(map(len, texts), reverse=True)
    said = gain_said(18.26, (12.4, 18, 24.2))
    assert said.within(40) == "+18 % (likely 12 to 24)"
    assert said.within(20) == "+18 % (12 to 24)"
    assert said.within(15) == "+18 (12 to 24)"
    assert gain_said(2, (-3.4, 1, 5)).within(19) == "not clear, -3 to +5"
    assert gain_said(2, (-3.4, 1, 5)).within(15) == "not clear"
    assert gain_said(46.8, (45.7, 46.8, 47.9)).within(18) == "+47 % (46 to 48)"
    assert gain_said(46.8, (45.7, 46.8, 47.9)).within(15) == "+47 (46 to 48)"
    # With the decimals that the account of it has.
    assert gain_said(2.1, (0.9, 2.2, 3.6)).within(15) == "+2.1 %"
    assert gain_said(12.52, (9.0, 11.0, 12.48)).within(15) == "+12.5 %"
    assert gain_text(2, (-3.4, 1, 5)) == "no clear difference"
    # One rounding, wherever it stands.
    assert gain_text(95.6, (93, 96.4, 99)) == "+96 %"
    # Whole numbers would read as if 0 lay within.
    assert gain_said(-0.3, (-0.5, -0.3, -0.2)).within(15) == "-0.3 %"
    assert gain_said(1.1, (0.3, 1.1, 1.9)).within(15) == "+1.1 %"
    # Where as typed and in most draws it goes different ways the draws are believed.
    assert gain_said(-1, (12.4, 18, 24.2)).sense == "good"


def test_of_a_range_whose_ends_read_alike_one_is_told() -> None:
    """It read "likely +49 to +49 % (as typed +51 %)"."""
    assert likely_gain_text(51.2, (48.8, 49.0, 49.3)) == "likely +49 % (as typed +51 %)"


# --- made up from the walk and the machines, so that every gain is known ------------------

PAIR = TODAY + CHILD + "machine.mill.count = 2\n"


def made_up(
    text: str, pieces: dict[int, tuple[int, int]]
) -> tuple[Simulate, list[tuple[int, ...]]]:
    """Pieces of today and child by draw, 0 being the run as typed, in each week measured."""
    plans = plans_of(sound(text))
    asked = []

    def simulate(cell: Cell, warm_up: int, weeks: int) -> Tally:
        count = cell.groups[0].count
        draw = cell.luck if cell.scatter else 0
        asked.append((draw, count, warm_up, weeks))
        plan = replace(plans["today" if count == 1 else "child"], weeks=weeks)
        return counted(plan, (pieces[draw][count - 1] * weeks,))

    return simulate, asked


def test_gains_are_taken_draw_by_draw() -> None:
    """As typed +50 %; in three draws +60, +20 and +30 %."""
    pieces = {0: (40, 60), 1: (40, 64), 2: (50, 60), 3: (40, 52)}
    simulate, asked = made_up(PAIR, pieces)
    found = compare(sound(PAIR), simulate)
    assert found.answers["child"].likely is None
    found = with_likely(found, simulate)
    child, reference = found.answers["child"], found.answers["today"]
    assert child.gains.output == pytest.approx(50)
    assert [one.output for one in child.drawn] == pytest.approx([60, 20, 30])
    assert child.likely is not None
    assert child.likely.output == pytest.approx((20, 30, 60))
    assert reference.likely == Likely((0, 0, 0), (0, 0, 0), None, (0, 0, 0), None)
    assert {one[2:] for one in asked if one[0]} == {(0, 2)}


def test_ranges_come_scenario_by_scenario() -> None:
    text = PAIR + '[scenario.more]\nparent = "child"\nmachine.mill.count = 2\n'
    simulate, _ = made_up(text, dict.fromkeys(range(4), (40, 60)))
    known = [
        [id_ for id_, answer in more.answers.items() if answer.likely is not None]
        for more in likely_one_by_one(compare(sound(text), simulate), simulate)
    ]
    assert known == [["today"], ["today", "child"], ["today", "child", "more"]]


def test_a_draw_is_measured_over_no_more_than_24_weeks() -> None:
    text = PAIR.replace("weeks = 2", "weeks = 30")
    simulate, asked = made_up(text, dict.fromkeys(range(4), (40, 60)))
    with_likely(compare(sound(text), simulate), simulate)
    assert {one[3] for one in asked if one[0]} == {24}
    assert {one[3] for one in asked if not one[0]} == {15, 30}


def test_an_edit_elsewhere_and_a_price_run_no_draw_again() -> None:
    text = PAIR + '[scenario.more]\nparent = "today"\nhandling.walk = "2 min"\n'
    memory = Memory()
    with_likely(compare(sound(text), memory), memory)
    assert memory.ran == 3 * (1 + 3)
    priced = text + "part.body.contribution = 3\n"
    with_likely(compare(sound(priced), memory), memory)
    assert memory.ran == 3 * (1 + 3)
    edited = text.replace('"2 min"', '"3 min"')
    with_likely(compare(sound(edited), memory), memory)
    assert memory.ran == 4 * (1 + 3)


# --- settled ----------------------------------------------------------------------------


def settling(text: str, by_week: dict[int, list[int]]) -> tuple[Comparison, set[int]]:
    """Today makes 40 a week, child what each week says, the last on and on; and the weeks asked."""
    plans = plans_of(sound(text))
    asked = set()

    def simulate(cell: Cell, warm_up: int, weeks: int) -> Tally:
        count = cell.groups[0].count
        asked.add(weeks)
        plan = replace(plans["today" if count == 1 else "child"], weeks=weeks)
        made = by_week[count]
        made = made + made[-1:] * (warm_up + weeks - len(made))
        return counted(plan, (sum(made[warm_up : warm_up + weeks]),))

    return with_likely(compare(sound(text), simulate), simulate), asked


SETTLED = PAIR.replace("weeks = 2", 'weeks = "settled"')


def test_weeks_are_doubled_until_the_halves_agree() -> None:
    """Six weeks of 60 and then 40: +50 and 0 %; of 24 weeks +25 and 0, of 48 +12.5 and 0, of 96
    +6.25 and 0 %."""
    found, asked = settling(SETTLED, {1: [40], 2: [60] * 6 + [40]})
    assert asked == {6, 12, 24, 48, 96}
    child = found.answers["child"]
    assert child.figures is not None
    assert child.figures.weeks == child.plan.weeks == 96
    assert not child.settled
    assert [half.saleable for half in child.halves] == pytest.approx([6.25, 0])
    # Every draw is of the first 24 weeks: +12.5 %; the range holds the halves too.
    assert child.likely is not None
    assert child.likely.saleable == pytest.approx((0, 12.5, 12.5))
    reference = found.answers["today"]
    assert reference.settled
    assert reference.figures is not None
    assert reference.figures.weeks == 96


def test_weeks_that_are_settled_stay_as_they_are() -> None:
    """Six weeks of 60, then 59 and so on: +50 and +47.5 %; over 24 weeks +48.75 and +47.5 %."""
    found, asked = settling(SETTLED, {1: [40], 2: [60] * 6 + [59]})
    assert asked == {6, 12, 24}
    assert found.answers["child"].settled
    assert found.answers["child"].plan.weeks == 24
    steady, asked = settling(SETTLED, {1: [40], 2: [60]})
    assert asked == {6, 12}
    assert steady.answers["child"].plan.weeks == 12


def test_a_fixed_count_is_not_doubled_and_leaves_out_a_middle_week() -> None:
    """Of three weeks with 60, 90 and 42 the gains of the first and the last are +50 and +5 %."""
    text = PAIR.replace("weeks = 2", "weeks = 3")
    found, asked = settling(text, {1: [40], 2: [60, 90, 42]})
    assert asked == {1, 3}
    child = found.answers["child"]
    assert not child.settled
    told = json_of(found)["scenarios"]
    assert (told["today"]["settled"], told["child"]["settled"]) == (True, False)
    assert [half.saleable for half in child.halves] == pytest.approx([50, 5])
    assert child.likely is not None
    # 192 of 120 are +60 %, in each draw.
    assert child.likely.saleable == pytest.approx((5, 60, 60))
    one_week, _ = settling(PAIR.replace("weeks = 2", "weeks = 1"), {1: [40], 2: [60]})
    assert one_week.answers["child"].settled


ORDER = 'order.big.part = "body"\norder.big.pieces = 150\norder.big.due = "{}"'
ORDERED = today("part.body.weekly = 0", *ORDER.splitlines()) + CHILD + "part.body.cycle = '6 min'\n"


def test_where_real_orders_are_all_the_work_there_is_nothing_to_settle() -> None:
    """150 pieces of 12 min take 40 h with their visits, a week has 37.5; of 6 min 25 h. In the
    second week only today cuts: over the halves the gains are far apart, and no more weeks help."""
    memory = Memory()
    (today_, child) = compare(sound(ORDERED.format("fri 12:00")), memory).answers.values()
    assert is_apart(child.halves)
    assert child.settled
    assert today_.settled
    assert not any("not settled" in told for told in warnings_of(child))


def test_where_real_orders_are_all_the_work_all_of_them_are_measured() -> None:
    """The one that is due in week 14 asks for 24 weeks."""
    text = ORDERED.replace("weeks = 2", 'weeks = "settled"')
    for due, weeks in (("fri 12:00", 12), ("week 14 fri 12:00", 24)):
        found = compare(sound(text.format(due)), Memory())
        assert {answer.plan.weeks for answer in found.answers.values()} == {weeks}


def test_halves_that_are_apart() -> None:
    assert not is_apart(())
    assert not is_apart(tuple(of(10, 12)))
    assert is_apart(tuple(of(10, 12.1)))
    assert is_apart(tuple(of(12.1, 10)))
    assert is_apart(tuple(of(None, 10)))
    assert not is_apart(tuple(of(None, None)))


# --- demand met and what could be made ----------------------------------------------------


@pytest.mark.parametrize(
    ("cut", "is_met"),
    [
        # 100 a week over two weeks in orders of 20: 200 less 20 and less 5 % of 200 are 170.
        (170, True),
        (169, False),
        (400, True),
    ],
)
def test_demand_is_met_but_for_an_order_and_a_twentieth(cut: int, is_met: bool) -> None:
    assert is_demand_met(plan_of(TODAY), figured(TODAY, cut=(cut,))) is is_met


def test_demand_of_a_part_that_is_not_made_is_not_met() -> None:
    text = today(
        "part.body.weekly = 1", 'part.body.machines = ["other"]', "machine.other.count = 0"
    )
    assert not is_demand_met(plan_of(text), figured(text))


def test_what_could_be_made_is_found_flat_out() -> None:
    """200 are wanted in two weeks; made to order 200, flat out 330: 165 %."""
    plan = plan_of(TODAY)
    value = worth({"today": plan}, "today", "today")
    asked = []

    def simulate(cell: Cell, warm_up: int, weeks: int) -> Tally:
        asked.append(cell)
        return counted(plan, (200 if cell.to_order else 330,))

    met = figured(TODAY, cut=(200,))
    assert could_make(plan, met, simulate, value) == pytest.approx(165)
    assert plan.cell is not None
    assert asked == [replace(plan.cell, to_order=False, luck=1)]
    assert could_make(plan, figured(TODAY, cut=(150,)), simulate, value) is None
    # 150 a week, of which 50 for real orders: they are wanted beside the 100, 165 of 150.
    made = figured(TODAY, cut=(300,))
    ordered = replace(made, counted=replace(made.counted, for_orders={"body": 50.0}))
    assert could_make(plan, ordered, simulate, value) == pytest.approx(110)


# --- worth of chains ----------------------------------------------------------------------

CHAIN = today(
    'part.sawn.cycle = "3 min"',
    'part.body.after = "sawn"',
    'part.sawn.scrap = "20 %"',
)


def test_only_the_last_operation_is_output_and_worth_its_whole_chain() -> None:
    """Sawn 3 min and milled 12 min: 15 minutes a piece, of which 100 a week are wanted."""
    plans = plans_of(sound(CHAIN))
    plan = plans["today"]
    assert plan.followed == {"sawn"}
    assert worth(plans, "today", "today") == {"sawn": 0, "body": 15}
    order = [part.id for part in plan.parts]
    cut = {"sawn": 300, "body": 240}
    found = figured(CHAIN, cut=tuple(cut[id_] for id_ in order))
    assert found.output == pytest.approx(120 * 15)
    assert found.saleable == pytest.approx(100 * 15)
    assert found.counted.saleable == {"sawn": 0, "body": 100}


def test_the_chain_is_the_references() -> None:
    """A scenario that saws in 1 min or not at all makes no other piece; what is new has its own."""
    text = (
        CHAIN
        + CHILD
        + 'part.sawn.cycle = "1 min"\npart.flange.cycle = "6 min"\npart.flange.weekly = 9\n'
    )
    assert worth(plans_of(sound(text)), "child", "today") == {"sawn": 0, "body": 15, "flange": 6}
    alone = text + 'part.body.after = ""\npart.sawn.weekly = 0\n'
    assert worth(plans_of(sound(alone)), "child", "today") == {"body": 15, "flange": 6}


def test_an_entered_contribution_of_0_is_one() -> None:
    text = today("part.body.contribution = 0")
    plans = plans_of(sound(text))
    assert worth(plans, "today", "today") == {"body": 0}


# --- what else is counted by shifts and floor ----------------------------------------------


def test_shift_hours_are_of_shifts_that_load() -> None:
    night = """[scenario.today.shift.night]
days = ["mon"]
start = "22:00"
end = "02:00"
does = ["repair"]
"""
    found = figured(TODAY + night)
    assert plan_of(TODAY + night).shift_seconds == 40 * 3600
    assert found.people.paid == 84


def test_no_floor_where_a_machine_has_none() -> None:
    text = today(FLOOR, "machine.lathe.count = 1")
    base = figured(today(FLOOR), cut=(100,))
    assert gains(figured(text, cut=(100,)), base).per_floor_area is None


def test_all_is_found_wholly() -> None:
    memory = Memory()
    found = compare_wholly(sound(PAIR), memory, memory.pause)
    assert all(answer.likely is not None for answer in found.answers.values())
