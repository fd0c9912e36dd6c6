"""Many numbers in few lines: which go together, and that totals stay."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest

from whatif.answers.account.explain import explain
from whatif.answers.compare import compare
from whatif.answers.running import figures_once
from whatif.answers.simulate import run_anew
from whatif.answers.states import IN_CYCLE
from whatif.plan.build import plans_of
from whatif.plan.model import worth
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import EnterThings, RemoveThing
from whatif.study.file.reading import read_text
from whatif.study.line_notes import notes_without
from whatif.study.table.reading import table_of
from whatif.study.table.taking import HowTaken, TakenTable, take_table
from whatif.telling.account.sentences import note_sentence
from whatif.telling.from_table import lines_note, totals_words

HALF_A_PERCENT = Fraction(1, 200)


def taken(rows: list[tuple[object, ...]], alike: int | None = 20) -> TakenTable:
    heads = ("part", "cycle [s]", "setup [min]", "order size", "per week")
    text = "\n".join(";".join(map(str, row)) for row in (heads, *rows))
    how = HowTaken({}, alike=None if alike is None else Fraction(alike, 100))
    if alike is None:
        how = HowTaken({}, is_grouped=False)
    return take_table(table_of(text.encode()), "part", how)


def numbers_of(of: TakenTable) -> list[list[str]]:
    return [[row.name for row in line.rows] for line in of.lines]


def test_numbers_alike_in_cycle_and_setup_go_together() -> None:
    rows: list[tuple[object, ...]] = [
        *(("a", 600, 30, 10, 20), ("b", 1200, 30, 10, 20), ("c", 660, 30, 10, 10)),
        *(("d", 600, 60, 10, 20), ("e", 721, 30, 10, 20), ("f", 700, 36, 10, 0)),
    ]
    assert numbers_of(taken(rows)) == [["a", "c"], ["b"], ["d"], ["e"], ["f"]]
    assert numbers_of(taken(rows, 21)) == [["a", "c", "e"], ["b"], ["d"], ["f"]]
    assert numbers_of(taken(rows, 0)) == [["a"], ["b"], ["c"], ["d"], ["e"], ["f"]]
    line = taken(rows).lines[0]
    assert line.id == "a_and_1_more"
    assert line.values["cycle"] == "10 min 20 s"
    assert line.values["numbers"] == 2
    assert (line.spreads["cycle"].low, line.spreads["cycle"].high) == (600, 660)


def test_few_numbers_are_left_alone_unless_asked() -> None:
    rows: list[tuple[object, ...]] = [(f"p{n}", 600, 30, 10, 20) for n in range(20)]
    heads = "part;cycle [s];setup [min];order size;per week\n"
    for more, lines in ((0, 20), (1, 1)):
        text = heads + "\n".join(
            ";".join(map(str, row)) for row in [*rows, ("x", *rows[0][1:])][: 20 + more]
        )
        assert len(take_table(table_of(text.encode()), "part", HowTaken({})).lines) == lines


@pytest.mark.parametrize("seed", range(12))
def test_totals_of_the_lines_are_those_of_the_numbers(seed: int) -> None:
    luck = random.Random(seed)
    rows: list[tuple[object, ...]] = [
        (
            f"p{n}",
            luck.randint(3, 400) if seed % 2 else luck.randint(60, 3600),
            luck.choice((0, 20, 30, 45, 50, 90)),
            luck.choice((1, 2, 3, 5, 8, 12, 20, 25, 100)),
            luck.choice((1, 2, 7.5, 20, 133)),
        )
        for n in range(60)
    ]
    alone, lined = taken(rows, None), taken(rows, luck.choice((10, 20, 60)))
    assert len(lined.lines) < 60
    assert sorted(name for names in numbers_of(lined) for name in names) == sorted(
        str(row[0]) for row in rows
    )
    pieces, hours, setups = week_of(alone)
    line_pieces, line_hours, line_setups = week_of(lined)
    assert line_pieces == pieces
    assert abs(line_hours - hours) <= hours * HALF_A_PERCENT
    assert abs(line_setups - setups) <= setups * HALF_A_PERCENT
    for line in lined.lines:
        assert abs(line.line_cutting - line.cutting) <= line.cutting * HALF_A_PERCENT
        assert abs(line.line_orders - line.orders) <= line.orders * HALF_A_PERCENT


def week_of(of: TakenTable) -> tuple[Fraction, Fraction, Fraction]:
    """Pieces, seconds of cutting and orders a week, as the study that is made says them."""
    draft = entered(of, "")
    plan = check(draft).resolved["today"]
    parts = plan.ids("part")
    value = {
        name: [plan.value("part", part, name) for part in parts]
        for name in ("weekly", "cycle", "batch")
    }
    pieces = sum(value["weekly"], Fraction(0))
    hours = sum(w * c.seconds for w, c in zip(value["weekly"], value["cycle"], strict=True))
    return pieces, hours, sum(w / b for w, b in zip(value["weekly"], value["batch"], strict=True))


SHOP = """\
format = 1
weeks = 12
[scenario.today]
sequence.rule = "earliest_due_date"
machine.mill.count = 2
[scenario.today.shift.day]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "22:00"
people = 2
"""


def entered(of: TakenTable, study: str) -> Draft:
    draft = read_text(study or "format = 1\n[scenario.today]\n")
    return of.edit(draft, "today", "t.csv", lines_note(of, "t.csv")).apply(draft)


def test_lines_run_about_as_the_numbers_do() -> None:
    """By due date, where no number keeps its setup; what differs is the turn of the orders."""
    rows: list[tuple[object, ...]] = [
        (f"p{n}", 540 + 20 * (n % 6), 30, 12, 12 + n % 5) for n in range(12)
    ]
    spindle = []
    for alike in (None, 20):
        of = taken(rows, alike)
        plan = plans_of(check(entered(of, SHOP)))["today"]
        value = worth({"today": plan}, "today", "today", paid=False)
        figures = figures_once(plan, run_anew, value)
        spindle.append(figures.attended[IN_CYCLE])
    assert spindle[1] == pytest.approx(spindle[0], rel=0.03)
    assert spindle[1] != 0


def test_the_notes_say_which_numbers_a_line_stands_for() -> None:
    rows: list[tuple[object, ...]] = [("a", 600, 30, 10, 20), ("b", 660, 30, 10, 10)]
    of = taken(rows)
    notes = entered(of, SHOP).scenario("today").entered["notes",]
    assert notes == "Parts from t.csv, numbers in lines:\na_and_1_more: a, b"


@pytest.mark.parametrize("alike", [None, 20])
def test_the_preview_counts_orders_and_says_why_the_model_sets_up_for_fewer_hours(
    alike: int | None,
) -> None:
    rows: list[tuple[object, ...]] = [("a", 600, 30, 10, 20), ("b", 660, 30, 10, 10)]
    amounts, setting_up = totals_words(taken(rows, alike))
    assert amounts == "In a week: 30 pieces, 5.17 cutting hours and 3 orders."
    assert setting_up.startswith(
        "Set up anew for each order, people would set up for 1.5 h a week. F5 shows"
    )
    # Each keeps one of the two tables, so nothing is changed over.
    if alike is None:
        plan = plans_of(check(entered(taken(rows, alike), SHOP)))["today"]
        value = worth({"today": plan}, "today", "today", paid=False)
        assert figures_once(plan, run_anew, value).by_state["setup"] == 0


@pytest.mark.parametrize("alike", [None, 20])
def test_the_account_of_the_hours_set_up_tells_the_hours_of_the_preview(alike: int | None) -> None:
    """a: 20 pieces in orders of 10, b: 10 in one of 10, 30 min each: 3 orders, 1.5 h (pencil)."""
    rows: list[tuple[object, ...]] = [("a", 600, 30, 10, 20), ("b", 660, 30, 10, 10)]
    _, previewed = totals_words(taken(rows, alike))
    checked = check(entered(taken(rows, alike), SHOP))
    found = compare(checked, run_anew)
    account = explain(found, checked, "today", "hours_by_state.setup")
    (told,) = (note_sentence(each) for each in account.worked.notes if each.id == "set up anew")
    assert told == previewed.replace("F5 shows", "Counted here are")
    assert "would set up for 1.5 h a week." in told


def test_without_setups_the_preview_tells_no_hours_of_them() -> None:
    assert len(totals_words(taken([("a", 600, 0, 10, 20)]))) == 1


def test_a_note_of_lines_goes_with_its_lines() -> None:
    """Else the summary tells of numbers that are nowhere any more."""
    rows: list[tuple[object, ...]] = [("a", 600, 30, 10, 20), ("b", 660, 30, 10, 10)]
    words = '[scenario.today]\nnotes = "Our own: a word."\n'
    once = entered(taken(rows), SHOP.replace("[scenario.today]\n", words))
    notes = str(once.scenario("today").entered["notes",])
    assert notes == "Our own: a word.\nParts from t.csv, numbers in lines:\na_and_1_more: a, b"
    again = EnterThings("today", "part", taken(rows).things, lines_note(taken(rows), "u.csv"), "")
    assert str(again.apply(once).scenario("today").entered["notes",]) == (
        "Our own: a word.\nParts from u.csv, numbers in lines:\na_and_1_more: a, b"
    )
    gone = RemoveThing("today", "part", "a_and_1_more").apply(once)
    assert gone.scenario("today").entered["notes",] == "Our own: a word."


def test_of_several_lines_those_stay_that_are_there() -> None:
    head, one, two = "Parts from t.csv, numbers in lines:", "a_and_1_more", "b_and_1_more"
    notes = f"{head}\n{one}: 1, 2\n{two}: 3, 4\nMind: it is steel.\n{head}\n{one}: 5\nnew"
    assert notes_without(notes, {one}) == f"{head}\n{two}: 3, 4\nMind: it is steel.\nnew"
    assert notes_without(notes, {one, two}) == "Mind: it is steel.\nnew"
    assert notes_without(f"{one}: mine", {one}) == f"{one}: mine"


def test_parts_that_others_name_stand_by_themselves() -> None:
    study = SHOP + '[scenario.today.order.o]\npart = "a"\npieces = 3\ndue = "fri 10:00"\n'
    text = "part;cycle [s];per week\na;600;10\nb;600;10\nc;600;10\n"
    draft = read_text(study)
    of = take_table(
        table_of(text.encode()), "part", HowTaken({}, alike=Fraction(0)), draft, "today"
    )
    assert numbers_of(of) == [["a"], ["b", "c"]]
