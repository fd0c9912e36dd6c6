"""Nights: how long the spindles go on, what ends it, what waits, how many pallets last.

The cell of most tests: one mill with pallets, one person from 06:00 to 14:00 on weekdays. A load
is 3 pieces of 20 min, a change takes 1 min, a visit 3 x (1 + 1) = 6 min. Where everything is cut
when the person comes, the first pallet is loaded at 06:06 and cut from 06:07; every 61 min the next
one goes in. The eighth is cut from 06:07 + 7 x 61 min = 13:14 to 14:14, and by then the person has
loaded all others: 14 min and 60 min for every other pallet are cut after the shift. On the very
first Monday there is nothing to take off, so all is 3 min earlier: 11 min and 60 for every other.
"""

from __future__ import annotations

import math
import pickle
from dataclasses import replace

import pytest
from answer_studies import plan_of, sound
from cells import cell_of, few
from hypothesis import given
from night_studies import SHIFT, monday, nights, silent, study
from oracle.specs import Spec, cells
from stop_studies import NIGHTS, day
from stop_studies import study as endless

from whatif.answers.night.night import GroupNight, NightsAfter, Spread, nights_of, steps
from whatif.answers.night.of_study import study_nights
from whatif.answers.night.pallets import Fewest, fewest
from whatif.answers.night.watch import follow_nights, gaps
from whatif.cell.calendar import AFTER_HOURS, Calendar
from whatif.cell.look import Why
from whatif.cell.model import HOUR, WEEK
from whatif.cell.run import Run
from whatif.cell.states import State
from whatif.session.calculate.memory import Memory
from whatif.telling.night import (
    by_clock,
    night_in_words,
    night_label,
    opening,
    pallets_in_words,
)


def minutes(spread: Spread) -> tuple[float, ...]:
    """Least, mean and most of hours, in minutes."""
    return tuple(round(60 * one, 6) for one in (spread.least, spread.mean, spread.most))


def ended_by(one: NightsAfter) -> dict[str, float]:
    (group,) = one.groups
    return dict(group.ends)


# --- which nights there are ----------------------------------------------------------------


def test_a_night_follows_each_shift_after_which_nobody_comes() -> None:
    found = nights()
    assert [night_label(one) for one in found.after] == [
        f"{name}'s day shift" for name in ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday")
    ]
    assert [one.length for one in found.after] == [16, 16, 16, 16, 64]
    assert [night_label(one) for one in found.alike] == [
        "Monday's to Thursday's day shift",
        "Friday's day shift",
    ]
    assert [one.seen for one in found.alike] == [4, 1]
    assert (by_clock(found.after[4], 0), by_clock(found.after[4], found.after[4].length)) == (
        "Fri 14:00",
        "Mon 06:00",
    )


def test_a_shift_that_another_follows_and_a_break_are_no_nights() -> None:
    late = """breaks = ["10:00-10:30"]
[scenario.today.shift.late]
days = ["mon", "wed"]
start = "14:00"
end = "02:00"
breaks = ["18:00-18:30"]
"""
    found = nights(shift=SHIFT + late)
    # Monday's late shift ends on Tuesday; Tuesday's day shift ends without one.
    assert [(night_label(one), by_clock(one, 0), one.length) for one in found.after] == [
        ("Monday's late shift", "Tue 02:00", 4),
        ("Tuesday's day shift", "Tue 14:00", 16),
        ("Wednesday's late shift", "Thu 02:00", 4),
        ("Thursday's day shift", "Thu 14:00", 16),
        ("Friday's day shift", "Fri 14:00", 64),
    ]


def test_no_night_where_somebody_always_is_there_or_nobody_ever() -> None:
    always = SHIFT.replace('"06:00"', '"00:00"').replace('"14:00"', '"00:00"')
    always = always.replace('"fri"]', '"fri", "sat", "sun"]')
    assert nights(shift=always).after == ()
    assert nights(shift=SHIFT + "people = 0\n").after == ()


