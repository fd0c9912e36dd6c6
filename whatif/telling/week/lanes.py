"""What of a week is drawn below one another: people, machines, loaded pallets, each pallet.

A lane says what it is of, its line of signs, and in words what goes on in it at a second, since
when and until when.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Container, Mapping, Sequence
from enum import Enum, auto
from operator import attrgetter

from whatif.answers.states import TURNING
from whatif.answers.week import Spanning, Week, span_at
from whatif.cell.model import DAY, HOUR, WEEK
from whatif.cell.watch import PersonSpan, PersonWeek
from whatif.records import dataclass
from whatif.telling.amounts import rounded
from whatif.telling.clock import clock_text, end_text, hour_text
from whatif.telling.week import signs as signs
from whatif.telling.week.window import Window
from whatif.telling.week.words import machine_name, machine_words, pallet_words, person_words


class Of(Enum):
    """What a lane is of."""

    PEOPLE = auto()
    PERSON = auto()
    MACHINE = auto()
    LOADED = auto()
    PALLET = auto()


MEANINGS: Mapping[Of, Mapping[str, str]] = {
    Of.PEOPLE: signs.PEOPLE_MEANINGS,
    Of.PERSON: signs.PERSON_MEANINGS,
    Of.MACHINE: signs.MEANINGS,
    Of.LOADED: signs.LOADED_MEANINGS,
    Of.PALLET: signs.PALLET_MEANINGS,
}
"""What the signs of each sort of lane say."""

_LAST = "the last machine"
PEOPLE = -1
"""The place of the people among what can be opened; machines have theirs from 0."""


@dataclass(frozen=True, slots=True)
class Lane:
    """One line; ``place`` among the machines or persons of the week, ``pallet`` from 1."""

    of: Of
    place: int = PEOPLE
    pallet: int = 0

    @property
    def opens(self) -> int:
        """What is opened and closed here: :data:`PEOPLE`, or a machine's place."""
        return PEOPLE if self.of is Of.PERSON else self.place


def lanes(week: Week, opened: Container[int]) -> tuple[Lane, ...]:
    """The people, then machine by machine; persons and pallets only of what is opened.

    How many pallets are loaded is told where they are not seen one by one. A machine's one table
    does what the machine does, so it has no lane.
    """
    found = [Lane(Of.PEOPLE)]
    if PEOPLE in opened:
        found += [Lane(Of.PERSON, place) for place in range(len(week.persons))]
    for place, machine in enumerate(week.machines):
        found.append(Lane(Of.MACHINE, place))
        if len(machine.pallets) == 1:
            continue
        if place in opened:
            found += [Lane(Of.PALLET, place, i + 1) for i in range(len(machine.pallets))]
        else:
            found.append(Lane(Of.LOADED, place))
    return tuple(found)


def opened_at_first(week: Week, room: int) -> frozenset[int]:
    """Everything where so many lanes hold it, else the persons, else nothing."""
    all_of_it = frozenset(range(PEOPLE, len(week.machines)))
    for opened in (all_of_it, frozenset({PEOPLE})):
        if len(lanes(week, opened)) <= room:
            return opened
    return frozenset()


def name(week: Week, lane: Lane) -> str:
    """What stands before the lane."""
    match lane.of:
        case Of.PEOPLE:
            return "people at work"
        case Of.PERSON:
            person = week.persons[lane.place]
            number = f" {person.number}" if person.count > 1 else ""
            return f"  person{number}, {person.shift}"
        case Of.MACHINE:
            return machine_name(week.machines[lane.place])
        case Of.LOADED:
            return " loaded pallets"
    return f"  pallet {lane.pallet}"


