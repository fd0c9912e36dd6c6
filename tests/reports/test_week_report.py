"""A week of a scenario in text and JSON."""

from __future__ import annotations

import json
from typing import Any

import pytest
from week_studies import SIX, STUDY, week_of

from whatif.cell.model import HOUR, WEEK
from whatif.reports.document import as_json, as_text
from whatif.reports.week import week_report
from whatif.telling.week.signs import MEANINGS


@pytest.mark.parametrize("scenario", ["table", "pallets", "stops", "sundays"])
def test_the_text_is_eighty_columns_wide_and_explains_its_signs(scenario: str) -> None:
    text = as_text(week_report(week_of(scenario)))
    lines = text.splitlines()
    assert max(map(len, lines)) <= 80
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
    table, sundays = (as_text(week_report(week_of(id_))) for id_ in ("table", "sundays"))
    assert "early: 1 person, Mon-Fri 06:00-08:00; breaks Mon-Fri 07:00-07:15" in table
    assert "night: 1 person, Mon 00:00-06:00, Sun 22:00-24:00; breaks Mon 01:00-01:30" in sundays


@pytest.mark.long
def test_hundreds_of_people_and_long_names_fit() -> None:
    text = STUDY.replace("machine.mill.", f"machine.{'m' * 40}.").replace(
        "shift.early.people = 2", "shift.early.people = 200"
    )
    lines = as_text(week_report(week_of("pallets", text=text))).splitlines()
    assert max(map(len, lines)) <= 80
    assert any(line == f"{'m' * 40} 2" for line in lines)


SPAN = {"from_second", "to_second"}


def test_json_carries_every_span() -> None:
    found = week_of("pallets")
    told: Any = json.loads(as_json(week_report(found)))
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
    assert person["person"] == "person 2 of the early shift"
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
    assert json.loads(as_json(week_report(week_of("stops"))))["seeded_runs"] == 3
