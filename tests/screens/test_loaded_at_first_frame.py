"""What is loaded by the time the first frame is seen, in a process of its own.

Whatever is loaded before it keeps everybody waiting who opens the program; what a key, an answer or
a view needs is loaded with the first of them.
"""

from __future__ import annotations

import os
import pty
import subprocess
import sys
from pathlib import Path

from demos import SCENARIOS
from terminal import READ_AT_ONCE

from whatif.session.kept.state import is_first_time

WATCHED = """\
import os, sys
from textual.drivers.linux_driver import LinuxDriver

text, found, *study = sys.argv[1:]
write = LinuxDriver.write

def watched(self, data):
    write(self, data)
    if text in data:
        with open(found, "w") as file:
            file.write("\\n".join(sys.modules))
        os._exit(0)

LinuxDriver.write = watched
from whatif.screens.terminal import open_study
open_study(*study or [None])
"""

NEVER = (
    "pydantic",
    "pydantic_core",
    "pint",
    "numpy",
    "multiprocessing.connection",
    "tomli_w",
    "textual.widgets._text_area",
    "whatif.cell",
    "whatif.plan",
    "whatif.reports",
    "whatif.command",
)
"""Neither these nor what is in them; the calculating process, a view or saving loads them."""

OF_ANSWERS = {"whatif.answers", "whatif.answers.families", "whatif.answers.per"}
OF_ANSWERS |= {"whatif.answers.ranks"}
"""What even a desk without answers is drawn with."""

DESK = {
    "whatif.screens.desk.arrangement",
    "whatif.screens.desk.calculation",
    "whatif.screens.desk.changes",
    "whatif.screens.desk.commands",
    "whatif.screens.desk.controllers",
    "whatif.screens.desk.desk",
    "whatif.screens.desk.host",
    "whatif.screens.desk.new_things",
    "whatif.screens.desk.painting",
    "whatif.screens.desk.state",
    "whatif.screens.desk.study_file",
}
"""The other controllers come with their first command."""


def loaded(tmp_path: Path, text: str, *study: Path) -> set[str]:
    """The modules that are loaded when a text is first sent to the terminal."""
    is_first_time(tmp_path / "whatif")  # so that no hint lies over the desk
    found = tmp_path / "found"
    master, slave = pty.openpty()
    environment = {
        **os.environ,
        "TERM": "xterm-256color",
        "XDG_STATE_HOME": str(tmp_path),
        "COLUMNS": "120",
        "LINES": "32",
    }
    process = subprocess.Popen(
        [sys.executable, "-c", WATCHED, text, found, *study],
        stdin=slave,
        stdout=slave,
        stderr=slave,
        env=environment,
        start_new_session=True,
    )
    os.close(slave)
    said = b""
    try:
        while chunk := os.read(master, READ_AT_ONCE):
            said += chunk
    except OSError:
        pass  # it has gone
    finally:
        process.kill()
        process.wait()
        os.close(master)
    assert found.exists(), said.decode("utf-8", "replace")[-2000:]
    return set(found.read_text("utf-8").split())


def within(modules: set[str], *names: str) -> set[str]:
    """The modules of some names, and what is in them."""
    return {
        module
        for module in modules
        if any(module == name or module.startswith(f"{name}.") for name in names)
    }


def test_the_desk_is_seen_before_what_calculates_and_what_a_key_opens_is_loaded(
    tmp_path: Path,
) -> None:
    modules = loaded(tmp_path, "hours a day", SCENARIOS / "small-orders.toml")
    assert within(modules, *NEVER) == set()
    assert within(modules, "whatif.answers") == OF_ANSWERS
    assert within(modules, "whatif.screens.dialogs", "whatif.screens.beginning") == set()
    assert within(modules, "whatif.study.edits", "whatif.study.first") == set()
    assert within(modules, "whatif.screens.desk") - {"whatif.screens.desk"} == DESK
    views = within(modules, "whatif.screens.views")
    assert views == {f"whatif.screens.views{name}" for name in ("", ".all", ".pane")}


def test_the_start_screen_is_seen_before_a_desk_is_loaded(tmp_path: Path) -> None:
    modules = loaded(tmp_path, "about your shop; a first")
    assert within(modules, *NEVER) == set()
    assert within(modules, "whatif.answers") <= OF_ANSWERS
    assert within(modules, "whatif.screens.desk", "whatif.study.edits") == set()
    assert "whatif.screens.beginning.questions" not in modules
