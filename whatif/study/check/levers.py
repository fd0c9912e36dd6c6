"""Faults of levers, each told where it stands (rule `keys.lever`)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from whatif.study.draft import Draft
from whatif.study.levers import RELATIVE, entered_levers, key_of_lever
from whatif.study.problem import Problem, ProblemKind
from whatif.study.raw import Path, Raw, Table, kind_of, shown
from whatif.study.resolve import GIVEN_BACK
from whatif.study.schema.catalogue import ALSO, LEVER, LEVER_KEYS, Key, closest, nearest_key
from whatif.study.schema.kinds import Clock, Id, KindError, Percent
from whatif.units import Dimension, parse
from whatif.units.dimension import UnitsError

_NAMES = (*LEVER_KEYS, ALSO)


def lever_problems(draft: Draft) -> Iterator[Problem]:
    """All that is wrong with the levers of a study."""
    raw = draft.head.get(LEVER, GIVEN_BACK)
    if raw == GIVEN_BACK:
        return
    if not isinstance(raw, Table):
        allowed = "tables such as [lever.<id>]"
        yield Problem(None, (LEVER,), shown(raw), ProblemKind.NO_TABLES, (kind_of(raw),), allowed)
        return
    for id_, below in raw.items:
        yield from _of_id(id_)
        if not isinstance(below, Table):
            told = (kind_of(below),)
            allowed = f"a table [lever.{id_}]"
            yield Problem(None, (LEVER, id_), shown(below), ProblemKind.NO_TABLE, told, allowed)
    for id_, entries in entered_levers(draft).items():
        yield from _of_lever(id_, entries)


def _of_id(id_: str) -> Iterator[Problem]:
    try:
        Id().read(id_)
    except KindError as fault:
        kind = ProblemKind.NOT_OF_ITS_KIND
        yield Problem(None, (LEVER, id_), shown(id_), kind, (fault.why,), fault.allowed)


def _of_lever(id_: str, entries: Mapping[Path, Raw]) -> Iterator[Problem]:
    here = (LEVER, id_)
    for path, raw in entries.items():
        known = LEVER_KEYS.get(path[0])
        if path[0] == ALSO:
            yield from _of_also((*here, *path), path[1:], raw)
        elif known is None or len(path) > 1:
            allowed = f"one of {', '.join(_NAMES)}"
            kind, meant = ProblemKind.UNKNOWN_KEY, closest(path[0], _NAMES)
            near = None if meant is None else ".".join((*here, meant))
            yield Problem(None, (*here, *path), shown(raw), kind, (), allowed, near)
        elif raw != GIVEN_BACK:
            yield from _of_kind((*here, *path), raw, known)
    for name, key in LEVER_KEYS.items():
        if key.required and entries.get((name,), GIVEN_BACK) == GIVEN_BACK:
            yield Problem(None, (*here, name), "", ProblemKind.MISSING, (), key.kind.allowed)
    yield from _of_values(here, entries)


def _of_also(whole: Path, path: Path, raw: Raw) -> Iterator[Problem]:
    key = key_of_lever(path)
    if key is None:
        near = nearest_key(path) if path else None
        allowed = "a key of a scenario"
        yield Problem(None, whole, shown(raw), ProblemKind.UNKNOWN_KEY, (), allowed, near)
    elif raw != GIVEN_BACK:
        yield from _of_kind(whole, raw, key)


def _of_kind(path: Path, raw: Raw, key: Key) -> Iterator[Problem]:
    try:
        key.kind.read(raw)
    except KindError as fault:
        kind = ProblemKind.NOT_OF_ITS_KIND
        yield Problem(None, path, shown(raw), kind, (fault.why,), fault.allowed)


def _of_values(here: Path, entries: Mapping[Path, Raw]) -> Iterator[Problem]:
    """The key that is no scenario's, or values that it cannot have."""
    named, values = entries.get(("key",)), entries.get(("values",))
    if not isinstance(named, str) or not named:
        return
    path = tuple(named.split("."))
    key = key_of_lever(path)
    if key is None or not key.says.inherited:
        allowed, near = "a key of a scenario", nearest_key(path)
        kind = ProblemKind.UNKNOWN_KEY
        yield Problem(None, (*here, "key"), shown(named), kind, (), allowed, near)
    elif isinstance(values, tuple):
        for text in values:
            why = _why_not(key, text) if isinstance(text, str) else None
            if why is not None:
                kind = ProblemKind.NOT_OF_ITS_KIND
                told, allowed = (why.why,), why.allowed
                yield Problem(None, (*here, "values"), shown(text), kind, told, allowed)


def _why_not(key: Key, text: str) -> KindError | None:
    """Why a value of a lever cannot be one of its key; None where it can."""
    kind = key.kind
    is_clock = isinstance(kind, Clock)
    if text.startswith(RELATIVE) and (kind.numeric or is_clock):
        dimension = Dimension.TIME if is_clock else kind.dimension
        return None if _is_amount(text[1:], dimension) else KindError("it is no step", kind.allowed)
    if kind.numeric and not isinstance(kind, Percent) and _is_amount(text, Dimension.PERCENT):
        return None
    try:
        kind.read(kind.typed(text))
    except KindError as fault:
        return fault
    return None


def _is_amount(text: str, dimension: Dimension | None) -> bool:
    if dimension is None:
        return text.strip().replace(".", "", 1).isdecimal()
    try:
        parse(text, dimension)
    except UnitsError:
        return False
    return True
