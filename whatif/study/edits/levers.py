"""Edits of what a search may change."""

from typing_extensions import override

from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.edits.edit import Edit, new_id
from whatif.study.levers import entered_levers, with_lever
from whatif.study.raw import Path, Raw, frozen


@dataclass(frozen=True)
class SetLever(Edit):
    """Enter a lever with all that stands below its id; nothing takes it out."""

    id: str
    entries: tuple[tuple[Path, Raw], ...] = ()

    def __post_init__(self) -> None:
        entries = tuple((path, frozen(raw)) for path, raw in self.entries)
        object.__setattr__(self, "entries", entries)

    @override
    def apply(self, draft: Draft) -> Draft:
        return with_lever(draft, new_id(self.id), dict(self.entries))

    @override
    def says(self, draft: Draft) -> str:
        if not self.entries:
            return f"lever {self.id} removed"
        return f"lever {self.id} {'changed' if self.id in entered_levers(draft) else 'entered'}"
