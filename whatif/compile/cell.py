"""Compiles the cell: ``python -P whatif/compile/cell.py FOLDER`` writes its modules into a folder.

The folder is one that :mod:`whatif.cell` finds its compiled modules in. Needs mypy, setuptools and
a C compiler; nothing of this is used at run time.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
CELL = Path("whatif", "cell")

WHOLE = "whatif.cell.whole"
"""What all compiled modules lie in, as one library; the others only lead to it."""

OPT_LEVEL = "1"
"""Of the C compiler: as fast a cell as with the higher ones, and a third less of its time."""

_FATAL_WARNINGS = ("-Werror", "/WX")

_TRY_IT = """
import sys
sys.path.insert(0, sys.argv[1])
import whatif.cell
whatif.cell.__path__[:] = [sys.argv[2], *whatif.cell.__path__]
from fractions import Fraction
from whatif.cell.model import Cell, MachineGroup, Making, Part, Shift
from whatif.cell.run import Run
run = Run(Cell(
    shifts=(Shift("day", (0,), 0, 28800),),
    groups=(MachineGroup("mill"),),
    parts=(Part("body", (Making(600),), Fraction(50)),),
))
run.advance(86400)
assert run.tally().cut[0] > 0
assert not sys.modules["whatif.cell.run"].__file__.endswith(".py")
"""


def sources() -> list[Path]:
    """The modules that are compiled, from the root: all of the cell, but for what finds them."""
    found = (path.relative_to(ROOT) for path in (ROOT / CELL).rglob("*.py"))
    return sorted(path for path in found if path.name != "__init__.py")


def compile_cell(into: Path) -> None:
    """Compile the cell into a folder, which is made."""
    from mypyc.build import mypycify
    from setuptools import Distribution
    from setuptools.command.build_ext import build_ext

    os.chdir(ROOT)
    with tempfile.TemporaryDirectory() as name:
        work = Path(name)
        # No settings of the project's: they say how all of it is checked.
        settings = ["--strict", "--config-file=", f"--cache-dir={work / 'checked'}"]
        extensions = mypycify(
            [*settings, *map(str, sources())],
            opt_level=OPT_LEVEL,
            debug_level="0",
            target_dir=str(work / "c"),
            group_name=WHOLE,
        )
        for extension in extensions:
            # A compiler that is newer than mypyc may warn of what it does not know.
            arguments = extension.extra_compile_args
            extension.extra_compile_args = [
                each for each in arguments if each not in _FATAL_WARNINGS
            ]
            if sys.platform == "linux":
                extension.extra_link_args = [*extension.extra_link_args, "-Wl,-s"]
        # Not `setup`, which would read the project's own pyproject.toml.
        command = build_ext(Distribution({"name": "whatif", "ext_modules": extensions}))
        command.build_lib, command.build_temp = str(work / "made"), str(work / "objects")
        command.ensure_finalized()
        command.run()
        shutil.copytree(work / "made" / CELL, into)


def try_it(into: Path) -> None:
    """Import the compiled cell in a process of its own, and let it work for a day."""
    subprocess.run([sys.executable, "-P", "-c", _TRY_IT, ROOT, into], check=True)


if __name__ == "__main__":
    folder = Path(sys.argv[1]).absolute()
    compile_cell(folder)
    try_it(folder)