def lines(week: Week, lane: Lane, window: Window) -> dict[Lane, str]:
    """The lane's signs, one a slice of the window; with them those that are found out with it.

    Which of a machine's pallets is cut most of a slice is found out for all of them together.
    """
    span = (window.since, window.until, window.slices)
    match lane.of:
        case Of.PEOPLE:
            return {lane: signs.people_signs(week, *span)}
        case Of.PERSON:
            return {lane: signs.person_signs(week, lane.place, *span)}
        case Of.MACHINE:
            return {lane: signs.machine_signs(week, lane.place, *span)}
        case Of.LOADED:
            return {lane: signs.loaded_signs(week, lane.place, *span)}
    each = signs.pallet_signs(week, lane.place, *span)
    return {Lane(Of.PALLET, lane.place, i): of for i, of in enumerate(each, 1)}


HOURS_OF = ("h worked,", "or h cut")
"""What hours are told beside people, and beside machines, in two lines."""


def hours_text(week: Week, lane: Lane, window: Window) -> str:
    """ "86.3 h": people's hours at work or a machine's in cycle in the window; "" for pallets."""
    span = (window.since, window.until)
    match lane.of:
        case Of.PEOPLE:
            return f"{rounded(signs.people_hours(week, *span)[0])} h"
        case Of.PERSON:
            return f"{rounded(signs.person_hours(week.persons[lane.place], *span)[0])} h"
        case Of.MACHINE:
            return f"{rounded(signs.cut_hours(week, lane.place, *span))} h"
    return ""


# -- one moment --------------------------------------------------------------------------


def first_arrival(week: Week) -> int:
    """The second at which somebody is first there; 0 where nobody ever is."""
    return next((span.since for span in week.hours if span.mode == "attended"), 0)


def working_day(week: Week, second: int) -> tuple[int, int]:
    """Since and until when people are there, breaks among it: the day a second belongs to.

    The hours behind it belong to it too, until people come again. A day of 24 hours begins at
    midnight; where nobody ever comes, every day is one.
    """
    midnight = second // DAY * DAY
    days: list[tuple[int, int]] = []
    for span in week.hours:
        if span.mode == "after_hours":
            continue
        since = days.pop()[0] if days and days[-1][1] == span.since else span.since
        days.append((since, span.until))
    if not days:
        return midnight, midnight + DAY
    since, until = next((day for day in reversed(days) if day[0] <= second), days[0])
    if until - since < DAY:
        return since, until
    return max(since, midnight), min(until, midnight + DAY)


def words(week: Week, lane: Lane, second: int) -> str:
    """The second by its clock, and what goes on in the lane then, since and until when."""
    return f"{clock_and_hours(week, second)}: {without_clock(week, lane, second)}"


def clock_and_hours(week: Week, second: int) -> str:
    """The second by its clock, and whether it is one of a break or without people."""
    return f"{clock_text(second)}{_HOURS[span_at(week.hours, second).mode]}"


def without_clock(week: Week, lane: Lane, second: int) -> str:
    """What goes on in the lane at a second, since and until when."""
    match lane.of:
        case Of.PEOPLE:
            said = _people(week, second)
        case Of.PERSON:
            said = person_words(week, lane.place, second)
        case Of.PALLET:
            said = pallet_words(week, lane.place, lane.pallet, second)
        case _:
            said = machine_words(week, lane.place, second)
    return said + _when(_span_of(week, lane, second), second)


def figure_of(week: Week, lane: Lane, second: int) -> str:
    """The id of the figure that the second counts for: machine hours by state, or people's."""
    match lane.of:
        case Of.PEOPLE | Of.PERSON:
            return "people_hours.busy"
        case Of.PALLET:
            return "spindle_hours.total"
        case _:
            return f"hours_by_state.{span_at(week.machines[lane.place].states, second).state}"


_HOURS = {"attended": "", "breaks": ", a break", "after_hours": ", after hours"}


def moment_sentence(
    week: Week, lane: Lane, second: int, window: Window, fits: Callable[[str], bool]
) -> str:
    """The second in one sentence: what goes on in the lane, and what belongs to it as far as it
    ``fits``: of the people first what their sign in the window is the average of."""
    said = words(week, lane, second)
    average = [_average(week, second, window)] if lane.of is Of.PEOPLE else []
    for more in filter(None, [*average, *around(week, lane, second)]):
        longer = f"{said}; {more}"
        if not fits(f"{longer}."):
            break
        said = longer
    return f"{said}."


