"""The scenarios above a view: on two lines at most, the chosen one always among them."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from looks import Looking
from rich.cells import cell_len
from screen import SCENARIOS, on_screen

from whatif.answers.answer import Answer
from whatif.screens.desk.painting import tabs_state
from whatif.screens.widgets import tabs
from whatif.screens.widgets.columns import fitted
from whatif.screens.widgets.drawing import Chooses, SpanRow
from whatif.screens.widgets.tabs import LINES, TabsState, tab_rows
from whatif.telling.strip import gain_in_a_word

TITLES = (
    "Today: two tables",
    "Second pallet each",
    "Two each, four hours longer",
    "Six pallets each",
    "Six pallets each, one person only",
    "パレット六枚",
    "New cell, mills sold",
)


def state(count: int, chosen: int, width: int, *, on_grid: bool = False) -> TabsState:
    titles = tuple(f"{TITLES[i % len(TITLES)]} {i}" for i in range(count))
    ids = tuple(f"s{i}" for i in range(count))
    columns = fitted(width - 1, count, chosen, 0, 1)
    return TabsState(columns, on_grid, ids, titles, ids[chosen], "s0", {})


def text(row: SpanRow) -> str:
    return "".join(span.text for span in row)


def told(rows: list[SpanRow]) -> list[str]:
    """The scenarios that a click chooses, in order."""
    found: list[str] = []
    for row in rows:
        for span in row:
            match span.spot:
                case Chooses(scenario) if scenario not in found:
                    found.append(scenario)
    return found


@pytest.mark.parametrize("width", [60, 80, 120, 200])
@pytest.mark.parametrize("count", [1, 2, 7, 60])
def test_in_line_the_chosen_one_is_there_and_how_many_are_not(count: int, width: int) -> None:
    for chosen in {0, count // 2, count - 1}:
        rows = tab_rows(state(count, chosen, width), width)
        assert len(rows) <= LINES
        assert all(cell_len(text(row)) <= width for row in rows)
        seen = told(rows)
        assert f"s{chosen}" in seen
        first, last = int(seen[0][1:]), int(seen[-1][1:])
        assert seen == [f"s{i}" for i in range(first, last + 1)], "none is left out between"
        assert (f"‹ {first} more" in text(rows[0])) == bool(first)
        left = count - 1 - last
        assert (f"{left} more ›" in text(rows[-1])) == bool(left)
        turned = [span for row in rows for span in row if span.tone == "scenario"]
        assert {span.spot for span in turned} == {Chooses(f"s{chosen}")}


@pytest.mark.parametrize("width", [80, 120, 200])
def test_on_the_grid_each_stands_above_its_column(width: int) -> None:
    drawn = state(12, 7, width, on_grid=True)
    rows = tab_rows(drawn, width)
    columns = drawn.columns
    assert told(rows[:2]) or told(rows)
    assert [f"s{place}" for place in columns.visible] == sorted(
        told(rows), key=lambda i: int(i[1:])
    )
    for place in columns.visible:
        # The last cell of the column is the last one of the title's second line.
        end = columns.x(place) + columns.width
        upto = 0
        for span in rows[1]:
            upto += cell_len(span.text)
            if span.spot == Chooses(f"s{place}"):
                assert upto == end
                assert span.text.strip()
                break
        else:
            raise AssertionError(place)
    beyond = text(rows[1])[: columns.label]
    hidden = 12 - len(columns.visible)
    assert sum(map(int, re.findall(r"\d+", beyond))) == hidden


def test_with_no_scenario_there_is_nothing_to_choose() -> None:
    nothing = TabsState(fitted(80, 1, 0, 0), False, (), (), None, None, {})
    assert told(tab_rows(nothing, 80)) == []


def test_above_columns_no_line_is_empty_and_only_titles_are_chosen() -> None:
    titles = ("Now", "More")
    columns = fitted(119, 2, 0, 0, 1)
    short = TabsState(columns, True, ("now", "more"), titles, "now", "now", {})
    assert len(tab_rows(short, 120)) == 2
    long = replace(short, titles=("Now", "Two each, four hours longer than now"))
    rows = tab_rows(long, 120)
    assert len(rows) == 3
    chosen = [span.text.strip() for row in rows for span in row if span.tone == "scenario"]
    assert chosen == ["Now"], "nothing is painted above a title of one line"


@pytest.mark.long
async def test_gains_are_told_once_for_as_long_as_an_answer_is_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told_of: list[Answer] = []

    def noted(answer: Answer) -> str:
        told_of.append(answer)
        return gain_in_a_word(answer)

    monkeypatch.setattr(tabs, "gain_in_a_word", noted)
    async with on_screen(SCENARIOS / "small-orders.toml", state=tmp_path) as screen:
        await screen.press("f7")
        assert told_of
        told_of.clear()
        await screen.press("f7", "f8", "f8", "f7")
        assert not told_of


@pytest.mark.parametrize(("width", "unit"), [(200, ""), (120, " %")])
def test_gains_above_a_table_have_their_unit_all_or_none_and_keep_their_range(
    width: int, unit: str
) -> None:
    looking = Looking(SCENARIOS / "pallets-until-demand.toml", "money", (width, 32), column=8)
    looking.look()
    row = text(tab_rows(tabs_state(looking.state, looking.controllers.calculation), width)[-1])
    gains = row.split("reference")[1]
    # What is marked may stand where behind other figures signs do.
    assert f"! +55{unit} (51 to 59)" in gains
    assert f"+94{unit} (89 to 98)" in gains
    assert gains.count(" % (") == (gains.count(" (") if unit else 0)
