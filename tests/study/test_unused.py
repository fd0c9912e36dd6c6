"""Values that the model does not use: each is changed, and the answers stay as they were."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from itertools import islice
from pathlib import Path as FilePath

import pytest
from json_told import json_of
from lengths import first_of
from screen import SCENARIOS

from whatif.answers.compare import compare
from whatif.answers.orders.rush_tried import with_rush
from whatif.session.calculate.memory import Memory
from whatif.session.sheet import cell
from whatif.study.check.check import check
from whatif.study.check.unused import _HOLDS, WhyUnused
from whatif.study.draft import Draft
from whatif.study.edits import EditError, MoveKeeping, RemoveScenario, SetValue
from whatif.study.file.reading import read_file, read_text
from whatif.study.raw import Path, Raw
from whatif.study.resolve import resolve
from whatif.study.schema.catalogue import KEYS, dotted, key_for
from whatif.study.schema.kinds import KindError
from whatif.study.schema.says import NoMachineHas
from whatif.telling.problems import unused_words
from whatif.telling.sheet_cell import about_value

DEMOS = sorted(SCENARIOS.glob("*.toml"))

HEAD = "format = 1\nweeks = 2\nwarm_up = 1\nruns = 2\n"

BARE = (
    HEAD
    + """
[scenario.bare]
shift.day.days = ["mon", "tue", "wed"]
shift.day.start = "06:00"
shift.day.end = "14:00"
shift.gone.days = ["sat"]
shift.gone.start = "06:00"
shift.gone.end = "12:00"
shift.gone.people = 0
machine.mill.count = 1
machine.mill.price = 100
machine.old.count = 0
part.body.cycle = "11 min"
part.body.weekly = 200
part.body.on.old.cycle = "3 min"
part.out.cycle = "5 min"
part.out.weekly = 0
stop.spill.every = "0 h"
stop.spill.repair = "20 min"
rush.call.part = "body"
rush.call.pieces = 0
order.big.part = "body"
order.big.pieces = 0
order.big.due = "week 1 fri 12:00"
said.with_people.hours = "8 h"

[scenario.priced]
shift.day.days = ["mon", "tue"]
shift.day.start = "06:00"
shift.day.end = "14:00"
machine.mill.count = 2
part.body.cycle = "11 min"
part.body.weekly = 200
part.body.first_piece = "0.4 s"
"""
)

RICH = (
    HEAD
    + """
reference = "today"
[scenario.today]
shift.a.days = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
shift.a.start = "06:00"
shift.a.end = "18:00"
shift.b.days = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
shift.b.start = "18:00"
shift.b.end = "06:00"
machine.mill.pallets = 2
machine.mill.travel = ["600 mm", "500 mm"]
machine.mill.pallet_price = 5
machine.mill.price = 1000
machine.lathe.count = 1
part.body.size = ["140 mm", "90 mm", "60 mm"]
part.body.cycle = "11 min"
part.body.load = "3 min"
part.body.on.mill.load = "2 min"
part.body.on.mill.cycle = "10 min"
part.body.on.lathe.load = "4 min"
part.body.on.lathe.cycle = "12 min"
part.body.weekly = 900
part.body.machines = ["mill"]
part.body.contribution = 4
part.lid.cycle = "4 min"
part.lid.weekly = 0
part.lid.contribution = 2
part.lid.setup = "5 min"
part.lid.on.lathe.prove_out = "2 min"
rush.call.part = "lid"
rush.call.pieces = 4
rush.call.arrives = "tue 08:00"
money.one_off = 20
said.with_people.cutting = "70 %"
hour_meters.switched_on = "400 h"

