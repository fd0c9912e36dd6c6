import pickle
from typing import Any

import pytest
from refusals import refusing
from study_texts import today, valves

from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import (
    AddScenario,
    AddThing,
    ClearValue,
    DuplicateScenario,
    DuplicateThing,
    Edit,
    EditError,
    MoveScenario,
    RemoveScenario,
    RemoveThing,
    RenameScenario,
    RenameThing,
    SetHead,
    SetValue,
)
from whatif.study.file.reading import read_text
from whatif.study.file.writing import to_text
from whatif.study.raw import EMPTY
from whatif.study.resolve import Origin, Source, resolve
from whatif.telling.refusals import refusal_words

COUNT = ("machine", "mill", "count")
PALLETS = ("machine", "mill", "pallets")
TODAY = "Three mills, parts loaded on the table"
CYCLE = ("part", "body", "cycle")


def entered(draft: Draft, scenario: str) -> dict[str, Any]:
    return {".".join(path): raw for path, raw in draft.scenario(scenario).entered.items()}


def refused(edit: Edit, draft: Draft) -> str:
    with pytest.raises(EditError) as caught:
        edit.apply(draft)
    return refusal_words(caught.value)


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (SetValue("six_pallets", PALLETS, 8), "pallets each 6 -> 8 in Six pallets"),
        (SetValue("night", CYCLE, "9 min"), "cycle 11 min -> 9 min in night"),
        (SetValue("night", CYCLE, ""), "cycle 11 min -> not given in night"),
        (
            SetValue("night", ("shift", "early", "people"), 3),
            "early people 2 -> 3 in night",
        ),
        (
            SetValue("night", ("part", "body", "on", "mill", "cycle"), "9 min"),
            "cycle on mill not given -> 9 min in night",
        ),
        (
            SetValue("night", ("part", "body", "unattended"), False),
            "runs unattended yes -> no in night",
        ),
        (
            ClearValue("six_pallets", COUNT),
            "machines 2 -> 3 (no longer entered) in Six pallets",
        ),
        (
            SetValue("today", ("unattended", "after_shift"), "5 h"),
            f"hours after the shift 0 h -> 5 h in {TODAY}",
        ),
        (SetHead("weeks", 26), "weeks 13 -> 26"),
        (SetHead("weeks", ""), "weeks 13 -> settled"),
        (
            SetHead("reference", "night"),
            "reference Three mills, parts loaded on the table -> night",
        ),
        (AddScenario("x", "six_pallets", "Eight"), "new scenario Eight, based on Six pallets"),
        (AddScenario("x", None), "new scenario x"),
        (DuplicateScenario("six_pallets", "x", "Eight"), "copy of Six pallets: Eight"),
        (RemoveScenario("night"), "night removed"),
        (RemoveScenario("six_pallets"), "Six pallets removed, with all based on it (night)"),
        (RenameScenario("night", "nights"), "id night -> nights"),
        (MoveScenario("night", None), "night based on nothing"),
        (MoveScenario("night", "today"), f"night based on {TODAY}"),
        (AddThing("night", "machine", "lathe"), "new machine lathe in night"),
        (RemoveThing("night", "machine", "mill"), "machine mill removed from night"),
        (RenameThing("machine", "mill", "vmc"), "machine mill -> vmc"),
    ],
)
def test_every_edit_has_a_short_name_and_can_be_kept(edit: Edit, words: str) -> None:
    draft = valves()
    assert edit.says(draft) == words
    assert pickle.loads(pickle.dumps(edit)) == edit
    edit.apply(draft)
    assert draft == valves()


def test_a_value_is_entered_where_it_is_set_and_nowhere_else() -> None:
    draft = SetValue("night", CYCLE, "9 min").apply(valves())
    assert entered(draft, "night")["part.body.cycle"] == "9 min"
    assert draft.scenario("today") == valves().scenario("today")
    assert resolve(draft, "night").origin(*CYCLE).kind is Source.ENTERED


def test_a_value_may_be_wrong_and_the_check_tells() -> None:
    draft = SetValue("night", CYCLE, "9").apply(valves())
    assert [problem.key for problem in check(draft).problems] == ["part.body.cycle"]


