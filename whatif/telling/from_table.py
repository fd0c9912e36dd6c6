"""What is told of a table whose parts or orders are to be entered: what it says, what is wrong."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final

from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.line_notes import lines_head, members_line
from whatif.study.schema.catalogue import key_for, label_at
from whatif.study.table.columns import HeadColumn, known_key, label_of
from whatif.study.table.grouping import PartLine
from whatif.study.table.problem import TableFault, TableProblem
from whatif.study.table.signs import DecimalSign
from whatif.study.table.taking import TakenTable
from whatif.telling.amounts import listed, rounded
from whatif.telling.problems import problem_in_short
from whatif.telling.set_up_anew import ANEW, STANDS_FOR_IT
from whatif.units import Dimension, decimal, show


@dataclass(frozen=True, slots=True)
class Ways:
    """How what a table does not say itself is said: by words of the command line, or keys."""

    column: str
    unused: str
    sign: str
    week: str
    leave_out: str
    group: str
    bound: str
    alone: str
    instead: str


BY_WORDS: Final = Ways(
    column='--column "HEAD={0}"',
    unused='--column "HEAD="',
    sign="--decimal point or --decimal comma",
    week="--week-1 2026-11-30",
    leave_out="--leave-out",
    group='--alike "20 %"',
    bound="--alike",
    alone="--no-grouping",
    instead="--instead",
)
BY_KEYS: Final = Ways(
    column="key c",
    unused="key c",
    sign="key d",
    week="key w",
    leave_out="key l",
    group="key g",
    bound="Key g",
    alone="key g too",
    instead="Key i",
)

_BETWEEN: Final[Mapping[str, str]] = {",": "commas", ";": "semicolons", "\t": "tabs"}
_SIGNS: Final[Mapping[DecimalSign | None, str]] = {
    DecimalSign.COMMA: "decimal comma",
    DecimalSign.POINT: "decimal point",
}

_FAULTS: Final[Mapping[TableFault, str]] = {
    TableFault.NOT_OF_ITS_KIND: "{0}",
    TableFault.READS_TWO_WAYS: (
        "it may be {0} or {1}, and no other number of the table shows which: {sign}"
    ),
    TableFault.DATE_READS_TWO_WAYS: (
        "day or month may come first, and no other date of the column shows which; write it as "
        "2026-12-04"
    ),
    TableFault.DATE_WITHOUT_WEEK: (
        "it is a date, and it is not known when week 1 begins; name its Monday: {week}"
    ),
    TableFault.BEFORE_WEEK_1: "it is before the Monday of week 1, from which on due dates count",
    TableFault.MISSING: "{0} is missing",
    TableFault.NO_NAME: "there is no part number",
    TableFault.TWICE: "it stands in row {0} already; one row is one part number",
    TableFault.SAID_TWICE: "column {0} says it already; empty one of the two cells",
    TableFault.NO_SUCH_KEY: "there is no key {0}",
    TableFault.NO_ROWS: "there is nothing below the heads",
}


def table_problem(problem: TableProblem, ways: Ways = BY_WORDS) -> str:
    """What is wrong, with its row, its column and what stands there."""
    place = [] if problem.row is None else [f"row {problem.row}"]
    place += [f"column {problem.column}"] if problem.column else []
    value = f', "{problem.value}"' if problem.value and problem.of_study is None else ""
    if problem.of_study is not None and problem.row is None:
        place.append(problem.of_study.key)
    at = f"{', '.join(place)}{value}: " if place else ""
    text = f"{at}{_what(problem, ways)}"
    return text[0].upper() + text[1:]


def _what(problem: TableProblem, ways: Ways) -> str:
    if problem.of_study is not None:
        return problem_in_short(problem.of_study)
    details = problem.details
    column = ways.column.format(details[1]) if len(details) > 1 else ""
    match problem.fault:
        case TableFault.NO_COLUMN:
            return f"no column is the {details[0]}; say which is: {column}."
        case TableFault.TWO_COLUMNS:
            heads = listed(list(details[2:]))
            return (
                f"{heads} are all {details[0]}; leave one: {column} for it, or {ways.unused} "
                "for the others."
            )
        case TableFault.NO_SUCH_COLUMN:
            return f'there is no column "{details[0]}"; there are: {", ".join(details[1:])}.'
        case TableFault.NO_NAME if details:
            return "it has no letter from a to z and no digit, so no short name can be made of it."
    said = _FAULTS[problem.fault].format(*details, sign=ways.sign, week=ways.week)
    allowed = f"; allowed is {problem.allowed}" if problem.allowed else ""
    meant = ""
    if problem.fault is TableFault.NO_SUCH_KEY and details[1]:
        meant = f" Did you mean {details[1]}?"
    return f"{said}{allowed}.{meant}"


def read_as(taken: TakenTable) -> str:
    """How the file was read."""
    rows = len(taken.read.rows)
    told = [f"{rows} row{'' if rows == 1 else 's'} below the heads in row {taken.heads.row}"]
    told += [f"cells between {_BETWEEN[taken.table.delimiter]}", taken.table.encoding]
    told += [_SIGNS[taken.read.sign]] if taken.read.sign in _SIGNS else []
    return ", ".join(told)


def column_rows(taken: TakenTable) -> list[tuple[str, str, str, str]]:
    """Each column: letter, head, what it is, and in which unit its bare numbers are."""
    rows = []
    for column in taken.heads.columns:
        if column.head or column.name:
            is_ = label_of(taken.group, column.name) if column.name else "not used"
            rows.append((column.letter, column.head, is_, _unit(taken, column)))
    return rows


def _unit(taken: TakenTable, column: HeadColumn) -> str:
    if not column.name:
        return ""
    if column.unit or column.clock:
        return f"{column.unit or column.clock}, from the head"
    usual = taken.read.usual.get(column.words)
    return "" if usual is None else f"{usual}, as neither head nor cell says one"


LINE_HEADS: Final = ("line", "numbers", "cycle", "setup", "order size", "pieces a week")


def line_rows(taken: TakenTable) -> Sequence[Sequence[str]]:
    """Each line of parts with what it stands for, a cell for each of `LINE_HEADS`."""
    rows = []
    for line in taken.lines:
        rows.append(
            (
                line.id,
                str(line.values.get("numbers", 1)),
                _time(line, "cycle"),
                _time(line, "setup"),
                str(line.values.get("batch", "")),
                number_words(line.pieces),
            )
        )
    return rows


def _time(line: PartLine, name: str) -> str:
    """A time of a line, and between what its numbers' lie."""
    if name not in line.values:
        return ""
    spread = line.spreads.get(name)
    text = str(line.values[name])
    if spread is None:
        return text
    low, high = (show(each, Dimension.TIME, "metric") for each in (spread.low, spread.high))
    return f"{text} ({low} to {high})"


