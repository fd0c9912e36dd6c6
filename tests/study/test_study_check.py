from dataclasses import astuple
from fractions import Fraction

import pytest
from study_texts import today, valves

from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.file.reading import read_text
from whatif.study.problem import Problem, ProblemKind
from whatif.telling.problems import message as message_of
from whatif.telling.problems import problem_in_short, problem_sentence

SHIFT = (
    'shift.early.days = ["mon"]',
    'shift.early.start = "06:00"',
    'shift.early.end = "14:00"',
)


def problems(draft: Draft) -> list[tuple[str | None, str, str]]:
    """Where each problem is told, and which value it names."""
    return [(each.scenario, each.key, each.value) for each in check(draft).problems]


def the_problem(draft: Draft) -> Problem:
    (problem,) = check(draft).problems
    return problem


def test_the_example_of_the_cell_model_is_without_fault() -> None:
    checked = check(valves())
    assert checked.problems == checked.warnings == ()
    study = checked.study
    assert study is not None
    assert (study.format, study.title, study.units) == (1, "Valve bodies", "metric")
    assert (study.reference, study.weeks, study.warm_up, study.runs) == ("today", 13, 2, 20)
    assert list(study.scenarios) == ["today", "six_pallets", "night"]
    night = study.scenarios["night"]
    assert (night.id, night.title, night.parent) == ("night", "night", "six_pallets")
    assert night.unattended.after_shift == "until done"
    assert night.machine["mill"].pallets == 6
    assert night.part["body"].cycle.seconds == 660
    assert night.part["body"].weekly == Fraction(1100)
    assert night.shift["late"].breaks == ((64_800, 66_600),)
    assert night.handling.walk.text == "1 min"
    assert night.said.machines is None


def test_root_keys_have_their_defaults() -> None:
    study = check(today()).study
    assert study is not None
    assert (study.title, study.units, study.reference) == ("", "metric", "today")
    assert (study.weeks, study.warm_up, study.runs) == ("settled", 4, 19)
    assert (study.today, study.accuracy.text, study.guess_accuracy.text) == ("today", "5 %", "20 %")
    assert (study.settled, study.first_weeks) == (True, 12)


def test_things_that_are_taken_out_are_still_in_the_study() -> None:
    study = check(valves("machine.mill.count = 0", "shift.late.people = 0")).study
    assert study is not None
    assert study.scenarios["night"].machine["mill"].count == 0
    assert study.scenarios["night"].shift["late"].people == 0


@pytest.mark.parametrize(
    ("text", "key", "value", "message", "nearest"),
    [
        ("format = 2", "format", "2", "later form", None),
        ("format = 0", "format", "0", "too small", None),
        ('format = "1"', "format", '"1"', "without quotation marks", None),
        ("", "format", "", "does not say format = 1", None),
        ("format = 1\nweeks = 521", "weeks", "521", "too large", None),
        ("format = 1\nwarm_up = 105", "warm_up", "105", "too large", None),
        ('format = 1\nweeks = "12"', "weeks", '"12"', "without quotation marks", None),
        ('format = 1\nweeks = "setled"', "weeks", '"setled"', "another text", None),
        ('format = 1\naccuracy = "51 %"', "accuracy", '"51 %"', "too large", None),
        ('format = 1\ntoday = "toady"', "today", '"toady"', "no such scenario", "today"),
        ("format = 1\nruns = 0", "runs", "0", "too small", None),
        ('format = 1\nunits = "cm"', "units", '"cm"', "none of the words", None),
        ("format = 1\ntitel = 3", "titel", "3", "no such key", "title"),
        ("format = 1\n[scenarios.a]", "scenarios", "{ a = {} }", "no such key", "scenario"),
        ("format = 1\nmachine = 3", "machine", "3", "under a scenario", None),
        ('format = 1\nreference = "toady"', "reference", '"toady"', "no such scenario", "today"),
    ],
)
def test_faults_of_root_keys(
    text: str, key: str, value: str, message: str, nearest: str | None
) -> None:
    problem = the_problem(read_text(text + "\n[scenario.today]"))
    assert (problem.scenario, problem.key, problem.value) == (None, key, value)
    assert message in message_of(problem)
    assert problem.nearest == nearest


@pytest.mark.parametrize("text", ["format = 1", "format = 1\n[scenario]"])
def test_a_study_needs_a_scenario(text: str) -> None:
    assert message_of(the_problem(read_text(text))) == "there is no scenario"


