"""A week of a scenario in bands, words, signs and JSON, and ``whatif week``."""

from __future__ import annotations

import json
import pickle
from pathlib import Path
from typing import Any

import pytest
from week_studies import SIX, STUDY, plan, week_of

from whatif.answers.week import Band, span_at, week
from whatif.cell.model import DAY, HOUR, MINUTE, WEEK
from whatif.cell.states import STATES
from whatif.command.main import main
from whatif.plan.build import plans_of
from whatif.reports.week import COLUMNS, FORMATS, MOMENT_FORMATS, to_json, to_text
from whatif.study.check.check import check
from whatif.study.file.reading import read_text
from whatif.telling.clock import clock_text
from whatif.telling.week.signs import (
    MACHINE_SIGNS,
    MEANINGS,
    cut_hours,
    loaded_signs,
    machine_signs,
    people_hours,
    people_signs,
)
from whatif.telling.week.words import (
    luck_words,
    machine_words,
    moment_words,
    pallet_words,
    person_words,
)

DEMOS = Path(__file__).parent.parent.parent / "scenarios"


# --- the answer -------------------------------------------------------------------------


def test_a_week_knows_what_it_is_of() -> None:
    found = week_of("table", 2)
    assert (found.scenario, found.title, found.number, found.weeks) == ("table", "One table", 2, 3)
    assert (found.stops, luck_words(found)) == (False, "")
    assert pickle.loads(pickle.dumps(found)) == found


def test_later_weeks_go_on_where_the_earlier_ended() -> None:
    assert week_of("table").machines[0].pallets[0][0].does == "waits"
    # The last visit of a shift is put down at 08:00, over the weekend too.
    last = week_of("table").machines[0].pallets[0][-1]
    first = week_of("table", 2).machines[0].pallets[0][0]
    assert (last.does, last.pieces) == (first.does, first.pieces) == ("put_down", 1)


@pytest.mark.parametrize("number", [0, -1, 4])
def test_a_week_that_is_not_measured_is_refused(number: int) -> None:
    with pytest.raises(ValueError, match=f"week {number} is not measured; weeks 1 to 3 are"):
        week(plan("table"), number)


def test_a_scenario_without_parts_has_no_week() -> None:
    assert week(plan("nothing"), 1) is None


def test_with_stops_it_is_the_first_seeded_run_and_says_so() -> None:
    found = week_of("stops")
    assert luck_words(found).startswith("Stops fall here as in the first of 20 seeded runs;")
    repairs = [span for span in found.persons[0].does if span.does == "repair"]
    assert repairs
    second = repairs[0].since
    assert person_words(found, 0, second) == "the person of early puts mill right after a stop"
    assert machine_words(found, 0, second) == "mill stands stopped"


def test_bands_of_shifts_breaks_and_limits() -> None:
    found = week_of("pallets")
    (early,) = found.shifts
    assert (early.shift, early.people) == ("early", 2)
    assert early.runs == tuple(
        Band(day * DAY + SIX, day * DAY + SIX + 2 * HOUR) for day in range(5)
    )
    assert early.breaks == ()
    # Monday: nobody; the shift; an hour in which pieces may still be begun; nobody.
    assert [(one.since, one.until, one.mode, one.begins) for one in found.hours[:4]] == [
        (0, SIX, "after_hours", False),
        (SIX, SIX + 2 * HOUR, "attended", True),
        (SIX + 2 * HOUR, SIX + 3 * HOUR, "after_hours", True),
        (SIX + 3 * HOUR, DAY + SIX, "after_hours", False),
    ]
    assert found.hours[-1].until == WEEK


def test_a_shift_over_sunday_midnight_is_two_bands() -> None:
    (night,) = week_of("sundays").shifts
    assert night.runs == (Band(0, SIX), Band(6 * DAY + 22 * HOUR, WEEK))
    assert night.breaks == (Band(HOUR, HOUR + 30 * MINUTE),)


# --- in words ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("clock", "text"),
    [
        (
            0,
            "Mon 06:00: mill stands while it is loaded; the person of early loads mill with 1 body",
        ),
        (5, "Mon 06:05: mill cuts body; the person of early is free"),
        (
            14,
            "Mon 06:14: mill stands while it is loaded; "
            "the person of early takes 1 body off mill and loads 1 body",
        ),
        (61, "Mon 07:01: mill cuts body; the person of early is on a break"),
        (70, "Mon 07:10: mill stands, nobody being on duty; the person of early is on a break"),
        (121, "Mon 08:01: mill stands, nobody being on duty; nobody is there"),
    ],
)
def test_a_moment_in_words_with_a_pencil(clock: int, text: str) -> None:
    assert moment_words(week_of("table"), SIX + 60 * clock) == text