[scenario.more]
shift.day.days = ["mon", "tue", "wed", "thu", "fri"]
shift.day.start = "06:00"
shift.day.end = "14:00"
shift.day.breaks = ["09:00-09:30"]
machine.mill.pallets = 3
machine.mill.resale = 40
machine.lathe.count = 2
part.body.size = ["140 mm", "90 mm", "60 mm"]
part.body.cycle = "11 min"
part.body.weekly = 900
part.body.tools = 9
part.lid.cycle = "4 min"
part.lid.weekly = 10
part.lid.tool_life = 30
money.one_off = 30
"""
)

CANDIDATES: tuple[Raw, ...] = (
    7,
    3,
    1,
    "7 min",
    "3 h",
    "37 %",
    True,
    False,
    "hold",
    "people",
    "earliest_due_date",
    "order",
    "any",
    "33 mm",
    "2 kg",
    "6 m²",
    "EUR",
    "16:30",
    "wed 10:00",
    "week 2 thu 12:00",
    ("sun",),
    ("10:00-10:10",),
    ("500 mm", "400 mm"),
    ("50 mm", "40 mm", "30 mm"),
    ("mill",),
    "lid",
    "body",
)


def by_themselves(draft: Draft) -> Draft:
    """The same scenarios, each a tree of its own, so that a change stays in one."""
    for scenario in draft.ids:
        if draft.scenario(scenario).parent is not None:
            draft = MoveKeeping(scenario, None).apply(draft)
    return draft


def only(draft: Draft, scenario: str) -> Draft:
    """A scenario beside the reference; what stands in the others does not reach it."""
    for one in draft.ids:
        if one not in (scenario, draft.reference_id):
            draft = RemoveScenario(one).apply(draft)
    return draft


def shortened(draft: Draft) -> Draft:
    return draft.with_head("weeks", 1).with_head("warm_up", 1).with_head("runs", 2)


ECHOED = {"table", "travel", "work_height"}
"""Of these a fit says whether they were given, whether or not it could check them."""


def answers(draft: Draft, memory: Memory, path: Path) -> str:
    """All answers; without what is only said of a value."""
    found = compare(check(draft), memory)
    found = with_rush(found, memory.pause)
    whole = json_of(found)
    for one in whole["scenarios"].values():
        del one["warnings"], one["cautions"]
        for fit in (each for by_machine in one["fit"].values() for each in by_machine.values()):
            if path[-1] in ECHOED:
                del fit["limits"]
    return json.dumps(whole)


def others(draft: Draft, scenario: str, path: Path) -> Iterator[Draft]:
    """The study with another value there, for each that may stand there."""
    now = resolve(draft, scenario).raw(*path)
    key = key_for(path)
    assert key is not None
    for raw in CANDIDATES:
        if type(raw) is type(now) and raw == now:
            continue
        try:
            key.kind.read(raw)
            changed = SetValue(scenario, path, raw).apply(draft)
        except (EditError, KindError):
            continue
        if not check(changed).problems:
            yield changed


def unused(draft: Draft) -> list[tuple[str, Path]]:
    checked = check(draft)
    return [
        (scenario, path)
        for scenario in draft.ids
        for path in checked.resolved[scenario].values
        if checked.unused.why(scenario, path)
    ]


def changes(draft: Draft, most: int, every: int = 1, alone: bool = False) -> tuple[list[str], int]:
    """The values called unused that change answers all the same, and how many were tried.

    ``alone`` looks at each scenario beside nothing but the reference.
    """
    memory = Memory()
    wrong, tried = [], 0
    for scenario, path in unused(draft)[::every]:
        beside = only(draft, scenario) if alone else draft
        base = answers(beside, memory, path)
        for other in islice(others(beside, scenario, path), most):
            tried += 1
            if answers(other, memory, path) != base:
                wrong.append(
                    f"{scenario} {dotted(path)} = {other.scenario(scenario).entered[path]}"
                )
    return wrong, tried


@pytest.mark.long
@pytest.mark.parametrize(
    ("text", "every"),
    first_of([(BARE, 3), (BARE, 1), (RICH, 1)]),
    ids=["some of bare", "bare", "rich"],
)
def test_what_is_called_unused_changes_no_answer(text: str, every: int) -> None:
    draft = read_text(text)
    assert check(draft).problems == ()
    wrong, tried = changes(draft, 2, every)
    assert wrong == []
    assert tried > 60


@pytest.mark.long
@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.stem)
def test_what_is_called_unused_changes_no_answer_of_a_demo(demo: FilePath) -> None:
    draft = shortened(by_themselves(read_file(demo).draft))
    wrong, tried = changes(draft, 1, max(4, len(unused(draft)) // 50), alone=True)
    assert wrong == []
    assert tried > 20


USED = """
bare machine.old.count
bare part.out.weekly
bare part.out.cycle
bare part.out.contribution
bare shift.gone.people
bare stop.spill.every
bare said.with_people.cutting
bare hour_meters.switched_on
bare part.body.on.mill.cycle
bare part.body.mass
bare unattended.after_shift
bare unattended.at_limit
rich today part.lid.setup
rich today part.lid.batch
rich today handling.setter_stays
rich today rush.call.price
rich today machine.mill.travel
rich today part.body.gap
rich today money.wage
rich today money.one_off
rich more machine.mill.pallet_price
rich more sequence.run_ahead
rich more part.lid.tool_change
rich more unattended.through_breaks
""".strip().splitlines()

UNUSED = """
bare shift.gone.days | gone is removed here
bare machine.old.warm_up | old is removed here
bare stop.spill.repair | spill is removed here
bare rush.call.price | call is removed here
bare order.big.due | big is removed here
bare part.out.bench | out is removed here (weekly is 0), and no order asks for it
bare part.body.on.old.cycle | old is removed here
bare unattended.through_breaks | no shift has breaks
bare handling.setter_stays | no part has a prove-out
bare said.machines | nothing is said
bare hour_meters.gap | no hour meters
bare machine.mill.load_stations | only the machine's own table
bare machine.mill.table | no part that may run here has a size
bare machine.mill.faces | how many pieces a face holds
bare machine.mill.pockets | it is known how many magazine places its tools take
bare machine.mill.price | nothing is told in money
bare money.wage | nothing is told in money
bare part.body.fixture_price | nothing is told in money
bare sequence.rule | only one part is made
bare unattended.nights | nothing is begun after any shift
bare part.body.at_once | one table or pallet in all
bare part.body.stock | no part comes after it
rich today part.body.material | no piece of it is scrapped
priced part.body.first_piece_every | no wait for a first piece
rich today unattended.after_shift | whole week
rich today unattended.at_limit | no limit
rich today money.rate | measured against itself
rich today machine.mill.pallet_price | stands in the shop now
rich today part.body.load | what is entered for mill holds there
rich today part.body.cycle | what is entered for mill holds there
rich today part.body.on.lathe.cycle | not to be made on lathe
rich today part.body.edge | table
rich today part.body.fixture_height | work height
rich today said.with_nobody.cutting | no hours with nobody
rich today hour_meters.switched_on | hours in cut are missing
rich more money.currency | the reference's currency
rich more machine.mill.resale | by the scenario that stands in the shop now
rich more part.body.tools | magazine places
rich more part.body.gap | table or travel
rich more part.body.size | table or travel or work height
""".strip().splitlines()


def why(place: str) -> str:
    words = place.split()
    rich = words[0] == "rich"
    scenario, key = words[-2:]
    checked = check(read_text(RICH if rich else BARE))
    return unused_words(checked.unused.why(scenario, tuple(key.split("."))))


@pytest.mark.parametrize("place", USED)
def test_what_is_used_is_not_called_unused(place: str) -> None:
    assert why(place) == ""


@pytest.mark.parametrize("line", UNUSED)
def test_why_a_value_is_not_used(line: str) -> None:
    place, words = line.split(" | ")
    assert words in why(place)


def test_the_sheet_tells_it() -> None:
    checked, place = check(read_text(BARE)), ("unattended", "through_breaks")
    said = about_value(checked, "bare", place, "breaks", cell(checked, "bare", place))
    assert "Not used: no shift has breaks." in said


def test_a_study_with_problems_tells_what_it_can() -> None:
    checked = check(read_text(re.sub("weekly = 200", 'weekly = "x"', BARE)))
    assert checked.study is None
    unused = checked.unused
    assert unused.why("bare", ("money", "wage")) is None
    assert unused.why("bare", ("machine", "old", "price")) is not None
    assert unused.why("bare", ("machine", "mill", "cuont")) is None


def test_every_condition_of_a_field_is_asked_and_worded() -> None:
    for key in KEYS:
        for when in key.says.unused:
            assert unused_words(WhyUnused(when, ("mill", "body")))
            assert isinstance(when, NoMachineHas) or when in _HOLDS


@pytest.mark.parametrize(("numbers", "said"), [(1, "Here 25, "), (9, "Here 25 of each number, ")])
def test_the_sheet_says_whose_the_fixtures_are(numbers: int, said: str) -> None:
    text = f"{BARE}\n[scenario.bare.part.many]\nfixtures = 25\nnumbers = {numbers}\n"
    checked, place = check(read_text(text)), ("part", "many", "fixtures")
    assert said in about_value(checked, "bare", place, "fixtures", cell(checked, "bare", place))
