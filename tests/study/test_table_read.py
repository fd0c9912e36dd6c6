"""A table of a spreadsheet: its cells as typed values, and every problem by row and column."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from refusals import refusing

from whatif.study.draft import Draft
from whatif.study.edits import RemoveThing
from whatif.study.file.reading import StudyError, read_text
from whatif.study.refused import FileFaultKind
from whatif.study.table.problem import TableFault
from whatif.study.table.reading import MOST_ROWS, table_of
from whatif.study.table.signs import DecimalSign, ReadsTwoWays, plain_numbers, sign_in
from whatif.study.table.taking import HowTaken, TakenTable, take_table
from whatif.telling.from_table import (
    around_words,
    entered_words,
    lines_note,
    numbers_words,
    table_problem,
)

PLAIN = HowTaken({})
STUDY = """\
format = 1
[scenario.today]
money.weeks_per_year = 48
machine.mill.count = 1
part.body.cycle = "9 min"
part.body.weekly = 10
"""


def taken(text: str, group: str = "part", how: HowTaken = PLAIN, *, into: str = "") -> TakenTable:
    draft: Draft | None = read_text(into) if into else None
    return take_table(table_of(text.encode()), group, how, draft, "today" if into else "")


def values(of: TakenTable) -> dict[str, dict[str, object]]:
    return {id_: dict(those) for id_, those in of.things}


@pytest.mark.parametrize("between", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "latin-1"])
def test_any_delimiter_and_encoding(between: str, encoding: str) -> None:
    rows = (("Part no", "Tempo (min)", "per week"), ("Gehäuse", '"9.5"', "12"), ("", "", ""))
    text = "\r\n".join(between.join(row) for row in rows)
    found = table_of(text.encode(encoding))
    assert found.delimiter == between
    assert found.rows[1] == ("Gehäuse", "9.5", "12")
    of = take_table(found, "part", HowTaken({"tempo": "cycle"}))
    assert values(of) == {"gehause": {"cycle": "9.5 min", "weekly": 12}}


def test_quoted_cells_keep_their_rows() -> None:
    """A row of a spreadsheet is one row, though a cell of it goes over two lines."""
    of = taken('part,"cycle\n[min]",weekly\n"a, b",8,1\n\nc,x,2\n')
    assert [row.name for row in of.read.rows] == ["a, b", "c"]
    assert [(each.row, each.column) for each in of.problems] == [(4, "B (cycle [min])")]


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (b"PK\x03\x04 workbook", FileFaultKind.WORKBOOK),
        ("part".encode("utf-16"), FileFaultKind.UTF_16),
        (b"part\0", FileFaultKind.NO_TEXT),
        (b" \n;;\n", FileFaultKind.NO_ROWS),
        (b'part;cycle\n"a;1\n', FileFaultKind.NO_CSV),
        (b"a;b\n" * (MOST_ROWS + 1), FileFaultKind.TOO_MANY_CELLS),
        (b"a;" * 300, FileFaultKind.TOO_MANY_CELLS),
    ],
)
def test_what_is_no_table(content: bytes, kind: FileFaultKind) -> None:
    with pytest.raises(StudyError) as fault:
        table_of(content)
    assert fault.value.why.kind is kind


@pytest.mark.parametrize(
    ("cell", "sign", "plain"),
    [
        ("11,5 min", None, "11.5 min"),
        ("1.234,5", None, "1234.5"),
        ("1,234.5", None, "1234.5"),
        ("1.234.567", None, "1234567"),
        ("1 234", None, "1234"),
        ("1'234,5", None, "1234.5"),
        ("0,125", None, "0.125"),
        ("1,234", DecimalSign.COMMA, "1.234"),
        ("1,234", DecimalSign.POINT, "1234"),
        ("1.234", DecimalSign.COMMA, "1234"),
        ("1 1/2 in", None, "1 1/2 in"),
        ("1 h 30 min", None, "1 h 30 min"),
        ("27,5 x 15,25 mm", None, "27.5 x 15.25 mm"),
        ("1,2,3", None, "1,2,3"),
    ],
)
def test_numbers_with_signs(cell: str, sign: DecimalSign | None, plain: str) -> None:
    assert plain_numbers(cell, sign) == plain


def test_thousands_are_understood_only_where_it_is_certain() -> None:
    with pytest.raises(ReadsTwoWays) as fault:
        plain_numbers("1,234", None)
    assert fault.value.readings == ("1.234", "1234")
    assert sign_in(["1,234", "2,5"]) is DecimalSign.COMMA
    assert sign_in(["1.5", "2,5"]) is None
    of = taken("part;cycle [s];weekly\na;1.234;10\n")
    assert [each.fault for each in of.problems] == [TableFault.READS_TWO_WAYS]
    assert "it may be 1.234 or 1234" in table_problem(of.problems[0])
    of = taken("part;cycle [s];weekly\na;1.234;10\nb;2,5;10\n")
    assert values(of)["a"]["cycle"] == "1234 s"
    of = taken("part;cycle [s];weekly\na;1.234;1\n", how=HowTaken({}, sign=DecimalSign.POINT))
    assert values(of)["a"]["cycle"] == "1.234 s"


def test_units_of_cell_head_and_catalogue() -> None:
    of = taken(
        "Part;Cycle [h];Setup, min;Load;Length (in);width;Height;Pieces/week;scrap\n"
        "a;0.5;30;2;10;100 mm;50;1;2 %\n"
        "b;12 min;1 h;90 s;10;4 in;50;1;\n"
    )
    assert not of.problems
    assert values(of)["a"] == {
        "cycle": "0.5 h",
        "setup": "30 min",
        "load": "2 min",
        "weekly": 1,
        "scrap": "2 %",
        "size": ("10 in", "100 mm", "50 mm"),
    }
    assert values(of)["b"]["load"] == "90 s"
    assert of.read.usual == {"D (Load)": "min", "G (Height)": "mm"}
    assert [c.unit for c in of.heads.columns[1:4]] == ["h", "min", ""]


def test_clock_times_where_the_head_says_so() -> None:
    of = taken("part;cycle [m:ss];setup [h:mm];weekly\na;9:30;1:05;1\n")
    assert values(of)["a"] == {"cycle": "9 min 30 s", "setup": "1 h 5 min", "weekly": 1}
    of = taken("part;cycle;weekly\na;9:30;1\n")
    assert [each.fault for each in of.problems] == [TableFault.NOT_OF_ITS_KIND]


def test_a_share_needs_its_sign() -> None:
    of = taken("part;cycle;weekly;scrap\na;9 min;1;0.02\n")
    assert table_problem(of.problems[0]) == (
        'Row 2, column D (scrap), "0.02": 0.02 has no unit; allowed is a percentage with its sign, '
        'such as "2 %" or "0.02 %", from 0 % to 99 %.'
    )


def test_every_problem_at_once_by_row_and_column() -> None:
    of = taken(
        "Title of the sheet\nPart;Cycle (min);per year;Lot;Remark\n"
        "a;9;520;20;x\nb;;520;0;\na;-1;520;1.5;\n;9;520;20;\n%;9;520;20;\n"
    )
    assert [(each.row, each.column, each.fault.name) for each in of.problems] == [
        (4, "D (Lot)", "NOT_OF_ITS_KIND"),
        (4, "", "MISSING"),
        (5, "B (Cycle (min))", "NOT_OF_ITS_KIND"),
        (5, "D (Lot)", "NOT_OF_ITS_KIND"),
        (5, "A (Part)", "TWICE"),
        (6, "A (Part)", "NO_NAME"),
        (7, "A (Part)", "NO_NAME"),
    ]
    assert not of.is_clean
    assert [c.head for c in of.heads.columns if not c.name] == ["Remark"]
    left = taken("part;cycle;weekly\na;9 min;1\nb;x;1\n", how=HowTaken({}, leave_out=True))
    assert left.is_clean
    assert left.left_out == (3,)
    assert list(values(left)) == ["a"]


def test_columns_that_are_not_found_or_are_two() -> None:
    of = taken("Teil;Tempo;weekly;per week\n1;2;3;4\n", how=HowTaken({"Takt": "cycle"}))
    assert [each.fault.name for each in of.problems] == [
        *("NO_SUCH_COLUMN", "TWO_COLUMNS", "NO_COLUMN", "NO_COLUMN")
    ]
    named = {"Teil": "name", "Tempo": "cycle", "per week": ""}
    assert taken("Teil;Tempo;weekly;per week\n1;2;3;4\n", how=HowTaken(named)).is_clean
    of = taken("part;cycle;weekly;T\na;1;1;1\n", how=HowTaken({"T": "setp"}))
    assert table_problem(of.problems[0]) == "There is no key setp. Did you mean setup?"


def test_a_year_has_the_weeks_of_the_study_or_52() -> None:
    text = "part;cycle;per year;per month\na;9 min;1040;\nb;9 min;;100\n"
    by_itself, inside = taken(text), taken(text, into=STUDY)
    assert [each["weekly"] for each in values(by_itself).values()] == [20, Decimal("23.0769")]
    assert (by_itself.weeks, by_itself.is_studys) == (52, False)
    assert [each["weekly"] for each in values(inside).values()] == [Decimal("21.6667"), 25]
    assert (inside.weeks, inside.is_studys) == (48, True)


def test_what_is_wrong_in_the_study_is_told_at_its_cell() -> None:
    text = "part;cycle;weekly;machine\na;9 min;1;mill\nb;9 min;1;mill, lathe\n"
    of = taken(text, into=STUDY)
    assert [(each.row, each.column) for each in of.problems] == [(3, "D (machine)")]
    assert "no machine lathe" in table_problem(of.problems[0])
    assert taken(text).is_clean
    assert of.staying == ("body",)


def test_values_of_a_part_that_is_there_already() -> None:
    of = taken("part;setup\nbody;30 min\n", into=STUDY)
    assert of.is_clean
    assert of.replaced == ("body",)
    draft = of.edit(read_text(STUDY), "today", "t.csv").apply(read_text(STUDY))
    entered = draft.scenario("today").entered
    assert entered["part", "body", "setup"] == "30 min"
    assert entered["part", "body", "cycle"] == "9 min"
    instead = taken("part;cycle;weekly\nx;1 min;1\n", how=HowTaken({}, instead=True), into=STUDY)
    draft = instead.edit(read_text(STUDY), "today", "t.csv").apply(read_text(STUDY))
    assert draft.scenario("today").ids("part") == ("x",)


def test_a_scenario_that_is_not_there() -> None:
    with refusing("There is no scenario gone"):
        take_table(table_of(b"part;cycle\n"), "part", PLAIN, read_text(STUDY), "gone")


def test_orders_by_date_and_by_week() -> None:
    text = "order;part;qty;release;due\nA;body;5;2026-11-01;4.12.2026\nB;body;5;;week 2 wed 12:00\n"
    of = taken(text, "order", into=STUDY)
    assert [each.fault.name for each in of.problems] == ["DATE_WITHOUT_WEEK"] * 2
    of = taken(text, "order", HowTaken({}, week_1=date(2026, 11, 30)), into=STUDY)
    assert values(of) == {
        "A": {"part": "body", "pieces": 5, "arrives": "mon 00:00", "due": "week 1 fri 23:59"},
        "B": {"part": "body", "pieces": 5, "due": "week 2 wed 12:00"},
    }
    of = taken("part;qty;due\nbody;5;11/12/2026 6:00\n", "order", of_week())
    assert [each.fault.name for each in of.problems] == ["DATE_READS_TWO_WAYS"]
    of = taken("part;qty;due\nbody;5;11/12/2026\nbody;5;12/25/2026\n", "order", of_week())
    assert [each["due"] for each in values(of).values()] == [
        "week 11 thu 23:59",
        "week 17 fri 23:59",
    ]
    of = taken("part;qty;due\nbody;5;2026-08-01\nhub;2;tue 10:00\n", "order", of_week(), into=STUDY)
    assert [each.fault.name for each in of.problems] == ["BEFORE_WEEK_1", "OF_THE_STUDY"]


def of_week() -> HowTaken:
    return HowTaken({}, week_1=date(2026, 8, 31))


NUMBERS = "part;cycle [min];setup [min];lot;weekly\nA-1;9;30;10;20\nB-1;9,5;30;10;10\n"


def with_line() -> Draft:
    """A study in which A-1 and B-1 stand in one line."""
    draft = read_text(STUDY)
    of = take_table(
        table_of(NUMBERS.encode()), "part", HowTaken({}, is_grouped=True), draft, "today"
    )
    return of.edit(draft, "today", "t.csv", lines_note(of, "t.csv")).apply(draft)


def test_an_order_for_a_number_of_a_line_is_for_the_line() -> None:
    text = "order;part;qty;due\n1;b-1;5;tue 10:00\n2;body;2;tue 10:00\n3;gone;2;tue 10:00\n"
    of = take_table(table_of(text.encode()), "order", PLAIN, with_line(), "today")
    assert [each["part"] for each in values(of).values()] == ["A-1_and_1_more", "body"]
    assert of.for_lines == ((2, "b-1", "A-1_and_1_more"),)
    assert any("b-1 (row 2) of A-1_and_1_more" in said for said in around_words(of))
    assert [(each.row, each.fault.name) for each in of.problems] == [(4, "OF_THE_STUDY")]


def test_a_line_that_is_there_no_more_is_no_part() -> None:
    draft = with_line()
    gone = RemoveThing("today", "part", "A-1_and_1_more").apply(draft)
    of = take_table(table_of(b"part;qty;due\nB-1;5;tue 10:00\n"), "order", PLAIN, gone, "today")
    assert not of.is_clean
    assert of.for_lines == ()


NUMBERED = f"{STUDY}part.body.numbers = 3\n"


def test_how_many_numbers_a_part_stands_for_is_told_or_asked_for() -> None:
    """Left at one it makes hours of change-over of what is many times that."""
    one = "One part number each: if one stands for several, enter how many"

    def told(text: str, group: str = "part", into: str = "") -> str:
        return " ".join(numbers_words(taken(text, group, into=into)))

    assert told("part;cycle;weekly;numbers\na;9 min;1;4\nb;9 min;1;1\n") == (
        "Part numbers covered, as counted in the table: a 4."
    )
    assert told("part;cycle;weekly;numbers\na;9 min;1;4\nb;9 min;1;\n").endswith("set up anew: b.")
    # Of one that is there the study may have said it.
    assert told("part;setup\nbody;30 min\n", into=STUDY).startswith(one)
    assert told("part;setup\nbody;30 min\n", into=NUMBERED) == ""
    orders = "part;qty;due\nbody;5;tue 10:00\n"
    assert told(orders, "order", STUDY).startswith(one)
    assert told(orders, "order", NUMBERED) == ""
    # A name with a comma is no list of numbers.
    listed = told('part,cycle,weekly\n"A-1, A-2, A-3",9 min,1\n"Housing, left",9 min,1\n')
    assert listed.endswith("More than one number seems to be named: 3 in row 2 (A-1, A-2, A-3).")


def test_numbers_that_are_entered_one_each_are_told_behind_the_change() -> None:
    of = taken("part;cycle;weekly\nx;1 min;1\n", into=STUDY)
    said = "one part number each: if one stands for several, enter how many"
    assert entered_words(of, read_text(STUDY), "today") == said


def test_what_the_table_does_not_say_is_said_to_be_assumed() -> None:
    of = taken("part;cycle;lot;weekly\na;9 min;;1\nb;9 min;10;1\n")
    assert around_words(of) == [
        "One part number each: if one stands for several, enter how many (part numbers it covers), "
        "as each order of several is set up anew: a, b.",
        "Order size not said, so 20 is assumed: a.",
        "Setup not said, so 0 min is assumed: a, b.",
        "In no column, so assumed: load 2 min, unload 1 min, bench work 0 min, prove-out 0 min, "
        "first piece release 0 min, share in cut 100 %, runs unattended yes, scrap 0 %, "
        "mass per piece 0 kg.",
    ]
    (words,) = (text for text in around_words(taken("part;load;weekly;scrap\na;9 min;1;\n"))
                if "no column" in text)  # fmt: skip
    assert ": unload 1 min," in words
    assert around_words(taken("part;setup\nbody;30 min\n", into=NUMBERED)) == [
        "There already, and given these values: body. What the table does not say of them stays."
    ]
    mixed = around_words(taken("part;cycle;weekly\nbody;9 min;1\nx;9 min;1\n", into=STUDY))
    assert any(text.startswith("In no column, so assumed of x: load 2 min") for text in mixed)


ALTERNATIVES = (
    STUDY
    + """\
