"""Accounts of money: a year, capital, payback, net present value, rate of return."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from whatif.answers.account import binds as binds
from whatif.answers.account.account import Check, Figure, Step, Worked, check, step
from whatif.answers.account.capital import capital_parts
from whatif.answers.account.case import Case
from whatif.answers.account.family import Family, figure, nothing
from whatif.answers.account.gains import floor, worth_term
from whatif.answers.account.terms import Expr, Plain, Term, Total
from whatif.answers.money.money import MoneyFigures

ANNUITY = "the present worth of equal amounts at each year's end, in any textbook of investment"

_MEANING = {
    "year": "What a year brings: the contribution of the pieces that somebody buys, less wages "
    "and floor.",
    "year_gain": "What a year brings more than in the reference.",
    "capital": "What has to be laid out against the reference, what is given up taken off.",
    "payback_years": "Years until the capital has come back, without interest.",
    "net_present_value": "What the years bring, worth today, less the capital.",
    "rate_of_return_percent": "The rate a year at which the net present value is 0.",
}


def _figures(case: Case) -> Iterator[Figure]:
    money = case.answer.money
    if money is None:
        yield figure("money", "money", "", None)
        return
    for id_, title, unit, value, digits in (
        ("year", "contribution less wages and floor", f"{money.currency} a year", money.year, 0),
        ("year_gain", "gain of it", f"{money.currency} a year", money.year_gain, 0),
        ("capital", "capital", money.currency, money.capital, 0),
        ("payback_years", "payback", "years", money.payback_years, 1),
        ("net_present_value", "net present value", money.currency, money.net_present_value, 0),
        ("rate_of_return_percent", "rate of return", "% a year", money.rate_of_return, 1),
    ):
        yield figure(f"money.{id_}", title, unit, value, digits)


def _account(case: Case, of: Figure) -> Worked:
    if of.id == "money":
        return nothing(
            "What a year brings, and what has to be laid out for it.",
            "No part of any scenario has a contribution: enter one to have answers in money.",
        )
    money = case.answer.money
    assert money is not None
    return _ACCOUNTS[of.id.split(".")[1]](case, money)


# -- a year ----------------------------------------------------------------------------------


def _year_of(case: Case) -> tuple[list[Step], Expr]:
    """The steps to a year's money, and the last of them."""
    figures, currency = case.simulated, case.worth_unit
    items = tuple(
        Term(case.told(f"saleable pieces {part}"), made, "a week", case.counted)
        * worth_term(case, part)
        for part, made in figures.counted.saleable.items()
    )
    sold = step(
        Total("saleable pieces × contribution, added up", items), f"{currency} a week", None
    )
    contribution = Term(case.told("contribution a week"), sold.result, currency, "worked out above")
    wage = case.given("wage an hour", currency, "money", "wage")
    paid = Term(
        case.told("hours paid"), figures.people.paid, "h a week", case.see("people_hours.paid")
    )
    weeks = case.given("weeks a year", "", "money", "weeks_per_year")
    year = weeks * (contribution - wage * paid)
    price = case.given(
        "price of floor a year", f"{currency} a square metre", "money", "floor_price"
    )
    if figures.floor is None or not price.number:
        return [sold], year
    taken = step(floor(case), "m² of floor", None)
    return [sold, taken], year - price * Term(
        case.told("floor"), taken.result, "m²", "worked out above"
    )


def _year(case: Case, money: MoneyFigures) -> Worked:
    steps, year = _year_of(case)
    counted = case.simulated.counted
    weeks = case.given("weeks a year", "", "money", "weeks_per_year")
    most: list[Expr] = []
    for part in counted.saleable:
        wanted: Expr = case.given(f"wanted a week of {part}", "", "part", part, "weekly")
        if counted.for_orders[part]:
            real = Term(f"for real orders, {part}", counted.for_orders[part], "", case.counted)
            wanted = wanted + real
        most.append(wanted * worth_term(case, part))
    rule = "No more than if all that is wanted were made, with no wage and no floor to pay."
    return Worked(
        _MEANING["year"],
        (*steps, step(year, f"{money.currency} a year", 0)),
        (*binds.demand(case), *binds.limits(case)),
        (
            check(
                rule,
                weeks * Total("pieces wanted × contribution, added up", tuple(most)),
                "at most",
                money.year,
                f"{money.currency} a year",
                digits=0,
            ),
        )
        if most
        else (),
    )


def _year_gain(case: Case, money: MoneyFigures) -> Worked:
    there = case.reference.answer.money
    assert there is not None
    here = Term("a year here", money.year, money.currency, "see money.year")
    base = Term(
        f"a year, {case.reference.title}", there.year, money.currency, "see money.year there"
    )
    return Worked(
        _MEANING["year_gain"],
        (step(here - base, f"{money.currency} a year", 0),),
        (*binds.demand(case), *binds.limits(case)),
        (
            check(
                "The reference's year and this gain are the year here.",
                base + Term("the gain", money.year_gain, money.currency, "above"),
                "is",
                money.year,
                f"{money.currency} a year",
                digits=0,
            ),
        ),
    )


