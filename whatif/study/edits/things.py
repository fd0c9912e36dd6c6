"""Edits of things: machines, shifts, parts, stops, rush and real orders."""

from dataclasses import dataclass, replace

from typing_extensions import override

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
from whatif.study.guesses import Guesses, moved_guesses, with_guesses, without_guess, written
from whatif.study.raw import EMPTY, Path, Raw, frozen
from whatif.study.refused import NotThere, RefusalKind, no_key, no_sort, no_thing
from whatif.study.resolve import GIVEN_BACK, Resolved, Source, resolve
from whatif.study.schema.catalogue import TAKES_OUT, THINGS, dotted, key_for, nothing_of


def _check_group(group: str) -> None:
    if group not in THINGS:
        raise EditError(no_sort(group))


def _names(path: Path, group: str) -> bool:
    """Whether ids of things of a sort stand at a path: the part of an order."""
    key = key_for(path)
    return key is not None and key.says.names == group


def _is_on(path: Path, machine: str) -> bool:
    return path[:1] == ("part",) and path[2:4] == ("on", machine)


@dataclass(frozen=True)
class AddThing(Edit):
    """A new thing in a scenario, with values by their keys below it ("cycle", "on.mill.cycle").

    `guessed` names those of the values that nobody has measured; the scenario's notes say so.
    """

    scenario: str
    group: str
    id: str
    values: tuple[tuple[str, Raw], ...] = ()
    guessed: tuple[str, ...] = ()

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
        entered: dict[Path, Raw] = {**scenario.entered, above: EMPTY}
        for name, raw in self.values:
            path = (*above, *name.split("."))
            if key_for(path) is None:
                raise EditError(no_key(path))
            entered[path] = raw
        guesses = {
            (*above, *name.split(".")): written((*above, *name.split(".")), raw)
            for name, raw in self.values
            if name in self.guessed
        }
        changed = replace(scenario, entered=entered)
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
        _check_group(self.group)
        scenario = scenario_of(draft, self.scenario)
        if self.id not in resolve(draft, self.scenario).ids(self.group):
            raise EditError(no_thing(draft, self.scenario, (self.group, self.id)))
        if self.id in inherited_things(draft, self.scenario, self.group):
            path = (self.group, self.id, TAKES_OUT[self.group])
            changed = scenario.having(path, nothing_of(self.group))
            return draft.with_scenario(without_guess(changed, path))
        for id_ in (self.scenario, *draft.descendants(self.scenario)):
            draft = draft.with_scenario(self._without(draft.scenario(id_)))
        return draft

    def _without(self, scenario: ScenarioDraft) -> ScenarioDraft:
        entered: dict[Path, Raw] = {}
        for path, raw in scenario.entered.items():
            if path[:2] == (self.group, self.id):
                continue
            if self.group == "machine" and _is_on(path, self.id):
                continue
            if self.group == "machine" and _names(path, "machine") and isinstance(raw, tuple):
                raw = self._fewer_machines(scenario, path, raw)
            if self.group == "part" and _names(path, "part") and raw == self.id:
                kind = RefusalKind.ASKED_FOR
                raise refuse(kind, dotted(path[:2]), scenario.title, self.id)
            entered[path] = raw
        return moved_guesses(replace(scenario, entered=entered), self._without_guess)

    def _without_guess(self, path: Path, value: str) -> tuple[Path, str] | None:
        gone = path[:2] == (self.group, self.id)
        gone |= self.group == "machine" and _is_on(path, self.id)
        return None if gone else (path, value)

    def _fewer_machines(
        self, scenario: ScenarioDraft, path: Path, raw: tuple[Raw, ...]
    ) -> tuple[Raw, ...]:
        left = tuple(machine for machine in raw if machine != self.id)
        if raw and not left:
            kind = RefusalKind.MADE_THERE_ALONE
            raise refuse(kind, dotted(path[:2]), scenario.title, self.id)
        return left

    @override
    def says(self, draft: Draft) -> str:
        return f"{self.group} {self.id} taken out of {title_of(draft, self.scenario)}"


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
        return replace(draft, scenarios=tuple(self._renamed(each) for each in draft.scenarios))

    def _renamed(self, scenario: ScenarioDraft) -> ScenarioDraft:
        entered = {self._path(path): self._raw(path, raw) for path, raw in scenario.entered.items()}
        return moved_guesses(replace(scenario, entered=entered), self._guess)

    def _guess(self, path: Path, value: str) -> tuple[Path, str]:
        names = self.group == "part" and _names(path, "part") and value == self.id
        return self._path(path), self.new_id if names else value

    def _path(self, path: Path) -> Path:
        if path[:2] == (self.group, self.id):
            return (self.group, self.new_id, *path[2:])
        if self.group == "machine" and _is_on(path, self.id):
            return (*path[:3], self.new_id, *path[4:])
        return path

    def _raw(self, path: Path, raw: Raw) -> Raw:
        if self.group == "machine" and _names(path, "machine") and isinstance(raw, tuple):
            return tuple(self.new_id if machine == self.id else machine for machine in raw)
        if self.group == "part" and _names(path, "part") and raw == self.id:
            return self.new_id
        return raw

    @override
    def says(self, draft: Draft) -> str:
        return f"{self.group} {self.id} -> {self.new_id}"


