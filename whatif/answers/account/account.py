"""What an account of a figure consists of: formulas, numbers and checks, as data.

Sentences are made of it in `whatif.telling.account`.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from whatif.answers.account.origins import See
from whatif.answers.account.terms import Above, Expr, Origin, Term
from whatif.answers.answer import Answer
from whatif.answers.indicators import Indicator
from whatif.answers.limits import HeldBack, MayNot
from whatif.answers.money.money import MoneyFigures
from whatif.answers.ranks import Range
from whatif.cell.fit.fit import Limit
from whatif.plan.model import NotMade
from whatif.records import dataclass

Value = float | tuple[float, float] | Range | HeldBack | None

Relation = Literal["is", "at most", "at least", "about"]
"""How what is found stands to a pencil's result: it is that, is at most that, ..."""


@dataclass(frozen=True, slots=True)
class WorkedLine:
    """One line of arithmetic and the unit of what it gives.

    Attributes:
        digits: decimals that the result is shown with; None for as many as a pencil needs.
    """

    expr: Expr
    unit: str
    digits: int | None = 1

    @property
    def result(self) -> float:
        """What it gives."""
        return self.expr.value

    @property
    def terms(self) -> tuple[Term, ...]:
        """Every number in it once, from left to right."""
        return tuple(dict.fromkeys(self.expr.terms()))

    def term(self, label: str, unit: str) -> Term:
        """What it gives, as a number of another line."""
        return Term(label, self.result, unit, Above(self.expr))


@dataclass(frozen=True, slots=True)
class FitLimit:
    """A limit of a part on a machine group; `units` the study's, in which it is told."""

    limit: Limit
    part: str
    group: str
    units: str


@dataclass(frozen=True, slots=True)
class Note:
    """Something that is so, by an id for which `whatif.telling.account` has the sentence.

    Attributes:
        origin: where the first number is from, if that is told.
        of: what the sentence is made of, where that is more than names and numbers.
    """

    id: str
    names: tuple[str, ...] = ()
    numbers: tuple[float, ...] = ()
    origin: Origin | None = None
    of: HeldBack | MayNot | Answer | Indicator | MoneyFigures | NotMade | FitLimit | None = None


@dataclass(frozen=True, slots=True)
class Check:
    """A check with a pencil that needs no simulation and is not the figure's own formula.

    Attributes:
        id: what is reckoned; `whatif.telling.account` has the sentence, and what sort it is.
        relation: how ``found`` stands to the line's result.
        found: what the results have, in the line's unit.
        names: what the sentence is told with.
        slack: by how much the two may differ.
    """

    id: str
    line: WorkedLine
    relation: Relation
    found: Expr
    names: tuple[str, ...] = ()
    slack: float = 0.0

    @property
    def holds(self) -> bool:
        """Whether it comes out."""
        # What floats make of whole seconds is no difference.
        room = self.slack + 1e-6 * max(1.0, abs(self.found.value))
        over = self.found.value - self.line.result
        return {
            "is": abs(over) <= room,
            "at most": over <= room,
            "at least": over >= -room,
            "about": True,
        }[self.relation]


@dataclass(frozen=True, slots=True)
class Worked:
    """What a family knows of one of its figures.

    Attributes:
        lines: the last gives the figure, the last two or three those of a range; none where
            the figure is null, and ``notes`` say why.
        notes: what holds the figure where it is.
        unchecked: the id of why there is no check; "" where there is one, or nothing to check.
    """

    lines: tuple[WorkedLine, ...] = ()
    notes: tuple[Note, ...] = ()
    checks: tuple[Check, ...] = ()
    unchecked: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of the results.

    Attributes:
        id: its place in the JSON of ``compare``, below "simulated" where it is there.
        value: as in JSON; two or three numbers for a range, what is said in words as its facts.
        digits: decimals that it is shown with.
        key: which of its family it is: "late_hours" of "orders.big.late_hours".
        names: what the study names in its id, and what else its meaning is told with.
        likely, is_reference: of a gain, its likely range, and whether it is the reference's; a rush
            order at one hour has a range too.
        gain: of the likely range of a gain, that gain as typed.
    """

    id: str
    title: str
    unit: str
    value: Value
    digits: int = 1
    key: str = ""
    names: tuple[str, ...] = ()
    likely: Range | None = None
    is_reference: bool = False
    gain: float | None = None

    @property
    def theme(self) -> str:
        """What its id begins with."""
        return self.id.partition(".")[0]

    @property
    def is_gain(self) -> bool:
        """Whether it is a gain against the reference."""
        return self.theme == "gain_percent"

    @property
    def number(self) -> float:
        """The value of a figure that is one number."""
        assert isinstance(self.value, float)
        return self.value

    @property
    def term(self) -> Term:
        """It as a number that a check has found."""
        return Term(self.title, self.number, self.unit, See(self.id))

    def check(
        self,
        id_: str,
        relation: Relation,
        expr: Expr,
        *,
        names: tuple[str, ...] = (),
        slack: float = 0.0,
        digits: int | None = None,
    ) -> Check:
        """A check of it, in its own unit and, where not said otherwise, decimals."""
        line = WorkedLine(expr, self.unit, self.digits if digits is None else digits)
        return Check(id_, line, relation, self.term, names, slack)

    def worked(
        self,
        expr: Expr,
        said: Iterable[Note] = (),
        checks: Iterable[Check] = (),
        *,
        before: Iterable[WorkedLine] = (),
        without: str = "",
    ) -> Worked:
        """What is known of it: the line that gives it, and those before; notes and checks.

        ``without`` is the id of why there is no check, where there is none.
        """
        line, checks = WorkedLine(expr, self.unit, self.digits), tuple(checks)
        return Worked((*before, line), tuple(said), checks, "" if checks else without)


@dataclass(frozen=True, slots=True)
class Account:
    """A figure accounted for; ``rules`` are anchors of the rules of the cell that it follows."""

    scenario: str
    title: str
    figure: Figure
    worked: Worked
    rules: tuple[str, ...] = ()

    @property
    def terms(self) -> tuple[Term, ...]:
        """Every number of the lines once, in the order of their use."""
        return tuple(
            dict.fromkeys(term for line in self.worked.lines for term in line.terms if term.label)
        )


def nothing(why: str, *names: str) -> Worked:
    """The account of a figure that is null; ``why`` is the id of a note."""
    return Worked(notes=(Note(why, names),))
