"""Every input moved a little, or tried where nobody has said it, ranked by its effect.

See rule `moves.sensitivity`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import replace
from enum import Enum
from fractions import Fraction

from typing_extensions import override

from whatif.answers.caveats import Caveat
from whatif.answers.gains import is_difference, lies_outside
from whatif.answers.moves.break_even import HALF_AN_HOUR
from whatif.answers.moves.changing import Trials
from whatif.answers.moves.inputs import Input, Unanswerable, Value, find_input, input_of
from whatif.answers.moves.trial import (
    AskedAbout,
    Change,
    saleable,
    saleable_gain,
)
from whatif.answers.progress import Told
from whatif.answers.ranks import Range, difference_range
from whatif.answers.simulate import Pause, Simulate, Task, each_done
from whatif.cell.model import Cell
from whatif.plan.build import plans_of
from whatif.records import dataclass
from whatif.study.check.check import Checked, check
from whatif.study.draft import Draft
from whatif.study.problem import Problem
from whatif.study.raw import Path, Raw
from whatif.study.resolve import Resolved, Source
from whatif.study.schema.catalogue import ANY, THINGS, Key, key_for
from whatif.study.schema.kinds import Flag
from whatif.study.typed import takes_share

TENTH = Fraction(1, 10)


class MovedBy(Enum):
    """How far an input is moved."""

    TENTH = "a tenth"
    ONE = "one"
    HALF_HOUR = "half an hour"
    TRIED = "tried"
    """Nobody has said it, or it is no number: values that a shop may have are tried."""


@dataclass(frozen=True, slots=True)
class Side:
    """An input moved one way.

    Attributes:
        change: of the saleable gain, in percentage points (of the reference's own saleable
            output, in percent); None where there is a problem.
        likely: the likely range of the change, draw by draw; None where the change is 0, or the
            range is still to come.
        is_difference: whether there is a change that the range tells from none, as far as it is
            known.
        itself: change of the scenario's own saleable output, in percent of the reference's as it
            stands, as typed: what is moved in the reference too may leave the gain as it is and
            move both.
        over_now: percent by which that output is then above the reference's as it stands, as
            typed: what a curve and a table tell of the same value.
    """

    value: Value
    change: float | None
    likely: Range | None
    is_difference: bool
    problem: Problem | None
    itself: float | None = None
    over_now: float | None = None
    is_open: bool = False
    """Whether its likely range is still to come."""

    @property
    def leading(self) -> float | None:
        """The change as one number: the middle of its range where that leads."""
        if self.likely is not None and lies_outside(self.change, self.likely):
            return self.likely[1]
        return self.change

    @property
    def is_untold(self) -> bool:
        """Whether there is a change, and the range cannot tell it from none."""
        return not self.is_difference and self.likely is not None


@dataclass(frozen=True, slots=True)
class Effect:
    """What an input does to the gain.

    Attributes:
        down, up: the input moved one way and the other, or the values tried; None where there is
            none, or it is not allowed.
        step: how far it is moved.
        most: size of the larger change that is a difference, as it leads; 0 where neither is.
    """

    input: Input
    down: Side | None
    up: Side | None
    step: MovedBy
    most: float

    @property
    def is_open(self) -> bool:
        """Whether a likely range of it is still to come."""
        return any(side is not None and side.is_open for side in (self.down, self.up))


@dataclass(frozen=True, slots=True)
class Ranking:
    """All inputs of a scenario, the one that moves the gain most first.

    Rules that the shop gives itself stand behind what is measured or bought. Of equal effects the
    first in the sheet is first; those that are no difference come last.

    Attributes:
        caveats: what the gain that is moved rests on that is not so yet.
    """

    asked: AskedAbout
    effects: tuple[Effect, ...]
    caveats: tuple[Caveat, ...] = ()

    @property
    def moving(self) -> tuple[Effect, ...]:
        """Those that make a difference."""
        return tuple(effect for effect in self.effects if effect.most)


@dataclass(frozen=True, slots=True)
class _Moves:
    """An input and the texts, or what the file then holds, that it is moved to."""

    input: Input
    step: MovedBy
    down: tuple[str, Raw] | None
    up: tuple[str, Raw] | None


def _nobody(found: Ranking) -> None:
    """Nobody waits for a part of it."""


def sensitivity(
    draft: Draft,
    scenario: str,
    simulate: Simulate,
    told: Told,
    partly: Callable[[Ranking], None] = _nobody,
) -> Ranking:
    """Move every input of a scenario that is used there.

    Numbers go by a tenth, those that several parts have in all of them at once, counts by one,
    times of day by half an hour; what nobody has said, so that a tenth of it is nothing or says
    little, is tried at values that a shop may have.
    Inputs that cannot move output are left out: what is said, prices and rates, floor, what is
    only warned of; so is the step to the 0 that takes a thing out, which is another question.
    All inputs are moved as typed first, so that their order is soon there, and then likely ranges
    are looked for, that of the largest change first; ``partly`` takes what is known by each step.

    Raises :class:`~whatif.answers.moves.inputs.Unanswerable` where there is no gain to look at.
    """
    trials = Trials(draft, scenario, simulate)
    moves = list(_moves(draft, check(draft), scenario))
    trials.expect(sum((each.down is not None) + (each.up is not None) for each in moves))
    if trials.base.figure(saleable_gain) is None:
        raise Unanswerable("no gain", trials.asked.against)
    return _Work(trials, moves, simulate, told, partly).done()


class _Work:
    """Works a ranking out: first what is moved as typed, then the likely ranges."""

    def __init__(
        self,
        trials: Trials,
        moves: Sequence[_Moves],
        simulate: Simulate,
        told: Told,
        partly: Callable[[Ranking], None],
    ) -> None:
        self._trials, self._moves, self._simulate = trials, moves, simulate
        self._told, self._partly = told, partly
        self._caveats = trials.caveats(trials.base)
        self._effects: list[Effect] = []

    def done(self) -> Ranking:
        """All of it."""
        self._as_typed()
        self._ranges()
        return self._ranking()

    def _ranking(self) -> Ranking:
        return Ranking(self._trials.asked, tuple(sorted(self._effects, key=_rank)), self._caveats)

    def _as_typed(self) -> None:
        base = self._trials.base
        stands = (base.figure(saleable_gain), base.figure(saleable))
        moved = [
            None if to is None else _Moved(self._trials, each.input, to, *stands)
            for each in self._moves
            for to in (each.down, each.up)
        ]
        asked = [task for task in moved if task is not None]
        sides = each_done(self._simulate, asked, lambda: None)
        for place, each in enumerate(self._moves):
            # As many ranges may follow.
            self._told(place, 2 * len(self._moves))
            if place:
                self._partly(self._ranking())
            pair = moved[2 * place : 2 * place + 2]
            found = (None if task is None else next(sides) for task in pair)
            self._effects.append(_effect(each.input, each.step, *found))

    def _ranges(self) -> None:
        """Of all sides that are a change as typed: the larger their effect, the sooner."""
        first = len(self._moves)
        places = sorted(range(first), key=lambda place: _rank(self._effects[place]))
        places = [place for place in places if self._effects[place].is_open]
        drawn = tuple(map(saleable_gain, self._trials.base.drawn)) if places else ()
        asked = [
            _Ranged(self._trials, each.input, to, side, drawn)
            for each, effect in ((self._moves[place], self._effects[place]) for place in places)
            for to, side in ((each.down, effect.down), (each.up, effect.up))
            if to is not None and side is not None and side.is_open
        ]
        sides = each_done(self._simulate, asked, lambda: None)
        for done, place in enumerate(places):
            self._told(first + done, first + len(places))
            self._partly(self._ranking())
            effect = self._effects[place]
            found = (
                next(sides) if side is not None and side.is_open else side
                for side in (effect.down, effect.up)
            )
            self._effects[place] = _effect(effect.input, effect.step, *found)
        self._told(first + len(places), first + len(places))


def _rank(effect: Effect) -> tuple[bool, bool, float]:
    return not effect.most, effect.input.is_chosen, -effect.most


# -- what is moved -------------------------------------------------------------------------


def _moves(draft: Draft, checked: Checked, scenario: str) -> Iterator[_Moves]:
    resolved, cell = checked.resolved[scenario], plans_of(checked)[scenario].cell
    counted = {} if cell is None else dict(_counted(cell))
    found = list(_moves_of_each(checked, draft, resolved, counted))
    shared, met = _moved_together(found), set[Path]()
    for each in found:
        pattern = _pattern(each.input)
        if each.step is not MovedBy.TENTH or pattern not in shared:
            yield each
        elif pattern not in met:
            # In the place of the first of them.
            met.add(pattern)
            together = _steps(find_input(draft, scenario, pattern), None)
            assert together is not None
            yield together


def _moves_of_each(
    checked: Checked, draft: Draft, resolved: Resolved, counted: dict[Path, int]
) -> Iterator[_Moves]:
    for path, key in _movable(checked, resolved.scenario):
        if path[-1] == "does":
            found = _without_release(input_of(draft, resolved, path, key), resolved)
        elif isinstance(key.kind, Flag):
            found = _the_other(input_of(draft, resolved, path, key))
        elif key.kind.numeric:
            found = _steps(input_of(draft, resolved, path, key), counted.get(path))
        else:
            continue
        if found is not None and (found.down is not None or found.up is not None):
            yield found


def _moved_together(found: Sequence[_Moves]) -> frozenset[Path]:
    """Keys of which several things of a sort move a tenth: one part is no match for all people."""
    patterns = Counter(
        _pattern(each.input)
        for each in found
        if each.step is MovedBy.TENTH and each.input.path[0] in THINGS
        if takes_share(each.input.key)
    )
    return frozenset(pattern for pattern, things in patterns.items() if things > 1)


def _pattern(input_: Input) -> Path:
    """That of the key in all things of the sort."""
    return (input_.path[0], ANY, *input_.path[2:])


def _movable(checked: Checked, scenario: str) -> Iterator[tuple[Path, Key]]:
    for path in checked.resolved[scenario].values:
        key = key_for(path)
        if key is not None and key.says.ranked and checked.unused.why(scenario, path) is None:
            yield path, key


def _counted(cell: Cell) -> Iterator[tuple[Path, int]]:
    """What counts are taken to be where they are not given."""
    for part in cell.parts:
        pairs = zip(cell.groups, part.making, strict=True)
        places = sum(group.count * group.pallets for group, making in pairs if making)
        yield ("part", part.id, "fixtures"), places if part.fixtures is None else part.fixtures


def _steps(input_: Input, found: int | None) -> _Moves | None:
    amount, tried = input_.amount, input_.key.says.ranked_at
    if input_.origin.kind is Source.ASSUMED and (tried or amount is None):
        if found is not None:
            # Nobody has counted them: half as many as the model takes there to be.
            tried = (str(max(1, found // 2)),) if found > 1 else ()
        sides = [_typed(input_, text) for text in tried]
        if len(sides) == 2:
            return _Moves(input_, MovedBy.TRIED, *sides)
        return _Moves(input_, MovedBy.TRIED, None, sides[0]) if sides else None
    if not amount:
        return None
    if input_.is_clock:
        by, step = HALF_AN_HOUR, MovedBy.HALF_HOUR
    elif input_.whole:
        by, step = Fraction(1), MovedBy.ONE
    else:
        by, step = TENTH * amount, MovedBy.TENTH
    return _Moves(input_, step, _moved(input_, amount, -by), _moved(input_, amount, by))


def _moved(input_: Input, amount: Fraction, by: Fraction) -> tuple[str, Raw] | None:
    """The input moved, kept within what is allowed."""
    # The step to the 0 that takes a thing out is another question.
    moved = max(amount + by, input_.least_kept)
    moved = moved if input_.most is None else min(moved, input_.most)
    text = input_.write(moved)
    return None if moved == amount or not input_.allows(text) else _typed(input_, text)


def _typed(input_: Input, text: str) -> tuple[str, Raw]:
    return text, input_.raw(text)


def _change(input_: Input, to: tuple[str, Raw]) -> dict[Path, Raw]:
    """What is entered for it, in all things that it is a share of."""
    text, raw = to
    return input_.entering(text) if input_.all_of else {input_.path: raw}


def _without_release(input_: Input, resolved: Resolved) -> _Moves | None:
    """A shift in whose hours first pieces are no longer released, where another's go on."""
    waits = [id_ for id_ in resolved.in_use("part") if _amount(resolved, id_, "first_piece")]
    shifts = [
        id_ for id_ in resolved.in_use("shift") if "release" in resolved.value("shift", id_, "does")
    ]
    if not waits or len(shifts) < 2 or input_.path[1] not in shifts:
        return None
    does = tuple(word for word in resolved.value(*input_.path) if word != "release")
    return _Moves(input_, MovedBy.TRIED, ("without release", does), None)


