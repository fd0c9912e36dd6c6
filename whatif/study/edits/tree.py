"""Edits of the tree of scenarios."""

from dataclasses import replace

from typing_extensions import override

from whatif.records import dataclass
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.edits.edit import Edit, new_id, refuse, scenario_of, title_of
from whatif.study.guesses import with_guesses, written
from whatif.study.raw import EMPTY, Entries, Path, Raw
from whatif.study.refused import RefusalKind
from whatif.study.resolve import ASSUMED, GIVEN_BACK, Given, Resolved, resolve
from whatif.study.schema.catalogue import TAKES_OUT, THINGS, key_for, nothing_of


def _with_new(draft: Draft, scenario: ScenarioDraft, after: str | None) -> Draft:
    """`draft` with one more scenario, behind `after` and all that is based on it."""
    new_id(scenario.id)
    if draft.has(scenario.id):
        raise refuse(RefusalKind.TAKEN, "scenario", scenario.id)
    if "scenario" in draft.head:
        raise refuse(RefusalKind.PLAIN_VALUE, "scenario")
    scenarios = list(draft.scenarios)
    family = {after, *(draft.descendants(after) if after else ())}
    places = [place for place, each in enumerate(scenarios) if each.id in family]
    scenarios.insert(places[-1] + 1 if places else len(scenarios), scenario)
    return replace(draft, scenarios=tuple(scenarios))


@dataclass(frozen=True)
class AddScenario(Edit):
    """A new scenario that inherits everything, or an empty root where `parent` is None."""

    id: str
    parent: str | None
    title: str = ""

    @override
    def apply(self, draft: Draft) -> Draft:
        entered: dict[Path, Raw] = {("title",): self.title} if self.title else {}
        if self.parent is not None:
            entered[("parent",)] = scenario_of(draft, self.parent).id
        return _with_new(draft, ScenarioDraft(self.id, entered), self.parent)

    @override
    def says(self, draft: Draft) -> str:
        base = "" if self.parent is None else f", based on {title_of(draft, self.parent)}"
        return f"new scenario {self.title or self.id}{base}"


@dataclass(frozen=True)
class DuplicateScenario(Edit):
    """A copy beside a scenario, with all that is entered in it and the same parent."""

    source: str
    id: str
    title: str = ""

    @override
    def apply(self, draft: Draft) -> Draft:
        source = scenario_of(draft, self.source)
        entered = {path: raw for path, raw in source.entered.items() if path != ("title",)}
        if self.title:
            entered[("title",)] = self.title
        return _with_new(draft, ScenarioDraft(self.id, entered), self.source)

    @override
    def says(self, draft: Draft) -> str:
        return f"copy of {title_of(draft, self.source)}: {self.title or self.id}"


@dataclass(frozen=True)
class RemoveScenario(Edit):
    """Take a scenario out, and all that are based on it."""

    id: str

    def removes(self, draft: Draft) -> tuple[str, ...]:
        """The ids that go, in file order."""
        gone = {self.id, *draft.descendants(self.id)}
        return tuple(id_ for id_ in draft.ids if id_ in gone)

    @override
    def apply(self, draft: Draft) -> Draft:
        """A reference, or today, that goes is no longer named, so the first one is it."""
        scenario_of(draft, self.id)
        gone = self.removes(draft)
        if len(gone) == len(draft.scenarios):
            raise refuse(RefusalKind.LAST_SCENARIO)
        left = replace(
            draft, scenarios=tuple(each for each in draft.scenarios if each.id not in gone)
        )
        for name, named in (("reference", draft.reference_id), ("today", draft.today_id)):
            if named in gone:
                left = left.with_head(name, None)
        return left

    @override
    def says(self, draft: Draft) -> str:
        gone = self.removes(draft)
        text = f"{title_of(draft, self.id)} removed"
        if len(gone) > 1:
            others = ", ".join(title_of(draft, other) for other in gone if other != self.id)
            text += f", with all based on it ({others})"
        if draft.reference_id in gone and len(gone) < len(draft.ids):
            text += f"; the reference is now {title_of(draft, self.apply(draft).reference_id)}"
        return text


