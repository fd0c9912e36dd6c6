"""Every edit of a study; each is a frozen record with `apply` and `says`."""

from whatif.study.edit import Edit, EditError
from whatif.study.edits_copies import BringBack, DuplicateThing
from whatif.study.edits_keep import MoveKeeping, RenameHead, RenameKey, TakeFile
from whatif.study.edits_many import Together
from whatif.study.edits_things import AddThing, RemoveThing, RenameThing
from whatif.study.edits_tree import (
    AddScenario,
    DuplicateScenario,
    MoveScenario,
    RemoveScenario,
    RenameScenario,
)
from whatif.study.edits_values import ClearValue, SetHead, SetValue

__all__ = [
    "AddScenario",
    "AddThing",
    "BringBack",
    "ClearValue",
    "DuplicateScenario",
    "DuplicateThing",
    "Edit",
    "EditError",
    "MoveKeeping",
    "MoveScenario",
    "RemoveScenario",
    "RemoveThing",
    "RenameHead",
    "RenameKey",
    "RenameScenario",
    "RenameThing",
    "SetHead",
    "SetValue",
    "TakeFile",
    "Together",
]
