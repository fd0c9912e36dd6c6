"""Inputs a tenth up and down: sign, rank, what is assumed, what is no difference."""

from __future__ import annotations

import pickle
import re
from collections.abc import Iterable
from dataclasses import replace

import pytest
from moving_studies import CHILD, ONE_TABLE, a_week, silent, study
from refusals import refusing
from typing_extensions import override

from whatif.answers.moves.changing import Attempt, Trials
from whatif.answers.moves.held import Moved, held, taking
from whatif.answers.moves.inputs import Value
from whatif.answers.moves.sensitivity import Effect, MovedBy, Ranking, Side, sensitivity
from whatif.answers.moves.trial import change_of, saleable_gain
from whatif.answers.moves.vary import vary
from whatif.answers.simulate import WindowAsked
from whatif.cell.model import Cell
from whatif.cell.tally import Tally
from whatif.plan.build import is_in_money, plans_of
from whatif.reports.moves import ranking_report
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.remembering import Remembering
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.telling.moves.ranking import (
    effect_words,
    moved_by,
    output_beside,
    pull,
    ranking_lead,
    ranking_sentences,
    ranking_signs,
    side_text,
)
from whatif.telling.sources import input_source_words, source_words


def ranking(draft: Draft, scenario: str = "today") -> Ranking:
    return sensitivity(draft.with_head("warm_up", 1), scenario, Memory(), silent)


def effects(found: Ranking) -> dict[str, Effect]:
    return {one.input.dotted: one for one in found.effects}


def change(side: Side | None) -> float:
    assert side is not None
    assert side.change is not None
    return side.change


@pytest.fixture(scope="module")
def table() -> Ranking:
    """14 min a piece: 10 cycle, 2 load, 1 walk, 1 unload; a tenth of each is so much of 14."""
    return ranking(study())


@pytest.mark.parametrize(
    ("key", "minutes"),
    [
        ("part.body.cycle", 1.0),
        ("part.body.load", 0.2),
        ("part.body.unload", 0.1),
        ("handling.walk", 0.1),
    ],
)
@pytest.mark.long
def test_a_tenth_of_a_time_is_its_share_of_the_minutes_a_piece(
    table: Ranking, key: str, minutes: float
) -> None:
    one = effects(table)[key]
    # A week holds 720 whole pieces.
    assert change(one.down) == pytest.approx(100 * (14 / (14 - minutes) - 1), abs=100 / 720)
    assert change(one.up) == pytest.approx(100 * (14 / (14 + minutes) - 1), abs=100 / 720)
    assert one.down is not None
    assert one.down.is_difference
    assert one.most == abs(change(one.down))


def test_what_moves_most_is_first_and_the_rest_follows(table: Ranking) -> None:
    most = [one.most for one in table.effects]
    assert most == sorted(most, reverse=True)
    keys = [one.input.dotted for one in table.effects if one.step is not MovedBy.TRIED]
    # A second machine doubles, a second pallet hides the visit: 14 min become 10.5.
    assert keys[:3] == ["machine.mill.count", "machine.mill.pallets", "part.body.cycle"]
    pallets = effects(table)["machine.mill.pallets"]
    assert change(pallets.up) == pytest.approx(100 * (14 / 10.5 - 1), abs=0.2)
    assert keys.index("part.body.load") < keys.index("handling.walk")
    # Half an hour less of a week of 168 h is 0.3 %, but the shift ends seven times a week: 2.1 %.
    assert keys[3:7] == ["shift.all.end", "part.body.load", "handling.walk", "part.body.unload"]


def test_assumed_inputs_are_marked_and_named(table: Ranking) -> None:
    found = effects(table)
    assumed = {key for key, one in found.items() if one.input.origin.is_assumed}
    assert {"handling.walk", "part.body.unload", "machine.mill.pallets"} <= assumed
    assert not {"part.body.load", "part.body.cycle", "machine.mill.count"} & assumed
    (said,) = [text for text in ranking_sentences(table) if text.startswith("Only assumed")]
    assert said.startswith("Only assumed, and it matters: pallets each, other duties, scrap, walk ")


