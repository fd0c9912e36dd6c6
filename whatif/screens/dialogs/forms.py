"""Forms that fit what is not one number: ticks, lines of times, labelled lengths.

A form is laid below the strip of results, which follows what is changed in it. It makes one text,
the same that could be typed into a line instead, and hands it to whoever opened it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Input, Static
from typing_extensions import override

from whatif.records import dataclass
from whatif.screens.dialogs.dialog import Dialog, Ending
from whatif.screens.dialogs.reading import ReadText
from whatif.study.schema.kinds import DAYS, Breaks, Clock, Days, KindError, Length

KEEP, BACK, TYPE = "keep", "back", "type"
"""How a form ends: what it says is kept, is not, or is to be gone on with in one line."""


@dataclass(frozen=True, slots=True)
class AskedValue:
    """What a form is about.

    Attributes:
        title: the value and the scenario.
        meaning: what it is and how it is found.
        text: what stands there, as it would be typed; "" where nothing is given.
        help: all that is to be known of it.
        tries: tries a text as the value; returns what is wrong with it, in words.
    """

    title: str
    meaning: str
    text: str
    help: str
    tries: Callable[[str], str]


class Form(Dialog):
    """A value to be put together; dismissed with how it ends, :attr:`text` being what it says."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "end('keep')", "keep", priority=True),
        Binding("escape", "end('back')", "back", priority=True),
        Binding("f4", "end('type')", "type it in one line", priority=True),
        Binding("f1", "help", "help", priority=True),
    ]

    hint = ""
    """What the keys do in this form, in a few words."""

    def __init__(self, asked: AskedValue) -> None:
        super().__init__(classes="form")
        self._asked = asked
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
                yield Ending("Enter keep", "end('keep')")
                yield Ending("Esc go back", "end('back')")
                yield Ending("F4 type it in one line", "end('type')")
                yield Ending("F1 help", "help")

    def on_mount(self) -> None:
        """Tell what stands there."""
        self.try_it()

    def try_it(self) -> None:
        """Try what the form says, and tell what it comes to or what is wrong."""
        text = self.text
        if text != self._tried:
            self._tried = text
            self.wrong = self._asked.tries(text)
        if not self.is_touched:
            self.wrong = ""
        self.wrong = self.own_fault() or self.wrong
        said = self.query_one(".form-said", Static)
        said.set_class(bool(self.wrong), "wrong")
        said.update(f"! {self.wrong}" if self.wrong else f"= {self.means()}")

    def action_end(self, how: str) -> None:
        """End the form; where what is to be kept is wrong, go on to what is missing."""
        self.try_it()
        if how != KEEP or not self.wrong or not self.is_touched:
            self.dismiss(how)
        else:
            self.app.bell()
            self.go_on()

    def action_help(self) -> None:
        """Tell of the value, and of the keys of the form; what is filled in stays."""
        self.app.push_screen(ReadText(self._asked.title, f"{self._asked.help}\n\n{self.hint}"))

    def go_on(self) -> None:
        """Go to the next thing that is still to be filled in, if there is one."""


