"""What moves a scenario in short: sentences beside the pictures, held to a pencil's sums."""

from __future__ import annotations

import pickle
import re
from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import pytest
from moving_studies import second_machine, silent, study
from refusals import refusing

from whatif.answers.compare import compare
from whatif.answers.gains import Gains
from whatif.answers.limits import HeldBack, Loss
from whatif.answers.moves.break_even import LEVEL, Crossing, Target, break_even
from whatif.answers.moves.held import Moved
from whatif.answers.moves.inputs import Unanswerable, Value
from whatif.answers.moves.sensitivity import Ranking, Side, sensitivity
from whatif.answers.moves.trial import AskedAbout, Outcome
from whatif.answers.moves.vary import grid, vary
from whatif.answers.ranks import Range
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.questions import CurveFound, CurveOf, RankingOf
from whatif.session.calculate.requests import Material
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.raw import Path
from whatif.telling.gain_texts import percent_text
from whatif.telling.moves.break_even import level_words, span_tried, wanted_words
from whatif.telling.moves.curve import curve_told, instead_words, marks, point_words
from whatif.telling.moves.curve_plot import curve_legends, is_told_of, measures
from whatif.telling.moves.grid import (
    grid_best,
    grid_lead,
    grid_legend,
    grid_shares,
    grid_text,
    grid_texts,
    grid_words,
)
from whatif.telling.moves.ranking import (
    effect_words,
    pull,
    ranking_lead,
    side_text,
    sides_in_short,
)
from whatif.telling.moves.tried import (
    draws_in_short,
    gain_in_short,
    outcome_words,
    without_gap_words,
    worked_from,
)

CYCLE: Path = ("part", "body", "cycle")
COUNT: Path = ("machine", "mill", "count")
PEOPLE: Path = ("shift", "all", "people")
PRICE: Path = ("machine", "mill", "price")


def material(draft: Draft, known: list[object]) -> Material:
    memory = Memory()
    checked = check(draft)
    found = compare(checked, memory)
    return Material(draft, checked, found, memory, memory.pause, silent, known.append)


# --- a curve -------------------------------------------------------------------------------


@pytest.mark.long
def test_a_curve_in_short_says_knee_break_even_and_demand() -> None:
    """Each machine brings its 720 pieces a week, and 5000 are wanted."""
    draft = second_machine()
    found = vary(draft, "child", COUNT, ["1", "2", "3"], Memory(), silent)
    level = break_even(draft, "child", COUNT, LEVEL, Memory(), silent, "1..3")
    lead, even, met, *_ = (each.in_short for each in curve_told(found, level))
    # A bare 3 would leave open what there are three of.
    assert lead == "Saleable output is largest at machines 3, the largest value tried."
    assert even.count("Today") == 1
    assert met == "No value tried, 1 to 3, meets the demand of every part."


@pytest.mark.long
def test_every_break_even_is_told_or_that_there_is_none() -> None:
    """At 14 min a piece today; two machines are level at 28 min, of which 24 min are cycle."""
    own = second_machine()
    own = own.with_scenario(own.scenario("child").having(CYCLE, "10 min"))
    draft = own.with_head("warm_up", 1)
    some = break_even(draft, "child", CYCLE, LEVEL, Memory(), silent, "5 min..60 min")
    # The reference inherits nothing from the child: its 14 min a piece stay.
    assert some.always is None
    words = level_words(some)
    assert words.startswith("Break-even with Today from 24")
    none = break_even(draft, "child", CYCLE, LEVEL, Memory(), silent, "5 min..10 min")
    assert level_words(none) == (
        "No break-even with Today: every value tried from 5 to 10 min brings at least as much."
    )
    never = break_even(draft, "child", CYCLE, LEVEL, Memory(), silent, "40 min..60 min")
    assert level_words(never).startswith(
        "No break-even with Today: no value tried from 40 to 60 min brings as much"
    )
    assert "nearest is 40 min, with -" in level_words(never)