def _the_other(input_: Input) -> _Moves | None:
    """Yes where a key that is worth it says no, whoever said so."""
    tried = [text for text in input_.key.says.ranked_at if text != input_.now_text]
    return _Moves(input_, MovedBy.TRIED, None, _typed(input_, tried[0])) if tried else None


def _amount(resolved: Resolved, part: str, name: str) -> object:
    return getattr(resolved.value("part", part, name), "value", None)


# -- what it does --------------------------------------------------------------------------


def _effect(input_: Input, step: MovedBy, down: Side | None, up: Side | None) -> Effect:
    sides = [side for side in (down, up) if side is not None and side.is_difference]
    return Effect(
        input=input_,
        down=down,
        up=up,
        step=step,
        most=max((abs(side.leading or 0.0) for side in sides), default=0.0),
    )


@dataclass(frozen=True)
class _Moved(Task[Side]):
    """An input to be moved one way, as typed; ``gain`` and ``saleable`` as the scenario stands."""

    trials: Trials
    input: Input
    to: tuple[str, Raw]
    gain: float | None
    saleable: float | None

    @property
    @override
    def key(self) -> Hashable:
        return "as typed", self.trials.key, self.input.path, repr(self.to)

    @override
    def work_out(self, simulate: Simulate, pause: Pause) -> Side:
        """What that does."""
        (text, _), input_ = self.to, self.input
        value = input_.value(text) if input_.key.kind.numeric else Value(text, 0.0, "")
        tried = self.trials.using(simulate).gained(_change(input_, self.to))
        if tried.gain is None or self.gain is None:
            return Side(value, None, None, is_difference=False, problem=tried.problem)
        itself = over_now = None
        if tried.saleable is not None and self.saleable:
            # Its output as it stands is that of the reference and its gain.
            over_now = (100 + self.gain) * tried.saleable / self.saleable - 100
            itself = over_now - self.gain
        change = tried.gain - self.gain
        moves = is_difference(change, None)
        return Side(
            value,
            change,
            None,
            is_difference=moves,
            problem=None,
            itself=itself,
            over_now=over_now,
            is_open=moves,
        )


@dataclass(frozen=True)
class _Ranged(Task[Side]):
    """The likely range of an input moved one way; ``drawn`` is the gain of each draw as it is."""

    trials: Trials
    input: Input
    to: tuple[str, Raw]
    side: Side
    drawn: tuple[float | None, ...]

    @property
    @override
    def key(self) -> Hashable:
        return "likely", self.trials.key, self.input.path, repr(self.to)

    @override
    def work_out(self, simulate: Simulate, pause: Pause) -> Side:
        """The side with its range, where there are draws."""
        drawn = self.trials.using(simulate).gained_in_draws(_change(self.input, self.to))
        likely = difference_range(zip(drawn, self.drawn, strict=True))
        change = Change(self.side.change or 0.0, likely)
        return replace(
            self.side, likely=change.likely, is_difference=change.is_clear, is_open=False
        )
