"""Edits of single values."""

from dataclasses import dataclass

from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.edits.edit import (
    Edit,
    EditError,
    inherited_things,
    place_words,
    scenario_of,
    title_of,
    value_words,
)
from whatif.study.edits.tree import MoveScenario
from whatif.study.guesses import without_guess
from whatif.study.raw import EMPTY, Entries, Path, Raw, Table, frozen
from whatif.study.resolve import GIVEN_BACK, resolve
from whatif.study.schema.catalogue import HEAD_KEYS, THINGS, dotted, key_for, nearest, nearest_head


@dataclass(frozen=True)
class SetValue(Edit):
    """Enter a value in a scenario; "" takes an inherited one back to "not given".

    The value need not be right: a draft may be wrong, and the check tells. The key
    must be known, and the thing it belongs to must exist. It is no longer a guess then.
    """

    scenario: str
    path: Path
    raw: Raw

    def __post_init__(self) -> None:
        object.__setattr__(self, "raw", frozen(self.raw))

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`."""
        scenario = scenario_of(draft, self.scenario)
        if self.path == ("parent",):
            return MoveScenario(self.scenario, str(self.raw) or None).apply(draft)
        self._refuse_unknown(draft, scenario)
        if self.raw == GIVEN_BACK and not self._is_inherited(draft):
            if self.path not in scenario.entered:
                return draft
            return ClearValue(self.scenario, self.path).apply(draft)
        depth = len(self.path)
        kept = {
            path: raw
            for path, raw in scenario.entered.items()
            if len(path) <= depth or path[:depth] != self.path
        }
        changed = ScenarioDraft(scenario.id, Entries({**kept, self.path: self.raw}))
        return draft.with_scenario(without_guess(changed, self.path))

    def _refuse_unknown(self, draft: Draft, scenario: ScenarioDraft) -> None:
        if key_for(self.path) is None:
            meant = nearest(self.path)
            hint = f" Did you mean {meant}?" if meant else ""
            raise EditError(f"There is no key {dotted(self.path)}.{hint}")
        for depth in range(len(self.path)):
            above = scenario.entered.get(self.path[:depth])
            if above is not None and not isinstance(above, Table):
                where = dotted(self.path[:depth]) or f"scenario.{self.scenario}"
                raise EditError(f"{where} holds a plain value, not a table; clear it first.")
        group = self.path[0]
        if group in THINGS and self.path[1] not in resolve(draft, self.scenario).ids(group):
            title = title_of(draft, self.scenario)
            raise EditError(f"There is no {group} {self.path[1]} in {title}; add it first.")

    def _is_inherited(self, draft: Draft) -> bool:
        key, ancestors = key_for(self.path), draft.ancestors(self.scenario)
        if key is None or not key.inherits or not ancestors:
            return False
        given = resolve(draft, ancestors[0]).values.get(self.path)
        return given is not None and given.origin.scenario is not None

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
        key = key_for(self.path)
        before = resolve(draft, self.scenario).raw(*self.path) if draft.has(self.scenario) else None
        old, new = value_words(key, before), value_words(key, self.raw)
        # What was only assumed may be entered as it is.
        change = f"{new} confirmed" if old == new else f"{old} -> {new}"
        place = place_words(draft, self.scenario, self.path)
        return f"{place} {change} in {title_of(draft, self.scenario)}"


@dataclass(frozen=True)
class ClearValue(Edit):
    """Take an entered value out, so that the parent's holds again.

    Also the way to get rid of an unknown key. A thing of the scenario's own stays,
    with nothing entered, when its last value goes.
    """

    scenario: str
    path: Path

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`."""
        scenario = scenario_of(draft, self.scenario)
        if self.path not in scenario.entered:
            title = title_of(draft, self.scenario)
            raise EditError(f"{dotted(self.path)} is not entered in {title}.")
        thing = self.path[:2]
        others = any(path[:2] == thing for path in scenario.entered if path != self.path)
        is_last = len(self.path) > 2 and thing[0] in THINGS and not others
        own = is_last and thing[1] not in inherited_things(draft, self.scenario, thing[0])
        entered: dict[Path, Raw] = {}
        for path, raw in scenario.entered.items():
            if path != self.path:
                entered[path] = raw
            elif own:
                entered[thing] = EMPTY
        changed = ScenarioDraft(scenario.id, Entries(entered))
        return draft.with_scenario(without_guess(changed, self.path))

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
        key = key_for(self.path)
        place, title = (
            place_words(draft, self.scenario, self.path),
            title_of(draft, self.scenario),
        )
        if key is None or not draft.has(self.scenario):
            return f"{place} taken out of {title}"
        resolved = resolve(draft, self.scenario), resolve(self.apply(draft), self.scenario)
        before, after = (value_words(key, each.raw(*self.path)) for each in resolved)
        return f"{place} {before} -> {after} (no longer entered) in {title}"


@dataclass(frozen=True)
class SetHead(Edit):
    """Enter a value that holds for the whole study; "" takes it out."""

    key: str
    raw: Raw

    def __post_init__(self) -> None:
        object.__setattr__(self, "raw", frozen(self.raw))

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`."""
        if self.raw == GIVEN_BACK and self.key in draft.head:
            return draft.with_head(self.key, None)
        if self.key not in HEAD_KEYS:
            meant = nearest_head(self.key)
            hint = f" Did you mean {meant}?" if meant else ""
            raise EditError(f"There is no key {self.key} for the whole study.{hint}")
        if self.key == "reference" and self.raw != GIVEN_BACK:
            scenario_of(draft, str(self.raw))
        return draft if self.raw == GIVEN_BACK else draft.with_head(self.key, self.raw)

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
        key = HEAD_KEYS.get(self.key)
        if key is None:
            return f"{self.key} taken out"
        before = draft.head.get(self.key, key.default)
        after = key.default if self.raw == GIVEN_BACK else self.raw
        if self.key == "reference":
            before = draft.reference_id
            return f"reference {title_of(draft, before)} -> {title_of(draft, str(after or ''))}"
        return f"{key.label} {value_words(key, before)} -> {value_words(key, after)}"
