"""Which column of a table is which key, by its head.

The words are those of the trade for each key: our own reasoning, no source.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from whatif.records import dataclass
from whatif.study.schema.catalogue import Key, closest, key_for, keys_of
from whatif.study.table.problem import TableFault, TableProblem
from whatif.study.table.reading import CellTable
from whatif.units import Dimension, UnitsError, parse

NAME: Final = "name"
"""In the place of a key: the part number, or the order's own."""

YEARLY: Final = "yearly"
MONTHLY: Final = "monthly"
"""In the place of a key: pieces wanted in a year, or a month."""

SIDES: Final = ("length", "width", "height")
"""In the place of a key: one side of the size, each in a column of its own."""

BESIDE_KEYS: Final[Mapping[str, tuple[str, ...]]] = {
    "part": (NAME, YEARLY, MONTHLY, *SIDES),
    "order": (NAME,),
}
"""What a column may be beside a key, by the sort of thing."""

REQUIRED: Final[Mapping[str, tuple[str, ...]]] = {
    "part": (NAME, "cycle", "weekly"),
    "order": ("part", "pieces", "due"),
}
"""What a table has to tell of each thing that is not there yet."""

_WORDS: Final[Mapping[str, Mapping[str, tuple[str, ...]]]] = {
    "part": {
        NAME: (
            *("part", "part number", "part no", "part id", "number", "item", "item number"),
            *("item no", "article", "article number", "drawing", "drawing number"),
        ),
        "cycle": ("cycle time", "machining time", "run time", "time per piece", "spindle time"),
        "setup": ("set up", "setup time", "set up time", "changeover", "changeover time"),
        "batch": (
            *("order quantity", "lot", "lot size", "batch size", "order", "pieces per order"),
        ),
        "weekly": (
            *("per week", "a week", "pieces per week", "pieces a week", "demand per week"),
            *("quantity per week", "qty per week"),
        ),
        YEARLY: (
            *("yearly demand", "per year", "a year", "pieces per year", "pieces a year"),
            *("demand per year", "annual", "annual demand", "annual quantity", "yearly quantity"),
            *("quantity per year", "qty per year", "year"),
        ),
        MONTHLY: (
            *("monthly demand", "per month", "a month", "pieces per month", "pieces a month"),
            *("demand per month", "quantity per month", "qty per month"),
        ),
        "load": ("load time", "loading", "loading time"),
        "unload": ("unload time", "unloading", "unloading time"),
        "bench": ("deburring", "deburr", "bench", "bench time"),
        "prove_out": ("prove out", "prove out time", "proving"),
        "first_piece": ("first piece", "first piece wait", "release of the first piece"),
        "per_pallet": ("pieces per pallet", "per pallet", "per load", "pieces per fixture"),
        "machines": ("machine", "on machine", "on machines"),
        "size": ("dimensions", "blank size"),
        "mass": ("weight", "piece weight", "weight per piece"),
        "contribution": ("contribution margin", "margin per piece"),
        "scrap": ("scrap rate", "reject rate", "rejects"),
        "after": ("previous operation", "operation before"),
        **dict.fromkeys(SIDES, ()),
    },
    "order": {
        NAME: (
            *("order", "order number", "order no", "work order", "work order number", "job"),
            *("job number", "job no", "number"),
        ),
        "part": ("part number", "part no", "part id", "item", "item number", "article", "drawing"),
        "pieces": ("quantity", "qty", "amount", "order size", "order quantity", "pcs"),
        "arrives": ("arrival", "release", "release date", "start", "start date", "material date"),
        "due": ("due date", "delivery", "delivery date", "wanted by", "deadline"),
    },
}

HEADS_WITHIN: Final = 10
"""Filled rows among which the heads are looked for: a title or two may stand above them."""

_BRACKETS: Final = re.compile(r"[(\[{]([^)\]}]*)[)\]}]")
_CLOCKS: Final = re.compile(r"h{1,2}:m{1,2}(?:in)?(?::s{1,2})?|m{1,2}(?:in)?:s{1,2}")


@dataclass(frozen=True, slots=True)
class HeadColumn:
    """A column of a table.

    Attributes:
        place: counted from 0.
        head: as it stands there.
        name: the key below the thing ("cycle", "on.mill.cycle"), or one of `BESIDE_KEYS`; "" where
            the column is not used.
        unit: what the head says is the unit; "" where it says none.
        clock: the form of times of day that it says they have ("h:mm"); "" where it says none.
        is_named: whether somebody has said which it is.
    """

    place: int
    head: str
    name: str = ""
    unit: str = ""
    clock: str = ""
    is_named: bool = False

    @property
    def letter(self) -> str:
        """As a spreadsheet names it: "C"."""
        letters, left = "", self.place + 1
        while left:
            left, rest = divmod(left - 1, 26)
            letters = chr(ord("A") + rest) + letters
        return letters

    @property
    def words(self) -> str:
        """Its letter and its head."""
        return f"{self.letter} ({self.head})" if self.head else self.letter


