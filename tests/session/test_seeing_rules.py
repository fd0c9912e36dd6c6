"""What is behind the screens of seeing: views, columns, names, finding, times, pasting."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from refusals import refusing
from rich.cells import cell_len
from small_study import STUDY

from whatif.answers.answer import Answer, Comparison
from whatif.answers.compare import compare
from whatif.answers.per import Per, answer_per
from whatif.screens.widgets.columns import (
    LEAST,
    LEAST_LABEL,
    NARROW,
    apart,
    fitted,
    in_two_lines,
    shorter,
)
from whatif.screens.widgets.drawing import cut
from whatif.session.calculate.memory import Memory
from whatif.session.column_text import column_text, is_column, pasting, write_new
from whatif.session.session import Session
from whatif.session.sheet import Line, cell, differing, find_rows, rows
from whatif.study.check.check import check
from whatif.study.edits import ClearValue, EditError, SetValue, Together
from whatif.study.file.reading import StudyError, read_file, read_text
from whatif.telling.table import table_rows as table_rows

CYCLE = ("part", "plate", "cycle")
PALLETS = ("machine", "mill", "pallets")
NAMES = st.lists(
    st.text(st.sampled_from("ab 六枚é"), min_size=1, max_size=30), min_size=2, max_size=6
)


@pytest.fixture
def session(tmp_path: Path) -> Session:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return Session(read_file(path))


def lines_from(session: Session, path: tuple[str, ...]) -> list[Line]:
    found = [
        row
        for row in rows(session.checked, session.draft.ids, frozenset())
        if isinstance(row, Line)
    ]
    return found[[row.path for row in found].index(path) :]


# -- views -------------------------------------------------------------------------------


@given(
    st.integers(20, 250),
    st.integers(0, 12),
    st.integers(0, 12),
    st.integers(0, 12),
    st.integers(0, 4),
    st.tuples(st.none() | st.integers(1, 300), st.none() | st.integers(LEAST, 300)),
)
def test_the_cursor_is_in_sight_and_columns_fit(
    width: int,
    count: int,
    cursor: int,
    first: int,
    kept: int,
    wished: tuple[int | None, int | None],
) -> None:
    cursor, kept = min(cursor, max(0, count - 1)), min(kept, count)
    columns = fitted(width, count, cursor, first, kept, wished)
    assert (cursor in columns.visible) == (count > 0)
    assert len(set(columns.visible)) == len(columns.visible)
    assert all(place < count for place in columns.visible)
    most = max(width, LEAST_LABEL + NARROW)
    assert columns.label + len(columns.visible) * columns.width <= most
    if len(columns.visible) > kept:
        assert columns.visible[:kept] == tuple(range(kept))
    for place in columns.visible:
        assert columns.at(columns.x(place)) == place
        border = columns.border(columns.x(place))
        assert border is not None
        label, column = columns.dragged(border, columns.x(place))
        assert (label, column) == (columns.label, columns.width)


@given(NAMES, st.integers(8, 24))
@pytest.mark.long
def test_names_that_differ_stay_apart(names: list[str], room: int) -> None:
    names = [" ".join(name.split()) or "a" for name in names]
    short = apart(names, room)
    for name, text in zip(names, short, strict=True):
        assert cell_len(text) <= room
        assert cell_len(name) > room or text.strip() == name
    for i, one in enumerate(names):
        for j, other in enumerate(names):
            if one != other:
                assert short[i].strip() != short[j].strip()


@given(NAMES, st.integers(8, 24), st.integers(8, 24))
def test_names_in_two_lines_stay_apart(names: list[str], first: int, second: int) -> None:
    names = [" ".join(name.split()) or "a" for name in names]
    lines = in_two_lines(names, [(first, second)] * len(names))
    for name, (one, other) in zip(names, lines, strict=True):
        assert cell_len(one) <= first
        assert cell_len(other) <= second
        assert cell_len(name) > first or (one, other) == (name, "")
        if "…" not in other:
            assert name in (f"{one} {other}".strip(), f"{one}{other}")
    for i, one in enumerate(names):
        for j, other in enumerate(names):
            if one != other:
                assert lines[i] != lines[j]


def test_names_are_broken_between_words_and_cut_only_where_two_lines_are_too_few() -> None:
    rooms = [(13, 13)] * 3
    names = ["Second pallet each", "Six each, one person, by day", "Six each, one person, by night"]
    assert in_two_lines(names, rooms) == [
        ("Second pallet", "each"),
        ("Six each, one", "person, by d…"),
        ("Six each, one", "person, by n…"),
    ]
    # A word that is longer than its line is the only one that is broken.
    assert in_two_lines(["Interchangeable pallets"], [(8, 20)]) == [("Intercha", "ngeable pallets")]
    # Signs of two cells: three of them in seven cells.
    assert in_two_lines(["六枚パレット"], [(7, 7)]) == [("六枚パ", "レット")]


def test_names_are_cut_where_they_differ() -> None:
    # Two that begin alike, and two that begin and end alike.
    assert apart(["Six pallets with 1", "Six pallets with 2"], 12) == [
        "Six p…with 1",
        "Six p…with 2",
    ]
    first, second = apart(["One long name A of a cell", "One long name B of a cell"], 14)
    assert (first, second) == ("One…A of a ce…", "One…B of a ce…")
    assert cell_len(cut("六枚パレット", 7)) == 7


def test_what_is_assumed_stands_in_the_units_of_the_study() -> None:
    """50 mm are 1.969 in (pencil); what somebody typed stays as it is typed."""
    text = STUDY.replace("format = 1\n", 'format = 1\nunits = "inch"\n')
    text += 'pallet_floor = "2 m^2"\n'
    for units, gap, floor in ((text, "1.969 in", "0 ft²"), (STUDY, "50 mm", "0 m²")):
        checked = check(read_text(units))
        assert cell(checked, "now", ("part", "plate", "gap")).text == gap
        assert cell(checked, "now", ("machine", "mill", "pallet_floor")).text == floor
    checked = check(read_text(text))
    assert cell(checked, "other", ("machine", "borer", "pallet_floor")).text == "2 m^2"


# -- finding and differing ---------------------------------------------------------------


def test_words_are_looked_for_in_labels_and_headings(session: Session) -> None:
    every = rows(session.checked, session.draft.ids, frozenset())

    def labels(typed: str, start: int = 0) -> list[str]:
        return [
            f"{row.place[-1]} {row.label}" if isinstance(row, Line) else row.title
            for row in find_rows(every, typed, start)
        ]

    assert labels("pallets mill") == ["mill pallets each"]
    assert labels("PALL mil each") == ["mill pallets each", "mill price of each pallet"]
    # As a row is named below the sheet, and its words in any order.
    assert labels("mill: pallets each") == ["mill pallets each"]
    assert labels("each: pallets mill") == ["mill pallets each"]
    assert labels("set-up") == labels("setup") != []
    assert labels("warmup") == labels("warm-up") != []
    assert labels("day: may")[0] == labels("may day do")[0] == "day may do"
    assert labels("mill")[0] == "machines: mill"
    assert labels("") == []
    assert labels("no such") == []
    # "load" begins words of some rows and stands within "unload".
    found = labels("load plate")
    assert found.index("plate load") < found.index("plate unload")
    both = labels("pallets each")
    assert both == ["mill pallets each", "borer pallets each"]
    later = next(i for i, row in enumerate(every) if row.place == ("machine", "borer"))
    assert labels("pallets each", later) == ["borer pallets each", "mill pallets each"]


def test_the_shortest_name_that_begins_so_is_found_first_wherever_the_cursor_is(
    session: Session,
) -> None:
    """From a part's row "pallets" found "pallets per order", which is nearer."""
    every = rows(session.checked, session.draft.ids, frozenset())
    of_part = next(i for i, row in enumerate(every) if row.place == ("part", "plate"))
    assert of_part > next(i for i, row in enumerate(every) if row.place == ("machine", "mill"))
    for start in (0, of_part, of_part + 3):
        found = [
            row.label if isinstance(row, Line) else row.title
            for row in find_rows(every, "pallets", start)
        ]
        assert found[:2] == ["pallets each"] * 2
    # A whole word goes before the beginning of one.
    loads = [row.label for row in find_rows(every, "load", 0) if isinstance(row, Line)]
    assert loads[0] == "load"


