"""The warning that whoever sets up is assumed to go away before the prove-out."""

from __future__ import annotations

import pytest
from answer_studies import CHILD, TODAY, plan_of, sound, today, wholly

from whatif.plan.model import SetterGoesAway
from whatif.telling.warnings import new_warnings, plan_warning, warnings_of

TWO = ('part.lid.cycle = "5 min"', "part.lid.weekly = 10")
SETUP, PROVED = 'part.body.setup = "30 min"', 'part.body.prove_out = "20 min"'


def is_warned(*lines: str) -> bool:
    return SetterGoesAway() in plan_of(today(*lines)).warnings


def test_where_a_prove_out_follows_a_setup_and_nobody_said_whether_the_setter_stays() -> None:
    assert is_warned(*TWO, SETUP, PROVED)


@pytest.mark.parametrize(
    "lines",
    [
        (*TWO, SETUP),
        (*TWO, PROVED),
        (*TWO, SETUP, 'part.lid.prove_out = "20 min"'),
        # Alone on its machine it is set up once, and another warning says so.
        (SETUP, PROVED),
        (*TWO, SETUP, PROVED, "handling.setter_stays = false"),
        (*TWO, SETUP, PROVED, "handling.setter_stays = true"),
    ],
)
def test_not_where_it_decides_nothing_or_somebody_has_entered_it(lines: tuple[str, ...]) -> None:
    assert not is_warned(*lines)


def test_not_where_nobody_may_set_up() -> None:
    only_loads = TODAY.replace("people = 2\n", 'people = 2\ndoes = ["load", "prove_out"]\n')
    found = plan_of(today(*TWO, SETUP, PROVED, head=only_loads)).warnings
    assert SetterGoesAway() not in found


def test_it_is_told_in_the_scenario_that_enters_the_prove_out_and_not_again_below() -> None:
    lower = '[scenario.lower]\nparent = "child"\nmachine.mill.pallets = 2\n'
    found = wholly(sound(today(*TWO, SETUP) + f"{CHILD}{PROVED}\n{lower}")).answers
    text = plan_warning(SetterGoesAway())
    assert text not in warnings_of(found["today"])
    assert text in new_warnings(found["child"], found["today"])
    assert text in warnings_of(found["lower"])
    assert text not in new_warnings(found["lower"], found["child"])


def test_it_says_what_is_assumed_and_what_to_enter() -> None:
    assert plan_warning(SetterGoesAway()) == (
        "Whoever sets up is assumed to go away before the prove-out, so that machines wait for "
        'it, and nobody has entered that. Enter "setter stays", yes or no: it may decide the '
        "answer."
    )
