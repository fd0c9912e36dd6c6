"""Every edit of a study; each is a frozen record with `apply` and `says`."""

from whatif.study.edits.copies import BringBack, DuplicateThing
from whatif.study.edits.edit import Edit, EditError
from whatif.study.edits.keeping import MoveKeeping, RenameHead, RenameKey, TakeFile
from whatif.study.edits.several import Together
from whatif.study.edits.things import AddThing, RemoveThing, RenameThing
from whatif.study.edits.tree import (
    AddScenario,
    DuplicateScenario,
    MoveScenario,
    RemoveScenario,
    RenameScenario,
)
from whatif.study.edits.values import ClearValue, SetHead, SetValue

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
