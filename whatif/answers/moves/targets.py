"""What a break-even may be looked for: being level with the reference, or reaching a figure."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from whatif.answers.compare import Answer
from whatif.answers.moves.refused import Unanswerable
from whatif.study.draft import Draft
from whatif.study.resolve import resolve
from whatif.study.schema.catalogue import closest

_TRAILING = {"hours": ("h",), "pieces": ("pieces",), "met": ("%",), "payback": ("years", "year")}


@dataclass(frozen=True, slots=True)
class Target:
    """A figure to be reached.

    Attributes:
        kind: "gain" (the reference's saleable output), "hours", "pieces", "met" or "payback".
        amount: percent of gain, spindle hours a week, pieces a week, percent of demand, years.
        part: the part of "pieces"; of "met", or "" for the part furthest behind.
    """

    kind: str = "gain"
    amount: float = 0.0
    part: str = ""

    def margin(self, answer: Answer) -> float | None:
        """How far an answer is beyond the target, below 0 where it falls short; None if unknown.

        A payback that never comes is minus infinity.
        """
        figures = answer.figures
        if figures is None:
            return None
        if self.kind == "gain":
            return answer.gains.saleable
        if self.kind == "hours":
            return figures.spindle.total - self.amount
        if self.kind == "pieces":
            # A part that a value takes out is made no more.
            return figures.pieces.get(self.part, 0.0) - self.amount
        if self.kind == "met":
            met = figures.demand_met.get(self.part) if self.part else figures.least_met
            return None if met is None else met - self.amount
        money = answer.money
        if money is None:
            return None
        return -inf if money.payback_years is None else self.amount - money.payback_years


LEVEL = Target()
"""Level with the reference in saleable output."""


def read_target(text: str, draft: Draft, scenario: str) -> Target:
    """A target of a scenario as it is typed: "hours 80", "pieces body 1000", "payback 3".

    Raises :class:`~whatif.answers.moves.refused.Unanswerable`.
    """
    words = text.split()
    kind = words[0].lower() if words else ""
    if kind not in _TRAILING:
        raise Unanswerable("no target", text)
    rest = words[1:]
    if rest and rest[-1].lower() in _TRAILING[kind]:
        rest.pop()
    part = rest.pop(0) if len(rest) == 2 and kind in ("pieces", "met") else ""
    if len(rest) != 1 or (kind == "pieces" and not part):
        raise Unanswerable("no target", text)
    resolved = resolve(draft, scenario)
    parts = tuple(id_ for id_ in resolved.ids("part") if resolved.raw("part", id_, "weekly") != 0)
    if part and part not in parts:
        near = closest(part, parts)
        if near:
            raise Unanswerable("no such part, near", text, part, near)
        raise Unanswerable("no such part", text, part, ", ".join(parts))
    number = rest[0].removesuffix("%").removesuffix("h")
    if not number.replace(".", "", 1).isdigit() or not number.isascii() or float(number) <= 0:
        raise Unanswerable("no amount", text, rest[0])
    return Target(kind, float(number), part)
