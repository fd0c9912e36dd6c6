"""The week: people, machines and pallets over its hours, drawn in signs, with a cursor in time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby
from operator import itemgetter
from typing import TYPE_CHECKING, NamedTuple

from rich.cells import cell_len
from textual.geometry import clamp
from typing_extensions import override

from whatif.answers.week import Week
from whatif.cell.model import DAY, WEEK
from whatif.records import dataclass
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, no_answer
from whatif.screens.widgets.drawing import (
    EDGE,
    Along,
    Span,
    SpanRow,
    Tone,
    cut,
    left_in,
    paragraph,
    right_in,
    row,
    wrap,
    wrapped,
)
from whatif.session.calculate.questions import WeekOf
from whatif.telling.week.drawn import (
    EMPTY_CELL,
    LEGEND_ROWS,
    MARKS,
    MIDNIGHT,
    MOMENT,
    blocks,
    lane_legend,
)
from whatif.telling.week.lanes import (
    HOURS_OF,
    PEOPLE,
    Lane,
    Of,
    border,
    change,
    clock_and_hours,
    figure_of,
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
    working_day,
)
from whatif.telling.week.window import Window, length_text, one_day, stretch_text, whole_week
from whatif.telling.week.words import luck_words, machine_name

if TYPE_CHECKING:
    from whatif.session.calculate.requests import Question

_WIDE = 100
_LABEL, _HOURS = 20, 9
_RULER, _HEAD = 2, 1
_SAID_WIDE, _SAID_NARROW = 2, 3
"""Rows that the sentence of the moment has."""

_NOTHING: Tone = "faint"
"""Blank, and what stands in it: no ground, as where nothing is drawn."""

_WHOLE, _DAY = (
    ViewKey("a", "a", "whole week", "the whole week at once, and back to one day"),
    ViewKey("a", "a", "one day", "back to the working day of the moment told"),
)

_OWN_KEYS = (
    ViewKey("plus,minus", "+ -", "zoom", "zoom in and out, from a week to a minute a character"),
    ViewKey("h,H", "h", "hours", "to where people come, pause or go; H backwards"),
    ViewKey("c,C", "c", "change", "to the next change in the line; C backwards"),
    ViewKey("d", "d", "done", "to where the machine runs out of work in the next night"),
    ViewKey("w,W", "w", "week", "another week of those measured; W backwards"),
    ViewKey("space", "Space", "pallets", "open or close a machine's pallets, or the persons"),
)

_OWN = frozenset(
    ("left", "right", "up", "down", "pageup", "pagedown", "plus", "minus", "space")
).union("acCdhHwW")


@dataclass(frozen=True, slots=True)
class _Layout:
    """What of a week is shown, and where the cursor is in it.

    Attributes:
        second: under the cursor, in the ``window``.
        lanes: all that are open; ``room`` of them from the ``first`` on are drawn.
        at: the cursor's among them.
    """

    second: int
    window: Window
    lanes: tuple[Lane, ...]
    at: int
    first: int
    room: int

    @property
    def lane(self) -> Lane:
        """The cursor's."""
        return self.lanes[self.at]

    @property
    def shown(self) -> tuple[Lane, ...]:
        """Those that are drawn."""
        return self.lanes[self.first : self.first + self.room]


class _DrawnLane(NamedTuple):
    """A sign a slice of the window, the blocks that they are drawn as, and the lane's hours."""

    signs: str
    blocks: str
    hours: str


class _Drawn:
    """The lanes as they are drawn, found out once for as long as the same stretch is looked at.

    Nothing hangs on what is known: it is no state of the view.
    """

    __slots__ = ("_known",)

    def __init__(self) -> None:
        self._known: tuple[Week, Window, dict[Lane, _DrawnLane]] | None = None

    def of(self, found: Week, layout: _Layout) -> Mapping[Lane, _DrawnLane]:
        """Each lane that can be seen."""
        known = self._known
        if known is None or known[0] is not found or known[1] != layout.window:
            known = self._known = found, layout.window, {}
        for lane in layout.shown:
            if lane not in known[2]:
                for each, signs in lines(found, lane, layout.window).items():
                    hours = hours_text(found, each, layout.window)
                    known[2][each] = _DrawnLane(signs, blocks(each.of, signs), hours)
        return known[2]


