"""What an alternative takes, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.answers.takes import NO_HOURS
from whatif.telling.amounts import listed, priced, rounded
from whatif.telling.money.rests import missing_words

if TYPE_CHECKING:
    from whatif.answers.takes import Takes

_SHOWN = 0.5
"""Of the currency, from which on an amount is not told as nothing."""


def costs_words(takes: Takes, currency: str) -> str:
    """All of it behind "it takes": "EUR 255 000 one-off and EUR 38 000 more a year"."""
    said = []
    if abs(takes.one_off) >= _SHOWN:
        once = priced(abs(takes.one_off), currency)
        said.append(f"{once} one-off" if takes.one_off > 0 else f"nothing, and leaves {once} over")
    if takes.is_wage_open:
        said.append(hours_words(takes))
    elif abs(takes.yearly) >= _SHOWN:
        more = "more" if takes.yearly > 0 else "less"
        said.append(f"{priced(abs(takes.yearly), currency)} {more} a year")
    if takes.buys_unpriced:
        own = [each for each in takes.missing if each.what != "wage" and not each.reference]
        said.append(f"{listed([missing_words(each) for each in own])}, not priced yet")
    return listed([each for each in said if each]) or "nothing more"


def hours_words(takes: Takes) -> str:
    """Paid hours and people a week against the reference, as words; "" where they are the same."""
    said = []
    if abs(takes.paid_hours) >= NO_HOURS:
        more = "more" if takes.paid_hours > 0 else "fewer"
        said.append(f"{rounded(abs(takes.paid_hours))} paid hours a week {more}")
    if takes.people:
        said.append(people_words(takes.people))
    return listed(said)


def people_words(many: int) -> str:
    """So many people more or fewer: "1 person fewer"."""
    people = "person" if abs(many) == 1 else "people"
    return f"{abs(many)} {people} {'more' if many > 0 else 'fewer'}"
