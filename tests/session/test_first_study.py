"""A first study from the answers, held against pencil work and against the run itself."""

from __future__ import annotations

import pytest
from first_answers import ALL
from lengths import first_of

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare
from whatif.answers.takes import takes_of
from whatif.plan.build import plans_of
from whatif.session.calculate.memory import Memory
from whatif.session.first_made import FirstStudy
from whatif.session.first_study import TODAY, first_look, first_study
from whatif.study.check.check import check
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.edits.things import AddThing, RemoveThing, RenameThing
from whatif.study.edits.tree import AddScenario
from whatif.study.edits.values import SetValue
from whatif.study.file.reading import read_text
from whatif.study.file.writing import to_text
from whatif.study.first.questions import BY_ID, QUESTIONS, FirstQuestion, is_known
from whatif.study.first.shop import Shop, faults
from whatif.study.guesses import in_words
from whatif.study.problem import ProblemKind
from whatif.study.raw import Entries, Raw
from whatif.study.resolve import resolve
from whatif.study.schema.catalogue import key_for
from whatif.study.shifts import Hours
from whatif.telling.first_study import (
    SAME_BREAKS,
    asked_told,
    asked_words,
    assumes,
    doubts,
    fault_sentence,
    means,
    spelled_out,
)
from whatif.telling.in_words import scenario_words
from whatif.telling.limits import limit_in_short
from whatif.telling.meeting.takes import costs_words
from whatif.telling.next_step import standing

MEMORY = Memory()
PIECE = ("part", "piece")


def made(**changed: str) -> FirstStudy:
    return first_study({**ALL, **changed}, MEMORY)


def entered(draft: Draft, scenario: str = TODAY) -> dict[str, Raw]:
    return {".".join(path): raw for path, raw in draft.scenario(scenario).entered.items()}


def answered(draft: Draft) -> Comparison:
    return compare(check(draft), MEMORY)


def test_every_question_is_numbered_the_last_one_too() -> None:
    numbers = [question.number for question in QUESTIONS if question.number]
    assert numbers == [*map(str, range(1, 12))]


def test_every_question_says_how_the_number_is_found() -> None:
    assert all(one.find and one.assumed and one.allowed for one in QUESTIONS)


# -- today -------------------------------------------------------------------------------


def test_all_that_was_answered_stands_in_today() -> None:
    today = entered(made().draft)
    assert today["shift.day.start"] == "06:30"
    assert today["shift.day.end"] == "15:00"
    assert today["shift.day.days"] == ("mon", "tue", "wed", "thu", "fri")
    assert today["shift.day.people"] == 1
    # 510 minutes of shift: the 45 begin after 232.5, on the shift plan's five minutes 230.
    assert today["shift.day.breaks"] == ("10:20-11:05",)
    assert today["machine.mill.count"] == 2
    assert today["machine.mill.pallets"] == 1
    assert today["hour_meters.switched_on"] == "400 h"
    assert today["hour_meters.in_cut"] == "180 h"
    assert today["hour_meters.weeks"] == 6
    assert today["part.piece.cycle"] == "11 min"
    assert today["part.piece.per_pallet"] == 4
    # 6 min for 4 pieces: 90 s each, two thirds of it to load.
    assert today["part.piece.load"] == "1 min"
    assert today["part.piece.unload"] == "30 s"
    # 1 h 30 min with the first piece's half hour in it.
    assert today["part.piece.setup"] == "1 h"
    assert today["part.piece.first_piece"] == "30 min"
    assert today["part.piece.batch"] == 40
    assert today["part.piece.numbers"] == 30
    assert today["part.piece.weekly"] == 401


def test_a_text_with_its_own_unit_is_kept_as_typed() -> None:
    today = entered(made(cycle="11 min 30 s", switched_on="2 weeks").draft)
    assert today["part.piece.cycle"] == "11 min 30 s"
    assert today["hour_meters.switched_on"] == "2 weeks"


def test_two_shifts_have_their_people_and_breaks_each() -> None:
    today = entered(made(shift="6-14, 14-22", breaks="30", people="2").draft)
    assert (today["shift.first.start"], today["shift.second.end"]) == ("06:00", "22:00")
    assert (today["shift.first.people"], today["shift.second.people"]) == (2, 2)
    assert today["shift.first.breaks"] == ("09:45-10:15",)
    assert today["shift.second.breaks"] == ("17:45-18:15",)


@pytest.mark.parametrize("said", ["30 unpaid", "30 min, unpaid", "30 (not paid)"])
def test_a_second_shift_has_the_breaks_of_the_first_unpaid_where_those_are(said: str) -> None:
    """30 min in the middle of 06:00 to 14:00 and of 14:00 to 22:00 (pencil)."""
    draft = made(shift="6-14", breaks=said).draft
    today, more = entered(draft), entered(draft, "second_shift")
    assert today["shift.day.unpaid_breaks"] == ("09:45-10:15",)
    assert more["shift.late.unpaid_breaks"] == ("17:45-18:15",)
    assert not {"shift.day.breaks", "shift.late.breaks"} & {*today, *more}
    assert more["notes"] == SAME_BREAKS
    assert "breaks, in all 30 min unpaid" in str(today["notes"])
    paid = made(shift="6-14", breaks="30 paid").draft
    assert entered(paid, "second_shift")["shift.late.breaks"] == ("17:45-18:15",)
    assert "notes" not in entered(made(breaks="none").draft, "second_shift")
    # Only of those the page of what was found says how they are taken.
    told = {text: made(breaks=text).has_paid_breaks for text in (said, "30", "none", "")}
    assert told == {said: False, "30": True, "none": False, "": False}
    # Half an hour a day is not paid, on five days with one person a shift (pencil).
    hours = [
        answer.figures.people.paid
        for study in (draft, paid)
        for id_ in (TODAY, "second_shift")
        if (answer := answered(study).answers[id_]).figures is not None
    ]
    assert hours == [37.5, 75.0, 40.0, 80.0]


