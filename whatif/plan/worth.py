"""What a good piece is worth (cell model, section 7)."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from whatif.plan.model import Plan

Worth = Mapping[str, Fraction]


def in_money(plans: Mapping[str, Plan]) -> bool:
    """Whether any part of any scenario has a contribution, so that worth is money."""
    return any(plan.contributes for plan in plans.values())


def worth(plans: Mapping[str, Plan], scenario: str, reference: str) -> Worth:
    """Worth of a good piece by part.

    Money where any part of any scenario has a contribution, else the part's cycle minutes in
    the reference, or its own for a part that the reference lacks, whatever ``on.`` says.
    """
    own = {part.id: part for part in plans[scenario].parts}
    if in_money(plans):
        return {id_: part.contribution for id_, part in own.items()}
    there = plans[reference].cycles
    return {id_: Fraction(there.get(id_, part.cycle), 60) for id_, part in own.items()}
