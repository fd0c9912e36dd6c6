"""What the answers came to, in a few sentences, before the desk is seen."""

from __future__ import annotations

from typing import ClassVar, cast

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Footer, Static

from whatif.answers.answer import Comparison
from whatif.screens.beginning.lending import Lends
from whatif.screens.widgets.drawing import wrap
from whatif.session.calculate.requests import ANY_REVISION, Reply, Request
from whatif.session.first_made import FirstStudy
from whatif.telling.first_found import FirstFound, found_said

_LINE = 76
"""Cells of a line at most."""

_WORKING = "Working out today, and what was put beside it …"


class FoundPage(Screen[bool]):
    """Dismissed with whether to go on to the study; else the questions are gone back to.

    The study is asked for as the desk will ask for it, which then finds it answered.
    """

    CSS_PATH = "beginning.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "go_on", "or any key: open the study"),
        Binding("escape", "back", "back to the questions"),
    ]

    class Replied(Message):
        """The calculation has said something."""

        def __init__(self, reply: Reply) -> None:
            super().__init__()
            self.reply = reply

    def __init__(self, first: FirstStudy, number: int) -> None:
        super().__init__()
        self._first, self._number = first, number
        self._found: Comparison | None = None
        self._fault = ""

    def compose(self) -> ComposeResult:
        """The head, what was found, the keys."""
        yield Static(" First study: what was found", id="head", markup=False)
        yield Static(id="found", markup=False)
        yield Footer(show_command_palette=False)

    def on_mount(self) -> None:
        """Ask for all that is compared."""
        calculates = cast(Lends, self.app).lend(self._deliver)
        calculates.ask(Request(self._number, self._first.draft))

    def on_resize(self, _: events.Resize) -> None:
        """Break the lines anew."""
        self.call_after_refresh(self._repaint)

    def _deliver(self, reply: Reply) -> None:
        self.post_message(self.Replied(reply))

    @on(Replied)
    def _replied(self, message: Replied) -> None:
        reply = message.reply
        if reply.revision not in (ANY_REVISION, self._number):
            return
        if reply.found is not None:
            known = self._found
            self._found = reply.found
            if known is not None and len(reply.found.answers) < len(known.answers):
                # News of some of them.
                for id_, answer in reply.found.answers.items():
                    known = known.having(id_, answer)
                self._found = known
        self._fault = reply.fault or self._fault
        self._repaint()

    def _repaint(self) -> None:
        page = self.query_one("#found", Static)
        found, width = self._found, max(20, min(_LINE, self.size.width - 4))
        if self._fault:
            page.update(Content.styled(_lines(f"! {self._fault}", width), "bold $text-warning"))
        elif found is None or len(found.answers) < len(self._first.draft.ids):
            page.update(Content.styled(_lines(_WORKING, width), "$text-muted"))
        else:
            page.update(_drawn(self._said(found), width, page.size.height))

    def _said(self, found: Comparison) -> FirstFound:
        first = self._first
        return found_said(
            found,
            is_wanted_known=first.is_wanted_known,
            has_paid_breaks=first.has_paid_breaks,
            assumed=first.assumed,
        )

    def on_key(self, event: events.Key) -> None:
        """Any key goes on, but for those that go elsewhere."""
        if event.key not in ("escape", "ctrl+q", "ctrl+c"):
            event.stop()
            self.action_go_on()

    def on_click(self) -> None:
        """So does a click on what is read."""
        self.action_go_on()

    def action_go_on(self) -> None:
        """Open the study."""
        self.dismiss(True)

    def action_back(self) -> None:
        """Go back to the questions."""
        self.dismiss(False)


def _lines(text: str, width: int) -> str:
    return "\n".join(wrap(text, width))


def _drawn(said: FirstFound, width: int, height: int) -> Content:
    """A paragraph a sentence, its name above it; further apart where there is room for it."""
    title, caution = "bold $text-primary", "bold $text-warning"
    parts = [
        Content.assemble((name, title), "\n", _lines(text, width))
        for name, text in (
            ("Where the hours go", f"{said.hours} {said.meters}".rstrip()),
            ("What limits", said.limit),
            ("What would bring most", said.best),
        )
        if text
    ]
    if said.cautions:
        parts.append(Content.styled(_lines(f"! {said.cautions}", width), caution))
    parts.append(Content.styled(_lines(said.rests, width), "$text-muted"))
    roomy = Content("\n\n").join(parts)
    return roomy if len(roomy.plain.split("\n")) <= height else Content("\n").join(parts)
