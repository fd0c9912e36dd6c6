"""An input over a range: what it brings, where output grows no more, and how ranges are typed."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest
from lengths import first_of
from moving_studies import CHILD, HEAD, a_week, second_machine, silent, study
from refusals import refusing

from whatif.answers.answer import Answer
from whatif.answers.compare import compare
from whatif.answers.gains import Gains
from whatif.answers.moves import changing
from whatif.answers.moves.changing import Made, Trials
from whatif.answers.moves.held import Moved
from whatif.answers.moves.inputs import Unanswerable, Value, find_input
from whatif.answers.moves.ranges import offered, read_range, usual_span
from whatif.answers.moves.trial import Outcome, Point, Trial
from whatif.answers.moves.vary import Curve, all_met, grid, vary
from whatif.answers.ranged import with_likely
from whatif.cell.model import Cell
from whatif.cell.tally import Tally
from whatif.plan.build import plans_of
from whatif.reports.document import WRITERS
from whatif.reports.moves import curve_report
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import SetHead
from whatif.study.file.reading import read_text
from whatif.study.raw import Path
from whatif.study.resolve import Origin, Source
from whatif.telling.moves.curve import curve_sentences, marks
from whatif.telling.moves.curve_plot import measures
from whatif.telling.moves.grid import grid_lead, grid_text
from whatif.telling.moves.tried import gain_in_short, moved_words
from whatif.telling.problems import what_is_wrong
from whatif.telling.refusals import refusal_words
from whatif.telling.sources import source_words

CYCLE: Path = ("part", "body", "cycle")
PALLETS: Path = ("machine", "mill", "pallets")


def curve(draft: Draft, path: Path, *values: str, scenario: str = "today") -> Curve:
    return vary(draft, scenario, path, values, Memory(), silent)


# --- what a value brings ----------------------------------------------------------------


@pytest.mark.long
def test_pieces_of_a_table_are_the_week_over_the_minutes_a_piece() -> None:
    found = curve(study(), CYCLE, "6 min", "10 min", "14 min")
    pieces = [point.outcome.pieces["body"] for point in found.points]
    assert pieces == [a_week(6 + 4), a_week(10 + 4), a_week(14 + 4)] == [1008, 720, 560]
    hours = [point.outcome.spindle_hours for point in found.points]
    assert hours == pytest.approx([100.8, 120, 560 * 14 / 60], abs=0.2)


@pytest.mark.parametrize(("by_few", "likely"), [(True, (7, 9, 9)), (False, (8, 9, 9))])
def test_a_handful_of_draws_on_one_side_of_a_gain_do_not_lead(
    by_few: bool, likely: tuple[float, float, float]
) -> None:
    plan = plans_of(check(study()))["today"]

    def gains(percent: float) -> Answer:
        return Answer(plan, said=None, figures=None, gains=Gains(saleable=percent))

    trial = Trial(None, gains(7), Made((gains(9), gains(8), gains(9))), by_few=by_few)
    assert trial.outcome.likely == likely
    assert trial.outcome.leading_gain == (7 if by_few else 9)


def test_draws_are_few_where_the_study_has_more_of_them() -> None:
    for runs, few in ((5, False), (6, True)):
        draft = SetHead("runs", runs).apply(study())
        assert Trials(draft, "today", Memory()).attempt({}).by_few is few


def test_the_reference_is_held_against_itself_as_it_stands() -> None:
    """720 pieces at 10 min: 1008 are 40 % more, whatever a piece's minutes are worth now."""
    found = curve(study(), CYCLE, "6 min", "10 min")
    assert found.asked.is_reference
    assert [point.outcome.gains.saleable for point in found.points] == pytest.approx([40, 0])
    assert "as it stands (10 min, entered)" in " ".join(curve_sentences(found))


def test_what_stands_in_the_study_has_the_gain_and_the_range_of_its_answer() -> None:
    """Six draws of a gain beside three of the same would be two ranges for one thing."""
    draft = SetHead("runs", 6).apply(study(*CHILD, 'part.body.cycle = "9 min"'))
    draft = SetHead("accuracy", "10 %").apply(draft)
    memory = Memory()
    found = with_likely(compare(check(draft), memory), memory).answers["child"]
    values = ("8 min", "9 min")
    tried = vary(draft, "child", CYCLE, values, memory, silent)
    told = tried.as_answered(found)
    assert found.judged is not None
    assert tried.now == told.now == 1
    assert tried.points[1].outcome.likely != found.judged
    now = told.points[1].outcome
    assert (now.gains.saleable, now.likely) == (found.gains.saleable, found.judged)
    assert told.points[0] == tried.points[0]
    assert "(as it stands now on 6, as in the sheet)" in " ".join(curve_sentences(told))
    # Until the range of the answer is known, there is no other than the one of the tries.
    assert tried.as_answered(replace(found, likely=None)) is tried
    assert tried.as_answered(None) is tried
    pairs = grid(draft, "child", CYCLE, values, PALLETS, ("1", "2"), memory, silent)
    assert pairs.now is not None
    told_pairs, (row, column) = pairs.as_answered(found), pairs.now
    assert told_pairs.outcomes[row][column].over_now.likely == found.judged
    assert told_pairs.outcomes[1 - row] == pairs.outcomes[1 - row]


