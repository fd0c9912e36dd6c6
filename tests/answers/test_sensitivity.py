"""Inputs a tenth up and down: sign, rank, what is assumed, what is no difference."""

from __future__ import annotations

import pickle

import pytest
from moving_studies import CHILD, a_week, silent, study
from refusals import refusing

from whatif.answers.moves.sensitivity import Effect, Ranking, Side, sensitivity
from whatif.session.calculate.memory import Memory
from whatif.study.draft import Draft
from whatif.telling.moves import ranking_sentences, unmoved
from whatif.telling.origins import source_words


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
    keys = [one.input.dotted for one in table.effects]
    # A second machine doubles, a second pallet hides the visit: 14 min become 10.5.
    assert keys[:3] == ["machine.mill.count", "machine.mill.pallets", "part.body.cycle"]
    pallets = effects(table)["machine.mill.pallets"]
    assert change(pallets.up) == pytest.approx(100 * (14 / 10.5 - 1), abs=0.2)
    assert keys.index("part.body.load") < keys.index("handling.walk")
    assert keys[3:6] == ["part.body.load", "handling.walk", "part.body.unload"]


def test_assumed_inputs_are_marked_and_named(table: Ranking) -> None:
    found = effects(table)
    assumed = {key for key, one in found.items() if one.input.origin.is_assumed}
    assert {"handling.walk", "part.body.unload", "machine.mill.pallets"} <= assumed
    assert not {"part.body.load", "part.body.cycle", "machine.mill.count"} & assumed
    (said,) = [text for text in ranking_sentences(table) if text.startswith("Only assumed")]
    assert said.startswith("Only assumed, and it matters: pallets each, walk per visit, unload.")


def test_what_is_assumed_to_be_0_is_told_apart(table: Ranking) -> None:
    nothing = dict(table.assumed_nothing)
    assert nothing["bench work"] == ("body",)
    assert nothing["other duties"] == ()
    assert not {"part.body.bench", "handling.other_duties"} & set(effects(table))
    assert "load" not in nothing


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


def test_what_is_smaller_than_half_the_likely_range_is_no_difference() -> None:
    """A cycle of the child's own, known to 20 %, moves its gain by more than a tenth of itself."""
    draft = study(*CHILD, 'part.body.cycle = "9 min"').with_head("accuracy", "40 %")
    found = ranking(draft, "child")
    load = effects(found)["part.body.load"]
    assert load.down is not None
    assert load.down.change is not None
    assert 0 < abs(load.down.change) < load.down.tolerance
    assert not load.down.is_difference
    assert load.most == 0
    assert "load (body)" in unmoved(found)


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


def test_a_ranking_can_be_sent_to_another_process(table: Ranking) -> None:
    assert pickle.loads(pickle.dumps(table)) == table
