"""What limits a scenario (rule `limits.held-back`): by day, by night, and in which order."""

from __future__ import annotations

from dataclasses import replace

import pytest
from answer_studies import TODAY, Ends, Spent, figured, plan_of, sound, today
from night_studies import study

from whatif.answers.compare import compare
from whatif.answers.limits import HeldBack, Loss, MayNot, ShiftPeople, what_holds_back
from whatif.answers.night.night import nights_of
from whatif.cell.calendar import AFTER_HOURS, ATTENDED
from whatif.cell.look import Why
from whatif.cell.model import ALL_WORK
from whatif.cell.states import State
from whatif.session.calculate.memory import Memory
from whatif.telling.ends import END_WORDS
from whatif.telling.limits import (
    eased_by_text,
    limit_in_short,
    limit_sentences,
    limit_text,
    limited_by_words,
    limits_in_column,
)

LONGER = TODAY.replace("[scenario.today]", '[scenario.today]\nunattended.after_shift = "9 h"', 1)
SIX = LONGER.replace("mill.count = 1", "mill.count = 1\nmachine.mill.pallets = 6")

DAY = {(ATTENDED, State.IN_CYCLE): 100, (ATTENDED, State.LOAD): 50}
"""Hours of two weeks: by day loading takes 25 a week."""


def limited(
    spent: Spent, ends: Ends | None = None, text: str = LONGER, closed: float = 0
) -> HeldBack:
    return what_holds_back(plan_of(text), figured(text, spent=spent, ends=ends, closed=closed))


def held_in(text: str, scenario: str = "today") -> HeldBack:
    held = compare(sound(text), Memory()).answers[scenario].held_back
    assert held is not None
    return held


# -- by day ------------------------------------------------------------------------------


def test_the_largest_loss_within_attended_hours_and_the_next() -> None:
    found = limited(
        {
            (ATTENDED, State.IN_CYCLE): 80,
            (ATTENDED, State.LOAD): 20,
            (ATTENDED, State.SETUP): 44,
            (ATTENDED, State.WAITING_FOR_PERSON): 6,
        }
    )
    assert [loss.state for loss in found.losses] == ["setup", "load"]
    assert limit_text(found) == (
        "Of 75.0 attended machine hours a week 40.0 are in cycle; changing the "
        "work holding takes 22.0 h, then loading at the spindle 10.0 h."
    )


def test_the_inspector_and_worn_tools_are_named() -> None:
    waits = {(ATTENDED, State.IN_CYCLE): 10, (ATTENDED, State.FIRST_PIECE): 30}
    found = limited(waits)
    assert "waiting for the inspector's release takes 15.0 h" in limit_text(found)
    assert limit_in_short(found) == "inspector 75 %"


@pytest.mark.parametrize(("life", "is_of_tools"), [("part.body.tool_life = 2", True), ("", False)])
def test_a_person_at_the_machine_renews_tools_or_proves_out(life: str, is_of_tools: bool) -> None:
    """Every order of 2 pieces proves out for an hour; or every 2 pieces ask for tools, 2 h long."""
    found = held_in(
        today(
            *filter(None, (life, 'part.body.tool_change = "2 h"')),
            *('part.body.setup = "1 min"', 'part.body.prove_out = "1 h"', "part.body.batch = 2"),
            *("part.lid.cycle = '12 min'", "part.lid.weekly = 100", "part.lid.batch = 2"),
            *('part.lid.setup = "1 min"', 'part.lid.prove_out = "1 h"'),
        )
    )
    assert found.losses[0] == Loss("person_at_machine", found.losses[0].hours, is_of_tools)
    by_day = replace(found, after_hours=None)
    named = ("changing worn tools", "worn tools ") if is_of_tools else ("prove-out", "prove-outs ")
    assert f"{named[0]}" in limit_text(by_day)
    assert limit_in_short(by_day).startswith(named[1])


def test_a_cell_that_nothing_holds_back() -> None:
    found = limited({(ATTENDED, State.IN_CYCLE): 150})
    assert found.losses == ()
    assert limit_text(found).endswith("nothing limits them.")


