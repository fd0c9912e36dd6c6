"""Every key: its row and help on the sheet, entered, undone, done again, saved and read again."""

from __future__ import annotations

from pathlib import Path as FilePath
from typing import Any

import pytest

from whatif.session.session import Session
from whatif.session.sheet import AS_TYPED, Line, cell, rows
from whatif.study.edits import SetHead, SetValue
from whatif.study.file.reading import read_file
from whatif.study.raw import Raw
from whatif.study.schema.catalogue import ANY, HEAD_KEYS, KEYS, Key
from whatif.study.schema.kinds import Kind
from whatif.telling.in_words import key_words
from whatif.telling.sheet_cell import about_value, meaning_words

STUDY = """\
format = 1
title = "All keys"
[scenario.now]
said.with_people.cutting = "50 %"
hour_meters.switched_on = "400 h"
hour_meters.in_cut = "100 h"
shift.x.days = ["mon", "tue"]
shift.x.start = "06:00"
shift.x.end = "14:00"
machine.x.count = 2
part.x.cycle = "10 min"
part.x.weekly = 100
part.x.on.x.load = "3 min"
part.before.cycle = "8 min"
part.before.weekly = 90
stop.x.every = "40 h"
stop.x.repair = "20 min"
rush.x.part = "x"
rush.x.pieces = 2
order.x.part = "x"
order.x.pieces = 10
order.x.due = "week 2 fri 12:00"
[scenario.other]
parent = "now"
"""

BY_NAME: dict[str, Raw] = {
    "start": "05:00",
    "end": "13:00",
    "breaks": ("08:30-08:45",),
    "unpaid_breaks": ("11:00-11:30",),
    "does": ("load", "release"),
    "days": ("tue", "fri"),
    "nights": ("mon", "thu"),
    "machines": ("x",),
    "after": "before",
    "part": "before",
    "arrives": "mon 10:00",
    "due": "week 3 fri 12:00",
    "table": ("900 mm", "500 mm"),
    "travel": ("35 1/2 in", "500 mm"),
    "size": ("140 mm", "90 mm", "60 mm"),
    "currency": "EUR",
    "notes": "Two lines\nof notes.",
    "title": "A title",
    "in_cut": "37 %",
    "weeks": 26,
    "done_on": "2025-03-31",
}
BY_KIND: dict[str, Raw] = {
    "Time": "1 h 30 min",
    "TimeInHours": "1 h 30 min",
    "TimeOr": "until done",
    "Percent": "12.5 %",
    "Length": "5 1/2 in",
    "Mass": "40 lb",
    "Area": "12 m²",
    "Count": 3,
    "Number": 7,
}


def another(key: Key) -> Raw:
    """A value that this key may have and has not by itself."""
    if key.dotted == "said.machines":
        return 4
    if key.dotted == "hour_meters.switched_on":
        return "500 h"
    if key.dotted == "hour_meters.in_cut":
        return "120 h"
    if key.name in BY_NAME:
        return BY_NAME[key.name]
    if key.choices:
        return next(raw for raw, _, _ in key.choices if raw != key.default)
    kind: Kind[Any] = key.kind
    return BY_KIND[type(kind).__name__]


@pytest.fixture
def session(tmp_path: FilePath) -> Session:
    path = tmp_path / "all.toml"
    path.write_text(STUDY, "utf-8")
    return Session(read_file(path))


@pytest.mark.parametrize(
    "key", [key for key in KEYS if key.name != "parent"], ids=lambda key: key.dotted
)
def test_a_key_of_a_scenario(key: Key, session: Session) -> None:
    path = tuple("x" if part == ANY else part for part in key.pattern)
    raw, before = another(key), session.draft

    # As it is typed over the value on the sheet.
    assert session.type("now", path, key.kind.written(raw)) == ""
    assert session.keep()
    assert session.draft.scenario("now").entered[path] == raw
    line = next(
        row
        for row in rows(session.checked, ["now"], frozenset())
        if isinstance(row, Line) and row.path == path
    )
    shown = cell(session.checked, "now", path, AS_TYPED)
    assert (shown.text, shown.exists) == (key.kind.written(raw), True)
    assert line.label in about_value(session.checked, "now", path, line.label, shown)
    assert meaning_words(path).endswith(key.says.find)
    assert key.kind.allowed in key_words(path) or key.kind.typed_as in key_words(path)

    changed = session.draft
    assert session.undo()
    assert session.draft == before
    assert session.redo()
    assert session.draft == changed
    session.save()
    assert read_file(session.path).draft == changed
    if key.says.inherited:
        assert session.checked.resolved["other"].raw(*path) == raw
        if not key.required and key.name not in ("cycle", "weekly"):
            session.do(SetValue("other", path, ""))
            assert session.checked.resolved["other"].raw(*path) == key.default
            session.save()
            assert read_file(session.path).draft == session.draft


@pytest.mark.parametrize("name", [name for name in HEAD_KEYS if name != "format"])
def test_a_root_key(name: str, session: Session) -> None:
    key, before = HEAD_KEYS[name], session.draft
    raw: Raw = {"reference": "other", "today": "other"}.get(name) or another(key)
    edit = SetHead(name, key.kind.typed(key.kind.written(raw)))
    assert session.do(edit)
    assert session.draft.head[name] == raw
    assert session.checked.study is not None
    session.save()
    assert read_file(session.path).draft == session.draft
    session.undo()
    assert session.draft == before
