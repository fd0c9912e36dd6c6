"""An input over a range, or two of them: where it stops paying (rule `moves.vary`)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import islice

from whatif.answers.answer import Answer
from whatif.answers.limits import is_all_met
from whatif.answers.moves.changing import Trials
from whatif.answers.moves.inputs import Input, Unanswerable, Value, find_input, place_of_value
from whatif.answers.moves.trial import (
    AskedAbout,
    Outcome,
    Point,
    Trial,
    betters,
    change_of,
    least_met,
    more,
    saleable,
    told_as_answered,
)
from whatif.answers.progress import Told, one_by_one
from whatif.answers.simulate import Simulate
from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.raw import Path, Raw

WORTH_TELLING = 1.0
"""Points of gain that more of an input may still bring where it is said to stop paying."""


@dataclass(frozen=True, slots=True)
class Curve:
    """A scenario's answers over the values of one input, in the order that they were given.

    Attributes:
        varied: the input, with what holds in the scenario as it stands.
        better: 1 where the last allowed value brings no less saleable output than the first, so
            that the order given is taken for the better way, else -1, the other way round; the
            next two go through the values that way.
        knee: place of the value from which on nothing better can be told from the likely range;
            None where that is only the last value tried (it still pays there, and nobody knows how
            far on), and where no two values can be told apart.
        beyond: points of gain by which a later value may still be better, at the upper end of the
            likely range of the difference; it stops paying at the knee only where that is
            nothing worth telling (see ``stops_paying``).
        met: place of the first value with which the demand of every part is met, None where
            there is none.
        met_is_clear: whether the draws tell it from all values before it.
        unmet: places after it at which the draws tell that less of the demand is met.
        is_flat: whether no two values can be told apart.
        falls, rises: whether the last value is clearly worse than the knee, and the first.
    """

    asked: AskedAbout
    varied: Input
    points: tuple[Point, ...]
    better: int
    knee: int | None
    beyond: float
    met: int | None
    met_is_clear: bool
    unmet: tuple[int, ...]
    is_flat: bool
    falls: bool
    rises: bool

    @property
    def stops_paying(self) -> bool:
        """Whether more of it brings nothing beyond the knee, as far as it is worth telling."""
        return self.knee is not None and self.beyond < WORTH_TELLING

    @property
    def now(self) -> int | None:
        """Place of the value that stands in the study; None where it is not among them."""
        return place_of_value([point.value for point in self.points], self.varied.now_value)

    def as_answered(self, answer: Answer | None) -> Curve:
        """The same where the study's own answer is known: told by it at the value that stands."""
        now = self.now
        if now is None:
            return self
        point = self.points[now]
        outcome = told_as_answered(point.outcome, self.asked, answer)
        if outcome is point.outcome:
            return self
        points = list(self.points)
        points[now] = replace(point, outcome=outcome)
        asked = replace(self.asked, is_answered_now=True)
        return replace(self, points=tuple(points), asked=asked)

    @property
    def way(self) -> tuple[int, ...]:
        """Places of the values that are allowed, the better way."""
        allowed = (i for i, point in enumerate(self.points) if not point.outcome.problem)
        return tuple(allowed)[:: self.better]


@dataclass(frozen=True, slots=True)
class Grid:
    """A scenario's answers over the values of two inputs.

    Attributes:
        outcomes: a row for each value of ``down``, in it one for each value of ``across``.
        best: row and column of the first that cannot be told from the largest saleable output of
            the scenario itself; None where no pair of values is allowed, or no two can be told
            apart.
        alike: how many others cannot be told from the largest either.
    """

    asked: AskedAbout
    down: Input
    across: Input
    values_down: tuple[Value, ...]
    values_across: tuple[Value, ...]
    outcomes: tuple[tuple[Outcome, ...], ...]
    best: tuple[int, int] | None
    alike: int

    @property
    def now(self) -> tuple[int, int] | None:
        """Row and column of what stands in the study; None where it is not among the values."""
        row = place_of_value(self.values_down, self.down.now_value)
        column = place_of_value(self.values_across, self.across.now_value)
        return None if row is None or column is None else (row, column)

    def as_answered(self, answer: Answer | None) -> Grid:
        """The same where the study's own answer is known: told by it at the values that stand."""
        if self.now is None:
            return self
        row, column = self.now
        outcome = self.outcomes[row][column]
        told = told_as_answered(outcome, self.asked, answer)
        if told is outcome:
            return self
        outcomes = [list(line) for line in self.outcomes]
        outcomes[row][column] = told
        asked = replace(self.asked, is_answered_now=True)
        return replace(self, outcomes=tuple(map(tuple, outcomes)), asked=asked)


