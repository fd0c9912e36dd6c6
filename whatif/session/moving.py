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
from whatif.study.resolve import Given, Resolved, Source, resolve
from whatif.study.schema.catalogue import TAKES_OUT, THINGS, dotted, key_for
from whatif.telling.problems import problem_sentence, refusal_words

_METERS: Path = ("hour_meters", "switched_on")
_NOT_GIVEN = "not given"


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
    return tuple(one for one in draft.ids if one != scenario and one not in below)


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
        for one in some:
            return f"{one.label} in {title_of(draft, one.scenario)} would still change."
    return ""


def _changes(before: Draft, after: Draft, scenario: str) -> dict[str, tuple[Change, ...]]:
    family = (scenario, *(one for one in before.descendants(scenario) if one != scenario))
    return {one: tuple(_in_one(before, after, one)) for one in family}


def _in_one(before: Draft, after: Draft, scenario: str) -> Iterator[Change]:
    old, new = resolve(before, scenario), resolve(after, scenario)
    for group in THINGS:
        yield from _things(old, new, group)
    for path in dict.fromkeys((*old.values, *new.values)):
        if path == ("parent",) or _is_of_one_side(old, new, path):
            continue
        if _meant(old, path) != _meant(new, path):
            was, is_ = _shown(old, path), _shown(new, path)
            yield Change(scenario, _label(path), was, is_, _origin(after, new.values.get(path)))
    metered = _meters_above(before, scenario), _meters_above(after, scenario)
    if metered[0] != metered[1]:
        yield Change(scenario, "hour meters that hold", *_titles(before, *metered))


def _meant(resolved: Resolved, path: Path) -> object:
    """What a value says; None where there is none."""
    return meant(resolved, path) if path in resolved.values else None


def _things(old: Resolved, new: Resolved, group: str) -> Iterator[Change]:
    """Things that appear or vanish; one that is taken out is as good as none."""
    was, is_ = _in_use(old, group), _in_use(new, group)
    for one in was:
        if one not in is_:
            yield Change(old.scenario, f"{group} {one}", "there", "gone")
    for one in is_:
        if one not in was:
            yield Change(old.scenario, f"{group} {one}", "not there", "there")
    stay = tuple(one for one in was if one in is_)
    order = tuple(one for one in is_ if one in was)
    if stay != order:
        # What comes first in the file is served first where all else is equal.
        yield Change(old.scenario, f"order of the {group}s", ", ".join(stay), ", ".join(order))


def _in_use(resolved: Resolved, group: str) -> tuple[str, ...]:
    return tuple(one for one in resolved.ids(group) if not _is_out(resolved, group, one))


def _is_out(resolved: Resolved, group: str, one: str) -> bool:
    amount = meant(resolved, (group, one, TAKES_OUT[group]))
    return amount == 0 and not isinstance(amount, bool)


def _is_of_one_side(old: Resolved, new: Resolved, path: Path) -> bool:
    """Whether the value belongs to a thing that only one side has; the thing is told then."""
    if path[0] not in THINGS:
        return False
    group, one = path[:2]
    return one not in _in_use(old, group) or one not in _in_use(new, group)


def _label(path: Path) -> str:
    key = key_for(path)
    if key is None:
        return dotted(path)
    if len(path) == 5:
        same = key_for((path[0], path[1], path[4]))
        return f"{path[1]}: {same.label if same else key.label} on {path[3]}"
    return f"{path[1]}: {key.label}" if path[0] in THINGS else key.label


def _shown(resolved: Resolved, path: Path) -> str:
    given, key = resolved.values.get(path), key_for(path)
    if given is None or given.raw is None or given.raw == "" or key is None:
        return _NOT_GIVEN
    return key.kind.written(given.raw)


def _origin(draft: Draft, given: Given | None) -> str:
    if given is None or given.origin.kind is Source.ASSUMED:
        return "assumed"
    if given.origin.kind is Source.ENTERED:
        return "entered here"
    return f"from {title_of(draft, given.origin.scenario)}"


def _meters_above(draft: Draft, scenario: str) -> str | None:
    """The scenario whose hour meters hold (rule `meters.share`)."""
    for one in (scenario, *draft.ancestors(scenario)):
        if resolve(draft, one).raw(*_METERS) not in (None, ""):
            return one
    return None


def _titles(draft: Draft, was: str | None, is_: str | None) -> tuple[str, str]:
    return (
        "none" if was is None else f"those of {title_of(draft, was)}",
        "none" if is_ is None else f"those of {title_of(draft, is_)}",
    )
