"""A study as its texts stand in a file or an editor: ordered, immutable, maybe wrong."""

from collections.abc import Iterator, Mapping
from dataclasses import field, replace
from functools import cached_property
from typing import Final

from whatif.records import dataclass
from whatif.study.raw import Path, Raw
from whatif.study.schema.catalogue import head_in_book_order, ids_in, in_book_order

_NO_LEVERS: Final = (("title",), ("notes",), ("parent",), ("done_on",))
"""What a scenario may say beside what is other in it."""


@dataclass(frozen=True)
class ScenarioDraft:
    """What is entered in one scenario, and nothing that it inherits.

    `entered` has the value at each path, always in the book's order, things
    of one sort in the order they were entered. A thing without values stands as
    an empty `Table` at its own path. A path of no parts holds a value that stands
    where the scenario should be.
    """

    id: str
    entered: Mapping[Path, Raw] = field(default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "entered", in_book_order(self.entered))

    @property
    def parent(self) -> str | None:
        """The id that is entered as parent, or None."""
        return self._text("parent") or None

    @property
    def title(self) -> str:
        """The title that is entered, or else the id."""
        return self._text("title") or self.id

    @property
    def changes_nothing(self) -> bool:
        """Whether it is based on another one and enters nothing that would make it differ."""
        return self.parent is not None and all(path[:1] in _NO_LEVERS for path in self.entered)

    def _text(self, name: str) -> str:
        raw = self.entered.get((name,))
        return raw if isinstance(raw, str) else ""

    @cached_property
    def things(self) -> Mapping[Path, tuple[str, ...]]:
        """The things that something is entered for, by the path above their ids."""
        return ids_in(self.entered)

    def ids(self, group: str) -> tuple[str, ...]:
        """The things of `group` that something is entered for, in the order of entering."""
        return self.things.get((group,), ())

    def having(self, path: Path, raw: Raw) -> "ScenarioDraft":
        """A copy with one value set."""
        return replace(self, entered={**self.entered, path: raw})

    def without(self, *paths: Path) -> "ScenarioDraft":
        """A copy without the values at `paths` and below them."""
        kept = {
            path: raw
            for path, raw in self.entered.items()
            if not any(path[: len(gone)] == gone for gone in paths)
        }
        return replace(self, entered=kept)


