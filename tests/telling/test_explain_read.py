"""Accounts laid out for reading: nothing is left out, and every number leads to a real figure."""

from __future__ import annotations

import ast
from collections.abc import Collection
from dataclasses import replace
from pathlib import Path
from typing import cast

import pytest
from explain_studies import OF_THE_SHOP, study

from whatif.answers import account as room
from whatif.answers.account.account import WorkedLine
from whatif.answers.account.explain import FAMILIES, explain, figures
from whatif.answers.account.origins import CountedIn, See
from whatif.answers.account.terms import Term
from whatif.answers.compare import compare
from whatif.answers.ranks import Range
from whatif.session.calculate.memory import Memory
from whatif.telling.account.arithmetic import on_paper
from whatif.telling.account.pages import (
    LEADING,
    leading,
    next_theme,
    pending,
    place_of,
    reference_of,
    sections,
)
from whatif.telling.account.sentences import (
    CHECKS,
    NOTES,
    WORDS,
    figure_in_short,
    figure_shown,
    is_alone,
    line_shown,
    meaning,
    note_sentence,
    theme,
)
from whatif.telling.gain_texts import range_text
from whatif.telling.origins import origin_words


@pytest.mark.parametrize("scenario", OF_THE_SHOP)
def test_every_number_that_is_another_figure_leads_to_it(scenario: str) -> None:
    found, checked = study("shop")
    those = figures(found, checked, scenario)
    ids = [one.id for one in those]
    led = 0
    for one in those:
        account = explain(found, checked, scenario, one.id)
        in_checks = [term for each in account.worked.checks for term in each.line.terms]
        for term in (*account.terms, *in_checks):
            to = reference_of(term, those)
            assert (to is not None) == isinstance(term.origin, See)
            if to is not None:
                assert to.figure in ids
                led += 1
    assert led or scenario == "alone"  # where nothing is simulated nothing leads on


@pytest.mark.parametrize("scenario", OF_THE_SHOP)
def test_sections_say_all_that_the_account_says(scenario: str) -> None:
    found, checked = study("shop")
    those = figures(found, checked, scenario)
    for one in those:
        account = explain(found, checked, scenario, one.id)
        lines = [line for part in sections(account, those) for line in part.lines]
        said = "\n".join(" ".join(f"{line.value} {line.text}".split()) for line in lines)
        worked = account.worked
        for text in (meaning(account.figure), *map(note_sentence, worked.notes)):
            assert text in said
        for line in (*worked.lines, *(check.line for check in worked.checks)):
            assert " ".join(line_shown(line).split()) in said
        for step in (step for line in worked.lines for step in on_paper(line)):
            assert " ".join(step.text.split()) in said
        for line in (check.line for check in worked.checks):
            assert line.expr.numbers() in said or is_alone(line)
        for term in account.terms:
            assert f"{term.shown} {term.label}" in said
            assert f"{origin_words(term.origin)}:" in said


def test_a_reference_to_the_reference_scenario_says_so() -> None:
    found, checked = study("shop")
    scenario = next(id_ for id_ in found.answers if id_ != found.reference)
    those = figures(found, checked, scenario)
    account = explain(found, checked, scenario, "money.year_gain")
    here, there = (reference_of(term, those) for term in account.terms)
    assert here is not None
    assert there is not None
    assert here == See("money.year")
    assert there == See("money.year", found.plans[found.reference].title)


def test_themes_are_gone_through_and_begin_anew() -> None:
    found, checked = study("shop")
    those = figures(found, checked, found.reference)
    seen, at = [], 0
    for _ in those:
        seen.append(theme(those[at]))
        at = next_theme(those, at)
        if at == 0:
            break
    assert seen == list(dict.fromkeys(theme(one) for one in those))


def test_the_figure_likest_to_one_that_is_not_there() -> None:
    found, checked = study("shop")
    those = figures(found, checked, found.reference)
    ids = [one.id for one in those]
    assert ids[place_of(those, "money.capital")] == "money.capital"
    assert ids[place_of(those, "fit.plate.planer")] == "fit.plate.mill"
    assert ids[place_of(those, "fit.nothing.mill")].startswith("fit.")
    assert place_of(those, "gone") == 0
    assert ids[place_of(those, leading(found.answers[found.reference]))] == LEADING


def test_in_the_list_a_fit_is_the_pieces_of_a_load() -> None:
    """It said "fits" of parts whose sizes nobody had entered."""
    found, checked = study("shop")
    those = figures(found, checked, found.reference)
    told = {figure.id: figure_in_short(figure) for figure in those if figure.theme == "fit"}
    assert told["fit.plate.mill"].endswith(" a load")
    assert not any(text == "fits" for text in told.values())


def test_a_load_leads_to_the_fit_of_its_own_part() -> None:
    found, checked = study("shop")
    those = figures(found, checked, found.reference)
    account = explain(found, checked, found.reference, "people_hours.busy")
    terms = [term for check in account.worked.checks for term in check.line.terms]
    loads = [term for term in terms if term.label.startswith("pieces per load of ")]
    assert len({term.label for term in loads}) > 1
    for term in loads:
        to = reference_of(term, those)
        part = term.label.rpartition(" ")[2]
        # The spare part is made for orders only, and its fit is not told.
        assert (None if to is None else to.figure.split(".")[1]) == (
            None if part == "spare" else part
        )


def test_the_range_of_draws_says_what_the_gain_is_told_with() -> None:
    """The list had "18 to 23" and the sheet "16 to 37", and nothing said why."""
    found, checked = study("shop")
    told = []
    for id_, answer in found.answers.items():
        if answer.likely is None or answer.likely.saleable is None:
            continue
        notes = explain(found, checked, id_, "likely_percent.saleable").worked.notes
        text = " ".join(map(note_sentence, notes))
        told.append((answer.is_gap_open, "hour meters leave open" in text))
    assert (True, True) in told
    assert all(is_open is is_told for is_open, is_told in told)


