"""Forms that fit what is not one number: ticks, lines of times, labelled lengths.

A form is laid below the strip of results, which follows what is changed in it. It makes one text,
the same that could be typed into a line instead, and hands it to whoever opened it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

KEEP, BACK, TYPE = "keep", "back", "type"
"""How a form ends: what it says is kept, is not, or is to be gone on with in one line."""

Tries = Callable[[str], str]
"""Tries a text as the value; returns what is wrong with it, in words."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a form is about.

    Attributes:
        title: the value and the scenario.
        meaning: what it is and how it is found.
        text: what stands there, as it would be typed; "" where nothing is given.
    """

    title: str
    meaning: str
    text: str


class Form(ModalScreen[str]):
    """A value to be put together; dismissed with how it ends, :attr:`text` being what it says."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "end('keep')", "keep", priority=True),
        Binding("escape", "end('back')", "back", priority=True),
        Binding("f4", "end('type')", "type it in one line", priority=True, key_display="F4"),
    ]

    hint = ""
    """What the keys do in this form, in a few words."""

    def __init__(self, asked: Asked, tries: Tries) -> None:
        super().__init__(classes="form")
        self._asked = asked
        self._tries = tries
        self._tried = asked.text
        self.wrong = ""

    @property
    def text(self) -> str:
        """What the form says, as it would be typed."""
        raise NotImplementedError

    @property
    def is_touched(self) -> bool:
        """Whether it says anything else than what stood there."""
        return self.text != self._asked.text

    def means(self) -> str:
        """What the form comes to, in words."""
        return self.text

    def own_fault(self) -> str:
        """What is wrong in the form itself, before its text is tried."""
        return ""

    def fields(self) -> ComposeResult:
        """What is to be filled in."""
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        """Title, meaning, the fields, what they come to, how to go on."""
        with Vertical(classes="dialog"):
            yield Static(self._asked.title, classes="reading-title", markup=False)
            yield Static(self._asked.meaning, classes="form-meaning", markup=False)
            yield from self.fields()
            yield Static(classes="form-said", markup=False)
            yield Static(self.hint, classes="form-hint", markup=False)
            with Horizontal(classes="form-ends"):
                yield Static("Enter keep", classes="answer", name=KEEP, markup=False)
                yield Static("Esc go back", classes="answer", name=BACK, markup=False)
                yield Static("F4 type it in one line", classes="answer", name=TYPE, markup=False)

    def on_mount(self) -> None:
        """Tell what stands there."""
        self.try_it()

    def try_it(self) -> None:
        """Try what the form says, and tell what it comes to or what is wrong."""
        text = self.text
        if text != self._tried:
            self._tried = text
            self.wrong = self._tries(text)
        if not self.is_touched:
            self.wrong = ""
        own = self.own_fault()
        self.wrong = own or self.wrong
        said = self.query_one(".form-said", Static)
        said.set_class(bool(self.wrong), "wrong")
        said.update(f"! {self.wrong}" if self.wrong else f"= {self.means()}")

    def action_end(self, how: str) -> None:
        """End the form; where what is to be kept is wrong, go on to what is missing."""
        self.try_it()
        if how != KEEP or not self.wrong or not self.is_touched:
            self.dismiss(how)
        else:
            self.go_on()

    def go_on(self) -> None:
        """Go to the next thing that is still to be filled in, if there is one."""

    def on_click(self, event: events.Click) -> None:
        """Take the ending that was clicked."""
        clicked = event.widget
        if clicked is not None and clicked.has_class("answer") and clicked.name:
            event.stop()
            self.action_end(clicked.name)


class TickForm(Form):
    """Things to tick, beside or below each other."""

    def __init__(
        self, asked: Asked, tries: Tries, things: Sequence[tuple[str, str]], ticked: Sequence[str]
    ) -> None:
        super().__init__(asked, tries)
        self._things = tuple(things)
        self._ticked = set(ticked)
        self._at = 0

    @property
    def chosen(self) -> tuple[str, ...]:
        """What is ticked, in the order in which it stands there."""
        return tuple(one for one, _ in self._things if one in self._ticked)

    def ticks(self) -> ComposeResult:
        """A field for each thing."""
        for one, _ in self._things:
            yield Static(classes="tick", name=one, markup=False)

    def on_mount(self) -> None:
        """Draw the ticks, before the form's own handler of this name tells what they come to."""
        self._draw()

    def _draw(self) -> None:
        for at, field in enumerate(self.query(".tick").results(Static)):
            one, name = self._things[at]
            here = at == self._at
            field.set_class(here, "here")
            field.update(f"{'>' if here else ' '}[{'x' if one in self._ticked else ' '}] {name}")
            if here:
                field.scroll_visible(animate=False)

    def _toggle(self, at: int) -> None:
        self._at = at
        self._ticked ^= {self._things[at][0]}
        self._draw()
        self.try_it()

    def on_key(self, event: events.Key) -> None:
        """Arrows move, Space ticks, a letter ticks the next thing that begins with it."""
        steps = {"left": -1, "up": -1, "shift+tab": -1, "right": 1, "down": 1, "tab": 1}
        if event.key in steps:
            self._at = (self._at + steps[event.key]) % len(self._things)
            self._draw()
        elif event.key == "space":
            self._toggle(self._at)
        elif event.character and event.is_printable:
            self._to_letter(event.character)
        else:
            return
        event.stop()

    def _to_letter(self, letter: str) -> None:
        count = len(self._things)
        # The one under the cursor comes last: the letter pressed again goes on.
        for step in range(1, count + 1):
            at = (self._at + step) % count
            if self._things[at][0].lower().startswith(letter.lower()):
                self._toggle(at)
                return

    def on_click(self, event: events.Click) -> None:
        """Tick what was clicked; the form's own handler of this name is called as well."""
        clicked = event.widget
        if clicked is not None and clicked.has_class("tick"):
            event.stop()
            self._toggle([one for one, _ in self._things].index(clicked.name or ""))


class DaysForm(TickForm):
    """The seven days of a week."""

    hint = "arrows move   Space ticks   m t w f s tick the next day of that letter"

    def __init__(
        self,
        asked: Asked,
        tries: Tries,
        things: Sequence[tuple[str, str]],
        ticked: Sequence[str],
        *,
        is_all: bool = True,
    ) -> None:
        """``is_all`` tells that the ticks are all that stood there, and none of it was no day."""
        super().__init__(asked, tries, things, ticked)
        self._first = set(ticked) if is_all else None

    def fields(self) -> ComposeResult:
        """The days beside each other."""
        with Horizontal(classes="ticks"):
            yield from self.ticks()

    @property
    def text(self) -> str:
        """The days, as they would be typed."""
        return self._asked.text if self._ticked == self._first else " ".join(self.chosen)

    def own_fault(self) -> str:
        """A shift has a day."""
        if self.chosen:
            return ""
        return "Tick one day at least. To take the shift out, enter 0 people for it."

    def means(self) -> str:
        """How many days they are."""
        count = len(self.chosen)
        return f"{count} day{'s' if count > 1 else ''} a week"


class MachinesForm(TickForm):
    """The machines that a part may be made on."""

    hint = "arrows move   Space ticks   none ticked: all machines"

    def fields(self) -> ComposeResult:
        """The machines below each other."""
        with VerticalScroll(classes="lines", can_focus=False):
            yield from self.ticks()

    @property
    def text(self) -> str:
        """The machines, as they would be typed; all of them is nothing said."""
        return ", ".join(self.chosen)

    def means(self) -> str:
        """Which machines they are."""
        return self.text or "all machines, also those that are added"
