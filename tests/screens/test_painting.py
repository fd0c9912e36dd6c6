"""What a key and a reply cause to be drawn: what has changed, and that once."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from looks import Looking, Silent
from screen import SCENARIOS, AtOnce, on_screen
from small_study import STUDY
from textual.css.stylesheet import Stylesheet
from textual.geometry import Region
from textual.scrollbar import ScrollBar
from textual.widgets import Static

from whatif.answers.compare import Answer
from whatif.answers.per import Per
from whatif.answers.progress import Progress
from whatif.screens.desk.desk import Desk
from whatif.screens.desk.painting import _with_room_for_keys, info_lines
from whatif.screens.widgets import strip, tree
from whatif.screens.widgets.columns import apart
from whatif.screens.widgets.sheet import Sheet, SheetState
from whatif.screens.widgets.strip import ResultStrip, StripState
from whatif.screens.widgets.tree import branches
from whatif.session.calculate.requests import Reply
from whatif.study.draft import Draft, ScenarioDraft


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


async def test_a_move_paints_only_the_lines_that_it_changes(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with on_screen(study) as screen:
        # As it stands in the room that it has been given at last.
        screen.app.desk.repaint()
        await screen.drawn()
        painted: dict[type, list[Region]] = {Sheet: [], ResultStrip: []}
        for widget, regions in painted.items():
            refresh = widget.refresh

            def noted(
                self: Sheet, *of: Region, regions=regions, refresh=refresh, **how: bool
            ) -> Sheet:
                regions.extend(of or [Region(0, 0, 1, 1000)])
                return refresh(self, *of, **how)

            monkeypatch.setattr(widget, "refresh", noted)
        await screen.press("down")
        assert 0 < sum(region.height for region in painted[Sheet]) <= 2
        assert not painted[ResultStrip]


async def test_how_far_the_answers_are_paints_the_first_line_alone(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        desk = screen.app.desk
        painted: list[str] = []
        monkeypatch.setattr(Desk, "_paint", lambda _desk: painted.append("all"))
        reply = Reply(desk.state.session.revision, progress=Progress(30, 100))
        desk.controllers.calculation.take(reply)
        await screen.drawn()
        assert not painted
        assert "working out 30 %" in screen.text.splitlines()[0]


async def test_figures_are_put_into_words_once(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[Answer] = []
    tellers = ((strip, "answer_per"), (strip, "drawn_ends"), (tree, "gain_in_a_word"))
    for module, name in tellers:
        tell = getattr(module, name)

        def noted(answer: Answer, *per: Per, tell: Callable[..., object] = tell) -> object:
            told.append(answer)
            return tell(answer, *per)

        monkeypatch.setattr(module, name, noted)
    async with on_screen(study) as screen:
        assert told
        told.clear()
        await screen.press("down", "right", "left")
        assert not told
        await screen.press("p")
        assert told, "for another time the figures are others"


@pytest.mark.long
async def test_the_editor_comes_and_goes_without_painting_the_whole_screen(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    painted: list[Region] = []
    refresh = Desk._compositor_refresh

    def noted(self: Desk) -> None:
        painted.extend(self._compositor._dirty_regions)
        refresh(self)

    async with on_screen(study, (120, 32), calculator=Silent) as screen:
        await screen.go_to("cycle", 1)
        await screen.pilot.pause(0.1)
        monkeypatch.setattr(Desk, "_compositor_refresh", noted)
        for key in ("7", "escape"):
            await screen.press(key)
            await screen.pilot.pause(0.1)
        sheet = screen.app.desk.query_one(Sheet).region
    assert painted
    # Gaining and losing the keys paints nothing of the sheet but the editor's own line.
    assert max(region.intersection(sheet).area for region in painted) <= sheet.width


async def test_what_is_typed_is_seen_before_all_that_follows_from_it(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[str] = []

    async with on_screen(study, calculator=Silent) as screen:
        await screen.go_to("cycle", 1)
        desk = screen.app.desk
        sheet, gains = desk.query_one(Sheet), desk.query_one(ResultStrip)
        show_sheet, show_gains, paint = sheet.show, gains.show, desk._compositor_refresh

        def sheet_drawn(state: SheetState) -> None:
            drawn.append("sheet")
            show_sheet(state)

        def gains_drawn(state: StripState) -> None:
            drawn.append("gains")
            show_gains(state)

        def painted() -> None:
            drawn.append("painted")
            paint()

        monkeypatch.setattr(sheet, "show", sheet_drawn)
        monkeypatch.setattr(gains, "show", gains_drawn)
        monkeypatch.setattr(desk, "_compositor_refresh", painted)
        calculator = screen.app.study.calculator
        assert isinstance(calculator, AtOnce)
        calculator.held = asked = []
        await screen.app._press_keys(["7"])
        await screen.drawn()
        assert drawn.index("sheet") < drawn.index("painted") < drawn.index("gains")
        calculator.held = None
        calculator.answer(asked[-1])
        drawn.clear()
        await screen.press("enter")
        # What is kept is drawn in one.
        assert drawn.index("gains") < drawn.index("painted")


async def test_replies_that_come_together_are_drawn_once(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with on_screen(study) as screen:
        drawn: list[Desk] = []
        paint = Desk._paint

        def noted(self: Desk) -> None:
            drawn.append(self)
            paint(self)

        monkeypatch.setattr(Desk, "_paint", noted)
        for _ in range(20):
            screen.app.desk.post_message(Desk.Replied(Reply(screen.session.revision, final=True)))
        await screen.settle()
        assert 0 < len(drawn) <= 2


def test_a_line_of_descent_may_be_as_long_as_the_study() -> None:
    scenarios = [ScenarioDraft("s0")]
    scenarios += [ScenarioDraft(f"s{i}", {("parent",): f"s{i - 1}"}) for i in range(1, 1200)]
    found = branches(Draft({}, tuple(scenarios)))
    assert [branch.id for branch in found] == [scenario.id for scenario in scenarios]


def test_a_thousand_alike_titles_are_told_apart() -> None:
    # All begin alike for longer than their room; the place where they differ is at the end.
    titles = [f"The same shop with so many more pallets: {i}" for i in range(1000)]
    short = apart(titles, 14)
    assert len(set(short)) == 1000
    assert short[0] == "The sa…lets: 0"


@pytest.mark.long
async def test_what_has_not_been_told_yet_is_painted_along(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An edit lays out first; the lines that it changes tell it a little later."""
    painted: list[set[int]] = []

    def noted(self: Desk) -> None:
        painted.append({y for region in self._compositor._dirty_regions for y in region.line_range})
        self._compositor._dirty_regions.clear()
        self._dirty_widgets.clear()

    async with on_screen(study, (120, 32), calculator=Silent) as screen:
        desk = screen.app.desk
        head, info = desk.query_one("#head", Static), desk.query_one("#info", Static)
        await screen.pilot.pause(0.1)
        monkeypatch.setattr(Desk, "_compositor_refresh", noted)
        head.update("other words", layout=False)
        info.update("other words", layout=False)
        desk._dirty_widgets.add(head)
        desk._show()
        assert painted == [{*head.region.line_range, *info.region.line_range}]
        await screen.pilot.pause(0.1)
        assert not any(painted[1:])


