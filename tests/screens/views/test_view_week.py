"""The view of the week: its cursor by key and mouse, zoom, other weeks, edits, empty states."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from looks import ONE, Looking
from moving_studies import HEAD, ONE_TABLE
from screen import SCENARIOS, SMALL_FIRST, AtOnce, Screen, on_screen
from small_study import STUDY
from textual.events import MouseScrollDown, MouseScrollRight, MouseScrollUp

from whatif.answers.week import Week
from whatif.screens.views import week
from whatif.screens.views.pane import ViewPane
from whatif.screens.widgets.drawing import Along
from whatif.telling.week.lanes import Lane, lines
from whatif.telling.week.window import Window

PALLETS = SCENARIOS / "pallets-until-demand.toml"


async def _opened(screen: Screen, column: int = 0) -> Screen:
    await screen.press(*["right"] * column)
    return await screen.press("f7")


def _rows(screen: Screen | Looking) -> list[str]:
    """The view's own rows."""
    return screen.view_lines if isinstance(screen, Screen) else screen.text.splitlines()


def _moment(screen: Screen | Looking) -> str:
    return _rows(screen)[1].strip()


def _first_key(week: Looking) -> str:
    return week.view.own_keys(week.look())[0].word


def _lane(screen: Screen | Looking) -> str:
    """The row of the lane that is chosen."""
    drawn = screen.app.desk.query_one(ViewPane).rows if isinstance(screen, Screen) else screen.rows
    return next(
        "".join(span.text for span in spans)
        for spans in drawn
        if any(span.tone == "chosen" and str(span.spot).endswith("@") for span in spans)
    )


async def test_it_opens_on_the_day_on_which_the_first_person_comes(tmp_path: Path) -> None:
    async with on_screen(PALLETS, state=tmp_path) as screen:
        await _opened(screen, 2)
        each = "each character is 10 min, - zooms out"
        assert f"week 1 of 4, Mon 06:10 to 21:10; {each}" in _rows(screen)[0]
        assert _moment(screen).startswith("Mon 06:30: mill 1 ")
        assert _lane(screen).startswith(" mill 1")


def test_the_ruler_marks_the_cursor_and_its_block_stays_as_it_is() -> None:
    rows = Looking(PALLETS, "week").rows
    lit = [span for spans in rows for span in spans if span.tone == "chosen"]
    # The legend's shows how the ruler's looks.
    assert [span.text.strip() for span in lit] == ["▼", "mill 1", "▼"]


@pytest.mark.long
async def test_a_move_finds_no_sign_out_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    found: list[Lane] = []

    def noted(of: Week, lane: Lane, window: Window) -> dict[Lane, str]:
        found.append(lane)
        return lines(of, lane, window)

    monkeypatch.setattr(week, "lines", noted)
    async with on_screen(PALLETS, state=tmp_path) as screen:
        await _opened(screen, 2)
        assert len(found) == len(set(found)) > 1
        found.clear()
        await screen.press("right", "down", "up", "left")
        assert not found
        await screen.press("w")
        assert found, "another week"
        found.clear()
        await screen.press("plus")
        assert found, "another stretch of it"


@pytest.mark.long
async def test_left_and_right_move_in_time_and_not_the_column(tmp_path: Path) -> None:
    async with on_screen(PALLETS, state=tmp_path) as screen:
        await (await _opened(screen, 2)).press("a")
        chosen = screen.app.desk.state.chosen
        await screen.press("right")
        assert _moment(screen).startswith("Mon 08:00")
        await screen.press("left", "left")
        assert _moment(screen).startswith("Mon 04:00, after hours")
        await screen.press("pagedown")
        assert _moment(screen).startswith("Tue 04:00, after hours")
        await screen.press("pageup")
        assert _moment(screen).startswith("Mon 04:00, after hours")
        assert screen.app.desk.state.chosen == chosen
        await screen.press("less_than_sign")
        assert screen.app.desk.state.chosen != chosen


@pytest.mark.parametrize("size", SMALL_FIRST)
def test_up_and_down_choose_the_lane_and_the_legend_is_right_below(size: tuple[int, int]) -> None:
    week = Looking(PALLETS, "week", size, column=2)
    rows = _rows(week)
    (legend,) = (place for place, line in enumerate(rows) if line.startswith(" █ cuts  ▒ "))
    last = max(place for place, line in enumerate(rows) if line.startswith("   pallet 2"))
    assert legend - last <= 2
    assert len(week.rows) <= week.height
    week.press("up", "up", "up")
    assert _lane(week).startswith(" people at work")
    assert _moment(week).startswith("Mon 06:30: 2 people on duty, 2 at work, from 06:30 to 06:57; ")
    week.press("down", "down", "down")
    assert _lane(week).startswith(" mill 1")


