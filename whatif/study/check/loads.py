"""How many loads and stops a week of a study may have, told before anybody simulates them."""

from collections.abc import Iterator
from typing import Final

from whatif.records import dataclass
from whatif.study.check.check import Checked
from whatif.study.resolve import Resolved
from whatif.study.schema.kinds import WEEK

MOST_LOADS: Final = 10_000_000
"""Loads of a week that are simulated: two hundred machines with a load every twelve seconds."""

MOST_STOPS: Final = MOST_LOADS
"""Stops of a week, which take as long."""


@dataclass(frozen=True, slots=True)
class TooManyLoads:
    """A scenario of which no week would end in an hour, with the part that loads quickest."""

    scenario: str
    loads: int
    part: str


@dataclass(frozen=True, slots=True)
class TooManyStops:
    """The same of stops, with the one that comes most often."""

    scenario: str
    stops: int
    stop: str


TooMuch = TooManyLoads | TooManyStops


def too_much(checked: Checked) -> Iterator[TooMuch]:
    """The scenarios of a study without problems of which a week may be beyond simulating."""
    for id_, here in checked.resolved.items():
        machines = sum(here.value("machine", each, "count") or 0 for each in here.ids("machine"))
        loads, part = _most(machines, _lasting(here))
        if loads > MOST_LOADS:
            yield TooManyLoads(id_, loads, part)
        stops, stop = _most(machines, _between(here))
        if stops > MOST_STOPS:
            yield TooManyStops(id_, stops, stop)


def _most(machines: int, each: list[tuple[int, str]]) -> tuple[int, str]:
    """How often a week the quickest of some things comes on all machines, and which that is."""
    if not each:
        return 0, ""
    seconds, of = min(each)
    return machines * WEEK // seconds, of


def _between(here: Resolved) -> list[tuple[int, str]]:
    """For how many seconds a machine runs and stands from one stop of each sort to the next."""
    found = []
    for stop in here.ids("stop"):
        every, repair = (here.value("stop", stop, key) for key in ("every", "repair"))
        if every is not None and every.seconds:
            stands = 0 if repair is None else repair.seconds
            found.append((max(1, int(every.seconds + stands)), stop))
    return found


def _lasting(here: Resolved) -> list[tuple[int, str]]:
    """For how many seconds at least a load of each part is cut."""
    found = []
    for part in here.ids("part"):
        for place in ((), *(("on", machine) for machine in here.differs_on(part))):
            cycle, pieces = (
                here.value("part", part, *place, key) or here.value("part", part, key)
                for key in ("cycle", "per_pallet")
            )
            if cycle is not None:
                pieces = pieces or 1
                found.append((max(1, int(cycle.seconds * pieces)), part))
    return found
