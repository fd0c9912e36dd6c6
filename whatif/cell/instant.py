"""All that happens at one second of a run, in its order (rule `people.instant`), and at a border.

Functions on the floor, as all rules are: :class:`whatif.cell.run.Run` calls them.
"""

from __future__ import annotations

from typing import Final

from whatif.cell import book, may_not, people, states, staying, stops
from whatif.cell import spindle as machine
from whatif.cell.calendar import AFTER_HOURS, ATTENDED, Segment
from whatif.cell.calls import Call
from whatif.cell.codes import (
    AT,
    BENCH,
    CUTTING,
    IN_CYCLE,
    INDEX,
    LACKS_FIXTURE,
    LACKS_STOCK,
    LACKS_WORK,
    LOAD,
    NOBODY_ON_DUTY,
    NOWHERE,
    ORDER_ARRIVES,
    RELEASES,
    RESTING,
    SETUP,
    STANDING,
    STATE_COUNT,
    STOPPED,
    TIME_OPENS,
    VISIT,
    WAITING_FOR_PERSON,
    WHAT,
    WHOM,
)
from whatif.cell.floor import Floor
from whatif.cell.machines import Spindle
from whatif.cell.model import WEEK
from whatif.cell.orders import lacks_only_fixture, lacks_stock
from whatif.cell.tally import book_stop, count_night, setup_share

# Of whom an event is before these: first ends of work, then those in spindles.
AFTER_WORK: Final = 1 << WHAT
AFTER_SPINDLES: Final = 2 << WHAT


def live(floor: Floor, at: int, until: int) -> None:
    """All that happens from second ``at``, the next at which anything does, to before ``until``."""
    events, orders = floor.events, floor.book
    spindles, stirred, persons = floor.spindles, floor.stirred, floor.persons
    just_free = floor.just_free
    some_may_not, seen = floor.some_may_not, floor.seen
    while at < until:
        floor.now = at
        if some_may_not and floor.lacking:
            may_not.count(floor)
        if at == floor.border and floor.night >= 0:
            _night_ends(floor)
        later = -(at + 1 << AT)
        while True:
            while events and events[-1] > later:
                whom = -events.pop() & WHOM
                if whom < AFTER_WORK:
                    person = persons[whom]
                    if person.ends == at:
                        work = person.work
                        assert work is not None
                        if work.job != BENCH:
                            spindle = spindles[work.machine]
                            if spindle.doing == STANDING:
                                _stir(floor, spindle)
                        people.work_ends(floor, person, work)
                elif whom < AFTER_SPINDLES:
                    spindle = spindles[whom & INDEX]
                    _stir(floor, spindle)
                    machine.spindle_ends(floor, spindle)
                else:
                    _something_else(floor, whom >> WHAT, whom & INDEX)
            while at >= floor.border:
                _next_segment(floor)
            # At most instants most machines are as they were.
            if len(stirred) > 1:
                stirred.sort()
            for i in stirred:
                spindle = spindles[i]
                if spindle.doing == STANDING and (spindle.pallet != NOWHERE or spindle.ready):
                    machine.machine_asks(floor, spindle)
            if just_free:
                staying.decide(floor)
            if (floor.line and floor.free) or (floor.at_rest and orders.asked_at != orders.changes):
                people.serve(floor)
                if len(stirred) > 1:
                    stirred.sort()
            for i in stirred:
                spindle = spindles[i]
                if spindle.doing == STANDING and (spindle.pallet != NOWHERE or spindle.ready):
                    machine.begin(floor, spindle)
            if just_free and staying.let_go(floor):
                continue
            if not events or events[-1] <= later:
                break
        orders.asked_at = orders.changes
        if floor.at_rest or (floor.some_only_load and floor.line):
            _set_wake(floor)
        else:
            orders.woken_at = orders.changes
        if stirred:
            for i in stirred:
                _show(floor, spindles[i])
            stirred.clear()
        if some_may_not and (floor.line or floor.lacking):
            may_not.look(floor)
        if seen is not None:
            seen()
        at = floor.border
        if events:
            soonest = -events[-1] >> AT
            if soonest < at:
                at = soonest


