"""``whatif vary``, ``sensitivity`` and ``breakeven`` from the command line, in every form."""

from __future__ import annotations

import csv
import io
import json
import re
import sys
from pathlib import Path
from typing import Any

import pytest
from moving_studies import CHILD, second_machine, study
from schemas import formed

from whatif.answers import progress
from whatif.command import terminal
from whatif.command.main import main
from whatif.study.draft import Draft
from whatif.study.file.writing import to_text

KEY = "part.body.cycle"
OUTCOME = {"problem", "gain_percent", "likely_percent", "saleable_output", "spindle_hours",
           "output_over_reference_now_percent", "likely_output_over_reference_now_percent",
           "pieces", "demand_met_percent", "least_demand_met_percent", "money",
           "rests_on", "said_hours_per_day"}  # fmt: skip
VALUE = {"value", "number", "unit"}
ASKED = {"format", "scenario", "title", "against", "is_reference", "runs", "of_runs", "draws",
         "of_draws", "weeks", "in_money", "is_metered"}  # fmt: skip


@pytest.fixture
def path(tmp_path: Path) -> str:
    draft = study(*CHILD, 'part.body.cycle = "9 min"', 'handling.walk = "1 min"')
    return written(tmp_path, draft.with_head("warm_up", 1))


def written(folder: Path, draft: Draft) -> str:
    path = folder / "study.toml"
    path.write_text(to_text(draft), "utf-8")
    return str(path)


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(words) == 0
    out, err = capsys.readouterr()
    assert err == ""  # no progress where standard error is no terminal
    return out


