"""The inputs of a scenario, the one that moves its gain most first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from typing_extensions import override

from whatif.answers.moves.sensitivity import Effect, Ranking, Side
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
from whatif.study.schema.catalogue import dotted, key_for
from whatif.telling.amounts import rounded
from whatif.telling.blocks import QUARTERS
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

if TYPE_CHECKING:
    from whatif.study.raw import Path

_MOVES = {"up": -1, "down": 1, "pageup": -8, "pagedown": 8, "home": -10_000, "end": 10_000}
_NOW, _SIDE = 12, 10
_CANNOT_BE_TOLD, _NO_DIFFERENCE = "not clear", "no change"
_MOVED_BY = "moved by"
_LEAST_BAR = 2
_BELOW = ("read below", "below")
"""In the place of a text that has no room: under the cursor it is said in words."""
_RULE = " rule "
"""Behind the name of an input that the shop decides for itself, at the right of the names."""
_LESS, _MORE = "▀", "▄"
"""What less of an input does is drawn in the upper half of its line, what more does in the lower:
neither hides the other where both are on one side."""
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

    @property
    def is_chosen(self) -> bool:
        """Whether a key or a click has marked an input since the list was opened."""
        return bool(self._key)

    def stands_for_row(self) -> bool:
        """Whether the curve is over the row that the cursor came from: nothing was chosen here."""
        key = None if self._key or self._came_from is None else key_for(self._came_from)
        return key is not None and key.kind.numeric

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
        foot += self._more(found, width, height - len(rows) - len(foot))
        room = max(1, height - len(rows) - len(foot))
        return [*rows, *_lines(shown, at, width, room), *foot]

    def _more(self, found: Ranking, width: int, room: int) -> list[SpanRow]:
        """What else there is to say, where it leaves room for the list."""
        said: list[SpanRow] = []
        told = [(text, 14) for text in (ranking_how(found), *ranking_rest(found))]
        signs = [(text, _LEAST_ROWS) for text in ranking_signs(found)]
        for text, least in (*signs, *told):
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
    less, more = pull(effect.down) / most, pull(effect.up) / most
    left, right = _arm(-less, -more, bar)[::-1], _arm(less, more, bar)
    sign = "~" if effect.input.origin.is_assumed else " "
    # Below the list it is said in words too.
    has_room = len(name_in_short(effect)) + 1 + len(_RULE) <= label
    rule = _RULE if effect.input.is_chosen and has_room else ""
    spot = effect.input.dotted
    # What moves the gain against the output, or not at all, would be misread in a bar.
    output = output_beside(effect)
    if output:
        told = next(each for each in (output, *_BELOW) if len(each) <= 2 * bar + 1)
        middle = [Span(told.center(2 * bar + 1), "dim", spot)]
    elif not effect.most:
        sides = (effect.down, effect.up)
        untold = any(side is not None and side.is_untold for side in sides)
        nothing = _CANNOT_BE_TOLD if untold else _NO_DIFFERENCE
        # Either side says it too.
        told = nothing if len(nothing) <= 2 * bar + 1 else ""
        middle = [Span(told.center(2 * bar + 1), "dim", spot)]
    else:
        middle = [
            Span(left.translate(_MIRRORED), _tone(effect.down, "line-2"), spot),
            Span("│", "faint", spot),
            Span(right, _tone(effect.up, "line-1"), spot),
        ]
    to_less, to_more = sides_in_short(effect)
    of_now: Tone = "assumed" if effect.input.origin.is_assumed else "plain"
    return row(
        left_in(f" {name_in_short(effect)}", label - len(rule), tone, spot),
        Span(rule, "chosen" if chosen else "dim", spot),
        right_in(f"{now_in_short(effect)}{sign}", cells.now, of_now, spot),
        right_in(moved_by(effect), cells.by, "dim", spot),
        right_in(to_less, _SIDE, _tone(effect.down), spot),
        Span(" ", spot=spot),
        *middle,
        right_in(to_more, _SIDE, _tone(effect.up), spot),
    )


def _tone(side: Side | None, told: Tone = "plain") -> Tone:
    """That of a side; what has no likely range yet is told faintly."""
    return "dim" if side is not None and side.is_open else told


@dataclass(frozen=True, slots=True)
class _Room:
    """Cells of a name, of what holds now, of how far it is moved, and of a bar to either side."""

    label: int
    now: int
    by: int
    bar: int


def _room_for(shown: Sequence[Effect], width: int) -> _Room:
    """What the longest name, present value and text in a bar's place take, bars what is left."""
    names = [len(name_in_short(each)) + 1 + len(_RULE) * each.input.is_chosen for each in shown]
    outputs = [len(output_beside(each)) for each in shown]
    now = min(_NOW, 3 + max((len(now_in_short(each)) for each in shown), default=0))
    by = 1 + max([len(_MOVED_BY), *(len(moved_by(each)) for each in shown)])
    room = width - now - by - 2 * _SIDE - 2
    least = max([*outputs, len(_NO_DIFFERENCE)])
    # Names are whole, if need be in the place of what the sentence below says as well.
    label = max(20, min(max(names, default=0) + 1, 40))
    label = min(label, room - (least if label + least < room else 2 * _LEAST_BAR + 1) - 1)
    return _Room(label, now, by, max(_LEAST_BAR, (room - label - 1) // 2))


def _most(effects: Sequence[Effect]) -> float:
    """How far the longest bar goes."""
    sides = (side for effect in effects for side in (effect.down, effect.up))
    return max((abs(pull(side)) for side in sides), default=0.0)


def _arm(less: float, more: float, bar: int) -> str:
    """Both bars on one side of nothing, outwards, in ``bar`` cells; each a share of the longest.

    They are true to half a cell, and a change that is there is seen.
    """
    upper, lower = (max(1, round(2 * bar * share)) if share > 0 else 0 for share in (less, more))
    return "".join(
        QUARTERS[(upper > at) + 2 * (upper > at + 1) + 4 * (lower > at) + 8 * (lower > at + 1)]
        for at in range(0, 2 * bar, 2)
    )


_MIRRORED = str.maketrans("▘▖▌▛▙▚▝▗▐▜▟▞", "▝▗▐▜▟▞▘▖▌▛▙▚")
"""Left for right, for what goes to the left."""


def _heads(found: Ranking, width: int) -> list[SpanRow]:
    """Columns over two lines: what less, bars and more tell alike, then each by itself."""
    cells = _room_for(found.effects, width)
    label, now, by, bar = cells.label, cells.now, cells.by, cells.bar
    is_own = found.asked.is_reference
    unit = "%" if is_own else "points"
    of = "output" if is_own else "gain"
    low, high = _ends(_most(found.effects), unit, bar)
    # Where there is no room for them at the bars the ends of their scale stand here.
    end = f"; bars to ±{_end(_most(found.effects))}" * (not low)
    titles = (f"change of {of}, {unit}{end}", f"{of}, {unit}{end}", f"{unit}{end}")
    # Strokes to both its sides say that it is over all three columns.
    group = 2 * _SIDE + 2 * bar + 1
    title = next((each for each in titles if len(each) + 2 <= group), titles[-1])
    before = max(0, group - len(title) - 2) // 2
    behind = max(0, group - len(title) - 2 - before)
    return [
        row(
            left_in("", label + now + by + 1),
            Span("─" * before, "faint"),
            Span(f" {title} ", "title"),
            Span("─" * behind, "faint"),
        ),
        row(
            left_in(" input  ~ assumed", label, "dim"),
            right_in("now ", now, "dim"),
            right_in(_MOVED_BY, by, "dim"),
            right_in(f"less {_LESS}", _SIDE, "dim"),
            Span(f"{_gap(low, bar)}{low}".ljust(bar + 1), "dim"),
            Span("0", "dim"),
            right_in(high, bar, "dim"),
            right_in(f"more {_MORE}", _SIDE, "dim"),
        ),
    ]


def _gap(low: str, bar: int) -> str:
    """What parts the low end of the scale from the head of the column before it."""
    return " " * max(1, min(3, bar - len(low)))


def _ends(most: float, unit: str, bar: int) -> tuple[str, str]:
    """The ends of the bars' scale, with their unit: nobody takes them for values of an input.

    Without room for their figures there are none: the line above has them then.
    """
    end = _end(most)
    # A cell parts them from 0; the title above says in full what is short here.
    units = (f" {unit}", f" {_IN_SHORT.get(unit, unit)}", "")
    told = next((each for each in units if len(f"+{end}{each}") < bar), "")
    if len(f"+{end}") >= bar:
        return "", ""
    return f"-{end}{told}", f"+{end}{told}"


def _end(most: float) -> str:
    """How far the longest bar goes, with as many digits as it takes not to read as 0."""
    digits = 0 if most >= 10 else next((n for n in (1, 2) if most >= 0.5 * 0.1**n), 3)
    return rounded(most, digits)


_IN_SHORT = {"points": "pt"}
