"""The same cell with every stated time of people a little longer or shorter.

A queue of whole pieces and people is jumpy; how far a gain moves when nothing but a second
changes is its grain (rule `grain.find`).
"""

from __future__ import annotations

from dataclasses import replace

from whatif.cell.model import Cell, Making, Part


def nudged(cell: Cell, by: int) -> Cell:
    """The cell with each of people's times ``by`` seconds longer, and none below 0.

    A time of 0 stays 0: it says that there is no such work.
    """
    return replace(
        cell,
        walk=_moved(cell.walk, by),
        parts=tuple(_part(part, by) for part in cell.parts),
        stops=tuple(
            replace(stop, repair=_moved(stop.repair, by)) if stop.needs_person else stop
            for stop in cell.stops
        ),
    )


def _moved(seconds: int, by: int) -> int:
    return max(0, seconds + by) if seconds else 0


def _part(part: Part, by: int) -> Part:
    return replace(
        part,
        bench=_moved(part.bench, by),
        tool_change=_moved(part.tool_change, by),
        making=tuple(None if making is None else _making(making, by) for making in part.making),
    )


def _making(making: Making, by: int) -> Making:
    return replace(
        making,
        load=_moved(making.load, by),
        unload=_moved(making.unload, by),
        setup=_moved(making.setup, by),
        prove_out=_moved(making.prove_out, by),
    )
