"""What the next keys may need, loaded while nobody presses one.

Commands, dialogs and views are loaded by the first key that needs them, so that the study is seen
sooner. Together commands and dialogs take a tenth of a second to load, which nobody shall wait for.
A view takes no more than a frame of the screen; all of them would hold memory for nothing, and so
would what hardly anybody asks for.
"""

from __future__ import annotations

import pkgutil
import sys
import threading
from collections.abc import Iterator
from importlib import import_module
from time import sleep

import whatif.screens
from whatif.screens.in_turn import InTurn

_FIRST = 1.0
"""Seconds in which the study is drawn and its calculation begins."""

_RESTED = 0.4
"""Seconds without a key after which another module is loaded."""

_BETWEEN = 0.05
"""Seconds between two modules, and between two looks at the keys."""

_ROOMS = ("desk", "dialogs")
"""In the order in which they are likely to be asked for; beginning a study is left alone."""

_SELDOM = ("tables", "mend_text")
"""Left to the key that asks: they bring tables of spreadsheets, and an editor of whole texts."""


class Ahead:
    """Loads what the program on its terminal may need next, in a thread of its own."""

    def __init__(self, app: InTurn) -> None:
        self._app = app

    def begin(self) -> None:
        """From now on, until all is there."""
        threading.Thread(target=self._load, daemon=True).start()

    def _load(self) -> None:
        sleep(_FIRST)
        for name in modules():
            while self._app.rested < _RESTED:
                sleep(_BETWEEN)
            if name not in sys.modules:
                import_module(name)
                sleep(_BETWEEN)


def modules() -> Iterator[str]:
    """The modules of the desk and its dialogs, by their names, but for what is seldom needed."""
    for room in _ROOMS:
        paths = [f"{path}/{room}" for path in whatif.screens.__path__]
        for name in _below(paths, f"{whatif.screens.__name__}.{room}."):
            if name.rpartition(".")[2] not in _SELDOM:
                yield name


def _below(paths: list[str], above: str) -> Iterator[str]:
    for found in pkgutil.iter_modules(paths, above):
        if found.ispkg:
            inner = found.name.rpartition(".")[2]
            yield from _below([f"{path}/{inner}" for path in paths], f"{found.name}.")
        else:
            yield found.name
