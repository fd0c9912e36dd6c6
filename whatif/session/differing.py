"""In which rows of the sheet the columns differ."""

from __future__ import annotations

from collections.abc import Sequence

from whatif.session.hours import ATTENDED, attended_text
from whatif.session.sheet import Heading, Line, Row, rows
from whatif.study.check.check import Checked
from whatif.study.raw import Path
from whatif.study.resolve import Resolved
from whatif.study.schema.catalogue import key_for
from whatif.study.schema.kinds import KindError
from whatif.units import Quantity

Differing = frozenset[Line]


def differing(checked: Checked, columns: Sequence[str]) -> Differing:
    """The rows in which the scenarios do not all have the same value.

    Quantities are the same where they are worth the same: "1 h" and "60 min".
    """
    resolved = [checked.resolved[one] for one in columns]
    return frozenset(
        row
        for row in rows(checked, columns, frozenset())
        # A key that is not known is always shown: it is to be mended.
        if isinstance(row, Line)
        and (is_stray(row.path) or len({meant(one, row.path) for one in resolved}) > 1)
    )


def only_differing(shown: Sequence[Row], differ: Differing, kept: Line | None) -> tuple[Row, ...]:
    """The rows that differ with their headings, and ``kept``, which may be being edited."""
    places = {line.place for line in (*differ, *((kept,) if kept else ()))}
    return tuple(
        row
        for row in shown
        if (row.place in places if isinstance(row, Heading) else row in differ or row == kept)
    )


def is_stray(path: Path) -> bool:
    """Whether no key of a study file stands at a path of the sheet."""
    return path != ATTENDED and key_for(path) is None


def meant(resolved: Resolved, path: Path) -> object:
    """What a value says, however it is written; a thing that is not there says nothing."""
    if path == ATTENDED:
        return attended_text(resolved)
    given, key = resolved.values.get(path), key_for(path)
    if given is None or key is None:
        return ""
    if given.raw is None or given.raw == "":
        return None
    try:
        read = key.kind.read(given.raw)
    except (KindError, TypeError):
        return given.raw
    if isinstance(read, tuple):
        return tuple(_worth(one) for one in read)
    return _worth(read)


def _worth(read: object) -> object:
    return read.value if isinstance(read, Quantity) else read
