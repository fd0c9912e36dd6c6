"""What is wrong with a table, as data: row, column, value, what is allowed."""

from enum import Enum, auto

from whatif.records import dataclass
from whatif.study.problem import Problem


class TableFault(Enum):
    """What is wrong; behind it what `TableProblem.details` has."""

    # Of a cell.
    NOT_OF_ITS_KIND = auto()  # why, in the words of its kind
    READS_TWO_WAYS = auto()  # both readings
    DATE_READS_TWO_WAYS = auto()
    DATE_WITHOUT_WEEK = auto()
    BEFORE_WEEK_1 = auto()
    OF_THE_STUDY = auto()  # `TableProblem.of_study` has it
    # Of a row.
    MISSING = auto()  # the label of the key
    NO_NAME = auto()  # the text, where there is one
    TWICE = auto()  # the row that has it first
    SAID_TWICE = auto()  # the other column's head
    # Of the whole table.
    NO_COLUMN = auto()  # the label of the key, the key
    TWO_COLUMNS = auto()  # the label of the key, then the heads
    NO_SUCH_COLUMN = auto()  # the head that was named
    NO_SUCH_KEY = auto()  # the key that was named, the nearest known one or ""
    NO_ROWS = auto()


@dataclass(frozen=True, slots=True)
class TableProblem:
    """One thing that is wrong; `whatif.telling.from_table` makes a sentence of it.

    Attributes:
        row: as the spreadsheet counts them; None where the whole table is meant.
        column: its letter and its head; "" where the whole row is meant.
        value: what stands there.
        allowed: what may stand there.
    """

    fault: TableFault
    row: int | None = None
    column: str = ""
    value: str = ""
    details: tuple[str, ...] = ()
    allowed: str = ""
    of_study: Problem | None = None
