"""What keeps unsaved changes safe: said where it cannot, tried again, elsewhere."""

from __future__ import annotations

import errno
import os
import stat
import tempfile
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from failing_disk import Disk
from small_study import PALLETS, STUDY

from whatif.session.kept import places, recovery, state
from whatif.session.kept.left import all_left, left_behind
from whatif.session.kept.recovery import Recovery
from whatif.session.opened import begin_study, empty_study, open_file, take_up, unsaved_studies
from whatif.study.draft import Draft
from whatif.study.file.processes import host, this_process
from whatif.study.file.reading import read_file
from whatif.study.file.unfinished import clear_unfinished
from whatif.study.file.writing import write_file

GONE = 999999999
"""Of no process."""
FOLDERS = places.temporary_folders
"""As it is outside of tests, which are kept from the user's own."""


@pytest.fixture
def study(tmp_path: Path) -> Path:
    folder = tmp_path / "shop"
    folder.mkdir()
    file = folder / "small.toml"
    file.write_text(STUDY, "utf-8")
    return file


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "state"


def edited(study: Path, pallets: int) -> Draft:
    draft = read_file(study).draft
    return draft.with_scenario(draft.scenario("pool").having(PALLETS, pallets))


def pallets_in(draft: Draft) -> object:
    return draft.scenario("pool").entered[PALLETS]


def killed(kept: Recovery) -> None:
    """As if the session that kept it had been killed: its file is of a process that is gone."""
    name = kept.path.name.replace(this_process(), f"{GONE}-1")
    kept.path.rename(kept.path.with_name(name))


@pytest.fixture
def made(study: Path, folder: Path) -> Iterator[Callable[[], Recovery]]:
    """Makes a recovery whose thread never writes by itself, so that steps can be counted."""
    patch = pytest.MonkeyPatch()
    patch.setattr(threading.Thread, "start", lambda self: None)
    patch.setattr(threading.Thread, "join", lambda self, timeout=None: None)
    yield lambda: Recovery(study, "base", folder)
    patch.undo()


@pytest.mark.parametrize("fault", [errno.ENOSPC, errno.EIO])
def test_a_fault_at_any_step_is_said_and_the_next_change_is_kept(
    study: Path, folder: Path, made: Callable[[], Recovery], fault: int
) -> None:
    disk = Disk()
    with pytest.MonkeyPatch.context() as patch:
        disk.put_in(patch)
        first = made()
        first.note(edited(study, 5))
        first.flush()
        steps = list(disk.steps)
        assert {"open", "fsync", "replace"} <= set(steps)
        for at in range(steps.index("open"), len(steps)):
            kept, news = made(), []
            kept.on_news = lambda news=news: news.append(1)
            kept.note(edited(study, 6))
            disk.begin(at, fault, goes_on=True)
            is_kept = kept.flush()
            # Where all is in its place already there is nothing left to fail.
            assert is_kept == (kept.keeping.fault is None)
            if "replace" in disk.steps[:at]:
                assert is_kept
            else:
                assert not is_kept, steps[at]
                assert kept.keeping.fault.errno == fault
                assert news == [1]
            disk.begin(None, None)
            kept.note(edited(study, 7))
            assert kept.flush()
            assert kept.keeping.fault is None
            killed(kept)
            (left,) = left_behind(study, folder)
            assert pallets_in(left.draft) == 7
            left.path.unlink()