def test_what_nobody_has_said_is_tried_at_values_that_a_shop_may_have(table: Ranking) -> None:
    """4 min a visit are 4.44 min with other duties of 10 %; scrap of 2 % is as many fewer."""
    found = effects(table)
    duties, scrap = found["handling.other_duties"], found["part.body.scrap"]
    assert (duties.step, duties.down, duties.up and duties.up.value.text) == (
        MovedBy.TRIED, None, "10 %",
    )  # fmt: skip
    assert change(duties.up) == pytest.approx(100 * (14 / (10 + 4 / 0.9) - 1), abs=0.15)
    assert change(scrap.up) == pytest.approx(-2)
    batch = found["part.body.batch"]
    assert [side and side.value.text for side in (batch.down, batch.up)] == ["10", "40"]
    for key in ("bench", "setup", "prove_out", "first_piece", "numbers", "tool_life"):
        assert found[f"part.body.{key}"].step is MovedBy.TRIED
    # There is one table, so one fixture is all that may be held.
    assert "part.body.fixtures" not in found


@pytest.mark.long
def test_fixtures_that_nobody_has_counted_are_tried_at_half_as_many() -> None:
    """One fixture for four pallets lets one of them be loaded, and the spindle waits for it."""
    found = effects(ranking(study(*CHILD, "machine.mill.pallets = 4", days='["mon"]'), "child"))
    fixtures = found["part.body.fixtures"]
    assert fixtures.down is None
    assert fixtures.up is not None
    assert fixtures.up.value.text == "2"
    assert fixtures.input.now_text == ""


@pytest.mark.long
def test_that_the_setter_stays_is_tried_where_there_are_prove_outs_and_he_does_not() -> None:
    """Two pallets: he sets up the second one before he proves the first, or stays for that."""
    part = (*ONE_TABLE, 'setup = "2 h"', 'prove_out = "5 min"', "numbers = 9", "batch = 2")
    lines = ("machine.mill.pallets = 2", 'handling.walk = "1 min"')
    draft = study(*CHILD, *lines, part=part, days='["mon"]')
    one = effects(ranking(draft, "child"))["handling.setter_stays"]
    assert (one.step, one.down, one.input.now_text) == (MovedBy.TRIED, None, "no")
    assert one.up is not None
    assert one.up.value.text == "yes"
    stays = study(*CHILD, *lines, "handling.setter_stays = true", part=part, days='["mon"]')
    assert change(one.up) > 1
    assert "handling.setter_stays" not in effects(ranking(stays, "child"))
    assert "handling.setter_stays" not in effects(ranking(study()))


@pytest.mark.long
def test_who_releases_first_pieces_is_tried_where_somebody_waits_for_it() -> None:
    late = ("[scenario.today.shift.late]", 'days = ["mon"]', 'start = "00:00"', 'end = "12:00"')
    part = (*ONE_TABLE, 'first_piece = "30 min"', "batch = 5", 'first_piece_every = "order"')
    one = effects(ranking(study(*late, part=part, days='["mon", "tue"]')))["shift.all.does"]
    assert (one.step, one.up) == (MovedBy.TRIED, None)
    assert one.down is not None
    assert one.down.value.text == "without release"
    assert change(one.down) < -50  # releases in 12 h of two days only
    assert "shift.all.does" not in effects(ranking(study(*late, days='["mon"]')))


# --- in both, or alone ------------------------------------------------------------------