def test_a_share_of_unpaid_breaks_is_unpaid() -> None:
    assert BY_ID["breaks"].typed_over("-20 %", "45 unpaid") == "36 min unpaid"


def test_a_shift_over_midnight_has_its_break_in_the_night() -> None:
    today = entered(made(shift="22-6", breaks="20").draft)
    assert today["shift.day.breaks"] == ("01:50-02:10",)
    assert Hours(22 * 3600, 8 * 3600).next() == Hours(6 * 3600, 8 * 3600)


def test_the_same_part_all_the_time_is_never_set_up() -> None:
    today = entered(made(numbers="1").draft)
    assert today["part.piece.numbers"] == 1
    assert not {key for key in today if "setup" in key or "first_piece" in key}
    assert "each order is of the next number" not in str(today["notes"])


def typed(draft: Draft, scenario: str, values: dict[str, Raw]) -> Draft:
    """Values typed on the sheet one by one, each thing added at its first one."""
    for dotted, raw in values.items():
        path = tuple(dotted.split("."))
        if len(path) == 3 and path[1] not in resolve(draft, scenario).ids(path[0]):
            draft = AddThing(scenario, path[0], path[1]).apply(draft)
        draft = SetValue(scenario, path, raw).apply(draft)
    return draft


def test_the_answers_come_to_what_is_typed_on_the_sheet() -> None:
    """The same shop by edits; every figure and the meters' utilization are the same."""
    empty = Draft({"format": 1, "reference": TODAY}, (ScenarioDraft(TODAY, {}),))
    by_hand = typed(
        empty,
        TODAY,
        {
            "title": "Today",
            "hour_meters.switched_on": "400 h",
            "hour_meters.in_cut": "180 h",
            "hour_meters.weeks": 6,
            "handling.walk": "0 min",
            "machine.mill.count": 2,
            "shift.day.days": ("mon", "tue", "wed", "thu", "fri"),
            "shift.day.start": "06:30",
            "shift.day.end": "15:00",
            "shift.day.breaks": ("10:20-11:05",),
            "part.piece.cycle": "11 min",
            "part.piece.per_pallet": 4,
            "part.piece.load": "1 min",
            "part.piece.unload": "30 s",
            "part.piece.setup": "1 h",
            "part.piece.first_piece": "30 min",
            "part.piece.batch": 40,
            "part.piece.numbers": 30,
            "part.piece.weekly": 401,
        },
    )
    by_hand = AddScenario("second_pallet", TODAY).apply(by_hand)
    pallets: dict[str, Raw] = {"machine.mill.pallets": 2, "part.piece.fixtures": 4}
    by_hand = typed(by_hand, "second_pallet", pallets)
    asked = made().draft
    two = Draft(asked.head, (asked.scenario(TODAY), asked.scenario("second_pallet")))
    ours, theirs = answered(two).answers, answered(by_hand).answers
    for scenario in by_hand.ids:
        assert ours[scenario].figures is not None
        assert ours[scenario].figures == theirs[scenario].figures
        for what in ("gains", "metered", "held", "settled", "held_back", "said"):
            assert getattr(ours[scenario], what) == getattr(theirs[scenario], what), what


# -- who may change over -------------------------------------------------------------------


def test_those_who_only_load_have_a_shift_of_their_own() -> None:
    """Of three people one changes over: the two others (pencil) load in the same hours."""
    draft = made(people="3", setters="1").draft
    today = entered(draft)
    assert (today["shift.day.people"], today["shift.day-loaders.people"]) == (1, 2)
    assert today["shift.day-loaders.does"] == ("load",)
    for key in ("start", "end", "days", "breaks"):
        assert today[f"shift.day-loaders.{key}"] == today[f"shift.day.{key}"]
    assert "shift of their own" in str(today["notes"])
    longer = entered(draft, "longer")
    assert longer["shift.day-loaders.end"] == longer["shift.day.end"] == "17:00"
    assert entered(draft, "second_shift")["shift.late-loaders.people"] == 2


@pytest.mark.parametrize("changed", [{"setters": ""}, {"setters": "3"}, {"numbers": "1"}])
def test_where_everybody_may_there_is_one_shift(changed: dict[str, str]) -> None:
    today = entered(made(**{"people": "3", "setters": "1", **changed}).draft)
    assert today["shift.day.people"] == 3
    assert not any("loading" in key for key in today)


