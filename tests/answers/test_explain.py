"""Every figure has an account, its lines give the figure, and its pencil checks come out."""

from __future__ import annotations

import operator
import pickle
import re
from collections.abc import Callable, Iterator
from typing import Any

import few_draws
import pytest
from answer_studies import sound
from demos import DEMOS, checked, compared
from explain_studies import STUDIES, drawn, evaluated, study
from few_draws import SCENARIOS
from hypothesis import given, settings
from hypothesis import strategies as st
from json_told import json_of
from lengths import examples, first_of
from night_studies import HEAD, SHIFT

from whatif.answers.account.account import Account, Check, Note, Relation, WorkedLine
from whatif.answers.account.explain import explain, figures
from whatif.answers.account.names import unanswered
from whatif.answers.account.origins import FoundBy, See
from whatif.answers.account.terms import Expr, Plain, Term, larger, plain, smaller, summed
from whatif.answers.answer import Comparison
from whatif.answers.compare import compare, compare_wholly
from whatif.answers.ranged import with_likely
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import Checked, check
from whatif.study.edits.values import SetValue
from whatif.study.file.reading import read_file
from whatif.study.refused import Refused
from whatif.telling.account.sentences import (
    because,
    figure_shown,
    line_shown,
    note_sentence,
    source,
)
from whatif.telling.origins import origin_words
from whatif.telling.refusals import refusal_words

NO_FIGURE = {"title", "parent", "warnings", "cautions", "currency", "settled"} | {
    "not_priced",
    "rests_on",
}
"""What a scenario's JSON says in words, or says yes or no to, beside the figures."""

NAMES = [*STUDIES, *(path.stem for path in DEMOS)]

every_study = pytest.mark.parametrize("name", first_of(NAMES))


def answered(name: str) -> tuple[Comparison, Checked]:
    return study(name) if name in STUDIES else (compared(name), checked(name))


def accounts(name: str) -> Iterator[Account]:
    found, by = answered(name)
    for scenario in found.answers:
        for figure in figures(found, by, scenario):
            yield explain(found, by, scenario, figure.id)


