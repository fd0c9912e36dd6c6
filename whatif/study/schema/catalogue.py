"""All keys of a study file, with kind, default and meaning, drawn from the models.

The models are the one list of keys; this module only turns them on their side, so
that readers, editors and reports can look keys up by their path.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache
from typing import Any, Final, get_args, get_origin

from pydantic.fields import FieldInfo

from whatif.study.raw import Path, Raw
from whatif.study.schema.kinds import Kind
from whatif.study.schema.models import Scenario, Study
from whatif.study.schema.says import Model, Says
from whatif.units import Dimension

ANY: Final = "*"
"""Stands in a pattern where a path has an id."""

_CLOSE: Final = 0.6


@dataclass(frozen=True)
class Key:
    """One key of a study file.

    `pattern` is its path under a scenario, with `ANY` for an id (or the name of a
    root key alone); `default` the raw value assumed where none is given, None
    where there is none; `how_to_find` tells how a shop finds the number.
    """

    pattern: Path
    kind: Kind[Any]
    default: Raw | None
    default_words: str
    required: bool
    inherits: bool
    says: Says

    @property
    def label(self) -> str:
        """Its name on the sheet: "pallets each"."""
        return self.says.label

    @property
    def meaning(self) -> str:
        """What the number does."""
        return self.says.meaning

    @property
    def how_to_find(self) -> str:
        """How a shop finds the number."""
        return self.says.find

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
    def numeric(self) -> bool:
        """Whether it can be varied in steps."""
        return self.kind.numeric

    @property
    def dotted(self) -> str:
        """The pattern as the book writes it: "machine.<id>.count"."""
        return dotted(self.pattern)


def dotted(path: Path) -> str:
    """A path or pattern as one text: "machine.mill.count", "machine.<id>.count"."""
    return ".".join("<id>" if part == ANY else part for part in path)


def _leaf(path: Path, field: FieldInfo, kind: Kind[Any], inherits: bool) -> Key:
    says = next(item for item in field.metadata if isinstance(item, Says))
    required = field.is_required()
    default: Raw | None = None if required else field.default
    words = says.in_words or ("required" if required else _in_words(kind, default))
    return Key(
        pattern=path,
        kind=kind,
        default=default,
        default_words=words,
        required=required,
        inherits=inherits,
        says=says,
    )


def _in_words(kind: Kind[Any], default: Raw | None) -> str:
    return "not given" if default is None or default == "" else kind.written(default)


def _model_of(annotation: object) -> tuple[type[Model], bool] | None:
    """The model that a field holds, and whether it holds one for each of many ids."""
    if isinstance(annotation, type) and issubclass(annotation, Model):
        return annotation, False
    if get_origin(annotation) is None:
        return None
    for argument in get_args(annotation):
        if isinstance(argument, type) and issubclass(argument, Model):
            return argument, True
    return None


def _keys(model: type[Model], path: Path, not_inherited: frozenset[str]) -> Iterator[Key]:
    for name, field in model.model_fields.items():
        here = (*path, name)
        kind = next((item for item in field.metadata if isinstance(item, Kind)), None)
        below = _model_of(field.annotation)
        if kind is not None:
            yield _leaf(here, field, kind, here[0] not in not_inherited)
        elif below is not None:
            yield from _keys(below[0], (*here, ANY) if below[1] else here, not_inherited)


KEYS: Final = tuple(_keys(Scenario, (), Scenario.NOT_INHERITED))
"""Every key under a scenario, in the book's order."""

HEAD_KEYS: Final[Mapping[str, Key]] = {
    key.name: key for key in _keys(Study, (), frozenset()) if len(key.pattern) == 1
}
"""Every root key by its name, in the book's order."""

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


def nothing_of(group: str) -> Raw:
    """The 0 that takes a thing of a sort out, as it is entered."""
    is_time = _BY_PATTERN[group, ANY, TAKES_OUT[group]].kind.dimension is Dimension.TIME
    return "0 h" if is_time else 0


def id_places(path: Path) -> tuple[int, ...]:
    """Where in a path ids stand: at 1 in ("machine", "mill", "count")."""
    if len(path) < 2 or path[0] not in THINGS:
        return ()
    has_two = len(path) > 3 and path[0] == "part" and path[2] == "on"
    return (1, 3) if has_two else (1,)


@cache
def pattern_of(path: Path) -> Path:
    """`path` with `ANY` in the places of ids, whether or not there is such a key."""
    ids = id_places(path)
    return tuple(ANY if place in ids else part for place, part in enumerate(path))


@cache
def key_for(path: Path) -> Key | None:
    """The key at `path` (with its ids) under a scenario, or None where there is none."""
    return None if ANY in path else _BY_PATTERN.get(pattern_of(path))


def keys_of(group: str) -> tuple[Key, ...]:
    """The keys whose path begins with `group`, in the book's order."""
    return tuple(key for key in KEYS if key.group == group)


def nearest_key(path: Path) -> str | None:
    """The known key that `path` is closest to, as a dotted text with its ids, or None."""
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


def closest(word: str, known: Mapping[str, object] | tuple[str, ...]) -> str | None:
    """The known word that `word` most likely means, or None."""
    best = max(known, key=lambda each: _alike(word, each), default=None)
    return best if best is not None and _alike(word, best) >= _CLOSE else None


def _likeness(path: Path, pattern: Path) -> float:
    """How like two paths of one length are: by their least like parts, then by all."""
    if len(path) != len(pattern):
        return 0.0
    parts = [_alike(part, name) for part, name in zip(path, pattern, strict=True) if name != ANY]
    return min(parts) + sum(parts) / 1000


@cache
def _alike(word: str, other: str) -> float:
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
    found = in_group or same
    return found[0].dotted if found else None
