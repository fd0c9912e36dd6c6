"""What is wrong, or odd, in a study, as data: one place, one value, what is allowed."""

from enum import Enum, auto
from typing import Final

from whatif.records import dataclass
from whatif.study.raw import Path
from whatif.study.schema.catalogue import dotted


class ProblemKind(Enum):
    """What is wrong, or odd; behind it what `Problem.details` has."""

    # Of one value.
    NOT_OF_ITS_KIND = auto()  # why, in the words of its kind
    NO_FORMAT = auto()  # the format of this version
    LATER_FORMAT = auto()
    NO_TABLES = auto()  # what stands there
    NO_TABLE = auto()  # what stands there
    LIST_OF_TABLES = auto()
    UNKNOWN_KEY = auto()
    OLD_KEY = auto()  # the key that says it now, what to enter there
    BELONGS_TO_SCENARIO = auto()
    BELOW_A_VALUE = auto()  # the key of the value
    NO_ID = auto()  # the sort of thing
    # Of values together.
    MISSING = auto()
    BREAK_OUTSIDE = auto()  # the break, the shift's hours
    BREAKS_OVERLAP = auto()  # both breaks
    BREAK_PAID_AND_UNPAID = auto()  # that in breaks, that in unpaid_breaks
    MORE_THAN_SWITCHED_ON = auto()  # the hours switched on
    NO_SUCH_THING = auto()  # the sort of thing, the id
    TOO_MANY_RUSH = auto()  # how many there are
    SETS_UP_WITHOUT_LOADING = auto()
    AFTER_ITSELF = auto()
    AFTER_EACH_OTHER = auto()  # the parts of the circle
    TWO_AFTER_ONE = auto()  # the part before, the other part after it
    # Of scenarios.
    NO_SCENARIO = auto()
    NO_SUCH_SCENARIO = auto()
    OWN_PARENT = auto()
    PARENTS_IN_CIRCLE = auto()  # the scenarios of the circle
    # What is allowed, but most likely not meant.
    HAS_NO_EFFECT = auto()  # the machine, the key that holds there, its value, the scenario of it
    HAS_NO_EFFECT_FOR_A_GUESS = auto()  # the same
    SHORT_METERS = auto()
    METER_MISSING = auto()
    BEGUN_WITHOUT_COUNT = auto()
    NO_MEANING_WITH_ONE_PALLET = auto()
    YEARLY_OF_SOME_ALONE = auto()  # a machine that has yearly costs
    PALLETS_LIKE_TABLES = auto()  # the scenario above, the keys that are inherited from it
    TOO_FEW_TOOL_PLACES = auto()  # how many are needed
    DUE_BEFORE_IT_ARRIVES = auto()
    STOCK_OF_NO_USE = auto()
    NOTHING_MAKES_IT = auto()  # the part before, the part after it, how many lie in stock
    OUT_OF_THE_MIX = (
        auto()
    )  # the part before, pieces of the orders, pieces ordered of the one before
    OTHER_THAN_ABOVE = auto()  # the scenario above, then key and part of each
    EVERY_PART_KEEPS_ITS_PALLET = auto()  # pallets and tables in all, part numbers in all
    LONGER_THAN_A_DAY = auto()  # the attended hours of the busiest day


TOLD_ONCE: Final = frozenset({ProblemKind.EVERY_PART_KEEPS_ITS_PALLET})
"""What is no news below the scenario where it arises, whatever the numbers are there."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One error or warning; `whatif.telling.problems` makes a sentence of it.

    `scenario` is None for a root key; `value` is shown as the file has it, "" where the point is
    that there is none; `allowed` says in a phrase what may stand there; `nearest` is the known key
    or id that was most likely meant.
    """

    scenario: str | None
    path: Path
    value: str
    kind: ProblemKind
    details: tuple[str, ...] = ()
    allowed: str = ""
    nearest: str | None = None

    @property
    def key(self) -> str:
        """Its place in the scenario as the file has it: "machine.mill.count"."""
        return dotted(self.path)