def next_event(floor: Floor) -> int:
    """Second at which something may happen next; nothing changes before it."""
    events, border = floor.events, floor.border
    if events:
        at = -events[-1] >> AT
        return at if at < border else border
    return border


# -- the states of machines --------------------------------------------------------------


def account(floor: Floor, spindle: Spindle) -> None:
    """Book a machine's time since the last booking under its state (rule `states.sum`).

    To be done before anything that this state or its visit hangs on changes.
    """
    begun, now = spindle.state_since, floor.now
    if begun == now:
        return
    if begun < floor.begun:
        _account_before(floor, spindle, begun)
        begun = floor.begun
    spindle.state_since = now
    state, took, setup = spindle.state, now - begun, 0
    spent, place = spindle.spent, floor.hours + state
    if state == LOAD and spindle.shown_visit is not None:
        setup = setup_share(floor, spindle.shown_visit, begun)
        if setup:
            spent[floor.hours + SETUP] += setup
            took -= setup
    elif state == STOPPED and spindle.stops and floor.segment.mode == AFTER_HOURS:
        book_stop(floor, spindle, begun)
    else:
        if state == IN_CYCLE:
            load = floor.pallets[spindle.pallet].load
            assert load is not None
            cycle, part = spindle.cycle, load.part
            cycle[part] = cycle[part] + took
            if load.rush:
                floor.counted.rush_cycle += took
        spindle.stopped = 0
    # Quicker when compiled than adding in place.
    spent[place] = spent[place] + took
    if floor.booked is not None:
        _tell_booked(floor, spindle, begun, now, setup, floor.segment)


def _account_before(floor: Floor, spindle: Spindle, begun: int) -> None:
    """Book the time of a machine on which no hour bears, up to the begin of the segment."""
    segments, place, week = floor.calendar.segments, floor.place, floor.week
    until = floor.begun
    if spindle.state == IN_CYCLE:
        load = floor.load_in(spindle)
        spindle.cycle[load.part] += until - begun
        if load.rush:
            floor.counted.rush_cycle += until - begun
    # Backwards, as the present segment is known.
    told: list[tuple[int, int, Segment]] = []
    while until > begun:
        place -= 1
        if place < 0:
            place += len(segments)
            week -= WEEK
        segment = segments[place]
        since = max(begun, week + segment.start)
        spindle.spent[segment.mode * STATE_COUNT + spindle.state] += until - since
        if floor.booked is not None:
            told.append((since, until, segment))
        until = since
    for since, until, segment in reversed(told):
        _tell_booked(floor, spindle, since, until, 0, segment)


def _tell_booked(
    floor: Floor, spindle: Spindle, begun: int, until: int, setup: int, segment: Segment
) -> None:
    state = spindle.state
    if state == WAITING_FOR_PERSON and segment.mode != ATTENDED:
        state = NOBODY_ON_DUTY
    assert floor.booked is not None
    floor.booked(spindle, state, begun, until, setup)


def _stir(floor: Floor, spindle: Spindle) -> None:
    """Something happens to a machine: its time up to now is booked first."""
    account(floor, spindle)
    if not spindle.stirred:
        spindle.stirred = True
        floor.stirred.append(spindle.index)


def _show(floor: Floor, spindle: Spindle) -> None:
    """Find in which state a machine is after all that has happened (rule `states`)."""
    spindle.stirred = False
    visit: Call | None = None
    if spindle.doing == CUTTING:
        state = IN_CYCLE
    else:
        state = states.state_of(floor, spindle)
        if state == LOAD:
            visits = spindle.visits
            visit = visits[0] if len(visits) == 1 else states.shown_visit(floor, spindle)
    if state != spindle.state or visit is not spindle.shown_visit:
        if spindle.state_since != floor.now:
            account(floor, spindle)
        spindle.state, spindle.shown_visit = state, visit


# -- events ------------------------------------------------------------------------------


def _something_else(floor: Floor, what: int, index: int) -> None:
    if what == RELEASES:
        machine.released(floor, floor.pallets[index])
    elif what == ORDER_ARRIVES:
        book.arrives(floor, index)
    elif what == TIME_OPENS:
        floor.wake = -1
        floor.woken += 1
        floor.book.changes += 1
    else:
        _stir(floor, floor.spindles[index])
        stops.goes(floor, floor.spindles[index])


