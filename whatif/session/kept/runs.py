"""What cells have counted and tasks have come to, kept between programs.

It is known by the content of the code and of the question: another line of the one or another
number in the other makes it another question.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import fields
from hashlib import blake2b
from typing import Any, TypeVar

from whatif.answers.simulate import Task
from whatif.cell.model import Cell
from whatif.cell.tally import Tally
from whatif.session.kept.code import code_of
from whatif.session.kept.plain import NotPlain, of_plain, plain_of
from whatif.session.kept.results import KeptResults

R = TypeVar("R")


class KeptRuns:
    """Tallies of cells at borders between weeks, and results of tasks.

    Of tasks those that say what they are made of. Empty, and stays so, where nothing can be kept.
    """

    def __init__(self, results: KeptResults | None = None) -> None:
        self._results = KeptResults() if results is None else results

    def counted(self, cell: Cell) -> dict[int, Tally]:
        """What a cell has counted from its first second up to the ends of some weeks."""
        question = _of_cell(cell)
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
                if (question := _of_cell(cell)) is not None
            }
        )

    def result(self, task: Task[R]) -> R | None:
        """What a task has come to; None where that is not known."""
        question = _of_task(task)
        found = None if question is None else self._results.find(question)
        if found is None:
            return None
        try:
            result: R = of_plain(found, task.made_of)
        except NotPlain:
            return None
        return result

    def keep_results(self, found: Iterable[tuple[Task[Any], Any]]) -> None:
        """Keep what tasks have come to."""
        plain = {}
        for task, result in found:
            question = _of_task(task)
            if question is not None:
                with suppress(NotPlain):
                    plain[question] = plain_of(result, task.made_of)
        self._results.keep(plain)


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


def _of_cell(cell: Cell) -> bytes | None:
    """A digest of the code and the cell; None where the code cannot be read."""
    return _digest(code_of("cell"), repr(cell))


def _of_task(task: Task[Any]) -> bytes | None:
    """The same of a task; None where it is not to be kept, too."""
    if not task.made_of:
        return None
    code = code_of("cell", "plan", "answers")
    return _digest(code, f"{type(task).__qualname__} {task.key!r}")


def _digest(code: bytes | None, question: str) -> bytes | None:
    if code is None:
        return None
    return blake2b(question.encode(), digest_size=24, key=code).digest()
