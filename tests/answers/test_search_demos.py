"""What a person found by hand on the demos, a search finds too, or what does better."""

from __future__ import annotations

import pytest
from demos import ONE_PERSON, PALLETS, SMALL_ORDERS
from few_draws import SCENARIOS, few_draws
from moving_studies import silent
from remembered import remembered

from whatif.answers.answer import Answer
from whatif.answers.compare import compare
from whatif.answers.limits import ALL_MET
from whatif.answers.search.front import axes_of, beats
from whatif.answers.search.goal import Aim, Goal
from whatif.answers.search.proposals import all_levers
from whatif.answers.search.search import NextStep, NextSteps, Wish, search
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import RemoveScenario
from whatif.study.file.reading import read_file
from whatif.study.levers import with_lever

DEMAND = Wish(Goal(Aim.DEMAND))


def met(answer: Answer) -> float:
    """Percent of the demand of the part furthest behind, 100 where there is no more to meet."""
    assert answer.figures is not None
    return min(ALL_MET, answer.figures.least_met or 0.0)


def capital(answer: Answer) -> float:
    return 0.0 if answer.money is None else answer.money.capital


def found_by_hand(draft: Draft) -> Answer:
    """The scenario that meets most of the demand, and of several the one that costs least."""
    answers = compare(check(draft), Memory()).answers
    return max(answers.values(), key=lambda each: (met(each), -capital(each)))


def does_as_much(entry: NextStep, hand: Answer, *, priced: bool) -> bool:
    """Whether an entry meets as much of the demand with no more people and no more money.

    A lever may have a price of its own, which nobody has entered in the scenario.
    """
    assert hand.figures is not None
    own = sum(float(option.once) for option in entry.options)
    return (
        min(ALL_MET, entry.measure.least_met or 0.0) >= met(hand) - 0.5
        and entry.measure.hours <= hand.figures.people.paid
        and (not priced or entry.measure.once - own <= capital(hand))
    )


@pytest.mark.long
def test_a_few_levers_find_what_was_found_by_hand() -> None:
    """Mills moved, bench work moved, pallets: each there by hand, best of all the three of them."""
    draft = read_file(SCENARIOS / f"{ONE_PERSON}.toml").draft
    for key, value in (("weeks", 2), ("warm_up", 1), ("runs", 1)):
        draft = draft.with_head(key, value)
    for id_ in ("night", "no_errands", "two_a_load", "helper"):
        draft = RemoveScenario(id_).apply(draft)
    for each in all_levers(draft, "today"):
        values = {"walk": ("30 s",), "bench": ("0 min",), "pallets": ("2",)}.get(each.id, ())
        draft = with_lever(draft, each.id, {**each.entries, ("values",): values})
    hand = found_by_hand(draft)
    assert hand.plan.scenario == "then_pallets"
    found = search(draft, "today", Memory(), silent, DEMAND)
    assert found.is_proved
    assert found.best is not None
    assert {option.lever.id for option in found.best.options} == {"walk", "bench", "pallets"}
    assert found.best.measure.least_met == pytest.approx(met(hand))


@pytest.mark.long
@pytest.mark.parametrize(
    ("demo", "by_hand"),
    [(ONE_PERSON, "then_pallets"), (PALLETS, "six"), (SMALL_ORDERS, "late_release")],
)
def test_the_whole_search_finds_what_was_found_by_hand_or_better(demo: str, by_hand: str) -> None:
    draft = few_draws(read_file(SCENARIOS / f"{demo}.toml").draft)
    hand = found_by_hand(draft)
    assert hand.plan.scenario == by_hand

    def work_out() -> NextSteps:
        return search(draft, "today", Memory(), silent, DEMAND)

    text = (SCENARIOS / f"{demo}.toml").read_text("utf-8")
    found = remembered(f"searched for demand, few draws\n{text}", work_out)
    assert found.best is not None
    assert min(ALL_MET, found.best.measure.least_met or 0.0) >= met(hand)
    is_priced = hand.money is not None
    assert any(does_as_much(entry, hand, priced=is_priced) for entry in found.front)


@pytest.mark.long
def test_what_a_lever_alone_does_is_not_lost_where_three_are_tried() -> None:
    """Once a lever without a price was beaten by three of them, as if these cost no more.

    And levers alone were passed over that nothing beats, since fifteen were measured in full.
    """
    draft = few_draws(read_file(SCENARIOS / f"{ONE_PERSON}.toml").draft)
    goal = Goal(Aim.GAIN, 20)
    alone, whole = (
        search(draft, "today", Memory(), silent, Wish(goal, most=most)) for most in (1, 3)
    )
    names = [{option.lever.id for option in each.options} for each in whole.front]
    for each in alone.front:
        mine = axes_of(each.measure)
        is_beaten = any(beats(axes_of(other.measure), mine) for other in whole.front)
        assert is_beaten or {each.options[0].lever.id} in names
    assert {"bench"} in names
    assert whole.best_unpriced is not None
    assert [option.lever.id for option in whole.best_unpriced.options] == ["bench"]
    assert whole.passed_over == 0
