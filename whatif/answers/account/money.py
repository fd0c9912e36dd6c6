"""Accounts of money: a year, capital, payback, net present value, rate of return."""

from __future__ import annotations

import math
from collections.abc import Iterator

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
from whatif.answers.account.gains import floor, hours_paid, worth_of_wanted, worth_term
from whatif.answers.account.origins import FoundBy
from whatif.answers.account.terms import Expr, Plain, Term, summed
from whatif.answers.money import group_changes
from whatif.plan.model import Prices

_LISTED = 15
"""Years up to which a check writes every year out by itself."""


# -- a year ----------------------------------------------------------------------------------


def _weeks_a_year(case: Case) -> Term:
    return case.given("weeks a year", "", "money", "weeks_per_year")


def year(case: Case, of: Figure) -> Worked:
    """Contribution of a year, less wages and floor."""
    figures, currency = case.simulated, case.worth_unit
    items = (
        case.counted_term(f"saleable pieces {part}", made, "a week") * worth_term(case, part)
        for part, made in figures.counted.saleable.items()
    )
    pieces = summed("saleable pieces × contribution, added up", items)
    sold = WorkedLine(pieces, f"{currency} a week", None)
    contribution = sold.term("contribution a week", currency)
    wage = case.given("wage an hour", currency, "money", "wage")
    whole: Expr = _weeks_a_year(case) * (contribution - wage * hours_paid(case))
    lines = [sold]
    unit = f"{currency} a square metre"
    price = case.given("price of floor a year", unit, "money", "floor_price")
    if figures.floor is not None and price.number:
        area, taken = floor(case)
        lines.append(area)
        whole = whole - price * taken
    most = _most_of_year(case)
    checks = () if most is None else (of.check("year of all wanted", "at most", most),)
    return of.worked(whole, _sold_and_held(case), checks, before=lines)


def _sold_and_held(case: Case) -> tuple[Note, ...]:
    return (*notes.demand_met(case), *notes.limits(case))


def _most_of_year(case: Case) -> Expr | None:
    """A year in which all that is wanted is sold and nothing is paid for it."""
    everything = worth_of_wanted(case, "contribution")
    return None if everything is None else _weeks_a_year(case) * everything


def year_gain(case: Case, of: Figure) -> Worked:
    """A year here less one in the reference."""
    here, base = case.figure_term("a year here", "money.year", case.worth_unit), _base_year(case)
    most = _most_of_year(case)
    checks = () if most is None else (of.check("year of all wanted", "at most", most - base),)
    return of.worked(here - base, _sold_and_held(case), checks)


def _base_year(case: Case) -> Term:
    return case.reference.figure_term("a year", "money.year", case.worth_unit)


# -- capital ---------------------------------------------------------------------------------

_PRICED = {
    "price": ("price", "bought", "machines to buy"),
    "pallet_price": ("price a pallet", "pallets", "more pallets"),
    "pallet_system_price": ("price of a pallet system", "systems", "more machines with pallets"),
}
"""What a price is called, and of what changes it is the price, by its key."""


def capital(case: Case, of: Figure) -> Worked:
    """What is bought, less what is given up."""
    currency = case.worth_unit
    if case.is_reference:
        zero = Term("capital of the reference", 0.0, currency, FoundBy("nothing bought"))
        return of.worked(zero)
    here, there = case.plan.prices, case.reference.plan.prices
    assert here is not None
    assert there is not None
    spent = [*_bought(case, here, there), *_fixtures(case)]
    once = case.given("once", currency, "money", "one_off")
    if once.number:
        spent.append(once)
    words = "what is bought, each count × its price"
    whole: Expr = summed(words, spent) if spent else Plain(0)
    given_up = tuple(_given_up(case, here, there))
    if given_up:
        whole = whole - summed("machines given up × resale", given_up)
    return of.worked(whole, (Note("costs nothing"),), _capital_checks(case, of, here, there))


def _bought(case: Case, here: Prices, there: Prices) -> Iterator[Expr]:
    for id_, group in here.groups.items():
        changes = group_changes(group, there.groups.get(id_))
        for key, (label, what, words) in _PRICED.items():
            count = getattr(changes, what)
            if count and getattr(group, key):
                price = case.of_machine(label, here.currency, id_, key)
                yield _count(f"{id_}: {words}", count) * price


def _given_up(case: Case, here: Prices, there: Prices) -> Iterator[Expr]:
    for id_, group in there.groups.items():
        count = group_changes(here.groups.get(id_), group).given_up
        if count and group.resale:
            yield _count(f"{id_}: machines given up", count) * _resale(case, id_, here.currency)


def _resale(case: Case, id_: str, currency: str) -> Term:
    return case.reference.given(f"resale of a {id_}", currency, "machine", id_, "resale")


