"""A command of the desk: what it is called, on which key, and what it calls."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from textual.binding import Binding

from whatif.screens.desk.controllers import Controllers
from whatif.screens.desk.state import DeskState


def _always(state: DeskState) -> bool:
    return True


@dataclass(frozen=True, slots=True)
class Command:
    """One thing that the desk can do.

    Attributes:
        name: by which it is called; no other command has it.
        title, words: its name in the palette, and a few words on it.
        run: calls the controller that does it.
        keys: key names, the first being the one that is shown; "" for the palette alone.
        shown: the key as it is written for people.
        footer: its word in the line of keys; "" where it does not stand there.
        roomy: whether that word stands there only where there is room for more than six.
        offered: whether the line of keys offers it now.
    """

    name: str
    title: str
    words: str
    run: Callable[[Controllers], object]
    keys: str = ""
    shown: str = ""
    footer: str = ""
    roomy: bool = False
    offered: Callable[[DeskState], bool] = _always

    @property
    def action(self) -> str:
        """What a key of the screen does to call it."""
        return f"run('{self.name}')"

    @property
    def help(self) -> str:
        """The words with the key behind them."""
        key = self.shown or self.keys.partition(",")[0]
        return f"{self.words} ({key})" if key else self.words


def bindings(commands: Iterable[Command]) -> list[Binding]:
    """The keys of commands, for a screen that can run them."""
    return [
        Binding(
            command.keys,
            command.action,
            command.footer or command.title,
            show=bool(command.footer),
            key_display=command.shown or None,
        )
        for command in commands
        if command.keys
    ]
