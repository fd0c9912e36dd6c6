"""What moving a scenario would change, and why it cannot be moved, in words."""

from __future__ import annotations

from dataclasses import dataclass

from whatif.study.draft import Draft
from whatif.study.edits import EditError
from whatif.study.edits.edit import title_of
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
from whatif.study.schema.catalogue import THINGS, dotted, key_for
from whatif.telling.problems import problem_sentence, refusal_words

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
    key = key_for(path)
    if key is None:
        return dotted(path)
    if len(path) == 5:
        same = key_for((path[0], path[1], path[4]))
        return f"{path[1]}: {same.label if same else key.label} on {path[3]}"
    return f"{path[1]}: {key.label}" if path[0] in THINGS else key.label


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