def test_no_more_may_change_over_than_there_are() -> None:
    fault = faults({**ALL, "people": "2", "setters": "3"})["setters"]
    assert "There are 2 people on a shift" in fault_sentence(fault)
    assert means({**ALL, "people": "3", "setters": "1"})["setters"] == "2 only load"


@pytest.mark.long
def test_a_first_look_is_todays_answer_of_the_study_that_is_made() -> None:
    """So that nothing that stood beside the questions is other than what the desk says."""
    few = {"shift": "6-14", "people": "1", "machines": "2"}
    look = first_look(few, MEMORY, is_ranged=True)
    today = answered(first_study(few, MEMORY).draft).answers[TODAY]
    assert look.held == today.held_back
    assert look.likely is not None
    assert look.held is not None
    low, middle, high = look.likely
    assert low <= middle <= high
    assert low <= look.held.in_cycle <= high
    # Of 18 lines three are answered; how many may change over of one person is not asked.
    assert (look.assumed, look.of) == (14, 17)


# -- orders ------------------------------------------------------------------------------


@pytest.mark.parametrize("order", first_of(["20", "40", "100"]))
@pytest.mark.long
def test_every_order_is_set_up_once(order: str) -> None:
    """An hour each (pencil): as many hours of setup as orders, pieces / pieces an order."""
    said = made(order=order, people="3", wait="0", each="1", wanted="2000")
    today = answered(said.draft).answers[TODAY].figures
    assert today is not None
    orders = sum(today.pieces.values()) / float(order)
    assert today.by_state["setup"] == pytest.approx(orders, rel=0.1)


LESS = {
    "shift": "06:00-14:30",
    "people": "1",
    "machines": "2",
    "cycle": "14",
    "door": "6",
    "numbers": "12",
    "order": "50",
    "each": "1.5",
    "wait": "40",
    "switched_on": "42",
    "in_cut": "22",
    "wanted": "150",
}
"""A shop that wants less than it says it could make."""


def could_make(draft: Draft) -> float:
    """Pieces a week of today where more is wanted than anybody could make."""
    flat_out = SetValue(TODAY, ("sequence", "make"), "flat_out").apply(draft)
    figures = answered(Draft({"format": 1}, (flat_out.scenario(TODAY),))).answers[TODAY].figures
    assert figures is not None
    return sum(figures.pieces.values())


@pytest.mark.parametrize("numbers", first_of(["12", "1", ""]))
@pytest.mark.long
def test_that_today_could_make_more_than_is_wanted_is_told(numbers: str) -> None:
    first = first_study({**LESS, "numbers": numbers}, MEMORY)
    most = f"{could_make(first.draft):.0f}"
    notes = str(entered(first.draft)["notes"])
    assert f"could make about {most} pieces a week, more than the 150 wanted" in notes
    assert "no more is made than is wanted" in notes
    assert "is missing from the answers" in notes
    assert f"Today could make {most} a week; if in fact fewer" in first.notice
    assert len(first.notice) <= 2 * 74
    # And so it is: made to order, today makes what is wanted, an order of 50 more or less.
    today = answered(first.draft).answers[TODAY].figures
    assert today is not None
    assert today.pieces["piece"] == pytest.approx(150, abs=50 / 12)


def test_that_today_could_make_only_less_is_told() -> None:
    first = first_study({**LESS, "wanted": "1000"}, MEMORY)
    most = f"{could_make(first.draft):.0f}"
    notes = str(entered(first.draft)["notes"])
    assert f"could make only about {most} of the 1000 pieces wanted a week" in notes
    assert f"Today could make only {most} a week; if in fact more" in first.notice
    assert len(first.notice) <= 2 * 74


@pytest.mark.long
def test_where_demand_is_not_known_nothing_is_held_against_it() -> None:
    other = first_study({**LESS, "wanted": ""}, MEMORY)
    assert "Today could make" not in other.notice
    notes = str(entered(other.draft)["notes"])
    assert "Pieces wanted a week were not known at the beginning" in notes
    assert "had nobody to sell it to" in notes
    assert "until you enter the pieces wanted" in other.notice


def test_no_alternative_is_held_back_where_no_more_is_wanted() -> None:
    found = answered(first_study(LESS, MEMORY).draft)
    assert {limit_in_short(one.held_back) for one in found.answers.values() if one.held_back} == {
        "demand all met"
    }


def test_alternatives_have_the_fixtures_that_they_need() -> None:
    """A fixture on each pallet and table, for each number; notes stay when prices come."""
    draft = made().draft
    for scenario, tables in (("second_pallet", 4), ("pool", 12), ("machine_more", 3)):
        assert entered(draft, scenario)["part.piece.fixtures"] == tables
        notes = str(entered(draft, scenario)["notes"])
        assert f"{tables} fixtures for each of 30 part numbers, {tables * 30} in all, are" in notes
        # What is priced since would be told as not priced for ever.
        assert "priced" not in notes
        assert f"part.piece.fixtures = {tables}" in notes
        given = resolve(draft, scenario).values["part", "piece", "fixtures"]
        assert given.origin.guessed
    assert "part.piece.fixtures" not in entered(draft)
    assert "12 fixtures are taken to be there" in str(
        entered(made(numbers="1").draft, "pool")["notes"]
    )


