"""Alternatives made by pencil, to be held against each other.

Each stands for a line of figures: a percent of saleable output is worth 100 a year, five years are
counted, and nothing is discounted. So with likely gains of 10, 11 and 12 % and 1000 to lay out it
is worth 5 x 100 x 10 - 1000 = 4000, 4500 and 5000 today.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache

from answer_studies import CHILD, sound, today

from whatif.answers.answer import Answer
from whatif.answers.compare import compare_wholly
from whatif.answers.gains import Gains, Likely
from whatif.answers.money.missing import NO_LEANS, Lean, Missing, Thing
from whatif.answers.money.returns import Terms, returns_of
from whatif.answers.orders.orders import Ordered, OrderRun
from whatif.answers.verdict import Verdict, verdict_of
from whatif.cell.model import Cell
from whatif.plan.model import NotMade
from whatif.session.calculate.memory import Memory

PRICED = ("part.body.contribution = 9", "money.wage = 30", "machine.mill.price = 1000")


@cache
def _pair(*lines: str) -> tuple[Answer, Answer]:
    """A reference and another scenario that are really worked out."""
    memory = Memory()
    text = today(*lines) + CHILD + "machine.mill.count = 2\n"
    found = compare_wholly(sound(text), memory, memory.pause)
    return found.answers["today"], found.answers["child"]


def one(
    *gain: float,
    takes: float = 0.0,
    yearly: float = 0.0,
    hours: float = 0.0,
    lean: Lean = "none",
    years: float = 5,
    lines: object = PRICED,
) -> Answer:
    """An alternative with a likely gain; see the top for what it is worth.

    Args:
        yearly: paid a year more than in the reference, and taken off what a year brings.
        hours: paid a week more, whether they have a wage or not.
    """
    assert isinstance(lines, tuple)
    _, answer = _pair(*lines)
    low, middle, high = gain
    assert answer.held_back is not None
    answer = replace(
        answer,
        gains=Gains(saleable=middle),
        likely=Likely(saleable=(low, middle, high)),
        # Those of the two that are worked out are no others' draws.
        drawn=(),
        held_back=replace(answer.held_back, is_demand_met=False),
    )
    assert answer.figures is not None
    people = answer.figures.people
    figures = replace(answer.figures, people=replace(people, paid=people.paid + hours))
    answer = replace(answer, figures=figures)
    if answer.money is None:
        return answer
    terms = Terms(years, 0, 0)
    returns = returns_of(takes, 100 * middle - yearly, terms)
    money = replace(
        answer.money,
        year_gain=returns.year_gain,
        payback_years=returns.payback_years,
        net_present_value=returns.net_present_value,
        more_capital=takes,
        of_year=replace(answer.money.of_year, yearly=yearly),
        of_a_percent=100,
        terms=terms,
        not_priced=(),
        leans=replace(NO_LEANS, returns=lean),
    )
    return replace(answer, money=money)


def drawing(answer: Answer, drawn: Sequence[float]) -> Answer:
    """The same with its saleable gain in each draw."""
    return replace(answer, drawn=tuple(Gains(saleable=each) for each in drawn))


def beside(
    *, years: float = 5, lines: tuple[str, ...] = PRICED, **others: Answer
) -> Mapping[str, Answer]:
    """Alternatives beside the reference, "now"; those of one cell become ones of their own."""
    base, _ = _pair(*lines)
    others = apart(others)
    if base.money is not None:
        base = replace(base, money=replace(base.money, terms=Terms(years, 0, 0)))
    return {"now": base, **others}


def apart(others: Mapping[str, Answer]) -> dict[str, Answer]:
    """The same, where no two are one cell: nothing hangs on how far these may run ahead."""
    known: list[Cell] = []
    found = {}
    for at, (id_, answer) in enumerate(others.items()):
        cell = answer.plan.cell
        if cell is not None and cell in known:
            cell = replace(cell, run_ahead=cell.run_ahead + at)
            answer = replace(answer, plan=replace(answer.plan, cell=cell))
        if cell is not None:
            known.append(cell)
        found[id_] = answer
    return found


def judged(*, years: float = 5, lines: tuple[str, ...] = PRICED, **others: Answer) -> Verdict:
    return verdict_of(beside(years=years, lines=lines, **others), "now")


def for_nothing(answer: Answer, what: Thing) -> Answer:
    """The same with money that knows of something shorter for which nothing is laid out."""
    money = answer.money
    if money is None or money.more_capital:
        return answer
    leans = replace(money.leans, capital="worse", returns="worse")
    return replace(
        answer, money=replace(money, not_priced=(Missing(what, "body", 60),), leans=leans)
    )


def unmade(answer: Answer) -> Answer:
    (part,) = answer.plan.parts
    parts = (replace(part, unmade=NotMade("body", "no machine")),)
    return replace(answer, plan=replace(answer.plan, parts=parts))


def late(answer: Answer, *is_late: bool) -> Answer:
    orders = {
        str(at): Ordered(5, (OrderRun(1.0, 2.0, 0.0, each, pieces_late=0),))
        for at, each in enumerate(is_late)
    }
    return replace(answer, orders=orders)