def test_pallets_in_words() -> None:
    found = week_of("pallets")
    # Both people visit pallet 1 of each mill at 06:00, then pallet 2 from 06:03.
    second = SIX + 4 * MINUTE
    assert moment_words(found, second) == (
        "Mon 06:04: mill 1 cuts body, 1 of 3 pallets loaded; mill 2 cuts body, 1 of 3 pallets "
        "loaded; person 1 of early loads pallet 2 of mill 1 with 1 body; person 2 of early loads "
        "pallet 2 of mill 2 with 1 body"
    )
    assert [pallet_words(found, 0, pallet, second) for pallet in (1, 2, 3)] == [
        "pallet 1 of mill 1 is in the spindle, which cuts 1 body",
        "pallet 2 of mill 1 is served (1 body on)",
        "pallet 3 of mill 1 is empty, waits for a person",
    ]


def test_everything_that_happens_in_the_demos_can_be_said() -> None:
    said = set()
    for path in sorted(DEMOS.glob("*.toml")):
        checked = check(read_text(path.read_text("utf-8")))
        for one in plans_of(checked).values():
            found = week(one, 1)
            assert found is not None
            for place, machine in enumerate(found.machines):
                for span in machine.states:
                    said.add((span.state, machine_words(found, place, span.since).split(",")[0]))
                for number, spans in enumerate(machine.pallets, 1):
                    texts = {pallet_words(found, place, number, span.since) for span in spans}
                    assert not any("None" in text or " 0 " in text for text in texts)
            for person, week_ in enumerate(found.persons):
                texts = {person_words(found, person, span.since) for span in week_.does}
                assert not any("None" in text or " 0 " in text for text in texts)
    assert {state for state, _ in said} >= {"in_cycle", "setup", "load", "first_piece"}


def test_a_second_outside_the_week_is_refused() -> None:
    for second in (-1, WEEK):
        with pytest.raises(ValueError, match="is not in a week"):
            span_at(week_of("table").hours, second)
    assert clock_text(DAY + 14 * HOUR + 20 * MINUTE + 59) == "Tue 14:20"


# --- in signs ---------------------------------------------------------------------------


def test_signs_of_a_morning_with_a_pencil() -> None:
    found = week_of("table")
    # Ten minutes each from 05:50. Cut is from minute 3 to 13 of the shift, 17 to 27, 31 to 41,
    # 45 to 55 and from 59: none, then 7 minutes, 6, 7, 9, 6 and 6.
    assert machine_signs(found, 0, SIX - 600, SIX + 3600, 7) == ".+++#++"
    assert cut_hours(found, 0, 0, DAY) == pytest.approx(8 * 10 / 60)
    # A visit of 3 min, seven of 4, and 3 min of the last, which begins at minute 117 of 120.
    busy, duty = people_hours(found, 0, DAY)
    assert busy == pytest.approx((3 + 7 * 4 + 3) / 60)
    assert duty == pytest.approx(1.75)


def test_the_night_runs_dry_in_signs() -> None:
    found = week_of("pallets")
    loaded = loaded_signs(found, 0, SIX, SIX + 4 * HOUR, 8)
    assert loaded[0] == "."
    # At 08:00 the third pallet, cut at 118.5 min, is put down half served.
    assert loaded[4] == "2"
    assert loaded[-1] == "."
    assert people_signs(found, SIX - HOUR, SIX + 4 * HOUR, 5)[2:] == (
        people_signs(found, SIX + HOUR, SIX + 2 * HOUR, 1) + ">."
    )
    assert people_signs(found, SIX - HOUR, SIX, 1) == "."


def test_a_break_of_all_people_has_its_sign() -> None:
    assert people_signs(week_of("table"), SIX + HOUR, SIX + HOUR + 900, 1) == "b"


def test_each_state_has_a_sign_of_its_own_with_a_meaning() -> None:
    assert list(MACHINE_SIGNS) == list(STATES)
    signs = list(MACHINE_SIGNS.values())
    assert len(set(signs)) == len(signs)
    assert {*signs, "+"} == set(MEANINGS)
    assert all(len(sign) == 1 and sign.isascii() for sign in MEANINGS)


# --- text and JSON ----------------------------------------------------------------------


@pytest.mark.parametrize("scenario", ["table", "pallets", "stops", "sundays"])
def test_the_text_is_eighty_columns_wide_and_explains_its_signs(scenario: str) -> None:
    text = to_text(week_of(scenario))
    lines = text.splitlines()
    assert max(map(len, lines)) <= COLUMNS
    days = [line for line in lines if line[2:5] in ("Mon", "Sun") and line.startswith("  ")]
    machines = 2 if scenario == "pallets" else 1
    assert len(days) == 2 * (machines + 1)
    legend = text[text.index("Machines:") : text.index("People:")]
    for line in lines[: lines.index("Machines:")]:
        if line[2:5].istitle() and line.rstrip().endswith(" h") and " of " not in line:
            for sign in line[10:58]:
                assert f"  {sign}  {MEANINGS[sign]}" in legend
    assert ("seeded" in text) == (scenario == "stops")


