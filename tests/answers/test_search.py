"""The best next step, held against all combinations worked out one by one."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
from few_draws import SCENARIOS
from moving_studies import silent, study
from refusals import refusing

from whatif.answers.compare import compare
from whatif.answers.search.front import axes_of, beats, clearly_unbeaten, layers, unbeaten
from whatif.answers.search.goal import Aim, Goal, nearness, read_goal
from whatif.answers.search.measure import Brought, TriedInShort, Variants
from whatif.answers.search.options import making, options_of, taken_together, unpriced_levers
from whatif.answers.search.proposals import EASES, all_levers, proposals, sort_of_lever
from whatif.answers.search.search import (
    FEW,
    TRIES,
    NextSteps,
    Wish,
    combinations_of,
    each_combination,
    search,
)
from whatif.reports.document import WRITERS
from whatif.reports.search import search_report
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import AddScenario, SetValue
from whatif.study.file.reading import read_file
from whatif.study.levers import SearchLever, levers_of, with_lever
from whatif.study.raw import Path, Raw
from whatif.study.resolve import resolve
from whatif.telling.search import (
    cost_words,
    counted_words,
    entry_words,
    how_sentences,
    lead_sentence,
    lever_name,
    lever_words,
    money_is_of,
    money_words,
    more_people_words,
    once_text,
    option_words,
    rests_sentences,
    yearly_text,
)
from whatif.telling.search_plot import across_words, front_plot

PARTS = (
    'cycle = "10 min"',
    'load = "2 min"',
    "weekly = 1500",
    "contribution = 2",
)


def lever(id_: str, key: str, *values: str, price: int = 0, each: int = 0) -> SearchLever:
    path = tuple(key.split("."))
    return SearchLever(id_, path, values, price=Fraction(price), price_each=Fraction(each))


MACHINE = lever("machine", "machine.mill.count", "+1", each=1000)
PALLETS = lever("pallets", "machine.mill.pallets", "2", "3", price=500, each=100)
CYCLE = lever("cycle", "part.body.cycle", "90 %", "8 min", price=200)
PERSON = lever("person", "shift.all.people", "+1")
LOAD = lever("load", "part.*.load", "-1 min", price=50)


def having(*levers: SearchLever, draft: Draft | None = None) -> Draft:
    """A study in which these levers are all there are."""
    found = study(part=PARTS, days='["mon", "tue"]') if draft is None else draft
    left_out = [each for each in all_levers(found, "today") if each.assumed]
    for each in left_out:
        found = with_lever(found, each.id, {**each.entries, ("values",): ()})
    for each in levers:
        found = with_lever(found, each.id, each.entries)
    assert check(found).is_sound
    return found


def searched(draft: Draft, wish: Wish | None = None) -> NextSteps:
    return search(draft, "today", Memory(), silent, wish)


def names(found: NextSteps) -> list[dict[str, str]]:
    return [{each.lever.id: each.value for each in entry.options} for entry in found.front]


@pytest.fixture(scope="module")
def small() -> tuple[Draft, NextSteps]:
    draft = having(MACHINE, PALLETS, CYCLE)
    return draft, searched(draft)


def by_hand(draft: Draft) -> set[frozenset[tuple[str, str]]]:
    """What is not beaten, each combination compared as a scenario of its own."""
    levers = all_levers(draft, "today")
    options, base = options_of(draft, "today", levers), compare(check(draft), Memory())
    there = base.answers["today"]
    assert there.figures is not None
    points = {frozenset[tuple[str, str]](): (0.0, 0.0, there.figures.people.paid)}
    for size in (1, 2, 3):
        for chosen in combinations(options, size):
            changes = taken_together(chosen, resolve(draft, "today"))
            if changes is None or len({each.place for each in chosen}) < size:
                continue
            tried = making(draft, "today", "tried", "", changes).apply(draft)
            answer = compare(check(tried), Memory()).answers["tried"]
            assert answer.figures is not None
            assert answer.money is not None
            assert answer.gains.saleable is not None
            known = frozenset((each.lever.id, each.value) for each in chosen)
            points[known] = (
                -round(answer.gains.saleable, 1),
                round(answer.money.capital),
                answer.figures.people.paid,
            )
    return {
        known
        for known, mine in points.items()
        if known
        and not any(
            all(a <= b for a, b in zip(other, mine, strict=True)) and other != mine
            for other in points.values()
        )
    }


@pytest.mark.long
def test_the_front_is_that_of_all_combinations_and_proved(small: tuple[Draft, NextSteps]) -> None:
    draft, found = small
    # Two values of two levers and one of a third: 5 alone, 8 in pairs, 4 in threes.
    assert (found.possible, found.tried, found.in_full) == (17, 17, 17)
    assert found.is_proved
    mine = {frozenset(entry.items()) for entry in names(found)}
    wanted = by_hand(draft)
    assert mine <= wanted
    # Of several that bring and cost the same one alone stands here.
    assert len({(e.measure.gain, e.measure.once) for e in found.front}) == len(found.front)
    assert mine


def test_what_is_bought_is_priced_as_the_lever_says(small: tuple[Draft, NextSteps]) -> None:
    _, found = small
    for entry in found.front:
        chosen = {each.lever.id: each.value for each in entry.options}
        once = 1000 * ("machine" in chosen) + 200 * ("cycle" in chosen)
        once += {None: 0, "2": 600, "3": 700}[chosen.get("pallets")]
        assert entry.measure.once == once


def test_the_cheapest_stands_first_and_ranges_are_there(small: tuple[Draft, NextSteps]) -> None:
    _, found = small
    costs = [entry.measure.first_year for entry in found.front]
    assert costs == sorted(costs)
    assert all(entry.likely is not None for entry in found.front)


@pytest.mark.long
def test_more_than_a_few_are_run_short_and_nothing_is_claimed() -> None:
    draft = having(MACHINE, PALLETS, CYCLE, PERSON, LOAD)
    found = searched(draft)
    assert FEW < found.possible == found.tried <= TRIES
    assert not found.is_proved
    # All is known exactly, so that a short run is as good as a full one.
    assert {frozenset(entry.items()) for entry in names(found)} <= by_hand(draft)


@pytest.mark.long
def test_steps_by_promise_and_by_lot_find_what_all_tries_find(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    draft = having(MACHINE, PALLETS, CYCLE, PERSON, LOAD)
    wanted = searched(draft)
    monkeypatch.setattr("whatif.answers.search.search.TRIES", 34)
    told: list[tuple[int, int]] = []
    found = search(draft, "today", Memory(), lambda done, of: told.append((done, of)))
    assert 34 <= found.tried < found.possible
    assert not found.is_proved
    assert found.best is not None
    assert wanted.best is not None
    assert found.best.measure.once == wanted.best.measure.once
    assert told
    assert all(done <= of for done, of in told)
    # The same seed draws the same lots.
    again = search(draft, "today", Memory(), silent)
    assert names(again) == names(found)


@pytest.mark.long
def test_nights_are_tried_with_pallets_though_neither_promises_much_alone(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    night = lever("night", "unattended.after_shift", "1 h")
    draft = having(MACHINE, CYCLE, PERSON, LOAD, PALLETS, night)
    tried: list[set[tuple[str, ...]]] = []

    def noted(trials: Variants, changes: tuple[tuple[Path, Raw], ...]) -> TriedInShort:
        tried.append({path for path, _ in changes})
        return TriedInShort(trials, changes)

    monkeypatch.setattr("whatif.answers.search.search.TRIES", 14)
    monkeypatch.setattr("whatif.answers.search.search.TriedInShort", noted)
    searched(draft)
    both = {("unattended", "after_shift"), ("machine", "mill", "pallets")}
    assert sum(both <= paths for paths in tried) >= 2


def test_nights_are_proposed_by_the_day_of_the_week() -> None:
    draft = study(part=PARTS, days='["mon", "tue", "wed", "thu", "fri"]')
    options = options_of(draft, "today", all_levers(draft, "today"))
    nights = [option for option in options if option.lever.id == "nights"]
    assert [dict(option.changes)["unattended", "nights"] for option in nights] == [
        ("mon", "tue", "wed", "thu"),
        ("mon", "wed"),
    ]
    assert {dict(option.changes)["unattended", "after_shift"] for option in nights} == {
        "until done"
    }
    words = {option_words(option) for option in nights}
    assert "run on unattended until done, nights of mon-thu" in words
    assert "run on unattended until done, nights of mon, wed" in words


@pytest.mark.long
def test_a_goal_puts_first_what_does_it() -> None:
    draft = having(MACHINE, PALLETS, CYCLE)
    within = searched(draft, Wish(Goal(Aim.SUM, 300)))
    assert within.best is not None
    assert within.best.measure.first_year <= 300
    met = searched(draft, Wish(Goal(Aim.DEMAND)))
    assert met.best is not None
    reached = [each for each in met.front if each.reaches]
    if reached:
        assert met.best.measure.once == min(each.measure.once for each in reached)
    else:
        gains = [each.measure.least_met or 0 for each in met.front]
        assert met.best.measure.least_met == max(gains)


@pytest.mark.long
def test_what_brings_a_gain_is_the_cheapest_that_does(small: tuple[Draft, NextSteps]) -> None:
    draft, whole = small
    gains = sorted(each.measure.gain or 0 for each in whole.front)
    wanted = gains[len(gains) // 2]
    found = searched(draft, Wish(Goal(Aim.GAIN, wanted)))
    assert found.best is not None
    assert found.best.reaches
    enough = [each for each in whole.front if (each.measure.gain or 0) >= wanted]
    assert found.best.measure.once == min(each.measure.once for each in enough)
    assert lead_sentence(found).startswith(f"A gain of {wanted:g} % in saleable output. Cheapest")
    beyond = searched(draft, Wish(Goal(Aim.GAIN, gains[-1] + 1)))
    assert beyond.best is not None
    assert not beyond.best.reaches
    assert beyond.best.measure.gain == gains[-1]


@pytest.mark.long
def test_what_nobody_has_priced_is_never_free() -> None:
    """A shorter cycle without a price does as much as a machine of 1000, and comes behind it."""
    bare = lever("cycle", "part.body.cycle", "3 min")
    draft = having(MACHINE, bare)
    goal = Wish(Goal(Aim.GAIN, 60))
    found = searched(draft, goal)
    assert names(found) == [
        {"machine": "+1"},
        {"cycle": "3 min"},
        {"machine": "+1", "cycle": "3 min"},
    ]
    priced, open_, _ = found.front
    assert found.unpriced == {"cycle"}
    assert [each.id for each in open_.unpriced] == ["cycle"]
    assert found.best is priced
    assert found.best_unpriced is open_
    assert (
        "no price yet cost nothing, this would come first (line 2): body cycle 3 min"
        in lead_sentence(found)
    )
    assert money_words(open_) == "not priced"
    assert (once_text(open_), yearly_text(open_)) == ("not priced", "–")
    assert once_text(found.front[2]).startswith("from 1")
    assert "not priced: cycle" in "; ".join(rests_sentences(open_, found.goal))
    assert "; not priced" in lever_words(bare, found.unpriced)
    within = searched(draft, Wish(Goal(Aim.SUM, 2000)))
    assert [each.reaches for each in within.front] == [True, False, False]
    # Who enters a price, be it 0, has priced it.
    entered = with_lever(draft, "cycle", bare.entries | {("price",): 0})
    known = searched(entered, goal)
    assert known.best is not None
    assert known.best.options[0].lever.id == "cycle"
    assert known.unpriced == frozenset()
    # The lever tells of it, or its price does: never the time beside them.
    assert "cycle" not in {each.what for each in (*open_.not_priced, *known.best.not_priced)}
    assert dict(known.best.changes)["money", "one_off"] == 0
    assert with_lever(draft, "cycle", levers_of(entered)["cycle"].entries) == entered
    front = front_plot(found, 1, 40, 8)
    assert front is not None
    assert "2" not in "".join(cell.sign for row in front.plot.rows for cell in row)


@pytest.mark.parametrize("wage", [None, 30])
def test_hours_of_people_without_a_wage_are_not_told_as_free(wage: int | None) -> None:
    draft = having(lever("longer", "shift.all.end", "+4 h"))
    today = draft.scenario("today").having(("shift", "all", "end"), "12:00")
    if wage is not None:
        today = today.having(("money", "wage"), wage)
    draft = draft.with_scenario(today)
    found = searched(draft, Wish(Goal(Aim.GAIN, 5)))
    best = found.best
    assert best is not None
    assert best.reaches
    is_open = wage is None
    # Four hours more on two days at 30 in 50 weeks.
    cost = cost_words(found, best).replace("\u00a0", " ")
    assert cost == ("wages not entered" if is_open else "12 000 a year")
    assert ("without wages" in money_is_of(found)) is is_open
    assert counted_words(found) == f"{money_is_of(found)}; people: hours a week more"
    assert ("(wages not entered)" in lead_sentence(found)) is is_open
    assert ("Cheapest" in lead_sentence(found)) is not is_open
    report = WRITERS["text"](search_report(found))
    row = next(line for line in report.splitlines() if line.startswith("1 "))
    assert (" – " in row) is is_open


def test_hours_rules_and_what_the_study_prices_need_no_price_of_a_lever() -> None:
    rule = lever("ahead", "sequence.run_ahead", "2 weeks")
    machine = lever("machine", "machine.mill.count", "+1")
    draft = having(PERSON, rule, machine)

    def bare(draft: Draft) -> frozenset[str]:
        return unpriced_levers(options_of(draft, "today", all_levers(draft, "today")))

    assert bare(draft) == {"machine"}
    today = draft.scenario("today").having(("machine", "mill", "price"), 90_000)
    assert bare(draft.with_scenario(today)) == frozenset()


@pytest.mark.long
def test_from_what_gains_and_money_count_is_told_where_these_are_two(
    small: tuple[Draft, NextSteps],
) -> None:
    """Gains over Today stood beside money over Late shift, and nothing said so."""
    _, found = small
    late = replace(found.asked, title="Late shift", against="Today", is_reference=False)
    below = replace(found, asked=late)
    more = "; both from Late shift on, gains over Today"
    assert counted_words(below) == f"{counted_words(found)}{more}"
    across = across_words(found, 79)
    assert across_words(below, 79) == f"{across}, from Late shift on"
    long = replace(below, asked=replace(late, title="Late shift, from noon until ten at night"))
    assert across_words(long, 79) == f"{across}, more than it takes now"
    assert len(across_words(long, 79)) < 80
    facts = WRITERS["text"](search_report(below))
    assert "gain against: Today" in facts
    assert "more than in line 0, as the yearly gain" in " ".join(facts.split())


def test_what_does_it_stays_though_it_does_not_sell_clearly_more(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    parts = ('cycle = "10 min"', 'load = "2 min"', "weekly = 400", "contribution = 2")
    draft = having(MACHINE, CYCLE, LOAD, draft=study(part=parts, days='["mon", "tue"]'))
    monkeypatch.setattr("whatif.answers.search.search._clearly_more", lambda *_: False)
    found = searched(draft, Wish(Goal(Aim.DEMAND)))
    assert names(found) == [{"machine": "+1"}]
    assert found.best is not None
    assert found.best.reaches
    assert money_words(found.best) == "1 000 once".replace(" ", "\N{NO-BREAK SPACE}", 1)
    more = replace(
        found.best, measure=replace(found.best.measure, hours=found.start.measure.hours + 20)
    )
    assert more_people_words(found, more) == "people +20.0 h"


@pytest.mark.parametrize(
    ("text", "goal"),
    [
        ("demand", Goal(Aim.DEMAND)),
        ("payback=1.5", Goal(Aim.PAYBACK, 1.5)),
        ("sum 50,000", Goal(Aim.SUM, 50_000)),
        ("Most", Goal(Aim.MOST)),
        ("gain=25", Goal(Aim.GAIN, 25)),
        ("gain +12.5 %", Goal(Aim.GAIN, 12.5)),
        ("+25 %", Goal(Aim.GAIN, 25)),
    ],
)
def test_goals_are_read_as_they_are_typed(text: str, goal: Goal) -> None:
    assert read_goal(text) == goal


def test_what_is_no_goal_is_refused() -> None:
    with refusing("no goal"):
        read_goal("more")
    with refusing("no goal"):
        read_goal("gain")
    with refusing("is no gain in percent above 0"):
        read_goal("gain=much")
    with refusing("no real order"):
        searched(having(MACHINE), Wish(Goal(Aim.ORDERS)))


def test_a_study_in_which_no_lever_is_left_says_so() -> None:
    with refusing("no lever"):
        searched(having())


def test_levers_of_one_value_cannot_be_had_together() -> None:
    draft = having(CYCLE, lever("other", "part.body.cycle", "7 min"))
    options = options_of(draft, "today", all_levers(draft, "today"))
    both = tuple(each for each in options if each.value in ("8 min", "7 min"))
    assert taken_together(both, resolve(draft, "today")) is None
    assert taken_together(both[:1], resolve(draft, "today")) is not None


def test_combinations_are_counted_as_they_are_gone_through() -> None:
    draft = having(MACHINE, PALLETS, CYCLE, PERSON, LOAD)
    options = options_of(draft, "today", all_levers(draft, "today"))
    for most in (1, 2, 3, 4):
        assert combinations_of(options, most) == len(list(each_combination(options, most)))


def test_steps_and_shares_are_reckoned_from_what_holds() -> None:
    draft = having(CYCLE, LOAD, lever("ends", "shift.all.people", "+2"))
    options = options_of(draft, "today", all_levers(draft, "today"))
    changed = {(each.lever.id, each.value): tuple(each.changes.values()) for each in options}
    assert changed["cycle", "90 %"] == ("9 min",)
    assert changed["load", "-1 min"] == ("1 min",)
    assert changed["ends", "+2"] == (3,)


def test_proposals_are_sound_and_each_of_a_known_sort() -> None:
    draft = study(part=(*PARTS, 'setup = "20 min"', 'first_piece = "20 min"', 'bench = "1 min"'))
    levers = list(proposals(draft, "today"))
    assert len({each.id for each in levers}) == len(levers)
    for each in levers:
        assert sort_of_lever(each.id)
        draft = with_lever(draft, each.id, each.entries)
    assert check(draft).problems == ()
    assert not any(each.assumed for each in all_levers(draft, "today"))


@pytest.mark.parametrize(
    ("numbers", "setup", "values"),
    [
        # 12 numbers on one machine: twelve pallets, and none is ever set up for another.
        (12, "20 min", ("2", "4", "6", "12")),
        (5, "20 min", ("2", "4", "6")),
        (12, "0 min", ("2", "4", "6")),
        (25, "20 min", ("2", "4", "6")),
    ],
)
def test_as_many_pallets_as_hold_each_part_number_are_proposed(
    numbers: int, setup: str, values: tuple[str, ...]
) -> None:
    """What begins to pay only where nothing has to be set up any more was never tried."""
    draft = study(part=(*PARTS, f'setup = "{setup}"', f"numbers = {numbers}"))
    (pallets,) = (each for each in proposals(draft, "today") if each.id.startswith("pallets"))
    assert pallets.values == values


def test_the_front_of_plain_figures() -> None:
    points = [(0.0, 0.0), (-1.0, 5.0), (-1.0, 6.0), (-3.0, 6.0), (-2.0, 9.0), (-3.0, 6.0)]
    places = range(len(points))
    assert unbeaten(places, points.__getitem__) == [0, 1, 3]
    assert layers(places, points.__getitem__) == [[0, 1, 3], [5], [2, 4]]
    assert beats((0.0, 1.0), (0.0, 2.0))
    assert not beats((0.0, 1.0), (0.0, 1.0))
    kept = clearly_unbeaten(
        places, points.__getitem__, lambda here, there: points[here][0] < points[there][0] - 1
    )
    assert kept == [0, 3]


def test_more_levers_without_a_price_never_beat_fewer_and_few_levers_come_first() -> None:
    plain = Brought(20.0, 20.0, None, None, 0.0, 0.0, 40.0, None, levers=1, open_levers=1)
    more = replace(plain, gain=30.0, saleable=30.0, levers=3, open_levers=3)
    assert not beats(axes_of(more), axes_of(plain))
    assert beats(axes_of(replace(more, open_levers=1)), axes_of(plain))
    assert not beats(axes_of(plain), axes_of(replace(plain, open_levers=0)))
    goal = Goal(Aim.GAIN, 10)
    assert nearness(goal, plain) < nearness(goal, more)
    free = replace(more, open_levers=0)
    assert nearness(goal, replace(plain, open_levers=0)) < nearness(goal, free)
    assert nearness(Goal(Aim.MOST), free) < nearness(Goal(Aim.MOST), replace(plain, open_levers=0))


def test_all_levers_of_a_step_are_meant_together(small: tuple[Draft, NextSteps]) -> None:
    _, found = small
    (several, *_) = (each for each in found.front if len(each.options) > 1)
    assert entry_words(several.options).count("; and ") == 1
    said = lead_sentence(replace(found, front=(several,)))
    assert ("(both together): " in said) or ("(all 3 together): " in said)
    best = found.best
    assert best is not None
    assert f"(line {found.front.index(best) + 1}" in lead_sentence(found)
    told = how_sentences(replace(found, is_proved=False, passed_over=7))
    assert any(each.startswith("7 more that nothing beat in the short runs") for each in told)


@pytest.mark.parametrize("is_proved", [True, False])
def test_ranges_that_leave_out_the_hour_meters_say_so(
    small: tuple[Draft, NextSteps], *, is_proved: bool
) -> None:
    _, found = small
    said = "Likely ranges here are without the hour meters, which the sheet's have."
    assert said not in how_sentences(replace(found, is_proved=is_proved))
    metered = replace(found.asked, is_metered=True)
    assert said in how_sentences(replace(found, is_proved=is_proved, asked=metered))


def test_a_gain_that_is_reached_as_typed_alone_says_so(small: tuple[Draft, NextSteps]) -> None:
    _, found = small
    step = replace(found.front[0], reaches=True, likely=(9.0, 11.0, 12.0))
    said = "it reaches the goal as typed; its likely range begins below it"
    assert said in rests_sentences(step, Goal(Aim.GAIN, 10.0))
    assert said not in rests_sentences(step, Goal(Aim.GAIN, 9.0))
    assert said not in rests_sentences(replace(step, reaches=False), Goal(Aim.GAIN, 10.0))


def test_a_proposed_lever_has_a_name_of_words_and_one_that_is_entered_its_own() -> None:
    half = SearchLever("half_shift", ("shift", "half", "people"), ("1",), assumed=True)
    mill = SearchLever("pallets_mill", ("machine", "mill", "pallets"), ("2",), assumed=True)
    assert [lever_name(half), lever_name(mill)] == ["half a shift more", "pallets per mill"]
    assert lever_name(replace(mill, assumed=False)) == "pallets_mill"
    assert lever_name(replace(mill, title="Pallet cell")) == "Pallet cell"
    assert not any("_" in lever_name(replace(half, id=sort)) for sort in EASES)


def test_what_was_not_tried_together_is_named_and_what_was_is_not(
    small: tuple[Draft, NextSteps],
) -> None:
    draft, whole = small
    assert whole.apart is None  # All combinations were measured.
    most = Goal(Aim.MOST)
    alone = searched(draft, Wish(goal=most, most=1))
    assert alone.apart is not None
    first, other = ({option.lever.id for option in each.options} for each in alone.apart)
    assert not first & other
    (said,) = (each for each in how_sentences(alone) if each.startswith("Not tried together: "))
    assert "Enter makes a scenario of one" in said
    assert searched(draft, Wish(goal=most)).apart is None


MOST = {
    "part.body.setup": ("13 min", "quick_change", ("65 %",)),
    "part.body.batch": (40, "order_size", ("150 %", "200 %")),
    "shift.all.end": ("16:00", "longer", ("+1 h", "+2 h")),
}


@pytest.mark.parametrize("key", MOST)
def test_what_is_had_at_its_most_is_proposed_no_second_time(key: str) -> None:
    """Whoever has bought quick-change work holding is offered none on top of it."""
    value, lever_id, gone = MOST[key]
    draft = study(part=(*PARTS, 'setup = "20 min"', "batch = 20"))
    for hour, at in (("start", "06:00"), ("end", "14:00")):
        draft = SetValue("today", ("shift", "all", hour), at).apply(draft)
    draft = AddScenario("bought", "today", "Bought").apply(draft)
    draft = SetValue("bought", tuple(key.split(".")), value).apply(draft)
    before, after = (
        {each.id: each.values for each in all_levers(draft, id_)} for id_ in ("today", "bought")
    )
    assert set(gone) <= set(before[lever_id])
    assert set(gone).isdisjoint(after.get(lever_id, ()))
    assert {id_ for id_ in before if id_ != lever_id} <= set(after)


def test_half_of_what_is_had_at_twice_is_proposed_still() -> None:
    draft = study(part=(*PARTS, 'setup = "20 min"', "batch = 20"))
    draft = AddScenario("bought", "today", "Bought").apply(draft)
    draft = SetValue("bought", ("part", "body", "batch"), 40).apply(draft)
    (lever,) = (each for each in all_levers(draft, "bought") if each.id == "order_size")
    assert lever.values == ("50 %",)


def test_nothing_is_proposed_that_is_so_already() -> None:
    draft = read_file(SCENARIOS / "pallets-until-demand.toml").draft
    for scenario in draft.ids:
        levers = [each for each in all_levers(draft, scenario) if each.assumed]
        changing = {(each.lever.id, each.value) for each in options_of(draft, scenario, levers)}
        assert {(each.id, value) for each in levers for value in each.values} == changing
