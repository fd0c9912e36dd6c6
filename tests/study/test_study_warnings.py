import pytest
from study_texts import today, valves

from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.edits import SetValue
from whatif.study.file.reading import read_text
from whatif.study.problem import Problem, ProblemKind
from whatif.telling.problems import message as message_of
from whatif.telling.problems import problem_sentence, warning_sentence


def warnings(draft: Draft) -> list[tuple[str | None, str]]:
    checked = check(draft)
    assert checked.problems == ()
    return [(each.scenario, each.key) for each in checked.warnings]


def the_warning(draft: Draft) -> Problem:
    checked = check(draft)
    assert checked.problems == ()
    (warning,) = checked.warnings
    return warning


CHILD = ("[scenario.child]", 'parent = "today"')
GRANDCHILD = ("[scenario.grandchild]", 'parent = "child"')
ON = 'part.body.on.mill.cycle = "9 min"'


def test_a_value_that_an_inherited_on_hides() -> None:
    draft = today(ON, *CHILD, 'part.body.cycle = "8 min"', *GRANDCHILD)
    warning = the_warning(draft)
    assert (warning.scenario, warning.key, warning.value) == (
        "child",
        "part.body.cycle",
        '"8 min"',
    )
    assert message_of(warning) == (
        'on mill it has no effect, because part.body.on.mill.cycle = "9 min", inherited from '
        "today, holds there"
    )


@pytest.mark.parametrize(
    "lines",
    [
        (ON,),
        (ON, *CHILD, 'part.body.load = "3 min"'),
        (ON, *CHILD, 'part.body.cycle = "8 min"', 'part.body.on.mill.cycle = "7 min"'),
        (ON, *CHILD, 'part.body.cycle = "8 min"', 'part.body.on.mill.cycle = ""'),
        (ON, *CHILD, 'part.body.cycle = "8 min"', "machine.mill.count = 0"),
        (*CHILD, ON, *GRANDCHILD),
        (
            ON,
            "machine.lathe.count = 1",
            *CHILD,
            'part.body.cycle = "8 min"',
            'part.body.machines = ["lathe"]',
        ),
    ],
)
def test_values_that_nothing_hides_from_anybody(lines: tuple[str, ...]) -> None:
    assert warnings(today(*lines)) == []


def test_hour_meters_of_a_short_period() -> None:
    meters = ("hour_meters.in_cut = '10 h'", "hour_meters.switched_on = '39.9 h'")
    assert the_warning(today(*meters)).key == "hour_meters.switched_on"
    long_enough = ("hour_meters.in_cut = '10 h'", "hour_meters.switched_on = '40 h'")
    assert warnings(today(*long_enough, *CHILD)) == []


@pytest.mark.parametrize(
    ("given", "missing"), [("in_cut", "switched_on"), ("switched_on", "in_cut")]
)
def test_half_of_the_hour_meters(given: str, missing: str) -> None:
    assert the_warning(today(f"hour_meters.{given} = '90 h'")).key == f"hour_meters.{missing}"


def test_load_stations_with_one_pallet() -> None:
    stations = "machine.mill.load_stations = 2"
    assert the_warning(today(stations, *CHILD)).scenario == "today"
    assert warnings(today(stations, "machine.mill.pallets = 4")) == []
    back_to_one = today(stations, "machine.mill.pallets = 4", *CHILD, "machine.mill.pallets = 1")
    assert the_warning(back_to_one).scenario == "child"


TABLE = 'machine.mill.table = ["900 mm", "500 mm"]'
HEIGHT = 'machine.mill.work_height = "400 mm"'


def test_pallets_where_there_was_a_table() -> None:
    draft = today(TABLE, HEIGHT, *CHILD, "machine.mill.pallets = 6", *GRANDCHILD)
    warning = the_warning(draft)
    assert (warning.scenario, warning.key, warning.value) == (
        "child",
        "machine.mill.pallets",
        "6",
    )
    assert message_of(warning).startswith("table and work height inherited from today")


@pytest.mark.parametrize(
    "lines",
    [
        (*CHILD, "machine.mill.pallets = 6"),
        (TABLE, *CHILD, "machine.mill.pallets = 6", TABLE),
        (TABLE, "machine.mill.pallets = 2", *CHILD, "machine.mill.pallets = 6"),
        (TABLE, "machine.mill.pallets = 6"),
    ],
)
def test_pallets_of_known_size(lines: tuple[str, ...]) -> None:
    assert warnings(today(*lines)) == []


LATHE = ("machine.lathe.count = 1", "machine.lathe.pallets = 2")


