"""Where the hours go: each scenario's machine hours as one bar, and state by state."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar

from typing_extensions import override

from whatif.answers.cautions import Danger
from whatif.answers.indicators import KEYS, Indicator, indicators
from whatif.answers.shares import Scope, Share, seen, shares, stacked
from whatif.answers.states import IN_CYCLE, NIGHT, RESTING, StateRow
from whatif.screens.views.view import Look, View, ViewHost, caution_rows, no_figures
from whatif.screens.widgets.drawing import (
    Span,
    SpanRow,
    Tone,
    block,
    left_in,
    paragraph,
    right_in,
    row,
)
from whatif.telling.amounts import rounded, signed
from whatif.telling.table import SIGNS_IN_WORDS, STATES_IN_WORDS, indicator_words, number

_SCOPES = {
    Scope.WEEK: "the whole week",
    Scope.ATTENDED: "hours with somebody on duty",
    Scope.AFTER_HOURS: "hours after the last shift",
}

_ROW = "row:"
"""What the spot of a state's row begins with."""

_PERCENT, _MORE = 5, 6
"""Cells of a share and of a difference, a gap at the left included; six are left at least."""

_MANY = {"": 999.95, "+": 99.95}
"""Hours from which a decimal would need a sixth sign, without and with their own sign."""


class HoursView(View):
    """Bars, then a table: a row a state, a column a scenario."""

    name: ClassVar[str] = "hours"
    title: ClassVar[str] = "Where the hours go"
    asks: ClassVar[str] = "what the machines do with their hours"
    reads: ClassVar[str] = """\
A bar a scenario: all the hours of its machines, cut up by what they do in them. The sign in
a bar and before a row is the same; the week draws the same signs. In the rows: hours a week,
their share, and how much more or less than in the reference. Look for the largest row that is
not "in cycle": it is what holds the machines up."""
    keys: ClassVar[str] = """\
up down   choose a state; F4 accounts for its hours
b         whole week, attended hours, after hours: one after the other
g         the indicators of ISO 22400-2, and back; up down choose one"""
    opens: ClassVar[str] = "f5"

    def __init__(self) -> None:
        self._scope = Scope.WEEK
        self._indicator: str | None = None
        self._last = KEYS[0]
        self._state = ""

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """``b`` goes on to the next hours to look at, ``g`` to indicators and back."""
        at = self._indicator
        if key == "g":
            self._indicator = self._last if at is None else None
        elif key == "b":
            self._indicator = None
            scopes = tuple(_SCOPES)
            self._scope = scopes[(scopes.index(self._scope) + 1) % len(scopes)]
        elif key in ("up", "down") and at is not None:
            place = KEYS.index(at) + (1 if key == "down" else -1)
            self._indicator = self._last = KEYS[max(0, min(place, len(KEYS) - 1))]
        elif key in ("up", "down") and (states := seen(list(self._shares(look).values()))):
            place = self._place(states) + (1 if key == "down" else -1)
            self._state = states[max(0, min(place, len(states) - 1))].name
        else:
            return False
        return True

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> bool:
        """A click on a key's words is that key, one on a row or a column chooses it."""
        if spot in ("*b", "*g"):
            return self.press(spot[1:], look, host)
        if spot.startswith(_ROW):
            self._state = spot.removeprefix(_ROW)
        elif spot.startswith("*"):
            self._indicator = self._last = spot[1:]
        else:
            host.choose(spot)
        return True

    @override
    def figure(self, look: Look) -> str:
        """The hours of the chosen state, or the chosen indicator."""
        if self._indicator is not None:
            return f"indicators_percent.{self._indicator}"
        states = seen(list(self._shares(look).values()))
        state = states[self._place(states)].name if states else IN_CYCLE
        return f"hours_by_state.{RESTING[-1] if state == NIGHT.name else state}"

    @override
    def cursor(self, look: Look) -> int | None:
        """The chosen row, so that it stays in sight where the rows scroll."""
        columns = self._shares(look)
        if self._indicator is not None or not columns:
            return None
        return len(columns) + 2 + self._place(seen(list(columns.values())))

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """A bar a scenario, then the table; or the indicators."""
        if self._indicator is not None:
            return indicator_rows(look, self._indicator, width)
        columns = self._shares(look)
        if not columns:
            return no_figures(look, width)
        head = row(
            Span(f" Machine hours a week: {_SCOPES[self._scope]}", "title", "*b"),
            Span("   b other hours", "dim", "*b"),
            Span("   g indicators", "dim", "*g"),
        )
        states = seen(list(columns.values()))
        at = self._place(states)
        rows = [
            head,
            *(self._bar(look, id_, found, width) for id_, found in columns.items()),
            row(""),
            *(self._row(look, state, columns, i == at) for i, state in enumerate(states)),
            self._total(look, columns),
        ]
        return rows + caution_rows(
            look, (Danger.LOCKING_OUT, Danger.UNATTENDED), width, height - len(rows)
        )

    def _shares(self, look: Look) -> dict[str, tuple[Share, ...]]:
        """Of each scenario that has a column and figures."""
        reference = look.answers.get(look.reference or "")
        base = None if reference is None else reference.figures
        return {
            look.ids[i]: shares(
                answer.figures, None if look.ids[i] == look.reference else base, self._scope
            )
            for i in look.columns.visible
            if (answer := look.answers.get(look.ids[i])) is not None and answer.figures is not None
        }

    def _place(self, states: Sequence[StateRow]) -> int:
        """Where the chosen state stands among the rows; the first where it is not among them."""
        return next((i for i, state in enumerate(states) if state.name == self._state), 0)

    def _bar(self, look: Look, id_: str, found: tuple[Share, ...], width: int) -> SpanRow:
        room = width - look.columns.label - 1
        spans = [
            Span(block(share.state.letter) * cells, share.state.family, id_)
            for share, cells in stacked(found, room)
        ]
        chosen = id_ == look.chosen
        name = left_in(
            f"{'>' if chosen else ' '}{look.title_of(id_)}",
            look.columns.label,
            "title" if chosen else "plain",
            id_,
        )
        return row(name, *spans)

    def _row(
        self, look: Look, state: StateRow, columns: dict[str, tuple[Share, ...]], chosen: bool
    ) -> SpanRow:
        cells: list[Span] = []
        for i in look.columns.visible:
            id_ = look.ids[i]
            share = next((share for share in columns.get(id_, ()) if share.state is state), None)
            if share is None:
                cells.append(right_in("-", look.columns.width, "dim"))
                continue
            more = "" if share.more is None or abs(share.more) < 0.05 else _short(share.more, "+")
            percent = "" if share.percent is None else f"{share.percent:.0f}%"
            tone: Tone = "plain"
            if state.name == IN_CYCLE and share.more is not None and more:
                tone = "gain" if share.more > 0 else "loss"
            room = look.columns.width
            cells += [
                right_in(_short(share.hours), room - _PERCENT - _MORE, "plain", id_),
                right_in(percent, _PERCENT, "dim", id_),
                right_in(more, _MORE, tone, id_),
            ]
        name = left_in(
            f"{'>' if chosen else ' '}{block(state.letter)} {state.in_bar}",
            look.columns.label,
            "title" if chosen else "plain",
            f"{_ROW}{state.name}",
        )
        return row(name, *cells)

    def _total(self, look: Look, columns: dict[str, tuple[Share, ...]]) -> SpanRow:
        cells: list[Span] = []
        for i in look.columns.visible:
            found = columns.get(look.ids[i])
            text = "-" if found is None else _short(sum(share.hours for share in found))
            cells += [
                right_in(text, look.columns.width - _PERCENT - _MORE, "dim"),
                right_in("h", _PERCENT, "dim"),
                right_in("diff", _MORE, "dim"),
            ]
        return row(left_in("   all of them", look.columns.label, "dim"), *cells)


