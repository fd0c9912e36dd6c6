"""What moving a scenario under another parent would change, found before it is done."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TypeAlias

from whatif.records import dataclass
from whatif.study.check.rules import sound
from whatif.study.draft import Draft
from whatif.study.edits.edit import EditError
from whatif.study.edits.tree import MoveKeeping, MoveScenario
from whatif.study.problem import Problem
from whatif.study.raw import Path
from whatif.study.resolve import Given, Resolved, resolve
from whatif.study.schema.catalogue import THINGS

_METERS: tuple[Path, ...] = (("hour_meters", "switched_on"), ("hour_meters", "in_cut"))


@dataclass(frozen=True, slots=True)
class OtherValue:
    """A value that would be another; None where there is none."""

    scenario: str
    path: Path
    old: Given | None
    new: Given | None


@dataclass(frozen=True, slots=True)
class OtherThing:
    """A thing that would appear, or be gone."""

    scenario: str
    group: str
    id: str
    appears: bool


@dataclass(frozen=True, slots=True)
class OtherOrder:
    """Things of one sort that would follow each other otherwise."""

    scenario: str
    group: str
    old: tuple[str, ...]
    new: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OtherMeters:
    """Hour meters of another scenario that would hold; None where there are none."""

    scenario: str
    old: str | None
    new: str | None


Change: TypeAlias = OtherValue | OtherThing | OtherOrder | OtherMeters
Obstacle: TypeAlias = EditError | Problem | Change
"""Why a move cannot be made, or why values are not kept: one would change all the same."""


@dataclass(frozen=True, slots=True)
class Moving:
    """A move as it would be.

    Attributes:
        edit: the move; None where it cannot be done, and `wrong` says why.
        changes: by scenario, the moved one first, what would change; those with none are there too.
        keeping: the move with all values kept; None where there is nothing to keep or it cannot
            be done, and then `not_kept` says why.
        mends: whether the scenario's line of parents is broken now, so that a move puts it right;
            problems that this hid are then told, and are no reason against it.
    """

    edit: MoveScenario | None
    changes: Mapping[str, tuple[Change, ...]]
    wrong: tuple[Obstacle, ...] = ()
    keeping: MoveKeeping | None = None
    not_kept: Obstacle | None = None
    mends: bool = False

    @property
    def count(self) -> int:
        """How many things and values would change."""
        return sum(map(len, self.changes.values()))


def new_parents(draft: Draft, scenario: str) -> tuple[str, ...]:
    """The scenarios that this one may be based on: not itself, nor what is based on it."""
    below = draft.descendants(scenario)
    return tuple(other for other in draft.ids if other != scenario and other not in below)


def moving(
    draft: Draft, edit: MoveScenario, new_problems: Callable[[Draft], Sequence[Problem]]
) -> Moving:
    """What a move would change; `new_problems` finds those that a draft adds."""
    try:
        moved = edit.apply(draft)
    except EditError as fault:
        return Moving(None, {}, (fault,))
    changes = _changes(draft, moved, edit.id)
    wrong = tuple(new_problems(moved))
    mends = not sound(draft, edit.id)
    keeping, not_kept = None, None
    if any(changes.values()) and not mends:
        keeping = MoveKeeping(edit.id, edit.new_parent)
        not_kept = _why_not_kept(draft, keeping, new_problems)
    return Moving(
        edit=None if wrong and not mends else edit,
        changes=changes,
        wrong=wrong,
        keeping=keeping if not_kept is None else None,
        not_kept=not_kept,
        mends=mends,
    )


def _why_not_kept(
    draft: Draft, keeping: MoveKeeping, new_problems: Callable[[Draft], Sequence[Problem]]
) -> Obstacle | None:
    try:
        kept = keeping.apply(draft)
    except EditError as fault:
        return fault
    still = (change for some in _changes(draft, kept, keeping.id).values() for change in some)
    return next(iter(new_problems(kept)), None) or next(still, None)


def _changes(before: Draft, after: Draft, scenario: str) -> dict[str, tuple[Change, ...]]:
    family = (scenario, *before.descendants(scenario))
    return {member: tuple(_in_one(before, after, member)) for member in family}


def _in_one(before: Draft, after: Draft, scenario: str) -> Iterator[Change]:
    old, new = resolve(before, scenario), resolve(after, scenario)
    for group in THINGS:
        yield from _things(old, new, group)
    for path in dict.fromkeys((*old.values, *new.values)):
        if path == ("parent",) or _is_of_one_side(old, new, path):
            continue
        if _meant(old, path) != _meant(new, path):
            yield OtherValue(scenario, path, old.values.get(path), new.values.get(path))
    was, will_be = _meters_above(before, scenario), _meters_above(after, scenario)
    if was != will_be:
        yield OtherMeters(scenario, was, will_be)


def _meant(resolved: Resolved, path: Path) -> object:
    """What a value says; None where there is none."""
    return resolved.meant(path) if path in resolved.values else None


def _things(old: Resolved, new: Resolved, group: str) -> Iterator[Change]:
    """Things that appear or vanish; one that is taken out is as good as none."""
    before, after = old.in_use(group), new.in_use(group)
    for thing in before:
        if thing not in after:
            yield OtherThing(old.scenario, group, thing, appears=False)
    for thing in after:
        if thing not in before:
            yield OtherThing(old.scenario, group, thing, appears=True)
    stay = tuple(thing for thing in before if thing in after)
    order = tuple(thing for thing in after if thing in before)
    if stay != order:
        # What comes first in the file is served first where all else is equal.
        yield OtherOrder(old.scenario, group, stay, order)


def _is_of_one_side(old: Resolved, new: Resolved, path: Path) -> bool:
    """Whether the value belongs to a thing that only one side has; the thing is told then."""
    if path[0] not in THINGS:
        return False
    group, thing = path[:2]
    return thing not in old.in_use(group) or thing not in new.in_use(group)


def _meters_above(draft: Draft, scenario: str) -> str | None:
    """The scenario whose hour meters hold (rule `meters.share`)."""
    for above in (scenario, *draft.ancestors(scenario)):
        resolved = resolve(draft, above)
        if all(resolved.has(*meter) for meter in _METERS):
            return above
    return None
