"""Weeks that repeat: what is counted for them is what a run in full counts, to the last second."""

from __future__ import annotations

import ast
import re
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from cells import cell_of, small_cell, trying
from few_draws import SCENARIOS
from hypothesis import given
from hypothesis import strategies as st
from lengths import examples, first_of
from oracle.specs import Spec, cells

import whatif.cell
from whatif.cell.calls import Call
from whatif.cell.floor import Counted, Floor
from whatif.cell.loads import Load, Pallet
from whatif.cell.machines import Spindle
from whatif.cell.model import HOUR, WEEK, Cell, MachineGroup, Making, Part, RealOrder, Shift
from whatif.cell.persons import Person
from whatif.cell.run import Run
from whatif.cell.wanted import Endless, EndlessOrder, OrderBook, RealProgress
from whatif.cell.weeks import LOOKED_AT, Weeks
from whatif.plan.build import plans_of
from whatif.session.calculate import memory
from whatif.study.check.check import check
from whatif.study.file.reading import read_file


def looked_at(cell: Cell, most: int = LOOKED_AT) -> Weeks:
    """The weeks of a cell, run until they are known to repeat, or so many."""
    weeks = Weeks(cell)
    while weeks.repeats is None and weeks.week < most:
        weeks.advance()
    return weeks


def held(cell: Cell, rounds: int = 3, most: int = LOOKED_AT) -> Weeks:
    """Hold all borders of a few rounds against the run in full, where weeks repeat."""
    weeks = looked_at(cell, most)
    if weeks.repeats is not None:
        first, length = weeks.repeats
        run = Run(cell)
        for week in range(1, first + rounds * length + 6):
            run.advance(week * WEEK)
            if week >= first:
                assert weeks.knows(week)
                assert weeks.tally(week) == run.tally(), week
    return weeks


# --- random cells -----------------------------------------------------------------------


@st.composite
def calm_cells(draw: st.DrawFn) -> Spec:
    """Cells of which whole or half orders are wanted a week, so that many come to rest."""
    spec: Spec = draw(cells(stops=False))
    for entry in spec["part"].values():
        if entry.get("weekly"):
            entry["weekly"] = entry["batch"] * draw(st.sampled_from((0.5, 1, 1, 2, 3)))
    return spec


def held_at_random(drawn: st.SearchStrategy[Spec], most: int, weeks: int) -> list[bool]:
    """Hold random cells; of each whether its weeks repeat, with something cut in them."""
    found: list[bool] = []

    @examples(most, shrinks=False)
    @given(drawn)
    def hold(spec: Spec) -> None:
        run = held(cell_of(spec), rounds=2, most=weeks)
        found.append(run.repeats is not None and any(run.tally(sum(run.repeats) + 1).cut))

    hold()
    return found


@pytest.mark.long
@pytest.mark.examples
def test_repeated_weeks_count_what_a_run_in_full_counts() -> None:
    repeat = held_at_random(calm_cells(), 400, weeks=16)
    assert len(repeat) >= 20
    assert sum(repeat) >= len(repeat) // 5


@pytest.mark.long
@pytest.mark.examples
def test_repeated_weeks_of_cells_of_all_kinds() -> None:
    repeat = held_at_random(cells(stops=False), 1200, weeks=40)
    assert sum(repeat) >= len(repeat) // 5


@trying(100)
@given(cells(stops=False))
def test_who_holds_a_fixture_follows_from_the_pallets(spec: Spec) -> None:
    """And so it need not be in the print."""
    run = Run(cell_of(spec))
    for week in (1, 2):
        run.advance(week * WEEK)
        pallets = run.floor.pallets
        holds = {(pallet.fixture, pallet.index) for pallet in pallets if pallet.fixture >= 0}
        comes = {(pallet.coming.fixture, pallet.index) for pallet in pallets if pallet.coming}
        held = run.floor.book.held
        assert {(one, i) for one, by in held.items() for i in by} == holds | comes
        assert not run.floor.stirred


# --- by hand ----------------------------------------------------------------------------

MAKING = Making(cycle=1800, load=120, unload=60)


def one_table(**changes: Fraction | int) -> Cell:
    """One table, Monday to Friday from 06:00 to 14:00, two bodies an hour at most."""
    part = replace(Part("body", (MAKING,), Fraction(10), batch=10), **changes)  # type: ignore[arg-type]
    return Cell(
        shifts=(Shift("early", (0, 1, 2, 3, 4), 6 * HOUR, 8 * HOUR),),
        groups=(MachineGroup("mill"),),
        parts=(part,),
        run_ahead=0,
    )