def test_two_shifts_that_end_together_are_both_named() -> None:
    one = monday(shift=SHIFT + SHIFT.replace("shift.day", "shift.help").replace("06:00", "10:00"))
    assert (night_label(one), one.shifts) == ("Monday's day and help shifts", ("day", "help"))


# --- how long, and what ends it --------------------------------------------------------------


def test_pallets_cut_out() -> None:
    found = nights("warm_up = 1")
    for one in found.after:
        assert minutes(one.hours) == (194, 194, 194)
        assert by_clock(one, one.turning.mean).endswith("17:17")  # 14:14, and three times 61 min
        assert ended_by(one) == {"cut": 100}
        assert (one.groups[0].loaded, one.groups[0].lasting) == (4, 0)
        assert (one.all_last, one.some_last) == (0, 0)
    assert minutes(found.alike[0].turning) == (197, 197, 197)


@pytest.mark.parametrize(
    ("after", "at_limit", "cut"),
    [
        # Pieces are begun at 15:13, 15:33 and 15:53; the last is finished with its load at 16:13.
        ("2 h", "finish_piece", 11 + 60 + 60),
        # Held at 16:00 exactly: two hours less two changes.
        ("2 h", "hold", 120 - 2),
        # The piece in the spindle alone, or nothing at all.
        ("0 h", "finish_piece", 11),
        ("0 h", "hold", 0),
    ],
)
def test_the_hours_allowed_end_it(after: str, at_limit: str, cut: int) -> None:
    lines = (f'unattended.after_shift = "{after}"', f'unattended.at_limit = "{at_limit}"')
    one = monday(*lines)
    assert minutes(one.hours) == (cut, cut, cut)
    assert ended_by(one) == {"limit": 100}


def test_worn_tools_end_it() -> None:
    """A tool change of 5 min before every load: the eighth is cut from 06:04 + 7 x 66 min."""
    one = monday("part.body.tool_life = 3", 'part.body.tool_change = "5 min"')
    assert minutes(one.hours) == (46, 46, 46)
    assert ended_by(one) == {"tools": 100}


def test_a_part_that_may_not_run_unattended_ends_it() -> None:
    one = monday("part.body.unattended = false")
    assert minutes(one.hours) == (11, 11, 11)
    assert ended_by(one) == {"attended_part": 100}


ORDERS_OF_ONE = (
    'part.body.first_piece = "1 h"',
    'part.body.first_piece_every = "order"',
    "part.body.batch = 1",
    'part.body.load = "10 min"',
    'part.body.unload = "0 min"',
)


def test_a_first_piece_is_stranded_over_night() -> None:
    """On a table from 06:10 to 09:10; released at 10:10, the next is cut from 10:20 to 13:20."""
    table = ("machine.mill.pallets = 1", 'part.body.cycle = "3 h"')
    found = nights(*table, *ORDERS_OF_ONE)
    one = found.after[0]
    assert minutes(one.hours) == (0, 0, 0)
    assert ended_by(one) == {"release": 100}
    # It waits in the morning, and nobody can be asked for it yet.
    morning = one.morning
    assert (morning.pieces.mean, morning.visits.mean, morning.minutes.mean) == (1, 0, 0)
    assert morning.clearing == Spread(0, 0, 0)


def test_a_first_piece_is_not_begun_at_night() -> None:
    """The second pallet is cut from 11:12 to 16:12; the first is loaded with another one."""
    one = monday("machine.mill.pallets = 2", 'part.body.cycle = "5 h"', *ORDERS_OF_ONE)
    assert minutes(one.hours) == (132, 132, 132)
    assert ended_by(one) == {"first_piece": 100}


def test_a_load_waits_for_its_prove_out() -> None:
    """The person is at the second pallet until the shift ends."""
    short = SHIFT.replace("14:00", "06:20")
    lines = ("part.body.per_pallet = 1", 'part.body.load = "10 min"')
    one = monday(*lines, 'part.body.prove_out = "10 min"', shift=short)
    assert minutes(one.hours) == (0, 0, 0)
    assert ended_by(one) == {"prove_out": 100}


