"""What new things start with, and how long what they start with counts as assumed."""

from __future__ import annotations

import pytest
from moving_studies import silent, study
from refusals import refusing
from study_texts import today, valves

from whatif.answers.moves.sensitivity import sensitivity
from whatif.session.calculate.memory import Memory
from whatif.session.sheet import cell
from whatif.session.things import proposed
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import (
    AddThing,
    BringBack,
    ClearValue,
    DuplicateThing,
    MoveKeeping,
    RemoveThing,
    RenameThing,
    SetValue,
)
from whatif.study.edits.starting import free_id, id_from, starting, usual_id
from whatif.study.file.reading import read_text
from whatif.study.file.writing import to_text
from whatif.study.guesses import guesses_of, in_words
from whatif.study.resolve import resolve
from whatif.study.schema.catalogue import KEYS, THINGS
from whatif.telling.moves.ranking import ranking_sentences
from whatif.telling.sheet_cell import Mark, about_value
from whatif.telling.sources import source_words

CYCLE = ("part", "cover", "cycle")
WEEKLY = ("part", "cover", "weekly")
SENTENCE = "Assumed until measured: part.cover.cycle = 10 min; part.cover.weekly = 100."
TO_CHILD = 'parent = "today"'


def added(draft: Draft, group: str, id_: str, scenario: str = "today") -> Draft:
    first = starting(resolve(draft, scenario), group)
    return AddThing(scenario, group, id_, first.values, guessed=True).apply(draft)


def notes(draft: Draft, scenario: str = "today") -> object:
    return draft.scenario(scenario).entered.get(("notes",))


def covered(*more: str) -> Draft:
    """A study with a part that has just been added, and a scenario below it."""
    return added(today(*more, "[scenario.child]", TO_CHILD), "part", "cover")


# -- what a thing starts with ----------------------------------------------------------------


@pytest.mark.parametrize("group", THINGS)
def test_a_new_thing_adds_no_problem(group: str) -> None:
    assert check(added(valves(), group, "new")).problems == ()


@pytest.mark.parametrize("group", THINGS)
def test_only_what_a_file_must_hold_is_entered(group: str) -> None:
    required = [key.name for key in KEYS if key.required and key.pattern[:2] == (group, "*")]
    # Required too, except of an operation before another.
    required += ["weekly"] * (group == "part")
    assert [name for name, _ in starting(resolve(valves(), "today"), group).values] == required


@pytest.mark.parametrize("group", THINGS)
def test_the_row_to_look_at_first_is_one_of_the_thing(group: str) -> None:
    first = starting(resolve(valves(), "today"), group).first
    assert (group, "new", first) in resolve(added(valves(), group, "new"), "today").values


def test_the_first_shift_is_the_usual_early_one() -> None:
    assert starting(resolve(today(), "today"), "shift").values == (
        ("days", ("mon", "tue", "wed", "thu", "fri")),
        ("start", "06:00"),
        ("end", "14:00"),
    )


def hours(draft: Draft) -> tuple[object, object]:
    values = dict(starting(resolve(draft, "today"), "shift").values)
    return values["start"], values["end"]


def test_a_further_shift_follows_the_last_as_far_as_the_day_goes() -> None:
    early = 'shift.early = {{ days = ["sat"], start = "06:00", end = "{}" }}'
    assert hours(today(early.format("14:00"))) == ("14:00", "22:00")
    assert hours(today(early.format("23:30"))) == ("23:30", "06:00")
    # There is no room left in the day.
    assert hours(today(early.format("06:00"))) == ("06:00", "14:00")
    first = starting(resolve(today(early.format("14:00")), "today"), "shift")
    assert dict(first.values)["days"] == ("sat",)