def member_lines(taken: TakenTable) -> list[str]:
    """Which numbers each line of several stands for."""
    return [
        members_line(line.id, (row.name for row in line.rows))
        for line in taken.lines
        if len(line.rows) > 1
    ]


def grouping_words(taken: TakenTable, ways: Ways = BY_WORDS) -> list[str]:
    """How numbers went into lines, and how to have it otherwise."""
    if taken.group != "part" or not taken.lines:
        return []
    many = sum(len(line.rows) for line in taken.lines)
    if taken.alike is None:
        more = f" Numbers alike go into one with {ways.group}." if many > 1 else ""
        return [f"Each number has a line of its own.{more}"]
    percent = decimal(taken.alike * 100)
    return [
        f"{many} numbers in {len(taken.lines)} line{'s'[: len(taken.lines) - 1]}: in each the "
        f"longest time is at most {percent} % over the shortest, and all else is the same. "
        f"{ways.bound} changes the bound, {ways.alone} gives each number its own.",
        "Cycle is weighted by pieces a week, setup by orders a week; size and mass are the "
        "largest. Each order of a line of several is set up anew, while numbers in lines of "
        "their own may share a setup.",
    ]


def totals_words(taken: TakenTable) -> list[str]:
    """What all numbers come to in a week, by themselves and in their lines."""
    if not taken.lines:
        return []
    pieces = sum((line.pieces for line in taken.lines), Fraction(0))
    pairs = [
        ("cutting hours", Fraction(1, 3600), "cutting", "line_cutting", " h"),
        ("orders", Fraction(1), "orders", "line_orders", ""),
    ]
    told = [f"{number_words(pieces)} pieces"]
    for words, of, name, line_name, unit in pairs:
        alone, lined = (
            number_words(sum((getattr(line, each) * of for line in taken.lines), Fraction(0)))
            for each in (name, line_name)
        )
        differs = "" if alone == lined else f" ({lined}{unit} in lines)"
        told.append(
            f"{alone}{unit} {words}{differs}" if unit == "" else f"{alone} {words}{differs}"
        )
    return [f"In a week: {listed(told)}.", *_setting_up_words(taken)]