def test_no_order_and_no_fixture() -> None:
    """Three pieces are asked for, cut and taken off; or two tables share one fixture."""
    order = ("order.one.part = 'body'", "order.one.pieces = 3", "order.one.due = 'fri 12:00'")
    assert ended_by(monday("part.body.weekly = 0", *order)) == {"nothing_due": 100}
    second = ("machine.mill.count = 2", "machine.mill.pallets = 1", "part.body.fixtures = 1")
    assert ended_by(monday(*second)) == {"cut": 50, "no_fixture": 50}


def test_a_long_piece_runs_till_the_next_shift() -> None:
    """On a table from 06:03 on Monday to 12:03 on Tuesday."""
    found = nights("machine.mill.pallets = 1", 'part.body.cycle = "10 h"')
    one = found.after[0]
    assert minutes(one.hours) == (960, 960, 960)
    assert ended_by(one) == {"runs": 100}
    assert (one.all_last, one.some_last, one.groups[0].lasting) == (100, 100, 100)
    assert "runs till the next shift every time" in night_in_words(one, found)


def test_one_of_two_machines_runs_till_the_next_shift() -> None:
    """The other lacks a fixture."""
    lines = ("machine.mill.count = 2", "machine.mill.pallets = 1", "part.body.fixtures = 1")
    found = nights(*lines, 'part.body.cycle = "10 h"')
    one = found.after[0]
    assert (one.all_last, one.some_last, one.groups[0].lasting) == (0, 100, 50)
    assert ended_by(one) == {"runs": 50, "no_fixture": 50}
    assert "in 0 % of these nights, at least one does in 100 %" in night_in_words(one, found)


def test_there_is_nothing_to_follow_where_nothing_is_simulated() -> None:
    plan = plan_of(study())
    assert steps(plan) > 0
    assert steps(replace(plan, cell=None)) == 0


def test_machines_are_told_group_by_group() -> None:
    """A table beside the pool; its load of 60 min is cut once after the shift, at most."""
    found = nights("machine.bench.pallets = 1")
    one = found.after[0]
    pool, table = one.groups
    assert (pool.group, pool.pallets, table.group, table.pallets) == ("mill", 4, "bench", 1)
    assert one.hours.mean == pytest.approx(pool.hours.mean + table.hours.mean)
    assert pool.hours.mean > 2.5 > 1 >= table.hours.mean


@pytest.mark.outside("Exponential distribution: odds of a night without a stop, exp(-T / M)")
@pytest.mark.parametrize(("end", "every", "hours", "expected"), NIGHTS)
@pytest.mark.long
def test_a_night_runs_until_a_stop(end: str, every: int, hours: int, expected: float) -> None:
    """E[min(T, X)] = M (1 - exp(-T / M)), and P(X > T) = exp(-T / M): identities."""
    text = endless(
        f'stop.jam.every = "{every} h"',
        'stop.jam.repair = "0 s"',
        'unattended.after_shift = "until done"',
        shift=day(end),
    )
    found = nights_of(plan_of(text), silent)
    assert found is not None
    (one,) = found.alike
    assert (one.seen, one.length, found.runs) == (20 * 13 * 7, hours, 20)
    odds = math.exp(-hours / every)
    # Three standard errors; the deviation of min(T, X) is below that of X.
    assert one.hours.mean == pytest.approx(expected, abs=3 * every / math.sqrt(one.seen))
    assert one.all_last == pytest.approx(
        100 * odds, abs=300 * math.sqrt(odds * (1 - odds) / one.seen)
    )
    assert ended_by(one) == {"stop": pytest.approx(100 - one.all_last), "runs": one.all_last}
    assert one.hours.most == hours
    assert "seeded runs" in night_in_words(one, found)


