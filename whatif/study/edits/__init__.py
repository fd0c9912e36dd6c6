"""Changes of a study: small frozen records that replay on any draft."""

from whatif.study.edits.between import between
from whatif.study.edits.edit import Edit, EditError, TakeFile, Together
from whatif.study.edits.levers import SetLever
from whatif.study.edits.several import EnterThings
from whatif.study.edits.things import AddThing, BringBack, DuplicateThing, RemoveThing, RenameThing
from whatif.study.edits.tree import (
    AddScenario,
    DuplicateScenario,
    MoveKeeping,
    MoveScenario,
    RemoveScenario,
    RenameScenario,
)
from whatif.study.edits.values import ClearValue, RenameHead, RenameKey, SetHead, SetValue

__all__ = [
    "AddScenario",
    "AddThing",
    "BringBack",
    "ClearValue",
    "DuplicateScenario",
    "DuplicateThing",
    "Edit",
    "EditError",
    "EnterThings",
    "MoveKeeping",
    "MoveScenario",
    "RemoveScenario",
    "RemoveThing",
    "RenameHead",
    "RenameKey",
    "RenameScenario",
    "RenameThing",
    "SetHead",
    "SetLever",
    "SetValue",
    "TakeFile",
    "Together",
    "between",
]