@pytest.mark.parametrize(
    ("line", "key", "message", "nearest"),
    [
        ("machine.mill.cuont = 1", "machine.mill.cuont", "no such key", "machine.mill.count"),
        ('after_shift = "1 h"', "after_shift", "no such key", "unattended.after_shift"),
        (
            "machine.mill.pallets.x = 1",
            "machine.mill.pallets.x",
            "one value",
            "machine.mill.pallets",
        ),
        ("machine.faces = 3", "machine.faces", "the id of the machine", "machine.<id>.faces"),
        ("machine.lathe = 3", "machine.lathe", "a table is wanted", None),
        ("stop = 3", "stop", "a table is wanted", None),
        ("handling = 3", "handling", "a table is wanted", None),
        ("order = [{due = 1}]", "order", "a list of tables", None),
        ("machine.mill.faces = {}", "machine.mill.faces", "a table", None),
        ("part.body.on.mill = 3", "part.body.on.mill", "a table is wanted", None),
        ('machine."a b".count = 1', "machine.a b", "no id", None),
        ("title = 3", "title", "a text is wanted", None),
        ("parent = 3", "parent", "an id is wanted", None),
        ('part.body.load = "5 m"', "part.body.load", "a time is wanted", None),
        ("part.body.load = 5", "part.body.load", "a bare number", None),
        ("part.body.load = 06:00:00", "part.body.load", "a date or time of day", None),
        ("part.body.scrap = '100 %'", "part.body.scrap", "too large", None),
        ("part.body.on.mill.cycle = '0.4 s'", "part.body.on.mill.cycle", "0 s when rounded", None),
        ("money.wage = -1", "money.wage", "too small", None),
        ("money.currency = 'usd'", "money.currency", "no currency code", None),
        ("money.rate = 0.08", "money.rate", "a bare number", None),
        ("unattended.after_shift = 'late'", "unattended.after_shift", "no number", None),
        ("said.with_people.hours = '25 h'", "said.with_people.hours", "too long", None),
    ],
)
def test_faults_of_single_values(line: str, key: str, message: str, nearest: str | None) -> None:
    problem = the_problem(today(line))
    assert (problem.scenario, problem.key) == ("today", key)
    assert message in message_of(problem)
    assert problem.nearest == nearest


def test_a_sentence_says_one_thing_once() -> None:
    assert problem_sentence(the_problem(today("part.body.load = 5"))) == (
        "Scenario today, part.body.load = 5: it is a bare number; allowed is a time with its unit, "
        'such as "5 min" or "5 h".'
    )
    assert problem_in_short(the_problem(today('part.body.load = "5 m"'))) == (
        'm is metres, and a time is wanted; allowed is a time with its unit, such as "5 min".'
    )


def test_a_sentence_names_all_that_matters() -> None:
    assert problem_sentence(the_problem(today("machine.mill.pallet = 201"))) == (
        "Scenario today, machine.mill.pallet = 201: there is no such key; allowed is one of "
        "count, pallets, load_stations, pallet_change, warm_up, unattended, table, travel, "
        "work_height, table_load, faces, pockets, price, resale, pallet_price, "
        "pallet_system_price, yearly, owned, floor, pallet_floor. Did you mean "
        "machine.mill.pallets?"
    )
    assert problem_sentence(the_problem(today("machine.mill.pallets = 201"))) == (
        "Scenario today, machine.mill.pallets = 201: it is too large; "
        "allowed is a whole number from 1 to 200."
    )
    assert problem_sentence(the_problem(read_text("[scenario.a]"))) == (
        "format: the file does not say format = 1; allowed is 1."
    )


def test_a_scenario_that_is_no_table() -> None:
    problem = the_problem(read_text("format = 1\n[scenario]\na = 3\nb.title = 'B'"))
    assert (problem.scenario, problem.key) == ("a", "")
    assert problem_sentence(problem).startswith(
        "Scenario a = 3: it is a bare number, and a table is wanted; "
    )
    listed = read_text("format = 1\n[[scenario.a]]\n[scenario.b]")
    assert the_problem(listed).scenario == "a"
    assert the_problem(read_text("format = 1\nscenario = 3")).key == "scenario"


def test_a_scenario_s_id_is_checked() -> None:
    problem = the_problem(read_text('format = 1\n[scenario."six pallets"]'))
    assert (problem.value, message_of(problem)) == ('"six pallets"', "it is no id")


