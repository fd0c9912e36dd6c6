"""What holds in a scenario: entered, inherited, assumed (rule `study.tree`)."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from enum import Enum
from fractions import Fraction
from functools import cached_property, lru_cache
from typing import Any, Final, TypeAlias
from weakref import WeakValueDictionary

from whatif.records import dataclass
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.guesses import guesses_of, is_guess
from whatif.study.raw import Entries, Path, Raw
from whatif.study.schema.catalogue import (
    ANY,
    GROUPS,
    KEYS,
    TAKES_OUT,
    THINGS,
    Key,
    key_for,
    keys_of,
)
from whatif.study.schema.kinds import KindError
from whatif.units import Quantity

Line: TypeAlias = tuple[ScenarioDraft, ...]
"""A scenario behind all that it inherits from, the root first."""

GIVEN_BACK = ""
"""The text that takes an inherited value back to "not given" (rule `study.give-back`)."""


_OF_GROUP: Final = {group: keys_of(group) for group in GROUPS if group not in THINGS}
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


_ASSUMED: Final[Mapping[Path, Given]] = {key.pattern: Given(key.default, ASSUMED) for key in KEYS}


@dataclass(frozen=True, eq=False)
class Resolved:
    """All values that hold in one scenario, in the book's order.

    Every key is here: those of things for each thing that
    exists. Keys that are not known are not.

    Attributes:
        own: what the scenario itself enters; ``above``: what holds in its parent, None where it
            has none.
        eldest: the last of those that it inherits from, or itself; ``is_whole``: whether that one
            is a root, so that all that is inherited is known.
    """

    scenario: str
    values: Entries[Path, Given]
    things: Mapping[Path, tuple[str, ...]]
    own: ScenarioDraft = field(repr=False)
    above: "Resolved | None" = field(repr=False)
    eldest: str
    is_whole: bool

    @cached_property
    def handed_down(self) -> Mapping[Path, Given]:
        """What a scenario based on this one inherits of entered values."""
        # The parent's has been found already: it was needed for what holds here.
        given = {} if self.above is None else dict(self.above.handed_down)
        _enter(given, self.own, Source.INHERITED)
        return given

    @cached_property
    def as_inherited(self) -> Mapping[Path, Given]:
        """All values of a scenario that is based on this one and enters nothing."""
        values, handed_down = dict(self.values), self.handed_down
        for path in self.own.entered:
            if path in values:
                values[path] = handed_down.get(path) or _assumed(path)
        return values

    def ids(self, group: str) -> tuple[str, ...]:
        """The things of `group`, the parent's first; those taken out (by a 0) among them."""
        return self.things.get((group,), ())

    def has_thing(self, group: str, id_: str) -> bool:
        """Whether there is a thing of this id, taken out or not."""
        return id_ in self._things[group]

    @cached_property
    def _things(self) -> Mapping[str, frozenset[str]]:
        return {group: frozenset(self.ids(group)) for group in THINGS}

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

    @cached_property
    def metered_in(self) -> str | None:
        """The scenario whose hour meters hold here, None where nobody has read any."""
        line: list[Resolved] = []
        at: Resolved | None = self
        found: str | None = None
        while at is not None and found is None:
            if "metered_in" in vars(at):
                found = at.metered_in
                break
            line.append(at)
            on, cut = (at.value("hour_meters", key) for key in ("switched_on", "in_cut"))
            if on is not None and cut is not None and on.seconds:
                found = at.scenario
            at = at.above
        for each in line:
            # Where this property keeps what it has found.
            vars(each)["metered_in"] = found
        return found

    @cached_property
    def priced(self) -> tuple[str, ...]:
        """The parts whose pieces have a contribution."""
        parts = self.ids("part")
        return tuple(id_ for id_ in parts if self.value("part", id_, "contribution") is not None)

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
        known = self._weekly
        line: dict[str, None] = {}
        while part not in known:
            entered: Fraction | None = self.value("part", part, "weekly")
            after = self.operations.get(part, part)
            if entered is not None or self.has("part", part, "weekly"):
                known[part] = entered
            elif after == part or after in line:
                known[part] = None
            else:
                line[part] = None
                part = after
        for before in reversed(line):
            weekly, scrap = known[part], self.value("part", part, "scrap")
            left = 1 - (scrap.value if scrap is not None else 0)
            known[before] = None if weekly is None else weekly / left
            part = before
        return known[part]

    @cached_property
    def _weekly(self) -> dict[str, Fraction | None]:
        """What has been found of what is wanted a week."""
        return {}

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

    def asked_for(self, part: str, *groups: str) -> int:
        """Pieces of a part that rush and real orders, or those of some groups, ask for."""
        return sum(self._asked_for.get((group, part), 0) for group in groups or ("rush", "order"))

    @cached_property
    def _asked_for(self) -> Mapping[tuple[str, str], int]:
        pieces: dict[tuple[str, str], int] = {}
        for group in ("rush", "order"):
            for id_ in self.in_use(group):
                key = group, self.value(group, id_, "part")
                pieces[key] = pieces.get(key, 0) + (self.value(group, id_, "pieces") or 0)
        return pieces

    def is_wanted(self, part: str) -> bool:
        """Whether a part is wanted by the week, asked for, or stands before such a part."""
        return part in self._wanted

    @cached_property
    def _wanted(self) -> frozenset[str]:
        return frozenset(self.wanted)

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
    return _resolve_line(line_of(draft, scenario))


