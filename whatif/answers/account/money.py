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
from whatif.answers.account.case import Case, times
from whatif.answers.account.gains import floor, hours_paid, worth_of_wanted, worth_term
from whatif.answers.account.origins import FoundBy
from whatif.answers.account.terms import Expr, Plain, Term, added, summed
from whatif.answers.money.capital import Costed, bought, given_up, more_fixtures
from whatif.answers.money.year import prices_of, scrapped
from whatif.cell.model import HOUR
from whatif.plan.model import Prices, ShiftPaid
from whatif.units import Dimension, parse

_SQUARE_FOOT = float(parse("1 ft²", Dimension.AREA).value)
"""Square metres."""

_LISTED = 15
"""Years up to which a check writes every year out by itself."""


# -- a year ----------------------------------------------------------------------------------


def _weeks_a_year(case: Case) -> Term:
    return case.given("weeks per year", "", "money", "weeks_per_year")


def year(case: Case, of: Figure) -> Worked:
    """Contribution of a year, less what is paid of it."""
    currency, prices = case.worth_unit, prices_of(case.plan)
    lines = [_sold(case)]
    a_week: Expr = lines[0].term("contribution a week", currency)
    for words, label, items in (
        ("scrapped pieces × material", "scrap a week", _scrap(case, prices)),
        ("hours paid × wage", "wages a week", _wages(case, prices)),
    ):
        if items:
            lines.append(
                WorkedLine(summed(f"{words}, added up", items), f"{currency} a week", None)
            )
            a_week = a_week - lines[-1].term(label, currency)
    if prices.spindle_hour:
        cost = case.given("cost of a spindle hour", currency, "money", "spindle_hour")
        a_week = a_week - cost * case.figure_term("spindle hours", "spindle_hours.total")
    whole: Expr = _weeks_a_year(case) * a_week
    if case.simulated.floor is not None and prices.floor_price:
        area, taken = floor(case, case.found.units)
        lines.append(area)
        if taken.unit == "ft²":
            priced = WorkedLine(
                taken * _SQUARE_FOOT, "m² of floor: its price is that of a m²", None
            )
            lines.append(priced)
            taken = priced.term(case.told("floor in m²"), "m²")
        unit = f"{currency} a square metre"
        whole = whole - case.given("price of floor a year", unit, "money", "floor_price") * taken
    if prices.yearly:
        whole = whole - case.given("yearly costs", currency, "money", "yearly")
    machines = list(_machines_a_year(case, prices))
    if machines:
        whole = whole - added("machines × what each costs a year", machines, "machines")
    most = _most_of_year(case)
    checks = () if most is None else (of.check("year of all wanted", "at most", most),)
    return of.worked(whole, _sold_and_held(case), checks, before=lines)


def _sold(case: Case) -> WorkedLine:
    items = (
        case.counted_term(f"saleable pieces {part}", made, "a week") * worth_term(case, part)
        for part, made in case.simulated.counted.saleable.items()
    )
    pieces = summed("saleable pieces × contribution, added up", items)
    return WorkedLine(pieces, f"{case.worth_unit} a week", None)


def _scrap(case: Case, prices: Prices) -> list[Expr]:
    found: list[Expr] = []
    for part in case.plan.parts:
        pieces = scrapped(case.plan, case.simulated, part.id)
        if pieces and prices.parts[part.id].material:
            count = case.counted_term(f"scrapped pieces {part.id}", pieces, "a week")
            found.append(count * case.of_part("material of", case.worth_unit, part.id, "material"))
    return found


def _wages(case: Case, prices: Prices) -> list[Expr]:
    """All hours at one wage, or each shift's own."""
    own = [case.checked.resolved[case.scenario].has("shift", s.id, "wage") for s in prices.shifts]
    label, currency = "wage per hour", case.worth_unit
    if not any(own):
        wage = case.given(label, currency, "money", "wage", without=0.0)
        return [wage * hours_paid(case)] if prices.shifts else []
    return [
        _hours_of(case, shift)
        * (
            case.given(f"{label}, shift {shift.id}", currency, "shift", shift.id, "wage")
            if has_own
            else case.given(label, currency, "money", "wage", without=0.0)
        )
        for shift, has_own in zip(prices.shifts, own, strict=True)
    ]


