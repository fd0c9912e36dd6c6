"""``whatif night`` from the command line, in every form."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from night_studies import HEAD, SHIFT, study
from schemas import formed

from whatif.command.main import main
from whatif.telling.cautions import BEGUN_ALONE, FIRE

Streams = pytest.CaptureFixture[str]


def written(folder: Path, text: str) -> str:
    path = folder / "study.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


CHILD = '[scenario.held]\nparent = "today"\nunattended.after_shift = "2 h"\n'


def test_night_in_json(tmp_path: Path, capsys: Streams) -> None:
    path = written(tmp_path, study("warm_up = 1") + CHILD)
    assert main(["night", path, "--format", "json"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    found = formed("night", json.loads(out))
    assert (found["format"], found["title"]) == (1, "Nights")
    assert list(found["scenarios"]) == ["today", "held"]
    one = found["scenarios"]["today"]
    assert set(one) == {"title", "nights", "cautions"}
    assert one["cautions"] == [FIRE, BEGUN_ALONE]
    assert set(one["nights"]) == {
        "weeks",
        "runs",
        "begun_after_shift_hours",
        "by_weekday",
        "alike",
        "fewest_pallets",
    }
    first = one["nights"]["by_weekday"][0]
    assert first["spindle_hours"] == {
        key: pytest.approx(194 / 60, abs=1e-6) for key in ("mean", "worst", "best")
    }
    assert (first["days"], first["shifts"]) == (["mon"], ["day"])
    assert first["last_spindle_stops_at"] == {"mean": "Mon 17:17", "worst": "Mon 17:17"}
    assert first["machines"]["mill"]["ended_by_percent"] == {"cut": 100}
    assert first["morning"]["visit_minutes"] == {"mean": 24, "worst": 24, "best": 24}
    assert first["in_words"].startswith("After Monday's day shift (Mon 14:00, 16.0 h until")
    assert [entry["fewest"] for entry in one["nights"]["fewest_pallets"]] == [17, None]
    held = found["scenarios"]["held"]["nights"]
    assert held["begun_after_shift_hours"] == 2
    assert {entry["why_not"] for entry in held["fewest_pallets"]} == {"hours"}


def test_night_of_one_scenario(tmp_path: Path, capsys: Streams) -> None:
    path = written(tmp_path, study() + CHILD)
    assert main(["night", path, "held", "--format", "json"]) == 0
    assert list(formed("night", json.loads(capsys.readouterr().out))["scenarios"]) == ["held"]
    assert main(["night", path, "helt"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert "There is no scenario helt. Did you mean held? There are: today, held." in err


@pytest.mark.long
def test_every_form_says_the_same(tmp_path: Path, capsys: Streams) -> None:
    path = written(tmp_path, study())
    told = {}
    for form in ("text", "markdown", "csv"):
        assert main(["night", path, "--format", form]) == 0
        told[form] = capsys.readouterr().out
        plain = " ".join(told[form].split())
        for words in (
            "all that is loaded is cut",
            "24 min of work (at most 24) are asked for",
            "17 pallets on mill are the fewest",
            "Local codes, the machine's manual and a qualified person decide.",
        ):
            assert words in plain, form
        assert "\x1b" not in told[form]
    assert all(len(line) < 80 for line in told["text"].splitlines())
    rows = list(csv.reader(io.StringIO(told["csv"])))
    assert rows[0] == ["scenario", "night", "figure", "unit", "value"]
    assert {len(row) for row in rows} == {5}
    assert ["today", "Monday's day shift", "in cycle", "h", "3.2"] in rows


def test_night_of_a_scenario_without_parts_or_nights(tmp_path: Path, capsys: Streams) -> None:
    bare = HEAD[: HEAD.index("part.")].replace("per_pallet = 3\n", "") + SHIFT
    assert main(["night", written(tmp_path, bare)]) == 0
    assert "There are no parts" in capsys.readouterr().out
    assert main(["night", written(tmp_path, study(shift=SHIFT + "people = 0\n"))]) == 0
    assert "There is no night" in capsys.readouterr().out


def test_night_of_a_file_with_errors(tmp_path: Path, capsys: Streams) -> None:
    path = written(tmp_path, study('part.body.cycle = "20 mm"'))
    assert main(["night", path]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert "part.body.cycle" in err