def _short(hours: float, sign: str = "") -> str:
    """Hours in no more than five signs, so that the next figure stays apart."""
    text = rounded(hours, 0 if abs(hours) >= _MANY[sign] else 1)
    return text if hours < 0 else sign + text


_Columns = Mapping[str, Mapping[str, Indicator]]

_LEAST = 0.05
"""Points below which a difference would be shown as 0.0."""


def indicator_rows(look: Look, chosen: str, width: int) -> list[SpanRow]:
    """A row an indicator, a column a scenario; below them the chosen scenario's own numbers."""
    columns = {
        id_: indicators(answer.plan, answer.figures)
        for id_, answer in look.answers.items()
        if answer.figures is not None
    }
    head = row(
        Span(" Indicators, % (points against the reference)", "title"),
        Span("   g back to the hours", "dim", "*g"),
    )
    if not columns:
        return no_figures(look, width)
    return [
        head,
        *(_row(look, key, columns, key == chosen) for key in KEYS),
        *_own_words(look, chosen, columns, width),
        *paragraph(SIGNS_IN_WORDS, width - 1, "dim", indent=1),
        *paragraph(STATES_IN_WORDS, width - 1, "dim", indent=1),
    ]


def _row(look: Look, key: str, columns: _Columns, chosen: bool) -> SpanRow:
    base = columns.get(look.reference or "")
    cells: list[Span] = []
    label = ""
    for i in look.columns.visible:
        id_, room = look.ids[i], look.columns.width
        indicator = columns[id_][key] if id_ in columns else None
        if indicator is None:
            cells.append(right_in("-", room, "dim", id_))
            continue
        label = indicator.name
        apart = None if base is None or id_ == look.reference else indicator.points_above(base[key])
        more = "" if apart is None or abs(apart) < _LEAST else signed(apart)
        percent = "-" if indicator.percent is None else f"{number(indicator.percent)} %"
        cells += [
            right_in(percent, room - 7, "title" if id_ == look.chosen else "plain", id_),
            right_in(more, 7, "plain", id_),
        ]
    name = f"{'>' if chosen else ' '}{label}"
    return row(left_in(name, look.columns.label, "title" if chosen else "plain", f"*{key}"), *cells)


def _own_words(look: Look, key: str, columns: _Columns, width: int) -> list[SpanRow]:
    """The chosen scenario's formula and numbers."""
    own = columns.get(look.chosen or "")
    if own is None:
        return paragraph(f"{look.title} has no figures.", width - 1, "dim", indent=1)
    indicator = own[key]
    return [
        *paragraph(
            f"{look.title}: {indicator.name} = {indicator.formula}", width - 1, "title", indent=1
        ),
        *paragraph(indicator_words(indicator), width - 1, indent=1),
    ]
