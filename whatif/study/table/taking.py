"""A table as things of a scenario: what it says, what is wrong, and the edit that enters it."""

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Final

from whatif.records import dataclass
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import Edit, EditError, EnterThings, RemoveThing, Together
from whatif.study.edits.several import ThingValues
from whatif.study.problem import Problem
from whatif.study.refused import no_scenario
from whatif.study.resolve import Resolved, resolve
from whatif.study.table.cells import HowRead, ReadRow, RowsRead, missing_of, read_rows
from whatif.study.table.columns import (
    MONTHLY,
    NAME,
    REQUIRED,
    YEARLY,
    Heads,
    find_heads,
    label_of,
)
from whatif.study.table.grouping import ALIKE, MANY, PartLine, grouped_rows
from whatif.study.table.lost import LostValue, emptied_below, lost_below, lost_here
from whatif.study.table.members import lines_by_number
from whatif.study.table.problem import TableFault, TableProblem
from whatif.study.table.reading import CellTable
from whatif.study.table.signs import DecimalSign

WEEKS_PER_YEAR: Final = 52
"""Of a year that no study tells."""


@dataclass(frozen=True, slots=True)
class HowTaken:
    """How a table is to be taken, where it does not say so itself.

    Attributes:
        named: which column is which key, by its head; "" where it is not to be used.
        sign: the decimal sign; None where the numbers show it.
        week_1: the Monday of the first week measured, for dates.
        alike: how far the times of a line may lie apart; None where nobody said.
        is_grouped: whether numbers go into lines; None where their number decides.
        leave_out: whether rows with problems are left out on purpose.
        instead: whether the things go that are there and not in the table.
    """

    named: Mapping[str, str]
    sign: DecimalSign | None = None
    week_1: date | None = None
    alike: Fraction | None = None
    is_grouped: bool | None = None
    leave_out: bool = False
    instead: bool = False


@dataclass(frozen=True, slots=True)
class TakenTable:
    """What a table comes to.

    Attributes:
        rows: what was read; ``problems`` are all that there are, by row, those of the whole
            table first.
        left_out: numbers of rows that are left out on purpose.
        lines: of parts; empty for orders. ``alike`` is the bound that was gone by, None where
            each number has a line of its own.
        weeks: of the year that yearly amounts were divided by, None where there were none.
        is_studys: whether these are the study's.
        replaced, staying, removed: things of the scenario that get other values, stay as they
            are, or go.
        things: what would be entered.
        lost: what was entered for those that go, and the table says of none of its own; then what
            scenarios below entered for them.
        emptied: titles of scenarios below that have nothing of their own left without it.
        for_lines: of orders for a number of a line: their row, the number, and the line.
        one_number: the parts, entered or ordered, that stand for one number as nobody says more.
        named_several: of them those whose name in the table looks like several: row, name, count.
    """

    group: str
    table: CellTable
    heads: Heads
    read: RowsRead
    problems: tuple[TableProblem, ...]
    left_out: tuple[int, ...]
    lines: tuple[PartLine, ...]
    alike: Fraction | None
    weeks: Fraction | None
    is_studys: bool
    replaced: tuple[str, ...]
    staying: tuple[str, ...]
    removed: tuple[str, ...]
    things: tuple[ThingValues, ...]
    for_lines: tuple[tuple[int, str, str], ...] = ()
    lost: tuple[LostValue, ...] = ()
    emptied: tuple[str, ...] = ()
    one_number: tuple[str, ...] = ()
    named_several: tuple[tuple[int, str, int], ...] = ()

    @property
    def is_clean(self) -> bool:
        """Whether it may be entered."""
        whole = any(problem.row is None for problem in self.problems)
        return bool(self.things) and not whole and (not self.problems or bool(self.left_out))

    def edit(self, draft: Draft, scenario: str, source: str, note: str = "") -> Edit:
        """The change that enters it in a scenario, to be done at once and undone at once."""
        entering = EnterThings(scenario, self.group, self.things, note, source)
        if not self.removed:
            return entering
        # What comes after another part mostly stands behind it, and has to go first.
        removing = (RemoveThing(scenario, self.group, id_) for id_ in reversed(self.removed))
        return Together((entering, *removing), entering.says(draft))


