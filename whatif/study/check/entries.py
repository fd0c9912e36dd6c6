"""Faults of single values, told where the value is entered."""

from collections.abc import Iterator
from functools import cache, partial
from itertools import islice
from typing import Final

from whatif.study.draft import Draft, ScenarioDraft
from whatif.study.problem import Problem, ProblemKind
from whatif.study.raw import Path, Raw, Table, kind_of, shown
from whatif.study.resolve import GIVEN_BACK
from whatif.study.schema.catalogue import (
    ANY,
    GROUPS,
    HEAD_KEYS,
    KEYS,
    LEVER,
    THINGS,
    Key,
    closest,
    dotted,
    key_for,
    keys_of,
    nearest_head,
    nearest_key,
    pattern_of,
    renamed,
)
from whatif.study.schema.kinds import Id, KindError
from whatif.study.schema.models import FORMAT

_ID: Final = Id()
_INSTEAD: Final = {
    "breaks_paid": "breaks that are not paid are listed there",
    "inspects": 'first pieces are released in a shift that does "release"',
}
"""How a key is used that took the place of another one and holds something else."""
_TABLES: Final = {key.pattern[:depth] for key in KEYS for depth in range(1, len(key.pattern))}


def head_problems(draft: Draft) -> Iterator[Problem]:
    """Faults of the root keys, each by itself."""
    unknown = 0
    for name, raw in draft.head.items():
        key = HEAD_KEYS.get(name)
        if name == LEVER:
            continue
        if key is None:
            yield _unknown_head(name, raw, is_hinted=unknown < MOST_HINTED)
            unknown += 1
        elif raw != GIVEN_BACK:
            yield from _kind_problem(None, (name,), raw, key)
    if draft.head.get("format", GIVEN_BACK) == GIVEN_BACK:
        key = HEAD_KEYS["format"]
        yield Problem(
            None, ("format",), "", ProblemKind.NO_FORMAT, (str(FORMAT),), key.kind.allowed
        )


MOST_HINTED: Final = 200
"""Unknown keys of a scenario, or of the root, of which it is told which known one may be meant."""


def _unknown_head(name: str, raw: Raw, *, is_hinted: bool) -> Problem:
    told = partial(Problem, None, (name,), shown(raw))
    if name == "scenario":
        return told(ProblemKind.NO_TABLES, (kind_of(raw),), "tables such as [scenario.<id>]")
    if name in GROUPS:
        allowed = f"a table such as [scenario.<id>.{name}]"
        return told(ProblemKind.BELONGS_TO_SCENARIO, (), allowed)
    meant = closest(name, ("scenario", LEVER)) or nearest_head(name) if is_hinted else None
    return told(ProblemKind.UNKNOWN_KEY, (), _HEAD_LISTED, meant)


def scenario_problems(scenario: ScenarioDraft) -> Iterator[Problem]:
    """Faults of what is entered in one scenario, each value by itself."""
    yield from _id_problem(scenario.id, ("scenario", scenario.id))
    seen: set[Path] = set()
    # Whoever has hundreds of unknown keys has another file before them than a study.
    hinted = dict(islice(unknown_keys(scenario).items(), MOST_HINTED))
    for path, raw in scenario.entered.items():
        for depth, part in enumerate(pattern_of(path), start=1):
            if part == ANY and path[:depth] not in seen:
                seen.add(path[:depth])
                yield from _id_problem(scenario.id, path[:depth])
        yield from _value_problem(scenario.id, path, raw, is_hinted=path in hinted)


def unknown_keys(scenario: ScenarioDraft) -> dict[Path, Raw]:
    """What is entered under no key there is, by its path."""
    return {
        path: raw
        for path, raw in scenario.entered.items()
        if key_for(path) is None and not (raw == Table() and stands_for_table(path))
    }


def stands_for_table(path: Path) -> bool:
    """Whether values stand below a path, so that none can stand there itself."""
    return pattern_of(path) in _TABLES


