"""What every edit is: a small frozen record that replays on any draft."""

from abc import ABC, abstractmethod

from typing_extensions import override

from whatif.records import dataclass
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.raw import Path, Raw
from whatif.study.refused import Refusal, RefusalKind, Refused, no_scenario
from whatif.study.resolve import GIVEN_BACK, resolve
from whatif.study.schema.catalogue import THINGS, Key, key_for, label_at
from whatif.study.schema.kinds import Id, KindError


class EditError(Refused):
    """An edit that cannot be made."""


def refuse(kind: RefusalKind, *details: str) -> EditError:
    """The error to raise for an edit that cannot be made."""
    return EditError(Refusal(kind, details))


class Edit(ABC):
    """A change of a study, kept so that it can be done, undone and done again."""

    @abstractmethod
    def apply(self, draft: Draft) -> Draft:
        """The changed draft; raises `EditError`."""

    @abstractmethod
    def says(self, draft: Draft) -> str:
        """A short name for the change of `draft`: "pallets each 1 -> 6 in Six pallets".

        May raise `EditError` where the edit cannot be made.
        """


def scenario_of(draft: Draft, scenario: str) -> ScenarioDraft:
    """The scenario with this id; raises `EditError` where there is none."""
    if not draft.has(scenario):
        raise EditError(no_scenario(draft, scenario))
    return draft.scenario(scenario)


def title_of(draft: Draft, scenario: str | None) -> str:
    """What to call a scenario in a sentence, also where there is none of this id."""
    if scenario is None:
        return "nothing"
    return draft.scenario(scenario).title if draft.has(scenario) else scenario


def new_id(text: str) -> str:
    """`text`, where it may be an id; raises `EditError` where not."""
    try:
        return Id().read(text)
    except KindError as fault:
        raise refuse(RefusalKind.NO_ID, text, fault.why, fault.allowed) from None


def value_words(key: Key | None, raw: Raw | None) -> str:
    """A value as a sentence shows it."""
    if raw is None or raw == GIVEN_BACK:
        return "not given"
    return key.kind.written(raw) if key is not None else str(raw)


def place_words(draft: Draft, scenario: str, path: Path) -> str:
    """A row's label, with the thing's id where there is more than one: "mill pallets each"."""
    label = label_at(path)
    if key_for(path) is None or path[0] not in THINGS or not draft.has(scenario):
        return label
    several = len(resolve(draft, scenario).ids(path[0])) > 1
    return f"{path[1]} {label}" if several else label


def inherited_things(draft: Draft, scenario: str, group: str) -> tuple[str, ...]:
    """The things of a group that a scenario has from its parents."""
    ancestors = draft.ancestors(scenario)
    return resolve(draft, ancestors[0]).ids(group) if ancestors else ()


@dataclass(frozen=True)
class Together(Edit):
    """Edits made one after the other, all or none, with one name: done and undone at once."""

    edits: tuple[Edit, ...]
    name: str

    @override
    def apply(self, draft: Draft) -> Draft:
        """Each edit finds what the one before it has made."""
        for edit in self.edits:
            draft = edit.apply(draft)
        return draft

    @override
    def says(self, draft: Draft) -> str:
        return self.name


@dataclass(frozen=True)
class TakeFile(Edit):
    """The whole study as it stands in a file now, in the place of what there was."""

    draft: Draft
    name: str

    @override
    def apply(self, draft: Draft) -> Draft:
        return self.draft

    @override
    def says(self, draft: Draft) -> str:
        return f"{self.name} read again"
