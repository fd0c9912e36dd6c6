"""Finding rows of the sheet by parts of their names."""

from __future__ import annotations

from collections.abc import Sequence

from whatif.session.sheet import Heading, Row


def find(rows: Sequence[Row], typed: str, start: int) -> list[Row]:
    """The rows that a text may mean, likeliest first.

    A heading is meant where every word stands in it, a value where every word stands in its
    label or its heading, one at least in the label: "pallets mill". Words that begin like it
    come before words that have it within; otherwise the rows follow each other from
    ``start`` downwards and then from the top.
    """
    wanted = typed.lower().split()
    if not wanted:
        return []
    found: list[tuple[bool, int, Row]] = []
    heading = ""
    for place, row in enumerate(rows):
        own = (row.title if isinstance(row, Heading) else row.label).lower()
        heading = own if isinstance(row, Heading) else heading
        whole = f"{heading} {own}"
        if all(word in whole for word in wanted) and any(word in own for word in wanted):
            begins = all(_begins(word, whole) for word in wanted)
            found.append((not begins, (place - start) % len(rows), row))
    return [row for _, _, row in sorted(found, key=lambda one: one[:2])]


def _begins(word: str, text: str) -> bool:
    return any(other.startswith(word) for other in text.replace(":", " ").split())
