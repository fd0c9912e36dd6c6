"""Where a value is to be entered so that it holds for the whole shop."""

from whatif.study.draft import Draft
from whatif.study.raw import Path


def home_of(draft: Draft, path: Path, chosen: str, reference: str | None) -> str:
    """The scenario in which a value of `chosen` holds for `reference` too, where there is one.

    That is the nearest one that both inherit from and that enters the value, or else the
    first of them that has the thing; what only `chosen` has is entered where it begins.
    """
    own = _line(draft, chosen)
    others = _line(draft, reference) if reference and draft.has(reference) else ()
    common = tuple(one for one in own if one in others)
    for line in (common, own):
        entering = [one for one in line if path in draft.scenario(one).entered]
        having = [one for one in line if _begins(draft, one, path)]
        if having or entering:
            return entering[-1] if entering else having[0]
    return (common or own)[0]


def others_of(draft: Draft, path: Path, home: str) -> tuple[str, ...]:
    """The scenarios for which `home` does not decide a value: they have one of their own."""
    return tuple(
        one for one in draft.ids if _has(draft, one, path) and not _follows(draft, one, path, home)
    )


def _line(draft: Draft, scenario: str) -> tuple[str, ...]:
    """It and what it inherits from, the root first."""
    return (*reversed(draft.ancestors(scenario)), scenario)


def _begins(draft: Draft, scenario: str, path: Path) -> bool:
    """Whether something is entered there for the thing of a path; the rest is everywhere."""
    return len(path) < 3 or path[1] in draft.scenario(scenario).things.get(path[:1], ())


def _has(draft: Draft, scenario: str, path: Path) -> bool:
    return any(_begins(draft, one, path) for one in _line(draft, scenario))


def _follows(draft: Draft, scenario: str, path: Path, home: str) -> bool:
    line = _line(draft, scenario)
    if home not in line:
        return False
    return not any(path in draft.scenario(one).entered for one in line[line.index(home) + 1 :])
