"""The lanes of a week, a moment of each in words, its nights, and the window they are drawn in."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from screen import SCENARIOS
from week_studies import SIX, STUDY, week_of

from whatif.answers.week import Week, week
from whatif.cell.model import DAY, HOUR, MINUTE, WEEK
from whatif.plan.build import plans_of
from whatif.study.check.check import check
from whatif.study.file.reading import read_text
from whatif.telling.clock import clock_text
from whatif.telling.week import signs as signs
from whatif.telling.week.drawn import MARKS, blocks, lane_legend
from whatif.telling.week.lanes import (
    MEANINGS,
    PEOPLE,
    Lane,
    Of,
    around,
    border,
    change,
    first_arrival,
    hours_text,
    lanes,
    lines,
    moment_sentence,
    name,
    next_night,
    nights,
    opened_at_first,
    without_clock,
    words,
    working_day,
)
from whatif.telling.week.window import (
    LENGTHS,
    Window,
    length_text,
    one_day,
    stretch_text,
    whole_week,
)

MILL, TABLE = Lane(Of.MACHINE, 0), Lane(Of.PALLET, 0, 1)
EIGHT = SIX + 2 * HOUR


def line(found: Week, lane: Lane, window: Window) -> str:
    return lines(found, lane, window)[lane]


# --- which there are --------------------------------------------------------------------


def test_lanes_and_their_names() -> None:
    found = week_of("pallets")
    shut = [name(found, lane) for lane in lanes(found, ())]
    assert shut == ["people at work", "mill 1", " loaded pallets", "mill 2", " loaded pallets"]
    opened = [name(found, lane) for lane in lanes(found, {PEOPLE, 1})]
    assert opened[:5] == [
        "people at work",
        "  person 1, early",
        "  person 2, early",
        "mill 1",
        " loaded pallets",
    ]
    assert opened[-4:] == ["mill 2", "  pallet 1", "  pallet 2", "  pallet 3"]


def test_a_machine_with_one_table_has_one_lane() -> None:
    found = week_of("table")
    assert [name(found, lane) for lane in lanes(found, {PEOPLE, 0})] == [
        *("people at work", "  person, early", "mill"),
    ]


@pytest.mark.parametrize(
    ("room", "opened"),
    [(11, {PEOPLE, 0, 1}), (10, {PEOPLE}), (7, {PEOPLE}), (6, set()), (1, set())],
)
def test_as_much_is_open_as_there_is_room_for(room: int, opened: set[int]) -> None:
    """People with two persons, two machines with three pallets each, or how many are loaded."""
    assert opened_at_first(week_of("pallets"), room) == opened


# --- signs with a pencil ----------------------------------------------------------------


def test_signs_of_a_morning_with_a_pencil() -> None:
    """Slices of five minutes from 06:00: visits from minute 0, 13, 27, 41 and 55, cuts between."""
    found, window = week_of("table"), Window(SIX, 5 * MINUTE, 16)
    assert line(found, Lane(Of.PERSON, 0), window) == "l____l__l__lbbbl"
    assert line(found, TABLE, window) == "l####l##l##l##wl"
    assert line(found, Lane(Of.PEOPLE), window) == "100001001001bbb1"
    assert line(found, MILL, window)[:4] == "l#++"


def test_a_shift_that_begins_within_a_slice_is_seen_from_half_of_it_on() -> None:
    found, person = week_of("table"), Lane(Of.PERSON, 0)
    seen, late = (Window(SIX - minutes * MINUTE, HOUR, 1) for minutes in (28, 32))
    # Away for the longest in both: 28 minutes beside 7 of loading and 25 free, then 32.
    assert [line(found, lane, seen) for lane in (MILL, person)] == ["+", "_"]
    assert [line(found, lane, late) for lane in (MILL, person)] == [".", "."]


def test_a_pallet_with_cut_pieces_is_drawn_alike_until_somebody_takes_them_off() -> None:
    """Nothing drawn would say that it is empty: by night too it lies there, waiting."""
    found = week_of("pallets")
    lane = Lane(Of.PALLET, 0, 3)
    assert line(found, lane, Window(SIX, MINUTE, 3)) == "eee"
    # Cut from 118.5 minutes on it asks for a person at 119; the people leave at 120.
    assert line(found, lane, Window(EIGHT, 2 * HOUR, 11)) == "w" * 11
    assert blocks(Of.PALLET, "w" * 16) == "░░░cut,░waits░░░"
    at_night = without_clock(found, lane, EIGHT + HOUR)
    assert at_night.startswith("pallet 3 of mill 1 waits for a person with 1 piece of body cut")


@pytest.mark.long
def test_each_sign_that_the_demos_bring_has_a_meaning() -> None:
    for path in sorted(SCENARIOS.glob("*.toml")):
        for plan in plans_of(check(read_text(path.read_text("utf-8")))).values():
            found = week(plan, 1)
            assert found is not None
            window = whole_week(170)
            for lane in lanes(found, range(PEOPLE, len(found.machines))):
                drawn = line(found, lane, window)
                assert len(drawn) == window.slices
                known = set("0123456789*" if "0-9" in MEANINGS[lane.of] else "")
                assert set(drawn) <= known | set(MEANINGS[lane.of])


@pytest.mark.parametrize("minutes", [1, 5, 10, 15, 30])
def test_where_a_machine_cuts_exactly_one_of_its_pallets_is_cut(minutes: int) -> None:
    """However many take turns within a slice: no line seems to differ from the machine's."""
    found, window = week_of("pallets"), Window(SIX, minutes * MINUTE, 180 // minutes)
    for place, machine in enumerate(found.machines):
        cuts = [sign in "#+" for sign in line(found, Lane(Of.MACHINE, place), window)]
        each = [
            line(found, Lane(Of.PALLET, place, i + 1), window) for i in range(len(machine.pallets))
        ]
        assert [sum(sign == "#" for sign in at) for at in zip(*each, strict=True)] == cuts
        assert any(cuts)


def test_every_sign_has_a_block() -> None:
    for of, meanings in MEANINGS.items():
        known = (
            set("0123456789*" if of is Of.PEOPLE else "123456789*") if "0-9" in meanings else set()
        )
        assert {*known, *(sign for sign in meanings if len(sign) == 1)} == set(MARKS[of])


def test_blocks_of_a_morning_with_a_pencil() -> None:
    """Loading, then what cuts most of a slice; nothing is drawn on breaks and at night."""
    found, window = week_of("table"), Window(SIX, 5 * MINUTE, 16)
    assert blocks(Of.MACHINE, line(found, MILL, window))[:4] == "▒███"
    assert blocks(Of.PEOPLE, line(found, Lane(Of.PEOPLE), window)) == "100001001001   1"
    dark = Window(EIGHT, HOUR, 4)
    for lane in (MILL, Lane(Of.PEOPLE), Lane(Of.PERSON, 0)):
        assert blocks(lane.of, line(found, lane, dark)) == "    "


def test_a_long_stretch_has_its_name_written_into_it() -> None:
    assert blocks(Of.MACHINE, "#sssssssss#") == "█▒▒setup▒▒█"
    assert blocks(Of.MACHINE, "#ssssss#") == "█▒▒▒▒▒▒█"
    assert blocks(Of.PERSON, "______") == "○free○"
    assert blocks(Of.PERSON, "_bbbbbbbb_") == "○ break  ○"
    assert blocks(Of.PALLET, "i" * 18) == "::in:the:spindle::"
    assert blocks(Of.MACHINE, "##########") == "██████████"


def test_no_blank_stands_within_a_stretch_in_which_something_goes_on() -> None:
    """A blank between two words would read as a gap, without colour most of all."""
    for of, marks in MARKS.items():
        for sign, mark in marks.items():
            drawn = blocks(of, sign * 30)
            assert " " not in drawn or mark.block == " ", drawn


def legend_of(
    seen: list[tuple[Of, str]], cells: int, *, has_midnight: bool = True
) -> list[list[str]]:
    rows = lane_legend(seen, cells, has_midnight=has_midnight)
    return [[f"{block} {text}" for block, _, text in entries] for entries in rows]


def test_the_legend_names_each_sign_that_can_be_seen() -> None:
    """Those of the ruler and of nothing too; only as many words as two rows have room for."""
    seen = [(Of.MACHINE, "#+lw-."), (Of.PERSON, "_.b")]
    said = [
        *("█ cuts", "▒ loading, set-up or other work", "░ waits for somebody or something"),
        *(": loaded, not cut now", "○ is free", "▼ moment told above", "┊ a day begins"),
        "blank nobody there, or nothing goes on",
    ]
    assert legend_of(seen, 220) == [said]
    assert legend_of(seen, 110) == [said[:5], said[5:]]
    assert legend_of(seen, 79) == [
        ["█ cuts", "▒ loading, other work", "░ waits", ": loaded, not cut now", "○ is free"],
        ["▼ moment told above", "┊ day begins", "blank nobody, or nothing"],
    ]
    assert legend_of(seen, 200, has_midnight=False) == [[*said[:-2], said[-1]]]
    assert legend_of([(Of.MACHINE, "#l")], 79)[-1][-1] == "▼ moment told above"
    worded = legend_of([(Of.MACHINE, "#sssssssss")], 79)
    assert worded[-1][-1] == "word what goes on in that stretch"
    assert legend_of([(Of.MACHINE, "#")], 79) == [["█ cuts", "▼ moment told above"]]


def test_on_a_screen_of_80_cells_every_sign_is_told_however_many_there_are() -> None:
    lanes = [(of, sign * 20) for of, marks in MARKS.items() for sign in marks]
    rows = lane_legend(lanes, 79, has_midnight=True)
    assert all(sum(len(a) + len(b) + 3 for a, _, b in entries) - 2 <= 79 for entries in rows)
    blocks_of = {mark.block for marks in MARKS.values() for mark in marks.values()}
    told = {block for entries in rows for block, _, _ in entries}
    signs_drawn = {block for block in blocks_of if not block.isdigit()} - {" ", "*"}
    assert told == signs_drawn | {"▼", "┊", "blank", "word"}
    assert signs_drawn == set("█▒░:○")


def test_everything_that_a_pallet_or_person_does_has_a_sign() -> None:
    assert {*signs.PALLET_SIGNS.values(), "s", "e"} == set(signs.PALLET_MEANINGS)
    assert {*signs.PERSON_SIGNS.values(), "s"} == set(signs.PERSON_MEANINGS)


SETS_UP = STUDY.replace(
    "part.body.weekly = 300\n",
    "part.body.weekly = 300\npart.body.batch = 2\npart.body.numbers = 9\n"
    'part.body.setup = "20 min"\npart.body.prove_out = "12 min"\n',
)
"""Every second piece is of another number, which is set up for 20 minutes before it is loaded."""


def test_a_visit_that_sets_up_is_told_by_what_takes_most_of_it() -> None:
    """Set up and loaded from minute 0 to 23, proved out to 35, cut to 45, loaded to 49, cut to 59;
    the second set-up has a break from 60 to 75, and ends at 98."""
    found, person = week_of("table", text=SETS_UP), Lane(Of.PERSON, 0)
    morning = Window(SIX, 5 * MINUTE, 24)
    assert line(found, person, morning) == "ssssspp__l__bbbssssspp__"
    assert line(found, TABLE, morning) == "sssssii##l##bbbsssssii##"
    first, later = SIX + 10 * MINUTE, SIX + 80 * MINUTE
    who = "the person of the early shift"
    assert without_clock(found, person, first) == (
        f"{who} changes the work holding of mill and loads 1 piece of body, from 06:00 to 06:23"
    )
    assert without_clock(found, person, later) == (
        f"{who} changes the work holding of mill, takes 1 piece of body off and loads 1 piece of "
        "body, from 07:15 to 07:38"
    )
    assert without_clock(found, TABLE, later) == (
        "the table of mill is served (change of work holding, 1 piece of body off, 1 piece of "
        "body on), from 07:15 to 07:38"
    )


def test_a_visit_begun_before_the_week_is_told_by_what_takes_most_of_it_too() -> None:
    """A set-up of 35 minutes is half done when the people go on Friday."""
    found = week_of("table", 2, SETS_UP.replace('"20 min"', '"35 min"'))
    assert without_clock(found, Lane(Of.PERSON, 0), SIX) == (
        "the person of the early shift changes the work holding of mill, takes 1 piece of body off "
        "and loads 1 piece of body, from 06:00 to 06:38"
    )
    assert without_clock(found, TABLE, 0) == (
        "the table of mill is half served, waits for a person (change of work holding, 1 piece of "
        "body off, 1 piece of body on), until 06:00"
    )


def test_a_bar_of_a_person_says_by_word_whether_he_sets_up_proves_out_or_loads() -> None:
    assert blocks(Of.PERSON, "sssssssssppppppppppplllllllll") == "▒▒setup▒▒▒prove-out▒▒loading▒"


def test_a_visit_that_sets_up_for_less_than_it_loads_is_told_in_its_order() -> None:
    """Set up for a minute: from 40 to 45 one piece is taken off, the next set up and loaded."""
    found = week_of("table", text=SETS_UP.replace('"20 min"', '"1 min"'))
    person, at = Lane(Of.PERSON, 0), SIX + 42 * MINUTE
    assert line(found, person, Window(SIX + 40 * MINUTE, MINUTE, 5)) == "lllll"
    assert without_clock(found, person, at) == (
        "the person of the early shift takes 1 piece of body off mill, changes its work holding "
        "and loads 1 piece of body, from 06:40 to 06:45"
    )
    assert without_clock(found, TABLE, at).startswith(
        "the table of mill is served (1 piece of body off, change of work holding, 1 piece of body"
    )


def test_hours_of_what_is_shown() -> None:
    found, window = week_of("table"), Window(0, HOUR, 24)
    # As in tests/test_week.py: eight pieces of 10 minutes; visits of 3, seven times 4 and 3.
    assert hours_text(found, MILL, window) == "1.3 h"
    assert hours_text(found, Lane(Of.PEOPLE), window) == "0.6 h"
    assert hours_text(found, Lane(Of.PERSON, 0), window) == "0.6 h"
    assert hours_text(found, TABLE, window) == ""


# --- a moment in words ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lane", "minute", "said", "beside"),
    [
        (
            MILL,
            5,
            "Mon 06:05: mill cuts pieces of body, from 06:03 to 06:13",
            "",
        ),
        (
            MILL,
            14,
            "Mon 06:14: mill stands while it is loaded, from 06:13 to 06:17",
            "the person of the early shift takes 1 piece of body off mill and loads 1 piece of "
            "body",
        ),
        (
            TABLE,
            5,
            "Mon 06:05: the table of mill is in the spindle, which cuts 1 piece of body"
            ", from 06:03 to 06:13",
            "mill cuts pieces of body",
        ),
        (
            Lane(Of.PERSON, 0),
            14,
            "Mon 06:14: the person of the early shift takes 1 piece of body off mill and loads "
            "1 piece of body, from 06:13 to 06:17",
            "mill stands while it is loaded",
        ),
        (
            Lane(Of.PERSON, 0),
            5,
            "Mon 06:05: the person of the early shift is free, from 06:03 to ",
            "",
        ),
        (Lane(Of.PEOPLE), 5, "Mon 06:05: 1 person on duty, 0 at work, from 06:03 to 06:13", ""),
        (
            Lane(Of.PEOPLE),
            61,
            "Mon 07:01, a break: all who are there have a break, from 07:00 to 07:15",
            "the person of the early shift is on a break",
        ),
        (
            Lane(Of.PEOPLE),
            121,
            "Mon 08:01, after hours: nobody is there, no piece may be begun, from 08:00 to "
            "Tue 06:00",
            "the last machine does not go on",
        ),
    ],
)
def test_a_moment_with_a_pencil(lane: Lane, minute: int, said: str, beside: str) -> None:
    found = week_of("table")
    assert words(found, lane, SIX + minute * MINUTE).startswith(said)
    assert "; ".join(around(found, lane, SIX + minute * MINUTE)) == beside


