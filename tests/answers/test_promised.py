"""Orders and hour meters side by side, by pencil."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from whatif.answers.account.explain import explain
from whatif.answers.answer import Answer, Comparison
from whatif.answers.compare import compare
from whatif.answers.meters.metered import metered
from whatif.answers.orders.rush import AnyHour, RushArrival
from whatif.answers.orders.rush_tried import with_rush
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import check
from whatif.study.file.reading import read_text
from whatif.telling.account.sentences import note_sentence
from whatif.telling.orders import moment, order_rows, rush_rows, together_rows
from whatif.telling.rush import rush_sentences
from whatif.telling.table import table_rows

ONE_TABLE = """\
format = 1
weeks = 2
warm_up = 0
[scenario.now.shift.day]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
[scenario.now.handling]
walk = "0 min"
[scenario.now.machine.mill]
[scenario.now.part.body]
cycle = "8 min"
load = "1 min"
unload = "1 min"
batch = 1
weekly = 480
{money}
[scenario.now.order.soon]
part = "body"
pieces = 6
due = "week 1 mon 07:00"
[scenario.now.order.later]
part = "body"
pieces = 6
due = "week 1 mon 12:00"
[scenario.now.rush.hot]
part = "body"
pieces = 3
arrives = "tue 10:00"
price = 50
"""


EXACTLY = """\
runs = 3
accuracy = "0 %"
guess_accuracy = "0 %"
[scenario.now.handling]
walk = "0 min"
scatter = "0 %"
"""
"""Every draw is as typed."""


@cache
def _answer(money: str = "", head: str = "") -> Answer:
    text = ONE_TABLE.format(money=money)
    if head:
        text = text.replace('[scenario.now.handling]\nwalk = "0 min"\n', "")
        text = text.replace("warm_up = 0\n", f"warm_up = 0\n{head}")
    memory = Memory()
    found = compare(check(read_text(text)), memory)
    return with_rush(found, memory.pause).answers["now"]


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0, "week 1 mon 00:00"),
        (26 * 3600 + 5 * 60, "week 1 tue 02:05"),
        (7 * 86400, "week 2 mon 00:00"),
        (7 * 86400 - 60, "week 1 sun 23:59"),
    ],
)
def test_a_moment_in_words(seconds: int, words: str) -> None:
    assert moment(seconds) == words


@pytest.mark.long
def test_orders_by_pencil() -> None:
    """The first piece is on at 06:01; then 8 min of cut and 2 of taking off and putting on each.

    Piece k is off at 06:01 and k times 10 min: the sixth at 07:01, a minute late; the twelfth at
    08:01, long before 12:00.
    """
    rows = {row.label: row.cells[0].text for row in order_rows([_answer()])}
    assert (rows["soon: 6 pieces"], rows["  due mon 07:00"]) == ("mon 07:01", "1 min late")
    assert (rows["later: 6 pieces"], rows["  due mon 12:00"]) == ("mon 08:01", "in time")
    rows = {row.label: row.cells[0].text for row in together_rows([_answer()])}
    assert rows["orders on time"] == "50.0 %"
    assert rows["  late, at most"] == "under 0.1 h"


@pytest.mark.long
def test_a_column_without_an_answer_is_a_dash() -> None:
    rows = order_rows([_answer(), None])
    assert all(row.cells[1].text == "–" for row in rows)


def test_a_rush_job_is_worth_what_it_displaces() -> None:
    """The table is never idle, so three rush pieces displace three of the same part, worth 20
    each: 60 are lost, and a price of 50 loses 10."""
    answer = _answer("contribution = 20", EXACTLY)
    rows = {row.label: row.cells[0].text for row in rush_rows([answer])}
    assert rows["  costs other work, USD"] == "60"
    assert rows["  at its price, USD"] == "50: loses 10"
    (said,) = rush_sentences(answer)
    assert said.endswith("Over 3 draws other work loses 0.4 spindle h and 60 USD.")


@pytest.mark.long
def test_a_rush_at_any_hour_is_priced_at_its_worst() -> None:
    found = AnyHour(RushArrival(3.0, 0.5, 20.0), RushArrival(9.0, 2.0, 80.0))
    view, _ = _told(_answer("contribution = 20"), found)
    assert view["  costs other work, USD"] == "20, worst 80"
    assert view["  at its price, USD"] == "50: loses 30 at the worst hour"
    cheap = AnyHour(RushArrival(3.0, 0.5, 10.0), RushArrival(9.0, 2.0, 40.0))
    view, _ = _told(_answer("contribution = 20"), cheap)
    assert view["  at its price, USD"] == "50: worth it at any hour"
    unknown = RushArrival(3.0, 0.5, None)
    view, _ = _told(_answer("contribution = 20"), unknown)
    assert view["  at its price, USD"] == view["  costs other work, USD"] == "no contribution given"


@pytest.mark.long
def test_no_price_is_below_nothing() -> None:
    """Other work may gain by a rush order, since whole loads fall otherwise: any price will do."""
    one, worst = RushArrival(3.0, -0.5, -20.0), RushArrival(9.0, 2.0, 40.0)
    for found, text in ((one, "0"), (AnyHour(one, worst), "0, worst 40")):
        view, report = _told(_answer("contribution = 20"), found)
        assert view["  costs other work, USD"] == text
        assert report["  it costs other work"] == text
        assert view["  at its price, USD"].startswith("50: worth it")


def test_without_money_no_price_is_spoken_of() -> None:
    labels = [row.label for row in rush_rows([_answer()])]
    assert not [label for label in labels if "price" in label]


def _told(answer: Answer, found: RushArrival | AnyHour) -> tuple[dict[str, str], dict[str, str]]:
    """What the view and the reports say of a rush order in place of what was found."""
    one = replace(answer, rush={"hot": found})
    view = {row.label: row.cells[0].text for row in rush_rows([one])}
    return view, {
        row.label: row.cells[0] for row in table_rows(Comparison("", "now", {"now": one}))
    }


def test_a_loss_below_nothing_is_told_as_a_gain() -> None:
    view, report = _told(_answer(), RushArrival(3.0, -0.5, 0.0))
    assert view["  other work gains"] == "0.5 spindle h"
    assert report["  other work gains"] == "0.5"
    assert view["  other work loses"] == "0.0 spindle h"
    assert report["  other work loses"] == "0.0"


def test_of_many_hours_the_median_may_gain_and_the_worst_lose() -> None:
    found = AnyHour(RushArrival(3.0, -0.5, 0.0), RushArrival(9.0, 2.0, 0.0))
    view, report = _told(_answer(), found)
    assert view["  other work gains"] == "0.5 spindle h, worst 0.0 spindle h"
    assert view["  other work loses"] == "0.0 spindle h, worst 2.0 spindle h"
    assert report["  other work gains"] == "0.5, worst 0.0"
    assert report["  other work loses"] == "0.0, worst 2.0"


@pytest.mark.parametrize("lost", [3.0, 0.0, -0.04])
def test_no_gain_no_line_of_it(lost: float) -> None:
    for told in _told(_answer(), RushArrival(3.0, lost, 0.0)):
        assert "  other work gains" not in told


def test_the_account_of_a_loss_below_nothing_says_that_it_is_a_gain() -> None:
    text = ONE_TABLE.format(money="")
    one = replace(_answer(), rush={"hot": RushArrival(3.0, -0.5, 0.0, 40.0)})
    found = Comparison("", "now", {"now": one})
    account = explain(found, check(read_text(text)), "now", "rush.hot.lost_spindle_hours")
    told = [note_sentence(note) for note in account.worked.notes]
    assert any("other work gains 0.5 spindle h" in text for text in told)


@pytest.mark.long
def test_meters_by_pencil() -> None:
    """One table, 1 + 8 + 1 min a piece in 8 h of shift: 80 % of the switched-on hours are in cut.

    Nothing runs after hours but the last piece. Meters of 75 % leave about 5 points. A visit, of 2
    min, must then be about 40 s longer: 8 / (8 + 2 + 2/3) = 75 %; a load held as long is the same.
    """
    text = (
        ONE_TABLE.format(money="").partition("[scenario.now.order.soon]")[0]
        + '[scenario.now.hour_meters]\nswitched_on = "80 h"\nin_cut = "60 h"\n'
    )
    memory = Memory()
    found = compare(check(read_text(text)), memory)
    one = metered(found, memory)[0]
    assert one.held.measured == 75
    assert one.held.modelled == pytest.approx(80, abs=1)
    assert one.below == ("now",)
    for read in one.reads:
        assert read.seconds == pytest.approx(40, abs=8)
        assert read.gains["now"] == 0