def test_where_both_move_what_stands_is_told_by_the_answer_both_ways() -> None:
    draft = SetHead("accuracy", "10 %").apply(SetHead("runs", 6).apply(quicker_loads()))
    memory = Memory()
    found = with_likely(compare(check(draft), memory), memory).answers["child"]
    tried = vary(draft, "child", PEOPLE, ("1", "2"), memory, silent).as_answered(found)
    now = tried.points[0].outcome
    assert (now.itself, now.likely_itself) == (now.gains.saleable, now.likely)
    assert now.likely == found.judged


def test_the_reference_stays_held_against_itself_at_what_stands() -> None:
    draft = study()
    memory = Memory()
    found = with_likely(compare(check(draft), memory), memory).answers["today"]
    tried = curve(draft, CYCLE, "6 min", "10 min")
    assert tried.as_answered(found) is tried


def two_parts() -> Draft:
    """Another part beside the one, both with a set-up of their own."""
    draft = study(*CHILD, 'part.body.setup = "1 h"')
    today = draft.scenario("today").having(("part", "lid", "cycle"), "20 min")
    for name, raw in (("load", "2 min"), ("weekly", 100), ("setup", "30 min"), ("scrap", "2 %")):
        today = today.having(("part", "lid", name), raw)
    return draft.with_scenario(today.having(("part", "body", "setup"), "20 min"))


@pytest.mark.long
def test_a_share_moves_an_input_of_all_parts_at_once() -> None:
    draft = two_parts()
    setups = find_input(draft, "child", ("part", "*", "setup"))
    assert (setups.label, setups.now_text) == ("setup of all parts", "100 %")
    body, lid = (("part", part, "setup") for part in ("body", "lid"))
    assert setups.entering("50 %") == {body: "0.5 h", lid: "15 min"}
    assert setups.entering("100 %") == {body: "1 h", lid: "30 min"}
    assert setups.entering("0 %") == {body: "0 h", lid: "0 min"}
    assert usual_span(setups).values[0] == "50 %"
    # The child has one of its own, the other it takes from where the reference does.
    assert setups.moved is Moved.EACH
    assert find_input(draft, "today", ("part", "*", "setup")).moved is Moved.ITSELF
    assert "part.*.setup" in {each.dotted for each in offered(draft, check(draft), "today")}
    cycles = curve(draft, ("part", "*", "cycle"), "50 %", "100 %", scenario="child")
    assert [point.outcome.problem for point in cycles.points] == [None, None]
    few, many = (point.outcome.spindle_hours for point in cycles.points)
    assert few is not None
    assert many is not None
    assert few < many
    said = " ".join(curve_sentences(cycles))
    assert "Moved in both, as Child inherits it from Today." in said
    assert "in both where Child and Today have it in common, else in Child alone" in (
        moved_words(setups, cycles.asked)
    )
    walk = find_input(draft, "child", ("handling", "walk"))
    for of, why in (
        (walk, "neither Child nor Today enters it"),
        (replace(cycles.varied, entered_in="Child"), "Today inherits it from Child"),
        (replace(cycles.varied, entered_in="Base"), "Child and Today inherit it from Base"),
        (
            replace(cycles.varied, entered_in="", origin=Origin(Source.ENTERED, None)),
            "Child and Today have it in common",
        ),
    ):
        assert moved_words(of, cycles.asked) == f"in both, as {why}"


@pytest.mark.parametrize(
    ("key", "said"),
    [
        ("setup", "Did you mean part.body.setup or part.*.setup?"),
        ("parts.*.setup", "There is no key parts.*.setup. Did you mean part.*.setup?"),
        ("part.*.scrap", "name one, such as part.body.scrap."),
        ("shift.*.start", "of a percentage or a time of day no share is taken"),
        ("part.*.bench", "none of the parts has a number there"),
        ("part.*.fixtures", "enter it for each first, or move that of one, such as part.body.fix"),
        ("shift.*.days", "is not one number"),
        ("handling.*", "There is no key handling.*."),
    ],
)
def test_what_cannot_be_moved_for_all_says_what_to_type(key: str, said: str) -> None:
    with refusing(said):
        find_input(two_parts(), "today", tuple(key.split(".")))


def test_amounts_for_all_are_refused_with_what_to_write() -> None:
    found = find_input(two_parts(), "today", ("part", "*", "setup"))
    with refusing('"1 min" is no share; all at once are moved by the same share of what each is'):
        read_range(found, "1 min..3 min")


def test_a_scenario_is_held_against_the_reference() -> None:
    draft = study(*CHILD, 'part.body.cycle = "12 min"')
    found = curve(draft, CYCLE, "6 min", scenario="child")
    assert found.points[0].outcome.gains.saleable == pytest.approx(40)
    assert found.varied.now_value == Value("12 min", 12.0, "min")
    assert source_words(found.varied.origin) == "entered"
    assert "As it stands it is 12 min, entered." in curve_sentences(found)


