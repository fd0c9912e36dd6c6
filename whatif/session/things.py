"""Things of a scenario: what can be done with the one in question, and its name."""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING

from whatif.records import dataclass
from whatif.study.edits import AddThing
from whatif.study.edits.edit import inherited_things
from whatif.study.edits.starting import free_id, id_from, starting, usual_id
from whatif.study.resolve import resolve
from whatif.study.schema.catalogue import THINGS
from whatif.telling.edits import name_taken, name_wanted, name_will_be, no_short_name

if TYPE_CHECKING:
    from whatif.study.draft import Draft
    from whatif.study.raw import Path


class ThingAction(Enum):
    """What can be done with a thing that is there."""

    DUPLICATE = "duplicate"
    RENAME = "rename"
    TAKE_OUT = "take_out"
    BRING_BACK = "bring_back"


@dataclass(frozen=True, slots=True)
class Judged:
    """What a typed name comes to.

    Attributes:
        id: "" where it can be none.
        wrong: why it cannot be taken, in words.
        instead: a name that could be taken instead.
        words: what the name will be, where it is not what was typed.
    """

    id: str = ""
    wrong: str = ""
    instead: str = ""
    words: str = ""


def thing_at(place: Path) -> tuple[str, str] | None:
    """Sort and id of the thing that a row of the sheet is about, None where it is about none."""
    return (place[0], place[1]) if len(place) > 1 and place[0] in THINGS else None


def actions_on(draft: Draft, scenario: str, group: str, thing: str) -> tuple[ThingAction, ...]:
    """What can be done with a thing in a scenario; a name holds for the whole study."""
    resolved = resolve(draft, scenario)
    if thing not in resolved.ids(group):
        return (ThingAction.RENAME,)
    out, own = resolved.is_out(group, thing), is_own(draft, scenario, group, thing)
    actions = [ThingAction.DUPLICATE, ThingAction.RENAME]
    if own or not out:
        actions.append(ThingAction.TAKE_OUT)
    if out:
        actions.append(ThingAction.BRING_BACK)
    return tuple(actions)


def is_own(draft: Draft, scenario: str, group: str, thing: str) -> bool:
    """Whether a thing begins in this scenario, so that it goes with all that is entered for it."""
    return thing not in inherited_things(draft, scenario, group)


def adding(draft: Draft, scenario: str, group: str, thing: str) -> tuple[AddThing, Path]:
    """The edit that adds a thing with what it starts with, and the row to look at first."""
    first = starting(resolve(draft, scenario), group)
    edit = AddThing(scenario, group, thing, first.values, guessed=True)
    return edit, (group, thing, first.first)


# -- names ---------------------------------------------------------------------------------


def proposed(draft: Draft, scenario: str, group: str, like: str = "") -> str:
    """A free id to propose for a new thing, or for a copy of one."""
    taken = _taken(draft, scenario, group)
    if like:
        return free_id(like, taken)
    # What cannot be added has no values, and nobody is asked for its name.
    begins = ""
    if group == "shift":
        begins = str(dict(starting(resolve(draft, scenario), group).values)["start"])
    return usual_id(group, taken, begins)


def judge_new(draft: Draft, scenario: str, group: str, name: str) -> Judged:
    """What a name for a new thing comes to."""
    return _judged(group, name, _taken(draft, scenario, group))


def judge_renamed(draft: Draft, group: str, thing: str, name: str) -> Judged:
    """What another name for a thing comes to; it holds for the whole study."""
    taken = {id_ for each in draft.scenarios for id_ in each.ids(group)} - {thing}
    return _judged(group, name, taken)


def _taken(draft: Draft, scenario: str, group: str) -> set[str]:
    """What this scenario has, and what those have that would inherit the new thing."""
    family = (scenario, *draft.descendants(scenario))
    return {id_ for scenario in family for id_ in resolve(draft, scenario).ids(group)}


def _judged(group: str, name: str, taken: set[str]) -> Judged:
    if not name.strip():
        return Judged(wrong=name_wanted(group))
    id_ = id_from(name)
    if not id_:
        return Judged(wrong=no_short_name(name.strip()))
    if id_ in taken:
        return Judged(wrong=name_taken(group, id_), instead=free_id(id_, taken))
    return Judged(id_, words="" if id_ == name.strip() else name_will_be(id_))