part.body.first_piece = "15 min"
part.body.setup = "40 min"
[scenario.quick]
title = "Released at once"
parent = "today"
part.body.first_piece = "0 min"
[scenario.more]
parent = "today"
money.wage = 30
part.body.first_piece = "5 min"
"""
)


def test_what_goes_with_parts_that_are_removed_is_named() -> None:
    """Part, key and value that the table says nothing of, here and in what is based on it."""
    instead = HowTaken({}, instead=True)
    of = taken("part;cycle;setup;weekly\nx;1 min;9 min;1\n", how=instead, into=ALTERNATIVES)
    lost, emptied = around_words(of)[-2:]
    assert lost == (
        "Lost with them, as the table does not say it: body in today (first piece release 15 min), "
        "body in Released at once (first piece release 0 min), body in more (first piece release "
        "5 min)."
    )
    assert emptied == (
        "Alternative Released at once then changes nothing: remove it, or enter its change anew."
    )
    draft = read_text(ALTERNATIVES)
    one = "one part number each: if one stands for several, enter how many"
    assert entered_words(of, draft, "today") == (
        f"alternative Released at once then changes nothing; {one}"
    )
    kept = taken("part;cycle;weekly\nx;1 min;1\n", into=ALTERNATIVES)
    assert (kept.lost, kept.emptied) == ((), ())
    assert entered_words(kept, draft, "today") == (
        f"what is based on it takes them too, so gains may stay as they are; {one}"
    )


@pytest.mark.parametrize(
    ("rows", "read"),
    [
        ("a;8,5;1,200\nb;9;800\n", {"C (weekly)": "1.200"}),
        ("a;8,5;1,250\nb;9;800\n", {"C (weekly)": "1.250"}),
        ("a;8,5;12\nb;9,125;800\n", {}),
        ("a;8,5;12\nb;9,120;800\n", {"B (cycle [min])": "9.120"}),
        ("a;8,5;1.200\nb;9;800\n", {}),
    ],
)
def test_thousands_that_are_read_with_decimals_are_doubtful(
    rows: str, read: dict[str, str]
) -> None:
    text = f"part;cycle [min];weekly\n{rows}"
    of = taken(text)
    assert {each.column: each.read for each in of.read.doubtful} == read
    said = [text for text in around_words(of) if text.startswith("Doubtful")]
    assert len(said) == len(read)
    assert all("--decimal point" in text for text in said)
    sure = taken(text, how=HowTaken({}, sign=DecimalSign.POINT))
    assert sure.read.doubtful == ()


def test_with_a_point_for_decimals_a_comma_parts_thousands() -> None:
    of = taken("part;cycle [min];weekly\na;8,5;1,200\n", how=HowTaken({}, sign=DecimalSign.POINT))
    assert values(of)["a"] == {"cycle": "8.5 min", "weekly": 1200}
