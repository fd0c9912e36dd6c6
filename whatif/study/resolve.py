"""What holds in a scenario: entered, inherited, assumed (rule `study.tree`)."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import cache, cached_property, lru_cache
from typing import Any, Final, TypeAlias

from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.guesses import guesses_of, is_guess
from whatif.study.raw import Entries, Path, Raw
from whatif.study.schema.catalogue import ANY, GROUPS, TAKES_OUT, THINGS, Key, key_for, keys_of
from whatif.study.schema.kinds import KindError
from whatif.units import Quantity

Line: TypeAlias = tuple[ScenarioDraft, ...]
"""A scenario behind all that it inherits from, the root first."""

GIVEN_BACK = ""
"""The text that takes an inherited value back to "not given" (rule `study.give-back`)."""


_OF_THING: Final = {
    group: tuple(key for key in keys_of(group) if key.pattern.count(ANY) == 1) for group in THINGS
}
_OF_ON: Final = tuple(key for key in keys_of("part") if key.pattern.count(ANY) == 2)


_WEEKLY: Final = ("part", ANY, "weekly")


class Source(Enum):
    """Where a value is from (rule `study.origin`)."""

    ENTERED = "entered"
    INHERITED = "inherited"
    ASSUMED = "assumed"


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a value is from: `scenario` is the one that enters it, None for an assumed one.

    `guessed` tells that it is entered, but as a starting value that nobody has measured.
    """

    kind: Source
    scenario: str | None
    guessed: bool = False

    @property
    def is_assumed(self) -> bool:
        """Whether nobody has said the value: a default, or a guess that is to be measured."""
        return self.guessed or self.kind is Source.ASSUMED


ASSUMED = Origin(Source.ASSUMED, None)


@dataclass(frozen=True, slots=True)
class Given:
    """A raw value (None: not given, and no default) and where it is from."""

    raw: Raw | None
    origin: Origin


@dataclass(frozen=True)
class Resolved:
    """All values that hold in one scenario, in the book's order.

    Every key is here: those of things for each thing that
    exists. Keys that are not known are not.
    """

    scenario: str
    values: Entries[Path, Given]
    things: Mapping[Path, tuple[str, ...]]

    def ids(self, group: str) -> tuple[str, ...]:
        """The things of `group`, the parent's first; those taken out (by a 0) among them."""
        return self.things.get((group,), ())

    def differs_on(self, part: str) -> tuple[str, ...]:
        """The machines on which something of a part is other than elsewhere."""
        return self.things.get(("part", part, "on"), ())

    def raw(self, *path: str) -> Raw | None:
        """The raw value at a path, None where it is not given or there is no such thing."""
        given = self.values.get(path)
        return None if given is None else given.raw

    def has(self, *path: str) -> bool:
        """Whether there is a value at a path, entered or assumed."""
        return self.raw(*path) not in (None, GIVEN_BACK)

    def value(self, *path: str) -> Any:
        """The typed value at a path, None where there is none or it cannot be read."""
        key, raw = key_for(path), self.raw(*path)
        if key is None or raw is None:
            return None
        try:
            return key.kind.read(raw)
        except KindError:
            return None

    def is_out(self, group: str, id_: str) -> bool:
        """Whether a thing is known to be taken out by a 0 (rule `study.take-out`)."""
        amount = self.value(group, id_, TAKES_OUT[group])
        if amount is None and group == "part":
            amount = self.weekly(id_)
        return amount is not None and not _worth(amount)

    @cached_property
    def operations(self) -> Mapping[str, str]:
        """The part that comes after each one that stands before another (rule `orders.made`)."""
        return {
            before: part
            for part in self.ids("part")
            if (before := self.value("part", part, "after")) is not None and before != part
        }

    def must_have(self, path: Path) -> bool:
        """Whether a value must be given at a path: `weekly` too, but before another operation."""
        key = key_for(path)
        if key is None:
            return False
        return key.required or (key.pattern == _WEEKLY and path[1] not in self.operations)

    def weekly(self, part: str) -> Fraction | None:
        """Pieces wanted a week (rule `orders.due`).

        Of an operation before another, where not entered, what that one needs of good pieces:
        what is wanted of it / (1 - its scrap). None where nothing can be known of it.
        """
        factor, seen = Fraction(1), {part}
        while True:
            entered: Fraction | None = self.value("part", part, "weekly")
            if entered is not None or self.has("part", part, "weekly"):
                return None if entered is None else entered * factor
            part = self.operations.get(part, part)
            if part in seen:
                return None
            seen.add(part)
            scrap = self.value("part", part, "scrap")
            factor /= 1 - (scrap.value if scrap is not None else 0)

    def in_use(self, group: str) -> tuple[str, ...]:
        """The things of a group that are not taken out."""
        return self._in_use[group]

    @cached_property
    def _in_use(self) -> Mapping[str, tuple[str, ...]]:
        return {
            group: tuple(id_ for id_ in self.ids(group) if not self.is_out(group, id_))
            for group in THINGS
        }

    @cached_property
    def asked(self) -> frozenset[str]:
        """The parts that rush and real orders ask for."""
        orders = ((group, id_) for group in ("rush", "order") for id_ in self.in_use(group))
        return frozenset(self.value(group, id_, "part") for group, id_ in orders)

    @cached_property
    def wanted(self) -> tuple[str, ...]:
        """The parts that are wanted by the week, asked for, or stand before such a part."""
        wanted = {*self.asked, *self.in_use("part")}
        for part in tuple(wanted):
            before = self.value("part", part, "after")
            while before is not None and before not in wanted:
                wanted.add(before)
                before = self.value("part", before, "after")
        return tuple(part for part in self.ids("part") if part in wanted)

    def machines_of(self, part: str) -> tuple[str, ...]:
        """The machines in use on which a part may be made."""
        in_use, allowed = self.in_use("machine"), self.value("part", part, "machines")
        return in_use if allowed is None else tuple(id_ for id_ in in_use if id_ in allowed)

    def meant(self, path: Path) -> object:
        """What a value says, however it is written; "" of a thing that is not there."""
        if path not in self.values:
            return ""
        if not self.has(*path):
            return None
        read = self.value(*path)
        if read is None:
            return self.raw(*path)
        return tuple(map(_worth, read)) if isinstance(read, tuple) else _worth(read)

    def origin(self, *path: str) -> Origin:
        """Where the value at a path is from."""
        given = self.values.get(path)
        return ASSUMED if given is None else given.origin

    def is_given(self, *path: str) -> bool:
        """Whether somebody entered the value at a path, here or further up."""
        return self.origin(*path).kind is not Source.ASSUMED


