"""What each command loads, in a fresh process: no more than it needs, so that it begins at once."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from small_study import ONE_SHIFT

from whatif.session.kept.results import SWITCH

ROOT = Path(__file__).parent.parent.parent
STUDY = str(ROOT / "scenarios" / "one-person.toml")
TABLE = str(ROOT / "tests" / "study" / "parts.csv")

PROGRAM = """\
import atexit, os, sys

def tell():
    print(*sorted(sys.modules), sep="\\n", file=sys.stderr, flush=True)

def told(status, end=os._exit):
    tell()
    end(status)

atexit.register(tell)
os._exit = told  # a command ends without what is to be done at exit
from whatif.command.entry import run
run()
"""

SCREEN = ("textual", "rich", "whatif.screens")
UNITS = ("pint",)
STUDIES = ("pydantic", "whatif.study", "whatif.units")
RUNS = ("multiprocessing", "sqlite3", "whatif.session", "whatif.cell.run")
ANSWERS = ("whatif.plan", "whatif.cell.model", "whatif.answers.answer", "whatif.answers.account")
BUILDING = ("pydantic", "whatif.plan.build", "whatif.answers.compare")
HEAVY = ("dataclasses", "hashlib", "json", "pathlib", "typing")
OTHERS = ("whatif.answers.moves", "whatif.answers.night", "whatif.reports.moves")

LACKS = {
    ("--help",): (*SCREEN, *UNITS, *STUDIES, *RUNS, *ANSWERS, *OTHERS, *HEAVY),
    ("compare", "--help"): (*SCREEN, *UNITS, *STUDIES, *RUNS, *ANSWERS, *OTHERS, *HEAVY),
    ("check", STUDY): (*SCREEN, *UNITS, "pydantic", *RUNS, *ANSWERS, *OTHERS, "hashlib", "difflib"),
    ("parts", "--help"): (*SCREEN, *UNITS, *STUDIES, *RUNS, *ANSWERS, *OTHERS, *HEAVY),
    ("parts", TABLE): (*SCREEN, *UNITS, "pydantic", *RUNS, *ANSWERS, *OTHERS),
    ("explain", "--rule", "states"): (
        *(*SCREEN, *UNITS, "pydantic", *RUNS, *ANSWERS, *OTHERS),
        *("hashlib", "difflib", "importlib.resources"),
    ),
}


def is_in(module: str, package: str) -> bool:
    return module == package or module.startswith(f"{package}.")


@pytest.mark.parametrize("words", LACKS, ids=" ".join)
@pytest.mark.long
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


@pytest.mark.long
def test_what_was_found_before_needs_little(tmp_path: Path) -> None:
    """Neither a study nor runs to be told again, and to be explained no study that is built."""
    study = tmp_path / "study.toml"
    study.write_text(ONE_SHIFT, "utf-8")
    at = {**os.environ, "XDG_CACHE_HOME": str(tmp_path)}
    at.pop(SWITCH, None)
    first, again, explained = (
        subprocess.run(
            [sys.executable, "-c", PROGRAM, words[0], str(study), *words[1:]],
            capture_output=True,
            text=True,
            check=True,
            env=at,
        )
        for words in (["compare"], ["compare"], ["explain", "today", "spindle_hours.total"])
    )
    assert again.stdout == first.stdout != ""
    loaded = {module for module in again.stderr.split() if is_in(module, "whatif")}
    needless = (*SCREEN, *STUDIES, *ANSWERS, *OTHERS, "whatif.cell", "whatif.reports")
    assert "whatif.session.kept.answers" in loaded
    assert not [module for module in loaded if any(is_in(module, each) for each in needless)]
    assert "spindle hours" in explained.stdout
    needless = (*SCREEN, *UNITS, *BUILDING, "multiprocessing")
    loaded = set(explained.stderr.split())
    assert not [module for module in loaded if any(is_in(module, each) for each in needless)]


@pytest.mark.long
def test_a_study_is_opened_on_the_screen_without_what_reads_options() -> None:
    program = """\
import sys
from whatif.screens import terminal
terminal.open_study = lambda study, _: print(study, "argparse" in sys.modules)
from whatif.command.entry import run
run()
"""
    told = [
        subprocess.run(
            [sys.executable, "-c", program, *words], capture_output=True, text=True, check=True
        ).stdout.split()
        for words in ((STUDY,), (), ("--", STUDY))
    ]
    assert told == [[STUDY, "False"], ["None", "False"], [STUDY, "True"]]