class TickForm(Form):
    """Things to tick, beside or below each other.

    Args:
        things: their names by ids.
        ticked: the ids of those that are ticked at first.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left,up,shift+tab", "move(-1)", show=False),
        Binding("right,down,tab", "move(1)", show=False),
        Binding("space", "tick", show=False),
    ]

    place = "lines"
    """The class of what the ticks stand in: below each other, or beside each other."""

    def __init__(self, asked: AskedValue, things: Mapping[str, str], ticked: Sequence[str]) -> None:
        super().__init__(asked)
        self._things = things
        self._ids = list(things)
        self._ticked = set(ticked)
        self._at = 0

    @property
    def chosen(self) -> tuple[str, ...]:
        """What is ticked, in the order in which it stands there."""
        return tuple(thing for thing in self._ids if thing in self._ticked)

    @override
    def fields(self) -> ComposeResult:
        """A field for each thing."""
        with VerticalScroll(classes=self.place, can_focus=False):
            for thing in self._ids:
                yield Static(classes="tick", name=thing, markup=False)

    def on_mount(self) -> None:
        """Draw the ticks, before the form's own handler of this name tells what they come to."""
        self._draw()

    def _draw(self) -> None:
        for at, field in enumerate(self.query(".tick").results(Static)):
            thing, here = self._ids[at], at == self._at
            tick = "[✓]" if thing in self._ticked else "[ ]"
            field.set_class(here, "here")
            field.update(f" {tick} {self._things[thing]} ")
            if here:
                field.scroll_visible(animate=False)

    def _toggle(self, at: int) -> None:
        self._at = at
        self._ticked ^= {self._ids[at]}
        self._draw()
        self.try_it()

    def action_move(self, by: int) -> None:
        """Go on to another thing."""
        self._at = (self._at + by) % len(self._ids)
        self._draw()

    def action_tick(self) -> None:
        """Tick the thing under the cursor, or take its tick away."""
        self._toggle(self._at)

    def on_key(self, event: events.Key) -> None:
        """A letter ticks the next thing that begins with it, at last the one under the cursor."""
        letter, after = (event.character or "").lower(), self._at + 1
        for thing in (*self._ids[after:], *self._ids[:after]):
            if letter and thing.lower().startswith(letter):
                event.stop()
                self._toggle(self._ids.index(thing))
                return

    def on_click(self, event: events.Click) -> None:
        """Tick what was clicked."""
        clicked = event.widget
        if clicked is not None and clicked.has_class("tick"):
            event.stop()
            self._toggle(self._ids.index(clicked.name or ""))


class DaysForm(TickForm):
    """The days of a week.

    Args:
        days: what stands there; it may be wrong, and what is no day is left out.
        may_be_none: whether none may be ticked.
    """

    hint = "arrows move   Space ticks   or type the days: mon-thu, mon wed, weekdays"
    place = "ticks"

    def __init__(self, asked: AskedValue, days: Sequence[str], *, may_be_none: bool) -> None:
        super().__init__(asked, {day: day for day in DAYS}, [day for day in DAYS if day in days])
        self._first = sorted(days)
        self._kind = Days(may_be_none=may_be_none)
        self._typed = ""
        """Days that are being typed; "" while they are ticked."""

    @property
    @override
    def text(self) -> str:
        if self._typed.strip():
            return self._typed.strip()
        if sorted(self._ticked) == self._first:
            return self._asked.text
        return " ".join(self.chosen) or ("none" if self._kind.may_be_none else "")

    @override
    def own_fault(self) -> str:
        """What is typed are days; a shift has one."""
        try:
            self._kind.read(self._kind.typed(self.text))
        except KindError as fault:
            if self._typed.strip():
                return f"{self._typed}: {fault.why}. Type {self._kind.typed_as}."
            return "Tick one day at least. To take the shift out, enter 0 people for it."
        return ""

    @override
    def means(self) -> str:
        count = len(self.chosen)
        typed = f"{self._typed}: " if self._typed.strip() else ""
        return f"{typed}{count} day{'' if count == 1 else 's'} a week"

    @override
    def on_key(self, event: events.Key) -> None:
        """Letters are days, taken as they are typed; the ticks follow once they can be read."""
        character = event.character or ""
        if event.key == "backspace":
            self._type(self._typed[:-1])
        elif character.isalnum() or (character and character in ",;-–+"):
            self._type(self._typed + character)
        else:
            return
        event.stop()
        # Else the handler of all forms with ticks would be called too, and tick.
        event.prevent_default()

    @override
    def action_tick(self) -> None:
        """Tick the day under the cursor; a space between days that are typed stays one."""
        if self._typed.strip():
            self._type(f"{self._typed} ")
        else:
            super().action_tick()

    @override
    def action_move(self, by: int) -> None:
        """Go on to another day; what has been typed is ticked by then."""
        self._typed = ""
        super().action_move(by)
        self.try_it()

    def _type(self, typed: str) -> None:
        self._typed = typed
        try:
            self._ticked = set(self._kind.read(self._kind.typed(typed)))
        except KindError:
            pass  # Not a day yet: told below.
        else:
            self._draw()
        self.try_it()

    @override
    def _toggle(self, at: int) -> None:
        self._typed = ""
        super()._toggle(at)


