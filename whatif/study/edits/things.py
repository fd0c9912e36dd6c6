"""Edits of things: machines, shifts, parts, stops, rush and real orders."""

import math
from dataclasses import replace
from fractions import Fraction

from typing_extensions import override

from whatif.records import dataclass
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.edits.edit import (
    Edit,
    EditError,
    inherited_things,
    new_id,
    refuse,
    scenario_of,
    title_of,
)
from whatif.study.edits.starting import usual_amount
from whatif.study.guesses import moved_guesses, with_guesses, without_guess, written
from whatif.study.line_notes import with_part_renamed, without_lines
from whatif.study.raw import EMPTY, Path, Raw, frozen
from whatif.study.refused import NotThere, RefusalKind, no_key, no_sort, no_thing
from whatif.study.resolve import GIVEN_BACK, Resolved, Source, resolve
from whatif.study.schema.catalogue import (
    TAKES_OUT,
    THINGS,
    dotted,
    key_for,
    nothing_of,
    sorts_in,
)


def _there(draft: Draft, scenario: str, group: str, id_: str) -> Resolved:
    """What holds in a scenario that has a thing; raises `EditError` where it has none such."""
    _check_group(group)
    scenario_of(draft, scenario)
    resolved = resolve(draft, scenario)
    if id_ not in resolved.ids(group):
        raise EditError(no_thing(draft, scenario, (group, id_)))
    return resolved


def _check_group(group: str) -> None:
    if group not in THINGS:
        raise EditError(no_sort(group))


def _is_of(path: Path, group: str, id_: str) -> bool:
    """Whether a value is a thing's own, or what a part has other on it."""
    return any(sort == group and path[place] == id_ for place, sort in sorts_in(path).items())


def _renamed(path: Path, group: str, id_: str, new_id: str) -> Path:
    """A path with another id where it has that of a thing."""
    sorts = sorts_in(path)
    return tuple(
        new_id if sorts.get(place) == group and name == id_ else name
        for place, name in enumerate(path)
    )


def _names(path: Path, group: str) -> bool:
    """Whether ids of things of a sort stand at a path: the part of an order."""
    key = key_for(path)
    return key is not None and key.says.names == group


def _whole(weekly: Fraction | None) -> Raw:
    """Pieces a week, rounded up; the usual amount where nothing is known of them."""
    return usual_amount("part") if weekly is None else math.ceil(weekly)


@dataclass(frozen=True)
class AddThing(Edit):
    """A new thing in a scenario, with values by their keys below it ("cycle", "on.mill.cycle").

    `guessed`: nobody has measured the values; the scenario's notes say so.
    """

    scenario: str
    group: str
    id: str
    values: tuple[tuple[str, Raw], ...] = ()
    guessed: bool = False

    def __post_init__(self) -> None:
        values = tuple((name, frozen(raw)) for name, raw in self.values)
        object.__setattr__(self, "values", values)

    @override
    def apply(self, draft: Draft) -> Draft:
        _check_group(self.group)
        scenario = scenario_of(draft, self.scenario)
        above = (self.group, new_id(self.id))
        if self.id in resolve(draft, self.scenario).ids(self.group):
            raise refuse(RefusalKind.TAKEN, self.group, self.id)
        if any(path in scenario.entered for path in ((), above[:1], above)):
            raise refuse(RefusalKind.PLAIN_VALUE, self.group)
        values = {(*above, *name.split(".")): raw for name, raw in self.values}
        for path in values:
            if key_for(path) is None:
                raise EditError(no_key(path))
        changed = replace(scenario, entered={**scenario.entered, above: EMPTY, **values})
        guesses = {path: written(path, raw) for path, raw in values.items() if self.guessed}
        return draft.with_scenario(with_guesses(changed, guesses))

    @override
    def says(self, draft: Draft) -> str:
        return f"new {self.group} {self.id} in {title_of(draft, self.scenario)}"


@dataclass(frozen=True)
class RemoveThing(Edit):
    """Take a thing out of a scenario.

    One of the scenario's own goes with all that is entered for it, here and in the
    scenarios below; an inherited one is taken out by a 0 (rule `study.take-out`).
    """

    scenario: str
    group: str
    id: str

    @override
    def apply(self, draft: Draft) -> Draft:
        _there(draft, self.scenario, self.group, self.id)
        if self.id in inherited_things(draft, self.scenario, self.group):
            path = (self.group, self.id, TAKES_OUT[self.group])
            changed = draft.scenario(self.scenario).having(path, nothing_of(self.group))
            if self.group == "part":
                changed = without_lines(changed, (self.id,))
            return draft.with_scenario(without_guess(changed, path))
        for id_ in (self.scenario, *draft.descendants(self.scenario)):
            draft = draft.with_scenario(self._without(draft.scenario(id_)))
        return draft

    def _without(self, scenario: ScenarioDraft) -> ScenarioDraft:
        entered = {
            path: self._no_longer_named(scenario, path, raw)
            for path, raw in scenario.entered.items()
            if not _is_of(path, self.group, self.id)
        }
        left = moved_guesses(
            replace(scenario, entered=entered),
            lambda path, value: None if _is_of(path, self.group, self.id) else (path, value),
        )
        return without_lines(left, (self.id,)) if self.group == "part" else left

    def _no_longer_named(self, scenario: ScenarioDraft, path: Path, raw: Raw) -> Raw:
        """A value without the thing; raises `EditError` where it names that alone."""
        details = dotted(path[:2]), scenario.title, self.id
        if _names(path, self.group) and isinstance(raw, tuple):
            left = tuple(id_ for id_ in raw if id_ != self.id)
            if raw and not left:
                raise refuse(RefusalKind.MADE_THERE_ALONE, *details)
            return left
        if _names(path, self.group) and raw == self.id:
            raise refuse(RefusalKind.ASKED_FOR, *details)
        return raw

    @override
    def says(self, draft: Draft) -> str:
        return f"{self.group} {self.id} removed from {title_of(draft, self.scenario)}"


