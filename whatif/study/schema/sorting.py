"""The order of entries: the book's for keys, of entering for things (rule `study.order`)."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, TypeAlias

from whatif.study.raw import Entries, Path, Raw, Table
from whatif.study.schema.catalogue import ANY, HEAD_KEYS, KEYS, id_places

# Known names come by rank, ids by number; what is unknown comes last, by the alphabet,
# because a writer that puts plain values before tables may not keep any other order of it.
_Place: TypeAlias = tuple[int, int, str]
_KNOWN, _UNKNOWN = 0, 1


@dataclass
class _Node:
    """A table of keys: the rank of each name in it, and what is below."""

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


def ids_in(entered: Mapping[Path, Raw]) -> dict[Path, tuple[str, ...]]:
    """The ids that something stands under, by the path above them, in the order of entering.

    Those of machines are at ("machine",), those of the machines on which a part
    differs at ("part", "body", "on"). A plain value where a thing should be makes
    no thing.
    """
    found: dict[Path, dict[str, None]] = {}
    for path, raw in entered.items():
        for place in id_places(path):
            if len(path) > place + 1 or isinstance(raw, Table):
                found.setdefault(path[:place], {})[path[place]] = None
    return {above: tuple(ids) for above, ids in found.items()}


def in_model_order(entered: Mapping[Path, Raw]) -> Entries[Path, Raw]:
    """`entered` in the book's order, without empty tables that have something below."""
    tables = {path[:depth] for path in entered for depth in range(1, len(path))}
    kept = {
        path: raw
        for path, raw in entered.items()
        if not (isinstance(raw, Table) and not raw.items and path in tables)
    }
    numbers = {
        above: {id_: number for number, id_ in enumerate(ids)}
        for above, ids in ids_in(kept).items()
    }
    return Entries(dict(sorted(kept.items(), key=lambda item: _places(item[0], numbers))))


def _places(path: Path, numbers: Mapping[Path, Mapping[str, int]]) -> tuple[_Place, ...]:
    node: _Node | None = _ROOT
    places: list[_Place] = []
    for depth, part in enumerate(path):
        if node is not None and ANY in node.below:
            number = numbers.get(path[:depth], {}).get(part)
            places.append((_UNKNOWN, 0, part) if number is None else (_KNOWN, number, ""))
            node = None if number is None else node.below[ANY]
        elif node is not None and part in node.below:
            node = node.below[part]
            places.append((_KNOWN, node.rank, ""))
        else:
            node = None
            places.append((_UNKNOWN, 0, part))
    return tuple(places)


def head_in_model_order(head: Mapping[str, Raw]) -> Entries[str, Raw]:
    """Root keys in the book's order, unknown ones last."""
    ranks = {name: rank for rank, name in enumerate(HEAD_KEYS)}
    return Entries(
        dict(sorted(head.items(), key=lambda item: (ranks.get(item[0], len(ranks)), item[0])))
    )
