"""Accounts of money: a year, capital, payback, net present value, rate of return."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from whatif.answers.account import notes
from whatif.answers.account.account import (
    Check,
    Figure,
    Note,
    Relation,
    Worked,
    WorkedLine,
    nothing,
)
from whatif.answers.account.case import Case
from whatif.answers.account.checks import figure_check
from whatif.answers.account.gains import floor, worth_of_wanted, worth_term
from whatif.answers.account.origins import FoundBy
from whatif.answers.account.terms import Above, Expr, Plain, Term, Total
from whatif.answers.money.money import MoneyFigures, group_changes
from whatif.plan.model import Prices

_LISTED = 15
"""Years up to which a check writes every year out by itself."""


def money_figures(case: Case) -> Iterator[Figure]:
    """A year, what it takes and what comes back, where any part has a contribution."""
    found = case.answer.money
    if found is None:
        yield Figure("money", "money", "money", "", None)
        return
    currency = found.currency
    for key, title, unit, value, digits in (
        ("year", "contribution less wages and floor", f"{currency} a year", found.year, 0),
        ("year_gain", "gain of it", f"{currency} a year", found.year_gain, 0),
        ("capital", "capital", currency, found.capital, 0),
        ("payback_years", "payback", "years", found.payback_years, 1),
        ("net_present_value", "net present value", currency, found.net_present_value, 0),
        ("rate_of_return_percent", "rate of return", "% a year", found.rate_of_return, 1),
    ):
        yield Figure(f"money.{key}", f"money.{key}", title, unit, value, digits)


def money(case: Case, of: Figure) -> Worked:
    """Each of them from the ones before."""
    if of.id == "money":
        return nothing(Note("no contribution"))
    found = case.answer.money
    assert found is not None
    return _ACCOUNTS[of.id.split(".")[1]](case, of, found)


# -- a year ----------------------------------------------------------------------------------


def _weeks_a_year(case: Case) -> Term:
    return case.given("weeks a year", "", "money", "weeks_per_year")


def _year(case: Case, of: Figure, found: MoneyFigures) -> Worked:
    figures, currency = case.simulated, case.worth_unit
    items = tuple(
        case.counted_term(f"saleable pieces {part}", made, "a week") * worth_term(case, part)
        for part, made in figures.counted.saleable.items()
    )
    words = "saleable pieces × contribution, added up"
    sold = WorkedLine(Total(words, items), f"{currency} a week", None)
    contribution = Term("contribution a week", sold.result, currency, Above(sold.expr))
    wage = case.given("wage an hour", currency, "money", "wage")
    paid = case.figure_term("hours paid", figures.people.paid, "h a week", "people_hours.paid")
    year: Expr = _weeks_a_year(case) * (contribution - wage * paid)
    lines = [sold]
    unit = f"{currency} a square metre"
    price = case.given("price of floor a year", unit, "money", "floor_price")
    if figures.floor is not None and price.number:
        area, taken = floor(case)
        lines.append(area)
        year = year - price * taken
    most = _most_of_year(case)
    checks: tuple[Check, ...] = ()
    if most is not None:
        checks = (figure_check(case, of, "year of all wanted", "bound", most, "at most"),)
    return Worked(
        (*lines, WorkedLine(year, f"{found.currency} a year", 0)),
        (*notes.demand(case), *notes.limits(case)),
        checks,
    )


def _most_of_year(case: Case) -> Expr | None:
    """A year in which all that is wanted is sold and nothing is paid for it."""
    everything = worth_of_wanted(case, "contribution")
    return None if everything is None else _weeks_a_year(case) * everything


def _year_gain(case: Case, of: Figure, found: MoneyFigures) -> Worked:
    there = case.reference.answer.money
    assert there is not None
    here = case.figure_term("a year here", found.year, found.currency, "money.year")
    base = case.reference.figure_term("a year", there.year, there.currency, "money.year")
    checks: tuple[Check, ...] = ()
    most = _most_of_year(case)
    if most is not None:
        checks = (figure_check(case, of, "year of all wanted", "bound", most - base, "at most"),)
    return Worked(
        (WorkedLine(here - base, of.unit, 0),),
        (*notes.demand(case), *notes.limits(case)),
        checks,
    )


# -- capital ---------------------------------------------------------------------------------

_PRICED = (
    ("bought", "machines to buy", "price", "price"),
    ("pallets", "more pallets", "pallet_price", "price a pallet"),
    ("systems", "more machines with pallets", "pallet_system_price", "price of a pallet system"),
)


def _capital(case: Case, of: Figure, found: MoneyFigures) -> Worked:
    currency = found.currency
    if case.is_reference:
        zero = Term("capital of the reference", 0.0, currency, FoundBy("nothing bought"))
        return Worked((WorkedLine(zero, currency, 0),))
    here, there = case.plan.prices, case.reference.plan.prices
    assert here is not None
    assert there is not None
    spent = [*_bought(case, here, there), *_fixtures(case)]
    once = case.given("once", currency, "money", "one_off")
    if once.number:
        spent.append(once)
    words = "what is bought, each count × its price"
    whole: Expr = Total(words, tuple(spent)) if spent else Plain(0)
    given_up = tuple(_given_up(case, here, there))
    if given_up:
        whole = whole - Total("machines given up × resale", given_up)
    return Worked(
        (WorkedLine(whole, currency, 0),),
        (Note("costs nothing"),),
        tuple(_capital_checks(case, of, here, there)),
    )


def _bought(case: Case, here: Prices, there: Prices) -> Iterator[Expr]:
    for id_, group in here.groups.items():
        changes = group_changes(group, there.groups.get(id_))
        for what, words, key, label in _PRICED:
            count = getattr(changes, what)
            if count and getattr(group, key):
                price = case.given(f"{label} ({id_})", here.currency, "machine", id_, key)
                yield _count(f"{id_}: {words}", count) * price


def _given_up(case: Case, here: Prices, there: Prices) -> Iterator[Expr]:
    for id_, group in there.groups.items():
        count = group_changes(here.groups.get(id_), group).given_up
        if count and group.resale:
            path = ("machine", id_, "resale")
            price = case.reference.given(f"resale of a {id_}", here.currency, *path)
            yield _count(f"{id_}: machines given up", count) * price


def _fixtures(case: Case) -> Iterator[Expr]:
    before = case.reference.answer.held
    for part, held in case.answer.held.items():
        more = held - before.get(part, 0)
        price = _fixture_price(case, part)
        if more > 0 and price.number:
            words = f"fixtures of {part} held at once, beyond those of the reference"
            yield case.counted_term(words, more, "") * price


def _fixture_price(case: Case, part: str) -> Term:
    return case.given(f"price of a fixture of {part}", "", "part", part, "fixture_price")


def _count(label: str, count: int) -> Term:
    return Term(label, count, "", FoundBy("against reference"))


def _capital_checks(case: Case, of: Figure, here: Prices, there: Prices) -> Iterator[Check]:
    """Between everything bought new, and everything of the reference given up."""
    currency = here.currency
    new: list[Expr] = []
    for id_, group in here.groups.items():
        path = ("machine", id_)
        machines = case.given(f"machines ({id_})", "", *path, "count")
        if group.price:
            new.append(machines * case.given(f"price ({id_})", currency, *path, "price"))
        pallets = case.given(f"pallets each ({id_})", "", *path, "pallets")
        if group.pallet_price:
            price = case.given(f"price a pallet ({id_})", currency, *path, "pallet_price")
            new.append(machines * pallets * price)
        if group.pallet_system_price and group.pallets > 1:
            label = f"price of a pallet system ({id_})"
            new.append(machines * case.given(label, currency, *path, "pallet_system_price"))
    for part, held in case.answer.held.items():
        price = _fixture_price(case, part)
        if held and price.number:
            new.append(case.counted_term(f"fixtures of {part} held at once", held, "") * price)
    once = case.given("once", currency, "money", "one_off")
    if once.number or not new:
        new.append(once)
    whole = Total(
        "all machines, pallets, systems and fixtures × their prices, and once", tuple(new)
    )
    yield figure_check(case, of, "all new", "bound", whole, "at most")
    if not any(_given_up(case, here, there)):
        return
    old: list[Expr] = []
    for id_, group in there.groups.items():
        if group.resale:
            path = ("machine", id_)
            machines = case.reference.given(f"machines ({id_})", "", *path, "count")
            old.append(
                machines * case.reference.given(f"resale of a {id_}", currency, *path, "resale")
            )
    least = 0 - Total("all machines of the reference × resale", tuple(old))
    yield figure_check(case, of, "all given up", "bound", least, "at least")


# -- what comes back -------------------------------------------------------------------------


def _known(case: Case, found: MoneyFigures) -> tuple[Term, Term]:
    return (
        case.figure_term("capital", found.capital, found.currency, "money.capital"),
        case.figure_term("gain of a year", found.year_gain, found.currency, "money.year_gain"),
    )


def _payback(case: Case, of: Figure, found: MoneyFigures) -> Worked:
    if found.payback_years is None:
        return nothing(Note("never back"))
    if found.capital <= 0:
        free = Term("years", 0.0, "", FoundBy("nothing laid out"))
        return Worked((WorkedLine(free, "years"),))
    capital, gain = _known(case, found)
    return Worked(
        (WorkedLine(capital / gain, "years"),), (), tuple(_payback_checks(case, of, found))
    )


def _payback_checks(case: Case, of: Figure, found: MoneyFigures) -> Iterator[Check]:
    """Never sooner than the best year allows; the cash of whole years crosses 0 there."""
    capital, gain = _known(case, found)
    most, there = _most_of_year(case), case.reference.answer.money
    if most is not None and there is not None:
        base = case.reference.figure_term("a year", there.year, there.currency, "money.year")
        yield figure_check(case, of, "soonest", "bound", capital / (most - base), "at least")
    yield from _crossing(of, capital, gain)


def _crossing(of: Figure, capital: Term, gain: Term) -> Iterator[Check]:
    """What whole years bring, added up year by year, up to the payback and past it."""
    after = math.ceil(of.number)
    if after > _LISTED:
        return
    relations: tuple[tuple[int, str, Relation], ...] = (
        (after - 1, "not yet back", "at least"),
        (after, "back", "at most"),
    )
    for years, id_, relation in relations:
        if years:
            brought = Total(f"gain of a year, {years} times", (gain,) * years)
            line = WorkedLine(brought, capital.unit, 0)
            yield Check(id_, "other route", line, relation, capital, (str(years),))


def _factor(rate: Expr, years: Term) -> Expr:
    """Worth today of 1 at the end of each year; a begun last year counts by its share."""
    whole = math.floor(years.number)
    full: Expr = years if whole == years.number else Plain(whole)
    factor = (1 - (1 + rate) ** (0 - full)) / rate if rate.value else full
    return factor + (years - full) / (1 + rate) ** years if years.number > whole else factor


def _by_year(amount: Expr, rate: Expr, years: Term) -> Expr | None:
    """An amount at each year's end, worth today, year by year; None for more than fit a line."""
    whole = math.floor(years.number)
    if not 0 < years.number <= _LISTED:
        return None
    each = [amount / (1 + rate) ** number for number in range(1, whole + 1)]
    if years.number > whole:
        share = round(years.number - whole, 9)
        each.append(share * amount / (1 + rate) ** years.number)
    return Total("gain of a year / (1 + rate) ^ year, added up over the years", tuple(each))