def test_a_high_screen_tells_each_line_at_the_cursor_and_sets_machines_apart() -> None:
    week = Looking(PALLETS, "week", (200, 50), column=2)
    rows = _rows(week)
    (begins,) = (place for place, line in enumerate(rows) if line == " Mon 06:30")
    assert rows[begins + 1].startswith(" 2 people on duty, 2 at work")
    assert any(line.startswith(" pallet 2 of mill 2 waits") for line in rows[begins:])
    mill = next(place for place, line in enumerate(rows) if line.startswith(" mill 2"))
    assert not rows[mill - 1]


@pytest.mark.parametrize("size", SMALL_FIRST)
def test_the_whole_week_is_a_key_away_and_draws_no_persons_and_pallets(
    size: tuple[int, int],
) -> None:
    """Of two hours each they would seem to contradict the line of their machine."""
    week = Looking(PALLETS, "week", size, column=2)
    day = week.text
    assert ("pallet 1" in day, _first_key(week)) == (True, "whole week")
    week.press("a")
    assert "pallet 1" not in week.text
    assert "loaded pallets" in week.text
    assert "Shown is what took most of" in week.text
    assert "+ zooms in to persons and pallets." in week.text
    assert _first_key(week) == "one day"
    assert "+ zooms in" in week.press("space").notice
    assert week.press("a").text == day


def test_a_day_on_is_drawn_as_the_day_before() -> None:
    week = Looking(PALLETS, "week", column=2)
    place = _rows(week)[4].index("▼")
    week.press("pagedown")
    assert (_rows(week)[4].index("▼"), _moment(week)[:9]) == (place, "Tue 06:30")


def test_a_machine_with_one_table_has_nothing_to_open() -> None:
    week = Looking(PALLETS, "week", column=0).press("space")
    assert week.notice == "mill 1 has one table: this line is its own."


def test_nights_and_days_off_are_empty() -> None:
    """Each day has twelve signs of two hours behind 20 cells; the shift ends at 15:00."""
    rows = _rows(Looking(PALLETS, "week", column=2).press("a"))
    mill = next(line for line in rows if "mill 2" in line)
    for day in range(7):
        night = mill[20 + 12 * day + 9 : 20 + 12 * day + 12]
        assert night.strip() == "", day
    assert set(mill[20 + 12 * 5 : 20 + 12 * 7]) == {" ", "┊"}


def test_the_legend_shows_blank_and_the_stroke_of_a_day_as_they_are_drawn() -> None:
    rows = Looking(PALLETS, "week", column=2).rows
    drawn = {
        span.tone
        for spans in rows
        for span in spans
        if isinstance(span.spot, Along) and not span.text.strip(" ┊")
    }
    legend = {span.text: span.tone for spans in rows for span in spans if not span.spot}
    assert drawn == {legend["blank"]} == {"faint"}
    assert [span.tone for spans in rows for span in spans if span.text == "▼"] == ["chosen"] * 2


@pytest.mark.parametrize("size", SMALL_FIRST)
@pytest.mark.long
def test_zooming_keeps_the_moment(size: tuple[int, int]) -> None:
    week = Looking(PALLETS, "week", size, column=2).press("a")
    moment, head = _moment(week), _rows(week)[0]
    week.press("plus", "plus", "plus", "plus")
    assert (_moment(week), _rows(week)[0] == head) == (moment, False)
    week.press("minus", "minus", "minus", "minus", "minus")
    assert (_moment(week), _rows(week)[0]) == (moment, head)
    week.press(*["plus"] * 12)
    assert "each character is 1 min" in _rows(week)[0]


def test_jumps_to_changes_borders_and_the_end_of_the_night() -> None:
    week = Looking(PALLETS, "week", column=2)
    first = _moment(week)
    assert _moment(week.press("c")) != first
    assert _moment(week.press("C")) == first
    assert _moment(week.press("h")).startswith("Mon 09:00, a break")
    assert _moment(week.press("H")) == first
    assert _moment(week.press("d")).startswith("Mon 16:03, after hours: mill 1 stands")
    # Five housings of 7 min, begun at 15:28.
    night = "Nobody is there from Mon 15:00 to Tue 06:30: mill 1 goes on until Mon 16:03."
    assert week.notice == night
    week.press("right")
    assert week.notice == ""


def test_no_change_before_the_week_begins() -> None:
    week = Looking(PALLETS, "week", column=2)
    week.press("a", *["left"] * 5, "up", "up", "up", "C")
    assert week.notice == "Nothing else in this line from the week's begin."


