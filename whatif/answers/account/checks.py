"""Checks with a pencil that several figures share, each with how far it may be off, and why."""

from __future__ import annotations

from whatif.answers.account.account import Check, check
from whatif.answers.account.case import Case
from whatif.answers.account.terms import Expr, Term, Total, smaller
from whatif.cell.model import HOUR, MINUTE

WEEK_HOURS = 168

BOUNDS = (
    "Denning and Buzen, The operational analysis of queueing network models, Computing Surveys "
    "10 (1978): a loop makes no more than its busiest station can serve."
)
"""The asymptotic bounds of closed queues (cited from memory)."""

_ENDS = "what stands in the spindles when the weeks measured begin and end"
_ON_PALLETS = "what lies on pallets when the weeks measured begin and end"


def pieces_cut(case: Case, part: str) -> Term:
    """Pieces cut a week, scrap among them, from the good ones."""
    good = case.simulated.counted.good.get(part, 0.0)
    cut = good / float(1 - case.part(part).scrap)
    return Term(f"pieces of {part} cut a week", cut, "", case.counted)


def load_hours(case: Case, *parts: str) -> float:
    """Spindle hours of the longest load of each machine, a week measured."""
    total = 0.0
    for group in case.plan.groups:
        loads = [
            way.cycle * way.per_pallet
            for part in parts
            for name, way in case.ways(part).items()
            if name == group.id
        ]
        total += group.count * max(loads, default=0)
    return total / HOUR / case.plan.weeks


def cycle_checks(case: Case, parts: tuple[str, ...], found: float, what: str) -> tuple[Check, ...]:
    """Pieces times cycle are the hours in cycle."""
    made = [part for part in parts if case.ways(part)]
    if not made:
        return ()
    same = all(len({way.cycle for way in case.ways(part).values()}) == 1 for part in made)
    hours: list[Expr] = []
    for part in made:
        ways = case.ways(part)
        group = min(ways, key=lambda name: ways[name].cycle)
        cycle = case.making(part, "cycle", f"cycle a piece of {part}", "min", group)
        hours.append(pieces_cut(case, part) * cycle / 60)
    shortest = "" if same else ", at the shortest cycle,"
    words = f"pieces cut × minutes of cycle / 60{', added up over the parts' if hours[1:] else ''}"
    expr = hours[0] if len(hours) == 1 else Total(words, tuple(hours))
    return (
        check(
            f"Pieces cut{shortest} times their cycle are the hours in cycle{what}.",
            expr,
            "is" if same else "at least",
            found,
            "h a week",
            slack=load_hours(case, *made),
            because=_ENDS,
            digits=2,
        ),
    )


def person_minutes(case: Case, part: str) -> Expr | None:
    """A person's minutes for one piece at the least: its share of the walk, on, off, bench."""
    ways = case.ways(part)
    if not ways:
        return None
    group = min(ways, key=lambda name: ways[name].load + ways[name].unload)
    a_load = max(way.per_pallet for way in ways.values())
    walk = case.given("walk a visit", "min", "handling", "walk")
    size = Term(f"pieces a load of {part}", a_load, "", "see fit")
    load = case.making(part, "load", f"load a piece of {part}", "min", group)
    unload = case.making(part, "unload", f"unload a piece of {part}", "min", group)
    bench = case.given(f"bench a piece of {part}", "min", "part", part, "bench")
    return walk / size + load + unload + bench


def own_share(case: Case) -> Expr:
    """The share of people's time that is not taken by other duties."""
    return 1 - case.given("other duties", "%", "handling", "other_duties", without=0.0) / 100


def pallet_hours(case: Case) -> float:
    """People's hours for what may lie on pallets and benches at the ends of the weeks measured."""
    if not case.plan.parts:
        return 0.0
    a_piece, walk = 0.0, case.cell.walk
    for part in case.plan.parts:
        made = case.made(part.id)
        for way in case.ways(part.id).values():
            bench = 0 if made is None else made.bench
            a_piece = max(a_piece, way.per_pallet * (way.load + way.unload + bench) + walk)
    places = sum(group.count * group.pallets for group in case.plan.groups)
    people = sum(shift.people for shift in case.cell.shifts)
    stretch = 1 / float(1 - case.cell.other_duties)
    return (places + people) * a_piece * stretch / HOUR / case.plan.weeks


def busy_check(case: Case, found: float) -> tuple[Check, ...]:
    """What the pieces alone take of people's time; setups and what else there is come on top."""
    items: list[Expr] = []
    visits = 0.0
    for part in case.plan.parts:
        minutes = person_minutes(case, part.id)
        if minutes is None or not case.simulated.counted.good.get(part.id):
            continue
        cut = pieces_cut(case, part.id)
        visits += cut.number
        items.append(cut * minutes)
    if not items:
        return ()
    total = Total(
        "pieces cut × (walk / pieces a load + load + unload + bench)"
        + (", added up over the parts," if items[1:] else ""),
        tuple(items),
    )
    # Each visit and bench work is rounded to a whole second.
    return (
        check(
            "Loading, unloading, walking and bench work of the pieces alone take this; setups and "
            "what else people do come on top.",
            total / own_share(case) / 60,
            "at least",
            found,
            "h a week",
            slack=pallet_hours(case) + visits / HOUR,
            because=_ON_PALLETS,
        ),
    )


def most_pieces(case: Case, part: str, found: float) -> tuple[Check, ...]:
    """No more pieces than the spindles alone, or the people alone, could do all week."""
    minutes, ways = person_minutes(case, part), case.ways(part)
    if minutes is None:
        return ()
    group = min(ways, key=lambda name: ways[name].cycle)
    cycle = case.making(part, "cycle", f"cycle a piece of {part}", "min", group)
    by_spindle = case.machines(tuple(ways)) * WEEK_HOURS * 60 / cycle
    bounds: list[Expr] = [by_spindle]
    if minutes.value > 0:
        duty = Term(
            "people's hours on duty", case.simulated.people.on_duty, "h", "see people_hours.on_duty"
        )
        bounds.append(duty * 60 * own_share(case) / minutes)
    slack = (
        sum(
            group_.count * group_.pallets * ways[group_.id].per_pallet
            for group_ in case.plan.groups
            if group_.id in ways
        )
        / case.plan.weeks
    )
    people = sum(shift.people for shift in case.cell.shifts) / case.plan.weeks
    rounding = found * 1 / max(1.0, minutes.value * MINUTE)
    return (
        check(
            "If nothing else were made: no more than the spindles could cut in 168 hours, and no "
            "more than the people could load.",
            smaller(*bounds) if len(bounds) > 1 else by_spindle,
            "at most",
            found,
            "pieces a week",
            slack=slack + people * max(way.per_pallet for way in ways.values()) + rounding,
            because=_ON_PALLETS,
            source=BOUNDS,
        ),
    )


def week_of_machines(case: Case, states: float) -> Check:
    """All states of all machines fill the week."""
    return check(
        "Every machine is in one state at a time, so all states together fill the week.",
        case.machines() * WEEK_HOURS,
        "is",
        states,
        "h a week",
        digits=1,
    )
