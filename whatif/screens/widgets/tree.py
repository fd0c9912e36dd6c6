"""The tree of scenarios: what each is based on, and what it brings."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, Final

from rich.cells import cell_len
from textual import events
from textual.message import Message

from whatif.records import dataclass
from whatif.screens.widgets.choosing import ListsScenarios
from whatif.screens.widgets.columns import in_two_lines
from whatif.screens.widgets.drawing import (
    EDGE,
    SENSES,
    Chooses,
    Span,
    SpanRow,
    Tone,
    left_in,
    right,
    row,
)
from whatif.screens.widgets.strip import WAITING
from whatif.telling.strip import gain_in_a_word, leading_sense

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.study.draft import Draft

LEAST_WIDTH = 30
"""Cells of a tree that nobody has made wider or narrower, its border included: at least."""

_LEAST_DRAGGED, _LEAST_BESIDE = 20, 40
_GAIN = 10
_ROOMY = 34
"""Cells of the tree from which each step down is indented by two."""

_LEAST_NAME = 12
"""Cells of a name that strokes leave it, however deep it is."""


@dataclass(frozen=True, slots=True)
class Branch:
    """A scenario in the tree with the strokes that tell what it is based on.

    Attributes:
        strokes: before its name.
        further: before what of its name stands on a second line.
    """

    id: str
    strokes: str
    title: str
    further: str = ""


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
            children = [child for child in draft.children(id_) if child not in found]
            further = below + ("│ " if children else "  ")
            found[id_] = Branch(id_, strokes, draft.scenario(id_).title, further)
            for child in reversed(children):
                last = child == children[-1]
                stroke, deeper = ("╰ ", "  ") if last else ("├ ", "│ ")
                to_come.append((child, below + stroke, below + deeper))

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


def tree_width(branches: Sequence[Branch], screen: int, wished: int | None = None) -> int:
    """Cells of the tree with its border on so wide a screen: what was wished, or for its names."""
    if wished is not None:
        return max(_LEAST_DRAGGED, min(wished, screen - _LEAST_BESIDE))
    longest = max((cell_len(each.strokes) + cell_len(each.title) for each in branches), default=0)
    return max(LEAST_WIDTH, min(EDGE + longest + 1 + _GAIN + EDGE + 1, screen // 3))


@dataclass(frozen=True, slots=True)
class _Name:
    """A name's two lines, the second of which may be empty; the gain stands behind the first.

    Attributes:
        is_gain_below: whether the gain stands behind the second line instead.
    """

    first: str
    second: str
    is_gain_below: bool = False

    @property
    def lines(self) -> int:
        """How many lines it takes."""
        return 2 if self.second or self.is_gain_below else 1


_Gain = tuple[str, Tone]
_Names = tuple[Mapping[str, int], Sequence[tuple[str, str]]]


@dataclass(frozen=True, slots=True)
class TreeState:
    """All that the tree draws."""

    branches: tuple[Branch, ...]
    chosen: str | None
    reference: str | None
    answers: Mapping[str, Answer]
    blank: str = WAITING


class ScenarioTree(ListsScenarios):
    """The tree at the left; a click chooses a scenario."""

    class Dragged(Message):
        """Its border is wanted elsewhere: so many cells for the tree."""

        def __init__(self, width: int) -> None:
            super().__init__()
            self.width = width

    def __init__(self) -> None:
        super().__init__(id="tree")
        self._state: TreeState | None = None
        self.room = LEAST_WIDTH
        """Cells that it takes, its border included."""
        self._room_of: tuple[tuple[Branch, ...], int, int | None] | None = None
        self._is_held = False
        """Whether the mouse has taken hold of its border."""
        self._names: tuple[tuple[Branch, ...], int, _Names] | None = None
        self._lines: dict[str, tuple[object, list[SpanRow]]] = {}
        """Of each scenario that is shown, with what it was drawn from."""
        self._gains: dict[str, tuple[Answer, _Gain]] = {}

    def show(self, state: TreeState) -> None:
        """Draw a state: a head, then the scenarios, from where the chosen one is in sight."""
        self._state = state
        width, height = self.size
        places, usual = self._named(state.branches, width)
        before, self._lines = self._lines, {}
        gains, self._gains = self._gains, {}
        told: dict[int, tuple[_Name, _Gain]] = {}

        def named(place: int) -> tuple[_Name, _Gain]:
            if place not in told:
                branch = state.branches[place]
                gain = self._gain(state, branch.id, gains)
                told[place] = _name_beside(branch, usual[place], gain[0], width), gain
            return told[place]

        chosen = places.get(state.chosen or "", 0)
        first = _first_in_sight(lambda place: named(place)[0], len(usual), chosen, height - 1)
        rows = [_head(state, width)]
        for place in range(first, min(len(usual), first + height)):
            if len(rows) >= height:
                break
            branch, (name, gain) = state.branches[place], named(place)
            is_chosen = branch.id == state.chosen
            of = branch, name, width, is_chosen, gain
            lines = before.get(branch.id)
            if lines is None or lines[0] != of:
                lines = of, _lines(branch, name, width, gain, is_chosen=is_chosen)
            self._lines[branch.id] = lines
            rows += lines[1]
        self.draw(rows)

    def take_room(self, branches: tuple[Branch, ...], screen: int, wished: int | None) -> None:
        """Be as wide as was wished, or as the names take on so wide a screen."""
        known = self._room_of
        if known is not None and known[0] is branches and known[1:] == (screen, wished):
            return
        self._room_of = branches, screen, wished
        room = tree_width(branches, screen, wished)
        if room != self.room:
            self.room = room
            self.styles.width = room

    def _named(self, branches: tuple[Branch, ...], width: int) -> _Names:
        """The places of the scenarios, and their titles in the room there is for each."""
        if self._names is None or self._names[0] is not branches or self._names[1] != width:
            rooms = [_rooms(branch, width) for branch in branches]
            names = in_two_lines([branch.title for branch in branches], rooms)
            places = {branch.id: place for place, branch in enumerate(branches)}
            self._names = branches, width, (places, names)
        return self._names[2]

    def on_resize(self) -> None:
        """Draw it in its new room."""
        if self._state is not None:
            self.show(self._state)

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """Take hold of the border."""
        self._is_held = event.x >= self.size.width
        if self._is_held:
            self.capture_mouse()

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Move the border that is held."""
        if self._is_held and event.x + 1 != self.outer_size.width:
            self.post_message(self.Dragged(event.x + 1))

    def on_mouse_up(self, event: events.MouseUp) -> None:
        """Let the border go."""
        if self._is_held:
            self._is_held = False
            self.release_mouse()

    def _gain(
        self, state: TreeState, scenario: str, before: Mapping[str, tuple[Answer, _Gain]]
    ) -> _Gain:
        """What a scenario brings, told once for as long as its answer is the same."""
        if scenario == state.reference:
            return "reference", "dim"
        answer = state.answers.get(scenario)
        if answer is None:
            return state.blank, "dim"
        known = before.get(scenario)
        if known is None or known[0] is not answer:
            known = answer, (gain_in_a_word(answer, _GAIN), SENSES[leading_sense(answer)])
        self._gains[scenario] = known
        return known[1]