class WeekView(View):
    """A title, the moment in words, a ruler, as many lanes as there is room for, a legend."""

    name = "week"
    reads = """\
A line for the people, one for each machine and, opened, one for each of its pallets; time runs
from left to right, the ruler has the days and hours. It opens on one working day and the hours
behind it; a shows the whole week. Each character stands for as long as the title says, and shows
what took most of it. Solid blocks cut metal; where nobody is there, only what runs on and what
lies on a pallet is drawn. The sentence at the top says what the chosen line does at the cursor,
from when to when. The rows below the lines say what each sign means. Persons and pallets are drawn
one by one where a
character is half an hour or less: of longer ones they would seem to differ from their machine."""
    keys = """\
left right    move in time, a character at a time
up down       from line to line
PgUp PgDn     a day earlier or later"""

    def __init__(self) -> None:
        self._number = 1
        self._second: int | None = None
        self._lane = Lane(Of.MACHINE, 0)
        self._opened: frozenset[int] | None = None
        self._window: Window | None = None
        self._first = 0
        self._drawn = _Drawn()

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Where to move in time, how closely to look, and what to open."""
        is_whole = self._window is not None and self._window.is_whole
        return (_DAY if is_whole else _WHOLE, *_OWN_KEYS)

    @override
    def question(self, look: Look) -> Question | None:
        """The week of the chosen scenario."""
        return None if look.chosen is None else WeekOf(look.chosen, self._number)

    # -- keys and clicks ---------------------------------------------------------------------

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Move in time or from lane to lane, zoom, or choose another week."""
        found = _found(look)
        if not isinstance(found, Week):
            # While the week is being worked out they must not do what they do elsewhere.
            return key in _OWN
        if key not in _OWN:
            return False
        host.tell("")
        layout = self._from_shown(found, host)
        second = layout.second
        match key:
            case "left" | "right":
                self._second = layout.window.beside(second, 1 if key == "right" else -1)
            case "up" | "down":
                self._step(layout, 1 if key == "down" else -1)
            case "pagedown" | "pageup":
                self._second = clamp(second + (DAY if key == "pagedown" else -DAY), 0, WEEK - 1)
                self._window = layout.window.turned(second, self._second)
            case "plus" | "minus":
                self._window = layout.window.zoomed(key == "plus", second)
            case "a":
                room = layout.window.room
                day = one_day(room, *working_day(found, second)).holding(second)
                self._window = day if layout.window.is_whole else whole_week(room)
            case "space":
                self._open_or_close(found, layout, host)
            case "h" | "H":
                self._jump(border(found, second, ahead=key == "h"), key == "h", host)
            case "c" | "C":
                to = change(found, layout.lane, second, ahead=key == "c")
                self._jump(to, key == "c", host)
            case "d":
                self._to_night(found, layout, host)
            case _:
                self._another(found, 1 if key == "w" else -1, host)
        return True

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """A click on a sign goes there; one before a lane chooses it, and then opens it."""
        found = _found(look)
        if not isinstance(found, Week):
            return
        layout = self._from_shown(found, host)
        lane, _, column = spot.partition("@")
        self._lane = layout.lanes[int(lane)]
        if column:
            self._second = layout.window.moment(int(column))
        elif self._lane == layout.lane:
            self.press("space", look, host)

    @override
    def wheel(self, rows: int, columns: int, look: Look, host: ViewHost) -> bool:
        """Turn from lane to lane, sideways in time."""
        found = _found(look)
        if not isinstance(found, Week):
            return False
        layout = self._from_shown(found, host)
        if rows:
            self._step(layout, rows)
        else:
            self._second = layout.window.beside(layout.second, columns)
        return True

    def _from_shown(self, found: Week, host: ViewHost) -> _Layout:
        """What is shown, which is what one moves on from."""
        layout = self._layout(found, *host.room)
        self._second, self._window = layout.second, layout.window
        self._lane, self._first = layout.lane, layout.first
        return layout

    def _step(self, layout: _Layout, by: int) -> None:
        self._lane = layout.lanes[clamp(layout.at + by, 0, len(layout.lanes) - 1)]

    def _open(self, found: Week, room: int) -> frozenset[int]:
        """What is open; until something was opened or closed, as much as there is room for."""
        return opened_at_first(found, room) if self._opened is None else self._opened

    def _open_or_close(self, found: Week, layout: _Layout, host: ViewHost) -> None:
        place = layout.lane.opens
        if not layout.window.is_close:
            host.tell("Persons and pallets are drawn from half an hour a character on: + zooms in.")
        elif place != PEOPLE and len(found.machines[place].pallets) == 1:
            host.tell(f"{machine_name(found.machines[place])} has one table: this line is its own.")
        else:
            self._opened = self._open(found, layout.room) ^ {place}

    def _jump(self, to: int | None, ahead: bool, host: ViewHost) -> None:
        if to is None:
            where = "to the week's end" if ahead else "from the week's begin"
            host.tell(f"Nothing else in this line {where}.")
        else:
            self._second = to

    def _to_night(self, found: Week, layout: _Layout, host: ViewHost) -> None:
        of_people = layout.lane.of in (Of.PEOPLE, Of.PERSON)
        place = None if of_people else layout.lane.place
        night = next_night(nights(found, place), layout.second)
        if night is None:
            host.tell("Somebody is there all week, so there is no night without people.")
            return
        self._second = night.over
        who = () if place is None else (machine_name(found.machines[place]),)
        host.tell(night.words(*who))

    def _another(self, found: Week, by: int, host: ViewHost) -> None:
        if found.weeks == 1:
            host.tell("This study measures one week only.")
        self._number = (found.number - 1 + by) % found.weeks + 1

    # -- drawing -----------------------------------------------------------------------

    @override
    def figure(self, look: Look) -> str:
        """The hours of what the line does at the cursor."""
        found = _found(look)
        if not isinstance(found, Week):
            return "spindle_hours.total"
        every_lane = lanes(found, range(PEOPLE, len(found.machines)))
        lane = every_lane[_place(self._lane, every_lane)]
        return figure_of(found, lane, self._at_second(found))

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The week, or why there is none."""
        found = _found(look)
        if not isinstance(found, Week):
            return no_answer(look, width)
        wide = width >= _WIDE
        layout = self._layout(found, width, height)
        drawn = self._drawn.of(found, layout)
        head = [
            _head(found, look.title, layout.window, width),
            *_sentence(found, layout, width),
            *_ruler(layout, wide),
        ]
        foot = [
            *_legend(layout, drawn, width),
            *_coarse(layout.window, width),
            *_luck(found, width),
        ]
        spare = height - len(head) - len(layout.shown) - len(foot)
        drawn_lanes = _lanes(found, layout, drawn, wide)
        rows = [*head, *_apart(layout, drawn_lanes, spare), *foot]
        return [*rows, *_each_in_words(found, layout, width, height - len(rows))]

    def _layout(self, found: Week, width: int, height: int) -> _Layout:
        """The cursor kept on a lane that there is and within what is shown."""
        signs = width - _LABEL - (_HOURS if width >= _WIDE else 0)
        second = self._at_second(found)
        window = self._window or one_day(signs, *working_day(found, second))
        window = window.fitted(signs, second).holding(second)
        around = _HEAD + _said_rows(width) + _RULER + LEGEND_ROWS + len(_coarse(window, width))
        room = max(3, height - len(_luck(found, width)) - around)
        shown = lanes(found, self._open(found, room) if window.is_close else ())
        at = _place(self._lane, shown)
        last = max(0, len(shown) - room)
        first = max(0, min(self._first, at, last), min(at - room + 1, last))
        return _Layout(second, window, shown, at, first, room)

    def _at_second(self, found: Week) -> int:
        """Where the cursor is; until it was moved, where the first people come."""
        return first_arrival(found) if self._second is None else self._second


def _head(found: Week, title: str, window: Window, width: int) -> SpanRow:
    """Whose week it is and which, as much of it in words as there is room for."""
    week = f"week {found.number} of {found.weeks}{' or more' if found.may_be_more else ''}"
    stretch = stretch_text(window.since, window.until)
    sign = f"each character is {length_text(window.length)}"
    zooms = "+ zooms in" if window.is_whole else "- zooms out"
    # The ruler has the stretch too, and the line of keys what zooms.
    texts = (
        f" {title}: {week}, {stretch}; {sign}, {zooms}",
        f" {title}: {week}; {sign}, {zooms}",
        f" {title}: {week}; {sign}",
        f" {week}; {sign}, {zooms}",
    )
    said = next((text for text in texts if cell_len(text) <= width), texts[-1])
    return row(left_in(said, width, "title"))


def _found(look: Look) -> object:
    """The week, also while it is still being found how many are measured."""
    return look.partly if look.result is None else look.result


def _place(lane: Lane, shown: Sequence[Lane]) -> int:
    """Where a lane is; one that is not shown any more gives way to its machine's first."""
    for like in (lane, Lane(Of.MACHINE, lane.place)):
        if like in shown:
            return shown.index(like)
    return 0