def _setting_up_words(taken: TakenTable) -> list[str]:
    """What setting up for each order would take, and why the model finds fewer hours of it."""
    hours = sum((line.setting_up for line in taken.lines), Fraction(0)) / 3600
    if not hours:
        return []
    # As F5 has hours, so that both tell the same number.
    return [f"{ANEW.format(n0=rounded(float(hours), 1))} F5 shows {STANDS_FOR_IT}"]


def number_words(value: Fraction) -> str:
    """A number with a digit or two, as many as it has at most."""
    digits = 0 if value >= 1000 else 1 if value >= 10 else 2
    return decimal(Fraction(round(value * 10**digits), 10**digits))


def around_words(taken: TakenTable, ways: Ways = BY_WORDS) -> list[str]:
    """What has to be known beside: weeks of the year, and what becomes of what was there."""
    said = [*_doubtful_words(taken, ways), *numbers_words(taken)]
    said += [*_unsaid_words(taken), *_for_lines_words(taken)]
    if taken.weeks is not None:
        whose = (
            "as the study's year has"
            if taken.is_studys
            else "taken, as no study says how many are worked"
        )
        said.append(f"Amounts a year are divided by {number_words(taken.weeks)} weeks, {whose}.")
    if taken.left_out:
        rows = ", ".join(map(str, taken.left_out))
        plural = "s" if len(taken.left_out) > 1 else ""
        said.append(f"Left out on purpose: row{plural} {rows}.")
    sort = f"{taken.group}s"
    if taken.replaced:
        said.append(
            f"There already, and given these values: {_some(taken.replaced)}. What the table does "
            "not say of them stays."
        )
    if taken.removed:
        said.append(f"Removed, as the table has not got them: {_some(taken.removed)}.")
        said += lost_words(taken)
    if taken.staying:
        also = f" {ways.instead} removes them." if taken.group == "part" else ""
        said.append(f"Other {sort} stay as they are: {_some(taken.staying)}.{also}")
    return said


def lost_words(taken: TakenTable) -> list[str]:
    """What goes with things that are removed: part, key and value, by the scenario that has it."""
    said = []
    if taken.lost:
        by_thing: dict[tuple[str, str], list[str]] = {}
        for value in taken.lost:
            key = key_for(value.path)
            written = "" if key is None else f" {key.kind.written(value.raw)}"
            told = by_thing.setdefault((value.title, value.path[1]), [])
            told.append(f"{label_at(value.path)}{written}")
        several = len({title for title, _ in by_thing}) > 1
        lost = [
            f"{thing}{f' in {title}' if several else ''} ({', '.join(values)})"
            for (title, thing), values in by_thing.items()
        ]
        said.append(f"Lost with them, as the table does not say it: {_some(lost)}.")
    if taken.emptied:
        said.append(f"{_emptied_words(taken)}.")
    return said


def _emptied_words(taken: TakenTable) -> str:
    """Which scenarios below bring no change any more, since all that they said was lost."""
    if len(taken.emptied) == 1:
        return (
            f"Alternative {taken.emptied[0]} then changes nothing: remove it, or enter its change "
            "anew"
        )
    return (
        f"Alternatives {listed(taken.emptied)} then change nothing: remove them, or enter their "
        "changes anew"
    )