def _fixtures(case: Case) -> Iterator[Expr]:
    before = case.reference.answer.held
    for part, held in case.answer.held.items():
        more = held - before.get(part, 0)
        price = _fixture_price(case, part)
        if more > 0 and price.number:
            words = f"fixtures of {part} held at once, beyond those of the reference"
            yield case.counted_term(words, more, "") * price


def _fixture_price(case: Case, part: str) -> Term:
    return case.of_part("price of a fixture of", "", part, "fixture_price")


def _count(label: str, count: int) -> Term:
    return Term(label, count, "", FoundBy("against reference"))


def _capital_checks(case: Case, of: Figure, here: Prices, there: Prices) -> Iterator[Check]:
    """Between everything bought new, and everything of the reference given up."""
    currency = here.currency
    new: list[Expr] = []
    for id_, group in here.groups.items():
        machines: Expr = case.of_machine("machines", "", id_, "count")
        for key, (label, what, _) in _PRICED.items():
            if getattr(group, key) and (what != "systems" or group.pallets > 1):
                pallets = case.of_machine("pallets each", "", id_, "pallets")
                count = machines * pallets if what == "pallets" else machines
                new.append(count * case.of_machine(label, currency, id_, key))
    for part, held in case.answer.held.items():
        price = _fixture_price(case, part)
        if held and price.number:
            new.append(case.counted_term(f"fixtures of {part} held at once", held, "") * price)
    once = case.given("once", currency, "money", "one_off")
    if once.number or not new:
        new.append(once)
    words = "all machines, pallets, systems and fixtures × their prices, and once"
    yield of.check("all new", "at most", summed(words, new))
    if any(_given_up(case, here, there)):
        old = (
            case.reference.of_machine("machines", "", id_, "count") * _resale(case, id_, currency)
            for id_, group in there.groups.items()
            if group.resale
        )
        least = 0 - summed("all machines of the reference × resale", old)
        yield of.check("all given up", "at least", least)


# -- what comes back -------------------------------------------------------------------------


def _known(case: Case) -> tuple[Term, Term]:
    """What is laid out, and what a year brings more."""
    spent = case.figure_term("capital", "money.capital", case.worth_unit)
    return spent, case.figure_term("gain of a year", "money.year_gain", case.worth_unit)


def paid_back(case: Case, of: Figure) -> Worked:
    """Capital over what a year brings more."""
    if of.value is None:
        return nothing("never back")
    spent, gain = _known(case)
    if spent.number <= 0:
        return of.worked(Term("years", 0.0, "", FoundBy("nothing laid out")))
    return of.worked(spent / gain, checks=_payback_checks(case, of, spent, gain))


def _payback_checks(case: Case, of: Figure, capital: Term, gain: Term) -> Iterator[Check]:
    """No sooner than the best year allows; what whole years bring, up to it and past it."""
    most = _most_of_year(case)
    if most is not None:
        yield of.check("soonest", "at least", capital / (most - _base_year(case)))
    after = math.ceil(of.number)
    if after > _LISTED:
        return
    for years in range(max(1, after - 1), after + 1):
        brought = summed(f"gain of a year, {years} times", (gain,) * years)
        line, names = WorkedLine(brought, capital.unit, 0), (str(years),)
        if years == after:
            yield Check("back", line, "at most", capital, names)
        else:
            yield Check("not yet back", line, "at least", capital, names)


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
    return summed("gain of a year / (1 + rate) ^ year, added up over the years", each)


def _years(case: Case) -> Term:
    return case.given("years counted", "years", "money", "years")


def worth_today(case: Case, of: Figure) -> Worked:
    """What the years bring, worth today, less the capital."""
    spent, gain = _known(case)
    years, rate = _years(case), case.given("rate a year", "%", "money", "rate") / 100
    by_year = _by_year(gain, rate, years)
    if by_year is not None:
        check = of.check("year by year", "is", by_year - spent)
    else:
        relation: Relation = "at most" if gain.number >= 0 else "at least"
        check = of.check("no interest", relation, gain * years - spent)
    return of.worked(gain * _factor(rate, years) - spent, (Note("annuity"),), (check,))


def rate_by_trying(case: Case, of: Figure) -> Worked:
    """The rate itself, found by halving."""
    if of.value is None:
        return nothing("no rate")
    spent, gain = _known(case)
    years, rate = _years(case), Term("the rate", of.number, of.unit, FoundBy("halving"))
    share = rate / 100
    by_year = _by_year(gain, share, years) or gain * _factor(share, years)
    back = WorkedLine(by_year / spent, "times the capital", 3)
    checks = (
        Check("worth the capital", back, "is", Plain(1)),
        of.check("for ever", "at most", 100 * gain / spent),
    )
    return of.worked(rate, (Note("by trying"),), checks)