@pytest.mark.long
def test_what_both_take_from_one_place_moves_in_both() -> None:
    """Two pieces a visit spare half a walk: with longer ways the child gains, and does not lose.

    Today (10 + 2 + 1 + 1) = 14 min a piece, the child (20 + 4 + 2 + 1) / 2 = 13.5 min; with a walk
    of 1.1 min 14.1 and 13.55 min. In the child alone the gain would have fallen.
    """
    found = effects(ranking(study(*CHILD, "part.body.per_pallet = 2"), "child"))
    walk = found["handling.walk"]
    assert walk.input.moved is Moved.BOTH
    points = 100 * (14.1 / 13.55 - 14 / 13.5)
    assert change(walk.up) == pytest.approx(points, abs=200 / 720)  # pieces come in pairs
    assert change(walk.up) > 0 > change(walk.down)
    own = found["part.body.per_pallet"]
    assert own.input.moved is Moved.ALONE


@pytest.mark.long
def test_an_input_of_both_tells_what_it_moves_in_the_scenario_itself() -> None:
    """The child is today with another walk of 0: the cycle of 10 of 13 min moves both."""
    found = ranking(study(*CHILD, 'handling.walk = "0 min"'), "child")
    cycle = effects(found)["part.body.cycle"]
    assert cycle.up is not None
    assert cycle.up.itself == pytest.approx(100 * (14 / 14 - 14 / 13), abs=0.2)
    over = r"over Today as it stands \(now \+7\.6 %\)\."
    told = effect_words(found, cycle)
    assert "cycle, inherited from Today, so changed in both, now 10 min" in told
    assert re.search(rf"Child itself then makes \S+ % at 9 min and 0 % at 11 min {over}$", told)
    same_as_now = replace(cycle.up, over_now=7.7, itself=0.0)
    still = replace(cycle, down=None, up=same_as_now)
    assert "itself" not in effect_words(found, still)
    assert output_beside(cycle) == ""
    # More people may help the reference more: nobody makes less for it.
    more = replace(cycle.up, change=-25.7, likely=None, itself=24.9, is_difference=True)
    told = effect_words(found, replace(cycle, down=None, up=more))
    assert "at 11 min the gain falls by 26 points, as the output of Today rises more." in told
    less = replace(more, change=5.8, itself=0.2)
    told = effect_words(found, replace(cycle, down=None, up=less))
    assert "at 11 min the gain rises by 5.8 points, as the output of Today falls." in told
    assert output_beside(replace(cycle, down=None, up=more)) == "output: more +25"
    itself = re.compile(r"Child itself then makes \S+ % at 11 min \(25 points more\) over Today ")
    assert itself.search(effect_words(found, replace(cycle, down=None, up=more)))
    # What reads as nothing goes no other way, and is no side to be told of.
    none = replace(more, itself=0.4)
    assert output_beside(replace(cycle, down=None, up=none)) == ""
    assert output_beside(replace(cycle, down=replace(none, change=1.0), up=more)) == (
        "output: more +25"
    )
    # Both make nearly nothing then: that the gain is not clear tells nothing of that.
    nearly_none = replace(more, change=-3.0, itself=-95.0, likely=(-60.0, 1.0, 4.0))
    untold = replace(nearly_none, is_difference=False)
    falls = replace(more, change=-63.0, itself=-63.0)
    both = replace(cycle, down=untold, up=falls)
    assert output_beside(both) == "output: less -95, more -63"
    assert "(95 points less)" in effect_words(found, both)
    within = replace(cycle, down=replace(untold, itself=-5.0), up=falls)
    assert output_beside(within) == ""
    alone = replace(cycle.input, moved=Moved.ALONE)
    assert output_beside(replace(cycle, input=alone, up=more)) == ""
    same = ranking(study(*CHILD), "child")
    told = output_beside(effects(same)["part.body.cycle"])
    assert told == "output: less +8, more -7"
    assert (
        "the gain does not show what Child itself makes, as Today changes too."
        in (ranking_signs(same)[1])
    )
    assert len(ranking_signs(replace(same, effects=()))) == 1


