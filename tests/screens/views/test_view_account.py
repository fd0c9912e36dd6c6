"""Why this figure: choosing one, following its numbers and coming back, by key and by mouse."""

from __future__ import annotations

from pathlib import Path

import pytest
from screen import SCENARIOS, SIZES, AtOnce, Screen, on_screen

from whatif.answers.account.explain import FAMILIES
from whatif.answers.compare import compare
from whatif.screens.views.pane import ViewPane
from whatif.session.calculate.requests import Reply, Request
from whatif.study.check.check import check
from whatif.telling.rules import rule

DEMO = SCENARIOS / "pallets-until-demand.toml"


def pane_lines(screen: Screen) -> list[str]:
    pane = screen.app.desk.query_one(ViewPane)
    return screen.text.splitlines()[pane.region.y : pane.region.bottom]


async def click(screen: Screen, text: str) -> None:
    """Click on the first place in the view where a text stands."""
    for y, line in enumerate(pane_lines(screen)):
        if text in line:
            await screen.pilot.click(ViewPane, offset=(line.index(text) + 1, y))
            await screen.settle()
            return
    raise AssertionError(f"no {text}")


@pytest.mark.parametrize("size", SIZES)
async def test_it_begins_with_the_leading_figure(size: tuple[int, int], tmp_path: Path) -> None:
    async with on_screen(DEMO, size, state=tmp_path) as screen:
        await screen.press("right", "f4")
        assert "gain in saleable output: +28.2 %, grain " in screen.text
        assert "What the good pieces that somebody buys are worth" in screen.text
        await screen.press("down")
        assert "gain in output: " in screen.text
        await screen.press("j", "j")
        assert "Hours a week in which the spindles are in cycle" in screen.text
        await screen.press("f4")
        assert screen.app.desk.state.view is None


@pytest.mark.parametrize("size", SIZES)
async def test_all_parts_of_an_account_are_gone_through(
    size: tuple[int, int], tmp_path: Path
) -> None:
    async with on_screen(DEMO, size, state=tmp_path) as screen:
        await screen.press("right", "f4")
        first = pane_lines(screen)
        seen = "\n".join(first)
        for _ in range(40):
            await screen.press("space")
            if pane_lines(screen) == first:
                break
            seen += "\n".join(pane_lines(screen))
        else:
            raise AssertionError("Space does not come back to the first part")
        for title in ("How it is worked out", "What binds", "Where each number is from"):
            assert title in seen
        assert "Check it with a pencil" in seen
        assert screen.app.desk.query_one(ViewPane).max_scroll_y == 0
        await screen.press("b")
        assert pane_lines(screen) != first or "all of it" in seen


async def test_numbers_are_followed_and_come_back_from(tmp_path: Path) -> None:
    async with on_screen(DEMO, (200, 50), state=tmp_path) as screen:
        await screen.press("right", "f4")
        for _ in range(80):
            if any(line.startswith("> payback") for line in pane_lines(screen)):
                break
            await screen.press("down")
        assert "payback: 2.4 years" in screen.text
        await screen.press("g")
        assert "capital: 208600 EUR" in screen.text
        await screen.press("v", "plus", "g")
        assert "gain of it: 86742 EUR a year" in screen.text
        # The second number of it is the reference's year: the column goes there and comes back.
        chosen = screen.app.desk.state.chosen
        await screen.press("plus", "g")
        assert screen.app.desk.state.chosen == "today"
        assert "contribution less wages and floor: 153110 EUR a year" in screen.text
        await screen.press("v")
        assert screen.app.desk.state.chosen == chosen
        assert "gain of it: 86742 EUR a year" in screen.text
        await screen.press("v", "v")
        assert "There is no figure to go back to" in screen.text


