"""Walking through a whole task as a person does who has nothing but the screen.

A walk presses a key only after it has stood somewhere to be read: on the screen as it is, or in a
help or list that was opened before. What is typed as a value or a name needs no such word.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Mapping
from typing import ClassVar, NamedTuple

from few_draws import few_draws
from rich.cells import cell_len, set_cell_size
from screen import AtOnce, Screen
from textual.events import Key
from typing_extensions import override

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare
from whatif.answers.ranged import with_likely
from whatif.screens.widgets.drawing import Drawn, Tone, Toned, cut
from whatif.screens.widgets.sheet import Sheet
from whatif.screens.widgets.strip import ResultStrip
from whatif.screens.widgets.tabs import ScenarioTabs
from whatif.session.calculate.requests import Reply, Request
from whatif.study.check.check import check
from whatif.study.draft import Draft

_WRITTEN = {
    "enter": ("⏎", "Enter"),
    "escape": ("Esc", "esc", "Escape"),
    "space": ("Space",),
    "delete": ("Del",),
    "less_than_sign": ("< >", "‹"),
    "greater_than_sign": ("< >", "›"),
    "left": ("arrows", "left"),
    "right": ("arrows", "right"),
    "up": ("arrows", "up", "Up"),
    "down": ("arrows", "down", "Down"),
    "pagedown": ("arrows", "Page up and down"),
    "home": ("Home",),
    "tab": ("Tab",),
    "slash": ("/",),
    "equals_sign": ("=",),
    "plus": ("+",),
    "minus": ("-",),
    "left_square_bracket": ("[",),
    "right_square_bracket": ("]",),
    "ctrl+p": ("Ctrl+P",),
}
"""How keys are written for people; a letter is written as it is, F1 with a capital."""

_CAPITALS = re.compile(r"f\d+")
_EDGES = "│╭╮╰╯▎▊"

_MOST_LEAVES = 12
_MOST_STEPS = 60


_NUMBER = re.compile(r"[-+]\d+(?:\.\d+)?")


def likely_gain(told: str) -> tuple[float, float]:
    """The lowest and highest of a gain as it is told, in percent; of its likely range if any."""
    said = told.partition("(as typed")[0].rpartition("likely")[2]
    numbers = [float(number) for number in _NUMBER.findall(said)] or [0.0]
    return min(numbers), max(numbers)


def are_alike(gains: Mapping[str, str], others: Mapping[str, str]) -> bool:
    """Whether the ranges of few draws and of many meet, but for two points, title by title."""
    if gains.keys() != others.keys():
        return False
    ranges = ((likely_gain(gains[title]), likely_gain(others[title])) for title in gains)
    return all(ours[0] <= theirs[1] + 2 and theirs[0] <= ours[1] + 2 for ours, theirs in ranges)


def gains_in_csv(out: str, *, but: str) -> dict[str, str]:
    """The likely range of each scenario's gain but the reference's, from a comparison as CSV."""
    table = list(csv.reader(out.splitlines()))
    rows = {row[0]: dict(zip(table[0][2:], row[2:], strict=True)) for row in table}
    gain = "gain in saleable output"
    assert rows[gain][but] == "0.0"
    ends = rows[f"{gain}, likely from"], rows[f"{gain}, likely to"]
    return {
        title: " to ".join(f"{float(end[title]):+}" for end in ends)
        for title in rows[gain]
        if title != but
    }


def cells_before(line: str, at: int) -> int:
    """The cell at which the sign at a place of a line stands."""
    return cell_len(line[:at])


class Gains(AtOnce):
    """Answers gains, their likely ranges and what a view asks for.

    Left out is what stands in views that no walk opens: hour meters and rush jobs.
    """

    compared: ClassVar[dict[str, Comparison | None]] = {}

    @override
    def to_compare(self, draft: Draft) -> Draft:
        return few_draws(draft)  # what a walk reads of its gains is only so where they are settled

    @override
    def _compare(self, draft: Draft) -> Comparison | None:
        checked = check(draft)
        if checked.study is None:
            return None
        return with_likely(compare(checked, self.memory), self.memory)


class Later(Gains):
    """Answers nothing until it is woken: for walks in which results do not matter, or only late."""

    def __init__(self, deliver: Callable[[Reply], None]) -> None:
        super().__init__(deliver)
        self.awake = False

    def answer(self, request: Request) -> None:
        if self.awake:
            super().answer(request)
        else:
            self._deliver(Reply(request.revision, final=True))


class Marked(NamedTuple):
    """A marked text on the screen: its line, and the cells at which it begins and has ended."""

    text: str
    y: int
    begin: int
    end: int


class Walk:
    """A person at the screen; every step fails with the screen that was to be read."""

    def __init__(self, screen: Screen) -> None:
        self.screen = screen
        self._read = ""

    @property
    def text(self) -> str:
        return self.screen.text

    @property
    def lines(self) -> list[str]:
        return self.text.splitlines()

    @property
    def footer(self) -> str:
        """The line of keys."""
        return self.lines[-1]

    # -- reading -----------------------------------------------------------------------

    def sees(self, *words: str) -> None:
        text = self.text
        # What is told may go over to a next line.
        running = " ".join(text.split())
        dialog = " ".join(" ".join(re.findall(r"│ (.*?) │", text)).split())
        for one in words:
            is_there = any(one in said for said in (text, running, dialog))
            assert is_there, f"{one!r} is not on the screen:\n{text}"

    def sees_no(self, *words: str) -> None:
        for one in words:
            assert one not in self.text, f"{one!r} is on the screen:\n{self.text}"

    def line(self, words: str) -> str:
        """The first line with these words in it."""
        self.sees(words)
        return next(line for line in self.lines if words in line)

    def sees_in(self, words: str, *more: str) -> None:
        """Further words stand in the same line."""
        line = self.line(words)
        for one in more:
            assert one in line, f"{one!r} is not in {line!r}"

    def told(self, label: str) -> str:
        """What a row of the strip tells of the chosen column."""
        marked = self._marked(self._titles(), "scenario")
        assert marked, f"no column is marked:\n{self.text}"
        line = set_cell_size(self.line(label), marked[-1].end)
        return re.split(" {2,}", line.rstrip())[-1]

    @property
    def chosen(self) -> str:
        """The title of the chosen column as it is marked, which may be cut."""
        return " ".join(
            " ".join(one.text for one in self._marked(self._titles(), "scenario")).split()
        )

    def chooses(self, title: str) -> None:
        """The column with a title that begins so is the chosen one."""
        assert self.chosen.startswith(title), f"{self.chosen!r} is chosen:\n{self.text}"

    def _titles(self) -> Drawn:
        """What tells the titles: the strip, or what stands above a view."""
        of = ScenarioTabs if self.screen.app.desk.state.view is not None else ResultStrip
        return self.screen.app.desk.query_one(of)

    def _marked(self, widget: Toned, tone: Tone = "chosen") -> list[Marked]:
        """What is marked in a widget as chosen, from top to bottom."""
        found, region = [], widget.region
        style = widget.style_of(tone)
        for y in range(region.height):
            x = region.x
            for part in widget.render_line(y):
                if part.style == style:
                    found.append(Marked(part.text, region.y + y, x, x + part.cell_length))
                x += part.cell_length
        return found

    def title_at(self, title: str) -> tuple[int, int] | None:
        """Where the title of a column begins that begins so; None where none is seen."""
        strip = self.screen.app.desk.query_one(ResultStrip)
        columns, region = strip.columns, strip.region
        assert columns is not None
        heads = self.lines[region.y : region.y + 2]
        for column in columns.visible:
            x = region.x + columns.x(column)
            texts = [line.rpartition("│")[2] for line in heads if "saleable output" not in line]
            cells = [
                cut(text, region.width)[x - region.x : x - region.x + columns.width]
                for text in texts
            ]
            if " ".join(" ".join(cells).split()).startswith(title):
                return x + columns.width // 2, region.y
        return None

    async def reads_help(self) -> None:
        """Open the help, read it to its end, and go back."""
        await self.keys("f1")
        self.sees("Help", "arrows scroll")
        for _ in range(_MOST_LEAVES):
            before = self.text
            self.remembers()
            await self.keys("pagedown")
            if self.text == before:
                break
        await self.keys("escape")

    async def opens(self, view: str) -> None:
        """Open a view by the key that stands before its title in the list of views."""
        await self.keys("f6")
        self.sees("Which view?", "Esc go back")
        key = self.line(f"  {view} ").partition(view)[0].split()[-1]
        await self.keys(key)

    def remembers(self) -> None:
        """Read all that is on the screen, and keep it in mind."""
        self._read += "\n".join(line.strip(_EDGES + " ") for line in self.lines)

    def _stands(self, key: str) -> bool:
        """Whether a key has been told of: on the screen, or in what was read before."""
        written = _WRITTEN.get(key) or (key.upper() if _CAPITALS.fullmatch(key) else key,)
        told = f"{self.text}\n{self._read}"
        return any(
            re.search(rf"(?<![\w]){re.escape(one)}(?![\w])", told) is not None for one in written
        )

    # -- doing -------------------------------------------------------------------------

    async def keys(self, *keys: str) -> None:
        """Press keys, each of which stands somewhere to be read."""
        for key in keys:
            assert self._stands(key), f"nothing tells of the key {key}:\n{self.text}"
            await self.screen.press(key)

    async def types(self, text: str) -> None:
        """Type fast, as one does: no letter waits for what the one before it brings."""
        for letter in text:
            name = letter if letter.isalnum() else "space" if letter == " " else "sign"
            self.screen.app.post_message(Key(name, letter))
        await self.screen.settle()

    async def retypes(self, text: str) -> None:
        """Type over what a line offers."""
        await self.screen.press("ctrl+u")
        await self.types(text)

    async def clicks(self, words: str, *, times: int = 1, last: bool = False) -> None:
        """Click the middle of words that are on the screen; of several the first, or the last."""
        assert words in self.text, f"{words!r} is not on the screen:\n{self.text}"
        places = [i for i, line in enumerate(self.lines) if words in line]
        y = places[-1 if last else 0]
        line = self.lines[y]
        await self.clicks_at(
            cells_before(line, line.index(words) + len(words) // 2), y, times=times
        )

    async def clicks_at(self, x: int, y: int, *, times: int = 1) -> None:
        """Click a place."""
        # Told which widget it is, as a terminal's click is, and not only where.
        widget, region = self.screen.app.screen.get_widget_at(x, y)
        at = (x - region.x, y - region.y)
        await self.screen.pilot.click(widget, offset=at, times=times)
        await self.screen.settle()

    async def finds(self, label: str, hit: int = 1) -> None:
        """Go to a row by typing its name, and on to a further one of that name."""
        await self.keys("slash")
        self.sees("find a row:")
        await self.types(label)
        # Rows are counted from the top of the sheet, and found from the cursor on.
        found = re.search(r" (\d+) of (\d+)\b", self.line("find a row:"))
        assert found is not None, self.text
        place, of = map(int, found.groups())
        for _ in range(1, hit):
            self.sees("Down next one")
            await self.keys("down")
            place = place % of + 1
            self.sees_in("find a row:", f" {place} of {of}")
        await self.keys("enter")
        assert self.row.startswith(label), f"the cursor is on {self.row!r}"

    async def goes_to(self, title: str) -> None:
        """Go from column to column to the one with a title, which may be cut on the screen."""
        for key in ("left", "right"):
            for _ in range(_MOST_STEPS):
                if self.chosen.startswith(title):
                    return
                before = self.text, self.chosen
                await self.keys(key)
                if (self.text, self.chosen) == before:
                    break
        raise AssertionError(f"no column {title}:\n{self.text}")

    @property
    def _cursor(self) -> Marked:
        """What is marked in the sheet: a value or a heading."""
        marked = self._marked(self.screen.app.desk.query_one(Sheet))
        assert len(marked) == 1, f"{len(marked)} places are marked:\n{self.text}"
        return marked[0]

    @property
    def row(self) -> str:
        """The row under the cursor, from its label on."""
        return self.lines[self._cursor.y].rpartition("│")[2].lstrip(" ▾▸")

    @property
    def row_label(self) -> str:
        """The name of the row under the cursor."""
        return re.split(r" {2,}", self.row)[0].rstrip()

    def above(self) -> str:
        """The heading above the row under the cursor, where it is on the screen."""
        for line in reversed(self.lines[: self._cursor.y]):
            found = re.match(r" ▾ (.*)", line.rpartition("│")[2])
            if found is not None:
                return found[1]
        return ""

    @property
    def value(self) -> str:
        """The marked value, without its sign."""
        return re.sub(r" [↑~×!]$", "", self._cursor.text.rstrip()).strip()

    def fits(self) -> None:
        """No line is wider than the screen, and the line of keys is told to its end."""
        width = self.screen.app.size.width
        for line in self.lines:
            assert cell_len(line) <= width, f"wider than the screen: {line!r}"
        assert cell_len(self.footer) < width, f"the line of keys may be cut: {self.footer!r}"
