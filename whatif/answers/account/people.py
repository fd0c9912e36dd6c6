"""Accounts of people's hours: paid, on duty, busy, and free for something else."""

from __future__ import annotations

from collections.abc import Sequence

from whatif.answers.account import notes
from whatif.answers.account.account import Check, Figure, Note, Worked
from whatif.answers.account.case import Case, times
from whatif.answers.account.checks import busy_check, duty
from whatif.answers.account.terms import Expr, Term, added, summed
from whatif.cell.model import DAY, HOUR, Shift
from whatif.cell.people import FREE_STRETCH

_JOBS = {
    "visit": "visits: walk, unload, setup, load",
    "bench": "bench work",
    "prove_out": "prove-outs",
    "tool_change": "tool changes",
    "repair": "stops",
}


def by_shifts(case: Case, of: Figure) -> Worked:
    """Hours paid or on duty, by the shift plan."""
    hours = _all_shifts(case, of.key == "paid")
    return of.worked(hours, (Note("shift plan"),), (_everybody(case, of),))


def _of_shift(case: Case, shift: Shift, off: Sequence[str]) -> Expr:
    """People times days times hours of a shift, less its breaks that stand under ``off``."""
    where, path = f"shift {shift.id}", ("shift", shift.id)
    people = case.given(f"people, {where}", "", *path, "people")
    days = Term(f"days a week, {where}", len(shift.days), "", case.entered(*path, "days"))
    long, label = shift.length / HOUR, f"hours from start to end, {where}"
    length = Term(label, long, "h", case.entered(*path, "end"), times(shift))
    hours: Expr = length
    for name in off:
        spans = case.checked.resolved[case.scenario].value(*path, name)
        if spans:
            pause = sum((end - begin) % DAY for begin, end in spans) / HOUR
            label = f"hours of {name.replace('_', ' ')}, {where}"
            hours = hours - Term(label, pause, "h", case.entered(*path, name))
    return people * days * hours


def _all_shifts(case: Case, is_paid: bool) -> Expr:
    off = ("unpaid_breaks",) if is_paid else ("breaks", "unpaid_breaks")
    shifts = [_of_shift(case, shift, off) for shift in case.cell.shifts]
    each = f"people × days × hours of the shift without its {'unpaid ' * is_paid}breaks"
    return added(each, shifts, "shifts")


def _everybody(case: Case, of: Figure) -> Check:
    """All people of all shifts, in every hour in which anybody is there."""
    people = [
        case.given(f"people, shift {shift.id}", "", "shift", shift.id, "people")
        for shift in case.cell.shifts
    ]
    hours: Expr = case.shift_hours()
    if of.key == "on_duty" and case.plan.machines:
        attended = sum(case.simulated.attended.values())
        hours = case.counted_term("attended machine hours", attended) / case.machines()
    all_of_them = hours * summed("people of all shifts", people)
    return of.check(f"everybody.{of.key}", "at most", all_of_them)


def busy(case: Case, of: Figure) -> Worked:
    """Hours at each kind of work, added up."""
    jobs = case.simulated.counted.busy_by_job
    items = [case.counted_term(words, jobs[job]) for job, words in _JOBS.items()]
    total = summed("visits + bench work + prove-outs + tool changes + stops", items)
    checks = (*busy_check(case, of), of.check("on duty", "at most", duty(case)))
    said = (*notes.other_duties(case, of.number), *notes.limits(case))
    return of.worked(total, said, checks)


def free(case: Case, of: Figure) -> Worked:
    """Free time in long stretches, as it is counted."""
    found = case.simulated.people
    long = Term("free in stretches of half an hour and more", of.number, "h a week", case.counted)
    at_work = case.figure_term("hours busy", "people_hours.busy")
    persons = sum(shift.people for shift in case.cell.shifts)
    slack = persons * FREE_STRETCH / HOUR / case.plan.weeks
    bound = of.check("free", "at most", duty(case) - at_work, slack=slack)
    short = found.free - found.free_stretches
    said = (Note("short stretches", numbers=(short,)),) if short > 0 else ()
    return of.worked(long, (*notes.people_busy(case), *said), (bound,))
