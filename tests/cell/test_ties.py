"""Ties and rounding: whole seconds and exact fractions; no float decides (rule `study.values`).

Order k of a part is due at k x batch / weekly weeks, in whole seconds, rounded down. Where two are
due in one second the order opened first comes first, then the file's order.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from decimal import Decimal
from fractions import Fraction
from itertools import islice
from typing import Any, cast

import pytest
from answer_studies import plan_of
from cells import trying
from hypothesis import given
from hypothesis import strategies as st

from whatif.cell.frozen import Frozen
from whatif.cell.model import HOUR, MINUTE, WEEK, Cell, Pace, RealOrder
from whatif.cell.run import Run

HEAD = """\
format = 1
weeks = 1
warm_up = 0
[scenario.today]
handling.walk = "0 min"
sequence.rule = "earliest_due_date"
sequence.run_ahead = "1000 week"
sequence.make = "flat_out"
machine.mill.count = 1
[scenario.today.shift.always]
days = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
start = "00:00"
end = "00:00"
"""

Parts = Mapping[str, tuple[int, str]]
"""By part, batch and weekly as written."""


def cell_of(parts: Parts) -> Cell:
    text = "".join(
        f"[scenario.today.part.{id_}]\n"
        'cycle = "1 s"\nload = "0 s"\nunload = "0 s"\n'
        f"batch = {batch}\nweekly = {weekly}\nper_pallet = {batch}\n"
        for id_, (batch, weekly) in parts.items()
    )
    cell = plan_of(HEAD + text).cell
    assert cell is not None
    return cell


def taken(parts: Parts, orders: int) -> list[str]:
    """The first orders that one table takes, such as "a2" for the second of part a.

    An order is one load, so that the table is done with it before it takes the next.
    """
    run = Run(cell_of(parts))
    ids = list(parts)
    found: list[str] = []
    last = None
    while len(found) < orders:
        load = run.floor.pallets[0].load
        if load is not None and load.order != last:
            last = load.order
            found.append(f"{ids[load.order[0]]}{load.order[1]}")
        run.advance(run.next_event() + 1)
    return found


# --- equal instants, awkward fractions --------------------------------------------------------


def test_three_tenths_of_a_week_and_three_times_a_tenth() -> None:
    """Order 3 of a is due with order 1 of b, at 3/10 of a week. In floats 3 x 0.1 is more than 0.3,
    and b would come first."""
    assert 3 * 0.1 > 0.3
    parts = {"a": (1, "10"), "b": (3, "10")}
    assert taken(parts, 5) == ["a1", "a2", "a3", "b1", "a4"]
    assert taken(dict(reversed(parts.items())), 5) == ["a1", "a2", "b1", "a3", "a4"]


def test_a_decimal_is_what_is_written() -> None:
    """11 pieces at 1.1 a week, and 10 at 1, are ten weeks' work each. The float 1.1 is a little
    more, and rounded down to whole seconds its order would be due a second earlier."""
    assert Fraction(1.1) > Fraction(11, 10)
    assert 11 * WEEK / Fraction(1.1) < 10 * WEEK
    assert taken({"b": (10, "1"), "a": (11, "1.1")}, 4) == ["b1", "a1", "b2", "a2"]
    assert taken({"a": (11, "1.1"), "b": (10, "1")}, 4) == ["a1", "b1", "a2", "b2"]


def test_rounding_down_does_not_add_up() -> None:
    """Eleven a week: order 11 is due at 604,800 s, the week's end, and not at eleven times 54,981,
    which is 604,791. It ties with the one piece a week of b, first in the file."""
    assert 11 * (WEEK // 11) == WEEK - 9
    assert taken({"b": (1, "1"), "a": (1, "11")}, 12)[9:] == ["a10", "b1", "a11"]
    assert taken({"a": (1, "11"), "b": (1, "1")}, 12)[9:] == ["a10", "a11", "b1"]


def test_thirds() -> None:
    """Order 10 at three a week is due with order 1 at 0.3 a week: both after ten thirds."""
    assert taken({"a": (1, "3"), "b": (1, "0.3")}, 12)[8:] == ["a9", "a10", "b1", "a11"]
    assert taken({"b": (1, "0.3"), "a": (1, "3")}, 12)[8:] == ["a9", "b1", "a10", "a11"]


def test_less_than_a_second_apart_is_a_tie() -> None:
    """At 13 and at 13.0001 a week the first orders are due at 46,523.08 and 46,522.7 s: one second
    apart when rounded down. At 13.00001 both are due at second 46,523: a tie."""
    assert taken({"a": (1, "13"), "b": (1, "13.0001")}, 2) == ["b1", "a1"]
    assert taken({"a": (1, "13"), "b": (1, "13.00001")}, 2) == ["a1", "b1"]
    assert WEEK * 10**5 // 1300001 == WEEK // 13 == 46_523


def orders_due(parts: Parts) -> Iterator[str]:
    """Orders of all parts as rule `orders.take` ranks them, reckoned from the texts alone."""
    ids = list(parts)
    number = dict.fromkeys(ids, 1)

    def due(id_: str) -> int:
        batch, weekly = parts[id_]
        whole = Fraction(Decimal(weekly))
        return number[id_] * batch * WEEK * whole.denominator // whole.numerator

    while True:
        first = min(ids, key=lambda id_: (due(id_), ids.index(id_)))
        yield f"{first}{number[first]}"
        number[first] += 1


tenths = st.integers(1, 400).map(lambda n: f"{n / 10}")
thousandths = st.integers(1, 9000).map(lambda n: f"{n}e-3")


@trying(60)
@given(
    st.lists(st.tuples(st.integers(1, 12), st.one_of(tenths, thousandths)), min_size=2, max_size=4)
)
def test_orders_are_taken_as_fractions_rank_them(drawn: list[tuple[int, str]]) -> None:
    parts = dict(zip("abcd", drawn, strict=False))
    assert taken(parts, 25) == list(islice(orders_due(parts), 25))


def test_the_order_opened_first_comes_first_where_two_tie() -> None:
    """Two tables and one fixture for a. The first table takes a1 and the other b1, due later; when
    a1 is cut, a2 and b1, of which pieces are left, are both due at 1/5 of a week: b1 was opened
    first, though a stands first in the file. The first table had a's fixture and "earliest due
    date" does not ask for it."""
    cell = cell_of({"a": (1, "10"), "b": (2, "10")})
    parts = (
        replace(cell.parts[0], fixtures=1),
        replace(
            cell.parts[1],
            at_once=2,
            fixtures=2,
            making=tuple(
                how and replace(how, per_pallet=1, cycle=60) for how in cell.parts[1].making
            ),
        ),
    )
    run = Run(replace(cell, groups=(replace(cell.groups[0], count=2),), parts=parts))
    orders = [pallet.load.order for pallet in run.floor.pallets if pallet.load is not None]
    assert orders == [(0, 1), (1, 1)]
    run.advance(2)
    load = run.floor.pallets[0].load
    assert load is not None
    assert load.order == (1, 1)


