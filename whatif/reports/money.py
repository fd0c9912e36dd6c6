"""A scenario's money as plain data (rule `json.money`)."""

from __future__ import annotations

from typing import Any, Final

from whatif.answers.money.money import MoneyFigures
from whatif.telling.money.rests import missing_words, rests_parts

MONEY_BEFORE: Final = ("currency", "year", "year_gain", "capital")
MONEY_AFTER: Final = ("payback_years", "net_present_value", "rate_of_return_percent")


def money_data(money: MoneyFigures | None) -> dict[str, Any] | None:
    """The figures, what is not priced, and what a payback rests on; None without money."""
    if money is None:
        return None
    return {
        **{key: getattr(money, key) for key in MONEY_BEFORE},
        "not_priced": [missing_words(each) for each in money.not_priced],
        **{key: getattr(money, key) for key in MONEY_AFTER},
        "rests_on": list(rests_parts(money)),
    }
