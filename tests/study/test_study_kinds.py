from datetime import time
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from whatif.study.raw import frozen
from whatif.study.schema.kinds import (
    Area,
    Breaks,
    Choice,
    Clock,
    Count,
    Currency,
    Days,
    Flag,
    Id,
    Ids,
    Kind,
    KindError,
    Length,
    Lengths,
    Mass,
    Moment,
    Number,
    Percent,
    Text,
    Time,
    TimeInHours,
    TimeOr,
    WeekMoment,
)
from whatif.units import Quantity

HOUR, DAY, WEEK = 3600, 86_400, 604_800
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri")
SIDES, SIZES = Lengths("length", "width"), Lengths("length", "width", "height")


def plain(typed: Any) -> Any:
    """A typed value without the texts that quantities keep."""
    if isinstance(typed, Quantity):
        return typed.value
    return tuple(plain(item) for item in typed) if isinstance(typed, tuple) else typed


@pytest.mark.parametrize(
    ("kind", "raw", "typed"),
    [
        (Count(0, 200), 6, 6),
        (Count(0, 200), 0, 0),
        (Count(1), 1_000_000, 1_000_000),
        (Number(), 1100, Fraction(1100)),
        (Number(), Decimal("1.50"), Fraction(3, 2)),
        # As another program writes what it has worked out.
        (Number(), Decimal("40.749977776170056"), Fraction("40.749977776170056")),
        (Number(), Decimal("4.0749977776170056e-05"), Fraction("0.000040749977776170056")),
        (Number(), Decimal("-0.0"), Fraction(0)),
        (Time(), "1 h 30 min", 5400),
        (Time(), "0 min", 0),
        (Time(above_zero=True), "0.5 s", Fraction(1, 2)),  # rounds to 1 s, halves up
        (Time(high_seconds=DAY), "24 h", DAY),
        (Time(above_zero=True, zero_takes_out=True), "0 h", 0),
        (Time(above_zero=True, zero_takes_out=True), 0, 0),
        (TimeOr("until done"), "until done", "until done"),
        (TimeOr("until done"), "5 h", 5 * HOUR),
        # The inch is 25.4 mm exactly: international yard and pound agreement, 1959.
        (Length(), "27 in", Fraction("685.8")),
        (Length(), "1 1/2 in", Fraction("38.1")),
        (Length(), "0 mm", 0),
        (SIDES, ("630 mm", "500 mm"), (630, 500)),
        (SIZES, ["1 in", "2 in", "3 in"], tuple(Fraction("25.4") * n for n in (1, 2, 3))),
        # The pound is 0.45359237 kg exactly: the same agreement.
        (Mass(), "40 lb", 40 * Fraction("0.45359237")),
        (Area(above_zero=True), "12.5 m²", Fraction("12.5")),
        (Percent(), "85 %", Fraction(85, 100)),
        (Percent(99), "99 %", Fraction(99, 100)),
        (Percent(None), "250 %", Fraction(5, 2)),
        (Text(), "Valve bodies", "Valve bodies"),
        (Text(lines=True), "two\nlines", "two\nlines"),
        (Choice(flat="", any=""), "any", "any"),
        (Flag(), False, False),
        (Days(), ["tue", "mon"], ("mon", "tue")),
        (Clock(), "23:59", 23 * HOUR + 59 * 60),
        (Clock(), "00:00", 0),
        (Breaks(), [], ()),
        (Breaks(), ["08:30-08:45"], ((30_600, 31_500),)),
        (Breaks(), ["23:45-00:15"], ((85_500, 900),)),
        (Ids(), ["mill", "lathe-2"], ("mill", "lathe-2")),
        (Id(), "six_pallets", "six_pallets"),
        (Moment(), "mon 10:00", 10 * HOUR),
        (Moment(), "sun 23:59", WEEK - 60),
        (Moment(), "any hour", "any hour"),
        (WeekMoment(), "mon 06:00", 6 * HOUR),
        (WeekMoment(), "week 2 wed 12:00", WEEK + 2 * DAY + 12 * HOUR),
        (Currency(), "EUR", "EUR"),
    ],
)
def test_what_is_allowed_is_read(kind: Kind[Any], raw: Any, typed: Any) -> None:
    read = kind.read(raw)
    assert plain(read) == typed
    assert type(plain(read)) is type(typed) or isinstance(plain(read), Fraction)


