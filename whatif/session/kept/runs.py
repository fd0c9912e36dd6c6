"""What cells have counted, kept between programs by the content of code and cell."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from dataclasses import fields
from functools import cache
from hashlib import blake2b
from typing import Any

import whatif.cell
from whatif.cell.model import Cell
from whatif.cell.tally import Tally
from whatif.session.kept.results import KeptResults


class KeptRuns:
    """Tallies of cells at borders between weeks; empty, and stays so, where none can be kept."""

    def __init__(self, results: KeptResults | None = None) -> None:
        self._results = KeptResults() if results is None else results

    def counted(self, cell: Cell) -> dict[int, Tally]:
        """What a cell has counted from its first second up to the ends of some weeks."""
        question = _question(cell)
        found = None if question is None else self._results.find(question)
        if not isinstance(found, dict):
            return {}
        tallies = {int(week): _tally(plain) for week, plain in found.items() if week.isdecimal()}
        return {week: tally for week, tally in tallies.items() if tally is not None}

    def keep(self, counted: Mapping[Cell, Mapping[int, Tally]]) -> None:
        """Keep what cells have counted, all that is known of each."""
        self._results.keep(
            {
                question: {str(week): _plain(tally) for week, tally in tallies.items()}
                for cell, tallies in counted.items()
                if (question := _question(cell)) is not None
            }
        )


_FIELDS = tuple(field.name for field in fields(Tally))


def _plain(tally: Tally) -> list[Any]:
    return [getattr(tally, name) for name in _FIELDS]


def _tally(plain: Any) -> Tally | None:
    """The tally of plain numbers; None where they are none."""
    if not isinstance(plain, list) or len(plain) != len(_FIELDS):
        return None
    return Tally(*map(_frozen, plain))


def _frozen(plain: Any) -> Any:
    return tuple(map(_frozen, plain)) if isinstance(plain, list) else plain


# -- questions -----------------------------------------------------------------------------


def _question(cell: Cell) -> bytes | None:
    """A digest of the code and the cell; None where the code cannot be read."""
    code = code_of_cells()
    return None if code is None else blake2b(repr(cell).encode(), digest_size=24, key=code).digest()


@cache
def code_of_cells() -> bytes | None:
    """A digest of all code by which a cell counts, the same for plain and compiled modules.

    None where it cannot be told: without sources, or where one has been changed after it was
    compiled.
    """
    digest = blake2b(repr(sys.version_info[:2]).encode(), digest_size=32)
    sources = 0
    try:
        for folder, inner, names in os.walk(whatif.cell.__path__[0]):
            inner[:] = sorted(set(inner) - {"__pycache__"})
            changed: dict[str, float] = {}
            for name in sorted(name for name in names if name.endswith(".py")):
                with open(os.path.join(folder, name), "rb") as source:
                    changed[_module(name)] = os.fstat(source.fileno()).st_mtime
                    digest.update(name.encode() + b"\0" + source.read())
            for name in names:
                if name.endswith((".so", ".pyd")) and _module(name) in changed:
                    compiled = os.stat(os.path.join(folder, name)).st_mtime
                    if compiled < changed[_module(name)]:
                        return None
            sources += len(changed)
    except OSError:
        return None
    return digest.digest() if sources else None


def _module(name: str) -> str:
    """The module that a file is of: "run" of "run.cpython-311-x86_64-linux-gnu.so"."""
    return name.partition(".")[0]
