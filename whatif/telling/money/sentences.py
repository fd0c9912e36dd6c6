"""What a scenario's money means, in sentences."""

from __future__ import annotations

from whatif.answers.answer import Answer
from whatif.answers.money.flows import brought
from whatif.answers.money.money import MoneyFigures
from whatif.answers.money.returns import LikelyReturns
from whatif.telling.amounts import listed, priced, rounded, to_four_figures
from whatif.telling.money.blocks import MoneyTold, told_of
from whatif.telling.money.ranges import amounts, likely_amounts, years_between, years_text
from whatif.telling.money.rests import (
    first_pallets_sentence,
    least,
    more_fixtures_sentence,
    most,
    rests_sentence,
)

NO_MONEY = (
    "No part has a contribution, so there is no money to tell. With it stands here, side by side, "
    "what a year brings, what has to be invested, and when it comes back."
)
"""What the view of money says where there is none to tell."""

MONEY_STEPS = (
    (
        "c",
        "contribution per piece of a part: its price less material and outside work, all three "
        "from its costing; once more for the next part",
    ),
    ("w", "wage, which counts where people's hours differ"),
    (
        "",
        "Prices of machines, pallets and floor stand on the sheet, under each machine and 'money'.",
    ),
)
"""What to enter for it, each by its key."""


def money_sentences(answer: Answer, title: str) -> tuple[str, ...]:
    """What a scenario's money means; ``title`` is the reference's."""
    told = told_of(answer)
    if told is None:
        return ("Nothing is wanted here, so that nothing is sold and there is no money to tell.",)
    money, currency = told.money, told.money.currency
    if told.is_reference:
        left = priced(to_four_figures(money.year), currency)
        return (
            f"This is what the others are held against: a year leaves {left} "
            f"{after_costs(told)}, without what else the shop costs.",
            *_of_reference(money),
        )
    said = [_course(told, title), *_unmade(money)]
    if told.standing == "unclear":
        said.append("That is no clear difference, and what is worked out from it is none either.")
    else:
        said += [*outside_sentences(told), _worth_today(told)]
        if told.standing != "outside" and money.rate_of_return_percent is None:
            said.append(f"There is no rate of return: {no_rate(told)}.")
    pallets = first_pallets_sentence(money.rests.first_pallets)
    fixtures = more_fixtures_sentence(money.rests, currency)
    return (*said, *filter(None, (fixtures, rests_sentence(money), pallets)))


def _unmade(money: MoneyFigures) -> tuple[str, ...]:
    """That a part is wanted and not made."""
    parts = money.rests.unmade
    if not parts:
        return ()
    is_one = len(parts) == 1
    return (
        f"{listed(parts)} {'is' if is_one else 'are'} wanted and not made here, so that nothing is "
        f"earned with {'it' if is_one else 'them'}.",
    )


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


def _result(money: MoneyFigures, amount: float) -> str:
    """An amount that hangs on what is simulated."""
    return _amount(money, to_four_figures(amount))


def _course(told: MoneyTold, title: str) -> str:
    """What is invested, what comes back, and when."""
    money, brings = told.money, _each_year(told, title)
    capital = money.more_capital
    if money.is_bare:
        return f"Nothing is priced yet: what has to be invested is not known, and {brings}."
    if capital > 0:
        back = _comes_back(told)
        text = f"{_begun(_bounded(money, capital))} is invested at once; {brings}"
        return f"{text}: {back}." if back else f"{text}."
    if capital == 0:
        never = "; nothing is to come back" if _loses(told) else ""
        return f"Nothing has to be invested, and {brings}{never}."
    freed = f"{_begun(_bounded(money, -capital))} comes free at once; {brings}"
    if not _loses(told):
        return f"{freed}."
    if told.standing == "outside" and told.likely is not None:
        ends = told.likely.low.year_gain, told.likely.high.year_gain
        used = years_between(*(capital / end for end in ends))
    else:
        used = rounded(capital / money.year_gain)
    return f"{freed}: after {used} years that is used up."


def _bounded(money: MoneyFigures, amount: float) -> str:
    """An amount invested, or freed, with what prices that are missing make of it."""
    bound = (least if money.more_capital > 0 else most)(money.leans.capital)
    return f"{bound}{_amount(money, amount)}"


def _begun(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}"


def _loses(told: MoneyTold) -> bool:
    """Whether a year clearly brings less."""
    gain = told.money.year_gain if told.likely is None else told.likely.middle.year_gain
    return told.standing in ("typed", "outside") and gain < 0


def _each_year(told: MoneyTold, title: str) -> str:
    """What every year brings, with its range, as a clause."""
    money, likely = told.money, told.likely
    if told.standing == "nothing":
        return f"a year brings as much as {title}"
    if likely is not None and told.standing == "unclear":
        return (
            f"whether a year brings more than {title} is not clear (likely "
            f"{amounts(likely.low.year_gain, likely.high.year_gain, money.currency)} more)"
        )
    more = "less" if _loses(told) else "more"
    if likely is not None and told.standing == "outside":
        return f"every year is likely to bring {_likely_gain(money, likely)} {more} than {title}"
    bound = most(money.leans.year_gain) if more == "more" else least(money.leans.year_gain)
    typed = f"{bound}{_result(money, abs(money.year_gain))}"
    return f"every year brings {typed} {more} than {title}{_likely_beside(told, bound)}"


def _likely_gain(money: MoneyFigures, likely: LikelyReturns) -> str:
    """What a year brings more, or less, as a range without a sign."""
    ends = sorted(abs(end.year_gain) for end in (likely.low, likely.high))
    return amounts(ends[0], ends[1], money.currency)