@pytest.mark.parametrize(
    ("kind", "raw", "why"),
    [
        (Count(0, 200), 201, "too large"),
        (Count(0, 200), -1, "too small"),
        (Count(1), 10**13, "larger than a million millions"),
        (Count(), True, "true or false"),
        (Count(), Decimal("2.0"), "no whole number"),
        (Count(), "6", "without quotation marks"),
        (Count(), "six", "a text"),
        (Count(), (6,), "a list"),
        (Number(), -1, "too small"),
        (Number(), Decimal("nan"), "not a number"),
        (Number(), Decimal("inf"), "not a number"),
        (Number(), Decimal("1e999999999"), "larger than a million millions"),
        (Number(), 10**13, "larger than a million millions"),
        (Number(), Decimal("1e-999999999"), "decimals"),
        (Number(), Decimal("1e-31"), "more than 30 decimals"),
        (Number(), False, "true or false"),
        (Number(), "5", "without quotation marks"),
        (Time(), 11, "a bare number"),
        (Time(), Decimal("1.5"), "a bare number"),
        (Time(), "11", "no unit"),
        (Time(), "5 mm", "a time is wanted"),
        (Time(), "-5 min", "below 0"),
        (Time(), True, "true or false"),
        (Time(), ["5 min"], "a list"),
        (Time(above_zero=True), "0.4 s", "0 s when rounded"),
        (Time(above_zero=True), "0 min", "0 s when rounded"),
        (Time(above_zero=True, zero_takes_out=True), "0.4 s", "0 s when rounded"),
        (Time(above_zero=True, zero_takes_out=True), False, "true or false"),
        (Time(high_seconds=DAY), "24.1 h", "too long"),
        (TimeOr("until done"), "forever", "no number"),
        (TimeOr("until done"), "-1 h", "below 0"),
        (Length(above_zero=True), "0 mm", "it is 0"),
        (Length(), "-1 mm", "below 0"),
        (Length(), "1,5 mm", "comma"),
        (SIDES, ("630 mm",), "there is only 1 in it"),
        (SIDES, ("630 mm", "0 mm"), "0 mm is not above 0"),
        (SIDES, ("630 mm", "5 kg"), "a length is wanted"),
        (SIDES, "630 mm", "a text"),
        (Area(above_zero=True), "0 m²", "it is 0"),
        (Percent(90), "91 %", "too large"),
        (Percent(), Decimal("0.85"), "a bare number"),
        (Text(), "two\nlines", "more than one line"),
        (Text(), "\x1b[31mred", "hidden character"),
        (Text(), 3, "a bare number"),
        (Choice(flat="", any=""), "Flat", "none of the words"),
        (Flag(), "true", "without quotation marks"),
        (Flag(), 1, "a bare number"),
        (Days(), ["mon", "mon"], "mon stands in it twice"),
        (Days(), ["monday"], "none of mon"),
        (Days(), [], "no day"),
        (Days(), "mon", "a text"),
        (Clock(), "24:00", 'midnight is "00:00"'),
        (Clock(), "6:00", "no time of day"),
        (Clock(), "12:60", "no time of day"),
        (Clock(), "٠٦:٠٠", "no time of day"),
        (Clock(), 6, "a bare number"),
        (Breaks(), ["08:30"], "no break"),
        (Breaks(), ["08:30-08:30"], "takes no time"),
        (Breaks(), "08:30-08:45", "a text"),
        (Ids(), [], "empty"),
        (Ids(), ["mill", "mill"], "mill stands in it twice"),
        (Ids(), ["a mill"], "no id"),
        (Ids(), "mill", "a text"),
        (Id(), "six pallets", "no id"),
        (Id(), "fräse", "no id"),
        (Id(), "", "at least one"),
        (Moment(), 10, "a bare number"),
        (WeekMoment(), 2, "a bare number"),
        (Choice(flat="", any=""), True, "true or false"),
        (Currency(), 978, "a bare number"),
        (Mass(), "5 mm", "a mass is wanted"),
        (Moment(), "mon", "no moment"),
        (Moment(), "week 2 mon 10:00", "no moment"),
        (WeekMoment(), "week 0 mon 10:00", "no moment"),
        (WeekMoment(), "week 1000 mon 10:00", "up to 999"),
        (WeekMoment(), "any hour", "no moment"),
        (Currency(), "usd", "no currency code"),
        (Currency(), "USDT", "no currency code"),
    ],
)
def test_what_is_not_allowed_is_refused_in_words(kind: Kind[Any], raw: Any, why: str) -> None:
    with pytest.raises(KindError) as caught:
        kind.read(raw)
    assert why in caught.value.why
    # With what was most likely meant as its example.
    assert caught.value.allowed.split(", such as")[0] == kind.allowed.split(", such as")[0]
    assert caught.value.allowed in str(caught.value)


