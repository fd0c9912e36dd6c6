"""The one order of entries: the page's for keys, that of entering for things."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, TypeAlias

from whatif.study.catalogue import ANY, HEAD_KEYS, KEYS
from whatif.study.raw import Entries, Path, Raw, Table

# Known names come by rank, ids by number; what is unknown comes last, by the alphabet,
# because a writer that puts plain values before tables may not keep any other order of it.
_Place: TypeAlias = tuple[int, int, str]
_KNOWN, _UNKNOWN = 0, 1


@dataclass
class _Node:
    """A table of the cell model: the rank of each name in it, and what is below."""

    below: dict[str, "_Node"] = field(default_factory=dict)
    rank: int = 0


def _tree() -> _Node:
    root = _Node()
    for key in KEYS:
        node = root
        for part in key.pattern:
            node = node.below.setdefault(part, _Node(rank=len(node.below)))
    return root


_ROOT: Final = _tree()


def ids_in(entered: Mapping[Path, Raw], above: Path) -> tuple[str, ...]:
    """The ids below `above` that something stands under, in the order of entering.

    `above` is ("machine",) for machines, ("part", "body", "on") for what differs
    on machines. A plain value where a thing should be makes no thing.
    """
    depth = len(above)
    return tuple(
        dict.fromkeys(
            path[depth]
            for path, raw in entered.items()
            if path[:depth] == above
            and (len(path) > depth + 1 or (len(path) == depth + 1 and isinstance(raw, Table)))
        )
    )


def in_page_order(entered: Mapping[Path, Raw]) -> Entries[Path, Raw]:
    """`entered` in the order of the page, without empty tables that have something below."""
    tables = {path[:depth] for path in entered for depth in range(1, len(path))}
    kept = {
        path: raw
        for path, raw in entered.items()
        if not (isinstance(raw, Table) and not raw.items and path in tables)
    }
    numbers: dict[Path, dict[str, int]] = {}
    return Entries(dict(sorted(kept.items(), key=lambda item: _places(item[0], kept, numbers))))


def _places(
    path: Path, entered: Mapping[Path, Raw], numbers: dict[Path, dict[str, int]]
) -> tuple[_Place, ...]:
    node: _Node | None = _ROOT
    places: list[_Place] = []
    for depth, part in enumerate(path):
        if node is not None and ANY in node.below:
            above = path[:depth]
            if above not in numbers:
                numbers[above] = {one: at for at, one in enumerate(ids_in(entered, above))}
            number = numbers[above].get(part)
            known = number is not None
            places.append((_KNOWN, number, "") if number is not None else (_UNKNOWN, 0, part))
            node = node.below[ANY] if known else None
        elif node is not None and part in node.below:
            node = node.below[part]
            places.append((_KNOWN, node.rank, ""))
        else:
            node = None
            places.append((_UNKNOWN, 0, part))
    return tuple(places)


def head_in_page_order(head: Mapping[str, Raw]) -> Entries[str, Raw]:
    """Root keys in the order of the page, unknown ones last."""
    ranks = {name: rank for rank, name in enumerate(HEAD_KEYS)}
    return Entries(
        dict(sorted(head.items(), key=lambda item: (ranks.get(item[0], len(ranks)), item[0])))
    )