def test_the_sentence_of_the_people_says_how_long_and_agrees_with_their_row() -> None:
    """At work from 06:00 to 06:03, then from 06:13: 5 of the first 15 minutes, which reads as 0."""
    found, people = week_of("table"), Lane(Of.PEOPLE)
    window = Window(SIX, 15 * MINUTE, 4)

    def said(second: int, window: Window) -> str:
        return moment_sentence(found, people, second, window, lambda text: True)

    begins = "Mon 06:00: 1 person on duty, 1 at work, from 06:00 to 06:03"
    assert line(found, people, window)[0] == "0"
    assert said(SIX, window).startswith(
        f"{begins}; 0.3 at work on average from 06:00 to 06:15; the person of the early shift"
    )
    assert said(SIX, Window(SIX, MINUTE, 60)).startswith(f"{begins}; the person of the early shift")
    assert said(EIGHT, window) == (
        "Mon 08:00, after hours: nobody is there, no piece may be begun, from 08:00 to Tue 06:00; "
        "the last machine does not go on."
    )


@pytest.mark.parametrize("minutes", [1, 5, 15, 30, 120])
def test_an_average_of_people_rounds_to_the_sign_in_their_row(minutes: int) -> None:
    for case in ("table", "pallets"):
        found, people = week_of(case), Lane(Of.PEOPLE)
        window = Window(SIX, minutes * MINUTE, max(1, 120 // minutes))
        for column, sign in enumerate(line(found, people, window)):
            text = moment_sentence(found, people, window.moment(column), window, lambda text: True)
            if " at work on average" in text and sign.isdigit():
                average = text.partition(" at work on average")[0].rpartition("; ")[2]
                assert int(float(average) + 0.5) == int(sign), text


def test_a_stretch_within_one_minute_is_told_by_its_seconds() -> None:
    found = week_of("table")
    mill = found.machines[0]
    cut = mill.states[2]
    brief = replace(cut, until=cut.since + 21)
    rest = replace(mill.states[3], since=brief.until)
    short = replace(mill, states=(*mill.states[:2], brief, rest, *mill.states[4:]))
    told = without_clock(replace(found, machines=(short,)), MILL, cut.since)
    assert told == "mill cuts pieces of body, for 21 s at 06:03"


def test_what_reaches_over_the_week_has_no_border() -> None:
    found = week_of("table")
    assert words(found, Lane(Of.PEOPLE), 0).endswith("begun, until 06:00")
    assert words(found, Lane(Of.PEOPLE), WEEK - 1).endswith("begun, since Fri 08:00")


# --- moving -----------------------------------------------------------------------------


def test_the_first_person_comes_at_six() -> None:
    assert first_arrival(week_of("table")) == SIX
    assert first_arrival(week_of("sundays")) == 0


def test_where_nobody_ever_comes_the_week_is_one_night() -> None:
    text = STUDY.replace('breaks = ["07:00-07:15"]', "people = 0")
    found = week_of("table", text=text)
    assert first_arrival(found) == 0
    (night,) = nights(found)
    assert (night.over, night.comes) == (0, None)
    assert night.words() == (
        "Nobody is there from Mon 00:00 to the week's end: the last machine does not go on."
    )


def test_changes_and_borders_with_a_pencil() -> None:
    found, at = week_of("table"), SIX + 5 * MINUTE
    assert change(found, MILL, at, ahead=True) == SIX + 13 * MINUTE
    assert change(found, MILL, at, ahead=False) == SIX + 3 * MINUTE
    assert change(found, MILL, 0, ahead=False) is None
    people = Lane(Of.PEOPLE)
    assert change(found, people, at, ahead=True) == SIX + 13 * MINUTE
    assert change(found, people, at, ahead=False) == SIX + 3 * MINUTE
    assert change(found, people, WEEK - 1, ahead=True) is None
    assert change(found, people, 0, ahead=False) is None
    assert change(found, people, SIX - 1, ahead=False) == 0
    assert border(found, at, ahead=True) == SIX + HOUR
    assert border(found, SIX + HOUR, ahead=True) == SIX + HOUR + 15 * MINUTE
    assert border(found, at, ahead=False) == SIX
    assert border(found, WEEK - 1, ahead=True) is None


# --- nights -----------------------------------------------------------------------------


def test_the_night_runs_dry_with_a_pencil() -> None:
    """Cut k of a mill ends 3.5 + 10 k + 0.5 (k - 1) minutes after six; the 13th at 139.5."""
    found = week_of("pallets")
    first = nights(found)[0]
    assert (first.since, first.until, first.comes) == (EIGHT, DAY + SIX, DAY + SIX)
    assert first.dry == SIX + 139 * MINUTE + 30
    assert nights(found, 1)[0] == first
    assert first.words("mill 2") == (
        "Nobody is there from Mon 08:00 to Tue 06:00: mill 2 goes on until Mon 08:19."
    )
    weekend = nights(found)[-1]
    assert (weekend.until, weekend.comes) == (WEEK, SIX)


def test_nights_are_gone_through_in_turn() -> None:
    found = nights(week_of("pallets"))
    assert len(found) == 5
    at, seen = 0, []
    for _ in range(6):
        one = next_night(found, at)
        assert one is not None
        at = one.over
        seen.append(clock_text(one.since))
    assert seen == [f"{day} 08:00" for day in ("Mon", "Tue", "Wed", "Thu", "Fri", "Mon")]


def test_a_week_without_nights_has_none() -> None:
    days = '["mon", "tue", "wed", "thu", "fri", "sat", "sun"]'
    shifts = "\n".join(
        f'shift.{name}.days = {days}\nshift.{name}.start = "{start}"\n'
        f'shift.{name}.end = "{end}"\nshift.{name}.breaks = []'
        for name, start, end in (("first", "00:00", "12:00"), ("second", "12:00", "00:00"))
    )
    head = "[scenario.table.shift.early]"
    found = week_of("table", text=STUDY.replace(head, f"{shifts}\n{head}", 1))
    assert nights(found) == ()
    assert next_night((), 0) is None


def test_a_night_that_lasts_is_told() -> None:
    lasting = STUDY.replace('after_shift = "1 h"', 'after_shift = "until done"').replace(
        'part.body.cycle = "10 min"', 'part.body.cycle = "20 h"'
    )
    first = nights(week_of("pallets", text=lasting))[0]
    assert first.dry == first.until
    assert (
        first.words()
        == "Nobody is there from Mon 08:00 to Tue 06:00: the last machine goes on all that time."
    )


# --- the window -------------------------------------------------------------------------

ROOMS = st.integers(28, 300)
SECONDS = st.integers(0, WEEK - 1)


@given(ROOMS)
def test_the_whole_week_is_in_sight_at_first(room: int) -> None:
    window = whole_week(room)
    assert (window.since, window.until) == (0, WEEK)
    assert window.slices <= room


@given(ROOMS, SECONDS, SECONDS, st.integers(0, DAY))
def test_one_day_is_drawn_closely_from_shortly_before_people_come(
    room: int, second: int, other: int, length: int
) -> None:
    since = min(second, WEEK - length)
    window = one_day(room, since, since + length)
    assert window.is_close
    assert window.since <= since
    # The end of the week is the end of it.
    assert window.since >= since - 3 * window.length or window.until == WEEK
    assert window.holding(other).is_close


def test_the_working_day_of_a_moment() -> None:
    """Two hours from six on working days; what comes behind them belongs to them."""
    found = week_of("table")
    assert working_day(found, SIX + HOUR) == (SIX, EIGHT)
    assert working_day(found, DAY) == (SIX, EIGHT)
    assert working_day(found, DAY + SIX) == (DAY + SIX, DAY + EIGHT)
    assert working_day(found, 0) == (SIX, EIGHT)


def test_a_day_in_80_cells_is_told_in_quarters_of_an_hour() -> None:
    """63 signs beside the names of lanes: a shift and six hours of its night."""
    day = one_day(63, SIX + HOUR // 2, SIX + 9 * HOUR)
    assert (day.length, day.since) == (15 * MINUTE, SIX)


def test_turned_to_another_day_it_stands_there_as_it_stood() -> None:
    window = one_day(63, SIX, EIGHT)
    other = window.turned(EIGHT, EIGHT + DAY)
    assert (other.since, other.length) == (window.since + DAY, window.length)


@given(ROOMS, SECONDS, SECONDS, st.lists(st.booleans(), max_size=15))
@pytest.mark.long
def test_a_second_stays_in_sight_through_zooming_and_resizing(
    room: int, first: int, second: int, zooms: list[bool]
) -> None:
    window = whole_week(room).holding(first)
    for closer in zooms:
        window = window.zoomed(closer, first)
        assert window.since <= first < window.until
    window = window.holding(second)
    for other in (window, window.fitted(room // 2 + 14, second)):
        assert other.since <= second < other.until <= WEEK
        assert other.length in LENGTHS
        column = other.column(second)
        assert 0 <= column < other.slices <= other.room
        assert other.moment(column) <= second < other.moment(column) + other.length
        assert len(other.ruler(column)) == other.slices
        assert other.ruler(column)[column] == " "


def test_zooming_ends_at_a_minute_and_at_the_week() -> None:
    window = whole_week(84)
    assert window.zoomed(False, SIX) == window
    for _ in LENGTHS:
        window = window.zoomed(True, SIX)
    assert window.length == MINUTE
    assert window.column(SIX) == 3


def test_the_ruler_with_a_pencil() -> None:
    # Two hours a sign: a day is twelve signs, so noon stands six further on.
    assert whole_week(84).ruler(3)[:28] == "00    12    00    12    00  "
    assert whole_week(84).days()[:28] == "Mon         Tue         Wed "
    # A mark at 06:15 leaves out the figure that begins at 06:00.
    assert Window(5 * HOUR, 15 * MINUTE, 16).ruler(5) == "05      07  08  "
    # The day is named where the window begins, unless the next one begins too soon.
    assert Window(22 * HOUR, HOUR, 8).days() == "  Tue   "
    assert Window(20 * HOUR, HOUR, 8).days() == "Mon Tue "


def test_steps_stay_within_the_week() -> None:
    window = whole_week(84)
    assert window.beside(SIX + 5, 1) == 8 * HOUR
    assert window.beside(SIX + 5, -1) == 4 * HOUR
    assert window.beside(0, -1) == 0
    assert window.beside(WEEK - 1, 1) == WEEK - 2 * HOUR


def test_lengths_and_stretches_in_words() -> None:
    assert [length_text(seconds) for seconds in (MINUTE, 90 * MINUTE, 2 * HOUR)] == [
        *("1 min", "90 min", "2 h"),
    ]
    assert stretch_text(SIX, EIGHT) == "Mon 06:00 to 08:00"
    assert stretch_text(0, WEEK) == "Mon 00:00 to Sun 24:00"
    assert stretch_text(SIX, DAY) == "Mon 06:00 to 24:00"