def _hours_of(case: Case, shift: ShiftPaid) -> Term:
    of_cell = next(each for each in case.cell.shifts if each.id == shift.id)
    label = case.told(f"hours paid, shift {shift.id}")
    return Term(label, shift.seconds / HOUR, "h a week", FoundBy("shifts", times(of_cell)))


def _machines_a_year(case: Case, prices: Prices) -> Iterator[Expr]:
    for id_, group in prices.groups.items():
        if group.count and group.yearly:
            count = case.of_machine("machines", "", id_, "count")
            yield count * case.of_machine("yearly costs", prices.currency, id_, "yearly")


def _sold_and_held(case: Case) -> tuple[Note, ...]:
    once = notes.counted_once(case)
    return (*notes.demand_met(case), *once, *notes.limits(case), *_not_priced(case))


def _not_priced(case: Case) -> tuple[Note, ...]:
    money = case.answer.money
    return (Note("not priced", of=money),) if money is not None and money.not_priced else ()


def _first_pallets(case: Case) -> tuple[Note, ...]:
    money = case.answer.money
    has_some = money is not None and money.rests.first_pallets
    return (Note("first pallets", of=money),) if has_some else ()


def _rests(case: Case) -> tuple[Note, ...]:
    return (Note("rests", of=case.answer.money),)


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
    "price": ("price", "machines", "machines to buy"),
    "pallet_price": ("price of each pallet", "pallets", "more pallets"),
    "pallet_system_price": ("handling system each", "systems", "more machines with pallets"),
}
"""What a price is called, and of what is bought it is the price, by its key."""


def _side(case: Case) -> Costed:
    return Costed(case.plan, case.answer.figures, case.answer.held)


def capital(case: Case, of: Figure) -> Worked:
    """What is bought beyond what stands in the shop today, less what is given up."""
    currency = case.worth_unit
    here, today = prices_of(case.plan), prices_of(case.today.plan)
    spent = [*_bought(case, here, today), *_fixtures(case)]
    once = case.given("one-off cost", currency, "money", "one_off")
    if once.number:
        spent.append(once)
    words = "what is bought, each count × its price"
    whole: Expr = summed(words, spent) if spent else Plain(0)
    left = tuple(_given_up(case, here, today))
    if left:
        whole = whole - summed("machines given up × resale", left)
    if not spent and not left:
        whole = Term("investment against today", 0.0, currency, FoundBy("nothing bought"))
    said = (Note("costs nothing"), *_first_pallets(case), *_not_priced(case))
    return of.worked(whole, said, _capital_checks(case, of, here, today, bool(left)))


def _bought(case: Case, here: Prices, today: Prices) -> Iterator[Expr]:
    for id_, group in here.groups.items():
        more = bought(group, today.groups.get(id_))
        for key, (label, what, words) in _PRICED.items():
            count = getattr(more, what)
            if count and getattr(group, key):
                price = case.of_machine(label, here.currency, id_, key)
                yield _count(f"{id_}: {words}", count) * price


def _given_up(case: Case, here: Prices, today: Prices) -> Iterator[Expr]:
    for id_, count in given_up(here, today).items():
        if today.groups[id_].resale:
            yield _count(f"{id_}: machines given up", count) * _resale(case, id_, here.currency)


def _resale(case: Case, id_: str, currency: str) -> Term:
    return case.today.given(f"resale of a {id_}", currency, "machine", id_, "resale")