class WordsForm(TickForm):
    """Some of a few words, each with what it says."""

    hint = "arrows move   Space ticks"

    def __init__(self, asked: AskedValue, words: Mapping[str, str], ticked: Sequence[str]) -> None:
        wide = max(map(len, words), default=0)
        super().__init__(
            asked, {word: f"{word:{wide}}  {says}" for word, says in words.items()}, ticked
        )
        self._first = sorted(ticked)

    @property
    @override
    def text(self) -> str:
        if sorted(self._ticked) == self._first:
            return self._asked.text
        return ", ".join(self.chosen) or "none"

    @override
    def means(self) -> str:
        return ", ".join(self.chosen) or "none of them"


class MachinesForm(TickForm):
    """The machines that a part may be made on."""

    hint = "arrows move   Space ticks   none ticked: all machines"

    @property
    @override
    def text(self) -> str:
        """The machines, as they would be typed; all of them is nothing said."""
        return ", ".join(self.chosen)

    @override
    def means(self) -> str:
        return self.text or "all machines, also those that are added"


class Field(Input):
    """One field of a form; what is typed first replaces what stood there."""

    def __init__(self, text: str, width: int, hint: str) -> None:
        super().__init__(text, placeholder=hint, compact=True, select_on_focus=True)
        self.styles.width = width


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
                self.set_focus(to[line.index(self.focused)])
                return

    def on_input_changed(self, event: Input.Changed) -> None:
        """Follow what is typed."""
        event.stop()
        self.try_it()


# -- breaks --------------------------------------------------------------------------------