def around(week: Week, lane: Lane, second: int) -> list[str]:
    """What goes on at the same second that belongs to it: who is at it, what stands there."""
    if lane.of is Of.PEOPLE:
        there = [
            person_words(week, place, second)
            for place, person in enumerate(week.persons)
            if span_at(person.does, second).does not in ("off_duty", "free")
        ]
        dark = next((night for night in nights(week) if night.since <= second < night.until), None)
        return there if dark is None else [dark.goes_on(_LAST)]
    if lane.of is Of.PERSON:
        at = span_at(week.persons[lane.place].does, second).machine
        return [] if at is None else [machine_words(week, at, second)]
    at_it = [
        person_words(week, place, second)
        for place, person in enumerate(week.persons)
        if span_at(person.does, second).machine == lane.place
    ]
    said = list(at_it)
    if lane.of is Of.PALLET:
        said.insert(0, machine_words(week, lane.place, second))
    return said


def _average(week: Week, second: int, window: Window) -> str:
    """ "1.3 at work on average from 07:00 to 07:15": what one sign tells.

    "" where nobody is there, or the same all that time.
    """
    since = window.since + window.column(second) * window.length
    until = since + window.length
    span = _people_span(week, second)
    if span.since <= since and until <= span.until:
        return ""
    hours_at_work, on_duty = signs.people_hours(week, since, until)
    if not on_duty:
        return ""
    busy = hours_at_work * HOUR / (until - since)
    told = f"{busy:.1f}"
    if int(float(told) + 0.5) != int(busy + 0.5):
        told = f"{busy:.2f}"
    return f"{told} at work on average from {hour_text(since)} to {end_text(until)}"


def change(week: Week, lane: Lane, second: int, *, ahead: bool) -> int | None:
    """The next second at which something else begins in the lane, or the last one before."""
    if lane.of is Of.PEOPLE:
        if ahead:
            until = _people_span(week, second).until
            return until if until < WEEK else None
        return _people_span(week, second - 1).since if second else None
    return _border(_spans(week, lane), second, ahead=ahead)


def border(week: Week, second: int, *, ahead: bool) -> int | None:
    """The next second at which people come, pause or go, or a limit begins; or the last one."""
    return _border(week.hours, second, ahead=ahead)


def _border(spans: Sequence[Spanning], second: int, *, ahead: bool) -> int | None:
    if ahead:
        return next((span.since for span in spans if span.since > second), None)
    return next((span.since for span in reversed(spans) if span.since < second), None)


def _span_of(week: Week, lane: Lane, second: int) -> Spanning:
    if lane.of is Of.PEOPLE:
        return _people_span(week, second)
    return span_at(_spans(week, lane), second)


@dataclass(frozen=True, slots=True)
class _PeopleSpan:
    """A stretch in which as many people are on duty and at work."""

    since: int
    until: int


def _people_span(week: Week, second: int) -> _PeopleSpan:
    """How long before and after a second what is said of the people then is true."""

    def around_it(at: int) -> list[Spanning]:
        return [*(_counted_alike(person, at) for person in week.persons), span_at(week.hours, at)]

    said, spans = _people(week, second), around_it(second)
    since, until = max(span.since for span in spans), min(span.until for span in spans)
    while since > 0 and _people(week, since - 1) == said:
        since = max(span.since for span in around_it(since - 1))
    while until < WEEK and _people(week, until) == said:
        until = min(span.until for span in around_it(until))
    return _PeopleSpan(since, until)


def _counted_alike(person: PersonWeek, second: int) -> _PeopleSpan:
    """How long before and after a second one person is away, has a break, is free or at work."""
    does = person.does
    first = last = bisect_right(does, second, key=attrgetter("since")) - 1
    counts = _counts(does[first])
    while first > 0 and _counts(does[first - 1]) == counts:
        first -= 1
    while last + 1 < len(does) and _counts(does[last + 1]) == counts:
        last += 1
    return _PeopleSpan(does[first].since, does[last].until)


