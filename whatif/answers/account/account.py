"""What an account of a figure consists of; texts and plain numbers that screens only lay out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from whatif.answers.account.terms import Expr, Term, plain

Value = float | tuple[float, float] | str | None

Relation = Literal["is", "at most", "at least", "about"]
"""How a pencil's result stands to the figure: the figure is it, is at most it, ..."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of the results.

    Attributes:
        id: its place in the JSON of ``compare``, below "simulated" where it is there.
        value: as there; two numbers for a range, a text for what is said in words.
        shown: the value with its unit, as the table of ``compare`` rounds it.
    """

    id: str
    title: str
    unit: str
    value: Value
    shown: str


@dataclass(frozen=True, slots=True)
class Step:
    """One line of arithmetic: in words, with its numbers, and what it gives."""

    formula: str
    numbers: str
    result: float
    shown: str
    terms: tuple[Term, ...]


@dataclass(frozen=True, slots=True)
class Check:
    """A check with a pencil: an identity or a bound that needs no simulation.

    Attributes:
        rule: what is reckoned, in words.
        relation: how the figure found stands to the step's result.
        found: what the results have, in the step's unit.
        slack: by how much the two may differ, and ``because`` why.
        holds: whether it comes out.
        source: where the rule is published, "" where it is plain arithmetic.
    """

    rule: str
    step: Step
    relation: Relation
    found: float
    shown: str
    slack: float
    because: str
    holds: bool
    source: str = ""


@dataclass(frozen=True, slots=True)
class Worked:
    """What a family knows of one of its figures.

    Attributes:
        meaning: what the figure is, in the words of a shop.
        steps: the last gives the figure, the last two the ends of a range; none where the figure
            is null, and ``binds`` says why.
        binds: what holds the figure where it is.
    """

    meaning: str
    steps: tuple[Step, ...] = ()
    binds: tuple[str, ...] = ()
    checks: tuple[Check, ...] = ()


@dataclass(frozen=True, slots=True)
class Account:
    """A figure accounted for; see :class:`Figure` and :class:`Worked`."""

    scenario: str
    title: str
    figure: Figure
    worked: Worked

    @property
    def terms(self) -> tuple[Term, ...]:
        """Every number of the steps once, in the order of their use."""
        return tuple(
            dict.fromkeys(term for step in self.worked.steps for term in step.terms if term.label)
        )


def amount(value: float | None, unit: str, digits: int = 1) -> str:
    """A figure as the tables round it, with its unit; a dash where there is none."""
    return "none" if value is None else f"{value:.{digits}f} {unit}".rstrip()


def step(expr: Expr, unit: str, digits: int | None = 1) -> Step:
    """A line of arithmetic; ``digits`` None shows as many as a pencil needs."""
    result = expr.value
    shown = f"{plain(result)} {unit}".rstrip() if digits is None else amount(result, unit, digits)
    return Step(expr.words(), expr.numbers(), result, shown, tuple(dict.fromkeys(expr.terms())))


def check(
    rule: str,
    expr: Expr,
    relation: Relation,
    found: float,
    unit: str,
    *,
    slack: float = 0.0,
    because: str = "",
    source: str = "",
    digits: int = 1,
) -> Check:
    """A check, with whether it comes out."""
    line = step(expr, unit, digits)
    # What floats make of whole seconds is no difference.
    room = slack + 1e-6 * max(1.0, abs(found))
    over = found - line.result
    holds = {
        "is": abs(over) <= room,
        "at most": over <= room,
        "at least": over >= -room,
        "about": True,
    }[relation]
    shown = amount(found, unit, digits)
    return Check(rule, line, relation, found, shown, slack, because if slack else "", holds, source)


def joined(words: Sequence[str]) -> str:
    """ "a", "a and b", "a, b and c"."""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
