"""The order of a file's keys changes only what the book says (rule `study.order`).

The order of things (machines, parts, shifts, orders) decides ties; the order of keys inside a
thing, and of sections, decides nothing.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any, TypeVar

import pytest
from answer_studies import sound
from cells import cell_of, counted, plain, small_cell, trying
from hypothesis import given
from hypothesis import strategies as st
from oracle.specs import Spec, cells, study_text

from whatif.answers.compare import compare
from whatif.cell.model import ALL_WORK, HOUR, WEEK, Cell, Shift
from whatif.reports.comparison import comparison_report
from whatif.reports.document import as_json
from whatif.session.calculate.memory import Memory

T = TypeVar("T")

# --- keys and sections ----------------------------------------------------------------------


def told(text: str) -> str:
    """The study's JSON without likely ranges, which come from the same figures."""
    return as_json(comparison_report(compare(sound(text), Memory())))


def lines(text: str) -> list[str]:
    return sorted(line for line in text.splitlines() if line)


def shuffled(text: str, seed: int) -> str:
    """The same study with the keys of every table, and its sections, in another order.

    Tables of one kind (machines, parts, shifts, stops) stay in their order among themselves, but
    other kinds may come before, between or after them.
    """
    deal = random.Random(seed)
    head, *blocks = text.strip().split("\n\n")
    tables: dict[str, list[str]] = {}
    for block in blocks:
        title, *keys = block.splitlines()
        deal.shuffle(keys)
        kind = title.strip("[]").split(".")[2]
        tables.setdefault(kind, []).append("\n".join([title, *keys]))
    kinds = [kind for kind, of_kind in tables.items() for _ in of_kind]
    deal.shuffle(kinds)
    keys = head.splitlines()
    deal.shuffle(keys)
    return "\n".join([*keys, *(tables[kind].pop(0) for kind in kinds)]) + "\n"


@trying(40)
@given(cells(), st.integers(0, 1000))
def test_the_order_of_keys_inside_a_thing_changes_nothing(spec: Spec, seed: int) -> None:
    text = study_text(spec | {"runs": 2})
    other = shuffled(text, seed)
    assert lines(other) == lines(text)
    assert told(other) == told(text)


# --- things without ties ----------------------------------------------------------------------

PRIMES = (20_011, 30_011, 10_007)
"""Seconds between the orders of a part. No two orders of two parts are due at one instant before
the 10,007th of the one, which is years away."""


def permuted(things: Sequence[T], order: Sequence[int]) -> tuple[T, ...]:
    return tuple(things[i] for i in order if i < len(things))


@pytest.mark.long
@trying(40)
@given(cells(), st.permutations(range(3)))
def test_the_order_of_parts_decides_nothing_without_ties(spec: Spec, order: list[int]) -> None:
    cell = cell_of(spec)
    parts = tuple(
        replace(part, weekly=Fraction(part.batch * WEEK, prime))
        for part, prime in zip(cell.parts, PRIMES, strict=False)
    )
    tally = counted(replace(cell, parts=parts), 2 * WEEK)
    places = permuted(range(len(parts)), order)
    moved = tuple(
        replace(part, after=None if part.after is None else places.index(part.after))
        for part in permuted(parts, order)
    )
    other = counted(replace(cell, parts=moved), 2 * WEEK)
    assert (other.spent, other.busy) == (tally.spent, tally.busy)
    assert other.cut == permuted(tally.cut, order)
    assert other.cycle == tuple(permuted(machine, order) for machine in tally.cycle)
    assert other.most_held == permuted(tally.most_held, order)


@trying(40)
@given(cells(), st.integers(1, 2), st.integers(1, 2))
def test_the_order_of_shifts_decides_nothing_where_none_overlap(
    spec: Spec, early: int, late: int
) -> None:
    """Who is free and listed first is only a question where two shifts run."""
    one = Shift("early", (0, 1, 3, 4), 5 * HOUR, 9 * HOUR, people=early)
    two = Shift("late", (0, 2, 3, 6), 14 * HOUR, 15 * HOUR, people=late, does=ALL_WORK[:-1])
    cell = replace(cell_of(spec), shifts=(one, two))
    other = replace(cell, shifts=(two, one))
    assert plain(counted(other, 2 * WEEK)) == plain(counted(cell, 2 * WEEK))


