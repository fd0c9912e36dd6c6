"""What the capital of a scenario consists of, item by item (rule `money.capital`)."""

from __future__ import annotations

from collections.abc import Iterator

from whatif.answers.account.case import Case
from whatif.answers.account.terms import Expr, Term
from whatif.answers.money.money import group_changes
from whatif.plan.model import Prices

_PRICED = (
    ("bought", "machines to buy", "price", "price"),
    ("pallets", "more pallets", "pallet_price", "price a pallet"),
    ("systems", "more machines with pallets", "pallet_system_price", "price of a pallet system"),
)


def capital_parts(case: Case) -> tuple[list[Expr], list[Expr]]:
    """What is bought, and what is given up, each as a count times its price; no item of 0."""
    here, there = case.plan.prices, case.reference.plan.prices
    assert here is not None
    assert there is not None
    spent = [*_groups(case, here, there), *_fixtures(case)]
    once = case.given("once", here.currency, "money", "one_off")
    if once.number:
        spent.append(once)
    given_up: list[Expr] = []
    for id_, group in there.groups.items():
        count = group_changes(here.groups.get(id_), group).given_up
        if count and group.resale:
            path = ("machine", id_, "resale")
            price = case.reference.given(f"resale of a {id_}", here.currency, *path)
            given_up.append(_count(f"{id_}: machines given up", count) * price)
    return spent, given_up


def _groups(case: Case, here: Prices, there: Prices) -> Iterator[Expr]:
    for id_, group in here.groups.items():
        changes = group_changes(group, there.groups.get(id_))
        for what, words, key, label in _PRICED:
            count = getattr(changes, what)
            if count and getattr(group, key):
                price = case.given(f"{label} ({id_})", here.currency, "machine", id_, key)
                yield _count(f"{id_}: {words}", count) * price


def _fixtures(case: Case) -> Iterator[Expr]:
    before = case.reference.answer.held
    for part, held in case.answer.held.items():
        more = held - before.get(part, 0)
        price = case.given(f"price of a fixture of {part}", "", "part", part, "fixture_price")
        if more > 0 and price.number:
            words = f"fixtures of {part} held at once, beyond those of the reference"
            yield Term(words, more, "", case.counted) * price


def _count(label: str, count: int) -> Term:
    return Term(label, count, "", "against the reference and what is owned")
