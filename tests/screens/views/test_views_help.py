"""The list of views, the help of an open one, and the way to a figure's account and back."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from looks import NAMES, ONE, Looking, Silent, calculator
from rich.cells import cell_len
from screen import SCENARIOS, SMALL_FIRST, Screen, on_screen
from signs_named import unnamed
from textual.containers import VerticalScroll
from textual.widgets import OptionList, Static

from whatif.screens.desk.commands import KEYED
from whatif.screens.desk.help import KEYS, entry_lines, view_words
from whatif.screens.dialogs.reading import ReadText
from whatif.screens.views.account import AccountView
from whatif.screens.views.all import VIEWS, Listed
from whatif.screens.views.opening import view_class
from whatif.screens.views.pane import ViewPane
from whatif.screens.widgets.drawing import Chooses, seen_of
from whatif.telling.signs import COLOURS, SIGNS, Colour, Sign, signs_told

README = SCENARIOS.parent / "README.md"


def figure_of(screen: Screen) -> str:
    """What the open view is about."""
    desk = screen.app.desk
    assert desk.state.view is not None
    return desk.state.view.figure(desk.controllers.calculation.look())


def chosen_row(screen: Screen) -> str:
    """The row of the open view with what is chosen in it, a scenario left aside."""
    rows = screen.app.desk.query_one(ViewPane).rows
    return next(
        "".join(span.text for span in spans)
        for spans in rows
        if any(span.tone == "chosen" and isinstance(span.spot, str) for span in spans)
    )


# -- the list ----------------------------------------------------------------------------


@pytest.mark.parametrize("size", SMALL_FIRST, ids=str)
async def test_the_list_has_a_line_a_view_and_all_in_sight(
    size: tuple[int, int], tmp_path: Path
) -> None:
    async with on_screen(ONE, size, state=tmp_path, calculator=Silent) as screen:
        await screen.press("f6")
        found = screen.app.screen.query_one(OptionList)
        assert found.option_count == len(VIEWS)
        assert found.max_scroll_y == 0
        for view in VIEWS:
            (line,) = (line for line in screen.text.splitlines() if f" {view.title} " in line)
            assert view.opens.upper() in line
            assert view.asks[:30] in line
        assert "Esc go back" in screen.text


@pytest.mark.long
async def test_each_is_opened_by_its_letter_by_enter_and_by_a_click(tmp_path: Path) -> None:
    async with on_screen(ONE, (80, 24), state=tmp_path, calculator=Silent) as screen:
        state, views = screen.app.desk.state, screen.app.desk.controllers.views
        for view in VIEWS:
            await screen.press("f6")
            lines = screen.text.splitlines()
            y, line = next((y, line) for y, line in enumerate(lines) if f" {view.title} " in line)
            letter = line[: line.index(view.title)].split()[-1]
            await screen.pilot.click(offset=(line.index(view.title) + 1, y))
            await screen.settle()
            assert isinstance(state.view, view_class(view.name))
            views.close_view()
            await screen.press("f6", letter)
            assert isinstance(state.view, view_class(view.name))
            views.close_view()
        await screen.press("f6", "home", *["down"] * (len(VIEWS) - 1), "enter")
        assert isinstance(state.view, view_class(VIEWS[-1].name))


@pytest.mark.long
async def test_the_list_marks_the_open_view_and_asks_the_whole_question(tmp_path: Path) -> None:
    async with on_screen(ONE, (80, 24), state=tmp_path) as screen:
        await screen.press("f8", "f6")
        night = next(view for view in VIEWS if view.name == "night")
        asked = screen.app.screen.query_one("#views-asks", Static)
        assert asked.content == f"It shows {night.asks}."
        # Taking what is open already leaves it open, as does going back.
        await screen.press("enter")
        assert isinstance(screen.app.desk.state.view, view_class("night"))
        await screen.press("f6", "escape")
        assert isinstance(screen.app.desk.state.view, view_class("night"))


@pytest.mark.parametrize("size", [(80, 24), (200, 50)])
async def test_no_question_is_cut_off_in_the_list(tmp_path: Path, size: tuple[int, int]) -> None:
    async with on_screen(ONE, size, state=tmp_path, calculator=Silent) as screen:
        await screen.press("f6")
        for view in VIEWS:
            assert view.asks in screen.text
            assert view.title in screen.text


@pytest.mark.parametrize(
    ("typed", "name"),
    [("meeting", "meeting"), ("the n", "night"), ("hour m", "meters"), ("payback", "money")],
)
@pytest.mark.long
async def test_enter_opens_what_is_typed_in_the_list(typed: str, name: str, tmp_path: Path) -> None:
    async with on_screen(ONE, (80, 24), state=tmp_path, calculator=Silent) as screen:
        await screen.press("f6", *("space" if letter == " " else letter for letter in typed))
        assert f"looked for: {typed}" in screen.text
        assert "Esc go back" in screen.text
        await screen.press("enter")
        assert isinstance(screen.app.desk.state.view, view_class(name))


async def test_a_number_within_what_is_typed_opens_nothing(tmp_path: Path) -> None:
    async with on_screen(ONE, (80, 24), state=tmp_path, calculator=Silent) as screen:
        await screen.press("f6", "z", "b", "1")
        assert "! none is called zb1" in screen.text
        await screen.press("enter")
        assert screen.app.desk.state.view is None
        assert "Which view?" in screen.text


# -- help --------------------------------------------------------------------------------


async def test_the_list_has_help_of_its_own_and_is_there_again_after_it(tmp_path: Path) -> None:
    async with on_screen(ONE, (80, 24), state=tmp_path, calculator=Silent) as screen:
        await screen.press("f6", "down", "f1")
        assert isinstance(screen.app.screen, ReadText)
        said = screen.app.screen.text
        assert all(f"\n{view.title}" in said and view.asks in said for view in VIEWS)
        assert max(map(cell_len, said.splitlines())) <= 70
        await screen.press("f1")
        assert "Which view?" in screen.text
        assert screen.app.screen.query_one(OptionList).highlighted == 1


COLOUR_WORDS = re.compile(r"\b(grey|green|red|amber|olive|blue|violet|pink|teal)\b", re.IGNORECASE)


@pytest.mark.parametrize("view", VIEWS, ids=NAMES)
def test_no_text_of_the_help_names_a_colour_but_the_list_of_them(view: Listed) -> None:
    """It is read without colours too."""
    made = view_class(view.name)()
    assert not COLOUR_WORDS.findall(made.reads + made.keys + KEYS)


def test_help_beside_indicators_tells_of_them_and_not_of_the_hours() -> None:
    looking = Looking(ONE, "hours")
    hours, indicators = (looking.press(*keys).view.how_read("") for keys in ((), ("k",)))
    assert "largest row" in hours
    assert "indicator" in indicators
    assert "bars" not in indicators
    assert " ".join(indicators.split()) in view_words(
        looking.view, looking.look(), seen_of(looking.rows)
    )


@pytest.mark.parametrize(("name", "keys"), [("hours", ("k",)), ("night", ())])
def test_no_figure_is_bold_but_what_is_better_or_worse(name: str, keys: tuple[str, ...]) -> None:
    """Without colours bold is what tells that."""
    looking = Looking(ONE, name, column=1, calculator=calculator(name)).press(*keys)
    figures = [
        span
        for spans in looking.rows
        for span in spans
        if isinstance(span.spot, Chooses) and re.fullmatch(r"[\d.:]+( %)?", span.text.strip())
    ]
    assert figures
    assert {span.tone for span in figures} == {"plain"}


@pytest.mark.parametrize("view", VIEWS, ids=NAMES)
def test_a_view_says_what_the_list_and_the_help_have_room_for(view: Listed) -> None:
    made = view_class(view.name)
    assert made.name == view.name
    assert view.asks, "F6 and F1 tell the question that it answers"
    assert made.reads, "F1 tells how it is read"
    assert cell_len(view.title) <= 20, "F6 lists it"
    longest = max(map(cell_len, made.keys.splitlines()), default=0)
    assert longest <= 70, "F1 shows so many cells of a line of keys; shorten, or break it"


@pytest.mark.parametrize("view", VIEWS, ids=NAMES)
def test_readme_has_a_row_for_each_view(view: Listed) -> None:
    table = [line.lower() for line in README.read_text("utf-8").splitlines() if line[:3] == "| F"]
    rows = [line for line in table if view.title.lower() in line]
    assert rows, f"add a row for {view.title!r} to the table of views in README.md"
    assert any(view.opens.lower() in line for line in rows)


@pytest.mark.parametrize("view", VIEWS, ids=NAMES)
@pytest.mark.long
def test_help_of_a_view_tells_its_question_how_it_is_read_and_its_keys(view: Listed) -> None:
    looking = Looking(ONE, view.name, calculator=calculator(view.name))
    said = view_words(looking.view, looking.look(), seen_of(looking.rows))
    reads = " ".join(looking.view.reads.split())
    every = "In every view"
    assert said.index(view.asks) < said.index(reads) < said.index(every)
    own = [each.does for each in looking.view.own_keys(looking.look())]
    for line in (*own, *looking.view.keys.splitlines()):
        assert said.index(reads) < said.index(line) < said.index(every)


async def test_help_in_a_view_tells_of_the_view_first(tmp_path: Path) -> None:
    async with on_screen(ONE, (80, 24), state=tmp_path, calculator=Silent) as screen:
        await screen.press("f5", "f1")
        view = screen.app.desk.state.view
        assert view is not None
        assert isinstance(screen.app.screen, ReadText)
        said = screen.app.screen.text
        desk = screen.app.desk
        of_view = view_words(view, desk.controllers.views.look(), desk.drawn)
        assert said.index(of_view) < said.index(KEYS.splitlines()[0])
        await screen.press(*["pagedown"] * 12)
        text = screen.app.screen.query_one(VerticalScroll)
        assert text.scroll_y == text.max_scroll_y > 0
        await screen.press("escape")
        assert screen.app.desk.state.view is view


async def test_help_says_why_other_weeks_are_simulated_after_an_edit(tmp_path: Path) -> None:
    async with on_screen(ONE, (120, 32), state=tmp_path) as screen:
        assert re.search(r"per week, \d+ weeks simulated", screen.text)
        for view in ("", "f5"):
            await screen.press(*filter(None, (view, "f1")))
            assert isinstance(screen.app.screen, ReadText)
            assert 'simulated; with weeks "settled" they are doubled' in screen.app.screen.text
            await screen.press("escape")


async def test_help_names_the_signs_that_are_on_the_screen_and_no_others(tmp_path: Path) -> None:
    async with on_screen(ONE, (80, 24), state=tmp_path) as screen:
        desk = screen.app.desk
        assert unnamed(desk.drawn, "") == set()
        drawn = desk.drawn.text
        await screen.press("f1")
        assert isinstance(screen.app.screen, ReadText)
        on_sheet = screen.app.screen.text
        await screen.press("escape", "f8")
        assert unnamed(desk.drawn, "night") == set()
        await screen.press("question_mark")
        assert isinstance(screen.app.screen, ReadText)
        of_night = screen.app.screen.text
    of_sign, begins = {}, "Signs and colours on this screen"
    for said in (on_sheet, of_night):
        told = said[said.index(begins) :].partition("\n\n")[0]
        assert max(map(cell_len, told.splitlines())) <= 70
        of_sign[said] = told
    assert "\n×                  not used" in of_sign[on_sheet]
    assert "\n↑                  from above" in of_sign[on_sheet]
    assert "╌" not in of_sign[on_sheet]
    assert "! 2 cautions: F2" in drawn
    assert "\n!                  beware" in of_sign[on_sheet]
    assert "! +5 %" not in of_sign[on_sheet]
    assert "\n╌                  the machine stands, and pieces" in of_sign[of_night]
    assert "↑" not in of_sign[of_night]


@pytest.mark.parametrize("each", [*SIGNS, *COLOURS], ids=lambda each: each.shown)
def test_what_a_sign_says_takes_two_lines_of_the_help_at_most(each: Sign | Colour) -> None:
    assert len(entry_lines(each.shown, each.says)) <= 2


@pytest.mark.parametrize(
    ("view", "text"),
    [
        ("", "spindle h, attended   23.1\nhours in cut   480 h"),
        ("hours", "in cycle   23.1\nin cut, by the hour meters   41 %"),
        ("meters", "in cut, a week   120.0 h"),
    ],
)
def test_where_the_meters_hours_stand_beside_the_models_help_tells_both(
    view: str, text: str
) -> None:
    told = dict(signs_told(text, (), view))
    assert "cut and cuts mean the same" in told["in cycle"]
    assert "gains go by it" in told["in cycle"]
    assert told["in cut"].startswith("what hour meters count")
    if view == "":
        assert told["spindle h"].startswith("hours in cycle")


@pytest.mark.parametrize("size", SMALL_FIRST, ids=str)
async def test_a_text_to_read_tells_how_much_of_it_is_below(
    size: tuple[int, int], tmp_path: Path
) -> None:
    async with on_screen(ONE, size, state=tmp_path, calculator=Silent) as screen:
        await screen.press("f1")
        text = screen.app.screen.query_one(VerticalScroll)
        below = round(text.max_scroll_y)
        assert f"arrows scroll, {below} more lines below" in screen.text
        await screen.press("down")
        assert f"arrows scroll, {below - 1} more lines below" in screen.text
        await screen.press(*["pagedown"] * 12)
        assert "arrows scroll, the end" in screen.text
        await screen.press("home")
        assert f"arrows scroll, {below} more lines below" in screen.text
        await screen.press("end")
        assert "arrows scroll, the end" in screen.text


async def test_help_on_the_sheet_is_of_the_value(tmp_path: Path) -> None:
    async with on_screen(ONE, (80, 24), state=tmp_path) as screen:
        await screen.go_to("pallets each")
        await screen.press("f1")
        assert isinstance(screen.app.screen, ReadText)
        assert screen.app.screen.text.startswith("pallets each\n")


# -- why this figure ---------------------------------------------------------------------

ABOUT = {
    "hours": "hours_by_state.in_cycle",
    "week": "hours_by_state.",
    "fit": "fit.",
    "night": "spindle_hours.after_hours",
    "money": "money",
    "orders": "orders",
    "meters": "hour_meters",
}
"""What the id of the figure begins with; a view that is not named here is about the leading one."""


@pytest.mark.parametrize("name", NAMES)
def test_a_view_is_about_a_figure(name: str) -> None:
    looking = Looking(ONE, name, calculator=calculator(name))
    assert looking.rows
    figure = looking.view.figure(looking.look())
    about = ABOUT.get(name, "")
    assert figure.startswith(about), "say in ABOUT which figure the view is about"
    assert bool(figure) == bool(about), "say in ABOUT which figure the view is about"


@pytest.mark.parametrize("name", ["hours", "meeting"])
@pytest.mark.long
async def test_f4_accounts_for_what_the_view_is_about_and_escape_comes_back(
    name: str, tmp_path: Path
) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        await screen.press("right")
        await screen.open_view(name)
        before, view = screen.text, screen.app.desk.state.view
        await screen.press("f4")
        assert isinstance(screen.app.desk.state.view, AccountView)
        assert figure_of(screen).startswith(ABOUT.get(name, ""))
        await screen.press("escape")
        assert screen.app.desk.state.view is view
        assert screen.text == before
        await screen.press("f4", "f4")
        assert screen.app.desk.state.view is view
        await screen.press("escape")
        assert screen.app.desk.state.view is None


async def test_the_account_is_of_the_state_under_the_cursor(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        await screen.press("f5", "down", "down")
        assert chosen_row(screen).startswith(" changing work holding ")
        state = figure_of(screen)
        await screen.press("f4")
        assert figure_of(screen) == state
        assert state.startswith("hours_by_state.")
        await screen.press("escape", "k", "down", "f4")
        assert screen.app.desk.state.view.figure(
            screen.app.desk.controllers.calculation.look()
        ).startswith("indicators_percent.")


async def test_another_view_opened_from_the_account_goes_back_to_the_sheet(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        await screen.press("f5", "f4", "f8", "escape")
        assert screen.app.desk.state.view is None


async def test_a_click_on_a_state_chooses_it(tmp_path: Path) -> None:
    async with on_screen(ONE, state=tmp_path) as screen:
        await screen.press("f5", "h")
        pane = screen.app.desk.query_one(ViewPane)
        rows = screen.text.splitlines()
        y = next(y for y, line in enumerate(rows) if " nobody or not " in line)
        await screen.pilot.click(offset=(pane.region.x + 6, y))
        await screen.settle()
        assert "nobody or not allowed" in chosen_row(screen)


@pytest.mark.long
async def test_the_head_of_the_hours_stays_in_sight_where_the_list_scrolls(
    tmp_path: Path,
) -> None:
    study = SCENARIOS / "small-orders.toml"
    async with on_screen(study, (80, 24), state=tmp_path) as screen:
        await screen.press("f5", "h")
        assert "Machine hours a week" in screen.text
        await screen.press(*["down"] * 20)
        assert "nobody or not allowed" in chosen_row(screen)
        await screen.press("pagedown", "pagedown")
        head = next(
            i for i, line in enumerate(screen.text.splitlines()) if "Machine hours a week" in line
        )
        # Without the scroll bar's cell.
        assert screen.text.splitlines()[head + 1][:79].split() == [
            "h",
            "%",
            "h",
            "%",
            "more",
            "h",
            "%",
            "more",
        ]
        # A click on the head is none on what has scrolled below it.
        pane = screen.app.desk.query_one(ViewPane)
        assert pane.scroll_offset.y
        chosen = chosen_row(screen)
        await screen.pilot.click(offset=(pane.region.x + 6, head + 1))
        await screen.settle()
        assert chosen_row(screen) == chosen


@pytest.mark.parametrize("size", SMALL_FIRST)
def test_bars_say_in_words_what_they_are_made_of_and_rows_have_no_signs(
    size: tuple[int, int],
) -> None:
    """A sign before each of four rows was one that meant four things."""
    lines = Looking(SCENARIOS / "small-orders.toml", "hours", size).text.splitlines()
    (legend,) = (i for i, line in enumerate(lines) if line.startswith(" █ in cycle  "))
    assert lines[legend].rstrip() == " █ in cycle  ▒ being loaded, set up, warmed  ░ waiting"
    assert any(line.startswith(" loading and unloading") for line in lines[:legend])
    assert not any(set("█▒░") & set(line) for line in lines[:legend])
    assert re.search(r"░ waiting \d+ % ░", lines[legend + 1])


def test_a_part_that_no_bar_has_is_not_told() -> None:
    text = Looking(SCENARIOS / "pallets-until-demand.toml", "hours", column=0).text
    assert ("▒ being loaded" in text, "░" in text) == (True, False)


@pytest.mark.parametrize("name", ["hours", "night"])
@pytest.mark.long
async def test_the_list_goes_from_one_view_to_another(name: str, tmp_path: Path) -> None:
    async with on_screen(ONE, (80, 24), state=tmp_path) as screen:
        await screen.open_view("week")
        await screen.press("f6", "home", *["down"] * NAMES.index(name), "enter")
        told = screen.text
        screen.app.desk.controllers.views.close_view()
        await screen.open_view(name)
        assert screen.text == told


@pytest.mark.long
async def test_a_question_mark_opens_the_help_but_is_typed_in_a_text(tmp_path: Path) -> None:
    async with on_screen(ONE, (80, 24), state=tmp_path, calculator=Silent) as screen:
        await screen.press("question_mark")
        assert isinstance(screen.app.screen, ReadText)
        await screen.press("escape", "slash", "question_mark")
        assert not isinstance(screen.app.screen, ReadText)
        await screen.press("escape", "f5", "question_mark")
        assert isinstance(screen.app.screen, ReadText)


def test_readme_tells_an_owner_how_to_begin_before_it_lists_keys() -> None:
    text = README.read_text("utf-8")
    heads = ("<!-- open command -->", "## The first ten minutes", "## What it does not decide")
    places = [text.index(each) for each in (*heads, "### Keys", "<!-- test command -->")]
    assert places == sorted(places)
    steps = text[places[1] : places[2]]
    keys = {f"F{key}" for key in re.findall(r"\bF(\d+)\b", steps)} | set(
        re.findall(r"`(\w)`", steps)
    )
    shown = {word for command in KEYED for word in (command.shown, *command.keys.split(","))}
    assert keys <= shown
