"""Views on the whole screen: what stands around them, the way back, and all without colour."""

from __future__ import annotations

from pathlib import Path

import pytest
from lengths import first_of
from looks import NAMES, ONE, Looking, Silent, calculator, changed, view_named
from rich.cells import cell_len
from rich.style import Style
from screen import SMALL_FIRST, Screen, on_screen
from syrupy.assertion import SnapshotAssertion

from whatif.screens.views.all import BY_NAME, VIEWS
from whatif.screens.views.pane import ViewPane
from whatif.telling.night_pictures import SIGNS
from whatif.telling.week.signs import MACHINE_SIGNS

SMALL = (80, 24)


def _segments(screen: Screen) -> list[tuple[str, Style]]:
    # As for the text: Textual has no public way to what stands in the cells.
    lines = screen.app.screen._compositor.render_strips()
    return [(part.text, part.style or Style()) for line in lines for part in line]


@pytest.mark.parametrize("name", first_of(NAMES, 4))
async def test_a_view_without_colour(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, snapshot: SnapshotAssertion
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    calculates = calculator(name)
    async with on_screen(ONE, SMALL, state=tmp_path, calculator=calculates) as screen:
        assert screen.app.no_color
        await screen.press("right")
        await screen.open_view(name)
        assert screen.text == snapshot
        for _, style in _segments(screen):
            for color in (style.color, style.bgcolor):
                # No grey either: what the terminal has of itself.
                assert color is None or color.is_default, color
        if len(screen.app.desk.state.ids) > 1:
            # The chosen scenario is underlined, and so not mistaken for the cursor.
            lined = "".join(text for text, style in _segments(screen) if style.underline)
            chosen = screen.app.desk.state.title(screen.app.desk.state.chosen or "")
            assert "".join(chosen.split()) in "".join(lined.split())


async def test_the_meeting_opens_on_what_comes_first_and_later_where_one_was(
    tmp_path: Path,
) -> None:
    async with on_screen(ONE, SMALL, state=tmp_path) as screen:
        state = screen.app.desk.state
        assert state.title(state.chosen or "") == "Today: four tables"
        await screen.open_view("meeting")
        best = state.chosen
        assert state.title(best or "") == "Moved, second pallet"
        # Who has only looked types into the column where they were.
        await screen.press("escape")
        assert state.chosen == state.ids[0]
        await screen.open_view("meeting")
        await screen.press("enter")
        assert "Moved, second pallet   against Today: four tables" in screen.text
        # Whoever changes another one, and comes back for its page, finds it.
        await screen.press("escape", "left")
        other = state.chosen
        assert other != best
        await screen.open_view("meeting")
        assert state.chosen == other
        await screen.press("escape")
        state.choose(state.ids[0])
        await screen.open_view("meeting")
        assert state.chosen == best


async def test_a_view_that_goes_on_below_says_so_until_its_end_is_seen(tmp_path: Path) -> None:
    async with on_screen(ONE, SMALL, state=tmp_path) as screen:
        await screen.open_view("meeting")
        pane = screen.app.desk.query_one(ViewPane)
        below = len(pane.rows) - pane.size.height
        assert below > 1
        assert f"{below} more lines below: PgDn scrolls." in screen.text
        await screen.press("end")
        assert "below: PgDn scrolls." not in screen.text
        await screen.press("home")
        assert f"{below} more lines below: PgDn scrolls." in screen.text


async def test_what_a_view_tells_goes_with_the_next_key(tmp_path: Path) -> None:
    """It said that there was nothing to go back to where one had just come from somewhere."""
    async with on_screen(ONE, SMALL, state=tmp_path) as screen:
        await screen.open_view("account")
        await screen.press("b")
        assert "There is no figure to go back to" in screen.text
        await screen.press("down")
        assert "There is no figure to go back to" not in screen.text


@pytest.mark.parametrize("name", NAMES)
async def test_whatever_a_view_has_below_keys_bring_into_sight(name: str, tmp_path: Path) -> None:
    """Also where it turns pages of its own: what is out of sight comes first."""
    calculates = calculator(name)
    async with on_screen(ONE, (80, 12), state=tmp_path, calculator=calculates) as screen:
        await screen.open_view(name)
        pane = screen.app.desk.query_one(ViewPane)
        below = len(pane.rows) - pane.size.height
        if name not in ("search", "moves"):
            assert below > 0, "lower than any of them"
        if not below:
            assert "more line" not in screen.text
            return
        assert "below: PgDn scrolls." in screen.text
        await screen.press(*["pagedown"] * 9)
        assert pane.below == 0
        assert "below: PgDn scrolls." not in screen.text
        await screen.press(*["pageup"] * 9)
        assert pane.scroll_offset.y == 0
        await screen.press("end")
        assert pane.below == 0
        await screen.press("home")
        assert pane.scroll_offset.y == 0
        assert "below: PgDn scrolls." in screen.text


async def test_the_list_of_the_fit_comes_back_into_sight_where_one_moves_in_it(
    tmp_path: Path,
) -> None:
    async with on_screen(ONE, (80, 12), state=tmp_path) as screen:
        await screen.open_view("fit")
        pane = screen.app.desk.query_one(ViewPane)
        for key in ("down", "up"):
            await screen.press("end")
            assert pane.scroll_offset.y
            await screen.press(key)
            assert pane.scroll_offset.y == 0


async def test_a_view_without_a_place_yet_has_nothing_below(tmp_path: Path) -> None:
    """Of a view that is opened again the rows are there before its room: none is out of sight."""
    async with on_screen(ONE, (200, 50), state=tmp_path) as screen:
        await screen.open_view("fit")
        await screen.press("escape")
        pane = screen.app.desk.query_one(ViewPane)
        pane.show(view_named("fit")())
        assert not pane.region
        assert (len(pane.rows) > 0, pane.below) == (True, 0)
        await screen.open_view("fit")
        assert "more line" not in screen.text


@pytest.mark.parametrize("size", SMALL_FIRST, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("name", ["hours", "meeting"])
async def test_a_view_on_the_screen_is_what_is_drawn_without_one(
    name: str, size: tuple[int, int], tmp_path: Path
) -> None:
    async with on_screen(ONE, size, state=tmp_path) as screen:
        await screen.press("right")
        await screen.open_view(name)
        looking = Looking(ONE, name, size)
        pane = screen.app.desk.query_one(ViewPane)
        assert pane.scrollable_content_region.size == (looking.width, looking.height)
        drawn = looking.text.splitlines()[: looking.height]
        # The last cell is the scroll bar's.
        there = [line[: looking.width].rstrip() for line in screen.view_lines]
        assert there[: len(drawn)] == drawn


async def test_the_cursor_of_the_sheet_is_turned_round_without_colour(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with on_screen(ONE, SMALL, state=tmp_path) as screen:
        await screen.go_to("pallets each", 1)
        shown = [text.strip() for text, style in _segments(screen) if style.reverse]
        assert len(shown) >= 2


def test_no_two_states_or_shades_have_one_sign() -> None:
    assert len(set(MACHINE_SIGNS.values())) == len(MACHINE_SIGNS)
    assert len(set(SIGNS.values())) == len(SIGNS)


# -- the way there and back --------------------------------------------------------------


@pytest.mark.long
async def test_the_list_opens_a_view_and_escape_goes_back(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        sheet = screen.text
        await screen.press("f6", "1")
        assert VIEWS[0].title in screen.text or "Machine hours" in screen.text
        await screen.press("escape")
        assert screen.text == sheet


@pytest.mark.long
@pytest.mark.parametrize("names", first_of([NAMES[:3], NAMES[3:]]), ids=["some", "others"])
async def test_each_view_says_the_way_back_and_its_keys(names: list[str], tmp_path: Path) -> None:
    async with on_screen(ONE, SMALL, state=tmp_path, calculator=Silent) as screen:
        for name in names:
            assert "Esc back" not in screen.text
            await screen.open_view(name)
            footer = screen.text.splitlines()[-1]
            assert footer.startswith(" Esc back ")
            assert cell_len(footer) < 80
            await screen.press("f1")
            assert BY_NAME[name].answers[:40] in screen.text
            await screen.press("escape", "escape")
        assert "Esc back" not in screen.text


@pytest.mark.long
async def test_a_view_opens_no_editor_that_cannot_be_seen(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        await screen.open_view("hours")
        for key in ("5", "enter", "tab"):
            await screen.press(key)
            assert isinstance(screen.app.focused, ViewPane)
        assert "Values are changed in the sheet: Esc goes back to it." in screen.text
        # What is typed behind it is looked for in the sheet, which is seen again.
        await screen.press("slash")
        assert screen.app.desk.state.view is None
        assert " find a row:" in screen.text
        assert screen.session.is_saved


@pytest.mark.long
async def test_a_value_that_a_view_asks_for_is_typed_below_it(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        await screen.press("right")
        await screen.open_view("hours")
        before = screen.view_lines
        host = screen.app.desk.controllers.views
        assert "k indicators" in screen.text.splitlines()[-1]
        host.edit_value(("unattended", "after_shift"))
        await screen.settle()
        *_, asked, takes, keys = screen.text.splitlines()
        assert "k indicators" not in keys, "a letter is typed now"
        title = screen.app.desk.state.title(screen.app.desk.state.chosen or "")
        assert asked.startswith(f" unattended after shift, {title}:")
        assert takes.rstrip().endswith("More: F1")
        assert takes.startswith(" A time with its unit")
        await screen.press("x")
        assert screen.text.splitlines()[-2].startswith(" ! ")
        await screen.press("escape")
        assert screen.view_lines == before
        host.edit_value(("unattended", "after_shift"))
        await screen.settle()
        await screen.press(*["backspace"] * 12, "9", "h", "enter")
        assert screen.view_lines != before
        assert isinstance(screen.app.focused, ViewPane)


async def test_a_click_on_a_scenario_above_a_view_chooses_it(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        for view in ("week", "hours"):
            await screen.open_view(view)
            titles = screen.app.desk.state.titles
            lines = screen.text.splitlines()
            word = titles[2].split()[-1]
            y = next(at for at, line in enumerate(lines[1:4], 1) if word in line)
            await screen.pilot.click(offset=(lines[y].index(word) + 1, y))
            await screen.settle()
            assert screen.app.desk.state.chosen == screen.app.desk.state.ids[2]
            await screen.press("left", "left")


@pytest.mark.long
async def test_views_of_a_study_whose_reference_is_not_there(tmp_path: Path) -> None:
    path = changed(tmp_path, 'reference = "today"', 'reference = "nowhere"')
    async with on_screen(path, calculator=Silent) as screen:
        await screen.press("escape")  # the problems, told at once
        for name in ("hours", "moves"):
            await screen.open_view(name)
            await screen.press("b", "right", "enter", "f1", "escape")
            assert "1 problem: F3" in screen.text


async def test_every_view_says_in_its_first_line_what_is_not_saved(tmp_path: Path) -> None:
    async with on_screen(ONE, (80, 24), state=tmp_path, calculator=Silent) as screen:
        await screen.go_to("pallets each", 1)
        await screen.type("5")
        await screen.press("enter")
        for view in VIEWS:
            await screen.open_view(view.name)
            assert "1 change not saved" in screen.text.splitlines()[0], view.name
