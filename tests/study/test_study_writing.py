import errno
import os
import stat
from collections.abc import Callable
from pathlib import Path

import pytest
from refusals import refusing
from study_texts import VALVES, valves

from whatif.study.file.reading import StudyError, fingerprint, read_file
from whatif.study.file.writing import ChangedOnDisk, replace_text, to_text, write_file
from whatif.telling.refusals import refusal_words
from whatif.telling.study_file import saved_words

CHANGED = valves("machine.mill.faces = 2")


@pytest.fixture
def study(tmp_path: Path) -> Path:
    path = tmp_path / "valves.toml"
    path.write_text(VALVES)
    return path


def others(path: Path) -> list[str]:
    """What else is in the folder of a file."""
    return sorted(each.name for each in path.parent.iterdir() if each != path)


def failing(number: int) -> Callable[..., None]:
    """A system call that fails with an error of the system."""

    def fail(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    return fail


def test_a_new_file_is_made_readable_as_others_are(tmp_path: Path) -> None:
    path = tmp_path / "new.toml"
    written = write_file(CHANGED, path, None)
    assert path.read_text() == to_text(CHANGED)
    assert read_file(path).fingerprint == written.fingerprint
    (tmp_path / "usual").touch()
    assert path.stat().st_mode == (tmp_path / "usual").stat().st_mode
    assert written.copied_to is None


def test_a_file_is_replaced_and_can_be_saved_again(study: Path) -> None:
    first = write_file(CHANGED, study, read_file(study).fingerprint)
    second = write_file(valves(), study, first.fingerprint)
    assert study.read_text() == VALVES
    assert second.fingerprint == fingerprint(VALVES.encode())
    assert others(study) == []


def test_text_that_is_no_ascii_is_saved_as_utf8(study: Path) -> None:
    draft = valves('title = "Gehäuse ½"')
    write_file(draft, study, read_file(study).fingerprint)
    assert 'title = "Gehäuse ½"'.encode() in study.read_bytes()
    assert read_file(study).draft == draft


def test_permission_bits_are_kept(study: Path) -> None:
    study.chmod(0o640)
    write_file(CHANGED, study, read_file(study).fingerprint)
    assert stat.S_IMODE(study.stat().st_mode) == 0o640


def test_a_link_stays_a_link(study: Path, tmp_path: Path) -> None:
    (tmp_path / "links").mkdir()
    link, far = tmp_path / "links" / "link.toml", tmp_path / "links" / "far.toml"
    link.symlink_to("../valves.toml")
    far.symlink_to(link)
    write_file(CHANGED, far, read_file(far).fingerprint)
    assert link.is_symlink()
    assert far.is_symlink()
    assert study.read_text() == to_text(CHANGED)
    assert others(link) == ["far.toml"]


def test_a_link_to_a_file_that_is_not_there_makes_it(tmp_path: Path) -> None:
    link = tmp_path / "link.toml"
    link.symlink_to(tmp_path / "target.toml")
    write_file(CHANGED, link, None)
    assert link.is_symlink()
    assert (tmp_path / "target.toml").read_text() == to_text(CHANGED)


def test_a_file_that_somebody_changed_is_not_overwritten_unless_forced(study: Path) -> None:
    before = read_file(study).fingerprint
    study.write_text(VALVES + "# a colleague's\n")
    with refusing("changed by somebody else", ChangedOnDisk):
        write_file(CHANGED, study, before)
    assert study.read_text().endswith("colleague's\n")
    assert others(study) == []
    write_file(CHANGED, study, before, force=True)
    assert study.read_text() == to_text(CHANGED)


def test_a_file_that_was_never_read_is_not_overwritten_unless_forced(study: Path) -> None:
    with refusing("is there already", ChangedOnDisk):
        write_file(CHANGED, study, None)
    assert study.read_text() == VALVES
    write_file(CHANGED, study, None, force=True)
    assert study.read_text() == to_text(CHANGED)


def test_a_file_that_somebody_removed_is_made_again(study: Path) -> None:
    before = read_file(study).fingerprint
    study.unlink()
    write_file(CHANGED, study, before)
    assert study.read_text() == to_text(CHANGED)


def test_comments_that_saving_drops_are_kept_in_a_copy_and_it_is_said(study: Path) -> None:
    study.write_text("# top\n" + VALVES + "# below\n")
    study.chmod(0o604)
    original = study.read_bytes()
    read = read_file(study)
    written = write_file(read.draft, study, read.fingerprint)
    copy = study.with_name("valves.toml.with-comments")
    assert written.copied_to == copy
    assert copy.name in saved_words(study.name, written.copied_to)
    assert copy.read_bytes() == original
    assert stat.S_IMODE(copy.stat().st_mode) == 0o604
    assert study.read_text() == "# top\n" + VALVES
    assert write_file(CHANGED, study, written.fingerprint).copied_to == (
        study.with_name("valves.toml.with-comments.2")
    )


def test_the_comment_at_the_top_alone_needs_no_copy(study: Path) -> None:
    study.write_text("# top\n\n" + VALVES)
    read = read_file(study)
    faster = read.draft.with_head("weeks", 4)
    assert write_file(faster, study, read.fingerprint).copied_to is None
    assert study.read_text().startswith("# top\n\nformat = 1\n")
    assert others(study) == []


def test_copies_are_numbered_and_not_made_twice(study: Path) -> None:
    copy = study.with_name("valves.toml.with-comments")
    copy.write_text("somebody's own")
    commented = VALVES + "# below\n"
    study.write_text(commented)
    first = write_file(CHANGED, study, fingerprint(commented.encode()))
    assert first.copied_to == study.with_name("valves.toml.with-comments.2")
    study.write_text(commented)
    again = write_file(CHANGED, study, fingerprint(commented.encode()))
    assert again.copied_to == first.copied_to
    assert copy.read_text() == "somebody's own"
    assert len(others(study)) == 2


def test_a_file_that_says_the_same_already_is_left_alone(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "replace", failing(errno.EIO))
    written = write_file(valves(), study, read_file(study).fingerprint)
    assert written.fingerprint == fingerprint(VALVES.encode())


@pytest.mark.parametrize("call", ["replace", "fsync", "open"])
@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EACCES, "no permission to write"),
        (errno.EROFS, "cannot be written to"),
        (errno.EBUSY, os.strerror(errno.EBUSY)),
    ],
)
def test_a_failure_leaves_the_file_as_it_was_and_no_other(
    study: Path, monkeypatch: pytest.MonkeyPatch, call: str, number: int, words: str
) -> None:
    before = read_file(study).fingerprint
    with monkeypatch.context() as broken:
        broken.setattr(os, call, failing(number))
        with pytest.raises(StudyError) as caught:
            write_file(CHANGED, study, before)
    said = refusal_words(caught.value)
    assert said.startswith(str(study))
    assert words in said
    assert study.read_text() == VALVES
    assert others(study) == []