def test_lists_may_be_given_as_lists() -> None:
    edit = SetValue("night", ("shift", "early", "days"), ["mon", "sat"])  # type: ignore[arg-type]  # as an editor may hand it over
    assert entered(edit.apply(valves()), "night")["shift.early.days"] == ("mon", "sat")
    assert hash(edit)


def test_the_empty_text_is_entered_only_against_an_inherited_value() -> None:
    draft = SetValue("night", COUNT, "").apply(valves())
    assert entered(draft, "night")["machine.mill.count"] == ""
    draft = SetValue("today", COUNT, "").apply(valves())
    assert "machine.mill.count" not in entered(draft, "today")
    assert SetValue("night", ("money", "wage"), "").apply(valves()) == valves()


def test_setting_a_value_keeps_the_order_of_things() -> None:
    draft = today("machine.lathe.count = 1", "machine.saw.count = 1")
    draft = SetValue("today", COUNT, 5).apply(draft)
    assert draft.scenario("today").ids("machine") == ("mill", "lathe", "saw")


def test_setting_a_value_takes_away_what_stands_wrongly_below_it() -> None:
    draft = SetValue("today", ("handling", "walk"), "2 min").apply(today("handling.walk.x = 1"))
    assert check(draft).problems == ()


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (SetValue("nowhere", COUNT, 1), "There is no scenario nowhere."),
        (SetValue("night", ("machine", "mill", "cuont"), 1), "Did you mean machine.mill.count?"),
        (SetValue("night", ("colour",), 1), "There is no key colour."),
        (
            SetValue("night", ("machine", "saw", "count"), 1),
            "There is no machine saw in night. There are: mill",
        ),
        (SetValue("today", ("parent",), "night"), "which inherits from it"),
        (ClearValue("night", COUNT), "machine.mill.count is not entered in night."),
        (SetHead("titel", "x"), "Did you mean title?"),
        (SetHead("reference", "x"), "There is no scenario x."),
        (AddScenario("night", None), "There is a scenario night already"),
        (AddScenario("a b", None), "an id of letters"),
        (AddScenario("x", "y"), "There is no scenario y."),
        (DuplicateScenario("x", "y"), "There is no scenario x."),
        (RemoveScenario("today"), "at least one scenario"),
        (RenameScenario("night", "today"), "There is a scenario today already"),
        (RenameScenario("night", ""), "an id of letters"),
        (MoveScenario("today", "night"), "which inherits from it"),
        (MoveScenario("today", "today"), "which inherits from it"),
        (MoveScenario("night", "x"), "There is no scenario x."),
        (AddThing("night", "machine", "mill"), "There is a machine mill already"),
        (AddThing("night", "robot", "r"), "There is no sort of thing robot. There are: "),
        (AddThing("night", "part", "p", (("cycel", "1 min"),)), "Did you mean part.p.cycle?"),
        (RemoveThing("night", "machine", "saw"), "There is no machine saw in night."),
        (RenameThing("machine", "saw", "x"), "There is no machine saw in this study."),
        (RenameThing("shift", "early", "late"), "There is a shift late already"),
    ],
)
def test_an_edit_that_cannot_be_made_says_why(edit: Edit, words: str) -> None:
    assert words in refused(edit, valves())


def test_a_plain_value_in_the_way_is_told() -> None:
    draft = read_text("format = 1\n[scenario]\na = 3\nb.machine = 3")
    assert "scenario.a holds a plain value" in refused(SetValue("a", ("title",), "A"), draft)
    assert "machine holds a plain value" in refused(SetValue("b", COUNT, 3), draft)
    assert "machine holds a plain value" in refused(AddThing("b", "machine", "m"), draft)
    assert "holds a plain value" in refused(AddScenario("c", None), read_text("scenario = 3"))


def test_a_cleared_value_comes_from_the_parent_again() -> None:
    draft = ClearValue("six_pallets", COUNT).apply(valves())
    given = resolve(draft, "six_pallets")
    assert given.raw(*COUNT) == 3
    assert given.origin(*COUNT) == Origin(Source.INHERITED, "today")