_IN_TREE: Final = " scenarios"


def _head(state: TreeState, width: int) -> SpanRow:
    """What stands in the tree, and where a mark before a gain is read in full."""
    marked = any(of.caveats for id_, of in state.answers.items() if id_ != state.reference)
    marks = ("gain, % (!: F2 tells why) ", "gain, % (!: F2) ", "gain (!: F2) ")
    texts = marks if marked else ("gain, % ",)
    said = next((text for text in texts if len(_IN_TREE) + len(text) < width), texts[-1])
    return row(left_in(_IN_TREE, width - len(said), "title"), Span(said, "dim"))


def _first_in_sight(name: Callable[[int], _Name], count: int, chosen: int, room: int) -> int:
    """The first of so many scenarios to show, so that all of the chosen one is in so many lines."""
    first, left = chosen, room
    while first < count and (left := left - name(first).lines) >= 0 and first:
        first -= 1
    return min(chosen, first if left >= 0 else first + 1)


def _strokes(strokes: str, width: int) -> str:
    """Strokes that leave a name some room: of those that do not, the ones nearest to it.

    In a narrow tree they stand close together.
    """
    if width < _ROOMY:
        strokes = strokes[:-2:2] + strokes[-2:]
    room = max(2, width - EDGE - _LEAST_NAME - 1 - _GAIN)
    return strokes if len(strokes) <= room else strokes[-room:]


def _rooms(branch: Branch, width: int) -> tuple[int, int]:
    """Cells of a name's two lines; the gain stands in the first."""
    left = max(1, width - EDGE - EDGE)
    first = left - len(_strokes(branch.strokes, width)) - _GAIN - 1
    return max(1, first), max(1, left - len(_strokes(branch.further, width)))


def _name_beside(branch: Branch, usual: tuple[str, str], gain: str, width: int) -> _Name:
    """A name beside its gain: one that takes more than most has the name broken earlier.

    Where that breaks a word, or leaves too little, the gain stands in the second line.
    """
    more = cell_len(gain) - _GAIN
    if more <= 0 or not usual[0]:
        return _Name(*usual)
    first, second = _rooms(branch, width)
    first -= more
    if first > 0:
        (name,) = in_two_lines([branch.title], [(first, second)])
        if " ".join(filter(None, name)) == branch.title:
            return _Name(*name)
    # One of one line has the gain alone in the other.
    (name,) = in_two_lines([branch.title], [(second, max(1, second - cell_len(gain) - 1))])
    if " ".join(filter(None, name)) == branch.title:
        return _Name(*name, is_gain_below=True)
    return _Name(*usual)


def _lines(
    branch: Branch, name: _Name, width: int, gain: _Gain, *, is_chosen: bool
) -> list[SpanRow]:
    tone: Tone = "scenario" if is_chosen else "plain"
    stroke: Tone = "scenario" if is_chosen else "faint"
    spot = Chooses(branch.id)
    # A range that takes more than a gain takes it from the name.
    wide = cell_len(gain[0])
    said = right(gain[0], _GAIN if wide <= _GAIN else wide + 1) + " " * EDGE
    sense: Tone = "scenario" if is_chosen else gain[1]
    below = said if name.is_gain_below else ""
    texts = [(branch.strokes, name.first, "" if below else said)]
    if name.lines > 1:
        texts.append((branch.further, name.second, below))
    lines = []
    for strokes, text, end in texts:
        before = " " * EDGE + _strokes(strokes, width)
        room = width - cell_len(before) - cell_len(end)
        lines.append(
            row(Span(before, stroke, spot), left_in(text, room, tone, spot), Span(end, sense, spot))
        )
    return lines
