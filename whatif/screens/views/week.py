"""The week: people, machines and pallets over its hours, drawn in signs, with a cursor in time."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from typing_extensions import override

from whatif.answers.week import Week
from whatif.cell.model import DAY, WEEK
from whatif.screens.views.drawing import (
    Span,
    SpanRow,
    block,
    left_in,
    paragraph,
    right_in,
    row,
    tone_of,
)
from whatif.screens.views.view import Look, View, ViewHost, no_answer, not_yet
from whatif.screens.widgets.columns import wrapped
from whatif.session.calculate.questions import NoAnswer, WeekOf
from whatif.session.calculate.requests import Question
from whatif.telling.week.lanes import (
    MEANINGS,
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
from whatif.telling.week.window import Window, length_text, stretch_text, whole_week
from whatif.telling.week.words import luck_words, machine_name

_WIDE = 100
_LABEL, _HOURS = 14, 16
_LEGEND = 2
"""Rows that are kept for the legend; it takes more where there are."""

_KEYS_WIDE = (
    ("v", "  v week"),
    ("b", "  b hours"),
    ("j", "  j change"),
    ("g", "  g night"),
    ("space", "  Space pallets"),
)
_KEYS_NARROW = (("v", "  v week"), ("b", "  b"), ("j", " j"), ("g", " g jump"))

_OWN = frozenset(
    ("left", "right", "up", "down", "pageup", "pagedown", "plus", "minus", "space")
).union("bBjJgvV")
_NEXT = {"right": 1, "left": -1}
_LANES = {"down": 1, "up": -1}


class WeekView(View):
    """A title, the moment in words, a ruler, as many lanes as there is room for, a legend."""

    name: ClassVar[str] = "week"
    title: ClassVar[str] = "The week"
    asks: ClassVar[str] = "people, machines and pallets, hour by hour"
    reads: ClassVar[str] = """\
A line for the people, one for each machine and, opened, one for each of its pallets; time runs
from left to right, the ruler has the days and hours. The two lines at the top say what the line
with > before it does at the cursor, since when and until when. Below stands what
each sign means."""
    keys: ClassVar[str] = """\