@pytest.mark.parametrize(
    ("text", "scenario", "message", "nearest"),
    [
        ("a.parent = 'mil'\nmill.title = 'M'", "a", "there is no such scenario", "mill"),
        ("a.parent = 'a'", "a", "it is its own parent", None),
        ("a.parent = 'b'\nb.parent = 'c'\nc.parent = 'b'", "b", "(b -> c -> b)", None),
    ],
)
def test_faults_of_the_tree_are_told_once(
    text: str, scenario: str, message: str, nearest: str | None
) -> None:
    problem = the_problem(read_text("format = 1\n[scenario]\n" + text))
    assert (problem.scenario, problem.key) == (scenario, "parent")
    assert message in message_of(problem)
    assert problem.nearest == nearest


def test_nothing_is_said_to_be_missing_where_the_parent_is() -> None:
    draft = read_text("format = 1\n[scenario.a]\nparent = 'x'\npart.p.weekly = 3")
    assert problems(draft) == [("a", "parent", '"x"')]
    assert problems(draft.with_scenario(draft.scenario("a").having(("parent",), 3))) == [
        ("a", "parent", "3")
    ]


@pytest.mark.parametrize(
    ("lines", "missing"),
    [
        (("shift.early.people = 2",), ["days", "start", "end"]),
        (("part.axle = {}",), ["cycle", "weekly"]),
        (("stop.chips.needs_person = false",), ["every", "repair"]),
        (("rush.r.price = 5",), ["part", "pieces"]),
        (("order.o = {}",), ["part", "pieces", "due"]),
        (("part.axle.cycle = ''", "part.axle.weekly = 3"), ["cycle"]),
    ],
)
def test_required_keys_that_are_missing_are_all_told(
    lines: tuple[str, ...], missing: list[str]
) -> None:
    found = check(today(*lines)).problems
    assert [problem.key.split(".")[-1] for problem in found] == missing
    assert {message_of(problem) for problem in found} == {"it is missing"}


@pytest.mark.parametrize(
    ("start", "end", "breaks"),
    [
        ("06:00", "14:00", '"06:00-06:15", "06:15-06:30", "13:30-14:00"'),
        ("06:00", "14:00", '"11:00-11:30", "08:30-08:45"'),
        ("22:00", "06:00", '"23:45-00:15", "02:00-02:30"'),
        ("22:00", "00:00", '"23:30-00:00"'),
        ("06:00", "06:00", '"23:45-00:15", "05:30-06:00"'),
        ("00:00", "00:00", '"00:00-00:15", "23:45-00:00"'),
    ],
)
def test_breaks_inside_their_shift(start: str, end: str, breaks: str) -> None:
    draft = today(
        "shift.a.days = ['mon']",
        f"shift.a.start = '{start}'",
        f"shift.a.end = '{end}'",
        f"shift.a.breaks = [{breaks}]",
    )
    assert check(draft).problems == ()


@pytest.mark.parametrize(
    ("start", "end", "breaks", "message"),
    [
        ("06:00", "14:00", '"13:45-14:15"', "the break 13:45-14:15 is not inside"),
        ("06:00", "14:00", '"05:45-06:15"', "the break 05:45-06:15 is not inside"),
        ("06:00", "14:00", '"20:00-20:15"', "not inside the shift 06:00-14:00"),
        ("06:00", "14:00", '"08:45-08:30"', "not inside"),
        ("22:00", "06:00", '"12:00-12:15"', "not inside"),
        ("06:00", "06:00", '"05:45-06:15"', "not inside"),
        ("06:00", "14:00", '"08:30-08:45", "08:40-09:00"', "08:30-08:45 and 08:40-09:00 overlap"),
        ("22:00", "06:00", '"23:45-00:15", "00:00-00:30"', "overlap"),
        ("06:00", "14:00", '"08:30-08:45", "08:30-08:45"', "overlap"),
    ],
)
def test_breaks_outside_or_overlapping(start: str, end: str, breaks: str, message: str) -> None:
    problem = the_problem(
        today(
            "shift.a.days = ['mon']",
            f"shift.a.start = '{start}'",
            f"shift.a.end = '{end}'",
            f"shift.a.breaks = [{breaks}]",
        )
    )
    assert problem.key == "shift.a.breaks"
    assert message in message_of(problem)


