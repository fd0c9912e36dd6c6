"""What the widgets that list scenarios share: a click on one chooses it."""

from __future__ import annotations

from textual import events
from textual.message import Message

from whatif.screens.widgets.drawing import Chooses, Drawn


class ScenarioChosen(Message):
    """A scenario was clicked."""

    def __init__(self, scenario: str) -> None:
        super().__init__()
        self.scenario = scenario


class ListsScenarios(Drawn):
    """A widget that draws scenarios; a click on one chooses it."""

    def on_click(self, event: events.Click) -> None:
        """Choose the scenario clicked at."""
        match self.spot_at(event):
            case Chooses(scenario):
                self.post_message(ScenarioChosen(scenario))
