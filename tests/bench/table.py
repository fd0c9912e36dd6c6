"""The bench's table: what was measured, with what it is held against."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from math import inf

FLOOR = "one text"
"""An application of Textual with one text that changes with each key, where keys are pressed."""

COLUMNS = ("before", "plain", "compiled", FLOOR)
"""An earlier checkout; this one with the plain cell, and with the compiled one; the floor."""


@dataclass(frozen=True)
class Row:
    """One line of the table.

    Attributes:
        what: the thing measured, and in what unit or as how many times what.
        values: by column; one that is missing was not measured.
        aim: in words; ``meets`` whether a value reaches it, None where there is no aim.
        of: the columns that the aim is for; by default the fastest there is.
    """

    part: str
    what: str
    values: Mapping[str, float]
    aim: str = ""
    meets: Callable[[float], bool] | None = None
    of: tuple[str, ...] = ("compiled", "plain")

    @property
    def met(self) -> str:
        """Yes, no, or nothing where there is no aim or no value."""
        held = [self.values[name] for name in self.of if name in self.values]
        return "" if self.meets is None or not held else "yes" if self.meets(held[0]) else "NO"


def at_most(most: float, unit: str = "") -> tuple[str, Callable[[float], bool]]:
    """An aim from above."""
    return f"<= {most:g}{unit}", lambda value: value <= most


def at_least(least: float, unit: str = "") -> tuple[str, Callable[[float], bool]]:
    """An aim from below."""
    return f">= {least:g}{unit}", lambda value: value >= least


@dataclass
class Table:
    """Prints its lines as they come, so that a long run can be watched."""

    rows: list[Row] = field(default_factory=list)
    _width: int = 58

    def head(self) -> None:
        """The names of the columns."""
        print(_line("", "", COLUMNS, "aim", "met"), flush=True)

    def add(self, rows: Iterable[Row]) -> None:
        """Print lines, and keep them."""
        for row in rows:
            self.rows.append(row)
            values = [_number(row.values.get(name)) for name in COLUMNS]
            print(_line(row.part, row.what, values, row.aim, row.met), flush=True)


def _line(part: str, what: str, values: Iterable[str], aim: str, met: str) -> str:
    return f"{part:9}{what:60}" + "".join(f"{value:>10}" for value in values) + f"  {aim:14}{met}"


def _number(value: float | None) -> str:
    if value is None:
        return "-"
    if value == inf:
        return "too long"
    return (
        f"{value:.0f}" if abs(value) >= 100 else f"{value:.1f}" if value >= 10 else f"{value:.2f}"
    )
