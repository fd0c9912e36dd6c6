"""What a scenario's money means, in sentences."""

from __future__ import annotations

from whatif.answers.compare import Answer
from whatif.answers.gains import is_clear
from whatif.answers.money.flows import brought
from whatif.answers.money.money import MoneyFigures
from whatif.telling.amounts import listed, priced, rounded
from whatif.telling.money.blocks import MoneyTold, told_of
from whatif.telling.money.rests import least, most, rests_sentence

NO_MONEY = (
    "No part has a contribution, so there is no money to tell. Enter the price less material and "
    "outside work in the row 'contribution a piece' of a part: g opens it here. The costing of "
    "the part has all three. Wages, floor and prices of machines and pallets have rows of their "
    "own, under 'money' and under each machine."
)
"""What the view of money says where there is none to tell."""


def money_sentences(answer: Answer, reference: Answer, title: str) -> tuple[str, ...]:
    """What a scenario's money means; ``title`` is the reference's."""
    told = told_of(answer, reference)
    if told is None:
        return ("Nothing is wanted here, so that nothing is sold and there is no money to tell.",)
    money, currency = told.money, told.money.currency
    if told.is_reference:
        left = priced(money.year, currency)
        return (
            f"This is what the others are held against: a year leaves {left} "
            f"{after_costs(told)}, without what else the shop costs.",
            *_of_reference(money),
        )
    said = [_course(told, title), _worth_today(told)]
    if money.rate_of_return_percent is None:
        said.append(f"There is no rate of return: {no_rate(told)}.")
    if told.likely is not None and not is_clear(told.likely):
        low, _, high = told.likely
        said.append(
            f"As well as times and demands are known, a year is likely to bring between "
            f"{priced(low, currency)} and {priced(high, currency)} more: that is no clear "
            "difference, and what is worked out from it is none either."
        )
    return (*said, rests_sentence(money))


def _of_reference(money: MoneyFigures) -> tuple[str, ...]:
    """What the reference itself takes against the shop of today, where it is another scenario."""
    if money.capital > 0:
        taken = f"To get there from {money.rests.today} takes {_amount(money, money.capital)}"
        return (f"{taken}, which is taken off what the others take.",)
    if money.capital < 0:
        left = f"Getting there from {money.rests.today} leaves {_amount(money, -money.capital)}"
        return (f"{left} over, which is put to what the others take.",)
    return ()


def _amount(money: MoneyFigures, amount: float) -> str:
    return priced(amount, money.currency)


def _course(told: MoneyTold, title: str) -> str:
    """What is laid out, what comes back, and when."""
    money = told.money
    gain, capital = money.year_gain, money.more_capital
    brings = (
        f"every year brings {_amount(money, gain)} more than {title}"
        if gain > 0
        else f"every year brings {_amount(money, -gain)} less than {title}"
        if gain < 0
        else f"a year brings as much as {title}"
    )
    if capital > 0:
        back = (
            "it never comes back"
            if money.payback_years is None
            else f"after {least(money.lean)}{rounded(money.payback_years)} years it has come back"
        )
        return f"{_amount(money, capital)} is laid out at once; {brings}: {back}."
    if money.is_bare:
        return f"Nothing is priced yet: what has to be laid out is not known, and {brings}."
    if capital == 0:
        never = "; nothing is to come back" if gain < 0 else ""
        return f"Nothing has to be laid out, and {brings}{never}."
    freed = f"{_amount(money, -capital)} comes free at once; {brings}"
    if gain < 0:
        return f"{freed}: after {rounded(capital / gain)} years that is used up."
    return f"{freed}."


def _worth_today(told: MoneyTold) -> str:
    prices, money = told.prices, told.money
    years = float(prices.years)
    total = brought(money.year_gain, float(prices.ramp), years) - money.more_capital
    more = "more" if total >= 0 else "less"
    return (
        f"Over the {years:g} years counted {_amount(money, abs(total))} {more} comes in than is "
        f"laid out; at {100 * float(prices.rate):g} % a year all of it is worth "
        f"{most(money.lean)}{_amount(money, money.net_present_value)} today."
    )


def after_costs(told: MoneyTold) -> str:
    """What has been taken off a year's contribution: only what somebody has entered."""
    year, shifts = told.money.of_year, told.prices.shifts
    wages = any(shift.wage is not None for shift in shifts)
    off = {
        "scrap": year.scrap,
        "wages": wages,
        "spindle hours": year.spindle,
        "floor": year.floor,
        "costs a year": year.yearly + year.machines,
    }
    taken = [name for name, amount in off.items() if amount]
    said = [f"after {listed(taken)}"] if taken else []
    if wages or not shifts:
        return " ".join(said)
    return " and ".join([*said, "before wages, of which none is entered"])


def no_rate(told: MoneyTold) -> str:
    """Why there is no rate of return."""
    money = told.money
    if money.is_bare:
        return "nothing is priced yet"
    if told.prices.years == 0:
        return "no years are counted"
    if money.more_capital == 0 and money.year_gain < 0:
        return "nothing is laid out, and every year costs"
    if money.more_capital < 0 and money.year_gain < 0:
        return "money comes first and is given back later, which is a loan and no investment"
    if money.more_capital <= 0:
        return "nothing has to be laid out"
    if money.year_gain <= 0:
        return "a year brings no more than in the reference"
    return "it is beyond what is looked for, -90 % to a million percent a year"


# -- for a meeting ----------------------------------------------------------------------------


def takes_sentences(answer: Answer, reference: Answer) -> str:
    """What a scenario takes and brings, and what that rests on; "" without money."""
    told = told_of(answer, reference)
    if told is None:
        return ""
    money = told.money
    if told.is_reference:
        year = f"A year brings {_amount(money, money.year)} {after_costs(told)}"
        return f"{year}, without what else the shop costs."
    if money.is_bare:
        # What is not priced stands in what it rests on, once.
        return f"It {_brings(money)}; what it takes is not known. {rests_sentence(money)}"
    return f"{_takes(money)} and {_brings(money)}. {rests_sentence(money)}"


def _takes(money: MoneyFigures) -> str:
    capital = money.more_capital
    if capital > 0:
        return f"It takes {_amount(money, capital)}"
    return f"It leaves {_amount(money, -capital)} over" if capital < 0 else "It takes no capital"


def _brings(money: MoneyFigures) -> str:
    gain, back = money.year_gain, money.payback_years
    if gain > 0:
        text = f"brings {_amount(money, gain)} a year more"
        if not back or money.is_bare:
            return text
        return f"{text}: paid back in {least(money.lean)}{rounded(back)} years"
    text = f"brings {_amount(money, -gain)} a year less" if gain else "brings no more a year"
    return f"{text}: never paid back" if money.more_capital > 0 else text
