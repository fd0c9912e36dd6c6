"""Every input up and down by a tenth, ranked by its effect (rule `moves.sensitivity`)."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from whatif.answers.gains import differs
from whatif.answers.moves.changing import (
    AskedAbout,
    Trial,
    Trials,
    difference,
    saleable_gain,
)
from whatif.answers.moves.inputs import Input, Unanswerable, Value, input_of
from whatif.answers.progress import Told, one_by_one
from whatif.answers.running import Simulate
from whatif.study.check.check import Checked, check
from whatif.study.draft import Draft
from whatif.study.problem import Problem
from whatif.study.raw import Path
from whatif.study.resolve import Source
from whatif.study.schema.catalogue import Key, key_for
from whatif.units import Dimension

TENTH = Fraction(1, 10)

_Nothing: TypeAlias = tuple[tuple[str, tuple[str, ...]], ...]
"""Labels of inputs that are assumed to be 0, each with the ids of the things."""

_WORK = frozenset({"handling", "machine", "part"})
_SHARES_OF_WORK = frozenset({Dimension.TIME, Dimension.PERCENT})
"""Where an assumed 0 means that nobody has measured it: times and shares of the work itself."""


@dataclass(frozen=True, slots=True)
class Side:
    """An input moved one way.

    Attributes:
        change: of the saleable gain, in percentage points (of the reference's own saleable
            output, in percent); None where there is a problem.
        tolerance: points below which a change is no difference.
    """

    value: Value
    change: float | None
    tolerance: float
    problem: Problem | None

    @property
    def is_difference(self) -> bool:
        """Whether the change is not smaller than what is tolerated."""
        return differs(self.change, self.tolerance)


@dataclass(frozen=True, slots=True)
class Effect:
    """What an input does to the gain.

    Attributes:
        down, up: the input a tenth smaller and larger (counts: by one); None where that is not
            allowed.
        most: size of the larger change that is a difference; 0 where neither is.
    """

    input: Input
    down: Side | None
    up: Side | None
    most: float

    @property
    def now(self) -> Value:
        """What holds now."""
        now = self.input.now_value
        assert now is not None  # or it would not be among the inputs that are moved
        return now


@dataclass(frozen=True, slots=True)
class Ranking:
    """All inputs of a scenario, the one that moves the gain most first.

    Of equal effects the first in the sheet is first; those that are no difference come last.

    Attributes:
        assumed_nothing: times and shares that are assumed to be 0 and so could not be moved by a
            tenth, as (label, ids of the things).
    """

    asked: AskedAbout
    effects: tuple[Effect, ...]
    assumed_nothing: _Nothing

    @property
    def moving(self) -> tuple[Effect, ...]:
        """Those that make a difference."""
        return tuple(effect for effect in self.effects if effect.most)


def _nobody(found: Ranking) -> None:
    """Nobody waits for a part of it."""


def sensitivity(
    draft: Draft,
    scenario: str,
    simulate: Simulate,
    told: Told,
    partly: Callable[[Ranking], None] = _nobody,
) -> Ranking:
    """Move every numeric input of a scenario that is used there.

    Inputs that cannot move output are left out: what is said, prices and rates, floor, what is
    only warned of. So is what is 0 or not given, a tenth of which is nothing, and the step to
    the 0 that takes a thing out, which is another question. ``partly`` takes, before each input,
    what those before it do. Raises
    :class:`~whatif.answers.moves.inputs.Unanswerable` where there is no gain to look at.
    """
    trials = Trials(draft, scenario, simulate)
    checked = check(draft)
    resolved = checked.resolved[scenario]
    inputs = [
        input_
        for path, key in _movable(checked, scenario)
        if (input_ := input_of(draft, resolved, path, key)).amount
    ]
    trials.expect(2 * len(inputs))
    base = trials.attempt({})
    if base.figure(saleable_gain) is None:
        raise Unanswerable("no gain", trials.asked.against)
    nothing = _assumed_nothing(checked, scenario)
    effects: list[Effect] = []
    for input_ in one_by_one(inputs, told):
        if effects:
            partly(_ranked(trials.asked, effects, nothing))
        effects.append(_effect(trials, base, input_))
    return _ranked(trials.asked, effects, nothing)


def _ranked(asked: AskedAbout, effects: list[Effect], nothing: _Nothing) -> Ranking:
    ranked = sorted(effects, key=lambda effect: -effect.most)
    return Ranking(asked, tuple(ranked), nothing)


def _movable(checked: Checked, scenario: str) -> Iterator[tuple[Path, Key]]:
    for path in checked.resolved[scenario].values:
        key = key_for(path)
        if key is None or not key.kind.numeric or not key.says.ranked:
            continue
        if checked.unused.why(scenario, path) is None:
            yield path, key


def _effect(trials: Trials, base: Trial, input_: Input) -> Effect:
    down, up = (_side(trials, base, input_, times) for times in (-1, 1))
    sides = [side for side in (down, up) if side is not None and side.is_difference]
    return Effect(
        input=input_,
        down=down,
        up=up,
        most=max((abs(side.change or 0.0) for side in sides), default=0.0),
    )


def _side(trials: Trials, base: Trial, input_: Input, times: int) -> Side | None:
    """The input moved down (-1) or up (1), kept within what is allowed."""
    amount = input_.amount
    assert amount is not None  # or it would not be among the inputs that are moved
    moved = amount + times * (1 if input_.whole else TENTH * amount)
    # The step to the 0 that takes a thing out is another question.
    least = max(input_.least, Fraction(input_.key.says.takes_out))
    moved = max(moved, least) if input_.most is None else min(max(moved, least), input_.most)
    text = input_.write(moved)
    if moved == amount or not input_.allows(text):
        return None
    changes = input_.entering(text)
    trial = trials.attempt(changes)
    change = difference(trial, base, saleable_gain)
    return Side(input_.value(text), change, trial.tolerance.saleable or 0.0, trial.problem)


def _assumed_nothing(checked: Checked, scenario: str) -> _Nothing:
    found: dict[str, list[str]] = {}
    for path, key in _movable(checked, scenario):
        if path[0] not in _WORK or key.kind.dimension not in _SHARES_OF_WORK:
            continue
        given = checked.resolved[scenario].values[path]
        if given.origin.kind is not Source.ASSUMED or given.raw is None:
            continue
        if not getattr(key.kind.read(given.raw), "value", None):
            found.setdefault(key.label, []).extend(path[1:2] if len(path) > 2 else ())
    return tuple((label, tuple(ids)) for label, ids in found.items())