def test_a_value_is_found_by_what_its_help_says_where_no_name_has_the_words(
    session: Session,
) -> None:
    """A line below the strip asks for "the pieces wanted", and no row is called so."""
    every = rows(session.checked, session.draft.ids, frozenset())

    def labels(typed: str, start: int = 0) -> list[str]:
        found = find_rows(every, typed, start)
        return [f"{row.place[-1]} {row.label}" for row in found if isinstance(row, Line)]

    # "pieces wanted per week", and further off "no more is made than is wanted".
    assert labels("wanted") == ["plate weekly demand", "sequence make"]
    assert labels("pieces wanted") == labels("want piec") == ["plate weekly demand"]
    # Where a name has the word nothing else is meant.
    assert "make" not in " ".join(labels("demand"))
    assert labels("no such") == []


def test_what_differs_is_what_is_worth_something_else(session: Session) -> None:
    def differ() -> set[tuple[str, ...]]:
        return {line.path for line in differing(session.checked, ("now", "pool"))}

    assert differ() == {PALLETS, ("title",), ("parent",)}
    session.do(SetValue("pool", CYCLE, "540 s"))
    session.do(SetValue("pool", ("part", "plate", "size"), ("1 in", "2 in", "3 in")))
    assert differ() == {PALLETS, ("title",), ("parent",), ("part", "plate", "size")}
    session.do(SetValue("now", ("part", "plate", "size"), ("25.4 mm", "5.08 cm", "76.2 mm")))
    assert differ() == {PALLETS, ("title",), ("parent",)}