# -- by night ----------------------------------------------------------------------------


def test_what_ends_most_nights_is_counted_and_not_the_idle_hours() -> None:
    """Six nights end for want of loaded pallets; four ends by a stop let the machine stand longer,
    and machines of which no load is ready stand as "nobody on duty" all the same."""
    night = {
        (AFTER_HOURS, State.IN_CYCLE): 24,
        (AFTER_HOURS, State.NOBODY_ON_DUTY): 20,
        (AFTER_HOURS, State.STOPPED): 60,
    }
    found = limited(DAY | night, {Why.CUT: (6, 20), Why.STOP: (4, 60), Why.RUNS: (2, 0)}, SIX)
    assert found.after_hours is not None
    assert found.after_hours.ended_by is Why.CUT
    assert limit_sentences(found) == [
        "Of 75.0 attended machine hours a week 50.0 are in cycle; loading at "
        "the spindle takes 25.0 h.",
        "After hours the spindles cut 12.0 h a week; all that lies on the pallets is cut, in 50 % "
        "of the machines' nights, and 10.0 machine hours then stand.",
    ]
    assert limit_in_short(found) == "loading 33 %"


def test_of_day_and_night_the_larger_leads() -> None:
    night = {(AFTER_HOURS, State.IN_CYCLE): 24}
    less = limited(DAY | night, {Why.CUT: (10, 49.9)}, SIX)
    more = limited(DAY | night, {Why.CUT: (10, 50.1)}, SIX)
    assert limit_in_short(less) == "loading 33 %"
    assert limit_in_short(more) == "pallets that run out at night"
    assert limits_in_column(more) == ("pallets run out",)
    # Both losses in no more cells than a small screen has, then each with its numbers.
    assert limit_sentences(more) == [
        "Lost after hours 25.1 h (all loaded is cut), by day 25.0 h (loading at the spindle).",
        "After hours the spindles cut 12.0 h a week; all that lies on the pallets is cut, every "
        "time, and 25.1 machine hours then stand.",
        limit_sentences(less)[0],
    ]


def test_a_night_that_leads_a_day_without_losses_stands_alone() -> None:
    day = {(ATTENDED, State.IN_CYCLE): 148, (ATTENDED, State.LOAD): 2}
    found = limited({**day, (AFTER_HOURS, State.IN_CYCLE): 24}, {Why.CUT: (10, 50)}, SIX)
    night, by_day = limit_sentences(found)
    assert night.startswith("Most is lost after hours: there the spindles cut 12.0 h a week; all")
    assert by_day.endswith("so hardly anything limits them by day.")


@pytest.mark.parametrize("longer", [Why.CUT, Why.TOOLS])
def test_of_ends_of_equally_many_nights_the_longer_counts(longer: Why) -> None:
    shorter = {Why.CUT: (5, 10), Why.TOOLS: (5, 10)}
    found = limited(DAY, {**shorter, longer: (5, 30)}, SIX)
    assert found.after_hours is not None
    assert found.after_hours.ended_by is longer
    assert found.after_hours.share == 0.5


@pytest.mark.parametrize("why", [why for why in Why if why not in (Why.RUNS, Why.CUT)])
def test_every_end_has_its_words(why: Why) -> None:
    found = limited(DAY, {why: (10, 300)}, SIX)
    assert f"; {END_WORDS[why].clause}, every time, and 150.0 " in limit_text(found)
    assert limit_in_short(found) == f"{END_WORDS[why].in_short} at night"


def test_one_table_is_no_pallets_and_no_advice_to_buy_any() -> None:
    found = limited(DAY, {Why.CUT: (10, 300)})
    assert "all that lies on the table is cut" in limit_text(found)
    assert limit_in_short(found) == "one load at night"
    assert "pallet" not in limit_text(found)


