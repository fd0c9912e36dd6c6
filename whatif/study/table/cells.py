"""The rows of a table as values of keys, each read by what reads a typed value."""

import re
from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Final

from whatif.records import dataclass
from whatif.study.edits.starting import free_id, id_from
from whatif.study.raw import Raw
from whatif.study.schema.catalogue import Key
from whatif.study.schema.kinds import Count, Id, Ids, KindError, Lengths, Number, WeekMoment
from whatif.study.schema.kinds.quantity import usual_text
from whatif.study.table.columns import (
    MONTHLY,
    NAME,
    SIDES,
    YEARLY,
    HeadColumn,
    Heads,
    known_key,
    label_of,
)
from whatif.study.table.dates import DateUnclear, date_in, moment_of_week, order_in
from whatif.study.table.problem import TableFault, TableProblem
from whatif.study.table.reading import CellTable
from whatif.study.table.signs import (
    DecimalSign,
    ReadsTwoWays,
    has_decimals,
    may_be_thousands,
    plain_numbers,
    sign_in,
)
from whatif.units import Dimension

_FIGURES: Final = 6
"""Figures of a weekly amount that counts, where it was told by the year."""

_DAY_END: Final = "23:59"
"""When a day ends of which somebody only said the date."""

_MONTHS: Final = 12


@dataclass(frozen=True, slots=True)
class HowRead:
    """What has to be known beside the table to read its cells.

    Attributes:
        sign: the decimal sign; None where the numbers are to show it.
        weeks: of a year.
        week_1: the Monday of the first week measured; None where nobody has said it.
        units: of the study, "metric" or "inch", for lengths that have none.
    """

    sign: DecimalSign | None
    weeks: Fraction
    week_1: date | None
    units: str


@dataclass(frozen=True, slots=True)
class ReadRow:
    """What a row says of one thing.

    Attributes:
        row: as the spreadsheet counts them.
        name: as the table has it; `id` is what the study calls it.
        values: by their keys below the thing, those of cells that are empty left out.
        places: the columns that the values are from.
    """

    row: int
    name: str
    id: str
    values: Mapping[str, Raw]
    places: Mapping[str, HeadColumn]


@dataclass(frozen=True, slots=True)
class DoubtfulNumber:
    """A cell that is read with decimals, and looks like so many thousands."""

    row: int
    column: str
    value: str
    read: str


@dataclass(frozen=True, slots=True)
class RowsRead:
    """All rows with something in them, those with problems too.

    Attributes:
        sign: the decimal sign that was gone by.
        usual: of columns that have numbers without a unit, the unit that was taken.
        doubtful: what was read by the decimal sign of other numbers.
    """

    rows: tuple[ReadRow, ...]
    problems: tuple[TableProblem, ...]
    sign: DecimalSign | None
    usual: Mapping[str, str]
    doubtful: tuple[DoubtfulNumber, ...] = ()


def read_rows(table: CellTable, heads: Heads, group: str, how: HowRead) -> RowsRead:
    """The rows below the heads."""
    below = [(at + 1, row) for at, row in enumerate(table.rows) if at + 1 > heads.row and any(row)]
    reading = _Reading(group, how, heads, [row for _, row in below], table.delimiter)
    names: dict[str, int] = {}
    taken: set[str] = set()
    rows = []
    for number, cells in below:
        read = reading.row(number, cells, taken)
        if read.name and read.name in names:
            details = (str(names[read.name]),)
            reading.say(TableFault.TWICE, number, reading.name_column, read.name, details)
        names.setdefault(read.name, number)
        taken.add(read.id)
        rows.append(read)
    if not rows:
        reading.problems.append(TableProblem(TableFault.NO_ROWS))
    return RowsRead(
        tuple(rows),
        tuple(reading.problems),
        reading.sign,
        reading.usual,
        tuple(reading.doubtful),
    )