def test_a_price_is_drawn_in_money_and_has_its_break_even_in_years() -> None:
    draft = second_machine()
    asked = CurveOf("child", PRICE, ("50000", "100000", "200000"))
    known: list[object] = []
    found = asked.work_out(material(draft, known))
    assert isinstance(found, CurveFound)
    assert isinstance(known[0], CurveFound)
    assert known[0].level is None
    assert measures(found.curve)[0].name == "payback"
    assert found.level is not None
    assert found.level.target == Target("payback", 7.0)
    assert "a payback of 7 years or less" in level_words(found.level)
    assert pickle.loads(pickle.dumps(found)) == found


@pytest.mark.parametrize("is_typed", [False, True])
def test_a_gain_that_is_wanted_is_looked_for_as_far_as_by_command_unless_a_range_is_typed(
    is_typed: bool,
) -> None:
    """It was looked for within the curve's values alone, where its likely place began then."""
    draft = second_machine()
    asked = CurveOf("child", PEOPLE, ("1", "2"), wanted=50.0, is_typed=is_typed)
    found = asked.work_out(material(draft, []))
    span = "1..2" if is_typed else ""
    gain = Target("gain", 50.0)
    assert found.wanted == break_even(draft, "child", PEOPLE, gain, Memory(), silent, span)
    assert found.level == break_even(draft, "child", PEOPLE, LEVEL, Memory(), silent, span)
    assert found.wanted is not None
    assert (found.wanted.high.text == "2") is is_typed


def test_no_machine_at_all_is_not_looked_at_for_a_break_even() -> None:
    """None takes the group out: "break-even from 1 up" would tell nobody anything."""
    draft = second_machine()
    assert break_even(draft, "child", COUNT, LEVEL, Memory(), silent).low.text == "1"


def test_what_a_break_even_is_of_and_how_far_it_was_looked_for_is_said_beside_a_curve() -> None:
    """Two spans stood in one paragraph, and a break-even of a figure that was not drawn."""
    draft = second_machine()
    found = vary(draft, "child", COUNT, ["1", "2"], Memory(), silent)
    level = break_even(draft, "child", COUNT, LEVEL, Memory(), silent, "2..6")
    assert level.always is True
    told = [each.text for each in curve_told(found, level)]
    every = "every value tried from 2 to 6 (drawn are 1 to 2) brings at least as much."
    assert every in told[1]
    (other,) = (each.text for each in curve_told(found, level, None, "saleable gain")[1:2])
    assert other.startswith("By the saleable gain (f draws it): no break-even")
    within = break_even(draft, "child", COUNT, LEVEL, Memory(), silent, "1..2")
    every = "every value tried from 1 to 2 brings at least as much."
    assert every in curve_told(found, within)[1].text
    # Drawn may be more than was looked at, too.
    more = vary(draft, "child", COUNT, ["1", "2", "9"], Memory(), silent)
    assert "tried from 1 to 2 (drawn are 1 to 9)" in curve_told(more, within)[1].text
    assert [is_told_of(level, each) for each in measures(found)[:2]] == [True, False]


@pytest.mark.parametrize(
    ("low", "high", "unit", "told"),
    [
        ("0 week", "2 week", "week", "0 to 2 weeks"),
        ("80 %", "120 %", "%", "80 to 120 %"),
        ("30 min", "1 h 30 min", "min", "30 min to 1 h 30 min"),
        ("18:00", "22:00", "min", "18:00 to 22:00"),
        ("1", "16", "", "1 to 16"),
    ],
)
def test_the_unit_of_the_values_tried_stands_once(
    low: str, high: str, unit: str, told: str
) -> None:
    assert span_tried(Value(high, 90.0, unit), Value(low, 0.0, unit)) == told
    assert span_tried(Value("0 week", 0.0, "week"), Value("1 week", 1.0, "week")) == "0 to 1 week"


def test_between_which_values_nothing_differs_is_said_once_beside_a_curve() -> None:
    """It stood in three sentences, and was another one in that of the break-even."""
    draft = second_machine()
    found = replace(vary(draft, "child", COUNT, ["1", "2"], Memory(), silent), is_flat=True)
    level = break_even(draft, "child", COUNT, LEVEL, Memory(), silent, "2..6")
    assert level.always is True
    wide = replace(level, low=replace(level.low, text="1", number=1.0))
    told = [each.text for each in curve_told(replace(found, knee=None), wide)]
    assert "every value from 1 to 6 (more than are drawn) brings at least as much." in told[1]
    assert told[2].startswith("No value tried meets the demand of every part; nearest is 2")
    assert " ".join(told).count("1 to 2") <= 1