def _luck(found: Week, width: int) -> list[SpanRow]:
    said = luck_words(found)
    return paragraph(said, width, "dim") if said else []


def _coarse(window: Window, width: int) -> list[SpanRow]:
    """What a long character shows, and that persons and pallets are seen more closely.

    One row, from 80 cells on.
    """
    if window.is_close:
        return []
    most = f"Shown is what took most of {length_text(window.length)}"
    said = f"{most}; + zooms in to persons and pallets."
    return paragraph(said, width, "dim")


def _said_rows(width: int) -> int:
    return _SAID_WIDE if width >= _WIDE else _SAID_NARROW


def _sentence(found: Week, layout: _Layout, width: int) -> list[SpanRow]:
    """The moment in one sentence, as much of it as its rows hold."""
    room, rows = width - EDGE - 1, _said_rows(width)
    said = moment_sentence(
        found,
        layout.lane,
        layout.second,
        layout.window,
        lambda text: len(wrap(text, room)) <= rows,
    )
    return [row(left_in(f" {line}", width, "lead")) for line in wrapped(said, room, rows)]


def _ruler(layout: _Layout, wide: bool) -> list[SpanRow]:
    """Days, and below them hours with the cursor among them."""
    window, count = layout.window, len(layout.lanes)
    last = min(layout.first + layout.room, count)
    told = f" {layout.first + 1} to {last} of {count} lines" if count > layout.room else ""
    at = window.column(layout.second)
    ruler = window.ruler(free=at)
    days, hours = (right_in(text, _HOURS if wide else 0, "dim") for text in HOURS_OF)
    return [
        row(left_in("", _LABEL), Span(window.days(), "title"), days),
        row(
            left_in(told, _LABEL, "dim"),
            Span(ruler[:at], "dim"),
            Span(MOMENT, "chosen"),
            Span(ruler[at + 1 :], "dim"),
            hours,
        ),
    ]


