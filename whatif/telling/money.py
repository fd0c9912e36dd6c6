"""Money side by side, and what it means in sentences."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from whatif.answers.compare import Answer
from whatif.answers.gains import is_clear, is_difference
from whatif.answers.money import Added, Capital, MoneyFigures, Year, capital_of, not_priced, year_of
from whatif.answers.ranks import Range
from whatif.plan.model import Prices
from whatif.telling.amounts import NOT_CLEAR, SAME, grouped, listed, priced, rounded
from whatif.telling.table import NOTHING_SAID, Said, SaidRow, Sense


@dataclass(frozen=True, slots=True)
class _Told:
    """One scenario's money with its parts."""

    money: MoneyFigures
    year: Year
    capital: Capital
    is_reference: bool
    likely: Range | None
    missing: tuple[Added, ...]
    prices: Prices | None

    @property
    def is_bare(self) -> bool:
        """Whether nothing is laid out only because prices are missing."""
        return bool(self.missing) and not self.money.capital


@dataclass(frozen=True, slots=True)
class MoneyBlock:
    """Rows under a heading, which says what they are in."""

    title: str
    rows: tuple[SaidRow, ...]


def _told(answer: Answer | None, reference: Answer) -> _Told | None:
    if answer is None or answer.money is None or answer.figures is None:
        return None
    return _Told(
        answer.money,
        year_of(answer.plan, answer.figures),
        capital_of(answer.plan, answer.held, reference.plan, reference.held),
        answer.plan.scenario == reference.plan.scenario,
        likely_year(answer, reference),
        not_priced(answer.plan, answer.held, reference.plan, reference.held),
        answer.plan.prices,
    )


def likely_year(answer: Answer, reference: Answer) -> Range | None:
    """The likely range of the year's gain; None until it is known.

    The saleable gain is in points of the reference's output, and its range so in its
    contribution; what else a year costs does not depend on how well times are known.
    """
    likely, gain = answer.likely, answer.gains.saleable
    if likely is None or likely.saleable is None or gain is None:
        return None
    if reference.figures is None or answer.money is None:
        return None
    point = year_of(reference.plan, reference.figures).contribution / 100
    low, middle, high = (answer.money.year_gain + (of - gain) * point for of in likely.saleable)
    return low, middle, high


def money_blocks(answers: Sequence[Answer | None], reference: Answer) -> tuple[MoneyBlock, ...]:
    """The answer first, then a year and the capital item by item; no item that is 0 everywhere."""
    scenarios = [_told(answer, reference) for answer in answers]
    currency = next((told.money.currency for told in scenarios if told is not None), "")
    return (
        MoneyBlock(
            f"Against the reference, {currency}",
            (
                _row("a year brings more by", scenarios, _gain, _REFERENCE),
                _row("capital to be laid out", scenarios, _capital, _REFERENCE),
                _row("payback", scenarios, _payback, NOTHING_SAID),
                _row("net present value", scenarios, _worth, NOTHING_SAID),
                _row("rate of return a year", scenarios, _rate, NOTHING_SAID),
            ),
        ),
        MoneyBlock(
            f"A year, {currency}",
            (
                _row("contribution", scenarios, lambda told: _amount(told.year.contribution)),
                _row("less wages", scenarios, lambda told: _amount(-told.year.wages)),
                _row("less floor", scenarios, lambda told: _amount(-told.year.floor)),
                _row("what is left", scenarios, lambda told: _amount(told.money.year)),
            ),
        ),
        MoneyBlock(f"Capital, {currency}", tuple(_items(scenarios))),
    )


_REFERENCE = Said("reference", "none")


def _row(
    label: str,
    scenarios: Sequence[_Told | None],
    cell: Callable[[_Told], Said],
    reference: Said | None = None,
) -> SaidRow:
    """A text for each; ``reference`` is the reference's own where it is told in another way."""

    def said(told: _Told | None) -> Said:
        if told is None:
            return NOTHING_SAID
        return reference if reference is not None and told.is_reference else cell(told)

    return SaidRow(label, tuple(map(said, scenarios)))


_ITEMS: tuple[tuple[str, Callable[[Capital], float]], ...] = (
    ("machines bought", lambda capital: float(capital.machines)),
    ("machines given up", lambda capital: -float(capital.given_up)),
    ("more pallets", lambda capital: float(capital.pallets)),
    ("what moves the pallets", lambda capital: float(capital.systems)),
    ("more fixtures", lambda capital: float(capital.fixtures)),
    ("once, to set it up", lambda capital: float(capital.one_off)),
)


def _items(scenarios: Sequence[_Told | None]) -> list[SaidRow]:
    found = []
    for label, amount in _ITEMS:
        amounts = [None if told is None else amount(told.capital) for told in scenarios]
        if any(amounts):
            # 0 and no money alike: there is nothing to read
            cells = tuple(_amount(value) if value else NOTHING_SAID for value in amounts)
            found.append(SaidRow(label, cells))
    return found


