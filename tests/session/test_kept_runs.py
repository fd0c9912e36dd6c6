"""Runs known from an earlier program: the same counts, and none where code or cell is another."""

from __future__ import annotations

import json
import os
import shutil
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from multiprocessing import Pipe
from pathlib import Path

import pytest
from cells import small_cell

import whatif
from whatif.answers.compare import compare_wholly
from whatif.command import simulating as simulating_module
from whatif.command.main import main
from whatif.command.simulating import simulating
from whatif.session.calculate import memory as memory_module
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.pool import Pool
from whatif.session.calculate.requests import Request
from whatif.session.calculate.serving import Server
from whatif.session.kept import runs
from whatif.session.kept.code import code_of
from whatif.session.kept.plain import NotPlain, of_plain, plain_of
from whatif.session.kept.results import SWITCH, KeptResults
from whatif.session.kept.runs import KeptRuns
from whatif.study.check.check import check
from whatif.study.file.reading import read_text

Capture = pytest.CaptureFixture[str]

STUDY = """\
format = 1
weeks = 2
warm_up = 1
runs = 3
[scenario.today]
machine.mill.count = 1
machine.mill.pallets = 2
part.body.cycle = "30 min"
part.body.weekly = 10
stop.jam = {every = "5 h", repair = "10 min"}
rush.any = {part = "body", pieces = 3}
rush.now = {part = "body", pieces = 3, arrives = "tue 08:00"}
shift.early = {days = ["mon", "tue"], start = "06:00", end = "09:00"}
[scenario.more]
parent = "today"
machine.mill.pallets = 3
"""
METERS = 'hour_meters = {in_cut = "5 h", switched_on = "100 h", gap = "people"}\n'
METERED = STUDY.replace("[scenario.more]", f"{METERS}[scenario.more]")


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
    for module in ("orders.rush", "night.watch"):
        monkeypatch.setattr(f"whatif.answers.{module}.Run", run)
    # Nor are the words told again that were printed before.
    monkeypatch.setattr("whatif.session.kept.answers.code_of", lambda *rooms: None)


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
    monkeypatch.setattr(runs, "code_of", lambda *rooms: b"other code")
    assert not kept(folder).counted(cell)
    monkeypatch.setattr(runs, "code_of", lambda *rooms: None)
    kept(folder).keep({cell: {}})
    assert not kept(folder).counted(cell)


@pytest.mark.parametrize(
    "plain", [[], {}, 3, {"1": []}, {"1": [1, 2]}, {"x": 1}, {"-1": 1}, {"1": None}]
)
def test_what_is_no_tally_is_passed_over(folder: Path, plain: object) -> None:
    question = runs._of_cell(small_cell())
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


@pytest.mark.long
def test_the_screen_begins_with_what_a_command_has_run(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # A first answer reads meters with one run alone, which no command does.
    draft = read_text(STUDY)
    with simulating() as memory:
        wanted = compare_wholly(check(draft), memory, memory.pause)
    nobody_runs(monkeypatch)
    ours, theirs = Pipe()
    with Pool() as pool:
        server = Server(theirs, pool, kept=KeptRuns())
        server._answer(Request(1, draft))
    assert server._answering is not None
    assert server._answering.known == wanted
    ours.close()
    theirs.close()


def test_the_code_is_what_decides_how_a_cell_counts(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    code_of("cell")  # before there is another folder
    copy = tmp_path / "cell"
    shutil.copytree(Path(whatif.__path__[0]) / "cell", copy)
    monkeypatch.setattr(whatif, "__path__", [str(tmp_path)])
    fresh = code_of.__wrapped__
    assert fresh("cell") == code_of("cell")
    source = copy / "fit" / "fit.py"
    text = source.read_text("utf-8")
    source.write_text(f"{text}\n", "utf-8")
    assert fresh("cell") not in (code_of("cell"), None)
    source.write_text(text, "utf-8")
    assert fresh("cell") == code_of("cell")
    # A compiled module does what its source did when it was compiled.
    compiled = copy / "run.cpython-311-x86_64-linux-gnu.so"
    compiled.write_bytes(b"")
    assert fresh("cell") == code_of("cell")
    os.utime(compiled, (0, 0))
    assert fresh("cell") is None
    assert fresh("no such room") is None


@pytest.mark.long
@pytest.mark.parametrize(
    ("words", "text"),
    [
        (["explain", "more", "spindle_hours.total"], STUDY),
        pytest.param(["explain", "more", "gain_percent.saleable"], METERED, marks=pytest.mark.long),
        (["explain", "more", "fit.body.mill"], STUDY),
        (["explain", "more"], STUDY),
        (["compare"], METERED),
        (["vary", "more", "machine.mill.pallets", "2..3"], STUDY),
    ],
    ids=["explain", "gain", "fit", "names", "compare", "vary"],
)
def test_after_compare_nothing_is_run_again(
    words: list[str],
    text: str,
    folder: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: Capture,
) -> None:
    study = tmp_path / "study.toml"
    study.write_text(text, "utf-8")
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


def test_nights_are_followed_once(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    study = tmp_path / "study.toml"
    study.write_text(STUDY, "utf-8")
    assert main(["night", str(study)]) == 0
    told = capsys.readouterr().out
    nobody_runs(monkeypatch)
    assert main(["night", str(study)]) == 0
    assert capsys.readouterr().out == told


# -- tasks ---------------------------------------------------------------------------------


class Colour(Enum):
    RED = 1


@dataclass(frozen=True)
class Inner:
    colour: Colour
    many: tuple[int, ...]


@dataclass(frozen=True)
class Outer:
    inner: Inner | None
    texts: list[str]


OF = (Outer, Inner, Colour)


@pytest.mark.parametrize(
    "value",
    [
        None,
        3,
        -0.1,
        float("inf"),
        (1, (2, (None, True))),
        {("a", 1): {"of": Fraction(-1, 3)}, "is": {}},
        [Outer(Inner(Colour.RED, (1, 2)), ["a", "is"]), Outer(None, [])],
    ],
)
def test_what_is_told_plainly_is_read_as_it_was(value: object) -> None:
    assert of_plain(json.loads(json.dumps(plain_of(value, OF))), OF) == value


@pytest.mark.parametrize("value", [{1}, Path("x"), Colour, b"bytes", Outer(None, [Path("x")])])
def test_what_is_not_plain_is_not_kept(value: object) -> None:
    with pytest.raises(NotPlain):
        plain_of(value, OF)


@pytest.mark.parametrize(
    "plain",
    [
        {},
        {"of": "Path", "is": ["x"]},
        {"of": "Inner", "is": [1]},
        {"of": "Inner", "is": "ab"},
        {"of": "Colour", "is": "BLUE"},
        {"of": "Colour", "is": []},
        {"of": ["list"], "is": []},
        {"of": "dict", "is": [1]},
        {"of": "Fraction", "is": [1, 0]},
        {"of": "Fraction", "is": ["1", 2]},
        [{"of": "list", "is": 3}],
    ],
)
def test_what_is_made_of_anything_else_is_not_read(plain: object) -> None:
    with pytest.raises(NotPlain):
        of_plain(plain, OF)
