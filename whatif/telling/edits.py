"""What is said of edits: of taking out and naming things, of moving a scenario, of pasting."""

from __future__ import annotations

from collections.abc import Sequence

from whatif.records import dataclass
from whatif.study.draft import Draft
from whatif.study.edits import AddThing, EditError, RemoveThing
from whatif.study.edits.edit import inherited_things, title_of
from whatif.study.edits.moving import (
    Change,
    Obstacle,
    OtherMeters,
    OtherOrder,
    OtherThing,
    OtherValue,
)
from whatif.study.problem import Problem
from whatif.study.raw import Path
from whatif.study.resolve import Given, Source
from whatif.study.schema.catalogue import TAKES_OUT, THINGS, key_for, label_at, nothing_of
from whatif.telling.problems import problem_sentence
from whatif.telling.refusals import refusal_words


def sort_name(group: str) -> str:
    """What a sort of things is called."""
    return "rush order" if group == "rush" else group


def called(group: str, thing: str) -> str:
    """A thing in words: "machine mill"."""
    return f"{sort_name(group)} {thing}"


def what_goes(draft: Draft, edit: RemoveThing) -> str:
    """The question before a thing is taken out; raises `EditError` where it cannot be."""
    left = edit.apply(draft)
    title = draft.scenario(edit.scenario).title
    asked = f"Remove {called(edit.group, edit.id)} from {title}?"
    below = [draft.scenario(scenario).title for scenario in draft.descendants(edit.scenario)]
    if edit.id in inherited_things(draft, edit.scenario, edit.group):
        key = TAKES_OUT[edit.group]
        known = key_for((edit.group, edit.id, key))
        label = key if known is None else known.label
        also = f" So it is removed in what is based on it: {'; '.join(below)}." if below else ""
        return f'{asked} It is inherited, so "{label}" becomes {nothing_of(edit.group)} here.{also}'
    gone = [
        scenario.title
        for scenario in draft.scenarios
        if scenario.id != edit.scenario
        and len(scenario.entered) != len(left.scenario(scenario.id).entered)
    ]
    count = sum(path[:2] == (edit.group, edit.id) and len(path) > 2
                for path in draft.scenario(edit.scenario).entered)  # fmt: skip
    values = f"{count} value{'' if count == 1 else 's'}" if count else "nothing else"
    also = f" So does what is entered for it in: {'; '.join(gone)}." if gone else ""
    return f"{asked} It begins here, and goes with {values}.{also}"


def name_wanted(group: str) -> str:
    """That a thing has no name yet."""
    return f"Type a short name for the {sort_name(group)}, such as spare_1."


def no_short_name(name: str) -> str:
    """Why no id can be made of a name."""
    return (
        f'"{name}" has no letter from a to z and no digit; a short name is made of these, - and _.'
    )


def name_taken(group: str, thing: str) -> str:
    """That there is such a thing."""
    return f"There is a {called(group, thing)} already."


def name_will_be(thing: str) -> str:
    """What is made of a name."""
    return f"Its name will be {thing}."


def new_thing_words(edit: AddThing) -> str:
    """That a thing is new, and of a shift when it runs, as several look alike otherwise."""
    new = f"New {called(edit.group, edit.id)}"
    if edit.group == "shift":
        values = dict(edit.values)
        new += f", {values['start']}-{values['end']}, no breaks yet"
    return f"{new}: what is marked ~ is only assumed."


def same_hours_words(shift: str, copy: str) -> str:
    """That a copy of a shift brings its people into the same hours, as nothing else shows."""
    return f"Shift {copy} works the same hours as {shift}: change its start and end."


# -- moving a scenario ---------------------------------------------------------------------

WEEKS_SETTLE_ANEW = "gains now settle over other weeks, so hours and pieces may move a little"
"""Behind a new reference: gains against another one need more or fewer weeks to stand still."""

_LABEL = 26


@dataclass(frozen=True, slots=True)
class ToldChange:
    """One value, or one thing, that would be another.

    Attributes:
        label: what it is, in the words of the sheet.
        old, new: what stands there, or what becomes of the thing.
        origin: where the new one is from; "" of a thing.
    """

    label: str
    old: str
    new: str
    origin: str = ""


def change_told(draft: Draft, change: Change) -> ToldChange:
    """A change of ``draft`` in words."""
    match change:
        case OtherValue(_, path, old, new):
            return ToldChange(
                _label(path), _value(path, old), _value(path, new), _origin(draft, new)
            )
        case OtherThing(_, group, thing, appears):
            was, will_be = ("not there", "there") if appears else ("there", "gone")
            return ToldChange(f"{group} {thing}", was, will_be)
        case OtherOrder(_, group, before, after):
            return ToldChange(f"order of the {group}s", ", ".join(before), ", ".join(after))
        case OtherMeters(_, above, new_above):
            was, will_be = (
                "none" if owner is None else f"those of {title_of(draft, owner)}"
                for owner in (above, new_above)
            )
            return ToldChange("hour meters that hold", was, will_be)


def change_line(draft: Draft, change: Change) -> str:
    """A change in one line."""
    told = change_told(draft, change)
    origin = f"  ({told.origin})" if told.origin else ""
    return f"  {told.label:{_LABEL}} {told.old} -> {told.new}{origin}"


def obstacle_sentence(draft: Draft, obstacle: Obstacle) -> str:
    """Why a move cannot be made, or cannot keep all values."""
    if isinstance(obstacle, EditError):
        return refusal_words(obstacle)
    if isinstance(obstacle, Problem):
        return problem_sentence(obstacle)
    label = change_told(draft, obstacle).label
    return f"{label} in {title_of(draft, obstacle.scenario)} would still change."


def _label(path: Path) -> str:
    """A value as the sheet names it, with the thing that it is of: "mill: pallets each"."""
    label = label_at(path)
    return f"{path[1]}: {label}" if path[0] in THINGS and key_for(path) else label


def _value(path: Path, given: Given | None) -> str:
    """What holds at a path, as it was typed."""
    key = key_for(path)
    if given is None or given.raw is None or given.raw == "" or key is None:
        return "not given"
    return key.kind.written(given.raw)


def _origin(draft: Draft, given: Given | None) -> str:
    """Where a value is from, the scenario by its title."""
    if given is None or given.origin.kind is Source.ASSUMED:
        return "assumed"
    if given.origin.kind is Source.ENTERED:
        return "entered here"
    return f"from {title_of(draft, given.origin.scenario)}"


# -- pasting -------------------------------------------------------------------------------


def becomes(label: str, now: str, value: str) -> str:
    """That a pasted value takes the place of another."""
    return f"{label}: {now} -> {value}"


def not_pasted(line: int, value: str, label: str, why: str) -> str:
    """Why the value of a line, counted from 1, cannot go into the row of a label."""
    return f"Line {line}, {value}, for {label}: {why}"


def other_label(line: int, label: str, row: str) -> str:
    """That a line has another label than the row that its value would go into."""
    return f"line {line} is called {label}, its row {row}"


def follow_words(titles: Sequence[str]) -> str:
    """Which scenarios inherit a value that was changed: "; Second pallet and 5 more follow"."""
    if not titles:
        return ""
    if len(titles) == 1:
        return f"; {titles[0]} follows"
    more = titles[1] if len(titles) == 2 else f"{len(titles) - 1} more"
    return f"; {titles[0]} and {more} follow"
