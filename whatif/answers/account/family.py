"""A family: figures of one place in the results, and how each is accounted for.

Adding a family here means one entry in the list of :mod:`whatif.answers.account.explain`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from whatif.answers.account.account import Figure, Step, Value, Worked, amount, step
from whatif.answers.account.case import Case
from whatif.answers.account.terms import Term


@dataclass(frozen=True, slots=True)
class Family:
    """Figures of one theme.

    Attributes:
        figures: those that a scenario has, with their values.
        account: what there is to say of one of them.
    """

    figures: Callable[[Case], Iterable[Figure]]
    account: Callable[[Case, Figure], Worked]


def figure(id_: str, title: str, unit: str, value: Value, digits: int = 1) -> Figure:
    """A figure that is a number, a range, a text or nothing."""
    if isinstance(value, tuple):
        shown = f"{value[0]:.{digits}f} to {value[1]:.{digits}f} {unit}".rstrip()
    elif isinstance(value, str):
        shown = value
    else:
        shown = amount(value, unit, digits)
    return Figure(id_, title, unit, value, shown)


def nothing(meaning: str, why: str) -> Worked:
    """The account of a figure that is null."""
    return Worked(meaning, binds=(why,))


def mean_of_runs(case: Case, of: Figure) -> Step:
    """A figure that each seeded run has for itself, and of which the mean is shown."""
    assert isinstance(of.value, float)
    runs = case.plan.runs
    total = Term(f"sum of it over the {runs} runs", runs * of.value, of.unit, "counted run by run")
    return step(total / case.head("runs", "seeded runs", runs), of.unit)
