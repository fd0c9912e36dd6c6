"""What the meeting says of a scenario, and that a page of it needs no scrolling."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from alternatives import beside
from alternatives import one as valued
from answer_studies import CHILD, TODAY, sound, today
from lengths import first_of
from screen import SCENARIOS, Screen, on_screen

from whatif.answers.answer import Answer, Comparison, GapAsRead
from whatif.answers.compare import compare_wholly
from whatif.answers.gains import Gains, Likely
from whatif.answers.orders.orders import Ordered, OrderRun
from whatif.answers.states import IN_CYCLE
from whatif.screens.views.pane import ViewPane
from whatif.session.calculate.memory import Memory
from whatif.telling.amounts import rounded
from whatif.telling.in_words import BY_METERS_ALONE, scenario_words
from whatif.telling.meeting.large import Large
from whatif.telling.meeting.page import headline
from whatif.telling.table import rows_in_numbers, table_rows

METERS = ('hour_meters.in_cut = "55 h"', 'hour_meters.switched_on = "80 h"')


def answered(text: str) -> Comparison:
    memory = Memory()
    return compare_wholly(sound(text), memory, memory.pause)


def child(*lines: str, head: str = TODAY) -> Comparison:
    return answered(head + CHILD + "\n".join((*lines, "")))


def said(found: Comparison, scenario: str = "child") -> str:
    one = headline(found.answers[scenario], found.answers["today"])
    return " ".join(one.sentences)


# -- the gain by the hour meters ---------------------------------------------------------


def told_as(low: float, high: float, *, seconds: int | None = 60) -> Comparison:
    """A study whose child's gain is known under both readings."""
    found = child("machine.mill.count = 2")
    read = tuple(
        GapAsRead(kind, seconds, 0.0, 0.0, gain)
        for kind, gain in (("people", high), ("machine", low))
    )
    one = replace(found.answers["child"], gap_read=read)
    return replace(found, answers={**found.answers, "child": one})


def test_the_meeting_says_between_what_gains_the_meters_leave_it() -> None:
    found = told_as(44.03, 60.06)
    """The readings start from the gain as typed, which may lie outside the likely range."""
    between = "is between {} (machines tied up) and {} (people away)"
    between += " (from the gain as typed: no difference)."
    assert f"By the hour meters it {between.format('+44 %', '+60 %')}" in said(found)
    words = scenario_words(found.answers["child"], "today")
    long = f"the gain in saleable output {between.format('+44 %', '+60 %')}"
    assert f"Hour meters\n  By the hour meters {long}" in words


def test_in_f2_it_says_which_range_alone_holds_both_readings_of_the_meters() -> None:
    """The gain in output below it had a fifth of its range, and nothing said why."""
    answer = told_as(-44.03, 960.0).answers["child"]
    assert answer.likely is not None
    assert answer.judged != answer.likely.saleable
    assert f"\n  {BY_METERS_ALONE}\n" in scenario_words(answer, "today")
    assert BY_METERS_ALONE not in scenario_words(answer, "child")
    for seconds in (None, 0):
        without = told_as(-44.03, 960.0, seconds=seconds).answers["child"]
        assert BY_METERS_ALONE not in scenario_words(without, "today")


def test_an_end_that_is_nothing_is_no_difference() -> None:
    found = told_as(-0.0001, 14.0)
    text = "between no difference (machines tied up) and +14 % (people away)"
    assert text in said(found)
    assert "it is no difference, however their gap is read (" in said(told_as(-0.0001, 0.0001))


def test_without_a_gap_there_is_nothing_between() -> None:
    found = told_as(44.0, 60.0, seconds=None)
    assert "hour meters" not in said(found)
    assert "By the hour meters" not in scenario_words(found.answers["child"], "today")


@pytest.mark.parametrize("gap", ["show", "people", "machine"])
def test_a_gap_leaves_a_range_whatever_it_is_laid_to(gap: str) -> None:
    found = answered(
        today(*METERS, f'hour_meters.gap = "{gap}"') + CHILD + "shift.early.people = 1\n"
    )
    assert "By the hour meters it is" in said(found)
    assert "By the hour meters" not in said(found, "today")
    rows = {row.label.strip(): row.cells for row in table_rows(found)}
    assert rows["gain however the meters' gap is read"][0] == "reference"


def test_for_programs_the_gain_however_the_gap_is_read_is_a_row_of_numbers_an_end() -> None:
    found = answered(today(*METERS) + CHILD + "shift.early.people = 1\n")
    title = "gain however the meters' gap is read"
    rows = {
        row.label: row for row in rows_in_numbers(table_rows(found)) if row.label.startswith(title)
    }
    assert list(rows) == [f"{title}, from", f"{title}, to"]
    assert {row.unit for row in rows.values()} == {"%"}
    ends = [[float(cell) for cell in row.cells] for row in rows.values()]
    assert ends[0][0] == ends[1][0] == 0
    assert ends[0][1] <= ends[1][1]


