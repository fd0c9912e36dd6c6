"""Money side by side: the answer, a year and the capital, item by item."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from whatif.answers.compare import Answer
from whatif.answers.gains import is_difference
from whatif.answers.money.capital import Capital
from whatif.answers.money.money import MoneyFigures
from whatif.answers.money.year import Year, prices_of
from whatif.answers.ranks import Range
from whatif.plan.model import Prices
from whatif.telling.amounts import NOT_CLEAR, SAME, grouped
from whatif.telling.money.rests import NEVER, most, payback_text, rate_text
from whatif.telling.table import NOTHING_SAID, Said, SaidRow


@dataclass(frozen=True, slots=True)
class MoneyTold:
    """One scenario's money, and what it is told with.

    Attributes:
        likely: between what a year's gain lies with the likely range of what is sold; None until
            that is known.
    """

    money: MoneyFigures
    is_reference: bool
    likely: Range | None
    prices: Prices


@dataclass(frozen=True, slots=True)
class MoneyBlock:
    """Rows under a heading, which says what they are in."""

    title: str
    rows: tuple[SaidRow, ...]


def told_of(answer: Answer | None, reference: Answer) -> MoneyTold | None:
    """A scenario's money; None where there is none."""
    if answer is None or answer.money is None:
        return None
    return MoneyTold(
        answer.money,
        answer.plan.scenario == reference.plan.scenario,
        _likely(answer, reference),
        prices_of(answer.plan),
    )


def _likely(answer: Answer, reference: Answer) -> Range | None:
    """A year's gain at the ends and the middle of the likely range of the saleable gain.

    That range is in percent of the reference's saleable output, and so is this in what it
    contributes; wages and prices stay as they are.
    """
    money, base, gain = answer.money, reference.money, answer.gains.saleable
    ends = None if answer.likely is None else answer.likely.saleable
    if money is None or base is None or gain is None or ends is None:
        return None
    share = base.of_year.contribution / 100
    low, middle, high = (money.year_gain + (end - gain) * share for end in ends)
    return low, middle, high


def money_blocks(answers: Sequence[Answer | None], reference: Answer) -> tuple[MoneyBlock, ...]:
    """The answer first, then a year and the capital item by item; no item that is 0 everywhere."""
    scenarios = [told_of(answer, reference) for answer in answers]
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
                _row("contribution", scenarios, lambda told: _amount(_year(told).contribution)),
                *_taken_off(scenarios),
                _row("what is left", scenarios, lambda told: _amount(told.money.year)),
            ),
        ),
        MoneyBlock(f"Capital against today, {currency}", tuple(_items(scenarios))),
    )


def _year(told: MoneyTold) -> Year:
    return told.money.of_year


_PAID: tuple[tuple[str, Callable[[Year], float]], ...] = (
    ("less scrap", lambda year: year.scrap),
    ("less wages", lambda year: year.wages),
    ("less spindle hours", lambda year: year.spindle),
    ("less floor", lambda year: year.floor),
    ("less costs a year", lambda year: year.yearly),
    ("less machines a year", lambda year: year.machines),
)
"""What is paid of a year; wages are told also where there are none."""


def _taken_off(scenarios: Sequence[MoneyTold | None]) -> list[SaidRow]:
    found = []
    for label, amount in _PAID:
        amounts = [None if told is None else -amount(_year(told)) for told in scenarios]
        if any(amounts) or label == "less wages":
            cells = tuple(NOTHING_SAID if paid is None else _amount(paid) for paid in amounts)
            found.append(SaidRow(label, cells))
    return found


_REFERENCE = Said("reference", "none")


def _row(
    label: str,
    scenarios: Sequence[MoneyTold | None],
    cell: Callable[[MoneyTold], Said],
    reference: Said | None = None,
) -> SaidRow:
    """A text for each; ``reference`` is the reference's own where it is told in another way."""

    def said(told: MoneyTold | None) -> Said:
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


def _items(scenarios: Sequence[MoneyTold | None]) -> list[SaidRow]:
    found = []
    for label, amount in _ITEMS:
        amounts = [None if told is None else amount(told.money.of_capital) for told in scenarios]
        if any(amounts):
            # 0 and no money alike: there is nothing to read
            cells = tuple(_amount(value) if value else NOTHING_SAID for value in amounts)
            found.append(SaidRow(label, cells))
    return found


def _amount(amount: float) -> Said:
    return Said(grouped(amount))


def _capital(told: MoneyTold) -> Said:
    if told.money.is_bare:
        return Said("not priced", "bad")
    return Said(f"{_more(told)}{grouped(told.money.more_capital)}")


def _more(told: MoneyTold) -> str:
    """Before a capital that becomes more as soon as the prices that are missing are entered."""
    is_bare = any(each.what != "wage" and not each.reference for each in told.money.not_priced)
    return "at least " if is_bare else ""


def _signed(amount: float) -> Said:
    sign = "+" if round(amount) > 0 else ""
    return Said(f"{sign}{grouped(amount)}", "good" if amount > 0 else "bad")


def _worth(told: MoneyTold) -> Said:
    """The net present value; one that prices will lower is told as such, and is no gain yet."""
    said, bound = _signed(told.money.net_present_value), most(told.money.lean)
    return Said(f"{bound}{said.text}", "none") if bound else said


def _gain(told: MoneyTold) -> Said:
    if not is_difference(told.money.year_gain, told.likely):
        return Said(NOT_CLEAR if told.likely else SAME, "none", ("not clear",))
    return _signed(told.money.year_gain)


def _payback(told: MoneyTold) -> Said:
    if told.money.is_bare and told.money.year_gain > 0:
        return Said("not priced", "bad")
    text = payback_text(told.money)
    return Said(text, "bad" if text == NEVER else "plain")


def _rate(told: MoneyTold) -> Said:
    text = rate_text(told.money)
    return Said(text, "none" if text == "none" else "plain")
