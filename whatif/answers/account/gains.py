"""Accounts of gains against the reference, and of their likely ranges."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from whatif.answers.account import notes
from whatif.answers.account.account import Check, Figure, Note, Worked, WorkedLine, nothing
from whatif.answers.account.case import Case
from whatif.answers.account.checks import (
    WEEK_HOURS,
    Cycle,
    cycle_of,
    good_by_cycle,
    has_one_cycle,
    hours_by_cycle,
    load_hours,
    wanted,
)
from whatif.answers.account.fit import term_in
from whatif.answers.account.origins import FoundBy, Wanted
from whatif.answers.account.terms import Expr, Plain, Term, added, larger, smaller, summed
from whatif.answers.caveats import Caveat
from whatif.answers.gains import is_clear, lies_outside
from whatif.answers.ranks import TENTHS, Rank, rank_of
from whatif.plan.model import chain_of


def gain(case: Case, of: Figure) -> Worked:
    """What is compared here and in the reference, and the one over the other."""
    kind = of.key
    if of.value is None:
        return _missing(case, kind)
    own, base = _measure(case, kind), _measure(case.reference, kind)
    lines = [*own.lines, *([] if case.is_reference else base.lines)]
    demand = notes.demand_met(case) if kind == "saleable" else ()
    if kind in ("saleable", "output"):
        made = (part.id for part in case.plan.parts if part.place is not None)
        demand = (*demand, *notes.scrap_made_good(case, *made)[:_NAMED])
    if kind in ("saleable", "output", "per_paid_hour"):
        demand = (*demand, *notes.counted_once(case))
    return of.worked(
        100 * (own.term / base.term - 1),
        (*_caveats(case), *demand, *notes.limits(case), *_range_note(case, of)),
        _checks(case, kind, of, base.term),
        before=lines,
        without="of the reference" if case.is_reference else "too few",
    )


_NAMED = 3
"""Parts whose orders are told one by one."""


def _caveats(case: Case) -> tuple[Note, ...]:
    """What the gain rests on that is not so yet; what is not made stands with what limits."""
    others = set(case.answer.caveats) - {Caveat.NOT_MADE}
    return () if case.is_reference or not others else (Note("caveats", of=case.answer),)


def _missing(case: Case, kind: str) -> Worked:
    for side in (case, case.reference):
        if side.figures is None:
            return nothing("no parts there", side.title)
        if kind == "per_floor_area" and side.figures.floor is None:
            return nothing("no floor", side.title)
        if kind == "per_paid_hour" and not side.figures.people.paid:
            return nothing("nobody paid", side.title)
    return nothing("reference has none", case.reference.title)


def _range_note(case: Case, of: Figure) -> tuple[Note, ...]:
    if of.is_reference or of.likely is None:
        return ()
    id_ = "difference" if is_clear(of.likely) else "no difference"
    notes = [Note(id_, numbers=of.likely)]
    if of.key == "saleable" and case.answer.sells_no_more:
        notes.append(Note("sells no more", of=case.answer))
    if lies_outside(of.number, of.likely):
        notes.append(Note("typed outside"))
    return tuple(notes)


# -- what is compared ------------------------------------------------------------------------


class _Measure(NamedTuple):
    """A figure that is compared as a number, and the lines that it comes about by."""

    lines: tuple[WorkedLine, ...]
    term: Term


def _named(case: Case, label: str, unit: str, *lines: WorkedLine) -> _Measure:
    return _Measure(lines, lines[-1].term(case.told(label), unit))


def _measure(case: Case, kind: str) -> _Measure:
    if kind in ("saleable", "output"):
        return _output(case, kind)
    if kind == "per_paid_hour":
        lines, output = _output(case, "output")
        unit = f"{case.worth_unit} an hour"
        line = WorkedLine(output / hours_paid(case), f"{unit}, {case.title}", None)
        return _named(case, "output per paid hour", unit, *lines, line)
    hours = case.figure_term("spindle hours", "spindle_hours.total")
    if kind == "spindle_hours":
        return _Measure((), hours)
    area, taken = floor(case, case.found.units)
    unit = f"h a week and {taken.unit}"
    line = WorkedLine(hours / taken, f"{unit}, {case.title}", None)
    return _named(case, "spindle hours per floor area", unit, area, line)


def hours_paid(case: Case) -> Term:
    """Hours that people are paid for."""
    return case.figure_term("hours paid", "people_hours.paid")


def _output(case: Case, kind: str) -> _Measure:
    """Pieces times what each is worth."""
    counted, is_saleable = case.simulated.counted, kind == "saleable"
    which = "saleable pieces" if is_saleable else "good pieces"
    items: list[Expr] = []
    for part, made in (counted.saleable if is_saleable else counted.good).items():
        if part in case.plan.followed:
            continue
        pieces = case.counted_term(f"{which} {part}", made, "a week")
        if not is_saleable and f"pieces.{part}" in case.listed:
            pieces = case.figure_term(f"{which} {part}", f"pieces.{part}", "a week")
        if made < counted.good[part]:
            weekly = case.entered("part", part, "weekly")
            pieces = replace(pieces, origin=Wanted(weekly, counted.good[part]))
        items.append(pieces * worth_term(case, part))
    unit = f"{case.worth_unit} a week"
    total = added(f"{which} × worth of one", items, "parts")
    label = "saleable output" if is_saleable else "output"
    return _named(case, label, unit, WorkedLine(total, f"{unit}, {case.title}", None))


def worth_term(case: Case, part: str) -> Expr:
    """What a good piece is worth: its contribution, or the minutes of its chain."""
    if case.in_money:
        path = ("part", part, "contribution")
        return case.given(f"contribution of {part}", case.worth_unit, *path, without=0.0)
    reference = case.reference
    cycles = []
    for each in chain_of(part, case.plan, reference.plan):
        whose = reference if each in reference.plan.cycles else case
        label = f"cycle per piece of {each}"
        # The same here and in the reference, so it needs no word of where.
        cycles.append(replace(whose.given(label, "min", "part", each, "cycle"), label=label))
    return cycles[0] if len(cycles) == 1 else summed(f"cycles of {part} and before it", cycles)


def floor(case: Case, units: str) -> tuple[WorkedLine, Term]:
    """Floor of machines and of pallets beyond each machine's first: square metres, or feet."""
    items: list[Expr] = []
    for group in case.plan.groups:
        id_ = group.id
        own = case.given(f"floor of each {id_}", "m²", "machine", id_, "floor")
        each: Expr = term_in(own, units)
        if group.pallets > 1:
            pallets = case.of_machine("pallets each", "", id_, "pallets")
            more = term_in(case.of_machine("floor per pallet", "m²", id_, "pallet_floor"), units)
            each = each + more * (pallets - 1)
        items.append(case.of_machine("machines", "", id_, "count") * each)
    words = "machines × (floor each + floor of the pallets beyond the first)"
    unit = "ft²" if units == "inch" else "m²"
    line = WorkedLine(summed(words, items), f"{unit} of floor", None)
    return line, line.term(case.told("floor"), unit)