@pytest.mark.parametrize(
    ("kind", "text", "raw", "written"),
    [
        (Count(), " 6 ", 6, "6"),
        (Count(), "six", "six", "six"),
        (Number(), "1.50", Decimal("1.50"), "1.50"),
        (Number(), "-3", -3, "-3"),
        (Number(), "1,5", "1,5", "1,5"),
        (Time(), " 1 h 30 min ", "1 h 30 min", "1 h 30 min"),
        (TimeOr("until done"), "Until  Done", "until done", "until done"),
        (SIDES, "900 mm x 500 mm", ("900 mm", "500 mm"), "900 mm x 500 mm"),
        (SIDES, "900 x 500 mm", ("900 mm", "500 mm"), "900 mm x 500 mm"),
        (SIDES, "900x500mm", ("900 mm", "500mm"), "900 mm x 500mm"),
        (SIDES, "900mmx500mm", ("900mm", "500mm"), "900mm x 500mm"),
        (SIDES, "1 1/2 × 3 in", ("1 1/2 in", "3 in"), "1 1/2 in x 3 in"),
        (SIDES, "1 ft 6 in x 2 ft", ("1 ft 6 in", "2 ft"), "1 ft 6 in x 2 ft"),
        (SIZES, "14 cm, 9 cm, 6 cm", ("14 cm", "9 cm", "6 cm"), "14 cm x 9 cm x 6 cm"),
        (SIDES, "wide", ("wide",), "wide"),
        (Percent(), "85 %", "85 %", "85 %"),
        (Text(), " as it is ", " as it is ", " as it is "),
        (Choice(keep_setup="", x=""), "Keep setup", "keep_setup", "keep setup"),
        (Choice(keep_setup="", x=""), "other", "other", "other"),
        (Flag(), "yes", True, "yes"),
        (Flag(), "False", False, "no"),
        (Flag(), "maybe", "maybe", "maybe"),
        (Days(), "mon-fri", WEEKDAYS, "mon-fri"),
        (Days(), "Monday tue, WED", ("mon", "tue", "wed"), "mon-wed"),
        (Days(), "mon - tue sun", ("mon", "tue", "sun"), "mon tue sun"),
        (Days(), "sat-mon", ("sat", "sun", "mon"), "sat sun mon"),
        (Days(), "someday", ("someday",), "someday"),
        (Days(), "weekdays", WEEKDAYS, "mon-fri"),
        (Days(), "Mon,Tue", ("mon", "tue"), "mon tue"),
        (Clock(), "6:00", "06:00", "06:00"),
        (Clock(), "1030", "10:30", "10:30"),
        (Clock(), "630", "06:30", "06:30"),
        (Clock(), "6", "06:00", "06:00"),
        (Clock(), "1060", "1060", "1060"),
        (
            Breaks(),
            "8:30-8:45, 11:00 - 11:30",
            ("08:30-08:45", "11:00-11:30"),
            "08:30-08:45, 11:00-11:30",
        ),
        (
            Breaks(),
            "830-845, 11 to 1130",
            ("08:30-08:45", "11:00-11:30"),
            "08:30-08:45, 11:00-11:30",
        ),
        (Breaks(), "none", (), "none"),
        (Ids(), "mill, lathe", ("mill", "lathe"), "mill, lathe"),
        (Ids(), "mill lathe", ("mill", "lathe"), "mill, lathe"),
        (Id(), " mill ", "mill", "mill"),
        (Moment(), "Mon 9:00", "mon 09:00", "mon 09:00"),
        (Moment(), "mon 930", "mon 09:30", "mon 09:30"),
        (Moment(), "Any Hour", "any hour", "any hour"),
        (WeekMoment(), "Week 2 Wednesday 12:00", "week 2 wed 12:00", "week 2 wed 12:00"),
        (Currency(), "eur", "EUR", "EUR"),
    ],
)
def test_an_editor_s_text_and_a_file_s_value_go_back_and_forth(
    kind: Kind[Any], text: str, raw: Any, written: str
) -> None:
    assert kind.typed(text) == raw
    assert type(kind.typed(text)) is type(raw)
    assert kind.written(raw) == written
    assert kind.typed(written) in (raw, kind.typed(text))


