"""All keys of a study file, with kind, default and meaning, drawn from the models.

The models are the one list of keys; this module only turns them on their side, so
that readers, editors and reports can look keys up by their path.
"""

from bisect import bisect
from collections.abc import Iterator, Mapping
from functools import cache, lru_cache
from typing import Any, Final, TypeAlias

from whatif.records import dataclass
from whatif.study.raw import Entries, Path, Raw, Table
from whatif.study.schema.kinds import Kind
from whatif.study.schema.models import Lever, Scenario, Study
from whatif.study.schema.says import Model, Says
from whatif.units import Dimension

ANY: Final = "*"
"""Stands in a pattern where a path has an id."""

_CLOSE: Final = 0.6
_MANY, _BESIDE = 100, 8
"""Of more known words than the first only as many as the second are looked at on each side."""


@dataclass(frozen=True)
class Key:
    """One key of a study file.

    `pattern` is its path under a scenario, with `ANY` for an id (or the name of a
    root key alone); `default` the raw value assumed where none is given, None
    where there is none.
    """

    pattern: Path
    kind: Kind[Any]
    default: Raw | None
    default_words: str
    required: bool
    says: Says

    @property
    def label(self) -> str:
        """Its name on the sheet: "pallets each"."""
        return self.says.label

    @property
    def choices(self) -> tuple[tuple[Raw, str, str], ...]:
        """Each value of a few, as it is written, and in a few words; () of other kinds."""
        return tuple((raw, self.kind.written(raw), words) for raw, words in self.kind.choices)

    @property
    def group(self) -> str:
        """The first part of the path: "machine"."""
        return self.pattern[0]

    @property
    def name(self) -> str:
        """The last part of the path: "count"."""
        return self.pattern[-1]

    @property
    def dotted(self) -> str:
        """The pattern as the book writes it: "machine.<id>.count"."""
        return dotted(self.pattern)


def dotted(path: Path) -> str:
    """A path or pattern as one text: "machine.mill.count", "machine.<id>.count"."""
    return ".".join("<id>" if part == ANY else part for part in path)


def _leaf(path: Path, says: Says, kind: Kind[Any]) -> Key:
    required = says.assumed is ...
    default: Raw | None = None if required else says.assumed
    words = "not given" if default is None or default == "" else kind.written(default)
    if isinstance(default, str) and default in dict(kind.choices):
        # The book tells what a file holds.
        words = default
    in_words = says.in_words or ("required" if required else words)
    return Key(path, kind, default, in_words, required, says)


def _keys(model: type[Model], path: Path = ()) -> Iterator[Key]:
    for name, field in model.fields.items():
        here = (*path, name)
        if field.says is not None and field.kind is not None:
            yield _leaf(here, field.says, field.kind)
        elif field.below is not None:
            yield from _keys(field.below, (*here, ANY) if field.by_id else here)


KEYS: Final = tuple(_keys(Scenario))
"""Every key under a scenario, in the book's order."""

HEAD_KEYS: Final[Mapping[str, Key]] = {
    key.name: key for key in _keys(Study) if len(key.pattern) == 1
}
"""Every root key by its name, in the book's order."""

LEVER: Final = "lever"
"""The root table that holds levers by their ids."""

ALSO: Final = "also"
"""The table of a lever whose keys are those of a scenario."""

LEVER_KEYS: Final[Mapping[str, Key]] = {key.name: key for key in _keys(Lever, (LEVER, ANY))}
"""The keys of a lever by their names, in the book's order."""

_BY_PATTERN: Final = {key.pattern: key for key in KEYS}
GROUPS: Final = tuple(dict.fromkeys(key.group for key in KEYS))
"""The first parts of all paths, in the book's order."""

THINGS: Final = tuple(
    dict.fromkeys(key.group for key in KEYS if len(key.pattern) > 1 and key.pattern[1] == ANY)
)
"""The groups that hold things by id: shift, machine, part, stop, rush, order."""

TAKES_OUT: Final[Mapping[str, str]] = {key.group: key.name for key in KEYS if key.says.takes_out}
"""The key of each sort of thing whose 0 takes it out (rule `study.take-out`)."""

ON_KEYS: Final = tuple(key.name for key in KEYS if key.pattern.count(ANY) == 2)
"""What may be other for a part on one machine."""