def _years(case: Case) -> Term:
    return case.given("years counted", "years", "money", "years")


def _value(case: Case, of: Figure, found: MoneyFigures) -> Worked:
    capital, gain = _known(case, found)
    years, rate = _years(case), case.given("rate a year", "%", "money", "rate") / 100
    by_year = _by_year(gain, rate, years)
    if by_year is not None:
        year_check = figure_check(case, of, "year by year", "other route", by_year - capital, "is")
    else:
        relation: Relation = "at most" if found.year_gain >= 0 else "at least"
        year_check = figure_check(
            case, of, "no interest", "bound", gain * years - capital, relation
        )
    line = WorkedLine(gain * _factor(rate, years) - capital, of.unit, 0)
    return Worked((line,), (Note("annuity"),), (year_check,))


def _rate(case: Case, of: Figure, found: MoneyFigures) -> Worked:
    if found.rate_of_return is None:
        return nothing(Note("no rate"))
    capital, gain = _known(case, found)
    years, rate = _years(case), Term("the rate", of.number, of.unit, FoundBy("halving"))
    share = rate / 100
    by_year = _by_year(gain, share, years) or gain * _factor(share, years)
    back = WorkedLine(by_year / capital, "times the capital", 3)
    return Worked(
        (WorkedLine(rate, of.unit),),
        (Note("by trying"),),
        (
            Check("worth the capital", "other route", back, "is", Plain(1)),
            figure_check(case, of, "for ever", "bound", 100 * gain / capital, "at most"),
        ),
    )


_ACCOUNTS: dict[str, Callable[[Case, Figure, MoneyFigures], Worked]] = {
    "year": _year,
    "year_gain": _year_gain,
    "capital": _capital,
    "payback_years": _payback,
    "net_present_value": _value,
    "rate_of_return_percent": _rate,
}