# -- what is made ------------------------------------------------------------------------


def of_demand(**met: float) -> str:
    """What is said where so much of each part's demand is met and 2.3 hours are not bought."""
    found = child("machine.mill.count = 2")
    one = found.answers["child"]
    assert one.figures is not None
    figures = replace(one.figures, demand_met=met, unsold_hours=2.34)
    return said(replace(found, answers={**found.answers, "child": replace(one, figures=figures)}))


def test_a_shortage_comes_before_a_surplus_which_is_of_all_hours() -> None:
    text = of_demand(body=130.0, lid=92.4)
    assert "; of the part that is furthest behind 92 % are made. Of the " in text
    assert re.search(r"cut (\S+) h a week.* Of the \1 h, 2\.3 are for unsold pieces", text)


def test_a_shortage_is_not_rounded_away() -> None:
    assert "furthest behind 99.7 % are made" in of_demand(body=99.7)
    assert "the demand of every part is met" in of_demand(body=99.96)


@pytest.mark.parametrize(("attended", "breaks"), [(70.44, 5.04), (70.46, 5.44), (70.35, 0.0)])
def test_hours_are_those_of_every_other_place(attended: float, breaks: float) -> None:
    found = child("machine.mill.count = 2")
    one = found.answers["child"]
    assert one.figures is not None
    figures = replace(
        one.figures,
        attended={**one.figures.attended, IN_CYCLE: attended},
        on_breaks={**one.figures.on_breaks, IN_CYCLE: breaks},
        after_hours={**one.figures.after_hours, IN_CYCLE: 0.0},
    )
    one = replace(one, figures=figures)
    text = said(replace(found, answers={**found.answers, "child": one}))
    hours = re.search(r"cut (\S+) h .*, (\S+) of them unattended, on breaks or after hours", text)
    assert hours is not None
    # As the table has the whole, and as the strip has the part.
    assert [hours[1], hours[2]] == [rounded(attended + breaks), rounded(breaks)]


@pytest.mark.parametrize(
    ("alone", "before", "figure", "caption"),
    [
        # "10 instead of 5" stood on one page, and 4.7 of the same reference on another.
        (9.8, 4.7, "9.8", "instead of 4.7"),
        (86.2, 15.0, "86", "instead of 15"),
        (86.2, 0.0, "86", "instead of 0"),
    ],
)
def test_few_hours_keep_their_decimal(
    alone: float, before: float, figure: str, caption: str
) -> None:
    found = child("machine.mill.count = 2")

    def with_alone(id_: str, hours: float) -> Answer:
        answer = found.answers[id_]
        assert answer.figures is not None
        figures = replace(
            answer.figures,
            on_breaks={**answer.figures.on_breaks, IN_CYCLE: hours},
            after_hours={**answer.figures.after_hours, IN_CYCLE: 0.0},
        )
        # With money other figures are as large.
        return replace(answer, figures=figures, money=None)

    page = headline(with_alone("child", alone), with_alone("today", before))
    (told,) = (each for each in page.figures if each.caption[0] == "of them unattended")
    assert (told.text, told.caption[1]) == (figure, caption)


# -- people and orders -------------------------------------------------------------------


def test_fewer_people_are_said() -> None:
    assert "People: 1 instead of 2." in said(child("shift.early.people = 1"))
    same = child("machine.mill.count = 2")
    assert "People: " not in said(same)
    assert "People: " not in said(same, "today")


def late(answer: Answer, *shares: float, runs: int = 2) -> Answer:
    def run(is_late: bool) -> OrderRun:
        return OrderRun(1.0, 2.0, 0.0, is_late, pieces_late=0)

    orders = {
        str(i): Ordered(5, (run(share > 0), run(share == 1))[:runs])
        for i, share in enumerate(shares)
    }
    return replace(answer, orders=orders)


def of_orders(here: tuple[float, ...], there: tuple[float, ...]) -> Comparison:
    found = child("machine.mill.count = 2")
    runs = 1 if {*here, *there} <= {0, 1} else 2
    answers = {
        "today": late(found.answers["today"], *there, runs=runs),
        "child": late(found.answers["child"], *here, runs=runs),
    }
    return replace(found, answers=answers)