def known_instead(path: Path) -> Path | None:
    """The known key that was most likely meant, as a path; None where there is none."""
    meant = tuple((nearest_key(path) or "").split("."))
    return meant if key_for(meant) is not None and "<id>" not in meant else None


def _id_problem(scenario: str, path: Path) -> Iterator[Problem]:
    try:
        _ID.read(path[-1])
    except KindError as fault:
        kind = ProblemKind.NOT_OF_ITS_KIND
        yield Problem(scenario, path, shown(path[-1]), kind, (fault.why,), fault.allowed)


def _value_problem(scenario: str, path: Path, raw: Raw, *, is_hinted: bool) -> Iterator[Problem]:
    key = key_for(path)
    if key is not None:
        if raw != GIVEN_BACK:
            yield from _kind_problem(scenario, path, raw, key)
    elif not path:
        allowed = f"a table [scenario.{scenario}]"
        yield Problem(scenario, (), shown(raw), ProblemKind.NO_TABLE, (kind_of(raw),), allowed)
    elif stands_for_table(path):
        yield from _table_problem(scenario, path, raw)
    else:
        yield _unknown(scenario, path, raw, is_hinted=is_hinted)


def _kind_problem(scenario: str | None, path: Path, raw: Raw, known: Key) -> Iterator[Problem]:
    try:
        known.kind.read(raw)
    except KindError as fault:
        told = partial(Problem, scenario, path, shown(raw))
        if scenario is None and path == ("format",) and isinstance(raw, int) and raw > FORMAT:
            yield told(ProblemKind.LATER_FORMAT, (), fault.allowed)
        else:
            yield told(ProblemKind.NOT_OF_ITS_KIND, (fault.why,), fault.allowed)


def _table_problem(scenario: str, path: Path, raw: Raw) -> Iterator[Problem]:
    """A value where a table should be; an empty table is as good as none."""
    if raw == Table():
        return
    key, group = dotted(path), path[0]
    needs_id = group in THINGS and len(path) % 2 == 1
    allowed = f"a table such as [scenario.{scenario}.{key}{'.<id>' if needs_id else ''}]"
    told = partial(Problem, scenario, path, shown(raw))
    if isinstance(raw, tuple) and raw and all(isinstance(item, Table) for item in raw):
        yield told(ProblemKind.LIST_OF_TABLES, (), allowed)
    elif len(path) == 2 and any(each.name == path[1] for each in keys_of(group)):
        allowed = f"a table such as [scenario.{scenario}.{group}.<id>]"
        yield told(ProblemKind.NO_ID, (group,), allowed, dotted((group, ANY, path[1])))
    else:
        yield told(ProblemKind.NO_TABLE, (kind_of(raw),), allowed)


def _unknown(scenario: str, path: Path, raw: Raw, *, is_hinted: bool) -> Problem:
    told = partial(Problem, scenario, path, shown(raw))
    for depth in range(1, len(path)):
        above, name = key_for(path[:depth]), dotted(path[:depth])
        if above is not None:
            return told(ProblemKind.BELOW_A_VALUE, (name,), above.kind.allowed, name)
    now = renamed(path)
    known = None if now is None else key_for(now)
    if now is not None and known is not None:
        how = _INSTEAD.get(path[-1], "")
        return told(ProblemKind.OLD_KEY, (dotted(now), how), known.kind.allowed, dotted(now))
    meant = nearest_key(path) if is_hinted else None
    return told(ProblemKind.UNKNOWN_KEY, (), _known_at(path), meant)


def _known_at(path: Path) -> str:
    """The keys that may stand where an unknown one does."""
    return _known_below(pattern_of(path)[:-1])


@cache
def _known_below(above: Path) -> str:
    """The keys that may stand below a pattern; there are few patterns, and unknown keys many."""
    names = dict.fromkeys(
        key.pattern[len(above)]
        for key in KEYS
        if key.pattern[: len(above)] == above and len(key.pattern) > len(above)
    )
    return _list(tuple(names) or GROUPS)


def _list(names: tuple[str, ...]) -> str:
    return f"one of {', '.join(names)}"


_HEAD_LISTED: Final = _list(tuple(HEAD_KEYS))
