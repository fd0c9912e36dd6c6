"""The line of keys at the bottom; each of its words can be clicked."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding
from textual.screen import Screen
from textual.strip import Strip
from textual.widget import Widget
from typing_extensions import override

from whatif.records import dataclass
from whatif.screens.widgets.later import after

_KEY, _WORD, _UNDER = "key-line--key", "key-line--word", "key-line--under"


@dataclass(frozen=True, slots=True)
class OwnKey:
    """A key that can be pressed: how it is shown, the word for what it does, and its name."""

    shown: str
    word: str
    key: str

    @property
    def width(self) -> int:
        """The cells that it takes, one before the key and one behind each text."""
        return cell_len(self.shown) + cell_len(self.word) + 3


_MORE = OwnKey("…", "F1", "f1")
"""Behind the words for which there is room: the help has all keys."""


class KeyLine(Widget):
    """The keys that can be pressed now; where there is no room, without the last common ones.

    Those of ``always`` stay, and what is open keeps its own; where the rest is told stands last.

    One line drawn by itself: a widget for each word would have to be made, styled and laid out
    whenever something else has the keys.
    """

    ALLOW_SELECT = False
    COMPONENT_CLASSES = {_KEY, _WORD, _UNDER}  # noqa: RUF012 - as Textual has it
    DEFAULT_CSS = f"""
    KeyLine {{
        dock: bottom; height: 1; width: 100%; pointer: pointer;
        color: $footer-foreground; background: $footer-background;
    }}
    KeyLine > .{_KEY} {{
        color: $footer-key-foreground; background: $footer-key-background; text-style: bold;
    }}
    KeyLine > .{_WORD} {{
        color: $footer-description-foreground; background: $footer-description-background;
    }}
    KeyLine > .{_UNDER} {{ background: $block-hover-background; }}
    """

    def __init__(self, always: Iterable[str]) -> None:
        super().__init__()
        self._always = frozenset(always)
        self._told: tuple[OwnKey, ...] = ()
        self._own: tuple[OwnKey, ...] = ()
        self._under: OwnKey | None = None
        """The one below the mouse."""
        self._next_turn: asyncio.TimerHandle | None = None
        """When it is told what is to be told now."""

    def on_mount(self) -> None:
        """Follow what the keys do."""
        self.screen.bindings_updated_signal.subscribe(self, self._follow)

    def on_resize(self) -> None:
        """Tell more keys, or fewer."""
        self._tell_soon()

    def _follow(self, screen: Screen[object]) -> None:
        if self.is_attached and screen is self.screen and self.app.app_focus:
            self._tell_soon()

    def _tell_soon(self) -> None:
        """Tell them once for all that changes now, in a turn of the loop for itself.

        Every command is asked whether it can be given, which takes as long as laying out.
        """
        if self._next_turn is None:
            self._next_turn = after(0.0, self, self._tell)

    def _tell(self) -> None:
        """Draw the words where they are others."""
        self._next_turn = None
        told = tuple(self._to_tell())
        if told != self._told:
            self._told = told
            self.refresh()

    def show_own(self, own: tuple[OwnKey, ...]) -> None:
        """Tell the keys of what is open, behind those that are the same everywhere."""
        if own != self._own:
            self._own = own
            self._tell_soon()

    def _to_tell(self) -> Iterable[OwnKey]:
        first: dict[str, Binding] = {}
        for active in self.screen.active_bindings.values():
            if active.binding.show:
                first.setdefault(active.binding.action, active.binding)
        common = {
            action: OwnKey(self.app.get_key_display(binding), binding.description, binding.key)
            for action, binding in first.items()
        }
        # What is open may have another word for a key that is the same everywhere.
        words = {each.key: each for each in self._own}
        common = {action: words.pop(each.key, each) for action, each in common.items()}
        own = [each for each in self._own if each.key in words]
        room = self.app.size.width - sum(each.width for each in (*common.values(), *own))
        # What there is no room for goes, the last one first: those wanted most stay.
        many = len(common)
        for action in reversed([each for each in common if each not in self._always]):
            if room < 0:
                room += common.pop(action).width
        while own and room < 0:
            # A word that is cut is read as another one; the help has them all.
            room += own.pop().width
        # No key goes for the sake of where the others are told.
        is_more = len(common) < many and room >= _MORE.width
        return *common.values(), *own, *((_MORE,) if is_more else ())

    @property
    def where_more(self) -> str:
        """What it ends with where it has no room for all keys, or ""."""
        return f"{_MORE.shown} {_MORE.word}" if _MORE in self._told else ""

    @override
    def render_line(self, y: int) -> Strip:
        plain, key, word = self.rich_style, *map(self.get_component_rich_style, (_KEY, _WORD))
        below = self.get_component_rich_style(_UNDER).bgcolor
        segments = []
        for told in self._told:
            under = Style(bgcolor=below) if told == self._under else Style()
            segments += [
                Segment(f" {told.shown} ", plain + key + under),
                Segment(f"{told.word} ", plain + word + under),
            ]
        return Strip(segments).adjust_cell_length(self.size.width, plain)

    # -- the mouse ---------------------------------------------------------------------

    def _at(self, x: int) -> OwnKey | None:
        for told in self._told:
            x -= told.width
            if x < 0:
                return told
        return None

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """A click is the same as the key."""
        told = self._at(event.x)
        if told is not None:
            self.app.simulate_key(told.key)

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Show what a click would do."""
        self._point_at(self._at(event.x))

    def on_leave(self) -> None:
        """The mouse is elsewhere."""
        self._point_at(None)

    def _point_at(self, told: OwnKey | None) -> None:
        if told != self._under:
            self._under = told
            self.refresh()