def _must_be_there(draft: Draft, scenario: str, group: str, id_: str) -> Resolved:
    scenario_of(draft, scenario)
    resolved = resolve(draft, scenario)
    if id_ not in resolved.ids(group):
        raise EditError(no_thing(draft, scenario, (group, id_)))
    return resolved


@dataclass(frozen=True)
class DuplicateThing(Edit):
    """A second thing of the same sort with all that holds for the first one in a scenario.

    What parts have on a machine, and where they may be made, goes for its copy too.
    """

    scenario: str
    group: str
    id: str
    new_id: str

    @override
    def apply(self, draft: Draft) -> Draft:
        resolved = _must_be_there(draft, self.scenario, self.group, self.id)
        added = AddThing(self.scenario, self.group, new_id(self.new_id)).apply(draft)
        scenario = added.scenario(self.scenario)
        copied: dict[Path, Raw] = {}
        guesses: dict[Path, str] = {}
        for path, given in resolved.values.items():
            to = self._copy_of(path)
            if to is None or given.raw is None or given.origin.kind is Source.ASSUMED:
                continue
            copied[to] = given.raw
            if given.origin.guessed:
                guesses[to] = written(path, given.raw)
        copied |= self._allowed_on(resolved)
        entered = {**scenario.entered, **copied}
        if copied and any(path[:2] == (self.group, self.new_id) for path in copied):
            del entered[(self.group, self.new_id)]
        changed = replace(scenario, entered=entered)
        return added.with_scenario(with_guesses(changed, guesses))

    def _copy_of(self, path: Path) -> Path | None:
        if path[:2] == (self.group, self.id):
            return (self.group, self.new_id, *path[2:])
        on_it = self.group == "machine" and path[:1] == ("part",)
        if on_it and path[2:4] == ("on", self.id):
            return (*path[:3], self.new_id, *path[4:])
        return None

    def _allowed_on(self, resolved: Resolved) -> dict[Path, Raw]:
        """The lists of machines that have the first one, with its copy behind it."""
        found: dict[Path, Raw] = {}
        for path, given in resolved.values.items():
            if self.group != "machine" or not _names(path, "machine"):
                continue
            if isinstance(given.raw, tuple) and self.id in given.raw:
                place = given.raw.index(self.id) + 1
                found[path] = (*given.raw[:place], self.new_id, *given.raw[place:])
        return found

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
        resolved = _must_be_there(draft, self.scenario, self.group, self.id)
        if not resolved.is_out(self.group, self.id):
            title = title_of(draft, self.scenario)
            raise refuse(RefusalKind.NOT_TAKEN_OUT, self.group, self.id, title)
        path = self._path
        scenario = scenario_of(draft, self.scenario)
        if path in scenario.entered:
            given_back = draft.with_scenario(scenario.without(path))
            there = resolve(given_back, self.scenario)
            known = self.id in there.ids(self.group) and there.raw(*path) is not None
            from_above = known and there.origin(*path).kind is Source.INHERITED
            if from_above and not there.is_out(self.group, self.id):
                return given_back
        raw = usual_amount(self.group)
        guesses: Guesses = {path: written(path, raw)}
        return draft.with_scenario(with_guesses(scenario.having(path, raw), guesses))

    @property
    def _path(self) -> Path:
        return (self.group, self.id, TAKES_OUT[self.group])

    @override
    def says(self, draft: Draft) -> str:
        after = resolve(self.apply(draft), self.scenario).raw(*self._path)
        value = written(self._path, GIVEN_BACK if after is None else after)
        title = title_of(draft, self.scenario)
        return f"{self.group} {self.id} back in {title} ({self._path[-1]} {value})"