# -- checks ----------------------------------------------------------------------------------


def _checks(case: Case, kind: str, of: Figure, base: Term) -> Iterator[Check]:
    if kind == "saleable":
        everything = worth_of_wanted(case, "worth of one")
        if everything is not None:
            share = 100 * (everything / base - 1)
            yield of.check("all wanted", "at most", share)
        return
    if case.is_reference:
        return
    if kind == "spindle_hours":
        whole = 100 * (case.machines() * WEEK_HOURS / base - 1)
        yield of.check("whole week", "at most", whole)
    yield from _by_other_counts(case, kind, of)


def worth_of_wanted(case: Case, worth: str) -> Expr | None:
    """What all that is wanted and ordered is worth a week; None where there is no part."""
    items = [
        wanted(case, part) * worth_term(case, part)
        for part in case.simulated.counted.good
        if part not in case.plan.followed
    ]
    return summed(f"pieces wanted × {worth}, added up", items) if items else None


def _by_other_counts(case: Case, kind: str, of: Figure) -> Iterator[Check]:
    """Output from hours in cycle, and spindle hours from pieces and their cycles."""
    # Where cycles differ, the most that can be here over the least there, or the other way.
    here, there = _other(case, kind, "shortest"), _other(case.reference, kind, "longest")
    if here is None or there is None or there.expr.value <= there.off:
        return
    own, base = here.expr.value, there.expr.value
    ends = ((own + here.off) / (base - there.off), (own - here.off) / (base + there.off))
    sides = (case, case.reference)
    same = all(has_one_cycle(side, side.simulated.counted.in_cycle) for side in sides)
    from_hours = kind in ("output", "per_paid_hour")
    told = "" if same else ", at the shortest cycle here and the longest there"
    yield of.check(
        "output from hours" if from_hours else "hours from pieces",
        "is" if same else "at most" if from_hours else "at least",
        100 * (here.expr / there.expr - 1),
        names=(told,),
        slack=100 * max(abs(end - own / base) for end in ends),
    )


