"""Accounts of spindle hours, hours by state, shares of the hours, and the weeks measured."""

from __future__ import annotations

from collections.abc import Iterator

from whatif.answers.account import binds as binds
from whatif.answers.account.account import Check, Figure, Worked, check, step
from whatif.answers.account.case import Case
from whatif.answers.account.checks import WEEK_HOURS, cycle_checks, pieces_cut, week_of_machines
from whatif.answers.account.family import Family, figure, mean_of_runs, nothing
from whatif.answers.account.terms import Expr, Term, Total
from whatif.answers.states import IN_CYCLE, STATE_ROWS, TURNING, StateRow
from whatif.cell.model import HOUR

_SPINDLE = {
    "total": "spindle hours",
    "attended": "spindle hours, attended",
    "breaks": "spindle hours, on breaks",
    "after_hours": "spindle hours, after hours",
}

_WHEN = {
    "attended": "with somebody on duty",
    "breaks": "while all who are there are on a break",
    "after_hours": "while no shift runs",
}

# -- spindle hours ---------------------------------------------------------------------------


def _spindle_figures(case: Case) -> Iterator[Figure]:
    if case.figures is None:
        return
    for key, title in _SPINDLE.items():
        value = getattr(case.figures.spindle, key)
        yield figure(f"spindle_hours.{key}", title, "h a week", value)


def _spindle(case: Case, of: Figure) -> Worked:
    spindle, key = case.simulated.spindle, of.id.split(".")[1]
    parts = tuple(case.simulated.counted.in_cycle)
    if key == "total":
        whole = Total(
            "attended + on breaks + after hours",
            tuple(
                Term(words, getattr(spindle, name), "h a week", case.counted)
                for name, words in (
                    ("attended", "attended"),
                    ("breaks", "on breaks"),
                    ("after_hours", "after hours"),
                )
            ),
        )
        return Worked(
            "Hours a week in which the spindles are in cycle, all machines together.",
            (step(whole, "h a week"),),
            (*binds.limits(case), *binds.demand(case)),
            cycle_checks(case, parts, spindle.total, ", all machines together"),
        )
    rest = [name for name in _WHEN if name != key]
    total = Term("all spindle hours", spindle.total, "h a week", "see spindle_hours.total")
    others = [
        Term(_SPINDLE[name], getattr(spindle, name), "h a week", case.counted) for name in rest
    ]
    return Worked(
        f"Hours a week in which the spindles are in cycle {_WHEN[key]}.",
        (step(total - others[0] - others[1], "h a week"),),
        binds.limits(case),
        (_room(case, key, of),),
    )


def _room(case: Case, key: str, of: Figure) -> Check:
    """No more in cycle than the machines have hours of that kind."""
    figures = case.simulated
    modes = {
        "attended": figures.attended,
        "breaks": figures.counted.on_breaks,
        "after_hours": figures.after_hours,
    }
    hours = sum(modes[key].values()) / max(1, case.plan.machines)
    each = Term(f"hours a week {_WHEN[key]}", hours, "h", "from the shifts' days, times and breaks")
    found = getattr(figures.spindle, key)
    return check(
        "No machine cuts longer than those hours last.",
        case.machines() * each if case.plan.groups else each,
        "at most",
        found,
        "h a week",
    )


# -- hours by state --------------------------------------------------------------------------


def _state_figures(case: Case) -> Iterator[Figure]:
    if case.figures is None:
        return
    for state, row in STATE_ROWS.items():
        title = row.label if state == IN_CYCLE else f"not cutting: {row.label}"
        yield figure(f"hours_by_state.{state}", title, "h a week", case.figures.by_state[state])


def _state(case: Case, of: Figure) -> Worked:
    row, figures = STATE_ROWS[of.id.split(".")[1]], case.simulated
    whole = Total(
        "attended + on breaks + after hours",
        tuple(
            Term(f"{words}, {row.label}", hours[row.name], "h a week", case.counted)
            for words, hours in (
                ("attended", figures.attended),
                ("on breaks", figures.counted.on_breaks),
                ("after hours", figures.after_hours),
            )
        ),
    )
    said = list(binds.limits(case))
    if row.eased_by:
        said.insert(0, row.eased_by)
    checks = list(_state_checks(case, row))
    if case.plan.groups:
        checks.append(week_of_machines(case, sum(figures.by_state.values())))
    return Worked(
        row.meaning + " All machines together.",
        (step(whole, "h a week"),),
        tuple(said),
        tuple(checks),
    )


def _state_checks(case: Case, row: StateRow) -> Iterator[Check]:
    figures = case.simulated
    if row.name == IN_CYCLE:
        yield from cycle_checks(
            case, tuple(figures.counted.in_cycle), figures.spindle.total, ", all machines together"
        )
    if row.jobs:
        states = [other.name for other in STATE_ROWS.values() if other.jobs == row.jobs]
        items = tuple(
            Term(
                f"people's hours: {job.replace('_', ' ')}",
                figures.counted.busy_by_job[job],
                "h a week",
                case.counted,
            )
            for job in row.jobs
        )
        yield check(
            "While a machine stands so a person works at it, and at no other: "
            + ("loading and setups together take" if len(states) > 1 else "it takes")
            + " no more hours than people spend on it.",
            Total("people's hours at this work", items),
            "at most",
            sum(figures.by_state[one] for one in states),
            "h a week",
            digits=2,
        )
    if row.name == "pallet_change":
        yield from _change_check(case)


