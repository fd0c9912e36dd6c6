"""The desk with all that its keys, and the palette, do."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import Static

from whatif.screens.desk import (
    change_hands,
    changes_hands,
    copy_hands,
    file_hands,
    mend_hands,
    reading_hands,
    scenario_hands,
    seeing_hands,
    thing_hands,
    tree_hands,
    view_hands,
)
from whatif.screens.desk.changes_hands import ChangesHands
from whatif.screens.desk.command import Command, bindings
from whatif.screens.desk.copy_hands import CopyHands
from whatif.screens.desk.form_hands import FormHands
from whatif.screens.desk.mend_hands import MendHands
from whatif.screens.desk.reading_hands import ReadingHands
from whatif.screens.desk.seeing_hands import SeeingHands
from whatif.screens.desk.thing_hands import ThingHands
from whatif.screens.desk.view_hands import ViewHands
from whatif.screens.views.pane import ViewPane
from whatif.screens.widgets.editor import Editor
from whatif.screens.widgets.key_line import KeyLine
from whatif.screens.widgets.sheet import Sheet
from whatif.screens.widgets.strip import ResultStrip
from whatif.screens.widgets.tree import ScenarioTree

SEEING = (
    Command("fold", "Open or close the heading", "the one the cursor is under", "space", "Space"),
    Command("tree", "Show or hide the tree", "of scenarios", "t"),
)

COMMANDS: tuple[Command, ...] = (
    *reading_hands.COMMANDS,
    *mend_hands.COMMANDS,
    *view_hands.COMMANDS,
    *file_hands.COMMANDS,
    *change_hands.COMMANDS,
    *changes_hands.COMMANDS,
    *scenario_hands.COMMANDS,
    *tree_hands.COMMANDS,
    *thing_hands.COMMANDS,
    *SEEING,
    *seeing_hands.COMMANDS,
    *copy_hands.COMMANDS,
)
"""Every command of the desk; those with a word for the line of keys stand there in this order."""


class WorkDesk(
    MendHands, ChangesHands, SeeingHands, CopyHands, ThingHands, FormHands, ViewHands, ReadingHands
):
    """The desk as it is worked at."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings(COMMANDS)]

    def compose(self) -> ComposeResult:
        """Head, tree and desk, the editor above them, the line of keys."""
        yield Static(id="head", markup=False)
        with Horizontal(id="body"):
            yield ScenarioTree()
            with Vertical(id="desk"):
                yield ResultStrip()
                yield Static(id="rule", markup=False)
                yield Sheet(self)
                yield ViewPane(self)
        yield Static(id="info", markup=False)
        yield KeyLine(one.action for one in COMMANDS if one.roomy)
        yield Editor(self.editor_ends)
        yield self.finder()
