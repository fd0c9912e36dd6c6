"""What the page behind the questions says that it rests on."""

from __future__ import annotations

from dataclasses import replace

import pytest
from answer_studies import CHILD, TODAY, sound

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare
from whatif.answers.gains import Likely
from whatif.answers.limits import Loss
from whatif.answers.meters.held import HeldAgainst
from whatif.session.calculate.memory import Memory
from whatif.telling.first_found import FirstFound, found_said
from whatif.telling.limits import limit_in_short


def said(
    found: Comparison,
    *,
    is_wanted_known: bool = True,
    has_paid_breaks: bool = False,
    assumed: int = 0,
) -> FirstFound:
    return found_said(
        found, is_wanted_known=is_wanted_known, has_paid_breaks=has_paid_breaks, assumed=assumed
    )


def test_what_was_not_asked_is_said_with_where_to_enter_it() -> None:
    found = compare(sound(TODAY + CHILD), Memory())
    rests = said(found, assumed=2, has_paid_breaks=True).rests
    assert rests.startswith("2 answers are assumed (~). Breaks are taken as paid, as nobody said")
    assert 'No part has a prove-out: enter it at the part ("prove-out").' in rests
    # There are none, or they were answered as unpaid.
    assert "Breaks" not in said(found).rests


@pytest.mark.parametrize(("in_cut", "asks"), [(20.0, True), (37.0, False)])
def test_meters_below_what_is_simulated_ask_for_the_orders(in_cut: float, *, asks: bool) -> None:
    found = compare(sound(TODAY + CHILD), Memory())
    today = found.answers["today"]
    held = HeldAgainst("today", 50.0, 90.0, in_cut=in_cut, modelled_in_cut=40.0)
    found = replace(found, answers={**found.answers, "today": replace(today, metered=held)})
    assert today.figures is not None
    makes = sum(today.figures.pieces.values())
    some = f"By the meters some {makes / 2:.0f} pieces a week are made, and not the {makes:.0f}"
    unknown, known = (said(found, is_wanted_known=is_known).meters for is_known in (False, True))
    assert (some in unknown) is asks
    assert "By the meters some" not in known


def test_where_the_demand_is_met_the_page_says_so_as_the_sheet_does() -> None:
    """Nobody said how many are wanted, so that all is made, and more hangs on what limits."""
    found = compare(sound(TODAY + CHILD), Memory())
    today = found.answers["today"]
    assert today.held_back is not None
    met, other = Loss("nothing_due", 12.0), Loss("load", 8.0)
    held = replace(today.held_back, is_demand_met=True, losses=(met, other))
    found = replace(found, answers={**found.answers, "today": replace(today, held_back=held)})
    limit = said(found, is_wanted_known=False).limit
    assert limit_in_short(held) == "demand all met"
    assert limit.startswith(
        "Demand all met: what is wanted is taken to be what today makes. What could be made more "
        "is limited most by loading at the spindle: "
    )
    assert said(found).limit.startswith("All that is wanted is made, so that")
    assert "sell no more" in said(found).limit
    short = replace(held, short=(("body", 97.2),))
    nearly = replace(found, answers={**found.answers, "today": replace(today, held_back=short)})
    assert said(nearly).limit == (
        "Nearly all that is wanted is made (body, 97.2 %), so that more machines, pallets or hours "
        "sell little more."
    )
    none = replace(held, is_demand_met=False)
    found = replace(found, answers={**found.answers, "today": replace(today, held_back=none)})
    assert said(found, is_wanted_known=False).limit.startswith("Limited most by")


def test_that_no_more_can_be_sold_is_why_no_alternative_brings_a_clear_difference() -> None:
    found = compare(sound(TODAY + CHILD), Memory())
    today, child = found.answers["today"], found.answers["child"]
    assert today.held_back is not None
    unclear = replace(child, likely=Likely(saleable=(-1.0, 2.0, 9.0)))

    def best(*, is_met: bool) -> str:
        assert today.held_back is not None
        held = replace(today.held_back, is_demand_met=is_met)
        answers = {"today": replace(today, held_back=held), "child": unclear}
        whole = replace(found, answers=answers)
        return said(whole).best

    why = ": no more can be sold than is wanted, and today makes that."
    assert best(is_met=True).endswith(f"in what sells{why}")
    assert best(is_met=False).endswith("in what sells.")


def test_what_takes_some_hours_never_reads_as_none() -> None:
    found = compare(sound(TODAY + CHILD), Memory())
    today = found.answers["today"]
    assert today.held_back is not None
    loss = replace(today.held_back.losses[0], hours=0.004 * today.held_back.attended)
    held = replace(today.held_back, losses=(loss,))
    found = replace(found, answers={**found.answers, "today": replace(today, held_back=held)})
    hours = said(found).hours
    assert "(<1\N{NO-BREAK SPACE}%) takes most of the rest." in hours