RENAMED: Final[Mapping[Path, Path]] = {
    ("claimed", "attended_hours"): ("said", "with_people", "hours"),
    ("claimed", "attended_utilization"): ("said", "with_people", "cutting"),
    ("claimed", "unattended_hours"): ("said", "with_nobody", "hours"),
    ("claimed", "unattended_utilization"): ("said", "with_nobody", "cutting"),
    ("claimed", "machines"): ("said", "machines"),
    ("shift", ANY, "breaks_paid"): ("shift", ANY, "unpaid_breaks"),
    ("shift", ANY, "inspects"): ("shift", ANY, "does"),
}
"""Keys of earlier files, each with the one that says it now (rule `study.errors`)."""


def renamed(path: Path) -> Path | None:
    """The path of the key that says now what one of an earlier file said; None of others."""
    now = RENAMED.get(pattern_of(path))
    return None if now is None else _with_ids(now, path)


def nothing_of(group: str) -> Raw:
    """The 0 that takes a thing of a sort out, as it is entered."""
    is_time = _BY_PATTERN[group, ANY, TAKES_OUT[group]].kind.dimension is Dimension.TIME
    return "0 h" if is_time else 0


def sorts_in(path: Path) -> Mapping[int, str]:
    """Of what sort the ids in a path are, by their places: {1: "machine"} of machine.mill.count."""
    if len(path) < 2 or path[0] not in THINGS:
        return {}
    has_two = len(path) > 3 and path[0] == "part" and path[2] == "on"
    return {1: "part", 3: "machine"} if has_two else {1: path[0]}


@cache
def pattern_of(path: Path) -> Path:
    """`path` with `ANY` in the places of ids, whether or not there is such a key."""
    ids = sorts_in(path)
    return tuple(ANY if place in ids else part for place, part in enumerate(path))


@cache
def key_for(path: Path) -> Key | None:
    """The key at `path` (with its ids) under a scenario, or None where there is none."""
    return None if ANY in path else _BY_PATTERN.get(pattern_of(path))


@cache
def keys_of(group: str) -> tuple[Key, ...]:
    """The keys whose path begins with `group`, in the book's order."""
    return tuple(key for key in KEYS if key.group == group)


def label_at(path: Path) -> str:
    """The label of a key as a sheet has it, what is other on a machine by the part's own.

    "cycle on mill"; a path that is no key is told as it is.
    """
    key = key_for(path)
    own = key_for((*path[:2], *path[4:])) if len(sorts_in(path)) > 1 else None
    if own is not None:
        return f"{own.label} on {path[3]}"
    return dotted(path) if key is None else key.label


def nearest_key(path: Path) -> str | None:
    """The known key that `path` is closest to, as a dotted text with its ids, or None."""
    now = renamed(path)
    if now is not None:
        return dotted(now)
    scored = [
        (score, index, key.pattern)
        for index, key in enumerate(KEYS)
        if (score := _likeness(path, key.pattern)) >= _CLOSE
    ]
    if scored:
        _, _, pattern = max(scored, key=lambda each: (each[0], -each[1]))
        return dotted(_with_ids(pattern, path))
    return _same_name_elsewhere(path)


def nearest_head(name: str) -> str | None:
    """The root key that `name` is closest to, or None."""
    return closest(name, HEAD_KEYS)


def closest(
    word: str, known: Mapping[str, object] | tuple[str, ...], but: str | None = None
) -> str | None:
    """The known word, other than `but`, that `word` most likely means, or None.

    Of very many only those are looked at that begin or end most like it.
    """
    found: str | None = None
    likest = 0.0
    for each in known if len(known) <= _MANY else _neighbours(word, tuple(known)):
        if each == but or _at_most(word, each) < max(likest, _CLOSE):
            continue
        likeness = _alike(word, each)
        if likeness > likest and likeness >= _CLOSE:
            found, likest = each, likeness
    return found


def _neighbours(word: str, known: tuple[str, ...]) -> list[str]:
    """The known words beside which a word would stand, sorted by beginnings and by ends."""
    near = []
    for turned, words in zip((1, -1), _sorted(known), strict=True):
        at = bisect(words, (word.lower()[::turned],))
        near += [each for _, each in words[max(0, at - _BESIDE) : at + _BESIDE]]
    return near


