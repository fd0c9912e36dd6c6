"""``whatif afterwards``: the readings beside the study, a date of its own, and what is lacking."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from schemas import formed
from small_study import ONE_SHIFT

from whatif.command.main import main
from whatif.study.check.check import check
from whatif.study.file.reading import read_text
from whatif.study.schema.kinds import Date
from whatif.study.schema.kinds.kind import KindError

Streams = pytest.CaptureFixture[str]

READINGS = (
    "date,machine,switched on,in cut\n"
    "2025-03-03,mill,0,0\n2025-03-10,mill,10,3\n2025-03-17,mill,20,4\n"
)


@pytest.fixture
def path(tmp_path: Path) -> str:
    file = tmp_path / "shop.toml"
    file.write_text(f'{ONE_SHIFT}done_on = "2025-03-01"\n', "utf-8")
    (tmp_path / "shop.readings.csv").write_text(READINGS, "utf-8")
    return str(file)


def test_readings_beside_the_study_are_held_against_it(path: str, capsys: Streams) -> None:
    assert main(["afterwards", path, "today", "--zone", "UTC"]) == 0
    told = capsys.readouterr().out
    assert "2025-03-10" in told
    assert "The largest difference: in the week of" in told
    assert main(["afterwards", path, "today", "--zone", "UTC", "--format", "json"]) == 0
    found = formed("afterwards", json.loads(capsys.readouterr().out))
    assert [week["in_cut"] for week in found["weeks"]] == [3, 1]
    assert found["foretold"]["in_cut_hours"] > 0


def test_a_date_of_its_own(path: str, capsys: Streams) -> None:
    words = ["afterwards", path, "today", "--zone", "UTC", "--format", "json", "--done"]
    assert main([*words, "4.3.2025"]) == 0
    assert len(formed("afterwards", json.loads(capsys.readouterr().out))["weeks"]) == 1
    assert main([*words, "2025-03-12"]) == 1
    assert "No whole week" in capsys.readouterr().err
    with pytest.raises(SystemExit):
        main([*words, "soon"])


def test_what_is_lacking_is_told(path: str, capsys: Streams) -> None:
    Path(path).write_text(ONE_SHIFT, "utf-8")
    assert main(["afterwards", path, "today"]) == 1
    assert "enter done_on" in capsys.readouterr().err
    Path(path).with_name("shop.readings.csv").unlink()
    assert main(["afterwards", path, "today", "--done", "2025-03-01"]) == 1
    assert "shop.readings.csv: there is no such file" in capsys.readouterr().err


def test_the_date_is_of_one_scenario_and_no_input() -> None:
    text = f'{ONE_SHIFT}done_on = 2025-03-01\n[scenario.next]\nparent = "today"\n'
    checked = check(read_text(text))
    assert not checked.problems
    assert checked.resolved["today"].value("done_on").isoformat() == "2025-03-01"
    assert checked.resolved["next"].value("done_on") is None


@pytest.mark.parametrize("raw", ["2025-02-30", "1/2/2025", "soon", 3, "2025-W01-1"])
def test_what_is_no_date(raw: str | int) -> None:
    with pytest.raises(KindError):
        Date().read(raw)
