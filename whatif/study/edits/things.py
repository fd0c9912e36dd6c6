"""Edits of things: machines, shifts, parts, stops, rush and real orders."""

from dataclasses import dataclass, replace

from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.edits.edit import Edit, EditError, inherited_things, new_id, scenario_of, title_of
from whatif.study.guesses import moved_guesses, with_guesses, without_guess, written
from whatif.study.raw import EMPTY, Entries, Path, Raw, frozen
from whatif.study.resolve import resolve
from whatif.study.schema.catalogue import TAKES_OUT, THINGS, dotted, key_for, nearest


def _check_group(group: str) -> None:
    if group not in THINGS:
        raise EditError(f"There is no sort of thing called {group}; there are {', '.join(THINGS)}.")


def _names_part(path: Path) -> bool:
    return len(path) == 3 and path[0] in ("rush", "order") and path[2] == "part"


def names_machines(path: Path) -> bool:
    """Whether a path is the list of machines that a part may be made on."""
    return len(path) == 3 and path[0] == "part" and path[2] == "machines"


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

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`."""
        _check_group(self.group)
        scenario = scenario_of(draft, self.scenario)
        above = (self.group, new_id(self.id))
        if self.id in resolve(draft, self.scenario).ids(self.group):
            raise EditError(f"There is a {self.group} {self.id} already; choose another id.")
        if any(path in scenario.entered for path in ((), above[:1], above)):
            raise EditError(f"{self.group} holds a plain value, not a table; clear it first.")
        entered: dict[Path, Raw] = {**scenario.entered, above: EMPTY}
        for name, raw in self.values:
            path = (*above, *name.split("."))
            if key_for(path) is None:
                meant = nearest(path)
                hint = f" Did you mean {meant}?" if meant else ""
                raise EditError(f"There is no key {dotted(path)}.{hint}")
            entered[path] = raw
        guesses = {
            (*above, *name.split(".")): written((*above, *name.split(".")), raw)
            for name, raw in self.values
            if name in self.guessed
        }
        changed = replace(scenario, entered=Entries(entered))
        return draft.with_scenario(with_guesses(changed, guesses))

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
        return f"new {self.group} {self.id} in {title_of(draft, self.scenario)}"


@dataclass(frozen=True)
class RemoveThing(Edit):
    """Take a thing out of a scenario.

    One of the scenario's own goes with all that is entered for it, here and in the
    scenarios below; an inherited one is taken out by a 0 (the cell model, section 1).
    """

    scenario: str
    group: str
    id: str

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`."""
        _check_group(self.group)
        scenario = scenario_of(draft, self.scenario)
        if self.id not in resolve(draft, self.scenario).ids(self.group):
            title = title_of(draft, self.scenario)
            raise EditError(f"There is no {self.group} {self.id} in {title}.")
        if self.id in inherited_things(draft, self.scenario, self.group):
            nothing: Raw = "0 h" if self.group == "stop" else 0
            path = (self.group, self.id, TAKES_OUT[self.group])
            changed = scenario.having(path, nothing)
            return draft.with_scenario(without_guess(changed, path))
        for one in (self.scenario, *draft.descendants(self.scenario)):
            draft = draft.with_scenario(self._without(draft.scenario(one)))
        return draft

    def _without(self, scenario: ScenarioDraft) -> ScenarioDraft:
        entered: dict[Path, Raw] = {}
        for path, raw in scenario.entered.items():
            if path[:2] == (self.group, self.id):
                continue
            if self.group == "machine" and _is_on(path, self.id):
                continue
            if self.group == "machine" and names_machines(path) and isinstance(raw, tuple):
                raw = self._fewer_machines(scenario, path, raw)
            if self.group == "part" and _names_part(path) and raw == self.id:
                raise EditError(
                    f"{dotted(path[:2])} in {scenario.title} asks for {self.id}; remove it or "
                    "give it another part first."
                )
            entered[path] = raw
        return moved_guesses(replace(scenario, entered=Entries(entered)), self._without_guess)

    def _without_guess(self, path: Path, value: str) -> tuple[Path, str] | None:
        gone = path[:2] == (self.group, self.id)
        gone |= self.group == "machine" and _is_on(path, self.id)
        return None if gone else (path, value)

    def _fewer_machines(
        self, scenario: ScenarioDraft, path: Path, raw: tuple[Raw, ...]
    ) -> tuple[Raw, ...]:
        left = tuple(machine for machine in raw if machine != self.id)
        if raw and not left:
            raise EditError(
                f"{dotted(path[:2])} in {scenario.title} is made on {self.id} alone; let it be "
                "made on another machine first."
            )
        return left

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
        return f"{self.group} {self.id} taken out of {title_of(draft, self.scenario)}"


@dataclass(frozen=True)
class RenameThing(Edit):
    """Another id for a thing, in the whole study; what names it follows."""

    group: str
    id: str
    new_id: str

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`."""
        _check_group(self.group)
        new_id(self.new_id)
        if self.new_id == self.id:
            return draft
        known = {one for each in draft.scenarios for one in each.ids(self.group)}
        if self.id not in known:
            raise EditError(f"There is no {self.group} {self.id} in this study.")
        if self.new_id in known:
            raise EditError(f"There is a {self.group} {self.new_id} already; choose another id.")
        return replace(draft, scenarios=tuple(self._renamed(each) for each in draft.scenarios))

    def _renamed(self, scenario: ScenarioDraft) -> ScenarioDraft:
        entered = {self._path(path): self._raw(path, raw) for path, raw in scenario.entered.items()}
        return moved_guesses(replace(scenario, entered=Entries(entered)), self._guess)

    def _guess(self, path: Path, value: str) -> tuple[Path, str]:
        names = self.group == "part" and _names_part(path) and value == self.id
        return self._path(path), self.new_id if names else value

    def _path(self, path: Path) -> Path:
        if path[:2] == (self.group, self.id):
            return (self.group, self.new_id, *path[2:])
        if self.group == "machine" and _is_on(path, self.id):
            return (*path[:3], self.new_id, *path[4:])
        return path

    def _raw(self, path: Path, raw: Raw) -> Raw:
        if self.group == "machine" and names_machines(path) and isinstance(raw, tuple):
            return tuple(self.new_id if machine == self.id else machine for machine in raw)
        if self.group == "part" and _names_part(path) and raw == self.id:
            return self.new_id
        return raw

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
        return f"{self.group} {self.id} -> {self.new_id}"
