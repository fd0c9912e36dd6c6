"""Accounts of gains against the reference, and of their grain."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from whatif.answers.account import binds as binds
from whatif.answers.account.account import Check, Figure, Step, Worked, check, step
from whatif.answers.account.case import Case
from whatif.answers.account.family import Family, figure, nothing
from whatif.answers.account.terms import Expr, Plain, Term, Total, larger
from whatif.answers.gains import KINDS, is_difference
from whatif.cell.model import MINUTE
from whatif.telling.table import GAIN_WORDS, gain_text, percent_text

_MEANING = {
    "saleable": "What the good pieces that somebody buys are worth, against the reference. It "
    "takes at most the pieces wanted of each part, and real orders in full.",
    "output": "What all good pieces are worth, sold or not, against the reference.",
    "spindle_hours": "Spindle hours against the reference.",
    "per_paid_hour": "Worth of all good pieces over the hours that people are paid for, against "
    "the reference.",
    "per_floor_area": "Spindle hours over the floor that machines and pallets take, against the "
    "reference.",
}


def _figures(case: Case) -> Iterator[Figure]:
    for kind in KINDS:
        gain = getattr(case.answer.gains, kind)
        grain = None if case.answer.grain is None else getattr(case.answer.grain, kind)
        shown = f"{gain_text(gain, grain)}"
        if gain is not None and case.is_reference:
            shown = "0.0 %, this is the reference"
        elif gain is not None and not is_difference(gain, grain):
            shown = f"no difference ({percent_text(gain)} is smaller than its grain)"
        title = f"gain in {GAIN_WORDS[kind]}"
        yield Figure(f"gain_percent.{kind}", title, "%", gain, "none" if gain is None else shown)


def _account(case: Case, of: Figure) -> Worked:
    kind = of.id.split(".")[1]
    if of.value is None:
        return nothing(_MEANING[kind], _missing(case, kind))
    assert isinstance(of.value, float)
    here, there = _measure(case, kind), _measure(case.reference, kind)
    steps = [*here[0], *([] if case.is_reference else there[0])]
    own, base = here[1], there[1]
    last = step(100 * (own / base - 1), "%")
    return Worked(
        _MEANING[kind],
        (*steps, last),
        (*_bound_by(case, kind), *_grain_words(case, kind)),
        tuple(_checks(case, kind, of.value, own, base)),
    )


def _bound_by(case: Case, kind: str) -> tuple[str, ...]:
    if kind == "saleable":
        return (*binds.demand(case), *binds.limits(case))
    return binds.limits(case)


def _missing(case: Case, kind: str) -> str:
    for one in (case, case.reference):
        if one.figures is None:
            return f"{one.title} wants no part: nothing is simulated there."
        if kind == "per_floor_area" and one.figures.floor is None:
            return f"No floor is entered for a machine of {one.title}."
        if kind == "per_paid_hour" and not one.figures.people.paid:
            return f"Nobody is paid in {one.title}."
    return f"{case.reference.title} has nothing to measure against: its figure is 0."


# -- what is compared ------------------------------------------------------------------------


def _measure(case: Case, kind: str) -> tuple[list[Step], Term]:
    """How the figure that is compared comes about, and the figure itself as a term."""
    if kind in ("saleable", "output"):
        return _worth(case, kind)
    if kind == "per_paid_hour":
        steps, output = _worth(case, "output")
        paid = Term(
            case.told("hours paid"),
            case.simulated.people.paid,
            "h a week",
            case.see("people_hours.paid"),
        )
        return _over(case, steps, output, paid, "output a paid hour", f"{case.worth_unit} an hour")
    spindle = case.simulated.spindle.total
    hours = Term(case.told("spindle hours"), spindle, "h a week", case.see("spindle_hours.total"))
    if kind == "spindle_hours":
        return [], hours
    line = step(floor(case), "m² of floor", None)
    taken = Term(case.told("floor"), line.result, "m²", "worked out above")
    return _over(case, [line], hours, taken, "spindle hours a square metre", "h a week and m²")


def _over(
    case: Case, steps: list[Step], above: Term, below: Term, label: str, unit: str
) -> tuple[list[Step], Term]:
    line = step(above / below, f"{unit}, {case.title}", None)
    return [*steps, line], Term(case.told(label), line.result, unit, "worked out above")


def _worth(case: Case, kind: str) -> tuple[list[Step], Term]:
    """Pieces times what each is worth."""
    counted = case.simulated.counted
    pieces = counted.saleable if kind == "saleable" else counted.good
    words = "saleable output" if kind == "saleable" else "output"
    items = tuple(
        Term(case.told(f"{_which(kind)} {part}"), made, "a week", _source(case, kind, part))
        * worth_term(case, part)
        for part, made in pieces.items()
    )
    each = f"{_which(kind)} × worth of one"
    total = Total(each + (", added up over the parts" if items[1:] else ""), items)
    line = step(total, f"{case.worth_unit} a week, {case.title}", None)
    return [line], Term(
        case.told(words), line.result, f"{case.worth_unit} a week", "worked out above"
    )


def _which(kind: str) -> str:
    return "saleable pieces" if kind == "saleable" else "good pieces"


def _source(case: Case, kind: str, part: str) -> str:
    counted = case.simulated.counted
    if kind == "saleable" and counted.saleable[part] < counted.good[part]:
        weekly = case.origin("part", part, "weekly")
        return f"the pieces wanted ({weekly}); {counted.good[part]:.1f} were made"
    return case.counted


def worth_term(case: Case, part: str) -> Term:
    """What a good piece is worth: its contribution, or its minutes of cycle in the reference."""
    if case.in_money:
        label = f"contribution of {part}"
        return case.given(label, case.worth_unit, "part", part, "contribution")
    whose = case.reference if part in case.reference.plan.cycles else case
    label = f"cycle a piece of {part}"
    # The same here and in the reference, so it needs no word of where.
    return replace(whose.given(label, "min", "part", part, "cycle"), label=label)


def floor(case: Case) -> Expr:
    """Square metres of machines and of pallets beyond each machine's first."""
    items: list[Expr] = []
    for group in case.plan.groups:
        path = ("machine", group.id)
        count = case.given(f"machines ({group.id})", "", *path, "count")
        each: Expr = case.given(f"floor of each {group.id}", "m²", *path, "floor")
        if group.pallets > 1:
            pallets = case.given(f"pallets each ({group.id})", "", *path, "pallets")
            more = case.given(f"floor a pallet ({group.id})", "m²", *path, "pallet_floor")
            each = each + more * (pallets - 1)
        items.append(count * each)
    return Total("machines × (floor each + floor of the pallets beyond the first)", tuple(items))