def test_space_opens_and_closes_pallets() -> None:
    week = Looking(PALLETS, "week", (80, 20), column=2)
    assert "  pallet 1" not in week.text
    assert _lane(week.press("space", "down")).startswith("   pallet 1")
    assert "pallet 1 of mill 1" in _moment(week)
    assert _lane(week.press("space")).startswith(" mill 1")


def test_another_week_is_chosen_and_the_cursor_stays() -> None:
    week = Looking(PALLETS, "week", column=2).press("a", "right", "w")
    assert "week 2 of 4" in _rows(week)[0]
    assert _moment(week).startswith("Mon 08:00")
    assert "week 4 of 4" in _rows(week.press("W", "W"))[0]


def test_a_study_of_one_week_says_so(tmp_path: Path) -> None:
    path = tmp_path / "one.toml"
    assert "weeks = 1\n" in STUDY
    path.write_text(STUDY, encoding="utf-8")
    week = Looking(path, "week", column=0).press("w")
    assert "week 1 of 1" in _rows(week)[0]
    assert week.notice == "This study measures one week only."


@pytest.mark.long
async def test_a_click_goes_to_a_moment_and_lane(tmp_path: Path) -> None:
    async with on_screen(PALLETS, state=tmp_path) as screen:
        await (await _opened(screen, 2)).press("a")
        y = next(i for i, line in enumerate(_rows(screen)) if line.startswith(" mill 2"))
        # The label takes 20 cells, and a sign is two hours: the 13th begins on Tuesday at 00:00.
        await screen.pilot.click(ViewPane, offset=(20 + 12, y))
        await screen.settle()
        assert _moment(screen).startswith("Tue 00:00, after hours: mill 2 ")
        assert _lane(screen).startswith(" mill 2")
        await screen.press("a")
        y = next(i for i, line in enumerate(_rows(screen)) if line.startswith(" mill 2"))
        count = sum(line.startswith("   pallet 1") for line in _rows(screen))
        await screen.pilot.click(ViewPane, offset=(2, y))
        await screen.settle()
        assert sum(line.startswith("   pallet 1") for line in _rows(screen)) == count - 1


async def test_signs_that_look_alike_are_drawn_as_one(tmp_path: Path) -> None:
    async with on_screen(PALLETS, state=tmp_path) as screen:
        await _opened(screen, 2)
        rows = screen.app.desk.query_one(ViewPane).rows
        signs = [[span for span in spans if isinstance(span.spot, Along)] for spans in rows]
        assert any(signs)
        for spans in filter(None, signs):
            assert all(one.tone != other.tone for one, other in pairwise(spans))
            begins = [sum(len(span.text) for span in spans[:at]) for at in range(len(spans))]
            assert [span.spot.first for span in spans if isinstance(span.spot, Along)] == begins


async def test_the_wheel_turns_lanes_and_sideways_time(tmp_path: Path) -> None:
    async with on_screen(PALLETS, state=tmp_path) as screen:
        await (await _opened(screen, 2)).press("a")
        pane = screen.app.desk.query_one(ViewPane)

        async def turn(sort: type, *, shift: bool = False) -> None:
            pane.post_message(
                sort(pane, 5, 5, 0, 0, 0, shift, False, False, screen_x=5, screen_y=5)
            )
            await screen.settle()

        await turn(MouseScrollDown)
        assert _lane(screen).startswith("  loaded pallets")
        await turn(MouseScrollUp)
        assert _lane(screen).startswith(" mill 1")
        await turn(MouseScrollDown, shift=True)
        assert _moment(screen).startswith("Mon 08:00")
        await turn(MouseScrollRight)
        assert _moment(screen).startswith("Mon 10:00")


async def test_the_wheel_scrolls_a_view_that_does_not_take_it(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "small-orders.toml", (80, 18), state=tmp_path) as screen:
        await screen.open_view("hours")
        pane = screen.app.desk.query_one(ViewPane)
        assert pane.max_scroll_y > 0
        pane.post_message(
            MouseScrollDown(pane, 5, 5, 0, 0, 0, False, False, False, screen_x=5, screen_y=5)
        )
        await screen.settle()
        assert pane.scroll_y > 0


