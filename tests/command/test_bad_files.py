"""Whatever a file holds, all that is wrong with it is told, or it is a study and behaves.

``WHATIF_FILES=500 pytest --long -n 0 -s tests/command/test_bad_files.py`` tries as many, and prints
of each its seed, sort and bytes, what became of it, and seconds of the processor. What takes time
is told and never held: what is held is how much Python a file takes for its size.
"""

from __future__ import annotations

import json
import os
import resource
import signal
import subprocess
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from bad_files import bad_file
from effort import lines_run
from lengths import is_long

from whatif.command.main import main
from whatif.study.check.check import check
from whatif.study.file.reading import LARGEST, StudyError, read_draft, read_text
from whatif.study.file.writing import to_text

FILES = int(os.environ.get("WHATIF_FILES", "40"))
QUICK = 40
SMALL = 6_000
"""Bytes of a file whose lines of Python are counted."""

SMALLEST = 700
"""Bytes of a file that is compared in the quick set too."""

LARGE = 200_000
"""Bytes of a file that is left to the long set."""

PROGRAM = "from whatif.command.entry import run; run()"
PATIENCE = 20
"""Seconds after which a comparison is stopped, which it must heed."""

MOST_MEMORY = 1_000_000_000

_outcomes: Counter[str] = Counter()


@pytest.fixture(scope="module", autouse=True)
def _told_in_the_end() -> Iterator[None]:
    yield
    print(f"\n{_outcomes.total()} files: {dict(_outcomes)}")


def harmless(text: str) -> bool:
    return all(sign.isprintable() or sign in "\r\n\t" for sign in text)


@pytest.mark.parametrize("seed", range(max(FILES, QUICK)))
@pytest.mark.long
def test_all_that_is_wrong_is_told(
    seed: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sort, content = bad_file(seed)
    if len(content) > LARGE and not is_long:
        return
    study = tmp_path / "study.toml"
    study.write_bytes(content)
    began = time.process_time()
    status = main(["check", str(study)])
    took = time.process_time() - began
    out, err = capsys.readouterr()
    assert harmless(out + err)
    assert bool(out) == (status == 0)
    assert bool(err) == (status == 1)
    told = err.splitlines()
    outcome = "read" if status == 0 else "refused" if len(told) == 1 else "problems"
    if outcome == "problems":
        main(["check", str(study), "--format", "json"])
        as_json = capsys.readouterr().out
        assert len(json.loads(as_json)["problems"]) == len(told) - 1
        assert harmless(as_json)
    if outcome == "read":
        draft = read_draft(study)
        assert read_text(to_text(draft)) == draft
        outcome = compared(study, capsys, len(content))
    _outcomes[outcome] += 1
    with capsys.disabled():
        if is_long:
            print(f"\nseed {seed}, {sort}, {len(content)} bytes: {outcome}, {took:.2f} s", end="")


def limited() -> None:
    """Of a command that is begun: bound in memory, and stopped by Ctrl-C however we were begun."""
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY,) * 2)
    signal.signal(signal.SIGINT, signal.default_int_handler)


def compared(study: Path, capsys: pytest.CaptureFixture[str], size: int) -> str:
    """What becomes of a study without problems when it is compared."""
    if not is_long:
        if size < SMALLEST:
            for form in ("text", "markdown", "csv"):
                assert main(["compare", str(study), "--format", form]) in (0, 1)
                out, err = capsys.readouterr()
                assert harmless(out + err)
                assert not any(line[:1] in "=+@" for line in out.splitlines() if form == "csv")
        return "compared"
    process = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, "compare", study],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        preexec_fn=limited,
    )
    outcome = "compared"
    try:
        out, err = process.communicate(timeout=PATIENCE)
    except subprocess.TimeoutExpired:
        process.send_signal(signal.SIGINT)
        try:
            out, err = process.communicate(timeout=PATIENCE)
        finally:
            process.kill()
        outcome = "compared at length, and stopped"
        assert (process.returncode, err) == (130, b"stopped\n")
    assert harmless((out + err).decode())
    assert process.returncode in (0, 1, 130)
    assert b"Traceback" not in err
    return outcome if process.returncode != 1 else "read, and beyond a bound"


@pytest.mark.parametrize("seed", range(QUICK))
def test_what_is_done_with_a_file_grows_with_its_size(seed: int) -> None:
    _, content = bad_file(seed)
    if len(content) > SMALL:
        return
    text = content.decode("utf-8", "replace")

    def reading_and_checking() -> None:
        try:
            checked = check(read_text(text))
        except StudyError:
            return
        list(checked.problems)
        list(checked.warnings)

    reading_and_checking()  # what is made once
    assert lines_run(reading_and_checking) < 30_000 + 60 * len(text)


def test_a_file_of_fifty_megabytes_is_not_even_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    study = tmp_path / "large.toml"
    with study.open("wb") as file:
        file.truncate(50_000_000)  # takes no room on the disk
    assert main(["check", str(study)]) == 1
    assert f"larger than {LARGEST // 1_000_000} MB" in capsys.readouterr().err
