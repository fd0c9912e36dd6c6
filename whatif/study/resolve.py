"""What holds in a scenario: what it enters, what it inherits, what is assumed."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum

from whatif.study.catalogue import ANY, KEYS, THINGS, Key, key_for, keys_of
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.order import ids_in
from whatif.study.raw import Entries, Path, Raw

GIVEN_BACK = ""
"""The text that takes an inherited value back to "not given"."""


class Source(Enum):
    """Where a value is from (the cell model, section 1)."""

    ENTERED = "entered"
    INHERITED = "inherited"
    ASSUMED = "assumed"


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a value is from: `scenario` is the one that enters it, None for an assumed one."""

    kind: Source
    scenario: str | None

    @property
    def words(self) -> str:
        """As a screen says it: "inherited from today"."""
        if self.kind is Source.INHERITED:
            return f"inherited from {self.scenario}"
        return str(self.kind.value)


ASSUMED = Origin(Source.ASSUMED, None)


@dataclass(frozen=True, slots=True)
class Given:
    """A raw value (None: not given, and no default) and where it is from."""

    raw: Raw | None
    origin: Origin


@dataclass(frozen=True)
class Resolved:
    """All values that hold in one scenario, in the order of the page.

    Every key of the cell model is here: those of things for each thing that
    exists. Keys that are not known are not.
    """

    scenario: str
    values: Entries[Path, Given]
    things: Mapping[str, tuple[str, ...]]

    def ids(self, group: str) -> tuple[str, ...]:
        """The things of `group`, the parent's first; those taken out (by a 0) among them."""
        return self.things.get(group, ())

    def raw(self, *path: str) -> Raw | None:
        """The raw value at a path, None where it is not given or there is no such thing."""
        given = self.values.get(path)
        return None if given is None else given.raw

    def origin(self, *path: str) -> Origin:
        """Where the value at a path is from."""
        given = self.values.get(path)
        return ASSUMED if given is None else given.origin


def resolve(draft: Draft, scenario: str) -> Resolved:
    """What holds in `scenario`; raises KeyError where there is none of this id.

    Works on drafts with errors as well: a missing parent gives nothing, a loop is
    followed once around.
    """
    line = [draft.scenario(one) for one in (*reversed(draft.ancestors(scenario)), scenario)]
    given = _given(line)
    things = {group: _ids(line, (group,)) for group in THINGS}
    values: dict[Path, Given] = {}
    for path, key in _paths(line, things):
        values[path] = given.get(path) or Given(key.default, ASSUMED)
    return Resolved(scenario, Entries(values), things)


def _given(line: list[ScenarioDraft]) -> dict[Path, Given]:
    """The values that some scenario of the line of descent enters and none gives back."""
    given: dict[Path, Given] = {}
    own = line[-1]
    for each in line:
        kind = Source.ENTERED if each is own else Source.INHERITED
        for path, raw in each.entered.items():
            key = key_for(path)
            if key is None or (each is not own and not key.inherits):
                continue
            if raw == GIVEN_BACK:
                given.pop(path, None)
            else:
                given[path] = Given(raw, Origin(kind, each.id))
    return given


def _ids(line: list[ScenarioDraft], above: Path) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one for each in line for one in ids_in(each.entered, above)))


def _paths(
    line: list[ScenarioDraft], things: Mapping[str, tuple[str, ...]]
) -> Iterator[tuple[Path, Key]]:
    """Every path that a screen may list, in the order of the page."""
    for group in dict.fromkeys(key.group for key in KEYS):
        if group not in things:
            for key in keys_of(group):
                yield key.pattern, key
            continue
        for one in things[group]:
            for key in keys_of(group):
                if key.pattern.count(ANY) == 1:
                    yield (group, one, *key.pattern[2:]), key
            if group == "part":
                yield from _on_paths(line, one)


def _on_paths(line: list[ScenarioDraft], part: str) -> Iterator[tuple[Path, Key]]:
    above = ("part", part, "on")
    for machine in _ids(line, above):
        for key in keys_of("part"):
            if key.pattern.count(ANY) == 2:
                yield (*above, machine, key.name), key