def entered_words(taken: TakenTable, draft: Draft, scenario: str) -> str:
    """What is to be known behind a table that was entered; "" for nothing.

    ``draft`` is the study as it was before. Where gains stay as they were it says why.
    """
    also = []
    if taken.emptied:
        words = _emptied_words(taken).partition(":")[0]
        also.append(words[0].lower() + words[1:])
    elif taken.lost:
        many = len(taken.lost)
        plural = "s" if many > 1 else ""
        also.append(f"{many} value{plural} that it does not say went with the old ones")
    elif scenario == draft.reference_id and draft.descendants(scenario):
        also.append("what is based on it takes them too, so gains may stay as they are")
    if taken.one_number:
        also.append(_ONE_NUMBER)
    return "; ".join(also)


_ONE_NUMBER: Final = "one part number each: if one stands for several, enter how many"


def numbers_words(taken: TakenTable) -> list[str]:
    """How many part numbers each part stands for, which moves changeovers more than all else."""
    label = label_of("part", "numbers")
    said = []
    several = [
        f"{line.id} {line.values['numbers']}"
        for line in taken.lines
        if line.values.get("numbers", 1) != 1
    ]
    if several:
        said.append(f"Part numbers covered, as counted in the table: {_some(several)}.")
    if taken.one_number:
        begins = _ONE_NUMBER[0].upper() + _ONE_NUMBER[1:]
        said.append(
            f"{begins} ({label}), as each order of several is set up anew: "
            f"{_some(taken.one_number)}."
        )
    if taken.named_several:
        each = [f"{many} in row {row} ({name})" for row, name, many in taken.named_several]
        said.append(f"More than one number seems to be named: {_some(each)}.")
    return said


def _doubtful_words(taken: TakenTable, ways: Ways) -> list[str]:
    """Numbers that were read by the decimal sign of others, and may be thousands."""
    doubtful = taken.read.doubtful
    if not doubtful or taken.read.sign is None:
        return []
    cells = [f'"{each.value}" (row {each.row}, column {each.column})' for each in doubtful]
    return [
        f"Doubtful: read with decimals, as other numbers of the table have a "
        f"{_SIGNS[taken.read.sign]}: {_some(cells)}. Where thousands are meant, say the sign: "
        f"{ways.sign}."
    ]


_UNSAID: Final = ("batch", "setup")
"""What a part mostly has, and what is assumed without a word where a table leaves it out."""


def _unsaid_words(taken: TakenTable) -> list[str]:
    """What is assumed of new parts for which the table says nothing."""
    said = []
    new = [line for line in taken.lines if line.id not in taken.replaced]
    for name in _UNSAID:
        key = known_key("part", name)
        names = [row.name for line in new if name not in line.values for row in line.rows]
        if key is not None and key.default is not None and names:
            value = key.kind.written(key.default)
            said.append(
                f"{key.label.capitalize()} not said, so {value} is assumed: {_some(names)}."
            )
    among = "" if len(new) == len(taken.lines) else f" of {_some([line.id for line in new])}"
    return said + _in_no_column_words(new, among)


_IN_NO_COLUMN: Final = (
    *("load", "unload", "bench", "prove_out", "first_piece"),
    *("in_cut", "unattended", "scrap", "mass"),
)
"""What a table of parts seldom has a column for, and what moves the result."""


def _in_no_column_words(new: Sequence[PartLine], among: str) -> list[str]:
    """What is assumed of all new parts alike, since no column gives it; ``among`` others."""
    keys = (known_key("part", name) for name in _IN_NO_COLUMN)
    assumed = [
        f"{key.label} {key.kind.written(key.default)}"
        for key in keys
        if key is not None and key.default is not None
        if not any(key.name in line.values for line in new)
    ]
    return [f"In no column, so assumed{among}: {', '.join(assumed)}."] if new and assumed else []


def _for_lines_words(taken: TakenTable) -> list[str]:
    """Orders for numbers of a line of several."""
    if not taken.for_lines:
        return []
    each = [f"{number} (row {row}) of {line}" for row, number, line in taken.for_lines]
    return [
        f"Ordered by a number that stands in a line of several, and entered for that line, whose "
        f"cycle and setup hold: {_some(each)}."
    ]


_NAMED: Final = 12
"""Things that are named one by one."""


def _some(names: Sequence[str]) -> str:
    more = len(names) - _NAMED
    return ", ".join(names[:_NAMED]) + (f" and {more} more" if more > 0 else "")