def test_a_reference_that_inherits_changes_with_it() -> None:
    draft = study(*CHILD).with_head("reference", "child")
    found = curve(draft, CYCLE, "6 min", "10 min")
    assert [point.outcome.gains.saleable for point in found.points] == [0, 0]
    assert [point.outcome.pieces["body"] for point in found.points] == [1008, 720]


def test_a_value_that_is_not_allowed_is_told_and_the_others_are_answered() -> None:
    found = curve(study(), PALLETS, "0", "1", "2")
    first, second, third = (point.outcome for point in found.points)
    assert (
        what_is_wrong(first.problem) == "It is too small; allowed is a whole number from 1 to 200."
    )
    assert (first.gains.saleable, first.saleable, first.spindle_hours) == (None, None, None)
    assert second.problem is third.problem is None
    assert curve_sentences(found)[0].startswith("Not allowed: 0. It is too small; allowed is ")


def test_only_the_two_scenarios_are_simulated() -> None:
    others = [f'[scenario.more{i}]\nparent = "today"\nhandling.walk = "{i} min"' for i in range(9)]
    memory = Memory()
    vary(study(*CHILD, *others), "child", CYCLE, ["9 min"], memory, silent)
    # What is tried stands in both alike, as entered and in three draws; beside it the reference
    # as it stands.
    assert memory.ran == 2 * (1 + 3)


PRICE: Path = ("machine", "mill", "price")


def test_a_price_simulates_nothing_again_and_payback_is_linear_in_it() -> None:
    """720 pieces more at 2 each for 50 weeks are 72000 a year."""
    memory = Memory()
    vary(second_machine(), "child", PRICE, ["72000"], memory, silent)
    ran = memory.ran
    found = vary(second_machine(), "child", PRICE, ["36000", "72000", "144000"], memory, silent)
    assert memory.ran == ran
    money = [point.outcome.money for point in found.points]
    assert [one.payback_years for one in money if one is not None] == pytest.approx([0.5, 1, 2])
    assert found.points[0].value == Value("36000", 36000.0, "USD")


def test_the_reference_at_another_price_buys_nothing() -> None:
    found = curve(second_machine(), PRICE, "5000", "10000")
    assert [one.outcome.money.capital for one in found.points if one.outcome.money] == [0, 0]


def test_worth_is_money_where_a_third_scenario_has_a_contribution() -> None:
    third = ("[scenario.third]", 'parent = "today"', "part.body.contribution = 3")
    found = curve(study(*CHILD, *third), CYCLE, "9 min", scenario="child")
    assert found.asked.in_money
    # The two have none themselves, so that nothing of theirs is worth anything.
    assert found.points[0].outcome.saleable == 0


def test_a_curve_can_be_sent_to_another_process() -> None:
    found = curve(study(), CYCLE, "6 min", "10 min")
    assert pickle.loads(pickle.dumps(found)) == found


def test_who_is_told_may_give_it_up() -> None:
    class Enough(Exception):
        pass

    seen = []

    def told(done: int, of: int) -> None:
        seen.append((done, of))
        if done == 1:
            raise Enough

    with pytest.raises(Enough):
        vary(study(), "today", CYCLE, ["9 min", "10 min", "11 min"], Memory(), told)
    assert seen == [(0, 3), (1, 3)]


# --- where output grows no more ---------------------------------------------------------


def circle(delay: str) -> Draft:
    """A cut of 600 s and a visit of 240 s; every piece then waits for its release."""
    part = (
        'cycle = "600 s"',
        'load = "64 s"',
        'unload = "128 s"',
        "batch = 1",
        f'first_piece = "{delay}"',
        'first_piece_every = "order"',
        "weekly = 5000",
    )
    lines = ("[scenario.today.handling]", 'walk = "48 s"')
    return read_text(
        "\n".join((HEAD + "\n".join(part), *lines)).replace(
            "count = 1", 'count = 1\npallet_change = "0 s"'
        )
    )


@pytest.mark.outside("Denning & Buzen 1978: pallets at which the bounds meet")
@pytest.mark.parametrize(("delay", "knee"), first_of([("1500 s", 4), ("1560 s", 4), ("1620 s", 5)]))
@pytest.mark.long
def test_pallets_stop_paying_where_the_bounds_of_closed_queues_meet(delay: str, knee: int) -> None:
    """min(1 / 600, N / (600 + 240 + Z)) a second, so from N = (840 + Z) / 600 on nothing more.

    Asymptotic bounds: Denning & Buzen, ACM Computing Surveys 10 (1978) 225-261, from memory.
    """
    found = curve(circle(delay), PALLETS, *(str(n) for n in range(1, 9)))
    assert found.knee is not None
    assert found.points[found.knee].value.number == knee
    assert (
        f"Saleable output grows no more from pallets each {knee} on, tried up to 8: no larger value"
        in curve_sentences(found)[0]
    )


