"""What is said, what is measured, and how both stand beside the run (rule `said.against`).

The hours a day and the gain in here are common practice, no source; mere arithmetic, not counted
as an outside check.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from json_told import json_of
from meter_studies import study as meters

from whatif.answers.answer import Comparison, HoursSaid
from whatif.answers.compare import compare
from whatif.cell.calendar import AFTER_HOURS, ATTENDED, MODES
from whatif.cell.model import HOUR, WEEK, Cell
from whatif.cell.states import STATES, State
from whatif.cell.tally import Tally
from whatif.plan.build import plans_of
from whatif.reports.comparison import comparison_report
from whatif.reports.document import as_text
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import Checked, check
from whatif.study.file.reading import read_text
from whatif.telling.limits import limit_in_short
from whatif.telling.problems import warning_sentence
from whatif.telling.strip import SAID
from whatif.telling.warnings import said_warning, warnings_of

SAYS = """\
format = 1
[scenario.two]
machine.mill.count = 2
said.with_people.hours = "8 h"
said.with_people.cutting = "30 %"
[scenario.one]
machine.mill.count = 1
said.with_people.hours = "8 h"
said.with_people.cutting = "70 %"
said.with_nobody.hours = "2 h"
"""


def answered(text: str, simulate: Callable[[Cell, int, int], Tally] | None = None) -> Comparison:
    checked = check(read_text(text))
    assert checked.problems == ()
    return compare(checked, simulate or Memory())


def said_of(text: str, scenario: str = "one") -> HoursSaid:
    found = answered(text).answers[scenario].said
    assert found is not None
    return found


# --- the arithmetic ---------------------------------------------------------------------


def test_two_machines_at_thirty_percent_and_one_with_two_hours_more() -> None:
    """4.8 h against 7.6 h a day, +58 %: common practice, no source; mere arithmetic."""
    before, after = said_of(SAYS, "two"), said_of(SAYS, "one")
    assert before.hours_per_day == pytest.approx(2 * 8 * 0.30) == pytest.approx(4.8)
    assert after.hours_per_day == pytest.approx(1 * (8 * 0.70 + 2 * 1.00)) == pytest.approx(7.6)
    assert before.gain == 0
    assert after.gain is not None
    assert round(after.gain, 2) == 58.33


def test_what_is_said_in_json_is_plain_numbers() -> None:
    scenarios = json_of(answered(SAYS))["scenarios"]
    assert scenarios["one"]["said"] == {"hours_per_day": 7.6, "gain_percent": 58.333333}
    # Nothing is made, so nothing is simulated beside it.
    assert scenarios["one"]["simulated"] is None
    assert set(scenarios["one"]["gain_percent"].values()) == {None}


@pytest.mark.parametrize(
    ("line", "hours"),
    [
        ("said.machines = 3", 3 * 7.6),
        ("said.machines = 0", 0),
        ('said.with_nobody.cutting = "50 %"', 8 * 0.7 + 2 * 0.5),
        ('said.with_nobody.hours = "0 h"', 5.6),
        ("machine.lathe.count = 2", 3 * 7.6),
        ("machine.mill.count = 0", 0),
    ],
)
def test_each_number_of_what_is_said_counts(line: str, hours: float) -> None:
    key = line.split(" = ")[0]
    lines = [other for other in SAYS.splitlines()[5:] if not other.startswith(key)]
    text = "\n".join([*SAYS.splitlines()[:5], *lines, line])
    assert said_of(text).hours_per_day == pytest.approx(hours)


def test_nothing_is_said_without_a_share_in_cut() -> None:
    lines = [line for line in SAYS.splitlines() if "70 %" not in line]
    found = answered("\n".join(lines))
    assert found.answers["one"].said is None
    assert found.answers["two"].said is not None
    scenarios = json_of(found)["scenarios"]
    assert scenarios["one"]["said"] is None


def test_no_gain_where_nothing_is_said_of_the_reference() -> None:
    lines = [line for line in SAYS.splitlines() if "30 %" not in line]
    assert said_of("\n".join(lines)).gain is None
    nothing = SAYS.replace("30 %", "0 %")
    assert said_of(nothing).gain is None


def test_a_share_of_nothing_is_still_said() -> None:
    assert said_of(SAYS.replace("70 %", "0 %")).hours_per_day == pytest.approx(2)


# --- hours with people that are not said ------------------------------------------------


def shift(id_: str, days: list[str], start: str, end: str, *more: str) -> str:
    days_text = ", ".join(f'"{day}"' for day in days)
    return "\n".join(
        [
            f"[scenario.one.shift.{id_}]",
            f"days = [{days_text}]",
            f'start = "{start}"',
            f'end = "{end}"',
            *more,
        ]
    )


WEEKDAYS = ["mon", "tue", "wed", "thu", "fri"]


@pytest.mark.parametrize(
    ("shifts", "hours"),
    [
        ([], 0),
        ([shift("early", WEEKDAYS, "06:00", "14:00")], 8),
        # Hours that a shift covers: its break is in them, and two at once count once.
        ([shift("early", WEEKDAYS, "06:00", "14:00", 'breaks = ["09:00-09:30"]')], 8),
        ([shift("early", WEEKDAYS, "06:00", "14:00", "people = 3")], 8),
        (
            [shift("early", WEEKDAYS, "06:00", "14:00"), shift("day", WEEKDAYS, "08:00", "16:30")],
            10.5,
        ),
        # Nobody is there in a shift that has been taken out.
        (
            [
                shift("early", WEEKDAYS, "06:00", "14:00"),
                shift("late", WEEKDAYS, "14:00", "22:00", "people = 0"),
            ],
            8,
        ),
        ([shift("early", ["mon"], "06:00", "14:00"), shift("long", ["tue"], "06:00", "18:00")], 12),
        # Over midnight: 2 h on the first day, 6 h on the second, 8 h where two meet.
        ([shift("night", ["mon"], "22:00", "06:00")], 6),
        ([shift("night", ["mon", "tue"], "22:00", "06:00")], 8),
        ([shift("night", ["sun"], "22:00", "06:00")], 6),
        (
            [shift("night", ["sun"], "22:00", "06:00"), shift("early", ["mon"], "06:00", "14:00")],
            14,
        ),
        ([shift("all", WEEKDAYS, "06:00", "06:00")], 24),
        ([shift("all", ["wed"], "06:00", "06:00")], 18),
    ],
)
def test_attended_hours_are_those_of_the_busiest_day(shifts: list[str], hours: float) -> None:
    text = "\n".join(
        [
            "format = 1",
            "[scenario.one]",
            "machine.mill.count = 1",
            'said.with_people.cutting = "100 %"',
            *shifts,
        ]
    )
    assert said_of(text).hours_per_day == pytest.approx(hours)


# --- beside what is simulated -----------------------------------------------------------

# Five days a week of one shift; one mill.
BESIDE = """\
format = 1
weeks = 1
warm_up = 0
[scenario.one]
machine.mill.count = 1
part.body.cycle = "10 min"
part.body.weekly = 100
said.with_people.hours = "8 h"
said.with_people.cutting = "100 %"
[scenario.one.shift.early]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
"""


def cutting(a_day: float, after_hours: float = 0) -> Callable[[Cell, int, int], Tally]:
    """A machine in cycle for so many hours a day, five days a week; it waits for a person else."""

    def simulate(cell: Cell, warm_up: int, weeks: int) -> Tally:
        spent = [[0] * len(STATES) for _ in MODES]
        spent[ATTENDED][State.IN_CYCLE] = round(a_day * 5 * HOUR)
        spent[ATTENDED][State.WAITING_FOR_PERSON] = round((8 - a_day) * 5 * HOUR)
        spent[AFTER_HOURS][State.IN_CYCLE] = round(after_hours * 5 * HOUR)
        return Tally(
            seconds=WEEK,
            spent=(tuple(tuple(mode) for mode in spent),),
            cycle=((sum(mode[State.IN_CYCLE] for mode in spent),),),
            cut=(0,),
            busy=(0,),
            busy_by_job=((0, 0, 0, 0, 0),),
            free_stretches=(0,),
            most_held=(1,),
        )

    return simulate


@pytest.mark.parametrize(("a_day", "after_hours"), [(7.2, 0), (7.9, 0), (8, 0), (8, 0.79), (7, 1)])
def test_within_a_tenth_of_it_nothing_is_said(a_day: float, after_hours: float) -> None:
    answer = answered(BESIDE, cutting(a_day, after_hours)).answers["one"]
    assert answer.said is not None
    assert said_warning(answer) == ""
    assert not any("are said" in text for text in warnings_of(answer))


def test_fewer_hours_than_said_and_what_holds_the_cell_back() -> None:
    found = answered(BESIDE, cutting(7.1))
    answer = found.answers["one"]
    assert answer.said is not None
    said = said_warning(answer)
    assert said.startswith(
        "8.0 spindle hours a day are said; the model finds 7.1 h a day, 0.9 h fewer. "
    )
    assert answer.held_back is not None
    assert answer.held_back.state == "waiting_for_person"
    assert limit_in_short(answer.held_back) in said
    assert said in warnings_of(answer)
    assert said in as_text(comparison_report(found))
    assert said in json_of(found)["scenarios"]["one"]["warnings"]


def test_more_hours_than_said() -> None:
    answer = answered(BESIDE, cutting(8, after_hours=0.9)).answers["one"]
    assert answer.said is not None
    assert said_warning(answer) == (
        "8.0 spindle hours a day are said; the model finds 8.9 h a day, 0.9 h more."
    )


def test_a_day_is_a_weeks_hours_over_the_days_on_which_a_shift_starts() -> None:
    """A night shift on five days touches six; the hours are still divided by five."""
    night = BESIDE.replace('"06:00"', '"22:00"').replace('"14:00"', '"06:00"')
    answer = answered(night, cutting(7.1)).answers["one"]
    assert answer.figures is not None
    assert answer.figures.days == 5
    assert answer.said is not None
    assert "the model finds 7.1" in said_warning(answer)


def test_what_is_said_is_held_against_a_real_run() -> None:
    """A table of which a 10 min cycle takes ten of fourteen minutes: 8 h are not in it."""
    answer = answered(BESIDE).answers["one"]
    assert answer.figures is not None
    assert answer.said is not None
    a_day = answer.figures.spindle.total / 5
    assert 0.6 * 8 < a_day < 0.9 * 8
    assert f"the model finds {a_day:.1f} h a day, {8 - a_day:.1f} h fewer" in said_warning(answer)


def test_nothing_is_said_where_nothing_is_made() -> None:
    lines = [line for line in BESIDE.splitlines() if not line.startswith("part.")]
    answer = answered("\n".join(lines)).answers["one"]
    assert answer.said is not None
    assert said_warning(answer) == ""


# --- hour meters ------------------------------------------------------------------------

UNSAID = "".join(line for line in BESIDE.splitlines(keepends=True) if not line.startswith("said."))


def metered(in_cut: str, switched_on: str, *more: str) -> Checked:
    meters = (
        f'[scenario.one]\nhour_meters.in_cut = "{in_cut}"\n'
        f'hour_meters.switched_on = "{switched_on}"'
    )
    text = UNSAID.replace("[scenario.one]", meters)
    return check(read_text("\n".join([text, *more])))


def in_json(checked: Checked) -> Any:
    assert checked.problems == ()
    return json_of(compare(checked, Memory()))["scenarios"]


@pytest.mark.parametrize(("in_cut", "percent"), [("200 h", 20), ("210 h", 21), ("240 h", 24)])
def test_a_fifth_of_the_hours_in_cut_is_nothing_to_warn_of(in_cut: str, percent: float) -> None:
    """20 to 24 % by the hour meters is an everyday figure (common practice, no source)."""
    checked = metered(in_cut, "1000 h")
    assert checked.warnings == ()
    one = in_json(checked)["one"]
    assert one["warnings"] == []
    assert one["hour_meters"]["utilization_percent"] == pytest.approx(percent)


def test_a_period_too_short_is_told() -> None:
    checked = metered("8 h", "39 h")
    (warning,) = checked.warnings
    assert warning.key == "hour_meters.switched_on"
    assert in_json(checked)["one"]["warnings"] == [warning_sentence(warning)]


def test_meters_of_a_scenario_stand_above_the_one_below() -> None:
    scenarios = in_json(metered("210 h", "1000 h", "[scenario.below]", 'parent = "one"'))
    assert scenarios["one"]["hour_meters"]["utilization_percent"] == 21
    # They are told of below, but the percentage is not its own.
    assert scenarios["below"]["hour_meters"]["utilization_percent"] is None


def test_no_meters_are_told_of_where_none_stand() -> None:
    assert in_json(check(read_text(UNSAID)))["one"]["hour_meters"] is None


def test_what_is_said_above_is_told_as_inherited() -> None:
    said = 'said.with_people.cutting = "50 %"\n'
    text = meters().replace("[scenario.now.shift.day]", f"{said}[scenario.now.shift.day]")
    plans = plans_of(check(read_text(text)))
    assert [plans[id_].said_of for id_ in ("now", "pair")] == ["", "now"]
    answer = replace(answered(BESIDE, cutting(7.1)).answers["one"], plan=plans["pair"])
    # It was said of the one above, and is no warning below.
    assert said_warning(answer) == ""
    assert not answer.said_differs
    assert SAID.said(answer, False).text.endswith(" ↑")
    own = replace(answer, plan=plans["now"])
    assert own.said_differs
    assert said_warning(own).startswith("8.0 spindle hours a day are said; ")
    assert "↑" not in SAID.said(own, False).text