@pytest.mark.long
@few
@given(cells())
def test_nights_hold_all_hours_cut_after_shifts(spec: Spec) -> None:
    cell = cell_of(spec)
    week = gaps(Calendar(cell))
    seen = follow_nights(cell, 0, 2, lambda: None)
    assert len(seen) == 2 * len(week)
    if not week:
        return
    run = Run(cell)
    run.advance(WEEK + week[-1].start + week[-1].length)
    spent = [mode[AFTER_HOURS][State.IN_CYCLE] for mode in run.tally().spent]
    for place, cut in enumerate(spent):
        assert sum(one.machines[place].cycle for one in seen) == cut
    for one in seen:
        for machine in one.machines:
            length = week[one.gap].length
            assert machine.cycle <= machine.turned <= length
            assert (machine.why is Why.RUNS) <= (machine.turned == length)


# --- the morning -------------------------------------------------------------------------


def test_what_waits_in_the_morning() -> None:
    """Four pallets of three pieces, 6 min each, one after the other."""
    morning = monday().morning
    assert (morning.pieces.mean, morning.visits.mean, morning.minutes.mean) == (12, 4, 24)
    assert morning.clearing is not None
    assert minutes(morning.clearing) == (24, 24, 24)
    assert morning.not_cleared == 0


def test_what_ends_in_the_instant_in_which_the_people_go_has_ended() -> None:
    """Four visits of 6 min are 24: where the shift is as long, all mornings are cleared, the last
    one too, which only the end of the run sees. On Monday four visits of 3 min load all pallets in
    12 min: a shift as long leaves four that are loaded, one a minute shorter three."""
    short = SHIFT.replace("14:00", "06:24")
    cell = plan_of(study(shift=short)).cell
    assert cell is not None
    assert [one.clearing for one in follow_nights(cell, 0, 1, lambda: None)] == [24 * 60] * 5
    for end, loaded in (("06:12", 4), ("06:11", 3)):
        assert monday(shift=SHIFT.replace("14:00", end)).groups[0].loaded == loaded


def test_bench_time_delays_the_visits_and_other_duties_lengthen_them() -> None:
    """With 2 min of bench time a piece 6 min lie between visits of 6 min: done after 42 min."""
    morning = monday('part.body.bench = "2 min"').morning
    assert morning.minutes.mean == 24
    assert morning.clearing is not None
    assert minutes(morning.clearing) == (42, 42, 42)
    # A quarter of the time goes into other things: 6 min become 8.
    assert monday('handling.other_duties = "25 %"').morning.minutes.mean == 32


def test_a_break_is_waited_over() -> None:
    """From 06:00 to 06:10, and from 06:40 on what is left of 24 min."""
    morning = monday(shift=SHIFT + 'breaks = ["06:10-06:40"]\n').morning
    assert morning.minutes.mean == 24
    assert morning.clearing is not None
    assert minutes(morning.clearing) == (54, 54, 54)


def test_a_visit_that_was_cut_off_waits_with_its_pieces() -> None:
    """A table is cut from 06:03 to 07:03; the people go after 2 of the 6 min of its visit."""
    short = SHIFT.replace("14:00", "07:05")
    morning = monday("machine.mill.pallets = 1", shift=short).morning
    assert (morning.pieces.mean, morning.visits.mean, morning.minutes.mean) == (3, 1, 4)
    assert morning.clearing is not None
    assert minutes(morning.clearing) == (4, 4, 4)


def test_visits_that_are_not_done_before_the_people_go_again() -> None:
    """Two of 30 min of visits are begun on one day; the third is cut off, the fourth waits."""
    short = SHIFT.replace("14:00", "07:15")
    lines = ('part.body.load = "10 min"', 'part.body.unload = "0 min"')
    morning = monday(*lines, shift=short).morning
    assert morning.not_cleared == 100
    assert morning.clearing is None
    # Monday loaded two pallets, which are cut, and half of the third: 15 min are left of that.
    assert (morning.pieces.mean, morning.visits.mean) == (6, 4)
    assert morning.minutes.mean == 15 + 3 * 30