def test_the_order_of_stops_decides_nothing() -> None:
    """Their luck hangs on the run, the machine's number and the stop's id."""
    cell = small_cell()
    other = replace(cell, stops=cell.stops[::-1])
    assert counted(other, 2 * WEEK) == counted(cell, 2 * WEEK)
    assert counted(replace(cell, stops=cell.stops[:1]), 2 * WEEK) != counted(cell, 2 * WEEK)


# --- things that tie ----------------------------------------------------------------------------

HEAD = """\
format = 1
weeks = 1
warm_up = 0
[scenario.today]
shift.early = { days = ["mon"], start = "06:00", end = "%s" }
"""


def figures(end: str, *text: str) -> Any:
    answer = compare(sound(HEAD % end + "\n".join(text)), Memory()).answers["today"]
    assert answer.figures is not None
    return answer.figures


def test_parts_whose_orders_are_due_at_once_are_taken_in_the_files_order() -> None:
    """A table is loaded once before the shift ends, with the part named first."""
    body = 'part.body = { cycle = "10 min", weekly = 20 }'
    cover = 'part.cover = { cycle = "10 min", weekly = 20 }'
    mill = "machine.mill.count = 1"
    assert figures("06:04", mill, body, cover).pieces == {"body": 1, "cover": 0}
    assert figures("06:04", mill, cover, body).pieces == {"cover": 1, "body": 0}
    assert figures("06:04", cover, mill, body).pieces == {"cover": 1, "body": 0}


def test_machines_that_ask_at_once_are_served_in_the_files_order() -> None:
    """Each makes its own part; one of them is visited before the shift ends."""
    mill, lathe = "machine.mill.count = 1", "machine.lathe.count = 1"
    parts = (
        'part.body = { cycle = "10 min", weekly = 20, machines = ["mill"] }',
        'part.shaft = { cycle = "10 min", weekly = 20, machines = ["lathe"] }',
    )
    assert figures("06:04", mill, lathe, *parts).pieces == {"body": 1, "shaft": 0}
    assert figures("06:04", lathe, mill, *parts).pieces == {"body": 0, "shaft": 1}
    # What stands first among the parts does not matter to that.
    assert figures("06:04", lathe, mill, *parts[::-1]).pieces == {"shaft": 1, "body": 0}


def test_the_free_person_listed_first_takes_the_visit() -> None:
    """Two shifts of one person each over the same hours; there is work for one."""
    cell = Cell(
        shifts=(
            Shift("long", (0,), 6 * HOUR, 8 * HOUR),
            Shift("short", (0,), 6 * HOUR, 4 * HOUR),
        ),
        groups=small_cell(stops=()).groups[:1],
        parts=tuple(replace(part, batch=10_000) for part in small_cell().parts[:1]),
    )
    cell = replace(cell, groups=(replace(cell.groups[0], count=1, load_stations=1),))
    long_first = counted(cell, WEEK).busy
    short_first = counted(replace(cell, shifts=cell.shifts[::-1]), WEEK).busy
    assert long_first[1] == 0 < long_first[0]
    assert 0 < short_first[0] <= 4 * HOUR
    # When the short shift has gone home, the long one's person goes on.
    assert 0 < short_first[1] <= 4 * HOUR


def test_real_orders_due_at_once_are_taken_in_the_files_order() -> None:
    body = 'part.body = { cycle = "10 min", weekly = 0 }'
    cover = 'part.cover = { cycle = "10 min", weekly = 0 }'
    first = 'order.a = { part = "body", pieces = 1, due = "mon 07:00" }'
    second = 'order.b = { part = "cover", pieces = 1, due = "mon 07:00" }'
    mill = "machine.mill.count = 1"

    def off(*orders: str) -> dict[str, float | None]:
        text = HEAD % "07:00" + "\n".join([mill, body, cover, *orders])
        found = compare(sound(text), Memory()).answers["today"].orders
        return {id_: one.last_off for id_, one in found.items()}

    # 0-3 visit, cut 3-13, visit 13-17, cut 17-27, visit 27-29.
    assert off(first, second) == {"a": 6 + 17 / 60, "b": 6 + 29 / 60}
    assert off(second, first) == {"b": 6 + 17 / 60, "a": 6 + 29 / 60}
