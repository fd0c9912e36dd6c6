"""Rows of spans of text, each in a tone: what every widget of the desk and every view draws.

Texts are cut and wrapped by cells, and only at spaces: a space that does not break keeps a number
and its unit together, which the wrapping of rich and Textual does not.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import zip_longest
from typing import TYPE_CHECKING, Final, Literal

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.filter import ANSIToTruecolor, LineFilter
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget
from typing_extensions import override

from whatif.answers.families import StateFamily
from whatif.records import dataclass
from whatif.screens.widgets.colours import look_of
from whatif.telling.amounts import unbroken

if TYPE_CHECKING:
    from whatif.telling.said import Sense

Tone = Literal[
    "plain", "lead", "bold", "title", "dim", "faint", "gain", "loss", "unsure",
    "chosen", "scenario", "caution",
    "key", "assumed", "unused", "piece", "turned", StateFamily,
    "line-1", "line-2", "line-3", "line-4",
    "on-cutting", "on-serving", "high",
]  # fmt: skip
"""What a span is, which has one look everywhere (DEVELOPERS.md, "How it looks").

Whatever a tone tells, a sign, a word or the weight of the letters tells too.
"""

SENSES: Final[dict[Sense, Tone]] = {
    "plain": "plain",
    "good": "gain",
    "bad": "loss",
    "beware": "caution",
    "unsure": "unsure",
    "none": "dim",
}
"""How what a text says is coloured."""


@dataclass(frozen=True, slots=True)
class Presses:
    """A click is the same as a key of the view's own."""

    key: str


@dataclass(frozen=True, slots=True)
class Chooses:
    """A click chooses a scenario."""

    scenario: str


Spot = Presses | Chooses | str
"""What a click does; a text is the view's own, "" nothing."""


@dataclass(frozen=True, slots=True)
class Along:
    """A click on each cell of a span touches a spot of its own: ``begins`` and its number."""

    begins: str
    first: int


@dataclass(frozen=True, slots=True)
class Span:
    """A text in a tone; a click on it touches its ``spot``."""

    text: str
    tone: Tone = "plain"
    spot: Spot | Along = ""


SpanRow = tuple[Span, ...]

EDGE = 1
"""Cells left free at the left of what a view says."""


# -- spans and rows --------------------------------------------------------------------------


def row(*spans: Span | str) -> SpanRow:
    """A row of spans; plain texts may stand as they are."""
    return tuple(Span(span) if isinstance(span, str) else span for span in spans)


def left_in(text: str, width: int, tone: Tone = "plain", spot: Spot = "") -> Span:
    """A text at the left of exactly ``width`` cells, its end marked where it is cut."""
    return Span(cut(text, max(0, width)), tone, spot)


def right_in(text: str, width: int, tone: Tone = "plain", spot: Spot = "") -> Span:
    """A text at the right of exactly ``width`` cells."""
    return Span(right(text, max(0, width)), tone, spot)


def key_spans(*texts: str, tone: Tone = "dim") -> SpanRow:
    """Texts that each begin with a key, which a click on them presses."""
    keys = (text.split()[0] for text in texts)
    return tuple(
        Span(text, tone, Presses(_KEY_NAMES.get(key, key)))
        for text, key in zip(texts, keys, strict=True)
    )


_KEY_NAMES = {"+": "plus", "-": "minus", "Space": "space", "Enter": "enter", "Esc": "escape"}


def beside(column: Sequence[Span], width: int, gap: str, rows: Sequence[SpanRow]) -> list[SpanRow]:
    """A column of ``width`` cells, a gap, and rows on its right."""
    pairs = zip_longest(column, rows)
    return [row(here or left_in("", width), gap, *(there or ())) for here, there in pairs]


_LONGEST = 120
"""Cells of a row of text at most: from the end of a longer one the eye does not find back."""


def paragraph(text: str, width: int, tone: Tone = "plain", indent: int = EDGE) -> list[SpanRow]:
    """A text in as many rows as it needs, broken between words; none longer than can be read."""
    room = max(8, min(width, _LONGEST) - indent)
    lines = (line for part in text.split("\n") for line in wrap(part, room))
    return [row(Span(" " * indent), Span(line, tone)) for line in lines]


