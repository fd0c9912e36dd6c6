"""Money: table and years, following an edit, and what to do where there is none."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from looks import Looking
from screen import SCENARIOS, SMALL_FIRST, Screen, on_screen

from whatif.screens.views.money import MoneyView
from whatif.screens.views.pane import ViewPane
from whatif.screens.widgets.editor import Editor

DEMO = SCENARIOS / "pallets-until-demand.toml"


async def opened(screen: Screen) -> Screen:
    return await screen.open_view("money")


def said(screen: Screen) -> str:
    return screen.text.replace("\u00a0", " ")


@pytest.mark.parametrize("size", SMALL_FIRST)
def test_what_comes_back_when(size: tuple[int, int]) -> None:
    looking = Looking(DEMO, "money", size)
    # 2 x 6 500 + 2 x 95 000 laid out; 203 000 / 115 567 = 1.76; over 7 years at 8 % a year is worth
    # (1 - 1.08^-7) / 0.08 = 5.2064: 115 567 x 5.2064 - 203 000 = 398 688.
    # Told with four figures: no more are known of what hangs on pieces sold.
    for text in ("+115 600", "203 000", "1.8 years", "1.7 to 1.9", "+398 700", "54.2"):
        assert text in looking.words
    back = "Back after: A Second pallet each 1.8 years"
    if size[0] < 200:
        assert back not in looking.words
        looking.press("y")
    # In few lines the lead tells it of the chosen one, and the table, seen beside it, of all.
    assert (back in looking.words) is (24 < size[1] < 50)
    assert "after 1.8 years" in looking.words
    assert looking.chosen == ["A Second pallet each"]
    assert "A Second pallet each" in "".join(looking.seen)
    assert "! Caution: " in "".join(looking.seen)
    assert "EUR 203 000 is invested at once" in looking.words


@pytest.mark.parametrize("size", SMALL_FIRST)
def test_whether_it_pays_is_read_first(size: tuple[int, int]) -> None:
    looking = Looking(DEMO, "money", size)
    for _ in "ty":
        assert looking.words.startswith("EUR 203 000 is invested at once; every year brings")
        assert looking.rows[0][-1].tone == "lead"
        looking.press("y")


def test_one_line_of_the_plot_stands_out() -> None:
    rows = Looking(DEMO, "money", (200, 50), column=2).rows
    inked = {
        span.tone: span.text for spans in rows for span in spans if re.search("[⠁-⣿]", span.text)
    }
    assert set(inked) == {"line-1", "faint"}


@pytest.mark.long
def test_every_column_needs_no_scrolling_at_120x32() -> None:
    looking = Looking(DEMO, "money", (120, 32), column=0)
    for _ in looking.state.ids:
        for page in "yy":
            assert len(looking.rows) <= looking.height
            looking.press(page)
        looking.press("right")
    assert "machines bought" in looking.text
    assert "-76 000" in looking.words  # two mills given up at 38 000 each


def test_the_reference_is_the_line_of_nothing() -> None:
    looking = Looking(DEMO, "money", column=0).press("y")
    assert "This is what the others are held against" in looking.words
    (nothing,) = (line for line in looking.text.splitlines() if " 0 ┤" in line)
    assert re.search("┤[⠁-⣿]+K[⠁-⣿]+K[⠁-⣿]+K ", nothing)
    assert looking.chosen == ["K Today: two tables"]
    lines = [line for line in looking.text.splitlines() if "K Today: two tables" in line]
    assert lines[-1].split()[-5:] == ["K", "Today:", "two", "tables", "0"]
    other = looking.press("right").text
    (nothing,) = (line for line in other.splitlines() if " 0 ┤" in line)
    assert "───" in nothing
    assert "─K " in nothing


def test_a_chosen_scenario_without_a_line_is_said_to_have_none(tmp_path: Path) -> None:
    """Of all lines none is solid then."""
    text = DEMO.read_text("utf-8") + (
        '\n[scenario.unpriced]\ntitle = "Third mill"\nparent = "today"\nmachine.mill.count = 3\n'
    )
    study = tmp_path / "study.toml"
    study.write_text(text, "utf-8")
    looking = Looking(study, "money").press("y", *["right"] * 10)
    said = "Third mill has no line: its yearly gain is not clear, or not priced."
    assert looking.look().title == "Third mill"
    assert said in looking.words
    assert said not in looking.press("left").words


@pytest.mark.parametrize("size", [(80, 24), (120, 32)])
def test_the_help_tells_of_the_table_or_of_the_lines_whichever_is_open(
    size: tuple[int, int],
) -> None:
    looking = Looking(DEMO, "money", size)
    table = looking.view.how_read(looking.text)
    assert "Net present value" in table
    assert "solid" not in table
    looking.press("y")
    assert looking.view.how_read(looking.text) == MoneyView.reads_of_years
    large = Looking(DEMO, "money", (200, 50))
    assert large.view.how_read(large.text) == f"{MoneyView.reads} {MoneyView.reads_of_years}"


def wages(screen: Screen) -> tuple[str, ...]:
    """What is paid a year in the first two columns."""
    return re.findall(r"  wages +(-[0-9 ]+?) {2,}(-[0-9 ]+?) {2,}", said(screen))[0]


@pytest.mark.long
async def test_it_follows_the_wage(tmp_path: Path) -> None:
    path = tmp_path / "weeks.toml"
    path.write_text(DEMO.read_text("utf-8").replace("runs = 9", "weeks = 4\nruns = 3"), "utf-8")
    async with on_screen(path, (200, 50), state=tmp_path) as screen:
        await screen.press("right")
        await opened(screen)
        assert "+100 400" in said(screen)
        await screen.press("w")
        line = screen.app.desk.state.line
        assert line is not None
        assert line.path == ("money", "wage")
        editor = screen.app.desk.query_one(Editor)
        assert editor.is_open
        await screen.press(*["backspace"] * len(editor.value))
        await screen.type("46")
        # Paid in both: 50 weeks of 85 hours at 10 more, and no less of a gain.
        assert "For the whole shop: entered in Today: two tables." in said(screen)
        assert screen.app.desk.state.chosen == "today"
        # The view is about the chosen scenario all the same: whether that pays now is the question.
        assert "is invested at once; every year brings" in said(screen)
        assert wages(screen) == ("-195 500", "-195 500")
        assert "+100 400" in said(screen)
        await screen.press("escape")
        assert screen.app.desk.state.chosen == "second"
        assert wages(screen) == ("-153 000", "-153 000")


async def test_by_mouse(tmp_path: Path) -> None:
    async with on_screen(DEMO, state=tmp_path) as screen:
        await opened(screen)
        pane = screen.app.desk.query_one(ViewPane)
        await screen.pilot.click(ViewPane, offset=(60, 4))
        await screen.settle()
        assert screen.app.desk.state.chosen == "second"
        await screen.press("y")
        lines = screen.text.splitlines()
        at = next(y for y, line in enumerate(lines) if "D Six pallets" in line)
        offset = (lines[at].index("D Six pallets") + 3, at - pane.region.y)
        await screen.pilot.click(ViewPane, offset=offset)
        await screen.settle()
        assert screen.app.desk.state.chosen not in ("second", "today")


@pytest.mark.long
async def test_without_a_contribution_it_says_what_to_enter(tmp_path: Path) -> None:
    async with on_screen(two_parts(tmp_path), state=tmp_path) as screen:
        await opened(screen)
        assert "No part has a contribution" in screen.text
        await screen.press("c")
        line = screen.app.desk.state.line
        assert line is not None
        assert line.path[2] == "contribution"
        editor = screen.app.desk.query_one(Editor)
        await screen.press(*["backspace"] * len(editor.value))
        await screen.type("25")
        await screen.press("enter")
        assert "yearly gain" in screen.text


def test_without_a_part_c_says_what_to_do(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text("format = 1\n[scenario.now]\n")
    looking = Looking(path, "money", column=0).press("c")
    assert looking.notice == "There is no part yet: n adds one."


def test_no_years_counted_says_so(tmp_path: Path) -> None:
    text = DEMO.read_text("utf-8").replace("wage = 36", "wage = 36\nyears = 0", 1)
    path = tmp_path / "none.toml"
    path.write_text(text, "utf-8")
    assert "No years are counted" in Looking(path, "money").press("y").text


_TWO_PARTS = """\
format = 1
title = "Two parts"
weeks = 2
warm_up = 0
[scenario.today]
title = "Today"
machine.mill.count = 2
part.piece_a.cycle = "12 min"
part.piece_a.weekly = 1000
part.piece_b.cycle = "20 min"
part.piece_b.weekly = 1000
[scenario.today.shift.early]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
people = 2
[scenario.six]
title = "Six pallets"
parent = "today"
machine.mill.pallets = 6
"""


def two_parts(tmp_path: Path, more: str = "") -> Path:
    path = tmp_path / "two.toml"
    path.write_text(_TWO_PARTS + more, "utf-8")
    return path


async def type_contribution(screen: Screen, text: str) -> None:
    await screen.press("c")
    editor = screen.app.desk.query_one(Editor)
    assert editor.is_open
    await screen.press(*["backspace"] * len(editor.value))
    await screen.type(text)


@pytest.mark.long
async def test_a_contribution_is_entered_for_the_whole_shop_part_by_part(tmp_path: Path) -> None:
    async with on_screen(two_parts(tmp_path), state=tmp_path) as screen:
        desk = screen.app.desk
        await screen.press("right")
        await opened(screen)
        await type_contribution(screen, "20")
        assert "For the whole shop: entered in Today." in screen.text
        await screen.press("enter")
        assert desk.state.chosen == "six"
        assert "! piece_b has no contribution, so its pieces count as nothing" in screen.text
        await type_contribution(screen, "30")
        await screen.press("enter")
        assert "no contribution" not in screen.text
        entered = desk.state.session.draft.scenario("today").entered
        assert entered["part", "piece_a", "contribution"] == 20
        assert entered["part", "piece_b", "contribution"] == 30
        assert not any(
            "contribution" in path for path in desk.state.session.draft.scenario("six").entered
        )
        await screen.press("c")  # from the last part to the first again
        line = desk.state.line
        assert line is not None
        assert line.path == ("part", "piece_a", "contribution")
        await screen.press("escape")
        await screen.press("u", "u")
        assert not any(
            "contribution" in one for one in desk.state.session.draft.scenario("today").entered
        )


@pytest.mark.long
async def test_one_that_was_entered_here_only_is_told(tmp_path: Path) -> None:
    path = two_parts(tmp_path, "part.piece_a.contribution = 20\n")
    async with on_screen(path, (120, 32), state=tmp_path) as screen:
        await screen.press("right")
        await opened(screen)
        words = " ".join(said(screen).split())
        assert "! The contribution of piece_a is 20 here and not given in Today" in words
        await type_contribution(screen, "20")
        assert "entered in Today; Six pallets has its own." in screen.text
        await screen.press("enter")
        assert "The contribution of piece_a" not in screen.text


@pytest.mark.parametrize("size", SMALL_FIRST)
def test_what_is_not_priced_is_told_at_every_size(size: tuple[int, int], tmp_path: Path) -> None:
    text = _TWO_PARTS.replace("[scenario.today.shift", "part.piece_a.contribution = 20\n"
                              "part.piece_b.contribution = 30\n[scenario.today.shift")  # fmt: skip
    path = tmp_path / "two.toml"
    path.write_text(text, "utf-8")
    looking = Looking(path, "money", size)
    words = looking.words
    assert "! Not priced yet: pallets of mill (10), handling systems of mill (2)" in words
    assert "payback – not priced" in words
    assert "payback – at once" not in words
    if size[0] < 120:
        looking.press("y")
    assert "Nothing is priced yet: what has to be invested is not known" in looking.words
    assert "Nothing has to be invested" not in looking.words


def test_all_lines_are_drawn_and_told_in_the_order_of_their_height() -> None:
    for size in ((80, 24), (120, 32), (200, 50)):
        looking = Looking(DEMO, "money", size)
        if size[0] < 200:
            looking.press("y")
        assert " of 11 lines" not in looking.words
        assert "H Six small pallets each " in looking.text  # no title is cut
        assert re.search(r" (! 807k|! 806.500)$", looking.text, re.MULTILINE)
        names = re.findall(r"^ .{10} [│┤].* ([A-K]) [A-Z][a-z].*", looking.text, re.MULTILINE)
        assert "".join(names) == "DEGJCFHBIAK"
        assert looking.chosen == ["A Second pallet each"]
        assert looking.press("right").chosen == ["B Two each, 4 h longer"]


@pytest.mark.parametrize("size", SMALL_FIRST)
def test_money_of_what_cannot_be_made_is_as_its_gain_in_table_and_plot(
    size: tuple[int, int],
) -> None:
    """Its gain was amber, and what a year brings of it green, "and clearly so"."""
    looking = Looking(DEMO, "money", size, column=8)

    def tones(of: str) -> set[str]:
        return {span.tone for spans in looking.rows for span in spans if re.search(of, span.text)}

    assert tones(r"! \+149.400") == tones(r"! \+538.600") == {"caution"}
    assert "gain" in tones(r"\+\d")
    if size[0] < 200:
        looking.press("y")
    assert tones("H(?![a-z])") >= {"caution"}
    assert tones("[⣠⡠⠤]") == {"caution"}
    assert tones("! 80") == {"caution"}


@pytest.mark.parametrize(
    ("demo", "size", "turns"),
    [
        (DEMO, (80, 24), True),
        (DEMO, (200, 50), False),
        (SCENARIOS / "one-person.toml", (80, 24), False),
    ],
)
def test_years_and_table_are_turned_only_where_one_hides_the_other(
    demo: Path, size: tuple[int, int], turns: bool
) -> None:
    """With both in sight, or no money, the key changed its own word and nothing else."""
    looking = Looking(demo, "money", size)
    before = looking.text
    assert ("y" in {key.key for key in looking.view.own_keys(looking.look())}) is turns
    assert (looking.press("y").text != before) is turns


async def test_the_line_of_keys_follows_the_room_for_years_and_table(tmp_path: Path) -> None:
    async with on_screen(DEMO, (80, 24), state=tmp_path) as screen:
        await opened(screen)
        assert "y years" in screen.text.splitlines()[-1]
        await screen.pilot.resize_terminal(200, 50)
        await screen.settle()
        assert "y years" not in screen.text.splitlines()[-1]
        await screen.pilot.resize_terminal(80, 24)
        await screen.settle()
        assert "y years" in screen.text.splitlines()[-1]


@pytest.mark.long
async def test_from_the_money_the_answer_over_a_wage_is_reached_as_the_help_says(
    tmp_path: Path,
) -> None:
    """Nothing on the screen said that another wage can be tried."""
    async with on_screen(DEMO, (80, 24), state=tmp_path) as screen:
        await screen.press("right")
        await opened(screen)
        await screen.press("w", "escape", "f9", "c")
        words = " ".join(said(screen).split())
        assert ", over wage per hour" in words
        # The unit beside the axis is whole.
        assert "EUR an hour " in words
        assert "break-even with a payback of 7 years" in words


def test_of_lines_without_a_row_the_highest_are_drawn_and_it_is_said() -> None:
    looking = Looking(DEMO, "money", (80, 20)).press("y")
    told = re.search(
        r"(\d+) of 11 lines: the chosen one, the reference's, the highest at the end", looking.words
    )
    assert told is not None
    # It said one more than there were: the line that says so takes a row.
    named = re.findall(r"\b[A-K] (?=Today|Second|Two|Four|Six|Nine|One|New)", looking.text)
    assert len(named) == int(told[1])
    assert "A Second pallet each" in looking.text
    assert "B Two each, 4 h longer" not in looking.text
    assert "B Two each, 4 h longer" in looking.press("right").text


async def test_c_says_of_which_part_the_contribution_is(tmp_path: Path) -> None:
    """In the line of keys where there is room for its name, and always where it is typed."""
    housing = Looking(DEMO, "money", under=("part", "first_side", "contribution"))
    words = [key.word for key in housing.view.own_keys(housing.look())]
    assert "contribution of housing" in words
    async with on_screen(DEMO, (80, 24), state=tmp_path) as screen:
        await screen.open_view("money")
        assert " w wage" in screen.text.splitlines()[-1]
        await screen.press("c")
        (line,) = (line for line in screen.text.splitlines() if line.startswith(" contribution"))
        assert " of first_side, Today: two tables:" in line