_LONGEST_NOTE: Final = 20_000
"""Letters of a note that names all numbers."""


def lines_note(taken: TakenTable, source: str) -> str:
    """What goes behind a scenario's notes: which numbers its lines stand for."""
    lines = member_lines(taken)
    if sum(map(len, lines)) > _LONGEST_NOTE:
        lines = [f"{line.id}: {len(line.rows)} numbers" for line in taken.lines]
    return "\n".join((lines_head(source), *lines)) if lines else ""


def problem_count(taken: TakenTable, ways: Ways = BY_WORDS) -> str:
    """How many problems there are, and what can be done."""
    many = len(taken.problems)
    rows = len({problem.row for problem in taken.problems if problem.row})
    said = f"{many} problem{'' if many == 1 else 's'}"
    if any(problem.row is None for problem in taken.problems):
        return f"{said}. Nothing is entered before the table can be read."
    them = "this row" if rows == 1 else f"these {rows} rows"
    return f"{said}. Nothing is entered; mend the table, or leave {them} out: {ways.leave_out}."


def all_problems(taken: TakenTable, ways: Ways = BY_WORDS) -> Iterator[str]:
    """Every problem in a sentence."""
    return (table_problem(problem, ways) for problem in taken.problems)


def found_words(taken: TakenTable) -> list[str]:
    """What the table comes to, and which of its columns say nothing that is understood."""
    many, rows = len(taken.things), len(taken.read.rows)
    numbers = sum(len(line.rows) for line in taken.lines)
    of = f" for {numbers} part numbers" if numbers > many else ""
    wrong = len({problem.row for problem in taken.problems if problem.row})
    lacks = f"; {_so_many(wrong, 'row')} not understood" if wrong else ""
    said = [f"Found: {_so_many(many, taken.group)}{of} in {_so_many(rows, 'row')}{lacks}."]
    unused = [f"{each.letter} {each.head}" for each in taken.heads.columns if not each.name]
    unused = [words for words in unused if " " in words.strip()]
    if unused:
        said.append(f"Not used: column{'s'[: len(unused) - 1]} {_some(unused)}.")
    return said


def _so_many(many: int, what: str) -> str:
    return f"{many} {what}{'' if many == 1 else 's'}"


def on_screen(taken: TakenTable) -> str:
    """All that is to be seen before a table is entered from the screen."""
    parts = [found_words(taken)]
    if taken.problems:
        said = [] if taken.left_out else [problem_count(taken, BY_KEYS)]
        parts.append(["Problems", *_indented(all_problems(taken, BY_KEYS)), *_indented(said)])
    # What cannot be had back, and what moves the result most, is seen without scrolling.
    *lost, emptied = lost_words(taken) if taken.emptied else [*lost_words(taken), ""]
    first = [*filter(None, [emptied]), *numbers_words(taken)]
    parts += [first, lost]
    columns = (
        f"{letter:2} {head}: {is_}{f' ({unit})' if unit else ''}"
        for letter, head, is_, unit in column_rows(taken)
    )
    parts.append([f"Read: {read_as(taken)}."])
    parts.append(["Columns", *_indented(columns)])
    if taken.lines:
        parts.append(["Lines", *_indented(map(_line_words, line_rows(taken)))])
        parts.append(_indented(member_lines(taken)))
    elif taken.things:
        orders = (
            f"{id_}: {', '.join(f'{name} {raw}' for name, raw in values)}"
            for id_, values in taken.things
        )
        parts.append(["Orders", *_indented(orders)])
    words = *grouping_words(taken, BY_KEYS), *totals_words(taken), *around_words(taken, BY_KEYS)
    parts.append([text for text in words if text not in (*first, *lost)])
    return "\n\n".join("\n".join(lines) for lines in parts if lines)


def _indented(lines: Iterable[str]) -> list[str]:
    return [f"  {line}" for line in lines]


def _line_words(row: Sequence[str]) -> str:
    """A line of parts as running text, without what it has not."""
    id_, *cells = row
    told = zip(LINE_HEADS[1:], cells, strict=True)
    return f"{id_}: {', '.join(f'{head} {cell}' for head, cell in told if cell)}"