# -- times and units ---------------------------------------------------------------------


def answered(session: Session) -> dict[str, Answer]:
    return dict(compare(check(session.draft), Memory()).answers)


def test_a_day_a_month_and_a_year_are_multiples_of_a_week(session: Session) -> None:
    # Rule `results.day`: 50 weeks a year unless said otherwise, a day is a week over the days
    # on which a shift starts.
    answer = answered(session)["pool"]
    figures = answer.figures
    assert figures is not None
    for per, weeks in ((Per.DAY, 1 / 5), (Per.WEEK, 1), (Per.MONTH, 50 / 12), (Per.YEAR, 50)):
        found = answer_per(answer, per)
        shown = found.figures
        assert shown is not None
        assert shown.spindle.total == pytest.approx(figures.spindle.total * weeks)
        assert shown.pieces["plate"] == pytest.approx(figures.pieces["plate"] * weeks)
        assert shown.by_state["load"] == pytest.approx(figures.by_state["load"] * weeks)
        assert shown.people.paid == pytest.approx(40 * weeks)
        assert shown.demand_met == figures.demand_met
        assert shown.utilization == figures.utilization
        assert found.gains == answer.gains
    session.do(SetValue("pool", ("money", "weeks_per_year"), 48))
    shown = answer_per(answered(session)["pool"], Per.MONTH).figures
    assert shown is not None
    assert shown.people.paid == pytest.approx(40 * 4)


def test_without_a_shift_there_is_no_day(session: Session) -> None:
    session.do(SetValue("pool", ("shift", "day", "people"), 0))
    answer = answered(session)["pool"]
    assert answer_per(answer, Per.DAY).figures is None
    assert answer_per(answer, Per.YEAR).figures is not None


def test_the_table_tells_its_time_and_floors_in_the_units_of_the_study(session: Session) -> None:
    session.do(SetValue("now", ("machine", "mill", "floor"), "10 m²"))
    found = compare(check(session.draft), Memory())
    floors = {row.label: row.cells for row in table_rows(found)}["floor"]
    # The other scenario has a machine without a floor.
    assert floors == ("20 m²", "20 m²", "–")
    inch: Comparison = replace(found, units="inch")
    assert {row.label: row.cells for row in table_rows(inch)}["floor"][0] == "215.3 ft²"
    units = {row.unit for row in table_rows(found, Per.YEAR)}
    assert "h a year" in units
    assert not any("week" in unit for unit in units)


