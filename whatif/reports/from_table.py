"""What a table of parts or orders comes to, before and after it is entered."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from whatif.reports.document import (
    AsItIs,
    Block,
    Column,
    Document,
    TextHeading,
    TextTable,
    lines_of,
)
from whatif.study.raw import Raw, thawed
from whatif.study.table.columns import NAME
from whatif.study.table.taking import TakenTable
from whatif.telling.from_table import (
    LINE_HEADS,
    all_problems,
    around_words,
    column_rows,
    grouping_words,
    line_rows,
    member_lines,
    read_as,
    table_problem,
    totals_words,
)


def table_preview(taken: TakenTable, source: str, done: Iterable[str]) -> Document:
    """What was read, what is wrong, what would be entered; `done` is what was done with it."""
    blocks: list[Block] = [
        TextHeading(f"{source}: {read_as(taken)}"),
        TextTable(
            [Column("column", at_left=True), Column("head", at_left=True),
             Column("is", at_left=True), Column("bare numbers are", at_left=True)],
            column_rows(taken),
            indent=2,
        ),
    ]  # fmt: skip
    if taken.problems:
        blocks += [TextHeading("Problems", 2), lines_of(all_problems(taken), "  ", "    ")]
    if taken.lines:
        columns = [Column(head, at_left=at < 1) for at, head in enumerate(LINE_HEADS)]
        blocks += [TextHeading("Lines", 2), TextTable(columns, line_rows(taken), indent=2)]
        blocks += [lines_of(member_lines(taken), "  ", "    ")]
    elif taken.things:
        blocks += [TextHeading("Orders", 2), _orders(taken)]
    said = [*grouping_words(taken), *totals_words(taken), *around_words(taken), *done]
    if said:
        blocks += [TextHeading("Said of it", 2), lines_of(said, "  ", "  ")]
    return Document(blocks, _data(taken), width=100)


def printed_toml(taken: TakenTable, toml: str, source: str) -> Document:
    """What a study file would have of it, to be put into one."""
    said = [f"{source}: {read_as(taken)}", *grouping_words(taken), *totals_words(taken)]
    said += [*around_words(taken), *member_lines(taken)]
    return Document([AsItIs([*(f"# {line}" for line in said), "", *toml.splitlines()])],
                    _data(taken))  # fmt: skip


_ORDER_KEYS = ("part", "pieces", "arrives", "due")


def _orders(taken: TakenTable) -> TextTable:
    rows = []
    for id_, values in taken.things:
        known = dict(values)
        rows.append((id_, *(str(known.get(key, "")) for key in _ORDER_KEYS)))
    columns = [Column(head, at_left=head != "pieces") for head in ("order", *_ORDER_KEYS)]
    return TextTable(columns, rows, indent=2)


def _data(taken: TakenTable) -> dict[str, Any]:
    """The same as plain values."""
    return {
        "format": 1,
        "sort": taken.group,
        "columns": [
            {
                "column": column.letter,
                "head": column.head,
                "key": None if not column.name else _key(column.name),
                "unit": column.unit or column.clock or taken.read.usual.get(column.words),
            }
            for column in taken.heads.columns
        ],
        "problems": [
            {
                "row": problem.row,
                "column": problem.column or None,
                "value": problem.value,
                "allowed": problem.allowed,
                "sentence": table_problem(problem),
            }
            for problem in taken.problems
        ],
        "doubtful": [
            {
                "row": each.row,
                "column": each.column,
                "value": each.value,
                "read": each.read,
            }
            for each in taken.read.doubtful
        ],
        "for_lines": [
            {"row": row, "number": number, "line": line} for row, number, line in taken.for_lines
        ],
        "left_out": list(taken.left_out),
        "alike": None if taken.alike is None else float(taken.alike),
        "weeks_per_year": None if taken.weeks is None else float(taken.weeks),
        "lines": [
            {
                "id": line.id,
                "numbers": [row.name for row in line.rows],
                "spread_seconds": {
                    name: [spread.low, spread.high] for name, spread in line.spreads.items()
                },
                "cutting_hours_a_week": [
                    float(line.cutting / 3600), float(line.line_cutting / 3600)
                ],
                "setups_a_week": [float(line.orders), float(line.line_orders)],
            }
            for line in taken.lines
        ],
        "things": {
            id_: {name: _plain(raw) for name, raw in values} for id_, values in taken.things
        },
        "removed": list(taken.removed),
        "lost": [
            {"scenario": each.title, "key": ".".join(each.path), "value": _plain(each.raw)}
            for each in taken.lost
        ],
    }  # fmt: skip


def _key(name: str) -> str:
    return "number" if name == NAME else name


def _plain(raw: Raw) -> object:
    """A value as JSON has it: numbers with decimals as such."""
    from decimal import Decimal

    return float(raw) if isinstance(raw, Decimal) else thawed(raw)