def take_table(
    table: CellTable, group: str, how: HowTaken, draft: Draft | None = None, scenario: str = ""
) -> TakenTable:
    """What a table comes to by itself, or in a scenario of a study; raises `EditError`."""
    if draft is not None and not draft.has(scenario):
        raise EditError(no_scenario(draft, scenario))
    here = None if draft is None else resolve(draft, scenario)
    heads = find_heads(table, group, how.named)
    weeks, is_studys = _weeks(here)
    units = "inch" if draft is not None and draft.head.get("units") == "inch" else "metric"
    there = frozenset(() if here is None else here.ids(group))
    problems = list(heads.problems)
    read = RowsRead((), (), how.sign, {})
    if problems and not there:
        problems += [_not_found(group, name) for name in _no_column(heads, group, True)]
    if not problems:
        read = read_rows(table, heads, group, HowRead(how.sign, weeks, how.week_1, units))
        new = [row for row in read.rows if row.id not in there]
        lacking = _no_column(heads, group, any("after" not in row.values for row in new))
        if lacking and (new or lacking[0] == NAME):
            problems += [_not_found(group, name) for name in lacking]
        else:
            problems += read.problems
            problems += missing_of(read.rows, group, REQUIRED[group], there)
    for_lines: dict[int, tuple[str, str]] = {}
    if group == "order" and draft is not None and here is not None:
        for_lines = _for_lines(draft, here, read.rows)
        read = replace(read, rows=tuple(_for_line(row, for_lines) for row in read.rows))
    good = _without(read.rows, problems)
    if draft is not None and good:
        problems += _of_study(draft, scenario, group, good)
        good = _without(read.rows, problems)
    problems.sort(key=lambda problem: problem.row or 0)
    left_out = sorted({problem.row for problem in problems if problem.row}) if how.leave_out else []
    alike = _bound(how, good) if group == "part" else None
    lines = grouped_rows(good, alike, _named_in(here)) if group == "part" else ()
    things = (
        tuple((line.id, tuple(line.values.items())) for line in lines)
        if group == "part"
        else tuple((row.id, tuple(row.values.items())) for row in good)
    )
    entered = {id_ for id_, _ in things}
    staying = tuple(id_ for id_ in (here.in_use(group) if here else ()) if id_ not in entered)
    removed = staying if how.instead else ()
    lost: tuple[LostValue, ...] = ()
    emptied: tuple[str, ...] = ()
    if removed and draft is not None and here is not None:
        said = frozenset(name for _, values in things for name, _ in values)
        lost = lost_here(draft, here, group, removed, said) + lost_below(
            draft, scenario, group, removed
        )
        emptied = emptied_below(draft, scenario, group, removed)
    is_by_year = any(heads.of(name) for name in (YEARLY, MONTHLY))
    return TakenTable(
        group,
        table,
        heads,
        read,
        tuple(problems),
        tuple(left_out),
        lines,
        alike,
        weeks if is_by_year else None,
        is_studys,
        tuple(id_ for id_, _ in things if id_ in there),
        () if how.instead else staying,
        removed,
        things,
        tuple((row, *names) for row, names in for_lines.items()),
        lost,
        emptied,
        single := _one_number(here, group, things),
        _named_several(good, single) if group == "part" else (),
    )


def _one_number(
    here: Resolved | None, group: str, things: Sequence[ThingValues]
) -> tuple[str, ...]:
    """The parts, entered or ordered, of which neither table nor scenario says how many numbers."""
    said = {id_ for id_, values in things if group == "part" and "numbers" in dict(values)}
    named = (id_ if group == "part" else dict(values).get("part") for id_, values in things)
    parts = dict.fromkeys(id_ for id_ in named if isinstance(id_, str))
    there = frozenset(() if here is None else here.ids("part"))
    return tuple(
        id_
        for id_ in parts
        if id_ not in said
        if here is None or id_ not in there or here.origin("part", id_, "numbers").scenario is None
    )


_SEVERAL = re.compile(r"\s*(?:[,;&+\n]|\s/\s)\s*")
"""What stands between several part numbers in one cell."""


