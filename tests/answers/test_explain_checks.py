"""A check is no equation turned round: what a figure is made of can be such that it fails."""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterator
from functools import reduce

import pytest
from demos import DEMOS, checked, compared
from explain_studies import STUDIES, study
from lengths import first_of

from whatif.answers.account.account import Account, Check, WorkedLine
from whatif.answers.account.explain import explain, figures
from whatif.answers.account.origins import See
from whatif.answers.account.terms import Above, Expr, Joined, Plain, Term
from whatif.answers.answer import Comparison
from whatif.study.check.check import Checked

NAMES = [*STUDIES, *(path.stem for path in DEMOS)]

Moved = Callable[[float], float]
Name = tuple[str, float]

MOVES: tuple[Moved, ...] = (
    lambda number: 0.0,
    lambda number: 1e6 * number,
    lambda number: number + 1e7,
)
"""What may become of a number; none makes one less than nothing."""

SIGNS: dict[str, Callable[[float, float], float]] = {
    "+": operator.add,
    "-": operator.sub,
    "×": operator.mul,
    "/": operator.truediv,
    "^": operator.pow,
    "smaller": min,
    "larger": max,
}


class Accounts:
    """The accounts of a study, whose numbers can be followed to those that nothing explains."""

    def __init__(self, found: Comparison, by: Checked) -> None:
        self.found, self.by = found, by
        self._known: dict[tuple[str, str], Account] = {}

    def __iter__(self) -> Iterator[Account]:
        for scenario in self.found.answers:
            for figure in figures(self.found, self.by, scenario):
                yield self.of(scenario, figure.id)

    def of(self, scenario: str, figure: str) -> Account:
        at = (scenario, figure)
        if at not in self._known:
            self._known[at] = explain(self.found, self.by, scenario, figure)
        return self._known[at]

    def behind(self, term: Term, scenario: str) -> tuple[Expr, str] | None:
        """What a number is made of, and in which scenario; None where nothing explains it."""
        origin = term.origin
        if isinstance(origin, Above):
            return origin.line, scenario
        if not isinstance(origin, See):
            return None
        whose = self.found.reference if origin.there else scenario
        account = self.of(whose, origin.figure)
        if not account.worked.lines:
            return None
        return account.worked.lines[-1].expr, whose

    def name(self, term: Term) -> Name:
        """What a number is, whichever scenario's account it stands in."""
        titles = (answer.plan.title for answer in self.found.answers.values())
        label = term.label
        for title in titles:
            label = label.removesuffix(f", {title}")
        return label, round(term.number, 6)

    def names(self, expr: Expr, scenario: str) -> Iterator[Name]:
        """The numbers that an expression goes back to."""
        for term in expr.terms():
            behind = self.behind(term, scenario)
            if behind is None:
                yield self.name(term)
            else:
                yield from self.names(*behind)

    def value(self, expr: Expr, scenario: str, names: set[Name], moved: Moved) -> float:
        """What an expression gives when some numbers, wherever they stand, are others."""

        def of(part: Expr) -> float:
            return self.value(part, scenario, names, moved)

        match expr:
            case Plain():
                return expr.number
            case Term():
                behind = self.behind(expr, scenario)
                if behind is not None:
                    return self.value(*behind, names, moved)
                return moved(expr.number) if self.name(expr) in names else expr.number
            case Joined():
                return reduce(SIGNS[expr.sign], map(of, expr.items)) if expr.items else 0
        raise AssertionError(expr)

    def can_fail(self, account: Account, check: Check) -> bool:
        """Whether numbers of the figure's own lines, moved by themselves, break the check."""
        lines = account.worked.lines
        own = {name for line in lines for name in self.names(line.expr, account.scenario)}
        together = [{name} for name in own] + [own]
        return any(
            self._breaks(account, check, names, moved) for names in together for moved in MOVES
        )

    def _breaks(self, account: Account, check: Check, names: set[Name], moved: Moved) -> bool:
        try:
            found, pencil = (
                self.value(expr, account.scenario, names, moved)
                for expr in (check.found, check.line.expr)
            )
        except (ZeroDivisionError, OverflowError):
            return False
        over, room = found - pencil, check.slack + 1e-6 * max(1.0, abs(found))
        if check.relation == "is":
            return abs(over) > room
        return over > room if check.relation == "at most" else over < -room


@pytest.mark.parametrize("name", first_of(NAMES))
@pytest.mark.long
def test_no_check_is_the_equation_of_the_figure(name: str) -> None:
    all_ = Accounts(*(study(name) if name in STUDIES else (compared(name), checked(name))))
    turned_round = []
    for account in all_:
        own = {term for line in account.worked.lines for term in line.terms}
        for check in account.worked.checks:
            same = set(check.line.terms) == own
            # Of nothing a share is nothing, whatever else is moved.
            can_fail = not account.figure.value or check.relation == "about"
            if same or not (can_fail or all_.can_fail(account, check)):
                turned_round.append((account.scenario, account.figure.id, check.id))
    assert not turned_round


def test_an_equation_turned_round_is_found_out() -> None:
    """What is more than in the reference, over a hundredth of it, is the gain's own equation."""
    all_ = Accounts(*study("shop"))
    account = all_.of("cell", "gain_percent.output")
    last = account.worked.lines[-1]
    here, there = last.terms
    turned = WorkedLine((here - there) / (there / 100), "%")
    found = account.worked.checks[0].found
    assert not all_.can_fail(account, Check("", turned, "is", found))
    assert all_.can_fail(account, account.worked.checks[0])
