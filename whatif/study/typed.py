"""What may be typed over a value beside the value itself: a share on or off, and all alike."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from whatif.study.raw import Path, Raw
from whatif.study.schema.catalogue import ANY, THINGS, Key, key_for, label_at
from whatif.study.schema.kinds import Clock, Count, Lengths, Percent
from whatif.units import Dimension, share_of, share_typed

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from fractions import Fraction

    from whatif.study.edits import Edit, SetValue
    from whatif.study.refused import Refused
    from whatif.study.resolve import Resolved

ALL: Final = "*"
"""Typed before or behind a value: the same in that row of all parts, machines and so on."""

_MANY: Final = {"rush": "rush orders"}


def takes_share(key: Key) -> bool:
    """Whether "-20 %" over its value means a fifth less of what stands there.

    Not over a percentage: there "+5 %" is 5 %, as ever. Nor over a time of day. Of sizes each side
    is that much less.
    """
    if isinstance(key.kind, Lengths):
        return True
    return key.kind.numeric and not isinstance(key.kind, Percent | Clock)


def takes_all(key: Key) -> bool:
    """Whether its value may be typed for all things of the sort at once."""
    return key.kind.numeric and key.pattern[0] in THINGS


def typed_for_all(text: str) -> str | None:
    """What is typed beside the sign for all alike; None where that does not stand there."""
    text = text.strip()
    if text.startswith(ALL):
        return text[1:].strip()
    return text[:-1].strip() if text.endswith(ALL) else None


def is_begun(text: str) -> bool:
    """Whether a text may still become a share or a value for all: nothing wrong is to be told."""
    return _BEGUN.fullmatch(text) is not None and bool(text.strip())


_BEGUN: Final = re.compile(r"\s*\*?\s*(?:[+\u2212-]\s*[\d.]*\s*)?", re.ASCII)


def share_typed_over(key: Key, text: str) -> Fraction | None:
    """What a typed share leaves of what stands there; None where the text is a value."""
    return share_typed(text) if takes_share(key) else None


def taken(key: Key, standing: str, left: Fraction, text: str) -> Raw:
    """The value that a typed share makes of the one that stands there; raises `EditError`."""
    from whatif.study.edits.edit import refuse
    from whatif.study.refused import RefusalKind

    if left < 0:
        raise refuse(RefusalKind.MORE_THAN_ALL)
    if isinstance(key.kind, Lengths):
        return _each_side(key.kind, standing, left, text)
    whole = isinstance(key.kind, Count)
    found = share_of(standing, key.kind.dimension, left, whole=whole)
    if found is None:
        raise refuse(RefusalKind.NO_AMOUNT_THERE, text)
    if whole and found == standing:
        raise refuse(RefusalKind.LESS_THAN_ONE, text, standing)
    return key.kind.typed(found)


def _each_side(kind: Lengths, standing: str, left: Fraction, text: str) -> Raw:
    """So much of each side of a size."""
    from whatif.study.edits.edit import refuse
    from whatif.study.refused import RefusalKind

    sides = kind.typed(standing)
    known = sides if isinstance(sides, tuple) else ()
    found = [share_of(str(side), Dimension.LENGTH, left) for side in known]
    if not found or None in found:
        raise refuse(RefusalKind.NO_AMOUNT_THERE, text)
    return tuple(filter(None, found))


def is_nothing_there(fault: Refused) -> bool:
    """Whether a share was refused because no number stands where it was to be taken."""
    from whatif.study.refused import Refusal, RefusalKind

    why = fault.why
    return isinstance(why, Refusal) and why.kind is RefusalKind.NO_AMOUNT_THERE


def alike(resolved: Resolved, path: Path, key: Key) -> tuple[Path, ...]:
    """The same row of all things of the sort that a scenario has in use, the row's own first."""
    return path, *(other for other in all_in_use(resolved, key) if other != path)


def all_in_use(resolved: Resolved, key: Key) -> Iterator[Path]:
    """The rows of a key of things: those of all of the sort that a scenario has in use."""
    group, *rest = key.pattern
    for id_ in resolved.in_use(group):
        if ANY not in rest[1:]:
            yield (group, id_, *rest[1:])
        else:
            for machine in resolved.differs_on(id_):
                yield (group, id_, rest[1], machine, *rest[3:])


def all_alike(edits: Sequence[SetValue], of: int, text: str, title: str) -> Edit:
    """The edits as one, named by what was typed: "setup of all 4 parts -20 % in Today".

    ``of`` tells how many things there are, in some of which a share may find no number.
    """
    from whatif.study.edits import Together

    path, key = edits[0].path, key_for(edits[0].path)
    assert key is not None
    words = things_words(path)
    many = f"all {of} {words}" if len(edits) == of else f"{len(edits)} of {of} {words}"
    many = f"the one {path[0]}" if of == 1 else many
    is_share = share_typed_over(key, text) is not None
    said = text if is_share else key.kind.written(edits[0].raw)
    return Together(tuple(edits), f"{label_at(path)} of {many} {said} in {title}")


def things_words(path: Path) -> str:
    """What the things of a path's sort are called: "parts"."""
    return _MANY.get(path[0], f"{path[0]}s")
