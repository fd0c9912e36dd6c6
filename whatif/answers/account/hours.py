"""Accounts of the machines' hours: in cycle, by state, shares, what limits, the band of runs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from whatif.answers.account import notes
from whatif.answers.account.account import Check, Figure, Note, Worked, WorkedLine, nothing
from whatif.answers.account.case import Case
from whatif.answers.account.checks import (
    WEEK_HOURS,
    Cycle,
    cycle_checks,
    cycle_of,
    duty,
    has_one_cycle,
    hours_in_cycle,
    load_hours,
    pieces_cut,
)
from whatif.answers.account.origins import FoundBy
from whatif.answers.account.terms import Expr, Plain, Term, added, summed
from whatif.answers.limits import AfterHours, may_not_do
from whatif.answers.ranks import TENTHS, rank_of
from whatif.answers.states import IN_CYCLE, STATE_ROWS, TURNING, StateRow
from whatif.cell.model import HOUR

_MODE_WORDS = {"attended": "attended", "breaks": "on breaks", "after_hours": "after hours"}


_MODES = " + ".join(_MODE_WORDS.values())


_COUNTED_WHEN = {
    "attended": "in cycle while somebody is on duty",
    "breaks": "in cycle while all who are there have a break",
    "after_hours": "in cycle from a shift's end to the next one's start",
}
"""When a kind of hours is counted: its name alone would explain it by itself."""


def _by_mode(case: Case) -> dict[str, Mapping[str, float]]:
    """Hours by state within each kind of hours."""
    figures = case.simulated
    return {
        "attended": figures.attended,
        "breaks": figures.on_breaks,
        "after_hours": figures.after_hours,
    }


def _all_modes(case: Case, state: str, told: str = "") -> Expr:
    """Hours in a state, each kind of hours by itself; ``told`` stands behind its words.

    Those in cycle are figures of the list as well, with accounts of their own.
    """
    if state == IN_CYCLE:
        return summed(
            _MODES,
            (
                case.figure_term(f"{words}{told}", f"spindle_hours.{mode}")
                for mode, words in _MODE_WORDS.items()
            ),
        )
    each = (
        case.counted_term(f"{_MODE_WORDS[mode]}{told}", hours[state])
        for mode, hours in _by_mode(case).items()
    )
    return summed(_MODES, each)


# -- spindle hours ---------------------------------------------------------------------------


def all_hours(case: Case, of: Figure) -> Worked:
    """The kinds of hours added up."""
    checks = cycle_checks(case, case.simulated.counted.in_cycle, of.term)
    said = (*notes.limits(case), *notes.demand_met(case))
    return of.worked(_all_modes(case, IN_CYCLE), said, checks)


def of_mode(case: Case, of: Figure) -> Worked:
    """One kind of hours, as it is counted."""
    own = case.counted_term(_COUNTED_WHEN[of.key], of.number)
    others = [
        case.figure_term(f"spindle hours, {words}", f"spindle_hours.{mode}", "h")
        for mode, words in _MODE_WORDS.items()
        if mode != of.key
    ]
    last = sum(_by_mode(case)[of.key].values()) / max(1, case.plan.machines)
    each_machine = Term(f"hours a week, {_MODE_WORDS[of.key]}", last, "h", FoundBy("shift hours"))
    room = case.machines() * each_machine if case.plan.groups else each_machine
    rest = cycle_checks(case, case.simulated.counted.in_cycle, of.term, less=others)
    return of.worked(own, notes.limits(case), (of.check("room", "at most", room), *rest))


# -- hours by state --------------------------------------------------------------------------


def state_names(_: Case, name: str) -> tuple[str, ...]:
    """What hours in a state are titled, and what they are."""
    row = STATE_ROWS[name]
    return row.label if name == IN_CYCLE else f"not cutting: {row.label}", row.meaning


def state(case: Case, of: Figure) -> Worked:
    """Hours in one state, by kind of hours."""
    row = STATE_ROWS[of.names[0]]
    hours = _all_modes(case, row.name, f", {row.label}")
    checks = (*_state_checks(case, row, of), *_week_of_machines(case, of))
    said = (*_duties(case, row, of.number), *_eased(case, row), *notes.limits(case))
    if row.name == "setup":
        said = (*notes.set_up_anew(case), *said)
    return of.worked(hours, said, checks)


def _duties(case: Case, row: StateRow, hours: float) -> tuple[Note, ...]:
    """What other duties make of the hours in a state, where people work or are waited for in it."""
    if row.jobs:
        return notes.other_duties(case, hours)
    return notes.waits_for_duties(case, hours) if row.name == "waiting_for_person" else ()


def _eased(case: Case, row: StateRow) -> tuple[Note, ...]:
    if row.name == "waiting_for_person":
        # Where what is waited for is work that others on duty may not do, more people are no way.
        may_not = may_not_do(case.plan, case.simulated)
        if may_not is not None:
            return (Note("eased by", of=may_not),)
    return (Note("eased by", (row.eased_by,)),) if row.eased_by else ()


def state_term(case: Case, row: StateRow) -> Term:
    """Hours in a state, all machines together."""
    return case.figure_term(f"hours {row.label}", f"hours_by_state.{row.name}")


def _state_checks(case: Case, row: StateRow, of: Figure) -> Iterator[Check]:
    if row.name == IN_CYCLE:
        yield from cycle_checks(case, case.simulated.counted.in_cycle, of.term)
    elif row.jobs:
        at_it = [other for other in STATE_ROWS.values() if other.jobs == row.jobs]
        standing = [state_term(case, other) for other in at_it if other is not row]
        yield _at_work(case, row, (of.term, *standing))
    elif row.name == "pallet_change":
        yield from _change_check(case, of)


def _at_work(case: Case, row: StateRow, standing: Sequence[Expr]) -> Check:
    """While a machine stands so a person works at it, and at no other."""
    busy = case.simulated.counted.busy_by_job
    items = [
        case.counted_term(f"people's hours: {job.replace('_', ' ')}", busy[job]) for job in row.jobs
    ]
    line = WorkedLine(summed("people's hours at this work", items), "h a week", 2)
    id_ = "work.visit" if len(standing) > 1 else "work.machine"
    return Check(id_, line, "at most", summed("machine hours", standing))


def _change_check(case: Case, of: Figure) -> Iterator[Check]:
    """Each load that is cut comes in by a pallet change, where all machines have pallets."""
    groups = case.cell.groups
    if not groups or any(group.pallets == 1 for group in groups):
        return
    quick = min(groups, key=lambda group: group.pallet_change)
    change = case.given("pallet change", "min", "machine", quick.id, "pallet_change")
    loads = [
        pieces_cut(case, part) / case.a_load(part)
        for part in case.simulated.counted.good
        if case.ways(part)
    ]
    if not loads:
        return
    # A load that is in the spindle at either end came in, or is counted, outside the weeks.
    slack = sum(group.count * group.pallet_change for group in groups) / HOUR / case.plan.weeks
    needed = summed("loads a week", loads) * change / 60
    yield of.check("pallet changes", "at least", needed, slack=slack, digits=2)


def _week_of_machines(case: Case, of: Figure) -> Iterator[Check]:
    """All states of all machines fill the week."""
    if not case.plan.groups:
        return
    each = [
        of.term if name == of.names[0] else state_term(case, row)
        for name, row in STATE_ROWS.items()
    ]
    line = WorkedLine(case.machines() * WEEK_HOURS, "h a week")
    yield Check("states", line, "is", summed("all states together", each))


# -- shares of the hours ---------------------------------------------------------------------


def _in_cut(case: Case, words: str, hours: Mapping[str, Expr]) -> Expr:
    """Hours a week in which metal is cut: hours in cycle by part times the part's share in cut."""
    items = [
        in_cycle * case.of_part("share in cut of", "%", part, "in_cut") / 100
        for part, in_cycle in hours.items()
    ]
    return added(f"{words} × share in cut / 100", items, "parts")


