"""The desk with all that its keys, and the palette, do."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from whatif.screens import (
    change_hands,
    copy_hands,
    file_hands,
    reading_hands,
    scenario_hands,
    seeing_hands,
)
from whatif.screens.command import Command, bindings
from whatif.screens.copy_hands import CopyHands
from whatif.screens.file_hands import FileHands
from whatif.screens.reading_hands import ReadingHands
from whatif.screens.scenario_hands import ScenarioHands
from whatif.screens.seeing_hands import SeeingHands

SEEING = (
    Command("fold", "Open or close the heading", "the one the cursor is under", "space", "Space"),
    Command("tree", "Show or hide the tree", "of scenarios", "t"),
)

COMMANDS: tuple[Command, ...] = (
    *change_hands.COMMANDS,
    *reading_hands.COMMANDS,
    *file_hands.COMMANDS,
    *scenario_hands.COMMANDS,
    *SEEING,
    *seeing_hands.COMMANDS,
    *copy_hands.COMMANDS,
)
"""Every command of the desk; those with a word for the line of keys stand there in this order."""


class WorkDesk(SeeingHands, CopyHands, ScenarioHands, FileHands, ReadingHands):
    """The desk as it is worked at."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings(COMMANDS)]
