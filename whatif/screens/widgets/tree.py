"""The tree of scenarios: what each is based on, and what it brings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from rich.cells import cell_len
from rich.segment import Segment
from textual import events
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from whatif.answers.compare import Answer
from whatif.screens.widgets.columns import apart, cut, right
from whatif.screens.widgets.strip import WAITING
from whatif.study.draft import Draft
from whatif.telling.strip import leading_gain_text

WIDTH = 30
_GAIN = 10


@dataclass(frozen=True, slots=True)
class Branch:
    """One line of the tree: a scenario with the strokes that tell what it is based on."""

    id: str
    strokes: str
    title: str


def branches(draft: Draft) -> list[Branch]:
    """All scenarios as a tree, roots in the file's order, children below their parents.

    Scenarios whose line of parents is broken or runs in a circle stand at the end as roots.
    """
    found: list[Branch] = []
    seen: set[str] = set()

    def add(id_: str, strokes: str, below: str) -> None:
        seen.add(id_)
        found.append(Branch(id_, strokes, draft.scenario(id_).title))
        children = [child for child in draft.children(id_) if child not in seen]
        for child in children:
            last = child == children[-1]
            add(child, below + "+- ", below + ("   " if last else "|  "))

    for scenario in draft.scenarios:
        if scenario.parent is None:
            add(scenario.id, "", "")
    for scenario in draft.scenarios:
        if scenario.id not in seen:
            add(scenario.id, "? ", "  ")
    return found


@dataclass(frozen=True, slots=True)
class TreeState:
    """All that the tree draws."""

    branches: tuple[Branch, ...]
    chosen: str | None
    reference: str | None
    answers: Mapping[str, Answer]
    blank: str = WAITING


class ScenarioTree(Widget):
    """The tree at the left; a click chooses a scenario."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {"tree--chosen", "tree--head", "tree--dim"}

    class Chosen(Message):
        """A scenario was clicked."""

        def __init__(self, scenario: str) -> None:
            super().__init__()
            self.scenario = scenario

    def __init__(self) -> None:
        super().__init__(id="tree")
        self._state: TreeState | None = None
        self._cut: tuple[tuple[Branch, ...], int, list[str]] | None = None

    def show(self, state: TreeState) -> None:
        """Draw a state."""
        self._state = state
        self.refresh()

    def _first(self, state: TreeState) -> int:
        """The first branch drawn, so that the chosen one is in sight."""
        room = self.size.height - 1
        ids = [branch.id for branch in state.branches]
        chosen = ids.index(state.chosen) if state.chosen in ids else 0
        return max(0, chosen - room + 1)

    def on_click(self, event: events.Click) -> None:
        """Choose the scenario clicked at."""
        state = self._state
        if state is None or event.y == 0:
            return
        place = self._first(state) + event.y - 1
        if place < len(state.branches):
            self.post_message(self.Chosen(state.branches[place].id))

    def render_line(self, y: int) -> Strip:
        """The head, then a branch a line."""
        state, width = self._state, self.size.width
        if state is None:
            return Strip.blank(width, self.rich_style)
        if y == 0:
            head = self.get_component_rich_style("tree--head")
            return Strip([Segment(cut("scenarios", width), head)])
        place = self._first(state) + y - 1
        if place >= len(state.branches):
            return Strip.blank(width, self.rich_style)
        branch = state.branches[place]
        chosen = branch.id == state.chosen
        style = self.get_component_rich_style("tree--chosen") if chosen else self.rich_style
        sign = ">" if chosen else " "
        name = cut(f"{sign}{branch.strokes}{self._titles(width)[place]}", width - _GAIN - 1)
        return Strip([Segment(f"{name} {right(self._gain(state, branch.id), _GAIN)}", style)])

    def _titles(self, width: int) -> list[str]:
        """The titles as they are cut for their places, so that they stay apart."""
        branches = () if self._state is None else self._state.branches
        if self._cut is None or self._cut[:2] != (branches, width):
            rooms = [max(1, width - _GAIN - 2 - cell_len(branch.strokes)) for branch in branches]
            self._cut = (branches, width, apart([branch.title for branch in branches], rooms))
        return self._cut[2]

    @staticmethod
    def _gain(state: TreeState, scenario: str) -> str:
        if scenario == state.reference:
            return "reference"
        answer = state.answers.get(scenario)
        if answer is None:
            return state.blank
        text = leading_gain_text(answer)
        return "same" if text == "no difference" else text