KINDS: list[Kind[Any]] = [
    Count(), Number(), Time(), TimeOr("until done"), Length(), SIDES, Mass(), Area(),
    Percent(), Choice(a="", b=""), Flag(), Days(), Clock(), Breaks(), Ids(), Id(), Moment(),
    WeekMoment(), Currency(),
]  # fmt: skip


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: type(kind).__name__)
def test_nothing_typed_is_the_value_that_gives_back(kind: Kind[Any]) -> None:
    assert kind.typed("") == ""


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: type(kind).__name__)
@pytest.mark.parametrize("raw", [7, True, Decimal("1.5"), "?", (1,), ("?",), {"x": 1}, {}])
def test_any_value_can_be_shown_whatever_the_kind(kind: Kind[Any], raw: Any) -> None:
    assert isinstance(kind.written(frozen(raw)), str)


def test_true_and_one_are_not_the_same_to_a_kind_that_has_read_one_before() -> None:
    assert Count().read(1) == 1
    with pytest.raises(KindError):
        Count().read(True)
    assert Flag().read(True) is True
    with pytest.raises(KindError):
        Flag().read(1)


def test_what_is_allowed_is_said_in_words() -> None:
    assert Count(1, 200).allowed == "a whole number from 1 to 200"
    assert Count(1).allowed == "a whole number, 1 or more"
    assert Choice(finish_piece="", hold="").allowed == '"finish_piece" or "hold"'
    assert Percent(90).allowed.endswith("from 0 % to 90 %")
    assert '"0 h" removes it' in Time(above_zero=True, zero_takes_out=True).allowed


def test_a_quantity_keeps_the_text_it_was_written_with() -> None:
    assert Length().read("27 in").text == "27 in"


@pytest.mark.parametrize(
    ("given", "reason"),
    [
        (12, "a bare number"),
        (12.5, "a bare number"),
        pytest.param(10**5000, "a bare number", id="enormous"),
        (float("nan"), "a bare number"),
        (Decimal("1.5"), "a bare number"),
        (True, "true or false"),
        ([1, "mm"], "a list"),
        (("1 mm",), "a list"),
        ({"a": 1}, "a table"),
        (time(6, 0), "a date or time of day"),
    ],
)
@pytest.mark.parametrize(
    "kind", [Time(), TimeOr("until done"), Length(), Mass(), Area(), Percent()]
)
def test_what_is_no_text_is_no_quantity(kind: Kind[Any], given: object, reason: str) -> None:
    with pytest.raises(KindError) as fault:
        kind.read(given)
    assert fault.value.why == f"it is {reason}"
    assert " with its " in fault.value.allowed


def test_what_was_most_likely_meant_is_the_example() -> None:
    for raw in (5, "5"):
        with pytest.raises(KindError) as fault:
            Time().read(raw)
        assert fault.value.allowed == 'a time with its unit, such as "5 min" or "5 h"'
    with pytest.raises(KindError) as fault:
        Percent().read("8,5 %")
    assert fault.value.why == "the decimal mark is a point, not a comma"
    assert fault.value.allowed == 'a percentage with its sign, such as "8.5 %", from 0 % to 100 %'
    with pytest.raises(KindError) as fault:
        Length().read(-5)
    assert fault.value.allowed == Length().allowed


def test_a_bare_number_of_a_key_told_in_hours_is_hours() -> None:
    """Over nothing "800" was kept as 800 min, for hours that machines were switched on."""
    assert TimeInHours().typed_over("800", (), "metric") == "800 h"
    assert TimeInHours().typed_over("800", ("40 min",), "metric") == "800 min"
    assert Time().typed_over("8", (), "metric") == "8 min"
