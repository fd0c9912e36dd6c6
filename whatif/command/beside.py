"""``whatif report`` run beside the screen, for what is on the screen."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from pathlib import Path as FilePath
from typing import Final

from whatif.telling.paper import no_report_words, written_words

_RUN: Final = "from whatif.command.entry import run; run()"


class ReportBeside:
    """A report that another process makes, so that the keys stay live and it can be stopped.

    Args:
        study: its file.
        text: the study as it stands on the screen; None where the file holds that.
        out: where the report is to be written.
        replaces: whether it may take the place of a file.
    """

    def __init__(self, study: FilePath, text: str | None, out: FilePath, replaces: bool) -> None:
        self._out = out
        self._said: str | None = None
        words = ["report", str(study) if text is None else "-", "--out", str(out)]
        words += ["--replace"] if replaces else []
        self._process = subprocess.Popen(
            [sys.executable, "-c", _RUN, *words],
            stdin=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            # Nothing is imported from the folder that the study lies in.
            env={**os.environ, "PYTHONSAFEPATH": "1"},
        )
        content = b"" if text is None else text.encode()
        threading.Thread(target=self._wait, args=(content,), daemon=True).start()

    def _wait(self, content: bytes) -> None:
        _, told = self._process.communicate(content)
        lines = told.decode(errors="replace").splitlines()
        is_written = self._process.returncode == 0
        last = lines[-1] if lines else ""
        self._said = written_words(str(self._out)) if is_written else no_report_words(last)

    @property
    def said(self) -> str | None:
        """What has come of it, in words; None while it is at work."""
        return self._said

    def stop(self) -> None:
        """End it; the file is as it was."""
        self._process.terminate()
