"""Where the columns of scenarios stand, the same for the strip of results and the sheet."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from functools import lru_cache

from rich.cells import cell_len, set_cell_size
from textual import events
from textual.message import Message
from textual.widget import Widget

from whatif.records import dataclass
from whatif.screens.widgets.drawing import Span, Spot, Tone, cut, right, right_in

NARROW, WIDE = 18, 24
"""Cells of a column that nobody has made wider or narrower: at least, and at most."""

SIGNS = 2
"""Cells at the right of a column for what is to be known of a value: a blank and a sign."""

LABEL_NARROW, LABEL_WIDE = 25, 34
LEAST, LEAST_LABEL = 9, 12
"""Cells below which nobody can make a column, and the labels."""

_LEAST_NAME = 6
"""Cells below which a name is only cut: what would tell it from others is no name any more."""


@dataclass(frozen=True, slots=True)
class Columns:
    """The geometry of the columns in character cells.

    Attributes:
        label: width of the row labels at the left.
        width: of one column, its gap of one cell at the left included.
        visible: the places of the columns that are shown, from left to right: those kept in
            sight, then as many of the others as there is room for.
        first: the leftmost of those others.
        count: how many columns there are.
    """

    label: int
    width: int
    visible: tuple[int, ...]
    first: int
    count: int

    @property
    def figures(self) -> int:
        """Cells of a column within which figures stand at the right, wherever they are told."""
        return self.width - 1 - SIGNS

    @property
    def before(self) -> int:
        """How many columns there are to the left of those that move."""
        return self.first - sum(1 for place in self.visible if place < self.first)

    @property
    def after(self) -> int:
        """How many there are to the right of those shown."""
        return self.count - self.visible[-1] - 1 if self.visible else 0

    @property
    def beyond(self) -> str:
        """How many there are on either side, in words: "‹ 1 more   2 more ›"; "" where none."""
        sides = (
            f"‹ {self.before} more" * bool(self.before),
            f"{self.after} more ›" * bool(self.after),
        )
        return "   ".join(side for side in sides if side)

    def x(self, column: int) -> int:
        """The cell at which a shown column begins."""
        return self.label + self.visible.index(column) * self.width

    def spanned(self, column: int, cells: int) -> tuple[int, int]:
        """The first cell and the width of whole columns that hold so many cells and a gap.

        The shown column and those to its right, and where these are too few to its left.
        """
        begin = self.visible.index(column)
        wanted = -(-(cells + 1) // self.width)
        end = min(len(self.visible), begin + max(1, wanted))
        begin = max(0, min(begin, end - wanted))
        return self.label + begin * self.width, (end - begin) * self.width

    def at(self, x: int) -> int | None:
        """The column that holds a cell, None for the labels or beyond the last."""
        place = (x - self.label) // self.width
        return self.visible[place] if 0 <= place < len(self.visible) else None

    def border(self, x: int) -> int | None:
        """The border at a cell: 0 behind the labels, n behind the nth column shown."""
        border, beside = divmod(x - self.label, self.width)
        return border if not beside and 0 <= border <= len(self.visible) else None

    def dragged(self, border: int, x: int) -> tuple[int, int]:
        """Widths of the labels and of a column that bring a border to a cell."""
        if border == 0:
            return max(LEAST_LABEL, x), self.width
        return self.label, max(LEAST, round((x - self.label) / border))


def in_column(text: str, columns: Columns, tone: Tone = "plain", spot: Spot = "") -> Span:
    """A text at the right of a column's figures; one that is longer ends with the column."""
    room = columns.width - 1
    if cell_len(text) <= columns.figures:
        text = right(text, columns.figures)
        return Span(text + " " * (room - columns.figures), tone, spot)
    return right_in(text, room, tone, spot)