@lru_cache(maxsize=4)
def _sorted(known: tuple[str, ...]) -> tuple[list[tuple[str, str]], list[tuple[str, str]]]:
    """The known words by their letters, and by their letters from the end."""
    return (
        sorted((each.lower(), each) for each in known),
        sorted((each.lower()[::-1], each) for each in known),
    )


def _at_most(word: str, other: str) -> float:
    """How like two words may be, by the letters that they share; a bound of :func:`_alike`."""
    word, other = word.lower(), other.lower()
    shared = min(sum(map(other.__contains__, word)), sum(map(word.__contains__, other)))
    return 2 * shared / (len(word) + len(other) or 1)


def _likeness(path: Path, pattern: Path) -> float:
    """How like two paths of one length are: by their least like parts, then by all."""
    if len(path) != len(pattern):
        return 0.0
    parts = [_alike(part, name) for part, name in zip(path, pattern, strict=True) if name != ANY]
    return min(parts) + sum(parts) / 1000


@lru_cache(maxsize=20_000)
def _alike(word: str, other: str) -> float:
    from difflib import SequenceMatcher  # only now: few studies have a word that is none

    return SequenceMatcher(None, word.lower(), other.lower()).ratio()


def _with_ids(pattern: Path, path: Path) -> Path:
    return tuple(
        path[place] if part == ANY and place < len(path) else part
        for place, part in enumerate(pattern)
    )


def _same_name_elsewhere(path: Path) -> str | None:
    """A key of the same name in another place: "after_shift" is in unattended."""
    if not path:
        return None
    same = [key for key in KEYS if key.name == path[-1] and key.pattern != path]
    in_group = [key for key in same if key.group == path[0]]
    nearest = in_group or same
    return nearest[0].dotted if nearest else None


# -- the order of entries ------------------------------------------------------------------

_RANKS: Final = {
    part: rank
    for rank, part in enumerate(
        dict.fromkeys(
            key.pattern[:depth] for key in KEYS for depth in range(1, len(key.pattern) + 1)
        )
    )
}
"""Patterns of keys and of the tables above them, as they follow each other in the book."""

# Known names come by rank, ids by number; what is unknown comes last, by the alphabet,
# because a writer that puts plain values before tables may not keep any other order of it.
_Place: TypeAlias = tuple[bool, int, str]


def ids_in(entered: Mapping[Path, Raw]) -> dict[Path, tuple[str, ...]]:
    """The ids that something stands under, by the path above them, in the order of entering.

    Those of machines are at ("machine",), those of the machines on which a part
    differs at ("part", "body", "on"). A plain value where a thing should be makes
    no thing.
    """
    ids: dict[Path, dict[str, None]] = {}
    for path, raw in entered.items():
        for place in sorts_in(path):
            if len(path) > place + 1 or isinstance(raw, Table):
                ids.setdefault(path[:place], {})[path[place]] = None
    return {above: tuple(below) for above, below in ids.items()}


def in_book_order(entered: Mapping[Path, Raw]) -> Entries[Path, Raw]:
    """`entered` in the book's order, things in that of entering (rule `study.order`).

    Empty tables that have something below are left out.
    """
    tables = {path[:depth] for path in entered for depth in range(1, len(path))}
    kept = {path: raw for path, raw in entered.items() if raw != Table() or path not in tables}
    ids = {
        above: {part: rank for rank, part in enumerate(below)}
        for above, below in ids_in(kept).items()
    }
    nothing: Mapping[str, int] = {}

    def places(path: Path) -> Iterator[_Place]:
        pattern = pattern_of(path)
        for depth, (part, known) in enumerate(zip(path, pattern, strict=True)):
            if known == ANY:
                rank = ids.get(path[:depth], nothing).get(part)
            else:
                rank = _RANKS.get(pattern[: depth + 1])
            yield (True, 0, part) if rank is None else (False, rank, "")

    return Entries(dict(sorted(kept.items(), key=lambda entry: tuple(places(entry[0])))))


def head_in_book_order(head: Mapping[str, Raw]) -> Entries[str, Raw]:
    """Root keys in the book's order, unknown ones last."""
    known = {name: head[name] for name in (*HEAD_KEYS, LEVER) if name in head}
    return Entries({**known, **{name: head[name] for name in sorted(head) if name not in known}})
