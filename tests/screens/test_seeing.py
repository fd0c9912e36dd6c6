"""Seeing a study otherwise: rows found, columns arranged, times, units, text in and out."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import SCENARIOS, SMALL_FIRST, Screen, on_screen
from small_study import STUDY
from syrupy.assertion import SnapshotAssertion
from textual import events

from whatif.screens.dialogs.ask import Ask, AskLine
from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.dialogs.reading import ReadText
from whatif.screens.widgets.editor import Editor
from whatif.screens.widgets.finder import Finder
from whatif.screens.widgets.sheet import Sheet
from whatif.screens.widgets.strip import ResultStrip
from whatif.session.sheet import Line

ONE_PERSON = SCENARIOS / "one-person.toml"
SMALL_ORDERS = SCENARIOS / "small-orders.toml"
PALLETS = ("machine", "mill", "pallets")
CYCLE = ("part", "plate", "cycle")

WIDE_NAMES = """\
format = 1
title = "長い名前"

[scenario.a]
title = "六枚パレットと長いテーブル、昼勤"
shift.day = { days = ["mon"], start = "06:00", end = "14:00" }
machine.mill.count = 1
machine.mill.table = ["900 mm", "500 mm"]
machine.mill.floor = "12 m²"
part.plate = { cycle = "9 min", weekly = 30 }

[scenario.b]
title = "六枚パレットと長いテーブル、夜勤"
parent = "a"
notes = "夜は無人"
machine.mill.pallets = 2

[scenario.c]
title = "Six pallets with long tables, by day"
parent = "a"
machine.mill.pallets = 3

[scenario.d]
title = "Six pallets with long tables, by night"
parent = "a"
machine.mill.pallets = 4
"""


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


@pytest.fixture
def wide_names(tmp_path: Path) -> Path:
    path = tmp_path / "wide.toml"
    path.write_text(WIDE_NAMES, "utf-8")
    return path


each_size = pytest.mark.parametrize("size", SMALL_FIRST, ids=lambda size: f"{size[0]}x{size[1]}")


def titles_line(screen: Screen) -> str:
    """The strip's lines of titles, one behind the other."""
    lines = screen.text.splitlines()
    figures = next(i for i, line in enumerate(lines) if "saleable output" in line)
    titles = [line.rpartition("│")[2] for line in lines[1:figures]]
    return " ".join(" ".join(titles).split())


def row_of(screen: Screen, label: str) -> str:
    return next(line for line in screen.text.splitlines() if f"{label} " in line)


def head(screen: Screen) -> str:
    return screen.text.splitlines()[0]


def here(screen: Screen) -> tuple[str, ...] | None:
    """The value under the cursor."""
    line = screen.app.desk.state.line
    return None if line is None else line.path


def shown(screen: Screen) -> list[str]:
    """The scenarios in the columns, the chosen one marked."""
    desk = screen.app.desk
    return [f"{'>' if one == desk.state.chosen else ''}{one}" for one in desk.state.ids]


def paths(screen: Screen) -> set[tuple[str, ...]]:
    """The values that have a row."""
    return {row.path for row in screen.app.desk.state.rows if isinstance(row, Line)}


async def put(screen: Screen, label: str, column: int = 0) -> None:
    """Put the cursor on the first row of that label, which is in no folded heading."""
    desk = screen.app.desk
    rows = enumerate(desk.state.rows)
    desk.go_to(next(i for i, row in rows if isinstance(row, Line) and row.label == label), column)
    await screen.settle()


async def paste(screen: Screen, text: str) -> None:
    assert screen.app.focused is not None
    screen.app.focused.post_message(events.Paste(text))
    await screen.settle()


# -- finding a row -----------------------------------------------------------------------


