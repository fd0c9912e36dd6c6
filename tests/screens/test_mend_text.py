"""A file that is no study is looked at and mended as a text: by its place, or by a good state."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from looks import Silent
from screen import SMALL_FIRST, Screen, on_screen, on_start
from small_study import PALLETS, STUDY
from textual.widgets import TextArea

from whatif.command.main import main
from whatif.screens.beginning.start import StartScreen
from whatif.screens.dialogs.ask import Ask
from whatif.screens.dialogs.mend_text import MendText
from whatif.session.broken import broken_file
from whatif.session.kept.recovery import Recovery
from whatif.study.file import atomic
from whatif.study.file.reading import fingerprint, read_text

BROKEN = STUDY.replace("count = 2", "count = = 2")
LINE = BROKEN.splitlines().index("count = = 2")
both_sizes = pytest.mark.parametrize("size", SMALL_FIRST[:2], ids=["80x24", "120x32"])


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(BROKEN, "utf-8")
    return path


def area_of(screen: Screen) -> TextArea:
    assert isinstance(screen.app.screen, MendText)
    return screen.app.screen.query_one(TextArea)


async def judged(screen: Screen) -> str:
    """What is said once the text has been read again."""
    screen.app.screen._judge()  # type: ignore[attr-defined]
    await screen.drawn()
    return " ".join(screen.text.split())


@pytest.mark.long
@both_sizes
async def test_the_place_is_shown_and_mended_there(study: Path, size: tuple[int, int]) -> None:
    async with on_start(study.parent / "state", size, missing=study, calculator=Silent) as screen:
        area = area_of(screen)
        assert area.cursor_location == (LINE, 8)
        assert f"! Line {LINE + 1}, column 9: there is no value that can be read" in screen.text
        assert "[scenario.now.machine.mill]" in screen.text  # what stands around it
        # What cannot be read is not saved.
        await screen.press("f10")
        assert study.read_text("utf-8") == BROKEN
        await screen.press("delete", "delete")
        assert "The text can be read, and there are no problems in it." in await judged(screen)
        await screen.press("f10")
        assert study.read_text("utf-8") == STUDY
        assert screen.session.path == study
        assert screen.session.is_saved


@pytest.mark.long
async def test_what_is_wrong_is_told_while_it_is_typed(study: Path) -> None:
    async with on_start(study.parent / "state", missing=study, calculator=Silent) as screen:
        await screen.press("delete", "delete", "enter")
        assert "Line" in await judged(screen)
        await screen.press("backspace", "end", "x")
        assert "! Line" in await judged(screen)
        await screen.press("backspace", *["down"] * 4, "home", "a")  # another key than "weekly"
        said = await judged(screen)
        assert "The text can be read; " in said
        assert "left, which the study lists" in said


@pytest.mark.long
async def test_going_back_asks_where_something_was_changed(study: Path) -> None:
    async with on_start(study.parent / "state", missing=study, calculator=Silent) as screen:
        await screen.press("escape")
        assert isinstance(screen.app.screen, StartScreen)
        assert "small.toml: Line" in " ".join(screen.text.split())
    async with on_start(study.parent / "state", missing=study, calculator=Silent) as screen:
        await screen.press("x", "escape")
        assert isinstance(screen.app.screen, Ask)
        await screen.press("escape")
        assert isinstance(screen.app.screen, MendText)
        await screen.press("escape", "t")
        assert isinstance(screen.app.screen, StartScreen)
        assert study.read_text("utf-8") == BROKEN


@pytest.mark.long
async def test_the_last_good_state_is_what_a_session_left(study: Path) -> None:
    state = study.parent / "state"
    left = Recovery(study, fingerprint(STUDY.encode()), state / "other")
    left.note(read_text(STUDY.replace("pallets = 4", "pallets = 7")))
    left.flush()
    assert left.path is not None
    # As of a session that is gone.
    gone = left.path.name.replace(f"-{os.getpid()}-", "-999999999-")
    (state / "x").mkdir(parents=True)
    os.rename(left.path, state / gone)
    left.note(None)
    async with on_start(state, missing=study, calculator=Silent) as screen:
        await screen.press("f3")
        assert "what was kept on" in " ".join(screen.text.split())
        await screen.press("ctrl+z")
        assert area_of(screen).text == BROKEN
        await screen.press("f3", "f10")
        assert screen.session.draft.scenario("pool").entered[PALLETS] == 7


@pytest.mark.long
async def test_without_a_good_state_that_is_said(study: Path) -> None:
    async with on_start(study.parent / "state", missing=study, calculator=Silent) as screen:
        await screen.press("f3")
        assert "No state that can be read is known of this file." in screen.text
        assert area_of(screen).text == BROKEN


@pytest.mark.long
@pytest.mark.parametrize("way", ["mend", "held", "over"])
async def test_a_file_that_another_program_broke(way: str, tmp_path: Path) -> None:
    study = tmp_path / "small.toml"
    study.write_text(STUDY, "utf-8")
    async with on_screen(study, calculator=Silent) as screen:
        await screen.go_to("pallets each", 1)
        await screen.press("9", "enter")
        study.write_text(BROKEN, "utf-8")
        await screen.press("w")  # it is no study, but it is another's: nothing is lost unasked
        await screen.press("r")
        assert isinstance(screen.app.screen, Ask)
        assert "Not taken: small.toml: Line" in screen.text
        if way == "over":
            await screen.press("o")
            assert "pallets = 9" in study.read_text("utf-8")
            return
        await screen.press("t")
        if way == "held":
            await screen.press("f3")
            assert "what is on the screen" in screen.text
        else:
            await screen.press("delete", "delete")
        await screen.press("f10")
        assert screen.app.screen is screen.app.desk
        now = screen.session.draft.scenario("pool").entered[PALLETS]
        assert now == (9 if way == "held" else 4)
        if way == "mend":  # taking the file is a change like others
            await screen.press("u")
            assert screen.session.draft.scenario("pool").entered[PALLETS] == 9


@pytest.mark.long
async def test_it_is_saved_whole_or_not_at_all(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with on_start(study.parent / "state", missing=study, calculator=Silent) as screen:
        await screen.press("delete", "delete")
        with monkeypatch.context() as patch:
            patch.setattr(atomic.os, "fsync", fails)
            await screen.press("f10")
        assert "was not saved" in screen.text
        assert study.read_text("utf-8") == BROKEN
        study.write_text(BROKEN + "# somebody else\n", "utf-8")
        await screen.press("f10")
        assert "changed by somebody else" in " ".join(screen.text.split())
        assert study.read_text("utf-8").endswith("# somebody else\n")
        assert [path.name for path in study.parent.iterdir()] == ["small.toml", "state"]


def fails(descriptor: int) -> None:
    raise OSError(28, "No space left on device")


@pytest.mark.parametrize(
    ("content", "text"),
    [
        (BROKEN.encode(), BROKEN),
        (BROKEN.replace("\n", "\r\n").encode(), BROKEN.replace("\n", "\r\n")),
        (b"\xef\xbb\xbf" + BROKEN.encode(), BROKEN),
        (STUDY.replace("Small", "Größe").encode("latin-1"), STUDY.replace("Small", "Größe")),
        (STUDY.encode("utf-16"), STUDY),
        (STUDY.encode(), None),
        (STUDY.replace("[scenario", "[scenery").encode(), None),
        (b"x = [" + b"1," * 200_000 + b"\n", None),
    ],
)
def test_what_is_mended_in_a_text(content: bytes, text: str | None, tmp_path: Path) -> None:
    study = tmp_path / "study.toml"
    study.write_bytes(content)
    broken = broken_file(study, tmp_path / "state")
    assert (None if broken is None else broken.text) == text


def test_off_a_terminal_the_fault_is_told(
    study: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TERM", "dumb")
    assert main([str(study)]) == 1
    assert f"Line {LINE + 1}, column 9" in capsys.readouterr().err