@pytest.mark.parametrize(
    ("path", "raw", "metric", "inch"),
    [
        # The international inch and pound of 1959: 25.4 mm, 0.45359237 kg.
        (("part", "plate", "gap"), "2 in", "50.8 mm", "2 in"),
        (("part", "plate", "mass"), "10 lb", "4.54 kg", "10 lb"),
        (("machine", "mill", "table"), ("254 mm", "10 in"), "254 mm x 254 mm", "10 in x 10 in"),
        (("machine", "mill", "floor"), "100 sq ft", "9.29 m²", "100 ft²"),
        (CYCLE, "9.5 min", "9.5 min", "9.5 min"),
    ],
)
def test_values_are_shown_in_other_units(
    session: Session, path: tuple[str, ...], raw: str, metric: str, inch: str
) -> None:
    session.do(SetValue("now", path, raw))
    typed = cell(session.checked, "now", path).text
    for units, text in (("metric", metric), ("inch", inch)):
        shown = cell(session.checked, "now", path, units)
        assert shown.text == text
        assert shown.typed == ("" if text == typed else typed)


# -- text out and in ---------------------------------------------------------------------


def test_edits_together_are_one_change(session: Session) -> None:
    before = session.draft
    both = Together((SetValue("pool", PALLETS, 6), ClearValue("pool", PALLETS)), "there and back")
    assert both.apply(before) != before
    assert PALLETS not in both.apply(before).scenario("pool").entered
    assert session.do(Together((SetValue("pool", PALLETS, 6),), "one")) == "one"
    assert session.undo() == "one"
    assert session.draft == before
    with pytest.raises(EditError):
        session.do(Together((SetValue("pool", PALLETS, 7), SetValue("pool", ("no",), 1)), "no"))
    assert session.draft == before


def test_a_column_goes_out_and_comes_back(session: Session) -> None:
    every = rows(session.checked, session.draft.ids, frozenset())
    text = column_text(session.checked, "pool", "Pool", every)
    down = [row for row in every if isinstance(row, Line)]
    found = pasting(session, "pool", down, text)
    assert (found.edit, found.wrong, found.odd, found.beyond) == (None, (), (), 0)
    other = pasting(session, "now", down, text)
    assert other.changes[0] == "pallets each: 1 -> 4"


def test_an_empty_line_leaves_its_row_and_a_dash_takes_a_value_out(session: Session) -> None:
    down = lines_from(session, PALLETS)
    found = pasting(session, "pool", down, "-\n\n20 s\n\n\n")
    assert found.edit is not None
    entered = found.edit.apply(session.draft).scenario("pool").entered
    assert PALLETS not in entered
    assert entered[("machine", "mill", "pallet_change")] == "20 s"


def test_what_is_only_wrong_together_is_told_too(session: Session) -> None:
    start = ("shift", "day", "start")
    down = lines_from(session, start)
    found = pasting(session, "now", down, "12:00\n16:00")
    assert found.edit is None
    assert any("break" in one for one in found.wrong)


def test_one_value_is_no_column() -> None:
    assert not is_column("12 min\n")
    assert is_column("12 min\r\n13 min")
    assert is_column("cycle\t12 min")


def test_a_file_that_is_there_is_not_written_over(tmp_path: Path) -> None:
    write_new(tmp_path / "a.txt", "六\n")
    assert (tmp_path / "a.txt").read_text("utf-8") == "六\n"
    with refusing("is there already", StudyError):
        write_new(tmp_path / "a.txt", "x")
    with refusing("cannot be written", StudyError):
        write_new(tmp_path / "no" / "a.txt", "x")


@pytest.mark.parametrize(
    ("text", "width", "shown"),
    [
        ("300 mm x 200 mm x 80 mm", 24, "300 mm x 200 mm x 80 mm"),
        ("300 mm x 200 mm x 80 mm", 18, "300 x 200 x 80 mm"),
        ("300 mm x 200 mm x 80 mm", 13, "300x200x80 mm"),
        ("17 1/2 in x 4 in", 11, "17 1/2x4 in"),
        ("17 in x 80 mm", 11, "17 in x 80 mm"),
        ("a long x word", 5, "a long x word"),
    ],
)
def test_sides_are_told_shorter_where_there_is_no_room(text: str, width: int, shown: str) -> None:
    assert shorter(text, width) == shown