def test_late_orders_are_said_where_they_differ() -> None:
    found = of_orders((1, 0, 1), (0, 0, 1))
    assert "Orders late: 2 of 3 instead of 1 of 3." in said(found)
    assert "Orders late: 1 of 3." in said(found, "today")
    assert "Orders late" not in said(of_orders((1, 0), (0, 1)))
    assert "Orders late" not in said(of_orders((1, 0), (0, 0)), "today")
    # As many late, but of fewer.
    assert "Orders late: 1 of 1 instead of 1 of 2." in said(of_orders((1,), (1, 0)))


def test_odds_of_orders_are_told_order_by_order() -> None:
    """Of two runs: a sum of odds, "0.5 of 2", would be an order that nobody has."""
    text = said(of_orders((0.5, 0), (0, 0)))
    assert "0: on time in 1 of 2 runs instead of 2 of 2." in text
    assert "1: on time" not in text
    assert "Orders late" not in text
    assert "0: on time in 1 of 2 runs." in said(of_orders((0, 0), (0.5, 0)), "today")


# -- on the screen -----------------------------------------------------------------------


async def pages(screen: Screen) -> int:
    """Go through all pages behind the verdict; how many of them need scrolling."""
    screen.app.desk.controllers.views.open("meeting")
    await screen.settle()
    scrolling = 0
    for _ in screen.app.desk.state.ids:
        await screen.press("space")
        scrolling += screen.app.desk.query_one(ViewPane).max_scroll_y > 0
    return scrolling


@pytest.mark.parametrize(
    "demo", first_of(sorted(SCENARIOS.glob("*.toml"))), ids=lambda demo: demo.stem
)
async def test_no_page_of_a_demo_needs_scrolling(demo: Path, tmp_path: Path) -> None:
    async with on_screen(demo, (120, 32), state=tmp_path) as screen:
        assert await pages(screen) == 0


# -- the figure and what it takes ----------------------------------------------------------


def figure_of(low: float, middle: float, high: float, typed: float) -> Large:
    found = child("machine.mill.count = 2")
    moved = replace(
        found.answers["child"],
        gains=Gains(saleable=typed),
        likely=Likely(saleable=(low, middle, high)),
    )
    return headline(moved, found.answers["today"]).figures[0]


def test_the_gain_follows_the_likely_range() -> None:
    told = ("saleable output", "likely 20 to 40 %")
    assert figure_of(20, 30, 40, 31) == Large("+31 %", "good", told)
    # As typed it lies outside: the range leads.
    outside = figure_of(20, 30, 40, 55)
    assert (outside.text, outside.caption[1:]) == (
        "+20 to +40 %",
        ("likely 20 to 40 %", "as typed +55 %"),
    )
    # Where there is no room for a range its middle is drawn, and the range stands below it.
    assert outside.shorter == "+30 %"
    # In whole percent it would read as 3, and its range as 2 to 2.
    assert figure_of(1.9, 2.2, 2.46, 2.5).text == "+2.5 %"
    assert (figure_of(-40, -30, -20, 5).text, figure_of(-40, -30, -20, 5).sense) == (
        "-40 to -20 %",
        "bad",
    )
    unclear = figure_of(-1, 30, 40, 31)
    assert (unclear.text, unclear.word, unclear.sense) == ("", "not clear", "unsure")
    assert unclear.caption == ("saleable output", "likely -1 to +40 %")
    none = figure_of(0, 0, 0, 0)
    assert (none.text, none.caption) == ("±0 %", ("saleable output", "no difference"))


def test_money_that_takes_no_capital_or_frees_some_is_never_never_paid_back() -> None:
    priced = today("part.body.contribution = 9", "money.wage = 30", "machine.mill.price = 1000")
    # A one-off cost of 0 says that the shorter cycle costs nothing.
    quick = ('part.body.cycle = "6 min"', "part.body.weekly = 200")
    more = child(*quick, "money.one_off = 0", head=priced)
    assert "It takes no capital and brings " in said(more)
    assert "; what it takes is not known." in said(child(*quick, head=priced))
    sold = child(
        "machine.mill.count = 1",
        head=priced.replace("mill.count = 1", "mill.count = 2\nmachine.mill.resale = 400"),
    )
    assert re.search(r"It leaves USD\s400 over and brings no more a year", said(sold))
    for text in (said(more), said(sold)):
        assert "never paid back" not in text


def test_what_has_no_price_is_never_back_at_once() -> None:
    priced = today("part.body.contribution = 9", "money.wage = 30", "part.body.weekly = 900")
    quick = child('part.body.cycle = "6 min"', head=priced)
    back = headline(quick.answers["child"], quick.answers["today"]).figures[3]
    assert (back.text, back.word) == ("", "not priced")
    assert back.caption == ("payback", "shorter cycle of body")
    # What is paid for is told by its years.
    paid = child('part.body.cycle = "6 min"', "money.one_off = 900", head=priced)
    back = headline(paid.answers["child"], paid.answers["today"]).figures[3]
    assert back.caption[0] == "years until back"


