"""Places that cannot be written, and two programs on one study: it is said, and nothing is lost."""

from __future__ import annotations

import errno
import os
import shutil
import stat
from collections.abc import Callable
from pathlib import Path

import pytest
from failing_disk import Disk
from looks import Silent
from screen import Screen, on_screen
from small_study import PALLETS, STUDY

from whatif.screens.dialogs.ask import Ask
from whatif.session.kept.left import left_behind
from whatif.study.file.reading import read_file

Trouble = Callable[[Path, pytest.MonkeyPatch], None]


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "shop" / "small.toml"
    path.parent.mkdir()
    path.write_text(STUDY, "utf-8")
    return path


def pallets_in(path: Path) -> object:
    return read_file(path).draft.scenario("pool").entered[PALLETS]


async def edited(screen: Screen, pallets: int) -> None:
    await screen.go_to("pallets each", 1)
    await screen.type(str(pallets))
    await screen.press("enter")


def assert_kept(screen: Screen) -> None:
    """The edit is in memory, and on the disk where the next start finds it."""
    assert screen.session.draft.scenario("pool").entered[PALLETS] == 7
    recovery = screen.app.study.recovery
    assert recovery.flush()
    assert recovery.path.exists()
    assert "pallets = 7" in recovery.path.read_text("utf-8")


def vanished(study: Path, _: pytest.MonkeyPatch) -> None:
    shutil.rmtree(study.parent)


def a_folder_now(study: Path, _: pytest.MonkeyPatch) -> None:
    study.unlink()
    study.mkdir()


def read_only_folder(study: Path, patch: pytest.MonkeyPatch) -> None:
    """As whoever is not root finds it."""
    real = os.open

    def refuses(path: object, flags: int, *rest: int, **named: int) -> int:
        if flags & os.O_CREAT and Path(str(path)).parent == study.parent:
            raise PermissionError(errno.EACCES, "Permission denied")
        return real(path, flags, *rest, **named)  # type: ignore[arg-type]  # as it came

    patch.setattr(os, "open", refuses)


def of_another_owner(study: Path, patch: pytest.MonkeyPatch) -> None:
    real = os.access
    patch.setattr(os, "access", lambda path, *rest: path != study and real(path, *rest))


def a_link_in_a_circle(study: Path, _: pytest.MonkeyPatch) -> None:
    study.unlink()
    study.symlink_to(study)


TROUBLES: dict[str, tuple[Trouble, str]] = {
    "vanished": (vanished, "there is no such folder"),
    "a folder": (a_folder_now, "is a folder; name a file in it"),
    "read-only folder": (read_only_folder, "you have no permission to write there"),
    "another owner": (of_another_owner, "may only be read; save under another name"),
    "links in a circle": (a_link_in_a_circle, "its links go in a circle"),
}


@pytest.mark.parametrize("trouble", TROUBLES)
async def test_what_cannot_be_saved_is_said_and_kept(
    trouble: str, study: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    happens, words = TROUBLES[trouble]
    async with on_screen(study, (80, 24), state=tmp_path / "state", calculator=Silent) as screen:
        await edited(screen, 7)
        with monkeypatch.context() as patch:
            happens(study, patch)
            await screen.press("f10")
            said = " ".join(screen.text.replace("│", " ").split())
            assert words in said or words in screen.app.desk.state.notice
        assert_kept(screen)
        # Another place takes it all the same.
        other = tmp_path / "other.toml"
        screen.app.desk.controllers.file._write_over(other, lambda: None)
        assert pallets_in(other) == 7


@pytest.mark.parametrize("fault", [errno.ENOSPC, errno.EIO, errno.EROFS])
@pytest.mark.long
async def test_a_fault_at_any_step_of_a_save_from_the_screen(
    fault: int, study: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with on_screen(study, (80, 24), state=tmp_path / "state", calculator=Silent) as screen:
        await edited(screen, 7)
        assert screen.app.study.recovery.flush()
        disk = Disk()
        with monkeypatch.context() as patch:
            disk.put_in(patch)
            steps = at = 0
            while at <= steps and pallets_in(study) == 4:
                disk.begin(at, fault)
                await screen.press("f10")
                steps = max(steps, len(disk.steps))
                at += 1
                assert pallets_in(study) in (4, 7)
                assert screen.session.draft.scenario("pool").entered[PALLETS] == 7
            disk.begin(None, None)
        assert at > 2
        await screen.press("f10")
        assert pallets_in(study) == 7
        assert stat.S_ISREG(study.stat().st_mode)
        assert [path.name for path in study.parent.iterdir()] == [study.name]


@pytest.mark.long
async def test_two_programs_on_one_study_never_write_over_each_other_unasked(
    study: Path, tmp_path: Path
) -> None:
    state = tmp_path / "state"
    async with on_screen(study, (80, 24), state=state, calculator=Silent) as one:
        # Of a process of its own the other one has another name for what it keeps.
        beside = tmp_path / "beside"
        async with on_screen(study, (80, 24), state=beside, calculator=Silent) as other:
            # Neither is offered what the other one has not saved yet: it is still at work.
            await edited(one, 7)
            assert one.app.study.recovery.flush()
            assert left_behind(study, state) == []
            await edited(other, 9)
            assert other.app.study.recovery.flush()
            await one.press("f10")
            assert pallets_in(study) == 7
            await other.press("f10")
            assert isinstance(other.app.screen, Ask)
            assert pallets_in(study) == 7
            await other.press("escape")
            assert other.session.draft.scenario("pool").entered[PALLETS] == 9
            await other.press("f10", "o")
            assert pallets_in(study) == 9
        one.app.desk.controllers.file.look()
        await one.settle()
        assert "changed by somebody else" in one.app.desk.state.notice
        await one.press("f")
        assert one.session.draft.scenario("pool").entered[PALLETS] == 9
        await one.press("u")
        assert one.session.draft.scenario("pool").entered[PALLETS] == 7
