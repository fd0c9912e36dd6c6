"""Which figures still hold after an edit: those that are the same when worked out anew."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from lengths import examples

from whatif.answers.answer import Answer, Comparison
from whatif.answers.compare import compare, compare_wholly
from whatif.session.calculate.answered import Answered
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import Checked, check
from whatif.study.draft import Draft
from whatif.study.edits import (
    AddScenario,
    AddThing,
    BringBack,
    ClearValue,
    Edit,
    EditError,
    MoveKeeping,
    MoveScenario,
    RemoveScenario,
    RemoveThing,
    RenameScenario,
    RenameThing,
    SetHead,
    SetValue,
)
from whatif.study.file.reading import read_text
from whatif.study.raw import Path, Raw

# "metered" has hour meters of its own, whose gap is found there and holds below it.
STUDY = read_text("""\
format = 1
weeks = 1
warm_up = 0
runs = 2
reference = "now"
[scenario.now]
[scenario.now.shift.day]
days = ["mon", "tue", "wed"]
start = "06:00"
end = "14:00"
[scenario.now.machine.mill]
count = 1
[scenario.now.part.plate]
cycle = "10 min"
weekly = 500
[scenario.pair]
parent = "now"
machine.mill.pallets = 2
[scenario.metered]
parent = "now"
part.plate.load = "3 min"
hour_meters.switched_on = "1000 h"
hour_meters.in_cut = "640 h"
hour_meters.gap = "people"
[scenario.below]
parent = "metered"
machine.mill.pallets = 3
rush.gear.part = "plate"
rush.gear.pieces = 2
rush.gear.arrives = "mon 10:00"
[scenario.lowest]
parent = "below"
title = "Two machines"
machine.mill.count = 2
""")
MEMORY = Memory()
SCENARIOS = STUDY.ids


@lru_cache(maxsize=200)
def worked_out(draft: Draft) -> tuple[Checked, Comparison]:
    checked = check(draft)
    return checked, compare_wholly(checked, MEMORY, MEMORY.pause)


@lru_cache(maxsize=20)
def compared(draft: Draft) -> tuple[Checked, Comparison]:
    """The same without ranges and trials, where it is only asked which answers still hold."""
    checked = check(draft)
    return checked, compare(checked, MEMORY)


def shown(
    before: Draft,
    after: Draft,
    answer: Callable[[Draft], tuple[Checked, Comparison]] = compared,
) -> Mapping[str, Answer]:
    """What is shown of one draft's answers once it has become another."""
    checked, found = answer(before)
    answered = Answered()
    answered.take(found, checked)
    return answered.current(check(after))


def after(*edits: Edit, draft: Draft = STUDY) -> Draft:
    for edit in edits:
        draft = edit.apply(draft)
    return draft


CUT = ("hour_meters", "in_cut")
GAP = ("hour_meters", "gap")
CYCLE = ("part", "plate", "cycle")


@pytest.mark.long
def test_the_meters_of_a_scenario_hold_for_all_below_it() -> None:
    for edit in (SetValue("metered", CUT, "600 h"), SetValue("metered", GAP, "machine")):
        assert set(shown(STUDY, after(edit))) == {"now", "pair"}


def test_what_moves_the_gap_where_it_is_found_moves_all_below() -> None:
    # "below" and "lowest" enter times of their own: only the gap that they have is another.
    held = after(
        SetValue("below", ("part", "plate", "load"), "2 min"),
        SetValue("below", ("part", "plate", "unload"), "2 min"),
    )
    edit = SetValue("metered", ("part", "plate", "unload"), "4 min")
    assert set(shown(held, edit.apply(held))) == {"now", "pair"}


def test_meters_of_the_reference_hold_for_every_gain() -> None:
    metered = after(SetHead("reference", "below"))
    assert shown(metered, after(SetValue("metered", CUT, "600 h"), draft=metered)) == {}


def test_meters_of_its_own_end_those_above() -> None:
    own = after(
        SetValue("lowest", ("hour_meters", "switched_on"), "1000 h"),
        SetValue("lowest", CUT, "620 h"),
    )
    edit = SetValue("metered", CUT, "600 h")
    assert set(shown(own, edit.apply(own))) == {"now", "pair", "lowest"}


def test_a_contribution_anywhere_tells_the_worth_of_all() -> None:
    edit = SetValue("lowest", ("part", "plate", "contribution"), 7)
    assert shown(STUDY, after(edit)) == {}


def test_a_name_changes_no_figure_and_is_the_present_one() -> None:
    named = after(SetValue("pair", ("title",), "A pair"), SetValue("pair", ("notes",), "As said."))
    held = shown(STUDY, named)
    assert set(held) == set(SCENARIOS)
    assert held["pair"].plan.title == "A pair"
    assert held["pair"].plan.notes == "As said."