@dataclass(frozen=True)
class RenameThing(Edit):
    """Another id for a thing, in the whole study; what names it follows."""

    group: str
    id: str
    new_id: str

    @override
    def apply(self, draft: Draft) -> Draft:
        _check_group(self.group)
        new_id(self.new_id)
        if self.new_id == self.id:
            return draft
        known = dict.fromkeys(id_ for each in draft.scenarios for id_ in each.ids(self.group))
        if self.id not in known:
            raise EditError(NotThere(self.group, self.id, known=tuple(known)))
        if self.new_id in known:
            raise refuse(RefusalKind.TAKEN, self.group, self.new_id)
        return replace(draft, scenarios=tuple(map(self._followed, draft.scenarios)))

    def _followed(self, scenario: ScenarioDraft) -> ScenarioDraft:
        entered = {self._path(path): self._raw(path, raw) for path, raw in scenario.entered.items()}
        followed = moved_guesses(
            replace(scenario, entered=entered),
            lambda path, value: (self._path(path), str(self._raw(path, value))),
        )
        if self.group != "part":
            return followed
        return with_part_renamed(followed, self.id, self.new_id)

    def _path(self, path: Path) -> Path:
        return _renamed(path, self.group, self.id, self.new_id)

    def _raw(self, path: Path, raw: Raw) -> Raw:
        if not _names(path, self.group):
            return raw
        if isinstance(raw, tuple):
            return tuple(self.new_id if id_ == self.id else id_ for id_ in raw)
        return self.new_id if raw == self.id else raw

    @override
    def says(self, draft: Draft) -> str:
        return f"{self.group} {self.id} -> {self.new_id}"


@dataclass(frozen=True)
class DuplicateThing(Edit):
    """A second thing of the same sort with all that holds for the first one in a scenario.

    What parts have on a machine, and where they may be made, goes for its copy too. A copy of an
    operation stands by itself: one part alone can come after another.
    """

    scenario: str
    group: str
    id: str
    new_id: str

    @override
    def apply(self, draft: Draft) -> Draft:
        resolved = _there(draft, self.scenario, self.group, self.id)
        added = AddThing(self.scenario, self.group, new_id(self.new_id)).apply(draft)
        scenario = added.scenario(self.scenario)
        copied: dict[Path, Raw] = {}
        guesses: dict[Path, str] = {}
        for path, given in resolved.values.items():
            to = _renamed(path, self.group, self.id, self.new_id)
            if _names(path, "part") and path[0] == "part":
                continue
            if to != path and given.raw is not None and resolved.is_given(*path):
                copied[to] = given.raw
                if given.origin.guessed:
                    guesses[to] = written(path, given.raw)
        if self.group == "part" and ("part", self.new_id, "weekly") not in copied:
            # It was wanted as often as the next operation needs it.
            copied["part", self.new_id, "weekly"] = _whole(resolved.weekly(self.id))
        entered = {**scenario.entered, **copied, **self._allowed_on(resolved)}
        changed = replace(scenario, entered=entered)
        return added.with_scenario(with_guesses(changed, guesses))

    def _allowed_on(self, resolved: Resolved) -> dict[Path, Raw]:
        """The lists that name the first one, with its copy behind it."""
        lists: dict[Path, Raw] = {}
        for path, given in resolved.values.items():
            raw = given.raw
            if _names(path, self.group) and isinstance(raw, tuple) and self.id in raw:
                place = raw.index(self.id) + 1
                lists[path] = (*raw[:place], self.new_id, *raw[place:])
        return lists

    @override
    def says(self, draft: Draft) -> str:
        title = title_of(draft, self.scenario)
        return f"{self.group} {self.new_id}, a copy of {self.id}, in {title}"


@dataclass(frozen=True)
class BringBack(Edit):
    """Have a thing in a scenario again that was taken out by a 0.

    Where this scenario entered the 0 and inherits another value, that one holds again; else
    the smallest that is of any use is entered, as an assumption.
    """

    scenario: str
    group: str
    id: str

    @override
    def apply(self, draft: Draft) -> Draft:
        resolved = _there(draft, self.scenario, self.group, self.id)
        if not resolved.is_out(self.group, self.id):
            title = title_of(draft, self.scenario)
            raise refuse(RefusalKind.NOT_TAKEN_OUT, self.group, self.id, title)
        path, scenario = self._path, draft.scenario(self.scenario)
        given_back = draft.with_scenario(scenario.without(path))
        above = resolve(given_back, self.scenario)
        from_above = above.origin(*path).kind is Source.INHERITED
        if from_above and not above.is_out(self.group, self.id):
            return given_back
        raw = usual_amount(self.group)
        guess = {path: written(path, raw)}
        return draft.with_scenario(with_guesses(scenario.having(path, raw), guess))

    @property
    def _path(self) -> Path:
        return (self.group, self.id, TAKES_OUT[self.group])

    @override
    def says(self, draft: Draft) -> str:
        after = resolve(self.apply(draft), self.scenario).raw(*self._path)
        value = written(self._path, GIVEN_BACK if after is None else after)
        title = title_of(draft, self.scenario)
        return f"{self.group} {self.id} back in {title} ({self._path[-1]} {value})"
