"""The inputs of a scenario, the one that moves its gain most first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from typing_extensions import override

from whatif.answers.moves.sensitivity import Effect, Ranking
from whatif.records import dataclass
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, no_answer
from whatif.screens.widgets.drawing import (
    Span,
    SpanRow,
    Tone,
    left_in,
    paragraph,
    right_in,
    row,
    window,
)
from whatif.session.calculate.questions import RankingOf
from whatif.study.schema.catalogue import Key, dotted, key_for
from whatif.telling.moves.in_units import ranking_in
from whatif.telling.moves.ranking import (
    effect_words,
    moved_by,
    name_in_short,
    now_in_short,
    output_beside,
    pull,
    ranking_how,
    ranking_lead,
    ranking_rest,
    ranking_signs,
    ranking_so_far,
    sides_in_short,
)
from whatif.telling.sheet_cell import meaning_words

if TYPE_CHECKING:
    from whatif.answers.moves.inputs import Input
    from whatif.study.raw import Path

_MOVES = {"up": -1, "down": 1, "pageup": -8, "pagedown": 8, "home": -10_000, "end": 10_000}
_NOW, _SIDE = 12, 10
_MOVED_BY = "moved by"
_BELOW = "below"
"""In the place of a text that has no room: under the cursor it is said in words."""
_LARGER = ("the larger", "larger")
"""Above the bars: the larger of both changes."""
_LEAST_BAR = 6
_RULE = " you decide "
"""Behind the name of an input that the shop decides for itself, at the right of the names."""
_LEAST_ROWS = 8
"""Inputs that are seen before there is room for how their bars are read."""
_KEYS = (
    ViewKey("enter", "⏎", "its curve", "the answer over the input under the cursor"),
    ViewKey("up,down,home,end,pageup,pagedown", "↑↓", "", "from input to input"),
)


class RankedPage(View):
    """A line an input: what holds now, what a tenth less and a tenth more do, and bars of it."""

    def __init__(self) -> None:
        self._key = ""
        self._came_from: Path | None = None

    def begin(self, look: Look) -> None:
        """Begin with what matters most, wherever the row is that the cursor came from."""
        self._came_from = look.under

    def put_on(self, path: Path) -> None:
        """Go to an input."""
        self._key = dotted(path)

    def path(self, look: Look) -> Path | None:
        """Path of the input under the cursor; None where there is none."""
        shown = _effects(look)
        return shown[self._place(shown)].input.path if shown else None

    def in_sight(self, look: Look, drawn: str) -> list[Input]:
        """The inputs of which there is a line in what is drawn."""
        return [
            effect.input
            for effect in _effects(look)
            if f"\n {name_in_short(effect)} " in f"\n{drawn}"
        ]

    @property
    def is_chosen(self) -> bool:
        """Whether a key or a click has marked an input since the list was opened."""
        return bool(self._key)

    @property
    def has_row(self) -> bool:
        """Whether the sheet's cursor was on a value when the view was opened, and no heading."""
        return self._key_come_from is not None

    def stands_for_row(self) -> bool:
        """Whether the curve is over the row that the cursor came from: nothing was chosen here."""
        key = None if self._key else self._key_come_from
        return key is not None and key.kind.numeric

    @property
    def _key_come_from(self) -> Key | None:
        return None if self._came_from is None else key_for(self._came_from)

    def _place(self, shown: tuple[Effect, ...]) -> int:
        return next((i for i, effect in enumerate(shown) if effect.input.dotted == self._key), 0)

    @override
    def question(self, look: Look) -> RankingOf | None:
        """All inputs of the chosen scenario."""
        return None if look.chosen is None else RankingOf(look.chosen)

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Along the list, and to the curve."""
        return _KEYS if _effects(look) else ()

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Move from input to input."""
        if key not in _MOVES:
            return False
        shown = _effects(look)
        if shown:
            at = max(0, min(self._place(shown) + _MOVES[key], len(shown) - 1))
            self._key = shown[at].input.dotted
        return True

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """A click on a line goes there."""
        self._key = spot

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """A sentence, as many inputs as there is room for, and the one under the cursor."""
        found = look.result or look.partly
        if not isinstance(found, Ranking):
            return no_answer(look, width)
        found = ranking_in(found, look.units)
        shown = found.effects
        if not shown:
            return paragraph("There is no input that could be moved.", width)
        if look.result is None:
            lead = f"{look.waiting or 'Being worked out ...'} {ranking_so_far(found)}"
        else:
            lead = ranking_lead(found)
        rows = [*paragraph(lead, width, "lead"), *_heads(found, width)]
        at = self._place(shown)
        foot = paragraph(f"{effect_words(found, shown[at])}", width)
        foot += self._more(found, shown[at].input, width, height - len(rows) - len(foot))
        room = max(1, height - len(rows) - len(foot))
        return [*rows, *_lines(shown, at, width, room), *foot]

    def _more(self, found: Ranking, of: Input, width: int, room: int) -> list[SpanRow]:
        """What else there is to say, where it leaves room for the list, and what ``of`` is."""
        said: list[SpanRow] = []
        told = [(text, 14) for text in (ranking_how(found), *ranking_rest(found))]
        signs = [(text, _LEAST_ROWS) for text in ranking_signs(found)]
        # What is assumed is to be found: how comes first, what others are last.
        is_sought = of.origin.is_assumed
        what = [(f"{of.key.label}: {meaning_words(of.paths[0], brief=not is_sought)}", _LEAST_ROWS)]
        for text, least in [*what, *signs, *told] if is_sought else [*signs, *told, *what]:
            more = paragraph(text, width, "dim")
            if room - len(said) - len(more) >= min(len(found.effects), least):
                said += more
        return said


