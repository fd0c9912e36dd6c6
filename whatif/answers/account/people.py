"""Accounts of people's hours: paid, on duty, busy, and free for something else."""

from __future__ import annotations

from collections.abc import Iterator

from whatif.answers.account import binds as binds
from whatif.answers.account.account import Figure, Worked, check, step
from whatif.answers.account.case import Case, times
from whatif.answers.account.checks import busy_check
from whatif.answers.account.family import Family, figure
from whatif.answers.account.terms import Expr, Term, Total
from whatif.cell.model import HOUR, Shift
from whatif.cell.people import FREE_STRETCH

_TITLES = {
    "paid": "people paid",
    "on_duty": "people on duty",
    "busy": "people busy",
    "free_stretches": "people free, half hours and more",
}

_JOBS = {
    "visit": "visits: walk, unload, setup, load",
    "bench": "bench work",
    "prove_out": "prove-outs",
    "tool_change": "tool changes",
    "repair": "stops",
}


def _figures(case: Case) -> Iterator[Figure]:
    if case.figures is None:
        return
    for key, title in _TITLES.items():
        value = getattr(case.figures.people, key)
        yield figure(f"people_hours.{key}", title, "h a week", value)


def _account(case: Case, of: Figure) -> Worked:
    return {
        "paid": _paid,
        "on_duty": _on_duty,
        "busy": _busy,
        "free_stretches": _free,
    }[of.id.split(".")[1]](case)


def _breaks(shift: Shift) -> float:
    """Hours of a shift in which its people pause."""
    return sum(to - since for since, to in shift.breaks) / HOUR


def _of_shift(case: Case, shift: Shift, *, pauses: bool) -> Expr:
    """People times days times hours of a shift; less its breaks where they do not count."""
    where = f"shift {shift.id}"
    people = case.given(f"people, {where}", "", "shift", shift.id, "people")
    days = Term(
        f"days a week, {where}", len(shift.days), "", case.origin("shift", shift.id, "days")
    )
    length = Term(
        f"hours from start to end, {where}",
        shift.length / HOUR,
        "h",
        case.origin("shift", shift.id, "end"),
        times(shift),
    )
    if not pauses or not shift.breaks:
        return people * days * length
    breaks = Term(
        f"hours of breaks, {where}",
        _breaks(shift),
        "h",
        case.origin("shift", shift.id, "breaks"),
    )
    return people * days * (length - breaks)


def _all_shifts(case: Case, *, paid: bool) -> Expr:
    shifts = tuple(
        _of_shift(case, shift, pauses=not (paid and shift.breaks_paid))
        for shift in case.cell.shifts
    )
    each = "people × days × hours of the shift" + ("" if paid else " without its breaks")
    return Total(each + (", added up over the shifts" if shifts[1:] else ""), shifts)


def _paid(case: Case) -> Worked:
    people = case.simulated.people
    duty = Term("hours on duty", people.on_duty, "h a week", "see people_hours.on_duty")
    paid = [
        case.given(f"people, shift {shift.id}", "", "shift", shift.id, "people")
        * Term(
            f"paid breaks a week, shift {shift.id}",
            len(shift.days) * _breaks(shift),
            "h",
            case.origin("shift", shift.id, "breaks"),
        )
        for shift in case.cell.shifts
        if shift.breaks_paid and shift.breaks
    ]
    expr = duty + Total("people × paid breaks", tuple(paid)) if paid else duty
    return Worked(
        "Hours a week that people are paid for: their shifts, breaks among them where they are "
        "paid.",
        (step(_all_shifts(case, paid=True), "h a week"),),
        ("The shift plan alone decides it, not the work.",),
        (check("Hours on duty and paid breaks.", expr, "is", people.paid, "h a week"),),
    )


def _on_duty(case: Case) -> Worked:
    people = case.simulated.people
    paid = Term("hours paid", people.paid, "h a week", "see people_hours.paid")
    return Worked(
        "Hours a week that people are there and not on a break, all people together.",
        (step(_all_shifts(case, paid=False), "h a week"),),
        ("The shift plan alone decides it, not the work.",),
        (check("No more than the paid hours.", paid, "at most", people.on_duty, "h a week"),)
        if all(shift.breaks_paid or not shift.breaks for shift in case.cell.shifts)
        or people.paid >= people.on_duty
        else (),
    )


def _busy(case: Case) -> Worked:
    people, jobs = case.simulated.people, case.simulated.counted.busy_by_job
    items = tuple(Term(words, jobs[job], "h a week", case.counted) for job, words in _JOBS.items())
    duty = Term("hours on duty", people.on_duty, "h a week", "see people_hours.on_duty")
    return Worked(
        "Hours a week that people work for the cell, other duties that slow them included.",
        (
            step(
                Total("visits + bench work + prove-outs + tool changes + stops", items), "h a week"
            ),
        ),
        binds.limits(case),
        (
            *busy_check(case, people.busy),
            check("Nobody is busy longer than on duty.", duty, "at most", people.busy, "h a week"),
        ),
    )


def _free(case: Case) -> Worked:
    people = case.simulated.people
    duty = Term("hours on duty", people.on_duty, "h a week", "see people_hours.on_duty")
    busy = Term("hours busy", people.busy, "h a week", "see people_hours.busy")
    short = people.on_duty - people.busy - people.free_stretches
    rest = duty - busy
    if short >= 0:
        rest = rest - Term("free in shorter stretches", short, "h a week", case.counted)
    else:
        # A stretch counts when it has lasted half an hour, then with all of its time.
        rest = rest + Term("of stretches begun before", -short, "h a week", case.counted)
    persons = sum(shift.people for shift in case.cell.shifts)
    return Worked(
        "Hours a week that people are free for at least half an hour on end, enough to tend "
        "something else.",
        (step(rest, "h a week"),),
        binds.people(case),
        (
            check(
                "No more than all free time.",
                duty - busy,
                "at most",
                people.free_stretches,
                "h a week",
                slack=persons * FREE_STRETCH / HOUR / case.plan.weeks,
                because="stretches that began before the weeks measured",
            ),
        ),
    )


FAMILIES = (Family(_figures, _account),)
