"""Readings that somebody wrote down: date, machine, switched on, in cut (CSV, RFC 4180).

The hours are those that the meters show at that moment, so that two readings of a machine make one
stretch. Columns may be parted by commas, semicolons or tabs; with semicolons and tabs numbers may
have a decimal comma. A day without an hour is its begin.
"""

from __future__ import annotations

import csv
import itertools
import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import tzinfo
from typing import Final

from whatif.readings.facts import Amount, How, MachineRead, MeterRead, NoteKind, OddRead
from whatif.readings.fault import BadRow, Unreadable, UnreadKind
from whatif.readings.stamps import SECOND, typed_stamp
from whatif.records import dataclass
from whatif.units import Dimension, UnitsError, parse, with_unit_of

HEADS: Final = ("date", "machine", "switched on", "in cut")
"""Of the columns, which may stand in any order beside others."""

MOST_ROWS: Final = 200_000
_SLACK: Final = 60 * SECOND
"""By which a meter may be ahead of the clock, since an hour meter shows tenths as a rule."""


@dataclass(frozen=True, slots=True)
class RowRead:
    """A reading: the line it stands in, machine, moment, and what both meters show."""

    line: int
    machine: str
    at: int
    on: int
    cut: int

    @property
    def says(self) -> tuple[str, int, int, int]:
        """All but where it stands."""
        return self.machine, self.at, self.on, self.cut


def read_table(content: bytes, source: str, zone: tzinfo | None) -> tuple[RowRead, ...]:
    """The readings of a table, as they stand there."""
    rows = tuple(_rows(_text(content, source), source, zone))
    if not rows:
        raise Unreadable(UnreadKind.NOTHING_IN_IT, source)
    return rows


def machines_in(*tables: Iterable[RowRead]) -> tuple[MachineRead, ...]:
    """The machines of one table or several, in the order in which they first stand there.

    A reading with which one table ends and the next begins is one.
    """
    by_name: dict[str, list[RowRead]] = {}
    before: set[tuple[str, int, int, int]] = set()
    for table in tables:
        new = [row for row in table if row.says not in before]
        before |= {row.says for row in new}
        for row in new:
            by_name.setdefault(row.machine, []).append(row)
    return tuple(_machine(name, those) for name, those in by_name.items())


def _text(content: bytes, source: str) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = content[: fault.start].count(b"\n") + 1
        raise Unreadable(UnreadKind.NOT_TEXT, source, (str(line),)) from None


def _rows(text: str, source: str, zone: tzinfo | None) -> Iterator[RowRead]:
    head, _, _ = text.partition("\n")
    parted = max(",;\t", key=head.count)
    lines = csv.reader(text.splitlines(), delimiter=parted)
    bad: list[BadRow] = []
    try:
        names = [" ".join(re.split(r"[\s_]+", name.casefold().strip())) for name in next(lines, [])]
        lacking = tuple(name for name in HEADS if name not in names)
        if lacking:
            raise Unreadable(UnreadKind.NO_HEADS, source, lacking)
        places = [names.index(name) for name in HEADS]
        for texts in lines:
            if not any(text.strip() for text in texts):
                continue
            if lines.line_num > MOST_ROWS:
                raise Unreadable(UnreadKind.TOO_MANY, source, (f"{MOST_ROWS}",))
            of = [texts[place].strip() if place < len(texts) else "" for place in places]
            row = _row(lines.line_num, of, zone, parted, bad)
            if row is not None:
                yield row
    except csv.Error:
        raise Unreadable(UnreadKind.NOT_TEXT, source, (str(lines.line_num),)) from None
    if bad:
        raise Unreadable(UnreadKind.BAD_ROWS, source, rows=tuple(bad))


def _row(
    line: int, texts: Sequence[str], zone: tzinfo | None, parted: str, bad: list[BadRow]
) -> RowRead | None:
    date, machine, *hours = texts
    at = typed_stamp(date, zone)
    read = [_hours(text.replace(",", ".") if parted != "," else text) for text in hours]
    wrong = [BadRow(line, HEADS[0], date)] if at is None else []
    wrong += [] if machine else [BadRow(line, HEADS[1], machine)]
    wrong += [
        BadRow(line, head, text)
        for head, text, found in zip(HEADS[2:], hours, read, strict=True)
        if found is None
    ]
    bad += wrong
    on, cut = read
    if wrong or at is None or on is None or cut is None:
        return None
    return RowRead(line, machine, at, on, cut)


def _hours(text: str) -> int | None:
    """Hours of a meter in nanoseconds; a bare number is hours."""
    try:
        found = parse(with_unit_of(text, Dimension.TIME, ["1 h"]), Dimension.TIME).value
    except UnitsError:
        return None
    return int(found * SECOND) if found >= 0 else None


def _machine(name: str, rows: list[RowRead]) -> MachineRead:
    notes: list[OddRead] = []
    by_moment: dict[int, RowRead] = {}
    for row in sorted(rows, key=lambda row: (row.at, row.line)):
        if row.at in by_moment:
            notes.append(OddRead(NoteKind.READ_TWICE, (row.line,)))
        by_moment[row.at] = row
    in_order = list(by_moment.values())
    if len(in_order) < 2:
        return MachineRead(name, None, None, notes=(*notes, OddRead(NoteKind.READ_ONCE, (name,))))
    on: list[Amount] = []
    cut: list[Amount] = []
    for sooner, later in itertools.pairwise(in_order):
        more = later.on - sooner.on, later.cut - sooner.cut
        for much, head, amounts in zip(more, HEADS[2:], (on, cut), strict=True):
            if much < 0:
                notes.append(OddRead(NoteKind.METER_FELL, (head, later.at)))
            elif much > later.at - sooner.at + _SLACK:
                notes.append(OddRead(NoteKind.FASTER_THAN_TIME, (head, later.at)))
            if much > 0:
                amounts.append(Amount(sooner.at, later.at, much))
        if more[1] > more[0] >= 0:
            notes.append(OddRead(NoteKind.CUTS_MORE_THAN_ON, (later.at,)))
    begin, end = in_order[0].at, in_order[-1].at
    return MachineRead(
        name,
        MeterRead(How.TABLE, HEADS[2], begin, end, tuple(on)),
        MeterRead(How.TABLE, HEADS[3], begin, end, tuple(cut)),
        notes=tuple(notes),
    )
