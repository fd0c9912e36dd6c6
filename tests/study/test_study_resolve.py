import pytest
from study_texts import today, valves

from whatif.study.draft import Draft
from whatif.study.file.reading import read_text
from whatif.study.raw import Raw
from whatif.study.resolve import Source, resolve
from whatif.telling.sources import source_words


def held(draft: Draft, scenario: str, dotted: str) -> tuple[Raw | None, str]:
    resolved = resolve(draft, scenario)
    path = tuple(dotted.split("."))
    return resolved.raw(*path), source_words(resolved.origin(*path))


@pytest.mark.parametrize(
    ("scenario", "path", "raw", "origin"),
    [
        ("today", "machine.mill.count", 3, "entered"),
        ("six_pallets", "machine.mill.count", 2, "entered"),
        ("night", "machine.mill.count", 2, "inherited from six_pallets"),
        ("night", "part.body.cycle", "11 min", "inherited from today"),
        ("night", "unattended.after_shift", "until done", "entered"),
        ("night", "handling.walk", "1 min", "assumed"),
        ("night", "machine.mill.travel", None, "assumed"),
        ("night", "title", "", "assumed"),
        ("night", "parent", "six_pallets", "entered"),
        ("today", "parent", None, "assumed"),
    ],
)
def test_each_value_comes_from_the_nearest_scenario_that_enters_it(
    scenario: str, path: str, raw: Raw, origin: str
) -> None:
    assert held(valves(), scenario, path) == (raw, origin)


def test_values_are_inherited_at_any_depth() -> None:
    lines = ["format = 1", "[scenario.s0]", 'handling.walk = "7 s"']
    for depth in range(1, 60):
        lines += [f"[scenario.s{depth}]", f'parent = "s{depth - 1}"']
    draft = read_text("\n".join(lines))
    assert held(draft, "s59", "handling.walk") == ("7 s", "inherited from s0")


def test_the_empty_text_takes_a_value_back_to_what_is_assumed() -> None:
    draft = read_text(
        "[scenario.a]\nhandling.walk = '9 s'\nmachine.mill.travel = ['1 m', '1 m']\n"
        "[scenario.b]\nparent = 'a'\nhandling.walk = ''\nmachine.mill.travel = ''\n"
        "[scenario.c]\nparent = 'b'\n"
        "[scenario.d]\nparent = 'c'\nhandling.walk = '8 s'\n"
    )
    for scenario in ("b", "c"):
        assert held(draft, scenario, "handling.walk") == ("1 min", "assumed")
        assert held(draft, scenario, "machine.mill.travel") == (None, "assumed")
    assert held(draft, "d", "handling.walk") == ("8 s", "entered")


def test_a_list_is_inherited_whole_and_an_empty_one_is_a_value() -> None:
    draft = valves("shift.early.breaks = []")
    assert held(draft, "night", "shift.early.breaks") == ((), "entered")
    assert held(draft, "night", "shift.late.breaks")[1] == "inherited from today"


def test_titles_notes_and_hour_meters_belong_to_a_scenario_alone() -> None:
    draft = read_text(
        "[scenario.a]\ntitle = 'A'\nnotes = 'n'\nhour_meters.switched_on = '90 h'\n"
        "hour_meters.gap = 'people'\n[scenario.b]\nparent = 'a'"
    )
    assert held(draft, "b", "title") == ("", "assumed")
    assert held(draft, "b", "notes") == ("", "assumed")
    assert held(draft, "b", "hour_meters.switched_on") == (None, "assumed")
    assert held(draft, "b", "hour_meters.gap") == ("show", "assumed")
    assert held(draft, "a", "hour_meters.gap") == ("people", "entered")


def test_things_stand_in_the_parent_s_order_then_the_scenario_s_own() -> None:
    draft = read_text(
        "[scenario.a]\nmachine.z.count = 1\nmachine.m.count = 1\n"
        "[scenario.b]\nparent = 'a'\nmachine.a.count = 1\nmachine.m.count = 5\nmachine.z.count = 0"
    )
    resolved = resolve(draft, "b")
    assert resolved.ids("machine") == ("z", "m", "a")
    listed = [path[1] for path in resolved.values if path[0] == "machine"]
    assert list(dict.fromkeys(listed)) == ["z", "m", "a"]


def test_every_key_of_every_thing_can_be_listed() -> None:
    resolved = resolve(today("machine.lathe = {}", "part.body.on.lathe.cycle = '9 min'"), "today")
    paths = list(resolved.values)
    assert len([path for path in paths if path[:2] == ("machine", "lathe")]) == 20
    assert len([path for path in paths if path[:4] == ("part", "body", "on", "lathe")]) == 6
    assert resolved.raw("part", "body", "on", "lathe", "load") is None
    assert resolved.raw("machine", "lathe", "count") == 1
    assert resolved.ids("shift") == ()
    groups = list(dict.fromkeys(path[0] for path in paths))
    assert groups.index("machine") < groups.index("part") < groups.index("money")


def test_unknown_keys_hold_nothing_but_make_their_thing_exist() -> None:
    resolved = resolve(today("machine.lathe.cuont = 2"), "today")
    assert resolved.ids("machine") == ("mill", "lathe")
    assert ("machine", "lathe", "cuont") not in resolved.values
    assert resolved.raw("machine", "lathe", "cuont") is None


def test_loops_and_missing_parents_are_survived() -> None:
    draft = read_text(
        "[scenario.a]\nparent = 'b'\nhandling.walk = '1 s'\n[scenario.b]\nparent = 'a'\n"
        "[scenario.c]\nparent = 'x'\n"
    )
    assert held(draft, "b", "handling.walk") == ("1 s", "inherited from a")
    assert held(draft, "c", "handling.walk") == ("1 min", "assumed")
    with pytest.raises(KeyError):
        resolve(draft, "x")


def test_an_origin_says_which_scenario() -> None:
    origin = resolve(valves(), "night").origin("machine", "mill", "pallets")
    assert (origin.kind, origin.scenario) == (Source.INHERITED, "six_pallets")
    assert resolve(valves(), "night").origin("no", "such", "key").kind is Source.ASSUMED
