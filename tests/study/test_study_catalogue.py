import re

import pytest

from whatif.study.edits.starting import usual_amount
from whatif.study.schema.catalogue import (
    HEAD_KEYS,
    KEYS,
    TAKES_OUT,
    THINGS,
    Key,
    key_for,
    keys_of,
    nearest_head,
    nearest_key,
)
from whatif.study.schema.kinds import Choice, Count, Flag, Id, Ids, Number, Time

# The keys, their order and their defaults in words are those of the book: tests/test_rules.py.


@pytest.mark.parametrize(
    ("path", "default", "words"),
    [
        ("part.body.per_pallet", None, "as many as fit; 1 where that is unknown"),
        ("part.body.on.mill.cycle", None, "as for the part"),
        ("part.body.size", None, "not given"),
        ("part.body.cycle", None, "required"),
        ("part.body.unattended", True, "yes"),
        ("shift.early.breaks", (), "none"),
        ("order.x.arrives", "mon 00:00", "the start of week 1"),
    ],
)
def test_a_default_is_told_in_words(path: str, default: object, words: str) -> None:
    key = key_for(tuple(path.split(".")))
    assert key is not None
    assert (key.default, key.default_words, key.required) == (default, words, words == "required")


@pytest.mark.parametrize("key", [*KEYS, *HEAD_KEYS.values()], ids=lambda key: key.dotted)
def test_every_key_says_what_it_is_and_how_a_shop_finds_it(key: Key) -> None:
    assert 2 < len(key.label) <= 24
    assert key.says.meaning
    assert re.fullmatch(r"[A-Z].*[.?]", key.says.find)
    assert key.required == (key.default_words == "required")
    if key.default is not None and key.default != "":
        key.kind.read(key.default)


@pytest.mark.parametrize("key", KEYS, ids=lambda key: key.dotted)
def test_every_key_has_what_its_kind_needs(key: Key) -> None:
    says = key.says
    assert bool(key.choices) == isinstance(key.kind, Choice | Flag)
    assert all(words for _, _, words in key.choices)
    assert all(key.kind.read(raw) == raw for raw, _, _ in key.choices)
    assert (says.names in THINGS) == isinstance(key.kind, Id | Ids) or key.name == "parent"
    if says.usual is not None:
        key.kind.read(says.usual)
    if says.tries:
        assert all(key.kind.read(key.kind.typed(end)) for end in says.tries.split("..")[1:])
    if says.money is not None:
        assert key.kind == Number()
    assert key.kind.numeric or (says.varied and says.ranked and not says.tries and not says.counts)


def test_what_a_thing_must_have_has_a_usual_value_or_is_chosen_for_it() -> None:
    chosen = {"shift.days", "shift.start", "shift.end", "rush.part", "order.part", "order.due"}
    lacking = {f"{key.group}.{key.name}" for key in KEYS if key.required and key.says.usual is None}
    assert lacking == chosen
    assert set(TAKES_OUT) == set(THINGS)
    assert {group: usual_amount(group) for group in THINGS} == {
        "machine": 1,
        "shift": 1,
        "part": 100,
        "stop": "40 h",
        "rush": 1,
        "order": 20,
    }


def test_only_what_belongs_to_a_scenario_alone_is_not_inherited() -> None:
    own = {key.dotted for key in KEYS if not key.says.inherited}
    assert own == {
        "title",
        "notes",
        "parent",
        "done_on",
        "hour_meters.switched_on",
        "hour_meters.in_cut",
        "hour_meters.weeks",
        "hour_meters.gap",
    }


def test_things_stand_in_the_book_s_order() -> None:
    assert THINGS == ("shift", "machine", "part", "stop", "rush", "order")
    assert all(key_for((group, "x", name)) for group, name in TAKES_OUT.items())
    assert {key.group for key in keys_of("machine")} == {"machine"}


def test_a_path_leads_to_its_key_and_kind() -> None:
    count = key_for(("machine", "mill", "count"))
    assert count is not None
    assert (count.kind, count.name, count.group) == (Count(0, 200), "count", "machine")
    on = key_for(("part", "body", "on", "mill", "cycle"))
    assert on is not None
    assert on.kind == Time(above_zero=True)
    table = key_for(("machine", "mill", "table"))
    assert table is not None
    assert count.kind.numeric
    assert not table.kind.numeric


@pytest.mark.parametrize(
    "path",
    [
        (),
        ("machine",),
        ("machine", "mill"),
        ("machine", "*", "count"),
        ("machine", "mill", "cuont"),
        ("machine", "mill", "count", "x"),
        ("part", "body", "on", "mill", "gap"),
        ("weeks",),
    ],
)
def test_a_path_that_is_no_key_leads_nowhere(path: tuple[str, ...]) -> None:
    assert key_for(path) is None


@pytest.mark.parametrize(
    ("path", "meant"),
    [
        ("machine.mill.cuont", "machine.mill.count"),
        ("machines.mill.count", "machine.mill.count"),
        ("part.body.on.mill.cycel", "part.body.on.mill.cycle"),
        ("handling.Walk", "handling.walk"),
        ("after_shift", "unattended.after_shift"),
        ("machine.mill.cycle", "part.<id>.cycle"),
        ("part.body.colour", None),
        ("xyzzy", None),
    ],
)
def test_the_nearest_key_is_the_one_most_likely_meant(path: str, meant: str | None) -> None:
    assert nearest_key(tuple(path.split("."))) == meant


def test_the_nearest_root_key() -> None:
    assert nearest_key(()) is None
    assert nearest_head("titel") == "title"
    assert nearest_head("colour") is None