def _lanes(
    found: Week, layout: _Layout, drawn: Mapping[Lane, _DrawnLane], wide: bool
) -> list[SpanRow]:
    rows = []
    window = layout.window
    midnights = _midnights(window)
    for place, lane in enumerate(layout.shown, layout.first):
        chosen, spot = place == layout.at, f"{place}@"
        signs, cells, hours_said = drawn[lane]
        marks = MARKS[lane.of]
        toned: list[tuple[Tone, str]] = []
        # The ruler marks the cursor: a block in its look would read as another one.
        for i, (sign, cell) in enumerate(zip(signs, cells, strict=True)):
            if cell == EMPTY_CELL and i in midnights:
                cell = MIDNIGHT
            toned.append((marks[sign].family or _NOTHING, cell))
        spans: list[Span] = []
        at = 0
        for tone, like in groupby(toned, itemgetter(0)):
            text = "".join(cell for _, cell in like)
            spans.append(Span(text, tone, Along(spot, at)))
            at += len(text)
        hours = right_in(hours_said, _HOURS, "plain", spot)
        title = cut(name(found, lane), _LABEL - EDGE - 1)
        label = Span(title, "chosen" if chosen else "plain", spot)
        rows.append(row(" " * EDGE, label, " ", *spans, *([hours] if wide else [])))
    return rows


def _midnights(window: Window) -> set[int]:
    """The signs at which a day begins."""
    return {i for i in range(window.slices) if window.begins_a_day(i)}


def _apart(layout: _Layout, drawn: list[SpanRow], spare: int) -> list[SpanRow]:
    """The lanes, a blank row before each machine's and below the last where there are so many."""
    begins = [lane.of is Of.MACHINE for lane in layout.shown]
    if sum(begins) + 1 > spare:
        return drawn
    rows: list[SpanRow] = []
    for spans, is_first in zip(drawn, begins, strict=True):
        rows += [row(""), spans] if is_first and rows else [spans]
    return [*rows, row("")]


def _each_in_words(found: Week, layout: _Layout, width: int, room: int) -> list[SpanRow]:
    """What goes on in each line at the cursor's moment, as far as the room below goes."""
    rows = [row(""), row(left_in(f" {clock_and_hours(found, layout.second)}", width, "title"))]
    at_least = len(rows) + 1
    for lane in layout.shown:
        if lane.of is not Of.LOADED:
            told = paragraph(without_clock(found, lane, layout.second), width, "dim")
            if len(rows) + len(told) > room:
                break
            rows += told
    return rows if len(rows) >= at_least else []


def _legend(layout: _Layout, drawn: Mapping[Lane, _DrawnLane], width: int) -> list[SpanRow]:
    """What the signs say that can be seen, in two rows at most."""
    lanes_seen = [(lane.of, drawn[lane].signs) for lane in layout.shown]
    has_midnight = any(
        MARKS[of][signs[i]].block == EMPTY_CELL
        for i in _midnights(layout.window)
        for of, signs in lanes_seen
    )
    rows = []
    for told in lane_legend(lanes_seen, width - EDGE, has_midnight=has_midnight):
        spans = [Span(" " * EDGE)]
        for block, family, text in told:
            tone: Tone = "chosen" if block == MOMENT else family or _NOTHING
            spans += [Span(block, tone), Span(f" {text}  ", "dim")]
        rows.append(tuple(spans))
    return rows
