"""What is said of a thing of a scenario: what it is called, what goes with it, its name."""

from __future__ import annotations

from collections.abc import Mapping

from whatif.study.draft import Draft
from whatif.study.edits import RemoveThing
from whatif.study.edits.edit import inherited_things
from whatif.study.schema.catalogue import TAKES_OUT, key_for

SORT_NAMES: Mapping[str, str] = {
    "machine": "machine",
    "shift": "shift",
    "part": "part",
    "stop": "stop",
    "rush": "rush order",
    "order": "order",
}
"""What each sort of thing is called."""


def called(group: str, thing: str) -> str:
    """A thing in words: "machine mill"."""
    return f"{SORT_NAMES[group]} {thing}"


def what_goes(draft: Draft, edit: RemoveThing) -> str:
    """The question before a thing is taken out; raises `EditError` where it cannot be."""
    left = edit.apply(draft)
    title = draft.scenario(edit.scenario).title
    asked = f"Take {called(edit.group, edit.id)} out of {title}?"
    below = [draft.scenario(scenario).title for scenario in draft.descendants(edit.scenario)]
    if edit.id in inherited_things(draft, edit.scenario, edit.group):
        key = TAKES_OUT[edit.group]
        known = key_for((edit.group, edit.id, key))
        label = key if known is None else known.label
        nothing = "0 h" if edit.group == "stop" else "0"
        also = f" So it is out in what is based on it: {'; '.join(below)}." if below else ""
        return f'{asked} It is inherited, so "{label}" becomes {nothing} here.{also}'
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
    return f"Type a short name for the {SORT_NAMES[group]}, such as spare_1."


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
