"""Where the columns of scenarios stand, the same for the strip of results and the sheet."""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len, set_cell_size

NARROW, WIDE = 17, 24
LABEL_NARROW, LABEL_WIDE = 25, 34


@dataclass(frozen=True, slots=True)
class Columns:
    """The geometry of the columns in character cells.

    Attributes:
        label: width of the row labels at the left.
        width: of one column, its gap of one cell at the left included.
        first: scenario column shown leftmost.
        shown: how many columns are shown.
        count: how many there are.
    """

    label: int
    width: int
    first: int
    shown: int
    count: int

    @property
    def visible(self) -> range:
        """The places of the columns that are shown."""
        return range(self.first, min(self.count, self.first + self.shown))

    def x(self, column: int) -> int:
        """The cell at which a shown column begins."""
        return self.label + (column - self.first) * self.width

    def at(self, x: int) -> int | None:
        """The column that holds a cell, None for the labels or beyond the last."""
        column = self.first + (x - self.label) // self.width
        return column if x >= self.label and column in self.visible else None


def fitted(width: int, count: int, cursor: int, first: int) -> Columns:
    """The columns that fit ``width`` cells, moved so that the cursor's column is shown."""
    label = LABEL_WIDE if width >= 110 else LABEL_NARROW
    room = max(NARROW, width - label)
    shown = max(1, min(count, room // NARROW))
    column = min(WIDE, room // shown)
    first = max(0, min(first, count - shown))
    if cursor < first:
        first = cursor
    elif cursor >= first + shown:
        first = cursor - shown + 1
    return Columns(label, column, first, shown, count)


def cut(text: str, width: int) -> str:
    """A text of exactly ``width`` cells, its end marked where it was too long."""
    text = text.replace("\n", " ")
    if cell_len(text) > width:
        return set_cell_size(text, max(0, width - 1)) + "…" if width > 0 else ""
    return set_cell_size(text, width)


def apart(titles: list[str], width: int) -> list[str]:
    """Titles cut to ``width`` so that those that differ stay apart.

    Where the beginnings are alike the middle is left out and the end kept.
    """
    short = [title if cell_len(title) <= width else cut(title, width) for title in titles]
    for i, text in enumerate(short):
        alike = [j for j, other in enumerate(short) if other == text and titles[j] != titles[i]]
        if alike and width > 5:
            tail = (width - 1) // 2
            for j in (i, *alike):
                end = _tail(titles[j], tail)
                short[j] = set_cell_size(titles[j], width - 1 - cell_len(end)) + "…" + end
    return short


def _tail(text: str, width: int) -> str:
    """As much of a text's end as ``width`` cells hold."""
    end = ""
    for sign in reversed(text):
        if cell_len(sign + end) > width:
            break
        end = sign + end
    return end


def right(text: str, width: int) -> str:
    """A text at the right of ``width`` cells."""
    text = cut(text, width) if cell_len(text) > width else text
    return " " * (width - cell_len(text)) + text


def wrapped(text: str, width: int, lines: int) -> list[str]:
    """A text in so many lines, broken between words; the last takes the rest."""
    found: list[str] = []
    words = text.split(" ")
    while words and len(found) < lines - 1:
        line = words.pop(0)
        while words and cell_len(f"{line} {words[0]}") <= width:
            line += f" {words.pop(0)}"
        found.append(line)
    found.append(" ".join(words))
    return found + [""] * (lines - len(found))
