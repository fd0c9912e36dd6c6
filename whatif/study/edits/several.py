"""Several edits that are one change."""

from dataclasses import dataclass

from whatif.study.draft import Draft
from whatif.study.edits.edit import Edit


@dataclass(frozen=True)
class Together(Edit):
    """Edits made one after the other, all or none, with one name: done and undone at once."""

    edits: tuple[Edit, ...]
    name: str

    def apply(self, draft: Draft) -> Draft:
        """See `Edit`; each edit finds what the one before it has made."""
        for edit in self.edits:
            draft = edit.apply(draft)
        return draft

    def says(self, draft: Draft) -> str:
        """See `Edit`."""
        return self.name
