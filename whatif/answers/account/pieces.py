"""Accounts of good pieces and of demand met."""

from __future__ import annotations

from collections.abc import Iterator

from whatif.answers.account import binds as binds
from whatif.answers.account.account import Figure, Worked, check, step
from whatif.answers.account.case import Case
from whatif.answers.account.checks import cycle_checks, load_hours, most_pieces, pieces_cut
from whatif.answers.account.family import Family, figure, nothing
from whatif.answers.account.terms import Expr, Term


def _figures(case: Case) -> Iterator[Figure]:
    if case.figures is None:
        return
    for part, made in case.figures.pieces.items():
        yield figure(f"pieces.{part}", f"good pieces: {part}", "pieces a week", made)


def _pieces(case: Case, of: Figure) -> Worked:
    part = of.id.split(".")[1]
    assert isinstance(of.value, float)
    scrap = case.given(f"scrap of {part}", "%", "part", part, "scrap")
    cut = pieces_cut(case, part)
    hours = case.simulated.counted.in_cycle[part]
    return Worked(
        f"Good pieces of {part} a week: pieces cut, less scrap. They count when the last piece "
        "of their load is cut.",
        (step(cut * (1 - scrap / 100), "pieces a week"),),
        (*binds.unmade(case, part), *binds.demand(case), *binds.fixtures(case, part), *_held(case)),
        (
            *cycle_checks(case, (part,), hours, f" on {part}"),
            *most_pieces(case, part, cut.number),
        ),
    )


def _held(case: Case) -> tuple[str, ...]:
    return binds.limits(case)


def _demand_figures(case: Case) -> Iterator[Figure]:
    if case.figures is None:
        return
    for part, met in case.figures.demand_met.items():
        yield figure(f"demand_met_percent.{part}", f"demand met: {part}", "%", met)


def _demand(case: Case, of: Figure) -> Worked:
    part = of.id.split(".")[1]
    meaning = f"Good pieces of {part} over those that are wanted a week."
    if of.value is None:
        return nothing(
            meaning,
            "No order of it falls due in the weeks measured, and none was made: there is nothing "
            "to hold it against. Measure more weeks.",
        )
    assert isinstance(of.value, float)
    counted = case.simulated.counted
    good: Expr = Term(f"good pieces of {part}", counted.good[part], "a week", f"see pieces.{part}")
    if counted.for_orders[part]:
        real = counted.for_orders[part]
        good = good - Term(f"of these for real orders, {part}", real, "a week", case.counted)
    wanted = case.given(f"wanted a week of {part}", "pieces a week", "part", part, "weekly")
    made = Term(f"demand met of {part}", of.value, "%", "above")
    checks = [
        check(
            "That share of what is wanted are the good pieces"
            + (", those for real orders aside." if counted.for_orders[part] else "."),
            wanted * (made / 100),
            "is",
            good.value,
            "pieces a week",
        )
    ]
    ways = case.ways(part)
    scrap = case.given(f"scrap of {part}", "%", "part", part, "scrap")
    if len({way.cycle for way in ways.values()}) == 1 and not counted.for_orders[part]:
        cycle = case.making(part, "cycle", f"cycle a piece of {part}", "min", next(iter(ways)))
        hours = Term(f"hours in cycle, {part}", counted.in_cycle[part], "h a week", case.counted)
        needed = wanted / (1 - scrap / 100) * cycle / 60
        checks.append(
            check(
                "Hours in cycle on it over the hours that all that is wanted would take.",
                100 * hours / needed,
                "is",
                of.value,
                "%",
                slack=100 * load_hours(case, part) / needed.value,
                because="what stands in the spindles when the weeks measured begin and end",
            )
        )
    return Worked(
        meaning,
        (step(100 * good / wanted, "%"),),
        (*binds.unmade(case, part), *binds.demand(case), *binds.fixtures(case, part), *_held(case)),
        tuple(checks),
    )


FAMILIES = (Family(_figures, _pieces), Family(_demand_figures, _demand))
