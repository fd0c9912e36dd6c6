"""Accounts of real orders: when they come off, and how late."""

from __future__ import annotations

from collections.abc import Iterator

from whatif.answers.account import binds as binds
from whatif.answers.account.account import Check, Figure, Worked, check, step
from whatif.answers.account.case import Case
from whatif.answers.account.family import Family, figure, mean_of_runs, nothing
from whatif.answers.account.terms import Expr, Term, larger
from whatif.answers.orders.orders import Ordered
from whatif.cell.model import HOUR
from whatif.study.schema.catalogue import key_for

_TITLES = {
    "first_off": "first piece off",
    "last_off": "last piece off",
    "late_hours": "late",
}
_MEANING = {
    "first_off": "When its first piece is off the pallet, in hours from Monday 00:00 of the first "
    "week measured.",
    "last_off": "When its last piece is off the pallet, in hours from Monday 00:00 of the first "
    "week measured.",
    "late_hours": "Hours from its due date to its last piece off; 0 where it is on time.",
}
_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def _figures(case: Case) -> Iterator[Figure]:
    for id_, order in case.answer.orders.items():
        for key, title in _TITLES.items():
            yield figure(f"orders.{id_}.{key}", f"order {id_}: {title}", "h", getattr(order, key))


def _account(case: Case, of: Figure) -> Worked:
    _, id_, key = of.id.split(".")
    meaning = _MEANING[key]
    if of.value is None:
        return nothing(meaning, _not_off(case, id_))
    assert isinstance(of.value, float)
    order = case.answer.orders[id_]
    if key == "late_hours":
        return _late(case, of, id_, order)
    said = (*_first(case), *binds.limits(case))
    checks = tuple(_order_checks(case, id_, key, order))
    if case.plan.runs > 1:
        return Worked(meaning, (mean_of_runs(case, of),), said, checks)
    weeks, hours = divmod(of.value, 168)
    days, rest = divmod(hours, 24)
    when = f"{_DAYS[int(days)]} of week {int(weeks) + 1}"
    line = (
        Term("whole weeks before", weeks, "", case.counted) * 168
        + Term("whole days before", days, "", f"{when}, {case.counted}") * 24
        + Term("hours into the day", rest, "h", case.counted)
    )
    return Worked(meaning, (step(line, "h"),), said, checks)


def _first(case: Case) -> tuple[str, ...]:
    rush = " A rush order goes ahead of it." if case.plan.rush else ""
    return (f"Among real orders the earliest due date comes first, all ahead of the mix.{rush}",)


def _not_off(case: Case, id_: str) -> str:
    part = str(case.checked.resolved[case.scenario].raw("order", id_, "part"))
    why = [case.part(part).unmade] if any(one.id == part for one in case.plan.parts) else []
    return why[0] if why and why[0] else "It is not off within the weeks measured; measure more."


def _moment(case: Case, label: str, id_: str, key: str) -> Term:
    """A moment of an order in hours from the first Monday 00:00, as it was typed."""
    path = ("order", id_, key)
    given = case.checked.resolved[case.scenario].values[path]
    found = key_for(path)
    assert found is not None
    hours = found.kind.read(given.raw) / HOUR
    return Term(label, hours, "h", case.origin(*path), str(given.raw))


def _late(case: Case, of: Figure, id_: str, order: Ordered) -> Worked:
    due = _moment(case, "due", id_, "due")
    if case.plan.runs > 1:
        last_line = mean_of_runs(case, of)
    else:
        assert order.last_off is not None
        last = Term("last piece off", order.last_off, "h", f"see orders.{id_}.last_off")
        last_line = step(larger(0.0, last - due), "h")
    assert isinstance(of.value, float)
    return Worked(
        _MEANING["late_hours"],
        (last_line,),
        (*_first(case), *binds.limits(case)),
        tuple(_late_checks(case, of.value, order, due)),
    )


def _late_checks(case: Case, late: float, order: Ordered, due: Term) -> Iterator[Check]:
    assert order.last_off is not None
    last = Term("last piece off", order.last_off, "h", case.counted)
    yield check("Never less late than the last piece says.", last - due, "at least", late, "h")


def _order_checks(case: Case, id_: str, key: str, order: Ordered) -> Iterator[Check]:
    """No earlier than the order is at hand and its pieces are cut."""
    part = str(case.checked.resolved[case.scenario].raw("order", id_, "part"))
    ways = case.ways(part)
    if not ways:
        return
    group = min(ways, key=lambda name: ways[name].cycle)
    cycle = case.making(part, "cycle", f"cycle a piece of {part}", "min", group)
    arrives = _moment(case, "arrives", id_, "arrives")
    found = getattr(order, key)
    if key == "first_off":
        yield check(
            "It must be at hand, and one piece of it be cut.",
            arrives + cycle / 60,
            "at least",
            found,
            "h",
        )
        return
    pieces = case.given("pieces ordered", "pieces", "order", id_, "pieces")
    cut: Expr = pieces * cycle / 60 / case.machines(tuple(ways))
    yield check(
        "It must be at hand, and all its pieces be cut, by all machines that may make it at once.",
        arrives + cut,
        "at least",
        found,
        "h",
    )


FAMILIES = (Family(_figures, _account),)
