"""Numeric inputs of a scenario as values to step through, and why a question has no answer."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Literal, TypeAlias

from whatif.answers.moves.held import Moved, held
from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.edits.edit import place_words
from whatif.study.raw import Path, Raw
from whatif.study.refused import (
    HasProblem,
    NoneAllowed,
    NotThere,
    Refusal,
    Refused,
    no_key,
    no_scenario,
    no_thing,
)
from whatif.study.resolve import Origin, Resolved, Source, resolve
from whatif.study.schema.catalogue import (
    ANY,
    HEAD_KEYS,
    THINGS,
    Key,
    dotted,
    key_for,
    label_at,
)
from whatif.study.schema.kinds import Clock, Count, KindError, Percent, Time
from whatif.study.schema.kinds.calendar import DAY, clock_seconds
from whatif.study.typed import all_in_use, takes_share, things_words
from whatif.units import Dimension, Quantity, decimal, in_unit, parse, write
from whatif.units.dimension import UnitsError

# -- questions that have no answer as they were put ----------------------------------------

Reason: TypeAlias = Literal[
    # what is asked about
    "no machine here",
    "no part wanted here",
    "no parts",
    "no contribution",
    "nothing due",
    "no saleable output",
    "no gain",
    "level with itself",
    "nothing said",
    "no real orders",
    "no goal",
    "no gain over nothing",
    "no lever",
    # inputs
    "of the whole study",
    "not one number",
    "same input",
    "no share",
    "none has a number",
    "no share of each",
    # values
    "no value",
    "no plain number",
    "not read",
    "not read, such as",
    "now 0",
    "not given",
    "where to look",
    # ranges
    "no range",
    "no step wanted",
    "step not above 0",
    "step not whole",
    "not whole",
    "too many values",
    "goes down",
    "one value",
    # targets
    "no target",
    "no amount",
    "no percentage",
    "no such part",
    "no such part, near",
]


class Unanswerable(Refused):
    """A question that has no answer as it was put."""

    def __init__(
        self, why: NotThere | NoneAllowed | HasProblem | Refusal | Reason, *facts: str
    ) -> None:
        super().__init__(Refusal(why, facts) if isinstance(why, str) else why)


# -- inputs --------------------------------------------------------------------------------

_FINEST: dict[Dimension | None, Fraction] = {
    Dimension.TIME: Fraction(1),
    Dimension.PERCENT: Fraction(1, 1000),
    Dimension.LENGTH: Fraction(1, 10),
    Dimension.MASS: Fraction(1, 100),
    Dimension.AREA: Fraction(1, 100),
    None: Fraction(1, 100),
}
"""The smallest step worth telling, in base units: a second, a tenth of a percent or of a
millimetre, ten grams, a hundredth of a square metre or of a number."""

_MINUTE, HOUR = Fraction(60), Fraction(3600)

WHOLE = "100 %"
"""What an input of all stands at: what each of them is."""

OF_THE_DAY = "o'clock"
"""The unit of times of day: hours from midnight, beyond 24 on the next day."""

_FEW = 3
"""Keys that are named where several may have been meant."""


@dataclass(frozen=True, slots=True)
class Value:
    """A value as it would be typed, and as a plain number of a unit ("" for a plain count)."""

    text: str
    number: float
    unit: str


@dataclass(frozen=True, slots=True)
class Input:
    """A numeric input of one scenario.

    Attributes:
        label: its name on the sheet, with the thing's id where there are several.
        now: what holds, maybe a word ("until done"); None where it is not given.
        unit: symbol of the unit that values are written in; "" for counts and numbers.
        counted_in: what a number without a unit counts, such as "USD"; "" where that is plain.
        moved: in which scenarios it is moved.
        starts: of a shift's end, when the shift starts: an end at or before it is the next day's.
        entered_in: title of the scenario that enters it; "" where none does.
        all_of: the inputs of which it is a share, the same of each: "part.*.setup"; () of one.
    """

    scenario: str
    path: Path
    key: Key
    label: str
    now: Raw | None
    origin: Origin
    unit: str
    counted_in: str
    moved: Moved
    starts: int | None = None
    entered_in: str = ""
    all_of: tuple[Input, ...] = ()

    @property
    def dotted(self) -> str:
        """As the file has it: "machine.mill.pallets"; with its sign where it is that of all."""
        return ".".join(self.path) if self.all_of else dotted(self.path)

    @property
    def paths(self) -> tuple[Path, ...]:
        """Where it stands."""
        return tuple(each.path for each in self.all_of) or (self.path,)

    @property
    def whole(self) -> bool:
        """Whether it goes in whole numbers."""
        return isinstance(self.key.kind, Count)

    @property
    def is_clock(self) -> bool:
        """Whether it is a time of day: in seconds from the midnight before the shift starts."""
        return isinstance(self.key.kind, Clock)

    @property
    def is_said(self) -> bool:
        """Whether it is what people say in a meeting, which moves nothing that is simulated."""
        return self.key.group == "said"

    @property
    def is_chosen(self) -> bool:
        """Whether it is a rule that the shop gives itself, neither measured nor bought."""
        return self.key.says.chosen or self.path[-1] == "does"

    @property
    def is_money(self) -> bool:
        """Whether it is an amount of money or a rate, which no cell is run again for."""
        return self.key.group == "money" or self.key.says.money is not None

    @property
    def finest(self) -> Fraction:
        """The smallest step worth telling, in base units."""
        if self.is_clock:
            return _MINUTE
        return Fraction(1) if self.whole else _FINEST[self.key.kind.dimension]

    @property
    def least(self) -> Fraction:
        """The least that is allowed, in base units (what must be above 0: the finest step)."""
        kind = self.key.kind
        if self.starts is not None:
            return self.starts + _MINUTE
        if getattr(kind, "above_zero", False):
            return self.finest
        return Fraction(getattr(kind, "low", 0))

    @property
    def least_kept(self) -> Fraction:
        """The least that leaves the thing in: where 0 takes it out, 1; of all at once any share."""
        return max(self.least, Fraction(self.key.says.takes_out and not self.all_of))

    @property
    def most(self) -> Fraction | None:
        """The most that is allowed, in base units; None where there is no upper end."""
        kind = self.key.kind
        if self.is_clock:
            return (DAY if self.starts is None else self.starts + DAY + _MINUTE) - _MINUTE
        if isinstance(kind, Percent):
            return None if kind.high is None else Fraction(kind.high, 100)
        if isinstance(kind, Time):
            return None if kind.high_seconds is None else Fraction(kind.high_seconds)
        high = getattr(kind, "high", None)
        return None if high is None else Fraction(high)

    @property
    def amount(self) -> Fraction | None:
        """What holds now as an exact number of base units, None where there is none."""
        return self.read(self.now_text)

    @property
    def now_text(self) -> str:
        """What holds now as it would be typed, "" where it is not given."""
        return "" if self.now is None else self.key.kind.written(self.now)

    @property
    def now_value(self) -> Value | None:
        """What holds now, None where it is no number."""
        return None if self.amount is None else self.value(self.now_text)

    @property
    def worth(self) -> Fraction:
        """How many base units one of the unit is."""
        return 1 / in_unit(Fraction(1), self.unit) if self.unit else Fraction(1)

    def read(self, text: str) -> Fraction | None:
        """A typed text as an exact number of base units, allowed or not; None where it is none."""
        dimension = self.key.kind.dimension
        if self.is_clock:
            return self._clock(text)
        if dimension is None:
            return _plain(text)
        try:
            return parse(text, dimension).value
        except UnitsError:
            return None

    def _clock(self, text: str) -> Fraction | None:
        seconds = clock_seconds(str(self.key.kind.typed(text)))
        if seconds is None:
            return None
        is_next_day = self.starts is not None and seconds <= self.starts
        return Fraction(seconds + (DAY if is_next_day else 0))

    def raw(self, text: str) -> Raw:
        """What the file holds for a typed text."""
        return self.key.kind.typed(text)

    def entering(self, text: str) -> dict[Path, Raw]:
        """The change that entering a text makes."""
        if not self.all_of:
            return {self.path: self.raw(text)}
        share = self.read(text)
        if share is None:
            raise self._unread(text)
        return {each.path: each._left_by(share) for each in self.all_of}

    def _left_by(self, share: Fraction) -> Raw:
        """What a share of it leaves, within what is allowed."""
        assert self.amount is not None
        assert self.now is not None
        left = max(self.amount * share, self.least)
        left = left if self.most is None else min(left, self.most)
        left = Fraction(round(left)) if self.whole else left
        return self.now if left == self.amount else self.raw(self.write(left))

    def value(self, text: str) -> Value:
        """A typed text with its number; raises `Unanswerable` where it is no number."""
        amount = self.read(text)
        if amount is None:
            raise self._unread(text)
        text = " ".join(text.split())
        if self.is_clock:
            return Value(str(self.raw(text)), float(amount / HOUR), OF_THE_DAY)
        if not self.unit:
            return Value(text, float(amount), self.counted_in)
        return Value(text, float(in_unit(amount, self.unit)), self.unit)

    def write(self, amount: Fraction) -> str:
        """The text for a number of base units, in the input's unit."""
        if self.is_clock:
            minutes = int(amount // _MINUTE) % (24 * 60)
            return f"{minutes // 60:02}:{minutes % 60:02}"
        within = self.finest / 2 - Fraction(1, 10**9)
        if not self.unit:
            return decimal(amount, within)
        if self.unit == "s" and _is_compound(self.now_text):
            return _in_minutes(amount, within)
        return write(amount, self.unit, within)

    def in_unit_of(self, text: str) -> Input:
        """The same input, its values written in the unit that was typed in a text."""
        dimension = self.key.kind.dimension
        if dimension is None or self.read(text) is None:
            return self
        return replace(self, unit=parse(text, dimension).unit)

    def told_in(self, units: str) -> Input:
        """The same, what holds now in "metric" or "inch"; itself in another word, or without."""
        text = self._turned(self.now_text, units)
        return self if text is None else replace(self, now=self.raw(text)).in_unit_of(text)

    def value_told_in(self, value: Value, units: str) -> Value:
        """A value in these units."""
        text = self._turned(value.text, units)
        return value if text is None else self.in_unit_of(text).value(text)

    def _turned(self, text: str, units: str) -> str | None:
        if units not in ("metric", "inch") or not text:
            return None
        return self.key.kind.in_units(self.raw(text), units)

    def allows(self, text: str) -> bool:
        """Whether a typed text is allowed for the key, other values aside."""
        try:
            read = self.key.kind.read(self.raw(text))
        except KindError:
            return False
        return isinstance(read, int | Fraction | Quantity)

    def _unread(self, text: str) -> Unanswerable:
        dimension = self.key.kind.dimension
        if self.all_of:
            example = self.all_of[0].dotted
            return Unanswerable("no share of each", self.dotted, text, example)
        if self.is_clock:
            return Unanswerable("not read", self.dotted, text, 'write "22:00"')
        if dimension is None:
            return Unanswerable("no plain number", self.dotted, text)
        try:
            parse(text, dimension)
        except UnitsError as fault:
            return Unanswerable("not read", self.dotted, text, fault.cure)
        wanted, example = dimension.a_noun, dimension.example
        return Unanswerable("not read, such as", self.dotted, text, wanted, example)


def _is_compound(text: str) -> bool:
    """Whether a time is written in more than one unit: "2 min 30 s"."""
    return len(re.findall(r"[a-z]+", text)) > 1


def _in_minutes(seconds: Fraction, within: Fraction) -> str:
    """A time in hours, minutes and seconds: "22 min 27 s"."""
    if (seconds * 10**6).denominator != 1:
        seconds = Fraction(round(seconds))
    hours, rest = divmod(seconds, HOUR)
    minutes, rest = divmod(rest, _MINUTE)
    said = [f"{count} {unit}" for count, unit in ((hours, "h"), (minutes, "min")) if count]
    return " ".join([*said, write(rest, "s", within)] if rest or not said else said)


def _plain(text: str) -> Fraction | None:
    word = text.strip()
    if not word.replace(".", "", 1).isdigit() or not word.isascii() or len(word) > 24:
        return None
    return Fraction(word)


def place_of_value(values: Sequence[Value], now: Value | None) -> int | None:
    """The place of what holds now; None where it is not among the values."""
    return next((i for i, value in enumerate(values) if now and _same(value, now)), None)


def _same(value: Value, other: Value) -> bool:
    return (value.unit == other.unit and abs(value.number - other.number) < 1e-9) or value == other


def find_input(draft: Draft, scenario: str, path: Path) -> Input:
    """The numeric input at a path; raises `Unanswerable`, naming the nearest where one is close.

    A ``*`` in the place of an id is that of all: a share of what each of them is.
    """
    resolved = resolved_of(draft, scenario)
    if ANY in path:
        return _share_of_all(draft, resolved, path)
    key = key_for(path)
    if key is None:
        raise _no_such_key(resolved, path)
    if path[0] in THINGS and path[1] not in resolved.ids(path[0]):
        raise Unanswerable(no_thing(draft, scenario, path))
    if not key.kind.numeric:
        raise Unanswerable("not one number", dotted(path), key.kind.allowed)
    return input_of(draft, resolved, path, key)


def input_of(draft: Draft, resolved: Resolved, path: Path, key: Key) -> Input:
    """The input at a path of which it is known that it is numeric and there."""
    now, origin = resolved.raw(*path), resolved.origin(*path)
    by = origin.scenario or ""
    found = Input(
        scenario=resolved.scenario,
        path=path,
        key=key,
        label=place_words(draft, resolved.scenario, path),
        now=now,
        origin=origin,
        unit="",
        counted_in=_counted_in(draft, key),
        moved=held(draft, resolved.scenario, path).moved,
        starts=resolved.value(*path[:-1], "start") if path[-1] == "end" else None,
        entered_in=draft.scenario(by).title if draft.has(by) else "",
    )
    dimension = key.kind.dimension
    if dimension is None:
        return found
    return found.in_unit_of(dimension.example if found.amount is None else found.now_text)


def _share_of_all(draft: Draft, resolved: Resolved, path: Path) -> Input:
    """The input that moves a key of all things of a sort in use by one share."""
    key = key_for(tuple("id" if part == ANY else part for part in path))
    if key is None or path[0] not in THINGS or path[1] != ANY:
        raise _no_such_key(resolved, path)
    if not key.kind.numeric:
        raise Unanswerable("not one number", ".".join(path), key.kind.allowed)
    found = tuple(
        each
        for at in all_in_use(resolved, key)
        if all(want in (ANY, part) for want, part in zip(path, at, strict=True))
        and (each := input_of(draft, resolved, at, key)).amount
    )
    if not takes_share(key):
        example = dotted(next(all_in_use(resolved, key), key.pattern))
        raise Unanswerable("no share", ".".join(path), example)
    if not found:
        example = dotted(next(all_in_use(resolved, key), key.pattern))
        raise Unanswerable("none has a number", ".".join(path), things_words(path), example)
    moved = {each.moved for each in found}
    origins = {each.origin for each in found}
    return Input(
        scenario=resolved.scenario,
        path=path,
        key=replace(key, kind=Percent(high=None)),
        label=f"{label_at(found[0].path)} of all {things_words(path)}",
        now=WHOLE,
        origin=found[0].origin if len(origins) == 1 else Origin(Source.ENTERED, None),
        unit="%",
        counted_in="",
        moved=moved.pop() if len(moved) == 1 else Moved.EACH,
        entered_in=found[0].entered_in if len(origins) == 1 else "",
        all_of=found,
    )


def resolved_of(draft: Draft, scenario: str) -> Resolved:
    """What holds in a scenario; raises `Unanswerable` where there is none of this id."""
    if not draft.has(scenario):
        raise Unanswerable(no_scenario(draft, scenario))
    return resolve(draft, scenario)


def _no_such_key(resolved: Resolved, path: Path) -> Unanswerable:
    if len(path) == 1 and path[0] in HEAD_KEYS:
        return Unanswerable("of the whole study", path[0])
    # Only the end of it may have been written: "pallets".
    ends = [whole for whole in resolved.values if len(whole) > 1 and whole[-len(path) :] == path]
    names = [dotted(whole) for whole in ends[:_FEW]]
    if len(ends) > 1 and len({(whole[0], whole[2:]) for whole in ends}) == 1:
        # They are those of all things of a sort, so all at once may be meant.
        names[-1:] = [".".join((ends[0][0], ANY, *ends[0][2:]))]
    return Unanswerable(no_key(path, names))


def _counted_in(draft: Draft, key: Key) -> str:
    if key.says.money is None:
        return key.says.counts
    reference = draft.reference_id or ""
    # A reference that is not there is a problem of its own; the input is there all the same.
    known = draft.has(reference)
    currency = resolve(draft, reference).raw("money", "currency") if known else ""
    return f"{currency} {key.says.money}".strip()
