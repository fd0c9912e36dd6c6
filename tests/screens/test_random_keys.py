"""Random keys from seeds, in every view and form: nothing falls over, and nothing is lost.

``WHATIF_KEYS=10000 pytest --long -n 0 -s tests/screens/test_random_keys.py`` presses as many at
80 x 24, by turns each when the one before it is drawn, as fast as they go, and thirty a second,
while the terminal gets other sizes; of each seed it prints what was pressed and what came of it.
"""

from __future__ import annotations

import asyncio
import os
import random
from collections import Counter
from pathlib import Path

import pytest
from lengths import first_of, is_long
from looks import Silent
from screen import Screen, on_screen
from small_study import STUDY
from textual.events import Key, Paste

from whatif.screens.app import WhatIf
from whatif.screens.desk.commands import COMMANDS
from whatif.screens.views.all import VIEWS
from whatif.study.file.reading import read_file, read_text
from whatif.study.file.writing import to_text
from whatif.study.schema.kinds.plain import MOST_LETTERS

A_SEED = 250
"""Keys of a seed."""

SEEDS = max(3, int(os.environ.get("WHATIF_KEYS", "1500")) // A_SEED)
WAYS = ("one by one", "all at once", "thirty a second")
QUICK = 60
"""Keys of a seed in the quick set."""

NAMED = (
    *("up", "down", "left", "right", "enter", "escape", "tab", "shift+tab", "delete", "backspace"),
    *("home", "end", "pageup", "pagedown", "ctrl+v", "ctrl+p", "ctrl+s", "shift+left", "ctrl+a"),
    *(f"f{number}" for number in range(1, 13)),
)
LETTERS = "abcdefghijklmnopqrstuvwxyzHOAZ0123456789 .,:;%-+=<>[]()\"'!?#é½"
SIZES = ((1, 1), (2, 1), (1, 40), (10, 3), (40, 12), (80, 24), (200, 50), (400, 120))
FORMS = tuple(
    command.name
    for command in COMMANDS
    if command.name not in ("leave", "open") and not command.name.startswith("view_")
)
"""Commands, most of which open something to type or choose in."""


def random_keys(luck: random.Random, count: int) -> list[str]:
    """Most of them move and type; a number is kept with Enter more often than by chance."""
    keys: list[str] = []
    while len(keys) < count:
        some = luck.random()
        if some < 0.4:
            keys.append(luck.choice(NAMED))
        elif some < 0.5:
            keys += [*str(luck.randrange(1, 300)), "enter"]
        else:
            keys.append(luck.choice(LETTERS))
    return keys[:count]


def event_of(key: str) -> Key:
    return Key({" ": "space"}.get(key, key), key if len(key) == 1 else None)


async def press(screen: Screen, way: str, keys: list[str], luck: random.Random) -> None:
    """Press the keys in one of the ways, and have the terminal change its size meanwhile."""
    resizes = set(luck.sample(range(len(keys)), len(keys) // 20))
    for place, key in enumerate(keys):
        screen.app.post_message(event_of(key))
        if way == "one by one":
            await screen.drawn()
        elif way == "thirty a second":
            await asyncio.sleep(1 / 30)
        if place in resizes:
            await screen.pilot.resize_terminal(*luck.choice(SIZES))
    await screen.pilot.resize_terminal(80, 24)
    await screen.drawn()


async def back_to_the_desk(screen: Screen) -> None:
    for _ in range(30):
        if screen.app.screen is screen.app.desk and not screen.app.desk.is_typed_in:
            return
        # A question whether to throw away what was written is answered so.
        screen.app.post_message(event_of("escape"))
        await screen.drawn()
        if len(screen.app.screen_stack) > 2:
            screen.app.post_message(event_of("t"))
            await screen.drawn()


@pytest.fixture
def going(monkeypatch: pytest.MonkeyPatch) -> Counter[str]:
    """Leaving and opening another study are counted, and not done."""
    counted: Counter[str] = Counter()
    monkeypatch.setattr(WhatIf, "exit", lambda self, *_, **__: counted.update(["left"]))
    monkeypatch.setattr(WhatIf, "show_start", lambda self: counted.update(["start"]))
    return counted


@pytest.mark.long
@pytest.mark.parametrize("seed", first_of(range(SEEDS), 2))
async def test_random_keys_lose_nothing(
    seed: int,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    going: Counter[str],
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)  # a name that is typed is a file here
    luck, way = random.Random(seed), WAYS[seed % len(WAYS)]
    keys = random_keys(luck, A_SEED if is_long else QUICK)
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    first = to_text(read_text(STUDY))
    # Sessions are only cut short here, so leave out what the test itself would end with.
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        app = screen.app
        for name in [view.name for view in VIEWS][seed % (len(VIEWS) + 1) :][:1]:
            app.desk.controllers.views.open(name)
            await screen.drawn()
        app.desk.action_run(FORMS[seed * 7 % len(FORMS)])
        await screen.drawn()
        before = app._key
        await press(screen, way, keys, luck)
        heeded = app._key - before
        await back_to_the_desk(screen)
        assert app.screen is app.desk
        session = app.session
        done = len(session.history.done)
        saved = tmp_path / "saved.toml"
        saved.write_text(to_text(session.draft), "utf-8")
        assert read_file(saved).draft == session.draft
        while session.history.done:
            app.desk.action_run("undo")
            await screen.drawn()
        assert to_text(session.draft) == first
        with capsys.disabled():
            if is_long:
                print(f"\nseed {seed}, {way}: {heeded} keys, {done} changes undone", end="")
                print(f", {dict(going)}" if going else "", end="")
        assert heeded == len(keys)


@pytest.mark.long
async def test_a_page_further_in_a_list_that_no_cell_is_left_for(tmp_path: Path) -> None:
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    for opens in ("ctrl+p", "f6", "y"):
        async with on_screen(study, (80, 24), calculator=Silent) as screen:
            await screen.press(opens)
            await screen.pilot.resize_terminal(1, 1)
            await screen.press("down", "pagedown", "pageup")
            await screen.pilot.resize_terminal(80, 24)
            await screen.press("escape")
            assert screen.app.screen is screen.app.desk


@pytest.mark.parametrize("command", first_of(["notes", "rename", "find", "add", None], 4))
async def test_a_megabyte_is_pasted(command: str | None, tmp_path: Path) -> None:
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        if command is not None:
            screen.app.desk.action_run(command)
            await screen.drawn()
        text = "12 min\n" * (1_000_000 // 7)
        screen.app.post_message(Paste(text))
        await screen.drawn()
        await back_to_the_desk(screen)
        while screen.session.history.done:
            screen.app.desk.action_run("undo")
            await screen.drawn()
        assert to_text(screen.session.draft) == to_text(read_text(STUDY))


async def test_notes_take_what_they_have_room_for(tmp_path: Path) -> None:
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    async with on_screen(study, (80, 24), calculator=Silent) as screen:
        screen.app.desk.action_run("notes")
        await screen.drawn()
        for text in ("x" * (MOST_LETTERS + 1), "from the book"):
            screen.app.post_message(Paste(text))
            await screen.drawn()
            assert "100,000 characters at most: nothing was pasted" in screen.text
        await screen.press("ctrl+s")
        assert screen.session.draft.scenario("now").entered[("notes",)] == "from the book"