@pytest.mark.long
def test_what_a_list_says_that_a_scenario_makes_is_what_its_curve_says() -> None:
    """The list told it over the scenario as it stands, the curve over the reference: 92 and 91."""
    draft = study(*CHILD, "part.body.per_pallet = 2").with_head("warm_up", 1)
    walk = effects(ranking(draft, "child"))["handling.walk"]
    assert walk.up is not None
    text = walk.up.value.text
    found = vary(draft, "child", walk.input.path, [text], Memory(), silent)
    assert walk.up.over_now == pytest.approx(found.points[0].outcome.itself)
    assert walk.up.over_now != pytest.approx(walk.up.itself or 0.0, abs=1)


def test_where_a_change_lies_outside_its_range_the_middle_of_that_leads_in_the_list_too() -> None:
    """The list said -8 beside "likely -13 to -11 points (as typed -8)"."""
    side = Side(Value("5", 5.0, ""), -8.0, (-13.0, -12.0, -11.0), True, None)
    assert (side.leading, side_text(side), pull(side)) == (-12.0, "-12", -12.0)
    inside = replace(side, change=-11.5)
    assert (inside.leading, side_text(inside), pull(inside)) == (-11.5, "-12", -11.5)
    found = ranking(study(*CHILD), "child")
    effect = replace(found.effects[0], down=None, up=side)
    told = effect_words(found, effect)
    assert "changes by likely -13 to -11 points, in the middle of 3 draws -12 (as typed -8)" in told


def test_rules_of_the_shops_own_follow_what_is_measured_or_bought() -> None:
    found = ranking(study(*CHILD, "machine.mill.pallets = 4", days='["mon"]'), "child")
    rules = [one.input.dotted for one in found.moving if one.input.is_chosen]
    assert rules[0] == "unattended.after_shift"
    chosen = [one.input.is_chosen for one in found.moving]
    assert chosen == sorted(chosen)
    rule = found.moving[chosen.index(True)]
    assert rule.most > found.moving[chosen.index(True) - 1].most
    lead = ranking_lead(found)
    # Other duties move the reference, and hardly what one makes oneself.
    assert found.moving[0].input.dotted == "handling.other_duties"
    assert lead.startswith("What matters most, each by its own step: cycle 9 min, +3.0 points.")
    assert ". Of what you decide yourselves: hours " in lead


def test_a_price_of_both_leaves_the_gain_and_one_of_its_own_moves_it() -> None:
    """Pieces that leave a tenth more leave it in both; in the child alone they are a tenth more."""
    shared = ranking(study(*CHILD, part=(*ONE_TABLE, "contribution = 2"), days='["mon"]'), "child")
    one = effects(shared)["part.body.contribution"]
    assert (one.input.moved, change(one.up)) == (Moved.BOTH, 0)
    own = study(
        *CHILD,
        "part.body.contribution = 2",
        part=(*ONE_TABLE, "contribution = 2"),
        days='["mon"]',
    )
    one = effects(ranking(own, "child"))["part.body.contribution"]
    assert (one.input.moved, change(one.up)) == (Moved.ALONE, pytest.approx(10))


def test_a_default_of_both_is_one_place_and_a_machine_of_its_own_is_none() -> None:
    draft = study(*CHILD, "machine.lathe.count = 1", 'handling.walk = "1 min"')
    for path, moved in (
        (("part", "body", "unload"), Moved.BOTH),
        (("part", "body", "cycle"), Moved.BOTH),
        (("handling", "walk"), Moved.ALONE),
        (("machine", "lathe", "pallets"), Moved.ALONE),
    ):
        assert held(draft, "child", path).moved is moved
        assert held(draft, "today", path).moved is Moved.ITSELF


