"""A process that ends with the one that started it, whatever it is doing."""

from __future__ import annotations

import contextlib
import os
import signal
import sys
import threading
import time

_PARENT_DEATH_SIGNAL = 1
"""PR_SET_PDEATHSIG of prctl(2)."""

_OFTEN = 0.5
"""Seconds between two looks, where the system does not tell."""


def end_with(parent: int) -> None:
    """Have this process ended when its parent is gone, however that ended.

    A line that is closed tells it too, but only between two weeks, and a week may be long.
    """
    if not (sys.platform == "linux" and _is_told_by_the_system()):
        threading.Thread(target=_look_for, args=(parent,), daemon=True).start()
    # It may have gone before.
    if os.getppid() != parent:
        os._exit(0)


def _is_told_by_the_system() -> bool:
    with contextlib.suppress(ImportError, OSError, AttributeError):
        import ctypes

        library = ctypes.CDLL(None, use_errno=True)
        return bool(library.prctl(_PARENT_DEATH_SIGNAL, signal.SIGKILL, 0, 0, 0) == 0)
    return False


def _look_for(parent: int) -> None:
    while os.getppid() == parent:
        time.sleep(_OFTEN)
    os._exit(0)
