"""Asks what moves a scenario: its inputs ranked, a curve over one of them, a table of two."""

from __future__ import annotations

from dataclasses import dataclass

from whatif.answers.moves.break_even import BreakEven, break_even
from whatif.answers.moves.inputs import Unanswerable, find_input
from whatif.answers.moves.sensitivity import Ranking, sensitivity
from whatif.answers.moves.targets import LEVEL, Target
from whatif.answers.moves.vary import Curve, Grid, grid, vary
from whatif.session.calculate.requests import Material, Question
from whatif.study.raw import Path


@dataclass(frozen=True, slots=True)
class NoAnswer:
    """Why there is nothing to show, in words."""

    why: str


@dataclass(frozen=True, slots=True)
class CurveFound:
    """A curve, and where it is level with the reference; None where that was not looked for."""

    curve: Curve
    level: BreakEven | None


@dataclass(frozen=True, slots=True)
class RankingOf(Question):
    """The inputs of a scenario by what they do to its gain; what is known so far is told."""

    scenario: str

    def work_out(self, material: Material) -> Ranking | NoAnswer:
        """All inputs ranked."""
        try:
            return sensitivity(
                material.draft, self.scenario, material.simulate, material.told, material.partly
            )
        except Unanswerable as fault:
            return NoAnswer(str(fault))


@dataclass(frozen=True, slots=True)
class CurveOf(Question):
    """A scenario over the values of one input, given as texts."""

    scenario: str
    path: Path
    values: tuple[str, ...]

    def work_out(self, material: Material) -> CurveFound | NoAnswer:
        """The curve first, since the search for the break-even finds its runs remembered."""
        try:
            curve = vary(
                material.draft,
                self.scenario,
                self.path,
                self.values,
                material.simulate,
                material.told,
            )
        except Unanswerable as fault:
            return NoAnswer(str(fault))
        material.partly(CurveFound(curve, None))
        target = self._target(material)
        if target == LEVEL and curve.asked.is_reference:
            return CurveFound(curve, None)
        return CurveFound(curve, self._level(material, target))

    def _target(self, material: Material) -> Target:
        """Level with the reference; for what only money depends on, paid back in the years."""
        prices = material.found.answers[self.scenario].plan.prices
        one = find_input(material.draft, self.scenario, self.path)
        if prices is None or not one.is_money or one.key.name == "contribution":
            return LEVEL
        return Target("payback", float(prices.years))

    def _level(self, material: Material, target: Target) -> BreakEven | None:
        span = f"{self.values[0]}..{self.values[-1]}"
        try:
            return break_even(
                material.draft,
                self.scenario,
                self.path,
                target,
                material.simulate,
                material.told,
                span,
            )
        except Unanswerable:
            return None  # the curve says what there is to say


@dataclass(frozen=True, slots=True)
class GridOf(Question):
    """A scenario over the values of two inputs, given as texts."""

    scenario: str
    down: Path
    values_down: tuple[str, ...]
    across: Path
    values_across: tuple[str, ...]

    def work_out(self, material: Material) -> Grid | NoAnswer:
        """A row for each value of the first."""
        try:
            return grid(
                material.draft,
                self.scenario,
                self.down,
                self.values_down,
                self.across,
                self.values_across,
                material.simulate,
                material.told,
            )
        except Unanswerable as fault:
            return NoAnswer(str(fault))