class _Reading:
    def __init__(
        self, group: str, how: HowRead, heads: Heads, rows: list[tuple[str, ...]], delimiter: str
    ) -> None:
        self.group, self.how = group, how
        self.problems: list[TableProblem] = []
        self.usual: dict[str, str] = {}
        self.doubtful: list[DoubtfulNumber] = []
        self.columns = [column for column in heads.columns if column.name]
        self.name_column = heads.of(NAME)
        cells = {
            column.place: [row[column.place] for row in rows if column.place < len(row)]
            for column in self.columns
        }
        numbers = [
            cell
            for column in self.columns
            if self._has_numbers(column.name)
            for cell in cells[column.place]
        ]
        self.sign = how.sign or sign_in(numbers)
        # Commas between the cells of a file leave the point for its decimals.
        self._with_point = self.sign or (DecimalSign.POINT if delimiter == "," else None)
        self._decimals = {place: has_decimals(those) for place, those in cells.items()}
        self._dates = {place: order_in(those) for place, those in cells.items()}

    def _has_numbers(self, name: str) -> bool:
        if name == NAME:
            return False
        key = known_key(self.group, name)
        return key is None or key.kind.numeric or isinstance(key.kind, Lengths)

    def say(
        self,
        fault: TableFault,
        row: int,
        column: HeadColumn | None,
        value: str = "",
        details: tuple[str, ...] = (),
        allowed: str = "",
    ) -> None:
        words = "" if column is None else column.words
        self.problems.append(TableProblem(fault, row, words, value, details, allowed))

    def row(self, number: int, cells: tuple[str, ...], taken: set[str]) -> ReadRow:
        name = self._cell(cells, self.name_column)
        id_ = free_id(id_from(name), taken) if id_from(name) else ""
        if not id_:
            if self.group == "order" and not name:
                id_ = free_id("order_1", taken)
            else:
                details = (name,) if name else ()
                self.say(TableFault.NO_NAME, number, self.name_column, name, details)
        values: dict[str, Raw] = {}
        places: dict[str, HeadColumn] = {}
        for column in self.columns:
            text = self._cell(cells, column)
            if not text or column.name in (NAME, *SIDES):
                continue
            name_of = "weekly" if column.name in (YEARLY, MONTHLY) else column.name
            if name_of in places:
                details = (places[name_of].words,)
                self.say(TableFault.SAID_TWICE, number, column, text, details)
                continue
            raw = self._read(number, column, name_of, text)
            places[name_of] = column
            if raw is not None:
                values[name_of] = raw
        self._size(number, cells, values, places)
        return ReadRow(number, name, id_, values, places)

    @staticmethod
    def _cell(cells: tuple[str, ...], column: HeadColumn | None) -> str:
        return cells[column.place] if column is not None and column.place < len(cells) else ""

    def _size(
        self,
        number: int,
        cells: tuple[str, ...],
        values: dict[str, Raw],
        places: dict[str, HeadColumn],
    ) -> None:
        """The size of a part whose sides have a column each."""
        sides = {column.name: column for column in self.columns if column.name in SIDES}
        texts = {name: self._cell(cells, column) for name, column in sides.items()}
        if not any(texts.values()):
            return
        first = next(iter(sides.values()))
        missing = next((side for side in SIDES if not texts.get(side)), None)
        if missing is not None:
            self.say(TableFault.MISSING, number, sides.get(missing), "", (missing,))
            return
        key = known_key(self.group, "size")
        assert key is not None  # it is a key of a part
        told: list[Raw] = []
        for side in SIDES:
            text = self._plain(number, sides[side], texts[side])
            if text is None:
                return
            raw = self._typed(key, sides[side], text)
            told += raw if isinstance(raw, tuple) else [raw]
        read = self._checked(number, first, key, tuple(told), " x ".join(texts.values()))
        if read is not None:
            values["size"], places["size"] = read, first

    def _read(self, number: int, column: HeadColumn, name: str, text: str) -> Raw | None:
        key = known_key(self.group, name)
        assert key is not None  # what is none was told of the heads
        plain: str | None = text
        if self._has_numbers(name):
            clock = _clock(text, column.clock)
            plain = clock or self._plain(number, column, text)
        if plain is None:
            return None
        if isinstance(key.kind, WeekMoment):
            plain = self._moment(number, column, name, plain)
            if plain is None:
                return None
        if isinstance(key.kind, (Id, Ids)):
            plain = ", ".join(filter(None, map(id_from, re.split(r"[,;]", plain)))) or plain
        return self._checked(number, column, key, self._typed(key, column, plain), text)

    def _plain(self, number: int, column: HeadColumn, text: str) -> str | None:
        has_point = "." in text and "," not in text
        try:
            plain = plain_numbers(text, self._with_point if has_point else self.sign)
        except ReadsTwoWays as fault:
            self.say(TableFault.READS_TWO_WAYS, number, column, text, fault.readings)
            return None
        found = None if self.how.sign is not None else self.sign
        if may_be_thousands(text, found, among_decimals=self._decimals[column.place]):
            self.doubtful.append(DoubtfulNumber(number, column.words, text, plain))
        return plain

    def _typed(self, key: Key, column: HeadColumn, text: str) -> Raw:
        """What the cell would be, were it typed over a value that has the unit of the head."""
        kind = key.kind
        if isinstance(kind, Count) and re.fullmatch(r"\d+\.0+", text):
            text = text.partition(".")[0]
        raw = kind.typed(text)
        try:
            kind.read(raw)
        except KindError:
            pass
        else:
            return raw
        if column.unit:
            return kind.typed_over(text, (f"1 {column.unit}",), self.how.units)
        if kind.dimension is Dimension.PERCENT:
            return raw  # 0.02 may be a share of one
        if kind.dimension is None and not isinstance(kind, Lengths):
            return raw
        dimension = kind.dimension or Dimension.LENGTH
        usual = usual_text(dimension, self.how.units)
        over = kind.typed_over(text, (usual,), self.how.units)
        if over != raw:
            self.usual.setdefault(column.words, usual.split()[-1])
        return over

    def _checked(
        self, number: int, column: HeadColumn, key: Key, raw: Raw, text: str
    ) -> Raw | None:
        try:
            value = key.kind.read(raw)
        except KindError as fault:
            details = (fault.why,)
            self.say(TableFault.NOT_OF_ITS_KIND, number, column, text, details, fault.allowed)
            return None
        if column.name in (YEARLY, MONTHLY) and isinstance(key.kind, Number):
            months = _MONTHS if column.name == MONTHLY else 1
            return rounded_number(value * months / self.how.weeks)
        return raw

    def _moment(self, number: int, column: HeadColumn, name: str, text: str) -> str | None:
        try:
            found = date_in(text, self._dates[column.place])
        except DateUnclear:
            self.say(TableFault.DATE_READS_TWO_WAYS, number, column, text)
            return None
        if found is None:
            return text
        if self.how.week_1 is None:
            self.say(TableFault.DATE_WITHOUT_WEEK, number, column, text)
            return None
        day, clock = found
        is_due = name == "due"
        moment = moment_of_week(day, clock or (_DAY_END if is_due else "00:00"), self.how.week_1)
        if moment is None and is_due:
            self.say(TableFault.BEFORE_WEEK_1, number, column, text)
        # What came before the first week lies there when it begins.
        return moment if moment is not None or is_due else "mon 00:00"


