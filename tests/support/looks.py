"""A study looked at through a view without an app: what the view draws, and its keys.

The cursor, the columns and what is asked are the desk's own, and answers are those of
:class:`screen.AtOnce`, so that a view draws what it would draw on a screen of that size.
``views/test_views_on_screen.py`` holds that it does.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import groupby
from pathlib import Path

from desk_host import NotingHost
from screen import SCENARIOS, AtOnce, AWhile
from typing_extensions import override

from whatif.screens.desk.painting import tabs_state
from whatif.screens.dialogs.lists import ChooseOne
from whatif.screens.views.all import VIEWS
from whatif.screens.views.opening import view_class
from whatif.screens.views.view import Look, View
from whatif.screens.widgets.drawing import SpanRow
from whatif.screens.widgets.tabs import tab_rows
from whatif.session.calculate.first import FirstLookOf
from whatif.session.calculate.requests import Reply, Request
from whatif.session.session import Session
from whatif.study.file.reading import read_file
from whatif.study.raw import Path as KeyPath

_AROUND = 3
"""Lines of the screen that are no view's: head, words and keys; the scenarios stand between."""


NAMES = [view.name for view in VIEWS]
ONE = SCENARIOS / "one-person.toml"

MOVES_PAGES = {"m": "ranked", "c": "curve", "g": "grid"}
_CHOSEN = ("chosen", "scenario")
"""The pages of "what matters most" by their keys."""

_LONG = {"moves"}
"""Views whose question takes a minute on some demo: they are looked at while it is worked out."""


class Silent(AtOnce):
    """Answers nothing, where only what stands around the answers is looked at."""

    @override
    def ask(self, request: Request) -> None:
        if not isinstance(request.question, FirstLookOf):
            super().ask(request)

    def answer(self, request: Request) -> None:
        self._deliver(Reply(request.revision, final=True))


def calculator(name: str) -> type[AtOnce]:
    """What answers a view of a demo."""
    return AWhile if name in _LONG else AtOnce


def view_named(name: str) -> type[View]:
    return view_class(name)


def changed(tmp_path: Path, old: str, new: str) -> Path:
    """A demo with one of its texts replaced."""
    path = tmp_path / "study.toml"
    text = ONE.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")
    return path


class Looking(NotingHost):
    """One view of one study on a screen of some size, the cursor in a column and on a value."""

    def __init__(
        self,
        study: Path,
        view: str,
        size: tuple[int, int] = (120, 32),
        *,
        column: int = 1,
        calculator: type[AtOnce] = AtOnce,
        under: KeyPath | None = None,
    ) -> None:
        super().__init__(Session(read_file(study)))
        self.view = self.state.view = view_named(view)()
        self._size = size
        self.width = size[0] - 1  # a cell is the scroll bar's
        self._calculator = calculator(self.controllers.calculation.take)
        self.state.room = self.width
        self.state.scenario = None
        self.state.column = min(column, max(0, len(self.state.ids) - 1))
        self.state.follow()
        assert under is None or self.state.go_to_value(under)
        self.ask()

    # -- what is seen ------------------------------------------------------------------

    def look(self) -> Look:
        self._follow()
        while self.program.asked:
            # What is drawn while it is waited for decides what is asked next, as on a screen.
            self._calculator.ask(self.program.asked.pop(0))
            self._follow()
        return self.controllers.calculation.look()

    @property
    def height(self) -> int:
        """Lines that are left for the view."""
        tabs = tabs_state(self.state, self.controllers.calculation)
        return self._size[1] - _AROUND - len(tab_rows(tabs, self._size[0]))

    @property
    def rows(self) -> list[SpanRow]:
        return self.view.draw(self.look(), self.width, self.height)

    @property
    def text(self) -> str:
        return "".join("".join(span.text for span in spans).rstrip() + "\n" for spans in self.rows)

    @property
    def words(self) -> str:
        """The same in one line, whatever its line breaks and spaces."""
        return " ".join(self.text.replace("\u00a0", " ").split())

    @property
    def seen(self) -> list[str]:
        """The lines that are on the screen before anything is scrolled."""
        return self.text.splitlines()[: self.height]

    @property
    def chosen(self) -> list[str]:
        """The texts that the cursor, or a choice, stands on."""
        found = []
        for spans in self.rows:
            for tone, run in groupby(spans, lambda span: span.tone):
                found += ["".join(span.text for span in run).strip()] if tone in _CHOSEN else []
        return found

    def _follow(self) -> None:
        self.state.follow()
        while self.controllers.calculation.follow_view():
            self.state.follow()

    # -- what is done ------------------------------------------------------------------

    def press(self, *keys: str) -> Looking:
        """Press keys of the view's own; those of every view are the pane's and do nothing here."""
        for key in keys:
            if key in ("left", "right") and not self._press(key):
                self.state.move(0, 1 if key == "right" else -1)
            elif key not in ("left", "right"):
                self._press(key)
        return self

    def _press(self, key: str) -> bool:
        # A key goes by what has been drawn.
        assert self.rows
        return self.view.press(key, self.look(), self.controllers.views)

    def take(self, text: str) -> Looking:
        """Answer what the view has asked last, a list by what stands in it."""
        offers = self.asked.offers if isinstance(self.asked, ChooseOne) else ()
        self.answer(next((offer.id for offer in offers if offer.title.startswith(text)), text))
        return self

    def edit(self, edit: Callable[[Session], str]) -> Looking:
        """Change the study through its session."""
        edit(self.state.session)
        self.ask()
        return self

    @property
    @override
    def view_room(self) -> tuple[int, int]:
        return self.width, self.height