def share(case: Case, of: Figure) -> Worked:
    """Hours in cut over one of the bases."""
    if of.value is None:
        return nothing("no hours")
    hours = {part: hours_in_cycle(case, part) for part in case.simulated.counted.in_cycle}
    cutting = WorkedLine(_in_cut(case, "hours in cycle", hours), "h a week in cut", None)
    cut = cutting.term("hours in cut", "h a week")
    base = case.machines() * (WEEK_HOURS if of.key == "of_week" else case.shift_hours())
    # The mean of the runs' shares is not the share of their means.
    is_mean = case.plan.runs > 1 and of.key == "of_powered"
    if of.key == "of_powered" and not is_mean:
        spun = sum(case.simulated.after_hours[name] for name in TURNING)
        turning = ", ".join(STATE_ROWS[name].label for name in TURNING)
        base = base + case.counted_term(f"after hours: {turning}", spun)
    last = mean_of_runs(case, of) if is_mean else 100 * cut / base
    checks = _share_checks(case, of, base, is_mean)
    return of.worked(last, notes.limits(case), checks, before=(cutting,), without="nothing is cut")


def _share_checks(case: Case, of: Figure, base: Expr, is_mean: bool) -> Iterator[Check]:
    """The same share from pieces and cycles; over the whole week no more than is in cycle."""
    if of.key == "of_week":
        hours = case.figure_term("spindle hours", "spindle_hours.total")
        yield of.check("in cycle", "at most", 100 * hours / base)
    parts = [part for part in case.simulated.counted.in_cycle if case.ways(part)]
    if not parts:
        return
    which: Cycle = "longest" if is_mean else "shortest"
    by_cycle = {part: pieces_cut(case, part) * cycle_of(case, part, which) / 60 for part in parts}
    cut = _in_cut(case, "pieces cut × cycle / 60", by_cycle)
    same = has_one_cycle(case, parts)
    told = "" if same else f", at the {which} cycle"
    yield of.check(
        "cut in shift hours" if is_mean else "cut from pieces",
        "at most" if is_mean else "is" if same else "at least",
        100 * cut / base,
        names=(told,),
        slack=100 * load_hours(case, *parts) / base.value,
    )