# -- borders of the calendar -------------------------------------------------------------


def _night_ends(floor: Floor) -> None:
    """Count the night where a shift starts, as all stands just before it."""
    if _following(floor).shift_runs:
        count_night(floor)
        floor.night = -1


def _next_segment(floor: Floor) -> None:
    following = _following(floor)
    begins_night = floor.segment.shift_runs and not following.shift_runs
    for spindle in floor.spindles:
        # What is at work goes on, and is booked when it ends.
        if spindle.doing == STANDING:
            if _hangs_on_the_hour(spindle):
                _stir(floor, spindle)
        elif spindle.stops:
            account(floor, spindle)
    if begins_night:
        # Before visits are broken off: what is being loaded was not left.
        for spindle in floor.spindles:
            spindle.left_waiting = _leaves_waiting(spindle)
            spindle.lacked = _leaves_lacking(floor, spindle)
    for shift in following.ends:
        people.shift_ends(floor, shift)
    floor.place += 1
    if floor.place == len(floor.calendar.segments):
        floor.place = 0
        floor.week += WEEK
    floor.segment = following
    if begins_night:
        floor.night = floor.week + following.start
        limit = following.until if following.begins else following.start
        floor.allowed = floor.week + limit
    enter_segment(floor)


def _hangs_on_the_hour(spindle: Spindle) -> bool:
    """Whether a border of the calendar may change what a standing machine does, or its state.

    Where nothing is loaded or in hand all is as it was: its time is booked when something happens
    to it, under the hours in which it lies (:func:`account`).
    """
    return (
        spindle.pallet != NOWHERE
        or bool(spindle.ready)
        or bool(spindle.visits)
        or bool(spindle.stops)
        or spindle.unreleased > 0
        or spindle.tools is not None
    )


def _leaves_waiting(spindle: Spindle) -> bool:
    """Whether a pallet of the machine is in the line."""
    for call in spindle.asked:  # noqa: SIM110 - a loop is quicker than a generator
        if call.job == VISIT:
            return True
    return False


def _leaves_lacking(floor: Floor, spindle: Spindle) -> int:
    """What pallets of the machine that rest lack: fixtures, else stock, else work."""
    if lacks_only_fixture(floor, spindle):
        return LACKS_FIXTURE
    if lacks_stock(floor, spindle):
        return LACKS_STOCK
    for i in spindle.pallets:
        if floor.pallets[i].at == RESTING:
            return LACKS_WORK
    return NOWHERE


def _following(floor: Floor) -> Segment:
    segments = floor.calendar.segments
    place = floor.place + 1
    return segments[place if place < len(segments) else 0]


def enter_segment(floor: Floor) -> None:
    """Who comes and goes at the begin of a segment, and what may be begun in it."""
    segment = floor.segment
    floor.hours = segment.mode * STATE_COUNT
    floor.begun = floor.week + segment.start
    floor.border = floor.week + segment.end
    attended = segment.mode == ATTENDED
    floor.may_begin = floor.week + segment.until if segment.begins else -1
    floor.may_begin_attended = floor.week + segment.attended_until if attended else -1
    for shift in segment.starts:
        people.shift_starts(floor, shift)
    people.duty_changes(floor, segment.on_duty)


def _set_wake(floor: Floor) -> None:
    """Time alone may let a resting pallet take something: be there (rule `pallets.rest`).

    It may also let a visit take what needs no setup, so that those who only load may do it.
    """
    orders = floor.book
    passed_over = floor.some_only_load and bool(floor.line)
    if orders.woken_at == orders.changes and not passed_over:
        return
    orders.woken_at = orders.changes
    if not passed_over and not floor.at_rest:
        return
    if orders.opening_at == orders.changes and not 0 <= floor.wake <= floor.now:
        # The next opening is as it was: it is still to come, or there is none.
        return
    orders.opening_at = orders.changes
    opening = book.next_opening(floor)
    if opening is not None and not floor.now < floor.wake <= opening:
        floor.wake = opening
        floor.foretell(opening, TIME_OPENS, 0)
