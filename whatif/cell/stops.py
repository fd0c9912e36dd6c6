"""Random stops: when they come, and who puts them right (rule `stops.come`)."""

from __future__ import annotations

from whatif.cell.calls import Call
from whatif.cell.codes import NOWHERE, REPAIR, REPAIRED
from whatif.cell.floor import Floor
from whatif.cell.luck import Luck
from whatif.cell.machines import Spindle
from whatif.cell.model import Cell


def luck_of(cell: Cell, machine: int) -> list[Luck]:
    """A machine's luck per kind of stop; it hangs on run, machine and kind alone (`stops.luck`)."""
    return [Luck(f"{cell.luck} {machine + 1} {stop.id}", stop.every) for stop in cell.stops]


def cut_goes_on(floor: Floor, spindle: Spindle, took: int) -> None:
    """So many seconds have been cut: stops that are due hold the machine."""
    for kind in range(len(spindle.to_stop)):
        spindle.to_stop[kind] -= took
        if spindle.to_stop[kind] == 0:
            spindle.to_stop[kind] = spindle.luck[kind].deal()
            spindle.stops.append((kind, floor.now))
            if len(spindle.stops) == 1:
                _put_right(floor, spindle)


def _put_right(floor: Floor, spindle: Spindle) -> None:
    """The first of the machine's stops is put right (rule `stops.repair`)."""
    place, arose = spindle.stops[0]
    kind = floor.cell.stops[place]
    if kind.needs_person:
        spindle.repair = Call(REPAIR, spindle.index, NOWHERE, arose)
        floor.ask(spindle.repair)
    else:
        floor.foretell(floor.now + kind.repair, REPAIRED, spindle.index)


def goes(floor: Floor, spindle: Spindle) -> None:
    """A stop has been put right; the next one, if there is one, is turned to."""
    spindle.stops.pop(0)
    if spindle.stops:
        _put_right(floor, spindle)