def places(value: Any, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Every value below a scenario of the JSON, lists whole, with its place."""
    if isinstance(value, dict):
        for key, one in value.items():
            yield from places(one, (*path, key))
    else:
        yield path, value


def account(name: str, scenario: str, figure: str) -> Account:
    return explain(*study(name), scenario, figure)


# -- names ---------------------------------------------------------------------------------


@every_study
@pytest.mark.long
def test_names_are_known_without_an_answer(name: str) -> None:
    found, by = answered(name)
    for id_ in found.answers:
        known = [(each.id, each.title, each.unit) for each in figures(found, by, id_)]
        blank = figures(unanswered(by, id_), by, id_)
        assert [(each.id, each.title, each.unit) for each in blank] == known


@pytest.mark.long
@pytest.mark.parametrize("name", first_of(["stops", "to people"]))
def test_an_account_needs_no_more_of_other_scenarios_than_they_are_as_typed(name: str) -> None:
    (whole, by), scenario, memory = study(name), "cell", Memory()
    found = compare_wholly(by, memory, memory.pause, only={scenario})
    assert found.answers["bare"].likely is None
    for figure in figures(whole, by, scenario):
        assert explain(found, by, scenario, figure.id) == explain(whole, by, scenario, figure.id)


# -- the catalogue is whole ------------------------------------------------------------------


@pytest.mark.parametrize("name", first_of(NAMES))
@pytest.mark.long
def test_every_figure_of_the_json_has_an_account(name: str) -> None:
    found, by = answered(name)
    whole = json_of(found)
    for scenario, said in whole["scenarios"].items():
        for path, value in places(said):
            if path[-1] in NO_FIGURE:
                continue
            one = explain(found, by, scenario, ".".join(path))
            place = ".".join(path).removeprefix("simulated.")
            assert place == one.figure.id or place.startswith(f"{one.figure.id}.")
            if place == one.figure.id and not isinstance(value, str):
                assert_same(value, one)


def assert_same(value: Any, one: Account) -> None:
    expected = one.figure.value
    if value is None or expected is None:
        assert value is expected
    elif isinstance(value, list):
        assert isinstance(expected, tuple)
        assert value == pytest.approx(list(expected), abs=1e-6)
    else:
        assert value == pytest.approx(expected, abs=1e-6)


@every_study
def test_ids_are_there_once(name: str) -> None:
    found, by = answered(name)
    for scenario in found.answers:
        ids = [one.id for one in figures(found, by, scenario)]
        assert len(ids) == len(set(ids))


# -- the lines give the figures --------------------------------------------------------------


def decimals(shown: str) -> int:
    number = re.match(r"-?\d+(?:\.(\d+))?", shown)
    assert number is not None, shown
    return len(number[1] or "")


def assert_gives(one: WorkedLine) -> None:
    """The printed line gives the printed result, to half of its last digit."""
    room = 0.51 * 10 ** -decimals(line_shown(one)) + 5e-5 * abs(one.result)
    assert evaluated(one.expr.numbers()) == pytest.approx(one.result, abs=room), one


@every_study
@pytest.mark.long
def test_every_printed_line_gives_its_result(name: str) -> None:
    for one in accounts(name):
        for line in (*one.worked.lines, *(each.line for each in one.worked.checks)):
            assert_gives(line)


@every_study
@pytest.mark.long
def test_the_last_line_gives_the_figure(name: str) -> None:
    for one in accounts(name):
        value = one.figure.value
        if value is None:
            assert not one.worked.lines
            assert one.worked.notes, f"{one.figure.id} is null, and nothing says why"
        if not isinstance(value, float | tuple):
            continue
        values = value if isinstance(value, tuple) else (value,)
        for line, wanted in zip(one.worked.lines[-len(values) :], values, strict=True):
            assert line.result == pytest.approx(wanted, rel=1e-6, abs=1e-6), one.figure.id


@every_study
@pytest.mark.long
def test_every_pencil_check_comes_out(name: str) -> None:
    for one in accounts(name):
        for each in one.worked.checks:
            assert each.holds, (one.scenario, one.figure.id, each)
            assert bool(because(each)) == bool(each.slack)


@every_study
def test_every_number_is_checked_with_a_pencil_or_says_why_not(name: str) -> None:
    for one in accounts(name):
        if one.figure.value and isinstance(one.figure.value, float | tuple):
            assert bool(one.worked.checks) != bool(one.worked.unchecked), one.figure.id
        assert not one.worked.unchecked or note_sentence(Note(one.worked.unchecked))


@every_study
@pytest.mark.long
def test_hardly_a_number_has_no_check(name: str) -> None:
    """Weeks, which are entered, and fits of which no size is known."""
    for one in accounts(name):
        if one.figure.value and one.worked.unchecked:
            told = ("entered", "no sizes", "only draws tell", "only a run tells")
            assert one.worked.unchecked in told, one.figure.id


@every_study
@pytest.mark.long
def test_every_number_says_where_it_is_from(name: str) -> None:
    for one in accounts(name):
        used = [*one.terms, *(term for each in one.worked.checks for term in each.line.terms)]
        for term in used:
            assert term.label
            assert term.origin, (one.figure.id, term)
        labels = [term.label for term in one.terms]
        assert len(labels) == len(set(labels)), f"{one.figure.id}: two numbers with one name"


@pytest.mark.long
def test_accounts_can_be_sent_to_another_process() -> None:
    for one in accounts("pencil"):
        assert pickle.loads(pickle.dumps(one)) == one


@examples(25)
@given(drawn())
@pytest.mark.long
def test_lines_and_checks_come_out_in_any_study(text: str) -> None:
    sound_study = sound(text)
    memory = Memory()
    found = with_likely(compare(sound_study, memory), memory)
    for scenario in found.answers:
        for figure in figures(found, sound_study, scenario):
            one = explain(found, sound_study, scenario, figure.id)
            for line in one.worked.lines:
                assert_gives(line)
            if isinstance(figure.value, float):
                assert one.worked.lines[-1].result == pytest.approx(figure.value, abs=1e-6)
            for each in one.worked.checks:
                assert_gives(each.line)
                assert each.holds, (scenario, figure.id, each)


# -- by hand ---------------------------------------------------------------------------------


def test_paid_hours_by_hand() -> None:
    """Two people, five days, 06:00 to 14:00: 2 x 5 x 8 = 80 h."""
    one = account("pencil", "now", "people_hours.paid")
    assert one.worked.lines[-1].expr.numbers() == "2 × 5 × 8"
    assert figure_shown(one.figure) == "80.0 h a week"
    # On duty: half an hour less on each of the days.
    assert account("pencil", "now", "people_hours.on_duty").worked.lines[-1].expr.numbers() == (
        "2 × 5 × (8 - 0.5)"
    )


@pytest.mark.outside("Denning & Buzen 1978: the bound that is shown")
def test_the_bound_of_a_closed_queue_by_hand() -> None:
    """One table, one piece a load: the loop makes no more than 1 / max(D1, D2).

    Denning and Buzen, Computing Surveys 10 (1978), asymptotic bounds (from memory). D1: 90 min
    of spindle; D2: 1 + 2 + 1 = 4 min of a person, of whom there are 75 h a week: 168 x 60 / 90
    = 112 and 75 x 60 / 4 = 1125 pieces.
    """
    one = account("pencil", "now", "pieces.plate")
    bound = one.worked.checks[-1]
    assert bound.relation == "at most"
    assert bound.line.result == pytest.approx(min(112, 1125))
    assert source(bound)


def test_the_weeks_of_all_machines() -> None:
    """Two machines: all states together are 2 x 168 h."""
    one = account("pencil", "more", "hours_by_state.load")
    assert one.worked.checks[-1].line.expr.numbers() == "2 × 168"
    assert one.worked.checks[-1].found.value == pytest.approx(336)


def test_the_tenths_of_three_runs() -> None:
    """Rank 0.1 x (3 + 1) lies before the first of three runs, and 0.9 x (3 + 1) past the last."""
    found, _ = study("stops")
    low, _, high = sorted(found.answers["today"].spindle_by_run)
    lower, upper = account("stops", "today", "band").worked.lines
    assert (lower.result, upper.result) == (low, high)


@pytest.mark.long
def test_a_likely_range_is_accounted_for_by_its_draws() -> None:
    """Of 19 draws the 2nd, 10th and 18th."""
    by = sound(STUDIES["pencil"].replace("runs = 3", "runs = 19"))
    memory = Memory()
    found = with_likely(compare(by, memory), memory)
    for scenario, answer in found.answers.items():
        one = explain(found, by, scenario, "likely_percent.saleable")
        drawn = sorted(each.saleable for each in answer.drawn if each.saleable is not None)
        assert len(drawn) == 19
        assert answer.likely is not None
        assert answer.likely.saleable == (drawn[1], drawn[9], drawn[17])
        if answer.settled:
            ends = [line.expr.words() for line in one.worked.lines]
            assert ends == [f"draw {place} from below" for place in (2, 10, 18)]


def test_capital_by_hand() -> None:
    """Three pallets, one system, 5000 once, six fixtures at the most; one mill is given up."""
    one = account("shop", "cell", "money.capital")
    held = study("shop")[0].answers["cell"].held["plate"]
    before = study("shop")[0].answers["today"].held["plate"]
    fixtures = max(0, held - before) * 800
    assert one.figure.value == pytest.approx(3 * 3000 + 6000 + 5000 + fixtures - 12000)
    assert (
        "3 of 4 pallets of mill are bought: a machine's first pallet counts as part of it."
    ) in map(note_sentence, one.worked.notes)


# -- origins ---------------------------------------------------------------------------------


def origins(one: Account) -> dict[str, str]:
    used = [*one.terms, *(term for each in one.worked.checks for term in each.line.terms)]
    return {term.label: origin_words(term.origin) for term in used}


def test_origins_in_a_scenario_that_inherits() -> None:
    one = account("pencil", "most", "pieces.plate")
    assert origins(one)["machines (mill)"] == "inherited from More"
    assert origins(one)["cycle per piece of plate"] == "inherited from Now"
    assert origins(one)["walk a visit"] == "assumed, nobody entered it"
    assert origins(one)["pieces of plate cut a week"] == "counted in 4 weeks simulated"
    own = account("pencil", "more", "pieces.plate")
    assert origins(own)["machines (mill)"] == "entered here"


def test_what_the_reference_enters_is_not_entered_here() -> None:
    one = account("shop", "cell", "gain_percent.per_floor_area")
    assert origins(one)["floor of each mill, Now"] == "entered in Now"
    assert origins(one)["floor of each mill"] == "inherited from Now"
    assert origins(one)["floor per pallet (mill)"] == "entered here"


def test_times_are_shown_as_they_were_typed() -> None:
    one = account("pencil", "now", "pieces.plate")
    used = [term for each in one.worked.checks for term in each.line.terms]
    cycle = next(term for term in used if term.label.startswith("cycle"))
    assert cycle.shown == "1 h 30 min = 90 min"


def test_results_over_runs_say_so() -> None:
    one = account("stops", "today", "spindle_hours.attended")
    counted = origins(one)["in cycle while somebody is on duty"]
    assert counted == "mean of 3 runs of 2 weeks each"


# -- what binds, and what there is not --------------------------------------------------------


def test_a_part_that_is_not_made_says_why() -> None:
    one = account("shop", "today", "pieces.long")
    assert any("long is not made" in note_sentence(note) for note in one.worked.notes)


def test_a_fit_is_no_permission() -> None:
    for figure in ("fit.plate.mill", "fit.long.mill", "fit.body.mill"):
        note = account("shop", "today", figure).worked.notes[-1]
        assert "no permission to load" in note_sentence(note)


def test_a_misfit_is_off_by_what_is_missing() -> None:
    """900 mm long; the face has 600 mm less two edges of 25 mm."""
    one = account("shop", "today", "fit.long.mill")
    assert one.worked.lines[0].expr.numbers() == "550 - 900"


@pytest.mark.parametrize(
    ("study_", "scenario", "figure", "words"),
    [
        ("shop", "bare", "simulated", "wants no part"),
        ("pencil", "now", "money", "contribution"),
        ("pencil", "now", "band", "no stops"),
        ("pencil", "more", "gain_percent.per_floor_area", "No floor is entered"),
    ],
)
def test_what_is_null_says_why(study_: str, scenario: str, figure: str, words: str) -> None:
    assert words in note_sentence(account(study_, scenario, figure).worked.notes[0])


@pytest.mark.parametrize(
    ("figure", "nearest"),
    [
        ("spindel_hours.total", "spindle_hours.total"),
        ("people_hours", "people_hours.paid or people_hours.on_duty"),
    ],
)
def test_an_unknown_figure_names_the_nearest_in_another_process_too(
    figure: str, nearest: str
) -> None:
    with pytest.raises(Refused) as fault:
        account("pencil", "now", figure)
    again = pickle.loads(pickle.dumps(fault.value))
    for refused in (fault.value, again):
        assert f"There is no figure {figure} in Now. Did you mean {nearest}" in refusal_words(
            refused
        )


def test_an_account_of_no_scenario() -> None:
    with pytest.raises(KeyError):
        account("pencil", "yesterday", "limit")


# -- how arithmetic reads --------------------------------------------------------------------


def number(label: str, value: float) -> Term:
    return Term(label, value, "", FoundBy("inputs"))


def test_brackets_stand_where_they_are_needed() -> None:
    a, b, c = number("a", 9.0), number("b", -2.5), number("c", 4.0)
    assert (a - (b - c)).numbers() == "9 - ((-2.5) - 4)"
    assert (a - b - c).numbers() == "9 - (-2.5) - 4"
    assert (a / (b * c)).words() == "a / (b × c)"
    assert ((1 + a) ** (0 - c)).numbers() == "(1 + 9) ^ (0 - 4)"
    assert (2 * summed("all", (a, c))).numbers() == "2 × (9 + 4)"
    assert (2 * summed("all", (a, c))).words() == "2 × (all)"
    assert smaller(a, c).numbers() == "the smaller of (9, 4)"


def test_numbers_keep_the_figures_that_a_line_needs() -> None:
    shown = [plain(value) for value in (0.0, 12.0, 4530.5, 38.75, 1 / 3, 1234567.891, 2e-7, -0.5)]
    assert shown == ["0", "12", "4530.5", "38.75", "0.333333", "1234567.891", "0.0000002", "-0.5"]


SIGNS: dict[str, Callable[[Expr, Expr], Expr]] = {
    "+": operator.add,
    "-": operator.sub,
    "×": operator.mul,
    "/": lambda a, b: a / b if abs(b.value) > 0.01 else a - b,
    "all": lambda a, b: summed("both", (a, b)),
    "smaller": smaller,
    "larger": larger,
}


@st.composite
def expressions(draw: st.DrawFn) -> Expr:
    """Up to six numbers, joined two by two in any order."""
    numbers = draw(st.lists(st.integers(-40, 40), min_size=1, max_size=6))
    pool: list[Expr] = [number("n", quarters / 4) for quarters in numbers]
    while len(pool) > 1:
        one = pool.pop(draw(st.integers(0, len(pool) - 1)))
        other = pool.pop(draw(st.integers(0, len(pool) - 1)))
        pool.append(SIGNS[draw(st.sampled_from(list(SIGNS)))](one, other))
    return pool[0]


@settings(deadline=None)
@given(expressions())
@pytest.mark.long
def test_what_is_printed_is_what_is_reckoned(expr: Expr) -> None:
    assert evaluated(expr.numbers()) == pytest.approx(expr.value, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("relation", "found", "slack", "holds"),
    [
        ("is", 10.3, 0.0, False),
        ("is", 10.3, 0.5, True),
        ("at most", 10.3, 0.0, False),
        ("at least", 9.7, 0.0, False),
        ("about", 99.0, 0.0, True),
    ],
)
def test_a_check_that_does_not_come_out_is_found_out(
    relation: Relation, found: float, slack: float, holds: bool
) -> None:
    line = WorkedLine(Plain(10), "h")
    assert Check("", line, relation, Plain(found), slack=slack).holds is holds


@pytest.mark.long
def test_a_first_answer_is_explained_before_its_likely_range_is_known() -> None:
    by = sound(STUDIES["shop"])
    first = compare(by, Memory())
    for scenario in first.answers:
        for figure in figures(first, by, scenario):
            one = explain(first, by, scenario, figure.id)
            assert one.worked.lines or one.worked.notes
    unknown = explain(first, by, "cell", "likely_percent")
    assert unknown.figure.value is None
    assert "not been worked out" in note_sentence(unknown.worked.notes[0])


@pytest.mark.parametrize(
    ("numbers", "said"),
    [(1, "Fixtures of body: 1; pallets"), (3, "Fixtures of body: 1 of each of its 3 numbers;")],
)
def test_fixtures_are_each_numbers_where_a_part_has_several(numbers: int, said: str) -> None:
    lines = f"part.body.fixtures = 1\npart.body.numbers = {numbers}\n"
    by = sound(HEAD.replace("mill.count = 1", "mill.count = 4") + lines + SHIFT)
    one = explain(compare(by, Memory()), by, "today", "pieces.body")
    assert any(said in note_sentence(note) for note in one.worked.notes)


@pytest.mark.long
def test_that_scrap_made_good_by_whole_pieces_makes_more_an_order_is_said() -> None:
    draft = few_draws.to_compare(read_file(SCENARIOS / "small-orders.toml").draft)
    scenario = draft.reference_id or ""
    by = check(SetValue(scenario, ("part", "yokes", "scrap"), "2 %").apply(draft))
    found = compare(by, Memory())
    # 6 / 0.98 is 6.1: 7 are cut, 6.86 of them good (rule `orders.made`).
    said = (
        "An order of 6 of yokes is cut as 7 pieces, a whole number, so that 6.9 of them are good: "
        "more pieces an order are fewer changeovers for as many pieces, so more scrap may bring "
        "more where changeovers limit."
    )
    for figure in ("pieces.yokes", "gain_percent.saleable"):
        notes = map(note_sentence, explain(found, by, scenario, figure).worked.notes)
        assert said in [text.replace("\u00a0", " ") for text in notes]
    others = explain(found, by, scenario, "pieces.hubs").worked.notes
    assert "scrap made good" not in [note.id for note in others]


@pytest.mark.parametrize("kind", ["attended", "on breaks", "after hours"])
def test_a_kind_of_hours_is_not_explained_by_its_own_name(kind: str) -> None:
    figure = kind.removeprefix("on ").replace(" ", "_")
    found = account("pencil", "now", f"spindle_hours.{figure}")
    assert found.figure.title.endswith(kind)
    assert all(kind not in term.label for term in found.worked.lines[0].terms)


@pytest.mark.parametrize(
    ("figure", "links"),
    [
        ("spindle_hours.total", "spindle_hours."),
        ("hours_by_state.in_cycle", "spindle_hours."),
        ("gain_percent.output", "pieces."),
    ],
)
def test_what_is_added_up_leads_on_where_it_is_a_figure_itself(figure: str, links: str) -> None:
    """The list had attended, on breaks and after hours, and the sum of them led nowhere."""
    found, known = answered(DEMOS[0].stem)
    scenario = list(found.answers)[1]
    account = explain(found, known, scenario, figure)
    first = account.worked.lines[0]
    added_up = [term for term in first.terms if term.unit in ("h a week", "a week")]
    assert len(added_up) > 1
    assert all(isinstance(term.origin, See) for term in added_up)
    seen = [term.origin.figure for term in added_up if isinstance(term.origin, See)]
    assert all(each.startswith(links) for each in seen)