@pytest.mark.long
def test_more_pallets_are_not_starved_of_fixtures() -> None:
    """Three numbers with one fixture for each of two machines could fill six of twelve pallets."""
    draft = made(numbers="3", order="8", each="0", wait="0", people="3", wanted="2000").draft
    after_hours = answered(draft).answers["pool_after_hours"].figures
    starved = Draft(
        draft.head,
        tuple(
            ScenarioDraft(
                one.id,
                Entries({p: raw for p, raw in one.entered.items() if p[-1] != "fixtures"}),
            )
            for one in draft.scenarios
        ),
    )
    few = answered(starved).answers["pool_after_hours"].figures
    assert after_hours is not None
    assert few is not None
    assert sum(after_hours.pieces.values()) > 1.1 * sum(few.pieces.values())


@pytest.mark.long
def test_fixtures_and_pallets_are_told_as_not_priced_once_money_is_looked_at() -> None:
    """Of one number twelve are held at once; of thirty one each, as today: none is wanting."""
    for numbers, wanting in (("1", {"pallets", "fixtures"}), ("30", {"pallets"})):
        draft = SetValue(TODAY, (*PIECE, "contribution"), 9).apply(made(numbers=numbers).draft)
        money = answered(draft).answers["pool"].money
        assert money is not None
        assert {one.what for one in money.not_priced} - {"systems", "wage"} == wanting


def test_orders_longer_than_a_week_lie_on_several_tables() -> None:
    """401 a week in orders of 2000: beside the one begun 0.2 in a week; 12 / 1.2 = 9 (pencil)."""
    draft = made(order="2000").draft
    assert entered(draft, "pool")["part.piece.at_once"] == 9
    assert "part.piece.at_once = 9" in str(entered(draft, "pool")["notes"])
    # Orders of 40, ten and one in a week, are enough for twelve tables.
    assert "part.piece.at_once" not in entered(made().draft, "pool")


@pytest.mark.long
def test_more_tables_bring_a_piece_no_more_changeovers() -> None:
    found = answered(made(people="3").draft).answers

    def hours_a_piece(scenario: str) -> float:
        figures = found[scenario].figures
        assert figures is not None
        return figures.people.busy / sum(figures.pieces.values())

    assert hours_a_piece("pool") == pytest.approx(hours_a_piece(TODAY), rel=0.15)
    assert hours_a_piece("machine_more") == pytest.approx(hours_a_piece(TODAY), rel=0.15)


# -- what is not known -------------------------------------------------------------------


@pytest.mark.parametrize("text", ["", " ", "?", "don't know", "Don’t  know", "-"])
def test_not_knowing_can_be_said_in_many_ways(text: str) -> None:
    assert not is_known(text)
    assert BY_ID["cycle"].read(text) is None


@pytest.mark.parametrize("question", [one.id for one in QUESTIONS])
def test_each_answer_may_be_unknown(question: str) -> None:
    said = made(**{question: "?"})
    found = check(said.draft)
    assert found.study is not None
    today = entered(said.draft)
    notes = str(today["notes"])
    left_out = {
        "breaks": "shift.day.breaks",
        "people": "shift.day.people",
        "machines": "machine.mill.count",
        "pallets": "machine.mill.pallets",
        "pieces": "part.piece.per_pallet",
        "door": "part.piece.load",
        "each": "part.piece.setup",
        "wait": "part.piece.first_piece",
        "order": "part.piece.batch",
        "switched_on": "hour_meters.switched_on",
        "in_cut": "hour_meters.in_cut",
        "weeks": "hour_meters.weeks",
    }
    if question in left_out:
        # It stands as assumed, by the book's own default, and is marked so.
        assert left_out[question] not in today
        assert f"{left_out[question]} = " in notes
    assert "Assumed until measured" in notes


def test_orders_nobody_knows_have_the_usual_size_and_are_each_set_up_anew() -> None:
    said = made(numbers="", order="").draft
    assert resolve(said, TODAY).values["part", "piece", "numbers"].origin.guessed
    assert "part.piece.numbers = 20" in str(entered(said)["notes"])
    assert "part.piece.batch = 20" in str(entered(said)["notes"])


def test_own_assumptions_are_named_with_their_values() -> None:
    notes = str(entered(made(shift="", days="", cycle="").draft)["notes"])
    assert "shift.day.start = 07:00; shift.day.end = 15:30" in notes
    assert "shift.day.days = mon-fri" in notes
    assert "part.piece.cycle = 10 min" in notes


