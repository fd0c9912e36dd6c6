"""Levers of a study: read, checked, written back as they were, entered and taken out."""

from __future__ import annotations

import pytest

from whatif.study.check.check import check
from whatif.study.edits import SetLever, between
from whatif.study.file.reading import read_text
from whatif.study.file.writing import to_text
from whatif.study.levers import levers_of

STUDY = """\
format = 1

[lever.pallets]
key = "machine.mill.pallets"
values = ["2", "4"]
price = 40000
price_each = 6500.50
also.part.body.fixtures = ""
also.machine.mill.table = ["40 cm", "40 cm"]

[lever.quick]
key = "part.*.setup"
values = ["65 %", "-10 min"]

[scenario.today]

[scenario.today.shift.day]
days = ["mon"]
start = "06:00"
end = "14:00"

[scenario.today.machine.mill]

[scenario.today.part.body]
cycle = "10 min"
weekly = 100
"""


def test_levers_are_written_as_they_were_read() -> None:
    draft = read_text(STUDY)
    assert check(draft).is_sound
    assert check(draft).study is not None
    assert to_text(draft) == STUDY


def test_a_lever_says_what_is_tried_and_what_it_costs() -> None:
    pallets = levers_of(read_text(STUDY))["pallets"]
    assert pallets.key == ("machine", "mill", "pallets")
    assert pallets.values == ("2", "4")
    assert (pallets.price, float(pallets.price_each), pallets.yearly) == (40000, 6500.5, 0)
    assert dict(pallets.also)["part", "body", "fixtures"] == ""


@pytest.mark.parametrize(
    ("line", "key", "nearest"),
    [
        ('key = "machine.mill.palets"', "lever.x.key", "machine.mill.pallets"),
        ('key = "part.*.setup"\nvalues = ["10"]', "lever.x.values", None),
        ('key = "part.*.batch"\nvalues = ["+1 min"]', "lever.x.values", None),
        ('key = "part.*.batch"\nvalues = [20]', "lever.x.values", None),
        ("pric = 3", "lever.x.pric", "lever.x.price"),
        ("price = -3", "lever.x.price", None),
        ("also.machine.mill.cout = 2", "lever.x.also.machine.mill.cout", "machine.mill.count"),
    ],
)
def test_what_is_wrong_is_told_at_its_place(line: str, key: str, nearest: str | None) -> None:
    problems = check(
        read_text(STUDY.replace("[lever.quick]", f"[lever.x]\n{line}\n\n[lever.quick]"))
    ).problems
    found = {problem.key: problem.nearest for problem in problems}
    assert found.get(key, "none") == nearest


def test_a_lever_needs_a_key_and_values() -> None:
    draft = read_text(STUDY.replace('values = ["65 %", "-10 min"]', "").replace("part.*", "part.*"))
    assert [problem.key for problem in check(draft).problems] == ["lever.quick.values"]
    lacking = [problem.key for problem in check(read_text("format = 1\nlever = 3\n")).problems]
    assert "lever" in lacking


def test_a_lever_is_entered_changed_and_removed_and_told_on_the_way() -> None:
    draft = read_text(STUDY)
    entries = levers_of(draft)["quick"].entries | {("values",): ("50 %",)}
    edit = SetLever("quick", tuple(entries.items()))
    assert edit.says(draft) == "lever quick changed"
    changed = edit.apply(draft)
    assert levers_of(changed)["quick"].values == ("50 %",)
    assert [each.says for each in between(draft, changed)] == ["levers of the search changed"]
    gone = SetLever("pallets").apply(SetLever("quick").apply(changed))
    assert "lever" not in gone.head
    assert "lever" not in to_text(gone)