# -- checks ----------------------------------------------------------------------------------


def _checks(case: Case, kind: str, gain: float, own: Term, base: Term) -> Iterator[Check]:
    yield check(
        "What is more than in the reference, over a hundredth of the reference.",
        (own - base) / (base / 100),
        "is",
        gain,
        "%",
    )
    if kind == "saleable":
        yield from _all_sold(case, gain, base)
    parts = {
        "per_paid_hour": ("output", "people_hours.paid"),
        "per_floor_area": ("spindle_hours", ""),
    }
    if kind in parts and not case.is_reference:
        above = Term(
            f"gain in {GAIN_WORDS[parts[kind][0]]}",
            getattr(case.answer.gains, parts[kind][0]),
            "%",
            f"see gain_percent.{parts[kind][0]}",
        )
        below = _change(case, kind)
        yield check(
            "The gain of what is made, over the growth of what it takes.",
            100 * ((1 + above / 100) / below - 1),
            "is",
            gain,
            "%",
        )


def _change(case: Case, kind: str) -> Expr:
    here, there = case.simulated, case.reference.simulated
    if kind == "per_paid_hour":
        return Term(
            "hours paid here", here.people.paid, "h a week", case.see("people_hours.paid")
        ) / Term(f"hours paid, {case.reference.title}", there.people.paid, "h a week", "as there")
    assert here.floor is not None
    assert there.floor is not None
    return Term("floor here", here.floor, "m²", "worked out above") / Term(
        f"floor, {case.reference.title}", there.floor, "m²", "worked out above"
    )