def test_what_was_taken_of_the_typical_part_goes_with_it_from_all_notes() -> None:
    """As where a table of the real parts takes its place."""
    draft = first_study({**LESS, "wanted": ""}, MEMORY).draft
    said = "Of part piece at the beginning: "
    before = {each.id: str(each.entered.get(("notes",), "")) for each in draft.scenarios}
    assert {id_ for id_, notes in before.items() if said in notes} > {TODAY, "pool", "quicker"}
    assert "part.piece." in before[TODAY]
    real = AddThing(TODAY, "part", "hub", (("cycle", "9 min"), ("weekly", 40))).apply(draft)
    after = RemoveThing(TODAY, "part", "piece").apply(real)
    for each in after.scenarios:
        notes = str(each.entered.get(("notes",), ""))
        assert said not in notes
        assert "part.piece." not in notes
        assert "fixtures are taken to be there" not in notes
        assert "stands for all part numbers" not in notes
    left = str(after.scenario(TODAY).entered["notes",])
    assert left.startswith("Made from a few questions.\nAs answered at the beginning: ")
    assert "Pallets are seldom as large" in str(after.scenario("pool").entered["notes",])
    # What cut the set-ups of that part alone is as today then, and says so.
    plans = plans_of(check(after))
    assert plans["quicker"].same_as == plans[TODAY].title
    assert not plans["pool"].same_as
    # Under another name it is the same part.
    named = RenameThing("part", "piece", "typical").apply(draft)
    assert "Of part typical at the beginning: " in str(named.scenario(TODAY).entered["notes",])
    assert said not in str(named.scenario(TODAY).entered["notes",])


def test_one_list_tells_all_that_is_assumed() -> None:
    draft = first_study(LESS, MEMORY).draft
    plan = plans_of(check(draft))[TODAY]
    words = in_words(plan.notes)
    assert words.splitlines()[-1] == (
        "Assumed until measured: walk per visit: 0 min; days (shift day): mon-fri; breaks (shift "
        "day): none; pallets each (machine mill): 1; pieces per load (part piece): as "
        "many as fit, 1 where that is unknown; weeks metered: not given."
    )
    assert "Not known" not in words
    answer = answered(draft).answers[TODAY]
    assert words in scenario_words(answer, TODAY)
    assert "handling.walk" not in scenario_words(answer, TODAY)
    # What is measured leaves the list, and what was a default does too.
    for path, raw in (
        (("shift", "day", "days"), ("mon", "tue")),
        (("machine", "mill", "pallets"), 1),
        (("shift", "day", "breaks"), ("09:00-09:30",)),
    ):
        draft = SetValue(TODAY, path, raw).apply(draft)
    draft = SetValue(TODAY, (*PIECE, "per_pallet"), 2).apply(draft)
    draft = SetValue(TODAY, ("hour_meters", "weeks"), 1).apply(draft)
    left = in_words(str(entered(draft)["notes"])).splitlines()[-1]
    assert left == "Assumed until measured: walk per visit: 0 min."
    assert not resolve(draft, TODAY).origin("machine", "mill", "pallets").is_assumed


@pytest.mark.parametrize("question", [one.id for one in QUESTIONS])
def test_an_answer_that_is_assumed_stands_in_the_list(question: str) -> None:
    """As many are told at the opening as are asked and not known; each adds to the list."""
    two = {"people": "3", "setters": "1"}
    known, unknown = made(**two), made(**{**two, question: ""})
    before, after = (
        in_words(str(entered(one.draft)["notes"])).splitlines()[-1] for one in (known, unknown)
    )
    assert "1 answer is assumed" in unknown.notice
    assert after.count(": ") > before.count(": ")
    # With a door that nobody timed the walk has its usual time.
    assert f"walk per visit: {1 if question == 'door' else 0} min" in after


@pytest.mark.parametrize(
    ("unknown", "keys"),
    [
        ((), set()),
        (("cycle",), {"part.piece.cycle"}),
        (("shift",), {"shift.day.start", "shift.day.end"}),
        (("days", "wanted"), {"shift.day.days", "part.piece.weekly"}),
    ],
)
def test_own_assumptions_are_marked_where_they_stand(
    unknown: tuple[str, ...], keys: set[str]
) -> None:
    resolved = resolve(made(**dict.fromkeys(unknown, "")).draft, TODAY)
    marked = {".".join(path) for path, given in resolved.values.items() if given.origin.guessed}
    # Nobody said a walk either: it is held by the time that the door is open.
    assert marked == keys | {"handling.walk"}


def test_nothing_known_at_all_is_a_study_still() -> None:
    said = first_study({}, MEMORY)
    assert check(said.draft).problems == ()
    assert "17 answers are assumed" in said.notice


@pytest.mark.parametrize(
    "changed",
    first_of([{}, {"machines": "1"}, {"numbers": "1"}, {"numbers": ""}, {"order": "2000"}]),
    ids=str,
)
@pytest.mark.long
def test_output_of_today_is_the_demand_where_none_is_known(changed: dict[str, str]) -> None:
    said = made(wanted="", **changed)
    found = answered(said.draft).answers
    today = found[TODAY].figures
    assert today is not None
    held = said.draft.scenario(TODAY).entered
    weekly = {path[1]: raw for path, raw in held.items() if path[-1] == "weekly"}
    for part, wanted in weekly.items():
        assert today.pieces[part] >= float(str(wanted))
    assert today.least_met is not None
    assert today.least_met >= 100
    # No more sells, so that no alternative seems to bring anything before the number is entered.
    # An order that is off in another week is all that differs.
    order = (
        100
        * float(str(held["part", "piece", "batch"]))
        / (sum(map(float, map(str, weekly.values()))) * today.weeks)
    )
    for one in found.values():
        assert one.gains.saleable is not None
        assert -order <= one.gains.saleable <= 0.01
    assert "until you enter the pieces wanted" in said.notice