def _fixtures(case: Case) -> Iterator[Expr]:
    for part, more in more_fixtures(_side(case), _side(case.today)).items():
        price = _fixture_price(case, part)
        if price.number:
            words = f"fixtures of {part} held at once, beyond those of today"
            if more.numbers == 1:
                yield case.counted_term(words, more.count, "") * price
                continue
            numbers = case.of_part("part numbers of", "", part, "numbers")
            yield numbers * case.counted_term(f"{words}, of each number", more.each, "") * price


def _fixture_price(case: Case, part: str) -> Term:
    label = f"price of a fixture of {part}"
    return case.given(label, "", "part", part, "fixture_price", without=0.0)


def _count(label: str, count: int) -> Term:
    return Term(label, count, "", FoundBy("against today"))


def _capital_checks(
    case: Case, of: Figure, here: Prices, today: Prices, has_given_up: bool
) -> Iterator[Check]:
    """Between everything bought new, and everything of today given up."""
    currency = here.currency
    new: list[Expr] = []
    for id_, group in here.groups.items():
        if not group.count:
            continue
        machines: Expr = case.of_machine("machines", "", id_, "count")
        for key, (label, what, _) in _PRICED.items():
            if getattr(group, key) and (what != "systems" or group.pallets > 1):
                pallets = case.of_machine("pallets each", "", id_, "pallets")
                count = machines * pallets if what == "pallets" else machines
                new.append(count * case.of_machine(label, currency, id_, key))
    for part, held in case.answer.held.items():
        price = _fixture_price(case, part)
        if held and price.number:
            numbers = case.of_part("part numbers of", "", part, "numbers")
            most = case.counted_term(f"fixtures of {part} held at once", held, "")
            new.append(numbers * most * price if numbers.number > 1 else most * price)
    once = case.given("one-off cost", currency, "money", "one_off")
    if once.number or not new:
        new.append(once)
    words = "all machines, pallets, systems and fixtures × their prices, and the one-off cost"
    yield of.check("all new", "at most", summed(words, new))
    if has_given_up:
        old = (
            case.today.of_machine("machines", "", id_, "count") * _resale(case, id_, currency)
            for id_, group in today.groups.items()
            if group.resale and group.count
        )
        least = 0 - summed("all machines of today × resale", old)
        yield of.check("all given up", "at least", least)


# -- what comes back -------------------------------------------------------------------------


def _capital_term(case: Case) -> Term:
    return case.figure_term("investment", "money.capital", case.worth_unit)


def _laid_out(case: Case) -> Expr:
    """What is laid out more than in the reference."""
    spent, base = _capital_term(case), _capital_term(case.reference)
    return spent - base if base.number else spent


def _gain(case: Case) -> Term:
    return case.figure_term("gain of a year", "money.year_gain", case.worth_unit)


def _ramp(case: Case) -> Term:
    """The ramp in calendar years; of a year that loses there is none."""
    given = case.given("ramp", "h", "money", "ramp")
    is_used = _gain(case).number > 0
    number = float(prices_of(case.plan).ramp) if is_used else 0.0
    return Term(case.told("ramp in years"), number, "years", given.origin, given.typed)


def _come_in(gain: Term, ramp: Term, years: Expr) -> Expr:
    """What has come in so many years on, without interest."""
    if not ramp.number:
        return gain * years
    if years.value < ramp.number:
        return gain * years**2 / (2 * ramp)
    return gain * (years - ramp / 2)


def paid_back(case: Case, of: Figure) -> Worked:
    """Years from the start until what is laid out has come back."""
    spent, gain, ramp = _laid_out(case), _gain(case), _ramp(case)
    if of.value is None:
        return nothing("never back" if spent.value > 0 else "nothing laid out")
    if spent.value <= 0:
        none = Term("years", 0.0, "", FoundBy("nothing laid out"))
        return of.worked(none, _rests(case))
    if ramp.number and spent.value < gain.number * ramp.number / 2:
        back: Expr = (2 * ramp * spent / gain) ** Plain(0.5)
    else:
        back = spent / gain + ramp / 2 if ramp.number else spent / gain
    said = (Note("ramp"),) if ramp.number else ()
    checks = _payback_checks(case, of, spent)
    return of.worked(back, (*said, *_rests(case)), checks)


