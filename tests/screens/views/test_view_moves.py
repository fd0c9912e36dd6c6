"""What matters most: three pages on a demo, keys and mouse, edits, stopping, and empty states."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from looks import MOVES_PAGES, Looking, Silent
from moving_studies import CHILD, HEAD, ONE_TABLE
from rich.cells import cell_len
from screen import SCENARIOS, SMALL_FIRST, AWhile, Screen, on_screen
from syrupy.assertion import SnapshotAssertion
from textual.widgets import OptionList

from whatif.answers.moves.vary import Grid
from whatif.screens.dialogs.ask import AskLine
from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.dialogs.reading import ReadText
from whatif.screens.views.moves.ranked import _length
from whatif.screens.views.pane import ViewPane
from whatif.session.calculate.questions import GridOf
from whatif.study.edits import SetValue
from whatif.telling.gain_texts import likely_gain_text

PEOPLE = ("shift", "all", "people")
PALLETS = ("machine", "mill", "pallets")
CYCLE = ("part", "body", "cycle")

A_DAY = re.sub("days = .*", 'days = ["mon"]', HEAD)
SMALL = "\n".join(
    (
        A_DAY + "\n".join(ONE_TABLE),
        *CHILD,
        "machine.mill.count = 2",
        "machine.mill.pallets = 1",
        'part.body.cycle = "10 min"',
        "shift.all.people = 2\n",
    )
)
"""A machine and a person more in a child, for a day a week: 102 pieces more, of 5000 wanted."""


@pytest.fixture
def small(tmp_path: Path) -> Path:
    path = tmp_path / "study.toml"
    path.write_text(SMALL)
    return path


async def opened(screen: Screen, *keys: str, column: int = 1) -> Screen:
    return await screen.press(*["right"] * column, "f9", *keys)


def pane(screen: Screen) -> str:
    return "\n".join(screen.view_lines)


# --- what is drawn ---------------------------------------------------------------------------


@pytest.mark.parametrize("size", SMALL_FIRST, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.long
def test_three_pages(size: tuple[int, int], small: Path, snapshot: SnapshotAssertion) -> None:
    looking = Looking(small, "moves", size)
    for key, page in MOVES_PAGES.items():
        looking.press(key)
        assert len(looking.rows) <= looking.height
        assert max(cell_len(line) for line in looking.text.splitlines()) <= looking.width
        if size[0] < 100:
            assert looking.text == snapshot(name=page)


def test_it_follows_an_edit_and_its_undo(small: Path) -> None:
    looking = Looking(small, "moves", calculator=AWhile)
    before = looking.text
    pallets = SetValue("child", PALLETS, 3)
    assert looking.edit(lambda session: session.do(pallets)).text != before
    assert looking.edit(lambda session: session.undo()).text == before


# --- the ranking -----------------------------------------------------------------------------


@pytest.mark.long
def test_the_cursor_goes_along_the_list_and_enter_shows_the_curve(small: Path) -> None:
    moves = Looking(small, "moves")
    first = moves.text
    assert moves.chosen == ["m What matters most", "machines"]
    assert "points" in first
    lines = [line for line in first.splitlines() if "█" in line]
    assert len(lines) > 3
    moves.press("down", "down", "up")
    assert moves.text != first
    label = moves.chosen[1]
    assert label != "machines"
    moves.press("enter")
    assert f", %, over {label}" in moves.text
    assert moves.chosen[0] == "c Curve"
    moves.press("m")
    assert moves.chosen == ["m What matters most", label]


def test_the_letter_of_the_curve_takes_the_marked_row_as_enter_does(small: Path) -> None:
    moves = Looking(small, "moves")
    moves.press("c", "m", "down", "down")
    label = moves.chosen[1]
    assert f" saleable gain, %, over {label}" in moves.press("c").text


def test_each_page_says_its_keys_and_those_of_the_others_stand_beside_their_names(
    small: Path,
) -> None:
    moves = Looking(small, "moves", (80, 24))
    for letter, keys in (("m", "⏎"), ("c", "f o v w k"), ("g", "o O v V k K")):
        moves.press(letter)
        first = moves.text.splitlines()[0]
        assert "m What matters most" in first
        assert "c Curve" in first
        assert "g Grid of two inputs" in first
        told = [key.shown for key in moves.view.own_keys(moves.look()) if key.word]
        assert " ".join(told) == keys


@pytest.mark.parametrize("page", ["c", "g"])
def test_what_stands_now_is_told_as_the_strip_tells_it(page: str, tmp_path: Path) -> None:
    """The study has six draws, and what is tried three: here is still one gain and one range."""
    path = tmp_path / "study.toml"
    rough = SMALL.replace('accuracy = "0 %"', 'accuracy = "20 %"').replace("runs = 3", "runs = 6")
    path.write_text(rough)
    moves = Looking(path, "moves", under=CYCLE)
    answer = moves.look().answers["child"]
    told = likely_gain_text(answer.gains.saleable, answer.judged)
    assert "likely" in told
    moves.press(page)
    if page == "g":
        found = moves.look().result
        assert isinstance(found, Grid)
        row, column = found.now or (0, 0)
        moves.press(*["up"] * 20, *["left"] * 20, *["down"] * row, *["right"] * column)
    assert told in moves.words


def test_that_ranges_of_a_table_are_of_fewer_draws_is_told_at_the_end_of_its_text(
    tmp_path: Path,
) -> None:
    """In its title "ranges but that of now from 3 draws, the sheet's from 9" told nobody."""
    path = tmp_path / "study.toml"
    path.write_text(
        SMALL.replace('accuracy = "0 %"', 'accuracy = "20 %"').replace("runs = 3", "runs = 6")
    )
    for size, last in (
        ((80, 22), "Likely ranges: 5 draws, but 6 at the value now, as in the sheet."),
        ((200, 50), "likely ranges on 5 draws (as it stands now on 6, as in the sheet)."),
    ):
        table = Looking(path, "moves", size, under=CYCLE).press("g")
        assert last in table.words.partition(" spindle h a week; ")[2]
        assert table.words.count(" draws") == 1
        assert len(table.text.splitlines()) <= table.height


@pytest.mark.long
def test_a_gain_that_is_wanted_is_a_stroke_across_the_curve(small: Path) -> None:
    moves = Looking(small, "moves", (80, 24), under=CYCLE)
    moves.press("c", "w").take("60 %")
    assert "╌╌ +60 %" in moves.text
    assert "│╌" in moves.text
    assert "+60 % is reached from " in moves.words
    moves.press("w").take("many")
    assert moves.notice.startswith('"many" is no gain in percent')
    moves.press("w").take("")
    assert "╌" not in moves.text
    assert "is reached from" not in moves.words


def test_a_gain_that_is_wanted_before_there_is_a_curve_is_told_to_be_looked_for(
    small: Path,
) -> None:
    moves = Looking(small, "moves", (80, 24), under=CYCLE, calculator=Silent)
    moves.press("c")
    then = "From which value on +60 % is reached is told then."
    assert then not in moves.words
    moves.press("w").take("60 %")
    assert f"Being worked out ... {then}" in moves.words


def test_it_is_looked_for_once_the_curve_is_there(tmp_path: Path) -> None:
    path = tmp_path / "study.toml"
    # What both take from one place has another figure first.
    path.write_text(SMALL.replace('part.body.cycle = "10 min"\n', ""))
    moves = Looking(path, "moves", (80, 24), under=CYCLE)
    moves.press("c", "w").take("60 %")
    assert "saleable gain, %, over cycle ╌╌ +60 %" in moves.words
    assert "saleable output over Today" in moves.press("F").words


def test_what_is_only_assumed_is_told_in_words(small: Path) -> None:
    moves = Looking(small, "moves")
    assert "Only assumed, and it matters: " in moves.words
    assert "Go and look at these, or measure them, first." in moves.words
    line = next(one for one in moves.text.splitlines() if "walk per visit  " in one)
    assert "1 min~ " in line


def test_what_is_known_so_far_is_shown_and_stays_when_it_is_stopped(small: Path) -> None:
    moves = Looking(small, "moves", calculator=AWhile)
    assert "Being worked out: 3 of" in moves.text
    assert "So far:" in moves.text
    known = [line for line in moves.text.splitlines() if "│" in line]
    moves.controllers.calculation.stop_or_go_on()
    assert "Stopped; s goes on with it. So far:" in moves.text
    assert [line for line in moves.text.splitlines() if "│" in line] == known
    AWhile.items, items = 1000, AWhile.items
    try:
        moves.controllers.calculation.stop_or_go_on()
        assert "So far" not in moves.text
        assert "What matters most, each by its own step: " in moves.text
    finally:
        AWhile.items = items


def test_it_opens_with_what_matters_most_wherever_the_cursor_came_from(small: Path) -> None:
    """The list opened deep down, on the row of the sheet; the curve is over that row still."""
    moves = Looking(small, "moves", under=CYCLE)
    assert moves.chosen[1] == "machines"
    assert ", over cycle" in moves.press("c").text
    # Back in the list it is marked, and what is marked then is meant.
    assert moves.press("m").chosen[1] == "cycle"
    moves.press("home")
    assert ", over machines" in moves.press("c").text


def test_a_curve_that_cannot_be_over_the_row_come_from_says_what_it_is_over(small: Path) -> None:
    """On "days" of the sheet it was over machines, and no word said why."""
    moves = Looking(small, "moves", (80, 24), under=("shift", "all", "days")).press("c")
    said = '"days" is not one number: this one is over machines (o chooses another).'
    assert said in moves.words
    # From a heading the first line of the list is marked, and that is what c is pressed on.
    heading = Looking(small, "moves", (80, 24)).press("c")
    assert ", over machines" in heading.words
    assert "heading" not in heading.words
    # Whoever chooses one, or marks one in the list, knows what it is.
    assert "is not one number" not in moves.press("o").take("cycle").text
    assert "is not one number" not in moves.press("m", "home", "c").text
    assert "this one is over" not in Looking(small, "moves", under=CYCLE).press("c").text


def test_above_a_curve_stands_one_line_and_what_it_rests_on_below(small: Path) -> None:
    """Four lines of method stood before the picture."""
    seen = Looking(small, "moves", (120, 32), under=CYCLE).press("c").seen
    title = next(i for i, line in enumerate(seen) if ", over cycle" in line)
    assert title == 2
    assert any("It rests on" in line for line in seen[title:])


def test_enter_opens_the_curve_of_the_input_that_is_marked(small: Path) -> None:
    moves = Looking(small, "moves", under=CYCLE).press("enter")
    assert ", over machines" in moves.text


def test_the_list_and_the_curve_stand_on_the_same_input(small: Path) -> None:
    """After o had chosen another input, c went back to the one before."""
    moves = Looking(small, "moves")
    moves.press("down", "enter", "o").take("cycle")
    assert ", over cycle" in moves.text
    moves.press("m")
    assert moves.chosen[1] == "cycle"
    assert ", over cycle" in moves.press("c").text


def test_who_comes_back_finds_the_input_looked_at_last(small: Path) -> None:
    moves = Looking(small, "moves")
    views = moves.controllers.views

    def again() -> Looking:
        moves.look()
        views.close_all()
        views.open("moves")
        assert moves.state.view is not None
        moves.view = moves.state.view
        moves.look()
        return moves

    assert again().chosen[1] == "machines"
    label = moves.press("down", "down").chosen[1]
    assert label != "machines"
    assert again().chosen[1] == label
    moves.press("enter", "o").take("cycle")
    assert again().chosen[1] == "cycle"
    assert ", over cycle" in moves.press("c").text
    # From another row of the sheet it opens with what matters most.
    moves.look()
    views.close_all()
    assert moves.state.go_to_value(PALLETS)
    moves.look()
    views.open("moves")
    assert moves.state.view is not None
    moves.view = moves.state.view
    assert moves.chosen[1] == "machines"
    assert ", over pallets each" in moves.press("c").text


# --- the curve -------------------------------------------------------------------------------


@pytest.mark.long
async def test_a_value_is_read_and_taken_into_the_scenario_and_undone(small: Path) -> None:
    async with on_screen(small) as screen:
        await screen.put_on(PALLETS, 1)
        await opened(screen, "c", column=0)
        before = pane(screen)
        assert " saleable gain, %, over pallets each" in before
        assert " pallets each 1: saleable gain +100 %" in before
        await screen.press("right")
        assert " pallets each 2: saleable gain" in pane(screen)
        await screen.press("k")
        child = screen.session.draft.scenario("child")
        assert child.entered[PALLETS] == 2
        assert "allets each 1 -> 2" in screen.text
        await screen.press("k")
        assert "That is what holds already." in screen.text
        await screen.press("u", "left")
        assert pane(screen) == before


def test_the_row_under_the_cursor_is_the_input_of_the_curve(small: Path) -> None:
    moves = Looking(small, "moves", under=CYCLE).press("c")
    assert " saleable gain, %, over cycle" in moves.text
    assert moves.chosen == ["c Curve", "●", "10"]
    assert "▲ now" in moves.text


def test_a_row_of_a_machine_that_is_not_there_is_named_with_it(tmp_path: Path) -> None:
    """ "pallets each" changed nothing, said a curve over pallets each."""
    path = tmp_path / "study.toml"
    path.write_text(f"{SMALL}\n[scenario.other]\nparent = 'today'\nmachine.pool.pallets = 4\n")
    curve = Looking(path, "moves", under=("machine", "pool", "pallets")).press("c")
    assert "pallets each of pool" in " ".join(curve.words.split())


@pytest.mark.parametrize(
    ("size", "legend"),
    [
        # It is thinner than a sign of it, and lower than this hidden by the line.
        ((80, 50), "as typed  ⠄⠄ likely range, 3 draws"),
        ((80, 24), "⠒●⠒ as typed"),
        ((200, 50), "range, 3 draws: each a little off, so the line may leave it"),
    ],
)
def test_the_legend_says_what_line_and_band_are(
    small: Path, size: tuple[int, int], legend: str
) -> None:
    moves = Looking(small, "moves", size, under=PALLETS).press("c")
    line = next(each for each in moves.text.splitlines() if "over pallets each" in each)
    assert legend in line
    drawn = moves.text.replace(line, "")
    assert ("⢕⢕" in line) <= ("⢕" in drawn)


@pytest.mark.long
async def test_a_range_is_typed_and_a_wrong_one_is_told(small: Path) -> None:
    async with on_screen(small) as screen:
        await screen.go_to("cycle", 1)
        await screen.press("f9", "c", "v")
        assert isinstance(screen.app.screen, AskLine)
        await screen.type("6..14 min..4 min")
        await screen.press("enter")
        line = next(one for one in pane(screen).splitlines() if one.split()[:1] == ["min"])
        assert line.split() == ["min", "6", "10", "14"]
        await screen.press("v")
        await screen.type("14 min..6 min")
        await screen.press("enter")
        assert "goes down; write the smaller value first" in screen.text
        assert line in screen.text
        await screen.press("v", "escape")
        assert line in screen.text


@pytest.mark.long
async def test_another_input_is_chosen_from_a_list(small: Path) -> None:
    async with on_screen(small) as screen:
        await opened(screen, "c", "o")
        assert isinstance(screen.app.screen, ChooseOne)
        assert "walk per visit" in screen.text
        await screen.press("home", "down", "down", "down", "enter")
        assert " people 2: saleable gain" in pane(screen)
        # It is found in by typing, and says so.
        await screen.press("o")
        assert "type to find one" in screen.text
        await screen.press(*"walk", "enter")
        assert "walk per visit" in pane(screen)


def test_what_the_inputs_of_the_list_are_is_told_below_it_and_in_the_help(small: Path) -> None:
    looking = Looking(small, "moves", (120, 32)).press("m", "home")
    assert looking.state.view is not None
    lines = looking.text.splitlines()
    assert " machines: Identical machines; 0 removes them." in lines
    named = looking.view.named(looking.look(), looking.text)
    assert ("machines", "Identical machines; 0 removes them.") in named
    # Those that stand in the list, each once and with what it is.
    assert all(says and f" {name}" in looking.text for name, says in named)
    looking.press("c")
    assert [name for name, _ in looking.view.named(looking.look(), looking.text)] == ["machines"]


async def test_the_help_of_the_list_of_inputs_says_what_each_is_and_comes_back(small: Path) -> None:
    async with on_screen(small) as screen:
        await opened(screen, "c", "o")
        await screen.press("down", "f1")
        told = screen.app.screen
        assert isinstance(told, ReadText)
        assert told.text.startswith("The answer over which input?")
        assert "\nwalk per visit\n  " in told.text
        assert "puts what is found at the top" in told.text
        await screen.press("escape")
        assert isinstance(screen.app.screen, ChooseOne)
        assert screen.app.screen.query_one(OptionList).highlighted == 1


def test_f_goes_round_the_figures(small: Path) -> None:
    moves = Looking(small, "moves", under=PALLETS).press("c")
    titles = []
    for _ in range(5):
        (title,) = (line for line in moves.text.splitlines() if "over pallets each" in line)
        titles.append(title.split(", over")[0].strip())
        moves.press("f")
    assert titles == [
        "saleable gain, %",
        "spindle hours, h a week",
        "demand met, part furthest behind, %",
        "good pieces of body, pieces a week",
        "saleable gain, %",
    ]
    moves.press("F")
    assert "saleable gain, %, over" in moves.text


def test_an_edit_while_the_curve_is_open_is_followed(small: Path) -> None:
    moves = Looking(small, "moves", under=PALLETS).press("c")
    assert moves.chosen[1:] == ["●", "1"]
    moves.edit(lambda session: session.do(SetValue("child", PALLETS, 3)))
    assert moves.chosen[1:] == ["●", "3"]
    values, marks = (
        next(line for line in moves.text.splitlines() if sign in line)
        for sign in (" 1    ", "▲ now")
    )
    assert marks.index("▲ now") == values.index("3")


# --- two inputs ------------------------------------------------------------------------------


def test_the_cursor_goes_from_cell_to_cell_and_both_values_are_one_change(
    small: Path,
) -> None:
    moves = Looking(small, "moves").press("g")
    assert " saleable gain, %, over pallets each and people" in moves.text
    assert moves.chosen == ["g Grid of two inputs", "+166"]
    assert " pallets each 2, people 1: saleable gain +166 %" in moves.text
    moves.press("up", "right")
    assert moves.chosen == ["g Grid of two inputs", "+100"]
    assert " pallets each 1, people 2: saleable gain +100 %" in moves.text
    assert not re.search(r"\S[▁-█] ", moves.text.partition("most")[2])
    moves.press("down", "left")
    assert " pallets each 2, people 1: saleable gain" in moves.text
    moves.press("k")
    child = moves.state.session.draft.scenario("child")
    assert child.entered[PALLETS] == 2
    assert child.entered[PEOPLE] == 1
    assert moves.state.session.unsaved == 1
    moves.edit(lambda session: session.undo())
    assert moves.state.session.unsaved == 0


@pytest.mark.long
def test_the_best_pair_is_in_sight_and_what_is_not_is_counted(small: Path) -> None:
    grid = Looking(small, "moves", (80, 20)).press("g", "V").take("1..9")
    assert any(" best " in line for line in grid.seen)
    assert len(grid.rows) <= grid.height
    assert "Most saleable output" not in grid.text
    grid.press(*["up"] * 9)
    (below,) = re.findall(r" {9}(\d) more rows? below", grid.text)
    cells = [line for line in grid.text.splitlines() if re.match(r" +\d  [▁-█ ]", line)]
    assert len(cells) + int(below) == 9
    grid.press(*["down"] * 9)
    assert re.search(rf" {{9}}{below} more rows? above", grid.text)


@pytest.mark.long
def test_a_cell_says_what_it_is_held_against_where_that_is_moved_too(tmp_path: Path) -> None:
    """With a person fewer in both the gain may be the larger one, and is no reason to have one."""
    path = tmp_path / "study.toml"
    path.write_text(SMALL.replace("shift.all.people = 2\n", ""))
    grid = Looking(path, "moves").press("g")
    lead = grid.words.partition(" saleable output over Today as it stands, %, over")[0]
    assert re.search(r"Best: .*people \d, .* over Today as it stands", lead)
    # Where both are alike it is told once.
    assert re.search(r"people \d: saleable gain \S+ % \([^)]*\); ", grid.words)
    legend = next(line for line in grid.text.splitlines() if ", %, over" in line)
    assert legend.startswith(
        " saleable output over Today as it stands, %, over pallets each and pe"
    )
    assert legend.rstrip().endswith("▁ least █ most")
    narrow = Looking(path, "moves", (80, 24)).press("g").text
    assert " saleable output over Today as it stands, %       " in narrow
    # A curve's takes a line more where it has to.
    path.write_text(path.read_text().replace('title = "Today"', 'title = "Today: one table"'))
    curve = Looking(path, "moves", (80, 24), under=CYCLE).press("c", "o").take("walk per visit")
    at = next(i for i, line in enumerate(curve.seen) if "over walk per visit" in line)
    assert curve.seen[at].startswith(" saleable output over Today: one table as it stands, %, over")
    assert "⠒●⠒ as typed" in curve.seen[at + 1]
    assert not curve.seen[at + 1].strip().startswith(";")


def test_each_row_says_by_how_much_its_input_is_moved_and_heads_have_units(small: Path) -> None:
    for size in ((80, 24), (120, 32)):
        seen = Looking(small, "moves", size, calculator=AWhile).seen
        at = next(i for i, line in enumerate(seen) if "~ assumed" in line)
        assert " moved by " in seen[at]
        assert re.search(r" ─+ change of gain, points ─+$", seen[at - 1].rstrip())
        rows = seen[at + 1 : at + 1 + AWhile.items - 1]
        assert all(re.search(r" (± (1|10 %|30 min)|to \S+.*?) ", line) for line in rows), rows


def test_the_inputs_and_ranges_of_a_table_are_chosen(small: Path) -> None:
    grid = Looking(small, "moves", calculator=Silent).press("g", "o").take("walk per visit")
    assert " pallets each x walk per visit" in grid.text
    grid.press("O").take("people").press("V").take("1..3")
    assert " people x walk per visit" in grid.text
    asked = grid.view.question(grid.look())
    assert isinstance(asked, GridOf)
    assert asked.values_down == ("1", "2", "3")
    grid.press("O").take("table load")
    assert "table load is not given" in grid.text
    assert "V names others, O chooses another input." in grid.words


# --- the mouse -------------------------------------------------------------------------------


async def click(screen: Screen, text: str, line: str = "") -> Screen:
    """Click on a text in the view, in the first row that has it (and ``line``)."""
    for y, one in enumerate(screen.text.splitlines()):
        view = screen.app.desk.query_one(ViewPane).region
        if view.y <= y < view.bottom and text in one and line in one:
            at = (one.index(text) + len(text) // 2 - view.x, y - view.y)
            await screen.pilot.click(ViewPane, offset=at)
            return await screen.settle()
    raise AssertionError(f"no {text} in the view")


@pytest.mark.long
async def test_pages_lines_bars_and_cells_take_clicks(small: Path) -> None:
    async with on_screen(small) as screen:
        await opened(screen)
        await click(screen, "walk per visit  ")
        assert " walk per visit, moved in Today too, now 1 min (assumed: go and measure)" in pane(
            screen
        )
        await screen.press("enter")
        # A longer way in both leaves the gain as it is, so its own output is drawn first.
        assert " saleable output over Today as it stands, %, over walk per visit" in pane(screen)
        assert "moved in Child and Today" in pane(screen).splitlines()[0]
        await screen.press("f")
        assert "saleable output over" not in pane(screen)
        values = next(line for line in pane(screen).splitlines() if line.startswith("       min "))
        await click(screen, values.split()[1], values)
        assert f" walk per visit {values.split()[1]} min: its output" in pane(screen)
        await click(screen, "Grid of two inputs")
        await screen.press("up", "right", "k")
        assert "That is what holds already." in screen.text


# --- nothing to show -------------------------------------------------------------------------


@pytest.mark.long
def test_the_reference_is_held_against_itself(small: Path) -> None:
    moves = Looking(small, "moves", column=0)
    assert "change of output, %" in moves.text
    moves.press("c")
    assert "Break-even" not in moves.text
    assert "Today is the reference: its gains are against itself as it stands" in moves.words


def test_a_study_without_parts_says_what_to_do(tmp_path: Path) -> None:
    path = tmp_path / "study.toml"
    path.write_text(HEAD.replace("[scenario.today.part.body]\n", ""))
    moves = Looking(path, "moves", column=0)
    for page in "mcg":
        moves.press(page)
        assert "Today has no parts, so there is nothing to simulate" in moves.text


def test_a_study_with_problems_says_so(tmp_path: Path) -> None:
    path = tmp_path / "study.toml"
    path.write_text(SMALL.replace('"10 min"', '"ten"'))
    moves = Looking(path, "moves", column=0)
    for page in "mcg":
        moves.press(page)
        assert "The study has problems; F3 lists them" in moves.text
        moves.press("k", "v", "down", "right", "enter")
        assert not moves.state.session.unsaved


@pytest.mark.long
def test_an_input_without_a_value_asks_for_a_range(small: Path) -> None:
    # What a machine costs matters where a piece earns something.
    small.write_text(SMALL.replace("weekly = 5000", "weekly = 5000\ncontribution = 3"))
    moves = Looking(small, "moves", under=("machine", "mill", "price")).press("c")
    assert (
        "price per machine is not given, so it is not known how much to try: name a range"
        in moves.text
    )
    moves.press("v").take("1000..3000..1000")
    assert "makes a difference in saleable output" in moves.text


# --- bars of a ranking -----------------------------------------------------------------------


def test_a_bar_is_as_long_as_the_larger_change_whichever_way_it_goes() -> None:
    """Half lines to either side had to be told apart by signs, and by two colours."""
    assert _length(1.0, 5) == "█████"
    # Whole cells: half of one was a sign of its own, and the figure stands beside it.
    assert _length(0.5, 4) == "██"
    assert _length(0.3, 4) == "█"
    # A change that is there is seen.
    assert _length(0.001, 5) == "█"
    assert _length(0.0, 5) == ""


@pytest.mark.long
async def test_an_inherited_value_is_kept_in_one_scenario_alone(small: Path) -> None:
    async with on_screen(small) as screen:
        await opened(screen, "m")
        await click(screen, "walk per visit  ")
        await screen.press("enter", "right")
        await screen.press("K")
        walk = ("handling", "walk")
        draft = screen.session.draft
        assert walk in draft.scenario("child").entered
        assert walk not in draft.scenario("today").entered
        await screen.press("u")
        assert walk not in screen.session.draft.scenario("child").entered


def test_a_curve_is_as_high_as_a_large_screen_has_room(small: Path) -> None:
    """Nothing below it stays empty but the row that its sentences leave."""
    lines = Looking(small, "moves", (200, 60)).press("c").text.splitlines()
    axis = next(
        place for place, line in enumerate(lines) if "likely range" in line or "over" in line
    )
    drawn = [line for line in lines[axis:] if "│" in line or "┤" in line]
    assert len(drawn) > 36


@pytest.mark.long
@pytest.mark.parametrize("study", ["one-person", "small-orders", "pallets-until-demand"])
def test_on_80_columns_no_name_of_what_matters_is_cut(study: str) -> None:
    moves = Looking(SCENARIOS / f"{study}.toml", "moves", (80, 24), column=2)
    for page in ("m", "c", "g"):
        assert "…" not in moves.press(page).text
    # In the place of a bar a text is whole too, or it is said below.
    text = moves.press("m", "home").text
    assert "larger" in text
    assert all(line[-1].isdigit() for line in text.splitlines() if "output: " in line)


def test_a_word_says_why_less_or_more_of_an_input_has_no_figure(small: Path) -> None:
    ranked = Looking(small, "moves", (120, 32), column=0).text
    rows = {line.split("  ")[0].strip(): line for line in ranked.splitlines()}
    assert " ± 1    lowest " in rows["people"]
    assert all(" – " not in line for name, line in rows.items() if "±" in line)


@pytest.mark.parametrize("key", ["k", "K"])
def test_a_value_that_is_kept_stays_under_the_cursor_among_the_same_values(
    small: Path, key: str
) -> None:
    """It laid others out around what holds then, and the cursor was on another one."""
    curve = Looking(small, "moves", under=CYCLE).press("c", "right", "right")
    values, foot = _values_of(curve.text), _foot_of(curve.text)
    curve.press(key)
    assert curve.state.session.unsaved == 1
    assert _values_of(curve.text) == values
    assert _foot_of(curve.text).split(":")[0] == foot.split(":")[0]
    curve.press("right", key)
    assert _values_of(curve.text) == values
    # Other values are laid out as soon as they are asked for.
    assert _values_of(curve.press("v").take("6 min..14 min..4 min").text) != values


def test_a_pair_that_is_kept_stays_under_the_cursor(small: Path) -> None:
    grid = Looking(small, "moves", (120, 32)).press("g", "down", "left")
    before, foot = grid.chosen, _foot_of(grid.text)
    grid.press("K")
    assert grid.state.session.unsaved == 1
    assert grid.chosen[0] == before[0]
    assert _foot_of(grid.text).split(":")[0] == foot.split(":")[0]


def _values_of(text: str) -> list[str]:
    """The values below a curve."""
    return next(
        line for line in text.splitlines() if re.match(r" +(min )? *\d+ +\d+ ", line)
    ).split()


def _foot_of(text: str) -> str:
    """The value, or the pair, under the cursor in words."""
    return next(line for line in text.splitlines() if ": saleable gain" in line)