def test_a_further_shift_is_named_by_when_it_begins() -> None:
    assert [usual_id("shift", (), begins) for begins in ("06:00", "14:00", "22:00", "02:00")] == [
        *("early", "late", "night", "night")
    ]
    assert usual_id("shift", ("late",), "15:30") == "night"
    assert usual_id("shift", ("late", "night"), "15:30") == "late_2"
    day = 'shift.day = { days = ["mon"], start = "07:00", end = "15:30" }'
    assert proposed(today(day), "today", "shift") == "late"


def test_a_shift_that_is_taken_out_or_cannot_be_read_is_passed_over() -> None:
    out = 'shift.late = { days = ["mon"], start = "14:00", end = "22:00", people = 0 }'
    wrong = 'shift.odd = { days = ["mon"], start = "soon", end = "22:00" }'
    assert hours(today(out)) == ("06:00", "14:00")
    assert hours(today(wrong)) == ("06:00", "14:00")


def test_orders_ask_for_a_part_that_is_wanted() -> None:
    lines = ('part.cap = { cycle = "5 min", weekly = 10, batch = 8 }', "part.body.batch = 30")
    draft = SetValue("today", ("part", "body", "weekly"), 0).apply(today(*lines))
    late = 'shift.late = { days = ["mon", "thu"], start = "14:00", end = "22:00" }'
    order = dict(starting(resolve(draft, "today"), "order").values)
    assert order == {"part": "cap", "pieces": 8, "due": "fri 14:00"}
    assert dict(starting(resolve(today(late), "today"), "order").values)["due"] == "thu 22:00"
    assert dict(starting(resolve(draft, "today"), "rush").values) == {"part": "cap", "pieces": 1}


@pytest.mark.parametrize("group", ["rush", "order"])
def test_an_order_needs_a_part(group: str) -> None:
    draft = read_text("format = 1\n[scenario.today]\nmachine.mill.count = 1")
    with refusing("add a part first"):
        starting(resolve(draft, "today"), group)


def test_names_to_propose_are_free() -> None:
    assert usual_id("shift", ()) == "early"
    assert usual_id("shift", ("early",)) == "late"
    assert usual_id("machine", ("mill",)) == "mill_2"
    assert free_id("part_1", ("part_1", "part_2")) == "part_3"


@pytest.mark.parametrize(
    ("name", "id_"),
    [
        ("Mill-2", "Mill-2"),
        ("Big mill", "big_mill"),
        ("Drehmaschine für Wellen und mehr", "drehmaschine_fur_wellen"),
        ("長い名前", ""),
        ("  ", ""),
    ],
)
def test_an_id_is_made_of_what_is_typed(name: str, id_: str) -> None:
    assert id_from(name) == id_


# -- what counts as assumed ------------------------------------------------------------------


def test_the_notes_name_the_guesses_and_the_sheet_marks_them() -> None:
    draft = covered()
    assert notes(draft) == SENTENCE
    checked = check(draft)
    for scenario in ("today", "child"):
        assert cell(checked, scenario, CYCLE).mark is Mark.ASSUMED
        said = about_value(checked, scenario, CYCLE, "cycle", cell(checked, scenario, CYCLE))
        assert "assumed when it was added: measure it" in said
    assert cell(checked, "today", ("part", "body", "cycle")).mark is Mark.ENTERED
    assert cell(checked, "child", ("part", "body", "cycle")).mark is Mark.INHERITED


def test_the_sentence_survives_the_file() -> None:
    draft = covered('notes = "By hand.\\nTwo lines."')
    assert notes(draft) == f"By hand.\nTwo lines.\n{SENTENCE}"
    again = read_text(to_text(draft))
    assert resolve(again, "today").origin(*CYCLE).guessed


@pytest.mark.parametrize("value", ["12 min", "10 min"])
def test_whoever_enters_a_value_has_measured_it(value: str) -> None:
    draft = SetValue("today", CYCLE, value).apply(covered())
    assert not resolve(draft, "today").origin(*CYCLE).is_assumed
    assert not resolve(draft, "child").origin(*CYCLE).is_assumed
    assert resolve(draft, "today").origin(*WEEKLY).is_assumed
    assert notes(draft) == "Assumed until measured: part.cover.weekly = 100."
    assert notes(SetValue("today", WEEKLY, 5).apply(draft)) is None


