"""The program on a terminal: begun where there is one, safe where the line is cut."""

from __future__ import annotations

import contextlib
import gc
import os
import signal
import sys
import threading
import time
from pathlib import Path as FilePath
from types import FrameType
from typing import TYPE_CHECKING

from whatif.session.kept.left import left_behind
from whatif.session.opened import Opened, begin_study, empty_study, open_file, why_not_new
from whatif.study.file.reading import StudyError

if TYPE_CHECKING:
    from collections.abc import Callable

    from whatif.screens.app import WhatIf
    from whatif.screens.desk.host import MakesReport

# Leave the other screen, show the cursor, end mouse and paste reports (ECMA-48, xterm).
_TERMINAL_BACK = b"\x1b[?1049l\x1b[?25h\x1b[?1000l\x1b[?1003l\x1b[?1006l\x1b[?2004l\r\n"


_SERVED = "textual.drivers.web_driver:WebDriver"
"""The driver that textual-serve asks for; it talks over pipes."""

_LOOK = 0.5
"""Seconds between two looks whether the terminal is there."""


def open_study(path: str | None, make_report: MakesReport | None = None) -> int:
    """Open a study on the screen, or the start screen; the exit status is returned.

    On a terminal a path where nothing is yet is offered to be begun.
    """
    file = None if path is None else FilePath(path)
    is_new = file is not None and _has_screen() and why_not_new(file) is None
    is_broken = False
    try:
        if file is not None and is_new and left_behind(file):
            # A session that began it was cut off: what it left is offered at once.
            opened: Opened | None = begin_study(empty_study(), file)
        else:
            opened = None if file is None or is_new else open_file(file)
    except StudyError as fault:
        from whatif.session.broken import broken_file
        from whatif.telling.harmless import harmless
        from whatif.telling.refusals import refusal_words

        opened, is_broken = None, file is not None and broken_file(file) is not None
        if not is_broken or not _has_screen():
            print(harmless(refusal_words(fault)), file=sys.stderr)
            return 1
    if not _has_screen():
        print(
            "The screen needs a terminal that can place text, for keys, output and errors alike; "
            "without one, whatif compare prints the answers.",
            file=sys.stderr,
        )
        return 1
    # What is made until the first frame stays: who looks through it for garbage finds none.
    gc.disable()
    # Imported only now: what is wrong with a file is told without a screen.
    from whatif.screens.ahead import Ahead
    from whatif.screens.app import WhatIf
    from whatif.screens.escape import read_keys_well
    from whatif.screens.tidying import Tidying

    read_keys_well()
    app = WhatIf(opened, missing=file if is_new or is_broken else None, make_report=make_report)
    if _is_served():
        _end_with(_has_server, app)
    else:
        _save_when_cut_off(app)
        _end_with(_has_terminal, app)
    app.call_after_refresh(Tidying(app).begin)
    app.call_after_refresh(Ahead(app).begin)
    app.run()
    # Textual ends with 0 after a crash; whoever called must see that it was one.
    return app.return_code or 0


def _is_served() -> bool:
    """Whether a server stands in a terminal's place, which Textual's driver for that talks with.

    The driver ends the program in order where the server asks for that, or a signal.
    """
    return os.environ.get("TEXTUAL_DRIVER") == _SERVED


def _has_screen() -> bool:
    if _is_served():
        return True
    dumb = os.environ.get("TERM", "") in ("", "dumb", "unknown") and sys.platform != "win32"
    # The screen is drawn on standard error.
    streams = (sys.stdin, sys.stdout, sys.stderr)
    return not dumb and all(each is not None and each.isatty() for each in streams)


def _has_terminal(keys: int, screen: int) -> bool:
    return os.isatty(keys) and os.isatty(screen)


def _has_server(keys: int, _screen: int) -> bool:
    """Whether the other end of the pipe that keys come by is still open."""
    import select

    ends = select.poll()
    ends.register(keys, select.POLLHUP)
    return not ends.poll(0)


def _end_with(is_there: Callable[[int, int], bool], app: WhatIf) -> None:
    """Go when the terminal has gone, which no signal need tell: a line that drops is looked for.

    Whoever started the program may have kept hangups from it, and may read its errors elsewhere.
    """
    ends = (sys.stdin.fileno(), sys.stdout.fileno())

    def look() -> None:
        while is_there(*ends):
            time.sleep(_LOOK)
        try:
            app.flush()
        finally:
            os._exit(128 + signal.SIGHUP)

    if sys.platform != "win32":
        threading.Thread(target=look, daemon=True).start()


def _save_when_cut_off(app: WhatIf) -> None:
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
            app.flush()
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