def test_where_demand_is_known_nothing_of_that_is_said() -> None:
    assert "pieces wanted" not in made().notice
    assert "what today makes" not in str(entered(made().draft)["notes"])


def test_notes_stay_true_after_the_pieces_wanted_are_entered() -> None:
    draft = made(wanted="").draft
    draft = SetValue(TODAY, (*PIECE, "weekly"), 300).apply(draft)
    notes = str(entered(draft)["notes"])
    assert "As answered at the beginning: shift" in notes
    assert "weekly" not in notes
    assert "No scenario can sell more" not in notes


@pytest.mark.long
def test_the_time_between_cycles_is_what_was_answered() -> None:
    """One machine, one part, by pencil: 4 x 11 min of cut, then 6 min with the door open."""
    said = made(machines="1", numbers="1", breaks="0").draft
    today = answered(said).answers[TODAY].figures
    assert today is not None
    pieces = sum(today.pieces.values())
    # Every visit, the unloading and loading of 4 pieces, takes 6 min.
    assert today.people.busy * 60 == pytest.approx(pieces / 4 * 6, rel=0.02)
    assert entered(said)["handling.walk"] == "0 min"
    assert "handling.walk = 0 min" in str(entered(said)["notes"])
    assert "handling.walk" not in entered(made(door="").draft)


def test_the_desk_tells_that_no_more_sells_while_the_demand_is_assumed() -> None:
    cycle = (*PIECE, "cycle")
    draft = made(wanted="").draft
    assert "only assumed; no more sells" in standing(draft, resolve(draft, "pool"), cycle)
    assert standing(draft, resolve(draft, TODAY), cycle) == ""
    weekly = standing(draft, resolve(draft, "pool"), (*PIECE, "weekly"))
    assert weekly.startswith("It stands for all your part numbers together")
    draft = SetValue(TODAY, (*PIECE, "weekly"), 300).apply(draft)
    assert standing(draft, resolve(draft, "pool"), cycle) == ""


def test_one_part_is_told_to_stand_for_all_numbers() -> None:
    words = "One part stands for all part numbers"
    assert words in str(entered(made().draft)["notes"])
    assert words not in str(entered(made(numbers="1").draft)["notes"])
    one = made(numbers="1").draft
    assert standing(one, resolve(one, TODAY), (*PIECE, "weekly")) == ""


# -- wrong answers -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("question", "text", "why"),
    [
        ("shift", "early", "two times, from when and to when"),
        ("shift", "8 h", "how long it lasts"),
        ("shift", "8 h", "Write from-to, such as 06:00-14:30"),
        ("shift", "6-", "two times, from when and to when"),
        ("shift", "13pm-3pm", '"13pm" is no time of day'),
        ("shift", "6-25", "no time of day"),
        ("shift", "6-14, 6-15", "same time"),
        ("shift", "1-2, 2-3, 3-4, 4-5", "1 to 3 are taken"),
        ("days", "mon-xyz", "none of mon, tue"),
        ("breaks", "7.5", "whole minutes"),
        ("breaks", "9 h", "leave nothing"),
        ("breaks", "45 mm", "mm"),
        ("people", "0", "too small"),
        ("people", "1.5", "no whole number"),
        ("machines", "two", "no whole number"),
        ("pallets", "201", "too large"),
        ("cycle", "0", "0 s"),
        ("cycle", "7,5", "decimal mark is a point"),
        ("cycle", "-3", "below 0"),
        ("pieces", "0", "too small"),
        ("door", "long", "minutes, such as"),
        ("numbers", "0.5", "no whole number"),
        ("numbers", "20000", "too large"),
        ("order", "0", "too small"),
        ("weeks", "0", "above 0"),
        ("each", "1 mm", "mm"),
        ("wait", "2 h", "more than the whole changeover"),
        ("in_cut", "401", "more than the hours switched on"),
        ("wanted", "0", "above 0"),
    ],
)
def test_a_wrong_answer_says_what_is_allowed(question: str, text: str, why: str) -> None:
    found = faults({**ALL, question: text})
    assert set(found) == {question}
    assert why in fault_sentence(found[question])


@pytest.mark.parametrize(
    ("question", "text", "same"),
    [
        ("days", "Mo-Fr", "mon-fri"),
        ("days", "mon-fri", "mon-fri"),
        ("days", "Mon to Fri", "mon-fri"),
        ("shift", "6 to 14", "06:00-14:00"),
        ("shift", "7am - 3:30 pm", "07:00-15:30"),
        ("shift", "12am-12pm", "00:00-12:00"),
        ("shift", "14-24", "14:00-00:00"),
        ("shift", "0600-1430, 15.00-23.30", "06:00-14:30, 15:00-23:30"),
        ("breaks", "None", "0"),
        ("numbers", "none", "1"),
        ("weeks", "4 weeks", "4"),
        ("pallets", "none", "1"),
        ("pallets", "0", "1"),
        ("wait", "no", "0"),
    ],
)
def test_what_a_shop_commonly_writes_is_understood(question: str, text: str, same: str) -> None:
    one = BY_ID[question]
    assert one.kind.read(one.read(text)) == one.kind.read(one.read(same))


