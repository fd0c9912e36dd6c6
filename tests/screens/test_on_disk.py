"""The file changed on disk while it is worked on: noticed, told, taken or not."""

from __future__ import annotations

from pathlib import Path

import pytest
from looks import Silent
from screen import SMALL_FIRST, Screen, on_screen
from small_study import STUDY
from textual.widgets import Input

from whatif.screens.dialogs.ask import Ask
from whatif.session.opened import begin_study, empty_study
from whatif.session.session import OnDisk, Session
from whatif.study.edits import SetValue
from whatif.study.file.reading import StudyError, read_file
from whatif.study.file.writing import ChangedOnDisk

WALK = SetValue("now", ("handling", "walk"), "2 min")


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return path


def test_the_session_tells_what_has_become_of_the_file(study: Path) -> None:
    session = Session(read_file(study))
    assert session.on_disk() is OnDisk.SAME
    session.do(WALK)
    assert session.on_disk() is OnDisk.SAME
    study.write_text(STUDY.replace('"Small"', '"Other"'), "utf-8")
    assert session.on_disk() is OnDisk.CHANGED
    study.write_text(STUDY, "utf-8")
    assert session.on_disk() is OnDisk.SAME
    study.unlink()
    assert session.on_disk() is OnDisk.GONE
    session.save()
    assert session.on_disk() is OnDisk.SAME


def test_what_no_file_has_held_is_never_changed_on_disk(tmp_path: Path) -> None:
    path = tmp_path / "new.toml"
    opened = begin_study(empty_study(), path, tmp_path / "state")
    assert opened.session.on_disk() is OnDisk.SAME
    path.write_text(STUDY, "utf-8")
    assert opened.session.on_disk() is OnDisk.SAME
    opened.recovery.close()


def test_taking_the_file_is_a_change_that_can_be_undone(study: Path) -> None:
    session = Session(read_file(study))
    session.do(WALK)
    mine = session.draft
    study.write_text(STUDY.replace('"Small"', '"Other"'), "utf-8")
    assert session.read_again() == "small.toml read again"
    assert session.draft.head["title"] == "Other"
    assert session.is_saved
    assert session.on_disk() is OnDisk.SAME
    session.undo()
    assert session.draft == mine
    assert session.unsaved == 1
    session.redo()
    assert session.is_saved


def test_a_file_that_cannot_be_read_leaves_the_session_as_it_was(study: Path) -> None:
    session = Session(read_file(study))
    session.do(WALK)
    mine = session.draft
    study.write_text("format = = 1", "utf-8")
    with pytest.raises(StudyError):
        session.read_again()
    assert session.draft == mine
    with pytest.raises(ChangedOnDisk):
        session.save()


# -- on the screen ------------------------------------------------------------------------

OTHERS = STUDY.replace('"Small"', '"Theirs"')

both_sizes = pytest.mark.parametrize("size", SMALL_FIRST[:2], ids=["80x24", "120x32"])


async def look(screen: Screen) -> None:
    screen.app.desk.controllers.file.look()
    await screen.settle()


@both_sizes
async def test_a_change_is_told_and_taken_by_one_key(study: Path, size: tuple[int, int]) -> None:
    async with on_screen(study, size, calculator=Silent) as screen:
        await look(screen)
        assert "file changed" not in screen.text
        study.write_text(OTHERS, "utf-8")
        await look(screen)
        assert "! file changed: f" in screen.text.splitlines()[0]
        assert "small.toml was changed by somebody else" in screen.text
        await screen.press("down")
        assert "! file changed: f" in screen.text
        await screen.press("f")
        assert screen.app.screen is screen.app.desk
        assert "Theirs" in screen.text
        assert "file changed" not in screen.text
        assert screen.session.is_saved


@pytest.mark.long
@both_sizes
async def test_with_unsaved_changes_it_is_asked_whose_are_kept(
    study: Path, tmp_path: Path, size: tuple[int, int]
) -> None:
    async with on_screen(study, size, calculator=Silent) as screen:
        screen.session.do(WALK)
        mine = screen.session.draft
        study.write_text(OTHERS, "utf-8")
        await look(screen)
        await screen.press("f")
        assert isinstance(screen.app.screen, Ask)
        assert "was changed by somebody else, and 1 change here is not saved" in " ".join(
            screen.text.split()
        )
        await screen.press("k")
        assert screen.session.draft == mine
        assert "! file changed: f" in screen.text
        await screen.press("f", "r")
        assert screen.session.draft.head["title"] == "Theirs"
        assert "file changed" not in screen.text
        await screen.press("u")
        assert screen.session.draft == mine
        study.write_text(STUDY, "utf-8")
        await look(screen)
        await screen.press("f", "s")
        await screen.press(*["backspace"] * len(screen.app.screen.query_one(Input).value))
        screen.app.screen.query_one(Input).value = str(tmp_path / "mine.toml")
        await screen.press("enter")
        assert read_file(tmp_path / "mine.toml").draft == mine
        assert study.read_text("utf-8") == STUDY
        assert "file changed" not in screen.text


@pytest.mark.long
async def test_saving_over_a_changed_file_asks_by_mouse_too(study: Path) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        screen.session.do(WALK)
        study.write_text(OTHERS, "utf-8")
        await screen.press("w")
        assert isinstance(screen.app.screen, Ask)
        assert study.read_text("utf-8") == OTHERS
        lines = screen.text.splitlines()
        y = next(i for i, line in enumerate(lines) if "take the file as it is" in line)
        await screen.pilot.click(offset=(lines[y].index("take"), y))
        await screen.settle()
        assert screen.session.draft.head["title"] == "Theirs"
        await screen.press("u")
        assert screen.session.unsaved == 1


async def test_a_file_that_is_gone_is_told_and_written_again(study: Path) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        study.unlink()
        await look(screen)
        assert "! file gone: w" in screen.text
        await screen.press("f")
        assert "not on disk" in screen.text
        await screen.press("w")
        assert study.exists()
        assert "file gone" not in screen.text
        await look(screen)
        assert "! file" not in screen.text


async def test_saving_oneself_is_no_change_by_somebody_else(study: Path) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        screen.session.do(WALK)
        await screen.press("w")
        await look(screen)
        assert "file changed" not in screen.text
        await screen.press("f")
        assert "holds what is on the screen" in screen.text


async def test_a_changed_file_that_cannot_be_read_is_not_taken(study: Path) -> None:
    async with on_screen(study, calculator=Silent) as screen:
        study.write_text("format = = 1", "utf-8")
        await look(screen)
        await screen.press("f")
        assert "Not taken: small.toml: Line 1" in screen.text
        assert screen.session.draft.head["title"] == "Small"
        assert "! file changed" in screen.text