@pytest.mark.long
def test_it_is_said_in_which_scenarios_an_input_is_moved() -> None:
    found = ranking(study(*CHILD, 'handling.walk = "2 min"', days='["mon"]'), "child")
    one = effects(found)
    assert "moved in Child alone, now 2 min (entered): at 1.8 min" in effect_words(
        found, one["handling.walk"]
    )
    cycle = effect_words(found, one["part.body.cycle"])
    assert "cycle, inherited from Today, so changed in both, now 10 min: " in cycle
    heads, *told = ranking_report(found).rows
    rows = {row[1]: row[heads.index("moved")] for row in told}
    assert (rows["walk per visit"], rows["cycle"]) == ("alone", "both")


def test_taking_what_was_tried_moves_what_was_moved() -> None:
    draft = study(*CHILD, 'handling.walk = "2 min"')
    cycle, unload = ("part", "body", "cycle"), ("part", "body", "unload")
    taken = taking(draft, "child", {cycle: "9 min"}).apply(draft)
    assert taken.scenario("today").entered[cycle] == "9 min"
    assert cycle not in taken.scenario("child").entered
    taken = taking(draft, "child", {unload: "2 min"}).apply(draft)
    assert taken.scenario("today").entered[unload] == "2 min"
    walk = taking(draft, "child", {("handling", "walk"): "3 min"}).apply(draft)
    assert ("handling", "walk") not in walk.scenario("today").entered


# --- what cannot be told ----------------------------------------------------------------


def test_what_several_parts_have_is_moved_in_all_of_them_at_once() -> None:
    draft = study("", "[scenario.today.part.other]", *ONE_TABLE)
    found = effects(ranking(draft))
    assert "part.*.cycle" in found
    assert {"part.body.cycle", "part.other.cycle"}.isdisjoint(found)
    cycle = found["part.*.cycle"]
    assert cycle.step is MovedBy.TENTH
    assert cycle.down is not None
    assert cycle.down.value.text == "90 %"
    assert change(cycle.down) > 0
    assert change(cycle.up) < 0
    assert moved_by(cycle) == "± 10 %"
    assert "now each its own" in effect_words(ranking(draft), cycle)


def test_the_demand_of_all_parts_at_once_can_fall_by_a_tenth_too() -> None:
    """It read "lowest": the 1 that leaves a part in was taken for 100 %."""
    draft = study("", "[scenario.today.part.other]", *ONE_TABLE)
    demand = effects(ranking(draft))["part.*.weekly"]
    assert demand.down is not None
    assert demand.down.value.text == "90 %"


def test_counts_go_by_one_and_stay_where_they_are_allowed(table: Ranking) -> None:
    found = effects(table)
    assert found["machine.mill.pallets"].down is None
    # 0 would take the machine and the shift out: another question.
    assert found["machine.mill.count"].down is None
    assert found["shift.all.people"].down is None
    up = found["machine.mill.count"].up
    assert up is not None
    assert up.value.text == "2"
    # In cut is 100 % already.
    assert found["part.body.in_cut"].up is None


def test_what_is_not_used_or_moves_no_output_is_left_out(table: Ranking) -> None:
    keys = set(effects(table))
    assert "machine.mill.pallet_change" not in keys  # there is only a table
    assert "part.body.tool_change" not in keys  # no tool life is given
    assert not [key for key in keys if key.startswith(("money.", "said."))]
    assert "machine.mill.price" not in keys


@pytest.fixture(scope="module")
def rough() -> Ranking:
    """A child whose cycle of its own is known to 40 % only."""
    draft = study(*CHILD, 'part.body.cycle = "9 min"', days='["mon"]')
    return ranking(draft.with_head("accuracy", "40 %"), "child")


@pytest.mark.long
def test_what_the_draws_do_not_agree_on_cannot_be_told(rough: Ranking) -> None:
    """Both have a longer load, and the child's cycle is known to 40 % only."""
    load = effects(rough)["part.body.load"]
    assert load.down is not None
    assert load.down.likely is not None
    assert load.down.likely[0] < 0 < load.down.likely[2]
    assert load.down.is_untold
    assert "cannot be told from the likely range" in effect_words(rough, load)
    assert side_text(load.down) == "not clear"


