"""The week: people, machines and pallets over its hours, drawn in signs, with a cursor in time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, get_args

from textual.geometry import clamp
from typing_extensions import override

from whatif.answers.families import StateFamily
from whatif.answers.states import IN_CYCLE, STATE_ROWS
from whatif.answers.week import Week
from whatif.cell.model import DAY, WEEK
from whatif.records import dataclass
from whatif.screens.views.blocks import block
from whatif.screens.views.view import Look, View, ViewHost, marked, no_answer
from whatif.screens.widgets.drawing import (
    Span,
    SpanRow,
    Tone,
    key_spans,
    left_in,
    paragraph,
    right_in,
    row,
    wrapped,
)
from whatif.session.calculate.questions import WeekOf
from whatif.telling.week.lanes import (
    MEANINGS,
    PEOPLE,
    Lane,
    Of,
    around,
    border,
    change,
    figure_of,
    first_arrival,
    hours_text,
    lanes,
    line,
    name,
    next_night,
    nights,
    opened_at_first,
    words,
)
from whatif.telling.week.signs import CUTS_MOST
from whatif.telling.week.window import Window, length_text, stretch_text, whole_week
from whatif.telling.week.words import luck_words, machine_name

if TYPE_CHECKING:
    from whatif.session.calculate.requests import Question

_WIDE = 100
_LABEL, _HOURS = 14, 16
_LEGEND = 2
"""Rows that are kept for the legend; it takes more where there are."""

_KEYS_WIDE = ("  v week", "  b hours", "  j change", "  g night", "  Space pallets")
_KEYS_NARROW = ("  v week", "  b", " j", " g jump")

_OWN = frozenset(
    ("left", "right", "up", "down", "pageup", "pagedown", "plus", "minus", "space")
).union("bBjJgvV")


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


class _Signs:
    """The signs of the lanes, found out once for as long as the same stretch is looked at.

    Nothing hangs on what is known: it is no state of the view.
    """

    __slots__ = ("_known",)

    def __init__(self) -> None:
        self._known: tuple[Week, Window, dict[Lane, str]] | None = None

    def of(self, found: Week, layout: _Layout) -> Mapping[Lane, str]:
        """The signs of each lane that can be seen, a sign a slice of the window."""
        known = self._known
        if known is None or known[0] is not found or known[1] != layout.window:
            known = self._known = found, layout.window, {}
        for lane in layout.lanes:
            if lane not in known[2]:
                known[2][lane] = line(found, lane, layout.window)
        return known[2]


class WeekView(View):
    """A title, the moment in words, a ruler, as many lanes as there is room for, a legend."""

    name = "week"
    reads = """\
A line for the people, one for each machine and, opened, one for each of its pallets; time runs
from left to right, the ruler has the days and hours. The two lines at the top say what the line
with > before it does at the cursor, since when and until when. Below stands what
each sign means."""
    keys = """\
left right    move in time, a sign at a time
up down       from line to line
PgUp PgDn     a day earlier or later
+ -           zoom in and out, from a week to an hour
b B           to where people come, pause or go; B backwards
j J           to the next change in the line; J backwards
g             to the end of the night: when the machine runs dry
Space         open or close a machine's pallets, or the persons
v V           another week of those measured"""

    def __init__(self) -> None:
        self._number = 1
        self._second: int | None = None
        self._lane = Lane(Of.MACHINE, 0)
        self._opened: frozenset[int] | None = None
        self._window: Window | None = None
        self._first = 0
        self._signs = _Signs()

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
            case "plus" | "minus":
                self._window = layout.window.zoomed(key == "plus", second)
            case "space":
                self._opened = self._open(found, layout.room) ^ {layout.lane.opens}
            case "b" | "B":
                self._jump(border(found, second, ahead=key == "b"), key == "b", host)
            case "j" | "J":
                to = change(found, layout.lane, second, ahead=key == "j")
                self._jump(to, key == "j", host)
            case "g":
                self._to_night(found, layout, host)
            case _:
                self._another(found, 1 if key == "v" else -1, host)
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
        luck = _luck(found, width)
        layout = self._layout(found, width, height)
        signs = self._signs.of(found, layout)
        rows = [
            self._head(found, layout.window, wide),
            *_words(found, layout, width),
            _ruler(layout),
            *_lanes(found, layout, signs, wide),
        ]
        free = max(_LEGEND, height - len(rows) - len(luck))
        return [*rows, *_legend(layout, signs, width, free), *luck]

    def _layout(self, found: Week, width: int, height: int) -> _Layout:
        """The cursor kept on a lane that there is and within what is shown."""
        signs = width - _LABEL - (_HOURS if width >= _WIDE else 0)
        room = max(3, height - len(_luck(found, width)) - 4 - _LEGEND)
        second = self._at_second(found)
        window = (self._window or whole_week(signs)).fitted(signs, second).holding(second)
        shown = lanes(found, self._open(found, room))
        at = _place(self._lane, shown)
        last = max(0, len(shown) - room)
        first = max(0, min(self._first, at, last), min(at - room + 1, last))
        return _Layout(second, window, shown, at, first, room)

    def _at_second(self, found: Week) -> int:
        """Where the cursor is; until it was moved, where the first people come."""
        return first_arrival(found) if self._second is None else self._second

    def _head(self, found: Week, window: Window, wide: bool) -> SpanRow:
        of = f"{found.weeks} or more" if found.may_be_more else f"{found.weeks}"
        week = f" Week {found.number} of {of}: " if wide else f" Week {found.number}: "
        stretch = stretch_text(window.since, window.until)
        told = Span(f"{week}{stretch}, a sign is {length_text(window.length)}  ", "title")
        keys = _KEYS_WIDE if wide else _KEYS_NARROW
        return row(told, *key_spans("+", " -"), Span(" zoom", "dim"), *key_spans(*keys))


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


def _words(found: Week, layout: _Layout, width: int) -> list[SpanRow]:
    """Two rows: the lane's words, and what belongs to it as far as there is room."""
    more = around(found, layout.lane, layout.second)
    said = words(found, layout.lane, layout.second)
    text = f"{said}. {more[:1].upper()}{more[1:]}." if more else f"{said}."
    return [row(left_in(f" {line}", width)) for line in wrapped(text, width - 1, 2)]