def cut_by_week(weeks: Weeks, most: int) -> list[int]:
    """Pieces cut in each week from the first border known on."""
    known = [week for week in range(1, most + 1) if weeks.knows(week)]
    tallies = [weeks.tally(week) for week in known]
    return [later.cut[0] - tally.cut[0] for tally, later in pairwise(tallies)]


def test_a_cell_that_makes_what_a_week_wants_repeats_every_week() -> None:
    weeks = held(one_table())
    # Order k may be opened k - 1 weeks after the start: ten pieces each Monday, and nothing else.
    # Two borders look alike at the second one; of what is seen closely the third is like it.
    assert weeks.repeats == (2, 1)
    assert weeks.week == 3
    assert weeks.tally(104).cut == (1040,)
    assert weeks.tally(104).cycle == ((1040 * 1800,),)


def test_an_order_every_third_week_repeats_every_third_week() -> None:
    weeks = held(one_table(weekly=Fraction(10, 3)))
    # At each border nothing is at hand and nothing under way; how far the next due date is tells.
    assert weeks.repeats is not None
    assert weeks.repeats[1] == 3
    assert sorted(cut_by_week(weeks, 9)[:3]) == [0, 0, 10]
    assert weeks.tally(102).cut == (340,)


def test_a_cell_that_falls_behind_repeats_though_its_due_dates_stay_back() -> None:
    weeks = held(one_table(weekly=Fraction(200), batch=1))
    # A day that begins with a visit: 60 + 60 + 120 s, a cut of 1,800 s, 2,040 s in all, 14 times by
    # 28,560 s, and a visit to 28,800 s, 14:00, after which nothing is begun. The next day begins
    # with that cut: 1,800 + 13 x 2,040 + 240 = 28,560 s for 14, and the 15th is begun and finished.
    # The first day's first visit takes nothing off: it is one of 15. Of five days one week has
    # three of 15, the next two.
    assert weeks.repeats is not None
    assert weeks.repeats[1] == 2
    assert set(cut_by_week(weeks, 30)) == {3 * 15 + 2 * 14, 2 * 15 + 3 * 14}
    assert weeks.tally(104).cut == (52 * (73 + 72),)


def test_a_cell_that_runs_ahead_only_for_a_while_is_not_taken_to_do_so_for_ever() -> None:
    """It makes all that it can until orders ten weeks ahead are open, then what is wanted.

    72.5 a week until 10 x 35 more are made than are due, which takes 9.3 weeks.
    """
    cell = replace(one_table(batch=1, weekly=Fraction(35)), run_ahead=10 * WEEK)
    weeks = held(cell)
    run = Run(cell)
    run.advance(2 * WEEK)
    second = run.tally().cut[0]
    run.advance(3 * WEEK)
    assert run.tally().cut[0] - second == 73
    assert weeks.repeats is not None
    assert weeks.repeats[0] > 9
    assert weeks.tally(104).cut[0] - weeks.tally(103).cut[0] == 35


def test_flat_out_weeks_repeat_ever_further_ahead() -> None:
    cell = replace(one_table(batch=1), to_order=False)
    weeks = held(cell)
    assert weeks.repeats is not None
    assert weeks.tally(104).cut[0] > 5 * 1040


def test_flat_out_weeks_repeat_though_due_dates_are_rounded() -> None:
    """145 in two weeks, 37 of which are due in one: not by whole seconds, 145 weeks / 37."""
    weeks = held(replace(one_table(batch=1, weekly=Fraction(37)), to_order=False))
    assert weeks.repeats is not None
    assert weeks.repeats[1] == 2
    assert weeks.tally(104).cut == (52 * 145,)