@dataclass(frozen=True)
class RenameScenario(Edit):
    """Another id for a scenario; what names it follows."""

    id: str
    new_id: str

    @override
    def apply(self, draft: Draft) -> Draft:
        scenario_of(draft, self.id)
        new_id(self.new_id)
        if self.new_id == self.id:
            return draft
        if draft.has(self.new_id):
            raise refuse(RefusalKind.TAKEN, "scenario", self.new_id)
        renamed = replace(draft, scenarios=tuple(self._renamed(each) for each in draft.scenarios))
        for name in ("reference", "today"):
            if draft.head.get(name) == self.id:
                renamed = renamed.with_head(name, self.new_id)
        return renamed

    def _renamed(self, scenario: ScenarioDraft) -> ScenarioDraft:
        if scenario.parent == self.id:
            scenario = scenario.having(("parent",), self.new_id)
        return replace(scenario, id=self.new_id) if scenario.id == self.id else scenario

    @override
    def says(self, draft: Draft) -> str:
        return f"id {self.id} -> {self.new_id}"


@dataclass(frozen=True)
class MoveScenario(Edit):
    """Another parent for a scenario, or none; what is entered in it stays."""

    id: str
    new_parent: str | None

    @override
    def apply(self, draft: Draft) -> Draft:
        scenario = scenario_of(draft, self.id)
        if self.new_parent is None:
            return draft.with_scenario(scenario.without(("parent",)))
        parent = scenario_of(draft, self.new_parent).id
        if parent == self.id or self.id in draft.ancestors(parent):
            titles = title_of(draft, self.id), title_of(draft, parent)
            raise refuse(RefusalKind.INHERITS_FROM_IT, *titles)
        return draft.with_scenario(scenario.having(("parent",), parent))

    @override
    def says(self, draft: Draft) -> str:
        return f"{title_of(draft, self.id)} based on {title_of(draft, self.new_parent)}"


@dataclass(frozen=True)
class MoveKeeping(Edit):
    """Another parent for a scenario, with all entered in it that would change by that.

    What the old parent gave is entered; what only the new one gives is given back; things that
    only the new one has are taken out by a 0.
    """

    id: str
    new_parent: str | None

    @override
    def apply(self, draft: Draft) -> Draft:
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
        kept = ScenarioDraft(self.id, entered)
        return moved.with_scenario(with_guesses(kept, guesses))

    @override
    def says(self, draft: Draft) -> str:
        return f"{MoveScenario(self.id, self.new_parent).says(draft)}, all values kept"


def _things_kept(before: Resolved, after: Resolved, group: str) -> dict[Path, Raw]:
    """What makes the things of a group those that there were."""
    old, new = before.ids(group), after.ids(group)
    kept: dict[Path, Raw] = {(group, id_): EMPTY for id_ in old if id_ not in new}
    gone = [id_ for id_ in new if id_ not in old]
    return kept | {(group, id_, TAKES_OUT[group]): nothing_of(group) for id_ in gone}


def _kept(before: Resolved, after: Resolved, path: Path) -> Raw | None:
    """What is to be entered at a path so that it says what it said; None where it does."""
    key = key_for(path)
    if key is None or not key.says.inherited:
        return None
    if path[0] in THINGS and path[1] not in before.ids(path[0]):
        return None  # a thing that is taken out
    none = Given(None, ASSUMED)
    old, new = before.values.get(path, none), after.values.get(path, none)
    if old.origin == ASSUMED:
        return None if new.origin == ASSUMED else GIVEN_BACK
    same = new.origin != ASSUMED and Entries({path: old.raw}) == Entries({path: new.raw})
    return None if same else old.raw
