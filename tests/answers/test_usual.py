"""Which inputs are offered, which values are usual, and the curve as it is drawn."""

from __future__ import annotations

from fractions import Fraction

import pytest
from moving_studies import CHILD, study
from refusals import refusing

from whatif.answers.moves.inputs import Input, find_input
from whatif.answers.moves.ranges import (
    FEW,
    TriedValues,
    few,
    first_offered,
    offered,
    span_of,
    two_offered,
    usual_span,
)
from whatif.study.check.check import check
from whatif.study.draft import Draft

CYCLE, PALLETS = "part.body.cycle", "machine.mill.pallets"


def span(draft: Draft, key: str) -> TriedValues:
    return usual_span(find_input(draft, "today", tuple(key.split("."))))


@pytest.mark.parametrize(
    ("key", "first", "last", "now"),
    [
        ("machine.mill.pallets", "1", "16", "1"),
        ("machine.mill.load_stations", "1", "16", "1"),
        ("machine.mill.count", "1", "8", "1"),  # 0 takes it out, which is another question
        ("part.body.cycle", "5 min", "20 min", "10 min"),
        ("part.body.load", "0 min", "4 min", "2 min"),
        ("handling.other_duties", "0 %", "50 %", "0 %"),
        ("unattended.after_shift", "0 h", "16 h", "0 h"),
        ("part.body.bench", "0 min", "10 min", "0 min"),
        ("part.body.weekly", "2500", "10000", "5000"),
    ],
)
def test_usual_values_go_from_little_to_twice_and_hold_the_present_one(
    key: str, first: str, last: str, now: str
) -> None:
    found = span(study(), key)
    one = found.input
    read = [one.read(text) for text in found.values]
    assert read == sorted(set(read), key=lambda amount: amount or 0)
    assert (read[0], read[-1]) == (one.read(first), one.read(last))
    assert one.read(now) in read
    assert len(read) <= 14


def test_twelve_pallets_are_looked_at_up_to_twice_as_many() -> None:
    draft = study(*CHILD, "machine.mill.pallets = 12")
    values = usual_span(find_input(draft, "child", ("machine", "mill", "pallets"))).values
    assert values == ("1", "2", "3", "4", "6", "8", "12", "16", "24")


def test_pallets_are_tried_in_round_numbers_far_beyond_a_few() -> None:
    """Twelve may bring what eight do not yet, so that ending there says too soon that none do."""
    assert span(study(), PALLETS).values == ("1", "2", "3", "4", "6", "8", "12", "16")
    five = study(*CHILD, "machine.mill.pallets = 5")
    values = usual_span(find_input(five, "child", tuple(PALLETS.split(".")))).values
    assert values == ("1", "2", "3", "4", "5", "6", "8", "12", "16")
    assert few(span(study(), PALLETS)).values == ("1", "2", "4", "6", "12", "16")


def test_the_present_value_is_put_into_a_typed_range_where_it_lies_inside() -> None:
    one = find_input(study(), "today", ("part", "body", "cycle"))
    assert span_of(one, "4 min..16 min..4 min").values == (
        "4 min", "8 min", "10 min", "12 min", "16 min",
    )  # fmt: skip
    assert span_of(one, "12 min..16 min..4 min").values == ("12 min", "16 min")
    assert span_of(one, "8 min..12 min..1 min").values.count("10 min") == 1


def test_an_amount_that_is_not_given_needs_a_typed_range() -> None:
    not_known = "is not given, so it is not known how much to try: name a range"
    with refusing(f"price per machine {not_known}"):
        span(study(), "machine.mill.price")
    with refusing("not given"):
        span(study(), "machine.mill.work_height")


def test_few_values_keep_the_present_one_and_both_ends() -> None:
    times = few(span(study(), CYCLE))
    assert len(times.values) == FEW
    assert "10 min" in times.values
    assert times.values[-1] == "20 min"
    pallets = few(TriedValues(find_input(study(), "today", tuple(PALLETS.split("."))), COUNTS))
    assert (pallets.values[0], pallets.values[-1]) == ("1", "12")
    people = few(TriedValues(find_input(study(), "today", ("shift", "all", "people")), COUNTS))
    assert people.values == COUNTS[:FEW]  # nobody asks for twelve more people


COUNTS = tuple(str(n) for n in range(1, 13))


def offered_in(draft: Draft, scenario: str) -> tuple[Input, ...]:
    return offered(draft, check(draft), scenario)


def test_what_is_said_or_not_used_is_not_offered() -> None:
    keys = [one.dotted for one in offered_in(study(), "today")]
    assert "part.body.cycle" in keys
    assert "machine.mill.pallets" in keys
    assert not [key for key in keys if key.startswith(("rush", "hour_meters"))]
    assert [key for key in keys if key.startswith("said")] == ["said.with_people.cutting"]
    assert "machine.mill.pallet_change" not in keys  # there is only the table
    assert offered_in(study(), "nowhere") == ()


def test_pallets_and_people_come_first_where_nobody_has_chosen() -> None:
    inputs = offered_in(study(*CHILD), "child")
    two = two_offered(inputs)
    assert two is not None
    assert [one.dotted for one in two] == ["machine.mill.pallets", "shift.all.people"]
    chosen = first_offered(inputs, ("part", "body", "cycle"))
    assert chosen is not None
    assert chosen.dotted == CYCLE
    other = first_offered(inputs, ("shift", "all", "days"))
    assert other is not None
    assert other.dotted == "machine.mill.pallets"
    assert first_offered((), None) is None
    assert two_offered(inputs[:1]) is None


def test_a_typed_range_is_read_in_its_own_unit() -> None:
    one = find_input(study(), "today", ("part", "body", "cycle"))
    found = span_of(one, "300 s..900 s..300 s")
    assert found.input.unit == "s"
    assert found.values == ("300 s", "600 s", "900 s")
    assert found.input.read("600 s") == Fraction(600)
