"""Each view on each demo study at three sizes, how it follows edits, and where it has no answer."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from lengths import first_of
from looks import NAMES, Looking, Silent, calculator, changed
from rich.cells import cell_len
from screen import SCENARIOS, SMALL_FIRST
from signs_named import unnamed
from syrupy.assertion import SnapshotAssertion

from whatif.screens.widgets.drawing import seen_of
from whatif.study.edits import SetValue

DEMOS = ("one-person", "pallets-until-demand", "small-orders")

WITH_A_GAIN = {"account": 3, "meeting": 3}
"""Columns of the first demo whose gain is clear over few weeks, for views that are about it."""

HELD = {
    "fit": "pallets-until-demand",
    "orders": "small-orders",
    "meters": "one-person",
    "account": "one-person",
}
"""The demo whose picture is held of a view that has more to show of one than of the others."""


PAGES = {"hours": "hk", "week": "h", "night": "w", "money": "y", "moves": "cg"}
"""Keys of the pages of views, whose signs the help names too."""


@pytest.mark.parametrize("size", SMALL_FIRST, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("demo", first_of(DEMOS))
@pytest.mark.parametrize("name", NAMES)
@pytest.mark.long
def test_a_view_of_a_demo(
    name: str, demo: str, size: tuple[int, int], snapshot: SnapshotAssertion
) -> None:
    column = WITH_A_GAIN.get(name, 1)
    path = SCENARIOS / f"{demo}.toml"
    looking = Looking(path, name, size, column=column, calculator=calculator(name))
    if demo == HELD.get(name, demo):
        assert looking.text == snapshot
    assert max(map(cell_len, looking.text.splitlines())) <= looking.width
    # What the meeting decides by is seen; what that rests on may go on below, and it says so.
    if size == (120, 32) and name != "meeting":
        assert len(looking.rows) <= looking.height, "it needs scrolling at 120x32"
    for page in ("", *PAGES.get(name, ())):
        looking.press(*filter(None, (page,)))
        assert unnamed(seen_of(looking.rows), name) == set(), "name it in telling/signs.py"


ONE_MORE = SetValue("pallets", ("machine", "mill", "pallets"), 9)
EDITS = {
    "meeting": ("one-person", 1, SetValue("pallets", ("part", "block", "load"), "1 min")),
    "fit": ("one-person", 1, SetValue("today", ("part", "block", "gap"), "300 mm")),
    "money": ("pallets-until-demand", 1, SetValue("today", ("money", "wage"), 46)),
    "search": ("one-person", 1, SetValue("today", ("handling", "other_duties"), "0 %")),
    "orders": ("small-orders", 2, SetValue("cell_nine", ("machine", "cell", "pallets"), 3)),
}
"""A demo, a column and an edit that the view tells of, where that is not the number of pallets."""

LONGEST = ("orders", "search")
"""Views for which most has to be worked out."""

QUICK_FIRST = [*(name for name in NAMES if name not in ("moves", *LONGEST)), *LONGEST]


@pytest.mark.long
@pytest.mark.parametrize("name", first_of(QUICK_FIRST, len(QUICK_FIRST) - len(LONGEST)))
def test_a_view_follows_an_edit_and_its_undo(name: str) -> None:
    demo, column, edit = EDITS.get(name, ("one-person", 1, ONE_MORE))
    looking = Looking(SCENARIOS / f"{demo}.toml", name, column=column)
    before = looking.text
    assert looking.edit(lambda session: session.do(edit)).text != before
    assert looking.edit(lambda session: session.undo()).text == before


# -- where there is no answer ------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
def test_a_view_of_a_study_whose_reference_is_not_there(name: str, tmp_path: Path) -> None:
    path = changed(tmp_path, 'reference = "today"', 'reference = "nowhere"')
    looking = Looking(path, name, column=0, calculator=Silent)
    for key in ("b", "g", "v", "y", "down", "right", "enter"):
        looking.press(key)
        assert looking.words


@pytest.mark.parametrize("name", NAMES)
def test_a_view_of_a_study_with_problems_says_where_they_are(name: str, tmp_path: Path) -> None:
    text = Looking(changed(tmp_path, "cycle = ", "cykle = "), name, column=0).text
    assert "The study has problems; F3 lists them." in text
    line = next(line for line in text.splitlines() if "has problems" in line)
    assert re.match(r"( *│)? +The study", line)


@pytest.mark.parametrize("name", NAMES)
def test_a_view_of_a_study_without_scenarios_says_what_to_do(name: str, tmp_path: Path) -> None:
    study = tmp_path / "none.toml"
    study.write_text("format = 1\n", "utf-8")
    assert re.search(r"a adds one|F3 lists them", Looking(study, name, column=0).text)


def _held(view: object) -> object:
    """All that a view holds, its pages and choices laid open."""
    if not hasattr(view, "__dict__") or not type(view).__module__.startswith("whatif.screens."):
        return view
    return {name: _held(value) for name, value in vars(view).items()}


@pytest.mark.parametrize("name", NAMES)
def test_drawing_changes_nothing(name: str) -> None:
    looking = Looking(SCENARIOS / "one-person.toml", name, calculator=calculator(name))
    look = looking.look()
    held = _held(looking.view)
    drawn = looking.view.draw(look, looking.width, looking.height)
    looking.view.draw(look, 79, 8)
    assert looking.view.draw(look, looking.width, looking.height) == drawn
    assert _held(looking.view) == held
