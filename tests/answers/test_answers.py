"""Figures, worth, gains, limits and cautions."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from answer_studies import CHILD, FLOOR, TODAY, figured, plan_of, sound, today

from whatif.answers.gains import Gains, gains, percent
from whatif.cell.calendar import AFTER_HOURS, ATTENDED, ON_BREAK
from whatif.cell.model import HOUR
from whatif.cell.states import STATES, State
from whatif.plan.build import plans_of
from whatif.plan.model import in_money, worth
from whatif.telling.fit import not_made_sentence

# --- figures ----------------------------------------------------------------------------

SPENT = {
    (ATTENDED, State.IN_CYCLE): 50,
    (ON_BREAK, State.IN_CYCLE): 4,
    (AFTER_HOURS, State.IN_CYCLE): 16,
    (AFTER_HOURS, State.WARM_UP): 1,
    (AFTER_HOURS, State.PALLET_CHANGE): 3,
    (ATTENDED, State.WARM_UP): 7,
    (AFTER_HOURS, State.NOBODY_ON_DUTY): 11,
}


def test_hours_are_a_weeks() -> None:
    found = figured(TODAY, spent=SPENT, busy=30, free=12)
    one = found.spindle
    assert (one.total, one.attended, one.breaks, one.after_hours) == (35, 25, 2, 8)
    assert set(found.by_state) == set(STATES)
    assert (found.by_state["warm_up"], found.attended["warm_up"]) == (4, 3.5)
    assert found.after_hours["nobody_on_duty"] == 5.5
    people = found.people
    assert (people.paid, people.on_duty, people.busy, people.free_stretches) == (80, 75, 15, 6)


def test_unpaid_breaks_are_not_paid() -> None:
    people = figured(today().replace("\nbreaks", "\nunpaid_breaks")).people
    assert (people.paid, people.on_duty) == (75, 75)


def test_utilization_over_three_bases() -> None:
    """80 % of 70 h cut, in two weeks of 40 h of shift, with 20 h that spun after hours."""
    found = figured(today('part.body.in_cut = "80 %"'), spent=SPENT).utilization
    assert found.of_shift == pytest.approx(100 * 56 / 80)
    assert found.of_powered == pytest.approx(100 * 56 / (80 + 16 + 1 + 3))
    assert found.of_week == pytest.approx(100 * 56 / (2 * 168))
    several = figured(today("machine.mill.count = 4"), spent=SPENT).utilization
    assert several.of_shift == pytest.approx(100 * 70 / (4 * 80))


def test_hours_of_shift_count_once_and_over_the_weeks_end() -> None:
    late = """[scenario.today.shift.late]