def test_the_text_tells_shifts_by_their_days() -> None:
    assert "early: 1 person, Mon-Fri 06:00-08:00; breaks Mon-Fri 07:00-07:15" in to_text(
        week_of("table")
    )
    assert "night: 1 person, Mon 00:00-06:00, Sun 22:00-24:00; breaks Mon 01:00-01:30" in to_text(
        week_of("sundays")
    )


def test_hundreds_of_people_and_long_names_fit() -> None:
    text = STUDY.replace("machine.mill.", f"machine.{'m' * 40}.").replace(
        "shift.early.people = 2", "shift.early.people = 200"
    )
    lines = to_text(week_of("pallets", text=text)).splitlines()
    assert max(map(len, lines)) <= COLUMNS
    assert any(line == f"{'m' * 40} 2" for line in lines)


SPAN = {"from_second", "to_second"}


def test_json_carries_every_span() -> None:
    found = week_of("pallets")
    told: Any = json.loads(to_json(found))
    assert set(told) == {
        *("format", "scenario", "title", "week", "weeks", "seeded_runs"),
        *("machines", "people", "shifts", "hours"),
    }
    assert (told["scenario"], told["week"], told["weeks"], told["seeded_runs"]) == (
        *("pallets", 1, 3),
        None,
    )
    first = told["machines"][0]
    assert (first["machine"], first["number"]) == ("mill", 1)
    assert set(first["states"][0]) == {*SPAN, "state", "part"}
    assert set(first["loaded"][0]) == {*SPAN, "pallets"}
    assert len(first["pallets"]) == 3
    assert set(first["pallets"][0][0]) == {
        *SPAN,
        *("does", "part", "pieces", "next_part", "next_pieces"),
    }
    spans = found.machines[0].states
    assert [one["to_second"] for one in first["states"]] == [span.until for span in spans]
    assert sum(one["to_second"] - one["from_second"] for one in first["states"]) == WEEK
    person = told["people"][1]
    assert person["person"] == "person 2 of early"
    assert {
        "from_second": SIX,
        "to_second": SIX + 180,
        "does": "visit",
        "machine": "mill 2",
        "pallet": 1,
    } in person["does"]
    assert told["shifts"][0]["runs"][0] == {"from_second": SIX, "to_second": SIX + 2 * HOUR}
    assert told["hours"][1] == {
        "from_second": SIX,
        "to_second": SIX + 2 * HOUR,
        "mode": "attended",
        "pieces_may_be_begun": True,
    }
    assert json.loads(to_json(week_of("stops")))["seeded_runs"] == 20


# --- the command ------------------------------------------------------------------------

Streams = pytest.CaptureFixture[str]


@pytest.fixture
def study(tmp_path: Path) -> str:
    path = tmp_path / "study.toml"
    path.write_text(STUDY, encoding="utf-8")
    return str(path)


@pytest.mark.parametrize("form", FORMATS)
def test_the_command_prints_each_form(study: str, capsys: Streams, form: str) -> None:
    assert main(["week", study, "pallets", "--week", "2", "--format", form]) == 0
    out, err = capsys.readouterr()
    assert (out, err) == (FORMATS[form](week_of("pallets", 2)) + "\n", "")


def test_the_command_prints_the_first_week_as_text(study: str, capsys: Streams) -> None:
    assert main(["week", study, "table"]) == 0
    assert capsys.readouterr().out.startswith("One table: week 1 of the 3 measured\n")


@pytest.mark.parametrize("form", MOMENT_FORMATS)
def test_the_command_prints_a_moment(study: str, capsys: Streams, form: str) -> None:
    assert main(["week", study, "pallets", "--at", "Monday 6:04", "--format", form]) == 0
    out = capsys.readouterr().out
    found = week_of("pallets")
    assert out == MOMENT_FORMATS[form](found, SIX + 240) + "\n"
    for place in range(2):
        assert machine_words(found, place, SIX + 240) in out
        assert person_words(found, place, SIX + 240) in out
        assert pallet_words(found, place, 3, SIX + 240) in out
    if form == "json":
        assert json.loads(out)["in_words"] == moment_words(found, SIX + 240)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            ["palets"],
            "There are: table, pallets, stops, nothing",
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
    told = json.loads(capsys.readouterr().out)
    cut = sum(
        one["to_second"] - one["from_second"]
        for one in told["machines"][0]["states"]
        if one["state"] == "in_cycle"
    )
    shift = 5 * 2 * HOUR
    assert cut <= 0.15 * shift < cut_hours(week_of("table"), 0, 0, WEEK) * HOUR
