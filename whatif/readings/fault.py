"""Why a document of readings is not understood, as data."""

from __future__ import annotations

from enum import Enum, auto

from whatif.records import dataclass


class UnreadKind(Enum):
    """What is wrong; behind it what `Unread.details` has."""

    NO_SUCH_FILE = auto()
    NOT_READ = auto()  # what the system says
    NOT_FETCHED = auto()  # what the network says
    TOO_SLOW = auto()  # seconds that were waited
    NO_WEB_ADDRESS = auto()  # the scheme
    ENDLESS = auto()  # an answer in parts that never ends
    TOO_LARGE = auto()  # megabytes that it may have
    TOO_DEEP = auto()  # elements within each other that there may be
    TOO_MANY = auto()  # observations, or rows, that there may be
    HAS_ENTITIES = auto()
    NO_XML = auto()  # the line, and what the parser says
    OTHER_DOCUMENT = auto()  # the name of its outermost element
    AGENT_FAULT = auto()  # what the agent says
    NOT_TEXT = auto()  # the line of a table that is no UTF-8
    NO_HEADS = auto()  # the heads that are lacking
    BAD_ROWS = auto()  # line by line: the line, the head, the text
    NOTHING_IN_IT = auto()


@dataclass(frozen=True, slots=True)
class BadRow:
    """A value of a table that cannot be read: in which line, below which head, as it stands."""

    line: int
    head: str
    text: str


class Unreadable(Exception):
    """A document that is not understood: what it is called, why, and the details of that."""

    def __init__(
        self,
        kind: UnreadKind,
        source: str,
        details: tuple[str, ...] = (),
        rows: tuple[BadRow, ...] = (),
    ) -> None:
        super().__init__(kind, source, details, rows)
        self.kind, self.source, self.details, self.rows = kind, source, details, rows