# --- the fewest pallets -------------------------------------------------------------------


def pallets(*lines: str) -> tuple[Fewest, Fewest]:
    """For the nights of the week, and the weekend."""
    found = fewest(plan_of(study(*lines)), silent)
    assert [night_label(one) for one in found] == [
        "Monday's to Thursday's day shift",
        "Friday's day shift",
    ]
    return found[0], found[1]


def test_the_fewest_pallets_that_last() -> None:
    """16 x 61 min are more than the night's 960 min, whatever is left in the spindle; 15 and the
    11 min left on the first Monday are not. So 17, the spindle's
    included. The weekend's 3840 min ask for 63 at least.
    """
    week, weekend = pallets()
    assert (week.fewest, week.why_not, week.now, week.at_least) == (17, "", 4, 16)
    assert (weekend.fewest, weekend.why_not, weekend.at_least) == (None, "many", 63)
    assert pallets("machine.mill.pallets = 30")[0].fewest == 17
    told = pallets_in_words([week, weekend])
    assert week.usual == 17
    assert told[0] == (
        "17 pallets on mill are the fewest that last after Monday's to Thursday's day shift, every "
        "night that there is work enough. More add nothing to these nights; now there are 4."
    )
    assert "63" in told[1]


def test_fewer_that_last_nine_nights_of_ten_are_told_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of 20 nights 8 pallets fill 17 (85 %), 9 fill 18 (90 %), 10 and 11 fill 19, and 12 all."""
    filled = {8: 17, 9: 18, 10: 19, 11: 19, 12: 20}

    def with_pallets(_: object, pallets: int, __: object) -> GroupNight:
        lasting = 5.0 * filled.get(pallets, 20 if pallets > 12 else 0)
        loaded = float(min(pallets, most))
        spread = Spread(0, 0, 0)
        ends = {"not_loaded": 100 - lasting}
        return GroupNight("mill", 1, pallets, spread, (), lasting, ends, loaded, 0)

    monkeypatch.setattr("whatif.answers.night.pallets._Tries.with_pallets", with_pallets)
    monkeypatch.setattr("whatif.answers.night.pallets._Tries.foresee", lambda *_: None)
    monkeypatch.setattr("whatif.answers.night.pallets._at_least", lambda *_: 7)
    most = 60
    week, _ = pallets()
    assert (week.fewest, week.usual) == (12, 9)
    assert (
        "; 9 do on nine of ten. More add nothing to these nights; " in pallets_in_words([week])[0]
    )
    # With people for no more than 7 of them, and never all nights, 9 are still to be told.
    most = 7
    filled |= dict.fromkeys(range(12, 61), 19)
    week, _ = pallets()
    assert (week.fewest, week.why_not, week.usual) == (None, "people", 9)
    assert pallets_in_words([week])[0].endswith(
        " 9 do on nine nights of ten, if there is work enough."
    )


def test_what_pallets_instead_of_a_table_would_do() -> None:
    week, _ = pallets("machine.mill.pallets = 1")
    assert (week.fewest, week.now) == (17, 1)
    assert "as large as the table" in pallets_in_words([week])[0]


def test_no_number_of_pallets_lasts() -> None:
    limited, _ = pallets('unattended.after_shift = "5 h"')
    assert (limited.fewest, limited.why_not, limited.tried) == (None, "hours", None)
    few_fixtures, _ = pallets("part.body.fixtures = 5")
    assert (few_fixtures.why_not, few_fixtures.fixtures) == ("fixtures", 5)
    # Fixtures are those of a part number: 5 of each of 8.
    numbers, _ = pallets("part.body.fixtures = 5", "part.body.numbers = 8")
    assert numbers.fixtures == 40
    # A visit of 63 min is longer than the 60 min that its load is cut: nobody gets ahead.
    slow, _ = pallets('part.body.load = "20 min"')
    assert (slow.why_not, slow.ends) == ("people", "not_loaded")
    assert slow.loaded is not None
    assert slow.loaded < 3
    attended, _ = pallets("part.body.unattended = false")
    assert (attended.fewest, attended.ends) == (None, "attended_part")
    for one in (limited, few_fixtures, slow, attended):
        assert pallets_in_words([one])[0].startswith("No number of pallets")


def test_the_fewest_pallets_that_fill_the_hours_allowed() -> None:
    """The pallet in the spindle is cut at 14:14 at the earliest; loads of 60 min and a change of
    1 min begin at 14:14, 15:15, 16:16 and 17:17, and the last is still cut at 18:00: five pallets
    with the spindle's fill 4 h. Four are cut out at 17:17 already.
    """
    plan = plan_of(study('unattended.after_shift = "4 h"'))
    week, weekend = fewest(plan, silent, filling=True)
    assert week.filling is not None
    assert weekend.filling is not None
    assert (week.fewest, week.why_not, week.filling.at_least) == (None, "hours", 4)
    assert (week.filling.fewest, weekend.filling.fewest) == (5, 5)
    assert pallets_in_words([week]) == [
        "5 pallets on mill are the fewest that fill the 4.0 h allowed after Monday's to Thursday's "
        "day shift, every night that there is work enough. More add nothing to these nights; now "
        "there are 4. After those hours no piece may be begun, so no number lasts till the next "
        "shift."
    ]
    # Where none is begun there is nothing to fill, and nobody who does not ask waits for it.
    none, _ = fewest(plan_of(study('unattended.after_shift = "0 h"')), silent, filling=True)
    assert none.filling is None
    assert all(answer.filling is None for answer in fewest(plan, silent))


def test_nights_after_which_none_is_begun() -> None:
    """Begun after Monday's shift alone: no number of pallets lasts after the others."""
    lines = ('unattended.after_shift = "960 min"', 'unattended.nights = ["mon"]')
    found = fewest(plan_of(study(*lines)), silent)
    told = {night_label(one): (one.begun_for, one.fewest, one.why_not) for one in found}
    assert told == {
        "Monday's day shift": (16, 17, ""),
        "Tuesday's to Thursday's day shift": (0, None, "hours"),
        "Friday's day shift": (0, None, "hours"),
    }
    assert pallets_in_words(found)[1].endswith(
        "no piece is begun after the shift (in the sheet: nights)."
    )


