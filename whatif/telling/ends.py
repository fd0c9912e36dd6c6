"""What ends a machine's night, in words for every place that tells it."""

from __future__ import annotations

from typing import Final

from whatif.cell.look import Why
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class EndWords:
    """One reason why a machine goes no further.

    Attributes:
        clause: that can stand alone.
        in_column: short enough for a column of nights.
        in_short: what then limits a scenario.
    """

    clause: str
    in_column: str
    in_short: str


END_WORDS: Final[dict[Why, EndWords]] = {
    Why.RUNS: EndWords("runs till the next shift", "", ""),
    Why.STOP: EndWords("a stop waits for a person", "a stop", "stops"),
    Why.LIMIT: EndWords("pieces may not be begun any longer", "may not begin", "hours"),
    Why.TOOLS: EndWords("the tools are worn", "worn tools", "worn tools"),
    Why.PROVE_OUT: EndWords("a load waits for its prove-out", "prove-out", "prove-outs"),
    Why.FIRST_PIECE: EndWords(
        "a first piece may be begun only with somebody there", "first piece", "first pieces"
    ),
    Why.ATTENDED_PART: EndWords("the part may not run unattended", "by day only", "day-only work"),
    Why.ATTENDED_MACHINE: EndWords(
        "the machine may not run unattended", "never alone", "day-only work"
    ),
    Why.CUT: EndWords("all that is loaded is cut", "all is cut", "pallets"),
    Why.NOT_LOADED: EndWords("not all was loaded when the people left", "not loaded", "loading"),
    Why.RELEASE: EndWords("a first piece waits for its release", "no release", "inspector"),
    Why.NO_FIXTURE: EndWords("no fixture is free", "no fixture", "fixtures"),
    Why.NO_STOCK: EndWords("the operation before has made no more", "no stock", "stock"),
    Why.NOTHING_DUE: EndWords("nothing to cut is due", "nothing due", "no orders"),
}