def test_machines_that_cost_nothing_a_year_beside_others_that_do() -> None:
    """Work that moved to a group of its own seemed to save the costs of the machines it left."""
    paid = "machine.mill.yearly = 4500"
    warning = the_warning(today(paid, *CHILD, *LATHE))
    assert (warning.scenario, warning.key) == ("child", "machine.lathe.yearly")
    assert "though mill has some: counted as 0" in message_of(warning)
    assert warnings(today(paid, *CHILD, *LATHE, "machine.lathe.yearly = 0")) == []
    assert warnings(today(*CHILD, *LATHE)) == []
    assert warnings(today("machine.mill.yearly = 0", *CHILD, *LATHE)) == []


def test_an_order_that_is_due_before_it_arrives() -> None:
    order = "order.o = {part = 'body', pieces = 3, due = 'mon 12:00', arrives = 'mon 12:00'}"
    assert the_warning(today(order)).key == "order.o.due"
    in_time = "order.o = {part = 'body', pieces = 3, due = 'mon 12:00'}"
    assert warnings(today(in_time)) == []


def test_the_example_of_the_cell_model_is_not_odd() -> None:
    assert warnings(valves()) == []


def test_a_machine_with_nearly_the_name_of_another_one() -> None:
    warning = the_warning(today(*CHILD, "machine.mil.pallets = 8"))
    assert (warning.scenario, warning.key) == ("child", "machine.mil.count")
    assert warning.nearest == "machine.mill"
    assert warnings(today(*CHILD, "machine.mil.pallets = 8", "machine.mil.count = 1")) == []
    assert warnings(today(*CHILD, "machine.lathe.pallets = 8")) == []


# -- what a comparison should leave alone, and what misleads of itself -------------------------

PARTS = """\
machine.mill.pallets = {pallets}
part.body.setup = "20 min"
part.lid.cycle = "5 min"
part.lid.weekly = 10
"""


def of_kind(draft: Draft, kind: ProblemKind) -> list[tuple[str | None, str, tuple[str, ...]]]:
    """Scenario, key and details of each warning of a kind."""
    found = check(draft).warnings
    return [(each.scenario, each.key, each.details) for each in found if each.kind is kind]


@pytest.mark.parametrize(
    ("lines", "told"),
    [
        # One mill, two part numbers.
        (PARTS.format(pallets=1), None),
        (PARTS.format(pallets=2), ("2", "2")),
        (PARTS.format(pallets=2) + "part.lid.numbers = 2", None),
        (PARTS.format(pallets=4) + "part.lid.numbers = 2", ("4", "3")),
        # Nothing is changed over, or nothing else is made there.
        (PARTS.format(pallets=2).replace('part.body.setup = "20 min"', ""), None),
        (PARTS.format(pallets=2).replace("weekly = 10", "weekly = 0"), None),
        ("machine.mill.pallets = 4\npart.body.setup = '5 min'\npart.body.numbers = 4", ("4", "4")),
        ("machine.mill.pallets = 4\npart.body.setup = '5 min'\npart.body.numbers = 5", None),
    ],
)
def test_every_part_keeps_its_pallet(lines: str, told: tuple[str, str] | None) -> None:
    found = of_kind(today(*lines.splitlines()), ProblemKind.EVERY_PART_KEEPS_ITS_PALLET)
    assert found == ([] if told is None else [("today", "part.body.numbers", told)])


def test_a_setup_or_a_cycle_longer_than_an_attended_day() -> None:
    """Of a shift of 8 h: 8 h are none, a minute more is one, on one machine alone too."""
    kind = ProblemKind.LONGER_THAN_A_DAY

    def with_times(cycle: str, *lines: str) -> Draft:
        shift = ("shift.day.start = '06:00'", "shift.day.end = '14:00'", "shift.day.days = ['mon']")
        text = scenarios("\n".join((*shift, *lines)), "", "")
        return SetValue("today", ("part", "body", "cycle"), cycle).apply(text)

    def found(draft: Draft) -> list[tuple[str, tuple[str, ...]]]:
        told = of_kind(draft, kind)
        assert {scenario for scenario, *_ in told} <= {"today"}
        return sorted((key, details) for _, key, details in told)

    assert found(with_times("480 min", "part.body.setup = '8 h'")) == []
    assert found(with_times("481 min", "part.body.setup = '60 h'")) == [
        ("part.body.cycle", ("8 h",)),
        ("part.body.setup", ("8 h",)),
    ]
    alone = with_times("10 min", "part.body.on.mill.setup = '9 h'")
    assert found(alone) == [("part.body.on.mill.setup", ("8 h",))]
    (warning,) = (each for each in check(alone).warnings if each.kind is kind)
    sentence = "it is longer than somebody is there on any day (8 h): were minutes meant?"
    assert sentence in problem_sentence(warning)


OTHER_BATCH = ("middle", "part.body.batch", ("today", "batch", "body"))


