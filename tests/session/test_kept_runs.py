"""Runs known from an earlier program: the same counts, and none where code or cell is another."""

from __future__ import annotations

import os
import shutil
from dataclasses import replace
from multiprocessing import Pipe
from pathlib import Path

import pytest
from cells import small_cell

import whatif.cell
from whatif.answers.compare import compare
from whatif.command import simulating as simulating_module
from whatif.command.main import main
from whatif.command.simulating import simulating
from whatif.session.calculate import memory as memory_module
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.pool import Pool
from whatif.session.calculate.requests import Request
from whatif.session.calculate.serving import Server
from whatif.session.kept import runs
from whatif.session.kept.results import SWITCH, KeptResults
from whatif.session.kept.runs import KeptRuns, code_of_cells
from whatif.study.check.check import check
from whatif.study.file.reading import read_text

STUDY = """\
format = 1
weeks = 2
warm_up = 1
runs = 3
[scenario.today]
machine.mill.count = 1
machine.mill.pallets = 2
part.body.cycle = "12 min"
part.body.weekly = 100
stop.jam = {every = "5 h", repair = "10 min"}
shift.early = {days = ["mon", "tue"], start = "06:00", end = "14:00"}
[scenario.more]
parent = "today"
machine.mill.pallets = 3
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.delenv(SWITCH)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    return tmp_path / "whatif"


def kept(folder: Path) -> KeptRuns:
    return KeptRuns(KeptResults(folder))


def nobody_runs(monkeypatch: pytest.MonkeyPatch) -> None:
    def run(cell: object) -> None:
        raise AssertionError("a cell is run")

    monkeypatch.setattr(memory_module, "Weeks", run)


def test_the_next_program_counts_the_same_and_runs_nothing(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    cells = [replace(small_cell(), luck=luck) for luck in (1, 2)]
    memory = Memory(kept=kept(folder))
    found = [memory(cell, 1, weeks) for cell in cells for weeks in (1, 2)]
    memory.keep()
    nobody_runs(monkeypatch)
    again = Memory(kept=kept(folder))
    assert [again(cell, 1, weeks) for cell in cells for weeks in (1, 2)] == found
    assert again.lacking(cells[0], (1, 2, 3, 4)) == [4]
    assert again.ran == 0


def test_more_weeks_are_run_and_kept_beside_those_known(folder: Path) -> None:
    cell = small_cell()
    first = Memory(kept=kept(folder))
    first(cell, 0, 1)
    first.keep()
    second = Memory(kept=kept(folder))
    assert second(cell, 0, 2) == Memory()(cell, 0, 2)
    second.keep()
    assert sorted(kept(folder).counted(cell)) == [0, 1, 2]


def test_another_cell_or_other_code_is_another_question(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    cell = small_cell()
    memory = Memory(kept=kept(folder))
    memory(cell, 0, 1)
    memory.keep()
    assert kept(folder).counted(cell)
    assert not kept(folder).counted(replace(cell, luck=cell.luck + 1))
    monkeypatch.setattr(runs, "code_of_cells", lambda: b"other code")
    assert not kept(folder).counted(cell)
    monkeypatch.setattr(runs, "code_of_cells", lambda: None)
    kept(folder).keep({cell: {}})
    assert not kept(folder).counted(cell)


@pytest.mark.parametrize(
    "plain", [[], {}, 3, {"1": []}, {"1": [1, 2]}, {"x": 1}, {"-1": 1}, {"1": None}]
)
def test_what_is_no_tally_is_passed_over(folder: Path, plain: object) -> None:
    question = runs._question(small_cell())
    assert question is not None
    KeptResults(folder).keep({question: plain})
    assert kept(folder).counted(small_cell()) == {}


def test_a_command_keeps_on_the_way(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One that ends all of a sudden loses seconds of work, not all."""
    monkeypatch.setattr(simulating_module, "_SECONDS_UNKEPT", 0.0)
    cells = [replace(small_cell(), luck=luck) for luck in (1, 2)]
    with simulating() as memory:
        memory(cells[0], 0, 1)
        assert not kept(folder).counted(cells[0])
        memory(cells[1], 0, 1)
        assert sorted(kept(folder).counted(cells[0])) == [0, 1]


def test_runs_are_kept_a_few_at_a_time(folder: Path) -> None:
    memory = Memory(kept=kept(folder))
    cells = [replace(small_cell(), luck=luck) for luck in (1, 2, 3)]
    for cell in cells:
        memory(cell, 0, 1)
    assert not memory.keep(2)
    assert [bool(kept(folder).counted(cell)) for cell in cells] == [True, True, False]
    assert memory.keep(2)
    assert kept(folder).counted(cells[2])


def test_the_screen_begins_with_what_a_command_has_run(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    draft = read_text(STUDY)
    with simulating() as memory:
        wanted = compare(check(draft), memory)
    nobody_runs(monkeypatch)
    ours, theirs = Pipe()
    server = Server(theirs, Pool(0), kept=KeptRuns())
    server._answer(Request(1, draft))
    found = None
    while ours.poll():
        found = ours.recv().found or found
    assert found is not None
    assert found.answers["more"].figures == wanted.answers["more"].figures


def test_the_code_is_what_decides_how_a_cell_counts(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    copy = tmp_path / "cell"
    shutil.copytree(whatif.cell.__path__[0], copy)
    monkeypatch.setattr(whatif.cell, "__path__", [str(copy)])
    fresh = code_of_cells.__wrapped__
    assert fresh() == code_of_cells()
    source = copy / "fit" / "fit.py"
    text = source.read_text("utf-8")
    source.write_text(f"{text}\n", "utf-8")
    assert fresh() not in (code_of_cells(), None)
    source.write_text(text, "utf-8")
    assert fresh() == code_of_cells()
    # A compiled module does what its source did when it was compiled.
    compiled = copy / "run.cpython-311-x86_64-linux-gnu.so"
    compiled.write_bytes(b"")
    assert fresh() == code_of_cells()
    os.utime(compiled, (0, 0))
    assert fresh() is None


@pytest.mark.parametrize(
    "words",
    [
        ["explain", "more", "spindle_hours.total"],
        ["compare"],
        ["vary", "more", "machine.mill.pallets", "2..3"],
    ],
)
def test_after_compare_nothing_is_run_again(
    words: list[str],
    folder: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    study = tmp_path / "study.toml"
    study.write_text(STUDY, "utf-8")
    asked = [words[0], str(study), *words[1:]]
    monkeypatch.setenv(SWITCH, "0")
    assert main(asked) == 0
    told = capsys.readouterr().out
    assert not folder.exists()
    monkeypatch.delenv(SWITCH)
    assert main(["compare", str(study)]) == 0
    capsys.readouterr()
    nobody_runs(monkeypatch)
    assert main(asked) == 0
    assert capsys.readouterr().out == told
