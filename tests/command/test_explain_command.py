"""``whatif explain`` from the command line: text of 80 columns, Markdown, JSON, what is wrong."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from explain_studies import PENCIL
from schemas import formed

from whatif.command.main import main
from whatif.session.calculate import memory
from whatif.telling.rules import rules

FIGURE = "people_hours.paid"
INCH = """\
format = 1
units = "inch"
weeks = 1
warm_up = 0
runs = 3
[scenario.today]
shift.day.days = ["mon"]
shift.day.start = "06:00"
shift.day.end = "14:00"
machine.vmc.table = ["20 in", "16 in"]
machine.vmc.table_load = "100 lb"
machine.big.table = ["40 in", "16 in"]
machine.big.table_load = "100 lb"
part.base.size = ["20 in", "4 in", "3 in"]
part.base.mass = "12 lb"
part.base.cycle = "12 min"
part.base.weekly = 50
"""


@pytest.fixture
def file(tmp_path: Path) -> str:
    path = tmp_path / "study.toml"
    path.write_text(PENCIL, encoding="utf-8")
    return str(path)


Capture = pytest.CaptureFixture[str]


def test_an_account_in_text(file: str, capsys: Capture) -> None:
    assert main(["explain", file, "most", FIGURE]) == 0
    out = capsys.readouterr().out
    assert "= 2 × 5 × 8" in out
    assert "80.0 h a week" in out
    assert "inherited from Now:" in out
    assert "Check it with a pencil" in out


@pytest.mark.long
def test_no_line_is_wider_than_80(file: str, capsys: Capture) -> None:
    assert main(["explain", file, "most"]) == 0
    listed = capsys.readouterr().out
    ids = [line.split()[0] for line in listed.splitlines() if line.startswith("  ")]
    assert "spindle_hours.total" in ids
    for figure in ("pieces.plate", "gain_percent.saleable", "limit", "fit.plate.mill"):
        assert figure in ids
        assert main(["explain", file, "most", figure]) == 0
        listed += capsys.readouterr().out
    assert max(map(len, listed.splitlines())) <= 80


def test_names_stand_below_their_headings(file: str, capsys: Capture) -> None:
    """There were fifty in a heap."""
    assert main(["explain", file, "most"]) == 0
    below: dict[str, list[str]] = {}
    for line in capsys.readouterr().out.splitlines()[2:]:
        if line and line[0] != " ":
            below[about := line] = []
        elif line[2:3].strip():
            below[about].append(line.split()[0])
    assert below["spindle hours"][0] == "spindle_hours.total"
    assert all(id_.startswith("gain_percent.") for id_ in below["gains"])
    assert len(below) > 10


def test_the_list_has_every_name(file: str, capsys: Capture) -> None:
    assert main(["explain", file, "now", "--format", "json"]) == 0
    listed = formed("explain", json.loads(capsys.readouterr().out))
    assert listed["scenario"] == "now"
    by_id = {one["figure"]: one for one in listed["figures"]}
    assert by_id[FIGURE] == {"figure": FIGURE, "name": "people paid", "unit": "h a week"}


@pytest.mark.parametrize("figure", [[], ["people_hours.payed"]])
def test_names_are_told_without_simulating(
    figure: list[str], file: str, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    def run(cell: object) -> None:
        raise AssertionError("a cell is run")

    monkeypatch.setattr(memory, "Weeks", run)
    assert main(["explain", file, "most", *figure]) == len(figure)
    told = capsys.readouterr()
    assert "people_hours.paid" in (told.err if figure else told.out)
    with pytest.raises(AssertionError):
        main(["explain", file, "most", FIGURE])


def test_an_account_in_json(file: str, capsys: Capture) -> None:
    assert main(["explain", file, "more", FIGURE, "--format", "json"]) == 0
    one = formed("explain", json.loads(capsys.readouterr().out))
    assert (one["format"], one["scenario"], one["figure"]) == (1, "more", FIGURE)
    assert one["value"] == one["steps"][-1]["result"] == 80.0
    people = one["terms"][0]
    assert people == {
        "label": "people, shift day",
        "number": 2,
        "unit": "",
        "typed": "",
        "origin": "inherited from Now",
    }
    assert one["binds"]
    assert one["checks"][0]["relation"] == "at most"
    assert one["checks"][0]["sort"] == "bound"
    assert one["checks"][0]["holds"] is True
    assert one["checks"][0]["result"] == one["checks"][0]["found"] == 80.0


def test_markdown(file: str, capsys: Capture) -> None:
    assert main(["explain", file, "now", FIGURE, "--format", "markdown"]) == 0
    assert capsys.readouterr().out.startswith("# people paid\n")
    assert main(["explain", file, "now", "--format", "markdown"]) == 0
    assert "| `people_hours.paid` | people paid | h a week |" in capsys.readouterr().out


def test_an_unknown_figure(file: str, capsys: Capture) -> None:
    assert main(["explain", file, "now", "people_hours.payed"]) == 1
    told = capsys.readouterr()
    assert told.out == ""
    assert max(map(len, told.err.splitlines())) <= 80
    said = " ".join(told.err.split())
    assert said.startswith("There is no figure people_hours.payed in Now. Did you mean people_ho")
    assert "There are: gain_percent.saleable, " in said


@pytest.mark.long
def test_a_scenario_by_its_title(tmp_path: Path, capsys: Capture) -> None:
    path = tmp_path / "titles.toml"
    two = '[scenario.twice]\nparent = "now"\ntitle = "More pallets"\n'
    path.write_text(PENCIL + two, encoding="utf-8")
    listed = []
    for named in ("now", "Now", "  nOW "):
        assert main(["explain", str(path), named, "people_hours.paid", "--format", "json"]) == 0
        listed.append(formed("explain", json.loads(capsys.readouterr().out))["scenario"])
    assert listed == ["now"] * 3


def test_a_title_of_none_or_of_two_lists_ids_with_titles(file: str, capsys: Capture) -> None:
    text = Path(file).read_text(encoding="utf-8")
    more = '[scenario.a]\nparent = "now"\ntitle = "Same"\n[scenario.b]\nparent = "a"\n'
    Path(file).write_text(text + more + 'title = "Same"\n', encoding="utf-8")
    assert main(["explain", file, "same"]) == 1
    assert "There is no scenario same. Did you mean a or b?" in capsys.readouterr().err
    assert main(["explain", file, "Nowhere near"]) == 1
    assert "There are: now (Now), more" in capsys.readouterr().err


def test_an_unknown_scenario(file: str, capsys: Capture) -> None:
    assert main(["explain", file, "mast", FIGURE]) == 1
    told = capsys.readouterr()
    assert told.out == ""
    assert "There is no scenario mast. Did you mean most?" in told.err
    assert "now (Now), more" in told.err


def test_a_study_with_problems(file: str, capsys: Capture) -> None:
    Path(file).write_text(PENCIL + "machine.mill.count = -1\n", encoding="utf-8")
    assert main(["explain", file, "now", FIGURE]) == 1
    told = capsys.readouterr()
    assert told.out == ""
    assert "machine.mill.count" in told.err


@pytest.mark.parametrize("name", ["waiting for a person", "Not cutting: waiting for a person"])
def test_a_figure_is_asked_for_by_its_name(name: str, file: str, capsys: Capture) -> None:
    assert main(["explain", file, "most", name]) == 0
    assert "hours_by_state.waiting_for_person" in capsys.readouterr().out


def test_the_check_in_json(file: str, tmp_path: Path, capsys: Capture) -> None:
    assert main(["check", file, "--format", "json"]) == 0
    assert formed("check", json.loads(capsys.readouterr().out))["problems"] == []
    wrong = tmp_path / "wrong.toml"
    wrong.write_text(PENCIL + "\n[scenario.wrong]\nmachine.mill.pallet = 2\n", "utf-8")
    assert main(["check", str(wrong), "--format", "json"]) == 1
    (problem,) = formed("check", json.loads(capsys.readouterr().out))["problems"]
    assert (problem["scenario"], problem["key"]) == ("wrong", "machine.mill.pallet")
    assert problem["nearest"] == "machine.mill.pallets"
    assert main(["check", str(tmp_path / "none.toml"), "--format", "json"]) == 1
    assert (
        "none.toml"
        in formed("check", json.loads(capsys.readouterr().out))["problems"][0]["sentence"]
    )


def test_a_rule_in_text_markdown_and_json(capsys: Capture) -> None:
    assert main(["explain", "--rule", "people.bench"]) == 0
    text = capsys.readouterr().out
    assert text.startswith("People: Bench work (people.bench)\n\nAfter a visit")
    assert main(["explain", "--rule", "people.bench", "--format", "markdown"]) == 0
    assert capsys.readouterr().out.startswith("# Bench work (`people.bench`)\n\nAfter a visit")
    assert main(["explain", "--rule", "people.bench", "--format", "json"]) == 0
    told = formed("explain", json.loads(capsys.readouterr().out))["rule"]
    assert (told["name"], told["chapter"]) == ("people.bench", "People")


@pytest.mark.parametrize("form", ["text", "markdown", "json"])
def test_without_a_name_the_rules_are_listed(form: str, capsys: Capture) -> None:
    assert main(["explain", "--rule", "--format", form]) == 0
    out = capsys.readouterr().out
    assert all(name in out for name in rules())
    assert form != "json" or len(formed("explain", json.loads(out))["rules"]) == len(rules())


def test_no_rule_is_wider_than_80(capsys: Capture) -> None:
    assert main(["explain", "--rule"]) == 0
    assert max(map(len, capsys.readouterr().out.splitlines())) <= 80


def test_an_unknown_rule_brings_the_nearest_names(capsys: Capture) -> None:
    assert main(["explain", "--rule", "people.visits"]) == 1
    out, err = capsys.readouterr()
    assert not out
    assert "people.visit" in err


@pytest.mark.parametrize("words", [[], ["study.toml"], ["study.toml", "--rule", "states"]])
def test_a_figure_needs_a_study_and_a_rule_has_none(words: list[str], capsys: Capture) -> None:
    with pytest.raises(SystemExit, match="2"):
        main(["explain", *words])
    assert "--rule" in capsys.readouterr().err


def test_a_fit_in_inches_is_worked_out_in_inches(tmp_path: Path, capsys: Capture) -> None:
    """Both edges of 25 mm are 1.969 in; a gap of 50 mm makes a piece 21.969 x 5.969 (pencil)."""
    path = tmp_path / "inch.toml"
    path.write_text(INCH, encoding="utf-8")
    assert main(["explain", str(path), "today", "fit.base.vmc"]) == 0
    said = capsys.readouterr().out
    assert "along the length - what one piece needs along the length\n  = 18.031 - 20\n" in said
    assert "= -2.0 in left; below 0 it is missed" in said
    assert "there is" not in said
    assert " mm" not in said
    assert main(["explain", str(path), "today", "fit.base.big"]) == 0
    said = capsys.readouterr().out
    # 100 lb and pieces of 12; 40 x 16 in.
    assert "(100 - 0) / 12 = 8.3 pieces per load" in said
    assert "1 × 640 / 131.119 = 4.9 pieces per load" in said
    assert "mm" not in said


def test_what_nobody_entered_is_told_in_the_units_of_the_study_alone(
    tmp_path: Path, capsys: Capture
) -> None:
    """ "0 kg = 0 lb" stood there, and "64 sq ft = 64 ft²" of what was typed."""
    path = tmp_path / "inch.toml"
    path.write_text(f'{INCH}machine.big.floor = "64 sq ft"\nmachine.vmc.floor = "2 m²"\n')
    assert main(["explain", str(path), "today", "fit.base.big"]) == 0
    said = capsys.readouterr().out
    assert " 0 lb  mass of the fixture" in said
    assert "kg" not in said
    assert main(["explain", str(path), "today", "gain_percent.per_floor_area"]) == 0
    said = capsys.readouterr().out
    assert "    64 ft²  floor of each big" in said
    assert "sq ft" not in said
    # What is entered in other units stands before them (2 / 0.3048² = 21.528).
    assert " 2 m² = 21.528 ft²  floor of each vmc" in said


def test_floor_is_told_in_square_feet_before_its_price_of_a_square_metre(
    tmp_path: Path, capsys: Capture
) -> None:
    """A foot is 0.3048 m: 100 ft² and 50 ft² are 13.935 m² (pencil)."""
    path = tmp_path / "inch.toml"
    floor = 'machine.big.floor = "100 ft²"\nmachine.vmc.floor = "50 ft²"\n'
    more = f"{floor}part.base.contribution = 5\nmoney.floor_price = 90\n"
    path.write_text(f"{INCH}{more}")
    assert main(["explain", str(path), "today", "money.year"]) == 0
    said = capsys.readouterr().out
    assert "= 150 ft² of floor" in said
    assert "= 150 × 0.092903\n  = 13.935 m² of floor: its price is that of a m²" in said
    assert "90 × 13.935" in said
