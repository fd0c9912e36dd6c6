"""Edits that make a second thing of one, and that bring back one that was taken out."""

from dataclasses import dataclass, replace

from whatif.study.draft import Draft
from whatif.study.edits.edit import Edit, EditError, new_id, scenario_of, title_of
from whatif.study.edits.starting import BRINGS_BACK
from whatif.study.edits.things import AddThing, names_machines
from whatif.study.guesses import Guesses, with_guesses, written
from whatif.study.raw import Entries, Path, Raw
from whatif.study.resolve import GIVEN_BACK, Resolved, Source, resolve
from whatif.study.schema.catalogue import TAKES_OUT


def is_out(resolved: Resolved, group: str, one: str) -> bool:
    """Whether a thing is taken out of a scenario by a 0 (the cell model, section 1)."""
    raw = resolved.raw(group, one, TAKES_OUT[group])
    if isinstance(raw, str):
        # A time, of a stop.
        return raw.split()[:1] == ["0"]
    return raw == 0


def _must_be_there(draft: Draft, scenario: str, group: str, one: str) -> Resolved:
    scenario_of(draft, scenario)
    resolved = resolve(draft, scenario)
    if one not in resolved.ids(group):
        raise EditError(f"There is no {group} {one} in {title_of(draft, scenario)}.")
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

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`."""
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
        changed = replace(scenario, entered=Entries(entered))
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
            if self.group != "machine" or not names_machines(path):
                continue
            if isinstance(given.raw, tuple) and self.id in given.raw:
                place = given.raw.index(self.id) + 1
                found[path] = (*given.raw[:place], self.new_id, *given.raw[place:])
        return found

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
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

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`."""
        resolved = _must_be_there(draft, self.scenario, self.group, self.id)
        if not is_out(resolved, self.group, self.id):
            title = title_of(draft, self.scenario)
            raise EditError(f"{self.group} {self.id} is not taken out of {title}.")
        path = self._path
        scenario = scenario_of(draft, self.scenario)
        if path in scenario.entered:
            given_back = draft.with_scenario(scenario.without(path))
            there = resolve(given_back, self.scenario)
            known = self.id in there.ids(self.group) and there.raw(*path) is not None
            from_above = known and there.origin(*path).kind is Source.INHERITED
            if from_above and not is_out(there, self.group, self.id):
                return given_back
        raw = BRINGS_BACK[self.group]
        guesses: Guesses = {path: written(path, raw)}
        return draft.with_scenario(with_guesses(scenario.having(path, raw), guesses))

    @property
    def _path(self) -> Path:
        return (self.group, self.id, TAKES_OUT[self.group])

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
        after = resolve(self.apply(draft), self.scenario).raw(*self._path)
        value = written(self._path, GIVEN_BACK if after is None else after)
        title = title_of(draft, self.scenario)
        return f"{self.group} {self.id} back in {title} ({self._path[-1]} {value})"
