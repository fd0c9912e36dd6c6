"""Checks with a pencil that several figures share, each with how far it may be off, and why."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Literal

from whatif.answers.account.account import Check, Figure, Relation, WorkedLine
from whatif.answers.account.case import Case
from whatif.answers.account.terms import Expr, Plain, Term, added, smaller
from whatif.cell.model import HOUR, MINUTE

WEEK_HOURS = 168

Cycle = Literal["shortest", "longest"]


# -- pieces, their cycles and the hours in cycle ---------------------------------------------


def pieces_cut(case: Case, part: str) -> Term:
    """Pieces cut a week, scrap among them, from the good ones."""
    cut = case.simulated.counted.good.get(part, 0.0) / float(1 - case.part(part).scrap)
    return case.counted_term(f"pieces of {part} cut a week", cut, "")


def hours_in_cycle(case: Case, part: str) -> Term:
    """Hours in cycle a week on a part, as they are counted."""
    return case.counted_term(f"hours in cycle, {part}", case.simulated.counted.in_cycle[part])


def load_hours(case: Case, *parts: str) -> float:
    """Spindle hours of the longest load of each machine, a week measured."""
    total = 0.0
    for group in case.plan.groups:
        ways = (case.ways(part).get(group.id) for part in parts)
        loads = [way.cycle * way.per_pallet for way in ways if way is not None]
        total += group.count * max(loads, default=0)
    return total / HOUR / case.plan.weeks


def has_one_cycle(case: Case, parts: Iterable[str]) -> bool:
    """Whether each part takes the same cycle wherever it is made."""
    return all(len({way.cycle for way in case.ways(part).values()}) <= 1 for part in parts)


def cycle_of(case: Case, part: str, which: Cycle = "shortest") -> Term:
    """Minutes of cycle of a part that is made somewhere."""
    ways = case.ways(part)
    pick = min if which == "shortest" else max
    group = pick(ways, key=lambda name: ways[name].cycle)
    return case.making(part, "cycle", f"cycle per piece of {part}", "min", group)


def hours_by_cycle(case: Case, parts: Iterable[str], which: Cycle = "shortest") -> Expr | None:
    """Hours in cycle a week from the pieces cut; None where no part is made."""
    hours: list[Expr] = [
        pieces_cut(case, part) * cycle_of(case, part, which) / 60
        for part in parts
        if case.ways(part)
    ]
    if len(hours) < 2:
        return hours[0] if hours else None
    return added("pieces cut × minutes of cycle / 60", hours, "parts")


def good_by_cycle(case: Case, part: str, which: Cycle = "shortest") -> Expr:
    """Good pieces a week of a part that is made, from its hours in cycle."""
    scrap = case.of_part("scrap of", "%", part, "scrap")
    return hours_in_cycle(case, part) * 60 / cycle_of(case, part, which) * (1 - scrap / 100)


def cycle_checks(
    case: Case, parts: Iterable[str], found: Expr, *, less: Sequence[Expr] = ()
) -> Iterator[Check]:
    """Pieces times cycle, ``less`` hours that are not of the kind, are the hours in cycle."""
    made = [part for part in parts if case.ways(part)]
    pencil = hours_by_cycle(case, made)
    if pencil is None:
        return
    for hours in less:
        pencil = pencil - hours
    same, slack = has_one_cycle(case, made), load_hours(case, *made)
    if same or pencil.value > slack:
        id_ = f"cycles.{'rest' if less else 'all' if len(made) > 1 else 'part'}"
        relation: Relation = "is" if same else "at least"
        names = ("" if same else ", at the shortest cycle,",)
        line = WorkedLine(pencil, "h a week", 2)
        yield Check(id_, line, relation, found, names, slack)


def by_cycle_check(
    case: Case, of: Figure, share: Callable[[Expr], Expr], *, falls: bool
) -> Iterator[Check]:
    """A figure that is worked out from hours in cycle, worked out from pieces and cycles.

    Args:
        share: the figure from hours in cycle.
        falls: whether it is less where those are more.
    """
    parts = list(case.simulated.counted.in_cycle)
    pencil, total = hours_by_cycle(case, parts), case.simulated.spindle.total
    may = load_hours(case, *parts)
    if pencil is None or total <= may:
        return
    ends = [share(case.counted_term("", total + by)).value for by in (-may, may)]
    same = has_one_cycle(case, parts)
    relation: Relation = "is" if same else "at most" if falls else "at least"
    slack = max(abs(end - of.number) for end in ends)
    yield of.check("from pieces", relation, share(pencil), slack=slack)


# -- people ----------------------------------------------------------------------------------


def person_minutes(case: Case, part: str) -> Expr | None:
    """A person's minutes for one piece at the least: its share of the walk, on, off, bench."""
    ways = case.ways(part)
    if not ways:
        return None
    group = min(ways, key=lambda name: ways[name].load + ways[name].unload)
    walk = case.given("walk a visit", "min", "handling", "walk")
    load = case.making(part, "load", f"load a piece of {part}", "min", group)
    unload = case.making(part, "unload", f"unload a piece of {part}", "min", group)
    bench = case.of_part("bench a piece of", "min", part, "bench")
    return walk / case.a_load(part) + load + unload + bench


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