@dataclass(frozen=True)
class Draft:
    """A whole study before it is checked.

    `head` has the root keys, unknown ones among them; `preamble` the comment before
    the first key, kept as it is; `newline` what ends a line of the file.
    """

    head: Mapping[str, Raw] = field(default_factory=dict)
    scenarios: tuple[ScenarioDraft, ...] = ()
    preamble: str = ""
    newline: str = field(default="\n", compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "head", head_in_book_order(self.head))
        # A writer puts what is no table first, so this is the only order that stays.
        plain = tuple(each for each in self.scenarios if () in each.entered)
        if plain:
            rest = tuple(each for each in self.scenarios if () not in each.entered)
            object.__setattr__(self, "scenarios", plain + rest)
        if self.preamble and not self.preamble.endswith("\n"):
            object.__setattr__(self, "preamble", self.preamble + "\n")

    def __iter__(self) -> Iterator[ScenarioDraft]:
        return iter(self.scenarios)

    @property
    def ids(self) -> tuple[str, ...]:
        """The scenarios' ids in file order."""
        return self._family.ids

    @property
    def _family(self) -> "_Family":
        """Who is who, found out once for each of the latest few drafts.

        Beside the drafts, of which thousands are kept for undoing.
        """
        known, family = _families.get(id(self), (None, None))
        if known is not self or family is None:
            family = _Family(self.scenarios)
            _families[id(self)] = self, family
            if len(_families) > _FAMILIES_KEPT:
                _families.pop(next(iter(_families)), None)
        return family

    @property
    def reference_id(self) -> str | None:
        """The scenario that gains are measured against, None in a study without scenarios.

        The one that the head names, whether or not there is such a scenario, else the first.
        """
        return self._named("reference")

    @property
    def today_id(self) -> str | None:
        """The scenario that stands in the shop now, likewise the first where none is named."""
        return self._named("today")

    def _named(self, name: str) -> str | None:
        named = self.head.get(name)
        if isinstance(named, str) and named:
            return named
        return self.scenarios[0].id if self.scenarios else None

    def has(self, scenario: str) -> bool:
        """Whether there is a scenario with this id."""
        return scenario in self._family.by_id

    def meant(self, named: str) -> tuple[str, ...]:
        """The ids of the scenarios that a text may name: the one of this id, else all so titled."""
        if self.has(named):
            return (named,)
        title = _as_title(named)
        return tuple(each.id for each in self.scenarios if _as_title(each.title) == title)

    def scenario(self, scenario: str) -> ScenarioDraft:
        """The scenario with this id; raises KeyError where there is none."""
        return self._family.by_id[scenario]

    def children(self, scenario: str) -> tuple[str, ...]:
        """The ids of the scenarios based directly on this one, in file order."""
        return self._family.children.get(scenario, ())

    def ancestors(self, scenario: str) -> tuple[str, ...]:
        """The ids that `scenario` inherits from, nearest first.

        Ends before a parent that is missing, or that was met already in a loop.
        """
        by_id = self._family.by_id
        met = {scenario: None}
        at = by_id.get(scenario)
        while at is not None and at.parent is not None and at.parent not in met:
            at = by_id.get(at.parent)
            if at is not None:
                met[at.id] = None
        return tuple(met)[1:]

    def descendants(self, scenario: str) -> tuple[str, ...]:
        """The ids of all scenarios that inherit from this one, in file order."""
        below = {scenario}
        to_look_at = [scenario] if self.has(scenario) else []
        while to_look_at:
            new = [child for child in self.children(to_look_at.pop()) if child not in below]
            below.update(new)
            to_look_at += new
        return tuple(id_ for id_ in self.ids if id_ in below and id_ != scenario)

    def parents_first(self) -> Iterator[ScenarioDraft]:
        """All scenarios, each behind its parent; where parents make a loop one of them begins."""
        done: set[str] = set()
        for id_ in self.ids:
            line: dict[str, ScenarioDraft] = {}
            at = self._family.by_id.get(id_)
            while at is not None and at.id not in done and at.id not in line:
                line[at.id] = at
                at = self._family.by_id.get(at.parent or "")
            done.update(line)
            yield from reversed(line.values())

    def with_scenario(self, changed: ScenarioDraft) -> "Draft":
        """A copy with one scenario in the place of the one with the same id."""
        return replace(
            self,
            scenarios=tuple(changed if each.id == changed.id else each for each in self.scenarios),
        )

    def with_head(self, name: str, raw: Raw | None) -> "Draft":
        """A copy with one root key set, or taken out where `raw` is None."""
        head = {key: value for key, value in self.head.items() if key != name}
        if raw is not None:
            head[name] = raw
        return replace(self, head=head)


class _Family:
    """The scenarios of a draft by their ids, and the children of each."""

    def __init__(self, scenarios: tuple[ScenarioDraft, ...]) -> None:
        self.ids = tuple(each.id for each in scenarios)
        self.by_id = dict(zip(self.ids, scenarios, strict=True))
        children: dict[str, list[str]] = {}
        for each in scenarios:
            if each.parent is not None:
                children.setdefault(each.parent, []).append(each.id)
        self.children = {parent: tuple(ids) for parent, ids in children.items()}


_FAMILIES_KEPT: Final = 8
_families: dict[int, tuple[Draft, _Family]] = {}


def _as_title(text: str) -> str:
    """A title as it is compared: capitals and spaces make no difference."""
    return " ".join(text.split()).casefold()
