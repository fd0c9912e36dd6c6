"""Money side by side: the answer, a year and the capital, item by item."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from whatif.answers.answer import Answer
from whatif.answers.money.capital import Capital
from whatif.answers.money.money import MoneyFigures
from whatif.answers.money.returns import LikelyReturns, Standing
from whatif.answers.money.year import Year, prices_of
from whatif.plan.model import Prices
from whatif.records import dataclass
from whatif.telling.amounts import (
    NOTHING,
    ROUNDED,
    grouped,
    in_millions,
    in_thousands,
    range_in_millions,
    result_told,
    to_four_figures,
    whole,
)
from whatif.telling.money.ranges import (
    NEVER,
    NOT_CLEAR,
    NOT_PRICED,
    NOTHING_LAID_OUT,
    beside_range,
    payback_texts,
    rate_texts,
    worth_texts,
    year_gain_texts,
)
from whatif.telling.money.rests import FIRST_PALLET, least
from whatif.telling.said import MARK, NOTHING_SAID, Said, SaidRow, Sense


@dataclass(frozen=True, slots=True)
class MoneyTold:
    """One scenario's money, and what it is told with.

    Attributes:
        likely: what it lies between with the likely range of what is sold; None until that is
            known.
        is_open: whether it rests on what is not so yet, as its gain does.
    """

    money: MoneyFigures
    likely: LikelyReturns | None
    prices: Prices
    is_open: bool = False

    @property
    def is_reference(self) -> bool:
        """Whether it is what others are held against."""
        return not self.money.is_compared

    @property
    def standing(self) -> Standing:
        """How it is to be told."""
        return self.money.standing(self.likely)


@dataclass(frozen=True, slots=True)
class MoneyBlock:
    """Rows under a heading, which says what they are in."""

    title: str
    rows: tuple[SaidRow, ...]


A_YEAR: Final = "A year"
"""What the block of a year's items begins with."""


def likely_row(row: SaidRow) -> SaidRow | None:
    """The ranges of a row's figures, for a row of their own; None where there are none."""
    ranges = [beside_range((said.text, *said.shorter))[1] for said in row.cells]
    shorter = (in_thousands, in_millions, range_in_millions, _by_a_sign)
    cells = tuple(Said(text, "none", tuple(short(text) for short in shorter)) for text in ranges)
    return SaidRow("likely", cells) if any(ranges) else None


def _by_a_sign(text: str) -> str:
    """A range with "over 100" as ">100"."""
    return text.replace("over ", ">")


def figure_row(row: SaidRow) -> SaidRow:
    """A row without the ranges of its figures, where these are no part of the figure."""
    return SaidRow(row.label, tuple(map(_figure, row.cells)))


def _figure(said: Said) -> Said:
    alone, beside = beside_range((said.text, *said.shorter))
    return Said(alone, said.sense) if beside else said


def told_of(answer: Answer | None) -> MoneyTold | None:
    """A scenario's money; None where there is none."""
    if answer is None or answer.money is None:
        return None
    return MoneyTold(
        answer.money, answer.likely_money, prices_of(answer.plan), bool(answer.caveats)
    )


def money_blocks(answers: Sequence[Answer | None], against: str = "") -> tuple[MoneyBlock, ...]:
    """The answer first, then a year and the capital item by item; no item that is 0 everywhere.

    ``against`` is the reference's title.
    """
    scenarios = [told_of(answer) for answer in answers]
    currency = next((told.money.currency for told in scenarios if told is not None), "")
    return (
        MoneyBlock(
            f"Against {against or 'the reference'}, {currency}",
            _with_figures(
                _row("yearly gain", scenarios, _gain, _REFERENCE),
                _row("investment", scenarios, _capital, _REFERENCE),
                _row("payback", scenarios, _payback, NOTHING_SAID),
                _row("net present value", scenarios, _worth, NOTHING_SAID),
                _row("rate of return a year", scenarios, _rate, NOTHING_SAID),
            ),
        ),
        MoneyBlock(
            f"{A_YEAR}, {currency}{ROUNDED if any(map(_is_off, scenarios)) else ''}",
            (
                _row("contribution", scenarios, lambda told: _result(_year(told).contribution)),
                *_taken_off(scenarios),
                _row("yearly result", scenarios, lambda told: _result(told.money.year)),
            ),
        ),
        MoneyBlock(
            f"Investment against today, {currency}{_of_pallets(scenarios)}",
            tuple(_items(scenarios)),
        ),
    )


