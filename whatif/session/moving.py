"""What moving a scenario under another parent would change, told before it is done."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from whatif.session.sheet import meant
from whatif.study.check.rules import sound
from whatif.study.draft import Draft
from whatif.study.edits import EditError, MoveKeeping, MoveScenario
from whatif.study.edits.edit import title_of
from whatif.study.problem import Problem
from whatif.study.raw import Path
from whatif.study.resolve import Resolved, resolve
from whatif.study.schema.catalogue import THINGS
from whatif.telling.in_words import from_where, value_label, value_text
from whatif.telling.problems import problem_sentence, refusal_words

_METERS: tuple[Path, ...] = (("hour_meters", "switched_on"), ("hour_meters", "in_cut"))


@dataclass(frozen=True, slots=True)
class Change:
    """One value, or one thing, that would be another.

    Attributes:
        scenario: the one in which it would be.
        label: what it is, in the words of the sheet.
        old, new: what stands there, or what becomes of the thing.
        origin: where the new one is from, in words; "" of a thing.
    """

    scenario: str
    label: str
    old: str
    new: str
    origin: str = ""


@dataclass(frozen=True, slots=True)
class Moving:
    """A move as it would be.

    Attributes:
        mends: whether the scenario's line of parents is broken now, so that a move puts it right;
            problems that this hid are then told, and are no reason against it.
        edit: the move; None where it cannot be done, and ``wrong`` says why.
        changes: by scenario, the moved one first, what would change; those with none are there too.
        keeping: the move with all values kept; None where there is nothing to keep or it cannot
            be done, and then ``why_not_kept`` says why.
    """

    edit: MoveScenario | None
    changes: Mapping[str, tuple[Change, ...]]
    wrong: tuple[str, ...] = ()
    keeping: MoveKeeping | None = None
    why_not_kept: str = ""
    mends: bool = False

    @property
    def count(self) -> int:
        """How many things and values would change."""
        return sum(len(some) for some in self.changes.values())


def new_parents(draft: Draft, scenario: str) -> tuple[str, ...]:
    """The scenarios that this one may be based on: not itself, nor what is based on it."""
    below = draft.descendants(scenario)
    return tuple(other for other in draft.ids if other != scenario and other not in below)


def moving(
    draft: Draft, edit: MoveScenario, new_problems: Callable[[Draft], Sequence[Problem]]
) -> Moving:
    """What a move would change; ``new_problems`` tells those that a draft adds."""
    try:
        moved = edit.apply(draft)
    except EditError as fault:
        return Moving(None, {}, (refusal_words(fault),))
    changes = _changes(draft, moved, edit.id)
    wrong = tuple(problem_sentence(problem) for problem in new_problems(moved))
    mends = not sound(draft, edit.id)
    keeping, why_not = None, ""
    if any(changes.values()) and not mends:
        keeping = MoveKeeping(edit.id, edit.new_parent)
        why_not = _why_not_kept(draft, keeping, new_problems)
    return Moving(
        edit=None if wrong and not mends else edit,
        changes=changes,
        wrong=wrong,
        keeping=None if why_not else keeping,
        why_not_kept=why_not,
        mends=mends,
    )


def _why_not_kept(
    draft: Draft, keeping: MoveKeeping, new_problems: Callable[[Draft], Sequence[Problem]]
) -> str:
    try:
        kept = keeping.apply(draft)
    except EditError as fault:
        return refusal_words(fault)
    problems = new_problems(kept)
    if problems:
        return problem_sentence(problems[0])
    for some in _changes(draft, kept, keeping.id).values():
        for change in some:
            return f"{change.label} in {title_of(draft, change.scenario)} would still change."
    return ""


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
            yield Change(
                scenario,
                value_label(path),
                value_text(old, path),
                value_text(new, path),
                from_where(after, new.values.get(path)),
            )
    metered = _meters_above(before, scenario), _meters_above(after, scenario)
    if metered[0] != metered[1]:
        was, will_be = (
            "none" if owner is None else f"those of {title_of(before, owner)}" for owner in metered
        )
        yield Change(scenario, "hour meters that hold", was, will_be)


def _meant(resolved: Resolved, path: Path) -> object:
    """What a value says; None where there is none."""
    return meant(resolved, path) if path in resolved.values else None


def _things(old: Resolved, new: Resolved, group: str) -> Iterator[Change]:
    """Things that appear or vanish; one that is taken out is as good as none."""
    before, after = _in_use(old, group), _in_use(new, group)
    for thing in before:
        if thing not in after:
            yield Change(old.scenario, f"{group} {thing}", "there", "gone")
    for thing in after:
        if thing not in before:
            yield Change(old.scenario, f"{group} {thing}", "not there", "there")
    stay = tuple(thing for thing in before if thing in after)
    order = tuple(thing for thing in after if thing in before)
    if stay != order:
        # What comes first in the file is served first where all else is equal.
        yield Change(old.scenario, f"order of the {group}s", ", ".join(stay), ", ".join(order))


def _in_use(resolved: Resolved, group: str) -> tuple[str, ...]:
    return tuple(thing for thing in resolved.ids(group) if not resolved.is_out(group, thing))


def _is_of_one_side(old: Resolved, new: Resolved, path: Path) -> bool:
    """Whether the value belongs to a thing that only one side has; the thing is told then."""
    if path[0] not in THINGS:
        return False
    group, thing = path[:2]
    return thing not in _in_use(old, group) or thing not in _in_use(new, group)


def _meters_above(draft: Draft, scenario: str) -> str | None:
    """The scenario whose hour meters hold (rule `meters.share`)."""
    for above in (scenario, *draft.ancestors(scenario)):
        resolved = resolve(draft, above)
        if all(resolved.raw(*meter) not in (None, "") for meter in _METERS):
            return above
    return None