def window(count: int, room: int, at: int) -> range:
    """The places of a list that are shown: all, or as many as there is room for, ``at`` midway."""
    first = max(0, min(at - room // 2, count - room))
    return range(first, min(count, first + room))


def more_of(shown: range, count: int, what: str, sides: tuple[str, str]) -> str:
    """How much of a list is out of sight: "2 more rows above, 1 below"; "" where nothing is."""
    found = ""
    for number, side in zip((shown.start, count - shown.stop), sides, strict=True):
        if number and found:
            found += f", {number} {side}"
        elif number:
            found = f"{number} more {what}{'s' if number > 1 else ''} {side}"
    return found


class Toned(Widget):
    """A widget that draws in tones; what each looks like is found out when it is first drawn.

    They are neither component classes nor rules of a style sheet: Textual would look all of them
    up anew, one by one, whenever the widget gets the keys or loses them, and read all of them
    before anything is seen.
    """

    _tones: dict[Tone, Style] | None = None

    @property
    def rows_seen(self) -> Iterable[SpanRow]:
        """What it shows, for whoever tells its tones; none of one that draws otherwise."""
        return ()

    def style_of(self, tone: Tone) -> Style:
        """The colours of a tone on this widget."""
        if self._tones is None:
            self._tones = {"plain": self.rich_style}
        style = self._tones.get(tone)
        if style is None:
            here = self.rich_style
            style = self._tones[tone] = here + look_of(tone, self.app.theme_variables)
        return style

    @override
    def get_line_filters(self) -> Sequence[LineFilter]:
        # What makes true colours of the sixteen of a terminal, and of faint letters: tones have
        # neither, and every segment would be looked at for them.
        filters = super().get_line_filters()
        return [each for each in filters if not isinstance(each, ANSIToTruecolor)]

    @override
    def render_lines(self, crop: Region) -> list[Strip]:
        # Other colours of the whole program, or of what lies below, which nobody else tells.
        if self._tones is not None and self._tones["plain"] != self.rich_style:
            self._tones = None
        return super().render_lines(crop)

    def paint_lines(self, changed: Iterable[int]) -> None:
        """Paint these lines anew, counted from the top one that is in sight."""
        width = self.size.width
        regions = [Region(0, first, width, last - first) for first, last in _spans(changed)]
        if regions:
            self.refresh(*regions)


def _spans(lines: Iterable[int]) -> list[tuple[int, int]]:
    """Lines that follow each other as spans, from the first to the one behind the last."""
    found: list[tuple[int, int]] = []
    for line in lines:
        if found and found[-1][1] == line:
            found[-1] = (found[-1][0], line + 1)
        else:
            found.append((line, line + 1))
    return found


class Drawn(Toned):
    """A widget that draws rows of spans; what scrolls may have more of them than lines."""

    rows: Sequence[SpanRow] = ()

    @property
    @override
    def rows_seen(self) -> Iterable[SpanRow]:
        return self.rows

    heads = 0
    """Rows at the top that stay there where the others scroll below them."""

    def draw(self, rows: Sequence[SpanRow]) -> None:
        """Draw other rows; only lines that are not as they were are painted."""
        before, self.rows = self.rows, rows
        self.paint_lines(
            line
            for line in range(self.size.height)
            if _at(before, self._place(line)) != _at(rows, self._place(line))
        )

    def _place(self, line: int) -> int:
        """Place of the row that a line of the widget shows."""
        return line if line < self.heads else line + round(self.scroll_offset.y)

    @override
    def render_line(self, y: int) -> Strip:
        return strip_of(self, _at(self.rows, self._place(y)))

    def spot_at(self, event: events.Click) -> Spot:
        """The spot of the span that was clicked, "" where there is none."""
        y, x = self._place(event.y), 0
        for span in self.rows[y] if 0 <= y < len(self.rows) else ():
            cells = cell_len(span.text)
            if event.x < x + cells:
                spot = span.spot
                return (
                    f"{spot.begins}{spot.first + event.x - x}" if isinstance(spot, Along) else spot
                )
            x += cells
        return ""


def _at(rows: Sequence[SpanRow], place: int) -> SpanRow:
    return rows[place] if place < len(rows) else ()


def strip_of(widget: Toned, spans: Iterable[Span]) -> Strip:
    """A row in the widget's own colours, as wide as the widget."""
    segments = [Segment(span.text, widget.style_of(span.tone)) for span in spans]
    width = widget.size.width
    left = width - sum(cell_len(segment.text) for segment in segments)
    if left > 0:
        segments.append(Segment(" " * left, widget.style_of("plain")))
    strip = Strip(segments, width + max(0, -left))
    return strip.adjust_cell_length(width) if left < 0 else strip


# -- what is seen ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Seen:
    """What is drawn on a screen: its lines, and the names of the tones that they are in.

    ``coloured`` is whether the terminal is sent colours.
    """

    text: str = ""
    tones: frozenset[str] = frozenset()
    coloured: bool = True


def seen_of(rows: Iterable[SpanRow]) -> Seen:
    """What rows of spans show."""
    shown = list(rows)
    text = "\n".join("".join(span.text for span in spans) for spans in shown)
    return Seen(text, frozenset(span.tone for row in shown for span in row if span.text.strip()))


def seen_on(widgets: Iterable[Toned]) -> Seen:
    """What those of the widgets show that are on the screen."""
    shown = [each for each in widgets if each.display and each.region]
    rows = [row for each in shown for row in each.rows_seen]
    lines = (each.render_line(y).text for each in shown for y in range(each.size.height))
    return Seen("\n".join(lines), seen_of(rows).tones)


# -- texts in cells --------------------------------------------------------------------------


def cut(text: str, width: int) -> str:
    """A text of exactly ``width`` cells, its end marked where it was too long."""
    text = text.replace("\n", " ")
    if cell_len(text) > width:
        return set_cell_size(text, max(0, width - 1)) + "…" if width > 0 else ""
    return set_cell_size(text, width)


def right(text: str, width: int) -> str:
    """A text at the right of ``width`` cells."""
    text = cut(text, width) if cell_len(text) > width else text
    return " " * (width - cell_len(text)) + text


def wrap(text: str, width: int) -> list[str]:
    """A text in as many lines as it needs, one at least; a word that is too long stays whole.

    So do a figure and its unit.
    """
    first, *words = unbroken(text, lambda held: held.split(" "))
    lines = [first]
    for word in words:
        longer = f"{lines[-1]} {word}"
        if cell_len(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def whole_words(texts: Sequence[str], width: int, lines: int, more: str) -> list[str]:
    """The first of some texts, ever shorter, that so many lines hold, or as much as they hold.

    It ends where a sentence does, or a part of it that can stand alone, or at least a clause,
    with where the rest is read if there is room.
    """
    if not lines:
        return []
    whole = wrap(texts[0], width)
    if len(whole) <= lines:
        return whole + [""] * (lines - len(whole))
    for ends in (_SENTENCES, _PARTS, _CLAUSES):
        for text in texts:
            for at in reversed([found.start() for found in ends.finditer(text)]):
                if text.count("(", 0, at) != text.count(")", 0, at):
                    continue
                for end in (f".{more}", "."):
                    found = wrap(text[:at] + end, width)
                    if len(found) <= lines:
                        return found + [""] * (lines - len(found))
    found = whole[:lines]
    while cell_len(f"{found[-1]} …") > width and " " in found[-1]:
        found[-1] = found[-1].rpartition(" ")[0]
    return [*found[:-1], f"{found[-1]} …"]


_SENTENCES: Final = re.compile(r"[.](?= |$)")
_PARTS: Final = re.compile(r"[;:] |, (?=with |then |so |and go )")
"""Where what is said may stop, and still be true."""

_CLAUSES: Final = re.compile(r", | \(")
"""Where a sentence may stop that has no such part."""


def wrapped(text: str, width: int, lines: int) -> list[str]:
    """A text in so many lines, the last of which takes the rest."""
    found = wrap(text, width)
    found[lines - 1 :] = [" ".join(found[lines - 1 :])]
    return found + [""] * (lines - len(found))