def _payback_checks(case: Case, of: Figure, capital: Expr) -> Iterator[Check]:
    """No sooner than the best year allows; what whole years bring, up to it and past it."""
    gain, ramp, most = _gain(case), _ramp(case), _most_of_year(case)
    if most is not None:
        yield of.check("soonest", "at least", capital / (most - _base_year(case)))
    after = math.ceil(of.number)
    if after > _LISTED:
        return
    unit = case.worth_unit
    for years in range(max(1, after - 1), after + 1):
        in_all: Expr = summed(f"gain of a year, {years} times", (gain,) * years)
        if ramp.number:
            in_all = _come_in(gain, ramp, Plain(years))
        line, names = WorkedLine(in_all, unit, 0), (str(years),)
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


def _by_year(gain: Term, ramp: Term, rate: Expr, years: Term) -> Expr | None:
    """What comes in at each year's end, worth today; None for more years than fit a line."""
    whole = math.floor(years.number)
    if not 0 < years.number <= _LISTED:
        return None
    each = []
    for at in range(1, whole + 1):
        before = _come_in(gain, ramp, Plain(at - 1))
        is_full = at - 1 >= ramp.number
        amount = gain if is_full else _come_in(gain, ramp, Plain(at)) - before
        each.append(amount / (1 + rate) ** at)
    if years.number > whole:
        share = round(years.number - whole, 9)
        amount = _come_in(gain, ramp, years) - _come_in(gain, ramp, Plain(whole))
        last = share * gain if whole >= ramp.number else amount
        each.append(last / (1 + rate) ** years.number)
    return summed("what a year brings / (1 + rate) ^ year, added up over the years", each)


def _years(case: Case) -> Term:
    return case.given("years counted", "years", "money", "years")


def _worth(gain: Term, ramp: Term, rate: Expr, years: Term) -> Expr:
    """What the years bring, worth today, in the shortest form that holds."""
    level = gain * _factor(rate, years)
    if not ramp.number:
        return level
    if ramp.number <= 1 <= years.number:
        return level - gain * ramp / 2 / (1 + rate)
    return _by_year(gain, ramp, rate, years) or level


def worth_today(case: Case, of: Figure) -> Worked:
    """What the years bring, worth today, less what is laid out."""
    spent, gain, ramp = _laid_out(case), _gain(case), _ramp(case)
    years, rate = _years(case), case.given("discount rate", "%", "money", "rate") / 100
    by_year = _by_year(gain, ramp, rate, years)
    if by_year is not None:
        check = of.check("year by year", "is", by_year - spent)
    else:
        relation: Relation = "at most" if gain.number >= 0 else "at least"
        check = of.check("no interest", relation, gain * years - spent)
    said = (Note("annuity"), *((Note("ramp"),) if ramp.number else ()), *_not_priced(case))
    return of.worked(_worth(gain, ramp, rate, years) - spent, said, (check,))


def rate_by_trying(case: Case, of: Figure) -> Worked:
    """The rate itself, found by halving."""
    if of.value is None:
        return nothing("no rate")
    spent, gain, ramp = _laid_out(case), _gain(case), _ramp(case)
    years, rate = _years(case), Term("the rate", of.number, of.unit, FoundBy("halving"))
    share = rate / 100
    by_year = _by_year(gain, ramp, share, years) or _worth(gain, ramp, share, years)
    back = WorkedLine(by_year / spent, "times what is invested", 3)
    checks = [Check("worth the capital", back, "is", Plain(1))]
    if years.number == math.floor(years.number):
        # A share of a year comes before its end, where a high rate weighs it more than all after.
        checks.append(of.check("for ever", "at most", 100 * gain / spent))
    return of.worked(rate, (Note("by trying"), *_not_priced(case)), checks)
