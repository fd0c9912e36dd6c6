"""The same cell with every stated time of people a little longer or shorter.

A queue of whole pieces and people is jumpy; how far a gain moves when nothing but a second
changes is its grain (rule `likely.range`).
"""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any, Final, TypeVar

from whatif.cell.model import Cell, Making, Part, StopKind
from whatif.study.schema.catalogue import KEYS

_PEOPLES_TIMES: Final = frozenset(key.name for key in KEYS if key.says.of_people)
"""As the catalogue calls them, and the cell too."""

_Timed = TypeVar("_Timed", Cell, Part, Making, StopKind)


def nudged(cell: Cell, by: int) -> Cell:
    """The cell with each of people's times ``by`` seconds longer, and none below 0.

    A time of 0 stays 0: it says that there is no such work.
    """
    return replace(
        _longer(cell, by),
        parts=tuple(
            replace(
                _longer(part, by),
                making=tuple(making and _longer(making, by) for making in part.making),
            )
            for part in cell.parts
        ),
        stops=tuple(_longer(stop, by) if stop.needs_person else stop for stop in cell.stops),
    )


def _longer(timed: _Timed, by: int) -> _Timed:
    """With the times that are its own moved."""
    own = (field.name for field in fields(timed) if field.name in _PEOPLES_TIMES)
    moved: dict[str, Any] = {name: _moved(getattr(timed, name), by) for name in own}
    return replace(timed, **moved)


def _moved(seconds: int, by: int) -> int:
    return max(0, seconds + by) if seconds else 0