def test_hours_in_which_nothing_may_be_begun_hold_nothing_back_and_are_told_behind() -> None:
    night = {(AFTER_HOURS, State.IN_CYCLE): 4}
    found = limited(DAY | night, {Why.LIMIT: (10, 0)}, text=TODAY, closed=300)
    assert limit_sentences(found) == [
        "Of 75.0 attended machine hours a week 50.0 are in cycle; loading at "
        "the spindle takes 25.0 h.",
        "After hours the spindles cut 2.0 h a week to finish the pieces begun; 150.0 machine hours "
        "stand unused, since nothing is begun after the shift.",
    ]
    assert limit_in_short(found) == "loading 33 %"


def test_what_lies_beyond_the_hours_allowed_is_told_behind() -> None:
    night = {(AFTER_HOURS, State.IN_CYCLE): 24}
    held = limited(DAY | night, {Why.LIMIT: (10, 0)}, SIX, closed=100)
    assert limit_sentences(held)[1] == (
        "After hours the spindles cut 12.0 h a week, as long as pieces may be begun; 50.0 machine "
        "hours stand unused, since nothing may be begun then."
    )
    # Most nights go on as long as they may; in the others the pallets run out.
    held = limited(DAY | night, {Why.LIMIT: (6, 0), Why.CUT: (4, 60)}, SIX, closed=100)
    assert limit_sentences(held)[1].endswith(
        "all that lies on the pallets is cut, in 40 % of the machines' nights, and 30.0 machine "
        "hours then stand; in 50.0 more nothing may be begun."
    )
    assert limit_in_short(held) == "pallets that run out at night"


@pytest.mark.parametrize(
    "nights", [(), ("unattended.after_shift = '5 h'", "unattended.nights = []")]
)
def test_a_shop_that_only_works_by_day_is_held_back_by_day(nights: tuple[str, ...]) -> None:
    """One table, a shift of 8 h, nothing begun after it: the largest loss by day leads.

    In two weeks from the first Monday eight nights of 16 h and one weekend of 64 h are over: 192 h,
    less what a piece begun before 14:00 takes to its end.
    """
    held = held_in(today("part.body.weekly = 1000", *nights))
    assert held.by_night is None
    assert held.after_hours is not None
    assert held.after_hours.ended_by is None
    assert held.after_hours.closed == pytest.approx(192 / 2 - held.after_hours.in_cycle)


def test_only_nights_and_machines_that_may_begin_pieces_are_counted() -> None:
    """Of five nights a week the first, of two machines the mill: 5 h less the piece under way."""
    held = held_in(
        today(
            "part.body.weekly = 1000",
            "unattended.after_shift = '5 h'",
            "unattended.nights = ['mon']",
            "machine.kept.unattended = false",
        )
    )
    assert held.after_hours is not None
    assert (held.after_hours.ended_by, held.after_hours.share) == (Why.CUT, 1)
    assert 5 - 12 / 60 <= held.after_hours.stood <= 5


@pytest.mark.parametrize(("hours", "stood"), [(5, 2), (2, 0)])
def test_only_hours_within_the_permission_are_lost(hours: int, stood: int) -> None:
    """Four pallets of an hour: cut out at about 17:00, three hours after the shift.

    Where pieces may be begun for five hours some two are lost each night to the pallets; where for
    two, none is, and what stands till 06:00 stands because nothing may be begun.
    """
    text = study(
        "weeks = 2",
        "part.body.weekly = 10000",
    ).replace('after_shift = "until done"', f'after_shift = "{hours} h"')
    assert f'"{hours} h"' in text
    night = held_in(text).after_hours
    assert night is not None
    # Nine nights in two weeks, the second weekend's not being over.
    assert night.stood == pytest.approx(4.5 * stood, abs=2.5 if stood else 0.01)
    assert (night.ended_by is Why.CUT) == bool(stood)
    assert night.closed > 4 * (16 - hours - 1)


def test_a_second_loss_that_is_a_trifle_is_called_one() -> None:
    found = limited(
        {(ATTENDED, State.IN_CYCLE): 100, (ATTENDED, State.LOAD): 48, (ATTENDED, State.SETUP): 2}
    )
    assert limit_text(found).endswith(
        "loading at the spindle takes 24.0 h, then changing the work holding 1.0 h, a trifle."
    )