def _likely_beside(told: MoneyTold, bound: str) -> str:
    """The range of a year's gain behind it; "" where it says the same."""
    if told.likely is None:
        return ""
    low, high = sorted(abs(end.year_gain) for end in (told.likely.low, told.likely.high))
    return likely_amounts(abs(told.money.year_gain), low, high, bound)


def _comes_back(told: MoneyTold) -> str:
    """When what is invested has come back, with its range; "" where a year's gain is not clear."""
    if told.standing == "unclear":
        return ""
    back = _back_after(told)
    return f"after {back} it has come back" if back else "it never comes back"


def _back_after(told: MoneyTold) -> str:
    """How long it takes: "1.9 years (likely 1.7 to 2.1)"; "" where it never comes back."""
    money, likely = told.money, told.likely
    ends = () if likely is None else (likely.high.payback_years, likely.low.payback_years)
    known = [end for end in ends if end is not None]
    if told.standing == "outside":
        return f"{least(money.lean)}{years_between(*known)} years" if known else ""
    if told.standing == "nothing" or money.payback_years is None:
        return ""
    alone = years_text(money.payback_years)
    text = f"{least(money.lean)}{alone} years"
    if not known or set(map(years_text, known)) == {alone}:
        return text
    return f"{text} (likely {least(money.lean)}{years_between(*known)})"


def outside_sentences(told: MoneyTold) -> tuple[str, ...]:
    """That what is worked out as typed lies outside of the likely range, which leads."""
    if told.standing != "outside":
        return ()
    money = told.money
    more = "more" if money.year_gain >= 0 else "less"
    years = money.payback_years
    back = f" and a payback of {years_text(years)} years" if years else ""
    return (
        f"As typed it is {_result(money, abs(money.year_gain))} a year {more}{back}, which lies "
        "outside the likely range: the range leads, and what stands item by item is as typed.",
    )


def _worth_today(told: MoneyTold) -> str:
    prices, money, likely = told.prices, told.money, told.likely
    years, rate = float(prices.years), f"{100 * float(prices.rate):g} %"
    bound = most(money.lean)
    ends = () if likely is None else (likely.low.net_present_value, likely.high.net_present_value)
    if ends and told.standing == "outside":
        worth = f"{bound}{amounts(ends[0], ends[1], money.currency)}"
        return f"At {rate} a year the {years:g} years counted are likely to be worth {worth} today."
    total = brought(money.year_gain, float(prices.ramp), years) - money.more_capital
    more, around = ("more", most) if total >= 0 else ("less", least)
    beside = likely_amounts(money.net_present_value, *ends, bound) if ends else ""
    return (
        f"Over the {years:g} years counted {around(money.lean)}{_result(money, abs(total))} {more} "
        f"comes in than is invested; at {rate} a year all of it is worth "
        f"{bound}{_result(money, money.net_present_value)} today{beside}."
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
        return "nothing is invested, and every year costs"
    if money.more_capital < 0 and money.year_gain < 0:
        return "money comes first and is given back later, which is a loan and no investment"
    if money.more_capital <= 0:
        return "nothing has to be invested"
    if money.year_gain <= 0:
        return f"a year brings no more than in {money.reference}"
    return "it is beyond what is looked for, -90 % to a million percent a year"


# -- for a meeting ----------------------------------------------------------------------------


def takes_sentences(answer: Answer) -> str:
    """What a scenario takes and brings; "" without money. What that rests on stands apart."""
    told = told_of(answer)
    if told is None:
        return ""
    money = told.money
    if told.is_reference:
        year = f"A year brings {_result(money, money.year)} {after_costs(told)}"
        return f"{year}, without what else the shop costs."
    outside = "".join(f" {said}" for said in outside_sentences(told))
    if told.standing == "unclear":
        return f"{_takes(money)}; {_brings(told)}.{outside}"
    if money.is_bare:
        # What is not priced stands in what it rests on, once.
        return f"It {_brings(told)}; what it takes is not known.{outside}"
    return f"{_takes(money)} and {_brings(told)}.{outside}"


def returns_sentences(answer: Answer) -> str:
    """Beside a table of figures: which of them lead, and what they rest on; "" without money."""
    told = told_of(answer)
    if told is None or told.is_reference:
        return ""
    return " ".join([*outside_sentences(told), rests_sentence(told.money)])


def _takes(money: MoneyFigures) -> str:
    capital = money.more_capital
    if money.is_bare:
        return "What it takes is not known"
    if capital:
        amount = _bounded(money, abs(capital))
        return f"It takes {amount}" if capital > 0 else f"It leaves {amount} over"
    return "It takes no capital"


def _brings(told: MoneyTold) -> str:
    money, likely = told.money, told.likely
    if told.standing == "nothing":
        text = "brings no more a year"
        return f"{text}: never paid back" if money.more_capital > 0 else text
    if likely is not None and told.standing == "unclear":
        between = amounts(likely.low.year_gain, likely.high.year_gain, money.currency)
        return f"whether it brings more a year is not clear (likely {between})"
    more = "less" if _loses(told) else "more"
    if likely is not None and told.standing == "outside":
        text = f"is likely to bring {_likely_gain(money, likely)} a year {more}"
    else:
        bound = most(money.leans.year_gain) if more == "more" else least(money.leans.year_gain)
        gain = f"{bound}{_result(money, abs(money.year_gain))}"
        text = f"brings {gain} a year {more}{_likely_beside(told, bound)}"
    if money.more_capital <= 0 or money.is_bare:
        return text
    back = _back_after(told)
    return f"{text}: paid back in {back}" if back else f"{text}: never paid back"
