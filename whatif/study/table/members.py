"""Which part numbers a line stands for, as the notes of its scenario have it.

They are read here, so that an order that names a number finds its line later.
"""

from collections.abc import Collection, Mapping, Sequence

from whatif.study.draft import Draft
from whatif.study.edits.starting import id_from
from whatif.study.guesses import NOTES
from whatif.study.line_notes import BETWEEN


def lines_by_number(draft: Draft, scenario: str, parts: Collection[str]) -> Mapping[str, str]:
    """The line of each number, by its id in small letters, of those lines that are ``parts``.

    What a scenario notes itself goes before what one above it does, and what is noted last before
    what stood there.
    """
    found: dict[str, str] = {}
    for id_ in (*reversed(draft.ancestors(scenario)), scenario):
        notes = draft.scenario(id_).entered.get(NOTES)
        if isinstance(notes, str):
            found |= _noted(notes.splitlines(), parts)
    return found


def _noted(lines: Sequence[str], parts: Collection[str]) -> Mapping[str, str]:
    found: dict[str, str] = {}
    for text in lines:
        line, between, names = text.partition(": ")
        if between and line in parts:
            found |= {id_from(name).lower(): line for name in names.split(BETWEEN)}
    return found
