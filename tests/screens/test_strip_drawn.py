"""Strip, rule and sheet as they are drawn: one grid of figures, one sign for each meaning."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from looks import Silent
from moving_studies import study as one_table
from rich.cells import cell_len
from screen import SCENARIOS, SIZES, AtOnce, Screen, on_screen
from small_study import STUDY

from whatif.screens.widgets.columns import SIGNS
from whatif.screens.widgets.drawing import Drawn, SpanRow
from whatif.screens.widgets.sheet import Sheet
from whatif.screens.widgets.strip import ResultStrip
from whatif.screens.widgets.titled_rule import TitledRule
from whatif.screens.widgets.tree import ScenarioTree
from whatif.session.sheet import Line
from whatif.study.file.writing import to_text

PALLETS = SCENARIOS / "pallets-until-demand.toml"
SIGNED = "↑~×!"

LOSING = STUDY.replace("machine.mill.pallets = 4", "machine.mill.count = 1")
"""The second scenario has one of two machines, and loses."""

each_size = pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


@pytest.fixture
def losing(tmp_path: Path) -> Path:
    path = tmp_path / "losing.toml"
    path.write_text(LOSING.replace("weekly = 300", "weekly = 900"), "utf-8")
    return path


def text_of(row: SpanRow) -> str:
    return "".join(span.text for span in row)


def strip_lines(screen: Screen) -> list[str]:
    return [text_of(row) for row in screen.app.desk.query_one(ResultStrip).rows]


def row_of(screen: Screen, label: str) -> str:
    return next(line for line in strip_lines(screen) if line.startswith(f" {label}"))


def columns_of(screen: Screen, line: str) -> list[str]:
    """A line without wide signs, column by column."""
    columns = screen.app.desk.state.columns
    return [line[columns.x(place) :][: columns.width] for place in columns.visible]


async def test_gains_of_one_row_all_have_their_unit_or_none(tmp_path: Path) -> None:
    """One "+55 % (51 to 59)" stood beside "+98 (93 to 104)", as if those were two measures."""
    async with on_screen(PALLETS, (104, 32), state=tmp_path) as screen:
        await screen.press(*["right"] * 12)
        gains = row_of(screen, "saleable output, %").split("reference")[1]
        assert gains.rstrip().endswith(" +98 (93 to 104)")
        assert "! +55 (51 to 59)" in gains
        assert "%" not in gains
        # The widest of those that are seen has room.
        await screen.press(*["left"] * 9)
        gains = row_of(screen, "saleable output, %").split("reference")[1]
        assert gains.count(" % (") == len(re.findall(r" \(", gains)) > 1


@each_size
async def test_figures_of_strip_and_sheet_end_in_the_same_cell(
    size: tuple[int, int], tmp_path: Path
) -> None:
    async with on_screen(PALLETS, size, state=tmp_path) as screen:
        desk = screen.app.desk
        columns, sheet = desk.state.columns, desk.query_one(Sheet)
        met = columns_of(screen, row_of(screen, "demand met"))
        assert all(text[-SIGNS:].isspace() and text[-SIGNS - 1] == "%" for text in met)
        seen = 0
        for place, row in enumerate(desk.state.rows[: sheet.size.height]):
            line = text_of(sheet._row(place))
            assert cell_len(line) == columns.label + columns.width * len(columns.visible) or not (
                isinstance(row, Line)
            )
            for text in columns_of(screen, line) if isinstance(row, Line) else ():
                if text.strip():
                    seen += 1
                    assert text[-SIGNS] == " " != text[-SIGNS - 1]
                    assert text[-1] in f" {SIGNED}"
        assert seen > 10


@each_size
async def test_titles_are_read_whole_on_two_lines(size: tuple[int, int], tmp_path: Path) -> None:
    async with on_screen(PALLETS, size, state=tmp_path, calculator=Silent) as screen:
        state = screen.app.desk.state
        first, second = (columns_of(screen, line) for line in strip_lines(screen)[:2])
        told = [
            " ".join(f"{one} {other}".split()) for one, other in zip(first, second, strict=True)
        ]
        assert told == [state.titles[place] for place in state.columns.visible]


async def test_short_titles_take_one_line_and_so_do_all_on_few_lines(study: Path) -> None:
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        assert strip_lines(screen)[1].startswith(" saleable output, %")
    async with on_screen(PALLETS, (80, 15), state=study.parent, calculator=Silent) as screen:
        assert strip_lines(screen)[1].startswith(" saleable output, %")


async def test_the_chosen_title_is_marked_as_wide_as_its_column(tmp_path: Path) -> None:
    async with on_screen(PALLETS, state=tmp_path, calculator=Silent) as screen:
        await screen.press("right")
        rows = screen.app.desk.query_one(ResultStrip).rows[:2]
        marked = [[span.text for span in row if span.tone == "scenario"] for row in rows]
        assert [[text.strip() for text in texts] for texts in marked] == [
            ["Second pallet"],
            ["each"],
        ]
        width = screen.app.desk.state.columns.width - 1
        assert {cell_len(text) for texts in marked for text in texts} == {width}


async def test_the_columns_left_and_right_are_counted_and_clicked(tmp_path: Path) -> None:
    async with on_screen(PALLETS, (80, 24), state=tmp_path, calculator=Silent) as screen:
        state = screen.app.desk.state
        assert strip_lines(screen)[1].startswith("  8 more ›")
        await screen.pilot.click("#strip", offset=(2, 1))
        await screen.settle()
        # The reference stays, and the next one comes into sight.
        assert (state.column, state.columns.visible) == (3, (0, 2, 3))
        assert strip_lines(screen)[1].startswith(" ‹ 1 more  7 more ›")
        await screen.pilot.click("#strip", offset=(2, 1))
        await screen.settle()
        assert (state.column, state.columns.visible) == (1, (0, 1, 2))


async def test_all_bars_are_on_the_scale_that_is_told(tmp_path: Path) -> None:
    async with on_screen(PALLETS, (200, 50), state=tmp_path) as screen:
        line = row_of(screen, "scale")
        # The largest range of all ends above 100 %, that of a scenario without a column too.
        assert line.startswith(" scale 0..150 %, ⢕ likely range ")
        bars = columns_of(screen, line)
        assert {bar.index("│") for bar in bars} == {1}
        lengths = [len(bar.strip("│ ")) for bar in bars]
        assert lengths[0] == 0
        assert lengths[1] < lengths[3] < lengths[4]
        assert any("⢕" in bar for bar in bars)
        assert ">" not in line


async def test_a_loss_goes_to_the_left_in_red(losing: Path) -> None:
    async with on_screen(losing) as screen:
        strip = screen.app.desk.query_one(ResultStrip)
        (row,) = [row for row in strip.rows if "⢕ likely" in text_of(row)]
        assert text_of(row).startswith((" scale -", " bar -", " -"))
        solid = [span for span in row if "█" in span.text]
        assert [span.tone for span in solid] == ["loss"]
        _, lost, _ = columns_of(screen, text_of(row))
        assert lost.index("█") < lost.index("│")
        assert " to -" in row_of(screen, "saleable output, %")


async def test_without_answers_no_scale_is_told(study: Path) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        assert row_of(screen, "gain").rstrip() == " gain"
        assert row_of(screen, "limit, % of attended h").split()[5:] == ["..."] * 3


@each_size
async def test_what_is_too_long_for_its_lines_ends_with_a_whole_word(
    size: tuple[int, int], tmp_path: Path
) -> None:
    async with on_screen(PALLETS, size, state=tmp_path) as screen:
        count = 1 if size[1] < 30 else 2
        told = " ".join(line.strip() for line in strip_lines(screen)[-count:])
        assert told.startswith(("Of 77.5 attended machine hours a week", "In cycle 5"))
        assert told.endswith(("More: F2", "."))


@each_size
async def test_the_rule_has_a_title_cautions_and_a_legend(
    size: tuple[int, int], tmp_path: Path
) -> None:
    async with on_screen(PALLETS, size, state=tmp_path) as screen:
        rule: Drawn = screen.app.desk.query_one(TitledRule)
        (row,) = rule.rows
        line = text_of(row)
        assert line.startswith("── inputs ── ! 2 cautions, 1 warning: F2 ")
        assert "  × not used " in line
        assert cell_len(line) == rule.size.width
        assert [span.text for span in row if span.tone == "caution"] == [
            " ! 2 cautions, 1 warning: F2 "
        ]


async def test_beside_the_tree_the_rule_keeps_its_legend(tmp_path: Path) -> None:
    """What there is to beware of is told in short for it, and its title gives way."""
    async with on_screen(PALLETS, (80, 24), state=tmp_path) as screen:
        await screen.press("t")
        (row,) = screen.app.desk.query_one(TitledRule).rows
        assert text_of(row).startswith("── ! see F2 ─")
        assert text_of(row).rstrip("─ ").endswith("↑ from above  ~ assumed  × not used")
        assert row_of(screen, "scale 0..150 %").startswith(" scale 0..150 %, ⢕ likely ")
        tree = screen.app.desk.query_one(ScenarioTree)
        # One of them rests on a part that is not made.
        assert " ".join(text_of(tree.rows[0]).split()) == "scenarios gain, % (!: F2)"


async def test_where_there_is_no_room_the_rule_has_no_legend(study: Path) -> None:
    """Its title gives way first: what stands below is seen, what signs mean is not."""
    async with on_screen(study, (40, 24), calculator=Silent) as screen:
        rule = screen.app.desk.query_one(TitledRule)
        assert text_of(rule.rows[0]) == "─── ↑ from above  ~ assumed  × not used "
        await screen.pilot.resize_terminal(36, 24)
        await screen.settle()
        assert text_of(rule.rows[0]) == "── inputs " + "─" * 26


async def test_a_heading_says_whether_it_is_open_and_is_marked_whole(study: Path) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        sheet = screen.app.desk.query_one(Sheet)
        await screen.press("up")
        assert [(span.text.strip(), span.tone) for span in sheet._row(0)] == [
            ("▾ hours a day", "chosen")
        ]
        await screen.press("space")
        assert text_of(sheet._row(0)).startswith(" ▸ hours a day")


async def test_a_value_has_one_sign(study: Path) -> None:
    """That it has no effect is told before where it is from."""
    async with on_screen(study, calculator=Silent) as screen:
        desk = screen.app.desk
        signs = {}
        for place, row in enumerate(desk.state.rows):
            if isinstance(row, Line) and row.place == ("machine", "mill"):
                line = text_of(desk.query_one(Sheet)._row(place))
                signs[row.label] = [text[-1] for text in columns_of(screen, line)]
        assert signs["machines"] == [" ", "↑", " "]
        assert signs["pallets each"][:2] == ["~", " "]
        # With one pallet there is nothing to be changed.
        assert signs["load stations each"][:2] == ["×", "~"]


@pytest.mark.long
@pytest.mark.long
async def test_a_gain_to_beware_of_keeps_its_likely_range(tmp_path: Path) -> None:
    async with on_screen(
        SCENARIOS / "pallets-until-demand.toml", (80, 24), state=tmp_path
    ) as screen:
        answers = screen.app.desk.controllers.calculation.current()
        marked = next(id_ for id_, answer in answers.items() if answer.caveats)
        screen.app.desk.state.choose(marked)
        screen.app.desk.repaint()
        await screen.settle()
        assert re.search(r" ! \+\d+ \(\d+ to \d+\)", row_of(screen, "saleable"))


async def test_changes_are_counted_in_words(study: Path) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        for text, said in (("5", "1 change not saved"), ("6", "2 changes not saved")):
            await screen.go_to("pallets each", 1)
            await screen.type(text)
            await screen.press("enter")
            assert f" Small  {said}" in screen.text.splitlines()[0]


async def test_one_scenario_alone_has_no_scale_of_gains(tmp_path: Path) -> None:
    path = tmp_path / "study.toml"
    path.write_text(to_text(one_table()))
    async with on_screen(path, state=tmp_path) as screen:
        assert "reference" in screen.text
        assert "scale" not in screen.text


@pytest.mark.parametrize("name", ["one-person", "small-orders", "pallets-until-demand"])
async def test_in_one_line_what_limits_it_stops_where_one_may_stop_reading(
    name: str, tmp_path: Path
) -> None:
    """It read "the spindles are in cycle for 53.4 … F2", and then stopped before what limits."""
    study = SCENARIOS / f"{name}.toml"
    async with on_screen(study, (80, 24), state=tmp_path, calculator=AtOnce) as screen:
        line = strip_lines(screen)[-1].strip()
        assert re.fullmatch(
            r"In cycle [\d.]+ of [\d.]+ attended h a week; [a-z ]+ [\d.]+ h\.( More: F2)?", line
        )
        # The reference's name is whole, or its own column says it.
        assert "…" not in screen.text.splitlines()[0]