def test_machines_that_last_every_night_lose_nothing_there() -> None:
    found = limited(DAY | {(AFTER_HOURS, State.IN_CYCLE): 24}, {Why.RUNS: (10, 0)})
    assert limit_sentences(found)[1] == (
        "After hours the spindles cut 12.0 h a week, and go on until the next shift."
    )


def test_pallets_that_run_out_at_night_limit_a_cell_and_the_night_view_says_the_same() -> None:
    """Four pallets of an hour each after 14:00; the spindle stands from about 17:00 to 06:00.

    By day it hardly stands. Of a week's five nights the four within it are counted: the weekend's
    ends in the next.
    """
    text = study("weeks = 2", "part.body.weekly = 10000")
    held = held_in(text)
    assert limit_in_short(held) == "pallets that run out at night"
    nights = nights_of(plan_of(text), lambda _done, _of: None)
    assert nights is not None
    ends = {why for night in nights.after for group in night.groups for why in group.ends}
    assert ends == {"cut"}
    assert held.after_hours is not None
    assert held.after_hours.ended_by is Why.CUT
    assert held.after_hours.share == 1
    stood = [night.length - night.turning.mean for night in nights.after]
    # Nine nights in two weeks: the second weekend's is not over.
    assert held.after_hours.stood == pytest.approx((2 * sum(stood) - stood[-1]) / 2, abs=0.5)


@pytest.mark.parametrize(
    ("load", "why", "short"),
    [
        ("2 min", Why.CUT, "pallets that run out at night"),
        ("20 min", Why.NOT_LOADED, "people, busy 100 %"),
    ],
)
def test_pallets_that_nobody_came_round_to_are_not_too_few(load: str, why: Why, short: str) -> None:
    """A load of three is cut in 60 min. Visits of 3 x (1 + 2) min keep up, so that all four pallets
    are loaded when the person leaves; of visits of 3 x (1 + 20) = 63 min one is under way then and
    other pallets wait: a fifth would wait as well, so that people lead."""
    text = study("weeks = 2", f'part.body.load = "{load}"', "part.body.weekly = 10000")
    held = held_in(text)
    assert held.after_hours is not None
    assert (held.after_hours.ended_by, held.after_hours.share) == (why, 1)
    assert limit_in_short(held) == short
    waited = "not all was loaded when the people left, every time," in limit_text(held)
    assert waited is (why is Why.NOT_LOADED)


# -- whose work is waited for, and which people are how full ---------------------------------

WHO = """\
format = 1
weeks = 4
warm_up = 0
[scenario.today]
sequence.make = "flat_out"
machine.mill.count = 5
part.body = { cycle = "10 min", setup = "45 min", weekly = 2000, batch = 8, numbers = 20 }
%s
"""
EARLY = 'shift.%s = { days = ["mon", "tue"], start = "06:00", end = "14:00"%s }'
LATE = EARLY.replace("06:00", "14:00").replace('end = "14:00"', 'end = "22:00"')
ALL_BUT_SETUP = ', does = ["load", "prove_out", "tools"]'


def who(*shifts: str) -> HeldBack:
    return held_in(WHO % "\n".join(shifts))


def may_not_of(held: HeldBack) -> MayNot:
    assert held.state == "waiting_for_person"
    found = held.losses[0].may_not
    assert found is not None
    return found