def test_the_same_draws_stand_on_both_sides_of_a_step(rough: Ranking) -> None:
    """What its own cycle is known to moves its gain by far more than the step, and is in both."""
    cycle = effects(rough)["part.body.cycle"]
    assert cycle.up is not None
    assert cycle.up.likely is not None
    assert cycle.up.is_difference
    assert cycle.up.likely[2] - cycle.up.likely[0] < 5


def test_what_changes_nothing_at_all_is_no_difference(table: Ranking) -> None:
    one = effects(table)["shift.all.people"]
    assert one.up is not None
    assert (one.up.change, one.most) == (0, 0)


@pytest.mark.long
def test_a_scenarios_gain_moves_in_percentage_points() -> None:
    """A child of 9 min makes 775.4, which is 7.7 % more; at 8.1 min 833, which is 15.7 %."""
    found = ranking(study(*CHILD, 'part.body.cycle = "9 min"'), "child")
    one = effects(found)["part.body.cycle"]
    points = 100 * (a_week(8.1 + 4) - a_week(9 + 4)) / 720
    assert change(one.down) == pytest.approx(points, abs=0.15)
    assert source_words(one.input.origin) == "entered"
    inherited = effects(found)["part.body.load"].input.origin
    assert source_words(inherited) == "inherited from today"
    assert input_source_words(effects(found)["part.body.load"].input) == "inherited from Today"
    assert "percentage points" in ranking_sentences(found)[0]


def test_a_reference_that_makes_nothing_has_no_gain_to_move() -> None:
    nobody = ("[scenario.idle]", "machine.mill.count = 1", 'part.body.cycle = "5 min"',
              "part.body.weekly = 9")  # fmt: skip
    draft = study(*nobody).with_head("reference", "idle")
    with refusing("idle has no saleable output"):
        ranking(draft)


def test_it_is_told_input_by_input_and_can_be_given_up() -> None:
    class Enough(Exception):
        pass

    def told(done: int, of: int) -> None:
        assert of >= 10
        if done == 2:
            raise Enough

    with pytest.raises(Enough):
        sensitivity(study(), "today", Memory(), told)


def test_all_inputs_are_moved_as_typed_before_any_likely_range_is_looked_for() -> None:
    """So whoever waits has the order soon, then ranges, that of what moves most first."""
    parts, steps = list[Ranking](), list[tuple[int, int]]()
    found = sensitivity(
        study().with_head("warm_up", 1),
        "today",
        Memory(),
        lambda done, of: steps.append((done, of)),
        parts.append,
    )
    whole = [part for part in parts if len(part.effects) == len(found.effects)]
    first, last = whole[0], whole[-1]
    moved = [effect for effect in found.effects if change_or_0(effect)]
    assert first.effects == tuple(sorted(first.effects, key=lambda one: -one.most))
    assert sum(effect.is_open for effect in first.effects) == len(moved) >= 4
    assert "likely range follows" in effect_words(first, first.effects[0])
    assert not found.effects[0].is_open
    # One after the other, the largest effect that is still open the next.
    open_ = [[effect.input for effect in part.effects if effect.is_open] for part in whole]
    assert list(map(len, open_)) == list(range(len(moved), 0, -1))
    assert open_[1] == [each.input for each in first.effects[1 : len(moved)]]
    assert [effect.input for effect in last.effects if effect.is_open] == open_[-1]
    shares = [done / of for done, of in steps]
    assert shares == sorted(shares)
    assert shares[-1] == 1


def change_or_0(effect: Effect) -> float:
    return max(abs(side.change or 0) for side in (effect.down, effect.up) if side is not None)


def test_a_ranking_can_be_sent_to_another_process(table: Ranking) -> None:
    assert pickle.loads(pickle.dumps(table)) == table