left right    move in time, a sign at a time
up down       from line to line
PgUp PgDn     a day earlier or later
+ -           zoom in and out, from a week to an hour
b B           to where people come, pause or go; B backwards
j J           to the next change in the line; J backwards
g             to the end of the night: when the machine runs dry
Space         open or close a machine's pallets, or the persons
v V           another week of those measured"""
    opens: ClassVar[str] = "f7"

    def __init__(self) -> None:
        self._number = 1
        self._second: int | None = None
        self._lane = Lane(Of.MACHINE, 0)
        self._opened: frozenset[int] | None = None
        self._window: Window | None = None
        self._shown: tuple[Lane, ...] = ()
        self._first = 0
        self._room = 0

    @override
    def question(self, look: Look) -> Question | None:
        """The week of the chosen scenario."""
        return None if look.chosen is None else WeekOf(look.chosen, self._number)

    # -- keys and clicks ---------------------------------------------------------------------

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Move in time or from lane to lane, zoom, or choose another week."""
        found, window, second = look.result, self._window, self._second
        if not isinstance(found, Week) or window is None or second is None:
            # While the week is being worked out they must not do what they do elsewhere.
            return key in _OWN
        if key not in _OWN:
            return False
        host.tell("")
        match key:
            case "left" | "right":
                self._second = window.beside(second, _NEXT[key])
            case "up" | "down":
                self._step(_LANES[key])
            case "pagedown" | "pageup":
                self._second = max(0, min(second + (DAY if key == "pagedown" else -DAY), WEEK - 1))
            case "plus" | "minus":
                self._window = window.zoomed(key == "plus", second)
            case "space":
                self._open(found)
            case "b" | "B" | "j" | "J" | "g":
                self._jump(key, found, second, host)
            case _:
                self._another(found, 1 if key == "v" else -1, host)
        return True

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> bool:
        """A click on a sign goes there; one before a lane chooses it, and then opens it."""
        lane, at, column = spot.partition("@")
        if not at:
            return self.press(spot, look, host)
        again = self._lane == self._shown[int(lane)]
        self._lane = self._shown[int(lane)]
        if column and self._window is not None:
            self._second = self._window.moment(int(column))
        elif again:
            return self.press("space", look, host)
        return True

    @override
    def wheel(self, rows: int, columns: int, look: Look, host: ViewHost) -> bool:
        """Turn from lane to lane, sideways in time."""
        if self._window is None or self._second is None:
            return False
        if rows:
            self._step(rows)
        else:
            self._second = self._window.beside(self._second, columns)
        return True

    def _step(self, by: int) -> None:
        at = self._place() + by
        self._lane = self._shown[max(0, min(at, len(self._shown) - 1))]

    def _place(self) -> int:
        """Where the lane is; one that is not shown any more gives way to its machine's first."""
        for like in (self._lane, Lane(Of.MACHINE, self._lane.place)):
            if like in self._shown:
                return self._shown.index(like)
        return 0

    def _open(self, found: Week) -> None:
        self._opened = frozenset(self._open_now(found)) ^ {self._lane.opens}
        self._shown = lanes(found, self._opened)

    def _open_now(self, found: Week) -> frozenset[int]:
        """What is open; until something was opened or closed, as much as there is room for."""
        return opened_at_first(found, self._room) if self._opened is None else self._opened

    def _jump(self, key: str, found: Week, second: int, host: ViewHost) -> None:
        if key == "g":
            self._to_night(found, second, host)
            return
        ahead = key in ("b", "j")
        to = (
            border(found, second, ahead=ahead)
            if key in ("b", "B")
            else change(found, self._lane, second, ahead=ahead)
        )
        if to is None:
            host.tell(
                f"Nothing else in this line {'to' if ahead else 'from'} the week's "
                f"{'end' if ahead else 'begin'}."
            )
        else:
            self._second = to

    def _to_night(self, found: Week, second: int, host: ViewHost) -> None:
        of_people = self._lane.of in (Of.PEOPLE, Of.PERSON)
        place = None if of_people else self._lane.place
        night = next_night(nights(found, place), second)
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
        found = look.result
        if not isinstance(found, Week) or self._second is None:
            return "spindle_hours.total"
        return figure_of(found, self._lane, self._second)

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The week, or why there is none."""
        found = look.result
        if look.chosen is None:
            return no_answer(look, width)
        if isinstance(found, NoAnswer):
            return paragraph(found.why, width, "dim", indent=1)
        if not isinstance(found, Week):
            return not_yet(look, width) or []
        wide = width >= _WIDE
        hours = _HOURS if wide else 0
        luck = paragraph(luck_words(found), width, "dim", indent=1) if luck_words(found) else []
        room = max(3, height - len(luck) - 4 - _LEGEND)
        second, window = self._prepared(found, width - _LABEL - hours, room)
        rows = [
            self._head(found, window, wide),
            *self._words(found, second, width),
            self._ruler(window, second, room),
            *self._lanes(found, window, second, room, wide),
        ]
        free = max(_LEGEND, height - len(rows) - len(luck))
        return [*rows, *self._legend(found, window, width, free), *luck]

    def _prepared(self, found: Week, signs: int, room: int) -> tuple[int, Window]:
        """The cursor kept on a lane that there is and within what is shown."""
        second = first_arrival(found) if self._second is None else self._second
        self._second = second
        window = self._window or whole_week(signs)
        self._window = window.fitted(signs, second).holding(second)
        self._room = room
        self._shown = lanes(found, self._open_now(found))
        at = self._place()
        self._lane = self._shown[at]
        last = max(0, len(self._shown) - room)
        self._first = max(0, min(self._first, at, last), min(at - room + 1, last))
        return second, self._window

    def _head(self, found: Week, window: Window, wide: bool) -> SpanRow:
        week = f" Week {found.number} of {found.weeks}: " if wide else f" Week {found.number}: "
        stretch = stretch_text(window.since, window.until)
        told = Span(f"{week}{stretch}, a sign is {length_text(window.length)}  ", "title")
        zoom = (Span("+", "dim", "plus"), Span(" -", "dim", "minus"), Span(" zoom", "dim"))
        keys = _KEYS_WIDE if wide else _KEYS_NARROW
        return row(told, *zoom, *(Span(text, "dim", key) for key, text in keys))

    def _words(self, found: Week, second: int, width: int) -> list[SpanRow]:
        """Two rows: the lane's words, and what belongs to it as far as there is room."""
        lane = self._lane
        more = around(found, lane, second)
        said = words(found, lane, second)
        text = f"{said}. {more[:1].upper()}{more[1:]}." if more else f"{said}."
        first, rest = wrapped(text, width - 1, 2)
        return [
            row(left_in(f" {first}", width)),
            row(left_in(f" {rest}", width)),
        ]

    def _ruler(self, window: Window, second: int, room: int) -> SpanRow:
        count = len(self._shown)
        last = min(self._first + room, count)
        told = f" {self._first + 1}-{last} of {count}" if count > room else ""
        at = window.column(second)
        ruler = window.ruler(free=at)
        return row(
            left_in(told, _LABEL, "dim"),
            Span(ruler[:at], "dim"),
            Span("▼", "title"),
            Span(ruler[at + 1 :], "dim"),
        )

    def _lanes(
        self, found: Week, window: Window, second: int, room: int, wide: bool
    ) -> list[SpanRow]:
        drawn = []
        for i, lane in list(enumerate(self._shown))[self._first : self._first + room]:
            chosen = lane == self._lane
            before = left_in(
                f"{'>' if chosen else ' '}{name(found, lane)}",
                _LABEL,
                "title" if chosen else "plain",
                f"{i}@",
            )
            cursor = window.column(second) if chosen else None
            signs = _signs(lane, line(found, lane, window), i, cursor)
            hours = right_in(hours_text(found, lane, window), _HOURS, "dim", f"{i}@")
            drawn.append(row(before, *signs, *([hours] if wide else [])))
        return drawn

    def _legend(self, found: Week, window: Window, width: int, free: int) -> list[SpanRow]:
        """What the signs say that can be seen, those of the chosen lane first.

        A sort of lane whose signs the free rows cannot explain wholly is left out.
        """
        used: dict[Of, set[str]] = {self._lane.of: set()}
        for lane in self._shown:
            used.setdefault(lane.of, set()).update(line(found, lane, window))
        drawn: list[SpanRow] = []
        for of, signs in used.items():
            said = [
                f"{block(sign)} {meaning}"
                for sign, meaning in MEANINGS[of].items()
                if sign in signs or len(sign) > 1
            ]
            rows = paragraph(f"{_LEGENDS[of]}: {'; '.join(said)}", width - 1, "dim", indent=1)
            if not drawn or len(drawn) + len(rows) <= free:
                drawn += rows
        return drawn[:free]


_LEGENDS = {
    Of.PEOPLE: "people",
    Of.PERSON: "person",
    Of.MACHINE: "machine",
    Of.LOADED: "loaded",
    Of.PALLET: "pallet",
}


def _signs(lane: Lane, signs: str, place: int, cursor: int | None) -> Sequence[Span]:
    """One span a sign, so that each can be clicked; the cursor's stands out."""
    return [
        Span(
            block(sign),
            "chosen" if column == cursor else tone_of(lane.of, sign),
            f"{place}@{column}",
        )
        for column, sign in enumerate(signs)
    ]
