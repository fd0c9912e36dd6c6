"""Compiles the cell while a wheel is built, where that can be done; else the wheel is plain.

``WHATIF_COMPILE=0`` leaves it plain; ``WHATIF_COMPILE=1`` compiles an editable install too, which
is plain otherwise. Whatever goes wrong leaves the cell plain, and is told in one line.
"""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
import sysconfig
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

NEEDS = ["mypy>=2.4,<2.5", "setuptools>=77,<85"]
"""What compiles, beside a C compiler; asked for only where there is one."""

COMPILED = "whatif/cell/compiled"
"""Where :mod:`whatif.cell` looks for compiled modules."""

PATIENCE = 900
"""Seconds after which compiling is given up."""


class CompiledCell(BuildHookInterface[Any]):
    """Adds the compiled modules to a wheel."""

    _work: tempfile.TemporaryDirectory[str] | None = None

    def dependencies(self) -> list[str]:
        """What this build needs beside what every build needs."""
        # Whoever asks for what is needed does not say for what; the name of the question does.
        editable = "get_requires_for_build_editable" in sys.argv
        return NEEDS if _why_plain(editable=editable) is None else []

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Compile before the wheel is put together, where that is to be."""
        editable = version == "editable"
        beside = Path(self.root, COMPILED)
        if editable:
            # What an earlier install has compiled would run instead of what has changed since.
            shutil.rmtree(beside, ignore_errors=True)
        why = _why_plain(editable=editable)
        if why is None:
            self._work = tempfile.TemporaryDirectory()
            made = beside if editable else Path(self._work.name, "compiled")
            why = _compile(Path(self.root), made, Path(self._work.name, "log"))
            if why is None and not editable:
                build_data["force_include"][str(made)] = COMPILED
                build_data["pure_python"] = False
                build_data["infer_tag"] = True
        if why is None:
            self.app.display_info("whatif: the cell is compiled")
        else:
            self.app.display_info(f"whatif: the cell is plain, slower and the same ({why})")

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        """Throw away what the wheel has taken in."""
        if self._work is not None:
            self._work.cleanup()


def _why_plain(*, editable: bool) -> str | None:
    """Why nothing is to be compiled; None where it is to be tried."""
    asked = os.environ.get("WHATIF_COMPILE", "")
    if asked == "0":
        return "WHATIF_COMPILE=0"
    if editable and asked != "1":
        return "an editable install; WHATIF_COMPILE=1 compiles it"
    if sys.implementation.name != "cpython" or sysconfig.get_config_var("Py_GIL_DISABLED"):
        return "this Python is not one that compiled modules are made for"
    return _no_compiler()


def _no_compiler() -> str | None:
    """What is wrong with the C compiler, None if it makes an object file of Python's headers."""
    if os.name == "nt":
        programs = Path(os.environ.get("PROGRAMFILES(X86)", ""))
        finder = programs / "Microsoft Visual Studio" / "Installer" / "vswhere.exe"
        there = shutil.which("cl") or finder.exists()
        return None if there else "no C compiler"
    compiler = os.environ.get("CC") or sysconfig.get_config_var("CC") or "cc"
    with tempfile.TemporaryDirectory() as work:
        source = Path(work, "empty.c")
        source.write_text("#include <Python.h>\n", "utf-8")
        include = f"-I{sysconfig.get_path('include')}"
        made = source.with_suffix(".o")
        words = [*shlex.split(compiler), include, "-c", str(source), "-o", str(made)]
        try:
            done = subprocess.run(words, capture_output=True, check=False, timeout=PATIENCE)
        except (OSError, subprocess.TimeoutExpired):
            return f"no C compiler {compiler}"
    return f"the C compiler {compiler} does not work" if done.returncode else None


def _compile(root: Path, made: Path, log: Path) -> str | None:
    """Compile the cell into a folder; why not, where it fails, and then there is no folder."""
    script = root / "whatif" / "compile" / "cell.py"
    words = [sys.executable, "-P", str(script), str(made)]
    why = None
    with log.open("w", encoding="utf-8") as told:
        try:
            subprocess.run(
                words, stdout=told, stderr=subprocess.STDOUT, check=True, timeout=PATIENCE
            )
        except subprocess.TimeoutExpired:
            why = f"compiling took longer than {PATIENCE} s"
        except (OSError, subprocess.CalledProcessError):
            why = "compiling failed"
    if why is not None:
        shutil.rmtree(made, ignore_errors=True)
        last = [line for line in log.read_text("utf-8", "replace").splitlines() if line.strip()]
        why = f"{why}: {last[-1].strip()}" if last else why
    return why
