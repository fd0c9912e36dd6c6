"""Why this figure: choosing one, following its numbers and coming back, by key and by mouse."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from looks import Looking
from screen import SCENARIOS, SMALL_FIRST, AtOnce, Screen, on_screen

from whatif.answers.account.account import Figure
from whatif.answers.account.explain import FAMILIES
from whatif.answers.account.moved import first_moved
from whatif.answers.compare import compare
from whatif.screens.views.pane import ViewPane
from whatif.session.calculate.requests import Reply, Request
from whatif.study.check.check import check
from whatif.study.schema.catalogue import ANY, KEYS
from whatif.telling.account.sentences import figure_in_short
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


def test_only_figures_that_are_in_sight_are_put_into_words(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    told: list[Figure] = []

    def noted(figure: Figure) -> str:
        told.append(figure)
        return figure_in_short(figure)

    monkeypatch.setattr("whatif.screens.views.account.figure_in_short", noted)
    looking = Looking(DEMO, "account", (120, 32))
    told.clear()
    lines = len(looking.rows)
    assert 10 < len(told) <= lines


@pytest.mark.parametrize("size", SMALL_FIRST)
def test_it_begins_with_the_leading_figure(size: tuple[int, int]) -> None:
    account = Looking(DEMO, "account", size)
    assert re.search(r"gain in saleable output: \+[\d.]+ %, likely [0-9]", account.text)
    assert "What the good pieces that somebody buys are worth" in account.text
    account.press("down")
    assert "gain in output: " in account.text
    account.press("h", "h")
    assert "Hours a week in which the spindles are in cycle" in account.text


def test_what_is_worked_out_is_not_bold_as_a_number_that_leads_on_is() -> None:
    account = Looking(DEMO, "account", (120, 32))
    results = [
        (span.text, span.tone)
        for _ in range(5)
        for row in account.press("space").rows
        for span in row
        if re.match(r" *= [\d+-]", span.text)
    ]
    assert results
    assert {tone for _, tone in results} == {"plain"}


@pytest.mark.parametrize("size", SMALL_FIRST)
def test_all_parts_of_an_account_are_gone_through(size: tuple[int, int]) -> None:
    account = Looking(DEMO, "account", size)
    first = seen = account.text
    for _ in range(40):
        account.press("space")
        if account.text == first:
            break
        seen += account.text
    else:
        raise AssertionError("Space does not come back to the first part")
    for title in ("How it is worked out", "What binds", "Where each number is from"):
        assert title in seen
    assert "Check it with a pencil" in seen
    assert len(account.rows) <= account.height
    account.press("backspace")
    assert account.text != first or "Space turns" not in seen


@pytest.mark.long
def test_numbers_are_followed_and_come_back_from() -> None:
    account = Looking(DEMO, "account", (200, 50))
    for _ in range(80):
        if account.view.figure(account.look()) == "money.payback_years":
            break
        account.press("down")
    assert "payback: 1.8 years" in account.text
    account.press("enter")
    assert "investment against today: 203 000 EUR" in account.text.replace("\u00a0", " ")
    account.press("b", "plus", "enter")
    assert "yearly gain: 115 567 EUR a year" in account.text.replace("\u00a0", " ")
    # The second number of it is the reference's year: the column goes there and comes back.
    chosen = account.state.chosen
    account.press("plus", "enter")
    assert account.state.chosen == "today"
    assert "yearly result: 119 410 EUR a year" in account.text.replace("\u00a0", " ")
    account.press("b")
    assert account.state.chosen == chosen
    assert "yearly gain: 115 567 EUR a year" in account.text.replace("\u00a0", " ")
    account.press("b", "b")
    assert "There is no figure to go back to" in account.notice
    # What is said in a view is of no use outside it.
    account.controllers.views.close_all()
    assert account.notice == ""


async def test_by_mouse(tmp_path: Path) -> None:
    async with on_screen(DEMO, (200, 50), state=tmp_path) as screen:
        await screen.press("right", "f4")
        await click(screen, "Space turns")
        assert "page 2 of" in screen.text
        await click(screen, "spindle hours, attended")
        assert "spindle hours, attended: " in "\n".join(pane_lines(screen))


def test_home_and_end_go_to_the_first_and_the_last_figure() -> None:
    """The help said so, and the cursor stayed where it was."""
    looking = Looking(DEMO, "account", (120, 32))
    first = looking.press("home").chosen
    last = looking.press("end").chosen
    assert first != last
    assert looking.press("down").chosen == last
    assert looking.press("home").chosen == first
    assert looking.press("up").chosen == first


def test_the_figure_stays_where_the_scenario_changes() -> None:
    account = Looking(DEMO, "account")
    account.press("h", "h")
    account.press("right")
    assert "spindle_hours.total in Two each, 4 h longer" in account.text


class OnlyGains(AtOnce):
    """Says the gains and nothing after them, as while all else is being worked out."""

    def answer(self, request: Request) -> None:
        found = compare(check(request.draft), self.memory)
        self._deliver(Reply(request.revision, found))
        self._deliver(Reply(request.revision, final=True))


@pytest.mark.long
def test_what_is_not_there_yet_is_told() -> None:
    account = Looking(SCENARIOS / "small-orders.toml", "account", calculator=OnlyGains)
    assert " %, its likely range is being worked out" in account.text
    account.press("h")
    assert "likely range of the gains\n" in account.text
    assert "Being worked out ..." in account.text
    account.press(*["pagedown"] * 9)
    assert "rush jobs: being tried out" in account.text


def test_a_scenario_that_is_only_spoken_of_begins_with_what_is_said(tmp_path: Path) -> None:
    path = tmp_path / "said.toml"
    path.write_text(
        "format = 1\n[scenario.now]\nmachine.mill.count = 2\n"
        'said.with_people.cutting = "30 %"\nsaid.with_people.hours = "8 h"\n'
        '[scenario.then]\nparent = "now"\nsaid.with_people.cutting = "60 %"\n'
    )
    account = Looking(path, "account")
    assert "gain that is said: 100.0 %" in account.text


def test_a_study_with_nothing_in_it_says_why_there_is_no_gain(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text("format = 1\n[scenario.now]\n")
    account = Looking(path, "account")
    account.press("enter", "plus")
    assert "Why there is none" in account.text
    assert "No number of this account is another figure." in account.notice


@pytest.mark.parametrize("size", SMALL_FIRST)
def test_the_rules_of_a_figure_are_read_in_place(size: tuple[int, int]) -> None:
    account = Looking(DEMO, "account", size)
    before = account.text
    account.press("m")
    assert "Gains (results.gains)" in account.text
    assert [key.word for key in account.view.own_keys(account.look())][-1] == "next rule"
    account.press("m")
    assert "Output and saleable output (results.saleable)" in account.text
    account.press("m", "m")
    assert "Gains (results.gains)" in account.text
    assert len(account.rows) <= account.height
    account.press("escape")
    assert account.text == before
    account.press("m", "down")
    assert "gain in output: " in account.text


def test_every_rule_that_a_figure_names_is_in_the_book() -> None:
    for _, family, _ in FAMILIES:
        assert family.rules
        for name in family.rules:
            assert rule(name).text


@pytest.mark.long
async def test_escape_leaves_a_rule_first(tmp_path: Path) -> None:
    async with on_screen(DEMO, (200, 50), state=tmp_path) as screen:
        await screen.press("right", "up", "f4")
        await screen.press("m")
        assert "Gains (results.gains)" in screen.text
        await screen.press("escape")
        assert "How it is worked out" in screen.text
        # Escape leaves a rule first, and the view once it is not at one.
        await screen.press("m", "down", "escape")
        assert screen.app.desk.state.view is None
        await screen.press("f4", "f4")
        assert screen.app.desk.state.view is None


@pytest.mark.parametrize(
    ("row", "figure"),
    [
        (("part", "lid", "cycle"), "good pieces: lid: "),
        (("part", "lid", "setup"), "not cutting: changing the work holding: "),
        (("hours", "attended"), "spindle hours, attended: "),
        (("shift", "day", "people"), "people paid: "),
        (("title",), "gain in saleable output: "),
        ((), "gain in saleable output: "),
    ],
)
async def test_on_a_row_of_the_sheet_it_begins_with_the_first_figure_that_the_row_moves(
    tmp_path: Path, row: tuple[str, ...], figure: str
) -> None:
    async with on_screen(DEMO, state=tmp_path) as screen:
        if row:
            assert screen.app.desk.state.go_to_value(row)
            screen.app.desk.repaint()
        else:
            await screen.put_on(("part", "lid"))
        await screen.press("f4")
        assert any(line[50:].startswith(figure) for line in pane_lines(screen)), screen.text


def test_each_input_moves_a_figure_that_there_is() -> None:
    families = {id_.partition(".")[0] for id_, _, _ in FAMILIES}
    for key in KEYS:
        figure = first_moved(tuple("it" if part == ANY else part for part in key.pattern))
        assert not figure or figure.partition(".")[0] in families, key.dotted
        assert bool(figure) is (len(key.pattern) > 1), key.dotted
    assert first_moved(("part", "body", "on", "mill", "setup")) == "hours_by_state.setup"
    assert first_moved(("part", "body", "scrap")) == "pieces.body"


def test_the_name_that_a_figure_has_in_files_is_whole_beside_the_page() -> None:
    account = Looking(SCENARIOS / "one-person.toml", "account", (80, 24))
    feet = []
    for _ in range(60):
        account.press("down")
        feet += [line for line in account.text.splitlines() if "Space turns" in line]
    assert any("hours_by_state.outside_running_hours" in foot for foot in feet)
    assert not any("…" in foot for foot in feet)


def test_an_account_tells_lengths_and_weights_in_the_units_of_the_study() -> None:
    """Of an inch study it told millimetres and kilograms, though the view of fit had inches."""
    account = Looking(SCENARIOS / "one-person.toml", "account", (120, 32))
    account.view.turn_to("fit.latch.mill")
    seen = account.text
    for _ in range(5):
        account.press("space")
        seen += account.text
    assert "needs 2.25 in" in seen
    assert "3.75 lb" in seen
    assert not re.search(r"\d (mm|kg)\b", seen)