def test_values_that_are_not_equally_far_apart_are_said_to_be_all_that_were_tried() -> None:
    """Five was not tried, and the curve ran over it."""
    some = vary(study(), "today", CYCLE, ["6 min", "8 min", "12 min"], Memory(), silent)
    told = [each.text for each in curve_told(some, None)]
    assert "Drawn are 6 min, 8 min and 12 min, none between." in told
    even = vary(study(), "today", CYCLE, ["6 min", "8 min", "10 min"], Memory(), silent)
    assert not any("Drawn are" in each.text for each in curve_told(even, None))


def test_a_contribution_makes_no_piece_more() -> None:
    """A curve over it read as if output grew with what a piece brings."""
    priced = study("contribution = 30")
    path = ("part", "body", "contribution")
    found = vary(priced, "today", path, ["20", "30"], Memory(), silent)
    lead = curve_told(found, None)[0].text
    assert lead.startswith("It makes no piece more, it only says how much")


def test_what_more_may_bring_is_told_as_a_question() -> None:
    """ "What a larger value than machines 2, tried up to 3, brings cannot be told" had no ring."""
    found = vary(second_machine(), "child", COUNT, ["1", "2", "3"], Memory(), silent)
    open_ = replace(found, better=1, knee=1, beyond=4.2, falls=False, is_flat=False)
    assert curve_told(open_, None)[0].text == (
        "Whether a larger value than machines 2 brings more is not clear, tried up to 3: maybe up "
        "to 4.2 points, maybe nothing."
    )


def test_why_a_curve_is_not_over_the_row_one_came_from() -> None:
    days = ("shift", "all", "days")
    assert instead_words(days, "people") == (
        '"days" is not one number: this one is over people (o chooses another).'
    )
    assert instead_words(CYCLE, "people").startswith('"cycle" changes nothing here')
    # "pallets each" that is over pallets each contradicted itself.
    here, there = (("machine", name, "pallets") for name in ("mill", "pool"))
    assert instead_words(there, "pallets each", here) == (
        '"pallets each of pool" changes nothing here: this one is over pallets each of mill '
        "(o chooses another)."
    )
    assert instead_words(None, "people").startswith(
        "On the sheet the cursor is on a heading, which has no curve: this one is over people"
    )


def test_a_value_that_is_drawn_but_not_clear_is_told_as_typed_too() -> None:
    """The dot stood somewhere on the band, and no word said where."""
    outcome = Outcome(gains=Gains(saleable=3.0), likely=(-2.0, 2.0, 7.0))
    assert "as typed" not in outcome_words(outcome)
    assert "(likely -2 to +7; as typed +3 %)" in outcome_words(outcome, is_drawn=True)
    clear = replace(outcome, likely=(2.0, 3.0, 7.0))
    assert "as typed" not in outcome_words(clear, is_drawn=True)


def test_a_gain_over_a_reference_that_moves_too_stands_beside_that_over_it_as_it_stands() -> None:
    likely = (18.0, 20.0, 23.0)
    both = Outcome(gains=Gains(saleable=20.0), likely=likely, itself=30.0, likely_itself=likely)
    over_now = (
        r"its output .* over the reference as it stands; "
        r"with the same value in the reference too saleable gain "
    )
    assert re.match(over_now, outcome_words(both))
    # Where both are alike it is told once.
    assert "output" not in outcome_words(replace(both, itself=20.0))


def test_beside_a_range_without_the_meters_gap_stands_what_the_sheet_tells() -> None:
    """18 to 23 here, 16 to 37 on the sheet, and nothing said why."""
    metered = AskedAbout("child", "Child", "Today", False, 1, 1, 8, 20, 12, False, True)
    assert without_gap_words(replace(metered, is_metered=False), None) == ""
    words = without_gap_words(metered, None)
    outcome = Outcome(gains=Gains(saleable=20.0), likely=(18.0, 20.0, 23.0))
    assert re.search(r"18 to \+?23, without the hour meters\);", outcome_words(outcome, words))


