"""Why something that was asked of a study is refused, as data."""

from collections.abc import Sequence
from enum import Enum, auto
from pathlib import Path as FilePath
from typing import TypeAlias

from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.problem import Problem
from whatif.study.raw import Path
from whatif.study.resolve import resolve
from whatif.study.schema.catalogue import ANY, THINGS, closest, dotted, nearest_head, nearest_key

KEY, STUDY_KEY, SCENARIO = "key", "key for the whole study", "scenario"
FIGURE, RULE = "figure", "rule"
"""Sorts of what may not be there, beside the sorts of things."""


@dataclass(frozen=True, slots=True)
class NotThere:
    """What somebody named and is not there.

    Attributes:
        sort: `KEY`, `STUDY_KEY`, `SCENARIO`, `FIGURE`, `RULE` or a sort of thing.
        name: as it was named.
        scenario: the title of the scenario in which it was looked for, None for the whole study.
        nearest: what was most likely meant.
        known: what there is, where that is a short list.
        titles: of what is known, one by one, "" where the id says it all; empty for other sorts.
    """

    sort: str
    name: str
    scenario: str | None = None
    nearest: tuple[str, ...] = ()
    known: tuple[str, ...] = ()
    titles: tuple[str, ...] = ()


class RefusalKind(Enum):
    """Why an edit is refused; behind it what `Refusal.details` has."""

    TAKEN = auto()  # the sort of thing, the id
    NO_ID = auto()  # the text, why, what is allowed
    PLAIN_VALUE = auto()  # where it stands
    NOT_ENTERED = auto()  # the key, the scenario's title
    NOT_ENTERED_FOR_STUDY = auto()  # the key
    ENTERED_ALREADY = auto()  # the known key, the one to be renamed
    ENTERED_FOR_STUDY_ALREADY = auto()  # the same
    LAST_SCENARIO = auto()
    INHERITS_FROM_IT = auto()  # the titles of the scenario and of its new parent
    ASKED_FOR = auto()  # the order, the scenario's title, the part
    MADE_THERE_ALONE = auto()  # the part, the scenario's title, the machine
    NOT_TAKEN_OUT = auto()  # the sort of thing, the id, the scenario's title
    NO_PART_YET = auto()  # the sort of order
    NO_THING_YET = auto()  # the sort of thing, the id
    # Of a share that is typed over a value.
    NO_AMOUNT_THERE = auto()  # the share
    MORE_THAN_ALL = auto()
    LESS_THAN_ONE = auto()  # the share, the number that stands there
    # Of the hours that shifts cover.
    UNREADABLE_TIME = auto()  # why, and what can be typed
    HOURS_OUT_OF_RANGE = auto()
    NO_WHOLE_MINUTES = auto()
    NOTHING_LEFT_OF_SHIFT = auto()  # the shift, how long it is
    SHIFT_TOO_LONG = auto()  # the shift
    SHIFTS_OVERLAP = auto()  # the shift that ends last, the hours wanted
    NO_SHIFT_YET = auto()
    DAYS_DIFFER = auto()
    UNREADABLE_DAYS = auto()  # the shift
    UNREADABLE_HOURS = auto()  # the shift


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why an edit cannot be made, or a question not be answered.

    Of a question `kind` is an id that `whatif.answers.moves.inputs.Reason` lists.
    """

    kind: RefusalKind | str
    details: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NoneAllowed:
    """None of the values that were tried under a key is allowed; `problem` is that of the last."""

    key: str
    problem: Problem


@dataclass(frozen=True, slots=True)
class HasProblem:
    """The study has a problem, so that nothing can be answered."""

    problem: Problem


class FileFaultKind(Enum):
    """Why a file is not read or not written; behind it what `FileFault.detail` has."""

    # Of what stands in it.
    NO_TOML = auto()  # the text
    NESTED_TOO_DEEPLY = auto()
    UNREADABLE_NUMBER = auto()
    NUMBER_TOO_LARGE = auto()  # the key
    TOO_MANY_SCENARIOS = auto()  # how many it may have
    TOO_MANY_VALUES = auto()  # likewise
    UTF_16 = auto()
    NOT_UTF_8 = auto()  # the line
    # Of reading it.
    FOLDER_TO_READ = auto()
    NO_SUCH_FILE = auto()
    NO_PERMISSION = auto()
    NOT_READ = auto()
    TOO_LARGE = auto()  # how many MB it may have
    # Of reading a table.
    TABLE_TOO_LARGE = auto()  # likewise
    TOO_MANY_CELLS = auto()  # how many rows and columns it may have
    WORKBOOK = auto()
    NO_TEXT = auto()
    NO_CSV = auto()  # the line
    NO_ROWS = auto()
    # Of naming it.
    NO_NAME = auto()
    NO_HOME = auto()
    # Of writing it.
    FOLDER_TO_WRITE = auto()
    NO_PLACE = auto()
    NO_ORDINARY_FILE = auto()
    READ_ONLY = auto()
    NOT_SAVED = auto()
    FILE_IS_THERE = auto()
    CHANGED_BY_SOMEBODY = auto()
    # Of making it.
    STUDY_IS_THERE = auto()
    NO_FOLDER_FOR_STUDY = auto()
    TEXT_IS_THERE = auto()
    TEXT_NOT_WRITTEN = auto()


@dataclass(frozen=True, slots=True)
class FileFault:
    """What is wrong with a file; `path` is None for a text that is in none.

    `cause` is what the system, or the reader of its text, raised.
    """

    kind: FileFaultKind
    path: FilePath | None = None
    detail: str = ""
    cause: Exception | None = None


Why: TypeAlias = NotThere | Refusal | NoneAllowed | Problem | HasProblem | FileFault
"""A `Problem` is one that the edit would bring."""


class Refused(ValueError):
    """Something that cannot be done or answered; `whatif.telling.refusals` says why."""

    def __init__(self, why: Why) -> None:
        super().__init__(why)
        self.why = why


def no_scenario(draft: Draft, scenario: str) -> NotThere:
    """There is no scenario of this id, or none alone of this title."""
    near = draft.meant(scenario)
    if not near:
        titles = {each.title: each.id for each in reversed(draft.scenarios)}
        by_id, by_title = closest(scenario, draft.ids), closest(scenario, titles)
        near = (by_id,) if by_id else (titles[by_title],) if by_title else ()
    own = tuple(each.title if each.title != each.id else "" for each in draft)
    return NotThere(SCENARIO, scenario, None, near, draft.ids, own)


def no_thing(draft: Draft, scenario: str, path: Path) -> NotThere:
    """The thing at the beginning of a path is not in a scenario; `nearest` are whole paths."""
    group, id_ = path[:2]
    known = resolve(draft, scenario).ids(group)
    near = closest(id_, known)
    meant = (dotted((group, near, *path[2:])),) if near else ()
    return NotThere(group, id_, draft.scenario(scenario).title, meant, known)


def no_key(path: Path, instead: Sequence[str] = ()) -> NotThere:
    """There is no such key; `instead` are those that fit better than the nearest one."""
    near = tuple(instead) or tuple(filter(None, [nearest_key(path)]))
    if ANY in path:
        # Of all things of a sort: told by the sign that was typed.
        near = tuple(each.replace("<id>", ANY) for each in near)
        return NotThere(KEY, ".".join(path), None, near)
    return NotThere(KEY, dotted(path), None, near)


def no_study_key(name: str) -> NotThere:
    """There is no such key for the whole study."""
    return NotThere(STUDY_KEY, name, None, tuple(filter(None, [nearest_head(name)])))


def no_sort(group: str) -> NotThere:
    """There is no sort of thing of this name."""
    return NotThere("sort of thing", group, None, (), THINGS)
