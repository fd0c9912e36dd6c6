"""Results kept between programs: found again, and of no consequence where they cannot be."""

from __future__ import annotations

import os
import sqlite3
import stat
from pathlib import Path
from typing import Any

import pytest

from whatif.session.kept import results
from whatif.session.kept.results import SWITCH, KeptResults, cache_folder

FILE = "results.db"
ONE, TWO = b"one", b"two"


@pytest.fixture(autouse=True)
def switched_on(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(SWITCH)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return tmp_path / "cache"


def at(monkeypatch: pytest.MonkeyPatch, day: int) -> None:
    monkeypatch.setattr(results.time, "time", lambda: day * 86400.0)


def test_the_next_program_finds_what_one_has_kept(folder: Path) -> None:
    KeptResults(folder).keep({ONE: [1, [2, None]], TWO: {"4": 5}})
    other = KeptResults(folder)
    assert other.find(ONE) == [1, [2, None]]
    assert other.find(TWO) == {"4": 5}
    assert other.find(b"three") is None


def test_two_programs_at_once(folder: Path) -> None:
    here, there = KeptResults(folder), KeptResults(folder)
    for number in range(10):
        here.keep({b"%d here" % number: number})
        there.keep({b"%d there" % number: number, ONE: number})
    assert [here.find(b"%d there" % number) for number in range(10)] == [*range(10)]
    assert [there.find(b"%d here" % number) for number in range(10)] == [*range(10)]
    assert here.find(ONE) == 9


def test_what_two_know_of_one_question_is_added_up(folder: Path) -> None:
    here, there = KeptResults(folder), KeptResults(folder)
    assert here.find(ONE) is None
    there.keep({ONE: {"1": "one", "2": "two"}})
    here.keep({ONE: {"3": "three"}})
    assert there.find(ONE) == {"1": "one", "2": "two", "3": "three"}


def test_while_another_program_writes_nothing_is_kept(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(results, "_PATIENCE", 0.0)
    kept = KeptResults(folder)
    kept.keep({ONE: 1})
    other = sqlite3.connect(folder / FILE, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    kept.keep({TWO: 2})
    assert (kept.find(ONE), kept.find(TWO)) == (1, None)
    other.execute("ROLLBACK")
    other.close()
    kept.keep({TWO: 2})
    assert kept.find(TWO) == 2


def test_nobody_else_may_read_it(folder: Path) -> None:
    KeptResults(folder).keep({ONE: 1})
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert stat.S_IMODE((folder / FILE).stat().st_mode) == 0o600


@pytest.mark.parametrize("of", ["folder", "file"])
def test_what_others_may_write_is_not_read(folder: Path, of: str) -> None:
    KeptResults(folder).keep({ONE: 1})
    (folder if of == "folder" else folder / FILE).chmod(0o770)
    assert KeptResults(folder).find(ONE) is None


def test_a_link_is_not_followed(folder: Path, tmp_path: Path) -> None:
    KeptResults(folder).keep({ONE: 1})
    other = tmp_path / "other"
    other.mkdir(mode=0o700)
    (other / FILE).symlink_to(folder / FILE)
    assert KeptResults(other).find(ONE) is None


@pytest.mark.parametrize("content", [b"nothing of ours, and long enough" * 40, b"torn"])
def test_a_foreign_file_is_passed_over_and_made_anew(folder: Path, content: bytes) -> None:
    folder.mkdir(mode=0o700)
    (folder / FILE).write_bytes(content)
    (folder / FILE).chmod(0o600)
    first = KeptResults(folder)
    assert first.find(ONE) is None
    first.keep({ONE: 1})
    second = KeptResults(folder)
    second.keep({ONE: 1})
    assert second.find(ONE) == 1


def test_a_torn_file_does_no_harm(folder: Path) -> None:
    KeptResults(folder).keep({b"%d" % number: "text" * 500 for number in range(200)})
    whole = (folder / FILE).read_bytes()
    for until in (0, 50, 100, 3000, 5000, len(whole) // 2, len(whole) - 100):
        (folder / FILE).write_bytes(whole[:until])
        kept = KeptResults(folder)
        for number in range(200):
            assert kept.find(b"%d" % number) in (None, "text" * 500)
        kept.keep({ONE: 1})


@pytest.mark.parametrize("result", [b"none", b"", b"x\x9c\x03\x00\x00\x00\x00\x01"])
def test_a_result_that_cannot_be_read_is_none(folder: Path, result: bytes) -> None:
    kept = KeptResults(folder)
    kept.keep({ONE: 1, TWO: 2})
    other = sqlite3.connect(folder / FILE)
    other.execute("UPDATE kept SET result = ? WHERE question = ?", (result, ONE))
    other.commit()
    other.close()
    assert (kept.find(ONE), kept.find(TWO)) == (None, 2)
    kept.keep({ONE: {"1": 1}})
    assert kept.find(ONE) == {"1": 1}


def test_without_a_folder_nothing_is_kept(folder: Path) -> None:
    folder.write_text("no folder", "utf-8")
    kept = KeptResults(folder)
    kept.keep({ONE: 1})
    assert kept.find(ONE) is None
    assert folder.read_text("utf-8") == "no folder"


def test_a_full_disk_keeps_nothing_more(folder: Path) -> None:
    kept = KeptResults(folder)
    kept.keep({ONE: 1})
    file: Any = kept._file
    file.execute("PRAGMA max_page_count = 3")
    kept.keep({b"%d" % number: os.urandom(2000).hex() for number in range(20)})
    assert (kept.find(ONE), kept.find(b"0")) == (1, None)
    assert KeptResults(folder).find(ONE) == 1


def test_a_result_that_nobody_asks_for_is_dropped(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at(monkeypatch, 100)
    KeptResults(folder, most_days=10).keep({ONE: 1, TWO: 2})
    at(monkeypatch, 108)
    kept = KeptResults(folder, most_days=10)
    assert kept.find(TWO) == 2
    kept.keep({})  # that it was asked for is written too
    at(monkeypatch, 111)
    kept = KeptResults(folder, most_days=10)
    kept.keep({b"three": 3})
    assert (kept.find(ONE), kept.find(TWO), kept.find(b"three")) == (None, 2, 3)


def test_the_oldest_give_way_where_there_are_too_many(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for day in range(100, 180):
        at(monkeypatch, day)
        kept = KeptResults(folder, most_bytes=200_000, most_days=1000)
        kept.keep({b"%d" % day: os.urandom(4000).hex()})
    assert (folder / FILE).stat().st_size < 250_000
    assert kept.find(b"100") is None
    assert all(kept.find(b"%d" % day) is not None for day in range(165, 180))


def test_it_can_be_switched_off(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    KeptResults(folder).keep({ONE: 1})
    monkeypatch.setenv(SWITCH, "no")
    kept = KeptResults(folder)
    kept.keep({TWO: 2})
    assert kept.find(ONE) is None
    monkeypatch.delenv(SWITCH)
    assert (kept.find(ONE), kept.find(TWO)) == (1, None)


def test_it_lies_in_the_users_cache_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert cache_folder() == tmp_path / "whatif"
    KeptResults().keep({ONE: 1})
    assert (tmp_path / "whatif" / FILE).exists()
    monkeypatch.delenv("XDG_CACHE_HOME")
    assert cache_folder().name == "whatif"