async def test_by_mouse(tmp_path: Path) -> None:
    async with on_screen(DEMO, (200, 50), state=tmp_path) as screen:
        await screen.press("right", "f4")
        await click(screen, "j next theme")
        assert "grain of the gain in saleable output: " in screen.text
        await click(screen, "%  gain as it is")
        assert "gain in saleable output: +28.2 %" in screen.text
        await click(screen, "v back")
        assert "grain of the gain in saleable output: " in screen.text
        await click(screen, "spindle hours, attended")
        assert "spindle hours, attended: " in "\n".join(pane_lines(screen))


async def test_the_figure_stays_where_the_scenario_changes(tmp_path: Path) -> None:
    async with on_screen(DEMO, state=tmp_path) as screen:
        await screen.press("right", "f4", "j", "j")
        await screen.press("right")
        assert "> spindle hours" in screen.text
        assert "spindle_hours.total in ... 4 h after shift" in screen.text


class OnlyGains(AtOnce):
    """Says the gains and nothing after them, as while grain and rush are being worked out."""

    def answer(self, request: Request) -> None:
        found = compare(check(request.draft), self.memory)
        self._deliver(Reply(request.revision, found))
        self._deliver(Reply(request.revision, final=True))


async def test_what_is_not_there_yet_is_told(tmp_path: Path) -> None:
    demo = SCENARIOS / "small-orders.toml"
    async with on_screen(demo, state=tmp_path, calculator=OnlyGains) as screen:
        await screen.press("right", "f4")
        assert "+8.7 %, its grain is being worked out" in screen.text
        await screen.press("j")
        assert "grain of the gains\n" in "\n".join(pane_lines(screen)) + "\n"
        assert "Being worked out ..." in screen.text
        await screen.press("pagedown", "pagedown", "pagedown", "pagedown", "pagedown", "pagedown")
        assert "rush jobs: being tried out" in screen.text


async def test_a_scenario_that_is_only_claimed_begins_with_its_claim(tmp_path: Path) -> None:
    path = tmp_path / "claimed.toml"
    path.write_text(
        "format = 1\n[scenario.now]\nmachine.mill.count = 2\n"
        'claimed.attended_utilization = "30 %"\nclaimed.attended_hours = "8 h"\n'
        '[scenario.then]\nparent = "now"\nclaimed.attended_utilization = "60 %"\n'
    )
    async with on_screen(path, state=tmp_path) as screen:
        await screen.press("right", "f4")
        assert "claimed gain: 100.0 %" in screen.text


async def test_a_study_with_nothing_in_it_says_why_there_is_no_gain(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text("format = 1\n[scenario.now]\n")
    async with on_screen(path, state=tmp_path) as screen:
        await screen.press("f4", "g", "plus")
        assert "Why there is none" in screen.text
        assert "No number of this account is another figure." in screen.text


@pytest.mark.parametrize("size", SIZES)
async def test_the_rules_of_a_figure_are_read_in_place(
    size: tuple[int, int], tmp_path: Path
) -> None:
    async with on_screen(DEMO, size, state=tmp_path) as screen:
        await screen.press("right", "f4")
        account = pane_lines(screen)
        assert "y rule" in account[0]
        await screen.press("y")
        assert "Gains (results.gains)" in screen.text
        assert "y next rule  Esc back" in screen.text
        await screen.press("y")
        assert "Output and saleable output (results.saleable)" in screen.text
        await screen.press("y", "y")
        assert "Gains (results.gains)" in screen.text
        assert screen.app.desk.query_one(ViewPane).max_scroll_y == 0
        await screen.press("escape")
        assert pane_lines(screen) == account
        await screen.press("y", "down")
        assert "gain in output: " in screen.text
        await screen.press("escape")
        assert screen.app.desk.state.view is None


def test_every_rule_that_a_figure_names_is_in_the_book() -> None:
    for family in FAMILIES:
        assert family.rules
        for name in family.rules:
            assert rule(name).text


async def test_the_rule_by_mouse(tmp_path: Path) -> None:
    async with on_screen(DEMO, (200, 50), state=tmp_path) as screen:
        await screen.press("right", "f4")
        await click(screen, "y rule")
        assert "Gains (results.gains)" in screen.text
        await click(screen, "Esc back")
        assert "How it is worked out" in screen.text
