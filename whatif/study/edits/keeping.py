"""Edits that mend or move without losing what is entered."""

from dataclasses import dataclass

from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.edits.edit import Edit, EditError, scenario_of, title_of
from whatif.study.edits.tree import MoveScenario
from whatif.study.guesses import with_guesses, written
from whatif.study.raw import EMPTY, Entries, Path, Raw
from whatif.study.resolve import ASSUMED, GIVEN_BACK, Given, Resolved, resolve
from whatif.study.schema.catalogue import HEAD_KEYS, TAKES_OUT, THINGS, dotted, key_for


@dataclass(frozen=True)
class MoveKeeping(Edit):
    """Another parent for a scenario, with all entered in it that would change by that.

    What the old parent gave is entered; what only the new one gives is given back; things that
    only the new one has are taken out by a 0.
    """

    id: str
    new_parent: str | None

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`."""
        moved = MoveScenario(self.id, self.new_parent).apply(draft)
        before, after = resolve(draft, self.id), resolve(moved, self.id)
        scenario = moved.scenario(self.id)
        entered: dict[Path, Raw] = {**scenario.entered}
        for group in THINGS:
            entered |= _things_kept(before, after, group)
        guesses: dict[Path, str] = {}
        for path in dict.fromkeys((*before.values, *after.values)):
            raw = _kept(before, after, path)
            if raw is not None:
                entered[path] = raw
                if before.origin(*path).guessed:
                    guesses[path] = written(path, raw)
        kept = ScenarioDraft(self.id, Entries(entered))
        return moved.with_scenario(with_guesses(kept, guesses))

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
        return f"{MoveScenario(self.id, self.new_parent).says(draft)}, all values kept"


def _things_kept(before: Resolved, after: Resolved, group: str) -> dict[Path, Raw]:
    """What makes the things of a group those that there were."""
    old, new = before.ids(group), after.ids(group)
    kept: dict[Path, Raw] = {(group, one): EMPTY for one in old if one not in new}
    nothing: Raw = "0 h" if group == "stop" else 0
    return kept | {(group, one, TAKES_OUT[group]): nothing for one in new if one not in old}


def _kept(before: Resolved, after: Resolved, path: Path) -> Raw | None:
    """What is to be entered at a path so that it says what it said; None where it does."""
    key = key_for(path)
    if key is None or not key.inherits:
        return None
    if path[0] in THINGS and path[1] not in before.ids(path[0]):
        return None  # a thing that is taken out
    none = Given(None, ASSUMED)
    old, new = before.values.get(path, none), after.values.get(path, none)
    if old.origin == ASSUMED:
        return None if new.origin == ASSUMED else GIVEN_BACK
    same = new.origin != ASSUMED and Entries({path: old.raw}) == Entries({path: new.raw})
    return None if same else old.raw


@dataclass(frozen=True)
class RenameKey(Edit):
    """The value of an unknown key under a known one: a slip of the pen put right."""

    scenario: str
    path: Path
    new_path: Path

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`."""
        scenario = scenario_of(draft, self.scenario)
        if self.path not in scenario.entered:
            title = title_of(draft, self.scenario)
            raise EditError(f"{dotted(self.path)} is not entered in {title}.")
        if key_for(self.new_path) is None:
            raise EditError(f"There is no key {dotted(self.new_path)}.")
        if self.new_path in scenario.entered:
            raise EditError(
                f"{dotted(self.new_path)} is entered already; take {dotted(self.path)} out "
                "instead (Del)."
            )
        entered = {
            self.new_path if path == self.path else path: raw
            for path, raw in scenario.entered.items()
        }
        return draft.with_scenario(ScenarioDraft(scenario.id, Entries(entered)))

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
        title = title_of(draft, self.scenario)
        return f"key {dotted(self.path)} -> {dotted(self.new_path)} in {title}"


@dataclass(frozen=True)
class RenameHead(Edit):
    """The value of an unknown root key under a known one."""

    key: str
    new_key: str

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`."""
        if self.key not in draft.head:
            raise EditError(f"{self.key} is not entered for the whole study.")
        if self.new_key not in HEAD_KEYS:
            raise EditError(f"There is no key {self.new_key} for the whole study.")
        if self.new_key in draft.head:
            raise EditError(f"{self.new_key} is entered already; take {self.key} out instead.")
        return draft.with_head(self.key, None).with_head(self.new_key, draft.head[self.key])

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
        return f"key {self.key} -> {self.new_key} for the whole study"


@dataclass(frozen=True)
class TakeFile(Edit):
    """The whole study as it stands in a file now, in the place of what there was."""

    draft: Draft
    name: str

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`."""
        return self.draft

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
        return f"{self.name} read again"
