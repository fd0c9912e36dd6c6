"""What is told of a rush order: the range over draws, and no more than it holds."""

from __future__ import annotations

from dataclasses import replace

import pytest
from answer_studies import sound, today

from whatif.answers.account.explain import explain
from whatif.answers.answer import Answer, Comparison
from whatif.answers.compare import compare
from whatif.answers.orders.rush import AnyHour, RushArrival, RushLikely, try_rush
from whatif.answers.orders.rush_tried import rush_one_by_one, with_rush
from whatif.answers.ranks import Range, range_of
from whatif.plan.draws import drawn_plan
from whatif.session.calculate.memory import Memory
from whatif.telling.account.pages import likely_words
from whatif.telling.account.sentences import figure_in_short, figure_shown, note_sentence
from whatif.telling.orders import rush_rows
from whatif.telling.rush import price_said, rush_sentences
from whatif.telling.table import table_rows

HOT = (
    "part.body.contribution = 20",
    'rush.hot.part = "body"',
    "rush.hot.pieces = 3",
    'rush.hot.arrives = "tue 10:00"',
    "rush.hot.price = 50",
)
ANY = ('rush.any.part = "body"', "rush.any.pieces = 3", 'rush.any.arrives = "any hour"')
CLEAR, UNCLEAR, BELOW = (40.0, 60.0, 90.0), (-1469.0, 51.0, 4338.0), (-80.0, -60.0, -40.0)


@pytest.fixture(scope="module", name="typed")
def of_one_study() -> Comparison:
    return compare(sound(today(*HOT)), Memory())


def told(typed: Comparison, lost: Range, as_typed: float = 60.0) -> tuple[Answer, dict[str, str]]:
    """The answer with made-up ranges, and the rows of the view."""
    likely = RushLikely(19, (2.0, 3.0, 5.0), (1.0, 2.0, 3.0), lost)
    one = replace(
        typed.answers["today"], rush={"hot": RushArrival(3.0, 2.0, as_typed, 0, 0, likely)}
    )
    return one, {row.label: row.cells[0].text for row in rush_rows([one])}


def test_of_a_loss_the_range_leads(typed: Comparison) -> None:
    one, rows = told(typed, CLEAR)
    assert rows["  off after"] == "3.0 h (likely 2.0 to 5.0 h)"
    assert rows["  other work loses"] == "likely 1.0 to 3.0 spindle h"
    assert rows["  costs other work, USD"] == "likely 40 to 90"
    assert rows["  at its price, USD"] == "50: may lose up to 40"
    assert list(rush_sentences(one)) == [
        "hot: off after 3.0 h (likely 2.0 to 5.0 h). Over 19 draws other work loses likely "
        "1.0 to 3.0 spindle h and likely 40 to 90 USD."
    ]
    _, rows = told(typed, CLEAR, as_typed=408.0)
    assert rows["  costs other work, USD"] == "likely 40 to 90 (as typed 408)"
    _, rows = told(typed, (60.0, 70.0, 80.0), as_typed=70.0)
    assert rows["  at its price, USD"] == "50: loses 10 to 30"
    _, rows = told(typed, (30.0, 40.0, 50.0), as_typed=40.0)
    assert rows["  at its price, USD"] == "50: worth it"


@pytest.mark.parametrize("lost", [UNCLEAR, BELOW])
def test_a_range_with_0_in_it_tells_nothing(typed: Comparison, lost: Range) -> None:
    one, rows = told(typed, lost, as_typed=-162.0)
    assert rows["  costs other work, USD"] == "no clear loss"
    assert rows["  at its price, USD"].startswith("50: worth it")
    report = {row.label: row.cells[0] for row in table_rows(replace(typed, answers={"today": one}))}
    assert report["  it costs other work"] == "no clear loss"
    (said,) = rush_sentences(one)
    assert said.endswith(
        "other work loses likely 1.0 to 3.0 spindle h, and has no clear loss "
        f"({lost[0]:.0f} to {lost[2]:.0f} USD)."
    )


def test_an_account_tells_the_range(typed: Comparison) -> None:
    for lost, count in ((CLEAR, 2), (UNCLEAR, 2)):
        one, _ = told(typed, lost)
        found = replace(typed, answers={"today": one})
        account = explain(found, sound(today(*HOT)), "today", "rush.hot.lost_contribution")
        said = [note_sentence(note) for note in account.worked.notes][:count]
        assert f"likely {lost[0]:.1f} to {lost[2]:.1f} USD, the middle {lost[1]:.1f}" in said[0]
        assert "(19 draws)" in said[0]
        assert ("no clear loss" in said[1]) == (lost == UNCLEAR)