def test_a_failure_while_copying_comments_leaves_everything_as_it_was(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    study.write_text(VALVES + "# below\n")
    before = read_file(study).fingerprint
    with monkeypatch.context() as broken:
        broken.setattr(os, "fsync", failing(errno.ENOSPC))
        with refusing("the disk is full", StudyError):
            write_file(CHANGED, study, before)
    assert study.read_text() == VALVES + "# below\n"
    assert others(study) == []


def test_a_failure_after_copying_comments_takes_the_copy_away_again(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    study.write_text(VALVES + "# below\n")
    before = read_file(study).fingerprint
    with monkeypatch.context() as broken:
        broken.setattr(os, "replace", failing(errno.ENOSPC))
        with refusing("Nothing was changed", StudyError):
            write_file(CHANGED, study, before)
    assert others(study) == []
    kept = write_file(CHANGED, study, before).copied_to
    study.write_text(VALVES + "# below\n")
    with monkeypatch.context() as broken:
        broken.setattr(os, "replace", failing(errno.ENOSPC))
        with refusing("Nothing was changed", StudyError):
            write_file(valves(), study, before)
    assert kept is not None
    assert kept.exists()


def test_an_interruption_leaves_no_trace(study: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    before = read_file(study).fingerprint
    monkeypatch.setattr(os, "replace", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_file(CHANGED, study, before)
    assert study.read_text() == VALVES
    assert others(study) == []


def test_a_folder_that_cannot_be_settled_does_not_unsave_the_file(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settle = os.fsync
    before = read_file(study).fingerprint

    def only_files(descriptor: int) -> None:
        if stat.S_ISDIR(os.fstat(descriptor).st_mode):
            raise OSError(errno.EINVAL, "no folder")
        settle(descriptor)

    monkeypatch.setattr(os, "fsync", only_files)
    write_file(CHANGED, study, before)
    assert study.read_text() == to_text(CHANGED)


def test_the_file_is_on_the_disk_before_it_takes_the_place_and_the_folder_after(
    study: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    steps: list[str] = []
    settle, replace = os.fsync, os.replace

    def fsync(descriptor: int) -> None:
        steps.append("folder" if stat.S_ISDIR(os.fstat(descriptor).st_mode) else "file")
        settle(descriptor)

    def put(source: Path, target: Path) -> None:
        steps.append("replace")
        assert source.parent == target.parent
        assert source.read_text() == to_text(CHANGED)
        replace(source, target)

    before = read_file(study).fingerprint
    monkeypatch.setattr(os, "fsync", fsync)
    monkeypatch.setattr(os, "replace", put)
    write_file(CHANGED, study, before)
    assert steps == ["file", "replace", "folder"]


def test_what_cannot_be_saved_to_is_told_in_plain_words(
    study: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with refusing("is a folder", StudyError):
        write_file(CHANGED, tmp_path, None)
    with refusing("no such folder", StudyError):
        write_file(CHANGED, tmp_path / "none" / "valves.toml", None)
    with refusing("the name is too long", StudyError):
        write_file(CHANGED, tmp_path / ("v" * 300), None)
    os.mkfifo(tmp_path / "pipe")
    with refusing("no ordinary file", StudyError):
        write_file(CHANGED, tmp_path / "pipe", None, force=True)
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    with refusing("go in a circle", StudyError):
        write_file(CHANGED, tmp_path / "loop", None)
    monkeypatch.setattr(os, "access", lambda *_: False)
    with refusing("may only be read", StudyError):
        write_file(CHANGED, study, read_file(study).fingerprint)


def test_a_name_told_from_a_folder_that_has_been_removed_is_told_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    with refusing("there is no such folder", StudyError):
        write_file(CHANGED, "valves.toml", None)
    with refusing("there is no such folder", StudyError):
        replace_text("text", Path("valves.toml"), "")


def test_a_file_that_is_no_text_is_kept_when_it_is_replaced_by_force(study: Path) -> None:
    study.write_bytes(b"a = 1\n# Ger\xe4t\n")
    written = write_file(CHANGED, study, None, force=True)
    assert written.copied_to is not None
    assert written.copied_to.read_bytes() == b"a = 1\n# Ger\xe4t\n"
