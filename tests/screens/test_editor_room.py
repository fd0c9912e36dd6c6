"""The editor has room for all that stands in a value, and covers no half of a neighbour."""

from __future__ import annotations

from pathlib import Path

import pytest
from looks import Silent
from screen import on_screen
from small_study import STUDY

from whatif.screens.widgets.columns import Columns
from whatif.screens.widgets.editor import Editor
from whatif.study.schema.catalogue import ANY, KEYS
from whatif.telling.sheet_cell import asked_for

# Labels of 20 cells, then three columns of 12.
COLUMNS = Columns(label=20, width=12, visible=(0, 1, 2), first=0, count=3)


@pytest.mark.parametrize(
    ("column", "cells", "spanned"),
    [
        (0, 5, (20, 12)),
        (0, 11, (20, 12)),
        (0, 12, (20, 24)),  # 12 and the gap are more than one column
        (1, 20, (32, 24)),
        (2, 20, (32, 24)),  # there is none to its right
        (1, 99, (20, 36)),
    ],
)
def test_whole_columns_hold_a_text(column: int, cells: int, spanned: tuple[int, int]) -> None:
    assert COLUMNS.spanned(column, cells) == spanned


async def test_sizes_are_edited_in_one_line_as_a_whole(tmp_path: Path) -> None:
    study = tmp_path / "small.toml"
    sizes = 'size = ["1250.5 mm", "500.25 mm", "160.75 mm"]'
    study.write_text(STUDY.replace('cycle = "9 min"', f'cycle = "9 min"\n{sizes}'), "utf-8")
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        await screen.put_on(("part", "plate", "size"))
        await screen.press("enter", "f4")
        editor = screen.app.desk.query_one(Editor)
        assert editor.value == "1250.5 mm x 500.25 mm x 160.75 mm"
        assert editor.value in screen.text


async def test_what_is_typed_ends_where_the_value_did(tmp_path: Path) -> None:
    """At the left of its cell it would stand right behind the sign of its neighbour."""
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        await screen.go_to("cycle")
        line = next(each for each in screen.text.splitlines() if "   cycle  " in each)
        end = line.index("9 min") + len("9 min")
        await screen.press("3", "1")
        editor = screen.app.desk.query_one(Editor)
        typed = next(each for each in screen.text.splitlines() if "   cycle  " in each)
        assert typed[:end].endswith("    31")
        await screen.press("home")
        assert editor.cursor_screen_offset.x == end - 2
        await screen.pilot.click(Editor, offset=(end - 1 - editor.region.x, 0))
        assert editor.cursor_position == 1


async def test_what_a_value_takes_is_read_whole_while_it_is_typed(tmp_path: Path) -> None:
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        await screen.go_to("cycle")
        await screen.press("3")
        told = next(each for each in screen.text.splitlines() if "cycle: a time with" in each)
        assert told.rstrip() == ' cycle: a time with its unit, such as "12 min".'


def test_no_value_takes_more_than_a_line_says() -> None:
    for key in KEYS:
        path = tuple("mill" if each == ANY else each for each in key.pattern)
        said = asked_for(path, key.label)
        assert said
        assert min(map(len, said)) <= 78, said