def test_a_break_that_is_paid_and_unpaid_names_both_keys() -> None:
    problem = the_problem(
        today(
            "shift.a.days = ['mon']",
            "shift.a.start = '06:00'",
            "shift.a.end = '14:00'",
            "shift.a.breaks = ['12:15-12:40']",
            "shift.a.unpaid_breaks = ['12:00-12:30']",
        )
    )
    assert problem.key == "shift.a.unpaid_breaks"
    said = message_of(problem)
    assert "paid break 12:15-12:40 of `breaks`" in said
    assert "unpaid one 12:00-12:30 of `unpaid_breaks`" in said
    assert "`breaks` are the paid ones" in said


def test_hours_in_cut_are_no_more_than_hours_switched_on() -> None:
    draft = today("hour_meters.switched_on = '100 h'", "hour_meters.in_cut = '6001 min'")
    assert the_problem(draft).key == "hour_meters.in_cut"
    assert not check(
        today("hour_meters.switched_on = '100 h'", "hour_meters.in_cut = '6000 min'")
    ).problems


@pytest.mark.parametrize(
    ("lines", "key", "nearest"),
    [
        (('part.body.machines = ["mil"]',), "part.body.machines", "mill"),
        (('part.body.on.mil.cycle = "1 min"',), "part.body.on.mil", "mill"),
        (('rush.r.part = "bodi"', "rush.r.pieces = 1"), "rush.r.part", "body"),
        (
            ('order.o.part = "xyz"', "order.o.pieces = 0", 'order.o.due = "fri 12:00"'),
            "order.o.part",
            None,
        ),
    ],
)
def test_what_is_named_must_exist(lines: tuple[str, ...], key: str, nearest: str | None) -> None:
    problem = the_problem(today(*lines))
    assert (problem.key, problem.nearest) == (key, nearest)
    assert "in this scenario" in message_of(problem)


def test_a_machine_that_is_taken_out_may_still_be_named() -> None:
    draft = today('part.body.machines = ["mill", "lathe"]', "machine.lathe.count = 0")
    assert check(draft).problems == ()


CHILDREN = ("[scenario.child]", 'parent = "today"', "[scenario.grandchild]", 'parent = "child"')


@pytest.mark.parametrize(
    "line",
    [
        "machine.mill.pallets = 201",
        "machine.mill.cuont = 1",
        'part.body.machines = ["mil"]',
        "stop.chips.every = '9 h'",
        'handling.walk = "5 m"',
    ],
)
def test_a_fault_that_is_inherited_is_told_once_where_it_was_entered(line: str) -> None:
    assert the_problem(today(line, *CHILDREN)).scenario == "today"


def test_a_fault_that_arises_in_a_child_is_told_there() -> None:
    shift = (*SHIFT, 'shift.early.breaks = ["11:00-11:30"]')
    draft = today(*shift, *CHILDREN[:2], 'shift.early.start = "11:15"', *CHILDREN[2:])
    problem = the_problem(draft)
    assert (problem.scenario, problem.key) == ("child", "shift.early.breaks")
    cleared = today(*CHILDREN[:2], 'part.body.cycle = ""', *CHILDREN[2:])
    assert problems(cleared) == [("child", "part.body.cycle", "")]


def test_a_fault_that_a_child_enters_again_is_told_again() -> None:
    line = 'part.body.machines = ["mil"]'
    told = problems(today(line, *CHILDREN[:2], line))
    assert told == [(one, "part.body.machines", '["mil"]') for one in ("today", "child")]


def test_a_fault_that_a_child_repairs_is_told_of_the_parent_alone() -> None:
    draft = today("money.wage = -1", *CHILDREN[:2], "money.wage = 3")
    assert problems(draft) == [("today", "money.wage", "-1")]


def test_all_faults_are_told_at_once_in_the_order_of_the_file() -> None:
    draft = today(
        "money.wage = -1",
        "handling.walk = 3",
        "machine.mill.cuont = 3",
        'rush.r.part = "bodi"',
        "[scenario.b]",
        'parent = "c"',
        "colour = 3",
    )
    assert problems(draft.with_head("weeks", 0)) == [
        (None, "weeks", "0"),
        ("b", "parent", '"c"'),
        ("today", "handling.walk", "3"),
        ("today", "machine.mill.cuont", "3"),
        ("today", "money.wage", "-1"),
        ("today", "rush.r.pieces", ""),
        ("today", "rush.r.part", '"bodi"'),
        ("b", "colour", "3"),
    ]


