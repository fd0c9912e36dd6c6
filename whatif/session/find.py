"""Finding rows of the sheet by parts of their names."""

from __future__ import annotations

from collections.abc import Sequence

from whatif.session.sheet import Heading, Row


def find(rows: Sequence[Row], typed: str, start: int) -> list[Row]:
    """The rows that a text may mean, likeliest first.

    A heading is meant where every word stands in it, a value where every word stands in its
    label or its heading, one at least in the label: "pallets mill". A value of just that name
    comes first, then names that begin so, then words that begin so, then words that have it
    within; otherwise the rows follow each other from ``start`` downwards and then from the top.
    """
    wanted = typed.lower().split()
    if not wanted:
        return []
    found: list[tuple[int, int, Row]] = []
    heading = ""
    for place, row in enumerate(rows):
        own = (row.title if isinstance(row, Heading) else row.label).lower()
        heading = own if isinstance(row, Heading) else heading
        whole = f"{heading} {own}"
        if all(word in whole for word in wanted) and any(word in own for word in wanted):
            far = _far(wanted, own, whole, is_value=not isinstance(row, Heading))
            found.append((far, (place - start) % len(rows), row))
    return [row for _, _, row in sorted(found, key=lambda one: one[:2])]


def _far(wanted: Sequence[str], own: str, whole: str, *, is_value: bool) -> int:
    """How far a row's name is from what is wanted."""
    text = " ".join(wanted)
    if is_value and own == text:
        return 0
    if own.startswith(text):
        return 1
    return 2 if all(_begins(word, whole) for word in wanted) else 3


def _begins(word: str, text: str) -> bool:
    return any(other.startswith(word) for other in text.replace(":", " ").split())