@pytest.mark.long
def test_smaller_is_better_for_a_time_and_demand_is_met_going_down() -> None:
    """720 wanted, and 14 min a piece make just so many with a cycle of 10 min."""
    draft = study(part=('cycle = "10 min"', 'load = "2 min"', "weekly = 720"))
    found = curve(draft, CYCLE, "8 min", "9 min", "10 min", "11 min", "12 min")
    assert (found.better, found.knee, found.met) == (-1, 2, 2)
    assert (
        "Saleable output grows no more from 10 min down, tried down to 8 min: no smaller value"
        in curve_sentences(found)[0]
    )
    assert curve_sentences(found)[1] == "The demand of every part is met from 10 min down."
    # Where a smaller one may bring a point more, it is not said to stop.
    assert replace(found, beyond=0.99).stops_paying
    assert not replace(found, beyond=1.0).stops_paying
    assert "grows no more" not in curve_sentences(replace(found, beyond=1.0))[0]


@pytest.mark.long
def test_a_curve_that_is_drawn_higher_beyond_is_not_said_to_grow_no_more() -> None:
    """It said "grows no more from 3 on" over a line that stepped up at 4."""
    draft = study(part=('cycle = "10 min"', 'load = "2 min"', "weekly = 720"))
    found = curve(draft, CYCLE, "8 min", "9 min", "10 min", "11 min", "12 min")
    knee = found.points[2].outcome
    assert knee.gains.saleable is not None
    higher = knee.gains.saleable + 0.8
    stepped = replace(
        found,
        points=tuple(
            replace(
                each,
                outcome=replace(
                    each.outcome, gains=replace(each.outcome.gains, saleable=higher), itself=None
                ),
            )
            if place == 0
            else each
            for place, each in enumerate(found.points)
        ),
    )
    assert curve_sentences(stepped)[0] == (
        "No smaller value than 10 min clearly brings more, tried down to 8 min: that 8 min is "
        "drawn 0.8 points above it is no clear difference."
    )
    assert "no clear gain beyond" in marks(stepped, 2)
    assert "output grows no more" in marks(found, 2)


def test_it_still_pays_at_the_end_of_the_range() -> None:
    found = curve(study(), CYCLE, "9 min", "10 min", "11 min")
    assert (found.better, found.knee) == (-1, None)
    assert curve_sentences(found)[0].startswith(
        "Saleable output is largest at 9 min, the smallest value tried"
    )
    assert "nearest is 9 min" in curve_sentences(found)[1]
    # One that does not fit is made with none of them, and then none is nearest.
    none = replace(
        found,
        points=tuple(
            replace(each, outcome=replace(each.outcome, least_met=0.0)) for each in found.points
        ),
    )
    assert curve_sentences(none)[1] == "With no value tried, 9 to 11 min, is every part made."


def with_gains(found: Curve, *gains: tuple[float, tuple[float, float, float]]) -> Curve:
    """The same curve with other gains and ranges, value by value."""
    points = tuple(
        replace(
            point,
            outcome=replace(
                point.outcome, gains=replace(point.outcome.gains, saleable=gain), likely=likely
            ),
        )
        for point, (gain, likely) in zip(found.points, gains, strict=True)
    )
    return replace(found, points=points)


def test_what_brings_most_output_need_not_pay() -> None:
    """It read "still pays" over a row that loses against the reference."""
    child = study(*CHILD, "part.body.load = '9 min'")
    found = curve(child, CYCLE, "9 min", "10 min", scenario="child")
    worse = with_gains(found, (-9.0, (-11.0, -9.0, -8.0)), (-4.0, (-5.0, -4.0, -3.0)))
    assert curve_sentences(worse)[0] == (
        "Saleable output is largest at 9 min, the smallest value tried: each of the others brings "
        "less; against Today with the same value that is -9 %."
    )
    unclear = with_gains(found, (4.0, (-6.0, 4.0, 8.0)), (-9.0, (-11.0, -9.0, -8.0)))
    assert (
        "; against Today with the same value that is no clear difference."
        in curve_sentences(unclear)[0]
    )


def test_a_gain_as_typed_outside_its_own_range_does_not_lead() -> None:
    found = curve(study(), CYCLE, "9 min", "10 min")
    odd = with_gains(found, (9.0, (2.0, 3.0, 4.0)), (0.0, (0.0, 0.0, 0.0)))
    assert gain_in_short(odd.points[0].outcome) == "+3.0"
    text = WRITERS["text"](curve_report(odd))
    assert "as typed +9.0 %" in text
    assert "; moved in Today, against itself as it stands" in text.split("\n\n")[0].replace(
        "\n  ", " "
    )