def test_where_it_hangs_on_rounding_what_opens_weeks_repeat_by_whole_seconds() -> None:
    """An order is due just as far ahead as is run ahead, but for the rounding."""
    cell = replace(one_table(batch=1, weekly=Fraction(37)), to_order=False, run_ahead=WEEK // 37)
    weeks = looked_at(cell)
    assert weeks.repeats is None or weeks.repeats[1] == 2 * 37


def test_stock_that_piles_up_repeats_once_it_is_never_short() -> None:
    """Ten of 11 are wanted on from each order, so that stock grows by a piece a week."""
    first = Part("first", (MAKING,), Fraction(11), batch=11)
    second = Part("second", (MAKING,), Fraction(10), batch=10, after=0)
    weeks = held(replace(one_table(), parts=(first, second)))
    assert weeks.repeats is not None
    assert weeks.tally(104).cut[1] - weeks.tally(103).cut[1] == 10


def test_real_orders_are_waited_for() -> None:
    order = RealOrder("spare", 0, 5, arrives=2 * WEEK + 7 * HOUR)
    weeks = held(replace(one_table(), orders=(order,)))
    assert weeks.repeats is not None
    assert weeks.repeats[0] >= 3
    assert weeks.tally(104).cut == (1045,)
    assert weeks.tally(104).orders == weeks.tally(weeks.week).orders


@pytest.mark.parametrize("cell", [small_cell(), small_cell(stops=(), scatter=0.3)])
def test_luck_never_repeats(cell: Cell) -> None:
    weeks = looked_at(cell, 3)
    assert [weeks.knows(week) for week in range(5)] == [False, False, False, True, False]


def test_what_has_not_repeated_in_the_weeks_looked_at_runs_on_in_full() -> None:
    """119 weeks have an order more than there are weeks, so none repeats before that."""
    cell = one_table(weekly=Fraction(120, 119), batch=1)
    weeks = looked_at(cell)
    assert weeks.repeats is None
    weeks.advance()
    assert weeks.week == LOOKED_AT + 1
    assert weeks.has_passed(LOOKED_AT)
    run = Run(cell)
    run.advance(weeks.week * WEEK)
    assert weeks.tally(weeks.week) == run.tally()


# --- demos ------------------------------------------------------------------------------

REPEATING = [
    ("pallets-until-demand", "new_cell", (29, 15)),
    ("small-orders", "late", (18, 22)),
    ("one-person", "bench_moved", (68, 5)),
]
"""Of three demos the scenarios whose weeks repeat within two years: the others have more to do than
they can, with the second at which each week begins its own."""


@pytest.mark.parametrize(("demo", "scenario", "repeats"), first_of(REPEATING))
def test_demos_whose_weeks_repeat(demo: str, scenario: str, repeats: tuple[int, int]) -> None:
    cell = plans_of(check(read_file(SCENARIOS / f"{demo}.toml").draft))[scenario].cell
    assert cell is not None
    assert held(cell, rounds=2).repeats == repeats


# --- the memory of a session ------------------------------------------------------------


def test_a_memory_runs_no_week_that_is_known_to_repeat(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(memory, "Weeks", Weeks)
    weeks: list[None] = []
    remembers = memory.Memory(between_weeks=lambda: weeks.append(None))
    for warm_up, measured in ((4, 12), (4, 24), (4, 96), (2, 500)):
        tally = remembers(one_table(), warm_up, measured)
        assert tally.cut == (10 * measured,)
        assert tally.seconds == measured * WEEK
    assert (len(weeks), remembers.ran) == (3, 1)


# --- all that a floor is ----------------------------------------------------------------

STATE, DRIFTS, COUNT, SAME, FOLLOWS = (
    "in the print",
    "drifts",
    "counted",
    "never changes",
    "follows",
)


def each(kind: str, *names: str) -> dict[str, str]:
    """Some fields of one kind."""
    return dict.fromkeys(names, kind)


FIELDS: dict[type, dict[str, str]] = {
    Floor: {
        **each(STATE, "pallets", "spindles", "persons", "book", "line", "week", "place", "events"),
        **each(STATE, "wake", "night", "allowed", "lacking"),
        **each(SAME, "some_only_load", "some_may_not", "seen", "booked"),
        **each(DRIFTS, "now", "woken"),
        **each(COUNT, "counted"),
        **each(SAME, "cell", "calendar", "pace"),
        # From the place; now, at a border; from what is stirred, which is none.
        **each(FOLLOWS, "segment", "looked_at", "stirred", "just_free"),
        **each(FOLLOWS, "arrivals"),  # none is to come
    },
    Pallet: {
        **each(STATE, "at", "fixture", "load", "coming", "order", "after_rush", "since", "in_line"),
        **each(STATE, "lacks"),
        # Where weeks may repeat visits do not scatter.
        **each(SAME, "index", "machine", "group", "scatter"),
    },
    Load: {
        **each(STATE, "part", "pieces", "order", "fixture", "first", "unproved", "attended_only"),
        **each(STATE, "rush", "cut"),
        **each(FOLLOWS, "making"),  # from the part and the machine
    },
    Call: {
        **each(STATE, "job", "machine", "pallet", "asked", "left", "total", "setup", "minutes"),
        **each(STATE, "person", "bench", "part"),
        **each(COUNT, "begun"),  # no rule asks for it
        **each(FOLLOWS, "rank"),  # from the job, what is left and when it was asked for
    },
    Spindle: {
        **each(STATE, "used", "pallet", "doing", "since", "done", "change_left", "warm_left"),
        **each(STATE, "last_spun", "prove", "tools", "repair", "visits", "asked", "stopped"),
        **each(STATE, "left_waiting", "lacked", "stirred", "state", "state_since", "shown_visit"),
        # Where weeks may repeat there are no stops.
        **each(SAME, "luck", "to_stop", "stops"),
        **each(SAME, "index", "group", "kind", "pallets", "event", "is_table", "makings"),
        **each(COUNT, "spent", "cycle"),
        **each(FOLLOWS, "until"),  # from its event
    },
    Person: {
        **each(STATE, "here", "on_duty", "base", "work", "work_since", "bench_left", "free_since"),
        **each(STATE, "ends"),  # whether an event holds
        **each(STATE, "stays_by"),
        **each(COUNT, "busy", "busy_by_job", "free_stretches"),
        **each(SAME, "index", "shift", "pattern", "does", "may", "sets_up", "event"),
        **each(SAME, "works_here"),
    },
    EndlessOrder: {
        **each(STATE, "number", "left", "opened", "at"),
        **each(DRIFTS, "due_before", "due"),
        **each(FOLLOWS, "key", "fixture"),  # from the number
    },
    Endless: {
        **each(STATE, "waiting"),
        **each(SAME, "part", "parts", "pieces", "numbers", "at_once", "seconds", "share"),
    },
    RealProgress: {
        # None is left, or it never comes.
        **each(FOLLOWS, "left", "here", "at", "taken", "off"),
        **each(COUNT, "in_time", "first_off", "last_off"),
    },
    OrderBook: {
        **each(STATE, "endless", "changes", "asked_at", "woken_at"),
        **each(DRIFTS, "unopened", "stock"),
        **each(COUNT, "most_held", "openings", "rules_part"),
        **each(SAME, "family", "mix", "mixes_of", "good", "whole", "feeds"),
        **each(SAME, "fixtures", "after", "wears", "shares"),
        # From the orders; from the fixtures of pallets, and of what is coming to them.
        **each(FOLLOWS, "real", "held"),
    },
    Counted: {
        **each(COUNT, "cut", "cut_for_orders", "cut_for_rush", "rush_cycle"),
        **each(COUNT, "nights", "stood", "closed", "beyond", "may_not", "nobody_may"),
    },
}
"""What has been decided of each field: it is told relative to now in the print, or it drifts, is
only counted, never changes, or follows from others. What its docstring calls a cache follows."""


@pytest.mark.parametrize("record", FIELDS, ids=lambda record: record.__name__)
def test_of_every_field_it_is_decided_whether_the_future_hangs_on_it(record: type) -> None:
    caches = re.findall(r"^ +([a-z_, ]+): cache:", docstring(record), re.MULTILINE)
    cached = {name for line in caches for name in line.split(", ")}
    names = set(named(record))
    assert names - cached == set(FIELDS[record]) - cached


def docstring(record: type) -> str:
    """As its module's source has it: compiled classes have none."""
    return ast.get_docstring(written(record), clean=False) or ""


def named(record: type) -> list[str]:
    """The fields that its class names, by annotations or as slots."""
    found: list[str] = []
    for node in written(record).body:
        if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            found.append(node.target.id)
        elif isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__slots__":
            found += ast.literal_eval(node.value)
    return found


def written(record: type) -> ast.ClassDef:
    """The class as its module's source has it."""
    source = Path(whatif.cell.__file__).with_name(f"{record.__module__.split('.')[-1]}.py")
    for node in ast.parse(source.read_text("utf-8")).body:
        if isinstance(node, ast.ClassDef) and node.name == record.__name__:
            return node
    raise LookupError(record)
