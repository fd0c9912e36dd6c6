"""A build compiles the cell where it can, and where it cannot the wheel is plain and says why."""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
from pathlib import Path
from zipfile import ZipFile

import pytest
from lengths import first_of

from whatif import cell

ROOT = Path(__file__).parents[2]

if importlib.util.find_spec("hatchling") is None:
    pytest.skip("hatchling, which builds the wheel, is not here", allow_module_level=True)

hook = pytest.importorskip(
    "whatif.compile.hook", reason="an installed copy has nothing to be compiled with"
)

BUILD = "import sys; from hatchling.build import build_wheel; print(build_wheel(sys.argv[1]))"
VERSION = """
import whatif.cell.watch
from whatif.command.version import version
print(version())
print(whatif.__file__)
"""


def built(folder: Path, **env: str) -> tuple[Path, str]:
    """A wheel built in an environment of its own, and what was told meanwhile."""
    done = subprocess.run(
        [sys.executable, "-c", BUILD, folder],
        cwd=ROOT,
        env={**os.environ, "WHATIF_COMPILE": "", **env},
        check=True,
        capture_output=True,
        text=True,
    )
    return folder / done.stdout.split()[-1], done.stdout + done.stderr


def is_plain_and_works(wheel: Path) -> bool:
    """Whether a wheel is one for all machines whose copy runs a plain cell."""
    unpacked = wheel.parent / "unpacked"
    with ZipFile(wheel) as packed:
        packed.extractall(unpacked)
        (about,) = (name for name in packed.namelist() if name.endswith("/WHEEL"))
        pure = b"Root-Is-Purelib: true" in packed.read(about)
        compiled = [name for name in packed.namelist() if "/compiled/" in name]
    told = subprocess.run(
        [
            sys.executable,
            "-c",
            f"{VERSION}\nimport whatif.cell.watch, whatif\nprint(whatif.__file__)",
        ],
        cwd=unpacked,
        env={**os.environ, "PYTHONPATH": str(unpacked)},
        check=True,
        capture_output=True,
        text=True,
    ).stdout.split("\n")
    assert told[0].endswith(", plain cell")
    assert Path(told[1]).is_relative_to(unpacked)
    return pure and wheel.name.endswith("-py3-none-any.whl") and not compiled


@pytest.mark.parametrize("compiler", first_of(["/bin/false", "/nowhere/cc"]))
def test_without_a_compiler_a_wheel_is_plain_and_says_so(tmp_path: Path, compiler: str) -> None:
    wheel, told = built(tmp_path, CC=compiler)
    assert is_plain_and_works(wheel)
    assert "whatif: the cell is plain, slower and the same" in told
    assert compiler in told


def test_where_compiling_fails_a_wheel_is_plain_and_says_so(tmp_path: Path) -> None:
    broken = tmp_path / "broken" / "mypyc"
    broken.mkdir(parents=True)
    (broken / "__init__.py").write_text('raise ImportError("broken in a test")', "utf-8")
    wheel, told = built(tmp_path, PYTHONPATH=str(broken.parent))
    assert is_plain_and_works(wheel)
    assert "whatif: the cell is plain, slower and the same (" in told
    if hook._no_compiler() is None:
        assert "compiling failed: ImportError: broken in a test" in told


def test_what_takes_too_long_is_given_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(hook, "PATIENCE", 0.001)
    made = tmp_path / "made"
    assert hook._compile(ROOT, made, tmp_path / "log").startswith("compiling took longer than")
    assert not made.exists()


@pytest.mark.parametrize(
    ("asked", "editable", "plain"),
    [("", True, True), ("", False, False), ("1", True, False), ("0", False, True)],
)
def test_who_decides(
    asked: str, editable: bool, plain: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("WHATIF_COMPILE", asked)
    monkeypatch.setattr(hook, "_no_compiler", lambda: None)
    if sys.implementation.name == "cpython":
        assert (hook._why_plain(editable=editable) is not None) == plain


def test_compiled_modules_are_found_first_unless_plain_ones_are_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "fit").mkdir()
    monkeypatch.setattr(cell, "COMPILED", str(tmp_path))

    def found(*room: str) -> list[str]:
        path = ["plain"]
        cell.compiled_first(path, *room)
        return path

    monkeypatch.delenv("WHATIF_PLAIN", raising=False)
    assert found() == [str(tmp_path), "plain"]
    assert found("fit") == [str(tmp_path / "fit"), "plain"]
    assert found("elsewhere") == ["plain"]
    monkeypatch.setenv("WHATIF_PLAIN", "1")
    assert found() == found("fit") == ["plain"]
