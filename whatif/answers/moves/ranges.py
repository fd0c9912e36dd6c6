"""Over which values an input is varied: those of a range as it is typed, or else the usual ones."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil, floor

from whatif.answers.moves.inputs import HOUR, Input, Unanswerable, find_input, input_of
from whatif.records import dataclass
from whatif.study.check.check import Checked
from whatif.study.draft import Draft
from whatif.study.raw import Path
from whatif.study.schema.catalogue import ANY, THINGS, key_for
from whatif.study.schema.kinds.calendar import clock_seconds
from whatif.study.typed import takes_share
from whatif.units import Dimension, is_exact, parse
from whatif.units.dimension import UnitsError

MOST_VALUES = 200
"""Values beyond which a range is refused: nobody reads so long a table."""

_BY_ONE = 20
"""Counts go by one as long as that makes at most so many steps."""

_CLOCK_STEPS = tuple(60 * Fraction(minutes) for minutes in (1, 5, 10, 15, 30, 60, 120, 240))
"""Steps of times of day, in seconds."""

_STEPS = 10
"""About how many steps a range has whose step is not typed."""


def read_range(input_: Input, text: str) -> tuple[Input, tuple[str, ...]]:
    """The input in the unit that was typed, and the texts of the values in the range.

    TO is among them unless a step was typed that passes it over. A number without a unit has that
    of TO, or of FROM. Whether the values are allowed is not looked at. Raises
    :class:`Unanswerable`.
    """
    ends = _parts(text)
    input_, low, high = _ends(input_, ends, text)
    if len(ends) == 2:
        return input_, tuple(input_.write(each) for each in _about_ten(input_, low, high))
    step = _step(input_, ends)
    if step <= 0:
        raise Unanswerable("step not above 0", text)
    if input_.whole and step.denominator != 1:
        raise Unanswerable("step not whole", text, input_.label)
    many = floor((high - low) / step) + 1
    if many > MOST_VALUES:
        raise Unanswerable("too many values", text, str(many), str(MOST_VALUES))
    values = [low + place * step for place in range(many)]
    if input_.unit and not all(is_exact(each, input_.unit) for each in values):
        # "1 h..2 h..10 min" is in minutes, since its steps are.
        input_ = input_.in_unit_of(_with_unit(input_, ends[2], ends[1], ends[0]))
    return input_, tuple(input_.write(each) for each in values)


def read_ends(input_: Input, text: str) -> tuple[Input, Fraction, Fraction]:
    """The input in the unit that was typed, and FROM and TO in base units."""
    ends = _parts(text)
    if len(ends) == 3:
        raise Unanswerable("no step wanted", text)
    return _ends(input_, ends, text)


def _parts(text: str) -> list[str]:
    ends = [each.strip() for each in text.split("..")]
    if len(ends) not in (2, 3) or not all(ends):
        raise Unanswerable("no range", text)
    return ends


def _ends(input_: Input, ends: list[str], text: str) -> tuple[Input, Fraction, Fraction]:
    begin = _with_unit(input_, ends[0], ends[1])
    end = _with_unit(input_, ends[1], ends[0])
    low, high = _amount(input_, begin), _amount(input_, end)
    input_ = input_.in_unit_of(begin)
    if low > high:
        raise Unanswerable("goes down", text, end, begin)
    if low == high:
        raise Unanswerable("one value", text)
    if input_.whole and (low.denominator, high.denominator) != (1, 1):
        raise Unanswerable("not whole", text, input_.label)
    return input_, low, high


def _with_unit(input_: Input, text: str, *others: str) -> str:
    """The text, with the unit of another end where it has none: the 5 of "5..15 min"."""
    if not input_.unit or not text.replace(".", "", 1).isdigit():
        return text
    for other in others:
        if input_.read(other) is not None:
            return f"{text} {input_.in_unit_of(other).unit}"
    return text


def _amount(input_: Input, text: str) -> Fraction:
    input_.value(text)
    amount = input_.read(text)
    assert amount is not None  # or the value would have been refused
    return amount


def _step(input_: Input, ends: list[str]) -> Fraction:
    """The step that was typed: of times of day a time, "30 min" or "0:30"."""
    if not input_.is_clock:
        return _amount(input_, _with_unit(input_, ends[2], ends[1], ends[0]))
    try:
        step = parse(ends[2], Dimension.TIME).value
    except UnitsError as fault:
        seconds = clock_seconds(ends[2].rjust(5, "0"))
        if seconds is None:
            raise Unanswerable("not read", input_.dotted, ends[2], 'write "30 min"') from fault
        step = Fraction(seconds)
    return max(input_.finest, step // input_.finest * input_.finest) if step else step


def _about_ten(input_: Input, low: Fraction, high: Fraction) -> list[Fraction]:
    """From low to high by a round step of the unit, high included."""
    span = high - low
    if input_.is_clock:
        step = next((each for each in _CLOCK_STEPS if each >= span / _STEPS), _CLOCK_STEPS[-1])
    elif input_.whole and span <= _BY_ONE:
        step = Fraction(1)
    else:
        step = input_.worth * _round_step(span / input_.worth / _STEPS)
        step = Fraction(ceil(step)) if input_.whole else step
    values = [low + place * step for place in range(ceil(span / step))]
    return [*values, high]


def _round_step(about: Fraction) -> Fraction:
    """The smallest of 1, 2 and 5 times a power of ten that is not below ``about``."""
    power = Fraction(1)
    while power > about:
        power /= 10
    while power * 10 <= about:
        power *= 10
    return next(power * times for times in (1, 2, 5, 10) if power * times >= about)


# -- where nobody has said -----------------------------------------------------------------

FEW = 6
"""Values of each input in a table of two: with more a narrow screen cannot show it."""

_COUNTS = 8
"""Counts of machines and people are tried one by one, up to here at least."""

ROUND_COUNTS = (1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64)
"""What pallets and the like are tried at: what a shop would order; common practice, no source."""

_FAR = 16
"""They are tried up to here at least, since a gain may begin where a night is filled."""

_BACK, _ON = 2 * HOUR, 6 * HOUR
"""A shift's end is looked at so much earlier and later; its start the other way about."""