def test_an_account_is_headed_by_the_same_as_the_view_tells(typed: Comparison) -> None:
    for lost, words, short in (
        (CLEAR, "likely 40.0 to 90.0 USD (as typed 60.0)", "40.0 to 90.0 USD"),
        (
            UNCLEAR,
            "no clear loss (likely -1469.0 to 4338.0 USD, as typed 60.0)",
            "no clear loss",
        ),
    ):
        one, _ = told(typed, lost)
        found = replace(typed, answers={"today": one})
        account = explain(found, sound(today(*HOT)), "today", "rush.hot.lost_contribution")
        assert figure_shown(account.figure) == words
        assert figure_in_short(account.figure) == short
        assert likely_words(one, account.figure) == ""


def test_the_range_is_that_of_the_draws(typed: Comparison) -> None:
    """Each draw as a study of its own: times and demand of it, and the order tried once."""
    plan = typed.plans["today"]
    (order,) = plan.rush
    each = [try_rush(drawn_plan(plan, draw), order, lambda: None) for draw in (1, 2, 3)]
    arrivals = [one for one in each if isinstance(one, RushArrival)]
    found = with_rush(typed, lambda: None).answers["today"].rush["hot"]
    assert isinstance(found, RushArrival)
    assert found.likely is not None
    assert found.likely.draws == len(arrivals) == 3
    hours = [one.hours for one in arrivals if one.hours is not None]
    assert found.likely.hours == range_of(hours)
    assert len(set(hours)) == 3
    assert found.likely.lost_spindle_hours == range_of([one.lost_spindle_hours for one in arrivals])


@pytest.mark.long
def test_how_far_the_trials_are_is_told() -> None:
    """One trial and three draws; 38 h in which somebody is there, of which one begins in a break:
    at 06, 07, 08, 10, 11, 12 and 13 o'clock, and not at 09, on five days."""
    heard: list[tuple[int, int]] = []
    found = compare(sound(today(*HOT, *ANY)), Memory())
    steps = list(rush_one_by_one(found, lambda done, of: heard.append((done, of))))
    assert {of for _, of in heard} == {1 + 3 + 7 * 5}
    counts = [done for done, _ in heard]
    assert counts == sorted(counts)
    assert counts[-1] == 1 + 3 + 7 * 5
    first, last = (one.answers["today"].rush["hot"] for one in (steps[0], steps[-1]))
    assert isinstance(first, RushArrival)
    assert isinstance(last, RushArrival)
    assert (first.likely is None, last.likely is None) == (True, False)


def test_an_account_holds_the_price_against_the_range_as_the_view_does(typed: Comparison) -> None:
    for lost, words in (
        ((10.0, 20.0, 40.0), "brings 50 USD"),
        ((60.0, 70.0, 80.0), "less than the 60 that"),
        (CLEAR, "lies within what other work is likely to lose"),
    ):
        one, rows = told(typed, lost)
        found = replace(typed, answers={"today": one})
        account = explain(found, sound(today(*HOT)), "today", "rush.hot.lost_contribution")
        assert any(words in note_sentence(each) for each in account.worked.notes)
        assert ("may lose" in rows["  at its price, USD"]) is (lost == CLEAR)


ROOM_OF_A_COLUMN = 15
"""Cells of figures beside others at 80 columns."""


@pytest.mark.parametrize(
    ("price", "likely", "short"),
    [
        (1000, CLEAR, "1000: worth it"),
        (60, UNCLEAR, "no clear loss"),
        (10, CLEAR, "loses 30 to 80"),
        (10, (352.0, 400.0, 999.0), "loses up to 989"),
        (900, (100.0, 1000.0, 1242.0), "may lose ≤342"),
    ],
)
def test_whether_a_price_is_worth_it_is_whole_in_a_column(
    price: float, likely: Range, short: str
) -> None:
    assert price_said(price, likely).within(ROOM_OF_A_COLUMN) == short


def test_a_price_at_any_hour_is_whole_in_a_column(typed: Comparison) -> None:
    (rush,) = typed.answers["today"].plan.rush
    for lost, short in ((842.0, "loses up to 792"), (40.0, "always worth it")):
        found = AnyHour(RushArrival(3.0, 0.5, 20.0), RushArrival(9.0, 2.0, lost))
        one = replace(typed.answers["today"], rush={rush.id: found})
        cells = {row.label: row.cells[0] for row in rush_rows([one])}
        assert cells["  at its price, USD"].within(ROOM_OF_A_COLUMN) == short
