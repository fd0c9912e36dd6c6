"""Who has set up stays for the prove-out (rule `people.stays`).

He stands by while he is free and :attr:`Person.stays_by` names a pallet; what he takes then, and
what ends it, stands in :mod:`whatif.cell.people`. Here it is decided whether he does.
"""

from __future__ import annotations

from whatif.cell import spindle as machine
from whatif.cell.codes import NOWHERE
from whatif.cell.floor import Floor


def decide(floor: Floor) -> None:
    """Who came free of a setup now stands by where its load is in, or goes in at once."""
    staying = []
    for i in floor.just_free:
        person = floor.persons[i]
        if person.stays_by != NOWHERE:
            if _is_or_goes_in(floor, person.stays_by):
                staying.append(i)
            else:
                person.stays_by = NOWHERE
    floor.just_free[:] = staying


def let_go(floor: Floor) -> bool:
    """Let those go whose load did not go in after all; whether there are any.

    Somebody else may have begun to change tools there at this very instant.
    """
    some = False
    for i in floor.just_free:
        person = floor.persons[i]
        pallet = person.stays_by
        if pallet != NOWHERE and floor.spindles[floor.pallets[pallet].machine].pallet != pallet:
            person.stays_by = NOWHERE
            some = True
    floor.just_free.clear()
    return some


def _is_or_goes_in(floor: Floor, pallet: int) -> bool:
    """Whether a loaded pallet is in the spindle, on its way in, or goes in at this instant."""
    spindle = floor.spindles[floor.pallets[pallet].machine]
    if spindle.pallet != NOWHERE:
        return spindle.pallet == pallet
    return not machine.is_held_up(spindle) and machine.next_in(floor, spindle) == pallet