def _counts(span: PersonSpan) -> str:
    return span.does if span.does in ("off_duty", "on_break", "free") else "at work"


def _spans(week: Week, lane: Lane) -> Sequence[Spanning]:
    match lane.of:
        case Of.PERSON:
            return week.persons[lane.place].does
        case Of.MACHINE:
            return week.machines[lane.place].states
        case Of.LOADED:
            return week.machines[lane.place].loaded
    return week.machines[lane.place].pallets[lane.pallet - 1]


def _people(week: Week, second: int) -> str:
    does = [span_at(person.does, second).does for person in week.persons]
    there = [doing for doing in does if doing not in ("off_duty", "on_break")]
    if there:
        busy = sum(doing != "free" for doing in there)
        people = "person" if len(there) == 1 else "people"
        return f"{len(there)} {people} on duty, {busy} at work"
    if "on_break" in does:
        return "all who are there have a break"
    begins = span_at(week.hours, second).begins
    return f"nobody is there, {'pieces may' if begins else 'no piece may'} be begun"


def _when(span: Spanning, second: int) -> str:
    """Since and until when; what reaches beyond the week has no border to tell."""

    def clock(at: int) -> str:
        return hour_text(at) if at // DAY == second // DAY else clock_text(at)

    since, until = span.since > 0, span.until < WEEK
    if since and until:
        if clock(span.since) == clock(span.until):
            return f", for {span.until - span.since} s at {clock(span.since)}"
        return f", from {clock(span.since)} to {clock(span.until)}"
    if since:
        return f", since {clock(span.since)}"
    return f", until {clock(span.until)}" if until else ""


# -- nights ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Night:
    """Hours from when the last person leaves to when one comes, in seconds of the week.

    Attributes:
        dry: the second from which no machine goes on, which is cutting, changing pallets and
            warming up; ``until`` where that never comes.
        comes: when people come, which for the last night is in the week after; None where
            nobody ever does.
    """

    since: int
    dry: int
    until: int
    comes: int | None

    @property
    def over(self) -> int:
        """Where to look at its end: ``dry``, or the last second of the week."""
        return min(self.dry, WEEK - 1)

    def words(self, who: str = _LAST) -> str:
        """What became of it; ``who`` is "mill 2", say."""
        comes = "the week's end" if self.comes is None else clock_text(self.comes)
        return f"Nobody is there from {clock_text(self.since)} to {comes}: {self.goes_on(who)}."

    def goes_on(self, who: str) -> str:
        """How long the machines go on without people."""
        if self.dry == self.until:
            return f"{who} goes on all that time"
        if self.dry == self.since:
            return f"{who} does not go on"
        return f"{who} goes on until {clock_text(self.dry)}"


def nights(week: Week, machine: int | None = None) -> tuple[Night, ...]:
    """Every stretch of the week without people, breaks aside, for one machine or for all.

    The end of a weekend that began in the week before counts where a machine still goes on in it.
    """
    attended = [span.since for span in week.hours if span.mode != "after_hours"]
    found: list[Night] = []
    for since, until in _unattended(week):
        ahead = [second for second in attended if second >= until]
        comes = ahead[0] if ahead else attended[0] if attended else None
        dry = _dry(week, machine, since, until)
        if dry or until == WEEK:
            found.append(Night(since, dry, until, comes))
    return tuple(found)


def _unattended(week: Week) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    for span in week.hours:
        if span.mode != "after_hours":
            continue
        since = span.since
        if found and found[-1][1] == since:
            since = found.pop()[0]
        found.append((since, span.until))
    return found


def _dry(week: Week, machine: int | None, since: int, until: int) -> int:
    machines = week.machines if machine is None else week.machines[machine : machine + 1]
    ends = [
        min(span.until, until)
        for machine in machines
        for span in machine.states
        if span.state in TURNING and span.since < until and span.until > since
    ]
    return max(ends, default=since)


def next_night(found: Sequence[Night], second: int) -> Night | None:
    """The first night whose end is after a second; after the last one the first."""
    return next((night for night in found if night.over > second), found[0] if found else None)
