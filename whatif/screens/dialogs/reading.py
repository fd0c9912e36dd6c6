"""A text that is read, laid over another screen and scrolled; dialogs that F1 tells of."""

from __future__ import annotations

import re
from collections.abc import Sequence
from textwrap import wrap
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.geometry import Size
from textual.widgets import Static
from typing_extensions import override

from whatif.screens.dialogs.dialog import Answers, Dialog, Ending


class Laid(Static):
    """Lines of text; one that is too long goes on where its text begins, behind its key if any.

    Args:
        lines: each with its style, "" for plain.
    """

    def __init__(self, lines: Sequence[tuple[str, str]]) -> None:
        super().__init__(markup=False)
        self._lines = lines

    def laid(self, width: int) -> Content:
        """The lines in so many cells."""
        laid = (
            (part, look)
            for line, look in self._lines
            for part in (wrap(line, width, subsequent_indent=_indent(line, width)) or [""])
        )
        return Content("\n").join(Content.styled(part, look) for part, look in laid)

    @override
    def render(self) -> Content:
        """What stands there in the room that there is."""
        return self.laid(self.size.width)

    @override
    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return self.laid(width).plain.count("\n") + 1


def _indent(line: str, width: int) -> str:
    """What stands before the second line of one that is broken."""
    key = _KEY.match(line)
    begins = 0 if key is None else key.end()
    if not 0 < begins <= width // 2:
        begins = len(line) - len(line.lstrip(" "))
    return " " * begins


_KEY: Final = re.compile(r" *\S+(?: \S+)* {2,}(?=\S)")
"""A key or a sign, with the room behind it."""


class ScrolledText(Dialog):
    """A text that is scrolled by keys, wherever else the focus might be."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "scroll(-1)", "up", show=False),
        Binding("down", "scroll(1)", "down", show=False),
        Binding("pageup", "page(-1)", "page up", show=False),
        Binding("pagedown,space", "page(1)", "page down", show=False),
        Binding("home", "whole(0)", "the beginning", show=False),
        Binding("end", "whole(1)", "the end", show=False),
    ]

    def __init__(self, title: str, text: str, answers: Answers | None = None) -> None:
        super().__init__(answers)
        self._title = title
        self.text = text

    def compose(self) -> ComposeResult:
        """The title, the text, how to end."""
        with Vertical(classes="dialog reading"):
            yield Static(self._title, classes="reading-title", markup=False)
            with VerticalScroll(can_focus=False):
                yield Laid(self.drawn())
            yield from self.ends()

    def drawn(self) -> Sequence[tuple[str, str]]:
        """The lines as they are shown, each with its style."""
        return [(line, "") for line in self.text.split("\n")]

    def ends(self) -> ComposeResult:
        """The lines that say how to end."""
        raise NotImplementedError

    def action_scroll(self, lines: int) -> None:
        """Move the text."""
        self._scrolled.scroll_relative(y=lines, animate=False)

    def action_page(self, pages: int) -> None:
        """Move the text by what is seen of it, less a line that is seen again."""
        self.action_scroll(pages * max(1, self._scrolled.size.height - 1))

    def action_whole(self, end: int) -> None:
        """Move the text to its beginning (0) or its end (1)."""
        scrolled = self._scrolled
        scrolled.scroll_to(y=end * scrolled.max_scroll_y, animate=False)

    @property
    def _scrolled(self) -> VerticalScroll:
        return self.query_one(VerticalScroll)


_PROBLEMS: Final = "run('problems')"
"""What F3 does on a screen that has problems to go to."""


class ReadText(ScrolledText):
    """A text to read, with its own scrolling."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("q,enter,f2", "dismiss(None)", "back"),
        Binding("f1", "help", "help", show=False),
        Binding("f3", "problems", "problems", show=False),
    ]

    def __init__(
        self,
        title: str,
        text: str,
        *,
        under_headings: bool = False,
        of_problems: bool = False,
        told: str = "",
    ) -> None:
        """``of_problems``: F3 has opened it, and closes it again. ``told``: what F1 says of it."""
        super().__init__(title, text)
        self._told = told
        self._under_headings = under_headings
        self._of_problems = of_problems

    def action_help(self) -> None:
        """What its own signs and words say; back where there is nothing to tell."""
        if self._told:
            self.app.push_screen(ReadText("Help", self._told))
        else:
            self.dismiss(None)

    def action_problems(self) -> None:
        """Go to the problems as F3 does everywhere, where the screen below has any."""
        below = self.app.screen_stack[-2]
        self.dismiss(None)
        if not self._of_problems:
            self.app.call_later(below.run_action, _PROBLEMS)

    @override
    def drawn(self) -> Sequence[tuple[str, str]]:
        """The first line leads and headings stand out, where there are any."""
        if not self._under_headings:
            return super().drawn()
        lines = self.text.split("\n")
        looks = [
            "bold" if not place else "bold $text-primary" if _is_heading(lines, place) else ""
            for place in range(len(lines))
        ]
        return list(zip(lines, looks, strict=True))

    @override
    def ends(self) -> ComposeResult:
        with Horizontal(classes="answers"):
            yield Static(id="more", classes="answer", markup=False)
            if self._told:
                yield Ending("F1 help   ", "help")
            yield Ending("Esc go back", "dismiss(None)")

    def on_mount(self) -> None:
        """Say how much is not seen, whenever that becomes another."""
        self.watch(self._scrolled, "scroll_y", self._tell_more, init=False)

    def on_resize(self) -> None:
        """The same once it is known how much there is room for."""
        self.call_after_refresh(self._tell_more)

    def _tell_more(self) -> None:
        scrolled = self._scrolled
        below = round(scrolled.max_scroll_y - scrolled.scroll_y)
        more = f"{below} more line{'s' if below > 1 else ''} below" if below > 0 else "the end"
        words = f"  arrows scroll, {more}   " if scrolled.max_scroll_y else "  "
        self.query_one("#more", Static).update(words)


def _is_heading(lines: Sequence[str], place: int) -> bool:
    """Whether a line begins at the edge and the one below it stands to the right."""
    line, below = lines[place], lines[place + 1] if place + 1 < len(lines) else ""
    return bool(line) and not line.startswith(" ") and below.startswith("  ")


class HelpedDialog(Dialog):
    """A small screen that F1 tells of: what is asked, and its keys; what stands in it stays."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("f1", "help", "help", show=False)]

    def help_words(self) -> str:
        """What F1 says; lines at the edge over indented ones are headings."""
        raise NotImplementedError

    def action_help(self) -> None:
        """Lay the help over it, from which Escape comes back."""
        self.app.push_screen(ReadText("Help", self.help_words(), under_headings=True))