def fitted(
    width: int,
    count: int,
    cursor: int,
    first: int,
    kept: int = 0,
    wished: tuple[int | None, int | None] = (None, None),
) -> Columns:
    """The columns that fit ``width`` cells, moved so that the cursor's column is shown.

    Args:
        first: the leftmost column of those that are not kept in sight.
        kept: how many columns at the left stay in sight; one place at least is the others'.
        wished: widths of the labels and of a column, None for what suits.
    """
    label = wished[0] or (LABEL_WIDE if width >= 110 else LABEL_NARROW)
    label = max(LEAST_LABEL, min(label, width - NARROW))
    room = max(NARROW, width - label)
    shown = max(1, min(count, room // (wished[1] or NARROW)))
    column = min(wished[1] or WIDE, room // shown)
    kept = min(kept, shown - 1)
    others = shown - kept
    first = max(kept, min(first, count - others))
    if kept <= cursor < first:
        first = cursor
    elif cursor >= first + others:
        first = cursor - others + 1
    visible = (*range(kept), *range(first, min(count, first + others)))
    return Columns(label, column, visible, first, count)


def shorter(text: str, width: int) -> str:
    """Sides that are too long for ``width`` cells with their one unit only at the end."""
    if cell_len(text) <= width:
        return text
    sides = [side.rpartition(" ") for side in text.split(" x ")]
    units = {unit for _, _, unit in sides}
    if len(sides) < 2 or len(units) > 1 or not all(number for number, _, _ in sides):
        return text
    unit, numbers = units.pop(), [number for number, _, _ in sides]
    spaced = f"{' x '.join(numbers)} {unit}"
    return spaced if cell_len(spaced) <= width else f"{'x'.join(numbers)} {unit}"


def apart(titles: Sequence[str], widths: int | Sequence[int]) -> list[str]:
    """Titles cut to so many cells, each to its own, so that those that differ stay apart.

    Where what is left would be alike, the beginning is cut short too and the text goes on from
    where they differ: "Six p…t shift".
    """
    rooms = (widths,) * len(titles) if isinstance(widths, int) else tuple(widths)
    return list(_apart(tuple(titles), rooms))


@lru_cache(maxsize=8)
def _apart(titles: tuple[str, ...], rooms: tuple[int, ...]) -> tuple[str, ...]:
    return _told_apart(titles, rooms)


def in_two_lines(titles: Sequence[str], rooms: Sequence[tuple[int, int]]) -> list[tuple[str, str]]:
    """Titles broken between words into two lines of so many cells; the second may be empty.

    What is still too long is cut so that those that differ stay apart.
    """
    return list(_in_two_lines(tuple(titles), tuple(rooms)))


@lru_cache(maxsize=8)
def _in_two_lines(
    titles: tuple[str, ...], rooms: tuple[tuple[int, int], ...]
) -> tuple[tuple[str, str], ...]:
    broken = [_broken(title, room[0]) for title, room in zip(titles, rooms, strict=True)]
    alike: dict[str, list[int]] = {}
    for place, (first, _) in enumerate(broken):
        alike.setdefault(first, []).append(place)
    for first, places in alike.items():
        rests = tuple(broken[place][1] for place in places)
        short = _told_apart(rests, tuple(rooms[place][1] for place in places))
        for place, rest in zip(places, short, strict=True):
            broken[place] = first, rest.rstrip()
    return tuple(broken)


def _broken(title: str, room: int) -> tuple[str, str]:
    """As many words of a title as there is room for, or of its one word, and the rest."""
    if cell_len(title) <= room:
        return title, ""
    words = title.split(" ")
    count = 0
    while cell_len(" ".join(words[: count + 1])) <= room:
        count += 1
    if first := " ".join(words[:count]):
        return first, " ".join(words[count:])
    first = ""
    for sign in title:
        if cell_len(first + sign) > room:
            break
        first += sign
    return first, title[len(first) :].lstrip()


def _told_apart(titles: tuple[str, ...], rooms: tuple[int, ...]) -> tuple[str, ...]:
    short = _Short(titles, rooms)
    wide_enough = [place for place, room in enumerate(rooms) if room >= _LEAST_NAME]
    for place in wide_enough:
        alike = [other for other in short.alike(place) if rooms[other] >= _LEAST_NAME]
        if alike:
            named = sorted({titles[other] for other in (place, *alike)})
            for column in (place, *alike):
                cut_short = _from_difference(titles[column], named, rooms[column])
                short.put(column, cut_short)
    # What is still alike differs in more places than there is room for: it is told by number.
    for place in wide_enough:
        if short.alike(place):
            number = f"…{place + 1}"
            short.put(place, _head(titles[place], rooms[place] - cell_len(number)) + number)
    return tuple(short.texts)


class _Short:
    """Titles cut to their rooms, and which of them are cut to the same text."""

    def __init__(self, titles: Sequence[str], rooms: Sequence[int]) -> None:
        self._titles = titles
        self.texts = [
            cut(title, room) if cell_len(title) > room else title
            for title, room in zip(titles, rooms, strict=True)
        ]
        self._places: dict[str, set[int]] = {}
        for place, text in enumerate(self.texts):
            self._places.setdefault(text.strip(), set()).add(place)

    def put(self, place: int, text: str) -> None:
        """Cut one otherwise."""
        self._places[self.texts[place].strip()].remove(place)
        self.texts[place] = text
        self._places.setdefault(text.strip(), set()).add(place)

    def alike(self, place: int) -> list[int]:
        """The places of other titles that are cut to the same text."""
        same = self._places[self.texts[place].strip()]
        if len(same) == 1:
            return []
        return sorted(each for each in same if self._titles[each] != self._titles[place])


def _from_difference(title: str, named: Sequence[str], room: int) -> str:
    """A title's beginning, and then its text from where it differs from all others.

    ``named`` are all of them in their order, where those most like it stand beside it.
    """
    at = bisect_left(named, title)
    beside = [*named[max(0, at - 1) : at], *named[at + 1 : at + 2]]
    most = room - 1 - max(1, room // 4)
    rest = title[max(_same_until(title, other) for other in beside) :]
    if cell_len(rest) > most:
        tail = _head(rest, most - 1) + "…"
    else:
        tail = _tail(title, max(cell_len(rest), room // 2))
    return _head(title, room - 1 - cell_len(tail)) + "…" + tail


def _same_until(text: str, other: str) -> int:
    """How many signs two texts begin with alike."""
    pairs = zip(text, other, strict=False)
    return next((i for i, (a, b) in enumerate(pairs) if a != b), min(len(text), len(other)))


def _head(text: str, width: int) -> str:
    """As much of a text's beginning as ``width`` cells hold."""
    return set_cell_size(text, max(0, width)).rstrip() if cell_len(text) > width else text


def _tail(text: str, width: int) -> str:
    """As much of a text's end as ``width`` cells hold."""
    end = ""
    for sign in reversed(text):
        if cell_len(sign + end) > width:
            break
        end = sign + end
    return end


class DraggedColumns(Widget):
    """A widget in columns; its borders can be dragged."""

    class Dragged(Message):
        """A border is wanted at another cell: widths of the labels and of a column."""

        def __init__(self, label: int, width: int) -> None:
            super().__init__()
            self.label = label
            self.width = width

    columns: Columns | None = None
    """Where the columns are now; None before anything is drawn."""
    was_dragged = False
    """Whether the click that has just ended was the end of dragging."""
    _border: int | None = None

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """Take hold of a border."""
        columns = self.columns
        self.was_dragged = False
        self._border = None if columns is None else columns.border(event.x)
        if self._border is not None:
            self.capture_mouse()

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Move the border that is held."""
        columns = self.columns
        if self._border is None or columns is None:
            return
        wanted = columns.dragged(self._border, event.x)
        if wanted != (columns.label, columns.width):
            self.was_dragged = True
            self.post_message(self.Dragged(*wanted))

    def on_mouse_up(self, event: events.MouseUp) -> None:
        """Let the border go."""
        if self._border is not None:
            self._border = None
            self.release_mouse()
