"""What one try brought, and how much more of a figure one try has than another.

Whether one try differs from another is told by the draws of the likely range, the same draws on
both sides (rule `moves.change`).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import field, replace
from functools import cached_property

from whatif.answers.answer import Answer, HoursSaid
from whatif.answers.caveats import Caveat
from whatif.answers.gains import (
    NO_GAIN,
    Gains,
    is_clear,
    is_difference,
    lies_outside,
    percent,
)
from whatif.answers.limits import HeldBack
from whatif.answers.money.money import MoneyFigures
from whatif.answers.money.returns import LikelyReturns
from whatif.answers.moves.inputs import Value
from whatif.answers.ranks import Range, difference_range, range_of_known
from whatif.plan.model import Worth
from whatif.records import dataclass
from whatif.study.problem import Problem


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one try brought; figures are a week's.

    Attributes:
        problem: why the value is not allowed, None where it is; then there are no figures.
        gains: percent against the reference; of the reference itself, against it as it stands.
        likely: the likely range of the saleable gain over the draws that were made; None where
            there are none.
        saleable: output that is wanted, in money or in the reference's cycle minutes.
        least_met: percent of the demand met of the part furthest behind; None where none is due.
        held_back: what holds it back; more pallets without more fixtures show here.
        caveats: what the gain rests on that is not so yet.
        itself, likely_itself: percent by which its own saleable output is above that of the
            reference as it stands, where the gain is over a reference that has been moved too; None
            elsewhere, where the gain is that.
    """

    problem: Problem | None = None
    gains: Gains = NO_GAIN
    likely: Range | None = None
    saleable: float | None = None
    spindle_hours: float | None = None
    pieces: Mapping[str, float] = field(default_factory=dict)
    demand_met: Mapping[str, float | None] = field(default_factory=dict)
    least_met: float | None = None
    money: MoneyFigures | None = None
    held_back: HeldBack | None = None
    said: HoursSaid | None = None
    caveats: tuple[Caveat, ...] = ()
    itself: float | None = None
    likely_itself: Range | None = None

    @property
    def over_now(self) -> Outcome:
        """The same with its gain over the reference as it stands: what is best is told by that."""
        if self.itself is None:
            return self
        gain = replace(self.gains, saleable=self.itself)
        return replace(self, gains=gain, likely=self.likely_itself)

    @property
    def is_clear(self) -> bool:
        """Whether its saleable gain is a difference that the likely range makes clear."""
        return is_difference(self.gains.saleable, self.likely)

    @property
    def is_outside(self) -> bool:
        """Whether its saleable gain as typed lies outside its own range, which then leads."""
        return lies_outside(self.gains.saleable, self.likely)

    @property
    def leading_gain(self) -> float | None:
        """The saleable gain as one number: the middle of its range where that leads."""
        if self.likely is not None and self.is_outside:
            return self.likely[1]
        return self.gains.saleable

    @property
    def likely_money(self) -> LikelyReturns | None:
        """What its money lies between, with the draws that were made."""
        if self.money is None:
            return None
        return self.money.likely(self.gains.saleable, self.likely)


@dataclass(frozen=True, slots=True)
class Point:
    """A value and what it brought."""

    value: Value
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class AskedAbout:
    """Which scenario was asked about, and how it was answered.

    Attributes:
        against: title of what it is held against.
        is_reference: whether that is the scenario itself as it stands.
        runs, of_runs: seeded runs used, and those of the study; both 1 without stops.
        draws, of_draws: draws of the likely range used, and those of the study.
        weeks: weeks measured.
        in_money: whether output is in money rather than in cycle minutes.
        is_metered: whether hour meters hold there, whose gap ranges here leave out.
        is_answered_now: whether the values that stand in the study are told by its own answer.
    """

    scenario: str
    title: str
    against: str
    is_reference: bool
    runs: int
    of_runs: int
    draws: int
    of_draws: int
    weeks: int
    in_money: bool
    is_metered: bool = False
    is_answered_now: bool = False


Figure = Callable[[Answer], float | None]


@dataclass(frozen=True, slots=True)
class Level:
    """The reference's saleable output as it stands, and what a piece is worth then.

    Attributes:
        saleable: None where the reference is not simulated.
        worth: None where output is in money: then it is what it brings as tried.
    """

    saleable: float | None
    worth: Worth | None

    def gain(self, answer: Answer) -> float | None:
        """Percent by which the own saleable output of an answer is above it."""
        figures = answer.figures
        if figures is None:
            return None
        if self.worth is None:
            return percent(figures.saleable, self.saleable)
        pieces = figures.counted.saleable.items()
        worth = {part: float(each) for part, each in self.worth.items()}
        return percent(sum(many * worth.get(part, 0.0) for part, many in pieces), self.saleable)


@dataclass(frozen=True, slots=True)
class AsItStands:
    """The reference as it stands: as entered, and in each draw."""

    typed: Level
    drawn: tuple[Level, ...]