def test_marks_and_words_of_a_value() -> None:
    found = vary(study(), "today", CYCLE, ["6 min", "10 min"], Memory(), silent)
    assert "now" in marks(found, 1)
    assert "now" not in marks(found, 0)
    assert point_words(found, 0).startswith("cycle 6 min: saleable gain +40 %")
    refused = vary(study(), "today", CYCLE, ["6 min", "0 min"], Memory(), silent)
    assert "not allowed" in point_words(refused, 1)
    assert not curve_told(refused, None)[0].text.startswith("Not allowed")


# --- a ranking -----------------------------------------------------------------------------


def test_a_rule_of_the_shop_is_decided_and_not_to_be_measured() -> None:
    def ranked(*inputs: tuple[str, bool, bool]) -> Ranking:
        side = Side(Value("2", 2.0, ""), 5.0, None, is_difference=True, problem=None)
        moving = [
            SimpleNamespace(
                down=None,
                up=side,
                input=SimpleNamespace(
                    label=label,
                    is_chosen=chosen,
                    origin=SimpleNamespace(is_assumed=assumed),
                    # How many there are of what this scenario alone has: planned, not counted.
                    moved=Moved.ALONE if label == "late people" else Moved.BOTH,
                    whole=label == "late people",
                ),
            )
            for label, chosen, assumed in inputs
        ]
        asked = SimpleNamespace(is_reference=False)
        return cast("Ranking", SimpleNamespace(moving=moving, asked=asked))

    both = ranking_lead(ranked(("walk", False, True), ("setter stays", True, True)))
    assert both.endswith("it matters: walk. Go and look at these, or measure them, first.")
    rule = ranking_lead(ranked(("walk", False, False), ("setter stays", True, True)))
    assert rule.endswith(
        "Of what matters only what you decide or plan yourselves is assumed: decide it."
    )
    planned = ranking_lead(ranked(("walk", False, False), ("late people", False, True)))
    assert planned.endswith("you decide or plan yourselves is assumed: decide it.")
    none = ranking_lead(ranked(("walk", False, False), ("setter stays", True, False)))
    assert none.endswith("has been entered; none of them is only assumed.")


@pytest.mark.long
def test_a_ranking_in_short_names_what_is_only_assumed() -> None:
    found = sensitivity(second_machine(), "child", Memory(), silent)
    lead = ranking_lead(found)
    first = found.effects[0]
    assert lead.startswith(f"What matters most, each by its own step: {first.input.label} ")
    assert "Only assumed, and it matters: " in lead
    walk = next(one for one in found.effects if one.input.dotted == "handling.walk")
    words = effect_words(found, walk)
    assert words.startswith(
        "walk per visit, moved in Today too, now 1 min (assumed: go and measure): "
    )
    assert "the gain rises by" in words or "makes no difference" in words
    sides = found.effects[0].down, found.effects[0].up
    assert max(abs(pull(side)) for side in sides) == found.effects[0].most
    assert side_text(None) == "–"
    # With as many digits as it takes to see that it lies outside: not "-10 to -10 %".
    below = replace(sides[0], change=-10.3, likely=(-10.2, -10.0, -9.9), is_difference=True)
    said = effect_words(found, replace(found.effects[0], down=below))
    assert "by likely -10.2 to -9.9 points, in the middle of 3 draws -10.0 (as typed -10.3)" in said
    alike = replace(below, likely=(-9.91, -9.9, -9.89))
    assert "by likely -9.9 points" in effect_words(found, replace(found.effects[0], down=alike))


def test_what_matters_most_is_told_with_its_step_and_where_it_falls_what_raises_beside_it() -> None:
    """One machine less was named alone where output is moved by people."""
    found = sensitivity(second_machine(), "child", Memory(), silent)
    both = [each for each in found.moving if each.down is not None and each.up is not None]
    falls, rises = both[0], both[1]
    assert falls.down is not None
    assert falls.up is not None
    down = replace(falls.down, change=-9.0, likely=None, is_difference=True)
    none = replace(falls.up, change=0.0, likely=None, is_difference=False)
    falls = replace(falls, down=down, up=none, most=9.0)
    assert rises.up is not None
    up = replace(rises.up, change=3.0, likely=None, is_difference=True)
    rises = replace(rises, down=None, up=up, most=3.0)
    lead = ranking_lead(replace(found, effects=(falls, rises)))
    first, second = falls.input.label, rises.input.label
    assert lead.startswith(
        f"What matters most, each by its own step: {first} {down.value.text}, -9.0 points; "
        f"what raises the gain most: {second} {up.value.text}, +3.0 points."
    )
    alone = ranking_lead(replace(found, effects=(rises,)))
    assert alone.startswith(
        f"What matters most, each by its own step: {second} {up.value.text}, +3.0 points. "
    )


