"""``whatif parts`` and ``whatif orders``: previews, refusals, and what is entered."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from schemas import formed
from small_study import STUDY

from whatif.command.main import main
from whatif.study.file.reading import read_draft, read_text

Streams = pytest.CaptureFixture[str]

PARTS = "Part;Cycle [min];Setup [min];Lot;per week\na;9;30;10;20\nb;9,5;30;10;10\n"
WRONG = PARTS + "c;soon;30;10;10\n"


def written(folder: Path, parts: str) -> tuple[str, str]:
    table, study = folder / "parts.csv", folder / "study.toml"
    table.write_text(parts, "utf-8")
    study.write_text(STUDY, "utf-8")
    return str(table), str(study)


def test_without_a_study_the_lines_of_one_are_printed(tmp_path: Path, capsys: Streams) -> None:
    table, _ = written(tmp_path, PARTS)
    assert main(["parts", table, "--alike", "10 %"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    entered = read_text(out).scenario("today").entered
    assert entered["part", "a_and_1_more", "numbers"] == 2
    assert entered["part", "a_and_1_more", "cycle"] == "9 min 10 s"
    assert "# 2 numbers in 1 lines" not in out
    assert "a_and_1_more: a, b" in out


def test_a_preview_changes_nothing_and_enter_does(tmp_path: Path, capsys: Streams) -> None:
    table, study = written(tmp_path, PARTS)
    into = ["parts", table, "--into", study, "Pool"]
    assert main(into) == 0
    out, _ = capsys.readouterr()
    assert Path(study).read_text("utf-8") == STUDY
    assert "Nothing is changed yet; --enter enters 2 parts from parts.csv in Pool." in out
    assert "Other parts stay as they are: plate." in out
    assert main([*into, "--enter"]) == 0
    out, _ = capsys.readouterr()
    assert "Entered 2 parts from parts.csv in Pool. Saved" in out
    draft = read_draft(study)
    assert draft.scenario("pool").entered["part", "b", "cycle"] == "9.5 min"
    assert draft.preamble == "# Two columns.\n"
    assert sorted(each.name for each in tmp_path.iterdir()) == ["parts.csv", "study.toml"]


def test_comments_are_kept_as_saving_keeps_them(tmp_path: Path, capsys: Streams) -> None:
    table, study = written(tmp_path, PARTS)
    commented = STUDY.replace("count = 2", "count = 2 # both old")
    Path(study).write_text(commented, "utf-8")
    assert main(["parts", table, "--into", study, "now", "--enter"]) == 0
    assert "study.toml.with-comments has the file as it was" in capsys.readouterr().out
    assert Path(f"{study}.with-comments").read_text("utf-8") == commented


def test_nothing_is_entered_before_it_is_clean(tmp_path: Path, capsys: Streams) -> None:
    table, study = written(tmp_path, WRONG)
    into = ["parts", table, "--into", study, "now", "--enter"]
    assert main(into) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert 'Row 4, column B (Cycle [min]), "soon"' in err
    assert (
        "1 problem. Nothing is entered; mend the table, or leave this row out: --leave-out." in err
    )
    assert Path(study).read_text("utf-8") == STUDY
    assert main([*into, "--leave-out"]) == 0
    assert "Left out on purpose: row 4." in capsys.readouterr().out
    assert read_draft(study).scenario("now").ids("part") == ("plate", "a", "b")


def test_problems_in_json(tmp_path: Path, capsys: Streams) -> None:
    table, _ = written(tmp_path, WRONG)
    assert main(["parts", table, "--format", "json"]) == 1
    told = formed("parts", json.loads(capsys.readouterr().out))
    assert [(each["row"], each["value"]) for each in told["problems"]] == [(4, "soon")]
    assert list(told["things"]) == ["a", "b"]


def test_in_place_of_the_parts_that_are_there(tmp_path: Path, capsys: Streams) -> None:
    table, study = written(tmp_path, PARTS)
    assert main(["parts", table, "--into", study, "now", "--enter", "--instead"]) == 0
    assert "Removed, as the table has not got them: plate." in capsys.readouterr().out
    assert read_draft(study).scenario("now").ids("part") == ("a", "b")


def test_orders_into_a_scenario(tmp_path: Path, capsys: Streams) -> None:
    table, study = written(tmp_path, "Order,Part,Qty,Due\nA-1,plate,5,2026-12-04\n")
    into = ["orders", table, "--into", study, "now"]
    assert main(into) == 1
    assert "--week-1 2026-11-30" in capsys.readouterr().err
    assert main([*into, "--week-1", "2026-11-30", "--enter"]) == 0
    assert read_draft(study).scenario("now").entered["order", "A-1", "due"] == "week 1 fri 23:59"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--enter"], "--into STUDY SCENARIO"),
        (["--column", "Cycle"], "write HEAD=KEY"),
        (["--week-1", "2026-12-01"], "name a Monday"),
        (["--alike", "ten"], "allowed is a percentage"),
    ],
)
def test_words_that_say_too_little(
    tmp_path: Path, capsys: Streams, words: list[str], said: str
) -> None:
    table, _ = written(tmp_path, PARTS)
    with pytest.raises(SystemExit, match="2"):
        main(["parts", table, *words])
    assert said in capsys.readouterr().err