@dataclass(frozen=True)
class Trial:
    """The scenario answered with other values in it.

    Attributes:
        answer: None where there is a problem.
        draw: makes the draws.
        by_few: whether these are fewer than the study has.
        over: the reference as it stands, where what is tried moves the reference too; then what a
            try brings is told by its own output over that, and else by its gain.
    """

    problem: Problem | None
    answer: Answer | None = None
    draw: Callable[[], tuple[Answer, ...]] = tuple
    by_few: bool = False
    over: AsItStands | None = None

    @cached_property
    def drawn(self) -> tuple[Answer, ...]:
        """The answer of each draw, made when first asked for."""
        return self.draw()

    def figure(self, of: Figure) -> float | None:
        """One figure of the answer."""
        return None if self.answer is None else of(self.answer)

    def likely(self, of: Figure) -> Range | None:
        """The likely range of a figure; None where there are no draws, or a draw has none."""
        return range_of_known([of(answer) for answer in self.drawn])

    @property
    def _likely_gain(self) -> Range | None:
        """The likely range of the gain; where draws are few it holds the gain as typed.

        A handful of draws all on one side of it would else lead, and tell another gain than the
        study's own range does.
        """
        return self._wide_enough(self.likely(saleable_gain), self.figure(saleable_gain))

    def _wide_enough(self, found: Range | None, typed: float | None) -> Range | None:
        if found is None or typed is None or not self.by_few:
            return found
        low, middle, high = found
        return min(low, typed), middle, max(high, typed)

    @property
    def brings(self) -> float | None:
        """What it brings over the reference as it stands, in percent of its saleable output."""
        if self.over is None:
            return self.figure(saleable_gain)
        return self.figure(self.over.typed.gain)

    @property
    def brings_in_draws(self) -> tuple[float | None, ...]:
        """The same in each draw."""
        if self.over is None:
            return tuple(map(saleable_gain, self.drawn))
        pairs = zip(self.over.drawn, self.drawn, strict=True) if self.drawn else ()
        return tuple(level.gain(answer) for level, answer in pairs)

    @property
    def outcome(self) -> Outcome:
        """The figures, and the likely range of the gain."""
        answer = self.answer
        if answer is None:
            return Outcome(self.problem)
        found = outcome_of(answer, self._likely_gain)
        itself = None if self.over is None else self.brings
        if itself is None:
            return found
        likely_itself = self._wide_enough(range_of_known(self.brings_in_draws), itself)
        return replace(found, itself=itself, likely_itself=likely_itself)


def outcome_of(answer: Answer, likely: Range | None) -> Outcome:
    """The figures of an answer, with the likely range that its gain is told with."""
    found = answer.figures
    return Outcome(
        gains=answer.gains,
        likely=likely,
        saleable=None if found is None else found.saleable,
        spindle_hours=None if found is None else found.spindle.total,
        pieces={} if found is None else found.pieces,
        demand_met={} if found is None else found.demand_met,
        least_met=None if found is None else found.least_met,
        money=answer.money,
        held_back=answer.held_back,
        said=answer.said,
        caveats=answer.caveats,
    )


def told_as_answered(outcome: Outcome, asked: AskedAbout, answer: Answer | None) -> Outcome:
    """What the values that stand in the study brought, with the figures of the study's own answer.

    One thing has one gain and one range, though tries have fewer draws. As it was tried where the
    answer has no range yet, and for the reference, which is held against itself here alone. What
    hour meters leave open is in the range of no other value, and so left out of this one too.
    """
    if answer is None or answer.likely is None or asked.is_reference or outcome.problem:
        return outcome
    range_ = answer.likely.saleable if asked.is_metered else answer.judged
    if range_ is None:
        return outcome
    found = outcome_of(answer, range_)
    if outcome.itself is None:
        return found
    # As it stands it is held against the reference as it stands both ways.
    return replace(found, itself=found.gains.saleable, likely_itself=found.likely)


def saleable(answer: Answer) -> float | None:
    """Saleable output of an answer."""
    return None if answer.figures is None else answer.figures.saleable


def least_met(answer: Answer) -> float | None:
    """Percent of the demand met of the part furthest behind."""
    return None if answer.figures is None else answer.figures.least_met


def saleable_gain(answer: Answer) -> float | None:
    """Saleable gain of an answer."""
    return answer.gains.saleable


@dataclass(frozen=True, slots=True)
class Change:
    """How much more of a figure one try has than another.

    Attributes:
        typed: as entered.
        likely: the likely range of the difference, taken draw by draw; None where it was not
            looked for, since there is none as entered, or where there are no draws.
    """

    typed: float
    likely: Range | None

    @property
    def is_clear(self) -> bool:
        """Whether it is there as entered and its range lies on that side of 0."""
        if not is_difference(self.typed, None):
            return False
        return self.likely is None or (is_clear(self.likely) and self.typed * self.likely[1] > 0)


def change_of(here: Trial, there: Trial, of: Figure = saleable_gain) -> Change | None:
    """How much more of a figure one try has than another; None where a side is missing."""
    return changed_by(
        here.figure(of),
        there.figure(of),
        lambda: zip(map(of, here.drawn), map(of, there.drawn), strict=True),
    )


def changed_by(
    figure: float | None,
    other: float | None,
    drawn: Callable[[], Iterable[tuple[float | None, float | None]]],
) -> Change | None:
    """How much more one figure is than another; ``drawn`` are both in each draw, if need be."""
    if figure is None or other is None:
        return None
    typed = figure - other
    if not is_difference(typed, None):
        return Change(typed, None)
    return Change(typed, difference_range(drawn()))


def more(here: Trial, there: Trial) -> Change | None:
    """How much more saleable output one try brings than another.

    In percent of the reference's as it stands; where that is nothing there is none, and it is the
    output.
    """
    found = changed_by(
        here.brings,
        there.brings,
        lambda: zip(here.brings_in_draws, there.brings_in_draws, strict=True),
    )
    return found or change_of(here, there, saleable)


def betters(here: Trial, there: Trial) -> bool:
    """Whether one try clearly brings more saleable output than another."""
    found = more(here, there)
    return found is not None and found.typed > 0 and found.is_clear


@dataclass(frozen=True, slots=True)
class Gained:
    """The saleable gain of a try alone.

    Attributes:
        problem: why the value is not allowed, None where it is.
        gain: None where a side is not simulated, or the reference makes nothing.
        saleable: the scenario's own saleable output, each piece worth what it is as it stands; None
            where it is not simulated.
    """

    problem: Problem | None
    gain: float | None = None
    saleable: float | None = None
