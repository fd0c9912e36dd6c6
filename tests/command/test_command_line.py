"""What all commands have in common: help, exit statuses, where what is wrong is told."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest
from answer_studies import TODAY

from whatif.command.commands import COMMANDS
from whatif.command.main import main

Streams = pytest.CaptureFixture[str]


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_tells_its_arguments_and_forms(name: str, capsys: Streams) -> None:
    with pytest.raises(SystemExit, match="0"):
        main([name, "--help"])
    out, err = capsys.readouterr()
    assert err == ""
    assert "STUDY" in out
    assert f"--format {{{','.join(COMMANDS[name].forms)}}}" in out


def test_the_list_of_commands_keeps_to_80_columns(capsys: Streams) -> None:
    with pytest.raises(SystemExit, match="0"):
        main(["--help"])
    listed = capsys.readouterr().out.partition("\nwhatif  ")[2].splitlines()
    assert max(map(len, listed)) <= 80
    for name, command in COMMANDS.items():
        for usage, does in command.usages:
            at = next(
                i for i, line in enumerate(listed) if line.startswith(f"whatif {name} {usage}")
            )
            assert does in " ".join(listed[at : at + 2])


def test_the_version_says_which_cell_runs(capsys: Streams, monkeypatch: pytest.MonkeyPatch) -> None:
    for is_compiled, kind in ((True, "compiled"), (False, "plain")):
        monkeypatch.setattr("whatif.cell.is_compiled", lambda found=is_compiled: found)
        assert main(["--version"]) == 0
        assert re.fullmatch(
            rf"whatif(, not installed| [\d.]+), {kind} cell\n", capsys.readouterr().out
        )


def test_a_command_that_is_none(capsys: Streams) -> None:
    with pytest.raises(SystemExit, match="2"):
        main(["chek", "study.toml"])
    out, err = capsys.readouterr()
    assert out == ""
    assert "there is no command chek. Did you mean check?" in err


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_an_answer_that_cannot_be_written(
    tmp_path: Path, capsys: Streams, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "study.toml"
    path.write_text(TODAY, "utf-8")
    with open("/dev/full", "w", encoding="utf-8") as full:
        monkeypatch.setattr(sys, "stdout", full)
        assert main(["check", str(path)]) == 1
    assert "the answer could not be written: No space left" in capsys.readouterr().err


def test_help_tells_the_exit_statuses(capsys: Streams) -> None:
    with pytest.raises(SystemExit, match="0"):
        main(["--help"])
    told = capsys.readouterr().out
    assert "exit status: 0 answered; 1 no answer" in told
    assert "130 after Ctrl-C" in told
