"""The line of keys: six of them on a narrow screen, more where there is room, all to be clicked."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import pytest
from rich.cells import cell_len
from screen import on_screen
from small_study import STUDY

from whatif.screens.widgets.key_line import KeyLine, OwnKey
from whatif.telling.signs import DESK, signs_told

MORE = ("u undo", "l changes", "e scenario", "n add")


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


@pytest.mark.long
async def test_it_follows_the_width_of_the_screen(study: Path) -> None:
    async with on_screen(study, (80, 24)) as screen:
        assert not all(words in screen.text for words in MORE)
        # Where the others are told is said behind the last one that has room.
        assert screen.text.splitlines()[-1].rstrip().endswith("… F1")
        told = dict(signs_told(screen.app.desk.drawn.text, (), DESK))
        assert "more keys" in told["… F1"]
        assert "…" not in told  # no text is cut
        await screen.pilot.resize_terminal(200, 32)
        await screen.settle()
        keys = screen.text.splitlines()[-1]
        assert "…" not in keys
        await screen.pilot.resize_terminal(120, 32)
        await screen.settle()
        keys = screen.text.splitlines()[-1]
        assert all(words in keys for words in MORE)
        assert cell_len(keys) < 120
        await screen.pilot.resize_terminal(80, 32)
        await screen.settle()
        assert not all(words in screen.text for words in MORE)
        # Told or not, the keys are there.
        await screen.press("e")
        assert "The scenario Now:" in screen.text


@pytest.mark.long
async def test_its_words_are_clicked(study: Path) -> None:
    async with on_screen(study) as screen:
        for words, asked in (("n add", "In Now:"), ("e scenario", "The scenario Now:")):
            await screen.pilot.click(offset=(screen.text.splitlines()[-1].index(words) + 3, 31))
            await screen.settle()
            assert asked in screen.text
            await screen.press("escape")


@pytest.mark.long
async def test_the_menu_of_scenarios_adds_one_where_there_is_none(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text("", "utf-8")
    async with on_screen(path) as screen:
        assert screen.session.draft.scenarios == ()
        await screen.press("escape", "e")
        assert "The first scenario: what is it called?" in screen.text
        await screen.type("Now")
        await screen.press("enter", "e", "a")
        assert "A new scenario based on Now" in " ".join(screen.text.split())


@pytest.mark.long
async def test_a_key_has_the_same_place_at_every_width_and_beside_a_view(study: Path) -> None:
    lines = []
    for size in ((80, 24), (120, 32), (200, 50)):
        async with on_screen(study, size) as screen:
            lines.append(screen.text.splitlines()[-1])
            await screen.open_view("hours")
            lines.append(screen.text.splitlines()[-1].replace("Esc back", "⏎ edit", 1))
    for words in ("F1 help", "F6 views", "q leave", "F10 save", "F2 summary", "u undo"):
        # At 80 columns the view's own keys go before the last of those that are the same.
        places = [line.find(words) for line in lines]
        assert len(set(places) - {-1}) == 1, words
        assert places.count(-1) <= (words in ("u undo", "F2 summary")), words
    assert all("t tree" in line for line in lines[::2])


async def test_a_view_s_word_for_a_common_key_stands_in_its_place(study: Path) -> None:
    async with on_screen(study, (80, 24)) as screen:
        await screen.open_view("hours")
        before = screen.text.splitlines()[-1]
        assert before.startswith(" Esc back  F1 help")
        screen.app.desk.query_one(KeyLine).show_own((OwnKey("Esc", "upwards", "escape"),))
        await screen.settle()
        told = screen.text.splitlines()[-1]
        assert told.startswith(" Esc upwards  F1 help")
        assert told.count("Esc") == 1


async def test_a_view_s_own_keys_stay_where_there_is_no_room_for_others(study: Path) -> None:
    pressed: list[str] = []
    own = tuple(OwnKey(letter, "x" * 7, letter) for letter in "bcd")
    async with on_screen(study, (80, 24)) as screen:
        line = screen.app.desk.query_one(KeyLine)
        line.show_own(own)
        await screen.settle()
        told = screen.text.splitlines()[-1]
        assert cell_len(told) <= 80
        assert "undo" not in told
        assert all(f"{letter} xxxxxxx" in told for letter in "bcd")
        assert all(words in told for words in ("F1 help", "F6 views", "q leave"))
        assert "b xxxxxxx" in told
        screen.app.simulate_key = pressed.append  # type: ignore[method-assign,assignment] - heard
        await screen.pilot.click(offset=(told.index("b xxx") + 1, 23))
        assert pressed == ["b"]


@pytest.mark.long
async def test_it_is_told_once_for_all_that_changes_with_a_view(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    times = 0
    to_tell = KeyLine._to_tell

    def noted(self: KeyLine) -> Iterable[OwnKey]:
        nonlocal times
        times += 1
        return to_tell(self)

    async with on_screen(study) as screen:
        await screen.press("f5")
        told = screen.text.splitlines()[-1]
        await screen.press("f5")
        monkeypatch.setattr(KeyLine, "_to_tell", noted)
        await screen.press("f5")
        assert screen.text.splitlines()[-1] == told
        assert times <= 2, "the keys of the view, and what they do where it has them"
