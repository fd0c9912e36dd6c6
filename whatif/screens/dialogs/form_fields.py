"""Forms with fields to type in: breaks of a shift, sides of a part or a table."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.message import Message
from textual.widgets import Input, Static

from whatif.screens.dialogs.forms import Asked, Form, Tries
from whatif.study.schema.kinds import Clock, KindError, Length


class Field(Input):
    """One field of a form; what is typed first replaces what stood there."""

    def __init__(self, text: str, width: int, hint: str = "") -> None:
        super().__init__(text, placeholder=hint, compact=True, select_on_focus=True)
        self.styles.width = width


class TimeField(Field):
    """A field for a time of day, which has no letter in it: x takes the line out."""

    class Out(Message):
        """The line is to be taken out."""

    def __init__(self, text: str) -> None:
        super().__init__(text, 8, "--:--")

    def on_key(self, event: events.Key) -> None:
        """Before the letter gets into the field."""
        if event.character in ("x", "X"):
            event.stop()
            event.prevent_default()
            self.post_message(self.Out())


class FieldForm(Form):
    """A form with fields, in which Up and Down go from line to line."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "line(-1)", "line up", show=False, priority=True),
        Binding("down", "line(1)", "line down", show=False, priority=True),
    ]

    def lines(self) -> Sequence[Sequence[Field]]:
        """The fields of each line."""
        raise NotImplementedError

    def on_mount(self) -> None:
        """Begin in the first field; the form's own handler of this name is called as well."""
        self.set_focus(self.lines()[0][0])

    def action_line(self, by: int) -> None:
        """Go to the field above or below."""
        lines = self.lines()
        for at, line in enumerate(lines):
            if self.focused in line:
                to = lines[max(0, min(len(lines) - 1, at + by))]
                self.set_focus(to[line.index(self.focused) if self.focused in line else 0])
                return

    def on_input_changed(self, event: Input.Changed) -> None:
        """Follow what is typed."""
        event.stop()
        self.try_it()


# -- breaks --------------------------------------------------------------------------------


class BreakLine(Horizontal):
    """One break: from, to, and a way to take it out."""

    class Out(Message):
        """The break is to be taken out."""

        def __init__(self, line: BreakLine) -> None:
            super().__init__()
            self.line = line

    def __init__(self, begin: str = "", end: str = "") -> None:
        super().__init__(classes="line")
        self.begin, self.end = TimeField(begin), TimeField(end)
        self._beside = Static(classes="answer line-out", markup=False)

    def compose(self) -> ComposeResult:
        """Two fields, and what takes the break out."""
        yield Static("  from ", classes="line-label", markup=False)
        yield self.begin
        yield Static("  to ", classes="line-label", markup=False)
        yield self.end
        yield self._beside

    def on_mount(self) -> None:
        """Tell what can be done."""
        self.tell()

    def tell(self) -> None:
        """Say what the line is: one more break, or one that can be taken out."""
        self._beside.update("  (one more)" if self.is_empty else "  x take it out")

    @property
    def typed(self) -> tuple[str, str]:
        """What stands in the fields."""
        return self.begin.value.strip(), self.end.value.strip()

    @property
    def is_empty(self) -> bool:
        """Whether nothing stands in it."""
        return self.typed == ("", "")

    def on_time_field_out(self, message: TimeField.Out) -> None:
        """Hand on which line it is."""
        message.stop()
        self.post_message(self.Out(self))

    def on_click(self, event: events.Click) -> None:
        """Take the break out if that was clicked."""
        if event.widget is not None and event.widget.has_class("line-out"):
            event.stop()
            self.post_message(self.Out(self))