def test_a_thing_of_its_own_outlives_its_last_value() -> None:
    draft = read_text(
        "format = 1\n[scenario.a]\nmachine.m.count = 2\nmachine.n.count = 1\n"
        "[scenario.b]\nparent = 'a'\nmachine.m.count = 3"
    )
    own = ClearValue("a", ("machine", "m", "count")).apply(draft)
    assert own.scenario("a").entered["machine", "m"] == EMPTY
    assert resolve(own, "a").ids("machine") == ("m", "n")
    assert read_text(to_text(own)) == own
    inherited = ClearValue("b", ("machine", "m", "count")).apply(draft)
    assert entered(inherited, "b") == {"parent": "a"}


def test_an_edit_that_cannot_be_made_has_no_name() -> None:
    with refusing("not entered in night"):
        ClearValue("night", COUNT).says(valves())


def test_unknown_keys_can_be_cleared() -> None:
    draft = ClearValue("today", ("colour",)).apply(today("colour = 3").with_head("size", 3))
    assert check(SetHead("size", "").apply(draft)).problems == ()
    assert ClearValue("today", ("colour",)).says(today("colour = 3")) == "colour removed from today"
    assert SetHead("size", "").says(draft) == "size removed"


def test_new_scenarios_stand_behind_the_family_they_belong_to() -> None:
    draft = AddScenario("root", None, "Other").apply(valves())
    draft = AddScenario("eight", "six_pallets").apply(draft)
    draft = DuplicateScenario("six_pallets", "seven").apply(draft)
    assert draft.ids == ("today", "six_pallets", "night", "eight", "seven", "root")
    assert entered(draft, "eight") == {"parent": "six_pallets"}
    assert entered(draft, "root") == {"title": "Other"}
    assert entered(draft, "seven") == {
        key: raw for key, raw in entered(draft, "six_pallets").items() if key != "title"
    }
    assert check(draft).problems == ()


def test_a_scenario_goes_with_all_that_are_based_on_it() -> None:
    draft = AddScenario("other", None).apply(valves())
    edit = RemoveScenario("today")
    assert edit.removes(draft) == ("today", "six_pallets", "night")
    assert edit.says(draft).endswith("; the reference is now other")
    left = edit.apply(draft)
    assert left.ids == ("other",)
    assert "reference" not in left.head
    assert check(left).problems == ()


def test_what_names_a_scenario_follows_its_new_id() -> None:
    draft = RenameScenario("today", "now").apply(valves())
    assert draft.ids == ("now", "six_pallets", "night")
    assert draft.head["reference"] == "now"
    assert draft.scenario("six_pallets").parent == "now"
    assert check(draft).problems == ()
    assert RenameScenario("today", "today").apply(valves()) == valves()


def test_a_scenario_can_be_moved_in_the_tree() -> None:
    draft = MoveScenario("night", "today").apply(valves())
    assert resolve(draft, "night").raw(*COUNT) == 3
    assert MoveScenario("night", None).apply(draft).scenario("night").parent is None
    assert SetValue("night", ("parent",), "today").apply(valves()) == draft
    assert SetValue("night", ("parent",), "").apply(valves()).scenario("night").parent is None


def test_a_new_thing_stands_last_with_its_values() -> None:
    values = (("weekly", 5), ("cycle", "2 min"), ("on.mill.cycle", "1 min"))
    draft = AddThing("night", "part", "axle", values).apply(valves())
    assert resolve(draft, "night").ids("part") == ("body", "axle")
    assert entered(draft, "night")["part.axle.on.mill.cycle"] == "1 min"
    assert check(draft).problems == ()
    bare = AddThing("night", "machine", "lathe").apply(valves())
    assert resolve(bare, "night").ids("machine") == ("mill", "lathe")


@pytest.mark.parametrize(
    ("group", "one", "key", "nothing"),
    [
        ("shift", "late", "people", 0),
        ("machine", "mill", "count", 0),
        ("part", "body", "weekly", 0),
        ("stop", "chips", "every", "0 h"),
        ("rush", "r", "pieces", 0),
        ("order", "o", "pieces", 0),
    ],
)
def test_an_inherited_thing_is_taken_out_by_nothing(
    group: str, one: str, key: str, nothing: object
) -> None:
    draft = today(
        "shift.late = {days = ['mon'], start = '06:00', end = '14:00'}",
        "stop.chips = {every = '9 h', repair = '1 h'}",
        "rush.r = {part = 'body', pieces = 1}",
        "order.o = {part = 'body', pieces = 1, due = 'fri 12:00'}",
        "[scenario.child]",
        "parent = 'today'",
    )
    draft = RemoveThing("child", group, one).apply(draft)
    assert entered(draft, "child") == {"parent": "today", f"{group}.{one}.{key}": nothing}
    assert check(draft).problems == ()


