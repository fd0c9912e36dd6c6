"""``whatif week`` from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from schemas import formed
from week_studies import SIX, STUDY, week_of

from whatif.answers.compare import plans_as_read
from whatif.answers.week import week
from whatif.cell.model import HOUR, WEEK, Cell
from whatif.cell.weeks import Weeks
from whatif.command.main import main
from whatif.reports.document import WRITERS
from whatif.reports.week import moment_report, week_report
from whatif.session.calculate import memory, pool
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import check
from whatif.study.file.reading import read_text
from whatif.telling.week.signs import cut_hours
from whatif.telling.week.words import machine_words, moment_words, pallet_words, person_words

Streams = pytest.CaptureFixture[str]


@pytest.fixture
def study(tmp_path: Path) -> str:
    path = tmp_path / "study.toml"
    path.write_text(STUDY, encoding="utf-8")
    return str(path)


@pytest.mark.parametrize("form", ["text", "json"])
def test_the_command_prints_each_form(study: str, capsys: Streams, form: str) -> None:
    assert main(["week", study, "pallets", "--week", "2", "--format", form]) == 0
    out, err = capsys.readouterr()
    assert (out, err) == (WRITERS[form](week_report(week_of("pallets", 2))) + "\n", "")


def test_the_command_prints_the_first_week_as_text(study: str, capsys: Streams) -> None:
    assert main(["week", study, "table"]) == 0
    assert capsys.readouterr().out.startswith("One table: week 1 of the 3 measured\n")


@pytest.mark.parametrize("form", ["text", "json"])
def test_the_command_prints_a_moment(study: str, capsys: Streams, form: str) -> None:
    assert main(["week", study, "pallets", "--at", "Monday 6:04", "--format", form]) == 0
    out = capsys.readouterr().out
    found = week_of("pallets")
    assert out == WRITERS[form](moment_report(found, SIX + 240)) + "\n"
    for place in range(2):
        assert machine_words(found, place, SIX + 240) in out
        assert person_words(found, place, SIX + 240) in out
        assert pallet_words(found, place, 3, SIX + 240) in out
    if form == "json":
        assert formed("week", json.loads(out))["in_words"] == moment_words(found, SIX + 240)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            ["palets"],
            "pallets (Two mills with three pallets), stops, nothing, ",
        ),
        (["palets"], "There is no scenario palets. Did you mean pallets?"),
        (["table", "--week", "4"], "week 4 is not measured; weeks 1 to 3 are"),
        (["nothing"], "scenario nothing has no parts, so there is no week to show"),
    ],
)
def test_what_cannot_be_shown_is_told(
    study: str, capsys: Streams, words: list[str], told: str
) -> None:
    assert main(["week", study, *words]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert told in err


@pytest.mark.parametrize("moment", ["noon", "mon 25:00", "any hour", ""])
def test_a_moment_that_is_none_is_refused(study: str, capsys: Streams, moment: str) -> None:
    with pytest.raises(SystemExit) as left:
        main(["week", study, "table", "--at", moment])
    assert left.value.code == 2
    assert "is no moment of a week" in capsys.readouterr().err


def test_a_study_with_problems_is_told(tmp_path: Path, capsys: Streams) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(STUDY.replace('"10 min"', '"10 mm"'), encoding="utf-8")
    assert main(["week", str(path), "table"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert "part.body.cycle" in err


@pytest.mark.long
def test_hour_meters_laid_to_people_are_in_the_week(tmp_path: Path, capsys: Streams) -> None:
    """The week shown is that of the cell that is compared: visits take longer by a constant."""
    text = STUDY.replace(
        "[scenario.table.shift.early]",
        'hour_meters.switched_on = "100 h"\nhour_meters.in_cut = "10 h"\n'
        'hour_meters.gap = "people"\n[scenario.table.shift.early]',
    )
    path = tmp_path / "meters.toml"
    path.write_text(text, encoding="utf-8")
    assert main(["week", str(path), "table", "--format", "json"]) == 0
    told = formed("week", json.loads(capsys.readouterr().out))
    cut = sum(
        one["to_second"] - one["from_second"]
        for one in told["machines"][0]["states"]
        if one["state"] == "in_cycle"
    )
    shift = 5 * 2 * HOUR
    assert cut <= 0.15 * shift < cut_hours(week_of("table"), 0, 0, WEEK) * HOUR


METERED = 'hour_meters = {in_cut = "300 h", switched_on = "1000 h", gap = "people"}\n'


def counted_runs(monkeypatch: pytest.MonkeyPatch) -> list[Cell]:
    """The cells that are run from here on by what remembers runs."""
    cells: list[Cell] = []

    def run(cell: Cell) -> Weeks:
        cells.append(cell)
        return Weeks(cell)

    monkeypatch.setattr(memory, "Weeks", run)
    monkeypatch.setattr(pool, "workers_wanted", lambda: 0)
    return cells


def settled(text: str) -> str:
    return "\n".join(line for line in text.splitlines() if not line.startswith("weeks = "))


@pytest.mark.parametrize("form", ["text", "json"])
def test_a_week_needs_one_run_however_many_it_takes_to_settle(
    form: str, tmp_path: Path, capsys: Streams, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "settled.toml"
    path.write_text(settled(STUDY), encoding="utf-8")
    cells = counted_runs(monkeypatch)
    assert main(["week", str(path), "stops", "--format", form]) == 0
    assert not cells
    out = capsys.readouterr().out
    if form == "json":
        assert formed("week", json.loads(out))["weeks"] is None
    else:
        assert "week 1 of the 12 or more measured\n" in out
    fixed = tmp_path / "fixed.toml"
    fixed.write_text("weeks = 12\n" + settled(STUDY), encoding="utf-8")
    assert main(["week", str(fixed), "stops", "--format", form]) == 0
    if form == "text":
        assert out.replace(" or more", "") == capsys.readouterr().out
    else:
        assert {**json.loads(out), "weeks": 12} == json.loads(capsys.readouterr().out)


@pytest.mark.long
def test_what_hour_meters_say_is_found_in_their_scenario_alone(
    tmp_path: Path, capsys: Streams, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = STUDY.replace("[scenario.table]\n", f"[scenario.table]\n{METERED}", 1)
    path = tmp_path / "metered.toml"
    path.write_text(text, encoding="utf-8")
    checked = check(read_text(text))
    wanted = plans_as_read(checked, Memory())["pallets"]
    cells = counted_runs(monkeypatch)
    assert main(["week", str(path), "pallets", "--format", "json"]) == 0
    assert cells
    assert {cell.groups[0].count for cell in cells} == {1}
    found = week(wanted, 1)
    assert found is not None
    assert capsys.readouterr().out == WRITERS["json"](week_report(found)) + "\n"
