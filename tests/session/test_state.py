"""Files opened lately: remembered newest first, and never in anybody's way."""

from __future__ import annotations

from pathlib import Path

import pytest

from whatif.session.kept import state
from whatif.session.kept.state import MOST, recent, remember, state_folder


@pytest.fixture
def files(tmp_path: Path) -> list[Path]:
    paths = [tmp_path / f"{number}.toml" for number in range(MOST + 2)]
    for path in paths:
        path.write_text("format = 1\n", "utf-8")
    return paths


def test_the_newest_stands_first_and_each_once(files: list[Path], tmp_path: Path) -> None:
    state = tmp_path / "state"
    assert recent(state) == ()
    for path in (*files[:3], files[0]):
        remember(path, state)
    assert recent(state) == (files[0], files[2], files[1])


def test_no_more_than_ten_are_kept(files: list[Path], tmp_path: Path) -> None:
    state = tmp_path / "state"
    for path in files:
        remember(path, state)
    assert recent(state) == tuple(reversed(files[-MOST:]))


def test_a_path_is_kept_whole(
    files: list[Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    remember(Path("0.toml"), tmp_path / "state")
    monkeypatch.chdir("/")
    assert recent(tmp_path / "state") == (files[0],)


def test_a_missing_file_is_not_offered_but_not_forgotten(files: list[Path], tmp_path: Path) -> None:
    state = tmp_path / "state"
    remember(files[0], state)
    files[0].unlink()
    assert recent(state) == ()
    remember(files[1], state)
    files[0].write_text("format = 1\n", "utf-8")
    assert recent(state) == (files[1], files[0])


def test_a_state_folder_that_cannot_be_made_does_no_harm(files: list[Path], tmp_path: Path) -> None:
    # A file where the folder should be: nobody can write there, not even the system's owner.
    blocked = tmp_path / "blocked"
    blocked.write_text("", "utf-8")
    remember(files[0], blocked / "state")
    assert recent(blocked / "state") == ()


@pytest.mark.parametrize("text", ["", "{", '{"a": 1}', '[1, null, ""]', "\x00"])
def test_a_list_that_makes_no_sense_is_begun_anew(
    text: str, files: list[Path], tmp_path: Path
) -> None:
    state = tmp_path / "state"
    state.mkdir()
    (state / "recent.json").write_text(text, "utf-8")
    assert recent(state) == ()
    remember(files[0], state)
    assert recent(state) == (files[0],)


# -- where it lies -------------------------------------------------------------------------


def test_the_folder_that_the_environment_names_is_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    assert state_folder() == tmp_path / "whatif"


def test_what_lay_in_the_home_folder_is_found_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("XDG_STATE_HOME", raising=False)
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("USERPROFILE", str(tmp_path))
    monkeypatch.setattr(state, "user_state_path", lambda name, appauthor: tmp_path / "own" / name)
    assert state_folder() == tmp_path / "own" / "whatif"
    before = tmp_path / ".local" / "state" / "whatif"
    before.mkdir(parents=True)
    assert state_folder() == before
