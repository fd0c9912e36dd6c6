"""Values that go with the things that a table takes the place of, as it says nothing of them."""

from collections.abc import Collection, Iterator

from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.edits.edit import inherited_things, title_of
from whatif.study.guesses import is_as_parent
from whatif.study.raw import Path, Raw
from whatif.study.resolve import GIVEN_BACK, Resolved


@dataclass(frozen=True, slots=True)
class LostValue:
    """A value that stands for a thing that is removed.

    Attributes:
        title: of the scenario that enters it: that of the table, one above it, or one below it.
        path: where it stands there.
    """

    title: str
    path: Path
    raw: Raw


def lost_here(
    draft: Draft, here: Resolved, group: str, removed: Collection[str], said: Collection[str]
) -> tuple[LostValue, ...]:
    """What somebody entered for things that go, and the table says of none of its own."""
    gone = frozenset(removed)
    return tuple(
        LostValue(title_of(draft, given.origin.scenario), path, given.raw)
        for path, given in here.values.items()
        if path[0] == group and path[1] in gone
        if given.origin.scenario is not None
        if given.raw is not None and given.raw != GIVEN_BACK
        if ".".join(path[2:]) not in said
    )


def lost_below(
    draft: Draft, scenario: str, group: str, removed: Collection[str]
) -> tuple[LostValue, ...]:
    """What scenarios below enter for things that begin in this one, and go with them."""
    gone = _own(draft, scenario, group, removed)
    return tuple(
        LostValue(title_of(draft, below), path, raw)
        for below in draft.descendants(scenario)
        for path, raw in _entered_for(draft, below, group, gone)
    )


def emptied_below(
    draft: Draft, scenario: str, group: str, removed: Collection[str]
) -> tuple[str, ...]:
    """Titles of scenarios below that say nothing of their own any more: each is as its parent."""
    gone = _own(draft, scenario, group, removed)
    return tuple(
        title_of(draft, below)
        for below in draft.descendants(scenario)
        if (lost := frozenset(path for path, _ in _entered_for(draft, below, group, gone)))
        if is_as_parent(draft.scenario(below).without(*lost))
    )


def _own(draft: Draft, scenario: str, group: str, removed: Collection[str]) -> frozenset[str]:
    """Those that begin in a scenario; inherited ones stay above, out of use here."""
    return frozenset(removed) - frozenset(inherited_things(draft, scenario, group))


def _entered_for(
    draft: Draft, scenario: str, group: str, things: Collection[str]
) -> Iterator[tuple[Path, Raw]]:
    for path, raw in draft.scenario(scenario).entered.items():
        if path[:1] == (group,) and len(path) > 2 and path[1] in things:
            yield path, raw
