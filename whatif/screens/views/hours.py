"""Where the hours go: each scenario's machine hours as one bar, and state by state."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from textual.geometry import clamp
from typing_extensions import override

from whatif.answers.cautions import OF_NIGHTS, Danger
from whatif.answers.indicators import KEYS, Indicator, indicators
from whatif.answers.shares import Scope, Share, seen, shares, stacked
from whatif.answers.states import IN_CYCLE, NIGHT, RESTING, StateRow
from whatif.screens.views.blocks import block
from whatif.screens.views.view import Look, View, ViewHost, caution_rows, marked, no_answer
from whatif.screens.widgets.drawing import (
    SENSES,
    Chooses,
    Presses,
    Span,
    SpanRow,
    Tone,
    key_spans,
    left_in,
    paragraph,
    right_in,
    row,
)
from whatif.telling.table import (
    SIGNS_IN_WORDS,
    STATES_IN_WORDS,
    indicator_texts,
    indicator_words,
    share_said,
    shares_total,
    shift_said,
)

if TYPE_CHECKING:
    from whatif.telling.said import Said

_SCOPES = {
    Scope.WEEK: "the whole week",
    Scope.ATTENDED: "hours with somebody on duty",
    Scope.AFTER_HOURS: "hours after the last shift",
}

_NO_FIGURES = (
    "No scenario on the screen has figures yet: each needs a machine, a shift and a part that is "
    "wanted. Esc goes back to the sheet, where n adds them."
)

_PERCENT, _MORE, _POINTS = 5, 6, 7
"""Cells of a share, and of differences in hours and points, a gap at the left included."""


class HoursView(View):
    """Bars, then a table: a row a state, a column a scenario."""

    name = "hours"
    in_columns = True
    reads = """\
A bar a scenario: all the hours of its machines, cut up by what they do in them. The sign in
a bar and before a row is the same; the week draws the same signs. In the rows: hours a week,
their share, and how much more or less than in the reference. Look for the largest row that is
not "in cycle": it is what holds the machines up. Below them stand the hours for which the people
of each shift are busy, and their share of those on duty."""
    keys = """\
