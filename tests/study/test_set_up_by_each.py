"""The warning that several pallets at one order are each set up for it."""

from __future__ import annotations

import pytest
from answer_studies import plan_of, today

from whatif.plan.model import SetUpByEach
from whatif.telling.warnings import plan_warning

LID = ('part.lid.cycle = "5 min"', "part.lid.weekly = 10")
SIX = ("machine.mill.pallets = 6", "part.body.at_once = 4")
SETUP = 'part.body.setup = "30 min"'


def warned(*lines: str) -> list[tuple[int, int]]:
    found = plan_of(today(*lines, head=today(*LID, *SIX, SETUP))).warnings
    return [(each.setups, each.seconds) for each in found if isinstance(each, SetUpByEach)]


@pytest.mark.parametrize(
    ("lines", "setups"),
    [
        ((), 4),
        # No more pallets than there are, nor than the order has loads, nor than fixtures.
        (("machine.mill.pallets = 3",), 3),
        (("part.body.per_pallet = 8",), 3),
        (("part.body.fixtures = 2",), 2),
        (("part.body.numbers = 5",), None),
        (("part.body.at_once = 1",), None),
        (('part.body.setup = "0 min"',), None),
    ],
)
def test_as_many_setups_as_pallets_may_be_at_an_order(
    lines: tuple[str, ...], setups: int | None
) -> None:
    """Orders of 20 pieces, one a load, where nothing else is said."""
    assert warned(*lines) == ([] if setups is None else [(setups, 1800)])


def test_a_part_that_is_set_up_once_has_no_more_setups_for_that() -> None:
    found = plan_of(today(*SIX, SETUP)).warnings
    assert not any(isinstance(each, SetUpByEach) for each in found)


def test_the_warning_says_what_it_costs_and_what_to_do() -> None:
    assert plan_warning(SetUpByEach("body", 4, 1800)) == (
        "Each pallet or table at an order of body is set up by itself: up to 4 setups of 30 min an "
        "order instead of one. Enter 1 for pallets at one order where one alone may do it; where "
        "one setup serves them all, enter its share for each."
    )