def _named_several(
    rows: Sequence[ReadRow], single: Collection[str]
) -> tuple[tuple[int, str, int], ...]:
    """Rows of parts whose name looks like a list of numbers: each of them has a digit."""
    found = []
    for row in rows:
        names = list(filter(None, _SEVERAL.split(row.name)))
        if row.id in single and names[1:] and all(any(map(str.isdigit, name)) for name in names):
            found.append((row.row, row.name, len(names)))
    return tuple(found)


def _weeks(here: Resolved | None) -> tuple[Fraction, bool]:
    """Weeks of a year: the study's, as all its figures a year have it (rule `results.day`)."""
    weeks = None if here is None else here.value("money", "weeks_per_year")
    return (Fraction(weeks), True) if weeks else (Fraction(WEEKS_PER_YEAR), False)


def _no_column(heads: Heads, group: str, is_wanted: bool) -> list[str]:
    """What no column tells and every new thing needs; ``is_wanted`` where pieces have to be."""
    names = {column.name for column in heads.columns}
    if names & {YEARLY, MONTHLY} or not is_wanted:
        names.add("weekly")
    return [name for name in REQUIRED[group] if name not in names]


def _not_found(group: str, name: str) -> TableProblem:
    return TableProblem(TableFault.NO_COLUMN, details=(label_of(group, name), name))


def _without(rows: Sequence[ReadRow], problems: Sequence[TableProblem]) -> tuple[ReadRow, ...]:
    """The rows that have no problem."""
    wrong = {problem.row for problem in problems}
    return tuple(row for row in rows if row.row not in wrong)


def _of_study(
    draft: Draft, scenario: str, group: str, rows: Sequence[ReadRow]
) -> list[TableProblem]:
    """What would be wrong in the study with the rows, each by itself, in it."""
    things = tuple((row.id, tuple(row.values.items())) for row in rows)
    before = set(check(draft).problems)
    after = EnterThings(scenario, group, things, "", "").apply(draft)
    by_id = {row.id: row for row in rows}
    return [
        _told(problem, by_id.get(problem.path[1]) if problem.path[:1] == (group,) else None)
        for problem in check(after).problems
        if problem not in before and problem.scenario == scenario
    ]


def _told(problem: Problem, row: ReadRow | None) -> TableProblem:
    column = None if row is None else row.places.get(".".join(problem.path[2:]))
    return TableProblem(
        TableFault.OF_THE_STUDY,
        None if row is None else row.row,
        "" if column is None else column.words,
        problem.value,
        of_study=problem,
    )


def _for_lines(draft: Draft, here: Resolved, rows: Sequence[ReadRow]) -> dict[int, tuple[str, str]]:
    """The orders for numbers that are no parts but stand in a line of several: number and line."""
    parts = frozenset(here.ids("part"))
    lines = lines_by_number(draft, here.scenario, parts)
    ordered = ((row.row, str(row.values.get("part", ""))) for row in rows)
    return {
        row: (number, line)
        for row, number in ordered
        if number not in parts and (line := lines.get(number.lower())) is not None
    }


def _for_line(row: ReadRow, for_lines: Mapping[int, tuple[str, str]]) -> ReadRow:
    """An order that is for the line in which its number stands."""
    if row.row not in for_lines:
        return row
    return replace(row, values={**row.values, "part": for_lines[row.row][1]})


def _bound(how: HowTaken, rows: Sequence[ReadRow]) -> Fraction | None:
    """How far the times of a line may lie apart; None where each number has its own."""
    is_wanted = how.is_grouped
    if is_wanted is None:
        is_wanted = how.alike is not None or len(rows) > MANY
    return (how.alike if how.alike is not None else ALIKE) if is_wanted else None


def _named_in(here: Resolved | None) -> frozenset[str]:
    """The parts that something in a scenario asks for by their names."""
    if here is None:
        return frozenset()
    named = [
        here.raw(group, id_, key)
        for group, key in (("order", "part"), ("rush", "part"), ("part", "after"))
        for id_ in here.ids(group)
    ]
    return frozenset(raw for raw in named if isinstance(raw, str))
