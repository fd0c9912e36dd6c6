"""``whatif readings``: what was understood, in every form, and entering it in a scenario."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from reading_documents import DAY, TABLE
from schemas import formed
from small_study import STUDY

from whatif.command.main import main
from whatif.study.file.reading import read_draft

Streams = pytest.CaptureFixture[str]

ENTERED = ['switched_on = "260.0 h"', 'in_cut = "130.0 h"', "weeks = 2.0"]


@pytest.fixture
def files(tmp_path: Path) -> dict[str, str]:
    texts = {"day.xml": DAY, "table.csv": TABLE, "study.toml": STUDY}
    for name, text in texts.items():
        (tmp_path / name).write_text(text, "utf-8")
    return {name.partition(".")[0]: str(tmp_path / name) for name in texts}


def test_a_bar_a_day_and_the_machines_apart(files: dict[str, str], capsys: Streams) -> None:
    assert main(["readings", files["day"], "--zone", "UTC"]) == 0
    told = capsys.readouterr().out
    assert "Mon 2025-03-03  ███░░?  " in told
    assert "mill-1\n" in told
    assert "mill-2\n" in told
    assert "Of 1.5 h nobody knows: 1.5 h are UNAVAILABLE" in told
    assert "hour_meters" in told


def test_every_form(files: dict[str, str], capsys: Streams) -> None:
    for form in ("markdown", "csv"):
        assert main(["readings", files["table"], "--zone", "UTC", "--format", form]) == 0
        assert "mill 2" in capsys.readouterr().out
    assert main(["readings", files["table"], "--zone", "UTC", "--format", "json"]) == 0
    found = formed("readings", json.loads(capsys.readouterr().out))
    assert found["in_all"]["switched_on"] == 260
    assert found["in_all"]["begin"] == "2025-03-03T00:00:00Z"
    assert found["to_enter"] == ["[scenario.SCENARIO.hour_meters]", *ENTERED]


def test_entering_them_saves_the_study(files: dict[str, str], capsys: Streams) -> None:
    words = ["readings", files["table"], "--enter", files["study"], "Pool"]
    assert main(words) == 0
    assert "Entered in Pool" in capsys.readouterr().out
    entered = read_draft(files["study"]).scenario("pool").entered
    assert entered["hour_meters", "switched_on"] == "260.0 h"
    assert main(["check", files["study"]]) == 0
    capsys.readouterr()
    assert main([*words[:-1], "nowhere"]) == 1
    assert "There is no scenario nowhere" in capsys.readouterr().err


def test_one_machine_alone(files: dict[str, str], capsys: Streams) -> None:
    assert main(["readings", files["table"], "--machine", "MILL 2", "--format", "json"]) == 0
    assert list(formed("readings", json.loads(capsys.readouterr().out))["machines"]) == ["mill 2"]


def test_what_is_wrong_is_told(files: dict[str, str], capsys: Streams) -> None:
    folder = Path(files["day"]).parent
    bad = folder / "bad.csv"
    bad.write_text("date,machine,switched on,in cut\n1/2/25,a,b,1\n", "utf-8")
    assert main(["readings", str(bad)]) == 1
    assert capsys.readouterr().err.count("line 2") == 2
    assert main(["readings", "ftp://shop/a"]) == 1
    assert "http or https" in capsys.readouterr().err
    with pytest.raises(SystemExit):
        main(["readings", files["day"], "--zone", "Nowhere/Atall"])
    shutil.copy(files["study"], folder / "same.toml")
    assert main(["readings", files["study"]]) == 1  # no table, no document
    assert "lacks" in capsys.readouterr().err