def test_what_could_not_be_kept_is_tried_again_by_itself(
    study: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(recovery, "AGAIN", 0.01)
    folder.write_text("in the way of the folder")
    monkeypatch.setattr(recovery, "places", lambda study, folder: (folder,))
    kept, told, safe = Recovery(study, "base", folder), threading.Event(), threading.Event()
    kept.on_news = lambda: (safe if kept.keeping.is_kept else told).set()
    kept.note(edited(study, 6))
    assert told.wait(20)
    assert kept.keeping.fault is not None
    folder.unlink()
    assert safe.wait(20)
    kept.close()
    killed(kept)
    assert [pallets_in(left.draft) for left in left_behind(study, folder)] == [6]


def test_another_folder_takes_it_where_the_first_cannot(study: Path, folder: Path) -> None:
    folder.write_text("in the way of the folder")
    kept = Recovery(study, "base", folder)
    kept.note(edited(study, 6))
    assert kept.flush()
    assert kept.keeping.instead_in == places.temporary_folders()[0]
    kept.close()
    killed(kept)
    (left,) = left_behind(study, folder)
    assert left.path.parent == places.temporary_folders()[0]
    assert all_left(folder) == [left]
    left.path.unlink()


def test_beside_the_study_where_neither_can_be_had(
    study: Path, folder: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    folder.write_text("in the way")
    blocked = tmp_path / "temporary"
    blocked.write_text("in the way")
    monkeypatch.setattr(places, "temporary_folders", lambda: (blocked,))
    kept = Recovery(study, "base", folder)
    kept.note(edited(study, 6))
    kept.close()
    assert kept.path.parent == study.parent
    killed(kept)
    assert [pallets_in(left.draft) for left in left_behind(study, folder)] == [6]


def test_a_temporary_folder_that_is_not_the_users_own_is_not_trusted(
    study: Path, folder: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    folder.write_text("in the way")
    open_to_all = tmp_path / "temporary"
    open_to_all.mkdir(mode=0o777)
    open_to_all.chmod(0o777)
    monkeypatch.setattr(places, "temporary_folders", lambda: (open_to_all,))
    kept = Recovery(study, "base", folder)
    kept.note(edited(study, 6))
    kept.close()
    assert not list(open_to_all.iterdir())
    assert kept.path.parent == study.parent
    killed(kept)
    planted = next(path for path in study.parent.iterdir() if path.name.endswith(".unsaved.toml"))
    planted.rename(open_to_all / planted.name)
    assert left_behind(study, folder) == [], "nor is what anybody may have put there"


def test_what_is_taken_up_goes_only_when_it_is_safe_again(
    study: Path, folder: Path, made: Callable[[], Recovery]
) -> None:
    old = made()
    old.note(edited(study, 6))
    assert old.flush()
    killed(old)
    (left,) = left_behind(study, folder)
    disk = Disk()
    with pytest.MonkeyPatch.context() as patch:
        disk.put_in(patch)
        new = made()
        disk.begin(0, errno.ENOSPC, goes_on=True)
        new.note(left.draft, instead_of=left.path)
        assert not new.flush()
        assert left.path.exists()
        disk.begin(None, None)
        new.note(edited(study, 7))
        assert new.flush()
    assert not left.path.exists()
    killed(new)
    assert [pallets_in(each.draft) for each in left_behind(study, folder)] == [7]


def test_a_study_without_a_name_that_is_taken_up_is_never_without_a_copy(folder: Path) -> None:
    begun = begin_study(empty_study(), None, folder, is_work=True)
    begun.recovery.note(begun.session.draft)
    begun.recovery.close()
    killed(begun.recovery)
    (left,) = all_left(folder)
    taken = take_up(left, folder)
    assert not left.path.exists()
    assert taken.recovery.path.exists()
    taken.recovery.close()


@pytest.mark.parametrize("name", ["n" * 240, "ü" * 120, "漢" * 75])
def test_a_long_name_is_kept_all_the_same(tmp_path: Path, folder: Path, name: str) -> None:
    study = tmp_path / f"{name}.toml"
    study.write_text(STUDY, "utf-8")
    kept = Recovery(study, "base", folder)
    kept.note(edited(study, 6))
    assert kept.flush()
    kept.close()
    assert kept.path.parent == folder
    killed(kept)
    assert len(left_behind(study, folder)) == 1


@pytest.mark.parametrize("content", [b"", b"\n", b"title = 'x'\n", b"# unsaved changes of \xff\n"])
def test_what_is_no_study_that_a_session_left_is_none(
    study: Path, folder: Path, content: bytes
) -> None:
    kept = Recovery(study, "base", folder)
    kept.note(edited(study, 6))
    kept.close()
    killed(kept)
    (left,) = left_behind(study, folder)
    left.path.write_bytes(content)
    assert left_behind(study, folder) == []


def test_a_copy_may_be_read_by_whoever_may_read_the_study(study: Path, folder: Path) -> None:
    study.chmod(0o640)
    kept = Recovery(study, "base", folder)
    kept.note(edited(study, 6))
    kept.close()
    assert stat.S_IMODE(kept.path.stat().st_mode) == 0o640
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_the_ends_of_lines_stay_what_they_are_in_the_study(study: Path, folder: Path) -> None:
    study.write_bytes(STUDY.replace("\n", "\r\n").encode())
    kept = Recovery(study, "base", folder)
    kept.note(edited(study, 6))
    kept.close()
    killed(kept)
    opened = open_file(study, folder)
    (left,) = opened.left
    opened.session.recover(left.draft, left.base)
    opened.session.save(force=True)
    opened.recovery.close()
    content = study.read_bytes()
    assert b"\r\n" in content
    assert b"\n" not in content.replace(b"\r\n", b"")


def test_a_save_that_a_kill_followed_leaves_nothing_to_offer(study: Path, folder: Path) -> None:
    opened = open_file(study, folder)
    opened.session.type("pool", PALLETS, "6")
    opened.session.keep()
    opened.recovery.note(opened.session.draft)
    opened.recovery.close()
    opened.session.save()
    killed(opened.recovery)
    assert unsaved_studies(folder) == []
    again = open_file(study, folder)
    assert again.left == []
    assert left_behind(study, folder) == []
    again.recovery.close()


def test_a_new_study_at_a_path_is_offered_at_once(tmp_path: Path, folder: Path) -> None:
    path = tmp_path / "new.toml"
    begun = begin_study(empty_study(), path, folder)
    begun.recovery.note(begun.session.draft.with_head("title", "Gate shop"))
    begun.recovery.close()
    killed(begun.recovery)
    (left,) = unsaved_studies(folder)
    assert left.study == path
    again = begin_study(empty_study(), path, folder)
    assert [each.draft.head["title"] for each in again.left] == ["Gate shop"]
    again.recovery.close()


# -- what a kill leaves half written -------------------------------------------------------


def half(folder: Path, process: str = f"{GONE}-1", machine: str = "") -> Path:
    path = folder / f".whatif-{machine or host()}-{process}-{'a' * 16}.tmp"
    path.write_text("half", "utf-8")
    return path


def test_what_a_kill_left_half_written_goes_with_the_next_save(study: Path) -> None:
    left, other = half(study.parent), study.parent / ".whatif-notes.tmp"
    other.write_text("mine", "utf-8")
    write_file(edited(study, 6), study, read_file(study).fingerprint)
    assert not left.exists()
    assert other.exists()


def test_only_what_is_provably_ours_and_old_goes(tmp_path: Path) -> None:
    living = half(tmp_path, this_process())
    elsewhere = half(tmp_path, machine="0" * 8)
    linked = tmp_path / f".whatif-{host()}-{GONE}-1-{'b' * 16}.tmp"
    target = tmp_path / "target"
    target.write_text("somebody's", "utf-8")
    linked.symlink_to(target)
    clear_unfinished(tmp_path)
    assert living.exists()
    assert elsewhere.exists()
    assert linked.is_symlink()
    assert target.exists()
    clear_unfinished(tmp_path / "no folder")


@pytest.mark.parametrize("has_comments", [False, True])
def test_a_kill_at_any_step_of_a_save_leaves_the_old_or_the_new(
    study: Path, has_comments: bool
) -> None:
    if has_comments:
        study.write_text(STUDY + "# a remark at the end\n", "utf-8")
    before, draft = study.read_bytes(), edited(study, 6)
    fingerprint = read_file(study).fingerprint
    at, ended = 0, -1
    while ended != 0:
        study.write_bytes(before)
        child = os.fork()
        if not child:
            disk = Disk()
            disk.put_in(pytest.MonkeyPatch())
            disk.begin(at, None)
            try:
                write_file(draft, study, fingerprint)
            finally:
                os._exit(0)
        ended = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        names = {path.name for path in study.parent.iterdir()}
        assert study.read_bytes() == before or read_file(study).draft == draft
        copies = [each for each in names if "with-comments" in each]
        assert all((study.parent / each).read_bytes() == before for each in copies)
        clear_unfinished(study.parent)
        assert not [each for each in os.listdir(study.parent) if each.endswith(".tmp")]
        at += 1
    assert at > 4, "each step was met"


def test_another_program_that_writes_while_the_disk_is_slow_is_noticed(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from whatif.study.file.writing import ChangedOnDisk

    real = os.fsync

    def slow(descriptor: int) -> None:
        real(descriptor)
        if not study.read_text("utf-8").endswith("# theirs\n"):
            study.write_text(STUDY + "# theirs\n", "utf-8")

    read = read_file(study)
    monkeypatch.setattr(os, "fsync", slow)
    with pytest.raises(ChangedOnDisk):
        write_file(edited(study, 6), study, read.fingerprint)
    assert study.read_text("utf-8") == STUDY + "# theirs\n"


def test_a_rename_that_is_done_and_told_to_have_failed_is_a_save(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.replace

    def done_and_failed(*args: str) -> None:
        real(*args)
        raise OSError(errno.EIO, "told by a drive of the network")

    read = read_file(study)
    monkeypatch.setattr(os, "replace", done_and_failed)
    written = write_file(edited(study, 6), study, read.fingerprint)
    assert read_file(study).fingerprint == written.fingerprint


def test_other_names_of_the_file_are_told(study: Path) -> None:
    os.link(study, study.with_name("other.toml"))
    written = write_file(edited(study, 6), study, read_file(study).fingerprint)
    assert written.has_other_names


# -- where a user's state is ---------------------------------------------------------------


def test_a_state_folder_that_is_not_told_from_the_root_on_is_ignored(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_STATE_HOME", "here")
    assert state.state_folder() == tmp_path / ".local/state/whatif"


def test_without_a_home_the_temporary_folder_is_the_first(
    monkeypatch: pytest.MonkeyPatch, study: Path
) -> None:
    def none() -> Path:
        raise RuntimeError("no home")

    monkeypatch.delenv("XDG_STATE_HOME", raising=False)
    monkeypatch.setattr(Path, "home", none)
    assert places.places(study)[0] == places.temporary_folders()[0]


def test_where_the_disk_is_full_there_are_still_folders_to_be_tried(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The standard library tries each by writing, and knows none then."""

    def none() -> str:
        raise FileNotFoundError(errno.ENOENT, "No usable temporary directory found")

    monkeypatch.setattr(tempfile, "gettempdir", none)
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    first, *others = FOLDERS()
    assert first.parent == tmp_path
    assert others, "and the usual ones"


def test_what_is_kept_is_found_whatever_temporary_folder_is_named_then(
    monkeypatch: pytest.MonkeyPatch, study: Path, folder: Path, tmp_path: Path
) -> None:
    monkeypatch.setattr(places, "temporary_folders", FOLDERS)
    monkeypatch.setattr(places, "_USUAL_TEMPORARY", (str(study.parent),))
    for name in ("TMPDIR", "TEMP", "TMP"):
        monkeypatch.delenv(name, raising=False)
    folder.write_text("in the way of the folder")
    kept = Recovery(study, "base", folder)
    kept.note(edited(study, 6))
    kept.close()
    killed(kept)
    monkeypatch.setenv("TMPDIR", str(tmp_path / "another"))
    assert [pallets_in(left.draft) for left in left_behind(study, folder)] == [6]


def test_changes_are_kept_once_the_folder_has_been_removed(
    monkeypatch: pytest.MonkeyPatch, study: Path, folder: Path
) -> None:
    monkeypatch.chdir(study.parent)
    named = Path(study.name)
    kept, draft = Recovery(named, "base", folder), edited(named, 6)
    study.unlink()
    study.parent.rmdir()
    kept.note(draft)
    assert kept.flush()
    kept.close()
    killed(kept)
    assert [(pallets_in(left.draft), left.study) for left in all_left(folder)] == [(6, study)]