def paid(capital: float, gain: float, low: float, high: float) -> tuple[Large, Large]:
    """What a year brings and when it is back, a percent of output being worth 100 a year."""
    answers = beside(a=valued(low, gain, high, takes=capital))
    _, _, year, back = headline(answers["a"], answers["now"]).figures
    return year, back


@pytest.mark.parametrize(
    ("of", "year", "back", "below"),
    [
        ((1000, 11, 10, 12), "1100", "0.9", "years until back"),
        # A dash stood there, beside figures with signs: a minus.
        ((0, 11, 10, 12), "1100", "0", "years until back"),
        ((1000, 1, -1, 3), "not clear", "not clear", "payback"),
        ((1000, -2, -3, -1), "200", "never", "payback"),
        ((1000, 0, 0, 0), "±0", "never", "payback"),
        ((0, 0, 0, 0), "±0", "nothing invested", "payback"),
        ((1000, 0.05, 0.04, 0.06), "5", "over 100", "years until back"),
    ],
)
def test_what_has_no_figure_has_a_word_in_its_place_and_no_sign(
    of: tuple[float, float, float, float], year: str, back: str, below: str
) -> None:
    first, last = paid(*of)
    assert (first.text or first.word) == year
    assert (last.text or last.word, last.caption[0]) == (back, below)
    if not of[0] and of[1]:
        assert last.caption[1] == "at once"


def test_what_is_not_known_of_a_gain_is_said_in_its_place() -> None:
    answers = beside(a=valued(10, 11, 12))
    none = replace(answers["a"], gains=Gains())
    first = headline(none, answers["now"]).figures[0]
    assert (first.text, first.word, first.caption) == ("", "none in percent", ("saleable output",))
    unknown = replace(none, figures=None, said=None)
    (only,) = headline(unknown, answers["now"]).figures
    assert (only.text, only.word, only.caption) == ("", "not known yet", ("saleable output",))


# -- alone and unattended ----------------------------------------------------------------


EVENINGS = """\
[scenario.child.shift.late]
days = ["mon", "tue"]
start = "14:00"
end = "16:00"
"""


def test_hours_alone_and_unattended_that_it_adds_stand_with_the_difference() -> None:
    """Two evenings of one person: what they add to the reference is told on page and in F2."""
    child_line = CHILD + 'unattended.after_shift = "4 h"\nmachine.mill.pallets = 9\n'
    found = answered(TODAY + child_line + EVENINGS)
    here, there = (found.answers[id_] for id_ in ("child", "today"))
    assert here.figures is not None
    assert there.figures is not None
    now, before = (each.figures.spindle.unattended for each in (here, there))
    assert now > before + 1
    alone = "unattended, on breaks or after hours"
    cut = f"Spindles cut for {rounded(now)} h a week {alone}, {rounded(now - before)} h"
    sentences = headline(here, there).sentences
    assert (
        "! One person alone for 4.0 h a week, 4.0 h more: local codes, qualified people decide."
    ) in sentences
    said_there = f"{rounded(now)} of them {alone} ({rounded(now - before)} more)"
    assert said_there in " ".join(sentences)
    words = scenario_words(here, "today", against="Today", base=there)
    assert "\n    One person alone for 4.0 h a week, 4.0 h more than in Today.\n" in words
    assert f"\n    {cut} more than in Today.\n" in words
    assert "alone" not in said(found, "today")


def test_who_is_alone_as_before_is_told_so_in_f2_and_not_on_the_page() -> None:
    found = child("part.body.weekly = 90", head=TODAY.replace("people = 2", "people = 1"))
    here, there = (found.answers[id_] for id_ in ("child", "today"))
    assert "alone" not in said(found)
    words = scenario_words(here, "today", against="Today", base=there)
    assert re.search(r"One person alone for \d+\.0 h a week, as in Today\.", words)
    alone = scenario_words(there, "today", against="Today", base=there)
    assert re.search(r"One person alone for \d+\.0 h a week\.", alone)


def test_who_comes_back_alone_is_told_where_no_shift_has_one_person() -> None:
    """Two people in every shift were cautioned of lone working, and nothing said when."""
    child_line = CHILD + 'unattended.after_shift = "4 h"\nmachine.mill.pallets = 9\n'
    found = answered(TODAY + child_line)
    here, there = (found.answers[id_] for id_ in ("child", "today"))
    words = " ".join(scenario_words(here, "today", against="Today", base=there).split())
    assert "No shift has one person alone; whoever comes back to machines" in words
