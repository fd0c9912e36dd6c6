"""The warning of changeovers that are entered and never happen."""

from __future__ import annotations

import pytest
from answer_studies import plan_of, sound, today

from whatif.answers.compare import compare
from whatif.session.calculate.memory import Memory
from whatif.study.check.check import Checked
from whatif.telling.warnings import plan_warning

SETUP = 'part.body.setup = "1 h"'
FIRST = 'part.body.first_piece = "30 min"'
COVER = "part.cover.cycle = '5 min'\npart.cover.weekly = 10"
LATHE = "machine.lathe.count = 1"
APART = 'part.body.machines = ["mill"]\npart.cover.machines = ["lathe"]'
ONCE = (
    "body is set up once on each table or pallet and never changed over, since no other part is "
    "made here: its "
)
OTHERS = " Enter the other parts"
EACH_ORDER = ', or enter "order" for "first piece after" where each order waits for one.'


def told(text: str) -> tuple[str, ...]:
    return tuple(map(plan_warning, plan_of(text).warnings))


def warned(*lines: str) -> tuple[str, ...]:
    return told(today(*"\n".join(lines).splitlines()))


@pytest.mark.parametrize(
    ("lines", "rest"),
    [
        ((SETUP,), "setup counts at the start only.{} that are made there."),
        ((FIRST,), "first piece counts at the start only.{}{}"),
        ((SETUP, FIRST), "setup and first piece count at the start only.{}{}"),
        (
            ('part.body.prove_out = "9 min"', SETUP, FIRST),
            "setup, prove-out and first piece count at the start only.{}{}",
        ),
        (
            (SETUP, FIRST, 'part.body.first_piece_every = "order"'),
            "setup counts at the start only.{} that are made there.",
        ),
        (
            ('part.body.on.mill.setup = "1 h"',),
            "setup counts at the start only.{} that are made there.",
        ),
        # What is taken out is made no more.
        ((SETUP, COVER.replace("= 10", "= 0")), "setup counts at the start only.{} that are "),
    ],
    ids=str,
)
def test_a_part_alone_is_never_changed_over(lines: tuple[str, ...], rest: str) -> None:
    (said,) = warned(*"\n".join(lines).splitlines())
    assert said.startswith(ONCE + rest.format(OTHERS, EACH_ORDER))


@pytest.mark.parametrize(
    "lines",
    [
        (),
        ('part.body.setup = "0 min"',),
        (FIRST, 'part.body.first_piece_every = "order"'),
        (SETUP, FIRST, COVER),
        ('part.body.on.lathe.setup = "1 h"', 'part.body.machines = ["mill"]', LATHE),
    ],
    ids=str,
)
def test_what_is_changed_over_or_takes_no_time_is_no_warning(lines: tuple[str, ...]) -> None:
    assert not any("never changed over" in said for said in warned(*lines))


@pytest.mark.parametrize(
    "asks",
    [
        'order.big.part = "cover"\norder.big.pieces = 5\norder.big.due = "fri 12:00"',
        'rush.call.part = "cover"\nrush.call.pieces = 5',
    ],
)
def test_a_part_that_an_order_alone_asks_for_is_another(asks: str) -> None:
    none = COVER.replace("= 10", "= 0")
    assert len(warned(SETUP, none)) == 1
    assert warned(SETUP, none, asks) == ()
    assert len(warned(SETUP, none, asks.replace("pieces = 5", "pieces = 0"))) == 1


def test_parts_on_machines_of_their_own_are_alone_there() -> None:
    (said,) = warned(SETUP, LATHE, COVER, APART)
    assert said.startswith("body is set up once")
    assert "no other part is made on its machines" in said
    (other,) = warned(SETUP, LATHE, COVER, APART.replace('["lathe"]', '["mill", "lathe"]'))
    assert "every part keeps its pallet" in other


def test_several_numbers_of_one_part_are_changed_over() -> None:
    assert warned(SETUP, "part.body.numbers = 2") == ()


def test_one_that_is_not_made_says_only_that() -> None:
    does = 'does = ["load", "setup", "prove_out", "tools", "repair"]'
    (said,) = told(today(FIRST).replace("people = 2", f"people = 2\n{does}"))
    assert "is not made" in said


def test_it_is_true_of_the_run() -> None:
    """Set up once in the weeks run before: no hour of a setup is measured after them."""

    def setups(checked: Checked) -> float:
        figures = compare(checked, Memory()).answers["today"].figures
        assert figures is not None
        return figures.by_state["setup"]

    few = ("part.body.batch = 5", SETUP)
    late = "warm_up = 1"
    alone = today(*few).replace("warm_up = 0", late)
    assert setups(sound(alone)) == 0
    assert setups(sound(today(*few, *COVER.splitlines()).replace("warm_up = 0", late))) > 0