def loaded(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    found: dict[str, Any] = formed(words[0], json.loads(said(capsys, *words, "--format", "json")))
    return found


# --- vary -------------------------------------------------------------------------------


@pytest.mark.long
def test_vary_as_text(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    out = said(capsys, "vary", path, "child", KEY, "6..14 min..4")
    lines = out.splitlines()
    assert lines[0] == "Child: cycle"
    assert lines[1:3] == [
        "against: Today",
        "part.body.cycle: cycle (now 9 min, entered); moved in Child alone",
    ]
    assert lines[4].split() == ["value", "gain", "%", "from", "to", "spindle", "h", "pieces",
                                "demand", "met", "%", "output", "note"]  # fmt: skip
    assert lines[5].split()[:3] == ["6", "min", "+40.0"]
    assert "1008.0" in lines[5]
    assert lines[5].rstrip().endswith("########")
    assert lines[6].split()[2:4] == ["no", "change"]
    assert "Moved in Child alone." in out
    assert "It rests on 1 week, and likely ranges on 3 draws." in out
    assert len(lines[5]) <= 80
    assert "Saleable output is largest at 6 min" in out


@pytest.mark.long
def test_vary_as_json(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = loaded(capsys, "vary", path, "child", "machine.mill.pallets", "0..3")
    assert set(found) == ASKED | {
        "input", "points", "stops_paying_at", "still_better_by_percent", "demand_met_at",
        "sentences",
    }  # fmt: skip
    assert found["input"] == {"key": "machine.mill.pallets", "label": "pallets each",
                              "now": {"value": "1", "number": 1.0, "unit": ""},
                              "now_text": "1", "origin": "assumed", "moved": "in both"}  # fmt: skip
    assert [point["value"] for point in found["points"]] == ["0", "1", "2", "3"]
    assert all(set(point) == VALUE | OUTCOME for point in found["points"])
    first, *rest = found["points"]
    assert first["problem"].startswith("It is too small; ")
    assert first["gain_percent"]["saleable"] is None
    # 9.5 min a piece with a second pallet, 13 min with its table alone; today 10.5 and 14 min.
    assert rest[1]["pieces"]["body"] == pytest.approx(7 * 24 * 60 / 9.5, abs=1)
    assert found["stops_paying_at"]["number"] == 2
    assert found["demand_met_at"] is None


@pytest.mark.long
def test_vary_as_csv_and_markdown(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    words = ("vary", path, "child", KEY, "6 min..10 min..4 min")
    rows = list(csv.reader(io.StringIO(said(capsys, *words, "--format", "csv"))))
    assert rows[0] == ["value", "number", "unit", "saleable gain %", "likely from", "to",
                       "spindle h", "demand met %",
                       "pieces body", "demand met % body", "note"]  # fmt: skip
    assert rows[1][:4] == ["6 min", "6", "min", "40.000"]
    assert all(len(row) == len(rows[0]) for row in rows)
    assert rows[3][:2] == ["note", "against: Today"]
    markdown = said(capsys, *words, "--format", "markdown")
    assert markdown.startswith("# Child: cycle\n")
    assert "| 6 min | 40.000 |" in markdown


@pytest.mark.long
def test_vary_in_money_shows_the_payback(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, second_machine())
    words = ("vary", path, "child", "machine.mill.price", "72000..144000..72000")
    out = said(capsys, *words)
    # The wage of the second person is not priced.
    assert [" ".join(line.split()[-9:]) for line in out.splitlines()[6:8]] == [
        "at most +72 000 at least 1.0 not priced",
        "at most +72 000 at least 2.0 not priced",
    ]
    assert loaded(capsys, *words)["points"][1]["money"]["payback_years"] == 2


@pytest.mark.long
def test_two_inputs_make_a_table(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    words = (
        "vary",
        path,
        "child",
        KEY,
        "6..10 min..4 min",
        "--and",
        "handling.walk",
        "0..2 min..1",
    )
    lines = said(capsys, *words).splitlines()
    assert lines[2] == ("down: part.body.cycle: cycle (now 9 min, entered); moved in Child alone")
    assert lines[5].split() == ["0", "min", "1", "min", "2", "min"]
    # 1120, 1008 and, of whole pieces, 916 against 720.
    assert lines[6].split() == ["6", "min", "+56", "+40.0", "+27.2"]
    # 10 min and a minute's walk is what today does.
    assert lines[7].split()[3:5] == ["no", "change"]
    found = loaded(capsys, *words)
    assert set(found) == ASKED | {"down", "across", "values_down", "values_across", "rows",
                                  "sentences"}  # fmt: skip
    assert [len(row) for row in found["rows"]] == [3, 3]
    assert all(set(one) == OUTCOME for row in found["rows"] for one in row)
    rows = list(csv.reader(io.StringIO(said(capsys, *words, "--format", "csv"))))
    assert [row[:2] for row in rows[1:3]] == [["6 min", "0 min"], ["6 min", "1 min"]]


# --- sensitivity ------------------------------------------------------------------------


@pytest.mark.long
def test_sensitivity_as_text(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    out = said(capsys, "sensitivity", path, "today")
    lines = out.splitlines()
    assert lines[0] == "What matters most in Today"
    assert lines[1] == "against: Today, as it stands"
    assert lines[3].split() == ["input", "less", "brings", "now", "more", "brings", "moved"]
    (walk,) = [line for line in lines if line.startswith("walk per visit")]
    assert walk.split()[3:] == ["0.9", "min", "+0.7", "1", "min", "1.1", "min", "-0.7", "assumed"]
    assert max(map(len, lines)) <= 80
    assert "Only assumed, and it matters: pallets each" in out
    assert not [line for line in lines if line.startswith("people ")]
    assert "No clear difference: " in out


@pytest.mark.long
def test_sensitivity_as_json(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = loaded(capsys, "sensitivity", path, "today")
    assert set(found) == ASKED | {"inputs", "sentences"}
    one = next(each for each in found["inputs"] if each["key"] == "part.body.load")
    assert set(one) == {"key", "label", "now", "moved", "moved_by", "origin", "assumed",
                        "largest_change_percent", "less", "more"}  # fmt: skip
    assert (one["origin"], one["assumed"]) == ("entered", False)
    assert set(one["less"]) == VALUE | {"problem", "change_percent", "likely_percent",
                                        "is_difference"}  # fmt: skip
    assert one["less"]["value"] == "1.8 min"
    assert one["less"]["change_percent"] > 0 > one["more"]["change_percent"]
    bench = next(each for each in found["inputs"] if each["key"] == "part.body.bench")
    assert (bench["moved_by"], bench["more"]["value"], bench["less"]) == ("tried", "1 min", None)
    most = [each["largest_change_percent"] for each in found["inputs"]]
    assert most == sorted(most, reverse=True)


# --- breakeven --------------------------------------------------------------------------


@pytest.mark.long
def test_break_even_against_the_reference(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    """9 + 2 + 1 min and a walk of 2 min are the 14 min of today."""
    out = said(capsys, "breakeven", path, "child", "handling.walk", "0..4 min")
    assert out.startswith("Child: walk per visit for the saleable output of Today\n")
    assert "looked at: 0 min to 4 min" in out
    found = loaded(capsys, "breakeven", path, "child", "handling.walk", "0..4 min")
    assert set(found) == ASKED | {"input", "target", "from", "to", "reached", "nearest",
                                  "in_doubt", "crossings", "values_tried", "sentences"}  # fmt: skip
    assert found["reached"] == "in part"
    (crossing,) = found["crossings"]
    assert crossing["reached_at"]["number"] == pytest.approx(2, abs=0.05)
    assert crossing["reached_by"] == "less"
    assert found["target"] == {"kind": "gain", "amount": 0.0, "part": "", "unit": "%"}


@pytest.mark.long
def test_break_even_to_a_target(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    words = ("breakeven", path, "child", "machine.mill.pallets", "1..3", "--target")
    found = loaded(capsys, *words, "pieces body 900")
    assert [one["reached_at"]["number"] for one in found["crossings"]] == [2]
    never = loaded(capsys, *words, "hours 200")
    assert (never["reached"], never["crossings"]) == ("never", [])
    assert never["nearest"]["number"] == 2
    rows = list(csv.reader(io.StringIO(said(capsys, *words, "pieces body 900", "--format", "csv"))))
    assert rows[0] == ["reached at", "and at", "not at", "past target by, a week",
                       "in doubt between", "and", ""]  # fmt: skip
    assert rows[1][:3] == ["2", "more", "1"]


# --- what goes wrong --------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "error"),
    [
        (("vary", "chld", KEY, "1..2 min"), "There is no scenario chld. Did you mean child?"),
        (("vary", "child", "part.body.cicle", "1..2 min"), "Did you mean part.body.cycle?"),
        (("vary", "child", "machine.mill.table", "1..2"), "is not one number"),
        (("vary", "child", KEY, "2..1 min"), "write the smaller value first: 1 min..2 min"),
        (("vary", "child", KEY, "9 kg..10 kg"), '"9 kg" cannot be read'),
        (("vary", "child", KEY, "1..2 min", "--and", KEY, "1..2 min"), "two different inputs"),
        (("sensitivity", "todai"), "Did you mean today?"),
        (("breakeven", "child", "handling.wlk"), "Did you mean handling.walk?"),
        (("breakeven", "child", KEY, "--target", "houers 3"), '"houers 3" is no target'),
        (("breakeven", "child", KEY, "--target", "many"), '"pieces body 1000"'),
        (("breakeven", "child", KEY, "--target", "many"), 'write "gain 25"'),
        (("breakeven", "child", KEY, "--target", "0 %"), 'write 25 or "+25 %"'),
        (("breakeven", "today", KEY), "level with itself"),
    ],
)
def test_questions_without_an_answer(
    path: str, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], error: str
) -> None:
    command, *rest = words
    assert main([command, path, *rest]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert error in err


def test_a_study_with_errors_has_no_answer(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, study("scrap = 3"))
    assert main(["sensitivity", path, "today"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert "part.body.scrap = 3" in err


class _Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_on_a_terminal_is_wiped_out(path: str, monkeypatch: pytest.MonkeyPatch) -> None:
    screen = _Terminal()
    monkeypatch.setattr(sys, "stderr", screen)
    monkeypatch.setattr(terminal, "_SOON", 0.0)
    monkeypatch.setattr(terminal, "_EVERY", 0.0)
    monkeypatch.setattr(progress, "_SOONEST", 0.0)
    assert main(["vary", path, "child", KEY, "9..10 min..1 min"]) == 0
    shown = screen.getvalue().split("\r")
    assert "1 of 2 tried" in [text.strip() for text in shown]
    assert shown[-2].strip() == ""


def test_the_end_of_a_key_finds_the_whole(path: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["vary", path, "today", "pallets", "1..2"]) == 1
    assert "Did you mean machine.mill.pallets?" in capsys.readouterr().err


# --- the units of the study -------------------------------------------------------------------


@pytest.mark.long
def test_an_inch_study_is_told_in_inches_and_json_as_typed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """50 mm / 25.4 = 1.969 in; a tenth less is 45 mm, 1.772 in."""
    draft = study(*CHILD, 'part.body.size = ["6 in", "4 in", "3 in"]',
                  'machine.mill.table = ["900 mm", "500 mm"]')  # fmt: skip
    path = written(tmp_path, draft.with_head("units", "inch").with_head("warm_up", 1))
    for form in ("text", "markdown", "csv"):
        out = said(capsys, "vary", path, "child", "part.body.gap", "45 mm..55 mm", "--format", form)
        assert "1.772 in" in out
        assert "now 1.969 in" in out
        assert " mm" not in out
    out = said(capsys, "sensitivity", path, "child", "--format", "csv")
    assert "1.772 in" in out
    assert " mm" not in out
    found = loaded(capsys, "vary", path, "child", "part.body.gap", "45 mm..55 mm")
    assert found["points"][0]["value"] == "45 mm"


@pytest.mark.long
def test_a_step_of_a_time_in_minutes_and_seconds_is_written_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A tenth below 22 min 27 s (1 347 s) is 1 212.3 s: it was told in seconds alone."""
    path = written(tmp_path, study(*CHILD, 'part.body.cycle = "22 min 27 s"'))
    out = said(capsys, "sensitivity", path, "child", "--format", "csv")
    assert "20 min 12.3 s" in out
    assert "1212" not in out


def test_a_price_has_its_currency(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(tmp_path, second_machine())
    out = said(capsys, "breakeven", path, "child", "machine.mill.price", "1000..2000")
    assert "looked at: 1000 USD to 2000 USD" in out


# --- for programs ------------------------------------------------------------------------


def decimals(cells: list[str]) -> set[int]:
    """How many decimals the numbers among some cells have."""
    numbers = [cell for cell in cells if re.fullmatch(r"[-+]?\d+(\.\d+)?", cell)]
    return {len(cell.partition(".")[2]) for cell in numbers}


@pytest.mark.parametrize(
    "words",
    [
        ("vary", "child", "machine.mill.price", "72000..144000..36000"),
        ("vary", "child", "part.body.cycle", "9.25..10 min..0.25"),
        ("vary", "child", "machine.mill.count", "1..2", "--and", "shift.all.people", "1..2"),
        ("sensitivity", "child"),
        ("breakeven", "child", "machine.mill.count", "1..3", "--target", "hours 150"),
    ],
)
def test_in_csv_a_column_of_numbers_has_one_number_of_decimals(
    words: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, second_machine())
    out = said(capsys, words[0], path, *words[1:], "--format", "csv")
    rows = list(csv.reader(io.StringIO(out)))
    assert {len(row) for row in rows} == {len(rows[0])}
    told = [row for row in rows[1:] if row[0] != "note"]
    typed = {"less", "now", "more", "reached at", "not at", "in doubt between", "and"}
    for head, column in zip(rows[0], zip(*told, strict=True), strict=True):
        if head in typed:  # each in a unit of its own
            continue
        assert len(decimals(list(column))) <= 1, column
        assert not any("\u00a0" in cell for cell in column)


def test_in_csv_what_moves_a_gain_is_a_number_and_what_it_is_worth_a_word(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, second_machine())
    out = said(capsys, "sensitivity", path, "child", "--format", "csv")
    heads, *rows = csv.reader(io.StringIO(out))
    moved = {row[0]: dict(zip(heads[:7], row[:7], strict=True)) for row in rows}
    count = moved["machine.mill.count"]
    assert (count["less"], count["is"]) == ("1", "")
    assert float(count["changes gain by points"]) == pytest.approx(-100, abs=0.5)