def test_what_arithmetic_alone_excludes() -> None:
    """Of 960 min a warm-up takes 60: 900 / 61 are 15 pallets; so are 960 / 65, where each load
    holds its spindle 4 min longer. Begun for 950 min and held then, nothing lasts the night."""
    few = "part.body.fixtures = 5"
    warm, _ = pallets(few, 'machine.mill.warm_up = "60 min"')
    assert (warm.at_least, warm.tried) == (15, None)
    plan = plan_of(study(few))
    assert plan.cell is not None
    assert fewest(plan, silent)[0].at_least == 16
    held_longer = replace(plan, cell=replace(plan.cell, load_extra=240))
    assert fewest(held_longer, silent)[0].at_least == 15
    held, _ = pallets('unattended.after_shift = "950 min"', 'unattended.at_limit = "hold"')
    assert (held.fewest, held.why_not, held.tried) == (None, "hours", None)


def test_like_answers_are_told_together() -> None:
    told = pallets_in_words(pallets('unattended.after_shift = "0 h"'))
    assert len(told) == 1
    assert "after Monday's to Thursday's day shift or after Friday's day shift" in told[0]


def test_stops_are_left_aside() -> None:
    week, _ = pallets('stop.jam.every = "1 h"', 'stop.jam.repair = "1 h"')
    assert week.fewest == 17


# --- giving up, handing over -----------------------------------------------------------------


def test_it_tells_how_far_it_is_and_can_be_given_up() -> None:
    said: list[tuple[int, int]] = []
    plan = plan_of(study("weeks = 3", "warm_up = 2"))
    nights_of(plan, lambda done, of: said.append((done, of)))
    assert said == [(i, 17) for i in range(17)]  # two weeks, and three times five nights

    class GivenUp(Exception):
        """Nobody wants the answer any more."""

    def give_up(done: int, of: int) -> None:
        raise GivenUp

    for work in (nights_of, fewest):
        with pytest.raises(GivenUp):
            work(plan, give_up)