def busy_check(
    case: Case, of: Figure, share: Callable[[Expr], Expr] = lambda hours: hours
) -> Iterator[Check]:
    """People are busy at least with the pieces; ``share`` makes the figure of hours."""
    items: list[Expr] = []
    visits = 0.0
    for part in case.plan.parts:
        minutes = person_minutes(case, part.id)
        if minutes is None or not case.simulated.counted.good.get(part.id):
            continue
        cut = pieces_cut(case, part.id)
        visits += cut.number
        items.append(cut * minutes)
    if items:
        each = "pieces cut × (walk / pieces per load + load + unload + bench)"
        hours = added(each, items, "parts") / own_share(case) / 60
        # Each visit and bench work is rounded to a whole second.
        off = Plain(pallet_hours(case) + visits / HOUR)
        yield of.check("busy", "at least", share(hours), slack=share(off).value)


def duty(case: Case) -> Term:
    """People's hours on duty."""
    return case.figure_term("hours on duty", "people_hours.on_duty")


def most_pieces(case: Case, part: str, found: Term) -> Iterator[Check]:
    """No more pieces than the spindles alone, or the people alone, could do all week."""
    minutes, ways = person_minutes(case, part), case.ways(part)
    if minutes is None:
        return
    by_spindle = case.machines(ways) * WEEK_HOURS * 60 / cycle_of(case, part)
    bounds: list[Expr] = [by_spindle]
    if minutes.value > 0:
        duty = case.figure_term("people's hours on duty", "people_hours.on_duty", "h")
        bounds.append(duty * 60 * own_share(case) / minutes)
    on_pallets = sum(
        group.count * group.pallets * ways[group.id].per_pallet
        for group in case.plan.groups
        if group.id in ways
    )
    in_hands = sum(shift.people for shift in case.cell.shifts)
    in_hands *= max(way.per_pallet for way in ways.values())
    rounding = found.number / max(1.0, minutes.value * MINUTE)
    slack = (on_pallets + in_hands) / case.plan.weeks + rounding
    line = WorkedLine(smaller(*bounds) if len(bounds) > 1 else by_spindle, "pieces a week")
    yield Check("most pieces", line, "at most", found, (), slack)


# -- demand ----------------------------------------------------------------------------------


def wanted(case: Case, part: str) -> Expr:
    """Pieces of a part wanted a week, those for real orders among them."""
    weekly = case.of_part("weekly demand of", "", part, "weekly")
    real = case.simulated.counted.for_orders[part]
    return (
        weekly + case.counted_term(f"for real orders, {part}", real, "a week") if real else weekly
    )