def test_a_value_of_a_scenario_below_is_its_own() -> None:
    draft = SetValue("child", CYCLE, "10 min").apply(covered())
    assert not resolve(draft, "child").origin(*CYCLE).is_assumed
    assert resolve(draft, "today").origin(*CYCLE).is_assumed
    draft = ClearValue("child", CYCLE).apply(draft)
    assert resolve(draft, "child").origin(*CYCLE).is_assumed


def test_a_value_that_a_file_has_otherwise_is_no_guess() -> None:
    text = to_text(covered()).replace('cycle = "10 min"', 'cycle = "9 min"')
    draft = read_text(text)
    assert not resolve(draft, "today").origin(*CYCLE).is_assumed
    assert resolve(draft, "today").origin(*WEEKLY).is_assumed


@pytest.mark.parametrize("break_", ["\n", " ", "\n\n"])
def test_what_a_person_writes_around_the_sentence_stays(break_: str) -> None:
    text = f"Before.{break_}{SENTENCE}{break_}After, 2 = 2; and so on."
    draft = SetValue("today", ("notes",), text).apply(covered())
    assert resolve(draft, "today").origin(*CYCLE).guessed
    draft = SetValue("today", CYCLE, "9 min").apply(draft)
    draft = SetValue("today", WEEKLY, 7).apply(draft)
    assert notes(draft) == f"Before.{break_}After, 2 = 2; and so on."


def test_two_sentences_become_one() -> None:
    text = f"{SENTENCE}\nBetween.\nAssumed until measured: part.body.weekly = 1100.\nEnd."
    draft = SetValue("today", ("notes",), text).apply(covered())
    draft = SetValue("today", CYCLE, "9 min").apply(draft)
    both = "Assumed until measured: part.cover.weekly = 100; part.body.weekly = 1100."
    assert notes(draft) == f"{both}\nBetween.\nEnd."


def test_guesses_follow_a_name_and_go_with_the_thing() -> None:
    draft = added(covered(), "rush", "call")
    draft = SetValue("today", ("rush", "call", "part"), "cover").apply(draft)
    draft = added(draft, "order", "big")
    draft = RenameThing("part", "cover", "lid").apply(draft)
    assert resolve(draft, "today").origin("part", "lid", "cycle").guessed
    draft = RenameThing("part", "body", "corpus").apply(draft)
    assert resolve(draft, "today").origin("order", "big", "part").guessed
    draft = RemoveThing("today", "order", "big").apply(draft)
    assert not any(path[0] == "order" for path in guesses_of(draft.scenario("today")))


def test_on_the_screen_guesses_have_the_labels_of_the_sheet() -> None:
    assert in_words(f"Before.\n{SENTENCE} Behind.") == (
        "Before.\nAssumed until measured: cycle (part cover): 10 min; weekly demand (part cover): "
        "100. Behind."
    )
    on = "Assumed until measured: part.cover.on.mill.cycle = 9 min; part.body.cycle = 9 min."
    label = "Assumed until measured: cycle there (part cover on mill): 9 min; cycle (part body): "
    assert in_words(on) == f"{label}9 min."
    assert in_words("Nothing of that sort.") == "Nothing of that sort."


@pytest.mark.long
def test_the_ranking_marks_them_too() -> None:
    draft = study()
    entered = sensitivity(draft, "today", Memory(), silent)
    text = "Assumed until measured: part.body.cycle = 10 min."
    guessed = sensitivity(
        SetValue("today", ("notes",), text).apply(draft), "today", Memory(), silent
    )
    before, after = (
        next(one for one in found.effects if one.input.dotted == "part.body.cycle")
        for found in (entered, guessed)
    )
    assert not before.input.origin.is_assumed
    assert source_words(after.input.origin) == "assumed when it was added: measure it"
    assert after.most == before.most
    assert any("Only assumed" in said and "cycle" in said for said in ranking_sentences(guessed))


