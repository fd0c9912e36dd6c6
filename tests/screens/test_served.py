"""The screen behind a server that stands in a terminal's place, over pipes."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from small_study import STUDY
from terminal import LONGEST

PROGRAM = "from whatif.command.entry import run; run()"


@pytest.fixture
def served(tmp_path: Path) -> Iterator[subprocess.Popen[bytes]]:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    asked = {
        "TEXTUAL_DRIVER": "textual.drivers.web_driver:WebDriver",
        "COLUMNS": "100",
        "ROWS": "30",
        "TERM": "dumb",
        "XDG_STATE_HOME": str(tmp_path / "state"),
    }
    program = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, **asked},
    )
    yield program
    program.kill()
    program.communicate()


def read_until(served: subprocess.Popen[bytes], words: bytes) -> None:
    assert served.stdout is not None
    got, end = b"", time.monotonic() + LONGEST
    while words not in got:
        more = os.read(served.stdout.fileno(), 1 << 16)
        assert more, got[-500:]
        assert time.monotonic() < end, got[-500:]
        got += more


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="its pipes tell no end")
def test_it_is_drawn_over_pipes_and_ends_with_the_server(served: subprocess.Popen[bytes]) -> None:
    read_until(served, b"__GANGLION__")
    read_until(served, b"saleable output")
    assert served.stdin is not None
    served.stdin.close()
    served.stdin = None
    assert served.stdout is not None
    served.stdout.read()
    assert served.wait(LONGEST) == 129
