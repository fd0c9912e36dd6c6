"""The gain over two inputs as a table of figures."""

from __future__ import annotations

from typing_extensions import override

from whatif.answers.moves.held import taking, taking_alone
from whatif.answers.moves.ranges import TriedValues, few, offered, two_offered
from whatif.answers.moves.vary import Grid
from whatif.screens.views.moves.input import InputChoice
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, no_answer
from whatif.screens.widgets.drawing import (
    Span,
    SpanRow,
    left_in,
    more_of,
    paragraph,
    right,
    right_in,
    row,
    window,
)
from whatif.session.calculate.questions import GridOf
from whatif.telling.moves.grid import (
    grid_best,
    grid_lead,
    grid_legend,
    grid_rest,
    grid_shares,
    grid_texts,
    grid_titles,
    grid_words,
)
from whatif.telling.moves.in_units import grid_in
from whatif.telling.moves.tried import draws_sentence
from whatif.telling.problems import what_is_wrong

_STEPS = {"up": (-1, 0), "down": (1, 0), "left": (0, -1), "right": (0, 1)}
_HEADS = 2
"""Rows above the cells: names and values of the columns."""
_LABEL = 16
_CELL = 10
_BARS = "▁▂▃▄▅▆▇█"
_KEYS = (
    ViewKey("o,O", "o O", "inputs", "another input in the columns, O in the rows"),
    ViewKey("v,V", "v V", "values", "the values that are tried in the columns, V in the rows"),
)
_MORE = (
    ViewKey("k", "k", "keep", "keep both values under the cursor in the study"),
    ViewKey("K", "K", "here alone", "keep them in this scenario alone, whatever it inherits"),
    ViewKey("left,right,up,down", "←→↑↓", "", "from cell to cell"),
)


class GridPage(View):
    """Sentences, a row for each value of the first input, and the cell under the cursor."""

    def __init__(self) -> None:
        self.down, self.across = InputChoice("V", "O"), InputChoice()
        self._at: tuple[int, int] | None = None

    def prepare(self, look: Look) -> None:
        """Where nothing has been chosen yet: pallets and people."""
        if look.chosen is None or (self.down.path and self.across.path):
            return
        two = two_offered(offered(look.draft, look.checked, look.chosen))
        if two is not None:
            self.down.path, self.across.path = two[0].path, two[1].path

    @override
    def question(self, look: Look) -> GridOf | None:
        """The chosen scenario over both."""
        self.prepare(look)
        down, across = self._span(self.down, look), self._span(self.across, look)
        if (
            look.chosen is None
            or not isinstance(down, TriedValues)
            or not isinstance(across, TriedValues)
        ):
            return None
        return GridOf(look.chosen, down.input.path, down.values, across.input.path, across.values)

    def _span(self, choice: InputChoice, look: Look) -> TriedValues | str:
        """As typed, or few enough of the usual values for a table."""
        span = choice.span(look)
        return few(span) if isinstance(span, TriedValues) and not choice.typed else span

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Which inputs, over which values, and keeping a cell."""
        return (*_KEYS, *_MORE) if isinstance(look.result, Grid) else _KEYS

    # -- keys and clicks ---------------------------------------------------------------------

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Move from cell to cell, choose the inputs or their ranges, take a cell's values."""
        if key in _STEPS:
            if isinstance(look.result, Grid):
                self._move(look.result, *_STEPS[key])
        elif key in ("o", "O"):
            self._ask_input(self.across if key == "o" else self.down, look, host)
        elif key in ("v", "V"):
            (self.across if key == "v" else self.down).ask_range(look, host)
            self._at = None
        elif key in ("k", "K"):
            self._take(look, host, alone=key == "K")
        else:
            return False
        return True

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """A click on a cell goes there."""
        row_at, _, column = spot.partition(",")
        self._at = (int(row_at), int(column))

    def _move(self, found: Grid, rows: int, columns: int) -> None:
        i, j = self._place(found)
        self._at = (
            max(0, min(i + rows, len(found.values_down) - 1)),
            max(0, min(j + columns, len(found.values_across) - 1)),
        )

    def _place(self, found: Grid) -> tuple[int, int]:
        i, j = self._at or found.best or found.now or (0, 0)
        return min(i, len(found.values_down) - 1), min(j, len(found.values_across) - 1)

    def _ask_input(self, choice: InputChoice, look: Look, host: ViewHost) -> None:
        other = self.down if choice is self.across else self.across
        way = "across" if choice is self.across else "down"
        choice.ask_input(f"Which input {way}?", look, host, self._anew, other.path)

    def _anew(self) -> None:
        """Begin at the best pair."""
        self._at = None

    def _take(self, look: Look, host: ViewHost, *, alone: bool) -> None:
        found = look.result
        if not isinstance(found, Grid) or look.chosen is None:
            return
        i, j = self._place(found)
        if found.outcomes[i][j].problem:
            host.tell(f"Not allowed. {what_is_wrong(found.outcomes[i][j].problem)}")
            return
        if (i, j) == found.now:
            host.tell("That is what holds already.")
            return
        down, across = found.down, found.across
        down_text, across_text = found.values_down[i].text, found.values_across[j].text
        self._at = None if down.all_of or across.all_of else (i, j)
        for choice, input_, values in (
            (self.down, down, found.values_down),
            (self.across, across, found.values_across),
        ):
            if not input_.all_of:
                choice.hold(look, tuple(value.text for value in values))
        changes = down.entering(down_text) | across.entering(across_text)
        name = f"{down.label} {down_text} and {across.label} {across_text} in {look.title}"
        host.do(
            taking_alone(look.chosen, changes, f"{name} alone")
            if alone
            else taking(look.draft, look.chosen, changes, name)
        )

    # -- drawing -----------------------------------------------------------------------

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """Sentences, the table, and one cell in words."""
        if look.checked.is_sound:
            for choice in (self.down, self.across):
                span = self._span(choice, look)
                if not isinstance(span, TriedValues):
                    return paragraph(span, width)
        found = look.result
        if not isinstance(found, Grid):
            down, across = self.down.input(look), self.across.input(look)
            both = f" {down.label} x {across.label}" if down and across else ""
            return [row(left_in(both, width, "title")), *no_answer(look, width)]
        found = grid_in(found.as_answered(look.answer), look.units)
        at = self._place(found)
        head = [*paragraph(grid_lead(found), width, "lead"), _title(found, width)]
        words = grid_words(found, *at, look.answer)
        room = height - len(head) - _HEADS - len(found.outcomes)
        foot, is_whole = _foot(found, words, width, room)
        draws = draws_sentence(found.asked)
        if draws and not is_whole:
            # What it rests on has no room: that its ranges are others than the sheet's has.
            foot, _ = _foot(found, f"{words} {draws}", width, room)
        return [*head, *_table(found, at, width, height - len(head) - len(foot)), *foot]