@pytest.mark.parametrize("question", [one.id for one in QUESTIONS])
@pytest.mark.parametrize("text", ["abc", "8 h", "-3", "45 mm", "9999999"])
def test_reasons_are_in_plain_words(question: str, text: str) -> None:
    fault = faults({question: text}).get(question)
    said = "" if fault is None else fault_sentence(fault)
    assert not any(word in said for word in ("its start", "it is a text", "a count is", "list"))
    if "cannot be taken" in said:
        assert said.startswith(f'"{text}"')
        assert "such as" in said


def test_a_refused_answer_says_that_it_may_be_left() -> None:
    (fault,) = faults({"people": "some"}).values()
    assert "leave it empty where you don't know" in fault_sentence(fault)


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"weeks": "1"}, "2 machines in 1 week can be switched on for 336 h at most"),
        ({"weeks": "1.19"}, "2 machines in 1.19 weeks can be switched on for 399.8 h at most"),
        ({"machines": "", "weeks": "2"}, "1 machine in 2 weeks can be switched on for 336 h at"),
    ],
    ids=str,
)
def test_more_hours_than_the_weeks_have_are_told_at_the_question(
    changed: dict[str, str], why: str
) -> None:
    """Machines x weeks x 168 h, held against 400 h (pencil)."""
    found = faults({**ALL, **changed})
    assert set(found) == {"switched_on", "weeks"}
    assert all(why in fault_sentence(fault) for fault in found.values())
    assert not faults({**ALL, "weeks": "1.2"})
    assert not faults({**ALL, "weeks": ""})


def test_what_an_answer_comes_to_is_told() -> None:
    said = means(ALL)
    assert said["shift"] == "8 h 30 min a day"
    assert said["breaks"] == "10:20-11:05"
    assert means({**ALL, "breaks": "45 unpaid"})["breaks"] == "10:20-11:05, unpaid"
    # 6 min a load of 4 pieces (pencil).
    assert said["door"] == "1 min 30 s a piece"
    assert said["each"] == "1 h 30 min, person 1 h"
    # How a bare number is read stands beside it, where nothing else tells that.
    assert said["cycle"] == "11 min"
    assert said["in_cut"] == "45 % of that"
    # 401 a week in orders of 40; 6 weeks x 2 machines x 168 h (pencil).
    assert said["order"] == "10 orders a week"
    assert said["weeks"] == "2016 h at most"
    assert means({"weeks": "3"})["weeks"] == "needs hours"
    # Meters of one machine alone would be seen: 400 h over 6 weeks and 2 machines (pencil).
    assert said["switched_on"] == "33.3 h a week each"
    assert means({**ALL, "in_cut": "500"}, {"in_cut"})["switched_on"] == said["switched_on"]
    assert "switched_on" not in means({**ALL, "machines": "1"})
    assert means({"in_cut": "3"})["in_cut"] == "needs the other one"


def test_how_the_door_is_shared_between_loading_and_unloading_is_told_in_a_sentence() -> None:
    """10 min a load of 4 pieces: 150 s each, two thirds to load, one third to unload (pencil)."""
    answers = {"door": "10", "pieces": "4"}
    said = "Taken as 1 min 40 s to load and 50 s to unload each piece; the walk is in it."
    assert spelled_out(answers) == {"door": said}
    assert len(said) < 80
    assert spelled_out({}) == spelled_out(answers, {"door"}) == {}


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda question: question.id)
def test_the_help_of_a_question_tells_all_that_is_known_of_it(question: FirstQuestion) -> None:
    told = dict(asked_told(question, {}, {}))
    assert told["To find it"] == question.find
    assert told["Why"] == question.why
    assert "such as" in told["Allowed"]
    assert question.assumed in told["Left empty"]
    assert "Your answer" not in told
    # What the sheet has of it is told in the catalogue's words, and every key is one of them.
    says = [
        key.says.meaning
        for pattern in question.patterns
        if (key := key_for(tuple(part.replace("*", "x") for part in pattern)))
    ]
    assert len(says) == len(question.patterns)
    sheet = [text for _, text in asked_told(question, {}, {})][-len(says) :]
    assert all(f": {meaning}." in text for meaning, text in zip(says, sheet, strict=True))


def test_the_help_of_a_question_tells_what_was_answered() -> None:
    def said(question: str, **answers: str) -> str:
        told = asked_told(BY_ID[question], answers, faults(answers))
        return dict(told)["Your answer"]

    assert said("breaks", breaks="45", shift="6:30-15:00") == "45 min: 10:20-11:05"
    assert said("cycle", cycle="11") == "11 min"
    assert said("cycle", cycle="soon").startswith('! "soon" cannot be taken')
    assert said("door", door="6").endswith("each piece; the walk is in it.")


@pytest.mark.parametrize(
    ("question", "words"),
    [
        ("cycle", "Question 6: Cycle of one piece"),
        ("order", "Question 9, order size"),
        ("wanted", "Question 11: Pieces wanted a week"),
    ],
)
def test_a_further_line_of_a_question_has_its_number(question: str, words: str) -> None:
    assert asked_words(BY_ID[question]) == words