def test_a_setter_who_is_full_beside_three_who_stand_free() -> None:
    """Five mills, an order of 8 pieces of 10 min needs 45 min of the only one who sets up."""
    held = who(EARLY % ("setter", ""), EARLY % ("loaders", f", people = 3{ALL_BUT_SETUP}"))
    found = may_not_of(held)
    assert (found.work, found.nobody_may) == ("setup", False)
    assert [of.shift for of in found.may] == ["setter"]
    assert [of.shift for of in found.others] == ["loaders"]
    assert found.may[0].busy > 0.98 > 0.3 > found.others[0].busy
    assert limit_in_short(held) == f"setter {100 * held.share:.0f} %"
    percent = f"{100 * found.may[0].busy:.0f} %"
    assert (
        f"waiting for somebody who may set up takes {held.losses[0].hours:.1f} h (the people of "
        f"setter are busy {percent} of their time on duty, others stand free), then"
    ) in limit_text(held)
    # What has been said of them is not said again.
    assert limit_text(held).count("of their time on duty") == 1
    advice = eased_by_text(found)
    assert advice.startswith("Letting the people of loaders set up too, once they can,")
    assert "more people who may not set up bring nothing" in advice


def test_a_late_shift_that_only_loads_waits_for_nobody_who_is_there() -> None:
    """All mills soon stand for a setup, and nobody of the late shift may do it: of 16 h a day the
    late 8 are mostly lost, and a second of them changes nothing."""
    late = LATE % ("late", ALL_BUT_SETUP)
    held = who(EARLY % ("setter", ", people = 2"), late)
    found = may_not_of(held)
    assert (found.work, found.nobody_may) == ("setup", True)
    assert (
        " (mostly with nobody on duty who may: the people of late may not), then"
    ) in limit_text(held)
    assert limit_in_short(held) == f"setter {100 * held.share:.0f} %"
    more = who(EARLY % ("setter", ", people = 2"), late.replace(" }", ", people = 2 }"))
    assert more.in_cycle == pytest.approx(held.in_cycle, rel=0.05)
    lets = who(EARLY % ("setter", ", people = 2"), LATE % ("late", ""))
    assert lets.in_cycle > 1.2 * held.in_cycle


def test_where_all_may_do_all_people_are_waited_for_and_the_full_shift_is_named() -> None:
    held = who(EARLY % ("early", ""), LATE % ("late", ", people = 9"))
    assert held.losses[0].may_not is None
    assert limit_in_short(held).startswith("nobody free ")
    early, late = held.people
    assert early.is_full
    assert not late.is_full
    assert " The people of early are busy 100 % of their time on duty. " in limit_text(held)


def with_people(held: HeldBack, loaders: float, *, why: Why = Why.NOT_LOADED) -> HeldBack:
    """People who load are so full, and the nights end so."""
    assert held.after_hours is not None
    people = (ShiftPeople("day", loaders, ALL_WORK),)
    night = replace(held.after_hours, ended_by=why)
    return replace(held, people=people, loaders=loaders, after_hours=night)


@pytest.mark.parametrize("why", [Why.NOT_LOADED, Why.CUT])
def test_where_those_who_load_have_no_time_people_lead_and_the_night_is_told_behind(
    why: Why,
) -> None:
    night = limited(DAY | {(AFTER_HOURS, State.IN_CYCLE): 24}, {why: (10, 200)}, SIX)
    held = with_people(night, 0.981, why=why)
    assert (held.by_night, held.is_for_people) == (None, True)
    assert limit_in_short(held) == "people, busy 98 %"
    first, by_day, after = limit_sentences(held)
    assert first == (
        "The people who load (day) are busy 98 % of their time on duty: more pallets would mostly "
        "wait for them."
    )
    assert by_day.startswith("Of 75.0 attended machine hours a week")
    assert after.startswith("After hours the spindles cut 12.0 h a week; ")
    # With 2 % of their time free the night leads, as it does where it ends otherwise.
    free = with_people(night, 0.98, why=why)
    assert limit_in_short(free).endswith(" at night")
    assert limit_in_short(with_people(night, 1.0, why=Why.TOOLS)) == "worn tools at night"


def test_people_do_not_lead_where_the_day_loses_more_than_the_night() -> None:
    """25 h a week go to loading, 20 to the night."""
    found = limited(DAY | {(AFTER_HOURS, State.IN_CYCLE): 24}, {Why.NOT_LOADED: (10, 40)}, SIX)
    held = with_people(found, 1.0)
    assert not held.is_for_people
    assert limit_in_short(held) == "loading 33 %"
    assert limit_sentences(held)[1] == "The people of day are busy 100 % of their time on duty."


