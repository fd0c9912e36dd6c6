"""Parts made one after the other, and what people and machines may do: checked, and told the cell.

The pencil stands beside each number; rules `orders.made`, `orders.due`, `fixtures.free`.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from answer_studies import CHILD, plan_of, sound, today
from study_texts import today as draft_of

from whatif.cell.model import ALL_DAYS
from whatif.plan.model import Plan
from whatif.study.check.check import check
from whatif.study.problem import ProblemKind
from whatif.study.stated import Stated
from whatif.telling.warnings import plan_warning

RAW = 'part.raw.cycle = "5 min"'
LID = 'part.lid.cycle = "4 min"\npart.lid.weekly = 10'
AFTER = 'part.body.after = "raw"'


def planned(*lines: str) -> Plan:
    """The plan of the study with more lines, those of its shift among them."""
    early = "shift.early."
    every = "\n".join(lines).splitlines()
    text = today(*(line for line in every if not line.startswith(early)))
    own = (line.removeprefix(early) + "\n" for line in every if line.startswith(early))
    return plan_of(text + "".join(own))


def kinds(*lines: str) -> list[tuple[str, ProblemKind]]:
    found = check(draft_of(*"\n".join(lines).splitlines())).problems
    return [(problem.key, problem.kind) for problem in found]


# -- checked ---------------------------------------------------------------------------------

THREE = "\n".join(f"part.{id_}.cycle = '5 min'\npart.{id_}.weekly = 10" for id_ in "abc")


@pytest.mark.parametrize(
    ("lines", "key", "kind"),
    [
        (["part.a.after = 'a'"], "part.a.after", ProblemKind.AFTER_ITSELF),
        (
            ["part.a.after = 'b'", "part.b.after = 'c'", "part.c.after = 'a'"],
            "part.a.after",
            ProblemKind.AFTER_EACH_OTHER,
        ),
        (
            ["part.a.after = 'c'", "part.b.after = 'c'"],
            "part.b.after",
            ProblemKind.TWO_AFTER_ONE,
        ),
        (["part.a.after = 'd'"], "part.a.after", ProblemKind.NO_SUCH_THING),
    ],
)
def test_parts_follow_each_other_in_lines(lines: list[str], key: str, kind: ProblemKind) -> None:
    assert kinds(THREE, *lines) == [(key, kind)]
    assert kinds(THREE, "part.a.after = 'b'", "part.b.after = 'c'") == []


def test_weekly_is_required_but_before_another_operation() -> None:
    assert kinds(RAW) == [("part.raw.weekly", ProblemKind.MISSING)]
    assert kinds(RAW, LID, "part.lid.after = 'raw'") == []


SHIFT = """\
shift.x.days = ["mon"]
shift.x.start = "22:00"
shift.x.end = "06:00"
"""


@pytest.mark.parametrize(
    ("line", "key", "kind"),
    [
        ('shift.x.unpaid_breaks = ["21:00-22:30"]', "unpaid_breaks", ProblemKind.BREAK_OUTSIDE),
        (
            'shift.x.breaks = ["23:50-00:20"]\nshift.x.unpaid_breaks = ["00:10-00:40"]',
            "unpaid_breaks",
            ProblemKind.BREAK_PAID_AND_UNPAID,
        ),
        ('shift.x.does = ["setup", "tools"]', "does", ProblemKind.SETS_UP_WITHOUT_LOADING),
    ],
)
def test_a_shift_as_it_cannot_be(line: str, key: str, kind: ProblemKind) -> None:
    assert kinds(SHIFT, line) == [(f"shift.x.{key}", kind)]


def test_a_shift_as_it_can_be() -> None:
    assert kinds(SHIFT, 'shift.x.breaks = ["23:50-00:20"]') == []
    assert (
        kinds(SHIFT, 'shift.x.does = ["release"]', 'shift.x.unpaid_breaks = ["02:00-02:30"]') == []
    )


# -- told the cell ---------------------------------------------------------------------------


def test_an_operation_is_wanted_as_often_as_the_next_one_needs_it() -> None:
    """100 good bodies a week, 1 in 5 scrapped: 125 good of raw go in, of which 1 in 2 is scrap: 250
    good of bar. What bar scraps is made good by its own orders."""
    bar = 'part.bar.cycle = "2 min"\npart.bar.scrap = "30 %"\npart.raw.scrap = "50 %"'
    plan = planned(RAW, bar, AFTER, 'part.body.scrap = "20 %"', 'part.raw.after = "bar"')
    assert plan.cell is not None
    by_id = {part.id: part for part in plan.cell.parts}
    wanted = {"body": 100, "raw": 125, "bar": 250}
    assert {id_: part.weekly for id_, part in by_id.items()} == wanted
    places = [part.id for part in plan.cell.parts]
    assert by_id["body"].after == places.index("raw")
    assert by_id["raw"].after == places.index("bar")
    assert by_id["bar"].after is None
    assert {part.id: part.weekly for part in plan.parts} == wanted
    assert planned(RAW, AFTER, "part.raw.weekly = 40").parts[0].weekly == 40


def test_what_comes_after_a_part_that_is_not_made_is_not_made() -> None:
    raw = RAW + "\npart.raw.machines = ['gone']\nmachine.gone.count = 0"
    plan = planned(raw, AFTER, LID)
    assert plan.cell is not None
    assert [part.id for part in plan.cell.parts] == ["lid"]
    said = [plan_warning(warning) for warning in plan.warnings]
    assert "body is not made: raw, which it comes after, is not made." in said


def test_what_people_nights_machines_and_orders_may_do() -> None:
    plan = planned(
        'shift.early.does = ["release", "load"]',
        'unattended.after_shift = "2 h"',
        'unattended.nights = ["fri", "mon"]',
        "machine.mill.unattended = false",
        'sequence.make = "flat_out"',
        "part.body.numbers = 3",
        "part.body.at_once = 2",
    )
    cell = plan.cell
    assert cell is not None
    assert cell.shifts[0].does == ("load", "release")
    assert cell.nights == (0, 4)
    assert not cell.groups[0].unattended
    assert not cell.to_order
    assert (cell.parts[0].numbers, cell.parts[0].at_once) == (3, 2)


def test_fixtures_for_all_pallets_or_for_all_machines() -> None:
    """Two mills of three pallets, four lathes: 2 x 3 + 4 = 10; of several numbers 2 + 4 = 6."""
    machines = "machine.mill.count = 2\nmachine.mill.pallets = 3\nmachine.lathe.count = 4"

    def fixtures(*lines: str) -> int | None:
        cell = planned(machines, *lines).cell
        assert cell is not None
        return cell.parts[0].fixtures

    assert fixtures() == 10
    assert fixtures("part.body.numbers = 2") == 6
    assert fixtures('part.body.machines = ["mill"]') == 6
    assert fixtures("part.body.fixtures = 1") == 1


ALL_BUT = '"load", "setup", "prove_out", "tools", "repair", "release"'


@pytest.mark.parametrize(
    ("work", "line", "told"),
    [
        ("setup", 'part.body.setup = "5 min"', "a setup"),
        ("prove_out", 'part.body.prove_out = "5 min"', "a prove-out"),
        ("tools", "part.body.tool_life = 30", "new tools"),
        ("release", 'part.body.first_piece = "5 min"', "the release of a first piece"),
        ("setup", 'part.body.on.mill.setup = "5 min"', "a setup"),
    ],
)
def test_a_part_that_needs_what_nobody_may_do(work: str, line: str, told: str) -> None:
    does = f"shift.early.does = [{ALL_BUT}]"
    fewer = does.replace(f', "{work}"', "")
    for lines, is_made in (((line, does), True), ((line, fewer), False), ((fewer,), True)):
        plan = planned(*lines)
        said = [plan_warning(warning) for warning in plan.warnings]
        assert (plan.parts[0].place is not None) == is_made
        assert any(f"body is not made: it needs {told}" in each for each in said) != is_made


def test_a_part_is_made_where_somebody_may_do_what_it_needs_there() -> None:
    lathe = 'machine.lathe.count = 1\npart.body.on.mill.prove_out = "9 min"'
    plan = planned(lathe, 'shift.early.does = ["load", "setup"]')
    assert plan.cell is not None
    assert [making is not None for making in plan.cell.parts[0].making] == [True, False]
    assert plan.cell.parts[0].fixtures == 1


def test_stops_that_nobody_may_see_to_are_told() -> None:
    stop = 'stop.chips.every = "8 h"\nstop.chips.repair = "20 min"'
    (said,) = map(plan_warning, planned(stop, 'shift.early.does = ["load"]').warnings)
    assert said.startswith("Nobody in any shift may see to stops, and chips needs somebody")
    assert planned(stop).warnings == ()
    assert (
        planned(stop, 'shift.early.does = ["load"]', "stop.chips.needs_person = false").warnings
        == ()
    )


def test_hours_of_shifts_that_load_and_hours_paid() -> None:
    """Early 6-14, two people, with 30 min off, unpaid: a week 5 x 8 h of shift, paid 2 x 5 x 7.5.
    An inspector on Saturday, 6-10, 15 min off, paid: no hour of shift, 4 h paid, a sixth day."""
    inspector = """\