@each_size
@pytest.mark.long
async def test_a_row_is_found_by_parts_of_its_name(
    study: Path, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    async with on_screen(study, size) as screen:
        await screen.press("slash")
        await screen.type("pallets mill")
        assert screen.text == snapshot
        desk = screen.app.desk
        assert desk.state.line is not None
        assert desk.state.line.path == PALLETS
        await screen.press("enter")
        assert not screen.app.screen.query_one(Finder).is_open
        assert desk.state.line.path == PALLETS
        assert isinstance(screen.app.focused, Sheet)


@pytest.mark.long
async def test_finding_opens_a_heading_and_escape_closes_it_again(study: Path) -> None:
    async with on_screen(study) as screen:
        desk = screen.app.desk
        before, rows = here(screen), len(desk.state.rows)
        await screen.press("slash")
        await screen.type("money wage")
        assert here(screen) == ("money", "wage")
        await screen.press("escape")
        assert here(screen) == before
        assert len(desk.state.rows) == rows
        await screen.press("slash")
        await screen.type("money wage")
        await screen.press("enter")
        assert here(screen) == ("money", "wage")
        assert len(desk.state.rows) > rows


@pytest.mark.long
async def test_down_and_an_empty_line_go_on_to_the_next_row(study: Path) -> None:
    async with on_screen(study) as screen:
        seen = []
        await screen.press("slash")
        await screen.type("load")
        for _ in range(3):
            seen.append(here(screen))
            await screen.press("down")
        assert len(set(seen)) == 3
        await screen.press("up", "up")
        assert here(screen) == seen[1]
        await screen.press("enter", "slash", "enter")
        assert here(screen) == seen[2]
        await screen.press("slash", "down", "up", "enter")
        assert here(screen) == seen[2]


@pytest.mark.long
async def test_what_is_not_there_is_said_and_the_cursor_stays(study: Path) -> None:
    async with on_screen(study) as screen:
        before = screen.app.desk.state.line
        await screen.press("slash")
        await screen.type("zebra")
        assert "no such row" in screen.text
        await screen.press("enter")
        assert screen.app.desk.state.line == before


@pytest.mark.long
async def test_keys_in_a_burst_reach_the_line(study: Path) -> None:
    async with on_screen(study) as screen:
        for key, character in (("slash", "/"), ("p", "p"), ("a", "a"), ("l", "l"), ("enter", None)):
            screen.app.post_message(events.Key(key, character))
        screen.app.post_message(events.Key("9", "9"))
        await screen.settle()
        desk = screen.app.desk
        assert desk.state.line is not None
        assert desk.state.line.label.startswith("pal")
        assert screen.app.screen.query_one(Editor).value == "9"
        assert desk.state.arrangement.per.value == "week"


@pytest.mark.long
async def test_a_click_ends_the_search(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.press("slash")
        await screen.type("wage")
        await screen.pilot.click("#sheet", offset=(40, 2))
        await screen.settle()
        assert not screen.app.screen.query_one(Finder).is_open
        assert isinstance(screen.app.focused, Sheet)


# -- only what differs -------------------------------------------------------------------


@each_size
@pytest.mark.long
async def test_only_rows_that_differ(
    study: Path, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    async with on_screen(study, size) as screen:
        await put(screen, "pallets each", 1)
        await screen.press("h", "h", "equals_sign")
        # One column alone differs in nothing.
        assert "Nothing differs between these columns; = shows all rows again." in screen.text
        await screen.press("H")
        assert isinstance(screen.app.screen, ChooseOne)
        await screen.press("down", "enter")
        assert screen.text == snapshot
        assert paths(screen) == {PALLETS}
        await screen.press("equals_sign")
        assert "cycle" in screen.text


@pytest.mark.long
async def test_a_row_that_is_edited_to_be_the_same_stays_until_it_is_kept(study: Path) -> None:
    async with on_screen(study) as screen:
        await put(screen, "cycle", 2)
        await screen.press("h", "equals_sign")
        await put(screen, "pallets each", 1)
        await screen.type("1")
        assert here(screen) == PALLETS
        assert "  pallets each " in screen.text
        await screen.press("enter")
        assert "pallets each   " not in screen.text
        await screen.press("u")
        assert "pallets each" in screen.text


@pytest.mark.long
async def test_the_same_quantity_in_other_words_does_not_differ(study: Path) -> None:
    async with on_screen(study) as screen:
        await put(screen, "cycle", 1)
        await screen.type("540 s")
        await screen.press("enter", "equals_sign")
        await put(screen, "pallets each", 2)
        await screen.press("h")
        assert screen.session.draft.scenario("pool").entered[CYCLE] == "540 s"
        assert CYCLE not in paths(screen)


# -- columns -----------------------------------------------------------------------------


@pytest.mark.long
async def test_hidden_columns_are_told_and_answered_all_the_same(study: Path) -> None:
    async with on_screen(study) as screen:
        before = screen.app.desk.controllers.calculation.current()["pool"]
        await screen.press("h")
        assert "1 hidden: H" in screen.text
        assert shown(screen) == [">pool", "other"]
        assert "against: Now" in head(screen)
        assert screen.app.desk.controllers.calculation.current()["pool"] == before
        assert screen.session.is_saved
        await screen.press("H")
        assert shown(screen) == [">now", "pool", "other"]
        assert "hidden" not in titles_line(screen)
        await screen.press("h", "h", "h")
        assert "one stays" in screen.text
        await screen.press("H", "enter")
        assert [one.lstrip(">") for one in shown(screen)] == ["now", "pool", "other"]
        await screen.press("H")
        assert "No column is hidden" in screen.text


async def test_a_hidden_scenario_chosen_in_the_tree_is_shown(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.press("right", "h")
        await screen.pilot.click("#tree", offset=(4, 2))
        await screen.settle()
        assert screen.app.desk.state.chosen == "pool"
        assert "pool" in screen.app.desk.state.ids


async def test_all_but_hidden_ones_removed_leaves_something_to_see(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.press("h", "h", "x", "y")
        assert screen.app.desk.state.ids == ("now", "pool")
        assert "hidden:" not in screen.text


@each_size
@pytest.mark.long
async def test_the_reference_stays_in_sight(
    size: tuple[int, int], snapshot: SnapshotAssertion, tmp_path: Path
) -> None:
    async with on_screen(ONE_PERSON, size, state=tmp_path) as screen:
        await screen.press(*["right"] * 8)
        assert screen.text == snapshot
        assert "Today" in titles_line(screen)
        assert "Helper" in titles_line(screen)
        await screen.press("home", *["left"] * 8, "k")
        assert "k keeps it in sight" in screen.text
        await screen.press(*["right"] * 8)
        assert ("Today" in titles_line(screen)) == (size[0] > 200)


@pytest.mark.long
async def test_a_column_is_kept_beside_the_reference(tmp_path: Path) -> None:
    async with on_screen(ONE_PERSON, (80, 24), state=tmp_path) as screen:
        desk = screen.app.desk
        await screen.press("right", "right", "k")
        assert shown(screen)[:3] == ["today", ">night", "pallets"]
        await screen.press(*["right"] * 7)
        assert "Four each" in titles_line(screen)
        # A third kept one leaves a place to the others.
        await screen.press("k", *["right"] * 8)
        assert len(desk.state.columns.visible) == 3
        assert desk.state.column in desk.state.columns.visible


async def test_the_row_under_the_cursor_stays_where_it_is_seen(tmp_path: Path) -> None:
    async with on_screen(SMALL_ORDERS, (80, 24), state=tmp_path) as screen:
        desk = screen.app.desk
        sheet = desk.query_one(Sheet)
        assert desk.state.go_to_value(("part", "plates", "cycle"))
        desk.repaint()
        await screen.press("right", "down", "down", "down", "up", "up")

        def seen_at() -> float:
            return desk.state.row - sheet.scroll_offset.y

        where, row = seen_at(), desk.state.row
        await screen.press("b")
        assert desk.state.row < row
        assert seen_at() == where
        await screen.press("b")
        assert (seen_at(), desk.state.row) == (where, row)


async def test_columns_are_moved(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.press("right", "right_square_bracket")
        assert shown(screen) == ["now", "other", ">pool"]
        await screen.press("shift+left")
        assert shown(screen) == ["now", ">pool", "other"]
        await screen.press("left_square_bracket")
        assert "cannot go further" in screen.text
        assert shown(screen) == ["now", ">pool", "other"]
        assert screen.session.is_saved


async def test_the_cursor_stays_with_its_scenario_when_another_is_the_reference(
    study: Path,
) -> None:
    async with on_screen(study) as screen:
        await screen.press("right", "m")
        assert shown(screen) == [">pool", "now", "other"]
        await screen.press("u")
        assert shown(screen) == ["now", ">pool", "other"]


async def test_columns_are_made_wider_and_narrower(study: Path) -> None:
    async with on_screen(study, (80, 24)) as screen:
        desk = screen.app.desk
        before = desk.state.columns
        seen = []
        for key in ("right_curly_bracket",) * 2 + ("left_curly_bracket",) * 4:
            await screen.press(key)
            seen.append((desk.state.columns.width - before.width, len(desk.state.columns.visible)))
        assert (seen[0], seen[1], seen[-1]) == ((2, 2), (4, 2), (-4, 3))
        desk.action_run("fit_columns")
        assert desk.state.columns == before


@pytest.mark.parametrize("widget", ["#strip", "#sheet"])
@pytest.mark.long
async def test_the_mouse_drags_a_border(study: Path, widget: str) -> None:
    async with on_screen(study) as screen:
        desk, pilot = screen.app.desk, screen.pilot
        before, chosen = desk.state.columns, desk.state.chosen
        border = before.label + before.width
        await pilot.mouse_down(widget, offset=(border, 1))
        await pilot.hover(widget, offset=(border + 5, 1))
        await pilot.mouse_up(widget, offset=(border + 5, 1))
        await screen.settle()
        assert desk.state.columns.width == before.width + 5
        assert desk.state.chosen == chosen
        await pilot.mouse_down(widget, offset=(before.label, 1))
        await pilot.hover(widget, offset=(before.label - 6, 1))
        await pilot.mouse_up(widget, offset=(before.label - 6, 1))
        await screen.settle()
        assert desk.state.columns.label == before.label - 6
        assert desk.state.columns.width == before.width + 5
        # Elsewhere the mouse chooses, as before.
        await pilot.click(widget, offset=(desk.state.columns.x(1) + 3, 1))
        await screen.settle()
        assert desk.state.chosen == desk.state.ids[1]


async def test_the_wheel_scrolls_the_sheet_and_keys_come_back(study: Path) -> None:
    async with on_screen(study, (80, 24)) as screen:
        sheet = screen.app.screen.query_one(Sheet)
        for _ in range(4):
            sheet.post_message(
                events.MouseScrollDown(sheet, 3, 3, 0, 1, 0, shift=False, meta=False, ctrl=False)
            )
        await screen.settle()
        away = sheet.scroll_offset.y
        assert away > 0
        assert "   attended" not in screen.text
        # An answer that comes meanwhile does not pull the sheet back; a key does.
        screen.app.desk.repaint()
        assert sheet.scroll_offset.y == away
        await screen.press("down")
        assert "   unattended" in screen.text


# -- times and units ---------------------------------------------------------------------


@pytest.mark.long
async def test_hours_per_day_week_month_and_year(study: Path) -> None:
    async with on_screen(study) as screen:
        answer = screen.app.desk.controllers.calculation.current()["now"]
        assert answer.figures is not None
        week = answer.figures.spindle.attended
        gain = row_of(screen, "saleable output, %")
        met = row_of(screen, "demand met, lowest part")
        # Five shifts start in a week; a year is 50 weeks (rule `results.day`).
        for name, hours in (("month", week * 50 / 12), ("year", week * 50), ("day", week / 5)):
            await screen.press("p")
            assert f"per {name}" in head(screen)
            assert f" {hours:.1f} " in row_of(screen, "spindle h, attended")
            assert row_of(screen, "saleable output, %") == gain
            assert row_of(screen, "demand met, lowest part") == met
            assert "hours a week" not in " ".join(screen.text.split())
            await screen.press("f2")
            assert "hours a week" not in screen.text
            assert f"Figures per {name}" in screen.text
            assert f"h a {name}" in screen.text
            await screen.press("escape")
        await screen.press("p")
        assert "per week" in head(screen)


@pytest.mark.long
@each_size
async def test_a_day_in_the_strip(
    study: Path, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    async with on_screen(study, size) as screen:
        await screen.press("p", "p", "p")
        assert screen.text == snapshot


@pytest.mark.long
@each_size
async def test_lengths_in_inch_and_metric_leave_what_was_typed(
    wide_names: Path, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    async with on_screen(wide_names, size) as screen:
        await put(screen, "floor each")
        await screen.press("i")
        assert "in metric" in head(screen)
        await screen.press("i")
        assert "in inch" in head(screen)
        # 12 m2 are 129.2 square feet: a foot is 0.3048 m (the international foot of 1959).
        assert "129.2 ft²" in row_of(screen, "floor each")
        assert "129.2 ft² is converted, typed is 12 m²" in screen.text
        assert screen.text == snapshot
        await screen.press("enter")
        assert screen.app.screen.query_one(Editor).value == "12 m²"
        await screen.press("escape", "f2")
        read = screen.text
        for _ in range(3):
            await screen.press("pagedown")
            read += screen.text
        floor = next(line for line in read.splitlines() if "  floor    " in line)
        assert "129.2 ft²" in floor
        await screen.press("escape", "i")
        assert "12 m²" in row_of(screen, "floor each")
        assert screen.session.is_saved


@pytest.mark.long
async def test_what_is_shown_otherwise_is_told_before_the_reference(study: Path) -> None:
    async with on_screen(study, (80, 24)) as screen:
        await put(screen, "pallets each", 1)
        await screen.type("3")
        await screen.press("enter")
        assert "against: Now" in head(screen)
        await screen.press("equals_sign", "i")
        assert "1 change not saved" in head(screen)
        assert "only differences  in metric " in head(screen)
        assert "against" not in head(screen)
        await screen.press("equals_sign")
        assert "against: Now" in head(screen)


# -- text out and in ---------------------------------------------------------------------


@pytest.mark.long
async def test_a_column_is_copied_and_pasted_back_without_a_change(
    study: Path, tmp_path: Path
) -> None:
    async with on_screen(study) as screen:
        await screen.press("right", "c")
        text = screen.app.clipboard
        assert text.startswith("Pool\nhours a day\nattended\t8 h\n")
        assert "pallets each\t4\n" in text
        assert "c again writes a file" in screen.text
        await screen.press("c")
        assert isinstance(screen.app.screen, AskLine)
        await screen.press("enter")
        written = tmp_path / "small-pool.txt"
        assert written.read_text("utf-8") == text
        await screen.press("c", "enter")
        assert "is there already" in screen.text
        await screen.press("home", "down", "ctrl+v")
        assert "Nothing to paste into Pool" in screen.text
        assert screen.session.is_saved
        # In another column only what differs is entered.
        await screen.press("left", "ctrl+v")
        assert isinstance(screen.app.screen, Ask)
        assert "Change 1 value in Now?" in screen.text
        assert "pallets each: 1 -> 4" in screen.text


@each_size
@pytest.mark.long
async def test_a_column_of_values_is_pasted_as_one_step(
    study: Path, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    async with on_screen(study, size) as screen:
        await put(screen, "machines", 1)
        await paste(screen, "3\n6\r\n\n30 s\n")
        assert screen.text == snapshot
        await screen.press("y")
        entered = screen.session.draft.scenario("pool").entered
        assert entered[("machine", "mill", "count")] == 3
        assert entered[PALLETS] == 6
        assert ("machine", "mill", "load_stations") not in entered
        # 30 s are typed where 0.5 min stood; what is written stays.
        assert entered[("machine", "mill", "pallet_change")] == "30 s"
        assert "3 values pasted into Pool" in screen.text.replace("\n", " ")
        await screen.press("u")
        assert screen.session.is_saved


@pytest.mark.long
async def test_pasting_goes_over_headings_and_tells_of_other_labels(study: Path) -> None:
    async with on_screen(study) as screen:
        await put(screen, "pallets each", 1)
        desk = screen.app.desk
        text = "a heading\npallets\t5\nload stations\t2\n"
        await paste(screen, text)
        assert "line 2 is called pallets, its row pallets each" in screen.text
        await screen.press("escape")
        assert screen.session.is_saved
        await screen.press("end")
        assert desk.state.line is None or desk.state.line.label
        await put(screen, "cycle", 1)
        lines = [row for row in desk.state.rows[desk.state.row :] if isinstance(row, Line)]
        await paste(screen, "8 min\n" + "\n" * (len(lines) + 3) + "x\n")
        assert "left out" in screen.text


@each_size
@pytest.mark.long
async def test_wrong_lines_are_told_and_nothing_is_pasted(
    study: Path, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    async with on_screen(study, size) as screen:
        await put(screen, "machines", 1)
        await paste(screen, "3\n0\n7,5 min\n45 s")
        assert isinstance(screen.app.screen, ReadText)
        assert screen.text == snapshot
        assert "Line 2, 0, for pallets each" in screen.text
        assert "1 to 200" in screen.text
        await screen.press("escape")
        assert screen.session.is_saved


async def test_values_of_things_that_are_not_there_are_wrong(study: Path) -> None:
    async with on_screen(study) as screen:
        await put(screen, "cycle", 2)
        await paste(screen, "5 min\n6 min")
        assert "This scenario has no part plate; add it first." in screen.text.replace("\n", " ")


@pytest.mark.long
async def test_a_single_pasted_value_is_typed_over(study: Path) -> None:
    async with on_screen(study) as screen:
        await put(screen, "pallets each", 1)
        await paste(screen, "7\n")
        editor = screen.app.screen.query_one(Editor)
        assert editor.is_open
        assert editor.value == "7"
        await screen.press("enter")
        assert screen.session.draft.scenario("pool").entered[PALLETS] == 7


# -- names -------------------------------------------------------------------------------


@each_size
@pytest.mark.long
async def test_long_and_wide_names_stay_apart_and_straight(
    wide_names: Path, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    async with on_screen(wide_names, size) as screen:
        assert screen.text == snapshot
        strip = screen.app.screen.query_one(ResultStrip)
        for y in range(strip.size.height):
            assert strip.render_line(y).cell_length == strip.size.width