_FROM_NO_TIME, _FROM_NO_SHARE = "0 min..10 min..1 min", "0 %..50 %..5 %"
"""Where a time or share is 0 or not given; common practice, no source."""

_OF_ALL = "50 %..150 %..10 %"
"""Of what is moved for all at once: half as much, and half as much again."""


@dataclass(frozen=True, slots=True)
class TriedValues:
    """An input in the unit of its values, and the texts of these, the present one among them."""

    input: Input
    values: tuple[str, ...]


def offered(draft: Draft, checked: Checked, scenario: str) -> tuple[Input, ...]:
    """The inputs of a scenario that can be varied and may change an answer, in file order.

    Behind them those that several things of a sort have, of all these things at once.
    """
    if not draft.has(scenario):
        return ()
    resolved = checked.resolved[scenario]
    found = tuple(
        input_of(draft, resolved, path, key)
        for path in resolved.values
        if (key := key_for(path)) is not None
        and key.kind.numeric
        and key.says.varied
        and checked.unused.why(scenario, path) is None
    )
    return (*found, *_of_all(draft, found))


def _of_all(draft: Draft, found: Sequence[Input]) -> Iterator[Input]:
    patterns: dict[Path, int] = {}
    for each in found:
        path = each.path
        if len(path) == 3 and path[0] in THINGS and takes_share(each.key) and each.amount:
            pattern = (path[0], ANY, path[2])
            patterns[pattern] = patterns.get(pattern, 0) + 1
    scenario = found[0].scenario if found else ""
    yield from (find_input(draft, scenario, path) for path, many in patterns.items() if many > 1)


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
    if _goes_far(input_):
        return TriedValues(input_, tuple(map(input_.write, _round_counts(input_))))
    return span_of(input_, _usual(input_))


def _goes_far(input_: Input) -> bool:
    """Whether round counts are tried: of what is no machine, no person and no large number."""
    is_many = 2 * (input_.amount or 0) > ROUND_COUNTS[-1]
    return input_.whole and not (input_.all_of or input_.key.says.takes_out or is_many)


def _round_counts(input_: Input) -> list[Fraction]:
    """Round counts to twice what holds now and :data:`_FAR` at least, with what holds now."""
    now, most = input_.amount, input_.most
    until = next(each for each in ROUND_COUNTS if each >= max(_FAR, 2 * (now or 0)))
    until = until if most is None else min(until, int(most))
    tried = {Fraction(each) for each in ROUND_COUNTS if input_.least <= each <= until}
    tried |= {input_.least, Fraction(until)} | ({now} if now is not None else set())
    return sorted(tried)


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
    if span.input.whole and span.input.key.says.takes_out:
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
    if input_.all_of:
        return _OF_ALL
    now, most = input_.amount, input_.most
    if input_.is_clock and now is not None:
        back, on = (_BACK, _ON) if input_.starts is not None else (_ON, _BACK)
        low, high = max(input_.least, now - back), now + on
        return f"{_typed_ends(input_, low, high if most is None else min(high, most))}..1 h"
    takes_out = input_.key.says.takes_out
    if input_.whole:
        least = input_.least_kept
        high = max(least + _COUNTS - 1, 2 * (now or Fraction(0)))
        return _typed_ends(input_, least, high if most is None else min(high, most))
    if not now:
        return _from_nothing(input_)
    high = 2 * now if most is None else min(2 * now, most)
    if input_.key.kind.dimension is Dimension.PERCENT and most is not None:
        return _typed_ends(input_, input_.least, most)
    return _typed_ends(
        input_, max(input_.least, now / 2 if takes_out or input_.least else input_.least), high
    )


def _typed_ends(input_: Input, low: Fraction, high: Fraction) -> str:
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
