"""Many things entered at once, as a table has them."""

from dataclasses import replace

from typing_extensions import override

from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.edits.edit import Edit, EditError, new_id, refuse, scenario_of, title_of
from whatif.study.guesses import NOTES, moved_guesses
from whatif.study.line_notes import without_lines
from whatif.study.raw import EMPTY, Path, Raw, Table, frozen
from whatif.study.refused import RefusalKind, no_key
from whatif.study.resolve import resolve
from whatif.study.schema.catalogue import key_for

ThingValues = tuple[str, tuple[tuple[str, Raw], ...]]
"""The id of a thing, and its values by their keys below it."""


@dataclass(frozen=True)
class EnterThings(Edit):
    """Values of many things of a sort; those that a scenario has not are new in it.

    Attributes:
        things: each with its values; what else is entered for one stays.
        note: goes behind the scenario's notes; "" for none.
        source: where they are from, for the name of the change.
    """

    scenario: str
    group: str
    things: tuple[ThingValues, ...]
    note: str
    source: str

    def __post_init__(self) -> None:
        things = tuple(
            (id_, tuple((name, frozen(raw)) for name, raw in values)) for id_, values in self.things
        )
        object.__setattr__(self, "things", things)

    @override
    def apply(self, draft: Draft) -> Draft:
        scenario = scenario_of(draft, self.scenario)
        there = frozenset(resolve(draft, self.scenario).ids(self.group))
        if any(path in scenario.entered for path in ((), (self.group,))):
            raise refuse(RefusalKind.PLAIN_VALUE, self.group)
        entered = dict(scenario.entered)
        said: set[Path] = set()
        for id_, values in self.things:
            above = (self.group, new_id(id_))
            if not isinstance(entered.get(above, EMPTY), Table):
                raise refuse(RefusalKind.PLAIN_VALUE, f"{self.group}.{id_}")
            if id_ not in there:
                entered.setdefault(above, EMPTY)
            for name, raw in values:
                path = (*above, *name.split("."))
                if key_for(path) is None:
                    raise EditError(no_key(path))
                entered[path] = raw
                said.add(path)
        changed = moved_guesses(
            replace(scenario, entered=entered),
            lambda path, value: None if path in said else (path, value),
        )
        if self.group == "part":
            # What an earlier table said of the same lines holds no longer.
            changed = without_lines(changed, frozenset(id_ for id_, _ in self.things))
        notes = str(changed.entered.get(NOTES, "")).rstrip()
        if self.note:
            changed = changed.having(NOTES, f"{notes}\n{self.note}" if notes else self.note)
        return draft.with_scenario(changed)

    @override
    def says(self, draft: Draft) -> str:
        many = f"{len(self.things)} {self.group}{'' if len(self.things) == 1 else 's'}"
        return f"{many} from {self.source} in {title_of(draft, self.scenario)}"