def test_what_moves_the_reference_alone_does_not_lead() -> None:
    """To go home earlier raised the gain, since the reference lost more by it than one did."""
    found = sensitivity(second_machine(), "child", Memory(), silent)
    of_both = next(
        each
        for each in found.moving
        if each.input.moved is Moved.BOTH and each.up is not None and not each.input.is_chosen
    )
    assert of_both.up is not None
    up = replace(of_both.up, change=9.0, likely=None, is_difference=True)
    lesser = next(
        each
        for each in found.moving
        if each is not of_both and each.up is not None and not each.input.is_chosen
    )
    assert lesser.up is not None
    own = replace(lesser.up, change=3.0, likely=None, is_difference=True, itself=3.0)
    beside = replace(lesser, down=None, up=own, most=3.0)

    def leads(itself: float | None) -> str:
        moved = replace(of_both, down=None, up=replace(up, itself=itself), most=9.0)
        lead = ranking_lead(replace(found, effects=(moved, beside)))
        return lead.removeprefix("What matters most, each by its own step: ")

    for itself in (-4.0, 0.0, 4.0):
        assert leads(itself).startswith(f"{lesser.input.label} {own.value.text}, +3.0 points.")
    for known in (4.5, 9.0, None):
        assert leads(known).startswith(f"{of_both.input.label} {up.value.text}, +9.0 points.")


def keys(found: Ranking) -> set[str]:
    return {effect.input.dotted for effect in found.effects}


@pytest.mark.long
def test_what_is_known_so_far_grows_and_ends_in_the_whole() -> None:
    known: list[object] = []
    draft = second_machine()
    whole = RankingOf("child").work_out(material(draft, known))
    assert isinstance(whole, Ranking)
    parts = [one for one in known if isinstance(one, Ranking)]
    # An input more each time; with all of them there, a likely range more each time.
    of = [len(one.effects) for one in parts]
    assert of == [*range(1, len(whole.effects)), *[len(whole.effects)] * of.count(of[-1])]
    lacking = [sum(effect.is_open for effect in one.effects) for one in parts]
    assert lacking[-of.count(of[-1]) :] == list(range(of.count(of[-1]), 0, -1))
    for one in parts:
        assert [effect.most for effect in one.effects] == sorted(
            (effect.most for effect in one.effects), reverse=True
        )
        assert keys(one) <= keys(whole)


def test_why_there_is_no_answer_is_told() -> None:
    draft = study(part=('cycle = "10 min"', "weekly = 0"))
    with refusing("nothing to simulate", Unanswerable):
        RankingOf("today").work_out(material(draft, []))


# --- two inputs ----------------------------------------------------------------------------


def test_a_cell_that_cannot_be_told_has_no_share() -> None:
    found = grid(second_machine(), "child", COUNT, ["1", "2"], PEOPLE, ["2"], Memory(), silent)
    (low,), (high,) = found.outcomes
    assert grid_shares(found) == [[0.0], [1.0]]
    unclear = replace(high, likely=(-90.0, 5.0, 120.0))
    assert grid_text(unclear) == "not clear"
    untold = replace(found, outcomes=((low,), (unclear,)))
    assert grid_shares(untold) == [[0.0], [None]]
    # It stood without a bar among bars, and nothing said why.
    assert grid_legend(untold) == "▁ least █ most  no bar: not clear"
    assert grid_legend(found) == "▁ least █ most"
    assert grid_legend(replace(untold, best=None)) == ""


def test_a_point_is_no_whole_bar_and_what_cannot_be_told_apart_has_none() -> None:
    found = grid(second_machine(), "child", COUNT, ["1", "2"], PEOPLE, ["2"], Memory(), silent)
    (low,), _ = found.outcomes
    assert low.gains.saleable is not None
    more = Gains(saleable=low.gains.saleable + 1)
    near = replace(found, outcomes=((low,), (replace(low, gains=more, likely=None),)))
    assert grid_shares(near) == [[0.0], [pytest.approx(0.2)]]
    assert grid_shares(replace(near, best=None)) == [[None], [None]]