days = ["sun"]
start = "22:00"
end = "07:00"
"""
    plan = plan_of(TODAY + late)
    # 5 x 8 h and 9 h more, of which Monday's last one is the early shift's too.
    assert plan.shift_seconds == (40 + 9 - 1) * HOUR
    assert plan.paid_seconds == (2 * 40 + 9) * HOUR
    assert plan.shift_days == 6


def test_no_utilization_of_no_time() -> None:
    found = figured(TODAY + "[scenario.today.shift.late]\n" + OFF, spent={}).utilization
    assert found.of_shift == 0
    nobody = figured(today().replace("people = 2", "people = 0")).utilization
    assert (nobody.of_shift, nobody.of_powered, nobody.of_week) == (None, None, 0)


OFF = 'days = ["sat"]\nstart = "06:00"\nend = "14:00"\npeople = 0\n'


def test_scrap_is_no_good_piece() -> None:
    found = figured(today('part.body.scrap = "5 %"'), cut=(180,))
    assert found.pieces == {"body": 85.5}
    assert found.demand_met == {"body": 85.5}
    assert found.output == pytest.approx(85.5 * 12)


def test_saleable_output_takes_no_more_than_is_wanted() -> None:
    text = today('part.cover.cycle = "6 min"', "part.cover.weekly = 30")
    found = figured(text, cut=(260, 40))
    # The parts are in the file's order: the cover was put in ahead of the body.
    assert list(found.pieces.items()) == [("cover", 130), ("body", 20)]
    assert found.output == pytest.approx(130 * 6 + 20 * 12)
    assert found.saleable == pytest.approx(30 * 6 + 20 * 12)
    assert found.demand_met == {"cover": pytest.approx(100 * 130 / 30), "body": 20}


def test_hours_that_nobody_buys_are_told_apart() -> None:
    """260 pieces in 52 h where 200 are wanted: 12 h in two weeks."""
    spent = {(ATTENDED, State.IN_CYCLE): 40, (AFTER_HOURS, State.IN_CYCLE): 12}
    assert figured(TODAY, cut=(260,), spent=spent).unsold_hours == 6
    assert figured(TODAY, cut=(200,), spent=spent).unsold_hours == 0
    assert figured(TODAY, cut=(0,), spent=spent).unsold_hours == 0


@pytest.mark.parametrize(
    ("warm_up", "weeks", "met"),
    [
        (0, 1, None),  # order 1 is due at the beginning of week 3, 2 weeks from the start
        (0, 2, None),  # an interval does not hold its end ...
        (0, 3, 0),
        (2, 1, 0),  # ... but its beginning
        (3, 1, None),
        (3, 2, 0),
        (1, 1, None),
    ],
)
def test_demand_of_which_nothing_falls_due(warm_up: int, weeks: int, met: float | None) -> None:
    text = today("part.body.weekly = 10", "part.body.batch = 20")
    text = text.replace("weeks = 2", f"weeks = {weeks}").replace(
        "warm_up = 0", f"warm_up = {warm_up}"
    )
    assert figured(text, cut=(0,)).demand_met == {"body": met}
    # Where some were made there is something to tell.
    assert figured(text, cut=(5,)).demand_met == {"body": pytest.approx(100 * 5 / (10 * weeks))}


def test_a_part_wanted_and_not_made_meets_nothing() -> None:
    text = today(
        'part.body.size = ["900 mm", "90 mm", "60 mm"]',
        'machine.mill.table = ["500 mm", "500 mm"]',
        "part.body.weekly = 0.5",
    )
    found = figured(text)
    assert (found.pieces, found.demand_met) == ({"body": 0}, {"body": 0})
    unmade = plan_of(text).parts[0].unmade
    assert unmade is not None
    assert "misses by" in not_made_sentence(unmade)


def test_a_part_no_longer_wanted_is_not_told() -> None:
    found = figured(today("part.cover.cycle = '6 min'", "part.cover.weekly = 0"), cut=(10,))
    assert list(found.pieces) == list(found.demand_met) == ["body"]


def test_floor_of_machines_and_of_pallets_beyond_the_first() -> None:
    floor = ('machine.mill.floor = "12 m^2"', 'machine.mill.pallet_floor = "1.5 m^2"')
    assert figured(today(*floor)).floor == 12
    more = ("machine.mill.count = 2", "machine.mill.pallets = 4")
    assert figured(today(*floor, *more)).floor == 2 * (12 + 3 * 1.5)
    assert figured(today(*floor, "machine.lathe.count = 1")).floor is None
    assert figured(today(*floor, "machine.lathe.count = 0")).floor == 12
    assert figured(TODAY).floor is None


# --- worth ------------------------------------------------------------------------------


def worths(text: str, scenario: str) -> dict[str, Fraction]:
    return dict(worth(plans_of(sound(text)), scenario, "today"))


def test_worth_in_minutes_is_the_references() -> None:
    text = (
        today('part.body.on.mill.cycle = "3 min"')
        + CHILD
        + 'part.body.cycle = "6 min"\npart.cover.cycle = "90 s"\npart.cover.weekly = 5\n'
    )
    assert worths(text, "today") == {"body": 12}
    # Faster cutting makes no piece worth less; what the reference lacks has its own minutes.
    assert worths(text, "child") == {"body": 12, "cover": Fraction(3, 2)}


def test_worth_is_money_as_soon_as_one_part_has_a_contribution() -> None:
    text = today() + CHILD + "part.cover.cycle = '6 min'\npart.cover.weekly = 5\n"
    assert not in_money(plans_of(sound(text)))
    paid = text + "part.cover.contribution = 7.25\n"
    assert in_money(plans_of(sound(paid)))
    assert worths(paid, "today") == {"body": 0}
    assert worths(paid, "child") == {"body": 0, "cover": Fraction(29, 4)}


# --- gains --------------------------------------------------------------------------------


def test_gains_against_the_reference() -> None:
    base = figured(today(FLOOR), cut=(100,), spent={(ATTENDED, State.IN_CYCLE): 20})
    more = figured(
        today('machine.mill.floor = "16 m^2"'),
        cut=(250,),
        spent={(ATTENDED, State.IN_CYCLE): 50},
    )
    fewer_paid = replace(more, people=replace(more.people, paid=base.people.paid / 2))
    found = gains(fewer_paid, base)
    assert found.saleable == pytest.approx(100)  # 100 of 125 a week are wanted, of 50 before
    assert found.output == pytest.approx(150)
    assert found.spindle_hours == pytest.approx(150)
    assert found.per_paid_hour == pytest.approx(100 * (2.5 / 0.5 - 1))
    assert found.per_floor_area == pytest.approx(100 * (2.5 / 1.6 - 1))
    assert gains(base, base) == Gains(0, 0, 0, 0, 0)


def test_gains_of_which_a_side_is_missing() -> None:
    full = figured(today(FLOOR), cut=(100,), spent={(ATTENDED, State.IN_CYCLE): 20})
    nothing = figured(today(FLOOR))
    no_floor, unpaid = replace(full, floor=None), replace(full, people=replace(full.people, paid=0))
    for one, base in ((no_floor, full), (full, no_floor)):
        assert gains(one, base) == Gains(0, 0, 0, 0, None)
    for one, base in ((unpaid, full), (full, unpaid)):
        assert gains(one, base) == Gains(0, 0, 0, None, 0)
    assert gains(nothing, full) == Gains(-100, -100, -100, -100, -100)
    assert gains(full, nothing) == Gains(None, None, None, None, None)


@pytest.mark.parametrize(
    ("figure", "reference", "gain"),
    [(3, 2, 50), (1, 2, -50), (0, 2, -100), (None, 2, None), (2, None, None), (2, 0, None)],
)
def test_percent(figure: float | None, reference: float | None, gain: float | None) -> None:
    assert percent(figure, reference) == gain
