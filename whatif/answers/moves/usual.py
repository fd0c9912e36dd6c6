"""Which inputs are offered to be varied, and over which values where nobody has said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from whatif.answers.moves.inputs import Input, input_of
from whatif.answers.moves.ranges import read_range
from whatif.answers.moves.refused import Unanswerable
from whatif.study.check.check import Checked
from whatif.study.draft import Draft
from whatif.study.raw import Path
from whatif.study.schema.catalogue import key_for
from whatif.units import Dimension

FEW = 6
"""Values of each input in a table of two: with more a narrow screen cannot show it."""

_COUNTS = 8
"""Counts are tried up to here at least."""

_FROM_NO_TIME, _FROM_NO_SHARE = "0 min..10 min..1 min", "0 %..50 %..5 %"
"""Where a time or share is 0 or not given; common practice, no source."""


@dataclass(frozen=True, slots=True)
class TriedValues:
    """An input in the unit of its values, and the texts of these, the present one among them."""

    input: Input
    values: tuple[str, ...]


def offered(draft: Draft, checked: Checked, scenario: str) -> tuple[Input, ...]:
    """The inputs of a scenario that can be varied and may change an answer, in file order."""
    if not draft.has(scenario):
        return ()
    resolved = checked.resolved[scenario]
    return tuple(
        input_of(draft, resolved, path, key)
        for path in resolved.values
        if (key := key_for(path)) is not None
        and key.numeric
        and key.says.varied
        and checked.unused.why(scenario, path) is None
    )


def first_offered(inputs: Sequence[Input], wanted: Path | None) -> Input | None:
    """The input that is wanted if it is offered; else the pallets, or whatever is first."""
    by_path = {input_.path: input_ for input_ in inputs}
    if wanted in by_path:
        return by_path[wanted]
    return next((input_ for input_ in inputs if _is(input_, "machine", "pallets")), _first(inputs))


def two_offered(inputs: Sequence[Input]) -> tuple[Input, Input] | None:
    """Two inputs for a table: pallets of the first machine and people of the first shift."""
    down = first_offered(inputs, None)
    others = [input_ for input_ in inputs if down is not None and input_.path != down.path]
    across = next((input_ for input_ in others if _is(input_, "shift", "people")), _first(others))
    return None if down is None or across is None else (down, across)


def usual_span(input_: Input) -> TriedValues:
    """About ten values to try: around what holds now, or from nothing up.

    Raises :class:`Unanswerable` where an amount is not given, so that nobody knows how much.
    """
    return span_of(input_, _usual(input_))


def span_of(input_: Input, typed: str) -> TriedValues:
    """The values of a typed range, with the present one in its place among them."""
    input_, values = read_range(input_, typed)
    now = input_.amount
    if now is None or any(input_.read(each) == now for each in values):
        return TriedValues(input_, values)
    amounts = [input_.read(each) for each in values]
    place = sum(each is not None and each < now for each in amounts)
    if place in (0, len(values)):
        return TriedValues(input_, values)  # it lies outside of what was asked for
    return TriedValues(input_, (*values[:place], input_.write(now), *values[place:]))


def few(span: TriedValues) -> TriedValues:
    """At most :data:`FEW` of the values, the present one among them where it is there."""
    values = span.values
    if len(values) <= FEW:
        return span
    texts = [span.input.read(each) for each in values]
    now = texts.index(span.input.amount) if span.input.amount in texts else 0
    if span.input.whole:
        # Neighbours of what there is: nobody asks for twelve more people.
        begin = max(0, min(now - 2, len(values) - FEW))
        return TriedValues(span.input, values[begin : begin + FEW])
    spread = [round(place * (len(values) - 1) / (FEW - 1)) for place in range(FEW)]
    nearest = min(spread, key=lambda place: abs(place - now))
    return TriedValues(
        span.input, tuple(values[now if place == nearest else place] for place in spread)
    )


def _is(input_: Input, group: str, name: str) -> bool:
    return input_.path[0] == group and input_.path[-1] == name and not input_.key.kind.dimension


def _first(inputs: Sequence[Input]) -> Input | None:
    return inputs[0] if inputs else None


def _usual(input_: Input) -> str:
    now, most = input_.amount, input_.most
    takes_out = input_.key.says.takes_out
    if input_.whole:
        least = max(input_.least, Fraction(takes_out))
        high = max(least + _COUNTS - 1, 2 * (now or Fraction(0)))
        return _ends(input_, least, high if most is None else min(high, most))
    if not now:
        return _from_nothing(input_)
    high = 2 * now if most is None else min(2 * now, most)
    if input_.key.kind.dimension is Dimension.PERCENT and most is not None:
        return _ends(input_, input_.least, most)
    return _ends(
        input_, max(input_.least, now / 2 if takes_out or input_.least else input_.least), high
    )


def _ends(input_: Input, low: Fraction, high: Fraction) -> str:
    return f"{input_.write(low)}..{input_.write(high)}"


def _from_nothing(input_: Input) -> str:
    dimension = input_.key.kind.dimension
    if input_.key.says.tries:
        return input_.key.says.tries
    if dimension is Dimension.TIME:
        return _FROM_NO_TIME
    if dimension is Dimension.PERCENT:
        return _FROM_NO_SHARE
    least, most = (input_.write(times * input_.worth) for times in (10, 20))
    raise Unanswerable("not given" if input_.amount is None else "now 0", input_.label, least, most)