def test_all_cells_of_a_table_have_one_number_of_decimals() -> None:
    """-0.309 stood among whole numbers."""
    found = grid(second_machine(), "child", COUNT, ["1", "2"], PEOPLE, ["2"], Memory(), silent)
    (low,), (high,) = found.outcomes

    def texts(*gains: float) -> list[str]:
        return [
            text
            for (text,) in grid_texts(
                replace(
                    found,
                    outcomes=tuple(
                        (replace(high, gains=Gains(saleable=gain), likely=None, itself=None),)
                        for gain in gains
                    ),
                )
            )
        ]

    assert texts(-0.309, 90.2, 45.04) == ["-0.3", "+90.2", "+45.0"]
    assert texts(0.04, 12.0) == ["0.0", "+12.0"]
    assert texts(-31.0, 90.2) == ["-31", "+90"]
    assert grid_texts(found)[0] == [grid_text(low)]


@pytest.mark.long
def test_the_best_cell_and_the_present_one() -> None:
    draft = second_machine().with_head("warm_up", 1)
    found = grid(draft, "child", COUNT, ["1", "2"], PEOPLE, ["1", "2"], Memory(), silent)
    assert found.now == (1, 1)
    # What the largest cell shows is named, so that the headline does not seem to miss it.
    assert grid_lead(found) == (
        "Best: machines 2, people 1, +97 % over Today; one of 2 that cannot be told apart, up to "
        "+100 %: of them that with least machines, then least people."
    )
    assert grid_text(found.outcomes[0][0]) == "no change"
    assert grid_words(found, 1, 1).startswith("machines 2, people 2: saleable gain +100 %")
    away = grid(draft, "child", COUNT, ["3", "4"], PEOPLE, ["1", "2"], Memory(), silent)
    assert away.now is None
    worse = grid(draft, "child", COUNT, ["1"], PEOPLE, ["1"], Memory(), silent)
    assert grid_lead(worse) == "No pair of values clearly brings more than Today."
    # And no cell is marked as the best.
    assert (worse.best, grid_best(worse)) == ((0, 0), None)
    assert grid_best(found) == found.best


def test_a_value_says_what_holds_it_back() -> None:
    """Pallets beyond the fixtures only keep these from others, and that has to be read."""
    held = HeldBack(attended=40, in_cycle=20, losses=(Loss("no_fixture", 20),))
    text = "limited by fixtures 50 %."
    assert outcome_words(Outcome(held_back=held)).endswith(text)
    assert "limited" not in outcome_words(Outcome())
    # Nothing is limited by that all is made.
    met = replace(held, is_demand_met=True)
    assert outcome_words(Outcome(held_back=met)).endswith("; demand all met.")


def test_that_ranges_rest_on_fewer_draws_than_the_strip_s_is_told_in_the_room_there_is() -> None:
    asked = AskedAbout("child", "Child", "Today", False, 1, 1, 8, 20, 12, False)
    assert draws_in_short(asked, 60) == "; likely ranges: 8 draws, in the sheet 20"
    assert draws_in_short(asked, 20) == "; 8 draws, not 20"
    assert draws_in_short(asked, 5) == ""
    assert draws_in_short(replace(asked, draws=20), 60) == ""
    # Where hour meters hold, the strip's range covers both readings of their gap as well.
    metered = replace(asked, is_metered=True)
    assert draws_in_short(metered, 60) == "; without the hour meters, 8 draws, not 20"
    assert draws_in_short(metered, 30) == "; without the hour meters"
    assert draws_in_short(replace(metered, draws=20), 60).endswith(", which the sheet's have")
    assert "both readings of the hour meters' gap" in worked_from(metered)
    assert "gap" not in worked_from(asked)
    now = replace(metered, is_answered_now=True)
    assert draws_in_short(now, 60) == "; without the hour meters, 8 draws, 20 at now"
    # What stands now has the strip's own.
    now = replace(asked, is_answered_now=True)
    assert (
        draws_in_short(now, 70)
        == "; likely ranges: 8 draws, but 20 at the value now, as in the sheet"
    )
    assert draws_in_short(now, 40) == "; 8 draws, 20 at now"
    assert worked_from(now).endswith("on 8 draws (as it stands now on 20, as in the sheet).")


