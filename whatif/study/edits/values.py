"""Edits of single values."""

from dataclasses import replace

from typing_extensions import override

from whatif.records import dataclass
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.edits.edit import (
    Edit,
    EditError,
    inherited_things,
    place_words,
    refuse,
    scenario_of,
    title_of,
    value_words,
)
from whatif.study.edits.tree import MoveScenario
from whatif.study.guesses import without_guess
from whatif.study.raw import EMPTY, Path, Raw, Table, frozen
from whatif.study.refused import RefusalKind, no_key, no_study_key, no_thing
from whatif.study.resolve import GIVEN_BACK, line_of, resolve
from whatif.study.schema.catalogue import HEAD_KEYS, THINGS, dotted, key_for


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

    @override
    def apply(self, draft: Draft) -> Draft:
        scenario = scenario_of(draft, self.scenario)
        if self.path == ("parent",):
            return MoveScenario(self.scenario, str(self.raw) or None).apply(draft)
        self._refuse_unknown(draft, scenario)
        if self.raw == GIVEN_BACK and not self._is_inherited(draft):
            if self.path not in scenario.entered:
                return draft
            return ClearValue(self.scenario, self.path).apply(draft)
        kept = {
            path: raw
            for path, raw in scenario.entered.items()
            if path == self.path or path[: len(self.path)] != self.path
        }
        changed = replace(scenario, entered={**kept, self.path: self.raw})
        return draft.with_scenario(without_guess(changed, self.path))

    def _refuse_unknown(self, draft: Draft, scenario: ScenarioDraft) -> None:
        if key_for(self.path) is None:
            raise EditError(no_key(self.path))
        for depth in range(len(self.path)):
            above = scenario.entered.get(self.path[:depth])
            if above is not None and not isinstance(above, Table):
                where = dotted(self.path[:depth]) or f"scenario.{self.scenario}"
                raise refuse(RefusalKind.PLAIN_VALUE, where)
        group = self.path[0]
        if group in THINGS and self.path[1] not in resolve(draft, self.scenario).ids(group):
            raise EditError(no_thing(draft, self.scenario, self.path))

    def _is_inherited(self, draft: Draft) -> bool:
        key, ancestors = key_for(self.path), draft.ancestors(self.scenario)
        if key is None or not key.says.inherited or not ancestors:
            return False
        given = resolve(draft, ancestors[0]).values.get(self.path)
        return given is not None and given.origin.scenario is not None

    @override
    def says(self, draft: Draft) -> str:
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

    @override
    def apply(self, draft: Draft) -> Draft:
        scenario = _entering(draft, self.scenario, self.path)
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
        changed = replace(scenario, entered=entered)
        return draft.with_scenario(without_guess(changed, self.path))

    @override
    def says(self, draft: Draft) -> str:
        key = key_for(self.path)
        place = place_words(draft, self.scenario, self.path)
        title = title_of(draft, self.scenario)
        if key is None or not draft.has(self.scenario):
            return f"{place} removed from {title}"
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

    @override
    def apply(self, draft: Draft) -> Draft:
        if self.raw == GIVEN_BACK and self.key in draft.head:
            return draft.with_head(self.key, None)
        if self.key not in HEAD_KEYS:
            raise EditError(no_study_key(self.key))
        if self.key in ("reference", "today") and self.raw != GIVEN_BACK:
            scenario_of(draft, str(self.raw))
        return draft if self.raw == GIVEN_BACK else draft.with_head(self.key, self.raw)

    @override
    def says(self, draft: Draft) -> str:
        key = HEAD_KEYS.get(self.key)
        if key is None:
            return f"{self.key} removed"
        before = draft.head.get(self.key, key.default)
        after = key.default if self.raw == GIVEN_BACK else self.raw
        if self.key in ("reference", "today"):
            before = draft.reference_id if self.key == "reference" else draft.today_id
            after = after or (draft.ids[0] if draft.ids else "")
            return f"{self.key} {title_of(draft, before)} -> {title_of(draft, str(after))}"
        return f"{key.label} {value_words(key, before)} -> {value_words(key, after)}"


def home_of(draft: Draft, path: Path, chosen: str, reference: str | None) -> str:
    """The scenario in which a value of `chosen` holds for `reference` too, where there is one.

    That is the nearest one that both inherit from and that enters the value, or else the
    first of them that has the thing; what only `chosen` has is entered where it begins.
    """
    own = line_of(draft, chosen)
    others = line_of(draft, reference) if reference and draft.has(reference) else ()
    common = tuple(scenario for scenario in own if scenario in others)
    for line in (common, own):
        entering = [scenario.id for scenario in line if path in scenario.entered]
        having = [scenario.id for scenario in line if _begins(scenario, path)]
        if having or entering:
            return entering[-1] if entering else having[0]
    return (common or own)[0].id


def others_of(draft: Draft, path: Path, home: str) -> tuple[str, ...]:
    """The scenarios for which `home` does not decide a value: they have one of their own."""
    has, follows = set(), set()
    for each in draft.parents_first():
        if each.parent in has or _begins(each, path):
            has.add(each.id)
        if each.id == home or (each.parent in follows and path not in each.entered):
            follows.add(each.id)
    return tuple(id_ for id_ in draft.ids if id_ in has and id_ not in follows)


def _begins(scenario: ScenarioDraft, path: Path) -> bool:
    """Whether something is entered there for the thing of a path; the rest is everywhere."""
    return len(path) < 3 or path[1] in scenario.ids(path[0])


@dataclass(frozen=True)
class RenameKey(Edit):
    """The value of an unknown key under a known one: a slip of the pen put right."""

    scenario: str
    path: Path
    new_path: Path

    @override
    def apply(self, draft: Draft) -> Draft:
        scenario = _entering(draft, self.scenario, self.path)
        if key_for(self.new_path) is None:
            raise EditError(no_key(self.new_path))
        if self.new_path in scenario.entered:
            kind = RefusalKind.ENTERED_ALREADY
            raise refuse(kind, dotted(self.new_path), dotted(self.path))
        entered = {
            self.new_path if path == self.path else path: raw
            for path, raw in scenario.entered.items()
        }
        return draft.with_scenario(replace(scenario, entered=entered))

    @override
    def says(self, draft: Draft) -> str:
        title = title_of(draft, self.scenario)
        return f"key {dotted(self.path)} -> {dotted(self.new_path)} in {title}"


@dataclass(frozen=True)
class RenameHead(Edit):
    """The value of an unknown root key under a known one."""

    key: str
    new_key: str

    @override
    def apply(self, draft: Draft) -> Draft:
        if self.key not in draft.head:
            raise refuse(RefusalKind.NOT_ENTERED_FOR_STUDY, self.key)
        if self.new_key not in HEAD_KEYS:
            raise EditError(no_study_key(self.new_key))
        if self.new_key in draft.head:
            raise refuse(RefusalKind.ENTERED_FOR_STUDY_ALREADY, self.new_key, self.key)
        return draft.with_head(self.key, None).with_head(self.new_key, draft.head[self.key])

    @override
    def says(self, draft: Draft) -> str:
        return f"key {self.key} -> {self.new_key} for the whole study"


def _entering(draft: Draft, scenario: str, path: Path) -> ScenarioDraft:
    """The scenario that enters a value; raises `EditError` where it does not."""
    entering = scenario_of(draft, scenario)
    if path not in entering.entered:
        raise refuse(RefusalKind.NOT_ENTERED, dotted(path), entering.title)
    return entering