def _of_pallets(scenarios: Sequence[MoneyTold | None]) -> str:
    """What is left out of the pallets' row: it is the row's, but has no room there."""
    is_some = any(told is not None and told.money.rests.first_pallets for told in scenarios)
    return f" ({FIRST_PALLET})" if is_some else ""


def _with_figures(*rows: SaidRow) -> tuple[SaidRow, ...]:
    """Those rows that tell something of any scenario."""
    empty = (NOTHING_SAID, _REFERENCE)
    return tuple(row for row in rows if any(said not in empty for said in row.cells))


def _year(told: MoneyTold) -> Year:
    return told.money.of_year


_PAID: tuple[tuple[str, Callable[[Year], float]], ...] = (
    ("scrap", lambda year: year.scrap),
    ("wages", lambda year: year.wages),
    ("cost of spindle hours", lambda year: year.spindle),
    ("floor", lambda year: year.floor),
    ("yearly costs", lambda year: year.yearly),
    ("machines, yearly", lambda year: year.machines),
)
"""What is paid of a year; wages are told also where there are none."""


def _is_off(told: MoneyTold | None) -> bool:
    """Whether a year's items, as they read, add up to another result than the one below them."""
    if told is None:
        return False
    year = _year(told)
    items = [year.contribution, *(-amount(year) for _, amount in _PAID)]
    return sum(map(_reads, items)) != _reads(told.money.year)


def _reads(amount: float) -> int:
    """An amount of a year as it reads."""
    return whole(to_four_figures(amount))


def _taken_off(scenarios: Sequence[MoneyTold | None]) -> list[SaidRow]:
    found = []
    for label, amount in _PAID:
        amounts = [None if told is None else -amount(_year(told)) for told in scenarios]
        if any(amounts) or label == "wages":
            cells = tuple(NOTHING_SAID if paid is None else _result(paid) for paid in amounts)
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
    ("handling systems", lambda capital: float(capital.systems)),
    ("more fixtures", lambda capital: float(capital.fixtures)),
    ("one-off cost", lambda capital: float(capital.one_off)),
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


def _result(amount: float) -> Said:
    """An amount that hangs on what is simulated."""
    return Said(result_told(amount))


def _amount(amount: float) -> Said:
    return Said(grouped(amount))


def _capital(told: MoneyTold) -> Said:
    if told.money.is_bare:
        return Said(NOT_PRICED, "unsure")
    return Said(f"{least(told.money.leans.capital)}{grouped(told.money.more_capital)}")


def _sense(told: MoneyTold, amount: float) -> Sense:
    """Good or bad by what is to be expected; what rests on what is not so yet is neither."""
    if told.is_open:
        return "beware"
    if told.standing == "unclear" or not amount:
        return "unsure"
    return "good" if amount > 0 else "bad"


def _worth(told: MoneyTold) -> Said:
    value = told.money.net_present_value
    if told.standing == "outside" and told.likely is not None:
        value = told.likely.middle.net_present_value
    return _marked(told, worth_texts(told.money, told.likely), value)


def _gain(told: MoneyTold) -> Said:
    gain = told.money.year_gain if told.likely is None else told.likely.middle.year_gain
    return _marked(told, year_gain_texts(told.money, told.likely), gain)


def _marked(told: MoneyTold, texts: Sequence[str], amount: float) -> Said:
    """An amount that is gained, or lost: to beware of where the scenario's own gain is."""
    mark = MARK if told.is_open else ""
    first, *shorter = (f"{mark}{text}" for text in texts)
    return Said(first, _sense(told, amount), tuple(shorter), is_marked=told.is_open)


_OPEN: Final = (NOT_CLEAR, NOT_PRICED)
"""In place of years and rates that nobody can tell yet."""


def _payback(told: MoneyTold) -> Said:
    first, *shorter = payback_texts(told.money, told.likely)
    sense: Sense = "bad" if first == NEVER else "plain"
    return Said(first, "unsure" if first in _OPEN else sense, tuple(shorter))


def _rate(told: MoneyTold) -> Said:
    first, *shorter = rate_texts(told.money, told.likely)
    return Said(
        first,
        "unsure" if first in _OPEN else "plain",
        # Why there is none is said in a sentence below.
        (NOTHING,) if first == NOTHING_LAID_OUT else tuple(shorter),
    )