def _worth(read: object) -> object:
    """What a reading is worth: "1 h" is as much as "60 min"."""
    return read.value if isinstance(read, Quantity) else read


def resolve(draft: Draft, scenario: str) -> Resolved:
    """What holds in `scenario`; raises KeyError where there is none of this id.

    Works on drafts with errors as well: a missing parent gives nothing, a loop is
    followed once around.
    """
    return resolve_line(line_of(draft, scenario))


def line_of(draft: Draft, scenario: str) -> Line:
    """The scenario with all that it inherits from, the root first."""
    ids = (*reversed(draft.ancestors(scenario)), scenario)
    return tuple(draft.scenario(id_) for id_ in ids)


def metered_in(resolved: Mapping[str, Resolved], scenario: str) -> str | None:
    """The scenario whose hour meters hold in one, itself or the nearest above it.

    Of a study without problems; None where nobody has read any (rule `meters.share`).
    """
    at: str | None = scenario
    while at is not None:
        on, cut = (resolved[at].value("hour_meters", key) for key in ("switched_on", "in_cut"))
        if on is not None and cut is not None and on.seconds:
            return at
        at = resolved[at].value("parent")
    return None


# An edit changes one scenario; the others, and what they inherit, stay as they were.
@lru_cache(maxsize=64)
def resolve_line(line: Line) -> Resolved:
    """What holds in the last scenario of a line of descent."""
    given = _given(line)
    things = _things(line)
    values = {path: given.get(path) or _assumed(key) for path, key in _paths(things)}
    return Resolved(line[-1].id, Entries(values), things)


@cache
def _assumed(key: Key) -> Given:
    return Given(key.default, ASSUMED)


def _given(line: Line) -> dict[Path, Given]:
    """The values that some scenario of the line of descent enters and none gives back."""
    given: dict[Path, Given] = {}
    own = line[-1]
    for each in line:
        kind = Source.ENTERED if each is own else Source.INHERITED
        origin, guesses = Origin(kind, each.id), guesses_of(each)
        guessed = Origin(kind, each.id, guessed=True)
        for path, raw in each.entered.items():
            key = key_for(path)
            if key is None or (each is not own and not key.says.inherited):
                continue
            if raw == GIVEN_BACK:
                given.pop(path, None)
            else:
                is_guessed = bool(guesses) and is_guess(guesses, path, raw)
                given[path] = Given(raw, guessed if is_guessed else origin)
    return given


def _things(line: Line) -> dict[Path, tuple[str, ...]]:
    """The ids below each path, the eldest scenario's first."""
    things: dict[Path, dict[str, None]] = {}
    for each in line:
        for above, ids in each.things.items():
            things.setdefault(above, {}).update(dict.fromkeys(ids))
    return {above: tuple(ids) for above, ids in things.items()}


def _paths(things: Mapping[Path, tuple[str, ...]]) -> Iterator[tuple[Path, Key]]:
    """Every path that a screen may list, in the book's order."""
    for group in GROUPS:
        if group not in THINGS:
            yield from ((key.pattern, key) for key in keys_of(group))
        for id_ in things.get((group,), ()):
            yield from (((group, id_, key.name), key) for key in _OF_THING[group])
            above = (group, id_, "on")
            for machine in things.get(above, ()):
                yield from (((*above, machine, key.name), key) for key in _OF_ON)
