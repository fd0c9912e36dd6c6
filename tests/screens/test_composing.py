"""The screen put together from the lines that need it is the one that Textual would paint."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise
from pathlib import Path
from time import sleep

import pytest
from looks import Silent
from screen import SMALL_FIRST, on_screen
from small_study import STUDY
from textual._compositor import Compositor
from textual.geometry import Region, Size
from textual.screen import Screen
from textual.strip import Strip
from textual.widgets import Static

from whatif.screens.desk.desk import Desk
from whatif.screens.widgets import composing
from whatif.screens.widgets.composing import NeededLines
from whatif.screens.widgets.sheet import Sheet

Chops = Sequence[Mapping[int, Strip]]


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


@pytest.fixture
def painting(monkeypatch: pytest.MonkeyPatch) -> None:
    """Paint, as elsewhere tests do not."""

    def paint(self: Desk) -> None:
        if self is self.app.screen:
            self._compositor.render_update(screen_stack=self.app._background_screens)
            self._dirty_widgets.clear()

    monkeypatch.setattr(Desk, "_compositor_refresh", paint)


@pytest.mark.long
@pytest.mark.usefixtures("painting")
@pytest.mark.parametrize("size", SMALL_FIRST[:2], ids=["size0", "size1"])
async def test_what_is_painted_is_the_same(
    study: Path, size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    painted = 0
    ours = NeededLines._render_chops

    def both(self: NeededLines, crop: Region, is_painted: Callable[[int], bool]) -> Chops:
        nonlocal painted
        chops = ours(self, crop, is_painted)
        theirs = Compositor._render_chops(self, crop, is_painted)
        for y in filter(is_painted, crop.line_range):
            painted += 1
            assert chops[y].keys() == theirs[y].keys()
            for cut in chops[y]:
                assert list(chops[y][cut]) == list(theirs[y][cut]), (y, cut)
        return chops

    monkeypatch.setattr(NeededLines, "_render_chops", both)
    async with on_screen(study, size) as screen:
        await screen.press("down", "7", "enter", "f5", "right", "f5", "f8", "f8")
        await screen.press("slash", "c", "escape", "u", "t", "t", "f1", "escape")
    assert painted > 5 * size[1]


@pytest.mark.usefixtures("painting")
@pytest.mark.long
async def test_only_lines_that_are_painted_are_asked_for(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []
    render = Sheet.render_lines

    def noted(self: Sheet, crop: Region) -> list[Strip]:
        asked.append(crop.height)
        return render(self, crop)

    async with on_screen(study, (120, 32), calculator=Silent) as screen:
        await screen.press("down", "down")
        await screen.pilot.pause(0.1)
        monkeypatch.setattr(Sheet, "render_lines", noted)
        others = [screen.app.desk, *screen.app.desk.query("#body, #desk")]
        for widget in others:
            monkeypatch.setattr(widget, "render_lines", lambda _: pytest.fail("not seen"))
        # Info and two lines of the sheet are painted, and many between them are not.
        await screen.press("down")
        await screen.pilot.pause(0.1)
    assert isinstance(others[0], Desk)
    assert asked
    assert max(asked) <= 3


@pytest.mark.long
async def test_a_change_is_painted_at_once_and_the_next_a_picture_later(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = 1e6
    shown: list[float] = []
    show = Desk._on_timer_update

    def noted(self: Desk) -> None:
        shown.append(now)
        show(self)

    async with on_screen(study, calculator=Silent) as screen:
        head = screen.app.desk.query_one("#head", Static)
        await screen.pilot.pause(0.1)
        monkeypatch.setattr(composing, "monotonic", lambda: now)
        monkeypatch.setattr(composing, "FRAME", 0.3)
        monkeypatch.setattr(Desk, "_on_timer_update", noted)
        # A pause of the pilot would paint by itself.
        head.update("first", layout=False)
        await asyncio.sleep(0.03)
        assert shown == [1e6]
        head.update("second", layout=False)
        await asyncio.sleep(0.03)
        assert shown == [1e6], "the first has not stood for the time of a picture"
        await asyncio.sleep(0.3)
        assert len(shown) == 2
        now = 2e6
        head.update("third", layout=False)
        await asyncio.sleep(0.03)
        assert shown[2:] == [2e6]


async def test_lines_that_are_not_laid_out_yet_are_left_out(study: Path) -> None:
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        assert len(screen.app.desk._compositor.render_strips(Size(80, 40))) == 24


@pytest.mark.long
async def test_a_view_is_made_ready_in_turns_and_then_painted_whole(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    turns: list[str] = []
    ready, paint = NeededLines.made_ready, Screen._compositor_refresh

    def made_ready(self: NeededLines) -> Iterator[None]:
        # No time is left of a turn, so each takes one step.
        for step in ready(self):
            turns.append("lines")
            asyncio.get_running_loop().call_soon(turns.append, "a key that has come")
            yield step

    def painted(self: Screen[object]) -> None:
        turns.append("painted")
        paint(self)

    draw = Desk._paint

    def drawn(self: Desk) -> None:
        turns.append("drawn")
        asyncio.get_running_loop().call_soon(turns.append, "a key that has come")
        draw(self)

    async def until_painted() -> None:
        for _ in range(1000):
            if "painted" in turns:
                return
            await asyncio.sleep(0.001)

    async with on_screen(study, (120, 32), calculator=Silent) as screen:
        await screen.pilot.pause(0.1)
        monkeypatch.setattr(NeededLines, "made_ready", made_ready)
        monkeypatch.setattr(Screen, "_compositor_refresh", painted)
        monkeypatch.setattr(composing, "_TURN", 0.0)
        screen.app.desk.controllers.views.open("hours")
        await until_painted()
        before = turns[: turns.index("painted")]
        assert before.count("lines") > 3, turns
        assert all(two != ("lines", "lines") for two in pairwise(before)), turns
        turns.clear()
        # What is on few lines is painted in one turn, and drawn in another.
        monkeypatch.setattr(Desk, "_paint", drawn)
        screen.app.desk.say("few")
        await until_painted()
        assert turns == ["drawn", "a key that has come", "painted"]


async def test_a_turn_leaves_a_round_in_which_much_is_done_to_others_but_not_for_ever(
    study: Path,
) -> None:
    done: list[str] = []
    async with on_screen(study, calculator=Silent) as screen:
        desk = screen.app.desk
        loop = asyncio.get_running_loop()

        def works() -> None:
            sleep(0.005)
            done.append("work")
            if done.count("work") < 20:
                loop.call_later(0, works)

        loop.call_later(0, works)
        desk._then(lambda: done.append("turn"))
        while done.count("work") < 20:
            await asyncio.sleep(0.001)
    assert 2 <= done.index("turn") <= 6
