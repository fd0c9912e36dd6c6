"""A week of a scenario in bands, words and signs."""

from __future__ import annotations

import pickle
from collections import Counter

import pytest
from few_draws import SCENARIOS, few_weeks
from week_studies import SIX, plan, week_of

from whatif.answers.week import Band, span_at, week
from whatif.cell.model import DAY, HOUR, MINUTE, WEEK
from whatif.cell.states import STATES
from whatif.plan.build import plans_of
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
    assert luck_words(found).startswith("Stops fall here as in the first of 3 seeded runs;")
    repairs = [span for span in found.persons[0].does if span.does == "repair"]
    assert repairs
    second = repairs[0].since
    assert (
        person_words(found, 0, second)
        == "the person of the early shift puts mill right after a stop"
    )
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
            "Mon 06:00: mill stands while it is loaded; "
            "the person of the early shift loads mill with 1 piece of body",
        ),
        (5, "Mon 06:05: mill cuts pieces of body; the person of the early shift is free"),
        (
            14,
            "Mon 06:14: mill stands while it is loaded; "
            "the person of the early shift takes 1 piece of body off mill and loads 1 piece of "
            "body",
        ),
        (61, "Mon 07:01: mill cuts pieces of body; the person of the early shift is on a break"),
        (
            70,
            "Mon 07:10: mill stands, nobody being on duty; the person of the early shift is on a "
            "break",
        ),
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
        "Mon 06:04: mill 1 cuts pieces of body, 1 of 3 pallets loaded; "
        "mill 2 cuts pieces of body, 1 of 3 pallets loaded; "
        "person 1 of the early shift loads pallet 2 of mill 1 with 1 piece of body; "
        "person 2 of the early shift loads pallet 2 of mill 2 with 1 piece of body"
    )
    assert [pallet_words(found, 0, pallet, second) for pallet in (1, 2, 3)] == [
        "pallet 1 of mill 1 is in the spindle, which cuts 1 piece of body",
        "pallet 2 of mill 1 is served (1 piece of body on)",
        "pallet 3 of mill 1 is empty, waits for a person",
    ]


@pytest.mark.long
def test_everything_that_happens_in_the_demos_can_be_said() -> None:
    said = set()
    for path in sorted(SCENARIOS.glob("*.toml")):
        checked = check(few_weeks(read_text(path.read_text("utf-8"))))
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
    # Of 70 minutes people are there for the first 30: nobody is free in most of them.
    leave = min(span.until for span in found.hours if span.mode == "attended")
    assert people_signs(found, leave - HOUR // 2, leave + 40 * 60, 1) == ">"


def test_a_break_of_all_people_has_its_sign() -> None:
    assert people_signs(week_of("table"), SIX + HOUR, SIX + HOUR + 900, 1) == "b"


def test_each_state_has_a_sign_of_its_own_with_a_meaning() -> None:
    assert list(MACHINE_SIGNS) == list(STATES)
    signs = list(MACHINE_SIGNS.values())
    assert len(set(signs)) == len(signs)
    assert {*signs, "+"} == set(MEANINGS)
    assert all(len(sign) == 1 and sign.isascii() for sign in MEANINGS)


@pytest.mark.parametrize("scenario", ["pallets", "stops", "sundays"])
@pytest.mark.parametrize(
    ("since", "length", "slices"),
    [(0, 2 * HOUR, 84), (SIX - 700, 600, 97), (WEEK - 50 * 900, 900, 50), (DAY, 60, 60)],
)
def test_signs_and_hours_are_those_that_the_seconds_counted_singly_say(
    scenario: str, since: int, length: int, slices: int
) -> None:
    found = week_of(scenario)
    until = since + slices * length
    for place, machine in enumerate(found.machines):
        states = _second_by_second(
            [(span.since, span.until, span.state) for span in machine.states]
        )
        said = machine_signs(found, place, since, until, slices)
        for i, sign in enumerate(said):
            began = since + i * length
            spent = Counter(states[began : began + length])
            if 0 < spent["nobody_on_duty"] <= length / 2:
                del spent["nobody_on_duty"]
            most = max((state for state in MACHINE_SIGNS if spent[state]), key=spent.__getitem__)
            pauses = most == "in_cycle" and spent[most] * 10 < length * 9
            assert sign == ("+" if pauses else MACHINE_SIGNS[most]), (place, i)
        cut = states[since:until].count("in_cycle")
        assert cut_hours(found, place, since, until) == pytest.approx(cut / HOUR)
    does = [
        _second_by_second([(span.since, span.until, span.does) for span in person.does])
        for person in found.persons
    ]
    there = [[d not in ("off_duty", "on_break") for d in each[since:until]] for each in does]
    busy = [[d not in ("off_duty", "on_break", "free") for d in each[since:until]] for each in does]
    assert people_hours(found, since, until) == pytest.approx(
        (sum(map(sum, busy)) / HOUR, sum(map(sum, there)) / HOUR)
    )
    said = people_signs(found, since, until, slices)
    for i, sign in enumerate(said):
        those = slice(i * length, (i + 1) * length)
        if any(any(each[those]) for each in there):
            at_work = sum(sum(each[those]) for each in busy)
            manned = sum(map(any, zip(*(each[those] for each in there), strict=True)))
            many = int(at_work / manned + 0.5)
            assert sign.isdigit() is (max(at_work, manned) >= length / 2)
            assert not sign.isdigit() or sign == str(many)


def _second_by_second(spans: list[tuple[int, int, str]]) -> list[str]:
    return [what for since, until, what in spans for _ in range(since, until)]