def test_the_answer_can_be_sent_to_another_process() -> None:
    found = study_nights(sound(study()), Memory(), silent)
    assert pickle.loads(pickle.dumps(found)) == found


def test_looking_does_not_move_the_run() -> None:
    cell = plan_of(study('stop.jam.every = "3 h"', 'stop.jam.repair = "20 min"')).cell
    assert cell is not None
    cell = replace(cell, luck=1)
    watched = follow_nights(cell, 1, 2, lambda: None)
    run = Run(cell)
    for one, week in zip(watched, [1] * 5 + [2] * 5, strict=True):
        gap = gaps(run.calendar)[one.gap]
        run.advance(week * WEEK + gap.start)
        before = run.tally()
        run.advance(week * WEEK + gap.start + gap.length)
        cut = run.tally().since(before).spent[0][AFTER_HOURS][State.IN_CYCLE]
        assert one.machines[0].cycle == cut


@pytest.mark.long
def test_hours_are_the_plans_own() -> None:
    """A night's hours are those of the plan with the meters' gap worked in (rule `meters.gap`)."""
    meters = (
        'hour_meters.switched_on = "100 h"',
        'hour_meters.in_cut = "60 h"',
        'hour_meters.gap = "machine"',
    )
    plain = study_nights(sound(study()), Memory(), silent).scenarios["today"].nights
    slowed = study_nights(sound(study(*meters)), Memory(), silent).scenarios["today"].nights
    assert plain is not None
    assert slowed is not None
    assert slowed.after[0].turning.mean > plain.after[0].turning.mean + 4 * 60 / HOUR


# --- counted while the cell runs -----------------------------------------------------------


@few
@given(cells())
def test_the_run_itself_counts_the_same_ends(spec: Spec) -> None:
    cell = cell_of(spec)
    week = gaps(Calendar(cell), cell.nights)
    # After so many seconds nothing is begun in a night.
    allowed = WEEK if cell.after_shift is None else cell.after_shift
    # A night that the run has not seen begin is none of its own, nor one in which nothing may be.
    followed = [one for one in follow_nights(cell, 0, 1, lambda: None) if week[one.gap].start]
    seen = [one for one in followed if week[one.gap].begins]
    alone = [group.unattended for group in cell.groups for _ in range(group.count)]
    run = Run(cell)
    run.advance(max((week[one.gap].start + week[one.gap].length + 1 for one in seen), default=1))
    tally = run.tally()
    for place, (counts, stood) in enumerate(zip(tally.nights, tally.stood, strict=True)):
        for i, kind in enumerate(Why):
            ended = [one for one in seen if alone[place] and one.machines[place].why is kind]
            assert counts[i] == len(ended)
            may = [(min(allowed, week[one.gap].length), one.machines[place]) for one in ended]
            assert stood[i] == sum(max(0, until - machine.turned) for until, machine in may)
    nights_over = [one for one in followed if week[one.gap].start < run.floor.now]
    for place, closed in enumerate(run.tally().closed):
        assert closed == sum(
            gap.length - max(one.machines[place].turned, may)
            for one in nights_over
            if (gap := week[one.gap])
            for may in [min(allowed, gap.length) if gap.begins and alone[place] else 0]
        )


# --- nights counted -------------------------------------------------------------------------


def counted_nights(*lines: str) -> tuple[dict[str, int], dict[str, float]]:
    """Nights of a week by what ends them, and hours that machines then stand, without zeros."""
    cell = plan_of(study(*lines)).cell
    assert cell is not None
    run = Run(cell)
    run.advance(WEEK)
    nights, stood = (
        {why.value: sum(of) for why, of in zip(Why, zip(*counts, strict=True), strict=True)}
        for counts in (run.tally().nights, run.tally().stood)
    )
    return (
        {why: each for why, each in nights.items() if each},
        {why: each / HOUR for why, each in stood.items() if each},
    )