def _ruler(layout: _Layout) -> SpanRow:
    count = len(layout.lanes)
    last = min(layout.first + layout.room, count)
    told = f" {layout.first + 1}-{last} of {count}" if count > layout.room else ""
    at = layout.window.column(layout.second)
    ruler = layout.window.ruler(free=at)
    return row(
        left_in(told, _LABEL, "dim"),
        Span(ruler[:at], "dim"),
        Span("▼", "title"),
        Span(ruler[at + 1 :], "dim"),
    )


def _lanes(found: Week, layout: _Layout, signs: Mapping[Lane, str], wide: bool) -> list[SpanRow]:
    drawn = []
    window = layout.window
    for place, lane in list(enumerate(layout.lanes))[layout.first : layout.first + layout.room]:
        chosen, spot = place == layout.at, f"{place}@"
        cursor = window.column(layout.second) if chosen else None
        # One span a sign, so that each can be clicked; the cursor's stands out.
        spans = (
            Span(block(sign), "chosen" if i == cursor else _tone(lane.of, sign), f"{spot}{i}")
            for i, sign in enumerate(signs[lane])
        )
        hours = right_in(hours_text(found, lane, window), _HOURS, "dim", spot)
        label = marked(name(found, lane), _LABEL, chosen=chosen, spot=spot)
        drawn.append(row(label, *spans, *([hours] if wide else [])))
    return drawn


def _legend(layout: _Layout, signs_of: Mapping[Lane, str], width: int, free: int) -> list[SpanRow]:
    """What the signs say that can be seen, those of the chosen lane first.

    A sort of lane whose signs the free rows cannot explain wholly is left out.
    """
    used: dict[Of, set[str]] = {layout.lane.of: set()}
    for lane in layout.lanes:
        used.setdefault(lane.of, set()).update(signs_of[lane])
    drawn: list[SpanRow] = []
    for of, signs in used.items():
        said = [
            f"{block(sign)} {meaning}"
            for sign, meaning in MEANINGS[of].items()
            if sign in signs or len(sign) > 1
        ]
        rows = paragraph(f"{of.name.lower()}: {'; '.join(said)}", width - 1, "dim")
        if not drawn or len(drawn) + len(rows) <= free:
            drawn += rows
    return drawn[:free]


_MACHINE = {row.letter: row.family for row in STATE_ROWS.values()}
_MACHINE[CUTS_MOST] = STATE_ROWS[IN_CYCLE].family

_TONES: dict[Of, dict[Tone, str]] = {
    Of.PEOPLE: {"serving": "0123456789*", "resting": "b>."},
    Of.PERSON: {"serving": "lap!", "waiting": "_", "resting": "b."},
    Of.MACHINE: {
        family: "".join(letter for letter, of in _MACHINE.items() if of == family)
        for family in get_args(StateFamily)
    },
    Of.LOADED: {"cutting": "123456789*", "resting": "."},
    Of.PALLET: {"cutting": "#", "serving": "lcir", "waiting": "fhwe_", "resting": "b."},
}


def _tone(of: Of, sign: str) -> Tone:
    return next(tone for tone, signs in _TONES[of].items() if sign in signs)
