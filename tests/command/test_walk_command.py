"""``whatif walk``: the sheet, filled in and given back, typed tallies, and what is wrong."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from schemas import formed
from small_study import ONE_SHIFT

from whatif.answers.states import ROWS
from whatif.command.main import main
from whatif.telling.walk import UnknownState, read_tallies, typed_tallies, walk_states

Streams = pytest.CaptureFixture[str]


@pytest.fixture
def path(tmp_path: Path) -> str:
    file = tmp_path / "study.toml"
    file.write_text(ONE_SHIFT, "utf-8")
    return str(file)


def test_the_sheet_tells_moments_machines_and_letters(path: str, capsys: Streams) -> None:
    assert main(["walk", path, "today", "--tours", "5", "--seed", "3"]) == 0
    told = capsys.readouterr().out
    assert "seed 3" in told
    assert told.count("___") == 5
    assert all(f"\n{letter} {words}: " in told for letter, words, _ in walk_states())


def test_a_sheet_is_filled_in_and_given_back(path: str, capsys: Streams) -> None:
    assert main(["walk", path, "today", "--tours", "50", "--format", "csv"]) == 0
    rows = list(csv.reader(io.StringIO(capsys.readouterr().out)))
    assert (rows[0], len(rows)) == (["when", "machine", "state"], 51)
    for number, row in enumerate(rows[1:31]):
        row[2] = "#" if number < 20 else "w"
    filled = Path(path).with_name("filled.csv")
    filled.write_text("\n".join(",".join(row) for row in rows), "utf-8")
    words = ["walk", path, "today", "--tally", str(filled), "--seen", "stopped 10"]
    assert main([*words, "--format", "json"]) == 0
    found = formed("walk", json.loads(capsys.readouterr().out))
    assert found["observations"] == 40
    assert found["states"]["in_cycle"]["percent"] == 50
    assert main(words) == 0
    assert "more observations are needed" in capsys.readouterr().out


def test_every_letter_and_word_names_its_state() -> None:
    for row in ROWS:
        for word in (row.letter, row.name, row.label, row.in_bar.upper()):
            assert typed_tallies(f"{word} 3, o 2") == {row.name: 3, "other": 2}
    assert read_tallies("state;count\nload;4\nl;1\n") == {"load": 5}
    for text in ("load", "nonsense 4", "4"):
        with pytest.raises(UnknownState):
            typed_tallies(text)


def test_what_is_wrong_is_told(path: str, capsys: Streams) -> None:
    assert main(["walk", path, "today", "--seen", "nap 3"]) == 1
    assert '"nap" is no state' in capsys.readouterr().err
    bad = Path(path).with_name("bad.csv")
    bad.write_text("when,machine,state\nMon,mill,#\nMon,mill,zz\n", "utf-8")
    assert main(["walk", path, "today", "--tally", str(bad)]) == 1
    assert "line 3" in capsys.readouterr().err
    bad.write_text("when,machine,state\nMon,mill,\n", "utf-8")
    assert main(["walk", path, "today", "--tally", str(bad)]) == 1
    assert "nothing has been seen" in capsys.readouterr().err
    for option in (["--within", "0"], ["--confidence", "100"], ["--tours", "0"]):
        with pytest.raises(SystemExit):
            main(["walk", path, "today", *option])
