"""The rows of a table that a spreadsheet has written as text (CSV)."""

import csv
import io
from collections import Counter
from itertools import islice
from pathlib import Path as FilePath
from typing import Final

from whatif.records import dataclass
from whatif.study.file.reading import StudyError, read_bytes
from whatif.study.refused import FileFaultKind

MOST_ROWS: Final = 5_000
"""Rows that are read; a study holds no more than some ten thousand values."""

MOST_COLUMNS: Final = 200

DELIMITERS: Final = (";", "\t", ",")
"""What may stand between two cells; of equally likely ones the first."""

_LOOKED_AT: Final = 40
"""Rows by which it is found what stands between two cells."""

_PACKED: Final = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")
"""What the files begin with in which spreadsheets keep whole workbooks."""


@dataclass(frozen=True, slots=True)
class CellTable:
    """The cells of a table as texts without blanks at their ends; row 1 is the first.

    Attributes:
        delimiter: what stands between two cells.
        encoding: "UTF-8" or "Latin-1".
    """

    rows: tuple[tuple[str, ...], ...]
    delimiter: str
    encoding: str


def read_cells(path: FilePath) -> CellTable:
    """The table in a file; raises `StudyError` where there is none that can be read."""
    try:
        content = read_bytes(path)
    except StudyError as fault:
        # What is said of a study's size is not true of a table.
        if fault.why.kind is FileFaultKind.TOO_LARGE:
            raise StudyError(FileFaultKind.TABLE_TOO_LARGE, path, fault.why.detail) from None
        raise
    return table_of(content, path)


def table_of(content: bytes, path: FilePath | None = None) -> CellTable:
    """The table that the content of a file holds; raises `StudyError`."""
    text, encoding = _decoded(content, path)
    delimiter = _delimiter(text)
    rows: list[tuple[str, ...]] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        for row in reader:
            rows.append(tuple(" ".join(cell.split()) for cell in row))
            if len(rows) > MOST_ROWS or len(row) > MOST_COLUMNS:
                most = f"{MOST_ROWS:,} rows and {MOST_COLUMNS:,} columns"
                raise StudyError(FileFaultKind.TOO_MANY_CELLS, path, most)
    except csv.Error as fault:
        detail = str(reader.line_num)
        raise StudyError(FileFaultKind.NO_CSV, path, detail, fault) from None
    if not any(map(any, rows)):
        raise StudyError(FileFaultKind.NO_ROWS, path)
    return CellTable(tuple(rows), delimiter, encoding)


def _decoded(content: bytes, path: FilePath | None) -> tuple[str, str]:
    if content.startswith(_PACKED):
        raise StudyError(FileFaultKind.WORKBOOK, path)
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise StudyError(FileFaultKind.UTF_16, path)
    if b"\0" in content:
        raise StudyError(FileFaultKind.NO_TEXT, path)
    try:
        return content.decode("utf-8-sig"), "UTF-8"
    except UnicodeDecodeError:
        return content.decode("latin-1"), "Latin-1"


def _delimiter(text: str) -> str:
    """What parts the first rows into cells most alike in number, and most of them."""
    return max(DELIMITERS, key=lambda delimiter: _likeness(text, delimiter))


def _likeness(text: str, delimiter: str) -> tuple[int, int]:
    lines = io.StringIO(text, newline="")
    counts: list[int] = []
    try:
        for row in islice(csv.reader(lines, delimiter=delimiter), _LOOKED_AT):
            if any(map(str.strip, row)):
                counts.append(len(row))
    except csv.Error:
        return (0, 0)
    several = Counter(count for count in counts if count > 1)
    if not several:
        return (0, 0)
    cells, rows = max(several.items(), key=lambda each: (each[1], each[0]))
    return rows, cells