# --- real orders -------------------------------------------------------------------------------


def test_rush_orders_and_real_orders_at_one_due_date() -> None:
    """Rush orders first, then the file's order, whatever arrived before."""
    cell = cell_of({"a": (1, "1"), "b": (1, "1"), "c": (1, "1")})
    orders = (
        RealOrder("x", 2, 1, arrives=0, due=HOUR),
        RealOrder("y", 1, 1, arrives=0, due=HOUR),
        RealOrder("z", 0, 1, arrives=0, due=HOUR, rush=True),
    )
    run = Run(replace(cell, orders=orders))
    run.advance(4)
    ends = [order.last_off for order in run.floor.book.real]
    assert ends == [2, 3, 1]
    run = Run(replace(cell, orders=orders[::-1]))
    run.advance(4)
    assert [order.last_off for order in run.floor.book.real] == [1, 2, 3]


def test_what_no_rush_order_needs_any_more_stands_where_it_stood_among_equals() -> None:
    """All three empty tables ask at second 0, and the second and third may take the rush order.
    The second does; the third goes ahead no more, and of equals the lower machine is first."""
    text = (
        HEAD.replace("mill.count = 1", "mill.count = 1\nmachine.late.count = 2")
        + """
        [scenario.today.part.a]
        cycle = "9 h"
        load = "10 min"
        unload = "0 s"
        weekly = 100
        [scenario.today.part.hot]
        cycle = "9 h"
        load = "10 min"
        unload = "0 s"
        weekly = 1
        machines = ["late"]
        """
    )
    cell = plan_of(text).cell
    assert cell is not None
    run = Run(replace(cell, orders=(RealOrder("z", 1, 1, arrives=0, due=HOUR, rush=True),)))
    served: list[int] = []
    for minutes in (10, 20, 30):
        run.advance(minutes * MINUTE + 1)
        served += [
            pallet.index
            for pallet in run.floor.pallets
            if pallet.load is not None and pallet.index not in served
        ]
    assert served == [1, 0, 2]