shift.gauge.days = ["sat"]
shift.gauge.start = "06:00"
shift.gauge.end = "10:00"
shift.gauge.breaks = ["08:00-08:15"]
shift.gauge.does = ["release"]"""
    plan = plan_of(today(*inspector.splitlines()).replace("\nbreaks", "\nunpaid_breaks"))
    assert plan.shift_seconds == 40 * 3600
    assert plan.paid_by_shift == {"gauge": 4 * 3600, "early": 75 * 3600}
    assert plan.paid_seconds == 79 * 3600
    assert plan.duty_seconds == (75 + 3.75) * 3600
    assert plan.shift_days == 6
    assert plan.cell is not None
    assert plan.cell.shifts[1].breaks == ((3 * 3600, 3 * 3600 + 1800),)


def test_pieces_are_begun_after_hours_only_where_a_night_is_among_them() -> None:
    after = 'unattended.after_shift = "2 h"'
    assert planned(after).after_shift
    assert not planned(after, "unattended.nights = []").after_shift
    assert not planned(after, 'unattended.nights = ["sun"]').after_shift
    assert not planned().after_shift
    # Without hours after a shift the days make no difference, and no other cell.
    cell = planned('unattended.nights = ["sun"]').cell
    assert cell is not None
    assert cell.nights == ALL_DAYS


def test_weeks_that_are_to_settle_begin_with_twelve() -> None:
    text = today()
    assert (plan_of(text).weeks, plan_of(text).settled) == (2, False)
    settled = plan_of(text.replace("weeks = 2\n", ""))
    assert (settled.weeks, settled.settled) == (12, True)


# -- what draws need -------------------------------------------------------------------------


def test_where_each_stated_time_stands() -> None:
    """A default stands nowhere; a time is exact, and on one machine only where it is other."""
    text = today('part.body.load = "0.255 min"', 'handling.walk = "90 s"') + CHILD
    text += 'part.body.cycle = "13 min"\npart.body.on.mill.setup = "1 h"\n'
    plan = plans(text)["child"]
    stated = plan.stated

    def at(path: str) -> Stated:
        return stated[tuple(path.split("."))]

    assert at("part.body.load") == Stated(Fraction("15.3"), "today", "part.body.load", False)
    assert at("part.body.cycle") == Stated(Fraction(780), "child", "part.body.cycle", False)
    assert at("part.body.unload") == Stated(Fraction(60), "", "part.body.unload", True)
    assert at("part.body.weekly") == Stated(Fraction(100), "today", "part.body.weekly", False)
    assert at("handling.walk").value == 90
    assert at("part.body.on.mill.setup").scenario == "child"
    assert ("part", "body", "on", "mill", "load") not in stated
    assert ("unattended", "after_shift") not in stated
    assert (plan.accuracy, plan.guess_accuracy, plan.scatter) == (
        Fraction(1, 20),
        Fraction(1, 5),
        pytest.approx(0.3),
    )
    # What is wanted of an operation follows from the next one's, and is not drawn by itself.
    assert ("part", "raw", "weekly") not in planned(RAW, AFTER).stated


def plans(text: str) -> dict[str, Plan]:
    return {id_: plan_of(text, id_) for id_ in sound(text).resolved}