def test_nights_are_counted_machine_by_machine() -> None:
    """Two tables share a fixture: one is cut at 14:03 each night, the other never turns.

    On Monday one is loaded at 06:03 and each piece of 5 h takes 6 h with 30 min of loading and as
    many of unloading, so nobody ever cuts after 14:00 but what was begun before.
    """
    second = ("machine.mill.count = 2", "machine.mill.pallets = 1", "part.body.fixtures = 1")
    ends, stood = counted_nights(*second)
    (one, *_) = nights(*second).after
    # The weekend's night ends in the week after, which is not measured.
    assert ends == {"cut": 4, "no_fixture": 4}
    assert stood["no_fixture"] == 4 * 16
    assert stood["cut"] == pytest.approx(4 * (16 - one.turning.mean), abs=0.5)


def test_a_night_that_nothing_ends_is_counted_as_running() -> None:
    ends, stood = counted_nights("machine.mill.pallets = 1", 'part.body.cycle = "100 h"')
    assert (ends, stood) == ({"runs": 4}, {})


FEW = (
    "part.body.batch = 3",
    "part.body.weekly = 0",
    *(
        f"order.o{i}.{line}"
        for i in range(4)
        for line in ("part = 'body'", "pieces = 3", "due = 'fri 12:00'", "arrives = 'mon 06:00'")
    ),
)


def test_a_night_after_the_last_order_does_not_end_for_want_of_pallets() -> None:
    """Four orders of one load each: at 06:12 all pallets are loaded, at 06:20 the people go. All is
    cut at 10:07, and more pallets would have had nothing to cut."""
    short = SHIFT.replace("14:00", "06:20")
    assert ended_by(monday(*FEW, shift=short)) == {"nothing_due": 100}
    assert ended_by(monday("part.body.weekly = 100", shift=short)) == {"cut": 100}


def test_a_machine_that_never_runs_alone() -> None:
    found = plan_of(study("machine.bench.pallets = 1"))
    assert found.cell is not None
    mill, bench = found.cell.groups
    alone = replace(found.cell, groups=(mill, replace(bench, unattended=False)))
    seen = nights_of(replace(found, cell=alone), silent)
    assert seen is not None
    (_, table) = seen.after[0].groups
    assert set(table.ends) <= {"attended_machine", "cut"}
    run = Run(alone)
    run.advance(WEEK)
    assert sum(run.tally().nights[1]) == 0 < sum(run.tally().nights[0])


def test_only_nights_that_are_allowed_are_counted() -> None:
    cell = plan_of(study()).cell
    assert cell is not None
    run = Run(replace(cell, nights=(0, 3)))
    run.advance(WEEK)
    # After Monday's and Thursday's shift; Friday's night would end in the next week.
    assert sum(run.tally().nights[0]) == 2
    some = replace(plan_of(study()), cell=replace(cell, nights=(0, 3)))
    found = nights_of(some, silent)
    assert found is not None
    assert [one.begins for one in found.after] == [True, False, False, True, False]
    assert [one.days for one in found.alike] == [(0, 3), (1, 2), (4,)]
    assert opening(found) == (
        "Pieces are begun until the next shift starts, of Monday and Thursday; after other shifts "
        "none is begun."
    )


def test_pallets_that_rested_when_the_people_left_wanted_no_more_pallets() -> None:
    """Six pallets have few orders, the next of which may be opened before the morning."""
    small = ("part.body.batch = 6", "part.body.at_once = 1", "part.body.weekly = 60")
    of_two = ("part.body.numbers = 2", "part.body.fixtures = 1", "machine.mill.pallets = 6")
    found = [ended_by(night) for night in nights(*small, *of_two).after]
    assert found == [{"no_fixture": 100}] * 3 + [{"nothing_due": 100}] * 2
