"""Where each stated time and demand stands: what the likely range draws (rule `study.head`)."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from whatif.records import dataclass
from whatif.study.raw import Path
from whatif.study.resolve import Resolved
from whatif.study.schema.catalogue import dotted, key_for
from whatif.units import Quantity


@dataclass(frozen=True, slots=True)
class Stated:
    """A time or a demand as it holds in a scenario.

    Attributes:
        value: seconds, exact and not yet rounded, or pieces a week.
        scenario: the id of the one in which it stands, "" for a default.
        key: its dotted path below that scenario: "part.body.cycle".
        is_assumed: whether nobody has said it: a default, or a guess to be measured.
    """

    value: Fraction
    scenario: str
    key: str
    is_assumed: bool


def stated(here: Resolved) -> Mapping[Path, Stated]:
    """By its path every stated time and every `weekly` that holds in a scenario.

    What may be other on one machine stands at ("part", "body", "on", "mill", "cycle") only where
    it was entered; the `weekly` of an operation before another is left out where it follows from
    that one's.
    """
    found: dict[Path, Stated] = {}
    for path in here.values:
        key = key_for(path)
        if key is None or not key.says.drawn:
            continue
        value = here.value(*path)
        if value is None:
            continue
        exact = value.value if isinstance(value, Quantity) else Fraction(value)
        origin = here.origin(*path)
        found[path] = Stated(exact, origin.scenario or "", dotted(path), origin.is_assumed)
    return found