def _clock(text: str, form: str) -> str:
    """ "1:30" below "h:mm" as 1 h 30 min; "" where the head says no such form, or it is none."""
    found = re.fullmatch(r"(\d{1,4}):(\d{2})(?::(\d{2}))?", text)
    parts = form.count(":") + 1
    if not form or found is None or len([each for each in found.groups() if each]) != parts:
        return ""
    units = ("h", "min", "s") if form.startswith("h") else ("min", "s")
    amounts = [f"{int(each)} {unit}" for each, unit in zip(found.groups(), units, strict=False)
               if each and int(each)]  # fmt: skip
    return " ".join(amounts) or f"0 {units[0]}"


def rounded_number(value: Fraction) -> Raw:
    """A number with so many figures as count; whole where it is."""
    if value.denominator == 1:
        return int(value)
    decimals = 0
    while decimals < 12 and abs(value) * 10**decimals < 10 ** (_FIGURES - 1):
        decimals += 1
    scaled = Decimal(round(value * 10**decimals)).scaleb(-decimals)
    return (
        int(scaled) if scaled == scaled.to_integral_value() else Decimal(f"{scaled.normalize():f}")
    )


def missing_of(
    rows: tuple[ReadRow, ...], group: str, required: tuple[str, ...], there: frozenset[str]
) -> Iterator[TableProblem]:
    """What has to be told of things that are not there yet, and is not."""
    for row in rows:
        for name in required:
            if name == NAME or name in row.places or row.id in there:
                continue
            if name == "weekly" and "after" in row.values:
                continue
            yield TableProblem(TableFault.MISSING, row.row, details=(label_of(group, name),))