class TimeField(Field):
    """A field for a time of day, which has no letter in it: x takes the line out.

    While something is typed it does not: what is typed is not to be lost by one more key.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("x,X", "screen.take_out", show=False, priority=True)
    ]

    def __init__(self, text: str) -> None:
        super().__init__(text, 8, "--:--")
        self._stood = text

    def on_focus(self) -> None:
        """From now on it is seen whether something is typed."""
        self._stood = self.value

    @property
    def is_typed_in(self) -> bool:
        """Whether something has been typed since it has the keys."""
        return self.value != self._stood


class BreakLine(Horizontal):
    """One break: from, to, and a way to take it out."""

    def __init__(self, begin: str = "", end: str = "") -> None:
        super().__init__(classes="line")
        self.begin, self.end = TimeField(begin), TimeField(end)
        self.beside = Static(classes="answer line-out", markup=False)

    def compose(self) -> ComposeResult:
        """Two fields, and what takes the break out."""
        yield Static("  from ", classes="line-label", markup=False)
        yield self.begin
        yield Static("  to ", classes="line-label", markup=False)
        yield self.end
        yield self.beside

    def on_mount(self) -> None:
        """Tell what can be done."""
        self.tell()

    def tell(self) -> None:
        """Say what the line is: one more break, or one that can be taken out."""
        self.beside.update("  (one more)" if self.is_empty else "  x remove it")

    @property
    def typed(self) -> tuple[str, str]:
        """What stands in the fields."""
        return self.begin.value.strip(), self.end.value.strip()

    @property
    def is_empty(self) -> bool:
        """Whether nothing stands in it."""
        return self.typed == ("", "")


class BreaksForm(FieldForm):
    """Breaks, a line each; the last line is empty, for one more."""

    hint = "Tab and arrows move   type into the empty line to add   x removes one"

    def __init__(self, asked: AskedValue, breaks: Sequence[str]) -> None:
        super().__init__(asked)
        self._first = tuple(tuple(ends.split("-")) for ends in breaks)
        self._lines = [BreakLine(*ends[:2]) for ends in self._first] + [BreakLine()]

    @override
    def fields(self) -> ComposeResult:
        with VerticalScroll(classes="lines", can_focus=False):
            yield from self._lines

    @override
    def lines(self) -> Sequence[Sequence[Field]]:
        return [(line.begin, line.end) for line in self._lines]

    @property
    @override
    def text(self) -> str:
        typed = tuple(line.typed for line in self._lines if not line.is_empty)
        if typed == self._first:
            return self._asked.text
        return ", ".join(f"{begin}-{end}" for begin, end in typed) or "none"

    @override
    def own_fault(self) -> str:
        """A break has two ends."""
        for begin, end in (line.typed for line in self._lines if not line.is_empty):
            if not begin:
                return f"The break to {end} has no beginning yet."
            if not end:
                return f"The break from {begin} has no end yet."
            for time in (begin, end):
                try:
                    Clock().read(Clock().typed(time))
                except KindError:
                    return f'"{time}" is no time of day; write such as 08:30.'
        return ""

    @override
    def means(self) -> str:
        """The breaks as they are read: 830 is 08:30."""
        kind = Breaks()
        return kind.written(kind.typed(self.text)) if self.text not in ("", "none") else "no break"

    def on_input_changed(self, event: Input.Changed) -> None:
        """There is always an empty line; that what is typed is followed has its own handler."""
        for line in self._lines:
            line.tell()
        if not self._lines[-1].is_empty:
            self._lines.append(BreakLine())
            self.query_one(".lines").mount(self._lines[-1])

    def action_take_out(self) -> None:
        """Take out the break that the focus is in, unless it is just being typed."""
        if isinstance(self.focused, TimeField) and self.focused.is_typed_in:
            self.app.bell()
            self.query_one(".form-said", Static).update(
                "! A time has no x in it; behind Tab or an arrow x removes the break."
            )
            return
        for line in self._lines:
            if self.focused in (line.begin, line.end):
                self._take_out(line)
                return

    def on_click(self, event: events.Click) -> None:
        """Take out the break beside which that was clicked."""
        for line in self._lines:
            if event.widget is line.beside:
                self._take_out(line)
                return

    def _take_out(self, line: BreakLine) -> None:
        if line.is_empty:
            return
        at = self._lines.index(line)
        del self._lines[at]
        self.set_focus(self._lines[at].begin)
        line.remove()
        self.try_it()


# -- sides ---------------------------------------------------------------------------------


class SidesForm(FieldForm):
    """Two or three lengths with their names."""

    hint = "Tab and arrows move   a bare number takes the unit of the others"

    def __init__(
        self, asked: AskedValue, names: Sequence[str], sides: Sequence[str], units: str = "metric"
    ) -> None:
        super().__init__(asked)
        self._units = units
        self._first = tuple(sides) if len(sides) == len(names) else ("",) * len(names)
        self._names = tuple(names)
        self._sides = [Field(side, 20, "such as 140 mm") for side in self._first]

    @override
    def fields(self) -> ComposeResult:
        wide = max(map(len, self._names)) + 3
        with VerticalScroll(classes="lines", can_focus=False):
            for name, side in zip(self._names, self._sides, strict=True):
                with Horizontal(classes="line"):
                    yield Static(f"  {name:{wide}}", classes="line-label", markup=False)
                    yield side

    @override
    def lines(self) -> Sequence[Sequence[Field]]:
        return [(side,) for side in self._sides]

    @override
    def go_on(self) -> None:
        """Go to the next side that is empty."""
        empty = [side for side in self._sides if not side.value.strip()]
        if empty:
            empty[0].focus()

    @property
    @override
    def text(self) -> str:
        """The sides, as they would be typed; "" where none is filled in."""
        if tuple(side.value.strip() for side in self._sides) == self._first:
            return self._asked.text
        return " x ".join(self._typed) if any(self._typed) else ""

    @property
    def _typed(self) -> tuple[str, ...]:
        """What stands in the fields, bare numbers with the unit of the others."""
        typed = [side.value.strip() for side in self._sides]
        standing = (*typed, *self._first)
        return tuple(str(Length().typed_over(side, standing, self._units)) for side in typed)

    @override
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

    @override
    def means(self) -> str:
        return self.text or "not given"