def _amount(amount: float) -> Said:
    return Said(grouped(amount))


def _capital(told: _Told) -> Said:
    if told.is_bare:
        return Said("not priced", "bad")
    return Said(f"{_more(told)}{grouped(told.money.capital)}")


def _more(told: _Told) -> str:
    """Before what becomes more as soon as the prices that are missing are entered."""
    return "> " if told.missing else ""


def _signed(amount: float) -> Said:
    sign = "+" if round(amount) > 0 else ""
    return Said(f"{sign}{grouped(amount)}", "good" if amount > 0 else "bad")


def _worth(told: _Told) -> Said:
    """The net present value; one that prices will lower is told as such, and is no gain yet."""
    said = _signed(told.money.net_present_value)
    return Said(f"< {said.text}", "none") if told.missing else said


def _gain(told: _Told) -> Said:
    if not is_difference(told.money.year_gain, told.likely):
        return Said(NOT_CLEAR if told.likely else SAME, "none", ("not clear",))
    return _signed(told.money.year_gain)


def _payback(told: _Told) -> Said:
    years = told.money.payback_years
    if years is None:
        return Said("never", "bad")
    if told.is_bare:
        return Said("not priced", "bad")
    return Said(f"{_more(told)}{rounded(years)} years") if years else Said("at once")


def _rate(told: _Told) -> Said:
    rate = told.money.rate_of_return_percent
    return Said("none", "none") if rate is None else Said(f"{rounded(rate)} %")


# -- in sentences ----------------------------------------------------------------------------


NO_MONEY = (
    "No part has a contribution, so there is no money to tell. Enter the price less material and "
    "outside work in the row 'contribution a piece' of a part: g opens it here. The costing of "
    "the part has all three. Wages, floor and prices of machines and pallets have rows of their "
    "own, under 'money' and under each machine."
)
"""What the view of money says where there is none to tell."""


def money_sentences(answer: Answer, reference: Answer, title: str) -> tuple[str, ...]:
    """What a scenario's money means; ``title`` is the reference's."""
    told = _told(answer, reference)
    if told is None:
        return ("Nothing is wanted here, so that nothing is sold and there is no money to tell.",)
    money, currency = told.money, told.money.currency
    if told.is_reference:
        left = priced(money.year, currency)
        return (
            f"This is what the others are held against: a year leaves {left} "
            f"{after_costs(told.prices)}, without what else the shop costs.",
        )
    said = [_course(told, title), _worth_today(told, answer)]
    if money.rate_of_return_percent is None:
        why = "nothing is priced yet" if told.is_bare else no_rate(money)
        said.append(f"There is no rate of return: {why}.")
    if told.likely is not None and not is_clear(told.likely):
        low, _, high = told.likely
        said.append(
            f"As well as times and demands are known, a year is likely to bring between "
            f"{priced(low, currency)} and {priced(high, currency)} more: that is no clear "
            "difference, and what is worked out from it is none either."
        )
    return tuple(said)


def _course(told: _Told, title: str) -> str:
    """What is laid out, what comes back, and when."""
    money, currency = told.money, told.money.currency
    gain, capital = money.year_gain, money.capital
    brings = (
        f"every year brings {priced(gain, currency)} more than {title}"
        if gain > 0
        else f"every year brings {priced(-gain, currency)} less than {title}"
        if gain < 0
        else f"a year brings as much as {title}"
    )
    if capital > 0:
        back = (
            "it never comes back"
            if money.payback_years is None
            else f"after {rounded(money.payback_years)} years it has come back"
        )
        return f"{priced(capital, currency)} is laid out at once; {brings}: {back}."
    if told.is_bare:
        return f"Nothing is priced yet: what has to be laid out is not known, and {brings}."
    if capital == 0:
        never = "; nothing is to come back" if gain < 0 else ""
        return f"Nothing has to be laid out, and {brings}{never}."
    freed = f"Machines given up leave {priced(-capital, currency)} over; {brings}"
    if gain < 0:
        return f"{freed}: after {rounded(capital / gain)} years that is used up."
    return f"{freed}."


def _worth_today(told: _Told, answer: Answer) -> str:
    prices, money = answer.plan.prices, told.money
    assert prices is not None
    years = float(prices.years)
    total = cumulated(money.capital, money.year_gain, years)
    more = "more" if total >= 0 else "less"
    less = ", what is not priced yet not taken off" if told.missing else ""
    return (
        f"After the {years:g} years counted there is {priced(abs(total), money.currency)} {more}, "
        f"worth {priced(money.net_present_value, money.currency)} today at "
        f"{100 * float(prices.rate):g} % a year{less}."
    )