def _all_sold(case: Case, gain: float, base: Term) -> Iterator[Check]:
    """No more is saleable than all that is wanted, and all that is ordered."""
    counted = case.simulated.counted
    items: list[Expr] = []
    for part, made in counted.saleable.items():
        wanted: Expr = case.given(f"wanted a week of {part}", "", "part", part, "weekly")
        if counted.for_orders[part]:
            real = Term(
                f"for real orders, {part}", counted.for_orders[part], "a week", case.counted
            )
            wanted = wanted + real
        del made
        items.append(wanted * worth_term(case, part))
    if items:
        total = Total("pieces wanted × worth of one, added up", tuple(items))
        yield check(
            "If all that is wanted were made, the gain were this: more pallets, people or hours "
            "cannot sell more.",
            100 * (total / base - 1),
            "at most",
            gain,
            "%",
        )


# -- grain -----------------------------------------------------------------------------------


def _grain_figures(case: Case) -> Iterator[Figure]:
    if case.answer.grain is None:
        yield figure("grain_percent", "grain of the gains", "%", None)
        return
    for kind in KINDS:
        value = getattr(case.answer.grain, kind)
        title = f"grain of the gain in {GAIN_WORDS[kind]}"
        yield figure(f"grain_percent.{kind}", title, "percentage points", value, 2)


def _grain_words(case: Case, kind: str) -> tuple[str, ...]:
    if case.is_reference or case.answer.grain is None:
        return ()
    gain, grain = getattr(case.answer.gains, kind), getattr(case.answer.grain, kind)
    if gain is None or grain is None:
        return ()
    which = "larger" if is_difference(gain, grain) else "not larger"
    told = "it is a difference" if which == "larger" else "it is told as no difference"
    return (f"Its grain is {grain:.2f} percentage points; the gain is {which}, so {told}.",)


def _grain(case: Case, of: Figure) -> Worked:
    meaning = (
        "The widest change of the gain when every stated time of people is one second longer or "
        "shorter, here and in the reference alike. A smaller gain is no difference."
    )
    kind = of.id.partition(".")[2]
    gain = getattr(case.answer.gains, kind) if kind else None
    if of.value is None or gain is None:
        why = "It has not been worked out." if not kind else _missing(case, kind)
        return nothing(meaning, why)
    base = Term("gain as it is", gain, "%", f"see gain_percent.{kind}")
    ways = []
    for moved, word in zip(case.answer.nudged, ("longer", "shorter"), strict=False):
        value = getattr(moved, kind)
        if value is not None:
            with_it = Term(f"gain with 1 s {word}", value, "%", case.counted)
            # The amount of the change, whichever way it goes.
            ways.append(with_it - base if value >= gain else base - with_it)
    line = step(larger(*ways) if ways else Plain(0), "percentage points", 2)
    return Worked(
        meaning,
        (line,),
        (
            "Work comes in whole pieces and people serve one at a time, so a second may tip what "
            "comes next.",
        ),
        tuple(_second(case)),
    )


def _second(case: Case) -> Iterator[Check]:
    """What a second is of the work of a piece."""
    counted = case.simulated.counted
    if not counted.in_cycle or case.answer.grain is None:
        return
    part = max(counted.in_cycle, key=lambda one: counted.in_cycle[one])
    ways = case.ways(part)
    if not ways:
        return
    group = next(iter(ways))
    work = case.making(part, "load", f"load a piece of {part}", "min", group) + case.making(
        part, "unload", f"unload a piece of {part}", "min", group
    )
    if not work.value:
        return
    share = 100 * Plain(2) / (work * MINUTE)
    yield check(
        f"Two seconds more, one on and one off, of the work on a piece of {part}: where people "
        "alone hold the cell back, its output moves about so much, and the gain by the "
        "difference to the reference.",
        share,
        "about",
        max((getattr(case.answer.grain, kind) or 0.0) for kind in KINDS),
        "%",
        digits=2,
    )


FAMILIES = (Family(_figures, _account), Family(_grain_figures, _grain))