def test_hours_where_minutes_are_meant_are_doubted() -> None:
    """60 beside "hours" is 60 h, which is longer than the shift of 8 h 30 min."""
    assert doubts(ALL) == {}
    hours = {**ALL, "each": "60"}
    assert means(hours)["each"].startswith("60 h")
    why = "it is longer than somebody is there on any day (8 h 30 min): were minutes meant?"
    assert doubts(hours) == {"each": f"60 h: {why}"}
    assert doubts({**hours, "each": "60 min"}) == {}
    assert doubts({**ALL, "cycle": "8.6 h"}) == {"cycle": f"8 h 36 min: {why}"}
    # The desk warns of the same.
    kinds = {each.kind for each in check(made(each="60").draft).warnings}
    assert ProblemKind.LONGER_THAN_A_DAY in kinds


def test_what_is_assumed_of_the_door_is_what_the_study_takes_for_a_load() -> None:
    """Walk 1 min, then 2 min on and 1 min off a piece (pencil)."""
    assert BY_ID["door"].assumed == assumes({})["door"] == "4 min a load"
    assert assumes({"pieces": "4"})["door"] == "13 min a load"
    assert assumes({"pieces": "many"}, {"pieces"})["door"] == "4 min a load"


def test_loading_and_unloading_add_up_to_the_open_door() -> None:
    for door in ("1", "5", "7", "10 s"):
        for pieces in ("1", "3", "4"):
            shop = Shop({"door": door, "pieces": pieces})
            seconds = shop.seconds("door")
            assert shop.handling is not None
            assert seconds is not None
            assert abs(sum(shop.handling) - seconds / int(pieces)) <= 0.5


# -- what is worth a look ----------------------------------------------------------------


def test_below_today_stands_what_is_worth_a_look() -> None:
    draft = made().draft
    assert draft.reference_id == TODAY
    assert draft.ids == (
        TODAY,
        "second_pallet",
        "two_after_hours",
        "pool",
        "pool_after_hours",
        "machine_more",
        "person_more",
        "quicker",
        "longer",
        "second_shift",
    )
    assert entered(draft, "person_more")["shift.day.people"] == 2
    # 1.5 h a changeover, half an hour of it a wait for the first piece (pencil).
    assert entered(draft, "quicker")["part.piece.setup"] == "30 min"
    assert entered(draft, "second_pallet")["machine.mill.pallets"] == 2
    assert entered(draft, "machine_more")["machine.mill.count"] == 3
    assert entered(draft, "longer")["shift.day.end"] == "17:00"
    assert entered(draft, "second_shift")["shift.late.end"] == "23:30"
    assert entered(draft, "second_shift")["shift.late.breaks"] == ("18:50-19:35",)
    # Hours alone are tried apart from what more pallets make of them.
    assert draft.scenario("two_after_hours").parent == "second_pallet"
    assert draft.scenario("pool_after_hours").parent == "pool"


@pytest.mark.long
def test_what_is_there_already_is_not_offered() -> None:
    assert "quicker" not in made(each="").draft.ids


@pytest.mark.long
def test_what_a_quicker_setup_costs_is_not_taken_for_nothing() -> None:
    draft = made().draft
    before = plans_of(check(draft))
    assert [id_ for id_, plan in before.items() if plan.prices and plan.prices.is_open] == [
        "quicker"
    ]
    found = compare(check(draft), MEMORY)
    takes = takes_of(*(found.answers[id_] for id_ in ("quicker", TODAY, TODAY)))
    assert takes is not None
    assert takes.buys_unpriced
    assert costs_words(takes, "EUR") == "one-off cost and shorter set-up of piece, not priced yet"
    # Whoever says it, be it nothing, has priced it.
    said = SetValue("quicker", ("money", "one_off"), 0).apply(draft)
    prices = plans_of(check(said))["quicker"].prices
    assert prices is not None
    assert not prices.is_open
    two = made(pallets="2").draft
    assert not {"second_pallet", "two_after_hours"} & set(two.ids)
    assert two.scenario("after_hours").parent == TODAY
    assert two.scenario("pool_after_hours").parent == "pool"
    many = made(pallets="8").draft
    assert "pool" not in many.ids
    assert many.scenario("after_hours").parent == TODAY
    assert "second_shift" not in made(shift="6-14, 14-22").draft.ids
    assert entered(made(shift="6-14, 14-22").draft, "longer")["shift.second.end"] == "00:00"
    round_the_clock = made(shift="6-14, 14-22, 22-6").draft.ids
    assert "longer" not in round_the_clock


@pytest.mark.long
def test_every_alternative_brings_something_where_more_is_wanted() -> None:
    found = answered(made(wanted="2000").draft).answers
    for scenario in ("second_pallet", "machine_more", "longer", "second_shift"):
        gain = found[scenario].gains.saleable
        assert gain is not None
        assert gain > 5, scenario


def test_the_study_reads_back_from_its_text() -> None:
    draft = made().draft
    assert read_text(to_text(draft)) == draft


def test_making_it_can_be_given_up() -> None:
    class Enough(Exception):
        pass

    def give_up() -> None:
        raise Enough

    with pytest.raises(Enough):
        first_study(ALL, Memory(between_weeks=give_up))