def scenarios(today_: str, middle: str, last: str) -> Draft:
    return read_text(
        f"""format = 1
[scenario.today]
machine.mill.count = 1
part.body.cycle = "10 min"
part.body.weekly = 100
{today_}
[scenario.middle]
parent = "today"
{middle}
[scenario.last]
parent = "middle"
{last}
"""
    )


@pytest.mark.parametrize(
    ("today_", "middle", "last", "told"),
    [
        ("", "part.body.batch = 40", "", [OTHER_BATCH]),
        ("", "part.body.batch = 20", "", []),
        # Back to what the reference has: the comparison is of equal orders again.
        (
            "part.body.batch = 60",
            "part.body.batch = 40",
            "part.body.batch = 60",
            [OTHER_BATCH],
        ),
        (
            "part.body.per_pallet = 2",
            "part.body.on.mill.per_pallet = 4",
            "part.body.fixtures = 3",
            [("last", "part.body.fixtures", ("middle", "fixtures", "body"))],
        ),
        # Each pallet more takes a fixture.
        ("", "machine.mill.pallets = 3\npart.body.fixtures = 3", "", []),
        ("", "machine.mill.pallets = 3\npart.body.batch = 40", "", [OTHER_BATCH]),
        ("", 'part.body.cycle = "8 min"', "", []),
        ("", "part.lid.cycle = '3 min'\npart.lid.weekly = 5\npart.lid.batch = 9", "", []),
    ],
)  # fmt: skip
def test_orders_fixtures_and_loads_that_a_scenario_changes_beside_all_else(
    today_: str, middle: str, last: str, told: list[tuple[str, str, tuple[str, ...]]]
) -> None:
    draft = scenarios(today_, middle, last)
    assert check(draft).problems == ()
    assert of_kind(draft, ProblemKind.OTHER_THAN_ABOVE) == told


def test_a_scenario_that_is_no_table_has_no_place_to_warn_of() -> None:
    """What stands in its place has no path: the check says so, and goes on."""
    checked = check(read_text('[scenario]\n"" = 0\n'))
    assert [problem.scenario for problem in checked.problems]
    assert all(warning.kind is not ProblemKind.OTHER_THAN_ABOVE for warning in checked.warnings)


def test_other_fixtures_and_orders_of_many_parts_are_one_line() -> None:
    ids = ("a", "b", "c", "d")
    lines = [f"part.{id_}.cycle = '3 min'\npart.{id_}.weekly = 5" for id_ in ids]
    more = [f"part.{id_}.fixtures = 7" for id_ in ids]
    draft = scenarios("\n".join(lines), "\n".join([*more, "part.a.batch = 9"]), "")
    (warning,) = check(draft).warnings
    assert problem_sentence(warning) == (
        "Scenario middle has other order sizes (a) and fixtures (4 parts) than its parent today: "
        "a part of the gain may come of that alone."
    )


def test_that_every_part_keeps_its_pallet_is_told_once_where_it_arises() -> None:
    """In the scenario below there are only more pallets, which is no news."""
    parts = PARTS.format(pallets=2)
    draft = scenarios(parts, "machine.mill.pallets = 4", "machine.mill.pallets = 1")
    kind = ProblemKind.EVERY_PART_KEEPS_ITS_PALLET
    assert [scenario for scenario, *_ in of_kind(draft, kind)] == ["today"]
    holding = check(draft).holding
    assert [id_ for id_ in holding if kind in {one.kind for one in holding[id_]}] == [
        "today",
        "middle",
    ]


def test_stock_that_nothing_is_made_of() -> None:
    lines = ("part.body.stock = 30", "part.lid.cycle = '5 min'", "part.lid.weekly = 10")
    kind = ProblemKind.STOCK_OF_NO_USE
    assert of_kind(today(*lines), kind) == [("today", "part.body.stock", ())]
    assert of_kind(today(*lines, "part.lid.after = 'body'"), kind) == []


def test_below_its_title_a_warning_speaks_the_sheet_s_words() -> None:
    """No key of the file, no id of a scenario: the summary stands beside the sheet."""
    draft = scenarios(PARTS.format(pallets=2), "", "")
    (told,) = (
        warning_sentence(each)
        for each in check(draft).warnings
        if each.kind is ProblemKind.EVERY_PART_KEEPS_ITS_PALLET
    )
    assert "part numbers it covers = 1: " in told
    assert 'enter under "part numbers it covers" how many you make' in told
    assert "numbers`" not in told
    assert "part." not in told


def test_what_holds_for_a_machine_is_told_in_the_sheet_s_words_too() -> None:
    warning = Problem(
        "child",
        ("part", "body", "cycle"),
        '"4 min"',
        ProblemKind.HAS_NO_EFFECT,
        ("mill", "part.body.on.mill.cycle", '"5 min"', "today"),
    )
    assert warning_sentence(warning) == (
        "body, cycle = 4 min: on mill it has no effect, because cycle on mill = 5 min, "
        "inherited from above, holds there."
    )