def _foot(found: Grid, words: str, width: int, room: int) -> tuple[list[SpanRow], bool]:
    """One cell in words, as much of the rest as has room, and whether the last of it has."""
    foot, has_room = [row(""), *paragraph(words, width)], True
    for text in grid_rest(found):
        more = paragraph(text, width, "dim")
        has_room = len(foot) + len(more) <= room
        if has_room:
            foot += more
    return foot, has_room


def _title(found: Grid, width: int) -> SpanRow:
    # The names of both stand beside the table too.
    both = f", over {found.down.label} and {found.across.label}"
    first, *shorter = grid_titles(found)
    titles = [f" {first}, %{both}", *(f" {of}, %" for of in (first, *shorter))]
    legend = f" {grid_legend(found)} "
    room = width - len(legend)
    over = next((title for title in titles if len(title) < room), titles[-1])
    return row(left_in(over, room, "title"), Span(legend, "dim"))


def _table(found: Grid, at: tuple[int, int], width: int, room: int) -> list[SpanRow]:
    """A row a value of the one, a column a value of the other; the fuller the bar, the more."""
    texts = grid_texts(found)
    heads = [value.text for value in found.values_across]
    widest = max(len(text) for text in (*heads, *(text for line in texts for text in line)))
    column = max(_CELL, widest + len("▇ best "))
    label, above, below = _named(found.down.label)
    across = window(len(heads), max(1, (width - label - 1) // column), at[1])
    lines = room - _HEADS
    # What is not in sight is told in a line of its own.
    down = window(len(texts), max(1, lines if lines >= len(texts) else lines - 1), at[0])
    beside = more_of(across, len(heads), "column", ("to the left", "to the right"))
    over = " " + "   ".join(filter(None, (found.across.label, beside)))
    shares = grid_shares(found)
    rows = [
        row(left_in(f" {above}", label, "dim"), left_in(over, width - label, "dim")),
        row(
            left_in(f" {below}", label, "dim"),
            *(Span(f"{right(heads[j], column - 5)}     ", "dim") for j in across),
        ),
    ]
    now, best = found.now, grid_best(found)
    for i in down:
        cells = [right_in(f"{found.values_down[i].text} ", label, "dim")]
        for j in across:
            share, mark = shares[i][j], "now" if (i, j) == now else ""
            mark = "best" if (i, j) == best else mark
            sign = " " if share is None else _BARS[min(7, int(8 * share))]
            spot = f"{i},{j}"
            cells += [
                Span(f" {sign}", "faint", spot),
                Span(right(texts[i][j], column - 7), "chosen" if (i, j) == at else "plain", spot),
                Span(f" {mark:4}", "dim", spot),
            ]
        rows.append(row(*cells))
    if more := more_of(down, len(texts), "row", ("above", "below")):
        rows.append(row(left_in("", label), left_in(f" {more}", width - label, "dim")))
    return rows


def _named(label: str) -> tuple[int, str, str]:
    """Cells of the rows' heads, and their name in the two lines beside the columns' heads."""
    if len(label) < _LABEL - 1:
        return _LABEL, "", label
    words = label.split()
    lines = [(" ".join(words[:at]), " ".join(words[at:])) for at in range(1, len(words))]
    above, below = min(lines or [("", label)], key=lambda pair: max(map(len, pair)))
    return max(_LABEL, len(above) + 2, len(below) + 2), above, below