async def test_it_follows_an_edit_and_keeps_the_moment(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        await screen.go_to("people", 2)
        await screen.press("f7", "right", "h")
        moment = _moment(screen)[:9]
        before = screen.text
        await screen.press("5", "enter")
        assert _moment(screen)[:9] == moment
        assert screen.text != before


def test_all_lanes_can_be_reached_on_few_lines() -> None:
    week = Looking(ONE, "week", (80, 18), column=2)
    assert any(line.startswith(" 1 to 5 of 9 lines") for line in _rows(week))
    week.press(*["down"] * 9)
    assert _lane(week).startswith("  loaded pallets")
    assert any(line.startswith(" 5 to 9 of 9") for line in _rows(week))


@pytest.mark.long
def test_stops_are_said_to_be_one_run_of_many(tmp_path: Path) -> None:
    path = tmp_path / "stops.toml"
    stop = ("[scenario.today.stop.jam]", 'every = "9 h"', 'repair = "20 min"\n')
    text = "\n".join((HEAD, *ONE_TABLE, *stop))
    path.write_text(text, encoding="utf-8")
    assert "Stops fall here as in the first of 3" in Looking(path, "week").text


@pytest.mark.parametrize(
    ("scenario", "said"),
    [
        ("", "There is no machine in this scenario: n adds one."),
        ("machine.mill.count = 2", "No part is wanted in this scenario: n adds one"),
    ],
)
def test_what_is_empty_says_what_to_do(scenario: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text(f"format = 1\n[scenario.now]\n{scenario}\n", encoding="utf-8")
    week = Looking(path, "week", column=0)
    assert said in week.text
    assert said in week.press("right", "plus", "d", "w").text


def test_without_a_shift_it_says_that_nobody_comes(tmp_path: Path) -> None:
    path = tmp_path / "nobody.toml"
    path.write_text(
        "format = 1\n[scenario.now]\nmachine.mill.count = 1\npart.body.cycle = '10 min'\n"
        "part.body.weekly = 100\n",
        encoding="utf-8",
    )
    week = Looking(path, "week", column=0)
    assert "nobody being on duty" in _moment(week)
    week.press("d")
    assert week.notice == "Nobody is there from Mon 00:00 to the week's end: mill does not go on."


@pytest.mark.long
async def test_keys_do_nothing_else_while_it_is_worked_out(tmp_path: Path) -> None:
    asked: list[AtOnce] = []

    class Slow(AtOnce):
        def start(self) -> None:
            asked.append(self)

    async with on_screen(PALLETS, state=tmp_path, calculator=Slow) as screen:
        await screen.press("right")
        (calculator,) = asked
        calculator.held = []
        for key in ("f7", "right", "down", "d", "pagedown"):
            await screen.pilot.press(key)
            await screen.drawn()
        assert screen.app.desk.state.chosen == screen.app.desk.state.ids[1]
        assert "Being worked out" in screen.text
        for request in calculator.held:
            calculator.answer(request)
        await screen.settle()
        assert _moment(screen).startswith("Mon 06:30")


# --- the indicators among the hours -----------------------------------------------------


@pytest.mark.long
async def test_the_indicators_with_the_chosen_scenarios_numbers(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        await screen.press("right", "f5", "k")
        assert "Second pallet each: availability = APT / PBT" in screen.text
        assert "planned machine hours a week" in screen.text
        await screen.press("down")
        assert "utilization efficiency = APT / AUBT" in screen.text
        await screen.press("up", "up")
        assert "availability = APT / PBT" in screen.text
        await screen.press("k")
        assert "Machine hours a week: hours with somebody on duty" in screen.text
        assert "· nobody or not allowed" not in screen.text
        await screen.press("k", "k", "h")
        assert "Machine hours a week: the whole week" in screen.text
        assert "· nobody or not allowed" in screen.text


async def test_the_indicators_by_mouse(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        await screen.press("f5", "k")
        y = next(i for i, line in enumerate(_rows(screen)) if "setup ratio" in line)
        await screen.pilot.click(ViewPane, offset=(3, y))
        await screen.settle()
        assert "setup ratio = AUST / (APT + AUST)" in screen.text
        chosen = screen.app.desk.state.chosen
        await screen.pilot.click(ViewPane, offset=(100, y))
        await screen.settle()
        assert screen.app.desk.state.chosen != chosen


def test_indicators_of_nothing_say_what_to_do(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text("format = 1\n[scenario.now]\n", encoding="utf-8")
    said = Looking(path, "hours", column=0).press("g").words
    assert "No scenario on the screen has figures yet" in said


def test_a_scenario_without_figures_has_dashes(tmp_path: Path) -> None:
    path = tmp_path / "half.toml"
    text = ONE.read_text("utf-8")
    path.write_text(
        f'{text}\n[scenario.bare]\nparent = "today"\n'
        "part.block.weekly = 0\npart.latch.weekly = 0\n",
        encoding="utf-8",
    )
    hours = Looking(path, "hours", column=99)
    assert hours.state.chosen == "bare"
    assert "bare has no figures" in hours.press("k").text