def test_where_people_wait_and_lead_the_wait_is_named() -> None:
    waits = {(ATTENDED, State.IN_CYCLE): 100, (ATTENDED, State.WAITING_FOR_PERSON): 50}
    found = limited(waits | {(AFTER_HOURS, State.IN_CYCLE): 24}, {Why.CUT: (10, 200)}, SIX)
    held = with_people(found, 1.0, why=Why.CUT)
    assert limit_in_short(held) == "nobody free 33 %"
    # "people 33 %" was taken for people who are at work a third of their time.
    assert limited_by_words(held) == "limited by people: nobody free 33 %"


# -- all is made, or something is not -----------------------------------------------------


def test_where_all_is_made_that_is_said_instead_and_how_much_more_could_be() -> None:
    held = held_in(today("part.body.weekly = 1"))
    (said,) = limit_sentences(held)
    assert said.startswith("All that is wanted is made, with ")
    most = " The machines could make up to 412 % of what is wanted."
    # A run of its own may make less than is made, and "up to 94 %" of 97 % tells nobody anything.
    assert "could make" not in limit_text(held, 94.0)
    assert limit_text(held, 412.4).endswith(most)
    assert limit_in_short(held) == "demand all met"


@pytest.mark.parametrize(("due", "is_met"), [("mon 06:14", False), ("mon 12:00", True)])
def test_all_is_made_only_where_orders_are_in_time_too(due: str, is_met: bool) -> None:
    """One piece is off at 06:17 at the soonest: visit of 3 min, cut of 12, visit of 2."""
    order = f"order.one = {{ part = 'body', pieces = 1, due = '{due}' }}"
    held = held_in(today("part.body.weekly = 20", order))
    assert held.is_demand_met is is_met
    assert limit_text(held).startswith("All that is wanted is made") is is_met


def test_a_wanted_part_that_is_not_made_comes_first() -> None:
    """The lid may be made on no machine that is there; all else that is wanted is made."""
    held = held_in(
        today(
            "part.body.weekly = 1",
            *('part.lid.cycle = "1 min"', "part.lid.weekly = 1", 'part.lid.machines = ["mill"]'),
            *('machine.mill.table = ["500 mm", "400 mm"]', 'part.lid.size = ["9 m", "9 m", "9 m"]'),
        )
    )
    first, *rest = limit_sentences(held)
    assert first.startswith("lid ")
    assert rest
    assert limit_in_short(held) == "lid not made"
    assert "All that is wanted is made" not in limit_text(held)


def test_a_cell_with_nobody() -> None:
    found = limited({(AFTER_HOURS, State.NOBODY_ON_DUTY): 336})
    assert limit_text(found) == "Nobody is ever on duty, so nothing is made."


def test_a_cell_without_machines_or_with_nothing_made_says_so() -> None:
    without = '\n[scenario.x]\nparent = "today"\nmachine.mill.count = 0\n'
    bare = compare(sound(TODAY + without), Memory())
    held = bare.answers["x"].held_back
    assert held is not None
    assert limit_text(held) == "There is no machine, so nothing is made."


@pytest.mark.parametrize(("on_tables", "most"), [(4, False), (5, False), (6, True)])
def test_tables_are_spoken_of_where_more_than_half_of_what_ends_is_theirs(
    on_tables: float, most: bool
) -> None:
    """Ten nights a week of machines end with what lay on them cut."""
    plan, ends = plan_of(SIX), {Why.CUT: (20, 300)}
    figures = figured(SIX, spent=DAY | {(AFTER_HOURS, State.IN_CYCLE): 20}, ends=ends)
    share = replace(
        figures.nights, on_tables={**figures.nights.on_tables, Why.CUT.value: on_tables}
    )
    found = what_holds_back(plan, replace(figures, nights=share)).after_hours
    assert found is not None
    assert figures.nights.ended[Why.CUT.value] == 10
    assert found.on_tables is most