def after_costs(prices: Prices | None) -> str:
    """What has been taken off a year's contribution: only what somebody has entered."""
    wages = prices is not None and prices.is_wage_given
    floor = prices is not None and prices.floor_price > 0
    taken = [name for name, is_off in (("wages", wages), ("floor", floor)) if is_off]
    said = [f"after {listed(taken)}"] if taken else []
    return " and ".join(said if wages else [*said, "before wages, of which none is entered"])


def no_rate(money: MoneyFigures) -> str:
    """Why there is no rate of return.

    There is never more than one: capital is laid out once, and every year's amount is the same.
    """
    if money.capital == 0 and money.year_gain < 0:
        return "nothing is laid out, and every year costs"
    if money.capital < 0 and money.year_gain < 0:
        return "money comes first and is given back later, which is a loan and no investment"
    if money.capital <= 0:
        return "nothing has to be laid out"
    if money.year_gain <= 0:
        return "a year brings no more than in the reference"
    return "it is beyond what is looked for, -90 % to a million percent a year"


# -- what has come back, year after year -----------------------------------------------------


@dataclass(frozen=True, slots=True)
class CashRow:
    """A row: the amount at its outer edge, then a cell for each step of time."""

    label: str
    cells: str
    sense: Sense


@dataclass(frozen=True, slots=True)
class CashCurve:
    """Rows from the largest amount down; then the years below them.

    ``row_stands_for`` is the amount that one row stands for; ``has_back`` whether the capital is
    back within the years shown, where the line of nothing is marked.
    """

    rows: tuple[CashRow, ...]
    row_stands_for: float
    has_back: bool


ABOVE, HALF_ABOVE, BELOW, HALF_BELOW, ZERO, BACK = "█", "▄", "▒", "▀", "─", "┼"
"""Cells and half cells of more and of less than nothing, the line of nothing, and its mark."""


def cumulated(capital: float, yearly: float, years: float) -> float:
    """What has come in less what was laid out, so many years on, without interest.

    A year's amount is taken to come in evenly, which is how payback is reckoned too.
    """
    return yearly * years - capital


def cash_curve(
    capital: float, yearly: float, years: float, back: float | None, width: int, height: int
) -> CashCurve:
    """The cumulated cash over the years as bars from the line of nothing.

    Args:
        years: how many are counted, at the right edge; more than 0.
        back: years until the capital has come back; None where it never does.
        width, height: cells there are for the bars, labels and the line of years left out.
    """
    width, height = max(8, width), max(3, height)
    amounts = [cumulated(capital, yearly, years * at / (width - 1)) for at in range(width)]
    high, low = max(0.0, *amounts), max(0.0, -min(amounts))
    per_row = _row_amount(high, low, height - 1)
    halves = [math.floor(2 * amount / per_row + 0.5) for amount in amounts]
    up, down = math.ceil(max(0, *halves) / 2), math.ceil(max(0, -min(halves)) / 2)
    rows = [
        CashRow(grouped(k * per_row), _bar_cells(halves, k, ABOVE, HALF_ABOVE), "good")
        for k in range(up, 0, -1)
    ]
    has_back = back is not None and 0 < back <= years
    rows.append(CashRow("0", _zero_line(years, back if has_back else None, width), "plain"))
    less = [-half for half in halves]
    rows += [
        CashRow(grouped(-k * per_row), _bar_cells(less, k, BELOW, HALF_BELOW), "bad")
        for k in range(1, down + 1)
    ]
    rows.append(CashRow("years", _years_line(years, width), "plain"))
    return CashCurve(tuple(rows), per_row, has_back)


def _bar_cells(halves: Sequence[int], k: int, whole: str, half: str) -> str:
    """The k-th row from the line of nothing."""
    return "".join(whole if h >= 2 * k else half if h == 2 * k - 1 else " " for h in halves)


def _row_amount(high: float, low: float, rows: int) -> float:
    """The least amount of 1, 2 or 5 and zeros with which all rows have room."""
    power = 10.0 ** math.floor(math.log10(max(1.0, (high + low) / rows)))
    for times in (1, 2, 5, 10, 20):
        amount = times * power
        if math.ceil(high / amount - 1e-9) + math.ceil(low / amount - 1e-9) <= rows:
            return amount
    return 50 * power


def _zero_line(years: float, back: float | None, width: int) -> str:
    line = [ZERO] * width
    if back is not None:
        line[round(back / years * (width - 1))] = BACK
    return "".join(line)


def _years_line(years: float, width: int) -> str:
    """Every year at its place; every second or fifth where there is no room for all."""
    line = [" "] * (width + 3)
    room = (width - 1) / years
    every = next((step for step in (1, 2, 5, 10, 20, 50) if step * room >= 4), 100)
    for year in range(0, math.floor(years) + 1, every):
        at = round(year * room)
        for i, sign in enumerate(str(year)):
            line[at + i] = sign
    return "".join(line).rstrip()
