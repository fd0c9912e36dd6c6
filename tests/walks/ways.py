"""Two ways through the same walk: by keys alone, and with the mouse for all but what is typed."""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from collections.abc import Sequence

import pytest
from textual.events import MouseScrollDown, MouseScrollUp
from textual.widgets import OptionList, Static
from walking import Walk, cells_before

_LETTER = re.compile(r"^(\S)  ")
_HEADING = re.compile(r" ([▾▸]) (.*)")
_LABEL = re.compile(r" {3}(\S.*?)(?: {2,}|$)")
_BELOW = 5
"""Lines of words and keys below a sheet."""

_MOST_TURNS = 200


class Way(ABC):
    """How a person gets about. What is clicked or pressed stands on the screen, or in the help."""

    size: tuple[int, int]

    def __init__(self, walk: Walk) -> None:
        self.walk = walk

    @abstractmethod
    async def ready(self) -> None:
        """Learn how to get about."""

    @abstractmethod
    async def does(self, key: str, words: str) -> None:
        """Give a command of the line of keys."""

    @abstractmethod
    async def offered(self, words: str) -> None:
        """Take what a list or a question offers in these words."""

    @abstractmethod
    async def row(self, heading: str, label: str) -> None:
        """Go to a value's row below a heading."""

    @abstractmethod
    async def column(self, title: str) -> None:
        """Go to a scenario."""

    @abstractmethod
    async def problems(self) -> None:
        """List what is wrong in the file."""

    @abstractmethod
    async def press(self, key: str, words: str) -> None:
        """Press a key of a small screen, or click the words that tell of it."""

    @abstractmethod
    async def ticks(self, *things: str) -> None:
        """Tick things in a form, or take their ticks out."""

    async def enters(self, heading: str, label: str, text: str, now: str = "") -> None:
        """Type a value over what stands in a row, and keep it."""
        await self.row(heading, label)
        if now:
            assert self.walk.value == now
        await self.types_over(text)

    async def types_over(self, text: str) -> None:
        """Type over the value under the cursor."""
        if text[0].isdigit():
            await self.walk.types(text)
        else:
            await self.does("enter", "edit")
            await self.walk.retypes(text)
        await self.does("enter", "keep")
        # What is wrong with it would keep the line open.
        self.walk.sees(" edit  F1 help")

    async def named(self, name: str) -> None:
        """Answer a question for a name."""
        self.walk.sees("Enter take it")
        await self.walk.retypes(name)
        await self.press("enter", "Enter take it")


class ByKeys(Way):
    """An engineer on a slow line."""

    size = (80, 24)

    async def ready(self) -> None:
        await self.walk.reads_help()

    async def does(self, key: str, words: str) -> None:
        await self.walk.keys(key)

    async def press(self, key: str, words: str) -> None:
        self.walk.sees(words)
        await self.walk.keys(key)

    async def problems(self) -> None:
        self.walk.sees_in("problem", ": F3")
        await self.walk.keys("f3")

    async def offered(self, words: str) -> None:
        walk = self.walk
        options = walk.screen.app.screen.query(OptionList)
        if not options:
            line = walk.line(f"  {words}").split("│")[1]
            await walk.keys(line.split()[0])
            return
        prompts = [str(one.prompt) for one in options.first().options]
        place = next(at for at, one in enumerate(prompts) if words in " ".join(one.split()))
        letter = _LETTER.match(prompts[place])
        if letter is not None:
            walk.sees("Enter or its letter takes it", prompts[place].splitlines()[0])
            await walk.keys(letter[1])
            return
        while (at := options.first().highlighted or 0) != place:
            await walk.keys("down" if at < place else "up")
        walk.sees(words)
        await walk.keys("enter")

    async def ticks(self, *things: str) -> None:
        self.walk.sees("arrows move", "Space ticks")
        for thing in things:
            for _ in range(_MOST_TURNS):
                here = self.walk.screen.app.screen.query_one(".tick.here", Static)
                if str(here.content).split()[-len(thing.split()) :] == thing.split():
                    break
                await self.walk.keys("right")
            await self.walk.keys("space")

    async def row(self, heading: str, label: str) -> None:
        walk = self.walk
        if walk.above().startswith(heading) and walk.row_label == label:
            return
        await walk.keys("slash")
        await walk.types(f"{heading} {label}".replace(":", ""))
        for _ in range(_MOST_TURNS):
            if walk.row_label == label:
                break
            await walk.keys("down")
        await walk.keys("enter")
        assert walk.row_label == label

    async def column(self, title: str) -> None:
        await self.walk.goes_to(title)