def test_a_thing_of_its_own_goes_with_all_that_is_entered_for_it() -> None:
    draft = today(
        "machine.lathe.count = 1",
        'part.body.machines = ["mill", "lathe"]',
        'part.body.on.lathe.cycle = "9 min"',
        "[scenario.child]",
        'parent = "today"',
        "machine.lathe.faces = 2",
        'part.body.on.lathe.load = "9 min"',
    )
    draft = RemoveThing("today", "machine", "lathe").apply(draft)
    assert not [key for key in entered(draft, "today") if "lathe" in key]
    assert entered(draft, "today")["part.body.machines"] == ("mill",)
    assert entered(draft, "child") == {"parent": "today"}
    assert check(draft).problems == ()


def test_a_thing_that_others_cannot_do_without_is_kept() -> None:
    draft = today("machine.lathe.count = 1", 'part.body.machines = ["lathe"]')
    words = refused(RemoveThing("today", "machine", "lathe"), draft)
    assert words.startswith("part.body in today is made on lathe alone")
    draft = today("rush.r = {part = 'body', pieces = 1}")
    words = refused(RemoveThing("today", "part", "body"), draft)
    assert words.startswith("rush.r in today asks for body")


def test_what_names_a_thing_follows_its_new_id() -> None:
    draft = today(
        'part.body.machines = ["mill"]',
        'part.body.on.mill.cycle = "9 min"',
        "part.axle = {cycle = '1 min', weekly = 3}",
        "rush.r = {part = 'body', pieces = 1}",
        "order.o = {part = 'body', pieces = 1, due = 'fri 12:00'}",
        "[scenario.child]",
        'parent = "today"',
        "machine.mill.faces = 2",
        'part.body.load = "3 min"',
    )
    draft = RenameThing("machine", "mill", "vmc").apply(draft)
    draft = RenameThing("part", "body", "valve").apply(draft)
    text = to_text(draft)
    assert "mill" not in text
    assert "body" not in text
    assert resolve(draft, "child").ids("part") == ("valve", "axle")
    assert check(draft).problems == ()
    assert RenameThing("part", "valve", "valve").apply(draft) == draft


def test_edits_replay_on_another_draft() -> None:
    edits: list[Edit] = [
        AddScenario("eight", "six_pallets", "Eight pallets"),
        SetValue("eight", PALLETS, 8),
        AddThing("eight", "part", "axle", (("cycle", "2 min"), ("weekly", 50))),
        RemoveThing("eight", "part", "body"),
        SetHead("weeks", 4),
    ]
    drafts = [valves(), valves("machine.mill.faces = 2")]
    for edit in edits:
        drafts = [edit.apply(draft) for draft in drafts]
    assert drafts[0].scenario("eight") == drafts[1].scenario("eight")
    assert check(drafts[0]).problems == ()


def test_what_stands_in_the_shop_today_follows_its_new_id_or_is_named_no_more() -> None:
    draft = SetHead("today", "night").apply(valves())
    assert SetHead("today", "night").says(valves()).startswith("today Three mills")
    assert RenameScenario("night", "nights").apply(draft).head["today"] == "nights"
    left = RemoveScenario("night").apply(draft)
    assert "today" not in left.head
    assert left.today_id == "today"


def test_a_copy_of_an_operation_stands_by_itself() -> None:
    """Raw is wanted 1100 / (1 - 0.334) = 1651.65 times a week, for body."""
    draft = today(
        "part.raw.cycle = '5 min'", "part.body.scrap = '33.4 %'", "part.body.after = 'raw'"
    )
    copied = DuplicateThing("today", "part", "body", "body2").apply(draft)
    copied = DuplicateThing("today", "part", "raw", "raw2").apply(copied)
    assert check(copied).problems == ()
    held = copied.scenario("today").entered
    assert ("part", "body2", "after") not in held
    # 1100 / 0.666, rounded up
    assert held["part", "raw2", "weekly"] == 1652