def test_a_range_in_the_list_has_as_many_decimals_as_the_gain_above_it() -> None:
    """The list had +21.4 %, and below it 20 to 21 % for that gain."""
    found, checked = study("shop")
    checks = 0
    for id_ in found.answers:
        every = {each.id: each for each in figures(found, checked, id_)}
        for key, each in every.items():
            gain = every.get(key.replace("likely_percent", "gain_percent"))
            if not key.startswith("likely_percent.") or gain is None or each.value is None:
                continue
            assert each.gain == gain.value
            likely = cast("Range", each.value)
            wanted = range_text(likely, cast("float", gain.value))
            assert figure_shown(each) == f"{wanted} %"
            checks += wanted != range_text(likely)
    assert checks, "no gain here has other decimals than its range alone would have"


def test_what_is_still_being_worked_out() -> None:
    whole, checked = study("shop")
    first = compare(checked, Memory())
    assert "likely_percent" in pending(first.answers[first.reference])
    assert pending(whole.answers[whole.reference]) == ()
    shown = replace(whole.answers[whole.reference], gap_read=())
    assert pending(shown) == ("hour_meters.gain_range_percent",)
    # Money is told by the same range, and waits for it.
    (priced, *_) = (each for each in whole.answers.values() if each.likely_money is not None)
    assert priced.gap_read
    assert replace(priced, gap_read=()).likely_money is None


def test_that_real_orders_come_once_is_said_with_the_weeks_that_they_are_spread_over() -> None:
    found, checked = study("shop")

    def said(figure: str) -> list[str]:
        account = explain(found, checked, "cell", figure)
        return [note_sentence(each) for each in account.worked.notes if each.id == "counted once"]

    of_all = (
        "Real orders of plate and spare come once: the 180 pieces made for them are spread over "
        "the 2 weeks simulated, so that they count for less where more are simulated."
    )
    for figure in ("gain_percent.saleable", "gain_percent.output", "money.year_gain", "money.year"):
        assert said(figure) == [of_all]
    assert said("pieces.plate") == [of_all.replace(" and spare", "").replace("180", "150")]
    # None of it is made for orders, or they are taken off, or it is neither pieces nor money.
    for figure in ("pieces.body", "demand_met_percent.plate", "gain_percent.spindle_hours"):
        assert said(figure) == []


def test_every_family_has_its_words_and_there_are_no_others() -> None:
    used = {"indicators_percent.loading_loss_product"}
    for id_, _, rows in FAMILIES:
        of = id_.removesuffix(".*")
        used.add(of)
        for key in rows:
            keys = (key, key.partition(".")[0], "*")
            (place, *_) = [f"{of}.{end}" for end in keys if f"{of}.{end}" in WORDS]
            used.add(place)
    assert used == set(WORDS)


OF_FACTS = (
    "sells no more",
    "limit",
    "against simulated",
    "unmade",
    "caveats",
    "limit of fit",
    "no percentage",
    "not priced",
    "first pallets",
    "rests",
)
"""Notes whose sentences are made of facts of other answers."""


def ids(node: ast.AST) -> set[str]:
    """The plain texts that an argument may be."""
    if isinstance(node, ast.IfExp):
        return ids(node.body) | ids(node.orelse)
    return {node.value} if isinstance(node, ast.Constant) and isinstance(node.value, str) else set()


RULES = {id_ for rules in CHECKS.values() for id_ in rules}


@pytest.mark.parametrize(
    ("what", "place", "told"),
    [("Note", 0, NOTES), ("nothing", 0, NOTES), ("Check", 0, RULES), ("check", 0, RULES)],
)
def test_every_id_of_the_accounts_has_its_words(
    what: str, place: int, told: Collection[str]
) -> None:
    found: set[str] = set()
    for path in Path(room.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            name = getattr(node.func, "id", getattr(node.func, "attr", ""))
            if name == what:
                found |= {id_ for each in node.args[place : place + 1] for id_ in ids(each)}
            if told is NOTES:
                without = (word.value for word in node.keywords if word.arg == "without")
                found |= {id_ for each in without for id_ in ids(each)}
    assert found
    assert found - {"", *OF_FACTS} <= set(told)


def test_what_makes_a_check_is_said_once() -> None:
    assert len(RULES) == sum(map(len, CHECKS.values()))


def test_a_sum_is_worked_as_on_paper() -> None:
    """6480 + 2784.5 - 40 = 9224.5; decimal points stand below one another."""
    a, b, c = (_term(name, number) for name, number in (("a", 240), ("b", 2784.5), ("c", 40)))
    told = on_paper(WorkedLine(a * 27 + b - c, "EUR a week", None))
    assert [(step.amount, step.text) for step in told] == [
        ("", "a × 27 + b - c"),
        ("  6480  ", "240 × 27"),
        ("+ 2784.5", "EUR  b"),
        ("-   40  ", "EUR  c"),
        ("────────", ""),
        ("= 9224.5", "EUR a week"),
    ]


def test_a_share_is_worked_in_a_line() -> None:
    """100 x (12 / 10 - 1) = 20."""
    told = on_paper(WorkedLine(100 * (_term("here", 12) / _term("there", 10) - 1), "%"))
    assert [(step.amount, step.text) for step in told] == [
        ("", "100 × (here / there - 1)"),
        ("", "100 × (12 / 10 - 1)"),
        ("= 20.0", "%"),
    ]


def _term(label: str, number: float) -> Term:
    return Term(label, number, "EUR", CountedIn(1, 1))