class BreaksForm(FieldForm):
    """Breaks, a line each; the last line is empty, for one more."""

    hint = "Tab and arrows move   type into the empty line to add   x takes one out"

    def __init__(self, asked: Asked, tries: Tries, breaks: Sequence[str]) -> None:
        super().__init__(asked, tries)
        self._first = tuple(tuple(one.split("-")) for one in breaks)
        self._lines = [BreakLine(*one[:2]) for one in self._first] + [BreakLine()]

    def fields(self) -> ComposeResult:
        """The lines."""
        with VerticalScroll(classes="lines", can_focus=False):
            yield from self._lines

    def lines(self) -> Sequence[Sequence[Field]]:
        """See `FieldForm`."""
        return [(one.begin, one.end) for one in self._lines]

    @property
    def text(self) -> str:
        """The breaks, as they would be typed."""
        typed = tuple(one.typed for one in self._lines if not one.is_empty)
        if typed == self._first:
            return self._asked.text
        return ", ".join(f"{begin}-{end}" for begin, end in typed) or "none"

    def own_fault(self) -> str:
        """A break has two ends."""
        for begin, end in (one.typed for one in self._lines if not one.is_empty):
            if not begin:
                return f"The break to {end} has no beginning yet."
            if not end:
                return f"The break from {begin} has no end yet."
            for one in (begin, end):
                try:
                    Clock().read(Clock().typed(one))
                except KindError:
                    return f'"{one}" is no time of day; write such as 08:30.'
        return ""

    def means(self) -> str:
        """The breaks, or that there is none."""
        return self.text if self.text not in ("", "none") else "no break"

    def on_input_changed(self, event: Input.Changed) -> None:
        """There is always an empty line; that what is typed is followed has its own handler."""
        for line in self._lines:
            line.tell()
        if not self._lines[-1].is_empty:
            self._lines.append(BreakLine())
            self.query_one(".lines").mount(self._lines[-1])

    def on_break_line_out(self, message: BreakLine.Out) -> None:
        """Take a break out."""
        message.stop()
        at = self._lines.index(message.line) if message.line in self._lines else -1
        if at < 0 or message.line.is_empty:
            return
        del self._lines[at]
        self.set_focus(self._lines[at].begin)
        message.line.remove()
        self.try_it()


# -- sides ---------------------------------------------------------------------------------

_BARE = re.compile(r"[\d\s./½¼¾-]+")
_UNIT = re.compile(r"[^\d\s./½¼¾-][^\d]*$")


class SidesForm(FieldForm):
    """Two or three lengths with their names."""

    hint = "Tab and arrows move   a bare number takes the unit of the others"

    def __init__(
        self, asked: Asked, tries: Tries, names: Sequence[str], sides: Sequence[str]
    ) -> None:
        super().__init__(asked, tries)
        self._first = tuple(sides) if len(sides) == len(names) else ("",) * len(names)
        self._names = tuple(names)
        self._sides = [Field(side, 20, "such as 140 mm") for side in self._first]

    def fields(self) -> ComposeResult:
        """A line each."""
        wide = max(map(len, self._names)) + 3
        with VerticalScroll(classes="lines", can_focus=False):
            for name, side in zip(self._names, self._sides, strict=True):
                with Horizontal(classes="line"):
                    yield Static(f"  {name:{wide}}", classes="line-label", markup=False)
                    yield side

    def lines(self) -> Sequence[Sequence[Field]]:
        """See `FieldForm`."""
        return [(side,) for side in self._sides]

    def go_on(self) -> None:
        """Go to the next side that is empty."""
        empty = [side for side in self._sides if not side.value.strip()]
        if empty:
            empty[0].focus()

    @property
    def text(self) -> str:
        """The sides, as they would be typed; "" where none is filled in."""
        if tuple(side.value.strip() for side in self._sides) == self._first:
            return self._asked.text
        return " x ".join(self._typed) if any(self._typed) else ""

    @property
    def _typed(self) -> tuple[str, ...]:
        """What stands in the fields, bare numbers with the unit of the others."""
        typed = [side.value.strip() for side in self._sides]
        unit = next((found[0].strip() for side in typed if (found := _UNIT.search(side))), "")
        return tuple(
            f"{one} {unit}".strip() if one and _BARE.fullmatch(one) else one for one in typed
        )

    def own_fault(self) -> str:
        """All sides, or none."""
        typed = dict(zip(self._names, self._typed, strict=True))
        for name, side in typed.items():
            try:
                Length(above_zero=True).read(side or "1 mm")
            except KindError as fault:
                return f"{name}: {fault.why}."
        empty = [name for name, side in typed.items() if not side]
        if not empty or len(empty) == len(self._names):
            return ""
        return f"Not filled in yet: {', '.join(empty)}. All are wanted, or none."

    def means(self) -> str:
        """The sides in one line."""
        return self.text or "not given"