def test_demand_that_the_draws_do_not_tell_apart_is_not_lost() -> None:
    """100 are wanted and 99 made with two pallets, but 105 in draws in which more are wanted."""
    part = ('cycle = "10 min"', 'load = "2 min"', "weekly = 100")
    memory = Memory()

    def found(more: int) -> Curve:
        def simulate(cell: Cell, warm_up: int, weeks: int) -> Tally:
            tally = memory(replace(cell, groups=()), warm_up, weeks)
            made = more if cell.parts[0].weekly > 100 else 99
            return replace(tally, cut=(weeks * (100 if cell.groups[0].pallets == 1 else made),))

        return vary(draft, "today", PALLETS, ("1", "2"), simulate, silent)

    draft = study(part=part).with_head("accuracy", "10 %")
    told, untold = found(99), found(105)
    assert (told.met, told.unmet, untold.met, untold.unmet) == (0, (1,), 0, ())
    first = "The demand of every part is first met at 1"
    no_more = "The demand of every part is met at 1, and no more from 2 on."
    assert no_more in curve_sentences(told)
    # An owner did not believe that a longer day loses a demand, by 0.1 %.
    one, two = told.points
    nearly = replace(two, outcome=replace(two.outcome, least_met=99.9))
    trifle = "no more from 2 on: nearly all, and work in hand as the weeks end may be the rest."
    said = curve_sentences(replace(told, points=(one, nearly)))
    assert any(text.endswith(trifle) for text in said)
    assert f"{first}." in curve_sentences(untold)
    open_ = replace(untold, met_is_clear=False)
    assert any(text.startswith(f"As entered t{first[1:]}; the") for text in curve_sentences(open_))


def test_what_changes_nothing_is_no_difference() -> None:
    found = curve(study(), ("shift", "all", "people"), "1", "2", "3")
    assert (found.knee, found.met) == (None, None)
    assert curve_sentences(found)[0] == (
        "No value tried, 1 to 3, makes a difference in saleable output."
    )


@pytest.mark.long
def test_steps_smaller_than_what_is_known_are_not_lost_when_they_add_up() -> None:
    """A step of 20 s is less than the likely range of a cycle of its own, and twenty are more."""
    draft = study(*CHILD, 'part.body.cycle = "9 min"').with_head("accuracy", "10 %")
    seconds = [f"{n} s" for n in range(200, 601, 20)]
    found = curve(draft, CYCLE, *seconds, scenario="child")
    assert found.better == -1
    first, second = (point.outcome for point in found.points[:2])
    assert first.gains.saleable is not None
    assert second.gains.saleable is not None
    assert first.likely is not None
    assert first.gains.saleable - second.gains.saleable < first.likely[2] - first.likely[0]
    # The same draws on both sides tell each step, so that the least still pays.
    assert found.knee is None
    assert curve_sentences(found)[0].startswith("Saleable output is largest at 200 s")