class ByMouse(Way):
    """An owner at a large screen."""

    size = (120, 32)

    async def ready(self) -> None:
        self.walk.sees("add", "scenario", "changes", "undo")

    async def does(self, key: str, words: str) -> None:
        line = self.walk.footer
        found = re.search(rf"\S+ ({words})\b", line)
        assert found is not None, f"no {words} in {line!r}"
        middle = (found.start(1) + found.end(1)) // 2
        await self.walk.clicks_at(cells_before(line, middle), len(self.walk.lines) - 1)

    async def press(self, key: str, words: str) -> None:
        await self.walk.clicks(words)

    async def problems(self) -> None:
        await self.walk.clicks(": F3")

    async def offered(self, words: str) -> None:
        await self._into_sight(words)
        await self.walk.clicks(words, last=True)

    async def ticks(self, *things: str) -> None:
        for thing in things:
            sign = next(sign for sign in ("[✓]", "[ ]") if f"{sign} {thing}" in self.walk.text)
            await self.walk.clicks(f"{sign} {thing}")

    async def _into_sight(self, words: str) -> None:
        """Turn the wheel over a list until the words are in sight."""
        lists = self.walk.screen.app.screen.query(OptionList)
        if words not in self.walk.text and lists:
            await self._wheel(MouseScrollUp, lists.first().region.offset, 40)
        for _ in range(_MOST_TURNS):
            if words in self.walk.text or not lists:
                return
            await self._wheel(MouseScrollDown, lists.first().region.offset)
        raise AssertionError(f"{words!r} is not in the list:\n{self.walk.text}")

    async def row(self, heading: str, label: str) -> None:
        top = next(at for at, line in enumerate(self.walk.lines) if "│──" in line) + 1
        left = self.walk.lines[top - 1].index("│──") + 1
        at = (left + 2, top + 2)
        before = None
        while before != self._sheet(top):
            before = self._sheet(top)
            await self._wheel(MouseScrollUp, at, 40)
        lines, under = before, _headings(before, "")
        for _ in range(_MOST_TURNS):
            for y, line in enumerate(lines):
                if under[y].startswith(heading) and _label(line) == label:
                    await self.walk.clicks_at(left + 6, top + y)
                    assert self.walk.row_label == label
                    return
                title = _HEADING.match(line)
                if title is not None and title[2].startswith(heading) and title[1] == "▸":
                    await self.walk.clicks_at(left + 6, top + y, times=2)
                    lines = self._sheet(top)
                    under = _headings(lines, under[0])
                    break
            else:
                await self._wheel(MouseScrollDown, at)
                new = self._sheet(top)
                gone = next(by for by in range(len(lines)) if lines[by:] == new[: len(lines) - by])
                assert gone, f"no row {heading} {label}:\n{self.walk.text}"
                lines, under = new, _headings(new, under[gone])
        raise AssertionError(f"no row {heading} {label}:\n{self.walk.text}")

    def _sheet(self, top: int) -> list[str]:
        """The lines of the sheet, without its marks of the cursor and the scroll bar."""
        lines = self.walk.lines[top:-_BELOW]
        return [line[:118].rpartition("│")[2].rstrip() for line in lines]

    async def _wheel(
        self, event: type[MouseScrollUp | MouseScrollDown], at: tuple[int, int], turns: int = 3
    ) -> None:
        x, y = at
        for _ in range(turns):
            self.walk.screen.app.post_message(event(None, x, y, 0, 0, 0, False, False, False, x, y))
        await self.walk.screen.settle()

    async def column(self, title: str) -> None:
        at = self.walk.title_at(title)
        if at is None:
            await self.walk.clicks(title)
        else:
            await self.walk.clicks_at(*at)
        self.walk.chooses(title)


def _label(line: str) -> str:
    found = _LABEL.match(line)
    return "" if found is None else found[1]


def _headings(lines: Sequence[str], first: str) -> list[str]:
    """The heading that each line stands under."""
    under, found = first, []
    for line in lines:
        title = _HEADING.match(line)
        under = under if title is None else title[2]
        found.append(under)
    return found


BY_KEYS, BY_MOUSE = pytest.param(ByKeys, id="keys"), pytest.param(ByMouse, id="mouse")
BY_KEYS_LONG = pytest.param(ByKeys, id="keys", marks=pytest.mark.long)
BY_MOUSE_LONG = pytest.param(ByMouse, id="mouse", marks=pytest.mark.long)