class _Other(NamedTuple):
    """A figure that is compared, from other counts, and by how much it may be off."""

    expr: Expr
    off: float


def _other(case: Case, kind: str, which: Cycle) -> _Other | None:
    parts = [part for part in case.simulated.counted.in_cycle if case.ways(part)]
    hours = hours_by_cycle(case, parts, which)
    if hours is None:
        return None
    off = load_hours(case, *parts)
    if kind in ("output", "per_paid_hour"):
        items = [good_by_cycle(case, part, which) * worth_term(case, part) for part in parts]
        expr: Expr = added("hours in cycle × 60 / cycle × good ones × worth of one", items, "parts")
        off *= max(
            60 / cycle_of(case, part).number * worth_term(case, part).value for part in parts
        )
        over = hours_paid(case)
        return _Other(expr, off) if kind == "output" else _Other(expr / over, off / over.number)
    if kind == "spindle_hours":
        return _Other(hours, off)
    _, taken = floor(case, case.found.units)
    return _Other(hours / taken, off / taken.number)


# -- what could be made ----------------------------------------------------------------------


def made_at_most(case: Case, of: Figure) -> Worked:
    """The output of the run flat out over the worth of all that is wanted."""
    if of.value is None:
        return nothing("not all is made")
    everything = worth_of_wanted(case, "worth of one")
    assert everything is not None  # or there were nothing to make more of
    line = WorkedLine(everything, f"{case.worth_unit} a week")
    all_of_it = line.term("worth of what is wanted", line.unit)
    most = of.number / 100 * line.result
    output = Term("output flat out", most, line.unit, FoundBy("flat out"))
    return of.worked(100 * (output / all_of_it), before=(line,), without="only a run tells")


# -- likely range ----------------------------------------------------------------------------


def likely(case: Case, of: Figure) -> Worked:
    """Three places among the draws, put in order."""
    kind, drawn = of.key, case.answer.drawn
    if of.value is None:
        lacks = drawn and case.listed[f"gain_percent.{kind}"].value is not None
        return nothing("a draw lacks it") if lacks else _missing(case, kind)
    found = sorted(getattr(each, kind) for each in drawn)
    low, middle, high = (_at(found, rank_of(tenths, len(found))) for tenths in TENTHS)
    notes = [Note("draws", numbers=(len(found),))]
    if not case.answer.settled:
        halves = [_half(gain, kind, which) for gain, which in _halves_of(case, kind)]
        low, high = smaller(low, *halves), larger(high, *halves)
        notes.append(Note("widened"))
    if kind == "saleable" and case.answer.is_gap_open and case.answer.judged is not None:
        notes.append(Note("meters in the gain", numbers=case.answer.judged))
    lines = tuple(WorkedLine(end, of.unit, of.digits) for end in (low, middle, high))
    return Worked(lines, tuple(notes), unchecked="only draws tell")


def _halves_of(case: Case, kind: str) -> Iterator[tuple[float, str]]:
    for half, which in zip(case.answer.halves, ("first", "second"), strict=False):
        gain = getattr(half, kind)
        if gain is not None:
            yield gain, which


def _half(gain: float, kind: str, which: str) -> Term:
    return Term(f"gain over the {which} half of the weeks", gain, "%", FoundBy("over the half"))


def _at(found: list[float], rank: Rank) -> Expr:
    """The draw at a rank, or the place between two of them."""
    below = _draw(found, rank.whole)
    if not rank.part:
        return below
    return below + Plain(round(rank.part, 9)) * (_draw(found, rank.whole + 1) - below)


def _draw(found: list[float], place: int) -> Term:
    return Term(f"draw {place} from below", found[place - 1], "%", FoundBy("in that draw"))
