"""The program: a session, its calculating process, its recovery, and the desk."""

from __future__ import annotations

import contextlib
import os
import signal
import sys
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from functools import partial
from pathlib import Path as FilePath
from types import FrameType
from typing import Any

from textual.app import App, SystemCommand
from textual.screen import Screen

from whatif.screens.commands import COMMANDS, WorkDesk
from whatif.screens.desk import Desk
from whatif.screens.dialogs import Ask
from whatif.session.calculator import Calculates, Calculator
from whatif.session.recovery import Left, Recovery, left_behind, throw_away
from whatif.session.requests import Question, Reply, Request
from whatif.session.session import Session
from whatif.study.draft import Draft
from whatif.study.reading import StudyError, read_file

# Leave the other screen, show the cursor, end mouse and paste reports (ECMA-48, xterm).
_TERMINAL_BACK = b"\x1b[?1049l\x1b[?25h\x1b[?1000l\x1b[?1003l\x1b[?1006l\x1b[?2004l\r\n"


class WhatIf(App[None]):
    """What-if sessions for a machining cell."""

    CSS_PATH = "whatif.tcss"
    TITLE = "whatif"
    ENABLE_COMMAND_PALETTE = True

    def __init__(
        self,
        session: Session,
        recovery: Recovery,
        left: Sequence[Left] = (),
        calculator: Callable[[Callable[[Reply], None]], Calculates] = Calculator,
    ) -> None:
        super().__init__()
        self.session = session
        self.recovery = recovery
        self.desk = WorkDesk(session)
        self._left = left
        self._calculator = calculator(self._deliver)

    def on_mount(self) -> None:
        """Start the calculation, show the desk, offer what an earlier session left."""
        self._calculator.start()
        self.push_screen(self.desk)
        if self._left:
            self._offer_recovery()
        elif self.session.checked.problems:
            self.desk.call_after_refresh(self.desk.action_problems)

    def _offer_recovery(self) -> None:
        """Offer the newest of what earlier sessions left; the others keep for another time."""
        left = self._left[0]
        when = datetime.fromtimestamp(left.when).strftime("%Y-%m-%d %H:%M")
        changed = " The file has been changed since." if left.base != self.session.base else ""
        more = len(self._left) - 1
        others = f" {more} more such session{'s' if more > 1 else ''} left changes too."
        self.push_screen(
            Ask(
                f"A session of {when} ended before it could save its changes to "
                f"{self.session.path.name}.{changed}{others if more else ''}",
                {"t": "take them up", "x": "throw them away"},
                safe="later",
            ),
            self._recover,
        )

    def _recover(self, answer: str | None) -> None:
        left = self._left[0]
        if answer == "t":
            self.session.recover(left.draft, left.base)
            self.desk.changed("")
            self.desk.notice = "Taken up what an earlier session left. w saves it."
            self.desk.ask()
            # Safe in this session's own file before the other one goes.
            self.recovery.flush()
            throw_away(left)
        elif answer == "x":
            throw_away(left)
            self._left = self._left[1:]
            if self._left:
                self._offer_recovery()

    def on_unmount(self) -> None:
        """End the calculation."""
        self._calculator.close()
        self.recovery.close()

    # -- what the desk asks for --------------------------------------------------------

    def ask(self, revision: int, draft: Draft, question: Question | None) -> None:
        """Have a draft answered, and what a view wants to know of it."""
        self._calculator.ask(Request(revision, draft, question))

    def saved(self, base: str) -> None:
        """The file has everything; what is changed from now on is a change of it as it is."""
        self.recovery.base = base
        self.recovery.note(None)

    def note(self, draft: Draft | None) -> None:
        """Keep an unsaved draft safe; None once the file has everything."""
        self.recovery.note(draft)

    def _deliver(self, reply: Reply) -> None:
        # Called from a thread; posting a message is safe from any.
        self.desk.post_message(Desk.Replied(reply))

    async def action_quit(self) -> None:
        """Leave as the desk does it, asking where something is not saved."""
        if self.screen is self.desk:
            self.desk.action_leave()

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """Every command by name, for the palette."""
        for command in super().get_system_commands(screen):
            # Ours is called "Leave".
            if command.title != "Quit":
                yield command
        for one in COMMANDS:
            method, given = one.call
            yield SystemCommand(one.title, one.help, partial(getattr(self.desk, method), *given))


def open_study(path: str) -> int:
    """Open a study on the screen; the exit status is returned."""
    try:
        read = read_file(FilePath(path))
    except StudyError as fault:
        print(fault, file=sys.stderr)
        return 1
    dumb = os.environ.get("TERM", "") in ("", "dumb", "unknown") and sys.platform != "win32"
    if dumb or not (sys.stdin.isatty() and sys.stdout.isatty()):
        print(
            "The screen needs a terminal that can place text; without one, whatif compare prints "
            "the answers.",
            file=sys.stderr,
        )
        return 1
    recovery = Recovery(read.path, read.fingerprint)
    _save_when_cut_off(recovery)
    app = WhatIf(Session(read), recovery, left_behind(read.path))
    app.run()
    # Textual ends with 0 after a crash; whoever called must see that it was one.
    return app.return_code or 0


def _save_when_cut_off(recovery: Recovery) -> None:
    """On a dropped line or an order to end: write what is not saved, then go at once.

    The event loop may hang in a write to a dead line, so nothing is left to it.
    """
    if sys.platform == "win32":
        return
    import termios

    # Numbers and settings of now: while the screen is on, others stand in the streams' places.
    keys, screen = sys.stdin.fileno(), sys.stdout.fileno()
    before = termios.tcgetattr(keys)

    def cut_off(number: int, _frame: FrameType | None) -> None:
        try:
            recovery.flush()
            if number == signal.SIGTERM:
                # The line may be stalled: what it does not take at once is left out.
                os.set_blocking(screen, False)
                with contextlib.suppress(OSError):
                    os.write(screen, _TERMINAL_BACK)
                os.set_blocking(screen, True)
                termios.tcsetattr(keys, termios.TCSANOW, before)
        finally:
            os._exit(128 + number)

    for number in (signal.SIGHUP, signal.SIGTERM):
        signal.signal(number, cut_off)