def _change_check(case: Case) -> Iterator[Check]:
    """Each load that is cut comes in by a pallet change, where all machines have pallets."""
    groups = case.cell.groups
    if not groups or any(group.pallets == 1 for group in groups):
        return
    quick = min(groups, key=lambda group: group.pallet_change)
    change = case.given("pallet change", "min", "machine", quick.id, "pallet_change")
    loads: list[Expr] = []
    for part in case.simulated.counted.good:
        ways = case.ways(part)
        if ways:
            size = max(way.per_pallet for way in ways.values())
            loads.append(
                pieces_cut(case, part) / Term(f"pieces a load of {part}", size, "", "see fit")
            )
    if not loads:
        return
    # A load that is in the spindle at either end came in, or is counted, outside the weeks.
    slack = sum(group.count * group.pallet_change for group in groups) / HOUR / case.plan.weeks
    yield check(
        "Each load comes in by one change: full loads need at least this.",
        Total("loads a week", tuple(loads)) * change / 60,
        "at least",
        case.simulated.by_state["pallet_change"],
        "h a week",
        slack=slack,
        because="loads in the spindles when the weeks measured begin and end",
        digits=2,
    )


# -- shares of the hours ---------------------------------------------------------------------

_SHARES = {
    "of_shift": ("in cut, nights too, over shift hours", "the hours that a shift runs"),
    "of_powered": ("in cut, over powered hours", "the hours in which the machines are powered"),
    "of_week": ("in cut, over the whole week", "all 168 hours of the week"),
}


def _share_figures(case: Case) -> Iterator[Figure]:
    if case.figures is None:
        return
    for key, (title, _) in _SHARES.items():
        value = getattr(case.figures.utilization, key)
        yield figure(f"utilization_percent.{key}", title, "%", value)


def in_cut(case: Case) -> Total:
    """Hours a week in which metal is cut: hours in cycle times the part's share in cut."""
    items: list[Expr] = []
    for part, hours in case.simulated.counted.in_cycle.items():
        share = case.given(f"share in cut of {part}", "%", "part", part, "in_cut")
        items.append(Term(f"hours in cycle, {part}", hours, "h a week", case.counted) * share / 100)
    each = "hours in cycle × share in cut / 100"
    return Total(each + (", added up over the parts" if items[1:] else ""), tuple(items))


def _share(case: Case, of: Figure) -> Worked:
    key, figures = of.id.split(".")[1], case.simulated
    meaning = f"Hours in which metal is cut, nights included, over {_SHARES[key][1]}."
    if of.value is None:
        return nothing(meaning, "There is no machine, or no shift runs: there are no such hours.")
    cutting = step(in_cut(case), "h a week in cut", None)
    cut = Term("hours in cut", cutting.result, "h a week", "worked out above")
    spun = sum(figures.after_hours[one] for one in TURNING)
    on_shift = case.machines() * case.shift_hours()
    late = Term(
        "after hours: in cycle, warming up, changing pallets", spun, "h a week", case.counted
    )
    base = {
        "of_shift": on_shift,
        "of_powered": on_shift + late,
        "of_week": case.machines() * WEEK_HOURS,
    }[key]
    last = step(100 * cut / base, "%")
    if case.plan.runs > 1 and key == "of_powered":
        last = mean_of_runs(case, of)
    return Worked(meaning, (cutting, last), binds.limits(case), tuple(_share_checks(case, of)))


def _share_checks(case: Case, of: Figure) -> Iterator[Check]:
    """The same hours over another base, and no more cut than is in cycle."""
    shares, spindle = case.simulated.utilization, case.simulated.spindle
    assert isinstance(of.value, float)
    total = Term("spindle hours", spindle.total, "h a week", "see spindle_hours.total")
    week = case.machines() * WEEK_HOURS
    if of.id.endswith("of_week"):
        yield check(
            "No more is cut than the spindles are in cycle.",
            100 * total / week,
            "at most",
            of.value,
            "%",
        )
        return
    assert shares.of_week is not None
    share = Term(
        "share over the whole week", shares.of_week, "%", "see utilization_percent.of_week"
    )
    hours = case.shift_hours()
    yield check(
        "The same hours in cut, brought from the whole week to the hours that a shift runs"
        + ("." if of.id.endswith("of_shift") else "; powered hours are no fewer."),
        share * WEEK_HOURS / hours,
        "is" if of.id.endswith("of_shift") else "at most",
        of.value,
        "%",
    )


FAMILIES = (
    Family(_spindle_figures, _spindle),
    Family(_state_figures, _state),
    Family(_share_figures, _share),
)
