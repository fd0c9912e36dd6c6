"""The tree of scenarios as it is drawn: names that can be told apart, lines, its width."""

from __future__ import annotations

from pathlib import Path

import pytest
from looks import Silent
from rich.cells import cell_len
from screen import SCENARIOS, SIZES, Screen, on_screen

from whatif.screens.widgets.columns import in_two_lines
from whatif.screens.widgets.drawing import Chooses
from whatif.screens.widgets.tree import (
    Branch,
    ScenarioTree,
    _lines,
    _name_beside,
    _rooms,
    branches,
    tree_width,
)
from whatif.study.draft import Draft, ScenarioDraft

PALLETS = SCENARIOS / "pallets-until-demand.toml"


def tree_of(*parents: str) -> list[Branch]:
    """Scenarios s0, s1 ... with so many parents, "" for none."""
    entered = [{("parent",): parent} if parent else {} for parent in parents]
    scenarios = tuple(ScenarioDraft(f"s{place}", own) for place, own in enumerate(entered))
    return branches(Draft({}, scenarios))


def drawn(screen: Screen) -> list[str]:
    tree = screen.app.desk.query_one(ScenarioTree)
    return ["".join(span.text for span in row) for row in tree.rows]


def many(tmp_path: Path, count: int, title: str = "Some pallets more, by night: {}") -> Path:
    """A first scenario and so many that are based on it."""
    lines = ["format = 1", "[scenario.s0]", 'title = "First"']
    for place in range(1, count):
        lines += [f"[scenario.s{place}]", 'parent = "s0"', f'title = "{title.format(place)}"']
    path = tmp_path / "many.toml"
    path.write_text("\n".join(lines) + "\n", "utf-8")
    return path


def test_lines_lead_from_each_scenario_to_what_it_is_based_on() -> None:
    found = tree_of("", "s0", "s1", "s0", "")
    assert [(one.strokes, one.further) for one in found] == [
        ("", "│ "),
        ("├ ", "│ │ "),
        ("│ ╰ ", "│     "),
        ("╰ ", "    "),
        ("", "  "),
    ]


def test_a_parent_that_is_not_there_is_asked_for() -> None:
    assert [one.strokes for one in tree_of("", "nobody")] == ["", "? "]


def test_the_tree_is_as_wide_as_its_names_up_to_a_third_of_the_screen() -> None:
    # A cell, the name, a cell, ten for the gain, a cell and the border: 14 beside the name.
    for length, screen, wide in ((10, 120, 30), (20, 120, 34), (40, 120, 40), (40, 200, 54)):
        assert tree_width([Branch("a", "", "n" * length)], screen) == wide
    assert tree_width([Branch("a", "│ ╰ ", "n" * 20)], 120) == 38
    # As it was dragged, but for what the columns need at least.
    assert tree_width([], 120, 50) == 50
    assert tree_width([], 120, 3) == 20
    assert tree_width([], 120, 119) == 80


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.long
async def test_every_name_is_read_whole(size: tuple[int, int], tmp_path: Path) -> None:
    async with on_screen(PALLETS, size, state=tmp_path, calculator=Silent) as screen:
        if size[0] < 110:
            await screen.press("t")
        tree = screen.app.desk.query_one(ScenarioTree)
        names: dict[str, list[str]] = {}
        for row in tree.rows:
            for span in row[1:2]:
                if isinstance(span.spot, Chooses):
                    names.setdefault(span.spot.scenario, []).append(span.text.strip())
        draft = screen.session.draft
        wanted = {scenario.id: scenario.title for scenario in draft.scenarios}
        told = {id_: " ".join(texts) for id_, texts in names.items()}
        # On few lines the last ones are further down.
        assert told == {id_: wanted[id_] for id_ in told}
        assert len(told) >= len(wanted) - (size[1] < 30)


async def test_both_lines_of_a_name_are_marked_and_clicked(tmp_path: Path) -> None:
    async with on_screen(PALLETS, state=tmp_path, calculator=Silent) as screen:
        desk, tree = screen.app.desk, screen.app.desk.query_one(ScenarioTree)
        (second,) = [y for y, line in enumerate(drawn(screen)) if line.strip("│ ") == "person"]
        await screen.pilot.click("#tree", offset=(12, second))
        await screen.settle()
        assert desk.state.title(desk.state.chosen or "") == "Six each, one person"
        marked = [y for y, row in enumerate(tree.rows) if row[-1].tone == "scenario"]
        assert marked == [second - 1, second]
        assert all(span.tone == "scenario" for y in marked for span in tree.rows[y])


