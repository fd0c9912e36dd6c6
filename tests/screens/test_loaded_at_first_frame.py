"""What is loaded by the time the first frame is seen, in a process of its own.

Whatever is loaded before it keeps everybody waiting who opens the program; what a key, an answer or
a view needs is loaded with the first of them.
"""

from __future__ import annotations

import json
import os
import pty
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest
from demos import SCENARIOS
from terminal import READ_AT_ONCE

from whatif.session.kept.state import is_first_time

WATCHED = """\
import json, os, sys
from collections import Counter
from textual._compositor import Compositor
from textual.app import App
from textual.css.stylesheet import Stylesheet
from textual.drivers.linux_driver import LinuxDriver
from textual.screen import Screen
from textual.widget import Widget

text, found, *study = sys.argv[1:]
write = LinuxDriver.write
did = Counter()
styled = Counter()
files = []

def watched(self, data):
    write(self, data)
    if text in data:
        did["styled"] = max(styled.values())
        told = {"modules": list(sys.modules), "did": did, "files": files}
        with open(found, "w") as file:
            json.dump(told, file)
        os._exit(0)

def counted(kind, name, what):
    of = getattr(kind, name)
    def noted(self, *words, **more):
        what(self, *words, **more)
        return of(self, *words, **more)
    setattr(kind, name, noted)

def laid_out(screen, *_, **__):
    did[f"lays out {type(screen).__name__}"] += 1

def style(stylesheet, node, *_, **__):
    if isinstance(node, Widget) and not isinstance(node, Screen):
        styled[node] += 1

def read(stylesheet, css, *, read_from, **_):
    if read_from[0].endswith(".tcss"):
        files.append(os.path.basename(read_from[0]))

def painted(compositor, *_, **__):
    did["paints"] += 1

counted(Screen, "_refresh_layout", laid_out)
counted(Stylesheet, "apply", style)
counted(Stylesheet, "_parse_rules", read)
counted(Compositor, "render_full_update", painted)
counted(Compositor, "render_partial_update", painted)
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


@dataclass(frozen=True)
class Done:
    """What has been done when a text is first sent to the terminal.

    ``did`` counts how often a screen was laid out, the terminal was painted, and at most a widget
    was given its style; ``files`` are the style sheets that were read.
    """

    modules: set[str]
    did: Mapping[str, int]
    files: list[str]


def done(tmp_path: Path, text: str, *study: Path) -> Done:
    """Run the program until then."""
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
    told = json.loads(found.read_text("utf-8"))
    return Done(set(told["modules"]), told["did"], sorted(set(told["files"])))


def within(modules: set[str], *names: str) -> set[str]:
    """The modules of some names, and what is in them."""
    return {
        module
        for module in modules
        if any(module == name or module.startswith(f"{name}.") for name in names)
    }


@pytest.mark.long
def test_the_desk_is_seen_before_what_calculates_and_what_a_key_opens_is_loaded(
    tmp_path: Path,
) -> None:
    modules = done(tmp_path, "hours a day", SCENARIOS / "small-orders.toml").modules
    assert within(modules, *NEVER) == set()
    assert within(modules, "whatif.answers") == OF_ANSWERS
    assert within(modules, "whatif.screens.dialogs", "whatif.screens.beginning") == set()
    assert within(modules, "whatif.study.edits", "whatif.study.first") == set()
    assert within(modules, "whatif.screens.desk") - {"whatif.screens.desk"} == DESK
    views = within(modules, "whatif.screens.views")
    assert views == {f"whatif.screens.views{name}" for name in ("", ".all", ".pane")}


@pytest.mark.long
def test_the_desk_is_styled_and_painted_once_before_it_is_seen(tmp_path: Path) -> None:
    before = done(tmp_path, "hours a day", SCENARIOS / "small-orders.toml")
    assert before.files == ["whatif.tcss"]
    assert before.did["styled"] == 1
    assert before.did["paints"] == 1
    # As it is told its size, and with what is then drawn in that room.
    assert before.did["lays out Desk"] == 2


@pytest.mark.long
def test_the_start_screen_is_seen_before_a_desk_is_loaded(tmp_path: Path) -> None:
    modules = done(tmp_path, "about your shop; a first").modules
    assert within(modules, *NEVER) == set()
    assert within(modules, "whatif.answers") <= OF_ANSWERS
    assert within(modules, "whatif.screens.desk", "whatif.study.edits") == set()
    assert "whatif.screens.beginning.questions" not in modules
