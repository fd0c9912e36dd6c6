"""Printed answers come again only where nothing that they hang on has changed."""

from __future__ import annotations

import os
from copy import copy
from pathlib import Path

import pytest
from small_study import ONE_SHIFT

from whatif.command import commands
from whatif.command.main import main
from whatif.session.kept import answers
from whatif.session.kept.answers import KeptAnswer
from whatif.session.kept.results import SWITCH, KeptResults

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.delenv(SWITCH)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    path = tmp_path / "study.toml"
    path.write_text(ONE_SHIFT, "utf-8")
    return path


def asked(file: Path, words: object = "compare") -> KeptAnswer:
    return KeptAnswer(str(file), words)


def test_an_answer_comes_again(file: Path) -> None:
    assert asked(file).told() is None
    asked(file).keep("80 h\nä")
    assert asked(file).told() == "80 h\nä"


def test_other_words_are_another_question(file: Path) -> None:
    asked(file).keep("80 h")
    assert asked(file, "night").told() is None


def test_another_content_is_another_question(file: Path) -> None:
    asked(file).keep("80 h")
    found = file.stat()
    file.write_text(ONE_SHIFT.replace("weekly = 10", "weekly = 11"), "utf-8")
    os.utime(file, ns=(found.st_atime_ns, found.st_mtime_ns))
    assert asked(file).told() is None
    file.write_text(ONE_SHIFT, "utf-8")
    assert asked(file).told() == "80 h"


def test_other_code_or_packages_are_another_question(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked(file).keep("80 h")
    with monkeypatch.context() as other:
        other.setattr(answers, "code_of", lambda *rooms: b"other code")
        assert asked(file).told() is None
    with monkeypatch.context() as other:
        other.setattr(answers, "_made_with", lambda: ("another Python",))
        assert asked(file).told() is None
    assert asked(file).told() == "80 h"


def test_nothing_is_kept_of_a_file_that_was_written_meanwhile(file: Path) -> None:
    answer = asked(file)
    file.write_text(ONE_SHIFT.replace("weekly = 10", "weekly = 11"), "utf-8")
    file.write_text(ONE_SHIFT, "utf-8")
    os.utime(file, (1, 1))  # however coarse the clock of the disk is
    answer.keep("80 h")
    assert asked(file).told() is None


def test_nothing_is_kept_that_is_very_long(file: Path) -> None:
    asked(file).keep("8" * (answers._LONGEST + 1))
    assert asked(file).told() is None


def test_a_pipe_is_not_read(tmp_path: Path, file: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)  # whoever opened it would wait for ever
    assert asked(pipe).told() is None
    asked(pipe).keep("80 h")
    assert asked(tmp_path / "nowhere").told() is None


def test_what_is_kept_but_is_no_text_is_passed_over(file: Path, tmp_path: Path) -> None:
    question = asked(file)._question
    assert question is not None
    KeptResults(tmp_path / "cache" / "whatif").keep({question: 3})
    assert asked(file).told() is None


@pytest.mark.parametrize(
    "words",
    [["compare"], ["explain", "today"], ["week", "today"], ["night"]],
    ids=lambda words: words[0],
)
def test_a_command_tells_again_what_it_told(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture, words: list[str]
) -> None:
    line = [words[0], str(file), *words[1:], "--format", "json"]
    assert main(line) == 0
    told = capsys.readouterr().out

    def answer(*_: object) -> None:
        raise AssertionError("it is worked out anew")

    command = commands.COMMANDS[words[0]]
    unable = copy(command)
    unable.answer = answer
    others = {**commands.COMMANDS, words[0]: unable}
    monkeypatch.setattr("whatif.command.main.COMMANDS", others)
    assert main(line) == 0
    assert capsys.readouterr().out == told
    with pytest.raises(AssertionError, match="anew"):
        main(line[:-2])


def test_what_is_wrong_is_found_anew(file: Path, capsys: Capture) -> None:
    file.write_text(ONE_SHIFT.replace("30 min", "30 mm"), "utf-8")
    for _ in range(2):
        assert main(["compare", str(file)]) == 1
        out, err = capsys.readouterr()
        assert out == ""
        assert "30 mm" in err
