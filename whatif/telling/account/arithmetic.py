"""A line of arithmetic as it is worked on paper: what is added up below one another, then the sum.

saleable pieces × worth of one, added up over the parts
    6480  240 × 27
  + 2784  232 × 12
  ──────
  = 9264  EUR a week
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from whatif.answers.account.terms import Expr, Joined, Term, plain
from whatif.records import dataclass
from whatif.telling.account.sentences import is_alone, line_shown

if TYPE_CHECKING:
    from whatif.answers.account.account import WorkedLine

_RULED = "─"
_TWO_SIGNS = 2
"""Cells of a sign with a space behind it."""


@dataclass(frozen=True, slots=True)
class PaperRow:
    """A row: an amount under the others, its decimal point below theirs, and what it is.

    ``amount`` is "" where the row is only text.
    """

    text: str
    amount: str = ""


def on_paper(line: WorkedLine) -> list[PaperRow]:
    """The formula in words, its numbers, and what they give."""
    shown, _, unit = line_shown(line).partition(" ")
    found = [PaperRow(line.expr.words())]
    parts = _parts(line.expr)
    if len(parts) < _TWO_SIGNS or not _is_number(shown):
        if not is_alone(line):
            found.append(PaperRow(line.expr.numbers()))
        return [*found, PaperRow(unit, f"= {shown}")]
    amounts = _aligned([*(plain(part.value) for _, part in parts), shown])
    width = max(map(len, amounts))
    for (sign, part), amount in zip(parts, amounts, strict=False):
        found.append(PaperRow(_of(part), f"{sign} {amount:<{width}}"))
    found.append(PaperRow("", _RULED * (width + _TWO_SIGNS)))
    return [*found, PaperRow(unit, f"= {amounts[-1]:<{width}}")]


def _parts(expr: Expr) -> list[tuple[str, Expr]]:
    """What is added up or taken off, each with its sign; one where nothing is."""
    if not isinstance(expr, Joined) or expr.sign not in ("+", "-") or len(expr.items) < _TWO_SIGNS:
        return [(" ", expr)]
    first, *others = expr.items
    begin = [(" ", first)] if isinstance(first, Joined) and first.said else _parts(first)
    return [*begin, *((expr.sign, other) for other in others)]


def _of(part: Expr) -> str:
    """What an amount is: a number of the study by its name, else how it is worked out."""
    if isinstance(part, Term):
        return f"{part.unit}  {part.label}".strip()
    return part.numbers()


def _is_number(text: str) -> bool:
    return text.strip("+-").replace(".", "", 1).isdigit()


def _aligned(texts: Sequence[str]) -> list[str]:
    """Numbers with their decimal points below one another."""
    before = max(len(text.partition(".")[0]) for text in texts)
    return [" " * (before - len(text.partition(".")[0])) + text for text in texts]
