"""Why this figure: where it opens, finding a figure, and keys that are not its own."""

from __future__ import annotations

from pathlib import Path

import pytest
from looks import Looking
from screen import SCENARIOS, on_screen
from small_study import STUDY
from textual.widgets import OptionList

from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.dialogs.reading import ReadText

DEMO = SCENARIOS / "pallets-until-demand.toml"


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


def test_a_figure_is_found_by_its_name() -> None:
    account = Looking(DEMO, "account", (80, 24)).press("slash")
    assert isinstance(account.asked, ChooseOne)
    assert " people paid: " in account.take("people paid").text


@pytest.mark.parametrize("typed", ["people", "in cut", "demand"])
async def test_figures_whose_name_holds_what_is_typed_stand_first(
    typed: str, tmp_path: Path
) -> None:
    """The list stayed as it was, and began with figures that have no such word."""
    async with on_screen(DEMO, (80, 24), state=tmp_path) as screen:
        await screen.open_view("account")
        await screen.press("slash")
        figures = screen.app.screen.query_one(OptionList)
        before = [str(row.prompt) for row in figures.options]
        await screen.type(typed)
        names = [str(row.prompt) for row in figures.options]
        holding = [name for name in names if typed in name.lower()]
        assert len(holding) > 1
        assert names[: len(holding)] == holding
        # The others follow as they stood.
        assert names[len(holding) :] == [name for name in before if name not in holding]
        assert figures.highlighted == 0
        assert names[0] in screen.text
        await screen.press(*["backspace"] * len(typed))
        assert [str(row.prompt) for row in figures.options] == before


@pytest.mark.parametrize(("key", "name"), [("f4", "account"), ("f5", "hours"), ("f8", "night")])
async def test_a_key_that_stands_in_the_list_of_views_opens_its_view_there(
    study: Path, key: str, name: str
) -> None:
    """F4, F5 and F8 stood beside their views there, and did nothing."""
    async with on_screen(study) as screen:
        await screen.press("f6")
        assert "its key opens it" in screen.text
        await screen.press(key)
        assert screen.app.screen is screen.app.desk
        view = screen.app.desk.state.view
        assert view is not None
        assert view.name == name


async def test_it_opens_on_the_gain_where_nobody_has_pointed_at_a_row(study: Path) -> None:
    async with on_screen(study) as screen:
        await screen.press("f4")
        assert "gain in saleable output" in screen.text
        await screen.press("escape", "down", "up", "f4")
        assert "spindle hours, attended: " in screen.text


async def test_no_key_in_a_view_leaves_the_study(study: Path) -> None:
    async with on_screen(study) as screen:
        desk = screen.app.screen
        await screen.press("f4", "o")
        assert screen.app.screen is desk


async def test_f3_goes_to_the_problems_from_a_summary_and_closes_their_text(study: Path) -> None:
    async with on_screen(study) as screen:
        desk = screen.app.screen
        await screen.press("f3")
        told = screen.text
        assert "roblem" in told
        await screen.press("escape", "f2")
        assert isinstance(screen.app.screen, ReadText)
        await screen.press("f3")
        await screen.settle()
        assert screen.text == told
        await screen.press("escape")
        assert screen.app.screen is desk