@pytest.mark.parametrize("arrives", ["mon 08:00", "week 1 mon 08:00"])
def test_an_order_is_there_before_anybody_acts_at_its_second(arrives: str) -> None:
    """Things arrive before persons take: the table that asks at 08:00 takes the order."""
    text = HEAD.replace("1000 week", "1 week") + (
        "[scenario.today.part.a]\n"
        'cycle = "1 h"\nload = "0 s"\nunload = "0 s"\nweekly = 100\n'
        "[scenario.today.part.b]\n"
        'cycle = "30 min"\nload = "0 s"\nunload = "0 s"\nweekly = 0\n'
        f'[scenario.today.order.hot]\npart = "b"\npieces = 1\narrives = "{arrives}"\n'
        'due = "mon 08:30"\n'
    )
    cell = plan_of(text).cell
    assert cell is not None
    run = Run(cell)
    run.advance(10 * HOUR)
    assert run.floor.book.real[0].last_off == 8 * HOUR + 30 * MINUTE


# --- whole seconds -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stated", "seconds"),
    [
        ("0.5 s", 1),
        ("1.5 s", 2),
        ("2.5 s", 3),  # to the even neighbour it would be 2
        ("0.49 s", 0),
        ("1.025 min", 62),  # 61.5 s; in floats 61.49999999999999
        ("0.14125 h", 509),  # 508.5 s; in floats 508.49999999999994
        ("0.0041666 min", 0),
        ("1/3 min", 20),
        ("1/7 h", 514),  # 514.29
        ("0.1 h", 360),
    ],
)
def test_each_stated_time_is_rounded_by_itself(stated: str, seconds: int) -> None:
    """Halves go up; a load of seven pieces takes seven times what was rounded."""
    text = HEAD + (
        "[scenario.today.part.a]\n"
        f'cycle = "10 h"\nload = "{stated}"\nunload = "0 s"\n'
        "weekly = 7\nbatch = 7\nper_pallet = 7\n"
    )
    cell = plan_of(text).cell
    assert cell is not None
    run = Run(cell)
    run.advance(2 * HOUR)
    (busy,) = run.tally().busy
    assert busy == 7 * seconds


@trying(200)
@given(st.integers(0, 100_000), st.integers(0, 90_00))
def test_other_duties_round_halves_up(stated: int, hundredths: int) -> None:
    """1 / (1 - share) as long, from fractions of a percent on."""
    share = Fraction(hundredths, 10_000)
    cell = Cell((), (), (), other_duties=share)
    exact = stated / (1 - share)
    assert Pace.of(cell).work(stated) == (exact + Fraction(1, 2)).__floor__()


def test_no_float_is_in_a_cell() -> None:
    """Every number that the engine is told is whole or a fraction, whatever the study says."""

    def numbers(value: object) -> Iterator[object]:
        if isinstance(value, tuple):
            for one in value:
                yield from numbers(one)
        elif isinstance(value, Frozen):
            for field in fields(cast("Any", value)):
                if field.name == "scatter":  # how visits scatter is drawn by chance
                    continue
                yield from numbers(getattr(value, field.name))
        else:
            yield value

    cell = plan_of(
        HEAD
        + '[scenario.today.part.a]\ncycle = "7.77 min"\nin_cut = "33.3 %"\nscrap = "0.7 %"\n'
        + "weekly = 0.7\n"
        + '[scenario.today.stop.jam]\nevery = "33.3 h"\nrepair = "0.3 h"\n'
        + '[scenario.today.order.x]\npart = "a"\npieces = 1\ndue = "mon 10:00"\n'
    ).cell
    assert cell is not None
    found = list(numbers(cell))
    assert not [one for one in found if isinstance(one, float | Decimal)]
    assert {Fraction(7, 10), Fraction(333, 1000), Fraction(7, 1000), 466} <= {
        one for one in found if isinstance(one, int | Fraction)
    }