up down   choose a state; F4 accounts for its hours
b         whole week, attended hours, after hours: one after the other
g         the indicators of ISO 22400-2, and back; up down choose one"""

    def __init__(self) -> None:
        self._scope = Scope.WEEK
        self._of_indicators = False
        self._chosen = {False: "", True: KEYS[0]}
        """The state, and the indicator."""

    def _choices(self, look: Look) -> Sequence[str]:
        """What up and down choose among: indicators, or the states with a row."""
        if self._of_indicators:
            return KEYS
        return [state.name for state in seen(list(self._shares(look).values()))]

    def _place(self, choices: Sequence[str]) -> int:
        """Where the chosen one stands; the first where it is not among them."""
        chosen = self._chosen[self._of_indicators]
        return choices.index(chosen) if chosen in choices else 0

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """``b`` goes on to the next hours to look at, ``g`` to indicators and back."""
        if key == "g":
            self._of_indicators = not self._of_indicators
        elif key == "b":
            self._of_indicators = False
            scopes = list(Scope)
            self._scope = scopes[(scopes.index(self._scope) + 1) % len(scopes)]
        elif key in ("up", "down") and (choices := self._choices(look)):
            place = self._place(choices) + (1 if key == "down" else -1)
            self._chosen[self._of_indicators] = choices[clamp(place, 0, len(choices) - 1)]
        else:
            return False
        return True

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """Choose a row."""
        self._chosen[self._of_indicators] = spot

    @override
    def figure(self, look: Look) -> str:
        """The hours of the chosen state, or the chosen indicator."""
        choices = self._choices(look)
        chosen = choices[self._place(choices)] if choices else IN_CYCLE
        if self._of_indicators:
            return f"indicators_percent.{chosen}"
        return f"hours_by_state.{RESTING[-1] if chosen == NIGHT.name else chosen}"

    @override
    def cursor(self, look: Look) -> int | None:
        """The chosen row, so that it stays in sight where the rows scroll."""
        columns = self._shares(look)
        if self._of_indicators or not columns:
            return None
        return len(columns) + 1 + self._place(self._choices(look))

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """A bar a scenario, then the table; or the indicators."""
        if self._of_indicators:
            return self._indicators(look, width)
        columns = self._shares(look)
        if not columns:
            return _no_figures(look, width)
        states = seen(list(columns.values()))
        at = self._place(self._choices(look))
        rows = [
            row(
                Span(f" Machine hours a week: {_SCOPES[self._scope]}", "title", Presses("b")),
                *key_spans("   b other hours", "   g indicators"),
            ),
            *(self._bar(look, id_, found, width) for id_, found in columns.items()),
            *(self._state(look, state, columns, i == at) for i, state in enumerate(states)),
            self._total(look, columns),
            *self._people(look),
        ]
        dangers = (*OF_NIGHTS, Danger.LONE_WORK, Danger.LOCKING_OUT)
        return rows + caution_rows(look, dangers, width)

    # -- hours, state by state -----------------------------------------------------------

    def _shares(self, look: Look) -> _Shares:
        """Of each scenario that has a column and figures."""
        base = None if look.base is None else look.base.figures
        return {
            id_: shares(answer.figures, None if id_ == look.reference else base, self._scope)
            for id_ in look.shown
            if (answer := look.answers.get(id_)) is not None and answer.figures is not None
        }

    def _bar(self, look: Look, id_: str, found: tuple[Share, ...], width: int) -> SpanRow:
        label, spot = look.columns.label, Chooses(id_)
        bar = (
            Span(block(share.state.letter) * cells, share.state.family, spot)
            for share, cells in stacked(found, width - label - 1)
        )
        return (marked(look.title_of(id_), label, chosen=id_ == look.chosen, spot=spot), *bar)

    def _state(self, look: Look, state: StateRow, columns: _Shares, chosen: bool) -> SpanRow:
        cells: list[Span] = []
        for id_ in look.shown:
            share = next((share for share in columns.get(id_, ()) if share.state is state), None)
            cells += _cells(look, None if share is None else share_said(share), id_)
        label = f"{block(state.letter)} {state.in_bar}"
        return (marked(label, look.columns.label, chosen=chosen, spot=state.name), *cells)

    def _total(self, look: Look, columns: _Shares) -> SpanRow:
        cells: list[Span] = []
        for id_ in look.shown:
            cells += _cells(look, shares_total(columns.get(id_)), id_)
        return (left_in("   all of them", look.columns.label, "dim"), *cells)

    def _people(self, look: Look) -> list[SpanRow]:
        """A row a shift: the hours for which its people are busy, and how full they so are."""
        told = {id_: shift_said(answer) for id_, answer in look.answers.items()}
        shifts = dict.fromkeys(shift for id_ in look.shown for shift in told.get(id_, ()))
        return [
            (
                left_in(f"   people busy: {shift}", look.columns.label, "dim"),
                *(
                    span
                    for id_ in look.shown
                    for span in _cells(look, told.get(id_, {}).get(shift), id_)
                ),
            )
            for shift in shifts
        ]

    # -- indicators ----------------------------------------------------------------------

    def _indicators(self, look: Look, width: int) -> list[SpanRow]:
        """A row an indicator, a column a scenario; the chosen scenario's own numbers below."""
        columns = {
            id_: indicators(answer.plan, answer.figures)
            for id_, answer in look.answers.items()
            if answer.figures is not None
        }
        if not columns:
            return _no_figures(look, width)
        key, own = self._chosen[True], columns.get(look.chosen or "")
        title = Span(" Indicators, % (points against the reference)", "title")
        if own is None:
            about = paragraph(f"{look.title} has no figures.", width - 1, "dim")
        else:
            formula = f"{look.title}: {own[key].name} = {own[key].formula}"
            about = paragraph(formula, width - 1, "title")
            about += paragraph(indicator_words(own[key]), width - 1)
        return [
            row(title, *key_spans("   g back to the hours")),
            *(self._indicator(look, each, columns) for each in KEYS),
            *about,
            *paragraph(SIGNS_IN_WORDS, width - 1, "dim"),
            *paragraph(STATES_IN_WORDS, width - 1, "dim"),
        ]

    def _indicator(
        self, look: Look, key: str, columns: Mapping[str, Mapping[str, Indicator]]
    ) -> SpanRow:
        base = columns.get(look.reference or "")
        cells: list[Span] = []
        for id_ in look.shown:
            room, spot = look.columns.width, Chooses(id_)
            if id_ not in columns:
                cells.append(right_in("-", room, "dim", spot))
                continue
            against = None if base is None or id_ == look.reference else base[key]
            percent, points = indicator_texts(columns[id_][key], against)
            tone: Tone = "title" if id_ == look.chosen else "plain"
            cells += [
                right_in(percent, room - _POINTS, tone, spot),
                right_in(points, _POINTS, "plain", spot),
            ]
        name = next(iter(columns.values()))[key].name
        chosen = key == self._chosen[True]
        return (marked(name, look.columns.label, chosen=chosen, spot=key), *cells)


_Shares = Mapping[str, tuple[Share, ...]]


def _cells(look: Look, told: tuple[Said, Said, Said] | None, scenario: str) -> list[Span]:
    """Hours, their share, and how many more they are, in a scenario's column."""
    width = look.columns.width
    if told is None:
        return [right_in("-", width, "dim")]
    rooms = (width - _PERCENT - _MORE, _PERCENT, _MORE)
    return [
        right_in(said.text, room, SENSES[said.sense], Chooses(scenario))
        for said, room in zip(told, rooms, strict=True)
    ]


def _no_figures(look: Look, width: int) -> list[SpanRow]:
    """What stands where there is nothing to compare."""
    if look.answers:
        return paragraph(_NO_FIGURES, width, "dim")
    return no_answer(look, width)
