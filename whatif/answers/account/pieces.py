"""Accounts of good pieces and of demand met."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from whatif.answers.account import notes
from whatif.answers.account.account import Check, Figure, Note, Worked, nothing
from whatif.answers.account.case import Case
from whatif.answers.account.checks import (
    cycle_checks,
    cycle_of,
    good_by_cycle,
    has_one_cycle,
    hours_in_cycle,
    load_hours,
    most_pieces,
    pieces_cut,
)
from whatif.answers.account.terms import Expr, Plain


def pieces(case: Case, of: Figure) -> Worked:
    """Pieces cut, less scrap."""
    (part,) = of.names
    scrap = case.of_part("scrap of", "%", part, "scrap")
    cut = pieces_cut(case, part)
    checks = (
        *cycle_checks(case, (part,), hours_in_cycle(case, part)),
        *most_pieces(case, part, cut),
    )
    said = (*notes.counted_once(case, part), *_notes(case, part))
    return of.worked(cut * (1 - scrap / 100), said, checks)


def _notes(case: Case, part: str) -> tuple[Note, ...]:
    unmade, short = notes.unmade(case, part), notes.fixtures(case, part)
    rounded_up = notes.scrap_made_good(case, part)
    return (*unmade, *notes.demand_met(case), *short, *rounded_up, *notes.limits(case))


def demand(case: Case, of: Figure) -> Worked:
    """Good pieces over those that are wanted."""
    (part,) = of.names
    if of.value is None:
        return nothing("nothing due")
    for_orders = case.simulated.counted.for_orders[part]
    real = case.counted_term(f"of these for real orders, {part}", for_orders, "a week")

    def share(good: Expr) -> Expr:
        wanted = case.of_part("weekly demand of", "pieces a week", part, "weekly")
        return 100 * (good - real if real.number else good) / wanted

    good = case.figure_term(f"good pieces of {part}", f"pieces.{part}", "a week")
    return of.worked(share(good), _notes(case, part), _demand_check(case, of, share))


def _demand_check(case: Case, of: Figure, share: Callable[[Expr], Expr]) -> Iterator[Check]:
    """The same share of the pieces that fill the hours in cycle."""
    (part,) = of.names
    if not case.ways(part):
        return
    made, nothing_made = share(good_by_cycle(case, part)), share(Plain(0))
    a_load = load_hours(case, part) * 60 / cycle_of(case, part).number
    same = has_one_cycle(case, (part,))
    yield of.check(
        "demand from hours",
        "is" if same else "at most",
        made,
        names=("" if same else " at the shortest cycle",),
        slack=share(Plain(a_load)).value - nothing_made.value,
    )
