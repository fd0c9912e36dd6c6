"""A command of the desk: what it is called, on which key, and what it does."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from textual.binding import Binding


@dataclass(frozen=True, slots=True)
class Command:
    """One thing that the desk can do.

    Attributes:
        action: the desk's method is ``action_<action>``.
        title, words: its name in the palette, and a few words on it.
        keys: key names, the first being the one that is shown; "" for the palette alone.
        shown: the key as it is written for people.
        footer: its word in the line of keys; "" where it does not stand there.
        roomy: whether that word stands there only where there is room for more than six.
    """

    action: str
    title: str
    words: str
    keys: str = ""
    shown: str = ""
    footer: str = ""
    roomy: bool = False

    @property
    def call(self) -> tuple[str, tuple[str, ...]]:
        """The method's name and what it is called with, from ``name('argument')``."""
        name, _, rest = self.action.partition("(")
        return f"action_{name}", (rest.strip("')"),) if rest else ()

    @property
    def help(self) -> str:
        """The words with the key behind them."""
        key = self.shown or self.keys.partition(",")[0]
        return f"{self.words} ({key})" if key else self.words


def bindings(commands: Iterable[Command]) -> list[Binding]:
    """The keys of commands, for a screen that has their actions."""
    return [
        Binding(
            one.keys,
            one.action,
            one.footer or one.title,
            show=bool(one.footer),
            key_display=one.shown or None,
        )
        for one in commands
        if one.keys
    ]