# -- capital and what comes back ---------------------------------------------------------------


def _capital(case: Case, money: MoneyFigures) -> Worked:
    if case.is_reference:
        zero = Term("capital of the reference", 0.0, money.currency, "nothing is bought for it")
        return Worked(_MEANING["capital"], (step(zero, money.currency, 0),))
    spent, given_up = capital_parts(case)
    whole: Expr = (
        Total("what is bought, each count × its price", tuple(spent)) if spent else Plain(0)
    )
    bought = step(whole, f"{money.currency} bought", 0)
    if given_up:
        whole = whole - Total("machines given up × resale", tuple(given_up))
    return Worked(
        _MEANING["capital"],
        (step(whole, money.currency, 0),),
        ("Owned machines, and pallets and fixtures that the reference has, cost nothing.",),
        (
            check(
                "No more than all that is bought; what is given up only lessens it.",
                Term("all that is bought", bought.result, money.currency, "worked out above"),
                "at most",
                money.capital,
                money.currency,
                digits=0,
            ),
        ),
    )


def _known(money: MoneyFigures) -> tuple[Term, Term]:
    return (
        Term("capital", money.capital, money.currency, "see money.capital"),
        Term("gain of a year", money.year_gain, money.currency, "see money.year_gain"),
    )


def _payback(case: Case, money: MoneyFigures) -> Worked:
    del case
    capital, gain = _known(money)
    if money.payback_years is None:
        why = "A year brings no more than in the reference, so that the capital never comes back."
        return nothing(_MEANING["payback_years"], why)
    if money.capital <= 0:
        free = Term("years", 0.0, "", "nothing has to be laid out, and a year brings more")
        return Worked(_MEANING["payback_years"], (step(free, "years"),))
    years = Term("payback", money.payback_years, "years", "above")
    back = check(
        "So many years of the gain are the capital.",
        years * gain,
        "is",
        money.capital,
        money.currency,
        digits=0,
    )
    return Worked(_MEANING["payback_years"], (step(capital / gain, "years"),), (), (back,))


def _factor(rate: Expr, years: float, whole_term: Expr, all_years: Expr) -> Expr:
    """Worth today of 1 at the end of each year; a begun last year counts by its share."""
    whole = math.floor(years)
    factor = (1 - (1 + rate) ** (0 - whole_term)) / rate if rate.value else whole_term
    if years > whole:
        factor = factor + (all_years - whole_term) / (1 + rate) ** all_years
    return factor


def _years(case: Case) -> tuple[Term, Expr]:
    years = case.given("years counted", "years", "money", "years")
    whole = math.floor(years.number)
    return years, years if whole == years.number else Plain(whole)


def _value(case: Case, money: MoneyFigures) -> Worked:
    capital, gain = _known(money)
    years, whole = _years(case)
    rate = case.given("rate a year", "%", "money", "rate") / 100
    line = step(gain * _factor(rate, years.number, whole, years) - capital, money.currency, 0)
    without = check(
        "Without interest: the years' gains less the capital."
        + (" Interest makes it less." if money.year_gain > 0 else ""),
        gain * years - capital,
        "at most" if money.year_gain >= 0 else "at least",
        money.net_present_value,
        money.currency,
        digits=0,
    )
    return Worked(
        _MEANING["net_present_value"],
        (line,),
        (f"Interest is that of {ANNUITY}.",),
        (without,),
    )


def _rate(case: Case, money: MoneyFigures) -> Worked:
    capital, gain = _known(money)
    if money.rate_of_return is None:
        why = (
            "There is no such rate: nothing has to be laid out, or a year brings no more than in "
            "the reference."
        )
        return nothing(_MEANING["rate_of_return_percent"], why)
    years, whole = _years(case)
    found = Term("the rate", money.rate_of_return, "% a year", "found by halving")
    rate = found / 100
    # The factor times the rate, so that the line gives the rate itself.
    share = 1 - (1 + rate) ** (0 - whole)
    if years.number > whole.value:
        share = share + rate * (years - whole) / (1 + rate) ** years
    line = step(100 * gain / capital * share, "% a year")
    forever: tuple[Check, ...] = (
        check(
            "If the gain came every year for ever.",
            100 * gain / capital,
            "at most",
            money.rate_of_return,
            "% a year",
        ),
    )
    return Worked(
        _MEANING["rate_of_return_percent"],
        (line,),
        (
            "The rate stands on both sides: it is found by trying, and the line shows that it "
            "comes out again.",
        ),
        forever,
    )


_ACCOUNTS: dict[str, Callable[[Case, MoneyFigures], Worked]] = {
    "year": _year,
    "year_gain": _year_gain,
    "capital": _capital,
    "payback_years": _payback,
    "net_present_value": _value,
    "rate_of_return_percent": _rate,
}

FAMILIES = (Family(_figures, _account),)
