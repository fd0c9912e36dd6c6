"""A study from standard input or a pipe: read once, and called by its name."""

from __future__ import annotations

import io
import os
import threading
from pathlib import Path

import pytest
from lengths import first_of
from small_study import ONE_SHIFT as UNTITLED

from whatif.command.main import main
from whatif.session.kept.results import SWITCH

ONE_SHIFT = UNTITLED.replace("format = 1", 'format = 1\ntitle = "One shift"')

Streams = pytest.CaptureFixture[str]


class Given:
    """Standard input as a pipe gives it: what has been read is gone."""

    def __init__(self, text: str) -> None:
        self.buffer = io.BytesIO(text.encode())


def given(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setattr("sys.stdin", Given(text))


LINES = [
    ["compare"],
    ["check"],
    ["vary", "today", "part.body.cycle", "10 min..12 min..1 min"],
    ["explain", "today"],
    ["week", "today"],
    ["night"],
    ["walk", "today"],
    ["report", "--quick"],
    ["breakeven", "today", "part.body.cycle", "--target", "hours 20"],
    ["search", "--most", "1"],
    ["sensitivity", "today"],
]


@pytest.mark.parametrize("words", first_of(LINES, len(LINES) - 3), ids=lambda words: words[0])
@pytest.mark.long
def test_every_command_that_reads_a_study_takes_it_from_standard_input(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Streams, words: list[str]
) -> None:
    name, *rest = words
    file = tmp_path / "standard input"
    file.write_text(ONE_SHIFT, "utf-8")
    status = main([name, str(file), *rest])
    out, err = capsys.readouterr()
    given(monkeypatch, ONE_SHIFT)
    assert main([name, "-", *rest]) == status
    said = capsys.readouterr()
    if name == "report":  # it tells how to repeat it
        said_of = (
            ("whatif report 'standard input'", "whatif report -"),
            (", of standard input", ""),
            ("the same file", "the same text, which no file had, on standard input"),
        )
        for of_file, of_input in said_of:
            out = out.replace(of_file, of_input)
    assert said.out.split() == out.replace(str(file), file.name).split()
    assert said.err == err.replace(str(file), file.name)


def test_a_preview_takes_it_and_what_is_entered_wants_a_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Streams
) -> None:
    table = tmp_path / "parts.csv"
    table.write_text("Part;Cycle [min];Setup [min];Lot;per week\na;9;30;10;20\n", "utf-8")
    into = ["parts", str(table), "--into", "-", "today"]
    given(monkeypatch, ONE_SHIFT)
    assert main(into) == 0
    assert "Nothing is changed yet." in capsys.readouterr().out
    for words in ([*into, "--enter"], ["readings", str(table), "--enter", "-", "today"]):
        with pytest.raises(SystemExit, match="2"):
            main(words)
        assert "standard input" in capsys.readouterr().err


def test_what_is_wrong_with_it_is_told_of_standard_input(
    monkeypatch: pytest.MonkeyPatch, capsys: Streams
) -> None:
    given(monkeypatch, "no toml")
    assert main(["check", "-"]) == 1
    assert "standard input" in capsys.readouterr().err


def test_an_answer_is_kept_by_its_content(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Streams
) -> None:
    monkeypatch.delenv(SWITCH)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    given(monkeypatch, ONE_SHIFT)
    assert main(["week", "-", "today"]) == 0
    told = capsys.readouterr().out

    def answer(*_: object) -> None:
        raise AssertionError("it is worked out anew")

    monkeypatch.setattr("whatif.command.showing.show_week", answer)
    given(monkeypatch, ONE_SHIFT)
    assert main(["week", "-", "today"]) == 0
    assert capsys.readouterr().out == told
    given(monkeypatch, ONE_SHIFT.replace("weekly = 10", "weekly = 11"))
    with pytest.raises(AssertionError, match="anew"):
        main(["week", "-", "today"])


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no pipes with names here")
def test_a_pipe_with_a_name_is_read_once(tmp_path: Path, capsys: Streams) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    writes = threading.Thread(target=pipe.write_text, args=(ONE_SHIFT, "utf-8"), daemon=True)
    writes.start()
    assert main(["report", str(pipe), "--quick"]) == 0
    assert "pipe" in capsys.readouterr().out


def test_the_screen_and_readings_beside_it_want_a_file(
    monkeypatch: pytest.MonkeyPatch, capsys: Streams
) -> None:
    for words in (["-"], ["afterwards", "-", "today", "--done", "2025-03-31"]):
        given(monkeypatch, ONE_SHIFT)
        with pytest.raises(SystemExit, match="2"):
            main(words)
        assert "standard input" in capsys.readouterr().err