@pytest.mark.long
def test_fewer_seeded_runs_are_used_where_all_would_take_long_and_it_is_said(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Two values over a week, for which there is time to run each twice."""
    monkeypatch.setattr(changing, "MOST_WEEKS", 2 * 1 * 2)
    stop = ("[scenario.today.stop.chips]", 'every = "8 h"', 'repair = "20 min"')
    found = curve(study(*stop), CYCLE, "8 min", "9 min")
    assert (found.asked.runs, found.asked.of_runs) == (2, 3)
    assert curve_sentences(found)[-1] == (
        "It rests on 1 week, means of 2 seeded runs of the study's 3, and likely ranges on 3 draws."
    )


def test_values_may_come_in_any_order() -> None:
    found = curve(study(), PALLETS, "2", "1")
    assert (found.better, found.knee) == (-1, None)
    assert curve_sentences(found)[0].startswith(
        "Saleable output is largest at pallets each 2, the largest value tried"
    )


def test_the_first_value_may_be_as_good_as_any() -> None:
    """720 are wanted: 6 and 8 min make them, 12 min does not."""
    draft = study(part=('cycle = "10 min"', 'load = "2 min"', "weekly = 720"))
    found = curve(draft, CYCLE, "6 min", "12 min", "8 min")
    assert (found.better, found.knee) == (1, 0)
    assert curve_sentences(found)[0] == (
        "As good as any is 6 min, tried up to 8 min: no larger value brings more."
    )
    assert curve_sentences(found)[1] == (
        "The demand of every part is met from 8 min on. At 6 min it is met too, but fails at "
        "12 min."
    )


@pytest.mark.long
def test_a_word_in_the_place_of_a_number_is_what_holds_now() -> None:
    draft = study("[scenario.today.unattended]", 'after_shift = "until done"')
    found = curve(draft, ("unattended", "after_shift"), "1 h", "2 h")
    assert (found.varied.now_value, found.varied.now_text) == (None, "until done")
    assert "as it stands (until done, entered)." in " ".join(curve_sentences(found))


@pytest.mark.parametrize(
    ("met", "is_met"), [(99.0, False), (99.94, False), (99.96, True), (100.0, True), (None, False)]
)
def test_demand_is_met_where_it_reads_as_a_hundred_percent_and_not_a_little_below(
    met: float | None, is_met: bool
) -> None:
    assert all_met(Outcome(least_met=met)) is is_met


def test_demand_of_which_a_hundredth_lacks_is_not_met() -> None:
    """A piece in 14 min: 712.8 of 720 wanted are 99 %, with a cycle of 10.14 min."""
    draft = study(part=('cycle = "10 min"', 'load = "2 min"', "weekly = 720"))
    found = curve(draft, CYCLE, "608.5 s", "10 min")
    assert [point.outcome.least_met for point in found.points] == pytest.approx([99, 100], abs=0.15)
    assert found.met == 1


# --- what cannot be told ----------------------------------------------------------------


@pytest.mark.long
def test_where_the_likely_range_leaves_open_what_more_brings_nothing_is_said_to_stop() -> None:
    """Told of what is flat; the same draws on both sides tell much that a gain would not."""
    draft = study(*CHILD, 'part.body.cycle = "9 min"').with_head("accuracy", "40 %")
    draft = draft.with_head("warm_up", 1)
    found = curve(draft, ("handling", "walk"), "60 s", "66 s", scenario="child")
    # The same draws on both sides tell six seconds more of each visit from none.
    assert not found.is_flat
    assert (found.better, found.knee) == (-1, None)
    found = replace(found, is_flat=True)
    assert not [mark for place in range(2) for mark in marks(found, place) if mark == "stops"]
    assert curve_sentences(found)[0] == (
        "What the values tried, 60 to 66 s, change in saleable output cannot be told from the "
        "likely range."
    )


# --- times of day and what is said ------------------------------------------------------

END: Path = ("shift", "late", "end")
LATE = (
    "[scenario.today.shift.late]", 'days = ["mon", "tue"]', 'start = "14:00"', 'end = "22:00"',
    *CHILD, "shift.all.people = 0", 'shift.late.end = "18:00"', "part.body.weekly = 50",
)  # fmt: skip
"""The child works 4 h on two days: about 17 pieces a day of 14 min, where 25 are wanted."""


def test_how_much_longer_a_shift_has_to_be_is_a_curve_over_its_end() -> None:
    found = curve(study(*LATE), END, "18:00", "19:00", "20:00", "21:00", scenario="child")
    assert found.varied.moved is Moved.ALONE
    assert found.varied.now_value == Value("18:00", 18.0, "o'clock")
    pieces = [point.outcome.pieces["body"] for point in found.points]
    # The piece that is begun is finished, and taken off when somebody is there again.
    assert pieces == pytest.approx([2 * 240 / 14, 2 * 300 / 14, 2 * 360 / 14, 2 * 420 / 14], abs=2)
    assert found.met == 2
    assert "The demand of every part is met from 20:00 on." in curve_sentences(found)


def test_an_end_at_or_before_the_start_is_the_next_days() -> None:
    one = find_input(study(*LATE), "child", END)
    assert read_range(one, "22:00..02:00..2 h")[1] == ("22:00", "00:00", "02:00")
    assert one.value("2:00") == Value("02:00", 26.0, "o'clock")
    assert usual_span(one).values[-2:] == ("23:00", "00:00")
    with refusing('"late" cannot be read; write "22:00"'):
        read_range(one, "late..23:00")


def test_what_is_said_is_an_input_of_what_is_said() -> None:
    """24 h x 50 % are 12 h a day, which nothing simulated has to do with."""
    path: Path = ("said", "with_people", "cutting")
    found = curve(study(), path, "50 %", "100 %")
    said = [point.outcome.said for point in found.points]
    assert [one.hours_per_day for one in said if one is not None] == [12, 24]
    assert curve_sentences(found)[0] == "What is said moves nothing that is simulated."
    assert measures(found)[0].name == "hours that are said"


# --- two inputs -------------------------------------------------------------------------


@pytest.mark.long
def test_a_grid_has_the_answers_of_both() -> None:
    memory = Memory()
    draft = study(*CHILD, 'part.body.cycle = "8 min"', 'handling.walk = "2 min"')
    walk: Path = ("handling", "walk")
    found = grid(draft, "child", CYCLE, ["6 min", "10 min"], walk, ["0 s", "1 min", "2 min"],
                 memory, silent)  # fmt: skip
    pieces = [[one.pieces["body"] for one in row] for row in found.outcomes]
    expected = [[a_week(c + w + 3) for w in (0, 1, 2)] for c in (6, 10)]
    assert pieces == [pytest.approx(row, abs=1) for row in expected]
    assert found.best == (0, 0)
    assert [value.text for value in found.values_across] == ["0 s", "1 min", "2 min"]
    single = curve(draft, CYCLE, "6 min", scenario="child").points[0].outcome
    assert found.outcomes[0][2] == single
    assert pickle.loads(pickle.dumps(found)) == found


def test_a_grid_of_one_input_is_refused() -> None:
    with refusing("two different inputs"):
        grid(study(), "today", CYCLE, ["6 min"], CYCLE, ["7 min"], Memory(), silent)


# --- what can be asked ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("scenario", "key", "said"),
    [
        ("toady", "handling.walk", "There is no scenario toady. Did you mean today?"),
        ("today", "handling.wlk", "There is no key handling.wlk. Did you mean handling.walk?"),
        ("today", "machine.mil.count", "Did you mean machine.mill.count?"),
        ("today", "stop.jam.every", "There is no stop jam in Today. It has no stop"),
        ("today", "machine.mill.table", "machine.mill.table is not one number"),
        ("today", "shift.all.days", "shift.all.days is not one number"),
        ("today", "weeks", "weeks holds for the whole study"),
    ],
)
def test_what_is_no_numeric_input_is_told_with_the_nearest(
    scenario: str, key: str, said: str
) -> None:
    with refusing(said):
        find_input(study(), scenario, tuple(key.split(".")))


def test_no_value_at_all_is_told() -> None:
    with refusing("No value is named"):
        curve(study(), CYCLE)


def test_a_study_with_problems_is_to_be_mended_first() -> None:
    with refusing("mend it first"):
        curve(study("scrap = 3"), CYCLE, "9 min")


def test_a_scenario_without_parts_has_nothing_to_vary() -> None:
    bare = read_text("format = 1\n[scenario.bare]\nmachine.mill.count = 2\n")
    with refusing("bare has no parts"):
        curve(bare, ("machine", "mill", "count"), "1", scenario="bare")


@pytest.mark.parametrize(
    ("key", "text", "values"),
    [
        ("machine.mill.pallets", "1..5", "1 2 3 4 5"),
        ("machine.mill.pallets", "1..9..3", "1 4 7"),
        ("machine.mill.pallets", "1..41", "1 6 11 16 21 26 31 36 41"),
        ("part.body.cycle", "5 min..15 min..5 min", "5 min|10 min|15 min"),
        ("part.body.cycle", "5..7 min..1", "5 min|6 min|7 min"),
        ("part.body.cycle", "1 h..2 h..20 min", "60 min|80 min|100 min|120 min"),
        ("part.body.cycle", "30 s..1 min..10 s", "30 s|40 s|50 s|60 s"),
        ("part.body.cycle", "0.5 h..1 h..0.25 h", "0.5 h|0.75 h|1 h"),
        ("machine.mill.work_height", "10 in..11 in..1/2 in", "10 in|10.5 in|11 in"),
        ("part.body.scrap", "0 %..2 %..0.5 %", "0 %|0.5 %|1 %|1.5 %|2 %"),
        ("machine.mill.price", "1000..3000..1000", "1000 2000 3000"),
        ("part.body.mass", "1 kg..2 kg..0.5 kg", "1 kg|1.5 kg|2 kg"),
    ],
)
def test_ranges_are_stepped_through_in_the_unit_that_was_typed(
    key: str, text: str, values: str
) -> None:
    one = find_input(study(), "today", tuple(key.split(".")))
    _, texts = read_range(one, text)
    assert list(texts) == (values.split("|") if "|" in values else values.split())


@pytest.mark.parametrize("text", ["5 min..15 min", "1..3 h", "10 s..7 min", "0.1 min..9.3 min"])
def test_a_range_without_a_step_has_about_ten_round_ones(text: str) -> None:
    one = find_input(study(), "today", CYCLE)
    one, texts = read_range(one, text)
    amounts = [one.read(each) for each in texts]
    begin, end = text.split("..")
    unit = end.split()[-1]
    assert amounts[0] == one.read(begin if " " in begin else f"{begin} {unit}")
    assert amounts[-1] == one.read(end)
    assert 5 <= len(texts) <= 12


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1", "is no range"),
        ("1..", "is no range"),
        ("1..2..3..4", "is no range"),
        ("8..1", "goes down"),
        ("3..3", "only one value"),
        ("1..x", '"x" cannot be read; write a plain number'),
        ("1.5..4", "goes in whole numbers"),
        ("1..4..0.5", "goes in whole numbers"),
        ("1..4..0", "the step must be above 0"),
        ("1..900..1", "at most 200 are tried"),
    ],
)
def test_a_range_that_makes_no_sense_is_told(text: str, said: str) -> None:
    with pytest.raises(Unanswerable) as fault:
        read_range(find_input(study(), "today", PALLETS), text)
    assert said in refusal_words(fault.value)


def test_a_time_without_any_unit_is_told_how_to_write_it() -> None:
    with refusing('"5" cannot be read; write "5 min" or "5 h"'):
        read_range(find_input(study(), "today", CYCLE), "5..15")


# --- where the reference moves too --------------------------------------------------------

PEOPLE: Path = ("shift", "all", "people")


def quicker_loads() -> Draft:
    """Three tables whose visits take most of a person: 8 min to load, 2 min in the child."""
    draft = study(*CHILD, 'part.body.load = "2 min"')
    today = draft.scenario("today").having(("part", "body", "load"), "8 min")
    return draft.with_scenario(today.having(("machine", "mill", "count"), 3))


def test_what_is_best_goes_by_own_output_where_the_reference_moves_too() -> None:
    """Quick loads gain most where one person is short; nobody makes more with one person."""
    found = curve(quicker_loads(), PEOPLE, "1", "2", "3", scenario="child")
    gains = [point.outcome.gains.saleable or 0 for point in found.points]
    own = [point.outcome.itself or 0 for point in found.points]
    assert gains[0] > gains[2]
    assert own[0] < own[2]
    # With what holds now both are the same: the gain that the strip shows.
    assert own[0] == pytest.approx(gains[0])
    assert found.better == 1
    assert curve_sentences(found)[0].startswith("Saleable output ")
    assert (
        "What brings most is told by the saleable output of Child over that of Today as it "
        "stands; gains are over Today with the same value."
    ) in curve_sentences(found)
    drawn = [measure.name for measure in measures(found)]
    assert drawn[:2] == ["saleable output over Today as it stands", "saleable gain"]
    text = WRITERS["text"](curve_report(found))
    assert "output %" in text


def test_a_pair_is_no_best_one_for_having_left_the_reference_less() -> None:
    people = ("1", "2", "3")
    found = grid(quicker_loads(), "child", PEOPLE, people, PALLETS, ("1", "2"), Memory(), silent)
    assert found.best is not None
    most = max(outcome.itself or 0 for line in found.outcomes for outcome in line)
    best = found.outcomes[found.best[0]][found.best[1]]
    assert best.itself == pytest.approx(most, abs=0.1)
    largest_gain = max(
        (outcome.gains.saleable or 0, row)
        for row, line in enumerate(found.outcomes)
        for outcome in line
    )
    assert largest_gain[1] == 0 != found.best[0]
    assert "over Today as it stands" in grid_lead(found)
    assert grid_text(best) == f"{most:+.0f}"


def test_longer_cycles_are_no_more_output_for_being_worth_more_minutes() -> None:
    """Output is told in cycle minutes: a piece is worth what it is as it stands."""
    found = curve(study(*CHILD), CYCLE, "9 min", "10 min", "20 min", scenario="child")
    assert found.better == -1
    own = [point.outcome.itself or 0 for point in found.points]
    assert own[0] > 0
    assert own[2] < own[1]


def test_what_the_scenario_alone_holds_is_told_by_its_gain() -> None:
    found = curve(quicker_loads(), ("part", "body", "load"), "2 min", "3 min", scenario="child")
    assert {point.outcome.itself for point in found.points} == {None}
    assert not any("What brings most" in text for text in curve_sentences(found))


def test_what_is_said_of_a_curve_agrees_with_the_figures_beside_it() -> None:
    """It read "both 1 and 3 bring less" above rows of which one reads as much."""
    found = curve(
        study(*CHILD, 'part.body.load = "1 min"'), PALLETS, "1", "2", "3", scenario="child"
    )
    peak = replace(found, knee=1, beyond=0.0, falls=True, rises=True, is_flat=False, better=1)

    def first(*gains: float) -> str:
        told = with_gains(peak, *((gain, (gain, gain, gain)) for gain in gains))
        return curve_sentences(replace(told, points=tuple(map(_alone, told.points))))[0]

    assert first(40.0, 50.0, 45.0) == (
        "Saleable output is largest at pallets each 2, tried from 1 to 3: both ends bring less."
    )
    # 50.04 and 50.01 both read 50.0.
    assert "bring less" not in first(40.0, 50.04, 50.01)
    assert "less again" not in first(40.0, 50.04, 50.01)
    assert "bring less" not in first(50.01, 50.04, 45.0)
    assert "largest" not in first(40.0, 50.0, 55.0)
    begun = replace(peak, knee=0, rises=False, falls=False)
    told = with_gains(begun, *((gain, (gain, gain, gain)) for gain in (50.0, 49.0, 50.6)))
    told = replace(told, points=tuple(map(_alone, told.points)))
    assert curve_sentences(told)[0] == (
        "As good as any is pallets each 1, tried up to 3: no larger value clearly brings more."
    )


def _alone(point: Point) -> Point:
    """As if the scenario alone held what is moved."""
    return replace(point, outcome=replace(point.outcome, itself=None, likely_itself=None))


@pytest.mark.parametrize(
    ("values", "untried"),
    [
        ("1 2 4 6", " (5 is not among the values)"),
        ("1 2 4 8", " (5 to 7 are not among the values)"),
        ("1 2 3 4", ""),
    ],
)
def test_counts_before_the_one_that_meets_demand_are_named_where_they_were_not_tried(
    values: str, untried: str
) -> None:
    """The curve said "first met at 6" and a table over every count 5."""
    texts = values.split()
    found = curve(study(*CHILD), PALLETS, *texts, scenario="child")
    points = tuple(
        replace(point, outcome=replace(point.outcome, least_met=share))
        for point, share in zip(found.points, (90.0, 97.0, 98.0, 100.0), strict=True)
    )
    told = replace(found, points=points, better=1, met=3, met_is_clear=True, unmet=())
    first = f"irst met at {texts[-1]}{untried}"
    assert any(f"f{first}." in text for text in curve_sentences(told))
    open_ = replace(told, met_is_clear=False)
    assert any(f"f{first};" in text for text in curve_sentences(open_))


def test_a_row_that_reads_as_less_than_all_is_not_passed_over() -> None:
    """It read "met from 5 on. At 2 it is met too, but fails at 3" beside 99.7 % at 4."""
    found = curve(study(*CHILD), PALLETS, "1", "2", "3", "4", "5", scenario="child")
    met = (90.0, 101.0, 98.0, 99.7, 100.0)
    points = tuple(
        replace(point, outcome=replace(point.outcome, least_met=share))
        for point, share in zip(found.points, met, strict=True)
    )
    told = replace(found, points=points, better=1, met=1, met_is_clear=True, unmet=(2,))
    assert (
        "The demand of every part is met from 5 on. At 2 it is met too, but fails at 3, and "
        "whether at 4 cannot be told from the likely range."
    ) in curve_sentences(told)