def vary(
    draft: Draft,
    scenario: str,
    path: Path,
    values: Sequence[str],
    simulate: Simulate,
    told: Told,
) -> Curve:
    """Answer a scenario for each value of one of its inputs, given as texts.

    A value that is not allowed is told in its point. Raises
    :class:`~whatif.answers.moves.inputs.Unanswerable` where there is no such numeric input, a
    text is no number, or the study has problems.
    """
    trials = Trials(draft, scenario, simulate)
    input_ = find_input(draft, scenario, path)
    input_ = input_.in_unit_of(_first(values))
    asked_for = [input_.value(text) for text in values]
    trials.expect(1 if input_.is_money else len(asked_for))  # money runs no cell again
    tries = [input_.entering(value.text) for value in asked_for]
    # What is only money is tried at once, since it runs no cell again.
    each_try = map(trials.attempt, tries) if input_.is_money else _in_full(trials, tries)
    tried = [next(each_try) for _ in one_by_one(tries, told)]
    tried = _over_now(trials, tried, input_)
    better = _better(tried)
    way = [place for place, trial in enumerate(tried) if not trial.problem][::better]
    knee = _knee(tried, way)
    met = next((place for place in way if all_met(tried[place].outcome)), None)
    begun = len(way) if met is None else way.index(met)
    return Curve(
        asked=trials.asked,
        varied=input_,
        points=tuple(
            Point(value, trial.outcome) for value, trial in zip(asked_for, tried, strict=True)
        ),
        better=better,
        knee=knee,
        beyond=0.0 if knee is None else _beyond(tried, way[way.index(knee) :]),
        met=met,
        met_is_clear=met is not None
        and all(_meets_more(tried[met], tried[place]) for place in way[:begun]),
        unmet=tuple(
            place
            for place in way[begun + 1 :]
            if met is not None
            and not all_met(tried[place].outcome)
            and _meets_more(tried[met], tried[place])
        ),
        is_flat=_is_flat(tried, way),
        falls=knee is not None and betters(tried[knee], tried[way[-1]]),
        rises=knee is not None and betters(tried[knee], tried[way[0]]),
    )


def grid(
    draft: Draft,
    scenario: str,
    path_down: Path,
    values_down: Sequence[str],
    path_across: Path,
    values_across: Sequence[str],
    simulate: Simulate,
    told: Told,
) -> Grid:
    """Answer a scenario for each pair of values of two of its inputs; raises as :func:`vary`."""
    if path_down == path_across:
        raise Unanswerable("same input")
    trials = Trials(draft, scenario, simulate)
    down = find_input(draft, scenario, path_down).in_unit_of(_first(values_down))
    across = find_input(draft, scenario, path_across).in_unit_of(_first(values_across))
    rows = [down.value(text) for text in values_down]
    columns = [across.value(text) for text in values_across]
    pairs = [
        down.entering(row.text) | across.entering(column.text) for row in rows for column in columns
    ]
    trials.expect(len(pairs))
    each_try = _in_full(trials, pairs)
    tried = [next(each_try) for _ in one_by_one(pairs, told)]
    tried = _over_now(trials, tried, down, across)
    alike = _alike(tried)
    found = iter([trial.outcome for trial in tried])
    outcomes = [tuple(islice(found, len(columns))) for _ in rows]
    return Grid(
        asked=trials.asked,
        down=down,
        across=across,
        values_down=tuple(rows),
        values_across=tuple(columns),
        outcomes=tuple(outcomes),
        best=divmod(alike[0], len(columns)) if alike else None,
        alike=max(0, len(alike) - 1),
    )


def _in_full(trials: Trials, tries: Sequence[Mapping[Path, Raw]]) -> Iterator[Trial]:
    """Each try with its draws, all of which are compared."""
    return trials.attempt_each(tries, drawn=True)


def _over_now(trials: Trials, tried: list[Trial], *inputs: Input) -> list[Trial]:
    """The tries, where an input moves the reference too with that as it stands beside them."""
    moves = any(
        each.moved.is_in_reference and not (each.is_money or each.is_said) for each in inputs
    )
    if not moves or all(trial.problem for trial in tried):
        return tried
    over = trials.as_it_stands()
    return [replace(trial, over=over) for trial in tried]


def _first(values: Sequence[str]) -> str:
    if not values:
        raise Unanswerable("no value")
    return values[0]


# -- where it stops paying -----------------------------------------------------------------


def _better(tried: Sequence[Trial]) -> int:
    allowed = [trial for trial in tried if not trial.problem]
    return -1 if allowed and betters(allowed[0], allowed[-1]) else 1


def _knee(tried: Sequence[Trial], way: Sequence[int]) -> int | None:
    if _is_flat(tried, way):
        return None
    for step, place in enumerate(way[:-1]):
        if not any(betters(tried[later], tried[place]) for later in way[step + 1 :]):
            return place
    return None


def _is_flat(tried: Sequence[Trial], way: Sequence[int]) -> bool:
    """Whether no value can be told from the first."""
    first = tried[way[0]] if way else None
    return not any(
        betters(tried[place], first) or betters(first, tried[place])
        for place in way[1:]
        if first is not None
    )


def _beyond(tried: Sequence[Trial], later: Sequence[int]) -> float:
    """By how much one of the later values may be better than the first of them."""
    at, most = tried[later[0]], 0.0
    for place in later[1:]:
        found = more(tried[place], at)
        if found is not None:
            most = max(most, found.typed, found.likely[2] if found.likely else 0.0)
    return most


def all_met(outcome: Outcome) -> bool:
    """Whether every part's demand is met; False where nothing is due or is not allowed."""
    return is_all_met(outcome.least_met)


def _meets_more(here: Trial, there: Trial) -> bool:
    """Whether the draws tell that more of the demand is met with one try than with another."""
    found = change_of(here, there, least_met)
    return found is not None and found.typed > 0 and found.is_clear


def _alike(tried: Sequence[Trial]) -> list[int]:
    """Places that cannot be told from the largest output; none where that holds for all."""
    places = [place for place, trial in enumerate(tried) if trial.figure(saleable) is not None]
    if not places:
        return []
    # Where the reference makes nothing there is nothing to be over.
    of = [trial.figure(saleable) if trial.brings is None else trial.brings for trial in tried]
    most = max(places, key=lambda place: of[place] or 0.0)
    alike = [place for place in places if not betters(tried[most], tried[place])]
    return alike if len(alike) < len(places) or len(places) == 1 else []