@pytest.mark.long
def test_a_try_is_run_over_its_weeks_and_over_no_half_of_them() -> None:
    """Halves say whether a gain stands still, which is asked once: of what stands, not of tries."""
    memory, windows = Memory(), list[tuple[int, int]]()

    def noting(cell: Cell, warm_up: int, weeks: int) -> Tally:
        windows.append((warm_up, weeks))
        return memory(cell, warm_up, weeks)

    draft = study(days='["mon"]').with_head("warm_up", 1).with_head("weeks", 4)
    found = sensitivity(draft, "today", noting, silent)
    tries = sum(side is not None for one in found.effects for side in (one.down, one.up))
    assert windows.count((1, 4)) > tries
    # What stands, and what it is held against: 2 of 4 weeks after 1, and 2 after 3.
    assert windows.count((1, 2)) == 2
    assert windows.count((3, 2)) == 2


def test_a_contribution_of_a_scenario_that_is_not_built_counts_all_the_same() -> None:
    checked = check(study(*CHILD, "part.body.contribution = 5"))
    assert checked.study_of({"today"}) is not None
    assert set(plans_of(checked, only={"today"})) == {"today"}
    assert is_in_money(checked)
    assert not is_in_money(check(study(*CHILD)))


@pytest.mark.long
def test_a_side_is_the_change_of_the_scenario_answered_with_that_value() -> None:
    """What is left out of a try, since a ranking is told by gains alone, moves none of them."""
    lines = ('part.body.cycle = "9 min"', 'handling.scatter = "30 %"')
    draft = study(*CHILD, *lines, days='["mon"]')
    draft = draft.with_head("accuracy", "20 %").with_head("warm_up", 1)
    (walk,) = (one for one in ranking(draft, "child").effects if one.input.path[-1] == "walk")
    assert walk.up is not None
    trials = Trials(draft, "child", Memory())
    trials.expect(1)
    trial = trials.attempt({walk.input.path: walk.input.raw(walk.up.value.text)})
    found = change_of(trial, trials.base)
    assert found is not None
    assert (walk.up.change, walk.up.likely) == (found.typed, found.likely)
    # The luck of each draw is its own.
    assert len({saleable_gain(each) for each in trial.drawn}) == 3


class Listening(Remembering):
    """Notes what is said ahead, and what is asked for."""

    def __init__(self) -> None:
        super().__init__()
        self.said: set[WindowAsked] = set()
        self.asked: set[WindowAsked] = set()

    @override
    def ahead(self, windows: Iterable[WindowAsked]) -> None:
        self.said |= set(windows)

    @override
    def __call__(self, cell: Cell, warm_up: int, weeks: int) -> Tally:
        self.asked.add((cell, warm_up, weeks))
        return super().__call__(cell, warm_up, weeks)


@pytest.mark.long
def test_the_runs_of_a_try_are_said_ahead_and_no_others() -> None:
    draft = study(*CHILD, 'part.body.cycle = "9 min"').with_head("warm_up", 1)
    for draws in (False, True):
        simulate = Listening()
        trials = Trials(draft, "child", simulate)
        trials.expect(1)
        simulate.said.clear()
        simulate.asked.clear()
        path, raw = ("handling", "walk"), "2 min"
        trials.gained({path: raw})
        if draws:
            assert len(trials.gained_in_draws({path: raw})) == 3
        assert simulate.said == simulate.asked
        assert len(simulate.asked) == (8 if draws else 2)


def test_what_all_tries_share_is_sent_as_one() -> None:
    """So what one try has found in the parts of a study that it left alone, the next one knows."""
    trials = Trials(study(*CHILD), "child", Memory())
    first, second = (
        pickle.loads(pickle.dumps(Attempt(trials, ((("handling", "walk"), walk),), drawn=False)))
        for walk in ("2 min", "3 min")
    )
    assert first.trials is second.trials is not trials
    assert first.trials.key == trials.key
    trials.expect(1000)
    third = pickle.loads(pickle.dumps(Attempt(trials, (), drawn=False)))
    assert third.trials.key == trials.key != first.trials.key