async def test_laying_out_paints_no_scroll_bar(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with on_screen(study, (120, 32), calculator=Silent) as screen:
        await screen.pilot.pause(0.1)
        assert screen.app.desk.query_one(Sheet).show_vertical_scrollbar
        monkeypatch.setattr(ScrollBar, "refresh", lambda *_, **__: pytest.fail("painted anew"))
        screen.app.desk._refresh_layout()


async def test_the_editor_opens_without_a_look_at_styles(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with on_screen(study, (120, 32), calculator=Silent) as screen:
        await screen.go_to("cycle", 1)
        looked: list[object] = []
        monkeypatch.setattr(Stylesheet, "apply", lambda *of, **_: looked.append(of))
        await screen.press("7", "escape")
        assert not looked


@pytest.mark.long
async def test_the_sheet_stays_where_it_is_while_answers_are_waited_for(tmp_path: Path) -> None:
    study = tmp_path / "demo.toml"
    study.write_bytes((SCENARIOS / "small-orders.toml").read_bytes())
    async with on_screen(study, (120, 32), state=tmp_path / "state") as screen:
        calculator = screen.app.study.calculator
        assert isinstance(calculator, AtOnce)
        sheet = screen.app.desk.query_one(Sheet)
        await screen.go_to("cycle")
        before = sheet.region
        calculator.held = []
        for key in ("7", "7", "enter"):
            await screen.pilot.press(key)
            await screen.drawn()
        assert calculator.held
        assert not screen.app.desk.controllers.calculation.current()
        assert sheet.region == before


def test_a_notice_leaves_out_keys_that_there_is_no_room_for() -> None:
    said = "Cycle of all 4 parts -20 % in Today"
    notice = f"{said}.  (u undoes it; a tries beside it)"
    assert _with_room_for_keys(notice, 80, 1) == notice
    assert _with_room_for_keys(notice, 55, 1) == f"{said}.  (u undoes it)"
    assert _with_room_for_keys(notice, 40, 1) == f"{said}."
    assert _with_room_for_keys("What a value means (as entered)", 10, 1).endswith("(as entered)")


@pytest.mark.parametrize("study", ["one-person", "small-orders", "pallets-until-demand"])
def test_on_80_columns_no_word_below_the_sheet_is_cut(study: str) -> None:
    """Where there is too much it ends with a clause, and why a value is not used is told."""
    state = Looking(SCENARIOS / f"{study}.toml", "hours", (80, 24), calculator=Silent).state
    state.view = None
    for column in range(len(state.ids)):
        for row in range(len(state.rows)):
            state.go_to(row, column)
            said = info_lines(state, 80, high=False)
            assert "…" not in said
            line, scenario = state.line, state.ids[column]
            if line is not None and state.cell(scenario, line.path).is_unused:
                assert "Not used: " in " ".join(said.split())