def _effects(look: Look) -> tuple[Effect, ...]:
    """The inputs ranked, as far as they are known."""
    found = look.result or look.partly
    return found.effects if isinstance(found, Ranking) else ()


def _lines(shown: tuple[Effect, ...], at: int, width: int, room: int) -> list[SpanRow]:
    most = _most(shown) or 1.0
    places = window(len(shown), room, at)
    cells = _room_for(shown, width)
    return [_line(shown[place], cells, most, chosen=place == at) for place in places]


def _line(effect: Effect, cells: _Room, most: float, *, chosen: bool) -> SpanRow:
    label, bar = cells.label, cells.bar
    tone: Tone = "chosen" if chosen else "plain"
    sign = "~" if effect.input.origin.is_assumed else " "
    # Below the list it is said in words too.
    has_room = len(name_in_short(effect)) + 1 + len(_RULE) <= label
    rule = _RULE if effect.input.is_chosen and has_room else ""
    spot = effect.input.dotted
    # What moves the gain against the output, or not at all, would be misread in a bar.
    output = output_beside(effect)
    of_bar: Tone
    if output:
        told, of_bar = output if len(output) <= bar else _BELOW, "dim"
    else:
        told, of_bar = _length(_largest(effect) / most, bar), "plain"
    to_less, to_more = sides_in_short(effect)
    of_now: Tone = "assumed" if effect.input.origin.is_assumed else "plain"
    return row(
        left_in(f" {name_in_short(effect)}", label - len(rule), tone, spot),
        Span(rule, "chosen" if chosen else "dim", spot),
        right_in(f"{now_in_short(effect)}{sign}", cells.now, of_now, spot),
        right_in(moved_by(effect), cells.by, "dim", spot),
        right_in(to_less, _SIDE, "plain", spot),
        right_in(to_more, _SIDE, "plain", spot),
        left_in(f"  {told}", bar + 2, of_bar, spot),
    )


@dataclass(frozen=True, slots=True)
class _Room:
    """Cells of a name, of what holds now, of how far it is moved, and of a bar."""

    label: int
    now: int
    by: int
    bar: int


def _room_for(shown: Sequence[Effect], width: int) -> _Room:
    """What the longest name, present value and text in a bar's place take, bars what is left."""
    names = [len(name_in_short(each)) + 1 + len(_RULE) * each.input.is_chosen for each in shown]
    now = min(_NOW, 3 + max((len(now_in_short(each)) for each in shown), default=0))
    by = 1 + max([len(_MOVED_BY), *(len(moved_by(each)) for each in shown)])
    room = width - now - by - 2 * _SIDE - 2
    # Names are whole, if need be in the place of bars, that an input is a rule only beside them.
    bare = max((len(name_in_short(each)) + 2 for each in shown), default=0)
    most = max(room - len(_LARGER[0]), min(bare, room - _LEAST_BAR))
    label = min(max(20, min(max(names, default=0) + 1, 40)), most)
    return _Room(label, now, by, room - label)


def _largest(effect: Effect) -> float:
    """How far its bar goes: the larger of both changes, whichever way."""
    return max(abs(pull(effect.down)), abs(pull(effect.up)))


def _most(effects: Sequence[Effect]) -> float:
    """How far the longest bar goes."""
    return max(map(_largest, effects), default=0.0)


def _length(share: float, cells: int) -> str:
    """A bar of whole cells, of which a change that is there has one at least."""
    return "█" * (max(1, round(cells * share)) if share > 0 else 0)


def _heads(found: Ranking, width: int) -> list[SpanRow]:
    """Columns over two lines: what less, more and bars tell alike, then each by itself."""
    cells = _room_for(found.effects, width)
    is_own = found.asked.is_reference
    title = "change of output, %" if is_own else "change of gain, points"
    # Strokes to both its sides say that it is over all three columns.
    group = 2 * _SIDE + cells.bar + 1
    before = (group - len(title) - 2) // 2
    larger = next(each for each in _LARGER if len(each) <= cells.bar)
    return [
        row(
            left_in("", width - group),
            Span("─" * before, "faint"),
            Span(f" {title} ", "title"),
            Span("─" * (group - len(title) - 2 - before), "faint"),
        ),
        row(
            left_in(" input  ~ assumed", cells.label, "dim"),
            right_in("now ", cells.now, "dim"),
            right_in(_MOVED_BY, cells.by, "dim"),
            right_in("less", _SIDE, "dim"),
            right_in("more", _SIDE, "dim"),
            left_in(f"  {larger}", cells.bar + 2, "dim"),
        ),
    ]