def mean_of_runs(case: Case, of: Figure) -> Expr:
    """A figure that each seeded run has for itself, and of which the mean is shown."""
    runs, origin = case.plan.runs, FoundBy("run by run")
    total = Term(f"sum of it over the {runs} runs", runs * of.number, of.unit, origin)
    return total / case.head("runs", "seeded runs", runs)


# -- what limits -----------------------------------------------------------------------------


def limit(case: Case, _: Figure) -> Worked:
    """The share of the attended hours, or of the nights, that what leads takes."""
    held = case.answer.held_back
    if held is None:
        return nothing("not simulated")
    if held.by_night is not None:
        return _by_night(case, held.by_night)
    if held.is_for_people and held.state != "waiting_for_person":
        return _by_people(case)
    if held.state is None:
        return Worked(notes=notes.held_back(case))
    hours, largest = case.simulated.attended, STATE_ROWS[held.state]
    losses = {
        name: case.counted_term(f"attended, {STATE_ROWS[name].label}", spent)
        for name, spent in hours.items()
        if spent
    }
    every = WorkedLine(
        summed("attended machine hours", losses.values()), "attended machine hours a week"
    )
    attended = every.term("attended machine hours", "h a week")
    on_breaks = sum(case.simulated.on_breaks.values())
    breaks = case.counted_term("machine hours on breaks", on_breaks)
    share = WorkedLine(100 * losses[held.state] / attended, f"% of them: {largest.label}", 0)
    pencil = WorkedLine(case.machines() * case.shift_hours() - breaks, "h a week")
    check = Check("attended", pencil, "is", attended)
    return Worked((every, share), (*_eased(case, largest), *notes.limits(case)), (check,))


