"""What each command loads, in a fresh process: no more than it needs, so that it begins at once."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
STUDY = str(ROOT / "scenarios" / "one-person.toml")

PROGRAM = """\
import atexit, sys
atexit.register(lambda: print(*sorted(sys.modules), sep="\\n", file=sys.stderr))
from whatif.command.entry import run
run()
"""

SCREEN = ("textual", "rich", "whatif.screens")
UNITS = ("pint",)
STUDIES = ("pydantic", "whatif.study", "whatif.units")
RUNS = ("multiprocessing", "sqlite3", "whatif.session", "whatif.cell.run")
ANSWERS = ("whatif.plan", "whatif.cell.model", "whatif.answers.compare", "whatif.answers.account")
OTHERS = ("whatif.answers.moves", "whatif.answers.night", "whatif.reports.moves")

LACKS = {
    ("--help",): (*SCREEN, *UNITS, *STUDIES, *RUNS, *ANSWERS, *OTHERS, "dataclasses", "json"),
    ("compare", "--help"): (*SCREEN, *UNITS, *STUDIES, *RUNS, *ANSWERS, *OTHERS, "dataclasses"),
    ("check", STUDY): (*SCREEN, *UNITS, "pydantic", *RUNS, *ANSWERS, *OTHERS),
    ("explain", "--rule", "states"): (*SCREEN, *UNITS, "pydantic", *RUNS, *ANSWERS, *OTHERS),
}


def is_in(module: str, package: str) -> bool:
    return module == package or module.startswith(f"{package}.")


@pytest.mark.parametrize("words", LACKS, ids=" ".join)
def test_a_command_loads_no_more_than_it_needs(words: tuple[str, ...]) -> None:
    told = subprocess.run(
        [sys.executable, "-c", PROGRAM, *words], capture_output=True, text=True, check=True
    )
    modules = told.stderr.split()
    assert "whatif.command.main" in modules
    needless = [
        module for module in modules if any(is_in(module, package) for package in LACKS[words])
    ]
    assert not needless