def test_it_is_worked_out_once_for_what_is_shown() -> None:
    checked = check(STUDY)
    answered = Answered()
    answered.take(compare(checked, MEMORY), checked)
    again = check(after(SetValue("pair", CYCLE, "9 min")))
    assert answered.current(again) is answered.current(again)


# -- whatever is edited ----------------------------------------------------------------------

VALUES: Mapping[Path, tuple[Raw, ...]] = {
    ("title",): ("Shop", ""),
    ("notes",): ("Measured in May.", ""),
    ("shift", "day", "end"): ("13:00", "15:00"),
    ("shift", "day", "people"): (0, 2),
    ("machine", "mill", "count"): (0, 2),
    ("machine", "mill", "pallets"): (1, 2, 4),
    ("machine", "mill", "price"): (0, 90000),
    ("machine", "mill", "table"): (("500 mm", "400 mm"), ""),
    ("part", "plate", "size"): (("150 mm", "90 mm", "40 mm"), ("600 mm", "90 mm", "40 mm"), ""),
    ("part", "plate", "weekly"): (0, 40, 60),
    ("part", "plate", "unload"): ("1 min", "5 min"),
    ("part", "plate", "contribution"): (0, 7, ""),
    CYCLE: ("10 min", "600 s", "8 min"),
    ("unattended", "after_shift"): ("0 h", "2 h"),
    ("said", "with_people", "cutting"): ("80 %", ""),
    ("handling", "other_duties"): ("0 %", "20 %"),
    ("money", "wage"): (0, 30, ""),
    ("money", "years"): (5,),
    ("rush", "gear", "pieces"): (0, 1),
    ("stop", "jam", "repair"): ("30 min",),
    ("hour_meters", "switched_on"): ("1000 h", ""),
    CUT: ("620 h", "640 h", "990 h", ""),
    GAP: ("show", "people", "machine"),
}

scenarios = st.sampled_from((*SCENARIOS, "new"))
paths = st.sampled_from(tuple(VALUES))
values = paths.flatmap(
    lambda path: st.builds(SetValue, scenarios, st.just(path), st.sampled_from(VALUES[path]))
)
edits = st.one_of(
    values,
    values,
    values,
    st.builds(ClearValue, scenarios, paths),
    st.builds(MoveScenario, scenarios, st.one_of(st.none(), scenarios)),
    st.builds(MoveKeeping, scenarios, scenarios),
    st.builds(AddScenario, st.just("new"), scenarios),
    st.builds(RemoveScenario, scenarios),
    st.builds(RenameScenario, scenarios, scenarios),
    st.builds(RenameThing, st.just("part"), st.just("plate"), st.just("disc")),
    st.builds(RemoveThing, scenarios, st.just("machine"), st.just("mill")),
    st.builds(BringBack, scenarios, st.just("machine"), st.just("mill")),
    st.builds(
        AddThing,
        scenarios,
        st.just("stop"),
        st.just("jam"),
        st.just((("every", "4 h"), ("repair", "20 min"))),
    ),
    st.builds(
        AddThing,
        scenarios,
        st.just("order"),
        st.just("own"),
        st.just((("part", "plate"), ("pieces", 5), ("due", "wed 12:00"))),
    ),
    st.builds(SetHead, st.just("weeks"), st.sampled_from((1, 2))),
    st.builds(SetHead, st.just("runs"), st.sampled_from((2, 3))),
    st.builds(SetHead, st.just("units"), st.sampled_from(("metric", "inch"))),
    st.builds(SetHead, st.just("reference"), st.sampled_from(SCENARIOS)),
    st.builds(SetHead, st.just("title"), st.just("Other shop")),
)


def possible(draft: Draft, some: list[Edit]) -> Draft:
    """The draft after those edits that can be made and leave no problem."""
    for edit in some:
        try:
            edited = edit.apply(draft)
        except EditError:
            continue
        if check(edited).study is not None:
            draft = edited
    return draft


MONEY: list[Edit] = [
    SetValue("now", ("part", "plate", "contribution"), 7),
    SetValue("pair", ("shift", "day", "people"), 2),
]


@pytest.mark.long
@examples(60)
@given(st.lists(edits, max_size=3), st.lists(edits, min_size=1, max_size=3))
@example([], [SetValue("metered", CUT, "620 h")])
@example(MONEY, [SetValue("now", ("title",), "Shop")])
@example(
    [*MONEY, SetValue("pair", ("part", "plate", "contribution"), "")],
    [SetValue("pair", ("part", "plate", "contribution"), 0)],
)
def test_a_figure_that_is_shown_is_the_one_of_today(first: list[Edit], then: list[Edit]) -> None:
    before = possible(STUDY, first)
    now = possible(before, then)
    anew = worked_out(now)[1].answers
    for scenario, answer in shown(before, now, worked_out).items():
        assert answer == anew[scenario], scenario
