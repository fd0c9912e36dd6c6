"""The value of an input at which a target is reached (rule `moves.break-even`).

A target is being level with the reference, a gain over it, or a figure.

A cell is a queue of whole pieces, loads, people and shifts, so what it reaches is no smooth
function of any input: it stands still over a stretch and jumps by a load, and now and then a
better value brings less. A crossing is therefore a place between two neighbouring values tried,
one of which reaches the target while the other does not, with nothing between them worth telling
apart. Each that the coarse scan shows is told; two crossings between two neighbouring values of
the scan cancel out and are not seen, except with counts, of which every one is tried where there
are no more than :data:`EVERY` of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil, floor, inf, isfinite

from whatif.answers.answer import Answer
from whatif.answers.caveats import Caveat
from whatif.answers.gains import is_clear
from whatif.answers.limits import is_all_met
from whatif.answers.money.returns import standing_of
from whatif.answers.moves.changing import Trials
from whatif.answers.moves.inputs import HOUR, Input, Unanswerable, Value, find_input
from whatif.answers.moves.ranges import read_ends
from whatif.answers.moves.trial import AskedAbout, Outcome, Trial
from whatif.answers.progress import Told, one_by_one
from whatif.answers.simulate import Simulate
from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.problem import Problem
from whatif.study.raw import Path, Raw
from whatif.study.refused import NoneAllowed
from whatif.study.resolve import resolve
from whatif.study.schema.catalogue import closest

# -- what may be reached -------------------------------------------------------------------

_TRAILING = {
    "hours": ("h",),
    "pieces": ("pieces",),
    "met": ("%",),
    "payback": ("years", "year"),
    "said": ("h",),
}


_BARE = re.compile(r"\+?(\d{1,9}(?:\.\d{1,9})?) ?%?", re.ASCII)
"""A percentage alone."""


@dataclass(frozen=True, slots=True)
class Target:
    """A figure to be reached.

    Attributes:
        kind: "gain" (saleable output over the reference's), "hours", "pieces", "met",
            "payback", "said".
        amount: percent of gain, spindle hours a week, pieces a week, percent of demand, years,
            hours a day that are said.
        part: the part of "pieces"; of "met", or "" for the part furthest behind.
    """

    kind: str = "gain"
    amount: float = 0.0
    part: str = ""

    def margin(self, answer: Answer) -> float | None:
        """How far an answer is beyond the target, below 0 where it falls short; None if unknown.

        A payback that never comes is minus infinity.
        """
        if self.kind == "said":
            return None if answer.said is None else answer.said.hours_per_day - self.amount
        figures = answer.figures
        if figures is None:
            return None
        if self.kind == "gain":
            gain = answer.gains.saleable
            return None if gain is None else gain - self.amount
        if self.kind == "hours":
            return figures.spindle.total - self.amount
        if self.kind == "pieces":
            # A part that a value takes out is made no more.
            return figures.pieces.get(self.part, 0.0) - self.amount
        if self.kind == "met":
            met = figures.demand_met.get(self.part) if self.part else figures.least_met
            # What is told as all of it reaches 100 percent of it.
            reached = max(met, 100.0) if met is not None and is_all_met(met) else met
            return None if reached is None else reached - self.amount
        money = answer.money
        if money is None:
            return None
        return -inf if money.payback_years is None else self.amount - money.payback_years


LEVEL = Target()
"""Level with the reference in saleable output."""


def read_target(text: str, draft: Draft, scenario: str) -> Target:
    """A target of a scenario as it is typed: "gain 25", "hours 80", "pieces body 1000".

    A bare percentage, "25" or "+25 %", is a gain.

    Raises :class:`~whatif.answers.moves.inputs.Unanswerable`.
    """
    is_gain, _, gain = text.strip().partition(" ")
    if _BARE.fullmatch(text.strip()):
        return Target("gain", read_percent(text))
    if is_gain.lower() == "gain" and gain:
        return Target("gain", read_percent(gain))
    resolved = resolve(draft, scenario)
    parts = tuple(id_ for id_ in resolved.ids("part") if resolved.raw("part", id_, "weekly") != 0)
    example = parts[0] if parts else "PART"
    words = text.split()
    kind = words[0].lower() if words else ""
    if kind not in _TRAILING:
        raise Unanswerable("no target", text, example)
    rest = words[1:]
    if rest and rest[-1].lower() in _TRAILING[kind]:
        rest.pop()
    part = rest.pop(0) if len(rest) == 2 and kind in ("pieces", "met") else ""
    if len(rest) != 1 or (kind == "pieces" and not part):
        raise Unanswerable("no target", text, example)
    if part and part not in parts:
        near = closest(part, parts)
        if near:
            raise Unanswerable("no such part, near", text, part, near)
        raise Unanswerable("no such part", text, part, ", ".join(parts))
    number = rest[0].removesuffix("%").removesuffix("h")
    if not number.replace(".", "", 1).isdigit() or not number.isascii() or float(number) <= 0:
        raise Unanswerable("no amount", text, example, rest[0])
    return Target(kind, float(number), part)


def read_percent(text: str) -> float:
    """A gain as it is typed alone: "25", "+25 %"."""
    found = _BARE.fullmatch(text.strip())
    if not found or not float(found[1]):
        raise Unanswerable("no percentage", text)
    return float(found[1])


# -- where it is reached -------------------------------------------------------------------

EVERY = 200
"""Counts that are all tried, one by one."""

SCAN = 20
"""Steps of the coarse scan of other inputs."""

HALF_AN_HOUR, _CLOCK_SCAN = HOUR / 2, 48
"""Times of day are scanned by the half hour."""

_BEFORE, _BEYOND = 4 * HOUR, 8 * HOUR
"""How far before and after what holds now times of day are looked at."""

_COUNTS, _TIMES = 20, 4
"""Where nothing limits an input, the range looked at: so many counts, or so many times what holds
now."""


@dataclass(frozen=True, slots=True)
class Crossing:
    """A place where reaching the target begins or ends, or some with nothing clear between them.

    Attributes:
        at: the value next to the (first) place that still, or already, reaches the target.
        beside: the value on the other side of the place, which does not.
        upward: whether larger values reach it and smaller do not.
        margin: by how much ``at`` is beyond the target, in the target's unit.
        below, above: the nearest values tried on either side with which it is clear from the
            likely range whether the target is reached; None where there is none.
        times: how many places there are between these, as entered.
        is_clear: whether the target is clearly reached on one side, and clearly not on the other.
    """

    at: Value
    beside: Value
    upward: bool
    margin: float
    below: Value | None
    above: Value | None
    times: int
    is_clear: bool


@dataclass(frozen=True, slots=True)
class BreakEven:
    """Where a scenario reaches a target.

    Attributes:
        low, high: the range looked at; values in it that are not allowed are passed over.
        always: True where every value tried reaches the target, False where none does, None where
            some do.
        nearest: the value that comes nearest to the target where none reaches it.
        in_doubt: where all reach it, or none, the value nearest to the target, if the draws do not
            tell that of it.
        tried: values tried.
        margin: of the value that is furthest beyond the target, or comes nearest to it, in the
            target's unit.
        jumps: whether what the input moves goes in jumps; amounts of money do not.
        caveats: what the gain rests on as the scenario stands that is not so yet.
    """

    asked: AskedAbout
    varied: Input
    target: Target
    low: Value
    high: Value
    crossings: tuple[Crossing, ...]
    always: bool | None
    nearest: Value | None
    tried: int
    margin: float
    jumps: bool
    caveats: tuple[Caveat, ...] = ()
    in_doubt: Value | None = None


def break_even(
    draft: Draft,
    scenario: str,
    path: Path,
    target: Target,
    simulate: Simulate,
    told: Told,
    span: str = "",
) -> BreakEven:
    """Look for the values of an input at which a target is reached.

    A range is scanned and each change between two neighbouring values halved until the two are
    the finest step of the input apart.

    Args:
        target: :data:`~whatif.answers.moves.break_even.LEVEL` for being level with the reference.
        span: the range to look at as typed, FROM..TO; "" for what is allowed, where that has an
            upper end of no more than :data:`EVERY`, and else for what lies about the value now.

    Raises:
        Unanswerable: there is no such numeric input, range or figure, or no value is allowed.
    """
    trials = Trials(draft, scenario, simulate)
    input_ = find_input(draft, scenario, path)
    if target == LEVEL and trials.asked.is_reference:
        raise Unanswerable("level with itself", trials.asked.title)
    input_, low, high = read_ends(input_, span) if span else (input_, *_usual_ends(input_))
    amounts = _scan(input_, low, high)
    trials.expect(1 if input_.is_money else len(amounts))  # money runs no cell again
    search = _Search(trials, input_, target)
    each_place = search.each(amounts)
    tried = [next(each_place) for _ in one_by_one(amounts, told)]
    places = [place for place in tried if place is not None]
    if not places and search.why_none is not None:
        raise Unanswerable(NoneAllowed(input_.dotted, search.why_none))
    found = []
    for place, (here, there) in enumerate(pairwise(places)):
        if here.reached != there.reached:
            # The bar stays at its end: how many halvings there will be is not known before.
            told(len(amounts), len(amounts))
            found.append((place, search.halved(here, there)))
    crossings = search.told_apart(places, found)
    reached = {place.reached for place in places}
    best = _best(places, input_.amount)
    always = None if len(reached) > 1 else reached.pop()
    doubted = None if always is None else search.in_doubt(places)
    return BreakEven(
        asked=trials.asked,
        varied=input_,
        target=target,
        low=search.value(places[0]),
        high=search.value(places[-1]),
        crossings=tuple(crossings),
        always=always,
        nearest=None if best.reached else search.value(best),
        tried=search.tried,
        margin=best.margin,
        jumps=not input_.is_money,
        caveats=trials.caveats(),
        in_doubt=None if doubted is None else search.value(doubted),
    )


def _best(places: Sequence[_Place], now: Fraction | None) -> _Place:
    """The place furthest beyond the target, or that comes nearest to it.

    Of those that come as near, by what shows of it, the one nearest to what holds now.
    """
    most = max(place.margin for place in places)
    alike = [place for place in places if place.margin >= most - _ALIKE]
    return alike[0] if now is None else min(alike, key=lambda place: abs(place.amount - now))


_ALIKE = 0.05
"""Of a target's unit that would be shown as nothing."""


# -- the search ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Place:
    """A value tried, in base units, and how far it is beyond the target."""

    amount: Fraction
    margin: float
    trial: Trial

    @property
    def reached(self) -> bool:
        return self.margin >= 0


_Halved = tuple[_Place, _Place]
"""The place next to a crossing that reaches the target, and the one beside it that does not."""


class _Search:
    """Tries values and finds the places where reaching the target begins or ends."""

    def __init__(self, trials: Trials, input_: Input, target: Target) -> None:
        self._trials, self._input, self._target = trials, input_, target
        self.tried = 0
        self.why_none: Problem | None = None

    def value(self, place: _Place) -> Value:
        return self._input.value(self._input.write(place.amount))

    def place(self, amount: Fraction) -> _Place | None:
        """A value tried; None where it is not allowed."""
        return self._placed(amount, self._trials.attempt(self._entering(amount)))

    def each(self, amounts: Sequence[Fraction]) -> Iterator[_Place | None]:
        """Each of many values tried, in their order."""
        tries = [self._entering(amount) for amount in amounts]
        if self._input.is_money:
            # What is only money runs no cell again.
            found: Iterator[Trial] = map(self._trials.attempt, tries)
        else:
            found = self._trials.attempt_each(tries, drawn=False)
        return map(self._placed, amounts, found)

    def _entering(self, amount: Fraction) -> Mapping[Path, Raw]:
        return self._input.entering(self._input.write(amount))

    def _placed(self, amount: Fraction, trial: Trial) -> _Place | None:
        self.tried += 1
        if trial.problem:
            self.why_none = trial.problem
            return None
        return _Place(amount, self._margin(trial), trial)

    def halved(self, here: _Place, there: _Place) -> _Halved:
        """Halve what lies between a value that reaches the target and one that does not."""
        finest = self._input.finest
        while there.amount - here.amount > finest:
            steps = (there.amount - here.amount) / finest
            middle = self.place(here.amount + max(1, floor(steps / 2)) * finest)
            if middle is None:
                break
            here, there = (middle, there) if middle.reached == here.reached else (here, middle)
        return (there, here) if there.reached else (here, there)

    def told_apart(
        self, places: Sequence[_Place], found: Sequence[tuple[int, _Halved]]
    ) -> tuple[Crossing, ...]:
        """The crossings, each after a place of the scan, those in one unclear stretch as one."""
        if self._input.is_money and self._target.kind == "payback":
            # Amounts of money run no cell again; they are known as they are entered.
            return tuple(
                self._crossing(halved, *self._ends(halved), 1)
                if self._is_clear(halved[0])
                else self._crossing(halved, None, None, 1)
                for _, halved in found
            )
        groups: list[tuple[_Place | None, _Place | None, list[_Halved]]] = []
        for number, (place, halved) in enumerate(found):
            until = found[number + 1][0] if number + 1 < len(found) else len(places) - 1
            before = found[number - 1][0] + 1 if number else 0
            # Of a stretch between two crossings what is nearest to either is looked at first.
            below = self._first_clear(places[before : place + 1][::-1])
            above = self._first_clear(places[place + 1 : until + 1])
            if groups and below is None and groups[-1][1] is None:
                first, _, so_far = groups.pop()
                groups.append((first, above, [*so_far, halved]))
            else:
                groups.append((below, above, [halved]))
        return tuple(
            self._crossing(halves[0], below, above, len(halves)) for below, above, halves in groups
        )

    def _ends(self, halved: _Halved) -> _Halved:
        at, beside = halved
        return (beside, at) if at.amount > beside.amount else (at, beside)

    def _crossing(
        self, halved: _Halved, below: _Place | None, above: _Place | None, times: int
    ) -> Crossing:
        at, beside = halved
        both = below is not None and above is not None and below.reached != above.reached
        return Crossing(
            at=self.value(at),
            beside=self.value(beside),
            upward=above.reached if both and above else at.amount > beside.amount,
            margin=at.margin,
            below=None if below is None else self.value(below),
            above=None if above is None else self.value(above),
            times=times,
            is_clear=both,
        )

    def in_doubt(self, places: Sequence[_Place]) -> _Place | None:
        """The place nearest to the target, if the draws leave open on which side of it that is."""
        nearest = min(places, key=lambda place: abs(place.margin))
        if not isfinite(nearest.margin):
            return None
        return None if self._is_clear(nearest) else nearest

    def _first_clear(self, places: Sequence[_Place]) -> _Place | None:
        return next((place for place in places if self._is_clear(place)), None)

    def _is_clear(self, place: _Place) -> bool:
        """Whether the draws tell what the value as entered does."""
        if self._target.kind == "payback" and _has_no_payback(place.trial.outcome):
            return False
        found = place.trial.likely(self._target.margin)
        if found is None:
            return True  # nothing is known to be otherwise
        if place.reached:
            return found[0] >= 0
        return is_clear(found) and found[2] < 0

    def _margin(self, trial: Trial) -> float:
        margin = trial.figure(self._target.margin)
        if margin is None:
            raise _no_figure(self._target, self._trials.asked)
        return margin


def _has_no_payback(outcome: Outcome) -> bool:
    """Whether a year's gain is no clear difference, of which no payback is told."""
    money = outcome.money
    return money is not None and standing_of(money.year_gain, outcome.likely_money) == "unclear"


def _no_figure(target: Target, asked: AskedAbout) -> Unanswerable:
    if target.kind == "payback":
        return Unanswerable("no contribution")
    if target.kind == "met":
        return Unanswerable("nothing due")
    if target.kind == "said":
        return Unanswerable("nothing said", asked.title)
    return Unanswerable("no saleable output", asked.against)


def _usual_ends(input_: Input) -> tuple[Fraction, Fraction]:
    """What is looked at where no range is typed."""
    least, most, now = input_.least, input_.most, input_.amount or Fraction(0)
    if input_.is_clock:
        return max(least, now - _BEFORE), now + _BEYOND if most is None else min(
            most, now + _BEYOND
        )
    if input_.whole:
        least = input_.least_kept  # none at all is another question
        about = max(Fraction(_COUNTS), 2 * now)
        return least, about if most is None else min(most, about)
    if most is not None:
        return least, most
    if not now:
        most_tried = input_.write(10 * input_.worth)
        raise Unanswerable("where to look", input_.dotted, input_.write(least), most_tried)
    return (now / _TIMES if least else least), _TIMES * now


def _scan(input_: Input, low: Fraction, high: Fraction) -> list[Fraction]:
    """Every count, or about twenty values on the grid of finest steps, both ends included."""
    if input_.whole and high - low < EVERY:
        return [low + place for place in range(int(high - low) + 1)]
    if input_.is_clock:
        step = max(input_.finest, ceil((high - low) / _CLOCK_SCAN / HALF_AN_HOUR) * HALF_AN_HOUR)
    else:
        step = _even_step(input_, low, high)
    values = [low + place * step for place in range(ceil((high - low) / step))]
    return [*values, high]


def _even_step(input_: Input, low: Fraction, high: Fraction) -> Fraction:
    return max(input_.finest, floor((high - low) / SCAN / input_.finest) * input_.finest)
