"""``whatif compare`` and ``check`` from the command line, and files that are not sound."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from pathlib import Path

import pytest
from answer_studies import TODAY, today
from json_told import json_of
from lengths import first_of
from whole_comparison import WHOLE, whole

from whatif.command.main import main
from whatif.reports.comparison import comparison_report
from whatif.reports.document import WRITERS


def written(folder: Path, text: str) -> str:
    path = folder / "study.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


BAD = TODAY.replace("12 min", "12 mm").replace("weekly = 100", "weekly = 100\npart.body.bath = 3")

Streams = pytest.CaptureFixture[str]


@pytest.mark.long
def test_compare_prints_json(tmp_path: Path, capsys: Streams) -> None:
    assert main(["compare", written(tmp_path, WHOLE), "--format", "json"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert json.loads(out) == json_of(whole())


@pytest.mark.long
@pytest.mark.parametrize("form", first_of(WRITERS))
def test_compare_prints_every_form(tmp_path: Path, capsys: Streams, form: str) -> None:
    assert main(["compare", written(tmp_path, WHOLE), "--format", form]) == 0
    out, err = capsys.readouterr()
    document = comparison_report(whole())
    if form == "text":
        document = replace(document, width=80, room=80)
    assert (out, err) == (WRITERS[form](document) + "\n", "")


def test_compare_prints_text_unless_told_otherwise(tmp_path: Path, capsys: Streams) -> None:
    assert main(["compare", written(tmp_path, TODAY)]) == 0
    assert capsys.readouterr().out.startswith("Two ways\nagainst: today\n")


def blocks_of(text: str) -> list[list[str]]:
    """The rows of a table that is folded, block by block; what comes after it is left out."""
    _, _, table = text.partition("\n\n")
    blocks: list[list[str]] = [[]]
    for line in table.splitlines():
        if line and not line.startswith(" ") and blocks[-1] == []:
            break
        blocks += [[]] if not line else []
        blocks[-1] += [line] if line else []
    return [block for block in blocks if block]


def test_on_a_terminal_the_table_is_folded_to_its_width(
    tmp_path: Path, capsys: Streams, monkeypatch: pytest.MonkeyPatch
) -> None:
    others = "".join(
        f'[scenario.s{place}]\nparent = "today"\ntitle = "Another way of it, number {place}"\n'
        for place in range(5)
    )
    path = written(tmp_path, TODAY + others)
    monkeypatch.setenv("COLUMNS", "300")
    assert main(["compare", path]) == 0
    whole_text = capsys.readouterr().out
    assert max(map(len, whole_text.splitlines()[3:20])) > 80
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    monkeypatch.setenv("COLUMNS", "80")
    assert main(["compare", path]) == 0
    blocks = blocks_of(capsys.readouterr().out)
    assert len(blocks) > 1
    assert all(len(line) <= 80 for block in blocks for line in block)
    for block in blocks:
        assert " today" in block[0]
        hours = next(line for line in block if line.startswith("spindle hours, h a week"))
        # Its label of five words, the reference, and one more at least.
        assert len(hours.split()) >= 7
    heads = " ".join(" ".join(line.split()) for block in blocks for line in block)
    assert all(f"number {place}" in heads for place in range(5))


@pytest.mark.parametrize(("columns", "room"), [(None, 80), ("100", 100)])
@pytest.mark.long
def test_off_a_terminal_no_line_is_wider_than_there_too(
    tmp_path: Path,
    capsys: Streams,
    monkeypatch: pytest.MonkeyPatch,
    columns: str | None,
    room: int,
) -> None:
    monkeypatch.delenv("COLUMNS", raising=False)
    if columns:
        monkeypatch.setenv("COLUMNS", columns)
    assert main(["compare", written(tmp_path, WHOLE)]) == 0
    told = capsys.readouterr().out
    assert room - 10 < max(map(len, told.splitlines())) <= room


@pytest.mark.long
def test_in_csv_gains_are_numbers_of_a_unit(tmp_path: Path, capsys: Streams) -> None:
    assert main(["compare", written(tmp_path, WHOLE), "--format", "csv"]) == 0
    heads, *rows = csv.reader(io.StringIO(capsys.readouterr().out))
    assert heads[1] == "unit"
    gains = [row for row in rows if row[0].startswith("gain in ")]
    assert {"gain in saleable output", "gain in saleable output, likely from"} <= {
        row[0] for row in gains
    }
    for _, unit, *cells in gains:
        assert unit == "%"
        assert all(cell == "-" or float(cell) is not None for cell in cells)
        # One number of decimals, whatever each gain by itself would be told with.
        assert len({len(cell.partition(".")[2]) for cell in cells if cell != "-"}) <= 1


@pytest.mark.long
@pytest.mark.parametrize("name", ["pallets-until-demand", "small-orders"])
def test_in_csv_a_row_with_a_unit_is_of_numbers_alike(name: str, capsys: Streams) -> None:
    """Money, rush orders and floor too, which read "1.9 (1.9 to 2.0)" and "24 m²"."""
    study = str(Path(__file__).parents[2] / "scenarios" / f"{name}.toml")
    assert main(["compare", study, "--format", "csv"]) == 0
    _, *rows = csv.reader(io.StringIO(capsys.readouterr().out))
    of_unit = [row for row in rows if row[1]]
    assert len(of_unit) > 40
    for label, _, *cells in of_unit:
        numbers = [cell for cell in cells if cell != "-"]
        assert all(float(cell) is not None for cell in numbers), label
        assert len({len(cell.partition(".")[2]) for cell in numbers}) <= 1, label


def test_compare_of_another_form_is_refused(tmp_path: Path, capsys: Streams) -> None:
    with pytest.raises(SystemExit) as left:
        main(["compare", written(tmp_path, TODAY), "--format", "yaml"])
    assert left.value.code == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "yaml" in err


@pytest.mark.parametrize("words", [["compare"], ["compare", "--format", "json"], ["check"]])
def test_a_file_with_errors(tmp_path: Path, capsys: Streams, words: list[str]) -> None:
    path = written(tmp_path, BAD)
    assert main([words[0], path, *words[1:]]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    # All of them at once, each with its place.
    assert "part.body.cycle" in err
    assert '"12 mm"' in err
    assert "part.body.bath" in err
    assert "Did you mean part.body.batch?" in err
    assert err.splitlines()[-1] == f"{path}: 2 problems"


@pytest.mark.parametrize("command", ["compare", "check"])
@pytest.mark.parametrize("text", [None, "format = ", "\x00"])
def test_a_file_that_cannot_be_read(
    tmp_path: Path, capsys: Streams, command: str, text: str | None
) -> None:
    path = str(tmp_path / "none.toml") if text is None else written(tmp_path, text)
    assert main([command, path]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert path in err


def test_check_of_a_sound_file(tmp_path: Path, capsys: Streams) -> None:
    path = written(tmp_path, TODAY)
    assert main(["check", path]) == 0
    assert tuple(capsys.readouterr()) == (f"{path}: no problems\n", "")


def test_check_lists_warnings_and_is_content(tmp_path: Path, capsys: Streams) -> None:
    path = written(tmp_path, today("machine.mill.load_stations = 2"))
    assert main(["check", path]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    first, last = out.splitlines()
    assert first.startswith(f"{path}: warning: ")
    assert "machine.mill.load_stations" in first
    assert last == f"{path}: no problems"
