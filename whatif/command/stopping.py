"""Ctrl-C ends a command at once: no answer is half written, and what is kept is kept whole."""

from __future__ import annotations

import os
import signal

TYPE_CHECKING = False  # as `typing` has it, which help has no other need of
if TYPE_CHECKING:
    from types import FrameType
    from typing import Final, NoReturn

INTERRUPTED: Final = 130
"""Exit status after Ctrl-C."""

_ERRORS: Final = 2
"""The number of standard error; its stream may be in the middle of writing something."""

ECHO: Final = 2
"""Cells of "^C", which a terminal shows for the key wherever it has come to by then."""


def heed_ctrl_c() -> None:
    """From here on Ctrl-C ends the program, unless whoever began it has it do nothing."""
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, _stop)


def leave_ctrl_c() -> None:
    """From here on Ctrl-C is an exception again, for those who have something to put back."""
    if signal.getsignal(signal.SIGINT) is _stop:
        signal.signal(signal.SIGINT, signal.default_int_handler)


_line = 0
"""Cells of standard error's last line that are to be wiped out."""


def has_line(cells: int) -> None:
    """So many cells of the terminal's last line are taken by what is there for the time being."""
    global _line
    _line = cells


def _stop(number: int, frame: FrameType | None) -> NoReturn:
    try:
        wiped = f"\r{' ' * (_line + ECHO)}\r" if os.isatty(_ERRORS) else ""
        os.write(_ERRORS, f"{wiped}stopped\n".encode())
    finally:
        os._exit(INTERRUPTED)