# -- a copy, and what was taken out ----------------------------------------------------------


def test_a_copy_has_all_that_holds_and_no_defaults() -> None:
    draft = DuplicateThing("six_pallets", "machine", "mill", "mill_2").apply(valves())
    copied = {
        path[2]: raw
        for path, raw in draft.scenario("six_pallets").entered.items()
        if path[:2] == ("machine", "mill_2")
    }
    assert copied == {"count": 2, "pallets": 6, "table": ("630 mm", "500 mm")}
    assert draft.scenario("today") == valves().scenario("today")
    assert resolve(draft, "night").raw("machine", "mill_2", "pallets") == 6


def test_parts_may_be_made_on_a_copy_as_on_the_first() -> None:
    draft = today(
        "machine.lathe.count = 1",
        'part.body.machines = ["mill", "lathe"]',
        'part.body.on.mill.cycle = "9 min"',
    )
    draft = DuplicateThing("today", "machine", "mill", "new").apply(draft)
    resolved = resolve(draft, "today")
    assert resolved.raw("part", "body", "machines") == ("mill", "new", "lathe")
    assert resolved.raw("part", "body", "on", "new", "cycle") == "9 min"
    assert check(draft).problems == ()


def test_a_copy_of_a_guess_is_a_guess() -> None:
    draft = DuplicateThing("child", "part", "cover", "lid").apply(covered())
    assert resolve(draft, "child").origin("part", "lid", "cycle").guessed
    assert notes(draft, "child") == SENTENCE.replace("cover", "lid")


def test_a_guess_that_is_kept_in_a_move_is_a_guess() -> None:
    draft = MoveKeeping("child", None).apply(covered())
    resolved = resolve(draft, "child")
    assert resolved.origin(*CYCLE).guessed
    assert resolved.raw("part", "body", "cycle") == "11 min"
    assert not resolved.origin("part", "body", "cycle").is_assumed
    assert notes(draft, "child") == SENTENCE


def test_a_thing_with_nothing_entered_can_be_copied() -> None:
    draft = added(today(), "machine", "new")
    draft = DuplicateThing("today", "machine", "new", "newer").apply(draft)
    assert resolve(draft, "today").ids("machine") == ("mill", "new", "newer")


def test_copies_are_refused_in_words() -> None:
    with refusing("There is no machine lathe in today"):
        DuplicateThing("today", "machine", "lathe", "x").apply(today())
    with refusing("There is a machine mill already"):
        DuplicateThing("today", "machine", "mill", "mill").apply(today())


def test_what_was_taken_out_has_the_parents_value_again() -> None:
    draft = RemoveThing("six_pallets", "part", "body").apply(valves())
    edit = BringBack("six_pallets", "part", "body")
    assert edit.says(draft) == "part body back in Six pallets (weekly 1100)"
    assert resolve(edit.apply(draft), "six_pallets").raw("part", "body", "weekly") == 1100
    assert notes(edit.apply(draft), "six_pallets") is None


@pytest.mark.parametrize("group", THINGS)
def test_what_has_no_value_to_go_back_to_has_a_guess(group: str) -> None:
    draft = added(valves(), group, "new")
    out = RemoveThing("six_pallets", group, "new").apply(draft)
    again = RemoveThing("night", group, "new").apply(out)
    draft = BringBack("night", group, "new").apply(again)
    assert check(draft).problems == ()
    assert len(guesses_of(draft.scenario("night"))) == 1
    # Above it is out all the same.
    assert draft.scenario("six_pallets") == again.scenario("six_pallets")


def test_what_is_there_is_not_brought_back() -> None:
    with refusing("machine mill is not removed from today"):
        BringBack("today", "machine", "mill").apply(today())