def test_the_legend_says_that_what_stands_now_is_drawn_more_often() -> None:
    """Its band bulges there: the sheet's range is of more draws than those of other values."""
    asked = AskedAbout("child", "Child", "Today", False, 1, 1, 5, 9, 12, False)
    for now, said in ((False, ", 5 draws "), (True, ", 5 draws, 9 at now ")):
        legends = curve_legends(replace(asked, is_answered_now=now), "⢕")
        assert [band.endswith(f"likely range{said}") for _, band in legends[1:3]] == [True, True]


@pytest.mark.parametrize(
    ("at", "near"), [("49.88 min", "50 min"), ("9.7 min", "9.7 min"), ("122 min", "120 min")]
)
def test_a_place_that_cannot_be_told_is_told_with_two_figures(at: str, near: str) -> None:
    number, unit = at.split()
    draft = second_machine()
    found = break_even(draft, "child", CYCLE, LEVEL, Memory(), silent, "5 min..60 min")
    place = Value(at, float(number), unit)
    crossing = Crossing(place, place, True, 0.0, None, None, 1, is_clear=False)
    untold = replace(found, crossings=(crossing,), always=None, in_doubt=None)
    assert f" near {near} cannot be told" in wanted_words(untold)
    # "Whether there is a break-even with Today with the same value near 50 min" was not understood.
    assert level_words(untold) == (
        f"Near {near} the likely range leaves open whether it makes as much as Today with the same "
        "value: no sure break-even."
    )


@pytest.mark.parametrize("change", [1.8, -1.8])
def test_that_more_scrap_brings_more_is_told_with_why(change: float) -> None:
    """ "brackets scrap to 2 %: +1.9" stood there, and no shop believes that scrap makes pieces."""
    found = sensitivity(second_machine(), "child", Memory(), silent)
    effect = found.effects[0]
    likely = (change - 0.1, change, change + 0.1)
    side = Side(Value("2 %", 0.02, ""), change, likely, is_difference=True, problem=None)
    of_scrap = replace(effect.input, path=("part", "body", "scrap"))
    scrap = replace(effect, input=of_scrap, down=None, up=side)
    said = "With scrap an order starts more pieces, in whole ones"
    assert (said in effect_words(found, scrap)) is (change > 0)
    assert said not in effect_words(found, replace(scrap, input=effect.input))


@pytest.mark.parametrize(
    ("change", "told"),
    [(-0.6, "-0.6"), (-0.52, "-0.5"), (-12.0, "-12.0"), (0.02, "+0.02"), (-0.049, "-0.05")],
)
def test_changes_of_a_list_have_as_many_decimals(change: float, told: str) -> None:
    """-0.6, -0.52 and +0.2 stood below each other."""
    effect = sensitivity(second_machine(), "child", Memory(), silent).effects[0]
    likely = (change - 0.01, change, change + 0.01)
    side = Side(Value("2", 2.0, ""), change, likely, is_difference=True, problem=None)
    assert sides_in_short(replace(effect, down=side, up=side)) == (told, told)
    unclear = replace(side, is_difference=False)
    assert sides_in_short(replace(effect, down=unclear, up=unclear)) == (2 * ("not clear",))


@pytest.mark.parametrize(
    ("gain", "likely", "told"),
    [
        (57.13, (55.2, 57.0, 58.9), "+57"),
        (8.24, (7.9, 8.2, 8.6), "+8.2"),
        (8.24, (4.0, 8.2, 12.6), "+8"),
        (57.13, None, "+57"),
    ],
)
def test_a_try_has_the_digits_that_the_strip_has(
    gain: float, likely: Range | None, told: str
) -> None:
    outcome = Outcome(gains=Gains(saleable=gain), likely=likely)
    assert gain_in_short(outcome) == told == percent_text(gain, likely).removesuffix(" %")
    assert f"saleable gain {told} %" in outcome_words(outcome)
    side = Side(Value("2", 2.0, ""), gain, likely, is_difference=True, problem=None)
    assert side_text(side) == told
