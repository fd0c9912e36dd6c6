"""Accounts of good pieces and of demand met."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from whatif.answers.account import notes
from whatif.answers.account.account import Check, Figure, Note, Worked, WorkedLine, nothing
from whatif.answers.account.case import Case
from whatif.answers.account.checks import (
    cycle_checks,
    cycle_of,
    figure_check,
    good_by_cycle,
    has_one_cycle,
    load_hours,
    most_pieces,
    pieces_cut,
)
from whatif.answers.account.terms import Expr, Plain


def piece_figures(case: Case) -> Iterator[Figure]:
    """Good pieces by part."""
    if case.figures is None:
        return
    for part, made in case.figures.pieces.items():
        title = f"good pieces: {part}"
        yield Figure(f"pieces.{part}", "pieces", title, "pieces a week", made, names=(part,))


def pieces(case: Case, of: Figure) -> Worked:
    """Pieces cut, less scrap."""
    (part,) = of.names
    scrap = case.given(f"scrap of {part}", "%", "part", part, "scrap")
    cut = pieces_cut(case, part)
    hours = case.simulated.counted.in_cycle[part]
    in_cycle = case.counted_term(f"hours in cycle, {part}", hours)
    return Worked(
        (WorkedLine(cut * (1 - scrap / 100), "pieces a week"),),
        _notes(case, part),
        (*cycle_checks(case, (part,), in_cycle), *most_pieces(case, part, cut)),
    )


def _notes(case: Case, part: str) -> tuple[Note, ...]:
    unmade, short = notes.unmade(case, part), notes.fixtures(case, part)
    return (*unmade, *notes.demand(case), *short, *notes.limits(case))


def demand_figures(case: Case) -> Iterator[Figure]:
    """Demand met by part."""
    if case.figures is None:
        return
    for part, met in case.figures.demand_met.items():
        id_ = f"demand_met_percent.{part}"
        yield Figure(id_, "demand_met_percent", f"demand met: {part}", "%", met, names=(part,))


def demand(case: Case, of: Figure) -> Worked:
    """Good pieces over those that are wanted."""
    (part,) = of.names
    if of.value is None:
        return nothing(Note("nothing due"))
    counted = case.simulated.counted
    real = case.counted_term(
        f"of these for real orders, {part}", counted.for_orders[part], "a week"
    )

    def share(good: Expr) -> Expr:
        wanted = case.given(f"wanted a week of {part}", "pieces a week", "part", part, "weekly")
        return 100 * (good - real if real.number else good) / wanted

    good = case.figure_term(
        f"good pieces of {part}", counted.good[part], "a week", f"pieces.{part}"
    )
    return Worked(
        (WorkedLine(share(good), "%"),), _notes(case, part), tuple(_demand_check(case, of, share))
    )


def _demand_check(case: Case, of: Figure, share: Callable[[Expr], Expr]) -> Iterator[Check]:
    """The same share of the pieces that fill the hours in cycle."""
    (part,) = of.names
    if not case.ways(part):
        return
    made, nothing_made = share(good_by_cycle(case, part)), share(Plain(0))
    a_load = load_hours(case, part) * 60 / cycle_of(case, part).number
    same = has_one_cycle(case, (part,))
    yield figure_check(
        case,
        of,
        "demand from hours",
        "other route",
        made,
        "is" if same else "at most",
        names=("" if same else " at the shortest cycle",),
        slack=share(Plain(a_load)).value - nothing_made.value,
        because="in spindles",
    )
