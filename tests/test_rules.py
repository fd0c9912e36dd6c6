"""The rule book: every rule found by its name, its links sound, its keys those of the catalogue."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path

import pytest
from explain_studies import study
from json_told import json_of

from whatif.answers.indicators import KEYS as INDICATORS
from whatif.answers.states import IsoTime, states_of
from whatif.cell.states import STATES
from whatif.study.refused import Refused
from whatif.study.schema.catalogue import GROUPS, HEAD_KEYS, KEYS, LEVER_KEYS, Key
from whatif.telling.amounts import listed
from whatif.telling.refusals import refusal_words
from whatif.telling.rules import nearest_rules, rule, rules

BOOK = (files("whatif.cell") / "RULES.md").read_text("utf-8")
OF_SCENARIO = ("title", "notes", "parent", "done_on")
"""Groups of a single key each, which stand in one table."""


def test_every_anchor_is_a_rule_of_its_own() -> None:
    anchors = re.findall(r'id="([^"]*)"', BOOK)
    assert anchors == list(rules())
    assert all(one.title and one.chapter and one.text for one in rules().values())


def test_links_within_the_book_lead_to_rules() -> None:
    links = re.findall(r"\]\(#([^)]*)\)", BOOK)
    assert set(links) <= set(rules())
    assert len(links) == BOOK.count("](")


def test_a_rule_is_found_by_its_name() -> None:
    found = rule("people.bench")
    assert (found.title, found.chapter) == ("Bench work", "People")
    assert found.text.startswith("After a visit its person is busy for `bench` x pieces off more")


def test_a_name_that_is_none_brings_the_nearest() -> None:
    with pytest.raises(Refused) as fault:
        rule("people.visits")
    said = "There is no rule people.visits. Did you mean people.visit"
    assert refusal_words(fault.value).startswith(said)
    assert nearest_rules("bench") == ("people.bench",)
    assert nearest_rules("warm up") == ("machines.warm-up",)
    assert nearest_rules("") == nearest_rules("zzz") == ()


@pytest.mark.parametrize("name", rules())
def test_plain_text_has_no_marks_and_keeps_to_80_cells(name: str) -> None:
    plain = rule(name).plain
    formulas = [line for line in plain.splitlines() if line.startswith("    ")]
    assert all(len(line) <= 80 for line in plain.splitlines() if line not in formulas)
    assert not re.search(r"`|\*\*|\]\(|^\|", plain, re.MULTILINE)


# -- the keys ----------------------------------------------------------------------------


def _wanted(group: str) -> Iterator[str]:
    """The rows that the table of a group must have; paste them into the book where they differ."""
    for key in _keys(group):
        words = (f"`{key.dotted}`", key.default_words, key.kind.allowed, key.says.meaning)
        yield f"| {' | '.join(words)} |"


def _keys(group: str) -> tuple[Key, ...]:
    if group == "study":
        return tuple(HEAD_KEYS.values())
    if group == "lever":
        return tuple(LEVER_KEYS.values())
    groups = OF_SCENARIO if group == "scenario" else (group,)
    return tuple(key for key in KEYS if key.group in groups)


TABLES = ("study", "lever", "scenario", *(group for group in GROUPS if group not in OF_SCENARIO))


def test_there_is_a_table_for_every_group_of_keys() -> None:
    named = [name.removeprefix("keys.") for name in rules() if name.startswith("keys.")]
    assert named == [group.replace("_", "-") for group in TABLES]


@pytest.mark.parametrize("group", TABLES)
def test_the_book_has_every_key_with_its_default_and_range(group: str) -> None:
    text = rule(f"keys.{group.replace('_', '-')}").text
    heads = ["| key | default | allowed | meaning |", "| --- | --- | --- | --- |"]
    wanted = "\n".join([*heads, *_wanted(group)])
    assert text == wanted, f"the table must read:\n{wanted}"


# -- what is counted ---------------------------------------------------------------------


def test_the_book_has_the_states_in_their_order() -> None:
    said = re.findall(r"^[0-9]+\. `(\w+)`(?: and `(\w+)`)?", rule("states").text, re.MULTILINE)
    assert [name for names in said for name in names if name] == list(STATES)


def test_the_book_has_the_states_of_each_time_of_the_standard() -> None:
    def named(time: IsoTime) -> str:
        return listed([f"`{row.name}`" for row in states_of(time)])

    text = " ".join(rule("results.indicators").text.split())
    wanted = "; ".join(f"{time} is {named(time)}" for time in ("production", "setup", "delay"))
    assert text.startswith(wanted[0].upper() + wanted[1:] + "; busy is all of these.")


# -- what is told as JSON ------------------------------------------------------------------


def _keys_in(told: object) -> set[str]:
    """The keys of an object at any depth."""
    return set(told).union(*map(_keys_in, told.values())) if isinstance(told, dict) else set()


def _told_by_rule() -> dict[str, set[str]]:
    """The keys of a comparison by the rule that has to name them; ids are none."""
    found, checked = study("shop")
    told = json_of(found)
    resolved = checked.resolved
    things = {path[1] for one in resolved.values() for path in one.values if len(path) > 2}
    ids = things | {*resolved, *STATES, *INDICATORS}
    scenarios = list(told.pop("scenarios").values())
    parts = {
        "json.simulated": [scenario.pop("simulated") for scenario in scenarios],
        "json.fit": [scenario.pop("fit") for scenario in scenarios],
        "json.money": [
            {name: scenario.pop(name) for name in ("money", "rush", "orders")}
            for scenario in scenarios
        ],
        "json.scenario": [
            *scenarios,
            dict.fromkeys(("simulated", "fit", "money", "rush", "orders")),
        ],
        "json.compare": [told, {"scenarios": None}],
    }
    return {name: set().union(*map(_keys_in, objects)) - ids for name, objects in parts.items()}


TOLD = ("json.compare", "json.scenario", "json.simulated", "json.fit", "json.money")


def test_each_key_of_a_comparison_has_its_rule_in_the_book() -> None:
    assert [name for name in rules() if name.startswith("json.")] == list(TOLD)


@pytest.mark.parametrize("name", TOLD)
@pytest.mark.long
def test_the_book_names_the_keys_of_a_comparison_and_no_others(name: str) -> None:
    told = _told_by_rule()
    named = set(re.findall(r"`(\w+)`", rule(name).text))
    assert told[name] <= named
    of_a_study = {part for key in KEYS for part in key.pattern}
    elsewhere = set().union(*told.values()) | of_a_study if name == "json.fit" else set()
    assert named - elsewhere <= told[name]


# -- who obeys what ----------------------------------------------------------------------

ROOT = Path(__file__).parent.parent
CODE = tuple(
    path for room in ("whatif", "tests", "screenshots") for path in (ROOT / room).rglob("*.py")
)
PAGES = (ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "whatif" / "cell" / "RULES.md")

REFERENCE = re.compile(r"\brule\s+(?:#\s+)?`([^`]+)`")
"""How code and pages name a rule: the word, then the name in backticks."""

OF_OLD = re.compile(r"cell\s+model|\bsections?\s+[0-9]", re.IGNORECASE)
"""How rules were named by numbers of a text that is not here."""


def references() -> dict[Path, list[str]]:
    return {path: REFERENCE.findall(path.read_text("utf-8")) for path in (*CODE, *PAGES)}


@pytest.mark.long
def test_every_reference_leads_to_a_rule() -> None:
    lost = {
        f"{path.relative_to(ROOT)}: {name}"
        for path, names in references().items()
        for name in names
        if name not in rules()
    }
    assert not lost


@pytest.mark.long
def test_every_rule_is_named_where_it_is_obeyed() -> None:
    named = {name for path, names in references().items() if path in CODE for name in names}
    assert not set(rules()) - named


@pytest.mark.long
def test_rules_are_named_in_no_other_way() -> None:
    here = Path(__file__)
    told = (path for path in (*CODE, *PAGES) if path != here)
    assert not [path for path in told if OF_OLD.search(path.read_text("utf-8"))]
