"""Faults of single values, told where the value is entered."""

from collections.abc import Iterator
from typing import Final

from whatif.study.check.problem import Problem
from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.raw import Path, Raw, Table, kind_of, shown
from whatif.study.resolve import GIVEN_BACK
from whatif.study.schema.catalogue import (
    ANY,
    GROUPS,
    HEAD_KEYS,
    KEYS,
    THINGS,
    Key,
    closest,
    dotted,
    key_for,
    keys_of,
    nearest,
    nearest_head,
    pattern_of,
)
from whatif.study.schema.kinds import Id, KindError
from whatif.study.schema.models import FORMAT

_ID: Final = Id()
_TABLES: Final = {key.pattern[:depth] for key in KEYS for depth in range(1, len(key.pattern))}


def head_problems(draft: Draft) -> Iterator[Problem]:
    """Faults of the root keys, each by itself."""
    for name, raw in draft.head.items():
        key = HEAD_KEYS.get(name)
        if key is None:
            yield _unknown_head(name, raw)
        elif raw != GIVEN_BACK:
            yield from _kind_problem(None, name, raw, key)
    if draft.head.get("format", GIVEN_BACK) == GIVEN_BACK:
        key = HEAD_KEYS["format"]
        yield Problem(
            None, "format", "", f"the file does not say format = {FORMAT}", key.kind.allowed
        )


def _unknown_head(name: str, raw: Raw) -> Problem:
    if name == "scenario":
        message = f"it is {kind_of(raw)}, and tables are wanted"
        return Problem(None, name, shown(raw), message, "tables such as [scenario.<id>]")
    if name in GROUPS:
        allowed = f"a table such as [scenario.<id>.{name}]"
        return Problem(None, name, shown(raw), "it stands under a scenario", allowed)
    meant = closest(name, ("scenario",)) or nearest_head(name)
    return Problem(None, name, shown(raw), "there is no such key", _list(tuple(HEAD_KEYS)), meant)


def scenario_problems(scenario: ScenarioDraft) -> Iterator[Problem]:
    """Faults of what is entered in one scenario, each value by itself."""
    yield from _id_problem(scenario.id, f"scenario.{scenario.id}", scenario.id)
    seen: set[Path] = set()
    for path, raw in scenario.entered.items():
        for depth, part in enumerate(pattern_of(path), start=1):
            if part == ANY and path[:depth] not in seen:
                seen.add(path[:depth])
                yield from _id_problem(scenario.id, dotted(path[:depth]), path[depth - 1])
        yield from _value_problem(scenario.id, path, raw)


def strays(scenario: ScenarioDraft) -> dict[Path, Raw]:
    """What is entered under no key there is, by its path."""
    return {
        path: raw
        for path, raw in scenario.entered.items()
        if key_for(path) is None and not (raw == Table() and pattern_of(path) in _TABLES)
    }


def stands_for_table(path: Path) -> bool:
    """Whether values stand below a path, so that none can stand there itself."""
    return pattern_of(path) in _TABLES


def known_instead(path: Path) -> Path | None:
    """The key that a stray one was most likely meant to be, as a path; None where there is none."""
    meant = tuple((nearest(path) or "").split("."))
    return meant if key_for(meant) is not None and "<id>" not in meant else None


def _id_problem(scenario: str, key: str, one: str) -> Iterator[Problem]:
    try:
        _ID.read(one)
    except KindError as fault:
        yield Problem(scenario, key, shown(one), fault.why, fault.allowed)


def _value_problem(scenario: str, path: Path, raw: Raw) -> Iterator[Problem]:
    key = key_for(path)
    if key is not None:
        if raw != GIVEN_BACK:
            yield from _kind_problem(scenario, dotted(path), raw, key)
    elif not path:
        message = f"it is {kind_of(raw)}, and a table is wanted"
        yield Problem(scenario, "", shown(raw), message, f"a table [scenario.{scenario}]")
    elif pattern_of(path) in _TABLES:
        yield from _table_problem(scenario, path, raw)
    else:
        yield _unknown(scenario, path, raw)


def _kind_problem(scenario: str | None, key: str, raw: Raw, known: Key) -> Iterator[Problem]:
    try:
        known.kind.read(raw)
    except KindError as fault:
        why = fault.why
        if scenario is None and key == "format" and isinstance(raw, int) and raw > FORMAT:
            why = "the file is of a later form than this version reads"
        yield Problem(scenario, key, shown(raw), why, fault.allowed)


def _table_problem(scenario: str, path: Path, raw: Raw) -> Iterator[Problem]:
    """A value where a table should be; an empty table is as good as none."""
    if raw == Table():
        return
    key, group = dotted(path), path[0]
    needs_id = group in THINGS and len(path) % 2 == 1
    allowed = f"a table such as [scenario.{scenario}.{key}{'.<id>' if needs_id else ''}]"
    message, meant = f"it is {kind_of(raw)}, and a table is wanted", None
    if isinstance(raw, tuple) and raw and all(isinstance(item, Table) for item in raw):
        message = "it is a list of tables; a table has single brackets"
    elif len(path) == 2 and any(each.name == path[1] for each in keys_of(group)):
        message, meant = f"the id of the {group} is missing", f"{group}.<id>.{path[1]}"
        allowed = f"a table such as [scenario.{scenario}.{group}.<id>]"
    yield Problem(scenario, key, shown(raw), message, allowed, meant)


def _unknown(scenario: str, path: Path, raw: Raw) -> Problem:
    for depth in range(1, len(path)):
        known, name = key_for(path[:depth]), dotted(path[:depth])
        if known is not None:
            message = f"{name} is one value, and nothing stands below it"
            allowed = known.kind.allowed
            return Problem(scenario, dotted(path), shown(raw), message, allowed, name)
    return Problem(
        scenario, dotted(path), shown(raw), "there is no such key", _known_at(path), nearest(path)
    )


def _known_at(path: Path) -> str:
    """The keys that may stand where an unknown one does."""
    above = pattern_of(path)[:-1]
    names = dict.fromkeys(
        key.pattern[len(above)]
        for key in KEYS
        if key.pattern[: len(above)] == above and len(key.pattern) > len(above)
    )
    return _list(tuple(names) or GROUPS)


def _list(names: tuple[str, ...]) -> str:
    return f"one of {', '.join(names)}"
