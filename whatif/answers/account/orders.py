"""Accounts of real orders: when they come off, and how late; and of rush orders."""

from __future__ import annotations

from collections.abc import Iterator

from whatif.answers.account import notes
from whatif.answers.account.account import Check, Figure, Note, Worked, nothing
from whatif.answers.account.case import Case
from whatif.answers.account.checks import WEEK_HOURS, cycle_of, load_hours
from whatif.answers.account.gains import worth_term
from whatif.answers.account.origins import CountedIn, FoundBy
from whatif.answers.account.terms import Expr, Plain, Term, larger
from whatif.answers.orders.orders import by_size
from whatif.answers.orders.rush import AFTERWARDS, AnyHour, RushArrival
from whatif.cell.model import HOUR
from whatif.study.schema.catalogue import key_for

_DAY_HOURS = 24

# -- real orders -----------------------------------------------------------------------------


def order(case: Case, of: Figure) -> Worked:
    """A moment as it is counted, or its difference to the due date."""
    (id_,), key = of.names, of.key
    if of.value is None:
        return _why_none(case, "order", id_, "not off")
    if case.plan.runs > 1:
        found = _of_runs(case, id_, key, case.plan.runs // 2)
    elif key == "late_hours":
        last = case.figure_term("last piece off", f"orders.{id_}.last_off", "h")
        found = larger(0.0, last - _moment(case, "due", id_, "due"))
    else:
        found = _counted_moment(case, of.number)
    first = Note("due date and rush" if case.plan.rush else "due date first")
    return of.worked(found, (first, *notes.limits(case)), _order_checks(case, of, key, id_))


def worst_order(case: Case, of: Figure) -> Worked:
    """The figure of the worst run; the only one where there are no stops."""
    (id_,), key = of.names, of.key.removeprefix("worst_")
    if of.value is None:
        return _why_none(case, "order", id_, "not off")
    if case.plan.runs == 1:
        only = case.figure_term("the only run", f"orders.{id_}.{key}", "h")
        return of.worked(only, notes.limits(case), without="entered")
    return of.worked(_of_runs(case, id_, key, -1), notes.limits(case), without="entered")


def odds(case: Case, of: Figure) -> Worked:
    """The runs in which it is in time, of all."""
    (id_,) = of.names
    runs = case.answer.orders[id_].runs
    in_time = sum(not run.is_late for run in runs)
    share = 100 * Term("runs in time", in_time, "", FoundBy("run by run")) / len(runs)
    return of.worked(share, notes.limits(case), (of.check("all runs", "at most", Plain(100)),))


def _of_runs(case: Case, id_: str, key: str, place: int) -> Expr:
    """One of the runs, put in order; -1 is the last."""
    values = by_size([getattr(run, key) for run in case.answer.orders[id_].runs])
    number = place % len(values) + 1
    found = values[place]
    assert found is not None
    label = f"number {number} of {len(values)} runs, sorted"
    return Term(label, found, "h", FoundBy("in that run"))


def _counted_moment(case: Case, at: float) -> Expr:
    """A moment as whole weeks, days and hours."""
    weeks, hours = divmod(at, WEEK_HOURS)
    days, rest = divmod(hours, _DAY_HOURS)
    on_day = CountedIn(case.plan.weeks, case.plan.runs, at)
    return (
        case.counted_term("whole weeks before", weeks, "") * WEEK_HOURS
        + Term("whole days before", days, "", on_day) * _DAY_HOURS
        + case.counted_term("hours into the day", rest, "h")
    )


def _moment(case: Case, label: str, id_: str, key: str) -> Term:
    """A moment of an order in hours from the first Monday 00:00, as it was typed."""
    path = ("order", id_, key)
    raw, found = case.checked.resolved[case.scenario].raw(*path), key_for(path)
    assert found is not None
    return Term(label, found.kind.read(raw) / HOUR, "h", case.entered(*path), str(raw))


def _why_none(case: Case, group: str, id_: str, otherwise: str) -> Worked:
    """That its part is not made, or the other reason."""
    part = _part(case, group, id_)
    is_known = any(plan.id == part for plan in case.plan.parts)
    said = notes.unmade(case, part) if is_known else ()
    return Worked(notes=said) if said else nothing(otherwise)


def _part(case: Case, group: str, id_: str) -> str:
    return str(case.checked.resolved[case.scenario].raw(group, id_, "part"))


def _order_checks(case: Case, of: Figure, key: str, id_: str) -> Iterator[Check]:
    """No earlier than the order is at hand and its pieces are cut, and within the weeks."""
    if key == "late_hours":
        due = _moment(case, "due", id_, "due")
        weeks = case.weeks() * WEEK_HOURS
        yield of.check("in the weeks", "at most", larger(0.0, weeks - due))
    part = _part(case, "order", id_)
    ways = case.ways(part)
    if not ways:
        return
    cycle, arrives = cycle_of(case, part), _moment(case, "arrives", id_, "arrives")
    if key == "first_off":
        yield of.check("one piece cut", "at least", arrives + cycle / 60)
        return
    pieces = case.given("pieces ordered", "pieces", "order", id_, "pieces")
    cut: Expr = arrives + pieces * cycle / 60 / case.machines(ways)
    if key == "late_hours":
        cut = cut - due
        if cut.value <= 0:
            return
    yield of.check(f"all cut.{key}", "at least", cut)


# -- rush orders -----------------------------------------------------------------------------


def no_rush(case: Case, of: Figure) -> Worked:
    """Why a rush order is not tried out."""
    return _why_none(case, "rush", of.names[0], "no attended hour")


def rush(case: Case, of: Figure) -> Worked:
    """The run with the order against the run without it."""
    (id_,) = of.names
    found = case.answer.rush[id_]
    key, _, end = of.key.partition(".")
    if of.value is None:
        return nothing("not in a year" if key == "hours" else "pieces without contribution")
    if isinstance(found, RushArrival):
        worked = _one_arrival(of, key, found)
    else:
        assert found is not None
        worked = _ranked(of, found, key, end)
    said = (*_rush_notes(case, of, key, id_), *notes.limits(case))
    return of.worked(worked, said, _rush_checks(case, of, key, id_))


def _one_arrival(of: Figure, key: str, found: RushArrival) -> Expr:
    if key == "hours":
        days, rest = divmod(of.number, _DAY_HOURS)
        origin = FoundBy("since arrival")
        whole = Term("whole days", days, "", origin) * _DAY_HOURS
        return whole + Term("and hours", rest, "h", origin)
    is_hours = key == "lost_spindle_hours"
    before = found.other_spindle_hours if is_hours else found.other_contribution
    without = Term("other work without the rush order", before, of.unit, FoundBy("two weeks"))
    with_it = Term("other work with it", before - of.number, of.unit, FoundBy("tried out"))
    return without - with_it


def _ranked(of: Figure, found: AnyHour, key: str, end: str) -> Expr:
    """The middle or the last of all tried hours, put in order."""
    tried = sorted(getattr(trial, key) for trial in found.trials)
    count = len(tried)

    def place(number: int) -> Term:
        label = f"number {number + 1} of {count}, sorted"
        return Term(label, tried[number], of.unit, FoundBy("each tried out", str(count)))

    if end == "worst":
        return place(count - 1)
    middle = place(count // 2)
    return middle if count % 2 else (place(count // 2 - 1) + middle) / 2


def _rush_notes(case: Case, of: Figure, key: str, id_: str) -> tuple[Note, ...]:
    found = case.answer.rush[id_]
    likely = found.likely if isinstance(found, RushArrival) else None
    span = None if likely is None else getattr(likely, key)
    said: tuple[Note, ...] = ()
    if likely is not None and span is not None:
        said = (Note("rush range", (of.unit, str(likely.draws)), span),)
        if key != "hours" and span[0] <= 0:
            return (*said, Note("rush nothing"))
    if key == "lost_spindle_hours" and of.number < 0:
        return (*said, Note("other work gains", numbers=(-of.number,)))
    if key != "lost_contribution":
        return said
    price = case.given("price", case.worth_unit, "rush", id_, "price")
    if not price.number:
        return (*said, Note("no price"))
    least, most = (of.number,) * 2 if span is None else (span[0], span[2])
    which = "more" if price.number >= most else "less" if price.number < least else "between"
    loses = {"more": most, "less": least, "between": of.number}[which]
    brings = Note(f"brings {which}", (case.worth_unit,), (price.number, loses), price.origin)
    return (*said, brings)


def _rush_checks(case: Case, of: Figure, key: str, id_: str) -> Iterator[Check]:
    if key == "hours":
        part = _part(case, "rush", id_)
        ways = case.ways(part)
        if ways:
            pieces = case.given("pieces", "", "rush", id_, "pieces")
            cut = pieces * cycle_of(case, part) / 60 / case.machines(ways)
            yield of.check("rush cut", "at least", cut)
        return
    machine_hours = case.machines() * (AFTERWARDS // HOUR)
    if key == "lost_spindle_hours":
        yield of.check("two whole weeks", "at most", machine_hours)
        return
    parts = [plan.id for plan in case.plan.parts if case.ways(plan.id)]
    an_hour = [worth_term(case, part) * 60 / cycle_of(case, part) for part in parts]
    loads = case.plan.weeks * load_hours(case, *parts)
    best = larger(*an_hour)
    yield of.check(
        "two weeks of the best", "at most", machine_hours * best, slack=loads * best.value
    )