def _by_people(case: Case) -> Worked:
    """Of the time on duty of those who load how much they are busy."""
    loads = [shift.id for shift in case.cell.shifts if "load" in shift.does]
    shifts = case.simulated.shifts
    busy, on_duty = (
        WorkedLine(
            summed(
                words, [case.counted_term(f"{words}, shift {id_}", hours[id_]) for id_ in loads]
            ),
            "h a week",
        )
        for words, hours in (("hours busy", shifts.busy), ("hours on duty", shifts.on_duty))
    )
    at_work = busy.term("hours busy of those who load", "h a week")
    there = on_duty.term("hours on duty of those who load", "h a week")
    share = WorkedLine(100 * at_work / there, "% of their time on duty", 0)
    check = Check("on duty", WorkedLine(duty(case), "h a week"), "at most", at_work)
    return Worked((busy, on_duty, share), notes.limits(case), (check,))


def _by_night(case: Case, night: AfterHours) -> Worked:
    """What ends most of the nights over all of them, and how long machines then stand."""
    assert night.ended_by is not None
    nights = case.simulated.nights
    ended = {
        why: case.counted_term(f"machines' nights ended by {_in_words(why)}", count, "a week")
        for why, count in nights.ended.items()
        if count
    }
    every = WorkedLine(summed("machines' nights", ended.values()), "machines' nights a week")
    most = night.ended_by.value
    counted = every.term("machines' nights", "a week")
    share = WorkedLine(100 * ended[most] / counted, f"% of them: {_in_words(most)}", 0)
    pencil = WorkedLine(case.machines() * case.shift_ends(), "machines' nights a week")
    check = Check("nights", pencil, "at most", counted)
    return Worked((every, share), notes.limits(case), (check,))


def _in_words(why: str) -> str:
    return why.replace("_", " ")


# -- weeks and band --------------------------------------------------------------------------


def weeks(case: Case, of: Figure) -> Worked:
    """The weeks as they are entered."""
    return of.worked(case.weeks(), (Note("more weeks"),), without="entered")


def band(case: Case, _: Figure) -> Worked:
    """Two places among the runs, put in order."""
    if case.answer.band is None:
        return nothing("no stops")
    runs = sorted(case.answer.spindle_by_run)
    low, high = _tenth(runs, TENTHS[0]), _tenth(runs, TENTHS[-1])
    mean = case.figure_term("spindle hours", "spindle_hours.total")
    no_fewer = sum(run >= low.result for run in runs)
    above = Term("runs with no fewer", no_fewer, "", FoundBy("run by run"))
    share = above / case.head("runs", "seeded runs", len(runs))
    week = WorkedLine(case.machines() * WEEK_HOURS, "h a week")
    lower, upper = low.term("lower end", "h a week"), high.term("upper end", "h a week")
    least = WorkedLine(lower * share, "h a week")
    checks = (
        Check("mean of runs", least, "at least", mean),
        Check("whole weeks", week, "at most", upper),
    )
    return Worked((low, high), (Note("luck"),), checks)


def _tenth(runs: list[float], tenths: int) -> WorkedLine:
    """The runs in order, and the rank of a percentile among them (rule `likely.range`)."""
    rank = rank_of(tenths, len(runs))
    low = _run(runs, rank.whole - 1)
    if not rank.part:
        return WorkedLine(low, "h a week")
    way = Plain(round(rank.part, 9))
    return WorkedLine(low + way * (_run(runs, rank.whole) - low), "h a week")


def _run(runs: list[float], place: int) -> Term:
    return Term(f"run {place + 1} from below", runs[place], "h a week", FoundBy("in that run"))
