"""The tree of scenarios: what each is based on, and what it brings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import islice
from typing import TYPE_CHECKING

from rich.cells import cell_len
from textual import events
from textual.message import Message

from whatif.records import dataclass
from whatif.screens.widgets.columns import apart
from whatif.screens.widgets.drawing import Chooses, Drawn, Span, SpanRow, cut, left_in, right, row
from whatif.screens.widgets.strip import WAITING
from whatif.telling.gain_texts import NOT_CLEAR, SAME
from whatif.telling.strip import leading_gain_text

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.study.draft import Draft

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
    found: dict[str, Branch] = {}

    def add(root: str, strokes: str, below: str) -> None:
        # A line of descent may be as long as the study: it is kept on a list of our own.
        to_come = [(root, strokes, below)]
        while to_come:
            id_, strokes, below = to_come.pop()
            if id_ in found:
                continue
            found[id_] = Branch(id_, strokes, draft.scenario(id_).title)
            children = [child for child in draft.children(id_) if child not in found]
            for child in reversed(children):
                last = child == children[-1]
                deeper = below + ("   " if last else "|  ")
                to_come.append((child, below + "+- ", deeper))

    for scenario in draft.scenarios:
        if scenario.parent is None:
            add(scenario.id, "", "")
    for scenario in draft.scenarios:
        if scenario.id not in found:
            add(scenario.id, "? ", "  ")
    return list(found.values())


def is_same_tree(before: Draft, now: Draft) -> bool:
    """Whether the same scenarios hang together in the same way, under the same titles."""
    return len(before.scenarios) == len(now.scenarios) and all(
        old is new or (old.id, old.parent, old.title) == (new.id, new.parent, new.title)
        for old, new in zip(before.scenarios, now.scenarios, strict=True)
    )


@dataclass(frozen=True, slots=True)
class TreeState:
    """All that the tree draws."""

    branches: tuple[Branch, ...]
    chosen: str | None
    reference: str | None
    answers: Mapping[str, Answer]
    blank: str = WAITING


class ScenarioTree(Drawn):
    """The tree at the left; a click chooses a scenario."""

    class Chosen(Message):
        """A scenario was clicked."""

        def __init__(self, scenario: str) -> None:
            super().__init__()
            self.scenario = scenario

    def __init__(self) -> None:
        super().__init__(id="tree")
        self._state: TreeState | None = None
        self._names: (
            tuple[tuple[Branch, ...], int, tuple[Mapping[str, int], Sequence[str]]] | None
        ) = None
        self._lines: dict[str, tuple[object, SpanRow]] = {}
        """Of each scenario that is shown, with what it was drawn from."""
        self._gains: dict[str, tuple[Answer, str]] = {}

    def show(self, state: TreeState) -> None:
        """Draw a state: a head, then a line a scenario, from where the chosen one is in sight."""
        self._state = state
        width, height = self.size
        ids, titles = self._named(state.branches, width)
        chosen = ids.get(state.chosen or "", 0)
        first = max(0, chosen - (height - 1) + 1)
        before, self._lines = self._lines, {}
        gains, self._gains = self._gains, {}
        lines = []
        for branch, title in islice(
            zip(state.branches, titles, strict=True), first, first + height
        ):
            is_chosen, gain = branch.id == state.chosen, self._gain(state, branch.id, gains)
            of = branch, title, width, is_chosen, gain
            line = before.get(branch.id)
            if line is None or line[0] != of:
                line = of, _line(branch, title, width, gain, is_chosen=is_chosen)
            self._lines[branch.id] = line
            lines.append(line[1])
        self.draw([row(left_in("scenarios", width, "dim")), *lines])

    def _named(
        self, branches: tuple[Branch, ...], width: int
    ) -> tuple[Mapping[str, int], Sequence[str]]:
        """The places of the scenarios, and their titles in the room there is for each."""
        if self._names is None or self._names[0] is not branches or self._names[1] != width:
            rooms = [max(1, width - _GAIN - 2 - cell_len(branch.strokes)) for branch in branches]
            titles = apart([branch.title for branch in branches], rooms)
            places = {branch.id: place for place, branch in enumerate(branches)}
            self._names = branches, width, (places, titles)
        return self._names[2]

    def on_resize(self) -> None:
        """Draw it in its new room."""
        if self._state is not None:
            self.show(self._state)

    def on_click(self, event: events.Click) -> None:
        """Choose the scenario clicked at."""
        match self.spot_at(event):
            case Chooses(scenario):
                self.post_message(self.Chosen(scenario))

    def _gain(
        self, state: TreeState, scenario: str, before: Mapping[str, tuple[Answer, str]]
    ) -> str:
        """What a scenario brings, told once for as long as its answer is the same."""
        if scenario == state.reference:
            return "reference"
        answer = state.answers.get(scenario)
        if answer is None:
            return state.blank
        known = before.get(scenario)
        if known is None or known[0] is not answer:
            text = leading_gain_text(answer)
            known = answer, _SHORT.get(text, text)
        self._gains[scenario] = known
        return known[1]


def _line(branch: Branch, title: str, width: int, gain: str, *, is_chosen: bool) -> SpanRow:
    name = cut(f"{'>' if is_chosen else ' '}{branch.strokes}{title}", width - _GAIN - 1)
    text = f"{name} {right(gain, _GAIN)}"
    return row(Span(text, "chosen" if is_chosen else "plain", Chooses(branch.id)))


_SHORT = {SAME: "same", NOT_CLEAR: "not clear"}