def resolve_all(draft: Draft) -> dict[str, Resolved]:
    """What holds in each scenario, each found out once, in file order."""
    found: dict[str, Resolved] = {}
    for id_ in draft.ids:
        # Up to one that is known, and down again.
        line: dict[str, ScenarioDraft] = {}
        at: ScenarioDraft | None = draft.scenario(id_)
        while at is not None and at.id not in found and at.id not in line:
            line[at.id] = at
            at = draft.scenario(at.parent) if at.parent and draft.has(at.parent) else None
        above = None if at is None else found.get(at.id)
        if at is not None and above is None:
            # A loop: once around before, so that each inherits from all others.
            ring = tuple(line.values())[list(line).index(at.id) :]
            for each in reversed(ring):
                above = _based_on(above, each)
        for each in reversed(line.values()):
            above = found[each.id] = _based_on(above, each)
    return {id_: found[id_] for id_ in draft.ids}


def line_of(draft: Draft, scenario: str) -> Line:
    """The scenario with all that it inherits from, the root first."""
    ids = (*reversed(draft.ancestors(scenario)), scenario)
    return tuple(draft.scenario(id_) for id_ in ids)


def metered_in(resolved: Mapping[str, Resolved], scenario: str) -> str | None:
    """The scenario whose hour meters hold in one, itself or the nearest above it.

    Of a study without problems; None where nobody has read any (rule `meters.share`).
    """
    return resolved[scenario].metered_in


@lru_cache(maxsize=64)
def _resolve_line(line: Line) -> Resolved:
    above = None
    for each in line[:-1]:
        above = _based_on(above, each)
    return _based_on(above, line[-1])


# An edit changes one scenario; the others, and what they inherit, stay as they were. So what holds
# in a scenario is kept by its own texts and by what holds above it, as long as anybody needs it.
_known: WeakValueDictionary[tuple[ScenarioDraft, int], Resolved] = WeakValueDictionary()


def _based_on(above: Resolved | None, own: ScenarioDraft) -> Resolved:
    """What holds in a scenario that is based on another one."""
    # While it is kept, so is what holds above it: no other has its place in memory.
    key = own, id(above)
    found = _known.get(key)
    if found is None:
        found = _known[key] = _resolved(above, own)
    return found


def _resolved(above: Resolved | None, own: ScenarioDraft) -> Resolved:
    things = _things(above, own)
    if above is not None and things is above.things:
        values = dict(above.as_inherited)
        _enter(values, own, Source.ENTERED, or_else=_assumed)
    else:
        given = {} if above is None else dict(above.handed_down)
        _enter(given, own, Source.ENTERED)
        values = {path: given.get(path) or _ASSUMED[key.pattern] for path, key in _paths(things)}
    if above is None:
        is_root = own.entered.get(("parent",), GIVEN_BACK) == GIVEN_BACK
        return Resolved(own.id, Entries(values), things, own, None, own.id, is_root)
    return Resolved(own.id, Entries(values), things, own, above, above.eldest, above.is_whole)


def _assumed(path: Path) -> Given:
    key = key_for(path)
    assert key is not None
    return _ASSUMED[key.pattern]


def _enter(
    given: dict[Path, Given],
    own: ScenarioDraft,
    kind: Source,
    or_else: Callable[[Path], Given] | None = None,
) -> None:
    """Put what a scenario enters to what is given, and take out what it gives back.

    What children do not inherit is left out where it is INHERITED. Where there is something else
    to hold instead of what is given back, that is put there.
    """
    origin, guesses = Origin(kind, own.id), guesses_of(own)
    guessed = Origin(kind, own.id, guessed=True)
    for path, raw in own.entered.items():
        key = key_for(path)
        if key is None or (kind is Source.INHERITED and not key.says.inherited):
            continue
        if raw != GIVEN_BACK:
            is_guessed = bool(guesses) and is_guess(guesses, path, raw)
            given[path] = Given(raw, guessed if is_guessed else origin)
        elif or_else is not None:
            given[path] = or_else(path)
        else:
            given.pop(path, None)


def _things(above: Resolved | None, own: ScenarioDraft) -> Mapping[Path, tuple[str, ...]]:
    """The ids below each path, the eldest scenario's first."""
    if above is None:
        return dict(own.things)
    things: dict[Path, tuple[str, ...]] | None = None
    for path, ids in own.things.items():
        there = above.things.get(path, ())
        both = tuple(dict.fromkeys((*there, *ids)))
        if len(both) > len(there):
            things = things or dict(above.things)
            things[path] = both
    return things or above.things


def _paths(things: Mapping[Path, tuple[str, ...]]) -> Iterator[tuple[Path, Key]]:
    """Every path that a screen may list, in the book's order."""
    for group in GROUPS:
        if group not in THINGS:
            yield from ((key.pattern, key) for key in _OF_GROUP[group])
        for id_ in things.get((group,), ()):
            yield from (((group, id_, key.name), key) for key in _OF_THING[group])
            above = (group, id_, "on")
            for machine in things.get(above, ()):
                yield from (((*above, machine, key.name), key) for key in _OF_ON)