@dataclass(frozen=True, slots=True)
class Heads:
    """The columns of a table; `row` is that of the heads, counted from 1."""

    row: int
    columns: tuple[HeadColumn, ...]
    problems: tuple[TableProblem, ...]

    def of(self, name: str) -> HeadColumn | None:
        """The column that is this key."""
        return next((column for column in self.columns if column.name == name), None)


def known_key(group: str, name: str) -> Key | None:
    """The key that a column may be; None where there is no such one."""
    return key_for((group, group, *name.split(".")))


def label_of(group: str, name: str) -> str:
    """What a column is, in the words of the sheet."""
    if name == NAME:
        return f"{group} number"
    if name in (YEARLY, MONTHLY):
        return f"demand per {name.removesuffix('ly')}"
    key = known_key(group, name)
    return name if key is None else key.label


def names_of(group: str) -> tuple[str, ...]:
    """All that a column may be."""
    return (*BESIDE_KEYS[group], *(key.name for key in keys_of(group) if len(key.pattern) == 3))


def find_heads(table: CellTable, group: str, named: Mapping[str, str]) -> Heads:
    """Row and columns of the heads; `named` says of heads which key each is, "" for none."""
    filled = [at for at, row in enumerate(table.rows) if any(row)][:HEADS_WITHIN]
    known = _known_words(group)
    at = max(filled, key=lambda at: (_recognised(table.rows[at], known, named), -at))
    wanted = {_tidy(head): name for head, name in named.items()}
    problems = list(_misnamed(table.rows[at], group, named))
    columns = tuple(
        _column(place, head, known, wanted) for place, head in enumerate(table.rows[at])
    )
    problems += _clashes(columns, group)
    return Heads(at + 1, columns, tuple(problems))


def _known_words(group: str) -> Mapping[str, str]:
    """Everything by which a key is known, tidied, with what it means."""
    words: dict[str, str] = {}
    for key in keys_of(group):
        if len(key.pattern) == 3:
            words[_tidy(key.label)] = words[_tidy(key.name)] = key.name
    for name, spellings in _WORDS[group].items():
        words |= {_tidy(word): name for word in (name, *spellings)}
    return words


def _tidy(head: str) -> str:
    """Small letters, without what is in brackets, and one blank between words."""
    words = _BRACKETS.sub(" ", head).replace("/", " per ").lower()
    return " ".join(re.split(r"[^\w]+|_", words)).strip()


def _recognised(row: Sequence[str], known: Mapping[str, str], named: Mapping[str, str]) -> int:
    heads = set(named)
    return sum(bool(head) and (head in heads or bool(_meant(head, known)[0])) for head in row)


def _meant(head: str, known: Mapping[str, str]) -> tuple[str, str]:
    """What a head means, and the unit in it; "" for either where there is none."""
    bracketed = _BRACKETS.search(head)
    inside = bracketed[1].strip() if bracketed else ""
    tidied = _tidy(head)
    if tidied in known:
        return known[tidied], inside
    # "Cycle, min" and "cycle min" have the unit behind the name.
    before, _, _ = tidied.rpartition(" ")
    if before in known and not inside:
        return known[before], re.split(r"[\s,;]+", head.strip())[-1]
    return "", inside


def _column(
    place: int, head: str, known: Mapping[str, str], wanted: Mapping[str, str]
) -> HeadColumn:
    name, inside = _meant(head, known)
    is_named = bool(head) and _tidy(head) in wanted
    if is_named:
        name = wanted[_tidy(head)]
    clock = inside.lower() if _CLOCKS.fullmatch(inside.lower()) else ""
    return HeadColumn(place, head, name, "" if clock else _unit(inside), clock, is_named)


def _unit(inside: str) -> str:
    """The unit that brackets hold: "min" of "min/pc."."""
    unit = re.split(r"\s*/\s*|\s+per\s+", inside)[0].strip()
    return unit if unit and any(_is_unit(unit, dimension) for dimension in Dimension) else ""


def _is_unit(text: str, dimension: Dimension) -> bool:
    try:
        parse(f"1 {text}", dimension)
    except UnitsError:
        return False
    return True


def _misnamed(row: Sequence[str], group: str, named: Mapping[str, str]) -> Iterator[TableProblem]:
    heads = {_tidy(head) for head in row if head}
    for head, name in named.items():
        if _tidy(head) not in heads:
            allowed = tuple(each for each in row if each)
            yield TableProblem(TableFault.NO_SUCH_COLUMN, details=(head, *allowed))
        if name and name not in BESIDE_KEYS[group] and known_key(group, name) is None:
            near = closest(name, names_of(group)) or ""
            yield TableProblem(TableFault.NO_SUCH_KEY, details=(name, near))


def _clashes(columns: Sequence[HeadColumn], group: str) -> Iterator[TableProblem]:
    """What two columns are at once, and what none is that has to be there."""
    for name in dict.fromkeys(column.name for column in columns if column.name):
        heads = tuple(column.words for column in columns if column.name == name)
        if len(heads) > 1:
            details = (label_of(group, name), name, *heads)
            yield TableProblem(TableFault.TWO_COLUMNS, details=details)