async def test_the_chosen_one_is_in_sight_among_many(tmp_path: Path) -> None:
    async with on_screen(many(tmp_path, 200), calculator=Silent) as screen:
        tree = screen.app.desk.query_one(ScenarioTree)
        for chosen in ("s150", "s199", "s7", "s0"):
            screen.app.desk.state.choose(chosen)
            screen.app.desk.repaint()
            await screen.settle()
            rows = [row for row in tree.rows[1 : tree.size.height] if row[0].tone == "scenario"]
            title = screen.session.draft.scenario(chosen).title
            assert " ".join(row[1].text.strip() for row in rows) == title
            assert all(
                cell_len("".join(span.text for span in row)) == tree.size.width for row in rows
            )


@pytest.mark.parametrize(
    "title", ["{}: 六枚パレットと長いテーブル、夜勤と朝", "Interchangeablepalletsbynight{}"]
)
async def test_wide_and_long_words_stay_apart_and_straight(title: str, tmp_path: Path) -> None:
    async with on_screen(many(tmp_path, 12, title), calculator=Silent) as screen:
        tree = screen.app.desk.query_one(ScenarioTree)
        lines = drawn(screen)
        assert {cell_len(line) for line in lines} == {tree.size.width}
        names: dict[str, str] = {}
        for row in tree.rows[1:]:
            assert isinstance(row[1].spot, Chooses)
            names[row[1].spot.scenario] = names.get(row[1].spot.scenario, "") + row[1].text
        assert len(set(names.values())) == len(names) == 12


def test_deep_scenarios_keep_room_for_their_names() -> None:
    deep = tree_of("", *(f"s{place}" for place in range(60)))
    assert len(deep[-1].strokes) == 120
    tree = ScenarioTree()
    _, names = tree._named(tuple(deep), 39)
    assert names[-1] == ("s60", "")


async def test_the_mouse_drags_the_tree_and_fit_brings_it_back(tmp_path: Path) -> None:
    async with on_screen(PALLETS, state=tmp_path, calculator=Silent) as screen:
        desk, pilot = screen.app.desk, screen.pilot
        tree = desk.query_one(ScenarioTree)
        before, room, chosen = tree.outer_size.width, desk.state.room, desk.state.chosen
        await pilot.mouse_down("#tree", offset=(before - 1, 3))
        await pilot.hover("#tree", offset=(before + 7, 3))
        await pilot.mouse_up("#tree", offset=(before + 7, 3))
        await screen.settle()
        assert tree.outer_size.width == before + 8
        assert desk.state.room == room - 8
        assert desk.state.chosen == chosen
        # It is kept until it is to fit again.
        await screen.press("down", "right")
        assert tree.outer_size.width == before + 8
        desk.action_run("fit_columns")
        await screen.settle()
        assert tree.outer_size.width == before


@pytest.mark.long
async def test_a_title_that_is_typed_moves_the_columns_only_when_it_is_kept(tmp_path: Path) -> None:
    async with on_screen(many(tmp_path, 3, "P{}"), calculator=Silent) as screen:
        desk = screen.app.desk
        desk.state.put_on(("scenario",), ("title",))
        desk.state.choose("s1")
        desk.repaint()
        await screen.settle()
        tree = screen.app.desk.query_one(ScenarioTree)
        before = tree.outer_size.width
        await screen.press("enter")
        await screen.type("Another shop with more pallets")
        assert tree.outer_size.width == before
        await screen.press("enter")
        assert tree.outer_size.width > before


async def test_gains_are_coloured_by_what_they_are(tmp_path: Path) -> None:
    async with on_screen(PALLETS, state=tmp_path) as screen:
        rows = screen.app.desk.query_one(ScenarioTree).rows
        tones = {row[2].text.strip(): row[2].tone for row in rows[1:] if len(row) > 2}
        assert tones["reference"] == "scenario"
        assert all(tone == "gain" for text, tone in tones.items() if text.startswith("+"))
        assert [tone for text, tone in tones.items() if text.startswith("!")] == ["caution"]


@pytest.mark.parametrize(
    ("title", "strokes", "lines"),
    [
        ("Two each, 4 h longer", "│ ╰ ", ("Two each,", "4 h longer", False)),
        ("Errands taken off", "├ ", ("Errands", "taken off", False)),
        # No word is broken for it: the gain goes down instead.
        ("Quick-change plates", "│ │ ╰ ", ("Quick-change plates", "", True)),
    ],
)
def test_a_name_beside_a_long_range_is_read_whole(
    title: str, strokes: str, lines: tuple[str, str, bool]
) -> None:
    branch = Branch("a", strokes, title, strokes.replace("╰", " ").replace("├", "│"))
    (usual,) = in_two_lines([title], [_rooms(branch, 29)])
    name = _name_beside(branch, usual, "+45.7 to +47.9", 29)
    assert (name.first, name.second, name.is_gain_below) == lines
    drawn_lines = _lines(branch, name, 29, ("+45.7 to +47.9", "gain"), is_chosen=False)
    texts = ["".join(span.text for span in row) for row in drawn_lines]
    assert not any("…" in text for text in texts)
    assert {cell_len(text) for text in texts} == {29}
    assert sum("+45.7 to +47.9" in text for text in texts) == 1