def test_a_study_with_faults_still_says_what_holds() -> None:
    checked = check(today("money.wage = -1"))
    assert checked.study is None
    assert checked.resolved["today"].raw("money", "wage") == -1


def test_a_problem_is_a_plain_record() -> None:
    problem = Problem("a", ("k",), "1", ProblemKind.NO_ID, ("part",))
    assert astuple(problem) == ("a", ("k",), "1", ProblemKind.NO_ID, ("part",), "", None)
    assert problem_sentence(problem) == "Scenario a, k = 1: the id of the part is missing."


@pytest.mark.parametrize("kind", ProblemKind)
def test_every_kind_of_problem_has_its_words(kind: ProblemKind) -> None:
    details = ["today", "table", "table_load", "work_height"]
    if kind is ProblemKind.OTHER_THAN_ABOVE:
        details = ["today", "fixtures", "body"]
    assert message_of(Problem("a", ("machine", "mill", "pallets"), "1", kind, tuple(details)))


@pytest.mark.parametrize(
    "line",
    [
        "machine.mill.cuont = 1",
        "handling.walk.x = 1",
        "machine.faces = 3",
        "stop = 3",
        "order = [{due = 1}]",
        'machine."a b".count = 1',
        "part.axle.cycle = '1 min'",
        'part.body.machines = ["mil"]',
        'part.body.on.mil.cycle = "1 min"',
        "[scenario.b]\nparent = 'c'",
        "[scenario.b]\nparent = 'b'",
        "[[scenario.b]]",
    ],
)
def test_every_error_says_what_is_allowed(line: str) -> None:
    problem = the_problem(today(line))
    assert problem.allowed
    assert f"; allowed is {problem.allowed}." in problem_sentence(problem)
    assert f"Scenario {problem.scenario}" in problem_sentence(problem)
    assert problem.value in problem_sentence(problem)


def test_a_broken_line_of_parents_hides_no_fault_of_own_values() -> None:
    shift = (
        '.shift.day]\ndays = ["mon"]\nstart = "06:00"\nend = "14:00"\n'
        'breaks = ["05:00-05:30", "09:00-09:30", "09:15-09:45"]\n'
    )
    text = (
        'format = 1\n[scenario.a]\nparent = "b"\n[scenario.b]\nparent = "a"\n'
        'hour_meters.switched_on = "50 h"\nhour_meters.in_cut = "60 h"\n'
        f'[scenario.a{shift}[scenario.c]\nparent = "nowhere"\n[scenario.c{shift}'
    )
    told = [problem_sentence(problem) for problem in check(read_text(text)).problems]
    for scenario in ("a", "c"):
        mine = [sentence for sentence in told if sentence.startswith(f"Scenario {scenario},")]
        assert sum("is not inside the shift" in sentence for sentence in mine) == 1
        assert sum("overlap" in sentence for sentence in mine) == 1
    assert sum("60 h" in sentence for sentence in told) == 1
    assert not [sentence for sentence in told if "is missing" in sentence]


def test_a_misspelt_part_names_the_one_that_was_meant() -> None:
    child = ("[scenario.night]", 'parent = "today"', "part.bodyy.weekly = 450")
    (found,) = check(today(*child)).problems
    assert found.key == "part.bodyy.cycle"
    assert problem_sentence(found).endswith("Did you mean part.body?")


def test_a_circle_of_parents_hides_nothing_that_no_scenario_has() -> None:
    text = """\
format = 1
[scenario.a]
parent = "b"
part.p.cycle = "5 min"
part.q.cycle = "5 min"
part.early.cycle = "5 min"
rush.r.part = "zz"
rush.r.pieces = 5
rush.s.part = "late"
rush.s.pieces = 5
[scenario.b]
parent = "a"
part.q.weekly = 5
[scenario.c]
part.late.cycle = "5 min"
part.late.weekly = 5
part.late.after = "early"
"""
    found = [(one.scenario, one.key) for one in check(read_text(text)).problems]
    # What c has a may inherit once it is based on c: late, and that early needs no weekly.
    assert ("a", "part.p.weekly") in found
    assert ("a", "rush.r.part") in found
    assert not {("a", "rush.s.part"), ("a", "part.q.weekly"), ("a", "part.early.weekly")} & {*found}
