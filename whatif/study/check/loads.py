"""How many loads a study may have a week cut in, told before anybody begins to count them out."""

from collections.abc import Iterator
from typing import Final

from whatif.records import dataclass
from whatif.study.check.check import Checked
from whatif.study.resolve import Resolved
from whatif.study.schema.kinds import WEEK

MOST_LOADS: Final = 10_000_000
"""Loads of a week that are simulated: two hundred machines with a load every twelve seconds."""


@dataclass(frozen=True, slots=True)
class TooManyLoads:
    """A scenario of which no week would end in an hour, with the part that loads quickest."""

    scenario: str
    loads: int
    part: str


def too_many_loads(checked: Checked) -> Iterator[TooManyLoads]:
    """The scenarios of a study without problems that may cut more than :data:`MOST_LOADS`."""
    for id_, here in checked.resolved.items():
        lasting = _lasting(here)
        if not lasting:
            continue
        machines = sum(here.value("machine", each, "count") or 0 for each in here.ids("machine"))
        seconds, part = min(lasting)
        loads = machines * WEEK // seconds
        if loads > MOST_LOADS:
            yield TooManyLoads(id_, loads, part)


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
